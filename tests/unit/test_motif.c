/* The motif: what repeats across a fabric, in every size. */
#include "counts.h"

#include "fabric/motif.h"

#include <criterion/criterion.h>

static tb_motif find(const tb_case *c, guint32 first, guint32 last)
{
	unsigned sizes = tb_pattern_count_sizes(c->pattern);
	return tb_motif_find(c->worked, 0, first, last, ((tb_size_set)1 << sizes) - 1);
}

static void expect_motif(
	const tb_case *c, guint32 first, guint32 last, guint32 near, guint32 width, guint32 far)
{
	g_autofree char *faults = tb_case_faults((tb_case *)c);
	tb_motif motif = find(c, first, last);
	cr_assert(motif.found, "%s %s", motif.reason, faults);
	cr_expect_eq(motif.near_edge, near, "near %u", motif.near_edge);
	cr_expect_eq(motif.width, width, "width %u", motif.width);
	cr_expect_eq(motif.far_edge, far, "far %u", motif.far_edge);
	/* edges and repeats make up every size */
	for (unsigned size = 0; size < tb_pattern_count_sizes(c->pattern); size++)
		cr_expect_eq(near + motif.times[size] * width + far, count_row(c, size, first));
	g_free(motif.reason);
}

#define DC_ROW_1 "Row 1: Dc in 4th ch from hook and in each ch across.\n"

Test(motif, plain_dc_repeats_every_stitch)
{
	tb_case c = tb_case_rows("", "Ch 42.", DC_ROW_1 "Row 2: Ch 3, turn, dc in each st across.");
	/* the turning chains stand at either edge */
	expect_motif(&c, 1, 2, 1, 1, 1);
	tb_case_finish(&c);
}

Test(motif, ribbing_repeats_every_two)
{
	tb_case c = tb_case_rows("", "Ch 42.",
		DC_ROW_1
		"Row 2: Ch 3, turn, [FPdc around next st, BPdc around next st] 19 times, dc in last st.\n"
		"Row 3: Ch 3, turn, [FPdc around next st, BPdc around next st] 19 times, dc in last st.");
	expect_motif(&c, 2, 3, 1, 2, 1);
	tb_case_finish(&c);
}

Test(motif, basketweave_repeats_every_eight)
{
	tb_case c = tb_case_rows("S,M", "Ch 36 (52).",
		DC_ROW_1
		"Row 2: Ch 3, turn, *FPdc around each of next 4 sts, BPdc around each of next 4 sts; rep "
		"from * to last st, dc in last st.\n"
		"Row 3: Ch 3, turn, *FPdc around each of next 4 sts, BPdc around each of next 4 sts; rep "
		"from * to last st, dc in last st.");
	expect_motif(&c, 2, 3, 1, 8, 1);
	tb_case_finish(&c);
}

static const char clusters[] = DC_ROW_1 "Row 2: Ch 3, turn, dc in each st across.\n"
										"Row 3: Ch 3, turn, dc in next 2 sts, *FPdc2tog around st "
										"2 rows below, dc in next 3 sts; rep from * "
										"across.\n"
										"Row 4: Ch 3, turn, dc in each st across.\n"
										"Row 5: Ch 3, turn, *FPdc2tog around st 2 rows below, dc "
										"in next 3 sts; rep from * to last 2 sts, "
										"FPdc2tog around st 2 rows below, dc in last st.\n"
										"Row 6: Ch 3, turn, dc in each st across.\n"
										"Rows 7-10: Rep Rows 3-6.";

Test(motif, staggered_clusters_repeat_every_four_in_six_sizes)
{
	tb_case c = tb_case_rows("XS,S,M,L,XL,2X", "Ch 77 (85, 93, 101, 109, 125).", clusters);
	tb_motif motif = find(&c, 3, 6);
	cr_assert(motif.found, "%s", motif.reason);
	cr_expect_eq(motif.width, 4);
	cr_expect_eq(motif.near_edge + motif.far_edge, 3);
	static const guint32 times[] = {18, 20, 22, 24, 26, 30};
	cr_expect_arr_eq(motif.times, times, sizeof(times));
	g_free(motif.reason);
	/* all of the piece, the foundation with it */
	motif = find(&c, 1, 10);
	cr_expect(motif.found, "%s", motif.reason);
	cr_expect_eq(motif.width, 4);
	g_free(motif.reason);
	tb_case_finish(&c);
}

