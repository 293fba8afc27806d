/*
 * "Work even", "work in pattern for 6 rows", "dec 1 st at each end of every 4th row": rows that go on as those
 * before them, and say nothing else.
 */
#include "hands/row.h"
#include "places/place.h"
#include "rows/choose.h"
#include "rows/in_pattern.h"
#include "rows/rows_end.h"
#include "rows/vary.h"

/* Counts that rows come to at all they come to within so many. */
#define MOST_ROWS_TO_COUNT 1000u

/* Whether the row is of one ordinary stitch in each, which "even" and "dec 1 st at each end" go on with. */
static bool is_plain_row(const tb_hands *h, const tb_made_row *row)
{
	for (guint32 i = 0; i < row->count; i++) {
		const tb_made *made = tb_hands_made(h, row->first + i);
		/* the ring below a first round is no space of it */
		unsigned open = TB_MADE_CHAIN | (h->cloth.rows->len > 2 ? TB_MADE_IN_SPACE : 0u);
		if (!(made->flags & TB_MADE_TURNING) && made->flags & open)
			return false;
	}
	return true;
}

/* The row LIKE again, where rows come in turns; or its stitches, where it was shaped or is of another width. */
static void work_like(tb_hands *h, const tb_sentence *sentence, guint32 like)
{
	tb_made_row row = *tb_hands_row(h, like);
	if (tb_in_pattern_may_come(h, like))
		tb_choose_again(h, row.sentence, tb_rows_last(h) + 1, row.written);
	else
		tb_choose_again(h, sentence->even, tb_rows_last(h) + 1, tb_rows_last(h) + 1);
}

/* Whether the row at INDEX has more or fewer stitches than that below it. */
static bool is_shaped(const tb_hands *h, guint32 index)
{
	return index > 1 && tb_hands_row(h, index)->stitches != tb_hands_row(h, index - 1)->stitches;
}

/*
 * "Work 6 more rows the same" behind a row that was shaped: that row, MANY times more. Where every other
 * row was shaped, which of the two is meant is not said. Returns whether there is nothing else to do.
 */
static bool work_alike(tb_hands *h, const tb_sentence *sentence, guint32 many)
{
	guint32 index = h->cloth.rows->len - 1;
	if (!sentence->alike || !(is_shaped(h, index) || (index > 4 && is_shaped(h, index - 1) && is_shaped(h, index - 3))))
		return false;
	tb_made_row last = *tb_hands_row(h, index);
	if (!is_shaped(h, index) || last.sentence == NULL) {
		tb_hands_give_up(h, "rows-again-unknown", sentence->span, "Name the rows by number, as in Rep Rows 3-6.",
			"it is not clear which rows these are like");
		return true;
	}
	for (guint32 i = 0; i < many && !h->abandoned && !h->working->stopped && !h->teller.row_fault; i++)
		tb_choose_again(h, last.sentence, tb_rows_last(h) + 1, last.written);
	return true;
}

/* Whether MADE is STITCH, or several of it together, as where a row of it is shaped. */
static bool is_of_stitch(const tb_hands *h, const tb_made *made, const tb_stitch *stitch)
{
	const tb_stitch *worked = tb_hands_stitch(h, made);
	return worked == stitch ||
		(worked->takes > 1 && worked == tb_library_together(h->working->pattern->library, stitch, worked->takes));
}

/* Whether the row at INDEX is of STITCH, and nothing else is worked in it. */
static bool is_row_of(const tb_hands *h, guint32 index, const tb_stitch *stitch)
{
	const tb_made_row *row = tb_hands_row(h, index);
	for (guint32 i = 0; i < row->count; i++) {
		const tb_made *made = tb_hands_made(h, row->first + i);
		if (!(made->flags & (TB_MADE_TURNING | TB_MADE_CHAIN)) && (made->flags & TB_MADE_COUNTED) &&
			!is_of_stitch(h, made, stitch))
			return false;
	}
	return true;
}

