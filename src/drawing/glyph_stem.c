/* Crosses and stems: sc and its kin, stitches with straight legs, stitches around a post. */
#include "drawing/glyph_hand.h"

#include <math.h>

/* Half as high as a lens across a leg, in units. */
#define LENS 0.1

/* The bars of one leg: how far they reach on either side, and where. */
typedef struct {
	double first; /* the middle of them, in parts of the leg from the top */
	bool stepped, lower; /* of many legs, and half a step below the next leg's */
	double left, right; /* mm */
} bar_plan;

/* Bars spread about the upper middle of a straight stretch of leg, closer where there are many. */
static void add_bars(tb_hand *hand, tb_point from, tb_point to, const bar_plan *plan)
{
	double lean = hand->place->foot_count > 1 ? JOINED_LEAN : 1;
	unsigned bars = hand->place->stitch->bars;
	double dx = to.x - from.x, dy = to.y - from.y, length = hypot(dx, dy);
	if (bars == 0 || length <= 0)
		return;
	double step = plan->stepped ? STEPPED_BARS : BAR_STEP * 1.35;
	step = fmin(step * hand->unit, 0.5 * length / bars);
	double middle = length * plan->first + (bars - 1) * step * 0.12 + (plan->lower ? step / 2 : 0);
	for (unsigned i = 0; i < bars; i++) {
		double t = (middle + (i - (bars - 1) / 2.0) * step) / length;
		tb_hand_bar(hand, from.x + dx * t, from.y + dy * t, dx * lean, dy, plan->left, plan->right);
	}
}

