#include "drawing/glyphs.h"

#include "drawing/break.h"
#include "drawing/crossings.h"
#include "layout/need.h"

#include <math.h>

/* A glyph unbroken, and its number, which names it in the keys of broken ones. */
typedef struct {
	guint32 number;
	guint32 shape; /* its shape where nothing breaks it, plus 1; 0 before it is drawn */
	GArray *parts;
	double left, right;
} built;

struct tb_glyphs {
	const tb_chart *chart;
	tb_drawing *drawing;
	GHashTable *by_place; /* key -> built */
	GHashTable *shapes;   /* broken ones: key with what breaks it -> shape number + 1 */
	built **glyphs;       /* by placed */
	tb_holding *holdings; /* by placed */
	GArray **crossings;   /* by placed: what it must keep clear of (tb_crossing), or NULL */
};

/* Centre to centre of strokes where one is cut for the other: the pen and the least paper, in columns; mm. */
#define LEAST_PAPER 0.07
#define CRUMB 0.14
/* Between two legs that pass over it nothing shorter is shown of a leg, in columns. */
#define BRIDGE 0.60

double tb_glyphs_clear(double column, double pen)
{
	return pen + LEAST_PAPER * column;
}

double tb_glyphs_crumb(double column)
{
	return CRUMB * column;
}

static void built_destroy(gpointer data)
{
	built *b = data;
	g_array_unref(b->parts);
	g_free(b);
}

/*
 * As worked; as seen from the right side, a wrong side row's front loops are the back ones. The third is behind the head
 * as it is worked, and is shown by a stroke that has no side.
 */
static tb_loops loops_of(const tb_chart *chart, const tb_made *made)
{
	bool front = made->flags & TB_MADE_FRONT_LOOP;
	if (made->flags & TB_MADE_THIRD_LOOP)
		return TB_LOOPS_THIRD;
	if (!front && !(made->flags & TB_MADE_BACK_LOOP))
		return TB_LOOPS_BOTH;
	bool turned = chart->as_seen && chart->fabric->rows[made->row].side == TB_SIDE_WRONG;
	return front != turned ? TB_LOOPS_FRONT : TB_LOOPS_BACK;
}

/* Whether the made stitch M is a chain that lies in ROW. */
static bool is_chain_in(const tb_fabric *fabric, guint32 m, guint32 row)
{
	return m < fabric->made_count && fabric->made[m].row == row && fabric->made[m].flags & TB_MADE_CHAIN &&
		!(fabric->made[m].flags & TB_MADE_TURNING);
}

/* So many in one space cover its chains, and lead nowhere. */
#define LEAST_COVER 3

/* Whether a stitch in a space leads through a net: several chains are in that space, or follow it. */
static bool is_in_net(const tb_chart *chart, guint32 m)
{
	const tb_fabric *fabric = chart->fabric;
	const tb_made *made = &fabric->made[m];
	if (!(made->flags & TB_MADE_IN_SPACE) || made->base_count != 1)
		return false;
	guint32 base = tb_fabric_base(fabric, made, 0), row = fabric->made[base].row;
	return is_chain_in(fabric, base - 1, row) || is_chain_in(fabric, base + 1, row) ||
		(is_chain_in(fabric, m + 1, made->row) && is_chain_in(fabric, m + 2, made->row)) ||
		(m > 1 && is_chain_in(fabric, m - 1, made->row) && is_chain_in(fabric, m - 2, made->row));
}

static double distance(tb_spot a, tb_spot b)
{
	return hypot(a.x - b.x, a.y - b.y);
}

static tb_spot foot_of(const tb_chart *chart, const tb_placed *placed)
{
	return g_array_index(chart->feet, tb_spot, placed->first_foot);
}

/* Whether two stitches stand in one place, as stitches of one group; or in its image, where a repeat's edge parts them. */
static bool is_group(const tb_chart *chart, const tb_placed *a, const tb_placed *b)
{
	const tb_made *one = &chart->fabric->made[a->made], *two = &chart->fabric->made[b->made];
	if (one->row != two->row || one->base_count != 1 || two->base_count != 1 || a->foot_count != 1 || b->foot_count != 1 ||
		!(two->flags & TB_MADE_COUNTED) || (one->flags | two->flags) & TB_MADE_TURNING)
		return false;
	return tb_fabric_base(chart->fabric, one, 0) == tb_fabric_base(chart->fabric, two, 0) ||
		distance(foot_of(chart, a), foot_of(chart, b)) < 0.01 * chart->column;
}

