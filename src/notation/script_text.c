/* One text is read, or told to be wrong; what no row needs is refused before. */
#include "notation/script.h"

#include "support/limits.h"

#include <string.h>

bool tb_reader_fail(tb_reader *r, const char *code, guint32 from, guint32 to, const char *hint,
	const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	g_autofree char *message = g_strdup_vprintf(format, arguments);
	va_end(arguments);
	tb_where where = {.has_place = true, .place = tb_build_span(&r->b, from, to), .piece = r->piece,
		.row = r->row, .is_round = r->is_round};
	tb_diagnose(r->diagnostics, TB_ERROR, code, &where, message, hint);
	return false;
}

/* --- one text --- */

void tb_reader_close_text(tb_reader *r)
{
	g_clear_pointer(&r->scratch, tb_arena_destroy);
}

/* The number behind "Row" at the text's beginning, before anything is read. */
static void guess_row(tb_reader *r)
{
	const tb_lattice *l = &r->lattice;
	for (guint32 word = 0; word + 1 < MIN(l->count, 4u); word++) {
		for (guint32 e = l->first_edge[word]; e < l->first_edge[word + 1]; e++) {
			if (l->edges[e].term != TB_TERM_row && l->edges[e].term != TB_TERM_rnd)
				continue;
			r->row = (unsigned)MIN(strtoul(l->text->chars + l->start[word + 1], NULL, 10),
				TB_LIMIT_PIECE_ROWS);
			r->is_round = l->edges[e].term == TB_TERM_rnd;
		}
	}
}

static bool is_counted(const tb_lattice *l, guint32 word)
{
	for (guint32 e = l->first_edge[word]; e < l->first_edge[word + 1] && word < l->count; e++) {
		unsigned term = l->edges[e].term;
		if (term == TB_TERM_CLASS_stitchname || term == TB_TERM_st || term == TB_TERM_ch)
			return true;
	}
	return false;
}

/* "20 (22) dc" where there are three sizes: no other reading can make sense of it. */
static bool check_figures(tb_reader *r, guint32 word)
{
	const tb_lattice *l = &r->lattice;
	const char *text = l->text->chars;
	guint32 next = word + 1, behind = word + 2;
	if (behind < l->count && text[l->start[next]] == '.' && l->start[next] == l->stop[word] &&
		l->start[behind] == l->stop[next] && g_ascii_isdigit(text[l->start[behind]]) &&
		is_counted(l, word + 3)) {
		guess_row(r);
		return tb_reader_fail(r, "number-not-whole", word, word + 3, "Round it up or down.",
			"stitches are counted in whole numbers");
	}
	if (behind >= l->count || text[l->start[next]] != '(')
		return true;
	while (behind < l->count && (g_ascii_isdigit(text[l->start[behind]]) ||
			tb_is_among(text[l->start[behind]], ",;:-/")))
		behind++;
	if (behind + 1 >= l->count || text[l->start[behind]] != ')' || !is_counted(l, behind + 1) ||
		behind == word + 2)
		return true;
	for (guint32 e = l->first_edge[word]; e < l->first_edge[word + 1]; e++) {
		if (l->edges[e].end == behind + 1)
			return true; /* a figure for each size */
	}
	guess_row(r);
	return tb_reader_check_sizes(r, word);
}

/* Numbers and brackets that no row needs are refused before anything is made of them. */
static bool check_measures(tb_reader *r)
{
	const tb_lattice *l = &r->lattice;
	for (guint32 word = 0; word < l->count; word++) {
		const char *at = l->text->chars + l->start[word];
		if (g_ascii_isdigit(*at) && g_ascii_strtoull(at, NULL, 10) > TB_LIMIT_NUMBER) {
			guess_row(r);
			return tb_reader_fail(r, "number-too-large", word, word + 1,
				"A row ends at 100,000 stitches.", "this number is larger than any row");
		}
		if (g_ascii_isdigit(*at) && !check_figures(r, word))
			return false;
		if (word == l->too_deep) {
			guess_row(r);
			return tb_reader_fail(r, "nesting-too-deep", word, word + 1,
				"Write part of it as a row of its own.",
				"brackets stand more than %u deep in each other", TB_LIMIT_NESTING);
		}
	}
	return true;
}

