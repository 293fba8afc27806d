/* Rows worked again: "Rep Rows 3-6 until piece measures 50 (51, 52) cm, ending with Row 3." */
#include "notation/parser.h"

#include "support/limits.h"

#include <string.h>

#define MM_PER_INCH 25.4 /* exactly: international inch, 1959 */

static const char *word_at(const tb_parser *p, unsigned ahead)
{
	return tb_parser_peek(p, ahead)->word;
}

static bool is_row_word(const char *word)
{
	return strcmp(word, "row") == 0 || strcmp(word, "rnd") == 0;
}

/* How many tokens stand before the rows: "rep", "as", "same as", "work as for". */
static unsigned at_again(const tb_parser *p)
{
	static const char *const phrases[] = {
		"rep", "same as", "work same as", "work as for", "work as", "as for", "as", "like"};
	for (size_t i = 0; i < G_N_ELEMENTS(phrases); i++) {
		unsigned count = tb_parser_at(p, phrases[i]);
		if (count > 0)
			return count;
	}
	return 0;
}

bool tb_parser_at_rows_again(const tb_parser *p)
{
	unsigned at = at_again(p);
	if (at == 0)
		return false;
	if (strcmp(word_at(p, at), "this") == 0)
		at++;
	if (is_row_word(word_at(p, at)))
		return true;
	bool before = strcmp(word_at(p, at), "last") == 0 || strcmp(word_at(p, at), "prev") == 0 ||
				  strcmp(word_at(p, at), "first") == 0 ||
				  tb_parser_peek(p, at)->kind == TB_TOKEN_ORDINAL ||
				  tb_parser_peek(p, at)->kind == TB_TOKEN_NUMBER;
	for (unsigned i = 1; before && i < 5; i++) {
		const tb_token *token = tb_parser_peek(p, at + i);
		if (is_row_word(token->word))
			return true;
		before = token->kind == TB_TOKEN_ORDINAL || token->kind == TB_TOKEN_NUMBER ||
				 strcmp(token->word, "and") == 0 || token->mark == ',' || token->mark == '-';
	}
	return false;
}

/* "last 2 rows", counted back from the last row written. */
static bool parse_last_rows(tb_parser *p, tb_sentence *sentence, unsigned last_row)
{
	unsigned first = p->at;
	double count = 1;
	p->at++;
	if (tb_parser_peek(p, 0)->kind == TB_TOKEN_NUMBER)
		count = tb_parser_peek(p, 0)->value, p->at++;
	if (!is_row_word(word_at(p, 0)))
		return tb_parser_fail_unknown(p, "rows");
	p->at++;
	if (count < 1 || count > last_row)
		return tb_parser_fail(p, "rows-again-unknown", first, p->at - 1,
			"Name them by number, as in Rep Rows 3-6.", "it is not clear which rows these are");
	sentence->repeat_last = last_row;
	sentence->repeat_first = last_row - (unsigned)count + 1;
	return true;
}

static bool parse_rows(tb_parser *p, tb_sentence *sentence, unsigned last_row)
{
	tb_parser_accept(p, "this");
	if (tb_parser_at(p, "last") || tb_parser_at(p, "prev"))
		return parse_last_rows(p, sentence, last_row);
	sentence->is_round = sentence->is_round || tb_parser_at(p, "rnd");
	if (tb_parser_accept(p, "row") || tb_parser_accept(p, "rnd"))
		return tb_parse_row_list(p, &sentence->repeat_first, &sentence->repeat_last);
	if (tb_parser_accept(p, "first")) {
		sentence->repeat_first = sentence->repeat_last = 1;
	} else if (!tb_parse_row_list(p, &sentence->repeat_first, &sentence->repeat_last)) {
		return false;
	}
	sentence->is_round = sentence->is_round || tb_parser_at(p, "rnd");
	return tb_parser_accept(p, "row") || tb_parser_accept(p, "rnd") ||
		   tb_parser_fail_unknown(p, "row, round");
}

static double unit_mm(tb_parser *p)
{
	if (tb_parser_accept(p, "cm"))
		return 10;
	if (tb_parser_accept(p, "mm"))
		return 1;
	if (tb_parser_accept(p, "inch") || tb_parser_accept(p, "in") || tb_parser_accept_mark(p, '"')) {
		tb_parser_accept_mark(p, '.');
		return MM_PER_INCH;
	}
	return 0;
}

/* "[20 (20, 20½) in]" or "/20 in": the same length in other units, for the reader. */
static void skip_equivalent(tb_parser *p)
{
	tb_parser ahead = *p;
	g_autoptr(tb_diagnostics) unheard = tb_diagnostics_create(NULL);
	ahead.diagnostics = unheard;
	gunichar close = tb_parser_closing(p, 0);
	double *values;
	unsigned count;
	if (close == 0 && !tb_parser_at_mark(p, 0, '/'))
		return;
	ahead.at++;
	if (!tb_parser_at_number(&ahead) || !tb_parse_figures(&ahead, &values, &count) ||
		unit_mm(&ahead) == 0 || (close != 0 && !tb_parser_accept_mark(&ahead, close)))
		return;
	p->at = ahead.at;
}

