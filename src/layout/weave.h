/*
 * The fabric as what can be laid down: nodes (a stitch's head, a foundation chain), the runs of chains between them,
 * the legs that stitches stand on, the edges along rows, and the groups worked into one place.
 *
 * Lengths are in columns; places are complex numbers with y up. A row's `sign` tells which side of it is out of the
 * fabric: walking it in working order, out is to the left for +1 and to the right for -1. Rounds are -1
 * (anticlockwise), the foundation is +1. Filled by tb_weave_read and tb_weave_shape; only `z` changes after that.
 */
#ifndef TB_LAYOUT_WEAVE_H
#define TB_LAYOUT_WEAVE_H

#include "layout/setting.h"

#include <complex.h>
#include <math.h>

/* Rise of one chain of a turning chain: a dc stands twice as high as it is wide, as flat rounds of dc prove. */
#define TB_WEAVE_CHAIN (2.0 / 3)
/* A ring of more chains than this is no middle. */
#define TB_WEAVE_MOST_RING 12
/* How wide the chains of a spur are, in columns, how far out they begin, and how long each is. */
#define TB_WEAVE_SPUR 0.4
#define TB_WEAVE_SPUR_BEGINS 0.15
#define TB_WEAVE_SPUR_CHAIN 0.66
/* A foot on an arc stands so far above it, in columns. */
#define TB_WEAVE_OFF_ARC 0.13

/* The furthest apart, in columns, that CHAINS chains let the heads of their ends stand. */
static inline double tb_weave_span(guint32 chains)
{
	return fmax(2.4, 0.62 * chains + 0.85);
}

typedef enum {
	TB_LEG_RING, /* out of the ring in the middle */
	TB_LEG_NODE, /* on a head, or a foundation chain */
	TB_LEG_RUN,  /* on the arc of a run, or in the gap between two heads: a run of no chains */
} tb_leg_kind;

typedef struct {
	guint32 node, base; /* base: a node or a run */
	tb_leg_kind kind;
	double along;       /* of a run: where on it, 0 to 1 */
	double height;      /* of the stitch, and what lies between its foot and the row below */
	guint32 drawn;      /* the node it really stands on, where symmetry or petals gave it another base; else TB_NONE */
} tb_weave_leg;

typedef enum { TB_SIDE_NEITHER, TB_SIDE_LEFT, TB_SIDE_RIGHT_HAND } tb_weave_side;

typedef struct {
	guint32 made;       /* TB_NONE for the corner under a first turning chain that has no chain of its own */
	guint32 row;        /* of the weave */
	guint32 token;      /* alike for like stitches */
	double height;
	guint32 first_leg;
	guint32 leg_count;
	guint32 next, before; /* edges, or TB_NONE */
	guint32 group;
	/* its shape at rest */
	guint32 group_size;
	double lean;        /* from the upright of its base, radians, anticlockwise */
	double end_lean;    /* … on the end chain of an oval */
	double lace;        /* an sc on an arc: how high the tall stitches of its row are; else 0 */
	double stretch;     /* of its legs */
	double head_room;   /* of a fan cut to its widest: the part of its width that its heads have */
	bool petal;
	double spur;        /* the way that a spur behind it takes of its row, in columns; else 0 */
	guint32 spur_most;  /* … and the most stitches in one of its chains */
	bool spread;        /* of a group whose feet are spread along its arc: a petal, or low stitches that cover it */
	tb_weave_side side; /* at a flat edge */
} tb_weave_node;

typedef struct {
	guint32 row, before, after; /* nodes; after: TB_NONE where the chains hang free */
	guint32 first, count;       /* into chains */
} tb_weave_run;

typedef struct {
	guint32 from, to; /* nodes, in working order */
	guint32 run;      /* or TB_NONE */
	guint32 chains;
	guint32 row;
	bool same;        /* both stand on one and the same place */
	bool valley;      /* their places lie apart in the row below */
	/* at rest */
	double rest, least, most, weight, pull;
} tb_weave_edge;

/* Neighbours that stand on one place, chains between them included: nodes of one row, from FIRST on, around the seam. */
typedef struct {
	guint32 row, first, count;
} tb_weave_group;

