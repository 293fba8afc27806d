/*
 * A row of one stitch that is increased or decreased as it is worked: at its ends, or evenly along it.
 * Where evenly is, the pattern leaves to the hands; the count is the same wherever it is.
 */
#include "acts/acts.h"
#include "acts/shape.h"
#include "fabric/garment.h"
#include "places/place.h"

/* COUNT plain stitches, each in the next place. */
static void work_on(tb_hands *h, const tb_act *act, guint32 count)
{
	const int many = (int)count;
	tb_act plain = {.kind = TB_ACT_WORK, .span = act->span, .stitch = act->stitch};
	if (act->other != NULL) {
		plain.pattern = act->pattern;
		plain.other = act->other;
	}
	plain.each = (tb_number){1, tb_number_one, act->span};
	plain.place = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .loops = act->place.loops, .span = act->span};
	plain.place.count = (tb_number){1, &many, act->span};
	if (count > 0 && !h->cursor.over)
		tb_acts_stitch(h, &plain, 0);
}

/* One increase, two of the stitch in the next place, or one decrease: TAKES of them together. */
static void work_shaped(tb_hands *h, const tb_act *act, unsigned takes)
{
	const int two = 2;
	tb_act one = {.kind = TB_ACT_WORK, .span = act->span, .stitch = act->stitch};
	one.place = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .loops = act->place.loops, .span = act->span};
	one.place.count = one.each = (tb_number){1, tb_number_one, act->span};
	if (takes == 1)
		one.each = (tb_number){1, &two, act->span};
	else
		one.stitch = tb_library_together(h->working->pattern->library, act->stitch, takes);
	if (!h->cursor.over)
		tb_acts_stitch(h, &one, 0);
}

static void tell_few(tb_hands *h, const tb_act *act, guint32 places, bool more)
{
	tb_hands_give_up(h, "past-end", act->span, NULL, "%u st%s left, too few to %s so often", places,
		places == 1 ? " is" : "s are", more ? "increase" : "decrease");
}

static unsigned count_made(const tb_hands *h)
{
	unsigned count = 0;
	for (guint32 i = tb_hands_row(h, h->row)->first; i < h->cloth.made->len; i++)
		count += (tb_hands_made(h, i)->flags & TB_MADE_COUNTED) != 0;
	return count;
}

/* How many are increased or decreased so that the row has COUNT stitches; false when it cannot. */
static bool find_times(const tb_hands *h, unsigned count, guint32 places, bool more, unsigned *times)
{
	gint64 now = (gint64)count_made(h) + places;
	gint64 change = more ? (gint64)count - now : now - (gint64)count;
	*times = (unsigned)MAX(change, 0);
	return change >= 0;
}

/* TIMES of them with the plain stitches between them as alike as can be. */
static void work_evenly(tb_hands *h, const tb_act *act, guint32 places, unsigned times, bool more)
{
	guint32 takes = more ? 1 : 2, plain = places - times * takes, worked = 0;
	for (unsigned i = 0; i < times && !h->cursor.over && !h->working->stopped; i++) {
		guint32 before = (guint32)((2 * (guint64)i + 1) * plain / (2 * (guint64)times));
		work_on(h, act, before - worked);
		worked = before;
		work_shaped(h, act, takes);
	}
	work_on(h, act, plain - worked);
}

/* What two acts say of the two ends of one row. False where both are of the same end. */
static bool work_both_ends(tb_hands *h, const tb_act *act, const tb_act *other, guint32 places)
{
	const tb_act *first = act->shaped == TB_SHAPED_BEGIN ? act : other, *last = first == act ? other : act;
	bool more_first = tb_hands_number(h, &first->each, 0) > 0, more_last = tb_hands_number(h, &last->each, 0) > 0;
	guint64 begin = tb_hands_number(h, &first->count, 1), end = tb_hands_number(h, &last->count, 1);
	guint32 takes_first = more_first ? 1 : 2, takes_last = more_last ? 1 : 2;
	if (first->shaped != TB_SHAPED_BEGIN || last->shaped != TB_SHAPED_END)
		return false;
	if (begin * takes_first + end * takes_last > places) {
		tell_few(h, act, places, more_first);
		return true;
	}
	for (guint64 i = 0; i < begin; i++)
		work_shaped(h, first, takes_first);
	work_on(h, act, places - (guint32)(begin * takes_first + end * takes_last));
	for (guint64 i = 0; i < end; i++)
		work_shaped(h, last, takes_last);
	return true;
}

