/* Groups: several stitches in one place. */
#include "acts/acts.h"
#include "places/place.h"

/* "2 shells with ch 3 between in next loop": each of them is a group, and what they stand in is none. */
static bool has_groups(const tb_acts *body)
{
	for (unsigned i = 0; i < body->count; i++) {
		if (body->acts[i].kind == TB_ACT_GROUP)
			return true;
	}
	return false;
}

static void group_in_place(tb_hands *h, const tb_act *act, unsigned which)
{
	tb_footing footing;
	if (!tb_place_take(h, act, h->working->chain, which, &footing))
		return;
	const tb_footing *outer = h->now.group;
	guint16 number = h->now.group_number;
	h->now.group = &footing;
	if (outer == NULL && has_groups(&act->body))
		h->now.group_number = 0;
	else if (outer == NULL || number == 0)
		tb_hands_number_group(h, act->own);
	guint32 made = h->cloth.made->len;
	tb_acts_work(h, &act->body, 0);
	h->now.group = outer;
	h->now.group_number = number;
	tb_acts_group_with_before(h, act, &footing, made);
}

void tb_acts_group(tb_hands *h, const tb_act *act)
{
	group_in_place(h, act, 0);
}

/* In each gap between two stitches of the row below. */
static void groups_in_gaps(tb_hands *h, const tb_act *act)
{
	unsigned which = 0;
	guint32 due = TB_NONE;
	while (!h->cursor.over && h->cursor.due != due && (tb_place_gap_is_left(h, &act->place) || which == 0)) {
		due = h->cursor.due;
		group_in_place(h, act, which++);
	}
}

/* "…, join. 24 V-sts" is a count: no group without a place comes behind the join. */
static bool is_behind_join(tb_hands *h, const tb_act *act)
{
	if (!act->bare || !h->cursor.joined || !h->sentence->is_round || h->now.group != NULL)
		return false;
	tb_hands_give_up(h, "not-worked", act->span, "Work them before the round is joined.",
		"the round is joined before this is worked");
	return true;
}

void tb_acts_groups(tb_hands *h, const tb_act *act, unsigned after)
{
	tb_act gaps;
	if (is_behind_join(h, act))
		return;
	bool each_gap = h->now.group == NULL && tb_place_is_each_gap(h, act, &gaps);
	if (each_gap || (h->now.group == NULL && act->place.in == TB_IN_BETWEEN && !act->place.loose &&
			act->place.up_to == NULL && tb_hands_number(h, &act->place.count, 1) == 0)) {
		groups_in_gaps(h, each_gap ? &gaps : act);
		return;
	}
	unsigned count = 1;
	if (act->place.in == TB_IN_NEXT || act->place.in == TB_IN_LAST ||
		act->place.in == TB_IN_FIRST || act->place.in == TB_IN_SKIPPED)
		count = act->place.middle ? 1 : tb_hands_number(h, &act->place.count, 1);
	if (h->now.group != NULL)
		count = 1;
	if (act->place.in != TB_IN_EACH || h->now.group != NULL) {
		for (unsigned i = 0; i < count && !h->cursor.over; i++)
			group_in_place(h, act, i);
		return;
	}
	guint32 limit, begin = h->cursor.due;
	if (tb_acts_comes_late(h, act) || !tb_acts_find_limit(h, act, after, &limit))
		return;
	unsigned which = 0;
	bool deep = tb_place_is_deep(h, &act->place);
	while (!h->cursor.over &&
		   (deep ? h->cursor.due < limit : tb_place_is_left(h, &act->place, limit))) {
		guint32 due = h->cursor.due;
		group_in_place(h, act, which++);
		if (h->cursor.due == due)
			return;
	}
	tb_acts_went_to_end(h, act, begin);
	if (which == 0 && !h->cursor.over && !tb_place_is_plain(h, &act->place))
		group_in_place(h, act, 0); /* there is none: that is told */
}

/* "dc in same st" once more: what stands there is a group already, and all of it need not be looked at. */
static bool joins_group(tb_hands *h, const tb_act *act, const tb_footing *footing, guint32 made)
{
	guint32 from = made;
	while (from > MAX(h->now.begun, h->teller.floor) && (tb_hands_made(h, from - 1)->flags & TB_MADE_CHAIN) != 0)
		from--;
	const tb_made *before = from > MAX(h->now.begun, h->teller.floor) ? tb_hands_made(h, from - 1) : NULL;
	if (before == NULL || act->own != NULL || act->place.in != TB_IN_SAME || h->now.group != NULL ||
		before->group == 0 || before->flags & TB_MADE_TURNING || before->base_count != 1 ||
		footing->count != 1 || before->base != footing->bases[0] ||
		(act->kind == TB_ACT_GROUP && act->body.count > 1) ||
		g_hash_table_contains(h->cloth.group_owns, GUINT_TO_POINTER((guint)before->group)))
		return false;
	guint16 group = before->group;
	for (guint32 i = from; i < h->cloth.made->len; i++)
		tb_hands_made(h, i)->group = group;
	return true;
}

void tb_acts_group_with_before(tb_hands *h, const tb_act *act, const tb_footing *footing, guint32 made)
{
	if (joins_group(h, act, footing, made))
		return;
	guint32 first = made;
	for (guint32 i = made; i-- > h->now.begun && i >= h->teller.floor;) {
		const tb_made *before = tb_hands_made(h, i);
		if (before->flags & TB_MADE_TURNING || !(before->flags & TB_MADE_COUNTED))
			break;
		if (before->flags & TB_MADE_CHAIN)
			continue;
		if (before->base_count != 1 || footing->count != 1 || before->base != footing->bases[0])
			break;
		first = i;
	}
	/* two shells in one loop stay two */
	guint16 before = first < made ? tb_hands_made(h, first)->group : 0;
	bool whole = (act->kind == TB_ACT_GROUP && act->body.count > 1) ||
		g_hash_table_contains(h->cloth.group_owns, GUINT_TO_POINTER((guint)before));
	if (act->place.in != TB_IN_SAME || first == made || h->now.group != NULL || whole)
		return;
	guint16 group, kept = h->now.group_number;
	tb_hands_number_group(h, act->own);
	group = h->now.group_number;
	h->now.group_number = kept;
	for (guint32 i = first; i < h->cloth.made->len; i++)
		tb_hands_made(h, i)->group = group;
}
