/*
 * Stitches, and how many places they go into: the next ones, each one across, the kinds of place
 * that are named. Where a stitch goes exactly is the business of place.c.
 */
#include "acts/acts.h"
#include "acts/border.h"
#include "acts/own.h"
#include "acts/repeat.h"
#include "hands/meaning.h"
#include "places/edge.h"
#include "places/loose.h"
#include "places/mark.h"
#include "places/neighbour.h"
#include "places/place.h"
#include "places/spiral.h"

/* One stitch in each of the next COUNT places, no questions asked. */
static void work_plain(tb_hands *h, const tb_act *act, unsigned count)
{
	tb_footing footing = {.behind = TB_NONE, .count = 1, .rows_below = 1};
	unsigned flags = TB_MADE_COUNTED | tb_place_loops(h, &act->place);
	bool each = act->place.in == TB_IN_EACH || act->place.target == TB_TARGET_CHAIN;
	for (unsigned i = 0; i < count; i++) {
		footing.bases[0] = tb_hands_place(h, h->cursor.due);
		/* a stitch into a chain of a space is mostly meant for the space, and says so; but for a block */
		h->cursor.odd += !each && h->row > 1 && !act->squares &&
			(tb_hands_made(h, footing.bases[0])->flags & TB_MADE_CHAIN) != 0;
		if (tb_hands_make(h, act->stitch, &footing, flags, act->span) == TB_NONE)
			return;
		h->cursor.due++;
	}
	if (count > 0) {
		h->cursor.last = footing;
		h->cursor.has_last = true;
		h->cursor.in_space = false;
	}
}

/* "1 dc in each sc, 2 ch between": the chains before what is worked next, or behind the last of a round. */
static void chain_between(tb_hands *h, const tb_act *act)
{
	unsigned many = act->between.count > 0 ? tb_hands_number(h, &act->between, 0) : 0;
	for (unsigned i = 0; i < many; i++) {
		if (tb_hands_make(h, h->working->chain, NULL, TB_MADE_CHAIN | TB_MADE_COUNTED, act->span) ==
			TB_NONE)
			return;
	}
}

/* EACH stitches in one place; only the first has the place's own stitch behind it. */
static bool work_place(tb_hands *h, const tb_act *act, unsigned which, unsigned each)
{
	tb_footing footing;
	guint16 group = h->now.group_number;
	if (!tb_place_take(h, act, act->stitch, which, &footing))
		return false;
	if (tb_own_picot(h, act, &footing))
		return true;
	/* "5 dc in next st" is what others call a shell; "CL over next 7 sts" is a CL for the next row, however many it took */
	bool over = act->own != NULL && act->own->over != NULL;
	if ((each > 1 || over) && group == 0)
		tb_hands_number_group(h, act->own);
	guint32 made = h->cloth.made->len;
	for (unsigned i = 0; i < each; i++) {
		if (tb_hands_make(h, act->stitch, &footing, TB_MADE_COUNTED, act->span) == TB_NONE)
			break;
		footing.behind = TB_NONE;
	}
	h->now.group_number = group;
	tb_acts_group_with_before(h, act, &footing, made);
	return true;
}

bool tb_acts_stop_before(
	tb_hands *h, const tb_act *act, unsigned last, unsigned after, guint32 *limit)
{
	guint32 count = tb_place_near_end(h);
	if (last == 0)
		last = MIN(MAX(after, h->now.spare), count);
	if (last > count || count - last < h->cursor.due) {
		guint32 left = count - MIN(h->cursor.due, count);
		tb_hands_give_up(h, "past-end", act->span, NULL,
			"the last %u st%s reached already; %u %s left", last, last == 1 ? " is" : "s are", left,
			left == 1 ? "is" : "are");
		return false;
	}
	*limit = count - last;
	return true;
}

/*
 * "*…, sc in each sc, 3 sc in next loop; rep from *": in a repeat "each" goes as far as the place that
 * comes next.
 */
