/*
 * The row that a place names by its number: "each st of Rnd 4", "next 3 dc of the 4th row". It may stand in
 * nearly every phrase of a place, and is found by its words, whichever was read.
 */
#include "notation/build.h"

#include "support/limits.h"

static const tb_edge *find_row_word(const tb_lattice *l, guint32 word)
{
	const tb_edge *edge = tb_lattice_edge(l, word, TB_TERM_row);
	return edge != NULL ? edge : tb_lattice_edge(l, word, TB_TERM_rnd);
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

void tb_build_row_named(const tb_builder *b, const tb_value *value, tb_place *place)
{
	unsigned number = value != NULL ? find_named(b->lattice, value->from, value->to) : 0;
	if (number > 0 && number + 1 < b->row)
		place->of_row = number;
}
