/* What the pattern's own words define, as it is worked: a group in one place, or acts with their own places. */
#include "notation/build.h"

#include "stitches/stitch.h"
#include "support/limits.h"

#define MOST_GROUPS 100

/* COUNT groups side by side in one place, "3 V in ring": each is one of its own. */
static tb_acts several(tb_builder *b, const tb_act *like, const tb_own *own, int count)
{
	g_autoptr(GArray) groups = g_array_new(FALSE, FALSE, sizeof(tb_act));
	tb_act one = {.kind = TB_ACT_GROUP, .own = own, .body = own->acts, .span = like->span};
	one.each = (tb_number){1, tb_number_one, like->span};
	one.place = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .span = like->span};
	one.place.count = one.each;
	for (int i = 0; i < count; i++)
		g_array_append_val(groups, one);
	return tb_acts_keep(b->arena, groups);
}

/* "3 shells in next 3 sps": one in each. */
bool tb_build_is_one_each(const tb_value *value, const tb_act *act)
{
	return act->place.in == TB_IN_NEXT && act->each.count == 1 && act->each.values[0] > 1 &&
		tb_number_is(&act->place.count, act->each.values[0]) &&
		!tb_build_has(tb_value_get(value, TB_SLOT_place), TB_SLOT_of_each);
}

/* A group, in ACT's place. */
static void add_group(tb_builder *b, const tb_value *value, const tb_act *act, const tb_own *own, GArray *acts)
{
	tb_act group = *act;
	group.kind = TB_ACT_GROUP;
	group.stitch = NULL;
	group.own = own;
	group.body = own->acts;
	group.bare = act->bare || !tb_build_has(value, TB_SLOT_place);
	if (group.bare && own->space != NULL) {
		group.place = *own->space;
		group.bare = false;
	}
	if (own->acts.count == 0)
		return;
	if (!tb_number_is(&act->each, 1)) {
		if (act->each.count != 1 || act->each.values[0] < 1 || act->each.values[0] > MOST_GROUPS) {
			tb_build_add_cannot(b, value, acts, "so many groups are not worked in one place");
			return;
		}
		group.own = NULL;
		group.body = several(b, act, own, act->each.values[0]);
		group.each = (tb_number){1, tb_number_one, act->span};
	}
	g_array_append_val(acts, group);
}

/* "Beg shell: ch 3, 2 dc, ch 1, 3 dc" says no place, or "same st": where one is said of it, all goes in there. */
static bool is_placeless(const tb_own *own)
{
	for (unsigned i = 0; i < own->acts.count; i++) {
		const tb_act *act = &own->acts.acts[i];
		bool same = act->kind == TB_ACT_WORK && act->place.in == TB_IN_SAME && !act->place.begun &&
			!act->place.at_slip;
		if (act->kind != TB_ACT_CHAIN && !same && (act->kind != TB_ACT_WORK || !act->bare))
			return false;
	}
	return own->acts.count > 0;
}

/* "Xdc across", "Xdc to last 2 sts": as often as it comes out. False where VALUE has another place, or none. */
static bool repeat_whole(tb_builder *b, const tb_value *value, const tb_act *act, const tb_own *own, GArray *acts)
{
	const tb_place *place = &act->place;
	const tb_value *said = tb_value_get(value, TB_SLOT_place);
	bool left = tb_build_has(said, TB_SLOT_left);
	if (said == NULL || place->in != TB_IN_EACH || (place->target != TB_TARGET_STITCH && !left) ||
		!tb_number_is(&act->each, 1) || (tb_build_has(said, TB_SLOT_noun) && !left))
		return false;
	tb_act repeat = tb_build_act_of(b, value, TB_ACT_REPEAT);
	repeat.body = own->acts;
	tb_build_until(b, said, false, &repeat);
	g_array_append_val(acts, repeat);
	return true;
}

/* How many stitches of the row below OWN goes over: "sk 1, dc in next st, dc in skipped st" over 2. 0 where that is not plain. */
static int find_reach(const tb_own *own)
{
	int reach = 0;
	for (unsigned i = 0; i < own->acts.count; i++) {
		const tb_act *act = &own->acts.acts[i];
		const tb_place *place = &act->place;
		bool kind = place->target == TB_TARGET_STITCH || place->target == TB_TARGET_NAMED;
		bool next = place->in == TB_IN_NEXT && kind && place->count.count == 1;
		if (act->kind == TB_ACT_SKIP && next)
			reach += place->count.values[0];
		else if (act->kind == TB_ACT_WORK && next)
			reach += place->count.values[0] * (int)act->stitch->takes;
		else if (act->kind != TB_ACT_CHAIN && act->kind != TB_ACT_BEHIND && act->kind != TB_ACT_IN_FRONT && !(act->kind == TB_ACT_WORK && (place->in == TB_IN_SAME || place->in == TB_IN_SKIPPED)))
			return 0;
	}
	return reach;
}

