/*
 * The instruction tree: what the row language says, before anybody works it.
 *
 * A tb_sentence is one row's text (or one start, one row repeat). Its acts are in the order they
 * are worked. Everything lives in the arena of the tb_script that owns it and is const once read.
 * US terms inside, whatever the pattern speaks.
 */
#ifndef TB_NOTATION_TREE_H
#define TB_NOTATION_TREE_H

#include "stitches/stitch.h"
#include "support/arena.h"

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

static inline int tb_number_in(const tb_number *number, unsigned size)
{
	return number->values[number->count == 1 ? 0 : size];
}

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
	TB_IN_SKIPPED, /* the `count` places skipped last */
} tb_in;

/* What kind of place is meant. */
typedef enum {
	TB_TARGET_STITCH, /* any stitch; a chain counts as one */
	TB_TARGET_CHAIN, /* a chain stitch itself */
	TB_TARGET_SPACE, /* a chain space; `space_chains` long, 0 for any */
	TB_TARGET_TURNING_CHAIN, /* top of the turning chain */
	TB_TARGET_NAMED, /* a stitch of the kind `named` */
} tb_target;

typedef enum {
	TB_LOOPS_BOTH,
	TB_LOOPS_FRONT,
	TB_LOOPS_BACK,
} tb_loops;

/*
 * A place of a stitch that draws n together (takes n) is n stitches side by side: "dc2tog over next
 * 2 sts" has a count of 1, "3 dc2tog" a count of 3.
 */
typedef struct tb_place tb_place;
struct tb_place {
	tb_in in;
	tb_target target;
	tb_number count;
	const tb_stitch *named; /* for TB_TARGET_NAMED */
	unsigned space_chains; /* for TB_TARGET_SPACE */
	unsigned rows_below; /* 1 is the row just worked on; only posts and spikes go deeper */
	unsigned posts; /* a leg around each of so many posts side by side; 0: all around one */
	bool around; /* "around", as a post stitch is worked */
	bool middle; /* "the middle dc of 3" */
	tb_loops loops;
	const tb_place *also;  /* "each sc and each ch-1 sp": this kind of place as well; or NULL */
	const tb_place *up_to; /* TB_IN_EACH, "each st to next ch-2 sp": ends before that; or NULL */
	tb_span span; /* of the words that say where */
};

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
	TB_ACT_LEAVE, /* "leave rem sts unworked"; `count` of them, or all when it has none */
	TB_ACT_FASTEN_OFF,
	TB_ACT_JOIN_YARN, /* "join yarn in 5th st" */
	TB_ACT_RING, /* "join with sl st to form a ring", "magic ring" */
	TB_ACT_IN_FRONT, /* "working in front of sts just made" */
	TB_ACT_BEHIND, /* "working behind sts just made" */
	TB_ACT_ONLY, /* `body`, in the sizes of `sizes` alone */
	TB_ACT_OTHER_SIDE, /* "working along other side of foundation ch", back to where round 1 began */
} tb_act_kind;

typedef enum {
	TB_UNTIL_TIMES, /* `count` times in all */
	/*
	 * As often as it comes out, to the last `count` places (0: the row's end); to the last `count`
	 * of the kind of `place` where that is TB_IN_LAST.
	 */
	TB_UNTIL_END,
} tb_until;

typedef enum {
	TB_COUNTS_UNSAID,
	TB_COUNTS,
	TB_COUNTS_NOT,
} tb_counts;

typedef struct tb_act tb_act;

typedef struct {
	const tb_act *acts; /* `count` of them, side by side */
	unsigned count;
} tb_acts;

struct tb_act {
	tb_act_kind kind;
	tb_span span;
	const tb_stitch *stitch; /* TB_ACT_WORK, and TB_ACT_CHAIN's counts_as */
	tb_number each; /* TB_ACT_WORK: so many in each place */
	tb_number count;
	tb_place place;
	tb_counts
		counts; /* TB_ACT_CHAIN; TB_ACT_WORK in TB_IN_NTH_CHAIN: of the chains skipped there */
	bool do_not_skip_behind; /* TB_ACT_WORK: "do not sk st behind" makes an increase */
	tb_acts body;
	tb_until until;
	unsigned body_last; /* TB_ACT_REPEAT: the last time ends before this act ("ending at **");
	                       0 for the whole body */
	bool times_more; /* TB_ACT_REPEAT: the text said "rep … n times": count is n + 1, and n may
	                       have been meant */
	tb_size_set sizes; /* TB_ACT_ONLY */
	const tb_act *other; /* TB_ACT_WORK, "FPdc around each FPdc and BPdc around each BPdc": what is
	                        worked where its kind of place comes first; or NULL */
};

typedef enum {
	TB_SIDE_UNSAID,
	TB_SIDE_RIGHT,
	TB_SIDE_WRONG,
} tb_side;

/*
 * One part of a claimed count: "83 sts", or "12 dc". stitch NULL and spaces 0: stitches of any
 * kind.
 */
typedef struct {
	tb_number count;
	const tb_stitch *stitch;
	bool spaces;
	unsigned space_chains;
	tb_span span;
} tb_claim;

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
} tb_repeat_until;

typedef struct {
	tb_sentence_kind kind;
	tb_span span;
	unsigned first, last; /* row numbers; 0 for a start, a foundation row, an unnumbered repeat */
	tb_number first_in; /* "Row 25 (27, 29)": its number in each size; count 0 when not graded */
	tb_number last_in; /* "Rows 2-4 (6, 8)": the last row in each size; count 0 when not graded */
	bool is_round;
	bool left_out; /* not understood, which is told; what comes after it cannot be judged */
	tb_side side;
	tb_span side_span; /* "RS"; empty when not said */
	tb_size_set sizes; /* the sizes it is worked in; all bits set when not limited */
	tb_acts acts;
	const tb_claim *claims;
	unsigned claim_count;

	/* TB_SENTENCE_REPEAT */
	unsigned repeat_first, repeat_last;
	tb_span repeat_span; /* "Rows 3-6" */
	tb_repeat_until until;
	tb_number times;
	const double *measure_mm; /* one, or one a size; NULL unless TB_REPEAT_MEASURES */
	unsigned measure_count;
	tb_span measure_span;
	unsigned ending_row; /* "ending with Row n"; 0 when not said */
	tb_side ending_side; /* "ending with a WS row" */
	const char *same_as_piece; /* "same length as Back"; NULL when not said */
} tb_sentence;

/* All sentences of one piece, the start first. */
typedef struct {
	tb_arena *arena;
	const tb_sentence **sentences;
	unsigned count;
	bool has_fault; /* a start or a row was not understood and is left out */
	int from_piece; /* the number of the piece it grows from, or -1 */
	bool has_from; /* the piece takes stitches of another: these, counted from 1 */
	tb_number from_first, from_last;
	tb_span from_span;
} tb_script;

void tb_script_destroy(tb_script *script);

G_DEFINE_AUTOPTR_CLEANUP_FUNC(tb_script, tb_script_destroy)

#endif
