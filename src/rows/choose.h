/* Which reading of a row is meant, and rows that go by their stated count. */
#ifndef TB_ROWS_CHOOSE_H
#define TB_ROWS_CHOOSE_H

#include "hands/hands.h"

/*
 * Works a row in the reading that comes out: the usual one where it does, or else the nearest that
 * does. Two that come out and differ are told.
 */
void tb_choose_row(tb_hands *h, const tb_sentence *sentence, guint32 number, guint32 written,
	bool first_time, bool claims);
/* Works a row again as it was CHOSEN before, or in another of its readings where that fails. */
void tb_choose_again(tb_hands *h, const tb_sentence *chosen, guint32 number, guint32 written);
/*
 * Works a row and keeps it where it comes out and IS_MEANT says so, given DATA; or else takes it back,
 * and tells nothing.
 */
bool tb_choose_try(tb_hands *h, const tb_sentence *sentence, guint32 number, guint32 written,
	bool (*is_meant)(const tb_hands *h, const void *data), const void *data);

#endif
