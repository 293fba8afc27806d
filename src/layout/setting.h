/*
 * Setting a chart's stitches: what the files of this step share.
 *
 * On a grid a stitch's place is first found in the fabric's own measure: `at`, in columns along its row from the edge
 * where row 1 begins, and `level`, in chains above the foundation. columns.c and levels.c find them (crossed.c: how high
 * rows must be for posts and crossings), runs.c bends chain
 * spaces between the stitches they join, and place.c gives each stitch its top and feet on the page. What is no grid,
 * or would be strained on one, comes to rest instead: rest.h.
 */
#ifndef TB_LAYOUT_SETTING_H
#define TB_LAYOUT_SETTING_H

#include "layout/chart.h"

/* How far beside the edge an uncounted turning chain climbs, in columns. */
#define TB_BESIDE_EDGE 0.66
/* The foundation chain's own height, in columns. */
#define TB_FOUNDATION_HEIGHT 0.5
/* Three or more worked into one place stand closer than plain stitches do, in columns. */
#define TB_FAN_SPACING 0.7
/* A row of slip stitches alone still needs a line to stand on, in chains. */
#define TB_LEAST_HEIGHT 0.5

/* A run of chains between two stitches of a row, bent where it is longer than the way. */
typedef struct {
	guint32 first, count;  /* made */
	guint32 before, after; /* the stitches it joins, or TB_NONE at a row's end */
	tb_spot p[4];          /* the cubic it lies on, on the page */
} tb_run;

typedef struct {
	tb_chart *chart;
	tb_chart_part *part; /* of the chart, that is set */
	const tb_fabric *fabric;
	guint32 lowest, first, last; /* rows' indices: drawn from, charted from, charted to */
	guint32 first_placed, first_foot, first_mark; /* of the part, into the chart's */
	gint32 *column; /* by made: on the unfolded grid, or at rest its place; NULL when there is none */
	gint32 *drawn;  /* … as drawn on the grid; G_MAXINT32 beside the columns */
	guint32 width;  /* in columns */
	double *at;     /* by made: in columns as drawn; NAN when not drawn */
	double *level;  /* by made: of its top, in chains */
	double *foot;   /* by made: of its foot, in chains */
	GArray *runs;   /* tb_run, in the order made */
	guint32 *run;   /* by made: number of its run + 1; 0 for none */
	double *need;   /* by row: how high it must be for what is drawn in it, in units of symbols */
	guint8 *shift;  /* by made: how many stitches of its row its leg crosses; 0 for all others */
	double period; /* of a tube: how many columns it is around */
} tb_setting;

static inline const tb_stitch *tb_setting_stitch(const tb_setting *s, const tb_made *made)
{
	return tb_library_get(tb_worked_pattern(s->chart->worked)->library, made->stitch);
}

/* A chain that lies in its row, between stitches. */
static inline bool tb_setting_is_chain(const tb_made *made)
{
	return (made->flags & TB_MADE_CHAIN) && made->row > 0;
}

/* A stitch that is no part of the count and stands on the one before it, as a picot does. */
static inline bool tb_setting_is_standing(const tb_made *made)
{
	return !(made->flags & (TB_MADE_COUNTED | TB_MADE_TURNING | TB_MADE_CHAIN));
}

/* A slip stitch that closes a round or makes a tube of a row, or travels to where the next begins. */
static inline bool tb_setting_is_join(const tb_setting *s, const tb_made *made)
{
	const tb_made_row *row = &s->fabric->rows[made->row];
	if (!tb_setting_is_standing(made) || tb_setting_stitch(s, made)->takes == 0)
		return false;
	bool closes = made->row + 1 < s->fabric->row_count && row[1].is_round;
	return row->is_round || (closes && made == &s->fabric->made[row->first + row->count - 1]);
}

/* The end of what is drawn of a row: after the last made. */
static inline guint32 tb_setting_row_end(const tb_setting *s, guint32 row)
{
	return s->fabric->rows[row].first + s->fabric->rows[row].count - (row == s->last ? s->part->brought : 0);
}

/* Rounds around a middle, outward or inward. */
static inline bool tb_setting_is_around(const tb_setting *s)
{
	return s->part->lay == TB_LAY_DISC || s->part->lay == TB_LAY_CLOSE;
}

static inline bool tb_setting_is_tube(const tb_setting *s)
{
	return s->part->lay == TB_LAY_TUBE;
}

/* A piece may grow from a row of another, which is shown as worked already. */
static inline bool tb_setting_is_grown(const tb_setting *s)
{
	const tb_made_row *row = &s->fabric->rows[0];
	for (guint32 m = row->first; m < row->first + row->count; m++)
		if (!(s->fabric->made[m].flags & TB_MADE_CHAIN))
			return true;
	return false;
}

/* Finds which legs cross, and how high rows must be: `shift` and `need`. */
void tb_setting_find_needs(tb_setting *s);
/* Height of a stitch in chains, as it stands in the fabric, and as its row must be for what is drawn in it. */
double tb_setting_height(const tb_setting *s, const tb_made *made);
/* Where a base stands, seen from the stitch M that is worked into it. */
double tb_setting_base_at(const tb_setting *s, guint32 m, guint32 base);

/* Finds the runs of chains (not yet bent). */
void tb_setting_find_runs(tb_setting *s);
/* Every stitch's `at`, where the rows are a grid. False where they are none. */
bool tb_setting_find_columns(tb_setting *s);
/* The column a stitch has as drawn, where there is a grid; below 0, past the last or G_MAXINT32 for what has none. */
gint32 tb_setting_drawn_column(const tb_setting *s, guint32 m);
/* Numbers everything in its row: the chart's placed, by index. */
void tb_setting_number_places(tb_setting *s);
/* Whether a grid, with its levels found, is no picture of the fabric: it waves, or its stems would stretch. */
bool tb_setting_is_strained(const tb_setting *s);
/* How many stitches from M on are worked into the place M is, chains between them aside. */
guint32 tb_setting_count_group(const tb_setting *s, const tb_made_row *row, guint32 m);
/* Every stitch's `level` and `foot`. */
void tb_setting_find_levels(tb_setting *s);
/* Bends the runs of a row whose stitches have their places; raises their chains' levels. */
void tb_setting_bend_runs(tb_setting *s, guint32 row);
/* Where the stitches that a run joins stand, in the order worked. */
void tb_run_ends(const tb_setting *s, const tb_run *run, double *from, double *to);
/* A place T (0 to 1) along a run, and the direction there in radians (0 along x). */
tb_spot tb_run_at(const tb_run *run, double t, double *direction);
/* Where on the page a place of the grid is. */
tb_spot tb_setting_spot(const tb_setting *s, double at, double level);

/* Marks for the ring, and for yarn joined and cut. */
void tb_setting_add_marks(tb_setting *s);

#endif
