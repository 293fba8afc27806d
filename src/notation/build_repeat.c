/* What is worked again and again. */
#include "notation/build.h"

#include "stitches/stitch.h"

#include <string.h>

static const int no_number[1] = {0};

static tb_number add_one(tb_builder *b, const tb_number *number)
{
	int *values = tb_arena_take(b->arena, number->count * sizeof(int));
	for (unsigned i = 0; i < number->count; i++)
		values[i] = number->values[i] == TB_NOT_IN_SIZE ? TB_NOT_IN_SIZE : number->values[i] + 1;
	return (tb_number){number->count, values, number->span};
}

/* Where the last MANY stitches or groups of a repeat begin in its body; 0 where it has no more of them. */
static unsigned last_worked(const tb_acts *body, int many)
{
	unsigned i = body->count;
	while (i > 0 && many > 0) {
		tb_act_kind kind = body->acts[--i].kind;
		if (kind == TB_ACT_WORK || kind == TB_ACT_REPEAT || kind == TB_ACT_GROUP)
			many--;
	}
	return many > 0 ? 0 : i;
}

/* Whether anything is worked into the row below. */
static bool has_stitch(const tb_acts *body)
{
	for (unsigned i = 0; i < body->count; i++) {
		if (body->acts[i].kind != TB_ACT_CHAIN && body->acts[i].kind != TB_ACT_TURN)
			return true;
	}
	return false;
}

/* Whether nothing but skips stands in it: "miss 1; repeat all round" is the end of a longer repeat. */
static bool only_skips(const tb_acts *body)
{
	for (unsigned i = 0; i < body->count; i++) {
		if (body->acts[i].kind != TB_ACT_SKIP)
			return false;
	}
	return true;
}

static bool all_in_each(const tb_acts *body)
{
	for (unsigned i = 0; i < body->count; i++) {
		const tb_act *act = &body->acts[i];
		if ((act->kind != TB_ACT_WORK && act->kind != TB_ACT_GROUP) || act->place.in != TB_IN_EACH || !tb_number_is(&act->place.count, 0))
			return false;
	}
	return true;
}

/* "Dc in next st, join with sl st, …, around": whether a round is closed in what is worked again and again in it. */
static bool closes_round(const tb_acts *body)
{
	for (unsigned i = 0; i < body->count; i++) {
		if (body->acts[i].kind == TB_ACT_JOIN)
			return true;
	}
	return false;
}

/* A repeat inside another that does not say how often is one time more: to the end there is the other. */
static void once_more(tb_builder *b, tb_act *act)
{
	if (act->kind != TB_ACT_REPEAT || !act->unsaid)
		return;
	act->unsaid = false;
	act->until = TB_UNTIL_TIMES;
	act->count = tb_number_make(b->arena, 2, act->span);
}

/* How many places ACT takes of the row below, one after another; -1 where that is not to be seen. */
static int places_taken(const tb_act *act)
{
	const tb_place *place = &act->place;
	if (act->kind == TB_ACT_CHAIN)
		return 0;
	/* an old book's "loop" may be any stitch */
	bool one = place->target == TB_TARGET_STITCH || place->target == TB_TARGET_NAMED || (place->target == TB_TARGET_SPACE && place->loose);
	bool next = (place->in == TB_IN_NEXT || place->in == TB_IN_FIRST) && one && !place->middle && place->of == NULL && place->rows_below == 1;
	if (!next || place->count.count != 1 || (act->kind != TB_ACT_WORK && act->kind != TB_ACT_SKIP))
		return -1;
	return place->count.values[0] * (act->stitch != NULL ? (int)MAX(act->stitch->takes, 1) : 1);
}

/*
 * "*1 dc in each of 3 sts, 2 dc in the 4th*", "*sc in first st, 2 sc in second st*": told from where the
 * repeat begins, so that it is the next one.
 */
