/*
 * Markers in stitches, and between them.
 *
 * "Mark the center st", "place a marker in the sc3tog": the stitch is kept in mind, and a later row finds it
 * where it says "to 1 st before the marked st". Nobody says each time that the marker moves up: it is taken
 * to, into the one stitch, or the middle one of several, that stands on the marked one. The markers of the
 * last row that has any are those that are meant.
 *
 * "Hdc in next 9 sts, pm" is in the stitch just made, unless a row slips its markers: then they stand between
 * two stitches, and go up between what is worked on the one and on the other.
 */
#include "places/mark.h"
#include "places/place.h"

static guint32 marked(const tb_hands *h, guint i)
{
	return g_array_index(h->cloth.marks, tb_marked, i).made;
}

static void put(tb_hands *h, guint32 made, bool behind)
{
	tb_marked mark = {made, behind};
	if (made != TB_NONE)
		g_array_append_val(h->cloth.marks, mark);
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

static void put_one(tb_hands *h, const tb_act *act)
{
	guint32 first = MAX(h->now.begun, tb_hands_row(h, h->row)->first), end = h->cloth.made->len, at = TB_NONE;
	while (end > first && !is_counted(h, end - 1))
		end--;
	if (end == first)
		return;
	guint32 begin = begin_of_last(h, first, end), many = end - begin;
	switch (act->mark) {
	case TB_MARK_LAST:
	case TB_MARK_BEHIND:
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
	default:
		break;
	}
	put(h, at, act->mark == TB_MARK_BEHIND);
}

/* Whether ACTS slip a marker. */
static bool slips(const tb_acts *acts, unsigned depth)
{
	for (unsigned i = 0; i < acts->count && depth < TB_LIMIT_NESTING + 2; i++) {
		const tb_act *act = &acts->acts[i];
		if (act->mark == TB_MARK_SLIP || slips(&act->body, depth + 1) || (act->mark == TB_MARK_SEVERAL && slips(act->laid, depth + 1)))
			return true;
	}
	return false;
}

/* Whether markers that may do so stand between two stitches. */
static bool stand_between(const tb_hands *h)
{
	return h->before.markers_between || slips(&h->sentence->acts, 0);
}

static bool find_between(const tb_hands *h, guint32 from, guint32 *place);

/* "Slip m": one must be where the hook is; the end of the row is one. */
static void slip(tb_hands *h, const tb_act *act)
{
	guint32 at, due = h->cursor.due;
	bool any = false;
	h->before.markers_between = true;
	for (guint i = 0; i < h->cloth.marks->len; i++)
		any = any || g_array_index(h->cloth.marks, tb_marked, i).behind;
	if (!any || due >= tb_place_count(h) || (find_between(h, due, &at) && at == due))
		return;
	tb_hands_tell(h, TB_ERROR, "place-missing", act->span, "Look at the row below for it.",
		"there is no marker between these sts to be slipped");
}

static bool lies_within(tb_hands *h, const tb_act *item, unsigned to, unsigned many)
{
	if (to <= many)
		return true;
	tb_hands_tell(h, TB_ERROR, "past-end", item->span, "Count the stitches again.",
		"%u st%s would be counted up to here, and the row has %u", to, to == 1 ? "" : "s", many);
	return false;
}

/* "Mark the first st, count 9 (sleeve), mark the next st": from the row's first stitch on. */
static void put_laid(tb_hands *h, const tb_act *act)
{
	const tb_acts *laid = act->laid;
	guint before = h->cloth.marks->len;
	const tb_made_row *row = tb_hands_row(h, h->row);
	unsigned many = 0, at = 0;
	for (guint32 i = row->first; i < h->cloth.made->len; i++)
		many += is_counted(h, i);
	for (unsigned i = 0; i < laid->count; i++) {
		const tb_act *item = &laid->acts[i];
		unsigned n = tb_hands_number(h, &item->count, 1);
		bool fits = true, ends = i + 1 == laid->count;
		switch (item->mark) {
		case TB_MARK_STEP:
			at += n;
			fits = lies_within(h, item, at, many);
			if (!fits || !ends || at == many)
				break;
			n = at;
			/* fall through */
		case TB_MARK_REST:
			fits = at + (item->mark == TB_MARK_REST ? n : 0) == many;
			if (!fits)
				tb_hands_tell(h, TB_ERROR, "count-claimed", item->span, "Change the counts, or the stitches of the row.",
					"the row counts %u, and what is counted off makes %u", many, item->mark == TB_MARK_REST ? at + n : at);
			break;
		case TB_MARK_BEHIND:
			put(h, at == 0 ? nth_of_row(h, row->first, many, NULL) : nth_of_row(h, row->first, at, NULL), true);
			break;
		case TB_MARK_FIRST:
		case TB_MARK_FINAL:
			fits = item->mark == TB_MARK_FIRST ? at == 0 : at + 1 == many;
			if (!fits) {
				tb_hands_tell(h, TB_ERROR, "count-claimed", item->span, "Change the counts, or the stitches of the row.",
					"the row counts %u, and this is its %u%s", many, at + 1, at % 10 == 0 && at != 10 ? "st" :
					at % 10 == 1 && at != 11 ? "nd" : at % 10 == 2 && at != 12 ? "rd" : "th");
				break;
			}
			/* fall through */
		case TB_MARK_AT:
		case TB_MARK_SPOT:
			at = item->mark == TB_MARK_AT ? n : at + 1;
			fits = lies_within(h, item, at, many);
			put(h, fits && at > 0 ? nth_of_row(h, row->first, at, NULL) : TB_NONE, false);
			break;
		default:
			break;
		}
		if (!fits)
			return;
	}
	unsigned put_now = h->cloth.marks->len - before;
	if (act->mark_nth > 0 && act->mark_nth != put_now)
		tb_hands_tell(h, TB_ERROR, "count-claimed", laid->acts[0].span, "Change the number, or the places.",
			"%u markers are put here, not %u", put_now, act->mark_nth);
}

void tb_mark_put(tb_hands *h, const tb_act *act)
{
	const tb_sentence *s = h->sentence;
	guint32 number = tb_hands_row(h, h->row)->written;
	for (unsigned i = 0; act->mark == TB_MARK_SEVERAL && i < act->laid->count; i++)
		tb_mark_put(h, &act->laid->acts[i]);
	if (act->mark == TB_MARK_SEVERAL)
		return;
	if (act->mark == TB_MARK_SLIP)
		slip(h, act);
	else if (act->mark != TB_MARK_LAID)
		put_one(h, act);
	else if (s == NULL || s->first == 0 || (number >= s->first && number <= s->last))
		put_laid(h, act); /* and not where the row is worked again */
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
		bool between = g_array_index(h->cloth.marks, tb_marked, i).behind && h->before.markers_between;
		at[many] = tb_hands_made(h, mark)->row == of && !between ? move_up(h, mark, row) : TB_NONE;
		many += at[many] != TB_NONE;
	}
	return many;
}

