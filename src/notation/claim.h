/* Numbers, and what a row is said to count. Part of the instruction tree: tree.h brings it. */
#ifndef TB_NOTATION_CLAIM_H
#define TB_NOTATION_CLAIM_H

#include "stitches/stitch.h"
#include "support/arena.h"
#include "support/source.h"

/*
 * A number that may be a size bracket. count is 1 (the same in all sizes) or the number of sizes.
 * TB_NOT_IN_SIZE stands where the designer wrote "-"; a written 0 is 0.
 */
#define TB_NOT_IN_SIZE (-1)
typedef struct {
	unsigned count;
	const int *values;
	tb_span span;
} tb_number;

/* The value of a number that is one for every size. */
extern const int tb_number_one[1];

static inline int tb_number_in(const tb_number *number, unsigned size)
{
	return number->values[number->count == 1 ? 0 : size];
}

/* What the pattern's own words define: "Shell: 5 dc in same st". */
typedef struct tb_own tb_own;

/* "…, same as last row": the one before. */
#define TB_SAME_AS_LAST G_MAXUINT

/* One part of a claimed count: "83 sts", or "12 dc". stitch NULL and spaces 0: stitches of any kind. */
typedef struct {
	tb_number count;
	const tb_stitch *stitch;
	bool spaces;
	unsigned space_chains;
	tb_number space_lengths; /* … where they are of another length in each size; else no figures */
	const tb_own *own; /* groups of this kind */
	bool sides;        /* each side of a round with corners has so many */
	bool in_corner;    /* … no: "3 sc in each corner" between them */
	unsigned share;    /* "9 dc each sleeve": of a part of the row, and so many parts have that; 0: not so; `other` as well */
	bool corners;      /* a round has so many corners */
	unsigned rows_from; /* "(Rows 4-13)": the first of them, and `count` is the last; 0: not so */
	tb_number parts;   /* … and so many sides, "on each of 6 sides"; count 0 where that is not said */
	bool clumps;       /* "6 groups of 3 dc": parts groups of so many each; `other` as well */
	bool between;      /* "…, with a ch-4 sp between each": between any two of `parts` groups; `other` as well */
	unsigned row;      /* "(18 sc on the 3rd rnd)": of that one of the rows it stands behind; 0: not said */
	tb_number row_in;  /* "When Row 23 (23, 27) is complete": … of another in each size, and it must be there; count 0: not so */
	tb_size_set sizes; /* said of these, and of the others nothing: they have no figure in `count`; 0: of all */
	unsigned same_as;  /* "(20 sc, same as Row 3)": the row counts as many as that one, or TB_SAME_AS_LAST; 0: not said */
	bool bare;         /* of a count that no bracket or dash sets apart */
	bool stopped;      /* … and that stands behind a full stop or a dash */
	bool early;        /* more is worked behind it in the row */
	bool made;         /* "(3 dc made)": of what was worked just before it, or in the row so far */
	bool strict;       /* … bare figures, which must be so */
	bool joins;        /* "2 joined corners": so many times joined to other motifs; `other` as well */
	bool flanks;       /* … and "joined on 2 sides": along so many */
	bool gore;         /* "13 sts between markers"; `other` as well */
	bool rows;         /* "(12 rows)": so many rows, and no stitches; `other` as well */
	bool compared;     /* "2 sts fewer than the row before": no count, but how it differs; `other` as well */
	int change;        /* … by so many, fewer below 0 */
	bool at_ends; /* … `change` at each of two ends of a row; of a round, at each side that it has, or two */
	unsigned per_side; /* … so many on each side of a round with corners; `change` is 0 where that alone is said */
	bool of_squares;   /* … squares of filet: two or three stitches each */
	bool of_each;      /* … each of the rows it stands behind */
	bool than;         /* … said so, and not "(2 sts decreased)", which may tell of what was worked */
	bool wrong;        /* "if you have 26, you missed one": what the row must not have; `other` as well */
	const tb_stitch *upon; /* "sc goes in dc": what each of `stitch`, NULL: all of the row, stands on; `other` as well */
	tb_post relief;    /* "FPtr round the sts that stand forward": as what each of `stitch` goes around is seen; `other` as well */
	bool ridges;       /* "10 ridges": two rows make one; `other` as well */
	bool inside;       /* "*dc in next 2 sts, 3 dc in next (5 dc); rep from *": it may be of that, or of the row */
	bool other;        /* of something no row shows: "4 corners" */
	bool pairs;        /* "10 crossed dc": two stitches each */
	bool groups;       /* … of groups that the pattern has no words for: "9 V-sts" */
	bool bunches;      /* … called clusters or groups, which may be the halves of a corner as well */
	bool of_groups;    /* "4 dc in each shell": so many of each group of the row; `other` as well */
	bool stars;        /* "9 stars": so many that draw stitches together; `other` as well */
	bool half, full;   /* … "2 half shells", "4 full shells"; `other` as well */
	bool passes;       /* "10 pattern repeats"; `other` as well */
	bool with_chain;   /* "counting the ch-3 as 1 dc": the chain the row begins with is one of them */
	bool without_chain; /* … "not counting the turning chain": it is none of them */
	bool any_chain;    /* … "incl. chs": or other chains of the row */
	unsigned chain_of; /* … of so many chains; 0: not said */
	bool blocks;       /* "7 blocks" of filet: three stitches each, and one; `other` as well */
	bool beads;        /* "10 beads": so many stitches have one; `other` as well */
	const char *colour; /* "12 sc in A": those made in it; `other` as well; or NULL */
	const tb_stitch *chain_as; /* … and is this stitch; NULL: not said */
	tb_span span;
} tb_claim;

/* "Row 4 (inc 1 st at end)": more stitches than the row before, or fewer below 0; BY so many, 0: not said. */
typedef struct {
	int way;
	unsigned by;
	tb_span span;
} tb_shaped_so;

#endif
