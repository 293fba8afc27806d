/* Stitches: what is worked, and where. */
#include "notation/build.h"

#include "stitches/stitch.h"

#include <string.h>

/* "3 dc around" may be three in each stitch; more than these are not. */
#define MOST_IN_EACH 4

tb_loops tb_build_loops_of(const tb_value *loops)
{
	const tb_value *v = tb_value_get(loops, TB_SLOT_v);
	return tb_value_is_symbol(v, TB_SYMBOL_back) ? TB_LOOPS_BACK :
		tb_value_is_symbol(v, TB_SYMBOL_front) ? TB_LOOPS_FRONT :
		tb_value_is_symbol(v, TB_SYMBOL_third) ? TB_LOOPS_THIRD : TB_LOOPS_BOTH;
}

/* "FPtr2tog around next 2 sts": one stitch, a leg around each; "each of next 2" are two. */
static void take_posts(tb_act *act, bool of_each)
{
	tb_place *place = &act->place;
	unsigned legs = act->stitch->legs;
	if (act->stitch->post == TB_POST_NONE || legs < 2 || act->stitch->takes != 1 || of_each ||
		place->in != TB_IN_NEXT || place->middle || !tb_number_is(&place->count, (int)legs))
		return;
	place->posts = legs;
	place->count = (tb_number){1, tb_number_one, place->count.span};
}

bool tb_build_is_word(const tb_builder *b, guint32 word, const char *wanted)
{
	const tb_lattice *l = b->lattice;
	size_t length = strlen(wanted);
	return l->stop[word] - l->start[word] == length &&
		g_ascii_strncasecmp(l->text->chars + l->start[word], wanted, length) == 0;
}

void tb_build_over(tb_builder *b, const tb_value *said, tb_place *place)
{
	/* "3 dc under the next": what a stitch goes under is a space */
	if (said != NULL && said->from > 0 && tb_build_is_word(b, said->from - 1, "under") && place->in == TB_IN_NEXT &&
		place->target == TB_TARGET_STITCH && tb_value_get(said, TB_SLOT_noun) == NULL)
		place->target = TB_TARGET_SPACE;
	/* "under every chain": the loops */
	if (said != NULL && said->from > 0 && tb_build_is_word(b, said->from - 1, "under") && place->in == TB_IN_EACH &&
		place->target == TB_TARGET_CHAIN && tb_number_is(&place->count, 0)) {
		place->target = TB_TARGET_SPACE;
		place->space_chains = 0;
	}
	/* "under the next 2 chain": those are one space */
	if (said != NULL && said->from > 0 && tb_build_is_word(b, said->from - 1, "under") && place->in == TB_IN_NEXT &&
		place->target == TB_TARGET_CHAIN && place->count.count == 1 && place->count.values[0] > 0) {
		place->target = TB_TARGET_SPACE;
		/* "under the chain" is one of any length */
		place->space_chains = tb_build_has(said, TB_SLOT_n) ? (unsigned)MIN(place->count.values[0], 255) : 0;
		place->count = tb_number_make(b->arena, 1, place->count.span);
	}
	if (said != NULL && said->from > 0 && tb_build_is_word(b, said->from - 1, "over") && place->in == TB_IN_NEXT &&
		place->target == TB_TARGET_CHAIN && tb_number_is(&place->count, 1)) {
		place->target = TB_TARGET_SPACE;
		place->space_chains = 0;
	}
}

/* "sl st to next ch-2 sp": along every stitch up to there, and then into it. */
void tb_build_add_way_to(tb_builder *b, GArray *acts, const tb_act *act)
{
	if (act->place.in != TB_IN_NEXT || act->place.target == TB_TARGET_STITCH ||
		act->place.target == TB_TARGET_TURNING_CHAIN)
		return;
	tb_place *end = tb_arena_new(b->arena, tb_place);
	*end = act->place;
	tb_act way = *act;
	way.place = (tb_place){.in = TB_IN_EACH, .rows_below = 1, .span = act->place.span};
	way.place.count = tb_number_make(b->arena, 0, act->place.span);
	way.place.up_to = end;
	g_array_append_val(acts, way);
}

