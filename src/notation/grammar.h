/*
 * The row language as tables, compiled from english.grammar when the program is built.
 *
 * A rule is a name for what its phrases read; a phrase is a row of symbols, each a set of terminals
 * or a rule, some of which may be left out. A state is a place before a symbol of a phrase, or its end;
 * phrases of a rule that begin alike share their states up to where they part. What a phrase builds is
 * said by its ops. Everything here is constant data.
 */
#ifndef TB_NOTATION_GRAMMAR_H
#define TB_NOTATION_GRAMMAR_H

#include "notation/english.h" /* the enumerations: tb_term, tb_rule, tb_kind, tb_slot, tb_symbol */

#include <glib.h>
#include <stdbool.h>

typedef enum {
	TB_STATE_TERMINAL, /* reads a terminal of set `what` */
	TB_STATE_RULE,     /* reads what rule `what` reads */
	TB_STATE_END,      /* the phrase of rule `what` is read */
} tb_state_kind;

#define TB_NO_SLOT 0xffff

typedef struct {
	guint8 kind;
	guint16 slot;   /* tb_slot the child goes to, or TB_NO_SLOT */
	guint16 what;   /* set, rule */
	guint16 phrase; /* the first of those that share the state */
	guint16 skips;  /* into `skips`: the states reached by leaving out what stands here; 0 for none */
	guint16 also;   /* into `also`: the states that follow when it is read, but the next one; 0 for none */
	guint16 next;   /* set: the terminals that can stand here, whatever is left out */
	guint16 need;   /* set of which a terminal must stand here or behind, or 0xffff */
} tb_state;

typedef enum {
	TB_BUILD_WORD,   /* field `field` is symbol `value` */
	TB_BUILD_NUMBER, /* field `field` is the number `value` */
	TB_BUILD_SLOT,   /* field `field` is what slot `value` holds */
	TB_BUILD_SPREAD, /* all fields of what slot `value` holds */
	TB_BUILD_SAME,   /* slots `field` and `value` must hold the same */
	TB_BUILD_UNBROKEN, /* no full stop may stand before a bracket or a figure in it */
	TB_BUILD_PARTED, /* what slot `value` holds must begin with a word, and not within one */
	TB_BUILD_LIST,   /* a list of what all slots hold, lists among them opened up */
	TB_BUILD_PASS,   /* what slot `value` holds, as it is */
} tb_build_op;

typedef struct {
	guint8 op;
	guint16 field;
	gint16 value;
} tb_build;

typedef struct {
	guint16 rule;
	guint16 ops, op_count;
	guint8 kind, cost;
	guint16 line;        /* of the grammar file */
	const char *text, *example;
} tb_phrase;

/* What phrases that begin alike begin with. */
typedef struct {
	guint16 first;   /* state */
	guint8 may_skip; /* 1 where what is read there may be left out */
	/*
	 * Sets: of each of two, the rarer first, a terminal must come somewhere behind the first, and of one
	 * anywhere.
	 */
	guint16 needs[3];
} tb_root;

typedef struct {
	const char *name, *title;
	bool is_packed; /* a list of acts that is not listed but kept as choices */
	guint32 most_words; /* it reads no more */
} tb_rule_info;

/* A spelling: words parted by single blanks. Entries are in the order of strcmp. */
typedef struct {
	const char *spelling;
	guint16 term;
	gint16 value; /* tb_symbol, or a number for the classes whose values are numbers */
	guint8 terms; /* 1: in US terms only, 2: in UK terms only, 0: in both */
} tb_spelling;

/* Whole words that a spelling is or begins with. */
typedef struct {
	guint32 hash; /* tb_spelling_hash */
	guint16 first, count; /* the spellings that are these words; first is one that begins so */
	guint8 length;        /* bytes; 0 where the table is empty */
	guint8 more;          /* longer spellings begin with them */
} tb_spelling_head;

typedef struct {
	const tb_state *states;
	const tb_phrase *phrases;
	guint phrase_count;
	const tb_root *roots;
	guint root_count;
	const tb_rule_info *rules;
	const guint64 (*sets)[TB_TERM_WORDS];
	const guint64 (*holders)[TB_SET_WORDS]; /* by terminal: the sets that hold it, those of `what` aside */
	const guint64 (*proses)[TB_TERM_WORDS]; /* one: what may begin words that work nothing */
	const guint16 *skips; /* lists of states, each ended by 0xffff */
	const guint16 *also;  /* the same behind the set of what can stand at any of them, or 0xffff */
	const tb_build *ops;
	/* groups of roots: what can stand behind the terminal, how many, and they; ended by 0xffff */
	const guint16 *predicted;
	const guint16 (*predict)[TB_TERM_COUNT]; /* by rule and terminal: where in `predicted`, by twos; 0: none */
	const tb_spelling *spellings;
	guint spelling_count;
	const tb_spelling_head *heads; /* an open table */
	guint32 head_mask;
	const char *const *term_names;
	const char *const *symbol_names;
} tb_grammar;

extern const tb_grammar tb_english;

/* The groups of roots that may begin where RULE is looked for and TERM stands. */
static inline const guint16 *tb_grammar_predicted(const tb_grammar *g, unsigned rule, unsigned term)
{
	return g->predicted + 2 * (size_t)g->predict[rule][term];
}

static inline bool tb_grammar_set_has(const tb_grammar *g, unsigned set, unsigned term)
{
	return (g->sets[set][term / 64] >> (term % 64) & 1) != 0;
}

#endif
