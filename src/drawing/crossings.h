/*
 * What passes over what: front posts, spikes and crossed stitches pass over, back posts under the
 * rows they reach across.
 */
#ifndef TB_DRAWING_CROSSINGS_H
#define TB_DRAWING_CROSSINGS_H

#include "layout/chart.h"

typedef enum {
	TB_CROSS_UNDER_FRONT, /* under a front post's leg: everything is broken */
	TB_CROSS_UNDER_ROW,   /* a back post's leg under a row: broken by its stems and heads */
	TB_CROSS_BESIDE_BACK, /* a row over a back post's leg: only its bars make room */
} tb_crossing_kind;

typedef struct {
	guint32 other; /* placed */
	tb_crossing_kind kind;
} tb_crossing;

/* How far a glyph reaches along x to either side of its top, mm. */
typedef struct {
	double left, right;
} tb_reach;

/*
 * For every placed stitch, what it must keep clear of: an array of tb_crossing, or NULL for
 * nothing. REACHES has one entry a placed stitch. The caller frees the arrays and what holds them.
 */
GArray **tb_crossings_find(const tb_chart *chart, const tb_reach *reaches);

#endif
