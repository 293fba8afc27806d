/* The faults of a piece, gathered over its sizes and told together. */
#ifndef TB_HANDS_GATHER_H
#define TB_HANDS_GATHER_H

#include "pattern/pattern.h"
#include "support/diagnose.h"

typedef struct tb_gather tb_gather;

/* Told without a message, of a count that has the first chain: it is held against the other sizes' and not shown. */
#define TB_GATHER_WITH_CHAIN "with-chain"
/* … and of one that leaves it out, which is told where another size has it. */
#define TB_GATHER_WITHOUT_CHAIN "without-chain"
/* The same of the chains amid a row. */
#define TB_GATHER_WITH_SPACES "with-spaces"
#define TB_GATHER_WITHOUT_SPACES "without-spaces"

/* PATTERN and PIECE are borrowed. */
tb_gather *tb_gather_create(const tb_pattern *pattern, const char *piece);

/* Sizes must come one after another. CODE is a string constant; MESSAGE and HINT are copied. */
void tb_gather_add(tb_gather *gather, unsigned size, guint32 row, bool is_round,
	tb_severity severity, const char *code, tb_span span, const char *message, const char *hint);

/* Tells all of them, and destroys GATHER. */
void tb_gather_tell(tb_gather *gather, tb_diagnostics *diagnostics);

#endif
