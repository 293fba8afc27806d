/* Rows worked again: "Rep Rows 3-6 until piece measures 50 (51, 52) cm, ending with Row 3." */
#include "notation/script.h"

#include "pattern/text_kinds.h"
#include "support/limits.h"
#include "support/units.h"

#include <string.h>

static bool is_name_char(gunichar c)
{
	return g_unichar_isalnum(c);
}

/* The piece named by the words FROM to TO: the longest name that stands there, or NULL. */
static const char *find_piece(const tb_reader *r, guint32 from)
{
	const char *text = r->text->chars + r->lattice.start[from], *found = NULL;
	size_t longest = 0;
	for (unsigned i = 0; i < tb_pattern_count_pieces(r->b.pattern); i++) {
		const char *name = tb_pattern_get_piece(r->b.pattern, i);
		size_t length = strlen(name);
		if (length > longest && g_ascii_strncasecmp(text, name, length) == 0 &&
			!is_name_char(g_utf8_get_char(text + length))) {
			longest = length;
			found = name;
		}
	}
	return found;
}

static double unit_mm(const tb_value *unit)
{
	const tb_value *v = tb_value_get(unit, TB_SLOT_v);
	return tb_value_is_symbol(v, TB_SYMBOL_mm) ? 1 : tb_value_is_symbol(v, TB_SYMBOL_cm) ? 10 :
		tb_value_is_symbol(v, TB_SYMBOL_yard) ? 36 * TB_MM_PER_INCH : TB_MM_PER_INCH;
}

static bool set_measure(tb_reader *r, tb_sentence *sentence, const tb_value *size)
{
	const tb_value *n = tb_value_get(size, TB_SLOT_n);
	double mm = unit_mm(tb_value_get(size, TB_SLOT_unit));
	tb_build_hold(&r->b, n);
	double *values = tb_arena_take(r->b.arena, n->count * sizeof(double));
	for (guint32 i = 0; i < n->count; i++) {
		bool none = n->figures[i] < 0;
		values[i] = none ? TB_NOT_IN_SIZE : n->figures[i] * mm;
		if (!none && (values[i] <= 0 || values[i] > TB_LIMIT_MEASURE_MM))
			return tb_reader_fail(r, "measure-value", size->from, size->to,
				"As in \"until piece measures 50 cm\".", "no piece measures that");
	}
	sentence->measure_mm = values;
	sentence->measure_count = n->count;
	sentence->measure_span = tb_build_span(&r->b, size->from, size->to);
	sentence->until = TB_REPEAT_MEASURES;
	return true;
}

/* "every 4th row": of a row that is shaped, or that is worked again, with even rows between. */
static bool set_every(tb_reader *r, tb_sentence *sentence, const tb_value *until)
{
	const tb_value *every = tb_value_get(until, TB_SLOT_every);
	bool one = sentence->repeat_first == sentence->repeat_last && sentence->repeat_back <= 1;
	if (every == NULL)
		return true;
	if (sentence->only_named)
		sentence->first = sentence->last = 0;
	if (every->type != TB_VALUE_NUMBER || !one || sentence->first > 0)
		return tb_reader_fail(r, "not-worked", until->from, until->to,
			"Write the rows between as well: Rep Rows 3-6 5 times.",
			"every so many rows is not worked");
	sentence->every = tb_build_number(&r->b, every, 1);
	if (sentence->even == NULL)
		sentence->even = tb_reader_even_row(r, sentence);
	return true;
}

static bool set_until(tb_reader *r, tb_sentence *sentence, const tb_value *until)
{
	const tb_value *size = tb_value_get(until, TB_SLOT_size), *same = tb_value_get(until, TB_SLOT_same);
	const tb_value *counts = tb_value_get(until, TB_SLOT_counts);
	bool numbered = sentence->first > 0;
	if (tb_reader_ends_beyond(r, sentence, until))
		return true;
	if (!tb_reader_set_ending(r, sentence, tb_value_get(until, TB_SLOT_ending)))
		return false;
	if (size != NULL || same != NULL) {
		if (numbered && sentence->last != sentence->first)
			return tb_reader_fail(r, "rows-again-times", until->from, until->to,
				"Leave the rows' numbers out: Rep Rows 3-6 until piece measures 50 cm.",
				"rows that are numbered are not worked until a length");
		sentence->first = sentence->last = 0;
		tb_reader_set_since(r, sentence, until);
		if (size != NULL)
			return set_measure(r, sentence, size);
		sentence->until = TB_REPEAT_MEASURES;
		sentence->measure_span = tb_build_span(&r->b, until->from, until->to);
		sentence->same_as_piece = find_piece(r, same->from);
		sentence->same_part = tb_reader_part_word(tb_value_get(until, TB_SLOT_part));
		sentence->same_rows = tb_build_has(until, TB_SLOT_rows);
		return sentence->same_as_piece != NULL || tb_reader_fail(r, "piece-unknown", same->from,
			same->to, "Name a piece of this pattern, as in \"until same length as Back\".",
			"no piece of this pattern has this name");
	}
	if (counts != NULL && tb_value_get(until, TB_SLOT_between) != NULL && sentence->grows) {
		sentence->until = TB_REPEAT_BETWEEN;
		sentence->times = tb_build_number(&r->b, tb_value_get(counts, TB_SLOT_n), 1);
		return true;
	}
	if (counts != NULL && counts->type == TB_VALUE_NODE && tb_value_get(until, TB_SLOT_between) == NULL) {
		if (!set_every(r, sentence, until))
			return false;
		sentence->between_marks = tb_build_has(until, TB_SLOT_marked);
		sentence->until = TB_REPEAT_COUNT;
		sentence->times = tb_build_number(&r->b, tb_value_get(counts, TB_SLOT_n), 1);
		const tb_value *noun = tb_value_get(counts, TB_SLOT_noun);
		if (tb_value_is_symbol(tb_value_get(noun, TB_SLOT_k), TB_SYMBOL_named))
			sentence->count_of = tb_build_stitch(&r->b, tb_value_get(noun, TB_SLOT_name), NULL);
		return true;
	}
	if (counts != NULL && tb_value_get(until, TB_SLOT_n) != NULL)
		return tb_reader_until_sections(r, until, sentence);
	if (counts != NULL)
		return tb_reader_fail(r, "not-worked", until->from, until->to,
			"Say how many stitches the row has then, or how many rows.",
			"when this is reached cannot be counted here");
	if (tb_value_get(until, TB_SLOT_ending) != NULL && tb_value_get(until, TB_SLOT_desired) == NULL) {
		if (!numbered) {
			tb_reader_leave_often(r, sentence);
			return true;
		}
		sentence->until = TB_REPEAT_OVER;
		return tb_reader_check_ending(r, sentence, until);
	}
	sentence->often_open = tb_value_get(until, TB_SLOT_aim) != NULL;
	sentence->wished = tb_build_has(until, TB_SLOT_desired);
	sentence->until = numbered ? TB_REPEAT_OVER : TB_REPEAT_PATTERN;
	return true;
}

