/* What stands together in one place of the row below, and on what it stands. */
#include "places/place.h"

/* Half a shell at a row's edge has the turning chain for its outermost stitch. */
static bool is_edge_of(const tb_hands *h, guint32 place, guint32 neighbour)
{
	if (place >= tb_place_count(h) || place != h->now.turning_place)
		return false;
	const tb_made *turning = tb_hands_made(h, tb_hands_place(h, place));
	const tb_made *made = tb_hands_made(h, tb_hands_place(h, neighbour));
	return turning->base_count == 1 && made->base_count == 1 && turning->base == made->base;
}

bool tb_place_group(const tb_hands *h, guint32 at, guint32 *begin, guint32 *end)
{
	guint16 group = tb_hands_made(h, tb_hands_place(h, at))->group;
	if (group == 0)
		return false;
	*begin = at;
	*end = at + 1;
	while (*begin > 0 && tb_hands_made(h, tb_hands_place(h, *begin - 1))->group == group)
		(*begin)--;
	while (*end < tb_place_count(h) && tb_hands_made(h, tb_hands_place(h, *end))->group == group)
		(*end)++;
	*end += is_edge_of(h, *end, *end - 1);
	return true;
}

guint32 tb_place_foot(const tb_hands *h, guint32 at)
{
	const tb_made *made = tb_hands_made(h, at);
	if (made->flags & TB_MADE_TURNING && at + 1 < h->cloth.made->len)
		made = tb_hands_made(h, at + 1);
	if (made->flags & TB_MADE_CHAIN || made->base_count == 0)
		return TB_NONE;
	return made->base_count == 1 ? made->base : g_array_index(h->cloth.bases, guint32, made->base);
}
