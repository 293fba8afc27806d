/*
 * The lexer. Nothing is refused here: what the row language does not know becomes a mark, and the
 * parser says at its place that it is not understood.
 */
#include "notation/lexer.h"

#include "notation/words.h"

#include <string.h>

typedef struct {
	const tb_text *text;
	tb_arena *arena;
	GArray *tokens;
	size_t at;
	bool glued;
} lexer;

static gunichar char_at(const lexer *l, size_t at)
{
	return at < l->text->length ? g_utf8_get_char(l->text->chars + at) : 0;
}

static void add(lexer *l, tb_token token, size_t end)
{
	token.start = l->at;
	token.end = end;
	token.glued = l->glued;
	if (token.word == NULL)
		token.word = "";
	g_array_append_val(l->tokens, token);
	l->at = end;
	l->glued = true;
}

/* Quarters and halves, as inches are given in. */
static double fraction_of(gunichar c)
{
	switch (c) {
	case 0xbc:
		return 0.25;
	case 0xbd:
		return 0.5;
	case 0xbe:
		return 0.75;
	default:
		return 0;
	}
}

/* The length of an ordinal's ending at AT ("th"; "d" in older books), or 0. */
static size_t ordinal_ending(const lexer *l, size_t at)
{
	static const char *const endings[] = {"st", "nd", "rd", "th", "d"};
	for (size_t i = 0; i < G_N_ELEMENTS(endings); i++) {
		size_t length = strlen(endings[i]);
		if (g_ascii_strncasecmp(l->text->chars + at, endings[i], length) == 0 &&
			!g_unichar_isalnum(char_at(l, at + length)))
			return length;
	}
	return 0;
}

static void lex_number(lexer *l)
{
	const char *chars = l->text->chars;
	tb_token token = {.kind = TB_TOKEN_NUMBER};
	size_t at = l->at;
	for (; g_ascii_isdigit(chars[at]); at++)
		token.value = MIN(token.value * 10 + (chars[at] - '0'), 1e9);
	if (chars[at] == '.' && g_ascii_isdigit(chars[at + 1])) {
		double place = 0.1;
		for (at++; g_ascii_isdigit(chars[at]); at++, place /= 10)
			token.value += (chars[at] - '0') * place;
	}
	size_t blank = at > l->at && chars[at] == ' ' ? 1 : 0;
	double fraction = fraction_of(char_at(l, at + blank));
	if (fraction > 0) {
		token.value += fraction;
		at += blank + 2;
	}
	size_t ending = ordinal_ending(l, at);
	if (ending > 0)
		token.kind = TB_TOKEN_ORDINAL;
	add(l, token, at + ending);
}

static bool is_article(const char *word)
{
	return strcmp(word, "the") == 0 || strcmp(word, "a") == 0 || strcmp(word, "an") == 0;
}

/* "ch3", "sk2": the number is a token of its own when letters that are a word stand before it. */
static size_t word_end(const lexer *l)
{
	size_t at = l->at;
	while (g_unichar_isalnum(char_at(l, at)) ||
		   ((char_at(l, at) == '\'' || char_at(l, at) == 0x2019) &&
			   g_unichar_isalpha(char_at(l, at + (char_at(l, at) == '\'' ? 1 : 3)))))
		at += (size_t)g_utf8_skip[(guchar)l->text->chars[at]];
	size_t digits = at;
	while (digits > l->at && g_ascii_isdigit(l->text->chars[digits - 1]))
		digits--;
	if (digits == at || digits == l->at)
		return at;
	g_autofree char *letters = g_ascii_strdown(l->text->chars + l->at, (gssize)(digits - l->at));
	return tb_word_known(letters) != NULL ? digits : at;
}

