/* How a round ends: the join, a stitch that closes it, and what is passed over before them. */
#include "fabric/acts.h"
#include "fabric/ground.h"
#include "fabric/place.h"
#include "fabric/spiral.h"
#include "fabric/travel.h"

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

/* The first stitch of the row itself, as a footing; false when there is none yet. */
static bool stand_on_first(const tb_hands *h, tb_footing *footing)
{
	*footing = (tb_footing){.behind = TB_NONE};
	for (guint32 i = tb_hands_row(h, h->row)->first; i < h->cloth.made->len; i++) {
		if (tb_hands_made(h, i)->flags & TB_MADE_COUNTED) {
			footing->bases[0] = i;
			footing->count = 1;
			return true;
		}
	}
	return false;
}

/*
 * Whether the places from FROM on are the chains of one space; the stitches that slip stitches went over
 * to where the round begins are worked.
 */
static bool is_one_space(const tb_hands *h, guint32 from)
{
	guint32 count = tb_place_count(h);
	count -= from < count - MIN(h->now.slipped, count) ? MIN(h->now.slipped, count) : 0;
	for (guint32 i = from; i < count; i++) {
		const tb_made *made = tb_hands_made(h, tb_hands_place(h, i));
		if (!(made->flags & TB_MADE_CHAIN) || made->flags & TB_MADE_TURNING || h->row < 2)
			return false;
	}
	return from > 0 && from < count;
}

/* Where among the places the stitch I of this row stands; TB_NONE where it stands on none of them. */
static guint32 find_foot(const tb_hands *h, guint32 i)
{
	const tb_made *made = tb_hands_made(h, i);
	tb_hands_look(h, tb_place_count(h));
	for (guint32 at = 0; at < tb_place_count(h) && made->base_count == 1; at++) {
		if (tb_hands_place(h, at) == tb_hands_base(h, made, 0))
			return at;
	}
	return TB_NONE;
}

/* The last stitch made before END that is no chain; the chains behind it are counted. */
static guint32 find_before(const tb_hands *h, guint32 end, guint32 *chains)
{
	guint32 i = end;
	while (i > h->now.begun && (tb_hands_made(h, i - 1)->flags & TB_MADE_CHAIN))
		i--;
	*chains = end - i;
	return i > h->now.begun ? i - 1 : TB_NONE;
}

/* The first stitch of the group that I is one of; I itself where it is of none. */
static guint32 begin_of_group(const tb_hands *h, guint32 i)
{
	guint16 group = i != TB_NONE ? tb_hands_made(h, i)->group : 0;
	while (group != 0 && i > h->now.begun && tb_hands_made(h, i - 1)->group == group)
		i--;
	return i;
}

bool tb_acts_closes_evenly(const tb_hands *h, guint32 chains)
{
	guint32 over, over_before = 0;
	guint32 last = begin_of_group(h, find_before(h, h->cloth.made->len, &over));
	guint32 before = last != TB_NONE ? begin_of_group(h, find_before(h, last, &over_before)) : TB_NONE;
	over += chains;
	if (before == TB_NONE || over == 0 || over != over_before ||
		!(tb_hands_made(h, last)->flags & TB_MADE_COUNTED))
		return false;
	/* the chain that a round of sc begins with stands on nothing */
	guint32 begin = h->now.begun;
	while (begin < last && !(tb_hands_made(h, begin)->flags & TB_MADE_COUNTED))
		begin++;
	guint32 foot = find_foot(h, last), foot_before = find_foot(h, before), first = find_foot(h, begin);
	if (foot == TB_NONE || foot_before == TB_NONE || first == TB_NONE || foot_before >= foot)
		return false;
	return foot - foot_before == tb_place_count(h) - foot + first;
}

/* Whether what was made last is three or more in one place: a shell lies over what is skipped beside it. */
static bool ends_in_shell(const tb_hands *h)
{
	guint32 end = h->cloth.made->len;
	return end > h->now.begun && end - begin_of_group(h, end - 1) > 2;
}

