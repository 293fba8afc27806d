/*
 * Grading: from a width and a gauge to stitches, chains and back to a width, against the worked
 * table of the trade tables, 6a, and its arithmetic of foundation chains, 3b.
 */
#include "counts.h"

#include "fabric/measure.h"

#include <math.h>

#define EXPECT_NEAR(a, b, ...) cr_expect(fabs((a) - (b)) < 0.005, __VA_ARGS__)

/*
 * Shells, 6n + 1, 16 sc to 4 in, half back = (bust + 4) / 2 (trade tables 6a, checked by script
 * there). W is what n = (raw - 1) / 6 rounded gives; in M, 2X and 5X that is a tie, n = 13.5, 17.5
 * and 21.5, and the table rounds half away from zero: half to even comes to the same, half down
 * gives 79, 103 and 127 and an error of -0.75 in.
 */
static const struct {
	const char *size;
	double bust_in;
	unsigned raw, stitches, chains;
	double error_in;
	bool tie;
} graded[] = {
	{"XS", 29, 66, 67, 68, 0.25, false},
	{"S", 33, 74, 73, 74, -0.25, false},
	{"M", 37, 82, 85, 86, 0.75, true},
	{"L", 41, 90, 91, 92, 0.25, false},
	{"XL", 45, 98, 97, 98, -0.25, false},
	{"2X", 49, 106, 109, 110, 0.75, true},
	{"3X", 53, 114, 115, 116, 0.25, false},
	{"4X", 57, 122, 121, 122, -0.25, false},
	{"5X", 61, 130, 133, 134, 0.75, true},
};

/* The back as a pattern, its chains and counts from the table, CHAIN more in the size numbered
 * ODD. */
static char *write_back(unsigned odd, unsigned chain)
{
	g_autoptr(GString) sizes = g_string_new(NULL), chains = g_string_new(NULL);
	g_autoptr(GString) counts = g_string_new(NULL);
	for (unsigned i = 0; i < G_N_ELEMENTS(graded); i++) {
		const char *part = i == 0 ? "" : i == 1 ? " (" : ", ";
		g_string_append_printf(sizes, "%s%s", part, graded[i].size);
		g_string_append_printf(chains, "%s%u", part, graded[i].chains + (i == odd ? chain : 0));
		g_string_append_printf(counts, "%s%u", part, graded[i].stitches);
	}
	return g_strdup_printf(
		"Title: Nine sizes\nSizes: %s)\nGauge: 16 sts and 20 rows = 4 in\n\nBACK\nCh %s).\n"
		"Row 1 (RS): Sc in 2nd ch from hook, *sk 2 ch, 5 dc in next ch, sk 2 ch, sc in next ch; "
		"rep from * across. [%s) sts]\n"
		"Row 2: Ch 3 (counts as dc), turn, 2 dc in first st, *sk 2 sts, sc in next st, sk 2 sts, 5 "
		"dc in next st; rep from * to last 6 sts, sk 2 sts, sc in next st, sk 2 sts, 3 dc in last "
		"st. [%s) sts]\n",
		sizes->str, chains->str, counts->str, counts->str);
}

Test(graded, nine_sizes_of_shells)
{
	g_autofree char *text = write_back(0, 0);
	tb_case c = tb_case_read("back.txt", text);
	expect_sound(&c);
	cr_assert_eq(tb_pattern_count_sizes(c.pattern), G_N_ELEMENTS(graded));
	for (unsigned i = 0; i < G_N_ELEMENTS(graded); i++) {
		const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, i);
		double half_in = (graded[i].bust_in + 4) / 2;
		cr_expect_eq(half_in * 4, graded[i].raw, "%s", graded[i].size);
		double repeats = (graded[i].raw - 1) / 6.0;
		cr_expect_eq(repeats - floor(repeats) == 0.5, graded[i].tie, "%s", graded[i].size);
		cr_expect_eq(6 * (unsigned)round(repeats) + 1, graded[i].stitches, "%s", graded[i].size);
		cr_expect_eq(graded[i].stitches + 1, graded[i].chains, "%s", graded[i].size);
		for (guint32 row = 1; row <= 2; row++)
			cr_expect_eq(count_row(&c, i, row), graded[i].stitches, "%s", graded[i].size);
		double width_in = fabric->width_mm / TB_MM_PER_INCH;
		EXPECT_NEAR(width_in, graded[i].stitches / 4.0, "%s: %g in", graded[i].size, width_in);
		EXPECT_NEAR(width_in - half_in, graded[i].error_in, "%s: %g in off", graded[i].size,
			width_in - half_in);
	}
	tb_case_finish(&c);
}

