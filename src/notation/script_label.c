/* A row's name: its numbers, its side, the sizes that have it. */
#include "notation/script.h"

#include "support/limits.h"

#include <string.h>

static void add_range(const tb_value *rows, GArray *numbers)
{
	const tb_value *a = tb_value_get(rows, TB_SLOT_a), *b = tb_value_get(rows, TB_SLOT_b);
	if (a == NULL || a->type != TB_VALUE_NUMBER)
		return;
	double last = b != NULL && b->type == TB_VALUE_NUMBER ? b->figures[0] : a->figures[0];
	for (double i = a->figures[0]; i <= last && numbers->len <= TB_LIMIT_PIECE_ROWS; i++) {
		unsigned number = (unsigned)CLAMP(i, 0, TB_LIMIT_PIECE_ROWS + 1.0);
		g_array_append_val(numbers, number);
	}
	if (last < a->figures[0]) {
		unsigned from = (unsigned)CLAMP(a->figures[0], 0, TB_LIMIT_PIECE_ROWS + 1.0);
		g_array_append_val(numbers, from);
		unsigned back = 0; /* tells that they do not go up */
		g_array_append_val(numbers, back);
	}
}

static void add_numbers(const tb_value *rows, GArray *numbers)
{
	g_autoptr(GPtrArray) ranges = g_ptr_array_new();
	for (; rows != NULL; rows = tb_value_get(rows, TB_SLOT_l))
		g_ptr_array_add(ranges, (gpointer)(gsize)rows);
	for (guint i = ranges->len; i-- > 0;)
		add_range(ranges->pdata[i], numbers);
}

static bool check_numbers(tb_reader *r, const tb_value *rows, const GArray *numbers)
{
	for (const tb_value *at = rows; at != NULL; at = tb_value_get(at, TB_SLOT_l)) {
		if (tb_value_is(at, TB_KIND_pairs))
			return tb_reader_fail(r, "row-list", at->from, at->to, "Give these rows a line of their own.",
				"beside rows of each size no others stand");
	}
	for (guint i = 0; i < numbers->len; i++) {
		unsigned number = g_array_index(numbers, unsigned, i);
		if (number == 0 && i > 0)
			return tb_reader_fail(r, "row-list", rows->from, rows->to,
				"Begin with the lower number, as in Rows 3-6.", "these rows do not go up");
		if (number == 0 || number > TB_LIMIT_PIECE_ROWS)
			return tb_reader_fail(r, "row-number", rows->from, rows->to, "As in \"Row 1:\".",
				"rows are numbered from 1 to %u", TB_LIMIT_PIECE_ROWS);
		if (i > 0 && number <= g_array_index(numbers, unsigned, i - 1))
			return tb_reader_fail(r, "row-list", rows->from, rows->to,
				"Begin with the lower number, as in Rows 3-6.", "these rows do not go up");
	}
	return true;
}

bool tb_reader_rows(tb_reader *r, const tb_value *rows, unsigned *first, unsigned *last)
{
	g_autoptr(GArray) numbers = g_array_new(FALSE, FALSE, sizeof(unsigned));
	add_numbers(rows, numbers);
	*first = *last = 0;
	if (numbers->len == 0 || !check_numbers(r, rows, numbers))
		return false;
	*first = g_array_index(numbers, unsigned, 0);
	*last = g_array_index(numbers, unsigned, numbers->len - 1);
	if (*last - *first + 1 != numbers->len)
		return tb_reader_fail(r, "row-list", rows->from, rows->to,
			"Name rows that stand side by side.", "row %u does not follow row %u",
			g_array_index(numbers, unsigned, 1), *first);
	return true;
}

bool tb_reader_rows_down(const tb_value *rows, unsigned *first, unsigned *last)
{
	g_autoptr(GArray) numbers = g_array_new(FALSE, FALSE, sizeof(unsigned));
	add_numbers(rows, numbers);
	for (guint i = 1; i < numbers->len; i++) {
		unsigned number = g_array_index(numbers, unsigned, i);
		if (number == 0 || number + 1 != g_array_index(numbers, unsigned, i - 1))
			return false;
	}
	if (numbers->len < 2 || g_array_index(numbers, unsigned, 0) > TB_LIMIT_PIECE_ROWS)
		return false;
	*first = g_array_index(numbers, unsigned, numbers->len - 1);
	*last = g_array_index(numbers, unsigned, 0);
	return true;
}

