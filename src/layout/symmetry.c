/* Turns, mirrors and motifs of the weave. */
#include "layout/symmetry.h"

#include <math.h>
#include <string.h>

/* So many comparisons, for each node, are tried before a symmetry is given up. */
#define MOST_WORK 400
/* A level piece whose gauge is known is drawn by it within these bounds, in columns a foundation chain. */
#define NARROWEST 1.0
#define WIDEST 1.4
#define GAUGE_WEIGHT 0.4

static guint32 chains_after(const tb_weave *w, guint32 node)
{
	guint32 edge = tb_weave_node_at(w, node)->next;
	return edge == TB_NONE ? TB_NONE : tb_weave_edge_at(w, edge)->chains;
}

static guint32 chains_before(const tb_weave *w, guint32 node)
{
	guint32 edge = tb_weave_node_at(w, node)->before;
	return edge == TB_NONE ? TB_NONE : tb_weave_edge_at(w, edge)->chains;
}

/* The run, or the gap, between two neighbours: by the node it begins after. */
static bool is_same_run(const tb_weave *w, guint32 run, guint32 before, guint32 chains)
{
	const tb_weave_run *r = tb_weave_run_at(w, run);
	return r->before == before && r->count == chains;
}

/* ---- turns ---- */

static bool legs_turn(const tb_weave *w, guint32 node, guint32 image, const guint32 *images)
{
	const tb_weave_node *v = tb_weave_node_at(w, node), *u = tb_weave_node_at(w, image);
	if (v->token != u->token || v->leg_count != u->leg_count || chains_after(w, node) != chains_after(w, image))
		return false;
	for (guint32 k = 0; k < v->leg_count; k++) {
		const tb_weave_leg *a = tb_weave_leg_at(w, v->first_leg + k), *b = tb_weave_leg_at(w, u->first_leg + k);
		if (a->kind != b->kind || fabs(a->along - b->along) > 1e-9)
			return false;
		if (a->kind == TB_LEG_NODE && images[a->base] != b->base)
			return false;
		if (a->kind == TB_LEG_RUN && !is_same_run(w, b->base, images[tb_weave_run_at(w, a->base)->before],
				tb_weave_run_at(w, a->base)->count))
			return false;
	}
	return true;
}

static bool turns_by(const tb_weave *w, guint32 turns, guint32 *images)
{
	for (guint32 r = 0; r < w->rows->len; r++) {
		const tb_weave_row *row = tb_weave_row_at(w, r);
		bool spine = r == 0 && w->oval;
		if (!spine && (row->count % turns != 0 || (row->count > 0 && !row->closed)))
			return false;
		for (guint32 k = 0; k < row->count; k++)
			images[row->first + k] = spine ? row->first + row->count - 1 - k :
				row->first + (k + (row->sign < 0 ? 1 : turns - 1) * (row->count / turns)) % row->count;
		for (guint32 k = 0; k < row->count && r > 0; k++)
			if (!legs_turn(w, row->first + k, images[row->first + k], images))
				return false;
	}
	return true;
}

static guint32 common_divisor(guint32 a, guint32 b)
{
	while (b != 0) {
		guint32 rest = a % b;
		a = b;
		b = rest;
	}
	return a;
}

static guint32 find_turns(const tb_weave *w, guint32 *images)
{
	guint32 most = 0;
	for (guint32 r = 1; r < w->rows->len; r++)
		most = common_divisor(most, tb_weave_row_at(w, r)->count);
	if (w->oval)
		return turns_by(w, 2, images) ? 2 : 1;
	for (guint32 turns = most; turns > 1; turns--)
		if (most % turns == 0 && turns_by(w, turns, images))
			return turns;
	return 1;
}

/* ---- the mirror of rounds ---- */

/* The legs of NODE, mirrored, are those of IMAGE, in any order. */
static bool legs_mirror(const tb_weave *w, const tb_weave_node *v, const tb_weave_node *u, const guint32 *mirrored)
{
	if (v->leg_count != u->leg_count)
		return false;
	for (guint32 k = 0; k < v->leg_count; k++) {
		const tb_weave_leg *a = tb_weave_leg_at(w, v->first_leg + k);
		bool found = false;
		for (guint32 j = 0; j < u->leg_count && !found; j++) {
			const tb_weave_leg *b = tb_weave_leg_at(w, u->first_leg + j);
			if (a->kind != b->kind)
				continue;
			if (a->kind == TB_LEG_RING) {
				found = true;
			} else if (a->kind == TB_LEG_NODE) {
				found = mirrored[a->base] == b->base;
			} else {
				const tb_weave_run *run = tb_weave_run_at(w, a->base);
				found = run->after != TB_NONE && fabs(a->along + b->along - 1) < 1e-9 &&
					is_same_run(w, b->base, mirrored[run->after], run->count);
			}
		}
		if (!found)
			return false;
	}
	return true;
}

static bool row_mirrors(const tb_weave *w, const tb_weave_row *row, guint32 offset, guint32 *mirrored, gint64 *work)
{
	for (guint32 k = 0; k < row->count; k++)
		mirrored[row->first + k] = row->first + (offset + row->count - k) % row->count;
	for (guint32 k = 0; k < row->count; k++) {
		guint32 v = row->first + k, u = mirrored[v];
		--*work;
		if (tb_weave_node_at(w, v)->token != tb_weave_node_at(w, u)->token ||
			chains_after(w, v) != chains_before(w, u) ||
			!legs_mirror(w, tb_weave_node_at(w, v), tb_weave_node_at(w, u), mirrored))
			return false;
	}
	return true;
}

/* Every round read backwards from the right place is itself. OFFSET: of the first round. */
static bool mirror_from(const tb_weave *w, guint32 first, guint32 offset, guint32 *mirrored, gint64 *work)
{
	const tb_weave_row *row = tb_weave_row_at(w, first);
	if (first == 0)
		for (guint32 k = 0; k < row->count; k++)
			mirrored[row->first + k] = row->first + (offset + row->count - k) % row->count;
	else if (!row_mirrors(w, row, offset, mirrored, work))
		return false;
	for (guint32 r = first + 1; r < w->rows->len; r++) {
		row = tb_weave_row_at(w, r);
		guint32 k = 0;
		while (k < row->count && *work > 0 && !row_mirrors(w, row, k, mirrored, work))
			k++;
		if ((k == row->count && row->count > 0) || *work <= 0)
			return false;
	}
	return true;
}

