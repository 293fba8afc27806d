/*
 * The instruction tree: what the row language says, before anybody works it.
 *
 * A tb_sentence is one row's text (or one start, one row repeat). Its acts are in the order they
 * are worked. Everything lives in the arena of the tb_script that owns it and is const once read.
 * US terms inside, whatever the pattern speaks.
 */
#ifndef TB_NOTATION_TREE_H
#define TB_NOTATION_TREE_H

#include "notation/claim.h"
#include "pattern/pattern.h"
#include "stitches/stitch.h"
#include "support/arena.h"

/* Which of the stitches below. */
typedef enum {
	TB_IN_NEXT, /* the next `count` places, one after another */
	TB_IN_EACH, /* each place up to the last `count` (0: to the end) */
	TB_IN_LAST, /* the last `count` places */
	TB_IN_FIRST, /* the first place, or `count` of them */
	TB_IN_SAME, /* where the stitch before it went */
	TB_IN_NTH_CHAIN, /* the `count`-th chain from the hook */
	TB_IN_RING, /* the ring in the middle */
	TB_IN_BETWEEN, /* the gap between the next two stitches */
	TB_IN_NTH_STITCH, /* the `count`-th stitch of the row, from its beginning */
	TB_IN_SKIPPED, /* the `count` places skipped last; all of them where it has none */
	TB_IN_PART, /* the `count`-th part of what `of` names, 0: its middle ("3rd dc of next shell") */
	TB_IN_EDGE, /* along an edge that no row below shows */
} tb_in;

/* What kind of place is meant. */
typedef enum {
	TB_TARGET_STITCH, /* any stitch; a chain counts as one */
	TB_TARGET_CHAIN, /* a chain stitch itself */
	TB_TARGET_SPACE, /* a chain space; `space_chains` long, 0 for any */
	TB_TARGET_TURNING_CHAIN, /* top of the turning chain */
	TB_TARGET_NAMED, /* a stitch of the kind `named` */
	TB_TARGET_GROUP, /* all that was worked as `own` in one place, NULL: as any group; or `named`, several
	                    side by side */
} tb_target;

typedef enum {
	TB_LOOPS_BOTH,
	TB_LOOPS_FRONT,
	TB_LOOPS_BACK,
	TB_LOOPS_THIRD, /* the loop behind the two on top of hdc */
} tb_loops;

/*
 * A place of a stitch that draws n together (takes n) is n stitches side by side: "dc2tog over next
 * 2 sts" has a count of 1, "3 dc2tog" a count of 3.
 */
/* "loop to right of picot": the hook comes from the right, so that half of it is the first. */
typedef enum { TB_BESIDE_NOTHING, TB_BESIDE_BEFORE, TB_BESIDE_BEHIND } tb_beside;

/* A chain of more than so many turns no row: it is worked on, or a cord. */
#define TB_MOST_TURNING 5

/*
 * "first leg", "second ear": other work than the row below, which a row is worked on as well. Of several
 * that are made alike, COPY counts which; 0: the other one, or any.
 */
#define TB_NO_PIECE G_MAXUINT
typedef struct {
	unsigned piece;   /* whose last row it is; TB_NO_PIECE where the pattern has none of the name */
	unsigned copy;
	bool both;        /* one after another, all there are */
	bool own;         /* a part of the garment that is this piece: other work only in a row that joins others to it */
	const char *said; /* "first leg" */
} tb_other_work;

/* Which stitch a marker is put in. */
typedef enum {
	TB_MARK_NONE,
	TB_MARK_LAST,    /* the one just made */
	TB_MARK_MIDDLE,  /* the middle one of those just made in one place; else as TB_MARK_CENTRAL */
	TB_MARK_AMONG,   /* the nth of those just made in one place */
	TB_MARK_NTH,     /* the nth of the row */
	TB_MARK_CENTRAL, /* the middle one of the row */
	TB_MARK_BEHIND,  /* "pm": the one just made, or between that and the next, as the rows tell that find it */
	TB_MARK_SLIP,    /* none: "slip m", the hook passes one that stands between two stitches */
	TB_MARK_SEVERAL, /* more than one of these, `laid` */
	TB_MARK_LAID,    /* several, `laid`, one behind the other from the row's first stitch on: */
	TB_MARK_STEP,    /* … none, so many are passed over */
	TB_MARK_SPOT,    /* … the next one */
	TB_MARK_FIRST,   /* … which is the first of the row */
	TB_MARK_FINAL,   /* … which is the last of the row */
	TB_MARK_AT,      /* … the nth of the row, by `count` */
	TB_MARK_REST,    /* … none, and so many are left */
} tb_marker;

/* Which of the markers in the row below is meant: the next, or from the row's beginning or end. */
enum { TB_MARKER_NEXT, TB_MARKER_FIRST, TB_MARKER_SECOND, TB_MARKER_FINAL };

