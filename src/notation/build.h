/*
 * From what the chart read to the instruction tree: values become numbers, places and acts.
 *
 * What a phrase means stands here once; how it may be said stands in english.grammar.
 */
#ifndef TB_NOTATION_BUILD_H
#define TB_NOTATION_BUILD_H

#include "notation/chart.h"
#include "notation/tree.h"
#include "pattern/defined.h"

/* "bobble", whose legs the pattern's own words say, and what they make is not known. */
typedef struct {
	const tb_stitch *stitch;
	const tb_defined *defined;
	tb_span span;
} tb_loose;

/* Words FROM to TO, left out since nobody knows them. */
typedef struct {
	tb_span span;
	guint32 from, to;
	const char *code, *why, *hint; /* … or known, and what is to be told of them; code NULL: not known */
} tb_doubt;

typedef struct {
	const tb_pattern *pattern;
	unsigned piece; /* the one whose rows are read */
	const tb_vocabulary *vocabulary;
	const tb_lattice *lattice; /* of the text now built */
	tb_arena *arena;           /* of the tree */
	tb_arena *scratch;         /* of the text now built */
	const tb_stitch *chain, *slip;
	const tb_stitch *plain; /* the ordinary stitch worked last, in rows before this text */
	const tb_stitch **plain_at; /* the same for each word of the text */
	bool names_plain; /* the text names one */
	bool at_once;     /* "armhole and neck are shaped at the same time" stands before */
	const char *const *grammar_symbols;
	const tb_own *knot; /* the kind worked last, which "knot st" means where there are two */
	const tb_own *named[TB_SYMBOL_COUNT]; /* groups named where they are first worked: "(shell)" */
	const tb_own *like; /* a shell where nothing says what that is */
	bool own_sp, own_bl; /* the pattern tells a space, a block of filet in its own words, which are not the usual ones */
	guint32 own_acts;   /* so many stand in this text for stitches of the pattern's own */
	tb_act told_shell;  /* "shell of 5 dc in next st": what it is; count 0: not said; stitch NULL: now this, now that */
	tb_counts counts_said[10]; /* by chains: whether they count, said once for all rows */
	guint32 begins; /* the word its acts begin with */
	const tb_other_work *last_leg; /* what the row named last of other work; or NULL */
	bool first_row; /* no row of the piece was read before */
	bool on_ring;   /* … and it goes on a chain that is joined into a ring */
	unsigned row;   /* the number of the row that is read; 0: it has none, or several */
	unsigned first_of; /* … of the first of several; 0: it has none */
	const GPtrArray *sentences; /* tb_sentence: those of the piece that were read before */
	tb_number skipped; /* how many the last skip skipped */
	tb_place skipped_kind; /* … and of what kind */
	bool shapes_rows;  /* "dec 1 st at beginning of every row": rows from end to end */
	bool behind;       /* "working behind petals": a stitch around a post comes from the back */
	tb_number chains;  /* how many the last chain made */
	bool closes_block; /* the last star of the row ends rows that are worked again */
	guint32 deep;      /* the word behind a number of rows below that is past the limit, or 0 */
	tb_size_set only;  /* the sizes that work this text, where it names them; or 0 */
	unsigned pattern_first, pattern_last; /* "Rows 2-5 form the pattern"; 0: not said */
	GArray *loose;     /* tb_loose of this text, each stitch once */
	GHashTable *held;  /* figures for the sizes that something uses, as they stand in the lattice */
	GArray *asides;    /* tb_span: what was read past within rows */
	GArray *unheld;    /* tb_span: what the text now read says of the work, and nothing is held against */
	GArray *doubts;    /* tb_doubt: words left out of the text now read, which are not known */
} tb_builder;

/* Makes B ready for the text of LATTICE. */
void tb_build_begin(tb_builder *b, const tb_lattice *lattice, tb_arena *scratch);

