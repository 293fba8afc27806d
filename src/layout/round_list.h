/* One round's tops, while their places are sought: shared by rounds.c and round_fill.c. */
#ifndef TB_LAYOUT_ROUND_LIST_H
#define TB_LAYOUT_ROUND_LIST_H

#include "layout/setting.h"

typedef struct {
	guint32 *list;
	double *wanted, *gaps; /* gaps first in columns, then in units of `at` */
	guint32 count;
	double seam;     /* the room at the seam, in columns */
	double last_gap; /* from the last stitch to the first, in columns, the seam's room included */
	bool in_ring; /* nothing to stand over: evenly around */
} tb_round_list;

/* Millimetres that one unit of `at` is long, at a level. */
double tb_round_speed(const tb_setting *s, double at, double level);
/* A bow of chains in the middle of a group of one place, or that ends at the seam: a corner. */
bool tb_round_is_corner(const tb_setting *s, const tb_run *run);

/* A circle is filled evenly. */
void tb_round_fill_circle(tb_round_list *l);
/* A polygon's sides are filled evenly from corner to corner; finds where the corners are. */
void tb_round_fill_sides(tb_setting *s, const tb_made_row *row, tb_round_list *l);
/* The ends of an oval; COLUMNS are the gaps in columns. */
void tb_round_fill_ends(const tb_setting *s, tb_round_list *l, const double *columns, double level);

#endif
