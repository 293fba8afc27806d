/*
 * The key: every symbol that stands on the chart, its abbreviation and name in both terms, and in
 * a sentence or two how the chart is read. Samples are drawn at a size of their own, so that a key
 * is as readable under a true-to-size chart of thread lace as under a blanket's.
 */
#include "layout/chart.h"

#include <math.h>

#define TEXT_SIZE 3.4
#define RULE_SIZE 3.1
#define SAMPLE_COLUMN 5.6
#define LINE 1.48
/* Between two entries, a symbol and its term, two lines of entries; mm. */
#define ENTRY_GAP 6.5
#define TERM_GAP 1.8
#define LINE_GAP 2.2
/* Chains are as high in the key as in the chart, within these bounds, in columns. */
#define LEAST_CHAIN 0.36
#define MOST_CHAIN 0.5

double tb_key_stitch_height(const tb_stitch *stitch, double chain)
{
	if (stitch->form == TB_FORM_CHAIN)
		return 1.2 * chain;
	return fmax(stitch->height, tb_stitch_is_raised_cross(stitch) ? 2 : 1.6) * chain;
}

double tb_key_post_height(const tb_stitch *stitch, double chain)
{
	if (stitch->foot == TB_FOOT_DEEP || stitch->foot == TB_FOOT_CHAIN)
		return 1.1 * chain;
	if (stitch->post == TB_POST_NONE)
		return 0;
	return (stitch->meet == TB_MEET_BOTH ? 3.0 : 2.3) * chain;
}

typedef struct {
	const tb_stitch *stitch;
	double height, width; /* of the sample */
} entry;

/* Where entries are set, and what with. */
typedef struct {
	tb_chart *chart;
	const tb_text_measure *measure;
	double scale, size, column, chain;
} key_setting;

int tb_key_compare(const tb_stitch *x, const tb_stitch *y)
{
	if (x->form != y->form)
		return x->form < y->form ? -1 : 1;
	if (x->legs != y->legs)
		return x->legs < y->legs ? -1 : 1;
	if (x->post != y->post)
		return x->post < y->post ? -1 : 1;
	if (x->height != y->height)
		return x->height < y->height ? -1 : 1;
	return (int)x->number - (int)y->number;
}

static int compare_entries(gconstpointer a, gconstpointer b)
{
	return tb_key_compare(((const entry *)a)->stitch, ((const entry *)b)->stitch);
}

bool tb_key_is_special(const tb_stitch *stitch)
{
	return stitch->family != TB_FAMILY_CHAINS && stitch->family != TB_FAMILY_PLAIN &&
		stitch->family != TB_FAMILY_MARKS;
}

static double sample_height(const tb_stitch *stitch, double chain)
{
	return tb_key_stitch_height(stitch, chain) + tb_key_post_height(stitch, chain);
}

/* As wide as its sample, as far as that is known before it is drawn. */
static double sample_width(const tb_stitch *stitch, double column)
{
	if (stitch->meet == TB_MEET_FOOT && stitch->head == TB_HEAD_BOW)
		return (stitch->takes + 0.2) * column;
	if (stitch->takes > 1)
		return 2.1 * column;
	return (stitch->form == TB_FORM_PATH ? 1.2 : stitch->foot == TB_FOOT_DEEP ? 1.5 : stitch->linked ? 1 : 0.7) * column;
}

static bool is_listed(const GArray *entries, const tb_stitch *stitch)
{
	for (guint i = 0; i < entries->len; i++) {
		if (g_array_index(entries, entry, i).stitch == stitch)
			return true;
	}
	return false;
}

