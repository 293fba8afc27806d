/* What kind of place is meant: "st", "ch", "ch-2 sp", "corner", "dc". */
#include "notation/parser.h"

#include "stitches/stitch.h"

#include <string.h>

static const char *word_at(const tb_parser *p, unsigned ahead)
{
	return tb_parser_peek(p, ahead)->word;
}

bool tb_parser_is_space_word(const char *word)
{
	return strcmp(word, "sp") == 0 || strcmp(word, "loop") == 0;
}

/* "ch", "ch sp", "ch-2 sp", "ch 2 sp": a chain or a chain space. */
static void parse_chain_noun(tb_parser *p, tb_place *place)
{
	p->at++;
	unsigned hyphen = tb_parser_at_mark(p, 0, '-') ? 1 : 0;
	const tb_token *number = tb_parser_peek(p, hyphen);
	place->target = TB_TARGET_CHAIN;
	/* "ch1-sp" */
	if (number->kind == TB_TOKEN_NUMBER && !hyphen && tb_parser_at_mark(p, 1, '-') &&
		tb_parser_is_space_word(word_at(p, 2))) {
		place->target = TB_TARGET_SPACE;
		place->space_chains = (unsigned)MIN(number->value, 255);
		p->at += 3;
		return;
	}
	if (number->kind == TB_TOKEN_NUMBER && (hyphen || tb_parser_is_space_word(word_at(p, 1)))) {
		place->target = TB_TARGET_SPACE;
		place->space_chains = (unsigned)MIN(number->value, 255);
		p->at += hyphen + 1;
	} else if (tb_parser_is_space_word(word_at(p, hyphen))) {
		place->target = TB_TARGET_SPACE;
		p->at += hyphen;
	}
	if (place->target == TB_TARGET_SPACE && tb_parser_is_space_word(word_at(p, 0)))
		p->at++;
}

/* "2-ch sp", "1ch sp", as UK patterns say it: its tokens, or 0. */
unsigned tb_parser_at_counted_space(const tb_parser *p)
{
	unsigned hyphen = tb_parser_at_mark(p, 1, '-') ? 1 : 0;
	const tb_token *chain = tb_parser_peek(p, 1 + hyphen);
	if (tb_parser_peek(p, 0)->kind != TB_TOKEN_NUMBER || strcmp(chain->word, "ch") != 0 ||
		!chain->glued || !tb_parser_is_space_word(word_at(p, 2 + hyphen)))
		return 0;
	return 3 + hyphen;
}

/* "corner ch-2 sp", "corner": where the corner is, there is a space. */
static bool parse_corner(tb_parser *p, tb_place *place)
{
	tb_place space = *place;
	if (tb_parse_noun(p, &space) && space.target == TB_TARGET_SPACE)
		*place = space;
	else
		place->target = TB_TARGET_SPACE;
	return true;
}

bool tb_parse_noun(tb_parser *p, tb_place *place)
{
	unsigned length;
	unsigned counted = tb_parser_at_counted_space(p);
	if (counted > 0) {
		place->target = TB_TARGET_SPACE;
		place->space_chains = (unsigned)MIN(tb_parser_peek(p, 0)->value, 255);
		p->at += counted;
		return true;
	}
	if (tb_parser_accept(p, "corner"))
		return parse_corner(p, place);
	const tb_stitch *stitch = tb_parser_find_stitch(p, 0, &length);
	if (stitch != NULL && stitch != p->chain) {
		place->target = TB_TARGET_NAMED;
		place->named = stitch;
		p->at += length;
		tb_parser_accept(p, "st");
		tb_parser_accept(p, "post");
		return true;
	}
	if (tb_parser_at(p, "ch")) {
		parse_chain_noun(p, place);
		return true;
	}
	if (tb_parser_accept(p, "st")) {
		place->target = TB_TARGET_STITCH;
		return true;
	}
	if (tb_parser_accept(p, "sp") || tb_parser_accept(p, "loop")) {
		place->target = TB_TARGET_SPACE;
		return true;
	}
	return false;
}
