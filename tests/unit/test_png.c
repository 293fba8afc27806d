/* The PNG output: what its chunks say (ISO/IEC 15948), and what its pixels are, read by libpng. */
#include "sample_drawing.h"

#include "output/output.h"

#include <criterion/criterion.h>
#include <png.h>
#include <string.h>

static GByteArray *render(const tb_drawing *drawing, double dpi)
{
	g_autoptr(GError) error = NULL;
	tb_output_options options = {.dpi = dpi};
	GByteArray *bytes = tb_output_render(drawing, "png", &options, &error);
	cr_assert_not_null(bytes, "%s", error != NULL ? error->message : "");
	return bytes;
}

static guint32 read_number(const guint8 *data)
{
	return (guint32)data[0] << 24 | (guint32)data[1] << 16 | (guint32)data[2] << 8 | data[3];
}

/* The data of the first chunk of a kind, or NULL. */
static const guint8 *find_chunk(const GByteArray *png, const char *kind, guint32 *length)
{
	for (guint at = 8; at + 12 <= png->len;) {
		*length = read_number(png->data + at);
		if (memcmp(png->data + at + 4, kind, 4) == 0)
			return png->data + at + 8;
		at += *length + 12;
	}
	return NULL;
}

static guint8 *read_pixels(const GByteArray *png, png_uint_32 format, png_image *image)
{
	*image = (png_image){.version = PNG_IMAGE_VERSION};
	cr_assert(png_image_begin_read_from_memory(image, png->data, png->len), "%s", image->message);
	image->format = format;
	guint8 *pixels = g_malloc(PNG_IMAGE_SIZE(*image));
	cr_assert(png_image_finish_read(image, NULL, pixels, 0, NULL), "%s", image->message);
	return pixels;
}

Test(png, the_head_says_size_and_dots_per_inch)
{
	g_autoptr(tb_drawing) drawing = tb_sample_drawing("Swatch", 3, 10);
	guint32 length;
	/* 74 x 51 mm at 254 dpi, ten dots a millimetre. */
	g_autoptr(GByteArray) png = render(drawing, 254);
	cr_assert_eq(memcmp(png->data, "\x89PNG\r\n\x1a\n", 8), 0);
	const guint8 *head = find_chunk(png, "IHDR", &length);
	cr_assert_not_null(head);
	cr_expect_eq(read_number(head), 740);
	cr_expect_eq(read_number(head + 4), 510);
	cr_expect_eq(head[8], 8);
	cr_expect_eq(head[9], PNG_COLOR_TYPE_RGB);
	const guint8 *dots = find_chunk(png, "pHYs", &length);
	cr_assert(dots != NULL && length == 9);
	cr_expect_eq(read_number(dots), 10000);
	cr_expect_eq(read_number(dots + 4), 10000);
	cr_expect_eq(dots[8], PNG_RESOLUTION_METER);
	const guint8 *title = find_chunk(png, "tEXt", &length);
	cr_assert_not_null(title);
	cr_expect_eq(memcmp(title, "Title\0Swatch", 12), 0);
}

Test(png, without_a_wish_it_has_200_dots_per_inch)
{
	g_autoptr(tb_drawing) drawing = tb_sample_drawing("Swatch", 3, 10);
	guint32 length;
	g_autoptr(GByteArray) png = render(drawing, 0);
	const guint8 *dots = find_chunk(png, "pHYs", &length);
	cr_assert_not_null(dots);
	/* 200 / 0.0254 m = 7874.02 */
	cr_expect_eq(read_number(dots), 7874);
}

Test(png, ink_is_where_the_drawing_says_in_the_colour_it_says)
{
	g_autoptr(tb_drawing) drawing = tb_sample_drawing("Swatch", 2, 10);
	g_autoptr(GByteArray) png = render(drawing, 254);
	png_image image;
	g_autofree guint8 *pixels = read_pixels(png, PNG_FORMAT_RGB, &image);
	/* Row 1's first stitch: column 10, x = 12 + 9.5 x 5 = 59.5 mm; foot y = 12 + 2 x 9 = 30 mm. */
	const guint8 *stem = pixels + 3 * (280 * 740 + 595);
	/* Row A is 0.1, 0.2, 0.4 of 255: 25.5, 51, 102. */
	cr_expect(stem[0] == 25 || stem[0] == 26, "red is %d", stem[0]);
	cr_expect_eq(stem[1], 51);
	cr_expect_eq(stem[2], 102);
	/* Two millimetres beside the stem is paper. */
	cr_expect_eq(memcmp(stem + 3 * 20, "\xff\xff\xff", 3), 0);
	cr_expect_eq(memcmp(pixels, "\xff\xff\xff", 3), 0);
}

