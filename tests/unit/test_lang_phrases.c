/* How designers and books phrase it: every case must read cleanly and count what it says. */
#include "counts.h"

#include <criterion/criterion.h>

typedef struct {
	const char *start, *rows;
	guint32 row, count;
} phrase_case;

static void expect_cases(const char *terms, const phrase_case *cases, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		g_autofree char *text = g_strdup_printf("Title: T\nTerms: %s\nGauge: 12 sts and 9 rows = 10 "
												"cm\n\nSWATCH\n%s\n%s\n",
			terms, cases[i].start, cases[i].rows);
		tb_case c = tb_case_read("test.txt", text);
		g_autofree char *faults = tb_case_faults(&c);
		cr_expect_str_empty(faults, "%s\n%s", cases[i].rows, faults);
		cr_expect_eq(count_row(&c, 0, cases[i].row), cases[i].count, "%s\n%u, not %u",
			cases[i].rows, count_row(&c, 0, cases[i].row), cases[i].count);
		tb_case_finish(&c);
	}
}

static const char sc_row[] = "Row 1: Sc in 2nd ch from hook and in each ch across.\n";

static void expect_after_sc(const char *const *rows, const guint32 *counts, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		g_autofree char *both = g_strconcat(sc_row, "Row 2: ", rows[i], NULL);
		const phrase_case one = {"Ch 13.", both, 2, counts[i]};
		expect_cases("US", &one, 1);
	}
}

/* Dots behind shortened words, as older US books write them (common practice). */
Test(phrases, shortened_words_with_dots)
{
	static const char *const rows[] = {
		"Ch. 3, turn, sk. first st., d.c. in next 11 st.",
		"Ch 1, turn, s. c. in next 11 sts., sl. st. in next st.",
		"Ch. 1, turn, s.c. in each st. across. Fasten off and weave in ends.",
		"Ch 3, turn, dc in each sc across, working last dc in last st.",
		"Ch 1, turn, sc-BLO in each st across. 12 sc.",
		"Ch 1, turn, sc in next 3 sts, 1 sc in rem 9 sts, place marker.",
		"Ch 1, turn, sc in each st across, do not fasten off. [12 sts, counting all]",
	};
	static const guint32 counts[] = {12, 12, 12, 12, 12, 12, 12};
	expect_after_sc(rows, counts, G_N_ELEMENTS(rows));
}

Test(phrases, places)
{
	static const phrase_case cases[] = {
		{"Ch 12.",
			"Row 1: Dc in 6th ch from hook, *ch 1, sk next ch, dc in next ch; rep from * across.\n"
			"Row 2: Ch 1, turn, sc in each dc and ch-1 sp across.",
			2, 9},
		{"Ch 12.",
			"Row 1: Dc in 6th ch from hook, *ch 1, sk next ch, dc in next ch; rep from * across.\n"
			"Row 2: Ch 1, turn, sc in each dc and in each ch-1 sp across.",
			2, 9},
		{"Ch 12.",
			"Row 1: Dc in 6th ch from hook, *ch 1, sk next ch, dc in next ch; rep from * across.\n"
			"Row 2: Ch 1, turn, sk first dc and ch-1 sp, sc in next dc, leave rem sts unworked.",
			2, 1},
		{"Ch 11.",
			"Row 1: Sc in 2nd ch from hook and in each ch across.\n"
			"Row 2: Ch 1, turn, sc2tog over first 2 sts, sc in next 6 sts, sc2tog over last 2 sts.",
			2, 8},
		{"Ch 4, join with sl st to form a ring.",
			"Rnd 1: Ch 3, 2 dc in ring, ch 2, [3 dc in ring, ch 2] 3 times, join with sl st in top "
			"of ch-3.\n"
			"Rnd 2: Sl st to next ch-2 sp, ch 3, (2 dc, ch 2, 3 dc) in same sp, [(3 dc, ch 2, 3 dc) "
			"in next corner] 3 times, join with sl st in top of ch-3. [24 dc, 4 ch-2 sps]\n"
			"Rnd 3: Ch 3, dc in each st to corner sp, *(2 dc, ch 2, 2 dc) in corner ch-2 sp, dc in "
			"each st to next ch-2 sp; rep from * 2 more times, (2 dc, ch 2, 2 dc) in ch-2 sp, dc in "
			"each st around, join. [40 dc]",
			3, 48},
		{"Ch 15.",
			"Row 1: (2 dc, ch 1, 2 dc) in 6th ch from hook, *sk next 3 ch, (2 dc, ch 1, 2 dc) in "
			"next ch; rep from * to last 5 ch, sk next 4 ch, dc in last ch.\n"
			"Row 2: Ch 3, turn, (2 dc, ch 1, 2 dc) in each ch-1 sp across, dc in top of tch.",
			2, 12},
		{"Ch 13.", "Row 1: Sc in 3rd ch from hook (2 skipped ch count as sc) and in each ch across.",
			1, 12},
	};
	expect_cases("US", cases, G_N_ELEMENTS(cases));
}

