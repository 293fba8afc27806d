/*
 * How the cells of a colour are shaded: a tone, lines, or both; the same in one ink and in grey. On a grid a cell is its
 * column's part of the row; of cloth at rest it reaches halfway to the stitches beside it, at their heads and at their feet.
 */
#include "drawing/shade.h"

#include <math.h>

/* Between two lines, and their pen, in columns. */
#define LINES_APART 0.22
#define LINE_PEN 0.03
/* Stitches farther from each other than this, in columns, have something else between them. */
#define FAR_APART 2.4
#define MOST_CORNERS 6

typedef struct {
	tb_point corners[MOST_CORNERS];
	unsigned count, shade;
} cell;

static const struct {
	bool tone;
	int lines[2]; /* rising, falling */
} shades[TB_SHADES] = {{false, {0, 0}}, {true, {0, 0}}, {false, {1, 0}}, {true, {0, 1}}, {false, {1, 1}}, {true, {1, 1}}};

static void add_area(tb_path *area, const cell *c)
{
	tb_path_points(area, c->corners, c->count);
	tb_path_close(area);
}

static int compare_numbers(gconstpointer a, gconstpointer b)
{
	double x = *(const double *)a, y = *(const double *)b;
	return x < y ? -1 : x > y;
}

/* Lines y = rise * x + k through the cell, on a grid that all cells share, so that they run on from one to the next. */
static void add_lines(tb_path *lines, const cell *c, int rise, double apart)
{
	double least = INFINITY, most = -INFINITY;
	for (unsigned i = 0; i < c->count; i++) {
		double k = c->corners[i].y - rise * c->corners[i].x;
		least = fmin(least, k);
		most = fmax(most, k);
	}
	for (double k = ceil(least / apart) * apart; k < most; k += apart) {
		double at[MOST_CORNERS];
		unsigned count = 0;
		for (unsigned i = 0; i < c->count; i++) {
			tb_point p = c->corners[i], q = c->corners[(i + 1) % c->count];
			double a = p.y - rise * p.x - k, b = q.y - rise * q.x - k;
			if ((a < 0) != (b < 0))
				at[count++] = p.x + (q.x - p.x) * a / (a - b);
		}
		qsort(at, count, sizeof *at, compare_numbers);
		for (unsigned i = 0; i + 1 < count; i += 2) {
			tb_path_move(lines, at[i], rise * at[i] + k);
			tb_path_line(lines, at[i + 1], rise * at[i + 1] + k);
		}
	}
}

/* All CELLS of one shade. */
static void draw_cells(const GArray *cells, unsigned shade, const tb_chart *chart, tb_drawing *drawing)
{
	double apart = LINES_APART * chart->column * G_SQRT2;
	g_autoptr(tb_path) area = tb_path_create(), lines = tb_path_create();
	for (guint i = 0; i < cells->len; i++) {
		const cell *c = &g_array_index(cells, cell, i);
		if (c->shade != shade)
			continue;
		if (shades[shade].tone)
			add_area(area, c);
		for (int k = 0; k < 2; k++)
			if (shades[shade].lines[k])
				add_lines(lines, c, k == 0 ? -1 : 1, apart);
	}
	if (area->points->len > 0)
		tb_drawing_add_area(drawing, g_steal_pointer(&area), TB_INK_SHADE);
	if (lines->points->len > 0)
		tb_drawing_add_line(drawing, g_steal_pointer(&lines), TB_INK_HATCH, LINE_PEN * chart->column, 0, 0);
}

static void draw_all(const GArray *cells, const tb_chart *chart, tb_drawing *drawing)
{
	for (unsigned shade = 1; shade < chart->colours->len; shade++)
		draw_cells(cells, shade, chart, drawing);
}

static cell box_cell(double left, double top, double right, double bottom, unsigned shade)
{
	return (cell){{{left, top}, {right, top}, {right, bottom}, {left, bottom}}, 4, shade};
}

static tb_point middle(tb_point a, tb_point b)
{
	return (tb_point){(a.x + b.x) / 2, (a.y + b.y) / 2};
}

static tb_point foot_of(const tb_chart *chart, const tb_placed *p)
{
	tb_point foot = {p->top.x - p->height * sin(p->angle), p->top.y + p->height * cos(p->angle)};
	for (unsigned i = 0; i < p->foot_count; i++) {
		tb_spot at = g_array_index(chart->feet, tb_spot, p->first_foot + i);
		foot = i == 0 ? (tb_point){0, 0} : foot;
		foot.x += at.x;
		foot.y += at.y;
	}
	return p->foot_count > 0 ? (tb_point){foot.x / p->foot_count, foot.y / p->foot_count} : foot;
}

/* Halfway from A to B, where that is beside it; else half a column from A towards SIDE. */
static tb_point reach(tb_point a, const tb_point *b, double angle, double side)
{
	double half = side / 2;
	if (b != NULL && hypot(b->x - a.x, b->y - a.y) < FAR_APART * fabs(side))
		return middle(a, *b);
	return (tb_point){a.x + half * cos(angle), a.y + half * sin(angle)};
}

