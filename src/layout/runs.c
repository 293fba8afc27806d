/*
 * Chain spaces. The chains between two stitches lie along the way from top to top; where they are
 * longer than the way they bow out, the more the more chains there are. Stitches worked into the
 * space stand on the bow.
 */
#include "layout/setting.h"

#include <math.h>

/* Length of a chain in a run, and what the heads at its ends take of the way, in columns. */
#define CHAIN_LENGTH 0.74
#define HEAD_ROOM 0.22
/* No bow is higher than this, in columns. */
#define MOST_BOW 2.2

void tb_setting_find_runs(tb_setting *s)
{
	const tb_fabric *fabric = s->fabric;
	for (guint32 r = 1; r < fabric->row_count; r++) {
		const tb_made_row *row = &fabric->rows[r];
		guint32 end = row->first + row->count, before = TB_NONE;
		for (guint32 m = row->first; m < end; m++) {
			if (!tb_setting_is_chain(&fabric->made[m])) {
				if (fabric->made[m].flags & TB_MADE_COUNTED)
					before = m;
				continue;
			}
			tb_run run = {.first = m, .before = before, .after = TB_NONE};
			while (m < end && tb_setting_is_chain(&fabric->made[m])) {
				s->run[m] = s->runs->len + 1;
				run.count++;
				m++;
			}
			if (m < end)
				run.after = m;
			g_array_append_val(s->runs, run);
			m--;
		}
	}
}

tb_spot tb_run_at(const tb_run *run, double t, double *direction)
{
	const tb_spot *p = run->p;
	double u = 1 - t;
	double dx = u * u * (p[1].x - p[0].x) + 2 * u * t * (p[2].x - p[1].x) + t * t * (p[3].x - p[2].x);
	double dy = u * u * (p[1].y - p[0].y) + 2 * u * t * (p[2].y - p[1].y) + t * t * (p[3].y - p[2].y);
	if (direction != NULL)
		*direction = atan2(dy, dx);
	return (tb_spot){
		u * u * u * p[0].x + 3 * u * u * t * p[1].x + 3 * u * t * t * p[2].x + t * t * t * p[3].x,
		u * u * u * p[0].y + 3 * u * u * t * p[1].y + 3 * u * t * t * p[2].y + t * t * t * p[3].y,
	};
}

/* How far a bow of LENGTH rises over a straight WAY: of a shallow arc, 8 h² = 3 w (l - w). */
static double bow_height(double length, double way)
{
	return length > way ? sqrt(3.0 / 8 * way * (length - way)) : 0;
}

/* A chain of the run that is drawn, or TB_NONE: on a folded grid some may not be. */
static guint32 drawn_chain(const tb_setting *s, const tb_run *run)
{
	for (guint32 m = run->first; m < run->first + run->count; m++)
		if (!isnan(s->at[m]))
			return m;
	return TB_NONE;
}

/* The neighbour of a run may stand in a column that is folded away; it is as far off all the same. */
static double end_at(const tb_setting *s, guint32 end, guint32 drawn)
{
	if (s->column != NULL && s->column[end] != G_MAXINT32)
		return s->at[drawn] + (s->column[end] - s->column[drawn]);
	return isnan(s->at[end]) ? s->at[drawn] : s->at[end];
}

void tb_run_ends(const tb_setting *s, const tb_run *run, double *from, double *to)
{
	guint32 last = run->first + run->count - 1, drawn = drawn_chain(s, run);
	*from = end_at(s, run->before != TB_NONE ? run->before : run->first, drawn);
	*to = end_at(s, run->after != TB_NONE ? run->after : last, drawn);
}

static void bend(tb_setting *s, tb_run *run)
{
	double column = s->chart->column, at_first, at_last;
	guint32 first = run->before != TB_NONE ? run->before : run->first;
	guint32 last = run->first + run->count - 1;
	if (run->after != TB_NONE && !tb_setting_is_join(s, &s->fabric->made[run->after]))
		last = run->after;
	tb_run_ends(s, run, &at_first, &at_last);
	tb_spot a = tb_setting_spot(s, at_first, s->level[first]);
	tb_spot b = tb_setting_spot(s, at_last, s->level[last]);
	double dx = b.x - a.x, dy = b.y - a.y, whole = hypot(dx, dy);
	if (!(whole > 0))
		whole = 1e-6;
	double room = fmin(HEAD_ROOM * column, whole * 0.3);
	double ux = dx / whole, uy = dy / whole;
	double way = whole - 2 * room, length = CHAIN_LENGTH * column * run->count;
	double rise = fmin(bow_height(length, way), MOST_BOW * column);
	/* Out of the fabric: up, whichever way the row was worked. */
	double nx = uy, ny = -ux;
	if (ny > 0) {
		nx = -nx;
		ny = -ny;
	}
	run->p[0] = (tb_spot){a.x + ux * room, a.y + uy * room};
	run->p[3] = (tb_spot){b.x - ux * room, b.y - uy * room};
	double spread = rise > 0 ? 0.18 : 1.0 / 3;
	run->p[1] = (tb_spot){run->p[0].x + ux * way * spread + nx * rise * 4 / 3,
		run->p[0].y + uy * way * spread + ny * rise * 4 / 3};
	run->p[2] = (tb_spot){run->p[3].x - ux * way * spread + nx * rise * 4 / 3,
		run->p[3].y - uy * way * spread + ny * rise * 4 / 3};
	for (guint32 m = run->first; m < run->first + run->count; m++) {
		double t = (m - run->first + 0.5) / run->count;
		s->level[m] += rise * 4 * t * (1 - t) / s->chart->chain;
	}
}

void tb_setting_bend_runs(tb_setting *s, guint32 r)
{
	const tb_made_row *row = &s->fabric->rows[r];
	for (guint32 m = row->first; m < row->first + row->count; m++) {
		if (s->run[m] == 0)
			continue;
		tb_run *run = &g_array_index(s->runs, tb_run, s->run[m] - 1);
		if (drawn_chain(s, run) != TB_NONE)
			bend(s, run);
		m = run->first + run->count - 1;
	}
}
