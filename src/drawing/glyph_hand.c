#include "drawing/glyph_hand.h"

#include <math.h>

/* The loop around a post ends a little short of level with its middle. */
#define LOOP_END 0.12

tb_path *tb_hand_part(tb_hand *hand, tb_part_kind kind, bool filled)
{
	tb_part part = {kind, filled, tb_path_create()};
	g_array_append_val(hand->parts, part);
	return part.path;
}

void tb_hand_lens(tb_hand *hand, tb_point a, tb_point b, double half, bool filled)
{
	double dx = b.x - a.x, dy = b.y - a.y, length = hypot(dx, dy);
	if (length <= 0)
		return;
	double nx = -dy / length * half * 4 / 3, ny = dx / length * half * 4 / 3;
	double px = dx * 0.27, py = dy * 0.27;
	tb_path *path = tb_hand_part(hand, TB_PART_BODY, filled);
	tb_path_move(path, a.x, a.y);
	tb_path_curve(path, a.x + px + nx, a.y + py + ny, b.x - px + nx, b.y - py + ny, b.x, b.y);
	tb_path_curve(path, b.x - px - nx, b.y - py - ny, a.x + px - nx, a.y + py - ny, a.x, a.y);
	tb_path_close(path);
}

void tb_hand_almond(tb_hand *hand, tb_point a, tb_point b, bool filled)
{
	tb_hand_lens(hand, a, b, hypot(b.x - a.x, b.y - a.y) * ALMOND_WIDTH / 2, filled);
}

void tb_hand_drop(tb_hand *hand, tb_point low, double length)
{
	double half = 0.36 * length, top = low.y - length;
	tb_path *path = tb_hand_part(hand, TB_PART_BODY, false);
	tb_path_move(path, low.x, top);
	tb_path_curve(path, low.x + 0.05 * length, top + 0.28 * length, low.x + half, low.y - 0.62 * length, low.x + half, low.y - 0.34 * length);
	tb_path_curve(path, low.x + half, low.y - 0.10 * length, low.x + 0.5 * half, low.y, low.x, low.y);
	tb_path_curve(path, low.x - 0.5 * half, low.y, low.x - half, low.y - 0.10 * length, low.x - half, low.y - 0.34 * length);
	tb_path_curve(path, low.x - half, low.y - 0.62 * length, low.x - 0.05 * length, top + 0.28 * length, low.x, top);
	tb_path_close(path);
}

void tb_hand_bead(tb_hand *hand, tb_point centre, double radius)
{
	double k = 0.5523 * radius, x = centre.x, y = centre.y, r = radius;
	tb_path *path = tb_hand_part(hand, TB_PART_BODY, false);
	tb_path_move(path, x, y - r);
	tb_path_curve(path, x + k, y - r, x + r, y - k, x + r, y);
	tb_path_curve(path, x + r, y + k, x + k, y + r, x, y + r);
	tb_path_curve(path, x - k, y + r, x - r, y + k, x - r, y);
	tb_path_curve(path, x - r, y - k, x - k, y - r, x, y - r);
	tb_path_close(path);
}

void tb_hand_bow(tb_hand *hand, tb_part_kind kind, tb_point at, double half, double sag, double angle)
{
	double c = cos(angle), n = sin(angle);
	const tb_point p[4] = {{-half, sag}, {-half * 0.55, -sag * 0.34}, {half * 0.55, -sag * 0.34}, {half, sag}};
	tb_point q[4];
	for (unsigned i = 0; i < 4; i++)
		q[i] = (tb_point){at.x + p[i].x * c - p[i].y * n, at.y + p[i].x * n + p[i].y * c};
	tb_path *path = tb_hand_part(hand, kind, false);
	tb_path_move(path, q[0].x, q[0].y);
	tb_path_curve(path, q[1].x, q[1].y, q[2].x, q[2].y, q[3].x, q[3].y);
}

void tb_hand_head(tb_hand *hand, tb_point at, double half)
{
	const tb_glyph_place *place = hand->place;
	if (place->held == TB_HELD_FRONT)
		return;
	if (place->held == TB_HELD_BACK || place->passed)
		half = fmax(half, WIDE_HALF * hand->unit);
	/* A wide head is no deeper for it. */
	tb_hand_bow(hand, TB_PART_HEAD, at, half, TB_HEAD_SAG * fmin(half, 0.36 * hand->unit) / TB_HEAD_HALF, 0);
}

void tb_hand_cross(tb_hand *hand, tb_part_kind kind, double x, double y)
{
	tb_hand_bow(hand, kind, (tb_point){x, y}, TB_CROSS_HALF * hand->unit, TB_CROSS_SAG * hand->unit, 0);
}

void tb_hand_bar(tb_hand *hand, tb_point at, tb_point way, double left, double right, double slant)
{
	double angle = atan2(way.y, way.x) - G_PI / 2 - slant, c = cos(angle), n = sin(angle);
	tb_path *path = tb_hand_part(hand, TB_PART_BAR, false);
	tb_path_move(path, at.x - c * left, at.y - n * left);
	tb_path_line(path, at.x + c * right, at.y + n * right);
}

void tb_hand_bars(tb_hand *hand, tb_point from, tb_point to, double first, double step, double half, double slant)
{
	double dx = to.x - from.x, dy = to.y - from.y, length = hypot(dx, dy);
	if (length <= 0)
		return;
	for (unsigned i = 0; i < hand->place->stitch->bars; i++) {
		double t = fmin((first + i * step) / length, 1);
		tb_hand_bar(hand, (tb_point){from.x + dx * t, from.y + dy * t}, (tb_point){dx, dy}, half, half, slant);
	}
}