/*
 * Where a round is joined behind a chain, that chain stands over the space that is left; and what the
 * repeat would skip before its next stitch is skipped here as well, said or not.
 */
void tb_acts_skip_before_join(tb_hands *h)
{
	tb_cursor *c = &h->cursor;
	bool chain = h->cloth.made->len > h->now.begun &&
		(tb_hands_made(h, h->cloth.made->len - 1)->flags & TB_MADE_CHAIN) != 0;
	if (chain)
		tb_travel_leave_join(h);
	guint32 left = tb_place_count(h) - MIN(c->due, tb_place_count(h));
	if (h->sentence->is_round && left > 0 && chain && !c->in_space && is_one_space(h, c->due))
		c->due = tb_place_count(h);
	else if (h->sentence->is_round && left > 0 && chain && tb_acts_closes_evenly(h, 0))
		c->due = tb_place_count(h);
	else if (h->sentence->is_round && left > 0 && left == c->usual_skip && (chain || c->usual_skip == 1 || ends_in_shell(h)))
		c->due = tb_place_count(h);
}

void tb_acts_join(tb_hands *h, const tb_act *act)
{
	tb_footing footing;
	tb_ground_leave_rest(h, NULL, act->span);
	/* "join, ch 4, join": what lies behind the first is no part of this round */
	if (h->cursor.joined && act->kind == TB_ACT_JOIN && h->row > 0 && tb_hands_made(h, (guint32)h->cloth.made->len - 1)->flags & TB_MADE_CHAIN)
		tb_hands_tell(h, TB_ERROR, "not-worked", act->span, "Begin a new round behind the first join.", "this round is joined already");
	/* "join with sl st in last dc" */
	bool last = act->kind == TB_ACT_JOIN && act->place.in == TB_IN_LAST && act->place.of == NULL;
	if (last && (act->place.target == TB_TARGET_STITCH || act->place.target == TB_TARGET_NAMED))
		tb_hands_tell(h, TB_ERROR, "join-place", act->place.span, "As in “join with sl st in first st”.",
			"a round is joined where it began, and this is its end");
	tb_acts_skip_before_join(h);
	if (h->now.keeps_stand && tb_travel_is_back(h))
		h->cursor.due = tb_place_count(h);
	if (stand_on_first(h, &footing) && h->sentence->is_round)
		check_join(h, act, tb_hands_made(h, footing.bases[0]));
	tb_hands_make(h, h->working->slip, &footing, 0, act->span);
	h->cursor.joined = true;
}

/*
 * "… ending with ch 3, tr in tr": the round began in a loop that a tr closed, and closes there. Where
 * another such stitch is left to be worked, that one is meant.
 */
static bool is_where_it_begins(const tb_hands *h, const tb_act *act)
{
	const tb_made_row *below = tb_hands_row(h, h->row - 1);
	const tb_place *place = &act->place;
	guint32 begin;
	return h->now.travelled && h->now.travel == 0 && h->row > 1 && below->loop > 0 && below->count > 0 &&
		(place->in == TB_IN_NEXT || place->in == TB_IN_LAST) && place->target == TB_TARGET_NAMED &&
		tb_hands_number(h, &place->count, 1) == 1 &&
		tb_place_is_kind(h, below->first + below->count - 1, place->named) &&
		!tb_place_find(h, place, &begin);
}

/* "… ending with ch 5, sl st in dc": the same, joined. */
static bool slips_to_beginning(const tb_hands *h, const tb_act *act)
{
	return act->kind == TB_ACT_WORK && act->stitch == h->working->slip && is_where_it_begins(h, act);
}

