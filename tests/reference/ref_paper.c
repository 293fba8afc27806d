/*
 * Paper, measured: page sizes as another program reads them, and lengths on pages it has drawn at
 * ten dots to the millimetre (254 to the inch).
 */
#include "support.h"

#include "layout/page.h"

#include <cairo.h>
#include <criterion/criterion.h>
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>
#include <tambour/output.h>

#define DOTS_PER_MM 10.0

/* ISO 216: A0 is a square metre, its sides as 1 to the root of 2, halved to the whole mm below. */
Test(paper, a_sizes_halve_each_other)
{
	double a3[2], a4[2];
	tb_paper_get_size(TB_PAPER_A3, &a3[0], &a3[1]);
	tb_paper_get_size(TB_PAPER_A4, &a4[0], &a4[1]);
	double side = 1000 * pow(2, -0.25), height = 1000 * pow(2, 0.25);
	for (int i = 0; i < 3; i++) {
		double half = floor(height / 2);
		height = side;
		side = half;
	}
	cr_expect_float_eq(a3[0], side, 1);
	cr_expect_float_eq(a3[1], height, 1);
	cr_expect_eq(a3[0], 297);
	cr_expect_eq(a3[1], 420);
	cr_expect_eq(a4[1], a3[0]);
	cr_expect_eq(a4[0], floor(a3[1] / 2));
}

/* ANSI/ASME Y14.1: A is 8.5 x 11 in, B 11 x 17 in; an inch is 25.4 mm exactly (1959). */
Test(paper, ansi_sizes_are_whole_inches)
{
	double width, height;
	tb_paper_get_size(TB_PAPER_LETTER, &width, &height);
	cr_expect_float_eq(width, 8.5 * 25.4, 1e-9);
	cr_expect_float_eq(height, 11 * 25.4, 1e-9);
	tb_paper_get_size(TB_PAPER_TABLOID, &width, &height);
	cr_expect_float_eq(width, 11 * 25.4, 1e-9);
	cr_expect_float_eq(height, 17 * 25.4, 1e-9);
}

typedef struct {
	tb_pages *pages;
	char *path; /* of the PDF */
} print;

static print print_pages(tb_pages *pages)
{
	g_autoptr(GError) error = NULL;
	print p = {pages, g_build_filename(g_get_tmp_dir(), "tambour-paper-XXXXXX", NULL)};
	g_autoptr(tb_document) document = tb_pages_draw(pages);
	g_autoptr(GByteArray) bytes = tb_output_render_document(document, NULL, &error);
	cr_assert_not_null(bytes, "%s", error != NULL ? error->message : "");
	int file = g_mkstemp(p.path);
	cr_assert_geq(file, 0);
	g_close(file, NULL);
	cr_assert(g_file_set_contents(p.path, (const char *)bytes->data, bytes->len, NULL));
	return p;
}

static void print_finish(print *p)
{
	g_unlink(p->path);
	g_free(p->path);
	tb_pages_destroy(p->pages);
}

static char *run(const char *const *command)
{
	char *out = NULL;
	if (!g_spawn_sync(NULL, (char **)command, NULL, G_SPAWN_SEARCH_PATH | G_SPAWN_STDERR_TO_DEV_NULL,
			NULL, NULL, &out, NULL, NULL, NULL))
		cr_skip_test("%s is not installed", command[0]);
	return out;
}

static tb_pages *make_poster(tb_case *c, const tb_poster_options *options)
{
	tb_type *type = tb_type_create();
	if (type == NULL)
		cr_skip_test("there is no font");
	tb_text_measure measure = tb_type_get_measure(type);
	tb_pages *pages = tb_poster_create(c->worked, options, &measure, c->diagnostics);
	cr_assert_not_null(pages);
	tb_type_destroy(type);
	return pages;
}

Test(paper, another_program_reads_the_page_sizes)
{
	/* mm times 72 / 25.4, as pdfinfo prints them. */
	static const char *const SIZES[TB_PAPER_COUNT] = {"595.276 x 841.89 pts", "841.89 x 1190.55 pts",
		"612 x 792 pts", "792 x 1224 pts"};
	tb_case c = tb_case_file("examples/moon-disc.txt");
	for (int paper = 0; paper < TB_PAPER_COUNT; paper++) {
		tb_poster_options options = {.paper = (tb_paper)paper};
		print p = print_pages(make_poster(&c, &options));
		const char *const command[] = {"pdfinfo", p.path, NULL};
		g_autofree char *info = run(command);
		cr_expect_not_null(strstr(info, SIZES[paper]), "%s in %s", SIZES[paper], info);
		print_finish(&p);
	}
	tb_case_finish(&c);
}

