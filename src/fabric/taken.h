/* Rows taken at their word. */
#ifndef TB_FABRIC_TAKEN_H
#define TB_FABRIC_TAKEN_H

#include "fabric/hands.h"

/* Whether the row's stated count says how many stitches it has in the size being worked. */
bool tb_taken_can(const tb_hands *h, const tb_sentence *sentence);
/* Makes the row that was just begun of so many stitches of a kind that is not known. */
void tb_taken_make(tb_hands *h);
/* Whether the row being worked stands on one that is taken at its word. */
bool tb_taken_is_below(const tb_hands *h);
/* Whether a fault found in such a row may be none: it lies in what the row below does not say. */
bool tb_taken_doubts(const tb_hands *h, tb_severity severity, const char *code);
/* Nothing from the row of SENTENCE on is checked. */
void tb_taken_stop(tb_hands *h, const tb_sentence *sentence);

#endif
