/* Finding the next places of a kind among the tops of the row below, the last of them, or the middle one. */
#include "places/place.h"

/* The loop that was worked into last may have a half behind its picot that was not: its beginning. */
static guint32 begin_behind_picot(const tb_hands *h)
{
	guint32 i = h->cursor.due;
	while (h->cursor.in_space && i > h->cursor.first && tb_place_is_chain(h, i - 1) && !tb_place_is_behind_picot(h, i))
		i--;
	return i > h->cursor.first && tb_place_is_chain(h, i - 1) && tb_place_is_behind_picot(h, i) ? i : h->cursor.due;
}

bool tb_place_find_from(
	const tb_hands *h, const tb_place *place, guint32 from, guint32 *begin, guint32 *end)
{
	if (place->middle || place->centered) {
		bool found = tb_place_find_middle(h, place, from, begin);
		*end = found ? *begin + 1 : from;
		return found;
	}
	if (place->target == TB_TARGET_TURNING_CHAIN && h->now.turning_place != TB_NONE &&
		h->now.turning_place >= from)
		from = h->now.turning_place;
	if (place->beside == TB_BESIDE_BEHIND && from == h->cursor.due)
		from = begin_behind_picot(h);
	if (tb_place_is_within(h, place))
		return tb_place_find_within(h, place, from, begin, end);
	guint32 i = from, until = place->target == TB_TARGET_TURNING_CHAIN ? from + 1 : TB_NONE;
	until = MIN(until, tb_place_count(h));
	while (i < until && h->working->steps <= h->working->most_steps && !tb_place_matches_to(h, place, i, end)) {
		tb_hands_look(h, 1);
		i++;
	}
	*begin = i;
	return i < until && h->working->steps <= h->working->most_steps;
}

bool tb_place_find_inner_edge(const tb_hands *h, const tb_place *place, guint32 *begin)
{
	guint32 from = h->cursor.due, end = from, count = tb_place_count(h);
	while (end < count && tb_place_is_chain(h, end))
		end++;
	if (h->sentence->is_round || h->now.turning_place != TB_NONE || place->space_chains == 0 ||
		end - from < place->space_chains || end >= count ||
		tb_hands_stitch(h, tb_hands_made(h, tb_hands_place(h, end))) != h->working->slip)
		return false;
	*begin = end - place->space_chains;
	return true;
}

bool tb_place_find(const tb_hands *h, const tb_place *place, guint32 *begin)
{
	guint32 end;
	return tb_place_find_from(h, place, h->cursor.due, begin, &end);
}

guint32 tb_place_find_central(const tb_hands *h, const tb_place *place)
{
	guint32 end, count = tb_place_count(h), at = h->cursor.first + (count - h->cursor.first) / 2;
	if (h->sentence->is_round || at >= count)
		return TB_NONE;
	while (at > h->cursor.first && tb_place_is_chain(h, at) && tb_place_is_chain(h, at - 1))
		at--;
	return at >= h->cursor.due && tb_place_matches_to(h, place, at, &end) ? at : TB_NONE;
}

void tb_place_pass_left_out(tb_hands *h, const tb_place *place, guint32 limit)
{
	guint32 end = h->cursor.due, next = end + 1;
	while (place->but != NULL && end < limit && tb_place_is_left_out(h, place->but, end, &next)) {
		end = next;
		next = end + 1;
	}
	if (end == limit)
		h->cursor.due = MAX(h->cursor.due, end);
}

bool tb_place_is_left(const tb_hands *h, const tb_place *place, guint32 limit)
{
	guint32 begin, end;
	if (tb_place_is_picot(place))
		return tb_place_find_picot(h, place, &begin) != TB_NONE && begin <= limit;
	return tb_place_find_from(h, place, h->cursor.due, &begin, &end) && end <= limit;
}

bool tb_place_find_back(const tb_hands *h, const tb_place *place, unsigned back, guint32 from,
	guint32 *begin, guint32 *end)
{
	for (guint32 i = from; i-- > h->cursor.due;) {
		tb_hands_look(h, 1);
		if (tb_place_matches_to(h, place, i, end) && --back == 0) {
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
