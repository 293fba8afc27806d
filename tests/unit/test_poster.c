/* The poster: sheets that cover the chart, overlap by 10 mm, and can be read alone. */
#include "support.h"

#include "layout/page.h"

#include <criterion/criterion.h>
#include <math.h>
#include <string.h>

#define OVERLAP 10.0

static double fixed_width(void *data, const char *text, double size_mm, tb_face face)
{
	return (double)g_utf8_strlen(text, -1) * size_mm * (face != TB_FACE_PLAIN ? 0.65 : 0.58);
}

static tb_pages *make_poster(tb_case *c, const tb_poster_options *options)
{
	const tb_text_measure measure = {fixed_width, NULL};
	tb_pages *pages = tb_poster_create(c->worked, options, &measure, c->diagnostics);
	cr_assert_not_null(pages);
	return pages;
}

static const tb_leaf *get_page(const tb_pages *pages, guint i)
{
	return g_ptr_array_index(pages->pages, i);
}

/* The chart's window on a page, or NULL. */
static const tb_item *find_plate(const tb_leaf *page)
{
	for (guint i = 0; i < page->items->len; i++) {
		const tb_item *item = &g_array_index(page->items, tb_item, i);
		if (item->kind == TB_ITEM_PLATE)
			return item;
	}
	return NULL;
}

static const tb_leaf *find_sheet(const tb_pages *pages, const char *name)
{
	for (guint i = 0; i < pages->pages->len; i++)
		if (strcmp(get_page(pages, i)->label, name) == 0)
			return get_page(pages, i);
	return NULL;
}

static bool has_label(const tb_leaf *page, const char *text)
{
	for (guint i = 0; i < page->items->len; i++) {
		const tb_item *item = &g_array_index(page->items, tb_item, i);
		if (item->kind == TB_ITEM_LABEL && strcmp(item->label.text, text) == 0)
			return true;
	}
	return false;
}

static unsigned count_sheets(const tb_pages *pages)
{
	unsigned count = 0;
	for (guint i = 0; i < pages->pages->len; i++)
		count += find_plate(get_page(pages, i)) != NULL;
	return count;
}

Test(poster, names_are_a_letter_across_and_a_figure_down)
{
	static const struct {
		unsigned column, row;
		const char *name;
	} NAMES[] = {{0, 0, "A1"}, {1, 0, "B1"}, {0, 2, "A3"}, {25, 0, "Z1"}, {26, 0, "AA1"},
		{27, 9, "AB10"}};
	for (size_t i = 0; i < G_N_ELEMENTS(NAMES); i++) {
		g_autofree char *name = tb_tiling_name(NAMES[i].column, NAMES[i].row);
		cr_expect_str_eq(name, NAMES[i].name);
	}
}

Test(poster, windows_cover_all_and_overlap)
{
	for (double width = 50; width < 2000; width += 37) {
		tb_tiling tiling = tb_tiling_make(width, 100, 170, 250, OVERLAP, OVERLAP);
		cr_expect_leq(tiling.width, 170 + 1e-9);
		cr_expect_eq(tiling.down, 1);
		/* n windows that overlap by o reach n w - (n - 1) o (arithmetic). */
		double reach = tiling.across * tiling.width - (tiling.across - 1) * OVERLAP;
		cr_expect_float_eq(reach, width, 1e-6);
		/* One fewer would not do. */
		if (tiling.across > 1)
			cr_expect_lt((tiling.across - 1) * 170 - (tiling.across - 2) * OVERLAP, width);
	}
}

Test(poster, neighbours_show_the_same_10_mm)
{
	tb_case c = tb_case_file("examples/lantern-vest.json");
	tb_poster_options options = {.chart = {.stitch_width_mm = 40}};
	g_autoptr(tb_pages) pages = make_poster(&c, &options);
	const tb_item *a1 = find_plate(find_sheet(pages, "A1"));
	const tb_item *b1 = find_plate(find_sheet(pages, "B1"));
	const tb_item *a2 = find_plate(find_sheet(pages, "A2"));
	cr_expect_float_eq(a1->left + a1->width - b1->left, OVERLAP, 1e-6);
	cr_expect_float_eq(a1->top + a1->height - a2->top, OVERLAP, 1e-6);
	/* They lie alike on their sheets, so that the marks meet. */
	cr_expect_float_eq(a1->y, b1->y, 1e-6);
	cr_expect_float_eq(a1->x, a2->x, 1e-6);
	tb_case_finish(&c);
}

