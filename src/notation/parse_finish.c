/* What is not a stitch: skips, turns, joins, leaving off. */
#include "notation/parser.h"

#include "stitches/stitch.h"

#include <string.h>

static tb_place first_stitch(tb_parser *p, unsigned first)
{
	tb_place place = {.in = TB_IN_FIRST, .rows_below = 1};
	place.span = tb_parser_span(p, first);
	place.count = (tb_number){1, tb_number_one, place.span};
	return place;
}

static bool add(tb_parser *p, GArray *acts, unsigned first, tb_act act)
{
	act.span = tb_parser_span(p, first);
	g_array_append_val(acts, act);
	return true;
}

static bool add_kind(tb_parser *p, GArray *acts, unsigned first, tb_act_kind kind)
{
	return add(p, acts, first, (tb_act){.kind = kind});
}

/* "st behind", "st behind FPdc": the stitch that a post stitch hides. */
static bool accept_behind(tb_parser *p)
{
	unsigned start = p->at;
	tb_parser_accept(p, "next");
	if (!tb_parser_accept(p, "st behind")) {
		p->at = start;
		return false;
	}
	unsigned length;
	tb_parser_accept(p, "this");
	if (tb_parser_find_stitch(p, 0, &length) != NULL)
		p->at += length;
	else
		tb_parser_accept(p, "post");
	tb_parser_accept(p, "st");
	tb_parser_accept(p, "just made");
	return true;
}

/* "and ch-1 sp", "and next tr": one more place to skip; not "and dc in next st". */
static bool at_skip_more(const tb_parser *p)
{
	tb_parser ahead = *p;
	tb_place place;
	if (!tb_parser_accept(&ahead, "and"))
		return false;
	tb_parser_accept(&ahead, "next");
	tb_parser_accept(&ahead, "following");
	if (tb_parser_at_number(&ahead) && ahead.at == p->at + 2)
		ahead.at++;
	return tb_parse_noun(&ahead, &place) && !tb_parser_at_place(&ahead);
}

static bool parse_skip(tb_parser *p, GArray *acts, unsigned first)
{
	if (accept_behind(p))
		return add_kind(p, acts, first, TB_ACT_SKIP_BEHIND);
	tb_act act = {.kind = TB_ACT_SKIP};
	unsigned start = p->at;
	if (tb_parser_at(p, "each") || tb_parser_at(p, "in") || tb_parser_at(p, "same"))
		return tb_parser_fail_unknown(p, "1, next 2 sts, first st, st behind");
	if (!tb_parse_place(p, &act.place))
		return false;
	if (act.place.target == TB_TARGET_TURNING_CHAIN)
		act.place.span = tb_parser_span(p, start);
	if (act.place.in == TB_IN_LAST || act.place.in == TB_IN_NEXT)
		p->skipped = act.place.count;
	add(p, acts, first, act);
	while (at_skip_more(p)) {
		unsigned more = ++p->at;
		if (!tb_parse_place(p, &act.place))
			return false;
		add(p, acts, more, act);
	}
	return true;
}

static bool parse_do_not(tb_parser *p, GArray *acts, unsigned first)
{
	if (tb_parser_accept(p, "join"))
		return add_kind(p, acts, first, TB_ACT_DO_NOT_JOIN);
	/* In rounds: the work is not turned, which is what having no turn says. */
	if (tb_parser_accept(p, "turn"))
		return true;
	if (!tb_parser_accept(p, "sk") || !accept_behind(p))
		return tb_parser_fail_unknown(p, "do not join, do not turn, do not sk st behind");
	tb_act *last = acts->len > 0 ? &g_array_index(acts, tb_act, acts->len - 1) : NULL;
	if (last == NULL || last->kind != TB_ACT_WORK || last->stitch->post == TB_POST_NONE)
		return tb_parser_fail(p, "behind-no-post", first, p->at - 1,
			"It follows the post stitch it is about.", "no post stitch stands before this");
	last->do_not_skip_behind = true;
	return true;
}

static bool parse_leave(tb_parser *p, GArray *acts, unsigned first)
{
	tb_act act = {.kind = TB_ACT_LEAVE};
	tb_place place = {0};
	if (tb_parser_at(p, "next")) {
		/* wherever it stands, these are passed by and no others */
		act.kind = TB_ACT_SKIP;
		return tb_parse_place(p, &act.place) &&
			   (tb_parser_accept(p, "unworked") || tb_parser_fail_unknown(p, "unworked")) &&
			   add(p, acts, first, act);
	}
	bool said = tb_parser_accept(p, "rem") || tb_parser_accept(p, "last");
	if (tb_parser_at_number(p) && !tb_parse_number(p, &act.count))
		return false;
	if (!said && act.count.count == 0)
		return tb_parser_fail_unknown(p, "rem sts unworked, last 3 sts unworked");
	tb_parse_noun(p, &place);
	if (!tb_parser_accept(p, "unworked"))
		return tb_parser_fail_unknown(p, "unworked");
	return add(p, acts, first, act);
}

