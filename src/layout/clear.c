/* How far words are from ink. Lines are found by the cells of a coarse net that they pass through. */
#include "layout/clear.h"

#include "layout/need.h"

#include <math.h>

/* Ink of stitches, in columns, where need.h does not say it: a leg's half thickness; how far below the top a bow is, and a bar. */
#define LEG 0.045
#define BOW_BELOW 0.08
#define BAR_BELOW 0.36
/* … of a leaf: how much of its length is an end; where a bar crosses it, and how far that one reaches out. */
#define LEAF_END 0.2
#define LEAF_BAR 0.42
#define LEAF_BAR_OUT 0.1
/* … of an almond, and a slip stitch: half its length, and its thickness. */
#define ALMOND_HALF 0.2
#define ALMOND_THICK 0.17
#define SLIP_HALF 0.1
#define SLIP_THICK 0.08
/* So far from the ends of its row, in columns, a number may come to stand, with the ink around it. */
#define REACH 9
/* Cells of the net, in columns, and how many at most across and down. */
#define CELL 1.5
#define MOST_CELLS 400

typedef struct {
	tb_spot a, b;
	double radius;
	bool solid; /* the whole box between a and b */
	tb_box around; /* with its thickness */
} ink_line;

typedef struct {
	guint line, next; /* + 1; 0 at the end */
} entry;

struct tb_clear {
	GArray *lines;   /* ink_line */
	GArray *entries; /* entry */
	guint *cells;    /* first entry + 1 */
	double left, top, size, thickest;
	int across, down;
};

static int cell_of(double at, double from, double size, int count)
{
	double cell = (at - from) / size;
	return (int)CLAMP(cell, 0, count - 1);
}

static void add(tb_clear *c, ink_line line)
{
	line.around = (tb_box){MIN(line.a.x, line.b.x) - line.radius, MIN(line.a.y, line.b.y) - line.radius,
		MAX(line.a.x, line.b.x) + line.radius, MAX(line.a.y, line.b.y) + line.radius};
	g_array_append_val(c->lines, line);
	c->thickest = fmax(c->thickest, line.radius);
	int x1 = cell_of(fmin(line.a.x, line.b.x), c->left, c->size, c->across);
	int x2 = cell_of(fmax(line.a.x, line.b.x), c->left, c->size, c->across);
	int y1 = cell_of(fmin(line.a.y, line.b.y), c->top, c->size, c->down);
	int y2 = cell_of(fmax(line.a.y, line.b.y), c->top, c->size, c->down);
	for (int y = y1; y <= y2; y++) {
		for (int x = x1; x <= x2; x++) {
			entry e = {c->lines->len, c->cells[y * c->across + x]};
			g_array_append_val(c->entries, e);
			c->cells[y * c->across + x] = c->entries->len;
		}
	}
}

void tb_clear_add_line(tb_clear *c, tb_spot from, tb_spot to, double radius)
{
	add(c, (ink_line){.a = from, .b = to, .radius = radius});
}

void tb_clear_add_box(tb_clear *c, tb_box box)
{
	add(c, (ink_line){.a = {box.left, box.top}, .b = {box.right, box.bottom}, .solid = true});
}

/* A line through AT along ANGLE, HALF to either side; its ends lie SAG below its middle. */
static void add_across(tb_clear *c, tb_spot at, double angle, double half, double sag, double radius)
{
	double x = half * cos(angle), y = half * sin(angle), down_x = -sag * sin(angle), down_y = sag * cos(angle);
	tb_clear_add_line(c, (tb_spot){at.x - x + down_x, at.y - y + down_y}, at, radius);
	tb_clear_add_line(c, at, (tb_spot){at.x + x + down_x, at.y + y + down_y}, radius);
}

static tb_spot between(tb_spot a, tb_spot b, double t)
{
	return (tb_spot){a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t};
}

/* Whether the stitch made before M, or after, is in the same place. */
static bool is_of_several(const tb_fabric *fabric, guint32 m)
{
	const tb_made *made = &fabric->made[m];
	for (guint32 k = m > 0 ? m - 1 : m; k <= m + 1 && k < fabric->made_count && made->base_count == 1; k++) {
		const tb_made *other = &fabric->made[k];
		if (k != m && other->row == made->row && other->base_count == 1 && other->base == made->base)
			return true;
	}
	return false;
}

