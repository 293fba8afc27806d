/*
 * Stitches around posts. A leg comes down into the neck of the stitch it holds, under its head, and around it: front
 * posts pass over that head, back posts under it.
 */
#include "drawing/glyph_hand.h"

#include <math.h>

/* Where a leg leaves its own cell, above its foot: for the row below, and for a lane past the rows between; units. */
#define LEAVE_NEAR 0.26
#define LEAVE_FAR 0.42
/* The last bar over the foot, of a leg that goes far. */
#define LOW_NEAR 0.24
#define LOW_FAR 0.46
/* A foot so much lower than the row's own is in a row further down. */
#define FAR_DOWN 0.25

/* The line of the row that the post at POST stands in. */
static double line_of(const tb_hand *hand, tb_point post)
{
	return post.y - TB_THROAT_LEVEL * hand->unit;
}

static bool is_far(const tb_hand *hand, tb_point post)
{
	return line_of(hand, post) > hand->place->height + FAR_DOWN * hand->unit;
}

/* A leg down to START, where it leaves its column: an extended stitch has its loop over that. */
static void add_stalk(tb_hand *hand, tb_path *leg, tb_point start)
{
	if (hand->place->stitch->foot != TB_FOOT_LOOP) {
		tb_path_line(leg, start.x, start.y);
		return;
	}
	tb_point high = {start.x, start.y - 0.34 * hand->unit};
	tb_path_line(leg, high.x, high.y);
	tb_hand_almond(hand, start, high, false);
	tb_path_move(leg, start.x, start.y);
}

static void add_bars(tb_hand *hand, double top, double low, double first)
{
	double step, from = tb_hand_first_bar(hand, low, first, &step);
	tb_hand_bars(hand, (tb_point){0, top}, (tb_point){0, hand->place->height}, from - top, step, TB_BAR_HALF * hand->unit, BAR_SLANT);
}

/* What makes a single crochet of a leg. Held itself, it keeps that, and its head is the line of its row. */
static void add_cross(tb_hand *hand, double y)
{
	bool held = hand->place->held != TB_HELD_NOT;
	tb_hand_cross(hand, held ? TB_PART_BAR : TB_PART_HEAD, 0, y);
	if (held)
		tb_hand_head(hand, (tb_point){0, tb_hand_top(hand)}, 0);
}

/* Around a post further along the row, as in a cable: upright past its bars, then over in one swing. */
static void build_crossing(tb_hand *hand, tb_point post)
{
	unsigned bars = hand->place->stitch->bars;
	double u = hand->unit, top = tb_hand_top(hand), turn = tb_hand_turn(hand), beside = post.x - turn * TB_THROAT_RADIUS * u;
	/* From the other side it comes in at the line of the row, and goes on beside the post. */
	bool same = beside * turn > 0;
	double end = same ? post.y : line_of(hand, post) + 0.03 * u;
	double neck = fmin(tb_need_neck(bars, true) * u, 0.62 * end), down = end - neck;
	double in = fmin(same ? 0.46 * u : 0.34 * down, 0.6 * down);
	tb_path *leg = tb_hand_part(hand, TB_PART_LEG, false);
	tb_path_move(leg, 0, top);
	add_stalk(hand, leg, (tb_point){0, neck});
	tb_path_curve(leg, 0, neck + 0.32 * down, beside, end - in, beside, end);
	tb_path_line(leg, beside, post.y);
	tb_hand_loop(hand, leg, post);
	double step = 0.92 * TB_BAR_STEP * u, first = fmin(TB_FIRST_BAR * u, neck - 0.10 * u - (bars > 1 ? (bars - 1) * step : 0));
	tb_hand_bars(hand, (tb_point){0, top}, (tb_point){0, neck}, fmax(first - top, 0.15 * u), step, TB_BAR_HALF * u, BAR_SLANT);
	tb_hand_head(hand, (tb_point){0, top}, TB_HEAD_HALF * u);
}

