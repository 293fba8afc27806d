/* Stitches worked: "3 dc", "dc in next 3 sts", "2 dc in each st across"; and chains. */
#include "notation/parser.h"

#include "stitches/stitch.h"

#include <string.h>

static const char expected_act[] =
	"a stitch such as dc, ch, sk, turn, a bracket, or * for a repeat";

static bool fail_hyphen(tb_parser *p, unsigned first)
{
	unsigned count = (unsigned)tb_parser_peek(p, 1)->value;
	g_autofree char *hint =
		g_strdup_printf("Write \"ch %u\" for chains to be made; ch-%u is there already.", count,
			count);
	return tb_parser_fail(p, "chain-hyphen", first, p->at + 1, hint,
		"with a hyphen this names a chain, and does not make one");
}

static bool parse_chain(tb_parser *p, GArray *acts, unsigned first, tb_number count)
{
	tb_act act = {.kind = TB_ACT_CHAIN, .count = count};
	int extra = 0;
	if (tb_parser_at_mark(p, 0, '-') && tb_parser_peek(p, 1)->kind == TB_TOKEN_NUMBER)
		return fail_hyphen(p, first);
	/* "a chain of 13" */
	if (count.count == 0 && tb_parser_at(p, "of") && tb_parser_peek(p, 1)->kind == TB_TOKEN_NUMBER)
		p->at++;
	if (count.count == 0 && tb_parser_at_number(p)) {
		if (!tb_parse_number(p, &act.count))
			return false;
	} else if (count.count == 0) {
		act.count = (tb_number){1, tb_number_one, tb_parser_span(p, first)};
	}
	tb_parser_accept(p, "st");
	act.span = tb_parser_span(p, first);
	if (!tb_parse_counts(p, &act, &extra))
		return false;
	if (extra > 0 && (act.count.count != 1 || act.count.values[0] <= extra))
		return tb_parser_fail(p, "counts-unclear", first, p->at - 1,
			"As in \"ch 5 (counts as dc, ch 2)\": 3 of the 5 are the dc.",
			"fewer chains are made than are counted here");
	if (extra > 0)
		act.count = tb_number_make(p, act.count.values[0] - extra, act.count.span);
	g_array_append_val(acts, act);
	if (extra > 0) {
		/* "ch 5 (counts as dc, ch 2)": the turning chain, and a space after it. */
		tb_act space = {.kind = TB_ACT_CHAIN, .span = act.span};
		space.count = tb_number_make(p, extra, act.count.span);
		g_array_append_val(acts, space);
	}
	return true;
}

/* A number behind the stitch: "dc 3", unless it begins something else ("dc2tog 3 times"). */
static bool at_count_behind(const tb_parser *p)
{
	if (!tb_parser_at_number(p))
		return false;
	tb_parser ahead = *p;
	double *values;
	unsigned count;
	/* A bracket with the wrong number of figures is told when the number is read in earnest. */
	g_autoptr(tb_diagnostics) unheard = tb_diagnostics_create(NULL);
	ahead.diagnostics = unheard;
	if (!tb_parse_figures(&ahead, &values, &count))
		return true;
	const tb_token *next = tb_parser_peek(&ahead, 0);
	return next->kind != TB_TOKEN_WORD || tb_parser_at_place(&ahead) ||
		   tb_parser_at(&ahead, "and") || tb_parser_at(&ahead, "then") ||
		   tb_parser_at(&ahead, "turn") || tb_parser_at(&ahead, "rep") ||
		   tb_parser_at(&ahead, "blo") || tb_parser_at(&ahead, "flo");
}

/* Stitches that draw several together: "over next 2 sts" names what one of them takes. */
static bool check_taken(tb_parser *p, const tb_stitch *stitch, tb_place *place, unsigned first)
{
	bool counted =
		place->in == TB_IN_NEXT || place->in == TB_IN_LAST || place->in == TB_IN_FIRST;
	if (stitch->takes < 2 || !counted)
		return true;
	for (unsigned i = 0; i < place->count.count; i++) {
		int value = place->count.values[i];
		if (value <= 0 || value == (int)stitch->takes)
			continue;
		const char *term = p->pattern->uk_terms ? stitch->uk : stitch->us;
		g_autofree char *hint = g_strdup_printf(
			"Name as many as are drawn together, or say [%s over next %u sts] 3 times.", term,
			stitch->takes);
		return tb_parser_fail(p, "together-count", first, p->at - 1, hint,
			"%s takes %u stitches, and %d are named", term, stitch->takes, value);
	}
	place->count = (tb_number){1, tb_number_one, place->count.span};
	return true;
}

