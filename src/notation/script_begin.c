/*
 * "Starting in 2nd ch from hook, sc in next 5 ch": where a row begins, said before what is worked. The
 * first stitch behind it goes there; the chains before that one are skipped.
 */
#include "notation/script.h"

#include "support/limits.h"

static bool is_beginning(const tb_act *act)
{
	return act->kind == TB_ACT_SKIP && act->place.in == TB_IN_NTH_CHAIN;
}

/* Whether the first stitch of ACT alone can be put into a place of its own. */
static bool has_first(const tb_act *act)
{
	const tb_place *place = &act->place;
	bool one_by_one = place->in == TB_IN_NEXT || place->in == TB_IN_FIRST || place->in == TB_IN_EACH;
	return act->kind == TB_ACT_WORK && one_by_one && place->target != TB_TARGET_SPACE && !place->middle &&
		place->of == NULL && act->stitch != NULL && act->stitch->takes == 1 && act->other == NULL &&
		act->between.count == 0;
}

/* ACT's first stitch where BEGIN says, and the others as they are said. */
static void add_begun(GArray *acts, tb_arena *arena, const tb_act *begin, const tb_act *act)
{
	tb_act first = *act, rest = *act;
	first.place = begin->place;
	first.place.loops = act->place.loops;
	first.counts = begin->counts;
	first.bare = rest.bare = false;
	g_array_append_val(acts, first);
	if (act->place.in != TB_IN_EACH) {
		const tb_number *count = &act->place.count;
		int *values = tb_arena_take(arena, MAX(count->count, 1) * sizeof(int));
		bool any = false;
		for (unsigned i = 0; i < count->count; i++) {
			values[i] = count->values[i] - (count->values[i] > 0);
			any = any || values[i] > 0;
		}
		if (!any)
			return;
		rest.place.in = TB_IN_NEXT;
		rest.place.count.values = values;
	}
	g_array_append_val(acts, rest);
}

/* Behind nothing else it is a skip: "Starting in 2nd ch from hook, *sc in next 3 ch, inc; …". */
static void add_skip(GArray *acts, tb_arena *arena, const tb_act *begin)
{
	tb_act skip = *begin;
	int nth = begin->place.count.count == 1 ? begin->place.count.values[0] : 0;
	/* "sc 8, starting in 2nd ch" */
	if (acts->len == 1 && nth > 1 && has_first(&g_array_index(acts, tb_act, 0))) {
		tb_act act = g_array_index(acts, tb_act, 0);
		g_array_set_size(acts, 0);
		add_begun(acts, arena, begin, &act);
		return;
	}
	if (acts->len > 0 || nth < 2) {
		skip.kind = TB_ACT_CANNOT;
		skip.code = "not-worked";
		skip.why = "what begins there is not said stitch by stitch";
		skip.hint = "Write the first stitch with its place, as in “sc in 2nd ch from hook”.";
	} else {
		skip.place = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .span = begin->span};
		skip.place.count = tb_number_make(arena, nth - 1, begin->span);
	}
	g_array_append_val(acts, skip);
}

static bool is_slip(const tb_act *act)
{
	return act->kind == TB_ACT_WORK && act->stitch != NULL && act->stitch->form == TB_FORM_SLIP;
}

/* Whether any of ACTS is a group that begins with a slip stitch, as the blocks of some patterns do. */
static bool has_slip_group(const tb_act *acts, unsigned count, unsigned depth)
{
	for (unsigned i = 0; i < count && depth < TB_LIMIT_NESTING; i++) {
		const tb_acts *body = &acts[i].body;
		if ((acts[i].kind == TB_ACT_GROUP && body->count > 0 && is_slip(&body->acts[0])) ||
			has_slip_group(body->acts, body->count, depth + 1))
			return true;
	}
	return false;
}

/*
 * "(Sl st, ch 3, 2 dc) in first sp, *3 dc in next sp; rep from * around": a round begins so where no other
 * group does, and none that ends with a slip stitch as a petal does. The slip stitch only carries the hook there.
 */
static bool opens_with_slip(const GArray *said, guint i)
{
	const tb_act *group = &g_array_index(said, tb_act, i), *body = group->body.acts;
	if (i > 0 || group->kind != TB_ACT_GROUP || group->own != NULL || group->body.count < 3 || !is_slip(body) ||
		body[1].kind != TB_ACT_CHAIN || tb_number_is(&body[1].count, 1) || is_slip(&body[group->body.count - 1]) ||
		(group->place.in != TB_IN_NEXT && group->place.in != TB_IN_FIRST) || !tb_number_is(&group->place.count, 1))
		return false;
	return !has_slip_group(group + 1, said->len - 1, 0);
}

static void add_opening(GArray *acts, const tb_act *group)
{
	tb_act slip = group->body.acts[0], rest = *group;
	slip.place = group->place;
	slip.bare = false;
	rest.body.acts++;
	rest.body.count--;
	rest.place.in = TB_IN_SAME;
	g_array_append_val(acts, slip);
	g_array_append_val(acts, rest);
}

GArray *tb_script_begin(tb_arena *arena, const GArray *said, bool is_round)
{
	GArray *acts = g_array_sized_new(FALSE, FALSE, sizeof(tb_act), said->len);
	tb_act begin;
	bool waits = false;
	for (guint i = 0; i < said->len; i++) {
		const tb_act *act = &g_array_index(said, tb_act, i);
		if (is_round && opens_with_slip(said, i)) {
			add_opening(acts, act);
			continue;
		}
		if (is_beginning(act)) {
			begin = *act;
			waits = true;
			continue;
		}
		if (waits && act->kind == TB_ACT_SKIPPED_COUNT) {
			begin.counts = act->counts;
			continue;
		}
		bool works = act->kind != TB_ACT_CLAIM && act->kind != TB_ACT_SIDE && act->kind != TB_ACT_LOOPS;
		if (waits && works) {
			waits = false;
			if (has_first(act)) {
				add_begun(acts, arena, &begin, act);
				continue;
			}
			add_skip(acts, arena, &begin);
		}
		g_array_append_val(acts, *act);
	}
	if (waits)
		add_skip(acts, arena, &begin);
	return acts;
}
