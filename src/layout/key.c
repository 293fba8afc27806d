/*
 * The key: every symbol that stands on the chart, its abbreviation and name in both terms, and in
 * a sentence or two how the chart is read. Samples are drawn at a size of their own, so that a key
 * is as readable under a true-to-size chart of thread lace as under a blanket's.
 */
#include "layout/chart.h"

#include <math.h>

#define HEAD_SIZE 4.2
#define TEXT_SIZE 3.3
#define SAMPLE_COLUMN 7.0
#define SAMPLE_CHAIN 3.1
#define LINE 1.38

double tb_key_stitch_height(const tb_stitch *stitch, double chain)
{
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
	double height; /* of the sample */
} entry;

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

static bool is_listed(const GArray *entries, const tb_stitch *stitch)
{
	for (guint i = 0; i < entries->len; i++) {
		if (g_array_index(entries, entry, i).stitch == stitch)
			return true;
	}
	return false;
}

static GArray *list_used(const tb_chart *chart, double chain)
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
		entry e = {stitch, sample_height(stitch, chain)};
		if (used[i])
			g_array_append_val(entries, e);
	}
	g_array_sort(entries, compare_entries);
	for (guint i = 0; i < chart->marks->len; i++) {
		const tb_stitch *mark = g_array_index(chart->marks, tb_chart_mark, i).mark;
		if (is_listed(entries, mark))
			continue;
		entry e = {mark, sample_height(mark, chain)};
		g_array_append_val(entries, e);
	}
	return entries;
}

static void add_entry(tb_chart *chart, const entry *e, double x, double y, double height,
	double scale, double abbreviation)
{
	double size = TEXT_SIZE * scale, column = SAMPLE_COLUMN * scale;
	const tb_stitch *stitch = e->stitch;
	bool uk = chart->options.uk_terms;
	tb_key_symbol symbol = {stitch, x + column * 0.6, y + (height + e->height) / 2, column,
		SAMPLE_CHAIN * scale};
	g_array_append_val(chart->keys, symbol);
	double text = x + column * 1.55, middle = y + height / 2;
	if (stitch->family == TB_FAMILY_MARKS) {
		tb_chart_add_label(chart, uk ? stitch->uk_name : stitch->us_name, text, middle + 0.36 * size,
			size, TB_WEIGHT_BOLD, TB_ALIGN_LEFT, TB_INK_TEXT);
		return;
	}
	const char *terms[2][2] = {{stitch->us, stitch->us_name}, {stitch->uk, stitch->uk_name}};
	for (int i = 0; i < 2; i++) {
		const char *const *term = terms[uk ? 1 - i : i];
		double baseline = middle + (i * LINE - 0.34) * size;
		g_autofree char *name = g_strdup_printf("%s  %s", (uk ? 1 - i : i) == 0 ? "US" : "UK", term[1]);
		tb_weight weight = i == 0 ? TB_WEIGHT_BOLD : TB_WEIGHT_REGULAR;
		tb_chart_add_label(chart, term[0], text, baseline, size, weight, TB_ALIGN_LEFT, TB_INK_TEXT);
		tb_chart_add_label(chart, name, text + abbreviation, baseline, size, TB_WEIGHT_REGULAR,
			TB_ALIGN_LEFT, TB_INK_TEXT);
	}
}

/* Sets a paragraph, breaking lines at spaces; returns its height. */
static double add_paragraph(tb_chart *chart, const tb_text_measure *measure, const char *text,
	double x, double y, double width, double size)
{
	g_auto(GStrv) words = g_strsplit(text, " ", -1);
	g_autoptr(GString) line = g_string_new(NULL);
	double baseline = y + size;
	for (int i = 0; words[i] != NULL; i++) {
		g_autofree char *longer = g_strdup_printf("%s%s%s", line->str, line->len > 0 ? " " : "",
			words[i]);
		if (line->len > 0 && measure->measure(measure->data, longer, size, false) > width) {
			tb_chart_add_label(chart, line->str, x, baseline, size, TB_WEIGHT_REGULAR,
				TB_ALIGN_LEFT, TB_INK_TEXT);
			baseline += size * LINE;
			g_string_assign(line, words[i]);
		} else {
			g_string_assign(line, longer);
		}
	}
	tb_chart_add_label(chart, line->str, x, baseline, size, TB_WEIGHT_REGULAR, TB_ALIGN_LEFT,
		TB_INK_TEXT);
	return baseline + size * 0.3 - y;
}

