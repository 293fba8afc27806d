/* The hand that draws glyphs: its proportions, and the strokes every family shares. */
#ifndef TB_DRAWING_GLYPH_HAND_H
#define TB_DRAWING_GLYPH_HAND_H

#include "drawing/glyph.h"
#include "layout/need.h"

/*
 * Proportions of the family, in units unless said. A stem has three zones: the neck under its head is free of bars, for
 * there a post of the next row holds it; then the bars; then the foot, or the swing into the row below.
 */
#define WIDE_HALF 0.42 /* of a head that stands over a leg behind it */
#define LEAF_HEAD 0.22
#define TOP_GAP 0.07
#define FOOT_GAP 0.14
#define GROUP_BAR_HALF 0.15 /* of legs that stand together */
#define FAN_BAR_HALF 0.13  /* … and fan out from one place */
#define LINK_HALF 0.42 /* so far a bar reaches over towards a stitch that it is not linked to */
#define LINK_SAG 0.13
#define LINK_FREE 0.36 /* under the head, a link of what has no bars */
#define DROP_LENGTH 0.36
#define BEAD 0.13 /* its radius */
#define BAR_SLANT 0.40 /* radians above the square to the leg */
#define LANE 0.33 /* beside its column a leg runs through the rows that it passes */
#define ALMOND_LENGTH 0.62
#define ALMOND_WIDTH 0.46 /* of its length */
#define SLIP_LENGTH 0.34
#define ARC_HALF 0.165
#define ARC_SAG 0.1
#define ARC_ROOM 0.11 /* that a foot gives up to the arc under it */

typedef struct {
	const tb_glyph_place *place;
	GArray *parts;
	double unit; /* the measure of details: the column, unless rows are very low */
} tb_hand;

/* A cubic, and a place on it. */
typedef struct {
	tb_point p[4];
} tb_cubic;

tb_path *tb_hand_part(tb_hand *hand, tb_part_kind kind, bool filled);
/* An almond between two points, as wide as its length asks; the one shape every chain is drawn with. */
void tb_hand_almond(tb_hand *hand, tb_point a, tb_point b, bool filled);
/* A loop that hangs down to LOW, narrow above; a bead. */
void tb_hand_drop(tb_hand *hand, tb_point low, double length);
void tb_hand_bead(tb_hand *hand, tb_point centre, double radius);
/* … or HALF wide across. */
void tb_hand_lens(tb_hand *hand, tb_point a, tb_point b, double half, bool filled);
/* A bow, its middle at X,Y, turned by ANGLE: the two loops on top of a stitch. */
void tb_hand_bow(tb_hand *hand, tb_part_kind kind, tb_point at, double half, double sag, double angle);
/* The head of a stem, as its place asks: none where a front post holds it, wide over a leg behind it. */
void tb_hand_head(tb_hand *hand, tb_point at, double half);
/* The bow that makes a stem a single crochet. */
void tb_hand_cross(tb_hand *hand, tb_part_kind kind, double x, double y);
/* A yarn over: across the leg at X,Y, which runs in direction DX,DY, rising to the right by SLANT, so long either side. */
void tb_hand_bar(tb_hand *hand, tb_point at, tb_point way, double left, double right, double slant);
/* The bars of a straight leg that begins at FROM; the first so far along it, each STEP from the last; mm. */
void tb_hand_bars(tb_hand *hand, tb_point from, tb_point to, double first, double step, double half, double slant);
/*
 * Where the bars of a stem HEIGHT high stand, mm from the row's line: the last at least LOW units above the foot, the
 * first at FIRST units where there is room.
 */
double tb_hand_first_bar(const tb_hand *hand, double low, double first, double *step);
/* How far below the row's bottom a foot ends, and the arc under it when one loop only is meant. */
double tb_hand_foot_gap(const tb_hand *hand);
void tb_hand_arc(tb_hand *hand, tb_point foot);
/* Where the I-th foot is. */
tb_point tb_hand_foot(const tb_hand *hand, unsigned i);
/* Where a leg's first line begins, under the head. */
double tb_hand_top(const tb_hand *hand);
/* 1 for a front post, -1 for a back one: to which side of the post a leg comes down. */
double tb_hand_turn(const tb_hand *hand);
/* The foot of a leg that has come down to FROM: into the neck of the post at POST, and around it. */
void tb_hand_throat(tb_hand *hand, tb_path *path, tb_point from, tb_point post);
/* … the loop alone, from straight beside the post on. */
void tb_hand_loop(tb_hand *hand, tb_path *path, tb_point post);
/* The figure N, its middle at AT: how many legs there are where they would stand too close to be counted. */
void tb_hand_figure(tb_hand *hand, tb_point at, unsigned n);

tb_point tb_cubic_at(const tb_cubic *c, double t, tb_point *way);
/* The place so far along it, of its whole length, and the way there. */
tb_point tb_cubic_along(const tb_cubic *c, double part, tb_point *way);
double tb_cubic_length(const tb_cubic *c);
tb_path *tb_hand_leg(tb_hand *hand, const tb_cubic *c);

/* The families. */
void tb_glyph_build_chains(tb_hand *hand);
void tb_glyph_build_slip(tb_hand *hand);
void tb_glyph_build_ring(tb_hand *hand);
void tb_glyph_build_cross(tb_hand *hand);
void tb_glyph_build_stem(tb_hand *hand);
void tb_glyph_build_together(tb_hand *hand);
void tb_glyph_build_post(tb_hand *hand);
void tb_glyph_build_post_leaf(tb_hand *hand);
void tb_glyph_build_leaf(tb_hand *hand);
void tb_glyph_build_bullion(tb_hand *hand);
void tb_glyph_build_cup(tb_hand *hand);
void tb_glyph_build_path(tb_hand *hand);

#endif
