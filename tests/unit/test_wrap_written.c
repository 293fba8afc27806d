/*
 * Written rows of what is rarely said: foundation rows and foundation stitches, legs around two
 * posts, the other side of the chain, two kinds of place at once, ends that name a kind of place.
 * What is written, read again, makes the same stitches on the same bases.
 */
#include "counts.h"

#include <criterion/criterion.h>
#include <tambour/rows.h>

static void expect_same(const tb_fabric *a, const tb_fabric *b, const char *text)
{
	cr_assert_eq(a->row_count, b->row_count, "%s", text);
	cr_assert_eq(a->made_count, b->made_count, "%s", text);
	for (guint32 i = 0; i < a->made_count; i++) {
		const tb_made *x = &a->made[i], *y = &b->made[i];
		cr_assert_eq(x->stitch, y->stitch, "%s", text);
		cr_assert_eq(x->row, y->row, "%s", text);
		cr_assert_eq(x->base_count, y->base_count, "%s", text);
		for (unsigned j = 0; j < x->base_count; j++)
			cr_assert_eq(tb_fabric_base(a, x, j), tb_fabric_base(b, y, j), "%s", text);
	}
	for (guint32 i = 0; i < a->row_count; i++)
		cr_assert_eq(a->rows[i].number, b->rows[i].number, "%s", text);
}

/* Both sizes of PIECE; WORDS are among what is written. */
static void expect_again(const char *piece, const char *words)
{
	g_autofree char *text = g_strdup_printf("Sizes: S (M)\n\nPIECE\n%s", piece);
	tb_case c = tb_case_read("test.txt", text);
	expect_sound(&c);
	g_autofree char *rows = tb_rows_text(c.worked, 0, -1, false);
	cr_expect_not_null(strstr(rows, words), "no \"%s\" in:\n%s", words, rows);
	g_autofree char *written = g_strdup_printf("Sizes: S (M)\n\nPIECE\n%s", rows);
	tb_case again = tb_case_read("again.txt", written);
	g_autofree char *faults = tb_case_faults(&again);
	cr_assert_str_empty(faults, "%s\n%s", rows, faults);
	for (unsigned size = 0; size < 2; size++)
		expect_same(tb_worked_fabric(c.worked, 0, size), tb_worked_fabric(again.worked, 0, size),
			rows);
	tb_case_finish(&again);
	tb_case_finish(&c);
}

Test(written, foundation_rows_and_stitches)
{
	expect_again("Ch 13 (15).\nFoundation row (WS): Sc in 2nd ch from hook and in each ch across, "
				 "turn.\nRow 1: Ch 3, sk first st, dc in each st across.\n",
		"Foundation row (WS): Sc in 2nd ch from hook");
	expect_again("Fsc 20 (24).\nRow 1: Ch 1, sc in each st across.\n", "Fsc 20 (24).");
	expect_again("Row 1: Fsc 20 (24), turn.\nRow 2: Ch 1, sc in each st across.\n", "Fsc 20 (24)");
	expect_again("Rnd 1: 6 sc in a magic ring.\nRnd 2: 2 sc in each st around.\n",
		"Make a magic ring.");
}

Test(written, legs_around_two_posts)
{
	expect_again("Ch 26.\nRow 1 (WS): Sc in 2nd ch from hook and in each ch across.\n"
				 "Rows 2-3: Ch 1, turn, sc in each st across.\n"
				 "Row 4: Ch 1, turn, sc in next 3 sts, *FPtr2tog around next 2 sts 3 rows below, sc "
				 "in next 3 sts; rep from * to last 2 sts, sc in last 2 sts.\n",
		"FPtr2tog around next 2 sts 3 rows below");
}

Test(written, the_other_side_of_the_chain)
{
	expect_again("Ch 20.\nRnd 1: 3 sc in 2nd ch from hook, sc in next 17 ch, 3 sc in last ch, "
				 "working along other side of foundation ch, sc in next 17 ch.\n"
				 "Rnd 2: Sc in each st around.\n",
		"working along other side of foundation ch");
}

Test(written, two_kinds_of_place_and_ends_that_are_named)
{
	expect_again("Ch 4, join with sl st to form a ring.\n"
				 "Rnd 1: Ch 3 (counts as dc), 2 dc in ring, ch 1, 3 dc in ring, ch 2, [3 dc in "
				 "ring, ch 1, 3 dc in ring, ch 2] twice, join with sl st in top of ch-3.\n"
				 "Rnd 2: Ch 1, sc in same st as joining, *sc in each dc and in each ch-1 sp to "
				 "corner, 3 sc in corner ch-2 sp; rep from * 2 more times, join with sl st in "
				 "first sc.\n",
		"in next ch-2 sp");
	expect_again("Ch 14 (16).\nRow 1: Dc in 4th ch from hook and in each ch across, turn.\n"
				 "Row 2: Ch 2 (counts as hdc), sk first st, *FPdc around next st, BPdc around next "
				 "st; rep from * to last st, hdc in top of tch, turn.\n"
				 "Row 3: Ch 2 (counts as hdc), sk first st, FPdc around each FPdc and BPdc around "
				 "each BPdc to last st, hdc in top of tch.\n",
		"BPdc around next st, FPdc around next st");
	expect_again("Ch 15.\nRow 1: Sc in 2nd ch from hook, *ch 3, sk next 3 ch, sc in next ch; rep "
				 "from * to last ch, sc in last ch, turn.\n"
				 "Row 2: Ch 1, sc in first sc, *sc in next sc, 3 sc in next ch-3 sp; rep from * to "
				 "last ch-3 sp, sk next ch-3 sp, sc in last sc.\n",
		"3 sc in next ch-3 sp");
}

/* 2 n + 1 places where n were, from 2 on: the row is 64 KiB and more when nothing in it is folded. */
Test(written, no_row_is_longer_than_is_read)
{
	static const char *const kinds[] = {"sc", "hdc", "dc", "tr", "sl st", "2 sc", "2 dc", "2 hdc",
		"2 tr", "3 dc", "3 sc", "3 tr", "3 hdc", "2 sc"};
	g_autofree char *body = g_strdup("sc in next st, hdc in next st");
	unsigned places = 2;
	for (size_t i = 0; i < G_N_ELEMENTS(kinds); i++) {
		char *more = g_strdup_printf("[%s] twice, %s in next st", body, kinds[i]);
		g_free(body);
		body = more;
		places = 2 * places + 1;
	}
	g_autofree char *piece = g_strdup_printf(
		"Ch %u.\nRow 1: Sc in 2nd ch from hook and in each ch across.\nRow 2: Ch 1, turn, %s.\n",
		places + 1, body);
	expect_again(piece, "hdc in next st] twice");
}
