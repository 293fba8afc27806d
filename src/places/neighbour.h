/* Motifs joined as they are worked: "sl st in ch-3 sp of last motif" goes into no place of the row below. */
#ifndef TB_PLACES_NEIGHBOUR_H
#define TB_PLACES_NEIGHBOUR_H

#include "hands/hands.h"

/* Notes that ACT joins the row to another motif, and tells where none has a space of so many chains at its edge. */
void tb_neighbour_join(tb_hands *h, const tb_act *act);
/* "2 joined corners": tells where the row is joined to others fewer times than CLAIM says. */
void tb_neighbour_account(tb_hands *h, const tb_claim *claim);

/*
 * neighbour_sides.c: of a row that is joined to others, tells where a side is joined at other places than the motif beside it
 * has there, and where it is joined on other sides than it says, "joined on 2 sides".
 */
void tb_neighbour_sides(tb_hands *h);

#endif
