/*
 * Rows that are worked again: so many times, over so many rows, or until the piece is long enough.
 */
#include "account/account.h"
#include "acts/anchor.h"
#include "fabric/measure.h"
#include "hands/row.h"
#include "hands/taken.h"
#include "places/mark.h"
#include "places/sections.h"
#include "rows/choose.h"
#include "rows/in_pattern.h"
#include "rows/other_side.h"
#include "rows/rows.h"
#include "rows/rows_end.h"
#include "rows/since.h"
#include "rows/vary.h"

#include <math.h>

/* Counts that rows come to at all they come to within so many. */
#define MOST_ROWS_TO_COUNT 1000u

/* The rows a repeat works again: FIRST to LAST as indices into rows. */
typedef struct {
	guint32 first, count;
	bool down; /* "Rows 3 and 2": the last of them first */
} repeated;

/* Which row is worked again Ith. */
static guint32 nth_of(const repeated *rows, guint32 i)
{
	guint32 at = i % rows->count;
	return rows->first + (rows->down ? rows->count - 1 - at : at);
}

/* "Rep from * to * 6 more times", "Rep from * 6 more times": the rows from the star on, to where the other stands. */
static bool find_block(tb_hands *h, const tb_sentence *sentence, repeated *rows)
{
	guint32 first = h->labels.block, end = sentence->repeat_block > 1 ? h->labels.block_end : h->cloth.rows->len;
	if (first > 0 && end > first) {
		*rows = (repeated){first, end - first, false};
		return true;
	}
	tb_hands_tell(h, TB_ERROR, "row-missing", sentence->repeat_span, "Write the stars where those rows begin and end.",
		"no stars stand around rows above this");
	return false;
}

static bool find_repeated(tb_hands *h, const tb_sentence *sentence, repeated *rows)
{
	if (sentence->repeat_block > 0)
		return find_block(h, sentence, rows);
	guint32 first = tb_rows_called(h, sentence->repeat_first), last = tb_rows_called(h, sentence->repeat_last), part;
	if (sentence->repeat_part != NULL && tb_rows_find_part(h, sentence->repeat_part, &part)) {
		first = part + sentence->repeat_first;
		last = part + sentence->repeat_last;
	}
	guint32 back = tb_hands_number(h, &sentence->back_in, sentence->repeat_back), made = MAX(h->cloth.rows->len, 1) - 1;
	if (back > 0 && back <= made) {
		*rows = (repeated){h->cloth.rows->len - back, back, false};
		if (sentence->repeat_nth > 0)
			*rows = (repeated){nth_of(rows, sentence->repeat_nth - 1), 1, false};
		return true;
	}
	if (back > 0) {
		tb_hands_tell(h, TB_ERROR, "row-missing", sentence->repeat_span,
			"Write those rows before they are repeated.", "%u row%s to repeat, and there %s %u", back,
			back == 1 ? " is" : "s are", made == 1 ? "is" : "are", made);
		return false;
	}
	if (sentence->repeat_of != NULL) {
		for (guint32 i = made; i > 0; i--) {
			const tb_sentence *words = tb_hands_row(h, i)->sentence;
			if (words != NULL && words->span.start == sentence->repeat_of->span.start) {
				*rows = (repeated){i, 1, false};
				return true;
			}
		}
		tb_hands_tell(h, TB_ERROR, "row-missing", sentence->repeat_span,
			"Write that row before it is repeated.", "no row of this name is worked in this size");
		return false;
	}
	guint32 begin = tb_rows_find_from(h, first), end = tb_rows_find_from(h, last + 1);
	if (last > tb_rows_last(h) || begin >= end) {
		tb_hands_tell(h, TB_ERROR, "row-missing", sentence->repeat_span,
			"Write that row before it is repeated.", "there is no row %u to repeat",
			(last > tb_rows_last(h) ? MAX(first, tb_rows_last(h) + 1) : first) -
				(sentence->repeat_last >= h->labels.from ? h->labels.before : 0));
		return false;
	}
	*rows = (repeated){begin, end - begin, sentence->repeat_down};
	return true;
}

/* Whether the row at INDEX is taken at its word: on other stitches its count is another, and only its words would tell which. */
static bool is_unsure(const tb_hands *h, guint32 index)
{
	return index > 0 && tb_hands_row(h, index)->taken &&
		tb_hands_row(h, index - 1)->stitches != tb_hands_row(h, h->cloth.rows->len - 1)->stitches;
}

