/*
 * The fabric: what the rows make when they are worked, stitch by stitch, in every size.
 */
#ifndef TAMBOUR_FABRIC_H
#define TAMBOUR_FABRIC_H

#include <tambour/pattern.h>

TB_BEGIN_DECLS

/* The worked stitches of every piece in every size. Never changes once it is made. */
typedef struct tb_worked tb_worked;

/*
 * Works every piece of PATTERN in every size. PATTERN is borrowed and must outlive the result.
 * Faults go to DIAGNOSTICS; a size with a fault in a row goes on with the row as far as it could be
 * worked, and never hides another size. Never NULL. Owned; free with tb_worked_destroy.
 *
 * How rows are accounted for (what a turning chain counts as, what a post stitch uses up) is told
 * in examples/row-language.md.
 */
tb_worked *tb_work(const tb_pattern *pattern, tb_diagnostics *diagnostics);

/* Frees what was worked. NULL is allowed. */
void tb_worked_destroy(tb_worked *worked);

/*
 * The table a designer can paste into a pattern: rows down, sizes across, with side and counts,
 * then width, length and rows in all, in cm and in; last a plain sentence that says whether every
 * row comes out, by the faults in DIAGNOSTICS. PIECE is a piece's number, or -1 for all. Width
 * is stitches by the gauge, length the rows' heights by the gauge; without a gauge there is
 * neither. Never NULL. Owned text; free with g_free.
 */
char *tb_check_text(const tb_worked *worked, tb_diagnostics *diagnostics, int piece);

/*
 * The same as one JSON object, with the faults of DIAGNOSTICS in it: title, sizes, pieces (name,
 * rows with row, side, counts by size and, where they are known, colours; width_cm and length_cm by
 * size; null where there is no such row or measure), read (line, column, length, as), diagnostics (severity, line, column, piece, row, sizes, message, hint).
 *
 * "read" tells of every part of every line what it was read as: fact, heading, definition, start,
 * row, repeat, remark, finishing, blank, or unread, which is an error at its place. Lines and columns
 * count from 1; the length is in characters, a line's break included. The parts cover the pattern.
 * Never NULL. Owned text; free with g_free.
 */
char *tb_check_json(const tb_worked *worked, tb_diagnostics *diagnostics, int piece);

/*
 * What was read past: remarks and finishing, each line of them behind its number, as it was typed.
 * Never NULL. Owned text; free with g_free.
 */
char *tb_check_remarks(const tb_worked *worked);

G_DEFINE_AUTOPTR_CLEANUP_FUNC(tb_worked, tb_worked_destroy)

TB_END_DECLS

#endif
