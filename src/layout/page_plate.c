/*
 * A chart among text: as large as reads well where there is room, smaller where there is not, but
 * never smaller than can be read; then the page is turned, and a chart that is larger still goes on
 * over several pages.
 */
#include "layout/page.h"

#include "layout/fit.h"

#include "support/diagnose.h"
#include "support/limits.h"

#include <math.h>

/*
 * Width of a stitch that reads well, and the least: symbols 4 mm wide. A stroke is at least 0.25 mm
 * and type above 8 pt at any of them. TILED: where a chart goes on over pages; TYPE: of its words.
 */
static const struct {
	double good, least, tiled, type;
} WIDTHS[] = {{8, 4, 5.5, 1}, {12, 8, 10, 1.93}};

/* Pages that one chart may take. */
#define MOST_TILES 60u
/* Beside a window, for the rows' numbers. */
#define NUMBERS 11.0

typedef struct {
	tb_galley *galley;
	tb_chart_options options;
	const char *heading;
	tb_diagnostics *diagnostics;
	double head; /* height of the heading and the space below it */
	unsigned tried;
} fitting;

/* Faults are told by the first try alone; the others would say the same. */
static tb_chart *try_chart(void *data, double column)
{
	fitting *f = data;
	g_autoptr(tb_diagnostics) quiet = tb_diagnostics_create(NULL);
	f->options.stitch_width_mm = column;
	return tb_chart_create(f->galley->pages->worked, &f->options, f->galley->measure, f->tried++ == 0 ? f->diagnostics : quiet);
}

static void set_heading(const fitting *f, const char *text)
{
	tb_galley_heading(f->galley, text, 2);
}

static void set_whole(fitting *f, tb_chart *chart, bool turned)
{
	tb_galley *galley = f->galley;
	set_heading(f, f->heading);
	tb_strip *strip = tb_galley_begin(galley, 0, chart->height);
	strip->turned = turned;
	tb_items_plate(galley->items, chart, TB_PLATE_WHOLE, 0, 0, 0, 0, chart->width, chart->height);
	tb_galley_skip(galley, 1.5 * galley->type.body);
}

/* Neighbours share one motif across and the height of the tallest row up. */
static tb_tiling part(const fitting *f, const tb_chart *chart, double width, double height)
{
	double window = width - 2 * NUMBERS, over_x = 2 * chart->column, over_y = 0;
	if (chart->motif.found && chart->motif.width * chart->column < window / 2)
		over_x = chart->motif.width * chart->column;
	for (guint i = 0; i < chart->rows->len; i++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, i);
		over_y = fmax(over_y, row->bottom - row->top);
	}
	over_y = fmin(over_y, height / 3);
	return tb_tiling_make(chart->width, chart->height, window, height, over_x, over_y);
}

static void set_window(fitting *f, const tb_chart *chart, const tb_tiling *tiling, unsigned column,
	unsigned row, bool turned)
{
	tb_galley *galley = f->galley;
	double left = column * (tiling->width - tiling->over_x);
	double top = row * (tiling->height - tiling->over_y);
	double width = fmin(tiling->width, chart->width - left);
	double height = fmin(tiling->height, chart->height - top);
	g_autofree char *name = tb_tiling_name(column, row);
	g_autofree char *heading = g_strdup_printf("%s: part %s", f->heading, name);
	set_heading(f, heading);
	double map = 1.6 * galley->type.subhead;
	tb_strip *strip = tb_galley_begin(galley, 0, height + map);
	strip->turned = turned;
	double full = turned ? galley->turned_width : galley->width;
	double map_width = map * tiling->across * tiling->width / (tiling->down * tiling->height);
	map_width = fmin(map_width, full / 4);
	tb_items_map(galley->items, tiling, (int)column, (int)row, full - map_width, -map, map_width,
		1.6 * map, 0);
	tb_items_plate(galley->items, chart, TB_PLATE_WHOLE, NUMBERS, map, left, top, width, height);
	tb_items_row_numbers(galley->items, chart, NUMBERS, map, left, top, width, height,
		galley->type.body, 1.5);
}

static void set_tiled(fitting *f, tb_chart *chart)
{
	tb_galley *galley = f->galley;
	double map = 1.6 * galley->type.subhead;
	tb_tiling upright = part(f, chart, galley->width, galley->height - f->head - map);
	tb_tiling turned = part(f, chart, galley->turned_width, galley->turned_height - f->head - map);
	bool turn = turned.across * turned.down < upright.across * upright.down;
	const tb_tiling *tiling = turn ? &turned : &upright;
	if (tiling->across * tiling->down > MOST_TILES) {
		set_heading(f, f->heading);
		tb_galley_paragraph(galley, "This chart is too large for pages like these. Draw it alone, as "
			"one picture, or choose fewer rows.");
		return;
	}
	for (unsigned row = 0; row < tiling->down; row++)
		for (unsigned column = 0; column < tiling->across; column++)
			set_window(f, chart, tiling, column, row, turn);
	tb_galley_skip(galley, 1.5 * galley->type.body);
}

/* All charts of the pages are kept until these are written. */
static bool has_memory(const tb_pages *pages, const tb_chart *chart, unsigned piece, tb_diagnostics *diagnostics)
{
	guint64 drawn = chart->placed->len;
	for (guint i = 0; i < pages->charts->len; i++)
		drawn += ((const tb_chart *)pages->charts->pdata[i])->placed->len;
	if (drawn * TB_DRAWING_STITCH_BYTES <= TB_LIMIT_DRAWING_BYTES)
		return true;
	const tb_piece *said = tb_pattern_piece(tb_worked_pattern(pages->worked), piece);
	tb_where where = {.has_place = true, .place = said->place, .piece = said->name};
	tb_diagnose_format(diagnostics, TB_ERROR, "limit-drawing", &where, "Ask for fewer charts, or for fewer rows of each.",
		"the charts of these pages have %" G_GUINT64_FORMAT " sts to draw; there is memory for %u", drawn,
		(unsigned)(TB_LIMIT_DRAWING_BYTES / TB_DRAWING_STITCH_BYTES));
	return false;
}

bool tb_galley_plate(tb_galley *galley, const tb_chart_options *options, const char *heading,
	bool large, tb_diagnostics *diagnostics)
{
	fitting f = {.galley = galley, .options = *options, .heading = heading,
		.diagnostics = diagnostics, .head = 3.2 * galley->type.subhead};
	double good = WIDTHS[large].good, least = WIDTHS[large].least;
	f.options.bare = true;
	f.options.type_scale = WIDTHS[large].type;

	tb_chart *upright = tb_fit_largest(try_chart, &f, galley->width, galley->height - f.head, good, least);
	tb_chart *turned = upright != NULL ? NULL :
		tb_fit_largest(try_chart, &f, galley->turned_width, galley->turned_height - f.head, good, least);
	tb_chart *chart = upright != NULL ? upright : turned;
	bool tiled = chart == NULL;
	if (tiled)
		chart = try_chart(&f, WIDTHS[large].tiled);
	if (chart == NULL)
		return false;
	if (!has_memory(galley->pages, chart, options->piece, diagnostics)) {
		tb_chart_destroy(chart);
		return false;
	}
	g_ptr_array_add(galley->pages->charts, chart);
	if (tiled)
		set_tiled(&f, chart);
	else
		set_whole(&f, chart, turned != NULL);
	return true;
}
