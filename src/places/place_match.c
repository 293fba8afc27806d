/*
 * Whether a place among the tops of the row below is of a kind: a stitch by its name, a chain, the middle of
 * several, the space that a run of chains is.
 */
#include "places/place.h"

/*
 * Corner to corner a block is as wide as the chain beside it is tall, and the work goes over the
 * block to its chain; over more than that no turning chain is meant.
 */
static bool is_block_chain(const tb_hands *h, const tb_place *place, guint32 i)
{
	unsigned passed = 0;
	for (guint32 at = h->cursor.due; at < i && passed <= place->space_chains; at++)
		passed += tb_place_has_post(h, tb_hands_place(h, at));
	return !h->sentence->is_round && place->space_chains > 1 && passed <= place->space_chains &&
		   tb_hands_made(h, tb_hands_place(h, i))->chains == place->space_chains;
}

/*
 * An edging begins its rows with a long chain, or with many chains skipped, and the row after works into that
 * loop at its end: "7 dc in the ch-5 loop", "9 dc in next loop". So long a chain is no stitch alone; but where
 * other spaces are left, or the row goes on to its top, it is one.
 */
static bool is_edge_loop(const tb_hands *h, const tb_place *place, guint32 i)
{
	const unsigned least = 5;
	const tb_made *made = tb_hands_made(h, tb_hands_place(h, i));
	/* of the foundation's, those beside it that lie flat are a part of the loop */
	unsigned chains = MAX(made->chains, made->row == h->now.corner.row ? h->now.corner.skipped : 0);
	for (guint32 k = h->cursor.due; place->in == TB_IN_LAST && k < i; k++) {
		if (tb_place_is_chain(h, k))
			return false;
	}
	return !h->sentence->is_round && i + 1 == tb_place_near_end(h) && i == h->now.turning_place && chains >= least &&
		!tb_place_goes_on_to_end(h) &&
		!place->corner && (place->space_chains == 0 || place->space_chains == chains) &&
		(place->in == TB_IN_NEXT || place->in == TB_IN_LAST) && tb_hands_number(h, &place->count, 1) == 1;
}

/* The half of a loop behind its picot, or the loop behind a stitch with one, that begins at I: its end. */
static guint32 end_behind_picot(const tb_hands *h, guint32 i)
{
	guint32 end = i;
	if (tb_place_is_behind_picot(h, i)) {
		while (end < tb_place_count(h) && tb_place_is_chain(h, end) && (end == i || !tb_place_is_behind_picot(h, end)))
			end++;
	}
	return end;
}

/* "Ch 4, dc in 4th ch from hook" is a small loop beside the row, as a picot is: it stands on its own chain. */
static bool is_side_loop(const tb_hands *h, guint32 index)
{
	const tb_made *made = tb_hands_made(h, index);
	const tb_made_row *below = tb_hands_row(h, h->row) - 1;
	if (made->flags & (TB_MADE_CHAIN | TB_MADE_TURNING) || made->base_count != 1 ||
		made->base < below->first || made->base >= index)
		return false;
	for (guint32 i = made->base; i < index; i++) {
		if (!(tb_hands_made(h, i)->flags & TB_MADE_CHAIN))
			return false;
	}
	return true;
}

/*
 * "Next loop of pineapple": the chains that lead to it from the shells beside it are no loops of its own.
 * A loop lies between two stitches, neither of which is of a group that has spaces itself.
 */
static bool borders_shell(const tb_hands *h, guint32 i, guint32 end)
{
	guint32 begin, behind, count = tb_place_count(h);
	bool shell = i == 0 || end == count;
	for (unsigned side = 0; side < 2 && !shell; side++) {
		if (!tb_place_group(h, side == 0 ? i - 1 : end, &begin, &behind))
			continue;
		for (guint32 k = begin; k < behind; k++)
			shell = shell || tb_place_is_chain(h, k);
	}
	return shell;
}

