/*
 * The row that a place names by its number: "each st of Rnd 4", "next 3 dc of the 4th row". It may stand in
 * nearly every phrase of a place, and is found by its words, whichever was read.
 */
#include "notation/build.h"

#include "support/limits.h"

/* "Row", "Rnd", "R". */
static const tb_edge *find_row_word(const tb_lattice *l, guint32 word)
{
	const tb_edge *edge = tb_lattice_edge(l, word, TB_TERM_row);
	edge = edge != NULL ? edge : tb_lattice_edge(l, word, TB_TERM_rnd);
	return edge != NULL ? edge : tb_lattice_edge(l, word, TB_TERM_r);
}

static unsigned figure_of(const tb_edge *edge)
{
	return edge->value->type == TB_VALUE_NUMBER ? (unsigned)CLAMP(edge->value->figures[0], 0, TB_LIMIT_NUMBER) : 0;
}

/* The number of the row that is named at WORD, "Rnd 4" or "4th round"; 0 for none. */
static unsigned row_at(const tb_lattice *l, guint32 word, guint32 end)
{
	const tb_edge *row = find_row_word(l, word), *ord = tb_lattice_edge(l, word, TB_TERM_CLASS_ord);
	const tb_edge *number = row != NULL && row->end < end ? tb_lattice_edge(l, row->end, TB_TERM_CLASS_int) : NULL;
	if (number != NULL)
		return figure_of(number);
	row = ord != NULL && ord->end < end ? find_row_word(l, ord->end) : NULL;
	/* "3rd row below" is so many rows down */
	if (row == NULL || (row->end < end && tb_lattice_edge(l, row->end, TB_TERM_below) != NULL))
		return 0;
	return figure_of(ord);
}

/* What stands between FROM and TO is "of Rnd 4", "in the 4th row": its number; 0 where no such words do. */
static unsigned find_named(const tb_lattice *l, guint32 from, guint32 to)
{
	for (guint32 i = from; i < to; i++) {
		const tb_edge *of = tb_lattice_edge(l, i, TB_TERM_of);
		of = of != NULL ? of : tb_lattice_edge(l, i, TB_TERM_in);
		guint32 at = of != NULL ? of->end : to;
		const tb_edge *the = at < to ? tb_lattice_edge(l, at, TB_TERM_the) : NULL;
		at = the != NULL ? the->end : at;
		unsigned named = at < to ? row_at(l, at, to) : 0;
		if (named > 0)
			return named;
	}
	return 0;
}

/* The same, of VALUE, where that is not the row below. */
static unsigned named_in(const tb_builder *b, const tb_value *value)
{
	unsigned number = value != NULL ? find_named(b->lattice, value->from, value->to) : 0;
	/* one that is not there yet is refused when the row is worked */
	return number > 0 && (b->first_of == 0 || number + 1 != b->first_of) ? number : 0;
}

/* "next skipped sc of Rnd 1", "each unworked st of Rnd 1"; the free loops of one are nothing that was missed. */
static bool names_missed(const tb_lattice *l, const tb_value *value)
{
	for (guint32 i = value->from; i < value->to; i++) {
		const tb_edge *free = tb_lattice_edge(l, i, TB_TERM_unworked), *skip = tb_lattice_edge(l, i, TB_TERM_skip);
		if (skip != NULL)
			return true;
		if (free != NULL && free->end < value->to && tb_lattice_edge(l, free->end, TB_TERM_loop) == NULL &&
			tb_lattice_edge(l, free->end, TB_TERM_flo) == NULL && tb_lattice_edge(l, free->end, TB_TERM_blo) == NULL)
			return true;
	}
	return false;
}

void tb_build_row_named(const tb_builder *b, const tb_value *value, tb_place *place)
{
	unsigned number = named_in(b, value);
	if (number == 0) {
		place->left_of = value != NULL && names_missed(b->lattice, value) ? find_named(b->lattice, value->from, value->to) : 0;
		return;
	}
	place->of_row = number;
	place->missed = place->missed || names_missed(b->lattice, value);
	/* this row has skipped none of them */
	if (place->in == TB_IN_SKIPPED) {
		bool each = tb_lattice_edge(b->lattice, value->from, TB_TERM_each) != NULL && !tb_build_has(value, TB_SLOT_n);
		place->in = each ? TB_IN_EACH : TB_IN_NEXT;
		place->count = each || place->nth > 0 ? tb_number_make(b->arena, !each, place->span) : place->count;
		place->nth = 0;
	}
}

void tb_build_deeper(const tb_builder *b, const tb_value *deeper, tb_place *place)
{
	unsigned row = tb_build_figure(tb_value_get(deeper, TB_SLOT_row), 0);
	if (deeper == NULL)
		return;
	place->deeper = row == 0 ? tb_build_figure(tb_value_get(deeper, TB_SLOT_n), 1) : row < b->row ? b->row - row : 0;
	if (place->deeper > 0)
		place->of_row = 0;
}

static bool goes_deep(const tb_act *act)
{
	for (const tb_place *place = &act->place; place != NULL; place = place->of) {
		if (place->of_row > 0 || place->rows_below > 1 || place->deeper > 0 || place->ground != NULL || place->in == TB_IN_EDGE)
			return true;
	}
	if (act->other != NULL && goes_deep(act->other))
		return true;
	for (unsigned i = 0; i < act->body.count; i++) {
		if (goes_deep(&act->body.acts[i]))
			return true;
	}
	return false;
}

void tb_build_keep_row(tb_builder *b, const tb_value *value, GArray *acts, guint before)
{
	bool works = value->kind == TB_KIND_work || value->kind == TB_KIND_skip || value->kind == TB_KIND_group ||
		value->kind == TB_KIND_legged || value->kind == TB_KIND_workmix || value->kind == TB_KIND_everynth;
	if (!works || acts->len == before || named_in(b, value) == 0)
		return;
	for (guint i = before; i < acts->len; i++) {
		const tb_act *act = &g_array_index(acts, tb_act, i);
		if (act->kind == TB_ACT_CANNOT || act->kind == TB_ACT_SKIP_BEHIND || goes_deep(act))
			return;
	}
	g_array_set_size(acts, before);
	tb_build_tell_cannot(b, value, acts, "not-worked", "what of the row that is named here is meant is not understood",
		"Name the stitch right before its row, as in “next sc of Rnd 2”.");
}

void tb_build_kin(const tb_value *said, const tb_stitch *stitch, tb_place *place)
{
	if (place->of_row > 0 && tb_build_has(tb_value_get(said, TB_SLOT_noun), TB_SLOT_kin)) {
		place->target = TB_TARGET_NAMED;
		place->named = stitch;
	}
}
