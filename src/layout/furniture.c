/*
 * What stands around the stitches: title, gauge, row numbers, the repeat box with its size bracket,
 * the bracket of repeated rows. The stitches are set by now, the grid's top left corner at 0,0; at
 * the end everything is moved to its place on the page.
 */
#include "layout/chart.h"

#include "support/units.h"

#include <math.h>

/* Type sizes and distances in mm, for columns up to 8 mm; larger charts have larger type. */
#define TITLE_SIZE 6.2
#define NOTE_SIZE 3.5
#define NUMBER_SIZE 4.0
#define BRACKET_SIZE 3.9
#define MARGIN 7.0
#define ARROW 4.2
#define LEAST_KEY_WIDTH 120.0

typedef struct {
	tb_chart *chart;
	const tb_text_measure *measure;
	double scale;
	double left, right;   /* the ink's edges so far, beside the grid */
	double bottom;        /* the ink's edge so far, below */
} furnishing;

static double text_width(const furnishing *f, const char *text, double size, bool bold)
{
	return f->measure->measure(f->measure->data, text, size, bold);
}

static void find_ink_edges(furnishing *f)
{
	const tb_chart *chart = f->chart;
	f->left = chart->left;
	f->right = chart->right;
	f->bottom = chart->bottom;
	for (guint i = 0; i < chart->placed->len; i++) {
		const tb_placed *placed = &g_array_index(chart->placed, tb_placed, i);
		f->left = fmin(f->left, placed->top.x - 0.3 * chart->column);
		f->right = fmax(f->right, placed->top.x + 0.3 * chart->column);
	}
}

/*
 * A row's number stands where the row begins, with an arrow the way it is worked, and with its colours where the piece
 * has several.
 */
static void add_row_numbers(furnishing *f)
{
	tb_chart *chart = f->chart;
	double size = NUMBER_SIZE * f->scale, arrow = ARROW * f->scale, gap = 1.8 * f->scale;
	double left = f->left - 2 * gap, right = f->right + 2 * gap;
	/* Where rows are of different widths, a number keeps to its own row. */
	double room = 0.5 * chart->column + 2 * gap;
	bool coloured = tb_fabric_has_colours(chart->fabric);
	for (guint i = 0; i < chart->rows->len; i++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, i);
		const tb_made_row *worked = &chart->fabric->rows[row->row];
		if (worked->number == 0)
			continue;
		bool at_right = worked->leftward != chart->options.left_handed;
		g_autofree char *colours = coloured ? tb_fabric_row_colours(chart->fabric, worked) : g_strdup("");
		g_autofree char *text = *colours != '\0' && !at_right ? g_strdup_printf("%s %u", colours, worked->number) :
			g_strdup_printf("%u%s%s", worked->number, *colours != '\0' ? " " : "", colours);
		double y = (row->top + row->bottom) / 2;
		tb_ink ink = tb_chart_row_ink(chart, row);
		double to = at_right ? right : left;
		if (chart->at_rest)
			to = at_right ? fmin(right, row->edge + room) : fmax(left, row->edge - room);
		double from = at_right ? to + arrow : to - arrow;
		tb_arrow line = {from, y, to, y, ink};
		g_array_append_val(chart->arrows, line);
		tb_chart_add_label(chart, text, from + (at_right ? gap : -gap), y + 0.36 * size, size,
			TB_WEIGHT_BOLD, at_right ? TB_ALIGN_LEFT : TB_ALIGN_RIGHT, ink);
		double end = arrow + gap + text_width(f, text, size, true);
		if (at_right)
			f->right = fmax(f->right, to + end);
		else
			f->left = fmin(f->left, to - end);
	}
}

/* Rounds have their numbers up the seam, upright. */
static void add_round_numbers(furnishing *f)
{
	tb_chart *chart = f->chart;
	for (guint i = 0; i < chart->rows->len; i++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, i);
		guint32 number = chart->fabric->rows[row->row].number;
		if (number == 0 || row->count == 0)
			continue;
		double size = fmin(NUMBER_SIZE * f->scale, row->number_size);
		g_autofree char *text = g_strdup_printf("%u", number);
		tb_chart_add_label(chart, text, row->number.x, row->number.y + 0.36 * size, size,
			TB_WEIGHT_BOLD, TB_ALIGN_CENTRE, tb_chart_row_ink(chart, row));
	}
}

