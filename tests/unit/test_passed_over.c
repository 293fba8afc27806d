/*
 * What a row may pass over, and what it may not. Each case is a pair: a row that works or says all that stands below
 * it, and comes out with no word; and the same with a miscount that a designer makes, which is told. The sums stand
 * beside them. That a miscount is a fault, and that lace passes over the stitch beside a space, is common practice.
 */
#include "counts.h"

#include <criterion/criterion.h>

typedef struct {
	const char *start, *rows; /* what is below */
	const char *right, *wrong;
	guint32 number; /* of the row that is right or wrong */
	unsigned makes; /* the stitches of the right one */
	const char *code; /* told of the wrong one */
	tb_severity severity;
} pair;

#define SQUARE \
	"Rnd 1: Ch 3 (counts as dc), 2 dc in ring, ch 2, [3 dc in ring, ch 2] 3 times, join with sl st in top of ch-3.\n"
#define HEXAGON \
	"Rnd 1: Ch 3 (counts as dc), dc in ring, ch 2, [2 dc in ring, ch 2] 5 times, join with sl st in top of ch-3.\n" \
	"Rnd 2: Ch 3 (counts as dc), dc in next st, (dc, ch 2, dc) in next ch-2 sp, [dc in next 2 sts, (dc, ch 2, dc) in " \
	"next ch-2 sp] 5 times, join with sl st in top of ch-3.\n"
#define TWENTY "Row 1: Sc in 2nd ch from hook and in each ch across, turn. [20 sc]\n"

