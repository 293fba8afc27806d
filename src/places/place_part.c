/* "3rd dc of next shell", "center st of next group", "3rd ch of next ch-5": a part of what stands in one place. */
#include "places/place.h"
#include "places/post.h"

guint32 tb_place_middle(const tb_hands *h, guint32 begin, guint32 end)
{
	guint16 group = begin < end ? tb_hands_made(h, tb_hands_place(h, begin))->group : 0;
	const tb_own *own = g_hash_table_lookup(h->cloth.group_owns, GUINT_TO_POINTER((guint)group));
	return begin + (end - begin - (group != 0 && tb_own_is_knots(own))) / 2;
}

guint32 tb_place_first_of_space(const tb_hands *h, guint32 at, guint32 begin, guint32 end)
{
	guint32 last = at;
	while (at > begin && tb_hands_made(h, tb_hands_place(h, at - 1))->flags & TB_MADE_CHAIN)
		at--;
	while (last + 1 < end && tb_hands_made(h, tb_hands_place(h, last + 1))->flags & TB_MADE_CHAIN)
		last++;
	/* who has turned comes upon its last chain first */
	return MIN(tb_hands_place(h, at), tb_hands_place(h, last));
}

/* "Sk 2 dc, sc in center dc of shell": the skip came into that shell, and nothing of it is worked yet. */
static bool is_in_group(const tb_hands *h, const tb_place *of, guint32 *begin, guint32 *end)
{
	const tb_cursor *c = &h->cursor;
	if (of->target != TB_TARGET_GROUP || c->due >= tb_place_count(h) || !tb_place_group(h, c->due, begin, end) ||
		*begin == c->due || !tb_place_matches(h, of, *begin) || tb_place_middle(h, *begin, *end) < c->due)
		return false;
	for (guint32 i = *begin; c->has_last && i < c->due; i++) {
		if (c->last.count > 0 && c->last.bases[0] == tb_hands_place(h, i))
			return false;
	}
	return true;
}

bool tb_place_find_group(const tb_hands *h, const tb_place *group, guint32 from, guint32 *begin, guint32 *end)
{
	if (!tb_place_find_from(h, group, from, begin, end))
		return false;
	/* the turning chain before it is the first of its stitches */
	*begin -= *begin > from && group->target == TB_TARGET_GROUP &&
		(tb_hands_made(h, tb_hands_place(h, *begin - 1))->flags & TB_MADE_TURNING) != 0;
	return true;
}

/* Whether this row has a stitch already, and no chains alone. */
static bool has_stitch(const tb_hands *h)
{
	for (guint32 i = h->now.begun; i < h->cloth.made->len; i++) {
		if (!(tb_hands_made(h, i)->flags & (TB_MADE_CHAIN | TB_MADE_TURNING)))
			return true;
	}
	return false;
}

/* Where to look for "the next group": behind the one that the last stitch of this row stands in. */
static guint32 behind_own_group(const tb_hands *h, const tb_place *of)
{
	const tb_cursor *c = &h->cursor;
	guint32 begin, end;
	if (of->target != TB_TARGET_GROUP || c->due >= tb_place_count(h) || !c->has_last || c->last.count != 1 ||
		!has_stitch(h) || !tb_place_group(h, c->due, &begin, &end))
		return c->due;
	for (guint32 i = begin; i < end; i++) {
		if (c->last.bases[0] == tb_hands_place(h, i))
			return end;
	}
	return c->due;
}

bool tb_place_take_part(
	tb_hands *h, const tb_act *act, const tb_stitch *stitch, unsigned which, tb_footing *footing)
{
	const tb_place *place = &act->place;
	guint32 begin = h->cursor.first, end = tb_place_count(h), at;
	unsigned nth = tb_hands_number(h, &place->count, 0);
	bool inside = place->of != NULL && nth == 0 && is_in_group(h, place->of, &begin, &end);
	if (place->of != NULL && !inside && !tb_place_find_group(h, place->of, behind_own_group(h, place->of), &begin, &end)) {
		tb_place_tell_none(h, act, stitch, which);
		return false;
	}
	if (place->of == NULL && nth == 0 && tb_place_stopped_at(h, place, h->cursor.due)) {
		begin = h->cursor.due;
		end = begin + 1;
	}
	if (place->of == NULL && nth == 0 && end > begin + 1 && tb_place_find_in_round(h, place, &begin))
		end = begin + 1;
	/* "sc in next 14 sc, 3 sc in center sc", with 15 before it */
	guint32 center = nth == 0 && place->of == NULL ? tb_place_middle(h, begin, end) : 0;
	if (center > h->cursor.due && !h->sentence->is_round && tb_place_count_worked_side(h) > 1)
		tb_place_tell_passed(h, act, center - (center > h->cursor.due && (end - begin) % 2 == 0));
	h->cursor.passed_from = h->cursor.due;
	h->cursor.passed_to = MAX(begin, h->cursor.due);
	at = nth > 0 ? begin + nth - 1 : tb_place_middle(h, begin, end);
	/* of an even number two are in the middle, and the hook may stand before the first of them */
	at -= nth == 0 && place->of == NULL && (end - begin) % 2 == 0 && h->cursor.due > begin && h->cursor.due + 1 == at;
	tb_place_warn_middle(h, act, end - begin, at - begin + 1);
	if (nth > 0 && place->target == TB_TARGET_NAMED) {
		guint32 from = begin, behind = begin;
		for (unsigned n = 0; n < nth; n++, from = behind) {
			if (!tb_place_find_from(h, place, from, &at, &behind)) {
				tb_place_tell_none(h, act, stitch, which);
				return false;
			}
		}
	}
	/* "center dc of next sc" is none */
	bool named = place->of != NULL && nth == 0 && at < end && place->target == TB_TARGET_NAMED;
	if (named && (tb_hands_made(h, tb_hands_place(h, at))->flags & TB_MADE_CHAIN) == 0 &&
		!tb_place_is_named(h, place, tb_hands_place(h, at))) {
		tb_place_tell_none(h, act, stitch, which);
		return false;
	}
	bool middle = place->of == NULL && nth == 0 && end > begin + 1;
	if (at >= end || at < h->cursor.due || (middle && h->sentence->is_round)) {
		tb_place_tell_none(h, act, stitch, which);
		return false;
	}
	guint32 base = tb_hands_place(h, at);
	footing->bases[0] = base;
	footing->count = 1;
	footing->rows_below = 1;
	/* the middle of a group is often its space */
	if (nth == 0 && place->target != TB_TARGET_CHAIN &&
		(tb_hands_made(h, base)->flags & TB_MADE_CHAIN) != 0) {
		footing->bases[0] = tb_place_first_of_space(h, at, begin, end);
		while (at > begin && tb_hands_made(h, tb_hands_place(h, at - 1))->flags & TB_MADE_CHAIN)
			at--;
		footing->flags = TB_MADE_IN_SPACE;
	}
	/* the rest of what it is a part of is passed over */
	h->cursor.passed = end;
	h->cursor.due = place->of != NULL && nth == 0 && !inside ? tb_place_behind_middle(h, at, end) : at + 1;
	tb_post_check(h, act, stitch, footing->bases[0]);
	return true;
}
