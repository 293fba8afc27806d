/* From which row a length is measured; the rules stand in the header. */
#include "fabric/since.h"

#include "fabric/rows_end.h"

#include <string.h>

/* Fewer stitches than these left at one side, or both, of a row may be a shaped edge. */
#define LEAST_AT_ONE 3u
#define LEAST_AT_BOTH 4u

bool tb_since_is_called(const char *name, const char *word)
{
	if (name == NULL || word == NULL)
		return false;
	g_autofree char *lower = tb_text_lower(name, -1);
	size_t length = strlen(word);
	for (const char *at = strstr(lower, word); at != NULL; at = strstr(at + 1, word)) {
		bool begins = at == lower || !g_ascii_isalpha(at[-1]);
		/* "Sleeves", "Ribbed cuff" */
		if (begins && (!g_ascii_isalpha(at[length]) || at[length] == 's' || strcmp(word, "rib") == 0))
			return true;
	}
	return false;
}

static bool is_of_armhole(const char *part)
{
	static const char *const words[] = {"armhole", "underarm", "raglan", "yoke"};
	for (size_t i = 0; i < G_N_ELEMENTS(words); i++) {
		if (tb_since_is_called(part, words[i]))
			return true;
	}
	return false;
}

guint32 tb_since_armhole(const tb_made_row *rows, guint32 count)
{
	guint32 widest = 0;
	for (guint32 i = 1; i < count; i++) {
		if (is_of_armhole(rows[i].part))
			return rows[i].stands;
	}
	for (guint32 i = 1; i < count; i++) {
		if (rows[i].is_round)
			return TB_NONE;
		widest = widest == 0 || rows[i].stitches >= rows[widest].stitches ? i : widest;
	}
	if (widest == 0 || widest + 1 >= count || rows[widest + 1].stands != widest)
		return TB_NONE;
	guint32 next = rows[widest + 1].stitches, then = widest + 2 < count ? MIN(next, rows[widest + 2].stitches) : next;
	guint32 drop = rows[widest].stitches - next;
	/* "… of next 2 rows" */
	bool falls = drop >= LEAST_AT_BOTH || (drop >= LEAST_AT_ONE && next - then >= LEAST_AT_ONE);
	bool divides = (guint64)then * 3 < (guint64)rows[widest].stitches * 2;
	return falls && !divides ? widest : TB_NONE;
}

/* The first row that stands under a heading with NAME in it, or the last; 0 where none does. */
static guint32 find_part(const tb_hands *h, const char *name, bool last)
{
	guint32 found = 0;
	for (guint32 i = 1; i < h->cloth.rows->len && (found == 0 || last); i++) {
		if (tb_since_is_called(tb_hands_row(h, i)->part, name))
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
	guint32 row = tb_since_armhole((const tb_made_row *)h->cloth.rows->data, h->cloth.rows->len);
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
		if (row == TB_NONE && (piece->from_piece != NULL || tb_since_is_called(piece->name, "sleeve") ||
			is_of_armhole(piece->name)))
			return 0;
		return row;
	case TB_SINCE_PART:
		if (tb_since_is_called(piece->name, sentence->since_name))
			return 0;
		row = find_part(h, sentence->since_name, false);
		/* a cap begins as an armhole does */
		if (row == 0 && g_strcmp0(sentence->since_name, "cap") == 0)
			return find_armhole(h);
		return row > 0 ? tb_hands_row(h, row)->stands : TB_NONE;
	case TB_SINCE_END:
		row = find_part(h, sentence->since_name, true);
		/* "Cuff" heads the piece, and what comes behind has a heading of its own */
		for (guint32 i = 1; row == 0 && i < h->cloth.rows->len && tb_since_is_called(piece->name, sentence->since_name); i++)
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
