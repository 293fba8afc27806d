/*
 * A round that is worked into stitches of an earlier one, and not of the one below: "working behind the
 * petals, *ch 5, sc in next sc of Round 2; rep from * around".
 */
#ifndef TB_PLACES_ON_ROW_H
#define TB_PLACES_ON_ROW_H

#include "hands/hands.h"

/* The row that all of the row being worked goes into, where its words name one that is not below; 0: none. */
guint32 tb_on_row_find(tb_hands *h);
/* Where such words name what was passed over of it, "next skipped sc of Rnd 1": no others are places. */
void tb_on_row_keep_missed(tb_hands *h);
/* Whether PLACE names a row that the row being worked does not go into, which is told. */
bool tb_on_row_tell_missed(tb_hands *h, const tb_place *place);
/* Whether PLACE, said of all that comes, names a row that is not there, which is told. */
bool tb_on_row_tell_none(tb_hands *h, const tb_place *place);

#endif
