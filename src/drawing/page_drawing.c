/*
 * Laid-out pages as drawings. A chart is drawn once; each window on it takes the marks that show in
 * it, moved to their place on the page, between a clip and its end.
 */
#include "drawing/document.h"
#include "drawing/glyphs.h"
#include "drawing/palette.h"
#include "drawing/sample.h"

#include "layout/page.h"

#include <math.h>

typedef struct {
	const tb_pages *pages;
	GHashTable *charts; /* tb_chart -> its tb_drawing */
	tb_drawing *page;
	GHashTable *shapes; /* of the chart's drawing being copied: number -> number + 1 on the page */
} page_painter;

static void clear_bookmark(gpointer data)
{
	g_free(((tb_bookmark *)data)->text);
}

static void destroy_drawing(gpointer drawing)
{
	tb_drawing_destroy(drawing);
}

void tb_document_destroy(tb_document *document)
{
	if (document == NULL)
		return;
	g_ptr_array_unref(document->pages);
	g_ptr_array_unref(document->labels);
	g_array_unref(document->bookmarks);
	g_free(document->title);
	g_free(document->author);
	g_free(document->description);
	g_free(document);
}

/* The window of a plate, on the page. */
typedef struct {
	double dx, dy; /* from the chart to the page */
	double left, top, right, bottom;
} window;

static bool overlaps(const window *w, double left, double top, double right, double bottom)
{
	return right >= w->left && left <= w->right && bottom >= w->top && top <= w->bottom;
}

static bool shape_shows(const window *w, const tb_drawing *chart, const tb_mark *mark)
{
	const tb_shape *shape = g_ptr_array_index(chart->shapes, mark->shape);
	double reach = hypot(fmax(fabs(shape->left), fabs(shape->right)),
		fmax(fabs(shape->top), fabs(shape->bottom)));
	if (mark->angle != 0)
		return overlaps(w, mark->x - reach, mark->y - reach, mark->x + reach, mark->y + reach);
	return overlaps(w, mark->x + shape->left, mark->y + shape->top, mark->x + shape->right,
		mark->y + shape->bottom);
}

static guint32 page_shape(page_painter *p, const tb_drawing *chart, guint32 number)
{
	gpointer found = g_hash_table_lookup(p->shapes, GUINT_TO_POINTER(number));
	if (found == NULL) {
		const tb_shape *shape = g_ptr_array_index(chart->shapes, number);
		guint32 there = tb_drawing_add_shape(p->page, tb_shape_copy(shape));
		found = GUINT_TO_POINTER(there + 1);
		g_hash_table_insert(p->shapes, GUINT_TO_POINTER(number), found);
	}
	return GPOINTER_TO_UINT(found) - 1;
}

static void copy_shape(page_painter *p, const window *w, const tb_drawing *chart, const tb_mark *mark,
	tb_plate_view view)
{
	/* A stitch is read where its top shows: a window's neighbour does not say it again. */
	bool inside = mark->x >= w->left && mark->x <= w->right && mark->y >= w->top &&
		mark->y <= w->bottom;
	if (view == TB_PLATE_EMPTY || !shape_shows(w, chart, mark))
		return;
	tb_drawing_place_shape(p->page, page_shape(p, chart, mark->shape), mark->x + w->dx,
		mark->y + w->dy, mark->angle, view == TB_PLATE_PALE ? TB_INK_BELOW : mark->ink,
		inside && view == TB_PLATE_WHOLE ? mark->word : NULL);
	g_array_index(p->page->marks, tb_mark, p->page->marks->len - 1).pen_mm = chart->pen_mm;
}

static void copy_line(page_painter *p, const window *w, const tb_mark *mark)
{
	double left, top, right, bottom;
	if (!tb_path_bounds(mark->path, &left, &top, &right, &bottom) ||
		!overlaps(w, left - mark->pen_mm, top - mark->pen_mm, right + mark->pen_mm,
			bottom + mark->pen_mm))
		return;
	tb_path *path = tb_path_copy(mark->path);
	for (guint i = 0; i < path->points->len; i++) {
		g_array_index(path->points, tb_point, i).x += w->dx;
		g_array_index(path->points, tb_point, i).y += w->dy;
	}
	tb_drawing_add_line(p->page, path, mark->ink, mark->pen_mm, mark->dash_mm, mark->gap_mm);
}

/* Words of a chart are short; one is taken to be no longer than so many sizes of its type. */
#define LONGEST_WORD 60.0

static void copy_text(page_painter *p, const window *w, const tb_mark *mark)
{
	double reach = fmin(LONGEST_WORD, (double)g_utf8_strlen(mark->text, -1)) * mark->size_mm;
	double left = mark->align == TB_ALIGN_LEFT ? 0 :
		mark->align == TB_ALIGN_RIGHT ? reach : reach / 2;
	if (!overlaps(w, mark->x - left, mark->y - mark->size_mm, mark->x - left + reach,
			mark->y + mark->size_mm / 3))
		return;
	tb_drawing_tag(p->page, "P", NULL);
	tb_drawing_add_text(p->page, mark->text, mark->x + w->dx, mark->y + w->dy, mark->size_mm,
		mark->face, mark->align, mark->ink);
	tb_drawing_untag(p->page);
}

static const tb_drawing *chart_drawing(page_painter *p, const tb_chart *chart)
{
	tb_drawing *drawing = g_hash_table_lookup(p->charts, chart);
	if (drawing == NULL) {
		drawing = tb_chart_draw(chart);
		g_hash_table_insert(p->charts, (gpointer)chart, drawing);
	}
	return drawing;
}