/* The end of the run of chains at I; I itself when no space as asked begins there. */
static guint32 space_end(const tb_hands *h, const tb_place *place, guint32 i)
{
	const tb_made *made = tb_hands_made(h, tb_hands_place(h, i));
	if (made->flags & TB_MADE_TURNING)
		return is_block_chain(h, place, i) || is_edge_loop(h, place, i) ? i + 1 : i;
	if (is_side_loop(h, tb_hands_place(h, i)))
		return place->space_chains == 0 && place->beside == TB_BESIDE_NOTHING ? i + 1 : i;
	if (!(made->flags & TB_MADE_CHAIN) || tb_place_is_foundation(h))
		return i;
	if (place->beside == TB_BESIDE_BEHIND)
		return end_behind_picot(h, i);
	if (i > h->cursor.first && tb_place_is_chain(h, i - 1))
		return i; /* what is left of a space already worked into */
	guint32 end = i + 1;
	while (end < tb_place_count(h) && tb_place_is_chain(h, end) &&
		   !(place->beside == TB_BESIDE_BEFORE && tb_place_is_behind_picot(h, end)))
		end++;
	/* the picot hangs in the loop, or on the stitch behind it */
	if (place->beside == TB_BESIDE_BEFORE)
		return tb_place_is_behind_picot(h, end) || tb_place_is_behind_picot(h, end + 1) ? end : i;
	/* "the ch-7 loop": a turning chain of 3 and a space of 4, as they are counted */
	guint32 length = end - i;
	const tb_made *next = end < tb_place_count(h) ? tb_hands_made(h, tb_hands_place(h, end)) : NULL;
	if (next != NULL && next->flags & TB_MADE_TURNING && !h->sentence->is_round &&
		length + next->chains == place->space_chains)
		return end;
	return place->space_chains == 0 || length == place->space_chains ? end : i;
}

/* Whether knots MADE are such as ASKED for; "knot st" is any of them. */
static bool is_knot(const tb_hands *h, const tb_own *asked, const tb_own *made)
{
	return tb_own_is_knots(asked) && tb_own_is_knots(made) &&
		(asked == made || tb_hands_number(h, &asked->acts.acts[0].count, 1) == 0);
}

/* A round that begins in the middle of a shell comes back to the first half of that, from I to END. */
static bool is_first_half(const tb_hands *h, guint32 i, guint32 end)
{
	guint16 group = tb_hands_made(h, tb_hands_place(h, 0))->group;
	return i > 0 && end == tb_place_count(h) && h->now.travelled && h->sentence->is_round && group != 0 &&
		tb_hands_made(h, tb_hands_place(h, end - 1))->group == group;
}

/* "sc group", of sc that were worked one by one: two or more side by side, the first of them at I. */
static bool is_run(const tb_hands *h, const tb_place *place, guint32 i, guint32 *end)
{
	*end = i;
	if (i > 0 && tb_place_is_kind(h, tb_hands_place(h, i - 1), place->named))
		return false;
	while (*end < tb_place_count(h) && tb_place_is_kind(h, tb_hands_place(h, *end), place->named))
		(*end)++;
	tb_hands_look(h, *end - i);
	return *end > i + 1 && !is_first_half(h, i, *end);
}

