/*
 * Where a row begins, when that is not its first stitch.
 *
 * Slip stitches before a turning chain travel: "sl st in next 2 sts, sl st in next ch-2 sp, ch 3
 * (counts as dc)" carries the hook to where the round begins. They are made and not counted, no
 * stitch goes into them, and the chain stands where the last of them went. A round goes on from
 * there all the way around; a row leaves what was travelled over unworked, as at an armhole.
 *
 * And round 1 of an oval goes around the end of its foundation chain, back along the other side.
 */
#include "acts/travel.h"
#include "acts/turning.h"
#include "places/edge.h"
#include "places/place.h"
#include "places/slips.h"

bool tb_travel_is_turning(const tb_hands *h, const tb_acts *acts, unsigned i)
{
	const tb_act *act = &acts->acts[i];
	if (act->kind != TB_ACT_CHAIN)
		return false;
	if (act->counts != TB_COUNTS_UNSAID)
		return true;
	tb_acts rest = {acts->acts + i + 1, acts->count - i - 1};
	const tb_place *place;
	const tb_act *work = tb_turning_first_work(h, &rest, &place);
	if (work == NULL || work->stitch == h->working->slip || work->stitch->height < 1)
		return false;
	unsigned chains = tb_hands_number(h, &act->count, 1), height = tb_stitch_chains(work->stitch);
	/* in a round "ch 4, dc in same sp" is a dc and a space as well; "ch 2, 2 dc in same sp" is as good as ch 3 */
	if (h->sentence->is_round)
		return chains == height || (height > 1 && chains > height) ||
			/* "sl st in next sp, ch 1, 3 dc in each sp around" */
			(chains == 1 && place->in == TB_IN_EACH && place->target == TB_TARGET_SPACE) ||
			(chains > 0 && chains + 1 == height && (place->in == TB_IN_SAME || acts->acts != h->sentence->acts.acts ||
				tb_turning_is_around_spaces(&rest, place)));
	/* "sl st in first 4 sts, ch 1, hdc in each st": a row of hdc or dc may begin with a lower chain */
	if (chains >= 1 && chains <= height)
		return true;
	/* "sl st in next 2 ch and in next dc, ch 5, dc in next dc": a row of filet begins with a square of its own */
	return height > 1 && chains > height && work->place.in == TB_IN_NEXT &&
		work->place.target == TB_TARGET_NAMED && tb_hands_number(h, &work->place.count, 1) == 1;
}

/* Whether the I-th act is a knot, or a repeat that begins with one. */
static bool begins_with_knot(const tb_acts *acts, unsigned i)
{
	while (i < acts->count && acts->acts[i].kind == TB_ACT_REPEAT && acts->acts[i].body.count > 0) {
		acts = &acts->acts[i].body;
		i = 0;
	}
	return i < acts->count && acts->acts[i].kind == TB_ACT_KNOT;
}

/* "sl st into loop, *ch 7, sc in next loop": the round goes on from there with a loop. */
static bool opens_with_loop(const tb_hands *h, const tb_acts *acts, unsigned i)
{
	const tb_act *next = &acts->acts[i];
	if (h->sentence->is_round && begins_with_knot(acts, i))
		return true;
	return h->sentence->is_round && next->kind == TB_ACT_REPEAT && next->body.count > 1 &&
		next->body.acts[0].kind == TB_ACT_CHAIN && next->body.acts[0].counts == TB_COUNTS_UNSAID &&
		tb_hands_number(h, &next->body.acts[0].count, 1) > 1;
}

static bool is_into_space(const tb_act *act)
{
	const tb_place *place = act->place.in == TB_IN_PART && act->place.of != NULL ? act->place.of : &act->place;
	/* "sl st in next 2 ch" is as far into it */
	return place->target == TB_TARGET_SPACE || place->target == TB_TARGET_CHAIN || place->in == TB_IN_BETWEEN;
}

/* "sl st to center of loop, sc in same loop, *ch 5, …": the round goes on from there with a stitch. */
static bool opens_with_stitch(const tb_hands *h, const tb_act *next)
{
	return h->sentence->is_round && next->kind == TB_ACT_WORK && next->stitch != NULL &&
		next->stitch != h->working->slip &&
		(next->place.in == TB_IN_SAME || (next->place.unordered && is_into_space(next - 1)));
}

