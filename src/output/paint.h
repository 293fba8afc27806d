/* What the outputs that draw with Cairo share. */
#ifndef TB_OUTPUT_PAINT_H
#define TB_OUTPUT_PAINT_H

#include "output/output.h"
#include "support/units.h"

#include <cairo.h>

#define TB_POINTS_PER_INCH 72.0

/* A text fit for any output: UTF-8 mended, controls made spaces. Owned: g_free. */
char *tb_output_clean(const char *text);

/* The fonts DRAWING needs: *type stays NULL where it has no text. False with *error set. */
bool tb_output_find_type(const tb_drawing *drawing, tb_type **type, GError **error);

/* A stream for Cairo that appends to a GByteArray. */
cairo_status_t tb_output_append(void *bytes, const unsigned char *data, unsigned length);

/* False with *error set when STATUS is a failure. */
bool tb_output_succeeded(cairo_status_t status, GError **error);

/* Page-size white, which must be painted before anything else. */
void tb_paint_paper(cairo_t *cr, const tb_drawing *drawing);
void tb_paint_ink(cairo_t *cr, const tb_drawing *drawing, tb_ink ink);

/* The strokes of a shape, in the ink that is set, around its origin as placed by MARK. */
void tb_paint_shape(cairo_t *cr, const tb_drawing *drawing, const tb_mark *mark);

/*
 * A run: marks FIRST to END (not included), all shapes of one ink; its lines are one path and one
 * stroke. Origins go to the nearest of STEPS_PER_MM; 0 leaves them where they are.
 */
void tb_paint_run(cairo_t *cr, const tb_drawing *drawing, guint first, guint end,
	double steps_per_mm);
/* The end of the run that begins at FIRST, which is a shape. */
guint tb_paint_find_run_end(const tb_drawing *drawing, guint first);

void tb_paint_line(cairo_t *cr, const tb_drawing *drawing, const tb_mark *mark);
void tb_paint_text(cairo_t *cr, const tb_drawing *drawing, const tb_mark *mark, tb_type *type);

/* Puts a text mark's line at its place, in the source that is set. */
void tb_type_show(tb_type *type, cairo_t *cr, const tb_mark *mark);

#endif
