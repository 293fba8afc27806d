/* The PDF output: what the file says of itself, that its bytes repeat, and what readers read. */
#include "sample_drawing.h"

#include "output/output.h"

#include <criterion/criterion.h>
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

static GByteArray *render(const tb_drawing *drawing, time_t created)
{
	g_autoptr(GError) error = NULL;
	tb_output_options options = {.created = created};
	GByteArray *bytes = tb_output_render(drawing, "pdf", &options, &error);
	cr_assert_not_null(bytes, "%s", error != NULL ? error->message : "");
	return bytes;
}

static bool holds(const GByteArray *bytes, const char *word)
{
	for (guint i = 0; i + strlen(word) <= bytes->len; i++) {
		if (memcmp(bytes->data + i, word, strlen(word)) == 0)
			return true;
	}
	return false;
}

/*
 * What a reader of text outside the project makes of the file; NULL where it is not installed.
 * OPTION is one of pdftotext's, or "" for its own order.
 */
static char *read_text(const GByteArray *pdf, const char *option)
{
	g_autofree char *program = g_find_program_in_path("pdftotext");
	if (program == NULL)
		return NULL;
	g_autofree char *path = g_build_filename(g_get_tmp_dir(), "tambour-test-XXXXXX", NULL);
	int file = g_mkstemp(path);
	cr_assert_geq(file, 0);
	g_close(file, NULL);
	cr_assert(g_file_set_contents(path, (const char *)pdf->data, (gssize)pdf->len, NULL));
	char *plain[] = {program, path, (char[]){"-"}, NULL};
	g_autofree char *first = g_strdup(option);
	char *with[] = {program, first, path, (char[]){"-"}, NULL};
	char *text = NULL;
	cr_assert(g_spawn_sync(NULL, *option == '\0' ? plain : with, NULL, G_SPAWN_DEFAULT, NULL, NULL,
		&text, NULL, NULL, NULL));
	g_unlink(path);
	return text;
}

#define SKIP_WITHOUT(text) \
	if ((text) == NULL) \
		cr_skip_test("pdftotext is not installed")

Test(pdf, it_is_whole_and_says_who_made_it)
{
	g_autoptr(tb_drawing) drawing = tb_sample_drawing("Basket swatch", 2, 10);
	drawing->author = g_strdup("A. Designer");
	g_autoptr(GByteArray) pdf = render(drawing, 0);
	cr_assert_eq(memcmp(pdf->data, "%PDF-", 5), 0);
	cr_expect_eq(memcmp(pdf->data + pdf->len - 6, "%%EOF\n", 6), 0);
	cr_expect(holds(pdf, "/Title (Basket swatch)"));
	cr_expect(holds(pdf, "/Author (A. Designer)"));
	cr_expect(holds(pdf, "/Subject (Two stitches in rows.)"));
	cr_expect(holds(pdf, "/Creator (tambour " TB_VERSION ")"));
	/* 74 x 42 mm in points of 1/72 inch of 25.4 mm. */
	cr_expect(holds(pdf, "/MediaBox [ 0 0 209.76378 119.055118 ]"));
}

Test(pdf, the_date_is_the_one_given_or_the_first_of_all)
{
	g_autoptr(tb_drawing) drawing = tb_sample_drawing("Swatch", 2, 10);
	g_autoptr(GByteArray) undated = render(drawing, 0);
	g_autoptr(GByteArray) dated = render(drawing, 1000000000);
	/* The form of a date: ISO 32000-1, 7.9.4. */
	cr_expect(holds(undated, "/CreationDate (D:19700101000000Z)"));
	/* 10^9 s after 1970 is 9 September 2001, 01:46:40 UTC (common knowledge of clocks). */
	cr_expect(holds(dated, "/CreationDate (D:20010909014640Z)"));
}

Test(pdf, source_date_epoch_is_the_time)
{
	g_unsetenv("SOURCE_DATE_EPOCH");
	cr_expect_eq(tb_output_time(), 0);
	g_setenv("SOURCE_DATE_EPOCH", "1000000000", TRUE);
	cr_expect_eq(tb_output_time(), 1000000000);
	const char *const bad[] = {"", "soon", "-5", "12x", " 3", "99999999999999999999"};
	for (size_t i = 0; i < G_N_ELEMENTS(bad); i++) {
		g_setenv("SOURCE_DATE_EPOCH", bad[i], TRUE);
		cr_expect_eq(tb_output_time(), 0, "'%s'", bad[i]);
	}
}