static bool find_round_mirror(const tb_weave *w, guint32 *mirrored, guint32 *offset)
{
	if (w->oval)
		return false;
	for (guint32 r = 0; r < w->rows->len; r++)
		if (tb_weave_row_at(w, r)->count > 0 && !tb_weave_row_at(w, r)->closed)
			return false;
	guint32 first = tb_weave_row_at(w, 0)->count > 0 ? 0 : 1;
	gint64 work = (gint64)w->nodes->len * MOST_WORK;
	for (guint32 o = 0; o < tb_weave_row_at(w, first)->count && work > 0; o++) {
		if (mirror_from(w, first, o, mirrored, &work)) {
			*offset = o;
			return true;
		}
	}
	return false;
}

/* ---- the mirror of flat pieces ---- */

/* Foundation chains that row 1 works into, in order; and the bare corner WITH_CORNER. */
static GArray *list_used(const tb_weave *w, bool with_corner)
{
	GArray *used = g_array_new(FALSE, FALSE, sizeof(guint32));
	const tb_weave_row *ground = tb_weave_row_at(w, 0), *row = tb_weave_row_at(w, 1);
	g_autofree bool *is_used = g_new0(bool, ground->count + 1);
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_weave_node *node = tb_weave_node_at(w, i);
		for (guint32 k = 0; k < node->leg_count; k++) {
			const tb_weave_leg *leg = tb_weave_leg_at(w, node->first_leg + k);
			if (leg->kind == TB_LEG_NODE && leg->base >= ground->first && leg->base < ground->first + ground->count)
				is_used[leg->base - ground->first] = true;
		}
	}
	for (guint32 k = 0; k < ground->count; k++) {
		guint32 node = ground->first + k;
		if (is_used[k] && (with_corner || tb_weave_node_at(w, node)->made != TB_NONE))
			g_array_append_val(used, node);
	}
	return used;
}

static bool has_bare_corner(const tb_weave *w)
{
	const tb_weave_row *ground = tb_weave_row_at(w, 0);
	return ground->count > 0 && tb_weave_node_at(w, ground->first + ground->count - 1)->made == TB_NONE;
}

static void mirror_foundation(const tb_weave *w, const GArray *used, bool with_corner, guint32 *mirrored)
{
	const tb_weave_row *ground = tb_weave_row_at(w, 0);
	for (guint32 k = 0; k < ground->count; k++)
		mirrored[ground->first + k] = ground->first + k;
	for (guint k = 0; k < used->len; k++)
		mirrored[g_array_index(used, guint32, k)] = g_array_index(used, guint32, used->len - 1 - k);
	if (used->len > 3 && (with_corner || !has_bare_corner(w)))
		for (guint32 k = 0; k < ground->count; k++)
			mirrored[ground->first + k] = ground->first + ground->count - 1 - k;
}

/* Where the mirror image of a leg stands; false when there is no such place. */
static bool mirror_leg(const tb_weave *w, const tb_weave_leg *leg, const guint32 *mirrored, tb_weave_leg *image)
{
	*image = *leg;
	if (leg->kind == TB_LEG_RING)
		return true;
	if (leg->kind == TB_LEG_NODE) {
		image->base = mirrored[leg->base];
		return image->base != TB_NONE;
	}
	const tb_weave_run *run = tb_weave_run_at(w, leg->base);
	image->along = 1 - leg->along;
	if (run->after == TB_NONE)
		return false;
	for (guint32 q = 0; q < w->runs->len; q++) {
		if (is_same_run(w, q, mirrored[run->after], run->count) && tb_weave_run_at(w, q)->row == run->row) {
			image->base = q;
			return true;
		}
	}
	return false;
}

/* The turning chain on a bare corner is the image of the last stitch WITH_CORNER; else of the one beside the last. */
static bool find_flat_mirror(tb_weave *w, bool with_corner, guint32 *mirrored)
{
	for (guint32 r = 1; r < w->rows->len; r++) {
		const tb_weave_row *row = tb_weave_row_at(w, r);
		for (guint32 k = 0; k < row->count; k++)
			mirrored[row->first + k] = row->first + row->count - 1 - k;
	}
	g_autoptr(GArray) used = list_used(w, with_corner);
	mirror_foundation(w, used, with_corner, mirrored);
	g_autoptr(GArray) moved = g_array_new(FALSE, FALSE, sizeof(guint32));
	for (guint32 r = 1; r < w->rows->len; r++) {
		const tb_weave_row *row = tb_weave_row_at(w, r);
		for (guint32 i = row->first; i < row->first + row->count; i++) {
			const tb_weave_node *v = tb_weave_node_at(w, i), *u = tb_weave_node_at(w, mirrored[i]);
			if (v->token != u->token || chains_after(w, i) != chains_before(w, mirrored[i]))
				return false;
			if (legs_mirror(w, v, u, mirrored))
				continue;
			bool v_turns = v->made != TB_NONE && w->s->fabric->made[v->made].flags & TB_MADE_TURNING;
			bool u_turns = u->made != TB_NONE && w->s->fabric->made[u->made].flags & TB_MADE_TURNING;
			/* Only a turning chain may stand elsewhere than the stitch it is the image of. */
			if (u_turns && !v_turns && v->leg_count == u->leg_count && v->leg_count == 1)
				g_array_append_val(moved, i);
			else if (!(v_turns && !u_turns))
				return false;
		}
	}
	for (guint k = 0; k < moved->len; k++) {
		guint32 i = g_array_index(moved, guint32, k);
		tb_weave_leg image;
		if (!mirror_leg(w, tb_weave_leg_at(w, tb_weave_node_at(w, i)->first_leg), mirrored, &image))
			return false;
	}
	for (guint k = 0; k < moved->len; k++) {
		guint32 i = g_array_index(moved, guint32, k);
		tb_weave_leg *leg = tb_weave_leg_at(w, tb_weave_node_at(w, mirrored[i])->first_leg), image;
		mirror_leg(w, tb_weave_leg_at(w, tb_weave_node_at(w, i)->first_leg), mirrored, &image);
		leg->drawn = leg->kind == TB_LEG_NODE ? leg->base : TB_NONE;
		leg->kind = image.kind;
		leg->base = image.base;
		leg->along = image.along;
	}
	return true;
}

/* ---- motifs ---- */

