/* Borders over the sides of a flat piece, from corner to corner. */
#ifndef TB_ACTS_BORDER_H
#define TB_ACTS_BORDER_H

#include "hands/hands.h"

/* "3 sc in every 2 row ends": over so many rows at a time; else 1. */
guint64 tb_border_rows_taken(const tb_hands *h, const tb_act *act);
/* Whether ACT goes into more ends of rows, or chains, than this piece has. */
bool tb_border_asks_too_many(const tb_hands *h, const tb_act *act);
/* Tells where the row ends gone along one by one, ACT the last of them, are more than there are. */
void tb_border_tell_rows(tb_hands *h, const tb_act *act);
/* Tells where the row ends gone along one by one, up to SPAN, are not all that there are; the next begin another edge. */
void tb_border_leave_rows(tb_hands *h, tb_span span);
/* At the end of a row: tells what a border has left of its last edge, or which of the sides a round leaves out. */
void tb_border_tell_sides(tb_hands *h);
/* "24 sc along side edge (2 in the end of each row)": tells where ACT is not so of the stitches made last. */
void tb_border_prove(tb_hands *h, const tb_act *act);
/* How many stitches ALONG, of no stated number, makes; 0: nobody can say. */
guint32 tb_border_length(tb_hands *h, const tb_act *along);
/* Whether REPEAT goes over the ends of rows alone, "*2 sc in next row end, sc in next row end; rep from * to end". */
bool tb_border_is_of_row_ends(const tb_act *repeat);
/* "Skip next row end". */
void tb_border_skip_rows(tb_hands *h, const tb_act *skip);
/* How often REPEAT, "around", goes from corner to corner; 0: nobody can say. */
guint32 tb_border_passes(const tb_hands *h, const tb_act *repeat);
/* How many stitches ACT, EACH in a place, makes in chains of the foundation a border has come to; 0: in none. */
guint64 tb_border_on_chain(tb_hands *h, const tb_act *act, unsigned each);
void tb_border_work_corner(tb_hands *h, const tb_act *act, unsigned each);

#endif
