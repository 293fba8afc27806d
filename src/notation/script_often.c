/*
 * How often rows are worked, and where their numbers stand then. Where a repeat does not say it, "Repeat
 * Rows 3 and 4.", the number of the row behind it does; with none behind it goes on as long as the maker likes.
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

void tb_reader_count_rows(tb_reader *r, const tb_sentence *sentence)
{
	r->after_repeat = sentence->kind == TB_SENTENCE_REPEAT || r->after_repeat;
	if (sentence->last > 0)
		r->last_row = sentence->last;
	else if (sentence->kind == TB_SENTENCE_REPEAT)
		r->last_row = 0;
}

/* What stands behind "Rows 4-9: …, 6 rows in all": a count, or what ends the last of them. */
static bool end_with(tb_reader *r, const tb_value *then)
{
	g_autoptr(GArray) said = g_array_new(FALSE, FALSE, sizeof(tb_act));
	tb_acts more = tb_reader_acts_behind(r, then);
	tb_sentence end = {.kind = TB_SENTENCE_ROWS};
	if (more.count == 0)
		return true;
	g_array_append_vals(said, more.acts, more.count);
	tb_sentence_set_acts(&end, r->b.arena, said);
	if (tb_reader_makes(&end.acts) || (end.acts.count > 0 && !tb_reader_only_ends(&end.acts)))
		return tb_reader_fail(r, "rows-again-more", then->from, then->to, "Write what follows as a row of its own.",
			"more is worked here than these rows");
	tb_reader_add_to_last(r, &end);
	return true;
}

bool tb_reader_go_on(tb_reader *r, const tb_value *row, const tb_sentence *sentence)
{
	const tb_value *then = tb_value_get(row, TB_SLOT_then), *or = tb_value_get(row, TB_SLOT_or);
	const tb_value *said = then != NULL ? then : or, *total = tb_value_get(then, TB_SLOT_until);
	bool is_row = r->sentences->len > 0 && r->sentences->pdata[r->sentences->len - 1] == sentence;
	bool one = sentence->first == sentence->last && sentence->last_in.count == 0;
	if (said == NULL)
		return true;
	/* rows that are numbered go no further */
	unsigned all = tb_value_is(total, TB_KIND_total) ? tb_build_figure(tb_value_get(total, TB_SLOT_n), 0) : 0;
	bool numbered = !one && sentence->last_in.count == 0 &&
		(all == sentence->last || all == sentence->last - sentence->first + 1);
	if (!is_row || (one == (or != NULL) && !numbered))
		return tb_reader_fail(r, "rows-again-times", said->from, said->to, one ? "Say how many rows." :
			"Leave out either the rows' numbers or how far.", "how often this row is worked is not clear");
	if (or != NULL)
		return true;
	if (numbered)
		return end_with(r, then);
	tb_reader_count_rows(r, sentence);
	tb_sentence *again = tb_reader_add_sentence(r, TB_SENTENCE_REPEAT);
	again->sizes = sentence->sizes;
	again->is_round = sentence->is_round;
	return tb_reader_again(r, then, again);
}