static bool stops_at_next(tb_hands *h, const tb_act *act, guint32 *limit)
{
	const tb_act *next = tb_hands_next_placed(h);
	guint32 end;
	if (next == NULL || (next->kind != TB_ACT_WORK && next->kind != TB_ACT_GROUP) ||
		next->place.in != TB_IN_NEXT || next->place.target != TB_TARGET_SPACE ||
		act->place.target == TB_TARGET_SPACE || act->place.also != NULL)
		return false;
	return tb_place_find_from(h, &next->place, h->cursor.due, limit, &end) ||
		(tb_spiral_reach(h, next) && tb_place_find_from(h, &next->place, h->cursor.due, limit, &end));
}

/* "Dc in each dc of the back, ch 4, skip sleeve, …": whether the row goes on in parts that are named or parted. */
static bool parts_follow(const tb_hands *h)
{
	const tb_act *next = tb_hands_next_placed(h);
	return next != NULL && (next->kind == TB_ACT_SKIP || next->kind == TB_ACT_WORK) &&
		(next->place.parted || (next->kind == TB_ACT_SKIP && next->place.target == TB_TARGET_SPACE));
}

bool tb_acts_find_limit(tb_hands *h, const tb_act *act, unsigned after, guint32 *limit)
{
	if (tb_edge_ends_at_corner(h, act)) {
		*limit = tb_place_count(h) - (h->cursor.due < tb_place_count(h) && tb_means(h, TB_MEANS_CORNER));
		return true;
	}
	if (act->place.up_to != NULL) {
		if (tb_place_find_up_to(h, &act->place, limit)) {
			if (act->place.up_to->marked)
				tb_mark_check_which(h, act, act->place.up_to);
			h->cursor.stopped = act->place.up_to->corner ? *limit : TB_NONE;
			return true;
		}
		g_autofree char *words = tb_place_words(h, act->place.up_to, 1);
		/* a row that was not understood may have put the marker in */
		tb_hands_give_up(h, act->place.up_to->marked && h->labels.uncounted ? "rows-again-unknown" :
			act->place.up_to->target == TB_TARGET_SPACE ? "space-missing" : "place-missing",
			act->span, "Look at the row below for it.", "there is no %s left to work up to",
			words + strcspn(words, " ") + 1);
		return false;
	}
	if (act->place.of != NULL) {
		/* "each dc of next shell" */
		if (tb_place_find_group(h, act->place.of, h->cursor.due, &h->cursor.due, limit))
			return true;
		tb_place_tell_none(h, act, act->stitch, 0);
		return false;
	}
	if (act->place.to_marker && tb_mark_find(h, h->cursor.due + 1, limit)) {
		tb_mark_check_which(h, act, &act->place);
		return true;
	}
	unsigned keep = tb_hands_number(h, &act->place.count, 0);
	if (keep == 0 && (h->now.repeating > 0 || act->place.parted) && stops_at_next(h, act, limit))
		return true;
	guint32 end;
	if (act->place.parted && parts_follow(h) && tb_place_section_end(h, h->cursor.due, limit, &end))
		return true;
	return tb_acts_stop_before(h, act, keep > 0 ? keep + tb_place_turning_space(h) : 0, after, limit);
}

static void tell_together_over(tb_hands *h, const tb_act *act, unsigned left)
{
	g_autofree char *hint =
		g_strdup_printf("Work the last %u st%s in some other way.", left, left == 1 ? "" : "s");
	tb_hands_tell(h, TB_ERROR, "repeat-leftover", act->span, hint,
		"%s takes %u sts each time and leaves %u st%s over", tb_hands_term(h, act->stitch),
		act->stitch->takes, left, left == 1 ? "" : "s");
	h->cursor.due += left;
}

/*
 * Which of the kinds of ACT the place at AT is; a corner is a stitch of some kind as well, and the chains of a
 * space are stitches too: beside "each st", "6 sc in the ch-7 sp" says how that one is worked.
 */
static const tb_act *find_kind(const tb_hands *h, const tb_act *act, guint32 at)
{
	const tb_act *found = NULL;
	/* of what is worked in pattern, only the kinds behind it say what that is */
	const tb_act *first = act->pattern != TB_PATTERN_NOT ? act->other : act;
	for (const tb_act *kind = first; kind != NULL; kind = kind->other) {
		bool nearer = found == NULL || kind->place.corner ||
			(found->place.target == TB_TARGET_STITCH && kind->place.target != TB_TARGET_STITCH && !found->place.corner);
		if (nearer && tb_place_matches(h, &kind->place, at))
			found = kind;
	}
	return found;
}

