/*
 * One row after another: numbers, sides, turning, and rows that repeat others.
 *
 * A side said by the text wins where a row is worked for the first time; after that sides alternate
 * by turning. Right side rows run right to left, so two rows worked in opposite ways have been
 * turned between, and the tops below come to the hook in reverse.
 */
#include "account/account.h"
#include "acts/acts.h"
#include "acts/ground.h"
#include "acts/shape.h"
#include "acts/start.h"
#include "acts/tail.h"
#include "acts/travel.h"
#include "acts/turning.h"
#include "hands/colour.h"
#include "hands/row.h"
#include "hands/taken.h"
#include "places/edge.h"
#include "places/on_row.h"
#include "places/place.h"
#include "places/spiral.h"
#include "places/within.h"
#include "rows/choose.h"
#include "rows/in_pattern.h"
#include "rows/like.h"
#include "rows/mirror.h"
#include "rows/rows.h"

/* Whether new yarn is joined before anything is worked. */
static bool begins_with_yarn(const tb_sentence *sentence)
{
	for (unsigned i = 0; i < sentence->acts.count; i++) {
		tb_act_kind kind = sentence->acts.acts[i].kind;
		if (kind == TB_ACT_JOIN_YARN)
			return true;
		/* "Fasten off.", said of the row before on a line of its own, may stand here */
		if (kind != TB_ACT_SKIP && kind != TB_ACT_TURN && kind != TB_ACT_LOOPS && kind != TB_ACT_FASTEN_OFF)
			return false;
	}
	return false;
}

/* What the short rows left that were last turned, as seen by who joins new yarn. */
static bool has_rest(const tb_hands *h)
{
	return h->before.rest[h->before.rest_leftward]->len > 0;
}

/* "Skip 9 sts, join yarn in next st": so many; 0 where a row does not begin so. */
static guint32 skipped_before_yarn(const tb_hands *h, const tb_sentence *sentence)
{
	for (unsigned i = 0; begins_with_yarn(sentence) && i < sentence->acts.count; i++) {
		if (sentence->acts.acts[i].kind == TB_ACT_SKIP)
			return tb_hands_number(h, &sentence->acts.acts[i].place.count, 1);
	}
	return 0;
}

/* Which way the row goes that joins yarn where short rows left off: where so many were left as it skips. */
static bool goes_to_rest(const tb_hands *h, const tb_sentence *sentence)
{
	guint32 skipped = skipped_before_yarn(h, sentence);
	bool way = h->before.rest_leftward;
	return h->before.rest[way]->len <= skipped && h->before.rest[!way]->len > skipped ? !way : way;
}

/* Short rows from the middle leave on both sides; what the older one left an edge may lie over since. */
static bool reaches_rest(const tb_hands *h, const tb_made_row *row)
{
	return !row->is_round && h->before.rest[row->leftward]->len > 0 &&
		(row->leftward == h->before.rest_leftward || !h->before.rest_shut[row->leftward] ||
			skipped_before_yarn(h, h->sentence) > 0);
}

/* What short rows left, where this row goes the same way: it lies beyond the row below. */
static void add_rest(tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	const GArray *rest = h->before.rest[row->leftward];
	h->now.beyond = 0;
	bool unknown = h->labels.unsure || tb_taken_is_below(h);
	if (!reaches_rest(h, row) || (unknown && !begins_with_yarn(h->sentence)))
		return;
	/* "With RS facing, join yarn in next st": only they are worked */
	if (begins_with_yarn(h->sentence)) {
		g_array_set_size(h->now.places, 0);
		h->now.turning_place = TB_NONE;
	} else {
		h->now.beyond = rest->len;
	}
	for (guint i = rest->len; i-- > 0;)
		g_array_append_val(h->now.places, g_array_index(rest, guint32, i));
}

