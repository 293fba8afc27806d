/* Numbers, nouns, places. */
#include "notation/build.h"

#include "stitches/stitch.h"
#include "support/limits.h"

#include <string.h>

const int tb_number_one[1] = {1};

tb_span tb_build_span(const tb_builder *b, guint32 from, guint32 to)
{
	const tb_lattice *l = b->lattice;
	if (from >= to)
		return tb_text_span(l->text, l->start[MIN(from, l->count)], l->start[MIN(from, l->count)]);
	return tb_text_span(l->text, l->start[from], l->stop[to - 1]);
}

void tb_build_hold(tb_builder *b, const tb_value *value)
{
	if (value != NULL && value->type == TB_VALUE_NUMBER && value->count > 1)
		g_hash_table_add(b->held, (gpointer)value->figures);
}

tb_number tb_build_number(tb_builder *b, const tb_value *value, int otherwise)
{
	if (value == NULL || value->type != TB_VALUE_NUMBER)
		return tb_number_make(b->arena, otherwise,
			value != NULL ? tb_build_span(b, value->from, value->to) : (tb_span){0, 0});
	tb_build_hold(b, value);
	unsigned sizes = tb_pattern_count_sizes(b->pattern);
	bool all = value->count == 1 || value->count == sizes;
	unsigned count = all ? value->count : sizes;
	int *values = tb_arena_take(b->arena, count * sizeof(int));
	for (guint32 i = 0, size = 0; size < count; size++) {
		/* "16 (17)" in "M (L) only": the others do not work it */
		bool given = all || ((b->only >> size & 1) != 0 && i < value->count);
		values[size] = given ? (int)CLAMP(value->figures[i], TB_NOT_IN_SIZE, (double)TB_LIMIT_NUMBER) :
			TB_NOT_IN_SIZE;
		i += given;
	}
	return (tb_number){count, values, tb_build_span(b, value->from, value->to)};
}

unsigned tb_build_figure(const tb_value *value, unsigned otherwise)
{
	if (value == NULL || value->type != TB_VALUE_NUMBER || value->figures[0] < 0)
		return otherwise;
	return (unsigned)MIN(value->figures[0], 255);
}

/* --- nouns --- */

/* Which stitch turns a corner is seen in the row below, whatever it is called. */
static void set_corner(tb_place *place)
{
	place->corner = true;
	if (place->target != TB_TARGET_SPACE)
		place->space_chains = 0;
	place->target = TB_TARGET_SPACE;
}

void tb_build_noun(tb_builder *b, const tb_value *noun, tb_place *place)
{
	const tb_value *k = tb_value_get(noun, TB_SLOT_k);
	const tb_own *own = NULL;
	if (k == NULL)
		return;
	switch (k->symbol) {
	case TB_SYMBOL_ch:
		place->target = TB_TARGET_CHAIN;
		break;
	case TB_SYMBOL_sp:
		place->target = TB_TARGET_SPACE;
		place->space_chains = tb_build_figure(tb_value_get(noun, TB_SLOT_chains), 0);
		place->loose = tb_value_get(noun, TB_SLOT_loose) != NULL;
		break;
	case TB_SYMBOL_group:
		place->target = TB_TARGET_GROUP;
		/* "next group" is of any stitches */
		if (tb_build_has(noun, TB_SLOT_name))
			place->named = tb_build_stitch(b, tb_value_get(noun, TB_SLOT_name), &own);
		place->own = own;
		break;
	case TB_SYMBOL_named:
		place->named = tb_build_stitch(b, tb_value_get(noun, TB_SLOT_name), &own);
		if (place->named == NULL && own != NULL && own->whole && own->acts.count == 1 && own->acts.acts[0].place.shared)
			place->named = own->acts.acts[0].stitch;
		place->target = place->named != NULL ? TB_TARGET_NAMED : TB_TARGET_GROUP;
		place->own = own;
		if (place->named == b->chain)
			place->target = TB_TARGET_CHAIN;
		place->lone = tb_build_has(noun, TB_SLOT_lone);
		break;
	default:
		break;
	}
	/* "cluster", whose stitches the pattern closed together without giving that a name */
	place->closed = place->target == TB_TARGET_GROUP && place->own == NULL && (tb_build_has(noun, TB_SLOT_closed) ||
		tb_value_is_symbol(tb_value_get(tb_value_get(noun, TB_SLOT_name), TB_SLOT_name), TB_SYMBOL_cluster));
	if (tb_value_get(noun, TB_SLOT_corner) != NULL)
		set_corner(place);
}

