/*
 * What the chart's nodes say: values, built from the bottom up, each node's readings by cost, those
 * that say the same only once. Only nodes that belong to a reading of the whole are looked at. A
 * packed list is not opened: its choices are taken from the chart as they stand.
 */
#include "notation/chart.h"

#include <string.h>

/* So many readings of a part are kept. */
#define MOST_READINGS 8u
/* A list so long is gone on from, not copied. */
#define LONG_LIST 32u
/* Of the readings of an item that was not read yet. */
#define NOT_YET 0xff

/* What the slots of an item hold, the last first. */
typedef struct held held;
struct held {
	guint16 slot;
	const tb_value *value;
	const held *before;
};

typedef struct {
	guint32 cost;
	const held *slots;
} partial;

typedef struct {
	guint8 count;
	partial one;    /* where there is only one, as mostly */
	partial *many;
} item_readings;

typedef struct {
	tb_chart *c;
	item_readings *items; /* one an item, of those reached; NOT_YET before it is read */
	guint32 *todo;        /* items */
	guint32 todo_count;
} builder;

static const tb_value *find_held(const held *slots, guint slot)
{
	for (; slots != NULL; slots = slots->before) {
		if (slots->slot == slot)
			return slots->value;
	}
	return NULL;
}

static tb_value *new_value(builder *b, tb_value_type type, const tb_node *node)
{
	tb_value *value = tb_arena_new(b->c->arena, tb_value);
	value->type = (guint8)type;
	value->from = node->origin;
	value->to = node->end;
	return value;
}

static void set_field(tb_field_value *fields, guint32 *count, guint slot, const tb_value *value)
{
	guint32 at = 0;
	while (at < *count && fields[at].slot < slot)
		at++;
	if (at == *count || fields[at].slot != slot) {
		memmove(fields + at + 1, fields + at, (*count - at) * sizeof *fields);
		(*count)++;
	}
	fields[at] = (tb_field_value){(guint16)slot, value};
}

static const tb_value *constant(builder *b, const tb_build *op, const tb_node *node)
{
	tb_value *value = new_value(b, op->op == TB_BUILD_WORD ? TB_VALUE_SYMBOL : TB_VALUE_NUMBER, node);
	if (op->op == TB_BUILD_WORD) {
		value->symbol = op->value;
		value->hash = 31u * (guint32)op->value + 7u;
		return value;
	}
	double *figure = tb_arena_new(b->c->arena, double);
	*figure = op->value;
	value->figures = figure;
	value->count = 1;
	value->hash = 33u + (guint32)(op->value * 8);
	return value;
}

static bool says_nothing(const tb_value *value)
{
	return value == NULL || value->type == TB_VALUE_NONE ||
		(value->type == TB_VALUE_NODE && value->kind == TB_KIND_x && value->count == 0) ||
		value->type == TB_VALUE_SYMBOL || value->type == TB_VALUE_NUMBER;
}

/* The list that the slots begin with, where it is so long that it is not copied. */
static const tb_value *find_long(const held *slots)
{
	const held *first = slots;
	while (first != NULL && first->before != NULL)
		first = first->before;
	return first != NULL && first->value->type == TB_VALUE_LIST && first->value->count >= LONG_LIST ?
		first->value : NULL;
}

static const tb_value *build_list(builder *b, const tb_node *node, const held *slots)
{
	guint32 count = 0;
	const tb_value *before = find_long(slots);
	for (const held *at = slots; at != NULL; at = at->before) {
		if (!says_nothing(at->value) && at->value != before)
			count += at->value->type == TB_VALUE_LIST ? at->value->count : 1;
	}
	tb_value *list = new_value(b, TB_VALUE_LIST, node);
	const tb_value **items = tb_arena_take(b->c->arena, MAX(count, 1) * sizeof *items);
	guint32 to = count;
	for (const held *at = slots; at != NULL; at = at->before) {
		if (says_nothing(at->value) || at->value == before)
			continue;
		if (at->value->type != TB_VALUE_LIST) {
			items[--to] = at->value;
			continue;
		}
		to -= at->value->count;
		memcpy(items + to, tb_value_items(at->value, b->c->arena), at->value->count * sizeof *items);
	}
	list->before = before;
	list->count = count + (before != NULL ? before->count : 0);
	list->items = items;
	list->hash = before != NULL ? before->hash : 17;
	for (guint32 i = 0; i < count; i++)
		list->hash = list->hash * 37u + items[i]->hash;
	return list;
}

