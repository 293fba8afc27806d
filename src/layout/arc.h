/* A run of chains as it is drawn: almonds along a circular arc between the heads of two stitches. */
#ifndef TB_LAYOUT_ARC_H
#define TB_LAYOUT_ARC_H

#include "layout/weave.h"

typedef struct {
	double complex from, to; /* its ends */
	double complex centre;   /* of the circle; unused where it is straight */
	double half;             /* the angle it opens to either side of its middle; 0: straight */
	double complex out;      /* which way it rises */
	double length;
} tb_arc;

/* How far out of the heads at its ends it begins, in columns. */
#define TB_ARC_RISE 0.06

/* What the head at either end takes of the WAY between two stitches, in columns. */
double tb_arc_room(double way);

/* Length of an arc of CHAINS over CHORD, in columns: as they lie, or pressed together. */
double tb_arc_length(double chord, double chains);

/* The arc of a run whose ends have their places. Chains that hang free go on along their row. */
tb_arc tb_arc_of_run(const tb_weave *weave, guint32 run);

/* A place T (0 to 1) along it; into DIRECTION, which may be NULL, the way there. */
double complex tb_arc_at(const tb_arc *arc, double t, double complex *direction);

#endif
