/*
 * Multiples that do not come out: the failure cases named below the table of section 5 of the trade
 * tables, each made on purpose in a pattern that is otherwise right.
 */
#include "counts.h"

static const char shells[] = "Row 1: Sc in 2nd ch from hook, *sk next 2 ch, 5 dc in next ch, sk "
							 "next 2 ch, sc in next ch; rep from * across.";

static void expect_message(tb_case *c, const char *code, unsigned row, const char *message)
{
	g_autofree char *faults = tb_case_faults(c);
	const tb_diagnostic *fault = find_fault(c, code);
	cr_assert_not_null(fault, "no %s in: %s", code, faults);
	cr_expect_eq(fault->row, row, "%s", faults);
	cr_expect_str_eq(fault->message, message);
	cr_expect_eq(tb_diagnostics_count(c->diagnostics), 1, "told once: %s", faults);
}

/* Wrong remainder: shells want 6k + 2 chains; one to five more leave so many over (arithmetic). */
Test(failures, wrong_remainder)
{
	for (unsigned k = 2; k <= 5; k++) {
		for (unsigned off = 1; off < 6; off++) {
			g_autofree char *start = g_strdup_printf("Ch %u.", 6 * k + 2 + off);
			g_autofree char *message = g_strdup_printf(
				"the repeat of 6 sts leaves %u st%s over", off, off == 1 ? "" : "s");
			tb_case c = tb_case_rows("", start, shells);
			expect_message(&c, "repeat-leftover", 1, message);
			/* the nearest chains that come out are named */
			const tb_diagnostic *fault = find_fault(&c, "repeat-leftover");
			g_autofree char *chains =
				g_strdup_printf("Start with %u or %u ch", 6 * k + 2, 6 * k + 8);
			cr_expect_not_null(strstr(fault->hint, chains), "%s", fault->hint);
			tb_case_finish(&c);
		}
	}
}

/* The turning chain counts as the first dc, and a dc is worked into the same stitch all the same:
 * one more in every row (trade tables 3a: counted, so the first stitch below is skipped). */
Test(failures, turning_chain_counted_twice)
{
	tb_case c = tb_case_rows("", "Ch 22.",
		"Row 1: Dc in 4th ch from hook and in each ch across. [20 sts]\n"
		"Row 2: Ch 3 (counts as dc), turn, dc in first st, dc in each st across. [20 sts]");
	expect_message(&c, "count-claimed", 2, "counts 21, the pattern says 20");
	tb_case_finish(&c);
}

/* Not counted, and the first stitch skipped all the same: one fewer. */
Test(failures, turning_chain_not_counted_and_skipped)
{
	tb_case c = tb_case_rows("", "Ch 21.",
		"Row 1: Sc in 2nd ch from hook and in each ch across. [20 sts]\n"
		"Row 2: Ch 1 (does not count as st), turn, sk first st, sc in each st across. [20 sts]");
	expect_message(&c, "count-claimed", 2, "counts 19, the pattern says 20");
	tb_case_finish(&c);
}

/* The last repeat overruns the row: k repeats are there, k + 1 are asked for. */
Test(failures, last_repeat_overruns)
{
	for (unsigned k = 2; k <= 5; k++) {
		g_autofree char *start = g_strdup_printf("Ch %u.", 6 * k + 2);
		g_autofree char *row = g_strdup_printf(
			"Row 1: Sc in 2nd ch from hook, [sk next 2 ch, 5 dc in next ch, sk next 2 ch, sc in "
			"next ch] %u times.",
			k + 1);
		tb_case c = tb_case_rows("", start, row);
		cr_expect_eq(expect_fault(&c, "past-end"), 1);
		tb_case_finish(&c);
	}
}

/* 2 dc in the last stitch left out of the ridged chevron: a stitch fewer in every row (table 5, row
 * 19). */
Test(failures, chevron_without_its_last_increase)
{
	tb_case c = tb_case_rows("", "Ch 39.",
		"Row 1: Dc in 4th ch from hook, *dc in next 3 ch, [dc2tog over next 2 ch] twice, dc in "
		"next 3 ch, 2 dc in next ch**, 2 dc in next ch; rep from * to end, ending last rep at **. "
		"[36 sts]\n"
		"Row 2: Ch 3, turn, dc in first st, *dc in next 3 sts, [dc2tog] twice, dc in next 3 sts, "
		"[2 dc in next st] twice; rep from * to last 11 sts, dc in next 3 sts, [dc2tog] twice, dc "
		"in next 3 sts, dc in last st. [36 sts]");
	expect_message(&c, "count-claimed", 2, "counts 35, the pattern says 36");
	tb_case_finish(&c);
}

/* Increases and decreases out of balance in one size alone: that size is named, no other. */
Test(failures, imbalance_in_one_size)
{
	tb_case c = tb_case_rows("S,M,L", "Ch 27 (39, 51).",
		"Row 1: Dc in 4th ch from hook, *dc in next 3 ch, [dc2tog over next 2 ch] twice, dc in "
		"next 3 ch, 2 dc in next ch**, 2 dc in next ch; rep from * to end, ending last rep at **. "
		"[24 (36, 48) sts]\n"
		"Row 2: Ch 3, turn, dc in first st, *dc in next 3 sts, [dc2tog] twice, dc in next 3 sts, "
		"[2 dc in next st] twice; rep from * to last 11 sts, dc in next 3 sts, [dc2tog] twice, dc "
		"in next 3 sts, 2 (1, 2) dc in last st. [24 (36, 48) sts]");
	expect_message(&c, "count-claimed", 2, "counts 35, the pattern says 36");
	cr_expect_eq(find_fault(&c, "count-claimed")->sizes, 1u << 1);
	for (unsigned size = 0; size < 3; size++)
		cr_expect_eq(count_row(&c, size, 2), 24 + 12 * size - (size == 1));
	tb_case_finish(&c);
}
