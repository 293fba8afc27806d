/*
 * Reading by the chart. Sets are filled from left to right; a set grows while it is gone through.
 * Where an item needs a rule, it waits at its place, and the phrases that can begin with what
 * stands there are begun, once; a rule that is read to its end moves on all that waited for it
 * where it began. A rule never reads nothing, so what waited is final by then.
 *
 * An item that can go on with nothing that stands at its place is not made: most would be such.
 */
#include "notation/chart_kept.h"

#include <string.h>

/* An honest row has some twenty items a word, and fewer ways back. */
#define ITEMS_A_WORD 88u
#define ITEMS_AT_LEAST 60000u
#define MOST_ITEMS 700000u
#define BACKS_AN_ITEM 2u

/* Room that a text needed and a usual one does not is given back. */
#define USUAL_ITEMS 65536u
/* So many standings are kept for the texts behind. */
#define USUAL_STANDINGS 256u

typedef struct {
	tb_chart *c;
	const tb_grammar *g;
	guint32 mask, node_mask, most;
	bool all;              /* also what can lead nowhere */
} reader;

static void *grow(void *room, guint32 *size, guint32 least, gsize bytes)
{
	if (*size >= least)
		return room;
	*size = MAX(least, *size * 2);
	return g_realloc_n(room, *size, bytes);
}

/* A table of SIZE places, all empty. */
static guint32 *clear_table(guint32 *room, guint32 *has, guint32 size)
{
	room = grow(room, has, size, sizeof *room);
	return memset(room, 0xff, size * sizeof *room);
}

static inline guint32 hash3(guint32 a, guint32 b, guint32 c)
{
	guint32 h = a * 0x9e3779b1u ^ b * 0x85ebca77u ^ c * 0xc2b2ae3du;
	return h ^ h >> 15;
}

static void widen_table(reader *r)
{
	tb_chart *c = r->c;
	r->mask = r->mask * 2 + 1;
	c->table = clear_table(c->table, &c->table_room, r->mask + 1);
	for (guint32 i = 0; i < c->item_count; i++) {
		const tb_item *item = &c->items[i];
		if (item->back == TB_NO_ITEM)
			continue;
		guint32 at = hash3(item->end, item->state, item->origin) & r->mask;
		while (c->table[at] != TB_NO_ITEM)
			at = (at + 1) & r->mask;
		c->table[at] = i;
	}
}

static inline guint32 new_item(reader *r, guint32 set, guint32 state, guint32 origin)
{
	tb_chart *c = r->c;
	guint32 number = c->item_count++;
	if (number >= c->item_room)
		c->items = grow(c->items, &c->item_room, number + 1, sizeof(tb_item));
	c->items[number] =
		(tb_item){origin, set, TB_NO_ITEM, TB_NO_ITEM, TB_NO_ITEM, (guint16)state, false};
	if (c->set_first[set] == TB_NO_ITEM)
		c->set_first[set] = number;
	else
		c->items[c->set_last[set]].next = number;
	c->set_last[set] = number;
	return number;
}

static inline bool is_among(const guint64 *sets, guint32 set)
{
	return (sets[set / 64] >> set % 64 & 1) != 0;
}

/* Whether one of the terminals of SET stands at PLACE. */
static inline bool meet(const reader *r, guint32 place, guint32 set)
{
	return is_among(r->c->stands[place], set) || r->all;
}

/* The item of STATE from ORIGIN in SET, which may be there already. */
static inline guint32 find_item(reader *r, guint32 set, guint32 state, guint32 origin)
{
	tb_chart *c = r->c;
	guint32 at = hash3(set, state, origin) & r->mask;
	for (; c->table[at] != TB_NO_ITEM; at = (at + 1) & r->mask) {
		const tb_item *item = &c->items[c->table[at]];
		if (item->end == set && item->state == state && item->origin == origin)
			return c->table[at];
	}
	guint32 number = new_item(r, set, state, origin);
	c->table[at] = number;
	return number;
}

