/*
 * "Multiple of 6 + 1", said of the chain or of the stitches: whether a piece keeps to it.
 *
 * Common practice: the number is that of the chain, of the chains the first row is worked in, or of the stitches of a row,
 * and designers do not say which; a number that none of them is cannot be right.
 */
#ifndef TB_FABRIC_MULTIPLE_H
#define TB_FABRIC_MULTIPLE_H

#include "fabric/fabric.h"
#include "support/diagnose.h"

/* Tells each multiple that is said beside the rows and that no piece keeps to, as a warning. */
void tb_multiple_check(const tb_worked *worked, tb_diagnostics *diagnostics);

#endif
