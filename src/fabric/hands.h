/*
 * The hands: all that is kept in mind while one piece is worked in one size.
 *
 * Shared by the files that work a row: work.c (pieces and sizes), rows.c (one row after another), turning.c
 * (foundation and turning chains), travel.c (rows that begin further on), acts.c (what a row says), place.c (where
 * the hook goes in), repeat.c (repeats inside a row), account.c (what is wrong with a finished row).
 */
#ifndef TB_FABRIC_HANDS_H
#define TB_FABRIC_HANDS_H

#include "fabric/fabric.h"
#include "fabric/gather.h"
#include "support/diagnose.h"
#include "support/limits.h"

/* The most stitches of the row below one stitch stands on; the library allows no more. */
#define TB_MOST_BASES TB_LIMIT_STITCH_TAKES

/* What all pieces and sizes share. */
typedef struct {
	const tb_pattern *pattern;
	tb_worked *worked;
	tb_diagnostics *diagnostics;
	tb_gather *gather; /* of the piece now worked; NULL: nobody listens */
	const tb_stitch *chain, *slip;
	tb_arena *arena; /* of the readings chosen; lives as long as the fabric */
	GHashTable *chosen; /* GBytes: a row and how it is read -> tb_sentence */
	guint64 made; /* stitches made in all pieces and sizes */
	/* acts carried out, and places looked at: bounds the time a hostile pattern can take */
	guint64 steps, most_steps;
	guint64 tried; /* steps and stitches of all searches for a repair */
	bool stopped; /* a limit of the whole pattern was reached */
} tb_working;

/* So many acts are looked back at for what is said to be made. */
#define TB_MOST_BEGINS 16u

/* Where a stitch stands. */
typedef struct {
	guint32 bases[TB_MOST_BASES];
	guint32 behind;
	guint8 count, flags, rows_below;
} tb_footing;

/* Where the hands are in a row. Copied before a pass that may have to be taken back. */
typedef struct {
	guint32 due; /* index into places: the next to be worked */
	guint32 first; /* the place the row begins at; not 0 where yarn was joined further on */
	tb_footing last;
	bool has_last;
	guint32 skipped_from, skipped_count;
	guint32 skipped_used; /* of the skipped places, how many were worked into after all */
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
	unsigned edges; /* stitches went along so many edges: what stands behind is as likely their count */
	guint32 own_chain, own_chains; /* chains just made that are worked along: the next, and how many */
	guint32 passed; /* up to here places may be passed over: the rest of a group worked in part */
	bool began_in_gap; /* the round goes from gap to gap, and has one more behind its last stitch */
	bool ends_at_join; /* the last place of the round is the stitch of the join, under its first chain */
	guint32 picot; /* the picot worked into or skipped last, counted from 1; 0: none yet */
	guint32 before_space; /* places that were passed over to the last space */
	guint32 before_named; /* stitches that were passed over to the last stitch that is named */
	guint32 passed_from, passed_to; /* what was passed over last to come to a group */
	guint32 usual_skip; /* places that the repeats of the row skip each time */
	bool against; /* a turning chain that always counts is taken not to */
	unsigned passes; /* of repeats that stand in no other */
	unsigned odd; /* stitches in places that are rarely meant: each makes a reading less likely */
} tb_cursor;

/*
 * What stands at the corner of row 1, made of the foundation chains that are skipped; or of a later
 * row that begins in chains added at the end of the row before.
 */
typedef struct {
	guint32 row; /* index into rows */
	unsigned chains; /* of the turning chain; 0 when none are skipped */
	unsigned space; /* chains of the space beside it, where the row begins with one */
	unsigned skipped; /* in all */
	bool counted;
	const tb_act *said; /* an act that said no more than this, not to be carried out again */
} tb_corner;

/* A fault found in a pass that may yet be taken back. */
typedef struct {
	tb_severity severity;
	const char *code;
	tb_span span;
	char *message, *hint;
} tb_held_fault;