/* HOW: a way back that is the item's only one yet. */
static G_GNUC_NO_INLINE void put(reader *r, guint32 set, guint32 state, guint32 origin, tb_back how)
{
	tb_chart *c = r->c;
	guint32 number = find_item(r, set, state, origin);
	tb_item *item = &c->items[number];
	guint32 back = c->back_count++;
	if (back >= c->back_room)
		c->backs = grow(c->backs, &c->back_room, back + 1, sizeof(tb_back));
	how.next = item->back;
	c->backs[back] = how;
	item->back = back;
	if (c->item_count * 2 > r->mask)
		widen_table(r);
}

/* Whether what state TO cannot do without comes at SET or behind. */
static inline bool can_go_on(const reader *r, guint32 set, const tb_state *to)
{
	return to->need == 0xffff || is_among(r->c->behind[set], to->need) || r->all;
}

static inline void add(reader *r, guint32 set, guint32 state, guint32 origin, tb_back how)
{
	const tb_state *to = &r->g->states[state];
	if (meet(r, set, to->next) && can_go_on(r, set, to))
		put(r, set, state, origin, how);
}

/* What an item in STATE stood before is read up to SET: HOW. */
static inline void go_on(reader *r, guint32 set, guint32 state, guint32 origin, tb_back how)
{
	add(r, set, state + 1u, origin, how);
	const guint16 *also = r->g->also + r->g->states[state].also;
	if (*also == 0xffff || !meet(r, set, *also))
		return;
	while (*++also != 0xffff)
		add(r, set, *also, origin, how);
}

/* Begins at PLACE those of the COUNT roots of LIST for which all comes that they cannot do without. */
static inline void begin(reader *r, guint32 place, const guint16 *list, guint count)
{
	tb_chart *c = r->c;
	const tb_root *roots = r->g->roots;
	const guint64 *here = c->behind[place], *behind = c->behind[place + 1];
	guint32 now = c->begun + place, *begun_at = c->begun_at;
	for (guint i = 0; i < count; i++) {
		const tb_root *root = &roots[list[i]];
		const guint64 *from = root->may_skip ? here : behind;
		if (begun_at[list[i]] == now ||
			!((is_among(from, root->needs[0]) && is_among(from, root->needs[1]) &&
				is_among(here, root->needs[2])) || r->all))
			continue;
		begun_at[list[i]] = now;
		new_item(r, place, root->first, place);
	}
}

static void predict(reader *r, guint32 place, guint32 rule)
{
	const tb_chart *c = r->c;
	const tb_edge *edge = c->lattice->edges + c->lattice->first_edge[place];
	const tb_edge *last = c->lattice->edges + c->lattice->first_edge[place + 1];
	for (; edge < last; edge++) {
		const guint16 *groups = tb_grammar_predicted(r->g, rule, edge->term);
		if (*groups == 0xffff)
			continue;
		const guint64 *stands = c->stands[edge->end];
		for (const guint16 *list = groups; *list != 0xffff; list += 2 + list[1]) {
			if (is_among(stands, list[0]) || r->all)
				begin(r, place, list + 2, list[1]);
		}
	}
}

static void widen_node_table(reader *r)
{
	tb_chart *c = r->c;
	r->node_mask = r->node_mask * 2 + 1;
	c->node_table = clear_table(c->node_table, &c->node_table_room, r->node_mask + 1);
	for (guint32 i = 0; i < c->node_count; i++) {
		const tb_node *node = &c->nodes[i];
		guint32 at = hash3(node->rule, node->origin, node->end) & r->node_mask;
		while (c->node_table[at] != TB_NO_ITEM)
			at = (at + 1) & r->node_mask;
		c->node_table[at] = i;
	}
}