Test(motif, the_box_cuts_no_stitch)
{
	/* two together lean over two columns: a border between them would cut them */
	tb_case c = tb_case_rows("", "Ch 42.",
		"Row 1: Sc in 2nd ch from hook and in each ch across. [41 sts]\n"
		"Row 2: Ch 1, turn, sc in next st, *sk 1, 2 sc in next st; rep from * across.");
	tb_motif motif = find(&c, 1, 2);
	cr_assert(motif.found, "%s", motif.reason);
	cr_expect_eq(motif.width, 2);
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	g_autofree gint32 *columns = g_new(gint32, fabric->made_count);
	guint32 width;
	cr_assert(tb_grid_columns(fabric, 1, 2, columns, &width));
	gint32 left = (gint32)motif.near_edge, right = left + (gint32)motif.width;
	for (guint32 i = 0; i < fabric->made_count; i++) {
		const tb_made *made = &fabric->made[i];
		if (made->row < 1 || made->base_count == 0)
			continue;
		gint32 base = columns[tb_fabric_base(fabric, made, 0)];
		cr_expect_eq(columns[i] >= left && columns[i] < right, base >= left && base < right);
	}
	tb_case_finish(&c);
}

Test(motif, sizes_that_share_no_repeat_say_why)
{
	tb_case c = tb_case_rows("S,M", "Ch 77 (87).",
		DC_ROW_1
		"Row 2: Ch 3, turn, dc in each st across.\n"
		"Row 3: Ch 3, turn, dc in next 2 sts, *FPdc2tog around st 2 rows below, dc in next 3 sts; "
		"rep from * to last 0 (2) sts, dc in last 0 (2) sts.");
	/* 75 and 85 sts: ten more are no whole number of repeats of four */
	tb_motif motif = find(&c, 3, 3);
	cr_expect_not(motif.found);
	cr_assert_not_null(motif.reason);
	cr_expect_str_eq(motif.reason,
		"Size S is 10 sts narrower than size M, which is no multiple of the repeat of 4.");
	g_free(motif.reason);
	tb_case_finish(&c);
}

Test(motif, rows_that_grow_at_one_edge_are_plain_besides)
{
	tb_case c = tb_case_rows(
		"", "Ch 22.", DC_ROW_1 "Row 2: Ch 3, turn, 2 dc in next st, dc in each st across.");
	tb_motif motif = find(&c, 1, 2);
	cr_assert(motif.found, "%s", motif.reason);
	cr_expect(motif.plain);
	cr_expect_eq(motif.width, 1);
	/* of 20 places all but the turning chains at either edge and the one that two stand on */
	cr_expect_eq(motif.times[0], 17);
	g_free(motif.reason);
	motif = find(&c, 2, 9);
	cr_expect_not(motif.found);
	cr_expect_not_null(strstr(motif.reason, "no row 9"));
	g_free(motif.reason);
	tb_case_finish(&c);
}

Test(motif, a_row_without_a_repeat)
{
	tb_case c = tb_case_rows("", "Ch 9.",
		DC_ROW_1
		"Row 2: Ch 3, turn, FPdc around next st, BPdc around next st, dc in next st, FPdc around "
		"next st, dc in next st, dc in last st.");
	tb_motif motif = find(&c, 2, 2);
	cr_expect_not(motif.found);
	cr_expect_not_null(motif.reason);
	g_free(motif.reason);
	tb_case_finish(&c);
}

Test(motif, columns_count_from_the_edge_where_row_1_begins)
{
	tb_case c = tb_case_rows("", "Ch 8.", DC_ROW_1 "Row 2: Ch 1, turn, sc in each st across.");
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	g_autofree gint32 *columns = g_new(gint32, fabric->made_count);
	guint32 width;
	cr_assert(tb_grid_columns(fabric, 1, 2, columns, &width));
	cr_expect_eq(width, 6);
	/* five chains lie under row 1, none under the turning chain at its corner */
	for (guint32 i = 0; i < 5; i++)
		cr_expect_eq(columns[i], 5 - (gint32)i);
	for (guint32 i = 0; i < 6; i++)
		cr_expect_eq(columns[fabric->rows[1].first + i], (gint32)i);
	/* row 2 goes back, and its turning chain stands outside */
	cr_expect_eq(columns[fabric->rows[2].first], 6);
	cr_expect_eq(columns[fabric->rows[2].first + 1], 5);
	cr_expect_eq(columns[fabric->rows[2].first + 6], 0);
	tb_case_finish(&c);
}

Test(motif, a_wide_fabric_takes_no_time)
{
	tb_case c = tb_case_rows("", "Ch 50005.", clusters);
	tb_motif motif = find(&c, 1, 10);
	cr_assert(motif.found, "%s", motif.reason);
	cr_expect_eq(motif.width, 4);
	g_free(motif.reason);
	tb_case_finish(&c);
}
