/*
 * "Work same as Left Front, reversing shaping", "Work as First Motif through Rnd 1": the rows of an
 * earlier piece. Reversed shaping has the same counts; that its sides are not changed is told.
 */
#include "notation/script.h"

#include <string.h>

/* The piece whose name begins at word FROM, before this one; -1 for none. */
static int find_piece(const tb_reader *r, guint32 from)
{
	const char *text = r->text->chars + r->lattice.start[from];
	size_t longest = 0;
	int found = -1;
	for (unsigned i = 0; i < r->number; i++) {
		const char *name = tb_pattern_get_piece(r->b.pattern, i);
		size_t length = strlen(name);
		if (length > longest && g_ascii_strncasecmp(text, name, length) == 0 &&
			!g_unichar_isalnum(g_utf8_get_char(text + length))) {
			longest = length;
			found = (int)i;
		}
	}
	return found;
}

static void borrow(tb_reader *r, const tb_script *from, unsigned first, unsigned last)
{
	bool begun = r->sentences->len > 0;
	for (unsigned i = 0; i < from->count; i++) {
		const tb_sentence *sentence = from->sentences[i];
		/* "Rows 1-9 of Cuff" are those before a part that numbers its own from 1 */
		if (sentence->anew && (first > 0 || last > 0))
			break;
		if (sentence->kind == TB_SENTENCE_START ? begun || first > 1 :
			(last > 0 && sentence->first > last) || sentence->last < first)
			continue;
		g_ptr_array_add(r->sentences, (gpointer)sentence);
		if (sentence->last > 0)
			r->last_row = sentence->last;
	}
}

/* Works rows FIRST to LAST of piece OTHER. */
static void take_rows(tb_reader *r, int other, unsigned first, unsigned last)
{
	g_autoptr(tb_diagnostics) unheard = tb_diagnostics_create(NULL);
	tb_script *script = tb_script_read(r->b.pattern, (unsigned)other, unheard);
	g_ptr_array_add(r->borrowed, script);
	borrow(r, script, first, last);
}

bool tb_reader_like_numbered(tb_reader *r, const tb_value *line)
{
	const tb_value *of = tb_value_get(tb_value_get(line, TB_SLOT_again), TB_SLOT_alike);
	const tb_value *rows = tb_value_get(tb_value_get(line, TB_SLOT_label), TB_SLOT_rows);
	int other = of != NULL && rows != NULL ? find_piece(r, of->from) : -1;
	unsigned first, last;
	if (other < 0 || !tb_reader_rows(r, rows, &first, &last))
		return false;
	take_rows(r, other, first, last);
	return true;
}

bool tb_reader_like(tb_reader *r, const tb_value *value, const tb_value *acts)
{
	const tb_value *of = tb_value_get(value, TB_SLOT_of), *last = tb_value_get(value, TB_SLOT_last);
	const tb_value *rows = tb_value_get(value, TB_SLOT_rows);
	int other = find_piece(r, of->from);
	if (other < 0)
		return tb_reader_fail(r, "piece-unknown", of->from, of->to,
			"Name a piece that stands before this one, as in \"Work same as Left Front\".",
			"no piece before this one has this name");
	unsigned first_row = 0, last_row = last != NULL ? (unsigned)MAX(last->figures[0], 1) : 0;
	if (rows != NULL && !tb_reader_rows(r, rows, &first_row, &last_row))
		return false;
	if (tb_value_get(value, TB_SLOT_mirror) != NULL) {
		tb_where where = {.has_place = true, .piece = r->piece,
			.place = tb_build_span(&r->b, value->from, value->to)};
		tb_diagnose(r->diagnostics, TB_WARNING, "not-mirrored", &where,
			"the counts are those of the other piece; the sides of the shaping are not exchanged",
			"Write the rows out for a chart of this piece.");
	}
	(void)acts;
	take_rows(r, other, first_row, last_row);
	return true;
}
