/*
 * Borders: a round over the sides of a flat piece, from corner to corner. Nobody writes how many stitches
 * a side takes; so many as keep it flat are shown, or as many as the count of the round leaves for it.
 */
#include "acts/border.h"
#include "hands/meaning.h"
#include "places/edge.h"
#include "places/place.h"
#include "places/repeat_need.h"

/* What the foundation takes, worked along from below: as many as stand on it. */
static guint64 along_foundation(const tb_hands *h)
{
	return h->row > 1 ? tb_hands_row(h, 1)->stitches : 0;
}

/* The ends of the rows: a plain stitch lies over one of single crochet, two over one of double. */
static guint64 along_side(const tb_hands *h)
{
	return h->row > 1 ? MAX((guint64)h->row - 1, (guint64)(h->cloth.height * 2 / 3 + 0.5)) : 0;
}

bool tb_border_asks_too_many(const tb_hands *h, const tb_act *act)
{
	guint32 many = tb_hands_number(h, &act->in_each, 0), rows = h->row - 1;
	if (h->row < 2 || h->start.chains == 0 || h->start.grown || act->in_motifs)
		return false;
	return many > (act->in_rows ? rows : MAX(h->start.chains, rows));
}

/* Whether all rows so far are flat, and as wide as the first: each side of the piece then has all their ends. */
static bool is_rectangle(const tb_hands *h)
{
	guint32 wide = h->row > 2 ? tb_hands_row(h, 1)->stitches : 0;
	for (guint32 row = 1; row < h->row && wide > 0; row++) {
		const tb_made_row *made = tb_hands_row(h, row);
		if (made->is_round || made->stitches != wide)
			return false;
	}
	return wide > 0 && !h->before.was_short;
}

void tb_border_tell_rows(tb_hands *h, const tb_act *act)
{
	if (h->row < 2 || h->start.grown || h->start.chains == 0 || h->cursor.edge_rows < h->row)
		return;
	tb_hands_give_up(h, "not-worked", act->span, "Count the rows of this edge.",
		"%u row ends are worked into along an edge of %u rows", h->cursor.edge_rows, h->row - 1);
}

/* Whether ACTS leave a rest of what they go along, and say so. */
static bool says_left(const tb_acts *acts)
{
	bool said = false;
	for (unsigned i = 0; i < acts->count; i++)
		said = said || acts->acts[i].kind == TB_ACT_LEAVE;
	return said;
}

void tb_border_leave_rows(tb_hands *h, tb_span span)
{
	guint32 worked = h->cursor.edge_rows, rows = h->row > 1 ? h->row - 1 : 0;
	h->cursor.edge_rows = 0;
	if (worked == 0 || worked >= rows || h->start.grown || h->labels.uncounted || h->sentence->first < h->sentence->last ||
		h->teller.row_fault || says_left(&h->sentence->acts) || !is_rectangle(h))
		return;
	/* the corners at both ends may be worked into rows as well, and some edges are worked along in part */
	tb_hands_tell(h, TB_WARNING, "unworked", span, "Count the rows of this edge.",
		"%u row end%s worked into along an edge of %u rows", worked, worked == 1 ? " is" : "s are", rows);
}

/* How often several stitches of the row worked so far stand in one place: its corners, however they are said. */
static unsigned count_groups(const tb_hands *h)
{
	unsigned groups = 0;
	guint16 before = 0;
	for (guint32 i = h->now.begun; i < h->cloth.made->len; i++) {
		guint16 group = tb_hands_made(h, i)->group;
		groups += group != 0 && group != before;
		before = group;
	}
	return groups;
}

void tb_border_tell_sides(tb_hands *h)
{
	const tb_cursor *c = &h->cursor;
	tb_border_leave_rows(h, h->sentence->span);
	unsigned sides = c->edges + (c->due > c->first);
	if (!h->sentence->is_round || sides < 2 || h->teller.row_fault || !tb_edge_is_border(h) || !is_rectangle(h))
		return;
	/* where a border has corners at all, it has them all, or it draws in there */
	if (sides == TB_EDGE_CORNERS && c->corners + 1 == TB_EDGE_CORNERS && count_groups(h) == c->corners)
		tb_hands_tell(h, TB_WARNING, "corner-missing", h->sentence->span, "Work the same into each corner.",
			"%u corners are worked, and the piece has %u", c->corners, (unsigned)TB_EDGE_CORNERS);
	if (sides >= TB_EDGE_CORNERS || c->corners != sides)
		return;
	tb_hands_tell(h, TB_ERROR, "unworked", h->sentence->span, "Work along all four, or turn at the end of the last.",
		"%u sides of the piece are worked along and joined, and it has %u", sides, (unsigned)TB_EDGE_CORNERS);
}

