/* Places on the chains just made. */
#include "places/place.h"

/* No more stitches than a large shell has go into one chain. */
#define MOST_IN_CHAIN 12u

/* "Ch 6, sl st in 2nd ch from hook, sc in next 4 ch": the slip stitch is the tip of what goes down them. */
static bool goes_down(const tb_hands *h, unsigned nth)
{
	const tb_act *next = h->now.next_acts.count > 0 ? &h->now.next_acts.acts[0] : NULL;
	return nth == 2 && next != NULL && next->kind == TB_ACT_WORK && next->place.target == TB_TARGET_CHAIN &&
		(next->place.in == TB_IN_NEXT || next->place.in == TB_IN_EACH);
}

bool tb_place_take_made(tb_hands *h, const tb_act *act, tb_footing *footing)
{
	const tb_place *place = &act->place;
	guint32 first = tb_hands_row(h, h->row)->first;
	for (guint32 i = h->cloth.made->len; i-- > first;) {
		const tb_made *made = tb_hands_made(h, i);
		tb_hands_look(h, 1);
		if (made->flags & TB_MADE_CHAIN || (place->target == TB_TARGET_NAMED && made->stitch != place->named->number))
			continue;
		if (made->flags & TB_MADE_TURNING || made->base_count == 0 || made->rows_below == 0)
			break;
		*footing = (tb_footing){.bases = {i}, .behind = TB_NONE, .count = 1};
		return true;
	}
	g_autofree char *hint = g_strdup("Name the stitch that this one is worked on, as in “side of tr just made”.");
	tb_hands_give_up(h, "place-missing", place->span, hint, "no such stitch has been made here");
	return false;
}

bool tb_place_take_own_chain(tb_hands *h, const tb_act *act, unsigned nth, tb_footing *footing)
{
	guint32 first = tb_hands_row(h, h->row)->first;
	guint32 last = h->cloth.made->len;
	bool there = nth > 0 && last - first >= nth;
	for (unsigned i = 1; there && i <= nth; i++)
		there = (tb_hands_made(h, last - i)->flags & TB_MADE_CHAIN) != 0;
	if (!there) {
		tb_hands_give_up(h, "place-missing", act->place.span,
			"Chains are counted from the hook, the loop on it not among them.",
			"there are not %u ch in front of the hook here", nth);
		return false;
	}
	footing->bases[0] = last - nth;
	footing->count = 1;
	footing->rows_below = 0;
	if (act->stitch != NULL && (act->stitch != h->working->slip || goes_down(h, nth))) {
		/* what is worked along them stands on them, and they are no stitches of the row */
		guint32 begin = last - nth;
		while (begin > first && (tb_hands_made(h, begin - 1)->flags & TB_MADE_CHAIN) != 0)
			begin--;
		for (guint32 i = begin; i < last; i++)
			tb_hands_made(h, i)->flags &= (guint8)~TB_MADE_COUNTED;
		h->cursor.own_chain = last - nth - 1;
		h->cursor.own_chains = last - nth - begin;
	}
	return true;
}

/* "20 sc along the starting chain" is said of the foundation: a turning chain's top holds a shell at the most. */
bool tb_place_holds_too_many(tb_hands *h, const tb_act *act, unsigned each)
{
	bool many = act->place.target == TB_TARGET_TURNING_CHAIN && each > MOST_IN_CHAIN;
	if (many)
		tb_hands_give_up(h, "not-worked", act->place.span, "Say which chain is meant.",
			"so many stitches do not go into one chain");
	return many;
}