/* The node of RULE from ORIGIN to END; *IS_NEW: it was not there. */
static guint32 find_node(reader *r, guint32 rule, guint32 origin, guint32 end, bool *is_new)
{
	tb_chart *c = r->c;
	guint32 at = hash3(rule, origin, end) & r->node_mask;
	for (; c->node_table[at] != TB_NO_ITEM; at = (at + 1) & r->node_mask) {
		const tb_node *node = &c->nodes[c->node_table[at]];
		if (node->rule == rule && node->origin == origin && node->end == end) {
			*is_new = false;
			return c->node_table[at];
		}
	}
	guint32 number = c->node_count++;
	if (number >= c->node_room)
		c->nodes = grow(c->nodes, &c->node_room, number + 1, sizeof(tb_node));
	c->nodes[number] =
		(tb_node){.origin = origin, .end = end, .items = TB_NO_ITEM, .rule = (guint16)rule};
	c->node_table[at] = number;
	*is_new = true;
	if (c->node_count * 2 > r->node_mask)
		widen_node_table(r);
	return number;
}

/* The last item that waits at PLACE, which is behind us, for RULE. */
static inline guint32 last_waiting(const tb_chart *c, guint32 place, guint32 rule)
{
	const tb_waiting *waiting = &c->waiting[place];
	guint64 rules = waiting->rules[rule / 64], bit = (guint64)1 << rule % 64;
	if ((rules & bit) == 0)
		return TB_NO_ITEM;
	return c->waiters[waiting->first[rule / 64] + (guint32)__builtin_popcountll(rules & (bit - 1))];
}

/* Puts away who waits at PLACE, which has been gone through. */
static void keep_waiting(tb_chart *c, guint32 place)
{
	tb_waiting *waiting = &c->waiting[place];
	for (guint32 i = 0; i < TB_RULE_WORDS; i++) {
		waiting->first[i] = c->waiter_count;
		for (guint64 rules = waiting->rules[i]; rules != 0; rules &= rules - 1) {
			guint32 number = c->waiter_count++;
			c->waiters = grow(c->waiters, &c->waiter_room, number + 1, sizeof(guint32));
			c->waiters[number] = c->waits[i * 64 + (guint32)__builtin_ctzll(rules)];
		}
	}
}

static inline void complete(reader *r, guint32 number, guint32 place, guint32 rule)
{
	tb_chart *c = r->c;
	guint32 origin = c->items[number].origin;
	bool is_new;
	if (place - origin > r->g->rules[rule].most_words ||
		(rule == TB_RULE_act_LIST && place > c->lattice->act_ends[origin]))
		return;
	guint32 node = find_node(r, rule, origin, place, &is_new);
	c->items[number].other = c->nodes[node].items;
	c->nodes[node].items = number;
	if (!is_new)
		return;
	guint32 waits = last_waiting(c, origin, rule);
	while (waits != TB_NO_ITEM) {
		const tb_item *item = &c->items[waits];
		guint32 next = item->other;
		go_on(r, place, item->state, item->origin, (tb_back){waits, TB_CHILD_NODE, node, TB_NO_ITEM});
		waits = next;
	}
}

