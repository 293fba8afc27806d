/* Groups in one place. */
#include "notation/build.h"

#include "stitches/stitch.h"

#include <string.h>

/* So many chains lie between the stitches of VALUE; NULL for none. */
static const tb_value *chains_between(const tb_value *value)
{
	const tb_value *divided = tb_value_get(value, TB_SLOT_divided);
	return divided != NULL && divided->type == TB_VALUE_NODE ? tb_value_get(divided, TB_SLOT_n) : divided;
}

/* "5 dc with ch 1 between each sc": whether what the chains lie between is something else than what is worked. */
static bool divides_others(tb_builder *b, const tb_value *value)
{
	const tb_value *of = tb_value_get(tb_value_get(value, TB_SLOT_divided), TB_SLOT_of);
	if (of == NULL || !tb_value_is(of, TB_KIND_stitch))
		return false;
	const tb_own *own, *named;
	const tb_stitch *worked = tb_build_stitch(b, tb_value_get(value, TB_SLOT_stitch), &own);
	return tb_build_stitch(b, of, &named) != worked || named != own;
}

static tb_acts divided_body(tb_builder *b, const tb_value *value, tb_act *like)
{
	g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
	int each = tb_build_one_number(tb_value_get(value, TB_SLOT_each), 1);
	const tb_value *chains = chains_between(value);
	bool apart = tb_build_has(value, TB_SLOT_apart);
	const tb_own *own;
	tb_act work = {.kind = TB_ACT_WORK, .span = like->span};
	work.stitch = tb_build_stitch(b, tb_value_get(value, TB_SLOT_stitch), &own);
	work.each = (tb_number){1, tb_number_one, like->span};
	work.place = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .span = like->span};
	work.place.count = chains == NULL ?
		tb_build_number(b, tb_value_get(value, TB_SLOT_each), 1) : work.each;
	tb_act chain = {.kind = TB_ACT_CHAIN, .span = like->span};
	chain.count = tb_build_number(b, chains, 1);
	if (work.stitch == NULL && own != NULL && own->acts.count > 0 && !own->whole && chains != NULL && !apart) {
		/* "2 shells with ch 3 between in next loop" */
		work.kind = TB_ACT_GROUP;
		work.own = own;
		work.body = own->acts;
	} else if (work.stitch == NULL) {
		return tb_acts_keep(b->arena, acts);
	}
	bool ring = tb_build_has(value, TB_SLOT_ring) && like->place.in == TB_IN_RING;
	if ((ring || tb_build_has(value, TB_SLOT_around)) && chains != NULL) {
		/* into a ring, or "ch 1 after each": a chain behind each, the last one too */
		for (int i = 0; i < MIN(each, 200); i++) {
			tb_act one = work;
			one.place.count = work.each;
			g_array_append_val(acts, one);
			g_array_append_val(acts, chain);
		}
		return tb_acts_keep(b->arena, acts);
	}
	if (chains == NULL) {
		g_array_append_val(acts, work);
		return tb_acts_keep(b->arena, acts);
	}
	for (int i = 0; i < MIN(each, 100); i++) {
		if (i > 0)
			g_array_append_val(acts, chain);
		g_array_append_val(acts, work);
	}
	return tb_acts_keep(b->arena, acts);
}

static bool has_count(const tb_acts *body)
{
	for (unsigned i = 0; i < body->count; i++) {
		if (body->acts[i].kind == TB_ACT_CLAIM)
			return true;
	}
	return false;
}

static bool takes_several(const tb_acts *body)
{
	for (unsigned i = 0; i < body->count; i++) {
		if (body->acts[i].kind == TB_ACT_WORK && body->acts[i].stitch != NULL && body->acts[i].stitch->takes > 1)
			return true;
	}
	return false;
}

/* Whether the group VALUE goes in each stitch of the row below; one without brackets, in one stitch or several as well. */
static bool goes_in_many(const tb_value *value, const tb_place *place)
{
	bool stitches = place->target == TB_TARGET_STITCH || place->target == TB_TARGET_NAMED;
	if (tb_build_has(value, TB_SLOT_bare))
		return stitches && (place->in == TB_IN_EACH || place->in == TB_IN_NEXT);
	return place->in == TB_IN_EACH && place->target == TB_TARGET_STITCH;
}

/* Whether ACT, worked in what the group goes into, may say where it goes besides. */
static bool may_say_place(const tb_act *act, const tb_place *group)
{
	const tb_place *place = &act->place;
	bool slip = act->stitch != NULL && act->stitch->form == TB_FORM_SLIP;
	bool alike = place->in == group->in && place->target == group->target && place->named == group->named && place->around == group->around &&
		place->space_chains == group->space_chains && place->own == group->own;
	return (act->kind != TB_ACT_WORK && act->kind != TB_ACT_GROUP) || act->bare || place->span.start <= act->span.start || place->on_made ||
		place->in == TB_IN_SAME || (place->in == TB_IN_EDGE && act->kind == TB_ACT_WORK) || place->in == TB_IN_RING || (slip && place->in == TB_IN_NTH_CHAIN) ||
		(alike && tb_number_is(&place->count, 1));
}