bool tb_border_is_of_row_ends(const tb_act *repeat)
{
	bool rows = false;
	for (unsigned i = 0; i < repeat->body.count; i++) {
		const tb_act *act = &repeat->body.acts[i];
		if (!act->in_rows && act->kind != TB_ACT_CHAIN)
			return false;
		rows = rows || act->in_rows;
	}
	return rows && repeat->until == TB_UNTIL_END && repeat->body_last == 0;
}

void tb_border_skip_rows(tb_hands *h, const tb_act *skip)
{
	h->cursor.edge_rows += tb_hands_number(h, &skip->place.count, 1);
	h->cursor.left = h->cursor.left || h->row > 1;
	h->cursor.left_at = tb_place_count(h);
}

void tb_border_prove(tb_hands *h, const tb_act *act)
{
	guint64 made = h->cursor.edge_made, each = MAX(tb_hands_number(h, &act->each, 1), 1), few = tb_border_rows_taken(h, act);
	guint64 rows = act->in_rows ? tb_hands_number(h, &act->in_each, 0) : made / each * few;
	guint64 told = act->in_rows ? tb_hands_number(h, &act->place.count, 0) : made / each * each;
	guint32 there = h->row > 1 && !h->start.grown ? h->row - 1 : 0;
	if (told != made)
		tb_hands_tell(h, TB_ERROR, "count-claimed", act->span, "Change one of them, so that they agree.",
			"%u are worked along the edge, and by this it would be %u", (unsigned)made,
			(unsigned)(act->in_rows ? told : told + each));
	else if (there > 0 && !h->labels.uncounted && (rows > there || (rows < there && is_rectangle(h))))
		tb_hands_tell(h, TB_ERROR, "count-claimed", act->span, "Count the rows along this edge.",
			"so many stitches take the ends of %u rows, and the piece has %u", (unsigned)rows, there);
}

/* What the words of a round say, and what they leave open. */
typedef struct {
	guint64 said;
	guint64 open; /* sides of no stated number */
	bool unclear;
} border_sum;

guint32 tb_border_passes(const tb_hands *h, const tb_act *repeat)
{
	guint32 corners = 0;
	if (repeat->until == TB_UNTIL_TIMES || repeat->body_last > 0 || !tb_edge_is_border(h) ||
		!tb_edge_is_among(&repeat->body))
		return 0;
	for (unsigned i = 0; i < repeat->body.count; i++)
		corners += tb_edge_is_corner(h, &repeat->body.acts[i]);
	return corners > 0 && TB_EDGE_CORNERS % corners == 0 ? TB_EDGE_CORNERS / corners : 0;
}

guint64 tb_border_rows_taken(const tb_hands *h, const tb_act *act)
{
	return act->count.count > 0 ? MAX(tb_hands_number(h, &act->count, 1), 1) : 1;
}

static void add_up(const tb_hands *h, const tb_acts *acts, guint64 times, border_sum *sum);

static void add_work(const tb_hands *h, const tb_act *act, guint64 times, border_sum *sum)
{
	guint64 each = tb_hands_number(h, &act->each, 1), count = tb_hands_number(h, &act->place.count, 1);
	if (act->proves)
		return;
	if (act->stitch == NULL)
		sum->unclear = true;
	else if (act->stitch == h->working->slip)
		return;
	else if (tb_edge_is_along(act) && act->unsaid && act->edge == TB_EDGE_FOUNDATION)
		sum->said += times * along_foundation(h);
	else if (tb_edge_is_along(act) && act->row_ends)
		sum->said += times * each * (h->row - 1) / tb_border_rows_taken(h, act);
	else if (tb_edge_is_along(act) && act->unsaid)
		sum->open += times;
	else if (act->place.corner)
		sum->said += times * each * tb_edge_corners(act);
	else if (act->place.in == TB_IN_EACH && count == 0)
		sum->said += times * each * tb_place_count(h);
	else if (act->place.in == TB_IN_EACH)
		sum->unclear = true;
	else
		sum->said += times * each * count;
}

