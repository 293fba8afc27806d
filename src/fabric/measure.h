/*
 * Millimetres from stitches, rows and gauge.
 *
 * A gauge says how wide a stitch is and how high a row of the stitches it was counted in. Where it names the
 * stitch, "16 sc and 20 rows", that is the height of a row of sc, and a row of dc is three times as high, as
 * turning chains are (common practice). Where it does not, it was counted in the pattern: it fixes the mean over
 * the rows of the piece's own repeat, and the heights of the stitches share it out. A second gauge, "in pattern",
 * "in dc", "over rows 14 and 15", holds for the rows it names, or that are worked in its stitch alone.
 */
#ifndef TB_FABRIC_MEASURE_H
#define TB_FABRIC_MEASURE_H

#include "fabric/rules.h"
#include "support/units.h"

/* Width of a column: over_mm / stitches. 0 when no gauge is given. */
double tb_measure_column_mm(const tb_gauge *gauge);

/*
 * Height of one chain's worth of row, from the row gauge and HEIGHTS, the heights in chains of the
 * rows the gauge was counted over (the pattern's own repeat; all its rows when it has none): the
 * gauge fixes their mean, the stitches' heights share it out. 0 when there is no row gauge.
 */
double tb_measure_chain_mm(const tb_gauge *gauge, const double *heights, unsigned count);

/* Rows FIRST to LAST, as indices: those a gauge was counted over that does not say of what. */
typedef struct {
	guint32 first, last;
} tb_counted_over;

/*
 * Measures all of COUNT rows, the foundation first: width_mm, height_mm, top_mm. Returns the height of one chain
 * by the pattern's first gauge, and 0 where it gives no rows.
 */
double tb_measure_rows(const tb_pattern *pattern, const tb_stitches *cloth, tb_made_row *rows, guint32 count,
	tb_counted_over over);

#endif
