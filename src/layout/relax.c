/* The energy of a fabric at rest, its sweeps, and the order in which rows are laid. */
#include "layout/relax.h"

#include "layout/envelope.h"

#include <math.h>
#include <string.h>

/* Weights and bounds. Lengths are in columns. */
#define OWN_WEIGHT 0.3     /* a stem is square to its own row */
#define CHORD_WEIGHT 0.8   /* a row is square to the stems on it */
#define CORE_WEIGHT 1.5    /* solid rounds are circles */
#define SIDE_WEIGHT 6    /* sides of a polygon are straight */
#define WAVE_WEIGHT 0.25   /* a foundation that bends bends evenly */
#define MOST_OPEN 0.2      /* of a round, that is chains, where its stitches part all the same */
#define LOW_WAVE 1.3       /* so many times as high low stitches of a wave stand */
#define LACE_HEIGHT 0.82   /* of the tallest of its row, that an sc on an arc stands with its arc */
#define STILL 1e-4         /* what nothing holds stays where it is */
#define MOST_SWEEPS 120
#define LEAST_SWEEPS 6
#define ENOUGH 1e-3        /* root mean square of what a sweep moves, in columns */
#define ENOUGH_LAID 1e-3   /* … while rows are laid */
#define ROWS_AT_ONCE 2     /* plain rows that are laid before they are settled */
#define WINDOW 3           /* rows that move while a row is laid */
#define NARROW_SWEEPS 7    /* fans grow from 0.35 to their width */
#define NARROW_LEAN 0.4    /* what leans less, in radians, is laid at once */
#define WIDE_SWEEPS 16
#define MEMORY 5           /* sweeps that the next is foretold from */
#define MOST_STEP 0.8
#define LEAST_PERIOD 0.9   /* of a level piece, in foundation chains */
#define MOST_PERIOD 1.6
#define LEAST_CORNERS 3    /* a piece with so many has one of its sides below */
#define MOST_CORNERS 8
#define CLEAR_CORNERS 0.25 /* … and corners that nothing but the radius tells are at least so clear */
#define LEAST_WAVE 0.3     /* of one that bends */
/* So many products may be spent on the sweeps of the whole: what has no symmetry and is large is left a little early. */
#define MOST_PRODUCTS 2e7

typedef struct {
	guint32 node, base;
	tb_leg_kind kind;
	double along, height, lean;
	double length, upright, own; /* weights */
	double most;                 /* of its height */
	guint32 cell, own_cell;      /* or TB_NONE */
	bool several;                /* one of several legs */
	double part;                 /* how much of it counts in the energy */
	bool needed;                 /* … or is known for a cell or an edge that does */
	/* of this sweep */
	double complex stem, unit, bow;
	double complex leaning;      /* by how much it leans, as far as fans are open */
} leg;

typedef struct {
	guint32 from, to;   /* the chord: nodes */
	guint32 row;
	int sign;
	double weight;
	bool fixed;         /* its upright is the page's */
	double part;        /* how much of it counts in the energy */
	bool needed;        /* … or is known for a leg that does */
	double complex up;  /* of this sweep */
	double complex sum;
} cell;

typedef struct {
	guint32 edge;
	double weight;
} counted_edge;

typedef struct {
	guint32 a, b, c;
	guint32 row;
	double weight;
	bool level; /* keeps its place along the row instead of its place across */
} triple;

/* A run of nodes in a row that has one shape: a whole circle, or the side of a polygon between two corners. */
typedef struct {
	guint32 row, first, count; /* count nodes from place FIRST of the row on, around the seam */
	guint32 before, after;     /* of a side: its corners' other sides; of a circle TB_NONE */
} round_part;

typedef struct {
	tb_weave *w;
	const tb_symmetry *symmetry;
	leg *legs;
	cell *cells;
	GArray *edges;   /* counted_edge: those that count in the energy, row by row */
	GArray *triples; /* triple, row by row */
	GArray *parts;   /* round_part */
	guint32 *first_leg, *first_cell, *first_edge, *first_triple; /* by row */
	guint32 *near_nodes, *near_legs, *near_cells; /* those that are needed, row by row */
	guint32 *first_near, *first_near_leg, *first_near_cell; /* by row */
	guint32 *lowest_base; /* by row: the lowest row that its legs stand on */
	guint32 leg_count, cell_count;
	double half_spine;
	double complex *u;   /* by origin: its place, less its periods */
	double period;
	double complex *force, *up; /* by node */
	double complex *oval_up;    /* by leg: the side of the spine it stands on */
	bool *is_core;   /* by row */
	guint32 *unknown; /* by node: its first unknown in the window that is open, or TB_NONE */
	bool spine_turn;  /* an oval's spine runs from right to left */
} relaxer;

/* What moves in a solution: the rows from LOW to HIGH. */
typedef struct {
	guint32 low, high, cells_from;
	guint32 first, end; /* their nodes */
	guint32 *unknown;   /* the relaxer's */
	guint32 count;
	bool plain;         /* x and y have the same equations */
	guint32 period;     /* the unknown that is the period, or TB_NONE */
	tb_envelope *envelope;
	double *x;
} window;

/* Lengths are far from where the plain root could overflow, and cabs takes ten times as long. */
static inline double length_of(double complex v)
{
	return sqrt(creal(v) * creal(v) + cimag(v) * cimag(v));
}

static inline double complex unit_of(double complex v)
{
	double length = length_of(v);
	return length > 1e-9 ? v * (1 / length) : I;
}

static double dot(double complex a, double complex b)
{
	return creal(a) * creal(b) + cimag(a) * cimag(b);
}

static double complex turned(double angle)
{
	return cos(angle) + I * sin(angle);
}

double complex tb_relax_out(const tb_weave *w, guint32 node)
{
	const tb_weave_node *n = tb_weave_node_at(w, node);
	if (n->side != TB_SIDE_NEITHER && w->mirror_side[n->side])
		return I;
	double complex along = 0;
	if (n->next != TB_NONE)
		along += unit_of(w->z[tb_weave_edge_at(w, n->next)->to] - w->z[node]);
	if (n->before != TB_NONE)
		along += unit_of(w->z[node] - w->z[tb_weave_edge_at(w, n->before)->from]);
	return unit_of(along) * I * tb_weave_row_at(w, n->row)->sign;
}

/* Rise of a circular arc of LENGTH over a chord. */
static double rise_of_arc(double chord, double length)
{
	double way = fmax(chord, 1e-6), ratio = CLAMP(length / way, 1, 4);
	return fmin(way * sqrt((ratio - 1) * 3 / 8) * sqrt(sqrt(ratio)), 0.55 * length);
}

double tb_relax_bow(const tb_weave *w, const tb_weave_run *run, double way)
{
	double k = run->count;
	if (run->count == 0)
		return 0;
	if (w->petals)
		return rise_of_arc(way, 0.66 * k + 0.45);
	/* The arc as it is drawn: its ends are off the heads. */
	double chord = fmax(way - 2 * fmin(0.36, 0.24 * way), 0.05);
	double length = fmax(fmax(fmin(0.62 * k, 1.2 * chord + 0.25), 0.44 * k), chord * (k > 1 ? 1.05 : 1));
	double ratio = fmax(length / chord, 1);
	return fmin(chord * sqrt((ratio - 1) * 3 / 8) * sqrt(sqrt(ratio)), 0.48 * length) + 0.06;
}

/* ---- what is in the energy ---- */

/*
 * Of a piece that turns into itself one part stands for all, and of one that is its own mirror image one half. What
 * belongs to OWNER, and its mirror image to IMAGE, counts wholly, by half where it is its own image, or not at all.
 */
static double part_of(const relaxer *x, guint32 owner, guint32 image)
{
	const tb_weave_row *row = tb_weave_row_at(x->w, tb_weave_node_at(x->w, owner)->row);
	guint32 part = row->count / x->symmetry->turns, place = owner - row->first;
	if (place >= part)
		return 0;
	if (x->symmetry->image == NULL || image < row->first || image >= row->first + row->count)
		return 1;
	guint32 mirrored = (image - row->first) % part;
	return place < mirrored ? 1 : place == mirrored ? 0.5 : 0;
}

static guint32 image_of(const relaxer *x, guint32 node)
{
	return x->symmetry->image != NULL ? x->symmetry->image[node] : node;
}

static double part_of_node(const relaxer *x, guint32 node)
{
	return part_of(x, node, image_of(x, node));
}

/* Of what lies between two nodes and belongs to the first: its image belongs to the second's. */
static double part_of_way(const relaxer *x, guint32 from, guint32 to)
{
	return part_of(x, from, image_of(x, to));
}

static bool is_mirror_edge(const tb_weave *w, const tb_weave_node *node)
{
	return node->side != TB_SIDE_NEITHER && w->mirror_side[node->side];
}

