/*
 * The pattern: what the designer wrote, checked for form.
 *
 * tb_pattern_read looks at the first character to tell the spelling, and hands the text to that
 * spelling's reader. A reader fills the model once and tells all the faults it finds, each at its
 * place; what could be read is there even so, that later steps can find their own faults. Rows are
 * kept as texts: the row language is the business of notation/.
 */
#include "pattern/pattern.h"

#include "pattern/defined.h"
#include "pattern/read.h"
#include "support/limits.h"

#include <string.h>

static void clear_finished(void *finished)
{
	g_free(((tb_finished *)finished)->piece);
}

static void clear_laid(void *laid)
{
	g_free(((tb_laid *)laid)->of);
}

static void clear_gauge(void *gauge)
{
	g_free(((tb_kind_gauge *)gauge)->stitch);
}

tb_pattern *tb_pattern_create(const tb_source *source, tb_library *library)
{
	tb_pattern *pattern = g_new0(tb_pattern, 1);
	pattern->source = source;
	pattern->library = library;
	pattern->yarn_weight = -1;
	pattern->sizes = g_ptr_array_new_with_free_func(g_free);
	pattern->pieces = g_ptr_array_new_with_free_func((GDestroyNotify)tb_piece_destroy);
	pattern->charts = g_ptr_array_new_with_free_func((GDestroyNotify)tb_chart_request_destroy);
	pattern->definitions = g_ptr_array_new_with_free_func((GDestroyNotify)tb_text_destroy);
	pattern->inline_definitions = g_ptr_array_new_with_free_func((GDestroyNotify)tb_text_destroy);
	pattern->remarks = g_ptr_array_new_with_free_func((GDestroyNotify)tb_text_destroy);
	pattern->reads = g_array_new(FALSE, FALSE, sizeof(tb_read));
	pattern->finished = g_array_new(FALSE, FALSE, sizeof(tb_finished));
	g_array_set_clear_func(pattern->finished, clear_finished);
	pattern->seams = g_array_new(FALSE, FALSE, sizeof(tb_seam));
	pattern->laid = g_array_new(FALSE, FALSE, sizeof(tb_laid));
	g_array_set_clear_func(pattern->laid, clear_laid);
	pattern->gauges = g_array_new(FALSE, FALSE, sizeof(tb_kind_gauge));
	g_array_set_clear_func(pattern->gauges, clear_gauge);
	return pattern;
}

void tb_pattern_destroy(tb_pattern *pattern)
{
	if (pattern == NULL)
		return;
	g_free(pattern->title);
	g_free(pattern->designer);
	g_free(pattern->about);
	g_free(pattern->licence);
	g_free(pattern->notes);
	g_free(pattern->yarn_note);
	g_free(pattern->hook);
	g_ptr_array_unref(pattern->sizes);
	g_ptr_array_unref(pattern->pieces);
	g_ptr_array_unref(pattern->charts);
	g_clear_pointer(&pattern->defined, g_hash_table_unref);
	g_ptr_array_unref(pattern->definitions);
	g_ptr_array_unref(pattern->inline_definitions);
	g_ptr_array_unref(pattern->remarks);
	g_array_unref(pattern->reads);
	g_array_unref(pattern->gauges);
	g_array_unref(pattern->finished);
	g_array_unref(pattern->laid);
	g_array_unref(pattern->seams);
	g_free(pattern);
}

void tb_pattern_add_gauge(tb_pattern *pattern, const tb_kind_gauge *gauge)
{
	tb_kind_gauge own = *gauge;
	own.stitch = g_strdup(gauge->stitch);
	g_array_append_val(pattern->gauges, own);
	if (pattern->gauges->len == 1)
		pattern->gauge = gauge->gauge;
}

static void clear_part(void *part)
{
	g_free(((tb_piece_part *)part)->name);
}

tb_piece *tb_piece_create(void)
{
	tb_piece *piece = g_new0(tb_piece, 1);
	piece->rows = g_ptr_array_new_with_free_func((GDestroyNotify)tb_text_destroy);
	piece->row_reads = g_array_new(FALSE, FALSE, sizeof(guint));
	piece->parts = g_array_new(FALSE, FALSE, sizeof(tb_piece_part));
	g_array_set_clear_func(piece->parts, clear_part);
	piece->make = 1;
	return piece;
}

void tb_piece_add_part(tb_piece *piece, char *name)
{
	tb_piece_part part = {name, piece->rows->len};
	/* of a heading over a heading the lower one is over the rows */
	if (piece->parts->len > 0 && g_array_index(piece->parts, tb_piece_part, piece->parts->len - 1).row == part.row)
		g_array_set_size(piece->parts, piece->parts->len - 1);
	g_array_append_val(piece->parts, part);
}

void tb_piece_add_row(tb_piece *piece, tb_text *row, guint read)
{
	g_ptr_array_add(piece->rows, row);
	g_array_append_val(piece->row_reads, read);
}

void tb_piece_destroy(tb_piece *piece)
{
	if (piece == NULL)
		return;
	g_free(piece->name);
	g_free(piece->folded_name);
	tb_text_destroy(piece->start);
	g_ptr_array_unref(piece->rows);
	g_array_unref(piece->row_reads);
	g_clear_pointer(&piece->parts, g_array_unref);
	g_free(piece->heading);
	g_free(piece->from_piece);
	tb_text_destroy(piece->from_text);
	g_free(piece);
}

