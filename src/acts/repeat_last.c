/*
 * How a repeat ends: the last pass cut short, what the row is said to end with, the chain that closes a
 * round. Each is tried on the stitches that are left, and kept where it comes out.
 */
#include "acts/acts.h"
#include "acts/repeat.h"
#include "acts/turning.h"
#include "places/place.h"
#include "places/repeat_need.h"

#include <string.h>

/* Whether what is cut off the pass would go into any of the places that are left. */
static bool asks_for_rest(const tb_hands *h, const tb_act *cut, guint32 limit)
{
	for (unsigned k = cut->body_last; k < cut->body.count; k++) {
		const tb_act *act = &cut->body.acts[k];
		bool placed = act->kind == TB_ACT_WORK || act->kind == TB_ACT_GROUP || act->kind == TB_ACT_SKIP;
		for (guint32 i = h->cursor.due; placed && i < limit; i++) {
			if (tb_place_matches(h, &act->place, i))
				return true;
		}
	}
	return false;
}

bool tb_repeat_try_pass(tb_hands *h, const tb_act *act, bool last, guint32 limit, bool exact)
{
	tb_trial trial = tb_hands_try(h);
	guint32 due = h->cursor.due;
	const tb_place *first;
	/* the space the hook was brought to takes the first pass */
	bool stands = tb_turning_first_work(h, &act->body, &first) != NULL && tb_place_stands_in(h, first);
	bool moved = tb_repeat_pass(h, act, last);
	/* what borders the space the round ends with is passed over */
	if (exact && act->corresponds && h->cursor.due > due && h->cursor.due < limit &&
		tb_place_rest_is_border(h, h->cursor.due) && !asks_for_rest(h, act, limit))
		h->cursor.due = limit;
	if (exact && last && act->ends > 0 && !h->cursor.over && h->cursor.due < limit &&
		tb_repeat_ends_at_own_loop(h, act, limit))
		h->cursor.due = limit;
	/* "sc in 3rd dc of next shell": the rest of the last shell, as of every other */
	if (last && !h->cursor.over && h->cursor.due < limit && h->cursor.passed >= limit)
		h->cursor.due = limit;
	bool fits = !h->cursor.over && h->cursor.due <= limit && (!exact || h->cursor.due == limit) &&
				(exact || (moved && (h->cursor.due > due || stands)));
	/* What stops the whole work is told, and is nothing that another try could mend. */
	(fits || h->working->stopped ? tb_hands_keep : tb_hands_take_back)(h, &trial);
	return fits;
}

/* "dc in next dc, ch 1" to the row's end: the last space is passed over like the others. */
static bool is_all_chains(const tb_hands *h, guint32 from, guint32 to)
{
	for (guint32 i = from; i < to; i++) {
		if (!(tb_hands_made(h, tb_hands_place(h, i))->flags & TB_MADE_CHAIN) || h->row == 1)
			return false;
	}
	return true;
}

/*
 * A last pass that is CUT where its next stitch would go where the round began: the chains before that
 * are passed over as they are each time.
 */
static bool try_to_beginning(tb_hands *h, const tb_act *cut, guint32 limit)
{
	const tb_act *next = &cut->body.acts[cut->body_last];
	if (next->kind != TB_ACT_WORK || next->place.in != TB_IN_NEXT || !h->sentence->is_round ||
		tb_place_is_plain(h, &next->place) || !tb_place_matches(h, &next->place, h->cursor.first))
		return false;
	tb_trial trial = tb_hands_try(h);
	tb_repeat_pass(h, cut, true);
	guint32 due = h->cursor.due;
	bool fits = !h->cursor.over && due <= limit && is_all_chains(h, due, limit) &&
		(tb_hands_made(h, h->cloth.made->len - 1)->flags & TB_MADE_CHAIN) != 0;
	for (guint32 i = due; i < limit && fits; i++)
		fits = !tb_place_matches(h, &next->place, i);
	if (!fits) {
		tb_hands_take_back(h, &trial);
		return false;
	}
	tb_hands_keep(h, &trial);
	h->cursor.due = limit;
	return true;
}

