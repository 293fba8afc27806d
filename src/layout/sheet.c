/* The pattern sheet, section after section; the parts are told of in the header. */
#include "layout/sheet.h"

#include "support/diagnose.h"

#include <tambour/rows.h>

#include <math.h>

#define MARGIN 22.0

/* What is worked in the sizes that are shown, and what of that stands on charts. */
static void find_used(tb_sheet *sheet)
{
	unsigned count = tb_library_count(sheet->pattern->library);
	sheet->used = g_new0(bool, count);
	sheet->charted = g_new0(bool, count);
	for (unsigned piece = 0; piece < tb_pattern_count_pieces(sheet->pattern); piece++)
		for (unsigned size = 0; size < tb_pattern_count_sizes(sheet->pattern); size++) {
			const tb_fabric *fabric = tb_worked_fabric(sheet->worked, piece, size);
			for (guint32 i = 0; i < fabric->made_count && tb_sheet_has_size(sheet, size); i++)
				sheet->used[fabric->made[i].stitch] = true;
		}
}

static void find_charted(tb_sheet *sheet, const GPtrArray *charts)
{
	for (guint c = 0; c < charts->len; c++) {
		const tb_chart *chart = g_ptr_array_index(charts, c);
		for (guint i = 0; i < chart->placed->len; i++) {
			guint32 made = g_array_index(chart->placed, tb_placed, i).made;
			sheet->charted[tb_chart_shown(chart, &chart->fabric->made[made])->number] = true;
		}
	}
}

static void add_title(tb_sheet *sheet)
{
	tb_galley *galley = &sheet->galley;
	double size = galley->type.title, lead = 1.2 * size;
	g_autoptr(GPtrArray) lines =
		tb_galley_wrap(galley, galley->pages->title, size, true, galley->width);
	for (guint i = 0; i < lines->len; i++) {
		tb_strip *strip = tb_galley_begin(galley, 0, lead);
		strip->keep = true;
		if (i == 0)
			tb_items_tag(galley->items, "H1", NULL);
		tb_items_part(galley->items, g_ptr_array_index(lines, i), i + 1 < lines->len, 0, 0.95 * size,
			size, TB_FACE_BOLD, TB_INK_TEXT);
		if (i + 1 == lines->len)
			tb_items_untag(galley->items);
	}
	tb_galley_skip(galley, 0.3 * galley->type.body);
	const char *designer = tb_pattern_get_designer(sheet->pattern);
	if (designer != NULL) {
		g_autofree char *by = g_strdup_printf("by %s", designer);
		const tb_run_of_text run = {by, false};
		tb_galley_runs(galley, &run, 1, 0, galley->width, 0, galley->type.subhead);
		tb_galley_skip(galley, 1.2 * galley->type.body);
	}
	if (sheet->pattern->about != NULL) {
		const tb_run_of_text run = {sheet->pattern->about, false};
		tb_galley_runs(galley, &run, 1, 0, galley->measured, 0, galley->type.subhead);
	}
}

static bool add_sections(tb_sheet *sheet)
{
	tb_galley *galley = &sheet->galley, pieces;
	add_title(sheet);
	tb_sheet_add_facts(sheet);
	tb_sheet_add_cautions(sheet);

	/* Which abbreviations stand in the key is known once the pieces are set: they are set first. */
	tb_galley front = *galley;
	tb_galley_init(&pieces, galley->pages, galley->measure, galley->paper, galley->margin,
		sheet->options.large_print);
	*galley = pieces;
	bool done = true;
	for (unsigned i = 0; i < tb_pattern_count_pieces(sheet->pattern) && done; i++)
		done = tb_sheet_add_piece(sheet, i);
	pieces = *galley;
	*galley = front;
	find_charted(sheet, galley->pages->charts);
	tb_sheet_add_words(sheet);
	tb_galley_append(galley, &pieces);
	tb_galley_finish(&pieces);
	tb_galley_key(galley, sheet->options.uk_terms);
	if (sheet->pattern->licence != NULL) {
		tb_galley_skip(galley, 2 * galley->type.body);
		tb_galley_fact(galley, "Licence", sheet->pattern->licence);
	}
	return done;
}

static void name_pages(tb_sheet *sheet, tb_pages *pages)
{
	const char *title = sheet->options.title != NULL ? sheet->options.title :
		tb_pattern_get_title(sheet->pattern);
	pages->title = g_strdup(title != NULL ? title : "Crochet pattern");
	pages->author = g_strdup(tb_pattern_get_designer(sheet->pattern));
	pages->description = g_strdup(sheet->pattern->about != NULL ? sheet->pattern->about :
		"Crochet pattern: written rows, charts and key.");
	pages->grey = sheet->options.grey;
}

tb_pages *tb_sheet_create(const tb_worked *worked, const tb_sheet_options *options,
	const tb_text_measure *measure, tb_diagnostics *diagnostics)
{
	g_return_val_if_fail(options->paper < TB_PAPER_COUNT, NULL);
	g_return_val_if_fail(
		options->size <= (int)tb_pattern_count_sizes(tb_worked_pattern(worked)), NULL);
	g_auto(GStrv) rows = tb_rows_texts(worked, options->size - 1, options->uk_terms, diagnostics);
	if (rows == NULL)
		return NULL;
	tb_pages *pages = tb_pages_create_empty(worked);
	tb_sheet sheet = {.worked = worked, .pattern = tb_worked_pattern(worked), .options = *options,
		.diagnostics = diagnostics, .rows = rows};
	name_pages(&sheet, pages);
	tb_galley_init(&sheet.galley, pages, measure, options->paper, MARGIN, options->large_print);
	find_used(&sheet);
	bool done = add_sections(&sheet);
	if (done)
		tb_galley_paginate(&sheet.galley);
	tb_galley_finish(&sheet.galley);
	g_free(sheet.used);
	g_free(sheet.charted);
	if (done)
		return pages;
	tb_pages_destroy(pages);
	return NULL;
}
