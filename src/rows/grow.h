/* A piece that grows from another: its foundation is a stretch of the last row there. */
#ifndef TB_ROWS_GROW_H
#define TB_ROWS_GROW_H

#include "hands/hands.h"

/* Lays the foundation of a piece that grows from another. False when it cannot, which is told. */
bool tb_grow_foundation(tb_hands *h, const tb_script *script);

#endif
