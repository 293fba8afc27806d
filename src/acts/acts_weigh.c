/* What is hardly ever meant, though it comes out: it makes a reading less likely. */
#include "acts/acts.h"

/*
 * "2 dc, ch 1, 2 dc in next st", "in next st work 2 dc, ch 1, 2 dc": all of it is meant to go in there. That
 * half of it goes into stitches of its own, and as many more into one, is hardly ever so.
 */
static void weigh_halves(tb_hands *h, const tb_acts *acts, unsigned i)
{
	const tb_act *first = &acts->acts[i], *last = first + 2;
	if (i + 2 >= acts->count || first->kind != TB_ACT_WORK || first[1].kind != TB_ACT_CHAIN || first[1].hyphen ||
		last->kind != TB_ACT_WORK || last->stitch != first->stitch || last->bare == first->bare)
		return;
	const tb_act *placed = last->bare ? first : last, *bare = last->bare ? last : first;
	const tb_place *place = &placed->place;
	unsigned many = tb_hands_number(h, &bare->place.count, 1);
	bool is_one = place->in == TB_IN_SAME || place->in == TB_IN_EACH || tb_hands_number(h, &place->count, 1) == 1;
	/* what has its place behind it has no more of it */
	bool leads = !last->bare || (place->span.end > 0 && place->span.start <= placed->span.start + 4 &&
		place->span.end < placed->span.end);
	if (is_one && leads && bare->place.in == TB_IN_NEXT && many > 1 &&
		many == tb_hands_number(h, &placed->each, 1))
		h->cursor.odd += 2;
}

/* "Dc in each dc, 2 dc in each sp": both as they come; hardly that all dc come first, and then one sp. */
static void weigh_each(tb_hands *h, const tb_act *act, const tb_act *next)
{
	bool to_end = act->kind == TB_ACT_WORK && act->place.in == TB_IN_EACH && act->place.up_to == NULL &&
		act->place.of == NULL && tb_hands_number(h, &act->place.count, 0) == 0;
	if (to_end && (next->kind == TB_ACT_WORK || next->kind == TB_ACT_GROUP) && next->place.in == TB_IN_EACH &&
		next->place.up_to == NULL)
		h->cursor.odd += 2;
}

/* "… to end. 27 (30, 32) sc" behind all else is a count, hardly so many stitches more. */
static void weigh_last(tb_hands *h, const tb_act *act)
{
	const tb_acts *row = &h->sentence->acts;
	bool last = act > row->acts && act + 1 >= row->acts + h->now.tail && act < row->acts + row->count;
	if (last && act->kind == TB_ACT_WORK && act->bare && act->place.count.count > 1)
		h->cursor.odd += 4;
}

void tb_acts_weigh(tb_hands *h, const tb_acts *acts, unsigned i)
{
	weigh_last(h, &acts->acts[i]);
	weigh_halves(h, acts, i);
	if (i + 1 < acts->count)
		weigh_each(h, &acts->acts[i], &acts->acts[i + 1]);
}
