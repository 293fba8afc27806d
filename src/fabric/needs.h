/*
 * What a pattern says that is needed: amounts of yarn and other things, one for each size, and buttons for its buttonholes.
 *
 * Common practice: where amounts are graded there is one for each size, and a band has as many buttonholes as it has buttons.
 */
#ifndef TB_FABRIC_NEEDS_H
#define TB_FABRIC_NEEDS_H

#include "fabric/fabric.h"
#include "support/diagnose.h"

/*
 * Tells amounts for another number of sizes as an error; and as a warning, for other buttons may be sewn on as well, where
 * no statement of how many buttons there are has the number of buttonholes that the rows make. Buttonholes are known only
 * in rows that are called so, or in the one row of the pattern that has such.
 */
void tb_needs_check(const tb_worked *worked, tb_diagnostics *diagnostics);

#endif