typedef struct tb_place tb_place;
struct tb_place {
	const tb_other_work *ground; /* not of the row below, but of this; or NULL */
	bool far_side; /* of chains: their other side */
	bool halved; /* … "each underarm ch to the sleeve": of those that are left, the half */
	tb_in in;
	tb_target target;
	tb_number count;
	const tb_stitch *named; /* for TB_TARGET_NAMED */
	unsigned space_chains; /* for TB_TARGET_SPACE; for TB_TARGET_TURNING_CHAIN: in which chain, 0: its top */
	unsigned of_chains; /* for TB_TARGET_TURNING_CHAIN: of so many, "top of ch-3"; 0: not said */
	bool left; /* "each skipped dc" of an opening that the row below left; rows_below is 2 */
	unsigned rows_below; /* 1 is the row just worked on; only posts and spikes go deeper */
	unsigned of_row; /* "of Round 2", which is not the row below: its number; 0: none is named */
	const tb_stitch *left_named; /* "each st to last 2 sc": what is left there is called so; or NULL */
	unsigned left_of; /* "each unworked st of Row 3", the row below: its number; else 0 */
	unsigned deeper; /* TB_IN_BETWEEN, of TB_TARGET_GROUP: groups of the row so many below; 0 or 1: the row below */
	unsigned posts; /* a leg around each of so many posts side by side; 0: all around one */
	bool around; /* "around", as a post stitch is worked */
	bool middle; /* "the middle dc of 3": one of `count` side by side; 0: of all of them, "the middle dc" */
	unsigned nth; /* … "2nd of the 5 dc": not the middle one but this; 0: the middle. TB_IN_SKIPPED, "2nd skipped
	                 st": 0 is the next of them */
	bool centered; /* TB_IN_NEXT, "each of the 3 centre dc": in the middle of those side by side, of which
	                  there are `nth`; 0: of any number */
	tb_loops loops;
	tb_beside beside; /* for TB_TARGET_SPACE: the half of it before or behind its picot; TB_IN_BETWEEN: before the
	                     next group, and not between the next two */
	bool at_begin; /* TB_IN_SAME: "same space as beginning" */
	bool star;   /* … of a star: the first of a row has no stitch before it, and its own first place */
	bool shared; /* TB_IN_NEXT, "over same st and next 2 sts": the first leg goes where the stitch before went */
	bool begun; /* TB_IN_SAME, "same st as turning ch": where the row's first stitch went */
	bool at_slip; /* TB_IN_SAME, "same st as sl st": where the last one of the row went; else as `begun` */
	bool at_turning; /* "turning chain space": the last one because it is at the turning chain */
	bool unordered; /* "in loop", neither next nor same: where the hook stands in one, that one */
	bool gore; /* of what is skipped: all between two markers, the first of them where the hook is */
	bool parted; /* TB_IN_EACH, "each dc of the back": as far as the space that is worked in next; of what is skipped as well */
	bool lone; /* TB_TARGET_NAMED, "dc between shells": one that stands in no group */
	bool closed; /* TB_TARGET_GROUP, "cluster": several stitches closed into one are such as well */
	bool singular; /* for TB_TARGET_SPACE: "next 3 ch-sp", hardly `count` of them */
	bool inner; /* for TB_TARGET_SPACE: "loop of pineapple", one that no group borders */
	bool fresh; /* TB_IN_SAME, "loop just made": the one that a stitch closed the round below with */
	bool on_made; /* TB_IN_SAME, "side of tr just made": on the last such stitch of this row itself */
	bool corner; /* "corner", "corner st": the space in a corner, or the middle of what turns one */
	tb_number many; /* TB_IN_SKIPPED, "first of the 8 skipped dc": so many were; 0: not said */
	unsigned amid; /* "center sc of each 3-sc group": of so many together; 1: of any odd number in one place */
	bool elsewhere; /* TB_IN_EDGE, "ch-3 sp of last motif": a place of another piece */
	bool missed; /* "skipped dc 3 rows below": one that the row above it passed over */
	bool sames; /* "same 5 sc", and no others were worked together: the next ones, which is told */
	bool central; /* "to center st", "center sp" of a row: the one in its middle */
	bool center_run; /* TB_ACT_SKIP, "skip center 22 sts": so many in the middle of their row */
	bool nameless; /* "in next", "in next 2": no kind is named */
	bool marked; /* "marked st": the next that a marker is in */
	bool to_begin; /* TB_IN_EACH, "to the beginning", as a round goes */
	unsigned which_mark; /* of `to_marker` and `marked`: TB_MARKER_NEXT… */
	bool to_marker; /* TB_IN_EACH, "to marker": up to the next stitch with one, the row's end where none is left */
	unsigned short_of; /* of an `up_to`, "to 2 sts before marked st": it ends so many before that */
	bool with_it; /* of an `up_to`, "up to and including the marked st" */
	bool loose; /* "loop": a space, or a stitch where the row has no spaces; TB_IN_BETWEEN: neither "each" nor
	               "next" is said of it */
	const tb_place *also;  /* "each sc and each ch-1 sp": this kind of place as well; or NULL */
	const tb_place *over;  /* "the dc 2 rows below next sc": what the stitch due must be; or NULL */
	const tb_place *but;   /* TB_IN_EACH, "each st, skipping the ch-1 sps": none of these; or NULL */
	const tb_place *up_to; /* TB_IN_EACH, "each st to next ch-2 sp", TB_IN_BETWEEN: ends before that; or NULL */
	const tb_place *of; /* TB_IN_PART: what it is a part of; NULL: of the row. TB_IN_NEXT, TB_IN_EACH:
	                     the group that is next, and no other */
	const tb_own *own; /* TB_TARGET_GROUP */
	tb_span span; /* of the words that say where */
};

