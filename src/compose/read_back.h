/* Written rows held against what they were written from. */
#ifndef TB_COMPOSE_READ_BACK_H
#define TB_COMPOSE_READ_BACK_H

#include "fabric/fabric.h"

/*
 * Whether TEXTS, what tb_rows_text wrote of each piece of WORKED in SIZE and terms, make the same
 * fabric when they are read and worked again: the same rows and counts, stitch by stitch on the same
 * bases, in every size that they are written for. The first piece and size where they do not is told
 * as an error in DIAGNOSTICS. It costs what working those sizes cost.
 */
bool tb_read_back(const tb_worked *worked, const char *const *texts, int size, bool uk,
	tb_diagnostics *diagnostics);

#endif
