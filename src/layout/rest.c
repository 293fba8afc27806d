/* From the weave's places to every stitch's top, feet and upright on the page. */
#include "layout/clear.h"
#include "layout/need.h"
#include "layout/rest.h"

#include "layout/arc.h"
#include "layout/plane.h"
#include "layout/relax.h"

/* A foot on a ring's or a spine's chain stands clear of it, in columns. */
#define OFF_RING 0.22
/* The mark of a magic ring reaches so far, in columns, and no stem out of it is shorter than this. */
#define MAGIC_RING 0.34
#define LEAST_STEM 0.5
#define OFF_CHAIN 0.24
/* How far the feet of a group are spread along its arc, by stitch and by chain. */
#define FOOT_BY_STITCH 0.16
#define FOOT_BY_CHAIN 0.22
/* A foundation that turns by more than this between two of its chains, in radians, leaves them less room. */
#define BEND 0.4
#define BENT 0.85
/* How far from a shared foot the chains that stand for a stitch begin. */
#define CHAIN_UP 0.07
#define CHAIN_ASIDE 0.14
/* A join stands this far before the first stitch; a turning chain that does not count, beside it; a slip stitch, above. */
#define JOIN_BEFORE 0.42
#define TURNING_BESIDE 0.34
#define TRAVEL_ABOVE 0.2
#define TRAVEL_IN_SPACE 0.28
/* … or, where such a turning chain stands there, beyond it. */
#define JOIN_BEYOND 0.6
/* In a narrow seam, of stitches so high at least, both are one line in its middle, each so far clear of the next. */
#define NARROW_SEAM 1.6
#define LEAST_RISE 0.6
#define SEAM_CLEAR 0.16
/* Chains beside a stitch are so slim, of a column. */
#define SLIM 0.7
/* A spur stands so far beside the stitch before it; its stitches' feet off its chains; what each takes of its length. */
#define SPUR_BESIDE 0.4
#define SPUR_FOOT 0.2
#define SPUR_STITCH 0.52
/* What is set beside the stitches asks so much room, in columns, and looks for it so; where there is none it is smaller. */
#define LOOSE_ROOM 0.07
#define LOOSE_STEP 0.06
#define LOOSE_RINGS 10
#define LOOSE_WAYS 16
#define LOOSE_ACROSS 0.5
#define SHRUNK 0.75
/* How far outside the last round the line of a repeated part lies, and how long its ends are, in columns. */
#define SECTOR_OUT 1.15
#define LEAST_SECTORS 3 /* a half is no repeat */
#define SECTOR_TICK 0.3
#define SECTOR_STEPS 32
/* How much more than its share of its row a stitch's head may take, for a column's width; no head, nor chain, takes less. */
#define HEAD_IN_SHARE 1.33
#define UNEQUAL 0.3
/* A head keeps so far from the chains beside it. */
#define BESIDE_ARC 0.03
#define LEAST_HEAD 0.55
#define LEAST_CHAIN 0.4

typedef struct {
	tb_setting *s;
	tb_weave *w;
	double hand;          /* -1: drawn for the left-handed */
	double complex *foot; /* by node: where its stem begins, in the middle of its feet */
	GArray *loose;        /* guint: what was placed beside the stitches, and may stand a little elsewhere */
} placing;

static tb_spot on_page(const placing *p, double complex z)
{
	double column = p->s->chart->column;
	return (tb_spot){p->hand * creal(z) * column, -cimag(z) * column};
}

/* Clockwise from the page's up. */
static double angle_of(const placing *p, double complex up)
{
	return atan2(p->hand * creal(up), cimag(up));
}

/* Of what is the same from either end. */
static double lying_angle(const placing *p, double complex along)
{
	double angle = atan2(-cimag(along), p->hand * creal(along));
	return angle - round(angle / G_PI) * G_PI;
}

static double complex apex(const placing *p, guint32 run, double along, double complex *out)
{
	const tb_weave *w = p->w;
	const tb_weave_run *r = tb_weave_run_at(w, run);
	if (r->after == TB_NONE || r->count == 0) {
		double complex b = r->after == TB_NONE ? w->z[r->before] : w->z[r->after], a = w->z[r->before];
		*out = unit_or(b - a, 1) * I * tb_weave_row_at(w, r->row)->sign;
		return a + (b - a) * along;
	}
	tb_arc arc = tb_arc_of_run(w, run);
	double complex direction;
	double complex at = tb_arc_at(&arc, along, &direction);
	*out = direction * I * tb_weave_row_at(w, r->row)->sign;
	return at;
}

