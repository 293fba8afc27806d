/*
 * A row like another but for a part of it: "Same as last row, but having 1 more dc in each section",
 * "As Rnd 6, but ending with ch 3". What is other is said here; rows/vary.c works it.
 */
#include "notation/script.h"

static bool fail_other(tb_reader *r, const tb_value *value)
{
	return tb_reader_fail(r, "not-worked", value->from, value->to,
		"Write the row out, with what is other in it.",
		"a row like another but for a part of it is not worked");
}

/* "in each section", "in each loop"; false where that tells of neither. */
static bool set_where(tb_reader *r, const tb_value *where, tb_change *change)
{
	const tb_value *noun = tb_value_get(where, TB_SLOT_noun);
	tb_place place = {0};
	change->in_each = where != NULL;
	change->sides = tb_value_get(where, TB_SLOT_sides) != NULL;
	if (noun == NULL || tb_value_get(where, TB_SLOT_between) != NULL)
		return true;
	tb_build_noun(&r->b, noun, &place);
	/* a corner is one space of several, and only some of the places are meant */
	if (tb_value_get(noun, TB_SLOT_corner) != NULL)
		return false;
	change->in_place = place.target != TB_TARGET_GROUP;
	return true;
}

/* Of what kind: a stitch, chains, spaces, a group that has a name. */
static bool set_kind(tb_reader *r, const tb_value *noun, tb_change *change)
{
	tb_place *of = &change->of;
	if (noun == NULL)
		return false;
	tb_build_noun(&r->b, noun, of);
	/* "1 st less on each side": of those that the row is worked in */
	if (of->target == TB_TARGET_STITCH && change->sides && r->b.plain != NULL) {
		of->target = TB_TARGET_NAMED;
		of->named = r->b.plain;
	}
	return of->target == TB_TARGET_NAMED || of->target == TB_TARGET_CHAIN ||
		of->target == TB_TARGET_SPACE || (of->target == TB_TARGET_GROUP && of->own != NULL);
}

/* "ch 7 instead of ch 5", "7 sc on each side of the sc3tog": another figure where that one, or any, stands. */
static bool set_instead(tb_reader *r, const tb_value *value, tb_change *change)
{
	const tb_value *noun = tb_value_get(value, TB_SLOT_noun);
	*change = (tb_change){.span = tb_build_span(&r->b, value->from, value->to)};
	change->of.target = TB_TARGET_CHAIN;
	change->becomes = tb_build_one_number(tb_value_get(value, TB_SLOT_n), 0);
	change->before = tb_build_one_number(tb_value_get(value, TB_SLOT_of), 0);
	if (noun != NULL)
		tb_build_noun(&r->b, noun, &change->of);
	return change->becomes > 0 && (noun == NULL || change->of.target == TB_TARGET_NAMED);
}

/* The group that VALUE names, of the pattern's own words; NULL for another stitch. */
static const tb_own *named_group(tb_reader *r, const tb_value *value)
{
	const tb_own *own = NULL;
	tb_build_stitch(&r->b, value, &own);
	return own != NULL && !own->whole && own->acts.count > 0 ? own : NULL;
}

/* "A wide corner in place of each corner" */
static bool set_swap(tb_reader *r, const tb_value *value, tb_change *change)
{
	*change = (tb_change){.span = tb_build_span(&r->b, value->from, value->to), .becomes = 1};
	change->of.target = TB_TARGET_GROUP;
	change->of.own = named_group(r, tb_value_get(value, TB_SLOT_stitch2));
	change->other = named_group(r, tb_value_get(value, TB_SLOT_stitch));
	return change->of.own != NULL && change->other != NULL && change->of.own != change->other;
}

static bool set_change(tb_reader *r, const tb_value *value, tb_change *change)
{
	if (tb_value_is(value, TB_KIND_standin))
		return set_swap(r, value, change);
	if (tb_value_is(value, TB_KIND_instead))
		return set_instead(r, value, change);
	int n = tb_build_one_number(tb_value_get(value, TB_SLOT_n), 0);
	const tb_value *way = tb_value_get(tb_value_get(value, TB_SLOT_way), TB_SLOT_v);
	*change = (tb_change){.span = tb_build_span(&r->b, value->from, value->to)};
	change->more = tb_value_is_symbol(way, TB_SYMBOL_dec) ? -n : n;
	return n > 0 && set_where(r, tb_value_get(value, TB_SLOT_where), change) &&
		set_kind(r, tb_value_get(value, TB_SLOT_noun), change);
}

