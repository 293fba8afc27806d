/* Rows worked like another but for a part of it. */
#ifndef TB_ROWS_VARY_H
#define TB_ROWS_VARY_H

#include "hands/hands.h"

/* --- vary.c --- */

/* Works a row as the row at index LIKE, with what SENTENCE changes; false when it cannot, told. */
bool tb_vary_row(tb_hands *h, const tb_sentence *sentence, guint32 like);

/* --- vary_acts.c --- */

/* ACTS, to be changed. */
tb_acts tb_vary_copy(tb_arena *arena, const tb_acts *acts);
/*
 * The row LIKE with what SENTENCE changes in it. NULL where its words do not make plain which figures
 * are meant. Lives as long as the fabric.
 */
const tb_sentence *tb_vary_sentence(tb_hands *h, const tb_sentence *like, const tb_sentence *sentence);

/* --- vary_kinds.c --- */

/*
 * SENTENCE, which row LIKE was worked by, to be worked again: "sc in each dc" goes into each stitch where the
 * row that is now below has no dc, and is of one kind of stitch as that below LIKE was. SENTENCE itself where nothing is other.
 */
const tb_sentence *tb_vary_kinds(tb_hands *h, const tb_sentence *sentence, guint32 like);
/* The same where the row now below may be of several kinds, and of chains: "work 3 rows in sc" behind a row of spaces. */
const tb_sentence *tb_vary_to_any(tb_hands *h, const tb_sentence *sentence, guint32 like);
/* SENTENCE, to be worked again, with BEGIN before it: at another place, where yarn is joined. */
const tb_sentence *tb_vary_begun(tb_hands *h, const tb_sentence *sentence, const tb_acts *begin);

#endif
