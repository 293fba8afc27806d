/* Two kinds of place that are each worked in a way of their own: "dc in each dc and 2 dc in each sp". */
#include "notation/build.h"

#include "stitches/stitch.h"

/* The two kinds of place, as they come; the middle of the row, and a marked stitch, come in the middle of what is each. */
static void add_mixed(tb_act *act, const tb_act *second, GArray *acts)
{
	if (act->place.in == TB_IN_EACH && second->place.in == TB_IN_EACH) {
		act->other = second;
		if (act->place.count.values[0] == 0)
			act->place.count = second->place.count;
		g_array_append_val(acts, *act);
		return;
	}
	bool in_middle = act->place.in == TB_IN_EACH && (second->place.marked ||
		(second->place.in == TB_IN_PART && second->place.of == NULL));
	tb_act before = *act;
	before.place.up_to = in_middle ? &second->place : before.place.up_to;
	g_array_append_val(acts, before);
	g_array_append_val(acts, *second);
	if (in_middle)
		g_array_append_val(acts, *act);
}

/* "Hdc in each hdc and 2 hdc in the ch-2 sp": it comes somewhere among them, and there is one, or each is meant. */
static void put_among(const tb_act *act, tb_act *second)
{
	const tb_place *each = &act->place, *one = &second->place;
	if (each->in == TB_IN_EACH && each->up_to == NULL && each->but == NULL && each->target != TB_TARGET_SPACE &&
		tb_number_is(&each->count, 0) && one->in == TB_IN_NEXT && one->unordered && one->target == TB_TARGET_SPACE &&
		one->of == NULL && !one->corner && !one->central) {
		second->place.in = TB_IN_EACH;
		second->place.count = each->count;
	}
}

/* "Sc in each dc, sc in each ch-1 sp and 3 sc in each corner sp": the last of these; NULL where it is none. */
static const tb_act *third_kind(tb_builder *b, const tb_value *value, const tb_act *second)
{
	tb_act *third = tb_arena_new(b->arena, tb_act);
	*third = *second;
	third->each = tb_build_number(b, tb_value_get(value, TB_SLOT_each3), 1);
	third->stitch = tb_build_stitch(b, tb_value_get(value, TB_SLOT_stitch3), NULL);
	third->place = (tb_place){.rows_below = second->place.rows_below};
	tb_build_place(b, tb_value_get(value, TB_SLOT_place3), &third->place);
	return third->stitch != NULL ? third : NULL;
}

/* "2 sc in first and last st, sc in each st between" */
void tb_build_both_ends(tb_builder *b, const tb_value *value, GArray *acts)
{
	tb_act end = tb_build_act_of(b, value, TB_ACT_WORK), between;
	const tb_value *noun = tb_value_get(value, TB_SLOT_noun), *more = tb_value_get(value, TB_SLOT_stitch2);
	end.each = tb_build_number(b, tb_value_get(value, TB_SLOT_each), 1);
	end.stitch = tb_build_stitch(b, tb_value_get(value, TB_SLOT_stitch), NULL);
	end.place = (tb_place){.in = TB_IN_FIRST, .rows_below = 1, .span = end.span};
	end.place.count = tb_number_make(b->arena, 1, end.span);
	tb_build_noun(b, noun, &end.place);
	between = end;
	between.each = tb_build_number(b, tb_value_get(value, TB_SLOT_each2), 1);
	between.stitch = more != NULL ? tb_build_stitch(b, more, NULL) : end.stitch;
	between.place = (tb_place){.in = TB_IN_EACH, .rows_below = 1, .span = end.span, .count = end.place.count};
	if (end.stitch == NULL || between.stitch == NULL || end.place.target == TB_TARGET_SPACE) {
		tb_build_add_cannot(b, value, acts, "what is worked at the ends is not said stitch by stitch");
		return;
	}
	g_array_append_val(acts, end);
	g_array_append_val(acts, between);
	end.place.in = TB_IN_LAST;
	g_array_append_val(acts, end);
}

/* "2 sc in each st, making 35 sc in all": each stitch, and no kind of place. */
static bool is_plain_each(const tb_place *place)
{
	return place->in == TB_IN_EACH && place->target == TB_TARGET_STITCH && place->of == NULL && place->up_to == NULL &&
		place->but == NULL && place->also == NULL && !place->marked && !place->corner && !place->central &&
		place->amid == 0 && !place->missed && tb_number_is(&place->count, 0);
}

