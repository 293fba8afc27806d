/*
 * Places: what follows "in", "around" or "over". Which stitches, how many of them, and of what
 * kind.
 */
#include "notation/parser.h"

#include "stitches/stitch.h"
#include "support/limits.h"

#include <string.h>

static const char expected_place[] =
	"next st, next 3 sts, each st across, last st, same st, top of tch, 4th ch from hook, "
	"next ch-2 sp, st 2 rows below";

static const char *word_at(const tb_parser *p, unsigned ahead)
{
	return tb_parser_peek(p, ahead)->word;
}

bool tb_parse_below(tb_parser *p, tb_place *place)
{
	unsigned start = p->at;
	bool of = tb_parser_accept(p, "of") || tb_parser_accept(p, "from") || tb_parser_accept(p, "in");
	if (of && tb_parser_accept(p, "prev"))
		return tb_parser_accept(p, "row") || tb_parser_accept(p, "rnd") ||
			   tb_parser_fail_unknown(p, "row, round");
	if (of && (tb_parser_accept(p, "row below") || tb_parser_accept(p, "rnd below")))
		return true;
	if (tb_parser_accept(p, "below"))
		return true;
	const tb_token *number = tb_parser_peek(p, 0);
	bool rows = strcmp(word_at(p, 1), "row") == 0 || strcmp(word_at(p, 1), "rnd") == 0;
	if (number->kind == TB_TOKEN_NUMBER && rows && strcmp(word_at(p, 2), "below") == 0) {
		if (number->value < 1 || number->value > TB_LIMIT_ROWS_BELOW)
			return tb_parser_fail(p, "rows-below", p->at, p->at,
				"As in \"2 rows below\"; the row just worked on is 1 row below.",
				"a post can be reached 1 to %d rows below", TB_LIMIT_ROWS_BELOW);
		place->rows_below = (unsigned)number->value;
		p->at += 3;
		return true;
	}
	p->at = start;
	return true;
}

bool tb_parse_loops(tb_parser *p, tb_loops *loops)
{
	unsigned start = p->at;
	bool before = tb_parser_accept(p, "in") || tb_parser_accept(p, "through");
	bool found = true;
	if (tb_parser_accept(p, "blo") || tb_parser_accept(p, "tbl"))
		*loops = TB_LOOPS_BACK;
	else if (tb_parser_accept(p, "flo") || tb_parser_accept(p, "tfl"))
		*loops = TB_LOOPS_FRONT;
	else if (tb_parser_accept(p, "back loop"))
		*loops = TB_LOOPS_BACK;
	else if (tb_parser_accept(p, "front loop"))
		*loops = TB_LOOPS_FRONT;
	else if (before && tb_parser_accept(p, "both loop"))
		*loops = TB_LOOPS_BOTH;
	else
		found = false;
	if (!found)
		p->at = start;
	else
		tb_parser_accept(p, "only");
	return found;
}

bool tb_parser_at_place(const tb_parser *p)
{
	if (tb_parser_at(p, "in") || tb_parser_at(p, "over") || tb_parser_at(p, "through") ||
		tb_parser_at(p, "between"))
		return true;
	/* "round next st" is how UK patterns say around. */
	if (!tb_parser_at(p, "around") && !tb_parser_at(p, "rnd"))
		return false;
	/* "around" alone is to the round's end. */
	const tb_token *next = tb_parser_peek(p, 1);
	unsigned length;
	return (next->kind == TB_TOKEN_WORD && strcmp(next->word, "and") != 0 &&
			   strcmp(next->word, "then") != 0 && strcmp(next->word, "join") != 0 &&
			   strcmp(next->word, "to") != 0 && strcmp(next->word, "end") != 0 &&
			   strcmp(next->word, "turn") != 0 &&
			   (next->known || tb_parser_find_stitch(p, 1, &length) != NULL)) ||
		   next->kind == TB_TOKEN_ORDINAL || (next->kind == TB_TOKEN_NUMBER);
}

static bool fail_noun(tb_parser *p)
{
	return tb_parser_fail_unknown(p, "st, ch, sp, ch-2 sp, or a stitch such as dc");
}