/*
 * "sl st to center of shell, shell over shell, *ch 5, …": over the one the hook stands in; or "shell in same
 * sp".
 */
static bool opens_with_shell(const tb_hands *h, const tb_act *next)
{
	const tb_place *to = &(next - 1)->place;
	if (h->sentence->is_round && next->kind == TB_ACT_GROUP && next->own != NULL && next->place.in == TB_IN_SAME)
		return true;
	return h->sentence->is_round && next->kind == TB_ACT_GROUP && next->place.unordered &&
		next->place.target == TB_TARGET_GROUP && (to->target == TB_TARGET_GROUP ||
		(to->of != NULL && to->of->target == TB_TARGET_GROUP));
}

/* "Sl st in next loop, in each loop around make …": the one slipped into is the first of them. */
static bool opens_in_each(const tb_hands *h, const tb_act *next)
{
	const tb_place *slipped = &(next - 1)->place;
	return h->sentence->is_round && (next->kind == TB_ACT_GROUP || next->kind == TB_ACT_WORK) &&
		next->place.in == TB_IN_EACH && next->place.target == TB_TARGET_SPACE && next->place.of == NULL &&
		slipped->target == TB_TARGET_SPACE && (slipped->in == TB_IN_NEXT || slipped->in == TB_IN_FIRST);
}

unsigned tb_travel_find(tb_hands *h, const tb_acts *acts)
{
	unsigned i = 0, slips = 0;
	/* "ch 1, turn, sl st in first 4 sts": that chain stands for nothing */
	while (i < acts->count && (acts->acts[i].kind == TB_ACT_TURN ||
		(acts->acts[i].kind == TB_ACT_CHAIN && acts->acts[i].counts != TB_COUNTS &&
			tb_hands_number(h, &acts->acts[i].count, 1) == 1)))
		i++;
	/* "sk next 3 sts, sl st in next st, sc in same st" */
	while (i + 1 < acts->count && acts->acts[i].kind == TB_ACT_SKIP)
		i++;
	for (; i < acts->count && tb_slips_travel(h, &acts->acts[i]); i++)
		slips++;
	if (slips == 0 || i == acts->count || h->cloth.rows->len < 2)
		return 0;
	const tb_act *next = &acts->acts[i];
	if (opens_with_loop(h, acts, i) || opens_with_stitch(h, next) || opens_with_shell(h, next) ||
		opens_in_each(h, next))
		return i;
	/* at the beginning of a row they leave unworked what they pass over, as at an armhole */
	if (!h->sentence->is_round && next->kind == TB_ACT_WORK && next->stitch != h->working->slip)
		return tb_slips_are_cloth(h, acts, i) ? 0 : i;
	/* "sl st in corner sp, (ch 3, 2 dc) in corner sp" is in that corner */
	bool there = next->place.in == TB_IN_SAME || (next->place.unordered && is_into_space(next - 1));
	/* "sl st in next sp, (beg cl, ch 2, cl) in same sp" */
	if (h->sentence->is_round && next->kind == TB_ACT_GROUP && next->place.in == TB_IN_SAME && is_into_space(next - 1))
		return i;
	if (next->kind == TB_ACT_GROUP && there && next->body.count > 0)
		return tb_travel_is_turning(h, &next->body, 0) ? i : 0;
	return tb_travel_is_turning(h, acts, i) ? i : 0;
}

void tb_travel_set_out(tb_hands *h)
{
	if (h->now.travel == 0 || h->row < 2 || !h->sentence->is_round || tb_place_count(h) == 0)
		return;
	const tb_act *first = &h->sentence->acts.acts[0];
	const tb_place *up_to = first->place.up_to;
	if (up_to != NULL && tb_place_matches(h, up_to, 0))
		return; /* "sl st to loop", and the round begins with one */
	if (first->kind == TB_ACT_WORK && (first->place.in == TB_IN_NEXT || first->place.in == TB_IN_EACH) &&
		tb_place_is_plain(h, &first->place) && tb_place_was_joined(h))
		h->cursor.due = 1;
}

