/*
 * Rows written from worked fabric: the wording of runs, edges, repeats and sizes. Whether they are
 * right is what test_round_trip.c checks; here it is how they are said. Counts are arithmetic.
 */
#include "../support/support.h"

#include <tambour/rows.h>

#include <criterion/criterion.h>
#include <string.h>

/* The lines written for a worked pattern, without the start and without the empty one at the end. */
static void expect_rows(const char *sizes, const char *start, const char *rows, int size,
	const char *wanted)
{
	tb_case c = tb_case_rows(sizes, start, rows);
	g_autofree char *faults = tb_case_faults(&c);
	cr_assert_eq(tb_diagnostics_count_errors(c.diagnostics), 0, "%s", faults);
	g_autofree char *text = tb_rows_text(c.worked, 0, size, false);
	cr_expect_str_eq(text, wanted);
	tb_case_finish(&c);
}

Test(compose, plain_rows)
{
	expect_rows("", "Ch 12", "Row 1 (RS): Dc in 4th ch from hook, dc in next 8 chs, turn.\n"
		"Row 2: Ch 1, sc in next 10 sts, turn.\n"
		"Row 3: Ch 3, dc in next 8 sts, dc in last st, turn.", -1,
		"Ch 12.\n"
		"Row 1 (RS): Dc in 4th ch from hook (3 skipped chs count as dc) and in each ch across, "
		"turn. [10 sts]\n"
		"Row 2 (WS): Ch 1 (does not count as st), sc in each st across, turn. [10 sts]\n"
		"Row 3 (RS): Ch 3 (counts as dc), sk first st, dc in each st across. [10 sts]\n");
}

/* A unit that stands in every size, once more or less often, needs no bracket. */
Test(compose, repeat_common_to_sizes)
{
	const char *rows = "Row 1 (RS): Dc in 4th ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 1, sc in each st across, turn.\n"
		"Row 3: Ch 3, dc in next 2 sts, *FPdc2tog around st 2 rows below, dc in next 3 sts; rep from "
		"* across, turn.\n"
		"Row 4: Ch 1, sc in each st across. Fasten off.";
	const char *head = "Row 1 (RS): Dc in 4th ch from hook (3 skipped chs count as dc) and in each ch "
		"across, turn. ";
	g_autofree char *all = g_strconcat("Ch 9 (13, 21).\n", head, "[7 (11, 19) sts]\n",
		"Row 2 (WS): Ch 1 (does not count as st), sc in each st across, turn. [7 (11, 19) sts]\n"
		"Row 3 (RS): Ch 3 (counts as dc), sk first st, dc in next 2 sts, *FPdc2tog around st 2 rows "
		"below, dc in next 3 sts; rep from * across, turn. [7 (11, 19) sts]\n"
		"Row 4 (WS): Ch 1 (does not count as st), sc in each st across. [7 (11, 19) sts] Fasten "
		"off.\n", NULL);
	expect_rows("S, M, L", "Ch 9 (13, 21)", rows, -1, all);
	g_autofree char *one = g_strconcat("Ch 21.\n", head, "[19 sts]\n",
		"Row 2 (WS): Ch 1 (does not count as st), sc in each st across, turn. [19 sts]\n"
		"Row 3 (RS): Ch 3 (counts as dc), sk first st, dc in next 2 sts, *FPdc2tog around st 2 rows "
		"below, dc in next 3 sts; rep from * across, turn. [19 sts]\n"
		"Row 4 (WS): Ch 1 (does not count as st), sc in each st across. [19 sts] Fasten off.\n", NULL);
	expect_rows("S, M, L", "Ch 9 (13, 21)", rows, 2, one);
}

/* Far from the edge a repeat says how often; runs of other lengths stand in brackets. */
Test(compose, panel_between_plain_edges)
{
	expect_rows("S, L", "Ch 31 (39)", "Row 1 (RS): Sc in 2nd ch from hook and in each ch across.\n"
		"Row 2: Ch 1, sc in next 10 (12) sts, [FPdc around next st, sc in next st] 5 (7) times, sc in "
		"next 10 (12) sts.", -1,
		"Ch 31 (39).\n"
		"Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn. [30 (38) sts]\n"
		"Row 2 (WS): Ch 1 (does not count as st), sc in next 9 (11) sts, [sc in next st, FPdc around "
		"next st] 5 (7) times, sc in each st across. [30 (38) sts]\n");
}