/*
 * "Sc in each sc, hdc in each hdc and dc in each dc" names the stitches that it is worked in: whether the place at
 * AT, which is of none of these kinds, is a stitch as well.
 */
static bool leaves_out(const tb_hands *h, const tb_act *act, guint32 at)
{
	bool stitches = false;
	for (const tb_act *kind = act; kind != NULL && !stitches; kind = kind->other)
		stitches = kind->place.target == TB_TARGET_NAMED && !kind->place.corner;
	return act->all_kinds || (stitches && !(tb_hands_made(h, tb_hands_place(h, at))->flags & TB_MADE_CHAIN));
}

/* Each kind of place in the way it is said, as they come. */
static void work_kinds(tb_hands *h, const tb_act *act, guint32 limit)
{
	guint32 at = h->cursor.due, made = h->cloth.made->len;
	for (const tb_act *kind = act->other; kind != NULL && !act->alike; kind = kind->other) {
		/* beside stitches by their name, a loop is none of them */
		tb_place place = kind->place;
		place.loose = false;
		if (!tb_place_has_kind(h, kind, &place))
			return;
	}
	while (at < limit && !h->cursor.over) {
		const tb_act *kind = find_kind(h, act, at);
		if (kind != NULL && h->cloth.made->len > made)
			chain_between(h, act);
		if (kind != NULL && kind->kind == TB_ACT_GROUP)
			tb_acts_group(h, kind);
		else if (kind == NULL && act->pattern != TB_PATTERN_NOT)
			tb_hands_give_up(h, "not-worked", act->span, "Write the row out, stitch by stitch.",
				"what the pattern has on each stitch here, the rows before do not tell");
		else if (kind == NULL && leaves_out(h, act, at))
			tb_hands_give_up(h, "not-worked", act->span, "Say what is worked there too.",
				"the row below has stitches that are of none of these kinds");
		else if (kind != NULL && !work_place(h, kind, 0, tb_hands_number(h, &kind->each, 1)))
			return;
		at = MAX(at + 1, h->cursor.due);
	}
	if (h->sentence->is_round && h->cloth.made->len > made)
		chain_between(h, act);
}

/* "3 sc in each loop" over plain stitches: older books call these loops, and today's mean spaces. */
static void warn_no_loops(tb_hands *h, const tb_act *act, unsigned each)
{
	tb_place place = act->place;
	guint32 begin, end;
	if (!place.loose || each < 2 || h->row < 2)
		return;
	place.loose = false;
	if (!tb_place_find_from(h, &place, h->cursor.first, &begin, &end))
		tb_hands_tell(h, TB_WARNING, "space-missing", act->span, "Say “st” where stitches are meant.",
			"the row below has no loops; its stitches are taken for them");
}

/* In each gap between two stitches; "sc between shells, ch 2, shell over shell" is in one. */
static void work_gaps(tb_hands *h, const tb_act *act, unsigned each)
{
	bool one = act->place.loose && (h->now.repeating > 0 || tb_hands_next_placed(h) != NULL);
	while (tb_place_gap_is_left(h, &act->place) && work_place(h, act, 0, each) && !one)
		;
}

/* "Sc in each st to last 2 sc" where none of the last is a sc; of a kind that is nowhere to be seen the account tells. */
static void warn_left_named(tb_hands *h, const tb_act *act, guint32 limit)
{
	const tb_stitch *named = act->place.left_named;
	const tb_place left = {.in = TB_IN_EACH, .target = TB_TARGET_NAMED, .rows_below = 1, .named = named};
	guint32 count = tb_place_count(h);
	if (named == NULL || named != act->stitch || h->row < 2 || act->place.up_to != NULL || limit >= count || tb_place_is_deep(h, &act->place))
		return;
	bool other = false;
	for (guint32 i = limit; i < count; i++) {
		guint32 made = tb_hands_place(h, i);
		/* what a turning chain is called is another matter */
		bool turning = (tb_hands_made(h, made)->flags & TB_MADE_TURNING) != 0;
		if (tb_hands_made(h, made)->flags & TB_MADE_CHAIN && !turning)
			return;
		if (!turning && tb_place_is_named(h, &left, made))
			return;
		other = other || !turning;
	}
	if (!other)
		return;
	tb_hands_tell(h, TB_WARNING, "stands-on-other", act->place.span, "Name the stitches as they are, or call them sts.",
		"the last of these are no %s", tb_hands_term(h, named));
}