static void tell_from_begin(GArray *acts)
{
	int passed = 0;
	for (guint i = 0; i < acts->len && passed >= 0; i++) {
		tb_act *act = &g_array_index(acts, tb_act, i);
		tb_place *place = &act->place;
		/* "*sc in first 2 sts, dec*": the first of those that come */
		if (passed == 0 && acts->len > 1 && place->in == TB_IN_FIRST && places_taken(act) > 1)
			place->in = TB_IN_NEXT;
		if (act->kind == TB_ACT_WORK && place->in == TB_IN_NTH_STITCH && place->of == NULL && !place->middle &&
			passed > 0 && tb_number_is(&place->count, passed + 1)) {
			/* "in each of 2 loops, 2 in the third" */
			const tb_place *before = &act[-1].place;
			if (place->target == TB_TARGET_STITCH && act[-1].kind == TB_ACT_WORK && before->target == TB_TARGET_SPACE) {
				place->target = before->target;
				place->loose = before->loose;
				place->space_chains = before->space_chains;
			}
			place->in = TB_IN_NEXT;
			place->count = (tb_number){1, tb_number_one, place->count.span};
		}
		/* "1 in the first loop, 2 in the second": in one that comes */
		if (passed == 0 && acts->len > 1 && place->in == TB_IN_FIRST && place->target == TB_TARGET_SPACE && place->loose)
			place->in = TB_IN_NEXT;
		int taken = place->in == TB_IN_FIRST && passed > 0 ? -1 : places_taken(act);
		passed = taken < 0 ? -1 : passed + taken;
	}
}

/*
 * "*dc in the centre tr, ch 5; rep from *", "*dc in the 3rd tr, ch 5": said again and again it is that of
 * the tr that stand side by side, and not of the row.
 */
static void tell_from_run(GArray *acts)
{
	for (guint i = 0; i < acts->len; i++) {
		tb_place *place = &g_array_index(acts, tb_act, i).place;
		bool named = place->target == TB_TARGET_NAMED && place->of == NULL && place->rows_below == 1;
		bool center = place->in == TB_IN_PART && tb_number_is(&place->count, 0);
		if (!named || place->middle || (!center && place->in != TB_IN_NTH_STITCH))
			continue;
		place->nth = center ? 0 : (unsigned)CLAMP(place->count.values[0], 0, 255);
		place->in = TB_IN_NEXT;
		place->middle = true;
		place->count = (tb_number){1, no_number, place->count.span};
	}
}

/* "*dc in each group, ch 7; rep from *", "dc in each ch, ch 1, repeat": in the one that comes, and so on to the next. */
static void take_one_each(tb_act *act)
{
	if (act->until != TB_UNTIL_END || act->body.count < 2)
		return;
	bool chained = act->body.count == 2 && act->body.acts[1].kind == TB_ACT_CHAIN;
	for (unsigned i = 0; i < act->body.count; i++) {
		tb_place *place = &((tb_act *)act->body.acts)[i].place;
		bool kind = (chained && place->of == NULL) || place->target == TB_TARGET_GROUP || place->target == TB_TARGET_SPACE;
		if (place->in != TB_IN_EACH || !kind || place->up_to != NULL || place->also != NULL || place->corner ||
			!tb_number_is(&place->count, 0))
			continue;
		place->in = TB_IN_NEXT;
		place->count = (tb_number){1, tb_number_one, place->count.span};
	}
}

guint32 tb_build_star_at(tb_builder *b, const tb_value *value)
{
	const tb_value *list = tb_value_get(value, TB_SLOT_body);
	if (!tb_build_has(value, TB_SLOT_whole) || tb_build_has(value, TB_SLOT_begun) || list == NULL ||
		list->type != TB_VALUE_LIST)
		return 0;
	const tb_value *const *items = tb_value_items(list, b->scratch);
	for (guint32 i = 1; i + 1 < list->count; i++) {
		if (tb_value_is(items[i], TB_KIND_mark))
			return i;
	}
	return 0;
}

/* "…, sl st in next 2 sts", again and again around: the last slip stitch of all may close the round, and stands alone. */
static void part_last_slip(tb_builder *b, GArray *acts)
{
	tb_act *last = acts->len > 1 ? &g_array_index(acts, tb_act, acts->len - 1) : NULL;
	if (last == NULL || last->kind != TB_ACT_WORK || last->stitch != b->slip || last->place.in != TB_IN_NEXT ||
		last->place.target != TB_TARGET_STITCH || !tb_number_is(&last->place.count, 2))
		return;
	last->place.count = (tb_number){1, tb_number_one, last->place.span};
	tb_act other = *last;
	g_array_append_val(acts, other);
}

