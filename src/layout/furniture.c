/*
 * What stands around the stitches: title, gauge, row numbers, the repeat box with its size bracket,
 * the bracket of repeated rows. The stitches are set by now, the grid's top left corner at 0,0; at
 * the end everything is moved to its place on the page.
 */
#include "layout/chart.h"

#include "fabric/again.h"

#include "support/units.h"

#include <math.h>

/* Type sizes and distances in mm, for columns up to 8 mm; larger charts have larger type. */
#define TITLE_SIZE 7.2
#define NOTE_SIZE 3.3
#define BRACKET_SIZE 3.3
#define MARGIN 7.0
/* Printers leave as much white (common practice). */
#define PAPER_MARGIN 12.0
#define LEAST_KEY_WIDTH 104.0

typedef struct {
	tb_chart *chart;
	const tb_text_measure *measure;
	double scale;
	tb_ink_edges ink; /* so far */
} furnishing;

static double text_width(const furnishing *f, const char *text, double size, tb_face face)
{
	return f->measure->measure(f->measure->data, text, size, face);
}

static void find_ink_edges(furnishing *f)
{
	const tb_chart *chart = f->chart;
	f->ink.left = chart->left;
	f->ink.right = chart->right;
	f->ink.bottom = chart->bottom;
	f->ink.top = chart->top;
	for (guint i = 0; i < chart->placed->len; i++) {
		const tb_placed *placed = &g_array_index(chart->placed, tb_placed, i);
		f->ink.left = fmin(f->ink.left, placed->top.x - 0.3 * chart->column);
		f->ink.right = fmax(f->ink.right, placed->top.x + 0.3 * chart->column);
	}
}

/* How often the marked sector comes, beside its line, away from the middle. */
static void add_sector_label(furnishing *f)
{
	tb_chart *chart = f->chart;
	double size = BRACKET_SIZE * f->scale, middle = (chart->left + chart->right) / 2;
	double x = chart->sector_label.x, y = chart->sector_label.y;
	g_autofree char *text = g_strdup_printf("%u times around", chart->sector_times);
	double width = text_width(f, text, size, TB_FACE_FIGURE), far = (chart->right - chart->left) * 0.12;
	tb_align align = x > middle + far ? TB_ALIGN_LEFT : x < middle - far ? TB_ALIGN_RIGHT :
		TB_ALIGN_CENTRE;
	y += y > (chart->top + chart->bottom) / 2 ? size * 0.8 : 0;
	tb_chart_add_label(chart, text, x, y, size, TB_FACE_FIGURE, align, TB_INK_FURNITURE);
	double from = align == TB_ALIGN_LEFT ? x : align == TB_ALIGN_RIGHT ? x - width : x - width / 2;
	f->ink.left = fmin(f->ink.left, from);
	f->ink.right = fmax(f->ink.right, from + width);
	f->ink.bottom = fmax(f->ink.bottom, y + size * 0.3);
}

/* Under each of several parts, what rounds it is and how it lies. */
static void add_part_captions(furnishing *f)
{
	tb_chart *chart = f->chart;
	double size = NOTE_SIZE * f->scale;
	for (guint i = 0; i < chart->parts->len && chart->parts->len > 1; i++) {
		const tb_chart_part *part = tb_chart_part_at(chart, i);
		guint32 first = chart->fabric->rows[part->first].number, last = chart->fabric->rows[part->last].number;
		const char *how = part->lay == TB_LAY_TUBE ? ", cut open" : part->lay == TB_LAY_CLOSE ? ", from outside" : "";
		const char *one = part->lay == TB_LAY_ROWS ? "Row" : "Round";
		g_autofree char *text = first == last ? g_strdup_printf("%s %u%s", one, first, how) :
			g_strdup_printf("%ss %u–%u%s", one, first, last, how);
		double middle = (part->left + part->right) / 2, half = text_width(f, text, size, TB_FACE_FIGURE) / 2;
		double y = part->bottom + 0.5 * chart->column + size;
		tb_chart_add_label(chart, text, middle, y, size, TB_FACE_FIGURE, TB_ALIGN_CENTRE, TB_INK_FURNITURE);
		f->ink.left = fmin(f->ink.left, middle - half);
		f->ink.right = fmax(f->ink.right, middle + half);
		f->ink.bottom = fmax(f->ink.bottom, y + 0.3 * size);
	}
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
	/* The bracket goes on from where winding sides end. */
	if (chart->sides[0] != NULL && chart->sides[0]->len > 1 && chart->sides[1]->len > 1) {
		a = g_array_index(chart->sides[0], tb_spot, 0).x;
		b = g_array_index(chart->sides[1], tb_spot, 0).x;
	}
	chart->has_box = true;
	chart->box_left = fmin(a, b);
	chart->box_right = fmax(a, b);
	chart->box_top = chart->top - reach;
	chart->box_bottom = chart->bottom + reach;
	f->ink.bottom = fmax(f->ink.bottom, chart->box_bottom);
}

