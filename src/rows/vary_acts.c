/*
 * The acts of a row with other figures: which of its figures makes a section longer.
 *
 * In each stretch of acts that works one section, that is the one figure greater than 1; where all
 * are 1, the act that goes into stitches of its own kind, or the only act there is. Where several could
 * be meant, none is taken.
 */
#include "hands/meaning.h"
#include "rows/vary.h"

#include <string.h>

typedef struct {
	tb_hands *h;
	const tb_change *change;
	const tb_sentence *sentence; /* all that is changed */
	GPtrArray *section; /* tb_act: those that may have the figure */
	unsigned meaning; /* of the row's words */
	bool unclear;
	bool begun; /* something stands before what is looked at */
	int alike; /* what all figures are that are put anew, where the words do not say it; 0: none was met */
} varier;

/* --- a copy --- */

tb_acts tb_vary_copy(tb_arena *arena, const tb_acts *acts)
{
	tb_act *copy = tb_arena_take(arena, MAX(acts->count, 1u) * sizeof(tb_act));
	for (unsigned i = 0; i < acts->count; i++) {
		copy[i] = acts->acts[i];
		if (copy[i].body.count > 0)
			copy[i].body = tb_vary_copy(arena, &acts->acts[i].body);
	}
	return (tb_acts){copy, acts->count};
}

/* Takes out what is left of no stitch. */
static void drop_empty(tb_acts *acts)
{
	tb_act *all = (tb_act *)acts->acts;
	unsigned kept = 0;
	for (unsigned i = 0; i < acts->count; i++) {
		unsigned last = all[i].body_last;
		for (unsigned k = 0; k < last; k++)
			all[i].body_last -= all[i].body.acts[k].kind == TB_ACT_CLAIM;
		drop_empty(&all[i].body);
		if (all[i].kind != TB_ACT_CLAIM)
			all[kept++] = all[i];
	}
	acts->count = kept;
}

/* --- figures --- */

static bool is_one(const tb_number *number)
{
	return number->count == 1 && number->values[0] == 1;
}

/* The figure of ACT that says how many of its kind it makes; NULL where that is not plain. */
static tb_number *figure_of(tb_act *act)
{
	if (act->kind == TB_ACT_REPEAT || act->kind == TB_ACT_CHAIN)
		return &act->count;
	const tb_place *place = &act->place;
	if (act->kind == TB_ACT_KNOT)
		return NULL;
	bool counted = place->in == TB_IN_NEXT || place->in == TB_IN_LAST || place->in == TB_IN_FIRST;
	if (place->middle || place->rows_below > 1)
		return NULL;
	if (act->equal)
		return &act->place.count; /* and as many of them: add_to */
	if (!is_one(&act->each) || place->in == TB_IN_SAME || place->target == TB_TARGET_SPACE)
		return (place->in == TB_IN_SAME || counted) && is_one(&place->count) ? &act->each : NULL;
	return counted ? &act->place.count : NULL;
}

/* Adds to the figure of ACT; false where fewer than none would be left. */
static bool add_to(varier *v, tb_act *act)
{
	tb_number *figure = figure_of(act);
	tb_arena *arena = v->h->working->arena;
	if (figure == NULL || figure->count == 0)
		return false;
	int *values = tb_arena_take(arena, figure->count * sizeof(int));
	bool none = true;
	for (unsigned i = 0; i < figure->count; i++) {
		values[i] = figure->values[i];
		if (values[i] == TB_NOT_IN_SIZE)
			continue;
		values[i] += v->change->more;
		if (values[i] < 0 || values[i] > TB_LIMIT_NUMBER)
			return false;
		none = none && values[i] == 0;
	}
	*figure = (tb_number){figure->count, values, figure->span};
	if (act->equal)
		act->each = *figure;
	if (none)
		act->kind = TB_ACT_CLAIM; /* dropped later */
	return true;
}

/* --- sections --- */

static bool is_plural(tb_act *act)
{
	const tb_number *figure = figure_of(act);
	return act->kind != TB_ACT_KNOT && (figure == NULL || !is_one(figure));
}

static bool stands_on_its_kind(const varier *v, const tb_act *act)
{
	const tb_place *place = &act->place;
	return act->kind == TB_ACT_WORK && place->target == TB_TARGET_NAMED &&
		place->named == v->change->of.named;
}