/* Where a shaped row is increased or decreased. */
typedef enum {
	TB_SHAPED_ENDS,
	TB_SHAPED_BEGIN,
	TB_SHAPED_END,
	TB_SHAPED_EVENLY,
	TB_SHAPED_NECK,  /* at the edge where short rows turned: the beginning of one row, the end of the next */
	TB_SHAPED_OUTER, /* at the other one */
} tb_shaped;

typedef enum {
	TB_ACT_CHAIN, /* `count` chains; `counts_as` when the text said so */
	TB_ACT_WORK, /* `each` times `stitch` in every place of `place` */
	TB_ACT_SKIP, /* `place.count` places of `place.target` */
	TB_ACT_SKIP_BEHIND, /* "sk st behind": the stitch a post stitch hides */
	TB_ACT_REPEAT, /* `body`, as `until` says */
	TB_ACT_GROUP, /* `body`, all of it in `place` */
	TB_ACT_TURN,
	TB_ACT_JOIN, /* "join with sl st in top of ch-3" */
	TB_ACT_DO_NOT_JOIN,
	TB_ACT_LEAVE, /* "leave rem sts unworked"; `count`, or all; `these`: so many are there to work on */
	TB_ACT_FASTEN_OFF,
	TB_ACT_JOIN_YARN, /* "join yarn in 5th st" */
	TB_ACT_KNOT, /* `count` knots, each a chain drawn long and sc in it, one on the other: `own` */
	TB_ACT_RING, /* "join with sl st to form a ring", "magic ring"; bare: "all in the ring", which is there */
	TB_ACT_IN_FRONT, /* "working in front of sts just made" */
	TB_ACT_BEHIND, /* "working behind sts just made" */
	TB_ACT_ONLY, /* `body`, in the sizes of `sizes` alone */
	TB_ACT_OTHER_SIDE, /* "working along other side of foundation ch", back to where round 1 began */
	TB_ACT_FOLD, /* "through both layers": the round below lies folded in two; `bare`: if that comes out */
	TB_ACT_GO_TO, /* "from the second leg": the hook is there */
	TB_ACT_ANCHOR, /* "sl st in next 2 sts of body": the row is joined to `count` stitches of `place.ground`, beside it */
	TB_ACT_SURFACE, /* "surface sl st along Row 8": upon the finished cloth, as `surface` says; none of a row's acts */
	TB_ACT_OTHER_EDGE, /* the work goes on along an edge that no row shows; bare: along the last row again */
	TB_ACT_LOOPS, /* `place.loops` from here on, where nothing else is said */
	TB_ACT_SHAPE, /* the stitch in each place, and `count` increased (`each` 2) or drawn together
	                 (`each` 0) where `shaped` says; `shaped_to`: so that there are `count` stitches */
	TB_ACT_AT_END, /* "at the end of Row 20": what is behind it begins the row after; `count`: 20 */
	TB_ACT_DO_NOT_TURN, /* "do not turn", at a row's end */
	TB_ACT_CLAIM, /* the count the designer claims */
	TB_ACT_SIDE,  /* `side` faces */
	TB_ACT_WITHIN, /* before a row: of what stands below only the first `count`; `these`: all, which are so many */
	TB_ACT_NOT_BEHIND, /* "do not sk st behind", of the stitch before it; `why` where none is */
	TB_ACT_SKIPPED_COUNT, /* `counts`: whether the chains skipped at the beginning count */
	TB_ACT_CANNOT, /* understood, and not worked: `why` */
} tb_act_kind;

typedef enum {
	TB_UNTIL_TIMES, /* `count` times in all */
	/*
	 * As often as it comes out, to the last `count` places (0: the row's end); to the last `count`
	 * of the kind of `place` where that is TB_IN_LAST.
	 */
	TB_UNTIL_END,
} tb_until;

/* Whether a stitch is the one of the pattern that the rows before have shown. */
typedef enum {
	TB_PATTERN_NOT,
	TB_PATTERN_SAID,    /* "patt to end": it must be known */
	TB_PATTERN_EVEN,    /* "work even": else the ordinary stitch */
	TB_PATTERN_SHAPING, /* "work 2 tog", "dec 1 st at each end": of that, else of the ordinary stitch */
} tb_in_pattern;

