/* Stitches that stand in place of a turning chain: "chainless starting dc", "sc, ch 1 (counts as dc)". */
#include "notation/build.h"

#include "stitches/stitch.h"

/* What COUNTING says that one stitch is; NULL where it says another thing. */
static const tb_stitch *find_counted(tb_builder *b, const tb_value *counting)
{
	const tb_value *as = tb_value_get(counting, TB_SLOT_as);
	if (!tb_value_is(as, TB_KIND_stitch) || tb_build_has(as, TB_SLOT_plus) ||
		tb_build_one_number(tb_value_get(as, TB_SLOT_times), 1) != 1)
		return NULL;
	return tb_build_stitch(b, as, NULL);
}

/* "Chainless starting dc (counts as first dc)" is what it is; any stitch is "a st". */
bool tb_build_counts_itself(tb_builder *b, const tb_value *value, tb_act *act)
{
	const tb_value *counting = tb_value_get(value, TB_SLOT_counts);
	if (counting == NULL)
		return true;
	const tb_value *stitch = tb_value_get(value, TB_SLOT_stitch);
	const tb_stitch *worked = tb_build_stitch(b, stitch, NULL), *counted = find_counted(b, counting);
	if (act->place.in == TB_IN_NTH_CHAIN) {
		/* "dc in 4th ch from hook (counts as 2 dc)": the chains before it are the other */
		const tb_value *as = tb_value_get(counting, TB_SLOT_as);
		int times = tb_build_one_number(tb_value_get(as, TB_SLOT_times), 1);
		act->counts = TB_COUNTS;
		if (times > 1 && (tb_build_stitch(b, as, NULL) != worked || times - 1 != tb_build_one_number(tb_value_get(value, TB_SLOT_each), 1)))
			return false;
		return !tb_build_has(as, TB_SLOT_plus) && !tb_build_has(as, TB_SLOT_left);
	}
	if (worked == NULL || act->place.in == TB_IN_EACH)
		return false;
	return counted == worked ||
		(counted == NULL && tb_value_is(tb_value_get(counting, TB_SLOT_as), TB_KIND_st));
}

/*
 * "Sc in first st, ch 1 (counts as dc)": the chain stands on the stitch, and both are one that is as
 * tall as they. A chain that is as tall as what it counts as stands beside the stitch instead.
 */
void tb_build_stacked(tb_builder *b, const tb_value *value, GArray *acts)
{
	tb_act act = tb_build_act_of(b, value, TB_ACT_WORK);
	const tb_stitch *foot = tb_build_stitch(b, tb_value_get(value, TB_SLOT_stitch), NULL);
	const tb_value *place = tb_value_get(value, TB_SLOT_place), *counts = tb_value_get(value, TB_SLOT_counts);
	int chains = tb_build_one_number(tb_value_get(value, TB_SLOT_n), 0);
	act.stitch = find_counted(b, counts);
	act.foot = foot;
	act.each = (tb_number){1, tb_number_one, act.span};
	if (place != NULL)
		tb_build_place(b, place, &act.place);
	else
		act.place = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .count = act.each, .span = act.span};
	if (act.stitch == NULL || foot == NULL || foot->height > 1.5 ||
		tb_value_is_symbol(tb_value_get(counts, TB_SLOT_v), TB_SYMBOL_not) || act.place.in == TB_IN_EACH ||
		!tb_number_is(&act.place.count, 1) || act.stitch->height <= chains || act.stitch->height > chains + 2.5) {
		tb_build_add_cannot(b, value, acts, "the chain stands beside this stitch, and not on it");
		return;
	}
	g_array_append_val(acts, act);
}
