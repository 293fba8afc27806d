/* Turning chains. */
#ifndef TB_FABRIC_TURNING_H
#define TB_FABRIC_TURNING_H

#include "fabric/hands.h"

/* --- turning_doubt.c --- */

/* Tells that whether the CHAINS said at SPAN count as STITCH is not said. */
void tb_turning_warn_unsaid(tb_hands *h, tb_span span, unsigned chains, const tb_stitch *stitch);
/*
 * "Ch 3, turn, dc in first st and in each st across", CHAINS for a stitch of HEIGHT: some mean a stitch more,
 * and some that the chain does not count.
 */
bool tb_turning_begins_in_first(const tb_hands *h, unsigned chains, unsigned height);
/* "Ch 21. 20 sc": whether the row is worked on one chain more than its stitches: start.c. */
bool tb_start_misses_first_chain(const tb_hands *h);
/* Makes the turning chain that was said at the end of the row before. */
void tb_turning_pending(tb_hands *h);
/* The same, where the row does not begin with one that takes its place: tail.c. */
void tb_tail_begin(tb_hands *h);

/* --- turning_round.c --- */

/*
 * Whether ACTS, behind the chain, go around the spaces from FIRST on: "*sc in next sp, ch 3; rep from * around",
 * "(puff, ch 1) in each sp around".
 */
bool tb_turning_is_around_spaces(const tb_acts *acts, const tb_place *first);
/* … of a round whose hook was brought into a space: that one is among them. */
bool tb_turning_goes_around_spaces(const tb_hands *h);
/* "join in 3rd st of ch": so many chains of the first are the stitch; 0 where no chain is named. */
unsigned tb_turning_joined_in(const tb_hands *h);
/*
 * "Ch 2, (puff, ch 1) in each sp around, join in top of first puff": what the round is joined to is its first
 * stitch, and no chain is a puff; nor a stitch whose loop would be missing behind it.
 */
bool tb_turning_is_joined_in_first(const tb_hands *h);

#endif
