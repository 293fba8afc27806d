/* One key for all charts of the pages, in columns, with how the charts are read. */
#include "layout/sheet.h"

#include <math.h>

/* In sizes of the body type. */
#define COLUMN 2.0
#define CHAIN 0.9
#define LINE 1.4
#define GUTTER 2.4
#define BETWEEN 0.8
#define PEN 0.11

typedef struct {
	tb_galley *galley;
	bool uk;
	double size, abbreviation, name, widest; /* mm; of the abbreviations, names, whole entries */
} key;

static gint compare_stitches(gconstpointer a, gconstpointer b)
{
	return tb_key_compare(*(const tb_stitch *const *)a, *(const tb_stitch *const *)b);
}

static GPtrArray *list_charted(const tb_pages *pages)
{
	const tb_library *library = tb_worked_pattern(pages->worked)->library;
	g_autofree bool *charted = g_new0(bool, tb_library_count(library));
	for (guint c = 0; c < pages->charts->len; c++) {
		const tb_chart *chart = g_ptr_array_index(pages->charts, c);
		for (guint i = 0; i < chart->placed->len; i++) {
			const tb_placed *placed = &g_array_index(chart->placed, tb_placed, i);
			charted[tb_chart_shown(chart, &chart->fabric->made[placed->made])->number] = true;
		}
	}
	GPtrArray *list = g_ptr_array_new();
	for (unsigned i = 0; i < tb_library_count(library); i++)
		if (charted[i])
			g_ptr_array_add(list, (gpointer)tb_library_get(library, i));
	g_ptr_array_sort(list, compare_stitches);
	/* What is no stitch comes last: where yarn begins and ends. */
	for (guint c = 0; c < pages->charts->len; c++) {
		const tb_chart *chart = g_ptr_array_index(pages->charts, c);
		for (guint i = 0; i < chart->marks->len; i++) {
			const tb_stitch *mark = g_array_index(chart->marks, tb_chart_mark, i).mark;
			if (!g_ptr_array_find(list, mark, NULL))
				g_ptr_array_add(list, (gpointer)mark);
		}
	}
	return list;
}

static double sample_height(const key *k, const tb_stitch *stitch)
{
	double chain = CHAIN * k->size;
	return tb_key_stitch_height(stitch, chain) + tb_key_post_height(stitch, chain);
}

static void find_widths(key *k, const GPtrArray *stitches)
{
	double name = 0;
	for (guint i = 0; i < stitches->len; i++) {
		const tb_stitch *stitch = g_ptr_array_index(stitches, i);
		k->abbreviation = fmax(k->abbreviation,
			fmax(tb_galley_text_width(k->galley, stitch->us, k->size, true),
				tb_galley_text_width(k->galley, stitch->uk, k->size, true)));
		name = fmax(name, fmax(tb_galley_text_width(k->galley, stitch->us_name, k->size, false),
			tb_galley_text_width(k->galley, stitch->uk_name, k->size, false)));
	}
	k->abbreviation += k->size;
	double before = 1.55 * COLUMN * k->size + k->abbreviation;
	k->name = fmin(name + tb_galley_text_width(k->galley, "US  ", k->size, false),
		k->galley->width - before);
	k->widest = before + k->name;
}

/* The lines of an entry: both names, each as long as there is room for. */
static GPtrArray *wrap_name(const key *k, const char *system, const char *name)
{
	g_autofree char *text = g_strdup_printf("%s  %s", system, name);
	GPtrArray *lines = tb_galley_wrap(k->galley, text, k->size, false, k->name + 0.3);
	return lines;
}

static unsigned count_lines(const key *k, const tb_stitch *stitch)
{
	if (stitch->family == TB_FAMILY_MARKS)
		return 1;
	g_autoptr(GPtrArray) us = wrap_name(k, "US", stitch->us_name);
	g_autoptr(GPtrArray) uk = wrap_name(k, "UK", stitch->uk_name);
	return us->len + uk->len;
}

static double entry_height(const key *k, const tb_stitch *stitch)
{
	return fmax((count_lines(k, stitch) + 0.1) * LINE * k->size, sample_height(k, stitch));
}