static bool check_around(
	tb_parser *p, const tb_stitch *stitch, tb_place *place, bool around, unsigned first)
{
	bool is_stitch = place->target == TB_TARGET_STITCH || place->target == TB_TARGET_NAMED;
	place->around = stitch->post != TB_POST_NONE;
	if (around && is_stitch && !place->around && place->in != TB_IN_RING)
		return tb_parser_fail(p, "around-no-post", first, p->at - 1,
			"Write FPdc or BPdc for a post stitch, or \"in\" for the top of a stitch.",
			"%s is not worked around a post", p->pattern->uk_terms ? stitch->uk : stitch->us);
	return true;
}

/* "3 dc in next 3 sts": one in each, or three in each? */
static bool check_each(tb_parser *p, const tb_act *act, unsigned place, bool of_each)
{
	if (tb_number_is(&act->each, 1) || of_each || act->place.in == TB_IN_EACH)
		return true;
	bool counted =
		act->place.in == TB_IN_NEXT || act->place.in == TB_IN_LAST || act->place.in == TB_IN_FIRST;
	if (!counted || act->place.middle || act->stitch->takes > 1 ||
		tb_number_is(&act->place.count, 1))
		return true;
	return tb_parser_fail(p, "each-unclear", place, p->at - 1,
		"Write \"dc in next 3 sts\" for one in each, or \"2 dc in each of next 3 sts\".",
		"this can mean one stitch in each, or all of them in each");
}

/* "FPtr2tog around next 2 sts": one stitch, a leg around each; "each of next 2" are two. */
static void take_posts(tb_act *act, bool of_each)
{
	tb_place *place = &act->place;
	unsigned legs = act->stitch->legs;
	if (act->stitch->post == TB_POST_NONE || legs < 2 || act->stitch->takes != 1 || of_each ||
		place->in != TB_IN_NEXT || place->middle || !tb_number_is(&place->count, (int)legs))
		return;
	place->posts = legs;
	place->count = (tb_number){1, tb_number_one, place->count.span};
}

/* One place after the stitch; NUMBER is the figure before the stitch, if any. */
static bool parse_place_of(tb_parser *p, tb_act *act)
{
	unsigned first = p->at;
	bool around = tb_parser_accept(p, "around") || tb_parser_accept(p, "rnd");
	if (!around && !tb_parser_accept(p, "over") && !tb_parser_accept(p, "through"))
		tb_parser_accept(p, "in");
	bool of_each = tb_parser_at(p, "each of") > 0;
	tb_loops loops = act->place.loops;
	if (!tb_parse_place(p, &act->place))
		return false;
	if (act->place.loops == p->loops)
		act->place.loops = loops;
	take_posts(act, of_each);
	if (!check_around(p, act->stitch, &act->place, around, first) ||
		!check_taken(p, act->stitch, &act->place, first))
		return false;
	return check_each(p, act, first, of_each);
}

/* "and in each ch across": the same stitch in one place more. */
static bool at_and_place(const tb_parser *p, unsigned *tokens)
{
	tb_parser ahead = *p;
	*tokens = 0;
	tb_parser_accept_mark(&ahead, ',');
	if (!tb_parser_accept(&ahead, "and"))
		return false;
	*tokens = ahead.at - p->at;
	return tb_parser_at_place(&ahead) || tb_parser_at(&ahead, "each") ||
		   tb_parser_at(&ahead, "next") || tb_parser_at(&ahead, "last") ||
		   tb_parser_at(&ahead, "first");
}

/* Without a place: in the next ones, as many as there are stitches; or all across. */
static bool parse_no_place(tb_parser *p, tb_act *act)
{
	tb_loops loops = act->place.loops;
	act->place = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .loops = loops, .span = act->span};
	act->place.around = act->stitch->post != TB_POST_NONE;
	act->place.count = act->each;
	act->each = (tb_number){1, tb_number_one, act->each.span};
	bool read = false;
	bool across = tb_parser_accept(p, "across") || tb_parser_accept(p, "around");
	tb_number left;
	if (!tb_parse_to_last(p, &left, NULL, &read))
		return false;
	if (across || read) {
		act->each = act->place.count;
		act->place.in = TB_IN_EACH;
		act->place.count = read ? left : tb_number_make(p, 0, act->span);
	}
	return true;
}

/* What a slip stitch joins: "to join", "to form ring". */
static void parse_purpose(tb_parser *p, tb_act *act, bool is_place)
{
	if (act->stitch != p->slip)
		return;
	unsigned start = p->at;
	bool to = tb_parser_accept(p, "to") || tb_parser_accept(p, "and");
	if (tb_parser_accept(p, "form ring") || (to && tb_parser_accept(p, "join ring")))
		act->kind = TB_ACT_RING;
	else if (to && tb_parser_accept(p, "join"))
		act->kind = TB_ACT_JOIN;
	else
		p->at = start;
	/* A round is joined to its first stitch, where nothing else is said. */
	if (act->kind == TB_ACT_JOIN && !is_place)
		act->place.in = TB_IN_FIRST;
}