/* What is made of the piece so far. */
typedef struct {
	GArray *made; /* tb_made */
	GArray *bases; /* guint32; of stitches that have several */
	GArray *rows; /* tb_made_row */
	GArray *repeats; /* tb_row_repeat */
	GArray *reached; /* tb_reached */
	double height; /* of the rows so far, in chains */
	GHashTable *group_owns; /* group number -> tb_own it was worked as; none for a group unnamed */
	GArray *marks; /* guint32: made stitches that a marker is in */
} tb_cloth;

/* What the piece begins with. */
typedef struct {
	guint32 chains;
	guint32 open; /* a start chain whose length is not said: as long as this */
	int change; /* so many chains more than the text says, to try whether that comes out */
	guint32 only_to; /* index of the row such a try ends with; 0 when rows are worked in earnest */
	bool repaired; /* a chain that comes out was looked for */
	tb_span span;
	bool is_ring, is_tube; /* of the second the chain is joined, and worked into chain by chain */
	bool grown, opening; /* from another piece, or foundation stitches; around an opening of another */
} tb_beginning;

/* The row being worked, beside where the hands are in it. */
typedef struct {
	GArray *places; /* guint32: the tops below, in the order they come to the hook */
	GArray *grounds; /* other work that the row stands on as well: ground.c */
	guint32 turning_place; /* where the turning chain below stands among them, or TB_NONE */
	guint32 on_row; /* index of an earlier row that it is worked into instead of the row below; 0: of none */
	bool on_missed; /* … and of that only what rows since have passed over */
	tb_acts pending; /* what the end of the row before said of this row's turning chain */
	unsigned tail; /* the acts of the row from this one on only end it */
	const tb_act *first_work; /* the first stitch the row works, or NULL */
	const tb_place *first_place; /* and where it goes: its own place, or its group's */
	tb_corner corner;
	const tb_stitch *counts_as; /* what this row's turning chain counts as, or NULL */
	bool counted_unsaid; /* it counts though nothing says so */
	bool unjudged; /* it depends on what a row taken at its word does not say */
	unsigned travel; /* the acts before this one only carry the hook to where the row begins, */
	bool travelled, keeps_stand; /* and did so; what they ended in is left for what closes the round */
	guint32 begun; /* index into made: what is made from here on is the row itself */
	bool other_side; /* of the foundation chain: places are those */
	guint32 first_side; /* … and so many stitches lie along the first */
	bool turned_over; /* … since the work was rotated or turned there */
	unsigned meaning; /* tb_meaning: what its words are taken to mean */
	unsigned asked; /* tb_meaning: where that made a difference */
	guint32 spare; /* so many of the last places need not be worked */
	guint32 stood, stands_in; /* so many of the last places its first slip stitches went along, and ended in */
	guint32 slipped; /* so many of the last places were slip stitched over before the round began */
	bool stands_on_last; /* the last place is where the round begins, and may be left unworked */
	guint32 beyond; /* so many of the last places were left by short rows: worked only where the row reaches them */
	const tb_footing *group; /* everything goes in here while a group is worked */
	guint32 groups_made;
	guint16 group_number; /* of the group being worked, or 0 */
	tb_loops loops; /* "working in back loops only": until the row ends */
	unsigned repeating; /* passes of repeats under way */
	tb_acts next_acts; /* those behind the one carried out */
	guint32 begins[TB_MOST_BEGINS]; /* index into made: where the acts carried out last began, by turns */
	guint32 begin_count;
	guint32 pass_due; /* what was due when the outermost of them began */
	GArray *set_aside; /* guint32: what short rows left that the row is not worked on: within.c */
	const tb_sentence *within_of; /* the text whose rows are worked, the first of them at: */
	guint32 within_row;
} tb_row_now;

/* What the rows before have left, and shown of the way the piece is written. */
typedef struct {
	/* tops that short rows left unworked, by the way they went, 1 for leftward; the nearest last */
	GArray *rest[2]; /* guint32 */
	bool rest_leftward; /* which way the last of them went */
	bool rest_shut[2]; /* a row since then ended at its own edge beside them */
	/* the rows whose stated count has the turning chain in it, or not; 0: none yet */
	guint32 row_with_turning, row_without_turning;
	bool was_short, loops_are_stitches; /* a row left stitches unworked; called stitches loops */
} tb_rows_before;

