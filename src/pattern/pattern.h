/*
 * The pattern's model, filled by a reader and const after that.
 *
 * The rows are kept as texts with their places; notation/ reads them into instructions when the
 * pattern is worked, since a folder uses only those above it.
 */
#ifndef TB_PATTERN_PATTERN_H
#define TB_PATTERN_PATTERN_H

#include "support/text.h"

#include <tambour/pattern.h>

/* What a stretch of the text turned out to be. */
typedef enum {
	TB_READ_BLANK,
	TB_READ_FACT,
	TB_READ_HEADING,
	TB_READ_DEFINITION,
	TB_READ_START,
	TB_READ_ROW,
	TB_READ_REPEAT, /* of rows */
	TB_READ_REMARK,
	TB_READ_FINISHING,
	TB_READ_UNREAD, /* not understood: an error at its place */
} tb_read_as;

typedef struct {
	tb_span span;
	tb_read_as as;
} tb_read;

/* Stitches and rows to a length. has_rows is false when only stitches were given. */
typedef struct {
	bool given;
	double stitches;
	double rows;
	bool has_rows;
	double over_mm;   /* the length they were counted over */
	bool over_inches; /* how the designer said it: over 4 in, not 10 cm */
} tb_gauge;

/* A gauge, and what it was counted in: of several, each holds for its own rows. */
typedef struct {
	tb_gauge gauge;
	char *stitch; /* "sc", as the pattern's terms have it; NULL: nothing says, or in the pattern */
	unsigned first_row, last_row; /* "over rows 14 and 15"; 0: not said */
} tb_kind_gauge;

/* What a garment, or a piece of it, measures when it is done; and whom it fits. */
typedef enum {
	TB_FINISHED_BUST,      /* around */
	TB_FINISHED_WIDTH,     /* of a piece; of one worked around, lying flat or around */
	TB_FINISHED_LENGTH,
	TB_FINISHED_AROUND,
	TB_FINISHED_HEM,
	TB_FINISHED_CUFF,
	TB_FINISHED_UPPER_ARM,
	TB_FINISHED_TO_UNDERARM, /* of a sleeve */
	TB_FINISHED_ARMHOLE,   /* its depth */
	TB_FINISHED_YOKE,      /* its depth */
	TB_FINISHED_SHOULDER,
	TB_FINISHED_NECK,
	TB_FINISHED_FIT,       /* the bust of who wears it */
	TB_FINISHED_EASE,      /* what the garment measures more around the bust */
	TB_FINISHED_COUNT,
} tb_finished_kind;

/* "Finished bust: 91 (101, 111) cm" */
typedef struct {
	tb_finished_kind kind;
	char *piece;                /* it is said of, or NULL: of the whole */
	double mm[TB_MAX_SIZES];    /* 0: not in this size */
	unsigned count;             /* one a size, or one for all */
	bool either;                /* "30 cm x 40 cm": a width, and the next one a length, or the other way */
	tb_span place;
} tb_finished;

/* What is said of how often a motif is made, and how the motifs lie. */
typedef enum {
	TB_LAID_MADE,   /* "Make 24 (28, 32) squares": first */
	TB_LAID_OUT,    /* "4 rows of 6": first rows, second in each */
	TB_LAID_TIER,   /* "Tiers 2 to 5: 1 Square D, 3 Squares C each": first, so many TIMES */
	TB_LAID_SIZE,   /* "One square measures 12 cm": mm across, high_mm */
	TB_LAID_ROUNDS, /* "First 4 rounds = 10 cm across": first rounds, mm */
} tb_laid_kind;

