/*
 * "Rnd 3: Ch 1, turn, …": a round that is turned before anything is worked.
 *
 * "Turn, *sc in next dc, dc in next sc; rep from * around" on a round of sc and dc in turn, joined in its
 * first sc: turned, the hook stands over that sc, the dc is the next, and the sc comes last of all.
 */
#include "acts/travel.h"
#include "places/place.h"

bool tb_travel_begins_turned(const tb_sentence *sentence)
{
	const tb_acts *acts = &sentence->acts;
	bool turned = false;
	unsigned i = 0;
	for (; i < acts->count && !tb_act_is_work(&acts->acts[i]); i++)
		turned = turned || acts->acts[i].kind == TB_ACT_TURN;
	/* "turn" alone ends the round before */
	return turned && i < acts->count && sentence->is_round;
}

/* Whether the round begins with no chain that stands in the first place. */
static bool begins_low(const tb_hands *h)
{
	const tb_acts *acts = &h->sentence->acts;
	for (unsigned i = 0; i < acts->count && !tb_act_is_work(&acts->acts[i]); i++) {
		const tb_act *act = &acts->acts[i];
		if (act->kind == TB_ACT_CHAIN && (act->counts == TB_COUNTS || tb_hands_number(h, &act->count, 1) > 1))
			return false;
	}
	return true;
}

bool tb_travel_is_turned_round(const tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	return h->row > 1 && h->sentence->is_round && (row - 1)->is_round && row->leftward != (row - 1)->leftward &&
		h->now.on_row == 0 && tb_place_was_joined(h);
}

void tb_travel_begin_beside_join(tb_hands *h)
{
	const tb_place *first = h->now.first_place;
	bool turned = tb_travel_is_turned_round(h) && tb_place_count(h) > 1 && h->now.travel == 0 && !h->now.travelled && h->cursor.due == 0;
	if (!turned || first == NULL || (first->in != TB_IN_NEXT && first->in != TB_IN_FIRST) || first->target != TB_TARGET_NAMED ||
		!begins_low(h))
		return;
	guint8 chain = TB_MADE_CHAIN | TB_MADE_TURNING;
	if (!(tb_hands_made(h, tb_hands_place(h, 0))->flags & chain) && !tb_place_matches(h, first, 0) &&
		tb_place_matches(h, first, 1))
		tb_place_rotate(h, 1);
}
