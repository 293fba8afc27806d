/*
 * Rows that stand on other work than the row below: two legs that a body goes on from, with a chain between.
 *
 * The last row of what is named is laid beside the row below, or is the foundation where a piece begins so.
 * The places stand in the order in which they are named: what an act names is brought to the hook, and while
 * it is worked nothing else is there. A chain made on the way holds stitches on both its sides.
 */
#include "acts/ground.h"
#include "acts/travel.h"
#include "hands/row.h"
#include "places/place.h"

/* What lies of a piece, in made: a copy of its last row, or the row below itself. */
typedef struct {
	unsigned piece, copy;
	guint32 from, to;
} lain;

static lain *lain_at(const tb_hands *h, guint i)
{
	return &g_array_index(h->now.grounds, lain, i);
}

static bool is_of(const tb_other_work *ground, const lain *l)
{
	return ground->piece == l->piece && (ground->both || ground->copy == l->copy);
}

/* --- what the row names --- */

static void add_ground(tb_hands *h, const tb_other_work *ground)
{
	unsigned make = tb_pattern_piece(h->working->pattern, ground->piece)->make;
	unsigned last = ground->both ? MAX(make, 2) : ground->copy;
	for (unsigned copy = ground->both ? 1 : ground->copy; copy <= last; copy++) {
		lain new = {.piece = ground->piece, .copy = copy};
		bool there = false;
		for (guint i = 0; i < h->now.grounds->len; i++)
			there = there || (lain_at(h, i)->piece == new.piece && lain_at(h, i)->copy == copy);
		if (!there)
			g_array_append_val(h->now.grounds, new);
	}
}

static bool is_placed(const tb_act *act)
{
	return act->kind == TB_ACT_WORK || act->kind == TB_ACT_GROUP || act->kind == TB_ACT_SKIP ||
		act->kind == TB_ACT_JOIN || act->kind == TB_ACT_JOIN_YARN || act->kind == TB_ACT_GO_TO;
}

/* Gathers what ACTS name where H is there, OWN: parts of the piece in hand alone; whether they name anything. */
static bool gather(tb_hands *h, const tb_acts *acts, bool own, unsigned depth)
{
	bool found = false;
	for (unsigned i = 0; i < acts->count && depth < TB_LIMIT_NESTING + 2; i++) {
		const tb_act *act = &acts->acts[i];
		const tb_other_work *ground = is_placed(act) ? act->place.ground : NULL;
		ground = ground != NULL && ground->own == own ? ground : NULL;
		found = found || ground != NULL || (is_placed(act) && act->place.far_side);
		if (h != NULL && ground != NULL && ground->piece != TB_NO_PIECE)
			add_ground(h, ground);
		found |= gather(h, &act->body, own, depth + 1);
	}
	return found;
}

bool tb_ground_is_named(const tb_sentence *sentence)
{
	return gather(NULL, &sentence->acts, false, 0);
}

/* Whether some of the row is worked into what it does not name: what the hook was on before. */
static bool works_unnamed(const tb_acts *acts)
{
	for (unsigned i = 0; i < acts->count; i++) {
		const tb_act *act = &acts->acts[i];
		if (act->kind == TB_ACT_WORK && act->place.ground == NULL && !act->place.far_side &&
			(act->place.in == TB_IN_NEXT || act->place.in == TB_IN_EACH) &&
			(act->place.target == TB_TARGET_STITCH || act->place.target == TB_TARGET_NAMED))
			return true;
	}
	return false;
}

/* --- laying it down --- */

/* Of the pieces named, the one in hand is the row below itself: of two alike, that made last. */
static guint find_own(const tb_hands *h)
{
	guint own = G_MAXUINT, alike = 0;
	for (guint i = 0; i < h->now.grounds->len; i++) {
		const lain *l = lain_at(h, i);
		if (l->piece != h->piece)
			continue;
		alike++;
		if (own == G_MAXUINT || l->copy == 0 || l->copy > lain_at(h, own)->copy)
			own = i;
	}
	bool twice = tb_pattern_piece(h->working->pattern, h->piece)->make > 1;
	return own != G_MAXUINT && (alike > 1 || !twice || lain_at(h, own)->copy > 1) ? own : G_MAXUINT;
}