/* A cross in the middle of its cell, or near its head; one in a space may lead all the way through a net. */
static void add_cross(tb_clear *c, const tb_chart *chart, const tb_placed *placed)
{
	double unit = tb_need_unit(chart->column, chart->chain), height = placed->height;
	double low = fmin(height - TB_CROSS_FOOT * unit, height / 2 + TB_CROSS_STEM * 0.6 * unit), high = low - TB_CROSS_STEM * unit;
	if (is_of_several(chart->fabric, placed->made)) {
		high = fmin(high, BOW_BELOW * unit);
		low = high + TB_CROSS_STEM * unit;
	}
	if (chart->fabric->made[placed->made].flags & TB_MADE_IN_SPACE) {
		low = height - TB_CROSS_FOOT * unit;
		high = 0;
	}
	double x = -sin(placed->angle), y = cos(placed->angle);
	tb_spot top = placed->top;
	tb_clear_add_line(c, (tb_spot){top.x + high * x, top.y + high * y}, (tb_spot){top.x + low * x, top.y + low * y}, LEG * unit);
	double bow = high + TB_CROSS_BOW * unit;
	add_across(c, (tb_spot){top.x + bow * x, top.y + bow * y}, placed->angle, TB_CROSS_HALF * unit, TB_CROSS_SAG * unit, LEG * unit);
}

/* Chains on end: from foot to top, as thick as an almond. */
static ink_line line_of_chains(const tb_chart *chart, const tb_placed *placed, tb_spot foot)
{
	double radius = ALMOND_THICK * (placed->room > 0 ? placed->room : chart->column);
	double length = hypot(placed->top.x - foot.x, placed->top.y - foot.y), in = length > 0 ? fmin(radius / length, 0.5) : 0;
	return (ink_line){.a = between(placed->top, foot, in), .b = between(foot, placed->top, in), .radius = radius};
}

void tb_clear_add_stitch(tb_clear *c, const tb_chart *chart, const tb_placed *placed)
{
	const tb_made *made = &chart->fabric->made[placed->made];
	double column = chart->column;
	if (made->flags & TB_MADE_CHAIN) {
		double part = placed->room > 0 ? placed->room / column : 1;
		add_across(c, placed->top, placed->angle, ALMOND_HALF * part * column, 0, ALMOND_THICK * part * column);
		return;
	}
	if (placed->foot_count == 0) {
		add_across(c, placed->top, placed->angle, SLIP_HALF * column, 0, SLIP_THICK * column);
		return;
	}
	const tb_stitch *stitch = tb_chart_shown(chart, made);
	bool turning = made->flags & TB_MADE_TURNING, cross = stitch->form == TB_FORM_CROSS;
	if (cross && placed->foot_count == 1 && stitch->post == TB_POST_NONE && made->rows_below <= 1) {
		add_cross(c, chart, placed);
		return;
	}
	/* A leaf of several legs is as wide as its legs, all along it but for its ends. */
	if (!turning && stitch->legs > 1 && placed->foot_count == 1) {
		tb_spot foot = g_array_index(chart->feet, tb_spot, placed->first_foot);
		double half = (fmin(TB_LEAF_HALF + TB_LEAF_BY_LEG * stitch->legs, TB_LEAF_MOST) + LEG) * column;
		tb_clear_add_line(c, between(placed->top, foot, LEAF_END), between(placed->top, foot, 1 - LEAF_END), half);
		add_across(c, between(placed->top, foot, LEAF_BAR), placed->angle, half + LEAF_BAR_OUT * column, 0, LEG * column);
	}
	for (unsigned f = 0; f < placed->foot_count; f++) {
		tb_spot foot = g_array_index(chart->feet, tb_spot, placed->first_foot + f);
		if (turning) {
			ink_line chains = line_of_chains(chart, placed, foot);
			tb_clear_add_line(c, chains.a, chains.b, chains.radius);
			continue;
		}
		tb_clear_add_line(c, placed->top, foot, LEG * column);
		double angle = atan2(foot.y - placed->top.y, foot.x - placed->top.x) - G_PI / 2;
		for (unsigned bar = 0; bar < stitch->bars; bar++)
			add_across(c, between(placed->top, foot, BAR_BELOW + 0.17 * bar), angle, TB_BAR_HALF * column, 0, LEG * column);
	}
	if (turning)
		return;
	double below = (cross ? TB_CROSS_BOW : BOW_BELOW) * column;
	tb_spot head = {placed->top.x - below * sin(placed->angle), placed->top.y + below * cos(placed->angle)};
	add_across(c, head, placed->angle, (cross ? TB_CROSS_HALF : TB_HEAD_HALF) * column, (cross ? TB_CROSS_SAG : TB_HEAD_SAG) * column, LEG * column);
}

static gsize cell_at(const tb_clear *c, tb_spot at)
{
	return (gsize)cell_of(at.y, c->top, c->size, c->down) * (gsize)c->across + (gsize)cell_of(at.x, c->left, c->size, c->across);
}

