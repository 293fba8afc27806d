/* Acts, one after another, parted by commas, semicolons, periods, "then" or "and". */
#include "notation/parser.h"

#include <string.h>

tb_acts tb_acts_make(tb_parser *p, const GArray *acts)
{
	size_t bytes = acts->len * sizeof(tb_act);
	tb_act *copy = tb_arena_take(p->arena, bytes);
	if (bytes > 0)
		memcpy(copy, acts->data, bytes);
	return (tb_acts){copy, acts->len};
}

void tb_parser_skip_separators(tb_parser *p)
{
	while (tb_parser_accept_mark(p, ',') || tb_parser_accept_mark(p, ';') ||
		   tb_parser_accept_mark(p, '.') || tb_parser_accept(p, "then") ||
		   tb_parser_accept(p, "and"))
		;
}

/* Whether "**" here is the mark a last repeat ends at, and not the beginning of a repeat. */
static bool is_last_mark(const tb_parser *p)
{
	for (unsigned i = 1; tb_parser_peek(p, i)->kind != TB_TOKEN_END; i++) {
		if (tb_parser_peek(p, i)->kind == TB_TOKEN_STARS)
			return strcmp(tb_parser_peek(p, i - 1)->word, "from") != 0;
	}
	return false;
}

/* Whether the star here ends the repeat now read: "*a, b* 3 times", "*a, b*; rep from * …". */
static bool is_closing_star(const tb_parser *p)
{
	unsigned at = 1;
	while (tb_parser_at_mark(p, at, ',') || tb_parser_at_mark(p, at, ';') ||
		   tb_parser_at_mark(p, at, '.'))
		at++;
	const char *word = tb_parser_peek(p, at)->word, *next = tb_parser_peek(p, at + 1)->word;
	bool times = strcmp(next, "times") == 0 || strcmp(next, "more") == 0;
	return strcmp(word, "rep") == 0 || strcmp(word, "across") == 0 || strcmp(word, "twice") == 0 ||
		   strcmp(word, "thrice") == 0 || (tb_parser_peek(p, at)->kind == TB_TOKEN_NUMBER && times);
}

static bool at_rep_from(const tb_parser *p)
{
	return tb_parser_at(p, "rep") > 0 && !tb_parser_at_rows_again(p);
}

/* A count after which no repeat is closed: the star before it never is, and that is what is wrong. */
static bool at_last_claims(tb_parser *p)
{
	if (!tb_parser_at_claims(p))
		return false;
	for (unsigned i = 0; tb_parser_peek(p, i)->kind != TB_TOKEN_END; i++) {
		tb_token_kind kind = tb_parser_peek(p, i)->kind;
		if (kind == TB_TOKEN_STAR || kind == TB_TOKEN_STARS)
			return false;
	}
	return true;
}

static bool at_scope_end(tb_parser *p, tb_scope scope)
{
	if (tb_parser_at_end(p) || tb_parser_at_mark(p, 0, ')') || tb_parser_at_mark(p, 0, ']') ||
		tb_parser_at_mark(p, 0, '}'))
		return true;
	if (scope == TB_SCOPE_STAR) {
		const tb_token *token = tb_parser_peek(p, 0);
		return at_rep_from(p) || (token->kind == TB_TOKEN_STARS && is_last_mark(p)) ||
			   (token->kind == TB_TOKEN_STAR && is_closing_star(p)) || at_last_claims(p);
	}
	if (scope == TB_SCOPE_ONLY && at_rep_from(p) && p->stars > 0)
		return true;
	return (scope == TB_SCOPE_ROW || scope == TB_SCOPE_ONLY) && tb_parser_at_claims(p);
}

/* "dc2tog twice", "2 dc in next st 3 times": one act as a repeat. */
static bool parse_act_times(tb_parser *p, GArray *acts, guint before, unsigned first)
{
	tb_act repeat = {.kind = TB_ACT_REPEAT, .until = TB_UNTIL_TIMES};
	bool read, more;
	if (acts->len != before + 1 || g_array_index(acts, tb_act, before).kind != TB_ACT_WORK)
		return true;
	if (!tb_parse_times(p, &repeat.count, &more, &read) || !read)
		return !read;
	if (more)
		return tb_parser_fail(p, "times-more", first, p->at - 1,
			"Say how often in all, as in \"dc2tog twice\".",
			"\"more\" has nothing here that it is more than");
	g_autoptr(GArray) body = g_array_new(FALSE, FALSE, sizeof(tb_act));
	g_array_append_vals(body, &g_array_index(acts, tb_act, before), 1);
	repeat.body = tb_acts_make(p, body);
	repeat.span = tb_parser_span(p, first);
	g_array_index(acts, tb_act, before) = repeat;
	return true;
}

static bool is_each_kind(const tb_act *act)
{
	return act->kind == TB_ACT_WORK && act->place.in == TB_IN_EACH &&
		   act->place.target == TB_TARGET_NAMED && act->place.also == NULL;
}

/* "FPdc around each FPdc and BPdc around each BPdc": both as they come, not one after the other. */
static void join_kinds(tb_parser *p, GArray *acts)
{
	if (acts->len < 2)
		return;
	tb_act *first = &g_array_index(acts, tb_act, acts->len - 2);
	const tb_act *second = first + 1;
	if (!is_each_kind(first) || !is_each_kind(second) || first->place.up_to != NULL ||
		!tb_number_is(&first->place.count, 0) || first->place.named == second->place.named)
		return;
	tb_act *other = tb_arena_new(p->arena, tb_act);
	*other = *second;
	other->other = first->other;
	first->place.count = second->place.count;
	first->place.up_to = second->place.up_to;
	first->span.end = second->span.end;
	first->other = other;
	g_array_set_size(acts, acts->len - 1);
}

bool tb_parse_act(tb_parser *p, GArray *acts)
{
	unsigned first = p->at;
	guint before = acts->len;
	bool read;
	tb_token_kind kind = tb_parser_peek(p, 0)->kind;
	if (kind == TB_TOKEN_STAR || kind == TB_TOKEN_STARS)
		return tb_parse_star(p, acts);
	if (tb_parser_closing(p, 0) != 0) {
		bool good = tb_parse_aside(p, acts, &read);
		return !good || read ? good : tb_parse_bracket(p, acts);
	}
	if (at_rep_from(p) && p->stars == 0)
		return tb_parser_fail(p, "repeat-no-star", first, first,
			"Put a * where the repeat begins, or name the rows: Rep Rows 3-6.",
			"no * stands before this, so it does not say what to repeat");
	bool good = tb_parse_other(p, acts, &read);
	if (!good || read)
		return good;
	if (!tb_parse_work(p, acts) || !parse_act_times(p, acts, before, first))
		return false;
	join_kinds(p, acts);
	return true;
}

bool tb_parse_acts(tb_parser *p, tb_scope scope, GArray *acts)
{
	while (true) {
		unsigned before = p->at;
		tb_parser_skip_separators(p);
		if (scope == TB_SCOPE_ONLY && acts->len > 0) {
			for (unsigned i = before; i < p->at; i++) {
				const tb_token *token = &g_array_index(p->tokens, tb_token, i);
				if (token->mark == ';' || token->mark == '.')
					return true;
			}
		}
		if (at_scope_end(p, scope))
			return true;
		if (!tb_parse_act(p, acts))
			return false;
	}
}
