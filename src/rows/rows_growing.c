/*
 * Rows that go on as the ones before them grew: "Continue in this way, working 1 more sc between
 * increases in each round, until there are 96 sts."
 *
 * The row before has one repeat, and in that so many plain stitches and one increase (or decrease).
 * The next is the same with more, or fewer, plain stitches. Where the row before says anything else, or
 * grew otherwise than the one made from it, how the rows go on is not sure and is told.
 */
#include "rows/choose.h"
#include "rows/in_pattern.h"
#include "rows/rows.h"
#include "rows/rows_end.h"

#include <string.h>

/* Rows that come to a count at all come to it within so many. */
#define MOST_ROWS_TO_COUNT 1000u

static bool is_plain(const tb_hands *h, const tb_act *act)
{
	const tb_place *place = &act->place;
	return act->kind == TB_ACT_WORK && act->stitch != NULL && act->stitch->takes == 1 &&
		tb_hands_number(h, &act->each, 1) == 1 && place->in == TB_IN_NEXT && place->rows_below == 1 &&
		act->other == NULL && place->also == NULL;
}

static bool is_shaping(const tb_hands *h, const tb_act *act)
{
	/* "3 sc in the centre st" stands where the row says */
	bool here = act->place.in == TB_IN_NEXT ? tb_hands_number(h, &act->place.count, 1) == 1 : act->place.in == TB_IN_PART;
	if (act->kind != TB_ACT_WORK || act->stitch == NULL || !here || act->place.rows_below != 1)
		return false;
	unsigned each = tb_hands_number(h, &act->each, 1);
	return (act->stitch->takes == 1 && each > 1) || (act->stitch->takes > 1 && each == 1);
}

static bool is_work(const tb_act *act)
{
	return act->kind == TB_ACT_WORK || act->kind == TB_ACT_GROUP || act->kind == TB_ACT_REPEAT ||
		act->kind == TB_ACT_SKIP || act->kind == TB_ACT_SHAPE || act->kind == TB_ACT_ONLY ||
		act->kind == TB_ACT_CANNOT || act->kind == TB_ACT_LEAVE;
}

/* The one repeat of ACTS that does all their work; NULL where there is none. */
static const tb_act *find_repeat(const tb_acts *acts)
{
	const tb_act *found = NULL;
	for (unsigned i = 0; i < acts->count; i++) {
		const tb_act *act = &acts->acts[i];
		if (!is_work(act))
			continue;
		if (found != NULL || act->kind != TB_ACT_REPEAT || act->body_last > 0 || act->ends > 0)
			return NULL;
		found = act;
	}
	return found;
}

/* The plain stitches in the body of REPEAT; NULL unless it has them, one increase or decrease, and what stays as it is. */
static const tb_act *find_plain(const tb_hands *h, const tb_act *repeat)
{
	const tb_act *plain = NULL;
	unsigned shaping = 0;
	for (unsigned i = 0; i < repeat->body.count; i++) {
		const tb_act *act = &repeat->body.acts[i];
		if (is_plain(h, act) && plain == NULL)
			plain = act;
		else if (is_shaping(h, act))
			shaping++;
		else if (act->kind != TB_ACT_CHAIN && act->kind != TB_ACT_SKIP)
			return NULL;
	}
	return shaping == 1 ? plain : NULL;
}

static tb_acts copy_acts(tb_hands *h, const tb_acts *acts)
{
	tb_act *copy = tb_arena_take(h->working->arena, (acts->count + 1) * sizeof(tb_act));
	if (acts->count > 0)
		memcpy(copy, acts->acts, acts->count * sizeof(tb_act));
	return (tb_acts){copy, acts->count};
}

/* SENTENCE with acts of its own, and what was found out about those left behind. */
static tb_sentence *copy_sentence(tb_hands *h, const tb_sentence *sentence)
{
	tb_sentence *next = tb_arena_new(h->working->arena, tb_sentence);
	*next = *sentence;
	next->acts = copy_acts(h, &sentence->acts);
	next->original = NULL;
	next->ways = NULL;
	next->way_count = 0;
	next->claims = NULL;
	next->claim_count = 0;
	return next;
}

