/*
 * Around the end of the foundation chain: "working along other side of foundation ch", "rotate,
 * working in free loops on opposite side of chain", "continue along other side".
 */
#include "notation/parser.h"

#include <string.h>

/* No way of saying it is longer than this before "other side". */
#define MOST_WORDS 12

static bool is_one_of(const char *word, const char *const *words, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		if (strcmp(word, words[i]) == 0)
			return true;
	}
	return false;
}

/* The tokens up to "other side", that included; 0 when that is not said here. */
static unsigned at_side(const tb_parser *p)
{
	static const char *const first[] = {"work", "rotate", "rotating", "continue", "continuing",
		"cont", "turn", "now", "in", "across"};
	static const char *const more[] = {"work", "to", "and", "piece", "it", "so", "that", "back",
		"down", "below", "in", "across", "around", "over", "free", "unused", "rem", "loop", "of",
		"now", "continue", "continuing", "cont"};
	if (!is_one_of(tb_parser_peek(p, 0)->word, first, G_N_ELEMENTS(first)))
		return 0;
	for (unsigned i = 1; i < MOST_WORDS; i++) {
		const char *word = tb_parser_peek(p, i)->word;
		bool other = strcmp(word, "other") == 0 || strcmp(word, "opposite") == 0;
		if (other)
			return strcmp(tb_parser_peek(p, i + 1)->word, "side") == 0 ? i + 2 : 0;
		bool comma = tb_parser_at_mark(p, i, ',') && i == 1;
		if (!comma && !is_one_of(word, more, G_N_ELEMENTS(more)))
			return 0;
	}
	return 0;
}

bool tb_parse_other_side(tb_parser *p, GArray *acts)
{
	unsigned first = p->at, tokens = at_side(p);
	if (tokens == 0)
		return false;
	p->at += tokens;
	unsigned side = p->at;
	if (tb_parser_accept(p, "of")) {
		if (!tb_parser_accept(p, "foundation") && !tb_parser_accept(p, "base"))
			tb_parser_accept(p, "beg");
		/* "other side of next 3 sts" is something else */
		if (!tb_parser_accept(p, "ch") && !tb_parser_accept(p, "piece") &&
			!tb_parser_accept(p, "work")) {
			p->at = first;
			return false;
		}
	} else {
		p->at = side;
	}
	tb_act act = {.kind = TB_ACT_OTHER_SIDE, .span = tb_parser_span(p, first)};
	g_array_append_val(acts, act);
	return true;
}