static void repeat_rows(
	tb_hands *h, const tb_sentence *sentence, const repeated *rows, guint32 many)
{
	/* Told at the repeat, and before it is worked. Row 0 is the foundation. */
	if (many > TB_LIMIT_PIECE_ROWS + 1 - MIN(h->cloth.rows->len, TB_LIMIT_PIECE_ROWS + 1)) {
		tb_hands_give_up(h, "limit-rows", sentence->span, "Check how often the rows are repeated.",
			"a piece may have %u rows", TB_LIMIT_PIECE_ROWS);
		h->working->stopped = true;
		return;
	}
	for (guint32 i = 0; i < many && !h->abandoned && !h->working->stopped; i++) {
		/* copied: the array grows while the row is worked */
		guint32 again = nth_of(rows, i);
		tb_made_row row = *tb_hands_row(h, again);
		bool unsure = is_unsure(h, again);
		const tb_sentence *worked = row.sentence;
		if (sentence->loops_otherwise && worked != NULL)
			worked = tb_vary_sentence(h, worked, sentence);
		worked = tb_vary_kinds(h, worked, again);
		if (i == 0 && sentence->begin.count > 0 && worked != NULL)
			worked = tb_vary_begun(h, worked, &sentence->begin);
		if (!unsure)
			tb_choose_again(h, worked, tb_rows_last(h) + 1, row.written);
		if (unsure || h->now.unjudged) {
			tb_taken_stop(h);
			return;
		}
	}
}

/* The rows the gauge was counted over: the first repeat of the piece, or else these. */
static repeated gauge_rows(const tb_hands *h, const repeated *rows)
{
	if (h->cloth.repeats->len > 0) {
		const tb_row_repeat *repeat = &g_array_index(h->cloth.repeats, tb_row_repeat, 0);
		guint32 begin = tb_rows_find_from(h, repeat->first), end = tb_rows_find_from(h, repeat->last + 1);
		if (begin < end)
			return (repeated){begin, end - begin, false};
	}
	return *rows;
}

/* All rows so far in millimetres; false where the gauge gives no rows. */
static bool measure_rows(tb_hands *h, const repeated *rows)
{
	repeated over = gauge_rows(h, rows);
	tb_stitches cloth = tb_hands_stitches(h);
	return tb_measure_rows(h->working->pattern, &cloth, (tb_made_row *)h->cloth.rows->data, h->cloth.rows->len,
		(tb_counted_over){over.first, over.first + over.count - 1}) > 0;
}

/* The piece that SENTENCE goes by, "as Back"; NULL, told, where it is not worked yet. */
static const tb_fabric *find_other(tb_hands *h, const tb_sentence *sentence)
{
	const tb_pattern *pattern = h->working->pattern;
	int other = tb_pattern_find_piece(pattern, sentence->same_as_piece);
	tb_hands_look(h, tb_pattern_count_pieces(pattern));
	if (other >= 0 && (unsigned)other < h->piece)
		return tb_worked_fabric(h->working->worked, (unsigned)other, h->size);
	tb_hands_tell(h, TB_ERROR, "piece-missing", sentence->measure_span, "Write that piece before this one.",
		"there is no piece called %s to measure by", sentence->same_as_piece);
	return NULL;
}

static bool find_asked(tb_hands *h, const tb_sentence *sentence, double *asked_mm)
{
	*asked_mm = 0;
	if (sentence->measure_mm != NULL && sentence->measure_count > 0)
		*asked_mm = sentence->measure_mm[sentence->measure_count == 1
											 ? 0
											 : MIN(h->size, sentence->measure_count - 1)];
	else if (sentence->same_as_piece != NULL) {
		const tb_fabric *fabric = find_other(h, sentence);
		if (fabric == NULL)
			return false;
		const tb_made_row *match = tb_since_match(h, sentence);
		*asked_mm = match != NULL ? match->top_mm : sentence->same_part == NULL ? fabric->length_mm : 0;
		if (match == NULL && sentence->same_part != NULL)
			tb_hands_tell(h, TB_ERROR, "row-missing", sentence->measure_span, "Name a heading that stands over its rows.",
				"nothing in %s is called so", sentence->same_as_piece);
	}
	return *asked_mm > 0;
}

/* Whether ROW is what is called row NUMBER, 0: any. */
static bool is_called(const tb_made_row *row, guint32 number)
{
	return number == 0 || row->written == number || row->number == number;
}

/* Whether one of ROWS is row NUMBER: a repeat that is to end with a row is not done before it by a row of none of its own. */
static bool has_row(const tb_hands *h, const repeated *rows, guint32 number)
{
	for (guint32 i = 0; i < rows->count; i++) {
		if (is_called(tb_hands_row(h, rows->first + i), number))
			return true;
	}
	return false;
}

