/*
 * Setting a chart's stitches: what the files of this step share.
 *
 * A stitch's place is first found in the fabric's own measure: `at`, in columns along its row from
 * the edge where row 1 begins, and `level`, in chains above the foundation. columns.c and
 * levels.c find them; runs.c bends chain spaces between the stitches they join; ground.c says where
 * on the page a place is; place.c gives each stitch its top and feet there.
 */
#ifndef TB_LAYOUT_SETTING_H
#define TB_LAYOUT_SETTING_H

#include "layout/chart.h"

/* How far beside the edge an uncounted turning chain climbs, in columns. */
#define TB_BESIDE_EDGE 0.66
/* The foundation chain's own height, in columns. */
#define TB_FOUNDATION_HEIGHT 0.5
/* Half the thickness of a ring's chains, in columns: stitches worked into it stand outside that. */
#define TB_RING_THICK 0.15
/* Three or more worked into one place stand closer than plain stitches do, in columns. */
#define TB_FAN_SPACING 0.7
/* A row of slip stitches alone still needs a line to stand on, in chains. */
#define TB_LEAST_HEIGHT 0.5

/* What the fabric lies on. */
typedef enum {
	TB_GROUND_ROWS,
	TB_GROUND_DISC,
	TB_GROUND_POLYGON,
	TB_GROUND_OVAL,
} tb_ground;

/* A run of chains between two stitches of a row, bent where it is longer than the way. */
typedef struct {
	guint32 first, count;  /* made */
	guint32 before, after; /* the stitches it joins, or TB_NONE at a row's end */
	tb_spot p[4];          /* the cubic it lies on, on the page */
} tb_run;

typedef struct {
	tb_chart *chart;
	const tb_fabric *fabric;
	guint32 lowest, first, last; /* rows' indices: drawn from, charted from, charted to */
	gint32 *column; /* by made: on the unfolded grid; NULL when there is none */
	guint32 width;  /* of the grid */
	double *at;     /* by made: in columns as drawn; NAN when not drawn */
	double *level;  /* by made: of its top, in chains */
	double *foot;   /* by made: of its foot, in chains */
	GArray *runs;   /* tb_run, in the order made */
	guint32 *run;   /* by made: number of its run + 1; 0 for none */
	tb_ground shape;
	double period;    /* of `at`, in a whole round; of a tube, in columns */
	unsigned corners; /* of a polygon */
	double corner_at; /* where one of them stands */
	double spine;     /* length of an oval's straight side, mm */
	double ring;      /* level of the ring in the middle */
	bool has_ring;    /* rows that begin in a ring: where it lies, and its radius in columns */
	double ring_at, ring_radius;
	double spiral;    /* chains climbed in one turn; 0 where rounds are joined */
	GArray *wave;   /* double: how high a wave lifts each drawn column, in chains; NULL: level */
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

/* Height of a stitch in chains, as it stands in the fabric. */
double tb_setting_height(const tb_setting *s, const tb_made *made);
/* Where a base stands, seen from the stitch M that is worked into it. */
double tb_setting_base_at(const tb_setting *s, guint32 m, guint32 base);

/* Finds the runs of chains (not yet bent), and every stitch's `at`. */
void tb_setting_find_runs(tb_setting *s);
void tb_setting_find_columns(tb_setting *s);
/* How many stitches from M on are worked into the place M is, chains between them aside. */
guint32 tb_setting_count_group(const tb_setting *s, const tb_made_row *row, guint32 m);
/* Whether the neighbours A and B belong to a fan. */
bool tb_setting_is_fan(const tb_setting *s, const tb_made_row *row, guint32 a, guint32 b);
/* On the grid, fans draw in towards their middle, so that they do not cross their neighbours. */
void tb_setting_gather_groups(tb_setting *s);
/* How high a wave lifts each column of the grid, where the fabric waves. */
void tb_setting_find_wave(tb_setting *s);
/* Every stitch's `level` and `foot`. */
void tb_setting_find_levels(tb_setting *s);
/* Bends the runs of a row whose stitches have their places; raises their chains' levels. */
void tb_setting_bend_runs(tb_setting *s, guint32 row);
/* Where the stitches that a run joins stand, in the order worked. */
void tb_run_ends(const tb_setting *s, const tb_run *run, double *from, double *to);
/* A place T (0 to 1) along a run, and the direction there in radians (0 along x). */
tb_spot tb_run_at(const tb_run *run, double t, double *direction);

/* `at`, `level` and `foot` of a piece worked around a middle, and their bent runs. */
void tb_setting_find_rounds(tb_setting *s);

/* Marks for the ring, and for yarn joined and cut. */
void tb_setting_add_marks(tb_setting *s);
/* The sector that repeats around the middle, and its line. */
void tb_setting_find_sector(tb_setting *s);

/* Where on the page a place is. */
tb_spot tb_ground_spot(const tb_setting *s, double at, double level);
/* Which way is up there, in radians clockwise from the page's up. */
double tb_ground_up(const tb_setting *s, double at, double level);

#endif
