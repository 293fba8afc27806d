/* The row language's reader. */
#ifndef TB_NOTATION_PARSE_H
#define TB_NOTATION_PARSE_H

#include "notation/tree.h"
#include "pattern/pattern.h"

/*
 * Reads the start and the rows of piece number PIECE. Faults go to DIAGNOSTICS; a sentence with a
 * fault is left out and the reader goes on with the next. Never NULL. Owned by the caller.
 */
tb_script *tb_script_read(const tb_pattern *pattern, unsigned piece, tb_diagnostics *diagnostics);

/* Warns of the first word in the rows that only the other terms have, once a pattern. */
void tb_script_check_terms(const tb_pattern *pattern, tb_diagnostics *diagnostics);

/* Whether the pattern tells somewhere of stripes, or of colours that change, so that a row that names none is unsure. */
bool tb_script_tells_stripes(const tb_pattern *pattern);

#endif
