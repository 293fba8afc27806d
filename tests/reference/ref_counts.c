/* Counts, against books and arithmetic; each check names its source. */
#include "counts.h"

#include <criterion/criterion.h>

static void expect_rows(const char *start, const char *rows, guint32 row, guint32 count)
{
	tb_case c = tb_case_rows("", start, rows);
	g_autofree char *faults = tb_case_faults(&c);
	cr_expect_eq(tb_diagnostics_count_errors(c.diagnostics), 0, "%s", faults);
	cr_expect_eq(
		count_row(&c, 0, row), count, "%s: %u, not %u", start, count_row(&c, 0, row), count);
	tb_case_finish(&c);
}

/* First dc in the 4th ch: n chains give n - 3 dc, n - 2 stitches; first sc in the 2nd: n - 1
 * (common practice). */
Test(counts, chains_to_stitches)
{
	for (unsigned n = 5; n < 200; n += 13) {
		g_autofree char *start = g_strdup_printf("Ch %u.", n);
		expect_rows(start, "Row 1: Dc in 4th ch from hook and in each ch across.", 1, n - 2);
		expect_rows(start, "Row 1: Sc in 2nd ch from hook and in each ch across.", 1, n - 1);
		expect_rows(start, "Row 1: Tr in 5th ch from hook and in each ch across.", 1, n - 3);
	}
}

/* Ch 72, dc in 4th, dc in each remaining: 69 dc [SR, first rug]. */
Test(counts, first_rug)
{
	tb_case c =
		tb_case_rows("", "Ch 72.", "Row 1: Dc in 4th ch from hook and in each ch across. [69 dc]");
	cr_expect_eq(tb_diagnostics_count(c.diagnostics), 0);
	cr_expect_eq(count_kind(&c, 0, 1, "dc"), 69);
	cr_expect_eq(count_row(&c, 0, 1), 70);
	tb_case_finish(&c);
}

/* W stitches from W + h chains, not counted; W + h - 1, counted; W + h with a chain of its own,
 * first stitch in the (h + 2)th, as in Japan (trade tables 3b): W = 20. */
Test(counts, foundation_for_twenty)
{
	expect_rows("Ch 21.", "Row 1: Sc in 2nd ch from hook and in each ch across.", 1, 20);
	expect_rows("Ch 22.", "Row 1: Dc in 4th ch from hook and in each ch across.", 1, 20);
	expect_rows("Ch 23.", "Row 1: Tr in 5th ch from hook and in each ch across.", 1, 20);
	expect_rows("Ch 24.", "Row 1: Dtr in 6th ch from hook and in each ch across.", 1, 20);
	expect_rows("Ch 23.", "Row 1: Dc in 5th ch from hook and in each ch across.", 1, 20);
	expect_rows("Ch 22.",
		"Row 1: Hdc in 3rd ch from hook (2 skipped ch do not count as st) and in each ch across.",
		1, 20);
}

/* Filet: dc and ch 2 over 3k + 5 chains, first dc in the 8th, 3k + 1 wide; dc and ch 1 over 2k + 4,
 * the 6th, 2k + 1 wide (trade tables 3b): k = 6 and k = 9. */
Test(counts, filet)
{
	expect_rows("Ch 23.",
		"Row 1: Dc in 8th ch from hook, *ch 2, sk next 2 ch, dc in next ch; rep from * across.", 1,
		19);
	expect_rows("Ch 22.",
		"Row 1: Dc in 6th ch from hook, *ch 1, sk next ch, dc in next ch; rep from * across.", 1,
		19);
}

/* Moss stitch, multiple of 2 + 1 (add 1): 2k + 2 chains, 2k + 1 wide (trade tables 5, no. 5). */
Test(counts, moss)
{
	static const unsigned times[] = {2, 3, 5};
	for (size_t i = 0; i < G_N_ELEMENTS(times); i++) {
		g_autofree char *start = g_strdup_printf("Ch %u.", 2 * times[i] + 2);
		static const char rows[] =
			"Row 1: Sc in 2nd ch from hook, *ch 1, sk next ch, sc in next ch; rep from * across.\n"
			"Row 2: Ch 1, turn, sc in first sc, sc in next ch-1 sp, *ch 1, sk next sc, "
			"sc in next ch-1 sp; rep from * to last st, sc in last st.\n"
			"Row 3: Ch 1, turn, sc in first sc, *ch 1, sk next sc, sc in next ch-1 sp; rep from * "
			"to "
			"last 2 sts, ch 1, sk next st, sc in last st.\n"
			"Rows 4-7: Rep Rows 2-3.";
		for (guint32 row = 1; row <= 7; row++) {
			expect_rows(start, rows, row, 2 * times[i] + 1);
		}
	}
}

/* V-stitch, multiple of 3 + 2 (add 2): 3k + 4 chains, every row 3k + 2 (trade tables 5, no. 9). */
Test(counts, v_stitch)
{
	for (unsigned k = 2; k <= 5; k++) {
		g_autofree char *start = g_strdup_printf("Ch %u.", 3 * k + 4);
		static const char rows[] =
			"Row 1: (Dc, ch 1, dc) in 5th ch from hook, *sk 2 ch, (dc, ch 1, dc) in next ch; rep "
			"from "
			"* to last 2 ch, sk 1 ch, dc in last ch.\n"
			"Row 2: Ch 3, turn, (dc, ch 1, dc) in each ch-1 sp across, dc in top of tch.";
		expect_rows(start, rows, 1, 3 * k + 2);
		expect_rows(start, rows, 2, 3 * k + 2);
	}
}