static GArray *list_used(const tb_chart *chart, double column, double chain)
{
	const tb_library *library = tb_worked_pattern(chart->worked)->library;
	g_autofree bool *used = g_new0(bool, tb_library_count(library));
	for (guint i = 0; i < chart->placed->len; i++) {
		const tb_placed *placed = &g_array_index(chart->placed, tb_placed, i);
		used[tb_chart_shown(chart, &chart->fabric->made[placed->made])->number] = true;
	}
	GArray *entries = g_array_new(FALSE, FALSE, sizeof(entry));
	for (unsigned i = 0; i < tb_library_count(library); i++) {
		const tb_stitch *stitch = tb_library_get(library, i);
		entry e = {stitch, sample_height(stitch, chain), sample_width(stitch, column)};
		if (used[i])
			g_array_append_val(entries, e);
	}
	g_array_sort(entries, compare_entries);
	for (guint i = 0; i < chart->marks->len; i++) {
		const tb_stitch *mark = g_array_index(chart->marks, tb_chart_mark, i).mark;
		if (is_listed(entries, mark))
			continue;
		entry e = {mark, sample_height(mark, chain), sample_width(mark, column)};
		g_array_append_val(entries, e);
	}
	return entries;
}

static double width_of(const key_setting *k, const char *text, tb_face face)
{
	return k->measure->measure(k->measure->data, text, k->size, face);
}

/*
 * What an entry says: the term, and behind it, standing back, that of the other country, for "dc" alone is another stitch
 * across the ocean. NULL where it is the same word.
 */
static char *other_term(const tb_stitch *stitch, bool uk)
{
	if (stitch->family == TB_FAMILY_MARKS || g_strcmp0(stitch->us, stitch->uk) == 0)
		return NULL;
	return g_strdup_printf("%s %s", uk ? "US" : "UK", uk ? stitch->us : stitch->uk);
}

static double entry_width(const key_setting *k, const entry *e)
{
	bool uk = k->chart->options.uk_terms;
	g_autofree char *other = other_term(e->stitch, uk);
	double width = e->width + TERM_GAP * k->scale + width_of(k, uk ? e->stitch->uk : e->stitch->us, TB_FACE_BOLD);
	return width + (other != NULL ? TERM_GAP * k->scale + width_of(k, other, TB_FACE_PLAIN) : 0);
}

/* An entry at X, its words on BASELINE. */
static void add_entry(const key_setting *k, const entry *e, double x, double baseline)
{
	bool uk = k->chart->options.uk_terms;
	const char *term = uk ? e->stitch->uk : e->stitch->us;
	g_autofree char *other = other_term(e->stitch, uk);
	tb_key_symbol symbol = {e->stitch, x + e->width / 2, baseline - 0.36 * k->size + e->height / 2, k->column, k->chain};
	g_array_append_val(k->chart->keys, symbol);
	double text = x + e->width + TERM_GAP * k->scale;
	tb_chart_add_label(k->chart, term, text, baseline, k->size, TB_FACE_BOLD, TB_ALIGN_LEFT, TB_INK_TEXT);
	if (other != NULL)
		tb_chart_add_label(k->chart, other, text + width_of(k, term, TB_FACE_BOLD) + TERM_GAP * k->scale, baseline, k->size,
			TB_FACE_PLAIN, TB_ALIGN_LEFT, TB_INK_QUIET);
}

/* How cells of each colour are shaded: a swatch and the colour's name. */
static double add_colours(const key_setting *k, double x, double top, double width)
{
	double at = x, wide = 0.9 * k->column, high = 0.6 * k->column, baseline = top + high / 2 + 0.36 * k->size;
	for (guint i = 0; i < k->chart->colours->len; i++) {
		const char *name = k->chart->colours->pdata[i];
		double end = at + wide + TERM_GAP * k->scale + width_of(k, name, TB_FACE_BOLD);
		if (at > x && end > x + width) {
			end += x - at;
			at = x;
			baseline += high + LINE_GAP * k->scale;
		}
		tb_swatch swatch = {{at + wide / 2, baseline - 0.36 * k->size}, wide, high, i};
		g_array_append_val(k->chart->swatches, swatch);
		tb_chart_add_label(k->chart, name, at + wide + TERM_GAP * k->scale, baseline, k->size, TB_FACE_BOLD, TB_ALIGN_LEFT, TB_INK_TEXT);
		at = end + ENTRY_GAP * k->scale;
	}
	return k->chart->colours->len > 0 ? baseline - 0.36 * k->size + high / 2 + LINE_GAP * k->scale : top;
}