static void go_through(reader *r, guint32 place)
{
	tb_chart *c = r->c;
	const tb_lattice *l = c->lattice;
	const tb_state *states = r->g->states;
	tb_waiting *waiting = &c->waiting[place];
	*waiting = (tb_waiting){0};
	for (guint32 i = c->set_first[place]; i != TB_NO_ITEM; i = c->items[i].next) {
		guint32 number = c->items[i].state, origin = c->items[i].origin;
		const tb_state *state = &states[number];
		if (state->kind == TB_STATE_END) {
			/* what is read over and over is read to an end each time */
			if (c->item_count > r->most || c->back_count > r->most * BACKS_AN_ITEM) {
				c->is_tangled = true;
				return;
			}
			complete(r, i, place, state->what);
			continue;
		}
		for (const guint16 *skip = r->g->skips + state->skips; *skip != 0xffff; skip++)
			add(r, place, *skip, origin, (tb_back){i, TB_CHILD_NONE, 0, TB_NO_ITEM});
		if (state->kind == TB_STATE_RULE) {
			guint64 *rules = &waiting->rules[state->what / 64], bit = (guint64)1 << state->what % 64;
			bool is_first = (*rules & bit) == 0;
			*rules |= bit;
			c->items[i].other = is_first ? TB_NO_ITEM : c->waits[state->what];
			c->waits[state->what] = i;
			if (is_first)
				predict(r, place, state->what);
			continue;
		}
		const guint64 *set = r->g->sets[state->what];
		for (guint32 e = l->first_edge[place]; e < l->first_edge[place + 1]; e++) {
			unsigned term = l->edges[e].term;
			if ((set[term / 64] >> (term % 64) & 1) != 0)
				go_on(r, l->edges[e].end, number, origin, (tb_back){i, TB_CHILD_EDGE, e, TB_NO_ITEM});
		}
	}
	keep_waiting(c, place);
}

static inline void join_sets(guint64 *to, const guint64 *from, unsigned words)
{
	for (unsigned i = 0; i < words; i++)
		to[i] |= from[i];
}

static guint32 keep_standing(reader *r, const tb_edge *edges, guint32 count, guint32 head)
{
	tb_chart *c = r->c;
	guint32 number = c->standing_count++;
	c->standings = grow(c->standings, &c->standing_room, number + 1, sizeof *c->standings);
	c->standing_terms = grow(c->standing_terms, &c->standing_term_room,
		c->standing_term_count + count, sizeof(guint16));
	tb_standing *standing = &c->standings[number];
	*standing = (tb_standing){c->standing_term_count, count, c->standing_heads[head], {0}};
	c->standing_heads[head] = number;
	for (guint32 e = 0; e < count; e++) {
		c->standing_terms[c->standing_term_count++] = edges[e].term;
		join_sets(standing->sets, r->g->holders[edges[e].term], TB_SET_WORDS);
	}
	return number;
}

/* The standing of the terminals that COUNT edges read, looked up or made. */
static guint32 find_standing(reader *r, const tb_edge *edges, guint32 count)
{
	tb_chart *c = r->c;
	guint32 hash = count;
	for (guint32 e = 0; e < count; e++)
		hash = hash * 31u + edges[e].term;
	guint32 head = (hash ^ hash >> 8) % TB_STANDING_HEADS;
	for (guint32 i = c->standing_heads[head]; i != TB_NO_ITEM; i = c->standings[i].next) {
		const tb_standing *standing = &c->standings[i];
		const guint16 *terms = c->standing_terms + standing->terms;
		guint32 e = 0;
		while (e < count && standing->count == count && terms[e] == edges[e].term)
			e++;
		if (e == count)
			return i;
	}
	return keep_standing(r, edges, count, head);
}

static void find_standings(reader *r)
{
	tb_chart *c = r->c;
	const tb_lattice *l = c->lattice;
	const tb_edge end = {.term = TB_TERM_CLASS_end};
	if (c->standing_count == 0 || c->standing_count > USUAL_STANDINGS) {
		c->standing_count = c->standing_term_count = 0;
		memset(c->standing_heads, 0xff, sizeof c->standing_heads);
	}
	for (guint32 place = 0; place < l->count; place++)
		c->standing_at[place] = find_standing(r, l->edges + l->first_edge[place],
			l->first_edge[place + 1] - l->first_edge[place]);
	c->standing_at[l->count] = find_standing(r, &end, 1);
	memset(c->behind[l->count], 0, sizeof *c->behind);
	for (guint32 place = l->count + 1; place-- > 0;) {
		c->stands[place] = c->standings[c->standing_at[place]].sets;
		if (place < l->count)
			memcpy(c->behind[place], c->behind[place + 1], sizeof *c->behind);
		join_sets(c->behind[place], c->stands[place], TB_NEED_WORDS);
	}
}