typedef enum {
	TB_COUNTS_UNSAID,
	TB_COUNTS,
	TB_COUNTS_NOT,
} tb_counts;

typedef enum {
	TB_SIDE_UNSAID,
	TB_SIDE_RIGHT,
	TB_SIDE_WRONG,
} tb_side;

/* Which edge of a flat piece is worked along. */
typedef enum {
	TB_EDGE_UNKNOWN,
	TB_EDGE_SIDE, /* the ends of the rows */
	TB_EDGE_FOUNDATION, /* the other side of the chain */
	TB_EDGE_NEXT, /* "to next corner": the one whose turn it is */
	TB_EDGE_AROUND, /* all of them */
} tb_cloth_edge;

/* On what a chain that counts is said to stand. */
typedef enum {
	TB_STANDS_UNSAID,
	TB_STANDS_ON_SLIP,
	TB_STANDS_ON_FIRST,
} tb_stands;

/* Which square of filet lies beneath, where that is said. */
typedef enum {
	TB_OVER_UNSAID,
	TB_OVER_SPACE,
	TB_OVER_BLOCK,
} tb_over;

typedef struct tb_act tb_act;

/* Where a line of surface slip stitches lies: along rows, between two rows, or between two stitches of each row. */
typedef struct {
	tb_number first, last; /* the rows; `last` count 0: that one alone; `first` count 0: all */
	bool between;          /* in the line between those two */
	tb_number st, beside;  /* between these stitches of each; count 0: along the rows */
} tb_surface_line;

/* Surface slip stitches of one sentence. */
typedef struct {
	const tb_surface_line *lines;
	unsigned count;
	tb_number each; /* so many in each stitch, or in each row of a line up the rows */
	tb_number made; /* stated: so many in all; count 0: not */
	bool made_each; /* … in each line */
	const char *colour; /* as it is said; or NULL */
} tb_surface;

typedef struct {
	const tb_act *acts; /* `count` of them, side by side */
	unsigned count;
} tb_acts;

struct tb_own {
	const char *name;
	const tb_stitch *stitch; /* one stitch, or NULL */
	const tb_stitch *over;   /* so many of these drawn together as the row says, "CL over next 7 sts"; or NULL */
	tb_acts acts;            /* a group in one place; empty for a stitch */
	bool whole;              /* the acts say their own places */
	const tb_place *space;   /* "corner = (dc, ch 2, dc) in the ch-2 sp": where a group goes of which no other place is said; or NULL */
	tb_span span;            /* the words in a row that name it; empty where it is defined apart */
};

/* A group that is only called by its name: what it is, rows below tell. */
static inline bool tb_own_is_like(const tb_own *own)
{
	return own != NULL && own->stitch == NULL && own->over == NULL && own->acts.count == 0;
}

/* Whether the same words name both: a row that is read in several ways makes one in each. */
static inline bool tb_own_is_same(const tb_own *one, const tb_own *other)
{
	return one == other || (one->span.end > one->span.start && other->span.end > other->span.start &&
		one->span.end == other->span.end);
}

