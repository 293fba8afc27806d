/* "Work in pattern": which row the next one is like, and what it works on what lies below. */
#ifndef TB_ROWS_IN_PATTERN_H
#define TB_ROWS_IN_PATTERN_H

#include "hands/hands.h"

/* --- in_pattern.c --- */

/* The row that the next one is like in the pattern, an index into rows; 0 where the rows do not tell. */
guint32 tb_in_pattern_row(tb_hands *h, const tb_sentence *sentence);
/* Whether ROW has neither more stitches nor fewer than what it was worked on, and as many as the last row. */
bool tb_in_pattern_may_come(const tb_hands *h, guint32 row);
/* Whether ROW has a stitch on each stitch below, but for shaping at its ends. */
bool tb_in_pattern_is_regular(const tb_hands *h, guint32 row);
/* Whether anything in SENTENCE is worked "in pattern". */
bool tb_in_pattern_is_said(const tb_sentence *sentence);
/* SENTENCE with what is worked "in pattern" said stitch by stitch; SENTENCE itself where nothing is. */
const tb_sentence *tb_in_pattern_said(tb_hands *h, const tb_sentence *sentence);

/* --- rows_even.c --- */

/* Works MANY rows even. */
void tb_rows_even(tb_hands *h, const tb_sentence *sentence, guint32 many);
/* Of how many rows SENTENCE shapes one in this size, "every 4th row": 1 for each row, or where nothing is said. */
guint32 tb_rows_apart(const tb_hands *h, const tb_sentence *sentence);
/* Works rows that are shaped, and those between them. */
void tb_rows_shaped(tb_hands *h, const tb_sentence *sentence);
/* --- tracks.c --- */

/*
 * Works rows until all that SENTENCE plans is shaped: those that a track comes to are shaped by it, by two of them at
 * both ends, and all others are even. Where a track says a row it is shaped like, that one's words are worked.
 */
void tb_rows_tracked(tb_hands *h, const tb_sentence *sentence);

/* --- rows_even.c --- */

/* "Every 7th row is an inc row, 6 times": works that row where its number comes up, and even rows between. */
void tb_rows_placed(tb_hands *h, const tb_sentence *sentence);
/* "Work a dec rnd", "dec rnd every 2nd rnd 6 times", of a row that was told and not worked: works it, and even rows between. */
void tb_rows_told(tb_hands *h, const tb_sentence *sentence);
/* "Rep dec row every 4th row 3 times": works ROW again, and even rows between. */
void tb_rows_spaced(tb_hands *h, const tb_sentence *sentence, guint32 row);
/*
 * The first of the rows that are repeated as "even" is: those that come in turns, or one that is worked now.
 * 0 where there is none.
 */
guint32 tb_rows_even_from(tb_hands *h, const tb_sentence *sentence);

#endif
