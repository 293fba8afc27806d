/*
 * Where the hook goes in.
 *
 * The tops of the row below lie in one list, in the order they come to the hook; `due` is the next
 * of them. Naming a space, a chain or a kind of stitch passes over what stands before it, as the
 * trade does ("V-st in each ch-1 sp"); "next st" passes over nothing.
 * place_find.c finds places, place_tell.c says what is wrong with them.
 */
#include "fabric/hands.h"

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
	if (place->in == TB_IN_FIRST && which == 0)
		c->due = plain ? c->due : c->first;
	if (place->in == TB_IN_FIRST && plain) {
		*begin = c->first + which;
		*end = MAX(*begin + 1, c->due);
		found = *begin < count;
	} else if (place->in == TB_IN_LAST && place->target != TB_TARGET_TURNING_CHAIN) {
		/* The first of them is counted back from the end, the others stand beside it. */
		unsigned back = MAX(said, 1) * (stitch != NULL ? MAX(stitch->takes, 1) : 1);
		found = which == 0 ? tb_place_find_back(h, place, back, count, begin, end)
						   : tb_place_find_from(h, place, c->due, begin, end);
		if (found && plain && which == 0 && *begin > c->due && !c->in_space)
			tb_place_tell_passed(h, act, *begin);
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
	} else {
		found = tb_place_find_from(h, place, c->due, begin, end);
		if (found && place->target == TB_TARGET_TURNING_CHAIN && *begin > c->due && !c->in_space)
			tb_place_tell_passed(h, act, *begin);
		else if (found && place->in == TB_IN_NEXT)
			tb_place_warn_passed(h, act, *begin);
	}
	if (!found) {
		tb_place_tell_none(h, act, stitch, taken);
		return false;
	}
	c->due = *end;
	return true;
}

