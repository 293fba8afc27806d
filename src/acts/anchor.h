/*
 * Rows joined at their end to work that lies beside them, as a rib is worked sideways onto an edge: "sl st in
 * next 2 sts of body, turn". These slip stitches are none of the row's. They take the next stitches of that
 * edge, stand for the turning chain of the row after them, and are skipped by it where it says so.
 */
#ifndef TB_ACTS_ANCHOR_H
#define TB_ACTS_ANCHOR_H

#include "hands/hands.h"

/* Joins the row to the next stitches of the edge that ACT, a TB_ACT_ANCHOR, names. */
void tb_anchor_work(tb_hands *h, const tb_act *act);
/* Whether ACT would work slip stitches on other work behind the row's own, which joins the row to it; that is told. */
bool tb_anchor_refuses(tb_hands *h, const tb_act *act);
/* Whether SKIP is of the slip stitches that joined the row below; that it is of other than so many is told. */
bool tb_anchor_skips(tb_hands *h, const tb_act *skip);
/*
 * "Until all sts of body are used", of SENTENCE, that repeats COUNT rows: how many are to be worked next; 0: all are
 * used, or nobody can say, as no row shows the edge and no number of rows is stated.
 */
guint32 tb_anchor_rows_left(tb_hands *h, const tb_sentence *sentence, guint32 count);

#endif