typedef struct {
	tb_laid_kind kind;
	int piece;       /* the motif; -1: whichever */
	char *of;        /* small: "back", "sleeve", "color a"; NULL: of all */
	unsigned times;  /* "for each sleeve": 2 */
	bool gauges;     /* it is the gauge of the pattern */
	bool leans;      /* hexagons and triangles do not lie side by side as squares do */
	bool joined; /* TB_LAID_MADE, "sew the 5 squares together": told of them as they are joined */
	unsigned count, other_count; /* figures of each: one a size, or one for all */
	guint32 first[TB_MAX_SIZES], second[TB_MAX_SIZES];
	double mm[TB_MAX_SIZES], high_mm[TB_MAX_SIZES];
	tb_span place;
} tb_laid;

/* What is said of seams. */
typedef enum {
	TB_SEAM_SHOULDERS,  /* "Sew the shoulder seams": so many sts on each side, where that is said */
	TB_SEAM_NECK,       /* "leaving the center 22 sts open": of the back */
	TB_SEAM_FRONT_FREE, /* "That leaves 6 sts of each front" */
	TB_SEAM_ARMHOLE,    /* "leaving 19 cm open for each armhole": mm */
} tb_seam_kind;

typedef struct {
	tb_seam_kind kind;
	unsigned count; /* one a size, or one for all; 0: not said */
	guint32 stitches[TB_MAX_SIZES];
	double mm[TB_MAX_SIZES];
	tb_span place;
} tb_seam;

/* "Sides": rows under a heading of their own that go on with what the piece has so far. */
typedef struct {
	char *name;
	guint row; /* the first of its rows, as an index into them */
} tb_piece_part;

typedef struct {
	char *name;
	char *folded_name;  /* as it is compared */
	char *heading;      /* all of the line that gives it, "TAIL (make 2 flukes)"; or NULL */
	tb_span place;      /* of the name */
	tb_text *start;     /* "Ch 85 (93, 101)."; NULL when the piece grows from another */
	GPtrArray *rows;    /* tb_text, owned */
	GArray *row_reads;  /* guint, one a row: which of the pattern's reads it is */
	GArray *parts;      /* tb_piece_part, in order, the first words of the piece belonging to none; may be NULL */
	unsigned make;      /* "(make 2)": 2; 1 where it is not said */
	char *from_piece;   /* NULL, or the piece this one grows from */
	tb_text *from_text; /* the stitches it takes there, "1-37 (41, 45), with RS facing" */
} tb_piece;

typedef struct {
	char *title; /* may be NULL */
	char *piece; /* may be NULL: the first */
	unsigned first_row, last_row; /* 0: not given */
} tb_chart_request;

struct tb_pattern {
	const tb_source *source;
	tb_library *library;
	char *title, *designer, *about, *licence, *notes;
	bool uk_terms;
	GPtrArray *sizes; /* char *, owned, NULL behind the last */
	int yarn_weight;  /* 0 to 7, or -1 */
	char *yarn_note;
	char *hook; /* as written */
	double hook_mm; /* 0 when not given */
	tb_gauge gauge;
	GArray *gauges; /* tb_kind_gauge: that one, and those of other stitches */
	GArray *finished; /* tb_finished */
	GArray *laid; /* tb_laid */
	GArray *seams; /* tb_seam */
	GPtrArray *pieces; /* tb_piece, owned */
	GPtrArray *charts; /* tb_chart_request, owned */
	GHashTable *defined; /* tb_stitch -> tb_defined (defined.h); NULL when the words make none */
	/* Stitches told in words, "Shell: 5 dc in same st.", one a text, name and all. tb_text, owned */
	GPtrArray *definitions;
	/* Those that stood inside a row (text_inline.c). tb_text, owned */
	GPtrArray *inline_definitions;
	/* What is said around the rows, a sentence or a paragraph a text; facts may be in it. Owned */
	GPtrArray *remarks;
	/* tb_read: how the source is read, from its first byte to its last without a gap. Of a row's
	 * text it says what its first words look like; what it is, the row language finds out. */
	GArray *reads;
};

const tb_piece *tb_pattern_piece(const tb_pattern *pattern, unsigned piece);

#endif
