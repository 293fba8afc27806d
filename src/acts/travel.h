/* Where a row begins, when that is not its first stitch. */
#ifndef TB_ACTS_TRAVEL_H
#define TB_ACTS_TRAVEL_H

#include "hands/hands.h"

/* --- travel.c --- */

/* Whether a round that began behind slip stitches is back where these end. */
bool tb_travel_is_back(const tb_hands *h);
/* How many acts at the beginning only carry the hook to where the row begins, by slip stitches. */
unsigned tb_travel_find(tb_hands *h, const tb_acts *acts);
/* Whether the I-th act is a chain as tall as what is worked next, or said to count or not to. */
bool tb_travel_is_turning(const tb_hands *h, const tb_acts *acts, unsigned i);
/* Before the first of those slip stitches, and behind the last. */
void tb_travel_set_out(tb_hands *h);
void tb_travel_arrive(tb_hands *h);
/* The first place of a round comes last: of one that begins with a knot, or turned, beside the join. */
void tb_travel_begin_with_knot(tb_hands *h);
/* Turns around the end of the foundation chain, to work back along its other side. */
void tb_travel_other_side(tb_hands *h, const tb_act *act);
/* Whether a turn, or "rotate", at this place of round 1 brings the other side of the chain to the hook. */
bool tb_travel_turns_over(const tb_hands *h);

/* --- turned_round.c --- */

/* Whether SENTENCE, a round, is turned before anything of it is worked. */
bool tb_travel_begins_turned(const tb_sentence *sentence);
/* Whether the round goes the other way than the one below, which was joined. */
bool tb_travel_is_turned_round(const tb_hands *h);
/* Of such a round the stitch of the join, over which the hook stands, comes last where the first does not go there. */
void tb_travel_begin_beside_join(tb_hands *h);

#endif