static void copy_stitch(tb_hands *h, const tb_made *made)
{
	const tb_made stitch = *made;
	guint32 copy = tb_hands_make(h, tb_hands_stitch(h, &stitch), NULL, stitch.flags & ~TB_MADE_IN_SPACE,
		h->sentence->span);
	if (copy != TB_NONE)
		tb_hands_made(h, copy)->chains = stitch.chains;
}

/* A copy of the last row of L's piece, from its end where the row comes to it from there. */
static void lay_one(tb_hands *h, lain *l, bool backward)
{
	bool own = l->piece == h->piece;
	const tb_fabric *f = own ? NULL : tb_worked_fabric(h->working->worked, l->piece, h->size);
	guint32 rows = own ? h->row + 1 : f->row_count;
	l->from = l->to = h->cloth.made->len;
	/* its own first row goes on from nothing */
	if (rows == 0 || (own && h->cloth.rows->len <= 1 && !h->start.grown && h->cloth.made->len == 0))
		return;
	const tb_made_row row = own ? *tb_hands_row(h, h->row) : f->rows[rows - 1];
	for (guint32 i = 0, counted = 0; i < row.count && counted < row.stitches; i++) {
		guint32 at = backward ? row.first + row.count - 1 - i : row.first + i;
		const tb_made *made = own ? tb_hands_made(h, at) : &f->made[at];
		if (made->flags & TB_MADE_COUNTED) {
			copy_stitch(h, made);
			counted++;
		}
	}
	l->to = h->cloth.made->len;
}

void tb_ground_lay(tb_hands *h)
{
	g_array_set_size(h->now.grounds, 0);
	if (tb_ground_lay_opening(h, tb_ground_is_named(h->sentence)))
		return;
	if (!gather(h, &h->sentence->acts, false, 0) || h->now.grounds->len == 0)
		return;
	gather(h, &h->sentence->acts, true, 0);
	bool begins = h->cloth.rows->len == 0, round = h->sentence->is_round;
	if (begins && h->now.grounds->len == 1 && works_unnamed(&h->sentence->acts)) {
		lain other = {.piece = lain_at(h, 0)->piece, .copy = lain_at(h, 0)->copy == 2 ? 1 : 2};
		g_array_append_val(h->now.grounds, other);
	}
	guint own = begins ? G_MAXUINT : find_own(h);
	if (own != G_MAXUINT) {
		const tb_made_row *row = tb_hands_row(h, h->row);
		lain_at(h, own)->from = row->first;
		lain_at(h, own)->to = row->first + row->count;
	}
	if (begins && !tb_row_add(h, 0, round ? TB_SIDE_RIGHT : TB_SIDE_WRONG, round))
		return;
	/* a row that is turned meets it from its other end */
	for (guint i = 0; i < h->now.grounds->len; i++) {
		guint which = round ? i : h->now.grounds->len - 1 - i;
		if (which != own)
			lay_one(h, lain_at(h, which), !round);
	}
	tb_made_row *row = tb_hands_row(h, h->row);
	if (begins) {
		tb_row_close(h);
		h->start.grown = true;
	} else {
		/* it lies beside that row, and is no stitch of it */
		row->count = h->cloth.made->len - row->first;
	}
}

/* --- the places --- */

/* Whether place I is of the tb_other_work that is named; NULL: of nothing that was laid down. */
static bool is_place_of(const tb_hands *h, guint32 i, const void *named)
{
	const tb_other_work *ground = named;
	guint32 made = tb_hands_place(h, i);
	bool lies = false;
	for (guint k = 0; k < h->now.grounds->len; k++) {
		const lain *l = lain_at(h, k);
		bool in = made >= l->from && made < l->to;
		if (in && ground != NULL && is_of(ground, l))
			return true;
		lies = lies || (in && l->from >= tb_hands_row(h, h->row - 1)->first + tb_hands_row(h, h->row - 1)->stitches);
	}
	return ground == NULL && !lies;
}

