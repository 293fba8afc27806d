/* Crosses and stems: sc and its kin, stitches with straight legs, several of them drawn together. */
#include "drawing/glyph_hand.h"

#include <math.h>

/* A fan of so many has its bars up near the heads, all alike. */
#define WIDE_FAN 7

/* Half as high as a lens across a leg, in units. */
#define LENS 0.1
/* A leg that leans more than this (its tangent) has its bars on a steeper stretch, and swings to the head from there. */
#define MOST_LEAN 0.839

/* What a stem stands on; returns where it ends above that. */
static double add_foot(tb_hand *hand, tb_point foot)
{
	double u = hand->unit;
	switch (hand->place->stitch->foot) {
	case TB_FOOT_LOOP: {
		double low = foot.y - tb_hand_foot_gap(hand) + 0.03 * u, high = low - 0.34 * u;
		tb_hand_almond(hand, (tb_point){foot.x, low}, (tb_point){foot.x, high}, false);
		tb_hand_arc(hand, foot);
		return high;
	}
	case TB_FOOT_CHAIN: {
		double half = ALMOND_LENGTH / 2 * hand->place->column, y = foot.y + 0.25 * hand->place->column;
		tb_hand_almond(hand, (tb_point){foot.x - half, y}, (tb_point){foot.x + half, y}, false);
		return y - ALMOND_WIDTH * half;
	}
	case TB_FOOT_DROP: {
		double low = foot.y - tb_hand_foot_gap(hand) + 0.03 * u;
		tb_hand_drop(hand, (tb_point){foot.x, low}, DROP_LENGTH * u);
		tb_hand_arc(hand, foot);
		return low - DROP_LENGTH * u;
	}
	case TB_FOOT_BEAD: {
		double low = foot.y - tb_hand_foot_gap(hand);
		tb_hand_bead(hand, (tb_point){foot.x, low - BEAD * u}, BEAD * u);
		tb_hand_arc(hand, foot);
		return low - 2 * BEAD * u;
	}
	case TB_FOOT_PLAIN:
	case TB_FOOT_DEEP:
	case TB_FOOT_SLIP:
	case TB_FOOT_CROSS:
		break;
	}
	tb_hand_arc(hand, foot);
	return foot.y - tb_hand_foot_gap(hand);
}

/* Worked backward: a wave over the bow, flatter where the row is too low for both. */
static void add_wave(tb_hand *hand, double y, double half, double room)
{
	double rise = fmin(0.075 * hand->unit, 0.24 * room);
	tb_path *path = tb_hand_part(hand, TB_PART_HEAD, false);
	tb_path_move(path, -half, y + rise * 0.55);
	tb_path_curve(path, -half * 0.62, y - rise * 1.5, -half * 0.3, y - rise * 1.1, 0, y);
	tb_path_curve(
		path, half * 0.3, y + rise * 1.1, half * 0.62, y + rise * 1.5, half, y - rise * 0.55);
}