/* "Rows 7-14: Rep Rows 3-6 twice" says the same thing twice; it must agree. */
static bool check_times(tb_reader *r, const tb_sentence *sentence, const tb_value *until)
{
	unsigned repeated = sentence->repeat_last - sentence->repeat_first + 1;
	unsigned sizes = MAX(sentence->times.count, sentence->last_in.count);
	for (unsigned i = 0; i < sizes && sentence->repeat_last > 0; i++) {
		int last = sentence->last_in.count > 0 ? tb_number_in(&sentence->last_in, i) : (int)sentence->last;
		int times = tb_number_in(&sentence->times, sentence->times.count == 1 ? 0 : i);
		if ((gint64)MAX(times, 0) * repeated != MAX((gint64)last - sentence->first + 1, 0))
			return tb_reader_fail(r, "rows-again-times", until->from, until->to,
				"Leave out either the rows' numbers or how often.",
				"%u rows worked %d times are not rows %u to %d", repeated, times, sentence->first, last);
	}
	return true;
}

/* "5 more times (6 times total)": once before, and those. */
static bool check_all(tb_reader *r, const tb_value *until)
{
	const tb_value *all = tb_value_get(until, TB_SLOT_all);
	tb_number many = tb_build_number(&r->b, tb_value_get(until, TB_SLOT_n), 1), total = tb_build_number(&r->b, all, 1);
	for (unsigned i = 0; all != NULL && i < MAX(many.count, total.count); i++) {
		int more = tb_number_in(&many, many.count == 1 ? 0 : i), said = tb_number_in(&total, total.count == 1 ? 0 : i);
		if (more >= 0 && said >= 0 && said != more + 1)
			return tb_reader_fail(r, "rows-again-times", all->from, all->to, "Leave out one of the two.",
				"once and %d more times are not %d times", more, said);
	}
	return true;
}

static bool set_times(tb_reader *r, tb_sentence *sentence, const tb_value *until)
{
	if (!set_every(r, sentence, until) || !check_all(r, until))
		return false;
	bool numbered = sentence->first > 0;
	sentence->times = tb_build_number(&r->b, tb_value_get(until, TB_SLOT_n), 1);
	if (tb_number_is(&sentence->times, 0))
		return tb_reader_fail(r, "times-zero", until->from, until->to,
			"Write how many times it is worked; in a size bracket 0 leaves a size out.",
			"0 times is never");
	sentence->until = numbered ? TB_REPEAT_OVER : TB_REPEAT_TIMES;
	return !numbered || check_times(r, sentence, until);
}

/* "Alternate Rows 2 and 3 for 10 (12, 14) more rows": so often as makes that many; false where it is not that often in a size. */
static bool part_rows(tb_reader *r, tb_sentence *sentence)
{
	int rows = (int)(sentence->repeat_back > 0 ? sentence->repeat_back : sentence->repeat_last - sentence->repeat_first + 1);
	int *values = tb_arena_take(r->b.arena, MAX(sentence->times.count, 1) * sizeof(int));
	for (unsigned i = 0; i < sentence->times.count; i++) {
		int many = tb_number_in(&sentence->times, i);
		if (many > 0 && many % rows != 0)
			return false;
		values[i] = many > 0 ? many / rows : many;
	}
	sentence->times.values = values;
	sentence->until = TB_REPEAT_TIMES;
	return rows > 1 && sentence->first == 0;
}

/* Over so many rows: their numbers, where these are known. */
static bool set_rows_more(tb_reader *r, tb_sentence *sentence, const tb_value *until)
{
	tb_number rows = tb_build_number(&r->b, tb_value_get(until, TB_SLOT_n), 1);
	bool one = sentence->repeat_first == sentence->repeat_last && sentence->repeat_back <= 1;
	sentence->times = rows;
	if (!tb_reader_agrees(r, sentence, tb_value_get(until, TB_SLOT_n)))
		return false;
	if (one || sentence->even != NULL) {
		sentence->until = TB_REPEAT_TIMES;
		return true;
	}
	if ((rows.count != 1 || r->last_row == 0) && !part_rows(r, sentence))
		return tb_reader_fail(r, "rows-again-times", until->from, until->to,
			"Say how often, as in Rep Rows 3-6 4 times.",
			"how often these rows are worked is not said");
	if (sentence->until == TB_REPEAT_TIMES)
		return true;
	sentence->first = r->last_row + 1;
	sentence->last = r->last_row + (unsigned)MAX(rows.values[0], 1);
	sentence->until = TB_REPEAT_OVER;
	return true;
}

static bool how_often(tb_reader *r, tb_sentence *sentence, const tb_value *value, const tb_value *until, bool once);

