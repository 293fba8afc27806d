/* What is in the energy of a fabric at rest. */
#include "layout/energy.h"

#include "layout/arc.h"
#include "layout/relax.h"

/* Weights, by a stem's length; heights, by a stitch's. */
#define OWN_WEIGHT 0.3   /* a stem is square to its own row */
#define CHORD_WEIGHT 0.8 /* a row is square to the stems on it */
#define LOW_WAVE 1.3     /* so many times as high low stitches of a wave stand */

double complex tb_relax_out(const tb_weave *w, guint32 node)
{
	const tb_weave_node *n = tb_weave_node_at(w, node);
	if (n->side != TB_SIDE_NEITHER && w->mirror_side[n->side])
		return I;
	/* A row of one stitch goes on upward, in rounds outward. */
	if (n->next == TB_NONE && n->before == TB_NONE)
		return w->rounds ? unit_of(w->z[node]) : I;
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
	double chord = fmax(way - 2 * tb_arc_room(way), 0.05), length = tb_arc_length(chord, k);
	double ratio = fmax(length / chord, 1);
	return fmin(chord * sqrt((ratio - 1) * 3 / 8) * sqrt(sqrt(ratio)), 0.48 * length) + TB_ARC_RISE;
}

/* Whether NODE lies in the part of its row that all other parts turn into. */
static bool stands_for_itself(const tb_energy *x, guint32 node)
{
	const tb_weave_row *row = tb_weave_row_at(x->w, tb_weave_node_at(x->w, node)->row);
	return node - row->first < row->count / x->symmetry->turns;
}

/*
 * Of a piece that turns into itself one part stands for all, and of one that is its own mirror image one half; of one
 * that moves along, one motif for those like it. What belongs to OWNER, and its mirror image to IMAGE, counts wholly, by
 * half where it is its own image, as often as there are motifs, or not at all.
 */
static double part_of(const tb_energy *x, guint32 owner, guint32 image)
{
	const tb_weave_row *row = tb_weave_row_at(x->w, tb_weave_node_at(x->w, owner)->row);
	guint32 part = row->count / x->symmetry->turns, place = owner - row->first;
	if (!stands_for_itself(x, owner))
		return 0;
	if (x->symmetry->image == NULL || image < row->first || image >= row->first + row->count)
		return x->motifs[owner];
	guint32 mirrored = (image - row->first) % part;
	return place < mirrored ? 1 : place == mirrored ? 0.5 : 0;
}

static guint32 image_of(const tb_energy *x, guint32 node)
{
	return x->symmetry->image != NULL ? x->symmetry->image[node] : node;
}

/* Of what lies between two nodes and belongs to the first: its image belongs to the second's. */
static double part_of_way(const tb_energy *x, guint32 from, guint32 to)
{
	return part_of(x, from, image_of(x, to));
}

static bool is_mirror_edge(const tb_weave *w, const tb_weave_node *node)
{
	return node->side != TB_SIDE_NEITHER && w->mirror_side[node->side];
}

static void weigh_leg(const tb_energy *x, tb_energy_leg *l)
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
static void chord_of_node(const tb_weave *w, guint32 node, tb_energy_cell *c)
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

static void init_cell(const tb_energy *x, tb_energy_cell *c, bool is_run, guint32 base)
{
	const tb_weave *w = x->w;
	*c = (tb_energy_cell){0};
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
		c->part = x->part_of[base];
	}
	if (w->oval && c->row == 0)
		c->weight = 1e-6;
	c->sign = tb_weave_row_at(w, c->row)->sign;
}

/* The edges that count, row by row, and the triples of neighbours that are even. */
static void find_rows(tb_energy *x)
{
	const tb_weave *w = x->w;
	x->edges = g_array_new(FALSE, FALSE, sizeof(tb_energy_edge));
	x->triples = g_array_new(FALSE, FALSE, sizeof(tb_energy_triple));
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
			if (!stands_for_itself(x, e->from))
				continue;
			double part = part_of_way(x, e->from, e->to);
			tb_energy_edge counted = {order[k], e->weight * part};
			if (part > 0)
				g_array_append_val(x->edges, counted);
			guint32 next = tb_weave_node_at(w, e->to)->next;
			if (r == 0 || next == TB_NONE || tb_weave_node_at(w, e->from)->next != order[k])
				continue;
			const tb_weave_edge *f = tb_weave_edge_at(w, next);
			const tb_weave_node *a = tb_weave_node_at(w, e->from), *b = tb_weave_node_at(w, e->to),
				*c = tb_weave_node_at(w, f->to);
			part = part_of_way(x, e->from, f->to);
			tb_energy_triple t = {.a = e->from, .b = e->to, .c = f->to, .row = r, .weight = 0.5};
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
static void find_core(tb_energy *x)
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
		tb_energy_part part = {.row = r, .count = row->count, .before = TB_NONE, .after = TB_NONE};
		g_array_append_val(x->parts, part);
	}
}

