/* The order in which the places come to the hook. */
#include "places/place.h"

guint32 tb_place_bring(tb_hands *h, guint32 from, tb_place_is_brought is_brought, const void *data)
{
	guint32 count = tb_place_count(h), brought = 0;
	g_autoptr(GArray) sorted = g_array_new(FALSE, FALSE, sizeof(guint32));
	for (unsigned pass = 0; pass < 2; pass++) {
		for (guint32 i = from; i < count; i++) {
			guint32 place = tb_hands_place(h, i);
			if (is_brought(h, i, data) == (pass == 0))
				g_array_append_val(sorted, place);
		}
		brought = pass == 0 ? sorted->len : brought;
	}
	g_array_set_size(h->now.places, from);
	if (sorted->len > 0)
		g_array_append_vals(h->now.places, sorted->data, sorted->len);
	tb_hands_look(h, 2 * (guint64)(count - from));
	h->now.turning_place = TB_NONE;
	for (guint32 i = 0; i < count; i++) {
		if (tb_hands_made(h, tb_hands_place(h, i))->flags & TB_MADE_TURNING)
			h->now.turning_place = i;
	}
	return brought;
}

void tb_place_rotate(tb_hands *h, guint32 first)
{
	guint32 count = tb_place_count(h);
	g_autofree guint32 *before = g_memdup2(h->now.places->data, first * sizeof(guint32));
	g_array_remove_range(h->now.places, 0, first);
	if (first > 0)
		g_array_append_vals(h->now.places, before, first);
	if (h->now.turning_place != TB_NONE)
		h->now.turning_place = (h->now.turning_place + count - first) % count;
	h->cursor.due -= MIN(first, h->cursor.due);
}