static void work_at_ends(tb_hands *h, const tb_act *act, guint32 places, unsigned times, bool more)
{
	guint32 takes = more ? 1 : 2;
	unsigned first = act->shaped != TB_SHAPED_END ? times : 0;
	unsigned last = act->shaped != TB_SHAPED_BEGIN ? times : 0;
	for (unsigned i = 0; i < first; i++)
		work_shaped(h, act, takes);
	work_on(h, act, places - (first + last) * takes);
	for (unsigned i = 0; i < last; i++)
		work_shaped(h, act, takes);
}

static tb_side_edge other_edge(tb_side_edge edge)
{
	return edge == TB_SIDE_EDGE_UNKNOWN ? edge : edge == TB_SIDE_EDGE_LEFT ? TB_SIDE_EDGE_RIGHT : TB_SIDE_EDGE_LEFT;
}

void tb_shape_learn_edge(tb_hands *h, guint32 due)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	guint32 count = tb_place_near_end(h), over = h->now.travelled ? h->cursor.first : 0;
	guint32 left = h->cursor.left && due < count ? count - due : 0;
	if (row->rejoined)
		h->before.neck = h->before.outer = h->before.narrowed = TB_SIDE_EDGE_UNKNOWN;
	/* "skip the center 20 sts, join yarn in next st": the other side of a neck that is divided */
	if (row->rejoined && !row->is_round && h->row > 2 && (h->before.rest[0]->len > 0 || h->before.rest[1]->len > 0))
		h->before.neck = row->leftward ? TB_SIDE_EDGE_RIGHT : TB_SIDE_EDGE_LEFT;
	if (row->is_round || row->rejoined || h->row < 2 || (over > 0) == (left > 0))
		return;
	bool at_left = left > 0 ? row->leftward : !row->leftward;
	h->before.narrowed = at_left ? TB_SIDE_EDGE_LEFT : TB_SIDE_EDGE_RIGHT;
	h->before.narrowed_much = 3 * (guint64)(over + left) >= count;
	if (tb_garment_is_called(row->part, "neck"))
		h->before.neck = h->before.narrowed;
	else if (tb_garment_is_called(row->part, "armhole"))
		h->before.outer = h->before.narrowed;
}

/* Of a left front, the right side facing, the neck is on the left, and of a right front on the right. */
static tb_side_edge edge_of_front(const tb_hands *h, bool neck)
{
	const char *name = tb_pattern_get_piece(h->working->pattern, h->piece);
	bool left = tb_garment_is_called(name, "left front"), right = tb_garment_is_called(name, "right front");
	return left == right ? TB_SIDE_EDGE_UNKNOWN : left == neck ? TB_SIDE_EDGE_LEFT : TB_SIDE_EDGE_RIGHT;
}

/* Which edge is meant, as far as the rows show it: one that is not known is opposite the other. */
static tb_side_edge find_edge(const tb_hands *h, bool neck)
{
	const tb_rows_before *before = &h->before;
	bool rest = before->rest[0]->len > 0 || before->rest[1]->len > 0;
	tb_side_edge known = neck ? before->neck : before->outer, other = neck ? before->outer : before->neck;
	if (known != TB_SIDE_EDGE_UNKNOWN || other != TB_SIDE_EDGE_UNKNOWN)
		return known != TB_SIDE_EDGE_UNKNOWN ? known : other_edge(other);
	/* "leave 4 sts unworked. Dec 1 st at armhole edge": there; a neck that is divided leaves half the row */
	if (before->narrowed != TB_SIDE_EDGE_UNKNOWN && (neck || !before->narrowed_much))
		return before->narrowed;
	if (!rest)
		return edge_of_front(h, neck);
	tb_side_edge turned = before->rest_leftward ? TB_SIDE_EDGE_LEFT : TB_SIDE_EDGE_RIGHT;
	return neck ? turned : other_edge(turned);
}

