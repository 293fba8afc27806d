/* What is skipped, what is said not to be, and what is left at the end. */
#include "notation/build.h"

void tb_build_skip(tb_builder *b, const tb_value *value, GArray *acts)
{
	const tb_value *noun = tb_value_get(value, TB_SLOT_noun), *n = tb_value_get(value, TB_SLOT_n);
	if (tb_build_has(value, TB_SLOT_behind)) {
		tb_build_add_kind(b, value, acts, TB_ACT_SKIP_BEHIND);
		g_array_index(acts, tb_act, acts->len - 1).place.count = tb_build_number(b, n, 1);
		return;
	}
	tb_act act = tb_build_act_of(b, value, TB_ACT_SKIP);
	act.place = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .span = act.span};
	act.bare = tb_build_has(value, TB_SLOT_bare);
	act.unsaid = n == NULL;
	act.place.at_slip = tb_build_has(value, TB_SLOT_slips);
	act.place.parted = tb_build_has(value, TB_SLOT_parted);
	act.place.gore = tb_build_has(value, TB_SLOT_gore);
	act.place.count = tb_build_number(b, n, act.place.parted || act.place.gore ? 0 : 1);
	if (tb_build_has(value, TB_SLOT_begin)) {
		tb_build_place(b, tb_value_get(value, TB_SLOT_begin), &act.place);
		g_array_append_val(acts, act);
		return;
	}
	if (tb_build_has(value, TB_SLOT_inrows)) {
		act.place.in = TB_IN_EDGE;
		act.in_each = act.place.count;
		act.in_rows = true;
		g_array_append_val(acts, act);
		return;
	}
	if (noun != NULL)
		tb_build_noun(b, noun, &act.place);
	tb_build_row_named(b, value, &act.place);
	tb_build_on_section(b, value, &act.place);
	act.place.missed = false;
	if (tb_build_has(value, TB_SLOT_upto)) {
		tb_place *end = tb_arena_new(b->arena, tb_place);
		*end = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .span = act.span};
		end->count = tb_number_make(b->arena, 1, act.span);
		tb_build_noun(b, tb_value_get(value, TB_SLOT_upto), end);
		end->marked = tb_build_has(value, TB_SLOT_tomark);
		end->in = tb_build_has(value, TB_SLOT_tolast) ? TB_IN_LAST : TB_IN_NEXT;
		act.place.in = TB_IN_EACH;
		act.place.up_to = end;
		act.place.target = TB_TARGET_STITCH;
		/* "skip 9 sleeve sts to next ch-1 sp": so many have to lie before it; 0: not said */
		act.place.count = tb_build_number(b, n, 0);
	} else if (tb_build_has(value, TB_SLOT_first)) {
		act.place.in = TB_IN_FIRST;
	} else if (tb_build_has(value, TB_SLOT_last)) {
		act.place.in = TB_IN_LAST;
	}
	const tb_value *of = tb_value_get(value, TB_SLOT_of);
	if (tb_value_is(of, TB_KIND_noun)) {
		/* "skip first tr of group": what is left of the one before it is passed over */
		tb_place *whole = tb_arena_new(b->arena, tb_place);
		*whole = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .span = act.span};
		whole->count = tb_number_make(b->arena, 1, act.span);
		tb_build_noun(b, of, whole);
		act.place.of = whole;
		/* "skip remaining 3 dc of shell": of the one that the row has come into */
		if (tb_build_has(value, TB_SLOT_rest)) {
			act.place.in = TB_IN_LAST;
			act.place.count = tb_build_number(b, n, 0);
		}
	}
	/* "skip center st": the one that comes has to be that */
	act.place.central = n == NULL && tb_build_has(value, TB_SLOT_center);
	act.place.center_run = n != NULL && tb_build_has(value, TB_SLOT_center);
	act.place.sames = tb_build_has(value, TB_SLOT_sames) && !tb_number_is(&act.place.count, 1);
	b->skipped = act.place.count;
	b->skipped_kind = act.place;
	if (!tb_build_skip_note(b, value, &act, acts))
		return;
	const tb_value *and = tb_value_get(value, TB_SLOT_and);
	tb_place *both = and != NULL && tb_build_has(value, TB_SLOT_mixed) ? tb_arena_new(b->arena, tb_place) : NULL;
	act.place.also = both;
	g_array_append_val(acts, act);
	if (and == NULL || and->type == TB_VALUE_NUMBER)
		return;
	act.place.also = NULL;
	act.place.in = TB_IN_NEXT;
	act.place.target = TB_TARGET_STITCH;
	act.place.named = NULL;
	act.place.space_chains = 0;
	act.place.count = tb_build_number(b, tb_value_get(value, TB_SLOT_n2), 1);
	tb_build_noun(b, and, &act.place);
	if (both != NULL)
		*both = act.place;
	else
		g_array_append_val(acts, act);
}

