/* All glyphs of one chart: built once for every different place, broken where they pass under. */
#ifndef TB_DRAWING_GLYPHS_H
#define TB_DRAWING_GLYPHS_H

#include "drawing/glyph.h"
#include "layout/chart.h"

/* For every placed stitch, the number of its shape in DRAWING, which the shapes are added to. */
guint32 *tb_glyphs_draw(const tb_chart *chart, tb_drawing *drawing);

/* The unbroken parts of a placed stitch, for what must keep clear of it. Owned. */
GArray *tb_glyphs_parts(const tb_chart *chart, guint32 placed);

/* How near ink may come to a leg that passes over, and what is too short to keep. */
double tb_glyphs_clear(double column, double pen);
double tb_glyphs_crumb(double column);

/* Makes a shape of parts, which are left as they are. */
tb_shape *tb_glyphs_shape(const GArray *parts, double pen);

#endif
