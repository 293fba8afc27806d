/* Up to which place an act goes that says so: "each st to next ch-2 sp", "to the marked st", "to center st". */
#include "places/mark.h"
#include "places/place.h"

/* "each dc and each ch-1 sp to corner": the corner is the first space that is none of those. */
static bool find_up_to(tb_hands *h, const tb_place *place, guint32 *limit)
{
	guint32 due = h->cursor.due;
	if (place->up_to->marked)
		return tb_mark_find_end(h, place->up_to, limit);
	if (place->up_to->in == TB_IN_PART) {
		/* "to center st"; a round has none */
		*limit = h->cursor.first + (tb_place_count(h) - h->cursor.first) / 2;
		return !h->sentence->is_round && *limit >= due;
	}
	if (place->up_to->in == TB_IN_LAST)
		return tb_place_find_last(h, place->up_to, tb_place_count(h), limit);
	guint32 middle = place->up_to->central ? tb_place_find_central(h, place->up_to) : TB_NONE;
	if (middle != TB_NONE) {
		*limit = middle;
		return true;
	}
	bool found = tb_place_find(h, place->up_to, limit);
	while (found && place->also != NULL && tb_place_matches(h, place->also, *limit)) {
		h->cursor.due = *limit + 1;
		found = tb_place_find(h, place->up_to, limit);
	}
	h->cursor.due = due;
	if (!found && tb_place_comes_round(h, place->up_to)) {
		*limit = tb_place_count(h);
		return true;
	}
	return found;
}

bool tb_place_find_up_to(tb_hands *h, const tb_place *place, guint32 *limit)
{
	unsigned short_of = place->up_to->marked ? 0 : place->up_to->short_of;
	if (!find_up_to(h, place, limit) || (short_of > 0 && *limit < h->cursor.due + short_of))
		return false;
	*limit -= short_of;
	return true;
}
