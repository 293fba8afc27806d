/* Charts kept from texts before, for texts that are worded alike: the inside of the chart. */
#ifndef TB_NOTATION_CHART_KEPT_H
#define TB_NOTATION_CHART_KEPT_H

#include "notation/chart.h"

/*
 * Takes over the chart kept from a lattice of the same terminals, read as RULE; false where there is none. *HASH is
 * for tb_chart_keep.
 */
bool tb_chart_find_kept(tb_chart *chart, const tb_lattice *lattice, tb_rule rule, guint32 *hash);
/* Keeps what was read from LATTICE as RULE, where that came to an end; nothing was built from it yet. */
void tb_chart_keep(tb_chart *chart, const tb_lattice *lattice, tb_rule rule, guint32 hash);
void tb_chart_forget_kept(tb_chart *chart);

#endif
