/*
 * "10 beads": counts of what has a bead.
 *
 * "(12 sc A, 12 sc B)": counts by colour. One colour told in several places, "(4 sc A, 4 sc B, 4 sc A)", has all of
 * them. Where a row's colours are not all known, that is told.
 */
#include "account/account.h"
#include "hands/colour.h"

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

void tb_account_beads(tb_hands *h, const tb_claim *claim)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	unsigned said = tb_hands_number(h, &claim->count, 0), beads = 0;
	for (guint32 i = row->first; i < row->first + row->count; i++)
		beads += tb_stitch_has_bead(tb_hands_stitch(h, tb_hands_made(h, i)));
	if (beads != said)
		tb_hands_tell(h, TB_ERROR, "count-claimed", claim->span, "Change the count, or say which stitches have a bead.",
			"%u sts of the %s have a bead, the pattern says %u", beads, row->is_round ? "round" : "row", said);
}