static void work_each(tb_hands *h, const tb_act *act, unsigned each, unsigned after)
{
	const tb_place *place = &act->place;
	guint32 limit;
	tb_act gaps;
	if (tb_place_is_each_gap(h, act, &gaps)) {
		work_gaps(h, &gaps, each);
		return;
	}
	if (!tb_acts_find_limit(h, act, after, &limit))
		return;
	warn_left_named(h, act, limit);
	bool deep = tb_place_is_deep(h, place);
	/* older books call each chain of the foundation a loop */
	bool plain = deep || tb_place_is_plain(h, place) || (place->loose && h->row == 1) ||
		tb_loose_is_stitch(h, place);
	unsigned takes = deep ? 1 : act->stitch->takes;
	warn_no_loops(h, act, each);
	/* "sc in next 12 sts, dc in each st across": who says "each" has seen one */
	if (plain && h->cursor.due >= limit && h->now.repeating == 0 && place->up_to == NULL && place->of == NULL &&
		tb_place_count(h) > 0 && h->cursor.has_last && h->row > 1 && !h->cursor.may_end)
		tb_hands_tell(h, TB_WARNING, "past-end", act->span, "Look at what is worked before it.",
			"nothing is left for this in the %s", h->sentence->is_round ? "round" : "row");
	if (act->other != NULL) {
		work_kinds(h, act, limit);
		return;
	}
	if (plain && !deep && takes == 1 && each == 1 && act->stitch->post == TB_POST_NONE && act->between.count == 0) {
		work_plain(h, act, limit - h->cursor.due);
		return;
	}
	if ((place->also != NULL || place->but != NULL) && !tb_place_has_kinds(h, act))
		return;
	unsigned which = 0;
	while (!h->cursor.over && (plain ? limit - MIN(h->cursor.due, limit) >= takes
									 : tb_place_is_left(h, place, limit))) {
		guint32 due = h->cursor.due;
		if (which > 0)
			chain_between(h, act);
		if (!work_place(h, act, which++, each) || h->cursor.due == due)
			return;
	}
	if (which > 0 && h->sentence->is_round)
		chain_between(h, act);
	tb_place_pass_left_out(h, place, limit);
	/* who says "each dc" has seen one: where there is none, something else is meant */
	h->cursor.odd += !plain && which == 0 ? 2 : 0;
	guint32 begin, end;
	/* there is none, or they were all passed over before: that is told */
	if (!plain && which == 0 && place->up_to == NULL && !tb_place_is_left(h, place, tb_place_count(h)) &&
		(h->cursor.due < limit || (h->now.repeating == 0 && tb_place_find_from(h, place, h->cursor.first, &begin, &end))))
		work_place(h, act, 0, each);
	else if (plain && h->cursor.due < limit && !h->cursor.over)
		tell_together_over(h, act, limit - h->cursor.due);
}

/*
 * "Sl st in sp between next 2 dc" at the beginning of a round: it goes on in the gaps of the stitches, and
 * the last is that before the first one. False when it cannot, which is told.
 */
static bool begin_in_gap(tb_hands *h, const tb_act *act)
{
	tb_footing footing;
	if (!tb_place_is_gap_of_round(h, act) || !tb_place_take(h, act, act->stitch, 0, &footing) ||
		tb_hands_make(h, act->stitch, &footing, 0, act->span) == TB_NONE)
		return false;
	h->now.begun = h->cloth.made->len;
	h->now.travelled = h->cursor.began_in_gap = true;
	return true;
}

