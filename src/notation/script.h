/* The inside of the script's reader, shared by the files script*.c and tell*.c. */
#ifndef TB_NOTATION_SCRIPT_H
#define TB_NOTATION_SCRIPT_H

#include "notation/build.h"
#include "notation/parse.h"
#include "support/diagnose.h"

/* What it costs to read the chain a row begins with as a part of what is behind it, or the other way. */
#define TB_TURNING_APART_COST 3u

/* Short rows may be numbered up to this. */
#define TB_READER_TOLD 16u
#define TB_READER_SHORT_ROWS 64u

/* What is worked once, at a row's beginning, is hardly part of a repeat. */
#define TB_ONCE_COST 8u

/* A row whose text is that of row NUMBER too; 0: of every other row after it. */
typedef struct {
	const tb_sentence *row;
	unsigned number;
	unsigned last; /* … up to that row */
	bool worked; /* that row stands among the others */
	unsigned nth; /* … of those the label names, from 0 */
	bool counted; /* … each of which has a count of its own: "Rows 5 and 7: As Row 3 (11, 9 sts)" */
} tb_later;

/* script_alike.c: the text read last, for the next that may be worded alike. */
typedef struct {
	const tb_arena *scratch; /* it lives in; NULL: none is kept */
	const char *chars;
	size_t length, from, to; /* its bytes; of the figures in its label */
	const tb_edge *edges;    /* of its lattice */
	tb_rule rule;
	guint32 built, changes;  /* of the chart and the vocabulary */
	unsigned readings, times;
	bool colourless;         /* nothing is said of colours in it */
} tb_alike;

typedef struct {
	tb_builder b;
	tb_diagnostics *diagnostics;
	const char *piece;
	GPtrArray *sentences; /* tb_sentence in the arena */
	GArray *later;        /* tb_later */
	GArray *before;       /* tb_act, said between rows, that begin the next row */
	/* by the symbol of its name: the row last called so in its label, or 0: "Dec row" */
	unsigned row_called[TB_SYMBOL_COUNT];
	int nth_called[TB_SYMBOL_COUNT]; /* … and which of them it is by its name, "2nd rib row": 2; 0 where not said */
	tb_size_set shared; /* sizes whose clause, before the one now read, has no count of its own */
	/* … and that row, whatever its number is: behind rows worked until a length that is open */
	const tb_sentence *sentence_called[TB_SYMBOL_COUNT];
	const tb_sentence *told[TB_READER_TOLD]; /* rows that are worked where they are named, and no sooner */
	bool told_worked[TB_READER_TOLD];
	unsigned told_count;
	unsigned told_noted; /* so many of them, the first, are told in the notes */
	const tb_sentence *short_before; /* the row the label now read gives its number to once more, "Short rows 2-4: As left side" */
	const tb_sentence *short_rows[TB_READER_SHORT_ROWS]; /* "Short row 3:", by its number less 1; NULL: none */
	unsigned last_row;    /* the last row whose number is known, or 0 */
	const char *series;   /* … and what it makes, where it is "Rib row 8"; or NULL */
	unsigned number;      /* of the piece */
	tb_text *unmarked;    /* the row last read that had stars at its end, without them; owned, or NULL */
	GPtrArray *borrowed;  /* tb_script: pieces this one is worked like */
	bool in_rounds;       /* the piece is worked in rounds, whatever its rows are called */
	const char *part; /* the heading that the row now read stands under; NULL for none */
	tb_size_set gone; /* "S and M: skip to Band": sizes that work none of the rows before the next part */
	bool only_number; /* the row is labelled with a number and no word: it may be a round */
	tb_loops always;      /* in which loops, where a row said that for all */
	tb_sentence *often_unsaid; /* the repeat read last, which does not say how often; or NULL */
	unsigned often_row;   /* … and the last row before it */
	const tb_value *named; /* "Inc row: As before": what the label of rows worked again calls them; or NULL */
	bool told_here;       /* the row now read is told by its name, and worked further on */
	bool again_once;      /* what is read are rows worked once more, under a name of their own */
	GArray *unproved;     /* tb_doubt: left out between rows, so that the next row must come out without them */
	bool block_open;      /* a star began rows that no star has ended yet, */
	tb_span block_at;     /* … here, where nothing has worked them again; empty: all have been */
	bool after_repeat;    /* the number of the last row is not known, since rows were repeated */

	tb_alike alike;
	/* of the text now read */
	const tb_text *text;
	tb_rule rule;
	tb_lattice lattice;
	tb_chart chart;
	tb_arena *scratch;
	const tb_reading *readings; /* of the whole text */
	unsigned reading_count;
	tb_read_as as; /* what became of it */
	unsigned row, row_last; /* for faults; 0 when it has no number */
	bool tries; /* nothing is told of it, and it may be no text to be read */
	bool row_unsure; /* it is none of those alone */
	bool is_round;
	tb_colour_mark colour_awaited; /* the next row begins in it, as was said between rows, … */
	bool awaits_colour;            /* … if anything was */
	bool striped; /* the pattern tells its stripes once for all rows */
} tb_reader;

