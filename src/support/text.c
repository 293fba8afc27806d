#include "support/text.h"

#include <string.h>

tb_text *tb_text_create(const char *chars, size_t length, size_t offset)
{
	tb_text *text = g_new0(tb_text, 1);
	text->chars = g_strndup(chars, length);
	text->length = length;
	text->offset = offset;
	return text;
}

void tb_text_destroy(tb_text *text)
{
	if (text == NULL)
		return;
	g_free(text->chars);
	g_free(text->offsets);
	g_free(text);
}

tb_span tb_text_span(const tb_text *text, size_t start, size_t end)
{
	start = MIN(start, text->length);
	end = CLAMP(end, start, text->length);
	if (text->offsets == NULL)
		return (tb_span){text->offset + start, text->offset + end};
	/* a count that stood before the work is read behind it: up to there nothing goes back */
	size_t from = text->offsets[start], to = text->offsets[end];
	return (tb_span){from, MAX(from, to)};
}

char *tb_text_lower(const char *chars, gssize length)
{
	GString *lower = g_string_sized_new(length < 0 ? strlen(chars) : (gsize)length);
	const char *end = length < 0 ? chars + strlen(chars) : chars + length;
	for (const char *at = chars; at < end; at = g_utf8_next_char(at)) {
		if ((guchar)*at < 0x80)
			g_string_append_c(lower, g_ascii_tolower(*at));
		else
			g_string_append_unichar(lower, g_unichar_tolower(g_utf8_get_char(at)));
	}
	return g_string_free(lower, FALSE);
}