bool tb_reader_set_limit(tb_reader *r, tb_sentence *sentence, const tb_value *until)
{
	return how_often(r, sentence, NULL, until, false) &&
		(sentence->until == TB_REPEAT_MEASURES || sentence->until == TB_REPEAT_TOTAL || tb_reader_fail(r, "rows-again-unknown",
			until->from, until->to, "As in \"Work as for Back until piece measures 40 cm\".", "how far this goes is not said"));
}

bool tb_reader_how_often(tb_reader *r, tb_sentence *sentence, const tb_value *until)
{
	return how_often(r, sentence, NULL, until, false);
}

static bool how_often(tb_reader *r, tb_sentence *sentence, const tb_value *value,
	const tb_value *until, bool once)
{
	if (until != NULL && (tb_value_is(until, TB_KIND_times)))
		return set_times(r, sentence, until);
	if (tb_value_is(until, TB_KIND_rowsmore))
		return set_rows_more(r, sentence, until);
	if (tb_value_is(until, TB_KIND_grownrows)) {
		if (!sentence->grows)
			return tb_reader_fail(r, "not-worked", until->from, until->to, "Say which rows these are, and how often they are worked.",
				"which rows increase is not said");
		sentence->until = TB_REPEAT_GROWN;
		sentence->grown_more = tb_build_has(until, TB_SLOT_more);
		sentence->times = tb_build_number(&r->b, tb_value_get(until, TB_SLOT_n), 1);
		sentence->first = sentence->last = 0;
		return true;
	}
	if (tb_value_is(until, TB_KIND_section)) {
		const tb_value *rows = tb_value_get(until, TB_SLOT_rows);
		sentence->until = TB_REPEAT_SECTION;
		sentence->times = tb_build_number(&r->b, tb_value_get(until, TB_SLOT_n), 1);
		sentence->section_stitch = tb_build_stitch(&r->b, tb_value_get(until, TB_SLOT_stitch), NULL);
		sentence->section_rows = rows == NULL ? 0 : (unsigned)CLAMP(rows->figures[0], 0, TB_LIMIT_PIECE_ROWS);
		sentence->first = sentence->last = 0;
		return true;
	}
	if (tb_value_is(until, TB_KIND_untiledged)) {
		sentence->until = TB_REPEAT_EDGE;
		sentence->often_unsaid = true;
		sentence->first = sentence->last = 0;
		return true;
	}
	if (tb_value_is(until, TB_KIND_total)) {
		const tb_value *n = tb_value_get(until, TB_SLOT_n);
		sentence->until = TB_REPEAT_TOTAL;
		sentence->times = tb_build_number(&r->b, n, 1);
		/* "till there are 8 ribs": of two rows each */
		if (tb_build_has(until, TB_SLOT_twice))
			sentence->times = tb_number_make(r->b.arena, 2 * tb_build_one_number(n, 1), sentence->span);
		const tb_value *stitch = tb_value_get(until, TB_SLOT_stitch);
		sentence->first = sentence->last = 0;
		tb_reader_set_since(r, sentence, until);
		const tb_value *counted = tb_value_get(tb_value_get(until, TB_SLOT_counted), TB_SLOT_v);
		sentence->counted_all = tb_value_is_symbol(counted, TB_SYMBOL_all);
		if (sentence->counted_all)
			sentence->since = TB_SINCE_BEGIN;
		sentence->counted_part = tb_value_is_symbol(counted, TB_SYMBOL_patt);
		sentence->ending_in = stitch != NULL ? tb_build_stitch(&r->b, stitch, NULL) : sentence->ending_in;
		return true;
	}
	if (until != NULL)
		return set_until(r, sentence, until);
	if (sentence->first > 0) {
		sentence->until = TB_REPEAT_OVER;
		return true;
	}
	/* an edging that goes on "from 3rd row" is as long as the cloth; "keep repeating Row 2" has no end */
	if (tb_value_get(tb_value_get(value, TB_SLOT_rows), TB_SLOT_from) != NULL || tb_build_has(value, TB_SLOT_kept)) {
		sentence->until = TB_REPEAT_PATTERN;
		return true;
	}
	if (once || sentence->even != NULL) {
		sentence->until = TB_REPEAT_TIMES;
		sentence->times = tb_number_make(r->b.arena, 1, sentence->span);
		return true;
	}
	tb_reader_leave_often(r, sentence);
	return true;
}

/* The sizes that have the last row written at or before sentence *AT, which comes to stand before it. */
static tb_size_set sizes_of_row(const tb_reader *r, guint *at)
{
	const tb_sentence *last = r->sentences->pdata[*at - 1];
	tb_size_set sizes = 0;
	for (; *at > 0; (*at)--) {
		const tb_sentence *row = r->sentences->pdata[*at - 1];
		if (row->kind != TB_SENTENCE_ROWS || row->last != last->last)
			break;
		sizes |= row->sizes;
	}
	return sizes;
}

/*
 * "Rep last row" behind a row that not all sizes have: whether the others repeat the row before it, or
 * nothing, is not said.
 */
static bool check_last_rows(tb_reader *r, const tb_sentence *sentence, const tb_value *which)
{
	unsigned sizes = tb_pattern_count_sizes(r->b.pattern);
	tb_size_set asked = sentence->sizes & (((tb_size_set)1 << sizes) - 1);
	guint at = r->sentences->len;
	for (unsigned i = 0; i < sentence->repeat_back && at > 0; i++) {
		const tb_sentence *row = r->sentences->pdata[at - 1];
		if (row->kind != TB_SENTENCE_ROWS || row->last != row->first)
			break;
		if ((asked & ~sizes_of_row(r, &at)) != 0)
			return tb_reader_fail(r, "rows-again-unknown", which->from, which->to,
				"Say which sizes repeat it, as in \"Size L only: Rep last row 2 times\".",
				"row %u, which is repeated here, is not worked in all these sizes", row->last);
	}
	return true;
}

