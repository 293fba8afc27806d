/* Turning chains: how they are named, and whether they count. */
#include "notation/parser.h"

#include <string.h>

/* "ch-3" or "ch 3": the tokens it takes from AHEAD on, or 0. */
static unsigned at_named_chain(const tb_parser *p, unsigned ahead, bool hyphen_only)
{
	/* "3-ch" */
	if (tb_parser_peek(p, ahead)->kind == TB_TOKEN_NUMBER && tb_parser_at_mark(p, ahead + 1, '-') &&
		strcmp(tb_parser_peek(p, ahead + 2)->word, "ch") == 0)
		return 3;
	if (strcmp(tb_parser_peek(p, ahead)->word, "ch") != 0)
		return 0;
	bool hyphen = tb_parser_at_mark(p, ahead + 1, '-');
	if (hyphen && tb_parser_peek(p, ahead + 2)->kind == TB_TOKEN_NUMBER)
		return 3;
	return !hyphen && !hyphen_only && tb_parser_peek(p, ahead + 1)->kind == TB_TOKEN_NUMBER ? 2 : 0;
}

/* The turning chain itself: "tch", "t-ch", "turning ch", "beg ch-3", "ch-3". Its tokens, or 0. */
static unsigned at_turning_chain(const tb_parser *p, unsigned ahead)
{
	tb_parser ahead_of = *p;
	ahead_of.at = MIN(p->at + ahead, p->tokens->len - 1);
	const tb_parser *a = &ahead_of;
	if (tb_parser_at(a, "tch"))
		return 1;
	if (strcmp(tb_parser_peek(a, 0)->word, "t") == 0 && tb_parser_at_mark(a, 1, '-') &&
		strcmp(tb_parser_peek(a, 2)->word, "ch") == 0)
		return 3;
	bool begins = tb_parser_at(a, "turning") || tb_parser_at(a, "beg");
	if (begins) {
		unsigned hyphen = tb_parser_at_mark(a, 1, '-') ? 1 : 0;
		unsigned chain = at_named_chain(a, 1 + hyphen, false);
		if (chain > 0)
			return 1 + hyphen + chain;
		return strcmp(tb_parser_peek(a, 1 + hyphen)->word, "ch") == 0 ? 2 + hyphen : 0;
	}
	unsigned chain = at_named_chain(a, 0, true);
	const char *behind = tb_parser_peek(a, chain)->word;
	bool is_space = strcmp(behind, "sp") == 0 || strcmp(behind, "loop") == 0;
	return is_space ? 0 : chain;
}

bool tb_parse_turning_chain(tb_parser *p)
{
	unsigned before = 0;
	bool part = false;
	if (tb_parser_at(p, "top of")) {
		before = 2;
		part = true;
	} else if (tb_parser_at(p, "top")) {
		before = 1;
		part = true;
	} else if (tb_parser_peek(p, 0)->kind == TB_TOKEN_ORDINAL) {
		unsigned named = strcmp(tb_parser_peek(p, 1)->word, "ch") == 0 ? 1 : 0;
		part = strcmp(tb_parser_peek(p, 1 + named)->word, "of") == 0;
		before = part ? 2 + named : 0;
	}
	unsigned chain = at_turning_chain(p, before);
	/* "top of 3 ch", "3rd of 3 ch" */
	if (chain == 0 && part && tb_parser_peek(p, before)->kind == TB_TOKEN_NUMBER &&
		strcmp(tb_parser_peek(p, before + 1)->word, "ch") == 0)
		chain = 2;
	/* "in ch-3" without "top" may be a chain of the row below; "next ch-3" is read elsewhere. */
	if (chain == 0 && part && strcmp(tb_parser_peek(p, before)->word, "skipped") == 0)
		chain = strcmp(tb_parser_peek(p, before + 1)->word, "ch") == 0 ? 2 : 0;
	if (chain == 0)
		return false;
	p->at += before + chain;
	return true;
}