/* The chain that a map makes of the nodes: from each one that nothing goes to, on and on. */
typedef struct {
	guint32 *next;   /* by node: TB_NONE where the map ends */
	guint32 *orbit;  /* by node: the first of its chain; TB_NONE where it is in none */
	guint32 *place;  /* … and how many come before it there */
	guint32 *length; /* by first: of the chain */
} orbits;

static void orbits_clear(orbits *o)
{
	g_free(o->next);
	g_free(o->orbit);
	g_free(o->place);
	g_free(o->length);
}

static void chain_up(const tb_weave *w, orbits *o)
{
	guint32 n = w->nodes->len;
	g_autofree bool *reached = g_new0(bool, n + 1);
	for (guint32 i = 0; i < n; i++)
		if (o->next[i] != TB_NONE)
			reached[o->next[i]] = true;
	for (guint32 i = 0; i < n; i++) {
		if (reached[i] || o->next[i] == TB_NONE)
			continue;
		guint32 place = 0;
		for (guint32 k = i; k != TB_NONE; k = o->next[k]) {
			o->orbit[k] = i;
			o->place[k] = place++;
		}
		o->length[i] = place;
	}
}

static void orbits_init(const tb_weave *w, orbits *o)
{
	guint32 n = w->nodes->len + 1;
	o->next = g_new(guint32, n);
	o->orbit = g_new(guint32, n);
	o->place = g_new0(guint32, n);
	o->length = g_new0(guint32, n);
	for (guint32 i = 0; i < n; i++)
		o->next[i] = o->orbit[i] = TB_NONE;
}

/* A row's node counted from the left. */
static guint32 from_left(const tb_weave_row *row, guint32 k)
{
	return row->sign > 0 ? row->first + k : row->first + row->count - 1 - k;
}

static guint32 count_foundation(const tb_weave *w)
{
	return tb_weave_row_at(w, 0)->count - (has_bare_corner(w) ? 1 : 0);
}

/* How many places before the foundation's first chain from the left: the bare corner's. */
static guint32 before_foundation(const tb_weave *w)
{
	return has_bare_corner(w) && tb_weave_row_at(w, 0)->sign < 0 ? 1 : 0;
}

static guint32 foundation_chain(const tb_weave *w, guint32 k)
{
	return from_left(tb_weave_row_at(w, 0), k + before_foundation(w));
}

/* How far a motif reaches along row R. SHARED: each begins with the stitch that the one before ends with. */
static guint32 step_of(const tb_weave *w, guint32 r, guint32 motifs, bool shared)
{
	guint32 count = tb_weave_row_at(w, r)->count;
	return shared ? (count - 1) / motifs : (r == 0 ? count_foundation(w) : count) / motifs;
}

static bool legs_move(const tb_weave *w, const tb_weave_node *v, const tb_weave_node *u, guint32 motifs, bool shared)
{
	if (v->token != u->token || v->leg_count != u->leg_count)
		return false;
	for (guint32 j = 0; j < v->leg_count; j++) {
		const tb_weave_leg *x = tb_weave_leg_at(w, v->first_leg + j), *y = tb_weave_leg_at(w, u->first_leg + j);
		if (x->kind != y->kind)
			return false;
		if (x->kind == TB_LEG_NODE && fabs(tb_weave_base_place(w, x) - tb_weave_base_place(w, y)) !=
				step_of(w, tb_weave_base_row(w, x), motifs, shared))
			return false;
	}
	return true;
}

static bool row_moves(const tb_weave *w, guint32 r, guint32 motifs, bool shared, guint32 *next)
{
	const tb_weave_row *row = tb_weave_row_at(w, r);
	guint32 step = step_of(w, r, motifs, shared), count = r == 0 && !shared ? count_foundation(w) : row->count;
	for (guint32 k = 0; k + step < count; k++) {
		guint32 a = r == 0 && !shared ? foundation_chain(w, k) : from_left(row, k);
		guint32 b = r == 0 && !shared ? foundation_chain(w, k + step) : from_left(row, k + step);
		next[a] = b;
		bool edge = k == 0 || k + step + 1 == count;
		if (r > 0 && !edge && !legs_move(w, tb_weave_node_at(w, a), tb_weave_node_at(w, b), motifs, shared))
			return false;
	}
	return true;
}

/*
 * Every row goes over into itself by one motif. SHARED: both edges are the middle of one, and edge stitches mirror
 * lines; else motifs stand side by side, as in ripples whose edges lie between two stitches of a crest.
 */
static guint32 find_moves(const tb_weave *w, bool shared, orbits *o)
{
	if (shared && (!w->mirror_side[TB_SIDE_LEFT] || !w->mirror_side[TB_SIDE_RIGHT_HAND]))
		return 1;
	guint32 most = 0;
	for (guint32 r = 0; r < w->rows->len; r++) {
		guint32 count = shared ? tb_weave_row_at(w, r)->count - 1 : step_of(w, r, 1, false);
		if (tb_weave_row_at(w, r)->count < 2)
			return 1;
		most = common_divisor(most, count);
	}
	for (guint32 motifs = most; motifs > 1; motifs--) {
		if (most % motifs != 0)
			continue;
		bool fits = true;
		for (guint32 i = 0; i < w->nodes->len; i++)
			o->next[i] = TB_NONE;
		for (guint32 r = 0; r < w->rows->len && fits; r++)
			fits = row_moves(w, r, motifs, shared, o->next);
		if (fits)
			return motifs;
	}
	return 1;
}

/*
 * A level piece: the shift of the foundation by so many chains, carried up through the bases. A group goes to the group
 * on the images of its bases, and each of its stitches to the one at its place there.
 */
typedef struct {
	const tb_weave *w;
	guint32 *by_base, *next_on; /* the groups standing on a base: the first, and of each the next */
	guint32 *run_after;         /* by node: the run or gap that begins there */
} carrier;

static guint32 base_number(const tb_weave *w, const tb_weave_leg *leg)
{
	return leg->kind == TB_LEG_NODE ? leg->base : w->nodes->len + leg->base;
}

static guint32 group_member(const tb_weave *w, const tb_weave_group *group, guint32 i, bool backwards)
{
	bool reversed = (tb_weave_row_at(w, group->row)->sign < 0) != backwards;
	return tb_weave_member(w, group, reversed ? group->count - 1 - i : i);
}

