/* Where a length begins, rows that lie beside each other, and gauges of more than one stitch: counted by hand. */
#include "counts.h"

#include "fabric/measure.h"

#include <criterion/criterion.h>
#include <math.h>

#define EXPECT_MM(a, b) cr_expect(fabs((a) - (b)) < 1e-6, "%g, not %g", (double)(a), (double)(b))

/* 10 sts and 10 rows are 10 cm: a row is a centimetre. */
#define HEAD "Title: T\nGauge: 10 sts and 10 rows = 10 cm\n\nBACK\nCh 31.\n" \
	"Row 1: Sc in 2nd ch from hook and in each ch across. [30 sc]\n"

static tb_case work(const char *rows)
{
	g_autofree char *text = g_strconcat(HEAD, rows, NULL);
	tb_case c = tb_case_read("test.txt", text);
	cr_assert_not_null(c.worked);
	return c;
}

static const tb_fabric *of(const tb_case *c)
{
	return tb_worked_fabric(c->worked, 0, 0);
}

/* 54 rows, and two shoulders of 2 rows beside each other: 56 high. */
Test(since, the_second_shoulder_lies_beside_the_first)
{
	tb_case c = work("Rows 2-54: Ch 1, turn, sc in each st across. [30 sc]\n"
		"First shoulder\nRow 55: Ch 1, turn, sc in first 8 sts, leave rem sts unworked. [8 sc]\n"
		"Row 56: Ch 1, turn, sc in each st across. [8 sc] Fasten off.\n"
		"Second shoulder\nWith RS facing, sk next 14 sts of Row 54, join yarn in next st.\n"
		"Row 55: Ch 1, sc in same st and in each st across. [8 sc]\n"
		"Row 56: Ch 1, turn, sc in each st across. [8 sc] Fasten off.\n");
	expect_sound(&c);
	cr_assert_eq(of(&c)->row_count - 1, 58);
	EXPECT_MM(of(&c)->length_mm, 560);
	cr_expect_eq(of(&c)->rows[57].stands, 54);
	EXPECT_MM(of(&c)->rows[57].top_mm, 550);
	EXPECT_MM(of(&c)->rows[58].top_mm, 560);
	tb_case_finish(&c);
}

/* 20 rows to the armhole, and 10 of the armhole. */
Test(since, an_armhole_begins_where_its_shaping_does)
{
	static const char *const asks[] = {"until armhole measures 10 cm", "until piece measures 10 cm from underarm",
		"until armholes measure 10 cm", "until work measures 10 cm from beg of armhole shaping"};
	for (size_t i = 0; i < G_N_ELEMENTS(asks); i++) {
		g_autofree char *rows = g_strdup_printf("Row 2: Ch 1, turn, sc in each st across. [30 sc]\n"
			"Rep Row 2 until piece measures 20 cm.\nShape armholes\n"
			"Next row: Sl st in first 3 sts, ch 1, sc in each st to last 3 sts, turn, leave rem sts unworked. [24 sc]\n"
			"Next row: Ch 1, sc in each st across, turn. [24 sc]\nWork even in sc %s.\n", asks[i]);
		tb_case c = work(rows);
		expect_sound(&c);
		cr_expect_eq(of(&c)->row_count - 1, 30, "%s: %u", asks[i], of(&c)->row_count - 1);
		cr_assert_eq(of(&c)->reached_count, 2);
		EXPECT_MM(of(&c)->reached[1].reached_mm, 100);
		tb_case_finish(&c);
	}
}

/* The same where no heading says so: 3 sts are left at each side at once. */
Test(since, an_armhole_shows_in_the_rows)
{
	tb_case c = work("Row 2: Ch 1, turn, sc in each st across. [30 sc]\nRep Row 2 until piece measures 20 cm.\n"
		"Next row: Sl st in first 3 sts, ch 1, sc in each st to last 3 sts, turn, leave rem sts unworked. [24 sc]\n"
		"Next row: Ch 1, sc in each st across, turn. [24 sc]\nWork even in sc until armhole measures 12 cm.\n");
	expect_sound(&c);
	cr_expect_eq(of(&c)->row_count - 1, 32);
	tb_case_finish(&c);
}

/* An edge that slopes by a stitch a row shows no armhole, and neither do even rows. */
Test(since, where_nothing_shows_it_nothing_is_worked)
{
	static const char *const rows[] = {"Row 2: Ch 1, turn, sc in each st across. [30 sc]\nRep Row 2 until armhole measures 5 cm.\n",
		"Row 2: Ch 1, turn, sc2tog, sc in each st to last 2 sts, sc2tog. [28 sc]\n"
		"Row 3: Ch 1, turn, sc2tog, sc in each st to last 2 sts, sc2tog. [26 sc]\nWork even until armhole measures 5 cm.\n",
		"Row 2: Ch 1, turn, sc in each st across. [30 sc]\nRep Row 2 until piece measures 5 cm from the marker.\n"};
	for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
		tb_case c = work(rows[i]);
		cr_expect_not_null(find_fault(&c, "measure-from"), "%s", rows[i]);
		cr_expect_eq(of(&c)->reached_count, 0);
		tb_case_finish(&c);
	}
}

