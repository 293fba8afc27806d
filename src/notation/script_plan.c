/*
 * Rows worked again in several steps: "dec 1 st at each end of every row 3 times, then of every 4th row twice", "work 3
 * rows even, then rep Row 7", "*work 1 row even, dec 1 st at neck edge of next row; rep from * 4 (5, 6) times more".
 * Each step is a sentence; what stands behind all of them is of the last, and each size has its own last one.
 */
#include "notation/script.h"

/* So often are steps repeated at the most. */
#define MOST_PASSES 200u

static bool add_steps(tb_reader *r, const tb_value *value, const tb_value *behind, tb_sentence *sentence, bool once);

/* A step before the last: SENTENCE without its row's number. */
static tb_sentence *copy_step(tb_reader *r, const tb_sentence *sentence)
{
	tb_sentence *step = tb_arena_new(r->b.arena, tb_sentence);
	*step = *sentence;
	return step;
}

/* Takes the number from SENTENCE: a step before it has that. */
static void go_on_from(tb_sentence *sentence)
{
	sentence->first = sentence->last = 0;
	sentence->many.count = 0;
}

/* "of the 5th row and every foll 6th row": the even rows before it. False, told, where it may be the row called 5. */
static bool add_even_before(tb_reader *r, const tb_value *value, const tb_value *when, const tb_sentence *sentence)
{
	const tb_value *from = tb_value_get(when, TB_SLOT_from);
	unsigned nth = tb_build_figure(from, 0);
	if (from == NULL || nth < 2)
		return true;
	if (r->last_row > 0 && r->last_row < nth && !r->after_repeat)
		return tb_reader_fail(r, "not-worked", from->from, from->to, "Work so many rows even first: \"Work 4 rows even.\"",
			"whether this is row %u, or so many rows on, is not said", nth);
	tb_sentence *even = copy_step(r, sentence);
	if (!tb_reader_add_again(r, value, from, NULL, even, false))
		return false;
	even->shaped = NULL;
	even->times = tb_number_make(r->b.arena, (int)nth - 1, even->span);
	return true;
}

/* "every row 3 times (54 sts), then every 4th row twice": a step for each of its times, with the count behind it. */
static bool add_plan(tb_reader *r, const tb_value *value, const tb_value *behind, tb_sentence *sentence, bool once)
{
	const tb_value *plan = tb_value_get(value, TB_SLOT_plan);
	if (plan == NULL)
		return tb_reader_add_again(r, value, NULL, behind, sentence, once);
	const tb_value *const one[] = {plan}, *const *whens = one;
	guint32 count = 1;
	if (plan->type == TB_VALUE_LIST) {
		whens = tb_value_items(plan, r->scratch);
		count = plan->count;
	}
	for (guint32 i = 0; i < count; i++) {
		const tb_value *when = whens[i], *claim = i + 1 < count && tb_value_is(whens[i + 1], TB_KIND_claim) ? whens[++i] : NULL;
		bool last = i + 1 == count;
		tb_sentence *step = last ? sentence : copy_step(r, sentence);
		if (!add_even_before(r, value, when, step) || !tb_reader_add_again(r, value, when, last ? behind : claim, step, once))
			return false;
		go_on_from(sentence);
	}
	return true;
}

/* The sizes among SIZES that work what comes TIMES at least PASS times. */
static tb_size_set find_working(const tb_reader *r, const tb_number *times, tb_size_set sizes, int pass)
{
	tb_size_set working = 0;
	for (unsigned i = 0; i < tb_pattern_count_sizes(r->b.pattern); i++)
		if (tb_number_in(times, times->count == 1 ? 0 : i) >= pass)
			working |= (tb_size_set)1 << i;
	return sizes & working;
}

/* STEP once more, in SIZES alone; with its count or not. */
static void add_pass(tb_reader *r, const tb_sentence *step, tb_size_set sizes, bool counted)
{
	tb_sentence *again = copy_step(r, step);
	again->sizes &= sizes;
	if (!counted)
		again->claim_count = 0;
	if (again->sizes != 0)
		g_ptr_array_add(r->sentences, again);
}

/* The count of LAST in SIZES, which work none of its steps: they have it already. */
static void add_none(tb_reader *r, const tb_sentence *last, tb_size_set sizes)
{
	unsigned count = tb_pattern_count_sizes(r->b.pattern);
	tb_sentence *none = copy_step(r, last);
	int *values = tb_arena_take(r->b.arena, count * sizeof(int));
	for (unsigned i = 0; i < count; i++)
		values[i] = 0;
	none->sizes &= sizes;
	none->kind = TB_SENTENCE_REPEAT;
	none->until = TB_REPEAT_TIMES;
	none->times = (tb_number){count, values, last->span};
	none->shapes_next = none->once_more = false;
	if (none->sizes != 0 && none->claim_count > 0)
		g_ptr_array_add(r->sentences, none);
}

/* Whether one of STEPS is worked once and shaped, and all others are even: so many times are so many shaped rows. */
static bool shapes_once(const GPtrArray *steps)
{
	unsigned shaped = 0;
	for (guint i = 0; i < steps->len; i++) {
		const tb_sentence *step = steps->pdata[i];
		if (step->even == NULL)
			shaped += tb_number_is(&step->times, 1) ? 1 : 2;
	}
	return shaped == 1;
}

