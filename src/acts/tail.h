/* The acts that only end a row and begin the next: "ch 3, turn". */
#ifndef TB_ACTS_TAIL_H
#define TB_ACTS_TAIL_H

#include "hands/hands.h"

/* The same, where the row does not begin with one that takes its place: tail.c. */
void tb_tail_begin(tb_hands *h);
/* Where ACTS begin that only end the row. */
unsigned tb_tail_find(const tb_hands *h, const tb_acts *acts);
/* The acts of the tail that make the next row's turning chain, beginning with a chain. */
tb_acts tb_tail_chains(const tb_hands *h);

#endif