/* "next", "last", "first" have been read: "[3] [sts]". */
static bool parse_counted(tb_parser *p, tb_place *place)
{
	bool numbered = tb_parser_at_number(p) && tb_parser_at_counted_space(p) == 0;
	if (numbered && !tb_parse_number(p, &place->count))
		return false;
	if (tb_parser_accept(p, "skipped"))
		place->in = TB_IN_SKIPPED;
	/* "in next 3", the stitches left unsaid. */
	return tb_parse_noun(p, place) || numbered || fail_noun(p);
}

static tb_place *copy_place(tb_parser *p, tb_place place)
{
	tb_place *copy = tb_arena_new(p->arena, tb_place);
	*copy = place;
	copy->rows_below = 1;
	return copy;
}

/* "to next ch-2 sp", "to corner": the place where "each st" ends, when one stands here. */
static bool parse_up_to(tb_parser *p, tb_place *place)
{
	tb_parser ahead = *p;
	tb_place end = {.in = TB_IN_NEXT, .count = {1, tb_number_one, {0, 0}}};
	if (!tb_parser_accept(&ahead, "to"))
		return true;
	tb_parser_accept(&ahead, "next");
	if (!tb_parse_noun(&ahead, &end) || end.target == TB_TARGET_STITCH)
		return true;
	p->at = ahead.at;
	place->up_to = copy_place(p, end);
	return true;
}

/* "and [in] [each] ch-1 sp": a second kind of place that is worked as it comes. */
static bool parse_also(tb_parser *p, tb_place *place)
{
	tb_parser ahead = *p;
	tb_place also = {.in = TB_IN_EACH, .count = place->count};
	if (!tb_parser_accept(&ahead, "and"))
		return true;
	tb_parser_accept(&ahead, "in");
	tb_parser_accept(&ahead, "each");
	if (!tb_parse_noun(&ahead, &also) || also.target == TB_TARGET_CHAIN ||
		tb_parser_at_place(&ahead))
		return true;
	p->at = ahead.at;
	place->also = copy_place(p, also);
	return true;
}

/* How far "each st" goes: "across", "to last 2 sts", or nothing, which is to the end. */
static bool parse_reach(tb_parser *p, tb_place *place)
{
	bool read;
	tb_number left;
	if (!tb_parser_accept(p, "across"))
		tb_parser_accept(p, "around");
	tb_parser_accept(p, "row");
	tb_parser_accept(p, "rnd");
	if (!tb_parse_to_last(p, &left, NULL, &read))
		return false;
	if (read)
		place->count = left;
	return read || parse_up_to(p, place);
}

static bool parse_each(tb_parser *p, tb_place *place)
{
	if (tb_parser_accept(p, "of")) {
		if (tb_parser_accept(p, "last"))
			place->in = TB_IN_LAST;
		else if (tb_parser_accept(p, "first"))
			place->in = TB_IN_FIRST;
		else if (!tb_parser_accept(p, "rem"))
			tb_parser_accept(p, "next");
		if (!tb_parser_at_number(p))
			return tb_parser_fail_unknown(p, "a number, as in \"each of next 3 sts\"");
		return parse_counted(p, place);
	}
	place->in = TB_IN_EACH;
	place->count = tb_number_make(p, 0, tb_text_span(p->text, 0, 0));
	tb_parser_accept(p, "rem");
	if (tb_parser_accept(p, "skipped")) {
		place->in = TB_IN_SKIPPED;
		place->count = p->skipped;
		return tb_parse_noun(p, place) || fail_noun(p);
	}
	if (!tb_parse_noun(p, place))
		return fail_noun(p);
	/* "each st and ch": a chain counts as a stitch here. */
	unsigned length;
	if (tb_parser_at(p, "and ch") && !tb_parser_at_mark(p, 2, '-') &&
		!tb_parser_is_space_word(word_at(p, 2)) && tb_parser_find_stitch(p, 2, &length) == NULL &&
		tb_parser_peek(p, 2)->kind != TB_TOKEN_NUMBER) {
		p->at += 2;
		place->target = TB_TARGET_STITCH;
		place->named = NULL;
	}
	return tb_parse_below(p, place) && parse_also(p, place) && parse_reach(p, place);
}