/* Whether the last COUNT sentences are a row each that has a name, "1st rib row", which nothing before gives a number. */
static bool are_named(const tb_reader *r, unsigned count)
{
	bool named = count <= r->sentences->len;
	for (unsigned i = 0; i < count && named; i++) {
		const tb_sentence *row = r->sentences->pdata[r->sentences->len - 1 - i];
		named = row->kind == TB_SENTENCE_ROWS && row->only_named && row->first == row->last && row->many.count == 0;
	}
	return named;
}

static bool set_last(tb_reader *r, tb_sentence *sentence, const tb_value *which, unsigned count)
{
	bool known = count <= r->last_row || are_named(r, count);
	if (count < 1 || count > TB_LIMIT_PIECE_ROWS || (!known && !r->after_repeat))
		return tb_reader_fail(r, "rows-again-unknown", which->from, which->to,
			"Name them by number, as in Rep Rows 3-6.", "it is not clear which rows these are");
	sentence->repeat_back = count;
	sentence->repeat_last = known ? r->last_row : 0;
	sentence->repeat_first = known ? r->last_row - count + 1 : 0;
	return check_last_rows(r, sentence, which);
}

/* "Rep last 4 (4, 3) rows 6 (7, 8) more times": so many in each size, which none may be without. */
static bool set_last_in(tb_reader *r, tb_sentence *sentence, const tb_value *which, const tb_value *last)
{
	sentence->back_in = tb_build_number(&r->b, last, 1);
	for (unsigned i = 0; i < sentence->back_in.count; i++) {
		int rows = sentence->back_in.values[i];
		if (rows == 0 || rows > (int)TB_LIMIT_PIECE_ROWS)
			return tb_reader_fail(r, "rows-again-unknown", which->from, which->to,
				"Write – for a size that repeats none.", "in one of the sizes these are no rows");
		sentence->repeat_back = MAX(sentence->repeat_back, (unsigned)MAX(rows, 1));
	}
	return true;
}

/* "Rep dec row": the row that has that name in its label. */
static bool set_shaped(tb_reader *r, tb_sentence *sentence, const tb_value *which, bool less);

static bool set_called(
	tb_reader *r, tb_sentence *sentence, const tb_value *which, const tb_value *name)
{
	unsigned row = name != NULL ? r->row_called[name->symbol] : 0;
	/* "Rep 1st rib row" behind the 2nd, which was called so last */
	const tb_value *nth = tb_value_get(tb_value_get(which, TB_SLOT_named), TB_SLOT_nth);
	if (name != NULL && nth != NULL && r->nth_called[name->symbol] != tb_build_one_number(nth, 0))
		return tb_reader_fail(r, "rows-again-unknown", which->from, which->to,
			"Name it by its number, as in Rep Row 5.", "no row of this name stands right above");
	if (row == 0 && name != NULL && r->sentence_called[name->symbol] != NULL) {
		sentence->repeat_of = r->sentence_called[name->symbol];
		tb_reader_use_told(r, sentence->repeat_of);
		return true;
	}
	/* "Row 7: …, hdc2tog. Rep this dec row": no label calls it so */
	if (row == 0 && (tb_value_is_symbol(name, TB_SYMBOL_dec) || tb_value_is_symbol(name, TB_SYMBOL_inc)))
		return set_shaped(r, sentence, which, tb_value_is_symbol(name, TB_SYMBOL_dec));
	if (row == 0 || (row > r->last_row && !r->after_repeat))
		return tb_reader_fail(r, "rows-again-unknown", which->from, which->to,
			"Name it by its number, as in Rep Row 5.", "no row of this name stands above");
	sentence->repeat_first = sentence->repeat_last = row;
	return true;
}

/*
 * "Inc row: …" above "Make every 7th row an inc row, 6 times in all": the text stands there by itself, and is worked
 * where its number comes up, and not before.
 */
static bool set_placed(tb_reader *r, tb_sentence *sentence, const tb_value *placed)
{
	const tb_value *name = tb_value_get(tb_value_get(tb_value_get(placed, TB_SLOT_row), TB_SLOT_named), TB_SLOT_named);
	const tb_sentence *told = name != NULL ? r->sentence_called[name->symbol] : NULL;
	if (told != NULL && told->only_told) {
		sentence->placed = told;
		sentence->every = tb_build_number(&r->b, tb_value_get(placed, TB_SLOT_n), 1);
		tb_reader_use_told(r, told);
		return true;
	}
	bool last = told != NULL && r->sentences->len > 1 && r->sentences->pdata[r->sentences->len - 1] == told && told->only_named &&
		told->kind == TB_SENTENCE_ROWS && told->first > 1;
	for (unsigned i = 0; last && i < told->claim_count; i++)
		last = told->claims[i].other;
	if (!last)
		return tb_reader_fail(r, "rows-again-unknown", placed->from, placed->to,
			"Write that row out right above this, and give it no number.", "no row of this name is told right above");
	tb_sentence *row = tb_arena_new(r->b.arena, tb_sentence);
	*row = *told;
	row->first = row->last = 0;
	g_ptr_array_set_size(r->sentences, (gint)r->sentences->len - 1);
	r->last_row = told->first - 1;
	r->row_called[name->symbol] = 0;
	sentence->placed = row;
	sentence->every = tb_build_number(&r->b, tb_value_get(placed, TB_SLOT_n), 1);
	return true;
}

