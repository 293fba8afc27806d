/* The targets of one sweep, from where everything lies, and what they pull with. */
#include "layout/energy.h"

#include "layout/relax.h"

/* Of the tallest of its row: how high an sc on an arc stands with its arc. */
#define LACE_HEIGHT 0.82
/* How nearly square to the stems a row goes on, as the square of the cosine; two in one place do not zigzag. */
#define ALONG 0.09
#define ALONG_IN_PLACE 0.4

void tb_energy_place(const tb_energy *x, guint32 v)
{
	if (x->itself[v]) {
		x->w->z[v] = x->u[v];
		return;
	}
	const tb_frame *f = &x->symmetry->frames[v];
	double complex u = x->u[f->origin];
	x->w->z[v] = times(f->turn, f->mirrored ? conj(u) : u) + f->shift * x->period;
}

/* The places of what is needed in the rows LOW to HIGH. */
void tb_energy_place_rows(const tb_energy *x, guint32 low, guint32 high)
{
	for (guint32 k = x->first_near[low]; k < x->first_near[high + 1]; k++)
		tb_energy_place(x, x->near_nodes[k]);
}

/* An arc as it bears feet: where it begins, the way to its end, and out of its middle to how high it rises. */
typedef struct {
	guint32 run;
	double complex from, way, bow;
	double rise;
} bearing;

static bearing bearing_of(const tb_weave *w, guint32 r)
{
	const tb_weave_run *run = tb_weave_run_at(w, r);
	bearing b = {.run = r, .from = w->z[run->before]};
	b.way = w->z[run->after] - b.from;
	double length = length_of(b.way);
	b.rise = tb_relax_bow(w, run, length);
	b.bow = (length > 1e-9 ? left_of(b.way) * (1 / length) : -1) * (b.rise * tb_weave_row_at(w, run->row)->sign);
	return b;
}

static double complex foot_on(const bearing *b, double along)
{
	return b->from + b->way * along + b->bow * (4 * along * (1 - along));
}

double complex tb_energy_foot(const tb_energy *x, const tb_energy_leg *l, double *rise)
{
	*rise = 0;
	if (l->kind == TB_LEG_RING)
		return 0;
	if (l->kind == TB_LEG_NODE)
		return x->w->z[l->base];
	bearing b = bearing_of(x->w, l->base);
	*rise = b.rise;
	return foot_on(&b, l->along);
}

/* The stems of all legs, and what they ask of the cells they stand on and are in. */
static void find_stems(tb_energy *x, guint32 from, guint32 to)
{
	const double complex *z = x->w->z;
	bearing arc = {.run = TB_NONE};
	for (guint32 k = from; k < to; k++) {
		tb_energy_leg *l = &x->legs[k];
		double complex foot = 0;
		if (l->kind == TB_LEG_NODE) {
			foot = z[l->base];
		} else if (l->kind == TB_LEG_RUN) {
			if (l->base != arc.run)
				arc = bearing_of(x->w, l->base);
			foot = foot_on(&arc, l->along);
			l->rise = arc.rise;
		}
		l->stem = z[l->node] - foot;
		l->reach = length_of(l->stem);
		l->unit = l->reach > 1e-9 ? l->stem * (1 / l->reach) : I;
		x->up[l->node] += l->unit;
		if (l->cell != TB_NONE)
			x->cells[l->cell].sum += l->upright * l->height * times(l->unit, conj(l->leaning));
		if (l->own_cell != TB_NONE)
			x->cells[l->own_cell].sum += l->own * l->height * l->unit;
	}
}

