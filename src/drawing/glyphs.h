/* All glyphs of one chart: built once for every different place, broken where they pass under. */
#ifndef TB_DRAWING_GLYPHS_H
#define TB_DRAWING_GLYPHS_H

#include "drawing/glyph.h"
#include "layout/chart.h"

typedef struct tb_glyphs tb_glyphs;

/* Builds the glyphs of all that is placed in CHART, which it refers to. Owned: tb_glyphs_free. */
tb_glyphs *tb_glyphs_build(const tb_chart *chart);
void tb_glyphs_free(tb_glyphs *glyphs);

/* For every placed stitch, the number of its shape in DRAWING, which the shapes are added to. Owned: g_free. */
guint32 *tb_glyphs_draw(tb_glyphs *glyphs, tb_drawing *drawing);

/* The parts of a placed stitch (tb_part) as they are drawn, cut where they pass under others; const. Owned: g_array_unref. */
GArray *tb_glyphs_parts(const tb_glyphs *glyphs, guint32 placed);

/* Adds the strokes of a placed stitch to an outline (break.h), unbroken, where they are on the page. */
void tb_glyphs_add_outline(const tb_glyphs *glyphs, guint32 placed, GArray *outline);

/* How near ink may come to a leg that passes over, and what is too short to keep. */
double tb_glyphs_clear(double column, double pen);
double tb_glyphs_crumb(double column);

/* Makes a shape of parts, which are left as they are. */
tb_shape *tb_glyphs_shape(const GArray *parts, double pen);

#endif