/* Where the feet of a group on an arc stand: spread a little about its middle. */
static double complex foot_on_run(const placing *p, guint32 node, const tb_weave_leg *leg)
{
	const tb_weave *w = p->w;
	const tb_weave_node *own = tb_weave_node_at(w, node);
	const tb_weave_run *run = tb_weave_run_at(w, leg->base);
	double complex out, at = apex(p, leg->base, leg->along, &out);
	if (own->spread || own->group_size < 2)
		return at + out * TB_WEAVE_OFF_ARC;
	const tb_weave_group *group = tb_weave_group_at(w, own->group);
	const tb_weave_row *row = tb_weave_row_at(w, own->row);
	guint32 place = (node - row->first + row->count - group->first) % row->count;
	double span = fmin(FOOT_BY_STITCH * group->count, FOOT_BY_CHAIN * fmax(run->count, 0.3));
	double from = place / (group->count - 1.0) - 0.5;
	double complex along = out / I * row->sign;
	return at + along * from * span + out * TB_WEAVE_OFF_ARC;
}

static double complex foot_on_node(const placing *p, guint32 node, guint32 base)
{
	const tb_weave *w = p->w;
	const tb_weave_node *under = tb_weave_node_at(w, base);
	bool lying = under->row == 0 && w->rounds && under->made != TB_NONE &&
		p->s->fabric->made[under->made].flags & TB_MADE_CHAIN;
	double complex at = w->z[base];
	/* Across the cut of a tube. */
	if (w->around > 0)
		at += round(creal(w->z[node] - at) / w->around) * w->around;
	double complex up = unit_or(w->z[node] - at, I);
	return at + (lying ? up * OFF_CHAIN : 0);
}

/* Where a leg of the weave stands on the page, as the stitch is really worked. */
static double complex foot_of_leg(const placing *p, guint32 node, const tb_weave_leg *leg)
{
	const tb_weave *w = p->w;
	if (leg->drawn != TB_NONE)
		return foot_on_node(p, node, leg->drawn);
	if (leg->kind == TB_LEG_RING) {
		/* A magic ring is small: a low stitch near it keeps a stem that can be seen. */
		double from = w->ring_radius + OFF_RING;
		if (p->s->fabric->rows[0].count == 0)
			from = fmin(from, fmax(length_of(w->z[node]) - LEAST_STEM, MAGIC_RING));
		return unit_or(w->z[node], I) * from;
	}
	return leg->kind == TB_LEG_NODE ? foot_on_node(p, node, leg->base) : foot_on_run(p, node, leg);
}

/* A place on the post of the stitch that BASE is. */
static double complex on_post(const placing *p, guint32 base)
{
	const tb_chart *chart = p->s->chart;
	double complex top = p->w->z[base], stem = p->foot[base] - top;
	double neck = TB_THROAT_LEVEL * tb_need_unit(chart->column, chart->chain) / chart->column;
	return top + unit_or(stem, -I) * fmin(neck, 0.6 * length_of(stem));
}

static void find_foot(placing *p, guint32 node)
{
	const tb_weave *w = p->w;
	const tb_weave_node *own = tb_weave_node_at(w, node);
	double complex sum = 0;
	for (guint32 k = 0; k < own->leg_count; k++)
		sum += foot_of_leg(p, node, tb_weave_leg_at(w, own->first_leg + k));
	if (own->leg_count > 0)
		p->foot[node] = sum / own->leg_count;
	else if (own->row == 0 || own->made == TB_NONE) {
		/* What is worked already stands there as it was worked. */
		const tb_made *made = own->made != TB_NONE ? &p->s->fabric->made[own->made] : NULL;
		double height = made != NULL && !(made->flags & TB_MADE_CHAIN) ? tb_setting_height(p->s, made) * TB_WEAVE_CHAIN : own->height;
		p->foot[node] = w->z[node] - tb_relax_out(w, node) * height;
	} else {
		/* It closes its own round. */
		const tb_made *made = &p->s->fabric->made[own->made];
		guint32 base = made->base_count > 0 ? w->node_of[tb_fabric_base(p->s->fabric, made, 0)] : TB_NONE;
		p->foot[node] = base != TB_NONE && base != node ? w->z[base] :
			w->z[node] - tb_relax_out(w, node) * own->height;
	}
}

static void add_spot(placing *p, tb_placed *placed, double complex z)
{
	tb_spot spot = on_page(p, z);
	if (placed->foot_count == 0)
		placed->first_foot = p->s->chart->feet->len;
	g_array_append_val(p->s->chart->feet, spot);
	placed->foot_count++;
}