Test(compose, shaping_edges)
{
	expect_rows("S, L", "Ch 21 (25)", "Row 1 (RS): Sc in 2nd ch from hook and in each ch across.\n"
		"Row 2: Ch 1, sc2tog over next 2 sts, sc in each st to last 2 sts, sc2tog over next 2 sts.\n"
		"Row 3: Ch 1, 2 sc in next st, sc in each st to last st, 2 sc in last st.\n", -1,
		"Ch 21 (25).\n"
		"Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn. [20 (24) sts]\n"
		"Row 2 (WS): Ch 1 (does not count as st), sc2tog over next 2 sts, sc in each st to last 2 "
		"sts, sc2tog over next 2 sts, turn. [18 (22) sts]\n"
		"Row 3 (RS): Ch 1 (does not count as st), 2 sc in next st, sc in each st to last st, 2 sc in "
		"last st. [20 (24) sts]\n");
}

/* Filet of W = 2k + 1 with ch 1 begins in the 6th chain: W + 3 chains (trade-tables 3b). */
Test(compose, mesh_and_spaces)
{
	expect_rows("", "Ch 16", "Row 1 (RS): Dc in 6th ch from hook, *ch 1, sk next ch, dc in next ch; "
		"rep from * across, turn.\n"
		"Row 2: Ch 1, sc in next st, *sc in next ch-1 sp, sc in next st; rep from * across, turn.\n"
		"Row 3: Ch 4 (counts as dc, ch 1), sk first 2 sts, *dc in next st, ch 1, sk next st; rep from "
		"* to last st, dc in last st, turn.\n"
		"Row 4: Ch 3, 2 dc in each ch-1 sp across, dc in top of tch.", -1,
		"Ch 16.\n"
		"Row 1 (RS): Dc in 6th ch from hook (5 skipped chs count as dc), *ch 1, sk next ch, dc in "
		"next ch; rep from * across, turn. [13 sts]\n"
		"Row 2 (WS): Ch 1 (does not count as st), sc in next st, *sc in next ch-1 sp, sc in next st; "
		"rep from * across, turn. [13 sts]\n"
		"Row 3 (RS): Ch 3 (counts as dc), sk first st, *ch 1, sk next st, dc in next st; rep from * "
		"across, turn. [13 sts]\n"
		"Row 4 (WS): Ch 3 (counts as dc), sk first st, 2 dc in each of next 6 ch-1 sps, dc in top of "
		"tch. [14 sts]\n");
}

/* Rows made like a block before them are said as its repeat. */
Test(compose, rows_again)
{
	expect_rows("S, L", "Ch 10", "Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 3, dc in each st across, turn.\n"
		"Row 3: Ch 1, sc in each st across, turn.\n"
		"Rep Rows 2-3 3 (5) times.\n", -1,
		"Ch 10.\n"
		"Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn. [9 sts]\n"
		"Row 2 (WS): Ch 3 (counts as dc), sk first st, dc in each st across, turn. [9 sts]\n"
		"Row 3 (RS): Ch 1 (does not count as st), sc in each st across, turn. [9 sts]\n"
		"Rep Rows 2-3 3 (5) times.\n");
	expect_rows("", "Ch 10", "Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 3, dc in each st across, turn.\n"
		"Row 3: Ch 1, sc in each st across, turn.\n"
		"Row 4: Ch 3, dc in each st across, turn.\n"
		"Row 5: Ch 1, sc in each st across, turn.\n"
		"Row 6: Ch 3, dc in each st across, turn.\n", -1,
		"Ch 10.\n"
		"Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn. [9 sts]\n"
		"Row 2 (WS): Ch 3 (counts as dc), sk first st, dc in each st across, turn. [9 sts]\n"
		"Row 3 (RS): Ch 1 (does not count as st), sc in each st across, turn. [9 sts]\n"
		"Rows 4-6: Rep Rows 2-3.\n");
}

/* Sizes that one text cannot say are said apart, and only there. */
Test(compose, sizes_apart)
{
	expect_rows("S, M, L", "Ch 21 (25, 29)",
		"Row 1 (RS): Sc in 2nd ch from hook and in each ch across.\n"
		"Row 2: Ch 1, size L only: 2 sc in next st; sc in each st across.\n"
		"Row 3 (sizes M and L only): Ch 1, sc in each st across.\n", -1,
		"Ch 21 (25, 29).\n"
		"Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn. [20 (24, 28) sts]\n"
		"Row 2 (WS) (sizes S and M only): Ch 1 (does not count as st), sc in each st across, turn. "
		"[20 (24, -) sts]\n"
		"Row 2 (WS) (size L only): Ch 1 (does not count as st), 2 sc in next st, sc in each st across, "
		"turn. [29 sts]\n"
		"Row 3 (RS) (sizes M and L only): Ch 1 (does not count as st), sc in each st across. "
		"[- (24, 29) sts]\n");
}