/* A fault at words FROM to TO (not included). Always false. */
bool tb_reader_fail(tb_reader *r, const char *code, guint32 from, guint32 to, const char *hint,
	const char *format, ...) G_GNUC_PRINTF(6, 7);
/* Reads TEXT as RULE; *VALUE the cheapest reading. False when it is not read, which is told. */
bool tb_reader_read(tb_reader *r, const tb_text *text, tb_rule rule, const tb_value **value);
/* The same, and nothing is told. */
bool tb_reader_try(tb_reader *r, const tb_text *text, tb_rule rule, const tb_value **value);
/* LINE, which was read, or what else it can be where it repeats rows that are not there. */
const tb_value *tb_reader_likely(const tb_reader *r, const tb_value *line);
/* What VALUE, "Rep Rnd 6. Join. 34 dc.", says behind the rows that it repeats. */
tb_acts tb_reader_acts_behind(tb_reader *r, const tb_value *value);
/* TAIL, how the last of the rows of SENTENCE is turned, where that is said; false where it cannot be. */
bool tb_reader_set_tail(tb_reader *r, tb_sentence *sentence, const tb_value *tail);
/* "Same as 3rd row. Ch 1, turn": the chain that the last of those rows ends with, said once more. */
bool tb_reader_is_their_chain(const tb_reader *r, const tb_sentence *again, const tb_act *act);
/* "Same as Row 3. Ch 3, turn.": where ACTS are no more than that, the last of SENTENCE's rows is turned so. */
bool tb_reader_turns_with(tb_reader *r, tb_sentence *sentence, const tb_acts *acts);
/* Reads TEXT in place of the one now read; with DOUBTS without words that nobody knows. */
void tb_reader_read_instead(tb_reader *r, const tb_text *text, bool doubts);
/* Tells what was left out of the row of SENTENCE; false, told, where it states no count that comes out without. */
bool tb_reader_tell_doubts(tb_reader *r, const tb_sentence *sentence);
/* script_named.c: which plain stitches ROW names. */
void tb_reader_set_named(tb_reader *r, tb_sentence *sentence, const tb_value *row);
/* Tells of figures for the sizes that the text now read gives, and nothing uses. */
void tb_reader_tell_unheld(tb_reader *r);
/* Tells which figures SAID has for sizes besides SIZES, those that work it. */
void tb_reader_tell_unused(tb_reader *r, const tb_value *said, tb_size_set sizes);
/* Tells what was left out between rows: where LEVEL is an error, that it is not understood. */
void tb_reader_tell_unproved(tb_reader *r, tb_severity level);
/*
 * Behind words left out between rows: whether the row read next, sentence BEFORE, proves them by its count and its
 * number, which is LAST and one; told either way. True where nothing is to be proved yet.
 */
bool tb_reader_prove(tb_reader *r, guint before, unsigned last);
/* Where the text now read is understood with its mistyped words mended: reads it so, and tells that. */
bool tb_reader_mend(tb_reader *r);
/* Tells why the text as a whole was not read: at the words that are wrong. Always false. */
bool tb_reader_tell_unread(tb_reader *r);
/* False where figures for the sizes stand near word AT, but not one for each, which is told. */
bool tb_reader_check_sizes(tb_reader *r, guint32 at);

/* Keeps what was read for a text that is worded alike. */
void tb_reader_keep_alike(tb_reader *r);
/* Whether TEXT, to be read as RULE, is worded as the text before it but for the number in its label. */
bool tb_reader_is_alike(const tb_reader *r, const tb_text *text, tb_rule rule);
/* Takes what was read of that text for the one now read. */
void tb_reader_read_alike(tb_reader *r);

