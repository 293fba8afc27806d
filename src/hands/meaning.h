/* Words that may be meant in two ways. */
#ifndef TB_HANDS_MEANING_H
#define TB_HANDS_MEANING_H

#include "hands/hands.h"

/*
 * Words that mean one of two things, and which only the work tells. The unusual meanings, as bits;
 * none set is the usual one. One row says one thing by them all the way through.
 */
typedef enum {
	TB_MEANS_ANOTHER = 1 << 0,  /* "sk next st" behind a deep post: one more, not the one behind it */
	TB_MEANS_ALL = 1 << 1,      /* "11 sc in next 11 sc": 11 in each */
	TB_MEANS_SAME = 1 << 2,     /* "ch 2, 2 dc" after a space was worked: in that space again */
	TB_MEANS_IN_ALL = 1 << 3,   /* "rep from * 4 times": four in all */
	TB_MEANS_COUNTS = 1 << 4,   /* the first chain counts as a stitch */
	TB_MEANS_NOT = 1 << 5,      /* it does not */
	TB_MEANS_LOOP = 1 << 6,     /* it is the first loop of the row */
	TB_MEANS_SPACE = 1 << 7,    /* it is a stitch and a space */
	TB_MEANS_UNDER = 1 << 8,    /* "miss 1 st" beside a counted chain: the one under it (US), or not (UK) */
	TB_MEANS_BEFORE = 1 << 9,   /* "ending with 4 dc": in a place such as the stitches before it */
	TB_MEANS_PAST = 1 << 10,    /* "sl st in 4 sts, ch 1, sc in each": past all that was slipped over */
	TB_MEANS_FIT = 1 << 11,     /* "rep from *, ending 3 dc in last sc": as often as there is room for it */
	TB_MEANS_FEWER = 1 << 12,   /* … and what is behind it takes the room of the last time */
	TB_MEANS_REST = 1 << 13, /* "shell in center of shell, skip 5 dc": those left of that shell are some of them;
	                            * "shell in sp of shell, dc in next 2 dc": they are not */
	TB_MEANS_STAYS = 1 << 14, /* "sl st in 4 sts, hdc in each": the slip stitches are stitches of the row */
	TB_MEANS_GAPS = 1 << 15, /* "next sp" before a chain comes: the gap where two groups meet */
	TB_MEANS_CORNER = 1 << 16, /* "3 sc in corner, sc in each st to corner": it is the edge's first or last stitch */
	TB_MEANS_COUNT = 17
} tb_meaning;

/* Whether the row's words are taken in the unusual MEANING; that this was asked is remembered. */
static inline bool tb_means(tb_hands *h, unsigned meaning)
{
	h->now.asked |= meaning;
	return (h->now.meaning & meaning) != 0;
}

#endif