bool tb_build_is_unnamed(const tb_value *stitch, tb_symbol symbol)
{
	return tb_value_is_symbol(tb_value_get(stitch, TB_SLOT_name), symbol);
}

/* "in next st", "in each ch-1 sp", "in same st": one place, or each by itself, and not "over next 3 sts". */
static bool is_one_place(const tb_value *value, const tb_act *act)
{
	const tb_place *place = &act->place;
	bool one = place->in == TB_IN_SAME || place->in == TB_IN_EACH ||
		((place->in == TB_IN_NEXT || place->in == TB_IN_FIRST || place->in == TB_IN_LAST) && tb_number_is(&place->count, 1));
	return tb_build_has(value, TB_SLOT_place) && one && tb_number_is(&act->each, 1);
}

/*
 * "A cluster over next 5 dc" is one stitch with a leg in each of them, whatever its legs are where it
 * stands in one place; false where VALUE says no such.
 */
static bool take_cluster_over(tb_builder *b, const tb_value *value, tb_act *act)
{
	const tb_value *said = tb_value_get(value, TB_SLOT_place);
	const tb_value *name = tb_value_get(tb_value_get(value, TB_SLOT_stitch), TB_SLOT_name);
	const tb_place *place = &act->place;
	const tb_own *own = name != NULL && name->type == TB_VALUE_OWN && ((const tb_own *)name->own)->over != NULL ? name->own : NULL;
	bool next = place->in == TB_IN_NEXT || (own != NULL && (place->in == TB_IN_LAST || place->in == TB_IN_FIRST));
	bool named = place->target == TB_TARGET_NAMED || (own != NULL && place->target == TB_TARGET_STITCH);
	if ((own == NULL && !tb_value_is_symbol(name, TB_SYMBOL_cluster)) || said == NULL || said->from == 0 ||
		(own == NULL && !tb_build_is_word(b, said->from - 1, "over")) || !next || place->middle || !named ||
		place->count.count != 1 || place->count.values[0] < 2 || !tb_number_is(&act->each, 1) ||
		(own == NULL && tb_build_has(said, TB_SLOT_of_each)))
		return false;
	const tb_stitch *over = tb_library_together(b->pattern->library, own != NULL ? own->over : place->named,
		(unsigned)place->count.values[0]);
	if (over == NULL)
		return false;
	act->stitch = over;
	act->own = own;
	act->place.count = act->each;
	return true;
}

/*
 * "Sc around post of next sc of Round 2": what stands in front of an earlier round leaves its back alone; or it
 * is said, "working behind petals, sc around post of next sc".
 */
static void work_from_behind(const tb_builder *b, tb_act *act)
{
	const tb_stitch *back = tb_library_post(b->pattern->library, act->stitch, TB_POST_BACK);
	if (act->stitch->post == TB_POST_NONE && act->stitch != b->slip && back != NULL)
		act->stitch = back;
}

/* One stitch of the row below, whose post that may be. */
static bool is_one_post(const tb_place *place)
{
	bool stitch = place->target == TB_TARGET_STITCH || place->target == TB_TARGET_NAMED;
	return stitch && tb_number_is(&place->count, 1) && place->rows_below == 1 && !place->on_made && place->of_row == 0 &&
		(place->in == TB_IN_NEXT || place->in == TB_IN_FIRST || place->in == TB_IN_LAST);
}

