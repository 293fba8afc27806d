/* Rows that go on with some of the stitches. */
#include "notation/script.h"

/*
 * "Turn; working on these 12 sts only": behind the work it leaves the rest, and those 12 are the row's own
 * count. In front of it, it says what there is to work on. How many, where ACT does not say, is not asked.
 */
void tb_sentence_add_these(const tb_act *act, bool work_behind, GArray *acts, GArray *claims)
{
	bool work_before = false;
	for (guint i = 0; i < acts->len; i++)
		work_before = work_before || tb_act_is_work(&g_array_index(acts, tb_act, i));
	tb_act leave = *act;
	if (work_behind && work_before) {
		leave.kind = TB_ACT_CANNOT;
		leave.code = "not-worked";
		leave.why = "more is worked behind this in the row";
		leave.hint = "Begin a new row with it.";
	} else if (!work_behind) {
		tb_claim claim = {.span = act->span, .count = act->count};
		if (act->count.count > 0)
			g_array_append_val(claims, claim);
		leave.these = false;
		leave.count = (tb_number){0};
	}
	if (!leave.these || leave.count.count > 0)
		g_array_append_val(acts, leave);
}
