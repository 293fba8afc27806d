/*
 * Stitches that take no place of the row below: a picot stands on the stitch just made and is an
 * ornament; a foundation stitch brings its own chain; the slip stitch that closes a round goes into
 * the round's own beginning, whether the text calls it a join or not.
 */
#include "acts/own.h"
#include "hands/row.h"
#include "places/place.h"

bool tb_own_work(tb_hands *h, const tb_act *act, unsigned each)
{
	bool founds = act->stitch->foot == TB_FOOT_CHAIN;
	if (!founds && act->stitch->takes > 0)
		return false;
	guint64 many = (guint64)each * tb_hands_number(h, &act->place.count, 1);
	if (many == 0) {
		tb_hands_give_up(h, "not-worked", act->span, "Say how many, and where each of them stands.",
			"how many of these are made is not said");
		return true;
	}
	for (guint64 i = 0; i < many && !h->cursor.over; i++) {
		unsigned flags = founds ? TB_MADE_COUNTED : 0;
		if (tb_hands_make(h, act->stitch, NULL, flags, act->span) == TB_NONE)
			break;
	}
	return true;
}

bool tb_own_found(tb_hands *h, const tb_act *act)
{
	if (act->kind != TB_ACT_WORK || act->stitch == NULL || act->stitch->foot != TB_FOOT_CHAIN ||
		h->cloth.rows->len > 0)
		return false;
	if (!tb_row_add(h, 0, TB_SIDE_WRONG, false))
		return true;
	tb_own_work(h, act, tb_hands_number(h, &act->each, 1));
	tb_row_close(h);
	h->start.grown = true;
	return true;
}

void tb_own_knots(tb_hands *h, const tb_act *act)
{
	unsigned count = tb_hands_number(h, &act->count, 1);
	guint16 group = h->now.group_number;
	if (group == 0)
		tb_hands_number_group(h, act->own);
	for (unsigned i = 0; i < count; i++) {
		tb_footing footing = {.behind = TB_NONE, .count = 1};
		footing.bases[0] = tb_hands_make(h, h->working->chain, NULL, TB_MADE_CHAIN, act->span);
		if (footing.bases[0] == TB_NONE ||
			tb_hands_make(h, act->stitch, &footing, TB_MADE_COUNTED, act->span) == TB_NONE)
			break;
	}
	h->now.group_number = group;
	h->cursor.in_space = false;
}

/* The picot of COUNT chains closed by STITCH, or NULL. */
static const tb_stitch *find_picot(const tb_hands *h, const tb_stitch *stitch, unsigned count)
{
	if (stitch != h->working->slip || count > 8)
		return NULL;
	return tb_library_picot(h->working->pattern->library, count);
}

/* The chains from FIRST on become one picot; false: they are no known one, and count no more. */
static bool make_picot(tb_hands *h, const tb_act *act, guint32 first)
{
	const tb_stitch *picot = find_picot(h, act->stitch, h->cloth.made->len - first);
	if (picot != NULL && first >= h->teller.floor) {
		h->working->made -= h->cloth.made->len - first;
		g_array_set_size(h->cloth.made, first);
		tb_hands_make(h, picot, NULL, 0, act->span);
		return true;
	}
	for (guint32 i = first; i < h->cloth.made->len; i++)
		tb_hands_made(h, i)->flags &= (guint8)~TB_MADE_COUNTED;
	return false;
}

bool tb_own_picot(tb_hands *h, const tb_act *act, const tb_footing *footing)
{
	if (act->stitch != h->working->slip || act->place.in != TB_IN_NTH_CHAIN ||
		footing->rows_below != 0 || footing->count != 1)
		return false;
	guint32 first = footing->bases[0];
	/* the tip of a leaf, whose chains are worked down from there */
	if (h->cursor.own_chains > 0 && h->cursor.own_chain + 1 == first)
		return false;
	if (!make_picot(h, act, first))
		tb_hands_make(h, act->stitch, footing, 0, act->span);
	return true;
}

bool tb_own_picot_on_last(tb_hands *h, const tb_act *act)
{
	const tb_place *place = &act->place;
	guint32 first = h->cloth.made->len;
	if (act->stitch != h->working->slip ||
		!(place->in == TB_IN_LAST || place->in == TB_IN_SAME || place->in == TB_IN_NEXT) ||
		place->target == TB_TARGET_SPACE || place->target == TB_TARGET_TURNING_CHAIN)
		return false;
	while (first > h->now.begun && (tb_hands_made(h, first - 1)->flags & TB_MADE_CHAIN) != 0)
		first--;
	unsigned chains = h->cloth.made->len - first;
	if (chains < 2 || chains > 6 || first <= h->now.begun)
		return false;
	const tb_made *on = tb_hands_made(h, first - 1);
	if (on->flags & TB_MADE_TURNING || !(on->flags & TB_MADE_COUNTED))
		return false;
	bool named = place->target == TB_TARGET_NAMED && on->stitch == place->named->number;
	if (place->in == TB_IN_NEXT || (place->target == TB_TARGET_NAMED && !named) ||
		(place->in == TB_IN_SAME && !h->cursor.in_space))
		return false;
	make_picot(h, act, first);
	return true;
}

