/* Pages and galleys; how they work stands in the header. */
#include "layout/page.h"

#include <math.h>

#define FOOT 5.0 /* kept free for the folio, mm */

static const struct {
	const char *name;
	double width, height;
} PAPERS[TB_PAPER_COUNT] = {
	[TB_PAPER_A4] = {"a4", 210, 297},
	[TB_PAPER_A3] = {"a3", 297, 420},
	[TB_PAPER_LETTER] = {"letter", 215.9, 279.4},
	[TB_PAPER_TABLOID] = {"tabloid", 279.4, 431.8},
};

void tb_paper_get_size(tb_paper paper, double *width_mm, double *height_mm)
{
	*width_mm = *height_mm = 0;
	g_return_if_fail(paper < TB_PAPER_COUNT);
	*width_mm = PAPERS[paper].width;
	*height_mm = PAPERS[paper].height;
}

bool tb_paper_find(const char *name, tb_paper *paper)
{
	for (int i = 0; i < TB_PAPER_COUNT; i++)
		if (g_ascii_strcasecmp(name, PAPERS[i].name) == 0) {
			*paper = (tb_paper)i;
			return true;
		}
	return false;
}

static void clear_item(gpointer data)
{
	tb_item *item = data;
	g_free(item->label.text);
	g_free(item->target);
	if (item->line != NULL)
		g_array_unref(item->line);
}

static GArray *create_items(void)
{
	GArray *items = g_array_new(FALSE, TRUE, sizeof(tb_item));
	g_array_set_clear_func(items, clear_item);
	return items;
}

static void destroy_page(gpointer data)
{
	tb_leaf *page = data;
	g_array_unref(page->items);
	g_free(page->label);
	g_free(page);
}

static void destroy_chart(gpointer chart)
{
	tb_chart_destroy(chart);
}

static void clear_mark(gpointer mark)
{
	g_free(((tb_leaf_mark *)mark)->text);
}

tb_pages *tb_pages_create_empty(const tb_worked *worked)
{
	tb_pages *pages = g_new0(tb_pages, 1);
	pages->worked = worked;
	pages->pages = g_ptr_array_new_with_free_func(destroy_page);
	pages->charts = g_ptr_array_new_with_free_func(destroy_chart);
	pages->marks = g_array_new(FALSE, TRUE, sizeof(tb_leaf_mark));
	g_array_set_clear_func(pages->marks, clear_mark);
	return pages;
}

void tb_pages_destroy(tb_pages *pages)
{
	if (pages == NULL)
		return;
	g_ptr_array_unref(pages->pages);
	g_ptr_array_unref(pages->charts);
	g_array_unref(pages->marks);
	g_free(pages->title);
	g_free(pages->author);
	g_free(pages->description);
	g_free(pages);
}

unsigned tb_pages_count(const tb_pages *pages)
{
	return pages->pages->len;
}

tb_leaf *tb_pages_add(tb_pages *pages, double width, double height, const char *label)
{
	tb_leaf *page = g_new0(tb_leaf, 1);
	page->width = width;
	page->height = height;
	page->items = create_items();
	page->label = g_strdup(label);
	g_ptr_array_add(pages->pages, page);
	return page;
}

void tb_pages_add_mark(tb_pages *pages, const char *text, unsigned level, unsigned page, double y)
{
	tb_leaf_mark mark = {.text = g_strdup(text), .level = level, .page = page, .y = y};
	g_array_append_val(pages->marks, mark);
}

static void clear_strip(gpointer strip)
{
	g_free(((tb_strip *)strip)->mark);
}

/* Large print: no type below 18 pt (American Printing House for the Blind; from memory). */
static tb_type_scale choose_type(bool large)
{
	if (large)
		return (tb_type_scale){30 * TB_PT, 24 * TB_PT, 20 * TB_PT, 18 * TB_PT, 18 * TB_PT, 1.5};
	return (tb_type_scale){24 * TB_PT, 15 * TB_PT, 11 * TB_PT, 9.5 * TB_PT, 8.5 * TB_PT, 1.45};
}

void tb_galley_init(tb_galley *galley, tb_pages *pages, const tb_text_measure *measure,
	tb_paper paper, double margin, bool large)
{
	double width, height;
	tb_paper_get_size(paper, &width, &height);
	*galley = (tb_galley){.pages = pages, .measure = measure, .type = choose_type(large),
		.paper = paper, .margin = margin};
	galley->width = width - 2 * margin;
	galley->height = height - 2 * margin - FOOT;
	galley->turned_width = height - 2 * margin;
	galley->turned_height = width - 2 * margin - FOOT;
	/* Some seventy letters to a line. */
	galley->measured = fmin(galley->width, 40 * galley->type.body);
	galley->strips = g_array_new(FALSE, TRUE, sizeof(tb_strip));
	g_array_set_clear_func(galley->strips, clear_strip);
	galley->items = create_items();
}