struct tb_act {
	tb_act_kind kind;
	tb_span span;
	const tb_stitch *stitch; /* TB_ACT_WORK, and TB_ACT_CHAIN's counts_as */
	tb_number each; /* TB_ACT_WORK: so many in each place */
	tb_number count;
	tb_place place;
	tb_counts counts; /* TB_ACT_CHAIN; TB_ACT_WORK in TB_IN_NTH_CHAIN: of the chains skipped there */
	tb_counts counts_here; /* the same, said of such chains for all rows */
	const tb_stitch *skipped_as; /* TB_ACT_WORK: what the skipped chains before it are said to be; or NULL */
	unsigned skipped_space; /* … and of how many chains its space is; 0: not said */
	unsigned told; /* TB_ACT_SKIPPED_COUNT: stitches, those it stands behind too */
	bool do_not_skip_behind; /* TB_ACT_WORK: "do not sk st behind" makes an increase */
	tb_acts body;
	tb_until until;
	bool unsaid; /* TB_ACT_REPEAT: how often is not said; TB_ACT_CHAIN, TB_ACT_WORK along an edge: how
	                many are not, but that they are a multiple of `each`, and `count` more */
	tb_number between; /* TB_ACT_WORK in each place, "2 ch between": so many chains; count 0: none */
	bool always; /* TB_ACT_LOOPS: of the whole row, wherever it is said, and of the rows after it */
	tb_shaped shaped; /* TB_ACT_SHAPE */
	bool shaped_to;
	const tb_act *other_end; /* … and at the other end of the same row; or NULL */
	tb_in_pattern pattern; /* TB_ACT_WORK, TB_ACT_SHAPE */
	bool hyphen; /* TB_ACT_CHAIN: written "ch-3", which names one that is there */
	unsigned ends; /* TB_ACT_REPEAT, "ending with dc in last dc": so many acts behind it are its end */
	bool corresponds; /* TB_ACT_REPEAT, "ending to correspond": the last time is cut short where what
	                     the row began with comes again */
	unsigned body_last; /* TB_ACT_REPEAT: the last time ends before this act ("ending at **");
	                       0 for the whole body */
	bool squares; /* TB_ACT_REPEAT: of filet, "3 sps"; TB_ACT_WORK: of a block; TB_ACT_CHAIN: their edge, unsaid */
	tb_stands stands; /* TB_ACT_CHAIN */
	tb_over over; /* TB_ACT_WORK, TB_ACT_SKIP: the first of a square that takes places of the row below */
	guint32 ahead; /* the first act of a name whose place stands before it, "in next 2 sts, X-st": where that begins; or 0 */
	bool further; /* … "5 more sps": beside one that is there */
	tb_number in_each; /* TB_ACT_WORK in TB_IN_EDGE, "in each of the 12 rows": so many rows or chains; count 0: not said */
	bool in_rows; /* … rows */
	bool in_motifs; /* … motifs beside each other */
	bool of_others; /* … stitches that other pieces have there, "sc in each of 6 unworked sts": of a row upon nothing else */
	const tb_act *proof; /* … such an act of this one's own; or NULL */
	bool proves; /* … it makes nothing, and tells how the stitches of the act before lie, "24 sc along side (2 in each row end)" */
	bool row_ends; /* TB_ACT_WORK in TB_IN_EDGE, "sc in the end of each row": as many as there are rows; "3 sc in every 2
	                  row ends": `each` for every `count` of them */
	tb_cloth_edge edge; /* TB_ACT_WORK in TB_IN_EDGE */
	bool evenly; /* TB_ACT_WORK, "sc evenly around": along the edges, where the rows are flat; TB_ACT_REPEAT,
	                "increasing in every 4th dc": counted from the row's first stitch, which a chain may be */
	bool equal; /* TB_ACT_WORK, "11 sc in next 11 sc": so many in each place, or one in each */
	bool beside; /* TB_IN_EDGE: in brackets, or "working 15 sc along each side" */
	bool along; /* TB_ACT_WORK, TB_ACT_REPEAT: "inc around", with no word of the stitches it goes into */
	bool bare;  /* TB_ACT_RING; TB_ACT_WORK without a place: in the next ones, or where the last went; TB_ACT_SKIP
	             * of so many, that are not said to be the next ones; TB_ACT_OTHER_SIDE: "rotate", which
	             * means it where the chain has one that is worked; TB_ACT_CHAIN: "5 ch" */
	bool these; /* TB_ACT_LEAVE, TB_ACT_WITHIN */
	bool after_stop; /* a full stop stands before it */
	bool times_more; /* TB_ACT_REPEAT: the text said "rep … n times": count is n + 1, and n may
	                       have been meant */
	tb_size_set sizes; /* TB_ACT_ONLY */
	const tb_stitch *foot; /* "sc, ch 2 (counts as dc)", TB_ACT_WORK: under the chain stands this; or NULL */
	tb_side side; /* TB_ACT_SIDE */
	const tb_claim *claims; /* TB_ACT_CLAIM; of another: how many are said to be made when it is worked */
	unsigned claim_count;
	tb_marker mark; /* a marker is put in a stitch when it is worked; of TB_ACT_CLAIM: when what stands before is */
	unsigned mark_nth;
	const tb_acts *laid; /* … TB_MARK_LAID, TB_MARK_SEVERAL */
	const tb_stitch *mark_of; /* … TB_MARK_NTH, "in 11th dc": of that kind; NULL: of any */
	const tb_own *own; /* TB_ACT_GROUP: of what the pattern's words define */
	const char *why, *code, *hint; /* TB_ACT_CANNOT */
	const tb_surface *surface; /* TB_ACT_SURFACE */
	tb_number corner_each; /* along an edge, "90 sc evenly around, working 3 sc in each corner": so many of them there; count
	                          0: not said */
	const tb_act *other; /* TB_ACT_WORK, "FPdc around each FPdc and BPdc around each BPdc": what is
	                        worked where its kind of place comes first; or NULL */
	bool all_kinds; /* … and there is no other kind: "sc in each sc, hdc in each hdc, dc in each dc" */
	bool alike; /* … which of them there are, nothing says: "the same stitch in each st" */
};

/* Whether stitches come of it. */
static inline bool tb_act_is_work(const tb_act *act)
{
	return act->kind == TB_ACT_WORK || act->kind == TB_ACT_GROUP || act->kind == TB_ACT_KNOT ||
		act->kind == TB_ACT_REPEAT;
}

/* "double knot st" and its kin; "knot st", of no number of knots, is any of them. */
static inline bool tb_own_is_knots(const tb_own *own)
{
	return own != NULL && own->acts.count == 1 && own->acts.acts[0].kind == TB_ACT_KNOT;
}

typedef enum {
	TB_SENTENCE_START, /* before row 1: the foundation */
	TB_SENTENCE_ROWS, /* rows `first` to `last`, worked as the acts say */
	TB_SENTENCE_REPEAT, /* rows worked again */
} tb_sentence_kind;

