/*
 * Whether the work comes to what the pattern says it measures when it is done.
 *
 * How much may be between them: half an inch in a piece, an inch around, or a stitch or a row, whichever is more
 * (common practice: a count that misses its length by more than half an inch is offered again with a repeat more or
 * less; blocking takes up what is within). Of a garment that opens, its bands may be in the stated bust.
 */
#ifndef TB_FABRIC_FINISHED_H
#define TB_FABRIC_FINISHED_H

#include "fabric/sized.h"
#include "support/diagnose.h"

/* What FINISHED says in SIZE, mm. */
double tb_finished_in(const tb_finished *finished, unsigned size);
/* What is said of the whole as KIND, or NULL. */
const tb_finished *tb_finished_find(const tb_pattern *pattern, tb_finished_kind kind);
/* Tells what differs, as warnings. */
void tb_finished_check(const tb_worked *worked, tb_diagnostics *diagnostics);

#endif