/* "[with sl st] [in 5th st]" behind "join" and "join yarn". */
static bool parse_join_place(tb_parser *p, tb_act *act, unsigned first)
{
	unsigned length;
	if (tb_parser_accept(p, "with") || tb_parser_accept(p, "by")) {
		act->stitch = tb_parser_find_stitch(p, 0, &length);
		if (act->stitch == NULL)
			return tb_parser_fail_unknown(p, "sl st");
		p->at += length;
	}
	act->place = first_stitch(p, first);
	if (tb_parser_at(p, "to form") || tb_parser_at(p, "to join"))
		return true;
	if (!tb_parser_accept(p, "to") && !tb_parser_accept(p, "in"))
		return true;
	return tb_parse_place(p, &act->place);
}

static bool parse_join_yarn(tb_parser *p, GArray *acts, unsigned first)
{
	tb_act act = {.kind = TB_ACT_JOIN_YARN};
	tb_parser_accept(p, "new");
	tb_parser_accept(p, "yarn");
	return parse_join_place(p, &act, first) && add(p, acts, first, act);
}

static bool parse_join(tb_parser *p, GArray *acts, unsigned first)
{
	if (tb_parser_at(p, "yarn") || tb_parser_at(p, "new yarn"))
		return parse_join_yarn(p, acts, first);
	tb_act act = {.kind = TB_ACT_JOIN, .stitch = p->slip};
	if (!parse_join_place(p, &act, first))
		return false;
	unsigned before = p->at;
	bool to = tb_parser_accept(p, "to") || tb_parser_accept(p, "and");
	if (tb_parser_accept(p, "form ring") || (act.place.in == TB_IN_RING && !to))
		act.kind = TB_ACT_RING;
	else
		p->at = before;
	return add(p, acts, first, act);
}

/* "and weave in ends", ", leaving a long tail for sewing": after the yarn is cut. */
static void accept_ends(tb_parser *p)
{
	tb_parser ahead = *p;
	tb_parser_skip_separators(&ahead);
	bool ends = tb_parser_at(&ahead, "weave") > 0 || tb_parser_at(&ahead, "leave tail") > 0 ||
				tb_parser_at(&ahead, "leave length tail") > 0 || tb_parser_at(&ahead, "sew") > 0 ||
				tb_parser_at(&ahead, "darn") > 0;
	if (!ends)
		return;
	while (!tb_parser_at_mark(&ahead, 0, '.') && !tb_parser_at_end(&ahead))
		ahead.at++;
	p->at = ahead.at;
}

/* "working in front of sts just made", "working in BLO": how the next stitches are worked. */
static bool parse_working(tb_parser *p, GArray *acts, unsigned first)
{
	unsigned start = p->at;
	bool front = tb_parser_accept(p, "in front of");
	if (front || tb_parser_accept(p, "behind")) {
		unsigned length;
		tb_parser_accept(p, "this");
		tb_parser_accept(p, "last");
		if (tb_parser_at_number(p))
			p->at++;
		if (tb_parser_find_stitch(p, 0, &length) != NULL)
			p->at += length;
		tb_parser_accept(p, "st");
		tb_parser_accept(p, "just");
		tb_parser_accept(p, "made");
		return add_kind(p, acts, first, front ? TB_ACT_IN_FRONT : TB_ACT_BEHIND);
	}
	tb_loops loops;
	if (tb_parse_loops(p, &loops)) {
		tb_parser_accept(p, "throughout");
		/* "work in BLO of next st 2 dc" and its like are places, not a manner. */
		if (!tb_parser_at(p, "of") && !tb_parser_at(p, "in")) {
			p->loops = loops;
			return true;
		}
		p->at = start;
	}
	if (tb_parser_at(p, "work") || tb_parser_at(p, "use"))
		return tb_parser_fail_unknown(p, "what is worked, as in work 8 sc in ring");
	return tb_parse_act(p, acts);
}

static bool parse_only(tb_parser *p, GArray *acts, unsigned first)
{
	tb_act act = {.kind = TB_ACT_ONLY};
	if (!tb_parse_sizes(p, &act.sizes))
		return false;
	tb_parser_accept_mark(p, ':');
	tb_parser_accept_mark(p, ',');
	g_autoptr(GArray) body = g_array_new(FALSE, FALSE, sizeof(tb_act));
	if (!tb_parser_enter(p, first) || !tb_parse_acts(p, TB_SCOPE_ONLY, body))
		return false;
	p->depth--;
	act.body = tb_acts_make(p, body);
	return add(p, acts, first, act);
}

