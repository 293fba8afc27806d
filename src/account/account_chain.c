/*
 * "23 dc, counting the ch-3 as 1 dc", "(22 dc, turning chain not included)": what a count says of the chain
 * the row begins with.
 */
#include "account/account.h"

/* The chain that the row begins with; NULL where it has none. */
static const tb_made *find_first(const tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		if (tb_hands_made(h, i)->flags & TB_MADE_TURNING)
			return tb_hands_made(h, i);
	}
	return NULL;
}

/* The chains of the row that count beside it. */
static unsigned count_others(const tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	unsigned others = 0;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		unsigned flags = tb_hands_made(h, i)->flags;
		others += (flags & TB_MADE_CHAIN) && (flags & TB_MADE_COUNTED);
	}
	return others;
}

/* Whether FIRST, the row's first chain, is as long as CLAIM says, with the space behind it or without. */
static bool is_long(const tb_hands *h, const tb_claim *claim, const tb_made *first)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	unsigned behind = 0;
	bool seen = false;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_made *made = tb_hands_made(h, i);
		if (seen && !(made->flags & TB_MADE_CHAIN))
			break;
		behind += seen;
		seen = seen || made == first;
	}
	return claim->chain_of == 0 || claim->chain_of == first->chains || claim->chain_of == first->chains + behind ||
		h->row == h->now.corner.row;
}

static bool tell(tb_hands *h, const tb_claim *claim, const char *what)
{
	tb_hands_tell(h, TB_ERROR, "count-claimed", claim->span, "Change the count, or what it says of the chain.", "%s", what);
	return false;
}

bool tb_account_chain(tb_hands *h, const tb_sentence *sentence, const tb_claim *claim, unsigned *with, unsigned *without)
{
	if ((!claim->with_chain && !claim->without_chain) || claim->spaces)
		return true;
	const tb_made *first = find_first(h);
	bool counted = first != NULL && (first->flags & TB_MADE_COUNTED) && is_long(h, claim, first);
	/* "(20 dc, 5 ch-1 sps, counting the ch-3 as 1 dc)": it is one of the dc alone */
	bool another = sentence->claim_count > 1 && claim->stitch != NULL && h->now.counts_as != claim->stitch;
	if (another)
		return true;
	/* nothing else says that it counts: then it does not */
	if (claim->without_chain && counted && h->now.counted_unsaid)
		return tell(h, claim, "the chain that the row begins with counts as a stitch");
	if (claim->without_chain) {
		*with = claim->stitch != NULL ? *without : *with - counted;
		*without = claim->stitch != NULL ? *without : *without - counted;
		return true;
	}
	if (!counted && !(claim->any_chain && claim->stitch == NULL && count_others(h) >= MAX(claim->chain_of, 1)))
		return tell(h, claim, "the row begins with no chain that counts");
	/* "2 dc in 3rd ch from hook, … (19 sts, counting the skipped chs as a sc)": nothing else said what it is */
	if (counted && claim->chain_as != NULL && h->now.counted_unsaid) {
		h->now.counts_as = claim->chain_as;
		tb_hands_row(h, h->row)->turning_as = claim->chain_as;
	}
	if (counted && claim->chain_as != NULL && h->now.counts_as != NULL && h->now.counts_as != claim->chain_as)
		return tell(h, claim, "the chain that the row begins with counts as another stitch");
	bool all = claim->any_chain && claim->chain_of == 0 && !counted;
	*without = claim->stitch != NULL || all ? *with : *without;
	return true;
}
