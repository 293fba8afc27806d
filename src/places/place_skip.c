/* Places that are skipped. */
#include "places/on_row.h"
#include "places/place.h"

/* Picots and the like take no place, so that skipping them is what happens anyway. */
static bool takes_no_place(const tb_hands *h, const tb_place *place)
{
	if (place->target == TB_TARGET_GROUP && place->own != NULL && place->own->whole)
		return !tb_own_is_knots(place->own);
	return place->target == TB_TARGET_NAMED && place->named->takes == 0;
}

/* Whether the stitch at place AT has as many before as behind it in its row. */
static bool is_in_middle(const tb_hands *h, guint32 at)
{
	guint32 made = tb_hands_place(h, at), before = 0, behind = 0;
	const tb_made_row *row = tb_hands_row(h, tb_hands_made(h, made)->row);
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		bool counted = (tb_hands_made(h, i)->flags & TB_MADE_COUNTED) != 0;
		before += counted && i < made;
		behind += counted && i > made;
	}
	tb_hands_look(h, row->count);
	return before == behind;
}

/* "sk last st, dc in top of tch": the turning chain is not among those that are last. */
static bool goes_on_in_turning(const tb_hands *h)
{
	return h->now.next_acts.count > 0 && h->now.next_acts.acts[0].kind == TB_ACT_WORK &&
		h->now.next_acts.acts[0].place.target == TB_TARGET_TURNING_CHAIN;
}

/*
 * "Skip remaining 3 dc of shell": where the group ends that the last stitch went into; TB_NONE where it went into
 * no such group, or where that has others left.
 */
static guint32 rest_of_group(const tb_hands *h, const tb_place *place)
{
	const tb_cursor *c = &h->cursor;
	guint32 begin, end;
	if (c->due == 0 || !c->has_last || c->last.count == 0 || !tb_place_group(h, c->due - 1, &begin, &end) ||
		!tb_place_matches(h, place->of, begin))
		return TB_NONE;
	unsigned said = tb_hands_number(h, &place->count, 0), left = 0;
	bool behind = false;
	for (guint32 i = begin; i < end; i++) {
		left += (behind || i >= c->due) && tb_place_matches(h, place, i);
		behind = behind || tb_hands_place(h, i) == c->last.bases[0];
	}
	return left > 0 && (said == 0 || said == left) ? end : TB_NONE;
}

/*
 * "sk sleeve sts, dc in next ch-1 sp": as far as the space that is worked in next, or is skipped itself. Where
 * nothing is said of the spaces on both sides of the part, they are skipped with it.
 */
static guint32 end_of_part(const tb_hands *h, guint32 from)
{
	const tb_act *next = tb_hands_next_placed(h);
	guint32 to, end;
	bool said = next != NULL && (tb_act_is_work(next) || next->kind == TB_ACT_SKIP) && next->place.target == TB_TARGET_SPACE;
	if (said)
		return tb_place_find_from(h, &next->place, from, &to, &end) ? to : TB_NONE;
	if (next == NULL || !tb_place_section_end(h, from, &to, &end))
		return TB_NONE;
	if (to == from && !tb_place_section_end(h, end, &to, &end))
		return TB_NONE;
	return end;
}

/* How many stitches lie from place FROM to TO, chains aside. */
static unsigned stitches_between(const tb_hands *h, guint32 from, guint32 to)
{
	unsigned many = 0;
	for (guint32 at = from; at < to; at++)
		many += (tb_hands_made(h, tb_hands_place(h, at))->flags & TB_MADE_CHAIN) == 0;
	return many;
}

/* "Skip 9 sts and 2 ch-1 sps for sleeve": so many of both, however they stand; TB_NONE where they do not end together. */
static guint32 end_of_both(const tb_hands *h, const tb_place *place, guint32 from)
{
	unsigned stitches = tb_hands_number(h, &place->count, 1), spaces = tb_hands_number(h, &place->also->count, 1);
	guint32 at = from, begin, end;
	while (at < tb_place_count(h) && stitches + spaces > 0) {
		bool space = tb_place_find_from(h, place->also, at, &begin, &end) && begin == at;
		if (space ? spaces == 0 : stitches == 0 || !tb_place_matches(h, place, at))
			return TB_NONE;
		spaces -= space;
		stitches -= !space;
		at = space ? end : at + 1;
	}
	return stitches + spaces == 0 ? at : TB_NONE;
}

/*
 * "Skip the 9 sts of the sleeve": where the part begins here, it has to have so many, with the spaces on both
 * sides or without; else as many as are said.
 */
static guint32 end_of_named(const tb_hands *h, const tb_place *place, guint32 from)
{
	unsigned said = tb_hands_number(h, &place->count, 0);
	guint32 to = end_of_part(h, from), begin, end;
	if (said == 0 || (to != TB_NONE && (said == stitches_between(h, from, to) || said == to - from)))
		return to;
	bool begins = tb_place_section_end(h, from, &begin, &end) && begin == from;
	return begins || said > tb_place_count(h) - MIN(from, tb_place_count(h)) ? TB_NONE : from + said;
}

/*
 * "Sk next ch-2 sp" passes over the stitch beside it. Not over other spaces with what stands between them; and of
 * "sk next ch-2 sp, next 6 sc and next ch-2 sp" all that is skipped is said.
 */