/* The cells around the ends of rows, those from FIRST on: what is looked for stands nowhere else. */
static bool *find_ends(const tb_clear *c, const tb_chart *chart, guint first)
{
	bool *near = g_new0(bool, (gsize)c->across * (gsize)c->down);
	int reach = (int)ceil(REACH * chart->column / c->size);
	for (guint i = 0; i < chart->rows->len; i++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, i);
		const tb_spot ends[] = {row->first_top, row->first_foot, row->last_top, row->last_foot};
		for (unsigned k = 0; k < G_N_ELEMENTS(ends) && row->first >= first; k++) {
			int x = cell_of(ends[k].x, c->left, c->size, c->across), y = cell_of(ends[k].y, c->top, c->size, c->down);
			for (int down = MAX(y - reach, 0); down <= MIN(y + reach, c->down - 1); down++)
				for (int across = MAX(x - reach, 0); across <= MIN(x + reach, c->across - 1); across++)
					near[(gsize)down * (gsize)c->across + (gsize)across] = true;
		}
	}
	return near;
}

/* The net over BOX, without anything in it. */
static tb_clear *create(const tb_chart *chart, tb_box box)
{
	tb_clear *c = g_new0(tb_clear, 1);
	double across = box.right - box.left, down = box.bottom - box.top;
	c->lines = g_array_new(FALSE, FALSE, sizeof(ink_line));
	c->entries = g_array_new(FALSE, FALSE, sizeof(entry));
	c->size = fmax(CELL * chart->column, fmax(across, down) / MOST_CELLS);
	c->left = box.left;
	c->top = box.top;
	c->across = MAX((int)ceil(across / c->size), 1);
	c->down = MAX((int)ceil(down / c->size), 1);
	c->cells = g_new0(guint, (gsize)c->across * (gsize)c->down);
	return c;
}

static void add_stitches(tb_clear *c, const tb_chart *chart, guint first, const GArray *but)
{
	g_autofree bool *near = find_ends(c, chart, first);
	guint next = 0;
	for (guint i = first; i < chart->placed->len; i++) {
		const tb_placed *placed = &g_array_index(chart->placed, tb_placed, i);
		if (but != NULL && next < but->len && g_array_index(but, guint, next) == i) {
			next++;
			continue;
		}
		bool wanted = near[cell_at(c, placed->top)];
		for (unsigned f = 0; f < placed->foot_count && !wanted; f++)
			wanted = near[cell_at(c, g_array_index(chart->feet, tb_spot, placed->first_foot + f))];
		if (wanted)
			tb_clear_add_stitch(c, chart, placed);
	}
}

tb_clear *tb_clear_new(const tb_chart *chart)
{
	tb_clear *c = create(chart, (tb_box){chart->left, chart->top, chart->right, chart->bottom});
	add_stitches(c, chart, 0, NULL);
	for (guint i = 0; i < chart->marks->len; i++) {
		tb_spot at = g_array_index(chart->marks, tb_chart_mark, i).at;
		tb_clear_add_line(c, at, at, TB_CLEAR_MARK * chart->column);
	}
	return c;
}

tb_clear *tb_clear_new_without(const tb_chart *chart, guint first, const GArray *but)
{
	tb_box box = {INFINITY, INFINITY, -INFINITY, -INFINITY};
	for (guint i = first; i < chart->placed->len; i++) {
		tb_spot top = g_array_index(chart->placed, tb_placed, i).top;
		box = (tb_box){fmin(box.left, top.x), fmin(box.top, top.y), fmax(box.right, top.x), fmax(box.bottom, top.y)};
	}
	if (first >= chart->placed->len)
		box = (tb_box){0, 0, 0, 0};
	tb_clear *c = create(chart, box);
	add_stitches(c, chart, first, but);
	return c;
}

void tb_clear_free(tb_clear *c)
{
	g_array_unref(c->lines);
	g_array_unref(c->entries);
	g_free(c->cells);
	g_free(c);
}

/* ---- distances ---- */

/* The square of the way from a point to a line. */
static double square_to_line(tb_spot p, tb_spot a, tb_spot b)
{
	double dx = b.x - a.x, dy = b.y - a.y, square = dx * dx + dy * dy;
	double t = square > 0 ? CLAMP(((p.x - a.x) * dx + (p.y - a.y) * dy) / square, 0, 1) : 0;
	double x = p.x - a.x - t * dx, y = p.y - a.y - t * dy;
	return x * x + y * y;
}

static double square_to_box(tb_spot p, const tb_box *box)
{
	double x = p.x < box->left ? box->left - p.x : p.x > box->right ? p.x - box->right : 0;
	double y = p.y < box->top ? box->top - p.y : p.y > box->bottom ? p.y - box->bottom : 0;
	return x * x + y * y;
}

