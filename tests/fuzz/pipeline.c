/*
 * The whole way: bytes to pattern, fabric, chart, drawing and SVG, in memory; of some inputs the
 * sheet and the learner's page as well. How it is charted hangs on the input's own bytes, so that an
 * input is the pattern and nothing else.
 */
#include "fuzz.h"

#include <string.h>
#include <tambour/output.h>
#include <tambour/page.h>
#include <tambour/rows.h>

static double fixed_width(void *data, const char *text, double size_mm, tb_face face)
{
	return (double)g_utf8_strlen(text, -1) * size_mm * (face != TB_FACE_PLAIN ? 0.65 : 0.58);
}

static const tb_text_measure MEASURE = {fixed_width, NULL};

/* FNV-1a. */
static guint32 hash_bytes(const uint8_t *data, size_t size)
{
	guint32 hash = 2166136261u;
	for (size_t i = 0; i < size; i++)
		hash = (hash ^ data[i]) * 16777619u;
	return hash ^ hash >> 15;
}

static bool has_word(const char *text, const char *word)
{
	for (const char *at = strstr(text, word); at != NULL; at = strstr(at + 1, word))
		if ((at == text || !g_ascii_isalpha(at[-1])) && !g_ascii_isalpha(at[strlen(word)]))
			return true;
	return false;
}

static void check_element(GMarkupParseContext *context, const char *element, const char **names,
	const char **values, gpointer data, GError **error)
{
	for (; *values != NULL; names++, values++)
		tb_fuzz_require(!has_word(*values, "nan") && !has_word(*values, "inf"), "<%s %s=\"%s\">",
			element, *names, *values);
}

static void check_svg(const char *svg, size_t length)
{
	static const GMarkupParser parser = {.start_element = check_element};
	g_autoptr(GError) error = NULL;
	tb_fuzz_require(length > 20 && memcmp(svg, "<?xml", 5) == 0, "an SVG begins otherwise");
	while (length > 0 && svg[length - 1] == '\n')
		length--;
	tb_fuzz_require(memcmp(svg + length - 6, "</svg>", 6) == 0, "an SVG ends otherwise");
	GMarkupParseContext *context = g_markup_parse_context_new(&parser, 0, NULL, NULL);
	bool sound = g_markup_parse_context_parse(context, svg, (gssize)length, &error) &&
				 g_markup_parse_context_end_parse(context, &error);
	tb_fuzz_require(sound, "an SVG is not well formed: %s", error != NULL ? error->message : "");
	g_markup_parse_context_free(context);
}

static void draw_chart(const tb_chart *chart)
{
	g_autoptr(GError) error = NULL;
	g_autofree char *json = tb_chart_to_json(chart);
	tb_fuzz_check_json(json, "a chart");
	tb_drawing *drawing = tb_chart_draw(chart);
	g_autoptr(GByteArray) svg = tb_output_render(drawing, "svg", NULL, &error);
	tb_fuzz_require(svg != NULL, "no SVG: %s", error != NULL ? error->message : "nothing is said");
	check_svg((const char *)svg->data, svg->len);
	tb_drawing_destroy(drawing);
}

static void make_chart(const tb_worked *worked, tb_diagnostics *diagnostics, guint32 hash)
{
	tb_chart_options options = {
		.full = (hash & 1) != 0,
		.left_handed = (hash & 2) != 0,
		.view = (hash & 4) != 0 ? TB_VIEW_WORKED : TB_VIEW_AUTO,
		.fabric_scale = (hash & 8) != 0,
		.uk_terms = (hash & 16) != 0,
		.size = (hash & 0xe0) == 0,
	};
	tb_chart *chart = tb_chart_create(worked, &options, &MEASURE, diagnostics);
	tb_fuzz_require(chart != NULL || tb_diagnostics_count_errors(diagnostics) > 0,
		"no chart, and nothing said");
	if (chart != NULL)
		draw_chart(chart);
	tb_chart_destroy(chart);
}

static void make_sheet(const tb_worked *worked, tb_diagnostics *diagnostics, guint32 hash)
{
	tb_sheet_options options = {.left_handed = (hash & 2) != 0, .large_print = (hash & 4) != 0};
	g_autoptr(GError) error = NULL;
	tb_pages *pages = tb_sheet_create(worked, &options, &MEASURE, diagnostics);
	tb_fuzz_require(pages != NULL || tb_diagnostics_count_errors(diagnostics) > 0,
		"no sheet, and nothing said");
	if (pages == NULL)
		return;
	tb_document *document = tb_pages_draw(pages);
	g_autoptr(GByteArray) pdf = tb_output_render_document(document, NULL, &error);
	tb_fuzz_require(pdf != NULL, "no PDF: %s", error != NULL ? error->message : "nothing is said");
	tb_fuzz_require(pdf->len > 8 && memcmp(pdf->data, "%PDF-", 5) == 0, "a PDF begins otherwise");
	tb_document_destroy(document);
	tb_pages_destroy(pages);
}

static void make_page(const tb_worked *worked, tb_diagnostics *diagnostics, guint32 hash)
{
	tb_page_options options = {.left_handed = (hash & 2) != 0, .uk_terms = (hash & 4) != 0};
	g_autoptr(GError) error = NULL;
	g_autofree char *html = tb_page_html(worked, &options, &MEASURE, diagnostics, &error);
	tb_fuzz_require(html != NULL || error != NULL || tb_diagnostics_count_errors(diagnostics) > 0,
		"no page, and nothing said");
	tb_fuzz_require(html == NULL || g_str_has_suffix(g_strchomp(html), "</html>"),
		"a page ends otherwise");
}

static void make_all(const tb_pattern *pattern, const tb_worked *worked,
	tb_diagnostics *diagnostics, guint32 hash)
{
	g_auto(GStrv) rows = tb_rows_texts(worked, -1, (hash & 16) != 0, diagnostics);
	g_autofree char *faults = tb_diagnostics_format(diagnostics);
	tb_fuzz_require(rows != NULL, "the rows do not hold:\n%s", faults);
	for (unsigned i = 0; i < tb_pattern_count_pieces(pattern); i++)
		tb_fuzz_require(rows[i] != NULL && g_utf8_validate(rows[i], -1, NULL), "no rows");
	make_chart(worked, diagnostics, hash);
	if ((hash & 0x700) == 0)
		make_sheet(worked, diagnostics, hash);
	if ((hash & 0x700) == 0x100)
		make_page(worked, diagnostics, hash);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	g_autoptr(tb_source) source = tb_source_create("fuzz", (const char *)data, size);
	g_autoptr(tb_diagnostics) diagnostics = tb_diagnostics_create(source);
	g_autoptr(tb_pattern) pattern = tb_pattern_read(source, tb_fuzz_library(), diagnostics);
	if (pattern == NULL)
		return 0;
	g_autoptr(tb_worked) worked = tb_work(pattern, diagnostics);
	g_autofree char *json = tb_check_json(worked, diagnostics, -1);
	tb_fuzz_check_json(json, "a check");
	if (tb_diagnostics_count_errors(diagnostics) == 0)
		make_all(pattern, worked, diagnostics, hash_bytes(data, size));
	tb_fuzz_check_faults(diagnostics);
	return 0;
}