/* "Repeat from 3rd row", to the last there is, or "to 6th row". */
static bool set_from(tb_reader *r, tb_sentence *sentence, const tb_value *which, const tb_value *first)
{
	const tb_value *last = tb_value_get(which, TB_SLOT_to);
	unsigned from = (unsigned)CLAMP(tb_build_one_number(first, 0), 0, (int)TB_LIMIT_PIECE_ROWS);
	unsigned to = last == NULL ? r->last_row :
		(unsigned)CLAMP(tb_build_one_number(last, 0), 0, (int)TB_LIMIT_PIECE_ROWS);
	if (from == 0 || from > to || to > r->last_row)
		return tb_reader_fail(r, "rows-again-unknown", which->from, which->to,
			"Name them by number, as in Rep Rows 3-6.", "it is not clear which rows these are");
	sentence->repeat_first = from;
	sentence->repeat_last = to;
	return true;
}

/* "As short row 3" */
static bool set_short(tb_reader *r, tb_sentence *sentence, const tb_value *which, int number)
{
	bool known = number > 0 && number <= (int)TB_READER_SHORT_ROWS && r->short_rows[number - 1] != NULL;
	if (!known)
		return tb_reader_fail(r, "rows-again-unknown", which->from, which->to, "Name a row that stands above.",
			"no short row of this number stands above");
	sentence->repeat_of = r->short_rows[number - 1];
	while (sentence->repeat_of->repeat_of != NULL)
		sentence->repeat_of = sentence->repeat_of->repeat_of;
	return true;
}

/* Whether ACTS make fewer stitches of those below, LESS, or more. */
static bool shapes(const tb_acts *acts, bool less, unsigned depth)
{
	for (unsigned i = 0; i < acts->count && depth < TB_LIMIT_NESTING + 2; i++) {
		const tb_act *act = &acts->acts[i];
		bool work = act->kind == TB_ACT_WORK && act->stitch != NULL;
		if (work && less && act->stitch->takes > 1)
			return true;
		if (!less && ((work && act->each.count > 0 && act->each.values[0] > 1) || act->kind == TB_ACT_GROUP))
			return true;
		if (shapes(&act->body, less, depth + 1))
			return true;
	}
	return false;
}

/* "Decrease in the same way": the last row above that does. */
static bool set_shaped(tb_reader *r, tb_sentence *sentence, const tb_value *which, bool less)
{
	for (guint i = r->sentences->len; i-- > 0;) {
		const tb_sentence *row = r->sentences->pdata[i];
		if (row->kind != TB_SENTENCE_ROWS || !shapes(&row->acts, less, 0))
			continue;
		if (row->first == 0 && i + 1 == r->sentences->len) {
			sentence->repeat_of = row;
			return true;
		}
		if (row->first == 0 || row->first != row->last || (row->first > r->last_row && !r->after_repeat))
			break;
		sentence->repeat_first = sentence->repeat_last = row->first;
		return true;
	}
	return tb_reader_fail(r, "rows-again-unknown", which->from, which->to, "Name it by its number, as in Rep Row 5.",
		"no row above is shaped like this");
}

/*
 * "the first of the last 2 rows"; "the first of them", of the rows that were just worked again, each time all of them.
 */
static bool set_one_of(tb_reader *r, tb_sentence *sentence, const tb_value *which)
{
	const tb_value *last = tb_value_get(which, TB_SLOT_last);
	const tb_sentence *before = r->sentences->len > 0 ? r->sentences->pdata[r->sentences->len - 1] : NULL;
	unsigned nth = tb_build_figure(tb_value_get(which, TB_SLOT_nth), TB_LIMIT_PIECE_ROWS), rows = tb_build_figure(last, TB_LIMIT_PIECE_ROWS);
	bool again = before != NULL && before->kind == TB_SENTENCE_REPEAT && before->until == TB_REPEAT_TIMES && before->even == NULL &&
		before->back_in.count == 0 && before->every.count == 0 && before->repeat_of == NULL && before->repeat_part == NULL &&
		!before->repeat_down && before->repeat_nth == 0 && before->sizes == sentence->sizes;
	unsigned worked = !again ? 0 : before->repeat_back > 0 ? before->repeat_back : before->repeat_last - before->repeat_first + 1;
	if (last == NULL)
		rows = worked;
	if (nth < 1 || nth > rows || (worked > 0 && worked != rows) || (last != NULL && last->count > 1))
		return tb_reader_fail(r, "rows-again-unknown", which->from, which->to,
			"Name it by its number, as in Rep Row 5.", "it is not clear which row this is");
	if (again && before->repeat_back == 0) {
		sentence->repeat_first = sentence->repeat_last = before->repeat_first + nth - 1;
		return true;
	}
	sentence->repeat_back = rows;
	sentence->repeat_nth = nth;
	return true;
}

/* "… 3 times. Then on every 4th row twice": what was shaped by a plan right before. */
static bool set_shaped_before(tb_reader *r, tb_sentence *sentence, const tb_value *which)
{
	const tb_sentence *before = r->sentences->len > 0 ? r->sentences->pdata[r->sentences->len - 1] : NULL;
	if (before == NULL || before->kind != TB_SENTENCE_REPEAT || before->left_out || before->every.count == 0 || before->track_count > 0)
		return tb_reader_fail(r, "rows-again-unknown", which->from, which->to, "Say what is worked, and on which rows.",
			"no rows shaped by a plan stand right before this");
	sentence->shaped = before->shaped;
	sentence->even = before->even;
	sentence->even_in = before->even_in;
	sentence->placed = before->placed;
	sentence->repeat_of = before->repeat_of;
	sentence->repeat_first = before->repeat_first;
	sentence->repeat_last = before->repeat_last;
	sentence->repeat_back = before->repeat_back;
	return true;
}

