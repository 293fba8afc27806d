/* How spellings are found: the grammar's when the program is built, a pattern's own when it is read. */
#ifndef TB_NOTATION_SPELLING_H
#define TB_NOTATION_SPELLING_H

#include <glib.h>
#include <stdbool.h>

#define TB_SPELLING_HASH 2166136261u

/* The hash of what HASH is of, and LENGTH bytes more (FNV-1a). */
static inline guint32 tb_spelling_hash(guint32 hash, const char *chars, gsize length)
{
	for (gsize i = 0; i < length; i++)
		hash = (hash ^ (guchar)chars[i]) * 16777619u;
	return hash;
}

bool tb_spelling_is_letter(gunichar c);

/* Where the word that begins at byte FROM of TEXT ends: letters, figures, or one sign. */
gsize tb_spelling_word_end(const char *text, gsize from);

/* The words of TEXT parted by single blanks. Owned. */
char *tb_spelling_words(const char *text);

/* Where the search for HASH begins in a table of a power of two of places. */
static inline guint32 tb_spelling_place(guint32 hash, guint32 mask)
{
	return (hash ^ hash >> 15) & mask;
}

#endif
