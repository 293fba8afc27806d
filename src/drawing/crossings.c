#include "drawing/crossings.h"

#include <math.h>

typedef struct {
	const tb_chart *chart;
	const tb_reach *reaches;
	guint32 *by_made;   /* its place among the placed, from 1; 0 when not drawn */
	GArray **crossings; /* by placed */
} finding;

/* A row as it is drawn in a part, or NULL. */
static const tb_chart_row *row_of(const tb_chart *chart, const tb_chart_part *part, guint32 row)
{
	guint32 lowest = part->rows > 0 ? g_array_index(chart->rows, tb_chart_row, part->row).row : 0;
	if (row < lowest || row - lowest >= part->rows)
		return NULL;
	return &g_array_index(chart->rows, tb_chart_row, part->row + row - lowest);
}

/* The part that something placed is drawn in. */
static const tb_chart_part *part_of(const tb_chart *chart, guint32 placed)
{
	for (guint i = 1; i < chart->parts->len; i++) {
		const tb_chart_part *part = tb_chart_part_at(chart, i);
		if (part->rows > 0 && placed < g_array_index(chart->rows, tb_chart_row, part->row).first)
			return tb_chart_part_at(chart, i - 1);
	}
	return tb_chart_part_at(chart, chart->parts->len - 1);
}

static void note_crossing(finding *f, guint32 own, guint32 other, tb_crossing_kind kind)
{
	tb_crossing c = {other, kind};
	if (f->crossings[own] == NULL)
		f->crossings[own] = g_array_new(FALSE, FALSE, sizeof(tb_crossing));
	g_array_append_val(f->crossings[own], c);
}

/* A row's placed stitches stand in order along x, whichever way it was worked. */
static guint32 first_from(const finding *f, const tb_chart_row *row, double x, bool rising)
{
	guint32 low = 0, high = row->count;
	while (low < high) {
		guint32 middle = (low + high) / 2;
		double at = g_array_index(f->chart->placed, tb_placed, row->first + middle).top.x;
		if (rising ? at < x : at > x)
			low = middle + 1;
		else
			high = middle;
	}
	return low;
}

static const tb_made *made_of(const tb_chart *chart, guint32 placed)
{
	return &chart->fabric->made[g_array_index(chart->placed, tb_placed, placed).made];
}

/* Whether POST is worked around OTHER. */
static bool holds(const finding *f, guint32 post, guint32 other)
{
	const tb_made *made = made_of(f->chart, post);
	if (tb_chart_shown(f->chart, made)->post == TB_POST_NONE)
		return false;
	for (unsigned b = 0; b < made->base_count; b++)
		if (f->by_made[tb_fabric_base(f->chart->fabric, made, b)] == other + 1)
			return true;
	return false;
}

/* A stitch that a post or spike meets on its way down. */
static void cross_stitch(finding *f, guint32 post, bool front, guint32 other)
{
	if (front)
		note_crossing(f, other, post, holds(f, post, other) ? TB_CROSS_HELD_FRONT : TB_CROSS_UNDER_FRONT);
	else
		note_crossing(f, post, other, TB_CROSS_UNDER_HEAD);
}

static void cross_row(finding *f, guint32 post, bool front, const tb_chart_row *row)
{
	const tb_chart *chart = f->chart;
	double x = g_array_index(chart->placed, tb_placed, post).top.x;
	double reach = chart->column * 0.6;
	double from = x + f->reaches[post].left - reach, to = x + f->reaches[post].right + reach;
	if (row->count == 0)
		return;
	bool rising = g_array_index(chart->placed, tb_placed, row->first).top.x <
		g_array_index(chart->placed, tb_placed, row->first + row->count - 1).top.x;
	for (guint32 i = first_from(f, row, rising ? from : to, rising); i < row->count; i++) {
		double at = g_array_index(chart->placed, tb_placed, row->first + i).top.x;
		if (at < from || at > to)
			break;
		cross_stitch(f, post, front, row->first + i);
	}
}

/* In a round: the stitch it stands on or hides, and those beside it. */
static void cross_round(finding *f, guint32 post, bool front, guint32 made)
{
	const guint32 beside = 2;
	guint32 placed = f->by_made[made];
	if (placed == 0)
		return;
	guint32 row = f->chart->fabric->made[made].row;
	for (guint32 i = placed - 1 - MIN(beside, placed - 1);
			i <= placed - 1 + beside && i < f->chart->placed->len; i++) {
		const tb_placed *other = &g_array_index(f->chart->placed, tb_placed, i);
		if (f->chart->fabric->made[other->made].row == row)
			cross_stitch(f, post, front, i);
	}
}

/* A leg as a straight line from top to foot; false when the stitch has not just one. */
static bool leg_of(const tb_chart *chart, guint32 index, tb_spot leg[2])
{
	const tb_placed *placed = &g_array_index(chart->placed, tb_placed, index);
	if (placed->foot_count != 1)
		return false;
	const tb_spot *foot = &g_array_index(chart->feet, tb_spot, placed->first_foot);
	leg[0] = (tb_spot){placed->top.x, placed->top.y};
	leg[1] = (tb_spot){foot->x, foot->y};
	return true;
}

