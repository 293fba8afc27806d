/*
 * Counts at the row's end: "[83 (91, 99) sts]", "(12 dc, 4 ch-2 sps)", "— 83 sts", "83 sts.".
 *
 * A bracket is a count when it holds figures and what they count, and no place or how often follows
 * it. The same reader looks ahead and reads in earnest.
 */
#include "notation/parser.h"

#include <string.h>

typedef enum {
	CLAIM_BRACKETED, /* "(83)", "(12 dc, 4 ch)": a figure may stand alone */
	CLAIM_DASHED,
	CLAIM_PLAIN, /* only "83 sts" is a count: "3 dc" are stitches to work */
} claim_form;

/* "5 shells", "6 V-sts", "1 block": what the program has no name for, it cannot count. */
static bool accept_uncounted(tb_parser *p, unsigned first)
{
	unsigned words = 0;
	while (words < 4 && strcmp(tb_parser_peek(p, words)->word, "and") != 0 &&
		   (tb_parser_peek(p, words)->kind == TB_TOKEN_WORD || tb_parser_at_mark(p, words, '-')))
		words++;
	const tb_token *token = tb_parser_peek(p, 0), *end = tb_parser_peek(p, words);
	bool ends = end->mark == ')' || end->mark == ']' || end->mark == '}' || end->mark == ',' ||
				strcmp(end->word, "and") == 0;
	if (words == 0 || token->kind != TB_TOKEN_WORD || token->known || !ends)
		return false;
	tb_where where = {.has_place = true, .piece = p->piece, .row = p->row};
	p->at += words;
	where.place = tb_parser_span(p, first);
	g_autofree char *text =
		g_strndup(p->text->chars + token->start, tb_parser_peek(p, 0)->start - token->start);
	g_autofree char *valid = g_utf8_make_valid(text, -1);
	tb_diagnose_format(p->diagnostics, TB_WARNING, "count-unknown", &where,
		"Count the stitches, as in [36 sts], or the kinds that are worked, as in [12 dc].",
		"a count of %s cannot be checked", g_strstrip(valid));
	return true;
}

/* "counting ch-3 as 1 dc", behind the count: so it is counted anyway. */
static bool accept_counting(tb_parser *p)
{
	if (!tb_parser_accept(p, "count") && !tb_parser_accept(p, "including"))
		return false;
	while (!tb_parser_at_end(p) && !tb_parser_at_mark(p, 0, ')') && !tb_parser_at_mark(p, 0, ']') &&
		   !tb_parser_at_mark(p, 0, '}'))
		p->at++;
	return true;
}

/* "… across. 20 sc.": a number and a stitch alone, after a full stop and at the text's end. */
static bool is_last_sentence(tb_parser *p, unsigned first, tb_place *noun)
{
	const tb_token *before = first > 0 ? &g_array_index(p->tokens, tb_token, first - 1) : NULL;
	tb_parser ahead = *p;
	if (before == NULL || before->mark != '.' || !tb_parse_noun(&ahead, noun))
		return false;
	tb_parser_accept_mark(&ahead, '.');
	if (!tb_parser_at_end(&ahead))
		return false;
	return tb_parse_noun(p, noun);
}

/* One part: a number and what it counts. */
static bool parse_part(tb_parser *p, GArray *claims, claim_form form)
{
	unsigned first = p->at;
	tb_claim claim = {0};
	tb_place noun = {0};
	if (!tb_parser_at_number(p) || !tb_parse_number(p, &claim.count))
		return false;
	bool named = form == CLAIM_PLAIN ? tb_parser_accept(p, "st") : tb_parse_noun(p, &noun);
	if (!named && form == CLAIM_PLAIN && !(named = is_last_sentence(p, first, &noun)))
		return false;
	if (!named && form == CLAIM_BRACKETED && accept_uncounted(p, first))
		return true;
	claim.stitch = noun.target == TB_TARGET_CHAIN ? p->chain : noun.named;
	claim.spaces = noun.target == TB_TARGET_SPACE;
	claim.space_chains = noun.space_chains;
	tb_parser_accept(p, "made");
	if (!tb_parser_accept(p, "total"))
		tb_parser_accept(p, "in total");
	claim.span = tb_parser_span(p, first);
	g_array_append_val(claims, claim);
	return true;
}