/* Flat disc in dc: 12, 24, 36 (trade-facts, Counting). */
Test(compose, rounds)
{
	expect_rows("", "Ch 4, join with sl st to form a ring.",
		"Rnd 1: Ch 3, 11 dc in ring, join with sl st in top of ch-3.\n"
		"Rnd 2: Ch 3, dc in same st, 2 dc in each st around, join with sl st in top of ch-3.\n"
		"Rnd 3: Ch 3, dc in same st, dc in next st, *2 dc in next st, dc in next st; rep from * "
		"around, join with sl st in top of ch-3.\n", -1,
		"Ch 4, join with sl st to form a ring.\n"
		"Rnd 1 (RS): Ch 3 (counts as dc), 11 dc in ring, join with sl st in top of beg ch-3. [12 sts]\n"
		"Rnd 2 (RS): Ch 3 (counts as dc), dc in same st, 2 dc in each st around, join with sl st in "
		"top of beg ch-3. [24 sts]\n"
		"Rnd 3 (RS): Ch 3 (counts as dc), dc in same st, dc in next st, *2 dc in next st, dc in next "
		"st; rep from * around, join with sl st in top of beg ch-3. [36 sts]\n");
}

/* UK dc is US sc, UK tr is US dc (Craft Yarn Council). */
Test(compose, uk_terms)
{
	tb_case c = tb_case_rows("", "Ch 12", "Row 1 (RS): Dc in 4th ch from hook and in each ch across.\n"
		"Row 2: Ch 1, sc in next 2 sts, sk next 2 sts, FPdc around each of next 2 sts, FPdc around each "
		"of 2 skipped sts, sc in each st across.");
	g_autofree char *text = tb_rows_text(c.worked, 0, -1, true);
	cr_expect_str_eq(text, "Ch 12.\n"
		"Row 1 (RS): Tr in 4th ch from hook (3 missed chs count as tr) and in each ch across, turn. "
		"[10 sts]\n"
		"Row 2 (WS): Ch 1 (does not count as st), dc in next 2 sts, miss next 2 sts, FPtr around each "
		"of next 2 sts, working in front of sts just made, FPtr around each of next 2 missed sts, dc "
		"in each st across. [10 sts]\n");
	tb_case_finish(&c);
}

/* What the last repeat ends with stands for both groups, or for the second: whichever makes the row come out. */
Test(compose, last_repeat_ends_otherwise)
{
	expect_rows("", "Ch 15", "Row 1 (RS): Dc in 4th ch from hook, *dc in next 2 ch, (3 dc in next ch) twice; rep from * across, "
		"ending last rep with 3 dc in last ch.", -1,
		"Ch 15.\n"
		"Row 1 (RS): Dc in 4th ch from hook (3 skipped chs count as dc), *dc in next 2 chs, 3 dc in each of next 2 chs; "
		"rep from * to last 3 sts, dc in next 2 chs, 3 dc in last ch. [23 sts]\n");
	expect_rows("", "Ch 16", "Row 1 (RS): Dc in 4th ch from hook, *dc in next 2 ch, (3 dc in next ch) twice; rep from * across, "
		"ending last rep with tr in last ch.", -1,
		"Ch 16.\n"
		"Row 1 (RS): Dc in 4th ch from hook (3 skipped chs count as dc), *dc in next 2 chs, 3 dc in each of next 2 chs; "
		"rep from * to last 4 sts, dc in next 2 chs, 3 dc in next ch, tr in last ch. [24 sts]\n");
}

/* A plain stitch in the top of one that has a post stitch around it is in no group with that, which would go around too. */
Test(compose, a_post_stitch_and_a_plain_one_in_the_same)
{
	expect_rows("", "Ch 10", "Row 1 (RS): Dc in 4th ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 3, *FPdc around next st, dc in same st; rep from * to last st, dc in last st.", -1,
		"Ch 10.\n"
		"Row 1 (RS): Dc in 4th ch from hook (3 skipped chs count as dc) and in each ch across, turn. [8 sts]\n"
		"Row 2 (WS): Ch 3 (counts as dc), sk first st, *FPdc around next st, dc in same st; rep from * to last st, "
		"dc in top of tch. [14 sts]\n");
}

/* What is worked in the corners of a border lies along no row, and only its own words keep it. */
Test(compose, corners_of_a_border_are_kept)
{
	expect_rows("", "Ch 9", "Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 1, sc in each sc across, turn.\n"
		"Rnd 3: Ch 1, sc evenly around, working 3 sc in each corner, join with sl st in first sc.", -1,
		"Ch 9.\n"
		"Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn. [8 sts]\n"
		"Row 2 (WS): Ch 1 (does not count as st), sc in each st across, turn. [8 sts]\n"
		"Rnd 3 (RS): Ch 1, sc evenly around, 3 sc in each corner around, join with sl st in first sc. [32 sts]\n");
}