/* UK: figures before, "1-ch sp", "miss", "into" (trade tables 1c and 7). */
Test(phrases, uk)
{
	static const phrase_case cases[] = {
		{"Ch 12.",
			"Row 1: 1 dc into 2nd ch from hook, 1 dc into each ch to end.\n"
			"Row 2: 1 ch, turn, 1 dc into first dc, *1 ch, miss 1 dc, 1 dc into next dc; rep from * "
			"to end.\n"
			"Row 3: 1 ch, turn, 1 dc in each dc and 1-ch sp to end.\n"
			"Row 4: 4 ch (counts as 1 tr, 1 ch), turn, miss first 2 sts, 1 tr in next st, *1 ch, miss "
			"1 st, 1 tr in next st; rep from * to end.",
			4, 11},
	};
	expect_cases("UK", cases, G_N_ELEMENTS(cases));
}

/* The last time a repeat is worked, its last stitches are others (trade tables 1b). */
Test(phrases, the_last_repeat)
{
	static const phrase_case cases[] = {
		{"Ch 14.",
			"Row 1: Sc in 2nd ch from hook, *sk next 2 ch, 5 dc in next ch, sk next 2 ch, sc in next "
			"ch; rep from * across.\n"
			"Row 2: Ch 3 (counts as dc), turn, 2 dc in first sc, *sk next 2 dc, sc in next dc, sk "
			"next 2 dc, 5 dc in next sc; rep from * to end, ending last rep with 3 dc in last sc.",
			2, 13},
		/* Ridged chevron over 12 (trade tables 5, no. 19). */
		{"Ch 27.",
			"Row 1: Dc in 4th ch from hook, *dc in each of next 3 ch, [dc2tog over next 2 ch] twice, "
			"dc in each of next 3 ch, [2 dc in next ch] twice; rep from * to end, ending last rep "
			"with 2 dc in last ch.",
			1, 24},
	};
	expect_cases("US", cases, G_N_ELEMENTS(cases));
}

/* Six open trebles are closed at once [EN, raised stitch with dots, fig. 430], and so are two. */
Test(phrases, clusters_spelled_out)
{
	tb_case c = tb_case_rows("", "Ch 14.",
		"Row 1: Sc in 2nd ch from hook and in each ch across.\n"
		"Row 2: Ch 3, turn, sk first st, *3 dc in next sc keeping last loop of each on hook, yo and "
		"draw through all loops on hook, dc in next 2 sc, holding back last loop of each st, thread "
		"over and draw through all 3 loops on hook; rep from * across.");
	expect_sound(&c);
	cr_expect_eq(count_row(&c, 0, 2), 9);
	cr_expect_eq(count_kind(&c, 0, 2, "3-dc cl"), 4);
	cr_expect_eq(count_kind(&c, 0, 2, "dc2tog"), 4);
	tb_case_finish(&c);
}

