/*
 * Where the last pass of a round's repeat ends, when nothing in the text says so.
 *
 * A round comes back to its beginning, and what was worked there before the repeat is mostly a part of
 * the pattern: "Ch 3, dc in next dc, *ch 2, dc in next sp, ch 2, dc in each of next 2 dc; rep from *"
 * ends behind the space before those first two dc, though the repeat goes on with them.
 */
#include "acts/repeat.h"
#include "places/place.h"

/* The stitches acts would make, compared with those made from AT on, which end before END. */
typedef struct {
	const tb_hands *h;
	guint32 at, end;
	bool alike;
} comparison;

static void compare(comparison *c, const tb_stitch *stitch, guint64 many)
{
	for (; many > 0 && c->alike; many--, c->at++) {
		if (c->at >= c->end) {
			c->alike = false;
			return;
		}
		const tb_made *made = tb_hands_made(c->h, c->at);
		bool chain = stitch == c->h->working->chain;
		c->alike = (made->flags & TB_MADE_COUNTED) != 0 &&
			(chain ? (made->flags & TB_MADE_CHAIN) && !(made->flags & TB_MADE_TURNING) :
			 !(made->flags & TB_MADE_CHAIN) && tb_place_is_kind(c->h, c->at, stitch));
	}
}

static void compare_acts(comparison *c, const tb_act *acts, unsigned count, unsigned depth)
{
	for (unsigned i = 0; i < count && c->alike; i++) {
		const tb_act *act = &acts[i];
		guint64 many;
		switch (act->kind) {
		case TB_ACT_CHAIN:
			compare(c, c->h->working->chain, tb_hands_number(c->h, &act->count, 1));
			break;
		case TB_ACT_WORK:
			many = tb_hands_number(c->h, &act->each, 1);
			if (act->place.in == TB_IN_NEXT && !act->place.middle)
				many *= tb_hands_number(c->h, &act->place.count, 1);
			c->alike = act->stitch != NULL && act->place.in != TB_IN_EACH;
			if (c->alike)
				compare(c, act->stitch, many);
			break;
		case TB_ACT_GROUP:
			c->alike = depth < TB_LIMIT_NESTING && act->place.in != TB_IN_EACH &&
				tb_hands_number(c->h, &act->place.count, 1) == 1;
			compare_acts(c, act->body.acts, act->body.count, depth + 1);
			break;
		case TB_ACT_SKIP:
			break;
		default:
			c->alike = false;
			break;
		}
	}
}

/* Whether ACTS, a row's, only end it from NEXT on. */
static bool only_ends(const tb_acts *acts, const tb_act *next)
{
	for (; next < acts->acts + acts->count; next++) {
		if (next->kind != TB_ACT_JOIN && next->kind != TB_ACT_DO_NOT_JOIN &&
			next->kind != TB_ACT_FASTEN_OFF && next->kind != TB_ACT_TURN && next->kind != TB_ACT_CLAIM)
			return false;
	}
	return true;
}

bool tb_repeat_is_beginning(const tb_hands *h, const tb_act *act, unsigned from, guint32 made)
{
	const tb_acts *acts = &h->sentence->acts;
	if (!h->sentence->is_round || h->now.group != NULL || h->now.repeating > 0 || act->ends > 0 ||
		act->body_last > 0 || act < acts->acts || act >= acts->acts + acts->count || made <= h->now.begun)
		return false;
	/* where more is worked behind the repeat, the text says how the round ends */
	if (!only_ends(acts, act + 1))
		return false;
	comparison c = {h, h->now.begun, made, true};
	compare_acts(&c, act->body.acts + from, act->body.count - from, 0);
	tb_hands_look(h, c.at - h->now.begun + 1);
	return c.alike && c.at == made;
}

bool tb_repeat_ends_at_own_loop(const tb_hands *h, const tb_act *act, guint32 limit)
{
	const tb_acts *body = &act->body;
	unsigned next = act->body_last;
	while (next < body->count && body->acts[next].kind == TB_ACT_CHAIN)
		next++;
	if (!h->sentence->is_round || !h->now.travelled || next == body->count ||
		body->acts[next].kind != TB_ACT_WORK || body->acts[next].place.in != TB_IN_NEXT ||
		body->acts[next].place.target != TB_TARGET_SPACE)
		return false;
	for (guint32 i = h->cursor.due; i < limit; i++) {
		if (tb_hands_made(h, tb_hands_place(h, i))->flags & (TB_MADE_CHAIN | TB_MADE_TURNING))
			return false;
	}
	return true;
}

/* "… in same space as joining": the place ACT goes to is the stitch that the round was joined to. */
static bool goes_to_joined(const tb_act *act)
{
	return act->kind == TB_ACT_WORK && act->place.in == TB_IN_SAME &&
		(act->place.begun || act->place.at_begin || act->place.at_slip);
}

/*
 * "*Ch 5, sc in next dc; rep from * around, ending with ch 2, dc in same place as joining": the first loop
 * rises from the stitch that was joined to, and the last comes back to it; no other stitch stands there.
 */
void tb_repeat_keep_joined(tb_hands *h, const tb_act *act)
{
	bool comes_back = false;
	for (unsigned i = 0; i < MIN(act->ends, h->now.next_acts.count); i++)
		comes_back = comes_back || goes_to_joined(&h->now.next_acts.acts[i]);
	if (!comes_back || !h->sentence->is_round || h->row < 2 || h->now.travelled || h->now.group != NULL ||
		h->cursor.due != h->cursor.first || h->cloth.made->len > h->now.begun || act->body.count < 2 ||
		act->body.acts[0].kind != TB_ACT_CHAIN)
		return;
	const tb_act *next = &act->body.acts[1];
	if (next->kind == TB_ACT_WORK && next->place.in == TB_IN_NEXT && next->place.target != TB_TARGET_SPACE &&
		tb_place_count(h) > 1)
		h->cursor.due++;
}

