/* What rows that are worked again end with: "… ending with Row 3", "… ending with a WS row". */
#include "notation/script.h"

#include "stitches/stitch.h"
#include "support/limits.h"

bool tb_reader_set_ending(tb_reader *r, tb_sentence *sentence, const tb_value *ending)
{
	const tb_value *row = tb_value_get(ending, TB_SLOT_row), *side = tb_value_get(ending, TB_SLOT_side);
	const tb_value *stitch = tb_value_get(ending, TB_SLOT_stitch);
	if (stitch != NULL)
		sentence->ending_in = tb_build_stitch(&r->b, stitch, NULL);
	if (row != NULL && row->type == TB_VALUE_NUMBER)
		sentence->ending_row = (unsigned)CLAMP(row->figures[0], 0, TB_LIMIT_PIECE_ROWS);
	if (row != NULL && row->count > 1 && sentence->until != TB_REPEAT_TOTAL)
		return tb_reader_fail(r, "not-worked", row->from, row->to, "Say how many rows there are in each size.",
			"rows that end with another row in each size are not worked");
	const tb_value *edge = tb_value_get(ending, TB_SLOT_edge);
	if (edge != NULL)
		sentence->ending_at = tb_build_has(edge, TB_SLOT_of) ? TB_SHAPED_NECK : TB_SHAPED_OUTER;
	if (side == NULL)
		return true;
	bool right = !tb_value_is_symbol(tb_value_get(side, TB_SLOT_v), TB_SYMBOL_ws);
	/* The side that faces for the next row is not that of the last one. */
	if (tb_value_get(ending, TB_SLOT_facing) != NULL)
		right = !right;
	sentence->ending_side = right ? TB_SIDE_RIGHT : TB_SIDE_WRONG;
	return true;
}

bool tb_reader_check_ending(tb_reader *r, const tb_sentence *sentence, const tb_value *until)
{
	unsigned rows = sentence->repeat_last - sentence->repeat_first + 1;
	for (unsigned i = 0; i < MAX(sentence->last_in.count, 1) && sentence->repeat_last > 0; i++) {
		int last = sentence->last_in.count > 0 ? tb_number_in(&sentence->last_in, i) : (int)sentence->last;
		if (last < (int)sentence->first || sentence->ending_row == 0)
			continue;
		unsigned ends = sentence->repeat_first + ((unsigned)last - sentence->first) % rows;
		if (ends != sentence->ending_row)
			return tb_reader_fail(r, "measure-ending", until->from, until->to,
				"Change the rows' numbers, or what they end with.",
				"rows %u to %d end with row %u, and not with row %u", sentence->first, last, ends,
				sentence->ending_row);
	}
	return true;
}

bool tb_reader_ends_beyond(tb_reader *r, tb_sentence *sentence, const tb_value *until)
{
	const tb_value *ending = tb_value_get(until, TB_SLOT_ending), *row = tb_value_get(ending, TB_SLOT_row);
	bool alone = tb_value_get(until, TB_SLOT_size) == NULL && tb_value_get(until, TB_SLOT_same) == NULL &&
		tb_value_get(until, TB_SLOT_counts) == NULL && tb_value_get(until, TB_SLOT_desired) == NULL;
	if (row == NULL || row->type != TB_VALUE_NUMBER || !alone || sentence->first > 0 || sentence->repeat_last == 0 ||
		row->figures[0] <= sentence->repeat_last)
		return false;
	sentence->until = TB_REPEAT_TOTAL;
	sentence->times = tb_build_number(&r->b, row, 1);
	return true;
}

/* "… until 3 sts remain. Sc3tog.": all that are left, drawn together in a row of its own. */
static bool closes_last(const tb_sentence *sentence, const tb_act *act)
{
	return act->kind == TB_ACT_WORK && sentence->until == TB_REPEAT_COUNT && act->stitch != NULL && act->stitch->takes > 1 &&
		tb_number_is(&sentence->times, act->stitch->takes) && tb_number_is(&act->each, 1) && tb_number_is(&act->place.count, 1);
}

bool tb_reader_close_last(tb_reader *r, tb_sentence *sentence, GArray *said, const tb_acts *rest)
{
	if (!closes_last(sentence, &rest->acts[0]))
		return false;
	tb_sentence *row = tb_arena_new(r->b.arena, tb_sentence);
	*row = (tb_sentence){.kind = TB_SENTENCE_ROWS, .span = rest->acts[0].span, .acts = *rest, .sizes = sentence->sizes,
		.is_round = sentence->is_round};
	tb_sentence_set_acts(sentence, r->b.arena, said);
	g_ptr_array_add(r->sentences, sentence);
	g_ptr_array_add(r->sentences, row);
	return true;
}
