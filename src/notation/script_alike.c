/*
 * A row that is worded as the one before it but for its number, "Row 13: Ch 1, sc in each st across, turn.", says the
 * same of another row: what was read is kept, and the number in it changed.
 */
#include "notation/script.h"

#include "notation/lattice_maker.h"

#include <string.h>

/* What is made of readings lives as long as they do: so often they are kept. */
#define MOST_ALIKE 64u
#define MOST_FIGURES 6u

/* The figures of "Row 13:" at the beginning of CHARS: from FROM to the end returned; 0 for none, or of fewer than two. */
static size_t label_figures(const char *chars, size_t *from)
{
	size_t word = strspn(chars, "RrOoWwNnDdUuSs");
	*from = word + 1;
	if (word == 0 || chars[word] != ' ' || chars[word + 1] == '0')
		return 0;
	size_t figures = strspn(chars + word + 1, "0123456789");
	return figures > 1 && figures <= MOST_FIGURES && chars[word + 1 + figures] == ':' ? word + 1 + figures : 0;
}

/* Whether the label's number, word 1, is read as a number and nothing else. */
static bool is_number_alone(const tb_lattice *l, double number)
{
	for (guint32 e = l->first_edge[0]; e < l->first_edge[2]; e++) {
		const tb_edge *edge = &l->edges[e];
		bool second = e >= l->first_edge[1];
		if (edge->end != (second ? 2 : 1))
			return false;
		if (second && edge->value->type != TB_VALUE_SYMBOL &&
			(edge->value->type != TB_VALUE_NUMBER || edge->value->count != 1 || edge->value->figures[0] != number))
			return false;
	}
	return true;
}

void tb_reader_keep_alike(tb_reader *r)
{
	const tb_lattice *l = &r->lattice;
	tb_alike *a = &r->alike;
	a->scratch = NULL;
	a->times = 0;
	a->colourless = false;
	a->to = label_figures(r->text->chars, &a->from);
	if (a->to == 0 || l->count < 3 || l->start[1] != a->from || l->stop[1] != a->to ||
		!is_number_alone(l, g_ascii_strtod(r->text->chars + a->from, NULL)))
		return;
	a->scratch = r->scratch;
	a->chars = tb_arena_copy(r->scratch, r->text->chars, r->text->length);
	a->length = r->text->length;
	a->edges = l->edges;
	a->rule = r->rule;
	a->built = r->chart.built;
	a->changes = r->b.vocabulary->changes;
	a->readings = r->reading_count;
}

/* Whether the pattern or the trade has words that begin with the label of CHARS or its number. */
static bool is_spelled(const tb_reader *r, const char *chars)
{
	const tb_alike *a = &r->alike;
	g_autofree char *label = g_ascii_strdown(chars, (gssize)a->to);
	return tb_vocabulary_find_words(r->b.vocabulary, label + a->from, a->to - a->from) != NULL ||
		tb_vocabulary_find_words(r->b.vocabulary, label, a->to) != NULL;
}

bool tb_reader_is_alike(const tb_reader *r, const tb_text *text, tb_rule rule)
{
	const tb_alike *a = &r->alike;
	size_t from;
	return a->scratch != NULL && a->scratch == r->scratch && a->edges == r->lattice.edges && a->rule == rule &&
		a->built == r->chart.built && a->changes == r->b.vocabulary->changes && a->times < MOST_ALIKE &&
		text->length == a->length && label_figures(text->chars, &from) == a->to && from == a->from &&
		memcmp(text->chars, a->chars, a->from) == 0 &&
		memcmp(text->chars + a->to, a->chars + a->to, a->length - a->to) == 0 && !is_spelled(r, text->chars);
}

void tb_reader_read_alike(tb_reader *r)
{
	tb_alike *a = &r->alike;
	tb_lattice *l = &r->lattice;
	double number = g_ascii_strtod(r->text->chars + a->from, NULL);
	for (guint32 e = l->first_edge[1]; e < l->first_edge[2]; e++) {
		if (l->edges[e].value->type == TB_VALUE_NUMBER)
			tb_value_set_number((tb_value *)(gpointer)l->edges[e].value, number);
	}
	l->text = r->text;
	r->reading_count = a->readings;
	a->times++;
}
