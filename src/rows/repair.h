/* The smallest repair: the foundation chain with which a row would come out. */
#ifndef TB_ROWS_REPAIR_H
#define TB_ROWS_REPAIR_H

#include "hands/hands.h"

/*
 * "100 or 104 ch" to start with, so that the row being worked comes out; LEAST is how many stitches
 * it is wrong by, REPEAT whether a repeat leaves them over. NULL when there is none near, or the row is not worked in earnest. Owned.
 */
char *tb_repair_chains(tb_hands *h, unsigned least, bool repeat);

#endif
