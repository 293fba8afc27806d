/*
 * What a row says, carried out act by act.
 *
 * Most of a fabric is one stitch after another into one place after another, so that case runs
 * without asking anything twice. Everything else goes through place.c for every stitch.
 */
#include "fabric/hands.h"

#include <string.h>

/* One stitch in each of the next COUNT places, no questions asked. */
static void work_plain(tb_hands *h, const tb_act *act, unsigned count)
{
	tb_footing footing = {.behind = TB_NONE, .count = 1, .rows_below = 1};
	unsigned flags = TB_MADE_COUNTED;
	if (act->place.loops == TB_LOOPS_FRONT)
		flags |= TB_MADE_FRONT_LOOP;
	if (act->place.loops == TB_LOOPS_BACK)
		flags |= TB_MADE_BACK_LOOP;
	for (unsigned i = 0; i < count; i++) {
		footing.bases[0] = tb_hands_place(h, h->cursor.due);
		if (tb_hands_make(h, act->stitch, &footing, flags, act->span) == TB_NONE)
			return;
		h->cursor.due++;
	}
	if (count > 0) {
		h->cursor.last = footing;
		h->cursor.has_last = true;
		h->cursor.in_space = false;
	}
}

/* EACH stitches in one place; only the first has the place's own stitch behind it. */
static bool work_place(tb_hands *h, const tb_act *act, unsigned which, unsigned each)
{
	tb_footing footing;
	if (!tb_place_take(h, act, act->stitch, which, &footing))
		return false;
	if (tb_own_picot(h, act, &footing))
		return true;
	for (unsigned i = 0; i < each; i++) {
		if (tb_hands_make(h, act->stitch, &footing, TB_MADE_COUNTED, act->span) == TB_NONE)
			return false;
		footing.behind = TB_NONE;
	}
	return true;
}

/* "each dc and each ch-1 sp to corner": the corner is the first space that is none of those. */
static bool find_up_to(tb_hands *h, const tb_place *place, guint32 *limit)
{
	guint32 due = h->cursor.due;
	bool found = tb_place_find(h, place->up_to, limit);
	while (found && place->also != NULL && tb_place_matches(h, place->also, *limit)) {
		h->cursor.due = *limit + 1;
		found = tb_place_find(h, place->up_to, limit);
	}
	h->cursor.due = due;
	return found;
}

/* Up to which place "in each st across" goes. False when that many are not there, which is told. */
static bool find_limit(tb_hands *h, const tb_act *act, unsigned after, guint32 *limit)
{
	unsigned keep = tb_hands_number(h, &act->place.count, 0);
	guint32 count = tb_place_count(h);
	if (act->place.up_to != NULL) {
		if (find_up_to(h, &act->place, limit))
			return true;
		g_autofree char *words = tb_place_words(h, act->place.up_to, 1);
		tb_hands_give_up(h, act->place.up_to->target == TB_TARGET_SPACE ? "space-missing"
																		: "place-missing",
			act->span, "Look at the row below for it.", "there is no %s left to work up to",
			words + strcspn(words, " ") + 1);
		return false;
	}
	if (keep == 0)
		keep = MIN(MAX(after, h->spare), count);
	if (keep > count || count - keep < h->cursor.due) {
		tb_hands_give_up(h, "past-end", act->span, NULL,
			"the last %u st%s reached already; %u %s left", keep, keep == 1 ? " is" : "s are",
			count - MIN(h->cursor.due, count), count - h->cursor.due == 1 ? "is" : "are");
		return false;
	}
	*limit = count - keep;
	return true;
}

static void tell_together_over(tb_hands *h, const tb_act *act, unsigned left)
{
	g_autofree char *hint =
		g_strdup_printf("Work the last %u st%s in some other way.", left, left == 1 ? "" : "s");
	tb_hands_tell(h, TB_ERROR, "repeat-leftover", act->span, hint,
		"%s takes %u sts each time and leaves %u st%s over", tb_hands_term(h, act->stitch),
		act->stitch->takes, left, left == 1 ? "" : "s");
	h->cursor.due += left;
}

