#include "drawing/repeat_line.h"

#include <math.h>
#include <string.h>

/* The grid that ways are looked for on, in units; how far to either side, and the most cells. */
#define CELL 0.05
#define REACH 6.0
/* … and so far beyond the middle of the repeat. */
#define BEYOND_MIDDLE 1.0
#define MOST_CELLS ((gsize)6 << 20)
/* What a step costs, a corner, and a step beside the wanted line, by cell. */
#define STEP 1.0f
#define CORNER 9.0f
#define ASIDE 0.02f

/* How a cell was come to. */
typedef enum {
	FROM_NOWHERE,
	FROM_BELOW,
	FROM_LEFT,
	FROM_RIGHT,
	WAYS,
} way;

typedef struct {
	double left, bottom, cell; /* the middle of cell 0, 0 */
	int across, up, wanted;
	guint8 *blocked; /* by cell */
	guint8 *came[WAYS]; /* by cell, for what came to it in that way: in which way the cell before was come to */
} grid;

static gsize cell_at(const grid *g, int x, int y)
{
	return (gsize)y * (gsize)g->across + (gsize)x;
}

/* No way goes nearer than CLEAR to a stroke from A to B. */
static void block_stroke(grid *g, tb_point a, tb_point b, double clear)
{
	int x1 = (int)floor((fmin(a.x, b.x) - clear - g->left) / g->cell), x2 = (int)ceil((fmax(a.x, b.x) + clear - g->left) / g->cell);
	int y1 = (int)floor((g->bottom - fmax(a.y, b.y) - clear) / g->cell), y2 = (int)ceil((g->bottom - fmin(a.y, b.y) + clear) / g->cell);
	double dx = b.x - a.x, dy = b.y - a.y, square = dx * dx + dy * dy;
	for (int y = MAX(y1, 0); y <= MIN(y2, g->up - 1); y++) {
		for (int x = MAX(x1, 0); x <= MIN(x2, g->across - 1); x++) {
			double px = g->left + x * g->cell - a.x, py = g->bottom - y * g->cell - a.y;
			double t = square > 0 ? CLAMP((px * dx + py * dy) / square, 0, 1) : 0;
			if (hypot(px - t * dx, py - t * dy) < clear)
				g->blocked[cell_at(g, x, y)] = 1;
		}
	}
}

static void block_ink(grid *g, const GArray *ink, double shift, double clear)
{
	for (guint i = 1; i < ink->len; i++) {
		tb_point a = g_array_index(ink, tb_point, i - 1), b = g_array_index(ink, tb_point, i);
		if (isnan(a.x) || isnan(b.x))
			continue;
		block_stroke(g, a, b, clear);
		if (shift != 0)
			block_stroke(g, (tb_point){a.x - shift, a.y}, (tb_point){b.x - shift, b.y}, clear);
	}
}

/* The cheapest way to come to a cell from one that was come to in any way at COST, by the way the step itself goes. */
static float cheapest(const float cost[WAYS], way step, guint8 *from)
{
	float least = INFINITY;
	for (int k = FROM_BELOW; k < WAYS; k++) {
		float all = cost[k] + STEP + ((way)k == step ? 0 : CORNER);
		/* Straight back is no way. */
		if ((step == FROM_LEFT && k == FROM_RIGHT) || (step == FROM_RIGHT && k == FROM_LEFT) || all >= least)
			continue;
		least = all;
		*from = (guint8)k;
	}
	return least;
}

static float aside(const grid *g, int x)
{
	return ASIDE * (float)abs(x - g->wanted);
}

/* Row Y, whose cells were come to from below at COST: along it both ways. */
static void go_along(grid *g, int y, float (*cost)[WAYS])
{
	for (int x = 1; x < g->across; x++)
		if (!g->blocked[cell_at(g, x, y)])
			cost[x][FROM_LEFT] = cheapest(cost[x - 1], FROM_LEFT, &g->came[FROM_LEFT][cell_at(g, x, y)]) + aside(g, x);
	for (int x = g->across - 2; x >= 0; x--)
		if (!g->blocked[cell_at(g, x, y)])
			cost[x][FROM_RIGHT] = cheapest(cost[x + 1], FROM_RIGHT, &g->came[FROM_RIGHT][cell_at(g, x, y)]) + aside(g, x);
}

