/*
 * The poster: a chart enlarged over sheets that are cut and joined.
 *
 * Every sheet shows a window on the chart. Neighbours overlap by 10 mm: a sheet is cut at its corner
 * marks and laid on its neighbour up to the join marks. The margin around the window says what a
 * sheet needs to be read alone: its name and its rows' numbers. The first page tells how the sheets
 * are joined, and has the key.
 */
#include "layout/page.h"

#include "support/diagnose.h"
#include "support/limits.h"

#include <math.h>

/* The stitch's width where nothing else is said, and the least that is worth a poster, mm. */
#define STITCH_WIDTH 25.0
#define LEAST_FREE_WIDTH 22.0
#define LEAST_WIDTH 4.0
#define MOST_WIDTH 300.0
/* Around the window: room for the rows' numbers, and for the sheet's name, mm. */
#define SIDE 21.0
#define HEAD 17.0
#define OVERLAP 10.0
#define BAR 100.0
#define TYPE (18 * TB_PT)
/* The plain size of a chart's smallest words; they are to be no smaller than the type, mm. */
#define LEAST_WORDS 3.3
#define COVER_MARGIN 20.0
#define MARK_PEN 0.4

typedef struct {
	tb_pages *pages;
	const tb_worked *worked;
	tb_poster_options options;
	const tb_text_measure *measure;
	tb_diagnostics *diagnostics;
	tb_chart *chart;
	tb_tiling tiling;
	bool turned;
	double width, height; /* of a sheet as it lies */
	bool tried;
} poster;

/* The rows that repeat; where none do, those that are written out. */
static void choose_rows(poster *p)
{
	tb_chart_options *chart = &p->options.chart;
	const tb_fabric *fabric = tb_worked_fabric(p->worked, chart->piece,
		chart->size > 0 ? (unsigned)chart->size - 1 : 0);
	if (chart->first_row != 0 || chart->full || fabric->repeat_count == 0 ||
		fabric->rows[1].is_round)
		return;
	chart->first_row = fabric->repeats[0].first;
	chart->last_row = fabric->repeats[0].last;
}

static tb_chart *try_chart(poster *p, double column)
{
	tb_diagnostics *quiet = tb_diagnostics_create(NULL);
	tb_chart_options options = p->options.chart;
	options.bare = true;
	options.type_scale = TYPE / LEAST_WORDS;
	options.stitch_width_mm = column;
	tb_chart *chart =
		tb_chart_create(p->worked, &options, p->measure, p->tried ? quiet : p->diagnostics);
	p->tried = true;
	tb_diagnostics_destroy(quiet);
	return chart;
}

static void lay_sheet(const poster *p, bool turned, double *width, double *height)
{
	double w, h;
	tb_paper_get_size(p->options.paper, &w, &h);
	*width = turned ? h : w;
	*height = turned ? w : h;
}

static tb_tiling part(const poster *p, const tb_chart *chart, bool turned)
{
	double width, height;
	lay_sheet(p, turned, &width, &height);
	return tb_tiling_make(chart->width, chart->height, width - 2 * SIDE, height - 2 * HEAD, OVERLAP,
		OVERLAP);
}

/* The room that the chart is to fill, when it was told to fill one. */
static bool find_room(const poster *p, bool turned, double *width, double *height)
{
	double w, h;
	if (p->options.fit) {
		tb_paper_get_size(p->options.fit_paper, &w, &h);
		*width = (turned ? h : w) - 2 * SIDE;
		*height = (turned ? w : h) - 2 * HEAD;
		return true;
	}
	if (p->options.across == 0)
		return false;
	lay_sheet(p, turned, &w, &h);
	w -= 2 * SIDE;
	h -= 2 * HEAD;
	*width = w + (p->options.across - 1) * (w - OVERLAP);
	*height = h + (p->options.down - 1) * (h - OVERLAP);
	return true;
}

