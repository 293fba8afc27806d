/*
 * From a galley to pages: strips are taken in order, each with those it must keep with, and go on
 * the next page when they have no room on this one.
 */
#include "layout/page.h"

#include <math.h>

#define FOLIO_DROP 4.0 /* of its line, below the margin, mm */

typedef struct {
	tb_galley *galley;
	tb_leaf *page; /* NULL before the first */
	double y, free; /* where the next strip goes, and what is left below */
	bool turned;
	GPtrArray *open; /* tb_item in the galley, borrowed: tags that are open */
	double squeeze;  /* of the spaces between strips */
	guint opened;    /* pages so far */
	bool dry;        /* pages are counted, not made */
} breaker;

static tb_strip *get_strip(const tb_galley *galley, guint i)
{
	return &g_array_index(galley->strips, tb_strip, i);
}

/* A part of the structure that goes on over the page is closed here, and begun again there. */
static void close_page(breaker *b)
{
	for (guint i = 0; b->page != NULL && i < b->open->len; i++)
		tb_items_untag(b->page->items);
}

static void open_page(breaker *b, bool turned)
{
	double width, height;
	tb_galley *galley = b->galley;
	b->turned = turned;
	b->y = galley->margin;
	b->free = turned ? galley->turned_height : galley->height;
	b->opened++;
	if (b->dry)
		return;
	tb_paper_get_size(galley->paper, &width, &height);
	close_page(b);
	g_autofree char *label = g_strdup_printf("%u", galley->pages->pages->len + 1);
	b->page = tb_pages_add(galley->pages, turned ? height : width, turned ? width : height, label);
	for (guint i = 0; i < b->open->len; i++) {
		const tb_item *tag = g_ptr_array_index(b->open, i);
		tb_items_tag(b->page->items, tag->role, NULL);
	}
}

static void copy_item(breaker *b, tb_item *item)
{
	double dx = b->galley->margin, dy = b->y;
	tb_item copy = *item;
	if (item->kind == TB_ITEM_TAG)
		g_ptr_array_add(b->open, item);
	else if (item->kind == TB_ITEM_UNTAG && b->open->len > 0)
		g_ptr_array_remove_index(b->open, b->open->len - 1);
	copy.label.text = g_strdup(item->label.text);
	copy.target = g_strdup(item->target);
	copy.label.x += dx;
	copy.label.y += dy;
	copy.x += dx;
	copy.y += dy;
	if (item->line != NULL) {
		copy.line = g_array_copy(item->line);
		for (guint i = 0; i < copy.line->len; i++) {
			g_array_index(copy.line, tb_spot, i).x += dx;
			g_array_index(copy.line, tb_spot, i).y += dy;
		}
	}
	g_array_append_val(b->page->items, copy);
}

static void place(breaker *b, guint number, double before)
{
	const tb_strip *strip = get_strip(b->galley, number);
	b->free -= before + strip->height;
	if (b->dry)
		return;
	b->y += before;
	if (strip->mark != NULL)
		tb_pages_add_mark(b->galley->pages, strip->mark, strip->level,
			b->galley->pages->pages->len - 1, b->y);
	for (guint i = 0; i < strip->count; i++)
		copy_item(b, &g_array_index(b->galley->items, tb_item, strip->first + i));
	b->y += strip->height;
}

/* The strips that must stand together from FIRST on; how high they are, the first space aside. */
static guint find_end(const breaker *b, guint first, double *height)
{
	const tb_galley *galley = b->galley;
	guint end = first;
	*height = 0;
	for (; end < galley->strips->len; end++) {
		const tb_strip *strip = get_strip(galley, end);
		*height += strip->height + (end > first ? b->squeeze * strip->before : 0);
		if (!strip->keep)
			return end + 1;
	}
	return end;
}

static void set_counts(tb_galley *galley)
{
	for (guint i = 0; i < galley->strips->len; i++) {
		guint end = i + 1 < galley->strips->len ? get_strip(galley, i + 1)->first :
			galley->items->len;
		get_strip(galley, i)->count = end - get_strip(galley, i)->first;
	}
}

static void set_folios(tb_galley *galley)
{
	tb_pages *pages = galley->pages;
	double size = galley->type.small;
	for (guint i = 0; i < pages->pages->len; i++) {
		tb_leaf *page = g_ptr_array_index(pages->pages, i);
		double y = page->height - galley->margin + FOLIO_DROP;
		g_autofree char *folio = galley->no_total ? g_strdup_printf("%u", i + 1) :
			g_strdup_printf("%u / %u", i + 1, pages->pages->len);
		tb_items_label(page->items, pages->title, galley->margin, y, size, TB_FACE_PLAIN,
			TB_ALIGN_LEFT, TB_INK_TEXT);
		tb_items_label(page->items, folio, page->width - galley->margin, y, size,
			TB_FACE_PLAIN, TB_ALIGN_RIGHT, TB_INK_TEXT);
	}
}

static void break_all(breaker *b)
{
	tb_galley *galley = b->galley;
	b->open = g_ptr_array_new();
	for (guint i = 0; i < galley->strips->len;) {
		double height;
		guint end = find_end(b, i, &height);
		const tb_strip *first = get_strip(galley, i);
		bool turned = get_strip(galley, end - 1)->turned, begins = false;
		if (b->opened == 0 || b->turned != turned ||
			b->squeeze * first->before + height > b->free + 0.001) {
			open_page(b, turned);
			begins = true;
		}
		if (begins)
			for (guint k = 0; k < first->repeat_count; k++)
				place(b, first->repeat + k, 0);
		for (guint k = i; k < end; k++)
			place(b, k, k == i && begins ? 0 : b->squeeze * get_strip(galley, k)->before);
		i = end;
	}
	g_ptr_array_unref(b->open);
}

/* Where a little less space everywhere saves a page, that page would have been nearly empty. */
static double choose_squeeze(tb_galley *galley)
{
	static const double SQUEEZES[] = {1, 0.9, 0.8, 0.7, 0.6};
	double best = 1;
	guint least = 0;
	for (size_t i = 0; i < G_N_ELEMENTS(SQUEEZES); i++) {
		breaker b = {.galley = galley, .squeeze = SQUEEZES[i], .dry = true};
		break_all(&b);
		if (i == 0 || b.opened < least) {
			least = b.opened;
			best = SQUEEZES[i];
		}
	}
	return best;
}

void tb_galley_paginate(tb_galley *galley)
{
	set_counts(galley);
	breaker b = {.galley = galley, .squeeze = choose_squeeze(galley)};
	break_all(&b);
	set_folios(galley);
}
