/*
 * "Flatten it and sc through both layers": a round lies folded on itself, and each stitch is worked through
 * one of its front and one of its back. The last half of it goes to the first, stitch for stitch.
 */
#include "acts/fold.h"
#include "places/place.h"

/* Whether what is worked, or what is claimed, is half as many stitches as there are. */
static bool is_half(const tb_hands *h, guint32 half)
{
	const tb_sentence *s = h->sentence;
	for (unsigned i = 0; i < s->claim_count; i++) {
		if (!s->claims[i].other && s->claims[i].count.count > 0)
			return tb_hands_number(h, &s->claims[i].count, 0) == half;
	}
	for (unsigned i = 0; i < h->now.next_acts.count; i++) {
		const tb_act *act = &h->now.next_acts.acts[i];
		if (act->kind == TB_ACT_WORK)
			return act->place.in == TB_IN_NEXT && tb_hands_number(h, &act->place.count, 1) == half;
	}
	return false;
}

/* Whether as many are claimed as there are: two pieces lie on each other, and none is folded. */
static bool is_whole(const tb_hands *h, guint32 count)
{
	const tb_sentence *s = h->sentence;
	for (unsigned i = 0; i < s->claim_count; i++) {
		if (!s->claims[i].other && s->claims[i].count.count > 0 &&
			tb_hands_number(h, &s->claims[i].count, 0) == count)
			return true;
	}
	return false;
}

void tb_fold(tb_hands *h, const tb_act *act)
{
	guint32 count = tb_place_count(h);
	if (is_whole(h, count))
		return;
	/* a round lies flat, and a row is folded at its middle */
	bool begins = h->row > 1 && h->cursor.due == h->cursor.first;
	bool tube = begins && tb_hands_row(h, h->row - 1)->is_round;
	bool halves = begins && !tube && is_half(h, count / 2);
	/* of an odd number one lies at the fold, and is worked alone or left: which, the count tells */
	guint32 half = count / 2 + (count % 2 != 0 && is_half(h, count / 2 + 1));
	bool odd = tube && count % 2 != 0 && is_half(h, half);
	/* two pieces may as well lie on each other, and be worked together all around */
	if (act->bare && ((!tube && !halves) || !is_half(h, half)))
		return;
	if ((!tube && !halves) || count < 2 || (count % 2 != 0 && !odd)) {
		tb_hands_give_up(h, "not-worked", act->span, "Fold it so that stitch lies on stitch.",
			tube ? "%u stitches do not lie on each other two by two" :
				"this is no round of %u stitches that is folded at its end", count);
		return;
	}
	g_array_set_size(h->now.places, half);
}
