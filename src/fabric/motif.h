/*
 * The motif: the smallest block of columns that every charted row repeats, in every size.
 *
 * Columns count from 0 at the edge where row 1 begins. A graded piece is then: `near` edge columns,
 * `times[size]` times the motif of `width` columns, `far` edge columns.
 */
#ifndef TB_FABRIC_MOTIF_H
#define TB_FABRIC_MOTIF_H

#include "fabric/fabric.h"

typedef struct {
	bool found;
	guint32 near_edge, width, far_edge;
	guint32 times[TB_MAX_SIZES]; /* by size */
	char *reason;                /* why none was found; NULL when found. Owned: g_free */
} tb_motif;

/*
 * Finds the motif of rows FIRST to LAST (row numbers) of a piece over the SIZES given. Of all
 * periods that fit, the one that leaves the fewest columns to draw; of those the smallest; its phase
 * the one that cuts no stitch, nearest the edge.
 */
tb_motif tb_motif_find(const tb_worked *worked, unsigned piece, guint32 first, guint32 last,
	tb_size_set sizes);

/*
 * The column of every stitch of rows FIRST to LAST and of the foundation, when those rows make a
 * grid: COLUMNS has made_count entries, G_MAXINT32 for what stands in no column (an uncounted
 * turning chain stands beside the first: -1, or the width, at the edge where its row begins). False
 * when the rows' widths differ, so that there is no grid.
 */
bool tb_grid_columns(const tb_fabric *fabric, guint32 first, guint32 last, gint32 *columns,
	guint32 *width);

#endif
