/*
 * The energy of a fabric at rest, as the files that lay it share it.
 *
 * energy.c finds what is in it: legs, the cells that a row and the stems on it agree on, edges, evenness, circles and
 * sides; energy_motifs.c, how often what comes again with every motif counts. energy_pull.c takes the targets of a sweep from where everything lies, and what they pull with; equations.c
 * has the solution; relax.c the order. Of a piece that turns into itself, or is its own mirror image, only what stands
 * for all is in the energy; what is needed beside it is kept up to date in the lists of what is near.
 */
#ifndef TB_LAYOUT_ENERGY_H
#define TB_LAYOUT_ENERGY_H

#include "layout/envelope.h"
#include "layout/plane.h"
#include "layout/symmetry.h"

#include <math.h>

/* Weights. */
#define TB_CORE_WEIGHT 1.5  /* solid rounds are circles */
#define TB_SIDE_WEIGHT 6    /* sides of a polygon are straight */
#define TB_WAVE_WEIGHT 0.25 /* a foundation that bends bends evenly */

typedef struct {
	guint32 node, base;
	tb_leg_kind kind;
	double along, height, lean;
	double length, upright, own; /* weights */
	double most;                 /* of its height */
	guint32 cell, own_cell;      /* or TB_NONE */
	bool several;                /* one of several legs */
	double part;                 /* how much of it counts in the energy */
	/* as far as fans are open, and its row is laid */
	double complex leaning;      /* by how much it leans */
	double tall;                 /* its height, stretched */
	/* of this tb_window_sweep */
	double complex stem, unit;
	double reach, rise;          /* length of its stem; of the arc it stands on */
} tb_energy_leg;

typedef struct {
	guint32 from, to;   /* the chord: nodes */
	guint32 row;
	int sign;
	double weight;
	bool fixed;         /* its upright is the page's */
	double part;        /* how much of it counts in the energy */
	/* of this tb_window_sweep */
	double complex up, chord, sum;
} tb_energy_cell;

typedef struct {
	guint32 edge;
	double weight;
} tb_energy_edge;

typedef struct {
	guint32 a, b, c;
	guint32 row;
	double weight;
	bool level; /* keeps its place along the row instead of its place across */
} tb_energy_triple;

/* A run of nodes in a row that has one shape: a whole circle, or the side of a polygon between two corners. */
typedef struct {
	guint32 row, first, count; /* count nodes from place FIRST of the row on, around the seam */
	guint32 before, after;     /* of a side: its corners' other sides; of a circle TB_NONE */
} tb_energy_part;

/* What of a node's place each of its unknowns is: at most two of its own, and the period. */
typedef struct {
	guint32 unknown[3];
	unsigned count;
	double complex part[3];
} tb_energy_share;

typedef struct {
	tb_weave *w;
	const tb_symmetry *symmetry;
	tb_energy_leg *legs;   /* those that are needed, row by row */
	tb_energy_cell *cells; /* the same */
	GArray *edges;   /* tb_energy_edge: those that count in the energy, row by row */
	GArray *triples; /* tb_energy_triple, row by row */
	GArray *parts;   /* tb_energy_part */
	guint32 *first_leg, *first_cell, *first_edge, *first_triple; /* by row */
	guint32 *near_nodes, *first_near; /* those that are needed, row by row; by row */
	guint32 *lowest_base; /* by row: the lowest row that its legs stand on */
	guint32 leg_count;
	double *motifs;  /* by node: how many motifs it stands for with what belongs to it, 0 where another stands for it */
	double *part_of; /* by node: how much of what belongs to it counts: wholly or more, a half of its own image, or not */
	double half_spine;
	double complex *u;   /* by origin: its place, less its periods */
	double period;
	double complex *force, *up; /* by node */
	double complex *oval_up;    /* by leg: the side of the spine it stands on */
	bool *is_core;   /* by row */
	guint32 *unknown; /* by node: its first unknown in the tb_window that is open, or TB_NONE */
	tb_energy_share *shares; /* by node, of what is near in the window that is open */
	guint32 *first_couple, *coupled; /* by node, 0 between windows; the nodes that have any */
	bool *itself;     /* by node: its place is its own unknown */
	bool spine_turn;  /* an oval's spine runs from right to left */
} tb_energy;

/* What moves in a solution: the rows from LOW to HIGH. */
typedef struct {
	guint32 low, high, cells_from;
	guint32 first, end; /* their nodes */
	guint32 *unknown;   /* the energy's */
	guint32 count;
	bool plain;         /* x and y have the same equations */
	guint32 period;     /* the unknown that is the period, or TB_NONE */
	tb_envelope *envelope;
	double *x;
} tb_window;

/* Finds what is in the energy of WEAVE, and where nothing is laid yet. To be finished by tb_energy_finish. */
void tb_energy_start(tb_energy *x, tb_weave *w, const tb_symmetry *symmetry);
void tb_energy_finish(tb_energy *x);

/* By node: how many motifs it stands for with what belongs to it, 0 where another does. Owned: g_free. */
double *tb_energy_count_motifs(const tb_weave *w, const tb_symmetry *symmetry);

/* How much of what belongs to a side of a polygon counts. */
double tb_energy_side_part(const tb_energy *x);
/* The nodes of a part that stand for all, and how many they are. */
guint32 tb_energy_part_node(const tb_energy *x, const tb_energy_part *part, guint32 k);
guint32 tb_energy_part_count(const tb_energy *x, const tb_energy_part *part);

/* A node's place from its origin's; and the places of all that is near in the rows LOW to HIGH. */
void tb_energy_place(const tb_energy *x, guint32 v);
void tb_energy_place_rows(const tb_energy *x, guint32 low, guint32 high);
/* Where a leg stands; *RISE: how far the arc that it stands on rises. */
double complex tb_energy_foot(const tb_energy *x, const tb_energy_leg *l, double *rise);
/* What everything in a window pulls at its nodes with: x->force. */
void tb_energy_pull(tb_energy *x, const tb_window *win);

/*
 * The equations of the rows LOW to HIGH, factored. WITH_PERIOD: the period moves too. False when nothing can be solved;
 * to be closed all the same.
 */
bool tb_window_open(const tb_energy *x, tb_window *win, guint32 low, guint32 high, bool with_period);
void tb_window_close(const tb_energy *x, tb_window *win);
/*
 * One sweep: to where the targets ask everything to be. Places follow from what moved when the next begins, or the
 * window closes. Returns the root mean square of what moved.
 */
double tb_window_sweep(tb_energy *x, const tb_window *win);

#endif
