/*
 * Passages of old and new books, worked: each is a fact of the trade facts, named by its book
 * there, in the words a pattern would use.
 */
#include "counts.h"

/* 8 sc in a ring; ch 3 with dc, then * ch 3, cluster in next sc, repeat 6 times: 1 + 1 + 6 = 8
 * [SD], since the asterisk means that many more [SF, its note on it]; in brackets it is N in all
 * (common practice), so the same round says 7. */
static void expect_doily(const char *repeat)
{
	g_autofree char *rows =
		g_strdup_printf("Rnd 1: Ch 1, 8 sc in ring, join with sl st in first sc. [8 sc]\n"
						"Rnd 2: Ch 3, dc in same st, %s, ch 3, join with sl st in top of ch-3.",
			repeat);
	tb_case c = tb_case_rows("", "Ch 5, join with sl st to form a ring.", rows);
	expect_sound(&c);
	cr_expect_eq(count_kind(&c, 0, 2, "2-dc cl"), 7, "%s", repeat);
	/* the starting chain, and a space after each of the eight */
	cr_expect_eq(count_kind(&c, 0, 2, "ch"), 1 + 8 * 3);
	tb_case_finish(&c);
}

Test(books, doily_of_eight_clusters)
{
	expect_doily("*ch 3, 2-dc cluster in next sc; rep from * 6 times");
	expect_doily("*ch 3, 2-dc cluster in next sc; rep from * 6 times more");
	expect_doily("*ch 3, 2-dc cluster in next sc; rep from * 6 more times");
	expect_doily("*ch 3, 2-dc cluster in next sc; rep from * around");
	expect_doily("[ch 3, 2-dc cluster in next sc] 7 times");
	expect_doily("(ch 3, 2-dc cluster in next sc) 7 times");
}

/* Older books that mean four in all by "4 times": where only that comes out it is read so, and
 * told. */
Test(books, in_all_where_only_that_comes_out)
{
	tb_case c = tb_case_rows("", "Ch 5, join with sl st to form a ring.",
		"Rnd 1: Ch 1, 8 sc in ring, join with sl st in first sc.\n"
		"Rnd 2: Ch 1, *sc in next sc, ch 3; rep from * 8 times, join with sl st in first sc.");
	cr_expect_eq(tb_diagnostics_count_errors(c.diagnostics), 0);
	cr_expect_eq(expect_fault(&c, "repeat-in-all"), 2);
	cr_expect_eq(count_kind(&c, 0, 2, "sc"), 8);
	tb_case_finish(&c);
}

/* Ch 72, dc in 4th, dc in each remaining: 69 dc, and the ch 3 that counts as one [SR, first rug].
 * */
Test(books, first_rug)
{
	static const char *const rows[] = {
		"Row 1: Dc in 4th ch from hook and in each remaining ch. (69 dc)",
		"1st row: Dc in 4th ch from hook, dc in each rem ch across. (69 dc)",
		("Row 1: Double crochet in fourth chain from hook, double crochet in each chain across. [70 "
		 "sts]"),
	};
	for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
		tb_case c = tb_case_rows("", "Ch 72.", rows[i]);
		expect_sound(&c);
		cr_expect_eq(count_kind(&c, 0, 1, "dc"), 69, "%s", rows[i]);
		cr_expect_eq(count_row(&c, 0, 1), 70, "%s", rows[i]);
		tb_case_finish(&c);
	}
}