static void build_one(tb_hand *hand, tb_point post)
{
	const tb_glyph_place *place = hand->place;
	double u = hand->unit, h = place->height, top = tb_hand_top(hand), turn = tb_hand_turn(hand);
	bool far = is_far(hand, post);
	tb_path *leg = tb_hand_part(hand, TB_PART_LEG, false);
	tb_path_move(leg, 0, top);
	if (!far) {
		tb_point from = {0, h - fmin(LEAVE_NEAR * u, 0.45 * h)};
		add_stalk(hand, leg, from);
		tb_hand_throat(hand, leg, from, post);
	} else {
		double from = h - fmin(LEAVE_FAR * u, 0.5 * h), x = -turn * LANE * u, end = fmax(h + 0.10 * u, line_of(hand, post) - 0.22 * u);
		add_stalk(hand, leg, (tb_point){0, from});
		tb_path_curve(leg, 0, from + 0.27 * u, x, h - 0.24 * u, x, h + 0.10 * u);
		tb_path_line(leg, x + post.x * 0.5, end);
		tb_hand_throat(hand, leg, (tb_point){x + post.x * 0.5, end}, post);
	}
	if (place->stitch->form == TB_FORM_CROSS) {
		add_cross(hand, fmin((place->held != TB_HELD_NOT ? 0.56 : 0.16) * u, 0.6 * h));
		return;
	}
	add_bars(hand, top, far ? LOW_FAR : LOW_NEAR, far ? TB_FIRST_BAR_FREE : TB_FIRST_BAR);
	tb_hand_head(hand, (tb_point){0, top}, TB_HEAD_HALF * u);
}

/* One head, a leg around each of several posts. */
static void build_several(tb_hand *hand)
{
	const tb_glyph_place *place = hand->place;
	unsigned legs = place->foot_count;
	double u = hand->unit, h = place->height, top = tb_hand_top(hand), turn = tb_hand_turn(hand);
	double tip = legs > 2 ? 0.02 * u * (legs - 2) : 0, side = place->feet[legs - 1].x < place->feet[0].x ? -1 : 1;
	for (unsigned i = 0; i < legs; i++) {
		tb_point post = place->feet[i];
		double beside = post.x - turn * TB_THROAT_RADIUS * u;
		tb_cubic c = {{{side * tip * (2.0 * i / (legs - 1) - 1), top}, {0, 0}, {beside, fmin(h - 0.30 * u, post.y - 0.2 * u)}, {beside, post.y}}};
		c.p[1] = (tb_point){c.p[0].x + (beside - c.p[0].x) * 0.62, top + (h - top) * 0.55};
		tb_hand_loop(hand, tb_hand_leg(hand, &c), post);
		double length = tb_cubic_length(&c);
		for (unsigned b = 0; b < place->stitch->bars; b++) {
			tb_point way, at = tb_cubic_along(&c, (0.50 * (h - top) + b * 0.18 * u) / length, &way);
			tb_hand_bar(hand, at, way, GROUP_BAR_HALF * u, GROUP_BAR_HALF * u, 0);
		}
	}
	if (place->stitch->form == TB_FORM_CROSS)
		add_cross(hand, top + 0.12 * u);
	else
		tb_hand_head(hand, (tb_point){0, top}, fmax(0.24 * u, tip + 0.2 * u));
}

void tb_glyph_build_post(tb_hand *hand)
{
	const tb_glyph_place *place = hand->place;
	if (place->foot_count > 1)
		build_several(hand);
	else if (fabs(place->feet[0].x) > (place->crosses ? 0.3 : 0.8) * hand->unit)
		build_crossing(hand, place->feet[0]);
	else
		build_one(hand, place->feet[0]);
}

