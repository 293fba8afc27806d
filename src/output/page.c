/*
 * The learner's page, one HTML file that asks nobody for anything.
 *
 * page.html is its frame, page.css and page_*.js its style and script, all compiled in; here they
 * are filled and put together. The charts are drawn by the SVG output (page_chart.c, page_svg.c),
 * once for either hand; what the script must know is one JSON object (page_data.c). Whatever the
 * designer wrote is escaped where it goes in (page_text.c), and the page's policy, by hash, allows
 * this style and this script and nothing else: no request, no style or script of anyone else's.
 */
#include "output/page.h"

#include "page_parts.h"
#include "stitches/stitch.h"
#include "support/units.h"

#include <string.h>
#include <tambour/rows.h>

#define FOLDER "/tambour/page/"

/* A blank in page.html, {{name}}, and what fills it: markup, safe already. */
typedef struct {
	const char *name;
	const char *markup;
} filling;

static char *read_part(const char *name)
{
	g_autofree char *path = g_strconcat(FOLDER, name, NULL);
	g_autoptr(GBytes) bytes =
		g_resource_lookup_data(tb_page_get_resource(), path, G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);
	if (bytes == NULL)
		g_error("the part %s is not built in", name);
	gsize length;
	const char *text = g_bytes_get_data(bytes, &length);
	return g_strndup(text, length);
}

/* Blanks are looked for in the frame alone, so that nothing filled in is ever filled again. */
static char *fill(const char *frame, const filling *fillings, gsize count)
{
	GString *out = g_string_new(NULL);
	const char *open;
	while ((open = strstr(frame, "{{")) != NULL) {
		const char *close = strstr(open, "}}");
		if (close == NULL)
			break;
		g_string_append_len(out, frame, open - frame);
		for (gsize i = 0; i < count; i++)
			if (strlen(fillings[i].name) == (gsize)(close - open) - 2 &&
				strncmp(fillings[i].name, open + 2, (gsize)(close - open) - 2) == 0)
				g_string_append(out, fillings[i].markup);
		frame = close + 2;
	}
	g_string_append(out, frame);
	return g_string_free(out, FALSE);
}

/* What a policy calls a text that it allows. */
static char *hash_source(const char *text)
{
	GChecksum *sum = g_checksum_new(G_CHECKSUM_SHA256);
	guint8 digest[32];
	gsize length = sizeof digest;
	g_checksum_update(sum, (const guchar *)text, (gssize)strlen(text));
	g_checksum_get_digest(sum, digest, &length);
	g_checksum_free(sum);
	g_autofree char *base64 = g_base64_encode(digest, length);
	return g_strdup_printf("'sha256-%s'", base64);
}

static char *make_policy(const char *style, const char *script)
{
	g_autofree char *style_source = hash_source(style);
	g_autofree char *script_source = *script != '\0' ? hash_source(script) : g_strdup("'none'");
	return g_strdup_printf("default-src 'none'; style-src %s; script-src %s; img-src data:; "
		"base-uri 'none'; form-action 'none'", style_source, script_source);
}

static char *read_script(void)
{
	static const char *const parts[] = {"page.js", "page_chart.js", "page_words.js", "page_place.js",
		"page_steps.js"};
	GString *script = g_string_new("'use strict';\n");
	for (gsize i = 0; i < G_N_ELEMENTS(parts); i++) {
		g_autofree char *part = read_part(parts[i]);
		g_string_append(script, part);
	}
	return g_string_free(script, FALSE);
}

/* A chart for either hand, or NULL members when there is nothing to chart. */
static tb_page_chart chart_for(const tb_page *page, unsigned piece, int size, tb_diagnostics *told)
{
	const tb_page_options *options = page->options;
	g_autoptr(tb_diagnostics) again = tb_diagnostics_create(NULL);
	tb_chart_options how = {.piece = piece, .size = size, .first_row = options->first_row,
		.last_row = options->last_row, .view = options->view, .uk_terms = options->uk_terms,
		.title = options->title};
	tb_page_chart chart = {0};
	chart.right = tb_chart_create(page->worked, &how, page->measure, told);
	how.left_handed = true;
	chart.left = tb_chart_create(page->worked, &how, page->measure, again);
	if (chart.right != NULL)
		chart.sizes = chart.right->sizes;
	return chart;
}

