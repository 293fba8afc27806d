/*
 * Rows whose text is written once and worked again further on: "Rows 4 and 6: …", "Row 2 and all
 * even-numbered rows: …". A copy stands where the number comes up.
 */
#include "notation/parser.h"

#include "support/limits.h"

#include <string.h>

static bool is_number(const tb_parser *p, unsigned ahead)
{
	return tb_parser_peek(p, ahead)->kind == TB_TOKEN_NUMBER;
}

/* "4, 6 and 8" where the numbers leave some out; how many tokens, or 0. */
static unsigned at_list(const tb_parser *p)
{
	unsigned at = 1;
	bool apart = false;
	double last = tb_parser_peek(p, 0)->value;
	if (!is_number(p, 0))
		return 0;
	while (true) {
		unsigned next = at;
		next += tb_parser_at_mark(p, next, ',');
		next += strcmp(tb_parser_peek(p, next)->word, "and") == 0;
		if (next == at || !is_number(p, next))
			return apart ? at : 0;
		double value = tb_parser_peek(p, next)->value;
		if (value <= last || tb_parser_at_mark(p, next + 1, '-'))
			return 0;
		apart = apart || value != last + 1;
		last = value;
		at = next + 1;
	}
}

/* "and all even-numbered rows", "and every WS row". */
static bool accept_every(tb_parser *p)
{
	static const char *const which[] = {
		"even", "odd", "alternate", "alt", "ws", "rs", "other", "even numbered", "odd numbered"};
	tb_parser ahead = *p;
	if (!tb_parser_accept(&ahead, "and"))
		return false;
	if (!tb_parser_accept(&ahead, "total") && !tb_parser_accept(&ahead, "each"))
		return false;
	tb_parser_accept(&ahead, "following");
	bool said = false;
	for (size_t i = 0; i < G_N_ELEMENTS(which) && !said; i++)
		said = tb_parser_accept(&ahead, which[i]);
	tb_parser_accept_mark(&ahead, '-');
	tb_parser_accept(&ahead, "numbered");
	tb_parser_accept(&ahead, "following");
	if (!said || (!tb_parser_accept(&ahead, "row") && !tb_parser_accept(&ahead, "rnd")))
		return false;
	p->at = ahead.at;
	return true;
}

void tb_parse_later(tb_parser *p, tb_sentence *sentence)
{
	unsigned tokens = at_list(p), first = p->at;
	for (unsigned i = 1; i < tokens; i++) {
		const tb_token *token = &g_array_index(p->tokens, tb_token, first + i);
		tb_later later = {sentence, (unsigned)MIN(token->value, TB_LIMIT_PIECE_ROWS + 1.0), false};
		if (token->kind == TB_TOKEN_NUMBER)
			g_array_append_val(p->later, later);
	}
	if (tokens > 0) {
		sentence->first = sentence->last =
			(unsigned)MIN(tb_parser_peek(p, 0)->value, TB_LIMIT_PIECE_ROWS + 1.0);
		p->at += tokens;
		return;
	}
	tb_parser ahead = *p;
	ahead.at++;
	if (!is_number(p, 0) || !accept_every(&ahead))
		return;
	tb_later every = {sentence, 0, true};
	g_array_append_val(p->later, every);
	sentence->first = sentence->last =
		(unsigned)MIN(tb_parser_peek(p, 0)->value, TB_LIMIT_PIECE_ROWS + 1.0);
	p->at = ahead.at;
}

/* The row whose text row NUMBER has as well, or NULL. */
static const tb_sentence *find_later(const tb_parser *p, unsigned number)
{
	for (guint i = p->later->len; i-- > 0;) {
		tb_later *later = &g_array_index(p->later, tb_later, i);
		bool every = later->number == 0 && number > later->row->first &&
					 (number - later->row->first) % 2 == 0;
		if (later->row->acts.count > 0 && (later->number == number || every)) {
			later->worked = true;
			return later->row;
		}
	}
	return NULL;
}

unsigned tb_later_insert(
	tb_parser *p, GPtrArray *sentences, guint at, unsigned last_row, unsigned next)
{
	unsigned number = last_row + 1;
	for (; number < next; number++) {
		const tb_sentence *row = find_later(p, number);
		if (row == NULL)
			break;
		tb_sentence *copy = tb_arena_new(p->arena, tb_sentence);
		*copy = *row;
		copy->first = copy->last = number;
		g_ptr_array_insert(sentences, (gint)at++, copy);
	}
	return number - last_row - 1;
}

void tb_later_check(tb_parser *p)
{
	for (guint i = 0; i < p->later->len; i++) {
		const tb_later *later = &g_array_index(p->later, tb_later, i);
		if (later->worked || later->row->acts.count == 0)
			continue;
		tb_where where = {
			.has_place = true,
			.place = later->row->span,
			.piece = p->piece,
			.row = later->row->first,
		};
		tb_diagnose_format(p->diagnostics, TB_ERROR, "row-list", &where,
			"Write the rows that come between.", "row %u never comes: row %u is missing",
			later->number, later->number - 1);
		return;
	}
}