/* Chains, knots, picots: they stand over what is below, and take none of it. */
static bool stands_over(const tb_act *act)
{
	bool over = act->kind == TB_ACT_CHAIN || act->kind == TB_ACT_KNOT ||
		(act->kind == TB_ACT_WORK && act->place.in == TB_IN_NTH_CHAIN);
	if (act->kind != TB_ACT_REPEAT || act->until != TB_UNTIL_TIMES)
		return over;
	for (unsigned i = 0; i < act->body.count; i++) {
		if (!stands_over(&act->body.acts[i]))
			return false;
	}
	return true;
}

/* What is worked behind the repeat: all the rest of the row, where it stands in no other repeat. */
static tb_acts behind(const tb_hands *h, const tb_act *act)
{
	const tb_acts *acts = &h->sentence->acts;
	bool inside = act < acts->acts || act >= acts->acts + acts->count;
	return (tb_acts){act + 1, inside ? act->ends : (unsigned)(acts->acts + acts->count - act) - 1};
}

bool tb_repeat_closes_over(const tb_hands *h, const tb_act *act)
{
	tb_acts ending = behind(h, act);
	unsigned i = 0;
	while (i < ending.count && ending.acts[i].kind == TB_ACT_CHAIN)
		i++;
	return i > 0 && i < ending.count &&
		(ending.acts[i].kind == TB_ACT_JOIN || tb_place_may_close(h, &ending.acts[i]));
}

/*
 * Where a round began in the space of a shell: what is left from FROM on are the chains that lead to that shell,
 * and its stitches before that space.
 */
static bool leads_to_beginning(const tb_hands *h, guint32 from, guint32 limit)
{
	guint32 i = from;
	if (!h->sentence->is_round || !h->now.travelled || limit != tb_place_count(h) || limit == 0 ||
		!is_all_chains(h, 0, 1))
		return false;
	while (i < limit && is_all_chains(h, i, i + 1))
		i++;
	bool chains = i > from;
	while (i < limit && (!is_all_chains(h, i, i + 1) ||
		tb_hands_made(h, tb_hands_place(h, i))->flags & TB_MADE_TURNING))
		i++;
	return chains && i == limit;
}

/* A last pass that is CUT before the chain that closes the round: it stands over the space that is left. */
static bool try_before_closing(tb_hands *h, const tb_act *cut, guint32 limit)
{
	tb_trial trial = tb_hands_try(h);
	guint32 from = h->cursor.due;
	tb_repeat_pass(h, cut, true);
	guint32 due = h->cursor.due;
	bool chains = !h->cursor.in_space &&
		(is_all_chains(h, due, limit) || leads_to_beginning(h, due, limit));
	if (!h->cursor.over && due > from && due < limit &&
		(chains || (limit == tb_place_count(h) && tb_place_rest_is_passed_alike(h, due)))) {
		tb_hands_keep(h, &trial);
		h->cursor.due = limit;
		return true;
	}
	tb_hands_take_back(h, &trial);
	return false;
}

/*
 * "… ending with ch 3, skip 2 dc, tr in first sc": so many acts before the stitch that closes the round
 * skip what is left; 0 where nothing is said to be skipped.
 */
static unsigned skips_at_end(const tb_hands *h, const tb_act *act)
{
	unsigned count = 0;
	bool skips = false;
	while (count < act->ends && (stands_over(&act[1 + count]) || act[1 + count].kind == TB_ACT_SKIP))
		skips |= act[1 + count++].kind == TB_ACT_SKIP;
	const tb_acts *acts = &h->sentence->acts;
	const tb_act *next = act + 1 + count;
	bool top = act >= acts->acts && act < acts->acts + acts->count;
	bool closes = top && h->sentence->is_round && (next >= acts->acts + acts->count ||
		next->kind == TB_ACT_JOIN || next->stitch == h->working->slip || tb_place_may_close(h, next));
	return skips && closes ? count : 0;
}