/* Rounded down, the ties come to one repeat less; that comes out as well, 0.75 in narrower. */
Test(graded, ties_rounded_down)
{
	static const unsigned down[] = {79, 103, 127};
	unsigned tie = 0;
	for (unsigned i = 0; i < G_N_ELEMENTS(graded); i++) {
		if (!graded[i].tie)
			continue;
		cr_expect_eq(6 * (unsigned)floor((graded[i].raw - 1) / 6.0) + 1, down[tie]);
		cr_expect_eq(down[tie] / 4.0 - (graded[i].bust_in + 4) / 2, -0.75);
		g_autofree char *start = g_strdup_printf("Ch %u.", down[tie] + 1);
		tb_case c = tb_case_rows("", start,
			"Row 1: Sc in 2nd ch from hook, *sk 2 ch, 5 dc in next ch, sk 2 ch, sc in next ch; rep "
			"from * across.");
		expect_sound(&c);
		cr_expect_eq(count_row(&c, 0, 1), down[tie]);
		tb_case_finish(&c);
		tie++;
	}
	cr_expect_eq(tie, G_N_ELEMENTS(down));
}

/* A stitch more or less in one size: that size alone is told, by name. */
Test(graded, one_size_off_names_that_size)
{
	g_autofree char *text = write_back(5, 1);
	tb_case c = tb_case_read("back.txt", text);
	const tb_diagnostic *fault = find_fault(&c, "repeat-leftover");
	cr_assert_not_null(fault);
	cr_expect_eq(fault->sizes, 1u << 5);
	for (unsigned i = 0; i < tb_diagnostics_count(c.diagnostics); i++)
		cr_expect_eq(tb_diagnostics_get(c.diagnostics, i)->sizes, 1u << 5);
	for (unsigned i = 0; i < G_N_ELEMENTS(graded); i++) {
		if (i != 5)
			cr_expect_eq(count_row(&c, i, 2), graded[i].stitches);
	}
	tb_case_finish(&c);
}

static void expect_foundation(unsigned chains, const char *row, unsigned stitches)
{
	g_autofree char *start = g_strdup_printf("Ch %u.", chains);
	tb_case c = tb_case_rows("", start, row);
	g_autofree char *faults = tb_case_faults(&c);
	cr_expect_eq(tb_diagnostics_count(c.diagnostics), 0, "%s %s\n%s", start, row, faults);
	cr_expect_eq(count_row(&c, 0, 1), stitches, "%s %s: %u, not %u", start, row,
		count_row(&c, 0, 1), stitches);
	tb_case_finish(&c);
}

/* Each convention of 3b, for W from 3 to 83: chains, and the first stitch's place, from W and the
 * height h of the turning chain. */
