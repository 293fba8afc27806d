/*
 * Stitches, and how many places they go into: the next ones, each one across, the kinds of place
 * that are named. Where a stitch goes exactly is the business of place.c.
 */
#include "fabric/hands.h"

/* One stitch in each of the next COUNT places, no questions asked. */
static void work_plain(tb_hands *h, const tb_act *act, unsigned count)
{
	tb_footing footing = {.behind = TB_NONE, .count = 1, .rows_below = 1};
	unsigned flags = TB_MADE_COUNTED;
	if (act->place.loops == TB_LOOPS_FRONT)
		flags |= TB_MADE_FRONT_LOOP;
	if (act->place.loops == TB_LOOPS_BACK)
		flags |= TB_MADE_BACK_LOOP;
	for (unsigned i = 0; i < count; i++) {
		footing.bases[0] = tb_hands_place(h, h->cursor.due);
		if (tb_hands_make(h, act->stitch, &footing, flags, act->span) == TB_NONE)
			return;
		h->cursor.due++;
	}
	if (count > 0) {
		h->cursor.last = footing;
		h->cursor.has_last = true;
		h->cursor.in_space = false;
	}
}

/* EACH stitches in one place; only the first has the place's own stitch behind it. */
static bool work_place(tb_hands *h, const tb_act *act, unsigned which, unsigned each)
{
	tb_footing footing;
	if (!tb_place_take(h, act, act->stitch, which, &footing))
		return false;
	if (tb_own_picot(h, act, &footing))
		return true;
	for (unsigned i = 0; i < each; i++) {
		if (tb_hands_make(h, act->stitch, &footing, TB_MADE_COUNTED, act->span) == TB_NONE)
			return false;
		footing.behind = TB_NONE;
	}
	return true;
}

/* "each dc and each ch-1 sp to corner": the corner is the first space that is none of those. */
static bool find_up_to(tb_hands *h, const tb_place *place, guint32 *limit)
{
	guint32 due = h->cursor.due;
	bool found = tb_place_find(h, place->up_to, limit);
	while (found && place->also != NULL && tb_place_matches(h, place->also, *limit)) {
		h->cursor.due = *limit + 1;
		found = tb_place_find(h, place->up_to, limit);
	}
	h->cursor.due = due;
	return found;
}

bool tb_acts_stop_before(
	tb_hands *h, const tb_act *act, unsigned last, unsigned after, guint32 *limit)
{
	guint32 count = tb_place_count(h);
	if (last == 0)
		last = MIN(MAX(after, h->spare), count);
	if (last > count || count - last < h->cursor.due) {
		guint32 left = count - MIN(h->cursor.due, count);
		tb_hands_give_up(h, "past-end", act->span, NULL,
			"the last %u st%s reached already; %u %s left", last, last == 1 ? " is" : "s are", left,
			left == 1 ? "is" : "are");
		return false;
	}
	*limit = count - last;
	return true;
}

bool tb_acts_find_limit(tb_hands *h, const tb_act *act, unsigned after, guint32 *limit)
{
	if (act->place.up_to != NULL) {
		if (find_up_to(h, &act->place, limit))
			return true;
		g_autofree char *words = tb_place_words(h, act->place.up_to, 1);
		tb_hands_give_up(h,
			act->place.up_to->target == TB_TARGET_SPACE ? "space-missing" : "place-missing",
			act->span, "Look at the row below for it.", "there is no %s left to work up to",
			words + strcspn(words, " ") + 1);
		return false;
	}
	unsigned keep = tb_hands_number(h, &act->place.count, 0);
	return tb_acts_stop_before(h, act, keep, after, limit);
}

static void tell_together_over(tb_hands *h, const tb_act *act, unsigned left)
{
	g_autofree char *hint =
		g_strdup_printf("Work the last %u st%s in some other way.", left, left == 1 ? "" : "s");
	tb_hands_tell(h, TB_ERROR, "repeat-leftover", act->span, hint,
		"%s takes %u sts each time and leaves %u st%s over", tb_hands_term(h, act->stitch),
		act->stitch->takes, left, left == 1 ? "" : "s");
	h->cursor.due += left;
}

/* Each kind of place in the way it is said, as they come. */
static void work_kinds(tb_hands *h, const tb_act *act, guint32 limit)
{
	guint32 at = h->cursor.due;
	while (at < limit && !h->cursor.over) {
		const tb_act *kind = act;
		while (kind != NULL && !tb_place_matches(h, &kind->place, at))
			kind = kind->other;
		if (kind != NULL && !work_place(h, kind, 0, tb_hands_number(h, &kind->each, 1)))
			return;
		at = MAX(at + 1, h->cursor.due);
	}
}

static void work_each(tb_hands *h, const tb_act *act, unsigned each, unsigned after)
{
	const tb_place *place = &act->place;
	guint32 limit;
	if (!tb_acts_find_limit(h, act, after, &limit))
		return;
	bool deep = place->rows_below > 1;
	bool plain = deep || tb_place_is_plain(h, place);
	unsigned takes = deep ? 1 : act->stitch->takes;
	if (plain && !deep && takes == 1 && each == 1 && act->stitch->post == TB_POST_NONE) {
		work_plain(h, act, limit - h->cursor.due);
		return;
	}
	if (act->other != NULL) {
		work_kinds(h, act, limit);
		return;
	}
	unsigned which = 0;
	while (!h->cursor.over && (plain ? limit - MIN(h->cursor.due, limit) >= takes
									 : tb_place_is_left(h, place, limit))) {
		guint32 due = h->cursor.due;
		if (!work_place(h, act, which++, each) || h->cursor.due == due)
			return;
	}
	if (!plain && which == 0 && place->up_to == NULL && h->cursor.due < limit &&
		!tb_place_is_left(h, place, tb_place_count(h)))
		work_place(h, act, 0, each); /* there is none: that is told */
	else if (plain && h->cursor.due < limit && !h->cursor.over)
		tell_together_over(h, act, limit - h->cursor.due);
}

static void work_next(tb_hands *h, const tb_act *act, unsigned each)
{
	unsigned count = tb_hands_number(h, &act->place.count, 1);
	guint32 left = tb_place_count(h) - MIN(h->cursor.due, tb_place_count(h));
	if (act->place.middle || act->place.in == TB_IN_NTH_STITCH || act->place.in == TB_IN_NTH_CHAIN)
		count = 1;
	if (act->place.in == TB_IN_NEXT && tb_place_is_plain(h, &act->place) && each == 1 &&
		act->stitch->takes == 1 && act->stitch->post == TB_POST_NONE && count <= left) {
		work_plain(h, act, count);
		return;
	}
	for (unsigned i = 0; i < count && !h->cursor.over; i++) {
		if (!work_place(h, act, i, each))
			return;
	}
}

void tb_acts_stitch(tb_hands *h, const tb_act *act, unsigned after)
{
	unsigned each = tb_hands_number(h, &act->each, 1);
	if (act->stitch == NULL || each == 0 || tb_own_work(h, act, each))
		return;
	if (tb_own_closes(h, act)) {
		tb_acts_join(h, act);
		return;
	}
	if (h->group != NULL) {
		unsigned count = act->place.in == TB_IN_NEXT || act->place.in == TB_IN_SAME
							 ? tb_hands_number(h, &act->place.count, 1)
							 : 1;
		for (unsigned i = 0; i < count && !h->cursor.over; i++)
			work_place(h, act, i, each);
	} else if (act->place.in == TB_IN_EACH) {
		work_each(h, act, each, after);
	} else {
		work_next(h, act, each);
	}
}