void tb_build_finish(tb_builder *b, const tb_value *value, tb_act *act, GArray *acts)
{
	const tb_value *stitch = tb_value_get(value, TB_SLOT_stitch);
	const tb_own *own = NULL;
	if (take_cluster_over(b, value, act)) {
		g_array_append_val(acts, *act);
		return;
	}
	act->stitch = tb_build_stitch(b, stitch, &own);
	tb_build_own_beginning(b, act);
	if (own != NULL && own->over != NULL) {
		tb_build_tell_cannot(b, value, acts, "stitch-own", "how many are drawn together is not said", "As in “CL over next 5 sts”.");
		return;
	}
	if (own != NULL && act->stitch == NULL) {
		const tb_act *one = own->acts.count == 1 && !own->whole ? own->acts.acts : NULL;
		if (tb_build_is_one_each(value, act))
			act->each = (tb_number){1, tb_number_one, act->span};
		if (one != NULL && one->kind == TB_ACT_WORK && tb_number_is(&act->each, 1) &&
			one->place.count.count == 1) {
			/* "inc: 2 sc in next st" is so many of one stitch */
			act->stitch = one->stitch;
			act->own = own;
			act->each = tb_number_make(b->arena, one->place.count.values[0], act->span);
			act->place.loops = act->place.loops == TB_LOOPS_BOTH ? one->place.loops : act->place.loops;
			g_array_append_val(acts, *act);
			return;
		}
		if (tb_own_is_knots(own)) {
			tb_build_add_knots(b, act, own, tb_build_one_number(tb_value_get(value, TB_SLOT_n), 1), acts);
			return;
		}
		tb_build_own(b, value, act, own, acts);
		return;
	}
	/* "cl in next st": of so many legs or others, it is one stitch */
	if (act->stitch == NULL && tb_build_is_unnamed(stitch, TB_SYMBOL_cluster) && is_one_place(value, act))
		act->stitch = tb_library_find(b->pattern->library, "3-dc cl");
	if (act->stitch == NULL) {
		tb_acts usual = tb_build_usual_group(b, stitch, act);
		act->own = tb_build_like(b, stitch, act);
		if (usual.count > 0 || act->own != NULL) {
			act->kind = TB_ACT_GROUP;
			act->body = usual;
			g_array_append_val(acts, *act);
		} else {
			tb_build_tell_cannot(b, value, acts, "stitch-own", "what this stitch is made of, the pattern does not say",
			"Write it out, as in (dc, ch 1, dc) in next st, or tell it among the pattern's stitches.");
		}
		return;
	}
	tb_build_kin(tb_value_get(value, TB_SLOT_place), act->stitch, &act->place);
	act->pattern = tb_build_is_of_pattern(b, stitch) ? TB_PATTERN_SHAPING : TB_PATTERN_NOT;
	/* "dc around the joining hdc" goes into the space that it closed */
	bool around = tb_build_has(value, TB_SLOT_around) && !tb_build_has(tb_value_get(value, TB_SLOT_place), TB_SLOT_joiner);
	if (around && (act->place.of_row > 0 || b->behind || tb_build_has(value, TB_SLOT_back)))
		work_from_behind(b, act);
	/* "5 dc around post of next dc", a scale: several go along one post, and from the front */
	bool along_post = around && act->each.count == 1 && act->each.values[0] > 2 && is_one_post(&act->place);
	const tb_stitch *posted = around && (tb_build_has(value, TB_SLOT_front) || along_post) && act->stitch->post == TB_POST_NONE ?
		tb_library_post(b->pattern->library, act->stitch, TB_POST_FRONT) : NULL;
	act->stitch = posted != NULL ? posted : act->stitch;
	act->place.around = act->stitch->post != TB_POST_NONE;
	/* "sc in next st 1 row below" goes a row deeper than any sc */
	bool counted = tb_build_has(tb_value_get(tb_value_get(value, TB_SLOT_place), TB_SLOT_rows), TB_SLOT_counted);
	if (counted && act->place.rows_below == 1 && !act->place.around && act->place.target != TB_TARGET_SPACE)
		act->place.rows_below = 2;
	if (act->place.of_row > 0 && act->place.of_row < b->row && act->place.around && act->place.in == TB_IN_NEXT)
		act->place.rows_below = b->row - act->place.of_row;
	bool is_stitch = act->place.target == TB_TARGET_STITCH || act->place.target == TB_TARGET_NAMED;
	if (around && is_stitch && !act->place.on_made && !act->place.around && act->place.of_row == 0 && act->place.in != TB_IN_RING) {
		tb_build_tell_cannot(b, value, acts, "around-no-post", "this stitch is not worked around a post",
			"Write FPdc or BPdc for a post stitch, or “in” for the top of a stitch.");
		return;
	}
	act->equal = act->each.count == act->place.count.count && act->each.count > 0 &&
		act->each.values[0] > 1 && act->stitch->takes == 1 && !act->place.middle &&
		(act->place.in == TB_IN_NEXT || act->place.in == TB_IN_LAST || act->place.in == TB_IN_FIRST) && act->place.target != TB_TARGET_SPACE &&
		memcmp(act->each.values, act->place.count.values, act->each.count * sizeof(int)) == 0;
	act->evenly = tb_build_has(value, TB_SLOT_evenly);
	bool of_each = tb_build_has(tb_value_get(value, TB_SLOT_place), TB_SLOT_of_each);
	act->equal = act->equal && !of_each;
	take_posts(act, of_each);
	if (tb_build_is_no_place(b, value, act, acts))
		return;
	tb_build_travel_between(b, value, act);
	if (!tb_build_take_together(b, act, of_each)) {
		tb_build_add_cannot(b, value, acts, "there is no stitch of so many legs in one place");
		return;
	}
	if (act->stitch == b->chain) {
		act->kind = TB_ACT_CHAIN;
		act->count = act->each;
	}
	g_array_append_val(acts, *act);
}