static void tell_beyond(tb_hands *h, const tb_act *act, guint32 from, guint32 to)
{
	static const tb_place space = {.in = TB_IN_NEXT, .target = TB_TARGET_SPACE, .rows_below = 1};
	const tb_cursor *c = &h->cursor;
	guint32 begin, end;
	unsigned left = 0;
	for (guint32 at = from; at < to; at++)
		left += tb_place_has_post(h, tb_hands_place(h, at)) && at != h->now.turning_place;
	const tb_act *before = c->skipped_by;
	bool listed = from == c->due && before != NULL && before + 1 == act && c->skipped_from + c->skipped_count == c->due;
	if (left == 0 || (!listed && !(tb_place_find_from(h, &space, from, &begin, &end) && end <= to)))
		return;
	g_autofree char *words = tb_place_words(h, &act->place, 1);
	tb_hands_tell(h, TB_ERROR, "unworked", act->span, "Work into them, or say how many to skip.",
		"%u st%s left before the next %s", left, left == 1 ? " is" : "s are", words + 2);
}

/*
 * "Skip center 22 sts", where one side of a neck is worked and the other begins: as many lie on both sides of them, but for
 * an odd one. A neck may be meant to lie aside, so that is a warning.
 */
static void tell_off_center(tb_hands *h, const tb_act *act, guint32 from, guint32 to)
{
	guint32 there = tb_place_count(h), all = tb_hands_row(h, tb_hands_made(h, tb_hands_place(h, from))->row)->stitches;
	guint32 before = all > there ? all - there + from : 0, after = there - to;
	if (before > 0 && after > 0 && !h->cursor.has_last && h->now.repeating == 0 && MAX(before, after) > MIN(before, after) + 1)
		tb_hands_tell(h, TB_WARNING, "off-center", act->span, "Say how many are skipped, as in “skip next 22 sts”.",
			"%u sts of the row lie before these and %u behind them, so they are not in its middle", before, after);
}

void tb_place_skip(tb_hands *h, const tb_act *act)
{
	tb_place_warn_sames(h, &act->place);
	if (tb_place_is_picot(&act->place))
		tb_place_skip_picots(h, &act->place);
	if (takes_no_place(h, &act->place) || tb_on_row_tell_missed(h, &act->place))
		return;
	const tb_place *place = &act->place;
	tb_cursor *c = &h->cursor;
	unsigned count = tb_hands_number(h, &place->count, 1);
	guint32 from = place->in == TB_IN_FIRST ? c->first : c->due;
	guint32 to = from, whole;
	bool rest = place->of != NULL && place->in == TB_IN_LAST;
	if (rest) {
		to = rest_of_group(h, place);
	} else if (place->of != NULL && !tb_place_is_within(h, place)) {
		if (!tb_place_find_from(h, place->of, from, &from, &whole)) {
			tb_place_tell_none(h, act, NULL, 0);
			return;
		}
		/* the turning chain before it is the first of its stitches */
		if (from > c->due && tb_hands_made(h, tb_hands_place(h, from - 1))->flags & TB_MADE_TURNING)
			from--;
		to = from;
	}
	if (rest) {
		from = MIN(c->due, to);
	} else if (place->parted) {
		to = end_of_named(h, place, from);
	} else if (place->also != NULL) {
		to = end_of_both(h, place, from);
	} else if (place->up_to != NULL) {
		/* at such a place already, "skip to next ch-1 sp" means the one after it */
		if (!tb_place_find_up_to(h, place, &to) || (to == c->due && place->up_to->target == TB_TARGET_SPACE &&
			(!tb_place_find_from(h, place->up_to, to, &from, &whole) || !tb_place_find_from(h, place->up_to, whole, &to, &whole))))
			to = TB_NONE;
		from = c->due;
		unsigned said = tb_hands_number(h, &place->count, 0);
		if (said > 0 && to != TB_NONE && said != stitches_between(h, from, to))
			to = TB_NONE;
	} else if (place->in == TB_IN_LAST && tb_place_is_plain(h, place)) {
		to = tb_place_count(h) - (tb_place_count(h) > 0 && goes_on_in_turning(h));
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
			bool found = tb_place_find_from(h, place, to, &begin, &end);
			if (found && place->target == TB_TARGET_SPACE && place->in == TB_IN_NEXT)
				tell_beyond(h, act, to, begin);
			to = found ? end : TB_NONE;
		}
		guint32 begin, end;
		/* "sk last cl, sc in top of ch-3" */
		if (to != TB_NONE && place->in == TB_IN_LAST && tb_place_find_from(h, place, to, &begin, &end) &&
			begin + goes_on_in_turning(h) < tb_place_count(h) &&
			(tb_hands_made(h, tb_hands_place(h, begin))->flags & TB_MADE_TURNING) == 0)
			tb_hands_tell(h, TB_ERROR, "unworked", act->span, NULL, "this is not the last of them");
	}
	if (to == TB_NONE) {
		tb_place_tell_none(h, act, NULL, 0);
		return;
	}
	if (place->central && to == from + 1 && !is_in_middle(h, from))
		tb_hands_tell(h, TB_ERROR, "passed-over", act->span, "Say how many are skipped, as in “skip next 3 sts”.",
			"the st that comes next is not the one in the middle of its row");
	if (place->center_run && to > from)
		tell_off_center(h, act, from, to);
	c->skipped_by = act;
	c->skipped_from = from;
	c->skipped_count = to - from;
	c->skipped_used = 0;
	c->behind = false;
	c->due = MAX(c->due, to);
}