tb_span tb_build_span(const tb_builder *b, guint32 from, guint32 to);
tb_number tb_build_number(tb_builder *b, const tb_value *value, int otherwise);
/* Marks VALUE as used, where it has a figure for each size: figures that nothing uses are told of. */
void tb_build_hold(tb_builder *b, const tb_value *value);
/* The one figure of VALUE, or OTHERWISE. */
unsigned tb_build_figure(const tb_value *value, unsigned otherwise);
tb_number tb_number_make(tb_arena *arena, int value, tb_span span);
/* The sizes that NAMES names; all where it names none. */
tb_size_set tb_build_sizes(tb_builder *b, const tb_value *names);

/* The stitch VALUE names, or NULL where it names a group of the pattern's own, *OWN then. */
const tb_stitch *tb_build_stitch(tb_builder *b, const tb_value *value, const tb_own **own);
void tb_build_place(tb_builder *b, const tb_value *value, tb_place *place);
/* What a place besides another is, where it is the middle of a group that nothing else tells. */
void tb_build_amid(tb_builder *b, const tb_value *value, tb_place *place);
void tb_build_noun(tb_builder *b, const tb_value *noun, tb_place *place);

/* script_colours.c: a colour as all texts call it, "A", "MC", "dark red", of the LENGTH bytes at CHARS. */
const char *tb_colour_name(tb_arena *arena, const char *chars, size_t length);

/* --- build_mark.c --- */

/* The marker that the remark VALUE puts: the last of ACTS puts it when it is worked. */
void tb_build_mark(tb_builder *b, const tb_value *value, GArray *acts);
/* ACT puts the marker that SAID tells of. */
void tb_build_put_mark(tb_arena *arena, const tb_act *said, tb_act *act);
/* "To 2 sts before the marked st": END is where REACH ends. */
/* Which of the markers VALUE, a place or a noun, names: tb_which_mark. */
unsigned tb_build_which_mark(const tb_value *value);
void tb_build_up_to_mark(const tb_value *reach, tb_place *end);

/* --- build_kinds.c --- */

/* "Each st, skipping the ch-1 sps": none of what BUT says. */
void tb_build_but(tb_builder *b, const tb_value *but, tb_place *place);
/* "Each dc, tr and ch-1 sp": one more kind; true for "each st and ch", where a chain counts as a stitch. */
bool tb_build_also(tb_builder *b, const tb_value *also, tb_place *place);

/* --- build_reach.c --- */

/* PLACE is "each", as far as REACH says. */
void tb_build_reach(tb_builder *b, const tb_value *reach, tb_place *place);
/* PLACE is one less, of those it counts. False: it is one alone. */
bool tb_build_leave_one(tb_builder *b, tb_place *place);
/* "rep from * in every scallop": whether something of BODY goes into such; true where UNTIL names none. */
bool tb_build_goes_into_each(tb_builder *b, const tb_value *until, const tb_acts *body);

/* --- build_named.c --- */

/* The group ACT, of VALUE, is called so from here on; BEFORE: the acts before it that are known. */
void tb_build_name_group(tb_builder *b, const tb_value *value, gint16 name, const GArray *before, tb_act *act);
/* The chain that VALUE says in front of its group. */
void tb_build_lead(tb_builder *b, const tb_value *value, GArray *acts);

/* --- build_ground.c --- */

/* "across the left front": PLACE is on that piece, where the pattern has one, or goes as far as that part of the row. */
void tb_build_on_section(tb_builder *b, const tb_value *value, tb_place *place);

/* "each st of first leg", "around the second leg": true where VALUE is such a place, which PLACE is then. */
bool tb_build_on_ground(tb_builder *b, const tb_value *value, tb_place *place);
/* "12 sc around first leg": ACT's place is so many of it. */
/* "Sl st in next 2 sts of body": the row is joined to that. */
/* Slip stitches upon the finished cloth. */
void tb_build_surface(tb_builder *b, const tb_value *value, GArray *acts);
void tb_build_anchor(tb_builder *b, const tb_value *value, GArray *acts);
/* "From the second leg" */
void tb_build_go_to(tb_builder *b, const tb_value *value, GArray *acts);
void tb_build_many_on_ground(tb_builder *b, const tb_value *value, tb_act *act);

/* Adds the acts that VALUE says to ACTS (tb_act). */
void tb_build_act(tb_builder *b, const tb_value *value, GArray *acts);
tb_acts tb_build_list(tb_builder *b, const tb_value *list);
tb_acts tb_acts_keep(tb_arena *arena, const GArray *acts);
/* The parts of a claim (tb_claim), added to CLAIMS. */
void tb_build_claims(tb_builder *b, const tb_value *value, GArray *claims);