/* SENTENCE with MANY plain stitches in each pass. */
static const tb_sentence *with_plain(tb_hands *h, const tb_sentence *sentence, unsigned many)
{
	tb_sentence *next = copy_sentence(h, sentence);
	tb_act *repeat = (tb_act *)find_repeat(&next->acts);
	repeat->body = copy_acts(h, &repeat->body);
	tb_act *plain = (tb_act *)find_plain(h, repeat);
	int *value = tb_arena_new(h->working->arena, int);
	*value = (int)many;
	plain->place.count = (tb_number){1, value, plain->place.count.span};
	return next;
}

/* How many plain stitches are between in ROW; 0 where it is no such row. */
static unsigned count_between(const tb_hands *h, const tb_made_row *row)
{
	const tb_act *repeat = row->sentence != NULL ? find_repeat(&row->sentence->acts) : NULL;
	const tb_act *plain = repeat != NULL ? find_plain(h, repeat) : NULL;
	return plain != NULL ? tb_hands_number(h, &plain->place.count, 1) : 0;
}

/* Puts for COUNT what comes after EARLIER and LATER; *MORE is by how many, alike wherever it is any. */
static bool next_figure(tb_hands *h, const tb_number *earlier, const tb_number *later, tb_number *count,
	gint64 *more)
{
	gint64 before = tb_hands_number(h, earlier, 0), now = tb_hands_number(h, later, 0), step = now - before;
	if (step == 0)
		return true;
	if ((*more != 0 && *more != step) || now + step < 1)
		return false;
	*more = step;
	int *value = tb_arena_new(h->working->arena, int);
	*value = (int)(now + step);
	*count = (tb_number){1, value, count->span};
	return true;
}

/*
 * "sc in first 8 sts, sc3tog, sc in last 8 sts", and before that 9 and 9: the same acts, whose figures go on
 * as they went. NEXT, a copy of LATER, gets those. False where the two rows are not worked alike.
 */
static bool next_figures(tb_hands *h, const tb_acts *earlier, const tb_acts *later, tb_acts *next,
	gint64 *more)
{
	bool alike = earlier->count == later->count;
	for (unsigned i = 0; alike && i < later->count; i++) {
		const tb_act *one = &earlier->acts[i], *other = &later->acts[i];
		tb_act *act = (tb_act *)&next->acts[i];
		alike = one->kind == other->kind && one->stitch == other->stitch && one->place.in == other->place.in &&
			one->body_last == other->body_last && one->ends == other->ends && one->until == other->until &&
			tb_hands_number(h, &one->each, 1) == tb_hands_number(h, &other->each, 1) &&
			tb_hands_number(h, &one->count, 0) == tb_hands_number(h, &other->count, 0);
		if (!alike || !is_work(other))
			continue;
		act->body = copy_acts(h, &other->body);
		alike = next_figures(h, &one->body, &other->body, &act->body, more) &&
			next_figure(h, &one->place.count, &other->place.count, &act->place.count, more);
	}
	return alike;
}

/* The row that goes on from EARLIER and LATER as they went, MORE in each figure that changes; NULL for none. */
static const tb_sentence *follow_rows(tb_hands *h, const tb_made_row *earlier, const tb_made_row *later, gint64 *more)
{
	*more = 0;
	if (later->sentence == NULL || earlier->sentence == NULL || later->taken || earlier->taken)
		return NULL;
	tb_sentence *next = copy_sentence(h, later->sentence);
	bool follows = next_figures(h, &earlier->sentence->acts, &later->sentence->acts, &next->acts, more);
	return follows && *more != 0 ? next : NULL;
}

/* The row after the last two. */
static const tb_sentence *follow(tb_hands *h, gint64 *more)
{
	const tb_made_row *last = tb_hands_row(h, h->cloth.rows->len - 1);
	*more = 0;
	return h->cloth.rows->len < 4 ? NULL : follow_rows(h, last - 1, last, more);
}

