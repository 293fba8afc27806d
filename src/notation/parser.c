/* Tokens, faults and stitches: what every part of the parser needs. */
#include "notation/parser.h"

#include "notation/words.h"
#include "stitches/stitch.h"
#include "support/limits.h"
#include "support/nearest.h"

#include <string.h>

/* The most tokens a stitch's name has: "front post half double crochet 2 together". */
#define LONGEST_NAME 8

const tb_token *tb_parser_peek(const tb_parser *p, unsigned ahead)
{
	guint i = MIN(p->at + ahead, p->tokens->len - 1);
	return &g_array_index(p->tokens, tb_token, i);
}

unsigned tb_parser_at(const tb_parser *p, const char *phrase)
{
	unsigned count = 0;
	for (const char *word = phrase; *word != '\0'; count++) {
		size_t length = strcspn(word, " ");
		const char *token = tb_parser_peek(p, count)->word;
		if (strlen(token) != length || strncmp(token, word, length) != 0)
			return 0;
		word += length;
		word += strspn(word, " ");
	}
	return count;
}

bool tb_parser_accept(tb_parser *p, const char *phrase)
{
	unsigned count = tb_parser_at(p, phrase);
	p->at += count;
	return count > 0;
}

bool tb_parser_at_mark(const tb_parser *p, unsigned ahead, gunichar mark)
{
	const tb_token *token = tb_parser_peek(p, ahead);
	return token->kind == TB_TOKEN_MARK && token->mark == mark;
}

bool tb_parser_accept_mark(tb_parser *p, gunichar mark)
{
	bool there = tb_parser_at_mark(p, 0, mark);
	p->at += there;
	return there;
}

bool tb_parser_at_end(const tb_parser *p)
{
	return tb_parser_peek(p, 0)->kind == TB_TOKEN_END;
}

gunichar tb_parser_closing(const tb_parser *p, unsigned ahead)
{
	if (tb_parser_at_mark(p, ahead, '('))
		return ')';
	if (tb_parser_at_mark(p, ahead, '['))
		return ']';
	return tb_parser_at_mark(p, ahead, '{') ? '}' : 0;
}

tb_span tb_parser_span(const tb_parser *p, unsigned first)
{
	const tb_token *from = &g_array_index(p->tokens, tb_token, first);
	const tb_token *to = p->at > first ? &g_array_index(p->tokens, tb_token, p->at - 1) : from;
	return tb_text_span(p->text, from->start, to->end);
}

bool tb_parser_fail(tb_parser *p, const char *code, unsigned first, unsigned last, const char *hint,
	const char *format, ...)
{
	const tb_token *from = &g_array_index(p->tokens, tb_token, MIN(first, p->tokens->len - 1));
	const tb_token *to = &g_array_index(p->tokens, tb_token, MIN(last, p->tokens->len - 1));
	tb_where where = {.has_place = true, .piece = p->piece, .row = p->row,
		.is_round = p->is_round};
	where.place = tb_text_span(p->text, from->start, MAX(from->end, to->end));
	va_list arguments;
	va_start(arguments, format);
	g_autofree char *message = g_strdup_vprintf(format, arguments);
	va_end(arguments);
	tb_diagnose(p->diagnostics, TB_ERROR, code, &where, message, hint);
	return false;
}

bool tb_parser_enter(tb_parser *p, unsigned first)
{
	if (p->depth == TB_LIMIT_NESTING)
		return tb_parser_fail(p, "nesting-too-deep", first, first,
			"Write part of it as a row of its own.",
			"repeats stand more than %u deep in each other", TB_LIMIT_NESTING);
	p->depth++;
	return true;
}

static char *token_text(const tb_parser *p, const tb_token *token)
{
	size_t length = MIN(token->end - token->start, 40);
	return g_utf8_make_valid(p->text->chars + token->start, (gssize)length);
}

/* The word of the vocabulary or the library nearest to a token's text; owned, or NULL. */
static char *find_nearest(const tb_parser *p, const char *text)
{
	g_autoptr(GPtrArray) words = g_ptr_array_new();
	const tb_library *library = p->pattern->library;
	for (unsigned i = 0; i < tb_library_count(library); i++) {
		const tb_stitch *stitch = tb_library_get(library, i);
		g_ptr_array_add(words, p->pattern->uk_terms ? stitch->uk : stitch->us);
	}
	tb_words_list(words);
	return g_strdup(tb_nearest(text, strlen(text), (const char *const *)words->pdata, words->len));
}

/* A stitch that only the other terms know. */
static const tb_stitch *find_other_terms(const tb_parser *p, const char *text)
{
	return tb_library_find_term(p->pattern->library, text, !p->pattern->uk_terms);
}

