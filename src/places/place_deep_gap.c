/*
 * Into the gap between two groups of a row deeper than the one below. What stands on either side of the hook in
 * the row below is followed down to that row; of what lies between there, two groups must meet in one place, or
 * chains lead from the one to the other. The stitch hides nothing: it comes between two stitches of the row.
 */
#include "places/place.h"

/* The row, and the way from one stitch of it to another. */
typedef struct {
	guint32 first, end;
} deep_row;

static bool is_chain(const tb_hands *h, guint32 at)
{
	guint8 flags = tb_hands_made(h, at)->flags;
	return (flags & TB_MADE_CHAIN) != 0 && (flags & TB_MADE_TURNING) == 0;
}

static guint32 step(const deep_row *row, guint32 at)
{
	return at + 1 < row->end ? at + 1 : row->first;
}

/* Whether the stitch AT is one of several in one place, as itself says or its neighbour BESIDE shows. */
static bool is_grouped(const tb_hands *h, guint32 at, guint32 beside)
{
	guint32 foot = tb_place_foot(h, at);
	return foot != TB_NONE && (tb_hands_made(h, at)->group != 0 || (beside != at && foot == tb_place_foot(h, beside)));
}

static bool is_slip(const tb_hands *h, guint32 at)
{
	return tb_hands_stitch(h, tb_hands_made(h, at)) == h->working->slip;
}

/* The row without the slip stitches that lead to where it begins, and without the one that joins it. */
static deep_row find_row(const tb_hands *h, guint32 number)
{
	const tb_made_row *made = tb_hands_row(h, number);
	deep_row row = {made->first, made->first + made->count};
	while (row.end > row.first + 1 && is_slip(h, row.end - 1))
		row.end--;
	while (row.first + 1 < row.end && is_slip(h, row.first))
		row.first++;
	return row;
}

/* From a place of the row below down to row NUMBER; TB_NONE where nothing shows the way. */
static guint32 go_down(const tb_hands *h, guint32 at, guint32 number)
{
	tb_stitches made = tb_hands_stitches(h);
	while (at != TB_NONE && tb_hands_made(h, at)->row > number)
		at = tb_rule_below(&made, at);
	return at != TB_NONE && tb_hands_made(h, at)->row == number ? at : TB_NONE;
}

static bool fail(tb_hands *h, const tb_act *act, const char *why)
{
	tb_hands_give_up(h, "place-missing", act->place.span, "Say which stitches it goes between.", "%s", why);
	return false;
}

bool tb_place_take_deep_gap(tb_hands *h, const tb_act *act, tb_footing *footing)
{
	guint32 count = tb_place_count(h), due = h->cursor.due;
	if (act->place.deeper >= h->row)
		return fail(h, act, "there is no such row, only the foundation");
	guint32 number = h->row - act->place.deeper;
	bool round = h->sentence->is_round;
	if (count < 2 || due > count || (!round && (due == 0 || due == count)))
		return fail(h, act, "the row begins or ends here");
	deep_row row = find_row(h, number);
	guint32 left = go_down(h, tb_hands_place(h, due > 0 ? due - 1 : count - 1), number);
	guint32 right = go_down(h, tb_hands_place(h, due < count ? due : 0), number);
	if (left == TB_NONE || right == TB_NONE || left >= row.end || right >= row.end)
		return fail(h, act, "what lies there, no row shows");
	bool same_way = tb_hands_row(h, number)->leftward == tb_hands_row(h, h->row)->leftward;
	guint32 at = same_way ? left : right, to = same_way ? right : left, found = 0;
	if (!round && at > to)
		return fail(h, act, "what lies there, no row shows");
	for (guint32 steps = 0; at != to && steps < row.end - row.first; steps++) {
		guint32 next = step(&row, at), before = at, chain = next;
		while (is_chain(h, next) && next != to)
			next = step(&row, next);
		tb_hands_look(h, 1);
		at = next;
		guint32 behind = step(&row, next), ahead = before > row.first ? before - 1 : row.end - 1;
		if (tb_place_foot(h, before) == tb_place_foot(h, next) || !is_grouped(h, before, ahead) || !is_grouped(h, next, behind))
			continue;
		*footing = (tb_footing){.behind = TB_NONE, .count = chain == next ? 2 : 1, .flags = TB_MADE_IN_SPACE,
			.rows_below = (guint8)MIN(act->place.deeper, 255)};
		footing->bases[0] = chain == next ? before : chain;
		footing->bases[1] = next;
		found++;
	}
	return found == 1 || fail(h, act, found == 0 ? "no two groups meet there" : "several groups meet there");
}
