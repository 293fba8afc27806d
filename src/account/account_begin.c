/* A row that has no stitch, or nothing that leads up to its first. */
#include "account/account.h"

/* A row of dc that begins without a turning chain draws its edge down. */
static void check_turning(tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	const tb_act *work = h->now.first_work;
	/* nobody works dc into the chain beside the hook, one after the other: another reading is meant */
	if (h->row == 1 && work != NULL && !row->is_round && !h->start.is_ring && !h->start.grown && h->now.corner.chains == 0 &&
		work->stitch->height >= 2 && work->bare)
		h->cursor.odd++;
	if (row->is_round || h->row < 2 || row->count == 0 || work == NULL || h->now.travelled ||
		work->stitch->height < 2 || work->stitch->foot == TB_FOOT_CHAIN ||
		work->stitch->post != TB_POST_NONE)
		return;
	const tb_made *first = tb_hands_made(h, row->first);
	if (first->flags & (TB_MADE_TURNING | TB_MADE_CHAIN) || first->stitch != work->stitch->number)
		return;
	const char *term = tb_hands_term(h, work->stitch);
	g_autofree char *hint = g_strdup_printf(
		"%s wants a turning chain of %u.", term, tb_stitch_chains(work->stitch));
	tb_hands_tell(h, TB_WARNING, "turning-chain-missing", work->span, hint,
		"no turning chain stands before %s", term);
}

/*
 * "Ch 11. Sc in each ch across": the chain beside the hook cannot be worked into, and none is left to turn with (common
 * practice: sc goes into the 2nd ch from the hook).
 */
static void check_first_chain(tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	const tb_act *work = h->now.first_work;
	if (h->row != 1 || row->is_round || row->count == 0 || work == NULL || h->start.is_ring || h->start.is_tube || h->start.grown ||
		h->start.chains == 0 || h->start.open > 0 || h->now.corner.chains > 0 || h->now.corner.skipped > 0 || work->place.in != TB_IN_EACH ||
		work->place.far_side || work->stitch == h->working->slip || work->stitch->post != TB_POST_NONE)
		return;
	const tb_made *first = tb_hands_made(h, row->first);
	if (first->flags & (TB_MADE_TURNING | TB_MADE_CHAIN) || first->base_count != 1 || first->base != tb_hands_place(h, 0))
		return;
	tb_hands_tell(h, TB_WARNING, "turning-chain-missing", work->span, "Say from which ch on, as in “2nd ch from hook”.",
		"no chain is left to turn with, and nothing goes into the ch beside the hook");
}

/* "Sc in each st" where none is left: its words promise stitches, and it has none. */
static void check_empty(tb_hands *h)
{
	if (!h->teller.row_fault && tb_hands_row(h, h->row)->count == 0)
		tb_hands_tell(h, TB_ERROR, "row-empty", h->sentence->span, "Say which stitches it is worked on, or leave it out.",
			"no stitch is worked in this row");
}

void tb_account_begin(tb_hands *h)
{
	check_empty(h);
	check_turning(h);
	check_first_chain(h);
}