/* Whether the piece may end after MANY more rows. */
static bool may_end(
	const tb_hands *h, const tb_sentence *sentence, const repeated *rows, guint32 many)
{
	const tb_made_row *last = tb_hands_row(h, h->cloth.rows->len - 1);
	const tb_made_row *end =
		many == 0 ? last : tb_hands_row(h, nth_of(rows, many - 1));
	tb_side side = many % 2 == 0 ? last->side : tb_side_other(last->side);
	guint32 ending = tb_rows_called(h, sentence->ending_row);
	return is_called(end, ending) && (many > 0 || has_row(h, rows, ending)) &&
		   (sentence->ending_side == TB_SIDE_UNSAID || side == sentence->ending_side);
}

/* How high the last row is above the row BASE, mm. */
static double length_above(const tb_hands *h, guint32 base)
{
	return tb_hands_row(h, h->cloth.rows->len - 1)->top_mm - tb_hands_row(h, base)->top_mm;
}

/* How many more rows bring the length above BASE nearest to what is asked; TB_NONE when none can. */
static guint32 rows_to_length(
	tb_hands *h, const tb_sentence *sentence, const repeated *rows, guint32 base, double asked_mm)
{
	double length = length_above(h, base), best_off = INFINITY, cycle = 0;
	for (guint32 i = 0; i < rows->count; i++)
		cycle += tb_hands_row(h, rows->first + i)->height_mm;
	guint32 best = TB_NONE, most = TB_LIMIT_PIECE_ROWS - MIN(h->cloth.rows->len, TB_LIMIT_PIECE_ROWS);
	/* two repeats beyond the length, and every ending there is has been seen */
	for (guint32 many = 0; many <= most; many++) {
		tb_hands_look(h, 1);
		double off = fabs(length - asked_mm);
		if (off < best_off - 1e-9 && may_end(h, sentence, rows, many)) {
			best = many;
			best_off = off;
		}
		if (length > asked_mm + 2 * cycle)
			break;
		length += tb_hands_row(h, nth_of(rows, many))->height_mm;
	}
	return best;
}

/* A length that was reached before the repeat began. */
static void warn_passed(tb_hands *h, const tb_sentence *sentence, double length, double asked_mm)
{
	char measured[G_ASCII_DTOSTR_BUF_SIZE];
	g_ascii_formatd(measured, sizeof measured, "%.1f", length / 10);
	if (length > asked_mm + 0.5)
		tb_hands_tell(h, TB_WARNING, "measure-passed", sentence->measure_span,
			"Ask for a greater length, or leave the repeat out.",
			"%s measures %s cm here already", sentence->since == TB_SINCE_ARMHOLE ? "the armhole" :
			sentence->since == TB_SINCE_BEGIN ? "the piece" : "it", measured);
}

/* The row that the length begins above; TB_NONE, told, where the rows do not show it. */
static guint32 find_base(tb_hands *h, const tb_sentence *sentence, const repeated *rows)
{
	/* what is even was worked once already; "Rep Row 2 for 30 cm" at a piece's beginning is all of it */
	bool begins = rows->first <= 2 && rows->first + rows->count >= h->cloth.rows->len;
	guint32 here = sentence->even != NULL && sentence->until == TB_REPEAT_MEASURES ? rows->first - 1 : begins ? 0 : h->cloth.rows->len - 1;
	guint32 base = tb_since_find(h, sentence, here);
	tb_hands_look(h, h->cloth.rows->len);
	if (base != TB_NONE && (sentence->since == TB_SINCE_BEGIN || sentence->same_as_piece == NULL))
		return base;
	tb_hands_tell(h, TB_WARNING, "measure-from", sentence->measure_span.end > 0 ? sentence->measure_span : sentence->span,
		"Say how many rows are worked, or how long the piece is from its beginning.",
		"how many rows this takes is not known: the rows do not show where it is measured from");
	tb_labels_open(&h->labels);
	return TB_NONE;
}

/*
 * "until same length as Back to shoulder": rows come to exactly that height, whatever the gauge is, where they are as
 * high as those there. False where they do not.
 */
static bool repeat_to_match(tb_hands *h, const tb_sentence *sentence, const repeated *rows)
{
	const tb_made_row *match = sentence->since == TB_SINCE_BEGIN && !h->labels.unsure ? tb_since_match(h, sentence) : NULL;
	double top = tb_hands_row(h, h->cloth.rows->len - 1)->top, asked = match != NULL ? match->top : 0;
	guint32 many = 0;
	while (match != NULL && top < asked - 0.01 && many < TB_LIMIT_PIECE_ROWS)
		top += tb_hands_row(h, nth_of(rows, many++))->height;
	tb_hands_look(h, many);
	if (match == NULL || fabs(top - asked) > 0.01 || !may_end(h, sentence, rows, many))
		return false;
	repeat_rows(h, sentence, rows, many);
	return true;
}

