/*
 * Repeats inside a row.
 *
 * Where the places a pass takes can be told beforehand, it is arithmetic: so many passes, so many
 * stitches over. Where they depend on what is found below ("sc in next ch-1 sp"), a pass is worked
 * on trial and taken back when it does not fit.
 */
#include "fabric/hands.h"

#define UNKNOWN ((gint64)-1)

/* No row has more places than this; sums stop growing here. */
#define CEILING ((gint64)TB_LIMIT_NUMBER * 4)

static gint64 need_of(const tb_hands *h, const tb_act *act, bool least, unsigned depth);

static gint64 need_of_all(
	const tb_hands *h, const tb_act *acts, unsigned count, bool least, unsigned depth)
{
	gint64 sum = 0;
	for (unsigned i = 0; i < count && acts[i].kind != TB_ACT_OTHER_SIDE; i++) {
		gint64 need = need_of(h, &acts[i], least, depth);
		if (need == UNKNOWN)
			return UNKNOWN;
		sum = MIN(sum + need, CEILING);
	}
	return sum;
}

static gint64 need_of_place(const tb_hands *h, const tb_act *act, bool least, unsigned takes)
{
	const tb_place *place = &act->place;
	gint64 unknown = least ? 0 : UNKNOWN;
	gint64 count = tb_hands_number(h, &place->count, 1);
	bool plain = tb_place_is_plain(h, place);
	bool some = place->in == TB_IN_NEXT || place->in == TB_IN_FIRST || place->in == TB_IN_LAST;
	if (place->rows_below > 1 && some)
		return act->do_not_skip_behind ? 0 : place->middle ? 1 : count;
	switch (place->in) {
	case TB_IN_NEXT:
		return plain || (least && !place->middle) ? MIN(count * takes, CEILING) : unknown;
	case TB_IN_LAST:
		return least ? MIN(count * takes, CEILING) : UNKNOWN;
	case TB_IN_BETWEEN:
		return count;
	case TB_IN_NTH_STITCH:
		return place->rows_below > 1 ? !act->do_not_skip_behind : unknown;
	case TB_IN_SAME:
	case TB_IN_RING:
	case TB_IN_SKIPPED:
		return 0;
	case TB_IN_FIRST:
	case TB_IN_EACH:
	case TB_IN_NTH_CHAIN:
		break;
	}
	return unknown;
}

/* "sc in each st around, sl st in next st": the slip stitch that ends a round closes it. */
static bool ends_round(const tb_hands *h, const tb_act *act)
{
	const tb_acts *acts = &h->sentence->acts;
	if (!h->sentence->is_round || act->stitch != h->working->slip || act < acts->acts ||
		act >= acts->acts + acts->count)
		return false;
	for (const tb_act *next = act + 1; next < acts->acts + acts->count; next++) {
		if (next->kind != TB_ACT_FASTEN_OFF && next->kind != TB_ACT_TURN &&
			next->kind != TB_ACT_DO_NOT_JOIN)
			return false;
	}
	return true;
}

/* The places one act takes; with LEAST, what is not known counts as none. */
static gint64 need_of(const tb_hands *h, const tb_act *act, bool least, unsigned depth)
{
	gint64 unknown = least ? 0 : UNKNOWN;
	if (depth > TB_LIMIT_NESTING + 2)
		return unknown;
	switch (act->kind) {
	case TB_ACT_WORK:
		if (act->stitch == NULL || tb_hands_number(h, &act->each, 1) == 0 ||
			act->stitch->foot == TB_FOOT_CHAIN || act->stitch->takes == 0 ||
			(least && ends_round(h, act)))
			return 0;
		return need_of_place(
			h, act, least, act->place.posts > 1 ? act->place.posts : act->stitch->takes);
	case TB_ACT_SKIP:
		if (act->place.in == TB_IN_NEXT && tb_place_is_plain(h, &act->place))
			return tb_hands_number(h, &act->place.count, 1);
		return act->place.in == TB_IN_LAST && least ? tb_hands_number(h, &act->place.count, 1)
													: unknown;
	case TB_ACT_GROUP:
		return need_of_place(h, act, least, 1);
	case TB_ACT_REPEAT: {
		if (act->until != TB_UNTIL_TIMES)
			return unknown;
		gint64 body = need_of_all(h, act->body.acts, act->body.count, least, depth + 1);
		gint64 times = tb_hands_number(h, &act->count, 1);
		if (body == UNKNOWN || act->body_last > 0)
			return unknown;
		return MIN(body * times, CEILING);
	}
	case TB_ACT_ONLY:
		return act->sizes >> h->size & 1
				   ? need_of_all(h, act->body.acts, act->body.count, least, depth + 1)
				   : 0;
	case TB_ACT_LEAVE:
		return least ? tb_hands_number(h, &act->count, 0) : UNKNOWN;
	case TB_ACT_SKIP_BEHIND:
	case TB_ACT_CHAIN:
	case TB_ACT_TURN:
	case TB_ACT_JOIN:
	case TB_ACT_DO_NOT_JOIN:
	case TB_ACT_FASTEN_OFF:
	case TB_ACT_JOIN_YARN:
	case TB_ACT_RING:
	case TB_ACT_IN_FRONT:
	case TB_ACT_BEHIND:
	case TB_ACT_OTHER_SIDE:
		break;
	}
	return 0;
}