static void work_next(tb_hands *h, const tb_act *act, unsigned each)
{
	unsigned count = tb_hands_number(h, &act->place.count, 1);
	guint32 left = tb_place_count(h) - MIN(h->cursor.due, tb_place_count(h));
	if (act->pattern != TB_PATTERN_NOT && act->other != NULL && act->place.in == TB_IN_NEXT && count <= left) {
		work_kinds(h, act, h->cursor.due + count);
		return;
	}
	if (act->place.in == TB_IN_BETWEEN && act->place.beside != TB_BESIDE_BEFORE && act->stitch == h->working->slip &&
		act->place.target != TB_TARGET_GROUP && h->sentence->is_round && h->cloth.made->len == h->now.begun) {
		begin_in_gap(h, act);
		return;
	}
	if (act->place.in == TB_IN_BETWEEN && act->place.up_to != NULL && act->place.up_to->in == TB_IN_EACH) {
		tb_hands_tell(h, TB_ERROR, "not-worked", act->place.span, "Say in how many of them.",
			"how far this goes between the stitches is not plain");
		return;
	}
	if (act->place.in == TB_IN_BETWEEN && count == 0) {
		work_gaps(h, act, each);
		return;
	}
	if (act->place.middle || act->place.in == TB_IN_PART || act->place.in == TB_IN_NTH_STITCH || act->place.in == TB_IN_NTH_CHAIN)
		count = 1;
	if (act->place.in == TB_IN_NEXT && tb_place_is_plain(h, &act->place) && each == 1 &&
		act->between.count == 0 && act->stitch->takes == 1 && act->stitch->post == TB_POST_NONE && count <= left &&
		act->place.of_row == 0) {
		work_plain(h, act, count);
		return;
	}
	for (unsigned i = 0; i < count && !h->cursor.over; i++) {
		if (i > 0)
			chain_between(h, act);
		if (!work_place(h, act, i, each))
			return;
	}
}

/*
 * "Sc in the end of each row. (40 sc)": as many as there are rows, where none is a round. Where no count is
 * stated it may be but some of them, as along an armhole.
 */
static guint64 count_row_ends(const tb_hands *h, const tb_act *act, unsigned each)
{
	/* "R1" is turned by what "R2" begins with */
	for (guint row = h->row > 2 ? 2 : 1; row < h->row; row++) {
		if (tb_hands_row(h, row)->is_round)
			return 0;
	}
	guint64 rows = h->sentence->first == h->sentence->last ? h->row - 1 : 0, few = tb_border_rows_taken(h, act);
	return rows % few == 0 ? rows / few * each : 0;
}

/* Whether a flat piece before this one has ROWS in the size being worked. */
static bool is_as_long(const tb_hands *h, guint64 rows)
{
	for (unsigned i = 0; i < h->piece; i++) {
		const tb_fabric *fabric = tb_worked_fabric(h->working->worked, i, h->size);
		if (fabric->row_count > 1 && fabric->row_count - 1 == rows && !fabric->rows[1].is_round)
			return true;
	}
	return false;
}

/*
 * A piece that begins along the ends of rows of another, with MANY stitches as it states, EACH in a row: a round goes
 * along all of a piece's rows, so that there is a piece of as many; along how many an edge goes, nobody can say.
 */
static bool check_row_ends(tb_hands *h, const tb_act *act, unsigned each, guint64 many)
{
	guint64 few = tb_border_rows_taken(h, act), rows = each > 0 ? many / each * few : 0;
	if (each == 0 || many % each != 0) {
		tb_hands_give_up(h, "count-claimed", act->span, "Check the count of the row.",
			"%" G_GUINT64_FORMAT " sts are no %u in each row", many, each);
		return false;
	}
	if (h->sentence->is_round && !is_as_long(h, rows)) {
		tb_hands_give_up(h, "count-claimed", act->span, "Check the count of the round, or the rows of that piece.",
			"%" G_GUINT64_FORMAT " sts go along %" G_GUINT64_FORMAT " rows, and no piece before this one has so many", many, rows);
		return false;
	}
	if (!h->sentence->is_round)
		tb_hands_tell(h, TB_WARNING, "not-checked", act->span, "Hold the count against the rows of that edge.",
			"how many rows this edge has is not known; %" G_GUINT64_FORMAT " sts are taken as it is stated", many);
	return true;
}

