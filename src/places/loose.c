/* What a pattern calls a loop, where the row below has both stitches and short spaces. */
#include "places/loose.h"

/* A mesh's space; what is longer is a loop to everybody. */
#define MOST_MESH_CHAINS 2u

static bool has_space(const tb_hands *h, const tb_made_row *row, unsigned least)
{
	unsigned run = 0;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		run = (tb_hands_made(h, i)->flags & TB_MADE_CHAIN) != 0 ? run + 1 : 0;
		if (run >= least)
			return true;
	}
	return false;
}

static bool names_loops(const tb_acts *acts)
{
	bool named = false;
	for (unsigned i = 0; i < acts->count && !named; i++)
		named = (acts->acts[i].place.loose && acts->acts[i].place.target == TB_TARGET_SPACE &&
			acts->acts[i].place.space_chains == 0) || names_loops(&acts->acts[i].body);
	return named;
}

void tb_loose_learn(tb_hands *h)
{
	if (h->row < 2 || h->sentence == NULL || h->before.loops_are_stitches)
		return;
	h->before.loops_are_stitches = !has_space(h, tb_hands_row(h, h->row - 1), 1) && names_loops(&h->sentence->acts);
}

bool tb_loose_is_stitch(const tb_hands *h, const tb_place *place)
{
	return h->before.loops_are_stitches && place->loose && place->in == TB_IN_EACH && place->space_chains == 0 && h->row > 1 &&
		!has_space(h, tb_hands_row(h, h->row - 1), MOST_MESH_CHAINS + 1);
}