/* The largest chart that WIDTH x HEIGHT has room for: words do not shrink as stitches do. */
static tb_chart *fit(poster *p, double width, double height)
{
	double low = LEAST_WIDTH, high = MOST_WIDTH;
	tb_chart *best = NULL;
	for (int i = 0; i < 12; i++) {
		double column = i == 0 ? low : (low + high) / 2;
		tb_chart *chart = try_chart(p, column);
		if (chart == NULL)
			break;
		bool fits = chart->width <= width + 0.01 && chart->height <= height + 0.01;
		if (fits || best == NULL) {
			tb_chart_destroy(best);
			best = chart;
		} else {
			tb_chart_destroy(chart);
		}
		if (i == 0 && !fits)
			break; /* not even the least: more sheets are needed than were asked for */
		if (fits)
			low = column;
		else
			high = column;
	}
	return best;
}

/* The sheets a chart takes, laid the way that takes fewer. */
static guint count_sheets(const poster *p, const tb_chart *chart, bool *turned)
{
	tb_tiling upright = part(p, chart, false), side = part(p, chart, true);
	*turned = side.across * side.down < upright.across * upright.down;
	return *turned ? side.across * side.down : upright.across * upright.down;
}

/* Lays the sheets upright or on their side, whichever shows the chart larger, or needs fewer. */
static bool choose_chart(poster *p)
{
	double width, height;
	bool fills = find_room(p, false, &width, &height);
	if (!fills) {
		double column = p->options.chart.stitch_width_mm;
		bool is_free = column <= 0 && !p->options.chart.fabric_scale;
		p->chart = try_chart(p, is_free ? STITCH_WIDTH : column);
		if (p->chart == NULL)
			return false;
		guint sheets = count_sheets(p, p->chart, &p->turned);
		/* Where no width was asked for, a little less may save a sheet. */
		for (column = STITCH_WIDTH - 1; is_free && column >= LEAST_FREE_WIDTH; column--) {
			tb_chart *chart = try_chart(p, column);
			bool turned;
			if (chart != NULL && count_sheets(p, chart, &turned) < sheets) {
				sheets = count_sheets(p, chart, &p->turned);
				tb_chart_destroy(p->chart);
				p->chart = chart;
			} else {
				tb_chart_destroy(chart);
			}
		}
		return true;
	}
	p->chart = fit(p, width, height);
	find_room(p, true, &width, &height);
	tb_chart *turned = p->chart == NULL ? NULL : fit(p, width, height);
	p->turned = turned != NULL && turned->column > 1.02 * p->chart->column;
	if (p->turned) {
		tb_chart_destroy(p->chart);
		p->chart = turned;
	} else {
		tb_chart_destroy(turned);
	}
	return p->chart != NULL;
}

/* The window of a sheet on the chart. */
static void find_window(const poster *p, unsigned column, unsigned row, double *left, double *top,
	double *width, double *height)
{
	*left = column * (p->tiling.width - p->tiling.over_x);
	*top = row * (p->tiling.height - p->tiling.over_y);
	*width = fmin(p->tiling.width, p->chart->width - *left);
	*height = fmin(p->tiling.height, p->chart->height - *top);
}

/* Where the scissors go: outside the window, at its corners. */
static void add_trim_marks(GArray *items, double x, double y, double width, double height)
{
	for (int right = 0; right < 2; right++)
		for (int low = 0; low < 2; low++) {
			double cx = x + right * width, cy = y + low * height;
			double dx = right ? 1 : -1, dy = low ? 1 : -1;
			tb_items_rule(items, cx + dx * 1.5, cy, cx + dx * 6, cy, MARK_PEN, TB_INK_TEXT);
			tb_items_rule(items, cx, cy + dy * 1.5, cx, cy + dy * 6, MARK_PEN, TB_INK_TEXT);
		}
}