/* Each kind of place in the way it is said, as they come. */
static void work_kinds(tb_hands *h, const tb_act *act, guint32 limit)
{
	while (!h->cursor.over) {
		const tb_act *next = NULL;
		guint32 nearest = limit, begin;
		for (const tb_act *kind = act; kind != NULL; kind = kind->other) {
			if (tb_place_find(h, &kind->place, &begin) && begin < nearest) {
				nearest = begin;
				next = kind;
			}
		}
		if (next == NULL || !work_place(h, next, 0, tb_hands_number(h, &next->each, 1)))
			return;
	}
}

static void work_each(tb_hands *h, const tb_act *act, unsigned each, unsigned after)
{
	const tb_place *place = &act->place;
	guint32 limit;
	if (!find_limit(h, act, after, &limit))
		return;
	bool deep = place->rows_below > 1;
	bool plain = deep || tb_place_is_plain(h, place);
	unsigned takes = deep ? 1 : act->stitch->takes;
	if (plain && !deep && takes == 1 && each == 1 && act->stitch->post == TB_POST_NONE) {
		work_plain(h, act, limit - h->cursor.due);
		return;
	}
	if (act->other != NULL) {
		work_kinds(h, act, limit);
		return;
	}
	unsigned which = 0;
	while (!h->cursor.over && (plain ? limit - MIN(h->cursor.due, limit) >= takes
									 : tb_place_is_left(h, place, limit))) {
		guint32 due = h->cursor.due;
		if (!work_place(h, act, which++, each) || h->cursor.due == due)
			return;
	}
	if (!plain && which == 0 && place->up_to == NULL && h->cursor.due < limit &&
		!tb_place_is_left(h, place, tb_place_count(h)))
		work_place(h, act, 0, each); /* there is none: that is told */
	else if (plain && h->cursor.due < limit && !h->cursor.over)
		tell_together_over(h, act, limit - h->cursor.due);
}

static void work_next(tb_hands *h, const tb_act *act, unsigned each)
{
	unsigned count = tb_hands_number(h, &act->place.count, 1);
	guint32 left = tb_place_count(h) - MIN(h->cursor.due, tb_place_count(h));
	if (act->place.middle || act->place.in == TB_IN_NTH_STITCH || act->place.in == TB_IN_NTH_CHAIN)
		count = 1;
	if (act->place.in == TB_IN_NEXT && tb_place_is_plain(h, &act->place) && each == 1 &&
		act->stitch->takes == 1 && act->stitch->post == TB_POST_NONE && count <= left) {
		work_plain(h, act, count);
		return;
	}
	for (unsigned i = 0; i < count && !h->cursor.over; i++) {
		if (!work_place(h, act, i, each))
			return;
	}
}

/* Whether the place a join names is where the round begins. */
static void check_join(tb_hands *h, const tb_act *act, const tb_made *first)
{
	const tb_place *place = &act->place;
	bool chain = first->flags & TB_MADE_TURNING;
	if (place->target == TB_TARGET_TURNING_CHAIN && !chain) {
		g_autofree char *hint =
			g_strdup_printf("Join in the first %s.", tb_hands_term(h, tb_hands_stitch(h, first)));
		tb_hands_tell(h, TB_WARNING, "join-place", place->span, hint,
			"no turning chain that counts begins this round");
	} else if (place->in == TB_IN_FIRST && place->target == TB_TARGET_NAMED && chain) {
		g_autofree char *hint = g_strdup_printf("Join in top of ch-%u.", first->chains);
		tb_hands_tell(h, TB_WARNING, "join-place", place->span, hint,
			"the ch-%u counts as the first stitch, and is left out by this join", first->chains);
	}
}

/* A round is closed into its own first stitch. */
static void join(tb_hands *h, const tb_act *act)
{
	tb_footing footing = {.behind = TB_NONE};
	for (guint32 i = tb_hands_row(h, h->row)->first; i < h->made->len; i++) {
		if (tb_hands_made(h, i)->flags & TB_MADE_COUNTED) {
			footing.bases[0] = i;
			footing.count = 1;
			if (h->sentence->is_round)
				check_join(h, act, tb_hands_made(h, i));
			break;
		}
	}
	tb_hands_make(h, h->working->slip, &footing, 0, act->span);
}

static void work(tb_hands *h, const tb_act *act, unsigned after)
{
	unsigned each = tb_hands_number(h, &act->each, 1);
	if (act->stitch == NULL || each == 0 || tb_own_work(h, act, each))
		return;
	if (tb_own_closes(h, act)) {
		join(h, act);
		return;
	}
	if (h->group != NULL) {
		unsigned count = act->place.in == TB_IN_NEXT || act->place.in == TB_IN_SAME
							 ? tb_hands_number(h, &act->place.count, 1)
							 : 1;
		for (unsigned i = 0; i < count && !h->cursor.over; i++)
			work_place(h, act, i, each);
	} else if (act->place.in == TB_IN_EACH) {
		work_each(h, act, each, after);
	} else {
		work_next(h, act, each);
	}
}