/* The outer strand of a leaf around a post, on SIDE: down beside the column and in to a sling under the post. */
static tb_cubic outer_strand(const tb_hand *hand, tb_point post, double half, double top, bool far, double side)
{
	double u = hand->unit, h = hand->place->height, r = TB_THROAT_RADIUS * u;
	if (far)
		return (tb_cubic){{{0, top}, {side * half * 0.9, top + 0.34 * h}, {side * half, h * 0.5}, {side * half, h}}};
	return (tb_cubic){{{0, top}, {side * half * 1.25, top + 0.36 * h}, {side * half * 1.1, 0.75 * h},
		{post.x + side * r, post.y - 0.06 * u}}};
}

/*
 * Several legs around one post: a leaf in its own cell; the two outer strands run on beside the column, so that the
 * stitch that is passed shows between them, and close in a sling under the post.
 */
void tb_glyph_build_post_leaf(tb_hand *hand)
{
	const tb_glyph_place *place = hand->place;
	unsigned legs = MAX(place->stitch->legs, 2), bars = place->stitch->bars;
	tb_point post = place->feet[0];
	bool far = is_far(hand, post);
	double u = hand->unit, h = place->height, top = tb_hand_top(hand), half = (far ? LANE : 0.25) * u, r = TB_THROAT_RADIUS * u;
	tb_cubic strands[2];
	for (unsigned k = 0; k < 2; k++) {
		double side = k == 0 ? -1 : 1, arc = 0.5523 * r;
		strands[k] = outer_strand(hand, post, half, top, far, side);
		tb_path *leg = tb_hand_leg(hand, &strands[k]);
		if (far) {
			double end = line_of(hand, post) - 0.32 * u, x = post.x * 0.5 + side * half;
			tb_path_line(leg, x, fmax(end, h));
			tb_path_curve(leg, x, end + 0.30 * u, post.x + side * r * 1.15, post.y - 0.24 * u, post.x + side * r, post.y);
		} else {
			tb_path_line(leg, post.x + side * r, post.y);
		}
		tb_path_curve(leg, post.x + side * r, post.y + arc, post.x + side * arc, post.y + r, post.x, post.y + r);
	}
	bool figure = legs > 5 || (legs > 2 && 2 * half / (legs - 1) < 0.128 * u);
	for (unsigned i = 1; i + 1 < legs && !figure; i++) {
		double x = (-1 + 2.0 * i / (legs - 1)) * half;
		tb_cubic inner = {{{0, top}, {x * 1.1, top + 0.32 * h}, {x * 1.1, 0.7 * h}, {x * 0.9, h - (far ? 0.10 : 0.05) * u}}};
		tb_hand_leg(hand, &inner);
	}
	for (unsigned b = 0; b < bars; b++) {
		double part = (fmin(fmax(0.50 * u, 0.36 * h), 0.46 * h) + b * 0.17 * u) / (h - top);
		tb_point way[2], at[2];
		for (unsigned k = 0; k < 2; k++)
			at[k] = tb_cubic_along(&strands[k], part, &way[k]);
		if (legs == 2 || figure) {
			for (unsigned k = 0; k < 2; k++)
				tb_hand_bar(hand, at[k], (tb_point){0, 1}, (k == 0 ? 0.12 : 0.10) * u, (k == 0 ? 0.10 : 0.12) * u, 0);
		} else {
			tb_path *belt = tb_hand_part(hand, TB_PART_BAR, false);
			tb_path_move(belt, at[0].x - 0.10 * u, at[0].y + 0.03 * u);
			tb_path_curve(belt, at[0].x + 0.1 * u, at[0].y - 0.035 * u, at[1].x - 0.1 * u, at[1].y - 0.035 * u, at[1].x + 0.10 * u,
				at[1].y + 0.03 * u);
		}
	}
	if (figure)
		tb_hand_figure(hand, (tb_point){0, top + 0.72 * (h - top)}, legs);
	if (place->stitch->form == TB_FORM_CROSS)
		add_cross(hand, top + 0.2 * u);
	else
		tb_hand_head(hand, (tb_point){0, top}, LEAF_HEAD * u);
}
