/* What short rows leave unworked, and the rows that come back to it. */
#ifndef TB_ROWS_REST_H
#define TB_ROWS_REST_H

#include "hands/hands.h"

/* Whether new yarn is joined before anything of SENTENCE is worked. */
bool tb_rest_is_joined(const tb_sentence *sentence);
/* What the short rows left that were last turned, as seen by who joins new yarn. */
bool tb_rest_is_there(const tb_hands *h);
/* Which way the row goes that joins yarn where short rows left off: where so many were left as it skips. */
bool tb_rest_goes_leftward(const tb_hands *h, const tb_sentence *sentence);
/* Adds what short rows left to the places, where the row goes the same way: it lies beyond the row below. */
void tb_rest_add(tb_hands *h);
/* Keeps what this row leaves from place DUE on, and of the rest what it has not worked. */
void tb_rest_keep(tb_hands *h, guint32 due);

#endif
