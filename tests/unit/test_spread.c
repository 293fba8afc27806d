#include "layout/spread.h"

#include <criterion/criterion.h>
#include <math.h>

/* Spreads with one spacing for all. */
static void spread_evenly(double *at, guint32 count, double spacing)
{
	g_autofree double *gaps = g_new(double, count + 1);
	for (guint32 i = 0; i < count; i++)
		gaps[i] = spacing;
	tb_spread(at, gaps, count);
}

Test(spread, a_grid_stays_exact)
{
	double at[] = {0, 1, 2, 3, 4, 5, 6, 7};
	spread_evenly(at, 8, 1);
	for (int i = 0; i < 8; i++)
		cr_assert(at[i] == i, "stitch %d moved to %.17g", i, at[i]);
}

Test(spread, five_in_one_stitch_make_a_true_fan)
{
	double at[] = {0, 3, 3, 3, 3, 3, 6};
	const double fan[] = {0, 1, 2, 3, 4, 5, 6};
	spread_evenly(at, 7, 1);
	for (int i = 0; i < 7; i++)
		cr_assert_float_eq(at[i], fan[i], 1e-12, "stitch %d stands at %g", i, at[i]);
}

/*
 * The least-squares positions are the only ones where every block that touches stands at the mean
 * of what its stitches wanted (the conditions of Karush, Kuhn and Tucker for isotonic regression).
 */
Test(spread, blocks_stand_at_the_mean_of_what_they_wanted)
{
	enum { COUNT = 200 };
	double wanted[COUNT], at[COUNT];
	guint32 seed = 7;
	for (int i = 0; i < COUNT; i++) {
		seed = seed * 1664525u + 1013904223u;
		wanted[i] = at[i] = i * 0.8 + (seed >> 8) / 4194304.0;
	}
	spread_evenly(at, COUNT, 1);
	for (int first = 0; first < COUNT;) {
		int last = first;
		double residual = wanted[first] - at[first], least = residual;
		while (last + 1 < COUNT && at[last + 1] - at[last] < 1 + 1e-9) {
			last++;
			residual += wanted[last] - at[last];
			least = fmin(least, residual);
		}
		cr_assert_float_eq(residual, 0, 1e-8, "block %d-%d", first, last);
		/* No first part of a block would rather stand further back by itself. */
		cr_assert_geq(least, -1e-8, "block %d-%d could come apart", first, last);
		if (last + 1 < COUNT)
			cr_assert_geq(at[last + 1] - at[last], 1 - 1e-9);
		first = last + 1;
	}
}

Test(spread, a_symmetric_row_stays_symmetric)
{
	double at[] = {0, 0.4, 0.4, 3, 5.6, 5.6, 6};
	spread_evenly(at, 7, 1);
	for (int i = 0; i < 7; i++)
		cr_assert_float_eq(at[i] + at[6 - i], 6, 1e-12);
}

Test(spread, nothing_is_nothing)
{
	tb_spread(NULL, NULL, 0);
	double one[] = {4.5};
	spread_evenly(one, 1, 1);
	cr_assert(one[0] == 4.5);
}

Test(spread, wider_things_keep_wider_apart)
{
	double at[] = {5, 5, 5};
	const double gaps[] = {1, 3};
	tb_spread(at, gaps, 3);
	cr_assert_float_eq(at[1] - at[0], 1, 1e-12);
	cr_assert_float_eq(at[2] - at[1], 3, 1e-12);
	cr_assert_float_eq(at[0] + at[1] + at[2], 15, 1e-12);
}