/* Whether PLACE says how many stitches something goes over: "next 6 sts", "last 2 sc", "next 3 ch". */
static bool says_how_many(const tb_place *place)
{
	bool stitches = place->target == TB_TARGET_STITCH || place->target == TB_TARGET_NAMED || place->target == TB_TARGET_CHAIN;
	return stitches && place->count.count == 1 && (place->in == TB_IN_NEXT || place->in == TB_IN_FIRST || place->in == TB_IN_LAST);
}

/* "X-st over next 6 sts", where one goes over 2: so many of them. */
static int find_many(const tb_value *value, const tb_act *act, const tb_own *own)
{
	if (!tb_build_has(value, TB_SLOT_place))
		return tb_build_one_number(tb_value_get(value, TB_SLOT_n), 1);
	const tb_place *place = &act->place;
	int reach = find_reach(own);
	bool several = says_how_many(place) && tb_number_is(&act->each, 1) && reach > 0 && place->count.values[0] % reach == 0;
	return several ? place->count.values[0] / reach : 1;
}

/* What says its own places, as often as it is said: "3 X-st". */
static void add_whole(tb_builder *b, const tb_value *value, const tb_act *act, const tb_own *own, GArray *acts)
{
	int many = find_many(value, act, own);
	guint32 all = own->acts.count * (guint32)CLAMP(many, 1, 100);
	if (all > TB_LIMIT_ROW_OWN_ACTS - b->own_acts) {
		tb_build_tell_cannot(b, value, acts, "limit-definitions", "too much is worked by the names of stitches",
			"Write it as repeats.");
		return;
	}
	b->own_acts += all;
	for (int i = 0; i < CLAMP(many, 1, 100) && own->acts.count > 0; i++) {
		g_array_append_vals(acts, own->acts.acts, own->acts.count);
		if (i == 0)
			g_array_index(acts, tb_act, acts->len - own->acts.count).ahead = tb_build_place_ahead(value, act);
		/* "block: dc in next 3 sts" goes over a space as well */
		tb_act *last = &g_array_index(acts, tb_act, acts->len - 1);
		last->squares = last->kind == TB_ACT_WORK && last->place.in == TB_IN_NEXT &&
			last->place.target == TB_TARGET_STITCH && !tb_number_is(&last->place.count, 1);
	}
}

/* "X-st over next 3 sts", "X-st over every 3 sts", where one goes over 2. */
static bool goes_over_other(const tb_value *value, const tb_act *act, const tb_own *own)
{
	const tb_place *place = &act->place;
	const tb_value *takes = tb_value_get(tb_value_get(value, TB_SLOT_place), TB_SLOT_takes);
	int reach = find_reach(own);
	bool next = tb_build_has(value, TB_SLOT_place) && says_how_many(place) && place->count.values[0] > 1 && own->whole;
	return takes != NULL ? tb_build_few(takes) != reach : next && reach > 0 && place->count.values[0] % reach != 0;
}

/* "X-st over next 2 sts" says what its acts say; "X-st in next ch-2 sp" is another place than theirs. */
static bool is_its_own_place(const tb_value *value, const tb_act *act)
{
	const tb_place *place = &act->place;
	return !tb_build_has(value, TB_SLOT_place) ||
		((place->in == TB_IN_NEXT || place->in == TB_IN_FIRST || place->in == TB_IN_LAST) && place->of == NULL &&
			(place->target == TB_TARGET_STITCH || place->target == TB_TARGET_NAMED || place->target == TB_TARGET_CHAIN));
}

/* What square of filet OWN is by what it is made of, "sp: ch 2, sk 2 sts, dc in next st". */
static tb_over find_square(const tb_own *own)
{
	if (own == NULL || !own->whole || find_reach(own) != 3)
		return TB_OVER_UNSAID;
	return own->acts.acts[0].kind == TB_ACT_CHAIN ? TB_OVER_SPACE : TB_OVER_BLOCK;
}

/* "Bl over sp", "2 bls over next 2 sps", "sp over each of next 3 bls": squares over those of the row below. */
static bool add_squares(tb_builder *b, const tb_value *value, const tb_act *act, const tb_own *own, GArray *acts)
{
	const tb_place *place = &act->place;
	bool space = place->target == TB_TARGET_SPACE;
	tb_over over = space ? TB_OVER_SPACE : place->target == TB_TARGET_GROUP ? find_square(place->own) : TB_OVER_UNSAID;
	if (find_square(own) == TB_OVER_UNSAID || over == TB_OVER_UNSAID || place->in != TB_IN_NEXT || place->of != NULL ||
		act->each.count != 1 || place->count.count != 1)
		return false;
	int many = act->each.values[0], beneath = place->count.values[0];
	if (many > 1 && beneath > 1 && many != beneath) {
		tb_build_add_cannot(b, value, acts, "a square of filet lies over one square");
		return true;
	}
	for (int i = 0; i < MIN(MAX(many, beneath), 100); i++) {
		guint first = acts->len;
		g_array_append_vals(acts, own->acts.acts, own->acts.count);
		while (g_array_index(acts, tb_act, first).kind == TB_ACT_CHAIN)
			first++;
		g_array_index(acts, tb_act, first).over = over;
		tb_act *last = &g_array_index(acts, tb_act, acts->len - 1);
		last->squares = last->kind == TB_ACT_WORK;
	}
	return true;
}

