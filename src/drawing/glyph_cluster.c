/* Legs from one place: drawn together as a leaf, or side by side as a cup. */
#include "drawing/glyph_hand.h"

#include "support/limits.h"

#include <math.h>

/* Half a leaf's width in parts of its length: it stays inside its column. */
#define LEAF_IN_LENGTH 0.33
#define WIDEST_BELT 0.44
#define LID_IN_LENGTH 0.36
/* Legs nearer than this, or more than so many, are told by a figure between two on either side. */
#define LEGS_APART 0.128
#define MOST_LEGS 5
#define SHOWN_LEGS 4
#define FIGURE_HALF 0.37
#define INNER_LEGS 0.62
/* Half a coil's width, and the most wraps shown. */
#define COIL_HALF 0.17
#define MOST_WRAPS 6
/* A popcorn's lid. */
#define LID_HALF 0.31
#define LID_HIGH 0.19

/* A leaf as it is drawn: its legs from left to right. */
typedef struct {
	tb_cubic legs[MAX(MOST_LEGS, SHOWN_LEGS)];
	unsigned count;
	bool figure;
	double half; /* mm */
} leaf_plan;

/* One yarn over of all legs: a bar on each where there is room between them, else one belt around them all. */
static void add_belt(tb_hand *hand, const leaf_plan *plan, double part)
{
	double u = hand->unit, gap = (plan->figure ? 0.3 * plan->half : 2 * plan->half / (plan->count - 1));
	double own = fmin(0.13 * u, 0.5 * gap - 0.045 * u);
	tb_point at[MAX(MOST_LEGS, SHOWN_LEGS)], way;
	for (unsigned i = 0; i < plan->count; i++) {
		at[i] = tb_cubic_along(&plan->legs[i], part, &way);
		if (own >= 0.105 * u)
			tb_hand_bar(hand, at[i], (tb_point){way.x * 0.3, way.y}, i > 0 ? own : 0.13 * u,
				i + 1 < plan->count ? own : 0.13 * u, 0);
	}
	if (own >= 0.105 * u)
		return;
	tb_point first = at[0], last = at[plan->count - 1];
	/* It stays in its column, beside the next one's. */
	double past = fmin(0.10 * u, fmax(0.03 * u, WIDEST_BELT * u - (last.x - first.x) / 2));
	tb_path *belt = tb_hand_part(hand, TB_PART_BAR, false);
	if (plan->figure) {
		tb_path_move(belt, first.x - past, first.y + 0.012 * u);
		tb_path_line(belt, at[1].x + 0.05 * u, at[1].y - 0.012 * u);
		belt = tb_hand_part(hand, TB_PART_BAR, false);
		tb_path_move(belt, at[2].x - 0.05 * u, at[2].y - 0.012 * u);
		tb_path_line(belt, last.x + past, last.y + 0.012 * u);
		return;
	}
	tb_path_move(belt, first.x - past, first.y + 0.03 * u);
	tb_path_curve(belt, first.x + 0.1 * u, first.y - 0.035 * u, last.x - 0.1 * u, last.y - 0.035 * u, last.x + past,
		last.y + 0.03 * u);
}

/* What closes a popcorn. Held by a post it is its head: not seen in front of it, or over the leg behind it. */
static void add_lid(tb_hand *hand, double y)
{
	double half = LID_HALF * hand->unit;
	if (hand->place->held == TB_HELD_FRONT)
		return;
	tb_hand_lens(hand, (tb_point){-half, y}, (tb_point){half, y}, LID_HIGH / 2 * hand->unit, false);
	if (hand->place->held == TB_HELD_BACK)
		g_array_index(hand->parts, tb_part, hand->parts->len - 1).kind = TB_PART_HEAD;
}

/* Legs from one place drawn together, pointed at the head, or open there under a LID. */
static void build_leaf(tb_hand *hand, bool lid)
{
	const tb_glyph_place *place = hand->place;
	const tb_stitch *stitch = place->stitch;
	unsigned n = MAX(stitch->legs, 2);
	double u = hand->unit, top = tb_hand_top(hand);
	tb_point foot = tb_hand_foot(hand, 0);
	double low = foot.y - tb_hand_foot_gap(hand), length = low - top;
	leaf_plan plan = {.half = fmin(fmin(TB_LEAF_HALF + TB_LEAF_BY_LEG * n, TB_LEAF_MOST) * u, (lid ? LID_IN_LENGTH : LEAF_IN_LENGTH) * length)};
	plan.figure = n > MOST_LEGS || (n > 2 && 2 * plan.half / (n - 1) < LEGS_APART * u);
	if (plan.figure)
		plan.half = fmax(plan.half, FIGURE_HALF * u);
	plan.count = plan.figure ? SHOWN_LEGS : n;
	static const double shown[SHOWN_LEGS] = {-1, -INNER_LEGS, INNER_LEGS, 1};
	double tip = plan.count > 2 ? 0.02 * u * (plan.count - 2) : 0, begin = top + (lid ? 0.17 * u : 0);
	/* Around a chain the feet stand apart. */
	double apart = place->in_space ? fmax(tip, 0.12 * u) : tip;
	for (unsigned i = 0; i < plan.count; i++) {
		double side = plan.figure ? shown[i] : -1 + 2.0 * i / (plan.count - 1), reach = side * plan.half * 4 / 3;
		tb_cubic *c = &plan.legs[i];
		if (lid)
			*c = (tb_cubic){{{side * 0.2 * u, begin + 0.03 * u * (1 - side * side)},
				{side * (0.2 * u + 0.24 * plan.half / TB_LEAF_MOST), begin + 0.22 * length},
				{foot.x + reach * 0.96, low - 0.36 * length}, {foot.x + side * apart, low}}};
		else
			*c = (tb_cubic){{{side * tip, top}, {foot.x * 0.3 + reach * 0.98, top + 0.30 * length},
				{foot.x * 0.7 + reach * 0.98, low - 0.30 * length}, {foot.x + side * apart, low}}};
		tb_hand_leg(hand, c);
	}
	double middle = lid ? 0.50 : 0.46, step = fmin(0.17 * u, 0.42 * length / MAX(stitch->bars, 1));
	for (unsigned b = 0; b < stitch->bars; b++)
		add_belt(hand, &plan, middle + (b - (stitch->bars - 1) / 2.0) * step / length);
	if (plan.figure)
		/* Held, it is under the post's loop. */
		tb_hand_figure(hand, (tb_point){foot.x * 0.5, top + (lid ? 0.12 * u : 0) + (place->held != TB_HELD_NOT ? 0.54 : 0.48) * length}, n);
	tb_hand_arc(hand, foot);
	if (lid)
		add_lid(hand, top + 0.075 * u);
	else if (stitch->form == TB_FORM_CROSS)
		tb_hand_bow(hand, TB_PART_HEAD, (tb_point){foot.x * 0.42, top + 0.42 * length}, plan.half + 0.08 * u, TB_CROSS_SAG * u, 0);
	else
		tb_hand_head(hand, (tb_point){0, top}, LEAF_HEAD * u);
}