static void add_up(const tb_hands *h, const tb_acts *acts, guint64 times, border_sum *sum)
{
	for (unsigned i = 0; i < acts->count && !sum->unclear && times <= TB_LIMIT_ROW_STITCHES; i++) {
		const tb_act *act = &acts->acts[i];
		if (act->kind == TB_ACT_WORK)
			add_work(h, act, times, sum);
		else if (act->kind == TB_ACT_REPEAT && act->until == TB_UNTIL_TIMES && act->ends == 0 &&
			act->body_last == 0)
			add_up(h, &act->body, times * tb_hands_number(h, &act->count, 1), sum);
		else if (act->kind == TB_ACT_GROUP && act->place.corner)
			add_up(h, &act->body, times * tb_edge_corners(act), sum);
		else if (act->kind == TB_ACT_REPEAT && tb_border_passes(h, act) > 0)
			add_up(h, &act->body, times * tb_border_passes(h, act), sum);
		else if (act->kind == TB_ACT_REPEAT || act->kind == TB_ACT_GROUP)
			sum->unclear = true;
	}
}

/* The count of the round that is stated, of the stitch that goes along the side, or of any; or 0. */
static guint64 claimed(const tb_hands *h, const tb_act *along)
{
	const tb_sentence *sentence = h->sentence;
	if (sentence->claim_count != 1)
		return 0;
	const tb_claim *claim = &sentence->claims[0];
	if (claim->other || claim->spaces || claim->own != NULL ||
		(claim->stitch != NULL && claim->stitch != along->stitch))
		return 0;
	return tb_hands_number(h, &claim->count, 0);
}

/* So many chains of F its first row reaches over, where it works several stitches into some of them; 0 where it does not. */
static guint32 chains_under(const tb_fabric *f)
{
	const tb_made_row *row = &f->rows[1];
	guint32 first = G_MAXUINT32, last = 0, before = G_MAXUINT32, turning = 0;
	bool several = false;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_made *made = &f->made[i];
		turning += (made->flags & TB_MADE_TURNING) != 0 && (made->flags & TB_MADE_COUNTED) != 0;
		if (made->base_count == 0 || (made->flags & TB_MADE_TURNING))
			continue;
		guint32 base = tb_fabric_base(f, made, 0);
		several = several || base == before;
		before = base;
		first = MIN(first, base);
		last = MAX(last, base);
	}
	return several ? last - first + 1 + MIN(turning, 1) : 0;
}

/* So many chains F was begun with, for a tube or for rows; 0 where it begins in another way. */
static guint32 chains_of(const tb_fabric *f)
{
	guint32 chains = 0;
	if (f == NULL || f->row_count < 2 || f->rows[0].taken || f->rows[1].taken)
		return 0;
	for (guint32 i = 0; i < f->rows[0].count; i++) {
		if (!(f->made[f->rows[0].first + i].flags & TB_MADE_CHAIN))
			return 0;
		chains++;
	}
	if (f->rows[1].is_round)
		return chains;
	return chains_under(f) > 0 ? chains_under(f) : f->rows[1].stitches;
}

/*
 * "Sc in each foundation ch around", of a tube or of a piece that has no chain of its own, as a neck: the chain is
 * that of the piece itself, or of the last before it whose chain has so many as the row's count says. 0: no such.
 */
static guint32 along_base(const tb_hands *h, const tb_act *along)
{
	guint64 stated = claimed(h, along);
	guint32 nearest = 0;
	if (h->start.is_tube && h->row > 1)
		return h->start.chains;
	if (h->row > 1 && !h->start.grown)
		return tb_hands_row(h, h->row - 1)->is_round ? tb_hands_row(h, 1)->stitches : 0;
	for (unsigned piece = h->piece; piece-- > 0;) {
		guint32 chains = chains_of(tb_worked_fabric(h->working->worked, piece, h->size));
		nearest = nearest == 0 ? chains : nearest;
		if (chains > 0 && chains == stated)
			return chains;
	}
	return nearest;
}