static void lex_word(lexer *l)
{
	size_t end = word_end(l);
	g_autofree char *raw = tb_text_lower(l->text->chars + l->at, (gssize)(end - l->at));
	for (char *quote; (quote = strstr(raw, "\u2019")) != NULL;) {
		*quote = '\'';
		memmove(quote + 1, quote + 3, strlen(quote + 3) + 1);
	}
	tb_token token = {.kind = TB_TOKEN_WORD};
	bool ordinal;
	if (is_article(raw)) {
		l->at = end;
		l->glued = false;
		return;
	}
	if (tb_word_number(raw, &token.value, &ordinal)) {
		token.kind = ordinal ? TB_TOKEN_ORDINAL : TB_TOKEN_NUMBER;
	} else {
		token.word = tb_word_known(raw);
		token.known = token.word != NULL;
		if (!token.known)
			token.word = tb_arena_copy(l->arena, raw, strlen(raw));
	}
	add(l, token, end);
}

static gunichar plain_mark(gunichar c)
{
	switch (c) {
	case 0x2010: /* hyphens and the dash of a range */
	case 0x2011:
	case 0x2012:
	case 0x2013:
	case 0x2212:
		return '-';
	case 0x2015:
		return TB_MARK_LONG_DASH;
	case 0x2033: /* inches */
	case 0x201d:
		return '"';
	default:
		return c;
	}
}

/*
 * Whether the dot here only shortens the word before it, as in "sl. st.", "ch. 3", "d.c. in next".
 * A sentence goes on after it in small letters or, where chains and skips are counted, a figure.
 */
static bool is_shortening(const lexer *l)
{
	static const char *const words[] = {"sl", "st", "ch", "sk", "sp", "loop", "beg", "s", "d",
		"h", "c", "t", "tr", "dc", "sc", "hdc", "dtr", "yo"};
	if (!l->glued || l->tokens->len == 0)
		return false;
	const tb_token *before = &g_array_index(l->tokens, tb_token, l->tokens->len - 1);
	bool known = false;
	for (size_t i = 0; i < G_N_ELEMENTS(words); i++)
		known = known || strcmp(before->word, words[i]) == 0;
	if (!known)
		return false;
	size_t at = l->at + 1;
	while (char_at(l, at) == ' ')
		at++;
	gunichar next = char_at(l, at);
	bool counted = strcmp(before->word, "ch") == 0 || strcmp(before->word, "sk") == 0;
	return g_unichar_islower(next) || (counted && g_unichar_isdigit(next)) || next == ',' ||
		   next == ';';
}

static void lex_mark(lexer *l, gunichar c)
{
	if (c == '.' && is_shortening(l)) {
		l->at++;
		return;
	}
	const char *chars = l->text->chars + l->at;
	tb_token token = {.kind = TB_TOKEN_MARK, .mark = plain_mark(c)};
	size_t length = (size_t)g_utf8_skip[(guchar)*chars];
	if (c == '*') {
		bool two = chars[1] == '*';
		token.kind = two ? TB_TOKEN_STARS : TB_TOKEN_STAR;
		length = two ? 2 : 1;
	} else if (c == '-' && chars[1] == '-') {
		token.mark = TB_MARK_LONG_DASH;
		length = 2;
	} else if (c == '&' || c == 0xd7) {
		token.kind = TB_TOKEN_WORD;
		token.word = c == '&' ? "and" : "x";
		token.known = true;
	}
	add(l, token, l->at + length);
}

GArray *tb_lex(const tb_text *text, tb_arena *arena)
{
	lexer l = {.text = text, .arena = arena};
	l.tokens = g_array_new(FALSE, TRUE, sizeof(tb_token));
	while (l.at < text->length) {
		gunichar c = char_at(&l, l.at);
		if (g_unichar_isspace(c)) {
			l.at += (size_t)g_utf8_skip[(guchar)text->chars[l.at]];
			l.glued = false;
		} else if (g_ascii_isdigit(text->chars[l.at]) || fraction_of(c) > 0) {
			lex_number(&l);
		} else if (g_unichar_isalpha(c)) {
			lex_word(&l);
		} else {
			lex_mark(&l, c);
		}
	}
	add(&l, (tb_token){.kind = TB_TOKEN_END}, text->length);
	return l.tokens;
}