/* The one of the section that IS; NULL where none is, *SEVERAL where more than one. */
static tb_act *only(const varier *v, bool plural, bool any, bool *several)
{
	tb_act *found = NULL;
	*several = false;
	for (guint i = 0; i < v->section->len; i++) {
		tb_act *act = v->section->pdata[i];
		if (!any && !(plural ? is_plural(act) : stands_on_its_kind(v, act)))
			continue;
		*several = found != NULL;
		if (*several)
			return NULL;
		found = act;
	}
	return found;
}

/* A section is over. */
static void settle(varier *v)
{
	bool several;
	if (v->section->len == 0)
		return;
	tb_act *act = only(v, true, false, &several);
	if (act == NULL && !several)
		act = only(v, false, false, &several);
	if (act == NULL && !several)
		act = only(v, false, true, &several);
	if (act == NULL || !add_to(v, act))
		v->unclear = true;
	g_ptr_array_set_size(v->section, 0);
}

/* Whether ACT by itself makes what PLACE names. */
static bool makes(const tb_act *act, const tb_place *place)
{
	switch (place->target) {
	case TB_TARGET_NAMED:
		return act->kind == TB_ACT_WORK && act->stitch == place->named;
	case TB_TARGET_CHAIN:
		return act->kind == TB_ACT_CHAIN;
	case TB_TARGET_SPACE:
		return act->kind == TB_ACT_CHAIN && (place->space_chains == 0 ||
			(act->count.count == 1 && act->count.values[0] == (int)place->space_chains));
	case TB_TARGET_GROUP:
		return (act->kind == TB_ACT_GROUP || act->kind == TB_ACT_KNOT) && act->own == place->own;
	default:
		return false;
	}
}

static bool is_work(const tb_act *act)
{
	return act->kind == TB_ACT_WORK || act->kind == TB_ACT_CHAIN || act->kind == TB_ACT_GROUP ||
		act->kind == TB_ACT_KNOT || act->kind == TB_ACT_REPEAT ||
		act->kind == TB_ACT_SHAPE || act->kind == TB_ACT_ONLY;
}

/* Whether ACT parts two sections of the kind that is changed: sections.c has the same rule. */
static bool parts(const varier *v, const tb_act *act)
{
	if (v->sentence->change_count < 2)
		return is_work(act);
	for (unsigned i = 0; i < v->sentence->change_count; i++) {
		if (&v->sentence->changes[i] != v->change && makes(act, &v->sentence->changes[i].of))
			return true;
	}
	return false;
}

/* "ch 5, sc in next loop, repeat 3 times": one of the kind each time, and how often is the figure. */
static bool is_one_each_time(const varier *v, const tb_act *act)
{
	unsigned of = 0, others = 0;
	if (act->kind != TB_ACT_REPEAT || act->until != TB_UNTIL_TIMES || act->body_last > 0)
		return false;
	for (unsigned i = 0; i < act->body.count; i++) {
		const tb_act *inner = &act->body.acts[i];
		if (makes(inner, &v->change->of))
			of += v->change->of.target == TB_TARGET_SPACE || inner->kind == TB_ACT_KNOT ||
				is_one(&inner->place.count) ? 1 : 2;
		else if (inner->body.count > 0 || (v->sentence->change_count > 1 && parts(v, inner)))
			others++;
	}
	return of == 1 && others == 0;
}

static void vary_list(varier *v, tb_acts *acts)
{
	for (unsigned i = 0; i < acts->count && !v->unclear; i++) {
		tb_act *act = (tb_act *)&acts->acts[i];
		bool first = !v->begun;
		v->begun = v->begun || is_work(act);
		/* the turning chain is no space, unless the row is read so */
		if (first && act->kind == TB_ACT_CHAIN &&
			!(v->meaning & (TB_MEANS_SPACE | TB_MEANS_LOOP)))
			continue;
		bool kept = v->change->of.target != TB_TARGET_CHAIN && is_one_each_time(v, act);
		if (kept || (makes(act, &v->change->of) && v->change->of.target != TB_TARGET_SPACE)) {
			if (v->change->in_place)
				settle(v);
			g_ptr_array_add(v->section, act);
		} else if (act->body.count > 0) {
			settle(v);
			vary_list(v, &act->body);
			settle(v);
		} else if (parts(v, act)) {
			settle(v);
		}
	}
}

/* --- another figure --- */

