/*
 * Where the hook goes in.
 *
 * The tops of the row below lie in one list, in the order they come to the hook; `due` is the next
 * of them. Naming a space, a chain or a kind of stitch passes over what stands before it, as the
 * trade does ("V-st in each ch-1 sp"); "next st" passes over nothing.
 * place_find.c finds places, place_skip.c skips them, place_tell.c says what is wrong with them.
 */
#include "places/edge.h"
#include "places/mark.h"
#include "places/on_row.h"
#include "places/place.h"
#include "places/post.h"
#include "places/spiral.h"

/* "Ch 3, 3 dc in top of dc4tog": the chain that counts stands on it, and no other of the kind is left. */
static bool is_under_chain(const tb_hands *h, const tb_act *act, guint32 *begin, guint32 *end)
{
	const tb_cursor *c = &h->cursor;
	const tb_place *place = &act->place;
	if (place->target != TB_TARGET_NAMED || place->in != TB_IN_NEXT || place->named == NULL || place->named->takes < 2 ||
		c->due != c->first + 1 || h->cloth.made->len != h->now.begun + 1 || tb_hands_number(h, &place->count, 1) != 1 ||
		!(tb_hands_made(h, h->now.begun)->flags & TB_MADE_TURNING) || !tb_place_matches(h, place, c->first))
		return false;
	*begin = c->first;
	*end = c->due;
	return true;
}

/* The chain behind a slip stitch is the edge of this row: what lies beyond is left as it is. */
static bool take_inner_edge(tb_hands *h, const tb_act *act, guint32 *begin, guint32 *end)
{
	guint32 count = tb_place_count(h);
	if (act->place.target != TB_TARGET_TURNING_CHAIN || !tb_place_find_inner_edge(h, &act->place, begin))
		return false;
	for (*end = *begin; *end < count && tb_hands_made(h, tb_hands_place(h, *end))->flags & TB_MADE_CHAIN;)
		++*end;
	tb_hands_tell(h, TB_WARNING, "unworked-unsaid", act->span,
		"Say \"leave rem sts unworked\" where a row is short on purpose.",
		"%u of %u sts are left unworked at the end of the row", count - *end, count);
	*end = count;
	return true;
}

/* "dc in next 3 dc of next group": what is left before that group is passed over. */
static bool pass_to_group(tb_hands *h, const tb_place *group, guint32 *end)
{
	tb_cursor *c = &h->cursor;
	guint32 begin;
	if (!tb_place_find_group(h, group, c->due, &begin, end))
		return false;
	c->passed_from = c->due;
	c->passed_to = c->due = begin;
	return true;
}

bool tb_place_passes_again(const tb_hands *h, guint32 until)
{
	const tb_cursor *c = &h->cursor;
	if (c->due >= until)
		return true;
	if (until - c->due != c->passed_to - c->passed_from)
		return false;
	for (guint32 i = 0; c->due + i < until; i++) {
		const tb_made *left = tb_hands_made(h, tb_hands_place(h, c->due + i));
		const tb_made *passed = tb_hands_made(h, tb_hands_place(h, c->passed_from + i));
		if (left->stitch != passed->stitch || left->flags != passed->flags)
			return false;
	}
	return true;
}

/* Whether spaces are left before TO; the chain beside the turning chain is none of them. */
static bool leaves_spaces(const tb_hands *h, guint32 to)
{
	static const tb_place space = {.in = TB_IN_NEXT, .target = TB_TARGET_SPACE, .rows_below = 1};
	guint32 begin, end;
	return tb_place_find_from(h, &space, h->cursor.due, &begin, &end) && end < to;
}

/* Whether stitches of this row stand on others of the row below than the first. */
static bool works_from_midst(const tb_hands *h)
{
	const tb_cursor *c = &h->cursor;
	return c->due > c->first + 1 && c->has_last && h->cloth.made->len > h->now.begun && c->last.count > 0 &&
		c->last.rows_below == 1;
}