/* "11-20 (12-24, 13-28)": the first and the last of these rows in each size. */
static bool set_pairs(tb_reader *r, tb_sentence *sentence, const tb_value *rows)
{
	if (!tb_reader_read_pairs(r, rows, &sentence->first_in, &sentence->last_in))
		return false;
	sentence->first = sentence->last = (unsigned)sentence->first_in.values[0];
	for (unsigned i = 0; i < sentence->first_in.count; i++) {
		int first = sentence->first_in.values[i], last = sentence->last_in.values[i];
		if (first < 1 || last < first || last > (int)TB_LIMIT_PIECE_ROWS)
			return tb_reader_fail(r, "row-list", rows->from, rows->to,
				"Begin with the lower number, as in Rows 3-6.", "these rows do not go up");
		sentence->last = MAX(sentence->last, (unsigned)last);
	}
	return true;
}

static bool set_numbers(tb_reader *r, tb_sentence *sentence, const tb_value *rows, GArray *numbers)
{
	if (tb_value_is(rows, TB_KIND_pairs))
		return set_pairs(r, sentence, rows);
	add_numbers(rows, numbers);
	if (numbers->len == 0)
		return tb_reader_fail(r, "row-number", rows->from, rows->to, "As in \"Row 1:\".", "this is no number of a row");
	if (!check_numbers(r, rows, numbers))
		return false;
	const tb_value *a = tb_value_get(rows, TB_SLOT_a), *b = tb_value_get(rows, TB_SLOT_b);
	sentence->first = g_array_index(numbers, unsigned, 0);
	sentence->last = g_array_index(numbers, unsigned, numbers->len - 1);
	if (a->count > 1 && tb_value_get(rows, TB_SLOT_l) == NULL) {
		sentence->first_in = tb_build_number(&r->b, a, 1);
		for (unsigned i = 0; i < sentence->first_in.count; i++) {
			if (sentence->first_in.values[i] < 1 ||
				sentence->first_in.values[i] > (int)TB_LIMIT_PIECE_ROWS)
				return tb_reader_fail(r, "row-number", rows->from, rows->to, "As in \"Row 1:\".",
					"rows are numbered from 1 to %u", TB_LIMIT_PIECE_ROWS);
		}
	}
	if (b != NULL && b->count > 1) {
		sentence->last_in = tb_build_number(&r->b, b, 1);
		for (unsigned i = 0; i < sentence->last_in.count; i++)
			sentence->last = MAX(sentence->last, (unsigned)MAX(sentence->last_in.values[i], 0));
		if (sentence->last > TB_LIMIT_PIECE_ROWS)
			return tb_reader_fail(r, "row-number", rows->from, rows->to, "As in \"Row 1:\".",
				"rows are numbered from 1 to %u", TB_LIMIT_PIECE_ROWS);
	}
	return true;
}

static void set_side(tb_reader *r, tb_sentence *sentence, const tb_value *side)
{
	if (side == NULL)
		return;
	sentence->side = tb_value_is_symbol(tb_value_get(side, TB_SLOT_v), TB_SYMBOL_ws) ? TB_SIDE_WRONG :
		TB_SIDE_RIGHT;
	sentence->side_span = tb_build_span(&r->b, side->from, side->to);
}

/* Names so many rows from FIRST on, "Next 3 (4, 5) rows": in each size its own. */
static void name_rows(tb_reader *r, tb_sentence *sentence, unsigned first, const tb_number *many)
{
	int *last = tb_arena_take(r->b.arena, many->count * sizeof(int));
	sentence->first = sentence->last = first;
	for (unsigned i = 0; i < many->count; i++) {
		int rows = many->values[i];
		last[i] = rows < 0 ? TB_NOT_IN_SIZE : (int)first + MIN(rows, (int)TB_LIMIT_PIECE_ROWS) - 1;
		sentence->last = MAX(sentence->last, (unsigned)MAX(last[i], 0));
	}
	sentence->last_in = (tb_number){0};
	if (many->count > 1) {
		sentence->last_in = *many;
		sentence->last_in.values = last;
	}
}

/* How many rows the label of SENTENCE names in size I. */
static unsigned rows_named(const tb_sentence *sentence, unsigned i)
{
	if (sentence->first == 0)
		return (unsigned)MAX(tb_number_in(&sentence->many, sentence->many.count == 1 ? 0 : i), 0);
	int first = sentence->first_in.count > 0 ? tb_number_in(&sentence->first_in, i) : (int)sentence->first;
	int last = sentence->last_in.count > 0 ? tb_number_in(&sentence->last_in, i) : (int)sentence->last;
	return (unsigned)MAX(last - first + 1, 0);
}