static void append(placing *p, tb_placed *placed, tb_chart_row *row)
{
	if (placed->foot_count == 0)
		placed->first_foot = p->s->chart->feet->len;
	g_array_append_val(p->s->chart->placed, *placed);
	row->count++;
}

/* The post that a leg of MADE embraces, or TB_NONE where there is none on the chart. */
static guint32 post_of(const placing *p, const tb_made *made, unsigned leg)
{
	return p->w->node_of[tb_fabric_base(p->s->fabric, made, leg)];
}

/* The width, in mm, that something with so many columns has; 0 when it has a column. In steps, so that shapes are few. */
static double room_of(const placing *p, double columns, double least)
{
	return columns < 1 ? fmax(least, floor(columns * 50) / 50) * p->s->chart->column : 0;
}

/* How far two neighbours' heads are from each other, in columns; of unequal ones, the lower's from the other's stem. */
static double heads_apart(const placing *p, guint32 a, guint32 b)
{
	const tb_weave *w = p->w;
	double way = length_of(w->z[b] - w->z[a]), higher = tb_weave_node_at(w, a)->height - tb_weave_node_at(w, b)->height;
	if (fabs(higher) < UNEQUAL)
		return way;
	guint32 high = higher > 0 ? a : b, low = higher > 0 ? b : a;
	double complex stem = unit_or(w->z[high] - p->foot[high], I);
	return fmin(way, fabs(cimag((w->z[low] - p->foot[high]) / stem)));
}

/* The way to the nearer neighbour, in columns; to chains, as it would be to a head. */
static double head_room(const placing *p, guint32 node)
{
	const tb_weave *w = p->w;
	const tb_weave_node *own = tb_weave_node_at(w, node);
	double room = INFINITY;
	for (unsigned k = 0; k < 2; k++) {
		guint32 edge = k == 0 ? own->next : own->before;
		const tb_weave_edge *e = edge != TB_NONE ? tb_weave_edge_at(w, edge) : NULL;
		if (e == NULL)
			continue;
		double way = heads_apart(p, e->from, e->to);
		if (e->chains > 0)
			way = (tb_arc_room(way) - BESIDE_ARC) / TB_HEAD_HALF / HEAD_IN_SHARE;
		room = fmin(room, way);
	}
	return room;
}

/* Chains are wider than a stem: where those that stand for a stitch begin, beside the stitches that share its place. */
static double complex step_aside(const placing *p, guint32 node)
{
	const tb_weave *w = p->w;
	const tb_weave_node *own = tb_weave_node_at(w, node);
	const tb_weave_edge *next = own->next != TB_NONE ? tb_weave_edge_at(w, own->next) : NULL;
	const tb_weave_edge *before = own->before != TB_NONE ? tb_weave_edge_at(w, own->before) : NULL;
	double complex stem = w->z[node] - p->foot[node], away = 0;
	if (next != NULL && next->same)
		away += unit_or(w->z[node] - w->z[next->to], 0);
	if (before != NULL && before->same)
		away += unit_or(w->z[node] - w->z[before->from], 0);
	return p->foot[node] + unit_or(stem, I) * fmin(CHAIN_UP, length_of(stem) / 4) + away * CHAIN_ASIDE;
}

/* How long a foundation chain may be where the foundation bends, in columns: its neighbours' ends turn towards its own. */
static double bend_room(const placing *p, guint32 node, double complex out)
{
	const tb_weave *w = p->w;
	const tb_weave_node *own = tb_weave_node_at(w, node);
	double room = 1;
	for (unsigned k = 0; k < 2; k++) {
		guint32 edge = k == 0 ? own->next : own->before;
		if (edge == TB_NONE)
			continue;
		guint32 beside = k == 0 ? tb_weave_edge_at(w, edge)->to : tb_weave_edge_at(w, edge)->from;
		double complex other = tb_relax_out(w, beside);
		double turn = carg(other / out);
		if (fabs(turn) > BEND)
			room = fmin(room, BENT * length_of(w->z[beside] - w->z[node]) * cos(turn / 2));
	}
	return room;
}

