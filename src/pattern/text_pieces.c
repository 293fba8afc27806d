/*
 * Pieces and rows. A row is gathered over the lines it is wrapped on, and becomes one text; two
 * rows written on one line are parted again. What a piece takes of another is read by text_from.c.
 */
#include "pattern/text_reader.h"

#include "support/limits.h"

#include <string.h>

static tb_span line_place(const tb_text_reader *reader, guint i)
{
	const tb_line *line = tb_lines_get(reader->lines, i);
	const guint32 *offsets = reader->lines->offsets;
	return (tb_span){offsets[line->start], offsets[line->end]};
}

void tb_text_end_piece(tb_text_reader *reader)
{
	tb_piece *piece = reader->piece;
	if (piece == NULL)
		return;
	if (piece->start == NULL && piece->from_piece == NULL && piece->rows->len > 0 &&
		!reader->start_told && !tb_piece_brings_start(piece))
		tb_text_fault_at(reader, TB_ERROR, "piece-start", piece->place,
			"Write “Ch 85 (93, 101).” before its first row, or “From Back: sts 1-37 (41, 45)”.",
			"the piece “%s” does not say how it starts", piece->name);
	if (piece->rows->len == 0)
		tb_text_fault_at(reader, TB_ERROR, "piece-rows", piece->place,
			"Rows begin as in “Row 1 (RS): …”.", "the piece “%s” has no rows", piece->name);
}

static void begin_piece(tb_text_reader *reader, guint line)
{
	tb_text_end_piece(reader);
	tb_piece *piece = g_new0(tb_piece, 1);
	piece->rows = g_ptr_array_new_with_free_func((GDestroyNotify)tb_text_destroy);
	piece->place = line_place(reader, reader->has_heading ? reader->heading : line);
	if (reader->has_heading)
		piece->name = tb_heading_name(tb_lines_text(reader->lines, reader->heading));
	if (reader->has_heading && piece->name == NULL)
		piece->name = g_strdup(tb_lines_text(reader->lines, reader->heading));
	if (piece->name == NULL)
		piece->name = g_strdup("Piece");
	if (tb_pattern_find_piece(reader->pattern, piece->name) >= 0)
		tb_text_fault_at(reader, TB_ERROR, "piece-name", piece->place,
			"Give each piece a name of its own.", "two pieces are called “%s”", piece->name);
	/* The reader stops at this piece; it is there, that no line after it needs to ask. */
	reader->is_full = reader->pattern->pieces->len == TB_LIMIT_PIECES;
	if (reader->is_full)
		tb_text_fault_at(reader, TB_ERROR, "piece-list", piece->place,
			"Split the pattern in two.", "a pattern may have %u pieces", TB_LIMIT_PIECES);
	tb_pattern_add_piece(reader->pattern, piece);
	reader->piece = piece;
	reader->start_told = false;
	reader->has_heading = false;
}

static void need_piece(tb_text_reader *reader, guint line)
{
	if (reader->piece == NULL || reader->has_heading)
		begin_piece(reader, line);
	reader->in_section = reader->is_finished = false;
}

static void gather(tb_text_reader *reader, guint i, size_t from)
{
	const tb_line *line = tb_lines_get(reader->lines, i);
	tb_gathered_add(&reader->gathered, reader->lines, line->start + from, line->end);
}

/* "Fasten off and weave in ends.": the words after the first two say nothing about stitches. */
static void gather_finish(tb_text_reader *reader, guint i)
{
	const tb_line *line = tb_lines_get(reader->lines, i);
	const char *text = tb_lines_text(reader->lines, i);
	size_t end = strcspn(text, " ");
	end += strspn(text + end, " ");
	size_t article = tb_at_word(text + end, "the");
	end += article + strspn(text + end + article, " ");
	end += strcspn(text + end, " .,;");
	tb_gathered_add(&reader->gathered, reader->lines, line->start, line->start + end);
}

void tb_text_begin_row(tb_text_reader *reader, guint i, size_t from, tb_line_kind kind)
{
	need_piece(reader, i);
	tb_gathered_clear(&reader->gathered);
	reader->open = TB_OPEN_ROW;
	if (kind == TB_LINE_FINISH) {
		gather_finish(reader, i);
		tb_text_close_row(reader);
		reader->is_finished = true;
		/* What is wrapped below goes with it. */
		reader->open = TB_OPEN_NOTE;
		return;
	}
	gather(reader, i, from);
}

void tb_text_begin_start(tb_text_reader *reader, guint i)
{
	need_piece(reader, i);
	tb_gathered_clear(&reader->gathered);
	if (reader->piece->rows->len > 0) {
		/* Chains in the middle of a piece begin no row: the row language says so. */
		tb_text_begin_row(reader, i, 0, TB_LINE_ROW);
		return;
	}
	reader->open = TB_OPEN_START;
	reader->is_from = false;
	gather(reader, i, (size_t)MAX(tb_find_start(tb_lines_text(reader->lines, i)), 0));
}

