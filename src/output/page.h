/* What the files of the page share. */
#ifndef TB_OUTPUT_PAGE_H
#define TB_OUTPUT_PAGE_H

#include "layout/chart.h"
#include "output/output.h"

#include <tambour/page.h>

/* page_text.c: text made safe for where it stands. */
void tb_page_put_html(GString *out, const char *text);
/* A JSON string, quotes included, in which no markup can begin or end; NULL is null. */
void tb_page_put_json(GString *out, const char *text);
/* A number to two places, no trailing noughts. */
void tb_page_put_number(GString *out, double number);
/*
 * One text a size as what they share and what they do not: "Ch ", ["53", "57"], ".". TEXTS holds
 * COUNT of them, NULL for a size without. As a JSON list.
 */
void tb_page_put_by_size(GString *out, const char *const *texts, unsigned count);

/* page_svg.c: pictures by our own SVG output, for inside a page; equal shapes are kept once. */
typedef struct tb_page_shapes tb_page_shapes;
tb_page_shapes *tb_page_shapes_create(void);
void tb_page_shapes_destroy(tb_page_shapes *shapes);
/*
 * Appends what is drawn, without paper, to OUT, colours being those of the page's own style. TERSE:
 * what stands in a row at even distances is said once, for the page's script to set out.
 */
bool tb_page_shapes_draw(tb_page_shapes *shapes, const tb_drawing *drawing, bool terse,
	GString *out, GError **error);
/* All shapes, for a <defs>. Borrowed. */
const char *tb_page_shapes_get(const tb_page_shapes *shapes);

/* page_chart.c */
typedef struct {
	tb_chart *right, *left; /* the same chart for either hand */
	tb_size_set sizes;      /* that it speaks for */
} tb_page_chart;

/* A piece with its charts: one for all sizes where they share a repeat, else one a size. */
typedef struct {
	unsigned piece;
	GArray *charts; /* tb_page_chart */
} tb_page_piece;

/* The part of the page that a chart takes without title and key. */
typedef struct {
	double x, y, width, height;
} tb_page_frame;

tb_page_frame tb_page_chart_frame(const tb_chart *chart, const tb_text_measure *measure);
/*
 * The chart as <svg>, without its title and key. NUMBER tells the charts of a page apart; all but
 * the one that is seen without script are TERSE.
 */
bool tb_page_put_chart(GString *out, const tb_chart *chart, unsigned number, bool terse,
	const tb_page_frame *frame, tb_page_shapes *shapes, GError **error);
/* A stitch by itself, as in a key. */
bool tb_page_put_symbol(GString *out, const tb_stitch *stitch, tb_page_shapes *shapes,
	GError **error);
/* The class of an ink: "ink-a". */
const char *tb_page_ink(tb_ink ink);

/* page_data.c: what the page's script knows. */
typedef struct {
	const tb_worked *worked;
	const tb_page_options *options;
	const tb_text_measure *measure;
	GArray *pieces;      /* tb_page_piece */
	GPtrArray *stitches; /* tb_stitch, borrowed: those of the charts, in the library's order */
	char **rows;         /* by piece: the written rows, all sizes in brackets, in the page's terms */
	char **size_rows[2][TB_MAX_SIZES]; /* those of one size; US and UK */
} tb_page;

char *tb_page_data(const tb_page *page);

/* page_places.c: the stitches of a chart, as the inside of a JSON list. */
void tb_page_put_places(GString *out, const tb_page *page, const tb_chart *chart);

/* page_moves.c: a stitch's moves with the loops left on the hook after each, as a JSON list. */
void tb_page_put_moves(GString *out, const tb_stitch *stitch, bool uk);

#endif
