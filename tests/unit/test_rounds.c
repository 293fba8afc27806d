/* Rounds and ovals: round where the fabric is round, square where it is square. */
#include "charting.h"

#include <criterion/criterion.h>
#include <math.h>

static tb_chart *chart_of(tb_case *c, bool left_handed)
{
	tb_chart_options options = {.left_handed = left_handed};
	g_autofree char *faults = tb_case_faults(c);
	cr_assert_str_empty(faults, "%s", faults);
	tb_chart *chart = tb_case_chart(c, &options);
	cr_assert_not_null(chart);
	return chart;
}

static tb_case read_disc(void)
{
	return tb_case_rows("", "Ch 4, join with sl st to form a ring.",
		"Rnd 1: Ch 3 (counts as dc), 11 dc in ring, join with sl st in top of ch-3. [12 dc]\n"
		"Rnd 2: Ch 3 (counts as dc), dc in same st, 2 dc in each of next 11 sts, join with sl st in "
		"top of ch-3. [24 dc]\n"
		"Rnd 3: Ch 3 (counts as dc), dc in same st, dc in next st, *2 dc in next st, dc in next st; "
		"rep from * 10 more times, join with sl st in top of ch-3. [36 dc]");
}

/* The middle of the first round's tops: the middle of everything. */
static tb_spot middle_of(const tb_chart *chart)
{
	const tb_chart_row *ring = &g_array_index(chart->rows, tb_chart_row, 0);
	tb_spot sum = {0, 0};
	for (guint32 i = ring->first; i < ring->first + ring->count; i++) {
		sum.x += g_array_index(chart->placed, tb_placed, i).top.x / ring->count;
		sum.y += g_array_index(chart->placed, tb_placed, i).top.y / ring->count;
	}
	return sum;
}

/* A flat disc in dc: 12, 24, 36 (common practice): every round's tops lie on one circle. */
Test(rounds, a_disc_is_round)
{
	tb_case c = read_disc();
	tb_chart *chart = chart_of(&c, false);
	tb_spot middle = middle_of(chart);
	double before = 0;
	for (guint r = 1; r < chart->rows->len; r++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, r);
		double radius = NAN;
		unsigned counted = 0;
		for (guint32 i = row->first; i < row->first + row->count; i++) {
			const tb_placed *p = &g_array_index(chart->placed, tb_placed, i);
			if (!(chart->fabric->made[p->made].flags & TB_MADE_COUNTED))
				continue;
			double here = hypot(p->top.x - middle.x, p->top.y - middle.y);
			if (isnan(radius))
				radius = here;
			cr_assert_float_eq(here, radius, 0.1 * chart->column, "round %u is not round", r);
			counted++;
		}
		cr_assert_eq(counted, 12 * r);
		cr_assert_geq(radius - before, 2.9 * chart->chain, "round %u has room for a dc", r);
		before = radius;
	}
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* Rounds run anticlockwise, clockwise for the left-handed (trade-tables 4). */
Test(rounds, anticlockwise_for_the_right_handed)
{
	tb_case c = read_disc();
	for (int left_handed = 0; left_handed < 2; left_handed++) {
		tb_chart *chart = chart_of(&c, left_handed == 1);
		tb_spot middle = middle_of(chart);
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, 3);
		double turned = 0, before = NAN;
		for (guint32 i = row->first; i < row->first + row->count; i++) {
			const tb_placed *p = &g_array_index(chart->placed, tb_placed, i);
			if (!(chart->fabric->made[p->made].flags & TB_MADE_COUNTED))
				continue;
			double angle = atan2(middle.y - p->top.y, p->top.x - middle.x);
			if (!isnan(before))
				turned += remainder(angle - before, 2 * G_PI);
			before = angle;
		}
		cr_assert_eq(turned > 0, left_handed == 0);
		cr_assert_gt(fabs(turned), 5);
		tb_chart_destroy(chart);
	}
	tb_case_finish(&c);
}