static void draw_plate(page_painter *p, const tb_item *item)
{
	const tb_drawing *chart = chart_drawing(p, item->chart);
	window w = {.dx = item->x - item->left, .dy = item->y - item->top, .left = item->left,
		.top = item->top, .right = item->left + item->width, .bottom = item->top + item->height};
	g_hash_table_remove_all(p->shapes);
	tb_drawing_tag(p->page, "Sect", NULL);
	tb_drawing_clip(p->page, item->x, item->y, item->width, item->height);
	for (guint i = 0; i < chart->marks->len; i++) {
		const tb_mark *mark = &g_array_index(chart->marks, tb_mark, i);
		if (mark->kind == TB_MARK_SHAPE)
			copy_shape(p, &w, chart, mark, item->view);
		else if (mark->kind == TB_MARK_LINE)
			copy_line(p, &w, mark);
		else if (mark->kind == TB_MARK_TEXT)
			copy_text(p, &w, mark);
		else if (mark->kind == TB_MARK_GROUP)
			tb_drawing_begin_group(p->page, mark->text);
		else if (mark->kind == TB_MARK_END)
			tb_drawing_end_group(p->page);
	}
	tb_drawing_unclip(p->page);
	tb_drawing_untag(p->page);
}

static void draw_line(page_painter *p, const tb_item *item)
{
	tb_path *path = tb_path_create();
	for (guint i = 0; i < item->line->len; i++) {
		const tb_spot *spot = &g_array_index(item->line, tb_spot, i);
		if (i == 0)
			tb_path_move(path, spot->x, spot->y);
		else
			tb_path_line(path, spot->x, spot->y);
	}
	if (item->closed)
		tb_path_close(path);
	tb_drawing_add_line(p->page, path, item->ink, item->pen, item->dash, item->gap);
}

static void place_sample(page_painter *p, const tb_item *item, GArray *parts, double y, tb_ink ink)
{
	guint32 shape = tb_drawing_add_shape(p->page, tb_glyphs_shape(parts, item->pen));
	tb_drawing_place_shape(p->page, shape, item->x, y, 0, ink, NULL);
	g_array_index(p->page->marks, tb_mark, p->page->marks->len - 1).pen_mm = item->pen;
}

static void draw_sample(page_painter *p, const tb_item *item)
{
	tb_sample sample;
	tb_sample_init(&sample, item->stitch, item->column, item->chain, item->pen);
	double y = item->y - sample.height - sample.below;
	if (sample.under != NULL)
		place_sample(p, item, sample.under, y, TB_INK_BELOW);
	place_sample(p, item, sample.parts, y, TB_INK_ROW_A);
	tb_sample_finish(&sample);
}

static void draw_item(page_painter *p, const tb_item *item)
{
	const tb_label *label = &item->label;
	switch (item->kind) {
	case TB_ITEM_LABEL:
		tb_drawing_add_text(p->page, label->text, label->x, label->y, label->size_mm, label->face,
			label->align, label->ink);
		break;
	case TB_ITEM_LINE:
		draw_line(p, item);
		break;
	case TB_ITEM_SAMPLE:
		draw_sample(p, item);
		break;
	case TB_ITEM_PLATE:
		draw_plate(p, item);
		break;
	case TB_ITEM_TAG:
		tb_drawing_tag(p->page, item->role, item->target);
		break;
	case TB_ITEM_UNTAG:
		tb_drawing_untag(p->page);
		break;
	}
}

static tb_drawing *draw_page(page_painter *p, const tb_leaf *page)
{
	p->page = tb_drawing_create();
	p->page->title = g_strdup(p->pages->title);
	p->page->width_mm = page->width;
	p->page->height_mm = page->height;
	p->page->pen_mm = 0.3;
	p->page->palette = tb_palette_get(p->pages->grey);
	for (guint i = 0; i < page->items->len; i++)
		draw_item(p, &g_array_index(page->items, tb_item, i));
	return p->page;
}

tb_document *tb_pages_draw(const tb_pages *pages)
{
	tb_document *document = g_new0(tb_document, 1);
	document->title = g_strdup(pages->title);
	document->author = g_strdup(pages->author);
	document->description = g_strdup(pages->description);
	document->pages = g_ptr_array_new_with_free_func(destroy_drawing);
	document->labels = g_ptr_array_new_with_free_func(g_free);
	document->bookmarks = g_array_new(FALSE, TRUE, sizeof(tb_bookmark));
	g_array_set_clear_func(document->bookmarks, clear_bookmark);
	page_painter p = {.pages = pages,
		.charts = g_hash_table_new_full(NULL, NULL, NULL, destroy_drawing),
		.shapes = g_hash_table_new(NULL, NULL)};
	for (guint i = 0; i < pages->pages->len; i++) {
		const tb_leaf *page = g_ptr_array_index(pages->pages, i);
		g_ptr_array_add(document->pages, draw_page(&p, page));
		g_ptr_array_add(document->labels, g_strdup(page->label));
	}
	for (guint i = 0; i < pages->marks->len; i++) {
		const tb_leaf_mark *mark = &g_array_index(pages->marks, tb_leaf_mark, i);
		tb_bookmark bookmark = {g_strdup(mark->text), mark->level, mark->page, mark->y};
		g_array_append_val(document->bookmarks, bookmark);
	}
	g_hash_table_unref(p.charts);
	g_hash_table_unref(p.shapes);
	return document;
}