/* 5 rows first, and 7 cm from here; at the beginning of a piece "for 7 cm" is all of it. */
Test(since, for_a_length_is_from_here)
{
	static const struct {
		const char *rows;
		guint32 count;
	} cases[] = {{"Rows 2-5: Ch 1, turn, sc in each st across. [30 sc]\nWork even in sc for 7 cm.\n", 12},
		{"Rows 2-5: Ch 1, turn, sc in each st across. [30 sc]\nWork even in sc for 7 cm more.\n", 12},
		{"Row 2: Ch 1, turn, sc in each st across. [30 sc]\nRep Row 2 for 7 cm.\n", 7},
		{"Row 2: Ch 1, turn, sc in each st across. [30 sc]\nRep Row 2 for 7 cm.\nRep Row 2 for another 5 cm.\n", 12}};
	for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
		tb_case c = work(cases[i].rows);
		expect_sound(&c);
		cr_expect_eq(of(&c)->row_count - 1, cases[i].count, "%s: %u", cases[i].rows, of(&c)->row_count - 1);
		tb_case_finish(&c);
	}
}

/* 6 rows of cuff, and 10 cm above it. */
Test(since, what_is_measured_from_the_top_of_a_part)
{
	tb_case c = tb_case_read("test.txt", "Title: T\nGauge: 10 sts and 10 rows = 10 cm\n\nSLEEVE\nCuff\nCh 31.\n"
		"Row 1: Sc in 2nd ch from hook and in each ch across. [30 sc]\n"
		"Rows 2-6: Ch 1, turn, sc in BLO of each st across. [30 sc]\nArm\n"
		"Row 7: Ch 1, turn, sc in each st across. [30 sc]\nRep Row 7 until sleeve measures 10 cm from top of cuff.\n");
	expect_sound(&c);
	cr_expect_eq(of(&c)->row_count - 1, 16);
	tb_case_finish(&c);
}

/* A row of sc is 1 cm by this gauge, and one of dc, three chains high, 3 cm. */
Test(gauge, counted_in_a_stitch_it_measures_rows_of_others_by_their_height)
{
	static const char *const heads[] = {"10 sc and 10 rows = 10 cm", "10 sts and 10 rows = 10 cm in sc",
		"In single crochet, 10 sts and 10 rows = 10 cm", "10 sts and 10 rows of sc = 10 cm",
		"10 cm = 10 sts and 10 rows, working in sc", "10 sc x 10 rows = 10 cm square"};
	for (size_t i = 0; i < G_N_ELEMENTS(heads); i++) {
		g_autofree char *text = g_strdup_printf("Title: T\nGauge: %s\n\nSCARF\nCh 32.\n"
			"Row 1: Dc in 4th ch from hook and in each ch across. [30 dc]\n"
			"Row 2: Ch 3, turn, dc in next st and in each st across. [30 dc]\nRep Row 2 until piece measures 30 cm.\n", heads[i]);
		tb_case c = tb_case_read("test.txt", text);
		expect_sound(&c);
		cr_expect_eq(of(&c)->row_count - 1, 10, "%s: %u", heads[i], of(&c)->row_count - 1);
		EXPECT_MM(of(&c)->length_mm, 300);
		tb_case_finish(&c);
	}
}

/* "In pattern" and "4 in square" name no stitch: the gauge is that of the piece's own rows. */
Test(gauge, counted_in_pattern_it_measures_the_rows_there_are)
{
	static const char *const heads[] = {"10 sts and 10 rows = 10 cm in pattern", "10 sts and 10 rows = 10 cm square",
		"10 sts x 10 rows = 10 cm over pattern", "10 sts and 10 rows = 10 cm, with a 4 mm hook"};
	for (size_t i = 0; i < G_N_ELEMENTS(heads); i++) {
		g_autofree char *text = g_strdup_printf("Title: T\nGauge: %s\n\nSCARF\nCh 32.\n"
			"Row 1: Dc in 4th ch from hook and in each ch across. [30 dc]\n"
			"Row 2: Ch 3, turn, dc in next st and in each st across. [30 dc]\nRep Row 2 until piece measures 30 cm.\n", heads[i]);
		tb_case c = tb_case_read("test.txt", text);
		cr_expect_eq(of(&c)->row_count - 1, 30, "%s: %u", heads[i], of(&c)->row_count - 1);
		tb_case_finish(&c);
	}
}

/* 4 rows of sc at 20 to 4 in, 0.8 in, and 12 of the pattern at 12 to 4 in, 4 in. */
Test(gauge, each_of_two_measures_its_own_rows)
{
	static const char *const heads[] = {
		"In sc, 16 sts and 20 rows = 4\". In pattern (Rows 5 and 6), 16 sts and 12 rows = 4\". Check both.",
		"16 sts and 20 rows = 4 in in sc; 16 sts and 12 rows = 4 in over Rows 5-6",
		"16 sts and 20 rows = 4 in in sc, 16 sts and 12 rows = 4 in in pattern"};
	for (size_t i = 0; i < G_N_ELEMENTS(heads); i++) {
		g_autofree char *text = g_strdup_printf("Title: T\nGauge: %s\n\nPANEL\nCh 33.\n"
			"Row 1: Sc in 2nd ch from hook and in each ch across, turn. [32 sts]\n"
			"Rows 2-4: Ch 1, sc in each st across, turn. [32 sts]\n"
			"Row 5: Ch 1, *sc in next st, dc in next st; rep from * across, turn. [32 sts]\n"
			"Row 6: Ch 1, *sc in next dc, dc in next sc; rep from * across, turn. [32 sts]\n"
			"Rows 7-16: Rep Row 6. [32 sts]\n", heads[i]);
		tb_case c = tb_case_read("test.txt", text);
		expect_sound(&c);
		cr_expect(fabs(of(&c)->length_mm - 4.8 * TB_MM_PER_INCH) < 1e-6, "%s: %g in", heads[i],
			of(&c)->length_mm / TB_MM_PER_INCH);
		tb_case_finish(&c);
	}
}
