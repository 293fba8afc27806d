/*
 * Glyphs: a stitch's symbol built from its anatomy, at the size and stretch its place asks for.
 *
 * The trade's shared structure is kept: a stem a leg, a bar a yarn over, a head on top, legs that
 * meet where loops are drawn together, a hook that curls around the post. The hand is ours: heads
 * are shallow bows as the two loops on top of a stitch look, chains are almonds, clusters are
 * leaves, and a post's leg runs beside the stem it embraces so that both stay readable.
 */
#ifndef TB_DRAWING_GLYPH_H
#define TB_DRAWING_GLYPH_H

#include "drawing/drawing.h"
#include "notation/tree.h"
#include "stitches/stitch.h"

typedef enum {
	TB_PART_HEAD,
	TB_PART_LEG, /* the hook of a post is the end of its leg */
	TB_PART_BAR,
	TB_PART_BODY, /* almonds, and what a designer drew */
	TB_PART_ARC,  /* under a foot that goes into one loop only */
} tb_part_kind;

typedef struct {
	tb_part_kind kind;
	bool filled;
	tb_path *path;
} tb_part;

/* What the place asks for; mm, the stitch's top at 0,0, y downward. */
typedef struct {
	const tb_stitch *stitch;
	double column, chain, pen;
	double height;      /* down to the bottom of its own row */
	double base_top;    /* down to the top of what it is worked into; height for the row below */
	const tb_point *feet;
	unsigned foot_count;
	unsigned chains;    /* of a turning chain: that many, standing; else 0 */
	tb_loops loops;     /* one loop only: an arc under the foot, open upward for the front loop */
	bool in_space;      /* worked around a chain: feet of a group stay apart */
} tb_glyph_place;

/* The parts, in painting order; an array of tb_part that frees its paths. Owned by the caller. */
GArray *tb_glyph_build(const tb_glyph_place *place);

GArray *tb_parts_create(void);

#endif
