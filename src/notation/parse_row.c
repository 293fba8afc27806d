/* The beginning of a row: "Row 1 (RS):", "Rows 5-8:", "2nd round.", "Next row:". */
#include "notation/parser.h"

#include "support/limits.h"

#include <string.h>

static bool fail_row_number(tb_parser *p)
{
	return tb_parser_fail(p, "row-number", p->at, p->at, "As in \"Row 1:\".",
		"rows are numbered from 1 to %u", TB_LIMIT_PIECE_ROWS);
}

static bool parse_row_number(tb_parser *p, unsigned *row)
{
	const tb_token *token = tb_parser_peek(p, 0);
	if (token->kind != TB_TOKEN_NUMBER && token->kind != TB_TOKEN_ORDINAL)
		return tb_parser_fail_unknown(p, "a row's number");
	if (token->value < 1 || token->value > TB_LIMIT_PIECE_ROWS ||
		token->value != (unsigned)token->value)
		return fail_row_number(p);
	*row = (unsigned)token->value;
	p->at++;
	return true;
}

static bool is_row_number(const tb_parser *p, unsigned ahead)
{
	tb_token_kind kind = tb_parser_peek(p, ahead)->kind;
	return kind == TB_TOKEN_NUMBER || kind == TB_TOKEN_ORDINAL;
}

bool tb_parse_row_list(tb_parser *p, unsigned *first, unsigned *last)
{
	unsigned start = p->at;
	if (!parse_row_number(p, first))
		return false;
	*last = *first;
	while (true) {
		bool range =
			tb_parser_at_mark(p, 0, '-') || tb_parser_at(p, "to") || tb_parser_at(p, "through");
		bool list = tb_parser_at_mark(p, 0, ',') || tb_parser_at(p, "and");
		unsigned skip =
			tb_parser_at_mark(p, 0, ',') && strcmp(tb_parser_peek(p, 1)->word, "and") == 0 ? 2 : 1;
		/* "Rep Rows 3 and 4 4 times", but not "Rep Row 3, 4 times". */
		const char *behind = tb_parser_peek(p, skip + 1)->word;
		if ((!range && !list) || !is_row_number(p, skip) || strcmp(behind, "times") == 0 ||
			strcmp(behind, "more") == 0)
			break;
		/* "Row 3 - 20 dc": a dash after the number of a single row ends its head. */
		if (tb_parser_at_mark(p, 0, '-') && !tb_parser_peek(p, 0)->glued &&
			!tb_parser_at_mark(p, skip + 1, ':') && !tb_parser_at_mark(p, skip + 1, '(') &&
			tb_parser_peek(p, skip + 1)->kind != TB_TOKEN_END &&
			tb_parser_peek(p, skip + 1)->known == false)
			break;
		p->at += skip;
		unsigned row = 0;
		if (!parse_row_number(p, &row))
			return false;
		if (row <= *last)
			return tb_parser_fail(p, "row-list", start, p->at - 1,
				"Begin with the lower number, as in Rows 3-6.", "these rows do not go up");
		if (list && row != *last + 1)
			return tb_parser_fail(p, "row-list", start, p->at - 1,
				"Write rows that are not side by side each as a row of its own.",
				"row %u does not follow row %u", row, *last);
		*last = row;
	}
	return true;
}

bool tb_parse_side(tb_parser *p, tb_side *side)
{
	bool right = tb_parser_accept(p, "rs") || tb_parser_accept(p, "right side");
	if (!right && !tb_parser_accept(p, "ws") && !tb_parser_accept(p, "wrong side"))
		return false;
	*side = right ? TB_SIDE_RIGHT : TB_SIDE_WRONG;
	tb_parser_accept(p, "row");
	return true;
}

/* "(RS)", "(sizes L and XL only)" around the row's number; brackets that are neither are left. */
static bool parse_remarks(tb_parser *p, tb_sentence *sentence)
{
	while (true) {
		unsigned start = p->at;
		gunichar close = tb_parser_closing(p, 0);
		p->at += close != 0;
		bool said = false;
		unsigned before_side = p->at;
		if (tb_parse_side(p, &sentence->side)) {
			sentence->side_span = tb_parser_span(p, before_side);
			tb_parser_accept(p, "facing");
			said = true;
		} else if (close != 0 && (tb_parser_accept(p, "size") || tb_parser_accept(p, "for size"))) {
			if (!tb_parse_sizes(p, &sentence->sizes))
				return false;
			said = true;
		}
		if (!said || (close != 0 && !tb_parser_accept_mark(p, close))) {
			p->at = start;
			return true;
		}
	}
}

/* "Row 25 (27, 29):": after rows that each size has so many of. */
static bool parse_graded_number(tb_parser *p, tb_sentence *sentence)
{
	unsigned sizes = tb_pattern_count_sizes(p->pattern), figures = 0, at = 1;
	gunichar close = tb_parser_closing(p, 0);
	while (close != 0 && tb_parser_peek(p, at)->kind == TB_TOKEN_NUMBER) {
		figures++;
		at++;
		if (tb_parser_at_mark(p, at, ','))
			at++;
	}
	if (sizes < 2 || figures + 1 != sizes || !tb_parser_at_mark(p, at, close))
		return true;
	p->at--;
	if (!tb_parse_number(p, &sentence->first_in))
		return false;
	for (unsigned i = 0; i < sentence->first_in.count; i++) {
		if (sentence->first_in.values[i] < 1 ||
			sentence->first_in.values[i] > (int)TB_LIMIT_PIECE_ROWS)
			return fail_row_number(p);
	}
	return true;
}