/* "First puff. (7 hdc)", "Change to blue. 15": whether a sentence ends before a bracket or a figure among the words of NODE. */
static bool is_broken(const tb_lattice *l, const tb_node *node)
{
	for (guint32 i = node->origin + 1; i < node->end; i++) {
		const char *at = l->text->chars + l->start[i];
		bool figure = g_ascii_isdigit(*at) && l->start[i] > l->stop[i - 1];
		if ((*at == '(' || *at == '[' || figure) && l->text->chars[l->stop[i - 1] - 1] == '.')
			return true;
	}
	return false;
}

/* What PHRASE builds of SLOTS; NULL where what it asks of its words is not so. */
static const tb_value *build(builder *b, const tb_phrase *phrase, const tb_node *node,
	const held *slots)
{
	const tb_build *ops = b->c->grammar->ops + phrase->ops;
	tb_field_value fields[TB_SLOT_COUNT];
	guint32 count = 0;
	guint8 kind = phrase->kind;
	for (unsigned i = 0; i < phrase->op_count; i++) {
		const tb_build *op = &ops[i];
		const tb_value *value;
		switch ((tb_build_op)op->op) {
		case TB_BUILD_LIST:
			return build_list(b, node, slots);
		case TB_BUILD_PASS:
			return find_held(slots, (guint)op->value);
		case TB_BUILD_SAME:
			if (!tb_value_equal(find_held(slots, op->field), find_held(slots, (guint)op->value)))
				return NULL;
			break;
		case TB_BUILD_UNBROKEN:
			if (is_broken(b->c->lattice, node))
				return NULL;
			break;
		case TB_BUILD_PARTED:
			value = find_held(slots, (guint)op->value);
			if (value != NULL && value->from > 0 && b->c->lattice->start[value->from] == b->c->lattice->stop[value->from - 1])
				return NULL;
			break;
		case TB_BUILD_SPREAD:
			value = find_held(slots, (guint)op->value);
			if (value == NULL || value->type != TB_VALUE_NODE)
				break;
			if (op->field != 0)
				kind = value->kind;
			for (guint32 k = 0; k < value->count; k++)
				set_field(fields, &count, value->fields[k].slot, value->fields[k].value);
			break;
		case TB_BUILD_SLOT:
			value = find_held(slots, (guint)op->value);
			if (value != NULL)
				set_field(fields, &count, op->field, value);
			break;
		case TB_BUILD_WORD:
		case TB_BUILD_NUMBER:
			set_field(fields, &count, op->field, constant(b, op, node));
			break;
		}
	}
	struct {
		tb_value value;
		tb_field_value fields[];
	} *room = tb_arena_take(b->c->arena, sizeof *room + count * sizeof *fields);
	tb_value *made = &room->value;
	made->type = TB_VALUE_NODE;
	made->from = node->origin;
	made->to = node->end;
	made->kind = kind;
	made->count = count;
	made->hash = 101u + kind;
	for (guint32 i = 0; i < count; i++) {
		room->fields[i] = fields[i];
		made->hash = made->hash * 41u + fields[i].slot * 5u + fields[i].value->hash;
	}
	made->fields = room->fields;
	return made;
}

/* --- readings --- */

static bool same_slots(const held *a, const held *b)
{
	for (; a != NULL && b != NULL && a != b; a = a->before, b = b->before) {
		if (a->slot != b->slot || !tb_value_equal(a->value, b->value))
			return false;
	}
	return a == b;
}

/*
 * Puts NEW, of SIZE bytes that begin with its cost, among the cheapest ones; at equal cost the earlier
 * stays before. SAME: where the one stands that says the same, or *COUNT.
 */
static void keep(void *kept, guint8 *count, guint8 same, const void *new, size_t size)
{
	char *all = kept;
	guint32 cost = *(const guint32 *)new;
	if (same < *count) {
		if (*(const guint32 *)(all + same * size) <= cost)
			return;
		memmove(all + same * size, all + (same + 1u) * size, (size_t)(*count - same - 1) * size);
		(*count)--;
	}
	guint8 at = *count;
	while (at > 0 && *(const guint32 *)(all + (at - 1u) * size) > cost)
		at--;
	if (at >= MOST_READINGS)
		return;
	memmove(all + (at + 1u) * size, all + at * size, (size_t)(*count - at) * size);
	memcpy(all + at * size, new, size);
	*count = (guint8)MIN(*count + 1u, MOST_READINGS);
}