static void carrier_init(carrier *c, const tb_weave *w)
{
	c->w = w;
	guint32 bases = w->nodes->len + w->runs->len + 1;
	c->by_base = g_new(guint32, bases);
	c->next_on = g_new(guint32, w->groups->len + 1);
	c->run_after = g_new(guint32, w->nodes->len + 1);
	for (guint32 i = 0; i < bases; i++)
		c->by_base[i] = TB_NONE;
	for (guint32 i = 0; i < w->nodes->len; i++)
		c->run_after[i] = TB_NONE;
	for (guint32 q = 0; q < w->runs->len; q++)
		if (tb_weave_node_at(w, tb_weave_run_at(w, q)->before)->row == tb_weave_run_at(w, q)->row)
			c->run_after[tb_weave_run_at(w, q)->before] = q;
	for (guint32 g = w->groups->len; g-- > 0;) {
		const tb_weave_node *node = tb_weave_node_at(w, tb_weave_member(w, tb_weave_group_at(w, g), 0));
		guint32 least = TB_NONE;
		for (guint32 k = 0; k < node->leg_count; k++) {
			const tb_weave_leg *leg = tb_weave_leg_at(w, node->first_leg + k);
			if (leg->kind != TB_LEG_RING)
				least = MIN(least, base_number(w, leg));
		}
		if (least == TB_NONE)
			continue;
		c->next_on[g] = c->by_base[least];
		c->by_base[least] = g;
	}
}

static void carrier_clear(carrier *c)
{
	g_free(c->by_base);
	g_free(c->next_on);
	g_free(c->run_after);
}

/* Where a base goes, as a number of base_number; TB_NONE for nowhere. */
static guint32 carry_base(const carrier *c, const tb_weave_leg *leg, const guint32 *map)
{
	const tb_weave *w = c->w;
	if (leg->kind == TB_LEG_NODE)
		return map[leg->base];
	const tb_weave_run *run = tb_weave_run_at(w, leg->base);
	if (run->after == TB_NONE || map[run->before] == TB_NONE || map[run->after] == TB_NONE)
		return TB_NONE;
	guint32 a = map[run->before], b = map[run->after];
	guint32 image = c->run_after[a] != TB_NONE && tb_weave_run_at(w, c->run_after[a])->after == b ? c->run_after[a] :
		c->run_after[b] != TB_NONE && tb_weave_run_at(w, c->run_after[b])->after == a ? c->run_after[b] : TB_NONE;
	return image != TB_NONE && tb_weave_run_at(w, image)->count == run->count ? w->nodes->len + image : TB_NONE;
}

static int compare_numbers(const void *a, const void *b)
{
	guint32 x = *(const guint32 *)a, y = *(const guint32 *)b;
	return x < y ? -1 : x > y;
}

static bool is_alike(const tb_weave *w, const tb_weave_group *a, const tb_weave_group *b, bool back)
{
	if (a->count != b->count)
		return false;
	for (guint32 i = 0; i < a->count; i++) {
		guint32 x = group_member(w, a, i, false), y = group_member(w, b, i, back);
		if (tb_weave_node_at(w, x)->token != tb_weave_node_at(w, y)->token)
			return false;
		if (i == 0)
			continue;
		guint32 p = group_member(w, a, i - 1, false), q = group_member(w, b, i - 1, back);
		guint32 one = x > p ? chains_after(w, p) : chains_after(w, x);
		guint32 two = y > q ? chains_after(w, q) : chains_after(w, y);
		if (one != two)
			return false;
	}
	return true;
}

/* The group on the images of GROUP's bases, like it; TB_NONE for none. *WAS_TRIED tells whether there could be one. */
static guint32 find_image(const carrier *c, guint32 group, const guint32 *map, bool back, bool *was_tried)
{
	const tb_weave *w = c->w;
	const tb_weave_group *g = tb_weave_group_at(w, group);
	const tb_weave_node *node = tb_weave_node_at(w, tb_weave_member(w, g, 0));
	g_autofree guint32 *bases = g_new(guint32, node->leg_count + 1);
	*was_tried = false;
	for (guint32 k = 0; k < node->leg_count; k++) {
		const tb_weave_leg *leg = tb_weave_leg_at(w, node->first_leg + k);
		bases[k] = leg->kind == TB_LEG_RING ? TB_NONE : carry_base(c, leg, map);
		if (bases[k] == TB_NONE)
			return TB_NONE;
	}
	if (node->leg_count == 0)
		return TB_NONE;
	*was_tried = true;
	qsort(bases, node->leg_count, sizeof *bases, compare_numbers);
	for (guint32 k = c->by_base[bases[0]]; k != TB_NONE; k = c->next_on[k]) {
		const tb_weave_group *other = tb_weave_group_at(w, k);
		const tb_weave_node *u = tb_weave_node_at(w, tb_weave_member(w, other, 0));
		if (other->row != g->row || u->leg_count != node->leg_count || !is_alike(w, g, other, back))
			continue;
		bool same = true;
		for (guint32 j = 0; j < u->leg_count && same; j++) {
			guint32 number = base_number(w, tb_weave_leg_at(w, u->first_leg + j));
			same = bsearch(&number, bases, node->leg_count, sizeof *bases, compare_numbers) != NULL;
		}
		if (same)
			return k;
	}
	return TB_NONE;
}

static bool has_edge_stitch(const tb_weave *w, const tb_weave_group *group)
{
	for (guint32 i = 0; i < group->count; i++)
		if (tb_weave_node_at(w, tb_weave_member(w, group, i))->side != TB_SIDE_NEITHER)
			return true;
	return false;
}

/* Whether A may go to B, by what they are and stand on. */
static bool stands_alike(const tb_weave *w, guint32 a, guint32 b)
{
	const tb_weave_node *v = tb_weave_node_at(w, a), *u = tb_weave_node_at(w, b);
	if (v->side != TB_SIDE_NEITHER || u->side != TB_SIDE_NEITHER || v->token != u->token || v->leg_count != u->leg_count ||
		v->group_size != u->group_size)
		return false;
	for (guint32 k = 0; k < v->leg_count; k++) {
		const tb_weave_leg *x = tb_weave_leg_at(w, v->first_leg + k), *y = tb_weave_leg_at(w, u->first_leg + k);
		if (x->kind != y->kind)
			return false;
		if (x->kind == TB_LEG_RUN && tb_weave_run_at(w, x->base)->count != tb_weave_run_at(w, y->base)->count)
			return false;
	}
	return true;
}

