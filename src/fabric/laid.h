/*
 * Work made of motifs: how many of each are made, how they lie, and what the whole measures.
 *
 * What is said of all must be what is said of the parts, and so many lie as are made. More that lie than are made
 * are an error; fewer, or what is said twice and differs, too, unless they are what is left over: then a warning.
 * Squares that lie in rows are as wide as all of a row; of hexagons and triangles nothing is said, for they lean.
 */
#ifndef TB_FABRIC_LAID_H
#define TB_FABRIC_LAID_H

#include "fabric/fabric.h"
#include "support/diagnose.h"

/* A line of the reckoning, a figure a size; 0 where there is none. */
typedef struct {
	char *what;       /* "Square", "in the back" */
	guint32 made[TB_MAX_SIZES];
	guint32 rows[TB_MAX_SIZES], across[TB_MAX_SIZES]; /* how they lie, where that is said */
	unsigned times;   /* how often there is such a part */
	double wide_mm[TB_MAX_SIZES], high_mm[TB_MAX_SIZES];
} tb_laid_sum;

/* tb_laid_sum: the motifs first, then the parts they make; empty where the pattern says nothing of motifs. Owned. */
GArray *tb_laid_reckon(const tb_worked *worked);
/* How often PIECE is made in SIZE. */
guint32 tb_laid_made(const tb_pattern *pattern, unsigned piece, unsigned size);
/* Across a piece of rounds in SIZE, mm, by what its first ROUNDS measure; 0 where that is not said. ROUNDS may be NULL. */
double tb_laid_across_mm(const tb_worked *worked, unsigned piece, unsigned size, guint32 *rounds);
/* Tells what does not agree. */
void tb_laid_check(const tb_worked *worked, tb_diagnostics *diagnostics);

#endif
