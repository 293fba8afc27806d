/* Filet: a block or a space stands over the square that is named, "bl over sp", and over no other. */
#ifndef TB_PLACES_SQUARES_H
#define TB_PLACES_SQUARES_H

#include "hands/hands.h"

/* Whether the square that ACT says lies beneath it does; that it does not is told. */
bool tb_squares_lie_over(tb_hands *h, const tb_act *act);

#endif
