/* Legs from one place: drawn together as a leaf, or side by side as a cup. */
#include "drawing/glyph_hand.h"

#include "support/limits.h"

#include <math.h>

/* A point of a cubic, and the way it runs there. */
static tb_point cubic_at(const tb_point p[4], double t, tb_point *way)
{
	double u = 1 - t;
	way->x =
		3 * (u * u * (p[1].x - p[0].x) + 2 * u * t * (p[2].x - p[1].x) + t * t * (p[3].x - p[2].x));
	way->y =
		3 * (u * u * (p[1].y - p[0].y) + 2 * u * t * (p[2].y - p[1].y) + t * t * (p[3].y - p[2].y));
	return (tb_point){
		u * u * u * p[0].x + 3 * u * u * t * p[1].x + 3 * u * t * t * p[2].x + t * t * t * p[3].x,
		u * u * u * p[0].y + 3 * u * u * t * p[1].y + 3 * u * t * t * p[2].y + t * t * t * p[3].y,
	};
}

/* No symbol has more legs: those of families by rule go as far as a stitch takes. */
#define MOST_LEGS MAX(TB_LIMIT_STITCH_TAKES, (unsigned)TB_LIMIT_SYMBOL_LEGS)

/*
 * The legs, as cubics from head to foot, from left to right. Bars come last, when it is known how
 * near each leg's neighbours are; where there are many, every second leg carries its bars half a
 * step lower, so that a bar meets neither the next leg nor the next bar.
 */
typedef struct {
	tb_point p[MOST_LEGS][4];
	unsigned count;
} legs_plan;

static void add_bars(tb_hand *hand, const legs_plan *plan, double first, double step)
{
	bool stepped = plan->count > 3;
	double full = BAR_HALF * hand->unit * 0.66;
	for (unsigned i = 0; i < plan->count; i++) {
		double length = plan->p[i][3].y - plan->p[i][0].y;
		if (stepped)
			step = fmin(STEPPED_BARS * hand->unit / length, 0.42);
		for (unsigned b = 0; b < hand->place->stitch->bars; b++) {
			double t = first + step * (b + (stepped && i % 2 == 1 ? 0.5 : 0));
			tb_point way, at = cubic_at(plan->p[i], t, &way), other, unused;
			double before = INFINITY, after = INFINITY;
			if (i > 0) {
				other = cubic_at(plan->p[i - 1], t, &unused);
				before = tb_hand_bar_room(hand, at.x - other.x, stepped);
			}
			if (i + 1 < plan->count) {
				other = cubic_at(plan->p[i + 1], t, &unused);
				after = tb_hand_bar_room(hand, other.x - at.x, stepped);
			}
			/* The outer ones show their full length outward: bars are told from none afar. */
			tb_hand_bar(hand, at.x, at.y, way.x * JOINED_LEAN, way.y, fmin(full, before),
				fmin(full, after));
		}
	}
}

static tb_path *add_leg(tb_hand *hand, const tb_point p[4])
{
	tb_path *leg = tb_hand_part(hand, TB_PART_LEG, false);
	tb_path_move(leg, p[0].x, p[0].y);
	tb_path_curve(leg, p[1].x, p[1].y, p[2].x, p[2].y, p[3].x, p[3].y);
	return leg;
}

/*
 * Legs from one place drawn together: a leaf, pointed at the head. Around a post it closes where
 * the post's own row begins and goes on as one stalk, widest low down, so that the stitch hidden
 * behind shows between the legs.
 */
