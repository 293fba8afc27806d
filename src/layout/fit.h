/* How large a chart's stitches are for it to fit what room there is. */
#ifndef TB_LAYOUT_FIT_H
#define TB_LAYOUT_FIT_H

#include "layout/chart.h"

/* Lays a chart out with columns so wide, mm. Owned; NULL where that cannot be. */
typedef tb_chart *(*tb_fit_lay)(void *data, double column);

/* The largest chart of LAY that is no wider and higher than told, its columns no wider than MOST mm and no narrower than LEAST. */
tb_chart *tb_fit_largest(tb_fit_lay lay, void *data, double width, double height, double most, double least);

/*
 * A chart on the one page that OPTIONS name, upright or lying. Owned; NULL where it has no room, which is told to DIAGNOSTICS
 * with all else that is to be told of it.
 */
tb_chart *tb_fit_paper(const tb_worked *worked, const tb_chart_options *options, const tb_text_measure *measure,
	tb_diagnostics *diagnostics);

#endif
