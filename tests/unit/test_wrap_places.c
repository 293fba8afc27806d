/* Which places a row reaches, and which claims it fulfils. */
#include "counts.h"

#include <criterion/criterion.h>

static const char sc_row[] = "Row 1: Sc in 2nd ch from hook and in each ch across.\n";

/* A claim of one kind on row 2, worked on 12 sc; sc2tog is one of the sc (common practice). */
static bool claim_passes(const char *row)
{
	g_autofree char *rows = g_strconcat(sc_row, "Row 2: ", row, NULL);
	tb_case c = tb_case_rows("", "Ch 13.", rows);
	bool passes = find_fault(&c, "count-claimed") == NULL;
	tb_case_finish(&c);
	return passes;
}

Test(places, a_claim_of_a_kind_counts_that_kind)
{
	cr_expect(claim_passes("Ch 1, turn, [sc2tog] 6 times. [6 sc]"));
	cr_expect(claim_passes("Ch 1, turn, sc in next 10 sts, sc2tog. [11 sc]"));
	cr_expect(claim_passes("Ch 3 (counts as dc), turn, sk first st, dc in next 11 sts. [12 dc]"));
	cr_expect(claim_passes("Ch 3 (counts as dc), turn, sk first st, dc in next 11 sts. [11 dc]"));
	/* the whole count, but not of that kind */
	cr_expect_not(claim_passes("Ch 1, turn, sc in next 6 sts, hdc in next 6 sts. [12 sc]"));
	cr_expect_not(claim_passes("Ch 1, turn, sc in next 6 sts, FPdc around next 6 sts. [12 dc]"));
	cr_expect(claim_passes("Ch 1, turn, sc in next 6 sts, hdc in next 6 sts. [6 sc, 6 hdc]"));
}

/* Filet: 6 dc and the turning chain over 18 chains; ch 5 is a dc and 2 ch (trade-facts, Counting). */
static const char filet[] =
	"Row 1: Dc in 8th ch from hook, *ch 2, sk 2 ch, dc in next ch; rep from * across.\n"
	"Row 2: Ch 5 (counts as dc, ch 2), turn, sk next ch-2 sp, *dc in next dc, ch 2, sk next ch-2 "
	"sp; rep from * to last dc, dc in next dc, ch 2, dc in top of tch.\n"
	"Row 3: Ch 5 (counts as dc, ch 2), turn, sk next ch-2 sp, dc in next dc, [ch 2, sk next ch-2 "
	"sp, dc in next dc] 4 times, ch 2, dc in 3rd ch of ch-5.";

Test(places, chains_before_the_turning_chain_are_passed_over)
{
	tb_case c = tb_case_rows("", "Ch 23.", filet);
	expect_sound(&c);
	cr_assert_eq(count_row(&c, 0, 2), 19);
	cr_assert_eq(count_row(&c, 0, 3), 19);
	tb_case_finish(&c);
}

/* The last dc stands in the turning chain, which older books call a ch (common practice). */
Test(places, the_last_chain_is_the_turning_chain)
{
	tb_case c = tb_case_rows("", "Ch 23.",
		"Row 1: Dc in 8th ch from hook, *ch 2, sk 2 ch, dc in next ch; rep from * across.\n"
		"Row 2: Ch 5, turn, sk next ch-2 sp, dc in next dc, *ch 2, sk next ch-2 sp, dc in next dc; "
		"rep from * to last dc, ch 2, sk 2 ch, dc in next ch.");
	expect_sound(&c);
	cr_assert_eq(count_row(&c, 0, 2), 19);
	tb_case_finish(&c);
}

Test(places, stitches_before_the_turning_chain_are_not)
{
	tb_case c = tb_case_rows("", "Ch 21.",
		"Row 1: Dc in 4th ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 3, sk first st, dc in next 10 sts, dc in top of tch.");
	cr_assert_eq(expect_fault(&c, "unworked"), 2);
	tb_case_finish(&c);
}

/* 3 spaces in 14 sts: the repeat ends before the last of them; 1 + 2 x 4 + 1 = 10. */
Test(places, a_repeat_ends_before_the_last_space)
{
	tb_case c = tb_case_rows("", "Ch 15.",
		"Row 1: Sc in 2nd ch from hook, *ch 3, sk next 3 ch, sc in next ch; rep from * to last ch, "
		"sc in last ch.\n"
		"Row 2: Ch 1, turn, sc in first sc, *sc in next sc, 3 sc in next ch-3 sp; rep from * to "
		"last ch-3 sp, sk next ch-3 sp, sc in last sc. (10 sc)");
	expect_sound(&c);
	cr_assert_eq(count_row(&c, 0, 2), 10);
	tb_case_finish(&c);
}

Test(places, a_turning_chain_far_off_is_no_space)
{
	tb_case c = tb_case_rows("", "Ch 12.",
		"Row 1: Dc in 4th ch from hook, *ch 2, sk 2 ch, dc in next ch; rep from * to last 2 ch, dc "
		"in last 2 ch.\n"
		"Row 2: Ch 1, turn, sc in first st, 2 sc in next ch-3 sp, sc in each st across.");
	cr_assert_eq(expect_fault(&c, "space-missing"), 2);
	tb_case_finish(&c);
}

/* Older UK books: "repeat between * *" (common practice). */
Test(places, between_two_stars)
{
	tb_case c = tb_case_rows("", "Ch 13.",
		"Row 1: Sc in 2nd ch from hook and in each ch across.\n"
		"Row 2: Ch 1, turn, *sc in next st, hdc in next st* repeat between * * across.");
	expect_sound(&c);
	cr_assert_eq(count_kind(&c, 0, 2, "hdc"), 6);
	tb_case_finish(&c);
}

Test(places, a_missing_number_is_told_once)
{
	tb_case c = tb_case_rows("", "Ch 13.",
		"Row 1: Sc in 2nd ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 1, sc in each st across, turn.\nRow 4: Ch 1, sc in each st across, turn.\n"
		"Row 3: Ch 1, sc in each st across.");
	expect_fault(&c, "row-number");
	cr_assert_eq(tb_diagnostics_count(c.diagnostics), 1);
	tb_case_finish(&c);
}
