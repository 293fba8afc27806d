/* Measurements of garments against the trade's tables. */
#include "counts.h"

#include "fabric/finished.h"
#include "support/units.h"

#include <criterion/criterion.h>
#include <math.h>

/*
 * Craft Yarn Council's bust of nine sizes, the middle of each band, 29 to 61 in, with 4 in of ease; a shell of 6 + 1
 * at 16 sc to 4 in makes halves of 67 to 133 sts, off by +.25, -.25, +.75, +.25, -.25, +.75, +.25, -.25 and +.75 in
 * (trade tables, 6a; arithmetic). More than half an inch is offered again: M, 2X and 5X.
 */
Test(sized, halves_of_a_graded_garment)
{
	static const double off[] = {.25, -.25, .75, .25, -.25, .75, .25, -.25, .75};
	tb_case c = tb_case_read("graded.txt", "Title: T\nSizes: XS (S, M, L, XL, 2X, 3X, 4X, 5X)\n"
		"To fit bust: 29 (33, 37, 41, 45, 49, 53, 57, 61) in\nFinished bust: 33 (37, 41, 45, 49, 53, 57, 61, 65) in\n"
		"Gauge: 16 sc = 4 in\n\nBACK AND FRONT (make 2)\nCh 68 (74, 86, 92, 98, 110, 116, 122, 134).\n"
		"Row 1: Sc in 2nd ch from hook and in each ch across. [67 (73, 85, 91, 97, 109, 115, 121, 133) sc]\n");
	cr_assert_not_null(c.worked);
	for (unsigned size = 0; size < G_N_ELEMENTS(off); size++)
		cr_expect_float_eq(tb_worked_fabric(c.worked, 0, size)->width_mm / TB_MM_PER_INCH, (33 + 4 * size) / 2.0 + off[size], 1e-9);
	const tb_diagnostic *fault = find_fault(&c, "finished-differs");
	cr_assert_not_null(fault);
	cr_expect_eq(fault->sizes, 1u << 2 | 1u << 5 | 1u << 8, "%x", fault->sizes);
	g_autoptr(GArray) sized = tb_sized_find(c.worked);
	cr_expect_eq(sized->len, 2u);
	tb_case_finish(&c);
}

/*
 * Arm to the underarm of a woman's M, 17 in (Craft Yarn Council, woman's table, from memory), in hdc at 12 rows to
 * 4 in: 51 rows; and the needlework handbook's 5 sts to an inch, 100 sts 20 in and 76 sts 15.2 in (1918).
 */
Test(sized, a_sleeve_and_a_skirt)
{
	tb_case c = tb_case_read("sleeve.txt", "Title: T\nGauge: 20 sts and 12 rows = 4 in in hdc\nSleeve length: 17 in\n\nSLEEVE\nCh 77.\n"
		"Row 1: Hdc in 2nd ch from hook and in each ch across. [76 hdc]\n"
		"Row 2: Ch 1, turn, hdc in each st across. [76 hdc]\nRep Row 2 until sleeve measures 17 in.\n");
	cr_assert_not_null(c.worked);
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	cr_expect_null(find_fault(&c, "finished-differs"));
	cr_expect_eq(fabric->row_count - 1, 51);
	cr_expect_float_eq(fabric->width_mm / TB_MM_PER_INCH, 15.2, 1e-9);
	tb_case_finish(&c);
}