/* Teeth on one beam, a cross over their middle; of two, two strokes that meet. */
static void build_crosses_together(tb_hand *hand)
{
	const tb_glyph_place *place = hand->place;
	double u = hand->unit, high = tb_hand_top(hand) + 0.16 * u, first = INFINITY, last = -INFINITY;
	unsigned legs = place->foot_count;
	for (unsigned i = 0; i < legs; i++) {
		double x = tb_hand_foot(hand, i).x;
		first = fmin(first, x);
		last = fmax(last, x);
	}
	/* The outer ones stand in a little, so that what is beside them is clear. */
	double in = fmin(0.10 * u, (last - first) * 0.12), round = fmin(0.22 * u, (last - first) * 0.3);
	double low[2] = {0, 0};
	for (unsigned i = 0; i < legs; i++) {
		tb_point foot = tb_hand_foot(hand, i);
		bool at_first = foot.x == first, at_last = foot.x == last;
		tb_point end = {foot.x + (at_first ? in : at_last ? -in : 0), 0};
		end.y = add_foot(hand, (tb_point){end.x, foot.y}) + (FOOT_GAP - TB_CROSS_FOOT) * u;
		if (legs > 2 && (at_first || at_last)) {
			low[at_last] = end.y;
			continue;
		}
		tb_path *leg = tb_hand_part(hand, TB_PART_LEG, false);
		if (legs > 2) {
			tb_path_move(leg, end.x, high);
		} else if (i > 0) {
			tb_path_move(leg, 0, high - 0.06 * u);
		} else {
			/* The first of two is the stem as well. */
			tb_path_move(leg, 0, high - 0.20 * u);
			tb_path_line(leg, 0, high - 0.06 * u);
		}
		tb_path_line(leg, end.x, end.y);
	}
	if (legs > 2) {
		double left = first + in, right = last - in;
		tb_path *beam = tb_hand_part(hand, TB_PART_LEG, false);
		tb_path_move(beam, left, low[0]);
		tb_path_curve(beam, left, low[0] - 0.12 * u, left + 0.02 * u, high + 0.02 * u, left + round, high);
		tb_path_line(beam, right - round, high);
		tb_path_curve(beam, right - 0.02 * u, high + 0.02 * u, right, low[1] - 0.12 * u, right, low[1]);
		tb_path *stem = tb_hand_part(hand, TB_PART_LEG, false);
		tb_path_move(stem, 0, high - 0.20 * u);
		tb_path_line(stem, 0, high);
	}
	tb_hand_cross(hand, TB_PART_HEAD, 0, high - 0.13 * u);
}

/*
 * Where a spike goes down: beside its column, over the rows that it passes, to a toe in that which it enters. It ends on
 * top of that.
 */
static void build_spike(tb_hand *hand, tb_point foot)
{
	double u = hand->unit, h = hand->place->height, x = -LANE * u;
	double from = h - fmin(0.22 * u, 0.4 * h), end = foot.y - 0.06 * u;
	tb_path *leg = tb_hand_part(hand, TB_PART_LEG, false);
	tb_path_move(leg, 0, 0.06 * u);
	tb_path_line(leg, 0, from);
	tb_path_curve(leg, 0, from + 0.16 * u, x, h - 0.06 * u, x, fmin(h + 0.12 * u, end - 0.3 * u));
	tb_path_line(leg, x, fmax(h + 0.12 * u, end - 0.3 * u));
	tb_path_curve(leg, x, end - 0.12 * u, x + 0.06 * u, end - 0.02 * u, foot.x - 0.12 * u, end + 0.02 * u);
	tb_hand_cross(hand, TB_PART_HEAD, 0, 0.16 * u);
}

