/* Markers in stitches: places/mark.c. */
#ifndef TB_PLACES_MARK_H
#define TB_PLACES_MARK_H

#include "hands/hands.h"

/* Puts the marker of ACT, which was just worked. */
void tb_mark_put(tb_hands *h, const tb_act *act);
/* The first place from FROM on that has a marker; false where none has. */
bool tb_mark_find(const tb_hands *h, guint32 from, guint32 *place);
/* The stitches of ROW that have a marker, or into which one has moved up: AT, MOST of them and no more; how many. */
unsigned tb_mark_list(const tb_hands *h, guint32 row, guint32 *at, unsigned most);
/*
 * "To last marker", "in the second marked st": tells where MARK, of ACT, which is about to be gone to, is another of them
 * than its words say.
 */
void tb_mark_check_which(tb_hands *h, const tb_act *act, const tb_place *mark);
/* Where "to 2 sts before the marked st" ends. */
bool tb_mark_find_end(const tb_hands *h, const tb_place *up_to, guint32 *limit);
/* How many stitches of ROW stand between its two markers; 0 where it has not two. */
guint32 tb_mark_between(const tb_hands *h, guint32 row);
/* "13 sts between markers": tells where the row has not so many there. */
void tb_mark_account(tb_hands *h, const tb_claim *claim);
/*
 * How many stitches SKIP, "skip the 13 gore sts", passes over: all from the marker where the hook is to the next. Where
 * no marker stands between stitches it is as many as are said. 0 where that cannot be, which is told.
 */
int tb_mark_gore(tb_hands *h, const tb_act *skip);
/* As tb_place_take, for one in the marked stitch, or over it and those beside it. */
bool tb_mark_take(tb_hands *h, const tb_act *act, const tb_stitch *stitch, unsigned takes, tb_footing *footing);

#endif
