/*
 * A plain text as lines that are easy to compare: trimmed, typographic characters made plain, every
 * byte remembering where it stands in the source.
 */
#ifndef TB_PATTERN_TEXT_LINES_H
#define TB_PATTERN_TEXT_LINES_H

#include "support/text.h"

typedef struct {
	guint32 start, end; /* bytes of `chars`; equal when the line is blank */
	guint32 source;     /* where the line begins in the source, blanks and marks included */
	bool indented;
	bool listed;        /* a bullet stood before it */
	bool strong;        /* emphasis stood around the whole of it */
	bool heads;         /* the head of a table, or a rule in it; nothing is left of it */
	guint32 step;       /* the number that a row has in a list of steps, "3. Row 1: …"; 0 where it has none */
} tb_line;

typedef struct {
	const tb_source *source;
	char *chars;       /* the lines, a NUL behind each */
	guint32 *offsets;  /* one a byte of `chars`: where it stands in the source */
	GArray *lines;     /* tb_line */
} tb_lines;

/* The lines of SOURCE, which is valid UTF-8 without NUL. Owned. */
tb_lines *tb_lines_read(const tb_source *source);
void tb_lines_destroy(tb_lines *lines);
/* text_grid.c: rows of filet that a grid of characters shows become rows. */
void tb_lines_read_grids(tb_lines *lines);
/* text_layout.c: rows that stand in columns become rows. */
void tb_lines_lay_out(tb_lines *lines);
/* text_steps.c: the number of a step at TEXT, "3.", "b)", "Step 4:"; the bytes of what says it, or 0. */
size_t tb_at_step(const char *text, guint32 *number);
/* What else a list has that numbers its rows as steps loses its numbers too. */
void tb_lines_drop_steps(tb_lines *lines);
/* text_series.c: "Shelf 1 - Lid", "2. Sleeves": headings that are counted become headings, "# Lid". */
void tb_lines_mark_series(tb_lines *lines);
/* text_tally.c: "Tally: 20 sts", and again "Tally: 18 sts": the counts become lines of their own. */
void tb_lines_drop_tallies(tb_lines *lines);
/* text_counting.c: "Ch 12, join. The ch 2 that begins each round is not a st.": what tells of all rows is a line of its own. */
void tb_lines_part_told(tb_lines *lines);
/* The bytes of what says at TEXT when something is shown, "[04:10] ", or 0. */
size_t tb_at_stamp(const char *text);

static inline const tb_line *tb_lines_get(const tb_lines *lines, guint i)
{
	return &g_array_index(lines->lines, tb_line, i);
}

static inline const char *tb_lines_text(const tb_lines *lines, guint i)
{
	return lines->chars + tb_lines_get(lines, i)->start;
}

/* A text put together from stretches of lines, with single blanks between them. */
typedef struct {
	GString *chars;
	GArray *offsets; /* guint32, one a byte */
	GString *raw;    /* the same as the designer typed it, typographic characters kept */
	guint32 end;     /* in the source, behind the last byte */
} tb_gathered;

void tb_gathered_init(tb_gathered *gathered);
void tb_gathered_finish(tb_gathered *gathered);
void tb_gathered_clear(tb_gathered *gathered);
/* Puts a full stop or a colon where a line ended without one, and what is added next does not belong to its last words. */
void tb_gathered_sign(tb_gathered *gathered, char sign);
/* Adds bytes START to END (not included) of the lines' chars. */
void tb_gathered_add(tb_gathered *gathered, const tb_lines *lines, size_t start, size_t end);
/* The whole as a text. Owned. */
tb_text *tb_gathered_text(const tb_gathered *gathered);

G_DEFINE_AUTOPTR_CLEANUP_FUNC(tb_lines, tb_lines_destroy)
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(tb_gathered, tb_gathered_finish)

#endif