Test(phrases, starts)
{
	static const phrase_case cases[] = {
		{"Ch 36 and join with sl st to form a ring, being careful not to twist.",
			"Rnd 1: Ch 1, sc in each ch around, do not join. [36 sc]\n"
			"Rnd 2: Sc in each st around, sl st in next st. [36 sc]\n"
			"Rnd 3: Ch 3, dc in each st around, sl st in top of ch-3. [36 dc]",
			3, 36},
		{"Magic ring.", "Rnd 1: 6 sc in magic ring. [6 sc]\nRnd 2: 2 sc in each st around.", 2, 12},
		{"Ch 4, join with sl st to form a ring.",
			"Rnd 1: In ring, ch 3, 11 dc, join with sl st in top of ch-3. (12 dc, counting ch-3 as 1 "
			"dc)",
			1, 12},
	};
	expect_cases("US", cases, G_N_ELEMENTS(cases));
	tb_case c = tb_case_rows("", "Fsc 20.", "Row 1: Ch 1, turn, sc in each st across.");
	expect_sound(&c);
	cr_expect_eq(count_row(&c, 0, 1), 20);
	tb_case_finish(&c);
}

/* A picot is an ornament: it takes no stitch and is none (common practice). */
Test(phrases, picots_are_not_counted)
{
	static const char *const rows[] = {
		"Ch 1, turn, sc in next 3 sts, picot, sc in next 9 sts.",
		"Ch 1, turn, sc in next 3 sts, ch 3, sl st in 3rd ch from hook, sc in next 9 sts.",
	};
	for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
		g_autofree char *both = g_strconcat(sc_row, "Row 2: ", rows[i], NULL);
		tb_case c = tb_case_rows("", "Ch 13.", both);
		expect_sound(&c);
		cr_expect_eq(count_row(&c, 0, 2), 12);
		cr_expect_eq(count_kind(&c, 0, 2, "ch-3 picot"), 1);
		tb_case_finish(&c);
	}
}

Test(phrases, rows_written_once_and_worked_again)
{
	static const char again[] = "Ch 1, turn, sc in each st across.\n";
	g_autofree char *listed = g_strconcat(sc_row, "Rows 2, 4 and 6: ", again,
		"Row 3: Ch 3, turn, dc in each st across.\n"
		"Row 5 (dec row): Ch 1, turn, sc2tog over first 2 sts, sc in each st across.\n"
		"Row 7: Ch 3, turn, dc in each st across.",
		NULL);
	g_autofree char *every = g_strconcat(sc_row, "Row 2 and all even-numbered rows: ", again,
		"Row 3: Ch 3, turn, dc in each st across.\n"
		"Row 5: Ch 3, turn, dc in each st across.\nRep Rows 3-6 once.",
		NULL);
	tb_case c = tb_case_rows("", "Ch 13.", listed);
	expect_sound(&c);
	cr_expect_eq(count_row(&c, 0, 4), 12);
	cr_expect_eq(count_row(&c, 0, 6), 11);
	cr_expect_eq(count_kind(&c, 0, 6, "sc"), 11);
	tb_case_finish(&c);
	c = tb_case_rows("", "Ch 13.", every);
	expect_sound(&c);
	cr_expect_eq(count_kind(&c, 0, 10, "sc"), 12);
	cr_expect_eq(count_row(&c, 0, 11), G_MAXUINT32);
	tb_case_finish(&c);
}

Test(phrases, a_foundation_row_has_no_number)
{
	tb_case c = tb_case_rows("", "Ch 13.",
		"Foundation row (WS): Sc in 2nd ch from hook and in each ch across.\n"
		"Row 1 (RS): Ch 1, turn, sc in each st across.\nRows 2-4: Rep Row 1.");
	expect_sound(&c);
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	cr_expect_eq(fabric->row_count, 6);
	cr_expect_eq(fabric->rows[1].number, 0);
	cr_expect_eq(count_row(&c, 0, 4), 12);
	tb_case_finish(&c);
	c = tb_case_rows("", "Ch 13.",
		"Set-up row: Sc in 2nd ch from hook and in each ch across.\n"
		"Row 2: Ch 1, turn, sc in each st across.");
	expect_sound(&c);
	cr_expect_eq(count_row(&c, 0, 1), 12);
	tb_case_finish(&c);
}