typedef struct {
	guint32 first, count; /* nodes */
	int sign;
	bool closed;          /* its last stitch is beside its first */
	guint32 made_row;     /* of the fabric */
	bool rises;           /* it begins with a turning chain that does not count */
} tb_weave_row;

/* What is no node: it is set beside one when all else has its place. */
typedef enum {
	TB_EXTRA_JOIN,     /* the slip stitch that closes a round */
	TB_EXTRA_TRAVEL,   /* a slip stitch that leads on to where the row begins */
	TB_EXTRA_TURNING,  /* a turning chain that does not count */
	TB_EXTRA_PICOT,    /* what stands on the stitch before it */
	TB_EXTRA_SPUR,     /* of chains that stand out of the row, and the stitches worked back along them */
} tb_extra_kind;

typedef struct {
	guint32 made, row;
	tb_extra_kind kind;
	guint32 node;       /* the last node made before it in its row, or the first */
	guint32 stacked;    /* picots on the same stitch before it; of a spur's stitch, others in its chain */
	guint32 chain;      /* of a spur: which of its chains this is, or stands on, from 0 */
} tb_weave_extra;

typedef struct {
	tb_setting *s;
	GArray *nodes, *legs, *runs, *edges, *groups, *rows, *extras; /* of the types above */
	GArray *chains;    /* guint32: made, of the runs */
	bool rounds, ring, oval, wave, level;
	bool unfolded;     /* the chart's repeat could not be folded: something would stand on nothing */
	bool spiral;       /* rounds that no join closes: each goes on in the next */
	bool petals;       /* groups lie on their arcs, low at both ends */
	bool bends;        /* the foundation is not straight: a wave, or curved */
	bool upright;      /* a tube that is no grid: stitches stand above one another, as far apart as that makes them */
	double around;     /* … and the tube so many columns: beyond the cut it goes on at the other edge; else 0 */
	double curve;      /* radians that rows which grow inside turn it by from end to end, its ends down; else 0 */
	bool grid;         /* all rows are as wide, chains counted */
	double ring_radius;
	bool mirror_side[3];   /* by tb_weave_side: the edge is a mirror line of the pattern */
	double side_weight[3];
	guint32 *node_of, *run_of; /* by made: its node, its run; TB_NONE where it is none */
	double complex *z;  /* by node */
	double period;      /* of a level piece: columns from one motif to the next, as laid */
} tb_weave;

static inline tb_weave_node *tb_weave_node_at(const tb_weave *w, guint32 i) { return &g_array_index(w->nodes, tb_weave_node, i); }
static inline tb_weave_leg *tb_weave_leg_at(const tb_weave *w, guint32 i) { return &g_array_index(w->legs, tb_weave_leg, i); }
static inline tb_weave_run *tb_weave_run_at(const tb_weave *w, guint32 i) { return &g_array_index(w->runs, tb_weave_run, i); }
static inline tb_weave_edge *tb_weave_edge_at(const tb_weave *w, guint32 i) { return &g_array_index(w->edges, tb_weave_edge, i); }
static inline tb_weave_row *tb_weave_row_at(const tb_weave *w, guint32 i) { return &g_array_index(w->rows, tb_weave_row, i); }
static inline tb_weave_group *tb_weave_group_at(const tb_weave *w, guint32 i) { return &g_array_index(w->groups, tb_weave_group, i); }

/* The node of a group, counted in working order. */
static inline guint32 tb_weave_member(const tb_weave *w, const tb_weave_group *group, guint32 i)
{
	const tb_weave_row *row = tb_weave_row_at(w, group->row);
	return row->first + (group->first + i) % row->count;
}

/* One without anything in it; one of the rows from s->lowest to s->last. Owned: tb_weave_free. */
tb_weave *tb_weave_new(tb_setting *s);
tb_weave *tb_weave_read(tb_setting *s);
void tb_weave_free(tb_weave *weave);

/* Finds edges, groups and everything's shape at rest. To be called again when legs were given other bases. */
void tb_weave_shape(tb_weave *weave);

/* The row that a leg's base lies in, and where in it, in nodes. */
guint32 tb_weave_base_row(const tb_weave *weave, const tb_weave_leg *leg);
double tb_weave_base_place(const tb_weave *weave, const tb_weave_leg *leg);

#endif
