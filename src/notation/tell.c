/*
 * Why a text was not read, at the words that are wrong.
 *
 * The chart knows how far it came: the words up to there are the beginning of something, the word
 * behind them fits nothing that was begun. What the mistake is, is told where it is one that people
 * make (tell_slip); else which words were understood, and the nearest sentence that would be: the
 * row's own words without the word, or with one that is spelled nearly so, if that is read further;
 * else those words and what the phrase they begin still waits for.
 */
#include "notation/tell.h"

#include "stitches/stitch.h"
#include "support/limits.h"

#include <string.h>

/* The text of words FROM to TO. Owned. */
char *tb_tell_words(const tb_reader *r, guint32 from, guint32 to)
{
	const tb_lattice *l = &r->lattice;
	if (from >= to)
		return g_strdup("");
	return g_strndup(l->text->chars + l->start[from], l->stop[to - 1] - l->start[from]);
}

/* The words of the longest row's name that the text begins with. */
guint32 tb_tell_label(const tb_chart *c)
{
	guint32 end = 0;
	for (guint i = 0; i < c->node_count; i++) {
		const tb_node *node = tb_chart_node(c, i);
		if (node->rule == TB_RULE_label && node->origin == 0)
			end = MAX(end, node->end);
	}
	return end;
}

const tb_edge *tb_tell_edge(const tb_lattice *l, guint32 word, tb_term term)
{
	for (guint32 e = l->first_edge[word]; e < l->first_edge[word + 1]; e++) {
		if (l->edges[e].term == term)
			return &l->edges[e];
	}
	return NULL;
}

static bool has_word(const tb_lattice *l, guint32 from, guint32 to, tb_term term)
{
	for (guint32 word = from; word < to; word++) {
		if (tb_tell_edge(l, word, term) != NULL)
			return true;
	}
	return false;
}

/*
 * The row's number and kind, so that what is told says where: its name is read though the rest is
 * not. A name of several rows that do not stand side by side is none that is sure.
 */
static void find_row(tb_reader *r)
{
	const tb_lattice *l = &r->lattice;
	guint32 end = tb_tell_label(&r->chart), last = 0;
	unsigned numbers = 0;
	for (guint32 word = 0; word < end; word++) {
		const tb_edge *edge = tb_tell_edge(l, word, TB_TERM_CLASS_int);
		edge = edge != NULL ? edge : tb_tell_edge(l, word, TB_TERM_CLASS_ord);
		if (edge == NULL || edge->value->figures[0] < 1 ||
			edge->value->figures[0] > TB_LIMIT_PIECE_ROWS)
			continue;
		unsigned number = (unsigned)edge->value->figures[0];
		r->row_unsure = r->row_unsure || edge->value->count > 1 || numbers > 1 || number <= r->row ||
			(numbers == 1 && !has_word(l, last, word, TB_TERM_to) &&
				!has_word(l, last, word, TB_TERM_thru) &&
				!tb_is_among(l->text->chars[l->start[last]], "-\xe2"));
		if (numbers++ == 0)
			r->row = number;
		else
			r->row_last = number;
		last = edge->end;
		word = edge->end - 1;
	}
	r->is_round = has_word(l, 0, end, TB_TERM_rnd);
}

/*
 * Where the clause that PLACE lies in begins: behind the last comma, bracket or star. What stands in
 * brackets before it, sizes or a group, belongs to it.
 */
static guint32 find_clause(const tb_lattice *l, guint32 place)
{
	guint32 word = place, depth = 0;
	for (; word > 0; word--) {
		char sign = l->text->chars[l->start[word - 1]];
		if (tb_is_among(sign, ")]}"))
			depth++;
		else if (tb_is_among(sign, "([{") && depth > 0)
			depth--;
		else if (depth == 0 && tb_is_among(sign, ",;.:([{*!"))
			break;
	}
	return word;
}

/* --- what people get wrong --- */

bool tb_tell_is_sign(const tb_lattice *l, guint32 word, const char *signs)
{
	return word < l->count && l->stop[word] - l->start[word] == 1 &&
		strchr(signs, l->text->chars[l->start[word]]) != NULL;
}

bool tb_tell_is_figure(const tb_lattice *l, guint32 word)
{
	return word < l->count && g_ascii_isdigit(l->text->chars[l->start[word]]);
}

/*
 * "20 (22)" in three sizes: figures and a bracket of figures, but not one for each size. More may follow
 * in "21 (25) 29" and in brackets of their own.
 */