static void place_node(placing *p, guint32 node, tb_chart_row *row)
{
	const tb_weave *w = p->w;
	const tb_weave_node *own = tb_weave_node_at(w, node);
	const tb_made *made = &p->s->fabric->made[own->made];
	const tb_stitch *stitch = tb_setting_stitch(p->s, made);
	double column = p->s->chart->column;
	tb_placed placed = {.made = own->made, .top = on_page(p, w->z[node])};
	if (made->flags & TB_MADE_CHAIN && !(made->flags & TB_MADE_TURNING)) {
		double complex out = tb_relax_out(w, node);
		placed.angle = angle_of(p, out);
		placed.height = placed.base_top = w->rounds ? 0 : TB_FOUNDATION_HEIGHT * column;
		add_spot(p, &placed, w->z[node] - out * placed.height / column);
		placed.room = w->rounds ? 0 : room_of(p, bend_room(p, node, out), LEAST_CHAIN);
		append(p, &placed, row);
		return;
	}
	placed.crosses = p->s->shift[own->made] > 0 && stitch->post == TB_POST_NONE;
	double complex up = placed.crosses ? tb_relax_out(w, node) : unit_or(w->z[node] - p->foot[node], tb_relax_out(w, node));
	placed.height = placed.base_top = length_of(w->z[node] - p->foot[node]) * column;
	bool is_post = stitch->post != TB_POST_NONE && made->base_count > 0;
	if (made->flags & TB_MADE_TURNING && own->group_size > 1) {
		double complex foot = step_aside(p, node), stem = w->z[node] - foot;
		up = unit_or(stem, up);
		placed.height = placed.base_top = length_of(stem) * column;
		add_spot(p, &placed, foot);
	} else if (is_post) {
		for (unsigned b = 0; b < made->base_count; b++) {
			guint32 post = post_of(p, made, b);
			add_spot(p, &placed, post != TB_NONE ? on_post(p, post) : p->foot[node]);
			if (b == 0 && post != TB_NONE && made->rows_below > 1)
				placed.base_top = (creal(w->z[node] - w->z[post]) * creal(up) +
					cimag(w->z[node] - w->z[post]) * cimag(up)) * column;
		}
	} else if (made->rows_below > 1 && made->base_count > 0 && post_of(p, made, 0) != TB_NONE) {
		/* A long stitch reaches past the row below. */
		for (unsigned b = 0; b < made->base_count; b++)
			if (post_of(p, made, b) != TB_NONE)
				add_spot(p, &placed, w->z[post_of(p, made, b)]);
	} else if (own->leg_count > 0) {
		bool gap = own->leg_count == 2 && stitch->takes == 1;
		for (guint32 k = 0; k < own->leg_count && !gap; k++)
			add_spot(p, &placed, foot_of_leg(p, node, tb_weave_leg_at(w, own->first_leg + k)));
		if (gap)
			add_spot(p, &placed, p->foot[node]);
	} else {
		add_spot(p, &placed, p->foot[node]);
	}
	placed.angle = angle_of(p, up);
	placed.room = room_of(p, head_room(p, node) * HEAD_IN_SHARE, LEAST_HEAD);
	if (made->flags & TB_MADE_TURNING && own->group_size > 1)
		placed.room = placed.room > 0 ? fmin(placed.room, SLIM * column) : SLIM * column;
	append(p, &placed, row);
}

static void place_chain(placing *p, guint32 m, tb_chart_row *row)
{
	const tb_weave *w = p->w;
	const tb_weave_run *run = tb_weave_run_at(w, w->run_of[m]);
	guint32 i = 0;
	while (i + 1 < run->count && g_array_index(w->chains, guint32, run->first + i) != m)
		i++;
	tb_arc arc = tb_arc_of_run(w, w->run_of[m]);
	double complex direction;
	double complex at = tb_arc_at(&arc, (i + 0.5) / run->count, &direction);
	tb_placed placed = {.made = m, .top = on_page(p, at), .angle = lying_angle(p, direction)};
	placed.room = room_of(p, arc.length / run->count, LEAST_CHAIN);
	append(p, &placed, row);
}

/* The way along the row at its first stitch, as it is worked. */
static double complex along_row(const placing *p, guint32 node)
{
	const tb_weave *w = p->w;
	return tb_relax_out(w, node) / I * tb_weave_row_at(w, tb_weave_node_at(w, node)->row)->sign;
}

/* Whether a round's turning chains and joins lie in one line, between its last stitch and its first. */
static bool has_narrow_seam(const placing *p, const tb_weave_row *row)
{
	const tb_weave *w = p->w;
	guint32 first = row->first, last = row->first + row->count - 1;
	return w->rounds && row->rises && row->count > 1 && length_of(w->z[last] - w->z[first]) <= NARROW_SEAM &&
		length_of(p->foot[last] - p->foot[first]) <= NARROW_SEAM &&
		length_of(w->z[last] + w->z[first] - p->foot[last] - p->foot[first]) / 2 >= LEAST_RISE;
}