tb_size_set tb_reader_sizes_of(const tb_reader *r, const tb_sentence *sentence)
{
	unsigned count = tb_pattern_count_sizes(r->b.pattern);
	tb_size_set sizes = 0;
	for (unsigned i = 0; i < count; i++) {
		bool graded = sentence != NULL && (sentence->last_in.count > 1 || sentence->first_in.count > 1 || sentence->many.count > 1);
		bool here = sentence == NULL || ((sentence->sizes >> i & 1) != 0 && (!graded || rows_named(sentence, i) > 0));
		sizes |= here ? (tb_size_set)1 << i : 0;
	}
	return sizes;
}

/* "Rnd 4 (and the next 3 rounds)": so many, and the one before them. */
static tb_number and_more(tb_reader *r, const tb_value *also)
{
	tb_number many = tb_build_number(&r->b, also, 0);
	int *values = tb_arena_take(r->b.arena, many.count * sizeof(int));
	for (unsigned i = 0; i < many.count; i++)
		values[i] = many.values[i] + (many.values[i] >= 0);
	many.values = values;
	return many;
}

/* "Rnd 4: Sc around for 3 rounds", "Rnds 4-6 (3 rounds)": the label names the first of them, or them all. */
bool tb_reader_set_for(tb_reader *r, tb_sentence *sentence, const tb_value *said)
{
	if (said == NULL)
		return true;
	const tb_value *next = tb_value_get(said, TB_SLOT_next);
	tb_number many = next != NULL ? tb_build_number(&r->b, next, 1) : and_more(r, tb_value_get(said, TB_SLOT_also));
	if (sentence->first == 0 && sentence->many.count == 0)
		sentence->many = many;
	else if (sentence->last == sentence->first && sentence->first_in.count == 0)
		name_rows(r, sentence, sentence->first, &many);
	unsigned sizes = MAX(MAX(many.count, sentence->last_in.count), 1);
	for (unsigned i = 0; i < sizes; i++) {
		unsigned said_here = (unsigned)MAX(tb_number_in(&many, many.count == 1 ? 0 : i), 0);
		unsigned named = rows_named(sentence, i);
		if (named != said_here)
			return tb_reader_fail(r, "row-list", said->from, said->to, "Name them all, or the first of them.",
				"the label names %u rows, and %u are said", named, said_here);
	}
	return true;
}

bool tb_reader_agrees(tb_reader *r, const tb_sentence *sentence, const tb_value *n)
{
	unsigned named = sentence->last - sentence->first + 1;
	if (sentence->first == 0 || named == 1 || sentence->last_in.count > 0 || n->type != TB_VALUE_NUMBER ||
		n->count != 1 || (unsigned)CLAMP(n->figures[0], 1, TB_LIMIT_PIECE_ROWS) == named)
		return true;
	return tb_reader_fail(r, "rows-again-times", n->from, n->to,
		"Leave out either the rows' numbers or how many there are.",
		"the label names %u rows, and %d are said", named, (int)n->figures[0]);
}

/* How many rows a label says that it names; NULL where it does not. */
static const tb_value *find_many(tb_reader *r, const tb_value *more)
{
	const tb_value *found = tb_value_is(more, TB_KIND_label) ? more : NULL;
	if (more == NULL || more->type != TB_VALUE_LIST)
		return found;
	const tb_value *const *items = tb_value_items(more, r->scratch);
	for (guint32 i = 0; i < more->count && found == NULL; i++)
		found = find_many(r, items[i]);
	return found;
}

/* "Row 3 (inc 1 st at end):", "Dec row:": which way the row goes, and how far where that is said. */
static void set_shape(tb_reader *r, tb_sentence *sentence, const tb_value *said)
{
	const tb_value *named = tb_value_get(said, TB_SLOT_named);
	if (tb_value_is_symbol(named, TB_SYMBOL_inc) || tb_value_is_symbol(named, TB_SYMBOL_dec))
		sentence->shape = (tb_shaped_so){tb_value_is_symbol(named, TB_SYMBOL_dec) ? -1 : 1,
			tb_build_figure(tb_value_get(said, TB_SLOT_n), 0) * (tb_build_has(said, TB_SLOT_twice) ? 2 : 1),
			tb_build_span(&r->b, said->from, said->to)};
}