void tb_ground_arrange(tb_hands *h)
{
	if (h->now.grounds->len > 0 && h->row > 1)
		tb_place_bring(h, 0, is_place_of, NULL);
}

/* So many of the next places are alike, chains or not. */
static guint32 count_kind(const tb_hands *h)
{
	guint32 i = h->cursor.due, count = tb_place_count(h), first = i;
	unsigned kind = i < count ? tb_hands_made(h, tb_hands_place(h, i))->flags & TB_MADE_CHAIN : 0;
	while (i < count && (tb_hands_made(h, tb_hands_place(h, i))->flags & TB_MADE_CHAIN) == kind)
		i++;
	return i - first;
}

/* --- the chain that leads there --- */

static bool is_chain(const tb_hands *h, guint32 made)
{
	return (tb_hands_made(h, made)->flags & (TB_MADE_CHAIN | TB_MADE_TURNING)) == TB_MADE_CHAIN;
}

/*
 * The last run of COUNT chains, 0: of any number, among those made in this row, or with PASSED among the
 * places behind the hook; 0 where there is none.
 */
static guint32 find_chain(const tb_hands *h, bool passed, guint32 count, guint32 *begin)
{
	guint32 first = passed ? 0 : tb_hands_row(h, h->row)->first, end = passed ? h->cursor.due : h->cloth.made->len;
	while (end > first) {
		guint32 from = end;
		while (from > first && is_chain(h, passed ? tb_hands_place(h, from - 1) : from - 1))
			from--;
		if (end > from && (count == 0 || count == end - from)) {
			*begin = from;
			return end - from;
		}
		end = from < end ? from : end - 1;
	}
	return 0;
}

static void insert_place(tb_hands *h, guint32 at, guint32 made)
{
	g_array_insert_val(h->now.places, at, made);
	if (h->now.turning_place != TB_NONE && h->now.turning_place >= at)
		h->now.turning_place++;
}

/* The chains made in this row come to the hook, to be worked into: they are no stitches then. */
static guint32 bring_made_chain(tb_hands *h, guint32 count, bool far)
{
	guint32 begin = 0, chains = find_chain(h, false, count, &begin);
	for (guint32 i = 0; i < chains; i++) {
		guint32 made = far ? begin + i : begin + chains - 1 - i;
		tb_hands_made(h, made)->flags &= (guint8)~TB_MADE_COUNTED;
		insert_place(h, h->cursor.due, made);
	}
	return chains;
}

/* The other side of chains: of this row's, or of those of the row below that were passed last. */
static guint32 bring_far_side(tb_hands *h, guint32 count)
{
	guint32 begin = 0, chains = bring_made_chain(h, count, true);
	if (chains > 0)
		return chains;
	chains = find_chain(h, true, count, &begin);
	for (guint32 i = 0; i < chains; i++)
		insert_place(h, h->cursor.due, tb_hands_place(h, begin + i));
	return chains;
}

bool tb_ground_other_side(tb_hands *h)
{
	return (h->row > 1 || h->start.grown) && bring_far_side(h, 0) > 0;
}

/* Whether ACTS work along a chain, or join to other work by a slip stitch. */
static bool needs_bridge(const tb_hands *h, const tb_acts *acts)
{
	for (unsigned i = 0; i < acts->count; i++) {
		const tb_act *act = &acts->acts[i];
		const tb_place *place = &act->place;
		bool joins = place->ground != NULL && (act->kind == TB_ACT_JOIN ||
			(act->kind == TB_ACT_WORK && act->stitch == h->working->slip));
		bool along = is_placed(act) && (place->far_side || (place->target == TB_TARGET_CHAIN &&
			place->in != TB_IN_NTH_CHAIN));
		if (joins || along || act->kind == TB_ACT_OTHER_SIDE)
			return true;
	}
	return false;
}