static void set_entry(const key *k, const tb_stitch *stitch, double x, double height)
{
	GArray *items = k->galley->items;
	double size = k->size, column = COLUMN * size, text = x + 1.55 * column;
	double baseline = height / 2 - (count_lines(k, stitch) / 2.0 - 0.76) * LINE * size;
	bool is_mark = stitch->family == TB_FAMILY_MARKS;
	g_autofree char *target = g_strdup_printf("key-%u", stitch->number);
	const char *terms[2][3] = {{stitch->us, stitch->us_name, "US"},
		{stitch->uk, stitch->uk_name, "UK"}};
	if (!is_mark)
		tb_items_tag(items, "Dest", target);
	tb_items_tag(items, "P", NULL);
	tb_items_sample(items, stitch, x + 0.5 * column, (height + sample_height(k, stitch)) / 2, column,
		CHAIN * size, fmax(0.3, PEN * size));
	if (is_mark)
		tb_items_label(items, k->uk ? stitch->uk_name : stitch->us_name, text, baseline, size,
			TB_FACE_BOLD, TB_ALIGN_LEFT, TB_INK_TEXT);
	for (int i = 0; i < 2 && !is_mark; i++) {
		const char *const *term = terms[k->uk ? 1 - i : i];
		g_autoptr(GPtrArray) lines = wrap_name(k, term[2], term[1]);
		tb_items_part(items, term[0], true, text, baseline, size,
			i == 0 ? TB_FACE_BOLD : TB_FACE_PLAIN, TB_INK_TEXT);
		for (guint n = 0; n < lines->len; n++, baseline += LINE * size)
			tb_items_part(items, g_ptr_array_index(lines, n), i == 0 || n + 1 < lines->len,
				text + k->abbreviation, baseline, size, TB_FACE_PLAIN, TB_INK_TEXT);
	}
	tb_items_untag(items);
	if (!is_mark)
		tb_items_untag(items);
}

static void set_entries(const key *k, const GPtrArray *stitches)
{
	double width = k->galley->width;
	guint columns = (guint)CLAMP((width + GUTTER * k->size) / (k->widest + GUTTER * k->size), 1, 3);
	double step = fmax(k->widest + GUTTER * k->size, width / columns);
	double whole = 0;
	for (guint i = 0; i < stitches->len; i++)
		whole += entry_height(k, g_ptr_array_index(stitches, i)) / columns;
	bool is_short = whole < k->galley->height / 3;
	for (guint i = 0; i < stitches->len; i += columns) {
		guint in_row = MIN(columns, stitches->len - i);
		double height = 0;
		for (guint c = 0; c < in_row; c++)
			height = fmax(height, entry_height(k, g_ptr_array_index(stitches, i + c)));
		tb_strip *strip = tb_galley_begin(k->galley, i == 0 ? 0 : BETWEEN * k->size, height);
		/* A short key is not parted. */
		strip->keep = (i == 0 || is_short) && i + columns < stitches->len;
		for (guint c = 0; c < in_row; c++)
			set_entry(k, g_ptr_array_index(stitches, i + c), c * step, height);
	}
	tb_galley_skip(k->galley, 1.6 * k->size);
}

/* How the charts are read; what is true of several is said once. */
static void set_reading(tb_galley *galley)
{
	g_autoptr(GPtrArray) said = g_ptr_array_new_with_free_func(g_free);
	g_autoptr(GString) text = g_string_new(NULL);
	for (guint c = 0; c < galley->pages->charts->len; c++) {
		g_autoptr(GPtrArray) reading = tb_chart_reading(g_ptr_array_index(galley->pages->charts, c));
		for (guint i = 0; i < reading->len; i++) {
			const char *sentence = reading->pdata[i];
			if (g_ptr_array_find_with_equal_func(said, sentence, g_str_equal, NULL))
				continue;
			g_ptr_array_add(said, g_strdup(sentence));
			g_string_append_printf(text, "%s%s", text->len > 0 ? " " : "", sentence);
		}
	}
	if (text->len > 0)
		tb_galley_paragraph(galley, text->str);
}

void tb_galley_key(tb_galley *galley, bool uk_terms)
{
	g_autoptr(GPtrArray) stitches = list_charted(galley->pages);
	key k = {.galley = galley, .uk = uk_terms, .size = galley->type.body};
	tb_galley_heading(galley, "Key", 1);
	find_widths(&k, stitches);
	set_entries(&k, stitches);
	set_reading(galley);
}
