/*
 * From steps to acts, for several sizes at once.
 *
 * A stretch of a row is either runs, the same kinds of step one after another in every size, whose
 * lengths may differ and then stand in a size bracket; or something, a unit that is the same in all
 * sizes and stands so many times, and something again. Of all units the one that leaves the fewest
 * words to say is taken (repeat.c), and what stands before, in and behind it is said in the
 * same way.
 */
#include "compose/acts.h"

#include <string.h>

/* Repeats stand no deeper in each other than this. */
#define MOST_DEPTH 3u
/* "to last n sts" is said up to this many. */
#define MOST_LAST 6u

tb_number tb_compose_number(tb_composer *c, const int *values, tb_size_set sizes)
{
	int *copy = tb_arena_take(c->arena, c->sizes * sizeof(int));
	bool same = true;
	/* "not in this size" is a value like any other: those after it are compared with it */
	const int *first = NULL;
	for (unsigned i = 0; i < c->sizes; i++) {
		copy[i] = sizes >> i & 1 ? values[i] : TB_NOT_IN_SIZE;
		if (!(sizes >> i & 1))
			continue;
		if (first == NULL)
			first = &values[i];
		same = same && values[i] == *first;
	}
	if (same && first != NULL)
		copy[0] = *first;
	return (tb_number){same ? 1 : c->sizes, copy, {0, 0}};
}

static tb_number one_number(const tb_weave *v, int value)
{
	int *copy = tb_arena_new(v->c->arena, int);
	*copy = value;
	return (tb_number){1, copy, {0, 0}};
}

/* The number of a token in the sizes of the weave. */
static tb_number token_number(const tb_weave *v, const int *values)
{
	int by_size[TB_MAX_SIZES] = {0};
	tb_size_set sizes = 0;
	for (unsigned m = 0; m < v->members; m++) {
		by_size[v->size_of[m]] = values[m];
		sizes |= (tb_size_set)1 << v->size_of[m];
	}
	return tb_compose_number(v->c, by_size, sizes);
}

static bool all_are(const tb_weave *v, const int *values, int value)
{
	for (unsigned m = 0; m < v->members; m++) {
		if (values[m] != value)
			return false;
	}
	return true;
}

static bool all_same(const tb_weave *v, const int *values)
{
	return all_are(v, values, values[0]);
}

static int least(const tb_weave *v, const int *values)
{
	int result = values[0];
	for (unsigned m = 1; m < v->members; m++)
		result = MIN(result, values[m]);
	return result;
}

static int most(const tb_weave *v, const int *values)
{
	int result = values[0];
	for (unsigned m = 1; m < v->members; m++)
		result = MAX(result, values[m]);
	return result;
}

static const tb_stitch *stitch_of(const tb_weave *v, guint32 number)
{
	return tb_library_get(v->c->pattern->library, number);
}

/* Whether so many of the step are one act, "dc in next 3 sts". */
static bool is_run(const tb_weave *v, const tb_step *step)
{
	switch ((tb_step_kind)step->kind) {
	case TB_STEP_CHAIN:
		return true;
	case TB_STEP_SKIP:
		return !(step->flags & TB_STEP_FIRST_PLACE);
	case TB_STEP_WORK:
		if (step->flags & TB_STEP_INCREASE)
			return false;
		return ((step->in == TB_IN_NEXT && stitch_of(v, step->stitch)->takes == 1) ||
			step->in == TB_IN_SKIPPED || step->in == TB_IN_RING || step->in == TB_IN_EDGE);
	case TB_STEP_GROUP:
		return step->in == TB_IN_NEXT;
	case TB_STEP_KNOT:
	case TB_STEP_JOIN_YARN:
	case TB_STEP_TURNING:
		break;
	}
	return false;
}

static tb_acts keep_acts(const tb_weave *v, const GArray *acts)
{
	tb_act *copy = tb_arena_take(v->c->arena, (acts->len + 1u) * sizeof(tb_act));
	if (acts->len > 0)
		memcpy(copy, acts->data, acts->len * sizeof(tb_act));
	return (tb_acts){copy, acts->len};
}

