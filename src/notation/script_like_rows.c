/*
 * "Rows 2-30: Rep Row 2 of Back", "Rep Rows 2 and 3 of Back until piece measures 40 cm": rows of an earlier piece that
 * have other numbers here, or are worked again and again.
 */
#include "notation/script.h"

#include "pattern/text_kinds.h"
#include "support/limits.h"

#include <string.h>

/* The sentence that tells row ROW of SCRIPT out, be it by itself or as one that is worked again; NULL for none. */
static const tb_sentence *find_row(const tb_script *script, unsigned row)
{
	for (unsigned i = script->count; i-- > 0;) {
		const tb_sentence *sentence = script->sentences[i];
		if (sentence->first == 0 || row < sentence->first || row > sentence->last || sentence->left_out)
			continue;
		if (sentence->kind == TB_SENTENCE_ROWS)
			return sentence;
		bool plain = sentence->kind == TB_SENTENCE_REPEAT && sentence->repeat_first > 0 && sentence->repeat_last < sentence->first &&
			sentence->even == NULL && sentence->shaped == NULL && sentence->changes == NULL && !sentence->repeat_down;
		if (!plain)
			return NULL;
		row = sentence->repeat_first + (row - sentence->first) % (sentence->repeat_last - sentence->repeat_first + 1);
	}
	return NULL;
}

/* Rows FIRST to LAST here, each worked as SOURCE tells; the counts told there are of its own rows. */
static void add_rows(tb_reader *r, const tb_sentence *source, unsigned first, unsigned last)
{
	tb_sentence *row = tb_arena_new(r->b.arena, tb_sentence);
	*row = *source;
	row->first = first;
	row->last = last;
	row->first_in = row->last_in = (tb_number){0};
	row->claim_count = 0;
	row->uncounted = true;
	row->anew = false;
	row->part = NULL;
	g_ptr_array_add(r->sentences, row);
	tb_reader_count_rows(r, row);
}

/* Rows FROM to TO here, 0 where they have no numbers, as rows FIRST to LAST of SCRIPT over and over. */
static bool add_all(tb_reader *r, const tb_value *value, const tb_script *script, unsigned first, unsigned last, unsigned from, unsigned to)
{
	if (first < 1 || last < first || last > TB_LIMIT_PIECE_ROWS)
		return tb_reader_fail(r, "rows-again-unknown", value->from, value->to, "Name rows that it has.",
			"that piece has no rows of these numbers");
	unsigned cycle = last - first + 1, count = from > 0 ? to - from + 1 : cycle;
	for (unsigned i = 0; i < count; i++) {
		const tb_sentence *source = find_row(script, first + i % cycle);
		if (source == NULL)
			return tb_reader_fail(r, "rows-again-unknown", value->from, value->to, "Name rows that it has.",
				"that piece has no rows of these numbers");
		add_rows(r, source, from > 0 ? from + i : 0, from == 0 ? 0 : cycle > 1 ? from + i : to);
		if (cycle == 1)
			break;
	}
	return true;
}

bool tb_reader_like_numbers(tb_reader *r, const tb_value *value, const tb_script *script, unsigned first, unsigned last, unsigned from, unsigned to)
{
	if (first < 1 || last < first || from < 1 || to < from || to > TB_LIMIT_PIECE_ROWS || (to - from + 1) % (last - first + 1) != 0)
		return tb_reader_fail(r, "rows-again-other", value->from, value->to, "Number both alike.",
			"these rows are named by other numbers here");
	return add_all(r, value, script, first, last, from, to);
}

/* Once less than SENTENCE says, for once was before; false where a size works it never. */
static bool once_less(tb_reader *r, tb_sentence *sentence)
{
	int *times = tb_arena_take(r->b.arena, sentence->times.count * sizeof *times);
	for (unsigned i = 0; i < sentence->times.count; i++) {
		times[i] = sentence->times.values[i] - 1;
		if (times[i] < 0)
			return false;
	}
	sentence->times.values = times;
	return true;
}

/* Whether the label of SENTENCE calls it a row of ribbing, "1st rib row (RS):". */
static bool is_called_rib(const tb_reader *r, const tb_sentence *sentence)
{
	const char *text = tb_source_get_text(r->b.pattern->source, NULL) + sentence->span.start;
	size_t length = strcspn(text, ":\n");
	return sentence->kind == TB_SENTENCE_ROWS && !sentence->left_out && text[length] == ':' &&
		tb_find_words(text, length, "rib ribbing ribbed") < length;
}

