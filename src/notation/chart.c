/*
 * Reading by the chart. Sets are filled from left to right; a set grows while it is gone through.
 * Where an item needs a rule, it waits at its place, and the phrases that can begin with what
 * stands there are begun, once; a rule that is read to its end moves on all that waited for it
 * where it began. A rule never reads nothing, so what waited is final by then.
 *
 * An item that can go on with nothing that stands at its place is not made: most would be such.
 */
#include "notation/chart.h"

#include <string.h>

/* An honest row has some twenty items a word, and fewer ways back. */
#define ITEMS_A_WORD 76u
#define ITEMS_AT_LEAST 60000u
#define MOST_ITEMS 600000u
#define BACKS_AN_ITEM 2u

/* Room that a text needed and a usual one does not is given back. */
#define USUAL_ITEMS 65536u

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

/* The same for a table, whose new part is zeroed, so that nothing is read that was never set. */
static guint32 *grow_table(guint32 *room, guint32 *size, guint32 least)
{
	guint32 before = *size;
	room = grow(room, size, least, sizeof *room);
	if (*size > before)
		memset(room + before, 0, (*size - before) * sizeof *room);
	return room;
}

static inline guint32 hash3(guint32 a, guint32 b, guint32 c)
{
	guint32 h = a * 0x9e3779b1u ^ b * 0x85ebca77u ^ c * 0xc2b2ae3du;
	return h ^ h >> 15;
}

/* Whether an item of this text stands at place AT of the table. */
static inline bool is_taken(const tb_chart *c, guint32 at)
{
	guint32 number = c->table[at];
	return number < c->item_count && c->items[number].slot == at;
}

static inline void put_item(tb_chart *c, guint32 at, guint32 number)
{
	c->table[at] = number;
	c->items[number].slot = at;
}

static void widen_table(reader *r)
{
	tb_chart *c = r->c;
	r->mask = r->mask * 2 + 1;
	c->table = grow_table(c->table, &c->table_room, r->mask + 1);
	memset(c->table, 0xff, (r->mask + 1) * sizeof(guint32));
	for (guint32 i = 0; i < c->item_count; i++) {
		const tb_item *item = &c->items[i];
		if (item->slot == TB_NO_ITEM)
			continue;
		guint32 at = hash3(item->end, item->state, item->origin) & r->mask;
		while (c->table[at] != TB_NO_ITEM)
			at = (at + 1) & r->mask;
		put_item(c, at, i);
	}
}

static inline guint32 new_item(reader *r, guint32 set, guint32 state, guint32 origin)
{
	tb_chart *c = r->c;
	guint32 number = c->item_count++;
	if (number >= c->item_room)
		c->items = grow(c->items, &c->item_room, number + 1, sizeof(tb_item));
	c->items[number] =
		(tb_item){origin, set, TB_NO_ITEM, TB_NO_ITEM, TB_NO_ITEM, TB_NO_ITEM, (guint16)state, false};
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

/* Whether all that PHRASE cannot do without comes behind PLACE, or there where it may come first. */
static inline bool can_be_whole(const reader *r, guint32 place, const tb_phrase *phrase)
{
	const guint64 *here = r->c->behind[place], *behind = r->c->behind[place + !phrase->may_skip];
	return (is_among(behind, phrase->needs[0]) && is_among(behind, phrase->needs[1]) &&
		is_among(here, phrase->needs[2])) || r->all;
}

static inline void add(reader *r, guint32 set, guint32 state, guint32 origin, guint32 previous,
	tb_child_kind kind, guint32 child)
{
	tb_chart *c = r->c;
	guint32 at, number;
	if (!meet(r, set, r->g->states[state].next))
		return;
	for (at = hash3(set, state, origin) & r->mask;; at = (at + 1) & r->mask) {
		if (!is_taken(c, at)) {
			number = new_item(r, set, state, origin);
			put_item(c, at, number);
			break;
		}
		number = c->table[at];
		const tb_item *item = &c->items[number];
		if (item->end == set && item->state == state && item->origin == origin)
			break;
	}
	tb_item *item = &c->items[number];
	guint32 back = c->back_count++;
	if (back >= c->back_room)
		c->backs = grow(c->backs, &c->back_room, back + 1, sizeof(tb_back));
	c->backs[back] = (tb_back){previous, kind, child, item->back};
	item->back = back;
	if (c->item_count * 2 > r->mask)
		widen_table(r);
}

static void predict(reader *r, guint32 place, guint32 rule)
{
	tb_chart *c = r->c;
	const tb_lattice *l = c->lattice;
	const guint16 *of_rule = r->g->predict[rule];
	guint32 now = c->begun + place;
	for (guint32 e = l->first_edge[place]; e < l->first_edge[place + 1]; e++) {
		const guint16 *list = r->g->predicted + of_rule[l->edges[e].term];
		const guint64 *stands = c->stands[l->edges[e].end];
		while (*list != 0xffff) {
			guint need = *list++, count = *list++;
			const guint16 *behind = list + count;
			if (!is_among(stands, need) && !r->all)
				list = behind;
			for (; list < behind; list++) {
				const tb_phrase *phrase = &r->g->phrases[*list];
				if (!can_be_whole(r, place, phrase) || c->begun_at[*list] == now)
					continue;
				c->begun_at[*list] = now;
				new_item(r, place, phrase->first, place);
			}
		}
	}
}

static inline bool is_node_taken(const tb_chart *c, guint32 at)
{
	guint32 number = c->node_table[at];
	return number < c->node_count && c->nodes[number].slot == at;
}

static inline void put_node(tb_chart *c, guint32 at, guint32 number)
{
	c->node_table[at] = number;
	c->nodes[number].slot = at;
}

static void widen_node_table(reader *r)
{
	tb_chart *c = r->c;
	r->node_mask = r->node_mask * 2 + 1;
	c->node_table = grow_table(c->node_table, &c->node_table_room, r->node_mask + 1);
	memset(c->node_table, 0xff, (r->node_mask + 1) * sizeof(guint32));
	for (guint32 i = 0; i < c->node_count; i++) {
		const tb_node *node = &c->nodes[i];
		guint32 at = hash3(node->rule, node->origin, node->end) & r->node_mask;
		while (c->node_table[at] != TB_NO_ITEM)
			at = (at + 1) & r->node_mask;
		put_node(c, at, i);
	}
}

/* The node of RULE from ORIGIN to END; *IS_NEW: it was not there. */
static guint32 find_node(reader *r, guint32 rule, guint32 origin, guint32 end, bool *is_new)
{
	tb_chart *c = r->c;
	guint32 at = hash3(rule, origin, end) & r->node_mask;
	for (; is_node_taken(c, at); at = (at + 1) & r->node_mask) {
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
	put_node(c, at, number);
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
		add(r, place, item->state + 1u, item->origin, waits, TB_CHILD_NODE, node);
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
		if (c->item_count > r->most || c->back_count > r->most * BACKS_AN_ITEM) {
			c->is_tangled = true;
			return;
		}
		if (state->kind == TB_STATE_END) {
			complete(r, i, place, state->what);
			continue;
		}
		for (const guint16 *skip = r->g->skips + state->skips; *skip != 0xffff; skip++)
			add(r, place, *skip, origin, i, TB_CHILD_NONE, 0);
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
				add(r, l->edges[e].end, number + 1u, origin, i, TB_CHILD_EDGE, e);
		}
	}
	keep_waiting(c, place);
}

