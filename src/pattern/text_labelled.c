/* A heading, and on its line what it stands over. */
#include "pattern/text_kinds.h"
#include "pattern/text_reader.h"

#include <string.h>

/* "Thumb: join yarn in first skipped st.", and rows below: a heading, and how its first row begins. */
static void begin_led(tb_text_reader *reader, guint i, const char *name, size_t from)
{
	tb_row_head head;
	guint next = reader->looks[i].next;
	bool rows = next < reader->count && tb_is_row_head(tb_text_line(reader, next), &head) && !head.is_bare;
	if (reader->section == TB_SECTION_DEFINITIONS || reader->piece == NULL || !rows) {
		tb_text_begin_line(reader, i);
		return;
	}
	tb_text_mark(reader, i, 0, TB_READ_HEADING);
	reader->section = TB_SECTION_NONE;
	if (tb_text_is_subheading(reader, i))
		tb_text_begin_part(reader, name);
	else
		tb_text_set_heading(reader, i, strlen(name));
	reader->is_finished = false;
	tb_text_begin_row(reader, i, from);
}

/* "Hem ribbing. Change to smaller hook, ch 9." over "Row 1: Sc in 2nd ch from hook …": it has a chain of its own. */
static bool has_chain_of_its_own(const tb_text_reader *reader, guint i, size_t from)
{
	tb_row_head head;
	guint work = reader->looks[i].work;
	const char *row = work < reader->count ? tb_text_line(reader, work) : "";
	const char *said = tb_text_line(reader, i) + from;
	int start = tb_find_start(said);
	const char *figures = start >= 0 ? said + start + strcspn(said + start, "0123456789") : "?";
	return figures[strspn(figures, "0123456789 ()[],.;-")] == '\0' && tb_is_row_head(row, &head) && head.first == 1 &&
		strstr(row, "from hook") != NULL;
}

/* "MOTIF: Ch 8, join.", "Sides - Rnd 1: …": a heading, and on its line what it stands over. */
void tb_text_begin_labelled(tb_text_reader *reader, guint i)
{
	const char *line = tb_text_line(reader, i);
	size_t name, from = tb_find_label(line, &name);
	tb_row_head head;
	bool row = tb_is_row_head(line + from, &head);
	g_autofree char *said = g_strndup(line, name);
	guint work = reader->looks[i].work;
	/* "Tail: ch 20, sc in 2nd ch from hook …" behind other pieces: a small one in one line */
	bool whole = reader->piece != NULL && tb_start_works_row(line + from) && i > 0 &&
		reader->looks[i - 1].kind == TB_LINE_BLANK;
	if (tb_leads_in(line + from)) {
		begin_led(reader, i, said, from);
		return;
	}
	bool rows = row || whole || tb_start_has_row(line + from) || (work < reader->count && reader->looks[work].kind == TB_LINE_ROW);
	bool part = reader->piece != NULL && !reader->has_heading && tb_goes_on(said) && !row &&
		!has_chain_of_its_own(reader, i, from);
	if (reader->section == TB_SECTION_DEFINITIONS || !rows || part) {
		tb_text_begin_line(reader, i);
		return;
	}
	tb_gathered_clear(&reader->only);
	tb_text_mark(reader, i, 0, TB_READ_HEADING);
	reader->section = TB_SECTION_NONE;
	bool goes_on = reader->piece != NULL && row && !tb_row_brings_start(line + from) &&
		(!reader->is_finished || tb_text_works_on_rest(line + from)) && tb_text_is_made_once(reader->piece);
	if (goes_on)
		tb_text_begin_part(reader, said);
	else if (!tb_is_neutral(said))
		tb_text_set_heading(reader, i, name);
	if (row)
		tb_text_begin_row(reader, i, from);
	else
		tb_text_begin_start(reader, i, from);
}