/* script_colours.c: what TEXT says of colours is of all sentences from BEFORE on. */
void tb_reader_find_colours(tb_reader *r, const tb_text *text, guint before);
/* TEXT, which made no sentence, stands between rows: "Change to navy." is said of the row that comes. */
void tb_reader_await_colour(tb_reader *r, const tb_text *text);
void tb_reader_find_start_colours(tb_reader *r, const tb_text *start);
/* The name of a colour, of LENGTH bytes at CHARS, as it is kept: "A", "cream". */
const char *tb_colour_name(tb_arena *arena, const char *chars, size_t length);
/* The pattern's text with blanks for what its rows say. Owned. */
char *tb_script_beside_rows(const tb_pattern *pattern, size_t *length);
/* Whether TEXT has words of stripes, or of colours that change. */
bool tb_script_names_stripes(const char *text);

/* script_begin.c: the acts of SAID, each beginning it tells of ("starting in 2nd ch from hook") in its place. */
GArray *tb_script_begin(tb_arena *arena, const GArray *said, bool is_round);

/* script_tracks.c: the rows that VALUE says are worked again. */
bool tb_reader_again(tb_reader *r, const tb_value *value, tb_sentence *sentence);
/*
 * script_again.c: one of "Rep Rows 3-6 4 times, then rep Row 3.", for which SENTENCE is added; WHEN: one of the times
 * of "every row 3 times, then every 4th row", or NULL. BEHIND: what stands behind it, a count or what has acts; or NULL.
 */
bool tb_reader_add_again(tb_reader *r, const tb_value *value, const tb_value *when, const tb_value *behind,
	tb_sentence *sentence, bool once);
/* script_often.c: SENTENCE does not say how often; the number of the row NEXT behind it does. False, told, if not. */
void tb_reader_leave_often(tb_reader *r, tb_sentence *sentence);
/* script_side.c: the side of the piece's first row, where a row behind it says its own alone. */
void tb_reader_find_first_side(const GPtrArray *sentences);
bool tb_reader_settle_often(tb_reader *r, const tb_sentence *next);
/* Where the count of rows stands after a text; a repeat without an end written leaves it open. */
void tb_reader_count_rows(tb_reader *r, const tb_sentence *sentence);
/* "Row 3: Sc across until piece measures 20 cm": the ROW, and then it again for so long. */
bool tb_reader_go_on(tb_reader *r, const tb_value *row, const tb_sentence *sentence);
/* script_part.c: whether "as Row 6 of first half" can be told from a row of this half; told where it cannot. */
bool tb_reader_is_of_other(tb_reader *r, const tb_sentence *sentence, const tb_value *value);
/* "Rows 18-28: As for first strap": the rows numbered so. */
bool tb_reader_set_alike(tb_reader *r, tb_sentence *sentence, const tb_value *value);
/* script_differ.c: what VALUE says is other in the rows that SENTENCE works again. */
bool tb_reader_differ(tb_reader *r, const tb_value *value, tb_sentence *sentence);
/* Takes into the ending of SENTENCE what is worked before it is joined; the rest of ACTS. */
tb_acts tb_reader_end_with(tb_reader *r, tb_sentence *sentence, tb_acts acts);
/* "until there are 8 dc in each section" */
bool tb_reader_until_sections(tb_reader *r, const tb_value *until, tb_sentence *sentence);
/* What VALUE lists as rows ("3-6", "4, 6 and 8"); false when they are no rows, which is told. */
bool tb_reader_rows(tb_reader *r, const tb_value *value, unsigned *first, unsigned *last);
/* "Rows 3 and 2": FIRST is 2 and LAST 3; false where they do not go down one by one. */
bool tb_reader_rows_down(const tb_value *rows, unsigned *first, unsigned *last);

/* script_from.c: the stitches of another piece that this one grows from. */
bool tb_reader_from(tb_reader *r, const tb_text *text, tb_script *script);
/* "12-40 (14-44, 16-48)", a value of kind pairs: the first and the last in each size. */
bool tb_reader_read_pairs(tb_reader *r, const tb_value *pairs, tb_number *first, tb_number *last);
/* The first row has the side that faces where the piece is joined. False when it says another. */
bool tb_reader_face(tb_reader *r, const tb_script *script);

