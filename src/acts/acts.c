/*
 * What a row says, carried out act by act.
 *
 * Most of a fabric is one stitch after another into one place after another: acts_stitch.c makes
 * them, acts_group.c groups. Here is everything else: chains, turns, joins, what is left.
 */
#include "acts/acts.h"
#include "acts/anchor.h"
#include "acts/border.h"
#include "acts/fold.h"
#include "acts/ground.h"
#include "acts/own.h"
#include "acts/repeat.h"
#include "acts/shape.h"
#include "acts/travel.h"
#include "acts/turning.h"
#include "hands/colour.h"
#include "hands/meaning.h"
#include "places/edge.h"
#include "places/mark.h"
#include "places/on_row.h"
#include "places/place.h"
#include "places/repeat_need.h"
#include "places/squares.h"

#include <string.h>

static bool is_at_beginning(const tb_hands *h)
{
	return h->cloth.made->len == h->now.begun;
}

/* As long as the stitches behind it are tall, and no longer: it brings the hook up to them. */
static bool is_of_height(const tb_hands *h, unsigned count)
{
	const tb_stitch *stitch = h->now.first_work != NULL ? h->now.first_work->stitch : NULL;
	return stitch != NULL && stitch->height >= 2 && count <= tb_stitch_chains(stitch);
}

/* Before sc a round's first chain is hardly ever anything but a loop: nobody rises there by so many. */
static bool opens_before_sc(const tb_hands *h)
{
	return h->sentence->is_round && h->now.first_work != NULL && h->now.first_work->stitch->height <= 1;
}

/* "Ch 7, sc in next loop": the chain a round begins with may be its first loop. */
static bool opens_loop(tb_hands *h, const tb_act *act, unsigned count)
{
	if (h->now.repeating > 0 && act->counts == TB_COUNTS_UNSAID && count > 1)
		return true; /* it comes again with every pass */
	if (act->counts != TB_COUNTS_UNSAID || act->counts_here != TB_COUNTS_UNSAID || count < 3 ||
		h->row < 2 || h->now.group != NULL || is_of_height(h, count))
		return false;
	if (opens_before_sc(h))
		return !tb_means(h, TB_MEANS_COUNTS) && !tb_means(h, TB_MEANS_NOT);
	return tb_means(h, TB_MEANS_LOOP);
}

/*
 * A chain that a joined round begins with as its first loop stands on the stitch of the join: the next
 * one is that behind it, and the last of the round is that of the join: "ch 5, skip 1 dc, sc in next dc".
 * Some count the one under it first all the same.
 */
static void stand_on_join(tb_hands *h)
{
	const tb_place *first = h->now.first_place;
	tb_target target = first != NULL ? first->target : TB_TARGET_SPACE;
	if (h->sentence->is_round && h->cursor.due == 0 && !h->now.travelled &&
		tb_place_count(h) > 0 && (target == TB_TARGET_STITCH || target == TB_TARGET_NAMED) &&
		first->in == TB_IN_NEXT && tb_place_was_joined(h) && !tb_means(h, TB_MEANS_UNDER)) {
		tb_place_rotate(h, 1);
		h->cursor.ends_at_join = true;
	}
}

