/*
 * A row of one stitch that is increased or decreased as it is worked: at its ends, or evenly along it.
 * Where evenly is, the pattern leaves to the hands; the count is the same wherever it is.
 */
#ifndef TB_ACTS_SHAPE_H
#define TB_ACTS_SHAPE_H

#include "hands/hands.h"

/* A row of one stitch, shaped at each end. */
void tb_acts_shape(tb_hands *h, const tb_act *act);

/*
 * Learns from the row just worked, whose work ended at place DUE, at which edge stitches were slipped over or left:
 * under a heading that says "neck", or "armhole", that is the edge of these.
 */
void tb_shape_learn_edge(tb_hands *h, guint32 due);

/* Whether the last row ends at the edge AT, TB_SHAPED_NECK or TB_SHAPED_OUTER; true where the rows do not show which that is. */
bool tb_shape_ends_at(const tb_hands *h, tb_shaped at);

#endif
