/*
 * Surface slip stitches: worked upon the cloth when it is done, with the yarn behind it. They lie along a row, one in
 * each of its stitches; in the line between two rows that follow each other; or up the rows, one for each, between
 * two stitches that every one of them has, counted from the edge where the first begins. They change no count.
 */
#ifndef TB_FABRIC_SURFACE_H
#define TB_FABRIC_SURFACE_H

#include "fabric/fabric.h"

/* Where one of them lies: upon the stitch MADE or, where there is a BESIDE (not TB_NONE), between the two. */
typedef struct {
	guint32 made, beside;
	bool above; /* in the line above MADE */
} tb_surface_spot;

/* The row that is no part of FABRIC, or has no such stitches, where a line cannot lie. */
typedef struct {
	guint32 row;      /* its number as the pattern says it */
	guint32 stitches; /* it has only so many; G_MAXUINT32: there is no such row */
	bool apart;       /* two rows, or stitches, that are not side by side */
} tb_surface_miss;

/*
 * How many there are of ACT, a TB_ACT_SURFACE, in SIZE; 0 and MISS filled where a line has no place. SPOTS
 * (tb_surface_spot) takes where they lie as far as rows show it; may be NULL.
 */
guint32 tb_surface_find(const tb_fabric *fabric, const tb_act *act, unsigned size, GArray *spots, tb_surface_miss *miss);
/* The same of one LINE, each stitch of it taken once. */
guint32 tb_surface_find_line(const tb_fabric *fabric, const tb_surface_line *line, unsigned size, GArray *spots,
	tb_surface_miss *miss);
/* Whether PIECE has such stitches; UP: in lines up the rows. */
bool tb_surface_is_any(const tb_worked *worked, unsigned piece, bool up);

#endif
