/* Acts: what is done, from the values the chart read. */
#include "notation/build.h"

#include "stitches/stitch.h"
#include "support/limits.h"

#include <string.h>

tb_number tb_number_make(tb_arena *arena, int value, tb_span span)
{
	int *values = tb_arena_new(arena, int);
	*values = value;
	return (tb_number){1, values, span};
}

bool tb_number_is(const tb_number *number, int value)
{
	return number->count == 1 && number->values[0] == value;
}

tb_act tb_build_act_of(const tb_builder *b, const tb_value *value, tb_act_kind kind)
{
	const tb_lattice *l = b->lattice;
	bool after_stop = value->from > 0 && l->text->chars[l->start[value->from - 1]] == '.';
	return (tb_act){.kind = kind, .span = tb_build_span(b, value->from, value->to), .after_stop = after_stop,
		.along = tb_build_has(value, TB_SLOT_along)};
}

void tb_build_add_kind(tb_builder *b, const tb_value *value, GArray *acts, tb_act_kind kind)
{
	tb_act act = tb_build_act_of(b, value, kind);
	g_array_append_val(acts, act);
}

/* What is understood and cannot be meant so: told where no other reading of the row comes out. */
void tb_build_tell_cannot(tb_builder *b, const tb_value *value, GArray *acts, const char *code,
	const char *why, const char *hint)
{
	tb_act act = tb_build_act_of(b, value, TB_ACT_CANNOT);
	act.why = why;
	act.code = code;
	act.hint = hint;
	g_array_append_val(acts, act);
}

void tb_build_add_cannot(tb_builder *b, const tb_value *value, GArray *acts, const char *why)
{
	tb_build_tell_cannot(b, value, acts, "not-worked", why, "Write what is worked stitch by stitch.");
}

bool tb_build_has(const tb_value *value, tb_slot slot)
{
	return tb_value_get(value, slot) != NULL;
}

int tb_build_one_number(const tb_value *value, int otherwise)
{
	return value != NULL && value->type == TB_VALUE_NUMBER && value->count == 1 ?
		(int)CLAMP(value->figures[0], -1, (double)TB_LIMIT_NUMBER) : otherwise;
}

tb_acts tb_acts_keep(tb_arena *arena, const GArray *acts)
{
	size_t bytes = acts->len * sizeof(tb_act);
	tb_act *copy = tb_arena_take(arena, MAX(bytes, 1));
	if (bytes > 0)
		memcpy(copy, acts->data, bytes);
	/* what a repeat ends with may have been taken into the next row */
	for (guint i = 0; i < acts->len; i++)
		copy[i].ends = MIN(copy[i].ends, acts->len - i - 1);
	return (tb_acts){copy, acts->len};
}

tb_acts tb_build_list(tb_builder *b, const tb_value *list)
{
	g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
	if (list != NULL && list->type == TB_VALUE_LIST) {
		const tb_value *const *items = tb_value_items(list, b->scratch);
		for (guint32 i = 0; i < list->count; i++)
			tb_build_act(b, items[i], acts);
	} else if (list != NULL) {
		tb_build_act(b, list, acts);
	}
	tb_build_refuse_torn(acts);
	return tb_acts_keep(b->arena, acts);
}

/* --- the ordinary stitch of each place --- */

/* What "inc", "dec" and "even" work: sc, hdc, dc and their kin. */
static bool is_ordinary(const tb_stitch *stitch)
{
	return stitch != NULL && stitch->family == TB_FAMILY_PLAIN;
}

void tb_build_begin(tb_builder *b, const tb_lattice *l, tb_arena *scratch)
{
	b->lattice = l;
	b->scratch = scratch;
	g_hash_table_remove_all(b->held);
	b->skipped = (tb_number){0};
	b->skipped_kind = (tb_place){.target = TB_TARGET_STITCH};
	b->behind = false;
	b->deep = 0;
	b->own_acts = 0;
	g_array_set_size(b->loose, 0);
	g_array_set_size(b->doubts, 0);
	b->chains = tb_number_make(b->arena, 3, (tb_span){0, 0});
	const tb_stitch **at = tb_arena_take(scratch, (l->count + 1) * sizeof(*at));
	const tb_stitch *first = NULL, *last = NULL;
	for (guint32 i = 0; i < l->count; i++) {
		at[i] = last;
		for (guint32 e = l->first_edge[i]; e < l->first_edge[i + 1]; e++) {
			const tb_edge *edge = &l->edges[e];
			if (edge->term == TB_TERM_CLASS_stitchname && edge->value->type == TB_VALUE_STITCH &&
				is_ordinary(edge->value->stitch)) {
				last = edge->value->stitch;
				first = first == NULL ? last : first;
				break;
			}
		}
	}
	/* Before the first that is named: the one of the rows before, or else that one. */
	const tb_stitch *sc = tb_library_find(b->pattern->library, "sc");
	for (guint32 i = 0; i <= l->count; i++) {
		if (i == l->count)
			at[i] = last;
		if (at[i] == NULL)
			at[i] = first != NULL ? first : b->plain != NULL ? b->plain : sc;
	}
	b->plain_at = at;
	b->names_plain = first != NULL;
	if (last != NULL)
		b->plain = last;
}

