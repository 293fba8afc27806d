/*
 * Borders: a round over the sides of a flat piece, from corner to corner. Nobody writes how many stitches
 * a side takes; so many as keep it flat are shown, or as many as the count of the round leaves for it.
 */
#include "fabric/acts.h"
#include "fabric/border.h"
#include "fabric/open.h"
#include "fabric/place.h"

/* A flat piece has so many, whatever its rows are. */
#define CORNERS 4u

bool tb_border_runs_along(const tb_act *act)
{
	return act->kind == TB_ACT_WORK && act->place.in == TB_IN_EDGE && !act->place.middle;
}

bool tb_border_has_edge(const tb_acts *acts)
{
	for (unsigned i = 0; i < acts->count; i++) {
		const tb_act *act = &acts->acts[i];
		if (tb_border_runs_along(act) || (act->kind == TB_ACT_REPEAT && tb_border_has_edge(&act->body)))
			return true;
	}
	return false;
}

bool tb_border_is(const tb_hands *h)
{
	if (h->row == 0 || h->row >= h->cloth.rows->len || !tb_border_has_edge(&h->sentence->acts))
		return false;
	if (h->row == 1)
		return h->start.grown || tb_open_is_on_cloth(h->sentence);
	return !tb_hands_row(h, h->row - 1)->is_round;
}

bool tb_border_is_corner(const tb_hands *h, const tb_act *act)
{
	return (act->kind == TB_ACT_WORK || act->kind == TB_ACT_GROUP || act->kind == TB_ACT_JOIN_YARN) &&
		act->place.corner && act->place.target != TB_TARGET_GROUP && tb_border_is(h);
}

guint32 tb_border_corners(const tb_act *act)
{
	return act->place.in == TB_IN_EACH ? CORNERS : 1;
}

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

/* What the words of a round say, and what they leave open. */
typedef struct {
	guint64 said;
	guint64 open; /* sides of no stated number */
	bool unclear;
} border_sum;

guint32 tb_border_passes(const tb_hands *h, const tb_act *repeat)
{
	guint32 corners = 0;
	if (repeat->until == TB_UNTIL_TIMES || repeat->body_last > 0 || !tb_border_is(h) ||
		!tb_border_has_edge(&repeat->body))
		return 0;
	for (unsigned i = 0; i < repeat->body.count; i++)
		corners += tb_border_is_corner(h, &repeat->body.acts[i]);
	return corners > 0 && CORNERS % corners == 0 ? CORNERS / corners : 0;
}

guint64 tb_border_rows_taken(const tb_hands *h, const tb_act *act)
{
	return act->count.count > 0 ? MAX(tb_hands_number(h, &act->count, 1), 1) : 1;
}

static void add_up(const tb_hands *h, const tb_acts *acts, guint64 times, border_sum *sum);

static void add_work(const tb_hands *h, const tb_act *act, guint64 times, border_sum *sum)
{
	guint64 each = tb_hands_number(h, &act->each, 1), count = tb_hands_number(h, &act->place.count, 1);
	if (act->stitch == NULL)
		sum->unclear = true;
	else if (act->stitch == h->working->slip)
		return;
	else if (tb_border_runs_along(act) && act->unsaid && act->edge == TB_EDGE_FOUNDATION)
		sum->said += times * along_foundation(h);
	else if (tb_border_runs_along(act) && act->row_ends)
		sum->said += times * each * (h->row - 1) / tb_border_rows_taken(h, act);
	else if (tb_border_runs_along(act) && act->unsaid)
		sum->open += times;
	else if (act->place.corner)
		sum->said += times * each * tb_border_corners(act);
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
			add_up(h, &act->body, times * tb_border_corners(act), sum);
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

guint32 tb_border_length(tb_hands *h, const tb_act *along)
{
	/* nobody goes around the piece in each of several rows */
	if (along->edge == TB_EDGE_UNKNOWN || !tb_border_is(h) || h->sentence->first < h->sentence->last)
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
		many = h->cursor.edges % CORNERS == 1 ? along_foundation(h) : tb_place_count(h);
	if (along->edge == TB_EDGE_AROUND)
		many = 2 * many + along_foundation(h) + tb_place_count(h);
	tb_hands_tell(h, TB_NOTE, "chain-open", along->span, "Any other with which every row comes out will do.",
		"how many stitches go along this edge is not said; %u are shown", (unsigned)many);
	return (guint32)MIN(many, TB_LIMIT_ROW_STITCHES);
}

bool tb_border_is_foundation_chain(const tb_act *act)
{
	return (act->kind == TB_ACT_WORK || act->kind == TB_ACT_GROUP) && act->place.target == TB_TARGET_CHAIN &&
		act->place.of == NULL &&
		(act->place.in == TB_IN_NEXT || act->place.in == TB_IN_FIRST || act->place.in == TB_IN_LAST ||
			(act->place.in == TB_IN_EACH && act->place.up_to == NULL));
}

guint64 tb_border_on_chain(tb_hands *h, const tb_act *act, unsigned each)
{
	const tb_acts *acts = &h->sentence->acts;
	guint64 said = 0, there = along_foundation(h);
	if ((h->cursor.edges == 0 && !h->cursor.other_edge) || h->now.group != NULL || (act->kind == TB_ACT_WORK && act->stitch == h->working->slip) ||
		!tb_border_is_foundation_chain(act) || !tb_border_is(h) || h->row < 2)
		return 0;
	bool open = false;
	unsigned corners = 0; /* said as such: those at the chain's ends are chains of it too */
	for (unsigned i = 0; i < acts->count; i++) {
		corners += acts->acts[i].place.corner;
		bool each_one = acts->acts[i].place.in == TB_IN_EACH;
		if (tb_border_is_foundation_chain(&acts->acts[i]) && !each_one)
			said += tb_hands_number(h, &acts->acts[i].place.count, 1);
		open = open || (tb_border_is_foundation_chain(&acts->acts[i]) && each_one);
	}
	if (act->place.in == TB_IN_EACH && said < there)
		return (guint64)each * (there - said);
	if ((open ? said >= there : said != there && said + MIN(corners, 2u) != there) && !h->teller.row_fault)
		tb_hands_tell(h, TB_ERROR, said < there ? "unworked" : "past-end", act->span,
			"Work one stitch in each, or say how many are worked along it.",
			"%u ch are worked into along the foundation, which holds %u st%s", (unsigned)said, (unsigned)there,
			there == 1 ? "" : "s");
	return (guint64)each * tb_hands_number(h, &act->place.count, 1);
}

void tb_border_work_corner(tb_hands *h, const tb_act *act, unsigned each)
{
	guint16 number = h->now.group_number;
	for (guint32 corner = 0; corner < tb_border_corners(act); corner++) {
		/* the next round knows a corner by what stands together there */
		if (each > 1)
			tb_acts_number_group(h, NULL);
		for (unsigned i = 0; i < each && !h->cursor.over; i++)
			tb_hands_make(h, act->stitch, NULL, TB_MADE_COUNTED, act->span);
	}
	h->now.group_number = number;
}