/* "3 sc in the center st": so many in one place, wherever that is. */
static bool is_widening(const tb_hands *h, const tb_act *act)
{
	return act->kind == TB_ACT_WORK && act->stitch != NULL && act->stitch->takes == 1 && act->other == NULL &&
		act->place.in != TB_IN_EACH && tb_hands_number(h, &act->each, 1) > 1 && tb_hands_number(h, &act->place.count, 1) <= 1;
}

/*
 * "sc 7, sc3tog, sc 7", where the row before says it in other words: each run of plain stitches is MORE longer.
 * Whether these are the figures meant, the count of the row tells. NULL where it has none, or a repeat.
 */
static const tb_sentence *with_more(tb_hands *h, gint64 more)
{
	const tb_made_row *last = tb_hands_row(h, h->cloth.rows->len - 1);
	if (h->cloth.rows->len < 4 || last->sentence == NULL || last->taken || more == 0)
		return NULL;
	tb_sentence *next = copy_sentence(h, last->sentence);
	unsigned runs = 0;
	for (unsigned i = 0; i < next->acts.count; i++) {
		tb_act *act = (tb_act *)&next->acts.acts[i];
		tb_in in = act->place.in;
		if (!is_work(act) || is_shaping(h, act) || is_widening(h, act))
			continue;
		bool counted = in == TB_IN_NEXT || in == TB_IN_FIRST || in == TB_IN_LAST;
		gint64 many = tb_hands_number(h, &act->place.count, 1) + more;
		if (act->kind != TB_ACT_WORK || act->stitch == NULL || act->stitch->takes != 1 || !counted || many < 1 ||
			tb_hands_number(h, &act->each, 1) != 1 || act->other != NULL)
			return NULL;
		int *value = tb_arena_new(h->working->arena, int);
		*value = (int)many;
		act->place.count = (tb_number){1, value, act->place.count.span};
		runs++;
	}
	return runs > 0 ? next : NULL;
}

static void tell_unsure(tb_hands *h, const tb_sentence *sentence)
{
	tb_hands_give_up(h, "not-worked", sentence->span, "Write the next rows out.",
		"how these rows go on is not sure: the rows before do not grow so");
}

/* Whether the row goes to its end by itself, "sc2tog, sc to last 2 sts, sc2tog", however wide it is. */
static bool fits_any(const tb_made_row *row)
{
	bool fits = row->sentence != NULL && row->sentence->shaped == NULL, counts = false;
	unsigned across = 0;
	for (unsigned i = 0; fits && i < row->sentence->acts.count; i++) {
		const tb_act *act = &row->sentence->acts.acts[i];
		bool each = act->kind == TB_ACT_SHAPE || (act->kind == TB_ACT_WORK && act->place.in == TB_IN_EACH);
		/* "sc to marker": what comes behind that is worked where it was */
		across += each && !act->place.to_marker && (act->place.up_to == NULL || !act->place.up_to->marked);
		counts = counts || (act->kind == TB_ACT_WORK && act->place.in == TB_IN_NEXT && act->place.target == TB_TARGET_STITCH);
		fits = act->kind != TB_ACT_REPEAT && act->kind != TB_ACT_LEAVE &&
			(act->kind != TB_ACT_GROUP || act->place.target == TB_TARGET_SPACE);
	}
	/* "dc in each dc to ch-2 sp, (2 dc, ch 2, 2 dc) in ch-2 sp, dc in each dc to end" has the middle where it was */
	return fits && (across == 1 || (across == 2 && !counts));
}

/* "Row 3: As Row 2.": the same words have done for a wider row. */
static bool fits_again(const tb_hands *h, const tb_made_row *row)
{
	return h->cloth.rows->len > 2 && row->sentence != NULL && row->sentence->shaped == NULL && row->sentence == row[-1].sentence;
}

/* Works NEXT, which must come to WANTED. */
static bool work_next(tb_hands *h, const tb_sentence *sentence, const tb_sentence *next, gint64 wanted)
{
	tb_choose_again(h, next, tb_rows_last(h) + 1, tb_rows_last(h) + 1);
	if (h->teller.row_fault || h->abandoned)
		return false;
	if (tb_hands_row(h, h->cloth.rows->len - 1)->stitches == wanted)
		return true;
	tell_unsure(h, sentence);
	return false;
}