/* Every round has as many corners as it turns, chains inside one place, and is of one height: its sides are straight. */
static void find_polygon(tb_energy *x)
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
			tb_energy_part part = {.row = r, .first = (at[k] + 1) % row->count, .count = next - at[k],
				.before = row->first + at[k], .after = row->first + (next + 1) % row->count};
			/* Of alike sides one stands for all. */
			if (k == 0)
				g_array_append_val(x->parts, part);
		}
	}
}

guint32 tb_energy_part_node(const tb_energy *x, const tb_energy_part *part, guint32 k)
{
	const tb_weave_row *row = tb_weave_row_at(x->w, part->row);
	return row->first + (part->first + k) % row->count;
}

/* A side is whole, with both its halves. */
double tb_energy_side_part(const tb_energy *x)
{
	return x->symmetry->image != NULL ? 0.5 : 1;
}

/* Of a circle, one part stands for all; a side is whole. */
guint32 tb_energy_part_count(const tb_energy *x, const tb_energy_part *part)
{
	return part->before == TB_NONE ? part->count / x->symmetry->turns : part->count;
}

/* The cell that a leg of several or out of the ring has not: the one it stands on. Nodes' come first, then runs'. */
static guint32 cell_of_leg(const tb_weave *w, const tb_weave_node *node, const tb_weave_leg *leg)
{
	if (leg->kind == TB_LEG_RING || node->leg_count > 1)
		return TB_NONE;
	return leg->kind == TB_LEG_NODE ? leg->base : w->nodes->len + leg->base;
}

/* Whether a stitch with LEG has a cell of its own to stand square in. */
static bool stands_in_own(const tb_weave_node *node, const tb_weave_leg *leg)
{
	return node->leg_count == 1 && leg->kind != TB_LEG_RING;
}

/* What has to be known of a piece of which one part stands for all. */
typedef struct {
	bool *node, *leg; /* by node, by leg of the weave */
	bool *cell;       /* by node, then by run */
} needed;

static double part_of_cell(const tb_energy *x, guint32 cell)
{
	const tb_weave *w = x->w;
	if (cell < w->nodes->len)
		return x->part_of[cell];
	const tb_weave_run *run = tb_weave_run_at(w, cell - w->nodes->len);
	return run->after != TB_NONE ? part_of_way(x, run->before, run->after) : 0;
}

/* Cells that count, of all that a leg stands on or in; and the lowest row that the legs of each row stand on. */
static void need_cells(tb_energy *x, needed *n)
{
	const tb_weave *w = x->w;
	for (guint32 i = 0; i < w->nodes->len; i++) {
		const tb_weave_node *node = tb_weave_node_at(w, i);
		bool counts = x->part_of[i] > 0;
		for (guint32 k = node->first_leg; k < node->first_leg + node->leg_count; k++) {
			const tb_weave_leg *leg = tb_weave_leg_at(w, k);
			guint32 cell = cell_of_leg(w, node, leg);
			if (leg->kind != TB_LEG_RING)
				x->lowest_base[node->row] = MIN(x->lowest_base[node->row], tb_weave_base_row(w, leg));
			if (cell != TB_NONE && !n->cell[cell])
				n->cell[cell] = counts || part_of_cell(x, cell) > 0;
			if (stands_in_own(node, leg))
				n->cell[i] = n->cell[i] || counts;
		}
	}
}

/* Legs that count, or that what counts needs. */
static void need_legs(const tb_energy *x, needed *n)
{
	const tb_weave *w = x->w;
	for (guint32 i = 0; i < w->nodes->len; i++) {
		const tb_weave_node *node = tb_weave_node_at(w, i);
		bool all = w->oval || n->node[i] || x->symmetry->frames[i].origin == i || x->part_of[i] > 0;
		for (guint32 k = node->first_leg; k < node->first_leg + node->leg_count; k++) {
			guint32 cell = cell_of_leg(w, node, tb_weave_leg_at(w, k));
			n->leg[k] = all || (cell != TB_NONE && n->cell[cell]) || (stands_in_own(node, tb_weave_leg_at(w, k)) && n->cell[i]);
		}
	}
}

