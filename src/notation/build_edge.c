/* Stitches along an edge that no row shows: how many they are, as far as the text says. */
#include "notation/build.h"

/* "2 sc in the side of each of the 6 rows": so many in each of so many. */
static void count_in_each(tb_builder *b, const tb_value *value, tb_act *act)
{
	tb_number many = tb_build_number(b, tb_value_get(value, TB_SLOT_per), 1);
	tb_number each = tb_build_number(b, tb_value_get(value, TB_SLOT_n), 1);
	unsigned count = MAX(many.count, each.count);
	int *values = tb_arena_take(b->arena, count * sizeof(int));
	for (unsigned i = 0; i < count; i++) {
		int rows = many.values[many.count == 1 ? 0 : i], in_one = each.values[each.count == 1 ? 0 : i];
		values[i] = rows == TB_NOT_IN_SIZE || in_one == TB_NOT_IN_SIZE ? TB_NOT_IN_SIZE : rows * in_one;
	}
	act->place.count = (tb_number){count, values, many.span};
	act->in_each = many;
	act->in_rows = tb_build_has(value, TB_SLOT_inrows);
	act->in_motifs = tb_build_has(value, TB_SLOT_inmotifs);
}

/* Which edge of a flat piece VALUE names. */
static tb_cloth_edge edge_kind(const tb_value *value)
{
	const tb_value *which = value != NULL && value->type == TB_VALUE_NODE ? tb_value_get(value, TB_SLOT_v) : NULL;
	if (which == NULL)
		return TB_EDGE_UNKNOWN;
	if (tb_value_is_symbol(which, TB_SYMBOL_opening))
		return TB_EDGE_UNKNOWN;
	return tb_value_is_symbol(which, TB_SYMBOL_all) ? TB_EDGE_AROUND :
		tb_value_is_symbol(which, TB_SYMBOL_next) ? TB_EDGE_NEXT :
		tb_value_is_symbol(which, TB_SYMBOL_foundation) ? TB_EDGE_FOUNDATION : TB_EDGE_SIDE;
}

/* Whether a bracket opens before VALUE, or it begins as "working 15 sc along each side" does. */
static bool is_said_beside(const tb_builder *b, const tb_value *value)
{
	static const char *const words[] = {"(", "[", "working", "making", "placing", "putting", "with", "having"};
	for (size_t i = 0; i < G_N_ELEMENTS(words); i++) {
		if ((i > 1 && tb_build_is_word(b, value->from, words[i])) ||
			(value->from > 0 && tb_build_is_word(b, value->from - 1, words[i])))
			return true;
	}
	return false;
}

/* "24 sc along side edge, 2 in each row end": how they lie. */
static const tb_act *proof_of(tb_builder *b, const tb_value *value)
{
	tb_act *proof = tb_arena_new(b->arena, tb_act);
	*proof = (tb_act){.kind = TB_ACT_WORK, .row_ends = true, .proves = true};
	proof->span = tb_build_act_of(b, value, TB_ACT_WORK).span;
	proof->each = tb_build_number(b, tb_value_get(value, TB_SLOT_each), 1);
	proof->count = tb_build_number(b, tb_value_get(value, TB_SLOT_perrows), 1);
	return proof;
}

void tb_build_edge(tb_builder *b, const tb_value *value, tb_act *act)
{
	act->place.in = TB_IN_EDGE;
	act->beside = is_said_beside(b, value);
	if (tb_value_is(tb_value_get(value, TB_SLOT_edge), TB_KIND_one)) {
		act->place.middle = true;
		return;
	}
	if (tb_build_has(value, TB_SLOT_proof))
		act->proof = proof_of(b, tb_value_get(value, TB_SLOT_proof));
	act->of_others = tb_build_has(value, TB_SLOT_others);
	if (tb_build_has(value, TB_SLOT_cornered))
		act->corner_each = tb_build_number(b, tb_value_get(value, TB_SLOT_cornered), 1);
	act->edge = edge_kind(tb_value_get(value, TB_SLOT_edge));
	if (tb_build_has(value, TB_SLOT_per)) {
		count_in_each(b, value, act);
	} else if (!tb_build_has(value, TB_SLOT_n)) {
		act->place.count = tb_number_make(b->arena, 0, act->span);
		act->unsaid = true;
		act->row_ends = tb_build_has(value, TB_SLOT_rowends);
		tb_build_multiple(b, tb_value_get(value, TB_SLOT_open), act);
		if (act->row_ends) {
			act->each = tb_build_number(b, tb_value_get(value, TB_SLOT_each), 1);
			act->count = tb_build_number(b, tb_value_get(value, TB_SLOT_perrows), 1);
			/* "alternating 2 sc and 1 sc" */
			if (tb_build_has(value, TB_SLOT_plus))
				act->each = tb_number_make(b->arena, tb_build_one_number(tb_value_get(value, TB_SLOT_each), 1) +
					tb_build_one_number(tb_value_get(value, TB_SLOT_plus), 1), act->span);
		}
	}
}