/* A page as dark (1) and light (0) dots. */
typedef struct {
	int width, height;
	guint8 *dark;
} picture;

static picture draw_page(const print *p, guint page)
{
	g_autofree char *number = g_strdup_printf("%u", page + 1);
	g_autofree char *stem = g_strconcat(p->path, "-page", NULL);
	g_autofree char *file = g_strconcat(stem, ".png", NULL);
	const char *const command[] = {"pdftoppm", "-r", "254", "-png", "-singlefile", "-f", number, "-l",
		number, p->path, stem, NULL};
	g_free(run(command));
	cairo_surface_t *image = cairo_image_surface_create_from_png(file);
	cr_assert_eq(cairo_surface_status(image), CAIRO_STATUS_SUCCESS);
	picture result = {cairo_image_surface_get_width(image), cairo_image_surface_get_height(image),
		NULL};
	result.dark = g_new0(guint8, (gsize)result.width * (gsize)result.height);
	for (int y = 0; y < result.height; y++) {
		const guint32 *row = (const guint32 *)(const void *)(cairo_image_surface_get_data(image) +
			(gsize)y * (gsize)cairo_image_surface_get_stride(image));
		for (int x = 0; x < result.width; x++)
			result.dark[y * result.width + x] = (row[x] >> 8 & 255) < 160;
	}
	cairo_surface_destroy(image);
	g_unlink(file);
	return result;
}

static bool is_dark(const picture *page, int x, int y)
{
	return x >= 0 && y >= 0 && x < page->width && y < page->height &&
		page->dark[y * page->width + x] != 0;
}

/* The longest unbroken dark line along x, in mm. */
static double longest_line(const picture *page)
{
	int longest = 0;
	for (int y = 0; y < page->height; y++)
		for (int x = 0, length = 0; x < page->width; x++) {
			length = is_dark(page, x, y) ? length + 1 : 0;
			longest = MAX(longest, length);
		}
	return longest / DOTS_PER_MM;
}

Test(paper, the_bar_is_100_mm_on_the_page, .timeout = 60)
{
	tb_case c = tb_case_file("examples/moon-disc.txt");
	/* One sheet: the cover then has the bar and the heads of sections, which are longer lines. */
	tb_poster_options options = {.fit = true, .fit_paper = TB_PAPER_A4};
	print p = print_pages(make_poster(&c, &options));
	picture page = draw_page(&p, 0);
	/* Above the first section nothing but the bar is a line. */
	page.height = 80 * (int)DOTS_PER_MM;
	cr_expect_float_eq(longest_line(&page), 100.4, 0.3, "%g mm, its round ends of 0.2 mm included",
		longest_line(&page));
	g_free(page.dark);
	print_finish(&p);
	tb_case_finish(&c);
}

static guint find_page(const tb_pages *pages, const char *name, const tb_item **plate)
{
	for (guint p = 0; p < pages->pages->len; p++) {
		const tb_leaf *page = g_ptr_array_index(pages->pages, p);
		for (guint i = 0; strcmp(page->label, name) == 0 && i < page->items->len; i++) {
			const tb_item *item = &g_array_index(page->items, tb_item, i);
			if (item->kind == TB_ITEM_PLATE) {
				*plate = item;
				return p;
			}
		}
	}
	cr_assert_fail("no sheet %s", name);
	return 0;
}

/* The middles of dark runs along one line of dots between two places, in mm. */
static GArray *find_runs(const picture *page, int y, int from, int to)
{
	GArray *middles = g_array_new(FALSE, FALSE, sizeof(double));
	for (int x = from, start = -1; x <= to; x++) {
		bool dark = x < to && is_dark(page, x, y);
		if (dark && start < 0) {
			start = x;
		} else if (!dark && start >= 0) {
			double middle = (start + x) / 2.0 / DOTS_PER_MM;
			g_array_append_val(middles, middle);
			start = -1;
		}
	}
	return middles;
}

/*
 * True to size: on the page 20 stitches are as long as the gauge says 20 stitches are. The stems of
 * a row of dc, counted and measured where a line across the row meets nothing else.
 */