/* Whether ACT, a slip stitch whose place is not said, is one alone, and nothing of ACTS is made behind it. */
static bool is_last_slip(const tb_hands *h, const tb_act *act, const tb_acts *acts)
{
	if (!act->bare || act < acts->acts || act >= acts->acts + acts->count || act->place.in != TB_IN_NEXT ||
		tb_hands_number(h, &act->place.count, 1) != 1 || tb_hands_number(h, &act->each, 1) != 1)
		return false;
	for (const tb_act *other = act + 1; other < acts->acts + acts->count; other++) {
		if (other->kind == TB_ACT_WORK || other->kind == TB_ACT_REPEAT || other->kind == TB_ACT_GROUP ||
			other->kind == TB_ACT_CHAIN || other->kind == TB_ACT_JOIN)
			return false;
	}
	return true;
}

/*
 * "12 sc in ring, sl st", "in ring work 12 sc, sl st": the last slip stitch closes a round that has no other.
 * Behind chains it would go into the ring with them, but for those that a repeat, "(sc, ch 1) 8 times", has ended with.
 */
static bool ends_in_ring(const tb_hands *h, const tb_act *act)
{
	const tb_acts *acts = &h->sentence->acts;
	const tb_act *last = acts->count > 0 ? &acts->acts[acts->count - 1] : NULL;
	if (h->now.group != NULL && last != NULL && last->kind == TB_ACT_GROUP && last->place.in == TB_IN_RING)
		acts = &last->body;
	if (!h->start.is_ring || h->row != 1 || h->cloth.made->len <= h->now.begun || !is_last_slip(h, act, acts))
		return false;
	for (const tb_act *other = acts->acts; other < act; other++) {
		if (other->kind == TB_ACT_WORK && other->stitch == h->working->slip)
			return false;
	}
	const tb_act *before = act > acts->acts ? act - 1 : act;
	bool over = before->kind == TB_ACT_REPEAT ||
		(before->kind == TB_ACT_GROUP && before->body.count > 2 && before->body.acts[0].kind == TB_ACT_WORK);
	return over || !(tb_hands_made(h, h->cloth.made->len - 1)->flags & TB_MADE_CHAIN);
}

/* Whether nothing but chains is left of the row below: those beside what was worked last. */
static bool only_chains_left(const tb_hands *h)
{
	guint32 i = h->cursor.due;
	while (i < tb_place_count(h) && (tb_hands_made(h, tb_hands_place(h, i))->flags & (TB_MADE_CHAIN | TB_MADE_TURNING)) == TB_MADE_CHAIN)
		i++;
	return i == tb_place_count(h);
}

/* "Sc in each ch across, sl st in first sc": a first row on a chain has no other such stitch, and is made a tube. */
static bool makes_tube(const tb_hands *h, const tb_place *place)
{
	return h->row == 1 && !h->start.grown && place->in == TB_IN_FIRST && h->now.repeating == 0 &&
		(place->target == TB_TARGET_NAMED || place->target == TB_TARGET_STITCH) &&
		h->cursor.due + h->now.spare >= tb_place_count(h);
}

bool tb_own_closes(const tb_hands *h, const tb_act *act)
{
	bool border = h->cursor.edges > 0 || makes_tube(h, &act->place);
	if (act->stitch == h->working->slip && h->sentence->is_round && ends_in_ring(h, act))
		return true;
	if (act->stitch != h->working->slip || !(h->sentence->is_round || border) || h->now.group != NULL ||
		h->cloth.made->len <= h->now.begun)
		return false;
	const tb_place *place = &act->place;
	if (border)
		return place->in == TB_IN_FIRST;
	bool through = h->cursor.due + h->now.spare >= tb_place_count(h);
	if (place->target == TB_TARGET_TURNING_CHAIN)
		return true;
	bool first = place->in == TB_IN_FIRST && h->cursor.due > h->cursor.first;
	/* "7 dc in each loop, sl st": the stitches beside the last loop are left */
	bool beside = h->cursor.in_space || only_chains_left(h);
	through = through || (beside && h->now.repeating == 0 && is_last_slip(h, act, &h->sentence->acts));
	/* a pass of a repeat closes the round once, where the stitch of the join was not worked before */
	bool again = h->now.repeating > 0 && (h->cursor.joined || h->cursor.ends_at_join);
	return first || (through && h->row > 1 && place->in == TB_IN_NEXT && !again) ||
		   (through && place->in == TB_IN_FIRST);
}
