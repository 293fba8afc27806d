/*
 * Parts of a garment's row, fronts, back and sleeves: each ends at one of the row's longest spaces, those of a
 * raglan's corners, or at the row's end.
 */
#include "places/place.h"

/* Where the run of chains ends that begins at place AT; AT where none does. */
static guint32 end_of_chains(const tb_hands *h, guint32 at)
{
	while (at < tb_place_count(h) && (tb_hands_made(h, tb_hands_place(h, at))->flags & TB_MADE_CHAIN) != 0)
		at++;
	return at;
}

bool tb_place_section_end(const tb_hands *h, guint32 from, guint32 *begin, guint32 *end)
{
	guint32 count = tb_place_count(h), longest = 0;
	tb_hands_look(h, count);
	for (guint32 at = 0; at < count; at++) {
		guint32 stop = end_of_chains(h, at);
		longest = MAX(longest, stop - at);
		at = MAX(stop, at);
	}
	for (guint32 at = from; at < count && longest > 0; at++) {
		guint32 stop = end_of_chains(h, at);
		if (stop - at == longest) {
			*begin = at;
			*end = stop;
			return true;
		}
		at = MAX(stop, at);
	}
	return false;
}
