/* A laid-out chart as marks: the rows' groups from the first row up, then furniture, then words. */
#include "drawing/break.h"
#include "drawing/glyphs.h"
#include "drawing/palette.h"
#include "drawing/sample.h"

#include <math.h>

#define FURNITURE_PEN 0.75 /* of the stitches' pen */

static const char *word_of(const tb_chart *chart, const tb_made *made)
{
	const tb_stitch *stitch = tb_chart_shown(chart, made);
	return chart->options.uk_terms ? stitch->uk : stitch->us;
}

static char *row_title(const tb_chart *chart, const tb_chart_row *row)
{
	const tb_made_row *worked = &chart->fabric->rows[row->row];
	if (worked->number == 0)
		return g_strdup(row->below ? "Row worked on" : "Foundation chain");
	const char *side = worked->side == TB_SIDE_RIGHT ? ", right side" :
		worked->side == TB_SIDE_WRONG ? ", wrong side" : "";
	return g_strdup_printf("%s %u%s", worked->is_round ? "Round" : "Row", worked->number, side);
}

static void draw_rows(const tb_chart *chart, tb_drawing *drawing)
{
	g_autofree guint32 *shapes = tb_glyphs_draw(chart, drawing);
	for (guint i = 0; i < chart->rows->len; i++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, i);
		g_autofree char *title = row_title(chart, row);
		tb_drawing_begin_group(drawing, title);
		for (guint32 k = row->first; k < row->first + row->count; k++) {
			const tb_placed *placed = &g_array_index(chart->placed, tb_placed, k);
			const tb_made *made = &chart->fabric->made[placed->made];
			tb_drawing_place_shape(drawing, shapes[k], placed->top.x, placed->top.y,
				placed->angle, tb_chart_row_ink(chart, row), word_of(chart, made));
		}
		tb_drawing_end_group(drawing);
	}
}

static void draw_arrows(const tb_chart *chart, tb_drawing *drawing)
{
	double pen = chart->pen * FURNITURE_PEN;
	for (guint i = 0; i < chart->arrows->len; i++) {
		const tb_arrow *arrow = &g_array_index(chart->arrows, tb_arrow, i);
		double x = arrow->x1 - arrow->x2, y = arrow->y1 - arrow->y2, side = x < 0 ? -1 : 1;
		double back_x = x * 0.34, back_y = y * 0.34, across_x = side * y * 0.24, across_y = -side * x * 0.24;
		tb_path *path = tb_path_create();
		tb_path_move(path, arrow->x1, arrow->y1);
		tb_path_line(path, arrow->x2, arrow->y2);
		tb_path_move(path, arrow->x2 + back_x + across_x, arrow->y2 + back_y + across_y);
		tb_path_line(path, arrow->x2, arrow->y2);
		tb_path_line(path, arrow->x2 + back_x - across_x, arrow->y2 + back_y - across_y);
		tb_drawing_add_line(drawing, path, arrow->ink, pen, 0, 0);
	}
}

static void draw_bracket(const tb_bracket *b, double pen, tb_drawing *drawing)
{
	/* Along the bracket is u, away from the chart is v; upright brackets swap them. */
	double r = fmin(b->depth, fabs(b->to - b->from) / 6), middle = (b->from + b->to) / 2;
	double at = b->at, in = b->at - b->depth, beak = fmin(b->depth * 0.8, fabs(b->to - b->from) / 8);
	double k = 0.45;
	tb_path *path = tb_path_create();
	double points[][2] = {{b->from, in}, {b->from, at - r}, {b->from, at - r * k},
		{b->from + r * k, at}, {b->from + r, at}, {middle - beak, at}, {middle, at + beak},
		{middle + beak, at}, {b->to - r, at}, {b->to - r * k, at}, {b->to, at - r * k},
		{b->to, at - r}, {b->to, in}};
	if (b->upright)
		for (unsigned i = 0; i < G_N_ELEMENTS(points); i++) {
			double u = points[i][0];
			points[i][0] = points[i][1];
			points[i][1] = u;
		}
	tb_path_move(path, points[0][0], points[0][1]);
	tb_path_line(path, points[1][0], points[1][1]);
	tb_path_curve(path, points[2][0], points[2][1], points[3][0], points[3][1], points[4][0],
		points[4][1]);
	if (b->pointed)
		for (int i = 5; i <= 7; i++)
			tb_path_line(path, points[i][0], points[i][1]);
	tb_path_line(path, points[8][0], points[8][1]);
	tb_path_curve(path, points[9][0], points[9][1], points[10][0], points[10][1], points[11][0],
		points[11][1]);
	tb_path_line(path, points[12][0], points[12][1]);
	tb_drawing_add_line(drawing, path, TB_INK_FURNITURE, pen, 0, 0);
}

