/* From which row a length is measured; the rules stand in the header. */
#include "rows/since.h"

#include "fabric/garment.h"
#include "rows/rows_end.h"

#include <string.h>

/* The first row that stands under a heading with NAME in it, or the last; 0 where none does. */
static guint32 find_part(const tb_hands *h, const char *name, bool last)
{
	guint32 found = 0;
	for (guint32 i = 1; i < h->cloth.rows->len && (found == 0 || last); i++) {
		if (tb_garment_is_called(tb_hands_row(h, i)->part, name))
			found = i;
	}
	return found;
}

/* The first row that goes over a part of the stitches below it, and no half of them alone; the row it stands on. */
static guint32 find_narrowed(const tb_hands *h)
{
	for (guint32 i = 1; i < h->cloth.rows->len; i++) {
		const tb_made_row *row = tb_hands_row(h, i);
		if (row->narrowed != 0)
			return row->stitches * 3 >= tb_hands_row(h, row->stands)->stitches * 2 ? row->stands : TB_NONE;
	}
	return TB_NONE;
}

static guint32 find_armhole(const tb_hands *h)
{
	guint32 row = tb_garment_armhole((const tb_made_row *)h->cloth.rows->data, h->cloth.rows->len);
	return row == TB_NONE ? find_narrowed(h) : row;
}

/* The last row with a marker in it. */
static guint32 find_marked(const tb_hands *h)
{
	guint32 found = TB_NONE;
	for (guint i = 0; i < h->cloth.marks->len; i++) {
		guint32 row = tb_hands_made(h, g_array_index(h->cloth.marks, tb_marked, i).made)->row;
		found = found == TB_NONE ? row : MAX(found, row);
	}
	return found;
}

/* The last row with more stitches than it stands on, or fewer. */
static guint32 find_shaped(const tb_hands *h)
{
	for (guint32 i = h->cloth.rows->len; i-- > 2;) {
		const tb_made_row *row = tb_hands_row(h, i);
		if (row->stitches != tb_hands_row(h, row->stands)->stitches)
			return i;
	}
	return TB_NONE;
}

guint32 tb_since_count(const tb_hands *h, guint32 base)
{
	guint32 count = 0;
	for (guint32 i = h->cloth.rows->len - 1; i > base; i = tb_hands_row(h, i)->stands)
		count++;
	return count;
}

guint32 tb_since_find(const tb_hands *h, const tb_sentence *sentence, guint32 here)
{
	const tb_piece *piece = tb_pattern_piece(h->working->pattern, h->piece);
	guint32 row;
	switch (sentence->since) {
	case TB_SINCE_BEGIN:
		return 0;
	case TB_SINCE_HERE:
		return here;
	case TB_SINCE_ARMHOLE:
		row = find_armhole(h);
		if (row == TB_NONE && (piece->from_piece != NULL || tb_garment_is_called(piece->name, "sleeve") ||
			tb_garment_is_of_armhole(piece->name)))
			return 0;
		return row;
	case TB_SINCE_PART:
		if (tb_garment_is_called(piece->name, sentence->since_name))
			return 0;
		row = find_part(h, sentence->since_name, false);
		/* a cap begins as an armhole does */
		if (row == 0 && g_strcmp0(sentence->since_name, "cap") == 0)
			return find_armhole(h);
		return row > 0 ? tb_hands_row(h, row)->stands : TB_NONE;
	case TB_SINCE_END:
		row = find_part(h, sentence->since_name, true);
		/* "Cuff" heads the piece, and what comes behind has a heading of its own */
		for (guint32 i = 1; row == 0 && i < h->cloth.rows->len && tb_garment_is_called(piece->name, sentence->since_name); i++)
			row = tb_hands_row(h, i)->part != NULL ? tb_hands_row(h, i)->stands : 0;
		return row > 0 ? row : TB_NONE;
	case TB_SINCE_ROW:
		for (row = h->cloth.rows->len - 1; row > 0; row--) {
			if (tb_hands_row(h, row)->number == tb_rows_called(h, sentence->since_row))
				return row;
		}
		break;
	case TB_SINCE_MARKER:
		return find_marked(h);
	case TB_SINCE_SHAPED:
		return find_shaped(h);
	case TB_SINCE_UNKNOWN:
		break;
	}
	return TB_NONE;
}

const tb_made_row *tb_since_match(const tb_hands *h, const tb_sentence *sentence)
{
	int other = sentence->same_as_piece != NULL ? tb_pattern_find_piece(h->working->pattern, sentence->same_as_piece) : -1;
	if (other < 0 || (unsigned)other >= h->piece)
		return NULL;
	const tb_fabric *fabric = tb_worked_fabric(h->working->worked, (unsigned)other, h->size);
	const tb_made_row *match = NULL;
	for (guint32 i = 1; i < fabric->row_count; i++) {
		const tb_made_row *row = &fabric->rows[i];
		if (row->taken || row->unsure)
			return NULL;
		if (sentence->same_part != NULL && tb_garment_is_called(row->part, sentence->same_part))
			return match;
		match = match == NULL || row->top > match->top ? row : match;
	}
	/* "as Back to shoulder", which ends there */
	return sentence->same_part == NULL || strcmp(sentence->same_part, "shoulder") == 0 ? match : NULL;
}