void tb_chart_request_destroy(tb_chart_request *request)
{
	if (request == NULL)
		return;
	g_free(request->title);
	g_free(request->piece);
	g_free(request);
}

/* False, with a fault told, when SOURCE is no text that a reader should look at. */
static bool check_text(const tb_source *source, tb_diagnostics *diagnostics)
{
	size_t length;
	const char *text = tb_source_get_text(source, &length);
	tb_where where = {.has_place = true};
	if (length > TB_LIMIT_PATTERN_BYTES) {
		where.place = (tb_span){TB_LIMIT_PATTERN_BYTES, TB_LIMIT_PATTERN_BYTES + 1};
		tb_diagnose_format(diagnostics, TB_ERROR, "pattern-too-large", &where,
			"Split it into several patterns.",
			"the pattern is larger than %u MiB", TB_LIMIT_PATTERN_BYTES / (1024 * 1024));
		return false;
	}
	if (length >= 2 && (memcmp(text, "\xff\xfe", 2) == 0 || memcmp(text, "\xfe\xff", 2) == 0)) {
		where.place = (tb_span){0, 1};
		tb_diagnose(diagnostics, TB_ERROR, "text-encoding", &where, "the text is in UTF-16",
			"Save the pattern as plain text in UTF-8.");
		return false;
	}
	const char *bad = text;
	if (length > 0 && !g_utf8_validate_len(text, length, &bad)) {
		size_t at = (size_t)(bad - text);
		where.place = (tb_span){at, at + 1};
		tb_diagnose(diagnostics, TB_ERROR, "text-encoding", &where,
			*bad == '\0' ? "a zero byte stands in the text" : "from here on the text is not UTF-8",
			"Save the pattern as plain text in UTF-8.");
		return false;
	}
	return true;
}

tb_pattern *tb_pattern_read(const tb_source *source, tb_library *library,
	tb_diagnostics *diagnostics)
{
	if (!check_text(source, diagnostics))
		return NULL;
	size_t length;
	const char *text = tb_source_get_text(source, &length);
	size_t at = g_str_has_prefix(text, "\xef\xbb\xbf") ? 3 : 0;
	at += strspn(text + at, " \t\r\n");
	if (at == length) {
		tb_where where = {.has_place = true, .place = {at, at + 1}};
		tb_diagnose(diagnostics, TB_ERROR, "pattern-empty", &where, "the pattern is empty",
			"A pattern has a title, sizes, gauge and pieces with rows.");
		return NULL;
	}
	g_autoptr(tb_pattern) pattern = tb_pattern_create(source, library);
	/* JSON begins with its bracket; a text as designers write it never does. */
	bool read = text[at] == '{' ? tb_pattern_read_json(pattern, diagnostics) :
		tb_pattern_read_text(pattern, diagnostics);
	if (!read)
		return NULL;
	tb_defined_read(pattern, pattern->about);
	tb_defined_read(pattern, pattern->notes);
	tb_reads_finish(pattern, length);
	if (pattern->sizes->len == 0)
		g_ptr_array_add(pattern->sizes, g_strdup(""));
	g_ptr_array_add(pattern->sizes, NULL);
	tb_diagnostics_set_sizes(diagnostics, (const char *const *)pattern->sizes->pdata,
		tb_pattern_count_sizes(pattern));
	return g_steal_pointer(&pattern);
}

const char *tb_pattern_get_title(const tb_pattern *pattern)
{
	return pattern->title;
}

const char *tb_pattern_get_designer(const tb_pattern *pattern)
{
	return pattern->designer;
}

unsigned tb_pattern_count_sizes(const tb_pattern *pattern)
{
	return pattern->sizes->len - 1;
}

const char *tb_pattern_get_size(const tb_pattern *pattern, unsigned size)
{
	return size < tb_pattern_count_sizes(pattern) ? pattern->sizes->pdata[size] : NULL;
}

static bool is_same_name(const char *a, const char *b)
{
	g_autofree char *x = g_utf8_casefold(a, -1);
	g_autofree char *y = g_utf8_casefold(b, -1);
	return strcmp(x, y) == 0;
}

int tb_pattern_find_size(const tb_pattern *pattern, const char *name)
{
	for (unsigned i = 0; i < tb_pattern_count_sizes(pattern); i++) {
		if (is_same_name(tb_pattern_get_size(pattern, i), name))
			return (int)i;
	}
	return -1;
}

unsigned tb_pattern_count_pieces(const tb_pattern *pattern)
{
	return pattern->pieces->len;
}

const tb_piece *tb_pattern_piece(const tb_pattern *pattern, unsigned piece)
{
	return pattern->pieces->pdata[piece];
}

const char *tb_pattern_get_piece(const tb_pattern *pattern, unsigned piece)
{
	return piece < pattern->pieces->len ? tb_pattern_piece(pattern, piece)->name : NULL;
}

void tb_pattern_add_piece(tb_pattern *pattern, tb_piece *piece)
{
	piece->folded_name = g_utf8_casefold(piece->name, -1);
	g_ptr_array_add(pattern->pieces, piece);
}

int tb_pattern_find_piece(const tb_pattern *pattern, const char *name)
{
	g_autofree char *folded = g_utf8_casefold(name, -1);
	for (unsigned i = 0; i < tb_pattern_count_pieces(pattern); i++) {
		if (strcmp(tb_pattern_piece(pattern, i)->folded_name, folded) == 0)
			return (int)i;
	}
	return -1;
}