static bool set_which(tb_reader *r, tb_sentence *sentence, const tb_value *which)
{
	const tb_value *way = tb_value_get(tb_value_get(which, TB_SLOT_way), TB_SLOT_v);
	const tb_value *last = tb_value_get(which, TB_SLOT_last), *rows = tb_value_get(which, TB_SLOT_rows);
	sentence->repeat_span = tb_build_span(&r->b, which->from, which->to);
	sentence->is_round = sentence->is_round ||
		tb_value_get(tb_value_get(which, TB_SLOT_word), TB_SLOT_round) != NULL;
	if (tb_build_has(which, TB_SLOT_goon))
		return set_shaped_before(r, sentence, which);
	if (way != NULL)
		return set_shaped(r, sentence, which, tb_value_is_symbol(way, TB_SYMBOL_dec));
	const tb_value *named = tb_value_get(which, TB_SLOT_named);
	if (named != NULL)
		return set_called(r, sentence, which, tb_value_get(named, TB_SLOT_named));
	const tb_value *short_row = tb_value_get(which, TB_SLOT_short);
	if (short_row != NULL)
		return set_short(r, sentence, which, short_row->figures[0]);
	const char *series = tb_reader_series(r, which);
	if (series != NULL && g_strcmp0(series, sentence->series != NULL ? sentence->series : r->series) != 0)
		return tb_reader_fail(r, "rows-again-unknown", which->from, which->to, "Name a row that stands above.",
			"no %s row of this number stands right above", series);
	if (tb_build_has(which, TB_SLOT_nth))
		return set_one_of(r, sentence, which);
	if (r->named != NULL && tb_build_has(which, TB_SLOT_before))
		return set_called(r, sentence, which, r->named);
	const tb_value *starred = tb_value_get(which, TB_SLOT_starred);
	if (starred != NULL) {
		sentence->repeat_block = tb_build_has(which, TB_SLOT_open) ? 1 : 2;
		r->block_at = (tb_span){0};
		r->block_open = false;
		return true;
	}
	if (last != NULL && last->count > 1)
		return set_last_in(r, sentence, which, last);
	if (last != NULL)
		return set_last(r, sentence, which, (unsigned)CLAMP(last->figures[0], 0, 1e6));
	if (rows != NULL && tb_value_get(which, TB_SLOT_from) != NULL)
		return set_from(r, sentence, which, rows);
	sentence->repeat_down = rows != NULL &&
		tb_reader_rows_down(rows, &sentence->repeat_first, &sentence->repeat_last);
	if (rows != NULL && !sentence->repeat_down)
		return tb_reader_rows(r, rows, &sentence->repeat_first, &sentence->repeat_last);
	if (rows != NULL)
		return true;
	if (tb_value_get(which, TB_SLOT_these) != NULL && r->last_row > 1)
		return set_last(r, sentence, which, r->last_row);
	/* "this row", and what says no more */
	return set_last(r, sentence, which, which->type == TB_VALUE_NODE &&
		tb_value_get(which, TB_SLOT_these) == NULL ? 1 : 0);
}

/* "Complete to match left side", the side of that name, or else the first. */
static void set_match(tb_reader *r, tb_sentence *sentence, const tb_value *match)
{
	const tb_value *of = tb_value_get(match, TB_SLOT_of);
	sentence->until = TB_REPEAT_MATCH;
	sentence->repeat_of = sentence->many.count > 0 || sentence->first > 0 ? r->short_before : NULL;
	sentence->repeat_span = tb_build_span(&r->b, match->from, match->to);
	if (tb_value_is(of, TB_KIND_sidename)) {
		const tb_lattice *l = &r->lattice;
		sentence->repeat_part = tb_arena_copy(r->b.arena, l->text->chars + l->start[of->from], l->stop[of->to - 1] - l->start[of->from]);
	}
}

static bool may_follow(const tb_act *act)
{
	return act->kind == TB_ACT_TURN || act->kind == TB_ACT_JOIN ||
		act->kind == TB_ACT_DO_NOT_JOIN || act->kind == TB_ACT_DO_NOT_TURN ||
		act->kind == TB_ACT_FASTEN_OFF ||
		act->kind == TB_ACT_LEAVE || act->kind == TB_ACT_CLAIM || act->kind == TB_ACT_SIDE;
}

/* "Same as 6th row, sl st in first st": the slip stitch that closes the last of them; of a spiral "in next st". */
static bool closes_round(const tb_reader *r, const tb_sentence *again, const tb_act *act)
{
	const tb_place *place = &act->place;
	bool one = place->count.count > 0 && place->count.values[0] == 1;
	return act->kind == TB_ACT_WORK && act->stitch == r->b.slip && (place->in == TB_IN_FIRST ||
		(place->in == TB_IN_NTH_STITCH && one) ||
		(place->in == TB_IN_NEXT && one && (place->target == TB_TARGET_STITCH || place->target == TB_TARGET_NAMED) && (again->is_round || r->in_rounds) && !place->around));
}

/* "As Rnd 2, but without increase": its stitches one by one, which are the ordinary ones of the row before. */
static bool is_last_row(tb_reader *r, tb_sentence *sentence, const tb_value *which)
{
	return set_which(r, sentence, which) && (sentence->repeat_last == r->last_row || tb_reader_fail(r, "rows-again-other", which->from, which->to,
		"Write the row out.", "what that row is without its increases or decreases is not said"));
}

/* "Work 4 rows even on these 12 sts": each of them has so many. */
static void add_stitches_on(tb_reader *r, const tb_value *value, GArray *acts)
{
	const tb_value *until = tb_value_get(value, TB_SLOT_until), *on = tb_value_get(value, TB_SLOT_on);
	on = on != NULL ? on : tb_value_get(until, TB_SLOT_on);
	if (tb_value_get(on, TB_SLOT_parts) != NULL)
		tb_build_claim(&r->b, on, acts);
}

/* How often, and at which rows, WHEN says that SENTENCE is worked, "every 4th row 3 times"; MORE: what is said behind it. */
static bool set_when(tb_reader *r, tb_sentence *sentence, const tb_value *value, const tb_value *when)
{
	const tb_value *often = tb_value_get(when, TB_SLOT_often);
	tb_reader_set_when(r, sentence, when);
	if (often == NULL)
		return true;
	if (!how_often(r, sentence, value, often, false))
		return false;
	tb_reader_settle_when(r, sentence, when);
	return true;
}