guint32 tb_border_length(tb_hands *h, const tb_act *along)
{
	bool one = h->sentence->first >= h->sentence->last;
	guint32 base = along->edge == TB_EDGE_FOUNDATION && one ? along_base(h, along) : 0;
	if (base > 0)
		return base;
	/* nobody goes around the piece in each of several rows */
	if (along->edge == TB_EDGE_UNKNOWN || !tb_edge_is_border(h) || h->sentence->first < h->sentence->last)
		return 0;
	if (along->edge == TB_EDGE_FOUNDATION && h->row > 1)
		return (guint32)along_foundation(h);
	border_sum sum = {0};
	guint64 stated = claimed(h, along);
	if (stated > 0) {
		add_up(h, &h->sentence->acts, 1, &sum);
		if (sum.unclear || sum.open == 0 || sum.said >= stated)
			return 0;
		/* what does not go up lies on the first sides */
		guint64 rest = stated - sum.said;
		return (guint32)(rest / sum.open + (h->cursor.edges < rest % sum.open));
	}
	if (h->sentence->claim_count > 0 || h->row == 1)
		return 0;
	guint64 many = along_side(h);
	/* from the end of the last row: down a side, along the foundation, up, and along the top */
	if (along->edge == TB_EDGE_NEXT && h->cursor.edges % 2 == 1)
		many = h->cursor.edges % TB_EDGE_CORNERS == 1 ? along_foundation(h) : tb_place_count(h);
	if (along->edge == TB_EDGE_AROUND)
		many = 2 * many + along_foundation(h) + tb_place_count(h);
	tb_hands_tell(h, TB_NOTE, "chain-open", along->span, "Any other with which every row comes out will do.",
		"how many stitches go along this edge is not said; %u are shown", (unsigned)many);
	return (guint32)MIN(many, TB_LIMIT_ROW_STITCHES);
}

/* How many of the acts beside ACT are corners, which are chains of the foundation too where that is meant. */
static unsigned corners_beside(const tb_hands *h, const tb_act *act)
{
	const tb_acts *acts = &h->sentence->acts;
	unsigned corners = 0;
	if (act > acts->acts && act < acts->acts + acts->count)
		corners += tb_edge_is_corner(h, act - 1);
	if (act >= acts->acts && act + 1 < acts->acts + acts->count)
		corners += tb_edge_is_corner(h, act + 1);
	return corners;
}

/* Whether the row worked so far turns a corner in a stitch of the last row. */
static bool has_corner_on_top(const tb_hands *h)
{
	guint32 before = TB_NONE;
	for (guint32 i = h->now.begun; i < h->cloth.made->len; i++) {
		const tb_made *made = tb_hands_made(h, i);
		guint32 base = made->base_count > 0 ? tb_hands_base(h, made, 0) : TB_NONE;
		if (base != TB_NONE && base == before && (made->flags & TB_MADE_COUNTED))
			return true;
		before = base != TB_NONE ? base : before;
	}
	return false;
}

