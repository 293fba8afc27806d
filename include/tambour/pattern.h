/*
 * The pattern: what the designer wrote, read and checked for form but not yet worked.
 */
#ifndef TAMBOUR_PATTERN_H
#define TAMBOUR_PATTERN_H

#include <tambour/diagnostics.h>
#include <tambour/stitches.h>

G_BEGIN_DECLS

typedef struct tb_pattern tb_pattern;

/*
 * Reads a pattern from SOURCE, which is borrowed and must outlive it; its rows name stitches of
 * LIBRARY, borrowed too (a pattern's own stitches are added to it). Faults go to DIAGNOSTICS.
 * Returns an owned pattern, also when there were faults (what could be read is there), or NULL when
 * nothing could. The list is told the names of the sizes, so it must not outlive the pattern's use.
 */
tb_pattern *tb_pattern_read(const tb_source *source, tb_library *library,
	tb_diagnostics *diagnostics);
void tb_pattern_destroy(tb_pattern *pattern);

/* Texts as written; NULL where the designer gave none. Borrowed. */
const char *tb_pattern_get_title(const tb_pattern *pattern);
const char *tb_pattern_get_designer(const tb_pattern *pattern);

/* At least 1; the only size of an ungraded pattern has the empty name. */
unsigned tb_pattern_count_sizes(const tb_pattern *pattern);
const char *tb_pattern_get_size(const tb_pattern *pattern, unsigned size);
/* The number of the size called NAME, letter case aside, or -1. */
int tb_pattern_find_size(const tb_pattern *pattern, const char *name);

unsigned tb_pattern_count_pieces(const tb_pattern *pattern);
const char *tb_pattern_get_piece(const tb_pattern *pattern, unsigned piece);
int tb_pattern_find_piece(const tb_pattern *pattern, const char *name);

G_DEFINE_AUTOPTR_CLEANUP_FUNC(tb_pattern, tb_pattern_destroy)

G_END_DECLS

#endif