/* "*… rep from * 4 (5, 6) times more": the steps as often as each size has them, the count behind the last. */
static bool add_passes(tb_reader *r, const tb_value *value, const tb_value *behind, tb_sentence *sentence)
{
	const tb_value *often = tb_value_get(value, TB_SLOT_often);
	tb_number times = tb_build_number(&r->b, tb_value_get(often, TB_SLOT_n), 1);
	int more = tb_build_has(value, TB_SLOT_again) && !tb_build_has(often, TB_SLOT_total);
	guint from = r->sentences->len;
	if (!add_steps(r, tb_value_get(value, TB_SLOT_block), behind, sentence, true))
		return false;
	g_autoptr(GPtrArray) steps = g_ptr_array_new();
	for (guint i = from; i < r->sentences->len; i++)
		g_ptr_array_add(steps, r->sentences->pdata[i]);
	g_ptr_array_set_size(r->sentences, (gint)from);
	if (tb_build_has(often, TB_SLOT_each) && !shapes_once(steps))
		return tb_reader_fail(r, "rows-again-times", often->from, often->to, "Say how many times they are worked.",
			"how many of these rows come each time is not one");
	if (steps->len > 0)
		add_none(r, steps->pdata[steps->len - 1], ~find_working(r, &times, G_MAXUINT32, 1 - more));
	for (int pass = 1; ; pass++) {
		tb_size_set now = find_working(r, &times, G_MAXUINT32, pass - more), on = find_working(r, &times, now, pass + 1 - more);
		if (now == 0)
			break;
		if (pass > (int)MOST_PASSES)
			return tb_reader_fail(r, "rows-again-times", value->from, value->to, NULL, "these rows come more than %u times", MOST_PASSES);
		for (guint i = 0; i < steps->len; i++) {
			add_pass(r, steps->pdata[i], i + 1 < steps->len ? now : now & on, i + 1 < steps->len);
			if (i + 1 == steps->len)
				add_pass(r, steps->pdata[i], now & ~on, true);
		}
	}
	return r->sentences->len > from ||
		tb_reader_fail(r, "times-zero", value->from, value->to, "Write how many times it is worked.", "0 times is never");
}

/* False, told, where VALUE says something of all its steps that none of them takes up. */
static bool is_of_last(tb_reader *r, const tb_value *value)
{
	for (guint32 i = 0; i < value->count; i++) {
		tb_slot slot = (tb_slot)value->fields[i].slot;
		if (slot != TB_SLOT_first && slot != TB_SLOT_rest && slot != TB_SLOT_block && slot != TB_SLOT_often && slot != TB_SLOT_again && slot != TB_SLOT_claimed &&
			slot != TB_SLOT_more && slot != TB_SLOT_acts && slot != TB_SLOT_upon)
			return tb_reader_fail(r, "rows-again-more", value->from, value->to, "Write each step as a line of its own.",
				"of which of these rows something is said is not clear");
	}
	return true;
}

static bool add_steps(tb_reader *r, const tb_value *value, const tb_value *behind, tb_sentence *sentence, bool once)
{
	const tb_value *first = tb_value_get(value, TB_SLOT_first), *rest = tb_value_get(value, TB_SLOT_rest);
	if (tb_build_has(value, TB_SLOT_block))
		return is_of_last(r, value) && add_passes(r, value, behind, sentence);
	if (first == NULL)
		return add_plan(r, value, behind, sentence, once);
	if (!add_steps(r, first, rest == NULL ? first : tb_value_get(value, TB_SLOT_claimed), copy_step(r, sentence), false))
		return false;
	go_on_from(sentence);
	if (rest == NULL)
		return add_plan(r, value, behind, sentence, true);
	return is_of_last(r, value) && add_steps(r, rest, behind, sentence, true);
}

/* How many rows the sentences from FROM on work, as said in figures that hold in all SIZES; 0 where they are not. */
static unsigned count_said(const tb_reader *r, guint from, tb_size_set sizes)
{
	unsigned rows = 0;
	tb_size_set there = find_working(r, &(tb_number){1, (int[]){1}, {0}}, sizes, 1);
	for (guint i = from; i < r->sentences->len; i++) {
		const tb_sentence *step = r->sentences->pdata[i];
		bool plain = step->kind == TB_SENTENCE_REPEAT && step->until == TB_REPEAT_TIMES && step->times.count == 1 &&
			step->every.count == 0 && step->repeat_last == step->repeat_first && step->repeat_back <= 1;
		if ((step->sizes & there) == 0)
			continue;
		if (!plain || (step->sizes & there) != there)
			return 0;
		rows += (unsigned)MAX(step->times.values[0], 0);
	}
	return rows;
}

/* "Rows 38-43: *Work 1 row even, work dec row; rep from * 2 more times": the label numbers them all. */
static bool add_labelled(tb_reader *r, const tb_value *value, tb_sentence *sentence)
{
	unsigned named = sentence->last - sentence->first + 1;
	guint from = r->sentences->len;
	if (sentence->last_in.count > 0 || sentence->first != r->last_row + 1)
		return tb_reader_fail(r, "rows-again-times", value->from, value->to, "Leave out the rows' numbers.",
			"whether these are the rows that the label names is not known");
	sentence->first = sentence->last = 0;
	if (!add_steps(r, value, value, sentence, false))
		return false;
	unsigned said = count_said(r, from, sentence->sizes);
	return said == named || tb_reader_fail(r, "rows-again-times", value->from, value->to,
		"Leave out either the rows' numbers or how many there are.", "the label names %u rows, and %u are said", named, said);
}

bool tb_reader_again(tb_reader *r, const tb_value *value, tb_sentence *sentence)
{
	const tb_value *forms = tb_value_get(value, TB_SLOT_forms);
	if (forms != NULL) {
		tb_build_set_pattern(&r->b, forms);
		sentence->pattern_first = r->b.pattern_first;
		sentence->pattern_last = r->b.pattern_last;
	}
	if (tb_build_has(value, TB_SLOT_block) && sentence->first > 0)
		return add_labelled(r, value, sentence);
	return add_steps(r, value, value, sentence, false);
}