double tb_hand_first_bar(const tb_hand *hand, double low, double first, double *step)
{
	unsigned n = hand->place->stitch->bars;
	double height = hand->place->height / hand->unit, most = TB_BAR_STEP, least = 0.145;
	first = fmax(first, fmin(0.40 * height, height - low - most * (n - 1.0)));
	double each = n < 2 ? most : fmin(most, fmax(height - low - first, 0.001) / (n - 1));
	if (n == 1 && height < first + low)
		first = fmax(0.30, height * 0.5);
	if (n > 1 && each < least) {
		each = fmin(least, height * 0.6 / n);
		first = fmax(fmin(0.34, height * 0.3), height - low - each * (n - 1));
	}
	*step = each * hand->unit;
	return first * hand->unit;
}

double tb_hand_foot_gap(const tb_hand *hand)
{
	double gap = FOOT_GAP;
	if (hand->place->loops != TB_LOOPS_BOTH)
		gap += ARC_ROOM;
	return gap * hand->unit;
}

void tb_hand_arc(tb_hand *hand, tb_point foot)
{
	if (hand->place->loops == TB_LOOPS_BOTH || hand->place->arc_beside)
		return;
	double half = ARC_HALF * hand->unit, sag = ARC_SAG * hand->unit;
	double low = foot.y - 0.035 * hand->unit, high = low - sag;
	if (hand->place->loops == TB_LOOPS_THIRD) {
		tb_path *flat = tb_hand_part(hand, TB_PART_ARC, false);
		tb_path_move(flat, foot.x - half, low - 0.01 * hand->unit);
		tb_path_line(flat, foot.x + half, low - 0.01 * hand->unit);
		return;
	}
	bool up = hand->place->loops == TB_LOOPS_FRONT;
	double ends = up ? high : low, pull = up ? sag * 1.34 : -sag * 1.34;
	tb_path *path = tb_hand_part(hand, TB_PART_ARC, false);
	tb_path_move(path, foot.x - half, ends);
	tb_path_curve(path, foot.x - half * 0.55, ends + pull, foot.x + half * 0.55, ends + pull,
		foot.x + half, ends);
}

tb_point tb_hand_foot(const tb_hand *hand, unsigned i)
{
	const tb_glyph_place *place = hand->place;
	if (i >= place->foot_count)
		return (tb_point){0, place->height};
	tb_point foot = place->feet[i];
	/* Each foot of a group leans a little to its own side of the space. */
	if (place->in_space)
		foot.x -= copysign(fmin(fabs(foot.x) * 0.24, 0.4 * place->column), foot.x);
	return foot;
}

double tb_hand_top(const tb_hand *hand)
{
	return TOP_GAP * hand->unit;
}

double tb_hand_turn(const tb_hand *hand)
{
	return hand->place->stitch->post == TB_POST_FRONT ? 1 : -1;
}

void tb_hand_loop(tb_hand *hand, tb_path *path, tb_point post)
{
	double turn = tb_hand_turn(hand), r = TB_THROAT_RADIUS * hand->unit, k = 0.5523 * r;
	double c = cos(LOOP_END), n = sin(LOOP_END), end = 4.0 / 3 * tan((G_PI / 2 - LOOP_END) / 4) * r;
	tb_path_curve(path, post.x - turn * r, post.y + k, post.x - turn * k, post.y + r, post.x, post.y + r);
	tb_path_curve(path, post.x + turn * end, post.y + r, post.x + turn * (r * c + end * n), post.y + r * n + end * c,
		post.x + turn * r * c, post.y + r * n);
}

void tb_hand_throat(tb_hand *hand, tb_path *path, tb_point from, tb_point post)
{
	double u = hand->unit, beside = post.x - tb_hand_turn(hand) * TB_THROAT_RADIUS * u;
	double join = post.y - 0.10 * u, down = (join - from.y) * 0.52;
	tb_path_curve(path, from.x, from.y + down, beside, join - down, beside, join);
	tb_path_line(path, beside, post.y);
	tb_hand_loop(hand, path, post);
}

tb_point tb_cubic_at(const tb_cubic *c, double t, tb_point *way)
{
	const tb_point *p = c->p;
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

#define LENGTH_STEPS 32

double tb_cubic_length(const tb_cubic *c)
{
	double length = 0;
	tb_point way, before = c->p[0];
	for (unsigned i = 1; i <= LENGTH_STEPS; i++) {
		tb_point at = tb_cubic_at(c, (double)i / LENGTH_STEPS, &way);
		length += hypot(at.x - before.x, at.y - before.y);
		before = at;
	}
	return length;
}

tb_point tb_cubic_along(const tb_cubic *c, double part, tb_point *way)
{
	double wanted = tb_cubic_length(c) * part, length = 0;
	tb_point before = c->p[0];
	for (unsigned i = 1; i <= LENGTH_STEPS; i++) {
		tb_point at = tb_cubic_at(c, (double)i / LENGTH_STEPS, way);
		double step = hypot(at.x - before.x, at.y - before.y);
		if (length + step >= wanted && step > 0)
			return tb_cubic_at(c, (i - 1 + (wanted - length) / step) / LENGTH_STEPS, way);
		length += step;
		before = at;
	}
	return tb_cubic_at(c, 1, way);
}

tb_path *tb_hand_leg(tb_hand *hand, const tb_cubic *c)
{
	tb_path *leg = tb_hand_part(hand, TB_PART_LEG, false);
	tb_path_move(leg, c->p[0].x, c->p[0].y);
	tb_path_curve(leg, c->p[1].x, c->p[1].y, c->p[2].x, c->p[2].y, c->p[3].x, c->p[3].y);
	return leg;
}