/*
 * What stands on the edge below has no image through its base; beside what has one, it goes along. Else each row would
 * lose one more at either edge.
 */
static void carry_along(const tb_weave *w, const tb_weave_row *row, guint32 *own, bool back)
{
	g_autofree bool *taken = g_new0(bool, row->count + 1);
	for (guint32 i = 0; i < row->count; i++)
		if (own[row->first + i] != TB_NONE)
			taken[own[row->first + i] - row->first] = true;
	for (unsigned pass = 0; pass < 2; pass++) {
		for (guint32 k = 0; k + 1 < row->count; k++) {
			guint32 i = row->first + (pass == 0 ? k : row->count - 1 - k), next = pass == 0 ? i + 1 : i - 1;
			gint64 image = (gint64)own[i] + ((pass == 0) != back ? 1 : -1);
			if (own[i] == TB_NONE || own[next] != TB_NONE || image < row->first || image >= row->first + row->count ||
				taken[image - row->first] || !stands_alike(w, next, (guint32)image))
				continue;
			if (chains_after(w, MIN(i, next)) != chains_after(w, MIN(own[i], (guint32)image)))
				continue;
			own[next] = (guint32)image;
			taken[image - row->first] = true;
		}
	}
}

/* Carries MAP of row 0 up. BACK: right for left. False when too little of the piece goes over into itself. */
static bool carry_up(const carrier *c, guint32 *map, bool back)
{
	const tb_weave *w = c->w;
	guint32 at = 0;
	double hit = 0, whole = 0;
	g_autofree guint32 *own = g_new(guint32, w->nodes->len + 1);
	for (guint32 r = 1; r < w->rows->len; r++) {
		const tb_weave_row *row = tb_weave_row_at(w, r);
		double row_hit = 0, row_whole = 0;
		bool any = false;
		for (guint32 i = row->first; i < row->first + row->count; i++)
			own[i] = TB_NONE;
		for (; at < w->groups->len && tb_weave_group_at(w, at)->row == r; at++) {
			const tb_weave_group *group = tb_weave_group_at(w, at);
			bool was_tried;
			guint32 image = find_image(c, at, map, back, &was_tried);
			if (!was_tried)
				continue;
			bool edge = has_edge_stitch(w, group) || (image != TB_NONE && has_edge_stitch(w, tb_weave_group_at(w, image)));
			row_whole += edge ? 0 : group->count;
			if (image == TB_NONE)
				continue;
			row_hit += edge ? 0 : group->count;
			any = true;
			for (guint32 i = 0; i < group->count; i++)
				own[group_member(w, group, i, false)] = group_member(w, tb_weave_group_at(w, image), i, back);
		}
		/* Neighbours go to neighbours, with as many chains between them. */
		for (guint32 i = row->first; i + 1 < row->first + row->count; i++) {
			if (own[i] == TB_NONE || own[i + 1] == TB_NONE)
				continue;
			guint32 a = back ? own[i + 1] : own[i], b = back ? own[i] : own[i + 1];
			if (b != a + 1 || chains_after(w, a) != chains_after(w, i))
				row_hit -= 2;
		}
		if (row_hit < 0.6 * row_whole || (!any && row->count > 2))
			return false;
		carry_along(w, row, own, back);
		for (guint32 i = row->first; i < row->first + row->count; i++)
			map[i] = own[i];
		hit += row_hit;
		whole += row_whole;
	}
	return hit >= 0.75 * whole;
}

static void clear_map(const tb_weave *w, guint32 *map)
{
	for (guint32 i = 0; i < w->nodes->len; i++)
		map[i] = TB_NONE;
}

static bool is_openwork(const tb_weave *w)
{
	for (guint32 k = 0; k < w->edges->len; k++)
		if (tb_weave_edge_at(w, k)->chains > 0)
			return true;
	for (guint32 k = 0; k < w->groups->len; k++)
		if (tb_weave_group_at(w, k)->count > 2)
			return true;
	return false;
}

/* The least shift that most of the piece goes along with; 0 for none. */
static guint32 find_period(const carrier *c, orbits *o)
{
	const tb_weave *w = c->w;
	const tb_weave_row *ground = tb_weave_row_at(w, 0);
	guint32 chains = count_foundation(w);
	if (w->rounds || w->ring || w->bends || ground->count < 6 || w->rows->len < 3 || !is_openwork(w))
		return 0;
	guint32 standing = w->nodes->len - ground->count;
	for (guint32 p = 2; p <= chains / 2; p++) {
		clear_map(w, o->next);
		for (guint32 k = 0; k + p < chains; k++)
			o->next[foundation_chain(w, k)] = foundation_chain(w, k + p);
		if (!carry_up(c, o->next, false))
			continue;
		guint32 count = 0;
		for (guint32 i = ground->first + ground->count; i < w->nodes->len; i++)
			count += o->next[i] != TB_NONE;
		if (count >= 0.45 * standing * (1 - (double)p / chains))
			return p;
	}
	return 0;
}

/* ---- frames ---- */

static void frame_free(tb_frame *frame, guint32 node)
{
	*frame = (tb_frame){.origin = node, .turn = 1, .freedom = TB_FREEDOM_PLANE};
}

/* All that the turns and the mirror make of each node not yet framed. */
static void frame_rounds(const tb_weave *w, tb_symmetry *s, const guint32 *images, const guint32 *mirrored)
{
	guint32 n = w->nodes->len;
	g_autofree bool *done = g_new0(bool, n + 1);
	g_autofree double complex *turn = g_new(double complex, s->turns + 1);
	for (guint32 k = 0; k < s->turns; k++)
		turn[k] = cos(2 * G_PI * k / s->turns) + I * sin(2 * G_PI * k / s->turns);
	for (guint32 v = 0; v < n; v++) {
		if (done[v])
			continue;
		frame_free(&s->frames[v], v);
		guint32 at = v;
		for (guint32 k = 0; k < s->turns; k++) {
			if (!done[at]) {
				s->frames[at] = (tb_frame){.origin = v, .turn = turn[k],
					.freedom = at == v ? TB_FREEDOM_PLANE : TB_FREEDOM_NONE};
				if (k == 0)
					s->frames[at].turn = 1;
				done[at] = true;
			}
			at = s->turns > 1 ? images[at] : at;
		}
		if (mirrored == NULL)
			continue;
		at = mirrored[v];
		if (done[at] && s->frames[at].origin == v) {
			/* Its mirror image is one of its own turns: it lies on a mirror line. */
			double angle = -carg(s->frames[at].turn) / 2;
			s->frames[v].freedom = TB_FREEDOM_LINE;
			s->frames[v].line = cos(angle) + I * sin(angle);
			continue;
		}
		for (guint32 k = 0; k < s->turns; k++) {
			double angle = 2 * G_PI * k / s->turns;
			s->frames[at] = (tb_frame){.origin = v, .turn = cos(angle) + I * sin(angle), .mirrored = true,
				.freedom = TB_FREEDOM_NONE};
			done[at] = true;
			at = s->turns > 1 ? images[at] : at;
		}
	}
}

