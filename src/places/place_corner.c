/*
 * Corners, as the row below shows them: the space between two halves that were worked in one place, or,
 * where there are no spaces, the middle of an odd number of stitches in one place.
 */
#include "places/place.h"

static const tb_made *made_at(const tb_hands *h, guint32 place)
{
	return tb_hands_made(h, tb_hands_place(h, place));
}

/* Whether the space from BEGIN to END parts what was worked in one place. */
static bool parts_one_place(const tb_hands *h, guint32 begin, guint32 end)
{
	guint32 count = tb_place_count(h);
	if ((begin == 0 || end == count) && !h->sentence->is_round)
		return false;
	const tb_made *before = made_at(h, begin > 0 ? begin - 1 : count - 1);
	const tb_made *behind = made_at(h, end < count ? end : 0);
	/* the chain that a round in a ring began with stands on nothing */
	if (behind->flags & TB_MADE_TURNING && behind->base_count == 0)
		return true;
	/* in a ring of yarn, and along an edge, nothing is shown to stand on anything; the top's stitches stand on theirs */
	if (before->base_count == 0 || behind->base_count == 0)
		return true;
	return before->base_count == 1 && behind->base_count == 1 && before->base == behind->base;
}

typedef struct {
	guint32 longest, longest_corner, shortest_corner; /* of all spaces, of those that part one place */
	guint32 spaces;
} spaces_seen;

static spaces_seen look_at_spaces(const tb_hands *h)
{
	spaces_seen seen = {0};
	guint32 count = tb_place_count(h);
	tb_hands_look(h, count);
	for (guint32 i = 0, end; i < count; i = end) {
		end = i + 1;
		if (!tb_place_is_chain(h, i))
			continue;
		while (end < count && tb_place_is_chain(h, end))
			end++;
		seen.spaces++;
		seen.longest = MAX(seen.longest, end - i);
		if (!parts_one_place(h, i, end))
			continue;
		seen.longest_corner = MAX(seen.longest_corner, end - i);
		seen.shortest_corner = seen.shortest_corner > 0 ? MIN(seen.shortest_corner, end - i) : end - i;
	}
	return seen;
}

bool tb_place_turns_corner(const tb_hands *h, guint32 begin, guint32 end)
{
	if (h->row == 1 && !h->start.grown)
		return false;
	spaces_seen seen = look_at_spaces(h);
	if (seen.spaces > 0) {
		/* where it is not to be told by how they are worked, any space may be one */
		bool told = seen.longest_corner == seen.longest && seen.shortest_corner == seen.longest;
		return tb_place_is_chain(h, begin) && (!told || parts_one_place(h, begin, end));
	}
	/* a corner of 3 in one stitch has one on each side of its middle */
	guint32 first, last;
	return tb_place_group(h, begin, &first, &last) && last - first >= 3 &&
		(last - first) % 2 == 1 && begin == first + (last - first) / 2;
}

bool tb_place_is_amid(const tb_hands *h, const tb_place *place, guint32 i)
{
	guint32 half = place->amid / 2, count = tb_place_count(h), first, last;
	/* "the center st of each 5": of those that were worked in one place */
	if (place->named == NULL)
		return place->amid % 2 == 1 && tb_place_group(h, i, &first, &last) && last - first == place->amid &&
			i == first + half;
	if (place->amid % 2 == 0)
		return false;
	if (place->amid == 1)
		return tb_place_is_kind(h, tb_hands_place(h, i), place->named) && tb_place_group(h, i, &first, &last) &&
			last - first >= 3 && (last - first) % 2 == 1 && i == first + (last - first) / 2;
	if (i < half || i + half >= count || !tb_place_is_kind(h, tb_hands_place(h, i), place->named))
		return false;
	tb_hands_look(h, place->amid);
	if (tb_place_group(h, i, &first, &last))
		return first == i - half && last == i + half + 1;
	for (guint32 k = i - half; k <= i + half; k++) {
		if (!tb_place_is_kind(h, tb_hands_place(h, k), place->named))
			return false;
	}
	return (i == half || !tb_place_is_kind(h, tb_hands_place(h, i - half - 1), place->named)) &&
		(i + half + 1 == count || !tb_place_is_kind(h, tb_hands_place(h, i + half + 1), place->named));
}
