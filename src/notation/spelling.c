/* How a text falls into words, a pattern's as well as the grammar's spellings. */
#include "spelling.h"

#include <string.h>

bool tb_spelling_is_letter(gunichar c)
{
	return c < 0x80 ? g_ascii_isalpha((gchar)c) : g_unichar_isalpha(c);
}

gsize tb_spelling_word_end(const char *text, gsize from)
{
	gunichar c = g_utf8_get_char(text + from);
	size_t at = from;
	if (g_ascii_isdigit(text[from])) {
		while (g_ascii_isdigit(text[at]))
			at++;
		return at;
	}
	if (!tb_spelling_is_letter(c)) {
		at += (size_t)g_utf8_skip[(guchar)text[from]];
		while (text[from] == '*' && text[at] == '*')
			at++;
		return at;
	}
	while (tb_spelling_is_letter(c) || (c == '\'' && tb_spelling_is_letter(g_utf8_get_char(text + at + 1)))) {
		/* most are plain letters */
		if (c < 0x80) {
			at++;
			c = (guchar)text[at] < 0x80 ? (gunichar)text[at] : g_utf8_get_char(text + at);
			continue;
		}
		at += (size_t)g_utf8_skip[(guchar)text[at]];
		c = g_utf8_get_char(text + at);
	}
	return at;
}

char *tb_spelling_words(const char *text)
{
	gsize length = strlen(text), to = 0;
	char *out = g_malloc(2 * length + 1);
	for (gsize at = 0; at < length;) {
		if (text[at] == ' ') {
			at++;
			continue;
		}
		gsize end = tb_spelling_word_end(text, at);
		if (to > 0)
			out[to++] = ' ';
		memcpy(out + to, text + at, end - at);
		to += end - at;
		at = end;
	}
	out[to] = '\0';
	return out;
}