static void parse(tb_reader *r)
{
	tb_chart_read(&r->chart, &tb_english, &r->lattice, r->rule, TB_CHART_READ, r->scratch);
	r->readings = tb_chart_readings(&r->chart, &r->reading_count);
}

void tb_reader_read_instead(tb_reader *r, const tb_text *text, bool doubts)
{
	r->text = text;
	tb_lattice_make(&r->lattice, r->b.vocabulary, r->text, doubts, r->scratch);
	tb_build_begin(&r->b, &r->lattice, r->scratch);
	parse(r);
}

/* Reads the text without words that nobody knows, where that helps. */
static bool leave_out(tb_reader *r)
{
	if (r->rule != TB_RULE_line)
		return false;
	tb_reader_read_instead(r, r->text, true);
	if (r->reading_count == 0)
		tb_reader_read_instead(r, r->text, false);
	return r->reading_count > 0;
}

bool tb_reader_read(tb_reader *r, const tb_text *text, tb_rule rule, const tb_value **value)
{
	bool alike = tb_reader_is_alike(r, text, rule);
	if (!alike)
		tb_reader_close_text(r);
	r->text = text;
	r->rule = rule;
	r->row = r->row_last = 0;
	r->row_unsure = false;
	r->is_round = false;
	*value = NULL;
	r->reading_count = 0;
	if (text->length > TB_LIMIT_ROW_BYTES) {
		tb_where where = {.has_place = true, .piece = r->piece, .place = tb_text_span(text, 0, 1)};
		tb_diagnose_format(r->diagnostics, TB_ERROR, "row-too-long", &where,
			"Write it as several rows.", "this row is longer than %u KiB",
			TB_LIMIT_ROW_BYTES / 1024);
		return false;
	}
	if (r->b.arena->bytes > TB_LIMIT_WORKING_BYTES) {
		tb_where where = {.has_place = true, .piece = r->piece, .place = tb_text_span(text, 0, 1)};
		tb_diagnose_format(r->diagnostics, TB_ERROR, "limit-memory", &where, "Split the pattern in two.",
			"to read this pattern takes more than %u MiB of memory", (unsigned)(TB_LIMIT_WORKING_BYTES >> 20));
		return false;
	}
	if (alike) {
		tb_reader_read_alike(r);
	} else {
		r->scratch = tb_arena_create();
		tb_lattice_make(&r->lattice, r->b.vocabulary, text, false, r->scratch);
	}
	tb_build_begin(&r->b, &r->lattice, r->scratch);
	if (!check_measures(r))
		return false;
	if (!alike) {
		parse(r);
		tb_reader_keep_alike(r);
	}
	if (r->reading_count == 0 && (r->tries || (!tb_reader_mend(r) && !leave_out(r))))
		return tb_reader_tell_unread(r);
	*value = r->readings[0].value;
	return true;
}

bool tb_reader_try(tb_reader *r, const tb_text *text, tb_rule rule, const tb_value **value)
{
	g_autoptr(tb_diagnostics) unheard = tb_diagnostics_create(NULL);
	tb_diagnostics *heard = r->diagnostics;
	bool tries = r->tries;
	r->diagnostics = unheard;
	r->tries = true;
	bool read = tb_reader_read(r, text, rule, value);
	r->tries = tries;
	r->diagnostics = heard;
	return read;
}

bool tb_reader_breaks_at(const tb_reader *r, const tb_text *text, size_t at)
{
	size_t length;
	if (text->offsets == NULL || text->chars[at] != ' ')
		return false;
	const char *source = tb_source_get_text(r->b.pattern->source, &length);
	for (guint32 i = text->offsets[at]; i < text->offsets[at + 1] && i < length; i++) {
		if (source[i] == '\n' || source[i] == '\r')
			return true;
	}
	return false;
}

bool tb_reader_has_break(const tb_reader *r, const tb_text *text)
{
	for (size_t at = 1; text->offsets != NULL && at < text->length; at++) {
		if (tb_reader_breaks_at(r, text, at))
			return true;
	}
	return false;
}
