/*
 * The chart: a piece's rows laid out and drawn.
 */
#ifndef TAMBOUR_CHART_H
#define TAMBOUR_CHART_H

#include <tambour/fabric.h>

TB_BEGIN_DECLS

/* A chart laid out: every stitch and everything around them has its place, in millimetres. */
typedef struct tb_chart tb_chart;

/* A picture as strokes and texts, in millimetres, that the outputs put on paper. */
typedef struct tb_drawing tb_drawing;

/* What the symbols of wrong side rows show. */
typedef enum {
	TB_VIEW_AUTO,   /* the fabric's right side where there are post stitches, so that ribs and cables look it; else as worked */
	TB_VIEW_WORKED, /* every stitch as it is worked, on either side */
	TB_VIEW_RIGHT,  /* the fabric's right side: a front post worked on the wrong side is a back post */
} tb_view;

/*
 * What to chart and how. Zeroed, it means: the first piece, its written rows, all sizes, for the
 * right hand, in the view that suits it, legible, US terms, in colour, with title and key.
 */
typedef struct {
	unsigned piece;
	unsigned first_row, last_row; /* as the pattern numbers them; 0: those that are written out */
	int size;                     /* number + 1 of the one size asked for; 0: all sizes */
	bool full;                    /* every stitch and row of the largest size */
	bool left_handed;             /* the mirror image */
	tb_view view;                 /* what wrong side rows show */
	bool fabric_scale;            /* true to size by the gauge, instead of legible */
	double stitch_width_mm;       /* width of a column, at most 400; 0: as the scale says */
	bool uk_terms;                /* UK abbreviations first in the key */
	bool grey;                    /* no colours */
	const char *title;            /* NULL: the pattern's title and the piece */
	bool bare;                    /* no title, gauge and key: the page around it has those */
	double type_scale;            /* words at least so many times their plain size; 0: 1 */
	/* One page of this paper, standing upright, that the chart is to fit; 0: as large as the chart is. A chart that is wider
	   lies; one that has no room at 4 mm a stitch is refused (chart-paper), with how many sheets it takes. */
	double paper_width_mm, paper_height_mm;
} tb_chart_options;

/* What texts are set in. */
typedef enum {
	TB_FACE_PLAIN,  /* words of the furniture and the key */
	TB_FACE_BOLD,   /* … and what is looked for among them */
	TB_FACE_FIGURE, /* numbers of rows, counts at brackets */
	TB_FACE_TITLE,
} tb_face;

/*
 * How wide texts are. MEASURE answers, in mm, how wide TEXT is when it is set at SIZE_MM (the
 * body's height) in FACE; it is handed DATA. tb_type_get_measure (output.h) has one
 * that agrees with the outputs; one of your own needs no font.
 */
typedef struct {
	double (*measure)(void *data, const char *text, double size_mm, tb_face face);
	void *data;
} tb_text_measure;

/*
 * Lays a chart out. WORKED is borrowed and must outlive the chart, and OPTIONS' title too; MEASURE
 * is only asked meanwhile. Notes and warnings (sizes that share no repeat, rows that are not there)
 * go to DIAGNOSTICS. Chart only what was worked without errors: a chart of wrong counts is taken
 * for a right one.
 *
 * Returns an owned chart (tb_chart_destroy), or NULL when there is nothing to chart, an error
 * having been added to DIAGNOSTICS; also NULL, with GLib's critical warning, for a piece or size
 * that the pattern does not have.
 */
tb_chart *tb_chart_create(const tb_worked *worked, const tb_chart_options *options,
	const tb_text_measure *measure, tb_diagnostics *diagnostics);

/* Frees a chart. NULL is allowed. */
void tb_chart_destroy(tb_chart *chart);

/*
 * The chart as a drawing. CHART may be destroyed before it; what the chart was made from must
 * outlive it. Never NULL. Owned; free with tb_drawing_destroy.
 */
tb_drawing *tb_chart_draw(const tb_chart *chart);

/* Frees a drawing, whatever drew it. NULL is allowed. */
void tb_drawing_destroy(tb_drawing *drawing);

/*
 * The placed stitches as one JSON object, in mm, y growing downward: piece, unit, width, height,
 * cell (width, height_per_chain), repeat (columns, width, times by size; null when there is none),
 * and stitches in working order, each with its id (from 1, no other's), abbreviation, row, index,
 * top, colour where it is known, bases, and what it is worked into: base_row, base_indices and
 * base_ids of what is on the chart, and space where that is a space or gap, of which the chain made
 * first is named. A turning chain has chains, how many it has; so has a chain between stitches, how
 * many lie there. Stitches of a round have round; those of a row that is shown pale, below the rows
 * that stand on it, have below, and may come in their own row's place as well: what is worked into
 * them has the ids of the pale ones.
 * Columns and indices count from 1, from the edge where row 1 begins. No two of a row have one
 * index, those below aside; of what stands on no column, the turning chain beside a row has 0. Where rows differ in
 * width the repeat has places instead of columns, and each stitch the place of the foundation that it
 * stands on, of those that are drawn. Never NULL. Owned text; free with g_free.
 */
char *tb_chart_to_json(const tb_chart *chart);

G_DEFINE_AUTOPTR_CLEANUP_FUNC(tb_chart, tb_chart_destroy)
G_DEFINE_AUTOPTR_CLEANUP_FUNC(tb_drawing, tb_drawing_destroy)

TB_END_DECLS

#endif