/*
 * "ch 7 instead of ch 5": each that has the one figure has the other. "Ch 7 in each loop" says none: all
 * chains of the row are alike then. Returns how many were changed.
 */
static unsigned put_instead(varier *v, tb_acts *acts)
{
	tb_arena *arena = v->h->working->arena;
	const tb_change *change = v->change;
	int before = change->before != 0 ? change->before : v->alike;
	unsigned found = 0;
	for (unsigned i = 0; i < acts->count; i++) {
		tb_act *act = (tb_act *)&acts->acts[i];
		bool first = !v->begun;
		v->begun = v->begun || is_work(act);
		if (act->body.count > 0) {
			found += put_instead(v, &act->body);
			before = change->before != 0 ? change->before : v->alike;
		}
		if (act->kind == TB_ACT_REPEAT || !makes(act, &change->of))
			continue;
		tb_number *figure = figure_of(act);
		bool plain = figure != NULL && figure->count == 1, turning = first && act->kind == TB_ACT_CHAIN;
		if (turning && before == 0)
			continue;
		if (plain && before == 0)
			before = figure->values[0];
		/* what a row begins with may be no loop, and a graded figure may be this one in a size */
		bool same = plain && figure->values[0] == before;
		v->unclear = v->unclear || !plain || (turning && same) || (change->before == 0 && !same);
		if (!same)
			continue;
		v->alike = before;
		int *value = tb_arena_new(arena, int);
		*value = change->becomes;
		*figure = (tb_number){1, value, figure->span};
		if (act->equal)
			act->each = *figure;
		found++;
	}
	return found;
}

/* "A wide corner in place of each corner": where the one is worked, the other is. Returns how often. */
static unsigned put_other(const tb_change *change, tb_acts *acts)
{
	unsigned found = 0;
	for (unsigned i = 0; i < acts->count; i++) {
		tb_act *act = (tb_act *)&acts->acts[i];
		if (act->kind == TB_ACT_GROUP && act->own != NULL && strcmp(act->own->name, change->of.own->name) == 0) {
			act->own = change->other;
			act->body = change->other->acts;
			found++;
		} else {
			found += put_other(change, &act->body);
		}
	}
	return found;
}

/* --- other loops --- */

/* ACTS go into LOOPS, whatever was said of loops in them. */
static void set_loops(tb_acts *acts, tb_loops loops)
{
	for (unsigned i = 0; i < acts->count; i++) {
		tb_act *act = (tb_act *)&acts->acts[i];
		act->place.loops = act->kind == TB_ACT_LOOPS ? loops : TB_LOOPS_BOTH;
		set_loops(&act->body, loops);
	}
}

/* The same, of the runs alone: what is worked into one place, an edge stitch or a corner, stays as it was. */
static void set_loops_amid(tb_acts *acts, tb_loops loops)
{
	for (unsigned i = 0; i < acts->count; i++) {
		tb_act *act = (tb_act *)&acts->acts[i];
		bool several = act->place.in == TB_IN_NEXT && act->place.count.count > 0 && act->place.count.values[0] > 1;
		if (act->kind == TB_ACT_WORK && (act->place.in == TB_IN_EACH || several))
			act->place.loops = loops;
		set_loops_amid(&act->body, loops);
	}
}

/* --- another ending --- */

static bool makes_nothing(const tb_act *act)
{
	return act->kind == TB_ACT_JOIN || act->kind == TB_ACT_TURN || act->kind == TB_ACT_FASTEN_OFF ||
		act->kind == TB_ACT_DO_NOT_JOIN;
}

/* What stands behind the row's last repeat is taken for ENDING; false where it has none, or more. */
static bool end_with(tb_hands *h, tb_acts *acts, const tb_acts *ending)
{
	unsigned at = acts->count;
	while (at > 0 && acts->acts[at - 1].kind != TB_ACT_REPEAT)
		at--;
	if (at == 0 || acts->acts[at - 1].until != TB_UNTIL_END)
		return false;
	tb_act *all = tb_arena_take(h->working->arena, (acts->count + ending->count) * sizeof(tb_act));
	memcpy(all, acts->acts, at * sizeof(tb_act));
	memcpy(all + at, ending->acts, ending->count * sizeof(tb_act));
	unsigned count = at + ending->count;
	bool ended = all[at - 1].ends > 0;
	bool joins = ending->acts[ending->count - 1].kind == TB_ACT_JOIN;
	for (unsigned i = at; i < acts->count; i++) {
		const tb_act *act = &acts->acts[i];
		if (makes_nothing(act) && !(joins && act->kind == TB_ACT_JOIN))
			all[count++] = *act;
		else if (!ended && !makes_nothing(act))
			return false;
	}
	all[at - 1].ends = ending->count;
	*acts = (tb_acts){all, count};
	return true;
}

