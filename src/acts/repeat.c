/*
 * Repeats inside a row.
 *
 * Where the places a pass takes can be told beforehand, it is arithmetic: so many passes, so many
 * stitches over. Where they depend on what is found below ("sc in next ch-1 sp"), a pass is worked
 * on trial and taken back when it does not fit. repeat_need.c tells how many places acts take,
 * repeat_end.c where the last pass of a round ends.
 */
#include "acts/acts.h"
#include "acts/border.h"
#include "acts/repeat.h"
#include "acts/travel.h"
#include "hands/meaning.h"
#include "places/place.h"
#include "places/repeat_need.h"

/* The acts of a pass: all of the body, or up to "ending at **" the last time. */
static tb_acts pass_of(const tb_act *act, bool last)
{
	tb_acts body = act->body;
	if (last && act->body_last > 0 && act->body_last < body.count)
		body.count = act->body_last;
	return body;
}

/* Works a pass; false when it took no place and made nothing, so that it would never end. */
bool tb_repeat_pass(tb_hands *h, const tb_act *act, bool last)
{
	guint32 due = h->cursor.due, made = h->cloth.made->len;
	tb_acts body = pass_of(act, last);
	h->now.pass_due = h->now.repeating == 0 ? due : h->now.pass_due;
	h->cursor.passes += h->now.repeating == 0;
	h->now.repeating++;
	tb_acts_work(h, &body, 0);
	h->now.repeating--;
	return h->cursor.due > due || h->cloth.made->len > made;
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
	g_autofree char *chains = h->working->repair(h, (unsigned)need, true);
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

/* As often as it comes out, the places of a pass being known. ENDING: ACT, the last pass cut where its end makes it fit. */
static void to_end_known(tb_hands *h, const tb_act *act, const tb_act *ending, guint32 limit, gint64 need, gint64 last)
{
	guint32 begin = h->cursor.due, made = h->cloth.made->len;
	gint64 there = (gint64)limit - begin;
	gint64 short_pass = act->body_last > 0 ? last : 0;
	gint64 times = there >= short_pass ? (there - short_pass) / need : 0;
	gint64 left = there - short_pass - times * need;
	for (gint64 i = 0; i < times && !h->cursor.over && !h->working->stopped; i++)
		tb_repeat_pass(h, act, false);
	if (act->body_last > 0 && left >= 0 && !h->cursor.over)
		tb_repeat_pass(h, ending, true);
	/* where the last pass is said to end with another stitch it has been worked: no other is cut short behind it */
	bool ends = act->body_last > 0 && act->ends > 0 && act[1].kind == TB_ACT_WORK;
	if (left > 0 && !h->cursor.over && ((!ends && tb_repeat_short_pass(h, act, limit, begin)) ||
			tb_repeat_round_end(h, act, limit, made) ||
			(times > 0 && tb_repeat_skip_to_join(h, act, limit))))
		return;
	if (left == 0 && !h->cursor.over)
		tb_repeat_chain_to_beginning(h, act);
	if (left < 0)
		tb_hands_give_up(h, "past-end", act->span, NULL,
			"this repeat needs at least %" G_GINT64_FORMAT " sts, and %" G_GINT64_FORMAT " %s left",
			short_pass, there, there == 1 ? "is" : "are");
	else if (left > 0 && !h->cursor.over)
		tell_leftover(h, act, begin + (guint32)short_pass, times, need, limit, left);
}

/* Whether a pass works into spaces, or their chains, that come in turn. */
static bool works_spaces(const tb_act *act)
{
	for (unsigned i = 0; i < act->body.count; i++) {
		const tb_act *part = &act->body.acts[i];
		const tb_place *place = &part->place;
		if ((part->kind == TB_ACT_WORK || part->kind == TB_ACT_GROUP) && place->in == TB_IN_NEXT &&
			(place->target == TB_TARGET_SPACE || place->target == TB_TARGET_CHAIN))
			return true;
	}
	return false;
}

/*
 * "dc in next dc, ch 1" to the row's end: the last space is passed over like the others, or what is
 * left of it where they are worked into.
 */
static bool passes_chains(const tb_hands *h, const tb_act *act, guint32 from, guint32 to)
{
	for (guint32 i = works_spaces(act) && from > 0 ? from - 1 : from; i < to; i++) {
		if (!(tb_hands_made(h, tb_hands_place(h, i))->flags & TB_MADE_CHAIN) || h->row == 1)
			return false;
	}
	return true;
}

/*
 * "*ch 1, sk 1, sc in next st; rep across, ending sc in last st": where whole passes come out, chains
 * that stand over skipped stitches are not made once more with nothing below them.
 */
static bool skips_as_chained(const tb_act *act)
{
	for (unsigned i = 0; i + 1 < act->body.count; i++) {
		if (act->body.acts[i].kind == TB_ACT_CHAIN && act->body.acts[i + 1].kind == TB_ACT_SKIP)
			return true;
	}
	return false;
}

/* As often as it comes out, found by trying. */
static void to_end_tried(tb_hands *h, const tb_act *act, guint32 limit)
{
	guint32 begin = h->cursor.due, made = h->cloth.made->len, last_begin = begin;
	gint64 times = 0;
	bool ended = false;
	while (h->cursor.due < limit && !ended && !h->working->stopped) {
		if ((act->body_last > 0 && tb_repeat_try_pass(h, act, true, limit, true)) ||
			(tb_repeat_joins_instead(h, act) && tb_repeat_joined_pass(h, act, limit, begin))) {
			ended = true;
			break;
		}
		guint32 due = h->cursor.due;
		if (!tb_repeat_try_pass(h, act, false, limit, false))
			break;
		last_begin = due;
		times++;
	}
	if (h->working->stopped || ended || h->cursor.over ||
		(times > 0 && h->cursor.due < limit && tb_repeat_round_end(h, act, limit, made)))
		return;
	tb_act side;
	int left;
	if (times > 0 && h->cursor.due < tb_place_count(h) && tb_repeat_goes_round(h, act, &side, &left)) {
		tb_acts_work(h, &(tb_acts){&side, 1}, 0);
		return;
	}
	if (h->cursor.due == limit || (times > 0 && tb_place_rest_is_border(h, h->cursor.due)))
		tb_repeat_chain_to_beginning(h, act);
	if (times == 0 && begin < limit && h->teller.trials > h->teller.choosing) {
		h->cursor.over = true; /* the pass this is part of does not fit; it will be taken back */
	} else if (times == 0 && begin < limit) {
		/* not even once: worked for good, so that what is wrong with it is told */
		guint32 due = h->cursor.due;
		tb_repeat_pass(h, act, false);
		if (h->cursor.over)
			return;
		if (h->cursor.due == due && act->unsaid)
			tb_repeat_pass(h, act, act->body_last > 0); /* once more */
		else if (h->cursor.due == due)
			tell_endless(h, act);
		else
			tell_leftover(h, act, begin, 0, h->cursor.due - due, limit, limit - begin);
	} else if (tb_repeat_is_cut_pass(h, act) && (tb_repeat_ends_here(h, act) ||
		(h->sentence->is_round && tb_place_rest_is_border(h, h->cursor.due)))) {
		return;
	} else if (!(h->cursor.due == limit && (skips_as_chained(act) || act->ends == 0)) &&
		tb_repeat_short_pass(h, act, limit, begin)) {
		return;
	} else if (tb_repeat_ends_here(h, act) || (tb_travel_is_back(h) && tb_repeat_closes_in_slip(h, act))) {
		return;
	} else if (times > 0 && h->cursor.due < limit && tb_repeat_skip_to_join(h, act, limit)) {
		return;
	} else if (tb_repeat_is_passed_each_time(h, act, limit) ||
		(times > 1 && tb_repeat_passes_round(h, act, last_begin, limit))) {
		h->cursor.due = limit;
	} else if (act->body_last == 0 && h->cursor.due < limit && !h->cursor.in_space &&
		passes_chains(h, act, h->cursor.due, limit)) {
		h->cursor.due = limit;
	} else if (act->body_last == 0 && h->cursor.due < limit && h->cursor.in_space && !h->sentence->is_round &&
		limit < tb_place_count(h)) {
		/* "to last sc" behind a space: what stands beside the space is passed over, and that sc is left, not one more */
		h->cursor.due = limit;
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

/*
 * "… rep from * to last sc, skip dc and hdc, sc in last sc", "to last 2 sc, skip ch-3 sp, sc in next 2 sc": what is
 * skipped behind the repeat stands before that one, BEGIN, and is left as well. Where that begins.
 */
static guint32 before_skipped(const tb_hands *h, const tb_act *act, guint32 begin)
{
	const tb_acts *acts = &h->sentence->acts;
	if (act < acts->acts || act >= acts->acts + acts->count)
		return begin;
	const tb_act *last = act + 1, *end = acts->acts + acts->count;
	while (last < end && last->kind == TB_ACT_SKIP)
		last++;
	bool next = last < end && last->place.in == TB_IN_NEXT && tb_hands_number(h, &last->place.count, 1) ==
		tb_hands_number(h, &act->place.count, 1);
	if (last == end || last->kind != TB_ACT_WORK || (last->place.in != TB_IN_LAST && !next) ||
		last->place.target != act->place.target || last->place.named != act->place.named)
		return begin;
	guint32 from = begin;
	unsigned within = tb_hands_number(h, &act->place.count, 1) - tb_hands_number(h, &last->place.count, 1);
	for (const tb_act *skip = last; --skip > act;) {
		/* "to last 2 sc, skip next sc, sc in last sc": it is one of the two */
		if (skip->place.target == act->place.target && skip->place.named == act->place.named && within > 0 &&
			tb_hands_number(h, &skip->place.count, 1) == within)
			return begin;
		for (unsigned many = tb_hands_number(h, &skip->place.count, 1); many > 0; many--) {
			unsigned width = skip->place.target != TB_TARGET_SPACE ? 1 : skip->place.space_chains;
			while (skip->place.target == TB_TARGET_SPACE && skip->place.space_chains == 0 && from > h->cursor.due + width &&
				tb_hands_made(h, tb_hands_place(h, from - width - 1))->flags & TB_MADE_CHAIN)
				width++;
			if (width == 0 || from < h->cursor.due + width || skip->place.in != TB_IN_NEXT ||
				!tb_place_matches(h, &skip->place, from - width))
				return begin;
			from -= width;
		}
	}
	return from;
}

/* The places that "to last dc", "to last ch-3 sp" leaves; 0 when there is no such place. */
static unsigned find_kept(const tb_hands *h, const tb_act *act)
{
	guint32 begin, before = tb_place_count(h);
	if (h->now.turning_place < before && act->place.target == TB_TARGET_NAMED &&
		names_turning_chain(h, act, act->place.named))
		before = h->now.turning_place;
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
	return tb_place_count(h) - before_skipped(h, act, begin);
}

/* "Rep from * to last 0 (1, 2) sts, sc to end": in the first size all of the row is worked by then. */
static bool leaves_none(const tb_hands *h, const tb_act *act)
{
	return act->count.count > 1 && tb_hands_number(h, &act->count, 0) == 0;
}

/* Whether stitches are worked behind the repeat ACT of the row, which goes as far as it comes out. */
static bool is_followed(const tb_hands *h, const tb_act *act)
{
	const tb_acts *acts = &h->sentence->acts;
	if (act < acts->acts || act >= acts->acts + acts->count || h->now.group != NULL || act->unsaid ||
		act->body_last > 0 || act->place.up_to != NULL || leaves_none(h, act) ||
		(tb_hands_number(h, &act->count, 0) > 0 && act->place.target != TB_TARGET_TURNING_CHAIN))
		return false;
	bool skips = false;
	for (const tb_act *next = act + 1; next < acts->acts + acts->count; next++) {
		if (next->kind == TB_ACT_GROUP || (next->kind == TB_ACT_WORK && next->stitch != h->working->slip))
			return skips || (next->place.target != TB_TARGET_TURNING_CHAIN && !next->place.at_turning);
		/* "ending ch 5, skip 2 dc, sc in top of turning ch" */
		skips = skips || next->kind == TB_ACT_SKIP;
	}
	return false;
}

/*
 * All passes that have room, or ALL BUT the last: "5 dc in next sc, sc in center dc of next shell; rep from *
 * across, ending 3 dc in last sc". How much of the row such an ending takes, its places alone do not tell.
 */
static void as_there_is_room(tb_hands *h, const tb_act *act, unsigned all_but)
{
	unsigned times = 0;
	tb_trial trial = tb_hands_try(h);
	while (tb_repeat_try_pass(h, act, false, tb_place_count(h), false))
		times++;
	tb_hands_take_back(h, &trial);
	for (unsigned i = all_but; i < times && !h->cursor.over && !h->working->stopped; i++)
		tb_repeat_pass(h, act, false);
	if (times <= all_but)
		tb_hands_give_up(h, "past-end", act->span, NULL, "there is no room for this repeat");
}

/*
 * "… (3 dc in next ch) twice; rep from * across, ending last rep with 3 dc in last ch": the end may stand for both of
 * them. ACT with as many of the like last acts cut from its last pass as make it come out; ACT itself where none do.
 */
static tb_act end_that_fits(const tb_hands *h, const tb_act *act, guint32 limit, gint64 need)
{
	tb_act fitted = *act;
	gint64 there = (gint64)limit - h->cursor.due;
	while (need > 0 && fitted.body_last > 0 && fitted.body_last < act->body.count) {
		gint64 last = tb_repeat_need(h, act->body.acts, fitted.body_last);
		if (last < 0)
			break;
		if (there >= last && (there - last) % need == 0)
			return fitted;
		const tb_act *cut = &act->body.acts[fitted.body_last], *before = cut - 1;
		/* "twice" is once, and once more */
		if (fitted.body_last > 1 && before->kind == TB_ACT_REPEAT && before->until == TB_UNTIL_TIMES && before->body.count == 1)
			before = before->body.acts;
		if (fitted.body_last == 1 || !tb_repeat_is_alike(h, before, cut))
			break;
		fitted.body_last--;
	}
	return *act;
}

static void to_end(tb_hands *h, const tb_act *act, unsigned after)
{
	unsigned keep = tb_hands_number(h, &act->count, 0);
	guint32 limit;
	if (is_followed(h, act)) {
		bool fit = tb_means(h, TB_MEANS_FIT), fewer = tb_means(h, TB_MEANS_FEWER);
		if (fit || fewer) {
			as_there_is_room(h, act, fewer);
			return;
		}
	}
	if (tb_repeat_closes_over(h, act))
		tb_place_leave_join(h);
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
	if (act->place.target == TB_TARGET_TURNING_CHAIN && keep > 0)
		keep += tb_place_turning_space(h);
	if (act->place.up_to != NULL) {
		if (!tb_acts_find_limit(h, act, after, &limit))
			return;
	} else if (act->place.in == TB_IN_NEXT && act->place.span.end > act->place.span.start) {
		/* "rep from * across next 20 sts" */
		limit = h->cursor.due + tb_hands_number(h, &act->place.count, 1);
		if (limit > tb_place_count(h)) {
			tb_place_tell_none(h, act, NULL, 0);
			return;
		}
	} else if (!tb_acts_stop_before(h, act, keep, after, &limit)) {
		return;
	}
	gint64 need = tb_repeat_need(h, act->body.acts, act->body.count);
	tb_act fitted = end_that_fits(h, act, limit, need);
	tb_acts last = pass_of(&fitted, true);
	gint64 need_last = tb_repeat_need(h, last.acts, last.count);
	if (act->unsaid && (need == 0 || h->now.repeating > 0) && h->now.group == NULL) {
		/* "* ch 6, sl st in 5th ch from hook, repeat from *", and any inside another: once more */
		tb_repeat_pass(h, act, false);
		tb_repeat_pass(h, act, act->body_last > 0);
	} else if (h->now.group != NULL || need == 0)
		tell_endless(h, act);
	else if (need > 0 && need_last >= 0 && !tb_repeat_joins_instead(h, act))
		to_end_known(h, act, &fitted, limit, need, need_last);
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

/*
 * Filet, "ch 5, turn, 6 sps": the chain is the edge and the top of the first space, which wants no more than
 * the dc that closes it. Whether that was done.
 */
static bool close_first_square(tb_hands *h, const tb_act *act)
{
	const tb_act *top = act->body.count > 2 ? &act->body.acts[0] : NULL;
	guint32 made = h->cloth.made->len - tb_hands_row(h, h->row)->first;
	if (!act->squares || top == NULL || top->kind != TB_ACT_CHAIN || h->now.counts_as == NULL || h->now.travelled ||
		!tb_hands_has_turning_alone(h) || made != 1 + tb_hands_number(h, &top->count, 1))
		return false;
	tb_acts rest = {act->body.acts + 1, act->body.count - 1};
	h->now.repeating++;
	tb_acts_work(h, &rest, 0);
	h->now.repeating--;
	return true;
}

static void so_many_times(tb_hands *h, const tb_act *act, unsigned after)
{
	unsigned times = tb_hands_number(h, &act->count, 1);
	times -= close_first_square(h, act) && !act->further && times > 0;
	guint32 begin = h->cursor.due;
	if (act->times_more && times > 1 && tb_means(h, TB_MEANS_IN_ALL))
		times--;
	for (unsigned i = 0; i < times && !h->cursor.over && !h->working->stopped; i++) {
		if (act->times_more && i == 1 && h->now.group == NULL &&
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
		bool moved = tb_repeat_pass(h, act, act->body_last > 0 && i + 1 == times);
		if (moved || h->cursor.due != due)
			continue;
		/* "(sc in each st) 3 times": after the first time nothing is left for the others */
		if (i > 0 && h->cursor.due == tb_place_count(h) && h->now.group == NULL && h->now.repeating == 0)
			tb_hands_give_up(h, "past-end", act->span, "Say it once, or give each time a row of its own.",
				"the %s is worked to its end before this is repeated", h->sentence->is_round ? "round" : "row");
		break;
	}
}

/*
 * "Ch 3, 1 dc in each dc, increasing in every 4th dc": the chain is the first of the first four. "Ch 3, dc in every
 * other st, with ch 2 between": the first two chains lie behind it, if they are not there yet.
 */
static void begin_evenly(tb_hands *h, const tb_act *act)
{
	if (!act->evenly || act->until == TB_UNTIL_TIMES || h->cursor.due != h->cursor.first + 1 ||
		h->cloth.made->len <= h->now.begun || !(tb_hands_made(h, h->now.begun)->flags & TB_MADE_TURNING))
		return;
	unsigned plain = tb_hands_number(h, &act->body.acts[0].place.count, 1);
	int fewer = (int)plain - 1;
	tb_act first[] = {act->body.acts[0], act->body.acts[1]}, pass = *act;
	first[0].place.count = (tb_number){1, &fewer, first[0].place.count.span};
	bool spaced = act->body.count == 3 && first[1].kind == TB_ACT_CHAIN;
	guint8 last = tb_hands_made(h, h->cloth.made->len - 1)->flags;
	unsigned from = last & TB_MADE_CHAIN && !(last & TB_MADE_TURNING) ? 2 : 1;
	pass.body = plain > 1 ? (tb_acts){first, 2} : (tb_acts){first + 1, 1};
	if (spaced)
		pass.body = (tb_acts){act->body.acts + from, 3 - from};
	tb_repeat_pass(h, &pass, false);
}

/* Works a repeat that goes over the ends of rows, as often as there are ends left along this side. */
static void along_row_ends(tb_hands *h, const tb_act *repeat)
{
	guint32 taken = 0, keep = tb_hands_number(h, &repeat->count, 0), used = h->cursor.edge_rows + keep;
	for (unsigned i = 0; i < repeat->body.count; i++)
		taken += tb_hands_number(h, &repeat->body.acts[i].in_each, 0);
	if (h->row < 2 || h->start.grown || taken == 0 || used > h->row - 1) {
		tb_hands_give_up(h, "not-worked", repeat->span, "Say how often.", "how many row ends there are, no row shows");
		return;
	}
	guint32 there = h->row - 1 - used;
	if (there % taken > 0)
		tb_hands_tell(h, TB_ERROR, "repeat-leftover", repeat->span, "Look at how many rows there are.",
			"the repeat of %u row ends leaves %u over", taken, there % taken);
	for (guint32 i = 0; i < there / taken && !h->cursor.over && !h->working->stopped; i++)
		tb_repeat_pass(h, repeat, false);
}

/*
 * "Sl st to center of loop, *ch 5, sc in next loop; rep from * around, ending ch 2, dc in sl st": the last
 * loop comes back to the one the hook stands in, which nothing else is worked into then.
 */
static void keep_stand(tb_hands *h, const tb_act *act)
{
	guint32 count = tb_place_count(h);
	if (h->now.stands_in == 0 || h->cursor.due + h->now.stands_in >= count || !tb_repeat_closes_in_slip(h, act))
		return;
	g_array_set_size(h->now.places, count - h->now.stands_in);
	h->now.stood -= h->now.stands_in;
	h->now.stands_in = 0;
	h->now.keeps_stand = true;
}

void tb_repeat_work(tb_hands *h, const tb_act *act, unsigned after)
{
	begin_evenly(h, act);
	tb_repeat_keep_joined(h, act);
	keep_stand(h, act);
	if (tb_border_is_of_row_ends(act)) {
		along_row_ends(h, act);
		return;
	}
	guint32 due = h->cursor.due;
	guint32 sides = tb_border_passes(h, act);
	if (act->until == TB_UNTIL_TIMES) {
		so_many_times(h, act, after);
	} else if (sides > 0) {
		for (guint32 i = 0; i < sides && !h->cursor.over && !h->working->stopped; i++)
			tb_repeat_pass(h, act, false);
	} else if (!tb_acts_comes_late(h, act)) {
		to_end(h, act, after);
		tb_acts_went_to_end(h, act, due);
		h->cursor.may_end = h->cursor.at_end && leaves_none(h, act);
	}
}