/*
 * "2 sc in first sc, sc in each sc to last sc, 2 sc in first sc": the first of that kind is worked already. A word of another
 * end of the row that was copied along, most likely; nobody goes back.
 */
static void tell_first_worked(tb_hands *h, const tb_act *act, const tb_stitch *stitch)
{
	const tb_place *place = &act->place;
	guint32 begin, end;
	if (h->sentence->is_round || h->now.repeating > 0 || h->now.group != NULL || place->of != NULL || stitch == h->working->slip ||
		(place->target != TB_TARGET_NAMED && place->target != TB_TARGET_SPACE) || !works_from_midst(h))
		return;
	if (tb_place_find_from(h, place, h->cursor.first, &begin, &end) && end <= h->cursor.due && h->cursor.due < tb_place_count(h))
		tb_hands_tell(h, TB_ERROR, "passed-over", place->span, "Say which of those that are left are meant, as in “next” or “last”.",
			"the first of these is worked already, and %u sts are left", (unsigned)(tb_place_count(h) - h->cursor.due));
}

/* "Skip 2 sts, sc in first 10 sts": whether all that stands before the hook, from the first st on, was skipped and nothing is worked yet. */
static bool skipped_first(const tb_hands *h)
{
	const tb_cursor *c = &h->cursor;
	if (c->skipped_under && tb_hands_has_turning_alone(h))
		return true;
	return c->skipped_count > 0 && c->skipped_used == 0 && c->skipped_from == c->first && c->due == c->first + c->skipped_count &&
		!c->has_last;
}

static void tell_first_skipped(tb_hands *h, const tb_place *place)
{
	tb_hands_tell(h, TB_ERROR, "passed-over", place->span, "Say which of those that are left are meant, as in “next st”.",
		"the first st is skipped before this");
}

