#include "lying.h"

#include <math.h>
#include <stdlib.h>

/* Nearer than this, in columns, an almond touches an almond, or a stem. */
#define CHAINS_TOUCH 0.36
#define STEM_TOUCHES 0.16
/* Rest height of a chain of height, in columns. */
#define CHAIN_RISE (2.0 / 3)

typedef struct {
	double x, y;
} point;

typedef struct {
	const tb_chart *chart;
	GHashTable *by_made; /* made + 1 -> placed + 1 */
	GArray *all[4];      /* double: leans, stretches, gaps */
} measuring;

static const tb_placed *placed_at(const tb_chart *chart, guint i)
{
	return &g_array_index(chart->placed, tb_placed, i);
}

static const tb_made *made_of(const tb_chart *chart, const tb_placed *p)
{
	return &chart->fabric->made[p->made];
}

static bool stands(const tb_chart *chart, const tb_placed *p)
{
	const tb_made *made = made_of(chart, p);
	return made->flags & TB_MADE_COUNTED && !(made->flags & TB_MADE_CHAIN) && made->row > 0;
}

static bool is_chain(const tb_chart *chart, const tb_placed *p)
{
	const tb_made *made = made_of(chart, p);
	return made->flags & TB_MADE_CHAIN && made->row > 0;
}

static double height_of(const tb_chart *chart, const tb_placed *p)
{
	const tb_made *made = made_of(chart, p);
	const tb_stitch *stitch = tb_library_get(tb_worked_pattern(chart->worked)->library, made->stitch);
	return (made->flags & TB_MADE_TURNING ? made->chains : stitch->height) * CHAIN_RISE * chart->column;
}

static point foot_of(const tb_chart *chart, const tb_placed *p)
{
	point sum = {0, 0};
	for (unsigned i = 0; i < p->foot_count; i++) {
		const tb_spot *foot = &g_array_index(chart->feet, tb_spot, p->first_foot + i);
		sum.x += foot->x / p->foot_count;
		sum.y += foot->y / p->foot_count;
	}
	return sum;
}

/* The stitch that stands before or after the one at I in its row, around the seam of a round; TB_NONE at an end. *CHAINS: between. */
static guint neighbour(const tb_chart *chart, guint i, int step, unsigned *chains)
{
	guint32 row = made_of(chart, placed_at(chart, i))->row;
	const tb_chart_row *range = NULL;
	for (guint r = 0; r < chart->rows->len; r++) {
		range = &g_array_index(chart->rows, tb_chart_row, r);
		if (i < range->first + range->count)
			break;
	}
	*chains = 0;
	for (guint32 k = 1; k < range->count; k++) {
		gint64 at = (gint64)i - range->first + (gint64)step * k;
		if (at < 0 || at >= range->count) {
			if (tb_chart_is_set_flat(chart, range))
				return TB_NONE;
			at = (at + range->count) % range->count;
		}
		const tb_placed *p = placed_at(chart, range->first + (guint)at);
		if (is_chain(chart, p))
			++*chains;
		else if (stands(chart, p) || (row == 0 && made_of(chart, p)->row == 0))
			return range->first + (guint)at;
	}
	return TB_NONE;
}

static bool same_place(const tb_chart *chart, guint a, guint b)
{
	const tb_made *x = made_of(chart, placed_at(chart, a)), *y = made_of(chart, placed_at(chart, b));
	return x->base_count == 1 && y->base_count == 1 && x->base == y->base;
}

static double percentile(GArray *values, double part)
{
	return values->len > 0 ? g_array_index(values, double, (guint)(part * (values->len - 1) + 0.5)) : NAN;
}

static int compare_doubles(gconstpointer a, gconstpointer b)
{
	double x = *(const double *)a, y = *(const double *)b;
	return (x > y) - (x < y);
}