void tb_glyph_build_leaf(tb_hand *hand)
{
	const tb_glyph_place *place = hand->place;
	bool post = place->stitch->post != TB_POST_NONE;
	legs_plan plan = {.count = CLAMP(place->stitch->legs, 2, MOST_LEGS)};
	unsigned legs = plan.count;
	double top = tb_hand_top(hand);
	double half = (post ? LEAF_HALF : fmin(0.16 + 0.04 * legs, 0.35)) * hand->unit;
	tb_point foot = tb_hand_foot(hand, 0);
	tb_point close = {foot.x, foot.y - tb_hand_foot_gap(hand)};
	if (post)
		close = (tb_point){foot.x,
			place->base_top > place->height ? place->base_top : place->height - 0.1 * hand->unit};
	else
		tb_hand_arc(hand, foot);
	double length = close.y - top;
	double open = place->in_space && !post ? 0.12 * hand->unit : 0;
	/* The points of many legs part a little, or they would run into a blot. */
	double tip = legs > 3 ? fmin(0.02 * (legs - 2), 0.2) * hand->unit : 0;
	for (unsigned i = 0; i < legs; i++) {
		double side = -1 + 2.0 * i / (legs - 1);
		double reach = side * half * 4 / 3;
		tb_point end = {close.x + side * fmax(open, post ? 0 : tip), close.y};
		tb_point *p = plan.p[i];
		p[0] = (tb_point){side * tip, top};
		p[1] = (tb_point){reach * 0.75, top + length * 0.36};
		p[2] = (tb_point){end.x + reach * 1.35, close.y - length * 0.10};
		p[3] = end;
		if (!post) {
			p[1] = (tb_point){close.x * 0.33 + reach * 0.98, top + length * 0.32};
			p[2] = (tb_point){close.x * 0.67 + reach * 0.98, close.y - length * 0.32};
		}
		tb_path *leg = add_leg(hand, p);
		/* The stalk goes on from one leg, so that the join is a bend, not a butt. */
		if (post && i == 0)
			tb_hand_hook(hand, leg, close, foot);
	}
	add_bars(hand, &plan, legs > 3 ? 0.3 : post ? 0.34 : 0.38, 0.13);
	/* Of sc the bow crosses the legs, as it crosses one. */
	if (place->stitch->form == TB_FORM_CROSS)
		tb_hand_bow(hand, close.x * 0.42, top + length * 0.42, half + 0.08 * hand->unit);
	else
		tb_hand_bow(hand, 0, top, 0.22 * hand->unit);
}

/*
 * Whole stitches from one place, their heads side by side: a cup. A popcorn's heads are closed by
 * an almond across them all; a shell that stands as one stitch keeps a bow on each.
 */
void tb_glyph_build_cup(tb_hand *hand)
{
	const tb_glyph_place *place = hand->place;
	const tb_stitch *stitch = place->stitch;
	legs_plan plan = {.count = CLAMP(stitch->legs, 2, MOST_LEGS)};
	unsigned legs = plan.count;
	bool closed = stitch->head == TB_HEAD_ALMOND;
	double u = hand->unit, top = tb_hand_top(hand);
	double half = closed ? 0.2 * u : ((MAX(stitch->takes, 1) - 1) / 2.0 + 0.3) * place->column;
	double bulge = closed ? 0.22 * u : 0, lid = 0.1 * u;
	tb_point foot = tb_hand_foot(hand, 0);
	double low = foot.y - tb_hand_foot_gap(hand), length = low - top;
	double open = place->in_space ? 0.12 * u : 0, apart = 2 * (half + 0.6 * bulge) / (legs - 1);
	if (closed)
		tb_hand_almond(hand, (tb_point){-0.3 * u, top + lid * 0.7},
			(tb_point){0.3 * u, top + lid * 0.7}, lid, false);
	for (unsigned i = 0; i < legs; i++) {
		double side = -1 + 2.0 * i / (legs - 1);
		tb_point head = {side * half, top};
		/* Under the almond: it is lower in its middle. */
		if (closed)
			head.y = top + lid * (1.7 - 0.42 * side * side);
		tb_point *p = plan.p[i];
		p[0] = head;
		p[1] = (tb_point){side * (half + bulge), head.y + length * 0.24};
		p[2] = (tb_point){foot.x + side * (half + bulge) * 0.9, low - length * 0.3};
		p[3] = (tb_point){foot.x + side * open, low};
		add_leg(hand, p);
		if (!closed)
			tb_hand_bow(hand, head.x, head.y, fmin(HEAD_HALF * u, 0.46 * apart));
	}
	add_bars(hand, &plan, legs > 3 ? 0.24 : 0.3, 0.15);
	tb_hand_arc(hand, foot);
}