static tb_size_set sizes_made(const tb_page *page, unsigned piece)
{
	tb_size_set made = 0;
	unsigned sizes = tb_pattern_count_sizes(tb_worked_pattern(page->worked));
	for (unsigned size = 0; size < sizes; size++)
		if (tb_worked_fabric(page->worked, piece, size)->row_count > 1)
			made |= 1u << size;
	return made;
}

/* One chart where all sizes share it; else every size has its own, so nobody need be told. */
static void add_piece(tb_page *page, unsigned piece, tb_diagnostics *diagnostics)
{
	tb_page_piece added = {piece, g_array_new(FALSE, TRUE, sizeof(tb_page_chart))};
	tb_size_set made = sizes_made(page, piece);
	g_autoptr(tb_diagnostics) unsaid = tb_diagnostics_create(NULL);
	tb_page_chart shared = {0};
	if (made != 0)
		shared = chart_for(page, piece, 0, unsaid);
	if (shared.right != NULL && shared.left != NULL && shared.sizes == made) {
		g_array_append_val(added.charts, shared);
	} else {
		tb_chart_destroy(shared.right);
		tb_chart_destroy(shared.left);
		for (int size = 0; size < TB_MAX_SIZES; size++) {
			if (!(made >> size & 1))
				continue;
			tb_page_chart own = chart_for(page, piece, size + 1, diagnostics);
			if (own.right != NULL && own.left != NULL) {
				g_array_append_val(added.charts, own);
			} else {
				tb_chart_destroy(own.right);
				tb_chart_destroy(own.left);
			}
		}
	}
	g_array_append_val(page->pieces, added);
}

static void clear_piece(gpointer data)
{
	tb_page_piece *piece = data;
	for (guint i = 0; i < piece->charts->len; i++) {
		tb_page_chart *chart = &g_array_index(piece->charts, tb_page_chart, i);
		tb_chart_destroy(chart->right);
		tb_chart_destroy(chart->left);
	}
	g_array_unref(piece->charts);
}

static void find_stitches(tb_page *page)
{
	const tb_library *library = tb_worked_pattern(page->worked)->library;
	g_autofree bool *used = g_new0(bool, tb_library_count(library) + 1);
	for (guint i = 0; i < page->pieces->len; i++) {
		const GArray *charts = g_array_index(page->pieces, tb_page_piece, i).charts;
		for (guint k = 0; k < charts->len; k++) {
			const tb_chart *chart = g_array_index(charts, tb_page_chart, k).right;
			for (guint p = 0; p < chart->placed->len; p++)
				used[chart->fabric->made[g_array_index(chart->placed, tb_placed, p).made].stitch] = true;
		}
	}
	for (unsigned i = 0; i < tb_library_count(library); i++)
		if (used[i])
			g_ptr_array_add(page->stitches, (gpointer)tb_library_get(library, i));
}

static bool draw_charts(const tb_page *page, tb_page_shapes *shapes, GString *out, GError **error)
{
	unsigned number = 0;
	for (guint i = 0; i < page->pieces->len; i++) {
		const GArray *charts = g_array_index(page->pieces, tb_page_piece, i).charts;
		for (guint k = 0; k < charts->len; k++, number++) {
			const tb_page_chart *chart = &g_array_index(charts, tb_page_chart, k);
			tb_page_frame right = tb_page_chart_frame(chart->right, page->measure);
			tb_page_frame left = tb_page_chart_frame(chart->left, page->measure);
			bool is_left = page->options->left_handed;
			if (!tb_page_put_chart(out, chart->right, number, number > 0 || is_left, &right, shapes,
					error) ||
				!tb_page_put_chart(out, chart->left, number, number > 0 || !is_left, &left, shapes,
					error))
				return false;
		}
	}
	if (number == 0)
		g_set_error(error, TB_OUTPUT_ERROR, TB_OUTPUT_FAILED, "there are no such rows to chart");
	return number > 0;
}

static void put_term(GString *out, const char *terms, const char *abbreviation, const char *name,
	const char *how)
{
	g_string_append_printf(out, "<p class=\"%s\"><b>", terms);
	tb_page_put_html(out, abbreviation);
	g_string_append_printf(out, "</b> <span class=\"land\">%s</span> <span>",
		strcmp(terms, "us") == 0 ? "US" : "UK");
	tb_page_put_html(out, name);
	g_string_append(out, "</span></p>");
	if (*how != '\0') {
		g_string_append_printf(out, "<p class=\"how %s\">", terms);
		tb_page_put_html(out, how);
		g_string_append(out, "</p>");
	}
}

