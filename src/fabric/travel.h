/* Where a row begins, when that is not its first stitch. */
#ifndef TB_FABRIC_TRAVEL_H
#define TB_FABRIC_TRAVEL_H

#include "fabric/hands.h"

/* --- travel.c --- */

/* Where the repeat ACT ends there, what the hook stands in is no place for it. */
void tb_travel_keep_stand(tb_hands *h, const tb_act *act);
/* Whether a round that began behind slip stitches is back where these end. */
bool tb_travel_is_back(const tb_hands *h);
/* Where the last slip stitch of the row went; false where none was made. */
bool tb_place_stand_as_slip(const tb_hands *h, tb_footing *footing);
/* Whether the round begins in the loop that closed the one below, and nothing is worked yet. */
bool tb_place_is_fresh_loop(const tb_hands *h);
/* Whether PLACE, "in loop", is the one the hook stands in at the beginning of a round. */
bool tb_place_stands_in(const tb_hands *h, const tb_place *place);
/* Whether no space UP_TO is left because the round has come to where it began, behind the last of them. */
bool tb_place_comes_round(const tb_hands *h, const tb_place *up_to);
/* Whether PLACE, "in first sp", is the space the round began in, with all the others behind it. */
bool tb_place_is_begun_space(const tb_hands *h, const tb_place *place);
/* Where the first stitch of the row went that stands on the row below; false when none does. */
bool tb_place_stand_as_first(const tb_hands *h, tb_footing *footing);
/* How many acts at the beginning only carry the hook to where the row begins, by slip stitches. */
unsigned tb_travel_find(tb_hands *h, const tb_acts *acts);
/* Whether the I-th act is a chain as tall as what is worked next, or said to count or not to. */
bool tb_travel_is_turning(const tb_hands *h, const tb_acts *acts, unsigned i);
/* Whether the row below was closed by a join, so that its first stitch holds the hook. */
bool tb_travel_was_joined(const tb_hands *h);
/* Whether ACT goes into the slip stitch that the round began with. */
bool tb_travel_is_own_slip(const tb_hands *h, const tb_act *act);
/* Before the first of those slip stitches, and behind the last. */
void tb_travel_set_out(tb_hands *h);
void tb_travel_arrive(tb_hands *h);
/* The space the round begins in, where yarn was joined in it, is worked into: what comes is behind it. */
void tb_travel_pass_space(tb_hands *h);
/* A chain leads to the join: the stitch of the join, which came last of the round, is not worked. */
void tb_travel_leave_join(tb_hands *h);
/* The first place of a round comes last: of one that begins with a knot, or turned, beside the join. */
void tb_travel_begin_with_knot(tb_hands *h);
/* The places of a round from FIRST on, and then those before it. */
void tb_travel_rotate(tb_hands *h, guint32 first);
/* Turns around the end of the foundation chain, to work back along its other side. */
void tb_travel_other_side(tb_hands *h, const tb_act *act);
/* Whether a turn, or "rotate", at this place of round 1 brings the other side of the chain to the hook. */
bool tb_travel_turns_over(const tb_hands *h);

/* --- turned_round.c --- */

bool tb_travel_begins_turned(const tb_sentence *sentence);
bool tb_travel_is_turned_round(const tb_hands *h);
void tb_travel_begin_beside_join(tb_hands *h);

#endif