static void group_in_place(tb_hands *h, const tb_act *act, unsigned which)
{
	tb_footing footing;
	if (!tb_place_take(h, act, h->working->chain, which, &footing))
		return;
	const tb_footing *outer = h->group;
	h->group = &footing;
	tb_acts_work(h, &act->body, 0);
	h->group = outer;
}

static void group(tb_hands *h, const tb_act *act, unsigned after)
{
	unsigned count = 1;
	if (act->place.in == TB_IN_NEXT || act->place.in == TB_IN_LAST ||
		act->place.in == TB_IN_FIRST || act->place.in == TB_IN_SKIPPED)
		count = act->place.middle ? 1 : tb_hands_number(h, &act->place.count, 1);
	if (h->group != NULL)
		count = 1;
	if (act->place.in != TB_IN_EACH || h->group != NULL) {
		for (unsigned i = 0; i < count && !h->cursor.over; i++)
			group_in_place(h, act, i);
		return;
	}
	guint32 limit;
	if (!find_limit(h, act, after, &limit))
		return;
	unsigned which = 0;
	bool deep = act->place.rows_below > 1;
	while (!h->cursor.over &&
		   (deep ? h->cursor.due < limit : tb_place_is_left(h, &act->place, limit))) {
		guint32 due = h->cursor.due;
		group_in_place(h, act, which++);
		if (h->cursor.due == due)
			return;
	}
	if (which == 0 && !h->cursor.over && !tb_place_is_plain(h, &act->place))
		group_in_place(h, act, 0); /* there is none: that is told */
}

static bool is_at_beginning(const tb_hands *h)
{
	return h->made->len == h->begun;
}

static void chain(tb_hands *h, const tb_acts *acts, unsigned i)
{
	const tb_act *act = &acts->acts[i];
	if (act == h->corner.said && h->row == h->corner.row)
		return;
	unsigned count = tb_hands_number(h, &act->count, 1);
	if (is_at_beginning(h) && (h->group == NULL || tb_travel_is_turning(h, acts, i))) {
		tb_turning_chain(h, act);
		return;
	}
	if (h->group == NULL && h->pending.count > 0 && tb_turning_is_all(h) &&
		act == &h->sentence->acts.acts[0] &&
		count == tb_hands_number(h, &h->pending.acts[0].count, 1)) {
		tb_hands_tell(h, TB_WARNING, "turning-chain-twice", act->span, "Leave one of them out.",
			"this turning chain was said at the end of the row before; it is worked once");
		return;
	}
	for (unsigned made = 0; made < count; made++) {
		if (tb_hands_make(h, h->working->chain, NULL, TB_MADE_CHAIN | TB_MADE_COUNTED, act->span) ==
			TB_NONE)
			return;
	}
}

static bool is_post(const tb_act *act)
{
	return act->kind == TB_ACT_WORK && act->stitch != NULL &&
		   (act->stitch->post != TB_POST_NONE || act->place.rows_below > 1);
}

/* "sk st behind" beside a post stitch is the skip the post stitch makes itself. */
static void skip_behind(tb_hands *h, const tb_acts *acts, unsigned i)
{
	if ((i > 0 && is_post(&acts->acts[i - 1])) ||
		(i + 1 < acts->count && is_post(&acts->acts[i + 1])))
		return;
	tb_place_skip(h, &acts->acts[i]);
}

static void leave(tb_hands *h, const tb_act *act)
{
	guint32 left = tb_place_count(h) - MIN(h->cursor.due, tb_place_count(h));
	unsigned count = tb_hands_number(h, &act->count, left);
	if (count != left)
		tb_hands_tell(h, TB_ERROR, count < left ? "unworked" : "past-end", act->span, NULL,
			"%u st%s left here, not %u", left, left == 1 ? " is" : "s are", count);
	h->cursor.left = true;
	h->cursor.due = tb_place_count(h);
}

