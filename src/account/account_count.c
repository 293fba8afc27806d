/* What the row has of what is claimed. */
#include "account/account.h"

/*
 * "Ch 3, popcorn in next st, …: 7 popcorns and 20 dc": beside what is no plain stitch, is drawn together or goes around posts,
 * a chain as tall as a dc is one; it is no popcorn and no FPdc, unless that is said of it.
 */
static bool turning_is(const tb_hands *h, const tb_made *turning, const tb_stitch *claimed)
{
	const tb_stitch *as = h->now.counts_as;
	bool stands = as != NULL && (as->legs > 1 || as->takes > 1 || as->post != TB_POST_NONE);
	bool told = as == claimed && (!stands || tb_hands_row(h, h->row)->turning_as == as);
	return as != NULL && claimed != NULL && (told || (stands &&
		claimed->family == TB_FAMILY_PLAIN && claimed->legs == 1 && claimed->post == TB_POST_NONE &&
		turning->chains == (guint8)tb_stitch_chains(claimed)));
}

/* "(10 crossed dc, 2 dc)": the stitches that cross, two by two, are not counted again. */
static unsigned count_crossed(const tb_hands *h)
{
	unsigned crossed = 0;
	for (unsigned i = 0; i < h->sentence->claim_count; i++) {
		const tb_claim *claim = &h->sentence->claims[i];
		crossed += claim->pairs ? 2 * tb_hands_number(h, &claim->count, 0) : 0;
	}
	return crossed;
}

/* Whether STITCH goes down into a lower row by its own nature. */
static bool is_spike(const tb_stitch *stitch)
{
	return stitch != NULL && stitch->foot == TB_FOOT_DEEP && stitch->post == TB_POST_NONE;
}

/* "Work 16 fsc. (16 sc)": a stitch on a chain of its own is counted as what it is, where none is counted by its name. */
static bool is_on_its_chain(const tb_hands *h, const tb_stitch *of, const tb_stitch *stitch)
{
	for (unsigned i = 0; i < h->sentence->claim_count; i++) {
		if (h->sentence->claims[i].stitch == of)
			return false;
	}
	return of->foot == TB_FOOT_CHAIN && stitch->foot == TB_FOOT_PLAIN && of->form == stitch->form && of->bars == stitch->bars &&
		of->legs == stitch->legs && of->height == stitch->height && stitch->post == TB_POST_NONE;
}

/* "(16 spike sts, 9 sc)": a sc worked two rows down is a spike, and none of the sc where spikes are counted. */
static bool is_claimed(const tb_hands *h, const tb_made *made, const tb_stitch *stitch)
{
	const tb_stitch *of = tb_hands_stitch(h, made);
	bool deep = made->rows_below > 1 && of->takes == 1 && of->post == TB_POST_NONE, counted = is_spike(stitch);
	for (unsigned i = 0; deep && i < h->sentence->claim_count; i++)
		counted = counted || is_spike(h->sentence->claims[i].stitch);
	return deep && counted ? is_spike(stitch) : made->stitch == stitch->number || is_on_its_chain(h, of, stitch);
}

/*
 * What the row has of what is claimed, in the two ways it is counted: with the turning chain, or
 * the chains of spaces, and without.
 */
void tb_account_count(const tb_hands *h, const tb_claim *claim, unsigned *with, unsigned *without)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	*with = *without = row->stitches;
	if (claim->own != NULL) {
		/* a stitch of the pattern's own is counted as any is: the chain that stands for it may be one */
		const tb_made *first = row->count > 0 ? tb_hands_made(h, row->first) : NULL;
		*with = *without = tb_account_own(h, claim->own);
		*with += claim->own->stitch != NULL && first != NULL && (first->flags & TB_MADE_TURNING) &&
			(first->flags & TB_MADE_COUNTED) && turning_is(h, first, claim->own->stitch);
		return;
	}
	if (claim->spaces) {
		tb_account_spaces(h, tb_hands_number(h, &claim->space_lengths, (int)claim->space_chains), with, without);
		return;
	}
	unsigned chains = 0, kind = 0, turning = 0, outside = claim->stitch != NULL ? tb_account_outside(h, claim->stitch) : 0;
	for (guint32 i = 0; i < row->count; i++) {
		const tb_made *made = tb_hands_made(h, row->first + i);
		if (made->flags & TB_MADE_TURNING)
			turning += (made->flags & TB_MADE_COUNTED) != 0 && turning_is(h, made, claim->stitch);
		else
			kind += claim->stitch != NULL && is_claimed(h, made, claim->stitch);
		chains += (made->flags & TB_MADE_CHAIN) && (made->flags & TB_MADE_COUNTED);
	}
	if (claim->stitch == NULL)
		*without -= chains;
	else {
		unsigned crossed = count_crossed(h);
		kind -= crossed <= kind ? crossed : 0;
		*with = kind + turning;
		*without = kind;
		/* "(3 shells, 6 dc)": the stitches of the shells are not counted again */
		unsigned said = tb_hands_number(h, &claim->count, 0);
		if (h->sentence->claim_count > 1 && outside < kind && (said == outside || said == outside + turning))
			*without = said;
	}
}
