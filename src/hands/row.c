/* A row of the cloth: begun, and counted up when it is done. */
#include "hands/row.h"

bool tb_row_add(tb_hands *h, guint32 number, tb_side side, bool leftward)
{
	if (h->cloth.rows->len > TB_LIMIT_PIECE_ROWS) {
		h->row = h->cloth.rows->len - 1;
		tb_hands_give_up(h, "limit-rows", h->sentence->span, "Check the numbers of the repeats.",
			"a piece may have %u rows", TB_LIMIT_PIECE_ROWS);
		h->working->stopped = true;
		return false;
	}
	if (!tb_hands_has_memory(h, h->sentence != NULL ? h->sentence->span : (tb_span){0, 0}))
		return false;
	tb_made_row row = {
		.first = h->cloth.made->len,
		.number = number,
		.written = number,
		.side = side,
		.leftward = leftward,
		.part = h->labels.part,
		.unsure = h->labels.unsure,
		.before = h->labels.before,
		.sentence = h->sentence,
		.is_round = h->sentence != NULL && h->sentence->is_round,
	};
	h->row = h->cloth.rows->len;
	tb_hands_forget_marks(h);
	g_array_append_val(h->cloth.rows, row);
	return true;
}

void tb_row_close(tb_hands *h)
{
	tb_made_row *row = tb_hands_row(h, h->row);
	row->count = h->cloth.made->len - row->first;
	row->stitches = 0;
	for (guint32 i = row->first; i < h->cloth.made->len; i++) {
		const tb_made *made = tb_hands_made(h, i);
		const tb_stitch *stitch = tb_hands_stitch(h, made);
		row->stitches += (made->flags & TB_MADE_COUNTED) != 0;
		if (!(made->flags & (TB_MADE_TURNING | TB_MADE_CHAIN)))
			row->height = MAX(row->height, stitch->height);
	}
	/* a row of chains alone is as high as a chain is wide */
	if (row->height <= 0 && row->count > 0 && h->row > 0 && h->now.first_work == NULL)
		row->height = 1;
	/* nobody knows how tall it is */
	if (row->taken)
		row->height = h->row > 1 ? (row - 1)->height : 1;
	tb_stitches made = tb_hands_stitches(h);
	row->stands = tb_rule_stands_on(&made, h->row);
	row->top = h->row > 0 ? tb_hands_row(h, row->stands)->top + row->height : 0;
	h->cloth.height = MAX(h->cloth.height, row->top);
}

guint32 tb_row_said(const tb_hands *h, const tb_sentence *sentence)
{
	guint32 first = sentence->first;
	if (sentence->last_in.count == 0)
		return MAX(sentence->last, first) - first + 1;
	first = tb_hands_number(h, &sentence->first_in, first);
	guint32 end = tb_hands_number(h, &sentence->last_in, sentence->last);
	return end < first ? 0 : end - first + 1;
}