/* Whether the row said at SENTENCE is turned, joined or begins with a chain. */
static bool has_ends(const tb_sentence *sentence)
{
	bool ends = sentence == NULL;
	for (unsigned i = 0; !ends && i < sentence->acts.count; i++) {
		tb_act_kind kind = sentence->acts.acts[i].kind;
		ends = kind == TB_ACT_TURN || kind == TB_ACT_JOIN || kind == TB_ACT_CHAIN;
	}
	return ends;
}

static bool has_as_many(const tb_hands *h, const void *data)
{
	return tb_hands_row(h, h->cloth.rows->len - 1)->stitches == *(const guint32 *)data;
}

/* Works a row as the last one was that is of STITCH alone and changed no count; false where there is none, or it does not come out. */
static bool work_as_before(tb_hands *h, const tb_stitch *stitch)
{
	guint32 stitches = tb_hands_row(h, h->cloth.rows->len - 1)->stitches, next = tb_rows_last(h) + 1;
	for (guint32 row = h->cloth.rows->len; row-- > 2;) {
		const tb_made_row *made = tb_hands_row(h, row);
		tb_hands_look(h, made->count);
		if (made->sentence == NULL || made->taken || made->stitches != made[-1].stitches || !is_row_of(h, row, stitch))
			continue;
		return tb_choose_try(h, tb_vary_to_any(h, made->sentence, row), next, next, has_as_many, &stitches);
	}
	return false;
}

/* Whether a row of STITCH was worked: how such rows begin and end has been seen. */
static bool is_known(const tb_hands *h, const tb_stitch *stitch)
{
	guint32 row = h->cloth.rows->len;
	while (row > 1 && !is_row_of(h, row - 1, stitch))
		row--;
	return row > 1;
}

/*
 * "One row sc and one row hdc by turns": the one that the last row is not, as such a row was worked before, or in each
 * stitch where all of those were shaped.
 */
static void work_in_turn(tb_hands *h, const tb_sentence *sentence)
{
	bool first = !is_row_of(h, h->cloth.rows->len - 1, sentence->even_in);
	const tb_stitch *stitch = first ? sentence->even_in : sentence->turns_in;
	if (work_as_before(h, stitch) || h->teller.row_fault)
		return;
	if (is_known(h, stitch) && sentence->even->acts.count == 1) {
		tb_sentence *row = tb_arena_new(h->working->arena, tb_sentence);
		tb_act *act = tb_arena_new(h->working->arena, tb_act);
		*row = *sentence->even;
		*act = sentence->even->acts.acts[0];
		act->stitch = stitch;
		row->acts = (tb_acts){act, 1};
		tb_choose_again(h, row, tb_rows_last(h) + 1, tb_rows_last(h) + 1);
	} else
		tb_hands_give_up(h, "not-worked", sentence->span, "Write the first of these rows out.",
			"how rows of these stitches are worked is not said");
}

/*
 * A row of another stitch, behind LAST. One as low as a chain is turned with one, which counts for nothing. With how many
 * chains a higher one begins nobody says, and whether they count: it has as many stitches either way, and is worked
 * without, which is told as of any such row. A round is joined as the last one was.
 */
static const tb_sentence *plain_row(tb_hands *h, const tb_sentence *sentence, const tb_made_row *last)
{
	tb_arena *arena = h->working->arena;
	tb_act *acts = tb_arena_take(arena, 3 * sizeof(tb_act)), even = sentence->even->acts.acts[0];
	tb_number one = {1, tb_number_one, even.span};
	acts[0] = (tb_act){.kind = TB_ACT_CHAIN, .span = even.span, .counts = TB_COUNTS_NOT, .count = one};
	acts[1] = even;
	acts[2] = (tb_act){.kind = TB_ACT_JOIN, .span = even.span, .bare = true, .stitch = h->working->slip, .each = one,
		.place = {.in = TB_IN_FIRST, .rows_below = 1, .span = even.span, .count = one}};
	tb_sentence *row = tb_arena_new(arena, tb_sentence);
	*row = *sentence->even;
	bool low = tb_stitch_chains(sentence->even_in) == 1;
	unsigned count = last->is_round && last->joined ? 3 : 2;
	row->acts = (tb_acts){low ? acts : acts + 1, low ? count : count - 1};
	return row;
}

