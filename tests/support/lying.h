/*
 * How a chart's stitches lie, measured from their tops and feet on the page alone: what a reader sees, whatever laid
 * them.
 */
#ifndef TB_TEST_LYING_H
#define TB_TEST_LYING_H

#include "layout/chart.h"

typedef struct {
	unsigned stitches;                /* stems that were measured */
	double lean_middle, lean_most;    /* degrees from square to the row below: the median, the 95th percentile */
	double stretch_least, stretch_most; /* of stems taller than sc, by their rest height: all of them */
	double stretch_low, stretch_high; /* … the 5th and the 95th percentile */
	double spacing;                   /* of plain neighbours: standard deviation by mean */
	unsigned crossing;                /* stems that cross and are not worked so */
	unsigned touching;                /* chains on chains of other spaces, or on stems they have nothing to do with */
	double unlike;                    /* mm: between a repeat around the middle, or a half, and its image */
} tb_lying;

tb_lying tb_lying_measure(const tb_chart *chart);

#endif
