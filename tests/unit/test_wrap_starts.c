/* How plain texts begin: the start, the first row that brings its own, heads of rows and parts. */
#include "counts.h"

#include <criterion/criterion.h>

/* Reads a text that must be sound; the count of the last row of its one piece. */
static void expect_count(const char *text, guint32 number, guint32 count)
{
	tb_case c = tb_case_read("test.txt", text);
	g_autofree char *faults = tb_case_faults(&c);
	cr_expect_str_empty(faults, "%s\n%s", text, faults);
	cr_expect_eq(tb_pattern_count_pieces(c.pattern), 1, "%s", text);
	cr_expect_eq(count_row(&c, 0, number), count, "%s: %u, not %u", text,
		count_row(&c, 0, number), count);
	tb_case_finish(&c);
}

/* Older and UK ways to say the chain (common practice): each is 13 ch, 12 sc on it. */
Test(starts, the_chain_in_many_words)
{
	static const char *const starts[] = {"Make 13 ch.", "Make 13 chain.", "Chain 13 loosely.",
		"With 4 mm hook, ch 13.", "Using yarn A, make 13 ch.", "Make a chain of 13.", "Ch. 13.",
		"Make a slip knot and ch 13.", "Leaving a 15 cm tail, ch 13.", "Foundation chain: 13 ch."};
	for (size_t i = 0; i < G_N_ELEMENTS(starts); i++) {
		g_autofree char *text = g_strdup_printf(
			"SWATCH\n%s\nRow 1: Sc in 2nd ch from hook and in each ch across. [12 sc]\n", starts[i]);
		expect_count(text, 1, 12);
	}
}

/* A magic ring or foundation stitches need no chain (common practice). */
Test(starts, the_first_row_brings_its_own)
{
	expect_count("BALL\nRnd 1: 6 sc in a magic ring. (6)\nRnd 2: 2 sc in each st around. (12)\n", 2,
		12);
	expect_count("BALL\nRnd 1: Make a magic ring, ch 1, 6 sc in ring, join with sl st in first "
				 "sc. (6)\n", 1, 6);
	expect_count("BALL\nRnd 1: In a magic ring, ch 1, 6 sc. (6)\n", 1, 6);
	expect_count("STRIP\nRow 1: Fsc 20. (20 sts)\nRow 2: Ch 1, turn, sc in each st across.\n", 2,
		20);
	expect_count("STRIP\nRow 1: Ch 21, sc in 2nd ch from hook and in each ch across. (20 sts)\n", 1,
		20);
	/* a heading is none, whatever it says */
	expect_count("MAGIC\nCh 13.\nRow 1: Sc in 2nd ch from hook and in each ch across.\n", 1, 12);
}

Test(starts, nothing_to_start_with_is_told_once)
{
	tb_case c = tb_case_read("test.txt", "SCARF\nRow 1: Dc in each st across.\n");
	expect_fault(&c, "piece-start");
	cr_assert_eq(tb_diagnostics_count(c.diagnostics), 1);
	tb_case_finish(&c);
	c = tb_case_read("test.txt",
		"BACK\nCh 13.\nRow 1: Sc in 2nd ch from hook and in each ch across.\n\n"
		"YOKE\nFrom Bakc: sts 1-9\nRow 1: Ch 1, sc in each st across.\n");
	expect_fault(&c, "piece-unknown");
	cr_assert_eq(tb_diagnostics_count(c.diagnostics), 1);
	tb_case_finish(&c);
}

Test(starts, a_foundation_row_stands_before_row_1)
{
	expect_count("SWATCH\nCh 13.\nFoundation row (WS): Sc in 2nd ch from hook and in each ch "
				 "across, turn. (12 sc)\nRow 1: Ch 1, sc in each st across. (12 sc)\n", 1, 12);
	expect_count("SWATCH\nCh 13.\nSet-up row: Sc in 2nd ch from hook and in each ch across, turn.\n"
				 "Row 1: Ch 1, sc in each st across. (12 sc)\n", 1, 12);
}

Test(starts, short_heads_of_rounds_and_rows)
{
	expect_count("BALL\nR1: 6 sc in magic ring (6)\nR2: 2 sc in each st around (12)\n"
				 "R3-4: Sc in each st around. (12)\n", 4, 12);
	tb_case c = tb_case_read("test.txt",
		"FLAT\nCh 13.\nR1: Sc in 2nd ch from hook and in each ch across, turn.\n");
	const tb_made_row *row = tb_fabric_row(tb_worked_fabric(c.worked, 0, 0), 1);
	cr_assert_not_null(row);
	cr_assert_not(row->is_round);
	tb_case_finish(&c);
}

/* "Shape armholes" over row 2 goes on with the back; over row 1 a heading names a new piece. */
Test(starts, a_subheading_is_no_piece)
{
	expect_count("BACK\nCh 13.\nRow 1: Sc in 2nd ch from hook and in each ch across.\n\n"
				 "Shape armholes\nRow 2: Ch 1, turn, sc in each st across.\n\n"
				 "Shape neck\nNext row: Ch 1, turn, sc in each st across.\n\n"
				 "DECREASE ROWS\nRow 4: Ch 1, turn, [sc2tog] 6 times. (6 sc)\n", 4, 6);
	tb_case c = tb_case_read("test.txt",
		"BACK\nCh 13.\nRow 1: Sc in 2nd ch from hook and in each ch across.\n\n"
		"FRONT\nCh 11.\nRow 1: Sc in 2nd ch from hook and in each ch across.\n");
	cr_assert_eq(tb_pattern_count_pieces(c.pattern), 2);
	tb_case_finish(&c);
}

/* 4, 6 and 8 rows, and then one more: its number is another in every size. */
Test(starts, a_row_has_its_number_in_each_size)
{
	static const char text[] = "Sizes: S (M, L)\n\nBACK\nCh 22 (22, 24).\n"
		"Row 1: Dc in 4th ch from hook and in each ch across.\n"
		"Rows 2-4 (6, 8): Ch 3, turn, dc in each st across, working last dc in top of tch.\n"
		"Row 5 (7, 9) (RS): Ch 1, turn, sc in each st across.\n";
	tb_case c = tb_case_read("test.txt", text);
	expect_sound(&c);
	cr_assert_eq(count_kind(&c, 0, 5, "sc"), 20);
	cr_assert_eq(count_kind(&c, 1, 7, "sc"), 20);
	cr_assert_eq(count_kind(&c, 2, 9, "sc"), 22);
	tb_case_finish(&c);
	c = tb_case_read("test.txt", "Sizes: S (M)\n\nBACK\nCh 12.\n"
		"Row 1: Sc in 2nd ch from hook and in each ch across.\n"
		"Row 2 (3): Ch 1, turn, sc in each st across.\n");
	expect_fault(&c, "row-number");
	cr_assert_eq(find_fault(&c, "row-number")->sizes, 1u << 1);
	tb_case_finish(&c);
}

Test(starts, a_gauge_in_words_is_a_warning)
{
	tb_case c = tb_case_read("test.txt", "Gauge: one square of 4 rounds measures about 4 in\n\n"
		"BACK\nCh 13.\nRow 1: Sc in 2nd ch from hook and in each ch across.\n");
	expect_fault(&c, "gauge-value");
	cr_assert_eq(find_fault(&c, "gauge-value")->severity, TB_WARNING);
	cr_assert_eq(tb_diagnostics_count_errors(c.diagnostics), 0);
	tb_case_finish(&c);
}