Test(poster, a_stitch_is_as_wide_as_was_said)
{
	tb_case c = tb_case_file("examples/lantern-vest.json");
	tb_poster_options options = {.chart = {.stitch_width_mm = 25}};
	g_autoptr(tb_pages) pages = make_poster(&c, &options);
	const tb_chart *chart = g_ptr_array_index(pages->charts, 0);
	cr_expect_float_eq(chart->column, 25, 1e-9);
	/* True to size: 13 sts to 10 cm (the pattern's gauge). */
	tb_poster_options fabric = {.chart = {.fabric_scale = true}};
	g_autoptr(tb_pages) true_pages = make_poster(&c, &fabric);
	chart = g_ptr_array_index(true_pages->charts, 0);
	cr_expect_float_eq(chart->column, 100.0 / 13, 1e-9);
	tb_case_finish(&c);
}

Test(poster, it_shows_the_repeat_unless_told_otherwise)
{
	tb_case c = tb_case_file("examples/lantern-vest.json");
	tb_poster_options options = {0};
	g_autoptr(tb_pages) pages = make_poster(&c, &options);
	const tb_chart *chart = g_ptr_array_index(pages->charts, 0);
	/* "Rep Rows 3-6". */
	cr_expect_eq(chart->options.first_row, 3);
	cr_expect_eq(chart->options.last_row, 6);
	cr_expect(chart->folded);
	tb_poster_options rows = {.chart = {.first_row = 1, .last_row = 2}};
	g_autoptr(tb_pages) others = make_poster(&c, &rows);
	chart = g_ptr_array_index(others->charts, 0);
	cr_expect_eq(chart->options.last_row, 2);
	tb_case_finish(&c);
}

Test(poster, it_fills_the_sheets_it_is_given)
{
	static const char *const EXAMPLES[] = {"lantern-vest.json", "window-square.txt", "pine-fan.txt"};
	for (size_t e = 0; e < G_N_ELEMENTS(EXAMPLES); e++)
		for (int paper = 0; paper < TB_PAPER_COUNT; paper++) {
			g_autofree char *path = g_strdup_printf("examples/%s", EXAMPLES[e]);
			tb_case c = tb_case_file(path);
			tb_poster_options options = {.paper = (tb_paper)paper, .across = 3, .down = 2};
			g_autoptr(tb_pages) pages = make_poster(&c, &options);
			cr_expect_leq(count_sheets(pages), 6, "%s", path);
			/* One way or the other the room is used. */
			cr_expect(find_sheet(pages, "C1") != NULL || find_sheet(pages, "A2") != NULL, "%s", path);
			tb_poster_options fit = {.paper = (tb_paper)paper, .fit = true,
				.fit_paper = (tb_paper)paper};
			g_autoptr(tb_pages) one = make_poster(&c, &fit);
			cr_expect_eq(count_sheets(one), 1, "%s", path);
			tb_case_finish(&c);
		}
}

/* Type of 18 pt and more (American Printing House for the Blind, large print; from memory). */
Test(poster, it_can_be_read_from_the_back_of_a_room)
{
	tb_case c = tb_case_file("examples/lantern-vest.json");
	tb_poster_options options = {.practice = true};
	g_autoptr(tb_pages) pages = make_poster(&c, &options);
	double least = 18 * 25.4 / 72 - 0.001;
	for (guint p = 0; p < pages->pages->len; p++)
		for (guint i = 0; i < get_page(pages, p)->items->len; i++) {
			const tb_item *item = &g_array_index(get_page(pages, p)->items, tb_item, i);
			if (item->kind == TB_ITEM_LABEL)
				cr_expect_geq(item->label.size_mm, least, "%s", item->label.text);
		}
	const tb_chart *chart = g_ptr_array_index(pages->charts, 0);
	for (guint i = 0; i < chart->labels->len; i++)
		cr_expect_geq(g_array_index(chart->labels, tb_label, i).size_mm, least);
	cr_expect_geq(chart->pen, 1);
	tb_case_finish(&c);
}

