/*
 * Repeats: from a star, and in brackets. A bracket is a repeat when it is followed by how often,
 * and a group when it is followed by a place.
 */
#include "notation/parser.h"

#include <string.h>

bool tb_parse_times(tb_parser *p, tb_number *count, bool *more, bool *read)
{
	static const struct {
		const char *word;
		int times;
	} words[] = {{"once", 1}, {"twice", 2}, {"thrice", 3}};
	unsigned first = p->at;
	*read = *more = false;
	for (size_t i = 0; i < G_N_ELEMENTS(words); i++) {
		if (!tb_parser_accept(p, words[i].word))
			continue;
		*count = tb_number_make(p, words[i].times, tb_parser_span(p, first));
		*more = tb_parser_accept(p, "more");
		*read = true;
		return true;
	}
	bool x = tb_parser_accept(p, "x");
	if (!tb_parser_at_number(p)) {
		p->at = first;
		return true;
	}
	/* "4 (5, 6) times": the bracket is read only when the word that makes it times follows. */
	tb_parser ahead = *p;
	while (!x && !tb_parser_at(&ahead, "times") && !tb_parser_at(&ahead, "more times")) {
		const tb_token *token = tb_parser_peek(&ahead, 0);
		bool figures =
			token->kind == TB_TOKEN_NUMBER || (token->kind == TB_TOKEN_MARK && token->mark < 0x80 &&
												  strchr("()[],;:-", (int)token->mark) != NULL);
		if (!figures) {
			p->at = first;
			return true;
		}
		ahead.at++;
	}
	if (!tb_parse_number(p, count))
		return false;
	if (tb_number_is(count, 0))
		return tb_parser_fail(p, "times-zero", first, p->at,
			"Write how many times it is worked; in a size bracket 0 leaves a size out.",
			"0 times is never");
	*more = tb_parser_accept(p, "more");
	if (!x && !tb_parser_accept(p, "times"))
		return tb_parser_fail_unknown(p, "times");
	*more = tb_parser_accept(p, "more") || *more;
	*read = true;
	return true;
}

bool tb_parse_to_last(tb_parser *p, tb_number *count, tb_place *named, bool *read)
{
	unsigned first = p->at;
	tb_place place = {0};
	*read = true;
	if (tb_parser_accept(p, "to end") || tb_parser_accept(p, "until end")) {
		if (tb_parser_accept(p, "of") && !tb_parser_accept(p, "row") && !tb_parser_accept(p, "rnd"))
			return tb_parser_fail_unknown(p, "row, round");
		*count = tb_number_make(p, 0, tb_parser_span(p, first));
		return true;
	}
	bool to = tb_parser_accept(p, "to") || tb_parser_accept(p, "until");
	if (to && (tb_parse_turning_chain(p) || tb_parser_accept(p, "turning ch"))) {
		*count = tb_number_make(p, 1, tb_parser_span(p, first));
		return true;
	}
	bool within = to && tb_parser_accept(p, "within");
	bool last = to && tb_parser_accept(p, "last");
	if (!last && !within && !(to && tb_parser_at_number(p))) {
		p->at = first;
		*read = false;
		return true;
	}
	*count = tb_number_make(p, 1, tb_parser_span(p, first));
	if (tb_parser_at_number(p) && !tb_parse_number(p, count))
		return false;
	if (!tb_parse_noun(p, &place) && tb_number_is(count, 1) && count->span.end == 0)
		return tb_parser_fail_unknown(p, "3 sts, st");
	if (named != NULL && last && (place.target == TB_TARGET_SPACE || place.target == TB_TARGET_NAMED)) {
		*named = place;
		named->in = TB_IN_LAST;
		named->rows_below = 1;
		named->count = *count;
		named->span = tb_parser_span(p, first);
	} else if (place.target == TB_TARGET_SPACE) {
		return tb_parser_fail(p, "last-space", first, p->at - 1,
			"Count the stitches and chains that are left, as in \"to last 3 sts\".",
			"this must be counted in stitches");
	}
	/* "until 3 sts remain" */
	if (!last && !within && !tb_parser_accept(p, "rem"))
		return tb_parser_fail_unknown(p, "remain");
	return true;
}

static tb_number add_one(tb_parser *p, const tb_number *number)
{
	int *values = tb_arena_take(p->arena, number->count * sizeof(int));
	for (unsigned i = 0; i < number->count; i++)
		values[i] = number->values[i] == TB_NOT_IN_SIZE ? TB_NOT_IN_SIZE : number->values[i] + 1;
	return (tb_number){number->count, values, number->span};
}