/* Whether all that ROW works into stitches goes into LOOPS of them, as far as those are said. */
static bool is_in_loops(const tb_hands *h, const tb_made_row *row, tb_loops loops)
{
	tb_place place = {.loops = loops};
	for (guint32 i = row->first; loops != TB_LOOPS_BOTH && i < row->first + row->count; i++) {
		const tb_made *made = tb_hands_made(h, i);
		if (made->base_count > 0 && made->flags & TB_MADE_COUNTED && !(made->flags & (TB_MADE_TURNING | tb_place_loops(h, &place))))
			return false;
	}
	return true;
}

/*
 * "Work 6 rows in hdc" behind rows of another stitch: as such a row was worked before, or the stitch in each. Returns
 * whether there is nothing else to do.
 */
static bool work_other_stitch(tb_hands *h, const tb_sentence *sentence)
{
	guint32 index = h->cloth.rows->len - 1;
	if (sentence->turns_in != NULL) {
		work_in_turn(h, sentence);
		return true;
	}
	const tb_made_row *row = tb_hands_row(h, index);
	if (sentence->even_in == NULL || index == 0 || (is_row_of(h, index, sentence->even_in) && is_in_loops(h, row, sentence->even_loops)))
		return false;
	if (sentence->even_loops == TB_LOOPS_BOTH && work_as_before(h, sentence->even_in))
		return true;
	if (row->is_round && !has_ends(row->sentence))
		tb_choose_again(h, sentence->even, tb_rows_last(h) + 1, tb_rows_last(h) + 1);
	else if (sentence->even->acts.count == 1)
		tb_choose_again(h, plain_row(h, sentence, row), tb_rows_last(h) + 1, tb_rows_last(h) + 1);
	else
		tb_hands_give_up(h, "not-worked", sentence->span, "Write the first of these rows out.",
			"how rows of another stitch begin and end is not said");
	return true;
}

/*
 * The words of LAST once more, or the ordinary stitch in each where they do not come out on LAST itself: a row
 * that went into chains, as above an opening, finds none in its own stitches.
 */
static void work_last_again(tb_hands *h, const tb_sentence *sentence, const tb_made_row *last)
{
	guint32 next = tb_rows_last(h) + 1, stitches = last->stitches;
	const tb_sentence *words = last->sentence;
	bool plain = sentence->even != NULL && is_plain_row(h, last);
	if (plain && tb_choose_try(h, words, next, next, has_as_many, &stitches))
		return;
	tb_choose_again(h, plain ? sentence->even : words, next, next);
}

/* The rows repeated last that row NUMBER is one of, as they are numbered. False, told, where there are none. */
static bool find_block(tb_hands *h, const tb_sentence *sentence, guint32 number, tb_row_repeat *block)
{
	for (guint i = h->cloth.repeats->len; i-- > 0;) {
		*block = g_array_index(h->cloth.repeats, tb_row_repeat, i);
		if (number >= block->first && number <= block->last)
			return true;
	}
	*block = (tb_row_repeat){.first = tb_rows_called(h, sentence->pattern_first), .last = tb_rows_called(h, sentence->pattern_last)};
	if (sentence->pattern_first > 0 && number >= block->first && number <= block->last)
		return true;
	tb_hands_give_up(h, "rows-again-unknown", sentence->span, "Name the rows by number, as in Rep Rows 3-6.",
		"row %u is none of rows that are repeated", number);
	return false;
}