/* The length of CHAINS in a round's seam, and into FOOT and UP where they begin and which way they go. */
static double rise_in_seam(const placing *p, const tb_weave_row *row, guint32 chains, double complex *foot, double complex *up)
{
	const double complex *z = p->w->z;
	guint32 first = row->first, last = row->first + row->count - 1;
	double complex from = (p->foot[first] + p->foot[last]) / 2, whole = (z[first] + z[last]) / 2 - from;
	double length = fmin(chains * TB_WEAVE_CHAIN, length_of(whole) - 2 * SEAM_CLEAR);
	*up = unit_or(whole, I);
	*foot = from + *up * (length_of(whole) - length) / 2;
	return length;
}

static void place_extra(placing *p, const tb_weave_extra *extra, tb_chart_row *row)
{
	const tb_weave *w = p->w;
	const tb_weave_row *own = tb_weave_row_at(w, extra->row);
	const tb_made *made = &p->s->fabric->made[extra->made];
	double column = p->s->chart->column;
	tb_placed placed = {.made = extra->made};
	guint32 node = extra->node != TB_NONE ? extra->node : own->count > 0 ? own->first : TB_NONE;
	double complex top = 0, foot = 0, up = I;
	if (node == TB_NONE) {
		/* A row of slip stitches alone: on what it goes into. */
		guint32 base = made->base_count > 0 ? w->node_of[tb_fabric_base(p->s->fabric, made, 0)] : TB_NONE;
		if (base != TB_NONE) {
			up = tb_relax_out(w, base);
			top = foot = w->z[base] + up * TRAVEL_ABOVE;
		}
	} else if (extra->kind == TB_EXTRA_JOIN) {
		guint32 first = own->first, last = own->first + own->count - 1;
		double complex way = w->rounds ? w->z[last] - w->z[first] : -along_row(p, last) * 1.3;
		double complex from = w->rounds ? w->z[first] : w->z[last] - way;
		up = unit_or(tb_relax_out(w, first) + (w->rounds ? tb_relax_out(w, last) : 0), tb_relax_out(w, first));
		double before = has_narrow_seam(p, own) ? length_of(way) / 2 :
			fmin(w->rounds && own->rises ? JOIN_BEYOND : JOIN_BEFORE, length_of(way) * 0.62);
		top = foot = from + unit_or(way, -along_row(p, first)) * before;
	} else if (extra->kind == TB_EXTRA_TRAVEL) {
		guint32 base = made->base_count > 0 ? tb_fabric_base(p->s->fabric, made, 0) : TB_NONE;
		if (base != TB_NONE && w->node_of[base] != TB_NONE) {
			up = tb_relax_out(w, w->node_of[base]);
			top = foot = w->z[w->node_of[base]] + up * TRAVEL_ABOVE;
		} else if (base != TB_NONE && w->run_of[base] != TB_NONE) {
			top = apex(p, w->run_of[base], 0.5, &up);
			top = foot = top - up * TRAVEL_IN_SPACE;
		} else {
			up = tb_relax_out(w, node);
			top = foot = p->foot[node];
		}
	} else if (extra->kind == TB_EXTRA_TURNING) {
		guint32 first = own->first;
		/* Of several drawn together, beside the first that is taken in. */
		const tb_weave_node *beside = tb_weave_node_at(w, first);
		double complex edge = beside->leg_count > 1 && !w->rounds ? foot_of_leg(p, first, tb_weave_leg_at(w, beside->first_leg)) : p->foot[first];
		double complex stem = w->z[first] - p->foot[first];
		double length = made->chains * TB_WEAVE_CHAIN;
		up = unit_or(stem, tb_relax_out(w, first));
		foot = edge - along_row(p, first) * (w->rounds ? TURNING_BESIDE : TB_BESIDE_EDGE);
		if (has_narrow_seam(p, own)) {
			length = rise_in_seam(p, own, made->chains, &foot, &up);
		} else if (w->rounds) {
			foot += up * SEAM_CLEAR;
			length = fmin(length, fmax(length_of(stem) - 2 * SEAM_CLEAR, LEAST_RISE));
		}
		top = foot + up * length;
	} else if (extra->kind == TB_EXTRA_SPUR) {
		/* Out of the middle of the way to the next stitch, what is worked back along it on that one's side. */
		const tb_weave_node *before = tb_weave_node_at(w, node);
		guint32 next = before->next != TB_NONE ? tb_weave_edge_at(w, before->next)->to : node;
		double complex out = unit_or(tb_relax_out(w, node) + tb_relax_out(w, next), I);
		double complex along = out / I * own->sign;
		bool chain = tb_setting_is_chain(made);
		double high = tb_setting_height(p->s, made) * TB_WEAVE_CHAIN, way = next != node ? dot(w->z[next] - w->z[node], along) : 1;
		double beside = fmax(SPUR_BESIDE, (way - before->spur) / 2);
		double most = fmax(before->spur_most, 1), pitch = fmax(TB_WEAVE_SPUR_CHAIN, SPUR_STITCH * most);
		double reach = TB_WEAVE_SPUR_BEGINS + pitch * (extra->chain + 0.5);
		double complex at = w->z[node] + along * beside + out * reach;
		up = along;
		/* Those in one chain one below another, as they are worked back. */
		foot = chain ? at : at + up * SPUR_FOOT + out * (pitch / most * ((most - 1) / 2 - extra->stacked));
		top = chain ? at : foot + up * high;
		if (chain)
			up = out;
	} else {
		double height = tb_setting_height(p->s, made) * TB_WEAVE_CHAIN;
		up = tb_relax_out(w, node);
		foot = w->z[node] + up * height * extra->stacked;
		top = foot + up * height;
	}
	placed.top = on_page(p, top);
	placed.angle = angle_of(p, up);
	placed.height = placed.base_top = length_of(top - foot) * column;
	if (extra->kind == TB_EXTRA_TURNING && w->rounds)
		placed.room = SLIM * column;
	if (extra->kind == TB_EXTRA_SPUR && tb_setting_is_chain(made)) {
		placed.angle = lying_angle(p, up);
		placed.room = TB_WEAVE_SPUR_CHAIN * column;
	}
	if (extra->kind == TB_EXTRA_TURNING || extra->kind == TB_EXTRA_PICOT ||
		(extra->kind == TB_EXTRA_SPUR && placed.height > 0))
		add_spot(p, &placed, foot);
	if (extra->kind != TB_EXTRA_PICOT && extra->kind != TB_EXTRA_SPUR)
		g_array_append_val(p->loose, p->s->chart->placed->len);
	append(p, &placed, row);
}