static tb_acts make_body(const tb_weave *v, guint32 number)
{
	g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
	gsize size;
	const tb_body_part *parts = g_bytes_get_data(v->c->bodies->pdata[number], &size);
	for (gsize i = 0; i < size / sizeof *parts; i++) {
		tb_act act = {.kind = TB_ACT_WORK, .stitch = stitch_of(v, parts[i].stitch),
			.each = one_number(v, 1)};
		act.place = (tb_place){.in = TB_IN_NEXT, .rows_below = 1};
		act.place.count = one_number(v, (int)parts[i].count);
		act.place.around = act.stitch->post != TB_POST_NONE;
		if (act.stitch == v->c->chain) {
			act.kind = TB_ACT_CHAIN;
			act.count = act.place.count;
			act.stitch = NULL;
		}
		g_array_append_val(acts, act);
	}
	return keep_acts(v, acts);
}

static tb_place make_place(const tb_weave *v, const tb_step *step, tb_number count)
{
	bool gap = step->in == TB_IN_BETWEEN;
	tb_place place = {.in = step->in, .target = step->target, .count = count,
		.space_chains = step->space, .rows_below = gap ? 1 : MAX(step->rows_below, 1),
		.deeper = gap ? step->rows_below : 0, .loops = step->loops};
	if (step->target == TB_TARGET_NAMED)
		place.named = stitch_of(v, step->named);
	if (step->in == TB_IN_NTH_CHAIN || step->in == TB_IN_NTH_STITCH)
		place.count = one_number(v,
			(int)(step->kind == TB_STEP_GROUP ? step->named : step->number));
	return place;
}

static void add_turning(const tb_weave *v, const tb_step *step, GArray *acts)
{
	bool counted = step->flags & TB_STEP_COUNTED;
	tb_act act = {.kind = TB_ACT_CHAIN, .count = one_number(v, (int)step->number),
		.counts = counted ? TB_COUNTS : TB_COUNTS_NOT,
		.stitch = counted ? stitch_of(v, step->named) : NULL};
	g_array_append_val(acts, act);
	if (!(step->flags & TB_STEP_SKIP_FIRST))
		return;
	tb_act skip = {.kind = TB_ACT_SKIP};
	skip.place = (tb_place){.in = TB_IN_FIRST, .rows_below = 1, .count = one_number(v, 1)};
	g_array_append_val(acts, skip);
}

static tb_act make_act(const tb_weave *v, const tb_step *step, tb_number count)
{
	tb_act act = {.place = make_place(v, step, count)};
	switch ((tb_step_kind)step->kind) {
	case TB_STEP_JOIN_YARN:
		act.kind = TB_ACT_JOIN_YARN;
		act.place = (tb_place){.in = step->number == 1 ? TB_IN_FIRST : TB_IN_NTH_STITCH,
			.rows_below = 1, .count = one_number(v, (int)step->number)};
		break;
	case TB_STEP_CHAIN:
	case TB_STEP_TURNING:
		act = (tb_act){.kind = TB_ACT_CHAIN, .count = count};
		break;
	case TB_STEP_SKIP:
		act.kind = TB_ACT_SKIP;
		act.place.in = TB_IN_NEXT;
		if (step->flags & TB_STEP_FIRST_PLACE)
			act.place.count = one_number(v, (int)step->number);
		break;
	case TB_STEP_WORK:
		act.kind = TB_ACT_WORK;
		act.stitch = stitch_of(v, step->stitch);
		act.each = one_number(v, (int)step->each);
		act.place.around = act.stitch->post != TB_POST_NONE;
		act.do_not_skip_behind = (step->flags & TB_STEP_INCREASE) != 0;
		act.counts = step->flags & TB_STEP_COUNTED ? TB_COUNTS
			: step->flags & TB_STEP_NOT_COUNTED    ? TB_COUNTS_NOT
												   : TB_COUNTS_UNSAID;
		if (step->in == TB_IN_RING || step->in == TB_IN_EDGE) {
			act.each = count;
			act.place.count = one_number(v, 1);
		}
		break;
	case TB_STEP_KNOT:
		act.kind = TB_ACT_KNOT;
		act.count = one_number(v, (int)step->number);
		break;
	case TB_STEP_GROUP:
		act.kind = TB_ACT_GROUP;
		act.body = make_body(v, step->number);
		break;
	}
	return act;
}

