/* What is wrong with a finished row: account/account*.c. */
#ifndef TB_ACCOUNT_ACCOUNT_H
#define TB_ACCOUNT_ACCOUNT_H

#include "hands/hands.h"

/* --- account.c --- */

/* What is wrong with the row just finished. CLAIMS: whether its claimed count is to be checked. */
void tb_account_row(tb_hands *h, bool claims);
/* Checks what SENTENCE claims of the last of its ROWS, or of each where it has a count for each. */
void tb_account_claims(tb_hands *h, const tb_sentence *sentence, guint32 rows);

/* --- account_begin.c --- */

/* whether it has a stitch, and a turning chain before it. */
void tb_account_begin(tb_hands *h);

/* --- account_chain.c --- */

/*
 * "23 dc, counting the ch-3 as 1 dc": leaves of what is counted WITH the first chain and WITHOUT
 * what CLAIM says. False, and told, where the chain is not as it says.
 */
bool tb_account_chain(tb_hands *h, const tb_sentence *sentence, const tb_claim *claim, unsigned *with, unsigned *without);

/* --- account_clumps.c --- */

/* "6 groups of 3 dc", "4 dc in each shell". */
void tb_account_each(tb_hands *h, const tb_claim *claim);
void tb_account_clumps(tb_hands *h, const tb_claim *claim);
/* How many bunches of as many stitches each the row has; 0 where they differ. */
unsigned tb_account_bunches(const tb_hands *h);
/* … and "with a ch-4 sp between each": what stands between any two of them. */
void tb_account_between(tb_hands *h, const tb_claim *claim);

/* --- account_count.c --- */

/* What the row has of what is claimed, WITH the turning chain or the chains of spaces, and WITHOUT. */
void tb_account_count(const tb_hands *h, const tb_claim *claim, unsigned *with, unsigned *without);

/* --- account_named.c, account_colours.c --- */

/* Whether the plain stitches that the row's words name are to be seen. */
void tb_account_named(tb_hands *h);
/* "10 beads": whether so many stitches of the row have one. */
void tb_account_beads(tb_hands *h, const tb_claim *claim);
/* "12 sc in A": whether the row has so many made in that colour. */
void tb_account_coloured(tb_hands *h, const tb_claim *claim);

/* --- account_own.c --- */

/* how often the row has what OWN is. */
unsigned tb_account_own(const tb_hands *h, const tb_own *own);
/*
 * "5 dc in next st, closed together: 3 bobbles": what the row has of several stitches made one, where it has none that
 * are called CLAIMED, and no other count names them; of picots, those that its chains are closed to.
 */
unsigned tb_account_several(const tb_hands *h, const tb_stitch *claimed);
/* The row's stitches like STITCH that are of none of its groups that it claims by their name. */
unsigned tb_account_outside(const tb_hands *h, const tb_stitch *stitch);

/* --- account_sections.c --- */

/* "(52 dc: 8 each front, 9 each sleeve, 18 back)": the claims of SENTENCE FROM one on that are of a part of the row. */
void tb_account_sections(tb_hands *h, const tb_sentence *sentence, unsigned from);

/* --- account_shape.c --- */

/* whether the last ROWS have more stitches than those before, or fewer, as their label says. */
void tb_account_shape(tb_hands *h, const tb_sentence *sentence, guint32 rows);
/* "If you have 26, you missed one": that the row has not so many. */
void tb_account_wrong(tb_hands *h, const tb_claim *claim);
/* "Sc goes in dc": that each of the row's stands on one. */
void tb_account_upon(tb_hands *h, const tb_claim *claim);
/* "FPtr round the sts that stand forward": whether what each of them goes around is seen so from this row's side. */
void tb_account_relief(tb_hands *h, const tb_claim *claim);

/* --- account_sides.c --- */

/* How many sides the round has, whose corners are its longest spaces; 0 where they are not alike, or none. */
unsigned tb_account_count_sides(const tb_hands *h);
/* "(7 dc on each side)" may count what stands in the corners, and may leave it out. */
void tb_account_sides(tb_hands *h, const tb_claim *claim);

/* --- account_spaces.c --- */

/* the row's spaces of so many CHAINS, 0: of any; WITHOUT half a loop at each edge. */
void tb_account_spaces(const tb_hands *h, unsigned chains, unsigned *with, unsigned *without);

/* --- account_things.c --- */

/* "11 shells", "5 petals": whether the row has so many of anything that these may be. */
void tb_account_rows(tb_hands *h, const tb_claim *claim, guint32 rows);
/* "2 sts fewer than the row before", of the row looked at, or of each of the last ROWS. */
void tb_account_change(tb_hands *h, const tb_claim *claim, guint32 rows);
void tb_account_things(tb_hands *h, const tb_claim *claim, unsigned said);

#endif