/* "1 dc over the next 4 ch": a number of stitches goes over them all, as over one space. */
static void go_over_chains(tb_builder *b, const tb_value *said, tb_place *place)
{
	if (said->from == 0 || !tb_build_is_word(b, said->from - 1, "over") || place->in != TB_IN_NEXT || tb_build_has(said, TB_SLOT_of_each) ||
		place->target != TB_TARGET_CHAIN || place->count.count != 1 || place->count.values[0] < 2)
		return;
	place->target = TB_TARGET_SPACE;
	place->space_chains = (unsigned)MIN(place->count.values[0], 255);
	place->count = tb_number_make(b->arena, 1, place->count.span);
}

/* Without a place: in the next ones, as many as there are stitches. */
static void place_bare(tb_builder *b, const tb_value *value, tb_act *act)
{
	act->place = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .loops = act->place.loops,
		.span = act->span};
	act->place.count = tb_build_number(b, tb_value_get(value, TB_SLOT_n), 1);
	act->each = (tb_number){1, tb_number_one, act->span};
	act->bare = tb_build_has(value, TB_SLOT_bare);
}

void tb_build_end(tb_builder *b, const tb_value *end, GArray *acts)
{
	const tb_value *list = tb_value_get(end, TB_SLOT_acts);
	if (list == NULL)
		return;
	tb_acts more = tb_build_list(b, list);
	/* "sc around, working 3 sc in each corner": that is worked on the way, and no end */
	for (unsigned i = 0; i < more.count && tb_build_has(end, TB_SLOT_lastrep); i++) {
		if ((more.acts[i].kind == TB_ACT_WORK || more.acts[i].kind == TB_ACT_GROUP) && more.acts[i].place.in == TB_IN_EACH) {
			tb_build_add_cannot(b, end, acts, "this is no place at the end of the row");
			return;
		}
	}
	if (more.count > 0)
		g_array_append_vals(acts, more.acts, more.count);
}

/* "… yo and draw through all loops on hook (cl)": that stitch is a cl from here on. */
static void name_closed(tb_builder *b, const tb_value *name, const tb_act *act)
{
	if (name == NULL || name->type != TB_VALUE_SYMBOL)
		return;
	tb_own *own = tb_arena_new(b->arena, tb_own);
	own->name = b->grammar_symbols[name->symbol];
	own->stitch = act->stitch;
	own->span = act->span;
	b->named[name->symbol] = own;
}

/*
 * "3 dc in next st keeping last loop of each on hook, yo and draw through all loops on hook": a
 * cluster of that many, or so many together where each has a stitch of its own. Whole stitches whose
 * loop is dropped and drawn through the first of them are a popcorn.
 */
