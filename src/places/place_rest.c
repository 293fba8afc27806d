/*
 * What a round leaves before the place it began in. A round that began in the middle of a shell has the stitches
 * before that at its end; where it passed over the like of them before another such place, it passes over these.
 */
#include "places/place.h"

static bool is_chain(const tb_made *made)
{
	return (made->flags & TB_MADE_CHAIN) != 0 && !(made->flags & TB_MADE_TURNING);
}

/* A turning chain is as good as the stitch it stands for. */
static bool is_like(const tb_hands *h, guint32 one, guint32 other)
{
	const tb_made *a = tb_hands_made(h, tb_hands_place(h, one)), *b = tb_hands_made(h, tb_hands_place(h, other));
	if (is_chain(a) || is_chain(b))
		return is_chain(a) && is_chain(b);
	return (a->flags & TB_MADE_TURNING) || (b->flags & TB_MADE_TURNING) || a->stitch == b->stitch;
}

/* The stitches of the row below that this row stands on, as a set. */
static GHashTable *find_worked(const tb_hands *h)
{
	GHashTable *worked = g_hash_table_new(NULL, NULL);
	for (guint32 i = h->now.begun; i < h->cloth.made->len; i++) {
		const tb_made *made = tb_hands_made(h, i);
		for (unsigned leg = 0; leg < made->base_count; leg++)
			g_hash_table_add(worked, GUINT_TO_POINTER(tb_hands_base(h, made, leg)));
	}
	return worked;
}

/* Whether the place AT is worked into, or the space that begins there. */
static bool is_worked(const tb_hands *h, GHashTable *worked, guint32 at)
{
	do {
		if (g_hash_table_contains(worked, GUINT_TO_POINTER(tb_hands_place(h, at))))
			return true;
	} while (is_chain(tb_hands_made(h, tb_hands_place(h, at))) && ++at < tb_place_count(h) &&
		is_chain(tb_hands_made(h, tb_hands_place(h, at))));
	return false;
}

/* Whether what comes before the places ONE and OTHER is alike, and both are worked or neither is. */
static bool comes_alike(const tb_hands *h, GHashTable *worked, guint32 one, guint32 other)
{
	guint32 before[] = {one, other};
	if (one == 0 || other == 0 || !is_like(h, one - 1, other - 1))
		return false;
	for (unsigned i = 0; i < 2; i++) {
		before[i]--;
		/* a space is worked into where it begins */
		while (before[i] > 0 && is_chain(tb_hands_made(h, tb_hands_place(h, before[i]))) &&
			is_chain(tb_hands_made(h, tb_hands_place(h, before[i] - 1))))
			before[i]--;
	}
	return is_worked(h, worked, before[0]) == is_worked(h, worked, before[1]);
}

/* Whether a chain leads to what stands in the place AT, or in the space there. */
static bool is_after_chain(const tb_hands *h, guint32 at)
{
	guint32 end = at + 1;
	while (is_chain(tb_hands_made(h, tb_hands_place(h, at))) && end < tb_place_count(h) &&
		is_chain(tb_hands_made(h, tb_hands_place(h, end))))
		end++;
	for (guint32 i = h->now.begun; i < h->cloth.made->len; i++) {
		const tb_made *made = tb_hands_made(h, i);
		for (guint32 k = at; k < end && made->base_count == 1; k++) {
			if (made->base == tb_hands_place(h, k))
				return i > h->now.begun && is_chain(tb_hands_made(h, i - 1));
		}
	}
	return false;
}

/* Whether a chain leads to the end of the round, where it is joined. */
static bool ends_with_chain(const tb_hands *h)
{
	guint32 last = h->cloth.made->len;
	while (last > h->now.begun && tb_hands_stitch(h, tb_hands_made(h, last - 1)) == h->working->slip)
		last--;
	return last > h->now.begun && is_chain(tb_hands_made(h, last - 1));
}

bool tb_place_are_passed(const tb_hands *h, guint32 from, guint32 to)
{
	g_autoptr(GHashTable) worked = find_worked(h);
	tb_hands_look(h, h->cloth.made->len - h->now.begun);
	for (guint32 at = from; at < to; at++) {
		if (g_hash_table_contains(worked, GUINT_TO_POINTER(tb_hands_place(h, at))))
			return false;
	}
	return true;
}

