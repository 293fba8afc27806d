/* The plain stitches that a row's words name, and its chains, "ch-3", so that none of them is passed over. */
#include "notation/script.h"

#include "pattern/text_kinds.h"
#include "support/limits.h"

#include <string.h>

/* More kinds are named in no row. */
#define MOST_NAMED 12u

/* The longest name of a plain stitch at WORD, and what it ends before; NULL where none stands there. */
static const tb_stitch *named_at(const tb_lattice *l, guint32 word, guint32 *end)
{
	const tb_stitch *stitch = NULL;
	*end = word + 1;
	for (guint32 e = l->first_edge[word]; e < l->first_edge[word + 1]; e++) {
		const tb_edge *edge = &l->edges[e];
		if (edge->term != TB_TERM_CLASS_stitchname || edge->end < *end)
			continue;
		bool plain = edge->value->type == TB_VALUE_STITCH && edge->value->stitch != NULL &&
			edge->value->stitch->family == TB_FAMILY_PLAIN && edge->value->stitch->form != TB_FORM_SLIP;
		/* "leaving a long end" */
		bool alone = edge->end == word + 1 && tb_at_word(l->text->chars + l->start[word], "long") > 0;
		stitch = plain && !alone ? edge->value->stitch : NULL;
		*end = edge->end;
	}
	return stitch;
}

static unsigned figure_at(const tb_lattice *l, guint32 word)
{
	const tb_edge *edge = word < l->count ? tb_lattice_edge(l, word, TB_TERM_CLASS_int) : NULL;
	bool one = edge != NULL && edge->end == word + 1 && edge->value->count == 1 && g_ascii_isdigit(l->text->chars[l->start[word]]);
	return one ? (unsigned)CLAMP(edge->value->figures[0], 0, TB_LIMIT_NUMBER) : 0;
}

static bool is_chain(const tb_lattice *l, guint32 word)
{
	return word < l->count && tb_at_word(l->text->chars + l->start[word], "ch chain") > 0;
}

/* "ch-3" at WORD, "top of 3 ch": how many chains, and the word behind them; 0 where no chain is named so. */
static unsigned chains_at(const tb_lattice *l, guint32 word, guint32 *end)
{
	const char *chars = l->text->chars;
	bool hyphen = is_chain(l, word) && word + 2 < l->count && chars[l->start[word + 1]] == '-' &&
		l->stop[word] == l->start[word + 1] && l->stop[word + 1] == l->start[word + 2];
	*end = word + 3;
	if (hyphen)
		return figure_at(l, word + 2);
	bool top = word > 1 && tb_at_word(chars + l->start[word - 1], "of") > 0 && tb_at_word(chars + l->start[word - 2], "top") > 0;
	*end = word + 2;
	return top && is_chain(l, word + 1) ? figure_at(l, word) : 0;
}

/* "4th ch of beg ch-3", the CHAINS named at WORD: whether that has not so many, which is told. */
static void check_ordinal(tb_reader *r, guint32 word, unsigned chains)
{
	const tb_lattice *l = &r->lattice;
	guint32 of = word;
	while (of > 1 && tb_at_word(l->text->chars + l->start[of - 1], "the beg beginning turning starting first initial") > 0)
		of--;
	const tb_edge *nth = of > 2 && tb_at_word(l->text->chars + l->start[of - 1], "of") > 0 && is_chain(l, of - 2) ?
		tb_lattice_edge(l, of - 3, TB_TERM_CLASS_ord) : NULL;
	nth = nth == NULL && of > 3 && is_chain(l, of - 2) ? tb_lattice_edge(l, of - 4, TB_TERM_CLASS_ord) : nth;
	if (nth == NULL || nth->end != of - 2 || nth->value->figures[0] <= chains)
		return;
	tb_doubt doubt = {tb_build_span(&r->b, of - 2, word), of - 2, word, "stitch-unseen", "that chain has not so many", "Look at how many it has."};
	g_array_append_val(r->b.doubts, doubt);
}

void tb_reader_set_named(tb_reader *r, tb_sentence *sentence, const tb_value *row)
{
	const tb_lattice *l = &r->lattice;
	tb_named named[MOST_NAMED];
	unsigned count = 0;
	for (guint32 word = row->from, end; word < row->to && count < MOST_NAMED; word = end) {
		unsigned chains = chains_at(l, word, &end);
		if (chains > 0)
			check_ordinal(r, word, chains);
		const tb_stitch *stitch = chains > 0 ? NULL : named_at(l, word, &end);
		bool known = stitch == NULL && chains == 0;
		for (unsigned i = 0; i < count && !known; i++)
			known = named[i].stitch == stitch && named[i].chains == chains;
		if (!known)
			named[count++] = (tb_named){stitch, chains, tb_build_span(&r->b, word, end)};
	}
	tb_named *copy = tb_arena_take(r->b.arena, (count + 1) * sizeof(tb_named));
	memcpy(copy, named, count * sizeof(tb_named));
	sentence->named = copy;
	sentence->named_count = count;
}
