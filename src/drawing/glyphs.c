#include "drawing/glyphs.h"

#include "drawing/break.h"
#include "drawing/crossings.h"

#include <math.h>

/* A glyph unbroken, and its number, which names it in the keys of broken ones. */
typedef struct {
	guint32 number;
	GArray *parts;
	double left, right;
} built;

typedef struct {
	const tb_chart *chart;
	tb_drawing *drawing;
	GHashTable *by_place; /* key -> built */
	GHashTable *shapes;   /* key with what breaks it -> shape number + 1 */
	built **glyphs;       /* by placed */
	GArray **crossings;   /* by placed: what it must keep clear of (tb_crossing), or NULL */
} glyphs;

double tb_glyphs_clear(double column, double pen)
{
	return pen + 0.05 * column;
}

double tb_glyphs_crumb(double column)
{
	return 0.12 * column;
}

static void built_destroy(gpointer data)
{
	built *b = data;
	g_array_unref(b->parts);
	g_free(b);
}

/* As worked; as seen from the right side, a wrong side row's front loops are the back ones. */
static tb_loops loops_of(const tb_chart *chart, const tb_made *made)
{
	bool front = made->flags & TB_MADE_FRONT_LOOP;
	if (!front && !(made->flags & TB_MADE_BACK_LOOP))
		return TB_LOOPS_BOTH;
	bool turned = chart->options.as_seen && chart->fabric->rows[made->row].side == TB_SIDE_WRONG;
	return front != turned ? TB_LOOPS_FRONT : TB_LOOPS_BACK;
}

/* What the chart says of a stitch's place, its top at 0,0. FEET is filled for it. */
static tb_glyph_place place_of(const tb_chart *chart, guint32 index, GArray *feet)
{
	const tb_placed *placed = &g_array_index(chart->placed, tb_placed, index);
	const tb_made *made = &chart->fabric->made[placed->made];
	double c = cos(placed->angle), n = sin(placed->angle);
	g_array_set_size(feet, 0);
	for (unsigned i = 0; i < placed->foot_count; i++) {
		const tb_spot *spot = &g_array_index(chart->feet, tb_spot, placed->first_foot + i);
		double dx = spot->x - placed->top.x, dy = spot->y - placed->top.y;
		tb_point foot = {dx * c + dy * n, dy * c - dx * n};
		g_array_append_val(feet, foot);
	}
	tb_glyph_place place = {
		.stitch = tb_chart_shown(chart, made),
		.column = chart->column, .chain = chart->chain, .pen = chart->pen,
		.height = placed->height, .base_top = placed->base_top,
		.feet = (const tb_point *)(void *)feet->data,
		.foot_count = feet->len,
		.chains = made->flags & TB_MADE_TURNING ? made->chains : 0,
		.loops = loops_of(chart, made),
		.in_space = made->flags & TB_MADE_IN_SPACE && made->base_count == 1,
	};
	return place;
}

/* Equal keys draw equal glyphs: everything that shapes one, in thousandths of a millimetre. */
static char *key_of(const tb_glyph_place *place)
{
	GString *key = g_string_new(NULL);
	g_string_append_printf(key, "%u %u %d %d %ld %ld", place->stitch->number, place->chains,
		place->loops, place->in_space, lround(place->height * 1000), lround(place->base_top * 1000));
	for (unsigned i = 0; i < place->foot_count; i++)
		g_string_append_printf(key, " %ld,%ld", lround(place->feet[i].x * 1000),
			lround(place->feet[i].y * 1000));
	return g_string_free(key, FALSE);
}

static void measure(built *b)
{
	b->left = INFINITY;
	b->right = -INFINITY;
	for (guint i = 0; i < b->parts->len; i++) {
		const GArray *points = g_array_index(b->parts, tb_part, i).path->points;
		for (guint k = 0; k < points->len; k++) {
			b->left = fmin(b->left, g_array_index(points, tb_point, k).x);
			b->right = fmax(b->right, g_array_index(points, tb_point, k).x);
		}
	}
}

static void build_all(glyphs *g)
{
	g_autoptr(GArray) feet = g_array_new(FALSE, FALSE, sizeof(tb_point));
	for (guint32 i = 0; i < g->chart->placed->len; i++) {
		tb_glyph_place place = place_of(g->chart, i, feet);
		char *key = key_of(&place);
		built *b = g_hash_table_lookup(g->by_place, key);
		if (b == NULL) {
			b = g_new0(built, 1);
			b->number = g_hash_table_size(g->by_place);
			b->parts = tb_glyph_build(&place);
			measure(b);
			g_hash_table_insert(g->by_place, key, b);
		} else {
			g_free(key);
		}
		g->glyphs[i] = b;
	}
}