/* What the legs that are needed stand on. */
static void need_bases(const tb_energy *x, needed *n)
{
	const tb_weave *w = x->w;
	for (guint32 i = 0; i < w->nodes->len; i++) {
		const tb_weave_node *node = tb_weave_node_at(w, i);
		for (guint32 k = node->first_leg; k < node->first_leg + node->leg_count; k++) {
			const tb_weave_leg *leg = tb_weave_leg_at(w, k);
			guint32 cell = cell_of_leg(w, node, leg);
			if (!n->leg[k])
				continue;
			n->node[i] = true;
			if (cell != TB_NONE)
				n->cell[cell] = true;
			if (stands_in_own(node, leg))
				n->cell[i] = true;
			if (leg->kind == TB_LEG_RUN) {
				n->node[tb_weave_run_at(w, leg->base)->before] = n->node[tb_weave_run_at(w, leg->base)->after] = true;
			} else if (leg->kind == TB_LEG_NODE) {
				const tb_weave_node *base = tb_weave_node_at(w, leg->base);
				n->node[leg->base] = true;
				if (base->next != TB_NONE)
					n->node[tb_weave_edge_at(w, base->next)->to] = true;
				if (base->before != TB_NONE)
					n->node[tb_weave_edge_at(w, base->before)->from] = true;
			}
		}
	}
}

/* The needed cells, row by row: those of nodes, then those of runs. NUMBER: where each is. */
static void list_cells(tb_energy *x, const needed *n, guint32 *number)
{
	const tb_weave *w = x->w;
	guint32 nodes = w->nodes->len, runs = w->runs->len, count = 0;
	for (guint32 c = 0; c < nodes + runs; c++)
		count += n->cell[c];
	x->cells = g_new(tb_energy_cell, count + 1);
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
	count = 0;
	for (guint32 r = 0; r < w->rows->len; r++) {
		const tb_weave_row *row = tb_weave_row_at(w, r);
		x->first_cell[r] = count;
		for (guint32 i = row->first; i < row->first + row->count; i++) {
			number[i] = count;
			if (n->cell[i])
				init_cell(x, &x->cells[count++], false, i);
		}
		for (guint32 k = runs_in[r]; k < runs_in[r + 1]; k++) {
			number[nodes + run_list[k]] = count;
			if (n->cell[nodes + run_list[k]])
				init_cell(x, &x->cells[count++], true, run_list[k]);
		}
	}
	x->first_cell[w->rows->len] = count;
	for (guint32 c = 0; c < count; c++)
		n->node[x->cells[c].from] = n->node[x->cells[c].to] = true;
}

/* The needed legs, row by row. NUMBER: where the cells are. */
static void list_legs(tb_energy *x, const needed *n, const guint32 *number)
{
	const tb_weave *w = x->w;
	guint32 count = 0;
	for (guint32 k = 0; k < w->legs->len; k++)
		count += n->leg[k];
	x->legs = g_new(tb_energy_leg, count + 1);
	x->first_leg = g_new(guint32, w->rows->len + 2);
	for (guint32 r = 0; r < w->rows->len; r++) {
		const tb_weave_row *row = tb_weave_row_at(w, r);
		x->first_leg[r] = x->leg_count;
		for (guint32 i = row->first; i < row->first + row->count; i++) {
			const tb_weave_node *node = tb_weave_node_at(w, i);
			for (guint32 k = node->first_leg; k < node->first_leg + node->leg_count; k++) {
				const tb_weave_leg *own = tb_weave_leg_at(w, k);
				guint32 cell = cell_of_leg(w, node, own);
				if (!n->leg[k])
					continue;
				tb_energy_leg *l = &x->legs[x->leg_count++];
				*l = (tb_energy_leg){.node = i, .base = own->base, .kind = own->kind, .along = own->along,
					.height = own->height, .lean = node->lean, .several = node->leg_count > 1,
					.part = x->part_of[i]};
				l->cell = cell != TB_NONE ? number[cell] : TB_NONE;
				l->own_cell = stands_in_own(node, own) ? number[i] : TB_NONE;
				weigh_leg(x, l);
			}
		}
	}
	x->first_leg[w->rows->len] = x->leg_count;
}

/* The needed nodes, row by row. */
static void list_nodes(tb_energy *x, const needed *n)
{
	const tb_weave *w = x->w;
	guint32 rows = w->rows->len, nodes = 0;
	x->near_nodes = g_new(guint32, w->nodes->len + 1);
	x->first_near = g_new(guint32, rows + 1);
	for (guint32 r = 0; r < rows; r++) {
		const tb_weave_row *row = tb_weave_row_at(w, r);
		x->first_near[r] = nodes;
		for (guint32 i = row->first; i < row->first + row->count; i++)
			if (n->node[i] || x->symmetry->frames[i].origin == i)
				x->near_nodes[nodes++] = i;
	}
	x->first_near[rows] = nodes;
}

