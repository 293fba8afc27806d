/* Where rounds and rows begin: slip stitches that travel, and the far side of the foundation. */
#include "counts.h"

#include <criterion/criterion.h>

/* Four corners of 3 dc, ch 2, 3 dc: 12, 24 and 36 dc in rounds 1 to 3 (trade tables 5, no. 35). */
static const char square[] =
	"Rnd 1: Ch 3 (counts as dc), 2 dc in ring, ch 2, [3 dc in ring, ch 2] 3 times, join with sl "
	"st in top of ch-3. [12 dc, 4 ch-2 sps]\n";

Test(rounds, slip_stitches_travel_and_do_not_count)
{
	g_autofree char *rows = g_strconcat(square,
		"Rnd 2: Sl st in next 2 sts, sl st in next ch-2 sp, ch 3 (counts as dc), (2 dc, ch 2, 3 "
		"dc) in same sp, ch 1, [(3 dc, ch 2, 3 dc) in next ch-2 sp, ch 1] 3 times, join with sl st "
		"in top of ch-3. [24 dc, 4 ch-2 sps, 4 ch-1 sps]",
		NULL);
	tb_case c = tb_case_rows("", "Ch 4, join with sl st to form a ring.", rows);
	expect_sound(&c);
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	cr_expect_eq(count_row(&c, 0, 2), 24 + 4 * 2 + 4);
	for (guint32 i = 0; i < 3; i++) {
		const tb_made *slip = made_in(&c, 0, 2, i);
		cr_expect_not(slip->flags & TB_MADE_COUNTED, "slip stitch %u counts", i);
		cr_expect_eq(slip->base_count, 1);
	}
	/* the first goes into the dc beside the chain the round was joined to */
	cr_expect_eq(tb_fabric_base(fabric, made_in(&c, 0, 2, 0), 0), fabric->rows[1].first + 1);
	const tb_made *chain = made_in(&c, 0, 2, 3);
	cr_expect(chain->flags & TB_MADE_TURNING && chain->flags & TB_MADE_COUNTED);
	cr_expect_eq(chain->base_count, 1);
	cr_expect_eq(
		tb_fabric_base(fabric, chain, 0), tb_fabric_base(fabric, made_in(&c, 0, 2, 2), 0));
	cr_expect(chain->flags & TB_MADE_IN_SPACE);
	tb_case_finish(&c);
}

Test(rounds, the_window_square_comes_out)
{
	tb_case c = tb_case_file("examples/window-square.txt");
	expect_sound(&c);
	cr_expect_eq(count_kind(&c, 0, 3, "dc"), 35, "and the turning chain");
	tb_case_finish(&c);
}

Test(rounds, a_turning_chain_may_stand_inside_its_corner)
{
	g_autofree char *rows = g_strconcat(square,
		"Rnd 2: Sl st in each of next 2 sts and in next ch-2 sp, (ch 3, 2 dc, ch 2, 3 dc) in same "
		"sp, ch 1, [(3 dc, ch 2, 3 dc) in next ch-2 sp, ch 1] 3 times, join with sl st in top of "
		"ch-3. [24 dc, 4 ch-2 sps, 4 ch-1 sps]",
		NULL);
	tb_case c = tb_case_rows("", "Ch 4, join with sl st to form a ring.", rows);
	expect_sound(&c);
	cr_expect(made_in(&c, 0, 2, 3)->flags & TB_MADE_TURNING);
	tb_case_finish(&c);
}

Test(rounds, a_round_goes_on_past_where_the_one_below_was_joined)
{
	tb_case c = tb_case_rows("", "Ch 4, join with sl st to form a ring.",
		"Rnd 1: Ch 3 (counts as dc), 11 dc in ring, join with sl st in top of ch-3. [12 dc]\n"
		"Rnd 2: Sl st in next 2 sts, ch 3 (counts as dc), dc in each st around, join. [12 dc]\n"
		"Rnd 3: Sl st in next st, ch 1, sc in same st, sc in each st around, join. [12 sc]\n"
		"Rnd 4: Sl st in next st, ch 1, sc in each st around, join. [12 sc]");
	expect_sound(&c);
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	/* round 2 stands on the third stitch of round 1, and ends on its second */
	cr_expect_eq(tb_fabric_base(fabric, made_in(&c, 0, 2, 2), 0), fabric->rows[1].first + 2);
	cr_expect_eq(tb_fabric_base(fabric, made_in(&c, 0, 2, 13), 0), fabric->rows[1].first + 1);
	tb_case_finish(&c);
}

