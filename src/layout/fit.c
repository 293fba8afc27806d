#include "layout/fit.h"

#include "support/diagnose.h"

#include <math.h>

/* So large a column is large enough; one smaller than the least is not read on paper; mm (common practice). */
#define GOOD_COLUMN 5.5
#define LEAST_COLUMN 4.0
#define TRIES 6
/* Columns are so many parts of a mm wide, and so much narrower at the least where a chart had no room. */
#define PARTS 20
#define NARROWER 0.1

static bool has_room(const tb_chart *chart, double width, double height)
{
	return chart->width <= width + 0.01 && chart->height <= height + 0.01;
}

tb_chart *tb_fit_largest(tb_fit_lay lay, void *data, double width, double height, double most, double least)
{
	double column = most;
	for (int i = 0; i < TRIES && column >= least; i++) {
		tb_chart *chart = lay(data, column);
		if (chart == NULL || has_room(chart, width, height))
			return chart;
		double part = fmin(width / chart->width, height / chart->height);
		double next = floor(fmin(column * part, column - NARROWER) * PARTS) / PARTS;
		/* What stands around shrinks less than the stitches: the least is tried before giving up. */
		column = column > least && next < least ? least : next;
		tb_chart_destroy(chart);
	}
	return NULL;
}

typedef struct {
	const tb_worked *worked;
	const tb_text_measure *measure;
	tb_chart_options options;
	tb_chart *first; /* laid out already, with columns of its own width; NULL when it was handed on */
} paper;

static tb_chart *lay_on_paper(void *data, double column)
{
	paper *p = data;
	if (p->first != NULL && column == p->first->column)
		return g_steal_pointer(&p->first);
	p->options.stitch_width_mm = column;
	/* What is to be said of it was said when it was first laid out. */
	g_autoptr(tb_diagnostics) said = tb_diagnostics_create(NULL);
	return tb_chart_lay_out(p->worked, &p->options, p->measure, said);
}

static tb_chart *lay_largest(paper *p, double width, double height, double most, double least)
{
	p->options.paper_width_mm = width;
	p->options.paper_height_mm = height;
	return tb_fit_largest(lay_on_paper, p, width, height, most, least);
}

static void tell_sheets(paper *p, double least, tb_diagnostics *diagnostics)
{
	double width = p->options.paper_height_mm, height = p->options.paper_width_mm;
	p->options.paper_width_mm = width;
	p->options.paper_height_mm = height;
	g_autoptr(tb_chart) chart = lay_on_paper(p, least);
	if (chart == NULL)
		return;
	const tb_piece *piece = tb_pattern_piece(tb_worked_pattern(p->worked), p->options.piece);
	tb_where where = {.has_place = true, .place = piece->place, .piece = piece->name};
	tb_diagnose_format(diagnostics, TB_ERROR, "chart-paper", &where,
		"Chart fewer rows, as in --rows 1-10, choose larger paper, or make a poster, which lies over several sheets.",
		"this chart does not fit the paper: at %g mm a stitch it takes %.0f × %.0f sheets", least, ceil(chart->width / width),
		ceil(chart->height / height));
}

tb_chart *tb_fit_paper(const tb_worked *worked, const tb_chart_options *options, const tb_text_measure *measure,
	tb_diagnostics *diagnostics)
{
	double width = options->paper_width_mm, height = options->paper_height_mm;
	paper p = {worked, measure, *options, tb_chart_lay_out(worked, options, measure, diagnostics)};
	if (p.first == NULL)
		return NULL;
	double most = p.first->column, least = fmin(LEAST_COLUMN, most), good = fmin(GOOD_COLUMN, most);
	tb_chart *upright = lay_largest(&p, width, height, most, least);
	if (upright != NULL && upright->column >= good)
		return upright;
	tb_chart *lying = lay_largest(&p, height, width, most, least);
	if (upright == NULL && lying == NULL)
		tell_sheets(&p, least, diagnostics);
	bool lies = lying != NULL && (upright == NULL || lying->column > upright->column);
	tb_chart_destroy(lies ? upright : lying);
	return lies ? lying : upright;
}
