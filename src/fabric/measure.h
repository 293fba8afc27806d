/* Millimetres from stitches, rows and gauge. */
#ifndef TB_FABRIC_MEASURE_H
#define TB_FABRIC_MEASURE_H

#include "fabric/fabric.h"
#include "support/units.h"

/* Width of a column: over_mm / stitches. 0 when no gauge is given. */
double tb_measure_column_mm(const tb_gauge *gauge);

/*
 * Height of one chain's worth of row, from the row gauge and HEIGHTS, the heights in chains of the
 * rows the gauge was counted over (the pattern's own repeat; all its rows when it has none): the
 * gauge fixes their mean, the stitches' heights share it out. 0 when there is no row gauge.
 */
double tb_measure_chain_mm(const tb_gauge *gauge, const double *heights, unsigned count);

#endif