/* The uprights of legs and cells, from where everything is. */
static void find_frames(tb_energy *x, const tb_window *win)
{
	const double complex *z = x->w->z;
	guint32 low = MIN(win->cells_from + 1, win->low);
	guint32 first = x->first_cell[win->cells_from], end = x->first_cell[win->high + 1];
	for (guint32 k = x->first_near[win->cells_from]; k < x->first_near[win->high + 1]; k++)
		x->up[x->near_nodes[k]] = x->force[x->near_nodes[k]] = 0;
	for (guint32 k = first; k < end; k++) {
		tb_energy_cell *c = &x->cells[k];
		c->chord = z[c->to] - z[c->from];
		double square = square_of(c->chord);
		c->sum = left_of(c->chord) * (c->sign * c->weight * (square > 4 ? 2 / sqrt(square) : 1));
	}
	find_stems(x, x->first_leg[low], x->first_leg[win->high + 1]);
	for (guint32 k = first; k < end; k++) {
		tb_energy_cell *c = &x->cells[k];
		c->up = c->fixed ? I : unit_of(c->sum);
	}
}

/* What pulls at a leg's head: to where its stem should reach from its foot, by its weight. */
static double complex pull_of_leg(const tb_energy *x, const tb_energy_leg *l)
{
	const tb_weave *w = x->w;
	double height = l->tall, weight = l->length + l->upright + l->own;
	const tb_weave_node *node = tb_weave_node_at(w, l->node);
	if (node->lace > 0 && l->kind == TB_LEG_RUN)
		height = fmax(0.75, node->lace * LACE_HEIGHT - l->rise) * node->stretch;
	double length = CLAMP(l->reach, height * 0.97, height * l->most);
	double complex sum;
	if (l->several) {
		length = MAX(length, height);
		sum = l->unit * (length * weight);
	} else {
		double complex out;
		if (l->kind == TB_LEG_RING)
			out = I;
		else if (w->oval && tb_weave_base_row(w, tb_weave_leg_at(w, node->first_leg)) == 0)
			out = x->oval_up[l - x->legs];
		else
			out = x->cells[l->cell].up;
		double complex own = l->own_cell != TB_NONE ? x->cells[l->own_cell].up : l->unit;
		sum = l->unit * (l->length * length) + times(out, l->leaning) * (l->upright * height) + own * (l->own * height);
	}
	/* An average of directions is shorter than each: turned, not shortened. */
	double far = w->level ? length_of(sum) : 0;
	if (far > 0.3 * height * weight)
		sum *= MAX(far, length * weight) / far;
	return sum - l->stem * weight;
}

