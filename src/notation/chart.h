/*
 * The chart: every way the phrases of the grammar read a lattice, each part once.
 *
 * Earley's method without empty rules. An item is a phrase read up to a state, from a place; its
 * ways back say how it was reached. A node is a rule that has read from one place to another. Lists
 * of acts at a row's level are never listed: they stay packed, and the fabric walks them.
 */
#ifndef TB_NOTATION_CHART_H
#define TB_NOTATION_CHART_H

#include "notation/lattice.h"

#define TB_NO_ITEM G_MAXUINT32

/* What an item took last. */
typedef enum {
	TB_CHILD_NONE, /* something was left out */
	TB_CHILD_EDGE,
	TB_CHILD_NODE,
} tb_child_kind;

typedef struct {
	guint32 previous;   /* item */
	guint32 kind : 2;   /* tb_child_kind */
	guint32 child : 30; /* edge, node */
	guint32 next;       /* way back of the same item */
} tb_back;

typedef struct {
	guint32 origin, end;
	guint32 back;    /* the first way back, or TB_NO_ITEM at a phrase's beginning */
	guint32 next;    /* the next of its set */
	guint32 other;   /* the next of those that wait for a rule; of a read phrase, of its node */
	guint16 state;
	guint32 reached; /* the last building of readings that it belongs to */
} tb_item;

/* A value and what it costs. */
typedef struct {
	guint32 cost;
	const tb_value *value;
} tb_reading;

typedef struct {
	guint32 origin, end, items; /* its items, by `other` */
	guint16 rule;
	bool done;
	guint32 reached; /* as of an item */
	guint8 count;
	tb_reading one; /* where there is only one, as mostly */
	const tb_reading *readings; /* cheapest first */
} tb_node;

/* The rules that items at a place wait for; where the last item of each stands among all such. */
typedef struct {
	guint64 rules[TB_RULE_WORDS];
	guint32 first[TB_RULE_WORDS]; /* of the rules in one word */
} tb_waiting;

/* The sets of which a terminal stands at a place, by the terminals that do: most words come often. */
typedef struct {
	guint32 terms, count; /* into the chart's */
	guint32 next;         /* of the same hash, or TB_NO_ITEM */
	guint64 sets[TB_SET_WORDS];
} tb_standing;

#define TB_STANDING_HEADS 64u

typedef struct {
	guint32 end;
	guint16 term;
} tb_kept_edge;

/* A chart that was read, before anything was built from it, and all of its lattice that it depends on. */
typedef struct {
	guint32 hash, count, too_deep, edge_count;
	tb_rule rule;
	guint32 *first_edge, *act_ends; /* first_edge is NULL where none is kept */
	tb_kept_edge *edges;
	tb_item *items;
	tb_back *backs;
	tb_node *nodes;
	guint32 item_count, back_count, node_count, root;
} tb_kept_chart;

#define TB_KEPT_CHARTS 12u

/* Kept from text to text, so that each finds room made by those before. Zeroed at first. */
typedef struct {
	const tb_grammar *grammar;
	const tb_lattice *lattice;
	tb_arena *arena;      /* of the values */
	tb_item *items;
	tb_back *backs;
	tb_node *nodes;
	guint32 item_count, back_count, node_count;
	guint32 item_room, back_room, node_room;
	guint32 furthest;     /* the last place anything was read up to */
	bool is_tangled;      /* given up: more than any row needs */
	guint32 *set_first, *set_last; /* items of each place */
	guint32 set_first_room, set_last_room;
	/* by place: the sets of which a terminal stands there, and those of which one stands there or behind */
	const guint64 **stands;
	guint64 (*behind)[TB_NEED_WORDS];
	guint32 stands_room, behind_room;
	/* what stood at places, of this text and those before */
	tb_standing *standings;
	guint16 *standing_terms;
	guint32 standing_heads[TB_STANDING_HEADS];
	guint32 standing_count, standing_room, standing_term_count, standing_term_room;
	guint32 *standing_at; /* by place */
	guint32 standing_at_room;
	/* where items that have a way back, and nodes, are found again: open tables */
	guint32 *table, *node_table;
	guint32 table_room, node_table_room;
	tb_waiting *waiting; /* by place */
	guint32 *waiters;    /* items */
	guint32 waiting_room, waiter_count, waiter_room;
	guint32 waits[TB_RULE_COUNT]; /* the same of the place that is gone through, by rule */
	guint32 *begun_at;    /* by root: when it was begun last */
	guint32 begun;
	guint32 root;         /* node, or TB_NO_ITEM when the whole was not read */
	guint32 built;        /* how often readings were built */
	tb_kept_chart kept[TB_KEPT_CHARTS];
	const tb_kept_chart *loaded; /* the one whose items, ways back and nodes those above are; or NULL */
	guint32 next_kept;    /* where the next is put */
} tb_chart;

typedef enum {
	TB_CHART_READ, /* leaves out what the next word rules out */
	TB_CHART_TELL, /* all that was begun at each place, to tell why nothing was read */
} tb_chart_aim;

/* Reads the whole lattice as RULE. CHART is the caller's; tb_chart_finish after the last use. */
void tb_chart_read(tb_chart *chart, const tb_grammar *grammar, const tb_lattice *lattice,
	tb_rule rule, tb_chart_aim aim, tb_arena *arena);
void tb_chart_finish(tb_chart *chart);

/* The cost of the cheapest row in the packed list that NODE is. */
guint32 tb_chart_packed_cost(const tb_chart *chart, const tb_node *node);

/* The readings of the whole, cheapest first; *COUNT 0 when there is none. */
const tb_reading *tb_chart_readings(tb_chart *chart, unsigned *count);

static inline const tb_item *tb_chart_item(const tb_chart *chart, guint32 item)
{
	return &chart->items[item];
}

static inline tb_node *tb_chart_node(const tb_chart *chart, guint32 node)
{
	return &chart->nodes[node];
}

static inline const tb_back *tb_chart_back(const tb_chart *chart, guint32 back)
{
	return &chart->backs[back];
}

/* One act of a packed list: from one word of the lattice to another. */
typedef struct {
	guint32 from, to;
	guint32 cost;
	const tb_value *value;
} tb_choice;

/*
 * The choices of a packed list, in the order of where they begin: every way from its first word to
 * its last is a row. Owned array of tb_choice.
 */
GArray *tb_chart_choices(tb_chart *chart, const tb_value *packed);

/* The items of LIST, all `count` of them; what is made for it lives in ARENA. */
const tb_value *const *tb_value_items(const tb_value *list, tb_arena *arena);
/* What VALUE holds in SLOT, or NULL. */
const tb_value *tb_value_get(const tb_value *value, tb_slot slot);
/* Whether A and B say the same, wherever they stand. */
bool tb_value_equal(const tb_value *a, const tb_value *b);

static inline bool tb_value_is(const tb_value *value, tb_kind kind)
{
	return value != NULL && value->type == TB_VALUE_NODE && value->kind == kind;
}

static inline bool tb_value_is_symbol(const tb_value *value, tb_symbol symbol)
{
	return value != NULL && value->type == TB_VALUE_SYMBOL && value->symbol == (gint16)symbol;
}

#endif