static void draw_marks(const tb_chart *chart, tb_drawing *drawing)
{
	for (guint i = 0; i < chart->marks->len; i++) {
		const tb_chart_mark *mark = &g_array_index(chart->marks, tb_chart_mark, i);
		tb_sample sample;
		tb_sample_init(&sample, mark->mark, chart->column, 0.42 * chart->column, chart->pen);
		tb_drawing_place_shape(drawing,
			tb_drawing_add_shape(drawing, tb_glyphs_shape(sample.parts, chart->pen)),
			mark->at.x + sample.height / 2 * sin(mark->angle), mark->at.y - sample.height / 2 * cos(mark->angle), mark->angle, mark->ink, NULL);
		tb_sample_finish(&sample);
	}
}

static void draw_sector(const tb_chart *chart, tb_drawing *drawing)
{
	tb_path *path = tb_path_create();
	for (guint i = 0; i < chart->sector->len; i++) {
		const tb_spot *spot = &g_array_index(chart->sector, tb_spot, i);
		if (i == 0)
			tb_path_move(path, spot->x, spot->y);
		else
			tb_path_line(path, spot->x, spot->y);
	}
	tb_drawing_add_line(drawing, path, TB_INK_FURNITURE, chart->pen * FURNITURE_PEN, 0, 0);
}

/* How far from a box's side a stitch stands that may touch it. */
static double reach_of(const tb_chart *chart, const tb_placed *placed)
{
	double reach = chart->column;
	for (unsigned f = 0; f < placed->foot_count; f++)
		reach = fmax(reach, chart->column + fabs(placed->top.x -
			g_array_index(chart->feet, tb_spot, placed->first_foot + f).x));
	return reach;
}

/* A side of the box from its bottom to its top, open where a stitch would touch it. */
static void draw_box_side(const tb_chart *chart, tb_drawing *drawing, const tb_spot *spots, guint count, double top,
	double bottom, double pen)
{
	g_autoptr(GArray) outline = tb_outline_create();
	double least = INFINITY, most = -INFINITY;
	g_autoptr(tb_path) side = tb_path_create();
	for (guint i = 0; i < count; i++) {
		least = fmin(least, spots[i].x);
		most = fmax(most, spots[i].x);
		if (i == 0)
			tb_path_move(side, spots[i].x, bottom);
		if (count > 1)
			tb_path_line(side, spots[i].x, spots[i].y);
		if (i + 1 == count)
			tb_path_line(side, spots[i].x, top);
	}
	for (guint32 i = 0; i < chart->placed->len; i++) {
		const tb_placed *placed = &g_array_index(chart->placed, tb_placed, i);
		double reach = reach_of(chart, placed);
		if (placed->top.x < least - reach || placed->top.x > most + reach)
			continue;
		g_autoptr(GArray) parts = tb_glyphs_parts(chart, i);
		tb_outline_add(outline, parts, placed->top.x, placed->top.y, placed->angle);
	}
	tb_path *open = tb_path_break(side, outline, tb_glyphs_clear(chart->column, chart->pen) * 0.8,
		0.3 * chart->column);
	if (open != NULL)
		tb_drawing_add_line(drawing, open, TB_INK_FURNITURE, pen, chart->column * 0.2,
			chart->column * 0.14);
}

