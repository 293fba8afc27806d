#include "drawing/break.h"

#include <math.h>

/* Steps a curve is looked at in, and halvings that find the exact place of a cut. */
#define CURVE_STEPS 48
#define HALVINGS 12

typedef struct {
	tb_point p[4];
	bool is_line;
} segment;

static tb_point at(const segment *s, double t)
{
	double u = 1 - t;
	if (s->is_line)
		return (tb_point){u * s->p[0].x + t * s->p[3].x, u * s->p[0].y + t * s->p[3].y};
	double a = u * u * u, b = 3 * u * u * t, c = 3 * u * t * t, d = t * t * t;
	return (tb_point){a * s->p[0].x + b * s->p[1].x + c * s->p[2].x + d * s->p[3].x,
		a * s->p[0].y + b * s->p[1].y + c * s->p[2].y + d * s->p[3].y};
}

/* The segments of a path in order; a new subpath begins where start[i] is true. */
static GArray *list_segments(const tb_path *path, GArray *starts)
{
	GArray *segments = g_array_new(FALSE, FALSE, sizeof(segment));
	const tb_point *points = (const tb_point *)(void *)path->points->data;
	tb_point now = {0, 0}, first = {0, 0};
	guint next = 0;
	bool fresh = true;
	for (guint i = 0; i < path->ops->len; i++) {
		segment s = {.is_line = true};
		s.p[0] = now;
		switch ((tb_path_op)g_array_index(path->ops, guint8, i)) {
		case TB_PATH_MOVE:
			now = first = points[next++];
			fresh = true;
			continue;
		case TB_PATH_LINE:
			s.p[3] = points[next++];
			break;
		case TB_PATH_CURVE:
			s.is_line = false;
			s.p[1] = points[next];
			s.p[2] = points[next + 1];
			s.p[3] = points[next + 2];
			next += 3;
			break;
		case TB_PATH_CLOSE:
			s.p[3] = first;
			break;
		}
		now = s.p[3];
		g_array_append_val(segments, s);
		g_array_append_val(starts, fresh);
		fresh = false;
	}
	return segments;
}

GArray *tb_outline_create(void)
{
	return g_array_new(FALSE, FALSE, sizeof(tb_point));
}

/* P turned by an angle of cosine C and sine N, and moved. */
static tb_point turned(tb_point p, double c, double n, double dx, double dy)
{
	return (tb_point){p.x * c - p.y * n + dx, p.x * n + p.y * c + dy};
}

void tb_outline_add_path(GArray *outline, const tb_path *path, double dx, double dy, double angle)
{
	double c = cos(angle), n = sin(angle);
	g_autoptr(GArray) starts = g_array_new(FALSE, FALSE, sizeof(bool));
	g_autoptr(GArray) segments = list_segments(path, starts);
	const tb_point end = {NAN, NAN};
	for (guint i = 0; i < segments->len; i++) {
		const segment *s = &g_array_index(segments, segment, i);
		if (g_array_index(starts, bool, i)) {
			if (i > 0)
				g_array_append_val(outline, end);
			tb_point p = turned(s->p[0], c, n, dx, dy);
			g_array_append_val(outline, p);
		}
		unsigned steps = s->is_line ? 1 : CURVE_STEPS / 2;
		for (unsigned k = 1; k <= steps; k++) {
			tb_point p = turned(at(s, (double)k / steps), c, n, dx, dy);
			g_array_append_val(outline, p);
		}
	}
	g_array_append_val(outline, end);
}

void tb_outline_add(GArray *outline, const GArray *parts, double dx, double dy, double angle)
{
	for (guint i = 0; i < parts->len; i++)
		tb_outline_add_path(outline, g_array_index(parts, tb_part, i).path, dx, dy, angle);
}

static double distance_to_line(tb_point p, tb_point a, tb_point b)
{
	double dx = b.x - a.x, dy = b.y - a.y, square = dx * dx + dy * dy;
	double t = square > 0 ? ((p.x - a.x) * dx + (p.y - a.y) * dy) / square : 0;
	t = CLAMP(t, 0, 1);
	return hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}

static bool is_near(tb_point p, const GArray *outline, double clear)
{
	for (guint i = 1; i < outline->len; i++) {
		tb_point a = g_array_index(outline, tb_point, i - 1);
		tb_point b = g_array_index(outline, tb_point, i);
		if (!isnan(a.x) && !isnan(b.x) && distance_to_line(p, a, b) < clear)
			return true;
	}
	return false;
}

/* Where between T0 (on one side of the edge of the clear space) and T1 (on the other) it lies. */
static double find_edge(const segment *s, const GArray *outline, double clear, double t0, double t1)
{
	bool near0 = is_near(at(s, t0), outline, clear);
	for (int i = 0; i < HALVINGS; i++) {
		double middle = (t0 + t1) / 2;
		if (is_near(at(s, middle), outline, clear) == near0)
			t0 = middle;
		else
			t1 = middle;
	}
	return (t0 + t1) / 2;
}

