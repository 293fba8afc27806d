/* Shells that only rows below tell of. */
#ifndef TB_ROWS_LIKE_H
#define TB_ROWS_LIKE_H

#include "hands/hands.h"

/* SENTENCE, with what a shell is where that is not said; SENTENCE itself where there is no such. */
const tb_sentence *tb_like_said(const tb_hands *h, const tb_sentence *sentence);
/* Tells what was taken for a shell in SENTENCE, which the row being worked is; or that nothing tells of it. */
void tb_like_tell(tb_hands *h, const tb_sentence *sentence);

#endif