/* How often the marked sector comes, beside its line, away from the middle. */
static void add_sector_label(furnishing *f)
{
	tb_chart *chart = f->chart;
	double size = BRACKET_SIZE * f->scale, middle = (chart->left + chart->right) / 2;
	double x = chart->sector_label.x, y = chart->sector_label.y;
	g_autofree char *text = g_strdup_printf("%u times around", chart->sector_times);
	double width = text_width(f, text, size, true), far = (chart->right - chart->left) * 0.12;
	tb_align align = x > middle + far ? TB_ALIGN_LEFT : x < middle - far ? TB_ALIGN_RIGHT :
		TB_ALIGN_CENTRE;
	y += y > (chart->top + chart->bottom) / 2 ? size * 0.8 : 0;
	tb_chart_add_label(chart, text, x, y, size, TB_WEIGHT_BOLD, align, TB_INK_FURNITURE);
	double from = align == TB_ALIGN_LEFT ? x : align == TB_ALIGN_RIGHT ? x - width : x - width / 2;
	f->left = fmin(f->left, from);
	f->right = fmax(f->right, from + width);
	f->bottom = fmax(f->bottom, y + size * 0.3);
}

static double column_edge(const tb_chart *chart, double column)
{
	/* Between a column and the one before it. */
	double x = tb_chart_across(chart, column - 0.5);
	return chart->near_right ? chart->right - x : x;
}

/* The box around the motif runs past the lowest and highest row, so that it crosses no stitch. */
static void add_repeat_box(furnishing *f)
{
	tb_chart *chart = f->chart;
	double a = column_edge(chart, chart->motif.near_edge);
	double b = column_edge(chart, chart->motif.near_edge + chart->motif.width);
	double reach = 2.2 * f->scale;
	chart->has_box = true;
	chart->box_left = fmin(a, b);
	chart->box_right = fmax(a, b);
	chart->box_top = chart->top - reach;
	chart->box_bottom = chart->bottom + reach;
	f->bottom = chart->box_bottom;
}

static void add_bracket(furnishing *f, double from, double to, double depth, const char *text)
{
	tb_chart *chart = f->chart;
	double size = BRACKET_SIZE * f->scale;
	tb_bracket bracket = {.from = from, .to = to, .at = f->bottom + 1.8 * f->scale + depth,
		.depth = depth, .pointed = true};
	g_array_append_val(chart->brackets, bracket);
	double baseline = bracket.at + 2.2 * f->scale + 0.95 * size;
	double half = text_width(f, text, size, true) / 2, middle = (from + to) / 2;
	tb_chart_add_label(chart, text, middle, baseline, size, TB_WEIGHT_BOLD, TB_ALIGN_CENTRE,
		TB_INK_FURNITURE);
	f->left = fmin(f->left, middle - half);
	f->right = fmax(f->right, middle + half);
	f->bottom = baseline + 0.3 * size;
}

static void add_motif_bracket(furnishing *f)
{
	tb_chart *chart = f->chart;
	g_autofree char *times = tb_chart_times(chart);
	guint32 stitches = chart->motif.stitches;
	g_autofree char *text = stitches == 0 ? g_strdup_printf("repeat %s", times) :
		g_strdup_printf("%u %s, %s", stitches, stitches == 1 ? "st" : "sts", times);
	add_bracket(f, chart->box_left, chart->box_right, 2.2 * f->scale, text);
}

static guint32 width_of_size(const tb_chart *chart, unsigned size)
{
	const tb_motif *motif = &chart->motif;
	return motif->near_edge + motif->times[size] * motif->width + motif->far_edge;
}

