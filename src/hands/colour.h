/*
 * In which colour each stitch is made: what the row's words say (tree.h, tb_colour_mark), from stitch to stitch. A
 * colour goes on into the next rows until another is named. Where words of colour are not understood, or the pattern
 * tells of stripes somewhere else than in its rows, the colour is not known until a row names one; but where it tells
 * them once for all rows, "Stripe pattern: 2 rows A, 1 row B; repeat", they give each row of a piece its colour, from its
 * first on, and a row that names another is told.
 */
#ifndef TB_HANDS_COLOUR_H
#define TB_HANDS_COLOUR_H

#include "hands/hands.h"

/* The start, or the row that is now worked, begins. */
void tb_colour_begin(tb_hands *h, const tb_sentence *sentence);
/* ACT of the row's own words is worked next. */
void tb_colour_at(tb_hands *h, const tb_act *act);
/* The row of SENTENCE has NUMBER and is worked: what it says of its end. */
void tb_colour_end(tb_hands *h, const tb_sentence *sentence, guint32 number);
/* Rows are worked again by words that tell of other colours: those are not known. */
void tb_colour_forget(tb_hands *h, bool again);
/* How many counted stitches of the row now worked are made in NAME; -1: its colours are not all known. */
gint64 tb_colour_count(const tb_hands *h, const char *name, const tb_stitch *stitch);

#endif