static void build_closed(tb_builder *b, const tb_value *value, tb_act *act, GArray *acts)
{
	tb_library *library = b->pattern->library;
	const tb_stitch *base = tb_build_stitch(b, tb_value_get(value, TB_SLOT_stitch), NULL);
	bool popcorn = tb_value_is_symbol(tb_value_get(value, TB_SLOT_closed), TB_SYMBOL_popcorn);
	bool together = !popcorn && tb_number_is(&act->each, 1) && act->place.in == TB_IN_NEXT;
	const tb_number *legs = together ? &act->place.count : &act->each;
	if (base != NULL && legs->count == 1 && legs->values[0] > 1)
		act->stitch = together ? tb_library_together(library, base, (unsigned)legs->values[0]) :
			tb_library_in_one(library, popcorn ? TB_FAMILY_FORM_POPCORN : TB_FAMILY_FORM_CLUSTER, base,
				(unsigned)legs->values[0]);
	if (act->stitch == NULL || !tb_build_closes_all(value, (unsigned)legs->values[0])) {
		tb_build_add_cannot(b, value, acts, "there is no stitch of these loops closed together");
		return;
	}
	act->each = (tb_number){1, tb_number_one, act->span};
	if (together)
		act->place.count = act->each;
	name_closed(b, tb_value_get(value, TB_SLOT_names), act);
	g_array_append_val(acts, *act);
}

/* "10 sc evenly along each side": so many along each of several edges, and how many these are is not said. */
static bool is_along_several(const tb_builder *b, const tb_value *value)
{
	const tb_value *edge = tb_value_get(value, TB_SLOT_edge);
	bool several = false, edges = false;
	if (edge == NULL || edge->type == TB_VALUE_NODE || !tb_build_has(value, TB_SLOT_n) || tb_build_has(value, TB_SLOT_per) ||
		tb_build_has(value, TB_SLOT_of_each))
		return false;
	for (guint32 word = value->from; word < value->to; word++) {
		several = several || tb_build_is_word(b, word, "each") || tb_build_is_word(b, word, "both");
		edges = edges || tb_build_is_word(b, word, "side") || tb_build_is_word(b, word, "sides") || tb_build_is_word(b, word, "edge") ||
			tb_build_is_word(b, word, "edges");
	}
	return several && edges;
}

/* "Sc 6 into the loop" is no sc and 6 more. */
static bool is_number_of_stitch(const tb_builder *b, const tb_value *value)
{
	for (guint32 word = value->from - MIN(value->from, 3); word < value->from; word++) {
		const tb_edge *edge = tb_lattice_edge(b->lattice, word, TB_TERM_CLASS_stitchname);
		if (edge != NULL && edge->end == value->from)
			return true;
	}
	return false;
}

/*
 * "Ch 2, dc in first sc (counts as last ch-5 loop)": a chain and a stitch as high as what is left of the loop, give or
 * take one, or the stitch alone.
 */
static void check_loop(tb_builder *b, const tb_value *value, const tb_stitch *stitch, const GArray *acts)
{
	int loop = tb_build_loop_chains(value);
	const tb_act *before = acts->len > 0 ? &g_array_index(acts, tb_act, acts->len - 1) : NULL;
	if (loop == 0 || stitch == NULL || before == NULL || before->kind != TB_ACT_CHAIN || before->count.count != 1)
		return;
	int chains = before->count.values[0] + (int)tb_stitch_chains(stitch);
	if (ABS(chains - loop) <= 1)
		return;
	const tb_value *said = tb_value_get(value, TB_SLOT_loop);
	tb_doubt doubt = {tb_build_span(b, said->from, said->to), said->from, said->to, "counts-unclear",
		"the chain and the stitch beside it are not as long as this loop", "As in “ch 2, dc in first sc (counts as last ch-5 loop)”."};
	g_array_append_val(b->doubts, doubt);
}

