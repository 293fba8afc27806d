/*
 * Stripes told once for all rows: "Stripe pattern: 2 rows A, 2 rows B, 1 row C; repeat throughout." Such a line is read
 * whole or not at all: what it says besides, a row to begin with, or other stripes told elsewhere, leaves the colours of
 * the rows unknown.
 */
#include "notation/script.h"

#include "pattern/text_kinds.h"
#include "support/limits.h"

#include <string.h>

#define MOST_STRIPES 100u

static size_t skip(const char *text, const char *signs)
{
	return strspn(text, signs);
}

/* Behind "Stripe pattern:", "Colour sequence:", "Stripes -" at LINE; 0 where no such label stands there. */
static size_t behind_label(const char *line)
{
	size_t at = tb_at_word(line, "stripe striping stripes colour color");
	if (at == 0)
		return 0;
	at += skip(line + at, " ");
	size_t noun = tb_at_word(line + at, "pattern sequence order");
	if (noun == 0 && tb_at_word(line, "stripes") == 0)
		return 0;
	at += noun;
	at += skip(line + at, " ");
	return line[at] == ':' ? at + 1 + skip(line + at + 1, " ") : 0;
}

/* The bytes of a colour's name at TEXT: as far as a sign, or a word that goes on with another stripe. */
static size_t at_name(const char *text)
{
	size_t end = 0;
	while (g_ascii_isalpha(text[end]) || (text[end] == ' ' && g_ascii_isalpha(text[end + 1]) && tb_at_word(text + end + 1, "and repeat rep then") == 0))
		end++;
	return end < TB_LIMIT_TERM_BYTES ? end : 0;
}

/* "2 rows A", "1 rnd of cream" at TEXT: the bytes of it, or 0. */
static size_t take_stripe(tb_arena *arena, const char *text, tb_stripe *stripe)
{
	size_t at = strspn(text, "0123456789");
	unsigned rows = at > 0 && at < 4 ? (unsigned)g_ascii_strtoull(text, NULL, 10) : tb_at_word(text, "one") > 0;
	at = at > 0 ? at : tb_at_word(text, "one");
	at += skip(text + at, " ");
	size_t noun = tb_at_word(text + at, "row rows round rounds rnd rnds");
	if (rows == 0 || noun == 0)
		return 0;
	at += noun + skip(text + at + noun, " ");
	size_t of = tb_at_word(text + at, "of in with");
	at += of + skip(text + at + of, " ");
	size_t shade = tb_at_word(text + at, "colour color yarn shade");
	at += shade + skip(text + at + shade, " ");
	size_t name = at_name(text + at);
	*stripe = (tb_stripe){rows, tb_colour_name(arena, text + at, name)};
	return name > 0 ? at + name : 0;
}

/* "; repeat throughout", ". Repeat these 5 rows" at TEXT, to the end of the line: whether all of it says that and no more. */
static bool says_again(const char *text, unsigned rows, bool *again)
{
	size_t at = skip(text, " ,;.");
	at += tb_at_word(text + at, "and then");
	at += skip(text + at, " ");
	size_t word = tb_at_word(text + at, "repeat repeated rep repeating");
	*again = word > 0;
	at += word;
	while (text[at] != '\0') {
		size_t blanks = skip(text + at, " .,;");
		size_t known = tb_at_word(text + at + blanks, "throughout these this the sequence pattern stripe stripes rows rounds rnds row order to end for "
			"all piece whole and so on over again");
		size_t digits = strspn(text + at + blanks, "0123456789");
		if (digits > 0 && g_ascii_strtoull(text + at + blanks, NULL, 10) != rows)
			return false;
		if (blanks + known + digits == 0 || (known + digits > 0 && word == 0))
			return false;
		at += blanks + known + digits;
	}
	return true;
}

/* The stripes that the line of LENGTH bytes at LINE tells of; false where it tells anything else besides. */
static bool read_line(tb_arena *arena, const char *line, size_t length, tb_stripes *found)
{
	g_autofree char *text = g_strndup(line, length);
	size_t at = behind_label(text);
	if (at == 0)
		return false;
	g_autoptr(GArray) stripes = g_array_new(FALSE, FALSE, sizeof(tb_stripe));
	*found = (tb_stripes){0};
	for (size_t bytes; stripes->len < MOST_STRIPES;) {
		tb_stripe stripe;
		bytes = take_stripe(arena, text + at, &stripe);
		if (bytes == 0)
			break;
		g_array_append_val(stripes, stripe);
		found->rows += stripe.rows;
		at += bytes;
		size_t next = at + skip(text + at, " ,;/");
		next += tb_at_word(text + next, "and then");
		next += skip(text + next, " ");
		if (!g_ascii_isdigit(text[next]) && tb_at_word(text + next, "one") == 0)
			break;
		at = next;
	}
	if (stripes->len < 2 || !says_again(text + at, found->rows, &found->again))
		return false;
	tb_stripe *kept = tb_arena_take(arena, stripes->len * sizeof *kept);
	memcpy(kept, stripes->data, stripes->len * sizeof *kept);
	found->stripes = kept;
	found->count = stripes->len;
	return true;
}

/* A title, and a cloth that is "striped", tell of no stripes besides. */
static void blank_names(char *text)
{
	memset(text, ' ', strcspn(text, "\n"));
	g_autofree char *lower = g_ascii_strdown(text, -1);
	for (const char *at = strstr(lower, "striped"); at != NULL; at = strstr(at + 1, "striped"))
		memset(text + (at - lower), ' ', strlen("striped"));
}

bool tb_script_find_stripes(const tb_pattern *pattern, tb_arena *arena, tb_stripes *stripes)
{
	size_t length, from = 0;
	*stripes = (tb_stripes){0};
	g_autofree char *text = tb_script_beside_rows(pattern, &length);
	for (size_t at = 0; at < length; at = from) {
		const char *end = memchr(text + at, '\n', length - at);
		size_t bytes = end != NULL ? (size_t)(end - text) - at : length - at;
		from = at + bytes + 1;
		if (!read_line(arena, text + at, bytes, stripes))
			continue;
		memset(text + at, ' ', bytes);
		blank_names(text);
		if (!tb_script_names_stripes(text))
			return true;
		break;
	}
	*stripes = (tb_stripes){0};
	return false;
}

const char *tb_stripes_colour(const tb_stripes *stripes, guint32 row)
{
	if (stripes->rows == 0 || row == 0 || (row > stripes->rows && !stripes->again))
		return NULL;
	unsigned at = (row - 1) % stripes->rows;
	for (unsigned i = 0; i < stripes->count; i++) {
		if (at < stripes->stripes[i].rows)
			return stripes->stripes[i].name;
		at -= stripes->stripes[i].rows;
	}
	return NULL;
}
