/* The order of laying: rows one by one, their fans narrow at first, then all together until nothing moves. */
#include "layout/relax.h"

#include "layout/energy.h"

#include <string.h>

/* Of a ring that is no middle: so many rows tell where it grows, felt so far about, of the ring; it is round where it … */
#define RING_ROWS 8
#define RING_NEAR 16
#define RING_EVEN 0.3 /* … hardly grows; a part of its turn goes evenly around it all the same */
#define RING_TIGHT 0.95 /* … drawn in so much */
#define LONG_ROUND 48
#define MOST_ROOM 1.18 /* so many times as high the stitches of a round stand at most, to have room */
#define MOST_OPEN 0.2 /* of a round, that is chains, where its stitches part all the same */
#define NARROW_LEAN 0.4 /* what leans less, in radians, is laid at once */
#define NARROW_SWEEPS 7 /* fans grow from 0.35 to their width */
#define WIDE_SWEEPS 16
#define ROWS_AT_ONCE 2 /* plain rows that are laid before they are settled */
#define WINDOW 3 /* rows that move while a row is laid */
#define MOST_SWEEPS 120
#define LEAST_SWEEPS 6
#define ENOUGH 1e-3 /* root mean square of what a sweep moves, in columns */
#define ENOUGH_LAID 1e-3 /* … while rows are laid */
#define MEMORY 5 /* sweeps that the next is foretold from */
#define MOST_STEP 0.8
#define LEAST_CORNERS 3 /* a piece with so many has one of its sides below */
#define MOST_CORNERS 8
#define CLEAR_CORNERS 0.25 /* … and corners that nothing but the radius tells are at least so clear */
#define NO_CORNERS 1e-6 /* what reaches no farther is a circle, and where it does is chance */
#define LONG 0.05 /* what is longer than wide has so much more of its squares along it than across, of all */
/* So many products may be spent on the sweeps of the whole: what has no symmetry and is large is left a little early. */
#define MOST_PRODUCTS 2e7
/* What has more places to be found is left as its rows were laid: the whole would take more memory than there is. */
#define MOST_WHOLE 60000

/* Opens the fans of rows LOW to HIGH so far. False when there is none to open. */
static bool open_fans(tb_energy *x, guint32 low, guint32 high, double fan)
{
	guint32 any = 0;
	for (guint32 k = x->first_leg[low]; k < x->first_leg[high + 1]; k++) {
		tb_energy_leg *l = &x->legs[k];
		l->leaning = turned(l->lean * fan);
		l->tall = l->height * tb_weave_node_at(x->w, l->node)->stretch;
		any += fabs(l->lean) > NARROW_LEAN && l->kind != TB_LEG_RING;
	}
	return any * 10 > x->first_leg[high + 1] - x->first_leg[low];
}

static void set_place(const tb_energy *x, guint32 node, double complex place)
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
static void centre_used(const tb_energy *x, double *at)
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
	if (first == TB_NONE)
		return;
	double middle = (at[first] + at[last]) / 2;
	for (guint32 k = 0; k < ground->count; k++)
		at[k] -= middle;
}

/* How many stitches and chains of row R stand over each place of the foundation, over what they stand on: into OVER. */
static void count_over(const tb_weave *w, guint32 last, double *over)
{
	guint32 m = tb_weave_row_at(w, 0)->count, end = tb_weave_row_at(w, last)->first + tb_weave_row_at(w, last)->count;
	g_autofree double *at = g_new(double, end + 1);
	for (guint32 i = 0; i < end; i++) {
		const tb_weave_node *node = tb_weave_node_at(w, i);
		at[i] = i < m ? i : NAN;
		for (guint32 k = 0; k < node->leg_count && i >= m; k++) {
			const tb_weave_leg *l = tb_weave_leg_at(w, node->first_leg + k);
			if (l->kind == TB_LEG_RING)
				continue;
			guint32 base = l->kind == TB_LEG_NODE ? l->base : tb_weave_run_at(w, l->base)->before;
			if (base < i)
				at[i] = at[base];
		}
		const tb_weave_edge *e = node->next != TB_NONE ? tb_weave_edge_at(w, node->next) : NULL;
		if (node->row == last && !isnan(at[i]))
			over[(guint32)at[i]] += 1 + (e != NULL && e->chains > 0 ? e->chains : 0);
	}
}