static void weigh_leg(const relaxer *x, leg *l)
{
	const tb_weave *w = x->w;
	const tb_weave_node *node = tb_weave_node_at(w, l->node);
	l->length = 1;
	l->upright = 0.5;
	if (l->kind == TB_LEG_RING)
		l->upright = w->rounds ? 0.02 : 0.06;
	else if (node->side != TB_SIDE_NEITHER && !w->mirror_side[node->side])
		l->upright = node->group_size > 1 ? 0.15 : 0.3;
	if (l->several) {
		l->length = 0.5 / sqrt(node->leg_count);
		l->upright = 0.3 / node->leg_count;
	}
	if (node->height < 1) {
		l->length = 1.6;
		l->upright = 0.8;
	}
	if (x->is_core[node->row] && l->kind != TB_LEG_RING) {
		l->length = 1;
		l->upright = 0.25;
	}
	if (is_mirror_edge(w, node))
		l->upright = node->row > 1 || w->side_weight[node->side] > 1 ? w->side_weight[node->side] : 0.3;
	l->own = !l->several && l->kind != TB_LEG_RING ? OWN_WEIGHT : 0;
	l->most = node->height > 1 || l->kind != TB_LEG_RUN ? 1.06 : w->rounds ? 1.5 : 1.4;
}

/* The chord of a node's cell: from the node before it to the one after, on one side only beside a valley. */
static void chord_of_node(const tb_weave *w, guint32 node, cell *c)
{
	const tb_weave_node *n = tb_weave_node_at(w, node);
	const tb_weave_edge *before = n->before != TB_NONE ? tb_weave_edge_at(w, n->before) : NULL;
	const tb_weave_edge *next = n->next != TB_NONE ? tb_weave_edge_at(w, n->next) : NULL;
	c->from = before != NULL ? before->from : node;
	c->to = next != NULL ? next->to : node;
	bool valley_before = before != NULL && before->valley && !n->petal;
	bool valley_after = next != NULL && next->valley && !n->petal;
	/* Beside chains a group's own row counts. */
	if (w->level && n->row > 0 && before != NULL && next != NULL) {
		if (before->chains > 0 && !before->same && next->same) {
			valley_before = true;
			valley_after = false;
		}
		if (next->chains > 0 && !next->same && before->same) {
			valley_before = false;
			valley_after = true;
		}
	}
	if (valley_before && !valley_after && c->to != node)
		c->from = node;
	if (valley_after && !valley_before && c->from != node)
		c->to = node;
	double chains = 0;
	if (w->level && n->row > 0) {
		chains += before != NULL && c->from != node ? before->chains : 0;
		chains += next != NULL && c->to != node ? next->chains : 0;
	}
	c->weight = CHORD_WEIGHT / (1 + chains);
}

static void init_cell(const relaxer *x, cell *c, bool is_run, guint32 base)
{
	const tb_weave *w = x->w;
	*c = (cell){0};
	if (is_run) {
		const tb_weave_run *run = tb_weave_run_at(w, base);
		c->from = run->before;
		c->to = run->after;
		c->row = run->row;
		c->weight = CHORD_WEIGHT;
		c->part = run->after != TB_NONE ? part_of_way(x, run->before, run->after) : 0;
	} else {
		chord_of_node(w, base, c);
		const tb_weave_node *node = tb_weave_node_at(w, base);
		c->row = node->row;
		c->fixed = (c->row == 0 && !w->bends && !w->rounds) || is_mirror_edge(w, node);
		c->part = part_of_node(x, base);
	}
	if (w->oval && c->row == 0)
		c->weight = 1e-6;
	c->sign = tb_weave_row_at(w, c->row)->sign;
}

/* Cells are numbered nodes first, then runs; only those that legs stand on or that stand on one leg are kept. */
static void find_cells(relaxer *x)
{
	const tb_weave *w = x->w;
	guint32 nodes = w->nodes->len, runs = w->runs->len;
	g_autofree bool *has = g_new0(bool, nodes + runs + 1);
	for (guint32 k = 0; k < x->leg_count; k++) {
		const leg *l = &x->legs[k];
		if (l->kind != TB_LEG_RING && !l->several)
			has[l->kind == TB_LEG_NODE ? l->base : nodes + l->base] = true;
		if (l->own > 0)
			has[l->node] = true;
	}
	/* Row by row. */
	g_autofree guint32 *number = g_new(guint32, nodes + runs + 1);
	x->cells = g_new(cell, nodes + runs + 1);
	x->first_cell = g_new(guint32, w->rows->len + 2);
	g_autofree guint32 *runs_in = g_new0(guint32, w->rows->len + 2);
	g_autofree guint32 *run_list = g_new(guint32, runs + 1);
	for (guint32 q = 0; q < runs; q++)
		runs_in[tb_weave_run_at(w, q)->row + 1]++;
	for (guint32 r = 0; r < w->rows->len; r++)
		runs_in[r + 1] += runs_in[r];
	g_autofree guint32 *at = g_memdup2(runs_in, (w->rows->len + 1) * sizeof(guint32));
	for (guint32 q = 0; q < runs; q++)
		run_list[at[tb_weave_run_at(w, q)->row]++] = q;
	for (guint32 r = 0; r < w->rows->len; r++) {
		const tb_weave_row *row = tb_weave_row_at(w, r);
		x->first_cell[r] = x->cell_count;
		for (guint32 i = row->first; i < row->first + row->count; i++) {
			number[i] = x->cell_count;
			if (has[i])
				init_cell(x, &x->cells[x->cell_count++], false, i);
		}
		for (guint32 k = runs_in[r]; k < runs_in[r + 1]; k++) {
			number[nodes + run_list[k]] = x->cell_count;
			if (has[nodes + run_list[k]])
				init_cell(x, &x->cells[x->cell_count++], true, run_list[k]);
		}
	}
	x->first_cell[w->rows->len] = x->cell_count;
	for (guint32 k = 0; k < x->leg_count; k++) {
		leg *l = &x->legs[k];
		l->cell = l->kind != TB_LEG_RING && !l->several ?
			number[l->kind == TB_LEG_NODE ? l->base : nodes + l->base] : TB_NONE;
		l->own_cell = l->own > 0 ? number[l->node] : TB_NONE;
	}
}

static void find_legs(relaxer *x)
{
	const tb_weave *w = x->w;
	x->legs = g_new(leg, w->legs->len + 1);
	x->first_leg = g_new(guint32, w->rows->len + 2);
	x->lowest_base = g_new(guint32, w->rows->len + 1);
	for (guint32 r = 0; r < w->rows->len; r++) {
		const tb_weave_row *row = tb_weave_row_at(w, r);
		x->first_leg[r] = x->leg_count;
		x->lowest_base[r] = r;
		for (guint32 i = row->first; i < row->first + row->count; i++) {
			const tb_weave_node *node = tb_weave_node_at(w, i);
			for (guint32 k = 0; k < node->leg_count; k++) {
				const tb_weave_leg *own = tb_weave_leg_at(w, node->first_leg + k);
				leg *l = &x->legs[x->leg_count++];
				*l = (leg){.node = i, .base = own->base, .kind = own->kind, .along = own->along,
					.height = own->height, .lean = node->lean, .several = node->leg_count > 1,
					.part = part_of_node(x, i)};
				weigh_leg(x, l);
				if (l->kind != TB_LEG_RING)
					x->lowest_base[r] = MIN(x->lowest_base[r], tb_weave_base_row(w, own));
			}
		}
	}
	x->first_leg[w->rows->len] = x->leg_count;
}

