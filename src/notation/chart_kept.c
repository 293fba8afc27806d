/*
 * Charts kept from texts before. What a chart holds depends on nothing but the terminals of its lattice: "Row 7:
 * Sc in next 12 sts (12)" is read as "Row 5: Sc in next 14 sts (14)" was, and most rows of a pattern are worded as
 * one before them. So the last few charts that were read are kept, each with the lattice it was made from.
 */
#include "notation/chart_kept.h"

#include <string.h>

/* A text that needs more is rare, and is not kept. */
#define MOST_EDGES 4096u
#define MOST_ITEMS 8192u

static guint32 count_edges(const tb_lattice *l)
{
	return l->first_edge[l->count];
}

static guint32 hash_lattice(const tb_lattice *l, tb_rule rule)
{
	guint32 hash = l->count * 31u + (guint32)rule, edges = count_edges(l);
	for (guint32 e = 0; e < edges; e++)
		hash = hash * 31u + (guint32)l->edges[e].term + (l->edges[e].end << 16);
	return hash;
}

static bool is_of(const tb_kept_chart *kept, const tb_lattice *l, tb_rule rule, guint32 hash)
{
	if (kept->hash != hash || kept->rule != rule || kept->count != l->count || kept->too_deep != l->too_deep ||
		kept->edge_count != count_edges(l) ||
		memcmp(kept->first_edge, l->first_edge, (l->count + 1) * sizeof(guint32)) != 0 ||
		memcmp(kept->act_ends, l->act_ends, (l->count + 1) * sizeof(guint32)) != 0)
		return false;
	for (guint32 e = 0; e < kept->edge_count; e++) {
		if (kept->edges[e].term != l->edges[e].term || kept->edges[e].end != l->edges[e].end)
			return false;
	}
	return true;
}

bool tb_chart_find_kept(tb_chart *c, const tb_lattice *l, tb_rule rule, guint32 *hash)
{
	*hash = 0;
	if (l->count == 0 || count_edges(l) > MOST_EDGES)
		return false;
	*hash = hash_lattice(l, rule);
	for (guint i = 0; i < TB_KEPT_CHARTS; i++) {
		const tb_kept_chart *kept = &c->kept[i];
		if (kept->first_edge == NULL || !is_of(kept, l, rule, *hash))
			continue;
		/* there was room for it when it was read, and there is none less now */
		c->item_count = kept->item_count;
		c->back_count = kept->back_count;
		c->node_count = kept->node_count;
		if (c->loaded != kept) {
			memcpy(c->items, kept->items, kept->item_count * sizeof *c->items);
			memcpy(c->backs, kept->backs, kept->back_count * sizeof *c->backs);
			memcpy(c->nodes, kept->nodes, kept->node_count * sizeof *c->nodes);
			c->loaded = kept;
		}
		c->root = kept->root;
		c->furthest = l->count;
		return true;
	}
	return false;
}

static void forget(tb_kept_chart *kept)
{
	g_free(kept->first_edge);
	g_free(kept->act_ends);
	g_free(kept->edges);
	g_free(kept->items);
	g_free(kept->backs);
	g_free(kept->nodes);
	*kept = (tb_kept_chart){0};
}

void tb_chart_keep(tb_chart *c, const tb_lattice *l, tb_rule rule, guint32 hash)
{
	if (hash == 0 || c->root == TB_NO_ITEM || c->item_count > MOST_ITEMS || c->back_count > MOST_ITEMS)
		return;
	tb_kept_chart *kept = &c->kept[c->next_kept++ % TB_KEPT_CHARTS];
	forget(kept);
	*kept = (tb_kept_chart){.hash = hash, .rule = rule, .count = l->count, .too_deep = l->too_deep,
		.edge_count = count_edges(l), .item_count = c->item_count, .back_count = c->back_count,
		.node_count = c->node_count, .root = c->root};
	kept->first_edge = g_memdup2(l->first_edge, (l->count + 1) * sizeof(guint32));
	kept->act_ends = g_memdup2(l->act_ends, (l->count + 1) * sizeof(guint32));
	kept->edges = g_new(tb_kept_edge, kept->edge_count);
	for (guint32 e = 0; e < kept->edge_count; e++)
		kept->edges[e] = (tb_kept_edge){l->edges[e].end, l->edges[e].term};
	c->loaded = kept;
	kept->items = g_memdup2(c->items, c->item_count * sizeof *c->items);
	kept->backs = g_memdup2(c->backs, c->back_count * sizeof *c->backs);
	kept->nodes = g_memdup2(c->nodes, c->node_count * sizeof *c->nodes);
}

void tb_chart_forget_kept(tb_chart *c)
{
	c->loaded = NULL;
	for (guint i = 0; i < TB_KEPT_CHARTS; i++)
		forget(&c->kept[i]);
}
