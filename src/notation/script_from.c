/* "1-37 (41, 45)", "33-54 (37-60, 40-66)": the stitches of another piece that this one grows from. */
#include "notation/script.h"

#include "support/limits.h"

#include <string.h>

static void add_pair(tb_reader *r, GArray *first, GArray *last, const tb_value *pair)
{
	if (pair->type == TB_VALUE_LIST) {
		const tb_value *const *items = tb_value_items(pair, r->scratch);
		for (guint32 i = 0; i < pair->count; i++)
			add_pair(r, first, last, items[i]);
		return;
	}
	double a = tb_value_get(pair, TB_SLOT_a)->figures[0], b = tb_value_get(pair, TB_SLOT_b)->figures[0];
	int from = (int)MIN(a, TB_LIMIT_NUMBER), to = (int)MIN(b, TB_LIMIT_NUMBER);
	g_array_append_val(first, from);
	g_array_append_val(last, to);
}

static const int *keep_ints(tb_arena *arena, const GArray *ints)
{
	int *copy = tb_arena_take(arena, ints->len * sizeof *copy);
	return memcpy(copy, ints->data, ints->len * sizeof *copy);
}

bool tb_reader_read_pairs(tb_reader *r, const tb_value *pairs, tb_number *first, tb_number *last)
{
	g_autoptr(GArray) from = g_array_new(FALSE, FALSE, sizeof(int));
	g_autoptr(GArray) to = g_array_new(FALSE, FALSE, sizeof(int));
	add_pair(r, from, to, tb_value_get(pairs, TB_SLOT_first));
	add_pair(r, from, to, tb_value_get(pairs, TB_SLOT_more));
	unsigned sizes = tb_pattern_count_sizes(r->b.pattern);
	if (from->len != sizes)
		return tb_reader_fail(r, "size-count", pairs->from, pairs->to,
			sizes == 1 ? "Name the sizes of the pattern, or give them once." :
			"Give one for each size, the first outside the bracket.",
			"%u stretches are given, and there %s %u size%s", from->len, sizes == 1 ? "is" : "are", sizes,
			sizes == 1 ? "" : "s");
	*first = (tb_number){sizes, keep_ints(r->b.arena, from), {0, 0}};
	*last = (tb_number){sizes, keep_ints(r->b.arena, to), {0, 0}};
	return true;
}

static bool set_range(tb_reader *r, const tb_value *range, tb_script *script)
{
	if (tb_value_is(range, TB_KIND_pairs))
		return tb_reader_read_pairs(r, range, &script->from_first, &script->from_last);
	script->from_first = tb_build_number(&r->b, tb_value_get(range, TB_SLOT_a), 1);
	script->from_last = tb_build_number(&r->b, tb_value_get(range, TB_SLOT_b), 1);
	return true;
}

/* What stands behind the stitches, where there is such: a piece grows from one stretch alone. */
static bool tell_more(tb_reader *r, const tb_text *text)
{
	const tb_value *from;
	guint32 at = r->chart.furthest, count = r->lattice.count;
	if (at == 0 || at >= count)
		return tb_reader_read(r, text, TB_RULE_from, &from);
	const char *chars = r->lattice.text->chars + r->lattice.start[at];
	bool parts = !g_ascii_isalnum(*chars) || g_str_has_prefix(chars, "and ");
	guint32 begin = parts && at + 1 < count ? at + 1 : at;
	return tb_reader_fail(r, "piece-from", begin, count,
		"As in “From Back: sts 1-37”; what else is worked belongs into a row.",
		"a piece grows from one stretch of one other piece");
}

bool tb_reader_from(tb_reader *r, const tb_text *text, tb_script *script)
{
	const tb_value *from;
	if (!tb_reader_try(r, text, TB_RULE_from, &from))
		return tell_more(r, text);
	const tb_value *side = tb_value_get(from, TB_SLOT_side);
	if (!set_range(r, tb_value_get(from, TB_SLOT_range), script))
		return false;
	if (side != NULL)
		script->from_side = tb_value_is_symbol(tb_value_get(side, TB_SLOT_v), TB_SYMBOL_ws) ?
			TB_SIDE_WRONG : TB_SIDE_RIGHT;
	script->has_from = true;
	script->from_span = tb_text_span(text, 0, text->length);
	return true;
}

bool tb_reader_face(tb_reader *r, const tb_script *script)
{
	const tb_sentence *first = NULL;
	for (guint i = 0; i < r->sentences->len; i++) {
		tb_sentence *row = r->sentences->pdata[i];
		if (row->kind != TB_SENTENCE_ROWS || row->left_out)
			continue;
		first = first != NULL ? first : row;
		if (row->first != first->first)
			break;
		if (row->side != TB_SIDE_UNSAID && row->side != script->from_side) {
			tb_where where = {.has_place = true, .place = row->span, .piece = r->piece,
				.row = row->first, .is_round = row->is_round, .sizes = 0};
			tb_diagnose_format(r->diagnostics, TB_ERROR, "side-turn", &where,
				"Change one of them.", "this row is %s, and the piece is begun with %s facing",
				row->side == TB_SIDE_RIGHT ? "RS" : "WS", row->side == TB_SIDE_RIGHT ? "WS" : "RS");
			return false;
		}
		row->side = script->from_side;
	}
	return true;
}
