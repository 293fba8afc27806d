/* What a pattern calls a loop, where the row below has both stitches and short spaces. */
#ifndef TB_PLACES_LOOSE_H
#define TB_PLACES_LOOSE_H

#include "hands/hands.h"

/* learns from the row just worked whether the piece calls stitches loops. */
void tb_loose_learn(tb_hands *h);
/* Whether "every loop" at PLACE is every stitch, though the row below has spaces. */
bool tb_loose_is_stitch(const tb_hands *h, const tb_place *place);

#endif
