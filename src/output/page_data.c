/*
 * What the page's script knows, as one JSON object: sizes, stitches, and for every piece its rows as
 * each size works them, its rows in words, and its charts with every stitch's place and bases.
 *
 * Lists are kept short, a number where a number will do; page.js names their fields at its top.
 */
#include "output/page.h"

#include "words/write.h"
#include "stitches/stitch.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static void put_key(GString *out, const char *key, bool first)
{
	g_string_append_printf(out, "%s\"%s\":", first ? "" : ",", key);
}

static void put_text(GString *out, const char *key, const char *text, bool first)
{
	put_key(out, key, first);
	tb_page_put_json(out, text);
}

static void put_stitch(GString *out, const tb_stitch *stitch)
{
	static const char *const posts[] = {"", "front", "back"};
	g_autofree char *us = tb_stitch_describe(stitch, false);
	g_autofree char *uk = tb_stitch_describe(stitch, true);
	g_string_append_c(out, '{');
	put_text(out, "us", stitch->us, true);
	put_text(out, "usName", stitch->us_name, false);
	put_text(out, "uk", stitch->uk, false);
	put_text(out, "ukName", stitch->uk_name, false);
	put_text(out, "post", posts[stitch->post], false);
	put_text(out, "usHow", us, false);
	put_text(out, "ukHow", uk, false);
	put_key(out, "usMoves", false);
	tb_page_put_moves(out, stitch, false);
	put_key(out, "ukMoves", false);
	tb_page_put_moves(out, stitch, true);
	g_string_append(out, "}");
}

/* The words of a size's rows, by the number of the row; 0 is how the piece starts. */
static GHashTable *split_rows(const char *text)
{
	GHashTable *lines = g_hash_table_new_full(NULL, NULL, NULL, g_free);
	g_auto(GStrv) each = g_strsplit(text, "\n", -1);
	for (int i = 0; each[i] != NULL; i++) {
		const char *line = each[i];
		bool row = g_str_has_prefix(line, "Row "), round = g_str_has_prefix(line, "Rnd ");
		char *end = NULL;
		guint64 number = row || round ? g_ascii_strtoull(line + 4, &end, 10) : 0;
		if (end != NULL && number > 0 && number < G_MAXUINT32 && (*end == ':' || *end == ' '))
			g_hash_table_insert(lines, GUINT_TO_POINTER((guint)number), g_strdup(line));
		else if (i == 0 && *line != '\0')
			g_hash_table_insert(lines, NULL, g_strdup(line));
	}
	return lines;
}

/* A row written out by itself; where the rows in words only say that it repeats, as was said. */
static char *row_words(const tb_page *page, const tb_page_piece *piece, unsigned size, guint32 row,
	GHashTable *lines, bool uk)
{
	const char *line = g_hash_table_lookup(lines, GUINT_TO_POINTER(row));
	if (line != NULL)
		return g_strdup(line);
	const tb_fabric *fabric = tb_worked_fabric(page->worked, piece->piece, size);
	const tb_made_row *made = row > 0 ? tb_fabric_row(fabric, row) : NULL;
	if (made == NULL || made->sentence == NULL)
		return NULL;
	tb_write_options how = {tb_worked_pattern(page->worked), uk, (int)size};
	return tb_sentence_write(made->sentence, &how);
}

/* The largest number of a row that is written out in any size. */
static guint32 last_written(const tb_page *page, const tb_page_piece *piece, unsigned sizes)
{
	guint32 last = 0;
	for (unsigned size = 0; size < sizes; size++) {
		const tb_fabric *fabric = tb_worked_fabric(page->worked, piece->piece, size);
		for (guint32 i = 1; i < fabric->row_count; i++)
			last = MAX(last, fabric->rows[i].written);
	}
	return last;
}

