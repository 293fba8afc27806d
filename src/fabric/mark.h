/* Markers in stitches: fabric/mark.c. */
#ifndef TB_FABRIC_MARK_H
#define TB_FABRIC_MARK_H

#include "fabric/hands.h"

/* Puts the marker of ACT, which was just worked. */
void tb_mark_put(tb_hands *h, const tb_act *act);
/* Forgets those in stitches that are taken back. */
void tb_mark_forget(tb_hands *h);
/* Whether a stitch of the piece is marked. */
bool tb_mark_any(const tb_hands *h);
/* The first place from FROM on that has a marker; false where none has. */
bool tb_mark_find(const tb_hands *h, guint32 from, guint32 *place);
/* The stitches of ROW that have a marker, or into which one has moved up: AT, MOST of them and no more; how many. */
unsigned tb_mark_list(const tb_hands *h, guint32 row, guint32 *at, unsigned most);
/* Where "to 2 sts before the marked st" ends. */
bool tb_mark_find_end(const tb_hands *h, const tb_place *up_to, guint32 *limit);
/* As tb_place_take, for one in the marked stitch, or over it and those beside it. */
bool tb_mark_take(tb_hands *h, const tb_act *act, const tb_stitch *stitch, unsigned takes, tb_footing *footing);

#endif
