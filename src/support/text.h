/*
 * A piece of a source with its place: a row inside a JSON string, or a row of a text file wrapped
 * over several lines. The characters are decoded (escapes resolved, line breaks made spaces); every
 * one remembers the byte of the source it came from, so that a fault is shown where it really is.
 */
#ifndef TB_SUPPORT_TEXT_H
#define TB_SUPPORT_TEXT_H

#include <tambour/diagnostics.h>

#include <string.h>

typedef struct {
	char *chars; /* NUL-terminated UTF-8 */
	size_t length;
	size_t offset; /* in the source, of the first character */
	guint32 *offsets; /* one a byte plus one for the end; NULL when the text is unbroken there */
} tb_text;

/* A text of plain characters that begins at OFFSET of the source and runs on without a break. */
tb_text *tb_text_create(const char *chars, size_t length, size_t offset);
void tb_text_destroy(tb_text *text);

/* The stretch of the source that bytes START to END (not included) of the text came from. */
tb_span tb_text_span(const tb_text *text, size_t start, size_t end);

/*
 * The text in small letters, wherever the reader lives: by Turkish rules "IN" would not be "in".
 * Ends at LENGTH, or at the NUL when that is -1. Owned: g_free.
 */
char *tb_text_lower(const char *chars, gssize length);

/* Whether C is one of SET; the NUL that ends a text never is, where strchr would find it at the end of any set. */
static inline bool tb_is_among(char c, const char *set)
{
	return c != '\0' && strchr(set, c) != NULL;
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC(tb_text, tb_text_destroy)

#endif
