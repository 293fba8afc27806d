/*
 * The hands: all that is kept in mind while one piece is worked in one size.
 *
 * Shared by who finds where the hook goes in (places/), carries out what a row says (acts/), says what is wrong with a
 * finished row (account/), and works one row after another (rows/).
 */
#ifndef TB_HANDS_HANDS_H
#define TB_HANDS_HANDS_H

#include "fabric/fabric.h"
#include "fabric/rules.h"
#include "hands/cursor.h"
#include "hands/gather.h"
#include "hands/tell.h"
#include "notation/parse.h"
#include "support/diagnose.h"

/* What all pieces and sizes share. */
typedef struct {
	const tb_pattern *pattern;
	tb_worked *worked;
	tb_diagnostics *diagnostics;
	tb_gather *gather; /* of the piece now worked; NULL: nobody listens */
	const tb_stitch *chain, *slip;
	tb_arena *arena; /* of the readings chosen; lives as long as the fabric */
	GHashTable *chosen; /* GBytes: a row and how it is read -> tb_sentence */
	GHashTable *fates;  /* the same -> what became of that reading in each size: choose.c */
	guint64 made; /* stitches made in all pieces and sizes */
	guint64 kept; /* bytes of all pieces and sizes that are done */
	/* acts carried out, and places looked at: bounds the time a hostile pattern can take */
	guint64 steps, most_steps;
	tb_stripes plan; /* told once for all rows; empty where none are */
	bool stripes; /* the pattern tells of stripes: the colour of a row that names none is not known */
	/* which foundation chains would do, where the piece is worked again with others: repair.h */
	char *(*repair)(tb_hands *h, unsigned least, bool repeat);
	guint64 tried; /* steps and stitches of all searches for one */
	bool stopped; /* a limit of the whole pattern was reached */
} tb_working;

/* So many acts are looked back at for what is said to be made. */
#define TB_MOST_BEGINS 16u

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

/* A marker: in the stitch MADE; or where it only stands BEHIND that, between it and the next, if the rows say so. */
typedef struct {
	guint32 made;
	bool behind;
} tb_marked;

/* What is made of the piece so far. */
typedef struct {
	GArray *made; /* tb_made */
	GArray *bases; /* guint32; of stitches that have several */
	GArray *rows; /* tb_made_row */
	GArray *repeats; /* tb_row_repeat */
	GArray *reached; /* tb_reached */
	double height; /* of the highest row so far, in chains */
	GHashTable *group_owns; /* group number -> tb_own it was worked as; none for a group unnamed */
	GArray *marks; /* tb_marked */
	GArray *colours; /* tb_colour_run */
} tb_cloth;

/* The colour worked with. */
typedef struct {
	const char *entered; /* what the row now worked has begun with; or NULL */
	bool fresh; /* it was taken at the end of the row before */
	bool off; /* rows are worked again in other colours */
	guint32 told; /* the row of which it was told that the stripes have another */
} tb_colours;

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

/* An edge of a flat piece, as seen on its right side. */
typedef enum {
	TB_SIDE_EDGE_UNKNOWN,
	TB_SIDE_EDGE_RIGHT,
	TB_SIDE_EDGE_LEFT,
} tb_side_edge;

/* What the rows before have left, and shown of the way the piece is written. */
typedef struct {
	/* tops that short rows left unworked, by the way they went, 1 for leftward; the nearest last */
	GArray *rest[2]; /* guint32 */
	bool rest_leftward; /* which way the last of them went */
	bool rest_shut[2]; /* a row since then ended at its own edge beside them */
	tb_side_edge neck, outer; /* which edges these are, as far as is known */
	tb_side_edge narrowed; /* where the last row was narrowed that was so at one edge alone, */
	bool narrowed_much; /* and by so much that it may be a neck divided */
	bool rest_passed[2]; /* … and left nothing: what short rows leave later lies beyond that edge no more */
	/* the rows whose stated count has the turning chain in it, or not; 0: none yet */
	guint32 row_with_turning, row_without_turning;
	/* rows joined to an edge: anchor.h; which edge, to so many of its stitches by now, and so many by the last of them */
	const tb_other_work *anchor_of;
	guint32 anchors, anchored, anchored_row, anchor_there; /* of how many, where the row it was begun on shows them; or 0 */
	bool was_short, loops_are_stitches; /* a row left stitches unworked; called stitches loops */
	unsigned skipped_chains; /* so many were skipped where a row begins on chains, and it was said */
	tb_counts skipped_said;  /* … what of them */
	bool markers_between; /* markers are slipped, and stand between stitches */
} tb_rows_before;