/* The edges that count, row by row, and the triples of neighbours that are even. */
static void find_rows(relaxer *x)
{
	const tb_weave *w = x->w;
	x->edges = g_array_new(FALSE, FALSE, sizeof(counted_edge));
	x->triples = g_array_new(FALSE, FALSE, sizeof(triple));
	x->first_edge = g_new(guint32, w->rows->len + 2);
	x->first_triple = g_new(guint32, w->rows->len + 2);
	g_autofree guint32 *order = g_new(guint32, w->edges->len + 1);
	g_autofree guint32 *from = g_new0(guint32, w->rows->len + 2);
	for (guint32 k = 0; k < w->edges->len; k++)
		from[tb_weave_edge_at(w, k)->row + 1]++;
	for (guint32 r = 0; r < w->rows->len; r++)
		from[r + 1] += from[r];
	g_autofree guint32 *at = g_memdup2(from, (w->rows->len + 1) * sizeof(guint32));
	for (guint32 k = 0; k < w->edges->len; k++)
		order[at[tb_weave_edge_at(w, k)->row]++] = k;
	for (guint32 r = 0; r < w->rows->len; r++) {
		x->first_edge[r] = x->edges->len;
		x->first_triple[r] = x->triples->len;
		for (guint32 k = from[r]; k < from[r + 1]; k++) {
			const tb_weave_edge *e = tb_weave_edge_at(w, order[k]);
			double part = part_of_way(x, e->from, e->to);
			counted_edge counted = {order[k], e->weight * part};
			if (part > 0)
				g_array_append_val(x->edges, counted);
			guint32 next = tb_weave_node_at(w, e->to)->next;
			if (r == 0 || next == TB_NONE || tb_weave_node_at(w, e->from)->next != order[k])
				continue;
			const tb_weave_edge *f = tb_weave_edge_at(w, next);
			const tb_weave_node *a = tb_weave_node_at(w, e->from), *b = tb_weave_node_at(w, e->to),
				*c = tb_weave_node_at(w, f->to);
			part = part_of_way(x, e->from, f->to);
			triple t = {.a = e->from, .b = e->to, .c = f->to, .row = r, .weight = 0.5};
			if (e->chains > 0 || f->chains > 0) {
				if (e->chains == 0 || f->chains == 0 || e->same || f->same)
					continue;
				t.level = true;
				bool like = a->token == b->token && b->token == c->token && a->leg_count > 0 && b->leg_count > 0 &&
					c->leg_count > 0 && tb_weave_leg_at(w, a->first_leg)->kind == tb_weave_leg_at(w, b->first_leg)->kind &&
					tb_weave_leg_at(w, b->first_leg)->kind == tb_weave_leg_at(w, c->first_leg)->kind;
				t.weight = w->level && !like ? 0.05 : e->chains == f->chains ? 0.3 : 0.15;
			} else if (x->is_core[r]) {
				t.weight = 1.5;
			} else if (e->valley || f->valley || e->same || f->same || fabs(a->height - b->height) > 0.1 ||
				fabs(c->height - b->height) > 0.1) {
				continue;
			}
			t.weight *= part;
			if (part > 0)
				g_array_append_val(x->triples, t);
		}
	}
	x->first_edge[w->rows->len] = x->edges->len;
	x->first_triple[w->rows->len] = x->triples->len;
}

static bool is_level_round(const tb_weave *w, const tb_weave_row *row)
{
	for (guint32 i = row->first; i < row->first + row->count; i++)
		if (fabs(tb_weave_node_at(w, i)->height - tb_weave_node_at(w, row->first)->height) > 0.1)
			return false;
	return true;
}

static bool has_chains(const tb_weave *w, const tb_weave_row *row)
{
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		guint32 next = tb_weave_node_at(w, i)->next;
		if (next != TB_NONE && tb_weave_edge_at(w, next)->chains > 0)
			return true;
	}
	return false;
}

/* The first rounds, as long as they are solid and of one height, keep one distance from their middle. */
static void find_core(relaxer *x)
{
	const tb_weave *w = x->w;
	x->is_core = g_new0(bool, w->rows->len + 1);
	if (!w->rounds)
		return;
	guint32 largest = 1, turns = x->symmetry->turns;
	bool open = false;
	for (guint32 k = 0; k < w->groups->len; k++)
		if (tb_weave_group_at(w, k)->row > 1)
			largest = MAX(largest, tb_weave_group_at(w, k)->count);
	for (guint32 k = 0; k < w->edges->len; k++)
		open = open || tb_weave_edge_at(w, k)->chains > 0;
	/* Solid squares and hexagons keep their corners. */
	if (largest > 2 && turns >= 3 && turns <= 8 && !w->oval && !open)
		return;
	for (guint32 r = 1; r < w->rows->len; r++) {
		const tb_weave_row *row = tb_weave_row_at(w, r);
		if (row->count <= 5 || (!row->closed && !w->spiral) || !is_level_round(w, row) || has_chains(w, row))
			return;
		x->is_core[r] = true;
		round_part part = {.row = r, .count = row->count, .before = TB_NONE, .after = TB_NONE};
		g_array_append_val(x->parts, part);
	}
}

/* Every round has as many corners as it turns, chains inside one place, and is of one height: its sides are straight. */
static void find_polygon(relaxer *x)
{
	const tb_weave *w = x->w;
	guint32 turns = x->symmetry->turns, from = x->parts->len;
	if (!w->rounds || turns < 3 || turns > 8)
		return;
	for (guint32 r = 1; r < w->rows->len; r++) {
		const tb_weave_row *row = tb_weave_row_at(w, r);
		guint32 corners = 0;
		g_autofree guint32 *at = g_new(guint32, row->count + 1);
		for (guint32 k = 0; k < row->count; k++) {
			guint32 next = tb_weave_node_at(w, row->first + k)->next;
			const tb_weave_edge *e = next != TB_NONE ? tb_weave_edge_at(w, next) : NULL;
			if (e != NULL && e->chains > 0 && (r > 1 ? e->same : e->chains > 1 || turns == row->count))
				at[corners++] = k;
		}
		if (corners != turns || !is_level_round(w, row)) {
			g_array_set_size(x->parts, from);
			return;
		}
		for (guint32 k = 0; k < corners; k++) {
			guint32 next = k + 1 < corners ? at[k + 1] : at[0] + row->count;
			round_part part = {.row = r, .first = (at[k] + 1) % row->count, .count = next - at[k],
				.before = row->first + at[k], .after = row->first + (next + 1) % row->count};
			/* Of alike sides one stands for all. */
			if (k == 0)
				g_array_append_val(x->parts, part);
		}
	}
}

/* ---- one sweep ---- */

static guint32 part_node(const relaxer *x, const round_part *part, guint32 k)
{
	const tb_weave_row *row = tb_weave_row_at(x->w, part->row);
	return row->first + (part->first + k) % row->count;
}

/* A side is whole, with both its halves. */
static double side_part(const relaxer *x)
{
	return x->symmetry->image != NULL ? 0.5 : 1;
}

/* Of a circle, one part stands for all; a side is whole. */
static guint32 part_count(const relaxer *x, const round_part *part)
{
	return part->before == TB_NONE ? part->count / x->symmetry->turns : part->count;
}

/* What has to be known of a piece of which one part stands for all, row by row. */
static void find_needed(relaxer *x)
{
	const tb_weave *w = x->w;
	guint32 rows = w->rows->len;
	g_autofree bool *node = g_new0(bool, w->nodes->len + 1);
	for (guint k = 0; k < x->edges->len; k++) {
		const tb_weave_edge *e = tb_weave_edge_at(w, g_array_index(x->edges, counted_edge, k).edge);
		node[e->from] = node[e->to] = true;
	}
	for (guint32 k = 0; k < x->cell_count; k++)
		x->cells[k].needed = x->cells[k].part > 0;
	for (guint32 k = 0; k < x->leg_count; k++) {
		const leg *l = &x->legs[k];
		if (l->part > 0 && l->cell != TB_NONE)
			x->cells[l->cell].needed = true;
		if (l->part > 0 && l->own_cell != TB_NONE)
			x->cells[l->own_cell].needed = true;
	}
	for (guint32 k = 0; k < x->leg_count; k++) {
		leg *l = &x->legs[k];
		l->needed = l->part > 0 || node[l->node] || (l->cell != TB_NONE && x->cells[l->cell].needed) ||
			(l->own_cell != TB_NONE && x->cells[l->own_cell].needed);
	}
	for (guint32 k = 0; k < x->leg_count; k++) {
		const leg *l = &x->legs[k];
		if (!l->needed)
			continue;
		node[l->node] = true;
		if (l->cell != TB_NONE)
			x->cells[l->cell].needed = true;
		if (l->own_cell != TB_NONE)
			x->cells[l->own_cell].needed = true;
		if (l->kind == TB_LEG_RUN) {
			node[tb_weave_run_at(w, l->base)->before] = node[tb_weave_run_at(w, l->base)->after] = true;
		} else if (l->kind == TB_LEG_NODE) {
			const tb_weave_node *base = tb_weave_node_at(w, l->base);
			node[l->base] = true;
			if (base->next != TB_NONE)
				node[tb_weave_edge_at(w, base->next)->to] = true;
			if (base->before != TB_NONE)
				node[tb_weave_edge_at(w, base->before)->from] = true;
		}
	}
	for (guint32 k = 0; k < x->cell_count; k++)
		if (x->cells[k].needed)
			node[x->cells[k].from] = node[x->cells[k].to] = true;
	for (guint k = 0; k < x->triples->len; k++) {
		const triple *t = &g_array_index(x->triples, triple, k);
		node[t->a] = node[t->b] = node[t->c] = true;
	}
	for (guint k = 0; k < x->parts->len; k++) {
		const round_part *part = &g_array_index(x->parts, round_part, k);
		for (guint32 i = 0; i < part_count(x, part); i++)
			node[part_node(x, part, i)] = true;
		if (part->before != TB_NONE)
			node[part->before] = node[part->after] = true;
	}
	x->near_nodes = g_new(guint32, w->nodes->len + 1);
	x->near_legs = g_new(guint32, x->leg_count + 1);
	x->near_cells = g_new(guint32, x->cell_count + 1);
	x->first_near = g_new(guint32, rows + 1);
	x->first_near_leg = g_new(guint32, rows + 1);
	x->first_near_cell = g_new(guint32, rows + 1);
	guint32 nodes = 0, legs = 0, cells = 0;
	for (guint32 r = 0; r < rows; r++) {
		const tb_weave_row *row = tb_weave_row_at(w, r);
		x->first_near[r] = nodes;
		for (guint32 i = row->first; i < row->first + row->count; i++)
			if (node[i] || x->symmetry->frames[i].origin == i)
				x->near_nodes[nodes++] = i;
		x->first_near_leg[r] = legs;
		for (guint32 k = x->first_leg[r]; k < x->first_leg[r + 1]; k++)
			if (x->legs[k].needed)
				x->near_legs[legs++] = k;
		x->first_near_cell[r] = cells;
		for (guint32 k = x->first_cell[r]; k < x->first_cell[r + 1]; k++)
			if (x->cells[k].needed)
				x->near_cells[cells++] = k;
	}
	x->first_near[rows] = nodes;
	x->first_near_leg[rows] = legs;
	x->first_near_cell[rows] = cells;
}

