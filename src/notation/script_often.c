/*
 * Repeats that do not say how often, "Repeat Rows 3 and 4.": the number of the row behind them tells it; with
 * none behind them they go on as long as the maker likes.
 */
#include "notation/script.h"

void tb_reader_leave_often(tb_reader *r, tb_sentence *sentence)
{
	sentence->until = TB_REPEAT_PATTERN;
	sentence->often_open = true;
	r->often_unsaid = sentence;
	r->often_row = r->last_row;
}

bool tb_reader_settle_often(tb_reader *r, const tb_sentence *next)
{
	tb_sentence *again = r->often_unsaid;
	r->often_unsaid = NULL;
	if (again == NULL)
		return true;
	/* what has no number may come at any time; a part of its own is numbered from 1 again */
	if (next->first <= 1) {
		again->often_unsaid = true;
		return true;
	}
	again->often_open = false;
	unsigned rows = again->repeat_last - again->repeat_first + 1, from = r->often_row;
	unsigned many = next->first > from + 1 ? next->first - from - 1 : 0;
	if (from == 0 || again->repeat_last == 0 || many == 0 || many % rows != 0)
		return tb_reader_fail(r, "rows-again-times", 0, 1,
			"As in \"Rep Rows 3-6 4 times\".", "how often the rows before this are worked again is not said");
	again->until = TB_REPEAT_OVER;
	again->first = from + 1;
	again->last = next->first - 1;
	return true;
}
