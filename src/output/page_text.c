/*
 * Text on its way into a page. Whatever a designer wrote stays text: in HTML by escapes, in the
 * script's data by a spelling in which no tag, comment or script can end or begin.
 */
#include "output/page.h"
#include "output/paint.h"

#include <math.h>
#include <string.h>

void tb_page_put_html(GString *out, const char *text)
{
	g_autofree char *clean = tb_output_clean(text != NULL ? text : "");
	g_autofree char *escaped = g_markup_escape_text(clean, -1);
	g_string_append(out, escaped);
}

void tb_page_put_json(GString *out, const char *text)
{
	if (text == NULL) {
		g_string_append(out, "null");
		return;
	}
	g_autofree char *valid = g_utf8_make_valid(text, -1);
	g_string_append_c(out, '"');
	for (const char *c = valid; *c != '\0'; c = g_utf8_next_char(c)) {
		gunichar letter = g_utf8_get_char(c);
		if (letter < 0x20 || (letter < 0x80 && tb_is_among((char)letter, "\"\\<>&'")) ||
			letter == 0x2028 || letter == 0x2029 || letter == 0x7f)
			g_string_append_printf(out, "\\u%04x", letter);
		else
			g_string_append_unichar(out, letter);
	}
	g_string_append_c(out, '"');
}

void tb_page_put_number(GString *out, double number)
{
	char buffer[G_ASCII_DTOSTR_BUF_SIZE];
	double rounded = round(number * 100) / 100;
	g_string_append(out, g_ascii_formatd(buffer, sizeof buffer, "%.10g", rounded == 0 ? 0 : rounded));
}

/* How long the stretch at TEXT is: a whole number, or what is no number. */
static gsize stretch(const char *text)
{
	gsize length = 0;
	bool digit = g_ascii_isdigit(*text);
	while (text[length] != '\0' && g_ascii_isdigit(text[length]) == digit)
		length++;
	return length;
}

/* Whether all texts are the same but for whole numbers. */
static bool differ_in_numbers(const char *const *texts, unsigned count)
{
	const char *model = NULL;
	for (unsigned i = 0; i < count; i++) {
		if (texts[i] == NULL)
			continue;
		if (model == NULL) {
			model = texts[i];
			continue;
		}
		const char *a = model, *b = texts[i];
		while (*a != '\0' && *b != '\0') {
			gsize na = stretch(a), nb = stretch(b);
			bool number = g_ascii_isdigit(*a) && g_ascii_isdigit(*b);
			if (!number && (na != nb || memcmp(a, b, na) != 0))
				return false;
			a += na;
			b += nb;
		}
		if (*a != *b)
			return false;
	}
	return model != NULL;
}

/* A list of what stands in each text at AT, LENGTHS long. */
static void put_each(GString *out, const char *const *at, const gsize *lengths, unsigned count)
{
	g_string_append_c(out, '[');
	for (unsigned i = 0; i < count; i++) {
		g_string_append(out, i > 0 ? "," : "");
		g_autofree char *part = at[i] != NULL ? g_strndup(at[i], lengths[i]) : NULL;
		tb_page_put_json(out, part);
	}
	g_string_append_c(out, ']');
}

/* The next stretch of every text; whether it is the same in all that have one. */
static bool take_stretches(const char *const *at, gsize *lengths, unsigned count, unsigned first)
{
	bool same = true;
	for (unsigned i = 0; i < count; i++) {
		lengths[i] = at[i] != NULL ? stretch(at[i]) : 0;
		if (at[i] != NULL)
			same = same && lengths[i] == lengths[first] &&
				memcmp(at[i], at[first], lengths[i]) == 0;
	}
	return same;
}

void tb_page_put_by_size(GString *out, const char *const *texts, unsigned count)
{
	const char *at[TB_MAX_SIZES] = {0};
	gsize lengths[TB_MAX_SIZES] = {0};
	unsigned first = count;
	for (unsigned i = count; i-- > 0;) {
		at[i] = texts[i];
		if (texts[i] != NULL)
			first = i;
	}
	g_string_append_c(out, '[');
	if (first < count && !differ_in_numbers(texts, count)) {
		for (unsigned i = 0; i < count; i++)
			lengths[i] = at[i] != NULL ? strlen(at[i]) : 0;
		put_each(out, at, lengths, count);
	} else if (first < count) {
		g_autoptr(GString) shared = g_string_new(NULL);
		bool any = false;
		while (*at[first] != '\0') {
			bool same = take_stretches(at, lengths, count, first);
			if (same) {
				g_string_append_len(shared, at[first], (gssize)lengths[first]);
			} else {
				g_string_append(out, any ? "," : "");
				tb_page_put_json(out, shared->str);
				g_string_append_c(out, ',');
				put_each(out, at, lengths, count);
				g_string_truncate(shared, 0);
				any = true;
			}
			for (unsigned i = 0; i < count; i++)
				at[i] = at[i] != NULL ? at[i] + lengths[i] : NULL;
		}
		g_string_append(out, any ? "," : "");
		tb_page_put_json(out, shared->str);
	}
	g_string_append_c(out, ']');
}
