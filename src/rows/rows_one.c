/*
 * One row, worked as its words are read: what it is worked on, which side shows, its acts, and the account of it.
 *
 * A side said by the text wins where a row is worked for the first time; after that sides alternate
 * by turning. Right side rows run right to left, so two rows worked in opposite ways have been
 * turned between, and the tops below come to the hook in reverse.
 */
#include "account/account.h"
#include "acts/acts.h"
#include "acts/border.h"
#include "acts/ground.h"
#include "acts/shape.h"
#include "acts/tail.h"
#include "acts/travel.h"
#include "acts/turning.h"
#include "hands/colour.h"
#include "hands/hands.h"
#include "hands/row.h"
#include "hands/taken.h"
#include "places/edge.h"
#include "places/on_row.h"
#include "places/place.h"
#include "places/spiral.h"
#include "places/within.h"
#include "rows/in_pattern.h"
#include "rows/like.h"
#include "rows/mirror.h"
#include "rows/rest.h"
#include "rows/rows.h"

/* The row goes over a part of the stitches below; its last places from DUE on are left. */
static void set_narrowed(tb_hands *h, guint32 due)
{
	tb_made_row *row = tb_hands_row(h, h->row);
	guint32 count = tb_place_count(h), end = count - MIN(h->now.beyond, count);
	if (row->is_round || h->row < 2 || h->cursor.over)
		return;
	if (h->now.travelled && h->now.travel > 0 && !row->rejoined)
		row->narrowed |= TB_NARROWED_BEGIN;
	if (h->cursor.left && due + h->now.spare < end)
		row->narrowed |= TB_NARROWED_END;
}

/* The tops of the row below in the order they come to the hook. */
static void lay_out_places(tb_hands *h)
{
	g_array_set_size(h->now.places, 0);
	h->now.turning_place = TB_NONE;
	const tb_made_row *row = tb_hands_row(h, h->row);
	const tb_made_row *below = h->now.on_row > 0 ? tb_hands_row(h, h->now.on_row) : row - 1;
	if ((h->start.is_ring && h->row == 1) || below->count == 0)
		return;
	tb_stitches made = tb_hands_stitches(h);
	guint32 beside = tb_place_is_beside_star(h, below->first) ? below->first : TB_NONE;
	g_array_set_size(h->now.places, below->count);
	guint32 count = tb_rule_tops(&made, below, row->leftward == below->leftward, tb_travel_is_turned_round(h), beside,
		(guint32 *)h->now.places->data, &h->now.turning_place);
	g_array_set_size(h->now.places, count);
}

static void warn_side(tb_hands *h, const tb_sentence *sentence)
{
	const char *side = sentence->side == TB_SIDE_RIGHT ? "RS" : "WS";
	h->row = h->cloth.rows->len;
	bool said = sentence->side_span.end > sentence->side_span.start;
	tb_hands_tell(h, TB_WARNING, "side-turn", said ? sentence->side_span : sentence->span,
		"Change the side, or leave the turn out.",
		"the row before is %s too, and the work was turned after it", side);
}

/* Whether a row so far has said its side: "Foundation row: …" and "1st row (RS): …" behind it leave open how that one lay. */
static bool has_side_said(const tb_hands *h)
{
	for (guint32 row = 1; row < h->cloth.rows->len; row++) {
		const tb_sentence *made = tb_hands_row(h, row)->sentence;
		if (made != NULL && made->side != TB_SIDE_UNSAID)
			return true;
	}
	return false;
}

/* Whether it is known that SENTENCE comes right behind the last row: by its number, or as the "next row". */
static bool is_known_next(const tb_hands *h, const tb_sentence *sentence)
{
	if (sentence->first == 0)
		return !h->labels.side_open && !h->labels.unsure && has_side_said(h);
	return sentence->first + h->labels.before == tb_rows_last(h) + 1;
}

