/* Edges and groups of the weave, and what shape everything would have if nothing pulled at it. */
#include "layout/weave.h"

#include "layout/relax.h"

#include <math.h>

/* Heads of a fan stand closer than plain stitches do, in columns; two in a place hardly. */
#define FAN 0.78
#define PAIR 0.9
/* A fan is no wider than this, in radians. */
#define WIDEST_FAN 2.2
/* The half fans at both ends of a petal lean so far. */
#define PETAL_LEAN 0.6
/* … and those of low stitches that cover an arc; no more than so high, in columns, are low. */
#define COVER_LEAN 1.2
#define LOW 1.2
/* Of so many rows it is seen how they grow inside, so many stitches from their edges. */
#define CURVE_ROWS 8
#define EDGE 2
/* What turns less than this, in radians, lies straight; nothing turns more. */
#define LEAST_CURVE 0.4
#define MOST_CURVE 5.6
/* Each of the rows grows by at least this part of what they do in the mean, and at most this part of each is chains. */
#define STEADY 0.3
/* … or by turns, of so many rows, where none turns back by more than this. */
#define ROWS_BY_TURNS 4
#define AGAINST 0.1
#define MOST_OPEN 0.25
/* So few chains are an eyelet. */
#define EYELET 2
/* Neighbours whose heights differ by more than this, in columns, are no level row. */
#define UNEVEN 0.9
/* Chains that pass over so many places each leave them aside. */
#define SPANNED 2
/* So far outside of a petal, in columns, the arc behind it passes. */
#define OUTSIDE 0.5

/* The way that CHAINS chains take between two heads that stand apart, or in one group. */
static double chord(guint32 chains)
{
	return 0.95 + 0.5 * chains;
}

static double chord_in_group(guint32 chains)
{
	return 0.85 + 0.33 * chains;
}

static const tb_weave_leg *only_leg(const tb_weave *w, guint32 node)
{
	const tb_weave_node *n = tb_weave_node_at(w, node);
	return n->leg_count == 1 ? tb_weave_leg_at(w, n->first_leg) : NULL;
}

static bool stand_together(const tb_weave *w, guint32 a, guint32 b)
{
	const tb_weave_leg *x = only_leg(w, a), *y = only_leg(w, b);
	return x != NULL && y != NULL && a != b && x->kind == y->kind && x->base == y->base && x->along == y->along;
}

static void add_edge(tb_weave *w, guint32 from, guint32 to, guint32 row, guint32 run, bool link)
{
	tb_weave_edge edge = {.from = from, .to = to, .run = run, .row = row};
	edge.chains = run != TB_NONE ? tb_weave_run_at(w, run)->count : 0;
	edge.same = row > 0 && stand_together(w, from, to);
	if (link) {
		tb_weave_node_at(w, from)->next = w->edges->len;
		tb_weave_node_at(w, to)->before = w->edges->len;
	}
	g_array_append_val(w->edges, edge);
}

static void find_edges(tb_weave *w)
{
	g_array_set_size(w->edges, 0);
	for (guint32 i = 0; i < w->nodes->len; i++)
		tb_weave_node_at(w, i)->next = tb_weave_node_at(w, i)->before = TB_NONE;
	g_autofree guint32 *run_behind = g_new(guint32, w->nodes->len + 1);
	for (guint32 i = 0; i < w->nodes->len; i++)
		run_behind[i] = TB_NONE;
	for (guint32 q = 0; q < w->runs->len; q++) {
		const tb_weave_run *run = tb_weave_run_at(w, q);
		if (run->count > 0 && run->after != TB_NONE && tb_weave_node_at(w, run->before)->row == run->row)
			run_behind[run->before] = q;
	}
	for (guint32 r = 0; r < w->rows->len; r++) {
		const tb_weave_row *row = tb_weave_row_at(w, r);
		guint32 edges = row->closed ? row->count : row->count > 0 ? row->count - 1 : 0;
		for (guint32 k = 0; k < edges; k++) {
			guint32 a = row->first + k, b = row->first + (k + 1) % row->count;
			guint32 run = run_behind[a];
			add_edge(w, a, b, r, run != TB_NONE && tb_weave_run_at(w, run)->after == b ? run : TB_NONE, true);
		}
		/* A spiral goes on from round to round. */
		const tb_weave_row *below = r > 1 ? tb_weave_row_at(w, r - 1) : NULL;
		if (w->rounds && below != NULL && !row->closed && row->count > 2 && below->count > 2 && !below->closed)
			add_edge(w, below->first + below->count - 1, row->first, r, TB_NONE, true);
	}
	/* Chains that a row begins with lead up from the row below. */
	for (guint32 q = 0; q < w->runs->len; q++) {
		const tb_weave_run *run = tb_weave_run_at(w, q);
		if (run->count > 0 && run->after != TB_NONE && tb_weave_node_at(w, run->before)->row != run->row)
			add_edge(w, run->before, run->after, run->row, q, false);
	}
}

