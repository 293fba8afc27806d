/*
 * How high a row must be for what is drawn in it. The layout gives a row that height, and the glyphs use it: both ask
 * here. Heights are in units, the measure of every detail of a symbol: a column, unless rows are very low.
 */
#ifndef TB_LAYOUT_NEED_H
#define TB_LAYOUT_NEED_H

#include <stdbool.h>

/* What the glyphs draw and the layout keeps clear, in units: half a head, and how far its ends hang; half a bar. */
#define TB_HEAD_HALF 0.29
#define TB_HEAD_SAG 0.085
#define TB_BAR_HALF 0.185
/* … of single crochet: its bow, that one's height on the stem, the stem, and how far that ends above the foot. */
#define TB_CROSS_HALF 0.215
#define TB_CROSS_SAG 0.062
#define TB_CROSS_BOW 0.10
#define TB_CROSS_STEM 0.31
#define TB_CROSS_FOOT 0.13
/* … half of a leaf of several legs: so much, and by leg, and at most. */
#define TB_LEAF_HALF 0.10
#define TB_LEAF_BY_LEG 0.065
#define TB_LEAF_MOST 0.40
/* How far under its head a post is held, and how far the loop around it reaches to either side. */
#define TB_THROAT_LEVEL 0.275
#define TB_THROAT_RADIUS 0.155
/* Where the first of a stitch's bars stands, under the head: of a post, or a stitch that posts hold; of others. */
#define TB_FIRST_BAR 0.62
#define TB_FIRST_BAR_FREE 0.50
#define TB_BAR_STEP 0.20

/* The unit, in mm, of columns so wide and chains so high. */
double tb_need_unit(double column, double chain);

/* How far down a leg that crosses others stands upright, so that all its BARS are on that stretch; held, they are lower. */
double tb_need_neck(unsigned bars, bool held);

/* … and how high its row is, where it stands on a place SHIFT columns away. */
double tb_need_crossing(unsigned bars, bool held, unsigned shift);

/*
 * How high the stitches of a row are whose stems are held by posts of later rows, with so many bars under the neck;
 * single crochet, to have a stem at all; leaves, that their belts are under it.
 */
double tb_need_held(bool cross, bool leaf, unsigned bars);

/* … a row of clusters; of single crochet on a loop or a bead, of those that are drawn together. */
double tb_need_leaf(void);
double tb_need_raised_cross(void);
double tb_need_crosses_together(void);

#endif
