/* What a label says of the row's shape, and what a row is told not to have, or to stand on. */
#include "account/account.h"

void tb_account_shape(tb_hands *h, const tb_sentence *sentence, guint32 rows)
{
	const tb_shaped_so *shape = &sentence->shape;
	guint32 last = h->row, first = last + 1 - MIN(MAX(rows, 1), last);
	for (guint32 at = MAX(first, 2); shape->way != 0 && at <= last; at++) {
		const tb_made_row *row = tb_hands_row(h, at), *below = tb_hands_row(h, at - 1);
		gint64 more = ((gint64)row->stitches - (gint64)below->stitches) * shape->way;
		if (row->taken || below->taken || (shape->by > 0 ? more == (gint64)shape->by : more > 0))
			continue;
		tb_hands_tell(h, TB_WARNING, "count-claimed", shape->span, "Look at the row's stitches, or at its name.",
			"this is what row %u is called; it has %u sts, and the row before it %u", (unsigned)row->number,
			(unsigned)row->stitches, (unsigned)below->stitches);
		return;
	}
}

void tb_account_wrong(tb_hands *h, const tb_claim *claim)
{
	unsigned with, without, said = tb_hands_number(h, &claim->count, 0);
	if (tb_number_in(&claim->count, h->size) == TB_NOT_IN_SIZE)
		return;
	tb_account_count(h, claim, &with, &without);
	if (said == with)
		tb_hands_tell(h, TB_ERROR, "count-claimed", claim->span, "Change the count, or the stitches of the row.",
			"counts %u, and the pattern says that this is wrong", with);
}

/* The chain that a row begins with stands for any. */
static bool stands_on(const tb_hands *h, const tb_made *made, const tb_claim *claim)
{
	const tb_made *base = made->base_count == 1 && made->base != TB_NONE ? tb_hands_made(h, made->base) : NULL;
	return base == NULL || tb_hands_stitch(h, base) == claim->upon || tb_hands_stitch(h, base) == h->working->chain;
}

/* "… over the hdc": all that stands on the row below stands on such, and something does. */
static void account_all_upon(tb_hands *h, const tb_claim *claim)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	bool any = false, other = false;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_made *made = tb_hands_made(h, i);
		tb_hands_look(h, made->base_count + 1);
		for (unsigned leg = 0; leg < made->base_count; leg++) {
			guint32 base = tb_hands_base(h, made, leg);
			if (base == TB_NONE || base >= row->first)
				continue;
			const tb_stitch *stitch = tb_hands_stitch(h, tb_hands_made(h, base));
			any = any || stitch == claim->upon;
			other = other || (stitch != claim->upon && stitch != h->working->chain);
		}
	}
	if (other || !any)
		tb_hands_tell(h, TB_ERROR, "stands-on-other", claim->span, "Look at what the row's stitches stand on.",
			"in row %u %s stands on another stitch than %s", (unsigned)row->number, any ? "one" : "every one",
			tb_hands_term(h, claim->upon));
}

void tb_account_relief(tb_hands *h, const tb_claim *claim)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	bool any = false;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_made *made = tb_hands_made(h, i);
		const tb_made *base = made->base_count == 1 && made->base != TB_NONE ? tb_hands_made(h, made->base) : NULL;
		tb_post post = base != NULL ? tb_hands_stitch(h, base)->post : TB_POST_NONE;
		if (claim->stitch == NULL || tb_hands_stitch(h, made) != claim->stitch)
			continue;
		any = true;
		/* a post stitch is raised on the side it was worked from, and sinks back on the other; others do neither */
		bool same = post != TB_POST_NONE && tb_hands_row(h, base->row)->side == row->side;
		if (post == TB_POST_NONE || (post == claim->relief) == same)
			continue;
		tb_hands_tell(h, TB_ERROR, "stands-on-other", claim->span, "Look at what the row's stitches stand on.",
			"in row %u a %s goes around a stitch that is seen otherwise", (unsigned)row->number, tb_hands_term(h, claim->stitch));
		return;
	}
	if (!any)
		tb_hands_tell(h, TB_ERROR, "stands-on-other", claim->span, "Look at what the row is made of.",
			"in row %u none of these is worked", (unsigned)row->number);
}

void tb_account_upon(tb_hands *h, const tb_claim *claim)
{
	if (claim->stitch == NULL) {
		account_all_upon(h, claim);
		return;
	}
	const tb_made_row *row = tb_hands_row(h, h->row);
	bool any = false;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_made *made = tb_hands_made(h, i);
		any = any || tb_hands_stitch(h, made) == claim->stitch;
		if (tb_hands_stitch(h, made) != claim->stitch || stands_on(h, made, claim))
			continue;
		tb_hands_tell(h, TB_ERROR, "stands-on-other", claim->span, "Look at what the row's stitches stand on.",
			"in row %u a %s stands on another stitch than %s", (unsigned)row->number, tb_hands_term(h, claim->stitch),
			tb_hands_term(h, claim->upon));
		return;
	}
	if (!any)
		tb_hands_tell(h, TB_ERROR, "stands-on-other", claim->span, "Look at what the row is made of.",
			"in row %u there is no %s", (unsigned)row->number, tb_hands_term(h, claim->stitch));
}
