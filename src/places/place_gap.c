/* Into the gap between two stitches, or between two groups. */
#include "hands/meaning.h"
#include "places/place.h"
#include "places/spiral.h"

static guint32 foot_of(const tb_hands *h, guint32 place)
{
	return tb_place_foot(h, tb_hands_place(h, place));
}

/* Whether the stitch in a place is one of several in one place, as its neighbour NEXT shows. */
static bool is_grouped(const tb_hands *h, guint32 place, guint32 next)
{
	if (tb_hands_made(h, tb_hands_place(h, place))->group != 0)
		return true;
	return next < tb_place_count(h) && foot_of(h, place) != TB_NONE && foot_of(h, place) == foot_of(h, next);
}

/*
 * Whether two groups meet, the one ending with the place LEFT, the other beginning with RIGHT. A group is what
 * stands in one place, so that the half at a row's edge, "ch 3, dc in same st", is one too.
 */
static bool is_meeting(const tb_hands *h, guint32 left, guint32 right)
{
	guint32 foot = foot_of(h, left), foot_behind = foot_of(h, right), count = tb_place_count(h);
	/* a round that began in such a gap has the first half of a group at its end */
	bool around = h->sentence->is_round && h->now.travelled;
	guint32 before = left > 0 ? left - 1 : around ? count - 1 : count, behind = around && right + 1 == count ? 0 : right + 1;
	return foot != TB_NONE && foot_behind != TB_NONE && foot != foot_behind && is_grouped(h, left, before) &&
		is_grouped(h, right, behind);
}

/* Where two groups meet at FROM or later: the place behind the gap. */
static guint32 find_meeting(const tb_hands *h, guint32 from)
{
	guint32 count = tb_place_count(h);
	for (guint32 i = MAX(from, 1); i < count; i++) {
		tb_hands_look(h, 1);
		if (is_meeting(h, i - 1, i))
			return i;
	}
	return TB_NONE;
}

/* Whether the gap between LEFT and RIGHT is the one that was worked last. */
static bool is_last_gap(const tb_hands *h, guint32 left, guint32 right)
{
	const tb_footing *last = &h->cursor.last;
	return last->count == 2 && last->bases[0] == tb_hands_place(h, left) &&
		last->bases[1] == tb_hands_place(h, right);
}

/* The first meeting that is not worked yet, the hook standing at one perhaps. */
static guint32 meeting_ahead(const tb_hands *h)
{
	guint32 due = h->cursor.due;
	bool done = due > 0 && due < tb_place_count(h) && is_last_gap(h, due - 1, due);
	return find_meeting(h, due + done);
}

/* Whether the last stitch of this row stands on one, and in no gap: the gap behind that is still to come. */
static bool stands_before_gap(const tb_hands *h)
{
	return h->cursor.has_last && h->cloth.made->len > h->now.begun && h->cursor.last.count == 1 && h->cursor.due > h->cursor.first + 1;
}

/* "Between next 2 dc", where chains come before them: the place behind the gap that has one on each side; or END. */
static guint32 between_named(const tb_hands *h, const tb_place *place, guint32 end)
{
	for (guint32 at = end; at < tb_place_count(h) && place->target == TB_TARGET_NAMED && place->beside == TB_BESIDE_NOTHING; at++) {
		tb_hands_look(h, 1);
		if (tb_place_matches(h, place, at - 1) && tb_place_matches(h, place, at))
			return at;
	}
	return end;
}

/* Where the gap is that comes next: the place before it. TB_NONE when none comes. */
static guint32 find_gap(const tb_hands *h, const tb_place *place)
{
	const tb_cursor *c = &h->cursor;
	guint32 begin, end = c->due + 1, next_begin, next_end;
	bool skipped = c->skipped_count > 0 && c->skipped_from + c->skipped_count == c->due && c->due > c->first;
	/* "ch 3, dc in each sp between sts": the first is beside the stitch that the chain stands on */
	if (place->target != TB_TARGET_GROUP && tb_hands_number(h, &place->count, 1) == 0 && c->due == c->first + 1 &&
		!c->began_in_gap && h->now.counts_as != NULL && tb_hands_has_turning_alone(h))
		end = c->due;
	/* "sk 3 dc, 2 dc in next sp": the gap behind those that are skipped */
	if (place->target == TB_TARGET_SPACE && skipped)
		end = c->due;
	if (place->target == TB_TARGET_GROUP && place->own == NULL) {
		guint32 meeting = place->beside == TB_BESIDE_BEFORE || stands_before_gap(h) ? meeting_ahead(h) :
			find_meeting(h, skipped ? c->due : c->due + 1);
		if (meeting != TB_NONE)
			return meeting - 1;
	}
	if (place->target == TB_TARGET_GROUP) {
		/* behind one group and before another */
		if (!tb_place_find_from(h, place, h->cursor.due, &begin, &end) ||
			end >= tb_place_count(h) || !tb_place_group(h, end, &next_begin, &next_end))
			return TB_NONE;
	}
	end = between_named(h, place, end);
	return end < tb_place_count(h) ? end - 1 : TB_NONE;
}

