/*
 * Where along its row everything stands, in columns: on the grid, and in the folded column where one motif stands for
 * many.
 */
#include "layout/setting.h"

#include <math.h>

/* Where a column stands when the motif is drawn once: NAN for the repeats left out. */
static double fold(const tb_chart *chart, gint32 column, guint32 width)
{
	const tb_motif *motif = &chart->motif;
	if (!chart->folded || column < (gint32)(motif->near_edge + motif->width))
		return column;
	if (column < (gint32)(width - motif->far_edge))
		return NAN;
	return column - (gint32)(width - motif->far_edge - motif->near_edge - motif->width);
}

/* Past the edge where a tube is cut open it goes on at the other: the turn of AT that is nearest. */
static double nearest_turn(const tb_setting *s, double at, double near, double period)
{
	return tb_setting_is_tube(s) && period > 0 && !isnan(near) ? at + round((near - at) / period) * period : at;
}

double tb_setting_base_at(const tb_setting *s, guint32 m, guint32 base)
{
	/* On a folded grid the base may be a column that is not drawn; it is as far away all the same. */
	if (isnan(s->at[base]) && s->column != NULL && s->column[base] != G_MAXINT32 &&
		s->column[m] != G_MAXINT32)
		return (tb_setting_is_tube(s) ? s->at[m] : fold(s->chart, s->column[m], s->width)) +
			(s->column[base] - s->column[m]);
	return nearest_turn(s, s->at[base], s->at[m], s->period);
}

/* The first stitch of a turned round goes in where the round before began: all of it stands a column further on. */
static void shift_turned(tb_setting *s)
{
	for (guint32 r = MAX(s->lowest, 1); r <= s->last; r++) {
		const tb_made_row *row = &s->fabric->rows[r];
		double sum = 0;
		guint32 count = 0;
		for (guint32 m = row->first; m < row->first + row->count; m++) {
			const tb_made *made = &s->fabric->made[m];
			guint32 base = made->base_count == 1 ? made->base : TB_NONE;
			if (base == TB_NONE || s->column[m] == G_MAXINT32 || s->column[base] == G_MAXINT32)
				continue;
			sum += nearest_turn(s, s->column[base], s->column[m], s->width) - s->column[m];
			count++;
		}
		gint32 shift = count > 0 ? (gint32)lround(sum / count) : 0;
		for (guint32 m = row->first; m < row->first + row->count && row->leftward != row[-1].leftward; m++) {
			s->at[m] += shift;
			s->column[m] += s->column[m] != G_MAXINT32 ? shift : 0;
		}
	}
}

/* A round that is shown below the part, and may begin elsewhere, is turned to where the first of the part stands on it. */
static void turn_below(tb_setting *s)
{
	const tb_made_row *below = &s->fabric->rows[s->lowest], *row = below + 1;
	double sum = 0;
	guint32 count = 0;
	for (guint32 m = row->first; m < row->first + row->count; m++) {
		const tb_made *made = &s->fabric->made[m];
		guint32 base = made->base_count == 1 ? made->base : TB_NONE;
		if (base == TB_NONE || base < below->first || base >= row->first || s->column[m] == G_MAXINT32 || s->column[base] == G_MAXINT32)
			continue;
		/* From the first on, so that they are not near by different turns. */
		double away = s->column[base] - s->column[m];
		sum += count == 0 ? away : nearest_turn(s, away, sum / count, s->width);
		count++;
	}
	gint32 shift = count > 0 ? (gint32)lround(sum / count) : 0, width = (gint32)s->width;
	for (guint32 m = below->first; m < below->first + below->count && shift != 0; m++) {
		if (s->column[m] == G_MAXINT32 || s->column[m] < 0 || s->column[m] >= width)
			continue;
		s->column[m] = ((s->column[m] - shift) % width + width) % width;
		s->at[m] = s->column[m];
	}
}

static bool set_on_grid(tb_setting *s)
{
	const tb_fabric *fabric = s->fabric;
	g_autofree gint32 *columns = g_new(gint32, fabric->made_count + 1);
	if (s->chart->motif.by_places || !tb_grid_columns(fabric, fabric->rows[s->lowest].number, fabric->rows[s->last].number,
			columns, &s->width))
		return false;
	if (!tb_setting_is_tube(s))
		tb_grid_centre(fabric, columns);
	if (!tb_grid_is_true(fabric, s->lowest, s->last, columns, tb_setting_is_tube(s) ? s->width : 0))
		return false;
	for (guint32 m = 0; m < fabric->made_count; m++) {
		if (m > 0 && fabric->made[m].row > 0 && tb_setting_is_standing(&fabric->made[m]))
			s->at[m] = s->at[m - 1];
		else if (columns[m] == G_MAXINT32)
			s->at[m] = NAN;
		else if (columns[m] < 0)
			s->at[m] = -TB_BESIDE_EDGE;
		else if (columns[m] >= (gint32)s->width && fabric->made[m].row > 0)
			s->at[m] = fold(s->chart, (gint32)s->width - 1, s->width) + TB_BESIDE_EDGE;
		else
			s->at[m] = fold(s->chart, columns[m], s->width);
	}
	s->column = g_steal_pointer(&columns);
	s->period = s->width;
	if (s->chart->folded)
		s->period = s->chart->motif.near_edge + s->chart->motif.width + s->chart->motif.far_edge;
	if (tb_setting_is_tube(s))
		shift_turned(s);
	if (tb_setting_is_tube(s) && s->lowest > 0 && s->lowest < s->first && !s->chart->folded)
		turn_below(s);
	return true;
}

