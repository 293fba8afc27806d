/* The inks against white paper, by the formula of W3C, WCAG 2.1 (contrast ratio, relative luminance). */
#include "drawing/palette.h"

#include <criterion/criterion.h>
#include <math.h>

static double channel(double c)
{
	return c <= 0.04045 ? c / 12.92 : pow((c + 0.055) / 1.055, 2.4);
}

static double luminance(tb_colour c)
{
	return 0.2126 * channel(c.red) + 0.7152 * channel(c.green) + 0.0722 * channel(c.blue);
}

static double contrast(tb_colour a, tb_colour b)
{
	double x = luminance(a), y = luminance(b);
	return (fmax(x, y) + 0.05) / (fmin(x, y) + 0.05);
}

/* The formula itself, on pairs worked elsewhere (trade-tables 6f): #0072B2 5.19, #767676 4.54. */
Test(contrast, the_formula_agrees_with_worked_pairs)
{
	const tb_colour white = {1, 1, 1}, black = {0, 0, 0};
	cr_assert_float_eq(contrast(white, black), 21, 1e-9);
	cr_assert_float_eq(contrast(white, (tb_colour){0, 0x72 / 255.0, 0xB2 / 255.0}), 5.19, 0.005);
	cr_assert_float_eq(contrast(white, (tb_colour){0x76 / 255.0, 0x76 / 255.0, 0x76 / 255.0}), 4.54,
		0.005);
}

/* 4.5:1 for text (1.4.3), which is more than the 3:1 that graphics need (1.4.11). */
Test(contrast, every_ink_can_be_read)
{
	for (int grey = 0; grey < 2; grey++) {
		tb_palette palette = tb_palette_get(grey == 1);
		for (int ink = 0; ink < TB_INK_COUNT; ink++)
			cr_assert(ink == TB_INK_TINT || ink == TB_INK_SHADE || ink == TB_INK_HATCH || contrast(palette.inks[ink], (tb_colour){1, 1, 1}) >= 4.5, "ink %d, %s", ink,
				grey == 1 ? "grey" : "colour");
	}
}

/* The tint is behind stitches, which are graphics (3:1, 1.4.11), and pales no row's ink below what words need. */
Test(contrast, stitches_can_be_read_on_the_tint)
{
	for (int grey = 0; grey < 2; grey++) {
		tb_palette palette = tb_palette_get(grey == 1);
		tb_colour tint = palette.inks[TB_INK_TINT];
		cr_expect_geq(contrast(palette.inks[TB_INK_ROW_A], tint), 4.5);
		cr_expect_geq(contrast(palette.inks[TB_INK_ROW_B], tint), 4.5);
		cr_expect_geq(contrast(palette.inks[TB_INK_BELOW], tint), 3);
		cr_expect_geq(contrast(palette.inks[TB_INK_FURNITURE], tint), 3);
		/* It is there, and no more than there. */
		double paper = contrast(tint, (tb_colour){1, 1, 1});
		cr_expect(paper > 1.1 && paper < 1.4, "%.2f", paper);
	}
}

/* Cells of other colours lie behind stitches too: 3:1 for these (1.4.11), and told from paper. */
Test(contrast, stitches_can_be_read_on_shaded_cells)
{
	for (int grey = 0; grey < 2; grey++) {
		tb_palette palette = tb_palette_get(grey == 1);
		for (int ink = TB_INK_SHADE; ink <= TB_INK_HATCH; ink++) {
			/* Lines are a part of a cell: across them a stroke is no paler than this for a pen's width. */
			double least = ink == TB_INK_SHADE ? 3 : 2.2;
			cr_expect_geq(contrast(palette.inks[TB_INK_ROW_A], palette.inks[ink]), 3);
			cr_expect_geq(contrast(palette.inks[TB_INK_ROW_B], palette.inks[ink]), least);
			cr_expect_geq(contrast(palette.inks[ink], (tb_colour){1, 1, 1}), 1.25);
		}
	}
}

Test(contrast, grey_is_grey)
{
	tb_palette palette = tb_palette_get(true);
	for (int ink = 0; ink < TB_INK_COUNT; ink++) {
		cr_assert_eq(palette.inks[ink].red, palette.inks[ink].green);
		cr_assert_eq(palette.inks[ink].green, palette.inks[ink].blue);
	}
}