/* The last row's words again: at its ends the next one changes as that did. */
static bool grow_alike(tb_hands *h, const tb_sentence *sentence)
{
	const tb_made_row *last = tb_hands_row(h, h->cloth.rows->len - 1);
	gint64 grew = (gint64)last->stitches - last[-1].stitches, wanted = last->stitches + grew;
	return work_next(h, sentence, last->sentence, wanted);
}

/* Works the next row. It must grow by as much as the row before did. */
static bool grow_row(tb_hands *h, const tb_sentence *sentence)
{
	const tb_made_row *last = tb_hands_row(h, h->cloth.rows->len - 1);
	gint64 here = count_between(h, last), earlier = h->cloth.rows->len > 3 ? count_between(h, last - 1) : 0;
	gint64 more = sentence->grow == 0 && earlier > 0 ? here - earlier : sentence->grow;
	gint64 before = last->stitches, grew = h->cloth.rows->len > 1 ? before - last[-1].stitches : 0;
	/* so many more in each row, in as many places: a stitch more between them */
	if (more == 0 && sentence->grow_by != 0)
		more = sentence->grow_by > 0 ? 1 : -1;
	bool as_said = (sentence->grow_by == 0 || sentence->grow_by == grew) && grew * sentence->grow_way >= 0;
	if (as_said && here == 0 && sentence->grow == 0 && (sentence->grow_way == 0 ? grew != 0 : grew * sentence->grow_way > 0) &&
		(fits_any(last) || fits_again(h, last)))
		return grow_alike(h, sentence);
	gint64 step = 0;
	const tb_sentence *next = as_said && here == 0 ? follow(h, &step) : NULL;
	if (as_said && here == 0 && next == NULL && sentence->grow != 0) {
		next = with_more(h, sentence->grow);
		step = sentence->grow;
	}
	if (next != NULL && (sentence->grow == 0 || sentence->grow == step) && grew != 0)
		return work_next(h, sentence, next, before + grew);
	if (!as_said || h->cloth.rows->len < 4 || here == 0 || more == 0 || here + more < 1) {
		tell_unsure(h, sentence);
		return false;
	}
	return work_next(h, sentence, with_plain(h, last->sentence, (unsigned)(here + more)), before + grew);
}

/* The last row up to FROM that has more stitches, or fewer, than the one below it; 0 for none. */
static guint32 find_shaped(const tb_hands *h, guint32 from)
{
	while (from > 1 && tb_hands_row(h, from)->stitches == tb_hands_row(h, from - 1)->stitches)
		from--;
	return from > 1 ? from : 0;
}

/* "increasing 6 sts in every 5th round": the even rows that lie between, and one that grows as the last two such did. */
static bool grow_spaced(tb_hands *h, const tb_sentence *sentence)
{
	guint32 last = h->cloth.rows->len - 1, shaped = find_shaped(h, last), earlier = shaped > 0 ? find_shaped(h, shaped - 1) : 0;
	const tb_made_row *row = tb_hands_row(h, shaped), *before = tb_hands_row(h, earlier);
	gint64 grew = shaped > 0 ? (gint64)row->stitches - row[-1].stitches : 0;
	gint64 adds = tb_hands_number(h, &sentence->grow_adds, 0);
	if (grew == 0 || row->sentence == NULL || row->taken || (!sentence->grow_now && last - shaped >= tb_rows_apart(h, sentence)) || (adds != 0 && adds != ABS(grew)) ||
		(sentence->grow_by != 0 && sentence->grow_by != grew) || grew * sentence->grow_way < 0) {
		tell_unsure(h, sentence);
		return false;
	}
	gint64 here = count_between(h, row), there = earlier > 0 ? count_between(h, before) : 0, step = 0;
	gint64 more = there > 0 ? here - there : grew > 0 ? 1 : -1;
	const tb_sentence *next = here == 0 && earlier > 0 ? follow_rows(h, before, row, &step) : NULL;
	bool alike = here == 0 && next == NULL && sentence->grow == 0 && fits_any(row);
	more = next != NULL ? step : more;
	if ((!alike && next == NULL && (here == 0 || more == 0 || here + more < 1)) || (sentence->grow != 0 && sentence->grow != more)) {
		tell_unsure(h, sentence);
		return false;
	}
	if (next == NULL)
		next = alike ? row->sentence : with_plain(h, row->sentence, (unsigned)(here + more));
	if (last - shaped + 1 < tb_rows_apart(h, sentence))
		tb_rows_even(h, sentence, tb_rows_apart(h, sentence) - 1 - (last - shaped));
	if (h->teller.row_fault || h->abandoned || h->working->stopped)
		return false;
	return work_next(h, sentence, next, (gint64)tb_hands_row(h, h->cloth.rows->len - 1)->stitches + grew);
}