/* --- rings, leaving --- */

static void build_ring(tb_builder *b, const tb_value *value, GArray *acts)
{
	const tb_value *stitch = tb_value_get(value, TB_SLOT_stitch);
	if (value->kind != TB_KIND_inring)
		tb_build_add_kind(b, value, acts, TB_ACT_RING);
	/* "MR 6" is six of the plainest stitch, as toys are worked */
	bool plain = tb_build_has(value, TB_SLOT_plain);
	if (stitch == NULL && !plain)
		return;
	tb_act act = tb_build_act_of(b, value, TB_ACT_WORK);
	act.stitch = plain ? tb_library_find(b->pattern->library, "sc") : tb_build_stitch(b, stitch, NULL);
	act.each = tb_build_number(b, tb_value_get(value, TB_SLOT_n), 1);
	act.place = (tb_place){.in = TB_IN_RING, .rows_below = 1, .span = act.span};
	act.place.count = (tb_number){1, tb_number_one, act.span};
	/* "12 sc under the chain": of the ring, where the piece begins with one */
	if (tb_build_has(value, TB_SLOT_first) && !b->first_row)
		tb_build_add_cannot(b, value, acts, "which chain this goes under is not said");
	else if (act.stitch != NULL)
		g_array_append_val(acts, act);
}

/* "an 8-ch ring" */
static void build_chain_ring(tb_builder *b, const tb_value *value, GArray *acts)
{
	tb_act chain = tb_build_act_of(b, value, TB_ACT_CHAIN);
	chain.count = tb_build_number(b, tb_value_get(value, TB_SLOT_n), 1);
	g_array_append_val(acts, chain);
	tb_build_add_kind(b, value, acts, TB_ACT_RING);
}

static void build_picot_close(tb_builder *b, const tb_value *value, GArray *acts)
{
	tb_act act = tb_build_act_of(b, value, TB_ACT_WORK);
	const tb_value *stitch = tb_value_get(value, TB_SLOT_stitch), *place = tb_value_get(value, TB_SLOT_place);
	act.stitch = stitch != NULL ? tb_build_stitch(b, stitch, NULL) : b->slip;
	act.each = (tb_number){1, tb_number_one, act.span};
	if (place != NULL)
		tb_build_place(b, place, &act.place);
	if (place == NULL || act.place.in != TB_IN_NTH_CHAIN) {
		/* "ch 4, sl st in dc for picot": in the stitch the chains stand on */
		act.place = (tb_place){.in = TB_IN_NTH_CHAIN, .target = TB_TARGET_CHAIN, .rows_below = 1,
			.span = act.span};
		act.place.count = b->chains;
	}
	if (act.stitch != b->slip)
		tb_build_tell_cannot(b, value, acts, "picot-close", "this picot is not closed with a slip stitch",
			"Write sl st, or tell the picot among the pattern's stitches.");
	else
		g_array_append_val(acts, act);
}

/* --- one act --- */

static void build_side(tb_builder *b, const tb_value *value, GArray *acts)
{
	tb_act act = tb_build_act_of(b, value, TB_ACT_SIDE);
	const tb_value *side = tb_value_get(value, TB_SLOT_side);
	act.side = tb_value_is_symbol(tb_value_get(side, TB_SLOT_v), TB_SYMBOL_ws) ? TB_SIDE_WRONG :
		TB_SIDE_RIGHT;
	g_array_append_val(acts, act);
}

