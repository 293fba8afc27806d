/* A row of the cloth: begun, and counted up when it is done. */
#ifndef TB_HANDS_ROW_H
#define TB_HANDS_ROW_H

#include "hands/hands.h"

/* Adds an empty row; it is the one being worked from now on. False at the limit, which is told. */
bool tb_row_add(tb_hands *h, guint32 number, tb_side side, bool leftward);
/* Counts up what was made in the row being worked. */
void tb_row_close(tb_hands *h);
/* How many rows SENTENCE numbers in this size: "Rows 3-12 (14, 16)", "Rows 3-12 (4-14, 5-16)". */
guint32 tb_row_said(const tb_hands *h, const tb_sentence *sentence);

#endif