bool tb_repeat_ends_here(tb_hands *h, const tb_act *act)
{
	if (act->ends == 0)
		return false;
	tb_acts ending = behind(h, act);
	tb_trial trial = tb_hands_try(h);
	guint32 from = h->cursor.due;
	unsigned skips = skips_at_end(h, act);
	if (skips > 0) {
		ending.count = skips;
		tb_acts_work(h, &ending, 0);
		bool rest = !h->cursor.over && h->cursor.due == tb_place_count(h) && h->teller.row_fault == trial.row_fault;
		tb_hands_take_back(h, &trial);
		return rest && !h->working->stopped;
	}
	tb_acts_work(h, &ending, 0);
	/* what closes the round takes none of the places: they are all worked then */
	bool fits = !h->cursor.over && (h->cursor.due > from || from >= tb_place_near_end(h)) &&
		h->teller.row_fault == trial.row_fault && (h->cursor.due >= tb_place_near_end(h) ||
			tb_place_rest_is_border(h, h->cursor.due) || tb_place_rest_is_passed_alike(h, h->cursor.due));
	tb_hands_take_back(h, &trial);
	return fits && !h->working->stopped;
}

/* A last pass that is CUT where what the repeat of ACT ends with takes just the rest. */
static bool try_before_ending(tb_hands *h, const tb_act *act, const tb_act *cut)
{
	tb_trial trial = tb_hands_try(h);
	guint32 from = h->cursor.due;
	tb_repeat_pass(h, cut, true);
	if (!h->cursor.over && h->cursor.due > from && h->teller.row_fault == trial.row_fault &&
		tb_repeat_ends_here(h, act)) {
		tb_hands_keep(h, &trial);
		return true;
	}
	tb_hands_take_back(h, &trial);
	return false;
}

/*
 * "Sc in next 2 sc, *ch 5, …, sc in next 6 sc; rep from * around in same manner": the round began in the
 * middle of a group, and the last pass, CUT before it, works the other half.
 */
static bool try_split(tb_hands *h, const tb_act *cut, guint32 limit)
{
	const tb_act *group = &cut->body.acts[cut->body_last], *first = h->now.first_work;
	if (group->kind != TB_ACT_WORK || first == NULL || first->stitch != group->stitch ||
		group->place.target != TB_TARGET_NAMED || group->place.in != TB_IN_NEXT ||
		first->place.in != TB_IN_NEXT || first->place.named != group->place.named ||
		first->place.target != TB_TARGET_NAMED || !h->sentence->is_round)
		return false;
	int half = (int)tb_hands_number(h, &group->place.count, 1) - (int)tb_hands_number(h, &first->place.count, 1);
	if (half <= 0)
		return false;
	g_autofree tb_act *acts = g_memdup2(cut->body.acts, cut->body.count * sizeof(tb_act));
	acts[cut->body_last].place.count = (tb_number){1, &half, group->span};
	tb_act split = *cut;
	split.body.acts = acts;
	split.body.count = split.body_last = cut->body_last + 1;
	split.corresponds = false;
	return tb_repeat_try_pass(h, &split, true, limit, true);
}

/* Whether a chain ends the last pass; it is that which the pass has itself where it works nothing. */
static bool ends_with_chain(const tb_act *act)
{
	return act->ends > 0 && act[1].kind == TB_ACT_CHAIN;
}

static bool works(const tb_acts *acts, unsigned count)
{
	for (unsigned i = 0; i < count; i++) {
		if (acts->acts[i].kind != TB_ACT_CHAIN && acts->acts[i].kind != TB_ACT_SKIP)
			return true;
	}
	return false;
}

