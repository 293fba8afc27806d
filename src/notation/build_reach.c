/* How far "each" goes: "to last 3 sts", "to next ch-2 sp", "to tch". */
#include "notation/build.h"

/* "to last 2 ch-1 sps", "to last shell": what is left is counted in those, and no stitches. */
static void leave_spaces(tb_builder *b, const tb_value *reach, tb_place *place)
{
	tb_place end = {.in = TB_IN_LAST, .rows_below = 1, .span = place->span, .count = place->count};
	if (!tb_build_has(reach, TB_SLOT_left) || !tb_build_has(reach, TB_SLOT_noun))
		return;
	tb_build_noun(b, tb_value_get(reach, TB_SLOT_noun), &end);
	place->left_named = end.target == TB_TARGET_NAMED ? end.named : NULL;
	if (end.target != TB_TARGET_SPACE && end.target != TB_TARGET_GROUP)
		return;
	tb_place *up_to = tb_arena_new(b->arena, tb_place);
	*up_to = end;
	place->up_to = up_to;
}

void tb_build_reach(tb_builder *b, const tb_value *reach, tb_place *place)
{
	const tb_value *left = tb_value_get(reach, TB_SLOT_left);
	const tb_value *up_to = tb_value_get(reach, TB_SLOT_upto), *amid = tb_value_get(reach, TB_SLOT_midof);
	place->count = tb_build_number(b, left, 0);
	place->to_begin = tb_build_has(reach, TB_SLOT_begun);
	place->to_marker = tb_build_has(reach, TB_SLOT_marker);
	place->which_mark = tb_build_which_mark(reach);
	place->parted = tb_build_has(reach, TB_SLOT_parted);
	if (up_to == NULL && amid == NULL) {
		leave_spaces(b, reach, place);
		return;
	}
	if (tb_value_is_symbol(up_to, TB_SYMBOL_tch)) {
		place->count = tb_number_make(b->arena, 1 + tb_build_one_number(left, 0), place->span);
		return;
	}
	tb_place *end = tb_arena_new(b->arena, tb_place);
	const tb_value *words = up_to != NULL ? up_to : amid;
	*end = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .span = tb_build_span(b, words->from, words->to)};
	end->count = tb_number_make(b->arena, 1, end->span);
	if (tb_value_is_symbol(up_to, TB_SYMBOL_center))
		end->in = TB_IN_PART;
	else if (up_to != NULL)
		tb_build_noun(b, up_to, end);
	/* "to the center of the next group of 3" */
	end->amid = tb_build_figure(amid, 0);
	end->corner = end->corner || end->amid > 0;
	if (tb_build_has(reach, TB_SLOT_centered)) {
		end->central = true;
		if (end->target == TB_TARGET_STITCH || end->target == TB_TARGET_NAMED)
			end->in = TB_IN_PART;
	}
	tb_build_up_to_mark(reach, end);
	place->up_to = end;
}

/* "1 dc in each of next 7 dc, working last in top of ch-3": six of them, and that one. False for one alone. */
bool tb_build_leave_one(tb_builder *b, tb_place *place)
{
	if (place->in != TB_IN_NEXT && place->in != TB_IN_LAST)
		return true;
	int *values = tb_arena_take(b->arena, MAX(place->count.count, 1) * sizeof(int));
	for (unsigned i = 0; i < place->count.count; i++) {
		values[i] = place->count.values[i] - (place->count.values[i] != TB_NOT_IN_SIZE);
		if (values[i] == 0)
			return false;
	}
	place->count.values = values;
	place->in = TB_IN_NEXT;
	return true;
}

/*
 * "* 5 dc under the 3 chain, dc; repeat from * in every scallop": as often as there are such, so something of
 * the repeat goes into one.
 */
bool tb_build_goes_into_each(tb_builder *b, const tb_value *until, const tb_acts *body)
{
	if (until == NULL || until->type != TB_VALUE_NODE || !tb_value_is(until, TB_KIND_place) || tb_build_has(until, TB_SLOT_left) ||
		!tb_value_is_symbol(tb_value_get(until, TB_SLOT_how), TB_SYMBOL_each) || !tb_build_has(until, TB_SLOT_noun))
		return true;
	tb_place kind = {.in = TB_IN_EACH, .rows_below = 1};
	tb_build_noun(b, tb_value_get(until, TB_SLOT_noun), &kind);
	for (unsigned i = 0; i < body->count; i++) {
		const tb_place *place = &body->acts[i].place;
		bool chains = kind.space_chains == 0 || kind.space_chains == place->space_chains;
		if ((body->acts[i].kind == TB_ACT_WORK || body->acts[i].kind == TB_ACT_GROUP) &&
			(kind.target == TB_TARGET_STITCH || (place->target == kind.target && place->named == kind.named && chains)))
			return true;
	}
	return false;
}
