/*
 * The fabric: what the rows make when they are worked, stitch by stitch, in every size.
 */
#ifndef TAMBOUR_FABRIC_H
#define TAMBOUR_FABRIC_H

#include <tambour/pattern.h>

G_BEGIN_DECLS

typedef struct tb_worked tb_worked;

/*
 * Works every piece of PATTERN in every size. PATTERN is borrowed and must outlive the result.
 * Faults go to DIAGNOSTICS; a size with a fault in a row goes on with the row as far as it could be
 * worked, and never hides another size. Never NULL; free with tb_worked_destroy.
 */
tb_worked *tb_work(const tb_pattern *pattern, tb_diagnostics *diagnostics);
void tb_worked_destroy(tb_worked *worked);

/*
 * The table a designer can paste into a pattern: rows down, sizes across, with side and counts,
 * then width, length and rows in all, in cm and in; and, when nothing is wrong, a plain sentence
 * saying so. PIECE is a piece's number, or -1 for all. Owned text; free with g_free.
 */
char *tb_check_text(const tb_worked *worked, tb_diagnostics *diagnostics, int piece);

/* The same as one JSON object. Owned text; free with g_free. */
char *tb_check_json(const tb_worked *worked, tb_diagnostics *diagnostics, int piece);

G_DEFINE_AUTOPTR_CLEANUP_FUNC(tb_worked, tb_worked_destroy)

G_END_DECLS

#endif