/* "(dc, ch 4, sl st in first ch, dc) in next st": a picot is closed in the first of its own chains. */
static tb_acts close_picots(tb_builder *b, const tb_acts *body)
{
	tb_act *acts = tb_arena_take(b->arena, (body->count + 1) * sizeof(tb_act));
	for (unsigned i = 0; i < body->count; i++) {
		tb_act *act = &acts[i];
		const tb_act *chain = &body->acts[MAX(i, 1) - 1];
		*act = body->acts[i];
		if (act->kind != TB_ACT_WORK || act->stitch != b->slip || act->place.in != TB_IN_FIRST || act->place.target != TB_TARGET_CHAIN ||
			i < 2 || chain->kind != TB_ACT_CHAIN || chain->count.count != 1 || !tb_number_is(&act->place.count, 1))
			continue;
		act->place.in = TB_IN_NTH_CHAIN;
		act->place.count = chain->count;
	}
	return (tb_acts){acts, body->count};
}

/* Whether one of ACTS, which go into GROUP, takes stitches that it names itself. */
static bool says_own_places(const tb_acts *acts, const tb_place *group)
{
	for (unsigned i = 0; i < acts->count; i++) {
		const tb_act *act = &acts->acts[i];
		if (!may_say_place(act, group) || (act->kind == TB_ACT_SKIP && act->place.in == TB_IN_NEXT))
			return true;
	}
	return false;
}

static bool holds_knot(const tb_acts *acts)
{
	for (unsigned i = 0; i < acts->count; i++) {
		if (acts->acts[i].kind == TB_ACT_KNOT)
			return true;
	}
	return false;
}

/* "1 dc in each sc, 2 ch between"; false where these are several stitches in one place. */
static bool build_apart(tb_builder *b, const tb_value *value, const tb_place *place, GArray *acts)
{
	int each = tb_build_one_number(tb_value_get(value, TB_SLOT_each), 1);
	bool several = place->in == TB_IN_EACH || !tb_number_is(&place->count, 1);
	/* "a dc in each dc with 2 ch between": one alone has nothing between it in its own place */
	bool apart = tb_build_has(value, TB_SLOT_apart) || (tb_build_has(value, TB_SLOT_divided) && each == 1);
	if (!apart || (!several && each > 1))
		return false;
	if (!several || (place->in != TB_IN_EACH && (each > 1 || place->in != TB_IN_NEXT))) {
		tb_build_add_cannot(b, value, acts, "what the chains lie between is not said");
		return true;
	}
	tb_act act = tb_build_act_of(b, value, TB_ACT_WORK);
	act.stitch = tb_build_stitch(b, tb_value_get(value, TB_SLOT_stitch), NULL);
	if (act.stitch == NULL)
		return false;
	act.each = tb_build_number(b, tb_value_get(value, TB_SLOT_each), 1);
	act.between = tb_build_number(b, chains_between(value), 1);
	act.place = *place;
	tb_build_kin(tb_value_get(value, TB_SLOT_place), act.stitch, &act.place);
	act.place.around = act.stitch->post != TB_POST_NONE;
	if (!tb_build_is_no_place(b, value, &act, acts))
		g_array_append_val(acts, act);
	return true;
}

/* "(dc, ch 1) 3 times in next st": one group, its stitches written out so often. */
static tb_acts repeat_body(tb_builder *b, const tb_value *times, const tb_acts *body)
{
	g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
	bool more = times->type == TB_VALUE_NODE && tb_build_has(times, TB_SLOT_more);
	int n = tb_build_one_number(times->type == TB_VALUE_NUMBER ? times : tb_value_get(times, TB_SLOT_n), 0);
	for (int i = more ? -1 : 0; i < MIN(n, 100); i++)
		g_array_append_vals(acts, body->acts, body->count);
	return tb_acts_keep(b->arena, acts);
}

/* "2 dc in next dc, ch 2, 2 dc in same dc": what stands there, one after the other. */
static tb_acts spread_body(tb_builder *b, const tb_value *value)
{
	g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
	tb_build_act(b, tb_value_get(value, TB_SLOT_first), acts);
	tb_build_act(b, tb_value_get(value, TB_SLOT_mid), acts);
	tb_build_act(b, tb_value_get(value, TB_SLOT_again), acts);
	return tb_acts_keep(b->arena, acts);
}

static bool is_all_chains(const tb_acts *acts)
{
	for (unsigned i = 0; i < acts->count; i++) {
		if (acts->acts[i].kind != TB_ACT_CHAIN)
			return false;
	}
	return acts->count > 0;
}

bool tb_build_groups_shaping(const tb_lattice *l, const tb_value *group)
{
	const tb_value *body = tb_value_get(group, TB_SLOT_body);
	if (!tb_value_is(group, TB_KIND_group) || body == NULL || body->type != TB_VALUE_LIST || body->count < 2)
		return false;
	for (guint32 word = body->from; word < body->to; word++) {
		if (tb_lattice_edge(l, word, TB_TERM_increase) != NULL || tb_lattice_edge(l, word, TB_TERM_decrease) != NULL)
			return true;
	}
	return false;
}

