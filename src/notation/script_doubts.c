/* What is told of words that were left out, and of those whose meaning is not sure. */
#include "notation/script.h"

#include <string.h>

/* "[18 (24, 30) sc]." has no more words behind its figures. */
#define MOST_BEHIND_COUNT 4u

void tb_reader_tell_names(tb_reader *r)
{
	const tb_lattice *l = &r->lattice;
	for (guint32 i = 0; i < l->count; i++) {
		for (guint32 e = l->first_edge[i]; e < l->first_edge[i + 1]; e++) {
			if (l->edges[e].term != TB_TERM_CLASS_idle || l->edges[e].end != i + 1)
				continue;
			tb_where where = {.has_place = true, .place = tb_build_span(&r->b, i, i + 1), .piece = r->piece,
				.row = r->row, .is_round = r->is_round};
			tb_diagnose_format(r->diagnostics, TB_WARNING, "colour-unsure", &where,
				"If it tells how the row is worked, say that in other words.",
				"“%.*s” is taken for the name of a colour", (int)(l->stop[i] - l->start[i]),
				l->text->chars + l->start[i]);
		}
	}
}

/* The sizes besides SIZES for which VALUE, a figure for each size, has one. */
static tb_size_set figures_besides(const tb_value *value, tb_size_set sizes)
{
	tb_size_set besides = 0;
	for (guint32 i = 0; i < value->count; i++) {
		if (value->figures[i] > 0 && (sizes >> i & 1) == 0)
			besides |= (tb_size_set)1 << i;
	}
	return besides;
}

void tb_reader_tell_unused(tb_reader *r, const tb_value *said, tb_size_set sizes)
{
	const tb_lattice *l = &r->lattice;
	unsigned count = tb_pattern_count_sizes(r->b.pattern);
	guint32 told = 0;
	for (guint32 i = said->from; i < said->to && count > 1; i++) {
		for (guint32 e = l->first_edge[i]; e < l->first_edge[i + 1]; e++) {
			const tb_edge *edge = &l->edges[e];
			if (i < told || edge->value->type != TB_VALUE_NUMBER || edge->value->count != count || edge->end > said->to)
				continue;
			tb_size_set besides = figures_besides(edge->value, sizes);
			/* the count that ends the clauses of several sizes */
			if (l->count - edge->end <= MOST_BEHIND_COUNT)
				besides &= ~r->shared;
			if (besides == 0)
				continue;
			told = edge->end;
			tb_where where = {.has_place = true, .place = tb_build_span(&r->b, i, edge->end), .piece = r->piece,
				.row = r->row, .is_round = r->is_round, .sizes = besides};
			tb_diagnose_format(r->diagnostics, TB_WARNING, "size-unused", &where,
				"Write “-” for a size that does not work it, or say that it does.",
				"a figure stands here, and this %s is not worked", r->is_round ? "round" : "row");
		}
	}
}

/* Whether word I of the text was read past. */
static bool is_aside(const tb_reader *r, guint32 i)
{
	tb_span word = tb_text_span(r->text, r->lattice.start[i], r->lattice.stop[i]);
	for (guint k = 0; k < r->b.asides->len; k++) {
		const tb_span *aside = &g_array_index(r->b.asides, tb_span, k);
		if (word.start >= aside->start && word.start < aside->end)
			return true;
	}
	return false;
}

/* Where the longest list of a figure for each size ends that begins at word I, 0 for none; *HELD: whether one is used. */
static guint32 find_figures(const tb_reader *r, guint32 i, bool *held)
{
	const tb_lattice *l = &r->lattice;
	unsigned sizes = tb_pattern_count_sizes(r->b.pattern);
	guint32 end = 0;
	for (guint32 e = l->first_edge[i]; e < l->first_edge[i + 1]; e++) {
		const tb_edge *edge = &l->edges[e];
		if (edge->value->type != TB_VALUE_NUMBER || edge->value->count != sizes)
			continue;
		end = MAX(end, edge->end);
		*held = *held || g_hash_table_contains(r->b.held, edge->value->figures);
	}
	return end;
}

/* Whether words FROM to TO list figures in brackets or by slashes; "2-3" may be rows. */
static bool is_plain_list(const tb_reader *r, guint32 from, guint32 to)
{
	for (size_t at = r->lattice.start[from]; to > from && at < r->lattice.stop[to - 1]; at++) {
		if (tb_is_among(r->text->chars[at], "([/"))
			return true;
	}
	return false;
}

static void tell_unheld(tb_reader *r, tb_span place)
{
	tb_where where = {.has_place = true, .place = place, .piece = r->piece, .row = r->row, .is_round = r->is_round};
	tb_diagnose_format(r->diagnostics, TB_WARNING, "size-unheld", &where,
		"Say it in other words, or check by hand what they say.", "nothing is held against these figures");
}

