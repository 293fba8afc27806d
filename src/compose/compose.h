/*
 * From the stitch graph back to words: the inside of compose.c and its parts.
 *
 * steps.c walks one row of one size and says it in steps ("sk 1", "dc in next st"), each
 * relative to where the hook is, so that equal rows are equal lists; line.c keeps them.
 * acts.c makes acts of the steps of several sizes at once: runs, repeats, brackets.
 * rows.c finds rows that repeat others, and makes the sentences.
 */
#ifndef TB_COMPOSE_COMPOSE_H
#define TB_COMPOSE_COMPOSE_H

#include "fabric/fabric.h"

typedef enum {
	TB_STEP_JOIN_YARN = 1, /* in stitch `number` */
	TB_STEP_TURNING,       /* a turning chain of `number`, counting as `named` when COUNTED */
	TB_STEP_CHAIN,         /* one chain */
	TB_STEP_SKIP,          /* one place; or, target SPACE, one space of `space` chains */
	TB_STEP_WORK,          /* `each` times `stitch` in one place */
	TB_STEP_KNOT,          /* `number` knots, one on the other */
	TB_STEP_GROUP,         /* the stitches of body `number` in one place; in the `named`-th chain */
} tb_step_kind;

enum {
	TB_STEP_COUNTED = 1 << 0,    /* TURNING, and WORK in the n-th chain: the chains count */
	TB_STEP_NOT_COUNTED = 1 << 1,/* WORK in the n-th chain: it is said that they do not */
	TB_STEP_SKIP_FIRST = 1 << 2, /* TURNING: "sk first st" follows */
	TB_STEP_INCREASE = 1 << 3,   /* "do not sk st behind" */
	TB_STEP_BEHIND = 1 << 5,     /* WORK in a skipped place: behind the stitches just made; SKIP
	                                after a stitch that hides one, which is said first */
	TB_STEP_FIRST_PLACE = 1 << 6,/* SKIP before the first stitch of the foundation row */
};

/* Compared byte by byte: no holes, and zero what is not used. */
typedef struct {
	guint8 kind, in, target, loops, rows_below, flags;
	guint16 stitch, named, space;
	guint32 number;
	guint32 each;
} tb_step;

/* A part of a group: so many of one stitch. */
typedef struct {
	guint32 stitch, count;
} tb_body_part;

typedef enum {
	TB_NO_JOIN,
	TB_JOIN_TURNING, /* in the top of the turning chain */
	TB_JOIN_FIRST,   /* in the first stitch */
} tb_line_join;

/* One row in one size. Equal lines are one line. */
typedef struct {
	const guint32 *steps; /* numbers of steps */
	const guint32 *due;   /* the place due behind each of them */
	guint32 count;
	guint32 places;       /* in the row below */
	guint32 leave;        /* places left unworked */
	guint32 added;        /* chains at its end that the next row says */
	guint32 start_chains; /* row 1: of the foundation */
	const tb_sentence *raw; /* the source says it, where steps cannot */
	guint8 join;
	bool is_foundation, ends_in_turning, is_ring;
	/* raw: a turning chain the row before made; whether the one it begins with counts as nothing */
	guint8 raw_turning, raw_counted, raw_idle;
} tb_line;

typedef struct {
	const tb_worked *worked;
	const tb_pattern *pattern;
	unsigned piece, sizes;
	tb_arena *arena;
	GArray *steps;       /* tb_step */
	GHashTable *by_step; /* tb_step -> number + 1 */
	GPtrArray *bodies;   /* GBytes of tb_body_part */
	GHashTable *by_body; /* GBytes -> number + 1 */
	GHashTable *lines;   /* tb_line -> tb_line */
	const tb_stitch *chain, *slip;
} tb_composer;

static inline const tb_step *tb_composer_step(const tb_composer *c, guint32 number)
{
	return &g_array_index(c->steps, tb_step, number);
}

guint32 tb_composer_add_step(tb_composer *c, const tb_step *step);
guint32 tb_composer_add_body(tb_composer *c, const GArray *parts);

/*
 * line.c: the line of row index ROW of FABRIC; IN_ITS_WORDS: as the source says it.
 * Borrowed.
 */
const tb_line *tb_compose_line(
	tb_composer *c, const tb_fabric *fabric, guint32 row, bool in_its_words);

/* compose.c: whether a row came out longer than any that is read; its source is not. */
bool tb_compose_is_too_long(const tb_composer *c, const tb_sentence *sentence);

/* steps.c: whether the piece is worked on foundation stitches, "Fsc 20." */
bool tb_compose_is_worked_start(const tb_fabric *fabric);
/* A chain joined to a ring whose chains are worked one by one. The piece has a row. */
bool tb_compose_is_tube(const tb_fabric *fabric);
/* Whether ROW, the first of a sleeve, takes up what a body left for it. */
bool tb_compose_takes_up(const tb_made_row *row);

/* steps.c: the steps of a row; false when steps cannot say it. */
bool tb_compose_steps(tb_composer *c, const tb_fabric *fabric, guint32 row, tb_line *line,
	GArray *steps, GArray *due);

/*
 * acts.c: the acts of one row in all SIZES, whose lines are given by size; false when one
 * text cannot say them all.
 */
bool tb_compose_acts(tb_composer *c, const tb_line *const *lines, tb_size_set sizes, GArray *acts);

/* The number with VALUES by size in SIZES: one figure when it is the same in all. */
tb_number tb_compose_number(tb_composer *c, const int *values, tb_size_set sizes);

/*
 * rows.c: all sentences of the piece in SIZES. SOURCE is the piece's own script, for how it
 * starts. The result must not outlive WORKED and SOURCE. Owned.
 */
tb_script *tb_compose_script(const tb_worked *worked, unsigned piece, tb_size_set sizes,
	const tb_script *source);

#endif
