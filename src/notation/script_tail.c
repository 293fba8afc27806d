/* How the last of rows that are repeated is turned: "ending last row with ch 1", "omitting the ch 1 at end of Row 8". */
#include "notation/script.h"

bool tb_reader_set_tail(tb_reader *r, tb_sentence *sentence, const tb_value *tail)
{
	const tb_value *n = tb_value_get(tail, TB_SLOT_n), *row = tb_value_get(tail, TB_SLOT_row);
	g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
	if (tail == NULL)
		return true;
	if (row != NULL && sentence->last > 0 && tb_build_one_number(row, 0) != (int)sentence->last)
		return tb_reader_fail(r, "rows-again-other", row->from, row->to, "Say it of the last of these rows.",
			"this is not the last of the rows that are repeated, which is row %u", sentence->last);
	tb_act chain = {.kind = TB_ACT_CHAIN, .span = tb_build_span(&r->b, tail->from, tail->to)};
	chain.count = tb_build_number(&r->b, n, 1);
	if (n != NULL && chain.count.values[0] > TB_MOST_TURNING) {
		/* the next row is worked on them */
		g_array_append_val(r->before, chain);
		return true;
	}
	if (n != NULL)
		g_array_append_val(acts, chain);
	sentence->turns_otherwise = true;
	sentence->tail = tb_acts_keep(r->b.arena, acts);
	return true;
}