bool tb_reader_check_sizes(tb_reader *r, guint32 at)
{
	const tb_lattice *l = &r->lattice;
	unsigned sizes = tb_pattern_count_sizes(r->b.pattern);
	for (guint32 word = 0; word < l->count && word <= at + 1; word++) {
		unsigned figures = 1;
		guint32 end = word + 2;
		/* "9 (11) 13 (15)": one list */
		bool behind = word > 0 && tb_tell_is_sign(l, word - 1, ")]}");
		if (!tb_tell_is_figure(l, word) || behind || !tb_tell_is_sign(l, word + 1, "([{"))
			continue;
		while (tb_tell_is_figure(l, end)) {
			figures++;
			end++;
			if (tb_tell_is_sign(l, end, ",;:-/") && tb_tell_is_figure(l, end + 1))
				end++;
		}
		if (figures == 1 || !tb_tell_is_sign(l, end, ")]}") || figures == sizes || end + 3 < at ||
			tb_tell_is_figure(l, end + 1) || tb_tell_is_sign(l, end + 1, "([{"))
			continue;
		g_autoptr(GString) names = g_string_new(NULL);
		for (unsigned i = 0; i < sizes && sizes > 1; i++)
			g_string_append_printf(names, "%s%s", i == 0 ? " (" : ", ",
				tb_pattern_get_size(r->b.pattern, i));
		if (sizes == 1)
			return tb_reader_fail(r, "size-count", word, end + 1,
				"Name the sizes of the pattern, or write a single figure.",
				"%u figures are given, and the pattern has one size", figures);
		return tb_reader_fail(r, "size-count", word, end + 1,
			"Write a figure for each size, “-” where a size has none, or one figure for all.",
			"%u figures are given for %u sizes%s)", figures, sizes, names->str);
	}
	return true;
}

static bool tell_brackets(tb_reader *r)
{
	const tb_lattice *l = &r->lattice;
	if (l->unpaired >= l->count)
		return true;
	if (tb_tell_is_sign(l, l->unpaired, ")]}"))
		return tb_reader_fail(r, "bracket-close", l->unpaired, l->unpaired + 1,
			"Open a bracket where the repeat or the group begins, or take this one out.",
			"no bracket is open that this one could close");
	return tb_reader_fail(r, "bracket-open", l->unpaired, l->unpaired + 1,
		"Close it where the repeat or the group ends.", "this bracket is never closed");
}

/* A stitch of the other terms, of one word or two. */
static bool tell_terms(tb_reader *r, guint32 at)
{
	const tb_lattice *l = &r->lattice;
	const tb_library *library = r->b.pattern->library;
	bool uk = r->b.pattern->uk_terms;
	for (guint32 end = MIN(at + 3, l->count); end > at; end--) {
		g_autofree char *words = tb_tell_words(r, at, end);
		const tb_stitch *other = tb_library_find_term(library, words, !uk);
		if (other == NULL || tb_library_find_term(library, words, uk) != NULL)
			continue;
		g_autofree char *hint = g_strdup_printf("Write “%s”, or give the pattern %s terms.",
			uk ? other->uk : other->us, uk ? "US" : "UK");
		return tb_reader_fail(r, "other-terms", at, end, hint,
			"“%s” is a %s term, and the pattern is in %s terms", words, uk ? "US" : "UK",
			uk ? "UK" : "US");
	}
	return true;
}

/* "Rep from * across" with no star before it. */
static bool tell_stars(tb_reader *r)
{
	const tb_lattice *l = &r->lattice;
	for (guint32 word = 0; word < l->count; word++) {
		if (!tb_tell_is_sign(l, word, "*"))
			continue;
		guint32 rep = word > 1 && tb_tell_edge(l, word - 2, TB_TERM_rep) != NULL ? word - 2 : word - 1;
		if (word == 0 || tb_tell_edge(l, rep, TB_TERM_rep) == NULL)
			return true;
		return tb_reader_fail(r, "repeat-no-star", rep, word + 1,
			"Put a * where the repeat begins, or name the rows: Rep Rows 3-6.",
			"no * stands before this, so it does not say what to repeat");
	}
	return true;
}

/* "Size XXL only": a name that is no size's. */
static bool tell_size_name(tb_reader *r, guint32 at)
{
	const tb_lattice *l = &r->lattice;
	guint32 begin = find_clause(l, 0), word = 0, only = begin;
	while (only < l->count && only < at + 6 && tb_tell_edge(l, only, TB_TERM_only) == NULL)
		only++;
	if (only >= l->count || tb_tell_edge(l, only, TB_TERM_only) == NULL)
		return true;
	for (word = only; word-- > begin && word + 8 > only;) {
		/* "in back loop of sts only" */
		bool name = g_ascii_isalnum(l->text->chars[l->start[word]]) && tb_tell_edge(l, word, TB_TERM_st) == NULL &&
			tb_tell_edge(l, word, TB_TERM_CLASS_sizeword) == NULL;
		if (tb_tell_edge(l, word, TB_TERM_size) != NULL || tb_tell_edge(l, word, TB_TERM_sizes) != NULL)
			return true;
		if (!name || tb_tell_edge(l, word, TB_TERM_and) != NULL)
			continue;
		unsigned sizes = tb_pattern_count_sizes(r->b.pattern);
		g_autoptr(GString) names = g_string_new(sizes > 1 ? "The sizes are " : "It has one size");
		for (unsigned i = 0; i < sizes && sizes > 1; i++)
			g_string_append_printf(names, "%s%s", i == 0 ? "" : ", ",
				tb_pattern_get_size(r->b.pattern, i));
		g_string_append_c(names, '.');
		g_autofree char *said = tb_tell_words(r, word, word + 1);
		return tb_reader_fail(r, "size-unknown", word, word + 1, names->str,
			"there is no size called “%s”", said);
	}
	return true;
}