/* "Beginning with Row 8, work 11 rows in pattern": the rows of the repeat in their order, and over again. */
static void work_from(tb_hands *h, const tb_sentence *sentence, guint32 many)
{
	guint32 number = tb_rows_called(h, sentence->starts_row);
	tb_row_repeat block;
	if (!find_block(h, sentence, number, &block))
		return;
	for (guint32 i = 0; i < many && !h->abandoned && !h->working->stopped && !h->teller.row_fault; i++) {
		tb_made_row row = *tb_hands_row(h, tb_rows_find_from(h, number));
		if (row.sentence != NULL)
			tb_choose_again(h, row.sentence, tb_rows_last(h) + 1, row.written);
		number = number == block.last ? block.first : number + 1;
	}
}

/*
 * "Work even": the row before again where it changed nothing, or the ordinary stitch in each. What even
 * is in a row of chains and spaces that comes to another count is not said.
 */
void tb_rows_even(tb_hands *h, const tb_sentence *sentence, guint32 many)
{
	if (work_alike(h, sentence, many))
		return;
	if (sentence->starts_row > 0) {
		work_from(h, sentence, many);
		return;
	}
	for (guint32 i = 0; i < many && !h->abandoned && !h->working->stopped; i++) {
		if (work_other_stitch(h, sentence)) {
			if (h->teller.row_fault)
				return;
			continue;
		}
		const tb_made_row *last = tb_hands_row(h, h->cloth.rows->len - 1);
		guint32 like = tb_in_pattern_row(h, sentence);
		if (like > 0 && like + 1 < h->cloth.rows->len) {
			work_like(h, sentence, like);
			if (h->teller.row_fault)
				return;
			continue;
		}
		bool same = h->cloth.rows->len > 2 && last->stitches == last[-1].stitches && last->sentence != NULL &&
			last->sentence->shaped == NULL;
		/* of several rows of lace the last alone is hardly the pattern */
		bool lace = same && like == 0 && h->cloth.rows->len > 3 && !tb_in_pattern_is_regular(h, h->cloth.rows->len - 1);
		if (lace || (!same && !is_plain_row(h, last))) {
			tb_hands_give_up(h, h->labels.uncounted ? "rows-again-unknown" : "not-worked", sentence->span, "Write these rows out.",
				"how this pattern goes on without shaping is not said");
			return;
		}
		if (same)
			work_last_again(h, sentence, last);
		else
			tb_choose_again(h, sentence->even, tb_rows_last(h) + 1, tb_rows_last(h) + 1);
		if (h->teller.row_fault)
			return;
	}
}

/* Whether a row that comes I times so far has come often enough, or the stitches to their count. */
static bool is_done(const tb_hands *h, const tb_sentence *sentence, unsigned number, guint32 i)
{
	return sentence->until == TB_REPEAT_COUNT ? tb_rows_counted(h, sentence) == number : i >= number;
}

/* "until there are 45 sts": whether the last row is farther from NUMBER than the one before it, which STOOD at so many. */
static bool goes_away(const tb_hands *h, const tb_sentence *sentence, unsigned number, guint32 stood)
{
	guint32 stands = tb_rows_counted(h, sentence);
	return sentence->until == TB_REPEAT_COUNT && (stands > stood ? stands > number : stands < stood && stands < number);
}

guint32 tb_rows_apart(const tb_hands *h, const tb_sentence *sentence)
{
	return CLAMP(tb_hands_number(h, &sentence->every, 1), 1, TB_LIMIT_PIECE_ROWS);
}

/* How many rows lie between two that are shaped; of those on one side alone, or NEXT, before the next. */
static guint32 rows_between(const tb_hands *h, const tb_sentence *sentence, bool next)
{
	guint32 apart = next ? 1 : tb_rows_apart(h, sentence);
	if (sentence->every_side == TB_SIDE_UNSAID)
		return apart - 1;
	bool comes = tb_hands_row(h, h->cloth.rows->len - 1)->side != sentence->every_side;
	return 2 * (apart - 1) + (comes ? 0 : 1);
}

