/* The chain that a round begins with, and where that round goes or is joined. */
#include "acts/turning.h"
#include "places/place.h"

bool tb_turning_is_around_spaces(const tb_acts *acts, const tb_place *first)
{
	if (acts->count == 0 || first == NULL || first->target != TB_TARGET_SPACE)
		return false;
	return (acts->acts[0].kind == TB_ACT_REPEAT && first->in == TB_IN_NEXT) ||
		((acts->acts[0].kind == TB_ACT_GROUP || acts->acts[0].kind == TB_ACT_WORK) && first == &acts->acts[0].place && first->in == TB_IN_EACH);
}

bool tb_turning_goes_around_spaces(const tb_hands *h)
{
	const tb_acts *acts = &h->sentence->acts;
	if (!h->sentence->is_round || (h->cursor.last.flags & TB_MADE_IN_SPACE) == 0 || h->now.travel == 0 || h->now.travel >= acts->count)
		return false;
	tb_acts behind = {acts->acts + h->now.travel + 1, acts->count - h->now.travel - 1};
	return tb_turning_is_around_spaces(&behind, h->now.first_place);
}

unsigned tb_turning_joined_in(const tb_hands *h)
{
	const tb_acts *acts = &h->sentence->acts;
	for (unsigned i = acts->count; h->sentence->is_round && i-- > 0;) {
		const tb_act *act = &acts->acts[i];
		bool joins = act->kind == TB_ACT_JOIN || tb_place_may_close(h, act) ||
			(act->kind == TB_ACT_WORK && act->stitch == h->working->slip);
		if (joins && act->place.target == TB_TARGET_TURNING_CHAIN && act->place.space_chains > 1)
			return act->place.space_chains;
	}
	return 0;
}

bool tb_turning_is_joined_in_first(const tb_hands *h)
{
	const tb_acts *acts = &h->sentence->acts;
	const tb_stitch *first = h->now.first_work != NULL ? h->now.first_work->stitch : NULL;
	if (!h->sentence->is_round || first == NULL || tb_turning_is_leg(h) ||
		!(tb_turning_goes_around_spaces(h) || (first->family >= TB_FAMILY_CLUSTERS && first->family <= TB_FAMILY_POPCORNS)))
		return false;
	for (unsigned i = acts->count; i-- > 0;) {
		const tb_act *act = &acts->acts[i];
		if (act->kind == TB_ACT_JOIN || tb_place_may_close(h, act))
			return act->place.in == TB_IN_FIRST && ((act->place.target == TB_TARGET_NAMED && act->place.named == first) ||
				act->place.target == TB_TARGET_GROUP);
	}
	return false;
}
