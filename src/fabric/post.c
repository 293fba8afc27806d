/*
 * Which post is meant, two or more rows down.
 *
 * "n rows below" goes down from the stitch now due, one row a step: what lies one row below a
 * stitch is the stitch hidden behind it, where there is one, and else its base; below chains, what they
 * pass over. A post that is named ("around next FPdc 2 rows below") is looked for from there.
 */
#include "fabric/hands.h"

/* Farther than this sideways the fabric puckers. */
#define SIDEWAYS_COLUMNS 2u

/* What lies below a stitch in the row below it: what is hidden behind it, or its base. */
static guint32 stands_on(const tb_hands *h, guint32 index)
{
	const tb_made *made = tb_hands_made(h, index);
	return made->behind == TB_NONE && made->base_count > 0 ?
		tb_hands_base(h, made, (made->base_count - 1u) / 2u) : made->behind;
}

static bool is_bridge(const tb_hands *h, guint32 index, guint32 row)
{
	const tb_made *made = tb_hands_made(h, index);
	return made->row == row && made->flags & TB_MADE_CHAIN && made->base_count == 0 && made->behind == TB_NONE;
}

/*
 * "Ch 5, sk 5 sts": each chain lies over one of the stitches that were missed, between those that what
 * stands on either side of the chains is worked in. TB_NONE where they are not nearly as many.
 */
static guint32 missed_below(const tb_hands *h, guint32 index)
{
	guint32 row = tb_hands_made(h, index)->row, first = index, end = index + 1;
	while (first > 0 && is_bridge(h, first - 1, row))
		first--;
	while (end < h->cloth.made->len && is_bridge(h, end, row))
		end++;
	if (first == 0 || end >= h->cloth.made->len || tb_hands_made(h, first - 1)->row != row ||
		tb_hands_made(h, end)->row != row)
		return TB_NONE;
	guint32 before = stands_on(h, first - 1), after = stands_on(h, end), chains = end - first;
	if (before == TB_NONE || after == TB_NONE || before == after)
		return TB_NONE;
	guint32 missed = (before < after ? after - before : before - after) - 1;
	if (missed == 0 || missed > chains + 2 || chains > missed + 2)
		return TB_NONE;
	guint32 step = 1 + (index - first) * missed / chains;
	return before < after ? before + step : before - step;
}

guint32 tb_post_below(const tb_hands *h, guint32 index)
{
	const tb_made *made = tb_hands_made(h, index);
	guint32 below = is_bridge(h, index, made->row) ? missed_below(h, index) : stands_on(h, index);
	/* a picot stands on its own row */
	if (below == TB_NONE || tb_hands_made(h, below)->row + 1 != made->row)
		return TB_NONE;
	return below;
}

/* From DUE, in the row below, down to the row ROWS_BELOW the one being worked. */
static guint32 step_down(const tb_hands *h, guint32 due, unsigned rows_below)
{
	tb_hands_look(h, rows_below - 1);
	for (unsigned i = 1; i < rows_below && due != TB_NONE; i++)
		due = tb_post_below(h, due);
	return due;
}

/* The row, and which way through it the work now goes. */
typedef struct {
	guint32 begin, end; /* of all that was made in it */
	bool same_way;
} post_row;

static post_row get_row(const tb_hands *h, guint32 row)
{
	const tb_made_row *made = tb_hands_row(h, row);
	return (post_row){made->first, made->first + made->count,
		made->leftward == tb_hands_row(h, h->row)->leftward};
}

/* The stitch after AT in the way the work goes, or TB_NONE at the row's end. */
static guint32 next_in(const post_row *row, guint32 at, gint64 steps)
{
	gint64 to = (gint64)at + (row->same_way ? steps : -steps);
	return to >= row->begin && to < row->end ? (guint32)to : TB_NONE;
}

