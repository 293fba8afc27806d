#include "drawing/glyph_hand.h"

#include <math.h>

tb_path *tb_hand_part(tb_hand *hand, tb_part_kind kind, bool filled)
{
	tb_part part = {kind, filled, tb_path_create()};
	g_array_append_val(hand->parts, part);
	return part.path;
}

void tb_hand_almond(tb_hand *hand, tb_point a, tb_point b, double half, bool filled)
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

void tb_hand_bow(tb_hand *hand, double x, double y, double half)
{
	double sag = HEAD_SAG * half / HEAD_HALF;
	tb_path *path = tb_hand_part(hand, TB_PART_HEAD, false);
	tb_path_move(path, x - half, y + sag);
	tb_path_curve(
		path, x - half * 0.55, y - sag * 0.34, x + half * 0.55, y - sag * 0.34, x + half, y + sag);
}

void tb_hand_bar(tb_hand *hand, double x, double y, double dx, double dy, double left, double right)
{
	double square = atan2(dy, dx) - G_PI / 2; /* 0 for a leg straight down */
	/* The more a leg leans, the squarer its bar: a fan's two sides look alike. */
	double angle = square - BAR_SLANT * (1 - 0.6 * fmin(1, fabs(square) / 0.6));
	tb_path *path = tb_hand_part(hand, TB_PART_BAR, false);
	tb_path_move(path, x - cos(angle) * left, y - sin(angle) * left);
	tb_path_line(path, x + cos(angle) * right, y + sin(angle) * right);
}

double tb_hand_bar_room(const tb_hand *hand, double distance, bool stepped)
{
	/* Paper shows between a bar and the next, or between a bar and the next leg. */
	double room = stepped ? distance - hand->place->pen - 0.06 * hand->unit
						  : (distance - hand->place->pen - 0.05 * hand->unit) / 2;
	return fmax(room, 0.05 * hand->unit);
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
	if (hand->place->loops == TB_LOOPS_BOTH)
		return;
	double half = ARC_HALF * hand->unit, sag = ARC_SAG * hand->unit;
	double low = foot.y - 0.035 * hand->unit, high = low - sag;
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
	return TOP_GAP * hand->unit + hand->place->pen * 0.5;
}

void tb_hand_hook(tb_hand *hand, tb_path *path, tb_point start, tb_point post)
{
	double turn = hand->place->stitch->post == TB_POST_FRONT ? 1 : -1;
	double r = HOOK_RADIUS * hand->unit, k = 0.5523 * r;
	double beside = post.x - turn * r;
	/* Down beside the stem it embraces, under the stem, and up on its other side. */
	double swerve = fmin(0.42 * hand->unit, fmax(0.2 * hand->unit, (post.y - start.y) * 0.4));
	double join = fmin(start.y + swerve, post.y - 0.1 * r);
	tb_path_curve(path, start.x, start.y + (join - start.y) * 0.55, beside,
		join - (join - start.y) * 0.55, beside, join);
	tb_path_line(path, beside, post.y);
	tb_path_curve(path, beside, post.y + k, post.x - turn * k, post.y + r, post.x, post.y + r);
	tb_path_curve(path, post.x + turn * k, post.y + r, post.x + turn * r, post.y + k,
		post.x + turn * r, post.y);
	tb_path_curve(path, post.x + turn * r, post.y - 0.5 * k, post.x + turn * r * 0.97,
		post.y - 0.9 * k, post.x + turn * r * 0.86, post.y - 1.2 * k);
}