static void set_more(tb_reader *r, tb_sentence *sentence, const tb_value *more, unsigned *every)
{
	if (more == NULL)
		return;
	if (more->type == TB_VALUE_LIST) {
		const tb_value *const *items = tb_value_items(more, r->scratch);
		for (guint32 i = 0; i < more->count; i++)
			set_more(r, sentence, items[i], every);
	} else if (tb_value_is(more, TB_KIND_side)) {
		const tb_value *s = tb_value_get(more, TB_SLOT_s);
		set_side(r, sentence, s != NULL ? s : more);
	} else if (tb_value_is(more, TB_KIND_sizes)) {
		sentence->sizes = tb_build_sizes(&r->b, tb_value_get(more, TB_SLOT_names));
	} else if (tb_value_is(more, TB_KIND_every)) {
		*every = tb_build_figure(tb_value_get(more, TB_SLOT_last), TB_LIMIT_PIECE_ROWS);
	} else if (more->type == TB_VALUE_NODE && tb_build_has(more, TB_SLOT_flanks)) {
		sentence->joined_sides = tb_build_figure(tb_value_get(more, TB_SLOT_flanks), TB_LIMIT_NUMBER);
	} else {
		set_shape(r, sentence, more);
	}
}

/* "Row 3 (inc row):" is called so, as "Inc row:" is. */
static void call_row(tb_reader *r, const tb_value *more, unsigned row)
{
	if (more == NULL)
		return;
	if (more->type == TB_VALUE_LIST) {
		const tb_value *const *items = tb_value_items(more, r->scratch);
		for (guint32 i = 0; i < more->count; i++)
			call_row(r, items[i], row);
		return;
	}
	const tb_value *named = more->type == TB_VALUE_NODE ? tb_value_get(more, TB_SLOT_named) : NULL;
	if (named != NULL)
		r->row_called[named->symbol] = row;
}

/* "Short row 2:", "Short rows 2-4:": short rows have numbers of their own. False, told, where they cannot be. */
static bool set_short(tb_reader *r, tb_sentence *sentence, const tb_value *which)
{
	unsigned first = 0, last = 0;
	if (which->type == TB_VALUE_NUMBER)
		first = last = (unsigned)CLAMP(which->figures[0], 0, (int)TB_LIMIT_PIECE_ROWS);
	else if (!tb_reader_rows(r, which, &first, &last))
		return false;
	if (first == 0 || last < first || last > TB_READER_SHORT_ROWS)
		return tb_reader_fail(r, "row-number", which->from, which->to, "Number them from 1.",
			"short rows have numbers from 1 to %u", TB_READER_SHORT_ROWS);
	r->short_before = r->short_rows[first - 1];
	for (unsigned row = first; row <= last; row++)
		r->short_rows[row - 1] = sentence;
	if (last > first) {
		sentence->only_named = false;
		sentence->many = tb_number_make(r->b.arena, (int)(last - first + 1), sentence->span);
		if (r->last_row > 0)
			name_rows(r, sentence, r->last_row + 1, &sentence->many);
	}
	return true;
}

/* Whether rows above are more in one size than in another: what comes behind has no one number. */
static bool is_graded_in_rows(const tb_reader *r)
{
	for (guint i = 0; i < r->sentences->len; i++) {
		if (((const tb_sentence *)r->sentences->pdata[i])->last_in.count > 1)
			return true;
	}
	return false;
}

/* "R5: Ch 1, sc across." behind "R4: …, turn.": the last row is not turned any more. */
static bool comes_turned(const tb_reader *r)
{
	const tb_sentence *before = r->sentences->len > 0 ? r->sentences->pdata[r->sentences->len - 1] : NULL;
	return before != NULL && before->kind == TB_SENTENCE_ROWS && !before->is_round && before->acts.count > 0 &&
		before->acts.acts[before->acts.count - 1].kind == TB_ACT_TURN;
}

const char *tb_reader_series(const tb_reader *r, const tb_value *said)
{
	const tb_value *series = tb_value_get(said, TB_SLOT_series);
	const tb_lattice *l = &r->lattice;
	if (series == NULL)
		return NULL;
	g_autofree char *name = g_ascii_strdown(l->text->chars + l->start[series->from], (gssize)(l->stop[series->to - 1] - l->start[series->from]));
	/* "Rows A and B" are of those that "Row A" is one of */
	size_t length = strcspn(name, "0123456789");
	while (length > 0 && name[length - 1] == ' ')
		length--;
	name[length] = '\0';
	if (length > 2 && name[length - 1] == 's')
		name[length - 1] = '\0';
	return tb_arena_copy(r->b.arena, name, strlen(name));
}