/* How many rows SENTENCE is where they are alike in all sizes: one, or "Rep the rib row 3 more times"; 0 else. */
static unsigned count_rib(const tb_reader *r, const tb_sentence *sentence)
{
	if (is_called_rib(r, sentence))
		return sentence->last > sentence->first ? 0 : 1;
	bool again = sentence->kind == TB_SENTENCE_REPEAT && sentence->until == TB_REPEAT_TIMES && sentence->times.count == 1 &&
		sentence->repeat_last == sentence->repeat_first && sentence->repeat_back <= 1 && sentence->shaped == NULL &&
		sentence->even == NULL && sentence->changes == NULL;
	return again ? (unsigned)CLAMP(sentence->times.values[0], 0, (int)TB_LIMIT_PIECE_ROWS) : 0;
}

/* SENTENCE, of another piece, MANY of its rows; the counts told there are of its own rows. */
static void add_rib(tb_reader *r, const tb_sentence *sentence, unsigned many)
{
	tb_sentence *row = tb_arena_new(r->b.arena, tb_sentence);
	*row = *sentence;
	row->claim_count = 0;
	row->uncounted = true;
	row->part = NULL;
	row->anew = false;
	row->first = row->last = 0;
	if (row->kind == TB_SENTENCE_REPEAT) {
		row->times = tb_number_make(r->b.arena, (int)many, row->span);
		row->repeat_first = row->repeat_last = 0;
		row->repeat_of = NULL;
		row->repeat_back = 1;
	}
	g_ptr_array_add(r->sentences, row);
	r->last_row = 0;
	r->after_repeat = true;
}

bool tb_reader_like_rib(tb_reader *r, const tb_value *value, const tb_script *script, unsigned many, bool base)
{
	unsigned at = 0, first = 0, left = many;
	while (first < script->count && script->sentences[first]->kind == TB_SENTENCE_START)
		first++;
	for (at = first; at < script->count && !is_called_rib(r, script->sentences[at]);)
		at++;
	bool good = at < script->count && (!base || (at == first + 1 && script->sentences[first]->kind == TB_SENTENCE_ROWS && !script->sentences[first]->left_out &&
		script->sentences[first]->last <= MAX(script->sentences[first]->first, 1)));
	if (good && base)
		add_rib(r, script->sentences[first], 1);
	for (; good && left > 0 && at < script->count; at++) {
		unsigned rows = count_rib(r, script->sentences[at]);
		good = rows > 0;
		if (good)
			add_rib(r, script->sentences[at], MIN(rows, left));
		left -= MIN(rows, left);
	}
	return (good && left == 0) || tb_reader_fail(r, "rows-again-unknown", value->from, value->to, "Name rows that it has.",
		"that piece has not so many rows that are called ribbing");
}

bool tb_reader_like_until(tb_reader *r, const tb_value *value, const tb_script *script, unsigned first, unsigned last, const tb_value *until)
{
	unsigned from = r->last_row > 0 ? r->last_row + 1 : 0;
	if (!add_all(r, value, script, first, last, from, from > 0 ? from + last - first : 0))
		return false;
	tb_sentence *again = tb_reader_add_sentence(r, TB_SENTENCE_REPEAT);
	again->repeat_back = last - first + 1;
	again->repeat_first = from;
	again->repeat_last = r->last_row;
	again->repeat_span = tb_build_span(&r->b, value->from, value->to);
	if (!tb_reader_how_often(r, again, until))
		return false;
	/* "… for 10 rows" of two that come by turns */
	if (tb_value_is(until, TB_KIND_rowsmore) && last > first)
		return tb_reader_fail(r, "rows-again-times", until->from, until->to, "Say how often these rows are worked.",
			"how often these rows are worked is not clear");
	bool counted = again->until == TB_REPEAT_TIMES || again->until == TB_REPEAT_OVER;
	again->first = again->last = 0;
	if (counted) {
		again->until = TB_REPEAT_TIMES;
		if (!once_less(r, again))
			return tb_reader_fail(r, "rows-again-times", until->from, until->to, "Write how many times it is worked.",
				"how often these rows are worked is not clear");
	}
	if (!counted || !tb_number_is(&again->times, 0))
		g_ptr_array_add(r->sentences, again);
	tb_reader_count_rows(r, again);
	return true;
}
