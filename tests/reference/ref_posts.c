/* Raised stitches, against the book and against arithmetic. */
#include "counts.h"

#include "fabric/motif.h"

#include <criterion/criterion.h>

/* The columns, from 1, of the posts that the raised stitches of a row go around, ROWS_BELOW down. */
static void expect_posts(const tb_case *c, unsigned size, guint32 number, const char *name,
	unsigned rows_below, guint32 first, guint32 every)
{
	const tb_fabric *fabric = tb_worked_fabric(c->worked, 0, size);
	g_autofree gint32 *columns = g_new(gint32, fabric->made_count);
	guint32 width, found = 0;
	cr_assert(tb_grid_columns(fabric, 1, number, columns, &width));
	guint16 stitch = (guint16)tb_library_find(c->library, name)->number;
	const tb_made_row *row = tb_fabric_row(fabric, number);
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_made *made = &fabric->made[i];
		if (made->stitch != stitch)
			continue;
		guint32 base = tb_fabric_base(fabric, made, 0);
		cr_expect_eq(made->rows_below, rows_below);
		cr_expect_eq(fabric->rows[fabric->made[base].row].number, number - rows_below);
		/* straight down, and the stitch hidden behind it is missed */
		cr_expect_eq(columns[base], columns[i]);
		cr_assert_neq(made->behind, TB_NONE);
		cr_expect_eq(columns[made->behind], columns[i]);
		cr_expect_eq(columns[i] + 1, (gint32)(first + every * found), "row %u, the %u. is at %d",
			number, found + 1, columns[i] + 1);
		found++;
	}
	cr_expect_gt(found, 0);
}

/*
 * Raised double treble on the 4th stitch, joined three rows down, then 3 plain stitches, repeat; in the
 * next raised row it stands between the 3 stitches of the last one [EN, fig. 428]. UK double
 * treble is tr in US terms; plain is sc. Over 4n stitches: the raised ones on every 4th, then, on
 * the same side two rows on, on the 2nd of each 3 between.
 */
Test(posts, raised_stitch_of_the_encyclopedia)
{
	for (unsigned n = 2; n <= 6; n++) {
		g_autofree char *start = g_strdup_printf("Ch %u.", 4 * n + 1);
		tb_case c = tb_case_rows("", start,
			"Row 1 (WS): Sc in 2nd ch from hook and in each ch across.\n"
			"Row 2: Ch 1, turn, sc in each st across.\n"
			"Row 3: Ch 1, turn, sc in each st across.\n"
			"Row 4: Ch 1, turn, *sc in next 3 sts, FPtr around st 3 rows below; rep from * "
			"across.\n"
			"Row 5: Ch 1, turn, sc in each st across.\n"
			"Row 6: Ch 1, turn, sc in next st, *FPtr around st 3 rows below, sc in next 3 sts; rep "
			"from * "
			"to last 3 sts, FPtr around st 3 rows below, sc in last 2 sts.");
		/* the turning chain is sc's, though a taller stitch follows */
		expect_sound(&c);
		for (guint32 row = 1; row <= 6; row++)
			cr_expect_eq(count_row(&c, 0, row), 4 * n);
		cr_expect_eq(count_kind(&c, 0, 4, "FPtr"), n);
		cr_expect_eq(count_kind(&c, 0, 6, "FPtr"), n);
		/* row 4 begins where row 1 ended, so columns are compared, not counted */
		const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
		g_autofree gint32 *columns = g_new(gint32, fabric->made_count);
		guint32 width;
		cr_assert(tb_grid_columns(fabric, 1, 6, columns, &width));
		gint32 raised[2] = {-1, -1};
		for (guint32 i = 0; i < fabric->made_count; i++) {
			if (fabric->made[i].stitch != tb_library_find(c.library, "FPtr")->number)
				continue;
			gint32 *first = &raised[fabric->rows[fabric->made[i].row].number == 6];
			*first = *first < 0 ? columns[i] : *first;
			cr_expect_eq(columns[tb_fabric_base(fabric, &fabric->made[i], 0)], columns[i]);
		}
		cr_expect_eq(ABS(raised[0] - raised[1]), 2, "between the 3 stitches of the last");
		tb_case_finish(&c);
	}
}