/* Its label is borrowed. */
static tb_label *add_bracket(furnishing *f, double from, double to, double depth, const char *text)
{
	tb_chart *chart = f->chart;
	double size = BRACKET_SIZE * f->scale;
	tb_bracket bracket = {.from = from, .to = to, .at = f->ink.bottom + 1.8 * f->scale + depth,
		.depth = depth};
	g_array_append_val(chart->brackets, bracket);
	double baseline = bracket.at + 1.4 * f->scale + 0.95 * size;
	double half = text_width(f, text, size, TB_FACE_FIGURE) / 2, middle = (from + to) / 2;
	f->ink.left = fmin(f->ink.left, middle - half);
	f->ink.right = fmax(f->ink.right, middle + half);
	f->ink.bottom = baseline + 0.3 * size;
	return tb_chart_add_label(chart, text, middle, baseline, size, TB_FACE_FIGURE, TB_ALIGN_CENTRE, TB_INK_FURNITURE);
}

/* Under a plain middle of which some is not drawn: how many stitches it has. */
static void add_plain_bracket(furnishing *f)
{
	tb_chart *chart = f->chart;
	double a = column_edge(chart, chart->motif.near_edge);
	double b = column_edge(chart, chart->motif.near_edge + tb_chart_repeats_drawn(chart));
	g_autofree char *numbers = tb_chart_numbers(chart, chart->motif.times);
	g_autofree char *text = g_strdup_printf("%s sts", numbers);
	add_bracket(f, fmin(a, b), fmax(a, b), 2.2 * f->scale, text);
}

static void add_motif_bracket(furnishing *f)
{
	tb_chart *chart = f->chart;
	g_autofree char *times = tb_chart_times(chart);
	guint32 stitches = chart->motif.stitches;
	g_autofree char *text = stitches == 0 ? g_strdup_printf("repeat %s", times) :
		g_strdup_printf("%u %s, %s", stitches, stitches == 1 ? "st" : "sts", times);
	add_bracket(f, chart->box_left, chart->box_right, 2.2 * f->scale, text)->is_times = true;
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
	double at = f->ink.bottom + 2.4 * f->scale;
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
			TB_FACE_BOLD, ends_left ? TB_ALIGN_LEFT : TB_ALIGN_RIGHT, TB_INK_FURNITURE);
		double width = text_width(f, text->str, size_mm, TB_FACE_FIGURE);
		f->ink.left = fmin(f->ink.left, ends_left ? x : x - width);
		f->ink.right = fmax(f->ink.right, ends_left ? x + width : x);
		at = bracket.at + 1.25 * size_mm + 0.2 * size_mm;
		done = next;
	}
	f->ink.bottom = at;
}

const tb_chart_row *tb_chart_find_row(const tb_chart *chart, guint32 number)
{
	for (guint i = 0; i < chart->rows->len; i++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, i);
		if (!row->below && chart->fabric->rows[row->row].number == number)
			return row;
	}
	return NULL;
}

/* The shorter stretch of rows first: its bracket stands inside. */
static int compare_stretches(gconstpointer a, gconstpointer b)
{
	const tb_row_repeat *x = *(const tb_row_repeat *const *)a, *y = *(const tb_row_repeat *const *)b;
	guint32 of_x = x->last - x->first, of_y = y->last - y->first;
	return of_x != of_y ? (of_x < of_y ? -1 : 1) : x < y ? -1 : x > y;
}

