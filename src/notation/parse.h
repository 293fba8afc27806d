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

/* So many rows of one colour. */
typedef struct {
	unsigned rows;
	const char *name;
} tb_stripe;

/* "Stripe pattern: 2 rows A, 1 row B; repeat throughout." */
typedef struct {
	const tb_stripe *stripes;
	unsigned count, rows; /* rows: of all of them */
	bool again; /* they begin anew behind the last */
} tb_stripes;

/* The stripes that the pattern tells once for all rows, of ARENA; false where it tells none, or others besides. */
bool tb_script_find_stripes(const tb_pattern *pattern, tb_arena *arena, tb_stripes *stripes);
/* The colour of ROW, counted from 1; NULL where the stripes say none. */
const char *tb_stripes_colour(const tb_stripes *stripes, guint32 row);

#endif