static void find_groups(tb_weave *w)
{
	g_array_set_size(w->groups, 0);
	for (guint32 r = 1; r < w->rows->len; r++) {
		const tb_weave_row *row = tb_weave_row_at(w, r);
		guint32 n = row->count, start = 0;
		while (row->closed && start < n && stand_together(w, row->first + (n - start - 1 + n) % n, row->first + (n - start) % n))
			start++;
		if (start == n)
			start = 0; /* all of the round in one ring */
		for (guint32 k = 0; k < n;) {
			guint32 first = (k + n - start) % n, count = 1;
			while (k + count < n && stand_together(w, row->first + (first + count - 1) % n, row->first + (first + count) % n))
				count++;
			tb_weave_group group = {.row = r, .first = first, .count = count};
			for (guint32 i = 0; i < count; i++) {
				tb_weave_node *node = tb_weave_node_at(w, row->first + (first + i) % n);
				node->group = w->groups->len;
				node->group_size = count;
			}
			g_array_append_val(w->groups, group);
			k += count;
		}
	}
}

/* Where a row's own ends are the flat piece's sides. */
static void find_sides(tb_weave *w)
{
	w->petals = false;
	for (guint32 i = 0; i < w->nodes->len; i++) {
		tb_weave_node *node = tb_weave_node_at(w, i);
		node->side = TB_SIDE_NEITHER;
		node->lean = node->end_lean = node->lace = 0;
		node->stretch = node->head_room = 1;
		node->petal = node->spread = false;
	}
	w->mirror_side[TB_SIDE_LEFT] = w->mirror_side[TB_SIDE_RIGHT_HAND] = false;
	w->side_weight[TB_SIDE_LEFT] = w->side_weight[TB_SIDE_RIGHT_HAND] = 4;
	for (guint32 r = 0; r < w->rows->len && !w->rounds; r++) {
		const tb_weave_row *row = tb_weave_row_at(w, r);
		if (row->count == 0)
			continue;
		tb_weave_node_at(w, row->first)->side = row->sign > 0 ? TB_SIDE_LEFT : TB_SIDE_RIGHT_HAND;
		tb_weave_node_at(w, row->first + row->count - 1)->side = row->sign > 0 ? TB_SIDE_RIGHT_HAND : TB_SIDE_LEFT;
	}
}

/* Half fans at a flat edge: the edge is the middle of a fan, and the fabric's mirror line. */
static void find_mirror_sides(tb_weave *w)
{
	for (guint32 r = 1; r < w->rows->len && !w->rounds; r++) {
		const tb_weave_row *row = tb_weave_row_at(w, r);
		if (row->count < 3)
			continue;
		const tb_weave_node *ends[2] = {tb_weave_node_at(w, row->first), tb_weave_node_at(w, row->first + row->count - 1)};
		guint32 most = 0;
		for (guint32 k = ends[0]->group + 1; k < ends[1]->group; k++)
			most = MAX(most, tb_weave_group_at(w, k)->count);
		for (unsigned e = 0; e < 2; e++) {
			const tb_weave_leg *leg = tb_weave_leg_at(w, ends[e]->first_leg);
			if (most > 0 && ends[e]->group_size > 1 && leg->kind == TB_LEG_NODE && ends[e]->group_size * 2 - 1 == most)
				w->mirror_side[ends[e]->side] = true;
		}
	}
}

