/*
 * Pages: the pattern sheet for a download, and the poster for a class.
 *
 * A sheet or poster is laid out first (tb_pages), then drawn (tb_document), then written as a PDF
 * of many pages by tb_output_render_document.
 */
#ifndef TAMBOUR_SHEET_H
#define TAMBOUR_SHEET_H

#include <tambour/chart.h>

TB_BEGIN_DECLS

/* Pages laid out. */
typedef struct tb_pages tb_pages;

/* Pages drawn, with their outline, tags and links. */
typedef struct tb_document tb_document;

/* What is printed on. ISO 216 (A4, A3) and ANSI/ASME Y14.1 (A and B, called letter and tabloid). */
typedef enum {
	TB_PAPER_A4,
	TB_PAPER_A3,
	TB_PAPER_LETTER,
	TB_PAPER_TABLOID,
	TB_PAPER_COUNT, /* how many there are; no paper */
} tb_paper;

/*
 * Sets *WIDTH_MM and *HEIGHT_MM to the size of the paper standing upright, mm; to 0, with GLib's
 * critical warning, for a paper there is not.
 */
void tb_paper_get_size(tb_paper paper, double *width_mm, double *height_mm);

/*
 * Sets *PAPER to the paper called NAME ("a4", "a3", "letter", "tabloid"), letter case aside. False,
 * and *PAPER as it was, when there is none.
 */
bool tb_paper_find(const char *name, tb_paper *paper);

/* A sheet. Zeroed, it means: A4, all sizes, US terms, the right hand, colour, plain print. */
typedef struct {
	tb_paper paper;
	int size; /* number + 1 of the one size asked for; 0: all sizes */
	bool uk_terms, left_handed, grey;
	bool large_print; /* type of 18 pt or more (American Printing House for the Blind) */
	const char *title; /* NULL: the pattern's */
} tb_sheet_options;

/*
 * Lays out the whole pattern: what it is, how large, with what, its rows, charts and schematics,
 * and one key at the end. WORKED is borrowed and must outlive the pages; MEASURE is only asked
 * meanwhile. Notes and warnings go to DIAGNOSTICS.
 *
 * Returns owned pages (tb_pages_destroy), or NULL when nothing can be charted or the rows in words
 * do not hold (tb_rows_texts), an error having been added to DIAGNOSTICS; also NULL, with GLib's
 * critical warning, for a size or paper there is not.
 */
tb_pages *tb_sheet_create(const tb_worked *worked, const tb_sheet_options *options,
	const tb_text_measure *measure, tb_diagnostics *diagnostics);

/* A poster. Zeroed: the repeat, 25 mm a stitch, over as many sheets of A4 as that takes. */
typedef struct {
	tb_paper paper; /* that is printed on */
	tb_chart_options chart; /* stitch_width_mm 0: 25 mm, unless something below says otherwise */
	unsigned across, down; /* sheets that the chart is to fill; 0: as many as it takes */
	bool fit;              /* the chart is to be as large as FIT_PAPER has room for */
	tb_paper fit_paper;
	bool practice; /* sheets with empty cells to fill in, each with its answer behind it */
} tb_poster_options;

/*
 * Lays out a chart enlarged over sheets that are joined, 10 mm of each under its neighbour; the
 * first page tells how. Borrows, returns and fails as tb_sheet_create; too many sheets are an error
 * in DIAGNOSTICS too.
 */
tb_pages *tb_poster_create(const tb_worked *worked, const tb_poster_options *options,
	const tb_text_measure *measure, tb_diagnostics *diagnostics);

/* Frees pages. NULL is allowed. */
void tb_pages_destroy(tb_pages *pages);

/* How many pages there are. */
unsigned tb_pages_count(const tb_pages *pages);

/*
 * Draws the pages. PAGES is borrowed and must outlive the document. Never NULL. Owned; free with
 * tb_document_destroy.
 */
tb_document *tb_pages_draw(const tb_pages *pages);

/* Frees a document. NULL is allowed. */
void tb_document_destroy(tb_document *document);

G_DEFINE_AUTOPTR_CLEANUP_FUNC(tb_pages, tb_pages_destroy)
G_DEFINE_AUTOPTR_CLEANUP_FUNC(tb_document, tb_document_destroy)

TB_END_DECLS

#endif
