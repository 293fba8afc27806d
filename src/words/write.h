/* The row language's writer: the instruction tree as a professional pattern says it. */
#ifndef TB_WORDS_WRITE_H
#define TB_WORDS_WRITE_H

#include "notation/tree.h"
#include "pattern/pattern.h"

typedef struct {
	const tb_pattern *pattern; /* for the names of its sizes */
	bool uk;                   /* UK terms */
	int size;                  /* the one size whose numbers are written, or -1 for brackets */
} tb_write_options;

/* One sentence, with its period and its count. Owned: g_free. */
char *tb_sentence_write(const tb_sentence *sentence, const tb_write_options *options);

/* All sentences, a line each. Owned: g_free. */
char *tb_script_write(const tb_script *script, const tb_write_options *options);

#endif