/* The chains of a ring in the middle. */
static void place_ring(placing *p, tb_chart_row *row)
{
	const tb_made_row *ring = &p->s->fabric->rows[0];
	for (guint32 i = 0; i < ring->count; i++) {
		double angle = G_PI / 2 + 2 * G_PI * i / ring->count;
		double complex out = cos(angle) + I * sin(angle);
		tb_placed placed = {.made = ring->first + i, .top = on_page(p, out * p->w->ring_radius),
			.angle = lying_angle(p, out * I)};
		append(p, &placed, row);
	}
}

/* What a row's number stands beside: its edge stitch, or in rounds its first and its last. */
static void measure_row(placing *p, guint32 number, tb_chart_row *row)
{
	const tb_weave *w = p->w;
	const tb_weave_row *own = tb_weave_row_at(w, number);
	guint32 first = own->first, last = own->first + own->count - 1;
	if (own->count > 0) {
		double complex stem = unit_or(w->z[first] - p->foot[first], tb_relax_out(w, first)), out = stem * I;
		/* Away from the row that begins there. */
		double complex along = along_row(p, first);
		if (creal(out) * creal(along) + cimag(out) * cimag(along) > 0)
			out = -out;
		row->first_top = on_page(p, w->z[first]);
		row->first_foot = on_page(p, p->foot[first]);
		row->last_top = on_page(p, own->count > 1 ? w->z[last] : w->z[first] + out);
		row->last_foot = on_page(p, own->count > 1 ? p->foot[last] : p->foot[first] + out);
		row->out = (tb_spot){p->hand * creal(out), -cimag(out)};
	} else if (row->count > 0) {
		/* slip stitches alone */
		const GArray *placed = p->s->chart->placed;
		row->first_top = row->first_foot = g_array_index(placed, tb_placed, row->first).top;
		row->last_top = row->last_foot = g_array_index(placed, tb_placed, row->first + row->count - 1).top;
		row->out = (tb_spot){p->s->fabric->rows[own->made_row].leftward ? p->hand : -p->hand, 0};
	}
	row->top = row->first_top.y;
	row->bottom = row->first_foot.y;
}

static void place_row(placing *p, guint32 number, guint *extra)
{
	tb_setting *s = p->s;
	const tb_weave *w = p->w;
	guint32 r = number + s->lowest;
	const tb_made_row *made = &s->fabric->rows[r];
	tb_chart_row row = {.row = r, .below = r < s->first && (r > 0 || tb_setting_is_grown(s)), .first = s->chart->placed->len};
	if (number == 0 && w->ring)
		place_ring(p, &row);
	for (guint32 m = made->first; m < made->first + made->count; m++) {
		const GArray *extras = w->extras;
		if (w->node_of[m] != TB_NONE)
			place_node(p, w->node_of[m], &row);
		else if (w->run_of[m] != TB_NONE)
			place_chain(p, m, &row);
		else if (*extra < extras->len && g_array_index(extras, tb_weave_extra, *extra).made == m)
			place_extra(p, &g_array_index(extras, tb_weave_extra, (*extra)++), &row);
	}
	measure_row(p, number, &row);
	g_array_append_val(s->chart->rows, row);
}