/* Stitches along an edge, SAID or what ACT says: made and counted; which rows they stand on, no row below shows. */
static void work_edge(tb_hands *h, const tb_act *act, unsigned each, guint64 said)
{
	if (act->place.elsewhere)
		tb_neighbour_join(h, act);
	guint64 many = said > 0 ? said : (guint64)each * tb_hands_number(h, &act->place.count, 0);
	/* "…, join. 52 sc on each side" is a count */
	bool late = h->cursor.joined && h->sentence->is_round && !act->unsaid;
	if (said == 0 && act->unsaid)
		many = act->row_ends ? count_row_ends(h, act, each) : tb_border_length(h, act);
	if (act->unsaid && many == 0 && (!act->row_ends || h->row == 1))
		many = tb_edge_length(h, act);
	if (act->row_ends && h->row == 1 && many > 0 && !check_row_ends(h, act, each, many))
		return;
	if (many == 0 || late) {
		tb_hands_give_up(h, "not-worked", act->span, "Say how many stitches are worked along it.", late ?
			"the round is joined before this is worked" : "how many stitches go along this edge is not said");
		return;
	}
	if (act->of_others && tb_place_count(h) > 0) {
		tb_hands_give_up(h, "not-worked", act->span, "Say how many stitches are worked along it, and along which edge.",
			"which stitches these are, the rows before do not show");
		return;
	}
	if (tb_border_asks_too_many(h, act)) {
		tb_hands_give_up(h, "not-worked", act->span, "Count the rows, or the chains, of this edge.",
			"the piece has no edge of so many");
		return;
	}
	guint16 number = h->now.group_number;
	for (guint64 i = 0; i < many && !h->cursor.over; i++) {
		if (said > 0 && each > 1 && i % each == 0)
			tb_hands_number_group(h, NULL);
		/* a slip stitch joins, and is no stitch of the row */
		unsigned flags = act->stitch == h->working->slip ? 0 : TB_MADE_COUNTED;
		if (tb_hands_make(h, act->stitch, NULL, flags, act->span) == TB_NONE)
			return;
	}
	h->now.group_number = number;
	h->cursor.edges++;
	h->cursor.edge_made = many;
	if (act->in_rows && said == 0)
		h->cursor.edge_rows += tb_hands_number(h, &act->in_each, 0);
	else
		tb_border_leave_rows(h, act->span);
	tb_border_tell_rows(h, act);
	if (act->proof != NULL)
		tb_border_prove(h, act->proof);
	/* a stitch in the side of one row stands among those of the row below */
	if (!act->place.middle && !h->cursor.left && h->row > 1) {
		h->cursor.left = true;
		h->cursor.left_at = tb_place_count(h);
	}
}

/* "magic ring, 6 sc": into the ring, as there is nothing else. */
static void work_in_ring(tb_hands *h, const tb_act *act, unsigned each)
{
	guint64 many = (guint64)each * tb_hands_number(h, &act->place.count, 1);
	tb_act in_ring = *act;
	in_ring.place.in = TB_IN_RING;
	work_place(h, &in_ring, 0, (unsigned)MIN(many, TB_LIMIT_ROW_STITCHES));
}

/* "Ch 4, sl st in 2nd ch from hook, sc in next ch, hdc in last ch": the last of those just made. */
static bool is_last_own_chain(const tb_hands *h, const tb_act *act)
{
	return act->place.in == TB_IN_LAST && tb_hands_number(h, &act->place.count, 1) == h->cursor.own_chains;
}

/* "ch 20, 2 sc in 2nd ch from hook and in each ch across": along the chains just made. */
static void work_own_chain(tb_hands *h, const tb_act *act, unsigned each)
{
	tb_cursor *c = &h->cursor;
	guint32 many = act->place.in == TB_IN_EACH ? c->own_chains :
		MIN(tb_hands_number(h, &act->place.count, 1), c->own_chains);
	for (; many > 0 && !c->over; many--, c->own_chains--, c->own_chain--) {
		tb_footing footing = {.bases = {c->own_chain}, .behind = TB_NONE, .count = 1};
		for (unsigned i = 0; i < each; i++) {
			if (tb_hands_make(h, act->stitch, &footing, TB_MADE_COUNTED, act->span) == TB_NONE)
				return;
		}
	}
}

/* "2 sc in next 2 sts": some mean 2 in each; of more than two, hardly anybody. */
static void tell_equal(tb_hands *h, const tb_act *act, unsigned each)
{
	if (!act->equal || each != 2 || h->sentence->claim_count > 0 || act->stitch == NULL)
		return;
	tb_hands_tell(h, TB_WARNING, "two-readings", act->span, "As in “2 sc in each of next 2 sts”, or “sc in next 2 sts”.",
		"this may be two in each of two, or one in each; %s is taken", tb_means(h, TB_MEANS_ALL) ? "two" : "one");
}

