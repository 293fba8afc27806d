/* Fabric that is not a grid: fans, chain bows, waves, triangles. */
#include "charting.h"
#include "layout/need.h"

#include <criterion/criterion.h>
#include <math.h>

static tb_chart *chart_of(tb_case *c)
{
	tb_chart_options options = {.full = true};
	g_autofree char *faults = tb_case_faults(c);
	cr_assert_str_empty(faults, "%s", faults);
	tb_chart *chart = tb_case_chart(c, &options);
	cr_assert_not_null(chart);
	return chart;
}

static const tb_chart_row *row_of(const tb_chart *chart, guint r)
{
	return &g_array_index(chart->rows, tb_chart_row, r);
}

/* Shells over 6 + 1 (trade-tables 5, row 11): five feet in one place, heads apart, evenly. */
Test(lace, a_shell_is_a_true_fan)
{
	tb_case c = tb_case_rows("", "Ch 20.",
		"Row 1: Sc in 2nd ch from hook, *sk 2 ch, 5 dc in next ch, sk 2 ch, sc in next ch; rep from * "
		"across, turn.");
	tb_chart *chart = chart_of(&c);
	const tb_chart_row *row = row_of(chart, 1);
	unsigned fans = 0;
	for (guint32 i = row->first; i + 4 < row->first + row->count; i++) {
		const tb_placed *p = &g_array_index(chart->placed, tb_placed, i);
		if (g_strcmp0(tb_test_stitch(chart, p)->us, "dc") != 0)
			continue;
		const tb_spot *foot = &g_array_index(chart->feet, tb_spot, p[0].first_foot);
		for (int k = 0; k < 5; k++) {
			const tb_spot *other = &g_array_index(chart->feet, tb_spot, p[k].first_foot);
			cr_assert_float_eq(other->x, foot->x, 1e-9);
			cr_assert_float_eq(other->y, foot->y, 1e-9);
			cr_assert_float_eq(p[k].top.x - foot->x, foot->x - p[4 - k].top.x, 1e-9, "a lame fan");
		}
		cr_assert_float_eq(p[2].angle, 0, 1e-9, "the middle one stands upright");
		fans++;
		i += 4;
	}
	cr_assert_eq(fans, 3);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* Chains between two stitches lie along one bow, evenly, and higher the more there are. */
Test(lace, chain_spaces_are_bows)
{
	double before = 0;
	for (unsigned chains = 3; chains <= 7; chains += 2) {
		g_autofree char *rows = g_strdup_printf(
			"Row 1: Sc in 2nd ch from hook, *ch %u, sk 2 ch, sc in next ch; rep from * across, turn.\n"
			"Row 2: Ch 1, sc in first st, *ch %u, sc in next ch-%u sp; rep from * across, ch 1, sc in "
			"last st.", chains, chains, chains);
		tb_case c = tb_case_rows("", "Ch 14.", rows);
		tb_chart *chart = chart_of(&c);
		const tb_chart_row *row = row_of(chart, 1);
		/* The tch, sc, then the first bow. */
		const tb_placed *p = &g_array_index(chart->placed, tb_placed, row->first + 2);
		double step = NAN, rise = 0;
		for (unsigned k = 0; k + 1 < chains; k++) {
			double way = hypot(p[k + 1].top.x - p[k].top.x, p[k + 1].top.y - p[k].top.y);
			if (isnan(step))
				step = way;
			cr_assert_float_eq(way, step, 0.35 * step, "chain %u of %u", k, chains);
			cr_assert_geq(way, 0.45 * chart->column, "chains of %u overlap", chains);
			rise = fmax(rise, p[0].top.y - p[k].top.y);
		}
		cr_assert_geq(rise, before);
		before = rise + 1e-9;
		tb_chart_destroy(chart);
		tb_case_finish(&c);
	}
	cr_assert_gt(before, 1);
}

/* What is worked into a space stands on its bow, between the stitches the chains join. */
Test(lace, stitches_in_a_space_stand_on_the_bow)
{
	tb_case c = tb_case_rows("", "Ch 10.",
		"Row 1: (Dc, ch 1, dc) in 5th ch from hook, sk 2 ch, (dc, ch 1, dc) in next ch, sk 1 ch, dc in "
		"last ch, turn.\n"
		"Row 2: Ch 3 (counts as dc), *(dc, ch 1, dc) in next ch-1 sp; rep from * across, dc in top of "
		"tch.");
	tb_chart *chart = chart_of(&c);
	const tb_chart_row *row = row_of(chart, 2);
	unsigned seen = 0;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_placed *p = &g_array_index(chart->placed, tb_placed, i);
		const tb_made *made = &chart->fabric->made[p->made];
		if (!(made->flags & TB_MADE_IN_SPACE))
			continue;
		guint32 chain = tb_fabric_base(chart->fabric, made, 0);
		for (guint k = 0; k < chart->placed->len; k++) {
			const tb_placed *q = &g_array_index(chart->placed, tb_placed, k);
			if (q->made != chain)
				continue;
			const tb_spot *foot = &g_array_index(chart->feet, tb_spot, p->first_foot);
			cr_assert_leq(fabs(foot->x - q->top.x), chart->column);
			/* Each V opens: feet on their own sides, no legs crossed. */
			cr_assert_geq((foot->x - q->top.x) * (p->top.x - q->top.x), -1e-9);
			seen++;
		}
	}
	cr_assert_eq(seen, 4);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* A chevron's crests are where three go into one (trade-tables 5, row 21). */
Test(lace, a_ripple_waves)
{
	tb_case c = tb_case_rows("", "Ch 24.",
		"Row 1: 2 sc in 2nd ch from hook, sc in next 4 ch, sk 2 ch, sc in next 4 ch, 3 sc in next ch, "
		"sc in next 4 ch, sk 2 ch, sc in next 4 ch, 2 sc in last ch, turn.\n"
		"Row 2: Ch 1, 2 sc in first st, sc in next 4 sts, sk 2 sts, sc in next 4 sts, 3 sc in next st, "
		"sc in next 4 sts, sk 2 sts, sc in next 4 sts, 2 sc in last st.");
	tb_chart *chart = chart_of(&c);
	const tb_placed *crest = tb_test_placed(chart, 2, 12), *hollow = tb_test_placed(chart, 2, 6);
	cr_assert_not_null(crest);
	cr_assert_not_null(hollow);
	cr_assert_lt(crest->top.y, hollow->top.y - chart->chain);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* Two more at either end of every row: each edge moves out by as much, and rows keep the middle. */
Test(lace, a_triangle_is_a_triangle)
{
	tb_case c = tb_case_rows("", "Ch 2.",
		"Row 1: 3 sc in 2nd ch from hook, turn.\n"
		"Row 2: Ch 1, 2 sc in first st, sc in next st, 2 sc in last st, turn.\n"
		"Row 3: Ch 1, 2 sc in first st, sc in next 3 sts, 2 sc in last st, turn.\n"
		"Row 4: Ch 1, 2 sc in first st, sc in next 5 sts, 2 sc in last st.");
	tb_chart *chart = chart_of(&c);
	double width = 0, middle = NAN;
	for (guint r = 1; r < chart->rows->len; r++) {
		const tb_chart_row *row = row_of(chart, r);
		double left = INFINITY, right = -INFINITY;
		for (guint32 i = row->first; i < row->first + row->count; i++) {
			const tb_placed *p = &g_array_index(chart->placed, tb_placed, i);
			if (p->index == 0)
				continue;
			left = fmin(left, p->top.x);
			right = fmax(right, p->top.x);
		}
		/* Two more a row; from the three in one chain on the rows curve, and their ends come down. */
		if (r > 1)
			cr_assert_geq(right - left - width, 1.2 * chart->column, "row %u", r);
		if (!isnan(middle))
			cr_assert_float_eq((left + right) / 2, middle, 1e-6);
		middle = (left + right) / 2;
		width = right - left;
	}
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* A cluster as tall as its row leaves the row level; a bobble among sc makes its row higher, as high as it needs. */
Test(lace, clusters_are_level_with_their_row)
{
	const char *const rows[] = {
		"Row 1: Dc in 4th ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 3 (counts as dc), sk first st, dc in next 3 sts, 3-dc cl in next st, dc in each st "
		"across.",
		"Row 1: Sc in 2nd ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 1, sc in next 4 sts, bobble in next st, sc in each st across.",
	};
	for (int i = 0; i < 2; i++) {
		tb_case c = tb_case_rows("", "Ch 12.", rows[i]);
		tb_chart *chart = chart_of(&c);
		const tb_chart_row *row = row_of(chart, 2);
		const tb_placed *first = tb_test_placed(chart, 2, 1);
		double unit = tb_need_unit(chart->column, chart->chain);
		double tall = i == 0 ? 3 * chart->chain : fmax(2 * chart->chain, tb_need_leaf() * unit);
		for (guint32 k = row->first; k < row->first + row->count; k++) {
			const tb_placed *p = &g_array_index(chart->placed, tb_placed, k);
			if (p->index == 0)
				continue;
			cr_assert_float_eq(p->top.y, first->top.y, 1e-9);
			cr_assert_float_eq(p->height, tall, 1e-9);
		}
		tb_chart_destroy(chart);
		tb_case_finish(&c);
	}
}

/* A picot stands on the middle of its fan: what is worked into it stands there, not on the row's last stitch. */
Test(lace, a_stitch_in_a_picot_stands_over_it)
{
	tb_case c = tb_case_rows("", "Ch 26.",
		"Row 1: Sc in 2nd ch from hook, *sk 2 ch, 3 dc in next ch, picot, 2 dc in same ch, sk 2 ch, sc in next ch; rep "
		"from * across, turn.\n"
		"Row 2: Ch 7 (counts as dc, ch 4), *sc in next picot, ch 4, dc in next sc, ch 4; rep from * to last 6 sts, sc in "
		"next picot, ch 4, dc in last sc.");
	tb_chart_options options = {.full = true};
	tb_chart *chart = tb_case_chart(&c, &options);
	cr_assert_not_null(chart);
	double picots[4], over[4];
	unsigned found = 0, met = 0;
	for (guint i = 0; i < chart->placed->len; i++) {
		const tb_placed *p = &g_array_index(chart->placed, tb_placed, i);
		const tb_made *made = &chart->fabric->made[p->made];
		if (made->row == 1 && g_str_has_suffix(tb_test_stitch(chart, p)->us, "picot") && found < 4)
			picots[found++] = p->top.x;
		if (made->row == 2 && g_strcmp0(tb_test_stitch(chart, p)->us, "sc") == 0 && met < 4)
			over[met++] = p->top.x;
	}
	cr_assert_eq(found, 4);
	cr_assert_eq(met, 4);
	for (unsigned k = 0; k < 4; k++)
		cr_expect_lt(fabs(over[k] - picots[3 - k]), 1.5 * chart->column, "%f over %f", over[k], picots[3 - k]);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}