/* How the rows are numbered. */
typedef struct {
	bool is_open; /* rows were repeated to a length: numbers said after that are open */
	bool by_size; /* … over other numbers of rows in other sizes; a row 1 is none that follows */
	guint32 renumber; /* rows are numbered anew: what is added to their numbers */
	const char *part; /* the part of the piece that is worked, or NULL */
	guint32 before, from; /* its numbers FROM on are those of the rows from so many more: it numbers its own anew */
	bool has_gaps; /* rows were left out that this size does not have */
	guint32 missing_first, missing_last; /* numbers that were told to be missing; 0 for none */
} tb_labels;

/* Who tells the faults, or holds them until a pass is sure. */
typedef struct {
	unsigned trials; /* passes under way that may be taken back */
	unsigned choosing; /* of these, whole rows whose reading is being chosen */
	guint floor; /* what was made before the innermost of them */
	GArray *held; /* tb_held_fault */
	unsigned told[TB_ERROR + 1]; /* by severity */
	bool has_fault, row_fault; /* an error was found: in the piece, in the row */
	guint32 fault_row; /* where the first was */
} tb_teller;

typedef struct {
	tb_working *working;
	unsigned piece, size;
	const tb_sentence *sentence; /* of the row being worked, */
	guint32 row; /* whose index into rows this is */
	tb_cursor cursor;
	bool abandoned; /* a row could not be worked at all: there is nothing to go on with */
	tb_cloth cloth;
	tb_beginning start;
	tb_row_now now;
	tb_rows_before before;
	tb_labels labels;
	tb_teller teller;
} tb_hands;

static inline tb_made *tb_hands_made(const tb_hands *h, guint32 index)
{
	return &g_array_index(h->cloth.made, tb_made, index);
}

static inline guint32 tb_hands_base(const tb_hands *h, const tb_made *made, unsigned i)
{
	return made->base_count == 1 ? made->base : g_array_index(h->cloth.bases, guint32, made->base + i);
}

static inline guint32 tb_hands_place(const tb_hands *h, guint32 place)
{
	return g_array_index(h->now.places, guint32, place);
}

static inline tb_made_row *tb_hands_row(const tb_hands *h, guint32 row)
{
	return &g_array_index(h->cloth.rows, tb_made_row, row);
}

static inline const tb_stitch *tb_hands_stitch(const tb_hands *h, const tb_made *made)
{
	return tb_library_get(h->working->pattern->library, made->stitch);
}

/* What the pattern's own terms, US or UK, call a stitch. Borrowed. */
static inline const char *tb_hands_term(const tb_hands *h, const tb_stitch *stitch)
{
	return h->working->pattern->uk_terms ? stitch->uk : stitch->us;
}

/* Hands about to begin PIECE; finished, they leave nothing behind. H is the caller's. */
void tb_hands_init(tb_hands *h, tb_working *working, unsigned piece, unsigned size);
void tb_hands_finish(tb_hands *h);

/* A search that passed over THINGS, though nothing was made. */
static inline void tb_hands_look(const tb_hands *h, guint64 things)
{
	h->working->steps += things;
}

/* False when the pattern has had more of them than any needs, which is told at SPAN. */
bool tb_hands_may_go_on(tb_hands *h, tb_span span);

/* NUMBER in the size being worked; OTHERWISE when the text said none. "-" is 0. */
unsigned tb_hands_number(const tb_hands *h, const tb_number *number, unsigned otherwise);

/* Tells a fault of the row being worked, or holds it until the pass is sure. HINT may be NULL. */
void tb_hands_tell(tb_hands *h, tb_severity severity, const char *code, tb_span span,
	const char *hint, const char *format, ...) G_GNUC_PRINTF(6, 7);
/* The same, and nothing more can be worked in this row. */
void tb_hands_give_up(tb_hands *h, const char *code, tb_span span, const char *hint,
	const char *format, ...) G_GNUC_PRINTF(5, 6);

/*
 * Makes a stitch on FOOTING, which may be NULL. FLAGS are added to the footing's. Returns its
 * index, or TB_NONE when a limit is reached, which is told at SPAN.
 */
