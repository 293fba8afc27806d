/*
 * The chart's layout: every stitch with its place in millimetres, and the furniture around them.
 *
 * chart.c chooses what is charted (rows, motif, scale) and calls the rest in order: parts.c tells in which
 * parts it lies, place.c sets the stitches, furniture.c the numbers, box, brackets and title, key.c the key. Coordinates are of the
 * finished page, origin top left, y downward. Filled by tb_chart_create, const after that.
 */
#ifndef TB_LAYOUT_CHART_H
#define TB_LAYOUT_CHART_H

#include "fabric/fabric.h"
#include "fabric/motif.h"
#include "layout/label.h"

#include <tambour/chart.h>

typedef struct {
	double x, y;
} tb_spot;

/* One stitch, set. */
typedef struct {
	guint32 made;
	guint32 index; /* its place in its row, as no other's: from 1, from the edge where row 1 begins, as drawn; 0 beside */
	guint32 column; /* … the column it stands on: the same, but of places, where several have one */
	tb_spot top;
	double angle;       /* of its own upright, radians, clockwise on the page */
	double height;      /* along that upright: from the top down to where its row stands, mm */
	double base_top;    /* and down to the top of what it is worked into */
	double room;        /* the width it has where it must be narrower than a column, mm; else 0 */
	bool crosses;       /* its leg crosses others of its row */
	guint32 first_foot; /* into feet, on the page; foot_count of them */
	guint16 foot_count;
} tb_placed;

typedef struct {
	guint32 row;   /* index into the fabric's rows */
	bool below;    /* not charted itself, shown since a charted row reaches into it */
	double top, bottom; /* the stitches' own, at the edge where the row begins */
	/* … of cloth at rest: the stitch at that edge, the last one, and which way is out of the edge, square to the stitch */
	tb_spot first_top, first_foot, last_top, last_foot, out;
	guint32 first, count; /* into placed */
} tb_chart_row;

typedef struct {
	double x1, y1, x2, y2; /* from the row's number towards the row */
	tb_ink ink;
} tb_arrow;

/* A brace or a bracket: a line from a to b along x (under) or y (at the side), with a label. */
typedef struct {
	bool upright;
	double from, to, at; /* ends along its length, place across it */
	double depth;        /* towards the chart */
} tb_bracket;

typedef struct {
	const tb_stitch *stitch;
	double x, y; /* the foot of the symbol, in the middle */
	double column, chain; /* cell of the sample */
} tb_key_symbol;

typedef enum {
	TB_LAY_ROWS,  /* worked to and fro */
	TB_LAY_DISC,  /* around a middle, outward */
	TB_LAY_TUBE,  /* around, without a middle: charted flat, cut open where its rounds begin */
	TB_LAY_CLOSE, /* around a middle, inward: seen from outside */
} tb_part_lay;

/* Rows that are laid down together. */
typedef struct {
	tb_part_lay lay;
	guint32 first, last; /* of the fabric's rows */
	bool joins;          /* its first row joins other work: none is drawn below it */
	guint32 brought;     /* so many made last in its last row are other work's, not drawn */
	bool at_rest;        /* no grid: laid down by its own tensions */
	guint32 row, rows;   /* into the chart's rows */
	double left, right, top, bottom; /* of its stitches */
} tb_chart_part;

/* Something that is no stitch: a magic ring, yarn joined, yarn cut. */
typedef struct {
	const tb_stitch *mark;
	tb_spot at; /* its middle */
	double angle; /* radians, clockwise on the page */
	tb_ink ink;
} tb_chart_mark;

/* How many colours can be told from each other by their shading; the first is paper. */
#define TB_SHADES 6u

/* Of the key: how the cells of a colour are shaded. */
typedef struct {
	tb_spot centre;
	double width, height;
	unsigned shade; /* its place among the chart's colours */
} tb_swatch;

