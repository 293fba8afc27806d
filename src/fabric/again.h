/* Rows that are written out, and are earlier rows over again. */
#ifndef TB_FABRIC_AGAIN_H
#define TB_FABRIC_AGAIN_H

#include "fabric/fabric.h"

/* Rows FIRST to LAST, numbers, are row OF and those after it over again, as often as there are more rows than ROWS. */
typedef struct {
	guint32 first, last, of, rows;
} tb_rows_again;

/*
 * Whether of the rows FIRST to LAST (numbers) the last ones are the same as so many before them: stitch by stitch, each
 * worked into the like one. They come again whole, but for one row, and are three at least, at least three rows on: plain
 * rows are alike anyway, and so are the ends of a figure that is its own mirror image. Of all such stretches the longest.
 */
bool tb_rows_find_again(const tb_fabric *fabric, guint32 first, guint32 last, tb_rows_again *found);

#endif
