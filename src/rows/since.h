/*
 * From which row a length is measured (notation/script_since.c has the words).
 *
 * An armhole begins where its part does, "Shape armholes", or at the row that leaves stitches at the sides
 * unworked, all at once; on a piece that grows from another, and on a sleeve from the top, at the beginning. Where
 * the rows do not show it, it is not known.
 */
#ifndef TB_ROWS_SINCE_H
#define TB_ROWS_SINCE_H

#include "hands/hands.h"

/*
 * The row of COUNT that the length SENTENCE asks for begins above, as an index; 0 is the foundation. HERE is the last
 * row before it. TB_NONE where the rows do not show it.
 */
guint32 tb_since_find(const tb_hands *h, const tb_sentence *sentence, guint32 here);
/* How many rows lie above row BASE, one on the other, up to the last. */
guint32 tb_since_count(const tb_hands *h, guint32 base);
/*
 * "same length as Back to shoulder": the row of that piece, worked before this one, up to which it is; its highest where
 * no part is named, or a shoulder that heads none. NULL where the piece or the part is not there, or its rows are not
 * known.
 */
const tb_made_row *tb_since_match(const tb_hands *h, const tb_sentence *sentence);

#endif