/* How far the ink around the stitches reaches, mm. */
typedef struct {
	double left, right, top, bottom;
} tb_ink_edges;

struct tb_chart {
	const tb_worked *worked;
	const tb_fabric *fabric; /* of the size that is drawn */
	unsigned piece, size;
	tb_chart_options options;
	char *title, *description;

	double column, chain, pen; /* mm: column width, height a chain, stroke */
	GArray *across;            /* double: of a grid that came to rest, where its columns lie, mm; NULL: evenly */
	double width, height;      /* of the page */
	double left, right, top, bottom; /* of the grid: the outer edges of columns and rows */
	double chains_drawn;       /* rows' height in all, in chains */
	double min_at, max_at;     /* columns that are drawn, in column units */

	tb_motif motif;      /* not found: every column is drawn */
	guint32 columns;     /* drawn, when there is a grid; else 0 */
	bool near_right;     /* row 1 begins at the right: columns count from there */
	GArray *parts;       /* tb_chart_part, from the bottom up: one but of rounds that change from disc to tube and the like */
	bool folded;         /* the motif is in a box, and drawn once, at rest once more beside it */
	unsigned beside;     /* then: how many repeats are drawn beside the box */
	tb_size_set sizes;   /* that the chart speaks for */

	GArray *placed;   /* tb_placed, row after row in working order */
	GArray *feet;     /* tb_spot */
	GArray *rows;     /* tb_chart_row, from the bottom up */
	GArray *labels;   /* tb_label */
	GArray *arrows;   /* tb_arrow */
	GArray *brackets; /* tb_bracket */
	GArray *keys;     /* tb_key_symbol */
	GArray *marks;    /* tb_chart_mark */
	GPtrArray *colours; /* names, borrowed: of a piece in several, the main one first; empty where they are not shown */
	GArray *swatches;   /* tb_swatch */
	unsigned turns;    /* of cloth at rest: how often it comes around its middle; else 1 */
	bool halves_alike; /* … and whether it is its own mirror image */
	unsigned sweeps;   /* … and in how many sweeps it came to rest */
	GArray *sector;   /* tb_spot: the line outside the sector that rounds repeat; empty for none */
	guint32 sector_times;
	tb_spot sector_label;
	bool as_seen;            /* wrong side rows show the fabric's right side */
	const tb_stitch **shown; /* by stitch: what wrong side rows show for it; NULL: itself */
	bool has_box;
	GArray *sides[2]; /* tb_spot, upward: of a box that goes between the stitches of cloth at rest; else NULL, upright */
	GArray *gap;      /* … likewise, where stitches of a plain middle are not drawn; NULL: nowhere */
	double box_left, box_right, box_top, box_bottom;
};

/* Finds in which parts the charted rows lie: the chart's parts. */
void tb_chart_find_parts(tb_chart *chart);

static inline tb_chart_part *tb_chart_part_at(const tb_chart *chart, guint i)
{
	return &g_array_index(chart->parts, tb_chart_part, i);
}

/* Whether all of it is of one kind. */
static inline bool tb_chart_is(const tb_chart *chart, tb_part_lay lay)
{
	return chart->parts->len == 1 && tb_chart_part_at(chart, 0)->lay == lay;
}
/* The part that a row of the chart's is drawn in. */
const tb_chart_part *tb_chart_part_of(const tb_chart *chart, const tb_chart_row *row);
/* Whether a row of the chart's is set as rows are: not around a middle. */
bool tb_chart_is_set_flat(const tb_chart *chart, const tb_chart_row *row);
/* The charted row, not one shown below a part, that the pattern calls NUMBER; or NULL. */
const tb_chart_row *tb_chart_find_row(const tb_chart *chart, guint32 number);
/* A repeat of rows is told once, however often the text says it: whether one before it says as much. */
bool tb_chart_is_repeat_told(const tb_chart *chart, guint32 index);
/* Chooses the rows and sets every stitch, the grid's top left corner at 0,0. */
bool tb_chart_place(tb_chart *chart, tb_diagnostics *diagnostics);
/* Of repeats at rest so many are drawn, and of them so many before what is folded away: how it goes on can be seen. */
static inline guint32 tb_chart_repeats_before(const tb_chart *chart)
{
	return chart->motif.plain ? 4 : 1;
}

