/*
 * "Flatten it and sc through both layers": a round lies folded on itself, and each stitch is worked
 * through one of its front and one of its back. The last half of it goes to the first, stitch for stitch.
 */
#ifndef TB_ACTS_FOLD_H
#define TB_ACTS_FOLD_H

#include "hands/hands.h"

/* The round below is folded, and worked through both its layers, as ACT says. */
void tb_fold(tb_hands *h, const tb_act *act);

#endif
