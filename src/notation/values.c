/* Values of the language: what they have in them, and which are the same. */
#include "notation/chart.h"

/* Lists of one length, from the last item on: most go on from the same. */
static bool lists_equal(const tb_value *a, const tb_value *b)
{
	for (guint32 i = a->count; i-- > 0;) {
		if (a == b)
			return true;
		while (a->before != NULL && a->before->count > i)
			a = a->before;
		while (b->before != NULL && b->before->count > i)
			b = b->before;
		if (a == b)
			return true;
		guint32 of_a = i - (a->before != NULL ? a->before->count : 0);
		guint32 of_b = i - (b->before != NULL ? b->before->count : 0);
		if (!tb_value_equal(a->items[of_a], b->items[of_b]))
			return false;
	}
	return true;
}

bool tb_value_equal(const tb_value *a, const tb_value *b)
{
	if (a == b)
		return true;
	if (a == NULL || b == NULL || a->type != b->type || a->hash != b->hash || a->kind != b->kind ||
		a->symbol != b->symbol || a->count != b->count)
		return false;
	switch ((tb_value_type)a->type) {
	case TB_VALUE_NONE:
	case TB_VALUE_SYMBOL:
		return true;
	case TB_VALUE_NUMBER:
		for (guint32 i = 0; i < a->count; i++) {
			if (a->figures[i] < b->figures[i] || a->figures[i] > b->figures[i])
				return false;
		}
		return true;
	case TB_VALUE_STITCH:
		return a->stitch == b->stitch;
	case TB_VALUE_OWN:
		return a->own == b->own;
	case TB_VALUE_PACKED:
		return a->node == b->node;
	case TB_VALUE_NODE:
		for (guint32 i = 0; i < a->count; i++) {
			if (a->fields[i].slot != b->fields[i].slot ||
				!tb_value_equal(a->fields[i].value, b->fields[i].value))
				return false;
		}
		return true;
	case TB_VALUE_LIST:
		return lists_equal(a, b);
	}
	return false;
}

const tb_value *const *tb_value_items(const tb_value *list, tb_arena *arena)
{
	if (list->before == NULL)
		return list->items;
	const tb_value **all = tb_arena_take(arena, list->count * sizeof *all);
	for (const tb_value *at = list; at != NULL; at = at->before) {
		guint32 earlier = at->before != NULL ? at->before->count : 0;
		for (guint32 i = earlier; i < at->count; i++)
			all[i] = at->items[i - earlier];
	}
	return all;
}

const tb_value *tb_value_get(const tb_value *value, tb_slot slot)
{
	if (value == NULL || value->type != TB_VALUE_NODE)
		return NULL;
	for (guint32 i = 0; i < value->count; i++) {
		if (value->fields[i].slot == slot)
			return value->fields[i].value;
	}
	return NULL;
}
