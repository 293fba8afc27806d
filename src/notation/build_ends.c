/*
 * How the last time of a repeat differs from the others: "ending with ch 4 instead of ch 2", "omitting ch 2
 * on last repeat", "omitting the last 2 sc of the repeat", "ending with 3 dc in last sc".
 */
#include "notation/build.h"

#include <string.h>

static const tb_act *last_of(const tb_acts *body)
{
	return body->acts + body->count - 1;
}

bool tb_build_ends_instead(tb_builder *b, const tb_acts *body, const tb_value *end)
{
	const tb_act *last = last_of(body);
	tb_number instead = tb_build_number(b, tb_value_get(end, TB_SLOT_instead), 0);
	const tb_number *said = last->kind == TB_ACT_CHAIN ? &last->count : &last->each;
	tb_acts acts = tb_build_list(b, tb_value_get(end, TB_SLOT_acts));
	bool alike = acts.count > 0 && acts.acts[0].kind == last->kind &&
		(last->kind == TB_ACT_CHAIN || (last->kind == TB_ACT_WORK && acts.acts[0].stitch == last->stitch));
	return body->count > 1 && alike && said->count == 1 && instead.count == 1 &&
		said->values[0] == instead.values[0];
}

bool tb_build_ends_half(tb_builder *b, const tb_acts *body, const tb_value *end)
{
	const tb_act *last = last_of(body);
	tb_acts acts = tb_build_list(b, tb_value_get(end, TB_SLOT_acts));
	return body->count > 1 && last->kind == TB_ACT_WORK && acts.count == 1 &&
		acts.acts[0].kind == TB_ACT_WORK && acts.acts[0].stitch == last->stitch &&
		acts.acts[0].place.in == TB_IN_LAST && last->each.count == 1 && acts.acts[0].each.count == 1 &&
		acts.acts[0].each.values[0] < last->each.values[0];
}

bool tb_build_differs_as_said(tb_builder *b, const tb_acts *body, const tb_value *end)
{
	const tb_value *list = tb_value_get(end, TB_SLOT_acts);
	if (list == NULL || list->type != TB_VALUE_LIST || list->count != 1)
		return true;
	const tb_value *instead = tb_value_get(tb_value_items(list, b->scratch)[0], TB_SLOT_instead);
	const tb_act *last = last_of(body);
	return instead == NULL || (last->kind == TB_ACT_WORK &&
		tb_number_is(&last->each, tb_build_one_number(instead, 0)));
}

/* Whether ACTS are a chain, and what closes the round behind it. */
static bool are_last_chain(const tb_acts *acts)
{
	for (unsigned i = 1; i < acts->count; i++) {
		const tb_act *act = &acts->acts[i];
		bool closes = act->kind == TB_ACT_WORK && act->place.in == TB_IN_FIRST;
		if (!closes && act->kind != TB_ACT_JOIN && act->kind != TB_ACT_TURN && act->kind != TB_ACT_CLAIM)
			return false;
	}
	return acts->count > 0 && acts->acts[0].kind == TB_ACT_CHAIN;
}

bool tb_build_ends_with_chain(tb_builder *b, const tb_acts *body, const tb_value *end, unsigned *body_last)
{
	const tb_value *list = tb_value_get(end, TB_SLOT_acts);
	if (list == NULL || tb_build_has(end, TB_SLOT_instead) || tb_build_has(end, TB_SLOT_at))
		return false;
	tb_acts acts = tb_build_list(b, list);
	unsigned i = body->count - 1;
	while (i > 0 && body->acts[i].kind == TB_ACT_SKIP)
		i--;
	if (i == 0 || body->acts[i].kind != TB_ACT_CHAIN || !are_last_chain(&acts))
		return false;
	*body_last = i;
	return true;
}

static bool omits_chain(tb_builder *b, const tb_acts *body, const tb_value *chain)
{
	const tb_act *last = last_of(body);
	if (tb_value_is_symbol(chain, TB_SYMBOL_last))
		return body->count > 1 && last->kind == TB_ACT_CHAIN;
	tb_acts omitted = tb_build_list(b, chain);
	return body->count > 1 && omitted.count == 1 && last->kind == TB_ACT_CHAIN && last->count.count == 1 &&
		omitted.acts[0].count.count == 1 && last->count.values[0] == omitted.acts[0].count.values[0];
}

/*
 * "sc in next 3 sts" of which the last 2 are omitted are one and then two; of "3 sc in next sc" all are
 * omitted, or none.
 */
static bool omits_stitches(tb_builder *b, tb_acts *body, const tb_value *end)
{
	const tb_act *last = last_of(body);
	int omitted = tb_build_one_number(tb_value_get(end, TB_SLOT_n), 1);
	if (last->kind != TB_ACT_WORK || last->stitch != tb_build_stitch(b, tb_value_get(end, TB_SLOT_omitted), NULL))
		return false;
	if (tb_number_is(&last->place.count, 1) && last->place.in == TB_IN_NEXT && omitted > 1)
		return body->count > 1 && tb_number_is(&last->each, omitted);
	if (!tb_number_is(&last->each, 1) || last->place.in != TB_IN_NEXT || last->place.count.count != 1)
		return false;
	int left = last->place.count.values[0] - omitted;
	if (left <= 0 || omitted <= 0)
		return left == 0 && body->count > 1;
	tb_act *acts = tb_arena_take(b->arena, (body->count + 1) * sizeof(tb_act));
	memcpy(acts, body->acts, body->count * sizeof(tb_act));
	acts[body->count] = acts[body->count - 1];
	acts[body->count - 1].place.count = tb_number_make(b->arena, left, last->span);
	acts[body->count].place.count = tb_number_make(b->arena, omitted, last->span);
	*body = (tb_acts){acts, body->count + 1};
	return true;
}

bool tb_build_omit(tb_builder *b, tb_acts *body, const tb_value *end)
{
	const tb_value *chain = tb_value_get(end, TB_SLOT_omit);
	return chain != NULL ? omits_chain(b, body, chain) : omits_stitches(b, body, end);
}

void tb_build_leave_out_chain(tb_builder *b, tb_act *act, const tb_act *end)
{
	if (act->body_last == 0 || end->kind != TB_ACT_CHAIN ||
		act->body.acts[act->body_last - 1].kind != TB_ACT_CHAIN)
		return;
	act->body_last--;
	if (act->body_last > 0 || act->until != TB_UNTIL_TIMES)
		return;
	int *values = tb_arena_take(b->arena, act->count.count * sizeof(int));
	for (unsigned i = 0; i < act->count.count; i++)
		values[i] = act->count.values[i] > 0 ? act->count.values[i] - 1 : act->count.values[i];
	act->count.values = values;
}

void tb_build_at_end(tb_builder *b, const tb_value *value, GArray *acts)
{
	const tb_value *row = tb_value_get(value, TB_SLOT_row);
	tb_act act = tb_build_act_of(b, value, TB_ACT_AT_END);
	act.count = row != NULL ? tb_build_number(b, row, 1) : (tb_number){0};
	g_array_append_val(acts, act);
	tb_build_act(b, tb_value_get(value, TB_SLOT_act), acts);
}