/* Whether ACTS, which make but one chain, work into it by itself: "ch 1, sc around first leg, sc in ch". */
static bool works_one_chain(const tb_acts *acts)
{
	unsigned chains = 0, into = 0;
	for (unsigned i = 0; i < acts->count; i++) {
		const tb_act *act = &acts->acts[i];
		chains += act->kind == TB_ACT_CHAIN;
		into += act->kind == TB_ACT_WORK && act->place.target == TB_TARGET_CHAIN && act->place.in != TB_IN_NTH_CHAIN &&
			(act->place.in == TB_IN_EACH || tb_number_is(&act->place.count, 1));
	}
	return chains == 1 && into > 0;
}

bool tb_ground_is_bridge(const tb_hands *h, const tb_act *act)
{
	return h->now.grounds->len > 0 && act->counts == TB_COUNTS_UNSAID && needs_bridge(h, &h->sentence->acts) &&
		(tb_hands_number(h, &act->count, 1) > 1 || works_one_chain(&h->sentence->acts));
}

/* --- the acts --- */

/* "Sl st to first leg": the hook stands in its first stitch, which is worked after that. */
static void join_to(tb_hands *h, const tb_act *act)
{
	tb_footing footing = {.bases = {tb_hands_place(h, h->cursor.due)}, .behind = TB_NONE, .count = 1,
		.rows_below = 1};
	/* yarn that is joined makes no stitch */
	if (act->kind != TB_ACT_JOIN_YARN && tb_hands_make(h, h->working->slip, &footing, 0, h->sentence->span) == TB_NONE)
		return;
	h->cursor.last = footing;
	h->cursor.has_last = true;
	h->cursor.in_space = false;
}

/* Whether ACTS name what L is. */
static bool names_lain(const tb_acts *acts, const lain *l, unsigned depth)
{
	for (unsigned i = 0; i < acts->count && depth < TB_LIMIT_NESTING + 2; i++) {
		bool names = is_placed(&acts->acts[i]) || acts->acts[i].kind == TB_ACT_LEAVE;
		const tb_other_work *ground = names ? acts->acts[i].place.ground : NULL;
		if ((ground != NULL && is_of(ground, l)) || names_lain(&acts->acts[i].body, l, depth + 1))
			return true;
	}
	return false;
}

/* So many of what L is are passed over by ACTS, which say how many. */
static guint32 count_passed(const tb_hands *h, const tb_acts *acts, const lain *l, unsigned depth)
{
	guint32 passed = 0;
	for (unsigned i = 0; i < acts->count && depth < TB_LIMIT_NESTING + 2; i++) {
		const tb_act *act = &acts->acts[i];
		if (act->kind == TB_ACT_SKIP && act->place.ground != NULL && is_of(act->place.ground, l))
			passed += tb_hands_number(h, &act->place.count, 1);
		passed += count_passed(h, &act->body, l, depth + 1);
	}
	return passed;
}

void tb_ground_leave_rest(tb_hands *h, const tb_other_work *next, tb_span span)
{
	if (h->now.grounds->len == 0 || h->cursor.due == 0 || h->cursor.due >= tb_place_count(h))
		return;
	guint32 last = tb_hands_place(h, h->cursor.due - 1), left = 0, passed = 0;
	for (guint k = 0; k < h->now.grounds->len; k++) {
		const lain *l = lain_at(h, k);
		if (last < l->from || last >= l->to || l->piece == h->piece || (next != NULL && is_of(next, l)) ||
			names_lain(&h->now.next_acts, l, 0))
			continue;
		for (guint32 i = h->cursor.due; i < tb_place_count(h); i++) {
			guint32 made = tb_hands_place(h, i);
			left += made >= l->from && made < l->to && i == h->cursor.due + left;
		}
		passed += count_passed(h, &h->sentence->acts, l, 0);
	}
	if (left == 0)
		return;
	/* who says how many are skipped leaves no others, unless it is the other half of an underarm */
	tb_hands_tell(h, passed > 0 && passed != left ? TB_ERROR : TB_WARNING, "unworked", span,
		"Say how many are skipped there.",
		"%u st%s of the piece before %s left unworked", left, left == 1 ? "" : "s", left == 1 ? "is" : "are");
	g_array_remove_range(h->now.places, h->cursor.due, left);
}

