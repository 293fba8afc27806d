/*
 * Knot stitches: the loop on the hook is drawn long, a chain made of it, and sc worked into the single
 * strand behind. Two of them one on the other are a double knot; its middle is the sc between.
 */
#include "notation/build.h"

static const tb_symbol kinds[] = {TB_SYMBOL_knot, TB_SYMBOL_knot1, TB_SYMBOL_knot2};

void tb_build_name_knots(tb_builder *b)
{
	static const char *const names[] = {"knot st", "single knot st", "double knot st"};
	for (size_t i = 0; i < G_N_ELEMENTS(kinds); i++) {
		tb_own *own = tb_arena_new(b->arena, tb_own);
		tb_act *act = tb_arena_new(b->arena, tb_act);
		*act = (tb_act){.kind = TB_ACT_KNOT, .own = own};
		act->stitch = tb_library_find(b->pattern->library, "sc");
		act->count = tb_number_make(b->arena, (int)i, (tb_span){0, 0});
		own->name = names[i];
		own->acts = (tb_acts){act, 1};
		own->whole = true;
		b->named[kinds[i]] = own;
	}
}

void tb_build_add_knots(tb_builder *b, const tb_act *like, const tb_own *own, int count, GArray *acts)
{
	if (own == b->named[TB_SYMBOL_knot])
		own = b->knot != NULL ? b->knot : b->named[TB_SYMBOL_knot1];
	b->knot = own;
	tb_act act = own->acts.acts[0];
	act.span = like->span;
	for (int i = 0; i < MIN(count, 100); i++)
		g_array_append_val(acts, act);
}

/* The kind that a name in brackets is, of so many MOVES; NULL where it is no knot, or another one. */
static const tb_own *find_kind(const tb_builder *b, const tb_value *name, unsigned moves)
{
	for (size_t i = 0; i < G_N_ELEMENTS(kinds); i++) {
		if (tb_value_is_symbol(name, kinds[i]) && (i == 0 || i == moves))
			return b->named[moves == 2 ? TB_SYMBOL_knot2 : TB_SYMBOL_knot1];
	}
	return NULL;
}

static bool ends_in_sc(const tb_builder *b, const tb_value *moves)
{
	const tb_value *stitch = tb_value_get(moves, TB_SLOT_stitch);
	return stitch != NULL && stitch->type == TB_VALUE_STITCH &&
		stitch->stitch == tb_library_find(b->pattern->library, "sc");
}

void tb_build_knot(tb_builder *b, const tb_value *value, GArray *acts)
{
	const tb_value *moves = tb_value_get(value, TB_SLOT_moves), *more = tb_value_get(value, TB_SLOT_more);
	const tb_value *name = tb_value_get(value, TB_SLOT_names), *second = tb_value_get(value, TB_SLOT_n2);
	const tb_own *own = name == NULL ? b->named[TB_SYMBOL_knot1] : find_kind(b, name, 1);
	if (more != NULL && own != NULL)
		own = find_kind(b, second, 2);
	if (own == NULL || !ends_in_sc(b, moves) || (more != NULL && !ends_in_sc(b, more))) {
		tb_build_add_cannot(b, value, acts, "these moves make no knot stitch that is known");
		return;
	}
	tb_act like = tb_build_act_of(b, value, TB_ACT_KNOT);
	tb_build_add_knots(b, &like, own, 1, acts);
}