/* How far the place of a stitch's base lies from that of its neighbour's, along the row below. */
static double places_apart(const measuring *m, guint a, guint b)
{
	const tb_chart *chart = m->chart;
	const tb_made *x = made_of(chart, placed_at(chart, a)), *y = made_of(chart, placed_at(chart, b));
	if (x->base_count == 0 || y->base_count == 0)
		return 1;
	double least = INFINITY;
	for (unsigned i = 0; i < x->base_count; i++)
		for (unsigned j = 0; j < y->base_count; j++)
			least = fmin(least, fabs((double)tb_fabric_base(chart->fabric, x, i) - tb_fabric_base(chart->fabric, y, j)));
	return least;
}

static void measure_stems(measuring *m)
{
	const tb_chart *chart = m->chart;
	g_autofree guint *standing_on = g_new0(guint, chart->fabric->made_count + 1);
	for (guint i = 0; i < chart->placed->len; i++) {
		const tb_made *made = made_of(chart, placed_at(chart, i));
		if (stands(chart, placed_at(chart, i)) && made->base_count == 1)
			standing_on[made->base]++;
	}
	for (guint i = 0; i < chart->placed->len; i++) {
		const tb_placed *p = placed_at(chart, i);
		const tb_made *made = made_of(chart, p);
		if (!stands(chart, p) || made->base_count != 1 || p->foot_count != 1 || made->rows_below > 1)
			continue;
		point foot = foot_of(chart, p);
		double dx = p->top.x - foot.x, dy = p->top.y - foot.y, length = hypot(dx, dy), height = height_of(chart, p);
		guint base = GPOINTER_TO_UINT(g_hash_table_lookup(m->by_made, GUINT_TO_POINTER(made->base + 1)));
		const tb_stitch *stitch = tb_library_get(tb_worked_pattern(chart->worked)->library, made->stitch);
		if (height > 1.2 * chart->column && standing_on[made->base] <= 5 && stitch->post == TB_POST_NONE) {
			double stretch = length / height;
			g_array_append_val(m->all[1], stretch);
		}
		if (base == 0 || standing_on[made->base] > 1 || length < 1e-6 || made->flags & TB_MADE_IN_SPACE)
			continue;
		const tb_placed *under = placed_at(chart, base - 1);
		unsigned before, after;
		if (!stands(chart, under))
			continue;
		guint a = neighbour(chart, base - 1, -1, &before), b = neighbour(chart, base - 1, 1, &after);
		if (a == TB_NONE || b == TB_NONE || before > 0 || after > 0 || places_apart(m, a, base - 1) >= 2 ||
			places_apart(m, base - 1, b) >= 2)
			continue;
		double tx = placed_at(chart, b)->top.x - placed_at(chart, a)->top.x;
		double ty = placed_at(chart, b)->top.y - placed_at(chart, a)->top.y;
		double way = hypot(tx, ty);
		double lean = way > 0 ? asin(CLAMP(fabs(dx * tx + dy * ty) / way / length, 0, 1)) * 180 / G_PI : 0;
		g_array_append_val(m->all[0], lean);
	}
}

static void measure_gaps(measuring *m)
{
	const tb_chart *chart = m->chart;
	for (guint i = 0; i < chart->placed->len; i++) {
		if (!stands(chart, placed_at(chart, i)))
			continue;
		unsigned chains;
		guint next = neighbour(chart, i, 1, &chains);
		if (next == TB_NONE || chains > 0 || same_place(chart, i, next) || places_apart(m, i, next) >= 2)
			continue;
		unsigned more;
		guint before = neighbour(chart, i, -1, &more), after = neighbour(chart, next, 1, &more);
		/* Plain: neither is a member of a group. */
		if ((before != TB_NONE && same_place(chart, before, i)) || (after != TB_NONE && same_place(chart, next, after)))
			continue;
		if (fabs(height_of(chart, placed_at(chart, i)) - height_of(chart, placed_at(chart, next))) > 0.1 * chart->column)
			continue;
		double gap = hypot(placed_at(chart, next)->top.x - placed_at(chart, i)->top.x,
			placed_at(chart, next)->top.y - placed_at(chart, i)->top.y) / chart->column;
		g_array_append_val(m->all[2], gap);
	}
}