static void draw_box(const tb_chart *chart, tb_drawing *drawing)
{
	double pen = chart->pen * FURNITURE_PEN, dash = chart->column * 0.2, gap = chart->column * 0.14;
	tb_spot upright[2] = {{chart->box_left, chart->box_top}, {chart->box_right, chart->box_top}};
	const tb_spot *spots[2];
	guint count[2];
	for (unsigned i = 0; i < 2; i++) {
		bool winds = chart->sides[i] != NULL && chart->sides[i]->len > 1;
		spots[i] = winds ? &g_array_index(chart->sides[i], tb_spot, 0) : &upright[i];
		count[i] = winds ? chart->sides[i]->len : 1;
	}
	for (unsigned k = 0; k < 2; k++) {
		tb_path *path = tb_path_create();
		double y = k == 0 ? chart->box_top : chart->box_bottom;
		tb_path_move(path, spots[0][k == 0 ? count[0] - 1 : 0].x, y);
		tb_path_line(path, spots[1][k == 0 ? count[1] - 1 : 0].x, y);
		tb_drawing_add_line(drawing, path, TB_INK_FURNITURE, pen, dash, gap);
	}
	for (unsigned i = 0; i < 2; i++)
		draw_box_side(chart, drawing, spots[i], count[i], chart->box_top, chart->box_bottom, pen);
}

/* Where stitches of a plain middle are left out: two broken lines close to each other. */
static void draw_gap(const tb_chart *chart, tb_drawing *drawing)
{
	double apart = chart->column * 0.09, past = chart->column * 0.3;
	for (int i = -1; i <= 1; i += 2) {
		g_autoptr(GArray) line = g_array_copy(chart->gap);
		for (guint k = 0; k < line->len; k++)
			g_array_index(line, tb_spot, k).x += i * apart;
		draw_box_side(chart, drawing, &g_array_index(line, tb_spot, 0), line->len, chart->top - past, chart->bottom + past,
			chart->pen * FURNITURE_PEN);
	}
}

static void draw_key_symbol(const tb_chart *chart, const tb_key_symbol *key, tb_drawing *drawing)
{
	tb_sample sample;
	tb_sample_init(&sample, key->stitch, key->column, key->chain, chart->pen);
	double y = key->y - sample.height - sample.below;
	if (sample.under != NULL)
		tb_drawing_place_shape(drawing,
			tb_drawing_add_shape(drawing, tb_glyphs_shape(sample.under, chart->pen)), key->x, y, 0,
			TB_INK_BELOW, NULL);
	tb_drawing_place_shape(drawing,
		tb_drawing_add_shape(drawing, tb_glyphs_shape(sample.parts, chart->pen)), key->x, y, 0,
		TB_INK_ROW_A, NULL);
	tb_sample_finish(&sample);
}

tb_drawing *tb_chart_draw(const tb_chart *chart)
{
	tb_drawing *drawing = tb_drawing_create();
	const char *designer = tb_pattern_get_designer(tb_worked_pattern(chart->worked));
	drawing->title = g_strdup(chart->title);
	drawing->description = g_strdup(chart->description);
	drawing->author = g_strdup(designer);
	drawing->width_mm = chart->width;
	drawing->height_mm = chart->height;
	drawing->pen_mm = chart->pen;
	drawing->palette = tb_palette_get(chart->options.grey);
	draw_rows(chart, drawing);
	draw_marks(chart, drawing);
	draw_arrows(chart, drawing);
	if (chart->sector->len > 0)
		draw_sector(chart, drawing);
	if (chart->has_box)
		draw_box(chart, drawing);
	if (chart->gap != NULL && chart->gap->len > 0)
		draw_gap(chart, drawing);
	for (guint i = 0; i < chart->brackets->len; i++)
		draw_bracket(&g_array_index(chart->brackets, tb_bracket, i), chart->pen * FURNITURE_PEN,
			drawing);
	for (guint i = 0; i < chart->keys->len; i++)
		draw_key_symbol(chart, &g_array_index(chart->keys, tb_key_symbol, i), drawing);
	for (guint i = 0; i < chart->labels->len; i++) {
		const tb_label *label = &g_array_index(chart->labels, tb_label, i);
		tb_drawing_add_text(drawing, label->text, label->x, label->y, label->size_mm,
			label->weight, label->align, label->ink);
	}
	return drawing;
}