/* What this row leaves, and what of the rest it has worked. */
static void keep_rest(tb_hands *h, guint32 due)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	guint32 count = tb_place_count(h), end = count - MIN(h->now.beyond, count);
	GArray *rest = h->before.rest[row->leftward];
	if (row->is_round || h->cursor.over)
		return;
	if (begins_with_yarn(h->sentence) && reaches_rest(h, row))
		end = 0;
	if (due > end && due <= count)
		g_array_set_size(rest, rest->len - MIN(due - end, rest->len));
	/* an armhole's stitches are not beside those that are left for the other shoulder */
	bool passed = h->before.rest_passed[row->leftward];
	h->before.rest_passed[row->leftward] = due == end && !h->cursor.left;
	/* "leave last sc unworked" narrows the piece; who turns in the middle comes back */
	h->before.rest_shut[row->leftward] = due == end || (h->cursor.left && (end - MIN(due, end)) * 4 < end);
	bool leaves = due < end && (h->cursor.left || h->cursor.turned || tb_within_is_ended(h));
	if (passed && (leaves || h->now.set_aside->len > 0))
		g_array_set_size(rest, 0);
	if (!tb_within_keep(h, rest) && !leaves)
		return;
	h->before.rest_leftward = row->leftward;
	for (guint32 i = end; i-- > due;)
		g_array_append_val(rest, g_array_index(h->now.places, guint32, i));
}

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

static tb_side side_of(tb_hands *h, const tb_sentence *sentence, bool first_time, bool turned)
{
	/* new yarn is joined where a short row left off, and works on that way */
	if (has_rest(h) && begins_with_yarn(sentence) && sentence->side == TB_SIDE_UNSAID)
		return goes_to_rest(h, sentence) ? TB_SIDE_RIGHT : TB_SIDE_WRONG;
	if (first_time && sentence->side != TB_SIDE_UNSAID) {
		bool beside = has_rest(h) && begins_with_yarn(sentence); /* of a row further down */
		if (turned && !beside && !h->labels.uncounted && h->cloth.rows->len > 1 && sentence->first + h->labels.before == tb_rows_last(h) + 1 &&
			tb_hands_row(h, h->cloth.rows->len - 1)->side == sentence->side)
			warn_side(h, sentence);
		return sentence->side;
	}
	if (h->cloth.rows->len == 1 && !h->start.grown)
		return TB_SIDE_RIGHT;
	const tb_made_row *row = tb_hands_row(h, h->cloth.rows->len - 1);
	tb_side below = row->side;
	/* "do not turn. Row 3: Join B in top of ch 3": at the edge where the row before began */
	bool same_way = row->sentence != NULL && row->sentence->not_turned && begins_with_yarn(sentence);
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
	tb_travel_rotate(h, count - loop);
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
	tb_hands_row(h, h->row)->rejoined = begins_with_yarn(words);
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
	add_rest(h);
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
	tb_colour_end(h, sentence, number);
	guint32 due = h->cursor.left ? h->cursor.left_at : h->cursor.due;
	h->before.was_short = h->before.was_short || h->cursor.left;
	h->now.pending = tb_tail_chains(h);
	tb_row_close(h);
	tb_shape_learn_edge(h, due);
	tb_account_row(h, claims);
	set_narrowed(h, due);
	keep_rest(h, due);
	h->abandoned = (h->teller.row_fault && tb_hands_row(h, h->row)->stitches == 0) ||
				   (h->start.only_to > 0 && h->row >= h->start.only_to);
}

/* "Fasten off." standing alone is no row. */
static bool makes_nothing(const tb_sentence *sentence)
{
	if (sentence->taken)
		return false;
	for (unsigned i = 0; i < sentence->acts.count; i++) {
		tb_act_kind kind = sentence->acts.acts[i].kind;
		if (kind != TB_ACT_FASTEN_OFF && kind != TB_ACT_TURN && kind != TB_ACT_DO_NOT_JOIN)
			return false;
	}
	return true;
}

