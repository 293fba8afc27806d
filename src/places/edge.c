/* Edges of cloth that no row shows, and the corners between the sides of a flat piece. */
#include "places/edge.h"

#include "places/place.h"

bool tb_edge_is_along(const tb_act *act)
{
	return act->kind == TB_ACT_WORK && act->place.in == TB_IN_EDGE && !act->place.middle;
}

bool tb_edge_is_among(const tb_acts *acts)
{
	for (unsigned i = 0; i < acts->count; i++) {
		const tb_act *act = &acts->acts[i];
		if (tb_edge_is_along(act) || (act->kind == TB_ACT_REPEAT && tb_edge_is_among(&act->body)))
			return true;
	}
	return false;
}

/* "each of the 8 skipped sts", in a first row: of a piece that stands elsewhere. */
static bool is_skipped(const tb_place *place)
{
	return place->in == TB_IN_SKIPPED || (place->in == TB_IN_NEXT && place->rows_below == 2);
}

/* "2 sc in each of the 18 holes": in a first row, those along the edge of a cloth. */
static bool is_hole(const tb_act *act)
{
	return act->place.target == TB_TARGET_SPACE && act->place.in == TB_IN_NEXT && act->place.count.count > 0;
}

/* The first stitch of ACTS, or of what they repeat, or NULL. */
static const tb_act *first_work(const tb_acts *acts)
{
	const tb_act *first = NULL;
	for (unsigned i = 0; first == NULL && i < acts->count; i++) {
		const tb_act *act = &acts->acts[i];
		if (act->kind == TB_ACT_WORK || act->kind == TB_ACT_GROUP)
			return act;
		if (act->kind == TB_ACT_REPEAT)
			first = first_work(&act->body);
	}
	return first;
}

/* An edging on a towel begins with the stitches around its hem, which stand on no row. */
bool tb_edge_is_begun_on(const tb_sentence *sentence)
{
	if (sentence == NULL || sentence->kind != TB_SENTENCE_ROWS)
		return false;
	for (unsigned i = 0; i < sentence->acts.count; i++) {
		const tb_act *act = &sentence->acts.acts[i];
		if (act->kind == TB_ACT_WORK && is_skipped(&act->place))
			return act->place.count.count > 0;
		if (act->kind == TB_ACT_WORK && act->place.in != TB_IN_SAME)
			break;
	}
	const tb_act *first = first_work(&sentence->acts);
	return first != NULL && (tb_edge_is_along(first) || is_hole(first) ||
		(first->place.corner && tb_edge_is_among(&sentence->acts)));
}

bool tb_edge_is_elsewhere(const tb_hands *h, const tb_act *act)
{
	tb_in in = act->place.in;
	return h->row == 1 && !h->start.grown && tb_place_count(h) == 0 && tb_edge_is_begun_on(h->sentence) &&
		act->place.target != TB_TARGET_TURNING_CHAIN && act->place.count.count > 0 &&
		((in == TB_IN_NEXT && !act->bare) || in == TB_IN_SAME || is_skipped(&act->place));
}

/* Whether nothing else is worked in the row: its count is that of the edge then. */
static bool is_edge_alone(const tb_sentence *sentence, const tb_act *work)
{
	for (unsigned i = 0; i < sentence->acts.count; i++) {
		const tb_act *act = &sentence->acts.acts[i];
		bool works = act->kind == TB_ACT_WORK || act->kind == TB_ACT_GROUP || act->kind == TB_ACT_REPEAT ||
			act->kind == TB_ACT_SHAPE;
		if (works && act != work)
			return false;
	}
	return true;
}

/* What has been made of the row that counts: the chain that it begins with. */
static guint32 counted_so_far(const tb_hands *h)
{
	guint32 counted = 0;
	for (guint32 i = h->now.begun; i < h->cloth.made->len; i++)
		counted += (tb_hands_made(h, i)->flags & TB_MADE_COUNTED) != 0;
	return counted;
}

/* So many stitches the acts behind WORK in its row say they make along other edges. */
static guint64 edges_behind(const tb_hands *h, const tb_act *work)
{
	const tb_acts *acts = &h->sentence->acts;
	guint64 many = 0;
	for (const tb_act *act = acts->acts; act < acts->acts + acts->count; act++) {
		if (act > work && work >= acts->acts && tb_edge_is_along(act) && !act->unsaid)
			many += (guint64)tb_hands_number(h, &act->each, 1) * tb_hands_number(h, &act->place.count, 0);
	}
	return many;
}