/* Small arrowheads in the margin, where the cut edge of the neighbour comes to lie. */
static void add_join_marks(const poster *p, GArray *items, unsigned column, unsigned row, double x,
	double y, double width, double height)
{
	static const double REACH = 4.0, HALF = 1.8;
	if (column + 1 < p->tiling.across)
		for (int low = 0; low < 2; low++) {
			double at = x + width - OVERLAP, edge = low ? y + height + 1 : y - 1, d = low ? 1 : -1;
			tb_item *line = tb_items_line(items, MARK_PEN, TB_INK_FURNITURE);
			tb_line_to(line, at - HALF, edge + d * REACH);
			tb_line_to(line, at, edge);
			tb_line_to(line, at + HALF, edge + d * REACH);
		}
	if (row + 1 < p->tiling.down)
		for (int right = 0; right < 2; right++) {
			double at = y + height - OVERLAP, edge = right ? x + width + 1 : x - 1;
			double d = right ? 1 : -1;
			tb_item *line = tb_items_line(items, MARK_PEN, TB_INK_FURNITURE);
			tb_line_to(line, edge + d * REACH, at - HALF);
			tb_line_to(line, edge, at);
			tb_line_to(line, edge + d * REACH, at + HALF);
		}
}

/* Columns and rows of a grid as empty cells, to be filled in. */
static void add_cells(const poster *p, GArray *items, double x, double y, double left, double top,
	double width, double height)
{
	const tb_chart *chart = p->chart;
	double x1 = fmax(chart->left, left), x2 = fmin(chart->right, left + width);
	double y1 = fmax(chart->top, top), y2 = fmin(chart->bottom, top + height);
	double dx = x - left, dy = y - top, pen = 0.3;
	if (x1 >= x2 || y1 >= y2)
		return;
	for (guint32 i = 0; i <= chart->columns; i++) {
		double at = chart->left + i * chart->column;
		if (at >= x1 - 0.01 && at <= x2 + 0.01 && at <= chart->right + 0.01)
			tb_items_rule(items, at + dx, y1 + dy, at + dx, y2 + dy, pen, TB_INK_BELOW);
	}
	for (guint i = 0; i < chart->rows->len; i++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, i);
		double ends[] = {row->top, row->bottom};
		for (int e = 0; e < 2; e++)
			if (ends[e] >= y1 - 0.01 && ends[e] <= y2 + 0.01)
				tb_items_rule(items, x1 + dx, ends[e] + dy, x2 + dx, ends[e] + dy, pen,
					TB_INK_BELOW);
	}
}

static void add_sheet(poster *p, unsigned column, unsigned row, bool empty)
{
	double left, top, width, height;
	/* Windows stand in the middle of their sheets. */
	double x = (p->width - p->tiling.width) / 2, y = (p->height - p->tiling.height) / 2;
	bool grid = p->chart->columns > 0 && !tb_chart_is(p->chart, TB_LAY_DISC);
	g_autofree char *name = tb_tiling_name(column, row);
	g_autofree char *label = g_strdup_printf("%s%s", name, empty ? " practice" :
		p->options.practice ? " answer" : "");
	tb_leaf *page = tb_pages_add(p->pages, p->width, p->height, label);
	GArray *items = page->items;
	find_window(p, column, row, &left, &top, &width, &height);
	tb_pages_add_mark(p->pages, label, 1, p->pages->pages->len - 1, 0);
	tb_items_tag(items, "H2", NULL);
	/* The name stands clear of the cutting and joining marks. */
	tb_items_label(items, label, x + 9, y - 4.5, TYPE, TB_FACE_BOLD, TB_ALIGN_LEFT, TB_INK_TEXT);
	double name_end = x + 9 + p->measure->measure(p->measure->data, label, TYPE, true) + TYPE;
	double title = p->measure->measure(p->measure->data, p->pages->title, TYPE, false);
	if (name_end + title < x + width - OVERLAP - 4)
		tb_items_label(items, p->pages->title, name_end, y - 4.5, TYPE, TB_FACE_PLAIN,
			TB_ALIGN_LEFT, TB_INK_TEXT);
	tb_items_untag(items);
	if (empty && grid)
		add_cells(p, items, x, y, left, top, width, height);
	tb_items_plate(items, p->chart,
		!empty ? TB_PLATE_WHOLE : grid ? TB_PLATE_EMPTY : TB_PLATE_PALE, x, y, left, top, width,
		height);
	tb_items_row_numbers(items, p->chart, x, y, left, top, width, height, TYPE, 3);
	if (p->tiling.across * p->tiling.down > 1)
		add_trim_marks(items, x, y, width, height);
	add_join_marks(p, items, column, row, x, y, width, height);
}

