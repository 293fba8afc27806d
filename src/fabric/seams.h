/*
 * Seams against the pieces they join.
 *
 * A shoulder has as many stitches in front as in the back, and what is sewn of it is there: of a back whose two
 * shoulders were worked by themselves all of each; of one that goes straight up twice as many, and the neck between
 * them. An opening left in the side seams fits a sleeve that is twice as wide at its top, give or take an inch.
 */
#ifndef TB_FABRIC_SEAMS_H
#define TB_FABRIC_SEAMS_H

#include "fabric/fabric.h"
#include "support/diagnose.h"

/* What a seam of KIND takes in SIZE, as it is said; 0 where it is not. */
guint32 tb_seams_stitches(const tb_pattern *pattern, tb_seam_kind kind, unsigned size);
/* Tells what does not agree, as warnings. */
void tb_seams_check(const tb_worked *worked, tb_diagnostics *diagnostics);

#endif