/* "until you have as many rows as Back" */
static void repeat_to_rows(tb_hands *h, const tb_sentence *sentence, const repeated *rows)
{
	const tb_fabric *other = find_other(h, sentence);
	const tb_made_row *match = other != NULL ? tb_since_match(h, sentence) : NULL;
	guint32 asked = 0, done = tb_since_count(h, 0);
	for (guint32 i = match != NULL ? (guint32)(match - other->rows) : 0; i > 0; i = other->rows[i].stands)
		asked++;
	if (other == NULL)
		return;
	if (match == NULL || other->uncounted || h->labels.unsure) {
		tb_hands_tell(h, TB_WARNING, "measure-from", sentence->measure_span, "Say how many rows are worked.",
			"how many rows this takes is not known: not all the rows were understood");
		tb_labels_open(&h->labels);
	} else if (asked < done || !may_end(h, sentence, rows, asked - done)) {
		tb_hands_tell(h, TB_ERROR, "rows-again-times", sentence->measure_span, "Check how many rows there are.",
			"%s has %u rows, and here %s %u", sentence->same_as_piece, asked, done == 1 ? "is" : "are", done);
	} else {
		repeat_rows(h, sentence, rows, asked - done);
	}
}

static void repeat_to_length(tb_hands *h, const tb_sentence *sentence, const repeated *rows)
{
	if (sentence->same_rows) {
		repeat_to_rows(h, sentence, rows);
		return;
	}
	double asked_mm;
	tb_hands_look(h, (guint64)h->cloth.rows->len + rows->count);
	if (!tb_hands_may_go_on(h, sentence->span))
		return;
	if (repeat_to_match(h, sentence, rows))
		return;
	if (!measure_rows(h, rows)) {
		tb_hands_tell(h, TB_WARNING, "measure-no-gauge", sentence->measure_span,
			"Give the gauge with its rows: \"Gauge: 13 sts and 9 rows = 10 cm\".",
			"how many rows this length takes is not known: the pattern gives no row gauge");
		tb_labels_open(&h->labels);
		return;
	}
	guint32 base = find_base(h, sentence, rows);
	if (base == TB_NONE || !find_asked(h, sentence, &asked_mm))
		return;
	warn_passed(h, sentence, length_above(h, base), asked_mm);
	guint32 many = rows_to_length(h, sentence, rows, base, asked_mm);
	if (many == TB_NONE) {
		tb_hands_tell(h, TB_ERROR, "measure-ending", sentence->span,
			"Say a row or side that the repeat can end with.",
			"this repeat never ends with the row it is said to end with");
		return;
	}
	repeat_rows(h, sentence, rows, many);
	measure_rows(h, rows);
	tb_reached reached = {
		.asked_mm = asked_mm, .reached_mm = length_above(h, base), .row = tb_rows_last(h)};
	g_array_append_val(h->cloth.reached, reached);
	tb_labels_open(&h->labels);
	h->labels.side_open = sentence->ending_side == TB_SIDE_UNSAID && sentence->ending_row == 0;
}

/* "until there are 20 rows", "until 24 rows have been worked from the divide" */
static void repeat_to_total(tb_hands *h, const tb_sentence *sentence, const repeated *rows)
{
	guint64 asked = tb_hands_number(h, &sentence->times, 1), done = tb_rows_last(h) - MIN(h->labels.before, tb_rows_last(h));
	/* rounds for larger sizes were left out: those that are there count, whatever their numbers are */
	if (h->labels.has_gaps && h->labels.before == 0 && h->cloth.rows->len > 1)
		done = h->cloth.rows->len - 1;
	if (h->labels.unsure && (sentence->even == NULL || asked == 0)) {
		tb_taken_stop(h);
		return;
	}
	/* only numbers that begin again tell where the pattern does, or a pattern that nothing goes before */
	if (sentence->counted_part && h->labels.before == 0 && !h->labels.unsure && (sentence->even != NULL || rows->first > 1)) {
		tb_hands_give_up(h, "rows-again-times", sentence->span, "Say how many rows there are in all, or by number: until Row 52 is done.",
			"from which row these are counted the rows do not tell");
		return;
	}
	if (sentence->counted_all && h->cloth.rows->len > 1)
		done = tb_since_count(h, 0);
	if (h->labels.unsure && sentence->since == TB_SINCE_BEGIN) {
		/* at the least one of them is even */
		tb_taken_number(h, (guint32)MIN(asked - 1 + h->labels.before, G_MAXINT32));
		done = MIN(done, asked);
		done = MAX(done, asked - 1);
	} else if (h->labels.unsure) {
		done = asked - 1;
	} else if (sentence->since != TB_SINCE_BEGIN) {
		guint32 base = find_base(h, sentence, rows);
		if (base == TB_NONE)
			return;
		done = tb_since_count(h, base);
	}
	if (asked < done)
		tb_hands_tell(h, TB_ERROR, "rows-again-times", sentence->span, "Check how many rows there are.",
			"%u rows are there already", (unsigned)done);
	else if (sentence->even != NULL)
		tb_rows_even(h, sentence, (guint32)MIN(asked - done, TB_LIMIT_PIECE_ROWS + 1));
	else
		repeat_rows(h, sentence, rows, (guint32)MIN(asked - done, TB_LIMIT_PIECE_ROWS + 1));
}