/* How far along the group each member stands, in columns, and the whole. */
static double measure_group(const tb_weave *w, const tb_weave_group *group, double *along)
{
	const tb_weave_node *first = tb_weave_node_at(w, tb_weave_member(w, group, 0));
	bool ring = first->leg_count > 0 && tb_weave_leg_at(w, first->first_leg)->kind == TB_LEG_RING;
	along[0] = 0;
	for (guint32 i = 1; i < group->count; i++) {
		const tb_weave_edge *edge = tb_weave_edge_at(w, tb_weave_node_at(w, tb_weave_member(w, group, i - 1))->next);
		double way = group->count > 2 ? FAN : PAIR;
		if (edge->chains > 0)
			way = ring ? chord(edge->chains) : chord_in_group(edge->chains);
		along[i] = along[i - 1] + way;
	}
	return along[group->count - 1];
}

/* A group on an arc that is low at an end and high in its middle spreads its feet along the arc. */
static void shape_petal(tb_weave *w, const tb_weave_group *group, const tb_weave_leg *leg)
{
	double low = INFINITY, high = 0;
	for (guint32 i = 0; i < group->count; i++) {
		double height = tb_weave_node_at(w, tb_weave_member(w, group, i))->height;
		low = fmin(low, height);
		high = fmax(high, height);
	}
	double ends = fmin(tb_weave_node_at(w, tb_weave_member(w, group, 0))->height,
		tb_weave_node_at(w, tb_weave_member(w, group, group->count - 1))->height);
	if (group->count <= 3 || leg->kind != TB_LEG_RUN || high - low <= UNEVEN || ends >= high - 0.5)
		return;
	const tb_weave_run *run = tb_weave_run_at(w, leg->base);
	int sign = tb_weave_row_at(w, group->row)->sign, forward = sign * tb_weave_row_at(w, run->row)->sign;
	double span = fmin(0.8, 0.5 * (group->count - 1) / (0.66 * run->count + 0.45));
	for (guint32 i = 0; i < group->count; i++) {
		tb_weave_node *node = tb_weave_node_at(w, tb_weave_member(w, group, i));
		double u = i / (group->count - 1.0) - 0.5;
		tb_weave_leg_at(w, node->first_leg)->along = 0.5 + forward * u * span;
		node->petal = node->spread = w->petals = true;
		node->lean = -sign * u * 2 * PETAL_LEAN;
	}
}

/* Whether low stitches on an arc are at least as many as its chains, with no chains between. */
static bool covers_arc(const tb_weave *w, const tb_weave_group *group, const tb_weave_leg *leg)
{
	if (leg->kind != TB_LEG_RUN || group->count < 3 || tb_weave_run_at(w, leg->base)->count < 2 ||
		group->count < tb_weave_run_at(w, leg->base)->count)
		return false;
	for (guint32 i = 0; i < group->count; i++) {
		const tb_weave_node *node = tb_weave_node_at(w, tb_weave_member(w, group, i));
		if (node->height >= LOW || (i + 1 < group->count && tb_weave_edge_at(w, node->next)->chains > 0))
			return false;
	}
	return true;
}

/* They cover it, each with its own part. */
static void cover_arc(tb_weave *w, const tb_weave_group *group, const tb_weave_leg *leg)
{
	const tb_weave_run *run = tb_weave_run_at(w, leg->base);
	int sign = tb_weave_row_at(w, group->row)->sign, forward = sign * tb_weave_row_at(w, run->row)->sign;
	for (guint32 i = 0; i < group->count; i++) {
		tb_weave_node *node = tb_weave_node_at(w, tb_weave_member(w, group, i));
		double u = (i + 0.5) / group->count - 0.5;
		tb_weave_leg_at(w, node->first_leg)->along = 0.5 + forward * u;
		node->spread = true;
		node->lean = -sign * u * 2 * COVER_LEAN;
	}
}