static void make_room(reader *r, guint32 places)
{
	tb_chart *c = r->c;
	c->item_count = c->back_count = c->node_count = 0;
	c->set_first = grow(c->set_first, &c->set_first_room, places, sizeof(guint32));
	c->set_last = grow(c->set_last, &c->set_last_room, places, sizeof(guint32));
	memset(c->set_first, 0xff, places * sizeof(guint32));
	c->stands = grow(c->stands, &c->stands_room, places, sizeof *c->stands);
	c->behind = grow(c->behind, &c->behind_room, places, sizeof *c->behind);
	c->standing_at = grow(c->standing_at, &c->standing_at_room, places, sizeof(guint32));
	r->mask = 1023;
	c->table = clear_table(c->table, &c->table_room, r->mask + 1);
	r->node_mask = 511;
	c->node_table = clear_table(c->node_table, &c->node_table_room, r->node_mask + 1);
	c->waiting = grow(c->waiting, &c->waiting_room, places, sizeof(tb_waiting));
	c->waiter_count = 0;
	c->items = grow(c->items, &c->item_room, 1024, sizeof(tb_item));
	c->backs = grow(c->backs, &c->back_room, 1024, sizeof(tb_back));
	c->nodes = grow(c->nodes, &c->node_room, 512, sizeof(tb_node));
	if (c->begun_at == NULL || c->begun > G_MAXUINT32 - 2 * places) {
		g_free(c->begun_at);
		c->begun_at = g_new0(guint32, r->g->root_count);
		c->begun = 1;
	}
}

void tb_chart_read(tb_chart *c, const tb_grammar *grammar, const tb_lattice *lattice,
	tb_rule rule, tb_chart_aim aim, tb_arena *arena)
{
	guint32 count = lattice->count;
	if (c->item_room > USUAL_ITEMS)
		tb_chart_finish(c);
	c->grammar = grammar;
	c->lattice = lattice;
	c->arena = arena;
	c->root = TB_NO_ITEM;
	c->furthest = 0;
	c->is_tangled = false;
	guint32 hash = 0;
	if (aim == TB_CHART_READ && tb_chart_find_kept(c, lattice, rule, &hash))
		return;
	c->loaded = NULL;
	reader r = {.c = c, .g = grammar, .all = aim == TB_CHART_TELL};
	r.most = MIN(MAX(ITEMS_AT_LEAST, count * ITEMS_A_WORD), MOST_ITEMS);
	make_room(&r, count + 1);
	find_standings(&r);
	predict(&r, 0, rule);
	/* Nothing is read behind a bracket that stands too deep. */
	guint32 last = lattice->too_deep < count ? lattice->too_deep : count;
	for (guint32 place = 0; place <= last && !c->is_tangled; place++) {
		if (c->set_first[place] == TB_NO_ITEM)
			continue;
		c->furthest = place;
		go_through(&r, place);
	}
	c->begun += count + 1;
	if (!c->is_tangled && count > 0) {
		bool is_new;
		guint32 node = find_node(&r, rule, 0, count, &is_new);
		c->root = is_new ? TB_NO_ITEM : node;
		c->node_count -= is_new;
		tb_chart_keep(c, lattice, rule, hash);
	}
}

void tb_chart_finish(tb_chart *c)
{
	g_free(c->items);
	g_free(c->backs);
	g_free(c->nodes);
	g_free(c->set_first);
	g_free(c->set_last);
	g_free(c->stands);
	g_free(c->behind);
	g_free(c->standings);
	g_free(c->standing_terms);
	g_free(c->standing_at);
	g_free(c->table);
	g_free(c->node_table);
	g_free(c->waiting);
	g_free(c->waiters);
	g_free(c->begun_at);
	tb_chart_forget_kept(c);
	*c = (tb_chart){.root = TB_NO_ITEM};
}