Test(graded, foundation_of_every_convention)
{
	for (unsigned w = 3; w < 90; w += 16) {
		/* not counted: W + h, in the (h + 1)th */
		expect_foundation(w + 1, "Row 1: Sc in 2nd ch from hook and in each ch across.", w);
		expect_foundation(w + 2,
			"Row 1: Hdc in 3rd ch from hook (skipped ch do not count as st) and in each ch across.",
			w);
		/* counted: W + h - 1, in the (h + 1)th */
		expect_foundation(w + 1,
			"Row 1: Hdc in 3rd ch from hook (2 skipped ch count as hdc) and in each ch across.", w);
		expect_foundation(w + 2, "Row 1: Dc in 4th ch from hook and in each ch across.", w);
		expect_foundation(w + 3, "Row 1: Tr in 5th ch from hook and in each ch across.", w);
		expect_foundation(w + 4, "Row 1: Dtr in 6th ch from hook and in each ch across.", w);
		/* counted, on a chain of its own (Japan): W + h, in the (h + 2)th */
		expect_foundation(w + 3, "Row 1: Dc in 5th ch from hook and in each ch across.", w);
		expect_foundation(w + 4, "Row 1: Tr in 6th ch from hook and in each ch across.", w);
		expect_foundation(w + 1,
			"Row 1: Sc in 3rd ch from hook (2 skipped ch count as sc) and in each ch across.", w);
	}
	for (unsigned k = 2; k < 20; k += 3) {
		/* filet: dc and ch 2 over 3k + 5, the 8th; dc and ch 1 over 2k + 4, the 6th */
		expect_foundation(3 * k + 5,
			"Row 1: Dc in 8th ch from hook, *ch 2, sk 2 ch, dc in next ch; rep from * across.",
			3 * k + 1);
		expect_foundation(2 * k + 4,
			"Row 1: Dc in 6th ch from hook, *ch 1, sk 1 ch, dc in next ch; rep from * across.",
			2 * k + 1);
	}
}

/* Cells of 6a on A4 with 10 mm margins, 190 x 277 mm: 29 x 54 of 6.35 x 5.08 mm; at twice the size
 * 14 x 27. */
Test(graded, cells_on_a_sheet)
{
	tb_gauge gauge = {
		.given = true, .stitches = 16, .rows = 20, .has_rows = true, .over_mm = 4 * TB_MM_PER_INCH};
	double heights[] = {1, 1};
	double wide = tb_measure_column_mm(&gauge), tall = tb_measure_chain_mm(&gauge, heights, 2);
	EXPECT_NEAR(wide, 6.35, "%g", wide);
	EXPECT_NEAR(tall, 5.08, "%g", tall);
	cr_expect_eq((unsigned)(190 / wide), 29);
	cr_expect_eq((unsigned)(277 / tall), 54);
	cr_expect_eq((unsigned)(190 / (2 * wide)), 14);
	cr_expect_eq((unsigned)(277 / (2 * tall)), 27);
}

/* Handbook examples of 6a: Needlecraft 1918, 100 stitches are 20 in, 76 are 15.2 and 60 are 12, at
 * 5 to the inch; Riego 1846, a chain of 500 (480) stitches for each yard, 13.9 (13.3) to the inch.
 * */
Test(graded, handbooks)
{
	tb_gauge gauge = {.given = true, .stitches = 5, .over_mm = TB_MM_PER_INCH};
	EXPECT_NEAR(100 * tb_measure_column_mm(&gauge) / TB_MM_PER_INCH, 20, "100 sts");
	EXPECT_NEAR(76 * tb_measure_column_mm(&gauge) / TB_MM_PER_INCH, 15.2, "76 sts");
	EXPECT_NEAR(60 * tb_measure_column_mm(&gauge) / TB_MM_PER_INCH, 12, "60 sts");
	static const double yard[][2] = {{500, 13.9}, {480, 13.3}};
	for (size_t i = 0; i < G_N_ELEMENTS(yard); i++) {
		gauge = (tb_gauge){.given = true, .stitches = yard[i][0], .over_mm = 36 * TB_MM_PER_INCH};
		double per_inch = TB_MM_PER_INCH / tb_measure_column_mm(&gauge);
		cr_expect(fabs(per_inch - yard[i][1]) < 0.05, "%g to the inch", per_inch);
	}
}