static tb_side side_of(tb_hands *h, const tb_sentence *sentence, bool first_time, bool turned)
{
	/* new yarn is joined where a short row left off, and works on that way */
	if (tb_rest_is_there(h) && tb_rest_is_joined(sentence) && sentence->side == TB_SIDE_UNSAID)
		return tb_rest_goes_leftward(h, sentence) ? TB_SIDE_RIGHT : TB_SIDE_WRONG;
	if (first_time && sentence->side != TB_SIDE_UNSAID) {
		bool beside = tb_rest_is_there(h) && tb_rest_is_joined(sentence); /* of a row further down */
		if (turned && !beside && !h->labels.uncounted && h->cloth.rows->len > 1 && is_known_next(h, sentence) &&
			tb_hands_row(h, h->cloth.rows->len - 1)->side == sentence->side)
			warn_side(h, sentence);
		return sentence->side;
	}
	if (h->cloth.rows->len == 1 && !h->start.grown)
		return TB_SIDE_RIGHT;
	const tb_made_row *row = tb_hands_row(h, h->cloth.rows->len - 1);
	tb_side below = row->side;
	/* "do not turn. Row 3: Join B in top of ch 3": at the edge where the row before began */
	bool same_way = row->sentence != NULL && row->sentence->not_turned && tb_rest_is_joined(sentence);
	if (same_way && !sentence->is_round)
		return below;
	/* a round that was not turned goes on in rows the way it went */
	bool goes_on = !turned && row->is_round && h->cloth.rows->len > 2;
	return !turned && (sentence->is_round || goes_on) ? below : tb_side_other(below);
}

/* What the row begins with: slip stitches that travel, and the first stitch worked after them. */
static void begin_row(tb_hands *h, const tb_sentence *sentence)
{
	h->now.travel = tb_travel_find(h, &sentence->acts);
	h->now.travelled = h->now.other_side = h->now.turned_over = h->now.stands_on_last = false;
	h->now.stood = h->now.stands_in = 0;
	h->now.keeps_stand = false;
	h->now.slipped = 0;
	h->now.spare = 0;
	h->now.begun = h->cloth.made->len;
	tb_acts rest = {sentence->acts.acts + h->now.travel, sentence->acts.count - h->now.travel};
	h->now.first_work = tb_turning_first_work(h, &rest, &h->now.first_place);
}

/*
 * "Rnd 3: sc around, join" on flat rows goes along their sides as well, and how many stitches these
 * take no row shows. Where a count is stated, that is what is meant.
 */
static bool goes_around_flat(const tb_hands *h)
{
	const tb_made_row *below = tb_hands_row(h, h->row - 1);
	const tb_sentence *sentence = h->sentence;
	if (h->row < 2 || below->is_round || below->taken || h->start.is_ring || h->start.is_tube || h->start.grown ||
		sentence->claim_count > 0 || tb_place_was_joined(h) || tb_edge_is_among(&sentence->acts))
		return false;
	for (unsigned i = 0; i < sentence->acts.count; i++) {
		const tb_act *act = &sentence->acts.acts[i];
		if (act->kind == TB_ACT_WORK && act->place.in == TB_IN_EACH &&
			(act->evenly || sentence->is_round))
			return true;
	}
	return false;
}

/*
 * "… ch 2, dc in top of ch 3": the loop that a stitch closes brings the hook to its middle, and the
 * next round begins in it.
 */
static void begin_in_loop(tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->row), *below = row - 1;
	guint32 count = tb_place_count(h), loop = below->loop;
	if (!h->sentence->is_round || h->now.on_row > 0 || loop == 0 || loop >= count || row->leftward != below->leftward ||
		h->now.travel > 0 || h->now.first_place == NULL || h->now.first_place->in == TB_IN_EACH)
		return;
	tb_place_rotate(h, count - loop);
	h->cursor.due = loop;
	h->cursor.last = (tb_footing){.bases = {tb_hands_place(h, 0)}, .behind = TB_NONE, .count = 1,
		.rows_below = 1, .flags = TB_MADE_IN_SPACE};
	h->cursor.has_last = h->cursor.in_space = true;
	h->now.travelled = true;
}