/* ---- joins and chains that do not count, where there is room for them ---- */

static void move_placed(tb_chart *chart, tb_placed *placed, tb_spot by)
{
	placed->top.x += by.x;
	placed->top.y += by.y;
	for (unsigned f = 0; f < placed->foot_count; f++) {
		tb_spot *foot = &g_array_index(chart->feet, tb_spot, placed->first_foot + f);
		foot->x += by.x;
		foot->y += by.y;
	}
}

/* The nearest place that has ROOM, or has most of it, as the way there; *MOST: how much. Rather along its row than across. */
static tb_spot find_room(const placing *p, const tb_clear *clear, const tb_placed *placed, double room, double *most)
{
	tb_chart *chart = p->s->chart;
	tb_spot best = {0, 0};
	*most = tb_clear_of_stitch(clear, chart, placed, room);
	for (unsigned ring = 1; ring <= LOOSE_RINGS && *most < room; ring++) {
		for (unsigned k = 0; k < LOOSE_WAYS && *most < room; k++) {
			double way = 2 * G_PI * k / LOOSE_WAYS, away = LOOSE_STEP * chart->column * ring;
			double along = away * cos(way), across = away * sin(way) * LOOSE_ACROSS;
			double c = cos(p->hand * placed->angle), n = sin(p->hand * placed->angle);
			tb_spot by = {p->hand * (along * c - across * n), along * n + across * c};
			tb_placed moved = *placed;
			move_placed(chart, &moved, by);
			double clears = tb_clear_of_stitch(clear, chart, &moved, room);
			move_placed(chart, &moved, (tb_spot){-by.x, -by.y});
			if (clears > *most) {
				*most = clears;
				best = by;
			}
		}
	}
	return best;
}

/* A chain as small as chains are drawn, about its middle. */
static void shrink(placing *p, tb_placed *placed)
{
	tb_spot *foot = &g_array_index(p->s->chart->feet, tb_spot, placed->first_foot);
	double x = (placed->top.x - foot->x) * (1 - SHRUNK) / 2, y = (placed->top.y - foot->y) * (1 - SHRUNK) / 2;
	placed->top = (tb_spot){placed->top.x - x, placed->top.y - y};
	*foot = (tb_spot){foot->x + x, foot->y + y};
	placed->height = placed->base_top = placed->height * SHRUNK;
	placed->room = LEAST_CHAIN * p->s->chart->column;
}

/* Each stands as near to its place as there is room; chains that find none are smaller. */
static void settle_loose(placing *p, guint first)
{
	tb_chart *chart = p->s->chart;
	if (p->loose->len == 0)
		return;
	double room = LOOSE_ROOM * chart->column, most;
	tb_clear *clear = tb_clear_new_without(chart, first, p->loose);
	for (guint i = 0; i < p->loose->len; i++) {
		tb_placed *placed = &g_array_index(chart->placed, tb_placed, g_array_index(p->loose, guint, i));
		tb_spot by = find_room(p, clear, placed, room, &most);
		if (most <= 0 && placed->foot_count > 0) {
			shrink(p, placed);
			by = find_room(p, clear, placed, room, &most);
		}
		move_placed(chart, placed, by);
		tb_clear_add_stitch(clear, chart, placed);
	}
	tb_clear_free(clear);
}

/* ---- the part that repeats around a middle ---- */

/* The outermost place of a direction from the middle, in columns. */
static double reach_along(const placing *p, double complex direction, double within)
{
	double most = 0;
	for (guint i = 0; i < p->s->chart->placed->len; i++) {
		tb_spot top = g_array_index(p->s->chart->placed, tb_placed, i).top;
		double complex z = (p->hand * top.x - I * top.y) / p->s->chart->column;
		double along = creal(z) * creal(direction) + cimag(z) * cimag(direction);
		if (within <= 0)
			along = length_of(z);
		else if (fabs(carg(z / direction)) > within)
			continue;
		most = fmax(most, along);
	}
	return most;
}

static void add_sector_spot(placing *p, double complex z)
{
	tb_spot spot = on_page(p, z);
	g_array_append_val(p->s->chart->sector, spot);
}

