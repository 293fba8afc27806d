/* The equations of the rows that move together: factored once, solved in every sweep. */
#include "layout/energy.h"

#include <string.h>

/* What nothing holds stays where it is. */
#define STILL 1e-4
/* Bounds of the period of a level piece, and the least of one that bends, in foundation chains. */
#define LEAST_PERIOD 0.9
#define MOST_PERIOD 1.6
#define LEAST_WAVE 0.3

/* What a node's place is, in a window, of each of its unknowns. */
static tb_energy_share share_of(const tb_energy *x, const tb_window *win, guint32 node)
{
	tb_energy_share s = {.count = 0};
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

/* All that two nodes have with each other in the energy: twice VALUE times the product of their places; of one node, once. */
typedef struct {
	guint32 other, next; /* of the same node: a number, 0 for none */
	double value;
} couple;

typedef struct {
	const tb_energy *x;
	const tb_window *win;
	couple *all; /* from 1 on */
	guint32 count, room;
	guint32 nodes; /* how many have any: x->coupled */
} couples;

static void add_couple(couples *c, guint32 a, guint32 b, double value)
{
	guint32 later = MAX(a, b), other = MIN(a, b), *first = &c->x->first_couple[later];
	for (guint32 k = *first; k != 0; k = c->all[k].next) {
		if (c->all[k].other == other) {
			c->all[k].value += value;
			return;
		}
	}
	if (*first == 0)
		c->x->coupled[c->nodes++] = later;
	if (c->count + 1 >= c->room) {
		c->room = 2 * c->room + 64;
		c->all = g_renew(couple, c->all, c->room);
	}
	c->all[++c->count] = (couple){.other = other, .next = *first, .value = value};
	*first = c->count;
}

/* Adds weight * |sum of factor * z|^2. */
static inline void add_square(couples *c, double weight, unsigned count, const guint32 *nodes, const double *factors)
{
	for (unsigned i = 0; i < count; i++)
		for (unsigned j = 0; j <= i; j++)
			add_couple(c, nodes[i], nodes[j], weight * factors[i] * factors[j] * (i != j && nodes[i] == nodes[j] ? 2 : 1));
}

/* Of a couple, what each two of their unknowns have with each other. */
static void add_entries(const couples *c, guint32 a, guint32 b, double value)
{
	tb_envelope *envelope = c->win->envelope;
	if (c->win->plain) {
		if (c->win->unknown[a] != TB_NONE && c->win->unknown[b] != TB_NONE)
			tb_envelope_add(envelope, c->win->unknown[a], c->win->unknown[b], value);
		return;
	}
	const tb_energy_share *one = &c->x->shares[a], *other = &c->x->shares[b];
	for (unsigned p = 0; p < one->count; p++) {
		for (unsigned q = 0; q < (a == b ? p + 1 : other->count); q++) {
			double both = value * dot(one->part[p], other->part[q]);
			bool same = a != b && one->unknown[p] == other->unknown[q];
			if (both != 0)
				tb_envelope_add(envelope, one->unknown[p], other->unknown[q], same ? 2 * both : both);
		}
	}
}

static void add_squares(couples *c)
{
	const tb_energy *x = c->x;
	const tb_window *win = c->win;
	const tb_weave *w = x->w;
	static const double apart[] = {1, -1}, even[] = {1, -0.5, -0.5}, one[] = {1};
	for (guint32 k = x->first_edge[win->low]; k < x->first_edge[win->high + 1]; k++) {
		const tb_energy_edge *counted = &g_array_index(x->edges, tb_energy_edge, k);
		const tb_weave_edge *e = tb_weave_edge_at(w, counted->edge);
		add_square(c, counted->weight, 2, (guint32[]){e->to, e->from}, apart);
	}
	for (guint32 k = x->first_leg[win->low]; k < x->first_leg[win->high + 1]; k++) {
		const tb_energy_leg *l = &x->legs[k];
		double weight = l->part * (l->length + l->upright + l->own);
		if (l->part == 0)
			continue;
		if (l->kind == TB_LEG_RING) {
			add_square(c, weight, 1, &l->node, one);
		} else if (l->kind == TB_LEG_NODE) {
			add_square(c, weight, 2, (guint32[]){l->node, l->base}, apart);
		} else {
			const tb_weave_run *run = tb_weave_run_at(w, l->base);
			add_square(c, weight, 3, (guint32[]){l->node, run->before, run->after},
				(double[]){1, l->along - 1, -l->along});
		}
	}
	for (guint32 k = x->first_cell[win->cells_from]; k < x->first_cell[win->high + 1]; k++) {
		const tb_energy_cell *cell = &x->cells[k];
		if (cell->part > 0 && cell->from != cell->to)
			add_square(c, cell->part * cell->weight, 2, (guint32[]){cell->to, cell->from}, apart);
	}
	for (guint32 k = x->first_triple[win->low]; k < x->first_triple[win->high + 1]; k++) {
		const tb_energy_triple *t = &g_array_index(x->triples, tb_energy_triple, k);
		add_square(c, t->weight, 3, (guint32[]){t->b, t->a, t->c}, even);
	}
	const tb_weave_row *ground = tb_weave_row_at(w, 0);
	for (guint32 i = ground->first + 1; w->bends && win->low == 0 && i + 1 < ground->first + ground->count; i++)
		if (x->part_of[i] > 0)
			add_square(c, TB_WAVE_WEIGHT * x->part_of[i], 3, (guint32[]){i, i - 1, i + 1}, even);
	for (guint k = 0; k < x->parts->len; k++) {
		const tb_energy_part *part = &g_array_index(x->parts, tb_energy_part, k);
		for (guint32 i = 0; part->row >= win->low && part->row <= win->high && i < tb_energy_part_count(x, part); i++) {
			guint32 node = tb_energy_part_node(x, part, i);
			double weight = part->before == TB_NONE ? x->part_of[node] * TB_CORE_WEIGHT : tb_energy_side_part(x) * TB_SIDE_WEIGHT;
			if (weight > 0)
				add_square(c, weight, 1, &node, one);
		}
	}
}

static void add_equations(const tb_energy *x, const tb_window *win)
{
	couples c = {.x = x, .win = win};
	add_squares(&c);
	/* All that is in a square is there with itself; some of it may lie beside the window. */
	for (guint32 i = 0; i < c.nodes && !win->plain; i++)
		x->shares[x->coupled[i]] = share_of(x, win, x->coupled[i]);
	for (guint32 i = 0; i < c.nodes; i++) {
		guint32 *first = &x->first_couple[x->coupled[i]];
		for (guint32 k = *first; k != 0; k = c.all[k].next)
			add_entries(&c, x->coupled[i], c.all[k].other, c.all[k].value);
		*first = 0;
	}
	for (guint32 i = 0; i < win->count; i++)
		tb_envelope_add(win->envelope, i, i, STILL);
	g_free(c.all);
}

void tb_window_close(const tb_energy *x, tb_window *win)
{
	tb_energy_place_rows(x, win->low, win->high);
	for (guint32 v = win->first; v < win->end; v++)
		x->unknown[v] = TB_NONE;
	g_free(win->x);
	tb_envelope_free(win->envelope);
}

/* Rows LOW to HIGH move. WITH_PERIOD: so does the period. False when nothing can be solved. */
bool tb_window_open(const tb_energy *x, tb_window *win, guint32 low, guint32 high, bool with_period)
{
	const tb_weave_row *last = tb_weave_row_at(x->w, high);
	*win = (tb_window){.low = low, .high = high, .cells_from = low, .period = TB_NONE, .plain = !with_period,
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
	for (guint32 k = x->first_near[win->cells_from]; k < x->first_near[high + 1] && !win->plain; k++)
		x->shares[x->near_nodes[k]] = share_of(x, win, x->near_nodes[k]);
	win->envelope = tb_envelope_new(win->count, win->period);
	win->x = g_new(double, 2 * (gsize)win->count + 1);
	add_equations(x, win);
	return win->count > 0 && tb_envelope_factor(win->envelope);
}

/* One tb_window_sweep: to where the targets ask everything to be. Returns the root mean square of what moved. */
double tb_window_sweep(tb_energy *x, const tb_window *win)
{
	const tb_weave *w = x->w;
	tb_energy_place_rows(x, win->low, win->high);
	tb_energy_pull(x, win);
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
		const tb_energy_share *s = &x->shares[v];
		for (unsigned p = 0; p < s->count; p++)
			win->x[s->unknown[p]] += dot(s->part[p], x->force[v]);
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
	return sqrt(sum / MAX(win->count, 1));
}