/* "*ch 4, sk 2, sc in next dc; rep from * around, ending with ch 4": that chain stands over the last two. */
static bool try_skips(tb_hands *h, const tb_act *act, unsigned count, guint32 limit)
{
	tb_trial trial = tb_hands_try(h);
	for (unsigned i = 0; i < count; i++) {
		tb_acts one = {act->body.acts + i, 1};
		if (one.acts->kind == TB_ACT_SKIP)
			tb_acts_work(h, &one, 0);
	}
	bool fits = !h->cursor.over && h->cursor.due == limit;
	if (fits || h->working->stopped)
		tb_hands_keep(h, &trial);
	else
		tb_hands_take_back(h, &trial);
	return fits;
}

/*
 * ACT cut before its LAST act. "*…, ch 4, sk 2, sc in next sc; rep from * around, ending with ch 4": the
 * chain before what is skipped last is that which the end says. COPY is the caller's, and freed by it.
 */
static tb_act cut_before(const tb_act *act, unsigned last, tb_act **copy)
{
	tb_act cut = *act;
	unsigned chain = last;
	cut.body_last = last;
	while (chain > 1 && act->body.acts[chain - 1].kind == TB_ACT_SKIP)
		chain--;
	if (chain == last || !ends_with_chain(act) || act->body.acts[chain - 1].kind != TB_ACT_CHAIN)
		return cut;
	*copy = g_memdup2(act->body.acts, act->body.count * sizeof(tb_act));
	memmove(*copy + chain - 1, *copy + chain, (act->body.count - chain) * sizeof(tb_act));
	cut.body = (tb_acts){*copy, act->body.count - 1};
	cut.body_last = last - 1;
	return cut;
}

/*
 * "… rep from * around, ending to correspond", or "ending with dc in last dc": where a whole pass does
 * not fit any more, the last one is cut short so that what it ends with does. A chain of the ending is no
 * longer one of the pass.
 */
bool tb_repeat_short_pass(tb_hands *h, const tb_act *act, guint32 limit, guint32 before)
{
	if (skips_at_end(h, act) > 0 && tb_repeat_ends_here(h, act))
		return true;
	for (unsigned last = act->body.count - 1; act->ends > 0 && last > 0; last--) {
		g_autofree tb_act *copy = NULL;
		tb_act cut = cut_before(act, last, &copy);
		if (ends_with_chain(act) && !works(&act->body, last))
			break;
		if (!(stands_over(act + 1) && stands_over(&act->body.acts[last - 1])) &&
			try_before_ending(h, act, &cut))
			return true;
	}
	for (unsigned last = act->body.count - 1; (act->ends > 0 || act->corresponds) && last > 0; last--) {
		g_autofree tb_act *copy = NULL;
		tb_act cut = cut_before(act, last, &copy);
		if (skips_at_end(h, act) > 0 && act->body.acts[last - 1].kind == TB_ACT_SKIP)
			continue;
		if (ends_with_chain(act) && !works(&act->body, last))
			return try_skips(h, act, last, limit);
		if (act->ends > 0 && stands_over(act + 1) && stands_over(&act->body.acts[last - 1]))
			continue;
		if (tb_repeat_try_pass(h, &cut, true, limit, true))
			return true;
		if (act->corresponds && (try_to_beginning(h, &cut, limit) || try_split(h, &cut, limit)))
			return true;
		/* the chain before a shell leads to the one that the round began with as well */
		if (act->corresponds && act->body.acts[last - 1].kind == TB_ACT_CHAIN && h->now.travelled &&
			try_before_closing(h, &cut, limit))
			return true;
		if (tb_repeat_closes_over(h, act) && try_before_closing(h, &cut, limit))
			return true;
	}
	const tb_act *last = act->body.acts + act->body.count - 1;
	if (act->corresponds && h->sentence->is_round && act->body.count > 1 && works(&act->body, act->body.count - 1) &&
		last->kind == TB_ACT_WORK &&
		last->place.in == TB_IN_NEXT && tb_repeat_joined_pass(h, act, limit, before))
		return true;
	tb_act inside;
	return tb_repeat_cut(h, act, &inside) && tb_repeat_try_pass(h, &inside, true, limit, true);
}

