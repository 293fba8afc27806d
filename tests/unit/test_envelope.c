/* The solver that lays cloth down, against plain elimination; and the arcs that chains lie on. */
#include "layout/arc.h"
#include "layout/envelope.h"

#include <criterion/criterion.h>
#include <math.h>

#define MOST 48

/* One symmetric system, kept whole. */
typedef struct {
	guint32 count;
	double a[MOST][MOST];
	double right[MOST][2];
} dense;

/* Sparse and positive definite: every diagonal outweighs what stands beside it. */
static void fill(dense *d, GRand *dice, guint32 count, guint32 last, tb_envelope *envelope)
{
	*d = (dense){.count = count};
	for (guint32 i = 0; i < count; i++) {
		for (unsigned k = 0; k < 3; k++) {
			guint32 j = (guint32)g_rand_int_range(dice, 0, (gint32)count);
			double value = g_rand_double_range(dice, -1, 1);
			if (j == i)
				continue;
			d->a[i][j] += value;
			d->a[j][i] += value;
			tb_envelope_add(envelope, i, j, value);
		}
		if (last != G_MAXUINT32 && i != last) {
			d->a[i][last] += 0.2;
			d->a[last][i] += 0.2;
			tb_envelope_add(envelope, i, last, 0.2);
		}
		d->right[i][0] = g_rand_double_range(dice, -5, 5);
		d->right[i][1] = g_rand_double_range(dice, -5, 5);
	}
	for (guint32 i = 0; i < count; i++) {
		double beside = 0.5;
		for (guint32 j = 0; j < count; j++)
			beside += fabs(d->a[i][j]);
		d->a[i][i] += beside;
		tb_envelope_add(envelope, i, i, beside);
	}
}

/* Gauss's elimination with the largest pivot; unknown HELD, if any, has the value given. */
static void solve_plainly(const dense *given, guint32 held, double value, unsigned side, double *x)
{
	dense d = *given;
	for (guint32 j = 0; held != G_MAXUINT32 && j < d.count; j++) {
		d.right[j][side] -= d.a[j][held] * value;
		d.a[j][held] = d.a[held][j] = 0;
	}
	if (held != G_MAXUINT32) {
		d.a[held][held] = 1;
		d.right[held][side] = value;
	}
	for (guint32 k = 0; k < d.count; k++) {
		guint32 pivot = k;
		for (guint32 i = k + 1; i < d.count; i++)
			if (fabs(d.a[i][k]) > fabs(d.a[pivot][k]))
				pivot = i;
		for (guint32 j = 0; j < d.count; j++) {
			double keep = d.a[k][j];
			d.a[k][j] = d.a[pivot][j];
			d.a[pivot][j] = keep;
		}
		double keep = d.right[k][side];
		d.right[k][side] = d.right[pivot][side];
		d.right[pivot][side] = keep;
		for (guint32 i = k + 1; i < d.count; i++) {
			double part = d.a[i][k] / d.a[k][k];
			for (guint32 j = k; j < d.count; j++)
				d.a[i][j] -= part * d.a[k][j];
			d.right[i][side] -= part * d.right[k][side];
		}
	}
	for (guint32 k = d.count; k-- > 0;) {
		x[k] = d.right[k][side];
		for (guint32 j = k + 1; j < d.count; j++)
			x[k] -= d.a[k][j] * x[j];
		x[k] /= d.a[k][k];
	}
}

Test(envelope, solves_what_elimination_solves)
{
	GRand *dice = g_rand_new_with_seed(11);
	for (unsigned round = 0; round < 40; round++) {
		guint32 count = 1 + (guint32)g_rand_int_range(dice, 0, MOST);
		tb_envelope *envelope = tb_envelope_new(count, G_MAXUINT32);
		dense d;
		fill(&d, dice, count, G_MAXUINT32, envelope);
		cr_assert(tb_envelope_factor(envelope));
		double x[MOST * 2], plain[MOST];
		for (guint32 i = 0; i < count; i++) {
			x[2 * i] = d.right[i][0];
			x[2 * i + 1] = d.right[i][1];
		}
		tb_envelope_solve(envelope, x, 2, -INFINITY, INFINITY);
		for (unsigned side = 0; side < 2; side++) {
			solve_plainly(&d, G_MAXUINT32, 0, side, plain);
			for (guint32 i = 0; i < count; i++)
				cr_assert_float_eq(x[2 * i + side], plain[i], 1e-9, "system %u, unknown %u", round, i);
		}
		tb_envelope_free(envelope);
	}
	g_rand_free(dice);
}