void tb_glyph_build_leaf(tb_hand *hand)
{
	build_leaf(hand, false);
}

/* A coil: slender, wrapped as often as its height lets the wraps be told from each other. */
void tb_glyph_build_bullion(tb_hand *hand)
{
	double u = hand->unit, top = tb_hand_top(hand);
	tb_point foot = tb_hand_foot(hand, 0);
	double low = foot.y - tb_hand_foot_gap(hand), length = low - top;
	unsigned wraps = (unsigned)CLAMP(lround((length - 0.3 * u) / (0.22 * u)), 3, MOST_WRAPS);
	tb_hand_lens(hand, (tb_point){0, top}, (tb_point){foot.x, low}, fmin(COIL_HALF * u, 0.2 * length), false);
	for (unsigned i = 0; i < wraps; i++) {
		double part = 0.16 + 0.68 * (i + 0.5) / wraps, wide = fmin(COIL_HALF * u, 0.2 * length) * sin(G_PI * (0.12 + 0.76 * part));
		tb_hand_bar(hand, (tb_point){foot.x * part, top + length * part}, (tb_point){foot.x, length}, wide + 0.03 * u,
			wide + 0.03 * u, 0.30);
	}
	tb_hand_arc(hand, foot);
	tb_hand_head(hand, (tb_point){0, top}, LEAF_HEAD * u);
}

/* A shell that stands as one stitch: whole stitches from one place, their heads side by side. */
static void build_shell(tb_hand *hand)
{
	const tb_glyph_place *place = hand->place;
	const tb_stitch *stitch = place->stitch;
	unsigned n = MAX(stitch->legs, 2);
	double u = hand->unit, top = tb_hand_top(hand), half = ((MAX(stitch->takes, 1) - 1) / 2.0 + 0.3) * place->column;
	tb_point foot = tb_hand_foot(hand, 0);
	double low = foot.y - tb_hand_foot_gap(hand), gap = 2 * half / (n - 1);
	for (unsigned i = 0; i < n; i++) {
		double side = -1 + 2.0 * i / (n - 1);
		tb_point head = {side * half, top + 0.30 * u * side * side * (n > 2 ? 1 : 0)};
		tb_point to = {foot.x + side * (place->in_space ? 0.13 * u : 0), low};
		double dx = to.x - head.x, dy = to.y - head.y, length = hypot(dx, dy), stop = 0;
		/* Every second leg ends where its neighbours would be too near. */
		if (n > 3) {
			bool even = n % 2 == 1 ? (i + n - (n - 1) / 2) % 2 == 1 : (i < n / 2) == (i % 2 == 1);
			stop = fmin(0.5, 2.2 * place->pen / fmax(gap, 0.05 * u) * (even ? 1 : 0.42));
		}
		to = (tb_point){to.x - dx * stop, to.y - dy * stop};
		tb_path *leg = tb_hand_part(hand, TB_PART_LEG, false);
		tb_path_move(leg, head.x, head.y);
		tb_path_line(leg, to.x, to.y);
		double bar = fmin(GROUP_BAR_HALF * u, fmax(0.07 * u, 0.5 * gap * (1 - 0.45 * u / fmax(length, 0.5 * u)) - 0.10 * u));
		tb_hand_bars(hand, head, to, fmin(0.40 * u, 0.4 * length), 0.17 * u, bar, 0);
		tb_hand_bow(hand, TB_PART_HEAD, head, fmin(TB_HEAD_HALF * u, 0.40 * gap), TB_HEAD_SAG * fmin(u, 0.40 * gap / TB_HEAD_HALF),
			-0.75 * atan2(dx, dy));
	}
	tb_hand_arc(hand, foot);
}

void tb_glyph_build_cup(tb_hand *hand)
{
	if (hand->place->stitch->head == TB_HEAD_ALMOND)
		build_leaf(hand, true);
	else
		build_shell(hand);
}
