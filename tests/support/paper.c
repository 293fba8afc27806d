#include "paper.h"

#include "drawing/break.h"
#include "drawing/glyphs.h"
#include "layout/clear.h"
#include "layout/need.h"

#include <math.h>

typedef struct {
	const tb_chart *chart;
	guint32 placed;
	tb_part_kind kind;
	GArray *outline;
	tb_box box; /* around it, with half of the paper */
} stroke;

static const tb_placed *placed_of(const stroke *s)
{
	return &g_array_index(s->chart->placed, tb_placed, s->placed);
}

static const tb_made *made_of(const stroke *s)
{
	return &s->chart->fabric->made[placed_of(s)->made];
}

static double to_line(tb_point p, tb_point a, tb_point b)
{
	double dx = b.x - a.x, dy = b.y - a.y, square = dx * dx + dy * dy;
	double t = square > 0 ? CLAMP(((p.x - a.x) * dx + (p.y - a.y) * dy) / square, 0, 1) : 0;
	return hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}

static double nearest(const GArray *one, const GArray *other)
{
	double least = INFINITY;
	for (guint i = 0; i < one->len; i++)
		for (guint k = 1; k < other->len; k++)
			if (!isnan(g_array_index(one, tb_point, i).x) && !isnan(g_array_index(other, tb_point, k).x) &&
				!isnan(g_array_index(other, tb_point, k - 1).x))
				least = fmin(least, to_line(g_array_index(one, tb_point, i), g_array_index(other, tb_point, k - 1),
					g_array_index(other, tb_point, k)));
	return least;
}

/* Around a stroke, and half of AIR on each side. */
static tb_box box_of(const GArray *outline, double air)
{
	tb_box box = {INFINITY, INFINITY, -INFINITY, -INFINITY};
	for (guint i = 0; i < outline->len; i++) {
		tb_point p = g_array_index(outline, tb_point, i);
		if (isnan(p.x))
			continue;
		box = (tb_box){fmin(box.left, p.x - air / 2), fmin(box.top, p.y - air / 2), fmax(box.right, p.x + air / 2),
			fmax(box.bottom, p.y + air / 2)};
	}
	return box;
}

static bool stands_on(const stroke *a, const stroke *b)
{
	for (unsigned k = 0; k < made_of(a)->base_count; k++)
		if (tb_fabric_base(a->chart->fabric, made_of(a), k) == placed_of(b)->made)
			return true;
	return false;
}

static bool share_place(const stroke *a, const stroke *b)
{
	for (unsigned k = 0; k < made_of(a)->base_count; k++)
		for (unsigned j = 0; j < made_of(b)->base_count; j++)
			if (tb_fabric_base(a->chart->fabric, made_of(a), k) == tb_fabric_base(b->chart->fabric, made_of(b), j))
				return true;
	return false;
}

static bool may_meet(const stroke *a, const stroke *b)
{
	if (a->kind != TB_PART_LEG || b->kind != TB_PART_LEG)
		return false;
	bool posts = tb_chart_shown(a->chart, made_of(a))->post != TB_POST_NONE && tb_chart_shown(b->chart, made_of(b))->post != TB_POST_NONE;
	return stands_on(a, b) || stands_on(b, a) || share_place(a, b) || (posts && made_of(a)->row != made_of(b)->row);
}

static void free_strokes(GArray *strokes)
{
	for (guint i = 0; i < strokes->len; i++)
		g_array_unref(g_array_index(strokes, stroke, i).outline);
	g_array_unref(strokes);
}

static GArray *list_strokes(const tb_chart *chart, double air)
{
	GArray *strokes = g_array_new(FALSE, FALSE, sizeof(stroke));
	tb_glyphs *glyphs = tb_glyphs_build(chart);
	for (guint32 i = 0; i < chart->placed->len; i++) {
		GArray *parts = tb_glyphs_parts(glyphs, i);
		for (guint k = 0; k < parts->len; k++) {
			const tb_part *part = &g_array_index(parts, tb_part, k);
			stroke s = {.chart = chart, .placed = i, .kind = part->kind, .outline = tb_outline_create()};
			const tb_placed *placed = placed_of(&s);
			tb_outline_add_path(s.outline, part->path, placed->top.x, placed->top.y, placed->angle);
			s.box = box_of(s.outline, air);
			g_array_append_val(strokes, s);
		}
		g_array_unref(parts);
	}
	tb_glyphs_free(glyphs);
	return strokes;
}

static int by_left(gconstpointer a, gconstpointer b)
{
	const stroke *x = a, *y = b;
	return (x->box.left > y->box.left) - (x->box.left < y->box.left);
}

unsigned tb_paper_count_close(const tb_chart *chart, double least, GString *told)
{
	double unit = tb_need_unit(chart->column, chart->chain);
	GArray *strokes = list_strokes(chart, chart->pen + fmax(least, 0) * unit);
	g_array_sort(strokes, by_left);
	g_autoptr(GHashTable) pairs = g_hash_table_new_full(g_int64_hash, g_int64_equal, g_free, NULL);
	for (guint x = 0; x < strokes->len; x++) {
		const stroke *a = &g_array_index(strokes, stroke, x);
		for (guint y = x + 1; y < strokes->len && g_array_index(strokes, stroke, y).box.left <= a->box.right; y++) {
			const stroke *b = &g_array_index(strokes, stroke, y);
			if (a->placed == b->placed || a->box.top > b->box.bottom || b->box.top > a->box.bottom || may_meet(a, b))
				continue;
			double paper = (fmin(nearest(a->outline, b->outline), nearest(b->outline, a->outline)) - chart->pen) / unit;
			gint64 pair = (gint64)MIN(a->placed, b->placed) << 32 | MAX(a->placed, b->placed);
			if (paper >= least || !g_hash_table_add(pairs, g_memdup2(&pair, sizeof(pair))))
				continue;
			g_string_append_printf(told, "%.3f of paper between %s (row %u, part %d, at %.1f %.1f) and %s (row %u, part %d)\n", paper,
				tb_chart_shown(chart, made_of(a))->us, made_of(a)->row, a->kind, placed_of(a)->top.x, placed_of(a)->top.y,
				tb_chart_shown(chart, made_of(b))->us, made_of(b)->row, b->kind);
		}
	}
	free_strokes(strokes);
	return g_hash_table_size(pairs);
}