/* How the rows are numbered. */
typedef struct {
	bool is_open; /* rows were repeated to a length, or over other numbers in other sizes: numbers said after that are open */
	bool side_open; /* … and so is the side that they end with, until a row says its own */
	bool by_length; /* … to a length, so that numbers said for each size are open too */
	bool was_open; /* … before the part now worked, which numbers its rows anew */
	bool by_size; /* … over other numbers of rows in other sizes; a row 1 is none that follows */
	guint32 renumber; /* rows are numbered anew: what is added to their numbers */
	const char *part; /* the part of the piece that is worked, or NULL */
	guint32 before, from; /* its numbers FROM on are those of the rows from so many more: it numbers its own anew */
	bool has_gaps; /* rows were left out that this size does not have */
	bool unsure; /* rows before were not understood, and how many they are is not known: neither is the last one's number */
	bool uncounted; /* … and so the piece may have more rows than are made of it */
	guint32 block, block_end; /* rows between stars: the first, an index into rows; the row behind their last; 0: none yet */
	guint32 missing_first, missing_last; /* numbers that were told to be missing; 0 for none */
} tb_labels;

/* How many rows there are follows from the gauge, or from what cannot be numbered. */
static inline void tb_labels_open(tb_labels *labels)
{
	labels->is_open = labels->by_length = labels->side_open = true;
}

struct tb_hands {
	tb_working *working;
	unsigned piece, size;
	const tb_sentence *text; /* the sentence of the script that is worked; */
	const tb_sentence *sentence; /* that of the row being worked, */
	guint32 row; /* whose index into rows this is */
	tb_cursor cursor;
	tb_colours colours;
	bool abandoned; /* a row could not be worked at all: there is nothing to go on with */
	bool lost; /* … but a row that states its count: taken.h */
	tb_cloth cloth;
	tb_beginning start;
	tb_row_now now;
	tb_rows_before before;
	tb_labels labels;
	tb_teller teller;
};

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

/* All that was made so far, until more is. */
static inline tb_stitches tb_hands_stitches(const tb_hands *h)
{
	return (tb_stitches){(const tb_made *)h->cloth.made->data, h->cloth.made->len, (const guint32 *)h->cloth.bases->data,
		(const tb_made_row *)h->cloth.rows->data, h->working->pattern->library};
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

/* A search that passed over THINGS, though nothing was made. */
static inline void tb_hands_look(const tb_hands *h, guint64 things)
{
	h->working->steps += things;
}

/* A pass that may be taken back: begun, and then kept or taken back. */
typedef struct {
	tb_cursor cursor;
	guint made, bases, held, floor;
	bool row_fault;
	guint colours;
} tb_trial;

static inline tb_side tb_side_other(tb_side side)
{
	return side == TB_SIDE_RIGHT ? TB_SIDE_WRONG : TB_SIDE_RIGHT;
}

/* The number of the last row; 0 before the first. */
static inline guint32 tb_rows_last(const tb_hands *h)
{
	return h->cloth.rows->len > 0 ? tb_hands_row(h, h->cloth.rows->len - 1)->number : 0;
}

/* Hands about to begin PIECE; finished, they leave nothing behind. H is the caller's. */
void tb_hands_init(tb_hands *h, tb_working *working, unsigned piece, unsigned size);
void tb_hands_finish(tb_hands *h);
/* The bytes of what is made of the piece so far. */
guint64 tb_hands_bytes(const tb_hands *h);
/* False when working has taken the memory it may have, which is told at SPAN. */
bool tb_hands_has_memory(tb_hands *h, tb_span span);
/* False when the pattern has had more of them than any needs, which is told at SPAN. */
bool tb_hands_may_go_on(tb_hands *h, tb_span span);
/* NUMBER in the size being worked; OTHERWISE when the text said none. "-" is 0. */
unsigned tb_hands_number(const tb_hands *h, const tb_number *number, unsigned otherwise);
/* How many stitches, or chains, ACT of a group that is written out makes; 0 where that is not so plain. */
guint64 tb_hands_makes(const tb_hands *h, const tb_act *act);
/*
 * Makes a stitch on FOOTING, which may be NULL. FLAGS are added to the footing's. Returns its
 * index, or TB_NONE when a limit is reached, which is told at SPAN.
 */
guint32 tb_hands_make(
	tb_hands *h, const tb_stitch *stitch, const tb_footing *footing, unsigned flags, tb_span span);
/* What is worked next and is no chain; a repeat begins with its first act. NULL where that is nothing. */
const tb_act *tb_hands_next_placed(const tb_hands *h);
/* Whether all that was made in the row so far is its turning chain. */
bool tb_hands_has_turning_alone(const tb_hands *h);
/* What is made from here on is one group, worked as OWN or as nothing that has a name. */
void tb_hands_number_group(tb_hands *h, const tb_own *own);
tb_trial tb_hands_try(tb_hands *h);
void tb_hands_keep(tb_hands *h, const tb_trial *trial);
void tb_hands_take_back(tb_hands *h, const tb_trial *trial);
/* Forgets the markers in stitches that are taken back. */
void tb_hands_forget_marks(tb_hands *h);

#endif
