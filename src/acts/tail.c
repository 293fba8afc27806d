/* The acts that only end a row and begin the next: "ch 3, turn". */
#include "acts/tail.h"
#include "acts/turning.h"

static bool slips_to_first(const tb_hands *h, const tb_act *act)
{
	return act->kind == TB_ACT_WORK && act->stitch == h->working->slip &&
		(act->place.in == TB_IN_FIRST || act->place.begun || act->place.at_begin);
}

/* "join, ch 1": chains behind the join begin the next round; a longer one is a cord. */
static unsigned find_joined_tail(const tb_hands *h, const tb_acts *acts)
{
	unsigned tail = acts->count;
	while (tail > 0 && acts->acts[tail - 1].kind == TB_ACT_CHAIN &&
		tb_hands_number(h, &acts->acts[tail - 1].count, 1) <= TB_MOST_TURNING)
		tail--;
	const tb_act *last = tail > 0 ? &acts->acts[tail - 1] : NULL;
	return last != NULL && (last->kind == TB_ACT_JOIN || (h->sentence->is_round && slips_to_first(h, last))) ? tail : acts->count;
}

unsigned tb_tail_find(const tb_hands *h, const tb_acts *acts)
{
	unsigned tail = acts->count, from = acts->count;
	while (from > 0) {
		tb_act_kind kind = acts->acts[from - 1].kind;
		if (kind != TB_ACT_TURN && kind != TB_ACT_CHAIN && kind != TB_ACT_LEAVE &&
			kind != TB_ACT_FASTEN_OFF && kind != TB_ACT_CANNOT && kind != TB_ACT_DO_NOT_JOIN)
			break;
		from--;
		if (kind == TB_ACT_TURN)
			tail = from;
	}
	/* chains before the turn belong to it */
	while (tail < acts->count && tail > from && acts->acts[tail - 1].kind == TB_ACT_CHAIN)
		tail--;
	return tail == acts->count ? find_joined_tail(h, acts) : tail;
}

tb_acts tb_tail_chains(const tb_hands *h)
{
	const tb_acts *acts = &h->sentence->acts;
	for (unsigned i = h->now.tail; i > 0 && i < acts->count; i++) {
		if (acts->acts[i].kind == TB_ACT_CHAIN)
			return (tb_acts){&acts->acts[i], acts->count - i};
	}
	return (tb_acts){NULL, 0};
}

/*
 * "8th row. …, ch 3, turn. Repeat the 8th row 5 times. 14th row. Ch 1, sc in each dc": the repeated row's last
 * chain was for one more like it, and gives way to the one that the new row itself begins with.
 */
static bool is_replaced(const tb_hands *h, const tb_act *pending)
{
	const tb_acts *acts = &h->sentence->acts;
	const tb_act *own = acts->count > 0 ? &acts->acts[0] : NULL;
	if (h->row < 3 || own == NULL || own->kind != TB_ACT_CHAIN || own->hyphen || own->squares || h->now.first_work == NULL)
		return false;
	const tb_sentence *last = tb_hands_row(h, h->row - 1)->sentence;
	unsigned count = tb_hands_number(h, &own->count, 1), tall = tb_stitch_chains(h->now.first_work->stitch);
	return last != NULL && last == tb_hands_row(h, h->row - 2)->sentence && last != h->sentence &&
		count == MAX(tall, 1) && count != tb_hands_number(h, &pending->count, 1);
}

void tb_tail_begin(tb_hands *h)
{
	if (h->now.pending.count == 0 || !is_replaced(h, &h->now.pending.acts[0])) {
		tb_turning_pending(h);
		return;
	}
	tb_hands_tell(h, TB_WARNING, "turning-chain-twice", h->sentence->acts.acts[0].span,
		"Say at the last of the repeated rows that it is not chained.",
		"the row before ended with another turning chain; this one is worked in its place");
	h->now.pending = (tb_acts){NULL, 0};
}