static void add_sheets(poster *p)
{
	for (unsigned row = 0; row < p->tiling.down; row++)
		for (unsigned column = 0; column < p->tiling.across; column++) {
			if (p->options.practice)
				add_sheet(p, column, row, true);
			add_sheet(p, column, row, false);
		}
}

static void add_title(poster *p, tb_galley *galley)
{
	double size = galley->type.title, lead = 1.2 * size;
	g_autoptr(GPtrArray) lines = tb_galley_wrap(galley, p->pages->title, size, true, galley->width);
	for (guint i = 0; i < lines->len; i++) {
		tb_galley_begin(galley, 0, lead)->keep = true;
		if (i == 0)
			tb_items_tag(galley->items, "H1", NULL);
		tb_items_part(galley->items, g_ptr_array_index(lines, i), i + 1 < lines->len, 0, 0.95 * size,
			size, TB_FACE_BOLD, TB_INK_TEXT);
		if (i + 1 == lines->len)
			tb_items_untag(galley->items);
	}
	tb_galley_skip(galley, galley->type.body);
}

/* A bar to hold a ruler to: a printer that scales the page makes it longer or shorter. */
static void add_bar(tb_galley *galley)
{
	double size = galley->type.body, y = 3;
	tb_galley_paragraph(galley, "Print at 100 %. This bar is 100 mm long:");
	tb_galley_begin(galley, 0.4 * size, 6 + 1.4 * size);
	tb_items_rule(galley->items, 0, y, BAR, y, MARK_PEN, TB_INK_TEXT);
	for (int i = 0; i <= 10; i++) {
		double half = i % 5 == 0 ? 3 : 1.5;
		tb_items_rule(galley->items, i * BAR / 10, y - half, i * BAR / 10, y + half, MARK_PEN,
			TB_INK_TEXT);
	}
	tb_items_label(galley->items, "0", 0, y + 4 + size, size, TB_FACE_PLAIN, TB_ALIGN_LEFT,
		TB_INK_TEXT);
	tb_items_label(galley->items, "100 mm", BAR, y + 4 + size, size, TB_FACE_PLAIN,
		TB_ALIGN_RIGHT, TB_INK_TEXT);
}

static void add_map(poster *p, tb_galley *galley)
{
	double size = galley->type.body, room = fmin(galley->width, 36 * p->tiling.across);
	guint strip = galley->strips->len;
	tb_galley_begin(galley, 0.6 * size, 0);
	tb_items_tag(galley->items, "P", NULL);
	double height = tb_items_map(galley->items, &p->tiling, -1, -1, 0.2, 0, room,
		galley->height / 3, fmin(size, 0.4 * room / p->tiling.across));
	tb_items_untag(galley->items);
	g_array_index(galley->strips, tb_strip, strip).height = height + size;
}

