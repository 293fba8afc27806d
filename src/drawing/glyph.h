/*
 * Glyphs: a stitch's symbol built from its anatomy, at the size and stretch its place asks for.
 *
 * The trade's shared structure is kept: a stem a leg, a bar a yarn over, a head on top, legs that
 * meet where loops are drawn together, a hook that curls around the post. The hand is ours: heads
 * are shallow bows as the two loops on top of a stitch look, chains are almonds, clusters are
 * leaves, and a post's leg goes into the neck of the stitch it holds, where no bar is.
 */
#ifndef TB_DRAWING_GLYPH_H
#define TB_DRAWING_GLYPH_H

#include "drawing/drawing.h"
#include "notation/tree.h"
#include "stitches/stitch.h"

/* Who is worked around this stitch's post. */
typedef enum {
	TB_HELD_NOT,
	TB_HELD_FRONT, /* its head tips to the back and is not seen */
	TB_HELD_BACK,  /* its head stands out over the leg behind it */
} tb_held;

/* What a part is; crossings.c says by that what is cut by what. */
typedef enum {
	TB_PART_LEG,
	TB_PART_HEAD,
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
	double width;       /* the chart's column where this one is narrower; 0: the same */
	double height;      /* down to the bottom of its own row */
	double base_top;    /* down to the top of what it is worked into; height for the row below */
	const tb_point *feet;
	unsigned foot_count;
	unsigned chains;    /* of a turning chain: that many, standing; else 0 */
	tb_loops loops;     /* one loop only: an arc under the foot, open upward for the front loop; flat for the third */
	bool in_space;      /* worked around a chain: feet of a group stay apart */
	bool arc_beside;    /* another in its place has the arc of the loop that both are worked in */
	bool in_net;        /* … it leads from arc to arc */
	tb_held held;
	bool passed;        /* a leg of a later row goes down behind it: its head stands out as if held at the back */
	bool crosses;       /* its leg crosses others of its row: upright first, then over in one swing */
	/* Of several in one place: how many, which one, how far its head and foot are from its nearest neighbour's. */
	unsigned fan, fan_at;
	double head_gap, foot_gap;
	/* Of a linked stitch: where the top of the one it is linked to lies; 0,0: to none. */
	tb_point link;
} tb_glyph_place;

/* The parts, in painting order; an array of tb_part that frees its paths. Owned by the caller. */
GArray *tb_glyph_build(const tb_glyph_place *place);

GArray *tb_parts_create(void);

#endif