Test(phrases, as_many_rows_as_each_size_has)
{
	tb_case c = tb_case_rows("S, M, L", "Ch 13.",
		"Row 1: Sc in 2nd ch from hook and in each ch across.\n"
		"Rows 2-4 (6, 8): Ch 1, turn, sc in each st across.\n"
		"Next row: Ch 1, turn, sc in each st across.");
	expect_sound(&c);
	static const guint32 rows[] = {5, 7, 9};
	for (unsigned size = 0; size < 3; size++)
		cr_expect_eq(tb_worked_fabric(c.worked, 0, size)->row_count - 1, rows[size]);
	tb_case_finish(&c);
}

/* Two legs closed together, the stitch behind missed, 3 plain between [EN, fig. 429]. */
Test(phrases, one_stitch_around_two_posts)
{
	tb_case c = tb_case_rows("", "Ch 26.",
		"Row 1 (WS): Sc in 2nd ch from hook and in each ch across.\n"
		"Rows 2-3: Ch 1, turn, sc in each st across.\n"
		"Row 4: Ch 1, turn, sc in next 3 sts, *FPtr2tog around next 2 sts 3 rows below, sc in next 3 "
		"sts; rep from * to last 2 sts, sc in last 2 sts.");
	expect_sound(&c);
	cr_expect_eq(count_row(&c, 0, 4), 25);
	cr_expect_eq(count_kind(&c, 0, 4, "FPtr2tog"), 5);
	const tb_made *raised = made_in(&c, 0, 4, 4);
	cr_expect_eq(raised->base_count, 2);
	cr_expect_neq(raised->behind, TB_NONE);
	tb_case_finish(&c);
	/* one row down it is a decrease, and around each of two it is two */
	c = tb_case_rows("", "Ch 14.",
		"Row 1: Dc in 4th ch from hook and in each ch across.\n"
		"Row 2: Ch 3, turn, FPdc2tog around next 2 sts, dc in each st across.\n"
		"Row 3: Ch 3, turn, FPdc2tog around each of next 2 sts, dc in each st across.");
	expect_sound(&c);
	cr_expect_eq(count_row(&c, 0, 2), 11);
	cr_expect_eq(count_row(&c, 0, 3), 11);
	tb_case_finish(&c);
}

/* Ribbing is worked as it comes: front around front, back around back (common practice). */
Test(phrases, each_kind_in_its_own_way)
{
	tb_case c = tb_case_rows("", "Ch 14.",
		"Row 1: Dc in 4th ch from hook and in each ch across.\n"
		"Row 2: Ch 3, turn, *FPdc around next st, BPdc around next st; rep from * to last st, dc in "
		"last st.\n"
		"Row 3: Ch 3, turn, FPdc around each FPdc and BPdc around each BPdc to last st, dc in last "
		"st.");
	expect_sound(&c);
	cr_expect_eq(count_row(&c, 0, 3), 12);
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	for (guint32 i = 1; i < 11; i++) {
		const tb_made *post = made_in(&c, 0, 3, i);
		cr_expect_eq(post->stitch, fabric->made[tb_fabric_base(fabric, post, 0)].stitch, "%u", i);
	}
	tb_case_finish(&c);
}

Test(phrases, yarn_is_joined_at_a_numbered_stitch)
{
	tb_case c = tb_case_rows("S, M", "Ch 21 (25).",
		"Row 1: Sc in 2nd ch from hook and in each ch across. Fasten off.\n"
		"Row 2: Turn, join yarn in st 6 (8), ch 1, sc in next 10 sts, leave next 5 (7) sts unworked. "
		"[10 sts]");
	expect_sound(&c);
	cr_expect_eq(count_row(&c, 0, 2), 10);
	cr_expect_eq(count_row(&c, 1, 2), 10);
	tb_case_finish(&c);
}