/* "until you have 48 sts": as many rows as it takes, and no fewer. */
static void repeat_to_count(tb_hands *h, const tb_sentence *sentence, const repeated *rows)
{
	unsigned asked = tb_hands_number(h, &sentence->times, 1);
	for (guint32 i = 0; i < MOST_ROWS_TO_COUNT && !h->abandoned && !h->working->stopped; i++) {
		if (tb_rows_counted(h, sentence) == asked) {
			tb_labels_open(&h->labels);
			return;
		}
		tb_made_row row = *tb_hands_row(h, nth_of(rows, i));
		if (is_unsure(h, nth_of(rows, i))) {
			tb_taken_stop(h);
			return;
		}
		gint64 stood = tb_hands_row(h, h->cloth.rows->len - 1)->stitches;
		tb_choose_again(h, row.sentence, tb_rows_last(h) + 1, row.written);
		if (h->teller.row_fault)
			return;
		gint64 grew = tb_hands_row(h, h->cloth.rows->len - 1)->stitches - stood;
		if ((sentence->grow_by != 0 && grew != sentence->grow_by) || (sentence->grow_way != 0 && grew * sentence->grow_way <= 0)) {
			tb_hands_give_up(h, "not-worked", sentence->span, "Write the next rows out.",
				"how these rows go on is not sure: the rows before do not grow so");
			return;
		}
	}
	tb_hands_tell(h, TB_ERROR, "count-claimed", sentence->span, "Check the count, or the rows.",
		"these rows never come to %u sts", asked);
}

/*
 * Whether all sections of STITCH in ROW, those that stand side by side, are COUNT long; COUNT 0: of
 * several. False where it has none.
 */
static bool has_sections(const tb_hands *h, const tb_made_row *row, const tb_stitch *stitch, unsigned count)
{
	unsigned run = 0, sections = 0;
	for (guint32 i = 0; i <= row->count; i++) {
		if (i < row->count && tb_hands_made(h, row->first + i)->stitch == stitch->number) {
			run++;
			continue;
		}
		if (run > 0 && (count > 0 ? run != count : run < 2))
			return false;
		sections += run > 0;
		run = 0;
	}
	return sections > 0;
}

/* "until there are 6 rounds of dc and 14 dc in each section" */
static void repeat_to_section(tb_hands *h, const tb_sentence *sentence, const repeated *rows)
{
	unsigned asked = tb_hands_number(h, &sentence->times, 1), having = 0;
	guint32 i = 0;
	while (!has_sections(h, tb_hands_row(h, h->cloth.rows->len - 1), sentence->section_stitch, asked)) {
		tb_made_row row = *tb_hands_row(h, nth_of(rows, i));
		/* sections grow by a stitch a row at the least */
		bool more = i++ < MIN(asked, MOST_ROWS_TO_COUNT);
		if (more)
			tb_choose_again(h, row.sentence, tb_rows_last(h) + 1, row.written);
		if (h->teller.row_fault || h->abandoned || h->working->stopped)
			return;
		if (!more) {
			tb_hands_tell(h, TB_ERROR, "count-claimed", sentence->span, "Check the count, or the rows.",
				"these rows never come to %u %s in each section", asked,
				tb_hands_term(h, sentence->section_stitch));
			return;
		}
	}
	for (guint32 at = h->cloth.rows->len; at-- > 1 && has_sections(h, tb_hands_row(h, at), sentence->section_stitch, 0);)
		having++;
	if (sentence->section_rows > 0 && having != sentence->section_rows)
		tb_hands_tell(h, TB_ERROR, "count-claimed", sentence->span, "Check the count, or the rows.",
			"%u rows have sections of %s here, not %u", having, tb_hands_term(h, sentence->section_stitch),
			sentence->section_rows);
}