/* The first or last stitch of ROW that stands on AT, and on nothing beyond it; TB_NONE where none does. */
static guint32 end_on(const tb_hands *h, guint32 at, const tb_made_row *row, bool last)
{
	guint32 found = TB_NONE;
	for (guint32 i = row->first; i < row->first + row->count && (last || found == TB_NONE); i++) {
		const tb_made *made = tb_hands_made(h, i);
		if (is_counted(h, i) && made->base_count > 0 &&
			tb_hands_base(h, made, last ? made->base_count - 1u : 0) == at)
			found = i;
		else if (last && found != TB_NONE)
			break;
	}
	tb_hands_look(h, row->count);
	return found;
}

/*
 * The stitch before the gap that a marker behind AT has gone up to in row TO; a row that is turned meets the gap from
 * its other end.
 */
static guint32 move_gap_up(const tb_hands *h, guint32 at, guint32 to)
{
	while (at != TB_NONE && tb_hands_made(h, at)->row < to) {
		const tb_made_row *row = tb_hands_row(h, tb_hands_made(h, at)->row + 1);
		bool turned = row->leftward != (row - 1)->leftward;
		at = end_on(h, at, row, !turned);
		if (turned && at != TB_NONE)
			at = at > row->first ? at - 1 : TB_NONE;
		while (turned && at != TB_NONE && !is_counted(h, at))
			at = at > row->first ? at - 1 : TB_NONE;
	}
	return at;
}