static void build_manner(tb_builder *b, const tb_value *value, GArray *acts)
{
	const tb_value *loops = tb_value_get(value, TB_SLOT_loops);
	const tb_value *front = tb_value_get(value, TB_SLOT_front);
	if (loops != NULL) {
		tb_act act = tb_build_act_of(b, value, TB_ACT_LOOPS);
		act.place.loops = tb_build_loops_of(loops);
		act.always = tb_build_has(value, TB_SLOT_always);
		act.place.span = act.span;
		tb_build_row_named(b, value, &act.place);
		g_array_append_val(acts, act);
	} else if (tb_build_has(value, TB_SLOT_inrow)) {
		tb_act act = tb_build_act_of(b, value, TB_ACT_LOOPS);
		act.place.span = act.span;
		act.place.missed = tb_build_has(value, TB_SLOT_missed);
		tb_build_row_named(b, value, &act.place);
		g_array_append_val(acts, act);
	} else if (front != NULL) {
		b->behind = tb_build_one_number(front, 1) == 0;
		tb_build_add_kind(b, value, acts, b->behind ? TB_ACT_BEHIND : TB_ACT_IN_FRONT);
	}
}

/* "Sc through both layers" folds the round where that is said, or comes out. */
void tb_build_fold(tb_builder *b, const tb_value *value, GArray *acts)
{
	tb_build_add_kind(b, value, acts, TB_ACT_FOLD);
	g_array_index(acts, tb_act, acts->len - 1).bare = tb_build_has(value, TB_SLOT_maybe);
}

/* "Rotate" may mean that the other side of the chain is worked; a quarter of a turn does not. */
static void build_other_side(tb_builder *b, const tb_value *value, GArray *acts)
{
	int turned = tb_build_one_number(tb_value_get(value, TB_SLOT_turned), 0);
	if (turned > 1 && turned != 180)
		return;
	tb_build_add_kind(b, value, acts, TB_ACT_OTHER_SIDE);
	g_array_index(acts, tb_act, acts->len - 1).bare = turned > 0;
}

static void append(GArray *acts, tb_acts more)
{
	if (more.count > 0)
		g_array_append_vals(acts, more.acts, more.count);
}

/* Whether a stitch of several legs, or one of the pattern's own, stands before AT with no sign between. */
static bool is_behind_several(const tb_lattice *l, guint32 at)
{
	while (at-- > 0 && g_ascii_isalnum(l->text->chars[l->start[at]])) {
		for (guint32 e = l->first_edge[at]; e < l->first_edge[at + 1]; e++) {
			const tb_value *value = l->edges[e].value;
			if (value != NULL && (value->type == TB_VALUE_OWN || (value->type == TB_VALUE_STITCH &&
				value->stitch->legs > 1 && value->stitch->takes <= 1)))
				return true;
		}
	}
	return false;
}

/*
 * "Popcorn in next dc (5 dc in same st, drop loop, …)": whether what is in brackets may tell what the stitch before
 * them is made of, so that it is no work of its own.
 */
static bool tells_stitch(const tb_builder *b, const tb_value *value, const GArray *acts, guint before)
{
	bool same = false;
	for (guint i = before; i < acts->len; i++) {
		const tb_act *act = &g_array_index(acts, tb_act, i);
		if (act->kind != TB_ACT_WORK && act->kind != TB_ACT_CHAIN && act->kind != TB_ACT_GROUP)
			return false;
		same = same || (act->place.in == TB_IN_SAME && !act->place.begun && !act->place.at_begin);
	}
	return same && is_behind_several(b->lattice, value->from);
}

/* Acts in brackets. What begins "(ch 2 counts" tells of a chain that was made, and makes none. */
static void build_parenthesis(tb_builder *b, const tb_value *value, GArray *acts)
{
	guint before = acts->len;
	/* "sc: 4 A, 3 B": the numbers are of that stitch */
	const tb_value *of = tb_value_get(value, TB_SLOT_of);
	if (of != NULL && tb_build_stitch(b, of, NULL) != b->plain_at[value->to - 1]) {
		tb_build_add_cannot(b, value, acts, "so many of what is not said one by one");
		return;
	}
	append(acts, tb_build_list(b, tb_value_get(value, TB_SLOT_acts)));
	if (tells_stitch(b, value, acts, before)) {
		g_array_set_size(acts, before);
		tb_build_add_cannot(b, value, acts, "whether this is worked, or what the stitch before it is made of, is not sure");
	}
	if (acts->len > before + 1 && g_array_index(acts, tb_act, before).kind == TB_ACT_SKIPPED_COUNT) {
		/* "(3 skipped chs count as dc and ch 1)": that chain is not made */
		g_array_set_size(acts, before);
		tb_build_add_cannot(b, value, acts, "what the skipped chains count as stands alone in its bracket");
	}
	if (acts->len == before + 1 && g_array_index(acts, tb_act, before).kind == TB_ACT_CHAIN &&
		g_array_index(acts, tb_act, before).counts != TB_COUNTS_UNSAID) {
		g_array_set_size(acts, before);
		tb_build_tell_cannot(b, value, acts, "counts-unclear", "no such chain stands before this",
			"Say it right behind the chain, as in “ch 3 (counts as dc)”.");
	}
}