/* One place for one leg, which is taken. */
static bool take_leg(tb_hands *h, const tb_act *act, const tb_stitch *stitch, unsigned which,
	unsigned taken, guint32 *begin, guint32 *end)
{
	const tb_place *place = &act->place;
	tb_cursor *c = &h->cursor;
	guint32 count = tb_place_count(h);
	unsigned said = tb_hands_number(h, &place->count, 1);
	bool plain = tb_place_is_plain(h, place);
	bool found;
	/* "…, sc in first ch-1 sp" in the midst of a row is the first of those that come, and no way back */
	if (place->in == TB_IN_FIRST && which == 0 && !plain && !works_from_midst(h)) {
		if (taken == 0 && stitch != h->working->slip && skipped_first(h) && tb_place_find_from(h, place, c->first, begin, end) && *begin < c->due)
			tell_first_skipped(h, place);
		c->due = c->first;
	} else if (place->in == TB_IN_FIRST && which == 0 && taken == 0 && !plain)
		tell_first_worked(h, act, stitch);
	if (place->in == TB_IN_FIRST && plain) {
		if (which == 0 && taken == 0 && stitch != h->working->slip && skipped_first(h))
			tell_first_skipped(h, place);
		*begin = c->first + which;
		*end = MAX(*begin + 1, c->due);
		found = *begin < count;
		if (which == 0 && stitch != h->working->slip && c->due < count && works_from_midst(h))
			tb_hands_tell(h, TB_ERROR, "passed-over", place->span, "Say which of those that are left are meant, as in “next st”.",
				"the first st is worked already, and %u are left", (unsigned)(count - c->due));
	} else if (place->in == TB_IN_LAST && place->target != TB_TARGET_TURNING_CHAIN) {
		/* The first of them is counted back from the end, the others stand beside it. */
		unsigned back = MAX(said, 1) * (stitch != NULL ? MAX(stitch->takes, 1) : 1);
		found = which == 0 ? tb_place_find_back(h, place, back, tb_place_last_from(h, place), begin, end)
						   : tb_place_find_from(h, place, c->due, begin, end);
		if (found && plain && which == 0 && *begin > c->due && !c->in_space)
			tb_place_tell_passed(h, act, *begin);
		tb_place_tell_spaces_passed(h, act, found && which == 0 ? *begin : 0);
		if (found && which == 0)
			tb_place_tell_named_passed(h, act, *begin);
		if (found && which == 0 && c->in_space && c->skipped_count > 0)
			tb_place_warn_spaces_before_last(h, act, *begin);
	} else if (place->in == TB_IN_NTH_STITCH && !place->middle && !plain) {
		*end = c->first;
		found = true;
		for (unsigned n = 0; found && n < MAX(said, 1); n++)
			found = tb_place_find_from(h, place, *end, begin, end);
		found = found && *begin >= c->due;
	} else if (place->in == TB_IN_NTH_STITCH && !place->middle) {
		*begin = c->first + MAX(said, 1) - 1;
		*end = *begin + 1;
		found = *begin >= c->due && *begin < count;
		tb_place_warn_before(h, act, found ? *begin : 0);
	} else {
		guint32 group_end = count, middle = place->central ? tb_place_find_central(h, place) : TB_NONE;
		/* "sc in next 14 sc, 3 sc in center sc", with 15 before it */
		if (middle != TB_NONE && middle > c->due && tb_place_count_worked_side(h) > 0)
			tb_place_tell_passed(h, act, middle);
		c->due = middle != TB_NONE ? middle : c->due;
		found = place->of == NULL || tb_place_is_within(h, place) || which > 0 || pass_to_group(h, place->of, &group_end);
		found = found && ((tb_place_find_from(h, place, c->due, begin, end) && *end <= group_end) ||
			(place->of == NULL && tb_spiral_reach(h, act) && tb_place_find_from(h, place, c->due, begin, end)) ||
			(place->of == NULL && take_inner_edge(h, act, begin, end)) || is_under_chain(h, act, begin, end));
		if (found && place->target == TB_TARGET_TURNING_CHAIN && *begin > c->due &&
			(!c->in_space || leaves_spaces(h, *begin)))
			tb_place_tell_passed(h, act, *begin);
		else if (found && place->in == TB_IN_NEXT)
			tb_place_warn_passed(h, act, *begin);
		if (found && which == 0)
			tb_place_warn_before_space(h, act, *begin);
		if (found && place->target == TB_TARGET_SPACE)
			c->before_space = *begin - MIN(c->due, *begin);
	}
	if (!found) {
		tb_place_tell_none(h, act, stitch, taken);
		return false;
	}
	tb_place_tell_chains_left(h, act, *begin);
	c->due = tb_place_behind_rest(h, place, *begin, *end);
	return true;
}

/* Two or more rows down: the place due is taken, its stitch hidden behind. */
static bool take_deep(
	tb_hands *h, const tb_act *act, const tb_stitch *stitch, unsigned which, tb_footing *footing)
{
	tb_cursor *c = &h->cursor;
	if (c->due >= tb_place_count(h)) {
		tb_place_tell_none(h, act, stitch, which);
		return false;
	}
	guint32 place = c->due, due = tb_hands_place(h, place);
	if (act->place.over != NULL && !tb_place_is_of(h, due, act->place.over)) {
		tb_hands_give_up(h, "place-missing", act->place.over->span, "Say in which row the stitch stands that is meant.",
			"the stitch that comes next is another");
		return false;
	}
	unsigned posts = CLAMP(act->place.posts, 1, TB_MOST_BASES);
	guint32 base = tb_post_find(h, act, stitch, which * posts, due);
	if (!act->do_not_skip_behind) {
		c->due++;
		footing->behind = due;
	}
	footing->count = 1;
	if (base == TB_NONE) {
		/* told; the stitch due stands in for it, so that the count of the row stays right */
		footing->bases[0] = due;
		footing->behind = TB_NONE;
		footing->rows_below = 1;
		return true;
	}
	footing->bases[0] = base;
	footing->rows_below = (guint8)MIN(h->row - tb_hands_made(h, base)->row, 255);
	/* the other legs go around the posts beside it; all of them hide one stitch */
	for (unsigned leg = 1; leg < posts; leg++) {
		guint32 beside = MIN(place + leg, tb_place_count(h) - 1);
		base = tb_post_find(h, act, stitch, which * posts + leg, tb_hands_place(h, beside));
		if (base == TB_NONE)
			break;
		footing->bases[footing->count++] = base;
	}
	return true;
}

