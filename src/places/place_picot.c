/*
 * Into a picot. It is an ornament and no stitch of its row, so it is none of the places; it hangs
 * between two of them, where the hook finds it on its way.
 */
#include "places/place.h"

/* A loop of more chains is no picot. */
#define MOST_CHAINS 6u

bool tb_place_is_picot(const tb_place *place)
{
	return place->target == TB_TARGET_NAMED && place->rows_below < 2 && place->named->takes == 0 &&
		   place->named->form == TB_FORM_RING;
}

/* "picot" is any of them; "ch-4 picot" is one of so many chains. */
static bool is_meant(const tb_hands *h, const tb_place *place, const tb_made *made)
{
	const tb_stitch *stitch = tb_hands_stitch(h, made);
	if (made->flags & (TB_MADE_COUNTED | TB_MADE_CHAIN) || stitch->takes != 0 ||
		stitch->form != TB_FORM_RING)
		return false;
	return place->named->number == made->stitch ||
		place->named == tb_library_find(h->working->pattern->library, "picot");
}

/* The picots that hang between the place before I and that at I, in the order of the hook. */
static guint32 find_between(const tb_hands *h, const tb_place *place, guint32 i)
{
	const tb_made_row *row = tb_hands_row(h, h->row), *below = row - 1;
	gint64 step = row->leftward == below->leftward ? 1 : -1;
	gint64 first = below->first, end = (gint64)below->first + below->count;
	gint64 at = i > 0 ? (gint64)tb_hands_place(h, i - 1) + step : step > 0 ? first : end - 1;
	guint32 found = TB_NONE;
	for (; at >= first && at < end; at += step) {
		const tb_made *made = tb_hands_made(h, (guint32)at);
		if (made->flags & TB_MADE_COUNTED)
			break;
		if (at + 1 == h->cursor.picot)
			found = TB_NONE; /* what hangs before it has been passed */
		else if (found == TB_NONE && is_meant(h, place, made))
			found = (guint32)at;
	}
	return found;
}

/*
 * "4 sc, ch 3, 4 sc in same loop": many books call such a small loop a picot, though nothing closes it.
 * It stands between two stitches of one place; its end, or I where none begins there.
 */
guint32 tb_place_picot_end(const tb_hands *h, const tb_place *place, guint32 i)
{
	guint32 end = i, count = tb_place_count(h);
	while (end < count && tb_hands_made(h, tb_hands_place(h, end))->flags & TB_MADE_CHAIN)
		end++;
	unsigned chains = end - i;
	unsigned asked = place->named == tb_library_find(h->working->pattern->library, "picot") ? chains :
		place->named->chains;
	if (i == 0 || chains < 2 || chains > MOST_CHAINS || chains != asked || end >= count)
		return i;
	const tb_made *before = tb_hands_made(h, tb_hands_place(h, i - 1));
	const tb_made *behind = tb_hands_made(h, tb_hands_place(h, end));
	bool one_place = before->base_count == 1 && behind->base_count == 1 &&
		!(before->flags & TB_MADE_CHAIN) && tb_hands_base(h, before, 0) == tb_hands_base(h, behind, 0);
	return one_place ? end : i;
}

guint32 tb_place_find_picot(const tb_hands *h, const tb_place *place, guint32 *due)
{
	for (guint32 i = h->cursor.due; i <= tb_place_count(h); i++) {
		guint32 found = find_between(h, place, i);
		tb_hands_look(h, 1);
		if (found != TB_NONE) {
			*due = i;
			return found;
		}
	}
	for (guint32 i = h->cursor.due; i < tb_place_count(h); i++) {
		tb_hands_look(h, 1);
		if (tb_place_picot_end(h, place, i) > i) {
			*due = i;
			return tb_hands_place(h, i);
		}
	}
	return TB_NONE;
}

void tb_place_skip_picots(tb_hands *h, const tb_place *place)
{
	for (unsigned i = tb_hands_number(h, &place->count, 1); i > 0; i--) {
		guint32 due, found = tb_place_find_picot(h, place, &due);
		if (found == TB_NONE)
			return;
		h->cursor.due = due < tb_place_count(h) ? tb_place_picot_end(h, place, due) : due;
		h->cursor.picot = found + 1;
	}
}

/* Whether a picot stands between the place before I and that at I. */
bool tb_place_is_behind_picot(const tb_hands *h, guint32 i)
{
	if (i == 0 || i >= tb_place_count(h))
		return false;
	guint32 from = MIN(tb_hands_place(h, i - 1), tb_hands_place(h, i));
	guint32 to = MAX(tb_hands_place(h, i - 1), tb_hands_place(h, i));
	for (guint32 between = from + 1; between < to; between++) {
		if (!(tb_hands_made(h, between)->flags & TB_MADE_COUNTED))
			return true;
	}
	return false;
}
