/*
 * Rows that are worked again: so many times, over so many rows, or until the piece is long enough.
 */
#include "fabric/hands.h"
#include "fabric/measure.h"

#include <math.h>

/* The first row called NUMBER or more, as an index into rows; numbers only grow. */
static guint32 find_from(const tb_hands *h, guint32 number)
{
	guint32 low = 1, high = h->rows->len;
	while (low < high) {
		guint32 middle = low + (high - low) / 2;
		if (tb_hands_row(h, middle)->number < number)
			low = middle + 1;
		else
			high = middle;
	}
	return low;
}

/* The rows a repeat works again: FIRST to LAST as indices into rows. */
typedef struct {
	guint32 first, count;
} repeated;

static bool find_repeated(tb_hands *h, const tb_sentence *sentence, repeated *rows)
{
	guint32 first = sentence->repeat_first, last = sentence->repeat_last;
	guint32 begin = find_from(h, first), end = find_from(h, last + 1);
	if (last > tb_rows_last(h) || begin >= end) {
		tb_hands_tell(h, TB_ERROR, "row-missing", sentence->repeat_span,
			"Write that row before it is repeated.", "there is no row %u to repeat",
			last > tb_rows_last(h) ? MAX(first, tb_rows_last(h) + 1) : first);
		return false;
	}
	*rows = (repeated){begin, end - begin};
	return true;
}

static void repeat_rows(
	tb_hands *h, const tb_sentence *sentence, const repeated *rows, guint32 many)
{
	/* Told at the repeat, and before it is worked. Row 0 is the foundation. */
	if (many > TB_LIMIT_PIECE_ROWS + 1 - MIN(h->rows->len, TB_LIMIT_PIECE_ROWS + 1)) {
		tb_hands_give_up(h, "limit-rows", sentence->span, "Check how often the rows are repeated.",
			"a piece may have %u rows", TB_LIMIT_PIECE_ROWS);
		h->working->stopped = true;
		return;
	}
	for (guint32 i = 0; i < many && !h->abandoned && !h->working->stopped; i++) {
		/* copied: the array grows while the row is worked */
		tb_made_row row = *tb_hands_row(h, rows->first + i % rows->count);
		tb_rows_work_one(h, row.sentence, tb_rows_last(h) + 1, row.written, false, false);
	}
}

static double chain_mm(const tb_hands *h, const repeated *rows)
{
	g_autofree double *heights = g_new(double, rows->count);
	for (guint32 i = 0; i < rows->count; i++)
		heights[i] = tb_hands_row(h, rows->first + i)->height;
	return tb_measure_chain_mm(&h->working->pattern->gauge, heights, rows->count);
}

/* The rows the gauge was counted over: the first repeat of the piece, or else these. */
static repeated gauge_rows(const tb_hands *h, const repeated *rows)
{
	if (h->repeats->len > 0) {
		const tb_row_repeat *repeat = &g_array_index(h->repeats, tb_row_repeat, 0);
		guint32 begin = find_from(h, repeat->first), end = find_from(h, repeat->last + 1);
		if (begin < end)
			return (repeated){begin, end - begin};
	}
	return *rows;
}

static bool find_asked(tb_hands *h, const tb_sentence *sentence, double *asked_mm)
{
	const tb_pattern *pattern = h->working->pattern;
	*asked_mm = 0;
	if (sentence->measure_mm != NULL && sentence->measure_count > 0)
		*asked_mm = sentence->measure_mm[sentence->measure_count == 1
											 ? 0
											 : MIN(h->size, sentence->measure_count - 1)];
	else if (sentence->same_as_piece != NULL) {
		int other = tb_pattern_find_piece(pattern, sentence->same_as_piece);
		tb_hands_look(h, tb_pattern_count_pieces(pattern));
		if (other < 0 || (unsigned)other >= h->piece) {
			tb_hands_tell(h, TB_ERROR, "piece-missing", sentence->measure_span,
				"Write that piece before this one.", "there is no piece called %s to measure by",
				sentence->same_as_piece);
			return false;
		}
		*asked_mm = tb_worked_fabric(h->working->worked, (unsigned)other, h->size)->length_mm;
	}
	return *asked_mm > 0;
}