/* "Join B in first st, sc in same space": older books call any place a space. */
static bool is_where_yarn_joined(const tb_hands *h)
{
	const tb_acts *acts = &h->sentence->acts;
	return acts->count > 0 && acts->acts[0].kind == TB_ACT_JOIN_YARN &&
		acts->acts[0].place.target != TB_TARGET_SPACE;
}

static bool take_same(tb_hands *h, const tb_act *act, const tb_stitch *stitch, tb_footing *footing)
{
	bool begun = act->place.begun || act->place.at_slip || tb_place_is_begun_space(h, &act->place);
	if (act->place.fresh && !tb_place_is_fresh_loop(h)) {
		tb_hands_give_up(h, "place-missing", act->place.span, "Say which loop it goes into.",
			"the round below did not end with a loop that a stitch closes");
		return false;
	}
	if (act->place.at_slip && tb_place_stand_as_slip(h, footing)) {
		tb_post_check(h, act, stitch, footing->bases[0]);
		return true;
	}
	if (begun && tb_place_stand_as_first(h, footing)) {
		tb_place_skip_before_join(h);
		tb_post_check(h, act, stitch, footing->bases[0]);
		return true;
	}
	/* a ring of chains has a first one as a round has a first stitch, and so has what grows from another piece */
	bool has_first = h->row > 1 || h->start.is_tube || h->start.grown;
	if (!h->cursor.has_last && has_first && h->cursor.due < tb_place_count(h) &&
		(act->place.target != TB_TARGET_SPACE || is_where_yarn_joined(h))) {
		/* "sc in same st as turning ch": where the row begins */
		footing->bases[0] = tb_hands_place(h, h->cursor.due++);
		footing->count = 1;
		footing->rows_below = 1;
		tb_post_check(h, act, stitch, footing->bases[0]);
		return true;
	}
	if (!h->cursor.has_last) {
		tb_hands_give_up(h, "place-missing", act->place.span, "Say which stitch it goes into.",
			"nothing was worked yet in this row, so there is no \"same\" place");
		return false;
	}
	*footing = h->cursor.last;
	footing->behind = TB_NONE;
	footing->flags &= TB_MADE_IN_SPACE;
	/* "sc in same st as last leg": of several legs the last is beside it; a gap has two sides */
	if (stitch != NULL && stitch->takes == 1 && footing->count > 1 && !(footing->flags & TB_MADE_IN_SPACE)) {
		footing->bases[0] = footing->bases[footing->count - 1];
		footing->count = 1;
	}
	tb_place_pass_space(h);
	/* at the beginning of a round the stitch the hook stands in is the next one still */
	if (h->cursor.due < tb_place_count(h) && footing->count == 1 && footing->rows_below == 1 &&
		footing->bases[0] == tb_hands_place(h, h->cursor.due))
		h->cursor.due++;
	if (footing->count > 0)
		tb_post_check(h, act, stitch, footing->bases[0]);
	return true;
}

static bool take_ring(tb_hands *h, const tb_act *act, tb_footing *footing)
{
	const tb_made_row *below = tb_hands_row(h, h->row - 1);
	if (!h->start.is_ring || h->row != 1) {
		tb_hands_give_up(h, "place-missing", act->place.span,
			"Start with \"Ch 4, join with sl st to form a ring\" or a magic ring.",
			"there is no ring to work into");
		return false;
	}
	if (below->count > 0) {
		footing->bases[0] = below->first;
		footing->count = 1;
		footing->rows_below = 1;
		footing->flags = TB_MADE_IN_SPACE;
	}
	return true;
}