static const char texture[] = "Row 1 (RS): Dc in 4th ch from hook and in each ch across.\n"
							  "Row 2: Ch 3, turn, dc in each st across.\n"
							  "Row 3: Ch 3, turn, dc in next 2 sts, *FPdc2tog around st 2 rows "
							  "below, dc in next 3 sts; rep from * "
							  "across.\n"
							  "Row 4: Ch 3, turn, dc in each st across.\n"
							  "Row 5: Ch 3, turn, *FPdc2tog around st 2 rows below, dc in next 3 "
							  "sts; rep from * to last 2 sts, "
							  "FPdc2tog around st 2 rows below, dc in last st.\n"
							  "Row 6: Ch 3, turn, dc in each st across.";

/* Over 4n + 3: 3 dc, (raised, 3 dc) across; next texture row 1 dc, (raised, 3 dc) across, raised,
 * 1 dc: both come out, since 3 + 4n = 1 + 4n + 2 (arithmetic). */
Test(posts, texture_over_four_n_and_three)
{
	for (unsigned n = 2; n <= 25; n += 3) {
		g_autofree char *start = g_strdup_printf("Ch %u.", 4 * n + 3 + 2);
		tb_case c = tb_case_rows("", start, texture);
		expect_sound(&c);
		for (guint32 row = 1; row <= 6; row++)
			cr_expect_eq(count_row(&c, 0, row), 4 * n + 3);
		cr_expect_eq(count_kind(&c, 0, 3, "FPdc2tog"), n);
		cr_expect_eq(count_kind(&c, 0, 5, "FPdc2tog"), n + 1);
		expect_posts(&c, 0, 3, "FPdc2tog", 2, 4, 4);
		expect_posts(&c, 0, 5, "FPdc2tog", 2, 2, 4);
		tb_case_finish(&c);
	}
}

/* One fewer and one more than 4n + 3 do not come out (arithmetic). */
Test(posts, texture_over_any_other_count)
{
	for (unsigned off = 1; off < 4; off++) {
		g_autofree char *start = g_strdup_printf("Ch %u.", 4 * 8 + 3 + 2 + off);
		tb_case c = tb_case_rows("", start, texture);
		const tb_diagnostic *fault = find_fault(&c, "repeat-leftover");
		cr_assert_not_null(fault);
		g_autofree char *message =
			g_strdup_printf("the repeat of 4 sts leaves %u st%s over", off, off == 1 ? "" : "s");
		cr_expect_str_eq(fault->message, message);
		tb_case_finish(&c);
	}
}

/* A part of such a row that is a multiple of 4 plus 1 takes 3 dc at one edge and 1 dc at the other
 * (arithmetic: 3 + 4(n - 1) + 1 + 1 = 4n + 1). */
Test(posts, half_of_the_texture)
{
	for (unsigned n = 2; n <= 9; n++) {
		g_autofree char *start = g_strdup_printf("Ch %u.", 4 * n + 1 + 2);
		tb_case c = tb_case_rows("", start,
			"Row 1 (RS): Dc in 4th ch from hook and in each ch across.\n"
			"Row 2: Ch 3, turn, dc in each st across.\n"
			"Row 3: Ch 3, turn, dc in next 2 sts, *FPdc2tog around st 2 rows below, dc in next 3 "
			"sts; rep "
			"from * to last 2 sts, FPdc2tog around st 2 rows below, dc in last st.\n"
			"Row 4: Ch 3, turn, dc in each st across.\n"
			"Row 5: Ch 3, turn, *FPdc2tog around st 2 rows below, dc in next 3 sts; rep from * "
			"across.");
		expect_sound(&c);
		cr_expect_eq(count_row(&c, 0, 5), 4 * n + 1);
		cr_expect_eq(count_kind(&c, 0, 3, "FPdc2tog"), n);
		cr_expect_eq(count_kind(&c, 0, 5, "FPdc2tog"), n);
		tb_case_finish(&c);
	}
}

/* Basketweave over 8k + 2 (add 2): 8k + 4 chains, blocks of 4 (trade tables 5, no. 15). */
Test(posts, basketweave)
{
	for (unsigned k = 2; k <= 5; k++) {
		g_autofree char *start = g_strdup_printf("Ch %u.", 8 * k + 4);
		tb_case c = tb_case_rows("", start,
			"Row 1: Dc in 4th ch from hook and in each ch across.\n"
			"Row 2: Ch 3, turn, *FPdc around each of next 4 sts, BPdc around each of next 4 sts; "
			"rep from * "
			"to last st, dc in last st.");
		expect_sound(&c);
		cr_expect_eq(count_row(&c, 0, 2), 8 * k + 2);
		cr_expect_eq(count_kind(&c, 0, 2, "FPdc"), 4 * k);
		cr_expect_eq(count_kind(&c, 0, 2, "BPdc"), 4 * k);
		tb_case_finish(&c);
	}
}
