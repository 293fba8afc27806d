/* "Sc across, increasing 6 sts evenly", "dec 1 st at each end": rows that are shaped as they are worked. */
#include "notation/build.h"

#include "stitches/stitch.h"

#include <string.h>

/* The increases or decreases alone: the rest of the row is said for itself. */
static void build_shaped_once(tb_builder *b, tb_act *shape, bool more, GArray *acts)
{
	shape->kind = TB_ACT_WORK;
	shape->place = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .span = shape->span};
	shape->place.count = shape->count;
	shape->count = (tb_number){0};
	if (!more) {
		shape->stitch = shape->stitch != NULL ?
			tb_library_together(b->pattern->library, shape->stitch, 2) : NULL;
		shape->each = (tb_number){1, tb_number_one, shape->span};
	}
	g_array_append_vals(acts, shape, 1);
}

/* ". 9 (11, 14) dc." at the end of what was read: figures and one stitch's name, the count of the row. */
static bool is_count(const tb_lattice *l, guint32 name)
{
	guint32 from = name;
	while (from > 0 && (g_ascii_isdigit(l->text->chars[l->start[from - 1]]) ||
		tb_is_among(l->text->chars[l->start[from - 1]], "(,;/-)[]")))
		from--;
	char behind = name + 1 < l->count ? l->text->chars[l->start[name + 1]] : '.';
	return from < name && from > 0 && behind == '.' && name + 2 >= l->count && l->text->chars[l->start[from - 1]] == '.';
}

/* Whether a stitch is worked by words FROM to TO, outside of brackets. */
static bool works_between(const tb_lattice *l, guint32 from, guint32 to)
{
	unsigned depth = 0;
	for (guint32 i = from; i < to; i++) {
		char sign = l->text->chars[l->start[i]];
		depth += sign == '(' || sign == '[';
		depth -= depth > 0 && (sign == ')' || sign == ']');
		if (depth == 0 && tb_lattice_edge(l, i, TB_TERM_CLASS_stitchname) != NULL && !is_count(l, i))
			return true;
	}
	return false;
}

/* "Dec 1 sc at neck edge, sc in each remaining sc": the edge is where the row's words have come to. */
static tb_shaped settle_edge(const tb_builder *b, const tb_value *value, tb_shaped shaped)
{
	/* "dec 1 st at neck edge on every row, at the same time …": of rows that have no other words */
	if (b->shapes_rows)
		return shaped;
	if (value->from == b->begins)
		return works_between(b->lattice, value->to, b->lattice->count) ? TB_SHAPED_BEGIN : shaped;
	return works_between(b->lattice, b->begins, value->from) ? TB_SHAPED_END : shaped;
}

/* The stitch of which TOG, "hdc2tog", draws several together; NULL where it is no such. */
static const tb_stitch *stitch_drawn(const tb_builder *b, const tb_stitch *tog)
{
	const tb_library *library = b->pattern->library;
	if (tog == NULL || tog->takes < 2)
		return NULL;
	g_autofree char *name = g_strndup(tog->us, strcspn(tog->us, "0123456789"));
	const tb_stitch *one = tb_library_find(library, name);
	return one != NULL && tb_library_together((tb_library *)(gpointer)library, one, tog->takes) == tog ? one : NULL;
}

/* "Working hdc2tog at both ends": so many fewer there, of that stitch. False, told, for a stitch that makes the row no narrower. */
static bool set_drawn(tb_builder *b, const tb_value *value, const tb_value *said, tb_act *act, GArray *acts)
{
	const tb_stitch *tog = tb_build_stitch(b, said, NULL);
	act->stitch = stitch_drawn(b, tog);
	if (act->stitch == NULL) {
		tb_build_add_cannot(b, value, acts, "this makes the row no narrower and no wider");
		return false;
	}
	act->pattern = TB_PATTERN_NOT;
	act->each = tb_number_make(b->arena, 0, act->span);
	act->count = tb_number_make(b->arena, tog->takes - 1, act->span);
	return true;
}

