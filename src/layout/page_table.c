/*
 * Tables: a head between thin rules, columns as wide as what stands in them, numbers flush right so
 * that their figures stand under each other. A table with more sizes than a page is wide goes on
 * below itself, behind its first column again.
 */
#include "layout/page.h"

#include <math.h>

#define BASE 0.36
#define RULE_PEN 0.2
/* Between columns, and from line to line, in sizes of type. */
#define GUTTER 1.5
#define LINE 1.55
/* A column of words gets no wider than this part of the table; longer words go on in lines below. */
#define WIDEST 0.5
#define TOGETHER 4u
/* Words measured one by one come out a hair wider than together, mm. */
#define SLACK 0.3

typedef struct {
	tb_galley *galley;
	GPtrArray *cells;
	unsigned rows, columns, first_number;
	const char *const *links;
	double *widths;
	double size;
} table;

static const char *get_cell(const table *t, unsigned row, unsigned column)
{
	return g_ptr_array_index(t->cells, row * t->columns + column);
}

static void find_widths(table *t)
{
	for (unsigned c = 0; c < t->columns; c++) {
		for (unsigned r = 0; r < t->rows; r++)
			t->widths[c] = fmax(t->widths[c],
				tb_galley_text_width(t->galley, get_cell(t, r, c), t->size, r == 0 || c == 0));
		if (c < t->first_number)
			t->widths[c] = fmin(t->widths[c], WIDEST * t->galley->width);
	}
}

/* A table of words is not parted: its widest columns give way, their words go on in lines below. */
static void narrow_words(table *t)
{
	double free = t->galley->width - (t->columns - 1) * GUTTER * t->size, taken = 0;
	if (t->first_number < t->columns)
		return;
	for (unsigned c = 0; c < t->columns; c++)
		taken += t->widths[c];
	while (taken > free) {
		unsigned widest = 0;
		for (unsigned c = 1; c < t->columns; c++)
			widest = t->widths[c] > t->widths[widest] ? c : widest;
		t->widths[widest] -= 1;
		taken -= 1;
	}
}

/* Where the columns that have room beside column 0 end, FIRST being the first of them. */
static unsigned find_band_end(const table *t, unsigned first)
{
	double taken = t->widths[0];
	unsigned end = first;
	for (; end < t->columns; end++) {
		taken += GUTTER * t->size + t->widths[end];
		if (end > first && taken > t->galley->width + 0.01)
			break;
	}
	return end;
}

static void set_cell(const table *t, unsigned row, unsigned column, double x, double baseline)
{
	bool bold = row == 0 || column == 0, number = column >= t->first_number;
	const char *link = t->links == NULL ? NULL : t->links[row * t->columns + column];
	GArray *items = t->galley->items;
	g_autoptr(GPtrArray) lines = tb_galley_wrap(t->galley, get_cell(t, row, column),
		t->size, bold, number ? G_MAXDOUBLE : t->widths[column] + SLACK);
	tb_items_tag(items, bold ? "TH" : "TD", NULL);
	if (link != NULL)
		tb_items_tag(items, "Link", link);
	for (guint i = 0; i < lines->len; i++)
		tb_items_label(items, g_ptr_array_index(lines, i), number ? x + t->widths[column] : x,
			baseline + i * t->size * 1.3, t->size, bold ? TB_FACE_BOLD : TB_FACE_PLAIN,
			number ? TB_ALIGN_RIGHT : TB_ALIGN_LEFT, TB_INK_TEXT);
	if (link != NULL)
		tb_items_untag(items);
	tb_items_untag(items);
}

static unsigned count_lines(const table *t, unsigned row, unsigned first, unsigned end)
{
	unsigned most = 1;
	for (unsigned c = 0; c < end; c = c == 0 ? first : c + 1) {
		if (c >= t->first_number)
			break;
		g_autoptr(GPtrArray) lines = tb_galley_wrap(t->galley, get_cell(t, row, c),
			t->size, row == 0 || c == 0, t->widths[c] + SLACK);
		most = MAX(most, lines->len);
	}
	return most;
}

static void set_row(const table *t, unsigned row, unsigned first, unsigned end, double width)
{
	GArray *items = t->galley->items;
	double lead = LINE * t->size, x = 0;
	double height = lead + (count_lines(t, row, first, end) - 1) * 1.3 * t->size;
	tb_strip *strip = tb_galley_begin(t->galley, 0, height);
	double baseline = lead / 2 + BASE * t->size;
	/* No fewer than so many rows stand under a head, or alone behind a page's end. */
	strip->keep = row + 1 < t->rows && (row < TOGETHER || row + TOGETHER >= t->rows);
	if (row == 0)
		tb_items_rule(items, 0, 0, width, 0, RULE_PEN, TB_INK_TEXT);
	tb_items_tag(items, "TR", NULL);
	for (unsigned c = 0; c < end; c = c == 0 ? first : c + 1) {
		set_cell(t, row, c, x, baseline);
		x += t->widths[c] + GUTTER * t->size;
	}
	tb_items_untag(items);
	if (row == 0 || row + 1 == t->rows)
		tb_items_rule(items, 0, height, width, height, RULE_PEN, TB_INK_TEXT);
	if (row + 1 == t->rows)
		tb_items_untag(items);
}

static void set_band(const table *t, unsigned first, unsigned end)
{
	double width = t->widths[0];
	/* The table begins in a strip of its own, since its head may be set again. */
	tb_galley_begin(t->galley, 0, 0)->keep = true;
	tb_items_tag(t->galley->items, "Table", NULL);
	guint head = t->galley->strips->len;
	for (unsigned c = first; c < end; c++)
		width += GUTTER * t->size + t->widths[c];
	for (unsigned r = 0; r < t->rows; r++) {
		set_row(t, r, first, end, width);
		if (r > 0) {
			tb_strip *strip =
				&g_array_index(t->galley->strips, tb_strip, t->galley->strips->len - 1);
			strip->repeat = head;
			strip->repeat_count = 1;
		}
	}
	tb_galley_skip(t->galley, 1.2 * t->size);
}

void tb_galley_table(tb_galley *galley, GPtrArray *cells, unsigned columns, unsigned first_number,
	const char *const *links)
{
	table t = {.galley = galley, .cells = cells, .rows = cells->len / columns, .columns = columns,
		.first_number = first_number, .links = links, .size = galley->type.body};
	g_autofree double *widths = g_new0(double, columns);
	t.widths = widths;
	find_widths(&t);
	narrow_words(&t);
	unsigned bands = 0;
	for (unsigned first = 1; first < columns; first = find_band_end(&t, first))
		bands++;
	for (unsigned first = 1; first < columns; bands--) {
		/* Bands are of a length, as far as that comes out. */
		unsigned even = bands == 0 ? columns : first + (columns - first + bands - 1) / bands;
		unsigned end = MIN(find_band_end(&t, first), even);
		set_band(&t, first, end);
		first = end;
	}
}