/* Yarn is joined at the place said: the row begins there. */
static void join_yarn(tb_hands *h, const tb_act *act)
{
	tb_footing footing;
	if (!is_at_beginning(h)) {
		tb_hands_tell(h, TB_ERROR, "not-worked", act->span,
			"Join the yarn at the beginning of a row.",
			"joining yarn in the middle of a row is not worked");
		return;
	}
	if (act->place.in == TB_IN_RING || act->place.in == TB_IN_SAME ||
		!tb_place_take(h, act, h->working->chain, 0, &footing))
		return;
	h->cursor.due--;
	h->cursor.first = h->cursor.due;
	h->cursor.has_last = false;
}

static void turn(tb_hands *h, const tb_acts *acts, unsigned i)
{
	h->cursor.turned = true;
	bool ends = acts == &h->sentence->acts && i >= h->tail;
	if (!ends && !is_at_beginning(h) && !tb_turning_is_all(h))
		tb_hands_give_up(h, "not-worked", acts->acts[i].span,
			"Write what follows as a row of its own.",
			"turning in the middle of a row is not worked");
}

static void carry_out(tb_hands *h, const tb_acts *acts, unsigned i, unsigned after)
{
	const tb_act *act = &acts->acts[i];
	switch (act->kind) {
	case TB_ACT_CHAIN:
		/* at the row's end it belongs to the next row */
		if (acts != &h->sentence->acts || i < h->tail || is_at_beginning(h))
			chain(h, acts, i);
		break;
	case TB_ACT_WORK:
		work(h, act, after);
		break;
	case TB_ACT_SKIP:
		if (act != h->corner.said || h->row != h->corner.row)
			tb_place_skip(h, act);
		break;
	case TB_ACT_SKIP_BEHIND:
		skip_behind(h, acts, i);
		break;
	case TB_ACT_REPEAT:
		tb_repeat_work(h, act, after);
		break;
	case TB_ACT_GROUP:
		group(h, act, after);
		break;
	case TB_ACT_TURN:
		turn(h, acts, i);
		break;
	case TB_ACT_JOIN:
		join(h, act);
		break;
	case TB_ACT_LEAVE:
		leave(h, act);
		break;
	case TB_ACT_JOIN_YARN:
		join_yarn(h, act);
		break;
	case TB_ACT_RING:
		if (h->row != 1)
			tb_hands_tell(h, TB_ERROR, "not-worked", act->span, NULL,
				"a ring is worked at the beginning of a piece only");
		break;
	case TB_ACT_ONLY:
		if (act->sizes >> h->size & 1)
			tb_acts_work(h, &act->body, after);
		break;
	case TB_ACT_IN_FRONT:
	case TB_ACT_BEHIND:
		h->cursor.behind = act->kind == TB_ACT_BEHIND;
		break;
	case TB_ACT_OTHER_SIDE:
		tb_travel_other_side(h, act);
		break;
	case TB_ACT_DO_NOT_JOIN:
	case TB_ACT_FASTEN_OFF:
		break;
	}
}

/* Whether the act goes "across", so that it must stop where what follows it begins. */
static bool goes_across(const tb_hands *h, const tb_act *act)
{
	if (act->kind == TB_ACT_REPEAT)
		return act->until == TB_UNTIL_TIMES ? act->times_more
											: tb_hands_number(h, &act->count, 0) == 0;
	return act->kind == TB_ACT_ONLY ||
		   ((act->kind == TB_ACT_WORK || act->kind == TB_ACT_GROUP) &&
			   act->place.in == TB_IN_EACH && tb_hands_number(h, &act->place.count, 0) == 0);
}

void tb_acts_work(tb_hands *h, const tb_acts *acts, unsigned after)
{
	for (unsigned i = 0; i < acts->count && !h->cursor.over && !h->working->stopped; i++) {
		const tb_act *act = &acts->acts[i];
		if (i == h->travel && i > 0 && acts == &h->sentence->acts)
			tb_travel_arrive(h);
		if (++h->working->steps > h->working->most_steps) {
			h->working->stopped = true;
			tb_hands_give_up(h, "limit-stitches", act->span, "Check the numbers of its repeats.",
				"this pattern has more to do than any fabric needs");
			return;
		}
		unsigned rest = 0;
		if (goes_across(h, act)) {
			rest = after + tb_repeat_least(h, act + 1, acts->count - i - 1);
			h->working->steps += acts->count - i;
		}
		carry_out(h, acts, i, rest);
	}
}
