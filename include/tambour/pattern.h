/*
 * The pattern: what the designer wrote, read and checked for form but not yet worked.
 */
#ifndef TAMBOUR_PATTERN_H
#define TAMBOUR_PATTERN_H

#include <tambour/diagnostics.h>
#include <tambour/stitches.h>

TB_BEGIN_DECLS

/* A pattern: titles, sizes, gauge, and pieces with their rows as texts. Never changes once read. */
typedef struct tb_pattern tb_pattern;

/*
 * Reads a pattern from SOURCE, plain text or JSON, told apart by its first character. SOURCE is
 * borrowed and must outlive the pattern, and so is LIBRARY, whose stitches the rows name; a
 * pattern's own stitches are added to it. Faults go to DIAGNOSTICS, which is also told the names of
 * the sizes: print it before the pattern is destroyed.
 *
 * Returns an owned pattern (tb_pattern_destroy), also when there were faults (what could be read is
 * there), or NULL when nothing could: no UTF-8, more than 4 MiB, empty, or no pattern at all; there
 * is then at least one error in DIAGNOSTICS.
 */
tb_pattern *tb_pattern_read(const tb_source *source, tb_library *library,
	tb_diagnostics *diagnostics);

/* Frees a pattern. NULL is allowed. */
void tb_pattern_destroy(tb_pattern *pattern);

/* The title as written, or NULL where the designer gave none. Borrowed. */
const char *tb_pattern_get_title(const tb_pattern *pattern);

/* Who designed it, as written, or NULL where that is not said. Borrowed. */
const char *tb_pattern_get_designer(const tb_pattern *pattern);

/* How many sizes there are: at least 1, at most TB_MAX_SIZES. */
unsigned tb_pattern_count_sizes(const tb_pattern *pattern);

/*
 * The name of size number SIZE, from 0; NULL when there are not so many. The only size of a pattern
 * that is not graded has the empty name. Borrowed.
 */
const char *tb_pattern_get_size(const tb_pattern *pattern, unsigned size);

/* The number of the size called NAME, letter case aside, or -1 when there is none. */
int tb_pattern_find_size(const tb_pattern *pattern, const char *name);

/* How many pieces there are. */
unsigned tb_pattern_count_pieces(const tb_pattern *pattern);

/* The name of piece number PIECE, from 0; NULL when there are not so many. Borrowed. */
const char *tb_pattern_get_piece(const tb_pattern *pattern, unsigned piece);

/* The number of the piece called NAME, letter case aside, or -1 when there is none. */
int tb_pattern_find_piece(const tb_pattern *pattern, const char *name);

G_DEFINE_AUTOPTR_CLEANUP_FUNC(tb_pattern, tb_pattern_destroy)

TB_END_DECLS

#endif