static void add_cover(poster *p)
{
	tb_galley galley;
	tb_galley_init(&galley, p->pages, p->measure, p->options.paper, COVER_MARGIN, true);
	unsigned sheets = p->tiling.across * p->tiling.down;
	galley.no_total = true;
	add_title(p, &galley);
	add_bar(&galley);
	if (sheets > 1) {
		g_autofree char *how = g_strdup_printf("%u sheets, %u across and %u down. Cut each at its "
			"corner marks, on the left and above; lay it on its neighbour up to the arrowheads, 10 mm "
			"from that one's edge, and glue.", sheets, p->tiling.across, p->tiling.down);
		tb_galley_heading(&galley, "Joining the sheets", 1);
		tb_galley_paragraph(&galley, how);
		add_map(p, &galley);
	}
	if (p->options.practice) {
		tb_galley_heading(&galley, "Practice", 1);
		tb_galley_paragraph(&galley, "Print on both sides: the answer is on the back of each sheet.");
	}
	tb_galley_key(&galley, p->options.chart.uk_terms);
	tb_galley_paginate(&galley);
	tb_galley_finish(&galley);
}

/* Words do not shrink as stitches do: a chart can be too large for the sheets it was given. */
static void tell_sheets(const poster *p)
{
	unsigned asked = p->options.fit && p->options.fit_paper == p->options.paper ? 1 :
		p->options.across * p->options.down;
	unsigned sheets = p->tiling.across * p->tiling.down;
	tb_where where = {.piece = tb_pattern_get_piece(tb_worked_pattern(p->worked),
		p->options.chart.piece)};
	if (asked > 0 && sheets > asked)
		tb_diagnose_format(p->diagnostics, TB_WARNING, "poster-sheets", &where,
			"Choose fewer rows, more sheets, or larger paper.",
			"even with stitches of %g mm the poster takes %u sheets, not %u", LEAST_WIDTH, sheets,
			asked);
}

static void name_pages(poster *p)
{
	const tb_pattern *pattern = tb_worked_pattern(p->worked);
	const char *title = p->options.chart.title != NULL ? p->options.chart.title :
		tb_pattern_get_title(pattern);
	const char *piece = tb_pattern_get_piece(pattern, p->options.chart.piece);
	if (p->options.chart.title == NULL && title != NULL && tb_pattern_count_pieces(pattern) > 1)
		p->pages->title = g_strdup_printf("%s: %s", title, piece);
	else
		p->pages->title = g_strdup(title != NULL ? title : piece);
	p->pages->author = g_strdup(tb_pattern_get_designer(pattern));
	p->pages->description = g_strdup(p->chart->description);
	p->pages->grey = p->options.chart.grey;
}

tb_pages *tb_poster_create(const tb_worked *worked, const tb_poster_options *options,
	const tb_text_measure *measure, tb_diagnostics *diagnostics)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	g_return_val_if_fail(options->paper < TB_PAPER_COUNT, NULL);
	g_return_val_if_fail(!options->fit || options->fit_paper < TB_PAPER_COUNT, NULL);
	g_return_val_if_fail(options->chart.piece < tb_pattern_count_pieces(pattern), NULL);
	g_return_val_if_fail(options->chart.size <= (int)tb_pattern_count_sizes(pattern), NULL);
	poster p = {.pages = tb_pages_create_empty(worked), .worked = worked, .options = *options,
		.measure = measure, .diagnostics = diagnostics};
	choose_rows(&p);
	if (!choose_chart(&p)) {
		tb_pages_destroy(p.pages);
		return NULL;
	}
	g_ptr_array_add(p.pages->charts, p.chart);
	p.tiling = part(&p, p.chart, p.turned);
	lay_sheet(&p, p.turned, &p.width, &p.height);
	if (p.tiling.across * p.tiling.down > TB_LIMIT_POSTER_SHEETS) {
		tb_where where = {.piece = tb_pattern_get_piece(tb_worked_pattern(worked),
			p.options.chart.piece)};
		tb_diagnose_format(diagnostics, TB_ERROR, "poster-too-large", &where,
			"Choose fewer rows, a smaller stitch width, or larger paper.",
			"the poster would take more than %u sheets", TB_LIMIT_POSTER_SHEETS);
		tb_pages_destroy(p.pages);
		return NULL;
	}
	tell_sheets(&p);
	name_pages(&p);
	add_cover(&p);
	add_sheets(&p);
	return p.pages;
}