/* Under the whole of the largest size: where each size begins and ends, the smallest innermost. */
static void add_size_brackets(furnishing *f)
{
	tb_chart *chart = f->chart;
	const tb_pattern *pattern = tb_worked_pattern(chart->worked);
	double size_mm = NOTE_SIZE * f->scale, step = size_mm * 1.75;
	double at = f->bottom + 2.4 * f->scale;
	guint32 done = 0;
	for (;;) {
		/* The next wider width, and all the sizes that have it. */
		guint32 next = G_MAXUINT32;
		for (unsigned size = 0; size < TB_MAX_SIZES; size++)
			if ((chart->sizes >> size & 1) && width_of_size(chart, size) > done)
				next = MIN(next, width_of_size(chart, size));
		if (next == G_MAXUINT32)
			break;
		g_autoptr(GString) text = g_string_new(NULL);
		guint32 times = 0;
		for (unsigned size = 0; size < TB_MAX_SIZES; size++) {
			if (!(chart->sizes >> size & 1) || width_of_size(chart, size) != next)
				continue;
			times = chart->motif.times[size];
			const char *name = tb_pattern_get_size(pattern, size);
			g_string_append_printf(text, "%s%s", text->len > 0 ? ", " : "", name);
		}
		g_string_append(text, text->len > 0 ? ": " : "");
		if (!chart->motif.by_places)
			g_string_append_printf(text, "%u sts", next);
		if (chart->motif.width > 1 || chart->motif.by_places)
			g_string_append_printf(text, "%srepeat %u times", chart->motif.by_places ? "" : ", ", times);
		double a = column_edge(chart, 0), b = column_edge(chart, next);
		tb_bracket bracket = {.from = fmin(a, b), .to = fmax(a, b), .at = at + step * 0.5,
			.depth = step * 0.32};
		g_array_append_val(chart->brackets, bracket);
		/* The words stand at the end of the bracket, which is what tells the sizes apart. */
		bool ends_left = chart->near_right;
		double x = ends_left ? bracket.from + bracket.depth : bracket.to - bracket.depth;
		tb_chart_add_label(chart, text->str, x, bracket.at + 1.25 * size_mm, size_mm,
			TB_WEIGHT_BOLD, ends_left ? TB_ALIGN_LEFT : TB_ALIGN_RIGHT, TB_INK_FURNITURE);
		double width = text_width(f, text->str, size_mm, true);
		f->left = fmin(f->left, ends_left ? x : x - width);
		f->right = fmax(f->right, ends_left ? x + width : x);
		at = bracket.at + 1.25 * size_mm + 0.2 * size_mm;
		done = next;
	}
	f->bottom = at;
}

static const tb_chart_row *find_row(const tb_chart *chart, guint32 number)
{
	for (guint i = 0; i < chart->rows->len; i++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, i);
		if (!row->below && chart->fabric->rows[row->row].number == number)
			return row;
	}
	return NULL;
}

static void add_row_brackets(furnishing *f)
{
	tb_chart *chart = f->chart;
	double size = NOTE_SIZE * f->scale;
	double at = f->right + 5.0 * f->scale;
	for (guint32 i = 0; i < chart->fabric->repeat_count; i++) {
		const tb_row_repeat *repeat = &chart->fabric->repeats[i];
		const tb_chart_row *first = find_row(chart, repeat->first);
		const tb_chart_row *last = find_row(chart, repeat->last);
		if (first == NULL || last == NULL)
			continue;
		tb_bracket bracket = {.upright = true, .from = last->top + 0.6, .to = first->bottom - 0.6,
			.at = at, .depth = 2.2 * f->scale};
		g_array_append_val(chart->brackets, bracket);
		const char *one = chart->is_tube ? "round" : "row";
		g_autofree char *rows = repeat->first == repeat->last ?
			g_strdup_printf("%s %u", one, repeat->first) :
			g_strdup_printf("%ss %u–%u", one, repeat->first, repeat->last);
		double x = at + 2.0 * f->scale, y = (last->top + first->bottom) / 2;
		tb_chart_add_label(chart, "repeat", x, y - 0.25 * size, size, TB_WEIGHT_REGULAR,
			TB_ALIGN_LEFT, TB_INK_FURNITURE);
		tb_chart_add_label(chart, rows, x, y + 1.05 * size, size, TB_WEIGHT_REGULAR, TB_ALIGN_LEFT,
			TB_INK_FURNITURE);
		f->right = fmax(f->right, x + fmax(text_width(f, rows, size, false),
			text_width(f, "repeat", size, false)));
	}
}