void tb_glyph_build_cross(tb_hand *hand)
{
	const tb_glyph_place *place = hand->place;
	const tb_stitch *stitch = place->stitch;
	double u = hand->unit, h = place->height, top = tb_hand_top(hand);
	if (place->foot_count > 1) {
		build_crosses_together(hand);
		return;
	}
	tb_point foot = tb_hand_foot(hand, 0);
	if (stitch->foot == TB_FOOT_DEEP && foot.y > h + 0.3 * u) {
		build_spike(hand, foot);
		return;
	}
	double low = add_foot(hand, foot) + (stitch->foot == TB_FOOT_PLAIN ? FOOT_GAP - TB_CROSS_FOOT : 0) * u, x = foot.x;
	if (place->held != TB_HELD_NOT) {
		/* A post to be held: the stem goes up to the line, the cross stays at the foot. */
		tb_path *leg = tb_hand_part(hand, TB_PART_LEG, false);
		tb_path_move(leg, 0, top);
		tb_path_line(leg, x, low);
		tb_hand_cross(hand, TB_PART_BAR, x, low - (TB_CROSS_STEM - TB_CROSS_BOW) * u);
		tb_hand_head(hand, (tb_point){0, top}, 0);
		return;
	}
	if (stitch->head == TB_HEAD_WAVE) {
		double high = fmax(top, low - 0.36 * u);
		tb_path *leg = tb_hand_part(hand, TB_PART_LEG, false);
		tb_path_move(leg, 0, high);
		tb_path_line(leg, x, low);
		add_wave(hand, high, 0.25 * u, low - high);
		tb_hand_cross(hand, TB_PART_HEAD, 0, high + (low - high) * 0.5);
		return;
	}
	/*
	 * A cross has one proportion in every cell, and stands in the middle of one that is higher. Only what leads through a
	 * net from one arc to the next is as long as it must be.
	 */
	double room = low - fmin(top, 0.3 * low), stem = fmin(TB_CROSS_STEM * u, room);
	if (place->in_net || stitch->foot == TB_FOOT_LOOP || stitch->foot == TB_FOOT_CHAIN)
		stem = fmax(room, 0.2 * u);
	else if (stitch->foot == TB_FOOT_DROP || stitch->foot == TB_FOOT_BEAD)
		stem = TB_CROSS_STEM * u;
	if (stitch->foot == TB_FOOT_LOOP && !place->in_net)
		stem = fmin(stem, 0.5 * u);
	if (stitch->foot == TB_FOOT_PLAIN && !place->in_net) {
		/* Of several in one place, near the head, where they are further from each other. */
		double middle = place->fan > 1 ? top + stem : h / 2 + stem / 2 + 0.03 * u;
		if (middle < low) {
			x = h > 0 ? x * middle / h : x;
			low = middle;
		}
	}
	double high = low - stem;
	tb_path *leg = tb_hand_part(hand, TB_PART_LEG, false);
	tb_path_move(leg, h > 0 ? foot.x * high / h : 0, high);
	tb_path_line(leg, x, low);
	if (stitch->head == TB_HEAD_ALMOND)
		tb_hand_lens(hand, (tb_point){-TB_CROSS_HALF * u, high + TB_CROSS_BOW * u}, (tb_point){TB_CROSS_HALF * u, high + TB_CROSS_BOW * u},
			LENS * u, false);
	else if (place->passed)
		tb_hand_bow(hand, TB_PART_HEAD, (tb_point){0, high + TB_CROSS_BOW * u}, 0.30 * u, TB_CROSS_SAG * u, 0);
	else
		tb_hand_cross(hand, TB_PART_HEAD, 0, high + TB_CROSS_BOW * u);
}

/* A leg that stands on a place further along the row: upright as far as its bars, then over in one swing. */
static void build_crossing(tb_hand *hand, tb_point foot)
{
	double u = hand->unit, top = tb_hand_top(hand), end = foot.y - tb_hand_foot_gap(hand);
	bool held = hand->place->held != TB_HELD_NOT;
	double neck = fmin(tb_need_neck(hand->place->stitch->bars, held) * u, 0.6 * end), down = end - neck;
	tb_path *leg = tb_hand_part(hand, TB_PART_LEG, false);
	tb_path_move(leg, 0, top);
	tb_path_line(leg, 0, neck);
	tb_path_curve(leg, 0, neck + 0.30 * down, foot.x * 0.88, end - 0.30 * down, foot.x, end);
	double first = fmin((held ? TB_FIRST_BAR : TB_FIRST_BAR_FREE) * u, fmax(neck - 0.10 * u, 0.5 * neck));
	tb_hand_bars(hand, (tb_point){0, top}, (tb_point){0, neck}, first - top, 0.92 * TB_BAR_STEP * u, TB_BAR_HALF * u, BAR_SLANT);
	tb_hand_head(hand, (tb_point){0, top}, TB_HEAD_HALF * u);
}

/* Of several in one place, every second leg ends where paper would close between it and its neighbours, others nearer. */
static double find_stop(const tb_hand *hand, double length)
{
	const tb_glyph_place *place = hand->place;
	unsigned n = place->fan, i = place->fan_at;
	double apart = 2.2 * place->pen, grows = (place->head_gap - place->foot_gap) / fmax(length, 1e-6);
	if (n <= 3 || place->foot_gap >= apart || grows <= 0)
		return 0;
	bool even = n % 2 == 1 ? (i + n - (n - 1) / 2) % 2 == 1 : (i < n / 2) == (i % 2 == 1);
	double stop = (apart - place->foot_gap) / fmax(grows, 0.05) * (even ? 1 : 0.42);
	return fmin(stop * (even && n >= 9 ? 1.15 : 1), 0.5 * length);
}