gint64 tb_repeat_need(const tb_hands *h, const tb_act *acts, unsigned count)
{
	return need_of_all(h, acts, count, false, 0);
}

unsigned tb_repeat_least(const tb_hands *h, const tb_act *acts, unsigned count)
{
	return (unsigned)need_of_all(h, acts, count, true, 0);
}

/* The acts of a pass: all of the body, or up to "ending at **" the last time. */
static tb_acts pass_of(const tb_act *act, bool last)
{
	tb_acts body = act->body;
	if (last && act->body_last > 0 && act->body_last < body.count)
		body.count = act->body_last;
	return body;
}

/* Works a pass; false when it took no place and made nothing, so that it would never end. */
static bool work_pass(tb_hands *h, const tb_act *act, bool last)
{
	guint32 due = h->cursor.due, made = h->made->len;
	tb_acts body = pass_of(act, last);
	tb_acts_work(h, &body, 0);
	return h->cursor.due > due || h->made->len > made;
}

static void tell_endless(tb_hands *h, const tb_act *act)
{
	tb_hands_give_up(h, "repeat-endless", act->span, "Say how many times it is worked.",
		"this repeat takes no stitch of the row below, so it never comes to the end");
}

/* The stitches that would come out, and the chain to start with when every row has as many. */
static char *leftover_hint(
	tb_hands *h, gint64 before, gint64 times, gint64 need, gint64 behind)
{
	gint64 there = tb_place_count(h), fits = before + times * need + behind;
	GString *hint = g_string_new(NULL);
	g_string_append_printf(hint, "%" G_GINT64_FORMAT " sts are there; ", there);
	if (before > 0)
		g_string_append_printf(hint, "%" G_GINT64_FORMAT " + ", before);
	g_string_append_printf(hint, "%" G_GINT64_FORMAT " × %" G_GINT64_FORMAT, times, need);
	if (behind > 0)
		g_string_append_printf(hint, " + %" G_GINT64_FORMAT, behind);
	g_string_append_printf(hint, " = %" G_GINT64_FORMAT ".", fits);
	g_autofree char *chains = tb_repair_chains(h, (unsigned)need, true);
	if (chains != NULL)
		g_string_append_printf(hint, " Start with %s, or say what is worked into the rest.", chains);
	else
		g_string_append_printf(hint,
			" %" G_GINT64_FORMAT " or %" G_GINT64_FORMAT
			" sts would come out; or say what is worked into the rest.",
			fits, fits + need);
	return g_string_free(hint, FALSE);
}

static void tell_leftover(tb_hands *h, const tb_act *act, guint32 begin, gint64 times, gint64 need,
	guint32 limit, gint64 left)
{
	g_autofree char *hint = leftover_hint(h, begin, times, need, tb_place_count(h) - limit);
	tb_hands_tell(h, TB_ERROR, "repeat-leftover", act->span, hint,
		"the repeat of %" G_GINT64_FORMAT " st%s leaves %" G_GINT64_FORMAT " st%s over", need,
		need == 1 ? "" : "s", left, left == 1 ? "" : "s");
	/* the rest of the row is worked where it belongs */
	h->cursor.due = limit;
}