/* "from cast-on edge", a knitter's word for the beginning. */
static bool accept_cast_on(tb_parser *p)
{
	tb_parser_accept_mark(p, '-');
	bool on = tb_parser_accept(p, "in") || tb_parser_accept(p, "on");
	tb_parser_accept(p, "edge");
	return on || tb_parser_fail_unknown(p, "beg, beginning");
}

static bool parse_measure(tb_parser *p, tb_sentence *sentence)
{
	unsigned first = p->at;
	double *values;
	tb_parser_accept(p, "about");
	first = p->at;
	if (!tb_parse_figures(p, &values, &sentence->measure_count))
		return false;
	double mm = unit_mm(p);
	if (mm == 0)
		return tb_parser_fail_unknown(p, "cm, in");
	for (unsigned i = 0; i < sentence->measure_count; i++) {
		if (values[i] != TB_NOT_IN_SIZE && (values[i] <= 0 || values[i] * mm > TB_LIMIT_MEASURE_MM))
			return tb_parser_fail(p, "measure-value", first, p->at - 1,
				"As in \"until piece measures 50 cm\".", "no piece measures that");
		if (values[i] != TB_NOT_IN_SIZE)
			values[i] *= mm;
	}
	sentence->measure_mm = values;
	sentence->measure_span = tb_parser_span(p, first);
	sentence->until = TB_REPEAT_MEASURES;
	skip_equivalent(p);
	if (!tb_parser_accept(p, "from"))
		return true;
	if (!tb_parser_accept(p, "cast"))
		return tb_parser_accept(p, "beg") || tb_parser_accept(p, "foundation") ||
			   tb_parser_fail_unknown(p, "beg, beginning");
	return accept_cast_on(p);
}

/* The piece named at the token now read; the longest name that fits. */
static bool parse_piece_name(tb_parser *p, tb_sentence *sentence)
{
	const tb_token *token = tb_parser_peek(p, 0);
	const char *text = p->text->chars + token->start;
	size_t longest = 0;
	for (unsigned i = 0; i < tb_pattern_count_pieces(p->pattern); i++) {
		const char *name = tb_pattern_get_piece(p->pattern, i);
		size_t length = strlen(name);
		if (length > longest && g_ascii_strncasecmp(text, name, length) == 0 &&
			!g_unichar_isalnum(g_utf8_get_char(text + length))) {
			longest = length;
			sentence->same_as_piece = name;
		}
	}
	if (longest == 0)
		return tb_parser_fail(p, "piece-unknown", p->at, p->at,
			"Name a piece of this pattern, as in \"until same length as Back\".",
			"no piece of this pattern has this name");
	size_t end = token->start + longest;
	while (!tb_parser_at_end(p) && tb_parser_peek(p, 0)->start < end)
		p->at++;
	sentence->until = TB_REPEAT_MEASURES;
	return true;
}

/* "piece", "it", "left front", "scarf": what is measured; up to four words. */
static bool accept_subject(tb_parser *p)
{
	for (unsigned i = 1; i <= 4; i++) {
		const char *word = word_at(p, i);
		if (tb_parser_peek(p, i - 1)->kind != TB_TOKEN_WORD)
			return false;
		if (strcmp(word, "measure") == 0 || strcmp(word, "is") == 0) {
			p->at += i;
			return true;
		}
	}
	return tb_parser_accept(p, "piece") || tb_parser_accept(p, "work") || tb_parser_accept(p, "it");
}

static bool parse_until(tb_parser *p, tb_sentence *sentence)
{
	unsigned first = p->at;
	bool subject = accept_subject(p);
	if (tb_parser_accept(p, "measure")) {
		if (!tb_parser_accept(p, "same as") && !tb_parser_accept(p, "same length as"))
			return parse_measure(p, sentence);
		sentence->measure_span = tb_parser_span(p, first);
		return parse_piece_name(p, sentence);
	}
	if (subject)
		tb_parser_accept(p, "is");
	if (tb_parser_accept(p, "same length as") || tb_parser_accept(p, "as length as")) {
		sentence->measure_span = tb_parser_span(p, first);
		return parse_piece_name(p, sentence);
	}
	return tb_parser_fail_unknown(p, "piece measures 50 cm, same length as Back");
}