static const pair pairs[] = {
	/* a round is worked to its end: 1 + 4 × 5 = 21 of 21, and 1 + 4 × 4 = 17 of 20 */
	{"Magic ring.", "Rnd 1: Ch 3, 20 dc in ring, join in top of ch-3. [21 dc]\n",
		"Rnd 2: Ch 3, *dc in next 3 dc, 2 dc in next dc; rep from * around, join in top of ch-3.",
		NULL, 2, 26, NULL, TB_NOTE},
	{"Magic ring.", "Rnd 1: Ch 3, 19 dc in ring, join in top of ch-3. [20 dc]\n",
		"Rnd 2: Ch 3, dc in next 2 dc, 2 dc in next dc, *dc in next 3 dc, 2 dc in next dc; rep from * around, join in top of ch-3.",
		"Rnd 2: Ch 3, *dc in next 3 dc, 2 dc in next dc; rep from * around, join in top of ch-3.", 2, 25, "repeat-leftover", TB_ERROR},
	{"Magic ring.", "Rnd 1: Ch 2 (counts as hdc), 19 hdc in ring, join in top of ch-2. [20 hdc]\n",
		"Rnd 2: Ch 2 (counts as hdc), hdc in next hdc, [hdc2tog, hdc in next hdc] around, join in top of ch-2.",
		"Rnd 2: Ch 2 (counts as hdc), [hdc2tog, hdc in next 2 hdc] around, join in top of ch-2.", 2, 14, "repeat-leftover", TB_ERROR},
	/* 1 + 4 × 4 + 3 = 20: the first increase is the last one's, which has to be said, or counted */
	{"Magic ring.", "Rnd 1: Ch 3, 19 dc in ring, join in top of ch-3. [20 dc]\n",
		"Rnd 2: Ch 3, dc in same st, *dc in next 3 dc, 2 dc in next dc; rep from * around, join in top of ch-3. [25 dc]",
		"Rnd 2: Ch 3, dc in same st, *dc in next 3 dc, 2 dc in next dc; rep from * around, join in top of ch-3.",
		2, 25, "repeat-leftover", TB_WARNING},
	/* a chain over what is skipped leads to the join as to every other stitch: 10 passes of 2, the last without its dc */
	{"Magic ring.", "Rnd 1: Ch 3, 19 dc in ring, join in top of ch-3. [20 dc]\n",
		"Rnd 2: Ch 3, *sk next dc, 2 dc in next dc, ch 1; rep from * around, join in top of ch-3.", NULL, 2, 28, NULL, TB_NOTE},
	/* sides of 4: 3 before the first corner and 1 behind the last */
	{"Ch 5, join with sl st to form a ring.", HEXAGON,
		"Rnd 3: Ch 3 (counts as dc), dc in next 2 sts, (dc, ch 2, dc) in next ch-2 sp, [dc in next 4 sts, (dc, ch 2, dc) in next "
		"ch-2 sp] 5 times, dc in last st, join with sl st in top of ch-3.",
		"Rnd 3: Ch 3 (counts as dc), dc in next 2 sts, (dc, ch 2, dc) in next ch-2 sp, [dc in next 4 sts, (dc, ch 2, dc) in next "
		"ch-2 sp] 5 times, join with sl st in top of ch-3.", 3, 48, "unworked", TB_ERROR},
	/* stitch by stitch up to a space: 12 stand between the two */
	{"Ch 21.", "Row 1: Sc in 2nd ch from hook, sc in next 3 ch, (sc, ch 3, sc) in next ch, sc in next 10 ch, (sc, ch 3, sc) in next "
		"ch, sc in next 4 ch, turn.\n",
		"Row 2: Ch 1, sc in next 5 sc, 5 sc in next ch-3 sp, sc in next 12 sc, 5 sc in next ch-3 sp, sc in next 5 sc, turn.",
		"Row 2: Ch 1, sc in next 5 sc, 5 sc in next ch-3 sp, sc in next 11 sc, 5 sc in next ch-3 sp, sc in next 5 sc, turn.",
		2, 32, "passed-over", TB_WARNING},
	/* … and where shells stand over shells their own legs are passed over */
	{"Ch 13.", "Row 1: Dc in 4th ch from hook, sk 2 ch, (2 dc, ch 1, 2 dc) in next ch, sk 2 ch, dc in next 4 ch, turn.\n",
		"Row 2: Ch 3, dc in next 3 dc, (2 dc, ch 1, 2 dc) in next ch-1 sp, sk 2 dc, dc in next dc, dc in top of tch, turn.",
		NULL, 2, 11, NULL, TB_NOTE},
	{"Ch 4, join with sl st to form a ring.", SQUARE,
		"Rnd 2: Ch 3 (counts as dc), dc in next 2 dc, (2 dc, ch 2, 2 dc) in next ch-2 sp, [dc in next 3 dc, (2 dc, ch 2, 2 dc) in "
		"next ch-2 sp] 3 times, join with sl st in top of ch-3.",
		"Rnd 2: Ch 3 (counts as dc), dc in next 2 dc, (2 dc, ch 2, 2 dc) in next ch-2 sp, [dc in next 2 dc, (2 dc, ch 2, 2 dc) in "
		"next ch-2 sp] 3 times, join with sl st in top of ch-3.", 2, 36, "passed-over", TB_WARNING},
	/* a side that the row began with as well, though only the others show that such stitches are worked */
	{"Ch 4, join with sl st to form a ring.", SQUARE,
		"Rnd 2: Ch 3 (counts as dc), dc in same st, sk next 2 dc, (2 dc, ch 2, 2 dc) in next ch-2 sp, [dc in next 3 dc, (2 dc, ch 2, "
		"2 dc) in next ch-2 sp] 3 times, join with sl st in top of ch-3.",
		"Rnd 2: Ch 3 (counts as dc), dc in same st, (2 dc, ch 2, 2 dc) in next ch-2 sp, [dc in next 3 dc, (2 dc, ch 2, 2 dc) in "
		"next ch-2 sp] 3 times, join with sl st in top of ch-3.", 2, 35, "passed-over", TB_WARNING},
	/* slip stitches to a corner work nothing on their way */
	{"Ch 4, join with sl st to form a ring.", SQUARE,
		"Rnd 2: Sl st in next 2 dc and in next ch-2 sp, ch 3, (2 dc, ch 2, 3 dc) in same sp, [(3 dc, ch 2, 3 dc) in next ch-2 sp] "
		"3 times, join with sl st in top of ch-3.", NULL, 2, 32, NULL, TB_NOTE},
	/* a chain at a row's end is foundation: ch 7 and a first sc in the 2nd are 6 */
	{"Ch 9.", "Row 1: Sc in 2nd ch from hook and in each ch across. At the end of the row ch 7, turn. [8 sc]\n",
		"Row 2: Sc in 2nd ch from hook and in each of next 5 ch, sc in each sc across, turn.",
		"Row 2: Sc in 2nd ch from hook and in each of next 3 ch, sc in each sc across, turn.", 2, 14, "unworked", TB_ERROR},
	{"Ch 9.", "Row 1: Sc in 2nd ch from hook and in each ch across, ch 7, turn. [8 sc]\n",
		"Row 2: Sc in 2nd ch from hook, sc in next 3 ch, sk next 2 ch, sc in next 8 sc, turn.",
		"Row 2: Sc in 2nd ch from hook, sc in next 3 ch, sc in next 8 sc, turn.", 2, 12, "unworked", TB_ERROR},
	{"Ch 21.", TWENTY, "Row 2: Ch 8, sc in 2nd ch from hook and in next 6 ch, sc in each sc across, turn.",
		"Row 2: Ch 8, sc in 2nd ch from hook and in next 5 ch, sc in each sc across, turn.", 2, 27, "unworked", TB_ERROR},
	/* filet made wider by a square: a dc at the edge, and its chain lies over two of those that were added */
	{"Ch 12.", "Row 1: Dc in 4th ch from hook and in each ch across. At the end of the row ch 6, turn. [10 dc]\n",
		"Row 2: Dc in 4th ch from hook, ch 2, dc in next dc, dc in each of next 8 dc, dc in top of tch.", NULL, 2, 14, NULL, TB_NOTE},
	/* between the spaces stand 8 */
	{"Ch 21.", "Row 1: Sc in 2nd ch from hook, sc in next 5 ch, ch 2, sc in next 8 ch, ch 2, sc in next 6 ch, turn.\n",
		"Row 2: Ch 1, sc in next 6 sc, ch 3, sk next ch-2 sp, next 8 sc and next ch-2 sp, sc in next 6 sc.",
		"Row 2: Ch 1, sc in next 6 sc, ch 3, sk next ch-2 sp, next 7 sc and next ch-2 sp, sc in next 6 sc.", 2, 15, "unworked", TB_ERROR},
	/* of loops that lie side by side one is skipped, with the stitch between; not one that lies beyond others */
	{"Ch 21.", "Row 1: Sc in 2nd ch from hook, [ch 4, sk 2 ch, sc in next ch] 3 times, [ch 2, sk next ch, sc in next ch] 5 times, turn.\n",
		"Row 2: Ch 1, sc in first sc, [ch 2, sk next ch-2 sp, sc in next sc] 5 times, [ch 4, sk next ch-4 sp, sc in next sc] 3 times.",
		"Row 2: Ch 1, sc in first sc, ch 2, sk next ch-4 sp, sc in next sc, [ch 4, sk next ch-4 sp, sc in next sc] twice.",
		2, 31, "unworked", TB_ERROR},
	/* 19 have 9 before the one in the middle */
	{"Ch 20.", "Row 1: Sc in 2nd ch from hook and in each ch across, turn. [19 sc]\n",
		"Row 2: Ch 1, sc in next 9 sc, 3 sc in center sc, sc in next 9 sc, turn.",
		"Row 2: Ch 1, sc in next 8 sc, 3 sc in center sc, sc in next 9 sc, turn.", 2, 21, "unworked", TB_ERROR},
	/* the same is one stitch, and not three */
	{"Ch 21.", TWENTY, "Row 2: Ch 1, sc in next 5 sc, 2 sc in same sc, sc in next 15 sc, turn.",
		"Row 2: Ch 1, sc in next 5 sc, sc in same 3 sc, sc in next 12 sc, turn.", 2, 22, "two-readings", TB_WARNING},
	{"Ch 21.", TWENTY, "Row 2: Ch 1, sc in next 5 sc, ch 3, sk next 3 sc, sc in next 12 sc, turn.",
		"Row 2: Ch 1, sc in next 5 sc, ch 3, sk same 3 sc, sc in next 12 sc, turn.", 2, 20, "two-readings", TB_WARNING},
	/* a cable of 3 over 3 picks up all three; who names one of them means that one */
	{"Ch 14.", "Row 1: Dc in 4th ch from hook and in each ch across, turn. [12 dc]\n",
		"Row 2: Ch 3, dc in next 2 dc, sk next 3 dc, FPtr around each of next 3 dc, working in front of sts just made, FPtr around each "
		"of 3 skipped sts, dc in next 2 dc, dc in top of tch.",
		"Row 2: Ch 3, dc in next 2 dc, sk next 3 dc, FPtr around each of next 3 dc, working in front of sts just made, FPtr around each "
		"of 2 skipped sts, dc in next 2 dc, dc in top of tch.", 2, 12, "passed-over", TB_WARNING},
	{"Ch 14.", "Row 1: Dc in 4th ch from hook and in each ch across, turn. [12 dc]\n",
		"Row 2: Ch 3, *sk next 2 dc, dc in next dc, ch 1, dc in first skipped dc; rep from * twice more, dc in next dc, dc in top of tch.",
		NULL, 2, 12, NULL, TB_NOTE},
};