/* Each place the mean of those so near, around the ring, twice. */
static void smooth_around(double *value, guint32 m, guint32 near)
{
	g_autofree double *mean = g_new(double, m);
	for (unsigned turn = 0; turn < 2; turn++) {
		for (guint32 k = 0; k < m; k++) {
			mean[k] = 0;
			for (guint32 j = 0; j <= 2 * near; j++)
				mean[k] += value[(k + m + j - near) % m] / (2 * near + 1);
		}
		memcpy(value, mean, m * sizeof *value);
	}
}

/*
 * What part of a whole turn the corners of a ring make, that has GROWN so much over each place in its first rows. A corner
 * where a row of height h grows by g is mitred: it turns by twice the arc tangent of g by 2 h.
 */
static double turn_of_corners(const tb_weave *w, guint32 last, const double *grown)
{
	guint32 m = tb_weave_row_at(w, 0)->count, corners = 0, away = m;
	double sum = 0, high = 0;
	for (guint32 k = 0; k < m; k++) {
		corners += grown[k] > 0 && away > m / RING_NEAR;
		away = grown[k] > 0 ? 0 : away + 1;
		sum += grown[k];
	}
	for (guint32 r = 1; r <= last; r++) {
		const tb_weave_row *row = tb_weave_row_at(w, r);
		high += row->count > 0 ? tb_weave_node_at(w, row->first)->height : 0;
	}
	return corners > 0 && high > 0 ? corners * 2 * atan(sum / corners / 2 / high) / (2 * G_PI) : 0;
}

/*
 * The places of a ring that is no middle: it bends where what stands on it grows, and is straight between. A yoke that
 * grows everywhere has a round neck; a raglan, of four corners, a neck with corners.
 */
static double complex *bend_ring(const tb_weave *w, const double *at, double around)
{
	guint32 m = tb_weave_row_at(w, 0)->count, last = MIN(w->rows->len - 1, RING_ROWS);
	g_autofree double *grown = g_new0(double, m);
	double complex *places = g_new0(double complex, m), middle = 0, gap = 0;
	double sum = 0, angle = 0;
	count_over(w, last, grown);
	for (guint32 k = 0; k < m; k++)
		grown[k] = fmax(grown[k] - 1, 0);
	double even = fmax(1 - turn_of_corners(w, last, grown), RING_EVEN);
	smooth_around(grown, m, MAX(m / RING_NEAR, 1));
	for (guint32 k = 0; k < m; k++)
		sum += grown[k];
	for (guint32 k = 0; k < m; k++) {
		double turn = 2 * G_PI * (even / m + (sum > 0 ? (1 - even) * grown[k] / sum : 0));
		double step = k + 1 < m ? at[k + 1] - at[k] : around - (at[m - 1] - at[0]);
		angle += turn / 2;
		double complex next = places[k] + step * turned(angle);
		angle += turn / 2;
		if (k + 1 < m)
			places[k + 1] = next;
		else
			gap = next - places[0];
	}
	for (guint32 k = 0; k < m; k++) {
		places[k] -= gap * (at[k] - at[0]) / around;
		middle += places[k] / m;
	}
	for (guint32 k = 0; k < m; k++)
		places[k] = (places[k] - middle) * RING_TIGHT;
	return places;
}