/* "Rows 2-4 (6, 8):": as many rows as each size has. */
static bool parse_graded_last(tb_parser *p, tb_sentence *sentence)
{
	if (sentence->last == sentence->first)
		return parse_graded_number(p, sentence);
	if (tb_parser_closing(p, 0) == 0 ||
		tb_parser_peek(p, 1)->kind != TB_TOKEN_NUMBER)
		return true;
	p->at--;
	if (!tb_parse_number(p, &sentence->last_in))
		return false;
	for (unsigned i = 0; i < sentence->last_in.count; i++) {
		if (sentence->last_in.values[i] > (int)TB_LIMIT_PIECE_ROWS)
			return fail_row_number(p);
		sentence->last = MAX(sentence->last, (unsigned)MAX(sentence->last_in.values[i], 0));
	}
	return true;
}

/* "Foundation row:", "Set-up row:": before row 1, and without a number. */
static bool accept_foundation(tb_parser *p)
{
	static const char *const names[] = {"foundation", "base", "setup"};
	unsigned tokens = 0;
	for (size_t i = 0; i < G_N_ELEMENTS(names) && tokens == 0; i++)
		tokens = tb_parser_at(p, names[i]);
	if (tb_parser_at(p, "set") && strcmp(tb_parser_peek(p, 1)->word, "up") == 0)
		tokens = 2;
	else if (tb_parser_at(p, "set") && tb_parser_at_mark(p, 1, '-'))
		tokens = 3;
	const char *next = tb_parser_peek(p, tokens)->word;
	if (tokens == 0 || (strcmp(next, "row") != 0 && strcmp(next, "rnd") != 0))
		return false;
	p->at += tokens;
	return true;
}

/* "R5:" is a round where the work is not turned. */
static bool is_turned(const tb_parser *p)
{
	for (unsigned i = 0; tb_parser_peek(p, i)->kind != TB_TOKEN_END; i++) {
		if (strcmp(tb_parser_peek(p, i)->word, "turn") == 0)
			return true;
	}
	return false;
}

static bool parse_numbers(tb_parser *p, tb_sentence *sentence, unsigned last_row, bool *read)
{
	*read = true;
	bool is_short = tb_parser_at(p, "r") > 0;
	bool is_round = tb_parser_at(p, "rnd") > 0 || (is_short && !is_turned(p));
	if ((is_round || is_short || tb_parser_at(p, "row")) && is_row_number(p, 1)) {
		p->at++;
		sentence->is_round = is_round;
		tb_parse_later(p, sentence);
		return sentence->first > 0 || (tb_parse_row_list(p, &sentence->first, &sentence->last) &&
										  parse_graded_last(p, sentence));
	}
	if (accept_foundation(p)) {
		sentence->is_round = strcmp(tb_parser_peek(p, 0)->word, "rnd") == 0;
		p->at++;
		return true;
	}
	const char *next = tb_parser_peek(p, 1)->word;
	bool named = strcmp(next, "row") == 0 || strcmp(next, "rnd") == 0;
	if (tb_parser_peek(p, 0)->kind == TB_TOKEN_ORDINAL || tb_parser_at(p, "first")) {
		if (!named)
			return !(*read = false);
		sentence->is_round = strcmp(next, "rnd") == 0;
		sentence->first = 1;
		if (tb_parser_at(p, "first"))
			p->at++;
		else if (!parse_row_number(p, &sentence->first))
			return false;
		sentence->last = sentence->first;
		p->at++;
		return true;
	}
	if (tb_parser_at(p, "next") && named) {
		if (last_row == 0)
			return tb_parser_fail(p, "row-number", p->at, p->at + 1, "Give the row its number.",
				"it is not said which row comes before this one");
		sentence->is_round = strcmp(next, "rnd") == 0;
		sentence->first = sentence->last = last_row + 1;
		p->at += 2;
		return true;
	}
	*read = false;
	return true;
}

/* "Row 2 (dec row):": a bracket of words before the colon. */
static void skip_remark(tb_parser *p)
{
	gunichar close = tb_parser_closing(p, 0);
	unsigned at = 1;
	while (tb_parser_peek(p, at)->kind == TB_TOKEN_WORD || tb_parser_at_mark(p, at, '-'))
		at++;
	if (close != 0 && at > 1 && tb_parser_at_mark(p, at, close) &&
		tb_parser_at_mark(p, at + 1, ':'))
		p->at += at + 1;
}

bool tb_parse_head(tb_parser *p, tb_sentence *sentence, unsigned last_row, bool *read)
{
	unsigned start = p->at;
	*read = false;
	if (tb_parser_accept(p, "size") || tb_parser_accept(p, "for size")) {
		if (!tb_parse_sizes(p, &sentence->sizes))
			return false;
		if (!tb_parser_accept_mark(p, ':'))
			tb_parser_accept_mark(p, ',');
	}
	if (!parse_remarks(p, sentence) || !parse_numbers(p, sentence, last_row, read))
		return false;
	if (!*read) {
		/* Not a row: what was read so far is read again as acts, sizes apart. */
		if (sentence->side != TB_SIDE_UNSAID)
			p->at = start;
		return true;
	}
	p->row = sentence->first;
	p->is_round = sentence->is_round;
	if (!parse_remarks(p, sentence))
		return false;
	skip_remark(p);
	if (!tb_parser_accept_mark(p, ':') && !tb_parser_accept_mark(p, '.') &&
		!tb_parser_accept_mark(p, TB_MARK_LONG_DASH) && !tb_parser_accept_mark(p, '-'))
		return tb_parser_fail(p, "row-head", p->at, p->at,
			"As in \"Row 1:\", \"Row 1 (RS):\" or \"Rows 5-8:\".",
			"a colon is missing after the row's number");
	return parse_remarks(p, sentence);
}