bool tb_repeat_is_alike(const tb_hands *h, const tb_act *a, const tb_act *b)
{
	bool last = a->place.in == TB_IN_LAST && b->place.in == TB_IN_NEXT &&
		(a->place.target == TB_TARGET_SPACE || a->place.target == TB_TARGET_NAMED);
	return a->kind == b->kind && a->stitch == b->stitch && (last || a->place.in == b->place.in) &&
		a->place.target == b->place.target && a->place.named == b->place.named &&
		tb_hands_number(h, &a->count, 1) == tb_hands_number(h, &b->count, 1) &&
		tb_hands_number(h, &a->place.count, 1) == tb_hands_number(h, &b->place.count, 1);
}

bool tb_repeat_is_cut_pass(const tb_hands *h, const tb_act *act)
{
	unsigned i = 0;
	while (i < act->ends && i < act->body.count && tb_repeat_is_alike(h, &act[1 + i], &act->body.acts[i]))
		i++;
	unsigned cut = i;
	while (i < act->ends && act[1 + i].kind == TB_ACT_CHAIN)
		i++;
	const tb_act *rest = i < act->ends ? &act[1 + i] : NULL;
	bool slips = rest != NULL && rest->kind == TB_ACT_WORK && rest->stitch == h->working->slip;
	/* "*7 dc in next loop, …; rep from * around, ending with 7 dc in last loop" */
	bool in_space = cut == 1 && act[1].kind == TB_ACT_WORK && (act[1].place.target == TB_TARGET_SPACE ||
		(act[1].place.target == TB_TARGET_NAMED && act[1].place.in == TB_IN_LAST));
	return (cut > 1 || in_space) && (rest == NULL || rest->kind == TB_ACT_JOIN || slips || tb_place_may_close(h, rest));
}

bool tb_repeat_closes_in_slip(const tb_hands *h, const tb_act *act)
{
	tb_acts ending = behind(h, act);
	unsigned i = 0;
	while (i < ending.count && ending.acts[i].kind == TB_ACT_CHAIN)
		i++;
	const tb_act *close = i > 0 && i < ending.count ? &ending.acts[i] : NULL;
	return close != NULL && (close->kind == TB_ACT_JOIN || tb_place_is_own_slip(h, close) ||
		(close->kind == TB_ACT_WORK && close->stitch == h->working->slip && close->place.in == TB_IN_FIRST));
}

/*
 * "Ch 3, 2 dc in same loop, *ch 4, 3 dc in next loop; rep from * around, ending to correspond": the
 * chain that begins each pass lies between the last group and the first one too.
 */
void tb_repeat_chain_to_beginning(tb_hands *h, const tb_act *act)
{
	unsigned count = 0;
	while (count < act->body.count && stands_over(&act->body.acts[count]))
		count++;
	tb_acts chains = {act->body.acts, count}, rest = behind(h, act);
	if (rest.count > 0 && stands_over(rest.acts))
		return; /* it is said */
	bool begins_so = h->now.begun < h->cloth.made->len && (tb_hands_made(h, h->now.begun)->flags & TB_MADE_TURNING) != 0;
	if (act->corresponds && count > 0 && count < act->body.count && begins_so &&
		h->sentence->is_round)
		tb_acts_work(h, &chains, 0);
}

/*
 * "* knot st, dc in next 3 dc of next group; rep around, ending with a knot st": what each knot stands
 * over before the next group, the last one stands over too.
 */