Test(passed_over, the_right_row_comes_out_with_no_word)
{
	for (unsigned i = 0; i < G_N_ELEMENTS(pairs); i++) {
		const pair *p = &pairs[i];
		g_autofree char *rows = g_strconcat(p->rows, p->right, NULL);
		tb_case c = tb_case_rows("", p->start, rows);
		g_autofree char *faults = tb_case_faults(&c);
		cr_expect_eq(tb_diagnostics_count(c.diagnostics), 0, "%s\n%s", p->right, faults);
		cr_expect_eq(count_row(&c, 0, p->number), p->makes, "%s: %u", p->right, count_row(&c, 0, p->number));
		tb_case_finish(&c);
	}
}

Test(passed_over, the_miscount_is_told)
{
	for (unsigned i = 0; i < G_N_ELEMENTS(pairs); i++) {
		const pair *p = &pairs[i];
		if (p->wrong == NULL)
			continue;
		g_autofree char *rows = g_strconcat(p->rows, p->wrong, NULL);
		tb_case c = tb_case_rows("", p->start, rows);
		g_autofree char *faults = tb_case_faults(&c);
		const tb_diagnostic *fault = find_fault(&c, p->code);
		cr_expect(fault != NULL && fault->severity == p->severity, "%s\n%s", p->wrong, faults);
		tb_case_finish(&c);
	}
}

