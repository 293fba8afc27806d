/*
 * What passes over what. Four things are cut, and nothing else: under a front post's leg, or a spike's, whatever it
 * passes in the rows below, save the stem that it holds; under the heads of the rows below, a back post's leg; under the
 * leg that was made later, one that it crosses in its own row.
 */
#ifndef TB_DRAWING_CROSSINGS_H
#define TB_DRAWING_CROSSINGS_H

#include "drawing/glyph.h"
#include "layout/chart.h"

typedef enum {
	TB_CROSS_UNDER_FRONT, /* under a front post's leg: everything is cut */
	TB_CROSS_HELD_FRONT,  /* … held by it: its stem is not */
	TB_CROSS_UNDER_HEAD,  /* a back post's leg, under a head */
	TB_CROSS_UNDER_LEG,   /* a leg, under another of its own row */
} tb_crossing_kind;

#define TB_CROSSING_KINDS 4

typedef struct {
	guint32 other; /* placed */
	tb_crossing_kind kind;
} tb_crossing;

/* How far a glyph reaches along x to either side of its top, mm. */
typedef struct {
	double left, right;
} tb_reach;

/* By placed: who holds a stitch, and whether a leg goes down behind it. */
typedef struct {
	tb_held held;
	bool passed;
} tb_holding;

/* Owned: g_free. */
tb_holding *tb_crossings_find_held(const tb_chart *chart);

/*
 * For every placed stitch, what it must keep clear of: an array of tb_crossing, or NULL for
 * nothing. REACHES has one entry a placed stitch. The caller frees the arrays and what holds them.
 */
GArray **tb_crossings_find(const tb_chart *chart, const tb_reach *reaches);

#endif
