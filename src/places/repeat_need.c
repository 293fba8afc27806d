/* How many places of the row below acts take, as far as that can be told before they are worked. */
#include "hands/meaning.h"
#include "places/edge.h"
#include "places/place.h"
#include "places/repeat_need.h"

#define UNKNOWN ((gint64)-1)

/* No row has more places than this; sums stop growing here. */
#define CEILING ((gint64)TB_LIMIT_NUMBER * 4)

static gint64 need_of(const tb_hands *h, const tb_act *act, bool least, unsigned depth);

/* One, or as many as the post stitches before. */
static bool is_many_as(const tb_hands *h, const tb_act *skip, const tb_act *post)
{
	unsigned skipped = tb_hands_number(h, &skip->place.count, 1);
	return skipped == 1 || (post->place.in == TB_IN_NEXT && skipped == tb_hands_number(h, &post->place.count, 1));
}

/* "FPdc around st 2 rows below, sk next st": the skip the post stitch makes itself. */
static bool skips_behind(const tb_hands *h, const tb_act *post, const tb_act *skip)
{
	return post->kind == TB_ACT_WORK && tb_place_is_deep(h, &post->place) && !post->do_not_skip_behind &&
		skip->kind == TB_ACT_SKIP && skip->place.in == TB_IN_NEXT &&
		skip->place.target != TB_TARGET_SPACE && is_many_as(h, skip, post) &&
		!(h->now.meaning & TB_MEANS_ANOTHER);
}

static gint64 need_of_all(
	const tb_hands *h, const tb_act *acts, unsigned count, bool least, unsigned depth)
{
	gint64 sum = 0;
	bool off = false, edges = h->cursor.edges > 0;
	for (unsigned i = 0; i < count && acts[i].kind != TB_ACT_OTHER_SIDE; i++) {
		if (i > 0 && skips_behind(h, &acts[i - 1], &acts[i]))
			continue;
		/* along the sides of the piece, and in the chains of its foundation, no place of the row is taken */
		off = acts[i].kind == TB_ACT_OTHER_EDGE ? !acts[i].bare : off;
		edges = edges || off || tb_edge_is_along(&acts[i]);
		if (off || (edges && tb_edge_is_foundation_chain(&acts[i]) && tb_edge_is_border(h)))
			continue;
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
	if (tb_place_is_deep(h, place) && some)
		return act->do_not_skip_behind ? 0 : place->middle ? 1 : count;
	switch (place->in) {
	case TB_IN_NEXT:
		return plain || (least && !place->middle) ? MIN(count * takes - place->shared, CEILING) : unknown;
	case TB_IN_LAST:
		return least ? MIN(count * takes, CEILING) : UNKNOWN;
	case TB_IN_BETWEEN:
		if (place->deeper > 1 && h->now.on_row == 0)
			return 0;
		return place->target == TB_TARGET_GROUP || h->cursor.began_in_gap ? unknown : count;
	case TB_IN_NTH_STITCH:
		return tb_place_is_deep(h, place) ? !act->do_not_skip_behind : unknown;
	case TB_IN_SAME:
	case TB_IN_RING:
	case TB_IN_SKIPPED:
		return 0;
	case TB_IN_EDGE:
		return 0;
	case TB_IN_PART:
		return least && place->of != NULL ? 1 : unknown;
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

/* "sc in each st of Row 7, sc in 4 unworked sts of Row 5": these come behind all that Row 7 has. */
static bool is_beyond(const tb_hands *h, const tb_act *act)
{
	const tb_made_row *below = h->row > 0 ? tb_hands_row(h, h->row - 1) : NULL;
	return h->now.beyond > 0 && below != NULL && act->place.of_row > 0 && act->place.in == TB_IN_NEXT &&
		act->place.of_row < below->number - below->before;
}

/* The places one act takes; with LEAST, what is not known counts as none. */
static gint64 need_of(const tb_hands *h, const tb_act *act, bool least, unsigned depth)
{
	gint64 unknown = least ? 0 : UNKNOWN;
	if (depth > TB_LIMIT_NESTING + 2)
		return unknown;
	if (tb_edge_is_corner(h, act))
		return 0;
	switch (act->kind) {
	case TB_ACT_WORK:
		if (act->stitch == NULL || tb_hands_number(h, &act->each, 1) == 0 ||
			act->stitch->foot == TB_FOOT_CHAIN || act->stitch->takes == 0 ||
			(least && ends_round(h, act)) || is_beyond(h, act))
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
		if (act->place.target == TB_TARGET_TURNING_CHAIN)
			return tb_place_ends_in_turning(h);
		return least ? tb_hands_number(h, &act->count, 0) : UNKNOWN;
	case TB_ACT_SKIP_BEHIND:
	case TB_ACT_CHAIN:
	case TB_ACT_KNOT:
	case TB_ACT_TURN:
	case TB_ACT_JOIN:
	case TB_ACT_DO_NOT_JOIN:
	case TB_ACT_DO_NOT_TURN:
	case TB_ACT_AT_END:
	case TB_ACT_FASTEN_OFF:
	case TB_ACT_JOIN_YARN:
	case TB_ACT_RING:
	case TB_ACT_IN_FRONT:
	case TB_ACT_BEHIND:
	case TB_ACT_OTHER_SIDE:
	case TB_ACT_FOLD:
	case TB_ACT_GO_TO:
	case TB_ACT_ANCHOR:
	case TB_ACT_SURFACE:
	case TB_ACT_OTHER_EDGE:
	case TB_ACT_LOOPS:
	case TB_ACT_CANNOT:
	case TB_ACT_CLAIM:
	case TB_ACT_SIDE:
	case TB_ACT_WITHIN:
	case TB_ACT_SKIPPED_COUNT:
	case TB_ACT_NOT_BEHIND:
		break;
	case TB_ACT_SHAPE:
		return unknown;
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

unsigned tb_repeat_least_behind(const tb_hands *h, const tb_act *act, unsigned count)
{
	gint64 least = need_of_all(h, act + 1, count, true, 0);
	/* how much of the row an ending said to be one takes is found by trying */
	for (unsigned i = 0; act->kind == TB_ACT_REPEAT && act->ends == 0 && i < count; i++) {
		const tb_act *skip = act + 1 + i;
		if (skip->kind == TB_ACT_SKIP && skip->place.in == TB_IN_NEXT && skip->place.target == TB_TARGET_NAMED &&
			!skip->place.middle && !tb_place_is_plain(h, &skip->place))
			least = MIN(least + tb_hands_number(h, &skip->place.count, 1), CEILING);
	}
	return (unsigned)least;
}