/* Halves left and right of x = 0. */
static void frame_halves(const tb_weave *w, tb_symmetry *s, const guint32 *mirrored, bool with_foundation)
{
	for (guint32 v = 0; v < w->nodes->len; v++) {
		guint32 image = mirrored[v];
		if (tb_weave_node_at(w, v)->row == 0 && !with_foundation)
			continue;
		if (image == v && tb_weave_node_at(w, v)->row > 0) {
			s->frames[v].freedom = TB_FREEDOM_LINE;
			s->frames[v].line = I;
		} else if (image > v && image != TB_NONE && mirrored[image] == v) {
			s->frames[image] = (tb_frame){.origin = v, .turn = -1, .mirrored = true, .freedom = TB_FREEDOM_NONE};
		}
	}
	for (guint32 r = 1; r < w->rows->len; r++) {
		const tb_weave_row *row = tb_weave_row_at(w, r);
		for (guint32 k = 0; k < row->count; k++) {
			double from = k - (row->count - 1) / 2.0;
			s->margin[row->first + k] = copysign(fmin(0.4 * fabs(from), 1.2), from * row->sign);
			if (from == 0)
				s->margin[row->first + k] = 0;
		}
	}
}

/*
 * Motif after motif: x of a node is that of the first of its chain and so many periods. Where the motif is its own
 * mirror image (MIRRORED, of which x and its image's x make SUM periods), chains are paired.
 */
static void frame_motifs(const tb_weave *w, tb_symmetry *s, const orbits *o, const guint32 *mirrored, double sum)
{
	guint32 n = w->nodes->len;
	g_autofree bool *paired = g_new0(bool, n + 1);
	for (guint32 v = 0; v < n; v++) {
		guint32 first = o->orbit[v];
		if (first == TB_NONE || first != v || paired[v] || s->frames[v].freedom == TB_FREEDOM_NONE)
			continue;
		/* The first of the chain with an image in a chain tells what the chain is the image of. */
		guint32 other = TB_NONE, a = 0, b = 0;
		for (guint32 k = v; mirrored != NULL && k != TB_NONE && other == TB_NONE; k = o->next[k]) {
			if (mirrored[k] != TB_NONE && o->orbit[mirrored[k]] != TB_NONE) {
				other = o->orbit[mirrored[k]];
				a = o->place[k];
				b = o->place[mirrored[k]];
			}
		}
		double shift = 0;
		if (other == v) {
			s->frames[v].freedom = TB_FREEDOM_LINE;
			s->frames[v].line = I;
			shift = (sum - a - b) / 2;
		}
		for (guint32 k = v; k != TB_NONE; k = o->next[k]) {
			if (k != v)
				s->frames[k] = (tb_frame){.origin = v, .turn = 1, .freedom = TB_FREEDOM_NONE};
			s->frames[k].shift = shift + o->place[k];
		}
		if (other == TB_NONE || other == v || paired[other])
			continue;
		paired[other] = true;
		for (guint32 k = other; k != TB_NONE; k = o->next[k])
			s->frames[k] = (tb_frame){.origin = v, .turn = -1, .mirrored = true, .freedom = TB_FREEDOM_NONE,
				.shift = sum - a - b + o->place[k]};
	}
}

/* What the places of a used foundation chain and its image make, in periods. */
static double foundation_sum(const tb_weave *w, const tb_symmetry *s, const guint32 *mirrored)
{
	g_autoptr(GArray) used = list_used(w, true);
	if (used->len == 0)
		return 0;
	guint32 one = g_array_index(used, guint32, 0);
	return s->frames[one].shift + s->frames[mirrored[one]].shift;
}

/* What is in no chain of motifs, as edge stitches are, lies as far from the middle as its image, which may be in one. */
static void frame_edges(const tb_weave *w, tb_symmetry *s, const orbits *o, const guint32 *mirrored, double sum)
{
	for (guint32 v = 0; v < w->nodes->len; v++) {
		guint32 image = mirrored[v];
		if (image == TB_NONE || tb_weave_node_at(w, v)->row == 0 || o->orbit[v] != TB_NONE)
			continue;
		if (image == v) {
			s->frames[v].freedom = TB_FREEDOM_LINE;
			s->frames[v].line = I;
			s->frames[v].shift = sum / 2;
		} else if (o->orbit[image] != TB_NONE || image < v) {
			const tb_frame of = s->frames[image];
			s->frames[v] = (tb_frame){.origin = of.origin, .turn = -of.turn, .mirrored = !of.mirrored,
				.freedom = TB_FREEDOM_NONE, .shift = sum - of.shift};
		}
	}
}

/* The foundation is straight, and as far spread as the fabric on it. */
static void frame_foundation(const tb_weave *w, tb_symmetry *s, double period)
{
	const tb_weave_row *ground = tb_weave_row_at(w, 0);
	for (guint32 k = 0; k < ground->count; k++)
		s->frames[from_left(ground, k)] = (tb_frame){.origin = from_left(ground, k), .turn = 1,
			.freedom = TB_FREEDOM_NONE, .shift = (k - (ground->count - 1) / 2.0) / period};
}

/* Whether NEXT lies a period right of NODE, wherever that lies. */
static bool lies_further(const tb_symmetry *s, guint32 node, guint32 next)
{
	const tb_frame *a = &s->frames[node], *b = &s->frames[next];
	bool alike = a->origin == b->origin && a->turn == b->turn && a->mirrored == b->mirrored;
	/* A straight foundation's chains have nothing but their periods; the one without any lies where it was laid. */
	bool straight = a->origin == node && b->origin == next && a->freedom == TB_FREEDOM_NONE &&
		b->freedom == TB_FREEDOM_NONE && a->shift != 0 && b->shift != 0;
	return (alike || straight) && fabs(b->shift - a->shift - 1) < 1e-9;
}

