/*
 * How high everything stands, in chains: a stitch's foot is where its base ends, its top as much
 * higher as the stitch is tall. Rows of one stitch come out level; shells nest, waves swing.
 */
#include "layout/need.h"
#include "layout/setting.h"
#include "layout/weave.h"

#include <math.h>

/* Real fabric gives way before a row is this uneven. */
#define MOST_UNEVEN 4.0

/* As it stands in the fabric. */
static double height_worked(const tb_setting *s, const tb_made *made)
{
	return made->flags & TB_MADE_TURNING ? made->chains : fmax(tb_setting_stitch(s, made)->height, TB_LEAST_HEIGHT);
}

/* What the stitches of a row need, in chains. */
static double needed_in(const tb_setting *s, guint32 row)
{
	const tb_chart *chart = s->chart;
	/* At rest the width of a stitch tells how high a chain is, not the gauge. */
	double chain = s->part->at_rest ? TB_WEAVE_CHAIN * chart->column : chart->chain;
	return s->need[row] * tb_need_unit(chart->column, chart->chain) / chain;
}

double tb_setting_height(const tb_setting *s, const tb_made *made)
{
	bool stands = made->flags & (TB_MADE_COUNTED | TB_MADE_TURNING) && !tb_setting_is_chain(made);
	return stands ? fmax(height_worked(s, made), needed_in(s, made->row)) : height_worked(s, made);
}

/* The level a stitch is worked from: its bases' tops; for a deep post, the stitch it hides. */
static double foot_level(const tb_setting *s, const tb_made *made, double row_below)
{
	if (made->behind != TB_NONE)
		return s->level[made->behind];
	if (tb_setting_is_standing(made) && !tb_setting_is_join(s, made) && made > s->fabric->made)
		return s->level[made - s->fabric->made - 1];
	if (made->base_count == 0)
		return row_below;
	double sum = 0;
	for (unsigned b = 0; b < made->base_count; b++)
		sum += s->level[tb_fabric_base(s->fabric, made, b)];
	return sum / made->base_count;
}

static bool is_cluster(const tb_setting *s, const tb_made *made)
{
	const tb_stitch *stitch = tb_setting_stitch(s, made);
	bool leaf = stitch->meet == TB_MEET_BOTH || stitch->form == TB_FORM_BULLION;
	return leaf && stitch->post == TB_POST_NONE && made->base_count > 0;
}

/*
 * A bobble among low stitches stands out of the fabric, not up: it takes one chain more than they
 * do, and the row is level with it.
 */
static void level_clusters(tb_setting *s, const tb_made_row *row)
{
	double lowest = INFINITY, highest = 0, tallest = 0;
	for (guint32 m = row->first; m < row->first + row->count; m++) {
		const tb_made *made = &s->fabric->made[m];
		if (is_cluster(s, made)) {
			tallest = fmax(tallest, tb_setting_height(s, made));
			continue;
		}
		if (tb_setting_stitch(s, made)->post != TB_POST_NONE)
			continue;
		if (made->flags & TB_MADE_COUNTED && s->run[m] == 0) {
			lowest = fmin(lowest, height_worked(s, made));
			highest = fmax(highest, tb_setting_height(s, made));
		}
	}
	/* A post stitch begins lower than its row, and is no higher than the row for all its length. */
	for (guint32 m = row->first; highest > 0 && m < row->first + row->count; m++)
		if (tb_setting_stitch(s, &s->fabric->made[m])->post != TB_POST_NONE)
			s->level[m] = s->foot[m] + fmin(tb_setting_height(s, &s->fabric->made[m]), highest);
	for (guint32 m = row->first; tallest > lowest && m < row->first + row->count; m++) {
		const tb_made *made = &s->fabric->made[m];
		double height = tb_setting_height(s, made);
		double most = fmax(fmin(tallest, lowest + 1), needed_in(s, made->row));
		if (is_cluster(s, made))
			height = fmin(height, most);
		else if (made->flags & TB_MADE_COUNTED)
			height = fmax(height, most);
		s->level[m] = s->foot[m] + height;
	}
}