bool tb_repeat_just_ended(const tb_hands *h)
{
	const tb_acts *acts = &h->sentence->acts;
	const tb_act *act = h->now.next_acts.acts;
	if (h->now.repeating > 0 || act <= acts->acts || act > acts->acts + acts->count || h->cursor.due < tb_place_count(h))
		return false;
	for (act--; act > acts->acts && act[-1].kind == TB_ACT_CHAIN; act--)
		;
	return act > acts->acts && act[-1].kind == TB_ACT_REPEAT;
}

/* "*sk 2, shell in next st": groups with nothing but skips between them. */
static bool skips_to_group(const tb_act *act)
{
	return act->body.count == 2 && act->body.acts[0].kind == TB_ACT_SKIP && act->body.acts[1].kind == TB_ACT_GROUP;
}

/*
 * "*ch 3, sk 2, sc in next sc; rep from * around, ch 3, join": the last two are skipped as in every pass,
 * under the chain that leads to the join, whether it is the last of a pass or said behind them; or where groups stand.
 */
bool tb_repeat_skip_to_join(tb_hands *h, const tb_act *act, guint32 limit)
{
	const tb_acts *acts = &h->sentence->acts;
	const tb_act *next = act >= acts->acts && act + 1 < acts->acts + acts->count ? act + 1 : NULL;
	bool chain = tb_hands_made(h, h->cloth.made->len - 1)->flags & TB_MADE_CHAIN ||
		(next != NULL && next->kind == TB_ACT_CHAIN);
	bool joins = next != NULL && next->kind == TB_ACT_CHAIN && next + 1 < acts->acts + acts->count &&
		(next[1].kind == TB_ACT_JOIN || tb_place_may_close(h, &next[1]));
	if (h->sentence->is_round && h->now.group == NULL && !h->cursor.over && limit == tb_place_count(h) && joins &&
		tb_place_closes_evenly(h, tb_hands_number(h, &next->count, 1))) {
		h->cursor.due = limit;
		return true;
	}
	/* a round of gaps has its first stitch among the last; "BPsc around next sc, ch 3" skips by the name alone */
	guint32 left = limit - h->cursor.due + h->cursor.began_in_gap;
	guint32 usual = h->cursor.usual_skip > 0 ? h->cursor.usual_skip : h->cursor.before_named;
	if (!h->sentence->is_round || h->now.group != NULL || h->cursor.over || limit < tb_place_count(h) ||
		usual == 0 || left != usual || (!chain && !h->cursor.began_in_gap && !skips_to_group(act)))
		return false;
	h->cursor.due = limit;
	return true;
}

bool tb_repeat_passes_round(const tb_hands *h, const tb_act *act, guint32 last, guint32 limit)
{
	guint32 due = h->cursor.due, left = limit - due, all = limit - h->cursor.first;
	bool found = false, named = false, skips = false;
	for (unsigned i = 0; i < act->body.count; i++) {
		const tb_place *place = &act->body.acts[i].place;
		skips = skips || act->body.acts[i].kind == TB_ACT_SKIP;
		found = found || place->middle || place->in == TB_IN_PART;
		named = named || (place->in == TB_IN_NEXT && place->target == TB_TARGET_NAMED);
	}
	if (!(found || (named && !skips)) || !h->sentence->is_round || limit != tb_place_count(h) || h->now.repeating > 0 || due <= last ||
		left >= due - last || all % (due - last) != 0)
		return false;
	for (guint32 i = 0; i < left; i++) {
		const tb_made *one = tb_hands_made(h, tb_hands_place(h, due + i));
		const tb_made *before = tb_hands_made(h, tb_hands_place(h, last + i));
		if (one->stitch != before->stitch || one->flags != before->flags)
			return false;
	}
	/* what the last pass has worked into is not what it passes over */
	return tb_place_are_passed(h, last, last + left);
}

bool tb_repeat_goes_round(const tb_hands *h, const tb_act *act, tb_act *last, int *left)
{
	const tb_acts *acts = &h->sentence->acts;
	const tb_act *side = &act->body.acts[0];
	guint32 begin;
	if (!h->sentence->is_round || h->now.group != NULL || h->now.repeating > 0 || act < acts->acts ||
		act >= acts->acts + acts->count || act->body.count < 2 || act->body_last > 0 ||
		side->kind != TB_ACT_WORK || side->place.in != TB_IN_EACH || side->place.up_to == NULL ||
		side->place.up_to->target != TB_TARGET_SPACE || tb_place_find(h, side->place.up_to, &begin))
		return false;
	const tb_act *end = act + 1;
	bool ends = act->ends == 1 && end->kind == TB_ACT_WORK && end->stitch == side->stitch &&
		end->place.in == TB_IN_LAST && only_ends(acts, end + 1);
	if (!ends && !only_ends(acts, end))
		return false;
	/* "ending with dc in last dc": the last of this side is that one */
	*left = ends ? (int)tb_hands_number(h, &end->place.count, 1) : 0;
	*last = *side;
	last->place.up_to = NULL;
	last->place.count = (tb_number){1, left, side->place.count.span};
	return true;
}