void tb_build_work(tb_builder *b, const tb_value *value, GArray *acts)
{
	const tb_value *place = tb_value_get(value, TB_SLOT_place);
	const tb_value *stitch = tb_value_get(value, TB_SLOT_stitch);
	const tb_value *end = tb_value_get(value, TB_SLOT_end);
	tb_act act = tb_build_act_of(b, value, TB_ACT_WORK);
	if (tb_build_has(value, TB_SLOT_otherside))
		tb_build_add_kind(b, value, acts, TB_ACT_OTHER_SIDE);
	if (tb_build_has(value, TB_SLOT_folded))
		tb_build_fold(b, value, acts);
	if (tb_build_has(value, TB_SLOT_shape)) {
		tb_build_shape(b, value, tb_value_get(value, TB_SLOT_shape), acts);
		return;
	}
	if (tb_build_has(value, TB_SLOT_patt)) {
		tb_build_in_pattern(b, value, acts);
		return;
	}
	act.place.loops = tb_build_loops_of(tb_value_get(value, TB_SLOT_loops));
	act.each = tb_build_number(b, tb_value_get(value, TB_SLOT_each), 1);
	/* "15 dc to the end" are so many in all */
	if (tb_build_has(value, TB_SLOT_plain) && tb_build_one_number(tb_value_get(value, TB_SLOT_each), 1) > MOST_IN_EACH) {
		tb_build_add_cannot(b, value, acts, "so many go along the row, and not into each stitch");
		return;
	}
	if (tb_build_has(value, TB_SLOT_loop))
		check_loop(b, value, tb_build_stitch(b, stitch, NULL), acts);
	bool increase = tb_build_is_increase(b, stitch);
	if (is_along_several(b, value)) {
		tb_build_add_cannot(b, value, acts, "along how many edges so many are worked is not said");
		return;
	}
	if (tb_build_has(value, TB_SLOT_edge)) {
		place_bare(b, value, &act);
		tb_build_edge(b, value, &act);
	} else if (place == NULL && tb_build_has(value, TB_SLOT_many)) {
		tb_build_on_ground(b, value, &act.place);
	} else if (place == NULL || (place->type == TB_VALUE_NODE && place->kind == TB_KIND_x)) {
		place_bare(b, value, &act);
		/* "Double crochet", and no more in the row; a first row must say in which chain it begins, but on a ring */
		if (tb_build_has(value, TB_SLOT_all) && (!b->first_row || b->on_ring)) {
			act.place.in = TB_IN_EACH;
			act.place.count = tb_number_make(b->arena, 0, act.span);
		}
	} else {
		tb_build_place(b, place, &act.place);
		tb_build_over(b, place, &act.place);
		/* "2 dc in successive sts": one in each */
		if (tb_build_has(value, TB_SLOT_one)) {
			act.place.count = act.each;
			act.each = (tb_number){1, tb_number_one, act.span};
		} else if (tb_build_has(value, TB_SLOT_each)) {
			go_over_chains(b, place, &act.place);
		}
	}
	tb_build_many_on_ground(b, value, &act);
	if (increase)
		act.each = tb_number_make(b->arena, tb_build_one_number(tb_value_get(value, TB_SLOT_each), 1) * 2,
			act.span);
	if (tb_value_is_symbol(stitch, TB_SYMBOL_same) || tb_build_has(value, TB_SLOT_tog)) {
		act.stitch = tb_build_stitch(b, stitch, NULL);
		if (place != NULL && is_number_of_stitch(b, value)) {
			tb_build_add_cannot(b, value, acts, "the number stands behind a stitch");
			return;
		}
		if (tb_build_has(value, TB_SLOT_tog) && act.stitch != NULL)
			tb_build_draw_together(b, value, &act);
		if (act.stitch == NULL || !tb_build_closes_all(value, act.stitch->takes))
			tb_build_add_cannot(b, value, acts, "so many are not drawn together");
		else
			g_array_append_val(acts, act);
		return;
	}
	if (tb_build_has(value, TB_SLOT_closed)) {
		build_closed(b, value, &act, acts);
		return;
	}
	if (b->first_row && (value->from == b->begins || tb_build_are_chains(acts)))
		tb_build_count_from_hook(b, place, &act.place);
	const tb_value *note = tb_value_get(value, TB_SLOT_note);
	if (act.place.in == TB_IN_NTH_CHAIN)
		act.counts_here = tb_build_counts_said(b, &act.place.count, 1);
	if (note != NULL && !tb_build_note(b, note, &act, acts))
		return;
	const tb_value *last = tb_value_get(end, TB_SLOT_last);
	if ((last != NULL || tb_build_has(end, TB_SLOT_lastrep)) && act.place.in == TB_IN_EACH && tb_number_is(&act.place.count, 0))
		act.place.count = tb_number_make(b->arena,
			last != NULL ? 1 : tb_build_one_number(tb_value_get(end, TB_SLOT_n), 1), act.span);
	const tb_value *then = tb_value_get(value, TB_SLOT_then);
	if (last != NULL && then == NULL && !tb_build_leave_one(b, &act.place)) {
		tb_build_add_cannot(b, end, acts, "there is one alone, and it is worked elsewhere");
		return;
	}
	if (!tb_build_take_both(b, stitch, &act, &then)) {
		tb_build_add_cannot(b, value, acts, "how its legs stand in these two places is not known");
		return;
	}
	if (tb_build_has(value, TB_SLOT_shared))
		tb_build_share(&(tb_place){.in = TB_IN_NEXT, .rows_below = 1, .span = act.span}, &act);
	tb_act more = act;
	if (tb_build_one_number(tb_value_get(value, TB_SLOT_from), 0) == 2) {
		/* "124 sc on ch": the chain the first is worked in is as far from the hook as it is tall */
		act.place = more.place = (tb_place){.in = TB_IN_NTH_CHAIN, .target = TB_TARGET_CHAIN,
			.rows_below = 1, .span = act.span};
		tb_act probe = act;
		probe.stitch = tb_build_stitch(b, stitch, NULL);
		int tall = probe.stitch != NULL ? (int)tb_stitch_chains(probe.stitch) : 1;
		more.place.count = tb_number_make(b->arena, MAX(tall, 1) + 1, act.span);
	}
	if (tb_build_has(value, TB_SLOT_from)) {
		/* "24 sc along ch, beginning in 2nd ch from hook" */
		more.each = (tb_number){1, tb_number_one, act.span};
		act = more;
		tb_build_finish(b, value, &act, acts);
		more.place = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .span = act.span};
		int many = tb_build_one_number(tb_value_get(value, TB_SLOT_n), 1) - 1;
		more.place.count = tb_number_make(b->arena, MAX(many, 0), act.span);
		if (many > 0)
			tb_build_finish(b, value, &more, acts);
		return;
	}
	if (tb_build_has(stitch, TB_SLOT_standing) && act.place.in == TB_IN_NEXT &&
		act.place.target == TB_TARGET_SPACE) {
		/* "standing dc in any corner": the round begins there, with new yarn */
		tb_act join = act;
		join.kind = TB_ACT_JOIN_YARN;
		g_array_append_val(acts, join);
		act.place.in = TB_IN_SAME;
	}
	if (!tb_build_counts_itself(b, value, &act)) {
		tb_build_tell_cannot(b, value, acts, "counts-unclear", "this stitch counts as itself",
			"Only a chain stands for another stitch, as in “ch 3 (counts as dc)”.");
		return;
	}
	tb_build_finish(b, value, &act, acts);
	if (tb_build_has(value, TB_SLOT_called))
		tb_build_tell_shell(b, &act);
	if (act.stitch == b->slip && act.place.in == TB_IN_EACH && act.place.up_to != NULL &&
		act.place.up_to->target == TB_TARGET_SPACE) {
		/* "sl st across to first ch-3 sp": and into it */
		tb_act into = act;
		into.place = *act.place.up_to;
		g_array_append_val(acts, into);
	}
	if (then != NULL)
		tb_build_then(b, value, then, &more, acts);
	if (last != NULL) {
		more.span = tb_build_span(b, last->from, last->to);
		more.counts = TB_COUNTS_UNSAID;
		tb_build_place(b, last, &more.place);
		/* "2 dc in each dc across, last 2 in tch": all that the last place has */
		const tb_value *many = tb_value_get(end, TB_SLOT_n);
		if (many != NULL && !tb_number_is(&act.each, tb_build_one_number(many, 1)))
			tb_build_add_cannot(b, end, acts, "so many are not worked in each place before");
		more.each = many != NULL ? act.each : (tb_number){1, tb_number_one, more.span};
		tb_build_finish(b, value, &more, acts);
	}
	tb_build_end(b, end, acts);
}
