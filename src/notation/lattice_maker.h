/* A lattice while it is made: shared by what finds words, figures, and sentences without work. */
#ifndef TB_NOTATION_LATTICE_MAKER_H
#define TB_NOTATION_LATTICE_MAKER_H

#include "notation/lattice.h"

#include <string.h>

/* Whole words that a pattern's spelling is or begins with. */
typedef struct {
	guint32 hash;
	guint32 length;      /* bytes; 0 where the table is empty */
	const char *words;   /* small, parted by blanks */
	const tb_stitch *stitch;
	const void *own;     /* what the pattern defines */
	guint32 size;        /* its number + 1 */
	guint32 group;       /* … or a name of several sizes: a bit for each */
	bool is_short;       /* … which it is a shorter name of: "S" for "Small" */
	bool doubtful;       /* … of several */
	bool more;           /* longer spellings begin with them */
} tb_vocabulary_entry;

struct tb_vocabulary {
	const tb_grammar *grammar;
	const tb_library *library;
	tb_arena *arena;
	guint8 terms;
	unsigned sizes;
	unsigned named; /* of the sizes, those who work what is read; 0 where all do */
	tb_vocabulary_entry *entries; /* an open table */
	guint32 mask, count;
	guint32 changes; /* how often words were added, or other sizes named */
	tb_value *symbols; /* one a tb_symbol */
	const tb_stitch **of_symbol;
};

typedef struct {
	const tb_vocabulary *v;
	tb_lattice *l;
	tb_arena *arena;
	const char *lower; /* the text in small letters, byte for byte as long, or an own copy */
	tb_edge *edges;    /* of the place now looked at and those before */
	guint32 edge_count, edge_room;
	guint32 *starts, *stops;
	const guint32 *first_edge; /* of each word, once all are there */
	guint32 *pairs;    /* the bracket that belongs to a bracket, or 0 */
} tb_lattice_maker;

/* Makes VALUE, a number that is one figure, another. */
void tb_value_set_number(tb_value *value, double number);

/* The entry of WORDS, LENGTH bytes whose hash is HASH, or NULL. */
const tb_vocabulary_entry *tb_vocabulary_find(
	const tb_vocabulary *v, guint32 hash, const char *words, size_t length);
const tb_vocabulary_entry *tb_vocabulary_find_words(
	const tb_vocabulary *v, const char *words, size_t length);

static inline const char *tb_lattice_word(const tb_lattice_maker *m, guint32 i, size_t *length)
{
	guint32 from = m->starts[i];
	*length = m->stops[i] - from;
	return m->lower + from;
}

static inline bool tb_lattice_is(const tb_lattice_maker *m, guint32 i, const char *word, size_t length)
{
	return i < m->l->count && m->stops[i] - m->starts[i] == length &&
		memcmp(m->lower + m->starts[i], word, length) == 0;
}

/* WORD is a literal. */
#define tb_lattice_is_word(m, i, word) tb_lattice_is(m, i, word, sizeof word - 1)

/* Whether TERM may be read at word I. */
bool tb_lattice_reads(const tb_lattice_maker *m, guint32 i, guint16 term);
static inline char tb_lattice_char(const tb_lattice_maker *m, guint32 i)
{
	return i < m->l->count ? m->lower[m->starts[i]] : '\0';
}

/* Whether word I is one of WORDS, a list ended by NULL. */
static inline bool tb_lattice_is_among(const tb_lattice_maker *m, guint32 i, const char *const *words)
{
	char first = tb_lattice_char(m, i);
	for (; *words != NULL; words++) {
		if (**words == first && tb_lattice_is(m, i, *words, strlen(*words)))
			return true;
	}
	return false;
}

static inline bool tb_lattice_opens(char c)
{
	return c == '(' || c == '[' || c == '{' || c == '<';
}

static inline bool tb_lattice_closes(char c)
{
	return c == ')' || c == ']' || c == '}' || c == '>';
}

/* Whether nothing stands between word I and the one behind it. */
static inline bool tb_lattice_is_glued(const tb_lattice_maker *m, guint32 i)
{
	return i + 1 < m->l->count && m->stops[i] == m->starts[i + 1];
}