/* How many stand in the place of INDEX, which of them it is, and how near the nearest stands to it. */
static void find_fan(const tb_chart *chart, guint32 index, tb_glyph_place *place)
{
	const tb_placed *own = &g_array_index(chart->placed, tb_placed, index);
	const tb_made *made = &chart->fabric->made[own->made];
	double nearest = INFINITY;
	place->fan = 1;
	place->arc_beside = false;
	if (made->base_count != 1 || own->foot_count != 1 || !(made->flags & TB_MADE_COUNTED))
		return;
	for (int step = -1; step <= 1; step += 2) {
		bool first = true;
		for (gint64 k = (gint64)index + step; k >= 0 && k < chart->placed->len; k += step) {
			const tb_placed *other = &g_array_index(chart->placed, tb_placed, k);
			const tb_made *beside = &chart->fabric->made[other->made];
			if (beside->row == made->row && beside->flags & TB_MADE_CHAIN && !(beside->flags & TB_MADE_TURNING))
				continue;
			if (!is_group(chart, own, other))
				break;
			place->fan++;
			place->fan_at += step < 0;
			/* One arc under all of them, that of the first made. */
			place->arc_beside = place->arc_beside || (step < 0 && loops_of(chart, beside) == place->loops);
			double way = distance(own->top, other->top);
			if (first && way < nearest) {
				nearest = way;
				place->head_gap = way;
				place->foot_gap = distance(foot_of(chart, own), foot_of(chart, other));
			}
			first = false;
		}
	}
}

/* Where the top of the stitch lies that INDEX is linked to: the one before it in its row, if that is such a stitch too. */
static tb_point find_link(const tb_chart *chart, guint32 index)
{
	const tb_placed *own = &g_array_index(chart->placed, tb_placed, index);
	const tb_made *made = &chart->fabric->made[own->made];
	const tb_stitch *stitch = tb_chart_shown(chart, made);
	if (!stitch->linked || index == 0)
		return (tb_point){0, 0};
	const tb_placed *before = own - 1;
	const tb_made *other = &chart->fabric->made[before->made];
	if (before->made + 1 != own->made || other->row != made->row || tb_chart_shown(chart, other) != stitch)
		return (tb_point){0, 0};
	double c = cos(own->angle), n = sin(own->angle);
	double dx = before->top.x - own->top.x, dy = before->top.y - own->top.y;
	return (tb_point){dx * c + dy * n, dy * c - dx * n};
}

/* What the chart says of a stitch's place, its top at 0,0. FEET is filled for it. */
static tb_glyph_place place_of(const tb_chart *chart, guint32 index, tb_holding holding, GArray *feet)
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
	bool narrow = placed->room > 0;
	tb_glyph_place place = {
		.stitch = tb_chart_shown(chart, made),
		.column = narrow ? placed->room : chart->column, .chain = chart->chain, .pen = chart->pen,
		.width = narrow ? chart->column : 0,
		.height = placed->height, .base_top = placed->base_top,
		.feet = (const tb_point *)(void *)feet->data,
		.foot_count = feet->len,
		.chains = made->flags & TB_MADE_TURNING ? made->chains : 0,
		.loops = loops_of(chart, made),
		.in_space = made->flags & TB_MADE_IN_SPACE && made->base_count == 1,
		.held = holding.held, .passed = holding.passed,
		.crosses = placed->crosses,
	};
	find_fan(chart, index, &place);
	place.in_net = place.fan < LEAST_COVER && is_in_net(chart, placed->made);
	place.link = find_link(chart, index);
	return place;
}

static void add_to_key(GString *key, gint32 value)
{
	g_string_append_len(key, (const char *)&value, sizeof value);
}

static void add_thousandths(GString *key, double value)
{
	add_to_key(key, (gint32)lround(value * 1000));
}

