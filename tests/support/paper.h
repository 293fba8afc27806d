/* The paper between stitches as they are drawn: where strokes of two that have nothing to do with each other come close. */
#ifndef TB_TESTS_PAPER_H
#define TB_TESTS_PAPER_H

#include "charting.h"

/* Strokes touch with less than this, in units: a fifth of a pen's width of one lies on the other. */
#define TB_PAPER_TOUCH (-0.01)

/*
 * Counts the pairs of stitches with less than LEAST units of paper between strokes that may not meet, and tells of each.
 * What may meet: the stem of a stitch and the one it stands in; legs that cross by their pattern; stems out of one place.
 */
unsigned tb_paper_count_close(const tb_chart *chart, double least, GString *told);

#endif
