/* Turning chains: turning_doubt.c. */
#ifndef TB_FABRIC_TURNING_H
#define TB_FABRIC_TURNING_H

#include "fabric/hands.h"

/* Tells that whether the CHAINS said at SPAN count as STITCH is not said. */
void tb_turning_warn_unsaid(tb_hands *h, tb_span span, unsigned chains, const tb_stitch *stitch);
/*
 * "Ch 3, turn, dc in first st and in each st across", CHAINS for a stitch of HEIGHT: some mean a stitch more,
 * and some that the chain does not count.
 */
bool tb_turning_begins_in_first(const tb_hands *h, unsigned chains, unsigned height);

#endif