typedef enum {
	TB_REPEAT_OVER, /* "Rows 5-8: Rep Rows 1-4": over rows `first` to `last` */
	TB_REPEAT_TIMES, /* `times` times */
	TB_REPEAT_MEASURES, /* until the piece measures `measure_mm` */
	TB_REPEAT_PATTERN, /* "for pattern": once, to show the repeat; the designer gave no end */
	TB_REPEAT_COUNT, /* "until you have 48 sts": until a row counts `times` */
	TB_REPEAT_BETWEEN, /* "until there are 30 sc between increases": until there are `times` */
	TB_REPEAT_GROWN, /* "until you have worked 6 increase rounds": until `times` rows of the part have grown so */
	TB_REPEAT_SECTION, /* "until there are 14 dc in each section": until `section` stands so often side by side */
	TB_REPEAT_EDGE, /* "until all sts of body are used": until the rows are joined to all of that edge */
	TB_REPEAT_TOTAL, /* "for a total of 20 rows": until there are `times` rows */
	TB_REPEAT_MATCH, /* "complete to match first side": the rows that the first side has more than this one; "Short rows
	                    2-4: as left side": from `repeat_of` on */
	TB_REPEAT_SECTIONS, /* "until there are 8 dc in each section": `times` of `section` in each */
} tb_repeat_until;

typedef struct tb_sentence tb_sentence;

/*
 * "every RS row 4 times": a stretch of a plan. Its first row is the next, or `every` rows on; or the next of `side`; or
 * that of number `row`.
 */
typedef struct {
	tb_number every, times;
	bool now;
	tb_side side;
	unsigned row;
} tb_shaped_stage;

#define TB_MOST_STAGES 8u
#define TB_MOST_TRACKS 3u

/* What is shaped, a row alone, and on which rows: one stage after another. */
typedef struct {
	const tb_sentence *shaped;
	const tb_shaped_stage *stages;
	unsigned count;
	unsigned like; /* … as in this row, which is shaped so; 0: not said */
} tb_shaped_track;

/* From where a length is measured. */
typedef enum {
	TB_SINCE_BEGIN,   /* of the piece */
	TB_SINCE_HERE,    /* "for 5 cm" */
	TB_SINCE_ARMHOLE, /* "until armhole measures 18 cm", "from underarm" */
	TB_SINCE_PART,    /* "until yoke measures 20 cm": from where what is called so begins, */
	TB_SINCE_END,     /* "from top of cuff": and from where it ends */
	TB_SINCE_ROW,     /* "above Row 12": from row `since_row` */
	TB_SINCE_MARKER,  /* "from marker": from the last row with a marker in it */
	TB_SINCE_SHAPED,  /* "from last increase": from the last row with more or fewer stitches than below */
	TB_SINCE_UNKNOWN,
} tb_since;

/*
 * What is other in a row that is worked like one before: "having 1 more dc in each section". A
 * section is what stands side by side of the kind.
 */
typedef struct {
	tb_place of; /* the kind: its target, and what goes with that */
	int more;    /* so many more in each; fewer where it is below 0 */
	int becomes; /* "ch 7 instead of ch 5": so many, where there were `before`; 0: not said so */
	int before;  /* … 0: "ch 7 in each loop", however many those have now */
	const tb_own *other; /* "a wide corner in place of each corner": instead of `of`; or NULL */
	bool sides;  /* said to be on each side of a stitch, which is of no section, sc3tog between sc or any other */
	bool in_each; /* said to be in each section; a row has one, where it is not */
	bool in_place; /* said to be in each space or stitch: what is worked in one place */
	tb_span span;
} tb_change;

/* A stretch of a row in one reading. */
typedef struct {
	guint32 from, to; /* places of the text */
	guint32 cost;     /* how far from the usual way of writing */
	tb_acts acts;
} tb_way;

/* A colour that a row's words bring in, from byte FROM of the source on. */
typedef struct {
	guint32 from;
	unsigned row; /* "… at the end of Row 6": of that row alone; 0: of each */
	const char *name; /* NULL: nobody knows which */
} tb_colour_mark;

/* A plain stitch that a row's words name, once; or a chain of so many, "ch-3", STITCH is NULL then. */
typedef struct {
	const tb_stitch *stitch;
	unsigned chains;
	tb_span span;
} tb_named;