/* Where the last stitch or group of a repeat stands in its body. */
static unsigned last_worked(const GArray *body)
{
	guint i = body->len - 1;
	while (i > 0 && g_array_index(body, tb_act, i).kind != TB_ACT_WORK &&
		   g_array_index(body, tb_act, i).kind != TB_ACT_REPEAT &&
		   g_array_index(body, tb_act, i).kind != TB_ACT_GROUP)
		i--;
	return i;
}

/* "ending last rep at **": the body's acts before the mark are its last time. */
static bool parse_ending(tb_parser *p, tb_act *repeat, unsigned mark, const GArray *body)
{
	unsigned start = p->at;
	tb_parser_accept_mark(p, ',');
	tb_parser_accept_mark(p, ';');
	unsigned first = p->at;
	bool ending = tb_parser_accept(p, "end");
	bool last_rep = tb_parser_accept(p, "last rep");
	if (!last_rep)
		tb_parser_accept(p, "rep");
	bool at = tb_parser_accept(p, "at") || tb_parser_accept(p, "with") ||
			  tb_parser_accept(p, "before") || tb_parser_accept(p, "in");
	if (!ending || !at || tb_parser_peek(p, 0)->kind != TB_TOKEN_STARS) {
		/* "ending last rep with 3 dc in last sc": in place of the last stitches of the repeat. */
		if (ending && at && last_rep && body->len > 1) {
			repeat->body_last = last_worked(body);
			return true;
		}
		/* "ending with dc in top of tch": that is worked after the last time. */
		p->at = first;
		if (!tb_parser_accept(p, "end with"))
			p->at = start;
		return true;
	}
	p->at++;
	tb_parser_accept(p, "of last rep");
	if (mark == 0)
		return tb_parser_fail(p, "mark-missing", first, p->at - 1,
			"Put ** in the repeat where its last time ends.", "no ** stands inside the repeat");
	repeat->body_last = mark;
	return true;
}

static bool parse_until(tb_parser *p, tb_act *repeat, bool from_star)
{
	unsigned first = p->at;
	bool read, more;
	if (!tb_parse_times(p, &repeat->count, &more, &read))
		return false;
	if (read) {
		repeat->until = TB_UNTIL_TIMES;
		bool in_all = tb_parser_accept(p, "in total");
		if (more && !from_star)
			return tb_parser_fail(p, "times-more", first, p->at - 1,
				"A bracket is worked as often as it says: [a, b] 4 times is four in all.",
				"\"more\" has nothing here that it is more than");
		/* "rep from * 4 times" is four more, five in all; older books mean four in all. */
		if (from_star && !in_all) {
			repeat->count = add_one(p, &repeat->count);
			repeat->times_more = !more;
		}
		return true;
	}
	repeat->until = TB_UNTIL_END;
	bool across = tb_parser_accept(p, "across") || tb_parser_accept(p, "around") ||
				  tb_parser_accept(p, "rnd");
	if (across && !tb_parser_accept(p, "row"))
		tb_parser_accept(p, "rnd");
	if (!tb_parse_to_last(p, &repeat->count, &repeat->place, &read))
		return false;
	if (!read)
		repeat->count = tb_number_make(p, 0, tb_parser_span(p, first));
	if (!read && !across)
		repeat->count.count = 0; /* not said */
	return true;
}

/* Behind the body of a starred repeat: "rep from * to * across", or "* 3 times". */
static bool parse_rep_from(tb_parser *p, tb_act *repeat, unsigned star, tb_token_kind kind)
{
	bool closed = tb_parser_peek(p, 0)->kind == TB_TOKEN_STAR;
	p->at += closed;
	tb_parser_skip_separators(p);
	bool from_star = true;
	if (tb_parser_accept(p, "rep")) {
		bool between = !tb_parser_accept(p, "from") && tb_parser_accept(p, "between");
		if (tb_parser_peek(p, 0)->kind != kind)
			return tb_parser_fail_unknown(
				p, kind == TB_TOKEN_STAR ? "from *, and how often" : "from **, and how often");
		p->at++;
		if ((tb_parser_at(p, "to") || tb_parser_at(p, "and")) &&
			(tb_parser_peek(p, 1)->kind == TB_TOKEN_STAR ||
				tb_parser_peek(p, 1)->kind == TB_TOKEN_STARS))
			p->at += 2;
		else if (between && tb_parser_peek(p, 0)->kind == kind)
			p->at++; /* "repeat between * * across" */
	} else if (closed) {
		/* "*a, b* 3 times" is three in all, like a bracket. */
		from_star = false;
	} else {
		return tb_parser_fail(p, "star-open", star, star,
			"Say how often, as in \"rep from * across\" or \"rep from * 4 times\".",
			"what begins at this * is never repeated");
	}
	return parse_until(p, repeat, from_star);
}

