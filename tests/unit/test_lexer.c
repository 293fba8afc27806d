/* Tokens of the row language. */
#include "notation/lexer.h"

#include <criterion/criterion.h>
#include <string.h>

/* The tokens as text: words as known, numbers, ordinals with a point, marks, parted by blanks. */
static char *lex(const char *chars)
{
	g_autoptr(tb_arena) arena = tb_arena_create();
	g_autoptr(tb_text) text = tb_text_create(chars, strlen(chars), 0);
	g_autoptr(GArray) tokens = tb_lex(text, arena);
	g_autoptr(GString) out = g_string_new(NULL);
	for (guint i = 0; i < tokens->len; i++) {
		const tb_token *token = &g_array_index(tokens, tb_token, i);
		if (i > 0 && token->kind != TB_TOKEN_END)
			g_string_append_c(out, token->glued ? '~' : ' ');
		switch (token->kind) {
		case TB_TOKEN_WORD:
			g_string_append(out, token->word);
			break;
		case TB_TOKEN_NUMBER:
			g_string_append_printf(out, "%g", token->value);
			break;
		case TB_TOKEN_ORDINAL:
			g_string_append_printf(out, "%g.", token->value);
			break;
		case TB_TOKEN_STAR:
			g_string_append(out, "*");
			break;
		case TB_TOKEN_STARS:
			g_string_append(out, "**");
			break;
		case TB_TOKEN_MARK:
			g_string_append_unichar(out, token->mark);
			break;
		case TB_TOKEN_END:
			cr_expect_eq(token->start, strlen(chars));
			break;
		}
	}
	return g_strdup(out->str);
}

static void expect(const char *chars, const char *expected)
{
	g_autofree char *tokens = lex(chars);
	cr_expect_str_eq(tokens, expected, "“%s” gives “%s”, not “%s”", chars, tokens, expected);
}

Test(lexer, words_keep_their_digits)
{
	expect("FPdc2tog around", "fpdc2tog around");
	expect("dc2tog, turn.", "dc2tog~, turn~.");
	expect("ch3", "ch~3");
	expect("3dc", "3~dc");
}

Test(lexer, spellings_become_one_word)
{
	expect("Stitches STS st stitch", "st st st st");
	expect("miss skip sk", "sk sk sk");
	expect("the next ch of a Round", "next ch of rnd");
	expect("dc & tr", "dc and tr");
	expect("don\xe2\x80\x99t", "don't");
}

Test(lexer, numbers_and_ordinals)
{
	expect("4th fourth 2d 1st", "4. 4. 2. 1.");
	expect("three times", "3 times");
	expect("50.5 cm 19\xc2\xbd 20 \xc2\xbe in 3.", "50.5 cm 19.5 20.75 in 3~.");
	expect("99999999999999999999", "1e+09");
	expect("3 dc", "3 dc");
}

Test(lexer, hyphens_dashes_and_stars)
{
	expect("ch-2 sp", "ch~-~2 sp");
	expect("Rows 3\xe2\x80\x93"
		   "6",
		"row 3~-~6");
	expect("\xe2\x80\x94 83 sts", "\xe2\x80\x94 83 st");
	expect("row-- dc", "row~\xe2\x80\x94 dc");
	expect("*dc ** sc*", "*~dc ** sc~*");
	expect("***", "**~*");
	expect("20\xe2\x80\xb3", "20~\"");
}

Test(lexer, what_is_not_known_is_a_mark)
{
	expect("dc \xe2\x82\xac \x01", "dc \xe2\x82\xac \x01");
	expect("", "");
	expect("   ", "");
}