bool tb_repeat_is_passed_each_time(const tb_hands *h, const tb_act *act, guint32 limit)
{
	tb_acts rest = behind(h, act);
	bool over = rest.count > 0 && stands_over(rest.acts);
	return h->sentence->is_round && over && h->cursor.due < limit && tb_place_passes_again(h, limit);
}

/* Whether the join stands for the last stitch of the last pass: "…, ending to correspond, join". */
bool tb_repeat_joins_instead(const tb_hands *h, const tb_act *act)
{
	const tb_act *last = act->body.acts + act->body.count - 1;
	return act->corresponds && h->cursor.ends_at_join && act->body.count > 1 && act->body_last == 0 &&
		last->kind == TB_ACT_WORK && last->place.in == TB_IN_NEXT &&
		tb_hands_number(h, &last->place.count, 1) == 1;
}

/*
 * The last pass, which leaves out what would go where the round begins: into the stitch of the join, or
 * into what the round has begun with, when nothing of its kind is left before that.
 */
bool tb_repeat_joined_pass(tb_hands *h, const tb_act *act, guint32 limit, guint32 before)
{
	guint32 begin, end;
	tb_trial trial = tb_hands_try(h);
	tb_act cut = *act, last = act->body.acts[act->body.count - 1];
	cut.body_last = act->body.count - 1;
	tb_repeat_pass(h, &cut, true);
	const tb_place *place = &act->body.acts[cut.body_last].place;
	unsigned said = tb_hands_number(h, &place->count, 1);
	if (!h->cursor.ends_at_join && before > 0 && before < said && !h->cursor.over) {
		/* "dc in next 6 dc": three are left, and with three the round has begun */
		const int left = (int)(said - before);
		last.place.count = (tb_number){1, &left, place->span};
		tb_acts part = {&last, 1};
		tb_acts_work(h, &part, 0);
	}
	bool found = !h->cursor.over && tb_place_find_from(h, place, h->cursor.due, &begin, &end);
	bool fits = !h->cursor.over && limit == tb_place_count(h) &&
		(h->cursor.ends_at_join ? found && begin + 1 == limit : !found && tb_place_matches(h, place, 0));
	if (fits || h->working->stopped)
		tb_hands_keep(h, &trial);
	else
		tb_hands_take_back(h, &trial);
	if (fits)
		h->cursor.due = limit;
	return fits;
}

/* A last pass that is CUT before what stands where the round began: what borders that is passed over. */
static bool try_past_rest(tb_hands *h, const tb_act *cut, guint32 limit)
{
	tb_trial trial = tb_hands_try(h);
	tb_repeat_pass(h, cut, true);
	if (!h->cursor.over && limit == tb_place_count(h) && tb_place_rest_is_passed_alike(h, h->cursor.due)) {
		tb_hands_keep(h, &trial);
		h->cursor.due = limit;
		return true;
	}
	tb_hands_take_back(h, &trial);
	return false;
}

/* Stitches and nothing else: no loop, and no skip, shows where such a repeat begins and ends. */
static bool is_plain(const tb_act *act)
{
	for (unsigned i = 0; i < act->body.count; i++) {
		if (act->body.acts[i].kind != TB_ACT_WORK)
			return false;
	}
	return true;
}

bool tb_repeat_round_end(tb_hands *h, const tb_act *act, guint32 limit, guint32 made)
{
	for (unsigned last = act->body.count - 1; last > 0; last--) {
		tb_act cut = *act;
		cut.body_last = last;
		if (!tb_repeat_is_beginning(h, act, last, made))
			continue;
		if (tb_repeat_try_pass(h, &cut, true, limit, true) || try_past_rest(h, &cut, limit)) {
			if (is_plain(act) && h->sentence->claim_count == 0 && !act->corresponds)
				tb_hands_tell(h, TB_WARNING, "repeat-leftover", act->body.acts[last].span,
					"Say how the round ends, or give its count.",
					"the last time this is left out: the round began with it");
			return true;
		}
	}
	return false;
}