/*
 * The line outside a part that comes so many times around: on the side opposite to the seam, concentric with the
 * rounds, or level with the side of a polygon.
 */
static void find_sector(placing *p, const tb_symmetry *symmetry)
{
	const tb_weave *w = p->w;
	guint32 turns = symmetry->turns;
	const tb_weave_row *last = tb_weave_row_at(w, w->rows->len - 1);
	if (!w->rounds || turns < LEAST_SECTORS || w->oval || last->count == 0)
		return;
	tb_chart *chart = p->s->chart;
	double part = 2 * G_PI / turns, largest = 0, least = INFINITY, corner = 0;
	for (guint32 i = last->first; i < last->first + last->count; i++) {
		double r = length_of(w->z[i]);
		if (r > largest + 1e-6)
			corner = carg(w->z[i]);
		largest = fmax(largest, r);
		least = fmin(least, r);
	}
	bool polygon = turns >= 3 && turns <= 8 && largest > 1.08 * least;
	/* From between the last stitch and the first, or from a corner. */
	double seam = carg(w->z[last->first] + w->z[last->first + last->count - 1]);
	double start = seam + part * floor(turns / 2.0);
	if (polygon) {
		/* Corners lie where the radius is greatest; a side's middle between two. */
		double complex sum = 0;
		for (guint32 i = last->first; i < last->first + last->count; i++)
			sum += pow(length_of(w->z[i]) / largest, 8) * (cos(turns * carg(w->z[i])) + I * sin(turns * carg(w->z[i])));
		corner = carg(sum) / turns;
		start = corner + part * ceil((seam + part * floor((turns - 1) / 2.0) - corner) / part);
	}
	double complex middle = cos(start + part / 2) + I * sin(start + part / 2);
	double out = reach_along(p, middle, polygon ? part / 2 : 0) + SECTOR_OUT;
	chart->sector_times = turns;
	if (polygon) {
		double half = largest * sin(part / 2);
		double complex along = middle * I;
		add_sector_spot(p, middle * (out - SECTOR_TICK) - along * half);
		add_sector_spot(p, middle * out - along * half);
		add_sector_spot(p, middle * out + along * half);
		add_sector_spot(p, middle * (out - SECTOR_TICK) + along * half);
	} else {
		double complex from = cos(start) + I * sin(start);
		add_sector_spot(p, from * (out - SECTOR_TICK));
		for (unsigned i = 0; i <= SECTOR_STEPS; i++) {
			double angle = start + part * i / SECTOR_STEPS;
			add_sector_spot(p, out * (cos(angle) + I * sin(angle)));
		}
		add_sector_spot(p, (cos(start + part) + I * sin(start + part)) * (out - SECTOR_TICK));
	}
	chart->sector_label = on_page(p, middle * (out + 0.45));
}

bool tb_rest_place(tb_setting *s)
{
	tb_weave *w = tb_weave_read(s);
	bool whole = !w->unfolded;
	if (s->chart->motif.by_places && w->curve != 0) {
		/* What turns as it grows lies in an arc: no box goes around a part of it. */
		s->chart->motif.found = false;
		if (s->chart->folded) {
			whole = s->chart->folded = false;
			tb_weave_free(w);
			w = tb_weave_read(s);
		}
	}
	if (s->chart->folded && whole)
		s->chart->beside = tb_chart_repeats_drawn(s->chart) - 1;
	bool closes = s->part->lay == TB_LAY_CLOSE;
	tb_symmetry *symmetry = closes || w->upright ? NULL : tb_symmetry_find(w);
	if (closes) {
		tb_weave_lay_close(w);
	} else if (w->upright) {
		tb_weave_lay_upright(w);
	} else {
		s->chart->sweeps = tb_relax(w, symmetry);
		s->chart->turns = symmetry->turns;
		s->chart->halves_alike = symmetry->mirror;
	}
	placing p = {.s = s, .w = w, .hand = s->chart->options.left_handed ? -1 : 1,
		.foot = g_new0(double complex, w->nodes->len + 1), .loose = g_array_new(FALSE, FALSE, sizeof(guint))};
	for (guint32 i = 0; i < w->nodes->len; i++)
		find_foot(&p, i);
	guint extra = 0, first = s->chart->placed->len;
	for (guint32 r = 0; r < w->rows->len; r++)
		place_row(&p, r, &extra);
	settle_loose(&p, first);
	g_array_unref(p.loose);
	if (symmetry != NULL && s->chart->parts->len == 1)
		find_sector(&p, symmetry);
	g_free(p.foot);
	if (symmetry != NULL)
		tb_symmetry_free(symmetry);
	tb_weave_free(w);
	return whole;
}