/* ACT, to be worked with only the next COUNT places there. */
static tb_ground_part part_of(const tb_act *act, guint32 count, unsigned after)
{
	tb_ground_part part = {.kind = TB_GROUND_WITHIN, .act = *act, .count = count, .after = after};
	part.act.place.ground = NULL;
	part.act.place.far_side = false;
	return part;
}

/* Goes to what ACT names. */
static tb_ground_part go_to(tb_hands *h, const tb_act *act)
{
	const tb_ground_part done = {.kind = TB_GROUND_DONE};
	const tb_other_work *ground = act->place.ground;
	if (ground->piece == TB_NO_PIECE) {
		tb_hands_give_up(h, "piece-unknown", act->place.span, "Call it as its heading does.",
			"no piece before this one is called “%s”", ground->said);
		return done;
	}
	tb_ground_leave_rest(h, ground, act->span);
	guint32 count = tb_place_bring(h, h->cursor.due, is_place_of, ground);
	if (count == 0) {
		tb_hands_give_up(h, "past-end", act->place.span, NULL, "nothing of the %s is left to work into",
			ground->said);
		return done;
	}
	bool slip = act->kind == TB_ACT_WORK && act->stitch == h->working->slip &&
		act->place.in != TB_IN_EACH && tb_hands_number(h, &act->place.count, 1) == 1;
	if (act->kind == TB_ACT_GO_TO)
		return done;
	if (!slip && act->kind != TB_ACT_JOIN && act->kind != TB_ACT_JOIN_YARN)
		return part_of(act, count, 0);
	join_to(h, act);
	return done;
}

/* Whether something behind the act now worked names other work. */
static bool names_later(const tb_hands *h)
{
	return gather(NULL, &h->now.next_acts, false, 0);
}

/* So many of the next places lie in the row below, or in one work beside it. */
static guint32 count_alike(const tb_hands *h)
{
	guint32 i = h->cursor.due, count = tb_place_count(h), begin = i;
	guint32 first = i < count ? tb_hands_place(h, i) : 0;
	guint which = 0;
	while (which < h->now.grounds->len && !(first >= lain_at(h, which)->from && first < lain_at(h, which)->to))
		which++;
	for (; i < count; i++) {
		guint32 made = tb_hands_place(h, i);
		bool in = which < h->now.grounds->len && made >= lain_at(h, which)->from && made < lain_at(h, which)->to;
		if (which < h->now.grounds->len ? !in : !is_place_of(h, i, NULL))
			break;
	}
	return i - begin;
}

/* "3 sc over the chain", which has so many: one in each of them. */
static bool is_spread(const tb_hands *h, const tb_act *act)
{
	const tb_place *place = &act->place;
	if (act->kind != TB_ACT_WORK || place->target != TB_TARGET_CHAIN || place->in != TB_IN_NEXT ||
		!tb_number_is(&place->count, 1) || tb_number_is(&act->each, 1))
		return false;
	unsigned each = tb_hands_number(h, &act->each, 1);
	bool due = h->cursor.due < tb_place_count(h) && is_chain(h, tb_hands_place(h, h->cursor.due));
	guint32 begin;
	return due ? count_kind(h) == each : find_chain(h, false, each, &begin) == each;
}