/* A round has one more gap: between its last group, or stitch, and its first. */
static bool closes_round(const tb_hands *h, const tb_place *place)
{
	guint32 begin, end;
	bool is_last = h->cursor.due + 1 == tb_place_count(h);
	if (h->cursor.began_in_gap && place->target != TB_TARGET_GROUP)
		return is_last;
	/* behind the last stitch of the last group */
	guint32 count = tb_place_count(h);
	if (h->sentence->is_round && place->target == TB_TARGET_GROUP && h->cursor.due == count && count > 1 &&
		stands_before_gap(h) && is_meeting(h, count - 1, 0))
		return true;
	/* "2 sc between each dc" is as often as there are dc, where no chain stands for one of them */
	bool chain = h->now.begun < h->cloth.made->len && (tb_hands_made(h, h->now.begun)->flags & TB_MADE_TURNING) &&
		(tb_hands_made(h, h->now.begun)->flags & TB_MADE_COUNTED);
	if (h->sentence->is_round && place->target != TB_TARGET_GROUP && tb_hands_number(h, &place->count, 1) == 0)
		return is_last && !chain;
	bool torn = h->now.travelled && count > 1 && foot_of(h, 0) != TB_NONE && foot_of(h, 0) == foot_of(h, count - 1);
	return h->sentence->is_round && place->target == TB_TARGET_GROUP && !torn &&
		tb_place_find_from(h, place, h->cursor.due, &begin, &end) && end == tb_place_count(h);
}

static bool is_loose_chain(const tb_hands *h, guint32 place)
{
	const tb_made *made = tb_hands_made(h, tb_hands_place(h, place));
	return (made->flags & TB_MADE_CHAIN) != 0 && !(made->flags & TB_MADE_TURNING) && made->group == 0;
}

/* "Sc between shells", where chains lead from one to the other: into these, up to *END; false for none. */
static bool find_bridge(const tb_hands *h, const tb_place *place, guint32 *begin, guint32 *end)
{
	guint32 first, behind, count = tb_place_count(h);
	if (place->target != TB_TARGET_GROUP || h->row < 2)
		return false;
	for (guint32 i = MAX(h->cursor.due, 1); i < count; i = *end) {
		*end = i + 1;
		if (!is_loose_chain(h, i) || is_loose_chain(h, i - 1))
			continue;
		while (*end < count && is_loose_chain(h, *end))
			++*end;
		tb_hands_look(h, *end - i);
		guint32 next = *end < count ? *end : 0;
		bool last = *end == count && !h->sentence->is_round;
		/* a shell that a turning chain begins is none without it */
		if (tb_hands_made(h, tb_hands_place(h, next))->flags & TB_MADE_TURNING)
			next = MIN(next + 1, count - 1);
		/* the hook stands in this one */
		const tb_footing *stand = &h->cursor.last;
		guint32 made = h->cursor.has_last && stand->flags & TB_MADE_IN_SPACE && stand->count == 1 ? stand->bases[0] : TB_NONE;
		bool own = made != TB_NONE && made == MIN(tb_hands_place(h, i), tb_hands_place(h, *end - 1));
		if (last || own || !tb_place_group(h, i - 1, &first, &behind) || !tb_place_group(h, next, &first, &behind))
			continue;
		*begin = i;
		return true;
	}
	return false;
}

static bool take_bridge(tb_hands *h, const tb_place *place, tb_footing *footing)
{
	guint32 begin, end;
	if (!find_bridge(h, place, &begin, &end))
		return false;
	h->cursor.before_space = begin - MIN(h->cursor.due, begin);
	footing->bases[0] = MIN(tb_hands_place(h, begin), tb_hands_place(h, end - 1));
	footing->count = 1;
	footing->rows_below = 1;
	footing->flags = TB_MADE_IN_SPACE;
	h->cursor.due = end;
	return true;
}

bool tb_place_is_gap_of_round(const tb_hands *h, const tb_act *act)
{
	return h->sentence->is_round && h->row > 1 && tb_place_count(h) > 2 && act->place.in == TB_IN_BETWEEN &&
		act->place.target != TB_TARGET_GROUP;
}

bool tb_place_is_gap(const tb_hands *h, const tb_place *place)
{
	return place->in == TB_IN_BETWEEN || (h->cursor.began_in_gap && place->in == TB_IN_NEXT &&
		place->target == TB_TARGET_SPACE && place->space_chains == 0);
}