/* As often as it comes out, the places of a pass being known. */
static void to_end_known(tb_hands *h, const tb_act *act, guint32 limit, gint64 need, gint64 last)
{
	guint32 begin = h->cursor.due;
	gint64 there = (gint64)limit - begin;
	gint64 short_pass = act->body_last > 0 ? last : 0;
	gint64 times = there >= short_pass ? (there - short_pass) / need : 0;
	gint64 left = there - short_pass - times * need;
	for (gint64 i = 0; i < times && !h->cursor.over && !h->working->stopped; i++)
		work_pass(h, act, false);
	if (act->body_last > 0 && left >= 0 && !h->cursor.over)
		work_pass(h, act, true);
	if (left < 0)
		tb_hands_give_up(h, "past-end", act->span, NULL,
			"this repeat needs at least %" G_GINT64_FORMAT " sts, and %" G_GINT64_FORMAT " %s left",
			short_pass, there, there == 1 ? "is" : "are");
	else if (left > 0 && !h->cursor.over)
		tell_leftover(h, act, begin + (guint32)short_pass, times, need, limit, left);
}

/* Works a pass on trial; keeps it when it ends at LIMIT or, unless EXACT, before it. */
static bool try_pass(tb_hands *h, const tb_act *act, bool last, guint32 limit, bool exact)
{
	tb_trial trial = tb_hands_try(h);
	guint32 due = h->cursor.due;
	bool moved = work_pass(h, act, last);
	bool fits = !h->cursor.over && h->cursor.due <= limit && (!exact || h->cursor.due == limit) &&
				(exact || (moved && h->cursor.due > due));
	/* What stops the whole work is told, and is nothing that another try could mend. */
	if (fits || h->working->stopped)
		tb_hands_keep(h, &trial);
	else
		tb_hands_take_back(h, &trial);
	return fits;
}

/* As often as it comes out, found by trying. */
static void to_end_tried(tb_hands *h, const tb_act *act, guint32 limit)
{
	guint32 begin = h->cursor.due;
	gint64 times = 0;
	bool ended = false;
	while (h->cursor.due < limit && !ended && !h->working->stopped) {
		if (act->body_last > 0 && try_pass(h, act, true, limit, true)) {
			ended = true;
			break;
		}
		if (!try_pass(h, act, false, limit, false))
			break;
		times++;
	}
	if (h->working->stopped || ended || h->cursor.over)
		return;
	if (times == 0 && begin < limit && h->trials > 0) {
		h->cursor.over = true; /* the pass this is part of does not fit; it will be taken back */
	} else if (times == 0 && begin < limit) {
		/* not even once: worked for good, so that what is wrong with it is told */
		guint32 due = h->cursor.due;
		work_pass(h, act, false);
		if (h->cursor.over)
			return;
		if (h->cursor.due == due)
			tell_endless(h, act);
		else
			tell_leftover(h, act, begin, 0, h->cursor.due - due, limit, limit - begin);
	} else if (act->body_last > 0 || (h->cursor.due < limit && !h->cursor.in_space)) {
		gint64 need = times > 0 ? ((gint64)h->cursor.due - begin) / times : 1;
		if (h->cursor.due < limit)
			tell_leftover(h, act, begin, times, MAX(need, 1), limit, limit - h->cursor.due);
		else
			tb_hands_tell(h, TB_ERROR, "repeat-leftover", act->span,
				"Work a whole repeat the last time, or change the count.",
				"the repeat ends with a whole pass, not where it is said to end");
	}
}

/*
 * Whether the row goes on to the top of the turning chain after a stitch of the kind NAMED: the
 * turning chain is not the last of that kind then.
 */
static bool names_turning_chain(const tb_hands *h, const tb_act *act, const tb_stitch *named)
{
	const tb_acts *acts = &h->sentence->acts;
	bool worked = false;
	if (act < acts->acts || act >= acts->acts + acts->count)
		return false;
	for (const tb_act *next = act + 1; next < acts->acts + acts->count; next++) {
		const tb_place *place = &next->place;
		bool placed = next->kind == TB_ACT_WORK || next->kind == TB_ACT_SKIP;
		if (placed && place->target == TB_TARGET_TURNING_CHAIN)
			return worked;
		worked = worked || (placed && place->target == TB_TARGET_NAMED && place->named == named);
	}
	return false;
}

