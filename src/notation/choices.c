/*
 * What a packed list of acts may be: each act from one place of the text to another, with what it
 * costs, taken from the chart as it stands.
 */
#include "notation/chart.h"

/* The cheapest reading of a node, or 0 where it says nothing. */
static guint32 cheapest(const tb_chart *c, guint32 node)
{
	return tb_chart_node(c, node)->count > 0 ? tb_chart_node(c, node)->readings[0].cost : 0;
}

/*
 * The cost of the cheapest row in a packed list. A list that ends earlier has been read before, and
 * keeps its own: so each asks only for the list before its last act.
 */
guint32 tb_chart_packed_cost(const tb_chart *c, const tb_node *node)
{
	guint32 best = G_MAXUINT32 / 2;
	for (guint32 item = node->items; item != TB_NO_ITEM;
		item = tb_chart_item(c, item)->other) {
		guint32 phrase = c->grammar->phrases[c->grammar->states[tb_chart_item(c, item)->state].phrase].cost;
		for (guint32 at = tb_chart_item(c, item)->back; at != TB_NO_ITEM;
			at = tb_chart_back(c, at)->next) {
			const tb_back *act = tb_chart_back(c, at);
			guint32 cost = phrase + cheapest(c, act->child);
			guint32 k = tb_chart_item(c, act->previous)->back;
			if (k == TB_NO_ITEM)
				best = MIN(best, cost);
			for (; k != TB_NO_ITEM; k = tb_chart_back(c, k)->next) {
				const tb_back *last = tb_chart_back(c, k);
				guint32 m = tb_chart_item(c, last->previous)->back;
				guint32 with = cost + cheapest(c, last->child);
				if (m == TB_NO_ITEM)
					best = MIN(best, with);
				for (; m != TB_NO_ITEM; m = tb_chart_back(c, m)->next)
					best = MIN(best, with + cheapest(c, tb_chart_back(c, m)->child));
			}
		}
	}
	return best;
}

static int compare_choices(gconstpointer a, gconstpointer b)
{
	const tb_choice *x = a, *y = b;
	if (x->from != y->from)
		return x->from < y->from ? -1 : 1;
	if (x->cost != y->cost)
		return x->cost < y->cost ? -1 : 1;
	return x->to > y->to ? -1 : x->to < y->to;
}

static void add_choices(const tb_chart *c, GArray *choices, guint32 act, guint32 from, guint32 cost)
{
	const tb_node *node = tb_chart_node(c, act);
	for (guint8 i = 0; i < node->count; i++) {
		tb_choice choice = {from, node->end, cost + node->readings[i].cost, node->readings[i].value};
		g_array_append_val(choices, choice);
	}
}

/* Ways back of ITEM, whose last child is an act: acts[0] alone, or list, separator, act. */
static void unwind(tb_chart *c, guint32 item, guint32 cost, GArray *choices, GArray *todo)
{
	for (guint32 at = tb_chart_item(c, item)->back; at != TB_NO_ITEM; at = tb_chart_back(c, at)->next) {
		const tb_back *act = tb_chart_back(c, at);
		const tb_item *before = tb_chart_item(c, act->previous);
		if (before->back == TB_NO_ITEM) {
			add_choices(c, choices, act->child, tb_chart_node(c, act->child)->origin, cost);
			continue;
		}
		for (guint32 k = before->back; k != TB_NO_ITEM; k = tb_chart_back(c, k)->next) {
			const tb_back *last = tb_chart_back(c, k);
			const tb_item *list = tb_chart_item(c, last->previous);
			if (list->back == TB_NO_ITEM) {
				/* the list stands right before the act */
				add_choices(c, choices, act->child, tb_chart_node(c, last->child)->end, cost);
				guint32 list_node = last->child;
				g_array_append_val(todo, list_node);
				continue;
			}
			for (guint32 m = list->back; m != TB_NO_ITEM; m = tb_chart_back(c, m)->next) {
				guint32 node = tb_chart_back(c, m)->child;
				add_choices(c, choices, act->child, tb_chart_node(c, node)->end,
					cost + cheapest(c, last->child));
				g_array_append_val(todo, node);
			}
		}
	}
}

GArray *tb_chart_choices(tb_chart *c, const tb_value *packed)
{
	GArray *choices = g_array_new(FALSE, FALSE, sizeof(tb_choice));
	g_autoptr(GArray) todo = g_array_new(FALSE, FALSE, sizeof(guint32));
	g_autofree bool *seen = g_new0(bool, c->node_count + 1);
	guint32 first = packed->node;
	g_array_append_val(todo, first);
	for (guint32 i = 0; i < todo->len; i++) {
		guint32 node = g_array_index(todo, guint32, i);
		if (seen[node])
			continue;
		seen[node] = true;
		for (guint32 item = tb_chart_node(c, node)->items; item != TB_NO_ITEM;
			item = tb_chart_item(c, item)->other) {
			const tb_state *state = &c->grammar->states[tb_chart_item(c, item)->state];
			unwind(c, item, c->grammar->phrases[state->phrase].cost, choices, todo);
		}
	}
	g_array_sort(choices, compare_choices);
	/* The same act with another separator is one choice. */
	guint to = 0;
	for (guint i = 0; i < choices->len; i++) {
		const tb_choice *choice = &g_array_index(choices, tb_choice, i);
		bool there = false;
		for (guint k = to; k-- > 0 && !there;) {
			const tb_choice *kept = &g_array_index(choices, tb_choice, k);
			if (kept->from != choice->from)
				break;
			there = kept->to == choice->to && tb_value_equal(kept->value, choice->value);
		}
		if (!there)
			g_array_index(choices, tb_choice, to++) = *choice;
	}
	g_array_set_size(choices, to);
	return choices;
}