/* "do not sk st behind" is about the post stitch before it. */
void tb_build_not_behind(tb_builder *b, const tb_value *value, GArray *acts)
{
	tb_act *last = acts->len > 0 ? &g_array_index(acts, tb_act, acts->len - 1) : NULL;
	if (last != NULL && last->kind == TB_ACT_WORK && last->stitch != NULL &&
		last->stitch->post != TB_POST_NONE) {
		last->do_not_skip_behind = true;
		return;
	}
	tb_build_tell_cannot(b, value, acts, "behind-no-post", "no post stitch stands before this",
		"It follows the post stitch it is about.");
	g_array_index(acts, tb_act, acts->len - 1).kind = TB_ACT_NOT_BEHIND;
}

/* "Sc in each sc except the first": it is skipped before what VALUE was built to, ACTS from BEFORE on. */
void tb_build_skip_first(tb_builder *b, const tb_value *value, GArray *acts, guint before)
{
	const tb_value *place = tb_value_get(value, TB_SLOT_place), *reach = tb_value_get(place, TB_SLOT_reach);
	const tb_value *many = tb_value_get(reach != NULL ? reach : place, TB_SLOT_sofirst);
	if (many == NULL)
		return;
	tb_act skip = tb_build_act_of(b, place, TB_ACT_SKIP);
	skip.place = (tb_place){.in = TB_IN_FIRST, .rows_below = 1, .span = skip.span};
	skip.place.count = tb_build_number(b, many, 1);
	g_array_insert_val(acts, before, skip);
}

void tb_build_leave(tb_builder *b, const tb_value *value, GArray *acts)
{
	/* "working on first 8 sts only": nothing is worked by that itself */
	tb_act act = tb_build_act_of(b, value, tb_value_is(value, TB_KIND_within) ? TB_ACT_WITHIN : TB_ACT_LEAVE);
	const tb_value *left = tb_value_get(value, TB_SLOT_left);
	value = left != NULL ? left : value;
	const tb_value *noun = tb_value_get(value, TB_SLOT_noun);
	if (noun != NULL)
		tb_build_noun(b, noun, &act.place);
	if (tb_build_has(value, TB_SLOT_tch))
		act.place.target = TB_TARGET_TURNING_CHAIN;
	/* "leave last space free": as many spaces, which are no number of stitches */
	bool spaces = act.place.target == TB_TARGET_SPACE;
	act.these = tb_build_has(value, TB_SLOT_these);
	tb_build_on_section(b, value, &act.place);
	if (spaces || tb_build_has(value, TB_SLOT_n))
		act.count = tb_build_number(b, tb_value_get(value, TB_SLOT_n), 1);
	g_array_append_val(acts, act);
}

void tb_build_turn(tb_builder *b, const tb_value *value, GArray *acts)
{
	tb_build_add_kind(b, value, acts, TB_ACT_TURN);
	const tb_value *leave = tb_value_get(value, TB_SLOT_leave);
	if (tb_value_is(leave, TB_KIND_leave) || tb_value_is(leave, TB_KIND_left))
		tb_build_leave(b, leave, acts);
}
