/* Surface slip stitches that have no place on the piece, or are not as many as is said. */
#ifndef TB_ROWS_SURFACE_CHECK_H
#define TB_ROWS_SURFACE_CHECK_H

#include "hands/hands.h"

/* Tells which lines of SCRIPT have no place on the piece, and which counts are not theirs. */
void tb_surface_check(tb_hands *h, const tb_script *script);

#endif