/* The last unknown stays within its bounds, and the others are what they must be beside it. */
Test(envelope, keeps_the_last_unknown_within_its_bounds)
{
	GRand *dice = g_rand_new_with_seed(12);
	unsigned at_bounds = 0;
	for (unsigned round = 0; round < 40; round++) {
		guint32 count = 2 + (guint32)g_rand_int_range(dice, 0, MOST - 1), last = (guint32)g_rand_int_range(dice, 0, (gint32)count);
		tb_envelope *envelope = tb_envelope_new(count, last);
		dense d;
		fill(&d, dice, count, last, envelope);
		cr_assert(tb_envelope_factor(envelope));
		double x[MOST], plain[MOST], low = -0.05, high = 0.05;
		for (guint32 i = 0; i < count; i++)
			x[i] = d.right[i][0];
		tb_envelope_solve(envelope, x, 1, low, high);
		solve_plainly(&d, G_MAXUINT32, 0, 0, plain);
		double held = CLAMP(plain[last], low, high);
		at_bounds += held != plain[last];
		solve_plainly(&d, last, held, 0, plain);
		for (guint32 i = 0; i < count; i++)
			cr_assert_float_eq(x[i], plain[i], 1e-9, "system %u, unknown %u of %u", round, i, count);
		tb_envelope_free(envelope);
	}
	cr_assert_gt(at_bounds, 5);
	g_rand_free(dice);
}

/* Three that pull each other apart: nothing is the least. */
Test(envelope, refuses_what_has_no_least)
{
	tb_envelope *envelope = tb_envelope_new(3, G_MAXUINT32);
	for (guint32 i = 0; i < 3; i++)
		tb_envelope_add(envelope, i, i, 1);
	tb_envelope_add(envelope, 0, 1, 2);
	cr_assert_not(tb_envelope_factor(envelope));
	tb_envelope_free(envelope);
}

/* ---- arcs ---- */

/* A run of CHAINS between two heads WAY apart, of a row worked to the right whose out is up. */
static tb_arc arc_over(double way, guint32 chains)
{
	static double complex z[2];
	z[0] = 0;
	z[1] = way;
	tb_weave w = {.z = z};
	tb_weave_node nodes[2] = {{.row = 0, .next = 0, .before = TB_NONE}, {.row = 0, .next = TB_NONE, .before = 0}};
	tb_weave_run run = {.row = 0, .before = 0, .after = 1, .count = chains};
	tb_weave_edge edge = {.from = 0, .to = 1, .run = 0, .chains = chains};
	tb_weave_row row = {.first = 0, .count = 2, .sign = 1};
	w.nodes = g_array_new(FALSE, FALSE, sizeof(tb_weave_node));
	w.runs = g_array_new(FALSE, FALSE, sizeof(tb_weave_run));
	w.edges = g_array_new(FALSE, FALSE, sizeof(tb_weave_edge));
	w.rows = g_array_new(FALSE, FALSE, sizeof(tb_weave_row));
	g_array_append_vals(w.nodes, nodes, 2);
	g_array_append_val(w.runs, run);
	g_array_append_val(w.edges, edge);
	g_array_append_val(w.rows, row);
	tb_arc arc = tb_arc_of_run(&w, 0);
	g_array_unref(w.nodes);
	g_array_unref(w.runs);
	g_array_unref(w.edges);
	g_array_unref(w.rows);
	return arc;
}

/* As long as its chains, but longer than its way and never pressed to less than it can be; its almonds evenly spaced. */
Test(arc, is_as_long_as_its_chains_and_evenly_spaced)
{
	for (guint32 chains = 1; chains <= 12; chains++) {
		for (double way = 0.8; way < 8; way += 0.3) {
			tb_arc arc = arc_over(way, chains);
			double complex direction, begin = tb_arc_at(&arc, 0, &direction), end = tb_arc_at(&arc, 1, NULL);
			cr_assert_float_eq(cabs(begin - arc.from), 0, 1e-6);
			cr_assert_float_eq(cabs(end - arc.to), 0, 1e-6);
			/* between the heads, and out of them */
			cr_assert_gt(creal(begin), 0);
			cr_assert_lt(creal(end), way);
			cr_assert_geq(cimag(begin), 0);
			double chord = cabs(end - begin), length = 0, step = 0;
			double complex before = begin;
			for (unsigned i = 1; i <= 400; i++) {
				double complex at = tb_arc_at(&arc, i / 400.0, &direction);
				double here = cabs(at - before);
				cr_assert_float_eq(cabs(direction), 1, 1e-9);
				if (i > 1)
					cr_assert_float_eq(here, step, 1e-9, "the almonds lie unevenly");
				/* it goes the way it says, and rises out of its row */
				cr_assert_gt(creal((at - before) * conj(direction)), 0);
				cr_assert_geq(cimag(at), cimag(begin) - 1e-9);
				step = here;
				length += here;
				before = at;
			}
			cr_assert_float_eq(length, arc.length, 1e-4 * arc.length);
			double asked = fmax(fmin(0.62 * chains, 1.2 * chord + 0.25), fmax(0.44 * chains, chord * (chains > 1 ? 1.05 : 1)));
			/* nothing is bent to more than nearly a circle */
			if (arc.half < 0.92 * G_PI)
				cr_assert_float_eq(length, asked, 0.003 * asked, "%u chains over %.1f", chains, way);
		}
	}
}
