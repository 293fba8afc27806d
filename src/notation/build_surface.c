/* Slip stitches upon the finished cloth: which lines they lie along, and how many there are said to be. */
#include "notation/build.h"

static void add_line(tb_builder *b, const tb_value *rows, const tb_value *column, GArray *lines)
{
	static const tb_number none = {0, NULL, {0, 0}};
	const tb_value *a = tb_value_get(rows, TB_SLOT_a), *last = tb_value_get(rows, TB_SLOT_b);
	tb_surface_line line = {
		.first = a != NULL ? tb_build_number(b, a, 1) : none,
		.last = last != NULL ? tb_build_number(b, last, 1) : none,
		.between = tb_build_has(rows, TB_SLOT_between),
		.st = column != NULL ? tb_build_number(b, tb_value_get(column, TB_SLOT_a), 1) : none,
		.beside = column != NULL ? tb_build_number(b, tb_value_get(column, TB_SLOT_b), 1) : none,
	};
	g_array_append_val(lines, line);
}

/* A line for each of COLUMNS, or of ROWS, lists or one. */
static void add_lines(tb_builder *b, const tb_value *rows, const tb_value *columns, GArray *lines)
{
	const tb_value *list = columns != NULL ? columns : rows;
	if (list == NULL || list->type != TB_VALUE_LIST) {
		add_line(b, rows, columns, lines);
		return;
	}
	const tb_value *const *items = tb_value_items(list, b->scratch);
	for (guint32 i = 0; i < list->count; i++)
		add_lines(b, columns != NULL ? rows : items[i], columns != NULL ? items[i] : NULL, lines);
}

static const char *read_colour(tb_builder *b, const tb_value *shade)
{
	if (shade == NULL)
		return NULL;
	const tb_lattice *l = b->lattice;
	size_t from = l->start[shade->from];
	return tb_arena_copy(b->arena, l->text->chars + from, l->stop[shade->to - 1] - from);
}

void tb_build_surface(tb_builder *b, const tb_value *value, GArray *acts)
{
	const tb_value *rows = tb_value_get(value, TB_SLOT_rows), *columns = tb_value_get(value, TB_SLOT_cols);
	const tb_value *each = tb_value_get(value, TB_SLOT_each), *made = tb_value_get(value, TB_SLOT_made);
	bool per_row = tb_value_is_symbol(tb_value_get(each, TB_SLOT_per), TB_SYMBOL_row);
	if (each != NULL && per_row != (columns != NULL)) {
		tb_build_add_cannot(b, value, acts, per_row ? "a line along a row has no stitch in each row" :
			"a line up the rows has no stitch in each stitch");
		return;
	}
	g_autoptr(GArray) lines = g_array_new(FALSE, FALSE, sizeof(tb_surface_line));
	add_lines(b, rows, columns, lines);
	tb_surface *surface = tb_arena_new(b->arena, tb_surface);
	tb_surface_line *kept = tb_arena_take(b->arena, lines->len * sizeof *kept);
	for (guint i = 0; i < lines->len; i++)
		kept[i] = g_array_index(lines, tb_surface_line, i);
	*surface = (tb_surface){.lines = kept, .count = lines->len, .colour = read_colour(b, tb_value_get(value, TB_SLOT_c)),
		.each = tb_build_number(b, tb_value_get(each, TB_SLOT_n), 1), .made_each = tb_build_has(made, TB_SLOT_each)};
	if (made != NULL)
		surface->made = tb_build_number(b, tb_value_get(made, TB_SLOT_n), 1);
	tb_act act = tb_build_act_of(b, value, TB_ACT_SURFACE);
	act.surface = surface;
	g_array_append_val(acts, act);
}