/* The body without its marks, from item FROM on; *MARK the acts before the first of level LEVEL. */
static tb_acts build_body(tb_builder *b, const tb_value *list, guint32 from, double level, unsigned *mark)
{
	g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
	*mark = 0;
	if (list != NULL && list->type != TB_VALUE_LIST) {
		tb_build_act(b, list, acts);
		return tb_acts_keep(b->arena, acts);
	}
	const tb_value *const *items = list != NULL ? tb_value_items(list, b->scratch) : NULL;
	for (guint32 i = from; list != NULL && i < list->count; i++) {
		const tb_value *item = items[i];
		if (tb_value_is(item, TB_KIND_mark)) {
			const tb_value *of = tb_value_get(item, TB_SLOT_level);
			if (*mark == 0 && of != NULL && of->figures[0] >= level && of->figures[0] <= level)
				*mark = acts->len;
			continue;
		}
		guint before = acts->len;
		tb_build_act(b, item, acts);
		for (guint k = before; k < acts->len; k++)
			once_more(b, &g_array_index(acts, tb_act, k));
		/* "dc in next, 3 sts": what comes again and again is no count of the row */
		const tb_act *act = acts->len > before ? &g_array_index(acts, tb_act, before) : NULL;
		bool count = act != NULL && act->kind == TB_ACT_CLAIM && act->claim_count > 0;
		/* "there are 13 shells" is said of the row, and "(3 sts)" may be of what stands before it */
		bool bare = count && !tb_is_among(b->lattice->text->chars[b->lattice->start[item->from]], "([{<");
		if (count && !bare && acts->len == before + 1)
			tb_claim_put_inside(b, acts);
		else if (count && (bare || act->claims[0].bare)) {
			g_array_set_size(acts, before);
			tb_build_tell_cannot(b, item, acts, "claim-not-last", "a count stands inside a repeat",
				"Put the count at the row's end.");
		}
	}
	tell_from_begin(acts);
	tell_from_run(acts);
	part_last_slip(b, acts);
	return tb_acts_keep(b->arena, acts);
}

static void build_times(tb_builder *b, const tb_value *times, bool more_than_one, tb_act *act)
{
	act->until = TB_UNTIL_TIMES;
	const tb_value *n = times->type == TB_VALUE_NUMBER ? times : tb_value_get(times, TB_SLOT_n);
	bool more = times->type == TB_VALUE_NODE && tb_build_has(times, TB_SLOT_more);
	bool total = times->type == TB_VALUE_NODE && tb_build_has(times, TB_SLOT_total);
	act->count = tb_build_number(b, n, 1);
	/* "rep from * 4 times" is four more, five in all; older books mean four in all. */
	if (more_than_one && !total) {
		act->count = add_one(b, &act->count);
		act->times_more = !more;
	}
}

void tb_build_until(tb_builder *b, const tb_value *until, bool more, tb_act *act)
{
	const tb_value *left = tb_value_get(until, TB_SLOT_left);
	const tb_value *how = tb_value_get(until, TB_SLOT_how);
	const tb_value *up_to = tb_value_get(until, TB_SLOT_upto);
	act->until = TB_UNTIL_END;
	act->unsaid = until == NULL;
	act->place.to_begin = tb_build_has(until, TB_SLOT_begun);
	act->corresponds = tb_build_has(until, TB_SLOT_cut) ||
		tb_build_has(tb_value_get(until, TB_SLOT_end), TB_SLOT_cut);
	act->count = tb_number_make(b->arena, 0, act->span);
	if (until == NULL || tb_value_is(until, TB_KIND_toend))
		return;
	if (tb_value_is(until, TB_KIND_times) || until->type == TB_VALUE_NUMBER) {
		build_times(b, until, more, act);
		return;
	}
	act->count = tb_build_number(b, left, 0);
	if (tb_value_is_symbol(up_to, TB_SYMBOL_tch)) {
		act->count = tb_number_make(b->arena, 1 + tb_build_one_number(left, 0), act->span);
		act->place.target = TB_TARGET_TURNING_CHAIN;
	} else if (up_to != NULL) {
		act->place.span = act->span;
		tb_build_place(b, until, &act->place);
		act->place.in = TB_IN_EACH;
	} else if (tb_value_is_symbol(how, TB_SYMBOL_next)) {
		tb_build_place(b, until, &act->place);
	} else if (left != NULL && tb_build_has(until, TB_SLOT_noun)) {
		tb_place named = {.in = TB_IN_LAST, .rows_below = 1};
		tb_build_noun(b, tb_value_get(until, TB_SLOT_noun), &named);
		if (named.target == TB_TARGET_SPACE || named.target == TB_TARGET_NAMED ||
			named.target == TB_TARGET_GROUP) {
			act->place = named;
			act->place.count = act->count;
			act->place.span = tb_build_span(b, until->from, until->to);
		}
	}
}

