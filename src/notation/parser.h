/*
 * The parser's inside. A recursive descent over the tokens of one text; every tb_parse_ function
 * reads from the token it stands at, and returns false when it has told a fault.
 */
#ifndef TB_NOTATION_PARSER_H
#define TB_NOTATION_PARSER_H

#include "notation/lexer.h"
#include "notation/parse.h"
#include "support/diagnose.h"

/* A row whose text is that of row NUMBER too; 0: of every other row after it. */
typedef struct {
	const tb_sentence *row;
	unsigned number;
	bool worked; /* that row stands among the others */
} tb_later;

typedef struct {
	const tb_pattern *pattern;
	tb_diagnostics *diagnostics;
	tb_arena *arena;
	const char *piece;
	const tb_stitch *chain, *slip; /* of the library */
	GArray *later; /* tb_later, of the piece now read */

	/* of the text now read */
	const tb_text *text;
	GArray *tokens; /* tb_token */
	unsigned at;
	unsigned row; /* for faults; 0 when it has no number */
	bool is_round;
	unsigned depth;
	unsigned stars; /* open repeats that begin with *, in the bracket now read */
	tb_loops loops; /* "working in back loops only": until the row ends */
	tb_side side; /* "with RS facing" said among the acts */
	tb_number skipped; /* how many the last skip skipped */
} tb_parser;

/* parser.c: tokens */
const tb_token *tb_parser_peek(const tb_parser *p, unsigned ahead);
/* How many tokens the words of PHRASE ("rep from") take here, or 0 when they do not stand here. */
unsigned tb_parser_at(const tb_parser *p, const char *phrase);
bool tb_parser_accept(tb_parser *p, const char *phrase);
bool tb_parser_at_mark(const tb_parser *p, unsigned ahead, gunichar mark);
bool tb_parser_accept_mark(tb_parser *p, gunichar mark);
bool tb_parser_at_end(const tb_parser *p);
/* The closing bracket of an opening one, or 0 when MARK opens nothing. */
gunichar tb_parser_closing(const tb_parser *p, unsigned ahead);
/* The stretch of the source from token FIRST to the one before the token now read. */
tb_span tb_parser_span(const tb_parser *p, unsigned first);

/* parser.c: faults. Always false. */
bool tb_parser_fail(tb_parser *p, const char *code, unsigned first, unsigned last, const char *hint,
	const char *format, ...) G_GNUC_PRINTF(6, 7);
/* The token now read is not understood; EXPECTED says what may stand here, when nothing is near. */
bool tb_parser_fail_unknown(tb_parser *p, const char *expected);

/* parser.c: one level deeper, in a repeat or group that begins at token FIRST. */
bool tb_parser_enter(tb_parser *p, unsigned first);

/* parser.c: stitches. The longest run of words here that is a stitch; *LENGTH its tokens. */
const tb_stitch *tb_parser_find_stitch(const tb_parser *p, unsigned ahead, unsigned *length);

/* numbers.c */
extern const int tb_number_one[1];
bool tb_parser_at_number(const tb_parser *p);
bool tb_parse_number(tb_parser *p, tb_number *number);
/* The figures of a number, one or one a size, fractions allowed; -1 for a size that has none. */
bool tb_parse_figures(tb_parser *p, double **values, unsigned *count);
/* The number VALUE in all sizes. */
tb_number tb_number_make(tb_parser *p, int value, tb_span span);
bool tb_number_is(const tb_number *number, int value);

/* parse_place.c */
bool tb_parser_at_place(const tb_parser *p);
/* What follows "in", "around", "over": which stitches, of what kind. */
bool tb_parse_place(tb_parser *p, tb_place *place);
/* "st", "ch-2 sp", "FPdc": the kind of place. False, no fault told, when none stands here. */
bool tb_parse_noun(tb_parser *p, tb_place *place);
bool tb_parser_is_space_word(const char *word);
/* "2-ch sp", "1ch sp", as UK patterns say it: its tokens, or 0. */
unsigned tb_parser_at_counted_space(const tb_parser *p);
/* "2 rows below", "of previous row". */
bool tb_parse_below(tb_parser *p, tb_place *place);
/* "BLO", "in front loops only": which loops; false, no fault told, when nothing is said. */
bool tb_parse_loops(tb_parser *p, tb_loops *loops);

