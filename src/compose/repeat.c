/*
 * The unit that repeats in a stretch of a row.
 *
 * In the longest of the sizes every period is tried; a period's longest stretch gives the units it
 * may be cut into. The price of a unit is what is left to say: the runs before it, in it and behind
 * it. The cheapest is taken that stands in every size, with the same kinds of run around it.
 */
#include "compose/acts.h"

#include <string.h>

#define MOST_PERIOD 200u
/* Comparisons spent on one stretch; longer rows are searched for shorter periods only. */
#define MOST_WORK 2000000u
#define MOST_TRIED 24u

typedef struct {
	guint32 price;
	bool ends;    /* goes to the end of the stretch */
	bool special; /* begins with what is rarer in it */
	guint32 at, length;
	int times;
} candidate;

static gint compare(gconstpointer a, gconstpointer b)
{
	const candidate *x = a, *y = b;
	if (x->price != y->price)
		return x->price < y->price ? -1 : 1;
	if (x->ends != y->ends)
		return x->ends ? -1 : 1;
	if (x->special != y->special)
		return x->special ? -1 : 1;
	if (x->at != y->at)
		return x->at < y->at ? -1 : 1;
	return x->length < y->length ? -1 : x->length > y->length;
}

/* The runs in steps FROM to TO; EDGES counts where one run ends and another begins. */
static guint32 count_runs(const guint32 *edges, guint32 from, guint32 to)
{
	return to > from ? 1 + edges[to - 1] - edges[from] : 0;
}

/* Whether the step at AT is not the one most of the unit is made of. */
static bool is_special(const guint32 *steps, guint32 at, guint32 length)
{
	guint32 same = 0;
	for (guint32 i = 0; i < length; i++)
		same += steps[at + i] == steps[at];
	return same * 2 < length;
}

static bool is_whole(const tb_weave *v, guint32 step)
{
	guint8 kind = tb_composer_step(v->c, step)->kind;
	return kind == TB_STEP_CHAIN || kind == TB_STEP_SKIP;
}

/* Chains side by side are one space, and skips are one skip: nobody cuts them in two. */
static bool cuts(const tb_weave *v, const guint32 *steps, guint32 count, const candidate *one)
{
	guint32 behind = one->at + (guint32)one->times * one->length;
	guint32 first = steps[one->at], last = steps[one->at + one->length - 1];
	if (is_whole(v, first) && (last == first || (one->at > 0 && steps[one->at - 1] == first)))
		return true;
	return is_whole(v, last) && behind < count && steps[behind] == last;
}

static void add_candidates(const tb_weave *v, const guint32 *steps, const guint32 *edges,
	guint32 count, guint32 begin, guint32 end, guint32 period, GArray *found)
{
	for (guint32 at = begin; at < begin + period && at + 2 * period <= end; at++) {
		guint32 times = (end - at) / period, behind = at + times * period;
		guint32 runs = count_runs(edges, at, at + period);
		if (runs < 2)
			continue;
		candidate one = {.at = at, .length = period, .times = (int)times, .ends = behind == count};
		one.price =
			count_runs(edges, 0, at) + runs + 1 + count_runs(edges, behind, count);
		one.special = is_special(steps, at, period);
		if (!cuts(v, steps, count, &one))
			g_array_append_val(found, one);
	}
}

/* The longest stretch in which every step is the one PERIOD before. */
static bool find_longest(const guint32 *steps, guint32 count, guint32 period, guint32 *begin,
	guint32 *end)
{
	guint32 run = 0, best = 0;
	*end = 0;
	for (guint32 i = period; i < count; i++) {
		run = steps[i] == steps[i - period] ? run + 1 : 0;
		if (run > best) {
			best = run;
			*end = i + 1;
		}
	}
	*begin = best > 0 ? *end - best - period : 0;
	return best >= period;
}

/* Whether two stretches are runs of the same steps, whatever their lengths. */
static bool same_runs(const guint32 *a, guint32 a_count, const guint32 *b, guint32 b_count)
{
	guint32 i = 0, j = 0;
	while (i < a_count && j < b_count) {
		guint32 step = a[i];
		if (b[j] != step)
			return false;
		while (i < a_count && a[i] == step)
			i++;
		while (j < b_count && b[j] == step)
			j++;
	}
	return i == a_count && j == b_count;
}

