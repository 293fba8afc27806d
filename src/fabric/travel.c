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
#include "fabric/hands.h"

/* One slip stitch in each of some places, one after another. */
static bool is_travelling(const tb_hands *h, const tb_act *act)
{
	return act->kind == TB_ACT_WORK && act->stitch == h->working->slip &&
		   (act->place.in == TB_IN_NEXT || act->place.in == TB_IN_FIRST ||
			   (act->place.in == TB_IN_EACH && act->place.up_to != NULL)) &&
		   tb_hands_number(h, &act->each, 1) == 1;
}

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
	return work != NULL && work->stitch != h->working->slip && work->stitch->height >= 1 &&
		   tb_hands_number(h, &act->count, 1) == (unsigned)(work->stitch->height + 0.5);
}

unsigned tb_travel_find(const tb_hands *h, const tb_acts *acts)
{
	unsigned i = 0, slips = 0;
	while (i < acts->count && acts->acts[i].kind == TB_ACT_TURN)
		i++;
	for (; i < acts->count && is_travelling(h, &acts->acts[i]); i++)
		slips++;
	if (slips == 0 || i == acts->count)
		return 0;
	const tb_act *next = &acts->acts[i];
	if (next->kind == TB_ACT_GROUP && next->place.in == TB_IN_SAME && next->body.count > 0)
		return tb_travel_is_turning(h, &next->body, 0) ? i : 0;
	return tb_travel_is_turning(h, acts, i) ? i : 0;
}

/* Whether the round below was closed by a join, so that its first stitch holds the hook. */
static bool was_joined(const tb_hands *h)
{
	const tb_sentence *below = tb_hands_row(h, h->row - 1)->sentence;
	for (unsigned i = 0; below != NULL && i < below->acts.count; i++) {
		if (below->acts.acts[i].kind == TB_ACT_JOIN)
			return true;
	}
	return false;
}

void tb_travel_set_out(tb_hands *h)
{
	const tb_act *first = &h->sentence->acts.acts[0];
	if (h->travel > 0 && h->row > 1 && h->sentence->is_round &&
		(first->place.in == TB_IN_NEXT || first->place.in == TB_IN_EACH) &&
		tb_place_is_plain(h, &first->place) && was_joined(h))
		h->cursor.due = MIN(1, tb_place_count(h));
}

/* The place the hook stands in: the one before the next, all the chains of a space. */
static guint32 find_stand(const tb_hands *h)
{
	guint32 stand = h->cursor.due - 1;
	if (!(h->cursor.last.flags & TB_MADE_IN_SPACE))
		return stand;
	while (
		stand > 0 && (tb_hands_made(h, tb_hands_place(h, stand - 1))->flags & TB_MADE_CHAIN) != 0)
		stand--;
	return stand;
}

/* The places of a round from FIRST on, and then those before it. */
static void rotate(tb_hands *h, guint32 first)
{
	guint32 count = tb_place_count(h);
	g_autofree guint32 *before = g_memdup2(h->places->data, first * sizeof(guint32));
	g_array_remove_range(h->places, 0, first);
	if (first > 0)
		g_array_append_vals(h->places, before, first);
	if (h->turning_place != TB_NONE)
		h->turning_place = (h->turning_place + count - first) % count;
	h->cursor.due -= first;
}

void tb_travel_arrive(tb_hands *h)
{
	tb_cursor *c = &h->cursor;
	for (guint32 i = tb_hands_row(h, h->row)->first; i < h->made->len; i++) {
		if (!(tb_hands_made(h, i)->flags & TB_MADE_TURNING))
			tb_hands_made(h, i)->flags &= (guint8)~TB_MADE_COUNTED;
	}
	h->begun = h->made->len;
	h->travelled = true;
	c->last.behind = TB_NONE;
	c->last.flags &= TB_MADE_IN_SPACE;
	if (c->due == 0)
		return;
	c->first = find_stand(h);
	if (h->sentence->is_round) {
		rotate(h, c->first);
		c->first = 0;
	}
}

/* The chains of the foundation from the one before END back to BEGIN, in that order. */
static void lay_back(tb_hands *h, guint32 begin, guint32 end)
{
	g_autoptr(GArray) back = g_array_new(FALSE, FALSE, sizeof(guint32));
	for (guint32 i = end; i-- > begin;)
		g_array_append_val(back, g_array_index(h->places, guint32, i));
	g_array_set_size(h->places, 0);
	g_array_append_vals(h->places, back->data, back->len);
}

/* Where among the places the first stitch of the row went, COUNT when none did. */
static guint32 find_begin(const tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	guint32 begin = TB_NONE, place = 0;
	for (guint32 i = row->first; i < h->made->len && begin == TB_NONE; i++) {
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
	if (h->row != 1 || h->grown || h->is_ring || h->is_tube || h->other_side) {
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
	guint32 begin = find_begin(h);
	lay_back(h, begin, count > begin ? count - 1 : begin);
	h->other_side = true;
	/* the chain the round began in holds stitches already; some books put more there, others not */
	h->spare = MIN(1, tb_place_count(h));
	c->due = c->first = c->skipped_from = c->skipped_count = 0;
	c->in_space = false;
}