/* "sl st to first dc": a slip stitch is worked to a place as well as in it. */
static bool accept_slip_to(tb_parser *p, const tb_stitch *stitch)
{
	if (stitch != p->slip || !tb_parser_at(p, "to") || tb_parser_at(p, "to last") ||
		tb_parser_at(p, "to end") || tb_parser_at(p, "to join") || tb_parser_at(p, "to form"))
		return false;
	p->at++;
	return true;
}

/* "sl st to next ch-2 sp": along every stitch up to there, and then into it. */
static void add_way_to(tb_parser *p, GArray *acts, const tb_act *act)
{
	if (act->place.in != TB_IN_NEXT || act->place.target != TB_TARGET_SPACE)
		return;
	tb_place *end = tb_arena_new(p->arena, tb_place);
	*end = act->place;
	tb_act way = *act;
	way.place = (tb_place){.in = TB_IN_EACH, .rows_below = 1, .span = act->place.span};
	way.place.count = tb_number_make(p, 0, act->place.span);
	way.place.up_to = end;
	g_array_append_val(acts, way);
}

static bool parse_stitch(tb_parser *p, GArray *acts, unsigned first, tb_act act)
{
	int extra;
	if (tb_number_is(&act.each, 1) && at_count_behind(p) && !tb_parse_number(p, &act.each))
		return false;
	act.span = tb_parser_span(p, first);
	/* "sc in BLO of next st", "sc BLO in next st", "sc-BLO in next st" */
	if (tb_parser_at_mark(p, 0, '-') && tb_parser_peek(p, 0)->glued &&
		(strcmp(tb_parser_peek(p, 1)->word, "blo") == 0 ||
			strcmp(tb_parser_peek(p, 1)->word, "flo") == 0))
		p->at++;
	bool of = tb_parse_loops(p, &act.place.loops) && tb_parser_accept(p, "of");
	bool to = accept_slip_to(p, act.stitch);
	bool is_place = to || of || tb_parser_at_place(p);
	if (is_place ? !parse_place_of(p, &act) : !parse_no_place(p, &act))
		return false;
	if (!tb_parse_cluster(p, &act, first))
		return false;
	act.span = tb_parser_span(p, first);
	parse_purpose(p, &act, is_place);
	if (to && act.kind == TB_ACT_WORK)
		add_way_to(p, acts, &act);
	/* "sc in next 37 ch along opposite side of chain" */
	tb_parse_other_side(p, acts);
	/* "(3 skipped ch count as dc)" after the first stitch of a foundation row. */
	if (act.place.in == TB_IN_NTH_CHAIN && !tb_parse_counts(p, &act, &extra))
		return false;
	g_array_append_val(acts, act);
	unsigned tokens;
	while (is_place && at_and_place(p, &tokens)) {
		unsigned before = p->at, start = p->at + tokens;
		p->at = start;
		tb_act more = act;
		more.counts = TB_COUNTS_UNSAID;
		if (!parse_place_of(p, &more))
			return false;
		/* "dc in next st and in next st work 2 tr": the place belongs to what comes after. */
		if (tb_parser_at(p, "work")) {
			p->at = before;
			return true;
		}
		if (act.place.in == TB_IN_EACH && more.place.in == TB_IN_EACH && act.place.up_to == NULL)
			return tb_parser_fail(p, "each-and-each", first, p->at - 1,
				"Say how far it goes once, at the end: \"in each sc and in each ch-1 sp across\".",
				"after the row's end nothing is left to work into");
		more.span = tb_parser_span(p, start);
		parse_purpose(p, &more, true);
		g_array_append_val(acts, more);
	}
	return true;
}

bool tb_parse_work(tb_parser *p, GArray *acts)
{
	unsigned first = p->at, length;
	tb_act act = {.kind = TB_ACT_WORK, .place = {.loops = p->loops}};
	tb_number number = {0};
	tb_parse_loops(p, &act.place.loops);
	act.stitch = tb_parser_find_stitch(p, 0, &length);
	if (act.stitch == NULL && tb_parser_at_number(p)) {
		if (!tb_parse_number(p, &number))
			return false;
		act.stitch = tb_parser_find_stitch(p, 0, &length);
	}
	if (act.stitch == NULL)
		return tb_parser_fail_unknown(p, expected_act);
	p->at += length;
	if (act.stitch == p->chain)
		return parse_chain(p, acts, first, number);
	act.each = number.count > 0 ? number : (tb_number){1, tb_number_one, tb_parser_span(p, first)};
	return parse_stitch(p, acts, first, act);
}
