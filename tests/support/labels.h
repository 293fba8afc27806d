/* Words of a chart against all else that is drawn: exact outlines, not the layout's own idea of them. */
#ifndef TB_TESTS_LABELS_H
#define TB_TESTS_LABELS_H

#include "charting.h"

/*
 * How many words of CHART, laid out by tb_case_chart, stand on a stitch, a line or another word, or off the page. Adds a
 * line for each to TOLD.
 */
unsigned tb_labels_in_the_way(const tb_chart *chart, GString *told);

#endif