/* Beside some ROWS, in two lines: WHAT they are, and the rows NAMED. */
static void add_row_bracket(furnishing *f, const tb_row_repeat *rows, const char *what, const tb_row_repeat *named,
	double beside)
{
	tb_chart *chart = f->chart;
	double size = NOTE_SIZE * f->scale;
	const tb_chart_row *first = tb_chart_find_row(chart, rows->first), *last = tb_chart_find_row(chart, rows->last);
	/* Rounds about a middle have no side. */
	if (first == NULL || last == NULL || !tb_chart_is_set_flat(chart, first) || !tb_chart_is_set_flat(chart, last))
		return;
	tb_bracket bracket = {.upright = true, .from = fmin(last->top, first->top) + 0.6,
		.to = fmax(first->bottom, last->bottom) - 0.6, .at = beside, .depth = 2.2 * f->scale};
	double y = (bracket.from + bracket.to) / 2;
	/* Past the words of those it shares rows with. */
	for (guint i = 0; i < chart->brackets->len; i++) {
		const tb_bracket *other = &g_array_index(chart->brackets, tb_bracket, i);
		double middle = (other->from + other->to) / 2;
		if (other->upright && fmin(other->from, middle - 2 * size) < fmax(bracket.to, y + 2 * size) &&
			fmin(bracket.from, y - 2 * size) < fmax(other->to, middle + 2 * size))
			bracket.at = fmax(bracket.at, f->ink.right + 5.0 * f->scale);
	}
	g_array_append_val(chart->brackets, bracket);
	const char *one = chart->fabric->rows[first->row].is_round ? "round" : "row";
	g_autofree char *said = named->first == named->last ? g_strdup_printf("%s %u", one, named->first) :
		g_strdup_printf("%ss %u–%u", one, named->first, named->last);
	double x = bracket.at + 2.0 * f->scale;
	tb_chart_add_label(chart, what, x, y - 0.25 * size, size, TB_FACE_PLAIN, TB_ALIGN_LEFT, TB_INK_FURNITURE);
	tb_chart_add_label(chart, said, x, y + 1.05 * size, size, TB_FACE_PLAIN, TB_ALIGN_LEFT, TB_INK_FURNITURE);
	f->ink.right = fmax(f->ink.right, x + fmax(text_width(f, said, size, TB_FACE_PLAIN), text_width(f, what, size, TB_FACE_PLAIN)));
}

bool tb_chart_is_repeat_told(const tb_chart *chart, guint32 index)
{
	const tb_row_repeat *repeats = chart->fabric->repeats;
	for (guint32 i = 0; i < index; i++)
		if (repeats[i].first == repeats[index].first && repeats[i].last == repeats[index].last)
			return true;
	return false;
}

