/*
 * The hands: all that is kept in mind while one piece is worked in one size.
 *
 * Shared by the files that work a row: work.c (pieces and sizes), rows.c (one row after another),
 * turning.c (foundation and turning chains), travel.c (rows that begin further on), acts.c (what a
 * row says), place.c (where the hook goes in), repeat.c (repeats inside a row), account.c (what is
 * wrong with a finished row).
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
	guint64 made; /* stitches made in all pieces and sizes */
	/* acts carried out, and places looked at: bounds the time a hostile pattern can take */
	guint64 steps, most_steps;
	guint64 tried; /* steps and stitches of all searches for a repair */
	bool stopped; /* a limit of the whole pattern was reached */
} tb_working;

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
	bool behind; /* "working behind sts just made" */
	bool in_space; /* the last place worked was a space or a gap */
	bool over; /* nothing more can be worked in this row */
	bool turned, left; /* said so */
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

typedef struct {
	tb_working *working;
	unsigned piece, size;
	const char *piece_name;
	GArray *made; /* tb_made */
	GArray *bases; /* guint32; of stitches that have several */
	GArray *rows; /* tb_made_row */
	double height; /* of the rows so far, in chains */
	GArray *repeats; /* tb_row_repeat */
	GArray *reached; /* tb_reached */

	/* before row 1 */
	guint32 start_chains;
	int start_change; /* so many chains more than the text says, to try whether that comes out */
	guint32 only_to; /* index of the row such a try ends with; 0 when rows are worked in earnest */
	bool repaired; /* a chain that comes out was looked for */
	tb_span start_span;
	bool is_ring;
	bool is_tube; /* the chain is joined, and worked into chain by chain */
	bool grown; /* from another piece, or foundation stitches */

	/* the row being worked */
	GArray *places; /* guint32: the tops below, in the order they come to the hook */
	guint32 turning_place; /* where the turning chain below stands among them, or TB_NONE */
	const tb_sentence *sentence;
	guint32 row; /* index into rows */
	tb_acts pending; /* what the end of the row before said of this row's turning chain */
	unsigned tail; /* the acts of the row from this one on only end it */
	const tb_act *first_work; /* the first stitch the row works, or NULL */
	const tb_place *first_place; /* and where it goes: its own place, or its group's */
	tb_corner corner;
	const tb_stitch *counts_as; /* what this row's turning chain counts as, or NULL */
	bool row_fault; /* an error was found in this row */
	tb_cursor cursor;
	unsigned travel; /* the acts before this one only carry the hook to where the row begins */
	bool travelled; /* and did so */
	guint32 begun; /* index into made: what is made from here on is the row itself */
	bool other_side; /* of the foundation chain: places are those */
	guint32 spare; /* so many of the last places need not be worked */
	const tb_footing *group; /* everything goes in here while a group is worked */

	unsigned trials; /* passes under way that may be taken back */
	guint floor; /* what was made before the innermost of them */
	GArray *held; /* tb_held_fault */
	unsigned told[TB_ERROR + 1]; /* by severity */
	bool has_fault;
	bool abandoned; /* a row could not be worked at all: there is nothing to go on with */
	bool is_open; /* rows were repeated to a length: numbers said after that are open */
	bool has_gaps; /* rows were left out that this size does not have */
	guint32 missing_first, missing_last; /* numbers that were told to be missing; 0 for none */
} tb_hands;

static inline tb_made *tb_hands_made(const tb_hands *h, guint32 index)
{
	return &g_array_index(h->made, tb_made, index);
}

static inline guint32 tb_hands_base(const tb_hands *h, const tb_made *made, unsigned i)
{
	return made->base_count == 1 ? made->base : g_array_index(h->bases, guint32, made->base + i);
}

static inline guint32 tb_hands_place(const tb_hands *h, guint32 place)
{
	return g_array_index(h->places, guint32, place);
}