bool tb_parse_star(tb_parser *p, GArray *acts)
{
	unsigned star = p->at, mark = 0;
	tb_token_kind kind = tb_parser_peek(p, 0)->kind;
	tb_act repeat = {.kind = TB_ACT_REPEAT};
	g_autoptr(GArray) body = g_array_new(FALSE, FALSE, sizeof(tb_act));
	if (!tb_parser_enter(p, star))
		return false;
	p->at++;
	p->stars++;
	if (!tb_parse_acts(p, TB_SCOPE_STAR, body))
		return false;
	if (tb_parser_peek(p, 0)->kind == TB_TOKEN_STARS) {
		mark = body->len;
		p->at++;
		if (!tb_parse_acts(p, TB_SCOPE_STAR, body))
			return false;
	}
	p->stars--;
	p->depth--;
	unsigned until = p->at;
	if (!parse_rep_from(p, &repeat, star, kind) || !parse_ending(p, &repeat, mark, body))
		return false;
	if (body->len == 0)
		return tb_parser_fail(p, "repeat-empty", star, star,
			"Say what is repeated, or take it out.", "nothing stands in this repeat");
	if (repeat.until == TB_UNTIL_END && repeat.count.count == 0) {
		if (repeat.body_last == 0)
			return tb_parser_fail(p, "repeat-until", until, p->at - 1,
				"Say how often: across, 4 times, to end, to last 3 sts.",
				"this does not say how often");
		repeat.count = tb_number_make(p, 0, tb_parser_span(p, until));
	}
	if (repeat.body_last == body->len)
		repeat.body_last = 0;
	repeat.body = tb_acts_make(p, body);
	repeat.span = tb_parser_span(p, star);
	g_array_append_val(acts, repeat);
	return true;
}

/* What follows the closing bracket: a place makes a group, how often makes a repeat. */
static bool parse_behind_bracket(tb_parser *p, tb_act *act, unsigned open)
{
	if (tb_parser_at_place(p)) {
		act->kind = TB_ACT_GROUP;
		p->at++;
		return tb_parse_place(p, &act->place);
	}
	unsigned close = p->at - 1;
	tb_parser ahead = *p;
	tb_parser_accept_mark(&ahead, ',');
	if (tb_parser_accept(&ahead, "rep"))
		*p = ahead;
	act->kind = TB_ACT_REPEAT;
	if (!parse_until(p, act, false))
		return false;
	if (act->until == TB_UNTIL_TIMES || act->count.count > 0)
		return true;
	return tb_parser_fail(p, "bracket-unclear", open, close,
		"Say how often ([a, b] 4 times, across) or where ((2 dc, ch 2, 2 dc) in next ch-2 sp).",
		"what is to be done with this bracket is not said");
}

bool tb_parse_bracket(tb_parser *p, GArray *acts)
{
	unsigned open = p->at, stars = p->stars;
	gunichar close = tb_parser_closing(p, 0);
	tb_act act = {0};
	g_autoptr(GArray) body = g_array_new(FALSE, FALSE, sizeof(tb_act));
	if (!tb_parser_enter(p, open))
		return false;
	p->at++;
	p->stars = 0;
	if (!tb_parse_acts(p, TB_SCOPE_BRACKET, body))
		return false;
	p->stars = stars;
	p->depth--;
	if (tb_parser_at_end(p))
		return tb_parser_fail(
			p, "bracket-open", open, open,
			"Close it where the repeat or the group ends.", "this bracket is never closed");
	if (!tb_parser_accept_mark(p, close))
		return tb_parser_fail(p, "bracket-close", p->at, p->at,
			"Close the brackets in the order they were opened, the inner one first.",
			"another bracket must be closed first");
	if (body->len == 0)
		return tb_parser_fail(p, "repeat-empty", open, p->at - 1,
			"Say what is repeated, or take it out.", "nothing stands in this bracket");
	if (!parse_behind_bracket(p, &act, open))
		return false;
	act.body = tb_acts_make(p, body);
	act.span = tb_parser_span(p, open);
	g_array_append_val(acts, act);
	return true;
}
