/* "Complete to match first side": the second side of a neck. */
#ifndef TB_ROWS_OTHER_SIDE_H
#define TB_ROWS_OTHER_SIDE_H

#include "hands/hands.h"

/*
 * Works the rows that the first side has more than the side now worked: SENTENCE is a repeat of TB_REPEAT_MATCH. Both
 * stand on the same row; the first is the one whose name SENTENCE gives, or that was worked first. Rows that go the
 * same way as those of the first side are their mirror (mirror.h), rows that go the other way are worked by the same
 * words. Where SENTENCE has a beginning ("skip 9 dc, join yarn in next dc"), the first row is worked from there.
 * Told as a fault: no first side, a side that has another count after as many rows.
 */
void tb_other_side_work(tb_hands *h, const tb_sentence *sentence);

#endif
