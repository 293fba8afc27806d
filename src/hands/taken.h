/* Rows taken at their word. */
#ifndef TB_HANDS_TAKEN_H
#define TB_HANDS_TAKEN_H

#include "hands/hands.h"

/* Whether the row's stated count says how many stitches it has in the size being worked. */
bool tb_taken_can(const tb_hands *h, const tb_sentence *sentence);
/* Makes the row that was just begun of so many stitches of a kind that is not known. */
void tb_taken_make(tb_hands *h);
/* Whether ROW, an index, is such a row. */
bool tb_taken_is(const tb_hands *h, guint32 row);
/* Whether the row being worked stands on one that is taken at its word. */
bool tb_taken_is_below(const tb_hands *h);
/* Whether a fault found in such a row may be none: it lies in what the row below does not say. */
bool tb_taken_doubts(const tb_hands *h, tb_severity severity, const char *code);
/* Whether the last row has as many stitches as SENTENCE states. */
bool tb_taken_keeps(const tb_hands *h, const tb_sentence *sentence);
/* Whether a row that does not come out may do so for what is not known of the rows below. */
bool tb_taken_may_doubt(const tb_hands *h);
/* Nothing from the text on that is worked is checked, up to the next that states its count. */
void tb_taken_stop(tb_hands *h);
/* The same, for who has told it. */
void tb_taken_lose(tb_hands *h);
/* Where nothing is checked, and SENTENCE states its count: it, taken at its word, and checking goes on there; or NULL. */
const tb_sentence *tb_taken_go_on(tb_hands *h, const tb_sentence *sentence);
/*
 * Behind SENTENCE, whose rows, those from index BEFORE on, could not be worked as they say: the last of them is
 * taken at its word, where that is another count than was made.
 */
void tb_taken_instead(tb_hands *h, const tb_sentence *sentence, guint32 before);
/* Rows worked even from index FROM on are of the stitches below them, and nobody knows of which where those are not known. */
void tb_taken_go_even(tb_hands *h, guint32 from);
/* The last row is row NUMBER: rows that were not understood lie before it, nobody knew how many. */
void tb_taken_number(tb_hands *h, guint32 number);

#endif