Test(paper, fabric_scale_is_the_gauge_on_the_page, .timeout = 60)
{
	static const double GAUGES[] = {14, 20};
	for (size_t g = 0; g < G_N_ELEMENTS(GAUGES); g++) {
		g_autofree char *text = g_strdup_printf("Title: Swatch\nGauge: %g sts and 9 rows = 10 cm\n\n"
			"SWATCH\nCh 22.\nRow 1 (RS): Dc in 4th ch from hook and in each ch across. [20 sts]\n",
			GAUGES[g]);
		tb_case c = tb_case_read("swatch.txt", text);
		tb_poster_options options = {.chart = {.fabric_scale = true, .full = true}};
		print p = print_pages(make_poster(&c, &options));
		const tb_item *plate = NULL;
		guint number = find_page(p.pages, "A1", &plate);
		picture page = draw_page(&p, number);
		const tb_chart *chart = plate->chart;
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, chart->rows->len - 1);
		double dx = plate->x - plate->left, dy = plate->y - plate->top;
		/* Low on the stems, under their bars. */
		double y = row->top + 0.85 * (row->bottom - row->top) + dy;
		int from = (int)((chart->left + dx) * DOTS_PER_MM);
		int to = (int)((chart->right - chart->column + dx) * DOTS_PER_MM);
		g_autoptr(GArray) stems = find_runs(&page, (int)(y * DOTS_PER_MM), from, to);
		/* 20 stitches, the first of them a turning chain. */
		cr_assert_eq(stems->len, 19, "%u stems", stems->len);
		double length = g_array_index(stems, double, 18) - g_array_index(stems, double, 0);
		cr_expect_float_eq(length / 18, 100 / GAUGES[g], 0.02, "%g mm a stitch", length / 18);
		g_free(page.dark);
		print_finish(&p);
		tb_case_finish(&c);
	}
}

/* How many dark dots of A have no dark dot of B within 0.2 mm; A and B from their corners on. */
static unsigned count_strays(const picture *a, int ax, int ay, const picture *b, int bx, int by,
	int width, int height, unsigned *dark)
{
	const int near = (int)(0.2 * DOTS_PER_MM);
	unsigned strays = 0;
	/* At the window's edge a line is cut, so that its last dots may have no fellow. */
	for (int y = near; y < height - near; y++)
		for (int x = near; x < width - near; x++) {
			bool found = !is_dark(a, ax + x, ay + y);
			*dark += !found;
			for (int v = -near; v <= near && !found; v++)
				for (int u = -near; u <= near && !found; u++)
					found = is_dark(b, bx + x + u, by + y + v);
			strays += !found;
		}
	return strays;
}

/* Two sheets laid on each other up to the join marks: the picture goes on to within 0.2 mm. */
Test(paper, joined_sheets_show_one_picture, .timeout = 120)
{
	static const char *const PAIRS[][2] = {{"A1", "B1"}, {"A1", "A2"}};
	tb_case c = tb_case_file("examples/lantern-vest.json");
	tb_poster_options options = {.chart = {.stitch_width_mm = 40}};
	print p = print_pages(make_poster(&c, &options));
	for (size_t i = 0; i < G_N_ELEMENTS(PAIRS); i++) {
		const tb_item *first = NULL, *second = NULL;
		picture a = draw_page(&p, find_page(p.pages, PAIRS[i][0], &first));
		picture b = draw_page(&p, find_page(p.pages, PAIRS[i][1], &second));
		double dx = second->left - first->left, dy = second->top - first->top;
		double width = first->width - dx, height = first->height - dy;
		int ax = (int)lround((first->x + dx) * DOTS_PER_MM);
		int ay = (int)lround((first->y + dy) * DOTS_PER_MM);
		int bx = (int)lround(second->x * DOTS_PER_MM), by = (int)lround(second->y * DOTS_PER_MM);
		int w = (int)(width * DOTS_PER_MM), h = (int)(height * DOTS_PER_MM);
		cr_expect_eq(MIN(w, h), 100, "the overlap is 10 mm, not %g", MIN(w, h) / DOTS_PER_MM);
		unsigned dark = 0;
		unsigned strays = count_strays(&a, ax, ay, &b, bx, by, w, h, &dark) +
			count_strays(&b, bx, by, &a, ax, ay, w, h, &dark);
		cr_expect_gt(dark, 500);
		cr_expect_eq(strays, 0, "%u of %u dots differ between %s and %s", strays, dark, PAIRS[i][0],
			PAIRS[i][1]);
		g_free(a.dark);
		g_free(b.dark);
	}
	print_finish(&p);
	tb_case_finish(&c);
}
