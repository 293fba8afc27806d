/* Tokens of the row language. */
#ifndef TB_NOTATION_LEXER_H
#define TB_NOTATION_LEXER_H

#include "support/arena.h"
#include "support/text.h"

typedef enum {
	TB_TOKEN_END,
	TB_TOKEN_WORD, /* letters, digits after the first: dc, FPdc2tog */
	TB_TOKEN_NUMBER, /* 12, two; 50.5 and 19½ where a length stands */
	TB_TOKEN_ORDINAL, /* 4th, fourth */
	TB_TOKEN_STAR, /* * */
	TB_TOKEN_STARS, /* ** */
	TB_TOKEN_MARK, /* any other character; dashes as '-' or, when long, 0x2014 */
} tb_token_kind;

#define TB_MARK_LONG_DASH 0x2014

typedef struct {
	tb_token_kind kind;
	size_t start, end; /* bytes of the text */
	bool glued; /* nothing stands between it and the token before it */
	const char *word; /* what the vocabulary knows it by, or the lower-case word; "" for no word */
	bool known; /* WORD: the vocabulary has it */
	double value; /* NUMBER, ORDINAL; never above 1e9 */
	gunichar mark;
} tb_token;

/*
 * The tokens of TEXT (tb_token), one of kind TB_TOKEN_END behind the last. Articles are left out:
 * the row language says nothing with them. Words live in ARENA. Owned array.
 */
GArray *tb_lex(const tb_text *text, tb_arena *arena);

#endif
