/* Where the hook stands already at the beginning of a row, and what of the round below that is. */
#include "places/place.h"

/* Where MADE went. */
static bool stand_as(const tb_hands *h, const tb_made *made, tb_footing *footing)
{
	*footing = (tb_footing){.behind = TB_NONE, .count = (guint8)MIN(made->base_count, TB_MOST_BASES),
		.rows_below = made->rows_below, .flags = made->flags & TB_MADE_IN_SPACE};
	for (unsigned k = 0; k < footing->count; k++)
		footing->bases[k] = tb_hands_base(h, made, k);
	return true;
}

bool tb_place_stand_as_first(const tb_hands *h, tb_footing *footing)
{
	guint32 row = tb_hands_row(h, h->row)->first;
	/* a loop that begins a round has no foot of its own: it stands in the stitch that was joined to */
	if (h->sentence->is_round && h->row > 1 && !h->now.travelled && h->now.begun < h->cloth.made->len &&
		h->cursor.first < tb_place_count(h) &&
		(tb_hands_made(h, h->now.begun)->flags & (TB_MADE_CHAIN | TB_MADE_TURNING)) == TB_MADE_CHAIN) {
		*footing = (tb_footing){.bases = {tb_hands_place(h, h->cursor.first)}, .behind = TB_NONE,
			.count = 1, .rows_below = 1};
		return true;
	}
	for (guint32 i = h->now.begun; i < h->cloth.made->len; i++) {
		const tb_made *made = tb_hands_made(h, i);
		if (made->base_count == 0 || tb_hands_base(h, made, 0) >= row)
			continue;
		return stand_as(h, made, footing);
	}
	return false;
}

/* "Sl st in next st, ch 3, 2 dc in same place as sl st": where the last one of the row went. */
bool tb_place_stand_as_slip(const tb_hands *h, tb_footing *footing)
{
	for (guint32 i = h->cloth.made->len; i-- > h->now.begun;) {
		const tb_made *made = tb_hands_made(h, i);
		if (made->stitch == h->working->slip->number && made->base_count > 0)
			return stand_as(h, made, footing);
	}
	return false;
}

/* "In loop just made": the round begins in the loop that closed the one below, and nothing is worked yet. */
bool tb_place_is_fresh_loop(const tb_hands *h)
{
	bool found = h->now.travelled && h->now.travel == 0 && h->row > 1 && tb_hands_row(h, h->row - 1)->loop > 0;
	for (guint32 i = h->now.begun; i < h->cloth.made->len && found; i++)
		found = tb_hands_made(h, i)->flags & (TB_MADE_TURNING | TB_MADE_CHAIN);
	return found;
}

/* "Sl st to center of loop, sc in loop": the one the hook stands in, where nothing is worked yet. */
bool tb_place_stands_in(const tb_hands *h, const tb_place *place)
{
	bool stands = place->unordered && h->now.travelled && h->cursor.has_last && h->sentence->is_round &&
		(h->cursor.last.flags & TB_MADE_IN_SPACE);
	for (guint32 i = h->now.begun; i < h->cloth.made->len && stands; i++)
		stands = tb_hands_made(h, i)->flags & (TB_MADE_TURNING | TB_MADE_CHAIN);
	return stands;
}

/*
 * "*Shell in corner sp, dc in each dc to next corner sp; rep from * around": behind the last of the corners
 * the round goes on to where it began, whose corner, or the side it stands in, is worked already.
 */
bool tb_place_comes_round(const tb_hands *h, const tb_place *up_to)
{
	guint32 begin, end;
	return h->sentence->is_round && h->row > 1 && up_to->target == TB_TARGET_SPACE &&
		tb_place_find_from(h, up_to, h->cursor.first, &begin, &end) && end <= h->cursor.due;
}

/* "…, 1 dc in first sp" at a round's end: the space it began in is not full yet. */
bool tb_place_is_begun_space(const tb_hands *h, const tb_place *place)
{
	tb_footing first;
	return place->in == TB_IN_FIRST && place->target == TB_TARGET_SPACE && tb_hands_number(h, &place->count, 1) == 1 &&
		place->of == NULL && h->sentence->is_round && h->now.travelled && h->row > 1 && h->cursor.has_last &&
		h->cursor.due > h->cursor.first &&
		/* a round that one stitch alone closed begins in the space that it stands for */
		(tb_place_matches(h, place, h->cursor.first) || tb_hands_row(h, h->row - 1)->loop == 1) &&
		tb_place_stand_as_first(h, &first) && (first.flags & TB_MADE_IN_SPACE);
}

/* "… sl st in first sc" joins as well, whatever is only said behind it. */
static bool ends_with_slip(const tb_hands *h, const tb_sentence *sentence)
{
	const tb_acts *acts = &sentence->acts;
	unsigned end = acts->count;
	while (end > 0 && acts->acts[end - 1].kind != TB_ACT_WORK && acts->acts[end - 1].kind != TB_ACT_CHAIN &&
		acts->acts[end - 1].kind != TB_ACT_REPEAT && acts->acts[end - 1].kind != TB_ACT_GROUP)
		end--;
	const tb_act *last = end > 1 ? &acts->acts[end - 1] : NULL;
	return sentence->is_round && last != NULL && last->kind == TB_ACT_WORK &&
		last->stitch == h->working->slip && (last->place.target == TB_TARGET_TURNING_CHAIN ||
		(last->place.in == TB_IN_FIRST && last->place.target != TB_TARGET_CHAIN));
}

bool tb_place_was_joined(const tb_hands *h)
{
	const tb_sentence *below = tb_hands_row(h, h->row - 1)->sentence;
	return below != NULL && (tb_hands_row(h, h->row - 1)->joined || ends_with_slip(h, below));
}

/* "ch 3, dc in sl st": in the one the round began with. */
bool tb_place_is_own_slip(const tb_hands *h, const tb_act *act)
{
	if (act->kind == TB_ACT_WORK && act->place.in == TB_IN_SAME && act->place.at_slip)
		return h->now.travel > 0;
	return act->kind == TB_ACT_WORK && (act->place.in == TB_IN_NEXT || act->place.in == TB_IN_LAST ||
		(act->place.in == TB_IN_FIRST && h->now.travel > 0)) && act->place.target == TB_TARGET_NAMED &&
		act->place.named == h->working->slip &&
		tb_hands_number(h, &act->place.count, 1) == 1 && (h->now.travel > 0 || tb_place_was_joined(h));
}

void tb_place_leave_join(tb_hands *h)
{
	if (h->cursor.ends_at_join && h->cursor.due < tb_place_count(h))
		g_array_set_size(h->now.places, tb_place_count(h) - 1);
	h->cursor.ends_at_join = false;
}

void tb_place_pass_space(tb_hands *h)
{
	tb_cursor *c = &h->cursor;
	if (!h->now.travelled || c->due != c->first || !(c->last.flags & TB_MADE_IN_SPACE))
		return;
	c->due += c->last.count == 2; /* a gap, behind whose first stitch the hook stands */
	while (c->due < tb_place_count(h) &&
		   (tb_hands_made(h, tb_hands_place(h, c->due))->flags & TB_MADE_CHAIN) != 0)
		c->due++;
}