static double side_of(tb_spot a, tb_spot b, tb_spot p)
{
	return (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
}

/* Whether two legs cross, not counting ends that only touch. */
static bool legs_cross(const tb_spot a[2], const tb_spot b[2])
{
	const double touch = 1e-3;
	double a0 = side_of(b[0], b[1], a[0]), a1 = side_of(b[0], b[1], a[1]);
	double b0 = side_of(a[0], a[1], b[0]), b1 = side_of(a[0], a[1], b[1]);
	return a0 * a1 < -touch && b0 * b1 < -touch;
}

/* How many stitches back a leg may reach to cross another. */
#define MOST_CROSSED 8u

/* Crossed stitches of one row: the one made later passes in front, unless it was worked behind. */
static void cross_own_row(finding *f, guint32 index)
{
	const tb_chart *chart = f->chart;
	const tb_placed *placed = &g_array_index(chart->placed, tb_placed, index);
	const tb_made *made = &chart->fabric->made[placed->made];
	tb_spot own[2], other[2];
	if (!leg_of(chart, index, own) || fabs(own[0].x - own[1].x) < 0.3 * chart->column)
		return;
	for (guint32 back = 1; back <= MIN(MOST_CROSSED, index); back++) {
		guint32 made_before = g_array_index(chart->placed, tb_placed, index - back).made;
		if (chart->fabric->made[made_before].row != made->row)
			break;
		if (!leg_of(chart, index - back, other) || !legs_cross(own, other))
			continue;
		bool behind = made->flags & TB_MADE_BEHIND;
		note_crossing(f, behind ? index : index - back, behind ? index - back : index,
			TB_CROSS_UNDER_LEG);
	}
}

static void list_by_made(finding *f)
{
	f->by_made = g_new0(guint32, f->chart->fabric->made_count + 1);
	for (guint32 i = 0; i < f->chart->placed->len; i++)
		f->by_made[g_array_index(f->chart->placed, tb_placed, i).made] = i + 1;
}

/* What a leg at the back goes down behind, in the rows between its own and that of its post. */
static void note_passed(const finding *f, guint32 post, const tb_chart_part *part, tb_holding *holdings)
{
	const tb_chart *chart = f->chart;
	const tb_made *made = made_of(chart, post);
	if (part->lay == TB_LAY_DISC || part->lay == TB_LAY_CLOSE) {
		if (made->behind != TB_NONE && f->by_made[made->behind] != 0)
			holdings[f->by_made[made->behind] - 1].passed = true;
		return;
	}
	double x = g_array_index(chart->placed, tb_placed, post).top.x;
	for (guint32 down = 1; down < made->rows_below && down <= made->row; down++) {
		const tb_chart_row *row = row_of(chart, part, made->row - down);
		for (guint32 i = 0; row != NULL && i < row->count; i++)
			if (fabs(g_array_index(chart->placed, tb_placed, row->first + i).top.x - x) < 0.5 * chart->column)
				holdings[row->first + i].passed = true;
	}
}

tb_holding *tb_crossings_find_held(const tb_chart *chart)
{
	finding f = {.chart = chart};
	tb_holding *holdings = g_new0(tb_holding, chart->placed->len + 1);
	list_by_made(&f);
	for (guint32 i = 0; i < chart->placed->len; i++) {
		const tb_made *made = made_of(chart, i);
		tb_post post = tb_chart_shown(chart, made)->post;
		if (post == TB_POST_NONE)
			continue;
		for (unsigned b = 0; b < made->base_count; b++) {
			guint32 base = f.by_made[tb_fabric_base(chart->fabric, made, b)];
			if (base != 0 && holdings[base - 1].held != TB_HELD_FRONT)
				holdings[base - 1].held = post == TB_POST_FRONT ? TB_HELD_FRONT : TB_HELD_BACK;
		}
		if (post == TB_POST_BACK && made->rows_below > 1)
			note_passed(&f, i, part_of(chart, i), holdings);
	}
	g_free(f.by_made);
	return holdings;
}

GArray **tb_crossings_find(const tb_chart *chart, const tb_reach *reaches)
{
	guint32 count = chart->placed->len;
	finding found = {
		.chart = chart, .reaches = reaches,
		.crossings = g_new0(GArray *, count + 1),
	}, *f = &found;
	list_by_made(f);
	for (guint32 i = 0; i < chart->placed->len; i++) {
		const tb_made *made = made_of(chart, i);
		const tb_stitch *stitch = tb_chart_shown(chart, made);
		bool post = stitch->post != TB_POST_NONE, front = stitch->post != TB_POST_BACK;
		cross_own_row(f, i);
		if (made->base_count == 0 || (!post && made->rows_below < 2))
			continue;
		const tb_chart_part *part = part_of(chart, i);
		if (part->lay == TB_LAY_DISC || part->lay == TB_LAY_CLOSE) {
			cross_round(f, i, front, tb_fabric_base(chart->fabric, made, 0));
			if (made->behind != TB_NONE)
				cross_round(f, i, front, made->behind);
			continue;
		}
		/* A hook goes on into the row of its post; a spike ends on top of the row it goes into. */
		guint32 deepest = post ? MAX(made->rows_below, 1u) : made->rows_below - 1u;
		for (guint32 down = 1; down <= deepest && down <= made->row; down++) {
			const tb_chart_row *row = row_of(chart, part, made->row - down);
			if (row != NULL)
				cross_row(f, i, front, row);
		}
	}
	g_free(f->by_made);
	return f->crossings;
}