bool tb_acts_may_close(const tb_hands *h, const tb_act *act)
{
	if (h->sentence->is_round && slips_to_beginning(h, act))
		return true;
	return h->sentence->is_round && act->kind == TB_ACT_WORK && act->stitch != h->working->slip &&
		((act->place.in == TB_IN_FIRST && !tb_place_is_begun_space(h, &act->place)) || act->place.at_begin || act->place.begun || tb_travel_is_own_slip(h, act) ||
			is_where_it_begins(h, act) ||
			(act->place.target == TB_TARGET_TURNING_CHAIN && act->place.in == TB_IN_NEXT));
}

/* Where ACT goes that closes the round: into what the round has begun with, or where that stands. */
static bool stand_on_beginning(const tb_hands *h, const tb_act *act, tb_footing *footing)
{
	if (act->place.in != TB_IN_SAME || !act->place.begun)
		return stand_on_first(h, footing);
	/* "ch 3, dc in base of ch 6": where the round began with a loop, and is not joined besides */
	return !tb_spiral_is_joined(h->sentence) && h->now.begun < h->cloth.made->len &&
		!(tb_hands_made(h, h->now.begun)->flags & TB_MADE_TURNING) && tb_place_stand_as_first(h, footing);
}

/*
 * "…, 3 dc in ring, hdc in top of beg ch-3": a stitch that is the last space by itself, with no chain before it. All
 * else has to be worked, so that it can go nowhere but to the beginning.
 */
static bool is_last_space(const tb_hands *h, const tb_act *act)
{
	const tb_place *place = &act->place;
	bool begin = place->target == TB_TARGET_TURNING_CHAIN || place->in == TB_IN_FIRST;
	bool one = tb_hands_number(h, &act->each, 1) == 1 && tb_hands_number(h, &place->count, 1) == 1;
	guint32 count = tb_place_count(h);
	bool all = h->row < 2 ? h->start.is_ring : h->cursor.due + MIN(h->now.slipped, count) >= count;
	return begin && one && all && act->stitch->height >= 2 && act->stitch->takes == 1 && h->now.repeating == 0 &&
		!tb_spiral_is_joined(h->sentence);
}

bool tb_acts_close(tb_hands *h, const tb_act *act)
{
	tb_footing footing;
	if (h->now.group != NULL || !tb_acts_may_close(h, act) || h->cloth.made->len <= h->now.begun ||
		(h->row < 2 ? !h->start.is_ring : h->cursor.due <= h->cursor.first) ||
		(!(tb_hands_made(h, h->cloth.made->len - 1)->flags & TB_MADE_CHAIN) && !is_last_space(h, act)) ||
		!stand_on_beginning(h, act, &footing))
		return false;
	if (act->stitch == h->working->slip) {
		tb_acts_join(h, act);
		return true;
	}
	tb_acts_skip_before_join(h);
	if (tb_travel_is_back(h))
		h->cursor.due = tb_place_count(h);
	footing.rows_below = 0;
	guint32 end = h->cloth.made->len, from = end;
	while (from > h->now.begun && tb_hands_made(h, from - 1)->flags & TB_MADE_CHAIN)
		from--;
	if (tb_hands_make(h, act->stitch, &footing, TB_MADE_COUNTED, act->span) != TB_NONE)
		tb_hands_row(h, h->row)->loop = end - from + 1;
	return true;
}

bool tb_acts_comes_late(tb_hands *h, const tb_act *act)
{
	if (!h->cursor.at_end || h->cursor.may_end || h->cursor.due < tb_place_count(h) || h->now.repeating > 0 || h->now.group != NULL)
		return false;
	tb_hands_give_up(h, "past-end", act->span, "Work both in one round, or say how far the first goes.",
		"the %s is worked to its end before this", h->sentence->is_round ? "round" : "row");
	return true;
}

void tb_acts_went_to_end(tb_hands *h, const tb_act *act, guint32 due)
{
	h->cursor.at_end = h->cursor.at_end || (act->place.up_to == NULL && h->now.repeating == 0 &&
		due < h->cursor.due && h->cursor.due == tb_place_count(h));
}