Test(pdf, the_same_drawing_is_the_same_bytes_again)
{
	g_autoptr(tb_drawing) drawing = tb_sample_drawing("Swatch", 3, 10);
	g_autoptr(GByteArray) first = render(drawing, 0);
	g_autoptr(GByteArray) second = render(drawing, 0);
	cr_assert_eq(first->len, second->len);
	cr_assert_eq(memcmp(first->data, second->data, first->len), 0);
}

Test(pdf, readers_find_the_rows_in_working_order)
{
	static const char *const OPTIONS[] = {"", "-raw", "-layout"};
	g_autoptr(tb_drawing) drawing = tb_sample_drawing("Swatch", 3, 7);
	g_autoptr(GByteArray) pdf = render(drawing, 0);

	for (size_t i = 0; i < G_N_ELEMENTS(OPTIONS); i++) {
		g_autofree char *text = read_text(pdf, OPTIONS[i]);
		SKIP_WITHOUT(text);
		/* Row 1 is worked right to left, row 2 left to right: each is read as it is worked. */
		cr_expect_not_null(strstr(text, "Row 1, right side: dc dc dc dc sl st dc dc"),
			"option '%s': %s", OPTIONS[i], text);
		cr_expect_not_null(strstr(text, "Row 2, wrong side: dc dc dc dc sl st dc dc"),
			"option '%s': %s", OPTIONS[i], text);
	}
}

Test(pdf, a_long_row_is_one_line_of_text)
{
	g_autoptr(tb_drawing) drawing = tb_sample_drawing("Swatch", 2, 300);
	g_autoptr(GByteArray) pdf = render(drawing, 0);
	g_autofree char *text = read_text(pdf, "");
	SKIP_WITHOUT(text);
	char *row = strstr(text, "Row 1, right side: ");
	cr_assert_not_null(row, "%.200s", text);
	g_auto(GStrv) lines = g_strsplit(row, "\n", 2);
	g_auto(GStrv) words = g_strsplit(lines[0], " ", -1);
	/* 240 dc, 60 times "sl" "st", the four words of the title, and the row's number beside it. */
	cr_assert_eq(g_strv_length(words), 240 + 120 + 4 + 1, "%u words", g_strv_length(words));
}

/* Rounds lie about one middle, where no reader of lines could follow them. */
Test(pdf, rounds_are_read_one_after_the_other)
{
	g_autoptr(tb_drawing) drawing = tb_sample_drawing("Disc", 1, 18);
	drawing->height_mm = 114;
	g_array_set_size(drawing->marks, 0);
	for (unsigned round = 1; round <= 3; round++) {
		g_autofree char *title = g_strdup_printf("Round %u", round);
		tb_drawing_begin_group(drawing, title);
		/* A flat disc in dc: 12, 24, 36 (common practice). */
		for (unsigned i = 0; i < 12 * round; i++) {
			double angle = i * 2 * G_PI / (12 * round);
			tb_drawing_place_shape(drawing, TB_SAMPLE_STEM, 57 + round * 12 * cos(angle),
				57 - round * 12 * sin(angle), angle, TB_INK_ROW_A, i == 0 ? "ch" : "dc");
		}
		tb_drawing_end_group(drawing);
	}
	g_autoptr(GByteArray) pdf = render(drawing, 0);
	g_autofree char *text = read_text(pdf, "");
	SKIP_WITHOUT(text);
	const char *first = strstr(text, "Round 1: ch dc dc dc dc dc dc dc dc dc dc dc\n");
	const char *third = strstr(text, "Round 3: ch dc dc");
	cr_assert(first != NULL && third != NULL, "%s", text);
	cr_expect_lt(first, third);
}

Test(pdf, a_page_has_its_limits)
{
	g_autoptr(tb_drawing) drawing = tb_sample_drawing("Swatch", 1, 5);
	const double sizes[] = {0, -5, NAN, 1, 200000};
	for (size_t i = 0; i < G_N_ELEMENTS(sizes); i++) {
		g_autoptr(GError) error = NULL;
		drawing->width_mm = sizes[i];
		cr_expect_null(tb_output_render(drawing, "pdf", NULL, &error), "%g mm", sizes[i]);
		cr_expect_not_null(error, "%g mm", sizes[i]);
	}
}

Test(pdf, a_chart_without_rows_or_words_is_a_page_too)
{
	g_autoptr(tb_drawing) drawing = tb_drawing_create();
	drawing->width_mm = drawing->height_mm = 50;
	g_autoptr(GByteArray) empty = render(drawing, 0);
	cr_expect_gt(empty->len, 100);
	tb_drawing_begin_group(drawing, "");
	tb_drawing_end_group(drawing);
	g_autoptr(GByteArray) grouped = render(drawing, 0);
	cr_expect_gt(grouped->len, 100);
}