/* Equal keys draw equal glyphs: everything that shapes one, in thousandths of a millimetre. */
static void set_key(GString *key, const tb_glyph_place *place)
{
	g_string_truncate(key, 0);
	add_to_key(key, (gint32)place->stitch->number);
	add_to_key(key, (gint32)place->chains);
	add_to_key(key, (gint32)place->loops * 8 + place->arc_beside * 4 + place->in_space * 2 + place->in_net);
	add_to_key(key, (gint32)place->held * 4 + place->passed * 2 + place->crosses);
	add_to_key(key, (gint32)place->fan);
	add_to_key(key, place->fan > 1 ? (gint32)place->fan_at : 0);
	add_thousandths(key, place->head_gap);
	add_thousandths(key, place->foot_gap);
	add_thousandths(key, place->width);
	add_thousandths(key, place->column);
	add_thousandths(key, place->height);
	add_thousandths(key, place->base_top);
	add_thousandths(key, place->link.x);
	add_thousandths(key, place->link.y);
	for (unsigned i = 0; i < place->foot_count; i++) {
		add_thousandths(key, place->feet[i].x);
		add_thousandths(key, place->feet[i].y);
	}
}

static guint hash_key(gconstpointer key)
{
	return g_string_hash(key);
}

static gboolean equal_keys(gconstpointer a, gconstpointer b)
{
	return g_string_equal(a, b);
}

static void destroy_key(gpointer key)
{
	g_string_free(key, TRUE);
}

static GString *copy_key(const GString *key)
{
	return g_string_new_len(key->str, (gssize)key->len);
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

static void build_all(tb_glyphs *g)
{
	g_autoptr(GArray) feet = g_array_new(FALSE, FALSE, sizeof(tb_point));
	g_autoptr(GString) key = g_string_new(NULL);
	for (guint32 i = 0; i < g->chart->placed->len; i++) {
		tb_glyph_place place = place_of(g->chart, i, g->holdings[i], feet);
		set_key(key, &place);
		built *b = g_hash_table_lookup(g->by_place, key);
		if (b == NULL) {
			b = g_new0(built, 1);
			b->number = g_hash_table_size(g->by_place);
			b->parts = tb_glyph_build(&place);
			measure(b);
			g_hash_table_insert(g->by_place, copy_key(key), b);
		}
		g->glyphs[i] = b;
	}
}

static void set_broken_key(GString *key, const tb_glyphs *g, guint32 index)
{
	const tb_placed *own = &g_array_index(g->chart->placed, tb_placed, index);
	g_string_truncate(key, 0);
	add_to_key(key, (gint32)g->glyphs[index]->number);
	add_thousandths(key, own->angle * 10);
	for (guint i = 0; i < g->crossings[index]->len; i++) {
		const tb_crossing *c = &g_array_index(g->crossings[index], tb_crossing, i);
		const tb_placed *other = &g_array_index(g->chart->placed, tb_placed, c->other);
		add_to_key(key, (gint32)c->kind);
		add_to_key(key, (gint32)g->glyphs[c->other]->number);
		add_thousandths(key, other->top.x - own->top.x);
		add_thousandths(key, other->top.y - own->top.y);
		add_thousandths(key, other->angle * 10);
	}
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

/* By kind of crossing: what of the other stitch cuts, and what of a stitch's own is cut, as bits of part kinds. */
#define BIT(kind) (1u << TB_PART_##kind)
static const struct {
	unsigned over, under;
	double bridge;
} cuts[TB_CROSSING_KINDS] = {
	[TB_CROSS_UNDER_FRONT] = {BIT(LEG), BIT(LEG) | BIT(HEAD) | BIT(BAR) | BIT(BODY) | BIT(ARC), 0},
	[TB_CROSS_HELD_FRONT] = {BIT(LEG), BIT(HEAD) | BIT(BAR) | BIT(BODY) | BIT(ARC), 0},
	[TB_CROSS_UNDER_HEAD] = {BIT(HEAD), BIT(LEG), 0},
	[TB_CROSS_UNDER_LEG] = {BIT(LEG), BIT(LEG), BRIDGE},
};

/* The lines that cut INDEX in the way KIND says, around its own origin. */
static GArray *outline_of(const tb_glyphs *g, guint32 index, tb_crossing_kind kind)
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
			if (cuts[kind].over & 1u << part->kind)
				tb_outline_add_path(outline, part->path, dx, dy, placed->angle - own->angle);
		}
	}
	return outline;
}