static void check_post(tb_hands *h, const tb_act *act, const tb_stitch *stitch, guint32 base)
{
	if (stitch->post != TB_POST_NONE && !tb_place_has_post(h, base)) {
		bool chain = tb_hands_made(h, base)->flags & TB_MADE_CHAIN;
		tb_hands_tell(h, TB_ERROR, "post-nothing", act->span,
			"Work it around a stitch with a post, such as sc or dc.",
			"%s is to go around %s, which has no post", tb_hands_term(h, stitch),
			chain ? "a chain" : "a slip stitch");
	}
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

static bool take_same(tb_hands *h, const tb_act *act, const tb_stitch *stitch, tb_footing *footing)
{
	if (!h->cursor.has_last) {
		tb_hands_give_up(h, "place-missing", act->place.span, "Say which stitch it goes into.",
			"nothing was worked yet in this row, so there is no \"same\" place");
		return false;
	}
	*footing = h->cursor.last;
	footing->behind = TB_NONE;
	footing->flags &= TB_MADE_IN_SPACE;
	/* at the beginning of a round the stitch the hook stands in is the next one still */
	if (h->cursor.due < tb_place_count(h) && footing->count == 1 && footing->rows_below == 1 &&
		footing->bases[0] == tb_hands_place(h, h->cursor.due))
		h->cursor.due++;
	if (footing->count > 0)
		check_post(h, act, stitch, footing->bases[0]);
	return true;
}

static bool take_ring(tb_hands *h, const tb_act *act, tb_footing *footing)
{
	const tb_made_row *below = tb_hands_row(h, h->row - 1);
	if (!h->is_ring || h->row != 1) {
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

/* "sl st in 3rd ch from hook" in the middle of a row: the chains just made, a picot. */
static bool take_own_chain(tb_hands *h, const tb_act *act, unsigned nth, tb_footing *footing)
{
	guint32 first = tb_hands_row(h, h->row)->first;
	guint32 last = h->made->len;
	bool there = nth > 0 && last - first >= nth;
	for (unsigned i = 1; there && i <= nth; i++)
		there = (tb_hands_made(h, last - i)->flags & TB_MADE_CHAIN) != 0;
	if (!there) {
		tb_hands_give_up(h, "place-missing", act->place.span,
			"Chains are counted from the hook, the loop on it not among them.",
			"there are not %u ch in front of the hook here", nth);
		return false;
	}
	footing->bases[0] = last - nth;
	footing->count = 1;
	footing->rows_below = 0;
	return true;
}

static bool take_nth_chain(tb_hands *h, const tb_act *act, tb_footing *footing)
{
	unsigned nth = tb_hands_number(h, &act->place.count, 1);
	guint32 count = tb_place_count(h);
	guint32 standing = h->corner.chains + h->corner.space;
	if (h->row != h->corner.row || h->is_ring || h->cursor.has_last || nth <= standing)
		return take_own_chain(h, act, nth, footing);
	guint32 place = nth - 1 - standing;
	if (place >= count) {
		tb_hands_give_up(h, "past-end", act->place.span,
			"Start with more ch, or work into an earlier one.",
			"the foundation chain has only %u ch", h->start_chains);
		return false;
	}
	footing->bases[0] = tb_hands_place(h, place);
	footing->count = 1;
	footing->rows_below = 1;
	h->cursor.due = place + 1;
	return true;
}

static bool take_between(
	tb_hands *h, const tb_act *act, const tb_stitch *stitch, unsigned which, tb_footing *footing)
{
	tb_cursor *c = &h->cursor;
	if (c->due + 1 >= tb_place_count(h)) {
		tb_place_tell_none(h, act, stitch, which);
		return false;
	}
	footing->bases[0] = tb_hands_place(h, c->due);
	footing->bases[1] = tb_hands_place(h, c->due + 1);
	footing->count = 2;
	footing->rows_below = 1;
	footing->flags = TB_MADE_IN_SPACE;
	c->due++;
	return true;
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
	/* "first skipped st" and "next skipped st" one after the other are not the same one */
	tb_cursor *c = &h->cursor;
	guint32 from = which > 0 || c->skipped_used < c->skipped_count ? c->skipped_used : 0;
	c->skipped_used = from + 1;
	footing->bases[0] = tb_hands_place(h, c->skipped_from + from);
	footing->count = 1;
	footing->rows_below = 1;
	if (c->behind)
		footing->flags |= TB_MADE_BEHIND;
	check_post(h, act, stitch, footing->bases[0]);
	return true;
}

static bool take_below(
	tb_hands *h, const tb_act *act, const tb_stitch *stitch, unsigned which, tb_footing *footing)
{
	unsigned takes = act->place.posts > 1 ? act->place.posts : stitch->takes;
	for (unsigned leg = 0; leg < MIN(takes, TB_MOST_BASES); leg++) {
		guint32 begin, end;
		unsigned taken = which * takes + leg;
		if (!take_leg(h, act, stitch, leg == 0 ? which : taken, taken, &begin, &end))
			return false;
		guint32 base = tb_hands_place(h, begin);
		if (act->place.target == TB_TARGET_SPACE) {
			base = MIN(base, tb_hands_place(h, end - 1));
			footing->flags = TB_MADE_IN_SPACE;
		}
		check_post(h, act, stitch, base);
		footing->bases[footing->count++] = base;
	}
	footing->rows_below = 1;
	return true;
}

bool tb_place_take(
	tb_hands *h, const tb_act *act, const tb_stitch *stitch, unsigned which, tb_footing *footing)
{
	const tb_place *place = &act->place;
	*footing = (tb_footing){.behind = TB_NONE};
	if (h->group != NULL) {
		*footing = *h->group;
		return true;
	}
	if (!tb_hands_may_go_on(h, act->span))
		return false;
	bool taken;
	if (place->in == TB_IN_SAME)
		taken = take_same(h, act, stitch, footing);
	else if (place->in == TB_IN_RING)
		taken = take_ring(h, act, footing);
	else if (place->in == TB_IN_NTH_CHAIN)
		taken = take_nth_chain(h, act, footing);
	else if (place->in == TB_IN_BETWEEN)
		taken = take_between(h, act, stitch, which, footing);
	else if (place->in == TB_IN_SKIPPED)
		taken = take_skipped(h, act, stitch, which, footing);
	else if (place->rows_below > 1)
		taken = take_deep(h, act, stitch, which, footing);
	else
		taken = take_below(h, act, stitch, which, footing);
	if (!taken)
		return false;
	if (place->loops == TB_LOOPS_FRONT)
		footing->flags |= TB_MADE_FRONT_LOOP;
	if (place->loops == TB_LOOPS_BACK)
		footing->flags |= TB_MADE_BACK_LOOP;
	h->cursor.last = *footing;
	h->cursor.has_last = true;
	h->cursor.in_space = (footing->flags & TB_MADE_IN_SPACE) != 0;
	return true;
}

void tb_place_skip(tb_hands *h, const tb_act *act)
{
	const tb_place *place = &act->place;
	tb_cursor *c = &h->cursor;
	unsigned count = tb_hands_number(h, &place->count, 1);
	guint32 from = place->in == TB_IN_FIRST ? c->first : c->due;
	guint32 to = from;
	if (place->in == TB_IN_LAST) {
		to = tb_place_count(h);
		from = to - MIN(to, count);
		if (from != c->due)
			tb_hands_tell(h, TB_ERROR, from > c->due ? "unworked" : "past-end", act->span, NULL,
				"%u st%s left here, not %u", to - MIN(c->due, to),
				to - c->due == 1 ? " is" : "s are", count);
	} else if (tb_place_is_plain(h, place)) {
		to = count > tb_place_count(h) - MIN(from, tb_place_count(h)) ? TB_NONE : from + count;
	} else {
		for (unsigned i = 0; i < count && to != TB_NONE; i++) {
			guint32 begin, end;
			to = tb_place_find_from(h, place, to, &begin, &end) ? end : TB_NONE;
		}
	}
	if (to == TB_NONE) {
		tb_place_tell_none(h, act, NULL, 0);
		return;
	}
	c->skipped_from = from;
	c->skipped_count = to - from;
	c->skipped_used = 0;
	c->behind = false;
	c->due = MAX(c->due, to);
}
