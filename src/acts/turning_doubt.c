/* Turning chains of which it is not said whether they count, and of which that is not plain. */
#include "acts/turning.h"
#include "places/place.h"

void tb_turning_warn_unsaid(tb_hands *h, tb_span span, unsigned chains, const tb_stitch *stitch, bool counted)
{
	const char *term = tb_hands_term(h, stitch);
	g_autofree char *hint =
		g_strdup_printf("Write \"ch %u (counts as %s)\" or \"ch %u (does not count)\".", chains, term, chains);
	tb_hands_tell(h, TB_WARNING, "turning-chain-unsaid", span, hint,
		"whether the turning chain of %u counts as %s is not said; it is taken %s", chains, term,
		counted ? "to count" : "not to count");
}

/* A row with a repeat makes up for the stitch more at its edges, as ripples do. */
static bool has_repeat(const tb_acts *acts)
{
	for (unsigned i = 0; i < acts->count; i++) {
		if (acts->acts[i].kind == TB_ACT_REPEAT)
			return true;
	}
	return false;
}

bool tb_turning_begins_in_first(const tb_hands *h, unsigned chains, unsigned height)
{
	const tb_act *first = h->now.first_work;
	return height >= 2 && chains == height && !h->sentence->is_round && h->row > 1 && h->now.group == NULL &&
		h->sentence->claim_count == 0 && !has_repeat(&h->sentence->acts) && first != NULL && &first->place == h->now.first_place &&
		first->place.in == TB_IN_FIRST && tb_place_is_plain(h, &first->place) &&
		tb_hands_number(h, &first->each, 1) == 1 && tb_hands_number(h, &first->place.count, 1) == 1;
}