static void chain(tb_hands *h, const tb_acts *acts, unsigned i)
{
	const tb_act *act = &acts->acts[i];
	if (act == h->now.corner.said && h->row == h->now.corner.row)
		return;
	if (act->unsaid) {
		tb_hands_give_up(h, "not-worked", act->span, "Write how many, as in “ch 20”.",
			"how many chains is not said");
		return;
	}
	/* "ch 5, turn." at the end of the row before, and then "6 sps": that chain is the edge */
	if (act->squares && h->now.pending.count > 0 && tb_hands_has_turning_alone(h))
		return;
	unsigned count = tb_hands_number(h, &act->count, 1);
	if (act->hyphen)
		tb_hands_tell(h, TB_WARNING, "chain-hyphen", act->span, "Write it without the hyphen.",
			"with a hyphen this names a chain that is there; taken as ch %u, to be made", count);
	if (is_at_beginning(h) && !tb_ground_is_bridge(h, act) && (h->now.group == NULL || tb_travel_is_turning(h, acts, i))) {
		if (!opens_loop(h, act, count)) {
			tb_turning_chain(h, act);
			return;
		}
		stand_on_join(h);
	}
	if (h->now.group == NULL && h->now.pending.count > 0 && tb_hands_has_turning_alone(h) &&
		act == &h->sentence->acts.acts[0] &&
		count == tb_hands_number(h, &h->now.pending.acts[0].count, 1)) {
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
	bool behind = h->cursor.has_last && h->cursor.last.behind != TB_NONE;
	unsigned said = tb_hands_number(h, &acts->acts[i].place.count, 1);
	unsigned hidden = i > 0 && is_post(&acts->acts[i - 1]) ? tb_hands_number(h, &acts->acts[i - 1].place.count, 1) : 1;
	/* it is said: "sk next st" after it is one more */
	h->cursor.last.behind = TB_NONE;
	if (said > 1 && said != hidden)
		tb_hands_tell(h, TB_ERROR, "not-worked", acts->acts[i].span, "One is skipped behind each post stitch.",
			"%u sts are not behind %u post stitch%s", said, hidden, hidden == 1 ? "" : "es");
	if (behind || (i > 0 && is_post(&acts->acts[i - 1])) ||
		(i + 1 < acts->count && is_post(&acts->acts[i + 1])))
		return;
	tb_place_skip(h, &acts->acts[i]);
}

/*
 * "3 ch (counts as 1 tr), miss 1 st": with nothing said but the number, as many as the chains stand
 * over, the one under them may be among them; where the words are UK, it mostly is.
 */
static bool skips_under(tb_hands *h, const tb_act *act, unsigned count)
{
	const tb_place *place = &act->place;
	guint32 first = tb_hands_row(h, h->row)->first, begun = h->cloth.made->len - first;
	/* the turning chain, and the chains of a space behind it */
	if (!act->bare || h->cursor.skipped_under || h->now.repeating > 0 || h->now.counts_as == NULL || !tb_hands_has_turning_alone(h) ||
		place->in != TB_IN_NEXT || count < begun ||
		(place->target != TB_TARGET_STITCH && place->target != TB_TARGET_NAMED))
		return false;
	/* more than the chains stand over: those behind it, or where that does not come out, it is the first of them */
	if (count > begun)
		return tb_means(h, TB_MEANS_UNDER);
	return tb_means(h, TB_MEANS_UNDER) != h->working->pattern->uk_terms;
}

/* How many stitches ACT works two or more rows down, one in each place. */
static unsigned count_deep(const tb_hands *h, const tb_act *act)
{
	bool deep = act->kind == TB_ACT_WORK && act->place.in == TB_IN_NEXT && tb_place_is_deep(h, &act->place);
	return deep ? tb_hands_number(h, &act->place.count, 1) : 0;
}

/*
 * "sk next st" behind a post stitch, or as many behind as many, that reaches two rows down is mostly the stitch behind it, said
 * once more; and "sk first st" the one under the turning chain.
 */
static void skip(tb_hands *h, const tb_acts *acts, unsigned i)
{
	const tb_act *act = &acts->acts[i];
	const tb_place *place = &act->place;
	unsigned asked = tb_hands_number(h, &place->count, 1);
	if (tb_anchor_skips(h, act))
		return;
	int gore = place->gore ? tb_mark_gore(h, act) : 0;
	if (place->gore) {
		tb_act whole = *act;
		whole.place.count = (tb_number){1, &gore, act->span};
		if (gore > 0)
			tb_place_skip(h, &whole);
		return;
	}
	if (skips_under(h, act, asked)) {
		/* "3 ch, miss 1 st": the one under the chain is that one */
		int left = (int)asked - 1;
		h->cursor.skipped_under = true;
		tb_act others = *act;
		others.place.count = (tb_number){1, &left, act->span};
		if (left > 0)
			tb_place_skip(h, &others);
		return;
	}
	if (h->cursor.has_last && h->cursor.last.behind != TB_NONE && place->in == TB_IN_NEXT &&
		place->target != TB_TARGET_SPACE && (asked == 1 || (i > 0 && asked == count_deep(h, &acts->acts[i - 1]))) &&
		!tb_means(h, TB_MEANS_ANOTHER)) {
		h->cursor.last.behind = TB_NONE;
		return;
	}
	/* "sk first st, skip 1 st": the second is another */
	h->cursor.skipped_under = h->cursor.skipped_under || (place->in == TB_IN_FIRST && tb_hands_has_turning_alone(h));
	tb_place_skip(h, act);
	if (h->now.repeating > 0)
		h->cursor.usual_skip = h->cursor.skipped_count;
}

/* How many spaces are left. */
static guint32 spaces_left(const tb_hands *h, guint32 end)
{
	guint32 count = 0;
	bool before = false;
	for (guint32 i = h->cursor.due; i < end; i++) {
		bool chain = (tb_hands_made(h, tb_hands_place(h, i))->flags & TB_MADE_CHAIN) != 0;
		count += chain && !before;
		before = chain;
	}
	tb_hands_look(h, end - MIN(h->cursor.due, end));
	return count;
}

static void leave_spaces(tb_hands *h, const tb_act *act)
{
	unsigned left = spaces_left(h, tb_place_near_end(h)), count = tb_hands_number(h, &act->count, left);
	if (count != left)
		tb_hands_tell(h, TB_ERROR, count < left ? "unworked" : "past-end", act->span, NULL,
			"%u space%s left here, not %u", left, left == 1 ? " is" : "s are", count);
	h->cursor.left = true;
	h->cursor.left_at = h->cursor.due;
	h->cursor.due = tb_place_count(h);
}

static void leave(tb_hands *h, const tb_act *act)
{
	if (act->these) {
		unsigned there = tb_place_near_end(h) - MIN(h->cursor.due, tb_place_near_end(h)), said = tb_hands_number(h, &act->count, there);
		if (said != there)
			tb_hands_tell(h, TB_ERROR, "count-claimed", act->span, "Change the number, or the row below.",
				"there %s %u st%s to work on, not %u", there == 1 ? "is" : "are", there, there == 1 ? "" : "s", said);
		return;
	}
	if (tb_ground_leave(h, act))
		return;
	if (act->place.target == TB_TARGET_SPACE) {
		leave_spaces(h, act);
		return;
	}
	guint32 end = tb_place_near_end(h), left = end - MIN(h->cursor.due, end);
	bool turning = act->place.target == TB_TARGET_TURNING_CHAIN;
	unsigned count = turning ? tb_place_ends_in_turning(h) : tb_hands_number(h, &act->count, left);
	if (count != left)
		tb_hands_tell(h, TB_ERROR, count < left ? "unworked" : "past-end", act->span, NULL,
			"%u st%s left here, not %u", left, left == 1 ? " is" : "s are", count);
	h->cursor.left = true;
	h->cursor.left_at = h->cursor.due;
	h->cursor.due = tb_place_count(h);
}

/* Yarn is joined at the place said: the row begins there. */
/* "Join yarn in first of the 5 unworked sts": so many are left, from the one that comes next on. */
static bool are_as_many_left(tb_hands *h, const tb_act *act)
{
	unsigned said = tb_hands_number(h, &act->place.many, 0), each = act->place.in == TB_IN_NEXT ? tb_hands_number(h, &act->place.count, 1) : 1;
	guint32 there = tb_place_count(h), left = there > h->cursor.due ? there - h->cursor.due : 0;
	said = said > 0 ? said : each > 1 ? each : left;
	if (said == left || h->sentence->is_round)
		return true;
	tb_hands_give_up(h, "past-end", act->place.span, "Correct the number, or where the yarn is joined.", "%u st%s left here, not %u", left,
		left == 1 ? " is" : "s are", said);
	return false;
}

static void join_yarn(tb_hands *h, const tb_act *act)
{
	tb_footing footing;
	if (!is_at_beginning(h)) {
		tb_hands_tell(h, TB_ERROR, "not-worked", act->span,
			"Join the yarn at the beginning of a row.",
			"joining yarn in the middle of a row is not worked");
		return;
	}
	if (act->place.in == TB_IN_RING || act->place.in == TB_IN_SAME || tb_edge_is_corner(h, act) || !are_as_many_left(h, act) ||
		!tb_place_take(h, act, h->working->chain, 0, &footing))
		return;
	if (footing.flags & TB_MADE_IN_SPACE) {
		/* the hook stands in the space, as if it had travelled there; it is the next one still */
		tb_travel_arrive(h);
		h->cursor.due = h->cursor.first;
		h->cursor.began_in_gap = tb_place_is_gap_of_round(h, act);
		return;
	}
	h->cursor.due--;
	h->cursor.first = h->cursor.due;
	h->cursor.has_last = false;
	if (h->sentence->is_round && h->row > 1) {
		/* and goes on all the way around */
		tb_place_rotate(h, h->cursor.first);
		h->cursor.first = 0;
	}
}

/* Along the other side of the chain that led to other work, or of the foundation. */
static void go_to_other_side(tb_hands *h, const tb_act *act)
{
	if (!tb_ground_other_side(h))
		tb_travel_other_side(h, act);
}

static void turn(tb_hands *h, const tb_acts *acts, unsigned i)
{
	/* an oval's chain is turned, and worked along its other side */
	if (h->sentence->is_round && tb_travel_turns_over(h)) {
		tb_act over = acts->acts[i];
		over.bare = true;
		go_to_other_side(h, &over);
		return;
	}
	bool ends = acts == &h->sentence->acts && i >= h->now.tail;
	h->cursor.turned = h->cursor.turned || ends || !tb_travel_begins_turned(h->sentence);
	if (!ends && !is_at_beginning(h) && !tb_hands_has_turning_alone(h))
		tb_hands_give_up(h, "not-worked", acts->acts[i].span,
			"Write what follows as a row of its own.",
			"turning in the middle of a row is not worked");
}

/* A group in a chain of the foundation that a border comes to stands in no row, as in a corner. */
static void work_group(tb_hands *h, const tb_act *act, unsigned after)
{
	if (tb_border_on_chain(h, act, 1) != 1) {
		tb_acts_groups(h, act, after);
		return;
	}
	tb_act corner = *act;
	corner.place.in = TB_IN_NEXT;
	corner.place.target = TB_TARGET_SPACE;
	corner.place.corner = true;
	tb_acts_groups(h, &corner, after);
}

/* "4 dc, ch 3, all in the ring": what says no place went in there, where there is a ring. */
static void check_all_in_ring(tb_hands *h, const tb_act *act)
{
	if (!h->start.is_ring || h->row != 1)
		tb_hands_give_up(h, "place-missing", act->span,
			"Start with \"Ch 4, join with sl st to form a ring\" or a magic ring.",
			"there is no ring to work into");
}

/* "… 6 hdc. Fasten off.": whether nothing is worked behind act I any more. */
static bool is_last_work(const tb_hands *h, const tb_acts *acts, unsigned i)
{
	while (i + 1 < h->now.tail && (acts->acts[i + 1].kind == TB_ACT_FASTEN_OFF || acts->acts[i + 1].kind == TB_ACT_TURN))
		i++;
	return i + 1 >= h->now.tail;
}

/*
 * "Hdc in 5 sts, hdc2tog. 6 hdc." above a short row: the row is full there, and what lies beyond is what the
 * short row left. A number and a stitch behind the full stop are its count.
 */
static bool is_count(const tb_hands *h, const tb_acts *acts, unsigned i)
{
	const tb_act *act = &acts->acts[i];
	return acts == &h->sentence->acts && act->bare && i > 0 && is_last_work(h, acts, i) && h->now.beyond > 0 &&
		act->place.in == TB_IN_NEXT && h->cursor.due > h->cursor.first &&
		h->cursor.due + h->now.beyond == tb_place_count(h) && act->after_stop;
}

/* Works PART of an act, with only those places there that it is worked on. */
static void work_part(tb_hands *h, const tb_ground_part *part)
{
	const tb_acts next = h->now.next_acts;
	guint32 count = tb_place_count(h), end = part->kind == TB_GROUND_WITHIN ? h->cursor.due + part->count : count;
	g_autoptr(GArray) behind = g_array_new(FALSE, FALSE, sizeof(guint32));
	bool within = h->cursor.within;
	if (end < count)
		g_array_append_vals(behind, &g_array_index(h->now.places, guint32, end), count - end);
	g_array_set_size(h->now.places, end);
	h->cursor.within = true;
	tb_acts_work(h, &(tb_acts){&part->act, 1}, part->after);
	h->cursor.within = within;
	if (part->kind != TB_GROUND_WITHIN)
		return;
	h->now.next_acts = next;
	h->cursor.at_end = false;
	if (behind->len > 0)
		g_array_append_vals(h->now.places, behind->data, behind->len);
}

/* Carries out ACT where it goes into other work than the row below; false where it does not. */
static bool goes_to_other_work(tb_hands *h, const tb_act *act, unsigned after)
{
	const tb_ground_part part = tb_ground_find(h, act, after);
	if (part.kind == TB_GROUND_INSTEAD || part.kind == TB_GROUND_WITHIN)
		work_part(h, &part);
	return part.kind != TB_GROUND_NONE;
}

static void carry_out(tb_hands *h, const tb_acts *acts, unsigned i, unsigned after)
{
	const tb_act *act = &acts->acts[i];
	tb_act under;
	h->now.next_acts = (tb_acts){act + 1, acts->count - i - 1};
	if (tb_anchor_refuses(h, act) || goes_to_other_work(h, act, after))
		return;
	switch (act->kind) {
	case TB_ACT_CHAIN:
		/* at the row's end it belongs to the next row */
		if (acts != &h->sentence->acts || i < h->now.tail || is_at_beginning(h)) {
			if (acts == &h->sentence->acts && h->cursor.joined && h->sentence->is_round && h->row > 0)
				tb_hands_tell(h, TB_ERROR, "not-worked", act->span, "Begin a new round behind the join.", "this round is joined already");
			chain(h, acts, i);
		}
		break;
	case TB_ACT_WORK:
		if (is_count(h, acts, i)) {
			tb_hands_tell(h, TB_ERROR, "place-missing", act->span,
				"Say where it is worked, as in “dc in same st”, or put a count in brackets.", "these are worked already");
			break;
		}
		tb_acts_stitch(h, tb_place_under_turning(h, act, &under), after);
		break;
	case TB_ACT_SKIP:
		/* "miss 1, 24 dc", worked again: what turned at the foundation is under no stitch of a row */
		if (act->in_rows)
			tb_border_skip_rows(h, act);
		else if (act != h->now.corner.said || (h->row != h->now.corner.row && h->now.corner.skipped != 1))
			skip(h, acts, i);
		break;
	case TB_ACT_SKIP_BEHIND:
		skip_behind(h, acts, i);
		break;
	case TB_ACT_REPEAT:
		tb_repeat_work(h, act, after);
		break;
	case TB_ACT_GROUP:
		work_group(h, tb_place_under_turning(h, act, &under), after);
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
	case TB_ACT_KNOT:
		tb_own_knots(h, act);
		break;
	case TB_ACT_JOIN_YARN:
		if (!tb_edge_is_elsewhere(h, act) && !tb_on_row_tell_none(h, &act->place))
			join_yarn(h, act);
		break;
	case TB_ACT_RING:
		if (act->bare) {
			check_all_in_ring(h, act);
		} else if (h->row != 1 || h->cloth.made->len > tb_hands_row(h, 1)->first) {
			tb_hands_tell(h, TB_ERROR, "not-worked", act->span, NULL,
				"a ring is worked at the beginning of a piece only");
		}
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
		/* around an opening its chain comes next */
		if (!h->start.opening || h->row != 1)
			go_to_other_side(h, act);
		break;
	case TB_ACT_FOLD:
		tb_fold(h, act);
		break;
	case TB_ACT_GO_TO:
		break; /* goes_to_other_work has done so */
	case TB_ACT_ANCHOR:
		tb_anchor_work(h, act);
		break;
	case TB_ACT_SURFACE:
		tb_hands_give_up(h, "not-worked", act->span, "Say it in a sentence of its own, behind the rows.",
			"slip stitches upon the cloth are none of a row's stitches");
		break;
	case TB_ACT_OTHER_EDGE:
		h->cursor.other_edge = !act->bare;
		break;
	case TB_ACT_LOOPS:
		if (!tb_on_row_tell_none(h, &act->place))
			h->now.loops = act->place.loops;
		break;
	case TB_ACT_SHAPE:
		tb_acts_shape(h, act);
		break;
	case TB_ACT_AT_END:
		tb_hands_give_up(h, "not-worked", act->span, "Write it behind the row.",
			"in the middle of a row this cannot be worked");
		break;
	case TB_ACT_CANNOT:
		tb_hands_give_up(h, act->code, act->span, act->hint, "%s", act->why);
		break;
	case TB_ACT_CLAIM:
		/* the reader has taken out those of the row */
		if (act->claim_count > 0)
			tb_hands_give_up(h, "claim-not-last", act->span, "Put the count at the row's end.", "a count stands in the midst of what is worked");
		break;
	case TB_ACT_DO_NOT_TURN:
	case TB_ACT_SIDE:
	case TB_ACT_WITHIN:
	case TB_ACT_NOT_BEHIND:
		break; /* the reader has taken them out */
	case TB_ACT_SKIPPED_COUNT:
		tb_hands_give_up(h, "counts-unclear", act->span, "Say it right behind the chain, as in “ch 3 (counts as dc)”.",
			"no such chain stands before this");
		break;
	case TB_ACT_DO_NOT_JOIN:
		h->cursor.unjoined = h->cloth.made->len > h->now.begun;
		break;
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

/* "Sc in each st across. Dc.": the row is full, and one stitch more stands there without a place. */
static void tell_one_more(tb_hands *h, const tb_acts *acts, unsigned i)
{
	const tb_act *act = &acts->acts[i], *more = i + 1 < acts->count ? act + 1 : NULL;
	if (more == NULL || act->kind != TB_ACT_WORK || act->place.up_to != NULL || act->place.of != NULL ||
		more->kind != TB_ACT_WORK || !more->bare || more->stitch == NULL || more->stitch->takes != 1 ||
		more->stitch == h->working->slip || tb_repeat_least(h, more, 1) != 1)
		return;
	h->cursor.odd += 4;
	tb_hands_tell(h, TB_WARNING, "one-more", more->span, "Say where it goes, as in \"in last st\".",
		"the row is full before this, and no place is said: it is taken to go into the last st");
}

void tb_acts_work(tb_hands *h, const tb_acts *acts, unsigned after)
{
	for (unsigned i = 0; i < acts->count && !h->cursor.over && !h->working->stopped; i++) {
		const tb_act *act = &acts->acts[i];
		if (i == h->now.travel && i > 0 && acts == &h->sentence->acts)
			tb_travel_arrive(h);
		tb_hands_look(h, 1);
		if (!tb_hands_may_go_on(h, act->span))
			return;
		tb_acts_weigh(h, acts, i);
		unsigned rest = 0;
		if (goes_across(h, act)) {
			rest = after + tb_repeat_least_behind(h, act, acts->count - i - 1);
			tb_hands_look(h, acts->count - i);
			tell_one_more(h, acts, i);
		}
		if (act->over != TB_OVER_UNSAID && !tb_squares_lie_over(h, act))
			return;
		guint32 from = h->cloth.made->len;
		if (h->sentence->colour_count > 0)
			tb_colour_at(h, act);
		h->now.begins[h->now.begin_count++ % TB_MOST_BEGINS] = from;
		carry_out(h, acts, i, rest);
		if (act->claim_count > 0 && act->kind != TB_ACT_CLAIM && !h->cursor.over)
			tb_acts_made(h, act, from);
		if (act->mark != TB_MARK_NONE && !h->cursor.over)
			tb_mark_put(h, act);
	}
}
