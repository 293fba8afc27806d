/* The targets of one sweep, from where everything lies, and what they pull with. */
#include "layout/energy.h"

#include "layout/relax.h"

/* Of the tallest of its row: how high an sc on an arc stands with its arc. */
#define LACE_HEIGHT 0.82

void tb_energy_place(const tb_energy *x, guint32 v)
{
	const tb_frame *f = &x->symmetry->frames[v];
	double complex u = x->u[f->origin];
	x->w->z[v] = f->turn * (f->mirrored ? conj(u) : u) + f->shift * x->period;
}

/* The places of what is needed in the rows LOW to HIGH. */
void tb_energy_place_rows(const tb_energy *x, guint32 low, guint32 high)
{
	for (guint32 k = x->first_near[low]; k < x->first_near[high + 1]; k++)
		tb_energy_place(x, x->near_nodes[k]);
}

double complex tb_energy_foot(const tb_energy *x, const tb_energy_leg *l, double complex *bow)
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
static void find_frames(tb_energy *x, const tb_window *win)
{
	const tb_weave *w = x->w;
	guint32 low = MIN(win->cells_from + 1, win->low);
	for (guint32 k = x->first_near[win->cells_from]; k < x->first_near[win->high + 1]; k++)
		x->up[x->near_nodes[k]] = 0;
	for (guint32 k = x->first_near_cell[win->cells_from]; k < x->first_near_cell[win->high + 1]; k++) {
		tb_energy_cell *c = &x->cells[x->near_cells[k]];
		double complex chord = w->z[c->to] - w->z[c->from];
		c->sum = unit_of(chord) * I * c->sign * c->weight * fmin(2, length_of(chord));
		if (c->from == c->to)
			c->sum = 0;
	}
	for (guint32 k = x->first_near_leg[low]; k < x->first_near_leg[win->high + 1]; k++) {
		tb_energy_leg *l = &x->legs[x->near_legs[k]];
		l->stem = w->z[l->node] - tb_energy_foot(x, l, &l->bow);
		l->unit = unit_of(l->stem);
		x->up[l->node] += l->unit;
		if (l->cell != TB_NONE)
			x->cells[l->cell].sum += l->upright * l->height * l->unit * conj(l->leaning);
		if (l->own_cell != TB_NONE)
			x->cells[l->own_cell].sum += l->own * l->height * l->unit;
	}
	for (guint32 k = x->first_near_cell[win->cells_from]; k < x->first_near_cell[win->high + 1]; k++) {
		tb_energy_cell *c = &x->cells[x->near_cells[k]];
		c->up = c->fixed ? I : unit_of(c->sum);
	}
}

/* Where a leg's stem should reach from its foot. */
static double complex stem_target(const tb_energy *x, const tb_energy_leg *l)
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

static double complex edge_target(const tb_energy *x, const tb_weave_edge *e, double complex way)
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

static void pull(tb_energy *x, guint32 node, double complex force)
{
	x->force[node] += force;
}

static void pull_edges(tb_energy *x, const tb_window *win)
{
	const double complex *z = x->w->z;
	for (guint32 k = x->first_edge[win->low]; k < x->first_edge[win->high + 1]; k++) {
		const tb_energy_edge *counted = &g_array_index(x->edges, tb_energy_edge, k);
		const tb_weave_edge *e = tb_weave_edge_at(x->w, counted->edge);
		double complex along = z[e->to] - z[e->from];
		double complex force = counted->weight * (edge_target(x, e, along) - along);
		pull(x, e->to, force);
		pull(x, e->from, -force);
	}
}

static void pull_legs(tb_energy *x, const tb_window *win)
{
	for (guint32 k = x->first_near_leg[win->low]; k < x->first_near_leg[win->high + 1]; k++) {
		const tb_energy_leg *l = &x->legs[x->near_legs[k]];
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

static void pull_cells(tb_energy *x, const tb_window *win)
{
	const double complex *z = x->w->z;
	for (guint32 k = x->first_near_cell[win->cells_from]; k < x->first_near_cell[win->high + 1]; k++) {
		const tb_energy_cell *c = &x->cells[x->near_cells[k]];
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

static void pull_triples(tb_energy *x, const tb_window *win)
{
	const double complex *z = x->w->z;
	for (guint32 k = x->first_triple[win->low]; k < x->first_triple[win->high + 1]; k++) {
		const tb_energy_triple *t = &g_array_index(x->triples, tb_energy_triple, k);
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
		double complex force = -TB_WAVE_WEIGHT * tb_energy_part_of(x, i) * (z[i] - (z[i - 1] + z[i + 1]) / 2);
		pull(x, i, force);
		pull(x, i - 1, -force / 2);
		pull(x, i + 1, -force / 2);
	}
}

static double complex core_of(const tb_energy *x, double complex z)
{
	return CLAMP(creal(z), -x->half_spine, x->half_spine);
}

static void pull_parts(tb_energy *x, const tb_window *win)
{
	const tb_weave *w = x->w;
	const double complex *z = w->z;
	for (guint k = 0; k < x->parts->len; k++) {
		const tb_energy_part *part = &g_array_index(x->parts, tb_energy_part, k);
		if (part->row < win->low || part->row > win->high)
			continue;
		guint32 count = tb_energy_part_count(x, part);
		double mean = 0;
		if (part->before == TB_NONE) {
			for (guint32 i = 0; i < count; i++)
				mean += length_of(z[tb_energy_part_node(x, part, i)] - core_of(x, z[tb_energy_part_node(x, part, i)])) / count;
			for (guint32 i = 0; i < count; i++) {
				guint32 v = tb_energy_part_node(x, part, i);
				double complex core = core_of(x, z[v]);
				/* A spiral climbs by its own height in a turn. */
				double climb = w->spiral ? tb_weave_node_at(w, v)->height * (i / (count - 1.0) - 0.5) : 0;
				pull(x, v, tb_energy_part_of(x, v) * TB_CORE_WEIGHT * (core + unit_of(z[v] - core) * (mean + climb) - z[v]));
			}
			continue;
		}
		double complex out = unit_of(unit_of(unit_of(z[part->before]) + unit_of(z[tb_energy_part_node(x, part, 0)])) +
			unit_of(unit_of(z[tb_energy_part_node(x, part, count - 1)]) + unit_of(z[part->after])));
		for (guint32 i = 0; i < count; i++)
			mean += dot(z[tb_energy_part_node(x, part, i)], out) / count;
		for (guint32 i = 0; i < count; i++) {
			guint32 v = tb_energy_part_node(x, part, i);
			pull(x, v, tb_energy_side_part(x) * TB_SIDE_WEIGHT * out * (mean - dot(z[v], out)));
		}
	}
}

void tb_energy_pull(tb_energy *x, const tb_window *win)
{
	find_frames(x, win);
	for (guint32 k = x->first_near[win->cells_from]; k < x->first_near[win->high + 1]; k++)
		x->force[x->near_nodes[k]] = 0;
	pull_edges(x, win);
	pull_legs(x, win);
	pull_cells(x, win);
	pull_triples(x, win);
	pull_parts(x, win);
}