bool tb_travel_is_back(const tb_hands *h)
{
	return (h->now.stood > 0 || h->now.keeps_stand) && tb_place_passes_again(h, tb_place_count(h) - h->now.stood);
}

/* The place the hook stands in: the one before the next, all the chains of a space. */
static guint32 find_stand(const tb_hands *h)
{
	guint32 stand = h->cursor.due - 1;
	/* "sl st to center of shell": the rest of that shell was passed over */
	for (guint32 i = stand + 1; i-- > 0 && h->cursor.last.count == 1;) {
		if (tb_hands_place(h, i) == h->cursor.last.bases[0]) {
			stand = i;
			break;
		}
	}
	bool in_chain = (tb_hands_made(h, tb_hands_place(h, stand))->flags & TB_MADE_CHAIN) != 0;
	if (!(h->cursor.last.flags & TB_MADE_IN_SPACE) && !in_chain)
		return stand;
	while (
		stand > 0 && (tb_hands_made(h, tb_hands_place(h, stand - 1))->flags & TB_MADE_CHAIN) != 0)
		stand--;
	return stand;
}

void tb_travel_arrive(tb_hands *h)
{
	tb_cursor *c = &h->cursor;
	for (guint32 i = tb_hands_row(h, h->row)->first; i < h->cloth.made->len; i++) {
		if (!(tb_hands_made(h, i)->flags & TB_MADE_TURNING))
			tb_hands_made(h, i)->flags &= (guint8)~TB_MADE_COUNTED;
	}
	h->now.begun = h->cloth.made->len;
	h->now.travelled = true;
	c->last.behind = TB_NONE;
	c->last.flags &= TB_MADE_IN_SPACE;
	if (c->due == 0)
		return;
	c->first = find_stand(h);
	if (tb_hands_made(h, tb_hands_place(h, c->first))->flags & TB_MADE_CHAIN && h->row > 1) {
		/* along the chains of a space is into it */
		guint32 end = c->first;
		while (end < tb_place_count(h) &&
			(tb_hands_made(h, tb_hands_place(h, end))->flags & TB_MADE_CHAIN) != 0)
			end++;
		c->due = end;
		c->last.bases[0] = MIN(tb_hands_place(h, c->first), tb_hands_place(h, end - 1));
		c->last.count = 1;
		c->last.rows_below = 1;
		c->last.flags = TB_MADE_IN_SPACE;
	}
	if (h->sentence->is_round && opens_with_loop(h, &h->sentence->acts, h->now.travel)) {
		/* the place the hook stands in is the last one worked */
		h->now.stood = c->due;
		h->now.stands_in = c->due - MIN(c->first, c->due);
		tb_place_rotate(h, c->due);
		c->first = 0;
	} else if (h->sentence->is_round) {
		h->now.slipped = c->first;
		tb_place_rotate(h, c->first);
		c->first = 0;
	}
	if (h->now.travel > 0 && opens_in_each(h, &h->sentence->acts.acts[h->now.travel]))
		c->due = c->first;
}

/*
 * "Double knot st, skip 2 dc, sc in next dc": a knot stands up where the hook is, in the first place of
 * a round, and the last one comes back to it.
 */
void tb_travel_begin_with_knot(tb_hands *h)
{
	if (!h->sentence->is_round || h->row < 2 || h->now.travel > 0 || h->now.travelled ||
		tb_place_count(h) == 0 || !begins_with_knot(&h->sentence->acts, 0))
		return;
	tb_place_rotate(h, 1);
	h->now.stands_on_last = true;
}

/* What is said behind the act now worked: the first that makes or places something, or NULL. */
static const tb_act *next_act(const tb_hands *h)
{
	for (unsigned i = 0; i < h->now.next_acts.count; i++) {
		tb_act_kind kind = h->now.next_acts.acts[i].kind;
		if (kind != TB_ACT_LOOPS && kind != TB_ACT_DO_NOT_TURN && kind != TB_ACT_CLAIM)
			return &h->now.next_acts.acts[i];
	}
	return NULL;
}