/* "in magic ring, ch 1, 6 sc": what follows goes there too, until something else is said. */
static bool parse_in_ring(tb_parser *p, GArray *body)
{
	while (tb_parser_at_mark(p, 0, ',') && !tb_parser_at(p, "join")) {
		tb_parser ahead = *p;
		unsigned length;
		ahead.at++;
		if (tb_parser_at_number(&ahead))
			ahead.at++;
		const tb_stitch *stitch = tb_parser_find_stitch(&ahead, 0, &length);
		if (stitch == NULL || stitch == p->slip)
			return true;
		p->at++;
		if (!tb_parse_work(p, body))
			return false;
	}
	return true;
}

/* "in next ch-2 sp work (2 dc, ch 2, 2 dc)": the place comes before what is worked there. */
static bool parse_place_first(tb_parser *p, GArray *acts, unsigned first)
{
	tb_act act = {.kind = TB_ACT_GROUP};
	p->at++;
	if (!tb_parse_place(p, &act.place))
		return false;
	tb_parser_accept_mark(p, ',');
	tb_parser_accept_mark(p, ':');
	tb_parser_accept(p, "work");
	g_autoptr(GArray) body = g_array_new(FALSE, FALSE, sizeof(tb_act));
	gunichar close = tb_parser_closing(p, 0);
	if (close != 0) {
		unsigned open = p->at++;
		unsigned stars = p->stars;
		p->stars = 0;
		if (!tb_parser_enter(p, open) || !tb_parse_acts(p, TB_SCOPE_BRACKET, body))
			return false;
		p->stars = stars;
		p->depth--;
		if (!tb_parser_accept_mark(p, close))
			return tb_parser_fail(p, "bracket-open", open, open, "Close it where the group ends.",
				"this bracket is never closed");
	} else if (!tb_parse_work(p, body)) {
		return false;
	} else if (act.place.in == TB_IN_RING && !parse_in_ring(p, body)) {
		return false;
	}
	if (body->len == 0)
		return tb_parser_fail_unknown(p, "what is worked there");
	act.body = tb_acts_make(p, body);
	return add(p, acts, first, act);
}

bool tb_parse_other(tb_parser *p, GArray *acts, bool *read)
{
	unsigned first = p->at;
	*read = true;
	if (tb_parse_other_side(p, acts))
		return true;
	if (!tb_parse_aside(p, acts, read))
		return false;
	if (*read)
		return true;
	*read = true;
	if (tb_parser_accept(p, "turn")) {
		/* "turn work" */
		if (tb_parser_at(p, "work") && tb_parser_peek(p, 1)->kind != TB_TOKEN_NUMBER &&
			tb_parser_peek(p, 1)->kind != TB_TOKEN_WORD)
			p->at++;
		return add_kind(p, acts, first, TB_ACT_TURN);
	}
	if (tb_parser_accept(p, "sk"))
		return parse_skip(p, acts, first);
	if (tb_parser_accept(p, "does not") || tb_parser_accept(p, "don't"))
		return parse_do_not(p, acts, first);
	if (tb_parser_accept(p, "fasten off") || tb_parser_accept(p, "finish off") ||
		tb_parser_accept(p, "end off") || tb_parser_accept(p, "cut yarn")) {
		add_kind(p, acts, first, TB_ACT_FASTEN_OFF);
		accept_ends(p);
		return true;
	}
	if (tb_parser_accept(p, "leave"))
		return parse_leave(p, acts, first);
	if (tb_parser_accept(p, "rejoin"))
		return parse_join_yarn(p, acts, first);
	if (tb_parser_accept(p, "join"))
		return parse_join(p, acts, first);
	if (tb_parser_accept(p, "magic ring") || tb_parser_accept(p, "work magic ring") ||
		tb_parser_accept(p, "beg with magic ring") || tb_parser_accept(p, "form magic ring"))
		return add_kind(p, acts, first, TB_ACT_RING);
	if (tb_parser_accept(p, "work") || tb_parser_accept(p, "use"))
		return parse_working(p, acts, first);
	if (tb_parser_accept(p, "size") || tb_parser_accept(p, "for size"))
		return parse_only(p, acts, first);
	if (tb_parser_at(p, "in") && !tb_parser_at(p, "in blo") && !tb_parser_at(p, "in flo") &&
		!tb_parser_at(p, "in back") && !tb_parser_at(p, "in front"))
		return parse_place_first(p, acts, first);
	if (tb_parser_accept(p, "with rs") || tb_parser_accept(p, "with right side") ||
		tb_parser_accept(p, "rs facing")) {
		p->side = TB_SIDE_RIGHT;
		tb_parser_accept(p, "facing");
		return true;
	}
	if (tb_parser_accept(p, "with ws") || tb_parser_accept(p, "with wrong side") ||
		tb_parser_accept(p, "ws facing")) {
		p->side = TB_SIDE_WRONG;
		tb_parser_accept(p, "facing");
		return true;
	}
	*read = false;
	return true;
}