/* Whether the piece may end after MANY more rows. */
static bool may_end(
	const tb_hands *h, const tb_sentence *sentence, const repeated *rows, guint32 many)
{
	const tb_made_row *last = tb_hands_row(h, h->rows->len - 1);
	const tb_made_row *end =
		many == 0 ? last : tb_hands_row(h, rows->first + (many - 1) % rows->count);
	tb_side side = many % 2 == 0 ? last->side : tb_side_other(last->side);
	return (sentence->ending_row == 0 || end->written == sentence->ending_row ||
			   end->number == sentence->ending_row) &&
		   (sentence->ending_side == TB_SIDE_UNSAID || side == sentence->ending_side);
}

/* How many more rows bring the length nearest to what is asked; TB_NONE when none can. */
static guint32 rows_to_length(
	tb_hands *h, const tb_sentence *sentence, const repeated *rows, double unit, double asked_mm)
{
	double length = h->height * unit, best_off = INFINITY, cycle = 0;
	for (guint32 i = 0; i < rows->count; i++)
		cycle += tb_hands_row(h, rows->first + i)->height * unit;
	guint32 best = TB_NONE, most = TB_LIMIT_PIECE_ROWS - MIN(h->rows->len, TB_LIMIT_PIECE_ROWS);
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
		length += tb_hands_row(h, rows->first + many % rows->count)->height * unit;
	}
	return best;
}

/* A length that was reached before the repeat began. */
static void warn_passed(tb_hands *h, const tb_sentence *sentence, double unit, double asked_mm)
{
	double length = h->height * unit;
	char measured[G_ASCII_DTOSTR_BUF_SIZE];
	g_ascii_formatd(measured, sizeof measured, "%.1f", length / 10);
	if (length > asked_mm + 0.5)
		tb_hands_tell(h, TB_WARNING, "measure-passed", sentence->measure_span,
			"Ask for a greater length, or leave the repeat out.",
			"the piece measures %s cm here already", measured);
}

static void repeat_to_length(tb_hands *h, const tb_sentence *sentence, const repeated *rows)
{
	repeated over = gauge_rows(h, rows);
	tb_hands_look(h, over.count + rows->count);
	if (!tb_hands_may_go_on(h, sentence->span))
		return;
	double unit = chain_mm(h, &over), asked_mm;
	if (unit <= 0) {
		tb_hands_tell(h, TB_ERROR, "measure-no-gauge", sentence->measure_span,
			"Give the gauge with its rows: \"Gauge: 13 sts and 9 rows = 10 cm\".",
			"a length is asked for, and the pattern gives no row gauge");
		return;
	}
	if (!find_asked(h, sentence, &asked_mm))
		return;
	warn_passed(h, sentence, unit, asked_mm);
	guint32 many = rows_to_length(h, sentence, rows, unit, asked_mm);
	if (many == TB_NONE) {
		tb_hands_tell(h, TB_ERROR, "measure-ending", sentence->span,
			"Say a row or side that the repeat can end with.",
			"this repeat never ends with the row it is said to end with");
		return;
	}
	repeat_rows(h, sentence, rows, many);
	tb_reached reached = {
		.asked_mm = asked_mm, .reached_mm = h->height * unit, .row = tb_rows_last(h)};
	g_array_append_val(h->reached, reached);
	h->is_open = true;
}

void tb_rows_again(tb_hands *h, const tb_sentence *sentence)
{
	repeated rows;
	h->row = h->rows->len;
	h->row_fault = false;
	if (!find_repeated(h, sentence, &rows))
		return;
	guint32 before = h->rows->len;
	guint index = h->repeats->len;
	tb_row_repeat repeat = {
		.first = sentence->repeat_first, .last = sentence->repeat_last, .times = 1};
	g_array_append_val(h->repeats, repeat);
	guint64 times;
	switch (sentence->until) {
	case TB_REPEAT_OVER:
		if (sentence->last >= sentence->first && sentence->first > 0)
			repeat_rows(h, sentence, &rows, sentence->last - sentence->first + 1);
		break;
	case TB_REPEAT_TIMES:
		times = (guint64)tb_hands_number(h, &sentence->times, 1) * rows.count;
		repeat_rows(h, sentence, &rows, (guint32)MIN(times, TB_LIMIT_PIECE_ROWS + 1));
		break;
	case TB_REPEAT_MEASURES:
		repeat_to_length(h, sentence, &rows);
		break;
	case TB_REPEAT_PATTERN:
		break;
	}
	g_array_index(h->repeats, tb_row_repeat, index).times =
		1 + (h->rows->len - before) / rows.count;
	if (sentence->claim_count > 0 && h->rows->len > before)
		tb_account_claims(h, sentence);
}
