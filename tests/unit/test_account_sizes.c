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
		"Row 2: Ch 1, turn, sc in next st, miss 1 st, sc in next 5 sts, miss 1 st, sc in each st across.");
	const tb_diagnostic *fault = find_fault(&c, "mixed-terms");
	cr_assert_not_null(fault);
	cr_expect_eq(fault->severity, TB_WARNING);
	cr_expect_not_null(strstr(fault->message, "\"miss\""));
	cr_expect_eq(tb_diagnostics_count(c.diagnostics), 1, "told once a pattern");
	tb_case_finish(&c);
}

/* --- how a piece begins --- */

/* Two pieces and one that begins as FROM says; its row 1 begins with ROW. */
static tb_case grow(const char *from, const char *row)
{
	g_autofree char *text = g_strdup_printf("Bib\n\nBACK\nCh 21.\n"
		"Row 1 (RS): Sc in 2nd ch from hook and in each ch across. [20 sts]\n\nSLEEVE\nCh 11.\n"
		"Row 1: Sc in 2nd ch from hook and in each ch across. [10 sts]\n\nFRONT\n%s\n"
		"%s: Ch 1, sc in each st across.\n", from, row);
	return tb_case_read("bib.txt", text);
}

static void expect_grown(const char *from, const char *row, unsigned stitches, tb_side side)
{
	tb_case c = grow(from, row);
	g_autofree char *faults = tb_case_faults(&c);
	cr_assert_eq(tb_diagnostics_count(c.diagnostics), 0, "%s", faults);
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 2, 0);
	cr_assert_eq(fabric->row_count, 2, "%s", from);
	cr_expect_eq(fabric->rows[1].stitches, stitches, "%s: %u sts", from, fabric->rows[1].stitches);
	cr_expect_eq(fabric->rows[1].side, side, "%s", from);
	tb_case_finish(&c);
}

static void expect_not_grown(const char *from, const char *row, const char *code, const char *at)
{
	tb_case c = grow(from, row);
	g_autofree char *faults = tb_case_faults(&c);
	cr_assert_eq(tb_diagnostics_count_errors(c.diagnostics), 1, "%s\n%s", from, faults);
	const tb_diagnostic *fault = tb_diagnostics_get(c.diagnostics, 0);
	cr_expect_str_eq(fault->code, code, "%s", faults);
	const char *text = tb_source_get_text(c.source, NULL);
	cr_expect(g_str_has_prefix(text + fault->place.start, at), "%s", faults);
	tb_case_finish(&c);
}

/* Without a word the work is turned: behind a RS row comes a WS row (common practice). */
Test(account_sizes, a_piece_faces_as_it_says)
{
	expect_grown("From Back: sts 1-8", "Row 1", 8, TB_SIDE_WRONG);
	expect_grown("From Back: sts 1-8, with WS facing.", "Row 1", 8, TB_SIDE_WRONG);
	expect_grown("From Back: sts 1-8, with RS facing.", "Row 1", 8, TB_SIDE_RIGHT);
	expect_grown("With RS facing, join yarn in st 5 of Back, work over next 9 sts.", "Row 1", 9,
		TB_SIDE_RIGHT);
	expect_grown("With the right side facing, join yarn with sl st in 5th st of Back, and work over "
		"next 9 sts.", "Row 1 (RS)", 9, TB_SIDE_RIGHT);
	expect_not_grown("From Back: sts 1-8, with RS facing", "Row 1 (WS)", "side-turn", "Row 1 (WS)");
}

Test(account_sizes, a_piece_grows_from_one_other)
{
	expect_not_grown("From Back: sts 1-10, Sleeve: sts 1-5", "Row 1", "piece-from", "Sleeve");
	expect_not_grown("From Back: sts 1-10 and Sleeve: sts 1-5", "Row 1", "piece-from", "Sleeve");
	expect_not_grown("From Back: sts 1-10; sts 15-20", "Row 1", "piece-from", "sts 15-20");
	expect_not_grown("From Back: sts 1-10. Ch 4.", "Row 1", "piece-from", "Ch 4");
	expect_not_grown("Join yarn in st 3 of Back, work over next 8 sts, and in st 2 of Sleeve.", "Row 1",
		"piece-from", "2 of Sleeve");
}

/* Rows to and fro show their sides by turns, and yarn that is joined faces as its row does (common practice). */
Test(account_sizes, sides_said_by_turns_are_right)
{
	static const char *const texts[] = {
		"STRAP\nCh 12.\nRow 1 (RS): Sc in 2nd ch from hook and in each ch across, turn. [11 sc]\n"
		"Next row: Ch 1, sc in each sc across, turn.\nRep last row 6 more times.\n"
		"Next row (RS): Ch 1, sc2tog, sc in each sc across, turn. [10 sc]\n",
		"Gauge: 12 sts and 10 rows = 10 cm\nSTRAP\nCh 12.\n"
		"Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn. [11 sc]\nRow 2: Ch 1, sc in each sc across, turn.\n"
		"Rep Row 2 until strap measures 15 cm, ending with a WS row.\n"
		"Next row (RS): Ch 1, sc2tog, sc in each sc across, turn. [10 sc]\n",
		"BACK\nCh 25.\nRow 1 (RS): Sc in 2nd ch from hook and in each ch across, turn. [24 sc]\n"
		"Row 2: Ch 1, sc in each sc across, turn.\nFirst shoulder\n"
		"Row 3: Ch 1, sc in next 8 sc, leave rem sts unworked, turn. [8 sc]\nRow 4: Ch 1, sc in each sc across. Fasten off.\n"
		"Second shoulder\nWith RS facing, skip the centre 8 sts and join yarn in next st.\n"
		"Next row (RS): Ch 1, sc in same st and in each st across. [8 sc]\n"};
	for (size_t i = 0; i < G_N_ELEMENTS(texts); i++) {
		tb_case c = tb_case_read("sides.txt", texts[i]);
		expect_sound(&c);
		cr_expect_eq(tb_diagnostics_count(c.diagnostics), 0, "%zu", i);
		tb_case_finish(&c);
	}
}
