/*
 * What a fabric has of itself again: turned about its middle, mirrored, or moved along by a motif. Found from the
 * graph alone, so that repeats and halves come out exactly alike: only one of each is laid down.
 */
#ifndef TB_LAYOUT_SYMMETRY_H
#define TB_LAYOUT_SYMMETRY_H

#include "layout/weave.h"

typedef enum {
	TB_FREEDOM_PLANE, /* anywhere */
	TB_FREEDOM_LINE,  /* on a line through the origin: a mirror's */
	TB_FREEDOM_NONE,  /* where it is */
} tb_freedom;

/* Where a node is: turn * origin (or its conjugate) + shift * period, with the origin a place that is solved for. */
typedef struct {
	guint32 origin;      /* the node whose place that is */
	double complex turn;
	bool mirrored;       /* the conjugate */
	double shift;
	tb_freedom freedom;  /* of an origin */
	double complex line; /* … on a line: its direction */
} tb_frame;

typedef struct {
	guint32 turns;      /* around the middle; 1 for none */
	bool mirror;        /* halves alike */
	guint32 offset;     /* of rounds: what the places of a node and its image in the first row add up to */
	bool level;         /* moves along by a motif, on a straight foundation */
	bool moves;         /* … or with both edges in the middle of a motif */
	guint32 motifs;     /* then: how many */
	tb_frame *frames;   /* by node */
	guint32 *image;     /* by node: its mirror image, where halves are alike and each is laid once; else NULL */
	guint32 *next;      /* by node, of what moves along: the one a motif, and a period, further right, or TB_NONE; else NULL */
	double *margin;     /* by node, of mirrored flat pieces: how far right of the middle it stays (left: below 0); 0: free */
} tb_symmetry;

/*
 * Finds what WEAVE has, and gives it the turn that its mirror asks for. Legs of turning chains are moved to where their
 * mirror images stand. Owned: tb_symmetry_free.
 */
tb_symmetry *tb_symmetry_find(tb_weave *weave);
void tb_symmetry_free(tb_symmetry *symmetry);

#endif