/* "Slide up a bead, sc in next 3 sts": the first of them alone has it. False where ACT makes several in another way. */
static bool take_one_bead(tb_builder *b, tb_act *act, GArray *acts)
{
	tb_act rest = *act;
	bool next = act->place.in == TB_IN_NEXT || act->place.in == TB_IN_FIRST;
	if (!tb_number_is(&act->each, 1) || act->place.count.count != 1 || act->place.count.values[0] < 1 || !next)
		return false;
	int more = act->place.count.values[0] - 1;
	act->stitch = tb_library_beaded(b->pattern->library, act->stitch);
	act->place.count = tb_number_make(b->arena, 1, act->span);
	rest.place.in = TB_IN_NEXT;
	rest.place.count = tb_number_make(b->arena, more, rest.span);
	if (more > 0)
		g_array_append_val(acts, rest);
	return true;
}

/* "4 sc with a bead on each" */
static void build_beaded(tb_builder *b, const tb_value *value, GArray *acts)
{
	guint before = acts->len;
	append(acts, tb_build_list(b, tb_value_get(value, TB_SLOT_acts)));
	if (tb_build_has(value, TB_SLOT_first)) {
		tb_act *act = acts->len == before + 1 ? &g_array_index(acts, tb_act, before) : NULL;
		if (act == NULL || act->kind != TB_ACT_WORK || act->stitch == NULL || !take_one_bead(b, act, acts))
			tb_build_add_cannot(b, value, acts, "which of these stitches has the bead is not said");
		return;
	}
	for (guint i = before; i < acts->len; i++) {
		tb_act *act = &g_array_index(acts, tb_act, i);
		if (act->kind == TB_ACT_WORK && act->stitch != NULL)
			act->stitch = tb_library_beaded(b->pattern->library, act->stitch);
	}
}

