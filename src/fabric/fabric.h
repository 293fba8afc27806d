/*
 * The stitch graph of one piece in one size. Built by rows/work.c, const after that.
 *
 * Stitches stand in the order they were made, row after row. Row 0 of the array is the foundation
 * (chains, or what the piece grows from); after it stand the rows in order. Indices everywhere are
 * indices into `made`.
 */
#ifndef TB_FABRIC_FABRIC_H
#define TB_FABRIC_FABRIC_H

#include "notation/tree.h"
#include "pattern/pattern.h"

#include <tambour/fabric.h>

#define TB_NONE G_MAXUINT32

typedef enum {
	TB_MADE_TURNING = 1 << 0,  /* a turning chain: one entry for all its chains */
	TB_MADE_COUNTED = 1 << 1,  /* counts in the row's total; the next row works into its top */
	TB_MADE_IN_SPACE = 1 << 2, /* worked into a space: the one base is the chain of it made first;
	                              two bases: the gap between those two stitches */
	TB_MADE_FRONT_LOOP = 1 << 3,
	TB_MADE_BACK_LOOP = 1 << 4,
	TB_MADE_CHAIN = 1 << 5,    /* a chain inside a row or the foundation */
	TB_MADE_BEHIND = 1 << 6,   /* crosses behind the stitches made before it */
	TB_MADE_THIRD_LOOP = 1 << 7,
} tb_made_flags;

/* One stitch. */
typedef struct {
	guint32 row;        /* index into rows */
	guint32 base;       /* its one base; of several, where they begin in bases, in working order */
	guint32 behind;     /* the stitch skipped behind a post stitch, or TB_NONE */
	guint16 stitch;     /* number in the library */
	guint8 base_count;
	guint8 flags;
	guint8 chains;      /* how many, for a turning chain */
	guint8 rows_below;  /* how far down the base is; 1 for the row just below, 0 for none */
	guint16 group;      /* the same for all that is worked in one place as a group; 0 for none */
} tb_made;

/* Where a row leaves stitches of the one below, that it was slip stitched over or ends before. */
typedef enum { TB_NARROWED_BEGIN = 1, TB_NARROWED_END = 2 } tb_narrowed;

/* One row. */
typedef struct {
	guint32 first, count; /* all that was made in it, in order */
	guint32 stitches;     /* that count */
	guint32 number;       /* as the pattern numbers it; 0 for the foundation */
	guint32 loop;         /* so many made last are a loop that a stitch closes: the next round begins in it */
	guint32 over;         /* so many made first the round itself worked over at its end: the next begins behind */
	guint32 on_row;       /* index of the earlier row it is worked into instead of the one below; 0: none */
	guint32 written;      /* the number of the row whose text made it: row 7 may be row 3 again */
	const char *part;     /* the heading it stands under inside of its piece, or NULL; the pattern's */
	guint32 before;       /* the text numbers it so much lower: its part begins again at 1 */
	tb_side side;
	bool leftward;        /* worked right to left on a chart for the right-handed */
	bool is_round;
	bool joined;          /* a round that says it is joined */
	bool elsewhere;       /* worked on other work than the row below, or along an edge that no row shows */
	bool along;           /* … its first stitch goes along such an edge */
	bool rejoined;        /* new yarn is joined before anything is worked */
	const tb_stitch *turning_as; /* what its turning chain is said to be, whatever its height; or NULL */
	guint8 narrowed;      /* tb_narrowed: stitches of the row below are left at its beginning, or its end */
	bool taken; /* at its word: only how many stitches it has is known, not what they are */
	bool unsure; /* its number is not: rows before it were not understood, nobody knows how many */
	const tb_sentence *sentence;
	double height;        /* in chains: the tallest ordinary stitch */
	guint32 stands;       /* index of the row it stands on: not the one before it where that lies beside it */
	double top;           /* in chains above the foundation */
	/* what gauge makes of it, as measure.h says; 0 where the pattern gives no gauge */
	double width_mm, height_mm, top_mm;
} tb_made_row;

/* A stretch of rows that repeats others, for the bracket at the side. */
typedef struct {
	guint32 first, last; /* row numbers that are repeated */
	guint32 times;       /* in all, the first working included; rows over are not counted */
} tb_row_repeat;

/* A length that was asked for ("until piece measures") and the one reached. */
typedef struct {
	double asked_mm, reached_mm;
	guint32 row; /* the number of the last row */
} tb_reached;

/* From stitch FIRST on, to the next such, all is made in the colour NAME; NULL: nobody knows in which. */
typedef struct {
	guint32 first;
	const char *name;
} tb_colour_run;

typedef struct {
	const tb_made *made;
	guint32 made_count;
	const guint32 *bases;
	const tb_made_row *rows; /* the foundation first */
	guint32 row_count;
	const tb_row_repeat *repeats;
	guint32 repeat_count;
	const tb_reached *reached;
	guint32 reached_count;
	const tb_colour_run *colours; /* none where no colour is named */
	guint32 colour_count;
	guint32 written_rows; /* rows 1 to this are each written out; later ones may be repeats */
	bool has_fault;       /* an error was found: counts may be wrong from there on */
	bool uncounted;       /* nobody knows how many rows it has: some were not understood */
	/* what gauge makes of it; 0 where the pattern gives no gauge */
	double width_mm, length_mm;
	double column_mm, chain_mm; /* width of a stitch; height of one chain */
} tb_fabric;

/* The fabric of a piece in a size. Never NULL. Borrowed. */
const tb_fabric *tb_worked_fabric(const tb_worked *worked, unsigned piece, unsigned size);
const tb_pattern *tb_worked_pattern(const tb_worked *worked);
/* What was read of a piece. Never NULL. Borrowed. */
const tb_script *tb_worked_script(const tb_worked *worked, unsigned piece);

/* What a piece grows from in a size: stitches FIRST to LAST of the last row of PARENT, from 1. */
typedef struct {
	unsigned parent, first, last;
} tb_grown;

/* False when PIECE grows from none, or its numbers were not understood. */
bool tb_grow_range(const tb_script *script, unsigned piece, unsigned size, tb_grown *grown);

/* The row the pattern calls NUMBER, or NULL. */
const tb_made_row *tb_fabric_row(const tb_fabric *fabric, guint32 number);

/* Whether the names ONE and OTHER, either of which may be NULL, are of the same colour. */
bool tb_colour_is_same(const char *one, const char *other);
/* Whether stitch INDEX of two fabrics is the same, on the same stitches. */
bool tb_fabric_is_same_made(const tb_fabric *a, const tb_fabric *b, guint32 index);

/* The colour that stitch INDEX is made in; NULL where nobody knows. */
const char *tb_fabric_colour(const tb_fabric *fabric, guint32 index);
/* "A, B": the colours of what counts in ROW, in the order they come; empty where they are not all known. Owned. */
char *tb_fabric_row_colours(const tb_fabric *fabric, const tb_made_row *row);
/* Whether the piece is worked in several colours that are known. */
bool tb_fabric_has_colours(const tb_fabric *fabric);

static inline guint32 tb_fabric_base(const tb_fabric *fabric, const tb_made *made, unsigned i)
{
	return made->base_count == 1 ? made->base : fabric->bases[made->base + i];
}

#endif