static void set_from_origin(const relaxer *x, guint32 v)
{
	const tb_frame *f = &x->symmetry->frames[v];
	double complex u = x->u[f->origin];
	x->w->z[v] = f->turn * (f->mirrored ? conj(u) : u) + f->shift * x->period;
}

/* The places of what is needed in the rows LOW to HIGH. */
static void spread_places(const relaxer *x, guint32 low, guint32 high)
{
	for (guint32 k = x->first_near[low]; k < x->first_near[high + 1]; k++)
		set_from_origin(x, x->near_nodes[k]);
}

static double complex foot_of(const relaxer *x, const leg *l, double complex *bow)
{
	const tb_weave *w = x->w;
	*bow = 0;
	if (l->kind == TB_LEG_RING)
		return 0;
	if (l->kind == TB_LEG_NODE)
		return w->z[l->base];
	const tb_weave_run *run = tb_weave_run_at(w, l->base);
	double complex a = w->z[run->before], b = w->z[run->after], way = b - a;
	double complex out = unit_of(way) * I * tb_weave_row_at(w, run->row)->sign;
	*bow = out * tb_relax_bow(w, run, length_of(way)) * 4 * l->along * (1 - l->along);
	return a + way * l->along + *bow;
}

/* The uprights of legs and cells, from where everything is. */
static void find_frames(relaxer *x, const window *win)
{
	const tb_weave *w = x->w;
	guint32 low = MIN(win->cells_from + 1, win->low);
	for (guint32 k = x->first_near[win->cells_from]; k < x->first_near[win->high + 1]; k++)
		x->up[x->near_nodes[k]] = 0;
	for (guint32 k = x->first_near_cell[win->cells_from]; k < x->first_near_cell[win->high + 1]; k++) {
		cell *c = &x->cells[x->near_cells[k]];
		double complex chord = w->z[c->to] - w->z[c->from];
		c->sum = unit_of(chord) * I * c->sign * c->weight * fmin(2, length_of(chord));
		if (c->from == c->to)
			c->sum = 0;
	}
	for (guint32 k = x->first_near_leg[low]; k < x->first_near_leg[win->high + 1]; k++) {
		leg *l = &x->legs[x->near_legs[k]];
		l->stem = w->z[l->node] - foot_of(x, l, &l->bow);
		l->unit = unit_of(l->stem);
		x->up[l->node] += l->unit;
		if (l->cell != TB_NONE)
			x->cells[l->cell].sum += l->upright * l->height * l->unit * conj(l->leaning);
		if (l->own_cell != TB_NONE)
			x->cells[l->own_cell].sum += l->own * l->height * l->unit;
	}
	for (guint32 k = x->first_near_cell[win->cells_from]; k < x->first_near_cell[win->high + 1]; k++) {
		cell *c = &x->cells[x->near_cells[k]];
		c->up = c->fixed ? I : unit_of(c->sum);
	}
}

/* Where a leg's stem should reach from its foot. */
static double complex stem_target(const relaxer *x, const leg *l)
{
	const tb_weave *w = x->w;
	const tb_weave_node *node = tb_weave_node_at(w, l->node);
	double height = l->height * node->stretch;
	if (node->lace > 0 && l->kind == TB_LEG_RUN) {
		const tb_weave_run *run = tb_weave_run_at(w, l->base);
		double bow = tb_relax_bow(w, run, length_of(w->z[run->after] - w->z[run->before]));
		height = fmax(0.75, node->lace * LACE_HEIGHT - bow) * node->stretch;
	}
	double length = CLAMP(length_of(l->stem), height * 0.97, height * l->most);
	double complex target;
	if (l->several) {
		length = fmax(length, height);
		target = l->unit * length;
	} else {
		double complex out;
		if (l->kind == TB_LEG_RING)
			out = I;
		else if (w->oval && tb_weave_base_row(w, tb_weave_leg_at(w, node->first_leg)) == 0)
			out = x->oval_up[l - x->legs];
		else
			out = x->cells[l->cell].up;
		double complex own = l->own_cell != TB_NONE ? x->cells[l->own_cell].up : l->unit;
		target = (l->length * l->unit * length + l->upright * out * l->leaning * height +
			l->own * own * height) / (l->length + l->upright + l->own);
	}
	/* An average of directions is shorter than each: turned, not shortened. */
	if (w->level && length_of(target) > 0.3 * height)
		target = unit_of(target) * fmax(length_of(target), length);
	return target;
}

static double complex edge_target(const relaxer *x, const tb_weave_edge *e, double complex way)
{
	double length = CLAMP(length_of(way), e->least, e->most);
	length += e->pull * (e->rest - length);
	double complex along = unit_of(way);
	double complex up = e->row > 0 ? x->up[e->from] + x->up[e->to] : 0;
	if (length_of(up) < 1e-9)
		return along * length;
	/* A row never folds: it goes on square to the stems on it. */
	double complex expected = unit_of(up) * -I * tb_weave_row_at(x->w, e->row)->sign;
	if (dot(along, expected) < 0.3)
		return unit_of(along + 1.2 * expected) * fmax(e->least, fmin(length, e->most));
	return along * length;
}

static void pull(relaxer *x, guint32 node, double complex force)
{
	x->force[node] += force;
}

static void pull_edges(relaxer *x, const window *win)
{
	const double complex *z = x->w->z;
	for (guint32 k = x->first_edge[win->low]; k < x->first_edge[win->high + 1]; k++) {
		const counted_edge *counted = &g_array_index(x->edges, counted_edge, k);
		const tb_weave_edge *e = tb_weave_edge_at(x->w, counted->edge);
		double complex along = z[e->to] - z[e->from];
		double complex force = counted->weight * (edge_target(x, e, along) - along);
		pull(x, e->to, force);
		pull(x, e->from, -force);
	}
}

static void pull_legs(relaxer *x, const window *win)
{
	for (guint32 k = x->first_near_leg[win->low]; k < x->first_near_leg[win->high + 1]; k++) {
		const leg *l = &x->legs[x->near_legs[k]];
		if (l->part == 0)
			continue;
		double complex force = l->part * (l->length + l->upright + l->own) * (stem_target(x, l) - l->stem);
		pull(x, l->node, force);
		if (l->kind == TB_LEG_NODE) {
			pull(x, l->base, -force);
		} else if (l->kind == TB_LEG_RUN) {
			const tb_weave_run *run = tb_weave_run_at(x->w, l->base);
			pull(x, run->before, -force * (1 - l->along));
			pull(x, run->after, -force * l->along);
		}
	}
}

static void pull_cells(relaxer *x, const window *win)
{
	const double complex *z = x->w->z;
	for (guint32 k = x->first_near_cell[win->cells_from]; k < x->first_near_cell[win->high + 1]; k++) {
		const cell *c = &x->cells[x->near_cells[k]];
		if (c->part == 0 || c->from == c->to)
			continue;
		double complex chord = z[c->to] - z[c->from];
		double complex target = chord - c->up * dot(chord, c->up);
		if (x->w->level && length_of(target) > 0.3 * length_of(chord))
			target = unit_of(target) * length_of(chord);
		double complex force = c->part * c->weight * (target - chord);
		pull(x, c->to, force);
		pull(x, c->from, -force);
	}
}