/* What a stem stands on; returns where it ends above that. */
static double add_foot(tb_hand *hand, tb_point foot)
{
	double u = hand->unit;
	switch (hand->place->stitch->foot) {
	case TB_FOOT_LOOP: {
		double low = foot.y - tb_hand_foot_gap(hand) + 0.03 * u, high = low - 0.3 * u;
		tb_hand_almond(hand, (tb_point){foot.x, low}, (tb_point){foot.x, high}, 0.095 * u, false);
		tb_hand_arc(hand, foot);
		return high;
	}
	case TB_FOOT_CHAIN: {
		double half = 0.36 * hand->place->column, y = foot.y + 0.25 * hand->place->column;
		tb_hand_almond(
			hand, (tb_point){foot.x - half, y}, (tb_point){foot.x + half, y}, 0.145 * u, false);
		return y - 0.145 * u;
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

/* A leg down to START, where its hook begins: an extended stitch has its loop over that. */
static void add_stalk(tb_hand *hand, tb_path *leg, tb_point start)
{
	if (hand->place->stitch->foot != TB_FOOT_LOOP) {
		tb_path_line(leg, start.x, start.y);
		return;
	}
	tb_point high = {start.x, start.y - 0.3 * hand->unit};
	tb_path_line(leg, high.x, high.y);
	tb_hand_almond(hand, start, high, 0.095 * hand->unit, false);
	tb_path_move(leg, start.x, start.y);
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

/* The head of one stitch, whose middle is at Y, over ROOM: a bow, a lens across the leg, or a wave. */
static void add_head(tb_hand *hand, double y, double half, double room)
{
	switch (hand->place->stitch->head) {
	case TB_HEAD_WAVE:
		add_wave(hand, y, half, room);
		break;
	case TB_HEAD_ALMOND:
		tb_hand_almond(hand, (tb_point){-half, y}, (tb_point){half, y}, LENS * hand->unit, false);
		break;
	case TB_HEAD_BOW:
		tb_hand_bow(hand, 0, y, half);
		break;
	}
}

/* Two or more sc together: stems from their own feet to one bow across them all. */
static void build_crosses(tb_hand *hand, double top)
{
	const tb_glyph_place *place = hand->place;
	double bottom = place->height - tb_hand_foot_gap(hand);
	bool many = place->foot_count > 3;
	double y = top + (bottom - top) * (many ? 0.5 : 0.42), widest = 0;
	for (unsigned i = 0; i < place->foot_count; i++) {
		tb_point foot = tb_hand_foot(hand, i);
		/* Many legs in one point would be a blot. */
		tb_point start = {many ? foot.x * 0.2 : 0, top};
		tb_point end = {foot.x * 0.82, foot.y};
		end.y = add_foot(hand, end);
		tb_path *leg = tb_hand_part(hand, TB_PART_LEG, false);
		tb_path_move(leg, start.x, start.y);
		tb_path_line(leg, end.x, end.y);
		widest = fmax(widest, fabs(start.x + (end.x - start.x) * (y - top) / (bottom - top)));
	}
	double half = fmax(0.215 * hand->unit, widest + 0.12 * hand->unit);
	if (place->foot_count == 2) {
		tb_hand_bow(hand, 0, y, half);
		return;
	}
	/* Across legs that lie low, a full bow would run along them. */
	double sag = 0.03 * hand->unit;
	tb_path *bow = tb_hand_part(hand, TB_PART_HEAD, false);
	tb_path_move(bow, -half, y + sag);
	tb_path_curve(bow, -half * 0.5, y - sag * 0.34, half * 0.5, y - sag * 0.34, half, y + sag);
}

void tb_glyph_build_cross(tb_hand *hand)
{
	const tb_glyph_place *place = hand->place;
	const tb_stitch *stitch = place->stitch;
	double top = tb_hand_top(hand), plain = place->height - FOOT_GAP * hand->unit;
	if (place->foot_count > 1) {
		build_crosses(hand, top);
		return;
	}
	tb_point foot = tb_hand_foot(hand, 0);
	double end = place->height - tb_hand_foot_gap(hand);
	tb_path *leg = tb_hand_part(hand, TB_PART_LEG, false);
	tb_path_move(leg, 0, top + (stitch->head == TB_HEAD_WAVE ? 0.03 * hand->unit : 0));
	if (stitch->post != TB_POST_NONE) {
		tb_point start = {0, plain - 0.1 * hand->unit};
		add_stalk(hand, leg, start);
		tb_hand_hook(hand, leg, start, foot);
	} else {
		end = add_foot(hand, foot);
		tb_path_line(leg, foot.x, end);
	}
	/* A long leg keeps its bow where a short one has it. */
	double y = top + (fmin(plain, end) - top) * 0.42;
	if (stitch->head == TB_HEAD_WAVE) {
		add_wave(hand, top + 0.02 * hand->unit, 0.25 * hand->unit, end - top);
		tb_hand_bow(hand, 0, top + (end - top) * 0.62, 0.215 * hand->unit);
		return;
	}
	add_head(hand, y, 0.215 * hand->unit, end - top);
}

/* Several legs under one head: where each begins, as the I-th of them by its place. */
static tb_point joined_start(const tb_hand *hand, unsigned i, double top)
{
	unsigned legs = hand->place->foot_count;
	if (legs <= 3)
		return (tb_point){0, top};
	/* Many legs in one point would be a blot: they part along the bow. */
	const tb_point *feet = hand->place->feet;
	double side = (2.0 * i / (legs - 1) - 1) * (feet[legs - 1].x < feet[0].x ? -1 : 1);
	double x = 0.17 * hand->unit * side;
	return (tb_point){x, top + 1.1 * x * x / hand->unit};
}

/* How far apart two legs of several stand, a part T of the way down. */
static double joined_distance(const tb_hand *hand, unsigned a, unsigned b, double t)
{
	double top = joined_start(hand, b, 0).x - joined_start(hand, a, 0).x;
	double foot = (tb_hand_foot(hand, b).x - tb_hand_foot(hand, a).x) * 0.84;
	return fabs(top * (1 - t) + foot * t);
}

/* Bars of one leg of several: short towards its neighbours, longer to the outside. */
static bar_plan joined_bars(const tb_hand *hand, unsigned i)
{
	unsigned legs = hand->place->foot_count;
	double full = 0.72 * BAR_HALF * hand->unit;
	bool stepped = legs > 3;
	bar_plan plan = {.first = 0.42, .stepped = stepped, .lower = stepped && i % 2 == 1};
	double before =
		i > 0 ? tb_hand_bar_room(hand, joined_distance(hand, i - 1, i, plan.first), stepped)
			  : INFINITY;
	double after =
		i + 1 < legs ? tb_hand_bar_room(hand, joined_distance(hand, i, i + 1, plan.first), stepped)
					 : INFINITY;
	double inner = fmin(before, after);
	bool leftward = hand->place->feet[legs - 1].x < hand->place->feet[0].x;
	plan.left = fmin(full, fmin(leftward ? after : before, 1.5 * inner));
	plan.right = fmin(full, fmin(leftward ? before : after, 1.5 * inner));
	return plan;
}

void tb_glyph_build_legs(tb_hand *hand)
{
	const tb_glyph_place *place = hand->place;
	unsigned legs = MAX(place->foot_count, 1);
	double top = tb_hand_top(hand);
	double half = (place->stitch->linked ? LINK_HALF : BAR_HALF) * hand->unit;
	for (unsigned i = 0; i < legs; i++) {
		tb_point foot = tb_hand_foot(hand, i), start = {0, top};
		bar_plan plan = {.first = BAR_FIRST, .left = half, .right = half};
		if (legs > 1) {
			foot.x *= 0.84;
			start = joined_start(hand, i, top);
			plan = joined_bars(hand, i);
		}
		tb_path *leg = tb_hand_part(hand, TB_PART_LEG, false);
		tb_point end = {foot.x, add_foot(hand, foot)};
		tb_path_move(leg, start.x, start.y);
		tb_path_line(leg, end.x, end.y);
		add_bars(hand, start, end, &plan);
	}
	double low = place->stitch->head == TB_HEAD_BOW ? top : top + LENS * hand->unit;
	add_head(hand, low, (legs > 3 ? 0.86 : legs > 1 ? 0.8 : 1) * HEAD_HALF * hand->unit, place->height - top);
}

/*
 * Around a post further along the row, as in a cable: upright as long as a stitch may be worked
 * around it in turn, then across in one swing to beside its own post, and down along that.
 */
static void build_crossing_post(tb_hand *hand, tb_point post, double top)
{
	const tb_glyph_place *place = hand->place;
	double turn = place->stitch->post == TB_POST_FRONT ? 1 : -1, half = BAR_HALF * hand->unit;
	double upright = top + (place->height - top) * 0.56;
	tb_point end = {post.x - turn * HOOK_RADIUS * hand->unit,
		fmin(place->base_top + 0.22 * hand->unit, post.y)};
	double swing = (end.y - upright) * 0.55;
	tb_path *leg = tb_hand_part(hand, TB_PART_LEG, false);
	tb_path_move(leg, 0, top);
	add_stalk(hand, leg, (tb_point){0, upright});
	tb_path_curve(leg, 0, upright + swing, end.x, end.y - swing, end.x, end.y);
	tb_hand_hook(hand, leg, end, post);
	bar_plan plan = {.first = BAR_FIRST * 0.9, .left = half, .right = half};
	add_bars(hand, (tb_point){0, top}, (tb_point){0, place->height}, &plan);
	tb_hand_bow(hand, 0, top, HEAD_HALF * hand->unit);
}

/* Around a post, or a leg around each of several posts. */
void tb_glyph_build_post(tb_hand *hand)
{
	const tb_glyph_place *place = hand->place;
	if (place->foot_count == 1 && fabs(place->feet[0].x) > 0.5 * hand->unit) {
		build_crossing_post(hand, place->feet[0], tb_hand_top(hand));
		return;
	}
	double top = tb_hand_top(hand), low = place->height - 0.30 * hand->unit;
	unsigned legs = MAX(place->foot_count, 1);
	double cross = top + (low - top) * 0.42, widest = 0;
	for (unsigned i = 0; i < legs; i++) {
		tb_point post = place->feet[i], start = {0, low};
		if (legs > 1)
			start.x = post.x * 0.84 * (low - top) / (place->height - top);
		tb_path *leg = tb_hand_part(hand, TB_PART_LEG, false);
		tb_path_move(leg, 0, top);
		add_stalk(hand, leg, start);
		tb_hand_hook(hand, leg, start, post);
		tb_point bottom = {legs > 1 ? post.x * 0.84 : 0, place->height};
		double half = BAR_HALF * hand->unit;
		bar_plan plan = {.first = BAR_FIRST, .left = half, .right = half};
		if (legs > 1)
			plan = joined_bars(hand, i);
		add_bars(hand, (tb_point){0, top}, bottom, &plan);
		widest = fmax(widest, fabs(start.x) * 0.42);
	}
	if (place->stitch->form == TB_FORM_CROSS) {
		tb_hand_bow(hand, 0, cross, fmax(0.215 * hand->unit, widest + 0.12 * hand->unit));
		return;
	}
	tb_hand_bow(hand, 0, top, (legs > 1 ? 0.8 : 1) * HEAD_HALF * hand->unit);
}