guint32 tb_hands_make(
	tb_hands *h, const tb_stitch *stitch, const tb_footing *footing, unsigned flags, tb_span span);

/* A pass that may be taken back: begun, and then kept or taken back. */
typedef struct {
	tb_cursor cursor;
	guint made, bases, held, floor;
	bool row_fault;
} tb_trial;

/* Tells the faults that were held, unless a pass is under way. */
void tb_hands_deliver_held(tb_hands *h);
/* Forgets the faults held beyond the first LENGTH. */
void tb_hands_drop_held(tb_hands *h, guint length);

tb_trial tb_hands_try(tb_hands *h);
void tb_hands_keep(tb_hands *h, const tb_trial *trial);
void tb_hands_take_back(tb_hands *h, const tb_trial *trial);

/* --- post.c --- */
/* The stitch one row below MADE: hidden behind it, or its base. TB_NONE when there is none. */
guint32 tb_post_below(const tb_hands *h, guint32 made);
/*
 * The stitch ACT's place means two or more rows down, DUE being the stitch now due; WHICH counts the
 * posts of one act from 0. TB_NONE when there is none, which is told.
 */
guint32 tb_post_find(
	tb_hands *h, const tb_act *act, const tb_stitch *stitch, unsigned which, guint32 due);

/* --- fold.c --- */
/* The round below is folded, and worked through both its layers, as ACT says. */
void tb_fold(tb_hands *h, const tb_act *act);

/* --- turning.c --- */

/*
 * Makes the foundation that row 1 is worked on. Row 1's sentence is read for it: the chains it
 * skips at the beginning stand up at the corner and are not part of the foundation.
 */
void tb_turning_found(tb_hands *h);
/*
 * Adds the chains said at the end of the row before to that row, where the next begins in them:
 * "ch 20, turn" and then "dc in 4th ch from hook", as for a sleeve.
 */
void tb_turning_extend(tb_hands *h);
/* Whether the chain the row begins with is a leg of its first cluster. */
bool tb_turning_is_leg(const tb_hands *h);
/* Makes what stands at the corner of the row, if anything. */
void tb_turning_corner(tb_hands *h);
/* Makes a turning chain at the beginning of a row. */
void tb_turning_chain(tb_hands *h, const tb_act *act);
/* The first stitch worked in ACTS, or NULL; *PLACE where it goes. */
const tb_act *tb_turning_first_work(const tb_hands *h, const tb_acts *acts, const tb_place **place);
/* Whether all that was made in the row so far is its turning chain. */
bool tb_turning_is_all(const tb_hands *h);

/* --- travel.c --- */
/* How many acts at the beginning only carry the hook to where the row begins, by slip stitches. */
unsigned tb_travel_find(tb_hands *h, const tb_acts *acts);
/* Whether the I-th act is a chain as tall as what is worked next, or said to count or not to. */
bool tb_travel_is_turning(const tb_hands *h, const tb_acts *acts, unsigned i);
/* Whether the row below was closed by a join, so that its first stitch holds the hook. */
bool tb_travel_was_joined(const tb_hands *h);
/* Whether ACT goes into the slip stitch that the round began with. */
bool tb_travel_is_own_slip(const tb_hands *h, const tb_act *act);
/* Before the first of those slip stitches, and behind the last. */
void tb_travel_set_out(tb_hands *h);
void tb_travel_arrive(tb_hands *h);
/* The space the round begins in, where yarn was joined in it, is worked into: what comes is behind it. */
void tb_travel_pass_space(tb_hands *h);
/* A chain leads to the join: the stitch of the join, which came last of the round, is not worked. */
void tb_travel_leave_join(tb_hands *h);
bool tb_travel_begins_turned(const tb_sentence *sentence);
bool tb_travel_is_turned_round(const tb_hands *h);
void tb_travel_stand_on_join(tb_hands *h);
/* The first place of a round comes last: of one that begins with a knot, or turned, beside the join. */
void tb_travel_begin_with_knot(tb_hands *h);
void tb_travel_begin_beside_join(tb_hands *h);
/* The places of a round from FIRST on, and then those before it. */
void tb_travel_rotate(tb_hands *h, guint32 first);
/* Turns around the end of the foundation chain, to work back along its other side. */
void tb_travel_other_side(tb_hands *h, const tb_act *act);
/* Whether a turn, or "rotate", at this place of round 1 brings the other side of the chain to the hook. */
bool tb_travel_turns_over(const tb_hands *h);

