/*
 * Numbers and size brackets.
 *
 * A bracket has many meanings in the trade. It is a size bracket when it stands right after a
 * number and holds figures only; in a pattern without sizes there is none.
 */
#include "notation/parser.h"

#include "support/limits.h"

#include <math.h>
#include <string.h>

const int tb_number_one[1] = {1};

tb_number tb_number_make(tb_parser *p, int value, tb_span span)
{
	int *values = tb_arena_new(p->arena, int);
	*values = value;
	return (tb_number){1, values, span};
}

bool tb_number_is(const tb_number *number, int value)
{
	return number->count == 1 && number->values[0] == value;
}

static bool is_separator(const tb_token *token)
{
	return token->kind == TB_TOKEN_MARK && token->mark < 0x80 && strchr(",;:-", (int)token->mark);
}

/*
 * The figures inside a bracket that opens AHEAD tokens from here, added to VALUES. Returns the
 * tokens it takes, or 0 when it holds anything else. A bracket may hold one more.
 */
static unsigned scan_bracket(const tb_parser *p, unsigned ahead, GArray *values, bool outer)
{
	gunichar close = tb_parser_closing(p, ahead);
	unsigned at = ahead + 1;
	if (close == 0)
		return 0;
	for (bool want_figure = true; !tb_parser_at_mark(p, at, close);) {
		const tb_token *token = tb_parser_peek(p, at);
		double value = token->value;
		if (outer && tb_parser_closing(p, at) != 0) {
			unsigned inner = scan_bracket(p, at, values, false);
			if (inner == 0)
				return 0;
			at += inner;
			want_figure = false;
			continue;
		}
		bool figure = token->kind == TB_TOKEN_NUMBER;
		if (want_figure && tb_parser_at_mark(p, at, '-')) {
			figure = true;
			value = TB_NOT_IN_SIZE;
		}
		if (want_figure ? !figure : !is_separator(token))
			return 0;
		if (want_figure)
			g_array_append_val(values, value);
		want_figure = !want_figure;
		at++;
	}
	return values->len > 0 ? at + 1 - ahead : 0;
}

/* The bracket or two behind the first figure. Returns the tokens they take. */
static unsigned scan_size_brackets(const tb_parser *p, unsigned ahead, GArray *values)
{
	unsigned sizes = tb_pattern_count_sizes(p->pattern);
	unsigned first = scan_bracket(p, ahead, values, true);
	if (first == 0) {
		g_array_set_size(values, 0);
		return 0;
	}
	if (values->len + 1 >= sizes)
		return first;
	guint before = values->len;
	unsigned second = scan_bracket(p, ahead + first, values, false);
	/* A second bracket belongs to the sizes only when it makes them whole. */
	if (second > 0 && values->len + 1 == sizes)
		return first + second;
	g_array_set_size(values, before);
	return first;
}

static bool fail_count(tb_parser *p, unsigned first, unsigned tokens, unsigned figures)
{
	unsigned sizes = tb_pattern_count_sizes(p->pattern);
	if (sizes == 1)
		return tb_parser_fail(p, "size-count", first, first + tokens,
			"Name the sizes of the pattern, or write a single figure.",
			"%u figures are given, and the pattern has one size", figures);
	g_autofree char *names = g_strjoinv(", ", (char **)p->pattern->sizes->pdata);
	return tb_parser_fail(p, "size-count", first, first + tokens,
		"Write a figure for each size, \"-\" where a size has none, or one figure for all.",
		"%u figures are given for %u sizes (%s)", figures, sizes, names);
}

bool tb_parser_at_number(const tb_parser *p)
{
	if (tb_parser_peek(p, 0)->kind == TB_TOKEN_NUMBER)
		return true;
	/* "- (20, 22)": not in the first size. */
	if (!tb_parser_at_mark(p, 0, '-') || tb_pattern_count_sizes(p->pattern) == 1)
		return false;
	g_autoptr(GArray) values = g_array_new(FALSE, FALSE, sizeof(double));
	return scan_size_brackets(p, 1, values) > 0;
}

bool tb_parse_figures(tb_parser *p, double **values, unsigned *count)
{
	unsigned first = p->at, sizes = tb_pattern_count_sizes(p->pattern);
	const tb_token *token = tb_parser_peek(p, 0);
	if (!tb_parser_at_number(p))
		return tb_parser_fail_unknown(p, "a number");
	double value = token->kind == TB_TOKEN_NUMBER ? token->value : TB_NOT_IN_SIZE;
	g_autoptr(GArray) more = g_array_new(FALSE, FALSE, sizeof(double));
	unsigned tokens = scan_size_brackets(p, 1, more);
	/* Without sizes, one figure in brackets may be a count: "in next 3 (83)". */
	const tb_token *behind = tb_parser_peek(p, 1 + tokens);
	bool counted = behind->kind == TB_TOKEN_WORD && behind->known &&
				   strcmp(behind->word, "turn") != 0 && strcmp(behind->word, "and") != 0;
	if (sizes == 1 && more->len == 1 && !counted)
		tokens = more->len = 0;
	if (more->len > 0 && (sizes == 1 || more->len + 1 != sizes))
		return fail_count(p, first, tokens, more->len + 1);
	*count = more->len + 1;
	*values = tb_arena_take(p->arena, *count * sizeof(double));
	(*values)[0] = value;
	for (guint i = 0; i < more->len; i++)
		(*values)[i + 1] = g_array_index(more, double, i);
	p->at += 1 + tokens;
	return true;
}

bool tb_parse_number(tb_parser *p, tb_number *number)
{
	unsigned first = p->at;
	double *values;
	if (!tb_parse_figures(p, &values, &number->count))
		return false;
	int *whole = tb_arena_take(p->arena, number->count * sizeof(int));
	for (unsigned i = 0; i < number->count; i++) {
		if (values[i] > TB_LIMIT_NUMBER)
			return tb_parser_fail(p, "number-too-large", first, p->at - 1,
				"A row ends at 100,000 stitches.", "this number is larger than any row");
		if (values[i] != floor(values[i]))
			return tb_parser_fail(p, "number-not-whole", first, p->at - 1, "Round it up or down.",
				"stitches are counted in whole numbers");
		whole[i] = (int)values[i];
	}
	number->values = whole;
	number->span = tb_parser_span(p, first);
	return true;
}