static double mean_level(const tb_setting *s, const tb_made_row *row, double fallback)
{
	double sum = 0;
	guint32 count = 0;
	for (guint32 m = row->first; m < row->first + row->count; m++)
		if (s->fabric->made[m].flags & TB_MADE_COUNTED && !tb_setting_is_chain(&s->fabric->made[m])) {
			sum += s->level[m];
			count++;
		}
	return count > 0 ? sum / count : fallback;
}

/* The first stitch after or before an uncounted turning chain tells where that one stands. */
static void level_beside(tb_setting *s, const tb_made_row *row)
{
	double foot = NAN, level = NAN;
	for (guint32 m = row->first; m < row->first + row->count && isnan(foot); m++) {
		if (s->fabric->made[m].flags & TB_MADE_COUNTED) {
			foot = s->foot[m];
			level = s->level[m];
		}
	}
	for (guint32 m = row->first; m < row->first + row->count; m++) {
		const tb_made *made = &s->fabric->made[m];
		if ((made->flags & TB_MADE_TURNING) && !(made->flags & TB_MADE_COUNTED) && !isnan(foot)) {
			s->foot[m] = foot;
			/* In a row that is higher for what is drawn in it, so high itself. */
			s->level[m] = s->need[made->row] > 0 ? fmax(foot + made->chains, level) : foot + made->chains;
		}
	}
}

/* A run's chains lie between the tops of the stitches it joins. */
static void level_runs(tb_setting *s, guint32 r, double mean)
{
	const tb_made_row *row = &s->fabric->rows[r];
	for (guint32 m = row->first; m < row->first + row->count; m++) {
		if (s->run[m] == 0)
			continue;
		const tb_run *run = &g_array_index(s->runs, tb_run, s->run[m] - 1);
		double before = run->before != TB_NONE ? s->level[run->before] : NAN;
		bool ends = run->after == TB_NONE || tb_setting_is_join(s, &s->fabric->made[run->after]);
		double after = ends ? before : s->level[run->after];
		if (isnan(before))
			before = after;
		if (isnan(before))
			before = after = mean;
		double t = (m - run->first + 1.0) / (run->count + 1);
		s->level[m] = s->foot[m] = before + (after - before) * t;
	}
}

/* What closes a round lies at its upper edge, what leads to where it begins at its lower one. */
static void level_joins(tb_setting *s, const tb_made_row *row, double below, double mean)
{
	bool begun = false;
	for (guint32 m = row->first; m < row->first + row->count; m++) {
		begun = begun || s->fabric->made[m].flags & (TB_MADE_COUNTED | TB_MADE_CHAIN);
		if (tb_setting_is_join(s, &s->fabric->made[m]))
			s->level[m] = (begun ? mean : below) - TB_LEAST_HEIGHT;
	}
}

void tb_setting_find_levels(tb_setting *s)
{
	const tb_fabric *fabric = s->fabric;
	double below = 0;
	for (guint32 m = 0; m < fabric->rows[0].count; m++)
		s->level[fabric->rows[0].first + m] = 0;
	for (guint32 r = 1; r <= s->last; r++) {
		const tb_made_row *row = &fabric->rows[r];
		for (guint32 m = row->first; m < row->first + row->count; m++) {
			const tb_made *made = &fabric->made[m];
			if (s->run[m] != 0)
				continue;
			s->foot[m] = foot_level(s, made, below);
			s->level[m] = s->foot[m] + tb_setting_height(s, made);
		}
		level_clusters(s, row);
		level_beside(s, row);
		double mean = mean_level(s, row, below + TB_LEAST_HEIGHT);
		for (guint32 m = row->first; m < row->first + row->count; m++)
			s->level[m] = CLAMP(s->level[m], mean - MOST_UNEVEN, mean + MOST_UNEVEN);
		level_runs(s, r, mean);
		level_joins(s, row, below, mean);
		tb_setting_bend_runs(s, r);
		below = mean;
	}
}
