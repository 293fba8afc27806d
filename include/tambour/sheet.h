/*
 * Pages: the pattern sheet for a download, and the poster for a class.
 *
 * A sheet or poster is laid out first (tb_pages), then drawn (tb_document), then written as a PDF of
 * many pages by tb_output_render_document.
 */
#ifndef TAMBOUR_SHEET_H
#define TAMBOUR_SHEET_H

#include <tambour/chart.h>

G_BEGIN_DECLS

typedef struct tb_pages tb_pages;
typedef struct tb_document tb_document;

/* ISO 216 and ANSI/ASME Y14.1. */
typedef enum {
	TB_PAPER_A4,
	TB_PAPER_A3,
	TB_PAPER_LETTER,
	TB_PAPER_TABLOID,
	TB_PAPER_COUNT,
} tb_paper;

/* Width and height of the paper standing upright, mm. */
void tb_paper_get_size(tb_paper paper, double *width_mm, double *height_mm);
/* The paper called NAME ("a4", "letter"), letter case aside. False when there is none. */
bool tb_paper_find(const char *name, tb_paper *paper);

/* Zeroed, it means: A4, all sizes, US terms, the right hand, colour, plain print. */
typedef struct {
	tb_paper paper;
	int size; /* number + 1 of the one size asked for; 0: all sizes */
	bool uk_terms, left_handed, grey;
	bool large_print; /* type of 18 pt or more */
	const char *title; /* NULL: the pattern's */
} tb_sheet_options;

/*
 * Lays out the whole pattern: what it is, how large, with what, its rows, charts and schematics, and
 * one key at the end. WORKED is borrowed and must outlive the pages. Notes and warnings go to
 * DIAGNOSTICS. NULL when nothing can be charted, an error having been added. Owned.
 */
tb_pages *tb_sheet_create(const tb_worked *worked, const tb_sheet_options *options,
	const tb_text_measure *measure, tb_diagnostics *diagnostics);

/* Zeroed, it means: the repeat, 25 mm a stitch, over as many sheets of A4 as that takes. */
typedef struct {
	tb_paper paper; /* that is printed on */
	tb_chart_options chart; /* stitch_width_mm 0: 25 mm, unless something below says otherwise */
	unsigned across, down; /* sheets that the chart is to fill; 0: as many as it takes */
	bool fit;              /* the chart is to be as large as FIT_PAPER has room for */
	tb_paper fit_paper;
	bool practice; /* sheets with empty cells to fill in, each with its answer behind it */
} tb_poster_options;

/* Lays out a chart enlarged over sheets to be joined, the first page telling how. As tb_sheet_create. */
tb_pages *tb_poster_create(const tb_worked *worked, const tb_poster_options *options,
	const tb_text_measure *measure, tb_diagnostics *diagnostics);

void tb_pages_destroy(tb_pages *pages);
unsigned tb_pages_count(const tb_pages *pages);

/* The pages as drawings. PAGES must outlive them. Owned; free with tb_document_destroy. */
tb_document *tb_pages_draw(const tb_pages *pages);
void tb_document_destroy(tb_document *document);

G_DEFINE_AUTOPTR_CLEANUP_FUNC(tb_pages, tb_pages_destroy)
G_DEFINE_AUTOPTR_CLEANUP_FUNC(tb_document, tb_document_destroy)

G_END_DECLS

#endif
