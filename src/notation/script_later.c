/*
 * Rows whose text is written once and worked again further on: "Rows 4 and 6: …", "Row 2 and all
 * even-numbered rows: …". A copy stands where the number comes up.
 */
#include "notation/script.h"

#include "support/limits.h"

static bool has_work(const tb_sentence *row)
{
	return row->acts.count > 0 || row->kind == TB_SENTENCE_REPEAT;
}

/* The row whose text row NUMBER has as well, or NULL. */
static const tb_later *find_later(const tb_reader *r, unsigned number)
{
	for (guint i = r->later->len; i-- > 0;) {
		tb_later *later = &g_array_index(r->later, tb_later, i);
		bool every = later->number == 0 && number > later->row->first &&
			number <= later->last && (number - later->row->first) % 2 == 0;
		if (has_work(later->row) && (later->number == number || every)) {
			later->worked = true;
			return later;
		}
	}
	return NULL;
}

unsigned tb_later_insert(tb_reader *r, guint at, unsigned next)
{
	unsigned number = r->last_row + 1;
	for (; number < next; number++) {
		const tb_later *later = find_later(r, number);
		if (later == NULL)
			break;
		tb_sentence *copy = tb_arena_new(r->b.arena, tb_sentence);
		*copy = *later->row;
		if (later->counted)
			copy->claims += later->nth;
		copy->first = copy->last = number;
		g_ptr_array_insert(r->sentences, (gint)at++, copy);
	}
	return number - r->last_row - 1;
}

void tb_later_count(tb_reader *r, tb_sentence *sentence)
{
	sentence->claim_count = 1;
	for (guint i = 0; i < r->later->len; i++) {
		tb_later *later = &g_array_index(r->later, tb_later, i);
		later->counted = later->row == sentence ? later->number > 0 : later->counted;
	}
}

/* The row said of LATER that never came up, or 0. */
static unsigned never_came(const tb_reader *r, const tb_later *later)
{
	if (later->number > 0)
		return later->worked ? 0 : later->number;
	unsigned highest = 0, last = later->last - (later->last - later->row->first) % 2;
	for (guint i = 0; i < r->sentences->len; i++)
		highest = MAX(highest, ((const tb_sentence *)r->sentences->pdata[i])->last);
	return later->last < TB_LIMIT_PIECE_ROWS && highest < last ? highest + 2 : 0;
}

void tb_later_check(tb_reader *r)
{
	for (guint i = 0; i < r->later->len; i++) {
		const tb_later *later = &g_array_index(r->later, tb_later, i);
		unsigned number = never_came(r, later);
		if (number == 0 || !has_work(later->row))
			continue;
		tb_where where = {
			.has_place = true,
			.place = later->row->span,
			.piece = r->piece,
			.row = later->row->first,
		};
		tb_diagnose_format(r->diagnostics, TB_ERROR, "row-list", &where,
			"Write the rows that come between.", "row %u never comes: row %u is missing",
			number, number - 1);
		return;
	}
}

unsigned tb_later_last_named(const GArray *later)
{
	unsigned last = 0;
	for (guint i = 0; i < later->len; i++) {
		const tb_later *row = &g_array_index(later, tb_later, i);
		last = MAX(last, row->last < TB_LIMIT_PIECE_ROWS ? MAX(row->number, row->last) : row->number);
	}
	return last;
}
