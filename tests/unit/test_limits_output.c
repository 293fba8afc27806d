/* The limits of the outputs (support/limits.h): just within, and just past. */
#include "sample_drawing.h"
#include "support.h"

#include "output/output.h"
#include "support/limits.h"

#include <criterion/criterion.h>
#include <string.h>
#include <tambour/sheet.h>

#define MM_PER_POINT (25.4 / 72)

/* A picture of that size; the error, or "" where there is none. Owned. */
static char *render(const char *kind, double width_mm, double height_mm, double dpi)
{
	g_autoptr(tb_drawing) drawing = tb_sample_drawing("Swatch", 1, 5);
	g_autoptr(GError) error = NULL;
	tb_output_options options = {.dpi = dpi};
	drawing->width_mm = width_mm;
	drawing->height_mm = height_mm;
	g_autoptr(GByteArray) bytes = tb_output_render(drawing, kind, &options, &error);
	cr_assert_eq(bytes == NULL, error != NULL);
	return g_strdup(error != NULL ? error->message : "");
}

static void expect(const char *says, char *error)
{
	if (*says == '\0')
		cr_expect_str_empty(error, "%s", error);
	else
		cr_expect_not_null(strstr(error, says), "not '%s': %s", says, error);
	g_free(error);
}

Test(limits_output, dots_of_a_png)
{
	/* A dot to the millimetre. */
	expect("", render("png", TB_LIMIT_PNG_PIXELS, 2, 25.4));
	expect("ends at 32767", render("png", TB_LIMIT_PNG_PIXELS + 1, 2, 25.4));
	expect("", render("png", 2, TB_LIMIT_PNG_PIXELS, 25.4));
	expect("ends at 32767", render("png", 2, TB_LIMIT_PNG_PIXELS + 1, 25.4));
	expect("", render("png", 50, 50, TB_LIMIT_DPI_LEAST));
	expect("dots per inch", render("png", 50, 50, TB_LIMIT_DPI_LEAST - 0.01));
	expect("", render("png", 2, 2, TB_LIMIT_DPI));
	expect("dots per inch", render("png", 2, 2, TB_LIMIT_DPI + 1));
}

Test(limits_output, sides_of_a_pdf)
{
	expect("", render("pdf", TB_LIMIT_PDF_POINTS * MM_PER_POINT, 50, 0));
	expect("ends at 5080 mm", render("pdf", (TB_LIMIT_PDF_POINTS + 1) * MM_PER_POINT, 50, 0));
	expect("", render("pdf", 50, (TB_LIMIT_PDF_LEAST_POINTS + 0.01) * MM_PER_POINT, 0));
	expect("too small", render("pdf", 50, (TB_LIMIT_PDF_LEAST_POINTS - 0.01) * MM_PER_POINT, 0));
}

Test(limits_output, what_can_be_drawn)
{
	g_autoptr(tb_drawing) drawing = tb_sample_drawing("Swatch", 1, 5);
	/* A shape is turned and moved, and a pen is wide: a quarter of what Cairo reaches. */
	for (unsigned past = 0; past < 2; past++) {
		g_autoptr(GError) wide = NULL, far = NULL;
		drawing->width_mm = TB_LIMIT_REACH / 4 + past;
		cr_expect_eq(tb_output_validate(drawing, 1, &wide), !past);
		drawing->width_mm = 50;
		tb_mark *mark = NULL;
		for (guint i = 0; i < drawing->marks->len && mark == NULL; i++)
			if (g_array_index(drawing->marks, tb_mark, i).kind == TB_MARK_SHAPE)
				mark = &g_array_index(drawing->marks, tb_mark, i);
		cr_assert_not_null(mark);
		double x = mark->x;
		mark->x = -TB_LIMIT_REACH / 4 - past;
		cr_expect_eq(tb_output_validate(drawing, 1, &far), !past);
		mark->x = x;
		if (past) {
			cr_expect(g_error_matches(wide, TB_OUTPUT_ERROR, TB_OUTPUT_TOO_LARGE));
			cr_expect(g_error_matches(far, TB_OUTPUT_ERROR, TB_OUTPUT_FAILED));
		}
	}
}

static double fixed_width(void *data, const char *text, double size_mm, tb_face face)
{
	return 0.6 * size_mm * (double)strlen(text);
}

/* Pages of a poster of one long row, 0 where it is refused; *faults says why. */
static unsigned count_pages(double stitch_width_mm, char **faults)
{
	tb_case c = tb_case_rows("", "Ch 1001.", "Row 1: Sc in 2nd ch from hook and in each ch across.");
	const tb_text_measure measure = {fixed_width, NULL};
	tb_poster_options options = {.chart = {.full = true, .stitch_width_mm = stitch_width_mm}};
	tb_pages *pages = tb_poster_create(c.worked, &options, &measure, c.diagnostics);
	unsigned count = pages != NULL ? tb_pages_count(pages) : 0;
	*faults = tb_case_faults(&c);
	tb_pages_destroy(pages);
	tb_case_finish(&c);
	return count;
}

/* 1,000 stitches: a tenth of a millimetre each is a part of a sheet, so that every number of sheets is met. */
Test(limits_output, sheets_of_a_poster)
{
	unsigned before = 0, pages = 1;
	for (double width = 20; pages > 0; width += 0.1) {
		g_autofree char *faults = NULL;
		before = pages;
		pages = count_pages(width, &faults);
		if (pages == 0)
			cr_expect_not_null(strstr(faults, "more than 120 sheets"), "%s", faults);
		cr_assert_lt(width, 400);
	}
	/* And a cover. */
	cr_expect_eq(before, TB_LIMIT_POSTER_SHEETS + 1, "%u pages", before);
}