/* Flat disc in dc: 12, 24, 36, 48, twelve more each round (common practice), here to 72. */
Test(books, flat_disc)
{
	g_autoptr(GString) rows = g_string_new(
		"Rnd 1: Ch 3 (counts as dc), 11 dc in ring, join with sl st in top of ch-3. [12 dc]\n"
		"Rnd 2: Ch 3, dc in same st, 2 dc in each st around, join with sl st in top of ch-3. [24 "
		"dc]");
	for (unsigned round = 3; round <= 6; round++)
		g_string_append_printf(rows,
			"\nRnd %u: Ch 3, dc in same st, dc in next %u sts, *2 dc in next st, dc in next %u "
			"sts; rep from * around, join with sl st in top of ch-3. [%u dc]",
			round, round - 2, round - 2, 12 * round);
	tb_case c = tb_case_rows("", "Ch 4, join with sl st to form a ring.", rows->str);
	expect_sound(&c);
	for (guint32 round = 1; round <= 6; round++)
		cr_expect_eq(count_row(&c, 0, round), 12 * round);
	tb_case_finish(&c);
}

/* Oval: ch 40; 3 sc in 2nd ch, 37 sc, 3 sc in the last, 37 sc back along the other side = 80.
 * Round 2 doubles the 3 stitches of each end = 86; rounds 3 and 4 double 6 at each end = 98, then
 * 110 [American Thread, heavy rug yarn oval rug, 1950s]. */
Test(books, oval_rug)
{
	tb_case c = tb_case_rows("", "Ch 40.",
		"Rnd 1: 3 sc in 2nd ch from hook, sc in next 37 ch, 3 sc in last ch, working along "
		"opposite side of foundation ch, sc in next 37 ch. Do not join. [80 sc]\n"
		"Rnd 2: 2 sc in each of next 3 sts, sc in next 37 sts, 2 sc in each of next 3 sts, sc in "
		"next 37 sts. [86 sc]\n"
		"Rnd 3: 2 sc in each of next 6 sts, sc in next 37 sts, 2 sc in each of next 6 sts, sc in "
		"next 37 sts. [98 sc]\n"
		"Rnd 4: *[2 sc in next st, sc in next st] 6 times, sc in next 37 sts; rep from * once "
		"more. [110 sc]");
	static const guint32 counts[] = {80, 86, 98, 110};
	expect_sound(&c);
	for (guint32 round = 1; round <= 4; round++)
		cr_expect_eq(count_row(&c, 0, round), counts[round - 1], "round %u", round);
	tb_case_finish(&c);
}

static const char plain[] = "Row 1 (WS): Sc in 2nd ch from hook and in each ch across.\n"
							"Row 2: Ch 1, turn, sc in each st across.\n"
							"Row 3: Ch 1, turn, sc in each st across.\n";

/* Raised double treble (tr in US terms) on the 4th stitch, joined three rows down, then 3 plain
 * stitches, repeat, multiple of 4; in the next raised row, three rows on in the book's plain way,
 * it stands between the 3 stitches of the last one; the stitch hidden behind is missed [EN fig.
 * 428]. */
Test(books, raised_stitch)
{
	for (unsigned n = 2; n <= 12; n += 5) {
		g_autofree char *start = g_strdup_printf("Ch %u.", 4 * n + 1);
		g_autofree char *rows = g_strconcat(plain,
			"Row 4: Ch 1, turn, *sc in next 3 sts, FPtr around st 3 rows below; rep from * "
			"across.",
			NULL);
		tb_case c = tb_case_rows("", start, rows);
		expect_sound(&c);
		const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
		cr_expect_eq(count_row(&c, 0, 4), 4 * n);
		cr_expect_eq(count_kind(&c, 0, 4, "FPtr"), n);
		const tb_made *raised = made_in(&c, 0, 4, 1 + 3);
		cr_assert_eq(raised->stitch, tb_library_find(c.library, "FPtr")->number);
		cr_expect_eq(raised->rows_below, 3);
		cr_expect_eq(fabric->rows[fabric->made[tb_fabric_base(fabric, raised, 0)].row].number, 1);
		cr_expect_eq(fabric->rows[fabric->made[raised->behind].row].number, 3);
		tb_case_finish(&c);
	}
}

/* Two legs crossed and closed together, the stitch behind missed, 3 plain between [EN fig. 429]:
 * one stitch on two posts, and the row keeps its count. */