/* A group of the kind asked for begins at I: nothing of it was worked into but by the turning chain. */
static bool is_group(const tb_hands *h, const tb_place *place, guint32 i, guint32 *end)
{
	guint32 begin;
	guint16 group = tb_hands_made(h, tb_hands_place(h, i))->group;
	if (tb_place_is_edge_group(h, place->own, i, end))
		return true;
	*end = i + 1;
	const tb_made *made = tb_hands_made(h, tb_hands_place(h, i));
	if (place->closed && group == 0 && !(made->flags & (TB_MADE_CHAIN | TB_MADE_TURNING)) &&
		tb_hands_stitch(h, made)->legs > 1)
		return true;
	if (group == 0 && place->named != NULL && place->own == NULL)
		return is_run(h, place, i, end);
	if (!tb_place_group(h, i, &begin, end) ||
		(begin != i && i != h->cursor.first && !tb_place_is_under_turning(h, begin, i)))
		return false;
	if (is_first_half(h, i, *end))
		return false;
	/* a group that was written out is as good as one that was named */
	const tb_own *own = g_hash_table_lookup(h->cloth.group_owns, GUINT_TO_POINTER((guint)group));
	if (tb_own_is_knots(own) || tb_own_is_knots(place->own))
		return is_knot(h, place->own, own);
	return place->own == NULL || own == NULL || tb_own_is_same(own, place->own);
}

/* Older books call the top of a stitch a loop as well. */
static bool has_spaces(const tb_hands *h)
{
	guint32 count = tb_place_is_foundation(h) ? 0 : tb_place_count(h), i = 0;
	while (i < count && !tb_place_is_chain(h, i))
		i++;
	tb_hands_look(h, i);
	return i < count;
}

/* What is not meant by "each st, skipping the ch-1 sps": *end is behind it. */
bool tb_place_is_left_out(const tb_hands *h, const tb_place *but, guint32 i, guint32 *end)
{
	if (but->target == TB_TARGET_SPACE && but->space_chains == 0)
		return tb_place_is_chain(h, i);
	guint32 begin = i;
	while (but->target == TB_TARGET_SPACE && begin > 0 && tb_place_is_chain(h, begin) && tb_place_is_chain(h, begin - 1))
		begin--;
	return tb_place_matches_to(h, but, begin, end);
}

bool tb_place_matches_to(const tb_hands *h, const tb_place *place, guint32 i, guint32 *end)
{
	*end = i + 1;
	if (place->but != NULL && tb_place_is_left_out(h, place->but, i, end))
		return false;
	if (place->also != NULL && tb_place_matches_to(h, place->also, i, end))
		return true;
	*end = i + 1;
	if (place->amid > 0)
		return tb_place_is_amid(h, place, i);
	switch (place->target) {
	case TB_TARGET_STITCH:
		/* "each st and ch-1 sp": the chains of a space are no stitches then */
		return place->also == NULL || !tb_place_is_chain(h, i);
	case TB_TARGET_CHAIN:
		/* older books end a row "sk 2 ch, dc in next ch", or in the last: the top of the turning chain */
		return tb_place_is_foundation(h) || tb_place_is_chain(h, i) ||
			   (i == h->now.turning_place && i + 1 == tb_place_count(h) && i > h->cursor.first &&
				   (place->in == TB_IN_LAST || (place->in == TB_IN_NEXT && tb_place_is_chain(h, i - 1))));
	case TB_TARGET_SPACE:
		if (place->corner) {
			*end = has_spaces(h) ? space_end(h, place, i) : i + 1;
			return *end > i && tb_place_turns_corner(h, i, *end);
		}
		if (place->loose && place->space_chains == 0 && !has_spaces(h)) {
			*end = i + 1;
			return true;
		}
		*end = space_end(h, place, i);
		return *end > i && !(place->inner && borders_shell(h, i, *end));
	case TB_TARGET_TURNING_CHAIN:
		return i == h->now.turning_place;
	case TB_TARGET_NAMED:
		if (place->lone && tb_hands_made(h, tb_hands_place(h, i))->group != 0)
			return false;
		/* "1 sc in each remaining sc", said of a chain */
		return tb_place_is_foundation(h) || (tb_place_is_named(h, place, tb_hands_place(h, i)) &&
			!is_side_loop(h, tb_hands_place(h, i)));
	case TB_TARGET_GROUP:
		return is_group(h, place, i, end);
	}
	return false;
}

bool tb_place_matches(const tb_hands *h, const tb_place *place, guint32 at)
{
	guint32 end;
	return tb_place_matches_to(h, place, at, &end);
}