static bool has_one_loop(const tb_chart *chart)
{
	for (guint i = 0; i < chart->placed->len; i++) {
		const tb_placed *placed = &g_array_index(chart->placed, tb_placed, i);
		if (chart->fabric->made[placed->made].flags & (TB_MADE_FRONT_LOOP | TB_MADE_BACK_LOOP))
			return true;
	}
	return false;
}

static bool is_around(const tb_chart *chart, guint32 number)
{
	const tb_chart_row *row = tb_chart_find_row(chart, number);
	return row != NULL && !tb_chart_is_set_flat(chart, row);
}

/* Rounds about a middle have no side for a bracket: those that are repeated are named. */
static void append_repeated(GString *text, const tb_chart *chart)
{
	for (guint32 i = 0; i < chart->fabric->repeat_count; i++) {
		const tb_row_repeat *again = &chart->fabric->repeats[i];
		if (tb_chart_is_repeat_told(chart, i) || !is_around(chart, again->first) || !is_around(chart, again->last))
			continue;
		if (again->first == again->last)
			g_string_append_printf(text, "Round %u is repeated as the words say. ", again->first);
		else
			g_string_append_printf(text, "Rounds %u–%u are repeated as the words say. ", again->first, again->last);
	}
}

/* How rounds lie and are read. */
static void append_parts(GString *text, const tb_chart *chart)
{
	const char *out = chart->options.left_handed ? "clockwise" : "anticlockwise";
	const char *in = chart->options.left_handed ? "anticlockwise" : "clockwise";
	for (guint i = 0; i < chart->parts->len; i++) {
		const tb_chart_part *part = tb_chart_part_at(chart, i);
		guint32 first = chart->fabric->rows[part->first].number;
		bool whole = chart->parts->len == 1;
		if (part->lay == TB_LAY_DISC && whole)
			g_string_append_printf(text, "Rounds are read %s from their numbers, from the middle out. ", out);
		else if (part->lay == TB_LAY_DISC && i == 0)
			g_string_append_printf(text, "First rounds are read %s from their numbers, from the middle out. ", out);
		else if (part->lay == TB_LAY_DISC)
			g_string_append_printf(text, "From round %u it lies around a middle: rounds are read %s, from the inside out. ", first, out);
		else if (part->lay == TB_LAY_CLOSE)
			g_string_append_printf(text, "From round %u the piece closes, seen from outside: rounds are read %s, from the "
				"outside in. ", first, in);
		else if (part->lay == TB_LAY_TUBE && i == 0)
			g_string_append(text, "This is a tube, charted flat, cut open where its rounds begin. ");
		else if (part->lay == TB_LAY_TUBE && tb_chart_part_at(chart, i - 1)->lay != TB_LAY_TUBE)
			g_string_append_printf(text, "From round %u it is a tube, charted flat, cut open where its rounds begin. ", first);
		if (part->joins && part->first > 1)
			g_string_append_printf(text, "What %s %u stands on, and what it leaves aside, its words say. ",
				chart->fabric->rows[part->first].is_round ? "round" : "row", first);
	}
	append_repeated(text, chart);
}

