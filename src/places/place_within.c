/*
 * "Sp of next shell": a space that such a group has itself, not one that lies between two of them. And what is
 * left of a group behind its middle.
 */
#include "hands/meaning.h"
#include "places/place.h"

bool tb_place_is_within(const tb_hands *h, const tb_place *place)
{
	return place->target == TB_TARGET_SPACE && place->of != NULL && place->of->target == TB_TARGET_GROUP &&
		place->in == TB_IN_NEXT && tb_hands_number(h, &place->count, 1) == 1;
}

/* Whether the space from I to END is one of a group as asked for, into which nothing was worked yet. */
static bool is_within(const tb_hands *h, const tb_place *place, guint32 i, guint32 end)
{
	const tb_cursor *c = &h->cursor;
	guint32 first, behind;
	if (!tb_place_group(h, i, &first, &behind) || behind < end || !tb_place_matches(h, place->of, first))
		return false;
	guint32 last = c->has_last && c->last.count > 0 && c->last.rows_below == 1 ? c->last.bases[0] : TB_NONE;
	return last == TB_NONE || last >= h->cloth.made->len ||
		tb_hands_made(h, last)->group != tb_hands_made(h, tb_hands_place(h, i))->group;
}

/* Whether any group of the row below that is as asked for has a space; where none has, any space is meant. */
static bool has_any(const tb_hands *h, const tb_place *place)
{
	guint32 first, behind;
	tb_hands_look(h, tb_place_count(h));
	for (guint32 i = 0; i < tb_place_count(h); i++) {
		const tb_made *made = tb_hands_made(h, tb_hands_place(h, i));
		if (made->flags & TB_MADE_CHAIN && !(made->flags & TB_MADE_TURNING) && tb_place_group(h, i, &first, &behind) &&
			tb_place_matches(h, place->of, first))
			return true;
	}
	return false;
}

bool tb_place_find_within(const tb_hands *h, const tb_place *place, guint32 from, guint32 *begin, guint32 *end)
{
	bool any = has_any(h, place);
	for (guint32 i = from; i < tb_place_count(h); i++) {
		tb_hands_look(h, 1);
		if (tb_place_matches_to(h, place, i, end) && (!any || is_within(h, place, i, *end))) {
			*begin = i;
			return true;
		}
	}
	return false;
}

/* What is worked or skipped next, chains left out of account; NULL where that is nothing. */
static const tb_act *next_placed(const tb_hands *h)
{
	for (unsigned i = 0; i < h->now.next_acts.count; i++) {
		if (h->now.next_acts.acts[i].kind != TB_ACT_CHAIN)
			return &h->now.next_acts.acts[i];
	}
	return NULL;
}

guint32 tb_place_behind_middle(tb_hands *h, guint32 at, guint32 end)
{
	const tb_act *next = next_placed(h);
	bool stitches = next != NULL && (next->kind == TB_ACT_SKIP || next->kind == TB_ACT_WORK) &&
		next->place.in == TB_IN_NEXT &&
		(next->place.target == TB_TARGET_STITCH || next->place.target == TB_TARGET_NAMED);
	if (!stitches || at + 1 >= end || !tb_means(h, TB_MEANS_REST))
		return end;
	guint32 behind = at + 1;
	bool chain = (tb_hands_made(h, tb_hands_place(h, at))->flags & TB_MADE_CHAIN) != 0;
	while (chain && behind < end && tb_hands_made(h, tb_hands_place(h, behind))->flags & TB_MADE_CHAIN)
		behind++;
	return behind;
}

guint32 tb_place_behind_space(tb_hands *h, guint32 at, guint32 end)
{
	const tb_act *next = next_placed(h);
	guint32 first, behind;
	bool stitches = next != NULL && next->kind == TB_ACT_WORK && next->place.in == TB_IN_NEXT &&
		(next->place.target == TB_TARGET_STITCH || next->place.target == TB_TARGET_NAMED);
	bool rest = stitches && tb_place_group(h, at, &first, &behind) && behind > end;
	return rest && tb_means(h, TB_MEANS_REST) ? behind : end;
}

bool tb_place_has_last(const tb_hands *h)
{
	const tb_footing *last = &h->cursor.last;
	return h->cursor.has_last && last->count > 0 && last->rows_below == 1;
}

bool tb_place_share_last(tb_hands *h, const tb_act *act, tb_footing *footing)
{
	const tb_footing *last = &h->cursor.last;
	/* "sc2tog, beginning in same st", where yarn was joined or the row begins: the other leg goes on from there */
	bool has_first = h->row > 1 || h->start.is_tube || h->start.grown;
	if (!h->cursor.has_last && has_first && h->cursor.due < tb_place_count(h)) {
		footing->bases[footing->count++] = tb_hands_place(h, h->cursor.due++);
		return true;
	}
	if (!tb_place_has_last(h)) {
		tb_hands_give_up(h, "place-missing", act->place.span, "Say which stitch the first leg goes into.",
			"nothing was worked yet in this row, so there is no \"same\" place");
		return false;
	}
	guint32 shared = last->bases[last->count - 1];
	/* the stitch that a round was joined in has no work yet, and has it now */
	if (h->cursor.due < tb_place_count(h) && tb_hands_place(h, h->cursor.due) == shared)
		h->cursor.due++;
	footing->bases[footing->count++] = shared;
	return true;
}
