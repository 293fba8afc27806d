/* Waves: rows that slope because their stitches all drift the same way. */
#include "layout/setting.h"

#include <math.h>

/* A wave is drawn no steeper than this, in radians. */
#define STEEPEST 0.82

/* How far a stitch of a grid stands from the middle of its bases, along the row. */
static double drift(const tb_setting *s, guint32 m)
{
	const tb_made *made = &s->fabric->made[m];
	double sum = 0, whole = s->chart->is_tube ? s->width : G_MAXINT32;
	for (unsigned b = 0; b < made->base_count; b++) {
		double away = s->column[m] - s->column[tb_fabric_base(s->fabric, made, b)];
		sum += away - round(away / whole) * whole;
	}
	return sum / made->base_count;
}

/* Worked into one place with another nearby: such stitches spread, they do not drift. */
static bool is_in_group(const tb_setting *s, const tb_made_row *row, guint32 m)
{
	const tb_made *made = &s->fabric->made[m];
	guint32 base = tb_fabric_base(s->fabric, made, 0), near = 4;
	guint32 from = m - MIN(near, m - row->first), to = MIN(m + near, row->first + row->count - 1);
	for (guint32 i = from; i <= to; i++) {
		const tb_made *other = &s->fabric->made[i];
		if (i != m && other->base_count > 0 && tb_fabric_base(s->fabric, other, 0) == base)
			return true;
	}
	return made->flags & TB_MADE_IN_SPACE;
}

/*
 * The wave's shape. Stitches stand square on a row that slopes by an angle a: one row further, a
 * stitch has moved one place along the row, so its height h and the column c give tan a = c / h.
 * Along x the columns draw in by cos a where the row slopes, and rows lie 1 / cos a further apart.
 */
static void set_wave(tb_setting *s, const double *sum, const guint32 *rows, guint32 count,
	double mean)
{
	tb_chart *chart = s->chart;
	double angle = fmin(atan(mean * chart->column / chart->chain), STEEPEST);
	double height = 0, drop = chart->column * sin(angle) * cos(angle) / chart->chain;
	double across = 0;
	chart->rise = chart->chain / cos(angle);
	chart->across = g_array_new(FALSE, FALSE, sizeof(double));
	s->wave = g_array_new(FALSE, FALSE, sizeof(double));
	for (guint32 c = 0; c < count; c++) {
		g_array_append_val(s->wave, height);
		g_array_append_val(chart->across, across);
		double here = rows[c] > 0 ? sum[c] / rows[c] : 0;
		double next = c + 1 < count && rows[c + 1] > 0 ? sum[c + 1] / rows[c + 1] : here;
		double steep = CLAMP((here + next) / 2 / mean, -1, 1);
		height += steep * drop;
		across += chart->column * cos(angle * steep);
	}
	/* The fabric hangs straight: both its edges are equally high. */
	double tilt = g_array_index(s->wave, double, count - 1) / MAX(count - 1, 1);
	for (guint32 c = 0; c < count; c++)
		g_array_index(s->wave, double, c) -= tilt * c;
}

/*
 * A wave. Where every row drifts along in the same places, in from the increases and down to the
 * decreases, the stitches still stand square on their row, so the row itself slopes: by one column
 * of drift to one row's height. Each column is raised by the slopes up to it.
 */
void tb_setting_find_wave(tb_setting *s)
{
	const tb_chart *chart = s->chart;
	guint32 count = (guint32)lround(chart->max_at - chart->min_at) + 1;
	g_autofree double *sum = g_new0(double, count);
	g_autofree guint32 *rows = g_new0(guint32, count);
	for (guint32 r = MAX(s->first, 1); r <= s->last; r++) {
		const tb_made_row *row = &s->fabric->rows[r];
		for (guint32 m = row->first; m < row->first + row->count; m++) {
			const tb_made *made = &s->fabric->made[m];
			if (s->column[m] == G_MAXINT32 || isnan(s->at[m]) || made->base_count == 0 ||
				made->rows_below != 1 || s->at[m] < 0 || s->at[m] > count - 1 ||
				s->column[tb_fabric_base(s->fabric, made, 0)] == G_MAXINT32 ||
				is_in_group(s, row, m))
				continue;
			guint32 c = (guint32)lround(s->at[m]);
			double slope = -drift(s, m) / fmax(row->height, 1);
			/* Rows that drift apart from each other are shells or fans, not a wave. */
			if (rows[c] > 0 && slope * sum[c] < 0)
				return;
			sum[c] += slope;
			rows[c]++;
		}
	}
	guint32 sloping = 0;
	double mean = 0;
	for (guint32 c = 0; c < count; c++)
		if (rows[c] > 0 && fabs(sum[c]) > 0.1 * rows[c]) {
			mean += fabs(sum[c] / rows[c]);
			sloping++;
		}
	if (sloping * 3 < count || s->last <= s->first)
		return;
	set_wave(s, sum, rows, count, mean / sloping);
}