static bool take_nth_chain(tb_hands *h, const tb_act *act, tb_footing *footing)
{
	unsigned nth = tb_hands_number(h, &act->place.count, 1);
	guint32 count = tb_place_count(h);
	guint32 standing = h->now.corner.chains + h->now.corner.space;
	if (h->row != h->now.corner.row || h->start.is_ring || h->cursor.has_last || nth <= standing)
		return tb_place_take_own_chain(h, act, nth, footing);
	guint32 place = nth - 1 - standing;
	if (place >= count) {
		tb_hands_give_up(h, "past-end", act->place.span,
			"Start with more ch, or work into an earlier one.",
			"the foundation chain has only %u ch", h->start.chains);
		return false;
	}
	footing->bases[0] = tb_hands_place(h, place);
	footing->count = 1;
	footing->rows_below = 1;
	h->cursor.due = place + 1;
	return true;
}

/* All of a group: into its space, or its middle stitch. */
static void stand_on_group(tb_hands *h, guint32 begin, guint32 end, tb_footing *footing)
{
	guint32 to = end;
	guint32 whole = begin, behind = end;
	/* the turning chain may stand on the first of it */
	if (tb_place_group(h, begin, &whole, &behind))
		begin = whole;
	guint32 middle = tb_place_middle(h, begin, end);
	guint32 base = tb_hands_place(h, middle);
	if (tb_hands_made(h, base)->flags & TB_MADE_CHAIN) {
		base = tb_place_first_of_space(h, middle, begin, end);
		footing->flags = TB_MADE_IN_SPACE;
	}
	footing->bases[footing->count++] = base;
	if (h->cursor.due == to)
		h->cursor.due = tb_place_behind_middle(h, middle, to);
}

/*
 * A cable whose second half picks up fewer than were skipped, "sk 3 dc, …, FPtr around each of 2 skipped sts": who names
 * one, "the first skipped st", leaves the others on purpose.
 */
static void warn_skipped_left(tb_hands *h, const tb_act *act)
{
	const tb_act *next = tb_hands_next_placed(h);
	unsigned left = h->cursor.skipped_count - MIN(h->cursor.skipped_used, h->cursor.skipped_count);
	if (left == 0 || act->place.nth > 0 || tb_hands_number(h, &act->place.count, 1) < 2 ||
		(next != NULL && tb_act_is_work(next) && next->place.in == TB_IN_SKIPPED))
		return;
	tb_hands_tell(h, TB_WARNING, "passed-over", act->place.span, "Work into all of them, or name those that are meant.",
		"%u st%s skipped before this, and %u of them %s left", h->cursor.skipped_count,
		h->cursor.skipped_count == 1 ? " was" : "s were", left, left == 1 ? "is" : "are");
}

static bool take_skipped(
	tb_hands *h, const tb_act *act, const tb_stitch *stitch, unsigned which, tb_footing *footing)
{
	bool through = which > 0 && h->cursor.skipped_used >= h->cursor.skipped_count;
	if (which >= h->cursor.skipped_count || through) {
		tb_hands_give_up(h, "past-end", act->place.span, NULL, "only %u st%s skipped before this",
			h->cursor.skipped_count, h->cursor.skipped_count == 1 ? " was" : "s were");
		return false;
	}
	tb_cursor *c = &h->cursor;
	unsigned many = tb_hands_number(h, &act->place.many, 0);
	if (many > 0 && many != c->skipped_count) {
		tb_hands_give_up(h, "past-end", act->place.span, NULL, "%u st%s skipped before this, not %u", c->skipped_count,
			c->skipped_count == 1 ? " was" : "s were", many);
		return false;
	}
	/* "first skipped st" and "next skipped st" one after the other are not the same one */
	guint32 from = which > 0 || c->skipped_used < c->skipped_count ? c->skipped_used : 0;
	if (which == 0 && act->place.nth > 0 && act->place.nth <= c->skipped_count)
		from = act->place.nth - 1;
	c->skipped_used = from + 1;
	footing->bases[0] = tb_hands_place(h, c->skipped_from + from);
	footing->count = 1;
	footing->rows_below = 1;
	if (which + 1 == tb_hands_number(h, &act->place.count, 1))
		warn_skipped_left(h, act);
	if (c->behind)
		footing->flags |= TB_MADE_BEHIND;
	tb_post_check(h, act, stitch, footing->bases[0]);
	return true;
}