static void shape_group(tb_weave *w, const tb_weave_group *group)
{
	const tb_weave_node *first = tb_weave_node_at(w, tb_weave_member(w, group, 0));
	if (first->leg_count == 0)
		return;
	double few[8];
	g_autofree double *many = group->count > G_N_ELEMENTS(few) ? g_new(double, group->count) : NULL;
	double *along = many != NULL ? many : few;
	double whole = measure_group(w, group, along), mean = 0;
	const tb_weave_leg *leg = tb_weave_leg_at(w, first->first_leg);
	bool ring = leg->kind == TB_LEG_RING;
	for (guint32 i = 0; i < group->count; i++)
		mean += tb_weave_node_at(w, tb_weave_member(w, group, i))->height / group->count;
	mean = fmax(UNEVEN, mean) + (ring ? w->ring_radius : 0);
	int turn = -tb_weave_row_at(w, group->row)->sign;
	if (ring && w->rounds) {
		const tb_weave_node *last = tb_weave_node_at(w, tb_weave_member(w, group, group->count - 1));
		guint32 chains = last->next != TB_NONE ? tb_weave_edge_at(w, last->next)->chains : 0;
		whole += chains > 0 ? chord(chains) : group->count > 2 ? FAN : PAIR;
		for (guint32 i = 0; i < group->count; i++)
			tb_weave_node_at(w, tb_weave_member(w, group, i))->lean = G_PI + turn * along[i] / whole * 2 * G_PI;
		return;
	}
	if (covers_arc(w, group, leg)) {
		cover_arc(w, group, leg);
		return;
	}
	double scale = 1, room = 1;
	if (whole / mean > WIDEST_FAN && !ring) {
		double feet = leg->kind == TB_LEG_RUN ?
			fmin(0.16 * group->count, 0.22 * tb_weave_run_at(w, leg->base)->count) : 0;
		scale = WIDEST_FAN * mean / whole;
		room = fmin(1, (WIDEST_FAN * mean + feet) / whole);
	}
	for (guint32 i = 0; i < group->count; i++) {
		tb_weave_node *node = tb_weave_node_at(w, tb_weave_member(w, group, i));
		node->lean = turn * (along[i] - whole / 2) * scale / mean;
		node->end_lean = turn * (i - (group->count - 1) / 2.0) * G_PI / group->count;
		node->head_room = room;
	}
	shape_petal(w, group, leg);
	/* Half a fan at a mirror edge begins upright. */
	for (unsigned e = 0; e < 2 && group->count > 1; e++) {
		const tb_weave_node *end = tb_weave_node_at(w, tb_weave_member(w, group, e == 0 ? 0 : group->count - 1));
		if (end->side == TB_SIDE_NEITHER || !w->mirror_side[end->side])
			continue;
		double upright = end->lean;
		for (guint32 i = 0; i < group->count; i++)
			tb_weave_node_at(w, tb_weave_member(w, group, i))->lean -= upright;
	}
}

/* A row whose rows are all as wide, chains counted, lies straight. */
static void find_grid(tb_weave *w)
{
	guint32 least = G_MAXUINT32, most = 0;
	g_autofree guint32 *total = g_new0(guint32, w->rows->len + 1);
	for (guint32 q = 0; q < w->runs->len; q++)
		total[tb_weave_run_at(w, q)->row] += tb_weave_run_at(w, q)->count;
	for (guint32 r = 1; r < w->rows->len; r++) {
		guint32 count = total[r] + tb_weave_row_at(w, r)->count;
		least = MIN(least, count);
		most = MAX(most, count);
	}
	w->grid = !w->rounds && !w->ring && most <= least + 1;
}

/* How many places lie between those that two neighbours are worked into, in a row that both stand on; else 0. */
static double places_apart(const tb_weave *w, const tb_weave_edge *edge)
{
	const tb_weave_node *a = tb_weave_node_at(w, edge->from), *b = tb_weave_node_at(w, edge->to);
	if (edge->same || a->leg_count == 0 || b->leg_count == 0)
		return 0;
	double nearest = INFINITY;
	for (guint32 i = 0; i < a->leg_count; i++) {
		for (guint32 j = 0; j < b->leg_count; j++) {
			const tb_weave_leg *x = tb_weave_leg_at(w, a->first_leg + i), *y = tb_weave_leg_at(w, b->first_leg + j);
			if (x->kind == TB_LEG_RING || y->kind == TB_LEG_RING || tb_weave_base_row(w, x) != tb_weave_base_row(w, y))
				return 0;
			double way = fabs(tb_weave_base_place(w, x) - tb_weave_base_place(w, y));
			const tb_weave_row *row = tb_weave_row_at(w, tb_weave_base_row(w, x));
			nearest = fmin(nearest, row->closed ? fmin(way, row->count - way) : way);
		}
	}
	return nearest;
}

/*
 * A wave: row 1 is solid, and stitches that stand alone on their chain drift one way and back, or are drawn together.
 * Only then does the foundation bend.
 */
