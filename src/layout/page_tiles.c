/* A chart larger than its paper, in windows: their names, their map, and the rows' numbers. */
#include "layout/page.h"

#include <math.h>

/* Enough to be too many: whoever parts a chart says how many sheets it may take. */
#define MOST_TILES 1000u

static unsigned count_windows(double whole, double window, double over)
{
	if (whole <= window + 0.01 || window <= over)
		return 1;
	return (unsigned)fmin(ceil((whole - over - 0.01) / (window - over)), MOST_TILES);
}

tb_tiling tb_tiling_make(double width, double height, double window_width, double window_height,
	double over_x, double over_y)
{
	tb_tiling tiling = {.over_x = over_x, .over_y = over_y,
		.across = count_windows(width, window_width, over_x),
		.down = count_windows(height, window_height, over_y)};
	/* Windows are alike, so that the last shows no mere strip. */
	tiling.width = fmin(window_width, (width + (tiling.across - 1) * over_x) / tiling.across);
	tiling.height = fmin(window_height, (height + (tiling.down - 1) * over_y) / tiling.down);
	return tiling;
}

char *tb_tiling_name(unsigned column, unsigned row)
{
	GString *name = g_string_new(NULL);
	for (unsigned rest = column + 1; rest > 0; rest = (rest - 1) / 26)
		g_string_prepend_c(name, (char)('A' + (rest - 1) % 26));
	g_string_append_printf(name, "%u", row + 1);
	return g_string_free(name, FALSE);
}

double tb_items_map(GArray *items, const tb_tiling *tiling, int column, int row, double x, double y,
	double width, double height, double size)
{
	double scale = fmin(width / (tiling->across * tiling->width),
		height / (tiling->down * tiling->height));
	double w = tiling->width * scale, h = tiling->height * scale;
	for (unsigned r = 0; r < tiling->down; r++)
		for (unsigned c = 0; c < tiling->across; c++) {
			bool here = (int)c == column && (int)r == row;
			tb_items_box(items, x + c * w, y + r * h, w, h, 0.2, TB_INK_BELOW);
			if (here)
				tb_items_box(items, x + c * w + 0.15 * w, y + r * h + 0.15 * h, 0.7 * w, 0.7 * h,
					0.5, TB_INK_TEXT);
			if (size <= 0)
				continue;
			g_autofree char *name = tb_tiling_name(c, r);
			tb_items_label(items, name, x + (c + 0.5) * w, y + (r + 0.5) * h + 0.36 * size, size,
				TB_FACE_BOLD, TB_ALIGN_CENTRE, TB_INK_TEXT);
		}
	return tiling->down * h;
}

/* Where along x the chart itself has the number of row INDEX; NAN where it has none. */
static double own_number(const tb_chart *chart, guint index)
{
	for (guint i = 0; i < chart->labels->len; i++) {
		const tb_label *label = &g_array_index(chart->labels, tb_label, i);
		if (label->row == index + 1)
			return label->x;
	}
	return NAN;
}

void tb_items_row_numbers(GArray *items, const tb_chart *chart, double x, double y, double left,
	double top, double width, double height, double size, double gap)
{
	for (guint i = 0; i < chart->rows->len; i++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, i);
		const tb_made_row *worked = &chart->fabric->rows[row->row];
		double middle = (row->top + row->bottom) / 2 - top;
		if (worked->number == 0 || middle < 0 || middle > height || !tb_chart_is_set_flat(chart, row))
			continue;
		bool at_right = worked->leftward != chart->options.left_handed;
		g_autofree char *text = g_strdup_printf("%u", worked->number);
		double own = own_number(chart, i);
		if (own > left && own < left + width)
			continue;
		tb_items_label(items, text, at_right ? x + width + gap : x - gap, y + middle + 0.36 * size,
			size, TB_FACE_BOLD, at_right ? TB_ALIGN_LEFT : TB_ALIGN_RIGHT,
			tb_chart_row_ink(chart, row));
	}
}