void tb_galley_finish(tb_galley *galley)
{
	g_array_unref(galley->strips);
	g_array_unref(galley->items);
}

void tb_galley_append(tb_galley *galley, tb_galley *rest)
{
	guint items = galley->items->len, strips = galley->strips->len;
	for (guint i = 0; i < rest->strips->len; i++) {
		tb_strip *strip = &g_array_index(rest->strips, tb_strip, i);
		strip->first += items;
		strip->repeat += strips;
		if (i == 0)
			strip->before = fmax(strip->before, galley->space);
	}
	g_array_append_vals(galley->strips, rest->strips->data, rest->strips->len);
	g_array_append_vals(galley->items, rest->items->data, rest->items->len);
	galley->space = rest->space;
	/* What they hold has gone over. */
	g_array_set_clear_func(rest->strips, NULL);
	g_array_set_clear_func(rest->items, NULL);
	g_array_set_size(rest->strips, 0);
	g_array_set_size(rest->items, 0);
}

tb_strip *tb_galley_begin(tb_galley *galley, double space, double height)
{
	tb_strip strip = {.before = fmax(space, galley->space), .height = height,
		.first = galley->items->len};
	galley->space = 0;
	g_array_append_val(galley->strips, strip);
	return &g_array_index(galley->strips, tb_strip, galley->strips->len - 1);
}

void tb_galley_skip(tb_galley *galley, double space)
{
	galley->space = fmax(galley->space, space);
}

void tb_items_label(GArray *items, const char *text, double x, double y, double size,
	tb_face face, tb_align align, tb_ink ink)
{
	tb_item item = {.kind = TB_ITEM_LABEL,
		.label = {g_strdup(text), x, y, size, face, align, ink}};
	g_array_append_val(items, item);
}

tb_item *tb_items_line(GArray *items, double pen, tb_ink ink)
{
	tb_item item = {.kind = TB_ITEM_LINE, .pen = pen, .ink = ink,
		.line = g_array_new(FALSE, FALSE, sizeof(tb_spot))};
	g_array_append_val(items, item);
	return &g_array_index(items, tb_item, items->len - 1);
}

void tb_line_to(tb_item *line, double x, double y)
{
	tb_spot spot = {x, y};
	g_array_append_val(line->line, spot);
}

void tb_items_part(GArray *items, const char *text, bool more, double x, double y, double size,
	tb_face face, tb_ink ink)
{
	g_autofree char *part = g_strconcat(text, more ? " " : "", NULL);
	tb_items_label(items, part, x, y, size, face, TB_ALIGN_LEFT, ink);
}

void tb_items_rule(GArray *items, double x1, double y1, double x2, double y2, double pen,
	tb_ink ink)
{
	tb_item *line = tb_items_line(items, pen, ink);
	tb_line_to(line, x1, y1);
	tb_line_to(line, x2, y2);
}

void tb_items_box(GArray *items, double x, double y, double width, double height, double pen,
	tb_ink ink)
{
	tb_item *line = tb_items_line(items, pen, ink);
	line->closed = true;
	tb_line_to(line, x, y);
	tb_line_to(line, x + width, y);
	tb_line_to(line, x + width, y + height);
	tb_line_to(line, x, y + height);
}

void tb_items_sample(GArray *items, const tb_stitch *stitch, double x, double y, double column,
	double chain, double pen)
{
	tb_item item = {.kind = TB_ITEM_SAMPLE, .stitch = stitch, .x = x, .y = y, .column = column,
		.chain = chain, .pen = pen};
	g_array_append_val(items, item);
}

void tb_items_plate(GArray *items, const tb_chart *chart, tb_plate_view view, double x, double y,
	double left, double top, double width, double height)
{
	tb_item item = {.kind = TB_ITEM_PLATE, .chart = chart, .view = view, .x = x, .y = y,
		.left = left, .top = top, .width = width, .height = height};
	g_array_append_val(items, item);
}

void tb_items_tag(GArray *items, const char *role, const char *target)
{
	tb_item item = {.kind = TB_ITEM_TAG, .role = role, .target = g_strdup(target)};
	g_array_append_val(items, item);
}

void tb_items_untag(GArray *items)
{
	tb_item item = {.kind = TB_ITEM_UNTAG};
	g_array_append_val(items, item);
}