typedef struct {
	point a, b;
	guint placed;
} stem;

static double side_of(point a, point b, point c)
{
	return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

static bool cross(const stem *x, const stem *y)
{
	return side_of(x->a, x->b, y->a) * side_of(x->a, x->b, y->b) < 0 &&
		side_of(y->a, y->b, x->a) * side_of(y->a, y->b, x->b) < 0;
}

static GArray *list_stems(const tb_chart *chart)
{
	GArray *stems = g_array_new(FALSE, FALSE, sizeof(stem));
	for (guint i = 0; i < chart->placed->len; i++) {
		const tb_placed *p = placed_at(chart, i);
		const tb_made *made = made_of(chart, p);
		const tb_stitch *stitch = tb_library_get(tb_worked_pattern(chart->worked)->library, made->stitch);
		if (!stands(chart, p) || stitch->post != TB_POST_NONE || made->flags & TB_MADE_BEHIND || made->rows_below > 1)
			continue;
		for (unsigned f = 0; f < p->foot_count; f++) {
			tb_spot foot = g_array_index(chart->feet, tb_spot, p->first_foot + f);
			double dx = p->top.x - foot.x, dy = p->top.y - foot.y;
			stem s = {{foot.x + 0.08 * dx, foot.y + 0.08 * dy}, {p->top.x - 0.08 * dx, p->top.y - 0.08 * dy}, i};
			g_array_append_val(stems, s);
		}
	}
	return stems;
}

/* The first chain of the space that a chain is one of. */
static guint32 space_of(const tb_chart *chart, guint32 m)
{
	const tb_made *made = chart->fabric->made;
	while (m > 0 && made[m - 1].row == made[m].row && made[m - 1].flags & TB_MADE_CHAIN)
		m--;
	return m;
}

static double distance_to_stem(point p, const stem *s)
{
	double dx = s->b.x - s->a.x, dy = s->b.y - s->a.y, square = dx * dx + dy * dy;
	double t = square > 0 ? CLAMP(((p.x - s->a.x) * dx + (p.y - s->a.y) * dy) / square, 0.12, 0.88) : 0;
	return hypot(p.x - s->a.x - t * dx, p.y - s->a.y - t * dy);
}

static void count_touches(const tb_chart *chart, tb_lying *lying)
{
	g_autoptr(GArray) stems = list_stems(chart);
	double column = chart->column;
	for (guint i = 0; i < stems->len; i++) {
		for (guint k = i + 1; k < stems->len; k++) {
			const stem *a = &g_array_index(stems, stem, i), *b = &g_array_index(stems, stem, k);
			if (a->placed != b->placed && fabs(a->b.x - b->b.x) < 6 * column && fabs(a->b.y - b->b.y) < 6 * column)
				lying->crossing += cross(a, b);
		}
	}
	for (guint i = 0; i < chart->placed->len; i++) {
		const tb_placed *p = placed_at(chart, i);
		if (!is_chain(chart, p))
			continue;
		guint32 space = space_of(chart, p->made);
		for (guint k = i + 1; k < chart->placed->len; k++) {
			const tb_placed *other = placed_at(chart, k);
			if (fabs(other->top.x - p->top.x) < column && is_chain(chart, other) && space_of(chart, other->made) != space)
				lying->touching += hypot(other->top.x - p->top.x, other->top.y - p->top.y) < CHAINS_TOUCH * column;
		}
		for (guint k = 0; k < stems->len; k++) {
			const stem *s = &g_array_index(stems, stem, k);
			const tb_made *made = made_of(chart, placed_at(chart, s->placed));
			guint32 last = space;
			while (last + 1 < chart->fabric->made_count && chart->fabric->made[last + 1].flags & TB_MADE_CHAIN)
				last++;
			guint32 m = placed_at(chart, s->placed)->made;
			if (m + 1 == space || m == last + 1 || fabs(s->b.x - p->top.x) > 4 * column)
				continue;
			bool on = false;
			for (unsigned b = 0; b < made->base_count; b++)
				on = on || (tb_fabric_base(chart->fabric, made, b) >= space && tb_fabric_base(chart->fabric, made, b) <= last);
			if (!on)
				lying->touching += distance_to_stem((point){p->top.x, p->top.y}, s) < STEM_TOUCHES * column;
		}
	}
}

/* Every round's stitches, turned by one repeat; or every row's, mirrored. */
static double find_unlike(const tb_chart *chart)
{
	double most = 0, middle = NAN;
	for (guint r = chart->rows->len; r-- > 1;) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, r);
		g_autoptr(GArray) tops = g_array_new(FALSE, FALSE, sizeof(tb_spot));
		point centre = {0, 0};
		for (guint32 i = row->first; i < row->first + row->count; i++) {
			if (!stands(chart, placed_at(chart, i)))
				continue;
			g_array_append_val(tops, placed_at(chart, i)->top);
			centre.x += placed_at(chart, i)->top.x;
			centre.y += placed_at(chart, i)->top.y;
		}
		guint n = tops->len;
		if (n == 0)
			continue;
		centre.x /= n;
		centre.y /= n;
		if (tb_chart_is(chart, TB_LAY_DISC) && chart->turns > 1) {
			double a = 2 * G_PI / chart->turns * (chart->options.left_handed ? 1 : -1);
			for (guint k = 0; k < n; k++) {
				const tb_spot *p = &g_array_index(tops, tb_spot, k), *q = &g_array_index(tops, tb_spot, (k + n / chart->turns) % n);
				double x = (p->x - centre.x) * cos(a) - (p->y - centre.y) * sin(a);
				double y = (p->x - centre.x) * sin(a) + (p->y - centre.y) * cos(a);
				most = fmax(most, hypot(x + centre.x - q->x, y + centre.y - q->y));
			}
		} else if (tb_chart_is(chart, TB_LAY_ROWS) && chart->halves_alike) {
			if (isnan(middle))
				middle = centre.x;
			for (guint k = 0; k < n; k++) {
				const tb_spot *p = &g_array_index(tops, tb_spot, k), *q = &g_array_index(tops, tb_spot, n - 1 - k);
				most = fmax(most, hypot(p->x + q->x - 2 * middle, p->y - q->y));
			}
		}
	}
	return most;
}