/* How long a bar may be to either side, so far down a leg of LENGTH, with paper between it and the next leg's. */
static double bar_room(const tb_hand *hand, double down, double length)
{
	const tb_glyph_place *place = hand->place;
	double way = place->head_gap > 0 ? place->head_gap : hand->unit;
	double near = way - (way - place->foot_gap) * down / fmax(length, 1e-6);
	return 0.5 * near - 0.12 * hand->unit;
}

/* One of several in one place: its bars square to it. */
static void build_fan_leg(tb_hand *hand, tb_point foot)
{
	const tb_glyph_place *place = hand->place;
	double u = hand->unit, top = tb_hand_top(hand), end = add_foot(hand, foot), length = hypot(foot.x, end - top);
	double part = length > 0 ? 1 - find_stop(hand, length) / length : 1;
	tb_point to = {foot.x * part, top + (end - top) * part};
	tb_path *leg = tb_hand_part(hand, TB_PART_LEG, false);
	tb_path_move(leg, 0, top);
	tb_path_line(leg, to.x, to.y);
	double way = place->head_gap > 0 ? place->head_gap : u, step, first = tb_hand_first_bar(hand, 0.20, TB_FIRST_BAR, &step) - top;
	double half = bar_room(hand, first, length);
	if (half < FAN_BAR_HALF * u || place->fan >= WIDE_FAN) {
		/* Where the legs are too near each other for bars, up towards the heads. */
		first = fmin(0.47 * u, 0.47 * length);
		step = fmin(0.17 * u, 0.3 * length / MAX(place->stitch->bars, 1));
		half = fmax(0.07 * u, bar_room(hand, fmin(0.45 * u, length), length));
	}
	tb_hand_bars(hand, (tb_point){0, top}, to, first, step, fmin(FAN_BAR_HALF * u, half), 0);
	tb_hand_head(hand, (tb_point){0, top}, fmin(TB_HEAD_HALF * u, 0.40 * way));
}

/*
 * The bars of a linked stitch run on, sagging, to the leg before; to what is no such stitch, halfway. What has no yarn over
 * is linked by a strand under its head.
 */
static void add_links(tb_hand *hand, tb_point from, tb_point to, double first, double step)
{
	const tb_glyph_place *place = hand->place;
	double u = hand->unit, dx = to.x - from.x, dy = to.y - from.y, length = hypot(dx, dy);
	bool linked = place->link.x != 0 || place->link.y != 0;
	tb_point way = linked ? place->link : (tb_point){-LINK_HALF * u, 0};
	double side = way.x < 0 ? -1 : 1;
	for (unsigned i = 0; i < MAX(place->stitch->bars, 1) && length > 0; i++) {
		double t = fmin((first + i * step) / length, 1);
		tb_point at = {from.x + dx * t, from.y + dy * t};
		tb_path *link = tb_hand_part(hand, TB_PART_BAR, false);
		tb_path_move(link, at.x - side * 0.15 * u, at.y - 0.04 * u);
		tb_path_curve(link, at.x + way.x * 0.3, at.y + way.y * 0.3 + LINK_SAG * u, at.x + way.x * 0.7, at.y + way.y * 0.7 + LINK_SAG * u,
			at.x + way.x, at.y + way.y);
	}
}

