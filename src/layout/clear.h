/*
 * Where there is room for a word: the chart's ink as lines with a thickness, near enough to keep words off it. The
 * exact outlines are known to drawing/ alone.
 */
#ifndef TB_LAYOUT_CLEAR_H
#define TB_LAYOUT_CLEAR_H

#include "layout/chart.h"

typedef struct {
	double left, top, right, bottom;
} tb_box;

/* A mark reaches so far about its middle, in columns. */
#define TB_CLEAR_MARK 0.3

typedef struct tb_clear tb_clear;

/* Of the stitches and marks that CHART has by now. Owned: tb_clear_free. */
tb_clear *tb_clear_new(const tb_chart *chart);
/* Of the stitches placed from FIRST on, without those that BUT names (guint, ascending). Owned. */
tb_clear *tb_clear_new_without(const tb_chart *chart, guint first, const GArray *but);
void tb_clear_free(tb_clear *clear);

/* Adds a stitch, as it is placed now. */
void tb_clear_add_stitch(tb_clear *clear, const tb_chart *chart, const tb_placed *placed);
/* How far a stitch is from all else, mm, as tb_clear_of_line: of its chains, or of a slip stitch. */
double tb_clear_of_stitch(const tb_clear *clear, const tb_chart *chart, const tb_placed *placed, double most);
/* Adds what is drawn later: a line, and the box of a word. */
void tb_clear_add_line(tb_clear *clear, tb_spot from, tb_spot to, double radius);
void tb_clear_add_box(tb_clear *clear, tb_box box);

/* How far BOX is from all ink, mm; below 0 where it touches, and never more than MOST. LITTLE or less is not told exactly. */
double tb_clear_of_box(const tb_clear *clear, tb_box box, double little, double most);
/* The same of a line RADIUS thick. */
double tb_clear_of_line(const tb_clear *clear, tb_spot from, tb_spot to, double radius, double most);

#endif