guint32 tb_rows_check_number(tb_hands *h, const tb_sentence *sentence)
{
	guint32 last = tb_rows_last(h);
	guint32 said = tb_hands_number(h, &sentence->first_in, sentence->first);
	guint32 number = said > 0 ? said + h->labels.before : 0;
	bool begins = h->cloth.rows->len == 0 || (h->cloth.rows->len == 1 && h->start.grown);
	if (number == 0 && h->cloth.rows->len == 0)
		return 0; /* a foundation row */
	if (last > 0 && (number <= 1 || number == last + 1) && tb_edge_is_among(&sentence->acts))
		h->labels.renumber = last; /* the rounds of a border are numbered anew */
	if (h->labels.uncounted && (h->labels.unsure || number > last + 1)) {
		h->labels.unsure = h->labels.unsure && number <= last;
		return MAX(number, last + 1);
	}
	if (number == 0 || (h->labels.is_open && (number > 1 || !h->labels.by_size)))
		return last + 1;
	/* the other side of a neck is numbered anew, or from the row where it was divided */
	if (has_rest(h) && begins_with_yarn(sentence) && number <= last)
		h->labels.renumber = last + 1 - number;
	if (h->labels.renumber > 0 && number + h->labels.renumber == last + 1)
		return last + 1;
	if (number == last + 1 || (number > last && (begins || h->labels.has_gaps)))
		return number;
	h->row = h->cloth.rows->len;
	guint32 told = last > h->labels.before ? last - h->labels.before : last;
	if (number == last)
		tb_hands_tell(h, TB_ERROR, "row-number", sentence->span, "Number the rows in order.",
			"row %u is there already", said);
	else if (number < last && number >= h->labels.missing_first && number <= h->labels.missing_last)
		h->teller.has_fault = true; /* it was told to be missing */
	else if (number < last)
		tb_hands_tell(h, TB_ERROR, "row-number", sentence->span, "Number the rows in order.",
			"row %u comes after row %u", said, told);
	else {
		g_autofree char *hint =
			g_strdup_printf("Write row %u, or number this one %u.", told + 1, told + 1);
		tb_hands_tell(h, TB_ERROR, "row-number", sentence->span, hint,
			"row %u comes after row %u; row %u is missing", said, told, told + 1);
		h->labels.missing_first = last + 1;
		h->labels.missing_last = number - 1;
	}
	return MAX(number, last + 1);
}

static void work_rows(tb_hands *h, const tb_sentence *sentence)
{
	if (makes_nothing(sentence))
		return;
	guint32 many = tb_row_said(h, sentence);
	if (sentence->left_out && sentence->first == 0)
		h->labels.unsure = h->labels.uncounted = true;
	if (sentence->many.count > 0)
		many = tb_hands_number(h, &sentence->many, 1);
	guint32 number = tb_rows_check_number(h, sentence);
	/* its count is that of the last of them, and of the others where it is as before */
	guint32 begin = sentence->taken && many > 1 && !tb_taken_keeps(h, sentence) ? many - 1 : 0;
	h->labels.uncounted = h->labels.uncounted || begin > 0;
	for (guint32 i = begin; i < many && !h->abandoned && !h->working->stopped; i++) {
		bool first_time = i == 0 || sentence->is_round;
		if (sentence->taken)
			tb_rows_work_one(h, sentence, number + i, number + i, first_time, false);
		else
			tb_choose_row(h, sentence, number + i, number + i, first_time, i + 1 == many);
	}
	/* the text cannot number the rows after that for all sizes */
	h->labels.is_open = h->labels.is_open || sentence->last_in.count > 1 || sentence->first_in.count > 1;
}

/*
 * Rows are worked on the row before; behind one that was not understood, and does not state its count,
 * they would be judged by the wrong one. Only that is said.
 */
static void stop_at(tb_hands *h, const tb_script *script, unsigned i)
{
	h->row = h->cloth.rows->len;
	h->teller.fault_row = h->teller.has_fault ? h->teller.fault_row : h->row;
	tb_taken_lose(h);
	const tb_sentence *left_out = script->sentences[i];
	unsigned next = i + 1;
	while (next < script->count && script->sentences[next]->left_out)
		next++;
	if (next == script->count)
		return;
	h->sentence = script->sentences[next];
	g_autofree char *which = left_out->kind == TB_SENTENCE_START ? g_strdup("the start")
							 : left_out->first > 0 ? g_strdup_printf("row %u", left_out->first)
												   : g_strdup("a row before");
	tb_hands_tell(h, TB_NOTE, "not-checked", h->sentence->span, NULL,
		"from here on nothing is checked: %s was not understood", which);
}