/* A number with its row's colours beside it is that row's number too. */
Test(poster, numbers_with_colours_are_not_told_again)
{
	tb_case c = tb_case_read("band.txt", "Title: Band\n\nBAND\nWith cream, ch 5.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn.\n"
		"Row 2: With blue, ch 1, sc in each st across, turn.\nRow 3: With cream, ch 1, sc in each st across.\n");
	tb_poster_options options = {.chart = {.stitch_width_mm = 12, .full = true}};
	g_autoptr(tb_pages) pages = make_poster(&c, &options);
	const tb_leaf *a1 = find_sheet(pages, "A1");
	const tb_chart *chart = g_ptr_array_index(pages->charts, 0);
	unsigned own = 0;
	for (guint i = 0; i < chart->labels->len; i++)
		own += g_array_index(chart->labels, tb_label, i).row > 0;
	cr_expect_eq(own, 3);
	cr_expect_not(has_label(a1, "1") || has_label(a1, "2") || has_label(a1, "3"));
	tb_case_finish(&c);
}

Test(poster, the_rows_are_numbered_on_every_sheet_once)
{
	tb_case c = tb_case_file("examples/lantern-vest.json");
	tb_poster_options options = {.chart = {.stitch_width_mm = 25}};
	g_autoptr(tb_pages) pages = make_poster(&c, &options);
	const tb_leaf *a1 = find_sheet(pages, "A1"), *b1 = find_sheet(pages, "B1");
	/* Right side rows are numbered at the right: A1 is told, the last sheet shows the chart's own. */
	cr_expect(has_label(a1, "3") && has_label(a1, "5"));
	cr_expect_not(has_label(a1, "4"));
	cr_expect(has_label(b1, "4") && has_label(b1, "6"));
	tb_case_finish(&c);
}

Test(poster, the_first_page_has_a_bar_of_100_mm)
{
	tb_case c = tb_case_file("examples/shell-scarf.txt");
	tb_poster_options options = {0};
	g_autoptr(tb_pages) pages = make_poster(&c, &options);
	const tb_leaf *page = get_page(pages, 0);
	bool found = false;
	for (guint i = 0; i < page->items->len; i++) {
		const tb_item *item = &g_array_index(page->items, tb_item, i);
		if (item->kind != TB_ITEM_LINE || item->line->len != 2)
			continue;
		const tb_spot *ends = (const tb_spot *)(void *)item->line->data;
		found = found || (fabs(ends[1].x - ends[0].x - 100) < 1e-9 && ends[0].y == ends[1].y);
	}
	cr_expect(found);
	cr_expect(has_label(page, "100 mm"));
	tb_case_finish(&c);
}

Test(poster, practice_sheets_are_empty_and_have_their_answers_behind_them)
{
	tb_case c = tb_case_file("examples/lantern-vest.json");
	tb_poster_options options = {.practice = true};
	g_autoptr(tb_pages) pages = make_poster(&c, &options);
	unsigned pairs = 0;
	for (guint i = 0; i + 1 < pages->pages->len; i++) {
		const tb_item *plate = find_plate(get_page(pages, i));
		if (plate == NULL || plate->view == TB_PLATE_WHOLE)
			continue;
		const tb_item *answer = find_plate(get_page(pages, i + 1));
		pairs++;
		cr_expect_eq(plate->view, TB_PLATE_EMPTY);
		cr_expect_eq(answer->view, TB_PLATE_WHOLE);
		cr_expect_eq(plate->left, answer->left);
		cr_expect_eq(plate->x, answer->x);
	}
	cr_expect_gt(pairs, 0);
	cr_expect_eq(2 * pairs, count_sheets(pages));
	tb_case_finish(&c);
}

Test(poster, more_sheets_than_anybody_joins_are_refused)
{
	tb_case c = tb_case_file("examples/basket-throw.json");
	const tb_text_measure measure = {fixed_width, NULL};
	tb_poster_options options = {.chart = {.full = true, .stitch_width_mm = 100}};
	tb_pages *pages = tb_poster_create(c.worked, &options, &measure, c.diagnostics);
	cr_expect_null(pages);
	g_autofree char *faults = tb_case_faults(&c);
	cr_expect_not_null(strstr(faults, "would take more than 120 sheets"), "%s", faults);
	tb_case_finish(&c);
}