/* parse_turning.c */
/* "tch", "top of ch-3", "3rd ch of beg ch-5": false, no fault told, when it is not meant here. */
bool tb_parse_turning_chain(tb_parser *p);
/* "(counts as dc)", when it stands here; EXTRA the chains beyond it in "(counts as dc, ch 2)". */
bool tb_parse_counts(tb_parser *p, tb_act *act, int *extra);

/* parse_acts.c */
typedef enum {
	TB_SCOPE_ROW,
	TB_SCOPE_BRACKET,
	TB_SCOPE_STAR,
	TB_SCOPE_ONLY, /* up to the ; or . of "size L only: …;" */
} tb_scope;
/* Acts up to the end of the scope, which is not read. */
bool tb_parse_acts(tb_parser *p, tb_scope scope, GArray *acts);
bool tb_parse_act(tb_parser *p, GArray *acts);
tb_acts tb_acts_make(tb_parser *p, const GArray *acts);
void tb_parser_skip_separators(tb_parser *p);

/* parse_work.c: "3 dc in next st", "ch 3", and the places that follow. */
bool tb_parse_work(tb_parser *p, GArray *acts);

/* parse_cluster.c: "keeping last loop of each on hook, …" behind ACT, when it stands here. */
bool tb_parse_cluster(tb_parser *p, tb_act *act, unsigned first);

/* parse_finish.c: skips, joins, leaving off. False with *READ false: none of these stands here. */
bool tb_parse_other(tb_parser *p, GArray *acts, bool *read);

/* parse_aside.c: words that make no stitch; ACTS are those before them. *READ false: none here. */
bool tb_parse_aside(tb_parser *p, const GArray *acts, bool *read);

/* parse_around.c: "working along other side of foundation ch"; false, no fault told: not here. */
bool tb_parse_other_side(tb_parser *p, GArray *acts);

/* parse_repeat.c */
bool tb_parse_star(tb_parser *p, GArray *acts);
bool tb_parse_bracket(tb_parser *p, GArray *acts);
/*
 * "4 times", "twice", "x 3" when it stands here; how many in all. False with *READ false: not here.
 */
bool tb_parse_times(tb_parser *p, tb_number *count, bool *more, bool *read);
/*
 * "to last 3 sts": the places left. NAMED, if not NULL, becomes the kind of place where one is
 * named, as in "to last ch-3 sp".
 */
bool tb_parse_to_last(tb_parser *p, tb_number *count, tb_place *named, bool *read);

/* parse_claims.c: a count at the row's end, when it stands here. */
bool tb_parser_at_claims(tb_parser *p);
bool tb_parse_claims(tb_parser *p, GArray *claims);

/* parse_sizes.c: "S (M, L) only"; the word "size" has been read. */
bool tb_parse_sizes(tb_parser *p, tb_size_set *sizes);

/* parse_again.c: "Rep Rows 3-6 …"; with ONCE, how often need not be said. */
bool tb_parser_at_rows_again(const tb_parser *p);
bool tb_parse_rows_again(tb_parser *p, tb_sentence *sentence, unsigned last_row, bool once);

/* parse_later.c: "4 and 6", "2 and all even rows" as a row's number, when it stands here. */
void tb_parse_later(tb_parser *p, tb_sentence *sentence);
/*
 * Puts the rows between LAST_ROW and NEXT whose text was written before into SENTENCES at AT, and
 * returns how many.
 */
unsigned tb_later_insert(
	tb_parser *p, GPtrArray *sentences, guint at, unsigned last_row, unsigned next);
/* Tells the rows that never came up. */
void tb_later_check(tb_parser *p);

/* parse_row.c: "Row 1 (RS):"; *READ false when the text does not begin with a row's number. */
bool tb_parse_head(tb_parser *p, tb_sentence *sentence, unsigned last_row, bool *read);
bool tb_parse_row_list(tb_parser *p, unsigned *first, unsigned *last);
bool tb_parse_side(tb_parser *p, tb_side *side);

#endif