/* The places that "to last dc", "to last ch-3 sp" leaves; 0 when there is no such place. */
static unsigned find_kept(const tb_hands *h, const tb_act *act)
{
	guint32 begin, before = tb_place_count(h);
	if (h->turning_place < before && act->place.target == TB_TARGET_NAMED &&
		names_turning_chain(h, act, act->place.named))
		before = h->turning_place;
	if (!tb_place_find_last(h, &act->place, before, &begin))
		return 0;
	/* the chains before it that "ch 2, sk 2 ch" goes on with */
	const tb_acts *acts = &h->sentence->acts;
	bool last = act < acts->acts || act + 2 >= acts->acts + acts->count;
	if (!last && act[1].kind == TB_ACT_CHAIN && act[2].kind == TB_ACT_SKIP &&
		act[2].place.target == TB_TARGET_CHAIN) {
		unsigned chains = tb_hands_number(h, &act[2].place.count, 1);
		while (chains-- > 0 && begin > h->cursor.due &&
			   tb_hands_made(h, tb_hands_place(h, begin - 1))->flags & TB_MADE_CHAIN)
			begin--;
	}
	return tb_place_count(h) - begin;
}

static void to_end(tb_hands *h, const tb_act *act, unsigned after)
{
	unsigned keep = tb_hands_number(h, &act->count, 0);
	guint32 limit;
	if (act->place.in == TB_IN_LAST && keep > 0) {
		unsigned kept = find_kept(h, act);
		if (kept == 0 && act->place.target == TB_TARGET_SPACE) {
			g_autofree char *words = tb_place_words(h, &act->place, 1);
			tb_hands_give_up(h, "space-missing", act->place.span, "Look at the row below for it.",
				"there is no %s left to work up to", words + 2);
			return;
		}
		keep = kept > 0 ? kept : keep;
	}
	if (!tb_acts_stop_before(h, act, keep, after, &limit))
		return;
	tb_acts last = pass_of(act, true);
	gint64 need = tb_repeat_need(h, act->body.acts, act->body.count);
	gint64 need_last = tb_repeat_need(h, last.acts, last.count);
	if (h->group != NULL || need == 0)
		tell_endless(h, act);
	else if (need > 0 && need_last >= 0)
		to_end_known(h, act, limit, need, need_last);
	else
		to_end_tried(h, act, limit);
}

/* Whether ONE FEWER pass comes out where all do not, as where "4 times" means four in all. */
static bool means_in_all(
	const tb_hands *h, guint32 begin, gint64 need, unsigned times, unsigned after)
{
	gint64 there = tb_place_count(h);
	return begin + need * times + after > there && begin + need * (times - 1) + after == there;
}

static void so_many_times(tb_hands *h, const tb_act *act, unsigned after)
{
	unsigned times = tb_hands_number(h, &act->count, 1);
	guint32 begin = h->cursor.due;
	for (unsigned i = 0; i < times && !h->cursor.over && !h->working->stopped; i++) {
		if (act->times_more && i == 1 && h->group == NULL &&
			means_in_all(h, begin, h->cursor.due - begin, times, after)) {
			times--;
			g_autofree char *hint = g_strdup_printf("Write \"%u more time%s\"; today \"repeat %u "
													"times\" means that many more.",
				times - 1, times == 2 ? "" : "s", times);
			tb_hands_tell(h, TB_WARNING, "repeat-in-all", act->span, hint,
				"%u times more would go past the end; it is read as %u times in all", times, times);
			if (i >= times)
				break;
		}
		guint32 due = h->cursor.due;
		bool moved = work_pass(h, act, act->body_last > 0 && i + 1 == times);
		if (!moved && h->cursor.due == due)
			break;
	}
}

void tb_repeat_work(tb_hands *h, const tb_act *act, unsigned after)
{
	if (act->until == TB_UNTIL_TIMES)
		so_many_times(h, act, after);
	else
		to_end(h, act, after);
}
