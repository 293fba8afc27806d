/*
 * Rules of the trade that more than one asks for: who works a row, who tells it back, who draws it.
 *
 * They look at stitches made and at numbers, never at words, and change nothing.
 */
#ifndef TB_FABRIC_RULES_H
#define TB_FABRIC_RULES_H

#include "fabric/fabric.h"

/* What was made, whoever holds it. Borrowed. */
typedef struct {
	const tb_made *made;
	guint32 made_count;
	const guint32 *bases;
	const tb_made_row *rows;
	const tb_library *library;
} tb_stitches;

tb_stitches tb_fabric_stitches(const tb_fabric *fabric, const tb_library *library);

static inline guint32 tb_stitches_base(const tb_stitches *s, const tb_made *made, unsigned i)
{
	return made->base_count == 1 ? made->base : s->bases[made->base + i];
}

/* --- chains that stand for a stitch --- */

/* Whether a turning chain counts where nothing is said: 3 for dc does, 1 for sc does not. HEIGHT in chains. */
bool tb_rule_chain_counts(unsigned chains, unsigned height);

/* Chains skipped before the first stitch on a chain: how many, and what is said and known of them. */
typedef struct {
	unsigned skipped, height; /* HEIGHT of that stitch, in chains */
	tb_counts said;
	unsigned said_space; /* so many are said to be a space; 0: nothing is said */
	bool in_group;       /* the stitch is one of a group worked in that chain */
	/* whether the row has spaces of CHAINS, so that it may begin with one */
	bool (*has_space)(const void *row, unsigned chains);
	const void *row;
} tb_skipped_chains;

/* What becomes of them. */
typedef struct {
	unsigned chains, space; /* the turning chain, and the space beside it, that stand up; the others lie flat */
	bool counted, fits;     /* FITS: the turning chain is as tall as it should be, or nobody can say */
} tb_standing_chains;

/*
 * The turning chain is as high as the stitch; one chain more lies below it (Japanese practice); an even
 * number more are a space, half of them below it, where the row has spaces as long; before a shell all that is
 * more lies flat, so that the shell stands apart from the edge.
 */
tb_standing_chains tb_rule_skipped_chains(const tb_skipped_chains *skipped);

/* A turning chain is as tall as its stitch; one beside a post, or that does not count, may be one shorter. */
bool tb_rule_fits(unsigned chains, const tb_stitch *stitch, bool counted);

/* --- the tops of a row --- */

/*
 * The tops of row BELOW in the order they come to the hook, into PLACES, which has room for all that was made
 * in it. How many; *TURNING is where its turning chain is among them, or TB_NONE. SAME_WAY: the work was not
 * turned. ON_JOIN: a joined round was turned; the hook stands over the stitch of the join still. BESIDE: a top
 * that counts for no stitch and is worked into all the same, or TB_NONE.
 */
guint32 tb_rule_tops(const tb_stitches *s, const tb_made_row *below, bool same_way, bool on_join, guint32 beside,
	guint32 *places, guint32 *turning);

/*
 * The row that ROW, an index, stands on: the one before it; but that one is beside it where the stitches of ROW
 * go into an earlier one alone, as those of the second shoulder do, or of a round behind petals.
 */
guint32 tb_rule_stands_on(const tb_stitches *s, guint32 row);

/* Whether ROW, an index, goes along the ends of rows, where its first stitches stand on none. */
bool tb_rule_is_along(const tb_stitches *s, guint32 row);

/* --- which stitch is meant --- */

/* How many legs are drawn together in STITCH, in one place or in several. */
unsigned tb_rule_legs(const tb_stitch *stitch);
/* Whether WHOLE is made as PART is, with one leg more; "dc2tog in same st" is a cluster of two. */
bool tb_rule_has_one_more(const tb_stitch *whole, const tb_stitch *part);
/* sc2tog is one of the sc. */
bool tb_rule_is_together(const tb_stitch *made, const tb_stitch *named);
/* Whether NAMED names the stitch AT: a counted turning chain is as good as the stitch it stands for. */
bool tb_rule_is_kind(const tb_stitches *s, guint32 at, const tb_stitch *named);

/*
 * What lies one row below AT: the stitch hidden behind it, or its base, the middle one of several; below a chain,
 * what the chains pass over, where they are nearly as many. TB_NONE where there is none.
 */
guint32 tb_rule_below(const tb_stitches *s, guint32 at);
/* Whether AT is a chain of its row that stands on nothing. */
bool tb_rule_is_bridge(const tb_stitches *s, guint32 at);

/* A row, and which way through it the work now goes. */
typedef struct {
	guint32 begin, end; /* of all that was made in it */
	bool same_way;
} tb_way_through;

/* The stitch STEPS behind AT in the way the work goes, or TB_NONE past the row's end. */
guint32 tb_rule_next_in(const tb_way_through *row, guint32 at, gint64 steps);

/* Farther than this many columns sideways a post draws the fabric together. */
#define TB_RULE_SIDEWAYS 2u

/*
 * "Around next FPdc 2 rows below": the next of NAMED in ROW, at or behind STRAIGHT, the stitch straight below,
 * but behind LAST, the one used before. Two columns back is still next where that was not used. On a ground
 * where all are NAMED it is the one straight below, unless those before STRAYED from theirs.
 */
guint32 tb_rule_next_post(const tb_stitches *s, const tb_stitch *named, const tb_way_through *row, guint32 straight,
	guint32 last, bool strayed);

#endif
