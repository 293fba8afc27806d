/* Which row of the piece a number means, and whether rows that are worked again end with the one they are said to. */
#include "rows/rows_end.h"

#include "acts/shape.h"
#include "places/edge.h"
#include "places/mark.h"
#include "rows/rest.h"

#include <string.h>

guint32 tb_rows_called(const tb_hands *h, guint32 said)
{
	bool own = said >= h->labels.from && (h->labels.from <= 1 || said + h->labels.before <= tb_rows_last(h));
	return said + (own ? h->labels.before : 0);
}

guint32 tb_rows_find_from(const tb_hands *h, guint32 number)
{
	guint32 low = 1, high = h->cloth.rows->len;
	while (low < high) {
		guint32 middle = low + (high - low) / 2;
		if (tb_hands_row(h, middle)->number < number)
			low = middle + 1;
		else
			high = middle;
	}
	return low;
}

/* Whether SAID is NAME, whatever blanks, hyphens and capitals either has. */
static bool is_same_name(const char *said, const char *name)
{
	if (g_ascii_strncasecmp(said, "the ", 4) == 0)
		said += 4;
	for (;; said++, name++) {
		said += strspn(said, " -");
		name += strspn(name, " -");
		if (*said == '\0' || g_ascii_tolower(*said) != g_ascii_tolower(*name))
			return *said == *name;
	}
}

bool tb_rows_find_part(const tb_hands *h, const char *said, guint32 *before)
{
	for (guint32 row = h->cloth.rows->len; row-- > 1;) {
		const tb_made_row *made = tb_hands_row(h, row);
		if (made->part != NULL && made->part != h->labels.part && is_same_name(said, made->part)) {
			*before = made->before;
			return true;
		}
	}
	return false;
}

guint32 tb_rows_counted(const tb_hands *h, const tb_sentence *sentence)
{
	const tb_made_row *row = tb_hands_row(h, h->cloth.rows->len - 1);
	const guint8 spaced = TB_MADE_CHAIN | TB_MADE_COUNTED;
	guint32 count = sentence->between_marks ? tb_mark_between(h, h->cloth.rows->len - 1) : row->stitches;
	for (guint32 i = 0; sentence->count_of != NULL && !row->taken && i < row->count; i++)
		count -= (tb_hands_made(h, row->first + i)->flags & (spaced | TB_MADE_TURNING)) == spaced;
	return count;
}

static bool has_stitch(const tb_hands *h, const tb_made_row *row, const tb_stitch *stitch)
{
	for (guint32 i = 0; i < row->count; i++) {
		if (tb_hands_made(h, row->first + i)->stitch == stitch->number)
			return true;
	}
	return false;
}

void tb_rows_check_end(tb_hands *h, const tb_sentence *sentence)
{
	bool counted = sentence->until != TB_REPEAT_MEASURES && sentence->until != TB_REPEAT_PATTERN;
	if (!counted || h->teller.has_fault || h->cloth.rows->len == 0)
		return;
	const tb_made_row *last = tb_hands_row(h, h->cloth.rows->len - 1);
	bool right = sentence->ending_side == TB_SIDE_UNSAID || last->is_round || last->side == sentence->ending_side;
	guint32 row = tb_rows_called(h, sentence->ending_row);
	bool named = sentence->ending_row == 0 || last->written == row || last->number == row;
	if (!named || (sentence->ending_in != NULL && !last->taken && !has_stitch(h, last, sentence->ending_in)))
		tb_hands_tell(h, TB_ERROR, "measure-ending", sentence->span, "Check how many rows there are, or what they end with.",
			"these rows do not end so: the last of them is row %u%s", last->number - last->before,
			last->written != last->number ? ", worked like another" : "");
	else if (!right)
		tb_hands_tell(h, TB_WARNING, "measure-ending", sentence->span, "Check how many rows there are.",
			"these rows end with a %s row", last->side == TB_SIDE_RIGHT ? "RS" : "WS");
	else if (sentence->ending_at != TB_SHAPED_ENDS && !tb_shape_ends_at(h, sentence->ending_at))
		tb_hands_tell(h, TB_WARNING, "measure-ending", sentence->span, "Check how many rows there are.",
			"these rows end at the %s edge", sentence->ending_at == TB_SHAPED_NECK ? "other" : "neck");
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
	/* "Row 7 (9)" is numbered for each size */
	bool numbered = sentence->first_in.count > 1 && !h->labels.by_length;
	if (number == 0 || (h->labels.is_open && !numbered && (number > 1 || !h->labels.by_size)))
		return last + 1;
	/* the other side of a neck is numbered anew, or from the row where it was divided */
	if (tb_rest_is_there(h) && tb_rest_is_joined(sentence) && number <= last)
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