/*
 * "Sc in first st, dc in next st, repeat": the first is the next one when it is repeated; so it is of
 * the first MANY acts.
 */
static void free_first(tb_builder *b, tb_acts *body, unsigned many)
{
	tb_act *copy = tb_arena_take(b->arena, (body->count + 1) * sizeof(tb_act));
	memcpy(copy, body->acts, body->count * sizeof(tb_act));
	for (unsigned i = 0; i < many; i++) {
		if (copy[i].place.in == TB_IN_FIRST && tb_number_is(&copy[i].place.count, 1))
			copy[i].place.in = TB_IN_NEXT;
	}
	body->acts = copy;
}

/*
 * "*ch 4, *ch 3, dc in next loop; rep from * twice; rep around, ending with …": what the end stands for
 * is the last time of the inner repeat, which is written out here.
 */
static void write_out_last(tb_builder *b, tb_acts *body)
{
	const tb_act *last = &body->acts[body->count - 1];
	if (last->kind != TB_ACT_REPEAT || last->until != TB_UNTIL_TIMES || last->body_last > 0 ||
		last->count.count != 1 || last->count.values[0] < 2)
		return;
	g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
	g_array_append_vals(acts, body->acts, body->count);
	g_array_index(acts, tb_act, body->count - 1).count =
		tb_number_make(b->arena, last->count.values[0] - 1, last->span);
	g_array_append_vals(acts, last->body.acts, last->body.count);
	*body = tb_acts_keep(b->arena, acts);
}

/* "Sc in 3rd dc of each shell, ch 7 between": none behind the last, which a round takes back (script_round.c). */
static void divide(tb_builder *b, const tb_value *chain, tb_act *act)
{
	g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
	g_array_append_vals(acts, act->body.acts, act->body.count);
	tb_build_act(b, chain, acts);
	act->body_last = act->body.count;
	act->body = tb_acts_keep(b->arena, acts);
	act->between = tb_number_make(b->arena, 1, act->span);
}

