/* Rows that stand on other work than the row below as well: ground.c. */
#ifndef TB_ACTS_GROUND_H
#define TB_ACTS_GROUND_H

#include "hands/hands.h"

typedef enum {
	TB_GROUND_NONE, /* it does not go there */
	TB_GROUND_DONE, /* nothing more is to be worked of it */
	TB_GROUND_INSTEAD, /* another act is worked in its place */
	TB_GROUND_WITHIN, /* … with only the next places there */
} tb_ground_kind;

/* What is to be worked of an act that goes into other work. */
typedef struct {
	tb_ground_kind kind;
	tb_act act;
	guint32 count; /* of those places */
	unsigned after; /* as for tb_acts_work */
} tb_ground_part;

/* --- ground.c --- */

/* Lays down what the row names of other work, behind the row below, or as the foundation where there is none. */
void tb_ground_lay(tb_hands *h);
/* Puts the places of the row below before those that were laid beside it. */
void tb_ground_arrange(tb_hands *h);
/* Whether the chain the row begins with, ACT, leads to other work, and is no turning chain. */
bool tb_ground_is_bridge(const tb_hands *h, const tb_act *act);
/*
 * Brings the other work that ACT goes into to the hook, along a chain that leads there, or along the other side of
 * one; AFTER as for tb_acts_work. What is to be worked there then.
 */
tb_ground_part tb_ground_find(tb_hands *h, const tb_act *act, unsigned after);
/* "Leaving 2 sts unworked" of the work that is named; false where the row names none. */
bool tb_ground_leave(tb_hands *h, const tb_act *act);
/* "Working along the other side of the ch" that leads to other work; false where there is none. */
bool tb_ground_other_side(tb_hands *h);
/* Whether SENTENCE names other work, or the other side of a chain inside of the piece. */
bool tb_ground_is_named(const tb_sentence *sentence);

/* --- ground_open.c --- */

/* Whether SENTENCE, a piece's first row, is worked around an opening of a piece before it. */
bool tb_ground_is_opening(const tb_sentence *sentence);
/* Lays that down as the foundation; false where there is none. NAMED: the row names other work. */
bool tb_ground_lay_opening(tb_hands *h, bool named);
/* As tb_ground_find, where ACT goes there; how many places are so is for that to say. */
tb_ground_part tb_ground_find_opening(tb_hands *h, const tb_act *act);
/*
 * "Sc in 25 sts of first sleeve, sc in next 40 sts of body": what is left of another piece is unworked, and told,
 * where the row goes on in NEXT, or is joined (NULL), and comes back to it no more.
 */
void tb_ground_leave_rest(tb_hands *h, const tb_other_work *next, tb_span span);

#endif
