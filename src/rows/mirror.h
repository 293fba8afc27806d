/* "Work as Left Front, reversing shaping": rows of a piece that is the mirror of another, or of a side that is that of the first. */
#ifndef TB_ROWS_MIRROR_H
#define TB_ROWS_MIRROR_H

#include "hands/hands.h"

/*
 * SENTENCE, a row of a piece that is the mirror of another, with its shaping at the other end; SENTENCE itself where
 * its row is alike from both ends, or has no shaping. What is shaped, the row of that number in the other piece and
 * this size tells: what it leaves at its beginning is left at the end, what it works first comes last. It begins with
 * the same chain; where that counts, the stitch it stands for changes its place with the row's last. A row that is
 * more than plain stitches, increases and decreases is worked as in the other piece, which is told. WORDS: what the row says, of which SENTENCE
 * was made; it is worked again from these. Of a row "in pattern" the shaping alone changes its end; which stitch goes on which,
 * the row below tells. A row of a second side (other_side.h) mirrors one of the first; where it joins yarn, its first
 * stitch goes there.
 */
const tb_sentence *tb_mirror_said(tb_hands *h, const tb_sentence *sentence, const tb_sentence *words);

#endif
