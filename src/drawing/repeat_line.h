/*
 * The side of a repeat: the cheapest stepped way from below the chart to above it that goes through paper only. The
 * other side is the same line, a repeat further on, and goes through paper as well.
 */
#ifndef TB_DRAWING_REPEAT_LINE_H
#define TB_DRAWING_REPEAT_LINE_H

#include "drawing/drawing.h"
#include "layout/chart.h"

/*
 * From BOTTOM up to TOP, beginning at WANTED and keeping to it where it can: an array of tb_point, upward. INK are the
 * strokes of the chart (an outline, break.h), that stand CLEAR from it; where SHIFT is not 0, so do they from the same
 * line shifted so far to the right. NULL where there is no way. UNIT is that of the symbols, mm. Owned.
 */
typedef struct {
	double wanted, shift, top, bottom, unit, clear;
	/* Places that it passes on the side they are of WANTED, an array of tb_point; NULL for none. */
	const GArray *kept;
} tb_repeat_line;

GArray *tb_repeat_line_find(const GArray *ink, const tb_repeat_line *how);

/* Where a line that goes upward is at height Y. */
double tb_repeat_line_at(const GArray *line, double y);

#endif
