/* Lengths that are asked for, and patterns without a gauge. */
#include "counts.h"

#include "fabric/measure.h"

#include <criterion/criterion.h>
#include <math.h>

static tb_case work_to(const char *repeat)
{
	g_autofree char *rows = g_strdup_printf(
		"Row 1: Dc in 4th ch from hook and in each ch across.\n"
		"Row 2: Ch 3, turn, dc in each st across.\nRow 3: Ch 3, turn, dc in each st across.\n%s",
		repeat);
	return tb_case_rows("", "Ch 14.", rows);
}

Test(measure, until_piece_measures_takes_the_nearest_row)
{
	/* 9 rows to 10 cm: 20 cm are 18 rows */
	tb_case c = work_to("Rep Rows 2-3 until piece measures 20 cm.");
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	cr_expect_eq(fabric->row_count - 1, 18);
	cr_assert_eq(fabric->reached_count, 1);
	cr_expect(fabs(fabric->reached[0].reached_mm - 200) < 1e-6);
	cr_expect_eq(fabric->reached[0].row, 18);
	tb_case_finish(&c);
}

Test(measure, it_ends_with_the_row_asked_for)
{
	tb_case c = work_to("Rep Rows 2-3 until piece measures 20 cm, ending with Row 3.");
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	/* 17 and 19 rows are as near: the shorter is taken */
	cr_expect_eq(fabric->row_count - 1, 17);
	cr_expect_eq(fabric->rows[17].written, 3);
	tb_case_finish(&c);
	c = work_to("Rep Rows 2-3 until piece measures 20 cm, ending with a WS row.");
	fabric = tb_worked_fabric(c.worked, 0, 0);
	cr_expect_eq(fabric->rows[fabric->row_count - 1].side, TB_SIDE_WRONG);
	cr_expect_eq(fabric->row_count - 1, 18);
	tb_case_finish(&c);
}

Test(measure, a_length_for_each_size)
{
	tb_case c = tb_case_rows("S,M", "Ch 14 (16).",
		"Row 1: Dc in 4th ch from hook and in each ch across.\nRow 2: Ch 3, turn, dc in each st "
		"across.\n"
		"Rep Row 2 until piece measures 20 (30) cm.");
	cr_expect_eq(tb_worked_fabric(c.worked, 0, 0)->row_count - 1, 18);
	cr_expect_eq(tb_worked_fabric(c.worked, 0, 1)->row_count - 1, 27);
	tb_case_finish(&c);
}

Test(measure, no_length_without_a_row_gauge)
{
	tb_case c = tb_case_read("bare.json",
		"{\"format\":1,\"title\":\"T\",\"pieces\":[{\"name\":\"P\",\"start\":\"Ch 14.\",\"rows\":["
		"\"Row 1: Dc in 4th ch from hook and in each ch across.\","
		"\"Row 2: Ch 3, turn, dc in each st across.\","
		"\"Rep Row 2 until piece measures 20 cm.\"]}]}");
	cr_expect_not_null(find_fault(&c, "measure-no-gauge"));
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	cr_expect_eq(fabric->width_mm, 0);
	cr_expect_eq(fabric->length_mm, 0);
	tb_case_finish(&c);
}

Test(measure, gauge_without_sense_gives_nothing)
{
	tb_gauge none = {0}, zero = {.given = true, .has_rows = true, .over_mm = 100};
	double height = 3, flat = 0;
	cr_expect_eq(tb_measure_column_mm(&none), 0);
	cr_expect_eq(tb_measure_column_mm(&zero), 0);
	cr_expect_eq(tb_measure_chain_mm(&zero, &height, 1), 0);
	zero.rows = 9;
	cr_expect_eq(tb_measure_chain_mm(&zero, &flat, 1), 0);
	cr_expect_eq(tb_measure_chain_mm(&zero, &height, 0), 0);
	cr_expect_gt(tb_measure_chain_mm(&zero, &height, 1), 0);
}
