/* Turning chains. */
#ifndef TB_ACTS_TURNING_H
#define TB_ACTS_TURNING_H

#include "hands/hands.h"

/* --- turning.c --- */

/* Makes the turning chain that was said at the end of the row before. */
void tb_turning_pending(tb_hands *h);
/*
 * Makes the foundation that row 1 is worked on. Row 1's sentence is read for it: the chains it
 * skips at the beginning stand up at the corner and are not part of the foundation.
 */
void tb_turning_found(tb_hands *h);
/*
 * Adds the chains said at the end of the row before to that row, where the next begins in them:
 * "ch 20, turn" and then "dc in 4th ch from hook", as for a sleeve.
 */
void tb_turning_extend(tb_hands *h);
/* Makes what stands at the corner of the row, if anything. */
void tb_turning_corner(tb_hands *h);
/* Makes a turning chain at the beginning of a row. */
void tb_turning_chain(tb_hands *h, const tb_act *act);
/* The first stitch worked in ACTS, or NULL; *PLACE where it goes. */
const tb_act *tb_turning_first_work(const tb_hands *h, const tb_acts *acts, const tb_place **place);
/* --- first_leg.c --- */

/* Whether the chain the row begins with is a leg of its first cluster. */
bool tb_turning_is_leg(const tb_hands *h);

/* --- turning_doubt.c --- */

/* Tells that whether the CHAINS said at SPAN count as STITCH is not said. */
void tb_turning_warn_unsaid(tb_hands *h, tb_span span, unsigned chains, const tb_stitch *stitch, bool counted);
/*
 * "Ch 3, turn, dc in first st and in each st across", CHAINS for a stitch of HEIGHT: some mean a stitch more,
 * and some that the chain does not count.
 */
bool tb_turning_begins_in_first(const tb_hands *h, unsigned chains, unsigned height);

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
