/* The spaces of a row that are counted, and those at its edges that may be left out. */
#include "account/account.h"

#include "stitches/stitch.h"

/* The runs of chains in the row, of the length said or of any. */
static unsigned count_spaces(const tb_hands *h, unsigned chains)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	unsigned spaces = 0, run = 0;
	for (guint32 i = 0; i <= row->count; i++) {
		bool is_chain =
			i < row->count && (tb_hands_made(h, row->first + i)->flags & TB_MADE_CHAIN) != 0;
		if (is_chain) {
			run++;
			continue;
		}
		spaces += run > 0 && (chains == 0 || run == chains);
		run = 0;
	}
	return spaces;
}

/* "Sc in 8th ch from hook, *ch 3, sk 3, sc in next ch*": the chains skipped before it are a loop as well. */
static bool has_corner_loop(const tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	return h->row == h->now.corner.row && h->now.corner.space == 0 && row->count > 1 &&
		h->now.corner.skipped >= 4 + tb_hands_stitch(h, tb_hands_made(h, row->first + 1))->height;
}

/* "Ch 5, sc in next loop, *ch 5, sc in next loop*, ch 2, dc in last sc": half a loop at each edge is none of them. */
static unsigned count_edge_spaces(const tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	unsigned longest = 0, first = 0, last = 0, run = 0;
	for (guint32 i = 0; i <= row->count; i++) {
		if (i < row->count && tb_hands_made(h, row->first + i)->flags & TB_MADE_CHAIN) {
			run++;
			continue;
		}
		longest = MAX(longest, run);
		first = run > 0 && i == run + 1 ? run : first;
		last = run > 0 && i + 1 == row->count ? run : last;
		run = 0;
	}
	return (first > 0 && first < longest) + (last > 0 && last < longest);
}

/*
 * "Ch 2, dc in first sc" closes a loop of ch 5, and "hdc in top of ch-3" one of ch 2: what closes a round stands for as
 * many chains as it is tall, or for one more or less.
 */
static bool has_closing_space(const tb_hands *h, unsigned chains)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	if (!row->is_round || row->loop == 0 || row->count < row->loop)
		return false;
	unsigned made = row->loop - 1, tall = tb_stitch_chains(tb_hands_stitch(h, tb_hands_made(h, row->first + row->count - 1)));
	return chains == 0 ? made == 0 : made < chains && made + tall <= chains + 1 && chains <= made + tall + 1;
}

void tb_account_spaces(const tb_hands *h, unsigned chains, unsigned *with, unsigned *without)
{
	*with = *without = count_spaces(h, chains);
	*with += has_closing_space(h, chains);
	if (chains > 0)
		return;
	*with += has_corner_loop(h);
	*without -= tb_hands_row(h, h->row)->is_round ? 0 : count_edge_spaces(h);
}