void tb_acts_stitch(tb_hands *h, const tb_act *act, unsigned after)
{
	unsigned each = tb_hands_number(h, &act->each, 1);
	tell_equal(h, act, each);
	tb_place_warn_sames(h, &act->place);
	if (act->equal && !tb_means(h, TB_MEANS_ALL))
		each = 1;
	if (act->proves) {
		tb_border_prove(h, act);
		return;
	}
	if (act->stitch == NULL || each == 0 || tb_place_holds_too_many(h, act, each) || tb_own_work(h, act, each) ||
		tb_own_picot_on_last(h, act) || tb_acts_close(h, act))
		return;
	if (tb_own_closes(h, act)) {
		tb_acts_join(h, act);
		return;
	}
	/* "join: 16 dc." says what the round has, and so does "30 sc evenly around the cuff, 30 sc" */
	h->cursor.odd += (h->cursor.joined || h->cursor.unjoined || h->cursor.edges > 0) && act->bare &&
		act->stitch != h->working->slip ? 4 : 0;
	/* "… around the armhole. 40 sc" is a count */
	if (act->bare && h->now.group == NULL && h->row == 1 && !h->start.grown && tb_place_count(h) == 0 &&
		act->stitch != h->working->slip && tb_edge_is_begun_on(h->sentence)) {
		tb_hands_give_up(h, "not-worked", act->span, "Say along what they are worked.",
			"where these stitches go is not said");
		return;
	}
	guint64 on_chain = tb_border_on_chain(h, act, each);
	/* "working down the side, 18 sc", "sc in next 18 sts" */
	bool along = h->cursor.other_edge && act->place.in == TB_IN_NEXT && h->now.group == NULL &&
		(act->bare || tb_place_is_plain(h, &act->place));
	if (on_chain > 0 || along || act->place.in == TB_IN_EDGE || tb_edge_is_elsewhere(h, act)) {
		work_edge(h, act, each, on_chain);
		return;
	}
	if (h->now.group == NULL && tb_edge_is_corner(h, act)) {
		tb_border_work_corner(h, act, each);
		return;
	}
	if (h->cursor.own_chains > 0 && act->place.target == TB_TARGET_CHAIN &&
		(act->place.in == TB_IN_EACH || act->place.in == TB_IN_NEXT || is_last_own_chain(h, act))) {
		work_own_chain(h, act, each);
		return;
	}
	if (h->start.is_ring && h->row == 1 && act->place.in == TB_IN_NEXT && h->now.group == NULL &&
		tb_place_is_plain(h, &act->place) && act->stitch->takes == 1) {
		work_in_ring(h, act, each);
		return;
	}
	/* "…, ch 1; rep from * around. 17 sc" is a count */
	bool here = act->bare && h->now.group == NULL && h->cursor.has_last && h->cursor.in_space && !tb_repeat_just_ended(h);
	if (here && tb_means(h, TB_MEANS_BEFORE)) {
		tb_act before = *act;
		before.place.target = TB_TARGET_SPACE;
		before.place.count = (tb_number){1, tb_number_one, act->span};
		work_place(h, &before, 0, tb_hands_number(h, &act->place.count, 1));
		return;
	}
	if (here && tb_means(h, TB_MEANS_SAME)) {
		tb_act same = *act;
		same.place.in = TB_IN_SAME;
		work_place(h, &same, 0, tb_hands_number(h, &act->place.count, 1));
		return;
	}
	if (h->now.group != NULL) {
		unsigned count = act->place.in == TB_IN_NEXT || act->place.in == TB_IN_SAME
							 ? tb_hands_number(h, &act->place.count, 1)
							 : 1;
		for (unsigned i = 0; i < count && !h->cursor.over; i++)
			work_place(h, act, i, each);
	} else if (act->place.in == TB_IN_EACH) {
		guint32 due = h->cursor.due;
		if (tb_acts_comes_late(h, act))
			return;
		work_each(h, act, each, after);
		tb_acts_went_to_end(h, act, due);
	} else {
		work_next(h, act, each);
	}
}