/* How many rows of this part have more stitches than the one below, or fewer where the last that is shaped has. */
static unsigned count_shaped(const tb_hands *h)
{
	guint32 last = find_shaped(h, h->cloth.rows->len - 1);
	unsigned many = 0;
	bool fewer = last > 0 && tb_hands_row(h, last)->stitches < tb_hands_row(h, last - 1)->stitches;
	for (guint32 row = last; row > MAX(h->labels.before, 1); row--) {
		guint32 here = tb_hands_row(h, row)->stitches, below = tb_hands_row(h, row - 1)->stitches;
		many += fewer ? here < below : here > below;
	}
	return many;
}

static bool is_reached(const tb_hands *h, const tb_sentence *sentence, guint32 made)
{
	unsigned asked = tb_hands_number(h, &sentence->times, 1);
	switch (sentence->until) {
	case TB_REPEAT_OVER:
		return made > sentence->last - sentence->first;
	case TB_REPEAT_TIMES:
		return made >= asked;
	case TB_REPEAT_TOTAL:
		return tb_rows_last(h) >= asked + h->labels.before;
	case TB_REPEAT_COUNT:
		return tb_rows_counted(h, sentence) == asked;
	case TB_REPEAT_GROWN:
		return (sentence->grown_more ? made : count_shaped(h)) >= asked;
	case TB_REPEAT_BETWEEN:
		return count_between(h, tb_hands_row(h, h->cloth.rows->len - 1)) == asked;
	case TB_REPEAT_EDGE:
	case TB_REPEAT_PATTERN:
		return made > 0;
	case TB_REPEAT_SECTIONS:
	case TB_REPEAT_SECTION:
	case TB_REPEAT_MEASURES:
	case TB_REPEAT_MATCH:
		break;
	}
	return true;
}

/* Whether the last row has gone past the count it should come to. */
static bool is_passed(const tb_hands *h, const tb_sentence *sentence)
{
	const tb_made_row *last = tb_hands_row(h, h->cloth.rows->len - 1);
	unsigned asked = tb_hands_number(h, &sentence->times, 1);
	guint32 shaped = find_shaped(h, h->cloth.rows->len - 1);
	bool fewer = shaped > 0 && tb_hands_row(h, shaped)->stitches < tb_hands_row(h, shaped - 1)->stitches;
	unsigned has = sentence->until == TB_REPEAT_COUNT ? tb_rows_counted(h, sentence) :
		sentence->until == TB_REPEAT_BETWEEN ? count_between(h, last) : asked;
	return fewer ? has < asked : has > asked;
}

/*
 * "Continue increasing in this way until the shawl is large enough": how many rows these are nobody knows, so none is
 * worked; the last row must have grown as it is said. MORE: the COUNT sentences behind it, which may work nothing.
 */