/* The places behind the token that are still unworked, by member. */
static void find_left(const tb_weave *v, const guint32 *due, int *left)
{
	for (unsigned m = 0; m < v->members; m++)
		left[m] = (int)v->lines[m]->places - (int)due[m];
}

static bool is_plain(const tb_weave *v, const tb_step *step)
{
	return step->kind == TB_STEP_WORK && step->in == TB_IN_NEXT && step->rows_below == 1 &&
		step->target != TB_TARGET_SPACE && step->target != TB_TARGET_NAMED &&
		!(step->flags & TB_STEP_INCREASE) && stitch_of(v, step->stitch)->takes == 1;
}

/* "dc in each st across", "dc in last st", "dc in top of tch", where the row lets it be said so. */
static void say_end(const tb_weave *v, const tb_step *step, const int *n, const guint32 *due,
	bool ends, tb_act *act)
{
	int left[TB_MAX_SIZES];
	find_left(v, due, left);
	bool leaves = false, turning = true, whole = false;
	for (unsigned m = 0; m < v->members; m++) {
		leaves = leaves || v->lines[m]->leave > 0;
		turning = turning && v->lines[m]->ends_in_turning;
		whole = whole || (int)v->lines[m]->places <= n[m] + 2;
	}
	if (v->depth > 0 || !v->is_last || act->kind != TB_ACT_WORK)
		return;
	bool space = step->in == TB_IN_NEXT && step->target == TB_TARGET_SPACE;
	if (space && ends && !leaves && least(v, n) >= 2) {
		act->place.in = TB_IN_EACH;
		act->place.count = one_number(v, 0);
		return;
	}
	if (!is_plain(v, step))
		return;
	if (ends && all_are(v, left, 0) && !leaves) {
		bool few = all_same(v, n) && n[0] <= 3 && !whole;
		if (all_are(v, n, 1) && turning && step->each == 1 && !act->place.around) {
			act->place.in = TB_IN_NEXT;
			act->place.target = TB_TARGET_TURNING_CHAIN;
		} else if (all_are(v, n, 1) || few) {
			act->place.in = TB_IN_LAST;
		} else {
			act->place.in = TB_IN_EACH;
			act->place.count = one_number(v, 0);
		}
	} else if (all_same(v, left) && left[0] > 0 && left[0] <= (int)MOST_LAST && least(v, n) >= 2 &&
		(!all_same(v, n) || n[0] >= 8)) {
		act->place.in = TB_IN_EACH;
		act->place.count = one_number(v, left[0]);
	}
}

/* REPEAT as a whole: to the row's end where that is near and the same in all sizes. */
static void add_repeat(tb_weave *v, const GArray *body, const int *times, const guint32 *begin,
	const guint32 *due, GArray *acts)
{
	tb_act act = {.kind = TB_ACT_REPEAT, .body = keep_acts(v, body)};
	int left[TB_MAX_SIZES] = {0}, needs = 0;
	bool takes = true;
	find_left(v, due, left);
	for (unsigned m = 0; m < v->members; m++) {
		takes = takes && due[m] > begin[m];
		needs = MAX(needs, ((int)due[m] - (int)begin[m]) / MAX(times[m], 1));
	}
	bool near = all_same(v, left) && left[0] <= 2 * needs + (int)MOST_LAST;
	if (v->depth == 0 && v->is_last && !v->has_open && takes && near && most(v, times) >= 2) {
		act.until = TB_UNTIL_END;
		act.count = one_number(v, left[0]);
		v->has_open = true;
	} else if (all_are(v, times, 1)) {
		g_array_append_vals(acts, body->data, body->len);
		return;
	} else {
		act.until = TB_UNTIL_TIMES;
		act.count = token_number(v, times);
	}
	g_array_append_val(acts, act);
}