static void keep_moves(const tb_weave *w, tb_symmetry *s, const orbits *o)
{
	s->next = g_new(guint32, w->nodes->len + 1);
	for (guint32 v = 0; v < w->nodes->len; v++)
		s->next[v] = o->next[v] != TB_NONE && lies_further(s, v, o->next[v]) ? o->next[v] : TB_NONE;
}

/* A foundation that does not bend is laid first and stays. */
static void hold_foundation(const tb_weave *w, tb_symmetry *s)
{
	const tb_weave_row *ground = tb_weave_row_at(w, 0);
	for (guint32 v = ground->first; v < ground->first + ground->count; v++)
		s->frames[v] = (tb_frame){.origin = v, .turn = 1, .freedom = TB_FREEDOM_NONE};
}

/* ---- a level piece's sides ---- */

static tb_weave_edge *edge_after(const tb_weave *w, guint32 node)
{
	guint32 edge = tb_weave_node_at(w, node)->next;
	return edge != TB_NONE ? tb_weave_edge_at(w, edge) : NULL;
}

/* The edge stitch and the fan beside it in the arc at the edge are one half fan. */
static bool join_half_fan(tb_weave *w, const tb_weave_row *row, guint32 v, guint32 beside, bool first)
{
	const tb_weave_node *inner = tb_weave_node_at(w, beside), *end = tb_weave_node_at(w, v);
	if (inner->group_size < 2 || end->leg_count != 1)
		return false;
	const tb_weave_leg *arc = tb_weave_leg_at(w, inner->first_leg), *foot = tb_weave_leg_at(w, end->first_leg);
	tb_weave_edge *edge = edge_after(w, first ? v : beside);
	if (edge == NULL || edge->chains > 0 || arc->kind != TB_LEG_RUN || foot->kind != TB_LEG_NODE)
		return false;
	const tb_weave_run *run = tb_weave_run_at(w, arc->base);
	if (foot->base != run->before && foot->base != run->after)
		return false;
	edge->rest = edge->least = edge->most = 0.78;
	edge->weight = edge->pull = 1;
	edge->valley = false;
	const tb_weave_group *group = tb_weave_group_at(w, inner->group);
	double mean = 0, along = 0, widest = 0;
	for (guint32 i = 0; i < group->count; i++)
		mean += tb_weave_node_at(w, tb_weave_member(w, group, i))->height / group->count;
	mean = fmax(0.9, mean);
	int turn = -row->sign * (first ? 1 : -1);
	for (guint32 i = 0; i < group->count; i++) {
		guint32 node = tb_weave_member(w, group, first ? i : group->count - 1 - i);
		if (i == 0)
			along += 0.78;
		else
			along += edge_after(w, tb_weave_member(w, group, first ? i - 1 : group->count - 1 - i))->rest;
		tb_weave_node_at(w, node)->lean = turn * along / mean;
		widest = fabs(tb_weave_node_at(w, node)->lean);
	}
	if (widest <= 1)
		return true;
	edge->rest = edge->least = edge->most = fmax(0.5, 0.78 / widest);
	for (guint32 i = 0; i < group->count; i++) {
		guint32 node = tb_weave_member(w, group, i);
		tb_weave_node_at(w, node)->lean /= widest;
		tb_weave_edge *e = edge_after(w, node);
		if (e != NULL && e->same && e->chains == 0)
			e->rest = e->least = e->most = fmax(0.5, 0.78 / widest);
	}
	return true;
}

/* Whether rows become wider at SIDE, and none less wide, chains counted: the side leans out. */
static bool widens_at(const tb_weave *w, tb_weave_side side)
{
	guint32 increases = 0;
	g_autofree guint32 *width = g_new0(guint32, w->rows->len + 1);
	for (guint32 q = 0; q < w->runs->len; q++)
		width[tb_weave_run_at(w, q)->row] += tb_weave_run_at(w, q)->count;
	for (guint32 r = 1; r < w->rows->len; r++) {
		width[r] += tb_weave_row_at(w, r)->count;
		if (r > 1 && width[r] < width[r - 1])
			return false;
		const tb_weave_row *row = tb_weave_row_at(w, r);
		for (guint32 k = 0; r > 1 && k < 2 && row->count > 0; k++) {
			const tb_weave_node *end = tb_weave_node_at(w, row->first + (k == 0 ? 0 : row->count - 1));
			increases += end->side == side && end->group_size > 1;
		}
	}
	return w->rows->len > 2 && increases * 2 >= w->rows->len - 2 && width[w->rows->len - 1] > width[1];
}

/* A side is upright where every edge stitch stands on the edge stitch below it, and rows do not widen there. */
static void shape_level_side(tb_weave *w, tb_weave_side side)
{
	guint32 below = TB_NONE;
	if (widens_at(w, side))
		return;
	for (guint32 r = 0; r < w->rows->len; r++) {
		const tb_weave_row *row = tb_weave_row_at(w, r);
		if (row->count == 0)
			continue;
		guint32 v = tb_weave_node_at(w, row->first)->side == side ? row->first : row->first + row->count - 1;
		const tb_weave_node *node = tb_weave_node_at(w, v);
		if (r >= 2) {
			const tb_weave_leg *leg = node->leg_count > 0 ? tb_weave_leg_at(w, node->first_leg) : NULL;
			if (leg == NULL || leg->kind != TB_LEG_NODE || (leg->base != below && leg->drawn != below))
				return;
		}
		below = v;
	}
	w->mirror_side[side] = true;
	bool half = false;
	for (guint32 r = 1; r < w->rows->len; r++) {
		const tb_weave_row *row = tb_weave_row_at(w, r);
		if (row->count == 0)
			continue;
		bool first = tb_weave_node_at(w, row->first)->side == side;
		guint32 v = first ? row->first : row->first + row->count - 1;
		const tb_weave_node *node = tb_weave_node_at(w, v);
		const tb_weave_group *group = tb_weave_group_at(w, node->group);
		if (group->count > 1) {
			double upright = node->lean;
			for (guint32 i = 0; i < group->count; i++)
				tb_weave_node_at(w, tb_weave_member(w, group, i))->lean -= upright;
			half = true;
		} else if (row->count > 4) {
			half |= join_half_fan(w, row, v, first ? v + 1 : v - 1, first);
		}
	}
	w->side_weight[side] = half ? 4 : 0.3;
}