tb_lying tb_lying_measure(const tb_chart *chart)
{
	tb_lying lying = {0};
	measuring m = {.chart = chart, .by_made = g_hash_table_new(NULL, NULL)};
	for (unsigned k = 0; k < 3; k++)
		m.all[k] = g_array_new(FALSE, FALSE, sizeof(double));
	for (guint i = 0; i < chart->placed->len; i++)
		g_hash_table_insert(m.by_made, GUINT_TO_POINTER(placed_at(chart, i)->made + 1), GUINT_TO_POINTER(i + 1));
	measure_stems(&m);
	measure_gaps(&m);
	count_touches(chart, &lying);
	for (unsigned k = 0; k < 2; k++)
		g_array_sort(m.all[k], compare_doubles);
	lying.stitches = m.all[1]->len;
	lying.lean_middle = percentile(m.all[0], 0.5);
	lying.lean_most = percentile(m.all[0], 0.95);
	lying.stretch_least = percentile(m.all[1], 0);
	lying.stretch_low = percentile(m.all[1], 0.05);
	lying.stretch_high = percentile(m.all[1], 0.95);
	lying.stretch_most = percentile(m.all[1], 1);
	double sum = 0, square = 0;
	for (guint i = 0; i < m.all[2]->len; i++)
		sum += g_array_index(m.all[2], double, i) / m.all[2]->len;
	for (guint i = 0; i < m.all[2]->len; i++)
		square += pow(g_array_index(m.all[2], double, i) - sum, 2) / m.all[2]->len;
	lying.spacing = m.all[2]->len > 0 ? sqrt(square) / sum : NAN;
	lying.unlike = find_unlike(chart);
	for (unsigned k = 0; k < 3; k++)
		g_array_unref(m.all[k]);
	g_hash_table_unref(m.by_made);
	return lying;
}
