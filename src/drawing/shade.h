/* Cells behind the stitches of all colours but the main one. */
#ifndef TB_DRAWING_SHADE_H
#define TB_DRAWING_SHADE_H

#include "drawing/drawing.h"
#include "layout/chart.h"

/* Behind the stitches of CHART, and in the swatches of its key. */
void tb_shades_draw(const tb_chart *chart, tb_drawing *drawing);

#endif
