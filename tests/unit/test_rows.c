/* One row after another: sides, repeats, rounds, pieces that grow, and the limits of it all. */
#include "counts.h"

#include <criterion/criterion.h>

Test(rows, sides_and_directions)
{
	tb_case c = tb_case_rows("", "Ch 11.",
		"Row 1 (WS): Sc in 2nd ch from hook and in each ch across.\n"
		"Row 2: Ch 1, turn, sc in each st across.\nRep Row 2 3 times.");
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	cr_assert_eq(fabric->row_count, 6);
	for (guint32 i = 1; i <= 5; i++) {
		cr_expect_eq(fabric->rows[i].side, i % 2 == 1 ? TB_SIDE_WRONG : TB_SIDE_RIGHT);
		cr_expect_eq(fabric->rows[i].leftward, i % 2 == 0);
		cr_expect_eq(fabric->rows[i].written, MIN(i, 2));
	}
	cr_expect_eq(fabric->written_rows, 2);
	tb_case_finish(&c);
}

Test(rows, rows_repeated_over_a_stretch_and_so_many_times)
{
	tb_case c = tb_case_rows("", "Ch 11.",
		"Row 1: Sc in 2nd ch from hook and in each ch across.\n"
		"Row 2: Ch 1, turn, 2 sc in next st, sc in each st across.\n"
		"Row 3: Ch 1, turn, sc in each st across.\n"
		"Rows 4-9: Rep Rows 2-3.\n"
		"Rep Rows 2-3 2 times.");
	expect_sound(&c);
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	cr_expect_eq(fabric->row_count, 14);
	cr_expect_eq(count_row(&c, 0, 9), 14);
	cr_expect_eq(count_row(&c, 0, 13), 16);
	cr_assert_eq(fabric->repeat_count, 2);
	cr_expect_eq(fabric->repeats[0].times, 4);
	cr_expect_eq(fabric->repeats[1].times, 3);
	tb_case_finish(&c);
}

/* Where the row before goes into the loop by turns, it is no row of stitches in that loop, and not worked again as one. */
Test(rows, so_many_rows_in_one_loop_are_in_it_all_along)
{
	static const char *const before[] = {"*sc in BLO of next st, sc in next st; rep from * across", "sc in each st across", "sc in BLO of each st across"};
	for (gsize i = 0; i < G_N_ELEMENTS(before); i++) {
		g_autofree char *rows = g_strdup_printf("Row 1: Sc in 2nd ch from hook and in each ch across, turn.\n"
			"Row 2: Ch 1, %s, turn.\nWork 3 more rows of sc in the back loops.", before[i]);
		tb_case c = tb_case_rows("", "Ch 11.", rows);
		expect_sound(&c);
		const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
		cr_assert_eq(fabric->row_count, 6);
		for (guint32 r = 3; r < fabric->row_count; r++) {
			const tb_made_row *row = &fabric->rows[r];
			unsigned in_loop = 0;
			for (guint32 k = row->first; k < row->first + row->count; k++)
				in_loop += (fabric->made[k].flags & TB_MADE_BACK_LOOP) != 0;
			cr_expect_eq(in_loop, 10, "behind “%s” row %u has %u", before[i], r, in_loop);
		}
		tb_case_finish(&c);
	}
}

Test(rows, a_row_that_is_not_there_cannot_be_repeated)
{
	tb_case c = tb_case_rows("", "Ch 11.",
		"Row 1: Sc in 2nd ch from hook and in each ch across.\nRep Rows 2-3 4 times.");
	expect_fault(&c, "row-missing");
	tb_case_finish(&c);
}

Test(rows, rounds_keep_their_direction)
{
	tb_case c = tb_case_rows("", "Ch 4, join with sl st to form a ring.",
		"Rnd 1: Ch 3 (counts as dc), 11 dc in ring, join with sl st in top of ch-3. [12 dc]\n"
		"Rnd 2: Ch 3, dc in same st, 2 dc in each st around, join with sl st in top of ch-3. [24 "
		"dc]");
	expect_sound(&c);
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	cr_expect(fabric->rows[2].is_round);
	cr_expect_eq(fabric->rows[2].side, TB_SIDE_RIGHT);
	cr_expect_eq(tb_fabric_base(fabric, made_in(&c, 0, 2, 1), 0), fabric->rows[1].first);
	cr_expect_eq(tb_fabric_base(fabric, made_in(&c, 0, 2, 2), 0), fabric->rows[1].first + 1);
	tb_case_finish(&c);
}