static void keep_partial(partial *kept, guint8 *count, partial new)
{
	if (*count == 0) {
		kept[(*count)++] = new;
		return;
	}
	guint8 same = 0;
	while (same < *count && !same_slots(kept[same].slots, new.slots))
		same++;
	keep(kept, count, same, &new, sizeof new);
}

static void keep_reading(tb_reading *kept, guint8 *count, tb_reading new)
{
	if (*count == 0) {
		kept[(*count)++] = new;
		return;
	}
	guint8 same = 0;
	while (same < *count && !tb_value_equal(kept[same].value, new.value))
		same++;
	keep(kept, count, same, &new, sizeof new);
}

static void read_node(builder *b, guint32 number);

/* The last acts of a packed list, so that what they cost is known. */
static void read_acts(builder *b, const tb_node *node)
{
	tb_chart *c = b->c;
	for (guint32 item = node->items; item != TB_NO_ITEM;
		item = tb_chart_item(c, item)->other) {
		for (guint32 at = tb_chart_item(c, item)->back; at != TB_NO_ITEM;
			at = tb_chart_back(c, at)->next)
			read_node(b, tb_chart_back(c, at)->child);
	}
}

static void copy_partials(builder *b, guint32 item, const partial *kept, guint8 count)
{
	item_readings *to = &b->items[item];
	to->count = count;
	if (count <= 1) {
		to->one = count == 1 ? kept[0] : (partial){0, NULL};
		return;
	}
	to->many = tb_arena_take(b->c->arena, count * sizeof *kept);
	memcpy(to->many, kept, count * sizeof *kept);
}

static const partial *partials_of(const item_readings *readings)
{
	return readings->count == 1 ? &readings->one : readings->many;
}

static const held *hold(builder *b, guint16 slot, const tb_value *value, const held *before)
{
	if (slot == TB_NO_SLOT || value == NULL)
		return before;
	held *with = tb_arena_new(b->c->arena, held);
	*with = (held){(guint16)slot, value, before};
	return with;
}

/* Adds what ITEM holds by one of its ways back. */
static void read_back(builder *b, const tb_back *back, partial *kept, guint8 *count)
{
	const tb_chart *c = b->c;
	guint16 slot = c->grammar->states[tb_chart_item(c, back->previous)->state].slot;
	const item_readings *before = &b->items[back->previous];
	const partial *partials = partials_of(before);
	if (back->kind != TB_CHILD_NODE) {
		const tb_value *value =
			back->kind == TB_CHILD_EDGE ? c->lattice->edges[back->child].value : NULL;
		for (guint8 i = 0; i < before->count; i++)
			keep_partial(kept, count,
				(partial){partials[i].cost, hold(b, slot, value, partials[i].slots)});
		return;
	}
	const tb_node *node = tb_chart_node(c, back->child);
	for (guint8 i = 0; i < before->count; i++) {
		for (guint8 k = 0; k < node->count; k++)
			keep_partial(kept, count, (partial){partials[i].cost + node->readings[k].cost,
				hold(b, slot, node->readings[k].value, partials[i].slots)});
	}
}

/* Most items have one way back, and that one reading: nothing is weighed then. */
static bool read_only_way(builder *b, const tb_back *back, item_readings *to)
{
	const tb_chart *c = b->c;
	const tb_node *node = back->kind == TB_CHILD_NODE ? tb_chart_node(c, back->child) : NULL;
	const item_readings *before = &b->items[back->previous];
	if (back->next != TB_NO_ITEM || before->count != 1 || (node != NULL && node->count != 1))
		return false;
	const tb_value *value = node != NULL ? node->one.value :
		back->kind == TB_CHILD_EDGE ? c->lattice->edges[back->child].value : NULL;
	guint16 slot = c->grammar->states[tb_chart_item(c, back->previous)->state].slot;
	to->one.cost = before->one.cost + (node != NULL ? node->one.cost : 0);
	to->one.slots = hold(b, slot, value, before->one.slots);
	to->count = 1;
	return true;
}

static void read_item(builder *b, guint32 number)
{
	tb_chart *c = b->c;
	partial kept[MOST_READINGS + 1];
	guint8 count = 0;
	guint32 at = tb_chart_item(c, number)->back;
	for (; at != TB_NO_ITEM; at = tb_chart_back(c, at)->next) {
		const tb_back *back = tb_chart_back(c, at);
		if (b->items[back->previous].count == NOT_YET)
			read_item(b, back->previous);
		if (back->kind == TB_CHILD_NODE && !tb_chart_node(c, back->child)->done)
			read_node(b, back->child);
		if (count == 0 && read_only_way(b, back, &b->items[number]))
			return;
		read_back(b, back, kept, &count);
	}
	copy_partials(b, number, kept, count);
}