void tb_build_repeat(tb_builder *b, const tb_value *value, GArray *acts)
{
	tb_act act = tb_build_act_of(b, value, TB_ACT_REPEAT);
	const tb_value *until = tb_value_get(value, TB_SLOT_until);
	const tb_value *times = tb_value_get(value, TB_SLOT_times);
	const tb_value *end = tb_value_get(until, TB_SLOT_end);
	const tb_value *at = tb_value_get(end, TB_SLOT_at);
	unsigned mark;
	const tb_value *list = tb_value_get(value, TB_SLOT_body);
	guint32 star = tb_build_star_at(b, value);
	for (guint32 i = 0; i < star; i++)
		tb_build_act(b, tb_value_items(list, b->scratch)[i], acts);
	act.body = build_body(b, list, star, at != NULL ? at->figures[0] : 0, &mark);
	if (act.body.count == 0) {
		tb_build_tell_cannot(b, value, acts, "repeat-empty", "nothing stands in this repeat",
			"Say what is repeated, or take it out.");
		return;
	}
	if (act.along && !tb_build_ends_shaped(&act.body)) {
		tb_build_add_cannot(b, value, acts, "how much is repeated is not said");
		return;
	}
	if (only_skips(&act.body)) {
		tb_build_add_cannot(b, value, acts, "nothing is worked in this repeat");
		return;
	}
	if (tb_build_has(value, TB_SLOT_whole) && closes_round(&act.body)) {
		tb_build_add_cannot(b, value, acts, "the round is closed before this is repeated");
		return;
	}
	/* "repeat 7 times more from *" is eight in all; without "more" it is as often as it says */
	bool once_before = tb_build_has(times, TB_SLOT_again) || (times == NULL && (tb_build_has(value, TB_SLOT_more) ||
		(tb_build_has(value, TB_SLOT_worked) && tb_build_has(until, TB_SLOT_more))));
	/* "3 dc in each sp, dc on each dc, to the end" is said of all of them already */
	if (tb_build_has(value, TB_SLOT_whole) && times == NULL && until == NULL && all_in_each(&act.body)) {
		g_array_append_vals(acts, act.body.acts, act.body.count);
		return;
	}
	tb_build_until(b, times != NULL ? times : until, once_before, &act);
	if (!tb_build_goes_into_each(b, until, &act.body)) {
		tb_build_add_cannot(b, until, acts, "nothing of this repeat is worked in such");
		return;
	}
	/* "5 more times, for a total of 6" */
	int all = tb_build_one_number(tb_value_get(until, TB_SLOT_all), 0);
	if (all != 0 && !tb_number_is(&act.count, all)) {
		tb_build_add_cannot(b, until, acts, "so many more times are not so many in all");
		return;
	}
	if (act.until == TB_UNTIL_TIMES && tb_number_is(&act.count, 0)) {
		tb_build_tell_cannot(b, times != NULL ? times : until, acts, "times-zero", "0 times is never",
			"Write how many times it is worked; in a size bracket 0 leaves a size out.");
		return;
	}
	/* "Row 2, repeated 6 times: ch 1, turn, dc in each st": that is the row, and not its first chain alone */
	if (tb_build_has(value, TB_SLOT_ahead) && !has_stitch(&act.body)) {
		tb_build_add_cannot(b, times, acts, "how far it goes that is repeated is not said");
		return;
	}
	if (at != NULL && mark == 0) {
		tb_build_tell_cannot(b, end, acts, "mark-missing", "no such mark stands inside the repeat",
			"Put it in the repeat where its last time ends.");
		return;
	}
	if (tb_build_has(value, TB_SLOT_last))
		divide(b, tb_value_get(value, TB_SLOT_last), &act);
	take_one_each(&act);
	if (tb_build_has(end, TB_SLOT_acts) && mark == 0)
		write_out_last(b, &act.body);
	if (tb_build_has(end, TB_SLOT_again) && act.until == TB_UNTIL_TIMES)
		act.count = add_one(b, &act.count);
	tb_acts skips = {0};
	if (at != NULL && mark < act.body.count)
		act.body_last = mark;
	else if (!tb_build_differs_as_said(b, &act.body, end)) {
		tb_build_add_cannot(b, end, acts, "the repeat does not end with what is said to be another");
		return;
	} else if (tb_build_ends_with_chain(b, &act.body, end, &act.body_last))
		skips = (tb_acts){act.body.acts + act.body_last + 1, act.body.count - act.body_last - 1};
	else if (tb_build_has(end, TB_SLOT_instead) && tb_build_ends_instead(b, &act.body, end))
		act.body_last = act.body.count - 1;
	else if (tb_build_has(end, TB_SLOT_instead)) {
		tb_build_add_cannot(b, end, acts, "the repeat does not end with what is said to be another");
		return;
	} else if (tb_build_has(end, TB_SLOT_omit) || tb_build_has(end, TB_SLOT_omitted)) {
		if (!tb_build_omit(b, &act.body, end)) {
			tb_build_add_cannot(b, end, acts, "the repeat does not end with what is omitted");
			return;
		}
		act.body_last = act.body.count - 1;
	} else if (tb_build_has(end, TB_SLOT_half)) {
		if (!tb_build_ends_half(b, &act.body, end)) {
			tb_build_add_cannot(b, end, acts, "the repeat does not end with more of these");
			return;
		}
		act.body_last = act.body.count - 1;
	} else if (tb_build_has(end, TB_SLOT_lastrep) && act.body.count > 1)
		act.body_last = last_worked(&act.body, tb_build_one_number(tb_value_get(end, TB_SLOT_n), 1));
	guint at_repeat = acts->len;
	/* behind a star only what stands there at once: "first dc" later may be that of a group just made */
	free_first(b, &act.body, tb_build_has(value, TB_SLOT_whole) ? act.body.count : 1);
	g_array_append_val(acts, act);
	tb_build_end(b, end, acts);
	if (skips.count > 0)
		g_array_insert_vals(acts, at_repeat + 2, skips.acts, skips.count);
	tb_act *made = &g_array_index(acts, tb_act, at_repeat);
	made->ends = acts->len - at_repeat - 1;
	if (made->ends > 0 && at == NULL)
		tb_build_leave_out_chain(b, made, made + 1);
}