static double complex edge_target(const tb_energy *x, const tb_weave_edge *e, double complex way)
{
	double reach = length_of(way), length = CLAMP(reach, e->least, e->most);
	length += e->pull * (e->rest - length);
	double complex along = reach > 1e-9 ? way * (1 / reach) : I;
	double complex up = e->row > 0 ? x->up[e->from] + x->up[e->to] : 0;
	double square = square_of(up);
	if (square < 1e-18)
		return along * length;
	/* A row never folds: it goes on square to the stems on it. */
	double complex expected = left_of(up) * -tb_weave_row_at(x->w, e->row)->sign;
	double with = dot(along, expected);
	double least = e->same && e->chains == 0 ? ALONG_IN_PLACE : ALONG;
	if (with > 0 && with * with >= least * square)
		return along * length;
	return unit_of(along + expected * (1.2 / sqrt(square))) * fmax(e->least, fmin(length, e->most));
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
	for (guint32 k = x->first_leg[win->low]; k < x->first_leg[win->high + 1]; k++) {
		const tb_energy_leg *l = &x->legs[k];
		if (l->part == 0)
			continue;
		double complex force = l->part * pull_of_leg(x, l);
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
	for (guint32 k = x->first_cell[win->cells_from]; k < x->first_cell[win->high + 1]; k++) {
		const tb_energy_cell *c = &x->cells[k];
		if (c->part == 0 || c->from == c->to)
			continue;
		double complex off = c->up * -dot(c->chord, c->up);
		if (x->w->level) {
			double complex target = c->chord + off;
			double far = length_of(target), length = length_of(c->chord);
			if (far > 0.3 * length)
				off = target * (length / far) - c->chord;
		}
		double complex force = c->part * c->weight * off;
		pull(x, c->to, force);
		pull(x, c->from, -force);
	}
}

static void pull_triples(tb_energy *x, const tb_window *win)
{
	const double complex *z = x->w->z;
	for (guint32 k = x->first_triple[win->low]; k < x->first_triple[win->high + 1]; k++) {
		const tb_energy_triple *t = &g_array_index(x->triples, tb_energy_triple, k);
		double complex off = z[t->b] - (z[t->a] + z[t->c]) / 2, way = z[t->c] - z[t->a];
		/* It gives up what lies along the way between the two, or across it. */
		double complex given = t->level ? left_of(way) : way;
		double square = square_of(way);
		if (square < 1e-18)
			continue;
		double complex force = given * (-t->weight * dot(off, given) / square);
		pull(x, t->b, force);
		pull(x, t->a, force * -0.5);
		pull(x, t->c, force * -0.5);
	}
	/* A foundation that bends bends evenly. */
	const tb_weave_row *ground = tb_weave_row_at(x->w, 0);
	for (guint32 i = ground->first + 1; x->w->bends && win->low == 0 && i + 1 < ground->first + ground->count; i++) {
		double complex force = -TB_WAVE_WEIGHT * x->part_of[i] * (z[i] - (z[i - 1] + z[i + 1]) / 2);
		pull(x, i, force);
		pull(x, i - 1, -force / 2);
		pull(x, i + 1, -force / 2);
	}
}

static double complex core_of(const tb_energy *x, double complex z)
{
	return CLAMP(creal(z), -x->half_spine, x->half_spine);
}

/* The nodes of a round that is a circle are as far as each other from their core. */
static void pull_circle(tb_energy *x, const tb_energy_part *part)
{
	const tb_weave *w = x->w;
	guint32 count = tb_energy_part_count(x, part), first = tb_energy_part_node(x, part, 0);
	double far = 0;
	for (guint32 v = first; v < first + count; v++)
		far += length_of(w->z[v] - core_of(x, w->z[v]));
	for (guint32 v = first; v < first + count; v++) {
		double complex core = core_of(x, w->z[v]);
		/* A spiral climbs by its own height in a turn. */
		double climb = w->spiral ? tb_weave_node_at(w, v)->height * ((v - first) / (count - 1.0) - 0.5) : 0;
		double complex to = core + unit_of(w->z[v] - core) * (far / count + climb);
		pull(x, v, x->part_of[v] * TB_CORE_WEIGHT * (to - w->z[v]));
	}
}

/* The nodes of a polygon's side lie on a line square to the way out. */
static void pull_side(tb_energy *x, const tb_energy_part *part)
{
	const double complex *z = x->w->z;
	guint32 count = tb_energy_part_count(x, part);
	double mean = 0;
	double complex out = unit_of(unit_of(unit_of(z[part->before]) + unit_of(z[tb_energy_part_node(x, part, 0)])) +
		unit_of(unit_of(z[tb_energy_part_node(x, part, count - 1)]) + unit_of(z[part->after])));
	for (guint32 i = 0; i < count; i++)
		mean += dot(z[tb_energy_part_node(x, part, i)], out) / count;
	for (guint32 i = 0; i < count; i++) {
		guint32 v = tb_energy_part_node(x, part, i);
		pull(x, v, tb_energy_side_part(x) * TB_SIDE_WEIGHT * out * (mean - dot(z[v], out)));
	}
}

static void pull_parts(tb_energy *x, const tb_window *win)
{
	for (guint k = 0; k < x->parts->len; k++) {
		const tb_energy_part *part = &g_array_index(x->parts, tb_energy_part, k);
		if (part->row < win->low || part->row > win->high)
			continue;
		if (part->before == TB_NONE)
			pull_circle(x, part);
		else
			pull_side(x, part);
	}
}

void tb_energy_pull(tb_energy *x, const tb_window *win)
{
	find_frames(x, win);
	pull_edges(x, win);
	pull_legs(x, win);
	pull_cells(x, win);
	pull_triples(x, win);
	pull_parts(x, win);
}