static void pull_triples(relaxer *x, const window *win)
{
	const double complex *z = x->w->z;
	for (guint32 k = x->first_triple[win->low]; k < x->first_triple[win->high + 1]; k++) {
		const triple *t = &g_array_index(x->triples, triple, k);
		double complex off = z[t->b] - (z[t->a] + z[t->c]) / 2, along = unit_of(z[t->c] - z[t->a]);
		double complex kept = t->level ? along : along * I;
		double complex force = t->weight * (kept * dot(off, kept) - off);
		pull(x, t->b, force);
		pull(x, t->a, -force / 2);
		pull(x, t->c, -force / 2);
	}
	/* A foundation that bends bends evenly. */
	const tb_weave_row *ground = tb_weave_row_at(x->w, 0);
	for (guint32 i = ground->first + 1; x->w->bends && win->low == 0 && i + 1 < ground->first + ground->count; i++) {
		double complex force = -WAVE_WEIGHT * part_of_node(x, i) * (z[i] - (z[i - 1] + z[i + 1]) / 2);
		pull(x, i, force);
		pull(x, i - 1, -force / 2);
		pull(x, i + 1, -force / 2);
	}
}

static double complex core_of(const relaxer *x, double complex z)
{
	return CLAMP(creal(z), -x->half_spine, x->half_spine);
}

static void pull_parts(relaxer *x, const window *win)
{
	const tb_weave *w = x->w;
	const double complex *z = w->z;
	for (guint k = 0; k < x->parts->len; k++) {
		const round_part *part = &g_array_index(x->parts, round_part, k);
		if (part->row < win->low || part->row > win->high)
			continue;
		guint32 count = part_count(x, part);
		double mean = 0;
		if (part->before == TB_NONE) {
			for (guint32 i = 0; i < count; i++)
				mean += length_of(z[part_node(x, part, i)] - core_of(x, z[part_node(x, part, i)])) / count;
			for (guint32 i = 0; i < count; i++) {
				guint32 v = part_node(x, part, i);
				double complex core = core_of(x, z[v]);
				/* A spiral climbs by its own height in a turn. */
				double climb = w->spiral ? tb_weave_node_at(w, v)->height * (i / (count - 1.0) - 0.5) : 0;
				pull(x, v, part_of_node(x, v) * CORE_WEIGHT * (core + unit_of(z[v] - core) * (mean + climb) - z[v]));
			}
			continue;
		}
		double complex out = unit_of(unit_of(unit_of(z[part->before]) + unit_of(z[part_node(x, part, 0)])) +
			unit_of(unit_of(z[part_node(x, part, count - 1)]) + unit_of(z[part->after])));
		for (guint32 i = 0; i < count; i++)
			mean += dot(z[part_node(x, part, i)], out) / count;
		for (guint32 i = 0; i < count; i++) {
			guint32 v = part_node(x, part, i);
			pull(x, v, side_part(x) * SIDE_WEIGHT * out * (mean - dot(z[v], out)));
		}
	}
}

/* ---- the equations ---- */

/* What of a node's place each of its unknowns is: at most two of its own, and the period. */
typedef struct {
	guint32 unknown[3];
	double complex part[3];
	unsigned count;
} share;

static share share_of(const relaxer *x, const window *win, guint32 node)
{
	share s = {.count = 0};
	const tb_frame *f = &x->symmetry->frames[node];
	const tb_frame *origin = &x->symmetry->frames[f->origin];
	guint32 own = win->unknown[f->origin];
	if (own != TB_NONE && origin->freedom == TB_FREEDOM_PLANE) {
		s.unknown[0] = own;
		s.part[0] = f->turn;
		s.unknown[1] = own + 1;
		s.part[1] = f->turn * (f->mirrored ? -I : I);
		s.count = 2;
	} else if (own != TB_NONE && origin->freedom == TB_FREEDOM_LINE) {
		s.unknown[0] = own;
		s.part[0] = f->turn * (f->mirrored ? conj(origin->line) : origin->line);
		s.count = 1;
	}
	if (win->period != TB_NONE && f->shift != 0) {
		s.unknown[s.count] = win->period;
		s.part[s.count++] = f->shift;
	}
	return s;
}

/* Adds weight * |sum of factor * z|^2. */
static void add_square(const relaxer *x, const window *win, double weight, unsigned count, const guint32 *nodes,
	const double *factors)
{
	if (win->plain) {
		for (unsigned i = 0; i < count; i++)
			for (unsigned j = 0; j <= i; j++) {
				guint32 a = win->unknown[nodes[i]], b = win->unknown[nodes[j]];
				if (a != TB_NONE && b != TB_NONE)
					tb_envelope_add(win->envelope, a, b, weight * factors[i] * factors[j] * (i != j && a == b ? 2 : 1));
			}
		return;
	}
	share shares[4];
	for (unsigned i = 0; i < count; i++)
		shares[i] = share_of(x, win, nodes[i]);
	for (unsigned i = 0; i < count; i++)
		for (unsigned j = 0; j <= i; j++)
			for (unsigned p = 0; p < shares[i].count; p++)
				for (unsigned q = 0; q < (i == j ? p + 1 : shares[j].count); q++) {
					double value = weight * factors[i] * factors[j] * dot(shares[i].part[p], shares[j].part[q]);
					bool same = shares[i].unknown[p] == shares[j].unknown[q];
					if (value != 0)
						tb_envelope_add(win->envelope, shares[i].unknown[p], shares[j].unknown[q],
							i != j && same ? 2 * value : value);
				}
}

static void add_equations(const relaxer *x, const window *win)
{
	const tb_weave *w = x->w;
	static const double apart[] = {1, -1}, even[] = {1, -0.5, -0.5}, one[] = {1};
	for (guint32 k = x->first_edge[win->low]; k < x->first_edge[win->high + 1]; k++) {
		const counted_edge *counted = &g_array_index(x->edges, counted_edge, k);
		const tb_weave_edge *e = tb_weave_edge_at(w, counted->edge);
		add_square(x, win, counted->weight, 2, (guint32[]){e->to, e->from}, apart);
	}
	for (guint32 k = x->first_near_leg[win->low]; k < x->first_near_leg[win->high + 1]; k++) {
		const leg *l = &x->legs[x->near_legs[k]];
		double weight = l->part * (l->length + l->upright + l->own);
		if (l->part == 0)
			continue;
		if (l->kind == TB_LEG_RING) {
			add_square(x, win, weight, 1, &l->node, one);
		} else if (l->kind == TB_LEG_NODE) {
			add_square(x, win, weight, 2, (guint32[]){l->node, l->base}, apart);
		} else {
			const tb_weave_run *run = tb_weave_run_at(w, l->base);
			add_square(x, win, weight, 3, (guint32[]){l->node, run->before, run->after},
				(double[]){1, l->along - 1, -l->along});
		}
	}
	for (guint32 k = x->first_near_cell[win->cells_from]; k < x->first_near_cell[win->high + 1]; k++) {
		const cell *c = &x->cells[x->near_cells[k]];
		if (c->part > 0 && c->from != c->to)
			add_square(x, win, c->part * c->weight, 2, (guint32[]){c->to, c->from}, apart);
	}
	for (guint32 k = x->first_triple[win->low]; k < x->first_triple[win->high + 1]; k++) {
		const triple *t = &g_array_index(x->triples, triple, k);
		add_square(x, win, t->weight, 3, (guint32[]){t->b, t->a, t->c}, even);
	}
	const tb_weave_row *ground = tb_weave_row_at(w, 0);
	for (guint32 i = ground->first + 1; w->bends && win->low == 0 && i + 1 < ground->first + ground->count; i++)
		if (part_of_node(x, i) > 0)
			add_square(x, win, WAVE_WEIGHT * part_of_node(x, i), 3, (guint32[]){i, i - 1, i + 1}, even);
	for (guint k = 0; k < x->parts->len; k++) {
		const round_part *part = &g_array_index(x->parts, round_part, k);
		for (guint32 i = 0; part->row >= win->low && part->row <= win->high && i < part_count(x, part); i++) {
			guint32 node = part_node(x, part, i);
			double weight = part->before == TB_NONE ? part_of_node(x, node) * CORE_WEIGHT : side_part(x) * SIDE_WEIGHT;
			if (weight > 0)
				add_square(x, win, weight, 1, &node, one);
		}
	}
	for (guint32 i = 0; i < win->count; i++)
		tb_envelope_add(win->envelope, i, i, STILL);
}

static void close_window(const relaxer *x, window *win)
{
	for (guint32 v = win->first; v < win->end; v++)
		x->unknown[v] = TB_NONE;
	g_free(win->x);
	tb_envelope_free(win->envelope);
}