/* --- shared by the files of build --- */

/* An act of KIND that stands where VALUE does; and such an act, added. */
tb_act tb_build_act_of(const tb_builder *b, const tb_value *value, tb_act_kind kind);
void tb_build_add_kind(tb_builder *b, const tb_value *value, GArray *acts, tb_act_kind kind);
/* Whether the stitches back along a cord are as many as its chains have room for; true of all other values. */
bool tb_build_cord_fits(const tb_value *value);

/* An act that is understood and not worked: WHY, told as CODE with HINT. */
void tb_build_tell_cannot(tb_builder *b, const tb_value *value, GArray *acts, const char *code,
	const char *why, const char *hint);
void tb_build_add_cannot(tb_builder *b, const tb_value *value, GArray *acts, const char *why);
bool tb_build_has(const tb_value *value, tb_slot slot);
int tb_build_one_number(const tb_value *value, int otherwise);

/* --- build_sized.c --- */

/* The MANY CLAIMS as they are said of SIZES alone. */
const tb_claim *tb_claims_in(const tb_builder *b, const tb_claim *claims, unsigned many, tb_size_set sizes);
void tb_build_only(tb_builder *b, const tb_value *value, GArray *acts);
void tb_build_sized(tb_builder *b, const tb_value *value, GArray *acts);

/* --- build_join.c --- */

/* "…, all in the ring", behind stitches that say no place. */
void tb_build_all_in_ring(tb_builder *b, const tb_value *value, GArray *acts);
void tb_build_join(tb_builder *b, const tb_value *value, GArray *acts);
/* "Sl st in top of beg-cl": ACT goes where the round began, where a stitch of the pattern is called so. */
void tb_build_own_beginning(const tb_builder *b, tb_act *act);
void tb_build_travel_between(const tb_builder *b, const tb_value *value, tb_act *act);
void tb_build_slip_to(tb_builder *b, const tb_value *value, GArray *acts);
void tb_build_new_yarn(tb_builder *b, const tb_value *value, GArray *acts);

/* --- build_chain.c --- */

/* Remarks, colours, markers: they make no stitch. A bracket not understood may tell of no "12-24". */
void tb_build_fold(tb_builder *b, const tb_value *value, GArray *acts);
/* build_skip.c; the second: "do not sk st behind", which is about the post stitch before it */
void tb_build_skip_first(tb_builder *b, const tb_value *value, GArray *acts, guint before);
void tb_build_leave(tb_builder *b, const tb_value *value, GArray *acts);
void tb_build_skip(tb_builder *b, const tb_value *value, GArray *acts);
void tb_build_not_behind(tb_builder *b, const tb_value *value, GArray *acts);
/* A turn, which may say what is left. */
void tb_build_turn(tb_builder *b, const tb_value *value, GArray *acts);
void tb_build_remark(tb_builder *b, const tb_value *value, GArray *acts);
/* "Rows 2-5 form the pattern", "these 4 rows form the pattern" */
void tb_build_set_pattern(tb_builder *b, const tb_value *remark);
/* What the chains of SKIP count as, where VALUE says so; false where that cannot be, which is told. */
bool tb_build_skip_note(tb_builder *b, const tb_value *value, tb_act *skip, GArray *acts);
void tb_build_skipped_count(tb_builder *b, const tb_value *value, GArray *acts);
/* What NOTE says of the chains that WORK skips; false where that cannot be, which is told. */
bool tb_build_note(tb_builder *b, const tb_value *note, tb_act *work, GArray *acts);
/* SAID, "(this is 1 dc and 2 ch)", is of the chain among ACTS that stands before it; an error where none does. */
void tb_build_say_count(GArray *acts, tb_arena *arena, const tb_act *said);
/* What so many chains, LESS fewer than CHAINS, were said to count as for all rows. */
tb_counts tb_build_counts_said(const tb_builder *b, const tb_number *chains, int less);
void tb_build_chain(tb_builder *b, const tb_value *value, GArray *acts);
/* "…, counting as last ch-5 loop": of how many chains what VALUE works is said to be a loop; 0: not said. */
int tb_build_loop_chains(const tb_value *value);
/* "a multiple of 6 plus 2": of how many chains, or stitches along an edge, ACT's may be. */
void tb_build_multiple(tb_builder *b, const tb_value *multiple, tb_act *act);
/* What a stitch that begins a row without chains is said to count as; false where it is no such. */
bool tb_build_counts_itself(tb_builder *b, const tb_value *value, tb_act *act);
void tb_build_stacked(tb_builder *b, const tb_value *value, GArray *acts);
void tb_build_chain_decrease(tb_builder *b, const tb_value *value, GArray *acts);
void tb_build_chain_popcorn(tb_builder *b, const tb_value *value, GArray *acts);