static bool draw_key(const tb_page *page, tb_page_shapes *shapes, GString *out, GError **error)
{
	for (guint i = 0; i < page->stitches->len; i++) {
		const tb_stitch *stitch = g_ptr_array_index(page->stitches, i);
		g_autofree char *us = tb_stitch_describe(stitch, false);
		g_autofree char *uk = tb_stitch_describe(stitch, true);
		g_string_append_printf(out, "<li data-stitch=\"%u\"><span class=\"drawn\">", i);
		if (!tb_page_put_symbol(out, stitch, shapes, error))
			return false;
		g_string_append(out, "</span><div>");
		put_term(out, "us", stitch->us, stitch->us_name, us);
		put_term(out, "uk", stitch->uk, stitch->uk_name, uk);
		g_string_append(out, "</div></li>\n");
	}
	return true;
}

/* All rows of all sizes, for who has no script. */
static void put_rows(const tb_page *page, GString *out)
{
	const tb_pattern *pattern = tb_worked_pattern(page->worked);
	for (guint i = 0; i < page->pieces->len; i++) {
		unsigned piece = g_array_index(page->pieces, tb_page_piece, i).piece;
		g_autofree char *text = g_strchomp(g_strdup(page->rows[piece]));
		g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
		if (page->pieces->len > 1) {
			g_string_append(out, "<h3>");
			tb_page_put_html(out, tb_pattern_get_piece(pattern, piece));
			g_string_append(out, "</h3>");
		}
		g_string_append(out, "<ol>");
		for (int k = 0; lines[k] != NULL; k++) {
			g_string_append(out, "<li>");
			tb_page_put_html(out, lines[k]);
			g_string_append(out, "</li>\n");
		}
		g_string_append(out, "</ol>");
	}
}

static void put_fact(GString *out, const char *name, const char *text)
{
	if (text == NULL || *text == '\0')
		return;
	g_string_append_printf(out, "<div><dt>%s</dt><dd>", name);
	tb_page_put_html(out, text);
	g_string_append(out, "</dd></div>");
}

static char *say_gauge(const tb_gauge *gauge)
{
	GString *text = g_string_new(NULL);
	if (!gauge->given)
		return g_string_free(text, FALSE);
	tb_page_put_number(text, gauge->stitches);
	g_string_append(text, " sts");
	if (gauge->has_rows) {
		g_string_append(text, " and ");
		tb_page_put_number(text, gauge->rows);
		g_string_append(text, " rows");
	}
	g_string_append(text, " = ");
	tb_page_put_number(text, gauge->over_mm / (gauge->over_inches ? TB_MM_PER_INCH : 10));
	g_string_append(text, gauge->over_inches ? " in" : " cm");
	return g_string_free(text, FALSE);
}

static void put_facts(const tb_pattern *pattern, GString *out)
{
	static const char *const weights[] = {"lace", "super fine", "fine", "light", "medium", "bulky",
		"super bulky", "jumbo"};
	g_autofree char *gauge = say_gauge(&pattern->gauge);
	g_autoptr(GString) yarn = g_string_new(NULL);
	if (pattern->yarn_weight >= 0 && pattern->yarn_weight < (int)G_N_ELEMENTS(weights))
		g_string_append_printf(yarn, "weight %d, %s", pattern->yarn_weight,
			weights[pattern->yarn_weight]);
	if (pattern->yarn_note != NULL)
		g_string_append_printf(yarn, "%s%s", yarn->len > 0 ? ". " : "", pattern->yarn_note);
	put_fact(out, "Gauge", gauge);
	put_fact(out, "Hook", pattern->hook);
	put_fact(out, "Yarn", yarn->str);
	put_fact(out, "Notes", pattern->notes);
	put_fact(out, "Licence", pattern->licence);
}