/* Slip stitches that lead to where a round begins lie on what they go into; what closes it, past its last stitch. */
static void set_joins(tb_setting *s, const tb_made_row *row)
{
	double low = INFINITY, high = -INFINITY;
	bool outward = row->leftward == s->fabric->rows[1].leftward;
	for (guint32 m = row->first; m < row->first + row->count; m++) {
		if (!(s->fabric->made[m].flags & TB_MADE_COUNTED) || isnan(s->at[m]))
			continue;
		low = fmin(low, s->at[m]);
		high = fmax(high, s->at[m]);
	}
	bool begun = false;
	for (guint32 m = row->first; m < row->first + row->count && isfinite(low); m++) {
		const tb_made *made = &s->fabric->made[m];
		begun = begun || made->flags & (TB_MADE_COUNTED | TB_MADE_CHAIN);
		if (!tb_setting_is_join(s, made))
			continue;
		if (begun || made->base_count == 0)
			s->at[m] = outward ? high + TB_BESIDE_EDGE : low - TB_BESIDE_EDGE;
		else
			s->at[m] = tb_setting_base_at(s, m, tb_fabric_base(s->fabric, made, 0));
	}
}

/* How many stitches from M on are worked into the place M is, chains between them aside. */
guint32 tb_setting_count_group(const tb_setting *s, const tb_made_row *row, guint32 m)
{
	const tb_made *made = &s->fabric->made[m];
	guint32 count = 1, end = row->first + row->count;
	if (made->base_count != 1 || s->run[m] != 0)
		return 1;
	guint32 base = tb_fabric_base(s->fabric, made, 0);
	while (m + count < end && s->run[m + count] == 0) {
		const tb_made *next = &s->fabric->made[m + count];
		if (next->base_count != 1 || tb_fabric_base(s->fabric, next, 0) != base ||
			!(next->flags & TB_MADE_COUNTED))
			break;
		count++;
	}
	return count;
}

/* On the grid, fans draw in towards their middle, so that they do not cross their neighbours. */
static void gather_groups(tb_setting *s)
{
	for (guint32 r = MAX(s->lowest, 1); r <= s->last; r++) {
		const tb_made_row *row = &s->fabric->rows[r];
		for (guint32 m = row->first; m < row->first + row->count;) {
			guint32 count = tb_setting_count_group(s, row, m);
			bool on_columns = s->column[m] != G_MAXINT32 && s->column[m + count - 1] != G_MAXINT32;
			double middle = on_columns ? (s->column[m] + s->column[m + count - 1]) / 2.0 : 0;
			/* Half of it may be folded away. */
			for (guint32 k = m; k < m + count && count >= 3 && on_columns; k++) {
				if (isnan(s->at[k]) || s->column[k] == G_MAXINT32)
					continue;
				double base = tb_setting_base_at(s, k, tb_fabric_base(s->fabric, &s->fabric->made[k], 0));
				double from = middle + s->at[k] - s->column[k];
				/* At a row's edge half a fan keeps to the edge. */
				if (!isnan(base) && fabs(base - from) > 0.6)
					from = base;
				s->at[k] = from + (s->at[k] - from) * TB_FAN_SPACING;
			}
			m += count;
		}
	}
}

static void find_extent(tb_setting *s)
{
	tb_chart *chart = s->chart;
	chart->min_at = INFINITY;
	chart->max_at = -INFINITY;
	for (guint32 r = s->lowest; r <= s->last; r++) {
		const tb_made_row *row = &s->fabric->rows[r];
		for (guint32 m = row->first; m < row->first + row->count; m++) {
			if (!(s->fabric->made[m].flags & (TB_MADE_COUNTED | TB_MADE_CHAIN)) || isnan(s->at[m]))
				continue;
			chart->min_at = fmin(chart->min_at, s->at[m]);
			chart->max_at = fmax(chart->max_at, s->at[m]);
		}
	}
}

/* What has a column of its own, before groups draw in: not what lies beside the edge, or stands on another. */
static void find_drawn(tb_setting *s)
{
	for (guint32 m = 0; m < s->fabric->made_count; m++) {
		bool beside = s->column[m] == G_MAXINT32 || isnan(s->at[m]) || s->at[m] != round(s->at[m]);
		s->drawn[m] = beside ? G_MAXINT32 : (gint32)lround(s->at[m]);
	}
}

gint32 tb_setting_drawn_column(const tb_setting *s, guint32 m)
{
	const tb_chart *chart = s->chart;
	gint32 column = s->column[m];
	if (!s->part->at_rest)
		return s->drawn[m];
	if (column == G_MAXINT32 || !chart->folded)
		return column;
	/* What is folded away takes no room. */
	const tb_motif *motif = &chart->motif;
	gint32 away = (gint32)((motif->times[chart->size] - tb_chart_repeats_drawn(chart)) * motif->width);
	return column < (gint32)(motif->near_edge + tb_chart_repeats_before(chart) * motif->width) ? column : column - away;
}

bool tb_setting_find_columns(tb_setting *s)
{
	for (guint32 m = 0; m < s->fabric->made_count; m++)
		s->at[m] = NAN;
	if (!set_on_grid(s))
		return false;
	s->chart->columns = s->width;
	find_drawn(s);
	find_extent(s);
	gather_groups(s);
	for (guint32 r = 1; r <= s->last; r++)
		set_joins(s, &s->fabric->rows[r]);
	return true;
}

tb_spot tb_setting_spot(const tb_setting *s, double at, double level)
{
	const tb_chart *chart = s->chart;
	double from_near = tb_chart_across(chart, at), whole = tb_chart_across(chart, chart->max_at + 0.5);
	return (tb_spot){.x = chart->near_right ? whole - from_near : from_near, .y = -level * chart->chain};
}
