/* Where a round closes: what goes to its beginning, and what is passed over before that. */
#include "places/place.h"

/*
 * Whether the places from FROM on are the chains of one space; the stitches that slip stitches went over
 * to where the round begins are worked.
 */
static bool is_one_space(const tb_hands *h, guint32 from)
{
	guint32 count = tb_place_count(h);
	count -= from < count - MIN(h->now.slipped, count) ? MIN(h->now.slipped, count) : 0;
	for (guint32 i = from; i < count; i++) {
		const tb_made *made = tb_hands_made(h, tb_hands_place(h, i));
		if (!(made->flags & TB_MADE_CHAIN) || made->flags & TB_MADE_TURNING || h->row < 2)
			return false;
	}
	return from > 0 && from < count;
}

/* Where among the places the stitch I of this row stands; TB_NONE where it stands on none of them. */
static guint32 find_foot(const tb_hands *h, guint32 i)
{
	const tb_made *made = tb_hands_made(h, i);
	tb_hands_look(h, tb_place_count(h));
	for (guint32 at = 0; at < tb_place_count(h) && made->base_count == 1; at++) {
		if (tb_hands_place(h, at) == tb_hands_base(h, made, 0))
			return at;
	}
	return TB_NONE;
}

/* The last stitch made before END that is no chain; the chains behind it are counted. */
static guint32 find_before(const tb_hands *h, guint32 end, guint32 *chains)
{
	guint32 i = end;
	while (i > h->now.begun && (tb_hands_made(h, i - 1)->flags & TB_MADE_CHAIN))
		i--;
	*chains = end - i;
	return i > h->now.begun ? i - 1 : TB_NONE;
}

/* The first stitch of the group that I is one of; I itself where it is of none. */
static guint32 begin_of_group(const tb_hands *h, guint32 i)
{
	guint16 group = i != TB_NONE ? tb_hands_made(h, i)->group : 0;
	while (group != 0 && i > h->now.begun && tb_hands_made(h, i - 1)->group == group)
		i--;
	return i;
}

bool tb_place_closes_evenly(const tb_hands *h, guint32 chains)
{
	guint32 over, over_before = 0;
	guint32 last = begin_of_group(h, find_before(h, h->cloth.made->len, &over));
	guint32 before = last != TB_NONE ? begin_of_group(h, find_before(h, last, &over_before)) : TB_NONE;
	over += chains;
	if (before == TB_NONE || over == 0 || over != over_before ||
		!(tb_hands_made(h, last)->flags & TB_MADE_COUNTED))
		return false;
	/* the chain that a round of sc begins with stands on nothing */
	guint32 begin = h->now.begun;
	while (begin < last && !(tb_hands_made(h, begin)->flags & TB_MADE_COUNTED))
		begin++;
	guint32 foot = find_foot(h, last), foot_before = find_foot(h, before), first = find_foot(h, begin);
	if (foot == TB_NONE || foot_before == TB_NONE || first == TB_NONE || foot_before >= foot)
		return false;
	return foot - foot_before == tb_place_count(h) - foot + first;
}

/* Whether what was made last is three or more in one place: a shell lies over what is skipped beside it. */
static bool ends_in_shell(const tb_hands *h)
{
	guint32 end = h->cloth.made->len;
	return end > h->now.begun && end - begin_of_group(h, end - 1) > 2;
}

void tb_place_skip_before_join(tb_hands *h)
{
	tb_cursor *c = &h->cursor;
	bool chain = h->cloth.made->len > h->now.begun &&
		(tb_hands_made(h, h->cloth.made->len - 1)->flags & TB_MADE_CHAIN) != 0;
	if (chain)
		tb_place_leave_join(h);
	guint32 left = tb_place_count(h) - MIN(c->due, tb_place_count(h));
	if (h->sentence->is_round && left > 0 && chain && !c->in_space && is_one_space(h, c->due))
		c->due = tb_place_count(h);
	else if (h->sentence->is_round && left > 0 && chain && tb_place_closes_evenly(h, 0))
		c->due = tb_place_count(h);
	else if (h->sentence->is_round && left > 0 && left == c->usual_skip && (chain || c->usual_skip == 1 || ends_in_shell(h)))
		c->due = tb_place_count(h);
}

/*
 * "… ending with ch 3, tr in tr": the round began in a loop that a tr closed, and closes there. Where
 * another such stitch is left to be worked, that one is meant.
 */
static bool is_where_it_begins(const tb_hands *h, const tb_act *act)
{
	const tb_made_row *below = tb_hands_row(h, h->row - 1);
	const tb_place *place = &act->place;
	guint32 begin;
	return h->now.travelled && h->now.travel == 0 && h->row > 1 && below->loop > 0 && below->count > 0 &&
		(place->in == TB_IN_NEXT || place->in == TB_IN_LAST) && place->target == TB_TARGET_NAMED &&
		tb_hands_number(h, &place->count, 1) == 1 &&
		tb_place_is_kind(h, below->first + below->count - 1, place->named) &&
		!tb_place_find(h, place, &begin);
}

/* "… ending with ch 5, sl st in dc": the same, joined. */
static bool slips_to_beginning(const tb_hands *h, const tb_act *act)
{
	return act->kind == TB_ACT_WORK && act->stitch == h->working->slip && is_where_it_begins(h, act);
}

bool tb_place_may_close(const tb_hands *h, const tb_act *act)
{
	if (h->sentence->is_round && slips_to_beginning(h, act))
		return true;
	return h->sentence->is_round && act->kind == TB_ACT_WORK && act->stitch != h->working->slip &&
		((act->place.in == TB_IN_FIRST && !tb_place_is_begun_space(h, &act->place)) || act->place.at_begin || act->place.begun || tb_place_is_own_slip(h, act) ||
			is_where_it_begins(h, act) ||
			(act->place.target == TB_TARGET_TURNING_CHAIN && act->place.in == TB_IN_NEXT));
}
