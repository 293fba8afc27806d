/*
 * Finding places of a kind among the tops of the row below: a stitch by its name, a chain, the
 * middle of several, the space that a run of chains is.
 */
#include "fabric/hands.h"

static bool is_foundation(const tb_hands *h)
{
	return h->row == 1 && !h->grown;
}

static bool is_chain(const tb_hands *h, guint32 place)
{
	return (tb_hands_made(h, tb_hands_place(h, place))->flags & TB_MADE_CHAIN) != 0;
}

bool tb_place_has_post(const tb_hands *h, guint32 index)
{
	const tb_made *made = tb_hands_made(h, index);
	if (made->flags & TB_MADE_TURNING)
		return true;
	return !(made->flags & TB_MADE_CHAIN) && tb_hands_stitch(h, made)->height > 0;
}

bool tb_place_is_plain(const tb_hands *h, const tb_place *place)
{
	return place->rows_below < 2 && !place->middle && place->also == NULL &&
		   (place->target == TB_TARGET_STITCH ||
			   (place->target == TB_TARGET_CHAIN && is_foundation(h)));
}

/* A counted turning chain is as good as the stitch it counts as. */
bool tb_place_is_kind(const tb_hands *h, guint32 index, const tb_stitch *named)
{
	const tb_made *made = tb_hands_made(h, index);
	if (made->flags & TB_MADE_TURNING)
		return named->post == TB_POST_NONE && named->legs == 1 && made->chains == named->height;
	return made->stitch == named->number;
}

/*
 * Corner to corner a block is as wide as the chain beside it is tall, and the work goes over the
 * block to its chain; over more than that no turning chain is meant.
 */
static bool is_block_chain(const tb_hands *h, const tb_place *place, guint32 i)
{
	unsigned passed = 0;
	for (guint32 at = h->cursor.due; at < i && passed <= place->space_chains; at++)
		passed += tb_place_has_post(h, tb_hands_place(h, at));
	return place->space_chains > 1 && passed <= place->space_chains &&
		   tb_hands_made(h, tb_hands_place(h, i))->chains == place->space_chains;
}

/* The end of the run of chains at I; I itself when no space as asked begins there. */
static guint32 space_end(const tb_hands *h, const tb_place *place, guint32 i)
{
	const tb_made *made = tb_hands_made(h, tb_hands_place(h, i));
	if (made->flags & TB_MADE_TURNING)
		return is_block_chain(h, place, i) ? i + 1 : i;
	if (!(made->flags & TB_MADE_CHAIN) || is_foundation(h))
		return i;
	if (i > h->cursor.first && is_chain(h, i - 1))
		return i; /* what is left of a space already worked into */
	guint32 end = i + 1;
	while (end < tb_place_count(h) && is_chain(h, end))
		end++;
	return place->space_chains == 0 || end - i == place->space_chains ? end : i;
}

/* Whether the place at I is of the kind asked for; *end is behind it. */
static bool matches(const tb_hands *h, const tb_place *place, guint32 i, guint32 *end)
{
	*end = i + 1;
	if (place->also != NULL && matches(h, place->also, i, end))
		return true;
	*end = i + 1;
	switch (place->target) {
	case TB_TARGET_STITCH:
		/* "each st and ch-1 sp": the chains of a space are no stitches then */
		return place->also == NULL || !is_chain(h, i);
	case TB_TARGET_CHAIN:
		/* older books end a row "sk 2 ch, dc in next ch": in the top of the turning chain */
		return is_foundation(h) || is_chain(h, i) ||
			   (i == h->turning_place && i + 1 == tb_place_count(h) && place->in == TB_IN_NEXT &&
				   i > h->cursor.first && is_chain(h, i - 1));
	case TB_TARGET_SPACE:
		*end = space_end(h, place, i);
		return *end > i;
	case TB_TARGET_TURNING_CHAIN:
		return i == h->turning_place;
	case TB_TARGET_NAMED:
		return tb_place_is_kind(h, tb_hands_place(h, i), place->named);
	}
	return false;
}

/* The middle one of COUNT stitches of the kind named that stand side by side, at FROM or later. */
static bool find_middle(const tb_hands *h, const tb_place *place, guint32 from, guint32 *begin)
{
	unsigned count = tb_hands_number(h, &place->count, 3), run = 0;
	for (guint32 i = from; i < tb_place_count(h); i++) {
		guint32 end;
		run = matches(h, place, i, &end) ? run + 1 : 0;
		if (count > 0 && run == count) {
			tb_hands_look(h, i - from);
			*begin = i - count / 2;
			return true;
		}
	}
	tb_hands_look(h, tb_place_count(h) - MIN(from, tb_place_count(h)));
	return false;
}

bool tb_place_find_from(
	const tb_hands *h, const tb_place *place, guint32 from, guint32 *begin, guint32 *end)
{
	if (place->middle) {
		bool found = find_middle(h, place, from, begin);
		*end = found ? *begin + 1 : from;
		return found;
	}
	if (place->target == TB_TARGET_TURNING_CHAIN && h->turning_place != TB_NONE &&
		h->turning_place >= from)
		from = h->turning_place;
	guint32 i = from, until = place->target == TB_TARGET_TURNING_CHAIN ? from + 1 : TB_NONE;
	until = MIN(until, tb_place_count(h));
	while (i < until && !matches(h, place, i, end))
		i++;
	tb_hands_look(h, i - from);
	*begin = i;
	return i < until;
}

bool tb_place_find(const tb_hands *h, const tb_place *place, guint32 *begin)
{
	guint32 end;
	return tb_place_find_from(h, place, h->cursor.due, begin, &end);
}

bool tb_place_matches(const tb_hands *h, const tb_place *place, guint32 at)
{
	guint32 end;
	return matches(h, place, at, &end);
}

bool tb_place_is_left(tb_hands *h, const tb_place *place, guint32 limit)
{
	guint32 begin, end;
	return tb_place_find_from(h, place, h->cursor.due, &begin, &end) && end <= limit;
}

bool tb_place_find_back(const tb_hands *h, const tb_place *place, unsigned back, guint32 from,
	guint32 *begin, guint32 *end)
{
	for (guint32 i = from; i-- > h->cursor.due;) {
		tb_hands_look(h, 1);
		if (matches(h, place, i, end) && --back == 0) {
			*begin = i;
			return true;
		}
	}
	return false;
}

bool tb_place_find_last(const tb_hands *h, const tb_place *place, guint32 before, guint32 *begin)
{
	guint32 end;
	unsigned count = tb_hands_number(h, &place->count, 1);
	return count > 0 && tb_place_find_back(h, place, count, before, begin, &end);
}
