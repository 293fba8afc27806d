/* Which row a number means, and what rows that are worked again end with. */
#ifndef TB_ROWS_ROWS_END_H
#define TB_ROWS_ROWS_END_H

#include "hands/hands.h"

/*
 * The number in the piece of the row that the text calls SAID, in the part that is worked; of the other half of a
 * divided piece, whose numbers come twice, where the part has none yet.
 */
guint32 tb_rows_called(const tb_hands *h, guint32 said);
/* The first row numbered NUMBER or more, as an index into rows; as many as there are where none is. Numbers only grow. */
guint32 tb_rows_find_from(const tb_hands *h, guint32 number);
/* How much lower the part that the text calls SAID, which is not the one worked now, numbers its rows; false for none. */
bool tb_rows_find_part(const tb_hands *h, const char *said, guint32 *before);
/* What the last row counts of the stitches that SENTENCE asks for: of a kind that is named, the chains of spaces are none. */
guint32 tb_rows_counted(const tb_hands *h, const tb_sentence *sentence);
/* "Rep Rows 2-3 until there are 12 rows, ending with Row 2": rows that are counted end with what they come to. */
void tb_rows_check_end(tb_hands *h, const tb_sentence *sentence);
/*
 * The number of the row that SENTENCE begins with. One that comes again, or leaves one out, is a slip of the pen, which
 * is told. After "rep until piece measures" the text cannot know the numbers, so the rows are counted on.
 */
guint32 tb_rows_check_number(tb_hands *h, const tb_sentence *sentence);

#endif
