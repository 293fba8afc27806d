/* Where the tops of a row stand: as near over their bases as their width lets them. */
#ifndef TB_LAYOUT_SPREAD_H
#define TB_LAYOUT_SPREAD_H

#include <glib.h>

/*
 * Moves WANTED (COUNT positions, in working order) to the least-squares positions that keep
 * neighbours at least SPACING[i] (between i and i + 1) apart and in order: isotonic regression by
 * pooling adjacent violators, in linear time. Positions that are far enough apart already do not
 * move.
 */
void tb_spread(double *wanted, const double *spacing, guint32 count);

#endif