static bool take_below(
	tb_hands *h, const tb_act *act, const tb_stitch *stitch, unsigned which, tb_footing *footing)
{
	if (tb_place_take_gap_of_groups(h, act, footing))
		return true;
	unsigned takes = act->place.posts > 1 ? act->place.posts : stitch->takes;
	if (act->place.marked && h->cloth.marks->len > 0)
		return tb_mark_take(h, act, stitch, takes, footing);
	if (act->place.marked)
		tb_hands_tell(h, TB_WARNING, "place-missing", act->place.span, "Say in which stitch the marker is put, as in “mark the first st”.",
			"no stitch above is said to be marked; the next one is taken for it");
	for (unsigned leg = 0; leg < MIN(takes, TB_MOST_BASES); leg++) {
		guint32 begin, end;
		unsigned taken = which * takes + leg;
		if (leg == 0 && act->place.shared && !(act->place.star && !tb_place_has_last(h))) {
			if (!tb_place_share_last(h, act, footing))
				return false;
			continue;
		}
		if (!take_leg(h, act, stitch, leg == 0 ? which : taken, taken, &begin, &end))
			return false;
		guint32 base = tb_hands_place(h, begin);
		/* "repeat in every loop" where the row below has stitches and no spaces */
		bool loop = act->place.loose && act->place.space_chains == 0 && h->row > 1 && end == begin + 1 &&
			(tb_hands_made(h, base)->flags & TB_MADE_CHAIN) == 0;
		if (act->place.target == TB_TARGET_SPACE && !loop) {
			base = MIN(base, tb_hands_place(h, end - 1));
			footing->flags = TB_MADE_IN_SPACE;
			/* the turning chain is the rest of a loop that is longer than its space */
			if (end - begin < act->place.space_chains && end == h->now.turning_place && !tb_place_goes_on_to_end(h))
				h->cursor.due = end + 1;
		}
		if (act->place.target == TB_TARGET_GROUP) {
			stand_on_group(h, begin, end, footing);
			continue;
		}
		tb_post_check(h, act, stitch, base);
		footing->bases[footing->count++] = base;
	}
	/* a spiral may have come around to its own beginning */
	bool own = footing->bases[0] >= tb_hands_row(h, h->row)->first;
	footing->rows_below = own ? 0 : 1;
	return true;
}

/* "magic ring, 6 sc": there is nothing else to work into. */
static bool is_in_ring(const tb_hands *h, const tb_place *place)
{
	/* "6 sc in the loop": a magic loop */
	bool loop = place->target == TB_TARGET_SPACE && place->loose && place->in == TB_IN_NEXT;
	return h->start.is_ring && h->row == 1 && (place->in == TB_IN_NEXT || place->in == TB_IN_EACH) &&
		(loop || tb_place_is_plain(h, place));
}