/* --- build_work.c --- */

tb_loops tb_build_loops_of(const tb_value *loops);
/* ACT with the stitch that VALUE names, put behind ACTS as it is worked. */
void tb_build_finish(tb_builder *b, const tb_value *value, tb_act *act, GArray *acts);
void tb_build_add_way_to(tb_builder *b, GArray *acts, const tb_act *act);
/* Whether NOUN, a space of chains, is written for one alone. */
bool tb_build_is_singular(const tb_builder *b, const tb_value *noun);
/* "2 dc over ch": over all of that space, where "in" would be into a chain itself. */
/* "Next sc of Round 2", said in VALUE, where that is not the row below. */
void tb_build_row_named(const tb_builder *b, const tb_value *value, tb_place *place);
/* "between the groups of Rnd 2", "… 2 rnds below", DEEPER: how deep that is; a row that is not above stays named. */
void tb_build_deeper(const tb_builder *b, const tb_value *deeper, tb_place *place);
/* Refuses what VALUE was built to, ACTS from BEFORE on, where VALUE names such a row and none of them goes there. */
void tb_build_keep_row(tb_builder *b, const tb_value *value, GArray *acts, guint before);
void tb_build_over(tb_builder *b, const tb_value *said, tb_place *place);
/* Whether word WORD is written WANTED. */
bool tb_build_is_word(const tb_builder *b, guint32 word, const char *wanted);

/* build_no_place.c: whether the place that VALUE says for ACT is none that there is, which is told. */
bool tb_build_is_no_place(tb_builder *b, const tb_value *value, const tb_act *act, GArray *acts);
/* "In 2nd ch" of a first row, as SAID, is counted from the hook; so it is where chains alone stand before. */
void tb_build_count_from_hook(tb_builder *b, const tb_value *said, tb_place *place);
bool tb_build_are_chains(const GArray *acts);
/* How many "every 2" or "each pair of" in SAID goes over at a time. */
int tb_build_few(const tb_value *said);
/* "A shell of 5 dc in next st" is what "shell in next sp" works from there on. */
void tb_build_tell_shell(tb_builder *b, const tb_act *act);
bool tb_build_is_unnamed(const tb_value *stitch, tb_symbol symbol);
/* "inc", where it is so many stitches in one place, and no group of the pattern's own: build_stitch.c. */
bool tb_build_is_increase(const tb_builder *b, const tb_value *stitch);
/* "patt to last 2 sts", which the rows before have shown. */
void tb_build_in_pattern(tb_builder *b, const tb_value *value, GArray *acts);
/* Whether STITCH is "2 tog", "inc", in a text that names no stitch: one of the pattern's. */
bool tb_build_is_of_pattern(const tb_builder *b, const tb_value *stitch);
void tb_build_shape(tb_builder *b, const tb_value *value, const tb_value *shaping, GArray *acts);
void tb_build_end(tb_builder *b, const tb_value *end, GArray *acts);
/* ACT goes along an edge, as VALUE says. */
void tb_build_edge(tb_builder *b, const tb_value *value, tb_act *act);
void tb_build_work(tb_builder *b, const tb_value *value, GArray *acts);
void tb_build_both_ends(tb_builder *b, const tb_value *value, GArray *acts);
void tb_build_mixed(tb_builder *b, const tb_value *value, GArray *acts);
/* "Sc in each sc, hdc in each hdc, dc in each dc", "the same st in each st". */
void tb_build_each_kind(tb_builder *b, const tb_value *value, GArray *acts);

