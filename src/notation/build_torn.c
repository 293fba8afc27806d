/* "sc in first dc" torn in two: a stitch by itself, and behind it "in first" another. */
#include "notation/build.h"

/* As many bytes as "into " has: behind them a place begins where a stitch would stand in front. */
#define IN_FRONT 6u

static bool is_alone(const tb_act *act)
{
	return act->kind == TB_ACT_WORK && act->bare && tb_number_is(&act->place.count, 1) && tb_number_is(&act->each, 1);
}

static bool begins_with_place(const tb_act *act)
{
	return act->kind == TB_ACT_WORK && !act->bare && act->place.span.start > act->span.start &&
		act->place.span.start - act->span.start < IN_FRONT;
}

void tb_build_refuse_torn(GArray *acts)
{
	for (guint i = 1; i < acts->len; i++) {
		const tb_act *before = &g_array_index(acts, tb_act, i - 1);
		tb_act *act = &g_array_index(acts, tb_act, i);
		if (!is_alone(before) || !begins_with_place(act) || act->span.start > before->span.end + 1)
			continue;
		act->kind = TB_ACT_CANNOT;
		act->code = "place-missing";
		act->why = "where the stitch before this goes is not said";
		act->hint = "Part them by a comma, as in “sc, in next st 2 dc”.";
	}
}