/* "As Row 2, working last dc in turning chain" */
static void set_last(tb_reader *r, const tb_value *value, const tb_value *place, tb_sentence *sentence)
{
	tb_act *last = tb_arena_new(r->b.arena, tb_act);
	*last = (tb_act){.kind = TB_ACT_WORK, .span = tb_build_span(&r->b, value->from, value->to)};
	last->each = tb_number_make(r->b.arena, tb_build_one_number(tb_value_get(value, TB_SLOT_n), 1), last->span);
	tb_build_place(&r->b, place, &last->place);
	if (tb_value_get(value, TB_SLOT_stitch) != NULL)
		last->stitch = tb_build_stitch(&r->b, tb_value_get(value, TB_SLOT_stitch), NULL);
	sentence->last_goes = last;
}

bool tb_reader_differ(tb_reader *r, const tb_value *value, tb_sentence *sentence)
{
	const tb_value *end = tb_value_get(value, TB_SLOT_end), *more = tb_value_get(value, TB_SLOT_more);
	const tb_value *loops = tb_value_get(value, TB_SLOT_loops);
	if (loops != NULL) {
		sentence->loops_otherwise = true;
		sentence->loops = tb_build_loops_of(loops);
		sentence->loops_amid = tb_build_has(value, TB_SLOT_amid);
		return true;
	}
	if (end != NULL) {
		sentence->ends_otherwise = true;
		sentence->ending = tb_build_list(&r->b, end);
		return sentence->ending.count > 0 || fail_other(r, value);
	}
	if (tb_value_get(value, TB_SLOT_last) != NULL) {
		set_last(r, value, tb_value_get(value, TB_SLOT_last), sentence);
		if (tb_build_has(value, TB_SLOT_orends)) {
			/* "ending with hdc in top of ch-2": where the last one goes, or another in place of the end */
			sentence->ends_otherwise = true;
			sentence->ending = (tb_acts){sentence->last_goes, 1};
			return sentence->last_goes->stitch != NULL || fail_other(r, value);
		}
		return true;
	}
	if (more == NULL || more->type != TB_VALUE_LIST)
		return fail_other(r, value);
	const tb_value *const *items = tb_value_items(more, r->scratch);
	tb_change *changes = tb_arena_take(r->b.arena, more->count * sizeof(tb_change));
	for (guint32 i = 0; i < more->count; i++) {
		if (!set_change(r, items[i], &changes[i]))
			return fail_other(r, value);
	}
	sentence->changes = changes;
	sentence->change_count = more->count;
	return true;
}

tb_acts tb_reader_end_with(tb_reader *r, tb_sentence *sentence, tb_acts acts)
{
	g_autoptr(GArray) all = g_array_new(FALSE, FALSE, sizeof(tb_act));
	g_array_append_vals(all, sentence->ending.acts, sentence->ending.count);
	unsigned count = acts.count;
	while (count > 0 && !tb_reader_makes(&(tb_acts){&acts.acts[count - 1], 1}) &&
		acts.acts[count - 1].kind != TB_ACT_CHAIN)
		count--;
	if (count > 0)
		g_array_append_vals(all, acts.acts, count);
	sentence->ending = tb_acts_keep(r->b.arena, all);
	return (tb_acts){acts.acts + count, acts.count - count};
}

bool tb_reader_until_sections(tb_reader *r, const tb_value *until, tb_sentence *sentence)
{
	tb_change *section = tb_arena_new(r->b.arena, tb_change);
	*section = (tb_change){.span = tb_build_span(&r->b, until->from, until->to)};
	if (!set_kind(r, tb_value_get(until, TB_SLOT_noun), section) ||
		!set_where(r, tb_value_get(until, TB_SLOT_where), section) || section->in_place)
		return tb_reader_fail(r, "not-worked", until->from, until->to,
			"Say how many stitches the row has then, or how many rows.",
			"when this is reached cannot be counted here");
	if (sentence->first > 0 && sentence->last != sentence->first)
		return tb_reader_fail(r, "rows-again-times", until->from, until->to,
			"Leave the rows' numbers out: Rep Row 3 until there are 8 dc in each section.",
			"rows that are numbered are not worked until a count");
	sentence->section = section;
	sentence->times = tb_build_number(&r->b, tb_value_get(until, TB_SLOT_n), 1);
	sentence->until = TB_REPEAT_SECTIONS;
	sentence->first = sentence->last = 0;
	return true;
}