/* Finds all ways; the costs of the top row are left in COST. */
static void go_up(grid *g, float (*cost)[WAYS], float (*next)[WAYS])
{
	for (int x = 0; x < g->across; x++)
		for (int k = 0; k < WAYS; k++)
			cost[x][k] = INFINITY;
	cost[g->wanted][FROM_BELOW] = g->blocked[cell_at(g, g->wanted, 0)] ? INFINITY : 0;
	for (int y = 0; y < g->up; y++) {
		go_along(g, y, cost);
		if (y + 1 == g->up)
			return;
		for (int x = 0; x < g->across; x++) {
			for (int k = 0; k < WAYS; k++)
				next[x][k] = INFINITY;
			if (!g->blocked[cell_at(g, x, y + 1)])
				next[x][FROM_BELOW] = cheapest(cost[x], FROM_BELOW, &g->came[FROM_BELOW][cell_at(g, x, y + 1)]) + aside(g, x);
		}
		memcpy(cost, next, (gsize)g->across * sizeof *cost);
	}
}

static void add_point(GArray *line, const grid *g, int x, int y)
{
	tb_point p = {g->left + x * g->cell, g->bottom - y * g->cell};
	g_array_prepend_val(line, p);
}

/* The way that ends at X in the top row, its corners only. */
static GArray *trace_back(const grid *g, int x, way how)
{
	GArray *line = g_array_new(FALSE, FALSE, sizeof(tb_point));
	int y = g->up - 1;
	add_point(line, g, x, y);
	while (true) {
		way before = (way)g->came[how][cell_at(g, x, y)];
		if (how == FROM_BELOW && y == 0)
			break;
		if (how == FROM_BELOW)
			y--;
		else
			x += how == FROM_LEFT ? -1 : 1;
		if (before != how)
			add_point(line, g, x, y);
		how = before;
	}
	add_point(line, g, x, 0);
	return line;
}

static GArray *find_way(grid *g, double wanted)
{
	g->wanted = CLAMP((int)lround((wanted - g->left) / g->cell), 0, g->across - 1);
	float (*cost)[WAYS] = g_malloc_n((gsize)g->across, sizeof *cost), (*next)[WAYS] = g_malloc_n((gsize)g->across, sizeof *next);
	go_up(g, cost, next);
	float least = INFINITY;
	int x = 0;
	way how = FROM_BELOW;
	for (int i = 0; i < g->across; i++) {
		for (int k = FROM_BELOW; k < WAYS; k++) {
			if (cost[i][k] >= least)
				continue;
			least = cost[i][k];
			x = i;
			how = (way)k;
		}
	}
	g_free(cost);
	g_free(next);
	return isfinite(least) ? trace_back(g, x, how) : NULL;
}

/* What is kept on its side stands in the way from there on, away from the wanted line. */
static void block_kept(grid *g, const GArray *kept, double wanted)
{
	for (guint i = 0; kept != NULL && i < kept->len; i++) {
		tb_point p = g_array_index(kept, tb_point, i);
		int at = (int)lround((p.x - g->left) / g->cell), y = (int)lround((g->bottom - p.y) / g->cell);
		int from = p.x < wanted ? 0 : MAX(at, 0), to = p.x < wanted ? MIN(at, g->across - 1) : g->across - 1;
		for (int up = MAX(y - 1, 0); up <= MIN(y + 1, g->up - 1); up++)
			for (int x = from; x <= to; x++)
				g->blocked[cell_at(g, x, up)] = 1;
	}
}

GArray *tb_repeat_line_find(const GArray *ink, const tb_repeat_line *how)
{
	double reach = REACH * how->unit, high = how->bottom - how->top;
	if (how->shift != 0)
		reach = fmin(reach, fabs(how->shift) / 2 + BEYOND_MIDDLE * how->unit);
	grid g = {.bottom = how->bottom, .cell = CELL * how->unit};
	double cells = (2 * reach / g.cell + 1) * (high / g.cell + 1);
	if (!(how->unit > 0) || !(high > 0) || !isfinite(cells))
		return NULL;
	/* In a very long chart the way goes less far aside. */
	if (cells > MOST_CELLS)
		reach *= MOST_CELLS / cells;
	if (reach < how->unit)
		return NULL;
	g.left = how->wanted - reach;
	g.across = (int)(2 * reach / g.cell) + 1;
	g.up = (int)(high / g.cell) + 1;
	gsize count = (gsize)g.across * (gsize)g.up;
	g.blocked = g_new0(guint8, count);
	for (int k = FROM_BELOW; k < WAYS; k++)
		g.came[k] = g_new0(guint8, count);
	block_ink(&g, ink, how->shift, how->clear);
	block_kept(&g, how->kept, how->wanted);
	GArray *line = find_way(&g, how->wanted);
	for (int k = FROM_BELOW; k < WAYS; k++)
		g_free(g.came[k]);
	g_free(g.blocked);
	return line;
}

double tb_repeat_line_at(const GArray *line, double y)
{
	guint i = 0;
	while (i + 2 < line->len && g_array_index(line, tb_point, i + 1).y > y)
		i++;
	return g_array_index(line, tb_point, i + 1).y > y ? g_array_index(line, tb_point, i + 1).x : g_array_index(line, tb_point, i).x;
}
