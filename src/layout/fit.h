/* How large a chart's stitches are for it to fit one page. */
#ifndef TB_LAYOUT_FIT_H
#define TB_LAYOUT_FIT_H

#include "layout/chart.h"

/* What is to be laid out, and by what. OPTIONS has the paper upright. All borrowed. */
typedef struct {
	const tb_worked *worked;
	const tb_chart_options *options;
	const tb_text_measure *measure;
	tb_diagnostics *diagnostics;
	tb_chart *(*lay_out)(const tb_worked *worked, const tb_chart_options *options, const tb_text_measure *measure,
		tb_diagnostics *diagnostics);
} tb_fit;

/*
 * Sets OPTIONS to those of FIT with the width of a stitch, NATURAL at most, and the way the paper lies. False where there
 * is no room; the fault is told.
 */
bool tb_fit_find(const tb_fit *fit, double natural, tb_chart_options *options);

#endif