/* "2 plain rnds", where "Plain rnd: …" tells how they are worked. */
static bool names_plain(const tb_reader *r, const tb_value *value)
{
	const tb_lattice *l = &r->lattice;
	bool plain = tb_build_has(value, TB_SLOT_even) && !tb_build_has(value, TB_SLOT_stitch) && !tb_build_has(value, TB_SLOT_shape) &&
		!tb_build_has(value, TB_SLOT_tracks) && tb_reader_told_plain(r) != NULL;
	for (guint32 word = value->from; plain && word < value->to; word++) {
		if (tb_at_word(l->text->chars + l->start[word], "plain Plain PLAIN") > 0)
			return true;
	}
	return false;
}

/* Which way VALUE, of ends that are worked so, goes: "working 2 hdc in first and last st", "working hdc2tog at both ends". */
static bool goes_down(const tb_value *ends)
{
	return tb_value_get(ends, TB_SLOT_tog) != NULL;
}

/*
 * "Increase on every 6th round after Round 6 by working 2 hdc in the first and last st": what is said twice agrees, and
 * the row that it is counted from is the last. *SHAPE is what is worked at the ends.
 */
static bool check_ends(tb_reader *r, const tb_value *value, const tb_value **shape)
{
	const tb_value *by = *shape != NULL ? tb_value_get(*shape, TB_SLOT_by) : NULL;
	const tb_value *way = tb_value_get(value, TB_SLOT_way), *after = by != NULL ? tb_value_get(*shape, TB_SLOT_after) : NULL;
	if (after != NULL && (r->after_repeat || tb_build_figure(after, 0) != r->last_row))
		return tb_reader_fail(r, "rows-again-unknown", after->from, after->to, "Count from the last row that is worked.",
			"the rows before this do not end with row %u", tb_build_figure(after, 0));
	*shape = by != NULL ? by : *shape;
	return *shape == NULL || way == NULL || tb_value_is_symbol(tb_value_get(way, TB_SLOT_v), TB_SYMBOL_dec) == goes_down(*shape) ||
		tb_reader_fail(r, "not-worked", way->from, way->to, "Say one of the two.", "the stitches at the ends make it go the other way");
}

/* "…, making buttonholes as explained": in which rows is said elsewhere, and none is worked. */
static void tell_holes(tb_reader *r, const tb_value *holes)
{
	tb_where where = {.has_place = true, .place = tb_build_span(&r->b, holes->from, holes->to), .piece = r->piece};
	tb_diagnose(r->diagnostics, TB_WARNING, "holes-not-worked", &where,
		"in which of these rows the buttonholes are is not worked out; the rows are worked without them",
		"Write the rows with buttonholes out by their numbers, to have them in the chart.");
}