static void add_row_brackets(furnishing *f)
{
	g_autoptr(GPtrArray) repeats = g_ptr_array_new();
	for (guint32 i = 0; i < f->chart->fabric->repeat_count; i++)
		if (!tb_chart_is_repeat_told(f->chart, i))
			g_ptr_array_add(repeats, (gpointer)&f->chart->fabric->repeats[i]);
	g_ptr_array_sort(repeats, compare_stretches);
	double beside = f->ink.right + 5.0 * f->scale;
	for (guint i = 0; i < repeats->len; i++)
		add_row_bracket(f, g_ptr_array_index(repeats, i), "repeat", g_ptr_array_index(repeats, i), beside);
	tb_rows_again again;
	const tb_chart_options *charted = &f->chart->options;
	if (repeats->len == 0 && tb_rows_find_again(f->chart->fabric, charted->first_row, charted->last_row, &again)) {
		guint32 many = MIN(again.last + 1 - again.first, again.rows);
		tb_row_repeat rows = {.first = again.first, .last = again.last}, as = {.first = again.of, .last = again.of + many - 1};
		add_row_bracket(f, &rows, "as", &as, beside);
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

static void move_spot(tb_spot *spot, double dx, double dy)
{
	*spot = (tb_spot){spot->x + dx, spot->y + dy};
}

void tb_chart_move_slice(tb_chart *chart, const tb_chart_slice *slice, double dx, double dy)
{
	for (guint i = slice->placed; i < chart->placed->len; i++)
		move_spot(&g_array_index(chart->placed, tb_placed, i).top, dx, dy);
	for (guint i = slice->foot; i < chart->feet->len; i++)
		move_spot(&g_array_index(chart->feet, tb_spot, i), dx, dy);
	for (guint i = slice->row; i < chart->rows->len; i++) {
		tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, i);
		row->top += dy;
		row->bottom += dy;
		tb_spot *spots[] = {&row->first_top, &row->first_foot, &row->last_top, &row->last_foot};
		for (unsigned k = 0; k < G_N_ELEMENTS(spots); k++)
			move_spot(spots[k], dx, dy);
	}
	for (guint i = slice->mark; i < chart->marks->len; i++)
		move_spot(&g_array_index(chart->marks, tb_chart_mark, i).at, dx, dy);
}

void tb_chart_move(tb_chart *chart, double dx, double dy)
{
	tb_chart_slice all = {0};
	tb_chart_move_slice(chart, &all, dx, dy);
	for (guint i = 0; i < chart->parts->len; i++) {
		tb_chart_part *part = tb_chart_part_at(chart, i);
		part->left += dx;
		part->right += dx;
		part->top += dy;
		part->bottom += dy;
	}
	GArray *lines[] = {chart->sides[0], chart->sides[1], chart->gap, chart->sector};
	for (unsigned k = 0; k < G_N_ELEMENTS(lines); k++)
		for (guint i = 0; lines[k] != NULL && i < lines[k]->len; i++)
			move_spot(&g_array_index(lines[k], tb_spot, i), dx, dy);
	move_spot(&chart->sector_label, dx, dy);
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

/* Where yarn is joined or cut stands beside the stitches, and may be the outermost ink. */
static void add_mark_edges(furnishing *f)
{
	const tb_chart *chart = f->chart;
	double reach = 0.6 * chart->column;
	for (guint i = 0; i < chart->marks->len; i++) {
		tb_spot at = g_array_index(chart->marks, tb_chart_mark, i).at;
		f->ink.top = fmin(f->ink.top, at.y - reach);
		f->ink.bottom = fmax(f->ink.bottom, at.y + reach);
		f->ink.left = fmin(f->ink.left, at.x - reach);
		f->ink.right = fmax(f->ink.right, at.x + reach);
	}
}

/* A chart without title and key ends where its ink does. */
static void trim(furnishing *f)
{
	tb_chart *chart = f->chart;
	double clear = 1.2 * f->scale, top = fmin(f->ink.top, chart->has_box ? chart->box_top : chart->top);
	for (guint i = 0; i < chart->labels->len; i++) {
		const tb_label *label = &g_array_index(chart->labels, tb_label, i);
		top = fmin(top, label->y - label->size_mm);
	}
	for (guint i = 0; i < chart->placed->len; i++)
		top = fmin(top, g_array_index(chart->placed, tb_placed, i).top.y - 0.2 * chart->column);
	for (guint i = 0; i < chart->sector->len; i++) {
		const tb_spot *spot = &g_array_index(chart->sector, tb_spot, i);
		top = fmin(top, spot->y);
		f->ink.bottom = fmax(f->ink.bottom, spot->y);
		f->ink.left = fmin(f->ink.left, spot->x);
		f->ink.right = fmax(f->ink.right, spot->x);
	}
	double dx = clear - f->ink.left, dy = clear - top;
	tb_chart_move(chart, dx, dy);
	move_furniture(chart, dx, dy);
	chart->width = f->ink.right - f->ink.left + 2 * clear;
	chart->height = f->ink.bottom - top + 2 * clear;
}

void tb_chart_furnish(tb_chart *chart, const tb_text_measure *measure)
{
	furnishing f = {.chart = chart, .measure = measure};
	f.scale = fmax(fmax(1, chart->options.type_scale), chart->column / 8);
	make_titles(chart);
	find_ink_edges(&f);
	tb_chart_add_numbers(chart, measure, f.scale, &f.ink);
	add_part_captions(&f);
	if (chart->sector->len > 0)
		add_sector_label(&f);
	if (chart->folded && !chart->motif.plain)
		add_repeat_box(&f);
	add_row_brackets(&f);
	if (chart->folded && chart->motif.plain)
		add_plain_bracket(&f);
	else if (chart->folded)
		add_motif_bracket(&f);
	else if (chart->motif.found && !chart->motif.plain && chart->options.full && chart->parts->len == 1 && !tb_chart_is(chart, TB_LAY_DISC))
		add_size_brackets(&f);

	add_mark_edges(&f);
	if (chart->options.bare) {
		trim(&f);
		return;
	}
	double paper = chart->options.paper_width_mm;
	double margin = fmax(MARGIN * f.scale, paper > 0 ? PAPER_MARGIN : 0), title = TITLE_SIZE * f.scale, note = NOTE_SIZE * f.scale;
	g_autofree char *gauge = gauge_line(chart);
	double titled = text_width(&f, chart->title, title, TB_FACE_TITLE), noted = text_width(&f, gauge, note, TB_FACE_PLAIN);
	double width = fmax(fmax(f.ink.right - f.ink.left, paper > 0 ? paper - 2 * margin : LEAST_KEY_WIDTH * f.scale), titled);
	/* The gauge stands at the end of the title's line, or under it where they would meet. */
	bool beside = titled + 8.0 * f.scale + noted <= width;
	double baseline = margin + title * 0.8, under = beside ? 0 : note * 1.9;
	width = fmax(width, noted);
	double head = baseline + under + 7.0 * f.scale;
	double dx = margin - f.ink.left, dy = head - f.ink.top;
	tb_chart_move(chart, dx, dy);
	move_furniture(chart, dx, dy);
	tb_chart_add_label(chart, chart->title, margin, baseline, title, TB_FACE_TITLE, TB_ALIGN_LEFT, TB_INK_TEXT);
	tb_chart_add_label(chart, gauge, beside ? margin + width : margin, baseline + under, note, TB_FACE_PLAIN,
		beside ? TB_ALIGN_RIGHT : TB_ALIGN_LEFT, TB_INK_QUIET);
	double key_top = f.ink.bottom + dy + 6.0 * f.scale;
	double key = tb_chart_add_key(chart, measure, margin, key_top, width);
	chart->width = width + 2 * margin;
	chart->height = fmax(key_top + key + margin, chart->options.paper_height_mm);
}
