/*
 * Asides: words among the acts that make no stitch. Markers, care, hooks and yarns, what is only
 * said once more.
 */
#include "notation/parser.h"

#include "stitches/stitch.h"

#include <string.h>

static const char *word_at(const tb_parser *p, unsigned ahead)
{
	return tb_parser_peek(p, ahead)->word;
}

/* "in first st of rnd", "at corner": where a marker hangs. */
static bool parse_marked(tb_parser *p)
{
	tb_place place;
	if (tb_parser_accept(p, "up") || tb_parser_accept(p, "at") || !tb_parser_accept(p, "in")) {
		while (tb_parser_peek(p, 0)->kind == TB_TOKEN_WORD)
			p->at++;
		return true;
	}
	if (!tb_parse_place(p, &place))
		return false;
	if (tb_parser_accept(p, "of") && !tb_parser_accept(p, "row"))
		tb_parser_accept(p, "rnd");
	return true;
}

/* "place marker in first st", "PM", "move marker up". */
static bool parse_marker(tb_parser *p, bool *read)
{
	static const char *const phrases[] = {"place marker", "place stitch marker", "place st marker",
		"place m", "pm", "move marker", "slip marker", "sm", "remove marker", "mark", "use marker"};
	for (size_t i = 0; i < G_N_ELEMENTS(phrases); i++) {
		if (!tb_parser_accept(p, phrases[i]))
			continue;
		*read = true;
		if (strcmp(phrases[i], "mark") != 0)
			return parse_marked(p);
		tb_place place;
		return tb_parse_place(p, &place);
	}
	return true;
}

/* "being careful not to twist chain", "without twisting". */
static bool accept_care(tb_parser *p)
{
	if (tb_parser_accept(p, "loosely") || tb_parser_accept(p, "tightly"))
		return true;
	bool said = tb_parser_accept(p, "being careful not to twist") ||
				tb_parser_accept(p, "taking care not to twist") ||
				tb_parser_accept(p, "without twisting") || tb_parser_accept(p, "do not twist") ||
				tb_parser_accept(p, "does not twist") || tb_parser_accept(p, "don't twist");
	if (said && !tb_parser_accept(p, "ch"))
		tb_parser_accept(p, "it");
	return said;
}

/* "(shell made)", "(corner made)": a remark on what was just worked. */
static bool accept_made(tb_parser *p)
{
	if (tb_parser_closing(p, 0) == 0)
		return false;
	unsigned at = 1;
	while (at < 8 &&
		   (tb_parser_peek(p, at)->kind == TB_TOKEN_WORD ||
			   tb_parser_peek(p, at)->kind == TB_TOKEN_NUMBER || tb_parser_at_mark(p, at, '-')))
		at++;
	if (at < 3 || strcmp(word_at(p, at - 1), "made") != 0 ||
		!tb_parser_at_mark(p, at, tb_parser_closing(p, 0)))
		return false;
	p->at += at + 1;
	return true;
}

/* "With 4 mm hook,", "using yarn A,": up to the comma, when a hook or a yarn is named there. */
static bool accept_tools(tb_parser *p)
{
	static const char *const tools[] = {"hook", "yarn", "colour", "color", "mc", "cc", "strand"};
	if (!tb_parser_at(p, "with") && !tb_parser_at(p, "use"))
		return false;
	bool named = false;
	for (unsigned i = 1; i < 12; i++) {
		for (size_t j = 0; j < G_N_ELEMENTS(tools); j++)
			named = named || strcmp(word_at(p, i), tools[j]) == 0;
		bool ends = tb_parser_at_mark(p, i, ',') || tb_parser_at_mark(p, i, ':');
		if (named && ends) {
			p->at += i;
			return true;
		}
		if (ends || tb_parser_peek(p, i)->kind == TB_TOKEN_END)
			return false;
	}
	return false;
}

/* "change to B", "changing to colour B in last st", "with B,": another yarn, no stitch. */
static bool accept_colour(tb_parser *p)
{
	tb_parser ahead = *p;
	tb_place place;
	bool change = tb_parser_accept(&ahead, "change") || tb_parser_accept(&ahead, "changing") ||
				  tb_parser_accept(&ahead, "switch");
	tb_parser_accept(&ahead, "yarn");
	tb_parser_accept(&ahead, "colour");
	tb_parser_accept(&ahead, "color");
	if (change && !tb_parser_accept(&ahead, "to"))
		return false;
	if (!change && !tb_parser_accept(&ahead, "with"))
		return false;
	tb_parser_accept(&ahead, "yarn");
	tb_parser_accept(&ahead, "colour");
	tb_parser_accept(&ahead, "color");
	/* "B", "MC" */
	const tb_token *name = tb_parser_peek(&ahead, 0);
	/* yarn A: the lexer takes it for the article */
	if (name->mark == ',' || (change && name->kind != TB_TOKEN_WORD)) {
		p->at = ahead.at;
		return true;
	}
	bool letter = name->kind == TB_TOKEN_WORD && !name->known && name->end - name->start <= 2;
	if (!letter && !(change && name->kind == TB_TOKEN_WORD && !name->known))
		return false;
	ahead.at++;
	if (change && tb_parser_accept(&ahead, "in") && !tb_parse_place(&ahead, &place))
		return false;
	p->at = ahead.at;
	return true;
}

/* "working last dc in top of tch": where the last of the stitches before this goes. */
static bool parse_last_stitch(tb_parser *p, bool *read)
{
	unsigned start = p->at, length;
	if (!tb_parser_accept(p, "with"))
		tb_parser_accept(p, "work");
	if (!tb_parser_accept(p, "last") || tb_parser_find_stitch(p, 0, &length) == NULL) {
		p->at = start;
		return true;
	}
	p->at += length;
	if (!tb_parser_accept(p, "in")) {
		p->at = start;
		return true;
	}
	tb_place place;
	*read = true;
	if (!tb_parse_place(p, &place))
		return false;
	if (place.target == TB_TARGET_TURNING_CHAIN || place.in == TB_IN_LAST)
		return true;
	return tb_parser_fail(p, "last-unclear", start, p->at - 1,
		"Write \"to last st\", and then where that one goes.",
		"it is not clear whether this stitch is one more");
}

bool tb_parse_aside(tb_parser *p, const GArray *acts, bool *read)
{
	*read = false;
	if (tb_parser_accept(p, "does not fasten off") || tb_parser_accept(p, "don't fasten off") ||
		accept_care(p) || accept_tools(p) || accept_colour(p) ||
		(acts->len > 0 && accept_made(p))) {
		*read = true;
		return true;
	}
	if (!parse_marker(p, read))
		return false;
	return *read || acts->len == 0 || parse_last_stitch(p, read);
}