/* Whether enough rows are worked, DONE of them; what cannot come out is told. */
static bool are_enough(tb_hands *h, const tb_sentence *sentence, guint32 done)
{
	const tb_made_row *last = tb_hands_row(h, h->cloth.rows->len - 1);
	unsigned asked = tb_hands_number(h, &sentence->times, 1);
	switch (sentence->until) {
	case TB_REPEAT_SECTIONS:
		return tb_sections_are(h, last, sentence->section, asked);
	case TB_REPEAT_COUNT:
		return tb_rows_counted(h, sentence) == asked;
	case TB_REPEAT_OVER:
		return done >= tb_row_said(h, sentence);
	case TB_REPEAT_TIMES:
		return done >= asked;
	default:
		tb_hands_give_up(h, "not-worked", sentence->span, "Say how often, or until how many sts.",
			"how often this is worked is not said");
		return true;
	}
}

/* "Rep Row 4 having 1 more dc in each section until there are 8": each like the one before it. */
static void work_varied(tb_hands *h, const tb_sentence *sentence, const repeated *rows)
{
	guint32 begun = h->cloth.rows->len;
	for (guint32 i = 0; i < MOST_ROWS_TO_COUNT && !h->abandoned && !h->working->stopped; i++) {
		if (are_enough(h, sentence, i))
			return;
		if (!tb_vary_row(h, sentence, i < rows->count ? nth_of(rows, i) : begun + i - rows->count))
			return;
	}
	if (!h->abandoned && !h->working->stopped)
		tb_hands_tell(h, TB_ERROR, "count-claimed", sentence->span, "Check the count, or the rows.",
			"these rows never come to %u in each section", tb_hands_number(h, &sentence->times, 1));
}

/* "Rep last row until there are 8 dc in each section": rows that grow by their own words. */
static void repeat_to_sections(tb_hands *h, const tb_sentence *sentence, const repeated *rows)
{
	unsigned asked = tb_hands_number(h, &sentence->times, 1);
	for (guint32 i = 0; !h->abandoned && !h->working->stopped; i++) {
		const tb_made_row *last = tb_hands_row(h, h->cloth.rows->len - 1);
		if (tb_sections_are(h, last, sentence->section, asked))
			return;
		if (i == MOST_ROWS_TO_COUNT || tb_sections_longest(h, last, sentence->section) > asked)
			break;
		tb_made_row row = *tb_hands_row(h, nth_of(rows, i));
		tb_choose_again(h, row.sentence, tb_rows_last(h) + 1, row.written);
		if (h->teller.row_fault)
			return;
	}
	if (!h->abandoned && !h->working->stopped)
		tb_hands_tell(h, TB_ERROR, "count-claimed", sentence->span, "Check the count, or the rows.",
			"these rows never come to %u in each section", asked);
}

/* What comes behind rows that are repeated nobody knows how often has its count where these keep theirs. */
static void check_often(tb_hands *h, const tb_sentence *sentence, const repeated *rows)
{
	guint32 last = rows->first + rows->count - 1;
	if (sentence->often_unsaid && rows->first > 1 &&
		tb_hands_row(h, last)->stitches != tb_hands_row(h, rows->first - 1)->stitches)
		tb_hands_tell(h, TB_ERROR, "rows-again-times", sentence->span,
			"As in \"Rep Rows 3-6 4 times\", \"… until piece measures 50 cm\".",
			"how often these rows are worked is not said");
	else if (sentence->often_open)
		tb_hands_tell(h, TB_NOTE, "rows-again-open", sentence->span, NULL,
			"how often is not said: these rows go on as long as the maker likes");
}

/* "Rep last 4 (3, –) rows 2 (1, –) times": whether neither is of this size. */
static bool repeats_none(const tb_hands *h, const tb_sentence *sentence)
{
	return sentence->back_in.count > 1 && tb_hands_number(h, &sentence->back_in, 1) == 0 &&
		sentence->times.count > 1 && tb_hands_number(h, &sentence->times, 1) == 0;
}

/* "Work dec rnd 3 times", of a row that is told by name; "work plain rnds until there are 34" works it once, and then again. */
static void work_told(tb_hands *h, const tb_sentence *sentence)
{
	bool total = sentence->until == TB_REPEAT_TOTAL;
	guint32 next = tb_rows_last(h) + 1;
	if (!total && sentence->until != TB_REPEAT_MEASURES) {
		tb_rows_told(h, sentence);
		return;
	}
	/* "until there are 34 rounds", which the rows before have come to */
	if (total && sentence->since == TB_SINCE_BEGIN && !h->labels.unsure &&
		next - 1 - MIN(h->labels.before, next - 1) == tb_hands_number(h, &sentence->times, 1))
		return;
	tb_choose_row(h, sentence->repeat_of, next, next, false, true);
	if (h->teller.row_fault || h->abandoned || h->working->stopped)
		return;
	repeated rows = {h->cloth.rows->len - 1, 1, false};
	if (total)
		repeat_to_total(h, sentence, &rows);
	else
		repeat_to_length(h, sentence, &rows);
}

