/*
 * What the grammar's compiler knows of the grammar: shared by its reading (grammar_read.c), by what
 * is worked out of it (grammar_find.c), and by the tables that are written (grammar_compile.c).
 */
#ifndef TB_NOTATION_GRAMMAR_COMPILE_H
#define TB_NOTATION_GRAMMAR_COMPILE_H

#include "spelling.h"

#include <glib.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct {
	GPtrArray *names; /* char *, in the order they came up */
	GHashTable *numbers;
} names;

typedef struct {
	bool is_rule;
	guint what;        /* rule, or set */
	GArray *terms;     /* guint, of a set */
	int slot;
	GArray *skips;     /* guint: dots reached by leaving out */
} symbol;

typedef struct {
	guint op, field;
	int value;
} build;

typedef struct {
	guint rule, line, cost, kind;
	char *text, *example;
	GPtrArray *symbols; /* symbol */
	GArray *builds;     /* build */
	GArray *first;      /* gboolean, one a terminal */
	GPtrArray *next;    /* gboolean *, by dot and terminal: what can stand there */
} phrase;

/* A place in phrases of one rule that are alike up to it and in what they read at it. */
typedef struct {
	const symbol *symbol;  /* what is read here; NULL at a phrase's end */
	GArray *phrases;       /* guint: those that share it */
	guint number;
	GPtrArray *behind;     /* states, of which each may follow once the symbol is read */
	GPtrArray *skips;      /* states reached by leaving the symbol out */
	gboolean *next;        /* one a terminal: what can stand here */
	gboolean *need;        /* … of which one must stand here or behind */
	bool parts;            /* not all phrases that share what is before it share it */
} state;

typedef struct {
	char *spelling;
	guint term;
	int value;
	guint terms;
} spelling;

enum { OP_WORD, OP_NUMBER, OP_SLOT, OP_SPREAD, OP_SAME, OP_UNBROKEN, OP_PARTED, OP_LIST, OP_PASS };

extern const char *path;
extern guint line_number;
extern names terms, rules, kinds, slots, symbols;
extern GPtrArray *titles, *phrases;
extern GArray *spellings, *most_words; /* most_words: guint by rule, 0 for no bound */
extern GHashTable *classes, *known_words, *lists, *eithers;

/* Tells what is wrong with the line now read, and ends. */
G_GNUC_NORETURN G_GNUC_PRINTF(1, 2) void refuse(const char *format, ...);

/* --- grammar_read.c --- */

void names_init(names *n);
guint number_of(names *n, const char *name);
void add_list(const char *base);
void add_choice(const char *text);
void read_file(char **lines, bool names_only);

static inline bool is_same_list(const GArray *a, const GArray *b)
{
	return a->len == b->len && memcmp(a->data, b->data, a->len * sizeof(guint)) == 0;
}

/* --- grammar_compile.c --- */

/* Writes TEXT as a literal of C. */
void write_string(FILE *out, const char *text);

/* The number of the set of MEMBERS, which is kept in ORDER where it is new. */
guint set_number(GHashTable *sets, GPtrArray *order, const GArray *members);
/* The same for the terminals of which HAS is true. */
guint number_of_set(const gboolean *has, GHashTable *sets, GPtrArray *order);

/* --- grammar_find.c --- */

gboolean *first_of(const phrase *p);
void find_first(void);
void find_next(void);
void find_seconds(void);
/*
 * The states that begin phrases of a rule with TERM, of OF_RULE, in groups: what they need behind it, how
 * many, and they, by their place in it and FIRST more.
 */
GArray *list_predicted(const GPtrArray *of_rule, guint first, guint term, GHashTable *sets, GPtrArray *order);
/*
 * The sets of which phrases that begin at ROOT need a terminal: of each of two, the rarer first, behind
 * their first, and of one anywhere.
 */
void find_needs(const state *root, GHashTable *sets, GPtrArray *order, guint needs[3]);
/* Adds to NEED the rarest terminals of which P needs one at dot DOT or behind it. */
void add_need(const phrase *p, guint dot, gboolean *need);
/* Before them, once. */
void find_musts(void);

/* --- grammar_compile.c --- */

/* Writes TEXT as a literal of C. */
void write_string(FILE *out, const char *text);

/* The number of a set of terminals, the same for sets that have the same members. */
guint set_number(GHashTable *sets, GPtrArray *order, const GArray *members);

#endif

/* --- grammar_states.c --- */

/* By rule: the states its phrases begin with. */
extern GPtrArray *roots;

/* All states, each at its number: the first of those that may follow one has the number behind it. */
GPtrArray *find_states(void);
/* The numbers of STATES. Owned array of guint. */
GArray *numbers_of(const GPtrArray *states);

/* --- grammar_spell.c --- */

void write_spellings(FILE *out);
/* All that spellings begin with, up to the end of each of their words. */
void write_heads(FILE *out);