/*
 * "next 3 dc of next group", "each dc of next shell": what is left of the one before it is passed
 * over, and it goes no further. THE "sp of shell" is within the next as well, unless OF says another.
 */
static void build_of_next(tb_builder *b, const tb_value *of, bool the, tb_place *place)
{
	const tb_value *noun = tb_value_is(of, TB_KIND_ofplace) ? tb_value_get(of, TB_SLOT_noun) : of;
	bool any = the && place->target == TB_TARGET_SPACE && !tb_build_has(of, TB_SLOT_stays);
	if (!tb_value_is(noun, TB_KIND_noun) || (the && (!any || noun == of)) ||
		(noun != of && !any && tb_value_get(of, TB_SLOT_next) == NULL))
		return;
	tb_place *whole = tb_arena_new(b->arena, tb_place);
	*whole = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .span = place->span};
	whole->count = tb_number_make(b->arena, 1, place->span);
	tb_build_noun(b, noun, whole);
	if (whole->target == TB_TARGET_GROUP)
		place->of = whole;
}

static bool has_place_words(tb_in in)
{
	return in == TB_IN_NEXT || in == TB_IN_LAST || in == TB_IN_FIRST;
}

/* "4th dc of next scallop", "center tr of loop": what has such stitches is no run of chains. */
static void take_for_group(const tb_place *part, tb_place *whole)
{
	if (part->target == TB_TARGET_NAMED && whole->target == TB_TARGET_SPACE && whole->loose)
		whole->target = TB_TARGET_GROUP;
}

static void build_nth(tb_builder *b, const tb_value *value, tb_place *place)
{
	const tb_value *of = tb_value_get(value, TB_SLOT_of);
	const tb_value *noun = tb_value_get(value, TB_SLOT_noun);
	bool chain = noun == NULL || tb_value_is_symbol(tb_value_get(noun, TB_SLOT_k), TB_SYMBOL_ch) ||
		tb_value_is_symbol(tb_value_get(noun, TB_SLOT_k), TB_SYMBOL_st);
	if (tb_value_is(of, TB_KIND_chof) && chain && tb_value_get(of, TB_SLOT_next) == NULL) {
		place->in = TB_IN_NEXT;
		place->target = TB_TARGET_TURNING_CHAIN;
		place->named = NULL;
		place->space_chains = tb_build_figure(tb_value_get(value, TB_SLOT_n), 0);
		place->of_chains = tb_build_figure(tb_value_get(of, TB_SLOT_n), 0);
		place->count = tb_number_make(b->arena, 1, place->span);
		return;
	}
	if (tb_value_is(of, TB_KIND_chof) || tb_value_is(of, TB_KIND_ofplace) ||
		tb_value_is(of, TB_KIND_noun)) {
		tb_place *whole = tb_arena_new(b->arena, tb_place);
		*whole = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .span = place->span};
		whole->count = tb_number_make(b->arena, 1, place->span);
		if (tb_value_is(of, TB_KIND_chof)) {
			whole->target = TB_TARGET_SPACE;
			whole->space_chains = tb_build_figure(tb_value_get(of, TB_SLOT_n), 0);
		} else {
			const tb_value *n = tb_value_get(of, TB_SLOT_noun);
			tb_build_noun(b, n != NULL ? n : of, whole);
			if (tb_value_get(of, TB_SLOT_group) != NULL)
				whole->target = TB_TARGET_GROUP;
		}
		take_for_group(place, whole);
		if (whole->target != TB_TARGET_STITCH) {
			place->in = TB_IN_PART;
			place->of = whole;
			return;
		}
	}
	if (of == NULL && noun != NULL && place->target == TB_TARGET_CHAIN && !tb_number_is(&place->count, 1)) {
		/* "dc in 3rd ch", at the end: of the turning chain */
		place->in = TB_IN_NEXT;
		place->space_chains = tb_build_figure(tb_value_get(value, TB_SLOT_n), 0);
		place->target = TB_TARGET_TURNING_CHAIN;
		place->count = tb_number_make(b->arena, 1, place->span);
		return;
	}
	place->in = tb_number_is(&place->count, 1) ? TB_IN_FIRST : TB_IN_NTH_STITCH;
}