/*
 * "Sides": a part of its own, whose rows are numbered on or from 1 again; "Left strap" may number its rows
 * from where the work was divided, as "Right strap" did.
 */
static void begin_part(tb_hands *h, const tb_sentence *sentence)
{
	if (sentence->part == NULL)
		return;
	guint32 first = tb_hands_number(h, &sentence->first_in, sentence->first), last = tb_rows_last(h);
	bool divided = sentence->kind == TB_SENTENCE_ROWS && first > 1 && first <= last && has_rest(h) &&
		begins_with_yarn(sentence);
	h->labels.part = sentence->part;
	h->labels.was_open = sentence->anew && h->labels.is_open;
	if (sentence->anew || divided) {
		h->labels.from = sentence->anew ? 1 : first;
		h->labels.before = last + 1 - h->labels.from;
	} else if (first == last + 1) {
		h->labels.before = 0; /* they go on with the piece's own numbers, and not the last part's */
	}
}

/* Works sentence I of the script. */
static void work_sentence(tb_hands *h, const tb_script *script, unsigned i, const tb_sentence *sentence)
{
	tb_within_begin(h, sentence);
	switch (sentence->kind) {
	case TB_SENTENCE_START:
		tb_start_work(h, sentence);
		break;
	case TB_SENTENCE_ROWS:
		if (i + 1 < script->count || !tb_edge_is_left_out(h, sentence))
			work_rows(h, sentence);
		break;
	case TB_SENTENCE_REPEAT:
		if (tb_rows_grow_on(h, sentence, script->sentences + i + 1, script->count - i - 1))
			break;
		if (sentence->colour_count > 0)
			tb_colour_forget(h, true);
		tb_rows_again(h, sentence);
		if (sentence->colour_count > 0)
			tb_colour_forget(h, false);
		if (sentence->turns_otherwise)
			h->now.pending = sentence->tail;
		break;
	}
}

/* The sentence where nothing is checked, or could not be: it goes by its own count, if it states that. */
static void go_on_at(tb_hands *h, const tb_script *script, unsigned i)
{
	const tb_sentence *taken = tb_taken_go_on(h, script->sentences[i]);
	if (taken != NULL)
		work_sentence(h, script, i, taken);
}

void tb_rows_work(tb_hands *h, const tb_script *script)
{
	for (unsigned i = 0; i < script->count && (!h->abandoned || h->lost) && !h->working->stopped; i++) {
		const tb_sentence *sentence = script->sentences[i];
		if (sentence->opens_block) {
			h->labels.block = h->cloth.rows->len;
			h->labels.block_end = 0;
		}
		if (!(sentence->sizes >> h->size & 1)) {
			h->labels.has_gaps = true;
			continue;
		}
		guint32 before = h->cloth.rows->len;
		bool lost = h->lost;
		h->teller.broken = false;
		h->text = sentence;
		h->now.unjudged = false;
		begin_part(h, sentence);
		if (!lost && sentence->left_out && !(sentence->taken && tb_taken_can(h, sentence)))
			stop_at(h, script, i);
		else if (!lost)
			work_sentence(h, script, i, sentence);
		bool nothing = h->cloth.rows->len == before && !h->abandoned && sentence->kind != TB_SENTENCE_START;
		if (nothing && h->now.unjudged)
			tb_taken_stop(h);
		else if (nothing && h->teller.broken && h->start.only_to == 0 && before > 0 && tb_taken_can(h, sentence))
			tb_taken_lose(h);
		if (h->lost)
			go_on_at(h, script, i);
		else if (i + 1 < script->count)
			tb_taken_instead(h, sentence, before);
		if (sentence->closes_block)
			h->labels.block_end = h->cloth.rows->len;
	}
}