/* "2 bls over 3 | sps": the noun of the place stands behind what was read of it. */
static bool leaves_noun(const tb_builder *b, const tb_value *value)
{
	const tb_lattice *l = b->lattice;
	const tb_value *place = tb_value_get(value, TB_SLOT_place);
	if (place == NULL || tb_build_has(place, TB_SLOT_noun) || place->to != value->to || value->to >= l->count)
		return false;
	for (guint32 i = l->first_edge[value->to]; i < l->first_edge[value->to + 1]; i++) {
		const tb_value *name = l->edges[i].value;
		if (name != NULL && (name->type == TB_VALUE_STITCH || name->type == TB_VALUE_OWN))
			return true;
	}
	return false;
}

void tb_build_own(tb_builder *b, const tb_value *value, const tb_act *act, const tb_own *own, GArray *acts)
{
	if (leaves_noun(b, value))
		tb_build_add_cannot(b, value, acts, "the noun of this place is no stitch behind it");
	else if (goes_over_other(value, act, own))
		tb_build_tell_cannot(b, value, acts, "together-count", "this does not go over so many stitches",
			"Name as many as one of them goes over, or as several do.");
	else if (add_squares(b, value, act, own, acts))
		return;
	else if (!own->whole || (tb_build_has(value, TB_SLOT_place) && is_placeless(own)))
		add_group(b, value, act, own, acts);
	else if (repeat_whole(b, value, act, own, acts))
		return;
	else if (is_its_own_place(value, act))
		add_whole(b, value, act, own, acts);
	else
		tb_build_add_cannot(b, value, acts, "this goes over several places, and one alone is said");
}

void tb_build_tell_shell(tb_builder *b, const tb_act *act)
{
	tb_act *told = &b->told_shell;
	bool other = told->each.count > 0 && (told->stitch != act->stitch || act->each.count != 1 ||
		told->each.values[0] != act->each.values[0]);
	*told = (tb_act){.kind = TB_ACT_WORK, .stitch = other || act->each.count != 1 ? NULL : act->stitch, .each = act->each};
}

/* V-st and the like, where the pattern does not say what it means by them; a shell as it was told before. */
tb_acts tb_build_usual_group(tb_builder *b, const tb_value *stitch, const tb_act *like)
{
	g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
	if (tb_build_is_unnamed(stitch, TB_SYMBOL_shell) && b->told_shell.stitch != NULL) {
		tb_act work = {.kind = TB_ACT_WORK, .stitch = b->told_shell.stitch, .span = like->span};
		work.each = (tb_number){1, tb_number_one, like->span};
		work.place = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .span = like->span, .count = b->told_shell.each};
		g_array_append_val(acts, work);
		return tb_acts_keep(b->arena, acts);
	}
	const tb_stitch *dc = tb_library_find(b->pattern->library, "dc");
	if (!tb_build_is_unnamed(stitch, TB_SYMBOL_vst) || dc == NULL)
		return tb_acts_keep(b->arena, acts);
	tb_act work = {.kind = TB_ACT_WORK, .stitch = dc, .span = like->span};
	work.each = (tb_number){1, tb_number_one, like->span};
	work.place = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .span = like->span};
	work.place.count = work.each;
	tb_act chain = {.kind = TB_ACT_CHAIN, .span = like->span, .count = work.each};
	g_array_append_val(acts, work);
	g_array_append_val(acts, chain);
	g_array_append_val(acts, work);
	return tb_acts_keep(b->arena, acts);
}

const tb_own *tb_build_like(tb_builder *b, const tb_value *stitch, const tb_act *act)
{
	const tb_place *place = &act->place;
	bool of_group = place->target == TB_TARGET_GROUP || place->target == TB_TARGET_SPACE ||
		(place->in == TB_IN_PART && place->of != NULL && place->of->target == TB_TARGET_GROUP);
	if (!tb_build_is_unnamed(stitch, TB_SYMBOL_shell) || (!of_group && place->in != TB_IN_SAME) ||
		!tb_number_is(&act->each, 1))
		return NULL;
	if (b->like == NULL) {
		tb_own *own = tb_arena_new(b->arena, tb_own);
		own->name = b->grammar_symbols[TB_SYMBOL_shell];
		b->like = own;
	}
	return b->like;
}
