/* One row after another: numbers, sides, turning, and rows that repeat others. */
#ifndef TB_ROWS_ROWS_H
#define TB_ROWS_ROWS_H

#include "hands/hands.h"

/* --- rows.c --- */

/* Works all that SCRIPT says. */
void tb_rows_work(tb_hands *h, const tb_script *script);

/* --- rows_one.c --- */

/* Works one row. FIRST_TIME: as written, not again; CLAIMS: its claimed count is to be checked. */
void tb_rows_work_one(tb_hands *h, const tb_sentence *sentence, guint32 number, guint32 written,
	bool first_time, bool claims);

/* --- rows_again.c --- */

/* Works the rows that SENTENCE repeats. */
void tb_rows_again(tb_hands *h, const tb_sentence *sentence);

/* --- rows_growing.c --- */

/* Works the rows of SENTENCE, each grown from the one before it. */
void tb_rows_grow(tb_hands *h, const tb_sentence *sentence);
/* "Continue in the same way until 3 sts remain" behind rows whose figures go on: whether SENTENCE means that they do. */
bool tb_rows_go_on_growing(tb_hands *h, const tb_sentence *sentence);
/* The same where nobody knows how often: what stands behind it, MORE, has no work. */
bool tb_rows_grow_on(tb_hands *h, const tb_sentence *sentence, const tb_sentence *const *more, unsigned count);

#endif