/* The stretch of a segment between two of its parameters (de Casteljau). */
static segment cut(const segment *s, double t0, double t1)
{
	segment r = *s;
	r.p[0] = at(s, t0);
	r.p[3] = at(s, t1);
	if (s->is_line)
		return r;
	double third = (t1 - t0) / 3;
	for (int end = 0; end < 2; end++) {
		double t = end == 0 ? t0 : t1, u = 1 - t;
		double wx = 3 * (u * u * (s->p[1].x - s->p[0].x) + 2 * u * t * (s->p[2].x - s->p[1].x) +
			t * t * (s->p[3].x - s->p[2].x));
		double wy = 3 * (u * u * (s->p[1].y - s->p[0].y) + 2 * u * t * (s->p[2].y - s->p[1].y) +
			t * t * (s->p[3].y - s->p[2].y));
		tb_point from = r.p[end == 0 ? 0 : 3];
		double sign = end == 0 ? third : -third;
		r.p[1 + end] = (tb_point){from.x + wx * sign, from.y + wy * sign};
	}
	return r;
}

static double length_of(const GArray *run)
{
	double length = 0;
	for (guint i = 0; i < run->len; i++) {
		const segment *s = &g_array_index(run, segment, i);
		tb_point before = s->p[0];
		for (int k = 1; k <= 8; k++) {
			tb_point p = at(s, k / 8.0);
			length += hypot(p.x - before.x, p.y - before.y);
			before = p;
		}
	}
	return length;
}

/* What is kept of a path so far. */
typedef struct {
	GArray *run; /* segments since the last cut */
	tb_path *out;
	double crumb, bridge;
	bool cut_before; /* the run begins at a cut, not where its stroke does */
} keeping;

/* Ends a run of kept segments, at a cut or where its stroke ends: written out when it is long enough, and forgotten. */
static void finish_run(keeping *k, bool at_cut)
{
	GArray *run = k->run;
	tb_path *out = k->out;
	double least = k->cut_before && at_cut ? fmax(k->crumb, k->bridge) : k->crumb;
	if (run->len > 0 && length_of(run) >= least) {
		const segment *first = &g_array_index(run, segment, 0);
		tb_path_move(out, first->p[0].x, first->p[0].y);
		for (guint i = 0; i < run->len; i++) {
			const segment *s = &g_array_index(run, segment, i);
			if (s->is_line)
				tb_path_line(out, s->p[3].x, s->p[3].y);
			else
				tb_path_curve(out, s->p[1].x, s->p[1].y, s->p[2].x, s->p[2].y, s->p[3].x,
					s->p[3].y);
		}
	}
	g_array_set_size(run, 0);
	k->cut_before = at_cut;
}

static void break_segment(const segment *s, const GArray *outline, double clear, keeping *keep)
{
	unsigned steps = CURVE_STEPS;
	double kept_from = 0, before = 0;
	bool near = is_near(at(s, 0), outline, clear);
	for (unsigned k = 1; k <= steps; k++) {
		double t = (double)k / steps;
		bool now = is_near(at(s, t), outline, clear);
		if (now != near) {
			double edge = find_edge(s, outline, clear, before, t);
			if (now) {
				segment kept = cut(s, kept_from, edge);
				g_array_append_val(keep->run, kept);
				finish_run(keep, true);
			}
			kept_from = edge;
			near = now;
		}
		before = t;
	}
	if (!near) {
		segment kept = cut(s, kept_from, 1);
		g_array_append_val(keep->run, kept);
	} else {
		finish_run(keep, true);
	}
}

static tb_path *break_path(const tb_path *path, const GArray *outline, double clear, double crumb, double bridge)
{
	g_autoptr(GArray) starts = g_array_new(FALSE, FALSE, sizeof(bool));
	g_autoptr(GArray) segments = list_segments(path, starts);
	g_autoptr(GArray) run = g_array_new(FALSE, FALSE, sizeof(segment));
	g_autoptr(tb_path) out = tb_path_create();
	keeping keep = {.run = run, .out = out, .crumb = crumb, .bridge = bridge};
	bool touched = false;
	for (guint i = 0; i < segments->len && !touched; i++)
		for (unsigned k = 0; k <= CURVE_STEPS && !touched; k++)
			touched = is_near(at(&g_array_index(segments, segment, i), (double)k / CURVE_STEPS),
				outline, clear);
	if (!touched)
		return tb_path_copy(path);
	for (guint i = 0; i < segments->len; i++) {
		if (g_array_index(starts, bool, i))
			finish_run(&keep, false);
		break_segment(&g_array_index(segments, segment, i), outline, clear, &keep);
	}
	finish_run(&keep, false);
	return tb_path_is_empty(out) ? NULL : g_steal_pointer(&out);
}

tb_path *tb_path_break(const tb_path *path, const GArray *outline, double clear, double crumb)
{
	return break_path(path, outline, clear, crumb, 0);
}

GArray *tb_parts_break(const GArray *parts, const GArray *outline, double clear, double crumb, double bridge, unsigned kinds)
{
	GArray *kept = tb_parts_create();
	for (guint i = 0; i < parts->len; i++) {
		tb_part part = g_array_index(parts, tb_part, i);
		/* A solid is too small to pass under anything in pieces. */
		part.path = part.filled || !(kinds & 1u << part.kind) ? tb_path_copy(part.path) :
			break_path(part.path, outline, clear, crumb, bridge);
		if (part.path != NULL)
			g_array_append_val(kept, part);
	}
	return kept;
}