void tb_text_begin_from(tb_text_reader *reader, guint i)
{
	need_piece(reader, i);
	tb_gathered_clear(&reader->gathered);
	if (reader->piece->rows->len > 0 || reader->piece->start != NULL ||
		reader->piece->from_piece != NULL) {
		tb_text_begin_row(reader, i, 0, TB_LINE_ROW);
		return;
	}
	reader->open = TB_OPEN_START;
	reader->is_from = true;
	gather(reader, i, 0);
}

static tb_text *slice(const tb_text *text, size_t start, size_t end)
{
	while (start < end && text->chars[start] == ' ')
		start++;
	while (end > start && text->chars[end - 1] == ' ')
		end--;
	tb_text *part = tb_text_create(text->chars + start, end - start, text->offsets[start]);
	part->offsets = g_memdup2(text->offsets + start, (end - start + 1) * sizeof(guint32));
	return part;
}

/* Puts "Sizes M (L) only:" before a row, each byte knowing its place. Takes ROW. */
static tb_text *put_only(tb_text_reader *reader, tb_text *row)
{
	if (reader->only.chars->len == 0)
		return row;
	g_autoptr(tb_text) only = tb_gathered_text(&reader->only);
	g_autofree char *chars = g_strconcat(only->chars, " ", row->chars, NULL);
	tb_text *both = tb_text_create(chars, strlen(chars), only->offset);
	both->offsets = g_new(guint32, both->length + 1);
	memcpy(both->offsets, only->offsets, (only->length + 1) * sizeof(guint32));
	memcpy(both->offsets + only->length + 1, row->offsets, (row->length + 1) * sizeof(guint32));
	tb_text_destroy(row);
	reader->only_used = true;
	return both;
}

/* "… turn. Fasten off." at a row's end. */
static bool ends_finished(const tb_text *row)
{
	static const char *const words[] = {"fasten off", "finish off", "end off"};
	size_t from = row->length > 40 ? row->length - 40 : 0;
	g_autofree char *end = g_ascii_strdown(row->chars + from, -1);
	for (size_t i = 0; i < G_N_ELEMENTS(words); i++) {
		if (strstr(end, words[i]) != NULL)
			return true;
	}
	return false;
}

static void add_row(tb_text_reader *reader, tb_text *row)
{
	GPtrArray *rows = reader->piece->rows;
	reader->is_finished = ends_finished(row);
	if (row->length == 0) {
		tb_text_destroy(row);
		return;
	}
	if (rows->len == TB_LIMIT_PIECE_ROWS) {
		tb_text_fault_at(reader, TB_ERROR, "piece-rows", tb_text_span(row, 0, row->length), NULL,
			"a piece may have %u rows", TB_LIMIT_PIECE_ROWS);
		tb_text_destroy(row);
		return;
	}
	g_ptr_array_add(rows, put_only(reader, row));
}

/* Where the next row on the same line begins, "… turn. Row 2: …", or the text's end. */
static size_t find_next_row(const tb_text *text, size_t from)
{
	for (size_t at = from + 1; at + 2 < text->length; at++) {
		tb_row_head head;
		if (text->chars[at] == ' ' && strchr(".])", text->chars[at - 1]) != NULL &&
			tb_is_row_head(text->chars + at + 1, &head) && head.mark == ':')
			return at + 1;
	}
	return text->length;
}

/* What begins the piece; more than one sentence of it may stand in lines of their own. */
static void add_start(tb_text_reader *reader, const tb_text *text, size_t end)
{
	tb_piece *piece = reader->piece;
	g_autoptr(tb_text) start = slice(text, 0, end);
	if (reader->is_from) {
		reader->start_told = !tb_text_read_from(reader, start);
		return;
	}
	if (piece->start == NULL) {
		piece->start = g_steal_pointer(&start);
		return;
	}
	tb_text *before = piece->start;
	g_autofree char *chars = g_strconcat(before->chars, " ", start->chars, NULL);
	piece->start = tb_text_create(chars, strlen(chars), before->offset);
	piece->start->offsets = g_new(guint32, piece->start->length + 1);
	memcpy(piece->start->offsets, before->offsets, (before->length + 1) * sizeof(guint32));
	memcpy(piece->start->offsets + before->length + 1, start->offsets,
		(start->length + 1) * sizeof(guint32));
	tb_text_destroy(before);
}

void tb_text_close_row(tb_text_reader *reader)
{
	g_autoptr(tb_text) text = tb_gathered_text(&reader->gathered);
	size_t from = 0;
	if (reader->open == TB_OPEN_START) {
		from = find_next_row(text, 0);
		add_start(reader, text, from);
	}
	while (from < text->length) {
		size_t next = find_next_row(text, from);
		add_row(reader, slice(text, from, next));
		from = next;
	}
	reader->open = TB_OPEN_NONE;
	tb_gathered_clear(&reader->gathered);
}