static void find_wave(tb_weave *w)
{
	w->wave = false;
	if (w->rounds || w->ring || w->rows->len < 2 || tb_weave_row_at(w, 0)->count <= 4)
		return;
	const tb_weave_row *row = tb_weave_row_at(w, 1);
	bool bent = false;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_weave_node *node = tb_weave_node_at(w, i);
		if (node->next != TB_NONE) {
			const tb_weave_edge *edge = tb_weave_edge_at(w, node->next);
			if (edge->chains > 0)
				return;
			bent = bent || edge->valley;
		}
		bent = bent || node->leg_count > 1;
		w->wave = w->wave || node->leg_count > 1;
	}
	if (!bent || w->wave)
		return;
	double sum = 0;
	guint32 count = 0, far = 0;
	for (unsigned turn = 0; turn < 2; turn++) {
		for (guint32 i = row->first; i < row->first + row->count; i++) {
			const tb_weave_leg *leg = only_leg(w, i);
			if (leg == NULL || leg->kind != TB_LEG_NODE || tb_weave_node_at(w, i)->group_size != 1)
				continue;
			double drift = (i - row->first) - row->sign * tb_weave_row_at(w, 0)->sign * tb_weave_base_place(w, leg);
			if (turn == 0) {
				sum += drift;
				count++;
			} else {
				far += fabs(drift - sum / count) > 0.6;
			}
		}
	}
	w->wave = count > 2 && far > 0.3 * count;
}

/* How many columns a node is from its row's first, chains counted: by node, into AT. */
static void measure_rows(const tb_weave *w, double *at)
{
	for (guint32 r = 0; r < w->rows->len; r++) {
		const tb_weave_row *row = tb_weave_row_at(w, r);
		for (guint32 i = row->first; i < row->first + row->count; i++) {
			guint32 edge = tb_weave_node_at(w, i)->before;
			at[i] = i == row->first || edge == TB_NONE ? 0 : at[i - 1] + 1 + tb_weave_edge_at(w, edge)->chains;
		}
	}
}

/* Where a leg stands along the row below. */
static double stands_at(const tb_weave *w, const tb_weave_leg *leg, const double *at)
{
	if (leg->kind == TB_LEG_NODE)
		return at[leg->base];
	const tb_weave_run *run = tb_weave_run_at(w, leg->base);
	return (at[run->before] + at[run->after]) / 2;
}

typedef struct {
	double least, most;
} range;

/* Whether what lies within, CURVE in the mean, is much the same throughout. */
static bool is_steady(const range *within, double curve)
{
	return within->least * within->most > 0 && fmin(fabs(within->least), fabs(within->most)) >= STEADY * fabs(curve);
}

/*
 * Rows that grow inside, not at their edges, turn the row they stand on: by what they grow for what they are high.
 * Raglan lines and yokes worked flat do.
 */
static void find_curve(tb_weave *w)
{
	w->curve = 0;
	/* Rows that are all as wide grow nowhere: a ripple takes at its edges what its crests have. */
	if (w->rounds || w->ring || tb_setting_is_tube(w->s) || w->grid)
		return;
	g_autofree double *at = g_new0(double, w->nodes->len + 1);
	measure_rows(w, at);
	double sum = 0, before = 0;
	range each = {0}, both = {0};
	guint32 rows = 0;
	for (guint32 r = 1; r < w->rows->len && r <= CURVE_ROWS; r++) {
		const tb_weave_row *row = tb_weave_row_at(w, r);
		guint32 first = TB_NONE, last = TB_NONE;
		double tallest = 0;
		for (guint32 i = row->first + EDGE; i + EDGE < row->first + row->count; i++) {
			const tb_weave_leg *leg = only_leg(w, i);
			if (leg == NULL || leg->kind == TB_LEG_RING || tb_weave_base_row(w, leg) + 1 != r ||
				tb_weave_node_at(w, i)->group_size > 1)
				continue;
			first = first == TB_NONE ? i : first;
			last = i;
			tallest = fmax(tallest, tb_weave_node_at(w, i)->height);
		}
		if (first == TB_NONE || last < first + EDGE || at[last] - at[first] < 0.5 * at[row->first + row->count - 1])
			continue;
		double below = fabs(stands_at(w, only_leg(w, last), at) - stands_at(w, only_leg(w, first), at));
		double grown = (at[last] - at[first] - below) / fmax(1, at[last] - at[first]) * at[row->first + row->count - 1];
		/* Openwork has room to grow in, and bends no foundation. */
		double columns = at[row->first + row->count - 1] + 1;
		if (columns - row->count > MOST_OPEN * columns)
			return;
		double turn = grown / fmax(tallest, TB_WEAVE_CHAIN);
		each.least = rows == 0 ? turn : fmin(each.least, turn);
		each.most = rows == 0 ? turn : fmax(each.most, turn);
		if (rows > 0) {
			both.least = rows == 1 ? before + turn : fmin(both.least, before + turn);
			both.most = rows == 1 ? before + turn : fmax(both.most, before + turn);
		}
		before = turn;
		sum += turn;
		rows++;
	}
	double curve = rows > 0 ? sum / rows : 0;
	/* Every second row may turn for both, if none turns back. */
	double back = curve > 0 ? -each.least : each.most;
	bool steady = is_steady(&each, curve) || (rows >= ROWS_BY_TURNS && back <= AGAINST * fabs(curve) && is_steady(&both, 2 * curve));
	if (rows > 1 && steady && fabs(curve) >= LEAST_CURVE)
		w->curve = CLAMP(curve, -MOST_CURVE, MOST_CURVE);
}

