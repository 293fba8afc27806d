/*
 * What a row says, carried out act by act.
 *
 * Most of a fabric is one stitch after another into one place after another: acts_stitch.c makes
 * them. Here is everything else: groups, chains, turns, joins, what is left.
 */
#include "fabric/hands.h"

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

void tb_acts_join(tb_hands *h, const tb_act *act)
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
	if (!tb_acts_find_limit(h, act, after, &limit))
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
		tb_acts_stitch(h, act, after);
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
		tb_acts_join(h, act);
		break;
	case TB_ACT_LEAVE:
		leave(h, act);
		break;
	case TB_ACT_JOIN_YARN:
		join_yarn(h, act);
		break;
	case TB_ACT_RING:
		if (h->row != 1 || h->made->len > tb_hands_row(h, 1)->first)
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
		tb_hands_look(h, 1);
		if (!tb_hands_may_go_on(h, act->span))
			return;
		unsigned rest = 0;
		if (goes_across(h, act)) {
			rest = after + tb_repeat_least(h, act + 1, acts->count - i - 1);
			tb_hands_look(h, acts->count - i);
		}
		carry_out(h, acts, i, rest);
	}
}
