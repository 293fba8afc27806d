/*
 * "Sizes L (XL) only": sizes are named as the pattern names them, whatever characters they are of.
 */
#include "notation/parser.h"

#include <string.h>

/* The size whose name stands at the token now read, the longest that fits; its bytes in *LENGTH. */
static int find_size_here(const tb_parser *p, size_t *length)
{
	const char *text = p->text->chars + tb_parser_peek(p, 0)->start;
	int found = -1;
	*length = 0;
	for (unsigned i = 0; i < tb_pattern_count_sizes(p->pattern); i++) {
		const char *name = tb_pattern_get_size(p->pattern, i);
		size_t bytes = strlen(name);
		if (bytes <= *length || g_ascii_strncasecmp(text, name, bytes) != 0)
			continue;
		gunichar next = g_utf8_get_char(text + bytes);
		if (g_unichar_isalnum(next))
			continue;
		found = (int)i;
		*length = bytes;
	}
	return found;
}

static bool parse_size(tb_parser *p, tb_size_set *sizes)
{
	size_t length;
	int size = find_size_here(p, &length);
	if (size < 0) {
		const tb_token *token = tb_parser_peek(p, 0);
		g_autofree char *name = g_utf8_make_valid(
			p->text->chars + token->start, (gssize)MIN(token->end - token->start, 40));
		g_autofree char *names = g_strjoinv(", ", (char **)p->pattern->sizes->pdata);
		g_autofree char *hint = tb_pattern_count_sizes(p->pattern) > 1
									? g_strdup_printf("The sizes are %s.", names)
									: g_strdup("The pattern has one size; name its sizes first.");
		return tb_parser_fail(
			p, "size-unknown", p->at, p->at, hint, "there is no size called \"%s\"", name);
	}
	*sizes |= (tb_size_set)1 << size;
	size_t end = tb_parser_peek(p, 0)->start + length;
	while (tb_parser_peek(p, 0)->kind != TB_TOKEN_END && tb_parser_peek(p, 0)->start < end)
		p->at++;
	return true;
}

bool tb_parse_sizes(tb_parser *p, tb_size_set *sizes)
{
	unsigned brackets = 0;
	*sizes = 0;
	while (true) {
		if (!parse_size(p, sizes))
			return false;
		while (brackets > 0 && (tb_parser_accept_mark(p, ')') || tb_parser_accept_mark(p, ']')))
			brackets--;
		if (tb_parser_at(p, "only") || tb_parser_at_mark(p, 0, ':'))
			break;
		while (tb_parser_accept_mark(p, ',') || tb_parser_accept(p, "and") ||
			   tb_parser_accept_mark(p, ';'))
			;
		if (brackets < 2 && tb_parser_closing(p, 0) != 0) {
			brackets++;
			p->at++;
		}
	}
	if (brackets > 0)
		return tb_parser_fail_unknown(p, "the closing bracket");
	return tb_parser_accept(p, "only") || tb_parser_fail_unknown(p, "only, as in \"Size L only:\"");
}