guint64 tb_border_on_chain(tb_hands *h, const tb_act *act, unsigned each)
{
	const tb_acts *acts = &h->sentence->acts;
	guint64 said = 0, there = along_foundation(h);
	if ((h->cursor.edges == 0 && !h->cursor.other_edge) || h->now.group != NULL || (act->kind == TB_ACT_WORK && act->stitch == h->working->slip) ||
		!tb_edge_is_foundation_chain(act) || !tb_edge_is_border(h) || h->row < 2)
		return 0;
	bool open = false;
	unsigned corners = 0; /* said as such: those at the chain's ends are chains of it too */
	for (unsigned i = 0; i < acts->count; i++) {
		corners += acts->acts[i].place.corner;
		bool each_one = acts->acts[i].place.in == TB_IN_EACH;
		if (tb_edge_is_foundation_chain(&acts->acts[i]) && !each_one)
			said += tb_hands_number(h, &acts->acts[i].place.count, 1);
		open = open || (tb_edge_is_foundation_chain(&acts->acts[i]) && each_one);
	}
	if (act->place.in == TB_IN_EACH && said < there) {
		unsigned beside = corners_beside(h, act);
		guint64 left = there - said;
		return (guint64)each * (beside > 0 && left > beside && tb_means(h, TB_MEANS_CORNER) ? left - beside : left);
	}
	if ((open ? said >= there : said != there && said + MIN(corners, 2u) != there) && !h->teller.row_fault)
		tb_hands_tell(h, TB_ERROR, said < there ? "unworked" : "past-end", act->span,
			"Work one stitch in each, or say how many are worked along it.",
			"%u ch are worked into along the foundation, which holds %u st%s", (unsigned)said, (unsigned)there,
			there == 1 ? "" : "s");
	/* where no corner was worked into the last row, there is hardly one in the chain */
	else if (!open && said < there && !has_corner_on_top(h) && !h->teller.row_fault)
		tb_hands_tell(h, TB_WARNING, "unworked", act->span, "Work one stitch in each, or say that the corners are worked there.",
			"%u ch are worked into along the foundation of %u sts; the other%s taken to belong to the corners",
			(unsigned)said, (unsigned)there, there - said == 1 ? " is" : "s are");
	return (guint64)each * tb_hands_number(h, &act->place.count, 1);
}

/* Whether ACT works along the last row, where a border that stands at its corner goes on. */
static bool goes_on_top(const tb_hands *h, const tb_act *act)
{
	bool work = act->kind == TB_ACT_WORK || act->kind == TB_ACT_GROUP || act->kind == TB_ACT_REPEAT;
	return work && !tb_edge_is_along(act) && !tb_edge_is_corner(h, act) &&
		!tb_edge_is_foundation_chain(act) && (act->kind == TB_ACT_REPEAT || act->place.in == TB_IN_NEXT ||
			act->place.in == TB_IN_EACH || act->place.in == TB_IN_FIRST);
}

/* A corner before the last row, or behind it, may be the stitch of it that is there: whether it is. */
static bool is_of_top(tb_hands *h)
{
	tb_cursor *c = &h->cursor;
	guint32 count = tb_place_count(h);
	const tb_acts *next = &h->now.next_acts;
	bool begins = c->due == c->first && count > 1 && next->count > 0 && goes_on_top(h, next->acts);
	bool ends = c->due > c->first && c->due + 1 == count;
	return (begins || ends) && tb_means(h, TB_MEANS_CORNER);
}

/* Behind the last row, all of it has been worked, where nothing that comes goes into it. */
static void tell_left_on_top(tb_hands *h, const tb_act *act)
{
	tb_cursor *c = &h->cursor;
	guint32 left = tb_place_count(h) - MIN(c->due, tb_place_count(h));
	if (c->due == c->first || left == 0 || h->now.repeating > 0 || h->teller.row_fault ||
		tb_repeat_least(h, h->now.next_acts.acts, h->now.next_acts.count) > 0)
		return;
	tb_hands_tell(h, TB_ERROR, "unworked", act->span, "Work into them, or say how many to skip.",
		"%u st%s of the last row %s left unworked before this corner", (unsigned)left, left == 1 ? "" : "s",
		left == 1 ? "is" : "are");
}

void tb_border_work_corner(tb_hands *h, const tb_act *act, unsigned each)
{
	guint16 number = h->now.group_number;
	bool one = act->place.in != TB_IN_EACH;
	tb_border_leave_rows(h, act->span);
	h->cursor.corners += tb_edge_corners(act);
	tb_footing footing = {.behind = TB_NONE};
	if (one && is_of_top(h))
		footing = (tb_footing){.bases = {tb_hands_place(h, h->cursor.due++)}, .behind = TB_NONE, .count = 1, .rows_below = 1};
	if (one)
		tell_left_on_top(h, act);
	for (guint32 corner = 0; corner < tb_edge_corners(act); corner++) {
		/* the next round knows a corner by what stands together there */
		if (each > 1)
			tb_hands_number_group(h, NULL);
		for (unsigned i = 0; i < each && !h->cursor.over; i++)
			tb_hands_make(h, act->stitch, footing.count > 0 ? &footing : NULL, TB_MADE_COUNTED, act->span);
	}
	h->now.group_number = number;
}