/* script_like.c: the rows of a piece that is worked like another. */
bool tb_reader_like(tb_reader *r, const tb_value *line);
/* "armhole", "shoulder": the word that a part's heading has which PART, of the grammar's shapedpart, means; NULL for none. */
const char *tb_reader_part_word(const tb_value *part);
/* How far "… until piece measures 40 cm" goes: until a length or a number of rows, into SENTENCE. */
bool tb_reader_set_limit(tb_reader *r, tb_sentence *sentence, const tb_value *until);
/* … until what UNTIL says, or as often as it says. False, told, where that is not known. */
bool tb_reader_how_often(tb_reader *r, tb_sentence *sentence, const tb_value *until);
/* script_like_rows.c: rows FROM to TO here are rows FIRST to LAST of SCRIPT, another piece, over and over, as VALUE says. */
bool tb_reader_like_numbers(tb_reader *r, const tb_value *value, const tb_script *script, unsigned first, unsigned last, unsigned from, unsigned to);
/* "Work 4 rib rows as Back": as many of those of SCRIPT that are called so, with the row before them where BASE. */
bool tb_reader_like_rib(tb_reader *r, const tb_value *value, const tb_script *script, unsigned many, bool base);
/* … and what comes next is these rows as often as UNTIL says. */
bool tb_reader_like_until(tb_reader *r, const tb_value *value, const tb_script *script, unsigned first, unsigned last, const tb_value *until);
/* "Rows 2-8: As for first strap", a strap that is a piece of its own: its rows of these numbers. False where none is. */
bool tb_reader_like_numbered(tb_reader *r, const tb_value *line);

/* script_ending.c: what the rows SENTENCE repeats end with, which UNTIL or ENDING says. False, told, if that cannot be. */
bool tb_reader_set_ending(tb_reader *r, tb_sentence *sentence, const tb_value *ending);
/* "Rows 4-21 (23): Rep Rows 2-3, ending with Row 3": the last of those rows must be that one. */
bool tb_reader_check_ending(tb_reader *r, const tb_sentence *sentence, const tb_value *until);
/* "Rep Row 2, ending with Row 9": whether that is none of the rows that are repeated, which go as far as it then. */
bool tb_reader_ends_beyond(tb_reader *r, tb_sentence *sentence, const tb_value *until);
/* Adds the rows of SENTENCE, with what was SAID behind them, and a row that works REST, where that draws all together. */
bool tb_reader_close_last(tb_reader *r, tb_sentence *sentence, GArray *said, const tb_acts *rest);

/* script_since.c: from where the length that UNTIL asks for is measured. */
void tb_reader_set_since(tb_reader *r, tb_sentence *sentence, const tb_value *until);

/* script_tail.c: FINISH, what stands on a line of its own and ends the row before, is put to that row. */
void tb_reader_add_to_last(tb_reader *r, const tb_sentence *finish);
/* SENTENCE stands without a row's name: where it is a count and no work, it is one. */
void tb_reader_count_last(tb_reader *r, tb_sentence *sentence);
/* script_counts.c: what stands behind the end of SENTENCE's ACTS as if more were worked, and is their count, is refused. */
void tb_sentence_refuse_counts(const tb_sentence *sentence, GArray *acts);
/* "sc in each st": one in each, and of one kind. */
bool tb_act_goes_in_each(const tb_act *act);
/* Whether an act that begins at word FROM would tear the place before it. */
bool tb_tears_place(const tb_lattice *l, guint32 from);
/* Whether stitches are worked behind place I of what is said; a slip stitch that closes the round is none. */
bool tb_is_work_behind(const GArray *said, guint i);
/* Adds to ACTS that ACT, which is understood, is not worked: WHY, and what to do. */
void tb_acts_refuse(GArray *acts, const tb_act *act, const char *code, const char *why, const char *hint);
/* Puts the count at place I of SAID on the last of ACTS, where it is of what is worked by then. */
bool tb_claim_add_partial(tb_arena *arena, const GArray *said, guint i, GArray *acts);
/* script_these.c: "working on these 12 sts only", ACT, among ACTS and CLAIMS; WORK_BEHIND: in the same row. */
void tb_sentence_add_these(const tb_act *act, bool work_behind, GArray *acts, GArray *claims);
void tb_sentence_set_within(tb_sentence *sentence, tb_arena *arena, const tb_act *act, GArray *acts);
void tb_reader_set_within(tb_reader *r, tb_sentence *sentence, const tb_value *within);
/* script_stays.c: whether the row SENTENCE repeats says what VALUE says of it; or else that is told. */
/* The ordinary stitch in each stitch, or that of the pattern. */
const tb_sentence *tb_reader_even_row(tb_reader *r, const tb_sentence *of);
const tb_sentence *tb_reader_shaped_row(tb_reader *r, const tb_value *shape, const tb_value *stitch,
	const tb_sentence *of);