/* The count a row states, where it is that of the stitches along the edge; 0 where it states none. */
static guint32 stated_edge(const tb_hands *h, const tb_act *work)
{
	const tb_sentence *sentence = h->sentence;
	const tb_claim *claim = sentence->claims;
	bool plain = sentence->claim_count == 1 && !claim->other && !claim->spaces && claim->own == NULL &&
		(claim->stitch == NULL || claim->stitch == work->stitch);
	guint32 count = plain ? tb_hands_number(h, &claim->count, 0) : 0, before = counted_so_far(h);
	guint64 others = before + edges_behind(h, work);
	return count > others ? count - (guint32)others : 0;
}

guint32 tb_edge_length(tb_hands *h, const tb_act *work)
{
	const tb_sentence *sentence = h->sentence;
	bool begins = h->row == 1 && !h->start.grown && tb_edge_is_begun_on(sentence);
	/* around a round there is no edge: its stitches are all below, and are worked into */
	bool flat = h->row > 1 && (!tb_hands_row(h, h->row - 1)->is_round || (sentence->part != NULL && sentence->anew));
	if (!work->unsaid || (!begins && !(flat && is_edge_alone(sentence, work))))
		return 0;
	if (sentence->claim_count > 0)
		return stated_edge(h, work);
	if (!begins || h->start.open == 0)
		return 0;
	tb_hands_tell(h, TB_NOTE, "chain-open", work->span, "Any other with which every row comes out will do.",
		"how many stitches go along this edge is not said; %u are shown", h->start.open);
	return h->start.open;
}

bool tb_edge_is_left_out(tb_hands *h, const tb_sentence *sentence)
{
	if (sentence->claim_count > 0 || h->cloth.rows->len < 2)
		return false;
	for (unsigned i = 0; i < sentence->acts.count; i++) {
		const tb_act *act = &sentence->acts.acts[i];
		if (act->kind != TB_ACT_WORK || act->place.in != TB_IN_EDGE || act->place.middle || !act->unsaid ||
			act->row_ends || !is_edge_alone(sentence, act))
			continue;
		/* the sides of a flat piece are as long as they are */
		if (act->edge != TB_EDGE_UNKNOWN && !tb_hands_row(h, h->cloth.rows->len - 1)->is_round)
			continue;
		h->sentence = sentence;
		tb_hands_tell(h, TB_WARNING, "not-checked", act->span, "Say how many stitches are worked along it.",
			"how many stitches go along this edge is not said; it is left out");
		return true;
	}
	return false;
}

bool tb_edge_is_border(const tb_hands *h)
{
	if (h->row == 0 || h->row >= h->cloth.rows->len || !tb_edge_is_among(&h->sentence->acts))
		return false;
	if (h->row == 1)
		return h->start.grown || tb_edge_is_begun_on(h->sentence);
	return !tb_hands_row(h, h->row - 1)->is_round;
}

bool tb_edge_is_corner(const tb_hands *h, const tb_act *act)
{
	return (act->kind == TB_ACT_WORK || act->kind == TB_ACT_GROUP || act->kind == TB_ACT_JOIN_YARN) &&
		act->place.corner && act->place.target != TB_TARGET_GROUP && tb_edge_is_border(h);
}

bool tb_edge_ends_at_corner(const tb_hands *h, const tb_act *act)
{
	return act->place.in == TB_IN_EACH && act->place.up_to != NULL && act->place.up_to->corner && tb_edge_is_border(h);
}

guint32 tb_edge_corners(const tb_act *act)
{
	return act->place.in == TB_IN_EACH ? TB_EDGE_CORNERS : 1;
}

bool tb_edge_is_foundation_chain(const tb_act *act)
{
	return (act->kind == TB_ACT_WORK || act->kind == TB_ACT_GROUP) && act->place.target == TB_TARGET_CHAIN &&
		act->place.of == NULL &&
		(act->place.in == TB_IN_NEXT || act->place.in == TB_IN_FIRST || act->place.in == TB_IN_LAST ||
			(act->place.in == TB_IN_EACH && (act->place.up_to == NULL || act->place.up_to->corner ||
				act->place.up_to->target == TB_TARGET_CHAIN)));
}
