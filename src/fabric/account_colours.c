/*
 * "(12 sc A, 12 sc B)": counts by colour. One colour told in several places, "(4 sc A, 4 sc B, 4 sc A)", has all of
 * them. Where a row's colours are not all known, that is told.
 */
#include "fabric/account.h"
#include "fabric/colour.h"

void tb_account_coloured(tb_hands *h, const tb_claim *claim)
{
	gint64 said = 0, made = tb_colour_count(h, claim->colour, claim->stitch);
	for (unsigned i = 0; i < h->sentence->claim_count; i++) {
		const tb_claim *other = &h->sentence->claims[i];
		if (other->colour != NULL && other->stitch == claim->stitch && g_ascii_strcasecmp(other->colour, claim->colour) == 0)
			said += tb_hands_number(h, &other->count, 0);
	}
	if (made < 0)
		tb_hands_tell(h, TB_WARNING, "count-unseen", claim->span, "Say where each colour begins, as in “with A, sc in next 12”.",
			"in which colour these are made is not known");
	else if (made != said)
		tb_hands_tell(h, TB_ERROR, "count-claimed", claim->span, "Change the count, or the colours of the row.",
			"%u sts are made in %s, the pattern says %u", (unsigned)made, claim->colour, (unsigned)said);
}