void tb_reader_set_growing(tb_reader *r, tb_sentence *sentence, const tb_value *value);
/* script_shaped.c: which rows WHEN, "every 4th row 3 times", "next 4 rows", says that SENTENCE shapes. */
void tb_reader_set_when(tb_reader *r, tb_sentence *sentence, const tb_value *when);
/* … and, once it is known how often, whether the "next row" is one of those times. */
void tb_reader_settle_when(tb_reader *r, tb_sentence *sentence, const tb_value *when);
bool tb_reader_set_next_and_every(
	tb_reader *r, tb_sentence *sentence, const tb_value *every, const tb_value *until);
/* script_tracks.c: what VALUE says is shaped at the same time, each by stages of its own, in STITCH where that is not NULL. */
bool tb_reader_set_tracks(tb_reader *r, tb_sentence *sentence, const tb_value *value, const tb_value *stitch);
/*
 * "At the same time, dec 1 st at neck edge …", "Neck edge: …": SENTENCE, in place of the plan before it, has what that
 * shapes too. False, told, where that cannot be, or is not said.
 */
bool tb_reader_join_tracks(tb_reader *r, tb_sentence *sentence, const tb_value *value);
bool tb_reader_stays(tb_reader *r, const tb_sentence *sentence, const tb_value *value);

/* script_moves.c: where the name ends in the definition TEXT; *BODY: what stands behind its colon, equals sign or dash. */
size_t tb_moves_parting(const char *text, size_t *body);
/* The stitch that NAME itself speaks of, "linked dc"; NULL where it speaks of none. */
const tb_stitch *tb_moves_base(const tb_reader *r, const char *name);
/* What the row language itself calls so, as "chainless starting dc"; NULL where it is no plain stitch. */
const tb_stitch *tb_moves_named(tb_reader *r, const char *name);
/* One stitch as tall as the moves are that TEXT, "NAME: BODY", tells of; NULL where they may be more than one. */
const tb_stitch *tb_moves_stitch(const tb_reader *r, const tb_text *text);
/* What each leg is of, where the row says how many are drawn together; NULL where BODY does not leave it so. */
const tb_stitch *tb_moves_over(const tb_reader *r, const char *body);
/* script_own.c: what the pattern's own words define, and what is said once for all rows. */
void tb_reader_define(tb_reader *r);
void tb_reader_find_facts(tb_reader *r);

/* script_ways.c: the ways through the row that VALUE is, and the cheapest of them. */
void tb_reader_set_ways(tb_reader *r, tb_sentence *sentence, const tb_value *row);

/*
 * script_taken.c: a row whose text was not read but ends with its count, "(24 sc)", goes by that count.
 * SENTENCE has its number.
 */
void tb_reader_take_at_word(tb_reader *r, tb_sentence *sentence, const tb_text *text);

/* script_later.c */
/* The last row that LATER knows the text of. */
unsigned tb_later_last_named(const GArray *later);
/*
 * script_told.c: whether row text I of PIECE tells a row by a name that is worked further on, and not there. It was read
 * as the sentence behind BEFORE, with LAST_ROW the last row before it: takes that from the sentences, and keeps it for
 * its name. False where it is no such row.
 */
bool tb_reader_is_told(const tb_piece *piece, guint i);
bool tb_reader_keep_told(tb_reader *r, guint before, unsigned last_row);
/* Keeps those that the pattern's notes tell, before any row is read. */
void tb_reader_tell_noted(tb_reader *r);
/* ROW is worked by its name. */
void tb_reader_use_told(tb_reader *r, const tb_sentence *row);
/* Tells of those that no sentence names, behind all rows; false where one of them shapes. */
bool tb_reader_check_told(tb_reader *r);
/* "Plain rnd: …", told so, or NULL. */
const tb_sentence *tb_reader_told_plain(const tb_reader *r);
unsigned tb_later_insert(tb_reader *r, guint at, unsigned next);
void tb_later_check(tb_reader *r);
/* Of the rows that SENTENCE's label names each has a count of its own: SENTENCE the first. */
void tb_later_count(tb_reader *r, tb_sentence *sentence);

/* script_part.c: the first row under a heading NAME, at AT; where it is row 1 again, no row before it is meant from here on. */
void tb_reader_begin_part(tb_reader *r, guint at, const char *name);
/*
 * What the rows from sentence AT on are called that is "Row 1" once more, along an edge of the rows before it or behind
 * "Rib row 8": those numbered so are not meant from here on. NULL for any other.
 */