bool tb_shape_ends_at(const tb_hands *h, tb_shaped at)
{
	const tb_made_row *last = tb_hands_row(h, h->cloth.rows->len - 1);
	tb_side_edge edge = find_edge(h, at == TB_SHAPED_NECK);
	return last->is_round || edge == TB_SIDE_EDGE_UNKNOWN || last->leftward == (edge == TB_SIDE_EDGE_LEFT);
}

/*
 * "At neck edge", "at armhole edge": where stitches were left for it, or short rows turned; or as the name of a left or
 * right front tells. Else the piece has two edges alike, and the one on the right side's left is taken, which is told.
 */
static tb_shaped side_shaped(tb_hands *h, const tb_act *act)
{
	bool leftward = tb_hands_row(h, h->row)->leftward, neck = act->shaped == TB_SHAPED_NECK;
	if (act->shaped != TB_SHAPED_NECK && act->shaped != TB_SHAPED_OUTER)
		return act->shaped;
	tb_side_edge edge = find_edge(h, neck);
	if (edge == TB_SIDE_EDGE_UNKNOWN)
		tb_hands_tell(h, TB_WARNING, "edge-unsaid", act->span, "Say it of the row: at beginning, or at end of row.",
			"which edge this is the rows do not tell; the left one of the right side is taken");
	/* what is meant by it stays so */
	*(neck ? &h->before.neck : &h->before.outer) = edge != TB_SIDE_EDGE_UNKNOWN ? edge : TB_SIDE_EDGE_LEFT;
	return leftward == (edge != TB_SIDE_EDGE_RIGHT) ? TB_SHAPED_END : TB_SHAPED_BEGIN;
}

void tb_acts_shape(tb_hands *h, const tb_act *said)
{
	tb_act one_side = *said;
	one_side.shaped = side_shaped(h, said);
	const tb_act *act = &one_side;
	tb_act other;
	if (act->other_end != NULL) {
		other = *act->other_end;
		other.shaped = side_shaped(h, act->other_end);
		guint32 near = tb_place_near_end(h);
		if (!work_both_ends(h, act, &other, near - MIN(h->cursor.due, near)))
			tb_hands_give_up(h, "not-worked", act->span, "Write these rows out.", "both are shaped at the same end of this row");
		return;
	}
	bool more = tb_hands_number(h, &act->each, 0) > 0, evenly = act->shaped == TB_SHAPED_EVENLY;
	unsigned times = tb_hands_number(h, &act->count, 1), takes = more ? 1 : 2;
	guint32 end = tb_place_near_end(h), places = end - MIN(h->cursor.due, end);
	if (act->shaped_to && !find_times(h, times, places, more, &times)) {
		tb_hands_give_up(h, "past-end", act->span, "Look at the count of the row below.",
			"%u sts are there, which %s not make %u", places, more ? "increases do" : "decreases do",
			tb_hands_number(h, &act->count, 1));
		return;
	}
	/* one stitch less at each end of three: the three together */
	if (!more && !evenly && act->shaped == TB_SHAPED_ENDS && places == 3 && times == 1) {
		work_shaped(h, act, 3);
		return;
	}
	unsigned ends = evenly || act->shaped != TB_SHAPED_ENDS ? 1 : 2;
	if ((guint64)ends * times * takes > places)
		tell_few(h, act, places, more);
	else if (evenly)
		work_evenly(h, act, places, times, more);
	else
		work_at_ends(h, act, places, times, more);
}
