/*
 * The motif: the smallest block of columns that every charted row repeats, in every size.
 *
 * Columns count from 0 at the edge where row 1 begins. A graded piece is then: `near` edge columns,
 * `times[size]` times the motif of `width` columns, `far` edge columns. Where rows differ in width, columns are places
 * of the foundation, and what stands on them.
 */
#ifndef TB_FABRIC_MOTIF_H
#define TB_FABRIC_MOTIF_H

#include "fabric/fabric.h"

typedef struct {
	bool found;
	bool by_places;              /* columns are places, as tb_place_columns gives them */
	bool plain;                  /* of places: one stitch upon the other in every row, shaped at the edges alone */
	guint32 near_edge, width, far_edge;
	guint32 stitches;            /* in one repeat of every charted row; 0 where the rows differ */
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

/*
 * Whether the stitches of the rows FROM to TO (indices) stand near what they are worked into: rows that are as wide by
 * chance are no grid. AROUND: the width of a tube, whose columns go on past the edge it is cut open at; else 0.
 */
bool tb_grid_is_true(const tb_fabric *fabric, guint32 from, guint32 to, const gint32 *columns, guint32 around);

/* Moves the foundation under row 1 so that row 1 leans as little as it can. */
void tb_grid_centre(const tb_fabric *fabric, gint32 *columns);

/*
 * The same where rows differ in width: the place of the foundation that everything stands on, row by row up to row LAST;
 * G_MAXINT32 above that. False when it is not known what some stitch stands on, or the piece is worked in rounds.
 */
bool tb_place_columns(const tb_fabric *fabric, guint32 last, gint32 *columns, guint32 *width);

#endif