static inline void join_sets(guint64 *to, const guint64 *a, const guint64 *b, unsigned words)
{
	for (unsigned i = 0; i < words; i++)
		to[i] = a[i] | b[i];
}

static void find_standing(reader *r)
{
	tb_chart *c = r->c;
	const tb_lattice *l = c->lattice;
	const guint64 (*holders)[TB_SET_WORDS] = r->g->holders;
	const guint64 *end = holders[TB_TERM_CLASS_end];
	join_sets(c->stands[l->count], end, end, TB_SET_WORDS);
	join_sets(c->behind[l->count], end, end, TB_NEED_WORDS);
	for (guint32 place = l->count; place-- > 0;) {
		/* something may be read at every place, if only as any word */
		guint32 e = l->first_edge[place], last = l->first_edge[place + 1] - 1;
		guint64 *stands = c->stands[place];
		join_sets(stands, holders[l->edges[e].term], holders[l->edges[last].term], TB_SET_WORDS);
		while (++e < last) {
			join_sets(stands, stands, holders[l->edges[e].term], TB_SET_WORDS);
		}
		join_sets(c->behind[place], c->behind[place + 1], stands, TB_NEED_WORDS);
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
	r->mask = MAX(c->table_room, 1024u) - 1;
	c->table = grow_table(c->table, &c->table_room, r->mask + 1);
	r->node_mask = MAX(c->node_table_room, 512u) - 1;
	c->node_table = grow_table(c->node_table, &c->node_table_room, r->node_mask + 1);
	c->waiting = grow(c->waiting, &c->waiting_room, places, sizeof(tb_waiting));
	c->waiter_count = 0;
	c->items = grow(c->items, &c->item_room, 1024, sizeof(tb_item));
	c->backs = grow(c->backs, &c->back_room, 1024, sizeof(tb_back));
	c->nodes = grow(c->nodes, &c->node_room, 512, sizeof(tb_node));
	if (c->begun_at == NULL || c->begun > G_MAXUINT32 - 2 * places) {
		g_free(c->begun_at);
		c->begun_at = g_new0(guint32, r->g->phrase_count);
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
	reader r = {.c = c, .g = grammar, .all = aim == TB_CHART_TELL};
	r.most = MIN(MAX(ITEMS_AT_LEAST, count * ITEMS_A_WORD), MOST_ITEMS);
	make_room(&r, count + 1);
	find_standing(&r);
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
	g_free(c->table);
	g_free(c->node_table);
	g_free(c->waiting);
	g_free(c->waiters);
	g_free(c->begun_at);
	*c = (tb_chart){.root = TB_NO_ITEM};
}
