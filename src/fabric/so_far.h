/*
 * "Piece should measure 25 cm", said amid the rows or at their end: whether the rows so far come to it.
 *
 * Common practice: such a length is that of the piece from its first row on, where nothing else is said of it.
 */
#ifndef TB_FABRIC_SO_FAR_H
#define TB_FABRIC_SO_FAR_H

#include "fabric/fabric.h"
#include "support/diagnose.h"

/*
 * Tells each such length that the rows worked before it do not come to, as a warning: of flat pieces that begin by
 * themselves, and where it is known which rows those are.
 */
void tb_so_far_check(const tb_worked *worked, tb_diagnostics *diagnostics);

#endif
