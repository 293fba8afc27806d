/*
 * Which side of a flat piece its first row shows, where only a later row says so.
 *
 * "Row 1: …", "Row 2 (RS): Ch 3, turn, …": the work is turned between them, so the first row is a wrong side
 * row. Where nothing is said, the first row is the right side.
 */
#include "notation/script.h"

/* Whether the work may not have been turned before the row, or yarn begins it where it will. */
static bool is_unsure(const tb_sentence *row)
{
	const tb_acts *acts = &row->acts;
	for (unsigned i = 0; i < acts->count; i++) {
		tb_act_kind kind = acts->acts[i].kind;
		if (kind == TB_ACT_JOIN_YARN || kind == TB_ACT_FASTEN_OFF || kind == TB_ACT_DO_NOT_TURN || kind == TB_ACT_JOIN ||
			kind == TB_ACT_RING)
			return true;
	}
	return row->is_round || row->not_turned || row->part != NULL || row->left_out || row->first_in.count > 0;
}

void tb_reader_find_first_side(const GPtrArray *sentences)
{
	tb_sentence *first = NULL;
	unsigned number = 0;
	for (guint i = 0; i < sentences->len; i++) {
		tb_sentence *row = sentences->pdata[i];
		if (row->kind == TB_SENTENCE_START)
			continue;
		if (row->kind != TB_SENTENCE_ROWS || row->first != number + 1 || row->last != row->first || is_unsure(row))
			return;
		number = row->first;
		if (first == NULL)
			first = row;
		if (row->side == TB_SIDE_UNSAID)
			continue;
		if (row != first && number % 2 == 0)
			first->side = row->side == TB_SIDE_RIGHT ? TB_SIDE_WRONG : TB_SIDE_RIGHT;
		return;
	}
}