static inline tb_made_row *tb_hands_row(const tb_hands *h, guint32 row)
{
	return &g_array_index(h->rows, tb_made_row, row);
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

tb_trial tb_hands_try(tb_hands *h);
void tb_hands_keep(tb_hands *h, const tb_trial *trial);
void tb_hands_take_back(tb_hands *h, const tb_trial *trial);

/* --- place.c --- */

/* How many places there are in the row below. */
static inline guint32 tb_place_count(const tb_hands *h)
{
	return h->places->len;
}

/*
 * Finds where the next stitch of ACT goes, on as many places as STITCH takes, and moves on behind
 * it. WHICH counts the places of one act from 0. False when there is none, which is told.
 */
bool tb_place_take(
	tb_hands *h, const tb_act *act, const tb_stitch *stitch, unsigned which, tb_footing *footing);
/* The next place of the kind PLACE asks for. */
bool tb_place_find(const tb_hands *h, const tb_place *place, guint32 *begin);
/* Whether the place at index AT is of the kind PLACE asks for. */
bool tb_place_matches(const tb_hands *h, const tb_place *place, guint32 at);
/* Whether there is another place of the kind PLACE asks for before LIMIT. */
bool tb_place_is_left(tb_hands *h, const tb_place *place, guint32 limit);
/* Skips what a skip act says. */
void tb_place_skip(tb_hands *h, const tb_act *act);
/* Whether a front or back post stitch can go around the stitch. */
bool tb_place_has_post(const tb_hands *h, guint32 made);
/* Whether the stitch is of the kind NAMED. */
bool tb_place_is_kind(const tb_hands *h, guint32 made, const tb_stitch *named);
/* Whether the places of PLACE are simply the next ones. */
bool tb_place_is_plain(const tb_hands *h, const tb_place *place);
/*
 * Where the last places of PLACE's kind begin, as many as its count says, those at
 * BEFORE and behind it left out of account. False when there are not so many.
 */
bool tb_place_find_last(const tb_hands *h, const tb_place *place, guint32 before, guint32 *begin);
/* The words for COUNT places of the kind PLACE asks for: "3 sts". Owned. */
char *tb_place_words(const tb_hands *h, const tb_place *place, unsigned count);

/* --- place_find.c --- */

/* The next place of the kind asked for, at FROM or later; *END is behind it. */
bool tb_place_find_from(
	const tb_hands *h, const tb_place *place, guint32 from, guint32 *begin, guint32 *end);
/* The BACK-th place of the kind asked for, counted from the place at FROM toward the beginning. */
bool tb_place_find_back(const tb_hands *h, const tb_place *place, unsigned back, guint32 from,
	guint32 *begin, guint32 *end);

/* --- place_tell.c --- */

/* There is no place left as ACT asks for; TAKEN: those it has taken before. */
void tb_place_tell_none(tb_hands *h, const tb_act *act, const tb_stitch *stitch, unsigned taken);
/* COUNT stitches are left unworked before the place ACT names. */
void tb_place_tell_passed(tb_hands *h, const tb_act *act, guint32 to);
/* "dc in next dc" passes over the chains between; over stitches it is nearly always a miscount. */
void tb_place_warn_passed(tb_hands *h, const tb_act *act, guint32 to);

/* --- post.c --- */

/* The stitch one row below MADE: hidden behind it, or its base. TB_NONE when there is none. */
guint32 tb_post_below(const tb_hands *h, guint32 made);
/*
 * The stitch ACT's place means two or more rows down, DUE being the stitch now due; WHICH counts the
 * posts of one act from 0. TB_NONE when there is none, which is told.
 */
guint32 tb_post_find(
	tb_hands *h, const tb_act *act, const tb_stitch *stitch, unsigned which, guint32 due);

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
/* Makes what stands at the corner of the row, if anything. */
void tb_turning_corner(tb_hands *h);
/* Makes a turning chain at the beginning of a row. */
void tb_turning_chain(tb_hands *h, const tb_act *act);
/* Makes the turning chain that was said at the end of the row before. */
void tb_turning_pending(tb_hands *h);
/* The first stitch worked in ACTS, or NULL; *PLACE where it goes. */
const tb_act *tb_turning_first_work(const tb_hands *h, const tb_acts *acts, const tb_place **place);
/* Whether all that was made in the row so far is its turning chain. */
bool tb_turning_is_all(const tb_hands *h);

/* --- travel.c --- */

/* How many acts at the beginning only carry the hook to where the row begins, by slip stitches. */
unsigned tb_travel_find(const tb_hands *h, const tb_acts *acts);
/* Whether the I-th act is a chain as tall as what is worked next, or said to count or not to. */
bool tb_travel_is_turning(const tb_hands *h, const tb_acts *acts, unsigned i);
/* Before the first of those slip stitches, and behind the last. */
void tb_travel_set_out(tb_hands *h);
void tb_travel_arrive(tb_hands *h);
/* Turns around the end of the foundation chain, to work back along its other side. */
void tb_travel_other_side(tb_hands *h, const tb_act *act);

/* --- acts.c --- */

/* AFTER: the places that what follows these acts needs. */
void tb_acts_work(tb_hands *h, const tb_acts *acts, unsigned after);
/* Closes the round into its own first stitch. */
void tb_acts_join(tb_hands *h, const tb_act *act);

/* --- acts_stitch.c --- */

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
/* "ch 3, sl st in 3rd ch from hook": makes the picot that it is; false when ACT is none. */
bool tb_own_picot(tb_hands *h, const tb_act *act, const tb_footing *footing);
/* Whether the slip stitch of ACT closes the round. */
bool tb_own_closes(const tb_hands *h, const tb_act *act);
/* A start of foundation stitches, "Fsc 20": false when ACT is no such start. */
bool tb_own_found(tb_hands *h, const tb_act *act);

/* --- repeat.c --- */

void tb_repeat_work(tb_hands *h, const tb_act *act, unsigned after);
/* The places ACTS take, or -1 where that depends on what is found there. */
gint64 tb_repeat_need(const tb_hands *h, const tb_act *acts, unsigned count);
/* The same, counting what is not known as none. */
unsigned tb_repeat_least(const tb_hands *h, const tb_act *acts, unsigned count);

/* --- repair.c --- */

/*
 * "100 or 104 ch" to start with, so that the row being worked comes out; LEAST is how many stitches
 * it is wrong by, REPEAT whether a repeat leaves them over. NULL when there is none near, or the row is not worked in earnest. Owned.
 */
char *tb_repair_chains(tb_hands *h, unsigned least, bool repeat);

/* --- rows.c --- */

/* Adds an empty row; it is the one being worked from now on. False at the limit, which is told. */
bool tb_rows_add(tb_hands *h, guint32 number, tb_side side, bool leftward);
/* Counts up what was made in the row being worked. */
void tb_rows_close(tb_hands *h);

void tb_rows_work(tb_hands *h, const tb_script *script);
/* Works one row. FIRST_TIME: as written, not again; CLAIMS: its claimed count is to be checked. */
void tb_rows_work_one(tb_hands *h, const tb_sentence *sentence, guint32 number, guint32 written,
	bool first_time, bool claims);

static inline tb_side tb_side_other(tb_side side)
{
	return side == TB_SIDE_RIGHT ? TB_SIDE_WRONG : TB_SIDE_RIGHT;
}

/* The number of the last row; 0 before the first. */
static inline guint32 tb_rows_last(const tb_hands *h)
{
	return h->rows->len > 0 ? tb_hands_row(h, h->rows->len - 1)->number : 0;
}

/* --- rows_again.c --- */

/* Works the rows that SENTENCE repeats. */
void tb_rows_again(tb_hands *h, const tb_sentence *sentence);

/* --- grow.c --- */

/* Lays the foundation of a piece that grows from another. False when it cannot, which is told. */
bool tb_grow_foundation(tb_hands *h, const tb_script *script);

/* What a piece grows from in a size: stitches FIRST to LAST of the last row of PARENT, from 1. */
typedef struct {
	unsigned parent, first, last;
} tb_grown;

/* False when PIECE grows from none, or its numbers were not understood. */
bool tb_grow_range(const tb_script *script, unsigned piece, unsigned size, tb_grown *grown);

/* --- work.c --- */

/* What was read of a piece. Borrowed. */
const tb_script *tb_worked_script(const tb_worked *worked, unsigned piece);

/* --- account.c --- */

/* What is wrong with the row just finished. CLAIMS: whether its claimed count is to be checked. */
void tb_account_row(tb_hands *h, bool claims);
void tb_account_claims(tb_hands *h, const tb_sentence *sentence);

#endif
