/* The row that a place names by its number: "each st of Rnd 4", "next 3 dc of the 4th row". */
#include "notation/build.h"

#include "support/limits.h"

static const tb_edge *find_edge(const tb_lattice *l, guint32 word, guint16 term)
{
	for (guint32 e = l->first_edge[word]; e < l->first_edge[word + 1]; e++) {
		if (l->edges[e].term == term)
			return &l->edges[e];
	}
	return NULL;
}

static const tb_edge *find_row_word(const tb_lattice *l, guint32 word)
{
	const tb_edge *edge = find_edge(l, word, TB_TERM_row);
	return edge != NULL ? edge : find_edge(l, word, TB_TERM_rnd);
}

static unsigned figure_of(const tb_edge *edge)
{
	return edge->value->type == TB_VALUE_NUMBER ? (unsigned)CLAMP(edge->value->figures[0], 0, TB_LIMIT_NUMBER) : 0;
}

/* The number of the row that is named at WORD, "Rnd 4" or "4th round"; 0 for none. */
static unsigned row_at(const tb_lattice *l, guint32 word, guint32 end)
{
	const tb_edge *row = find_row_word(l, word), *ord = find_edge(l, word, TB_TERM_CLASS_ord);
	const tb_edge *number = row != NULL && row->end < end ? find_edge(l, row->end, TB_TERM_CLASS_int) : NULL;
	if (number != NULL)
		return figure_of(number);
	row = ord != NULL && ord->end < end ? find_row_word(l, ord->end) : NULL;
	/* "3rd row below" is so many rows down */
	if (row == NULL || (row->end < end && find_edge(l, row->end, TB_TERM_below) != NULL))
		return 0;
	return figure_of(ord);
}

static unsigned find_named(const tb_builder *b, const tb_value *place)
{
	const tb_lattice *l = b->lattice;
	unsigned named = 0;
	for (guint32 i = place != NULL ? place->from : 0; place != NULL && i < place->to; i++) {
		/* what other rows left free is found by that */
		if (find_edge(l, i, TB_TERM_unworked) != NULL || find_edge(l, i, TB_TERM_skip) != NULL)
			return 0;
		const tb_edge *of = find_edge(l, i, TB_TERM_of);
		of = of != NULL ? of : find_edge(l, i, TB_TERM_in);
		guint32 at = of != NULL ? of->end : place->to;
		const tb_edge *the = at < place->to ? find_edge(l, at, TB_TERM_the) : NULL;
		at = the != NULL ? the->end : at;
		if (named == 0 && at < place->to)
			named = row_at(l, at, place->to);
	}
	return named;
}

void tb_build_row_named(const tb_builder *b, const tb_value *value, tb_place *place)
{
	const tb_value *row = tb_value_get(value, TB_SLOT_inrow);
	row = row != NULL ? row : tb_value_get(value, TB_SLOT_of);
	unsigned number = tb_value_is(row, TB_KIND_ofrow) ? tb_build_figure(tb_value_get(row, TB_SLOT_n), 0) : 0;
	/* a phrase that keeps no row in mind may have read one */
	number = number == 0 ? find_named(b, value) : number;
	if (number > 0 && number + 1 < b->row)
		place->of_row = number;
}