bool tb_travel_turns_over(const tb_hands *h)
{
	const tb_act *next = next_act(h);
	if (h->row != 1 || h->start.grown || h->start.is_ring || h->start.is_tube || h->now.other_side || next == NULL ||
		tb_place_count(h) == 0 || h->cursor.due < tb_place_count(h))
		return false;
	bool works = next->kind == TB_ACT_WORK || next->kind == TB_ACT_GROUP;
	return next->kind == TB_ACT_OTHER_SIDE || next->kind == TB_ACT_REPEAT ||
		(works && (next->place.in == TB_IN_NEXT || next->place.in == TB_IN_EACH ||
			next->place.in == TB_IN_FIRST || next->place.in == TB_IN_LAST) &&
			(next->place.target == TB_TARGET_STITCH || next->place.target == TB_TARGET_CHAIN));
}

/* Whether the last chain of the first side holds one stitch alone: its other side is free as well. */
static bool is_last_free(const tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	guint32 last = tb_hands_place(h, tb_place_count(h) - 1);
	unsigned held = 0;
	for (guint32 i = row->first; i < h->cloth.made->len; i++) {
		const tb_made *made = tb_hands_made(h, i);
		held += made->base_count > 0 && tb_hands_base(h, made, 0) == last;
	}
	return held < 2;
}

/* The chains of the foundation from the one before END back to BEGIN, in that order. */
static void lay_back(tb_hands *h, guint32 begin, guint32 end)
{
	g_autoptr(GArray) back = g_array_new(FALSE, FALSE, sizeof(guint32));
	for (guint32 i = end; i-- > begin;)
		g_array_append_val(back, g_array_index(h->now.places, guint32, i));
	g_array_set_size(h->now.places, 0);
	g_array_append_vals(h->now.places, back->data, back->len);
}

/* Where among the places the first stitch of the row went, COUNT when none did. */
static guint32 find_begin(const tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	guint32 begin = TB_NONE, place = 0;
	for (guint32 i = row->first; i < h->cloth.made->len && begin == TB_NONE; i++) {
		const tb_made *made = tb_hands_made(h, i);
		/* a picot's is in its own row */
		if (made->base_count > 0 && tb_hands_base(h, made, 0) < row->first)
			begin = tb_hands_base(h, made, 0);
	}
	while (place < tb_place_count(h) && tb_hands_place(h, place) != begin)
		place++;
	return place;
}

void tb_travel_other_side(tb_hands *h, const tb_act *act)
{
	tb_cursor *c = &h->cursor;
	guint32 count = tb_place_count(h);
	const tb_act *next = next_act(h);
	if (act->bare && (!tb_travel_turns_over(h) || next->kind == TB_ACT_OTHER_SIDE))
		return;
	/* a border has come along the side to it */
	if (h->row > 1 && c->edges > 0 && tb_edge_is_border(h))
		return;
	/* "rotate, sc in next 6 ch along the other side": that is where the hook is */
	if (h->now.turned_over && !act->bare)
		return;
	if (h->row != 1 || h->start.grown || h->start.is_ring || h->start.is_tube || h->now.other_side) {
		tb_hands_give_up(h, "other-side", act->span,
			"Work along it in row 1, where the foundation chain is turned around.",
			"the other side of the foundation chain is not reached here");
		return;
	}
	if (c->due < count)
		tb_hands_tell(h, TB_ERROR, "unworked", act->span,
			"Work this side of the chain to its end first.",
			"%u ch %s left unworked before the other side is begun", count - c->due,
			count - c->due == 1 ? "is" : "are");
	h->now.first_side = 0;
	for (guint32 i = tb_hands_row(h, 1)->first; i < h->cloth.made->len; i++)
		h->now.first_side += (tb_hands_made(h, i)->flags & TB_MADE_COUNTED) != 0;
	guint32 begin = find_begin(h);
	bool free = count > begin + 1 && c->due >= count && is_last_free(h);
	lay_back(h, begin, count > begin && !free ? count - 1 : MAX(count, begin));
	h->now.other_side = true;
	h->now.turned_over = act->bare;
	/* the chain the round began in holds stitches already; some books put more there, others not */
	bool to_end = free && next != NULL && next->kind == TB_ACT_WORK && next->place.in == TB_IN_EACH;
	h->now.spare = to_end ? 0 : MIN(1, tb_place_count(h));
	c->due = c->first = c->skipped_from = c->skipped_count = 0;
	c->in_space = false;
}