void tb_build_shape(tb_builder *b, const tb_value *value, const tb_value *shaping, GArray *acts)
{
	tb_act act = tb_build_act_of(b, value, TB_ACT_SHAPE);
	const tb_value *v = tb_value_get(shaping, TB_SLOT_v);
	const tb_value *inner = tb_value_get(v, TB_SLOT_v);
	bool more = tb_value_is_symbol(inner != NULL ? inner : v, TB_SYMBOL_inc);
	act.each = tb_number_make(b->arena, more ? 2 : 0, act.span);
	act.count = tb_build_number(b, tb_value_get(shaping, TB_SLOT_n), 1);
	if (tb_build_has(shaping, TB_SLOT_twice)) /* so many at each of two ends, wherever there */
		act.count = tb_number_make(b->arena, 2 * tb_build_one_number(tb_value_get(shaping, TB_SLOT_n), 1), act.span);
	int into = tb_build_one_number(tb_value_get(shaping, TB_SLOT_into), 2);
	if (more && into > 2) /* "widening by working 3 dc in the first and last st": two more there */
		act.count = tb_number_make(b->arena, into - 1, act.span);
	else if (!more || into < 2) {
		if (!tb_build_has(shaping, TB_SLOT_tog) && tb_build_has(shaping, TB_SLOT_into)) {
			tb_build_add_cannot(b, value, acts, "this makes the row no narrower and no wider");
			return;
		}
	}
	const tb_value *stitch = tb_value_get(value, TB_SLOT_stitch), *tog = tb_value_get(shaping, TB_SLOT_tog);
	act.stitch = stitch != NULL ? tb_build_stitch(b, stitch, NULL) : NULL;
	if (tog != NULL && !set_drawn(b, value, tog, &act, acts))
		return;
	if (act.stitch == NULL) {
		act.stitch = b->plain_at[value->from];
		act.pattern = tb_build_has(value, TB_SLOT_patt) ? TB_PATTERN_SAID :
			b->names_plain ? TB_PATTERN_NOT : TB_PATTERN_SHAPING;
	}
	const tb_value *at = tb_value_get(shaping, TB_SLOT_shaped);
	act.shaped = tb_value_is_symbol(at, TB_SYMBOL_evenly) ? TB_SHAPED_EVENLY :
		tb_value_is_symbol(at, TB_SYMBOL_begin) ? TB_SHAPED_BEGIN :
		tb_value_is_symbol(at, TB_SYMBOL_end) ? TB_SHAPED_END : TB_SHAPED_ENDS;
	const tb_value *edge = tb_value_get(shaping, TB_SLOT_edge);
	if (edge != NULL)
		act.shaped = tb_build_has(edge, TB_SLOT_of) ? TB_SHAPED_NECK : TB_SHAPED_OUTER;
	/* "of next row": nothing else is said of it */
	bool whole = tb_build_has(shaping, TB_SLOT_whole);
	if (edge != NULL && value == shaping && !whole)
		act.shaped = settle_edge(b, value, act.shaped);
	act.shaped_to = tb_build_has(shaping, TB_SLOT_to);
	if (value == shaping && !b->shapes_rows && !whole && (act.shaped == TB_SHAPED_BEGIN || act.shaped == TB_SHAPED_END))
		build_shaped_once(b, &act, more, acts); /* "inc 1 st at beginning, sc to end" */
	else
		g_array_append_val(acts, act);
}

bool tb_build_is_of_pattern(const tb_builder *b, const tb_value *stitch)
{
	return !b->names_plain && !tb_build_has(stitch, TB_SLOT_of) &&
		(tb_build_is_unnamed(stitch, TB_SYMBOL_dec) || tb_build_is_increase(b, stitch));
}

void tb_build_in_pattern(tb_builder *b, const tb_value *value, GArray *acts)
{
	const tb_value *place = tb_value_get(value, TB_SLOT_place), *many = tb_value_get(value, TB_SLOT_many);
	tb_act act = tb_build_act_of(b, value, TB_ACT_WORK);
	/* "work even" is the ordinary stitch where no pattern is known */
	act.pattern = tb_build_has(value, TB_SLOT_even) ? TB_PATTERN_EVEN : TB_PATTERN_SAID;
	act.stitch = b->plain_at[value->from];
	act.each = (tb_number){1, tb_number_one, act.span};
	/* "work 2 sts in first st": of the stitch that the row is worked in */
	if (tb_build_has(value, TB_SLOT_each)) {
		act.each = tb_build_number(b, tb_value_get(value, TB_SLOT_each), 1);
		act.pattern = TB_PATTERN_SHAPING;
	}
	act.place = (tb_place){.in = many != NULL ? TB_IN_NEXT : TB_IN_EACH, .rows_below = 1, .span = act.span};
	act.place.count = many != NULL ? tb_build_number(b, many, 1) : tb_number_make(b->arena, 0, act.span);
	const tb_value *left = tb_value_get(value, TB_SLOT_left);
	if (left != NULL)
		act.place.count = tb_build_number(b, left, 0);
	if (place != NULL)
		tb_build_place(b, place, &act.place);
	g_array_append_val(acts, act);
}
