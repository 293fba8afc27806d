/* Stitches torn from their place: "sc | in first dc", "sk 1 | dc", "join in first | sc", "to last 2 | sc". */
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

/* "Sk 1 dc" is no skip and a dc behind it, nor "sk next dc, dc in last dc" two in the last one. */
static bool is_its_noun(const tb_act *before, const tb_act *act)
{
	bool group = act->kind == TB_ACT_GROUP && act->body.count > 0 && act->body.acts[0].span.start == act->span.start;
	const tb_act *first = group ? act->body.acts : act;
	/* "in next | 5 ch" */
	bool chains = act->kind == TB_ACT_CHAIN && act->bare;
	/* "sc in next 2 dec": no place is called so */
	if (!chains && (first->kind != TB_ACT_WORK || !first->bare || first->stitch == NULL || first->stitch->takes != 1 || first->stitch->legs != 1))
		return false;
	bool waits = before->kind == TB_ACT_SKIP || before->kind == TB_ACT_JOIN || (before->kind == TB_ACT_REPEAT && before->ends == 0);
	return (waits || (before->kind == TB_ACT_WORK && !before->bare && (group || chains || is_alone(act)))) &&
		act->span.start <= before->span.end + 1 && act->span.start > before->span.start;
}

void tb_build_refuse_torn(GArray *acts)
{
	for (guint i = 1; i < acts->len; i++) {
		const tb_act *before = &g_array_index(acts, tb_act, i - 1);
		tb_act *act = &g_array_index(acts, tb_act, i);
		bool torn = (is_alone(before) || before->kind == TB_ACT_JOIN) && begins_with_place(act) && act->span.start <= before->span.end + 1;
		if (!torn && !is_its_noun(before, act))
			continue;
		act->kind = TB_ACT_CANNOT;
		act->code = "place-missing";
		act->why = "where the stitch before this goes is not said";
		act->hint = "Part them by a comma, as in “sc, in next st 2 dc”.";
	}
}