/* "4th ch from hook", "5th st". */
static bool parse_nth(tb_parser *p, tb_place *place)
{
	const tb_token *token = tb_parser_peek(p, 0);
	place->in = token->value == 1 ? TB_IN_FIRST : TB_IN_NTH_STITCH;
	if (token->value < 1 || token->value > 1e6)
		return tb_parser_fail(p, "number-too-large", p->at, p->at,
			"A row ends at 100,000 stitches.", "there is no such stitch");
	p->at++;
	place->count =
		tb_number_make(p, (int)token->value, tb_text_span(p->text, token->start, token->end));
	if (!tb_parse_noun(p, place))
		return fail_noun(p);
	if (tb_parser_accept(p, "from hook")) {
		place->in = TB_IN_NTH_CHAIN;
		place->target = TB_TARGET_CHAIN;
	} else if (place->in == TB_IN_FIRST) {
		place->count.values = tb_number_one;
	}
	return true;
}

/* "same st as joining": what it is the same as is the stitch before, however it is called. */
static bool parse_same(tb_parser *p, tb_place *place)
{
	place->in = TB_IN_SAME;
	if (!tb_parser_accept(p, "place") && !tb_parse_noun(p, place))
		return fail_noun(p);
	if (!tb_parser_accept(p, "as"))
		return true;
	unsigned length;
	tb_parser_accept(p, "last");
	tb_parser_accept(p, "prev");
	if (tb_parser_accept(p, "join") || tb_parser_accept(p, "st"))
		return true;
	if (tb_parser_find_stitch(p, 0, &length) == NULL)
		return tb_parser_fail_unknown(p, "joining, last st");
	p->at += length;
	tb_parser_accept(p, "join");
	tb_parser_accept(p, "st");
	return true;
}

/* "middle dc of 3 below": the place is the next three, and their middle is worked. */
static bool parse_middle(tb_parser *p, tb_place *place)
{
	place->middle = true;
	if (!tb_parse_noun(p, place))
		return fail_noun(p);
	if (!tb_parser_accept(p, "of") || (tb_parser_accept(p, "next"), !tb_parser_at_number(p)))
		return tb_parser_fail_unknown(p, "\"of 3\": how many it is the middle of");
	unsigned number = p->at;
	if (!tb_parse_number(p, &place->count))
		return false;
	for (unsigned i = 0; i < place->count.count; i++) {
		if (place->count.values[i] > 0 && place->count.values[i] % 2 == 0)
			return tb_parser_fail(p, "middle-even", number, number,
				"Name an odd number, as in \"middle dc of 3 below\", or say which one it is.",
				"an even number of stitches has no middle one");
	}
	tb_place of = {0};
	if (tb_parse_noun(p, &of) && of.target != place->target && place->target == TB_TARGET_STITCH) {
		place->target = of.target;
		place->named = of.named;
	}
	return true;
}

/* "between next 2 groups", "next 2 3-dc groups": what a group is, the row below does not show. */
static bool at_groups(const tb_parser *p, unsigned *tokens)
{
	for (unsigned i = 0; i < 6; i++) {
		const tb_token *token = tb_parser_peek(p, i);
		if (strcmp(token->word, "groups") == 0 || strcmp(token->word, "group") == 0 ||
			strcmp(token->word, "clusters") == 0 || strcmp(token->word, "shells") == 0) {
			*tokens = i + 1;
			return true;
		}
		bool counts = token->kind == TB_TOKEN_NUMBER || token->kind == TB_TOKEN_WORD ||
					  tb_parser_at_mark(p, i, '-');
		if (!counts || strcmp(token->word, "and") == 0)
			return false;
	}
	return false;
}

static bool parse_between(tb_parser *p, tb_place *place)
{
	unsigned tokens, first = p->at > 0 ? p->at - 1 : 0;
	place->in = TB_IN_BETWEEN;
	if (at_groups(p, &tokens))
		return tb_parser_fail(p, "between-groups", first, p->at + tokens - 1,
			"Say how many stitches come before it: sk next 2 sts, 3 dc in sp between next 2 sts.",
			"where one group ends is not known here");
	if (!tb_parser_accept(p, "next"))
		tb_parser_accept(p, "first");
	if (tb_parser_at_number(p)) {
		unsigned number = p->at;
		tb_number two;
		if (!tb_parse_number(p, &two))
			return false;
		if (!tb_number_is(&two, 2))
			return tb_parser_fail(p, "between-two", number, p->at - 1,
				"Write \"in sp between next 2 sts\".", "a gap lies between two stitches");
	}
	return tb_parse_noun(p, place) || fail_noun(p);
}