bool tb_place_gap_is_left(tb_hands *h, const tb_place *place)
{
	guint32 begin, end;
	if (place->deeper > 1 && h->now.on_row == 0)
		return tb_place_count(h) > 1;
	if (place->up_to != NULL) {
		/* "3 dc in each sp between groups to next corner" */
		guint32 limit, gap = find_gap(h, place);
		return gap != TB_NONE && tb_place_find_up_to(h, place, &limit) && gap + 1 < limit;
	}
	return find_bridge(h, place, &begin, &end) || find_gap(h, place) != TB_NONE || closes_round(h, place);
}

/* "3 dc in each sp across", where no chain is: in each gap where two groups meet. */
bool tb_place_is_each_gap(tb_hands *h, const tb_act *act, tb_act *gaps)
{
	if (act->place.target != TB_TARGET_SPACE || act->place.space_chains > 0 || act->place.corner ||
		act->place.loose || act->other != NULL || act->place.also != NULL || act->place.of != NULL ||
		h->row < 2 || tb_place_is_left(h, &act->place, tb_place_count(h)))
		return false;
	/* "join in any sp between two dc, …, 2 dc in each remaining sp" */
	bool begun = h->cursor.began_in_gap && act->place.in == TB_IN_EACH;
	if (!begun && (meeting_ahead(h) == TB_NONE || !tb_means(h, TB_MEANS_GAPS)))
		return false;
	*gaps = *act;
	gaps->place.in = TB_IN_BETWEEN;
	gaps->place.target = begun ? TB_TARGET_STITCH : TB_TARGET_GROUP;
	return true;
}

static bool stand_in_gap(const tb_hands *h, guint32 left, guint32 right, tb_footing *footing)
{
	footing->bases[0] = tb_hands_place(h, left);
	footing->bases[1] = tb_hands_place(h, right);
	footing->count = 2;
	footing->rows_below = 1;
	footing->flags = TB_MADE_IN_SPACE;
	return true;
}

bool tb_place_take_gap(
	tb_hands *h, const tb_act *act, const tb_stitch *stitch, unsigned which, tb_footing *footing)
{
	tb_cursor *c = &h->cursor;
	if (act->place.deeper > 1 && h->now.on_row == 0)
		return tb_place_take_deep_gap(h, act, footing);
	if (take_bridge(h, &act->place, footing))
		return true;
	guint32 gap = find_gap(h, &act->place);
	if (gap == TB_NONE && closes_round(h, &act->place)) {
		c->due = tb_place_count(h);
		return stand_in_gap(h, c->due - 1, 0, footing);
	}
	if (gap == TB_NONE) {
		tb_place_tell_none(h, act, stitch, which);
		return false;
	}
	c->due = gap + 1;
	return stand_in_gap(h, gap, gap + 1, footing);
}

/* "3 dc in next sp", of a granny without chains along its sides: the gap, where that comes before a chain. */
static bool take_meeting(tb_hands *h, tb_footing *footing)
{
	guint32 due = h->cursor.due, count = tb_place_count(h), meeting = meeting_ahead(h);
	bool closes = meeting == TB_NONE && h->sentence->is_round && count > 1 && is_meeting(h, count - 1, 0);
	guint32 right = meeting != TB_NONE ? meeting : count;
	if ((meeting == TB_NONE && !closes) || due >= count)
		return false;
	for (guint32 i = due; i < right; i++) {
		if (tb_hands_made(h, tb_hands_place(h, i))->flags & TB_MADE_CHAIN)
			return false;
	}
	if (!tb_means(h, TB_MEANS_GAPS))
		return false;
	h->cursor.due = right;
	return stand_in_gap(h, right - 1, closes ? 0 : right, footing);
}

/* "skip 3 dc of same shell, 3 dc in next space": where no chain parts two groups, the gap does. */
bool tb_place_take_gap_of_groups(tb_hands *h, const tb_act *act, tb_footing *footing)
{
	guint32 due = h->cursor.due, count = tb_place_count(h);
	const tb_place *place = &act->place;
	if (place->target != TB_TARGET_SPACE || place->in != TB_IN_NEXT || place->loose || place->corner ||
		place->space_chains > 0)
		return false;
	if (take_meeting(h, footing))
		return true;
	if (due < 2 || due == h->cursor.first)
		return false;
	/* a round has one more between its last group and its first */
	guint32 behind = due < count ? due : 0;
	if (due >= count && (!h->sentence->is_round || tb_spiral_reach(h, act)))
		return false;
	/* the next one after the gap that was worked last is another */
	return is_meeting(h, due - 1, behind) && !is_last_gap(h, due - 1, behind) &&
		stand_in_gap(h, due - 1, behind, footing);
}