static void append_number(GString *text, double number)
{
	char buffer[G_ASCII_DTOSTR_BUF_SIZE];
	g_string_append(text, g_ascii_formatd(buffer, sizeof buffer, "%g", number));
}

/* "12 sts and 9 rows = 10 cm · XS (S, M)" */
static char *gauge_line(const tb_chart *chart)
{
	const tb_pattern *pattern = tb_worked_pattern(chart->worked);
	const tb_gauge *gauge = &pattern->gauge;
	GString *text = g_string_new(NULL);
	if (gauge->given) {
		append_number(text, gauge->stitches);
		g_string_append(text, " sts");
		if (gauge->has_rows) {
			g_string_append(text, " and ");
			append_number(text, gauge->rows);
			g_string_append(text, " rows");
		}
		g_string_append(text, " = ");
		append_number(text, gauge->over_mm / (gauge->over_inches ? TB_MM_PER_INCH : 10));
		g_string_append(text, gauge->over_inches ? " in" : " cm");
	} else {
		g_string_append(text, "no gauge given");
	}
	unsigned written = 0;
	for (unsigned size = 0; size < tb_pattern_count_sizes(pattern); size++) {
		const char *name = tb_pattern_get_size(pattern, size);
		if (!(chart->sizes >> size & 1) || *name == '\0')
			continue;
		g_string_append_printf(text, "%s%s",
			written == 0 ? "  ·  " : written == 1 ? " (" : ", ", name);
		written++;
	}
	if (written > 1)
		g_string_append_c(text, ')');
	return g_string_free(text, FALSE);
}

static void make_titles(tb_chart *chart)
{
	const tb_pattern *pattern = tb_worked_pattern(chart->worked);
	const char *title = tb_pattern_get_title(pattern);
	const char *piece = tb_pattern_get_piece(pattern, chart->piece);
	if (chart->options.title != NULL)
		chart->title = g_strdup(chart->options.title);
	else if (title == NULL)
		chart->title = g_strdup(piece);
	else if (tb_pattern_count_pieces(pattern) > 1)
		chart->title = g_strdup_printf("%s: %s", title, piece);
	else
		chart->title = g_strdup(title);
	g_autofree char *gauge = gauge_line(chart);
	chart->description = g_strdup_printf("Crochet chart of %s, rows %u to %u. %s.", piece,
		chart->options.first_row, chart->options.last_row, gauge);
}

void tb_chart_move(tb_chart *chart, double dx, double dy)
{
	for (guint i = 0; i < chart->placed->len; i++) {
		tb_placed *placed = &g_array_index(chart->placed, tb_placed, i);
		placed->top.x += dx;
		placed->top.y += dy;
	}
	for (guint i = 0; i < chart->feet->len; i++) {
		tb_spot *foot = &g_array_index(chart->feet, tb_spot, i);
		foot->x += dx;
		foot->y += dy;
	}
	for (guint i = 0; i < chart->rows->len; i++) {
		tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, i);
		row->top += dy;
		row->bottom += dy;
		row->edge += dx;
		row->number.x += dx;
		row->number.y += dy;
	}
	for (guint i = 0; i < chart->sector->len; i++) {
		g_array_index(chart->sector, tb_spot, i).x += dx;
		g_array_index(chart->sector, tb_spot, i).y += dy;
	}
	for (guint i = 0; i < chart->marks->len; i++) {
		g_array_index(chart->marks, tb_chart_mark, i).at.x += dx;
		g_array_index(chart->marks, tb_chart_mark, i).at.y += dy;
	}
	chart->sector_label.x += dx;
	chart->sector_label.y += dy;
	chart->left += dx;
	chart->right += dx;
	chart->top += dy;
	chart->bottom += dy;
	chart->box_left += dx;
	chart->box_right += dx;
	chart->box_top += dy;
	chart->box_bottom += dy;
}