/* Whether a remark on counting stands here, in brackets or after a comma: "this counts as". */
static unsigned at_counts(const tb_parser *p)
{
	static const char *const before[] = {"this", "beg", "first", "skipped", "sk", "ch", "tch",
		"turning", "does", "not", "don't", "st"};
	unsigned at = tb_parser_closing(p, 0) != 0 || tb_parser_at_mark(p, 0, ',') ? 1 : 0;
	for (; at < 10; at++) {
		const tb_token *token = tb_parser_peek(p, at);
		if (strcmp(token->word, "count") == 0)
			return at + 1;
		bool good = token->kind == TB_TOKEN_NUMBER || tb_parser_at_mark(p, at, '-');
		for (size_t i = 0; i < G_N_ELEMENTS(before); i++)
			good = good || strcmp(token->word, before[i]) == 0;
		if (!good)
			return 0;
	}
	return 0;
}

/* ", ch 2" and "and ch 2" after "counts as dc": chains beyond the stitch. */
static bool parse_extra(tb_parser *p, gunichar close, int *extra)
{
	unsigned start = p->at;
	if (!tb_parser_accept(p, "and") && !tb_parser_accept_mark(p, '+') &&
		!(close != 0 && tb_parser_accept_mark(p, ',')))
		return true;
	unsigned chain = at_named_chain(p, 0, false);
	bool behind = tb_parser_peek(p, 0)->kind == TB_TOKEN_NUMBER; /* "1 ch", "2-ch sp" */
	bool loose = behind && strcmp(tb_parser_peek(p, 1)->word, "ch") == 0;
	if (chain == 0 && !loose) {
		p->at = start;
		return true;
	}
	if (!behind)
		p->at += chain - 1;
	tb_number number;
	if (!tb_parse_number(p, &number))
		return false;
	if (behind) {
		tb_parser_accept_mark(p, '-');
		tb_parser_accept(p, "ch");
	}
	if (number.count != 1 || number.values[0] < 1)
		return tb_parser_fail(p, "counts-unclear", p->at - 1, p->at - 1,
			"As in \"ch 5 (counts as dc, ch 2)\".", "this must be one number, for all sizes");
	*extra = number.values[0];
	if (!tb_parser_accept(p, "sp"))
		tb_parser_accept(p, "loop");
	return true;
}

/* What it counts as, after "as": a stitch, or one of any kind. */
static bool parse_counted(tb_parser *p, tb_act *act)
{
	/* "counts as first dc", "as 1 dc"; behind the first stitch also "as first 2 dc". */
	tb_parser_accept(p, "first");
	double number = tb_parser_peek(p, 0)->value;
	if (tb_parser_peek(p, 0)->kind == TB_TOKEN_NUMBER &&
		(number == 1 || (number == 2 && act->kind == TB_ACT_WORK)))
		p->at++;
	unsigned length;
	const tb_stitch *stitch = tb_parser_find_stitch(p, 0, &length);
	if (stitch != NULL) {
		act->stitch = act->kind == TB_ACT_CHAIN ? stitch : act->stitch;
		p->at += length;
		tb_parser_accept(p, "st");
		return true;
	}
	return tb_parser_accept(p, "st") ||
		   tb_parser_fail_unknown(p, "a stitch, as in \"counts as dc\"");
}

bool tb_parse_counts(tb_parser *p, tb_act *act, int *extra)
{
	*extra = 0;
	unsigned tokens = at_counts(p), start = p->at;
	if (tokens == 0)
		return true;
	gunichar close = tb_parser_closing(p, 0);
	act->counts = TB_COUNTS;
	for (unsigned i = 0; i < tokens; i++) {
		const char *word = tb_parser_peek(p, i)->word;
		if (strcmp(word, "not") == 0 || strcmp(word, "don't") == 0)
			act->counts = TB_COUNTS_NOT;
	}
	p->at += tokens;
	if (tb_parser_accept(p, "as")) {
		const tb_stitch *before = act->stitch;
		if (!parse_counted(p, act) || !parse_extra(p, close, extra))
			return false;
		if (act->counts == TB_COUNTS_NOT)
			act->stitch = before;
	}
	tb_parser_accept(p, "here");
	tb_parser_accept(p, "and");
	tb_parser_accept(p, "throughout");
	if (close != 0 && !tb_parser_accept_mark(p, close))
		return tb_parser_at_end(p) ? tb_parser_fail(p, "bracket-open", start, start, "Close it.",
										 "this bracket is never closed")
								   : tb_parser_fail_unknown(p, "the closing bracket");
	return true;
}