static void build_center(tb_builder *b, const tb_value *value, tb_place *place)
{
	const tb_value *of = tb_value_get(value, TB_SLOT_of), *n = tb_value_get(value, TB_SLOT_n);
	place->in = TB_IN_PART;
	place->count = tb_number_make(b->arena, 0, place->span);
	if (of == NULL) {
		/* "center st" of the row; "centre loop" is the one that comes */
		if (place->target == TB_TARGET_SPACE || place->target == TB_TARGET_GROUP) {
			place->in = TB_IN_NEXT;
			place->central = true;
			place->count = tb_number_make(b->arena, 1, place->span);
		}
		return;
	}
	tb_place *whole = tb_arena_new(b->arena, tb_place);
	*whole = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .span = place->span};
	whole->count = tb_build_number(b, n, 1);
	tb_build_noun(b, of, whole);
	if (n != NULL && (whole->target == TB_TARGET_NAMED || whole->target == TB_TARGET_STITCH)) {
		/* "center dc of next 3 dc" */
		place->in = TB_IN_NEXT;
		place->middle = true;
		place->count = whole->count;
		if (place->target == TB_TARGET_STITCH) {
			place->target = whole->target;
			place->named = whole->named;
		}
		return;
	}
	take_for_group(place, whole);
	place->of = whole;
}

/* "2nd of the 5 dc": of so many side by side, counted among them. */
static void build_among(tb_builder *b, const tb_value *value, tb_place *place)
{
	place->target = TB_TARGET_NAMED;
	place->named = tb_build_stitch(b, tb_value_get(value, TB_SLOT_name), &place->own);
	if (place->named == NULL)
		place->target = TB_TARGET_GROUP;
	const tb_value *nth = tb_value_get(value, TB_SLOT_nth);
	place->middle = true;
	place->nth = tb_build_figure(nth != NULL ? nth : tb_value_get(value, TB_SLOT_n), 1);
}

/* ROWS is "2 rows below". */
static void set_rows_below(tb_builder *b, const tb_value *rows, tb_place *place)
{
	const tb_value *n = tb_value_get(rows, TB_SLOT_n);
	unsigned row = tb_build_figure(tb_value_get(rows, TB_SLOT_row), 0);
	place->rows_below = row > 0 && row < b->row ? b->row - row : MAX(tb_build_figure(n, 1), 1);
	if (n != NULL && n->type == TB_VALUE_NUMBER &&
		(n->figures[0] < 1 || n->figures[0] > TB_LIMIT_ROWS_BELOW))
		b->deep = rows->from + 1;
}

/* "between each group to next corner"; "… to last 3 sts" is not plain, and is kept as such. */
static void end_between(tb_builder *b, const tb_value *reach, tb_place *place)
{
	bool up_to = tb_value_get(reach, TB_SLOT_upto) != NULL;
	if (up_to)
		tb_build_reach(b, reach, place);
	if (place->up_to != NULL ||
		(!up_to && tb_value_get(reach, TB_SLOT_left) == NULL && tb_value_get(reach, TB_SLOT_n) == NULL))
		return;
	tb_place *end = tb_arena_new(b->arena, tb_place);
	*end = (tb_place){.in = TB_IN_EACH, .rows_below = 1, .span = place->span};
	place->up_to = end;
}

/* "The dc below next sc": a row deeper than the sc, which is the stitch due. */
static void set_over(tb_builder *b, const tb_value *over, tb_place *place)
{
	tb_place *due = tb_arena_new(b->arena, tb_place);
	*due = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .span = tb_build_span(b, over->from, over->to), .count = place->count};
	tb_build_noun(b, over, due);
	place->over = due;
	place->rows_below = MAX(place->rows_below, 2);
}

static void build_below(tb_builder *b, const tb_value *value, tb_place *place)
{
	set_rows_below(b, tb_value_get(value, TB_SLOT_rows), place);
	const tb_value *over = tb_value_get(value, TB_SLOT_over);
	if (over != NULL)
		set_over(b, over, place);
	place->missed = tb_build_has(value, TB_SLOT_missed);
	/* of the row below, this row skips it */
	place->in = place->missed && place->rows_below < 2 ? TB_IN_SKIPPED : TB_IN_NEXT;
	if (tb_value_get(value, TB_SLOT_all) != NULL) {
		place->in = TB_IN_EACH;
		tb_build_reach(b, tb_value_get(value, TB_SLOT_reach), place);
	} else if (tb_value_get(value, TB_SLOT_nth) != NULL) {
		place->count = tb_build_number(b, tb_value_get(value, TB_SLOT_nth), 1);
		place->in = tb_number_is(&place->count, 1) ? TB_IN_FIRST : TB_IN_NTH_STITCH;
	} else if (tb_value_get(value, TB_SLOT_last) != NULL) {
		place->in = TB_IN_LAST;
	}
}

