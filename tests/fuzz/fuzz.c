#include "fuzz.h"

#include "stitches/stitch.h"

#include <cjson/cJSON.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void tb_fuzz_require(bool holds, const char *format, ...)
{
	if (holds)
		return;
	va_list arguments;
	va_start(arguments, format);
	fputs("untrue: ", stderr);
	vfprintf(stderr, format, arguments);
	fputc('\n', stderr);
	va_end(arguments);
	abort();
}

tb_library *tb_fuzz_library(void)
{
	static tb_library *library;
	if (library != NULL && library->stitches->len > library->built_in)
		g_clear_pointer(&library, tb_library_destroy);
	if (library == NULL)
		library = tb_library_create();
	return library;
}

static bool is_inside_character(const char *text, size_t offset)
{
	return ((unsigned char)text[offset] & 0xc0) == 0x80;
}

/* What is missing at the end of a text is shown one place behind it. */
static void check_place(const tb_source *source, const tb_diagnostic *fault)
{
	size_t length;
	unsigned line = 0, column = 0;
	const char *text = tb_source_get_text(source, &length);
	tb_span place = fault->place;
	tb_fuzz_require(place.start <= length && place.end <= length + 1 && place.start <= place.end,
		"%s is at bytes %zu to %zu of %zu", fault->code, place.start, place.end, length);
	if (g_utf8_validate_len(text, length, NULL))
		tb_fuzz_require(!is_inside_character(text, place.start),
			"%s begins inside a character, at byte %zu", fault->code, place.start);
	tb_source_locate(source, place.start, &line, &column);
	tb_fuzz_require(line > 0 && column > 0, "%s is at line %u, column %u", fault->code, line,
		column);
}

static void check_words(const tb_diagnostic *fault)
{
	tb_fuzz_require(fault->message != NULL && *fault->message != '\0', "%s says nothing",
		fault->code);
	tb_fuzz_require(fault->hint == NULL || *fault->hint != '\0', "%s has an empty hint",
		fault->code);
}

void tb_fuzz_check_faults(tb_diagnostics *diagnostics)
{
	const tb_source *source = tb_diagnostics_get_source(diagnostics);
	unsigned count = tb_diagnostics_count(diagnostics), errors = 0;
	for (unsigned i = 0; i < count; i++) {
		const tb_diagnostic *fault = tb_diagnostics_get(diagnostics, i);
		if (fault->has_place && source != NULL)
			check_place(source, fault);
		check_words(fault);
		errors += fault->severity == TB_ERROR;
	}
	tb_fuzz_require(errors <= tb_diagnostics_count_errors(diagnostics), "%u errors are %u", errors,
		tb_diagnostics_count_errors(diagnostics));
	g_autofree char *printed = tb_diagnostics_format(diagnostics);
	tb_fuzz_require((*printed == '\0') == (count == 0), "%u faults print as \"%s\"", count,
		printed);
	tb_fuzz_require(g_utf8_validate(printed, -1, NULL), "faults are not printed as UTF-8");
	for (const char *c = printed; *c != '\0'; c++)
		tb_fuzz_require(*c == '\n' || !g_ascii_iscntrl(*c), "faults print control character %d", *c);
}

/*
 * A row knows for each of its bytes where in the source it came from, going forward; a count that stands before the
 * work, "Rnd 4. [18] Sc in each st", is read behind it.
 */
static void check_text(const tb_pattern *pattern, const tb_text *text)
{
	size_t length;
	tb_source_get_text(pattern->source, &length);
	tb_fuzz_require(strlen(text->chars) == text->length, "a row of %zu bytes has %zu",
		text->length, strlen(text->chars));
	tb_fuzz_require(g_utf8_validate(text->chars, -1, NULL), "a row is not UTF-8");
	size_t before = 0;
	bool went_back = false;
	for (size_t i = 0; i < text->length; i++) {
		tb_span span = tb_text_span(text, i, i + 1);
		bool back = span.start < before;
		tb_fuzz_require(!(back && went_back) && span.end >= span.start && span.end <= length,
			"byte %zu of a row is from bytes %zu to %zu of %zu", i, span.start, span.end, length);
		before = span.start;
		went_back = went_back || back;
	}
}

static void check_piece(const tb_pattern *pattern, const tb_piece *piece)
{
	tb_fuzz_require(piece->name != NULL, "a piece has no name");
	if (piece->start != NULL)
		check_text(pattern, piece->start);
	if (piece->from_text != NULL)
		check_text(pattern, piece->from_text);
	tb_fuzz_require(piece->rows->len == piece->row_reads->len, "%u rows have %u reads",
		piece->rows->len, piece->row_reads->len);
	for (guint i = 0; i < piece->rows->len; i++)
		check_text(pattern, piece->rows->pdata[i]);
}

/* Every character is read, and once. */
static void check_reads(const tb_pattern *pattern)
{
	size_t length, at = 0;
	tb_source_get_text(pattern->source, &length);
	for (guint i = 0; i < pattern->reads->len; i++) {
		const tb_read *read = &g_array_index(pattern->reads, tb_read, i);
		tb_fuzz_require(read->span.start == at && read->span.end > at,
			"read %u is %zu to %zu, behind %zu", i, read->span.start, read->span.end, at);
		at = read->span.end;
	}
	tb_fuzz_require(at == length, "read up to %zu of %zu", at, length);
}

void tb_fuzz_check_pattern(const tb_pattern *pattern)
{
	check_reads(pattern);
	unsigned sizes = tb_pattern_count_sizes(pattern);
	tb_fuzz_require(sizes >= 1 && sizes <= TB_MAX_SIZES, "%u sizes", sizes);
	for (unsigned i = 0; i < sizes; i++)
		tb_fuzz_require(tb_pattern_get_size(pattern, i) != NULL, "size %u has no name", i);
	for (unsigned i = 0; i < tb_pattern_count_pieces(pattern); i++)
		check_piece(pattern, tb_pattern_piece(pattern, i));
	const tb_gauge *gauge = &pattern->gauge;
	if (gauge->given)
		tb_fuzz_require(gauge->stitches > 0 && gauge->stitches < 1e6 && gauge->over_mm > 0 &&
							(!gauge->has_rows || gauge->rows > 0),
			"a gauge of %g sts and %g rows to %g mm", gauge->stitches, gauge->rows,
			gauge->over_mm);
}

void tb_fuzz_check_json(const char *text, const char *what)
{
	cJSON *json = cJSON_ParseWithOpts(text, NULL, true);
	tb_fuzz_require(json != NULL, "%s is not JSON:\n%s", what, text);
	cJSON_Delete(json);
}