/* Whether A comes before B in the way the work goes. */
static bool is_before(const post_row *row, guint32 a, guint32 b)
{
	return row->same_way ? a < b : a > b;
}

static bool is_kind(const tb_hands *h, guint32 index, const tb_place *place)
{
	if (place->target != TB_TARGET_NAMED)
		return tb_hands_made(h, index)->flags & TB_MADE_COUNTED;
	return tb_place_is_kind(h, index, place->named);
}

/*
 * Whether FROM and those before it are all of the kind named, as on a ground of dc: the name tells none from the
 * others then, and the one straight below is meant, unless the posts before it were beside theirs.
 */
static bool is_on_ground(const tb_hands *h, const tb_place *place, const post_row *row, guint32 from)
{
	guint32 at = from;
	for (unsigned i = 0; i <= SIDEWAYS_COLUMNS + 1; i++) {
		if (at == TB_NONE || !is_kind(h, at, place))
			return false;
		at = next_in(row, at, -1);
	}
	return !h->cursor.post_strayed && is_before(row, h->cursor.last_post, from);
}

/* The next post of the kind named, at or after FROM but after the one used last. */
static guint32 find_next(
	const tb_hands *h, const tb_place *place, const post_row *row, guint32 from)
{
	guint32 last = h->cursor.last_post, at = from;
	if (last != TB_NONE && last >= row->begin && last < row->end && !is_on_ground(h, place, row, from)) {
		/* two columns back is still "next", when that post was not yet used */
		guint32 back = next_in(row, from, -(gint64)SIDEWAYS_COLUMNS);
		at = back != TB_NONE ? back : row->same_way ? row->begin : row->end - 1;
		if (!is_before(row, last, at))
			at = next_in(row, last, 1);
	}
	while (at != TB_NONE && !is_kind(h, at, place)) {
		tb_hands_look(h, 1);
		at = next_in(row, at, 1);
	}
	return at;
}

/*
 * The middle of a group of exactly COUNT stitches of the kind named that stand side by side, the
 * group nearest to FROM.
 */
static guint32 find_middle(
	const tb_hands *h, const tb_place *place, const post_row *row, guint32 from, unsigned count)
{
	const tb_working *working = h->working;
	for (gint64 away = 0; away <= (gint64)count + 2 && working->steps <= working->most_steps;
		 away++) {
		for (int way = -1; way <= 1; way += 2) {
			guint32 at = next_in(row, from, way * away);
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
	const tb_hands *h, const tb_place *place, const post_row *row, unsigned nth)
{
	guint32 at = row->begin == row->end ? TB_NONE : row->same_way ? row->begin : row->end - 1;
	while (at != TB_NONE) {
		tb_hands_look(h, 1);
		if (is_kind(h, at, place) && --nth == 0)
			return at;
		at = next_in(row, at, 1);
	}
	return TB_NONE;
}

static void warn_sideways(
	tb_hands *h, const tb_act *act, const tb_stitch *stitch, guint32 base, guint32 straight)
{
	guint32 columns = base > straight ? base - straight : straight - base;
	if (columns > SIDEWAYS_COLUMNS)
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
	if (above == TB_NONE || tb_post_below(h, above) != base)
		return false;
	const tb_made *made = tb_hands_made(h, above);
	return (made->behind == base || is_bridge(h, above, made->row)) && is_kind(h, base, place);
}

guint32 tb_post_find(
	tb_hands *h, const tb_act *act, const tb_stitch *stitch, unsigned which, guint32 due)
{
	const tb_place *place = &act->place;
	if (place->rows_below > h->row) {
		tell_nothing(h, act, stitch);
		return TB_NONE;
	}
	post_row row = get_row(h, h->row - place->rows_below);
	guint32 straight = step_down(h, due, place->rows_below);
	guint32 base = straight;
	unsigned said = MAX(tb_hands_number(h, &place->count, 1), 1);
	post_row back = {row.begin, row.end, !row.same_way};
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