Test(books, crossed_raised_stitch)
{
	for (unsigned n = 2; n <= 12; n += 5) {
		g_autofree char *start = g_strdup_printf("Ch %u.", 4 * n + 5 + 1);
		g_autofree char *rows = g_strconcat(plain,
			"Row 4: Ch 1, turn, sc in next 3 sts, *FPtr2tog around next 2 sts 3 rows below, sc in "
			"next 3 sts; rep from * to last 2 sts, sc in last 2 sts.",
			NULL);
		tb_case c = tb_case_rows("", start, rows);
		expect_sound(&c);
		cr_expect_eq(count_row(&c, 0, 4), 4 * n + 5);
		cr_expect_eq(count_kind(&c, 0, 4, "FPtr2tog"), n);
		const tb_made *crossed = made_in(&c, 0, 4, 1 + 3);
		cr_expect_eq(crossed->base_count, 2);
		cr_expect_eq(crossed->rows_below, 3);
		cr_expect_neq(crossed->behind, TB_NONE);
		tb_case_finish(&c);
	}
}

/* The first size stands outside the brackets, the others inside, in order: Small, Medium, Large,
 * ch 52 (56, 60) [RY]; however the figures are parted (trade tables 1b and 7). */
Test(books, sizes_in_order)
{
	static const char *const starts[] = {"Ch 52 (56, 60).", "Ch 52 (56-60).", "Ch 52 (56: 60).",
		"Ch 52 [56, 60].", "Chain 52 (56; 60)."};
	for (size_t i = 0; i < G_N_ELEMENTS(starts); i++) {
		tb_case c = tb_case_rows("Small,Medium,Large", starts[i],
			"Row 1: Dc in 4th ch from hook and in each ch across. [50 (54, 58) sts]");
		expect_sound(&c);
		for (unsigned size = 0; size < 3; size++)
			cr_expect_eq(count_row(&c, size, 1), 50 + 4 * size, "%s", starts[i]);
		tb_case_finish(&c);
	}
}

/* Jacket: ch 54, then 26 doubles with chains between: 4 + 2 x 25 (Handbook 1918, trade tables 5; in
 * its names a double is our dc). */
Test(books, jacket_of_26_doubles)
{
	tb_case c = tb_case_rows("", "Ch 54.",
		"Row 1: Dc in 4th ch from hook, *ch 1, sk 1 ch, dc in next ch; rep from * across.");
	expect_sound(&c);
	cr_expect_eq(count_kind(&c, 0, 1, "dc"), 26);
	tb_case_finish(&c);
}

static tb_case read_terms(const char *terms, const char *rows)
{
	g_autofree char *text =
		g_strdup_printf("Title: Both\nTerms: %s\n\nSWATCH\nCh 23.\n%s", terms, rows);
	return tb_case_read(terms, text);
}

/* The same rows in US and in UK terms [CYC, differences] are the same graph, stitch for stitch. */
static void expect_same(const char *us_rows, const char *uk_rows)
{
	tb_case us = read_terms("US", us_rows), uk = read_terms("UK", uk_rows);
	expect_sound(&us);
	expect_sound(&uk);
	const tb_fabric *a = tb_worked_fabric(us.worked, 0, 0), *b = tb_worked_fabric(uk.worked, 0, 0);
	cr_assert_eq(a->row_count, b->row_count);
	cr_assert_eq(a->made_count, b->made_count);
	for (guint32 row = 0; row < a->row_count; row++)
		cr_expect_eq(a->rows[row].stitches, b->rows[row].stitches);
	for (guint32 i = 0; i < a->made_count; i++) {
		const tb_made *x = &a->made[i], *y = &b->made[i];
		cr_expect(x->stitch == y->stitch && x->row == y->row && x->flags == y->flags &&
					  x->behind == y->behind && x->base_count == y->base_count,
			"stitch %u: %s and %s", i, tb_stitch_get_us(tb_library_get(us.library, x->stitch)),
			tb_stitch_get_us(tb_library_get(uk.library, y->stitch)));
		for (unsigned base = 0; base < x->base_count && base < y->base_count; base++)
			cr_expect_eq(tb_fabric_base(a, x, base), tb_fabric_base(b, y, base));
	}
	tb_case_finish(&us);
	tb_case_finish(&uk);
}