tb_ground_part tb_ground_find(tb_hands *h, const tb_act *act, unsigned after)
{
	const tb_ground_part none = {.kind = TB_GROUND_NONE}, done = {.kind = TB_GROUND_DONE};
	const tb_place *place = &act->place;
	if (h->now.group != NULL || (!is_placed(act) && act->kind != TB_ACT_REPEAT))
		return none;
	tb_ground_part opening = tb_ground_find_opening(h, act);
	if (opening.kind == TB_GROUND_WITHIN)
		opening.count = count_kind(h);
	if (opening.kind != TB_GROUND_NONE)
		return opening;
	if (is_placed(act) && place->ground != NULL && (!place->ground->own || h->now.grounds->len > 0))
		return go_to(h, act);
	if (is_placed(act) && place->far_side && h->row == 1 && !h->start.grown) {
		/* an oval's: around the end of the foundation */
		tb_act over = *act;
		tb_ground_part side = {.kind = TB_GROUND_INSTEAD, .act = *act, .after = after};
		over.bare = side.act.place.far_side = false;
		tb_travel_other_side(h, &over);
		return side;
	}
	if (is_placed(act) && place->far_side) {
		guint32 chains = bring_far_side(h, place->in == TB_IN_EACH ? 0 : tb_hands_number(h, &place->count, 0));
		if (chains > 0)
			return part_of(act, chains, 0);
		tb_hands_give_up(h, "other-side", act->span, NULL, "no such chain was worked before this");
		return done;
	}
	if (h->now.grounds->len == 0 || h->cursor.within || h->cursor.own_chains > 0)
		return none;
	tb_act plain;
	if (is_spread(h, act)) {
		plain = *act;
		plain.place.count = act->each;
		plain.each = (tb_number){1, tb_number_one, act->span};
		act = &plain;
		place = &act->place;
	}
	bool along = act->kind == TB_ACT_WORK && place->target == TB_TARGET_CHAIN &&
		(place->in == TB_IN_NEXT || place->in == TB_IN_EACH);
	bool due = along && h->cursor.due < tb_place_count(h) && is_chain(h, tb_hands_place(h, h->cursor.due));
	guint32 chains = along && !due ?
		bring_made_chain(h, place->in == TB_IN_EACH ? 0 : tb_hands_number(h, &place->count, 1), false) : 0;
	if (due && place->in == TB_IN_EACH)
		chains = count_kind(h);
	if (chains > 0)
		return part_of(act, chains, 0);
	/* "sc across, ch 3, sc across first leg": to the end of what the hook is on */
	bool across = act->kind == TB_ACT_REPEAT ? act->until == TB_UNTIL_END : place->in == TB_IN_EACH;
	guint32 alike = across && names_later(h) ? count_alike(h) : 0;
	if (alike == 0 || h->cursor.due + alike == tb_place_count(h))
		return none;
	return part_of(act, alike, after);
}

bool tb_ground_leave(tb_hands *h, const tb_act *act)
{
	if (h->now.grounds->len == 0 || h->cursor.due == 0 || h->cursor.due >= tb_place_count(h))
		return false;
	guint32 last = tb_hands_place(h, h->cursor.due - 1), left = 0;
	/* "leave rem 8 sts of Body unworked" is said of that alone */
	const tb_other_work *named = act->place.ground;
	if (named != NULL)
		left = tb_place_bring(h, h->cursor.due, is_place_of, named);
	for (guint k = 0; k < h->now.grounds->len && named == NULL; k++) {
		const lain *l = lain_at(h, k);
		if (last < l->from || last >= l->to)
			continue;
		for (guint32 i = h->cursor.due; i < tb_place_count(h); i++) {
			guint32 made = tb_hands_place(h, i);
			left += made >= l->from && made < l->to && i == h->cursor.due + left;
		}
	}
	unsigned count = tb_hands_number(h, &act->count, left);
	if (count != left)
		tb_hands_tell(h, TB_ERROR, count < left ? "unworked" : "past-end", act->span, NULL,
			"%u st%s left here, not %u", left, left == 1 ? " is" : "s are", count);
	if (left > 0)
		g_array_remove_range(h->now.places, h->cursor.due, left);
	return true;
}
