/* Repeats inside a row, and where a round ends. */
#ifndef TB_ACTS_REPEAT_H
#define TB_ACTS_REPEAT_H

#include "hands/hands.h"

/* --- repeat.c --- */

void tb_repeat_work(tb_hands *h, const tb_act *act, unsigned after);
/* Works a pass; false when it took no place and made nothing, so that it would never end. */
bool tb_repeat_pass(tb_hands *h, const tb_act *act, bool last);

/* --- repeat_cut.c --- */

/* A pass of ACT without the stitches that its end is, into CUT; false where its end is none of them. */
bool tb_repeat_cut(const tb_hands *h, const tb_act *act, tb_act *cut);

/* --- repeat_end.c --- */

/* Passes over what is skipped before the join as it is in every pass. */
bool tb_repeat_skip_to_join(tb_hands *h, const tb_act *act, guint32 limit);
/*
 * Whether the acts of the body of ACT from FROM on make what the round made before ACT, from its
 * beginning to MADE: the last pass ends before them.
 */
bool tb_repeat_is_beginning(const tb_hands *h, const tb_act *act, unsigned from, guint32 made);
/*
 * "*Sc in each sc to next corner, 3 sc in corner; rep from * around": behind the last corner what is left of
 * the side that the round began in is worked as the others, by *LAST, up to the last *LEFT. False where the text
 * says otherwise, or it is none.
 */
bool tb_repeat_goes_round(const tb_hands *h, const tb_act *act, tb_act *last, int *left);
/*
 * Whether all that is left before LIMIT only borders the loop the round began in, and what the last
 * pass of ACT leaves out would have gone into that loop.
 */
bool tb_repeat_ends_at_own_loop(const tb_hands *h, const tb_act *act, guint32 limit);
/* The stitch a round was joined to is left to what the round ends with, where that goes into it. */
void tb_repeat_keep_joined(tb_hands *h, const tb_act *act);
/* Whether what is worked now stands right behind a repeat that left nothing of the row below. */
bool tb_repeat_just_ended(const tb_hands *h);
/*
 * "* dc in the middle tr of 5, ch 7; rep from *", "* sc in next dc, …" where all dc stand between sc: what is passed
 * before the first and behind the last is together what is passed between any two. LAST: where the last pass began.
 */
bool tb_repeat_passes_round(const tb_hands *h, const tb_act *act, guint32 last, guint32 limit);

/* --- repeat_last.c --- */

/* Works a pass on trial; keeps it when it ends at LIMIT or, unless EXACT, before it. */
bool tb_repeat_try_pass(tb_hands *h, const tb_act *act, bool last, guint32 limit, bool exact);
/* Whether what the repeat is said to end with takes just what is left. */
bool tb_repeat_ends_here(tb_hands *h, const tb_act *act);
/* Where a whole pass does not fit any more, works one cut short, so that what the repeat ends with does. */
bool tb_repeat_short_pass(tb_hands *h, const tb_act *act, guint32 limit, guint32 before);
/* A last pass that ends where the round began, what stands there being a part of the body; MADE: before it. */
bool tb_repeat_round_end(tb_hands *h, const tb_act *act, guint32 limit, guint32 made);
/* Whether the join stands for the last stitch of the last pass; and that pass. */
bool tb_repeat_joins_instead(const tb_hands *h, const tb_act *act);
bool tb_repeat_joined_pass(tb_hands *h, const tb_act *act, guint32 limit, guint32 before);
/* Whether the repeat ends with chains, and a stitch or a join where the round began. */
bool tb_repeat_closes_over(const tb_hands *h, const tb_act *act);
/* Whether what the repeat ends with is how a pass begins: the last one, cut short, written out. */
bool tb_repeat_is_cut_pass(const tb_hands *h, const tb_act *act);
/* "… ending with ch 3, dc in sl st": whether the round closes in the slip stitch that it began with. */
bool tb_repeat_closes_in_slip(const tb_hands *h, const tb_act *act);
/* Works the chain that begins each pass, where it lies between the last group and the first one too. */
void tb_repeat_chain_to_beginning(tb_hands *h, const tb_act *act);
/* Whether what is left before LIMIT is what each pass stands over before the next group. */
bool tb_repeat_is_passed_each_time(const tb_hands *h, const tb_act *act, guint32 limit);

#endif