/* False when what is wrong at AT is something that people often get wrong, which is told. */
static bool tell_slip(tb_reader *r, guint32 at)
{
	const tb_lattice *l = &r->lattice;
	guint32 label = tb_tell_label(&r->chart);
	if (!tell_brackets(r) || !tb_reader_check_sizes(r, at))
		return false;
	if (r->rule == TB_RULE_line && label > 0 && label == l->count)
		return tb_reader_fail(r, "row-empty", 0, l->count, "Say what is worked.",
			"nothing is worked in this %s", r->is_round ? "round" : "row");
	if (tb_tell_is_sign(l, at, ")]}") && at > 0 && tb_tell_is_sign(l, at - 1, "([{"))
		return tb_reader_fail(r, "repeat-empty", at - 1, at + 1,
			"Say what is repeated, or take it out.", "nothing stands in this bracket");
	if (tb_tell_is_sign(l, at, ".") && at > 0 && tb_tell_is_figure(l, at - 1) && tb_tell_is_figure(l, at + 1) &&
		l->start[at] == l->stop[at - 1])
		return tb_reader_fail(r, "number-not-whole", at - 1, at + 2, "Round it up or down.",
			"stitches are counted in whole numbers");
	return tell_terms(r, at) && tell_stars(r) && tell_size_name(r, at);
}

/* The words before AT that were understood as far as they go, at the most so many. Owned. */
static char *understood(const tb_reader *r, guint32 clause, guint32 at)
{
	guint32 from = at - clause > 8 ? at - 8 : clause;
	g_autofree char *words = tb_tell_words(r, from, at);
	return g_strconcat(from > clause ? "… " : "", words, NULL);
}

/* Something is missing where the clause ends at AT: at a comma, a bracket or the row's end. */
static bool tell_missing(tb_reader *r, guint32 clause, guint32 at)
{
	g_autofree char *sentence = tb_tell_complete(r, clause, at);
	g_autofree char *hint = sentence != NULL ? g_strdup_printf("As in “%s”.", sentence) :
		g_strdup("Say what is worked, and where.");
	g_autofree char *words = understood(r, clause, at);
	guint32 from = clause < at ? clause : at > 0 ? at - 1 : 0;
	bool ends = at >= r->lattice.count;
	if (clause == at)
		return tb_reader_fail(r, "row-unfinished", from, MAX(at, from + 1), hint,
			ends ? "the text ends here, and something is missing" : "something is missing here");
	return tb_reader_fail(r, "row-unfinished", from, at, hint, "something is missing behind “%s”%s",
		words, ends ? ": the text ends there" : "");
}

bool tb_reader_tell_unread(tb_reader *r)
{
	const tb_lattice *l = &r->lattice;
	if (!r->chart.is_tangled)
		tb_chart_read(&r->chart, r->chart.grammar, l, r->rule, TB_CHART_TELL, r->scratch);
	guint32 at = MIN(r->chart.furthest, l->count), clause = find_clause(l, at);
	/* what was read as any word at all was not understood either */
	for (guint32 word = clause; word < at; word++) {
		if (tb_lattice_is_unknown(l, word) && r->chart.set_first[word] != TB_NO_ITEM)
			at = word;
	}
	find_row(r);
	if (r->chart.is_tangled)
		return tb_reader_fail(r, "row-tangled", 0, l->count, "Write it in shorter sentences.",
			"this is too tangled to be read");
	if (!tell_slip(r, at))
		return false;
	if (at >= l->count || (tb_tell_is_sign(l, at, ",;.:)]}!") && clause < at))
		return tell_missing(r, clause, at);
	g_autofree char *wrong = tb_tell_words(r, at, at + 1);
	g_autofree char *hint = tb_tell_hint(r, clause, at, wrong);
	g_autofree char *words = understood(r, clause, at);
	if (*words != '\0')
		return tb_reader_fail(r, "word-unknown", at, at + 1, hint,
			"“%s” is not understood behind “%s”", wrong, words);
	return tb_reader_fail(r, "word-unknown", at, at + 1, hint, "“%s” is not understood here", wrong);
}