/* "* a, rep from * 4 times, b, rep from * across": the first repeat stands in the second. */
void tb_build_shared(tb_builder *b, const tb_value *value, GArray *acts)
{
	g_autoptr(GArray) body = g_array_new(FALSE, FALSE, sizeof(tb_act));
	tb_act inner = tb_build_act_of(b, value, TB_ACT_REPEAT), outer = inner;
	unsigned mark;
	const tb_value *inner_until = tb_value_get(value, TB_SLOT_inner);
	inner.body = build_body(b, tb_value_get(value, TB_SLOT_first), 0, 0, &mark);
	if (inner_until == NULL) {
		inner.until = TB_UNTIL_TIMES;
		inner.count = tb_number_make(b->arena, 2, inner.span);
	} else {
		tb_build_until(b, inner_until, true, &inner);
	}
	g_array_append_val(body, inner);
	tb_build_end(b, tb_value_get(inner_until, TB_SLOT_end), body);
	tb_acts rest = tb_build_list(b, tb_value_get(value, TB_SLOT_body));
	if (rest.count > 0)
		g_array_append_vals(body, rest.acts, rest.count);
	outer.body = tb_acts_keep(b->arena, body);
	tb_build_until(b, tb_value_get(value, TB_SLOT_until), true, &outer);
	g_array_append_val(acts, outer);
	tb_build_end(b, tb_value_get(tb_value_get(value, TB_SLOT_until), TB_SLOT_end), acts);
}

/* "six stitches of gold and six of red, alternately, in dc": as often as both come out. */
void tb_build_by_colours(tb_builder *b, const tb_value *value, GArray *acts)
{
	g_autoptr(GArray) body = g_array_new(FALSE, FALSE, sizeof(tb_act));
	tb_act act = tb_build_act_of(b, value, TB_ACT_REPEAT), one = tb_build_act_of(b, value, TB_ACT_WORK);
	const tb_value *list = tb_value_get(value, TB_SLOT_body);
	const tb_value *const *items = tb_value_items(list, b->scratch);
	one.stitch = tb_build_stitch(b, tb_value_get(value, TB_SLOT_stitch), NULL);
	if (one.stitch == NULL) {
		tb_build_add_cannot(b, value, acts, "what is worked in these colours is not one stitch");
		return;
	}
	one.each = (tb_number){1, tb_number_one, act.span};
	one.place = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .span = act.span};
	for (guint32 i = 0; i < list->count; i++) {
		one.place.count = tb_build_number(b, tb_value_get(items[i], TB_SLOT_n), 1);
		g_array_append_val(body, one);
	}
	act.body = tb_acts_keep(b->arena, body);
	tb_build_until(b, NULL, false, &act);
	act.unsaid = false;
	g_array_append_val(acts, act);
}

/* "inc x 6": so many, one after another. */
void tb_build_again(tb_builder *b, const tb_value *value, GArray *acts)
{
	g_autoptr(GArray) body = g_array_new(FALSE, FALSE, sizeof(tb_act));
	tb_act act = tb_build_act_of(b, value, TB_ACT_REPEAT);
	tb_build_work(b, value, body);
	act.body = tb_acts_keep(b->arena, body);
	build_times(b, tb_value_get(value, TB_SLOT_times), false, &act);
	if (act.body.count > 0)
		g_array_append_val(acts, act);
}