Test(rows, a_picot_counts_for_nothing)
{
	tb_case c = tb_case_rows("", "Ch 7.",
		"Row 1: Sc in 2nd ch from hook and in each ch across.\n"
		"Row 2: Ch 1, turn, *sc in next 2 sts, ch 3, sl st in 3rd ch from hook; rep from * "
		"across.\n"
		"Row 3: Ch 1, turn, sc in each sc across.");
	expect_sound(&c);
	cr_expect_eq(count_row(&c, 0, 2), 6);
	cr_expect_eq(count_row(&c, 0, 3), 6);
	tb_case_finish(&c);
}

Test(rows, a_piece_grows_from_another)
{
	tb_case c = tb_case_read("grow.json",
		"{\"format\":1,\"title\":\"T\",\"sizes\":[\"S\",\"M\"],\"pieces\":["
		"{\"name\":\"Back\",\"start\":\"Ch 21 (23).\",\"rows\":["
		"\"Row 1: Sc in 2nd ch from hook and in each ch across.\"]},"
		"{\"name\":\"Strap\",\"from\":{\"piece\":\"Back\",\"stitches\":\"1-5 (6)\"},\"rows\":["
		"\"Row 1: Ch 1, turn, sc in each st across. [5 (6) sts]\"]},"
		"{\"name\":\"Other\",\"from\":{\"piece\":\"Back\",\"stitches\":\"16-30\"},\"rows\":["
		"\"Row 1: Ch 1, turn, sc in each st across.\"]}]}");
	cr_assert_not_null(c.worked);
	const tb_fabric *strap = tb_worked_fabric(c.worked, 1, 1);
	cr_assert_eq(strap->row_count, 2);
	cr_expect_eq(strap->rows[1].stitches, 6);
	cr_expect_eq(strap->rows[1].side, TB_SIDE_WRONG);
	cr_expect_not_null(find_fault(&c, "from-stitches"));
	tb_case_finish(&c);
}

Test(rows, chains_added_at_an_edge_are_worked_into)
{
	tb_case c = tb_case_rows("", "Ch 12.",
		"Row 1: Dc in 4th ch from hook and in each ch across, ch 8, turn.\n"
		"Row 2: Dc in 4th ch from hook and in each of next 4 ch, dc in each st across. [16 sts]\n"
		"Row 3: Ch 3, turn, dc in each st across. [16 sts]");
	expect_sound(&c);
	/* ten, and of eight chains three turn and five are worked into */
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	cr_expect_eq(count_row(&c, 0, 2), 16);
	cr_expect(fabric->made[tb_fabric_base(fabric, made_in(&c, 0, 2, 5), 0)].flags & TB_MADE_CHAIN);
	cr_expect_not(
		fabric->made[tb_fabric_base(fabric, made_in(&c, 0, 2, 6), 0)].flags & TB_MADE_CHAIN);
	tb_case_finish(&c);
}

Test(rows, limits_are_told_before_the_memory_is_spent)
{
	tb_case c =
		tb_case_rows("", "Ch 200000.", "Row 1: Sc in 2nd ch from hook and in each ch across.");
	expect_fault(&c, "limit-row");
	tb_case_finish(&c);
	c = tb_case_rows("", "Ch 11.",
		"Row 1: Sc in 2nd ch from hook and in each ch across.\n"
		"Row 2: Ch 1, turn, sc in next st, [[[[sc in same st] 1000 times] 1000 times] 1000 times] "
		"1000 times.");
	cr_expect_eq(expect_fault(&c, "limit-row"), 2);
	tb_case_finish(&c);
	c = tb_case_rows("", "Ch 3.",
		"Row 1: Sc in 2nd ch from hook and in each ch across.\nRow 2: Ch 1, turn, sc in each st "
		"across.\n"
		"Rep Row 2 1000000 times.");
	expect_fault(&c, "limit-rows");
	tb_case_finish(&c);
}