/* Rows LOW to HIGH move. WITH_PERIOD: so does the period. False when nothing can be solved. */
static bool open_window(const relaxer *x, window *win, guint32 low, guint32 high, bool with_period)
{
	const tb_weave_row *last = tb_weave_row_at(x->w, high);
	*win = (window){.low = low, .high = high, .cells_from = low, .period = TB_NONE, .plain = !with_period,
		.unknown = x->unknown, .first = tb_weave_row_at(x->w, low)->first, .end = last->first + last->count};
	for (guint32 r = low; r <= high; r++)
		win->cells_from = MIN(win->cells_from, x->lowest_base[r]);
	for (guint32 v = win->first; v < win->end; v++) {
		const tb_frame *f = &x->symmetry->frames[v];
		win->plain = win->plain && f->origin == v && f->freedom != TB_FREEDOM_LINE;
	}
	for (guint32 v = win->first; v < win->end; v++) {
		const tb_frame *f = &x->symmetry->frames[v];
		if (f->origin != v || f->freedom == TB_FREEDOM_NONE)
			continue;
		win->unknown[v] = win->count;
		win->count += win->plain || f->freedom == TB_FREEDOM_LINE ? 1 : 2;
	}
	if (with_period)
		win->period = win->count++;
	win->envelope = tb_envelope_new(win->count, win->period);
	win->x = g_new(double, 2 * (gsize)win->count + 1);
	add_equations(x, win);
	return win->count > 0 && tb_envelope_factor(win->envelope);
}

/* One sweep: to where the targets ask everything to be. Returns the root mean square of what moved. */
static double sweep(relaxer *x, const window *win)
{
	const tb_weave *w = x->w;
	find_frames(x, win);
	for (guint32 k = x->first_near[win->cells_from]; k < x->first_near[win->high + 1]; k++)
		x->force[x->near_nodes[k]] = 0;
	pull_edges(x, win);
	pull_legs(x, win);
	pull_cells(x, win);
	pull_triples(x, win);
	pull_parts(x, win);
	memset(win->x, 0, 2 * win->count * sizeof(double));
	for (guint32 k = x->first_near[win->cells_from]; k < x->first_near[win->high + 1]; k++) {
		guint32 v = x->near_nodes[k];
		if (win->plain) {
			guint32 i = win->unknown[v];
			if (i == TB_NONE)
				continue;
			win->x[2 * i] += creal(x->force[v]);
			win->x[2 * i + 1] += cimag(x->force[v]);
			continue;
		}
		share s = share_of(x, win, v);
		for (unsigned p = 0; p < s.count; p++)
			win->x[s.unknown[p]] += dot(s.part[p], x->force[v]);
	}
	double low = (w->level ? LEAST_PERIOD : LEAST_WAVE) * w->period - x->period, high = MOST_PERIOD * w->period - x->period;
	tb_envelope_solve(win->envelope, win->x, win->plain ? 2 : 1, low, high);
	double sum = 0;
	for (guint32 k = x->first_near[win->low]; k < x->first_near[win->high + 1]; k++) {
		guint32 v = x->near_nodes[k], i = win->unknown[v];
		if (i == TB_NONE)
			continue;
		double complex move;
		if (win->plain)
			move = win->x[2 * i] + I * win->x[2 * i + 1];
		else if (x->symmetry->frames[v].freedom == TB_FREEDOM_LINE)
			move = win->x[i] * x->symmetry->frames[v].line;
		else
			move = win->x[i] + I * win->x[i + 1];
		if (!isfinite(creal(move)) || !isfinite(cimag(move)))
			move = 0;
		double complex to = x->u[v] + move;
		double margin = x->symmetry->margin[v];
		if (margin > 0)
			to = fmax(creal(to), margin) + I * cimag(to);
		else if (margin < 0)
			to = fmin(creal(to), margin) + I * cimag(to);
		sum += creal((to - x->u[v]) * conj(to - x->u[v]));
		x->u[v] = to;
	}
	if (win->period != TB_NONE && isfinite(win->x[win->period])) {
		sum += win->x[win->period] * win->x[win->period];
		x->period += win->x[win->period];
	}
	spread_places(x, win->low, win->high);
	return sqrt(sum / MAX(win->count, 1));
}

/* ---- the order of laying ---- */

/* Opens the fans of rows LOW to HIGH so far. False when there is none to open. */
static bool open_fans(relaxer *x, guint32 low, guint32 high, double fan)
{
	bool any = false;
	for (guint32 k = x->first_near_leg[low]; k < x->first_near_leg[high + 1]; k++) {
		leg *l = &x->legs[x->near_legs[k]];
		l->leaning = turned(l->lean * fan);
		any = any || (fabs(l->lean) > NARROW_LEAN && l->kind != TB_LEG_RING);
	}
	return any;
}

static void set_place(const relaxer *x, guint32 node, double complex place)
{
	const tb_frame *f = &x->symmetry->frames[node];
	if (f->origin != node)
		return;
	x->u[node] = place - f->shift * x->period;
	if (f->freedom == TB_FREEDOM_LINE)
		x->u[node] = f->line * dot(x->u[node], f->line);
	else if (f->freedom == TB_FREEDOM_NONE && f->shift != 0)
		x->u[node] = 0;
}

/* Foundation chains that are used lie as far from the middle on either side; the others evenly between. */
static void centre_used(const relaxer *x, double *at)
{
	const tb_weave *w = x->w;
	const tb_weave_row *ground = tb_weave_row_at(w, 0), *row = tb_weave_row_at(w, 1);
	g_autofree bool *used = g_new0(bool, ground->count + 1);
	guint32 first = TB_NONE, last = 0;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_weave_node *node = tb_weave_node_at(w, i);
		for (guint32 k = 0; k < node->leg_count; k++) {
			const tb_weave_leg *l = tb_weave_leg_at(w, node->first_leg + k);
			if (l->kind == TB_LEG_NODE && l->base < ground->count) {
				used[l->base] = true;
				first = MIN(first, l->base);
				last = MAX(last, l->base);
			}
		}
	}
	if (first == TB_NONE || first == last)
		return;
	double middle = (at[first] + at[last]) / 2;
	for (guint32 k = 0; k < ground->count; k++)
		at[k] -= middle;
}

static void lay_foundation(relaxer *x)
{
	const tb_weave *w = x->w;
	const tb_weave_row *ground = tb_weave_row_at(w, 0);
	guint32 m = ground->count;
	g_autofree double *at = g_new0(double, m + 1);
	for (guint32 k = 1; k < m; k++) {
		guint32 edge = tb_weave_node_at(w, k)->before;
		at[k] = at[k - 1] + (edge != TB_NONE ? tb_weave_edge_at(w, edge)->rest : 1);
	}
	double whole = m > 0 ? at[m - 1] : 0;
	for (guint32 k = 0; k < m; k++)
		at[k] -= whole / 2;
	if (x->symmetry->mirror && !w->bends && !w->rounds && w->rows->len > 1)
		centre_used(x, at);
	double closing = m > 0 && tb_weave_node_at(w, m - 1)->next != TB_NONE ?
		tb_weave_edge_at(w, tb_weave_node_at(w, m - 1)->next)->rest : 1;
	for (guint32 k = 0; k < m; k++) {
		double complex place = at[k] * ground->sign;
		if (w->curve != 0 && whole > 0) {
			double radius = whole / w->curve, angle = creal(place) / radius;
			place = radius * (sin(angle) + I * (cos(angle) - 1));
		}
		if (w->oval)
			place = at[k] * (x->spine_turn ? -1 : 1);
		else if (w->rounds) {
			double around = whole + closing;
			double start = x->symmetry->mirror ? -G_PI * x->symmetry->offset / m : -G_PI / 2;
			double angle = x->symmetry->mirror ? start + 2 * G_PI * k / m : start + 2 * G_PI * (at[k] - at[0]) / around;
			place = around * 0.95 / (2 * G_PI) * turned(angle);
		}
		set_place(x, k, place);
	}
	spread_places(x, 0, 0);
}

/* The side of an oval's spine that each leg on it stands on: first below, then above; the ends stand outward. */
static void find_oval_sides(relaxer *x)
{
	const tb_weave *w = x->w;
	guint32 m = tb_weave_row_at(w, 0)->count;
	g_autofree bool *seen = g_new0(bool, m + 1);
	x->oval_up = g_new0(double complex, x->leg_count + 1);
	for (guint32 k = 0; k < x->leg_count; k++) {
		leg *l = &x->legs[k];
		x->oval_up[k] = -I;
		if (l->kind != TB_LEG_NODE || l->base >= m)
			continue;
		if (l->base == 0 || l->base == m - 1) {
			x->oval_up[k] = (l->base == 0) != x->spine_turn ? -1 : 1;
			l->lean = tb_weave_node_at(w, l->node)->end_lean;
		} else {
			x->oval_up[k] = seen[l->base] ? I : -I;
		}
		seen[l->base] = true;
	}
}