struct tb_sentence {
	tb_sentence_kind kind;
	tb_span span;
	unsigned first, last; /* row numbers; 0 for a start, a foundation row, an unnumbered repeat */
	tb_number first_in; /* "Row 25 (27, 29)": its number in each size; count 0 when not graded */
	tb_number last_in; /* "Rows 2-4 (6, 8)": the last row in each size; count 0 when not graded */
	tb_number many; /* "Next 4 rows", where their numbers are not known; count 0 otherwise */
	bool is_round;
	bool round_unsaid; /* "R1:" of either: what comes behind may tell that it was a row */
	bool opens_block; /* "*Work 5 rows even.": a star begins rows here that are worked again, */
	bool closes_block; /* … and one ends them: "…, turn.*" */
	bool starred;      /* "** " stands behind it: another piece is worked as this one "to **" */
	unsigned joined_sides; /* "Rnd 2 (joined on 2 sides)": along so many; 0: not said */
	bool only_told; /* "Dec rnd: …" beside "Plain rnd: …": worked where it is named, and not where it stands */
	bool only_named; /* "Sleeve:", and no number: so its rows may be as many as is said behind it */
	bool not_turned; /* "do not turn" behind it: what begins where it began goes the same way */
	bool not_turned_first; /* … and that stands before what it works: the row before is not */
	bool left_out; /* not understood, which is told; what comes after it cannot be judged, unless */
	bool uncounted; /* of a row of another piece, which is not as wide: the counts it tells are not asked */
	bool taken;    /* its text states how many stitches it has: `claims`; the acts only end the row */
	const char *part; /* a part of the piece begins with it, which is called so; or NULL */
	bool anew;        /* … whose rows are numbered from 1 again */
	const char *series; /* what its rows make that have numbers of their own, "Rib row 2"; or NULL */
	tb_side side;
	tb_loops loops; /* "… across, taking up the back loop": where nothing else is said in the row */
	bool always;    /* … and in the rows after it: "work always in back loop" */
	const tb_act *marks; /* of a text that puts a marker and does no more: TB_ACT_CLAIM with a `mark`; or NULL */
	tb_span side_span; /* "RS"; empty when not said */
	tb_shaped_so shape;
	tb_size_set sizes; /* the sizes it is worked in; all bits set when not limited */
	tb_acts acts; /* the cheapest way through */
	tb_acts surface; /* TB_ACT_SURFACE: what is worked upon the cloth when the piece is done */
	const tb_claim *claims;
	unsigned claim_count;
	/* All ways to read the row: each from one place of the text to another, in the order of where
	 * they begin. None where there is one way only. */
	const tb_way *ways;
	unsigned way_count;
	guint32 way_end; /* the place where the row ends */
	const tb_sentence *original; /* of a reading that was chosen: all of them; or NULL */
	unsigned meaning; /* which of two things its words mean: rows/choose.c, tb_meaning */
	unsigned mirror_of;   /* the number of the piece, from 1, whose mirror this row's piece is; 0: of none */
	guint32 mirror_row;   /* … or the row of this piece, an index, that it mirrors; 0: none */
	const tb_sentence *unmirrored; /* … of a row with its shaping at the other end: its own words; or NULL */
	const tb_act *within; /* TB_ACT_WITHIN: what the first of its rows is worked on; or NULL */

	const tb_colour_mark *colours; /* as they stand; none where it says nothing of colours */
	unsigned colour_count;
	const tb_named *named; /* of a row: what its words name, made in it or below it */
	unsigned named_count;