/* "Sc in first ch-1 sp" amid a round is the first that comes; the round does not close there. */
Test(passed_over, a_round_that_goes_on_is_not_closed)
{
	tb_case c = tb_case_rows("", "Ch 4, join with sl st to form a ring.",
		"Rnd 1: Ch 3 (counts as dc), dc in ring, ch 2, [2 dc in ring, ch 1, 2 dc in ring, ch 2] twice, 2 dc in ring, ch 1, join with "
		"sl st in top of ch-3.\n"
		"Rnd 2: Sl st in next dc and in next ch-2 sp, ch 3, dc in same sp, [ch 3, sc in first ch-1 sp, ch 3, 2 dc in next ch-2 sp] "
		"twice, ch 3, sc in next ch-1 sp, ch 3, join with sl st in top of ch-3.");
	expect_sound(&c);
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	/* 2 sl sts, ch 3, dc, 3 ch */
	const tb_made *first = made_in(&c, 0, 2, 7);
	cr_expect_eq(first->stitch, tb_library_find(c.library, "sc")->number);
	guint32 base = tb_fabric_base(fabric, first, 0);
	cr_expect_eq(fabric->made[base].row, 1);
	cr_expect(fabric->made[base].flags & TB_MADE_CHAIN);
	cr_expect_eq(base, fabric->rows[1].first + 2 + 2 + 2, "the space behind the first four dc, and their ch 2");
	tb_case_finish(&c);
}