/* Words that designers use and that do not say enough to be worked. */
static const struct {
	const char *word, *hint;
} vague[] = {
	{"evenly", "Say where each stitch goes, as in [dc in next 3 sts, 2 dc in next st] 5 times."},
	{"inc", "Say which stitches, as in 2 dc in next st."},
	{"increase", "Say which stitches, as in 2 dc in next st."},
	{"dec", "Say which stitch, as in dc2tog."},
	{"decrease", "Say which stitch, as in dc2tog."},
	{"even", "Say which stitches, as in dc in each st across."},
	{"established", "Say which rows are worked again, as in Rep Rows 3-6."},
};

bool tb_parser_fail_unknown(tb_parser *p, const char *expected)
{
	const tb_token *token = tb_parser_peek(p, 0);
	if (token->kind == TB_TOKEN_END) {
		g_autofree char *hint = g_strdup_printf("What may stand here: %s.", expected);
		return tb_parser_fail(p, "row-unfinished", p->at, p->at, hint,
			"the text ends here, and something is missing");
	}
	g_autofree char *text = token_text(p, token);
	bool uk = p->pattern->uk_terms;
	const tb_stitch *other =
		token->kind == TB_TOKEN_WORD && !token->known ? find_other_terms(p, text) : NULL;
	if (other != NULL) {
		g_autofree char *hint = g_strdup_printf("Write \"%s\", or give the pattern %s terms.",
			uk ? other->uk : other->us, uk ? "US" : "UK");
		return tb_parser_fail(p, "other-terms", p->at, p->at, hint,
			"\"%s\" is a %s term, and the pattern is in %s terms", text, uk ? "US" : "UK",
			uk ? "UK" : "US");
	}
	for (size_t i = 0; i < G_N_ELEMENTS(vague); i++) {
		if (strcmp(token->word, vague[i].word) == 0)
			return tb_parser_fail(p, "vague", p->at, p->at, vague[i].hint,
				"\"%s\" leaves open which stitches are made, and where", text);
	}
	/* "V-st", "X st": every pattern means its own by it */
	unsigned st = tb_parser_at_mark(p, 1, '-') ? 2 : 1;
	if (token->kind == TB_TOKEN_WORD && strlen(text) == 1 &&
		strcmp(tb_parser_peek(p, st)->word, "st") == 0)
		return tb_parser_fail(p, "stitch-own", p->at, p->at + st,
			"Write it out, as in (dc, ch 1, dc) in next st, or give it in the pattern's "
			"\"stitches\".",
			"what a %s-st is made of is not known", text);
	g_autofree char *nearest =
		token->kind == TB_TOKEN_WORD && !token->known ? find_nearest(p, text) : NULL;
	g_autofree char *hint = nearest != NULL ? g_strdup_printf("Did you mean \"%s\"?", nearest)
											: g_strdup_printf("What may stand here: %s.", expected);
	return tb_parser_fail(
		p, "word-unknown", p->at, p->at, hint, "\"%s\" is not understood here", text);
}

/* Whether a token can be part of a stitch's name: words, figures, and hyphens between them. */
static bool can_name(const tb_parser *p, unsigned ahead)
{
	const tb_token *token = tb_parser_peek(p, ahead);
	if (token->kind == TB_TOKEN_MARK)
		return token->mark == '-' && token->glued && tb_parser_peek(p, ahead + 1)->glued;
	return token->kind == TB_TOKEN_WORD || token->kind == TB_TOKEN_NUMBER;
}

/* "sl. st", "d.c": the dots of shortened words. */
static void drop_dots(char *name)
{
	char *to = name;
	for (const char *from = name; *from != '\0'; from++) {
		if (*from != '.')
			*to++ = *from;
	}
	*to = '\0';
}

const tb_stitch *tb_parser_find_stitch(const tb_parser *p, unsigned ahead, unsigned *length)
{
	unsigned most = 0;
	while (most < LONGEST_NAME && can_name(p, ahead + most))
		most++;
	const tb_token *first = tb_parser_peek(p, ahead);
	/* A figure begins a name only where a hyphen ties it on, as in "5-dc popcorn". */
	if (first->kind == TB_TOKEN_NUMBER && !tb_parser_at_mark(p, ahead + 1, '-'))
		return NULL;
	for (unsigned count = most; count > 0; count--) {
		const tb_token *last = tb_parser_peek(p, ahead + count - 1);
		size_t bytes = last->end - first->start;
		if (last->kind == TB_TOKEN_MARK || bytes > 100)
			continue;
		g_autofree char *name = g_strndup(p->text->chars + first->start, bytes);
		drop_dots(name);
		const tb_stitch *stitch =
			tb_library_find_term(p->pattern->library, name, p->pattern->uk_terms);
		if (stitch == NULL && strchr(name, '-') != NULL)
			stitch = tb_library_find_term(
				p->pattern->library, g_strdelimit(name, "-", ' '), p->pattern->uk_terms);
		if (stitch != NULL) {
			*length = count;
			return stitch;
		}
	}
	return NULL;
}