/* A run of N of one step in each member; DUE behind it and BEGIN before it, by member. */
static void add_token(tb_weave *v, guint32 number, const int *n, const guint32 *begin,
	const guint32 *due, bool ends, GArray *acts)
{
	const tb_step *step = tb_composer_step(v->c, number);
	if (step->kind == TB_STEP_TURNING) {
		add_turning(v, step, acts);
		return;
	}
	if (step->kind == TB_STEP_WORK && step->in == TB_IN_SKIPPED) {
		tb_act way = {.kind = step->flags & TB_STEP_BEHIND ? TB_ACT_BEHIND : TB_ACT_IN_FRONT};
		g_array_append_val(acts, way);
	}
	if (step->kind == TB_STEP_SKIP && (step->flags & TB_STEP_BEHIND)) {
		tb_act said = {.kind = TB_ACT_SKIP_BEHIND};
		g_array_append_val(acts, said);
	}
	if (is_run(v, step) || all_are(v, n, 1)) {
		bool counted = is_run(v, step);
		tb_act act = make_act(v, step, counted ? token_number(v, n) : one_number(v, 1));
		say_end(v, step, n, due, ends, &act);
		g_array_append_val(acts, act);
		return;
	}
	g_autoptr(GArray) body = g_array_new(FALSE, FALSE, sizeof(tb_act));
	tb_act act = make_act(v, step, one_number(v, 1));
	g_array_append_val(body, act);
	add_repeat(v, body, n, begin, due, acts);
}

static guint32 due_before(const tb_weave *v, const tb_stretch *stretch, unsigned m, guint32 at)
{
	return at > 0 ? v->lines[m]->due[at - 1] : 0;
}

/* Where the run at AT ends. */
static guint32 run_end(const tb_weave *v, const tb_stretch *stretch, unsigned m, guint32 at)
{
	const guint32 *steps = v->lines[m]->steps;
	guint32 end = at + 1;
	while (end < stretch->end[m] && steps[end] == steps[at])
		end++;
	return end;
}

/* Says the stretch as runs; false when its sizes are not made alike. */
static bool add_runs(tb_weave *v, const tb_stretch *stretch, GArray *acts)
{
	guint32 at[TB_MAX_SIZES] = {0}, begin[TB_MAX_SIZES], due[TB_MAX_SIZES];
	int n[TB_MAX_SIZES];
	for (unsigned m = 0; m < v->members; m++)
		at[m] = stretch->begin[m];
	while (at[0] < stretch->end[0]) {
		guint32 number = v->lines[0]->steps[at[0]];
		bool ends = true;
		for (unsigned m = 0; m < v->members; m++) {
			if (at[m] >= stretch->end[m] || v->lines[m]->steps[at[m]] != number)
				return false;
			guint32 end = run_end(v, stretch, m, at[m]);
			begin[m] = due_before(v, stretch, m, at[m]);
			due[m] = v->lines[m]->due[end - 1];
			n[m] = (int)(end - at[m]);
			at[m] = end;
			ends = ends && end == stretch->end[m];
		}
		add_token(v, number, n, begin, due, ends, acts);
	}
	for (unsigned m = 1; m < v->members; m++) {
		if (at[m] != stretch->end[m])
			return false;
	}
	return true;
}

/* What one pass of the unit does, which is the same in all sizes. */
static bool add_unit(const tb_weave *v, guint32 at, guint32 length, GArray *body)
{
	tb_weave inner = *v;
	tb_stretch stretch = {.begin = {at}, .end = {at + length}};
	inner.members = 1;
	inner.depth++;
	inner.is_last = false;
	return tb_weave_stretch(&inner, &stretch, body);
}

static bool add_found(tb_weave *v, const tb_stretch *stretch, const tb_unit *unit, GArray *acts)
{
	tb_stretch near = *stretch, far = *stretch;
	guint32 begin[TB_MAX_SIZES], due[TB_MAX_SIZES];
	bool is_last = v->is_last;
	g_autoptr(GArray) body = g_array_new(FALSE, FALSE, sizeof(tb_act));
	for (unsigned m = 0; m < v->members; m++) {
		near.end[m] = unit->at[m];
		far.begin[m] = unit->at[m] + (guint32)unit->times[m] * unit->length;
		begin[m] = due_before(v, stretch, m, unit->at[m]);
		due[m] = v->lines[m]->due[far.begin[m] - 1];
	}
	v->is_last = false;
	bool good = tb_weave_stretch(v, &near, acts);
	v->is_last = is_last;
	if (!good || !add_unit(v, unit->at[0], unit->length, body))
		return false;
	add_repeat(v, body, unit->times, begin, due, acts);
	return tb_weave_stretch(v, &far, acts);
}

