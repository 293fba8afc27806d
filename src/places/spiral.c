/*
 * A round that is not joined goes on over its own beginning, as a spiral does.
 *
 * "*Ch 5, skip 1 sc, sc in each sc, 2 sc in next loop; rep from *": where the chain is made before the
 * loop of the round below is reached, the last repeat finds that loop used up, and the next one is the
 * first of the round itself. The next round then begins behind it.
 */
#include "places/place.h"
#include "places/spiral.h"

bool tb_spiral_is_joined(const tb_sentence *sentence)
{
	for (unsigned i = 0; i < sentence->acts.count; i++) {
		if (sentence->acts.acts[i].kind == TB_ACT_JOIN)
			return true;
	}
	return false;
}

/* Behind the chains that the round begins with; where it begins when it does not with a loop. */
static guint32 first_loop_end(const tb_hands *h)
{
	guint32 end = h->now.begun;
	while (end < h->cloth.made->len && (tb_hands_made(h, end)->flags & TB_MADE_CHAIN) &&
		(tb_hands_made(h, end)->flags & TB_MADE_COUNTED) &&
		!(tb_hands_made(h, end)->flags & TB_MADE_TURNING))
		end++;
	return end;
}

bool tb_spiral_reach(tb_hands *h, const tb_act *act)
{
	tb_made_row *row = tb_hands_row(h, h->row);
	guint32 end = first_loop_end(h), count = tb_place_count(h);
	/* a pass that took nothing of the row below is one too many */
	bool asks = act->place.target == TB_TARGET_SPACE && act->place.in == TB_IN_NEXT &&
		h->now.repeating > 0 && h->cursor.due > h->now.pass_due;
	if (!asks || h->now.on_row > 0 || !row->is_round || h->row < 2 || row->over > 0 || h->teller.trials > h->teller.choosing ||
		h->now.travel > 0 || h->now.travelled || row->first != h->now.begun || end == h->now.begun ||
		end == h->cloth.made->len || tb_spiral_is_joined(h->sentence) || row->leftward != (row - 1)->leftward)
		return false;
	/* what stands right before it must not run into it */
	if (count == 0 || tb_hands_made(h, tb_hands_place(h, count - 1))->flags & TB_MADE_CHAIN)
		return false;
	for (guint32 i = h->now.begun; i < end; i++)
		g_array_append_val(h->now.places, i);
	row->over = end - row->first;
	h->cursor.odd++;
	return true;
}