bool tb_rows_grow_on(tb_hands *h, const tb_sentence *sentence, const tb_sentence *const *more, unsigned count)
{
	if (!sentence->grows || (sentence->until != TB_REPEAT_MEASURES && sentence->until != TB_REPEAT_PATTERN) ||
		sentence->grow != 0 || sentence->claim_count > 0 || h->cloth.rows->len < 3)
		return false;
	for (unsigned i = 0; i < count; i++) {
		if (more[i]->kind != TB_SENTENCE_ROWS || more[i]->claim_count > 0)
			return false;
		for (unsigned k = 0; k < more[i]->acts.count; k++)
			if (is_work(&more[i]->acts.acts[k]))
				return false;
	}
	const tb_made_row *last = tb_hands_row(h, h->cloth.rows->len - 1);
	gint64 grew = (gint64)last->stitches - last[-1].stitches;
	if (grew == 0 || grew * sentence->grow_way < 0 || (sentence->grow_by != 0 && sentence->grow_by != grew))
		return false;
	tb_hands_tell(h, TB_NOTE, "rows-again-open", sentence->span, NULL,
		"how often is not said: these rows go on as long as the maker likes");
	return true;
}

/* "to the length you like": once shows how they go on, where nothing comes behind that must fit. */
static bool is_open_end(const tb_sentence *sentence)
{
	return sentence->until == TB_REPEAT_PATTERN && sentence->wished && !sentence->often_unsaid;
}

bool tb_rows_go_on_growing(tb_hands *h, const tb_sentence *sentence)
{
	const tb_made_row *last = tb_hands_row(h, h->cloth.rows->len - 1);
	gint64 more;
	return sentence->alike && sentence->within == NULL && tb_rows_apart(h, sentence) < 2 && h->cloth.rows->len > 3 && last->stitches != last[-1].stitches &&
		(gint64)last->stitches - last[-1].stitches == (gint64)last[-1].stitches - last[-2].stitches && follow(h, &more) != NULL;
}

/*
 * "Increase on every 3rd round until Rnd 24": the rows behind BEFORE up to that one, the last of them even where no more
 * than some of those between two increases are left.
 */
static void grow_to_row(tb_hands *h, const tb_sentence *sentence, guint32 before)
{
	guint32 last = sentence->until == TB_REPEAT_OVER ? before + sentence->last - sentence->first + 1 :
		tb_hands_number(h, &sentence->times, 1) + h->labels.before;
	while (tb_rows_last(h) < last && !h->abandoned && !h->working->stopped) {
		guint32 row = h->cloth.rows->len - 1, shaped = find_shaped(h, row), left = last - tb_rows_last(h);
		if (shaped > 0 && left < tb_rows_apart(h, sentence) - MIN(row - shaped, tb_rows_apart(h, sentence))) {
			tb_rows_even(h, sentence, left);
			return;
		}
		if (!grow_spaced(h, sentence))
			return;
	}
}

void tb_rows_grow(tb_hands *h, const tb_sentence *sentence)
{
	guint32 made = 0;
	bool spaced = tb_rows_apart(h, sentence) > 1 || sentence->grow_now;
	if (spaced && (sentence->until == TB_REPEAT_OVER || sentence->until == TB_REPEAT_TOTAL)) {
		grow_to_row(h, sentence, tb_rows_last(h));
		return;
	}
	if (sentence->until == TB_REPEAT_MEASURES || (sentence->until == TB_REPEAT_PATTERN && !is_open_end(sentence))) {
		tb_hands_give_up(h, "not-worked", sentence->span, "Say how often, or until how many sts.",
			"how often this is worked is not said");
		return;
	}
	while (!is_reached(h, sentence, made) && !h->working->stopped) {
		/* "inc 4 sts on next and every alt round" */
		guint32 row = h->cloth.rows->len - 1;
		if (made == 0 && spaced && sentence->shapes_next && row - find_shaped(h, row) + 1 != tb_rows_apart(h, sentence)) {
			tell_unsure(h, sentence);
			return;
		}
		if (made++ == MOST_ROWS_TO_COUNT || is_passed(h, sentence)) {
			tb_hands_tell(h, TB_ERROR, "count-claimed", sentence->span, "Check the count, or the rows.",
				"these rows never come to it");
			return;
		}
		if (!(spaced ? grow_spaced : grow_row)(h, sentence))
			return;
	}
}
