/*
 * The chart: a piece's rows laid out and drawn.
 */
#ifndef TAMBOUR_CHART_H
#define TAMBOUR_CHART_H

#include <tambour/fabric.h>

G_BEGIN_DECLS

typedef struct tb_drawing tb_drawing;
typedef struct tb_chart tb_chart;

/* What to chart and how. Zeroed, it means: the first piece, its written rows, all sizes. */
typedef struct {
	unsigned piece;
	unsigned first_row, last_row; /* 0: the rows that are written out */
	int size;                     /* number + 1 of the one size asked for; 0: all sizes */
	bool full;                    /* every stitch and row of the largest size */
	bool left_handed;
	bool as_seen;                 /* symbols as seen from the right side, instead of as worked */
	bool fabric_scale;            /* true to size, instead of legible */
	double stitch_width_mm;       /* width of a column; 0: as the scale says */
	bool uk_terms;                /* UK abbreviations first in the key */
	bool grey;                    /* no colours */
	const char *title;            /* NULL: the pattern's title and the piece */
	bool bare;                    /* no title, gauge and key: the page around it has those */
	double type_scale;            /* words at least so many times their plain size; 0: 1 */
} tb_chart_options;

/* How wide a text is, in mm, set at SIZE_MM. Whoever has fonts answers; tests use a fixed width. */
typedef struct {
	double (*measure)(void *data, const char *text, double size_mm, bool bold);
	void *data;
} tb_text_measure;

/*
 * Lays the chart out. Notes and warnings (sizes that share no repeat, rows that are not there) go
 * to DIAGNOSTICS. WORKED is borrowed and must outlive the chart. NULL when there is nothing to
 * chart, an error having been added.
 */
tb_chart *tb_chart_create(const tb_worked *worked, const tb_chart_options *options,
	const tb_text_measure *measure, tb_diagnostics *diagnostics);
void tb_chart_destroy(tb_chart *chart);

/* The chart as a drawing, owned, free with tb_drawing_destroy. */
tb_drawing *tb_chart_draw(const tb_chart *chart);
void tb_drawing_destroy(tb_drawing *drawing);

/* The placed stitches as JSON, in mm. Owned text; free with g_free. */
char *tb_chart_to_json(const tb_chart *chart);

G_END_DECLS

#endif
