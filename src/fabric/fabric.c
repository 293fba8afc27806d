/* What was worked, looked at: pieces and sizes, rows by their numbers, colours. */
#include "fabric/worked.h"

void tb_worked_destroy(tb_worked *worked)
{
	if (worked == NULL)
		return;
	for (gsize i = 0; i < (gsize)worked->pieces * worked->sizes; i++) {
		tb_fabric *fabric = &worked->fabrics[i];
		g_free((void *)fabric->made);
		g_free((void *)fabric->bases);
		g_free((void *)fabric->colours);
		g_free((void *)fabric->rows);
		g_free((void *)fabric->repeats);
		g_free((void *)fabric->reached);
	}
	for (unsigned i = 0; i < worked->pieces; i++)
		tb_script_destroy(worked->scripts[i]);
	tb_arena_destroy(worked->arena);
	g_free(worked->fabrics);
	g_free(worked->scripts);
	g_free(worked);
}

const tb_fabric *tb_worked_fabric(const tb_worked *worked, unsigned piece, unsigned size)
{
	g_return_val_if_fail(piece < worked->pieces && size < worked->sizes, NULL);
	return &worked->fabrics[(gsize)piece * worked->sizes + size];
}

const tb_script *tb_worked_script(const tb_worked *worked, unsigned piece)
{
	return worked->scripts[piece];
}

const tb_pattern *tb_worked_pattern(const tb_worked *worked)
{
	return worked->pattern;
}

/* Numbers only grow from row to row. */
const tb_made_row *tb_fabric_row(const tb_fabric *fabric, guint32 number)
{
	guint32 low = 1, high = fabric->row_count;
	while (low < high) {
		guint32 middle = low + (high - low) / 2;
		if (fabric->rows[middle].number < number)
			low = middle + 1;
		else
			high = middle;
	}
	return low < fabric->row_count && fabric->rows[low].number == number ? &fabric->rows[low]
																		 : NULL;
}

bool tb_colour_is_same(const char *one, const char *other)
{
	return one == other || (one != NULL && other != NULL && g_ascii_strcasecmp(one, other) == 0);
}

/* The run that stitch INDEX is of, and one: 0 before the first. */
static guint32 run_at(const tb_fabric *fabric, guint32 index)
{
	guint32 low = 0, high = fabric->colour_count;
	while (low < high) {
		guint32 middle = low + (high - low) / 2;
		if (fabric->colours[middle].first <= index)
			low = middle + 1;
		else
			high = middle;
	}
	return low;
}

bool tb_fabric_is_same_made(const tb_fabric *a, const tb_fabric *b, guint32 index)
{
	const tb_made *x = &a->made[index], *y = &b->made[index];
	if (x->row != y->row || x->behind != y->behind || x->stitch != y->stitch ||
		x->base_count != y->base_count || x->flags != y->flags || x->chains != y->chains ||
		x->rows_below != y->rows_below)
		return false;
	for (unsigned j = 0; j < x->base_count; j++) {
		if (tb_fabric_base(a, x, j) != tb_fabric_base(b, y, j))
			return false;
	}
	return true;
}

const char *tb_fabric_colour(const tb_fabric *fabric, guint32 index)
{
	guint32 run = run_at(fabric, index);
	return run > 0 ? fabric->colours[run - 1].name : NULL;
}

char *tb_fabric_row_colours(const tb_fabric *fabric, const tb_made_row *row)
{
	g_autoptr(GString) names = g_string_new(NULL);
	g_autoptr(GPtrArray) seen = g_ptr_array_new();
	guint32 run = run_at(fabric, row->first);
	for (guint32 i = row->first; i < row->first + row->count && fabric->colour_count > 0; i++) {
		while (run < fabric->colour_count && fabric->colours[run].first <= i)
			run++;
		const char *name = run > 0 ? fabric->colours[run - 1].name : NULL;
		if (!(fabric->made[i].flags & TB_MADE_COUNTED))
			continue;
		if (name == NULL)
			return g_strdup("");
		bool there = false;
		for (guint k = 0; k < seen->len; k++)
			there = there || tb_colour_is_same(seen->pdata[k], name);
		if (there)
			continue;
		g_ptr_array_add(seen, (gpointer)name);
		g_string_append_printf(names, "%s%s", names->len > 0 ? ", " : "", name);
	}
	return g_string_free(g_steal_pointer(&names), FALSE);
}

bool tb_fabric_has_colours(const tb_fabric *fabric)
{
	const char *first = NULL;
	for (guint32 i = 0; i < fabric->colour_count; i++) {
		const char *name = fabric->colours[i].name;
		first = first == NULL ? name : first;
		if (name != NULL && !tb_colour_is_same(first, name))
			return true;
	}
	return false;
}

bool tb_grow_range(const tb_script *script, unsigned piece, unsigned size, tb_grown *grown)
{
	int parent = script->from_piece;
	if (parent < 0 || (unsigned)parent >= piece || !script->has_from)
		return false;
	int first = tb_number_in(&script->from_first, script->from_first.count == 1 ? 0 : size);
	int last = tb_number_in(&script->from_last, script->from_last.count == 1 ? 0 : size);
	if (first == TB_NOT_IN_SIZE || last == TB_NOT_IN_SIZE)
		return false;
	*grown = (tb_grown){(unsigned)parent, (unsigned)first, (unsigned)last};
	return true;
}