static double side_of(tb_spot a, tb_spot b, tb_spot p)
{
	return (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
}

static double line_to_line(tb_spot a, tb_spot b, tb_spot c, tb_spot d)
{
	if (side_of(a, b, c) * side_of(a, b, d) < 0 && side_of(c, d, a) * side_of(c, d, b) < 0)
		return 0;
	double one = MIN(square_to_line(a, c, d), square_to_line(b, c, d)), other = MIN(square_to_line(c, a, b), square_to_line(d, a, b));
	return sqrt(MIN(one, other));
}

/* A line and a box lie apart where they do across, or down, or where all corners are on one side of the line. */
static double box_to_line(const tb_box *box, tb_spot a, tb_spot b)
{
	tb_spot corner[4] = {{box->left, box->top}, {box->right, box->top}, {box->right, box->bottom}, {box->left, box->bottom}};
	double least = MIN(square_to_box(a, box), square_to_box(b, box));
	bool apart = MAX(a.x, b.x) < box->left || MIN(a.x, b.x) > box->right || MAX(a.y, b.y) < box->top || MIN(a.y, b.y) > box->bottom;
	unsigned left = 0, right = 0;
	for (unsigned k = 0; k < 4 && !apart; k++) {
		double side = side_of(a, b, corner[k]);
		left += side > 0;
		right += side < 0;
	}
	if (left > 0 && right > 0)
		return 0;
	for (unsigned k = 0; k < 4; k++) {
		double square = square_to_line(corner[k], a, b);
		least = MIN(least, square);
	}
	return sqrt(least);
}

static double box_to_box(tb_box a, tb_box b)
{
	double x = fmax(0, fmax(a.left - b.right, b.left - a.right)), y = fmax(0, fmax(a.top - b.bottom, b.top - a.bottom));
	return sqrt(x * x + y * y);
}

/* Whether a line is at least so far from BOX that it need not be measured. */
static bool is_beyond(const ink_line *line, const tb_box *box, double far)
{
	return line->around.left > box->right + far || line->around.right < box->left - far ||
		line->around.top > box->bottom + far || line->around.bottom < box->top - far;
}

/*
 * The least of what is near BOX: that box itself, or the line from FROM to TO that it is drawn around. Where that is
 * LITTLE or less, how little is not looked for.
 */
static double clear_of(const tb_clear *c, const tb_box *box, const tb_spot *from, const tb_spot *to, double little, double most)
{
	double reach = most + c->thickest, least = most;
	int x1 = cell_of(box->left - reach, c->left, c->size, c->across), x2 = cell_of(box->right + reach, c->left, c->size, c->across);
	int y1 = cell_of(box->top - reach, c->top, c->size, c->down), y2 = cell_of(box->bottom + reach, c->top, c->size, c->down);
	const entry *entries = (const entry *)(void *)c->entries->data;
	const ink_line *lines = (const ink_line *)(void *)c->lines->data;
	for (int y = y1; y <= y2; y++) {
		for (int x = x1; x <= x2; x++) {
			for (guint e = c->cells[y * c->across + x]; e != 0 && least > little; e = entries[e - 1].next) {
				const ink_line *line = &lines[entries[e - 1].line - 1];
				if (is_beyond(line, box, least))
					continue;
				tb_box other = {line->a.x, line->a.y, line->b.x, line->b.y};
				double away;
				if (line->solid)
					away = from != NULL ? box_to_line(&other, *from, *to) : box_to_box(other, *box);
				else
					away = from != NULL ? line_to_line(*from, *to, line->a, line->b) : box_to_line(box, line->a, line->b);
				least = MIN(least, away - line->radius);
			}
		}
	}
	return least;
}

double tb_clear_of_box(const tb_clear *c, tb_box box, double little, double most)
{
	return clear_of(c, &box, NULL, NULL, MAX(little, 0), most);
}

double tb_clear_of_line(const tb_clear *c, tb_spot from, tb_spot to, double radius, double most)
{
	tb_box box = {MIN(from.x, to.x), MIN(from.y, to.y), MAX(from.x, to.x), MAX(from.y, to.y)};
	return clear_of(c, &box, &from, &to, 0, most + radius) - radius;
}

double tb_clear_of_stitch(const tb_clear *c, const tb_chart *chart, const tb_placed *placed, double most)
{
	if (placed->foot_count > 0) {
		ink_line chains = line_of_chains(chart, placed, g_array_index(chart->feet, tb_spot, placed->first_foot));
		return tb_clear_of_line(c, chains.a, chains.b, chains.radius, most);
	}
	double x = SLIP_HALF * chart->column * cos(placed->angle), y = SLIP_HALF * chart->column * sin(placed->angle);
	return tb_clear_of_line(c, (tb_spot){placed->top.x - x, placed->top.y - y}, (tb_spot){placed->top.x + x, placed->top.y + y},
		SLIP_THICK * chart->column, most);
}