static void shape_edges(tb_weave *w)
{
	for (guint32 k = 0; k < w->edges->len; k++) {
		tb_weave_edge *e = tb_weave_edge_at(w, k);
		const tb_weave_node *a = tb_weave_node_at(w, e->from), *b = tb_weave_node_at(w, e->to);
		double apart = places_apart(w, e);
		e->valley = e->chains == 0 && apart >= 2;
		e->weight = e->pull = 1;
		if (e->chains > 0) {
			e->rest = e->same ? chord_in_group(e->chains) : chord(e->chains);
			e->least = e->same ? 1 : fmin(e->rest, 0.45 + 0.42 * e->chains);
			e->most = w->grid ? e->chains + 1.0 : tb_weave_span(e->chains);
			e->pull = e->same ? 0.35 : 0.03;
			/* Over a stretch that is left aside the chains span what there is: cloth would fold there. */
			if (apart > SPANNED * (e->chains + 1) + 2) {
				e->most = 1.5 * apart;
				e->weight = 0.05;
			}
			continue;
		}
		e->rest = 1;
		if (e->same)
			e->rest = a->spread ? 0.62 : a->group_size > 2 ? FAN : PAIR;
		if (e->row > 0 && (a->leg_count == 0 || b->leg_count == 0) && w->rounds)
			e->rest = fmax(1, 0.7 * fmax(a->leg_count == 0 ? a->height : 0, b->leg_count == 0 ? b->height : 0));
		e->least = e->most = e->rest;
		/* A spur would like room, but the row need not bend for it. */
		if (e->row > 0 && a->spur > 0) {
			e->rest = e->most = e->rest + a->spur;
			e->weight = 0.3;
			e->pull = 0.1;
		}
		if (e->row == 0) {
			e->weight = 2;
		} else if (a->spread && e->same) {
			e->least = 0.5;
			e->most = 1.3;
			e->weight = 0.5;
			e->pull = 0.1;
		} else if (fabs(a->height - b->height) > UNEVEN && !e->same) {
			e->rest = 1;
			e->least = 0.8;
			e->most = 9;
			e->weight = 0.3;
			e->pull = 0.05;
		}
	}
}

static void shape_valleys(tb_weave *w)
{
	for (guint32 k = 0; k < w->edges->len; k++) {
		tb_weave_edge *e = tb_weave_edge_at(w, k);
		if (!e->valley)
			continue;
		if (w->wave) {
			e->rest = e->least = e->most = 0.8;
		} else {
			e->rest = 1;
			e->least = 0.75;
			e->most = 9;
			e->weight = 0.3;
			e->pull = 0.12;
		}
	}
}

/*
 * The petal's end beside NODE, which is one too: of the next petal, or the one before; TB_NONE for none. *FIRST: the one
 * before.
 */
static guint32 end_beside(const tb_weave *w, guint32 node, bool *first)
{
	const tb_weave_node *n = tb_weave_node_at(w, node);
	for (unsigned k = 0; k < 2; k++) {
		guint32 edge = k == 0 ? n->before : n->next;
		const tb_weave_edge *e = edge != TB_NONE ? tb_weave_edge_at(w, edge) : NULL;
		guint32 beside = e == NULL ? TB_NONE : k == 0 ? e->from : e->to;
		*first = k == 0;
		if (e != NULL && e->chains == 0 && !e->same && tb_weave_node_at(w, beside)->petal)
			return beside;
	}
	return TB_NONE;
}

