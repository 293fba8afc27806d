/* Which post is meant, two or more rows down. */
#ifndef TB_PLACES_POST_H
#define TB_PLACES_POST_H

#include "hands/hands.h"

/*
 * The stitch ACT's place means two or more rows down, DUE being the stitch now due; WHICH counts the
 * posts of one act from 0. TB_NONE when there is none, which is told.
 */
guint32 tb_post_find(
	tb_hands *h, const tb_act *act, const tb_stitch *stitch, unsigned which, guint32 due);
/* Warns where STITCH goes around a post that is none: the stitch BASE. */
void tb_post_check(tb_hands *h, const tb_act *act, const tb_stitch *stitch, guint32 base);

#endif