static void put_words(GString *out, const tb_page *page, const tb_page_piece *piece, bool uk)
{
	unsigned sizes = tb_pattern_count_sizes(tb_worked_pattern(page->worked));
	guint32 last = last_written(page, piece, sizes);
	GHashTable *lines[TB_MAX_SIZES];
	for (unsigned size = 0; size < sizes; size++) {
		lines[size] = split_rows(page->size_rows[uk][size][piece->piece]);
	}
	g_string_append_c(out, '{');
	bool any = false;
	for (guint32 row = 0; row <= last; row++) {
		char *texts[TB_MAX_SIZES] = {0};
		bool said = false;
		for (unsigned size = 0; size < sizes; size++) {
			texts[size] = row_words(page, piece, size, row, lines[size], uk);
			said = said || texts[size] != NULL;
		}
		if (said) {
			g_string_append_printf(out, "%s\n\"%u\":", any ? "," : "", row);
			tb_page_put_by_size(out, (const char *const *)texts, sizes);
			any = true;
		}
		for (unsigned size = 0; size < sizes; size++)
			g_free(texts[size]);
	}
	g_string_append_c(out, '}');
	for (unsigned size = 0; size < sizes; size++)
		g_hash_table_unref(lines[size]);
}

static void put_size_rows(GString *out, const tb_fabric *fabric)
{
	g_string_append(out, "{\"rows\":[");
	for (guint32 i = 1; i < fabric->row_count; i++) {
		const tb_made_row *row = &fabric->rows[i];
		g_string_append_printf(out, "%s[%u,%u,%d,%d,%u]", i > 1 ? "," : "", row->number, row->written,
			(int)row->side, row->leftward + 2 * row->is_round, row->stitches);
	}
	g_string_append(out, "],\"again\":[");
	for (guint32 i = 0; i < fabric->repeat_count; i++) {
		const tb_row_repeat *repeat = &fabric->repeats[i];
		g_string_append_printf(out, "%s[%u,%u,%u]", i > 0 ? "," : "", repeat->first, repeat->last,
			repeat->times);
	}
	g_string_append(out, "]}");
}

/* How a place on the right-hander's chart is one on the left-hander's: x is this less x. */
static double find_mirror(const tb_page_chart *chart)
{
	guint count = chart->right->placed->len;
	if (count == 0 || chart->left->placed->len != count)
		return 0;
	return g_array_index(chart->right->placed, tb_placed, count - 1).top.x +
		g_array_index(chart->left->placed, tb_placed, count - 1).top.x;
}

/* As the page's script has it: flat, or around a middle, outward or inward. */
static int lay_of(const tb_chart *chart, const tb_chart_row *row)
{
	return tb_chart_is_set_flat(chart, row) ? 0 : tb_chart_part_of(chart, row)->lay == TB_LAY_CLOSE ? 2 : 1;
}

static void put_chart_rows(GString *out, const tb_chart *chart)
{
	for (guint i = 0; i < chart->rows->len; i++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, i);
		g_string_append_printf(out, "%s[%u,%d,%u,%u,%d]", i > 0 ? "," : "",
			chart->fabric->rows[row->row].number, row->below, row->first, row->count, lay_of(chart, row));
	}
}

static void put_chart(GString *out, const tb_page *page, const tb_page_chart *both)
{
	const tb_chart *chart = both->right;
	g_string_append(out, "{");
	put_key(out, "column", true);
	tb_page_put_number(out, chart->column);
	put_key(out, "mirror", false);
	tb_page_put_number(out, find_mirror(both));
	g_string_append(out, ",\"box\":");
	if (chart->folded) {
		g_string_append_printf(out, "[%u,%u,[", chart->motif.near_edge, chart->motif.width);
		unsigned sizes = tb_pattern_count_sizes(tb_worked_pattern(page->worked));
		for (unsigned size = 0; size < sizes; size++)
			g_string_append_printf(out, "%s%u", size > 0 ? "," : "",
				both->sizes >> size & 1 ? chart->motif.times[size] : 0);
		g_string_append_printf(out, "],%u,%u]", chart->motif.stitches, chart->beside);
	} else {
		g_string_append(out, "null");
	}
	put_key(out, "rows", false);
	g_string_append_c(out, '[');
	put_chart_rows(out, chart);
	g_string_append(out, "],\"stitches\":[");
	tb_page_put_places(out, page, chart);
	g_string_append(out, "]}");
}