/* Reads TERM, with VALUE, from the word now looked at to word END. */
void tb_lattice_add(tb_lattice_maker *m, unsigned term, guint32 end, const tb_value *value);

/* --- lattice_numbers.c --- */

const tb_value *tb_lattice_number(tb_lattice_maker *m, const double *figures, guint32 count);
void tb_lattice_add_number(tb_lattice_maker *m, unsigned term, guint32 end, double figure);
/* All numbers that begin at word I: figures, fractions, ordinals, one for each size. */
void tb_lattice_add_numbers(tb_lattice_maker *m, guint32 i);

/* --- lattice_idle.c --- */

/* Whether the sentence of words FROM to TO bids to crochet, in words that name neither stitch nor row. */
bool tb_lattice_bids(const tb_lattice_maker *m, guint32 from, guint32 to);
/* For each word where a sentence begins that tells of no work: where it ends; 0 for others. */
guint32 *tb_lattice_find_idle(const tb_lattice_maker *m, const guint32 *first_edge);

/* --- lattice_aside.c --- */

/* For each word where a clause begins that tells of no work: where it ends; 0 for others. */
guint32 *tb_lattice_find_asides(const tb_lattice_maker *m);
/*
 * Where the reading of TERM that begins at word I ends, the longest of several; 0 where there is none. The
 * dot of an abbreviation is none here, where it ends the sentence.
 */
guint32 tb_lattice_term_end(const tb_lattice_maker *m, guint32 i, guint16 term);
/* Whether one of COUNT terms is read at word I. */
bool tb_lattice_reads_any(const tb_lattice_maker *m, guint32 i, const guint16 *terms, size_t count);
/* Whether word I tells what to do, or counts. */
bool tb_lattice_tells_work(const tb_lattice_maker *m, guint32 i);
/* Whether the words from FROM to TO tell of no work; with PLACES they may speak of the cloth. */
bool tb_lattice_is_quiet(const tb_lattice_maker *m, guint32 from, guint32 to, bool places);
/* "st", "row", "ring" */
bool tb_lattice_is_place(const tb_lattice_maker *m, guint32 i);
/* "a stitch", "one row": a number that no figure tells. */
bool tb_lattice_is_one_more(const tb_lattice_maker *m, guint32 i);
bool tb_lattice_ends_clause(const tb_lattice_maker *m, guint32 i);
/* Whether TERM only tells asides from work, and stands in no phrase. */
bool tb_lattice_is_aside_word(guint16 term);

/* --- lattice_doubt.c --- */

/* For each word where words begin that nobody knows and that tell of no work as far as is known: where they
   end; 0 for others. Only in brackets, where not ALL are asked for. */
guint32 *tb_lattice_find_doubts(const tb_lattice_maker *m, bool all);
/* "the dc", "each sc", "your work": whether word I is of what is there already, and is not worked. */
bool tb_lattice_is_there(const tb_lattice_maker *m, guint32 i);
/* Where the clause ends that word I stands in. */
guint32 tb_lattice_clause_end(const tb_lattice_maker *m, guint32 i);

/* --- lattice_aim.c --- */

/* For each word behind which rows are worked until something is so, and no figure says what, or a length is
   measured from some place: where that ends. */
guint32 *tb_lattice_find_aims(const tb_lattice_maker *m);

/* --- lattice_advice.c --- */

/* For each word where a sentence begins that leaves the cloth as it is, though it may speak of the work: where
   it ends; 0 for others. */
guint32 *tb_lattice_find_advice(const tb_lattice_maker *m);

/* --- lattice_prose.c --- */

/* "a bead before each stitch", "the beads on the next row", at "each": they are worked in, and not sewn on. */
bool tb_lattice_strings_beads(const tb_lattice_maker *m, guint32 i);
/* Whether what a row works begins at word I. */
bool tb_lattice_begins_work(const tb_lattice_maker *m, guint32 i);
/* Whether at word I it is said how many there are, in brackets or in a clause of its own. */
bool tb_lattice_claims(const tb_lattice_maker *m, guint32 i);

/* For each word whether what a row works begins there, over which no remark goes on. */
const bool *tb_lattice_find_work(const tb_lattice_maker *m);

#endif