/* --- build_ends.c --- */

/* "at the end of Row 20, ch 41": what is behind it is worked once, when the last row is. */
void tb_build_at_end(tb_builder *b, const tb_value *value, GArray *acts);
/*
 * "… ending last repeat with ch 2, dc in first sc": that chain stands in place of the one before the
 * stitch left out. Where nothing of the last time is left then, it is the end alone.
 */
void tb_build_leave_out_chain(tb_builder *b, tb_act *act, const tb_act *end);
/* Whether BODY ends with the chain, or so many stitches, in whose place END works others the last time. */
bool tb_build_ends_instead(tb_builder *b, const tb_acts *body, const tb_value *end);
/* Whether END works fewer of the stitches that BODY ends with, and in the last place. */
bool tb_build_ends_half(tb_builder *b, const tb_acts *body, const tb_value *end);
/* "1 sc instead of 2 in last st": whether the stitch that BODY ends with is worked so often. */
bool tb_build_differs_as_said(tb_builder *b, const tb_acts *body, const tb_value *end);
/*
 * "*dc in next st, ch 3; rep from * around, ending with ch 3": that is the chain with which each time ends,
 * and no other behind it. Where END is such a chain alone, *BODY_LAST is the act of BODY it stands for.
 */
bool tb_build_ends_with_chain(tb_builder *b, const tb_acts *body, const tb_value *end, unsigned *body_last);
/* Parts what END omits from BODY, whose last act it is then. False when BODY does not end with it. */
bool tb_build_omit(tb_builder *b, tb_acts *body, const tb_value *end);

/* --- build_torn.c --- */

/* Of ACTS, a stitch with nothing said of it right before "in first dc" is none of its own: that is one stitch in a dc. */
void tb_build_refuse_torn(GArray *acts);
/* Whether ACTS are plain stitches and an increase or decrease behind them, as what is worked all round without brackets. */
bool tb_build_ends_shaped(const tb_acts *acts);
/* Where ACT of VALUE begins, if its place stands before it; 0 where it does not. */
guint32 tb_build_place_ahead(const tb_value *value, const tb_act *act);

/* --- build_together.c --- */

/* STITCH with its legs in one place, dc3tog as the cluster of three; NULL where there is no such. */
const tb_stitch *tb_build_in_one(const tb_builder *b, const tb_stitch *stitch);
/* "… yo and draw through all 4 loops": as many as LEGS leave on the hook, and the one that was there; or no number. */
bool tb_build_closes_all(const tb_value *value, unsigned legs);
/* What ACT, of a stitch that draws several together, takes of its place; false where there is no such stitch. */
bool tb_build_take_together(const tb_builder *b, tb_act *act, bool of_each);
/*
 * "dc2tog in first st and next st", "in same st and next st": one, with a leg in each, which *THEN is of. False
 * where they lie otherwise.
 */
bool tb_build_take_both(tb_builder *b, const tb_value *stitch, tb_act *act, const tb_value **then);
/* What VALUE says of LIKE's stitch, worked in the place THEN too, or in one after another of a list of them. */
void tb_build_then(tb_builder *b, const tb_value *value, const tb_value *then, const tb_act *like, GArray *acts);
/* The first leg of ACT stands where the stitch before it went, the others in NEXT. */
void tb_build_share(const tb_place *next, tb_act *act);
/* "Draw up a loop in each of next 3 sts, draw through all": so many legs of ACT's stitch, as VALUE says. */
void tb_build_draw_together(tb_builder *b, const tb_value *value, tb_act *act);

/* --- build_repeat.c --- */