/* The number of the chart that speaks for SIZE among all of the page's, or -1. */
static int chart_of(const tb_page_piece *piece, unsigned first, unsigned size)
{
	for (guint i = 0; i < piece->charts->len; i++)
		if (g_array_index(piece->charts, tb_page_chart, i).sizes >> size & 1)
			return (int)(first + i);
	return -1;
}

static void put_piece(GString *out, const tb_page *page, const tb_page_piece *piece, unsigned first)
{
	const tb_pattern *pattern = tb_worked_pattern(page->worked);
	unsigned sizes = tb_pattern_count_sizes(pattern);
	g_string_append(out, "{");
	put_text(out, "name", tb_pattern_get_piece(pattern, piece->piece), true);
	put_key(out, "charts", false);
	g_string_append_c(out, '[');
	for (unsigned size = 0; size < sizes; size++)
		g_string_append_printf(out, "%s%d", size > 0 ? "," : "", chart_of(piece, first, size));
	g_string_append(out, "],\n\"sizes\":[");
	for (unsigned size = 0; size < sizes; size++) {
		g_string_append(out, size > 0 ? ",\n" : "");
		put_size_rows(out, tb_worked_fabric(page->worked, piece->piece, size));
	}
	g_string_append(out, "],\n\"us\":");
	put_words(out, page, piece, false);
	g_string_append(out, ",\n\"uk\":");
	put_words(out, page, piece, true);
	g_string_append(out, "}");
}

/* By this the page finds its reader's place again, also after the pattern was mended. */
static void put_name(GString *out, const tb_page *page)
{
	const tb_pattern *pattern = tb_worked_pattern(page->worked);
	g_autoptr(GString) name = g_string_new(pattern->title);
	for (guint i = 0; i < page->pieces->len; i++)
		g_string_append_printf(name, "\n%s", tb_pattern_get_piece(pattern,
			g_array_index(page->pieces, tb_page_piece, i).piece));
	g_autofree char *sum = g_compute_checksum_for_string(G_CHECKSUM_SHA256, name->str, -1);
	sum[12] = '\0';
	put_text(out, "place", sum, true);
}

char *tb_page_data(const tb_page *page)
{
	const tb_pattern *pattern = tb_worked_pattern(page->worked);
	GString *out = g_string_new("{");
	put_name(out, page);
	g_string_append_printf(out, ",\"first\":%d,\"terms\":\"%s\",\"hand\":\"%s\",\"sizes\":[",
		MAX(page->options->size - 1, 0), page->options->uk_terms ? "uk" : "us",
		page->options->left_handed ? "left" : "right");
	for (unsigned size = 0; size < tb_pattern_count_sizes(pattern); size++) {
		g_string_append(out, size > 0 ? "," : "");
		tb_page_put_json(out, tb_pattern_get_size(pattern, size));
	}
	g_string_append(out, "],\n\"stitches\":[");
	for (guint i = 0; i < page->stitches->len; i++) {
		g_string_append(out, i > 0 ? ",\n" : "");
		put_stitch(out, g_ptr_array_index(page->stitches, i));
	}
	g_string_append(out, "],\n\"pieces\":[");
	unsigned charts = 0;
	for (guint i = 0; i < page->pieces->len; i++) {
		const tb_page_piece *piece = &g_array_index(page->pieces, tb_page_piece, i);
		g_string_append(out, i > 0 ? ",\n" : "");
		put_piece(out, page, piece, charts);
		charts += piece->charts->len;
	}
	g_string_append(out, "],\n\"charts\":[");
	bool any = false;
	for (guint i = 0; i < page->pieces->len; i++) {
		const tb_page_piece *piece = &g_array_index(page->pieces, tb_page_piece, i);
		for (guint k = 0; k < piece->charts->len; k++) {
			g_string_append(out, any ? ",\n" : "");
			put_chart(out, page, &g_array_index(piece->charts, tb_page_chart, k));
			any = true;
		}
	}
	g_string_append(out, "]}\n");
	return g_string_free(out, FALSE);
}