/* "until all sts of the body are used, ending with a Row 2": the rows behind the last that is joined, up to that one. */
static void end_on(tb_hands *h, const tb_sentence *sentence, const repeated *rows)
{
	guint32 ending = tb_rows_called(h, sentence->ending_row), first = tb_hands_row(h, rows->first)->number;
	const tb_made_row *last = tb_hands_row(h, h->cloth.rows->len - 1);
	bool ends = sentence->ending_row == 0 || last->written == ending || last->number == ending;
	if (!ends && ending >= first && ending - first < rows->count && !h->abandoned && !h->working->stopped)
		repeat_rows(h, sentence, rows, ending - first + 1);
}

static void work_again(tb_hands *h, const tb_sentence *sentence)
{
	repeated rows;
	h->row = h->cloth.rows->len;
	h->teller.row_fault = false;
	if (sentence->until == TB_REPEAT_MATCH) {
		tb_other_side_work(h, sentence);
		return;
	}
	if (sentence->placed != NULL) {
		tb_rows_placed(h, sentence);
		return;
	}
	if (sentence->repeat_of != NULL && sentence->repeat_of->only_told) {
		work_told(h, sentence);
		return;
	}
	if (repeats_none(h, sentence) || !find_repeated(h, sentence, &rows))
		return;
	if (sentence->change_count > 0 || sentence->ends_otherwise || sentence->last_goes != NULL) {
		work_varied(h, sentence, &rows);
		return;
	}
	guint32 before = h->cloth.rows->len;
	guint index = h->cloth.repeats->len;
	bool named = sentence->repeat_back == 0 && sentence->repeat_part == NULL && sentence->repeat_of == NULL;
	tb_row_repeat repeat = {
		.first = named ? tb_rows_called(h, sentence->repeat_first) : tb_hands_row(h, rows.first)->number,
		.last = named ? tb_rows_called(h, sentence->repeat_last) :
			sentence->repeat_of != NULL ? tb_hands_row(h, rows.first)->number : tb_rows_last(h),
		.times = 1};
	/* rows that go down are no block that can be drawn once, nor are those of another part, nor is one of several */
	bool block = !rows.down && sentence->repeat_part == NULL && sentence->repeat_nth == 0;
	if (block)
		g_array_append_val(h->cloth.repeats, repeat);
	guint64 times;
	if (sentence->grows || tb_rows_go_on_growing(h, sentence)) {
		g_array_set_size(h->cloth.repeats, index);
		tb_rows_grow(h, sentence);
		return;
	}
	if (sentence->every.count > 0 && sentence->shaped == NULL) {
		g_array_set_size(h->cloth.repeats, index);
		tb_rows_spaced(h, sentence, rows.first);
		return;
	}
	if (sentence->track_count > 0) {
		g_array_set_size(h->cloth.repeats, index);
		tb_rows_tracked(h, sentence);
		return;
	}
	if (sentence->shaped != NULL) {
		g_array_set_size(h->cloth.repeats, index);
		if (sentence->until == TB_REPEAT_TIMES || sentence->until == TB_REPEAT_COUNT)
			tb_rows_shaped(h, sentence);
		else
			tb_hands_give_up(h, "not-worked", sentence->span, "Say how often, or until how many sts.",
				"how often this is worked is not said");
		return;
	}
	if (sentence->even != NULL && (sentence->until == TB_REPEAT_TIMES ||
		sentence->until == TB_REPEAT_OVER)) {
		times = sentence->until == TB_REPEAT_OVER ? tb_row_said(h, sentence) :
			tb_hands_number(h, &sentence->times, 1);
		g_array_set_size(h->cloth.repeats, index);
		tb_rows_even(h, sentence, (guint32)MIN(times, TB_LIMIT_PIECE_ROWS + 1));
		return;
	}
	if (sentence->even != NULL && sentence->until == TB_REPEAT_TOTAL) {
		g_array_set_size(h->cloth.repeats, index);
		repeat_to_total(h, sentence, &rows);
		return;
	}
	if (sentence->even != NULL) {
		/* what is even is worked once, unless it comes in turns, and then repeated */
		guint32 first = tb_rows_even_from(h, sentence);
		if (first == 0 || h->teller.row_fault || h->abandoned || h->working->stopped)
			return;
		rows = (repeated){first, h->cloth.rows->len - first, false};
	}
	switch (sentence->until) {
	case TB_REPEAT_OVER:
		if (sentence->first > 0)
			repeat_rows(h, sentence, &rows, tb_row_said(h, sentence));
		h->labels.by_size = h->labels.by_size || (sentence->last_in.count > 1 && !h->labels.is_open);
		h->labels.is_open = h->labels.is_open || sentence->last_in.count > 1;
		break;
	case TB_REPEAT_TIMES:
		times = (guint64)tb_hands_number(h, &sentence->times, 1) * rows.count;
		repeat_rows(h, sentence, &rows, (guint32)MIN(times, TB_LIMIT_PIECE_ROWS + 1));
		break;
	case TB_REPEAT_MEASURES:
		repeat_to_length(h, sentence, &rows);
		break;
	case TB_REPEAT_COUNT:
		repeat_to_count(h, sentence, &rows);
		break;
	case TB_REPEAT_SECTIONS:
		repeat_to_sections(h, sentence, &rows);
		break;
	case TB_REPEAT_SECTION:
		if (sentence->section_stitch != NULL)
			repeat_to_section(h, sentence, &rows);
		break;
	case TB_REPEAT_EDGE:
		if (tb_anchor_rows_left(h, sentence, rows.count) == 0)
			check_often(h, sentence, &rows);
		for (guint32 joined = 0; h->before.anchors > joined && !h->abandoned && !h->working->stopped;) {
			joined = h->before.anchors;
			times = tb_anchor_rows_left(h, sentence, rows.count);
			if (times > 0)
				repeat_rows(h, sentence, &rows, (guint32)MIN(times, TB_LIMIT_PIECE_ROWS + 1));
			if (times != rows.count)
				break;
		}
		end_on(h, sentence, &rows);
		break;
	case TB_REPEAT_TOTAL:
		repeat_to_total(h, sentence, &rows);
		break;
	case TB_REPEAT_PATTERN:
		check_often(h, sentence, &rows);
		break;
	case TB_REPEAT_BETWEEN:
	case TB_REPEAT_GROWN:
	case TB_REPEAT_MATCH:
		break;
	}
	if (block)
		g_array_index(h->cloth.repeats, tb_row_repeat, index).times = 1 + (h->cloth.rows->len - before) / rows.count;
}