const char *tb_reader_begins_anew(const tb_reader *r, guint at);
/* What is behind a row and begins the next, of a row and of rows AGAIN with MORE behind them */
bool tb_reader_part(tb_reader *r, tb_sentence *sentence);
bool tb_reader_part_again(tb_reader *r, const tb_sentence *again, tb_acts *more);
/* What was said to begin the next row, where that is one worked again as AGAIN. */
bool tb_reader_begins_again(tb_reader *r, tb_sentence *again, const tb_value *value);
/* Tells of chains that no row is worked on. */
void tb_reader_check_before(tb_reader *r);

/* script.c */
/* Reads TEXT, a row's, and adds its sentences; false, told, where it is not understood. */
bool tb_reader_read_row(tb_reader *r, const tb_text *text);
tb_sentence *tb_reader_add_sentence(tb_reader *r, tb_sentence_kind kind);
bool tb_reader_makes(const tb_acts *acts);
/* Whether they only end a row: "turn", "fasten off". */
bool tb_reader_only_ends(const tb_acts *acts);
/* "Magic loop. Rnd 1: 12 sc in loop": in ACTS behind FROM such a loop is the ring that is made BEFORE or above. */
void tb_reader_loop_to_ring(const tb_reader *r, GArray *acts, guint from, const GArray *before);

/* script_text.c */
void tb_reader_close_text(tb_reader *r);

/* script_round.c: how many slip stitches of ACTS go on from its beginning to a space; 0 where they go elsewhere. */
unsigned tb_reader_slips_on(const tb_act *acts, unsigned count);

/* script_round.c: what a round's words leave out of ACTS. */
void tb_reader_round_acts(GArray *acts, tb_arena *arena);

/*
 * script_parts.c: adds to WAYS those through the row in which the repeat of WHOLE begins at a later act; SAID:
 * where that is said to be the row's beginning. Whether there are some.
 */
bool tb_reader_add_parts(tb_reader *r, GArray *ways, const tb_way *whole, bool said);

/* script_ways.c */
bool tb_reader_is_turned(const tb_reader *r);
void tb_reader_tell_loose(tb_reader *r);
/* script_text.c: tells of a name by itself before the row's words, "Row 3: Sea. Ch 1, …", which nobody knows. */
void tb_reader_tell_names(tb_reader *r);

/* script_label.c */
/* Whether N rows, worked again, are as many as the label names where it names several. */
bool tb_reader_agrees(tb_reader *r, const tb_sentence *sentence, const tb_value *n);
/* So many rows are SAID behind a row or in its label. */
bool tb_reader_set_for(tb_reader *r, tb_sentence *sentence, const tb_value *said);
/* The sizes that work a row of SENTENCE, as it says and its label; all there are where it is NULL. */
tb_size_set tb_reader_sizes_of(const tb_reader *r, const tb_sentence *sentence);
/* What rows make that have numbers of their own where SAID names them, "rib row 2"; NULL where it names none. */
const char *tb_reader_series(const tb_reader *r, const tb_value *said);
bool tb_reader_set_label(tb_reader *r, tb_sentence *sentence, const tb_value *label, GArray *numbers,
	unsigned *every);

/*
 * script_sizes.c: the rows (tb_text) that TEXT is where sizes work it each in their way, and of each which
 * sizes (tb_size_set); false where it names none. What is read then may give figures for SIZES alone;
 * 0 for all again.
 */
bool tb_reader_part_sizes(tb_reader *r, const tb_text *text, GPtrArray *rows, GArray *sizes);
void tb_reader_name_sizes(tb_reader *r, tb_size_set sizes);
/* Whether a line of the source ends between bytes AT and AT + 1 of TEXT. */
bool tb_reader_breaks_at(const tb_reader *r, const tb_text *text, size_t at);
bool tb_reader_has_break(const tb_reader *r, const tb_text *text);
/* TEXT from one byte to another, owned, with the places it has in the source. */
tb_text *tb_reader_part_of(const tb_text *text, size_t from, size_t to);

/* script_start.c */
bool tb_reader_has_rows(const tb_reader *r);
/* Whether all that was read is a start whose chain is joined into a ring. */
bool tb_reader_is_on_ring(const tb_reader *r);
bool tb_reader_read_start(tb_reader *r, const tb_text *text, const tb_text *next);

#endif
