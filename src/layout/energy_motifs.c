/*
 * What comes again with every motif. Where a node and all that acts with what belongs to it lie a period further on
 * again, the energy has there what it had before: the first counts as often as it comes, the others not at all. At the
 * edges nothing is like what is inside, and all counts once.
 */
#include "layout/energy.h"

typedef struct {
	const tb_weave *w;
	const guint32 *next;
	bool *alike;           /* by node: it, its edges and its legs are those of the next motif's */
	guint32 *on, *like_on; /* by node: the legs that stand on it, or on what begins there; those of nodes that are alike */
} comparison;

static bool edges_match(const comparison *c, guint32 one, guint32 other)
{
	if (one == TB_NONE || other == TB_NONE)
		return one == other;
	const tb_weave_edge *a = tb_weave_edge_at(c->w, one), *b = tb_weave_edge_at(c->w, other);
	return c->next[a->from] == b->from && c->next[a->to] == b->to && a->chains == b->chains && a->same == b->same &&
		a->valley == b->valley && a->rest == b->rest && a->least == b->least && a->most == b->most &&
		a->weight == b->weight && a->pull == b->pull;
}

static bool legs_match(const comparison *c, const tb_weave_leg *a, const tb_weave_leg *b)
{
	if (a->kind != b->kind || a->height != b->height)
		return false;
	if (a->kind == TB_LEG_NODE)
		return c->next[a->base] == b->base;
	if (a->kind == TB_LEG_RING)
		return false;
	const tb_weave_run *run = tb_weave_run_at(c->w, a->base), *other = tb_weave_run_at(c->w, b->base);
	return a->along == b->along && run->count == other->count && run->row == other->row &&
		c->next[run->before] == other->before && run->after != TB_NONE && c->next[run->after] == other->after;
}

static bool nodes_match(const comparison *c, guint32 node)
{
	if (c->next[node] == TB_NONE)
		return false;
	const tb_weave_node *a = tb_weave_node_at(c->w, node), *b = tb_weave_node_at(c->w, c->next[node]);
	if (a->token != b->token || a->height != b->height || a->leg_count != b->leg_count || a->group_size != b->group_size ||
		a->lean != b->lean || a->head_room != b->head_room || a->spread != b->spread || a->side != b->side ||
		!edges_match(c, a->next, b->next) || !edges_match(c, a->before, b->before))
		return false;
	for (guint32 k = 0; k < a->leg_count; k++)
		if (!legs_match(c, tb_weave_leg_at(c->w, a->first_leg + k), tb_weave_leg_at(c->w, b->first_leg + k)))
			return false;
	return true;
}

/* The node that a leg stands on, or where what it stands on begins; and where that ends. */
static void ends_of_base(const tb_weave *w, const tb_weave_leg *leg, guint32 ends[2])
{
	ends[0] = ends[1] = leg->base;
	if (leg->kind != TB_LEG_RUN)
		return;
	ends[0] = tb_weave_run_at(w, leg->base)->before;
	ends[1] = tb_weave_run_at(w, leg->base)->after;
}

/* What stands on a node that is alike, and on what begins there, is alike too, and nothing else stands there. */
static bool bears_alike(const comparison *c, guint32 node)
{
	return c->alike[node] && c->like_on[node] == c->on[node] && c->on[c->next[node]] == c->on[node];
}

/* With its neighbours, with what stands on it, and with what it stands on and what else stands there. */
static bool acts_alike(const comparison *c, guint32 v)
{
	const tb_weave_node *node = tb_weave_node_at(c->w, v);
	if (!bears_alike(c, v) || (node->next != TB_NONE && !c->alike[tb_weave_edge_at(c->w, node->next)->to]) ||
		(node->before != TB_NONE && !c->alike[tb_weave_edge_at(c->w, node->before)->from]))
		return false;
	for (guint32 k = 0; k < node->leg_count; k++) {
		guint32 ends[2];
		ends_of_base(c->w, tb_weave_leg_at(c->w, node->first_leg + k), ends);
		if (!bears_alike(c, ends[0]) || !bears_alike(c, ends[1]))
			return false;
	}
	return true;
}

static void compare(comparison *c)
{
	const tb_weave *w = c->w;
	for (guint32 v = 0; v < w->nodes->len; v++) {
		const tb_weave_node *node = tb_weave_node_at(w, v);
		c->alike[v] = nodes_match(c, v);
		for (guint32 k = 0; k < node->leg_count; k++) {
			const tb_weave_leg *leg = tb_weave_leg_at(w, node->first_leg + k);
			guint32 ends[2];
			if (leg->kind == TB_LEG_RING)
				continue;
			ends_of_base(w, leg, ends);
			c->on[ends[0]]++;
			c->like_on[ends[0]] += c->alike[v];
		}
	}
}

double *tb_energy_count_motifs(const tb_weave *w, const tb_symmetry *symmetry)
{
	guint32 n = w->nodes->len + 1;
	double *motifs = g_new(double, n);
	for (guint32 v = 0; v < n; v++)
		motifs[v] = 1;
	if (symmetry->next == NULL)
		return motifs;
	g_autofree bool *alike = g_new0(bool, n), *goes_on = g_new0(bool, n);
	g_autofree guint32 *on = g_new0(guint32, n), *like_on = g_new0(guint32, n);
	comparison c = {w, symmetry->next, alike, on, like_on};
	compare(&c);
	for (guint32 v = 0; v < w->nodes->len; v++) {
		goes_on[v] = acts_alike(&c, v);
		if (goes_on[v])
			motifs[symmetry->next[v]] = 0;
	}
	for (guint32 v = 0; v < w->nodes->len; v++)
		for (guint32 at = v; motifs[v] > 0 && goes_on[at]; at = symmetry->next[at])
			motifs[v]++;
	return motifs;
}
