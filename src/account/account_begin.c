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
}
