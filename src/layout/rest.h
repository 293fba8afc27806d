/*
 * Cloth at rest: pieces that are no plain grid (rounds, waves, lace, shaping), laid down by their own tensions and set
 * on the page.
 */
#ifndef TB_LAYOUT_REST_H
#define TB_LAYOUT_REST_H

#include "layout/setting.h"

/*
 * Lays the rows from s->lowest to s->last down and fills the chart's placed, feet and rows. False where its repeat could
 * not be folded: all of it is placed then.
 */
bool tb_rest_place(tb_setting *s);

/* Where the columns of a piece, its grid's or its places, have come to lie: the chart's across, for boxes and brackets. */
void tb_rest_find_columns(tb_setting *s);

#endif