static void move_furniture(tb_chart *chart, double dx, double dy)
{
	for (guint i = 0; i < chart->labels->len; i++) {
		tb_label *label = &g_array_index(chart->labels, tb_label, i);
		label->x += dx;
		label->y += dy;
	}
	for (guint i = 0; i < chart->arrows->len; i++) {
		tb_arrow *arrow = &g_array_index(chart->arrows, tb_arrow, i);
		arrow->x1 += dx;
		arrow->x2 += dx;
		arrow->y1 += dy;
		arrow->y2 += dy;
	}
	for (guint i = 0; i < chart->brackets->len; i++) {
		tb_bracket *bracket = &g_array_index(chart->brackets, tb_bracket, i);
		bracket->from += bracket->upright ? dy : dx;
		bracket->to += bracket->upright ? dy : dx;
		bracket->at += bracket->upright ? dx : dy;
	}
}

/* A chart without title and key ends where its ink does. */
static void trim(furnishing *f)
{
	tb_chart *chart = f->chart;
	double clear = 1.2 * f->scale, top = chart->has_box ? chart->box_top : chart->top;
	for (guint i = 0; i < chart->labels->len; i++) {
		const tb_label *label = &g_array_index(chart->labels, tb_label, i);
		top = fmin(top, label->y - label->size_mm);
	}
	for (guint i = 0; i < chart->placed->len; i++)
		top = fmin(top, g_array_index(chart->placed, tb_placed, i).top.y - 0.2 * chart->column);
	for (guint i = 0; i < chart->marks->len; i++) {
		tb_spot at = g_array_index(chart->marks, tb_chart_mark, i).at;
		double reach = 0.6 * chart->column;
		top = fmin(top, at.y - reach);
		f->bottom = fmax(f->bottom, at.y + reach);
		f->left = fmin(f->left, at.x - reach);
		f->right = fmax(f->right, at.x + reach);
	}
	for (guint i = 0; i < chart->sector->len; i++) {
		const tb_spot *spot = &g_array_index(chart->sector, tb_spot, i);
		top = fmin(top, spot->y);
		f->bottom = fmax(f->bottom, spot->y);
		f->left = fmin(f->left, spot->x);
		f->right = fmax(f->right, spot->x);
	}
	double dx = clear - f->left, dy = clear - top;
	tb_chart_move(chart, dx, dy);
	move_furniture(chart, dx, dy);
	chart->width = f->right - f->left + 2 * clear;
	chart->height = f->bottom - top + 2 * clear;
}

void tb_chart_furnish(tb_chart *chart, const tb_text_measure *measure)
{
	furnishing f = {.chart = chart, .measure = measure};
	f.scale = fmax(fmax(1, chart->options.type_scale), chart->column / 8);
	make_titles(chart);
	find_ink_edges(&f);
	if (chart->in_rounds)
		add_round_numbers(&f);
	if (chart->sector->len > 0)
		add_sector_label(&f);
	if (!chart->in_rounds)
		add_row_numbers(&f);
	if (chart->folded)
		add_repeat_box(&f);
	add_row_brackets(&f);
	if (chart->folded)
		add_motif_bracket(&f);
	else if (chart->motif.found && chart->options.full)
		add_size_brackets(&f);

	if (chart->options.bare) {
		trim(&f);
		return;
	}
	double margin = MARGIN * f.scale, title = TITLE_SIZE * f.scale, note = NOTE_SIZE * f.scale;
	g_autofree char *gauge = gauge_line(chart);
	double head = margin + title * 0.8 + note * 1.7 + 7.0 * f.scale;
	double dx = margin - f.left, dy = head - chart->top;
	tb_chart_move(chart, dx, dy);
	move_furniture(chart, dx, dy);
	tb_chart_add_label(chart, chart->title, margin, margin + title * 0.8, title, TB_WEIGHT_BOLD,
		TB_ALIGN_LEFT, TB_INK_TEXT);
	tb_chart_add_label(chart, gauge, margin, margin + title * 0.8 + note * 1.7, note,
		TB_WEIGHT_REGULAR, TB_ALIGN_LEFT, TB_INK_TEXT);

	double width = fmax(f.right - f.left, LEAST_KEY_WIDTH * f.scale);
	width = fmax(width, text_width(&f, chart->title, title, true));
	width = fmax(width, text_width(&f, gauge, note, false));
	double key_top = f.bottom + dy + 8.0 * f.scale;
	double key = tb_chart_add_key(chart, measure, margin, key_top, width);
	chart->width = width + 2 * margin;
	chart->height = key_top + key + margin;
}
