/*
 * Markers in stitches.
 *
 * "Mark the center st", "place a marker in the sc3tog": the stitch is kept in mind, and a later row finds it
 * where it says "to 1 st before the marked st". Nobody says each time that the marker moves up: it is taken
 * to, into the one stitch, or the middle one of several, that stands on the marked one. The markers of the
 * last row that has any are those that are meant.
 */
#include "fabric/mark.h"
#include "fabric/place.h"

static guint32 marked(const tb_hands *h, guint i)
{
	return g_array_index(h->cloth.marks, guint32, i);
}

void tb_mark_forget(tb_hands *h)
{
	while (h->cloth.marks->len > 0 && marked(h, h->cloth.marks->len - 1) >= h->cloth.made->len)
		g_array_set_size(h->cloth.marks, h->cloth.marks->len - 1);
}

bool tb_mark_any(const tb_hands *h)
{
	return h->cloth.marks->len > 0;
}

static bool is_counted(const tb_hands *h, guint32 i)
{
	return (tb_hands_made(h, i)->flags & TB_MADE_COUNTED) != 0;
}

/* Where what was just made in one place begins: END is behind it. */
static guint32 begin_of_last(const tb_hands *h, guint32 first, guint32 end)
{
	guint32 begin = end - 1;
	guint16 group = tb_hands_made(h, begin)->group;
	while (group != 0 && begin > first && tb_hands_made(h, begin - 1)->group == group)
		begin--;
	return begin;
}

/* The NTH stitch of the row, of the kind OF if that is said; 0: the middle one, where there is one. */
static guint32 nth_of_row(const tb_hands *h, guint32 first, unsigned nth, const tb_stitch *of)
{
	guint32 many = 0, at = 0;
	for (guint32 i = first; i < h->cloth.made->len; i++)
		many += is_counted(h, i) && (of == NULL || tb_place_is_kind(h, i, of));
	tb_hands_look(h, h->cloth.made->len - first);
	if (nth == 0 && many % 2 == 0)
		return TB_NONE;
	nth = nth == 0 ? many / 2 + 1 : nth;
	for (guint32 i = first; i < h->cloth.made->len && nth <= many; i++) {
		at += is_counted(h, i) && (of == NULL || tb_place_is_kind(h, i, of));
		if (at == nth)
			return i;
	}
	return TB_NONE;
}

void tb_mark_put(tb_hands *h, const tb_act *act)
{
	guint32 first = MAX(h->now.begun, tb_hands_row(h, h->row)->first), end = h->cloth.made->len, at = TB_NONE;
	while (end > first && !is_counted(h, end - 1))
		end--;
	if (end == first)
		return;
	guint32 begin = begin_of_last(h, first, end), many = end - begin;
	switch (act->mark) {
	case TB_MARK_LAST:
		at = end - 1;
		break;
	case TB_MARK_MIDDLE:
		/* "3 sc in next st, mark the center st" is one of those; behind the row's other work it is the row's */
		at = many > 1 ? (many % 2 == 1 ? begin + many / 2 : TB_NONE) :
			nth_of_row(h, tb_hands_row(h, h->row)->first, 0, NULL);
		break;
	case TB_MARK_AMONG:
		at = act->mark_nth > 0 && act->mark_nth <= many ? begin + act->mark_nth - 1 : TB_NONE;
		break;
	case TB_MARK_NTH:
		at = nth_of_row(h, tb_hands_row(h, h->row)->first, MAX(act->mark_nth, 1), act->mark_of);
		break;
	case TB_MARK_CENTRAL:
	case TB_MARK_NONE:
		break;
	}
	if (at != TB_NONE)
		g_array_append_val(h->cloth.marks, at);
}

/* The stitch of row TO that stands on AT, or in the middle of several that do; TB_NONE where none does. */
static guint32 move_up(const tb_hands *h, guint32 at, guint32 to)
{
	while (at != TB_NONE && tb_hands_made(h, at)->row < to) {
		const tb_made_row *row = tb_hands_row(h, tb_hands_made(h, at)->row + 1);
		guint32 first = TB_NONE, last = TB_NONE, many = 0;
		guint32 end = row->first + row->count;
		for (guint32 i = row->first; i < end; i++) {
			const tb_made *made = tb_hands_made(h, i);
			bool on = false;
			for (unsigned k = 0; k < made->base_count && !on; k++)
				on = tb_hands_base(h, made, k) == at;
			if (on && is_counted(h, i)) {
				first = first == TB_NONE ? i : first;
				last = i;
				many++;
			}
		}
		tb_hands_look(h, row->count);
		at = many % 2 == 1 && last - first + 1 == many ? first + many / 2 : TB_NONE;
	}
	return at;
}

/* The last of the rows up to ROW in which markers were put. */
static guint32 last_marked(const tb_hands *h, guint32 row)
{
	guint32 of = 0;
	for (guint i = 0; i < h->cloth.marks->len; i++) {
		guint32 at = tb_hands_made(h, marked(h, i))->row;
		if (at <= row)
			of = MAX(of, at);
	}
	return of;
}

unsigned tb_mark_list(const tb_hands *h, guint32 row, guint32 *at, unsigned most)
{
	unsigned many = 0;
	guint32 of = last_marked(h, row);
	for (guint i = 0; i < h->cloth.marks->len && many < most; i++) {
		guint32 mark = marked(h, i);
		at[many] = tb_hands_made(h, mark)->row == of ? move_up(h, mark, row) : TB_NONE;
		many += at[many] != TB_NONE;
	}
	return many;
}

bool tb_mark_find(const tb_hands *h, guint32 from, guint32 *place)
{
	guint32 count = tb_place_count(h);
	if (count == 0)
		return false;
	guint32 below = h->row - 1, of = last_marked(h, below);
	*place = TB_NONE;
	for (guint i = 0; i < h->cloth.marks->len; i++) {
		guint32 at = marked(h, i);
		at = tb_hands_made(h, at)->row == of ? move_up(h, at, below) : TB_NONE;
		for (guint32 p = from; at != TB_NONE && p < count && p < *place; p++) {
			if (tb_hands_place(h, p) == at)
				*place = p;
		}
		tb_hands_look(h, count);
	}
	return *place != TB_NONE;
}

bool tb_mark_find_end(const tb_hands *h, const tb_place *up_to, guint32 *limit)
{
	guint32 at, due = h->cursor.due;
	if (!tb_mark_find(h, due, &at) || at < due + up_to->short_of)
		return false;
	*limit = at - up_to->short_of + up_to->with_it;
	return true;
}

bool tb_mark_take(tb_hands *h, const tb_act *act, const tb_stitch *stitch, unsigned takes, tb_footing *footing)
{
	/* "sc3tog over the marked st": that is the middle one of those it takes */
	guint32 due = h->cursor.due, at, before = takes > 1 ? (takes - 1) / 2 : 0;
	bool found = tb_mark_find(h, due, &at) && at >= due + before && at - before + takes <= tb_place_count(h);
	if (!found || (stitch->post != TB_POST_NONE && !tb_place_has_post(h, tb_hands_place(h, at)))) {
		tb_place_tell_none(h, act, stitch, 0);
		return false;
	}
	tb_place_warn_passed(h, act, at - before);
	for (unsigned leg = 0; leg < MIN(takes, TB_MOST_BASES); leg++)
		footing->bases[footing->count++] = tb_hands_place(h, at - before + leg);
	footing->rows_below = 1;
	h->cursor.due = at - before + takes;
	return true;
}