/* --- acts.c --- */
/* AFTER: the places that what follows these acts needs. */
void tb_acts_work(tb_hands *h, const tb_acts *acts, unsigned after);
/* acts_weigh.c: how unlikely it is that act I is meant so. */
void tb_acts_weigh(tb_hands *h, const tb_acts *acts, unsigned i);
/*
 * Where a round is joined behind a chain, or goes on where it began, what the repeat would skip before
 * its next stitch is skipped as well, said or not.
 */
void tb_acts_skip_before_join(tb_hands *h);
/* Closes the round into its own first stitch. */
void tb_acts_join(tb_hands *h, const tb_act *act);

/* What is made from here on is one group, worked as OWN or as nothing that has a name. */
void tb_acts_number_group(tb_hands *h, const tb_own *own);
/* All of a group in the next place of its kind. */
void tb_acts_group(tb_hands *h, const tb_act *act);
/* "ch 3, dc in first sc": a stitch that closes the round in place of a join; false: it is none. */
bool tb_acts_close(tb_hands *h, const tb_act *act);
/*
 * "*ch 8, sc in center dc of next scallop; rep from *, ch 8, join": whether from the last stitch or group
 * to the first, under the chains made behind it and CHAINS more, it is as far as from the one before to
 * it under as many.
 */
bool tb_acts_closes_evenly(const tb_hands *h, guint32 chains);
/* Whether ACT goes where the round begins, so that it may be such a stitch. */
bool tb_acts_may_close(const tb_hands *h, const tb_act *act);

/* --- acts_stitch.c --- */

/* A row of one stitch, shaped at each end. */
void tb_acts_shape(tb_hands *h, const tb_act *act);
/* One act of work: its stitches, in as many places as it says. */
void tb_acts_stitch(tb_hands *h, const tb_act *act, unsigned after);
/*
 * Up to which place an act goes that leaves the LAST places, or 0: those that what follows needs,
 * AFTER. False when they are reached already, which is told.
 */
bool tb_acts_stop_before(
	tb_hands *h, const tb_act *act, unsigned last, unsigned after, guint32 *limit);
/* Up to which place "in each st across" goes. False when that many are not there, which is told. */
bool tb_acts_find_limit(tb_hands *h, const tb_act *act, unsigned after, guint32 *limit);

/* --- own.c --- */

/* Works a stitch that takes no place of the row below; false when ACT's is none of those. */
bool tb_own_work(tb_hands *h, const tb_act *act, unsigned each);
/* Makes knots, one on the other, as one group: each a chain drawn long, and sc in it. */
void tb_own_knots(tb_hands *h, const tb_act *act);
/* "ch 3, sl st in 3rd ch from hook": makes the picot that it is; false when ACT is none. */
bool tb_own_picot(tb_hands *h, const tb_act *act, const tb_footing *footing);
/* "ch 3, sl st in last sc": makes the picot that stands on the stitch just made; false: none. */
bool tb_own_picot_on_last(tb_hands *h, const tb_act *act);
/* How many stitches, or chains, ACT of a group that is written out makes; 0 where that is not so plain. */
guint64 tb_own_makes(const tb_hands *h, const tb_act *act);
/* Whether the slip stitch of ACT closes the round. */
bool tb_own_closes(const tb_hands *h, const tb_act *act);
/* A start of foundation stitches, "Fsc 20": false when ACT is no such start. */
bool tb_own_found(tb_hands *h, const tb_act *act);

/* --- repair.c --- */

/*
 * "100 or 104 ch" to start with, so that the row being worked comes out; LEAST is how many stitches
 * it is wrong by, REPEAT whether a repeat leaves them over. NULL when there is none near, or the row is not worked in earnest. Owned.
 */
char *tb_repair_chains(tb_hands *h, unsigned least, bool repeat);

/* --- acts_stitch.c, of what goes to the row's end --- */