static char *assemble(const tb_page *page, const char *charts, const char *shapes, const char *key)
{
	const tb_pattern *pattern = tb_worked_pattern(page->worked);
	const char *name = page->options->title != NULL ? page->options->title : pattern->title;
	g_autofree char *frame = read_part("page.html"), *style = read_part("page.css");
	g_autofree char *script = read_script();
	g_autofree char *policy = make_policy(style, script);
	g_autofree char *data = tb_page_data(page);
	g_autoptr(GString) title = g_string_new(NULL), by = g_string_new(NULL);
	g_autoptr(GString) about = g_string_new(NULL), facts = g_string_new(NULL);
	g_autoptr(GString) rows = g_string_new(NULL);
	tb_page_put_html(title, name != NULL ? name : "Crochet chart");
	if (pattern->designer != NULL) {
		g_string_append(by, "by ");
		tb_page_put_html(by, pattern->designer);
	}
	tb_page_put_html(about, pattern->about);
	put_facts(pattern, facts);
	put_rows(page, rows);
	const filling fillings[] = {
		{"policy", policy}, {"style", style}, {"script", script}, {"title", title->str},
		{"by", by->str}, {"about", about->str}, {"facts", facts->str}, {"charts", charts},
		{"shapes", shapes}, {"key", key}, {"rows", rows->str}, {"data", data},
		{"hand", page->options->left_handed ? "left" : "right"},
		{"terms", page->options->uk_terms ? "uk" : "us"},
		{"watching", page->options->watching ? " data-watching" : ""},
	};
	return fill(frame, fillings, G_N_ELEMENTS(fillings));
}

/* All that the page says in words, by piece; false, which is told, where it does not hold. */
static bool write_rows(tb_page *page, tb_diagnostics *diagnostics)
{
	unsigned sizes = tb_pattern_count_sizes(tb_worked_pattern(page->worked));
	page->rows = tb_rows_texts(page->worked, -1, page->options->uk_terms, diagnostics);
	bool done = page->rows != NULL;
	for (unsigned i = 0; i < 2 * sizes && done; i++) {
		char ***rows = &page->size_rows[i % 2][i / 2];
		*rows = tb_rows_texts(page->worked, (int)(i / 2), i % 2 == 1, diagnostics);
		done = *rows != NULL;
	}
	return done;
}

static void free_rows(tb_page *page)
{
	g_strfreev(page->rows);
	for (unsigned i = 0; i < TB_MAX_SIZES; i++) {
		g_strfreev(page->size_rows[0][i]);
		g_strfreev(page->size_rows[1][i]);
	}
}

char *tb_page_html(const tb_worked *worked, const tb_page_options *options,
	const tb_text_measure *measure, tb_diagnostics *diagnostics, GError **error)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	g_return_val_if_fail(options->piece <= (int)tb_pattern_count_pieces(pattern), NULL);
	g_return_val_if_fail(options->size <= (int)tb_pattern_count_sizes(pattern), NULL);
	tb_page page = {.worked = worked, .options = options, .measure = measure};
	char *html = NULL;
	if (!write_rows(&page, diagnostics)) {
		free_rows(&page);
		return NULL;
	}
	page.pieces = g_array_new(FALSE, TRUE, sizeof(tb_page_piece));
	g_array_set_clear_func(page.pieces, clear_piece);
	page.stitches = g_ptr_array_new();
	unsigned count = tb_pattern_count_pieces(pattern);
	for (unsigned piece = 0; piece < count; piece++)
		if (options->piece == 0 || piece == (unsigned)options->piece - 1)
			add_piece(&page, piece, diagnostics);
	find_stitches(&page);

	tb_page_shapes *shapes = tb_page_shapes_create();
	g_autoptr(GString) charts = g_string_new(NULL), key = g_string_new(NULL);
	if (draw_charts(&page, shapes, charts, error) && draw_key(&page, shapes, key, error))
		html = assemble(&page, charts->str, tb_page_shapes_get(shapes), key->str);
	tb_page_shapes_destroy(shapes);
	g_array_unref(page.pieces);
	g_ptr_array_unref(page.stitches);
	free_rows(&page);
	return html;
}

char *tb_page_faults(tb_diagnostics *diagnostics)
{
	g_autofree char *frame = read_part("faults.html"), *style = read_part("page.css");
	g_autofree char *policy = make_policy(style, "");
	g_autofree char *text = tb_diagnostics_format(diagnostics);
	g_autoptr(GString) faults = g_string_new(NULL);
	/* Line by line, since a control would be made a space. */
	g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
	for (int i = 0; lines[i] != NULL; i++) {
		tb_page_put_html(faults, lines[i]);
		g_string_append_c(faults, '\n');
	}
	const filling fillings[] = {{"policy", policy}, {"style", style}, {"faults", faults->str}};
	return fill(frame, fillings, G_N_ELEMENTS(fillings));
}