static bool parse_parts(tb_parser *p, GArray *claims, claim_form form)
{
	do {
		if (!parse_part(p, claims, form))
			return false;
		bool comma = tb_parser_accept_mark(p, ',');
		if (accept_counting(p))
			return true;
		if (!comma && !tb_parser_accept(p, "and"))
			return true;
		tb_parser_accept(p, "and");
	} while (tb_parser_at_number(p));
	/* "83 sts, turn": the comma parts the count from what follows. */
	return true;
}

/* Whether what stands behind a bracket makes it a repeat or a group after all. */
static bool is_bracket_used(tb_parser *p)
{
	tb_number count;
	bool more, read = false;
	return tb_parser_at_place(p) || !tb_parse_times(p, &count, &more, &read) || read ||
		   tb_parser_at(p, "across") || tb_parser_at(p, "around") || tb_parser_at(p, "to last") ||
		   tb_parser_at(p, "to end");
}

static bool parse_bracketed(tb_parser *p, GArray *claims)
{
	gunichar close = tb_parser_closing(p, 0);
	p->at++;
	return parse_parts(p, claims, CLAIM_BRACKETED) && tb_parser_accept_mark(p, close);
}

static bool accept_dash(tb_parser *p)
{
	return tb_parser_accept_mark(p, TB_MARK_LONG_DASH) || tb_parser_accept_mark(p, '-') ||
		   tb_parser_accept_mark(p, '=');
}

static bool scan(tb_parser *p, GArray *claims)
{
	if (tb_parser_closing(p, 0) != 0) {
		if (!parse_bracketed(p, claims))
			return false;
		return !is_bracket_used(p);
	}
	return parse_parts(p, claims, accept_dash(p) ? CLAIM_DASHED : CLAIM_PLAIN);
}

bool tb_parser_at_claims(tb_parser *p)
{
	const tb_token *token = tb_parser_peek(p, 0);
	if (token->kind != TB_TOKEN_NUMBER && token->kind != TB_TOKEN_MARK)
		return false;
	tb_parser ahead = *p;
	g_autoptr(tb_diagnostics) unheard = tb_diagnostics_create(NULL);
	g_autoptr(GArray) claims = g_array_new(FALSE, FALSE, sizeof(tb_claim));
	ahead.diagnostics = unheard;
	if (scan(&ahead, claims))
		return true;
	/* A count with the wrong number of figures is still a count, and is told as one. */
	const tb_diagnostic *fault = tb_diagnostics_get(unheard, 0);
	return fault != NULL && strcmp(fault->code, "size-count") == 0 && claims->len == 0 &&
		   ahead.at == p->at + 1 && ahead.at < p->tokens->len;
}

/* "(19, 23, 27 sc)" in three sizes: as many counts as there are sizes, and one noun. */
static bool check_sizes(tb_parser *p, const GArray *claims, unsigned first)
{
	unsigned sizes = tb_pattern_count_sizes(p->pattern);
	if (sizes < 2 || claims->len != sizes)
		return true;
	g_autoptr(GString) figures = g_string_new(NULL);
	for (guint i = 0; i < claims->len; i++) {
		const tb_claim *claim = &g_array_index(claims, tb_claim, i);
		bool bare = claim->stitch == NULL && !claim->spaces && claim->count.count == 1 &&
					claim->span.end - claim->span.start <= 6;
		if (!bare && i + 1 < claims->len)
			return true;
		g_string_append_printf(figures, "%s%d", i == 0 ? "" : i == 1 ? " (" : ", ",
			claim->count.values[0]);
	}
	g_autofree char *hint = g_strdup_printf("Write [%s) sts].", figures->str);
	return tb_parser_fail(p, "count-sizes", first, p->at - 1, hint,
		"the figures for the sizes are to stand in a bracket of their own");
}

bool tb_parse_claims(tb_parser *p, GArray *claims)
{
	if (!tb_parser_at_claims(p))
		return true;
	unsigned told = tb_diagnostics_count_errors(p->diagnostics), first = p->at;
	if (scan(p, claims))
		return check_sizes(p, claims, first);
	return tb_diagnostics_count_errors(p->diagnostics) > told
			   ? false
			   : tb_parser_fail_unknown(p, "a count, as in [83 sts]");
}