/* Into the next picot, as tb_place_take. */
static bool take_picot(tb_hands *h, const tb_act *act, const tb_stitch *stitch, unsigned which, tb_footing *footing)
{
	guint32 due, found = act->place.in == TB_IN_NEXT || act->place.in == TB_IN_EACH ?
		tb_place_find_picot(h, &act->place, &due) : TB_NONE;
	if (found == TB_NONE || stitch->takes > 1) {
		tb_place_tell_none(h, act, stitch, which);
		return false;
	}
	/* the stitch it hangs on is passed with it */
	if (act->place.in == TB_IN_NEXT && due > h->cursor.due)
		tb_place_warn_passed(h, act, due - 1);
	guint32 end = due < tb_place_count(h) ? tb_place_picot_end(h, &act->place, due) : due;
	h->cursor.due = end;
	h->cursor.picot = found + 1;
	footing->bases[0] = found;
	footing->count = 1;
	footing->rows_below = 1;
	footing->flags = end > due ? TB_MADE_IN_SPACE : 0;
	return true;
}

bool tb_place_take(
	tb_hands *h, const tb_act *act, const tb_stitch *stitch, unsigned which, tb_footing *footing)
{
	const tb_place *place = &act->place;
	*footing = (tb_footing){.behind = TB_NONE};
	if (place->on_made)
		return tb_place_take_made(h, act, footing);
	/* a picot closes on its own chains wherever it stands */
	if (h->now.group != NULL && (place->in != TB_IN_NTH_CHAIN || stitch != h->working->slip)) {
		*footing = *h->now.group;
		/* "(sc in BLO, hdc in FLO) in next st" */
		if (place->loops != TB_LOOPS_BOTH)
			footing->flags = (guint8)((footing->flags & ~(TB_MADE_FRONT_LOOP | TB_MADE_BACK_LOOP | TB_MADE_THIRD_LOOP)) | tb_place_loops(h, place));
		return true;
	}
	if (!tb_hands_may_go_on(h, act->span))
		return false;
	h->cursor.odd += place->singular && which == 0 && tb_hands_number(h, &place->count, 1) > 1 ? 2 : 0;
	/* the corners of the piece are in none of its rows */
	if (tb_edge_is_corner(h, act))
		return true;
	if (h->cursor.other_edge && place->in != TB_IN_EDGE && place->in != TB_IN_SAME) {
		tb_hands_give_up(h, "not-worked", act->span, "Say how many stitches are worked along it.",
			"which stitch of this edge is meant, no row shows");
		return false;
	}
	if (tb_on_row_tell_missed(h, place))
		return false;
	bool taken;
	if (place->in == TB_IN_SAME || tb_place_stands_in(h, place) || tb_place_is_begun_space(h, place))
		taken = take_same(h, act, stitch, footing);
	else if (place->in == TB_IN_RING || is_in_ring(h, place))
		taken = take_ring(h, act, footing);
	else if (place->in == TB_IN_NTH_CHAIN)
		taken = take_nth_chain(h, act, footing);
	else if (tb_place_is_gap(h, place))
		taken = tb_place_take_gap(h, act, stitch, which, footing);
	else if (tb_place_is_picot(place))
		taken = take_picot(h, act, stitch, which, footing);
	else if (place->in == TB_IN_PART)
		taken = tb_place_take_part(h, act, stitch, which, footing);
	else if (place->in == TB_IN_SKIPPED && !h->now.on_missed)
		taken = take_skipped(h, act, stitch, which, footing);
	else if (tb_place_is_deep(h, place))
		taken = take_deep(h, act, stitch, which, footing);
	else
		taken = take_below(h, act, stitch, which, footing);
	if (!taken)
		return false;
	/* what was said of the row's stitches is not said of its spaces, which have no such loops */
	if (!(footing->flags & TB_MADE_IN_SPACE) || place->loops != TB_LOOPS_BOTH)
		footing->flags |= (guint8)tb_place_loops(h, place);
	/* "same loop" is the one in the row below, whatever was worked on a chain of this row since */
	if (place->in == TB_IN_NTH_CHAIN && footing->rows_below == 0 && h->cursor.has_last)
		return true;
	h->cursor.last = *footing;
	h->cursor.has_last = true;
	h->cursor.in_space = (footing->flags & TB_MADE_IN_SPACE) != 0;
	return true;
}
