/*
 * Words that are mistyped. Where a text is not understood, the words in it that nobody knows are held
 * against those that people mistype most ("mistyped" in the grammar), and it is read once more with them
 * mended, which is told. One letter doubled or put in, one left out, or two that changed places: a letter
 * that stands for another makes too many other words, "chair" of "chain".
 */
#include "notation/script.h"

#include <string.h>

/* A shorter word is near to too many others; where two letters only changed places it is not. */
#define LEAST_LETTERS 5u
#define LEAST_SWAPPED 4u

/* Whether LONGER is SHORTER with one letter more, which is not the first. */
static bool has_one_more(const char *longer, const char *shorter)
{
	size_t at = 1;
	while (longer[at] == shorter[at] && shorter[at] != '\0')
		at++;
	return *longer == *shorter && strcmp(longer + at + 1, shorter + at) == 0;
}

static bool is_swapped(const char *one, const char *other)
{
	size_t at = 1;
	while (one[at] == other[at] && one[at] != '\0')
		at++;
	return *one == *other && one[at] != '\0' && one[at + 1] != '\0' && one[at] == other[at + 1] &&
		one[at + 1] == other[at] && strcmp(one + at + 2, other + at + 2) == 0;
}

static bool is_near(const char *word, const char *meant)
{
	size_t length = strlen(word), other = strlen(meant);
	if (length == other)
		return length >= LEAST_SWAPPED && is_swapped(word, meant);
	if (length < LEAST_LETTERS || other < LEAST_LETTERS)
		return false;
	return length == other + 1 ? has_one_more(word, meant) : length + 1 == other && has_one_more(meant, word);
}

/* What word AT of the text, which nobody knows, is a mistyping of; NULL for none, or where it may be two. */
static const char *find_meant(const tb_reader *r, guint32 at)
{
	const tb_lattice *l = &r->lattice;
	const tb_grammar *g = r->chart.grammar;
	if (!tb_lattice_is_unknown(l, at))
		return NULL;
	g_autofree char *word = tb_text_lower(l->text->chars + l->start[at], l->stop[at] - l->start[at]);
	const char *meant = NULL;
	for (guint i = 0; i < g->spelling_count; i++) {
		const tb_spelling *s = &g->spellings[i];
		if (s->term != TB_TERM_mistyped || !is_near(word, s->spelling))
			continue;
		if (meant != NULL)
			return NULL;
		meant = s->spelling;
	}
	return meant;
}

typedef struct {
	guint32 at; /* word of the text */
	const char *meant;
} mending;

static tb_text *mend(const tb_text *text, const tb_lattice *l, const GArray *mended, tb_arena *arena)
{
	g_autoptr(GString) chars = g_string_new(NULL);
	g_autoptr(GArray) offsets = g_array_new(FALSE, FALSE, sizeof(guint32));
	size_t at = 0;
	for (guint i = 0; i <= mended->len; i++) {
		const mending *next = i < mended->len ? &g_array_index(mended, mending, i) : NULL;
		size_t end = next != NULL ? l->start[next->at] : text->length;
		for (; at <= end && (at < end || next == NULL); at++) {
			guint32 offset = text->offsets != NULL ? text->offsets[at] : (guint32)(text->offset + at);
			if (at < text->length)
				g_string_append_c(chars, text->chars[at]);
			g_array_append_val(offsets, offset);
		}
		for (const char *c = next != NULL ? next->meant : ""; *c != '\0'; c++) {
			guint32 offset = (guint32)tb_text_span(text, at, at + 1).start;
			g_string_append_c(chars, *c);
			g_array_append_val(offsets, offset);
		}
		at = next != NULL ? l->stop[next->at] : at;
	}
	tb_text *whole = tb_arena_new(arena, tb_text);
	whole->length = chars->len;
	whole->offset = text->offset;
	whole->chars = tb_arena_take(arena, chars->len + 1);
	memcpy(whole->chars, chars->str, chars->len + 1);
	whole->offsets = tb_arena_take(arena, offsets->len * sizeof(guint32));
	memcpy(whole->offsets, offsets->data, offsets->len * sizeof(guint32));
	return whole;
}

static void tell(const tb_reader *r, const tb_text *text, const tb_lattice *before, const GArray *mended)
{
	for (guint i = 0; i < mended->len; i++) {
		const mending *m = &g_array_index(mended, mending, i);
		tb_where where = {.has_place = true, .piece = r->piece};
		where.place = tb_text_span(text, before->start[m->at], before->stop[m->at]);
		g_autofree char *hint = g_strdup_printf("Write “%s”.", m->meant);
		tb_diagnose_format(r->diagnostics, TB_WARNING, "mistyped", &where, hint, "“%.*s” is read as “%s”",
			(int)(before->stop[m->at] - before->start[m->at]), text->chars + before->start[m->at], m->meant);
	}
}

bool tb_reader_mend(tb_reader *r)
{
	const tb_text *text = r->text;
	const tb_lattice before = r->lattice;
	g_autoptr(GArray) mended = g_array_new(FALSE, FALSE, sizeof(mending));
	for (guint32 at = 0; at < before.count; at++) {
		mending m = {at, find_meant(r, at)};
		if (m.meant != NULL)
			g_array_append_val(mended, m);
	}
	if (mended->len == 0)
		return false;
	tb_reader_read_instead(r, mend(text, &before, mended, r->scratch), false);
	if (r->reading_count > 0) {
		tell(r, text, &before, mended);
		return true;
	}
	tb_reader_read_instead(r, text, false);
	return false;
}