/* Twelve times the same part around: the sector that repeats is a twelfth. */
Test(rounds, the_repeated_sector_is_found)
{
	tb_case c = read_disc();
	tb_chart *chart = chart_of(&c, false);
	cr_assert_eq(chart->sector_times, 12);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

Test(rounds, no_two_tops_crowd)
{
	tb_case c = read_disc();
	tb_chart *chart = chart_of(&c, false);
	for (guint r = 1; r < chart->rows->len; r++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, r);
		for (guint32 i = row->first; i + 1 < row->first + row->count; i++) {
			const tb_placed *p = &g_array_index(chart->placed, tb_placed, i);
			const tb_placed *q = &g_array_index(chart->placed, tb_placed, i + 1);
			if (!(chart->fabric->made[q->made].flags & TB_MADE_COUNTED))
				continue;
			cr_assert_geq(hypot(p->top.x - q->top.x, p->top.y - q->top.y), 0.75 * chart->column);
		}
	}
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* Four corners of ch 2: the tops between two corners lie on one straight line, level or upright. */
Test(rounds, a_square_is_square)
{
	tb_case c = tb_case_rows("", "Ch 4, join with sl st to form a ring.",
		"Rnd 1: Ch 3 (counts as dc), 2 dc in ring, ch 2, [3 dc in ring, ch 2] 3 times, join with sl "
		"st in top of ch-3.\n"
		"Rnd 2: Ch 3 (counts as dc), dc in next 2 sts, (2 dc, ch 2, 2 dc) in next ch-2 sp, [dc in next "
		"3 sts, (2 dc, ch 2, 2 dc) in next ch-2 sp] 3 times, join with sl st in top of ch-3.");
	tb_chart *chart = chart_of(&c, false);
	cr_assert_eq(chart->sector_times, 4);
	tb_spot middle = middle_of(chart);
	const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, 2);
	double side = 0;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_placed *p = &g_array_index(chart->placed, tb_placed, i);
		const tb_made *made = &chart->fabric->made[p->made];
		if (!(made->flags & TB_MADE_COUNTED) || made->flags & TB_MADE_CHAIN)
			continue;
		double out = fmax(fabs(p->top.x - middle.x), fabs(p->top.y - middle.y));
		if (side == 0)
			side = out;
		cr_assert_float_eq(out, side, 0.1 * chart->column, "a top lies off its side");
	}
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* A stitch turned with its round stands on its base: its upright runs from foot to top. */
Test(rounds, stitches_stand_on_their_bases)
{
	tb_case c = read_disc();
	tb_chart *chart = chart_of(&c, false);
	unsigned seen = 0;
	for (guint i = 0; i < chart->placed->len; i++) {
		const tb_placed *p = &g_array_index(chart->placed, tb_placed, i);
		if (p->foot_count != 1 || g_strcmp0(tb_test_stitch(chart, p)->us, "dc") != 0)
			continue;
		const tb_spot *foot = &g_array_index(chart->feet, tb_spot, p->first_foot);
		double length = hypot(foot->x - p->top.x, foot->y - p->top.y);
		cr_assert_float_eq(p->top.x - foot->x, length * sin(p->angle), 1e-6);
		cr_assert_float_eq(foot->y - p->top.y, length * cos(p->angle), 1e-6);
		seen++;
	}
	cr_assert_eq(seen, 11 + 23 + 35);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* Where the stitch that was made as number MADE has its top. */
static tb_spot top_of(const tb_chart *chart, guint32 made)
{
	for (guint i = 0; i < chart->placed->len; i++) {
		const tb_placed *p = &g_array_index(chart->placed, tb_placed, i);
		if (p->made == made)
			return p->top;
	}
	cr_assert_fail("stitch %u is not placed", made);
	return (tb_spot){0, 0};
}

/* A stitch between two others has one foot, as near to the one as to the other: two are two together. */
Test(rounds, a_stitch_in_a_gap_stands_in_its_middle)
{
	tb_case c = tb_case_rows("", "Ch 4, join with sl st to form a ring.",
		"Rnd 1: Ch 3 (counts as dc), 11 dc in ring, join with sl st in top of ch-3. [12 dc]\n"
		"Rnd 2: Sl st in sp between next 2 dc, ch 3, dc in same sp, *2 dc in next sp; rep from * around, "
		"join with sl st in top of ch-3. [24 sts]");
	tb_chart *chart = chart_of(&c, false);
	unsigned seen = 0;
	for (guint i = 0; i < chart->placed->len; i++) {
		const tb_placed *p = &g_array_index(chart->placed, tb_placed, i);
		const tb_made *made = &chart->fabric->made[p->made];
		if (made->base_count != 2 || g_strcmp0(tb_test_stitch(chart, p)->us, "dc") != 0)
			continue;
		cr_assert_eq(p->foot_count, 1);
		const tb_spot *foot = &g_array_index(chart->feet, tb_spot, p->first_foot);
		tb_spot one = top_of(chart, tb_fabric_base(chart->fabric, made, 0));
		tb_spot other = top_of(chart, tb_fabric_base(chart->fabric, made, 1));
		double near = hypot(foot->x - one.x, foot->y - one.y);
		double far = hypot(foot->x - other.x, foot->y - other.y);
		cr_expect_float_eq(near, far, 0.12 * (near + far), "stitch %u: %g and %g", p->made, near, far);
		seen++;
	}
	cr_assert_eq(seen, 23);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* A joined chain worked chain by chain has no middle: its rounds lie flat over each other, stitch over stitch. */
static void check_upright(const char *rounds, unsigned tops)
{
	tb_case c = tb_case_rows("", "Ch 12, join with sl st in first ch to form a ring.", rounds);
	tb_chart *chart = chart_of(&c, false);
	unsigned seen = 0;
	cr_assert(tb_chart_is(chart, TB_LAY_TUBE));
	for (guint i = 0; i < chart->placed->len; i++) {
		const tb_placed *p = &g_array_index(chart->placed, tb_placed, i);
		const tb_made *made = &chart->fabric->made[p->made];
		if (made->row == 0 || made->base_count != 1 || !(made->flags & TB_MADE_COUNTED) || p->foot_count != 1)
			continue;
		const tb_spot *foot = &g_array_index(chart->feet, tb_spot, p->first_foot);
		cr_expect_float_eq(foot->x, p->top.x, 0.01 * chart->column, "stitch %u leans", p->made);
		seen++;
	}
	cr_assert_eq(seen, tops, "%u", seen);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

Test(rounds, a_tube_lies_flat)
{
	/* The motif is drawn once, and the columns at the edges. */
	check_upright("Rnd 1: Ch 1, sc in each ch around, join with sl st in first sc. [12 sc]\n"
		"Rnd 2: Ch 1, sc in each sc around, join with sl st in first sc. [12 sc]", 4);
	check_upright("Rnd 1: Ch 1, sc in each ch around, join with sl st in first sc, turn. [12 sc]\n"
		"Rnd 2: Ch 1, sc in each sc around, join with sl st in first sc, turn. [12 sc]", 6);
}