/* Whether another has gone there before ACT, so that nothing is left for it; which is told. */
bool tb_acts_comes_late(tb_hands *h, const tb_act *act);
/* ACT began at place DUE, and has gone to the row's end. */
void tb_acts_went_to_end(tb_hands *h, const tb_act *act, guint32 due);

/* --- rows.c --- */

/* Adds an empty row; it is the one being worked from now on. False at the limit, which is told. */
bool tb_rows_add(tb_hands *h, guint32 number, tb_side side, bool leftward);
/* Counts up what was made in the row being worked. */
void tb_rows_close(tb_hands *h);

void tb_rows_work(tb_hands *h, const tb_script *script);
/* Up to where "each st to next ch-2 sp" goes. */
bool tb_acts_find_up_to(tb_hands *h, const tb_place *place, guint32 *limit);

/* Works one row. FIRST_TIME: as written, not again; CLAIMS: its claimed count is to be checked. */
void tb_rows_work_one(tb_hands *h, const tb_sentence *sentence, guint32 number, guint32 written,
	bool first_time, bool claims);

static inline tb_side tb_side_other(tb_side side)
{
	return side == TB_SIDE_RIGHT ? TB_SIDE_WRONG : TB_SIDE_RIGHT;
}

/* How many rows SENTENCE numbers in this size: "Rows 3-12 (14, 16)", "Rows 3-12 (4-14, 5-16)". */
guint32 tb_rows_said(const tb_hands *h, const tb_sentence *sentence);
/* The number of the last row; 0 before the first. */
static inline guint32 tb_rows_last(const tb_hands *h)
{
	return h->cloth.rows->len > 0 ? tb_hands_row(h, h->cloth.rows->len - 1)->number : 0;
}

/* --- rows_again.c --- */

/* Works the rows that SENTENCE repeats. */
void tb_rows_again(tb_hands *h, const tb_sentence *sentence);

/* --- rows_growing.c --- */

/* Works the rows of SENTENCE, each grown from the one before it. */
void tb_rows_grow(tb_hands *h, const tb_sentence *sentence);
/* "Continue in the same way until 3 sts remain" behind rows whose figures go on: whether SENTENCE means that they do. */
bool tb_rows_go_on_growing(tb_hands *h, const tb_sentence *sentence);
/* The same where nobody knows how often: what stands behind it, MORE, has no work. */
bool tb_rows_grow_on(tb_hands *h, const tb_sentence *sentence, const tb_sentence *const *more, unsigned count);

/* --- open.c --- */

/*
 * The length of the start chain whose length SCRIPT leaves open: the shortest fit to be shown with which
 * every row comes out, or the most rows do. 0 where nothing is left open.
 */
guint32 tb_open_find(const tb_hands *h, const tb_script *script);
/* That length, of CHAIN, and says so. */
guint32 tb_open_length(tb_hands *h, const tb_act *chain);
/* Whether SENTENCE, a first row, goes along an edge, or into stitches, of what stands elsewhere. */
bool tb_open_is_on_cloth(const tb_sentence *sentence);
/* Whether ACT, of a first row like that, works stitches of another piece: so many as it says. */
bool tb_open_is_elsewhere(const tb_hands *h, const tb_act *act);
/* How many stitches WORK makes along the edge that the piece begins on; 0: nobody can say. */
guint32 tb_open_edge(tb_hands *h, const tb_act *work);
/* Whether SENTENCE, the last of its piece, goes along an edge nobody can count; that it is left out is said. */
bool tb_open_is_last_edge(tb_hands *h, const tb_sentence *sentence);

/* --- grow.c --- */

/* Lays the foundation of a piece that grows from another. False when it cannot, which is told. */
bool tb_grow_foundation(tb_hands *h, const tb_script *script);

/* --- tail.c --- */

/* Where ACTS begin that only end the row. */
unsigned tb_tail_find(const tb_hands *h, const tb_acts *acts);
/* The acts of the tail that make the next row's turning chain, beginning with a chain. */
tb_acts tb_tail_chains(const tb_hands *h);

#include "fabric/account.h"
#include "fabric/border.h"
#include "fabric/place.h"
#include "fabric/start.h"
#include "fabric/within.h"

#endif
