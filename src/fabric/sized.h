/*
 * What the pieces, and the garment they make, measure: every width and depth that the work makes.
 *
 * A row is as wide as its stitches, and a round as far around. Which row is the cuff, the hem, the top of the sleeve
 * follows from what a piece is called and which way it is worked: a sleeve that grows begins at the cuff; one in
 * rounds that narrows, and a body or yoke before which its yoke was worked, goes down. Where that cannot be known
 * nothing is said. The bust is the body's round, or back and fronts, or twice what is made twice; seams and bands
 * are not taken off or added.
 */
#ifndef TB_FABRIC_SIZED_H
#define TB_FABRIC_SIZED_H

#include "fabric/fabric.h"

typedef struct {
	tb_finished_kind kind;
	int piece;               /* -1: of the whole */
	double mm[TB_MAX_SIZES]; /* 0: not in this size */
	bool around;             /* it is a girth */
	char *of;                /* "Back, Left Front and Right Front"; NULL where it is one piece's */
} tb_sized;

/* tb_sized, pieces in order and the whole last; none where the pattern gives no gauge. Owned. */
GArray *tb_sized_find(const tb_worked *worked);
/* "Upper arm"; what a maker calls it. */
const char *tb_sized_name(tb_finished_kind kind);
/*
 * Rows that go around what was worked in rows, or along its ends, begin at this index; the row count for none. They
 * are an edging, and the piece is measured without them; or, where *GOES_ON, the work goes on from there, as from a
 * rib worked sideways, and they are the piece. GOES_ON may be NULL.
 */
guint32 tb_sized_edging(const tb_fabric *fabric, bool *goes_on);

typedef enum {
	TB_ACROSS_UNKNOWN, /* it grows from a middle, or is worked both ways */
	TB_ACROSS_FLAT,
	TB_ACROSS_AROUND,  /* a tube: several rounds of its widest follow each other */
} tb_across;

/* What a piece's width is. */
tb_across tb_sized_across(const tb_worked *worked, unsigned piece);

#endif
