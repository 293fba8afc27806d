/*
 * The places of a chart's stitches. Most stitches of a garment stand in runs, each a column on from
 * the one before and over a base a stitch on: a run is its first stitch and one list that says how
 * many follow and by how much each is on. Seven sizes that share no chart come to a page of a few
 * hundred kilobytes that way, and not of megabytes.
 *
 * A stitch is a list of numbers: kind, column, x, y, angle, height, flags, chains, rows below, the
 * stitch left behind, then its bases and its feet, which are lists of their own in the page.
 */
#include "output/page.h"

#include <math.h>

enum { KIND, COLUMN, X, Y, ANGLE, HEIGHT, FLAGS, CHAINS, ROWS_BELOW, BEHIND, FIRST_BASE };

/* What may differ along a run; of the bases and feet, all by the same. */
static bool moves(guint field)
{
	return field == COLUMN || field == X || field == Y || field == BEHIND || field >= FIRST_BASE;
}

/* As good as on the spot, mm. */
#define NEAR 0.006
#define LEAST_RUN 2

typedef struct {
	double *numbers;
	guint count, bases;
} flat;

static double number_of(GHashTable *by_made, guint32 made)
{
	gpointer at = g_hash_table_lookup(by_made, GUINT_TO_POINTER(made));
	return at != NULL ? GPOINTER_TO_UINT(at) - 1.0 : -1;
}

static flat flatten(const tb_page *page, const tb_chart *chart, const tb_placed *placed,
	GHashTable *by_made)
{
	const tb_made *made = &chart->fabric->made[placed->made];
	guint bases = made->base_count, count = FIRST_BASE + bases + 2u * placed->foot_count;
	flat f = {g_new(double, count), count, bases};
	const tb_library *library = tb_worked_pattern(page->worked)->library;
	guint kind = 0;
	g_ptr_array_find(page->stitches, tb_library_get(library, made->stitch), &kind);
	const double first[FIRST_BASE] = {kind, placed->column, placed->top.x, placed->top.y,
		placed->angle, placed->height, made->flags, made->chains, made->rows_below,
		made->behind != TB_NONE ? number_of(by_made, made->behind) : -1};
	for (guint i = 0; i < FIRST_BASE; i++)
		f.numbers[i] = first[i];
	for (guint i = 0; i < bases; i++)
		f.numbers[FIRST_BASE + i] = number_of(by_made, tb_fabric_base(chart->fabric, made, i));
	for (guint i = 0; i < placed->foot_count; i++) {
		const tb_spot *foot = &g_array_index(chart->feet, tb_spot, placed->first_foot + i);
		f.numbers[FIRST_BASE + bases + 2 * i] = foot->x;
		f.numbers[FIRST_BASE + bases + 2 * i + 1] = foot->y;
	}
	return f;
}

/* How much STITCH is on from BEFORE, field by field; false when it cannot follow it in a run. */
static bool find_step(const flat *before, const flat *stitch, double *step)
{
	if (before->count != stitch->count || before->bases != stitch->bases)
		return false;
	for (guint i = 0; i < stitch->count; i++) {
		step[i] = stitch->numbers[i] - before->numbers[i];
		if (!moves(i) && fabs(step[i]) > NEAR)
			return false;
		/* No number: nothing to count on from. */
		if (i >= BEHIND && i < FIRST_BASE + stitch->bases &&
			(before->numbers[i] < 0) != (stitch->numbers[i] < 0))
			return false;
	}
	guint feet = FIRST_BASE + stitch->bases;
	for (guint i = FIRST_BASE + 1; i < feet; i++)
		if (step[i] != step[FIRST_BASE])
			return false;
	for (guint i = feet + 2; i < stitch->count; i++)
		if (fabs(step[i] - step[i - 2]) > NEAR)
			return false;
	return true;
}

/* How many stitches behind FIRST go on by the same step, before END. */
static guint find_run(const flat *all, guint first, guint end, double *step)
{
	if (first + 1 >= end || !find_step(&all[first], &all[first + 1], step))
		return 0;
	guint run = 1;
	while (first + run + 1 < end) {
		const flat *next = &all[first + run + 1];
		bool good = next->count == all[first].count && next->bases == all[first].bases;
		for (guint i = 0; good && i < next->count; i++)
			good = fabs(next->numbers[i] - all[first].numbers[i] - (run + 1) * step[i]) < NEAR;
		if (!good)
			break;
		run++;
	}
	return run;
}

static void put_stitch(GString *out, const flat *f)
{
	g_string_append_c(out, '[');
	for (guint i = 0; i < f->count; i++) {
		g_string_append(out, i == FIRST_BASE && f->bases > 0 ? ",[" :
			i == FIRST_BASE + f->bases ? (f->bases > 0 ? "],[" : ",[],[") : i > 0 ? "," : "");
		tb_page_put_number(out, f->numbers[i]);
	}
	if (f->count == FIRST_BASE + f->bases)
		g_string_append(out, f->bases > 0 ? "],[" : ",[],[");
	g_string_append(out, "]]");
}

/* {"on":[how many, column, x, y, behind, base, foot's x, foot's y]} */
static void put_run(GString *out, const flat *f, guint run, const double *step)
{
	guint feet = FIRST_BASE + f->bases;
	const double by[] = {step[COLUMN], step[X], step[Y], step[BEHIND],
		f->bases > 0 ? step[FIRST_BASE] : 0, feet < f->count ? step[feet] : 0, feet < f->count ? step[feet + 1] : 0};
	g_string_append_printf(out, ",{\"on\":[%u", run);
	for (gsize i = 0; i < G_N_ELEMENTS(by); i++) {
		char buffer[G_ASCII_DTOSTR_BUF_SIZE];
		double rounded = round(by[i] * 1e4) / 1e4;
		g_string_append_c(out, ',');
		g_string_append(out, g_ascii_formatd(buffer, sizeof buffer, "%.10g", rounded == 0 ? 0 : rounded));
	}
	g_string_append(out, "]}");
}

void tb_page_put_places(GString *out, const tb_page *page, const tb_chart *chart)
{
	guint count = chart->placed->len;
	g_autoptr(GHashTable) by_made = g_hash_table_new(NULL, NULL);
	for (guint i = 0; i < count; i++)
		g_hash_table_insert(by_made,
			GUINT_TO_POINTER(g_array_index(chart->placed, tb_placed, i).made), GUINT_TO_POINTER(i + 1));
	g_autofree flat *all = g_new(flat, count + 1);
	guint most = 0;
	for (guint i = 0; i < count; i++) {
		all[i] = flatten(page, chart, &g_array_index(chart->placed, tb_placed, i), by_made);
		most = MAX(most, all[i].count);
	}
	g_autofree double *step = g_new0(double, most + 1);
	for (guint i = 0; i < count; i++) {
		guint run = find_run(all, i, count, step);
		g_string_append(out, i > 0 ? ",\n" : "\n");
		put_stitch(out, &all[i]);
		if (run >= LEAST_RUN) {
			put_run(out, &all[i], run, step);
			i += run;
		}
	}
	for (guint i = 0; i < count; i++)
		g_free(all[i].numbers);
}
