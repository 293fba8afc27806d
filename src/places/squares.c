/* Filet: a block or a space stands over the square that is named, "bl over sp", and over no other. */
#include "places/place.h"
#include "places/squares.h"

bool tb_squares_lie_over(tb_hands *h, const tb_act *act)
{
	bool spaces = true, blocks = true;
	for (guint32 i = h->cursor.due; i < h->cursor.due + 2; i++) {
		bool chain = i < tb_place_count(h) && (tb_hands_made(h, tb_hands_place(h, i))->flags & TB_MADE_CHAIN) != 0;
		spaces = spaces && chain;
		blocks = blocks && i < tb_place_count(h) && !chain;
	}
	if (act->over == TB_OVER_SPACE ? spaces : blocks)
		return true;
	tb_hands_give_up(h, "stands-on-other", act->span, "Look at the row below for it.", "no %s lies beneath this",
		act->over == TB_OVER_SPACE ? "space" : "block");
	return false;
}
