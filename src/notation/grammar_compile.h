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

typedef struct {
	char *spelling;
	guint term;
	int value;
	guint terms;
} spelling;

enum { OP_WORD, OP_NUMBER, OP_SLOT, OP_SPREAD, OP_SAME, OP_LIST, OP_PASS };

extern const char *path;
extern guint line_number;
extern names terms, rules, kinds, slots, symbols;
extern GPtrArray *titles, *phrases;
extern GArray *spellings, *most_words; /* most_words: guint by rule, 0 for no bound */
extern GHashTable *classes, *known_words, *lists;

/* Tells what is wrong with the line now read, and ends. */
G_GNUC_NORETURN G_GNUC_PRINTF(1, 2) void refuse(const char *format, ...);

/* --- grammar_read.c --- */

void names_init(names *n);
guint number_of(names *n, const char *name);
void add_list(const char *base);
void read_file(char **lines, bool names_only);

/* --- grammar_find.c --- */

gboolean *first_of(const phrase *p);
void find_first(void);
void find_next(void);
void find_seconds(void);
GArray *behind_first(const phrase *p, guint term);
/* The phrases of RULE that begin with TERM, in groups: what they need behind it, how many, and they. */
GArray *list_predicted(guint rule, guint term, GHashTable *sets, GPtrArray *order);
void find_needs(const phrase *p, GHashTable *sets, GPtrArray *order, guint needs[3]);
/* Before it, once. */
void find_musts(void);

/* --- grammar_compile.c --- */

/* The number of a set of terminals, the same for sets that have the same members. */
guint set_number(GHashTable *sets, GPtrArray *order, const GArray *members);

#endif
