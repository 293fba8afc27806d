/* Groups at the edge of a row, where the turning chain stands for a stitch of them or over them. */
#include "places/place.h"

/* A star draws so many loops and more out of the foundation. */
#define LEAST_STAR 4

bool tb_place_goes_on_to_end(const tb_hands *h)
{
	for (unsigned i = 0; i < h->now.next_acts.count; i++) {
		const tb_act *act = &h->now.next_acts.acts[i];
		if ((act->kind == TB_ACT_WORK || act->kind == TB_ACT_GROUP) &&
			(act->place.in == TB_IN_LAST || act->place.target == TB_TARGET_TURNING_CHAIN))
			return true;
	}
	return false;
}

guint32 tb_place_turning_space(const tb_hands *h)
{
	guint32 at = h->now.turning_place, i = at;
	if (at == TB_NONE || at + 1 != tb_place_count(h))
		return 0;
	for (unsigned k = 0; k < h->now.next_acts.count; k++) {
		const tb_act *act = &h->now.next_acts.acts[k];
		if (act->kind == TB_ACT_CHAIN)
			continue;
		if ((act->kind != TB_ACT_WORK && act->kind != TB_ACT_GROUP) || !act->place.at_turning)
			return 0;
		while (i > h->cursor.due && tb_hands_made(h, tb_hands_place(h, i - 1))->flags & TB_MADE_CHAIN)
			i--;
		return at - i;
	}
	return 0;
}

const tb_act *tb_place_under_turning(const tb_hands *h, const tb_act *act, tb_act *under)
{
	guint32 at = h->now.turning_place;
	if (!act->place.at_turning || at == TB_NONE || at + 1 != tb_place_count(h) || at < h->cursor.due ||
		(at > 0 && tb_hands_made(h, tb_hands_place(h, at - 1))->flags & TB_MADE_CHAIN))
		return act;
	*under = *act;
	under->place = (tb_place){.in = TB_IN_NEXT, .target = TB_TARGET_TURNING_CHAIN, .rows_below = 1,
		.count = act->place.count, .span = act->place.span};
	return under;
}

bool tb_place_is_edge_group(const tb_hands *h, const tb_own *own, guint32 i, guint32 *end)
{
	guint32 at = h->now.turning_place;
	if (own == NULL || h->sentence->is_round || at == TB_NONE || at + 1 != tb_place_count(h) || i >= at)
		return false;
	const tb_made *turning = tb_hands_made(h, tb_hands_place(h, at));
	*end = at + !tb_place_goes_on_to_end(h);
	at++;
	for (unsigned k = 0; k < own->acts.count; k++) {
		const tb_act *act = &own->acts.acts[k];
		guint64 many = tb_hands_makes(h, act);
		if (many == 0)
			return false;
		for (; many > 0; many--) {
			if (at-- <= i)
				return false;
			const tb_made *made = tb_hands_made(h, tb_hands_place(h, at));
			bool chain = (made->flags & TB_MADE_CHAIN) != 0;
			if (chain != (act->kind == TB_ACT_CHAIN) || (!chain && (made->base != turning->base ||
				!tb_place_is_kind(h, tb_hands_place(h, at), act->stitch))))
				return false;
		}
	}
	return at == i;
}

bool tb_place_is_under_turning(const tb_hands *h, guint32 begin, guint32 i)
{
	if (h->sentence->is_round || begin != h->cursor.first || i != begin + 1)
		return false;
	for (guint32 made = tb_hands_row(h, h->row)->first; made < h->cloth.made->len; made++) {
		if (!(tb_hands_made(h, made)->flags & (TB_MADE_TURNING | TB_MADE_CHAIN)))
			return false;
	}
	return true;
}

guint32 tb_place_last_from(const tb_hands *h, const tb_place *place)
{
	guint32 end = tb_place_near_end(h);
	const tb_act *next = h->now.next_acts.count > 0 ? h->now.next_acts.acts : NULL;
	bool stitch = place->target == TB_TARGET_STITCH || place->target == TB_TARGET_NAMED;
	/* a round is joined to its own at its beginning, and that of the round below is one of the stitches */
	bool joins = h->sentence->is_round && next != NULL && next->stitch == h->working->slip;
	if (!stitch || joins || next == NULL || next->kind != TB_ACT_WORK || h->now.turning_place == TB_NONE ||
		h->now.turning_place < h->cursor.due ||
		next->place.target != TB_TARGET_TURNING_CHAIN)
		return end;
	return MIN(end, h->now.turning_place);
}

bool tb_place_is_beside_star(const tb_hands *h, guint32 index)
{
	const tb_acts *acts = &h->sentence->acts;
	unsigned end = acts->count;
	while (end > 0 && !tb_act_is_work(&acts->acts[end - 1]))
		end--;
	return h->row == 2 && end > 0 && acts->acts[end - 1].place.target == TB_TARGET_TURNING_CHAIN &&
		index + 1 < h->cloth.made->len && tb_hands_made(h, index)->flags & TB_MADE_TURNING &&
		tb_hands_made(h, index + 1)->base_count >= LEAST_STAR;
}