/* How much higher than on the petal's end NODE a stitch stands whose arcs are to pass outside of the petal. */
static double rise_behind(const tb_weave *w, guint32 node)
{
	double tallest = 0;
	const tb_weave_group *petal = tb_weave_group_at(w, tb_weave_node_at(w, node)->group);
	const tb_weave_leg *leg = only_leg(w, node);
	for (guint32 k = 0; k < petal->count; k++)
		tallest = fmax(tallest, tb_weave_node_at(w, tb_weave_member(w, petal, k))->height);
	const tb_weave_run *run = leg != NULL && leg->kind == TB_LEG_RUN ? tb_weave_run_at(w, leg->base) : NULL;
	double base = run != NULL ? tb_relax_bow(w, run, chord(run->count)) : 0;
	return tallest + base - tb_weave_node_at(w, node)->height + OUTSIDE;
}

/* A stitch in the gap between two petals, likewise. False where it is in none, or has risen already. */
static bool rise_behind_gap(tb_weave *w, tb_weave_leg *leg)
{
	const tb_weave_run *run = tb_weave_run_at(w, leg->base);
	const tb_weave_node *node = tb_weave_node_at(w, leg->node);
	if (run->count > 0 || run->after == TB_NONE || !tb_weave_node_at(w, run->before)->petal ||
		!tb_weave_node_at(w, run->after)->petal || leg->height > node->height + OUTSIDE)
		return false;
	leg->height += rise_behind(w, run->before);
	return true;
}

/*
 * A stitch worked into the end of a petal stands in the valley between two petals, behind both: on one alone it would
 * pull the round askew. It is drawn as high as they are, so that the arcs beside it pass outside of them. False where
 * there is none.
 */
static bool stand_behind(tb_weave *w)
{
	bool any = false;
	for (guint32 i = 0; i < w->nodes->len; i++) {
		tb_weave_leg *leg = (tb_weave_leg *)only_leg(w, i);
		if (leg != NULL && leg->kind == TB_LEG_RUN && rise_behind_gap(w, leg)) {
			any = true;
			continue;
		}
		if (leg == NULL || leg->kind != TB_LEG_NODE || !tb_weave_node_at(w, leg->base)->petal ||
			tb_weave_node_at(w, i)->group_size > 1)
			continue;
		bool first;
		guint32 beside = end_beside(w, leg->base, &first);
		if (beside == TB_NONE)
			continue;
		tb_weave_leg legs[2] = {*leg, *leg};
		legs[first ? 0 : 1].base = beside;
		legs[0].height = legs[1].height = leg->height + rise_behind(w, leg->base);
		tb_weave_node *node = tb_weave_node_at(w, i);
		node->first_leg = w->legs->len;
		node->leg_count = 2;
		g_array_append_vals(w->legs, legs, 2);
		any = true;
	}
	return any;
}

/* Whether no row is openwork, but for a chain or two over as many stitches: nets lie as their arcs let them. */
static bool is_plain(const tb_weave *w)
{
	g_autofree guint32 *chains = g_new0(guint32, w->rows->len + 1);
	for (guint32 q = 0; q < w->runs->len; q++)
		if (tb_weave_run_at(w, q)->count > EYELET)
			chains[tb_weave_run_at(w, q)->row] += tb_weave_run_at(w, q)->count;
	for (guint32 r = 1; r < w->rows->len; r++)
		if (chains[r] > MOST_OPEN * tb_weave_row_at(w, r)->count)
			return false;
	return true;
}

static void shape(tb_weave *w)
{
	find_edges(w);
	find_groups(w);
	find_sides(w);
	find_mirror_sides(w);
	find_grid(w);
	for (guint32 k = 0; k < w->groups->len; k++)
		shape_group(w, tb_weave_group_at(w, k));
	shape_edges(w);
	find_wave(w);
	find_curve(w);
	w->bends = w->wave || w->curve != 0;
	shape_valleys(w);
	w->upright = tb_setting_is_tube(w->s) && !w->wave && is_plain(w);
}

void tb_weave_shape(tb_weave *w)
{
	shape(w);
	if (w->petals && stand_behind(w))
		shape(w);
}
