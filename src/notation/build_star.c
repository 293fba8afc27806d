/*
 * "Ch 1, sk first st, then work as row 1 from * to end": the acts of a row that was read before, from its
 * repeat on. What that row worked into the chains of the foundation, this one works into stitches. Its turn
 * is left out: this row says by itself what it ends with.
 */
#include "notation/build.h"

#include "support/limits.h"

#include <string.h>

static const tb_sentence *find_row(const tb_builder *b, unsigned number, bool *first)
{
	*first = true;
	for (guint i = 0; b->sentences != NULL && i < b->sentences->len; i++) {
		const tb_sentence *row = b->sentences->pdata[i];
		if (row->kind != TB_SENTENCE_ROWS)
			continue;
		if (row->first <= number && row->last >= number && row->first > 0)
			return row->left_out ? NULL : row;
		*first = false;
	}
	return NULL;
}

/* Copies ACTS; such as went into the FOUNDATION go into stitches. False where they go too deep. */
static bool copy_acts(tb_builder *b, const tb_acts *acts, tb_span span, bool foundation, unsigned depth, GArray *to)
{
	for (unsigned i = 0; i < acts->count; i++) {
		tb_act act = acts->acts[i];
		if (act.place.in == TB_IN_NTH_CHAIN || depth > TB_LIMIT_NESTING)
			return false;
		if (depth == 0)
			act.span = span;
		if (foundation && act.kind != TB_ACT_CHAIN && act.place.target == TB_TARGET_CHAIN)
			act.place.target = TB_TARGET_STITCH;
		if (act.body.count > 0) {
			g_autoptr(GArray) body = g_array_new(FALSE, FALSE, sizeof(tb_act));
			if (!copy_acts(b, &act.body, span, foundation, depth + 1, body))
				return false;
			act.body = tb_acts_keep(b->arena, body);
		}
		g_array_append_val(to, act);
	}
	return true;
}

void tb_build_from_star(tb_builder *b, const tb_value *value, GArray *acts)
{
	const tb_value *rows = tb_value_get(tb_value_get(value, TB_SLOT_rows), TB_SLOT_rows);
	const tb_value *number = tb_value_get(rows, TB_SLOT_a);
	bool one = number != NULL && number->type == TB_VALUE_NUMBER && tb_value_get(rows, TB_SLOT_b) == NULL &&
		tb_value_get(rows, TB_SLOT_l) == NULL;
	bool foundation = false;
	const tb_sentence *row = one ? find_row(b, (unsigned)MAX(number->figures[0], 0), &foundation) : NULL;
	unsigned at = 0;
	while (row != NULL && at < row->acts.count && row->acts.acts[at].kind != TB_ACT_REPEAT)
		at++;
	guint before = acts->len;
	tb_acts rest = {NULL, 0};
	if (row != NULL && at < row->acts.count) {
		rest = (tb_acts){row->acts.acts + at, row->acts.count - at};
		while (rest.count > 0 && rest.acts[rest.count - 1].kind == TB_ACT_TURN)
			rest.count--;
	}
	tb_span span = tb_build_span(b, value->from, value->to);
	if (rest.count > 0 && copy_acts(b, &rest, span, foundation, 0, acts))
		return;
	g_array_set_size(acts, before);
	tb_build_tell_cannot(b, value, acts, "repeat-no-star", "no row before this one has a repeat to go on from",
		"Name the row by its number, or write out what is worked.");
}