static char *how_to_read(const tb_chart *chart, GArray *entries)
{
	GString *text = g_string_new(NULL);
	bool right = false, wrong = false, post = false, below = false;
	for (guint i = 0; i < chart->rows->len; i++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, i);
		below = below || row->below;
		if (row->row == 0 || !tb_chart_is_set_flat(chart, row))
			continue;
		right = right || chart->fabric->rows[row->row].side == TB_SIDE_RIGHT;
		wrong = wrong || chart->fabric->rows[row->row].side == TB_SIDE_WRONG;
	}
	bool loops = has_one_loop(chart);
	for (guint i = 0; i < entries->len; i++)
		post = post || g_array_index(entries, entry, i).stitch->post != TB_POST_NONE;
	bool left_handed = chart->options.left_handed;
	const char *rows = tb_chart_is(chart, TB_LAY_ROWS) ? "rows" : "rounds";
	append_parts(text, chart);
	if (right)
		g_string_append_printf(text, "Right side %s are numbered at the %s and read %s. ", rows,
			left_handed ? "left" : "right",
			left_handed ? "from left to right" : "from right to left");
	if (wrong)
		g_string_append_printf(text, "Wrong side %s are numbered at the %s and read %s. ", rows,
			left_handed ? "right" : "left",
			left_handed ? "from right to left" : "from left to right");
	if (chart->folded && chart->motif.plain)
		g_string_append(text, "At the broken line, stitches like those beside it are not drawn: the bracket says how many "
			"there are in all. ");
	else if (chart->folded)
		g_string_append(text, "Work the stitches in the box as often as the bracket says. ");
	if (chart->folded && !chart->motif.plain && chart->beside > 0)
		g_string_append(text, "The repeat drawn beside the box is the last of them. ");
	if (below)
		g_string_append(text, "Pale rows are worked already. ");
	if (post)
		g_string_append(text, "A post stitch goes around the stem of a stitch below, under its head: a front post in front of "
			"the stem, whose head is then not seen, a back post behind it. ");
	if (loops)
		g_string_append(text, "An arc under the foot means one loop only: it opens upward for the "
			"front loop, downward for the back loop. ");
	if ((post || loops) && chart->as_seen)
		g_string_append(text, "Symbols show the fabric from its right side: on wrong side rows work "
			"front as back and back as front. ");
	else if (post || loops)
		g_string_append(text, "Every symbol shows the stitch as it is worked, on either side. ");
	g_strchomp(text->str);
	return g_string_free(text, FALSE);
}

char *tb_chart_how_to_read(const tb_chart *chart)
{
	g_autoptr(GArray) entries = list_used(chart, SAMPLE_CHAIN);
	return how_to_read(chart, entries);
}

double tb_chart_add_key(tb_chart *chart, const tb_text_measure *measure, double x, double y,
	double width)
{
	double scale = fmax(1, chart->column / 8), size = TEXT_SIZE * scale;
	g_autoptr(GArray) entries = list_used(chart, SAMPLE_CHAIN * scale);
	tb_chart_add_label(chart, "Key", x, y + HEAD_SIZE * scale, HEAD_SIZE * scale, TB_WEIGHT_BOLD,
		TB_ALIGN_LEFT, TB_INK_TEXT);
	double top = y + HEAD_SIZE * scale + 3.0 * scale;
	double abbreviation = 0, name = 0;
	for (guint i = 0; i < entries->len; i++) {
		const tb_stitch *stitch = g_array_index(entries, entry, i).stitch;
		abbreviation = fmax(abbreviation, measure->measure(measure->data, stitch->us, size, true));
		abbreviation = fmax(abbreviation, measure->measure(measure->data, stitch->uk, size, true));
		name = fmax(name, measure->measure(measure->data, stitch->us_name, size, false));
		name = fmax(name, measure->measure(measure->data, stitch->uk_name, size, false));
	}
	abbreviation += 2.5 * scale;
	double widest = SAMPLE_COLUMN * 1.55 * scale + abbreviation +
		measure->measure(measure->data, "US  ", size, false) + name + 6 * scale;
	guint columns = MAX(1, (guint)(width / widest));
	double bottom = top;
	for (guint i = 0; i < entries->len;) {
		double height = 2.1 * LINE * size;
		guint in_row = MIN(columns, entries->len - i);
		for (guint k = 0; k < in_row; k++)
			height = fmax(height, g_array_index(entries, entry, i + k).height);
		for (guint k = 0; k < in_row; k++)
			add_entry(chart, &g_array_index(entries, entry, i + k), x + k * width / columns, bottom,
				height, scale, abbreviation);
		bottom += height + 2.4 * scale;
		i += in_row;
	}
	bottom += 1.2 * scale;
	double line = fmin(width, 170 * scale);
	for (guint i = 0; i < entries->len; i++) {
		const tb_stitch *stitch = g_array_index(entries, entry, i).stitch;
		if (!tb_key_is_special(stitch))
			continue;
		bool uk = chart->options.uk_terms;
		g_autofree char *moves = tb_stitch_describe(stitch, uk);
		g_autofree char *said = g_strdup_printf("%s: %s.", uk ? stitch->uk : stitch->us, moves);
		bottom += add_paragraph(chart, measure, said, x, bottom, line, size) + 1.2 * scale;
	}
	g_autofree char *text = how_to_read(chart, entries);
	if (*text != '\0')
		bottom += add_paragraph(chart, measure, text, x, bottom, line, size);
	return bottom - y;
}