bool tb_reader_add_again(tb_reader *r, const tb_value *value, const tb_value *when, const tb_value *behind,
	tb_sentence *sentence, bool once)
{
	const tb_value *which = tb_value_get(value, TB_SLOT_rows), *acts = tb_value_get(value, TB_SLOT_acts);
	const tb_value *shape = tb_value_get(value, TB_SLOT_shape);
	const tb_value *but = tb_value_get(value, TB_SLOT_but), *turns = tb_value_get(value, TB_SLOT_turns);
	if (!check_ends(r, value, &shape))
		return false;
	if (but != NULL && !tb_reader_differ(r, but, sentence))
		return false;
	if (sentence->ends_otherwise && sentence->last_goes == NULL && tb_reader_turns_with(r, sentence, &sentence->ending))
		sentence->ends_otherwise = false;
	const tb_value *match = tb_value_get(value, TB_SLOT_match), *placed = tb_value_get(value, TB_SLOT_placed);
	if (placed != NULL && !set_placed(r, sentence, placed))
		return false;
	sentence->plain = tb_reader_told_plain(r);
	if (names_plain(r, value) || when != NULL || placed != NULL)
		tb_reader_use_told(r, sentence->plain);
	if (match != NULL) {
		set_match(r, sentence, match);
	} else if (tb_value_get(value, TB_SLOT_grow) != NULL) {
		if (!set_last(r, sentence, value, 1))
			return false;
		sentence->repeat_span = tb_build_span(&r->b, value->from, value->to);
	} else if (names_plain(r, value)) {
		sentence->repeat_of = tb_reader_told_plain(r);
		sentence->repeat_span = tb_build_span(&r->b, value->from, value->to);
	} else if (tb_value_get(value, TB_SLOT_even) != NULL) {
		if (which != NULL && !is_last_row(r, sentence, which))
			return false;
		const tb_value *stitch = shape == NULL && !tb_build_has(value, TB_SLOT_tracks) ? tb_value_get(value, TB_SLOT_stitch) : NULL;
		sentence->even_in = stitch != NULL ? tb_build_stitch(&r->b, stitch, NULL) : NULL;
		sentence->even_loops = tb_build_loops_of(tb_value_get(value, TB_SLOT_loops));
		if (turns != NULL) {
			sentence->even_in = tb_build_stitch(&r->b, tb_value_get(turns, TB_SLOT_a), NULL);
			sentence->turns_in = tb_build_stitch(&r->b, tb_value_get(turns, TB_SLOT_b), NULL);
		}
		sentence->even = tb_reader_even_row(r, sentence);
		sentence->alike = tb_build_has(value, TB_SLOT_alike);
		sentence->repeat_back = 1;
		sentence->repeat_span = tb_build_span(&r->b, value->from, value->to);
		sentence->repeat_first = sentence->repeat_last = r->last_row;
		const tb_value *tracks = tb_value_get(value, TB_SLOT_tracks);
		if (tracks != NULL && !tb_reader_set_tracks(r, sentence, tracks, tb_value_get(value, TB_SLOT_stitch)))
			return false;
		if ((tb_build_has(value, TB_SLOT_edge) || tb_build_has(value, TB_SLOT_together)) && tracks != NULL &&
			!tb_reader_join_tracks(r, sentence, value))
			return false;
		if (shape != NULL) {
			sentence->shaped = tb_reader_shaped_row(r, shape, tb_value_get(value, TB_SLOT_stitch), sentence);
			sentence->every = tb_number_make(r->b.arena, 1, sentence->span);
		}
	} else if (tb_build_has(value, TB_SLOT_alike) ? !tb_reader_set_alike(r, sentence, value) :
			   !set_which(r, sentence, which != NULL ? which : value) || !tb_reader_is_of_other(r, sentence, value)) {
		return false;
	}
	tb_reader_set_growing(r, sentence, value);
	if (tb_build_has(value, TB_SLOT_holes))
		tell_holes(r, tb_value_get(value, TB_SLOT_holes));
	if (!tb_reader_begins_again(r, sentence, value) || !tb_reader_set_tail(r, sentence, tb_value_get(value, TB_SLOT_tail)))
		return false;
	const tb_value *stays = tb_value_get(value, TB_SLOT_stays), *starts = tb_value_get(value, TB_SLOT_starts);
	if (starts != NULL && sentence->even != NULL)
		sentence->starts_row = tb_build_figure(starts, 0);
	else if (starts != NULL && tb_build_figure(starts, 0) != sentence->repeat_first)
		return tb_reader_fail(r, "rows-again-other", starts->from, starts->to, "Name the rows in their order.",
			"row %u is the first of the rows that are repeated", sentence->repeat_first);
	if (stays != NULL && !tb_reader_stays(r, sentence, stays))
		return false;
	if (!tb_reader_set_ending(r, sentence, tb_value_get(value, TB_SLOT_ending)))
		return false;
	const tb_value *n = tb_value_get(value, TB_SLOT_n);
	const tb_value *until = tb_value_get(value, TB_SLOT_until), *often = tb_value_get(until, TB_SLOT_until);
	if (often != NULL && !tb_reader_set_ending(r, sentence, tb_value_get(until, TB_SLOT_ending)))
		return false;
	until = often != NULL ? often : until;
	if (when != NULL && !set_when(r, sentence, value, when))
		return false;
	once = once || r->again_once || sentence->begin.count > 0 || but != NULL || tb_build_has(value, TB_SLOT_once);
	/* "Row 5: Rep Rows 3 and 4." */
	if (match == NULL && when == NULL && n == NULL && until == NULL && sentence->many.count > 0) {
		sentence->until = TB_REPEAT_TIMES;
		sentence->times = sentence->many;
		if (sentence->repeat_last > sentence->repeat_first || sentence->repeat_back > 1)
			return tb_reader_fail(r, "rows-again-times", value->from, value->to, "Say how often, as in Rep Rows 3-6 4 times.",
				"how often these rows are worked is not said");
	}
	if (match == NULL && n == NULL && until == NULL && sentence->first > 0 && sentence->first == sentence->last &&
		sentence->last_in.count == 0 && sentence->repeat_last > sentence->repeat_first)
		return tb_reader_fail(r, "rows-again-times", value->from, value->to, "Number all of them.",
			"one row is named here, and %u are repeated", sentence->repeat_last - sentence->repeat_first + 1);
	if (n != NULL) {
		sentence->until = TB_REPEAT_TIMES;
		sentence->times = tb_build_number(&r->b, n, 1);
		if (!tb_reader_agrees(r, sentence, n))
			return false;
	} else if (match == NULL && when == NULL && (until != NULL || sentence->many.count == 0) && !how_often(r, sentence, value, until, once)) {
		return false;
	}
	if (!tb_reader_set_next_and_every(r, sentence, tb_value_get(value, TB_SLOT_every), until))
		return false;
	g_autoptr(GArray) said = g_array_new(FALSE, FALSE, sizeof(tb_act));
	tb_acts more = {0};
	if (tb_value_is(behind, TB_KIND_claim))
		tb_build_claim(&r->b, behind, said);
	else if (behind != NULL)
		more = tb_reader_acts_behind(r, behind);
	if (sentence->ends_otherwise && sentence->last_goes == NULL)
		more = tb_reader_end_with(r, sentence, more);
	if (!tb_reader_part_again(r, sentence, &more))
		return false;
	add_stitches_on(r, value, said);
	for (unsigned i = 0; i < more.count; i++) {
		tb_acts rest = {more.acts + i, more.count - i};
		if (sentence->changes == NULL && tb_reader_turns_with(r, sentence, &rest))
			break;
		if (tb_reader_is_their_chain(r, sentence, &more.acts[i]))
			continue;
		tb_act act = more.acts[i];
		if (closes_round(r, sentence, &act))
			act.kind = TB_ACT_JOIN;
		if (tb_reader_close_last(r, sentence, said, &rest))
			return true;
		if (!may_follow(&act))
			return tb_reader_fail(r, "rows-again-more", (acts != NULL ? acts : value)->from, (acts != NULL ? acts : value)->to,
				"Write what follows as a row of its own.",
				"more is worked here than the rows that are repeated");
		g_array_append_val(said, act);
	}
	tb_sentence_set_acts(sentence, r->b.arena, said);
	if (sentence->once_more && sentence->claim_count != 1)
		return tb_reader_fail(r, "not-worked", value->from, value->to, "Say until how many sts: \"… until 14 sts remain\".",
			"whether the next row is one of these times is not said");
	tb_reader_set_within(r, sentence, tb_value_get(value, TB_SLOT_within));
	g_ptr_array_add(r->sentences, sentence);
	return true;
}
