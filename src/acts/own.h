/*
 * Stitches that take no place of the row below: a picot stands on the stitch just made and is an ornament;
 * a foundation stitch brings its own chain; the slip stitch that closes a round goes into the round's own
 * beginning, whether the text calls it a join or not.
 */
#ifndef TB_ACTS_OWN_H
#define TB_ACTS_OWN_H

#include "hands/hands.h"

/* Works a stitch that takes no place of the row below; false when ACT's is none of those. */
bool tb_own_work(tb_hands *h, const tb_act *act, unsigned each);
/* Makes knots, one on the other, as one group: each a chain drawn long, and sc in it. */
void tb_own_knots(tb_hands *h, const tb_act *act);
/* "ch 3, sl st in 3rd ch from hook": makes the picot that it is; false when ACT is none. */
bool tb_own_picot(tb_hands *h, const tb_act *act, const tb_footing *footing);
/* "ch 3, sl st in last sc": makes the picot that stands on the stitch just made; false: none. */
bool tb_own_picot_on_last(tb_hands *h, const tb_act *act);
/* Whether the slip stitch of ACT closes the round. */
bool tb_own_closes(const tb_hands *h, const tb_act *act);
/* A start of foundation stitches, "Fsc 20": false when ACT is no such start. */
bool tb_own_found(tb_hands *h, const tb_act *act);

#endif
