/*
 * Lays the weave down as cloth lies: every stem as long as its stitch and square to its row, neighbours as far apart as
 * they are wide, chains in arcs, and where these cannot all be had, what strains them least.
 *
 * The energy is the sum of weight * |what is - target|^2 over edges, legs, the frames that a row and the stems on it
 * agree on, and evenness along rows. A sweep finds the targets from where things are, then all places at once from the
 * targets: the equations are the same each time and are factored once. Rows are laid one by one, the fans narrow at
 * first so that none is laid across its neighbour; then all together until nothing moves.
 */
#ifndef TB_LAYOUT_RELAX_H
#define TB_LAYOUT_RELAX_H

#include "layout/symmetry.h"

/* Gives every node its place, weave->z, and the period. Returns how many sweeps the whole took. */
unsigned tb_relax(tb_weave *weave, const tb_symmetry *symmetry);

/* Likewise, of rounds that draw in to a close, every stitch of which stands on stitches of the round below. */
void tb_weave_lay_close(tb_weave *weave);

/* Likewise, of a tube that is no grid. */
void tb_weave_lay_upright(tb_weave *weave);

/* Which way is out of the fabric at a node: square to its row. */
double complex tb_relax_out(const tb_weave *weave, guint32 node);

/* How high over the straight way between its ends the arc of a run rises, as the legs on it see it. */
double tb_relax_bow(const tb_weave *weave, const tb_weave_run *run, double way);

#endif
