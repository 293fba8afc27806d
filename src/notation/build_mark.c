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

/* ACT, and what SAID marks behind it. */
static void lay_both(tb_arena *arena, const tb_act *said, tb_act *act)
{
	tb_acts *both = tb_arena_new(arena, tb_acts);
	g_autoptr(GArray) items = g_array_new(FALSE, FALSE, sizeof(tb_act));
	for (unsigned i = 0; i < 2; i++) {
		const tb_act *one = i == 0 ? act : said;
		if (one->mark == TB_MARK_SEVERAL)
			g_array_append_vals(items, one->laid->acts, one->laid->count);
		else
			g_array_append_vals(items, one, 1);
	}
	*both = tb_acts_keep(arena, items);
	act->mark = TB_MARK_SEVERAL;
	act->laid = both;
}

void tb_build_put_mark(tb_arena *arena, const tb_act *said, tb_act *act)
{
	if (act->mark != TB_MARK_NONE) {
		lay_both(arena, said, act);
		return;
	}
	act->mark = said->mark;
	act->mark_nth = said->mark_nth;
	act->mark_of = said->mark_of;
	act->laid = said->laid;
}

/* One of "mark the first st, count 9 (sleeve), mark the next st". */
static tb_act build_laid_one(tb_builder *b, const tb_value *one)
{
	static const struct {
		tb_symbol symbol;
		tb_marker mark;
	} kinds[] = {{TB_SYMBOL_step, TB_MARK_STEP}, {TB_SYMBOL_spot, TB_MARK_SPOT}, {TB_SYMBOL_first, TB_MARK_FIRST},
		{TB_SYMBOL_final, TB_MARK_FINAL}, {TB_SYMBOL_gap, TB_MARK_BEHIND}, {TB_SYMBOL_rest, TB_MARK_REST}, {TB_SYMBOL_at, TB_MARK_AT}};
	tb_act act = tb_build_act_of(b, one, TB_ACT_CLAIM);
	const tb_value *v = tb_value_get(one, TB_SLOT_v);
	for (size_t i = 0; i < G_N_ELEMENTS(kinds); i++)
		act.mark = tb_value_is_symbol(v, kinds[i].symbol) ? kinds[i].mark : act.mark;
	act.count = tb_build_number(b, tb_value_get(one, TB_SLOT_n), 1);
	return act;
}

/* Those of LIST, in all as many as MANY says, which may be NULL. */
static void build_laid(tb_builder *b, const tb_value *list, const tb_value *many, tb_act *act)
{
	const tb_value *const *items = tb_value_items(list, b->scratch);
	g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
	for (guint32 i = 0; i < list->count; i++) {
		tb_act one = build_laid_one(b, items[i]);
		g_array_append_val(acts, one);
	}
	tb_acts *laid = tb_arena_new(b->arena, tb_acts);
	*laid = tb_acts_keep(b->arena, acts);
	act->mark = TB_MARK_LAID;
	act->laid = laid;
	act->mark_nth = tb_build_figure(many, 0);
}

void tb_build_mark(tb_builder *b, const tb_value *value, GArray *acts)
{
	const tb_value *marks = tb_value_get(value, TB_SLOT_marks), *v = tb_value_get(marks, TB_SLOT_v);
	const tb_value *n = tb_value_get(marks, TB_SLOT_n);
	tb_act act = tb_build_act_of(b, value, TB_ACT_CLAIM);
	if (marks == NULL)
		return;
	if (marks->type == TB_VALUE_LIST) {
		build_laid(b, marks, tb_value_get(value, TB_SLOT_n), &act);
	} else if (marks->type == TB_VALUE_NUMBER) {
		act.mark = TB_MARK_NTH;
		act.mark_nth = tb_build_figure(marks, 1);
	} else if (!tb_value_is(marks, TB_KIND_mark)) {
		tb_place place = {0};
		tb_build_place(b, marks, &place);
		if (!mark_place(&place, &act))
			return;
	} else if (tb_value_is_symbol(v, TB_SYMBOL_last)) {
		act.mark = TB_MARK_LAST;
	} else if (tb_value_is_symbol(v, TB_SYMBOL_gap)) {
		act.mark = TB_MARK_BEHIND;
	} else if (tb_value_is_symbol(v, TB_SYMBOL_slip)) {
		act.mark = TB_MARK_SLIP;
	} else if (tb_value_is_symbol(v, TB_SYMBOL_center)) {
		act.mark = TB_MARK_MIDDLE;
	} else {
		act.mark = tb_value_is_symbol(v, TB_SYMBOL_among) ? TB_MARK_AMONG : TB_MARK_NTH;
		act.mark_nth = tb_build_figure(n, 1);
	}
	tb_act *last = acts->len > 0 ? &g_array_index(acts, tb_act, acts->len - 1) : NULL;
	if (last != NULL && last->kind != TB_ACT_CLAIM) {
		tb_build_put_mark(b->arena, &act, last);
		return;
	}
	g_array_append_val(acts, act);
}

unsigned tb_build_which_mark(const tb_value *value)
{
	unsigned said = tb_build_figure(tb_value_get(value, TB_SLOT_marker), 0);
	return said > 1 ? said - 1 : TB_MARKER_NEXT;
}

void tb_build_up_to_mark(const tb_value *reach, tb_place *end)
{
	end->which_mark = tb_build_which_mark(tb_value_get(reach, TB_SLOT_upto));
	end->marked = tb_build_has(reach, TB_SLOT_tomark);
	end->short_of = tb_build_figure(tb_value_get(reach, TB_SLOT_before), 0);
	end->with_it = tb_build_has(reach, TB_SLOT_include);
}