void tb_build_group(tb_builder *b, const tb_value *value, GArray *acts);
/* "5 sp, 2 bl": what the squares of filet are made of. */
void tb_build_filet(tb_builder *b, const tb_value *value, GArray *acts);
/* "1 dc over the one in 2nd round": STITCH, which is worked, is what PLACE, as SAID, is of. */
void tb_build_kin(const tb_value *said, const tb_stitch *stitch, tb_place *place);
/* As many stitches in brackets as they are worked into, one into each. */
void tb_build_one_by_one(tb_builder *b, const tb_value *value, GArray *acts);
/* "(sc, inc), sc in next 4": whether increases or decreases stand in GROUP, which need stitches of their own. */
bool tb_build_groups_shaping(const tb_lattice *l, const tb_value *group);
void tb_build_repeat(tb_builder *b, const tb_value *value, GArray *acts);
/* How often ACT, a repeat, is worked: UNTIL the end or so far before it, or so many times. MORE: after the first. */
void tb_build_until(tb_builder *b, const tb_value *until, bool more, tb_act *act);
/*
 * "Ch 1, *sc in next st, 2 sc in next; repeat around": where in the body of a row that is repeated a star
 * stands, from which it is; 0 where none does. One before the first act or behind the last parts nothing.
 */
guint32 tb_build_star_at(tb_builder *b, const tb_value *value);
void tb_build_shared(tb_builder *b, const tb_value *value, GArray *acts);
void tb_build_skip(tb_builder *b, const tb_value *value, GArray *acts);
void tb_build_by_colours(tb_builder *b, const tb_value *value, GArray *acts);
void tb_build_again(tb_builder *b, const tb_value *value, GArray *acts);
void tb_build_every(tb_builder *b, const tb_value *value, GArray *acts);

/* --- build_knot.c --- */

/* Makes known what "single knot st" and the like are; and what their moves make. */
void tb_build_name_knots(tb_builder *b);
void tb_build_knot(tb_builder *b, const tb_value *value, GArray *acts);
/* Adds what OWN is worked as, COUNT times. */
/* VALUE works what OWN defines; ACT has its place and how many. */
void tb_build_own(tb_builder *b, const tb_value *value, const tb_act *act, const tb_own *own, GArray *acts);

/* Whether ACT works as many of a group as there are places, and so one in each. */
bool tb_build_is_one_each(const tb_value *value, const tb_act *act);

/* A group that everybody means the same by, such as a V-st; empty for others. */
tb_acts tb_build_usual_group(tb_builder *b, const tb_value *stitch, const tb_act *like);
/* A shell that ACT works into another, or into a space, where nothing says what it is; or NULL. */
const tb_own *tb_build_like(tb_builder *b, const tb_value *stitch, const tb_act *act);

void tb_build_add_knots(tb_builder *b, const tb_act *like, const tb_own *own, int count, GArray *acts);
/* --- build_moves.c --- */

void tb_build_told(tb_builder *b, const tb_value *value, GArray *acts);
/* "linked tr in next st, drawing its loops from the 2nd and 3rd ch from hook": it has to have so many bars. */
void tb_build_linked(tb_builder *b, const tb_value *value, GArray *acts);

/* --- build_legs.c --- */

/* "tri, working into last st, next ch-1 sp and next tri": a stitch whose legs are told one by one. */
void tb_build_legged(tb_builder *b, const tb_value *value, GArray *acts);
/* A star stitch, told by the loops that are drawn up for it. */
void tb_build_star(tb_builder *b, const tb_value *value, GArray *acts);

/* --- build_claims.c --- */

void tb_build_claim(tb_builder *b, const tb_value *value, GArray *acts);
/* "23 dc, counting ch-3 as 1 dc": what is SAID of that chain is said of what COUNT CLAIMS count. */
void tb_claim_say_chain(const tb_act *said, tb_claim *claims, guint count);
/* Whether CLAIM, "including the turning chain", only says that of the count before it. */
bool tb_claim_is_of_chain(const tb_act *claim);
/* Whether CLAIM, "(3 dc made)", is of what stands before it, and no count of the row. */
bool tb_claim_is_of_act(const tb_act *claim);
/* The last of ACTS, a claim, stands inside what is repeated: it goes to the act before it. */
void tb_claim_put_inside(tb_builder *b, GArray *acts);
/* Gives it to the last of ACTS (tb_act); false where none can have it. */
bool tb_claim_add_to_last(const tb_act *claim, GArray *acts);

/* build_star.c: "work as row 2 from * to end". */
void tb_build_from_star(tb_builder *b, const tb_value *value, GArray *acts);

#endif