/* Whether what stands at PLACE is told as a whole. */
static bool is_told(const tb_reader *r, tb_span place)
{
	bool told = false;
	for (guint k = 0; k < r->b.unheld->len && !told; k++) {
		const tb_span *said = &g_array_index(r->b.unheld, tb_span, k);
		told = place.start >= said->start && place.start < said->end;
	}
	return told;
}

void tb_reader_tell_unheld(tb_reader *r)
{
	guint32 behind = 0;
	for (guint k = 0; k < r->b.unheld->len; k++)
		tell_unheld(r, g_array_index(r->b.unheld, tb_span, k));
	for (guint32 i = 0; i < r->lattice.count && tb_pattern_count_sizes(r->b.pattern) > 1; i++) {
		bool held = false, within = i < behind;
		guint32 end = find_figures(r, i, &held);
		/* "(20, 22, 24)", and in it "20, 22, 24" */
		for (guint32 k = i + 1; k < end; k++)
			find_figures(r, k, &held);
		behind = MAX(behind, end);
		/* what is read past in the row's words may be used in another reading of them */
		if (within || (held && !is_aside(r, i)) || !is_plain_list(r, i, end))
			continue;
		if (!is_told(r, tb_build_span(&r->b, i, end)))
			tell_unheld(r, tb_build_span(&r->b, i, end));
	}
	g_array_set_size(r->b.unheld, 0);
}

/* Tells that WORDS are left out, and against what that is held; or, LEVEL an error, that nothing does so. */
static void tell_left_out(tb_reader *r, tb_severity level, const tb_where *where, const char *words, const char *proof)
{
	if (level == TB_ERROR)
		tb_diagnose_format(r->diagnostics, level, "words-left-out", where,
			"Say it in other words, or state the row's count, which then tells whether it comes out without them.",
			"“%s” is not understood", words);
	else
		tb_diagnose_format(r->diagnostics, level, "words-left-out", where,
			"If it tells how or where a stitch is worked, say that in other words.",
			"“%s” is not understood and left out; %s", words, proof);
}

void tb_reader_tell_unproved(tb_reader *r, tb_severity level)
{
	for (guint i = 0; i < r->unproved->len; i++) {
		const tb_doubt *doubt = &g_array_index(r->unproved, tb_doubt, i);
		tb_where where = {.has_place = true, .place = doubt->span, .piece = r->piece};
		tell_left_out(r, level, &where, doubt->why,
			"the count of the row after it is held against the rest");
	}
	g_array_set_size(r->unproved, 0);
}

bool tb_reader_tell_doubts(tb_reader *r, const tb_sentence *sentence)
{
	guint32 told = 0;
	/* a remark between rows, or behind the chain they begin with */
	bool between = sentence->kind == TB_SENTENCE_START || (sentence->kind == TB_SENTENCE_ROWS && sentence->first == 0 &&
		sentence->acts.count == 0 && sentence->claim_count == 0);
	for (guint i = 0; i < r->b.doubts->len; i++) {
		const tb_doubt *doubt = &g_array_index(r->b.doubts, tb_doubt, i);
		const tb_lattice *l = &r->lattice;
		tb_where where = {.has_place = true, .place = doubt->span, .piece = r->piece, .row = r->row,
			.is_round = r->is_round};
		if (doubt->from < told)
			continue;
		told = doubt->to;
		if (doubt->code != NULL) {
			tb_diagnose_format(r->diagnostics, TB_WARNING, doubt->code, &where, doubt->hint, "%s", doubt->why);
			continue;
		}
		g_autofree char *words = g_strndup(l->text->chars + l->start[doubt->from],
			l->stop[doubt->to - 1] - l->start[doubt->from]);
		if (between) {
			tb_doubt unproved = *doubt;
			unproved.why = tb_arena_copy(r->b.arena, words, strlen(words));
			g_array_append_val(r->unproved, unproved);
			continue;
		}
		tell_left_out(r, sentence->claim_count == 0 ? TB_ERROR : TB_WARNING, &where, words,
			"the row's count is held against the rest");
		if (sentence->claim_count == 0)
			return false;
	}
	return true;
}

bool tb_reader_prove(tb_reader *r, guint before, unsigned last)
{
	const tb_sentence *next = r->sentences->len > before ? r->sentences->pdata[before] : NULL;
	if (r->unproved->len == 0 || next == NULL)
		return true;
	/* "Next row: …" comes next, whatever its number is, and row 1 of a part */
	bool comes = next->first == last + 1 || next->first == 1 || (next->first == 0 && next->only_named);
	bool proved = next->kind == TB_SENTENCE_ROWS && !next->left_out && comes && next->claim_count > 0;
	tb_reader_tell_unproved(r, proved ? TB_WARNING : TB_ERROR);
	return proved;
}