static char *broken_key(const glyphs *g, guint32 index)
{
	GString *key = g_string_new(NULL);
	const tb_placed *own = &g_array_index(g->chart->placed, tb_placed, index);
	g_string_append_printf(key, "%u", g->glyphs[index]->number);
	if (g->crossings[index] != NULL)
		g_string_append_printf(key, "^%ld", lround(own->angle * 10000));
	for (guint i = 0; g->crossings[index] != NULL && i < g->crossings[index]->len; i++) {
		const tb_crossing *c = &g_array_index(g->crossings[index], tb_crossing, i);
		const tb_placed *other = &g_array_index(g->chart->placed, tb_placed, c->other);
		g_string_append_printf(key, "/%u:%u@%ld,%ld^%ld", c->kind, g->glyphs[c->other]->number,
			lround((other->top.x - own->top.x) * 1000), lround((other->top.y - own->top.y) * 1000),
			lround(other->angle * 10000));
	}
	return g_string_free(key, FALSE);
}

tb_shape *tb_glyphs_shape(const GArray *parts, double pen)
{
	tb_shape *shape = tb_shape_create();
	for (guint i = 0; i < parts->len; i++) {
		const tb_part *part = &g_array_index(parts, tb_part, i);
		tb_shape_add(shape, tb_path_copy(part->path), part->filled);
	}
	tb_shape_measure(shape, pen);
	return shape;
}

/* The lines of the stitches that INDEX crosses in the way KIND says, around its own origin. */
static GArray *outline_of(const glyphs *g, guint32 index, tb_crossing_kind kind)
{
	const tb_placed *own = &g_array_index(g->chart->placed, tb_placed, index);
	double cosine = cos(own->angle), sine = sin(own->angle);
	GArray *outline = tb_outline_create();
	for (guint i = 0; i < g->crossings[index]->len; i++) {
		const tb_crossing *c = &g_array_index(g->crossings[index], tb_crossing, i);
		if (c->kind != kind)
			continue;
		const tb_placed *placed = &g_array_index(g->chart->placed, tb_placed, c->other);
		double x = placed->top.x - own->top.x, y = placed->top.y - own->top.y;
		double dx = x * cosine + y * sine, dy = y * cosine - x * sine;
		const GArray *parts = g->glyphs[c->other]->parts;
		for (guint k = 0; k < parts->len; k++) {
			const tb_part *part = &g_array_index(parts, tb_part, k);
			if (kind == TB_CROSS_UNDER_FRONT || part->kind != TB_PART_BAR)
				tb_outline_add_path(outline, part->path, dx, dy, placed->angle - own->angle);
		}
	}
	return outline;
}

static guint32 draw_shape(glyphs *g, guint32 index)
{
	const tb_chart *chart = g->chart;
	g_autoptr(GArray) parts = g_array_ref(g->glyphs[index]->parts);
	double clear = tb_glyphs_clear(chart->column, chart->pen);
	double crumb = tb_glyphs_crumb(chart->column);
	for (int kind = TB_CROSS_UNDER_FRONT; g->crossings[index] != NULL && kind <= TB_CROSS_BESIDE_BACK;
			kind++) {
		g_autoptr(GArray) outline = outline_of(g, index, (tb_crossing_kind)kind);
		if (outline->len == 0)
			continue;
		GArray *broken = tb_parts_break(parts, outline, clear, crumb, kind == TB_CROSS_BESIDE_BACK);
		g_array_unref(parts);
		parts = broken;
	}
	return tb_drawing_add_shape(g->drawing, tb_glyphs_shape(parts, chart->pen));
}

guint32 *tb_glyphs_draw(const tb_chart *chart, tb_drawing *drawing)
{
	guint32 count = chart->placed->len;
	guint32 *shapes = g_new(guint32, count + 1);
	glyphs g = {
		.chart = chart, .drawing = drawing,
		.by_place = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, built_destroy),
		.shapes = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL),
		.glyphs = g_new0(built *, count + 1),
	};
	build_all(&g);
	g_autofree tb_reach *reaches = g_new(tb_reach, count + 1);
	for (guint32 i = 0; i < count; i++)
		reaches[i] = (tb_reach){g.glyphs[i]->left, g.glyphs[i]->right};
	g.crossings = tb_crossings_find(chart, reaches);
	for (guint32 i = 0; i < count; i++) {
		char *key = broken_key(&g, i);
		guint32 number = GPOINTER_TO_UINT(g_hash_table_lookup(g.shapes, key));
		if (number == 0) {
			number = draw_shape(&g, i) + 1;
			g_hash_table_insert(g.shapes, key, GUINT_TO_POINTER(number));
		} else {
			g_free(key);
		}
		shapes[i] = number - 1;
	}
	for (guint32 i = 0; i < count; i++)
		if (g.crossings[i] != NULL)
			g_array_unref(g.crossings[i]);
	g_free(g.crossings);
	g_free(g.glyphs);
	g_hash_table_unref(g.shapes);
	g_hash_table_unref(g.by_place);
	return shapes;
}

GArray *tb_glyphs_parts(const tb_chart *chart, guint32 index)
{
	g_autoptr(GArray) feet = g_array_new(FALSE, FALSE, sizeof(tb_point));
	tb_glyph_place place = place_of(chart, index, feet);
	return tb_glyph_build(&place);
}