/* Shells on sc, multiple of 6 + 1 (add 1): 6k + 2 chains, 6k + 1 wide (trade tables 5, no. 11);
 * 6k + 3 chains do not come out (the failure named there). */
Test(counts, shells)
{
	static const char row[] = "Row 1: Sc in 2nd ch from hook, *sk 2 ch, 5 dc in next ch, sk 2 ch, "
							  "sc in next ch; rep from * "
							  "across.";
	for (unsigned k = 1; k <= 5; k++) {
		g_autofree char *start = g_strdup_printf("Ch %u.", 6 * k + 2);
		expect_rows(start, row, 1, 6 * k + 1);
		g_autofree char *wrong = g_strdup_printf("Ch %u.", 6 * k + 3);
		tb_case c = tb_case_rows("", wrong, row);
		cr_expect_not_null(find_fault(&c, "repeat-leftover"));
		tb_case_finish(&c);
	}
}

/* Flat disc in dc: 12, 24, 36, 48 (common practice). */
Test(counts, flat_disc)
{
	tb_case c = tb_case_rows("", "Ch 4, join with sl st to form a ring.",
		"Rnd 1: Ch 3 (counts as dc), 11 dc in ring, join with sl st in top of ch-3. [12 dc]\n"
		"Rnd 2: Ch 3, dc in same st, 2 dc in each st around, join with sl st in top of ch-3. [24 "
		"dc]\n"
		"Rnd 3: Ch 3, 2 dc in next st, *dc in next st, 2 dc in next st; rep from * around, join "
		"with "
		"sl st in top of ch-3. [36 dc]\n"
		"Rnd 4: Ch 3, dc in next st, 2 dc in next st, *dc in next 2 sts, 2 dc in next st; rep from "
		"* "
		"around, join with sl st in top of ch-3. [48 dc]");
	g_autofree char *faults = tb_case_faults(&c);
	cr_expect_eq(tb_diagnostics_count(c.diagnostics), 0, "%s", faults);
	for (guint32 round = 1; round <= 4; round++)
		cr_expect_eq(count_row(&c, 0, round), 12 * round);
	tb_case_finish(&c);
}

/* "Rep from * N times" is N times more, plus the first [SF]; 8 sc in a ring, then ch 3 with dc and
 * * ch 3, cluster in next sc, repeat 6 times: 1 + 1 + 6 = 8 [SD]. */
Test(counts, repeat_is_so_many_more)
{
	tb_case c = tb_case_read("doily.json",
		"{\"format\":1,\"title\":\"T\",\"stitches\":[{\"us\":\"CL\",\"us_name\":\"doily cluster\","
		"\"height\":3,\"moves\":\"yo, insert, draw up, through 2, yo, insert, draw up, through 2, "
		"through 3\",\"symbol\":{\"form\":\"stem\",\"legs\":2,\"bars\":1,\"meet\":\"both\","
		"\"post\":\"none\"}}],\"pieces\":[{\"name\":\"Doily\","
		"\"start\":\"Ch 5, join with sl st to form a ring.\",\"rows\":["
		"\"Rnd 1: Ch 1, 8 sc in ring, join with sl st in first sc.\","
		"\"Rnd 2: Ch 3, dc in same st, *ch 3, CL in next sc; rep from * 6 times, ch 3, join with "
		"sl st "
		"in top of ch-3.\"]}]}");
	g_autofree char *faults = tb_case_faults(&c);
	cr_assert_not_null(c.worked, "%s", faults);
	cr_expect_eq(tb_diagnostics_count(c.diagnostics), 0, "%s", faults);
	/* the ch 3 with its dc is the first of the eight */
	cr_expect_eq(count_row(&c, 0, 1), 8);
	cr_expect_eq(count_kind(&c, 0, 2, "dc"), 1);
	cr_expect_eq(count_kind(&c, 0, 2, "CL"), 7);
	tb_case_finish(&c);
	c = tb_case_rows("", "Ch 9.",
		"Row 1: Sc in 2nd ch from hook and in each ch across.\n"
		"Row 2: Ch 1, turn, sc in next st, *ch 3, sc in next st; rep from * 6 times.");
	cr_expect_eq(tb_diagnostics_count(c.diagnostics), 0);
	cr_expect_eq(count_kind(&c, 0, 2, "sc"), 8);
	tb_case_finish(&c);
}

/* Sizes: the first outside the brackets, the others inside, in order; ch 52 (56, 60) [RY]. */
Test(counts, sizes_in_order)
{
	tb_case c = tb_case_rows("Small,Medium,Large", "Ch 52 (56, 60).",
		"Row 1: Dc in 4th ch from hook and in each ch across.");
	cr_expect_eq(count_row(&c, 0, 1), 50);
	cr_expect_eq(count_row(&c, 1, 1), 54);
	cr_expect_eq(count_row(&c, 2, 1), 58);
	tb_case_finish(&c);
}
