/* Faults over sizes, the chain that mends them, and pieces that grow from one piece. */
#include "counts.h"

#include <criterion/criterion.h>
#include <stdio.h>

static const char texture[] =
	"Row 1: Dc in 4th ch from hook and in each ch across.\n"
	"Row 2: Ch 3, turn, sk first st, dc in next 2 sts, *FPdc around next st, dc in next 3 sts; rep "
	"from * across.";

Test(sizes, one_cause_is_one_fault)
{
	tb_case c = tb_case_rows("S, M, L", "Ch 20 (21, 22).", texture);
	cr_expect_eq(tb_diagnostics_count(c.diagnostics), 1);
	const tb_diagnostic *fault = find_fault(&c, "repeat-leftover");
	cr_assert_not_null(fault);
	cr_expect_eq(fault->sizes, 5);
	cr_expect_str_eq(fault->message, "the repeat of 4 sts leaves 3 (1) sts over");
	tb_case_finish(&c);
}

/* The chain that is named comes out, and none between it and the chain that is there does. */
Test(sizes, the_repair_that_is_named_comes_out)
{
	for (unsigned chains = 20; chains < 28; chains++) {
		g_autofree char *start = g_strdup_printf("Ch %u.", chains);
		tb_case c = tb_case_rows("", start, texture);
		const tb_diagnostic *fault = find_fault(&c, "repeat-leftover");
		unsigned fewer = 0, more = 0;
		if (fault != NULL) {
			const char *named = strstr(fault->hint, "Start with ");
			cr_assert_not_null(named, "%s", fault->hint);
			cr_assert_eq(sscanf(named, "Start with %u or %u ch", &fewer, &more), 2);
			cr_expect(fewer < chains && chains < more && more - fewer == 4);
		}
		tb_case_finish(&c);
		/* 3 + 4n stitches, the tch counted: 4n + 5 chains (arithmetic) */
		cr_expect_eq(fault == NULL, chains % 4 == 1, "%u", chains);
		for (unsigned i = 0; fewer > 0 && i < 2; i++) {
			g_autofree char *mended = g_strdup_printf("Ch %u.", i == 0 ? fewer : more);
			tb_case again = tb_case_rows("", mended, texture);
			expect_sound(&again);
			tb_case_finish(&again);
		}
	}
}

/* An earlier row may refuse what arithmetic would offer: nothing is promised then. */
Test(sizes, no_repair_is_named_that_another_row_refuses)
{
	tb_case c = tb_case_rows("", "Ch 20.",
		"Row 1: Sc in 2nd ch from hook, sc in next 18 ch.\n"
		"Row 2: Ch 1, turn, *sc in next 2 sts, hdc in next 2 sts; rep from * across.");
	const tb_diagnostic *fault = find_fault(&c, "repeat-leftover");
	cr_assert_not_null(fault);
	cr_expect_null(strstr(fault->hint, "Start with"), "%s", fault->hint);
	tb_case_finish(&c);
}

static tb_case fronts(const char *left, const char *right)
{
	g_autofree char *text = g_strdup_printf(
		"Title: T\nSizes: S (M)\nGauge: 12 sts and 9 rows = 10 cm\n\nBACK\nCh 92 (96).\nRow 1: Sc in "
		"2nd ch from hook and in each ch across.\n\nLEFT FRONT\nFrom Back: sts %s\nRow 1: Ch 1, turn, "
		"sc in each st across.\n\nRIGHT FRONT\nFrom Back: sts %s\nRow 1: Ch 1, turn, sc in each st "
		"across.\n",
		left, right);
	return tb_case_read("test.txt", text);
}

Test(sizes, what_no_piece_works_is_counted)
{
	static const char *const ranges[][2] = {
		{"1-37 (39)", "55 (57)-91 (95)"}, {"1-37 (1-39)", "55-91 (57-95)"}};
	for (size_t i = 0; i < G_N_ELEMENTS(ranges); i++) {
		tb_case c = fronts(ranges[i][0], ranges[i][1]);
		expect_sound(&c);
		g_autofree char *text = tb_check_text(c.worked, c.diagnostics, -1);
		cr_expect_not_null(strstr(text, "Back, last row: 91 (95) sts; Left front works 37 (39), "
										"Right front 37 (39); 17 are left.\n"),
			"%s", text);
		tb_case_finish(&c);
	}
}

Test(sizes, two_pieces_cannot_work_the_same_stitch)
{
	tb_case c = fronts("1-37 (39)", "37 (57)-91 (95)");
	expect_fault(&c, "from-taken");
	cr_expect_eq(tb_diagnostics_count_errors(c.diagnostics), 1);
	cr_expect_eq(find_fault(&c, "from-taken")->sizes, 1);
	tb_case_finish(&c);
}

/* A start that was not understood is told once, and nothing is said of an empty foundation. */
Test(sizes, nothing_is_judged_behind_what_was_not_understood)
{
	tb_case c = tb_case_rows("", "Ch twenty flatly.", texture);
	cr_expect_eq(tb_diagnostics_count_errors(c.diagnostics), 1);
	cr_expect_null(find_fault(&c, "no-foundation"));
	cr_expect_not_null(find_fault(&c, "not-checked"));
	tb_case_finish(&c);
	c = tb_case_rows("", "Ch 20.",
		"Row 1: Dc in 4th ch from hook and in each ch across.\nRow 2: Ch 3, turn, dc flatly.\n"
		"Row 3: Ch 3, turn, dc in next 99 sts.\nRow 4: Rep Row 2.");
	cr_expect_eq(tb_diagnostics_count_errors(c.diagnostics), 1);
	tb_case_finish(&c);
}

/* miss, tension, ss, htr and yrh are UK words, sc and hdc US ones (trade tables 1c). */
Test(sizes, a_word_of_the_other_terms_gives_itself_away)
{
	tb_case c = tb_case_rows("", "Ch 20.",
		"Row 1: Sc in 2nd ch from hook and in each ch across.\n"
		"Row 2: Ch 1, turn, sc in next st, miss 1 st, sc in each st across, miss 0 sts.");
	const tb_diagnostic *fault = find_fault(&c, "mixed-terms");
	cr_assert_not_null(fault);
	cr_expect_eq(fault->severity, TB_WARNING);
	cr_expect_not_null(strstr(fault->message, "\"miss\""));
	cr_expect_eq(tb_diagnostics_count(c.diagnostics), 1, "told once a pattern");
	tb_case_finish(&c);
}
