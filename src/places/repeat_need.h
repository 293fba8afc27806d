/* How many places acts need, where that is known before they are worked. */
#ifndef TB_PLACES_REPEAT_NEED_H
#define TB_PLACES_REPEAT_NEED_H

#include "hands/hands.h"

/* Whether A, of the ending, works what B of the repeat does; "in last loop" is the next one then. */
bool tb_repeat_is_alike(const tb_hands *h, const tb_act *a, const tb_act *b);
/* The places ACTS take, or -1 where that depends on what is found there. */
gint64 tb_repeat_need(const tb_hands *h, const tb_act *acts, unsigned count);
/* The same, counting what is not known as none. */
unsigned tb_repeat_least(const tb_hands *h, const tb_act *acts, unsigned count);
/* … the COUNT acts behind ACT, with the stitches of a kind that are skipped there. */
unsigned tb_repeat_least_behind(const tb_hands *h, const tb_act *act, unsigned count);

#endif