/* "FPdc around each FPdc and BPdc around each BPdc": each kind of place in its way, as they come. */
void tb_build_mixed(tb_builder *b, const tb_value *value, GArray *acts)
{
	tb_act act = tb_build_act_of(b, value, TB_ACT_WORK), *second = tb_arena_new(b->arena, tb_act);
	act.each = tb_build_number(b, tb_value_get(value, TB_SLOT_each), 1);
	act.stitch = tb_build_stitch(b, tb_value_get(value, TB_SLOT_stitch), NULL);
	act.place.loops = tb_build_loops_of(tb_value_get(value, TB_SLOT_loops));
	tb_build_place(b, tb_value_get(value, TB_SLOT_place), &act.place);
	*second = act;
	second->place.loops = TB_LOOPS_BOTH;
	const tb_value *body = tb_value_get(value, TB_SLOT_body);
	second->each = tb_build_number(b, tb_value_get(value, TB_SLOT_each2), 1);
	second->stitch = body != NULL ? act.stitch :
		tb_build_stitch(b, tb_value_get(value, TB_SLOT_stitch2), NULL);
	if (body != NULL) {
		second->kind = TB_ACT_GROUP;
		second->body = tb_build_list(b, body);
	}
	tb_build_place(b, tb_value_get(value, TB_SLOT_place2), &second->place);
	tb_build_amid(b, tb_value_get(value, TB_SLOT_place2), &second->place);
	/* it is told, and coloured, by its own words */
	const tb_value *there = tb_value_get(value, TB_SLOT_place2);
	second->span = there != NULL ? tb_build_span(b, there->from, there->to) : second->span;
	/* "1 tr in each dc all round and 2 extra in each corner": beside the one that each has */
	if (tb_build_has(value, TB_SLOT_extra)) {
		int more = tb_build_one_number(tb_value_get(value, TB_SLOT_each2), 0), has = tb_build_one_number(tb_value_get(value, TB_SLOT_each), 1);
		if (more <= 0 || has <= 0 || second->stitch != act.stitch) {
			tb_build_add_cannot(b, value, acts, "how many are worked there is not said");
			return;
		}
		second->each = tb_number_make(b->arena, more + has, act.span);
	}
	put_among(&act, second);
	if (is_plain_each(&act.place) && is_plain_each(&second->place)) {
		tb_build_add_cannot(b, value, acts, "which of these stitches go where is not said");
		return;
	}
	if (tb_build_has(value, TB_SLOT_divided))
		act.between = tb_build_number(b, tb_value_get(value, TB_SLOT_divided), 1);
	if (act.between.count > 0 && (act.place.in != TB_IN_EACH || second->place.in != TB_IN_EACH)) {
		tb_build_add_cannot(b, value, acts, "what the chains lie between is not said");
		return;
	}
	if (act.stitch == NULL || second->stitch == NULL) {
		tb_build_tell_cannot(b, value, acts, "stitch-own", "what this stitch is made of, the pattern does not say",
			"Write it out, as in (dc, ch 1, dc) in next st, or tell it among the pattern's stitches.");
		return;
	}
	if (tb_build_has(value, TB_SLOT_first)) {
		/* "sc in same st and in each sc around, working 3 sc in each corner" */
		tb_act first = act;
		first.place.loops = TB_LOOPS_BOTH;
		tb_build_place(b, tb_value_get(value, TB_SLOT_first), &first.place);
		g_array_append_val(acts, first);
	}
	if (tb_build_has(value, TB_SLOT_place3))
		second->other = third_kind(b, value, second);
	act.place.around = act.stitch->post != TB_POST_NONE;
	second->place.around = second->stitch->post != TB_POST_NONE;
	add_mixed(&act, second, acts);
	tb_build_end(b, tb_value_get(value, TB_SLOT_end), acts);
}

/* MADE in each ON across, beside the kinds that ACT has. */
static void add_kind(tb_builder *b, tb_act *act, const tb_stitch *made, const tb_stitch *on)
{
	tb_act *kind = act->stitch == NULL ? act : tb_arena_new(b->arena, tb_act);
	if (kind != act) {
		*kind = *act;
		act->other = kind;
	}
	kind->stitch = made;
	kind->place.around = made->post != TB_POST_NONE;
	kind->place.target = TB_TARGET_NAMED;
	kind->place.named = on;
}

void tb_build_each_kind(tb_builder *b, const tb_value *value, GArray *acts)
{
	static const char *const plain[] = {"sc", "hdc", "dc", "tr", "sl st"};
	const tb_value *list = tb_value_get(value, TB_SLOT_list);
	bool alike = tb_build_has(value, TB_SLOT_alike);
	tb_act act = tb_build_act_of(b, value, TB_ACT_WORK);
	act.each = tb_number_make(b->arena, 1, act.span);
	act.place = (tb_place){.in = TB_IN_EACH, .rows_below = 1, .span = act.span, .count = tb_number_make(b->arena, 0, act.span)};
	if (tb_build_has(value, TB_SLOT_place))
		tb_build_place(b, tb_value_get(value, TB_SLOT_place), &act.place);
	for (size_t i = 0; list == NULL && i < G_N_ELEMENTS(plain); i++) {
		const tb_stitch *stitch = tb_library_find(b->pattern->library, plain[i]);
		if (stitch != NULL)
			add_kind(b, &act, stitch, stitch);
	}
	const tb_value *const *items = list != NULL ? tb_value_items(list, b->scratch) : NULL;
	for (guint32 i = 0; list != NULL && i < list->count; i++) {
		const tb_stitch *made = tb_build_stitch(b, tb_value_get(items[i], TB_SLOT_noun), NULL);
		const tb_stitch *on = tb_build_stitch(b, tb_value_get(items[i], TB_SLOT_upon), NULL);
		if (made == NULL || on == NULL || (alike && made != on)) {
			tb_build_add_cannot(b, value, acts, "which of these stitches go where is not said");
			return;
		}
		add_kind(b, &act, made, on);
	}
	act.all_kinds = true;
	act.alike = list == NULL;
	g_array_append_val(acts, act);
}
