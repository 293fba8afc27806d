/* Rows on some of the stitches below: places/within.c. */
#ifndef TB_PLACES_WITHIN_H
#define TB_PLACES_WITHIN_H

#include "hands/hands.h"

/* The next row made is the first of SENTENCE. */
void tb_within_begin(tb_hands *h, const tb_sentence *sentence);
/* Leaves of the places below those that the row is said to be worked on. */
void tb_within_lay(tb_hands *h);
/* Adds what the row was not worked on to REST, the last of it first; false where there is none. */
bool tb_within_keep(tb_hands *h, GArray *rest);
/* Whether the row is said to be worked on so many: then it works all of them. */
bool tb_within_is_said(const tb_hands *h);
/* Whether the row ends with its yarn cut: what it left is left on purpose. */
bool tb_within_is_ended(const tb_hands *h);

#endif
