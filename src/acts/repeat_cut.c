/*
 * A repeat whose last pass ends inside its last stitches: "* …, dc in each of next 2 dc, rep from *
 * across, ending with dc in top of ch 3". The end is the last of these 2 dc.
 */
#include "acts/repeat.h"

#include <string.h>

/* The first act the repeat ends with, "dc in last dc"; NULL where it has no such end. */
static const tb_act *end_of(const tb_hands *h, const tb_act *act)
{
	const tb_acts *acts = &h->sentence->acts;
	bool here = act >= acts->acts && act + 1 < acts->acts + acts->count;
	return act->ends > 0 && here ? act + 1 : NULL;
}

bool tb_repeat_cut(const tb_hands *h, const tb_act *act, tb_act *cut)
{
	const tb_act *end = end_of(h, act), *last = &act->body.acts[act->body.count - 1];
	if (end == NULL || end->kind != TB_ACT_WORK || last->kind != TB_ACT_WORK ||
		end->stitch != last->stitch || last->place.in != TB_IN_NEXT ||
		tb_hands_number(h, &last->each, 1) != 1 || tb_hands_number(h, &end->each, 1) != 1)
		return false;
	unsigned many = tb_hands_number(h, &last->place.count, 1);
	unsigned ending = tb_hands_number(h, &end->place.count, 1);
	if (ending < 1 || ending >= many)
		return false;
	size_t bytes = act->body.count * sizeof(tb_act);
	tb_act *acts = tb_arena_take(h->working->arena, bytes);
	int *left = tb_arena_new(h->working->arena, int);
	memcpy(acts, act->body.acts, bytes);
	*left = (int)(many - ending);
	acts[act->body.count - 1].place.count = (tb_number){1, left, last->place.count.span};
	*cut = *act;
	cut->body.acts = acts;
	cut->body_last = 0;
	return true;
}