/* What has to be known, row by row: of a piece of which one part stands for all, that part and what it touches. */
static void find_needed(tb_energy *x)
{
	const tb_weave *w = x->w;
	guint32 nodes = w->nodes->len, cells = nodes + w->runs->len;
	g_autofree bool *node = g_new0(bool, nodes + 1), *leg = g_new0(bool, w->legs->len + 1), *cell = g_new0(bool, cells + 1);
	g_autofree guint32 *number = g_new(guint32, cells + 1);
	needed n = {node, leg, cell};
	x->lowest_base = g_new(guint32, w->rows->len + 1);
	for (guint32 r = 0; r < w->rows->len; r++)
		x->lowest_base[r] = r;
	for (guint k = 0; k < x->edges->len; k++) {
		const tb_weave_edge *e = tb_weave_edge_at(w, g_array_index(x->edges, tb_energy_edge, k).edge);
		node[e->from] = node[e->to] = true;
	}
	need_cells(x, &n);
	need_legs(x, &n);
	need_bases(x, &n);
	for (guint k = 0; k < x->triples->len; k++) {
		const tb_energy_triple *t = &g_array_index(x->triples, tb_energy_triple, k);
		node[t->a] = node[t->b] = node[t->c] = true;
	}
	for (guint k = 0; k < x->parts->len; k++) {
		const tb_energy_part *part = &g_array_index(x->parts, tb_energy_part, k);
		for (guint32 i = 0; i < tb_energy_part_count(x, part); i++)
			node[tb_energy_part_node(x, part, i)] = true;
		if (part->before != TB_NONE)
			node[part->before] = node[part->after] = true;
	}
	list_cells(x, &n, number);
	list_legs(x, &n, number);
	list_nodes(x, &n);
}

/* The side of an oval's spine that each leg on it stands on: first below, then above; the ends stand outward. */
static void find_oval_sides(tb_energy *x)
{
	const tb_weave *w = x->w;
	guint32 m = tb_weave_row_at(w, 0)->count;
	g_autofree bool *seen = g_new0(bool, m + 1);
	x->oval_up = g_new0(double complex, x->leg_count + 1);
	for (guint32 k = 0; k < x->leg_count; k++) {
		tb_energy_leg *l = &x->legs[k];
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

/* An sc on an arc stands as high as the tall stitches beside it let it. */
static void find_lace(tb_energy *x)
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

void tb_energy_start(tb_energy *x, tb_weave *w, const tb_symmetry *symmetry)
{
	*x = (tb_energy){.w = w, .symmetry = symmetry, .period = w->period};
	x->parts = g_array_new(FALSE, FALSE, sizeof(tb_energy_part));
	x->motifs = tb_energy_count_motifs(w, symmetry);
	x->part_of = g_new(double, w->nodes->len + 1);
	for (guint32 v = 0; v < w->nodes->len; v++)
		x->part_of[v] = part_of(x, v, image_of(x, v));
	find_core(x);
	find_polygon(x);
	find_rows(x);
	find_needed(x);
	find_lace(x);
	x->u = g_new0(double complex, w->nodes->len + 1);
	x->force = g_new0(double complex, w->nodes->len + 1);
	x->up = g_new0(double complex, w->nodes->len + 1);
	x->unknown = g_new(guint32, w->nodes->len + 1);
	x->first_couple = g_new0(guint32, w->nodes->len + 1);
	x->coupled = g_new(guint32, w->nodes->len + 1);
	x->shares = g_new(tb_energy_share, w->nodes->len + 1);
	x->itself = g_new(bool, w->nodes->len + 1);
	for (guint32 v = 0; v < w->nodes->len; v++) {
		const tb_frame *f = &symmetry->frames[v];
		x->unknown[v] = TB_NONE;
		x->itself[v] = f->origin == v && f->turn == 1 && !f->mirrored && f->shift == 0;
	}
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

void tb_energy_finish(tb_energy *x)
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
	g_free(x->first_near);
	g_free(x->lowest_base);
	g_free(x->motifs);
	g_free(x->part_of);
	g_free(x->u);
	g_free(x->force);
	g_free(x->up);
	g_free(x->oval_up);
	g_free(x->is_core);
	g_free(x->unknown);
	g_free(x->itself);
	g_free(x->shares);
	g_free(x->first_couple);
	g_free(x->coupled);
}
