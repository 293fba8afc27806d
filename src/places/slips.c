/* Slip stitches: which carry the hook to where a row begins, and which are stitches of it. */
#include "hands/meaning.h"
#include "places/place.h"
#include "places/slips.h"

/*
 * "Sl st in BLO of first 6 sts, hdc in BLO of last 24 sts": in one loop, or on slip stitches, a row of slip
 * stitches is an elastic cloth, and nothing is passed over by them.
 */
static bool is_ribbed(const tb_hands *h, const tb_act *act)
{
	if (h->sentence->is_round || h->row < 2 || tb_place_count(h) == 0)
		return false;
	const tb_made *first = tb_hands_made(h, tb_hands_place(h, 0));
	return tb_place_loops(h, &act->place) != 0 ||
		(first->flags & TB_MADE_COUNTED && tb_hands_stitch(h, first) == h->working->slip);
}

/* One slip stitch in each of some places, one after another. */
bool tb_slips_travel(const tb_hands *h, const tb_act *act)
{
	return act->kind == TB_ACT_WORK && act->stitch == h->working->slip &&
		   (act->place.in == TB_IN_NEXT || act->place.in == TB_IN_FIRST || act->place.in == TB_IN_PART ||
			   (act->place.in == TB_IN_NTH_STITCH && act->place.of == NULL) ||
			   (act->place.in == TB_IN_BETWEEN && act->place.beside == TB_BESIDE_BEFORE) ||
			   (act->place.in == TB_IN_EACH && act->place.up_to != NULL)) && !is_ribbed(h, act) &&
		   tb_hands_number(h, &act->each, 1) == 1;
}

/* Whether slip stitches are worked among the others from act I on: then they are stitches of the row. */
static bool slips_among(const tb_hands *h, const tb_acts *acts, unsigned i)
{
	for (; i < acts->count; i++) {
		const tb_act *act = &acts->acts[i];
		if ((act->kind == TB_ACT_WORK && act->stitch == h->working->slip && act->place.in != TB_IN_SAME) ||
			(act->kind == TB_ACT_REPEAT && slips_among(h, &act->body, 0)))
			return true;
	}
	return false;
}

/* Slip stitches before act I are of the row's cloth where others are, or where its count is with them. */
bool tb_slips_are_cloth(tb_hands *h, const tb_acts *acts, unsigned i)
{
	return slips_among(h, acts, i) || tb_means(h, TB_MEANS_STAYS);
}