/* At an armhole the first stitches are slip stitched over and left (common practice). */
Test(rounds, a_row_leaves_what_is_travelled_over)
{
	tb_case c = tb_case_rows("", "Ch 32.",
		"Row 1: Dc in 4th ch from hook and in each ch across, turn. [30 sts]\n"
		"Row 2: Sl st in first 5 sts, ch 3 (counts as dc), dc in next 21 sts, leave rem sts "
		"unworked, turn. [22 sts]\n"
		"Row 3: Ch 3, dc in each st across. [22 sts]");
	expect_sound(&c);
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	/* the row comes back over row 1: its fifth stitch from that edge is stitch 26 */
	cr_expect_eq(tb_fabric_base(fabric, made_in(&c, 0, 2, 5), 0), fabric->rows[1].first + 25);
	tb_case_finish(&c);
}

Test(rounds, slip_stitches_that_do_not_travel_count)
{
	tb_case c = tb_case_rows("", "Ch 13.",
		"Row 1: Sc in 2nd ch from hook and in each ch across.\n"
		"Row 2: Ch 1, turn, sl st in each st across. [12 sts]\n"
		"Row 3: Turn, *sl st in next st, hdc in next st; rep from * across. [12 sts]");
	expect_sound(&c);
	tb_case_finish(&c);
}

/* Crossing: three are skipped, worked into later, and pass behind (row language). */
Test(rounds, stitches_worked_behind_are_marked)
{
	tb_case c = tb_case_rows("", "Ch 14.",
		"Row 1: Dc in 4th ch from hook and in each ch across.\n"
		"Row 2: Ch 3, turn, *sk 1, dc in next st, working behind st just made dc in skipped st; "
		"rep from * to last 3 sts, sk 1, dc in next st, working in front of st just made dc in "
		"skipped st, dc in last st.");
	expect_sound(&c);
	static const bool behind[] = {false, false, true, false, true, false, true};
	for (guint32 i = 0; i < G_N_ELEMENTS(behind); i++)
		cr_expect_eq((made_in(&c, 0, 2, i)->flags & TB_MADE_BEHIND) != 0, behind[i], "%u", i);
	cr_expect_not(made_in(&c, 0, 2, 10)->flags & TB_MADE_BEHIND);
	tb_case_finish(&c);
}

Test(rounds, skipped_stitches_are_worked_one_after_another)
{
	tb_case c = tb_case_rows("", "Ch 8.",
		"Row 1: Dc in 4th ch from hook and in each ch across.\n"
		"Row 2: Ch 3, turn, sk 2, dc in next st, dc in first skipped st, dc in next skipped st, dc "
		"in next 2 sts.");
	expect_sound(&c);
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	guint32 first = tb_fabric_base(fabric, made_in(&c, 0, 2, 2), 0);
	guint32 second = tb_fabric_base(fabric, made_in(&c, 0, 2, 3), 0);
	cr_expect_eq(second + 1, first, "the row comes back over row 1");
	tb_case_finish(&c);
}

static const char *const other_side[] = {
	"working along other side of foundation ch, sc in next 5 ch",
	"working in other side of foundation chain, sc in next 5 ch",
	"rotate, working in free loops on other side of ch, sc in next 5 ch",
	"continue along opposite side of chain, sc in next 5 ch",
	"turn to work along the other side of the foundation chain, sc in each ch across",
	"working along other side of foundation ch, sc in each of next 5 chs",
	"sc in next 5 ch along opposite side of chain",
};

Test(rounds, the_other_side_of_the_chain_goes_back_to_the_beginning)
{
	for (size_t i = 0; i < G_N_ELEMENTS(other_side); i++) {
		g_autofree char *rows = g_strconcat("Rnd 1: 3 sc in 2nd ch from hook, sc in next 5 ch, 3 "
											"sc in last ch, ",
			other_side[i], ", join with sl st in first sc. [16 sc]", NULL);
		tb_case c = tb_case_rows("", "Ch 8.", rows);
		g_autofree char *faults = tb_case_faults(&c);
		cr_expect_str_empty(faults, "%s: %s", other_side[i], faults);
		const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
		/* 7 chains lie there, one stands; the one made first is the end, the second is met next */
		cr_assert_eq(fabric->rows[0].count, 7);
		for (guint32 back = 0; back < 5; back++)
			cr_expect_eq(tb_fabric_base(fabric, made_in(&c, 0, 1, 1 + 11 + back), 0), 1 + back);
		tb_case_finish(&c);
	}
}