static bool parse_ending(tb_parser *p, tb_sentence *sentence)
{
	unsigned start = p->at;
	tb_parser_accept_mark(p, ',');
	tb_parser_accept_mark(p, ';');
	if (!tb_parser_accept(p, "end")) {
		p->at = start;
		return true;
	}
	if (!tb_parser_accept(p, "with") && !tb_parser_accept(p, "after"))
		tb_parser_accept(p, "in");
	if (tb_parse_side(p, &sentence->ending_side)) {
		/* The side that faces for the next row is not that of the last one. */
		if (!tb_parser_accept(p, "facing"))
			return true;
		sentence->ending_side =
			sentence->ending_side == TB_SIDE_RIGHT ? TB_SIDE_WRONG : TB_SIDE_RIGHT;
		return tb_parser_accept(p, "for next row") ||
			   tb_parser_fail_unknown(
				   p, "for next row, as in \"ending with RS facing for next row\"");
	}
	unsigned last;
	if (tb_parser_accept(p, "row") || tb_parser_accept(p, "rnd"))
		return tb_parse_row_list(p, &sentence->ending_row, &last);
	return tb_parser_fail_unknown(p, "Row 3, a WS row");
}

/* "Rows 7-14: Rep Rows 3-6 twice" says the same thing twice; it must agree. */
static bool check_times(tb_parser *p, const tb_sentence *sentence, unsigned first)
{
	unsigned rows = sentence->last - sentence->first + 1;
	unsigned repeated = sentence->repeat_last - sentence->repeat_first + 1;
	for (unsigned i = 0; i < sentence->times.count; i++) {
		if ((guint64)sentence->times.values[i] * repeated != rows)
			return tb_parser_fail(p, "rows-again-times", first, p->at - 1,
				"Leave out either the rows' numbers or how often.",
				"%u rows worked %d times are not rows %u to %u", repeated,
				sentence->times.values[i], sentence->first, sentence->last);
	}
	return true;
}

/* "Rep Row 2 for 3 (5, 7) more rows": so many rows, where one row alone is repeated. */
static bool parse_more_rows(tb_parser *p, tb_sentence *sentence, bool *read)
{
	unsigned start = p->at;
	*read = false;
	tb_parser_accept(p, "for");
	if (tb_parser_at_number(p) && sentence->repeat_first == sentence->repeat_last) {
		if (!tb_parse_number(p, &sentence->times))
			return false;
		tb_parser_accept(p, "more");
		*read = tb_parser_accept(p, "row") || tb_parser_accept(p, "rnd");
	}
	if (!*read)
		p->at = start;
	return true;
}

static bool parse_how_often(tb_parser *p, tb_sentence *sentence, bool once)
{
	unsigned start = p->at;
	bool read = false, more, numbered = sentence->first > 0;
	tb_parser_accept_mark(p, ',');
	unsigned first = p->at;
	if (tb_parser_accept(p, "for pat") || tb_parser_accept(p, "to form pat") ||
		tb_parser_accept(p, "for st pat")) {
		sentence->until = numbered ? TB_REPEAT_OVER : TB_REPEAT_PATTERN;
		return true;
	}
	if (tb_parser_accept(p, "until") || tb_parser_at(p, "to same")) {
		tb_parser_accept(p, "to");
		if (numbered)
			return tb_parser_fail(p, "rows-again-times", first, first,
				"Leave the rows' numbers out: Rep Rows 3-6 until piece measures 50 cm.",
				"rows that are numbered are not worked until a length");
		return parse_until(p, sentence) && parse_ending(p, sentence);
	}
	if (!numbered && tb_parser_at(p, "for") && parse_more_rows(p, sentence, &read) && read) {
		sentence->until = TB_REPEAT_TIMES;
		return true;
	}
	if (!tb_parse_times(p, &sentence->times, &more, &read))
		return false;
	if (read) {
		sentence->until = numbered ? TB_REPEAT_OVER : TB_REPEAT_TIMES;
		return !numbered || check_times(p, sentence, first);
	}
	p->at = start;
	sentence->until = TB_REPEAT_OVER;
	if (numbered)
		return true;
	if (once) {
		sentence->until = TB_REPEAT_TIMES;
		sentence->times = tb_number_make(p, 1, tb_parser_span(p, start));
		return true;
	}
	return tb_parser_fail(p, "rows-again-times", p->at, p->at,
		"As in \"Rep Rows 3-6 4 times\", \"… until piece measures 50 cm\", \"… for pattern\".",
		"how often these rows are worked is not said");
}

bool tb_parse_rows_again(tb_parser *p, tb_sentence *sentence, unsigned last_row, bool once)
{
	sentence->kind = TB_SENTENCE_REPEAT;
	p->at += at_again(p);
	unsigned first = p->at;
	if (!parse_rows(p, sentence, last_row))
		return false;
	sentence->repeat_span = tb_parser_span(p, first);
	return parse_how_often(p, sentence, once);
}