/* In a level piece chains span columns as the foundation's do, and heads have the room their fan has. */
static void shape_level(tb_weave *w)
{
	/* How wide the lace is stretched, its gauge says: a chain's width by a chain's rise. */
	const tb_fabric *fabric = w->s->fabric;
	bool by_gauge = fabric->column_mm > 0 && fabric->chain_mm > 0;
	double width = by_gauge ? CLAMP(TB_WEAVE_CHAIN * fabric->column_mm / fabric->chain_mm, NARROWEST, WIDEST) : 1;
	for (guint32 k = 0; k < w->edges->len; k++) {
		tb_weave_edge *e = tb_weave_edge_at(w, k);
		const tb_weave_node *node = tb_weave_node_at(w, e->from);
		if (e->row == 0) {
			e->rest = e->least = e->most = width;
			e->weight = by_gauge ? GAUGE_WEIGHT : 0.4;
			continue;
		}
		if (e->chains > 0)
			e->most = fmax(e->most, 1.2 * (e->chains + 1));
		if (!e->same || node->head_room >= 1 || node->spread)
			continue;
		e->rest *= node->head_room;
		e->least *= node->head_room;
		if (e->chains == 0)
			e->most *= node->head_room;
	}
	shape_level_side(w, TB_SIDE_LEFT);
	shape_level_side(w, TB_SIDE_RIGHT_HAND);
}

/* ---- together ---- */

static void find_level(tb_weave *w, tb_symmetry *s, orbits *o, const guint32 *whole_image)
{
	carrier c;
	carrier_init(&c, w);
	guint32 period = find_period(&c, o);
	if (period > 0) {
		s->level = w->level = true;
		w->period = period;
		const tb_weave_row *ground = tb_weave_row_at(w, 0);
		chain_up(w, o);
		/* The motif may be its own mirror image though the edges are not. */
		guint32 chains = count_foundation(w);
		g_autofree guint32 *mirrored = g_new(guint32, w->nodes->len + 1);
		bool found = false;
		double sum = 0;
		for (guint32 k = 0; k <= 2 * period && !found && !s->mirror; k++) {
			int d = k % 2 == 0 ? (int)(k / 2) : -(int)(k / 2) - 1;
			int whole = (int)chains - 1 + d;
			clear_map(w, mirrored);
			for (int i = MAX(0, whole - (int)chains + 1); i < (int)chains && i <= whole; i++)
				mirrored[foundation_chain(w, (guint32)i)] = foundation_chain(w, (guint32)(whole - i));
			if (!carry_up(&c, mirrored, true))
				continue;
			guint32 all = 0, with = 0;
			g_autofree bool *has = g_new0(bool, w->nodes->len + 1);
			for (guint32 v = ground->count; v < w->nodes->len; v++) {
				all += o->orbit[v] == v;
				if (mirrored[v] != TB_NONE && o->orbit[v] != TB_NONE && o->orbit[mirrored[v]] != TB_NONE)
					has[o->orbit[v]] = true;
			}
			for (guint32 v = ground->count; v < w->nodes->len; v++)
				with += has[v];
			found = with >= 0.9 * all;
			sum = (whole + 2.0 * before_foundation(w) - (ground->count - 1.0)) / period;
		}
		frame_foundation(w, s, period);
		if (s->mirror) {
			sum = foundation_sum(w, s, whole_image);
			frame_motifs(w, s, o, whole_image, sum);
			frame_edges(w, s, o, whole_image, sum);
		} else {
			frame_motifs(w, s, o, found ? mirrored : NULL, sum);
		}
		shape_level(w);
	}
	carrier_clear(&c);
}

tb_symmetry *tb_symmetry_find(tb_weave *w)
{
	tb_symmetry *s = g_new0(tb_symmetry, 1);
	guint32 n = w->nodes->len;
	s->turns = s->motifs = 1;
	s->frames = g_new0(tb_frame, n + 1);
	s->margin = g_new0(double, n + 1);
	for (guint32 i = 0; i < n; i++)
		frame_free(&s->frames[i], i);
	g_autofree guint32 *images = g_new0(guint32, n + 1), *mirrored = g_new(guint32, n + 1);
	if (w->rows->len < 2)
		return s;
	if (w->rounds) {
		guint32 offset = 0;
		s->turns = find_turns(w, images);
		s->mirror = find_round_mirror(w, mirrored, &offset);
		s->offset = offset;
		if (s->mirror)
			s->image = g_memdup2(mirrored, (n + 1) * sizeof(guint32));
		frame_rounds(w, s, images, s->mirror ? mirrored : NULL);
		hold_foundation(w, s);
		return s;
	}
	orbits o;
	orbits_init(w, &o);
	s->mirror = find_flat_mirror(w, false, mirrored) || (has_bare_corner(w) && find_flat_mirror(w, true, mirrored));
	if (s->mirror)
		tb_weave_shape(w);
	s->motifs = find_moves(w, true, &o);
	bool shared = s->motifs > 1;
	if (!shared && w->wave)
		s->motifs = find_moves(w, false, &o);
	if (s->motifs > 1) {
		s->moves = true;
		w->period = step_of(w, 0, s->motifs, shared);
		chain_up(w, &o);
	} else {
		find_level(w, s, &o, mirrored);
	}
	if (s->moves && !w->bends)
		frame_foundation(w, s, w->period);
	if (s->moves)
		frame_motifs(w, s, &o, s->mirror ? mirrored : NULL, 0);
	else if (s->mirror && !s->level) {
		frame_halves(w, s, mirrored, w->bends);
		s->image = g_memdup2(mirrored, (n + 1) * sizeof(guint32));
	}
	if (!w->bends && !s->moves && !s->level)
		hold_foundation(w, s);
	if (s->moves || s->level)
		keep_moves(w, s, &o);
	orbits_clear(&o);
	return s;
}

void tb_symmetry_free(tb_symmetry *s)
{
	if (s == NULL)
		return;
	g_free(s->frames);
	g_free(s->image);
	g_free(s->next);
	g_free(s->margin);
	g_free(s);
}
