/*
 * The strict walk over a JSON text (RFC 8259). It finds what is wrong before cJSON does, with its
 * exact place and in words a designer can act on, and bounds the nesting before any tree is built.
 */
#include "pattern/json_scan.h"

#include "support/diagnose.h"
#include "support/limits.h"
#include "support/text.h"

#include <string.h>

typedef struct {
	const char *text;
	size_t length;
	size_t at;
	unsigned depth;
	GArray *entries;
	tb_diagnostics *diagnostics;
} scan;

static bool scan_value(scan *s, tb_span key);

static bool fail(scan *s, const char *code, size_t start, size_t end, const char *message,
	const char *hint)
{
	tb_where where = {.has_place = true, .place = {start, MAX(end, start)}};
	tb_diagnose(s->diagnostics, TB_ERROR, code, &where, message, hint);
	return false;
}

static bool fail_syntax(scan *s, const char *message, const char *hint)
{
	return fail(s, "json-syntax", s->at, s->at + 1, message, hint);
}

static void skip_space(scan *s)
{
	while (s->at < s->length && tb_is_among(s->text[s->at], " \t\r\n"))
		s->at++;
}

static bool read_hex(const char *text, gunichar *value)
{
	*value = 0;
	for (int i = 0; i < 4; i++) {
		int digit = g_ascii_xdigit_value(text[i]);
		if (digit < 0)
			return false;
		*value = *value * 16 + (gunichar)digit;
	}
	return true;
}

bool tb_json_read_escape(const char *text, gunichar *c, size_t *length)
{
	static const char letters[] = "\"\\/bfnrt";
	static const char meanings[] = "\"\\/\b\f\n\r\t";
	*length = 2;
	const char *letter = text[1] != '\0' ? strchr(letters, text[1]) : NULL;
	if (letter != NULL) {
		*c = (gunichar)meanings[letter - letters];
		return true;
	}
	if (text[1] != 'u' || !read_hex(text + 2, c)) {
		*length = text[1] == '\0' ? 1 : 2;
		return false;
	}
	*length = 6;
	if (*c >= 0xdc00 && *c <= 0xdfff)
		return false;
	if (*c >= 0xd800 && *c <= 0xdbff) {
		gunichar low;
		if (text[6] != '\\' || text[7] != 'u' || !read_hex(text + 8, &low) || low < 0xdc00 ||
			low > 0xdfff)
			return false;
		*c = 0x10000 + ((*c - 0xd800) << 10) + (low - 0xdc00);
		*length = 12;
	}
	return *c != 0;
}

static bool scan_string(scan *s, tb_span *span)
{
	span->start = s->at++;
	while (s->at < s->length && s->text[s->at] != '"') {
		unsigned char c = (unsigned char)s->text[s->at];
		gunichar escaped;
		size_t length = 1;
		if (c == '\n' || c == '\r')
			return fail(s, "json-syntax", span->start, s->at, "this text has no closing quote",
				"Close it with \" on the same line; a row is one line of text.");
		if (c < 0x20)
			return fail(s, "json-string", s->at, s->at + 1,
				"a control character stands inside a text",
				"Take it out; a tab is written \\t.");
		if (c == '\\' && !tb_json_read_escape(s->text + s->at, &escaped, &length))
			return fail(s, "json-string", s->at, s->at + length,
				"this is not a character after a backslash",
				"A backslash is written \\\\, a quote \\\"; \\u wants four hexadecimal digits.");
		s->at += length;
	}
	if (s->at >= s->length)
		return fail(s, "json-syntax", span->start, s->length, "this text has no closing quote",
			"Close it with \".");
	span->end = ++s->at;
	return true;
}

static size_t scan_digits(const scan *s, size_t at)
{
	while (at < s->length && g_ascii_isdigit(s->text[at]))
		at++;
	return at;
}

static bool scan_number(scan *s, tb_span *span)
{
	size_t at = s->at + (s->text[s->at] == '-');
	size_t whole = scan_digits(s, at);
	bool good = whole > at && !(s->text[at] == '0' && whole > at + 1);
	at = whole;
	if (s->text[at] == '.') {
		size_t fraction = scan_digits(s, at + 1);
		good = good && fraction > at + 1;
		at = fraction;
	}
	if (s->text[at] == 'e' || s->text[at] == 'E') {
		at += 1 + (s->text[at + 1] == '+' || s->text[at + 1] == '-');
		size_t exponent = scan_digits(s, at);
		good = good && exponent > at;
		at = exponent;
	}
	*span = (tb_span){s->at, at};
	if (!good)
		return fail(s, "json-syntax", span->start, span->end, "this is not a number",
			"Write whole numbers as 12 and others as 12.5.");
	s->at = at;
	return true;
}