/* Looks for the unit in another size: the same around it, and as often as it stands there. */
static bool fit(const guint32 *steps, guint32 count, const guint32 *model, guint32 model_count,
	const candidate *one, guint32 *at, int *times)
{
	const guint32 *unit = model + one->at;
	guint32 behind = one->at + (guint32)one->times * one->length;
	unsigned tried = 0;
	for (guint32 i = 0; i + one->length <= count && tried < MOST_TRIED; i++) {
		if (memcmp(steps + i, unit, one->length * sizeof *steps) != 0)
			continue;
		tried++;
		guint32 end = i + one->length;
		while (end + one->length <= count &&
			memcmp(steps + end, unit, one->length * sizeof *steps) == 0)
			end += one->length;
		if (same_runs(steps, i, model, one->at) &&
			same_runs(steps + end, count - end, model + behind, model_count - behind)) {
			*at = i;
			*times = (int)((end - i) / one->length);
			return true;
		}
	}
	return false;
}

static bool fit_all(const tb_weave *v, const tb_stretch *stretch, unsigned model,
	const candidate *one, tb_unit *unit)
{
	const guint32 *steps = v->lines[model]->steps + stretch->begin[model];
	guint32 count = stretch->end[model] - stretch->begin[model];
	unit->length = one->length;
	for (unsigned m = 0; m < v->members; m++) {
		guint32 begin = stretch->begin[m], at = one->at;
		unit->times[m] = one->times;
		if (m != model && !fit(v->lines[m]->steps + begin, stretch->end[m] - begin, steps, count,
				one, &at, &unit->times[m]))
			return false;
		unit->at[m] = begin + at;
	}
	return true;
}

static bool all_alike(const tb_weave *v, const tb_stretch *stretch)
{
	for (unsigned m = 1; m < v->members; m++) {
		if (!same_runs(v->lines[0]->steps + stretch->begin[0],
				stretch->end[0] - stretch->begin[0], v->lines[m]->steps + stretch->begin[m],
				stretch->end[m] - stretch->begin[m]))
			return false;
	}
	return true;
}

static unsigned find_model(const tb_weave *v, const tb_stretch *stretch)
{
	unsigned model = 0;
	for (unsigned m = 1; m < v->members; m++) {
		if (stretch->end[m] - stretch->begin[m] > stretch->end[model] - stretch->begin[model])
			model = m;
	}
	return model;
}

bool tb_weave_find_unit(const tb_weave *v, const tb_stretch *stretch, tb_unit *unit)
{
	unsigned model = find_model(v, stretch);
	const guint32 *steps = v->lines[model]->steps + stretch->begin[model];
	guint32 count = stretch->end[model] - stretch->begin[model];
	if (count < 4)
		return false;
	g_autofree guint32 *edges = g_new0(guint32, count);
	for (guint32 i = 1; i < count; i++)
		edges[i] = edges[i - 1] + (steps[i] != steps[i - 1]);
	guint32 plain = count_runs(edges, 0, count), begin, end;
	if (plain < 4)
		return false;
	g_autoptr(GArray) found = g_array_new(FALSE, FALSE, sizeof(candidate));
	guint32 longest = MIN(MIN(count / 2, MOST_PERIOD), MAX(MOST_WORK / count, 8u));
	for (guint32 period = 2; period <= longest; period++) {
		if (find_longest(steps, count, period, &begin, &end))
			add_candidates(v, steps, edges, count, begin, end, period, found);
	}
	g_array_sort(found, compare);
	bool alike = all_alike(v, stretch);
	for (guint i = 0; i < MIN(found->len, 4 * MOST_TRIED); i++) {
		const candidate *one = &g_array_index(found, candidate, i);
		if (alike && one->price >= plain)
			return false;
		if (fit_all(v, stretch, model, one, unit))
			return true;
	}
	return false;
}