/* "every RS row": false, told, where the last row shows the other side, as in rounds that are not turned. */
static bool is_on_side(tb_hands *h, const tb_sentence *sentence)
{
	if (sentence->every_side == TB_SIDE_UNSAID || tb_hands_row(h, h->cloth.rows->len - 1)->side == sentence->every_side)
		return true;
	tb_hands_give_up(h, "not-worked", sentence->span, "Say it of every so many rows, as in \"every 2nd row\".",
		"these rows do not come on the side that is said");
	return false;
}

/* "next and every 4th row 3 times": whether it is worked once more behind those 3, as the count behind it tells. */
static bool comes_once_more(const tb_hands *h, const tb_sentence *sentence, unsigned number, guint32 i)
{
	const tb_claim *claim = sentence->claim_count == 1 ? &sentence->claims[0] : NULL;
	return sentence->once_more && i == number && claim != NULL && !claim->other && !claim->rows && !claim->compared &&
		tb_hands_number(h, &claim->count, 0) != tb_hands_row(h, h->cloth.rows->len - 1)->stitches;
}

/* MANY even rows, as "Plain rnd: …" tells them where it does. */
static void work_between(tb_hands *h, const tb_sentence *sentence, guint32 many)
{
	if (sentence->plain == NULL) {
		tb_rows_even(h, sentence, many);
		return;
	}
	for (guint32 i = 0; i < many && !h->abandoned && !h->working->stopped && !h->teller.row_fault; i++) {
		guint32 next = tb_rows_last(h) + 1;
		tb_choose_row(h, sentence->plain, next, next, false, true);
	}
}

/*
 * SAID, written where WRITTEN says, again and again, with even rows between: FIRST of them before the first
 * time. PLAIN: the rows must be of one ordinary stitch.
 */
static void work_every(tb_hands *h, const tb_sentence *sentence, const tb_sentence *said, unsigned written,
	guint32 first, bool plain)
{
	unsigned number = tb_hands_number(h, &sentence->times, 1);
	for (guint32 i = 0; i < MOST_ROWS_TO_COUNT && !h->abandoned && !h->working->stopped; i++) {
		if (is_done(h, sentence, number, i) && !comes_once_more(h, sentence, number, i))
			return;
		if (plain && !is_plain_row(h, tb_hands_row(h, h->cloth.rows->len - 1))) {
			tb_hands_give_up(h, "not-worked", sentence->span, "Write these rows out.",
				"how this pattern goes on at the ends of the rows is not said");
			return;
		}
		work_between(h, sentence, i == 0 ? first : rows_between(h, sentence, false));
		if (h->teller.row_fault || h->abandoned)
			return;
		guint32 next = tb_rows_last(h) + 1, stood = tb_rows_counted(h, sentence);
		if (said->only_told)
			tb_choose_row(h, said, next, next, false, true);
		else
			tb_choose_again(h, said, next, written > 0 ? written : next);
		if (h->teller.row_fault || !is_on_side(h, sentence))
			return;
		if (goes_away(h, sentence, number, stood))
			break;
	}
	if (!h->abandoned && !h->working->stopped)
		tb_hands_tell(h, TB_ERROR, "count-claimed", sentence->span, "Check the count, or the rows.",
			"these rows never come to %u sts", number);
}

/* "dec 1 st at each end of every 4th row 3 times", "… of every row until 4 sts remain". */
void tb_rows_shaped(tb_hands *h, const tb_sentence *sentence)
{
	work_every(h, sentence, sentence->shaped, 0, rows_between(h, sentence, sentence->shapes_next), true);
}

