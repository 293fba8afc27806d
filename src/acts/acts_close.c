/* How a round ends: the join, or a stitch that closes it. */
#include "acts/acts.h"
#include "acts/ground.h"
#include "acts/travel.h"
#include "places/place.h"
#include "places/spiral.h"

/* "Join in 3rd ch of ch-5", to the chain that FIRST is, with those behind it that lie flat as a space. */
static void check_join_chain(tb_hands *h, const tb_place *place, const tb_made *first)
{
	bool part = place->in == TB_IN_PART; /* "4th ch of ch-5", which may be a loop that is none of the beginning */
	unsigned said = part ? place->of->space_chains : place->of_chains, stands = first->chains, flat = 0;
	unsigned nth = part ? tb_hands_number(h, &place->count, 0) : place->space_chains;
	guint32 next = (guint32)(first - tb_hands_made(h, 0)) + 1;
	while (next + flat < h->cloth.made->len && tb_hands_made(h, next + flat)->flags & TB_MADE_CHAIN)
		flat++;
	g_autofree char *hint = g_strdup_printf("Join in top of ch-%u, or begin with another chain.", stands);
	/* in "ch 4, 11 dc in 4th ch from hook" one chain is below the others */
	bool grows = h->row == 1 && !h->start.is_ring && said == stands + flat + 1;
	if (stands == 0 || grows || (part && said != stands + flat))
		return;
	if (said > 0 && said != stands && said != stands + flat)
		tb_hands_tell(h, TB_WARNING, "join-place", place->span, hint,
			"this round does not begin with ch %u, but with ch %u", said, stands + flat);
	else if (nth > 0 && nth != stands)
		tb_hands_tell(h, TB_WARNING, "join-place", place->span, hint,
			"the chain that counts as the first stitch is of %u ch, and ch %u is joined to", stands, nth);
}

/* "Join with sl st in first dc" of a round that begins with a sc: a kind of stitch that is not there. */
static void check_join_kind(tb_hands *h, const tb_place *place, const tb_made *first)
{
	const tb_stitch *named = place->named, *begins = tb_hands_stitch(h, first);
	if (place->in != TB_IN_FIRST || place->target != TB_TARGET_NAMED || named->family != TB_FAMILY_PLAIN ||
		begins->family != TB_FAMILY_PLAIN || named == begins)
		return;
	/* of a kind that is nowhere here more is told elsewhere */
	bool lies = false;
	for (guint32 i = tb_hands_row(h, h->row - (h->row > 0))->first; i < h->cloth.made->len && !lies; i++)
		lies = tb_place_is_kind(h, i, named);
	tb_hands_look(h, tb_hands_row(h, h->row)->count + 1);
	if (!lies)
		return;
	g_autofree char *hint = g_strdup_printf("Join in the first %s.", tb_hands_term(h, begins));
	tb_hands_tell(h, TB_WARNING, "join-place", place->span, hint, "this round begins with no %s", tb_hands_term(h, named));
}

/* Whether the place a join names is where the round begins. */
static void check_join(tb_hands *h, const tb_act *act, const tb_made *first)
{
	const tb_place *place = &act->place;
	bool chain = first->flags & TB_MADE_TURNING;
	if (!chain)
		check_join_kind(h, place, first);
	if (place->target == TB_TARGET_TURNING_CHAIN && !chain) {
		g_autofree char *hint =
			g_strdup_printf("Join in the first %s.", tb_hands_term(h, tb_hands_stitch(h, first)));
		tb_hands_tell(h, TB_WARNING, "join-place", place->span, hint,
			"no turning chain that counts begins this round");
	} else if (place->target == TB_TARGET_TURNING_CHAIN ||
		(chain && place->in == TB_IN_PART && place->of != NULL && place->of->target == TB_TARGET_SPACE)) {
		check_join_chain(h, place, first);
	} else if (place->in == TB_IN_SAME && place->begun && chain) {
		g_autofree char *hint = g_strdup_printf("Join in top of ch-%u.", first->chains);
		tb_hands_tell(h, TB_WARNING, "join-place", place->span, hint,
			"the ch-%u counts as the first stitch, and is joined below its top", first->chains);
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
	tb_place_skip_before_join(h);
	if (h->now.keeps_stand && tb_travel_is_back(h))
		h->cursor.due = tb_place_count(h);
	if (stand_on_first(h, &footing) && h->sentence->is_round)
		check_join(h, act, tb_hands_made(h, footing.bases[0]));
	tb_hands_make(h, h->working->slip, &footing, 0, act->span);
	h->cursor.joined = true;
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

/* "*ch 3, sc in first ch-1 sp, ch 3, shell in sp of next shell": the round goes on behind it. */
static bool goes_on(const tb_hands *h)
{
	const tb_act *next = tb_hands_next_placed(h);
	return next != NULL && (tb_act_is_work(next) || next->kind == TB_ACT_SKIP) && next->stitch != h->working->slip;
}

bool tb_acts_close(tb_hands *h, const tb_act *act)
{
	tb_footing footing;
	if (h->now.group != NULL || (act->place.in == TB_IN_FIRST && goes_on(h)) || !tb_place_may_close(h, act) || h->cloth.made->len <= h->now.begun ||
		(h->row < 2 ? !h->start.is_ring : h->cursor.due <= h->cursor.first) ||
		(!(tb_hands_made(h, h->cloth.made->len - 1)->flags & TB_MADE_CHAIN) && !is_last_space(h, act)) ||
		!stand_on_beginning(h, act, &footing))
		return false;
	if (act->stitch == h->working->slip) {
		tb_acts_join(h, act);
		return true;
	}
	tb_place_skip_before_join(h);
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