void tb_build_group(tb_builder *b, const tb_value *value, GArray *acts)
{
	tb_act act = tb_build_act_of(b, value, TB_ACT_GROUP);
	const tb_value *body = tb_value_get(value, TB_SLOT_body);
	const tb_value *place = tb_value_get(value, TB_SLOT_place);
	act.place.loops = tb_build_loops_of(tb_value_get(value, TB_SLOT_loops));
	tb_build_place(b, place, &act.place);
	tb_build_over(b, place, &act.place);
	if (place == NULL)
		act.place.span = act.span;
	if (divides_others(b, value)) {
		tb_build_add_cannot(b, value, acts, "the chains lie between stitches that are not worked here");
		return;
	}
	if (build_apart(b, value, &act.place, acts))
		return;
	act.body = body != NULL ? tb_build_list(b, body) :
		tb_build_has(value, TB_SLOT_again) ? spread_body(b, value) : divided_body(b, value, &act);
	if (act.body.count > 0 && act.body.acts[0].stitch != NULL)
		tb_build_kin(place, act.body.acts[0].stitch, &act.place);
	if (tb_build_has(value, TB_SLOT_again) && act.body.count > 0 && act.body.acts[0].stitch == b->slip) {
		tb_build_add_cannot(b, value, acts, "a slip stitch leads to what is named here, and is no part of it");
		return;
	}
	if (body == NULL && act.place.in == TB_IN_RING && !tb_build_has(value, TB_SLOT_around) && !tb_build_has(value, TB_SLOT_ring))
		act.between = tb_build_number(b, chains_between(value), 0);
	if (tb_build_has(value, TB_SLOT_times))
		act.body = repeat_body(b, tb_value_get(value, TB_SLOT_times), &act.body);
	if (body != NULL)
		act.body = close_picots(b, &act.body);
	if (has_count(&act.body)) {
		/* "(2 dc, 1 tr, 2 dc) in corner" counts nothing: it is worked there */
		tb_build_add_cannot(b, value, acts, "a count is worked into no place");
		return;
	}
	if (tb_build_groups_shaping(b->lattice, value)) {
		tb_build_add_cannot(b, value, acts, "an increase or a decrease is worked in stitches of its own");
		return;
	}
	const tb_value *names = tb_value_get(value, TB_SLOT_names);
	if (goes_in_many(value, &act.place) && takes_several(&act.body)) {
		/* "sc2tog, sc in each st" is one decrease, and sc in all that is left */
		tb_build_add_cannot(b, value, acts, "what takes several stitches is not worked in each of them");
		return;
	}
	if (act.place.in == TB_IN_NTH_CHAIN && act.body.count > 0 && act.body.acts[0].kind == TB_ACT_CHAIN) {
		/* "ch 8, 3 dc, ch 2, 3 dc (shell) in 4th ch from hook": what is worked into is no part of it */
		tb_build_add_cannot(b, value, acts, "a chain to work into is no part of what is worked there");
		return;
	}
	if (is_all_chains(&act.body)) {
		/* "dc over the next 5 ch, 6 ch": chains alone are worked into nothing */
		tb_build_add_cannot(b, value, acts, "chains are worked into no place");
		return;
	}
	if (body != NULL && says_own_places(&act.body, &act.place)) {
		/* "1 bl, 2 sps, 1 bl in next sp", where a bl is dc in next 3 sts */
		tb_build_add_cannot(b, value, acts, "what says its own places is worked into no other");
		return;
	}
	if (holds_knot(&act.body)) {
		/* "work a knot st, sc in next dc": the knot stands where the hook is */
		tb_build_add_cannot(b, value, acts, "a knot stitch is worked into no place");
		return;
	}
	if (names != NULL && (names->type == TB_VALUE_STITCH ||
		(names->type == TB_VALUE_SYMBOL && tb_vocabulary_stitch(b->vocabulary, names->symbol) != NULL))) {
		/* "sk 3 dc of fan, sc in next dc": the dc is no name of what is behind it */
		tb_build_add_cannot(b, value, acts, "a stitch has no group's name");
		return;
	}
	if (names != NULL && names->type == TB_VALUE_SYMBOL && act.body.count > 0)
		tb_build_name_group(b, value, names->symbol, acts, &act);
	if (tb_build_has(value, TB_SLOT_lead) && act.body.count > 0)
		tb_build_lead(b, value, acts);
	if (act.body.count == 0)
		tb_build_tell_cannot(b, value, acts, "stitch-own", "what this stitch is made of, the pattern does not say",
			"Write it out, as in (dc, ch 1, dc) in next st, or tell it among the pattern's stitches.");
	else
		g_array_append_val(acts, act);
	const tb_value *then = tb_value_get(value, TB_SLOT_then);
	if (then != NULL && act.body.count > 0) {
		tb_act more = act;
		tb_build_place(b, then, &more.place);
		g_array_append_val(acts, more);
	}
}