guint32 tb_rows_even_from(tb_hands *h, const tb_sentence *sentence)
{
	tb_row_repeat block;
	if (sentence->starts_row > 0) {
		if (!find_block(h, sentence, tb_rows_called(h, sentence->starts_row), &block))
			return 0;
		work_from(h, sentence, block.last - block.first + 1);
		return h->cloth.rows->len - (block.last - block.first + 1);
	}
	guint32 like = tb_in_pattern_row(h, sentence);
	if (like == 0 || like + 1 == h->cloth.rows->len) {
		tb_rows_even(h, sentence, 1);
		return h->cloth.rows->len - 1;
	}
	for (guint32 i = like; i < h->cloth.rows->len; i++) {
		if (tb_in_pattern_may_come(h, i))
			continue;
		/* what comes in turns was shaped: all of its rows once, each as wide as the piece is now */
		guint32 period = h->cloth.rows->len - like;
		tb_rows_even(h, sentence, period);
		return h->cloth.rows->len - period;
	}
	return like;
}

/* So many rows were worked since the one with the words of ROW was worked last. */
static guint32 rows_since(const tb_hands *h, guint32 row)
{
	guint32 since = 0;
	while (tb_hands_row(h, h->cloth.rows->len - 1 - since)->written != tb_hands_row(h, row)->written)
		since++;
	return since;
}

void tb_rows_placed(tb_hands *h, const tb_sentence *sentence)
{
	guint32 apart = tb_rows_apart(h, sentence), times = tb_hands_number(h, &sentence->times, 1), done = 0;
	if (sentence->until != TB_REPEAT_TIMES || (h->labels.is_open && !h->labels.was_open) || h->labels.unsure || tb_rows_last(h) - h->labels.before >= apart) {
		tb_hands_give_up(h, "not-worked", sentence->span, "Number the rows, and say how often.",
			"which rows these are is not known, or the first of them is past already");
		return;
	}
	for (guint32 i = 0; done < times && i < MOST_ROWS_TO_COUNT && !h->abandoned && !h->working->stopped; i++) {
		guint32 next = tb_rows_last(h) + 1;
		bool comes = (next - h->labels.before) % apart == 0;
		if (comes)
			tb_choose_row(h, sentence->placed, next, next, false, true);
		else
			work_between(h, sentence, 1);
		if (h->teller.row_fault)
			return;
		done += comes;
	}
	if (done < times && !h->abandoned && !h->working->stopped)
		tb_hands_tell(h, TB_ERROR, "limit-rows", sentence->span, "Check how often.", "these are more rows than any piece needs");
}

void tb_rows_spaced(tb_hands *h, const tb_sentence *sentence, guint32 row)
{
	guint32 between = rows_between(h, sentence, sentence->shapes_next), since = sentence->every_side == TB_SIDE_UNSAID ? rows_since(h, row) : 0;
	if (sentence->until != TB_REPEAT_TIMES && sentence->until != TB_REPEAT_COUNT) {
		tb_hands_give_up(h, "not-worked", sentence->span, "Say how often, or until how many sts.",
			"how often this is worked is not said");
		return;
	}
	const tb_made_row again = *tb_hands_row(h, row);
	work_every(h, sentence, again.sentence, again.written, between - MIN(since, between), false);
}

void tb_rows_told(tb_hands *h, const tb_sentence *sentence)
{
	tb_sentence said = *sentence;
	if (said.until == TB_REPEAT_OVER) {
		tb_number times = {1, tb_arena_take(h->working->arena, sizeof(int)), said.span};
		*(int *)(gpointer)times.values = (int)MIN(tb_row_said(h, sentence), TB_LIMIT_PIECE_ROWS + 1u);
		said.times = times;
		said.until = TB_REPEAT_TIMES;
	}
	if (said.until != TB_REPEAT_TIMES && said.until != TB_REPEAT_COUNT) {
		tb_hands_give_up(h, "not-worked", sentence->span, "Say how often, or until how many sts.",
			"how often this is worked is not said");
		return;
	}
	work_every(h, &said, sentence->repeat_of, 0, rows_between(h, sentence, sentence->shapes_next), false);
}