	/* TB_SENTENCE_REPEAT */
	unsigned repeat_first, repeat_last; /* 0 where REPEAT_BACK alone says them */
	unsigned repeat_block; /* "Rep from * to *": 2, the rows between the stars; "Rep from *": 1, from the star on; 0: no such */
	bool repeat_down; /* "Rows 3 and 2": the last of them first */
	const char *repeat_part; /* "Same as First Earflap": the part they are of, as it is said; or NULL */
	const tb_sentence *plain; /* "Plain rnd: …", told so: the rows between others that are even; or NULL */
	const tb_sentence *repeat_of; /* "Rep dec row": the row of that name, where its number is open; or NULL */
	unsigned repeat_back; /* "last 2 rows": so many back from the last of each size; 0 when numbered */
	unsigned repeat_nth;  /* … "the first of them": this one alone; 0: all */
	tb_number back_in; /* "last 4 (3, 2) rows": … in each size; count 0 when not graded */
	tb_span repeat_span; /* "Rows 3-6" */
	tb_acts begin; /* "Skip 4 sts, join yarn in next st and rep Rows 5-9": how the first of them begins here */
	tb_repeat_until until;
	tb_number times;
	const tb_stitch *count_of; /* TB_REPEAT_COUNT: "until there are 48 dc", which spaces of chains are none of; NULL: sts */
	bool between_marks; /* TB_REPEAT_COUNT: so many between the two markers of the last row */
	const tb_stitch *section_stitch; /* TB_REPEAT_SECTION */
	unsigned section_rows; /* … and so many rows have such sections then; 0 when not said */
	const double *measure_mm; /* one, or one a size; NULL unless TB_REPEAT_MEASURES */
	unsigned measure_count;
	tb_span measure_span;
	tb_since since;
	bool counted_all;  /* TB_REPEAT_TOTAL: "counting from foundation row", which others may be numbered behind */
	bool counted_part; /* … "52 rows of the pattern", "not counting the set-up row": no row of what goes before */
	unsigned since_row;
	const char *since_name; /* "cuff", interned; NULL where none is named */
	bool wished;       /* … "to the length you like" */
	bool often_open;   /* TB_REPEAT_PATTERN: nothing says how often */
	bool often_unsaid; /* … and more comes behind it */
	unsigned ending_row; /* "ending with Row n"; 0 when not said */
	tb_side ending_side; /* "ending with a WS row" */
	const tb_stitch *ending_in; /* "ending with a row of dc"; or NULL */
	tb_shaped ending_at; /* "ending with a RS row at neck edge": TB_SHAPED_NECK, TB_SHAPED_OUTER; TB_SHAPED_ENDS: not said */
	const tb_sentence *shaped; /* "dec 1 st at each end of every 4th row": that row; or NULL */
	const tb_sentence *placed; /* "every 7th row is an inc row, counting from Row 1": that row, told by itself above; or NULL */
	tb_number every; /* … and which one it is of so many, the others being worked even; count 0: not so */
	tb_side every_side; /* … "every RS row": of so many of that side alone */
	const tb_shaped_track *tracks; /* what is shaped, each by a plan of its own, at the same time; or NULL */
	unsigned track_count;
	bool shapes_next; /* … "of next and every 4th row": the next row is the first of them */
	bool once_more; /* … "next and every 4th row 3 times": 3 in all or behind the next, as its count tells */
	const char *same_as_piece; /* "same length as Back"; NULL when not said */
	const char *same_part; /* … "to shoulder": up to the part that is called so, "shoulder"; NULL: all of it */
	bool same_rows; /* … "as many rows as Back" */
	bool grows; /* "continue increasing in this way": as the rows before grew */
	int grow;   /* … "with 1 more sc between increases": so many more, or fewer below 0; 0: not said */
	int grow_by; /* … "increasing 6 sts every round": so many more, fewer below 0; 0: not said */
	tb_number grow_adds; /* … "each increase round adds 20 (22) sts", in each size; count 0: not said */
	bool grow_now; /* … "now on every round": as the last row that was shaped, though even rows lie behind it */
	bool grown_more; /* TB_REPEAT_GROWN: so many more than there are */
	int grow_way; /* … more, fewer below 0; 0: not said, as the rows before went */
	unsigned pattern_first, pattern_last; /* "rows 2-5 form the pattern" stands before it; 0: not said */
	const tb_stitch *turns_in; /* … "one row sc and one row hdc by turns": in turn with rows of `even_in`; or NULL */
	const tb_stitch *even_in; /* … "in hdc": of this stitch; NULL where none is named */
	tb_loops even_loops; /* … "sc in the back loops" */
	const tb_sentence *even; /* "work even", no row named: the ordinary stitch in each stitch */
	unsigned starts_row; /* … "beginning with Row 8": as the rows of the last repeat come, from that one on; 0: not said */
	bool alike; /* … "work 6 more rows the same": or the last row again, where it was shaped */
	const tb_change *changes; /* what is other in each row from the one it is worked like */
	unsigned change_count;
	bool ends_otherwise; /* "but ending with ch 3": the row ends with `ending`; with `last_goes`: unless that can be */
	tb_acts ending;
	bool loops_otherwise; /* "in back loops only": each of these rows is worked in `loops` */
	bool loops_amid; /* … "between the edges and the center": the stitches into each of the row below alone */
	const tb_act *last_goes; /* "working last dc in top of tch": where the row's last stitch goes; stitch NULL: any */
	bool turns_otherwise; /* "ending last row with ch 1": the last of these rows is turned with `tail` */
	tb_acts tail;
	const tb_change *section; /* TB_REPEAT_SECTIONS: of what kind */
};

/* All sentences of one piece, the start first. */
typedef struct {
	tb_arena *arena;
	const tb_sentence **sentences;
	unsigned count;
	bool has_fault; /* a start or a row was not understood and is left out */
	/* What became of each text of the piece's rows, one a row, and behind them of its start. */
	const tb_read_as *row_as;
	int from_piece; /* the number of the piece it grows from, or -1 */
	bool has_from; /* the piece takes stitches of another: these, counted from 1 */
	tb_number from_first, from_last;
	GArray *asides; /* tb_span, owned, in no order: what was read past within the rows */
	GPtrArray *borrowed; /* tb_script, owned: of pieces whose rows are worked here too */
	tb_side from_side; /* "with RS facing" */
	tb_span from_span;
} tb_script;

/* What makes stitches and what is only said goes to SENTENCE: acts, claims, side. */
void tb_sentence_set_acts(tb_sentence *sentence, tb_arena *arena, const GArray *said);

void tb_script_destroy(tb_script *script);

G_DEFINE_AUTOPTR_CLEANUP_FUNC(tb_script, tb_script_destroy)

/* Whether NUMBER is VALUE in all sizes. */
bool tb_number_is(const tb_number *number, int value);
/* How long what stands before the name is where OWN is the first of a kind, as "beg " in "beg shell"; else 0. */
size_t tb_own_first_word(const tb_own *own);

#endif