Test(png, greys_make_a_grey_file)
{
	g_autoptr(tb_drawing) drawing = tb_sample_drawing("Swatch", 2, 10);
	guint32 length;
	for (int i = 0; i < TB_INK_COUNT; i++)
		drawing->palette.inks[i] = (tb_colour){0.2, 0.2, 0.2};
	/* An ink that nothing is drawn with does not count. */
	drawing->palette.inks[TB_INK_BELOW] = (tb_colour){1, 0, 0};
	g_autoptr(GByteArray) png = render(drawing, 100);
	cr_assert_eq(find_chunk(png, "IHDR", &length)[9], PNG_COLOR_TYPE_GRAY);
}

Test(png, a_title_beyond_ascii_is_kept)
{
	g_autoptr(tb_drawing) drawing = tb_sample_drawing("Stäbchen", 2, 10);
	guint32 length = 0;
	g_autoptr(GByteArray) png = render(drawing, 100);
	const guint8 *title = find_chunk(png, "iTXt", &length);
	cr_assert_not_null(title);
	cr_expect_not_null(g_strstr_len((const char *)title + 10, (gssize)length - 10, "Stäbchen"));
}

Test(png, the_same_drawing_is_the_same_bytes_again)
{
	g_autoptr(tb_drawing) drawing = tb_sample_drawing("Swatch", 3, 10);
	g_autoptr(GByteArray) first = render(drawing, 150);
	g_autoptr(GByteArray) second = render(drawing, 150);
	cr_assert_eq(first->len, second->len);
	cr_assert_eq(memcmp(first->data, second->data, first->len), 0);
}

/* A line down the page is the same in every row of pixels, wherever the picture was parted. */
Test(png, bands_leave_no_seam)
{
	g_autoptr(tb_drawing) drawing = tb_drawing_create();
	drawing->width_mm = 600;
	drawing->height_mm = 600;
	tb_path *path = tb_path_create();
	tb_path_move(path, 300.03, -10);
	tb_path_line(path, 300.03, 610);
	tb_drawing_add_line(drawing, path, TB_INK_FURNITURE, 0.7, 0, 0);
	g_autoptr(GByteArray) png = render(drawing, 127);
	png_image image;
	g_autofree guint8 *pixels = read_pixels(png, PNG_FORMAT_GRAY, &image);
	cr_assert_eq(image.width, 3000);
	cr_assert_eq(image.height, 3000);
	cr_assert_eq(pixels[1500], 0);
	for (guint y = 1; y < image.height; y++)
		cr_assert_eq(memcmp(pixels + y * 3000, pixels, 3000), 0, "row of pixels %u", y);
}

Test(png, too_many_pixels_are_refused_with_the_dpi_that_fits)
{
	g_autoptr(tb_drawing) drawing = tb_sample_drawing("", 1, 1000);
	g_autoptr(GError) error = NULL;
	tb_output_options options = {.dpi = 300};
	/* 5,024 mm at 300 dpi are 59,339 dots; 32,767 x 25.4 / 5024 = 165.66. */
	cr_assert_null(tb_output_render(drawing, "png", &options, &error));
	cr_assert(g_error_matches(error, TB_OUTPUT_ERROR, TB_OUTPUT_TOO_LARGE));
	cr_expect_not_null(strstr(error->message, "165 dpi would fit"), "%s", error->message);
	guint32 length;
	g_autoptr(GByteArray) png = render(drawing, 165);
	cr_expect_leq(read_number(find_chunk(png, "IHDR", &length)), 32767);
}

Test(png, dots_per_inch_that_mean_nothing_are_refused)
{
	const double bad[] = {-1, 0.001, 1e9, __builtin_nan(""), __builtin_inf()};
	g_autoptr(tb_drawing) drawing = tb_sample_drawing("Swatch", 1, 5);
	for (size_t i = 0; i < G_N_ELEMENTS(bad); i++) {
		g_autoptr(GError) error = NULL;
		tb_output_options options = {.dpi = bad[i]};
		cr_expect_null(tb_output_render(drawing, "png", &options, &error), "%g", bad[i]);
		cr_expect_not_null(error, "%g", bad[i]);
	}
}
