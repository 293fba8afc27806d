/*
 * A text as a lattice: its words, and at each place the terminals that may be read there.
 *
 * Nothing is decided and nothing normalised away: "sl st" is an edge of two words beside the edges
 * of each, "d." and "d" stand side by side, "20 (22, 24)" is one number beside a number and a
 * bracket. US and UK are a choice of edges.
 */
#ifndef TB_NOTATION_LATTICE_H
#define TB_NOTATION_LATTICE_H

#include "notation/grammar.h"
#include "pattern/pattern.h"
#include "support/arena.h"
#include "support/text.h"

typedef struct tb_value tb_value;

typedef enum {
	TB_VALUE_NONE,
	TB_VALUE_SYMBOL, /* `symbol` */
	TB_VALUE_NUMBER, /* `figures`, one or one a size */
	TB_VALUE_STITCH, /* `stitch` of the library */
	TB_VALUE_OWN,    /* `own`: what the pattern's own words define */
	TB_VALUE_NODE,   /* `kind` with `count` fields */
	TB_VALUE_LIST,   /* `count` items */
	TB_VALUE_PACKED, /* a list of acts in all its readings: `node` of the chart */
} tb_value_type;

typedef struct {
	guint16 slot; /* tb_slot */
	const tb_value *value;
} tb_field_value;

struct tb_value {
	guint8 type, kind;
	gint16 symbol;
	guint32 count, hash;
	guint32 from, to; /* words of the lattice it was read from */
	const tb_value *before; /* of a long list: the one it goes on from; `items` are those behind */
	union {
		const double *figures;
		const tb_stitch *stitch;
		const void *own;
		const tb_field_value *fields;
		const tb_value *const *items;
		guint32 node;
	};
};

typedef struct {
	guint16 term;
	guint32 end; /* the place behind it */
	const tb_value *value;
} tb_edge;

typedef struct {
	const tb_text *text;
	guint32 count;             /* words */
	const guint32 *start, *stop; /* bytes of the text, one a word */
	const guint32 *first_edge; /* count + 2: edges of place i are first_edge[i] to [i + 1] */
	const tb_edge *edges;
	guint32 unpaired;          /* a bracket that has no other, or count */
	guint32 too_deep;          /* the first bracket that stands too deep in others, or count */
	const guint32 *act_ends;   /* by place: no list of acts that begins there goes on past this one */
} tb_lattice;

/* What words mean in one pattern. */
typedef struct tb_vocabulary tb_vocabulary;

tb_vocabulary *tb_vocabulary_create(const tb_grammar *grammar, const tb_library *library,
	bool uk, unsigned sizes);
void tb_vocabulary_destroy(tb_vocabulary *vocabulary);
/* WORDS, as a pattern spells them, mean OWN from now on, and no stitch of the library. */
void tb_vocabulary_define(tb_vocabulary *vocabulary, const char *words, const void *own);
/* The same, unless WORDS are a name of the pattern already. */
void tb_vocabulary_define_also(tb_vocabulary *vocabulary, const char *words, const void *own);
/* NAME is the pattern's size of number SIZE. */
void tb_vocabulary_add_size(tb_vocabulary *vocabulary, const char *name, unsigned size);
/* NAME's shorter names, once all sizes have theirs; one that several would have is none. */
void tb_vocabulary_add_short_size(tb_vocabulary *vocabulary, const char *name, unsigned size);
/* Names of several of the COUNT sizes: "Adult", where they are "Adult S" and "Adult L"; "two largest". */
void tb_vocabulary_group_sizes(tb_vocabulary *vocabulary, char *const *names, unsigned count);
/* In what is read from now on figures may be given for so many of the sizes as well: 0 for none. */
void tb_vocabulary_name_sizes(tb_vocabulary *vocabulary, unsigned named);
const tb_library *tb_vocabulary_library(const tb_vocabulary *vocabulary);
/* The library's stitch that symbol SYMBOL of the class of stitch names stands for, or NULL. */
const tb_stitch *tb_vocabulary_stitch(const tb_vocabulary *vocabulary, tb_symbol symbol);

/* The lattice of TEXT; with DOUBTS words that nobody knows may be left out. All of it lives in ARENA. */
void tb_lattice_make(tb_lattice *lattice, const tb_vocabulary *vocabulary, const tb_text *text,
	bool doubts, tb_arena *arena);
/* The word at place AT, or behind the full stop or dash there, where it is a figure behind one; else G_MAXUINT32. */
guint32 tb_lattice_stopped_figure(const tb_lattice *l, guint32 at);
/* The longest that reads TERM at WORD, or NULL. */
const tb_edge *tb_lattice_edge(const tb_lattice *l, guint32 word, unsigned term);
/* Whether nobody knows WORD: neither the vocabulary nor the pattern. */
bool tb_lattice_is_unknown(const tb_lattice *lattice, guint32 word);

G_DEFINE_AUTOPTR_CLEANUP_FUNC(tb_vocabulary, tb_vocabulary_destroy)

#endif