bool tb_weave_stretch(tb_weave *v, const tb_stretch *stretch, GArray *acts)
{
	tb_unit unit;
	guint before = acts->len;
	bool open = v->has_open;
	if (v->depth < MOST_DEPTH && tb_weave_find_unit(v, stretch, &unit)) {
		if (add_found(v, stretch, &unit, acts))
			return true;
		g_array_set_size(acts, before);
		v->has_open = open;
	}
	return add_runs(v, stretch, acts);
}

/* A row the steps cannot say: the source's words, if they are the same in all sizes. */
static bool add_raw(tb_weave *v, GArray *acts)
{
	const tb_line *line = v->lines[0];
	for (unsigned m = 1; m < v->members; m++) {
		if (v->lines[m] != line)
			return false;
	}
	tb_acts source = line->raw->acts;
	if (line->raw_turning > 0) {
		tb_act act = {.kind = TB_ACT_CHAIN, .count = one_number(v, line->raw_turning),
			.counts = line->raw_counted ? TB_COUNTS : TB_COUNTS_NOT};
		g_array_append_val(acts, act);
	}
	bool turned = false;
	while (source.count > 0) {
		/* what ends the row is said anew; chains before a turn belong to the next row */
		tb_act_kind kind = source.acts[source.count - 1].kind;
		if (kind != TB_ACT_TURN && kind != TB_ACT_FASTEN_OFF &&
			!(kind == TB_ACT_CHAIN && turned && source.count > 1))
			break;
		turned = turned || kind == TB_ACT_TURN;
		source.count--;
	}
	/* and the turn that a round begins with ends the one before */
	bool worked = !line->raw->is_round;
	for (unsigned i = 0; i < source.count; i++) {
		tb_act act = source.acts[i];
		if (i == 0 && line->raw_idle && act.kind == TB_ACT_CHAIN && act.counts == TB_COUNTS_UNSAID)
			act.counts = TB_COUNTS_NOT;
		worked = worked || tb_act_is_work(&act);
		if (worked || act.kind != TB_ACT_TURN)
			g_array_append_val(acts, act);
	}
	return true;
}

static void add_leave(tb_weave *v, GArray *acts)
{
	int leave[TB_MAX_SIZES];
	for (unsigned m = 0; m < v->members; m++)
		leave[m] = (int)v->lines[m]->leave;
	if (all_are(v, leave, 0))
		return;
	tb_act act = {.kind = TB_ACT_LEAVE, .count = token_number(v, leave)};
	g_array_append_val(acts, act);
}

static void add_join(tb_weave *v, GArray *acts)
{
	if (v->lines[0]->join == TB_NO_JOIN)
		return;
	tb_act act = {.kind = TB_ACT_JOIN, .stitch = v->c->slip};
	act.place = (tb_place){.in = TB_IN_FIRST, .rows_below = 1, .count = one_number(v, 1)};
	if (v->lines[0]->join == TB_JOIN_TURNING) {
		act.place.in = TB_IN_NEXT;
		act.place.target = TB_TARGET_TURNING_CHAIN;
	}
	g_array_append_val(acts, act);
}

bool tb_compose_acts(tb_composer *c, const tb_line *const *lines, tb_size_set sizes, GArray *acts)
{
	tb_weave v = {.c = c, .is_last = true};
	tb_stretch stretch;
	for (unsigned i = 0; i < c->sizes; i++) {
		if (!(sizes >> i & 1))
			continue;
		stretch.begin[v.members] = 0;
		stretch.end[v.members] = lines[i]->count;
		v.size_of[v.members] = i;
		v.lines[v.members++] = lines[i];
	}
	for (unsigned m = 1; m < v.members; m++) {
		if (v.lines[m]->join != v.lines[0]->join || v.lines[m]->raw != v.lines[0]->raw ||
			(v.lines[m]->leave > 0) != (v.lines[0]->leave > 0))
			return false;
	}
	if (v.lines[0]->raw != NULL)
		return add_raw(&v, acts);
	if (!tb_weave_stretch(&v, &stretch, acts))
		return false;
	add_leave(&v, acts);
	add_join(&v, acts);
	return true;
}
