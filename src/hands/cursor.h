/* Where the hands are in a row: what a pass that does not fit takes back. */
#ifndef TB_HANDS_CURSOR_H
#define TB_HANDS_CURSOR_H

#include "fabric/fabric.h"
#include "support/limits.h"

/* The most stitches of the row below one stitch stands on; the library allows no more. */
#define TB_MOST_BASES TB_LIMIT_STITCH_TAKES

/* Where a stitch stands. */
typedef struct {
	guint32 bases[TB_MOST_BASES];
	guint32 behind;
	guint8 count, flags, rows_below;
} tb_footing;

/* More often no row is joined to other motifs. */
#define TB_MOST_JOINED 64u

/* Where a row is joined to another motif. */
typedef struct {
	guint32 at; /* the stitch made next */
	gint16 piece; /* the motif, where it is named; -1 */
} tb_joined;

/* Where the hands are in a row. Copied before a pass that may have to be taken back. */
typedef struct {
	guint32 due; /* index into places: the next to be worked */
	guint32 first; /* the place the row begins at; not 0 where yarn was joined further on */
	tb_footing last;
	bool has_last;
	guint32 skipped_from, skipped_count;
	const void *skipped_by; /* the tb_act that skipped them */
	guint32 skipped_used; /* of the skipped places, how many were worked into after all */
	bool skipped_under; /* the stitch under the turning chain was said to be skipped */
	guint32 last_post; /* the post last reached by name two or more rows down, or TB_NONE */
	bool post_strayed; /* … which was not straight below */
	bool behind; /* "working behind sts just made" */
	bool in_space; /* the last place worked was a space or a gap */
	bool over; /* nothing more can be worked in this row */
	bool at_end, may_end; /* what goes to the row's end has gone there: nothing is left, or need be, for another such */
	bool turned, left; /* said so */
	bool within; /* an act is worked on a stretch of the places alone */
	guint32 stopped; /* the middle of the corner before which the hook stands; TB_NONE: of none */
	bool joined; /* the round was joined: what stands behind that is its count, or goes on by slip stitches */
	bool unjoined; /* it is not joined, which was said behind its stitches: what stands behind that is its count */
	guint32 left_at; /* where it was left */
	bool other_edge; /* along an edge that no row shows: no place of the row below is meant */
	guint64 edge_made; /* along the last of them, so many */
	guint32 edge_rows; /* … one by one into the ends of so many rows */
	unsigned corners; /* of a flat piece, so many were worked */
	unsigned edges; /* stitches went along so many edges: what stands behind is as likely their count */
	guint32 own_chain, own_chains; /* chains just made that are worked along: the next, and how many */
	guint32 passed; /* up to here places may be passed over: the rest of a group worked in part */
	bool began_in_gap; /* the round goes from gap to gap, and has one more behind its last stitch */
	bool ends_at_join; /* the last place of the round is the stitch of the join, under its first chain */
	guint32 picot; /* the picot worked into or skipped last, counted from 1; 0: none yet */
	guint32 before_space; /* places that were passed over to the last space */
	bool beside_space; /* a stitch went right before a space that was worked into: what borders spaces is worked here */
	unsigned side_left; /* while that was not known, so many stitches were passed over before a space: */
	unsigned side_chains; /* of so many chains, 0: of any, */
	tb_span side_span; /* which stands here */
	guint32 before_named; /* stitches that were passed over to the last stitch that is named */
	guint32 passed_from, passed_to; /* what was passed over last to come to a group */
	guint32 usual_skip; /* places that the repeats of the row skip each time */
	bool against; /* a turning chain that always counts is taken not to */
	unsigned neighbours; /* so many times the row was joined to other motifs: neighbour.h */
	tb_joined joined_at[TB_MOST_JOINED]; /* the first of them */
	unsigned passes; /* of repeats that stand in no other */
	unsigned odd; /* stitches in places that are rarely meant: each makes a reading less likely */
} tb_cursor;

#endif
