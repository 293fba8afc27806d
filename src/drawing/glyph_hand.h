/* The hand that draws glyphs: its proportions, and the strokes every family shares. */
#ifndef TB_DRAWING_GLYPH_HAND_H
#define TB_DRAWING_GLYPH_HAND_H

#include "drawing/glyph.h"

/* Proportions of the family, in columns unless said. */
#define HEAD_HALF 0.29
#define HEAD_SAG 0.085
#define FOOT_GAP 0.15
#define TOP_GAP 0.05
#define BAR_HALF 0.185
#define LINK_HALF 0.42 /* of a bar that reaches over to the stitches beside it */
#define BAR_SLANT 0.40 /* radians above the square to the leg */
#define BAR_FIRST 0.36 /* of the leg, from the top */
#define BAR_STEP 0.17
#define HOOK_RADIUS 0.18
#define LEAF_HALF 0.27
/* Legs that are drawn together lean only because they meet; their bars follow that by half. */
#define JOINED_LEAN 0.5
/* Bars of many legs: from one to the next on a leg; every second leg has them half that lower. */
#define STEPPED_BARS 0.36
#define ARC_HALF 0.165
#define ARC_SAG 0.1
#define ARC_ROOM 0.13 /* that a foot gives up to the arc under it */

typedef struct {
	const tb_glyph_place *place;
	GArray *parts;
	double unit; /* the measure of details: the column, unless rows are very low */
} tb_hand;

tb_path *tb_hand_part(tb_hand *hand, tb_part_kind kind, bool filled);
/* An almond between two points, HALF wide across; the one shape every chain is drawn with. */
void tb_hand_almond(tb_hand *hand, tb_point a, tb_point b, double half, bool filled);
/* A head: the bow of the two loops on top of a stitch. */
void tb_hand_bow(tb_hand *hand, double x, double y, double half);
/*
 * A yarn over: across the leg at X,Y, which runs in direction DX,DY, rising to the right, so long
 * on either side of it.
 */
void tb_hand_bar(
	tb_hand *hand, double x, double y, double dx, double dy, double left, double right);
/* How long a bar may be towards a leg DISTANCE away; STEPPED when that leg's bars stand lower. */
double tb_hand_bar_room(const tb_hand *hand, double distance, bool stepped);
/* How far below the row's bottom a foot ends, and the arc under it when one loop only is meant. */
double tb_hand_foot_gap(const tb_hand *hand);
void tb_hand_arc(tb_hand *hand, tb_point foot);
/* Where the I-th foot is: on its base, or short of a space's middle around a chain. */
tb_point tb_hand_foot(const tb_hand *hand, unsigned i);
/* Where a leg's first line begins, under the head. */
double tb_hand_top(const tb_hand *hand);
/* The foot of a leg that ends in a hook around the post at POST, having come down to START. */
void tb_hand_hook(tb_hand *hand, tb_path *path, tb_point start, tb_point post);

/* The families, a file each. */
void tb_glyph_build_chains(tb_hand *hand);
void tb_glyph_build_slip(tb_hand *hand);
void tb_glyph_build_ring(tb_hand *hand);
void tb_glyph_build_cross(tb_hand *hand);
void tb_glyph_build_legs(tb_hand *hand);
void tb_glyph_build_post(tb_hand *hand);
void tb_glyph_build_leaf(tb_hand *hand);
void tb_glyph_build_cup(tb_hand *hand);
void tb_glyph_build_path(tb_hand *hand);

#endif