/* The first gap from FROM on that has a marker: the place behind it. */
static bool find_between(const tb_hands *h, guint32 from, guint32 *place)
{
	guint32 count = tb_place_count(h), below = h->row - 1, of = last_marked(h, below);
	bool turned = tb_hands_row(h, h->row)->leftward != tb_hands_row(h, below)->leftward;
	*place = TB_NONE;
	for (guint i = 0; i < h->cloth.marks->len; i++) {
		guint32 at = marked(h, i);
		bool of_row = tb_hands_made(h, at)->row == of && g_array_index(h->cloth.marks, tb_marked, i).behind;
		at = of_row ? move_gap_up(h, at, below) : TB_NONE;
		for (guint32 p = 0; at != TB_NONE && p < count; p++) {
			guint32 gap = turned ? p : p + 1;
			if (tb_hands_place(h, p) == at && gap >= from && gap < *place)
				*place = gap;
		}
		tb_hands_look(h, count);
	}
	return *place != TB_NONE;
}

/* The first two stitches, from the row's beginning, that have a gap with a marker behind them; how many have one. */
static unsigned list_gaps(const tb_hands *h, guint32 row, guint32 two[2])
{
	guint32 of = last_marked(h, row);
	unsigned many = 0;
	for (guint i = 0; i < h->cloth.marks->len; i++) {
		bool here = tb_hands_made(h, marked(h, i))->row == of && g_array_index(h->cloth.marks, tb_marked, i).behind;
		guint32 at = here ? move_gap_up(h, marked(h, i), row) : TB_NONE;
		if (at == TB_NONE || (many > 0 && two[0] == at) || (many > 1 && two[1] == at))
			continue;
		if (many < 2)
			two[many] = at;
		many++;
	}
	if (many > 1 && two[0] > two[1]) {
		guint32 first = two[1];
		two[1] = two[0];
		two[0] = first;
	}
	return many;
}

/* How many stitches of ROW stand between its two markers, which stand between stitches (GAPS) or in them; 0: it has not two. */
static guint32 count_between(const tb_hands *h, guint32 row, bool gaps)
{
	guint32 two[3], count = 0;
	unsigned many = gaps ? list_gaps(h, row, two) : tb_mark_list(h, row, two, G_N_ELEMENTS(two));
	for (guint32 i = two[0] + 1; many == 2 && i < two[1] + gaps; i++)
		count += is_counted(h, i);
	tb_hands_look(h, count);
	return count;
}

guint32 tb_mark_between(const tb_hands *h, guint32 row)
{
	return count_between(h, row, h->before.markers_between);
}

/*
 * "Sc in next 5 sc, pm, sc in next 10 sc, pm": such a marker is put into the stitch just made by some, and behind it by others;
 * until one is slipped nothing says which, and a count that comes out by the other way does.
 */
void tb_mark_account(tb_hands *h, const tb_claim *claim)
{
	unsigned said = tb_hands_number(h, &claim->count, 0), there = tb_mark_between(h, h->row);
	if (there == said)
		return;
	if (!h->before.markers_between && count_between(h, h->row, true) == said) {
		g_autofree char *otherwise = there > 0 ? g_strdup_printf("; in stitches they would have %u between them", there) : g_strdup("");
		tb_hands_tell(h, TB_NOTE, "count-claimed", claim->span, "Say whether a marker is put into a stitch or between two.",
			"these are %u sts where the markers stand between stitches%s", said, otherwise);
		h->before.markers_between = true;
		return;
	}
	if (there == 0)
		tb_hands_tell(h, TB_ERROR, "count-claimed", claim->span, "Say where the markers are put, and slip them.",
			"which %u sts these are is not sure: the row has not two markers between its stitches", said);
	else
		tb_hands_tell(h, TB_ERROR, "count-claimed", claim->span, "Change the count, or the stitches of the row.",
			"%u sts stand between the markers, the pattern says %u", there, said);
}

