/* Paths: ops and the points they use, and the box a path fills, exact for its curves too. */
#include "drawing/drawing.h"

#include <math.h>

tb_path *tb_path_create(void)
{
	tb_path *path = g_new0(tb_path, 1);
	path->ops = g_array_new(FALSE, FALSE, sizeof(guint8));
	path->points = g_array_new(FALSE, FALSE, sizeof(tb_point));
	return path;
}

tb_path *tb_path_copy(const tb_path *path)
{
	tb_path *copy = tb_path_create();
	if (path->ops->len > 0)
		g_array_append_vals(copy->ops, path->ops->data, path->ops->len);
	if (path->points->len > 0)
		g_array_append_vals(copy->points, path->points->data, path->points->len);
	return copy;
}

void tb_path_destroy(tb_path *path)
{
	if (path == NULL)
		return;
	g_array_unref(path->ops);
	g_array_unref(path->points);
	g_free(path);
}

static void add_op(tb_path *path, tb_path_op op)
{
	guint8 byte = (guint8)op;
	g_array_append_val(path->ops, byte);
}

static void add_point(tb_path *path, double x, double y)
{
	tb_point point = {x, y};
	g_array_append_val(path->points, point);
}

void tb_path_move(tb_path *path, double x, double y)
{
	add_op(path, TB_PATH_MOVE);
	add_point(path, x, y);
}

void tb_path_points(tb_path *path, const tb_point *points, guint count)
{
	for (guint i = 0; i < count; i++)
		(i == 0 ? tb_path_move : tb_path_line)(path, points[i].x, points[i].y);
}

void tb_path_line(tb_path *path, double x, double y)
{
	add_op(path, TB_PATH_LINE);
	add_point(path, x, y);
}

void tb_path_curve(tb_path *path, double x1, double y1, double x2, double y2, double x3, double y3)
{
	add_op(path, TB_PATH_CURVE);
	add_point(path, x1, y1);
	add_point(path, x2, y2);
	add_point(path, x3, y3);
}

void tb_path_close(tb_path *path)
{
	add_op(path, TB_PATH_CLOSE);
}

bool tb_path_is_empty(const tb_path *path)
{
	return path->ops->len == 0;
}

static void widen(double value, double *low, double *high)
{
	*low = fmin(*low, value);
	*high = fmax(*high, value);
}

static void widen_at(const double p[4], double t, double *low, double *high)
{
	if (!(t > 0 && t < 1))
		return;
	double u = 1 - t;
	widen(u * u * u * p[0] + 3 * u * u * t * p[1] + 3 * u * t * t * p[2] + t * t * t * p[3], low,
		high);
}

/*
 * The range of one coordinate of a cubic curve: its ends, and the places between where the
 * derivative a t² + b t + c is 0. The root is taken by the form that loses no digits, so that a
 * curve that is nearly a parabola (a nearly 0) is as exact as any.
 */
static void widen_by_curve(const double p[4], double *low, double *high)
{
	double a = p[3] - 3 * p[2] + 3 * p[1] - p[0];
	double b = 2 * (p[2] - 2 * p[1] + p[0]);
	double c = p[1] - p[0];
	double inside = b * b - 4 * a * c;

	widen(p[0], low, high);
	widen(p[3], low, high);
	if (inside < 0)
		return;
	double q = -(b + copysign(sqrt(inside), b)) / 2;
	if (a != 0)
		widen_at(p, q / a, low, high);
	if (q != 0)
		widen_at(p, c / q, low, high);
}

bool tb_path_bounds(const tb_path *path, double *left, double *top, double *right, double *bottom)
{
	const tb_point *points = (const tb_point *)(void *)path->points->data;
	tb_point at = {0, 0}, start = {0, 0};
	guint next = 0;

	*left = *top = INFINITY;
	*right = *bottom = -INFINITY;
	for (guint i = 0; i < path->ops->len; i++) {
		switch ((tb_path_op)g_array_index(path->ops, guint8, i)) {
		case TB_PATH_MOVE:
			start = points[next];
			/* fall through */
		case TB_PATH_LINE:
			at = points[next++];
			widen(at.x, left, right);
			widen(at.y, top, bottom);
			break;
		case TB_PATH_CURVE: {
			const tb_point *p = points + next;
			widen_by_curve((double[4]){at.x, p[0].x, p[1].x, p[2].x}, left, right);
			widen_by_curve((double[4]){at.y, p[0].y, p[1].y, p[2].y}, top, bottom);
			at = p[2];
			next += 3;
			break;
		}
		case TB_PATH_CLOSE:
			at = start;
			break;
		}
	}
	if (*left <= *right)
		return true;
	*left = *top = *right = *bottom = 0;
	return false;
}
