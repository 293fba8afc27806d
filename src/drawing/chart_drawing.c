/* A laid-out chart as marks: the rows' groups from the first row up, then furniture, then words. */
#include "drawing/break.h"
#include "drawing/glyphs.h"
#include "drawing/palette.h"
#include "drawing/repeat_line.h"
#include "drawing/sample.h"
#include "drawing/shade.h"
#include "layout/need.h"

#include <math.h>

#define FURNITURE_PEN 0.75 /* of the stitches' pen */
#define BOX_PEN 0.5 /* … where there is a tint as well */

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

static void draw_rows(const tb_chart *chart, tb_glyphs *glyphs, tb_drawing *drawing)
{
	g_autofree guint32 *shapes = tb_glyphs_draw(glyphs, drawing);
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
	double in = b->at - b->depth;
	tb_point points[] = {{b->from, in}, {b->from, b->at}, {b->to, b->at}, {b->to, in}};
	for (unsigned i = 0; b->upright && i < G_N_ELEMENTS(points); i++)
		points[i] = (tb_point){points[i].y, points[i].x};
	tb_path *path = tb_path_create();
	tb_path_points(path, points, G_N_ELEMENTS(points));
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

/* Adds the strokes of what stands near an upright stretch of the page. */
static void add_ink(const tb_chart *chart, const tb_glyphs *glyphs, double left, double right, GArray *outline)
{
	for (guint32 i = 0; i < chart->placed->len; i++) {
		const tb_placed *placed = &g_array_index(chart->placed, tb_placed, i);
		double least = placed->top.x, most = placed->top.x;
		for (unsigned f = 0; f < placed->foot_count; f++) {
			double x = g_array_index(chart->feet, tb_spot, placed->first_foot + f).x;
			least = fmin(least, x);
			most = fmax(most, x);
		}
		if (most > left - chart->column && least < right + chart->column)
			tb_glyphs_add_outline(glyphs, i, outline);
	}
}

static void add_line(tb_path *path, const GArray *line)
{
	tb_path_points(path, (const tb_point *)(void *)line->data, line->len);
}

/* A line from bottom to top, open where a stitch would touch it. */
static void draw_open_line(const tb_chart *chart, const tb_glyphs *glyphs, tb_drawing *drawing, const GArray *line, double pen)
{
	g_autoptr(GArray) outline = tb_outline_create();
	g_autoptr(tb_path) path = tb_path_create();
	double least = INFINITY, most = -INFINITY;
	for (guint i = 0; i < line->len; i++) {
		tb_point p = g_array_index(line, tb_point, i);
		least = fmin(least, p.x);
		most = fmax(most, p.x);
	}
	add_line(path, line);
	add_ink(chart, glyphs, least, most, outline);
	tb_path *open = tb_path_break(path, outline, tb_glyphs_clear(chart->column, chart->pen) * 0.8, 0.3 * chart->column);
	if (open != NULL)
		tb_drawing_add_line(drawing, open, TB_INK_FURNITURE, pen, 0, 0);
}

/* Upward along SPOTS, of a line that winds, from BOTTOM to TOP. */
static GArray *line_along(const GArray *spots, double top, double bottom)
{
	GArray *line = g_array_new(FALSE, FALSE, sizeof(tb_point));
	for (guint i = 0; i < spots->len; i++) {
		tb_spot spot = g_array_index(spots, tb_spot, i);
		tb_point p = {spot.x, i == 0 ? bottom : spot.y};
		if (i == 0)
			g_array_append_val(line, p);
		p.y = spot.y;
		g_array_append_val(line, p);
	}
	tb_point end = {line->len > 0 ? g_array_index(line, tb_point, line->len - 1).x : 0, top};
	g_array_append_val(line, end);
	return line;
}

/* Both sides of the repeat's box, upward. */
typedef struct {
	GArray *sides[2]; /* tb_point */
	bool clear;       /* they go through paper only */
} repeat_box;

/* A stitch is like another a repeat away that stands so near where it would, in columns; lines that are tried. */
#define LIKE_PLACE 0.6
#define MOST_TURNS 12

/* How near a side may come to a stitch: its own half pen, the stitch's, and so much paper, in units; least of all, so little. */
static const double side_paper[] = {0.085, 0.05};

/* Whether the layout led the sides between stitches, and how far they are apart: NAN where that is not the same all along. */
static bool are_led(const tb_chart *chart, double *shift)
{
	const GArray *one = chart->sides[0], *other = chart->sides[1];
	*shift = chart->box_right - chart->box_left;
	if (one == NULL || one->len < 2 || other == NULL || other->len < 2)
		return false;
	for (guint i = 0; i < MIN(one->len, other->len); i++) {
		double apart = fabs(g_array_index(other, tb_spot, i).x - g_array_index(one, tb_spot, i).x);
		if (one->len != other->len || fabs(apart - *shift) > 0.25 * chart->column)
			*shift = NAN;
	}
	return true;
}

/* The middle of a stitch's ink, about. */
static tb_point middle_of(const tb_chart *chart, const tb_placed *placed)
{
	tb_point p = {placed->top.x, placed->top.y};
	if (placed->foot_count == 0)
		return p;
	tb_spot foot = g_array_index(chart->feet, tb_spot, placed->first_foot);
	return (tb_point){(p.x + foot.x) / 2, (p.y + foot.y) / 2};
}

/* Where a stitch stands that LINE has on another side than WANTED has, and which; both moved AWAY to the right. */
typedef struct {
	tb_point at; /* moved back */
	const tb_stitch *stitch;
} moved_stitch;

static GArray *list_moved(const tb_chart *chart, const GArray *line, double wanted, double away)
{
	GArray *moved = g_array_new(FALSE, FALSE, sizeof(moved_stitch));
	for (guint32 i = 0; i < chart->placed->len; i++) {
		const tb_placed *placed = &g_array_index(chart->placed, tb_placed, i);
		tb_point at = middle_of(chart, placed);
		at.x -= away;
		moved_stitch m = {at, tb_chart_shown(chart, &chart->fabric->made[placed->made])};
		if ((at.x < wanted) != (at.x < tb_repeat_line_at(line, at.y)))
			g_array_append_val(moved, m);
	}
	return moved;
}

/* Adds to KEPT those of ONE that have no like in OTHER. */
static void keep_unlike(const GArray *one, const GArray *other, double near, GArray *kept)
{
	for (guint i = 0; i < one->len; i++) {
		const moved_stitch *a = &g_array_index(one, moved_stitch, i);
		bool like = false;
		for (guint k = 0; k < other->len && !like; k++) {
			const moved_stitch *b = &g_array_index(other, moved_stitch, k);
			like = a->stitch == b->stitch && hypot(a->at.x - b->at.x, a->at.y - b->at.y) < near;
		}
		if (!like)
			g_array_append_val(kept, a->at);
	}
}

/*
 * A side through paper, such that what it takes into the repeat on one side it gives up on the other: the same stitches,
 * a repeat further on. An edge's own stitches stay where they are.
 */
static GArray *find_side(const tb_chart *chart, const GArray *ink, tb_repeat_line how)
{
	g_autoptr(GArray) kept = g_array_new(FALSE, FALSE, sizeof(tb_point));
	how.kept = kept;
	for (unsigned turn = 0; turn < MOST_TURNS; turn++) {
		g_autoptr(GArray) line = tb_repeat_line_find(ink, &how);
		if (line == NULL)
			return NULL;
		g_autoptr(GArray) left = list_moved(chart, line, how.wanted, 0), right = list_moved(chart, line, how.wanted, how.shift);
		guint before = kept->len;
		keep_unlike(left, right, LIKE_PLACE * chart->column, kept);
		keep_unlike(right, left, LIKE_PLACE * chart->column, kept);
		if (kept->len == before)
			return g_steal_pointer(&line);
	}
	return NULL;
}

static repeat_box find_box(const tb_chart *chart, const tb_glyphs *glyphs)
{
	repeat_box box = {.clear = false};
	double shift, unit = tb_need_unit(chart->column, chart->chain), reach = 6 * unit;
	bool led = are_led(chart, &shift);
	g_autoptr(GArray) ink = tb_outline_create();
	add_ink(chart, glyphs, chart->box_left - reach, chart->box_right + reach, ink);
	for (unsigned i = 0; i < G_N_ELEMENTS(side_paper) && box.sides[0] == NULL && !isnan(shift); i++)
		box.sides[0] = find_side(chart, ink, (tb_repeat_line){.wanted = chart->box_left, .shift = shift, .top = chart->box_top,
			.bottom = chart->box_bottom, .unit = unit, .clear = 0.75 * chart->pen + side_paper[i] * unit});
	box.clear = box.sides[0] != NULL;
	if (!box.clear && led) {
		for (unsigned i = 0; i < 2; i++)
			box.sides[i] = line_along(chart->sides[i], chart->box_top, chart->box_bottom);
		return box;
	}
	if (!box.clear) {
		box.sides[0] = g_array_new(FALSE, FALSE, sizeof(tb_point));
		tb_point ends[2] = {{chart->box_left, chart->box_bottom}, {chart->box_left, chart->box_top}};
		g_array_append_vals(box.sides[0], ends, 2);
	}
	box.sides[1] = g_array_copy(box.sides[0]);
	for (guint i = 0; i < box.sides[1]->len; i++)
		g_array_index(box.sides[1], tb_point, i).x += chart->box_right - chart->box_left;
	return box;
}

static void clear_box(repeat_box *box)
{
	for (unsigned i = 0; i < 2; i++)
		g_clear_pointer(&box->sides[i], g_array_unref);
}

/* The area of the box, behind the stitches. */
static void draw_tint(const repeat_box *box, tb_drawing *drawing)
{
	tb_path *area = tb_path_create();
	g_autoptr(GArray) around = g_array_copy(box->sides[0]);
	for (guint i = box->sides[1]->len; i-- > 0;)
		g_array_append_val(around, g_array_index(box->sides[1], tb_point, i));
	add_line(area, around);
	tb_path_close(area);
	tb_drawing_add_area(drawing, area, TB_INK_TINT);
}

static void draw_box(const tb_chart *chart, const tb_glyphs *glyphs, const repeat_box *box, tb_drawing *drawing)
{
	double pen = chart->pen * BOX_PEN;
	for (unsigned end = 0; end < 2; end++) {
		tb_point ends[2];
		for (unsigned side = 0; side < 2; side++)
			ends[side] = g_array_index(box->sides[side], tb_point, end == 0 ? 0 : box->sides[side]->len - 1);
		tb_path *path = tb_path_create();
		tb_path_points(path, ends, 2);
		tb_drawing_add_line(drawing, path, TB_INK_FURNITURE, pen, 0, 0);
	}
	for (unsigned side = 0; side < 2; side++) {
		if (!box->clear) {
			draw_open_line(chart, glyphs, drawing, box->sides[side], pen);
			continue;
		}
		tb_path *path = tb_path_create();
		add_line(path, box->sides[side]);
		tb_drawing_add_line(drawing, path, TB_INK_FURNITURE, pen, 0, 0);
	}
}

/* Where stitches of a plain middle are left out: two broken lines close to each other. */
static void draw_gap(const tb_chart *chart, const tb_glyphs *glyphs, tb_drawing *drawing)
{
	double apart = chart->column * 0.09, past = chart->column * 0.3;
	g_autoptr(GArray) middle = line_along(chart->gap, chart->top - past, chart->bottom + past);
	for (int i = -1; i <= 1; i += 2) {
		g_autoptr(GArray) line = g_array_copy(middle);
		for (guint k = 0; k < line->len; k++)
			g_array_index(line, tb_point, k).x += i * apart;
		draw_open_line(chart, glyphs, drawing, line, chart->pen * FURNITURE_PEN);
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
	tb_glyphs *glyphs = tb_glyphs_build(chart);
	repeat_box box = {.clear = false};
	if (chart->has_box) {
		box = find_box(chart, glyphs);
		/* Where cells are shaded, its line alone shows it. */
		if (chart->colours->len == 0)
			draw_tint(&box, drawing);
	}
	tb_shades_draw(chart, drawing);
	draw_rows(chart, glyphs, drawing);
	draw_marks(chart, drawing);
	draw_arrows(chart, drawing);
	if (chart->sector->len > 0)
		draw_sector(chart, drawing);
	if (chart->has_box)
		draw_box(chart, glyphs, &box, drawing);
	if (chart->gap != NULL && chart->gap->len > 0)
		draw_gap(chart, glyphs, drawing);
	clear_box(&box);
	tb_glyphs_free(glyphs);
	for (guint i = 0; i < chart->brackets->len; i++)
		draw_bracket(&g_array_index(chart->brackets, tb_bracket, i), chart->pen * FURNITURE_PEN,
			drawing);
	for (guint i = 0; i < chart->keys->len; i++)
		draw_key_symbol(chart, &g_array_index(chart->keys, tb_key_symbol, i), drawing);
	for (guint i = 0; i < chart->labels->len; i++) {
		const tb_label *label = &g_array_index(chart->labels, tb_label, i);
		tb_drawing_add_text(drawing, label->text, label->x, label->y, label->size_mm,
			label->face, label->align, label->ink);
	}
	return drawing;
}