/* "Dec 1 st at each end of next 0 (2, 3) rows. 60 (62, 64) sts": a size that works none of them has that count already. */
static bool is_never(const tb_hands *h, const tb_sentence *sentence)
{
	return sentence->until == TB_REPEAT_TIMES && h->cloth.rows->len > 1 && sentence->times.count > 1 &&
		tb_hands_number(h, &sentence->times, 1) == 0 && !sentence->shapes_next;
}

/* "Rep Rows 2-3 for pattern. (24 sts)": whether the rows that stand for all of them leave the count as it was. */
static bool keeps_count(tb_hands *h, const tb_sentence *sentence)
{
	repeated rows;
	return sentence->until == TB_REPEAT_PATTERN && h->cloth.rows->len > 1 && find_repeated(h, sentence, &rows) && rows.first > 1 &&
		tb_hands_row(h, rows.first + rows.count - 1)->stitches == tb_hands_row(h, rows.first - 1)->stitches;
}

void tb_rows_again(tb_hands *h, const tb_sentence *sentence)
{
	guint32 before = h->cloth.rows->len;
	/* "Row 4: As Row 2." behind row 2 */
	if (sentence->first > 1 && sentence->until == TB_REPEAT_OVER && sentence->repeat_part == NULL) {
		guint32 number = tb_rows_check_number(h, sentence);
		if (h->labels.unsure && h->cloth.rows->len > 0)
			tb_taken_number(h, number - 1);
	}
	work_again(h, sentence);
	/* "Rep Row 2 20 times. Mark both ends of the last row." */
	if (sentence->marks != NULL && h->cloth.rows->len > before && !h->abandoned && !h->teller.row_fault) {
		h->row = h->cloth.rows->len - 1;
		tb_mark_put(h, sentence->marks);
	}
	if (sentence->even != NULL)
		tb_taken_go_even(h, before);
	tb_rows_check_end(h, sentence);
	bool shown = h->cloth.rows->len == before && !h->teller.has_fault && (keeps_count(h, sentence) || is_never(h, sentence));
	if (shown)
		h->row = before - 1;
	if (sentence->claim_count > 0 && (h->cloth.rows->len > before || shown))
		tb_account_claims(h, sentence, MAX(h->cloth.rows->len - before, 1));
}
