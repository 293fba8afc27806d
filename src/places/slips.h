/* Slip stitches: which carry the hook to where a row begins, and which are stitches of it. */
#ifndef TB_PLACES_SLIPS_H
#define TB_PLACES_SLIPS_H

#include "hands/hands.h"

/* Whether ACT is one slip stitch in each of some places, that only carries the hook along them. */
bool tb_slips_travel(const tb_hands *h, const tb_act *act);
/* Whether the slip stitches that a flat row begins with, up to act I, are stitches of the row. */
bool tb_slips_are_cloth(tb_hands *h, const tb_acts *acts, unsigned i);

#endif
