/* One row after another: numbers, sides, turning, and rows that repeat others. */
#ifndef TB_ROWS_ROWS_H
#define TB_ROWS_ROWS_H

#include "hands/hands.h"

/* --- rows.c --- */

void tb_rows_work(tb_hands *h, const tb_script *script);
/* Works one row. FIRST_TIME: as written, not again; CLAIMS: its claimed count is to be checked. */
void tb_rows_work_one(tb_hands *h, const tb_sentence *sentence, guint32 number, guint32 written,
	bool first_time, bool claims);
/*
 * The number of the row that SENTENCE begins with. One that comes again, or leaves one out, is a slip of the pen, which
 * is told. After "rep until piece measures" the text cannot know the numbers, so the rows are counted on.
 */
guint32 tb_rows_check_number(tb_hands *h, const tb_sentence *sentence);

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