bool tb_place_rest_is_passed_alike(const tb_hands *h, guint32 from)
{
	guint32 count = tb_place_count(h), length = count - MIN(from, count);
	if (!h->sentence->is_round || !h->now.travelled || length == 0 || from < length || h->now.slipped >= count)
		return false;
	g_autoptr(GHashTable) worked = find_worked(h);
	tb_hands_look(h, count + (h->cloth.made->len - h->now.begun));
	for (guint32 at = 0; at + length < from; at++) {
		guint32 same = 0;
		while (same < length && is_like(h, at + same, from + same) &&
			!g_hash_table_contains(worked, GUINT_TO_POINTER(tb_hands_place(h, at + same))))
			same++;
		tb_hands_look(h, same);
		/* and then the like of what the round began in */
		if (same == length && is_like(h, at + length, 0) && is_worked(h, worked, at + length) &&
			comes_alike(h, worked, at, from) && is_after_chain(h, at + length) == ends_with_chain(h) &&
			!(is_chain(tb_hands_made(h, tb_hands_place(h, at + length - 1))) &&
				is_chain(tb_hands_made(h, tb_hands_place(h, at + length)))))
			return true;
	}
	return false;
}

bool tb_place_rest_is_amid(const tb_hands *h, guint32 from)
{
	const tb_acts *acts = &h->sentence->acts;
	guint32 count = tb_place_count(h), begin, end;
	unsigned i = acts->count;
	while (i > 0 && acts->acts[i - 1].kind != TB_ACT_WORK && acts->acts[i - 1].kind != TB_ACT_GROUP &&
		acts->acts[i - 1].kind != TB_ACT_REPEAT)
		i--;
	return i > 0 && acts->acts[i - 1].place.in == TB_IN_EACH && acts->acts[i - 1].place.amid > 0 && from > 0 &&
		from < count && tb_place_group(h, from - 1, &begin, &end) && end == count;
}

bool tb_place_rest_is_between(const tb_hands *h, guint32 from)
{
	const tb_acts *acts = &h->sentence->acts;
	guint32 count = tb_place_count(h), first = count, last = 0, gap = 0, works = 0;
	bool each = false, even = true;
	for (unsigned i = 0; i < acts->count; i++) {
		const tb_act *act = &acts->acts[i];
		works += tb_act_is_work(act) && act->stitch != h->working->slip;
		each = each || (act->kind == TB_ACT_WORK && act->place.in == TB_IN_EACH && act->place.target == TB_TARGET_NAMED);
	}
	if (!h->sentence->is_round || !each || works != 1 || from >= count)
		return false;
	g_autoptr(GHashTable) worked = find_worked(h);
	tb_hands_look(h, count + (h->cloth.made->len - h->now.begun));
	for (guint32 at = 0; at < count; at++) {
		if (!g_hash_table_contains(worked, GUINT_TO_POINTER(tb_hands_place(h, at))))
			continue;
		even = even && (first == count || gap == 0 || at - last == gap);
		gap = first < count ? at - last : 0;
		first = MIN(first, at);
		last = at;
	}
	return even && gap > 1 && first + count - last == gap;
}

/*
 * Where the last place worked was a space, the stitches that border it are passed over as those
 * between two spaces are; a turning chain or another space is not.
 */
bool tb_place_rest_is_border(const tb_hands *h, guint32 from)
{
	guint32 count = tb_place_near_end(h);
	if (!h->cursor.in_space || h->cursor.beside_space || h->cursor.began_in_gap || (h->start.opening && h->row == 1))
		return false;
	/* those before the space a round began in border that one */
	if (h->cursor.last.count == 2 && !(h->sentence->is_round && h->now.travelled))
		return count - from <= 1; /* the gap before the last stitch */
	for (guint32 i = from; i < count; i++) {
		unsigned flags = tb_hands_made(h, tb_hands_place(h, i))->flags;
		/* a round that travelled to its beginning ends beside the turning chain below */
		bool edge = !h->sentence->is_round && i + 1 == count;
		if (flags & TB_MADE_CHAIN || (flags & TB_MADE_TURNING && !h->now.travelled && !edge))
			return false;
	}
	return true;
}