/* "st 47 (51, 55)": the stitch of that number, not "st 2 rows below" and not "st 3 times". */
static bool at_numbered_stitch(const tb_parser *p)
{
	if (!tb_parser_at(p, "st") || tb_parser_peek(p, 1)->kind != TB_TOKEN_NUMBER)
		return false;
	const char *behind = word_at(p, 2);
	unsigned length;
	return strcmp(behind, "row") != 0 && strcmp(behind, "rnd") != 0 &&
		   strcmp(behind, "times") != 0 && strcmp(behind, "more") != 0 &&
		   tb_parser_find_stitch(p, 2, &length) == NULL;
}

static bool parse_which(tb_parser *p, tb_place *place)
{
	if (tb_parse_turning_chain(p)) {
		place->target = TB_TARGET_TURNING_CHAIN;
		return true;
	}
	tb_parser_accept(p, "top of");
	while (tb_parser_accept(p, "post of"))
		;
	if (tb_parser_accept(p, "middle of ring") || tb_parser_accept(p, "magic ring") ||
		tb_parser_accept(p, "ring")) {
		place->in = TB_IN_RING;
		return true;
	}
	if (tb_parser_accept(p, "sp between") || tb_parser_accept(p, "between"))
		return parse_between(p, place);
	if (tb_parser_accept(p, "each"))
		return parse_each(p, place);
	if (tb_parser_at(p, "rem")) {
		p->at++;
		/* "rem 14 sts" are the next ones, and no more should be there */
		if (tb_parser_at_number(p))
			return parse_counted(p, place);
		place->in = TB_IN_EACH;
		place->count = tb_number_make(p, 0, tb_text_span(p->text, 0, 0));
		return (tb_parse_noun(p, place) || fail_noun(p)) && parse_reach(p, place);
	}
	if (tb_parser_accept(p, "same"))
		return parse_same(p, place);
	if (tb_parser_accept(p, "middle"))
		return parse_middle(p, place);
	if (tb_parser_peek(p, 0)->kind == TB_TOKEN_ORDINAL)
		return parse_nth(p, place);
	if (tb_parser_accept(p, "across") || tb_parser_at(p, "to last") || tb_parser_at(p, "to end")) {
		place->in = TB_IN_EACH;
		place->count = tb_number_make(p, 0, tb_text_span(p->text, 0, 0));
		return parse_reach(p, place);
	}
	if (tb_parser_accept(p, "next sp between"))
		return parse_between(p, place);
	if (tb_parser_accept(p, "next"))
		return parse_counted(p, place);
	if (tb_parser_accept(p, "last")) {
		place->in = TB_IN_LAST;
		return parse_counted(p, place);
	}
	if (tb_parser_accept(p, "first")) {
		place->in = TB_IN_FIRST;
		return parse_counted(p, place);
	}
	if (tb_parser_accept(p, "skipped")) {
		place->in = TB_IN_SKIPPED;
		place->count = p->skipped;
		return tb_parse_noun(p, place) || fail_noun(p);
	}
	if (tb_parser_at_number(p))
		return parse_counted(p, place);
	if (at_numbered_stitch(p)) {
		p->at++;
		place->in = TB_IN_NTH_STITCH;
		return tb_parse_number(p, &place->count);
	}
	return tb_parse_noun(p, place) || tb_parser_fail_unknown(p, expected_place);
}

bool tb_parse_place(tb_parser *p, tb_place *place)
{
	unsigned first = p->at;
	*place = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .loops = p->loops};
	place->count = (tb_number){1, tb_number_one, tb_parser_span(p, first)};
	if (tb_parse_loops(p, &place->loops) && !tb_parser_accept(p, "of")) {
		/* "in BLO across", "in BLO": the stitches come after, or are the next one. */
		bool more = tb_parser_accept(p, "in") || tb_parser_at(p, "across") ||
					tb_parser_at(p, "to last") || tb_parser_at(p, "to end") ||
					tb_parser_at(p, "next") || tb_parser_at(p, "each");
		if (!more) {
			place->span = tb_parser_span(p, first);
			return true;
		}
	}
	if (!parse_which(p, place) || !tb_parse_below(p, place))
		return false;
	place->span = tb_parser_span(p, first);
	tb_parse_loops(p, &place->loops);
	return true;
}
