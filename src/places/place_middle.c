/* The middle of stitches that stand side by side, or another that is told by where it stands among them. */
#include "places/place.h"

/* Where those side by side begin, some of which may be worked before FROM. */
static guint32 run_around(const tb_hands *h, const tb_place *place, guint32 from)
{
	while (from > 0 && tb_place_matches(h, place, from - 1))
		from--;
	return from;
}

/*
 * "5 dc in each loop" and then "in the middle one of the 5 dc": those in one place are the ones that are
 * counted, though others stand beside them. Whether place I begins, or is in, such a group, of MANY where that
 * is said; *END is behind it.
 */
static bool is_in_group(const tb_hands *h, const tb_place *place, guint32 i, unsigned many, guint32 *begin, guint32 *end)
{
	if (!tb_place_group(h, i, begin, end) || *end - *begin < 2 || (many > 0 && *end - *begin != many))
		return false;
	for (guint32 at = *begin; at < *end; at++) {
		if (!tb_place_matches(h, place, at))
			return false;
	}
	bool beside = (*begin > 0 && tb_place_matches(h, place, *begin - 1)) ||
		(*end < tb_place_count(h) && tb_place_matches(h, place, *end));
	return beside;
}

/* The middle one of such a group, or the one that is told by its number, at FROM or later. */
static bool find_in_groups(const tb_hands *h, const tb_place *place, guint32 from, unsigned many, guint32 *begin)
{
	guint32 count = tb_place_count(h), first, end;
	for (guint32 i = from; i < count; i++) {
		tb_hands_look(h, 1);
		if (!tb_place_matches(h, place, i) || !is_in_group(h, place, i, many, &first, &end))
			continue;
		guint32 size = end - first;
		bool told = place->nth > 0 ? place->nth <= size : size % 2 == 1;
		*begin = first + (place->nth > 0 ? place->nth - 1 : size / 2);
		if (told && *begin >= from)
			return true;
		i = end - 1;
	}
	return false;
}

/* "the middle dc", "the 2nd dc", of all that stand side by side: at FROM or later. */
static bool find_in_run(const tb_hands *h, const tb_place *place, guint32 from, guint32 *begin)
{
	guint32 count = tb_place_count(h);
	for (guint32 i = run_around(h, place, from), behind = i; i < count; i = behind + 1) {
		behind = i;
		while (behind < count && tb_place_matches(h, place, behind))
			behind++;
		tb_hands_look(h, behind - i + 1);
		guint32 many = behind - i;
		if (many == 0 || (place->nth == 0 && many % 2 == 0) || place->nth > many)
			continue;
		*begin = i + (place->nth > 0 ? place->nth - 1 : many / 2);
		if (*begin >= from)
			return true;
	}
	return false;
}

bool tb_place_stopped_at(const tb_hands *h, const tb_place *place, guint32 at)
{
	return h->cursor.stopped == at && at < tb_place_count(h) && tb_place_matches(h, place, at);
}

/* The middle one of COUNT stitches of the kind named that stand side by side, at FROM or later. */
static bool find_middle(const tb_hands *h, const tb_place *place, guint32 from, guint32 *begin)
{
	unsigned count = tb_hands_number(h, &place->count, 3), run = 0;
	if (count == 0 && place->nth == 0 && tb_place_stopped_at(h, place, from)) {
		*begin = from;
		return true;
	}
	if (find_in_groups(h, place, from, count, begin))
		return true;
	if (count == 0)
		return find_in_run(h, place, from, begin);
	for (guint32 i = place->nth > 0 ? run_around(h, place, from) : from; i < tb_place_count(h); i++) {
		run = tb_place_matches(h, place, i) ? run + 1 : 0;
		if (count > 0 && run == count) {
			tb_hands_look(h, i - from);
			*begin = place->nth > 0 ? i + place->nth - count : i - count / 2;
			if (*begin >= from || place->nth > count)
				return place->nth <= count;
			run = 0;
		}
	}
	tb_hands_look(h, tb_place_count(h) - MIN(from, tb_place_count(h)));
	return false;
}

/*
 * "the 3 centre dc": of those that stand side by side as many are left on either side. What was passed
 * over or worked of them before FROM belongs to them. "The 3 centre dc of the 5": so many are they. False where
 * no such middle lies before the hook.
 */
static bool find_centered(const tb_hands *h, const tb_place *place, guint32 from, guint32 *begin)
{
	guint32 count = (guint32)tb_hands_number(h, &place->count, 1), all = tb_place_count(h), i = from;
	while (i < all) {
		while (i < all && !tb_place_matches(h, place, i))
			i++;
		guint32 first = i, last = i;
		while (first > 0 && tb_place_matches(h, place, first - 1))
			first--;
		while (last < all && tb_place_matches(h, place, last))
			last++;
		tb_hands_look(h, last - MIN(first, from));
		guint32 run = last - first, start = first + (run - MIN(run, count)) / 2;
		if (run <= count || (run - count) % 2 != 0 || run == all || (place->nth > 0 && run != place->nth))
			return false;
		*begin = MAX(start, from);
		if (*begin < start + count)
			return true;
		i = last;
	}
	return false;
}

bool tb_place_find_in_round(const tb_hands *h, const tb_place *place, guint32 *begin)
{
	tb_place among = *place;
	among.middle = true;
	return h->sentence->is_round && find_middle(h, &among, h->cursor.due, begin);
}

bool tb_place_find_middle(const tb_hands *h, const tb_place *place, guint32 from, guint32 *begin)
{
	return place->middle ? find_middle(h, place, from, begin) : find_centered(h, place, from, begin);
}

guint32 tb_place_behind_rest(tb_hands *h, const tb_place *place, guint32 at, guint32 end)
{
	guint32 begin, behind;
	unsigned many = tb_hands_number(h, &place->count, 3);
	if (tb_place_is_within(h, place))
		return tb_place_behind_space(h, at, end);
	if (!place->middle || place->nth > 0 || tb_place_stopped_at(h, place, at) ||
		!is_in_group(h, place, at, many, &begin, &behind))
		return end;
	h->cursor.passed = behind;
	return tb_place_behind_middle(h, at, behind);
}