/* Many ovals put the last two stitches into the chain the first one went into (common practice). */
Test(rounds, the_first_chain_may_be_worked_again)
{
	tb_case c = tb_case_rows("", "Ch 8.",
		"Rnd 1: Sc in 2nd ch from hook and in next 5 ch, 3 sc in last ch, working along other side "
		"of foundation ch, sc in each ch across to last ch, 2 sc in last ch. [16 sc]");
	expect_sound(&c);
	cr_expect_eq(tb_fabric_base(tb_worked_fabric(c.worked, 0, 0), made_in(&c, 0, 1, 16), 0), 6);
	tb_case_finish(&c);
}

Test(rounds, the_other_side_is_reached_in_row_1_alone)
{
	tb_case c = tb_case_rows("", "Ch 8.",
		"Row 1: Sc in 2nd ch from hook and in each ch across.\n"
		"Row 2: Ch 1, sc in each st across, working along other side of foundation ch, sc in next 5 "
		"ch.");
	cr_expect_eq(expect_fault(&c, "other-side"), 2);
	tb_case_finish(&c);
	c = tb_case_rows("", "Ch 8.",
		"Rnd 1: Sc in 2nd ch from hook and in next 3 ch, working along other side of foundation "
		"ch, sc in next 3 ch.");
	cr_expect_eq(expect_fault(&c, "unworked"), 1);
	tb_case_finish(&c);
}

/* A count of sc includes what was drawn together of sc (common practice). */
Test(rounds, corners_closing_slip_stitches_and_decreases)
{
	tb_case c = tb_case_rows("", "Ch 4, join with sl st to form a ring.",
		"Rnd 1: Ch 3 (counts as dc), 2 dc in ring, ch 1, 3 dc in ring, ch 2, [3 dc in ring, ch 1, 3 "
		"dc in ring, ch 2] twice, join with sl st in top of ch-3.\n"
		"Rnd 2: Ch 1, sc in same st as joining, *sc in each dc and in each ch-1 sp to corner, 3 sc in "
		"corner ch-2 sp; rep from * 2 more times, join with sl st in first sc. [30 sc]\n"
		"Rnd 3: Ch 1, *sc in next 3 sts, sc2tog; rep from * around, sl st in first sc. [24 sc]");
	expect_sound(&c);
	cr_expect_eq(count_row(&c, 0, 2), 30);
	cr_expect_eq(count_row(&c, 0, 3), 24);
	tb_case_finish(&c);
}

/* A border of all row ends and all chains, or of those between corners in the last stitches (common practice). */
Test(rounds, a_border_of_each_row_end_is_sound)
{
	static const char *const borders[] = {
		"sc in each sc across, 2 sc in corner, sc in each of 9 row ends, 2 sc in corner, sc in next 14 ch across bottom, "
		"2 sc in corner, sc in each of 9 row ends, 2 sc in corner, join with sl st in first sc. [54 sc]",
		"2 sc in first sc, sc in next 12 sc, 2 sc in last sc, sc in each of 9 row ends, 2 sc in corner, sc in next 12 ch "
		"across bottom, 2 sc in corner, sc in each of 9 row ends, join with sl st in first sc. [50 sc]",
		"*14 sc along side, 2 sc in corner; rep from * 3 more times, join with sl st in first sc. [64 sc]"};
	for (size_t i = 0; i < G_N_ELEMENTS(borders); i++) {
		g_autofree char *text = g_strconcat("Mat\n\nCh 15.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. [14 sc]\n"
			"Rows 2-9: Ch 1, sc in each sc across, turn. [14 sc]\nEdging\nRnd 1: Ch 1, ", borders[i], "\n", NULL);
		tb_case c = tb_case_read("mat.txt", text);
		expect_sound(&c);
		tb_case_finish(&c);
	}
}