static const tb_reading *copy_readings(builder *b, const tb_reading *kept, guint8 count)
{
	tb_reading *copy = tb_arena_take(b->c->arena, count * sizeof *kept);
	return memcpy(copy, kept, count * sizeof *kept);
}

static void read_node(builder *b, guint32 number)
{
	tb_chart *c = b->c;
	if (tb_chart_node(c, number)->done)
		return;
	tb_chart_node(c, number)->done = true;
	const tb_node node = *tb_chart_node(c, number);
	tb_reading kept[MOST_READINGS + 1];
	guint8 count = 0;
	kept[0] = (tb_reading){0, NULL};
	if (c->grammar->rules[node.rule].is_packed) {
		read_acts(b, &node);
		tb_value *packed = new_value(b, TB_VALUE_PACKED, &node);
		packed->node = number;
		packed->hash = number;
		keep_reading(kept, &count, (tb_reading){tb_chart_packed_cost(c, &node), packed});
	} else {
		for (guint32 item = node.items; item != TB_NO_ITEM;
			item = tb_chart_item(c, item)->other) {
			if (b->items[item].count == NOT_YET)
				read_item(b, item);
			const tb_phrase *phrase =
				&c->grammar->phrases[c->grammar->states[tb_chart_item(c, item)->state].phrase];
			const partial *partials = partials_of(&b->items[item]);
			for (guint8 i = 0; i < b->items[item].count; i++) {
				const tb_value *value = build(b, phrase, &node, partials[i].slots);
				if (value != NULL)
					keep_reading(kept, &count,
						(tb_reading){partials[i].cost + phrase->cost, value});
			}
		}
	}
	tb_node *to = tb_chart_node(c, number);
	to->count = count;
	to->one = kept[0];
	to->readings = count <= 1 ? &to->one : copy_readings(b, kept, count);
}

/* --- what belongs to a reading of the whole --- */

/* Puts ITEM among those whose ways back are still to be followed, once. A beginning holds nothing yet. */
static void reach_item(builder *b, guint32 item)
{
	tb_item *at = &b->c->items[item];
	if (at->reached == b->c->built)
		return;
	at->reached = b->c->built;
	if (at->back == TB_NO_ITEM) {
		b->items[item] = (item_readings){.count = 1};
		return;
	}
	b->items[item].count = NOT_YET;
	b->todo[b->todo_count++] = item;
}

static void reach_node(builder *b, guint32 number)
{
	tb_node *node = tb_chart_node(b->c, number);
	if (node->reached == b->c->built)
		return;
	node->reached = b->c->built;
	node->done = false;
	for (guint32 item = node->items; item != TB_NO_ITEM; item = tb_chart_item(b->c, item)->other)
		reach_item(b, item);
}

static void find_reached(builder *b, guint32 root)
{
	const tb_chart *c = b->c;
	reach_node(b, root);
	while (b->todo_count > 0) {
		guint32 at = c->items[b->todo[--b->todo_count]].back;
		for (; at != TB_NO_ITEM; at = tb_chart_back(c, at)->next) {
			const tb_back *back = tb_chart_back(c, at);
			reach_item(b, back->previous);
			if (back->kind == TB_CHILD_NODE)
				reach_node(b, back->child);
		}
	}
}

const tb_reading *tb_chart_readings(tb_chart *c, unsigned *count)
{
	*count = 0;
	if (c->root == TB_NO_ITEM)
		return NULL;
	builder b = {.c = c};
	c->built++;
	b.items = g_new(item_readings, c->item_count);
	b.todo = g_new(guint32, c->item_count);
	find_reached(&b, c->root);
	/*
	 * In the order in which they were made, those that end early first: a long list then finds its
	 * beginning read, and nothing goes deeper than the rules that read the same words.
	 */
	for (guint32 i = 0; i < c->node_count; i++) {
		if (tb_chart_node(c, i)->reached == c->built)
			read_node(&b, i);
	}
	g_free(b.items);
	g_free(b.todo);
	const tb_node *root = tb_chart_node(c, c->root);
	*count = root->count;
	return root->readings;
}