bool tb_reader_set_label(tb_reader *r, tb_sentence *sentence, const tb_value *label, GArray *numbers,
	unsigned *every)
{
	const tb_value *word = tb_value_get(label, TB_SLOT_word), *rows = tb_value_get(label, TB_SLOT_rows);
	const tb_value *name = tb_value_get(label, TB_SLOT_name), *next = tb_value_get(label, TB_SLOT_next);
	sentence->round_unsaid = tb_value_get(word, TB_SLOT_round) == NULL && tb_value_get(word, TB_SLOT_short) != NULL &&
		!tb_reader_is_turned(r) && !comes_turned(r);
	sentence->is_round = tb_value_get(word, TB_SLOT_round) != NULL || sentence->round_unsaid;
	r->is_round = sentence->is_round;
	r->only_number = word == NULL && rows != NULL;
	r->short_before = NULL;
	set_side(r, sentence, tb_value_get(label, TB_SLOT_side));
	set_more(r, sentence, tb_value_get(label, TB_SLOT_more), every);
	sentence->series = tb_reader_series(r, label);
	/* "Even row:" beside "Dec row:"; alone it may be one with an even number */
	if (name != NULL && tb_build_has(name, TB_SLOT_told) && !r->told_here)
		return tb_reader_fail(r, "row-number", name->from, name->to, "As in \"Row 2:\", or \"Plain row:\".",
			"which rows these are is not said");
	if (name != NULL)
		set_shape(r, sentence, name);
	if (rows != NULL && rows->type == TB_VALUE_NUMBER) {
		sentence->first = sentence->last = (unsigned)CLAMP(rows->figures[0], 0, TB_LIMIT_PIECE_ROWS);
		call_row(r, tb_value_get(label, TB_SLOT_more), sentence->first);
		r->row = sentence->first;
		return true;
	}
	if (rows != NULL) {
		bool good = set_numbers(r, sentence, rows, numbers);
		const tb_value *many = find_many(r, tb_value_get(label, TB_SLOT_more));
		/* rows that do not stand side by side are not counted so */
		if (good && many != NULL && (sentence->last_in.count > 0 ||
				sentence->last - sentence->first + 1 == MAX(numbers->len, 1u)))
			good = tb_reader_set_for(r, sentence, many);
		if (good && sentence->first == sentence->last)
			call_row(r, tb_value_get(label, TB_SLOT_more), sentence->first);
		r->row = sentence->first;
		return good;
	}
	if (next != NULL) {
		tb_number many = tb_build_number(&r->b, next, 1);
		if (tb_number_is(&many, 0))
			return tb_reader_fail(r, "times-zero", next->from, next->to, "In a size bracket 0 leaves a size out.",
				"0 rows are none");
		if (r->last_row > 0)
			name_rows(r, sentence, r->last_row + 1, &many);
		else
			sentence->many = many;
		r->row = sentence->first;
		return true;
	}
	if (tb_value_is_symbol(tb_value_get(name, TB_SLOT_v), TB_SYMBOL_start))
		return true;
	if (r->last_row > 0)
		sentence->first = sentence->last = r->last_row + 1;
	r->row = sentence->first;
	sentence->only_named = true;
	const tb_value *named = tb_value_get(name, TB_SLOT_named);
	if (named != NULL) {
		r->row_called[named->symbol] = is_graded_in_rows(r) ? 0 : sentence->first;
		r->sentence_called[named->symbol] = sentence;
		r->nth_called[named->symbol] = tb_build_one_number(tb_value_get(name, TB_SLOT_nth), 0);
	}
	const tb_value *short_row = tb_value_get(label, TB_SLOT_short);
	return short_row == NULL || set_short(r, sentence, short_row);
}

/* "Rows 5-18: rep Row 4 - 16" is no Rows 4 to 16 where only four were worked: those are stitches. */
static bool repeats_unknown(const tb_reader *r, const tb_value *line)
{
	const tb_value *which = tb_value_get(tb_value_get(line, TB_SLOT_again), TB_SLOT_rows);
	const tb_value *last = tb_value_get(tb_value_get(which, TB_SLOT_rows), TB_SLOT_b);
	return last != NULL && r->last_row > 0 && tb_build_figure(last, 0) > r->last_row;
}

const tb_value *tb_reader_likely(const tb_reader *r, const tb_value *line)
{
	for (unsigned i = 0; i < r->reading_count && repeats_unknown(r, line); i++) {
		const tb_value *other = r->readings[i].value;
		if (tb_value_get(other, TB_SLOT_again) != NULL && !repeats_unknown(r, other))
			return other;
	}
	return line;
}