/* The cells of a row at rest. */
static void add_rest_cells(const tb_chart *chart, const tb_chart_row *row, GArray *cells)
{
	g_autoptr(GArray) members = g_array_new(FALSE, FALSE, sizeof(guint));
	g_autoptr(GArray) heads = g_array_new(FALSE, FALSE, sizeof(tb_point)), feet = g_array_new(FALSE, FALSE, sizeof(tb_point));
	for (guint i = row->first; i < row->first + row->count; i++) {
		const tb_placed *p = &g_array_index(chart->placed, tb_placed, i);
		const tb_made *made = &chart->fabric->made[p->made];
		if (!(made->flags & TB_MADE_COUNTED))
			continue;
		tb_point head = {p->top.x, p->top.y}, foot = foot_of(chart, p);
		g_array_append_val(members, i);
		g_array_append_val(heads, head);
		g_array_append_val(feet, foot);
	}
	tb_part_lay lay = tb_chart_part_of(chart, row)->lay;
	bool round = lay == TB_LAY_DISC || lay == TB_LAY_CLOSE;
	guint n = members->len;
	for (guint i = 0; i < n; i++) {
		const tb_placed *p = &g_array_index(chart->placed, tb_placed, g_array_index(members, guint, i));
		unsigned shade = tb_chart_shade(chart, p);
		if (shade == 0)
			continue;
		bool has[2] = {n > 1 && (i > 0 || round), n > 1 && (i + 1 < n || round)};
		guint beside[2] = {(i + n - 1) % n, (i + 1) % n};
		tb_point head = g_array_index(heads, tb_point, i), foot = g_array_index(feet, tb_point, i), top[2], low[2];
		for (int k = 0; k < 2; k++) {
			const tb_point *next = has[k] ? &g_array_index(heads, tb_point, beside[k]) : NULL;
			const tb_point *under = has[k] ? &g_array_index(feet, tb_point, beside[k]) : NULL;
			const tb_point *other = has[1 - k] ? &g_array_index(heads, tb_point, beside[1 - k]) : NULL;
			/* An edge lies away from the one stitch beside it. */
			double away = cos(p->angle), across = sin(p->angle), side = chart->column;
			if (next != NULL ? (next->x - head.x) * away + (next->y - head.y) * across < 0 :
				other != NULL && (other->x - head.x) * away + (other->y - head.y) * across > 0)
				side = -side;
			top[k] = reach(head, next, p->angle, side);
			low[k] = reach(foot, under, p->angle, side);
		}
		cell c = {{top[0], head, top[1], low[1], foot, low[0]}, 6, shade};
		g_array_append_val(cells, c);
	}
}

/* The cells of a row on the grid, those of one shade side by side as one. */
static void add_grid_cells(const tb_chart *chart, const tb_chart_row *row, GArray *cells)
{
	guint begun = cells->len;
	for (guint i = row->first; i < row->first + row->count; i++) {
		const tb_placed *p = &g_array_index(chart->placed, tb_placed, i);
		const tb_made *made = &chart->fabric->made[p->made];
		unsigned shade = tb_chart_shade(chart, p);
		/* Chains that stand beside their row have no cell in it. */
		if (shade == 0 || (!(made->flags & TB_MADE_COUNTED) && made->flags & TB_MADE_TURNING))
			continue;
		double half = (p->room > 0 ? p->room : chart->column) / 2, left = p->top.x - half, right = p->top.x + half;
		cell *last = cells->len > begun ? &g_array_index(cells, cell, cells->len - 1) : NULL;
		bool level = last != NULL && last->shade == shade && fabs(last->corners[0].y - p->top.y) < 1e-6 &&
			fabs(last->corners[2].y - p->top.y - p->height) < 1e-6;
		if (level && fabs(last->corners[1].x - left) < 1e-6) {
			*last = box_cell(last->corners[0].x, p->top.y, right, p->top.y + p->height, shade);
		} else if (level && fabs(last->corners[0].x - right) < 1e-6) {
			*last = box_cell(left, p->top.y, last->corners[1].x, p->top.y + p->height, shade);
		} else {
			cell c = box_cell(left, p->top.y, right, p->top.y + p->height, shade);
			g_array_append_val(cells, c);
		}
	}
}

static void draw_swatch(const tb_swatch *s, const tb_chart *chart, tb_drawing *drawing)
{
	double w = s->width / 2, h = s->height / 2;
	cell c = box_cell(s->centre.x - w, s->centre.y - h, s->centre.x + w, s->centre.y + h, s->shade);
	g_autoptr(GArray) one = g_array_new(FALSE, FALSE, sizeof(cell));
	g_array_append_val(one, c);
	draw_all(one, chart, drawing);
	tb_path *frame = tb_path_create();
	add_area(frame, &c);
	tb_drawing_add_line(drawing, frame, TB_INK_QUIET, LINE_PEN * chart->column, 0, 0);
}

void tb_shades_draw(const tb_chart *chart, tb_drawing *drawing)
{
	if (chart->colours->len == 0)
		return;
	g_autoptr(GArray) cells = g_array_new(FALSE, FALSE, sizeof(cell));
	for (guint i = 0; i < chart->rows->len; i++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, i);
		if (row->row > 0)
			(tb_chart_part_of(chart, row)->at_rest ? add_rest_cells : add_grid_cells)(chart, row, cells);
	}
	draw_all(cells, chart, drawing);
	for (guint i = 0; i < chart->swatches->len; i++)
		draw_swatch(&g_array_index(chart->swatches, tb_swatch, i), chart, drawing);
}