static void lay_foundation(tb_energy *x)
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
	g_autofree double complex *ring = NULL;
	double complex axis = 1;
	double closing = m > 0 && tb_weave_node_at(w, m - 1)->next != TB_NONE ?
		tb_weave_edge_at(w, tb_weave_node_at(w, m - 1)->next)->rest : 1;
	if (w->rounds && !w->oval && m > 2) {
		guint32 offset = x->symmetry->offset;
		ring = bend_ring(w, at, whole + closing);
		axis = x->symmetry->mirror ? unit_of(ring[offset / 2 % m] + ring[(offset + 1) / 2 % m]) : I * unit_of(ring[0]);
	}
	for (guint32 k = 0; k < m; k++) {
		double complex place = at[k] * ground->sign;
		if (w->curve != 0 && whole > 0) {
			double radius = whole / w->curve, angle = creal(place) / radius;
			place = radius * (sin(angle) + I * (cos(angle) - 1));
		}
		if (w->oval)
			place = at[k] * (x->spine_turn ? -1 : 1);
		else if (ring != NULL)
			place = ring[k] / axis;
		set_place(x, k, place);
	}
	tb_energy_place_rows(x, 0, 0);
}

/* The first places of a row: over its bases, leaning a third of what its fans will. */
static void lay_row(tb_energy *x, guint32 r)
{
	const tb_weave *w = x->w;
	const tb_weave_row *row = tb_weave_row_at(w, r);
	double complex before = 0;
	bool any = false;
	guint32 k = x->first_leg[r];
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		if (x->symmetry->frames[i].origin != i)
			continue;
		const tb_weave_node *node = tb_weave_node_at(w, i);
		double complex foot = 0, up = 0;
		guint32 legs = 0;
		while (k < x->first_leg[r + 1] && x->legs[k].node < i)
			k++;
		for (; k < x->first_leg[r + 1] && x->legs[k].node == i; k++, legs++) {
			const tb_energy_leg *l = &x->legs[k];
			double complex out;
			double rise;
			foot += tb_energy_foot(x, l, &rise);
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
	tb_energy_place_rows(x, r, r);
}

/*
 * How much of its row an edge takes. Of a long round it is found from every second node: stitches that stand by turns
 * nearer and further out would make it seem longer than it is.
 */
static double way_laid(const tb_weave *w, const tb_weave_row *row, const tb_weave_edge *e)
{
	guint32 n = row->count, from = e->from - row->first;
	if (!row->closed || n < LONG_ROUND || e->from < row->first || from >= n)
		return length_of(w->z[e->to] - w->z[e->from]);
	const double complex *z = &w->z[row->first];
	double across = length_of(z[(from + 2) % n] - z[from]) + length_of(z[(from + 1) % n] - z[(from + n - 1) % n]);
	/* Of a circle every second is nearer than two steps. */
	return across / 4 / cos(G_PI / n);
}

/* Stems of a round stretch so that its stitches have room, and its stitches part where it does not grow. */
static void make_room(tb_energy *x, guint32 r)
{
	const tb_weave *w = x->w;
	const tb_weave_row *row = tb_weave_row_at(w, r);
	double rest = 0, laid = 0, tallest = 0, turns = x->symmetry->turns;
	double chains = 0;
	for (guint32 i = row->first; i < row->first + row->count; i++)
		tallest = fmax(tallest, tb_weave_node_at(w, i)->height);
	for (guint32 k = x->first_edge[r]; k < x->first_edge[r + 1]; k++) {
		const tb_energy_edge *counted = &g_array_index(x->edges, tb_energy_edge, k);
		const tb_weave_edge *e = tb_weave_edge_at(w, counted->edge);
		double times = turns * counted->weight / e->weight * (x->symmetry->image != NULL ? 2 : 1);
		rest += e->rest * times;
		laid += way_laid(w, row, e) * times;
		chains += e->chains > 0 ? times : 0;
	}
	bool solid = chains < MOST_OPEN * row->count;
	double stretch = tallest < 1 ? 1.3 : MOST_ROOM;
	if (!w->oval) {
		double most = tallest < 1 ? 1.45 : r == 1 ? 1.6 : MOST_ROOM;
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

static gsize pack(const tb_energy *x, const tb_window *win, double *out)
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

static void unpack(tb_energy *x, const tb_window *win, const double *in)
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

/*
 * What the last sweeps did: how far the last moved, and where to; between each two of those before, how the moves and
 * the places differ. The products of all the differences of moves are kept with them.
 */
typedef struct {
	double *moved, *to;
	double *turn[MEMORY], *step[MEMORY];
	double products[MEMORY][MEMORY];
	unsigned count; /* of differences */
	bool any;
	gsize size;
} memory;

static double product_of(const double *a, const double *b, gsize size)
{
	double s0 = 0, s1 = 0;
	gsize i = 0;
	for (; i + 2 <= size; i += 2) {
		s0 += a[i] * b[i];
		s1 += a[i + 1] * b[i + 1];
	}
	return s0 + s1 + (i < size ? a[i] * b[i] : 0);
}

static void forget_oldest(memory *m)
{
	double *turn = m->turn[0], *step = m->step[0];
	memmove(m->turn, m->turn + 1, (MEMORY - 1) * sizeof *m->turn);
	memmove(m->step, m->step + 1, (MEMORY - 1) * sizeof *m->step);
	m->turn[MEMORY - 1] = turn;
	m->step[MEMORY - 1] = step;
	for (unsigned k = 1; k < MEMORY; k++)
		memmove(m->products[k - 1], m->products[k] + 1, (MEMORY - 1) * sizeof(double));
	m->count--;
}

static void remember(memory *m, const double *from, const double *to)
{
	if (m->any && m->count == MEMORY)
		forget_oldest(m);
	double *turn = m->turn[m->count], *step = m->step[m->count];
	for (gsize i = 0; i < m->size; i++) {
		double moved = to[i] - from[i];
		turn[i] = moved - m->moved[i];
		step[i] = to[i] - m->to[i];
		m->moved[i] = moved;
		m->to[i] = to[i];
	}
	if (m->any) {
		for (unsigned k = 0; k <= m->count; k++)
			m->products[k][m->count] = m->products[m->count][k] = product_of(m->turn[k], turn, m->size);
		m->count++;
	}
	m->any = true;
}

/* Where the last sweeps together lead (Anderson): into NEXT. */
static void foretell(const memory *m, double *next)
{
	unsigned n = m->count;
	double matrix[MEMORY][MEMORY] = {{0}}, side[MEMORY] = {0}, trace = 0, far = 0;
	for (unsigned k = 0; k < n; k++) {
		side[k] = product_of(m->turn[k], m->moved, m->size);
		trace += m->products[k][k];
	}
	for (unsigned k = 0; k < n; k++) {
		memcpy(matrix[k], m->products[k], n * sizeof(double));
		matrix[k][k] += 1e-7 * trace;
	}
	solve_small(matrix, side, n);
	for (gsize i = 0; i < m->size; i++) {
		double step = 0;
		for (unsigned k = 0; k < n; k++)
			step += side[k] * m->step[k][i];
		next[i] = m->to[i] - step;
		far = fmax(far, fabs(step));
	}
	if (!(far < MOST_STEP))
		for (gsize i = 0; i < m->size; i++)
			next[i] = isfinite(far) ? m->to[i] + (next[i] - m->to[i]) * MOST_STEP / far : m->to[i];
}

static unsigned settle(tb_energy *x, const tb_window *win, unsigned most, double enough)
{
	gsize size = 2 * (gsize)(win->end - win->first) + 1;
	memory m = {.moved = g_new0(double, size), .to = g_new0(double, size)};
	for (unsigned k = 0; k < MEMORY; k++) {
		m.turn[k] = g_new(double, size);
		m.step[k] = g_new(double, size);
	}
	g_autofree double *from = g_new(double, size), *to = g_new(double, size);
	double best = INFINITY;
	unsigned used = 0;
	while (used < most) {
		m.size = pack(x, win, from);
		double moved = tb_window_sweep(x, win);
		used++;
		pack(x, win, to);
		if (moved < enough)
			break;
		if (moved > 1.5 * best && m.any) {
			/* It did not help: on from the last plain tb_window_sweep. */
			unpack(x, win, m.to);
			m.count = 0;
			m.any = false;
			best = INFINITY;
			continue;
		}
		best = fmin(best, moved);
		remember(&m, from, to);
		if (m.count == 0 || used == most)
			continue;
		foretell(&m, from);
		unpack(x, win, from);
	}
	g_free(m.moved);
	g_free(m.to);
	for (unsigned k = 0; k < MEMORY; k++) {
		g_free(m.turn[k]);
		g_free(m.step[k]);
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

/* The direction in which a round is clearly longer than across; 0 for none. */
static double complex find_length(const tb_weave *w, const tb_weave_row *row)
{
	double complex sum = 0;
	double whole = 0;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		sum += w->z[i] * w->z[i];
		whole += creal(w->z[i] * conj(w->z[i]));
	}
	return length_of(sum) > LONG * whole ? turned(carg(sum) / 2) : 0;
}

/* The last round's lower side lies level: corners are where the radius is greatest. */
static void set_upright(tb_energy *x)
{
	tb_weave *w = x->w;
	const tb_weave_row *row = tb_weave_row_at(w, w->rows->len - 1);
	double complex turn = 1;
	if (w->oval)
		return;
	guint32 turns = w->rounds ? count_corners(w, row, x->symmetry->turns) : 1;
	double complex corners = turns >= LEAST_CORNERS && turns <= MOST_CORNERS ? find_corners(w, row, turns) : 0;
	double complex lengthwise = w->rounds && x->symmetry->turns < LEAST_CORNERS ? find_length(w, row) : 0;
	if (lengthwise != 0) {
		/* What is longer than across lies along the page, the seam below. */
		turn = (cimag(w->z[row->first] / lengthwise) < 0 ? 1 : -1) / lengthwise;
	} else if (length_of(corners) > NO_CORNERS) {
		double corner = carg(corners) / turns, way = fmod(-G_PI / 2 + G_PI / turns - corner, 2 * G_PI / turns);
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
}

/* How many places a whole piece is solved for. */
static guint32 count_origins(const tb_weave *w, const tb_symmetry *symmetry)
{
	guint32 count = 0;
	for (guint32 v = 0; v < w->nodes->len; v++)
		count += symmetry->frames[v].origin == v && symmetry->frames[v].freedom != TB_FREEDOM_NONE;
	return count;
}

unsigned tb_relax(tb_weave *w, const tb_symmetry *symmetry)
{
	tb_energy x;
	tb_window win;
	unsigned used = 0;
	guint32 waiting = 0;
	tb_energy_start(&x, w, symmetry);
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
		if (tb_window_open(&x, &win, r >= rows ? r - rows + 1 : 0, r, false)) {
			for (unsigned k = 0; k < NARROW_SWEEPS && fans; k++) {
				open_fans(&x, r, r, 0.35 + 0.1 * k);
				tb_window_sweep(&x, &win);
			}
			open_fans(&x, r, r, 1);
			settle(&x, &win, WIDE_SWEEPS, ENOUGH_LAID);
		}
		tb_window_close(&x, &win);
	}
	bool moves = symmetry->level || symmetry->moves;
	bool whole = w->rows->len > 1 && count_origins(w, symmetry) <= MOST_WHOLE;
	if (whole && tb_window_open(&x, &win, 0, w->rows->len - 1, moves)) {
		double products = 4.0 * tb_envelope_size(win.envelope);
			used = settle(&x, &win, (unsigned)CLAMP(MOST_PRODUCTS / fmax(products, 1), LEAST_SWEEPS, MOST_SWEEPS), ENOUGH);
	}
	if (whole)
		tb_window_close(&x, &win);
	w->period = x.period;
	for (guint32 v = 0; v < w->nodes->len; v++)
		tb_energy_place(&x, v);
	set_upright(&x);
	tb_energy_finish(&x);
	return used;
}