/* Whether SENTENCE works on something else than the row below, which shows only in its words. */
static bool goes_elsewhere(const tb_hands *h, const tb_sentence *sentence)
{
	bool opens = h->row == 1 && h->start.grown && tb_ground_is_opening(sentence);
	bool other_side = false;
	for (unsigned i = 0; i < sentence->acts.count; i++)
		other_side = other_side || sentence->acts.acts[i].kind == TB_ACT_OTHER_SIDE;
	return opens || other_side || tb_ground_is_named(sentence);
}

/* Whether ACTS have an act of KIND before all that is worked. */
static bool begins_with(const tb_acts *acts, tb_act_kind kind)
{
	for (unsigned i = 0; i < acts->count && !tb_act_is_work(&acts->acts[i]); i++) {
		if (acts->acts[i].kind == kind)
			return true;
	}
	return false;
}

/* Whether SENTENCE ends with its yarn cut, or something in it is refused, which is told there. */
static bool is_told_or_cut(const tb_sentence *sentence)
{
	for (unsigned i = 0; i < sentence->acts.count; i++) {
		if (sentence->acts.acts[i].kind == TB_ACT_FASTEN_OFF || sentence->acts.acts[i].kind == TB_ACT_CANNOT)
			return true;
	}
	return false;
}

/* "Row 2: …, do not turn. Row 3: Ch 1, sc in each st": back over the row that was not turned, with the same yarn. */
static void check_turned(tb_hands *h, const tb_sentence *sentence)
{
	const tb_made_row *row = tb_hands_row(h, h->row), *below = row - 1;
	if (h->row < 2 || row->is_round || sentence->is_round || below->is_round || row->leftward == below->leftward || row->rejoined || row->along ||
		row->elsewhere || below->sentence == NULL || h->now.on_row > 0 || tb_rest_is_there(h) || tb_edge_is_among(&sentence->acts) ||
		begins_with(&sentence->acts, TB_ACT_TURN) || begins_with(&sentence->acts, TB_ACT_OTHER_EDGE))
		return;
	bool said = begins_with(&sentence->acts, TB_ACT_DO_NOT_TURN) || sentence->not_turned_first;
	if (!said && (!below->sentence->not_turned || below->sentence->not_turned_first || is_told_or_cut(below->sentence)))
		return;
	for (unsigned i = 0; i < sentence->acts.count; i++) {
		const tb_stitch *stitch = sentence->acts.acts[i].stitch;
		if (stitch != NULL && stitch->family == TB_FAMILY_EDGES)
			return;
	}
	tb_hands_tell(h, TB_ERROR, "side-turn", sentence->span, "Say “turn”, or where the yarn is joined anew.",
		"the row before is not turned, and this one goes back over it");
}

