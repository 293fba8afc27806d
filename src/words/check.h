/* What the two spellings of a check share: the rows of a piece, side by side in all sizes. */
#ifndef TB_WORDS_CHECK_H
#define TB_WORDS_CHECK_H

#include "fabric/sized.h"
#include "pattern/pattern.h"

/* Walks the rows of a piece in all sizes at once, part by part, by the numbers the text gives them. */
typedef struct {
	const tb_worked *worked;
	unsigned piece, sizes;
	guint32 at[TB_MAX_SIZES];
	/* the row now at hand */
	guint32 own;      /* its number in the text */
	guint32 number;   /* among all rows of the piece; a foundation row is 0 */
	bool differs;     /* the sizes have other numbers for it among all rows */
	const char *part; /* the heading it stands under inside of the piece, or NULL */
	bool anew;        /* its part is numbered from 1 again */
	tb_side side;
	const tb_made_row *rows[TB_MAX_SIZES]; /* NULL where a size has no such row */
} tb_check_walk;

tb_check_walk tb_check_walk_begin(const tb_worked *worked, unsigned piece);
/* Goes on to the next row; false behind the last. */
bool tb_check_walk_next(tb_check_walk *walk);
/* Whether the row is taken at its word in a size. */
bool tb_check_walk_taken(const tb_check_walk *walk);
/* Whether the row's number is not known in a size. */
bool tb_check_walk_unsure(const tb_check_walk *walk);

/* "A, B": the colours the row is worked in, by the first size that has it; empty where they are not all known. Owned. */
char *tb_check_walk_colours(const tb_check_walk *walk);

/* All rows of a piece. */
typedef struct {
	struct {
		guint32 number; /* in the text */
		const char *part;
		bool anew;
		bool unsure; /* its number is not known */
		tb_side side;
		char *colours; /* owned */
	} *heads;
	guint32 *counts; /* SIZES of each row; G_MAXUINT32 where a size has no such row */
	guint32 count;
	unsigned sizes;
} tb_check_rows;

/* Rows said in one line: alike but for their sides or, with a PERIOD, each as the one so many
 * before. */
typedef struct {
	guint32 count, period;
} tb_check_fold;

/* The rows from row AT on that go into one line; those from SHOWN on stand in lines of their own. */
tb_check_fold tb_check_fold_at(const tb_check_rows *rows, guint32 at, guint32 shown);

/* How wide the columns of the table are. */
typedef struct {
	glong label, unit, size;
} tb_check_widths;

void tb_check_add_cell(GString *out, const char *text, glong width, bool right);
void tb_check_end_line(GString *out);
tb_check_widths tb_check_measure_heading(const tb_worked *worked);
void tb_check_put_heading(GString *out, const tb_worked *worked, const char *label, const char *unit, const tb_check_widths *w);
/* The heading of a piece's table: the sizes. */
tb_check_widths tb_check_add_heading(GString *out, const tb_worked *worked);

/* check_sized.c: what a maker needs of PIECE beside its width and length, of SIZED (fabric/sized.h). */
void tb_check_add_lengths(GString *out, const tb_worked *worked, const char *label, const double *mm, const tb_check_widths *w);
void tb_check_add_sized(GString *out, const tb_worked *worked, const GArray *sized, int piece, const tb_check_widths *w);
/* What is so of the whole garment, and what the pattern states of it. */
void tb_check_add_whole(GString *out, const tb_worked *worked, const GArray *sized);

/* check_laid.c: what seams take; how many motifs are made, how they lie, and what comes of it. */
void tb_check_add_laid(GString *out, const tb_worked *worked);

/* How many stitches of PIECE, of every piece below 0, the pieces that grow from it leave. */
void tb_check_add_pieces(GString *out, const tb_worked *worked, int piece);

/* A part of a line, and what it was read as. */
typedef struct {
	unsigned line, column; /* from 1 */
	size_t start, end;     /* bytes of the source; a line's break belongs to it */
	size_t length;         /* in characters */
	tb_read_as as;
} tb_check_part;

/*
 * All parts, which cover the source: as the pattern was parted, and of the rows' texts, as the row
 * language found them. tb_check_part. Owned.
 */
GArray *tb_check_read(const tb_worked *worked);
const char *tb_check_read_name(tb_read_as as);

#endif