static inline guint32 tb_chart_repeats_drawn(const tb_chart *chart)
{
	return MIN(chart->motif.times[chart->size], 2 * tb_chart_repeats_before(chart));
}

/* The repeat cannot be folded after all: the chart speaks for its own size, whole. False where there is no memory. */
bool tb_chart_unfold(tb_chart *chart, tb_diagnostics *diagnostics);
/* Adds title, numbers, box and brackets, and moves everything to its place on the page. */
void tb_chart_furnish(tb_chart *chart, const tb_text_measure *measure);
/* Adds the key under the chart, WIDTH being free; returns the height it takes. */
double tb_chart_add_key(tb_chart *chart, const tb_text_measure *measure, double x, double y,
	double width);

/* How high a sample is drawn, and the piece of post below it that a post stitch curls around. */
double tb_key_stitch_height(const tb_stitch *stitch, double chain);
double tb_key_post_height(const tb_stitch *stitch, double chain);

/* Order of a key: chains first, then by height, plain before posts, single before joined. */
int tb_key_compare(const tb_stitch *x, const tb_stitch *y);
/* What a learner may not know from her first lessons: posts, and loops drawn together. */
bool tb_key_is_special(const tb_stitch *stitch);
/* How the chart is read: its sentences (char *, owned by the array). Owned: g_ptr_array_unref. */
GPtrArray *tb_chart_reading(const tb_chart *chart);

/* How far from the grid's near edge a place in columns lies, mm. */
double tb_chart_across(const tb_chart *chart, double at);

/* Moves the stitches, rows and box, not yet the words around them. */
void tb_chart_move(tb_chart *chart, double dx, double dy);

/* Where what was set last begins, in the chart's arrays. */
typedef struct {
	guint placed, foot, row, mark;
} tb_chart_slice;

/* Moves that alone. */
void tb_chart_move_slice(tb_chart *chart, const tb_chart_slice *slice, double dx, double dy);

/* Adds the numbers of rows with their arrows, or of rounds, to what stands there; INK grows by what they take. */
void tb_chart_add_numbers(tb_chart *chart, const tb_text_measure *measure, double scale, tb_ink_edges *ink);

/* Adds a label, which is borrowed until the next is added. TEXT is copied. */
tb_label *tb_chart_add_label(tb_chart *chart, const char *text, double x, double y, double size_mm,
	tb_face face, tb_align align, tb_ink ink);

/* "20 (22, 24)" from one number a size, or one number when the chart speaks for one size. */
char *tb_chart_numbers(const tb_chart *chart, const guint32 *by_size);

/* How often the box is worked in every size, with what is drawn beside it: "5 (8, 14) times". Owned: g_free. */
char *tb_chart_times(const tb_chart *chart);

/* The stitch whose symbol stands for MADE: itself, or what it looks like from the right side. */
const tb_stitch *tb_chart_shown(const tb_chart *chart, const tb_made *made);

/* A row's ink: odd and even rows alternate, rows below are pale. */
tb_ink tb_chart_row_ink(const tb_chart *chart, const tb_chart_row *row);

/* Fills the chart's colours, when its stitches are placed; the place of a stitch's colour among them, 0 where none are shown. */
void tb_chart_find_colours(tb_chart *chart);
unsigned tb_chart_shade(const tb_chart *chart, const tb_placed *placed);

/* tb_chart_create, of stitches as wide as the options say, whether the paper has room or not. */
tb_chart *tb_chart_lay_out(const tb_worked *worked, const tb_chart_options *options, const tb_text_measure *measure,
	tb_diagnostics *diagnostics);

#endif