/* The first places of a row: over its bases, leaning a third of what its fans will. */
static void lay_row(relaxer *x, guint32 r)
{
	const tb_weave *w = x->w;
	const tb_weave_row *row = tb_weave_row_at(w, r);
	double complex before = 0;
	bool any = false;
	guint32 k = x->first_leg[r];
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_weave_node *node = tb_weave_node_at(w, i);
		double complex foot = 0, up = 0;
		guint32 legs = 0;
		for (; k < x->first_leg[r + 1] && x->legs[k].node == i; k++, legs++) {
			const leg *l = &x->legs[k];
			double complex bow, out;
			foot += foot_of(x, l, &bow);
			if (l->kind == TB_LEG_RING)
				out = I * turned(l->lean);
			else if (w->oval && l->kind == TB_LEG_NODE && tb_weave_node_at(w, l->base)->row == 0)
				out = x->oval_up[k] * turned(0.35 * l->lean);
			else if (l->kind == TB_LEG_NODE)
				out = tb_relax_out(w, l->base) * turned(0.35 * l->lean);
			else {
				const tb_weave_run *run = tb_weave_run_at(w, l->base);
				out = unit_of(w->z[run->after] - w->z[run->before]) * I * tb_weave_row_at(w, run->row)->sign *
					turned(0.35 * l->lean);
			}
			up += out * l->height;
		}
		double complex place = 0;
		if (legs == 1)
			place = foot + up;
		else if (legs > 1)
			place = foot / legs + unit_of(up) * node->height;
		else if (any)
			place = before + (w->rounds ? unit_of(before) * I : 1) * 0.9 * (w->rounds ? -row->sign : row->sign);
		set_place(x, i, place);
		before = place;
		any = true;
	}
	spread_places(x, r, r);
}

/* Stems of a round stretch so that its stitches have room, and its stitches part where it does not grow. */
static void make_room(relaxer *x, guint32 r)
{
	const tb_weave *w = x->w;
	const tb_weave_row *row = tb_weave_row_at(w, r);
	double rest = 0, laid = 0, tallest = 0, turns = x->symmetry->turns;
	double chains = 0;
	for (guint32 i = row->first; i < row->first + row->count; i++)
		tallest = fmax(tallest, tb_weave_node_at(w, i)->height);
	for (guint32 k = x->first_edge[r]; k < x->first_edge[r + 1]; k++) {
		const counted_edge *counted = &g_array_index(x->edges, counted_edge, k);
		const tb_weave_edge *e = tb_weave_edge_at(w, counted->edge);
		double times = turns * counted->weight / e->weight * (x->symmetry->image != NULL ? 2 : 1);
		rest += e->rest * times;
		laid += length_of(w->z[e->to] - w->z[e->from]) * times;
		chains += e->chains > 0 ? times : 0;
	}
	bool solid = chains < MOST_OPEN * row->count;
	double stretch = 1.3;
	if (!w->oval) {
		double most = tallest < 1 ? 1.45 : r == 1 ? 1.6 : 1.24;
		stretch = CLAMP((tallest + (rest * 0.96 - laid) / (2 * G_PI)) / tallest, 1, most);
	}
	for (guint32 i = row->first; i < row->first + row->count; i++)
		tb_weave_node_at(w, i)->stretch = stretch;
	double apart = rest > 0 ? laid / rest : 1;
	for (guint32 i = row->first; solid && row->closed && apart > 1.04 && i < row->first + row->count; i++) {
		tb_weave_edge *e = tb_weave_edge_at(w, tb_weave_node_at(w, i)->next);
		e->rest *= apart;
		e->most *= apart;
		if (e->chains == 0)
			e->least *= apart;
	}
}

/* An sc on an arc stands as high as the tall stitches beside it let it. */
static void find_lace(relaxer *x)
{
	const tb_weave *w = x->w;
	for (guint32 r = 1; r < w->rows->len; r++) {
		const tb_weave_row *row = tb_weave_row_at(w, r);
		double tallest = 0;
		for (guint32 i = row->first; i < row->first + row->count; i++)
			tallest = fmax(tallest, tb_weave_node_at(w, i)->height);
		for (guint32 i = row->first; i < row->first + row->count; i++) {
			tb_weave_node *node = tb_weave_node_at(w, i);
			node->lace = 0;
			if (tallest < 1.9 || node->height >= 1 || node->leg_count == 0 || node->group_size > 2 ||
				tb_weave_leg_at(w, node->first_leg)->kind != TB_LEG_RUN)
				continue;
			node->lace = tallest;
			if (!w->rounds || node->next == TB_NONE || node->before == TB_NONE)
				continue;
			const tb_weave_edge *next = tb_weave_edge_at(w, node->next), *before = tb_weave_edge_at(w, node->before);
			bool tall_next = next->chains > 0 && tb_weave_node_at(w, next->to)->height > 1.9;
			bool tall_before = before->chains > 0 && tb_weave_node_at(w, before->from)->height > 1.9;
			if (tall_next != tall_before)
				node->lace *= 1.3;
		}
	}
}

/* ---- until nothing moves ---- */

static gsize pack(const relaxer *x, const window *win, double *out)
{
	gsize count = 0;
	for (guint32 k = x->first_near[win->low]; k < x->first_near[win->high + 1]; k++) {
		guint32 v = x->near_nodes[k];
		if (win->unknown[v] == TB_NONE)
			continue;
		out[count++] = creal(x->u[v]);
		out[count++] = cimag(x->u[v]);
	}
	out[count++] = x->period;
	return count;
}

static void unpack(relaxer *x, const window *win, const double *in)
{
	gsize count = 0;
	for (guint32 k = x->first_near[win->low]; k < x->first_near[win->high + 1]; k++) {
		guint32 v = x->near_nodes[k];
		if (win->unknown[v] == TB_NONE)
			continue;
		x->u[v] = in[count] + I * in[count + 1];
		count += 2;
	}
	x->period = in[count];
	spread_places(x, win->low, win->high);
}

/* Solves the small system M c = b of SIZE unknowns in place; M is symmetric and positive definite. */
static void solve_small(double m[MEMORY][MEMORY], double *b, unsigned size)
{
	for (unsigned i = 0; i < size; i++) {
		for (unsigned j = i + 1; j < size; j++) {
			double factor = m[i][i] != 0 ? m[j][i] / m[i][i] : 0;
			for (unsigned k = i; k < size; k++)
				m[j][k] -= factor * m[i][k];
			b[j] -= factor * b[i];
		}
	}
	for (unsigned i = size; i-- > 0;) {
		for (unsigned k = i + 1; k < size; k++)
			b[i] -= m[i][k] * b[k];
		b[i] = m[i][i] != 0 ? b[i] / m[i][i] : 0;
	}
}

/* What the last sweeps did: where they began and ended. */
typedef struct {
	double *from[MEMORY + 1], *to[MEMORY + 1];
	unsigned count;
	gsize size;
} memory;

static void remember(memory *m, const double *from, const double *to)
{
	if (m->count == MEMORY + 1) {
		double *f = m->from[0], *t = m->to[0];
		memmove(m->from, m->from + 1, MEMORY * sizeof *m->from);
		memmove(m->to, m->to + 1, MEMORY * sizeof *m->to);
		m->from[MEMORY] = f;
		m->to[MEMORY] = t;
		m->count--;
	}
	memcpy(m->from[m->count], from, m->size * sizeof(double));
	memcpy(m->to[m->count], to, m->size * sizeof(double));
	m->count++;
}

/* Where the last sweeps together lead (Anderson): into NEXT. */
static void foretell(const memory *m, double *next)
{
	unsigned n = m->count - 1, last = m->count - 1;
	double matrix[MEMORY][MEMORY] = {{0}}, side[MEMORY] = {0}, trace = 0;
	for (gsize i = 0; i < m->size; i++) {
		double now = m->to[last][i] - m->from[last][i], d[MEMORY];
		for (unsigned k = 0; k < n; k++)
			d[k] = (m->to[k + 1][i] - m->from[k + 1][i]) - (m->to[k][i] - m->from[k][i]);
		for (unsigned k = 0; k < n; k++) {
			side[k] += d[k] * now;
			for (unsigned j = 0; j <= k; j++)
				matrix[k][j] += d[k] * d[j];
		}
	}
	for (unsigned k = 0; k < n; k++)
		trace += matrix[k][k];
	for (unsigned k = 0; k < n; k++) {
		matrix[k][k] += 1e-7 * trace;
		for (unsigned j = 0; j < k; j++)
			matrix[j][k] = matrix[k][j];
	}
	solve_small(matrix, side, n);
	double step = 0;
	for (gsize i = 0; i < m->size; i++) {
		next[i] = m->to[last][i];
		for (unsigned k = 0; k < n; k++)
			next[i] -= side[k] * (m->to[k + 1][i] - m->to[k][i]);
		step = fmax(step, fabs(next[i] - m->to[last][i]));
	}
	if (!(step < MOST_STEP))
		for (gsize i = 0; i < m->size; i++)
			next[i] = isfinite(step) ? m->to[last][i] + (next[i] - m->to[last][i]) * MOST_STEP / step : m->to[last][i];
}