/* The last stitch of the row goes where LAST does; false where the row does not end with such a stitch. */
static bool put_last(tb_hands *h, tb_acts *acts, const tb_act *last)
{
	unsigned at = acts->count;
	while (at > 0 && (makes_nothing(&acts->acts[at - 1]) || acts->acts[at - 1].kind == TB_ACT_CLAIM))
		at--;
	tb_arena *arena = h->working->arena;
	tb_act *all = tb_arena_take(arena, (acts->count + 1) * sizeof(tb_act));
	memcpy(all, acts->acts, acts->count * sizeof(tb_act));
	tb_act *act = at > 0 ? &all[at - 1] : NULL;
	if (act == NULL || act->kind != TB_ACT_WORK || !is_one(&act->each) || !is_one(&last->each) || act->place.count.count != 1 ||
		(last->stitch != NULL && act->stitch != last->stitch))
		return false;
	tb_act moved = *last;
	moved.stitch = act->stitch;
	bool each = act->place.in == TB_IN_EACH && act->place.count.values[0] == 0 && act->place.up_to == NULL;
	bool several = act->place.in == TB_IN_NEXT && act->place.count.values[0] > 1;
	if (!each && !several) {
		if (act->place.in == TB_IN_EACH || !is_one(&act->place.count))
			return false;
		*act = moved;
		*acts = (tb_acts){all, acts->count};
		return true;
	}
	int *left = tb_arena_new(arena, int);
	*left = each ? 1 : act->place.count.values[0] - 1;
	act->place.count = (tb_number){1, left, act->place.count.span};
	memmove(all + at + 1, all + at, (acts->count - at) * sizeof(tb_act));
	all[at] = moved;
	*acts = (tb_acts){all, acts->count + 1};
	return true;
}

static const tb_sentence *vary(tb_hands *h, const tb_sentence *like, const tb_sentence *sentence)
{
	tb_sentence *varied = tb_arena_new(h->working->arena, tb_sentence);
	*varied = *like;
	varied->span = sentence->span;
	varied->original = NULL;
	varied->ways = NULL;
	varied->way_count = varied->claim_count = 0;
	varied->acts = tb_vary_copy(h->working->arena, &like->acts);
	for (unsigned i = 0; i < sentence->change_count; i++) {
		g_autoptr(GPtrArray) section = g_ptr_array_new();
		varier v = {.h = h, .change = &sentence->changes[i], .sentence = sentence, .section = section,
			.meaning = like->meaning};
		if (v.change->other != NULL) {
			v.unclear = put_other(v.change, &varied->acts) == 0;
		} else if (v.change->becomes > 0) {
			v.unclear = put_instead(&v, &varied->acts) == 0 || v.unclear;
		} else {
			vary_list(&v, &varied->acts);
			settle(&v);
		}
		if (v.unclear)
			return NULL;
	}
	drop_empty(&varied->acts);
	if (sentence->loops_amid) {
		set_loops_amid(&varied->acts, sentence->loops);
	} else if (sentence->loops_otherwise) {
		set_loops(&varied->acts, sentence->loops);
		varied->loops = sentence->loops;
	}
	bool put = sentence->last_goes != NULL && put_last(h, &varied->acts, sentence->last_goes);
	if (sentence->ends_otherwise && !put && !end_with(h, &varied->acts, &sentence->ending))
		return NULL;
	if (sentence->last_goes != NULL && !put && !sentence->ends_otherwise)
		return NULL;
	return varied;
}

const tb_sentence *tb_vary_sentence(tb_hands *h, const tb_sentence *like, const tb_sentence *sentence)
{
	const tb_sentence *pair[] = {like, sentence};
	g_autoptr(GBytes) key = g_bytes_new(pair, sizeof pair);
	const tb_sentence *varied = g_hash_table_lookup(h->working->chosen, key);
	if (varied == NULL) {
		varied = vary(h, like, sentence);
		if (varied != NULL)
			g_hash_table_insert(h->working->chosen, g_bytes_ref(key), (gpointer)varied);
	}
	return varied;
}