static bool scan_word(scan *s, tb_span *span)
{
	static const char *const words[] = {"true", "false", "null"};
	size_t end = s->at;
	while (end < s->length && g_ascii_isalnum(s->text[end]))
		end++;
	*span = (tb_span){s->at, end};
	for (size_t i = 0; i < G_N_ELEMENTS(words); i++) {
		if (strlen(words[i]) == end - s->at &&
			strncmp(words[i], s->text + s->at, end - s->at) == 0) {
			s->at = end;
			return true;
		}
	}
	if (end > s->at)
		return fail(s, "json-syntax", s->at, end, "texts stand in quotes",
			"Put \" on both sides of it.");
	if (s->at >= s->length)
		return fail_syntax(s, "the pattern ends here, and something is still open",
			"Close every { with } and every [ with ].");
	return fail_syntax(s, "here a value must stand",
		"A text in quotes, a number, a list in [ ] or an object in { }.");
}

/* One member of an object or list, up to the comma or the end. */
static bool scan_member(scan *s, bool is_object)
{
	tb_span key = {s->at, s->at};
	if (is_object) {
		if (s->text[s->at] != '"')
			return fail_syntax(s, "here a key in quotes must stand",
				"As in \"title\": \"…\". There is no comma behind the last one.");
		if (!scan_string(s, &key))
			return false;
		skip_space(s);
		if (s->text[s->at] != ':')
			return fail_syntax(s, "a colon is missing after this key", "As in \"title\": \"…\".");
		s->at++;
	}
	return scan_value(s, key);
}

static bool scan_members(scan *s, char close)
{
	bool is_object = close == '}';
	s->at++;
	skip_space(s);
	if (s->text[s->at] == close) {
		s->at++;
		return true;
	}
	while (true) {
		skip_space(s);
		if (!is_object && s->text[s->at] == close)
			return fail_syntax(s, "a comma stands before this bracket, and nothing after it",
				"Take the last comma out.");
		if (!scan_member(s, is_object))
			return false;
		skip_space(s);
		if (s->text[s->at] == close) {
			s->at++;
			return true;
		}
		if (s->at >= s->length)
			return fail_syntax(s, "the pattern ends here, and something is still open",
				"Close every { with } and every [ with ].");
		if (s->text[s->at] != ',')
			return fail_syntax(s, is_object ? "a comma or } is missing here" :
				"a comma or ] is missing here",
				"Part what stands in a list by commas.");
		s->at++;
	}
}

static bool scan_value(scan *s, tb_span key)
{
	skip_space(s);
	tb_json_entry entry = {.key = key};
	guint index = s->entries->len;
	g_array_append_val(s->entries, entry);
	tb_span value = {s->at, s->at};
	char c = s->text[s->at];
	bool good;
	if (s->entries->len > TB_LIMIT_JSON_VALUES) {
		g_autofree char *message =
			g_strdup_printf("the pattern has more than %u values", TB_LIMIT_JSON_VALUES);
		return fail(s, "pattern-too-large", s->at, s->at + 1, message,
			"Split it into several patterns.");
	}
	if (c == '{' || c == '[') {
		if (s->depth == TB_LIMIT_NESTING)
			return fail(s, "json-depth", s->at, s->at + 1, "this is nested too deeply",
				"A pattern file needs no more than a few brackets inside each other.");
		s->depth++;
		good = scan_members(s, c == '{' ? '}' : ']');
		s->depth--;
		value.end = s->at;
	} else if (c == '"') {
		good = scan_string(s, &value);
	} else if (c == '-' || g_ascii_isdigit(c)) {
		good = scan_number(s, &value);
	} else {
		good = scan_word(s, &value);
	}
	g_array_index(s->entries, tb_json_entry, index).value = value;
	return good;
}

GArray *tb_json_scan(const char *text, size_t length, size_t start, tb_diagnostics *diagnostics)
{
	g_autoptr(GArray) entries = g_array_new(FALSE, FALSE, sizeof(tb_json_entry));
	scan s = {text, length, start, 0, entries, diagnostics};
	if (!scan_value(&s, (tb_span){start, start}))
		return NULL;
	skip_space(&s);
	if (s.at < length) {
		fail(&s, "json-syntax", s.at, s.at + 1, "the pattern has ended, and more follows",
			"One pattern a file: take out what stands behind the last }.");
		return NULL;
	}
	return g_steal_pointer(&entries);
}