/* "Dc in 4th skipped ch", where this row skipped none: the chains before the first stitch stand at the corner. */
static bool is_skipped_corner(const tb_builder *b, const tb_place *place)
{
	return place->target == TB_TARGET_CHAIN && b->skipped.count == 0 && b->row > 1;
}

static void build_place(tb_builder *b, const tb_value *value, tb_place *place)
{
	tb_loops loops = place->loops;
	*place = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .loops = loops};
	place->span = tb_build_span(b, value != NULL ? value->from : 0, value != NULL ? value->to : 0);
	place->count = tb_number_make(b->arena, 1, place->span);
	if (value == NULL)
		return;
	if (tb_value_is_symbol(value, TB_SYMBOL_ring)) {
		place->in = TB_IN_RING;
		return;
	}
	if (tb_value_is(value, TB_KIND_noun)) {
		tb_build_noun(b, value, place);
		return;
	}
	const tb_value *how = tb_value_get(value, TB_SLOT_how);
	if (tb_build_on_ground(b, value, place))
		return;
	const tb_value *n = tb_value_get(value, TB_SLOT_n);
	const tb_value *noun = tb_value_get(value, TB_SLOT_noun), *of = tb_value_get(value, TB_SLOT_of);
	if (noun != NULL)
		tb_build_noun(b, noun, place);
	place->count = tb_build_number(b, n, 1);
	place->nameless = noun == NULL && of == NULL && (tb_value_is_symbol(how, TB_SYMBOL_next) ||
		tb_value_is_symbol(how, TB_SYMBOL_first) || tb_value_is_symbol(how, TB_SYMBOL_last));
	place->inner = tb_build_has(value, TB_SLOT_inner);
	place->marked = tb_build_has(value, TB_SLOT_marked);
	place->which_mark = place->marked ? tb_build_which_mark(value) : place->which_mark;
	place->singular = place->target == TB_TARGET_SPACE && n != NULL && tb_build_is_singular(b, noun);
	const tb_value *beside = tb_value_get(tb_value_get(value, TB_SLOT_beside), TB_SLOT_v);
	if (beside != NULL)
		place->beside = tb_value_is_symbol(beside, TB_SYMBOL_behind) ? TB_BESIDE_BEHIND : TB_BESIDE_BEFORE;
	if (tb_value_is(of, TB_KIND_otherpiece)) {
		/* joined to what stands elsewhere: no place of the row below */
		place->in = TB_IN_EDGE;
		place->middle = place->elsewhere = true;
		place->count = tb_number_make(b->arena, 1, place->span);
		return;
	}
	/* "next loop of 5 chain" is one of so many chains */
	const tb_value *chains = tb_value_is(of, TB_KIND_chof) ? tb_value_get(of, TB_SLOT_n) :
		tb_value_get(tb_value_get(of, TB_SLOT_noun), TB_SLOT_chains);
	if ((tb_value_is_symbol(how, TB_SYMBOL_next) || tb_value_is_symbol(how, TB_SYMBOL_each)) &&
		chains != NULL && place->target == TB_TARGET_SPACE && place->space_chains == 0)
		place->space_chains = tb_build_figure(chains, 0);
	switch (how != NULL ? how->symbol : TB_SYMBOL_next) {
	case TB_SYMBOL_next:
	case TB_SYMBOL_the:
	case TB_SYMBOL_any:
	case TB_SYMBOL_given:
		if (tb_value_is(of, TB_KIND_chof) && place->target != TB_TARGET_SPACE &&
			tb_value_get(of, TB_SLOT_next) == NULL && how != NULL && how->symbol == TB_SYMBOL_the)
			place->target = TB_TARGET_TURNING_CHAIN;
		else if (how != NULL && how->symbol == TB_SYMBOL_the && of == NULL)
			place->unordered = place->target == TB_TARGET_SPACE || place->target == TB_TARGET_GROUP;
		else if (how != NULL && how->symbol == TB_SYMBOL_the)
			build_of_next(b, of, true, place);
		else if (how != NULL && how->symbol == TB_SYMBOL_next)
			build_of_next(b, of, false, place);
		place->many = tb_build_number(b, tb_value_get(value, TB_SLOT_many), 0);
		place->centered = tb_value_get(value, TB_SLOT_center) != NULL;
		if (place->centered)
			place->nth = tb_build_figure(tb_value_get(value, TB_SLOT_amid), 0);
		if (tb_build_has(value, TB_SLOT_each) && tb_number_is(&place->count, 1)) {
			/* "each 1 chain" is each of them */
			place->in = TB_IN_EACH;
			place->count = tb_number_make(b->arena, 0, place->span);
		}
		break;
	case TB_SYMBOL_rem:
		if (n == NULL) {
			place->in = TB_IN_EACH;
			place->count = tb_number_make(b->arena, 0, place->span);
		}
		break;
	case TB_SYMBOL_each: {
		const tb_value *reach = tb_value_get(value, TB_SLOT_reach);
		place->in = TB_IN_EACH;
		build_of_next(b, tb_value_get(value, TB_SLOT_of), false, place);
		if (reach != NULL && reach->type == TB_VALUE_NODE &&
			!tb_value_is_symbol(tb_value_get(reach, TB_SLOT_how), TB_SYMBOL_each)) {
			/* "each st across next 20 sts" */
			place->in = tb_value_is_symbol(tb_value_get(reach, TB_SLOT_how), TB_SYMBOL_last) ?
				TB_IN_LAST : TB_IN_NEXT;
			place->count = tb_build_number(b, tb_value_get(reach, TB_SLOT_n), 1);
			break;
		}
		tb_build_reach(b, reach != NULL ? reach : value, place);
		if (reach != NULL && noun == NULL && tb_value_get(reach, TB_SLOT_left) == NULL &&
			tb_value_get(reach, TB_SLOT_noun) != NULL)
			tb_build_noun(b, tb_value_get(reach, TB_SLOT_noun), place);
		if (reach == NULL && tb_value_get(value, TB_SLOT_left) != NULL) {
			/* a reach by itself: its noun is what is left */
			place->target = TB_TARGET_STITCH;
			place->named = NULL;
		}
		/* "the center dc of each group of 5 dc" */
		place->amid = tb_build_figure(tb_value_get(value, TB_SLOT_amid), 0);
		tb_build_but(b, tb_value_get(value, TB_SLOT_but), place);
		bool chain = tb_build_also(b, tb_value_get(value, TB_SLOT_also2), place);
		if (tb_build_also(b, tb_value_get(value, TB_SLOT_also), place) || chain) {
			place->target = TB_TARGET_STITCH;
			place->named = NULL;
			place->also = NULL;
		}
		break;
	}
	case TB_SYMBOL_last:
		place->in = TB_IN_LAST;
		place->at_turning = tb_build_has(value, TB_SLOT_tch);
		break;
	case TB_SYMBOL_first:
		place->in = TB_IN_FIRST;
		break;
	case TB_SYMBOL_same:
		/* several are none that the stitch before went into */
		place->sames = n != NULL && !tb_number_is(&place->count, 1);
		if (place->sames) {
			place->in = TB_IN_NEXT;
			break;
		}
		/* the half behind its picot comes next */
		place->in = place->beside == TB_BESIDE_BEHIND ? TB_IN_NEXT : TB_IN_SAME;
		place->at_begin = tb_value_is(tb_value_get(value, TB_SLOT_as), TB_KIND_asbeg);
		place->begun = tb_build_has(value, TB_SLOT_begun) ||
			tb_value_is(tb_value_get(value, TB_SLOT_as), TB_KIND_begun);
		place->at_slip = tb_value_is(tb_value_get(value, TB_SLOT_as), TB_KIND_asslip);
		place->fresh = tb_build_has(value, TB_SLOT_fresh);
		place->on_made = tb_build_has(value, TB_SLOT_onmade);
		place->count = tb_number_make(b->arena, 1, place->span);
		break;
	case TB_SYMBOL_fromhook:
		place->in = TB_IN_NTH_CHAIN;
		place->target = TB_TARGET_CHAIN;
		break;
	case TB_SYMBOL_nth:
		build_nth(b, value, place);
		break;
	case TB_SYMBOL_ring:
		place->in = TB_IN_RING;
		break;
	case TB_SYMBOL_center:
		build_center(b, value, place);
		break;
	case TB_SYMBOL_another:
		/* "skip next dc, sc in the one after" */
		place->target = b->skipped_kind.target;
		place->named = b->skipped_kind.named;
		place->own = b->skipped_kind.own;
		place->space_chains = b->skipped_kind.space_chains;
		break;
	case TB_SYMBOL_among:
		build_among(b, value, place);
		break;
	case TB_SYMBOL_middle: {
		place->middle = true;
		const tb_value *rows = tb_value_get(value, TB_SLOT_rows);
		if (rows != NULL)
			set_rows_below(b, rows, place);
		break;
	}
	case TB_SYMBOL_top:
		if (tb_value_is(of, TB_KIND_noun))
			tb_build_noun(b, of, place);
		else
			place->target = TB_TARGET_TURNING_CHAIN;
		if (tb_value_is(of, TB_KIND_chof) || tb_value_is(of, TB_KIND_tchof))
			place->of_chains = tb_build_figure(tb_value_get(of, TB_SLOT_n), 0);
		break;
	case TB_SYMBOL_tch:
		place->target = TB_TARGET_TURNING_CHAIN;
		break;
	case TB_SYMBOL_skipped:
		if (n == NULL && is_skipped_corner(b, place)) {
			place->target = TB_TARGET_TURNING_CHAIN;
			break;
		}
		/* where this row skipped none, they are those that the row below skipped */
		if (n != NULL && b->skipped.count == 0) {
			place->rows_below = 2;
			place->left = true;
			break;
		}
		place->in = TB_IN_SKIPPED;
		if (n == NULL)
			place->count = b->skipped;
		break;
	case TB_SYMBOL_skippednth:
		if (is_skipped_corner(b, place)) {
			place->target = TB_TARGET_TURNING_CHAIN;
			place->space_chains = tb_build_figure(n, 0);
			place->count = tb_number_make(b->arena, 1, place->span);
			break;
		}
		place->in = TB_IN_SKIPPED;
		place->count = tb_number_make(b->arena, 1, place->span);
		place->nth = tb_build_figure(n, 0);
		place->many = tb_build_number(b, tb_value_get(value, TB_SLOT_many), 0);
		break;
	case TB_SYMBOL_under:
		/* below a stitch that comes next, or missed by the row below: a row deeper than that */
		place->rows_below = 2;
		break;
	case TB_SYMBOL_below:
		build_below(b, value, place);
		break;
	case TB_SYMBOL_between:
		place->in = TB_IN_BETWEEN;
		place->loose = tb_build_has(value, TB_SLOT_bare);
		place->beside = tb_build_has(value, TB_SLOT_before) ? TB_BESIDE_BEFORE : TB_BESIDE_NOTHING;
		if (tb_value_get(value, TB_SLOT_group) != NULL)
			place->target = TB_TARGET_GROUP;
		end_between(b, tb_value_get(value, TB_SLOT_reach), place);
		place->count = tb_number_make(b->arena, tb_value_get(value, TB_SLOT_all) != NULL ? 0 : 1,
			place->span);
		break;
	case TB_SYMBOL_corner:
		place->in = tb_value_get(value, TB_SLOT_all) != NULL ? TB_IN_EACH : TB_IN_NEXT;
		place->count = tb_number_make(b->arena, place->in == TB_IN_EACH ? 0 : 1, place->span);
		set_corner(place);
		/* "in the corner" is the one the hook stands in, where it stands in one */
		place->unordered = tb_build_has(value, TB_SLOT_bare);
		break;
	default:
		break;
	}
	if (has_place_words(place->in) && tb_value_get(value, TB_SLOT_corner) != NULL)
		set_corner(place);
	tb_build_row_named(b, value, place);
	tb_build_deeper(b, tb_value_get(value, TB_SLOT_deeper), place);
}

void tb_build_place(tb_builder *b, const tb_value *value, tb_place *place)
{
	build_place(b, value, place);
	const tb_value *reach = tb_value_get(value, TB_SLOT_reach);
	tb_build_on_section(b, tb_build_has(value, TB_SLOT_sect) ? value : reach, place);
}