Test(books, both_terms_one_fabric)
{
	expect_same("Row 1: Sc in 2nd ch from hook and in each ch across.\n"
				"Row 2: Ch 2 (counts as hdc), turn, sk first st, hdc in each st across.\n"
				"Row 3: Ch 3, turn, sk first st, dc in each st across.\n"
				"Row 4: Ch 4, turn, sk first st, tr in each st across.\n"
				"Row 5: Ch 5, turn, sk first st, dtr in each st across.\n"
				"Row 6: Ch 1, turn, sl st in each st across.",
		"Row 1: Dc in 2nd ch from hook and in each ch across.\n"
		"Row 2: Ch 2 (counts as htr), turn, miss first st, htr in each st across.\n"
		"Row 3: Ch 3, turn, miss first st, tr in each st across.\n"
		"Row 4: Ch 4, turn, miss first st, dtr in each st across.\n"
		"Row 5: Ch 5, turn, miss first st, ttr in each st across.\n"
		"Row 6: Ch 1, turn, ss in each st across.");
	expect_same("Row 1: Dc in 4th ch from hook and in each ch across.\n"
				"Row 2: Ch 3, turn, *FPdc around next st, BPdc around next st; rep from * across.\n"
				"Row 3: Ch 1, turn, sc2tog, sc in next 4 sts, dc2tog, sk 1, dc3tog, sc in each st "
				"across.",
		"Row 1: Tr in 4th ch from hook and in each ch across.\n"
		"Row 2: Ch 3, turn, *FPtr around next st, BPtr around next st; rep from * across.\n"
		"Row 3: Ch 1, turn, dc2tog, dc in next 4 sts, tr2tog, miss 1, tr3tog, dc in each st "
		"across.");
	expect_same("Row 1: Dc in 4th ch from hook and in each ch across.\n"
				"Row 2: Ch 3, turn, *FPdc around next st, BPdc around next st; rep from * across.",
		"Row 1: 1 tr in 4th ch from hook, 1 tr in each ch to end.\n"
		"Row 2: 3 ch, turn, *1 RtrF round next tr, 1 RtrB round next tr; rep from * to end.");
	expect_same(
		"Row 1: Sc in 2nd ch from hook, *ch 3, sk 2 ch, 3-dc cluster in next ch; rep from * "
		"across.",
		"Row 1: 1 dc into 2nd ch from hook, *3 ch, miss 2 ch, 3-tr cluster into next ch; rep from "
		"* to end.");
}

/* What one side says and the other does not is told, never guessed: sc and hdc are US words, htr
 * and ss UK words (trade tables 1c). */
Test(books, a_word_of_the_other_side)
{
	static const char *const cases[][2] = {{"US", "Row 1: Htr in 3rd ch from hook."},
		{"UK", "Row 1: Sc in 2nd ch from hook and in each ch across."},
		{"UK", "Row 1: Hdc in 3rd ch from hook and in each ch across."}};
	for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
		tb_case c = read_terms(cases[i][0], cases[i][1]);
		g_autofree char *faults = tb_case_faults(&c);
		cr_expect_gt(tb_diagnostics_count_errors(c.diagnostics), 0, "%s", cases[i][1]);
		cr_expect_not_null(strstr(faults, "terms"), "%s", faults);
		tb_case_finish(&c);
	}
	/* ss is the slip stitch in either, so that nothing is guessed; the word is told all the same */
	tb_case c = read_terms("US", "Row 1: Ss in 2nd ch from hook and in each ch across.");
	cr_expect_eq(tb_diagnostics_count_errors(c.diagnostics), 0);
	cr_expect_not_null(find_fault(&c, "mixed-terms"));
	tb_case_finish(&c);
}