void tb_rows_work_one(tb_hands *h, const tb_sentence *sentence, guint32 number, guint32 written,
	bool first_time, bool claims)
{
	bool turned = h->cursor.turned;
	if (sentence->unmirrored != NULL)
		sentence = sentence->unmirrored;
	sentence = tb_like_said(h, sentence);
	/* the row keeps the words, which say something else when they are worked again */
	const tb_sentence *words = sentence;
	sentence = tb_in_pattern_said(h, sentence);
	h->sentence = sentence;
	h->now.meaning = sentence->meaning;
	h->now.asked = 0;
	h->cursor = (tb_cursor){.last_post = TB_NONE, .stopped = TB_NONE};
	h->teller.row_fault = h->now.unjudged = false;
	h->now.group = NULL;
	h->now.group_number = 0;
	h->now.loops = TB_LOOPS_BOTH;
	h->now.repeating = 0;
	h->now.begin_count = 0;
	h->now.counted_unsaid = false;
	h->now.counts_as = NULL;
	h->row = h->cloth.rows->len > 0 ? h->cloth.rows->len - 1 : 0;
	const tb_sentence *mirrored = tb_mirror_said(h, sentence, words);
	words = mirrored != sentence ? mirrored : words;
	h->sentence = sentence = mirrored;
	/* a row that is not understood may say itself what it begins on */
	h->start.is_ring = h->start.is_ring || (h->cloth.rows->len == 0 && h->start.chains == 0 &&
		(sentence->taken || tb_edge_is_begun_on(sentence)));
	tb_ground_lay(h);
	if (h->cloth.rows->len == 0)
		tb_turning_found(h);
	else if (h->now.grounds->len == 0)
		tb_turning_extend(h);
	if (h->working->stopped || h->abandoned)
		return;
	tb_side side = side_of(h, sentence, first_time, turned || tb_travel_begins_turned(sentence));
	h->cursor = (tb_cursor){.last_post = TB_NONE, .stopped = TB_NONE};
	if (!tb_row_add(h, number, side, side == TB_SIDE_RIGHT))
		return;
	tb_hands_row(h, h->row)->written = written;
	tb_hands_row(h, h->row)->sentence = words;
	tb_hands_row(h, h->row)->joined = tb_spiral_is_joined(sentence);
	tb_hands_row(h, h->row)->rejoined = tb_rest_is_joined(words);
	tb_hands_row(h, h->row)->along = tb_edge_is_begun_on(words);
	tb_hands_row(h, h->row)->elsewhere = goes_elsewhere(h, words);
	/* "always in back loop" is said of stitches, and a foundation chain has none */
	if (h->row > 1 || h->start.grown || !sentence->always)
		h->now.loops = sentence->loops;
	if (h->row == 1 && !h->start.grown && !h->start.is_ring) {
		tb_hands_row(h, 0)->side = tb_side_other(side);
		tb_hands_row(h, 0)->leftward = (side != TB_SIDE_RIGHT) != h->start.is_tube;
	}
	h->now.on_row = tb_hands_row(h, h->row)->on_row = tb_on_row_find(h);
	lay_out_places(h);
	tb_on_row_keep_missed(h);
	check_turned(h, words);
	tb_rest_add(h);
	tb_ground_arrange(h);
	tb_within_lay(h);
	begin_row(h, sentence);
	tb_colour_begin(h, sentence);
	h->now.tail = tb_tail_find(h, &sentence->acts);
	if (sentence->taken) {
		tb_taken_make(h);
		h->now.pending = tb_tail_chains(h);
		tb_row_close(h);
		return;
	}
	tb_turning_corner(h);
	tb_tail_begin(h);
	if (sentence->is_round && !h->cursor.has_last && tb_place_count(h) > 0)
		/* a round begins in the stitch it was joined to */
		h->cursor.last = (tb_footing){.bases = {tb_hands_place(h, 0)}, .behind = TB_NONE, .count = 1, .rows_below = 1},
		h->cursor.has_last = h->row > 1;
	if (goes_around_flat(h))
		tb_hands_give_up(h, "not-worked", sentence->span,
			"Say how many stitches are worked along the sides, or how many there are in all.",
			"how many stitches the sides of the rows take is not said");
	begin_in_loop(h);
	tb_travel_begin_with_knot(h);
	tb_travel_begin_beside_join(h);
	tb_travel_set_out(h);
	tb_like_tell(h, sentence);
	tb_acts_work(h, &sentence->acts, 0);
	tb_border_tell_sides(h);
	tb_colour_end(h, sentence, number);
	guint32 due = h->cursor.left ? h->cursor.left_at : h->cursor.due;
	h->before.was_short = h->before.was_short || h->cursor.left;
	h->now.pending = tb_tail_chains(h);
	tb_row_close(h);
	tb_shape_learn_edge(h, due);
	tb_account_row(h, claims);
	set_narrowed(h, due);
	tb_rest_keep(h, due);
	h->abandoned = (h->teller.row_fault && tb_hands_row(h, h->row)->stitches == 0) ||
				   (h->start.only_to > 0 && h->row >= h->start.only_to);
}