void tb_build_act(tb_builder *b, const tb_value *value, GArray *acts)
{
	if (value->type == TB_VALUE_LIST) {
		append(acts, tb_build_list(b, value));
		return;
	}
	guint before = acts->len;
	if (value->type != TB_VALUE_NODE)
		return;
	switch ((tb_kind)value->kind) {
	case TB_KIND_beaded:
		build_beaded(b, value, acts);
		break;
	case TB_KIND_legged:
		tb_build_legged(b, value, acts);
		break;
	case TB_KIND_star:
		tb_build_star(b, value, acts);
		break;
	case TB_KIND_told:
		tb_build_told(b, value, acts);
		break;
	case TB_KIND_linkedwork:
		tb_build_linked(b, value, acts);
		break;
	case TB_KIND_chain:
		tb_build_chain(b, value, acts);
		break;
	case TB_KIND_chainpopcorn:
		tb_build_chain_popcorn(b, value, acts);
		break;
	case TB_KIND_chaindec:
		tb_build_chain_decrease(b, value, acts);
		break;
	case TB_KIND_stacked:
		tb_build_stacked(b, value, acts);
		break;
	case TB_KIND_work:
		tb_build_work(b, value, acts);
		/* whatever a rule above makes of it: a stitch that is read is worked, or told */
		if (acts->len == before)
			tb_build_add_cannot(b, value, acts, "how this stitch is worked here is not understood");
		break;
	case TB_KIND_workmix:
		tb_build_mixed(b, value, acts);
		break;
	case TB_KIND_eachkind:
		tb_build_each_kind(b, value, acts);
		break;
	case TB_KIND_bothends:
		tb_build_both_ends(b, value, acts);
		break;
	case TB_KIND_repeatst:
		tb_build_again(b, value, acts);
		break;
	case TB_KIND_everynth:
		tb_build_every(b, value, acts);
		break;
	case TB_KIND_shape:
	case TB_KIND_shaping:
		tb_build_shape(b, value, value, acts);
		break;
	case TB_KIND_group:
	case TB_KIND_apart:
		tb_build_group(b, value, acts);
		break;
	case TB_KIND_onebyone:
		tb_build_one_by_one(b, value, acts);
		break;
	case TB_KIND_repeat:
		tb_build_repeat(b, value, acts);
		break;
	case TB_KIND_bycolours:
		tb_build_by_colours(b, value, acts);
		break;
	case TB_KIND_repeatshared:
		tb_build_shared(b, value, acts);
		break;
	case TB_KIND_parenthesis:
		build_parenthesis(b, value, acts);
		break;
	case TB_KIND_skip:
		tb_build_skip(b, value, acts);
		break;
	case TB_KIND_turn:
		tb_build_turn(b, value, acts);
		break;
	case TB_KIND_noturn:
		tb_build_add_kind(b, value, acts, TB_ACT_DO_NOT_TURN);
		break;
	case TB_KIND_join:
		tb_build_join(b, value, acts);
		break;
	case TB_KIND_joinmaybe:
	case TB_KIND_travel:
		tb_build_slip_to(b, value, acts);
		break;
	case TB_KIND_nojoin:
		tb_build_add_kind(b, value, acts, TB_ACT_DO_NOT_JOIN);
		break;
	case TB_KIND_chring:
		build_chain_ring(b, value, acts);
		break;
	case TB_KIND_ring:
	case TB_KIND_magicring:
	case TB_KIND_inring:
		build_ring(b, value, acts);
		break;
	case TB_KIND_allring:
		tb_build_all_in_ring(b, value, acts);
		break;
	case TB_KIND_fastenoff:
		tb_build_add_kind(b, value, acts, TB_ACT_FASTEN_OFF);
		break;
	case TB_KIND_newyarn:
		tb_build_new_yarn(b, value, acts);
		break;
	case TB_KIND_within:
	case TB_KIND_leave:
		tb_build_leave(b, value, acts);
		break;
	case TB_KIND_manner:
		build_manner(b, value, acts);
		break;
	case TB_KIND_folded:
		tb_build_fold(b, value, acts);
		break;
	case TB_KIND_otherside:
		build_other_side(b, value, acts);
		break;
	case TB_KIND_sidefacing:
		build_side(b, value, acts);
		break;
	case TB_KIND_skipped:
		tb_build_skipped_count(b, value, acts);
		break;
	case TB_KIND_fromstar:
		tb_build_from_star(b, value, acts);
		break;
	case TB_KIND_claim:
		tb_build_claim(b, value, acts);
		break;
	case TB_KIND_filet:
		tb_build_filet(b, value, acts);
		break;
	case TB_KIND_knot:
		tb_build_knot(b, value, acts);
		break;
	case TB_KIND_picot:
		build_picot_close(b, value, acts);
		break;
	case TB_KIND_notbehind:
		tb_build_not_behind(b, value, acts);
		break;
	case TB_KIND_goto:
		tb_build_go_to(b, value, acts);
		break;
	case TB_KIND_surface:
		tb_build_surface(b, value, acts);
		break;
	case TB_KIND_anchor:
		tb_build_anchor(b, value, acts);
		break;
	case TB_KIND_otheredge:
		tb_build_add_kind(b, value, acts, TB_ACT_OTHER_EDGE);
		g_array_index(acts, tb_act, acts->len - 1).bare = tb_build_has(value, TB_SLOT_top);
		break;
	case TB_KIND_only:
		tb_build_only(b, value, acts);
		break;
	case TB_KIND_sized:
		tb_build_sized(b, value, acts);
		break;
	case TB_KIND_atend:
		tb_build_at_end(b, value, acts);
		break;
	case TB_KIND_workover:
		tb_build_add_cannot(b, value, acts, "where the stitches go is not said one by one");
		break;
	case TB_KIND_complete:
		tb_build_add_cannot(b, value, acts, "what the rest of it is worked like is not said");
		break;
	case TB_KIND_mark:
		if (b->closes_block)
			break;
		tb_build_tell_cannot(b, value, acts, "star-open", "what begins at this star is never repeated",
			"Say how often, as in “rep from * across” or “rep from * 4 times”.");
		break;
	default:
		tb_build_remark(b, value, acts);
		return;
	}
	tb_build_keep_row(b, value, acts, before);
	tb_build_skip_first(b, value, acts, before);
}
