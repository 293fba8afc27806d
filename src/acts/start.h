/* What a first row is worked on: acts/start.c. */
#ifndef TB_ACTS_START_H
#define TB_ACTS_START_H

#include "hands/hands.h"

/* Whether row 1 is worked in the first of a few chains: "ch 2, 6 sc in first ch". */
bool tb_start_is_first_chain(const tb_hands *h);
/* The chain, or the ring, that row 1 makes itself before it works into it. */
void tb_start_find_in_row(tb_hands *h);
/* Whether the chain is joined, and its chains are worked one by one. */
void tb_start_find_tube(tb_hands *h);
/* Carries out SENTENCE, which stands before row 1: chains, or a ring. */
void tb_start_work(tb_hands *h, const tb_sentence *sentence);
/* "Ch 21. 20 sc": whether the row is worked on one chain more than its stitches: start.c. */
bool tb_start_misses_first_chain(const tb_hands *h);

#endif
