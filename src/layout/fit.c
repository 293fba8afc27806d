/*
 * A chart that is to fit one page: as large as is good to read, upright where that is legible, else lying; or told how many
 * pages it would take.
 */
#include "layout/fit.h"

#include "support/diagnose.h"

#include <math.h>

/* So large a column is large enough; one smaller than the least is not read on paper; mm (common practice). */
#define GOOD_COLUMN 5.5
#define LEAST_COLUMN 4.0
#define TRIES 7

static tb_chart *lay_at(const tb_fit *fit, double width, double height, double column)
{
	tb_chart_options options = *fit->options;
	options.paper_width_mm = width;
	options.paper_height_mm = height;
	options.stitch_width_mm = column;
	/* What is to be said of it was said when it was first laid out. */
	g_autoptr(tb_diagnostics) said = tb_diagnostics_create(NULL);
	return fit->lay_out(fit->worked, &options, fit->measure, said);
}

static bool fits(const tb_chart *chart, double width, double height)
{
	return chart->width <= width + 1e-6 && chart->height <= height + 1e-6;
}

/* The largest column, not over MOST, with which the chart has room on such a page; 0 where the least has none. */
static double find_column(const tb_fit *fit, double width, double height, double most)
{
	double low = LEAST_COLUMN, high = most;
	g_autoptr(tb_chart) whole = lay_at(fit, width, height, high);
	if (whole != NULL && fits(whole, width, height))
		return high;
	g_autoptr(tb_chart) least = low < high ? lay_at(fit, width, height, low) : NULL;
	if (least == NULL || !fits(least, width, height))
		return 0;
	for (unsigned i = 0; i < TRIES; i++) {
		double middle = (low + high) / 2;
		g_autoptr(tb_chart) chart = lay_at(fit, width, height, middle);
		if (chart != NULL && fits(chart, width, height))
			low = middle;
		else
			high = middle;
	}
	return low;
}

static void tell_pages(const tb_fit *fit, double width, double height, double most)
{
	double column = fmin(LEAST_COLUMN, most);
	g_autoptr(tb_chart) chart = lay_at(fit, width, height, column);
	if (chart == NULL)
		return;
	const tb_piece *piece = tb_pattern_piece(tb_worked_pattern(fit->worked), fit->options->piece);
	tb_where where = {.has_place = true, .place = piece->place, .piece = piece->name};
	tb_diagnose_format(fit->diagnostics, TB_ERROR, "chart-paper", &where,
		"Chart fewer rows, as in --rows 1-10, choose larger paper, or make a poster, which lies over several sheets.",
		"this chart does not fit the paper: at %g mm a stitch it takes %.0f × %.0f sheets", column, ceil(chart->width / width),
		ceil(chart->height / height));
}

bool tb_fit_find(const tb_fit *fit, double natural, tb_chart_options *options)
{
	double width = fit->options->paper_width_mm, height = fit->options->paper_height_mm;
	*options = *fit->options;
	double upright = find_column(fit, width, height, natural), lying = 0;
	if (upright < fmin(GOOD_COLUMN, natural))
		lying = find_column(fit, height, width, natural);
	options->stitch_width_mm = fmax(upright, lying);
	if (lying > upright) {
		options->paper_width_mm = height;
		options->paper_height_mm = width;
	}
	if (options->stitch_width_mm <= 0)
		tell_pages(fit, width, height, natural);
	return options->stitch_width_mm > 0;
}
