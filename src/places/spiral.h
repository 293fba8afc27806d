/* A round that is not joined goes on over its own beginning, as a spiral does. */
#ifndef TB_PLACES_SPIRAL_H
#define TB_PLACES_SPIRAL_H

#include "hands/hands.h"

/* Whether the round says that it is joined. */
bool tb_spiral_is_joined(const tb_sentence *sentence);
/*
 * Lets a round that is not joined go on over its own first loop, where ACT asks for a space and none is
 * left below. False when it cannot.
 */
bool tb_spiral_reach(tb_hands *h, const tb_act *act);

#endif