int tb_mark_gore(tb_hands *h, const tb_act *skip)
{
	guint32 at, end, due = h->cursor.due;
	unsigned said = tb_hands_number(h, &skip->place.count, 0);
	if (!stand_between(h) || !find_between(h, 0, &at)) {
		if (said == 0)
			tb_hands_tell(h, TB_ERROR, "place-missing", skip->span, "Say how many are skipped.",
				"how many sts these are is not said, and no markers stand around them");
		return (int)said;
	}
	if (!find_between(h, due, &at) || at != due || !find_between(h, due + 1, &end)) {
		tb_hands_tell(h, TB_ERROR, "place-missing", skip->span, "Work to the marker before them.",
			"the hook is not at the first of two markers here");
		return 0;
	}
	if (said > 0 && said != end - due)
		tb_hands_tell(h, TB_ERROR, "count-claimed", skip->span, "Change the count, or the stitches of the rows before.",
			"%u sts stand between the markers, and %u are skipped", end - due, said);
	return (int)(end - due);
}

bool tb_mark_find(const tb_hands *h, guint32 from, guint32 *place)
{
	guint32 count = tb_place_count(h);
	if (count == 0)
		return false;
	if (stand_between(h) && find_between(h, from, place))
		return true;
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
	guint32 at, due = h->cursor.due, count = tb_place_count(h);
	/* the one that was just slipped is behind the hook */
	bool between = stand_between(h) && find_between(h, due + 1, &at);
	if (!between && !tb_mark_find(h, due, &at)) {
		/* of a round the next one is the first again: to its end */
		bool around = h->sentence->is_round && due > h->cursor.first && tb_mark_find(h, 0, &at) && at < due;
		if (!around || (up_to->short_of > 0 && at > h->cursor.first) || count < due + up_to->short_of)
			return false;
		*limit = count - up_to->short_of;
		return !up_to->with_it;
	}
	if (at < due + up_to->short_of)
		return false;
	*limit = at - up_to->short_of + (between ? 0 : up_to->with_it);
	return true;
}

void tb_mark_check_which(tb_hands *h, const tb_act *act, const tb_place *mark)
{
	static const char *const names[] = {[TB_MARKER_FIRST] = "first", [TB_MARKER_SECOND] = "second", [TB_MARKER_FINAL] = "last"};
	guint32 at, due = h->cursor.due, from = h->cursor.first;
	unsigned before = 0, after = 0;
	if (mark->which_mark == TB_MARKER_NEXT || !(stand_between(h) && find_between(h, due + 1, &at) ? true : tb_mark_find(h, due, &at)))
		return;
	for (guint32 next; tb_mark_find(h, from, &next); from = next + 1) {
		before += next < at;
		after += next > at;
	}
	bool right = mark->which_mark == TB_MARKER_FINAL ? after == 0 : before + 1 == mark->which_mark;
	if (!right)
		tb_hands_tell(h, TB_ERROR, "place-missing", act->span, "Say “next”, or how the stitches before it are worked.",
			"the next marker here is not the %s of the row", names[mark->which_mark]);
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
	tb_mark_check_which(h, act, &act->place);
	tb_place_warn_passed(h, act, at - before);
	for (unsigned leg = 0; leg < MIN(takes, TB_MOST_BASES); leg++)
		footing->bases[footing->count++] = tb_hands_place(h, at - before + leg);
	footing->rows_below = 1;
	h->cursor.due = at - before + takes;
	return true;
}