static unsigned settle(relaxer *x, const window *win, unsigned most, double enough)
{
	gsize size = 2 * (gsize)(win->end - win->first) + 1;
	memory m = {.count = 0};
	for (unsigned k = 0; k <= MEMORY; k++) {
		m.from[k] = g_new(double, size);
		m.to[k] = g_new(double, size);
	}
	g_autofree double *from = g_new(double, size), *to = g_new(double, size);
	double best = INFINITY;
	unsigned used = 0;
	while (used < most) {
		m.size = pack(x, win, from);
		double moved = sweep(x, win);
		used++;
		pack(x, win, to);
		if (moved < enough)
			break;
		if (moved > 1.5 * best && m.count > 0) {
			/* It did not help: on from the last plain sweep. */
			unpack(x, win, m.to[m.count - 1]);
			m.count = 0;
			best = INFINITY;
			continue;
		}
		best = fmin(best, moved);
		remember(&m, from, to);
		if (m.count < 2 || used == most)
			continue;
		foretell(&m, from);
		unpack(x, win, from);
	}
	for (unsigned k = 0; k <= MEMORY; k++) {
		g_free(m.from[k]);
		g_free(m.to[k]);
	}
	return used;
}

/* How far ROW reaches out in TURNS directions, and in which: its corners, of what has so many. */
static double complex find_corners(const tb_weave *w, const tb_weave_row *row, guint32 turns)
{
	double complex sum = 0;
	double largest = 0, whole = 0;
	for (guint32 i = row->first; i < row->first + row->count; i++)
		largest = fmax(largest, length_of(w->z[i]));
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		double far = pow(length_of(w->z[i]) / largest, 8);
		sum += far * turned(turns * carg(w->z[i]));
		whole += far;
	}
	return whole > 0 ? sum / whole : 0;
}

/* A square with one stitch unlike the others does not turn into itself, but has its corners all the same. */
static guint32 count_corners(const tb_weave *w, const tb_weave_row *row, guint32 turns)
{
	double most = CLEAR_CORNERS;
	guint32 clearest = turns;
	for (guint32 n = LEAST_CORNERS; n <= MOST_CORNERS && turns < LEAST_CORNERS; n++) {
		double clear = length_of(find_corners(w, row, n));
		if (clear > most) {
			most = clear;
			clearest = n;
		}
	}
	return clearest;
}

/* The last round's lower side lies level: corners are where the radius is greatest. */
static void set_upright(relaxer *x)
{
	tb_weave *w = x->w;
	const tb_weave_row *row = tb_weave_row_at(w, w->rows->len - 1);
	double complex turn = 1;
	if (w->oval)
		return;
	guint32 turns = w->rounds ? count_corners(w, row, x->symmetry->turns) : 1;
	if (turns >= LEAST_CORNERS && turns <= MOST_CORNERS) {
		double corner = carg(find_corners(w, row, turns)) / turns, way = fmod(-G_PI / 2 + G_PI / turns - corner, 2 * G_PI / turns);
		if (way > G_PI / turns)
			way -= 2 * G_PI / turns;
		if (way < -G_PI / turns)
			way += 2 * G_PI / turns;
		turn = turned(way);
		/* The seam is in the lower side. */
		double complex first = w->z[row->first] * turn;
		double down = fmod(-G_PI / 2 - carg(first), 2 * G_PI);
		turn *= turned(round(down / (2 * G_PI / turns)) * 2 * G_PI / turns);
	} else if (w->rounds && row->count > 0) {
		/* The rounds begin at the bottom. */
		turn = turned(-G_PI / 2 - carg(w->z[row->first]));
	} else if (w->ring && !x->symmetry->mirror && row->count > 1) {
		double complex middle = unit_of(w->z[row->first]) + unit_of(w->z[row->first + row->count - 1]);
		if (length_of(middle) > 0.2)
			turn = I / unit_of(middle);
	}
	for (guint32 v = 0; v < w->nodes->len && turn != 1; v++)
		w->z[v] *= turn;
	w->turn = turn;
}

static void start(relaxer *x, tb_weave *w, const tb_symmetry *symmetry)
{
	*x = (relaxer){.w = w, .symmetry = symmetry, .period = w->period};
	x->parts = g_array_new(FALSE, FALSE, sizeof(round_part));
	find_core(x);
	find_polygon(x);
	find_legs(x);
	find_cells(x);
	find_rows(x);
	find_needed(x);
	find_lace(x);
	x->u = g_new0(double complex, w->nodes->len + 1);
	x->force = g_new0(double complex, w->nodes->len + 1);
	x->up = g_new0(double complex, w->nodes->len + 1);
	x->unknown = g_new(guint32, w->nodes->len + 1);
	for (guint32 v = 0; v < w->nodes->len; v++)
		x->unknown[v] = TB_NONE;
	if (w->oval) {
		guint32 m = tb_weave_row_at(w, 0)->count;
		x->half_spine = (m - 1) / 2.0;
		/* The round begins at the left end. */
		for (guint32 k = 0; k < x->leg_count; k++) {
			if (x->legs[k].kind == TB_LEG_NODE && x->legs[k].base < m) {
				x->spine_turn = x->legs[k].base != 0;
				break;
			}
		}
		find_oval_sides(x);
	}
	/* Low stitches of a wave have room where they slope. */
	for (guint32 i = 0; i < w->nodes->len && w->wave; i++)
		if (tb_weave_node_at(w, i)->height < 1)
			tb_weave_node_at(w, i)->stretch = LOW_WAVE;
	/* Out of a ring the stitches stand all around; a mirror's axis is the page's level. */
	const tb_weave_row *row = w->rows->len > 1 ? tb_weave_row_at(w, 1) : NULL;
	if (w->rounds && w->ring && symmetry->mirror && row != NULL && row->count > 0) {
		double one = tb_weave_node_at(w, row->first)->lean;
		double two = tb_weave_node_at(w, row->first + symmetry->offset % row->count)->lean;
		for (guint32 k = x->first_leg[1]; k < x->first_leg[2]; k++)
			x->legs[k].lean -= G_PI / 2 + (one + two) / 2;
	}
}

static void finish(relaxer *x)
{
	g_free(x->legs);
	g_free(x->cells);
	g_array_unref(x->edges);
	g_array_unref(x->triples);
	g_array_unref(x->parts);
	g_free(x->first_leg);
	g_free(x->first_cell);
	g_free(x->first_edge);
	g_free(x->first_triple);
	g_free(x->near_nodes);
	g_free(x->near_legs);
	g_free(x->near_cells);
	g_free(x->first_near);
	g_free(x->first_near_leg);
	g_free(x->first_near_cell);
	g_free(x->lowest_base);
	g_free(x->u);
	g_free(x->force);
	g_free(x->up);
	g_free(x->oval_up);
	g_free(x->is_core);
	g_free(x->unknown);
}

unsigned tb_relax(tb_weave *w, const tb_symmetry *symmetry)
{
	relaxer x;
	window win;
	unsigned used = 0;
	guint32 waiting = 0;
	start(&x, w, symmetry);
	lay_foundation(&x);
	for (guint32 r = 1; r < w->rows->len; r++) {
		if (tb_weave_row_at(w, r)->count == 0)
			continue;
		lay_row(&x, r);
		if (w->rounds)
			make_room(&x, r);
		bool fans = open_fans(&x, r, r, 1);
		/* Plain rows need to be settled only now and then. */
		if (!fans && waiting + 1 < ROWS_AT_ONCE && r + 1 < w->rows->len) {
			waiting++;
			continue;
		}
		guint32 rows = WINDOW + waiting;
		waiting = 0;
		if (open_window(&x, &win, r >= rows ? r - rows + 1 : 0, r, false)) {
			for (unsigned k = 0; k < NARROW_SWEEPS && fans; k++) {
				open_fans(&x, r, r, 0.35 + 0.1 * k);
				sweep(&x, &win);
			}
			open_fans(&x, r, r, 1);
			settle(&x, &win, WIDE_SWEEPS, ENOUGH_LAID);
		}
		close_window(&x, &win);
	}
	bool moves = symmetry->level || symmetry->moves;
	if (w->rows->len > 1 && open_window(&x, &win, 0, w->rows->len - 1, moves)) {
		double products = 4.0 * tb_envelope_size(win.envelope);
			used = settle(&x, &win, (unsigned)CLAMP(MOST_PRODUCTS / fmax(products, 1), LEAST_SWEEPS, MOST_SWEEPS), ENOUGH);
	}
	if (w->rows->len > 1)
		close_window(&x, &win);
	w->period = x.period;
	for (guint32 v = 0; v < w->nodes->len; v++)
		set_from_origin(&x, v);
	set_upright(&x);
	finish(&x);
	return used;
}
