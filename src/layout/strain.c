/*
 * Whether a grid is a picture of the fabric. Where rows drift along in the same places, in from the increases and down
 * to the decreases, the fabric waves; where a stem would have to stretch far beyond its stitch to reach its place, or
 * stitches together stand beside their feet, the row does not lie level. Either comes to rest instead.
 */
#include "layout/setting.h"

#include <math.h>

/* A stem this many times as long as its stitch is tall tells that the row is not level. */
#define MOST_STRETCH 1.6
/* Several drawn together stand no further than this, in columns, off the middle of their feet. */
#define MOST_DRIFT 0.9

/* How far a stitch of a grid stands from the middle of its bases, along the row. */
static double drift(const tb_setting *s, guint32 m)
{
	const tb_made *made = &s->fabric->made[m];
	double sum = 0, whole = tb_setting_is_tube(s) ? s->width : G_MAXINT32;
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

/* Whether M is drawn, and stands on a column of the row just below. Posts reach across, and cross: they say nothing. */
static bool stands_in_column(const tb_setting *s, guint32 m)
{
	const tb_made *made = &s->fabric->made[m];
	return s->column[m] != G_MAXINT32 && !isnan(s->at[m]) && made->base_count > 0 && made->rows_below == 1 && s->shift[m] == 0 &&
		tb_setting_stitch(s, made)->post == TB_POST_NONE &&
		s->column[tb_fabric_base(s->fabric, made, 0)] != G_MAXINT32;
}

static bool waves(const tb_setting *s)
{
	const tb_chart *chart = s->chart;
	guint32 count = (guint32)lround(chart->max_at - chart->min_at) + 1, sloping = 0;
	g_autofree double *sum = g_new0(double, count);
	g_autofree guint32 *rows = g_new0(guint32, count);
	for (guint32 r = MAX(s->first, 1); r <= s->last; r++) {
		const tb_made_row *row = &s->fabric->rows[r];
		for (guint32 m = row->first; m < row->first + row->count; m++) {
			if (!stands_in_column(s, m) || s->at[m] < 0 || s->at[m] > count - 1 || is_in_group(s, row, m))
				continue;
			guint32 c = MIN((guint32)lround(s->at[m]), count - 1);
			double slope = -drift(s, m) / fmax(row->height, 1);
			/* Rows that drift apart from each other are shells or fans, not a wave. */
			if (rows[c] > 0 && slope * sum[c] < 0)
				return false;
			sum[c] += slope;
			rows[c]++;
		}
	}
	for (guint32 c = 0; c < count; c++)
		sloping += rows[c] > 0 && fabs(sum[c]) > 0.1 * rows[c];
	return sloping * 3 >= count && s->last > s->first;
}

static bool stretches(const tb_setting *s)
{
	for (guint32 r = MAX(s->first, 1); r <= s->last; r++) {
		const tb_made_row *row = &s->fabric->rows[r];
		for (guint32 m = row->first; m < row->first + row->count; m++) {
			const tb_made *made = &s->fabric->made[m];
			if (!stands_in_column(s, m) || !(made->flags & TB_MADE_COUNTED) || made->base_count != 1 ||
				s->run[m] != 0)
				continue;
			double height = tb_setting_height(s, made) * s->chart->chain;
			double across = (s->at[m] - tb_setting_base_at(s, m, tb_fabric_base(s->fabric, made, 0))) * s->chart->column;
			double up = (s->level[m] - s->level[tb_fabric_base(s->fabric, made, 0)]) * s->chart->chain;
			if (height > s->chart->column && hypot(across, up) > MOST_STRETCH * height)
				return true;
		}
	}
	return false;
}

/* Whether stitches drawn together stand far off the middle of what they draw together: on a grid others would cross them. */
static bool strays(const tb_setting *s)
{
	for (guint32 r = MAX(s->first, 1); r <= s->last; r++) {
		const tb_made_row *row = &s->fabric->rows[r];
		for (guint32 m = row->first; m < row->first + row->count; m++)
			if (stands_in_column(s, m) && s->fabric->made[m].base_count > 1 && !(s->fabric->made[m].flags & TB_MADE_IN_SPACE) &&
				fabs(drift(s, m)) >= MOST_DRIFT)
				return true;
	}
	return false;
}

bool tb_setting_is_strained(const tb_setting *s)
{
	return waves(s) || stretches(s) || strays(s);
}
