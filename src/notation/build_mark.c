/*
 * Markers: which stitch one is put in, "mark this st", and places that are told by one, "to 2 sts before
 * the marked st".
 *
 * A marker makes no stitch. It is a word about the act before it, which the fabric keeps in mind until a
 * row asks for the marked stitch.
 */
#include "notation/build.h"

#include "stitches/stitch.h"

/* What PLACE, "in 11th st", "in last sc", says of the row that is worked; false where it is none of its stitches. */
static bool mark_place(const tb_place *place, tb_act *act)
{
	if (place->ground != NULL || place->of_row > 0 || place->rows_below > 1 || place->marked ||
		(place->target != TB_TARGET_STITCH && place->target != TB_TARGET_NAMED))
		return false;
	bool nth = place->in == TB_IN_NTH_STITCH || place->in == TB_IN_FIRST;
	act->mark_of = place->target == TB_TARGET_NAMED ? place->named : NULL;
	if (nth && place->count.count == 1) {
		act->mark = TB_MARK_NTH;
		act->mark_nth = (unsigned)place->count.values[0];
	} else if (place->in == TB_IN_PART && place->of == NULL) {
		act->mark = TB_MARK_MIDDLE;
	} else if (place->in == TB_IN_SAME || (place->in == TB_IN_LAST && tb_number_is(&place->count, 1))) {
		act->mark = TB_MARK_LAST;
	}
	return act->mark != TB_MARK_NONE;
}

void tb_build_put_mark(const tb_act *said, tb_act *act)
{
	act->mark = said->mark;
	act->mark_nth = said->mark_nth;
	act->mark_of = said->mark_of;
}

void tb_build_mark(tb_builder *b, const tb_value *value, GArray *acts)
{
	const tb_value *marks = tb_value_get(value, TB_SLOT_marks), *v = tb_value_get(marks, TB_SLOT_v);
	const tb_value *n = tb_value_get(marks, TB_SLOT_n);
	tb_act act = tb_build_act_of(b, value, TB_ACT_CLAIM);
	if (marks == NULL)
		return;
	if (marks->type == TB_VALUE_NUMBER) {
		act.mark = TB_MARK_NTH;
		act.mark_nth = tb_build_figure(marks, 1);
	} else if (!tb_value_is(marks, TB_KIND_mark)) {
		tb_place place = {0};
		tb_build_place(b, marks, &place);
		if (!mark_place(&place, &act))
			return;
	} else if (tb_value_is_symbol(v, TB_SYMBOL_last)) {
		act.mark = TB_MARK_LAST;
	} else if (tb_value_is_symbol(v, TB_SYMBOL_center)) {
		act.mark = TB_MARK_MIDDLE;
	} else {
		act.mark = tb_value_is_symbol(v, TB_SYMBOL_among) ? TB_MARK_AMONG : TB_MARK_NTH;
		act.mark_nth = tb_build_figure(n, 1);
	}
	tb_act *last = acts->len > 0 ? &g_array_index(acts, tb_act, acts->len - 1) : NULL;
	if (last != NULL && last->kind != TB_ACT_CLAIM) {
		tb_build_put_mark(&act, last);
		return;
	}
	g_array_append_val(acts, act);
}

void tb_build_up_to_mark(const tb_value *reach, tb_place *end)
{
	end->marked = tb_build_has(reach, TB_SLOT_tomark);
	end->short_of = tb_build_figure(tb_value_get(reach, TB_SLOT_before), 0);
	end->with_it = tb_build_has(reach, TB_SLOT_include);
}