void tb_glyph_build_stem(tb_hand *hand)
{
	const tb_glyph_place *place = hand->place;
	double u = hand->unit, top = tb_hand_top(hand), step;
	tb_point foot = tb_hand_foot(hand, 0);
	if (place->crosses && fabs(foot.x) > 0.3 * u) {
		build_crossing(hand, foot);
		return;
	}
	if (place->fan > 1 && !place->stitch->linked && place->stitch->head == TB_HEAD_BOW) {
		build_fan_leg(hand, foot);
		return;
	}
	tb_point end = {foot.x, add_foot(hand, foot)};
	tb_path *leg = tb_hand_part(hand, TB_PART_LEG, false);
	tb_path_move(leg, 0, top);
	tb_path_line(leg, end.x, end.y);
	bool loop = place->stitch->foot == TB_FOOT_LOOP || place->stitch->foot == TB_FOOT_BEAD;
	double first = tb_hand_first_bar(hand, loop ? 0.55 : 0.20, loop ? 0.45 : TB_FIRST_BAR, &step);
	double lean = fabs(atan2(end.x, end.y - top));
	if (place->stitch->linked)
		add_links(hand, (tb_point){0, top}, end, (place->stitch->bars > 0 ? first : LINK_FREE * u) - top, step);
	else
		tb_hand_bars(hand, (tb_point){0, top}, end, first - top, step, TB_BAR_HALF * u, BAR_SLANT * fmax(0, 1 - lean / 0.35));
	if (place->stitch->head == TB_HEAD_ALMOND)
		tb_hand_lens(hand, (tb_point){-TB_HEAD_HALF * u, top + LENS * u}, (tb_point){TB_HEAD_HALF * u, top + LENS * u}, LENS * u, false);
	else if (place->stitch->head == TB_HEAD_WAVE)
		add_wave(hand, top, TB_HEAD_HALF * u, end.y - top);
	else
		tb_hand_head(hand, (tb_point){0, top}, TB_HEAD_HALF * u);
}

/* One of the legs that are drawn together, from FROM under the head to TO over its place. */
static void add_joined_leg(tb_hand *hand, tb_point from, tb_point to)
{
	unsigned bars = hand->place->stitch->bars;
	double u = hand->unit, long_ = to.y - from.y, dx = to.x - from.x;
	double step = bars > 0 ? fmin(0.18 * u, 0.34 * long_ / bars) : 0, half = GROUP_BAR_HALF * u;
	tb_path *leg = tb_hand_part(hand, TB_PART_LEG, false);
	tb_path_move(leg, from.x, from.y);
	if (fabs(dx) <= MOST_LEAN * long_) {
		tb_path_line(leg, to.x, to.y);
		tb_hand_bars(hand, from, to, 0.60 * hypot(dx, long_) - (bars - 1.0) / 2 * step, step, half, 0);
		return;
	}
	/* An elbow: so steep that bars have room, and from there over to the head. */
	double low = 0.56 * long_, lean = copysign(fmin(0.30 * low, fabs(dx) * 0.2), dx);
	tb_point elbow = {to.x - lean * 0.6, to.y - low};
	tb_path_curve(leg, from.x + (elbow.x - from.x) * 0.62, from.y + 0.03 * u, elbow.x - (to.x - elbow.x) * 0.45,
		elbow.y - low * 0.45, elbow.x, elbow.y);
	tb_path_line(leg, to.x, to.y);
	double length = hypot(to.x - elbow.x, low);
	tb_hand_bars(hand, elbow, to, length - 0.36 * long_ - (bars - 1.0) / 2 * step, step, half, 0);
}

void tb_glyph_build_together(tb_hand *hand)
{
	const tb_glyph_place *place = hand->place;
	unsigned legs = place->foot_count;
	double u = hand->unit, top = tb_hand_top(hand), tip = legs > 2 ? 0.02 * u * (legs - 2) : 0;
	double side = place->feet[legs - 1].x < place->feet[0].x ? -1 : 1;
	for (unsigned i = 0; i < legs; i++) {
		tb_point foot = tb_hand_foot(hand, i), from = {side * tip * (2.0 * i / (legs - 1) - 1), top};
		/* A foot stands in a little, beside what is worked into the same place. */
		foot.x -= copysign(fmin(fabs(foot.x) * 0.12, 0.12 * u), foot.x);
		add_joined_leg(hand, from, (tb_point){foot.x, add_foot(hand, foot)});
	}
	tb_hand_head(hand, (tb_point){0, top}, fmax(0.24 * u, tip + 0.2 * u));
}