/* Entries one behind the other, as many in a line as WIDTH has room for; returns where the last line ends. */
static double add_entries(const key_setting *k, const GArray *entries, double x, double top, double width)
{
	for (guint i = 0; i < entries->len;) {
		double wide = 0, height = 0.9 * k->size;
		guint end = i;
		while (end < entries->len) {
			const entry *e = &g_array_index(entries, entry, end);
			double more = entry_width(k, e) + (end > i ? ENTRY_GAP * k->scale : 0);
			if (end > i && wide + more > width)
				break;
			wide += more;
			height = fmax(height, e->height);
			end++;
		}
		double at = x, baseline = top + height / 2 + 0.36 * k->size;
		for (; i < end; i++) {
			const entry *e = &g_array_index(entries, entry, i);
			add_entry(k, e, at, baseline);
			at += entry_width(k, e) + ENTRY_GAP * k->scale;
		}
		top += height + LINE_GAP * k->scale;
	}
	return top;
}

/* Sets a paragraph, breaking lines at spaces; returns its height. */
static double add_paragraph(tb_chart *chart, const tb_text_measure *measure, const char *text,
	double x, double y, double width, double size, tb_ink ink)
{
	g_auto(GStrv) words = g_strsplit(text, " ", -1);
	g_autoptr(GString) line = g_string_new(NULL);
	double baseline = y + size;
	for (int i = 0; words[i] != NULL; i++) {
		g_autofree char *longer = g_strdup_printf("%s%s%s", line->str, line->len > 0 ? " " : "",
			words[i]);
		if (line->len > 0 && measure->measure(measure->data, longer, size, TB_FACE_PLAIN) > width) {
			tb_chart_add_label(chart, line->str, x, baseline, size, TB_FACE_PLAIN,
				TB_ALIGN_LEFT, ink);
			baseline += size * LINE;
			g_string_assign(line, words[i]);
		} else {
			g_string_assign(line, longer);
		}
	}
	tb_chart_add_label(chart, line->str, x, baseline, size, TB_FACE_PLAIN, TB_ALIGN_LEFT, ink);
	return baseline + size * 0.3 - y;
}

double tb_chart_add_key(tb_chart *chart, const tb_text_measure *measure, double x, double y,
	double width)
{
	double scale = fmax(1, chart->column / 8), column = SAMPLE_COLUMN * scale;
	/* A stitch of the key is the stitch of the chart. */
	double chain = CLAMP(chart->chain / chart->column, LEAST_CHAIN, MOST_CHAIN) * column;
	key_setting k = {chart, measure, scale, TEXT_SIZE * scale, column, chain};
	g_autoptr(GArray) entries = list_used(chart, column, chain);
	double bottom = add_colours(&k, x, add_entries(&k, entries, x, y, width), width), line = fmin(width, 170 * scale), size = RULE_SIZE * scale;
	bool uk = chart->options.uk_terms;
	for (guint i = 0; i < entries->len; i++) {
		const tb_stitch *stitch = g_array_index(entries, entry, i).stitch;
		if (!tb_key_is_special(stitch))
			continue;
		g_autofree char *moves = tb_stitch_describe(stitch, uk);
		const char *term = uk ? stitch->uk : stitch->us, *name = uk ? stitch->uk_name : stitch->us_name;
		bool named = g_strcmp0(term, name) != 0;
		g_autofree char *said = g_strdup_printf("%s%s%s%s: %s.", term, named ? " (" : "", named ? name : "", named ? ")" : "", moves);
		bottom += add_paragraph(chart, measure, said, x, bottom, line, size, TB_INK_TEXT) + 1.0 * scale;
	}
	g_autoptr(GPtrArray) reading = tb_chart_reading(chart);
	g_ptr_array_add(reading, NULL);
	g_autofree char *text = g_strjoinv(" ", (char **)reading->pdata);
	if (*text != '\0')
		bottom += add_paragraph(chart, measure, text, x, bottom, line, size, TB_INK_QUIET);
	return bottom - y;
}
