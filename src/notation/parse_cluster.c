/*
 * Clusters spelled out: "2 dc in next sc keeping last loop of each on hook, yo and draw through
 * all loops on hook". The older books have no shorter way to say it; here it becomes the cluster of
 * that many, or, where each leg has a stitch of its own, so many together.
 */
#include "notation/parser.h"

#include "stitches/stitch.h"

#include <string.h>

static bool accept_any(tb_parser *p, const char *const *phrases, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		if (tb_parser_accept(p, phrases[i]))
			return true;
	}
	return false;
}

/* "keeping last loop of each dc on hook". */
static bool accept_keeping(tb_parser *p)
{
	static const char *const verbs[] = {"keeping", "holding", "leaving", "leave", "retaining"};
	unsigned start = p->at, length;
	tb_parser_accept_mark(p, ',');
	bool said = accept_any(p, verbs, G_N_ELEMENTS(verbs));
	tb_parser_accept(p, "back");
	said = said && tb_parser_accept(p, "last loop");
	if (!said) {
		p->at = start;
		return false;
	}
	if (tb_parser_accept(p, "of")) {
		tb_parser_accept(p, "each");
		if (tb_parser_find_stitch(p, 0, &length) != NULL)
			p->at += length;
		tb_parser_accept(p, "st");
	}
	tb_parser_accept(p, "in");
	tb_parser_accept(p, "hook");
	return true;
}

/* ", yo and draw through all 3 loops on hook". */
static bool accept_closing(tb_parser *p)
{
	static const char *const over[] = {"yo", "yoh", "yrh", "yarn over hook", "yarn over",
		"thread over", "wool over hook", "yarn around hook", "yarn rnd hook"};
	static const char *const draw[] = {"draw yarn", "draw loop", "draw", "pull", "work off"};
	tb_parser_skip_separators(p);
	bool yarn = accept_any(p, over, G_N_ELEMENTS(over));
	tb_parser_skip_separators(p);
	bool drawn = accept_any(p, draw, G_N_ELEMENTS(draw));
	if (!yarn || !drawn || !tb_parser_accept(p, "through"))
		return false;
	tb_parser_accept(p, "total");
	if (tb_parser_at_number(p))
		p->at++;
	tb_parser_accept(p, "loop");
	if (tb_parser_accept(p, "in"))
		tb_parser_accept(p, "hook");
	return true;
}

/* What is closed together: NAME with %u legs of STITCH, or NULL. */
static const tb_stitch *find_closed(
	const tb_parser *p, const tb_stitch *stitch, unsigned legs, bool together)
{
	g_autofree char *name = together ? g_strdup_printf("%s%utog", stitch->us, legs)
									 : g_strdup_printf("%u-%s cl", legs, stitch->us);
	return tb_library_find(p->pattern->library, name);
}

bool tb_parse_cluster(tb_parser *p, tb_act *act, unsigned first)
{
	if (!accept_keeping(p))
		return true;
	if (!accept_closing(p))
		return tb_parser_fail_unknown(p, "yo and draw through all loops on hook");
	bool together = tb_number_is(&act->each, 1) && act->place.in == TB_IN_NEXT;
	const tb_number *legs = together ? &act->place.count : &act->each;
	const tb_stitch *closed = legs->count == 1 && legs->values[0] > 1
								  ? find_closed(p, act->stitch, (unsigned)legs->values[0], together)
								  : NULL;
	if (closed == NULL)
		return tb_parser_fail(p, "cluster-unknown", first, p->at - 1,
			"Describe it among the stitches of the pattern, with a name of its own.",
			"there is no stitch of these loops closed together");
	act->stitch = closed;
	act->each = (tb_number){1, tb_number_one, act->each.span};
	if (together)
		act->place.count = act->each;
	return true;
}
