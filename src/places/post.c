/*
 * Which post is meant, two or more rows down.
 *
 * "n rows below" goes down from the stitch now due, one row a step: what lies one row below a
 * stitch is the stitch hidden behind it, where there is one, and else its base; below chains, what they
 * pass over. A post that is named ("around next FPdc 2 rows below") is looked for from there.
 */
#include "places/place.h"
#include "places/post.h"

/* From DUE, in the row below, down to the row ROWS_BELOW the one being worked. */
static guint32 step_down(const tb_hands *h, guint32 due, unsigned rows_below)
{
	tb_hands_look(h, rows_below - 1);
	tb_stitches made = tb_hands_stitches(h);
	for (unsigned i = 1; i < rows_below && due != TB_NONE; i++)
		due = tb_rule_below(&made, due);
	return due;
}

static tb_way_through get_row(const tb_hands *h, guint32 row)
{
	const tb_made_row *made = tb_hands_row(h, row);
	return (tb_way_through){made->first, made->first + made->count,
		made->leftward == tb_hands_row(h, h->row)->leftward};
}

static bool is_kind(const tb_hands *h, guint32 index, const tb_place *place)
{
	if (place->target != TB_TARGET_NAMED)
		return tb_hands_made(h, index)->flags & TB_MADE_COUNTED;
	return tb_place_is_kind(h, index, place->named);
}

/* The next post of the kind named, at or after FROM but after the one used last. */
static guint32 find_next(const tb_hands *h, const tb_place *place, const tb_way_through *row, guint32 from)
{
	tb_stitches made = tb_hands_stitches(h);
	guint32 at = tb_rule_next_post(&made, place->named, row, from, h->cursor.last_post, h->cursor.post_strayed);
	tb_hands_look(h, at == TB_NONE ? row->end - row->begin : at > from ? at - from : from - at);
	return at;
}

/*
 * The middle of a group of exactly COUNT stitches of the kind named that stand side by side, the
 * group nearest to FROM.
 */
static guint32 find_middle(
	const tb_hands *h, const tb_place *place, const tb_way_through *row, guint32 from, unsigned count)
{
	const tb_working *working = h->working;
	for (gint64 away = 0; away <= (gint64)count + 2 && working->steps <= working->most_steps;
		 away++) {
		for (int way = -1; way <= 1; way += 2) {
			guint32 at = tb_rule_next_in(row, from, way * away);
			if (at == TB_NONE || !is_kind(h, at, place))
				continue;
			guint32 begin = at, end = at + 1;
			while (begin > row->begin && is_kind(h, begin - 1, place) && end - begin <= count)
				begin--;
			while (end < row->end && is_kind(h, end, place) && end - begin <= count)
				end++;
			tb_hands_look(h, end - begin);
			if (end - begin == count)
				return begin + (end - begin) / 2;
		}
	}
	return TB_NONE;
}

/* The NTH stitch of the kind asked for in the row, from the end the work comes to first. */
static guint32 find_nth(
	const tb_hands *h, const tb_place *place, const tb_way_through *row, unsigned nth)
{
	guint32 at = row->begin == row->end ? TB_NONE : row->same_way ? row->begin : row->end - 1;
	while (at != TB_NONE) {
		tb_hands_look(h, 1);
		if (is_kind(h, at, place) && --nth == 0)
			return at;
		at = tb_rule_next_in(row, at, 1);
	}
	return TB_NONE;
}

static void warn_sideways(
	tb_hands *h, const tb_act *act, const tb_stitch *stitch, guint32 base, guint32 straight)
{
	guint32 columns = base > straight ? base - straight : straight - base;
	if (columns > TB_RULE_SIDEWAYS)
		tb_hands_tell(h, TB_WARNING, "post-sideways", act->span,
			"Two columns are as far as a post stitch reaches flat; check which post is meant.",
			"%s reaches %u columns sideways", tb_hands_term(h, stitch), columns);
}

static void tell_nothing(tb_hands *h, const tb_act *act, const tb_stitch *stitch)
{
	unsigned down = act->place.rows_below;
	if (down >= h->row)
		tb_hands_tell(h, TB_ERROR, "post-nothing", act->span,
			"Work this row later, or around a post fewer rows down.",
			"there is no row %u rows below, only the foundation", down);
	else
		tb_hands_tell(h, TB_ERROR, "post-nothing", act->span,
			"Work it around a stitch with a post, such as sc or dc.",
			"there is no post for %s %u rows below", tb_hands_term(h, stitch), down);
}

/* Whether BASE is what PLACE names, and the row above passed over it: chains or a longer stitch lie there. */
static bool was_missed(const tb_hands *h, guint32 due, const tb_place *place, guint32 base)
{
	guint32 above = step_down(h, due, place->rows_below - 1);
	tb_stitches made = tb_hands_stitches(h);
	if (above == TB_NONE || tb_rule_below(&made, above) != base)
		return false;
	return (tb_hands_made(h, above)->behind == base || tb_rule_is_bridge(&made, above)) && is_kind(h, base, place);
}

guint32 tb_post_find(
	tb_hands *h, const tb_act *act, const tb_stitch *stitch, unsigned which, guint32 due)
{
	const tb_place *place = &act->place;
	if (place->rows_below > h->row) {
		tell_nothing(h, act, stitch);
		return TB_NONE;
	}
	tb_way_through row = get_row(h, h->row - place->rows_below);
	guint32 straight = step_down(h, due, place->rows_below);
	guint32 base = straight;
	unsigned said = MAX(tb_hands_number(h, &place->count, 1), 1);
	tb_way_through back = {row.begin, row.end, !row.same_way};
	if (place->in == TB_IN_NTH_STITCH)
		base = find_nth(h, place, &row, said);
	else if (place->in == TB_IN_FIRST)
		base = find_nth(h, place, &row, 1 + which);
	else if (place->in == TB_IN_LAST)
		base = find_nth(h, place, &back, MAX(said * MAX(place->posts, 1), which + 1) - which);
	else if (place->middle && straight != TB_NONE)
		base = find_middle(h, place, &row, straight, tb_hands_number(h, &place->count, 3));
	else if (place->target == TB_TARGET_NAMED && straight != TB_NONE && !place->missed)
		base = find_next(h, place, &row, straight);
	if (base == TB_NONE || (stitch->post != TB_POST_NONE && !tb_place_has_post(h, base))) {
		tell_nothing(h, act, stitch);
		return TB_NONE;
	}
	if (place->missed && !was_missed(h, due, place, base)) {
		tb_hands_tell(h, TB_ERROR, "place-missing", act->place.span, "Say in which row the stitch stands that was skipped.",
			"the stitch %u rows below was not skipped", place->rows_below);
		return TB_NONE;
	}
	if (place->target == TB_TARGET_NAMED) {
		h->cursor.last_post = base;
		h->cursor.post_strayed = base != straight;
	}
	if (straight != TB_NONE)
		warn_sideways(h, act, stitch, base, straight);
	return base;
}

void tb_post_check(tb_hands *h, const tb_act *act, const tb_stitch *stitch, guint32 base)
{
	if (stitch->post != TB_POST_NONE && !tb_place_has_post(h, base)) {
		bool chain = tb_hands_made(h, base)->flags & TB_MADE_CHAIN;
		tb_hands_tell(h, TB_ERROR, "post-nothing", act->span,
			"Work it around a stitch with a post, such as sc or dc.",
			"%s is to go around %s, which has no post", tb_hands_term(h, stitch),
			chain ? "a chain" : "a slip stitch");
	}
}
