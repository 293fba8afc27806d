/* What a row says, carried out act by act. */
#ifndef TB_ACTS_ACTS_H
#define TB_ACTS_ACTS_H

#include "hands/hands.h"

/* --- acts.c --- */

/* AFTER: the places that what follows these acts needs. */
void tb_acts_work(tb_hands *h, const tb_acts *acts, unsigned after);

/* --- acts_close.c --- */

/* Closes the round into its own first stitch. */
void tb_acts_join(tb_hands *h, const tb_act *act);
/* "ch 3, dc in first sc": a stitch that closes the round in place of a join; false: it is none. */
bool tb_acts_close(tb_hands *h, const tb_act *act);
/* Whether another has gone there before ACT, so that nothing is left for it; which is told. */
bool tb_acts_comes_late(tb_hands *h, const tb_act *act);
/* ACT began at place DUE, and has gone to the row's end. */
void tb_acts_went_to_end(tb_hands *h, const tb_act *act, guint32 due);

/* --- acts_group.c --- */

/* A group as often as its place says; AFTER: so many places the acts behind it want. */
void tb_acts_groups(tb_hands *h, const tb_act *act, unsigned after);
/*
 * "2 dc in next dc, ch 2, 2 dc in same dc": what was worked into the place before, and the chains since then,
 * are one group with those from MADE on, as if they stood in one bracket.
 */
void tb_acts_group_with_before(tb_hands *h, const tb_act *act, const tb_footing *footing, guint32 made);
/* All of a group in the next place of its kind. */
void tb_acts_group(tb_hands *h, const tb_act *act);

/* --- acts_made.c --- */

/* "(3 dc made)": whether ACT, which began at FROM, or some before it as well, made so many. */
void tb_acts_made(tb_hands *h, const tb_act *act, guint32 from);

/* --- acts_stitch.c --- */

/* One act of work: its stitches, in as many places as it says. */
void tb_acts_stitch(tb_hands *h, const tb_act *act, unsigned after);
/*
 * Up to which place an act goes that leaves the LAST places, or 0: those that what follows needs,
 * AFTER. False when they are reached already, which is told.
 */
bool tb_acts_stop_before(
	tb_hands *h, const tb_act *act, unsigned last, unsigned after, guint32 *limit);
/* Up to which place "in each st across" goes. False when that many are not there, which is told. */
bool tb_acts_find_limit(tb_hands *h, const tb_act *act, unsigned after, guint32 *limit);

/* --- acts_weigh.c --- */

/* how unlikely it is that act I is meant so. */
void tb_acts_weigh(tb_hands *h, const tb_acts *acts, unsigned i);

#endif