GArray *tb_glyphs_parts(const tb_glyphs *g, guint32 index)
{
	const tb_chart *chart = g->chart;
	GArray *parts = g_array_ref(g->glyphs[index]->parts);
	double unit = tb_need_unit(chart->column, chart->chain);
	for (int kind = 0; g->crossings[index] != NULL && kind < TB_CROSSING_KINDS; kind++) {
		g_autoptr(GArray) outline = outline_of(g, index, (tb_crossing_kind)kind);
		if (outline->len == 0)
			continue;
		GArray *broken = tb_parts_break(parts, outline, tb_glyphs_clear(unit, chart->pen), tb_glyphs_crumb(unit),
			cuts[kind].bridge * unit, cuts[kind].under);
		g_array_unref(parts);
		parts = broken;
	}
	return parts;
}

static guint32 draw_shape(tb_glyphs *g, guint32 index)
{
	g_autoptr(GArray) parts = tb_glyphs_parts(g, index);
	return tb_drawing_add_shape(g->drawing, tb_glyphs_shape(parts, g->chart->pen));
}

/* The number of the shape of INDEX; equal ones are drawn once. KEY is room to work in. */
static guint32 find_shape(tb_glyphs *g, guint32 index, GString *key)
{
	if (g->crossings[index] == NULL) {
		built *b = g->glyphs[index];
		if (b->shape == 0)
			b->shape = draw_shape(g, index) + 1;
		return b->shape - 1;
	}
	set_broken_key(key, g, index);
	guint32 number = GPOINTER_TO_UINT(g_hash_table_lookup(g->shapes, key));
	if (number == 0) {
		number = draw_shape(g, index) + 1;
		g_hash_table_insert(g->shapes, copy_key(key), GUINT_TO_POINTER(number));
	}
	return number - 1;
}

tb_glyphs *tb_glyphs_build(const tb_chart *chart)
{
	guint32 count = chart->placed->len;
	tb_glyphs *g = g_new0(tb_glyphs, 1);
	g->chart = chart;
	g->by_place = g_hash_table_new_full(hash_key, equal_keys, destroy_key, built_destroy);
	g->shapes = g_hash_table_new_full(hash_key, equal_keys, destroy_key, NULL);
	g->glyphs = g_new0(built *, count + 1);
	g->holdings = tb_crossings_find_held(chart);
	build_all(g);
	g_autofree tb_reach *reaches = g_new(tb_reach, count + 1);
	for (guint32 i = 0; i < count; i++)
		reaches[i] = (tb_reach){g->glyphs[i]->left, g->glyphs[i]->right};
	g->crossings = tb_crossings_find(chart, reaches);
	return g;
}

void tb_glyphs_free(tb_glyphs *g)
{
	if (g == NULL)
		return;
	for (guint32 i = 0; i < g->chart->placed->len; i++)
		if (g->crossings[i] != NULL)
			g_array_unref(g->crossings[i]);
	g_free(g->crossings);
	g_free(g->holdings);
	g_free(g->glyphs);
	g_hash_table_unref(g->shapes);
	g_hash_table_unref(g->by_place);
	g_free(g);
}

guint32 *tb_glyphs_draw(tb_glyphs *g, tb_drawing *drawing)
{
	guint32 count = g->chart->placed->len;
	guint32 *shapes = g_new(guint32, count + 1);
	g_autoptr(GString) key = g_string_new(NULL);
	g->drawing = drawing;
	for (guint32 i = 0; i < count; i++)
		shapes[i] = find_shape(g, i, key);
	return shapes;
}

void tb_glyphs_add_outline(const tb_glyphs *g, guint32 placed, GArray *outline)
{
	const tb_placed *p = &g_array_index(g->chart->placed, tb_placed, placed);
	tb_outline_add(outline, g->glyphs[placed]->parts, p->top.x, p->top.y, p->angle);
}
