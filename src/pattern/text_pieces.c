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

void tb_text_tell_no_start(tb_text_reader *reader, const tb_piece *piece)
{
	if (piece->start == NULL && piece->from_piece == NULL && piece->rows->len > 0 &&
		!reader->start_told && !tb_piece_brings_start(piece) &&
		!tb_text_works_along_row_ends(((const tb_text *)piece->rows->pdata[0])->chars))
		tb_text_fault_at(reader, TB_ERROR, "piece-start", piece->place,
			"Write “Ch 85 (93, 101).” before its first row, or “From Back: sts 1-37 (41, 45)”.",
			"the piece “%s” does not say how it starts", piece->name);
}

void tb_text_end_piece(tb_text_reader *reader)
{
	tb_piece *piece = reader->piece;
	if (piece == NULL)
		return;
	/* other pieces may be worked in it */
	if (!tb_text_tells_pattern(piece))
		tb_text_tell_no_start(reader, piece);
	if (piece->rows->len == 0 && (piece->start == NULL || !tb_start_works_row(piece->start->chars)))
		tb_text_fault_at(reader, TB_ERROR, "piece-rows", piece->place,
			"Rows begin as in “Row 1 (RS): …”.", "the piece “%s” has no rows", piece->name);
}

/*
 * The name a heading gives. Where a piece of that name is there already, "Ribbing" of each of two
 * parts, the heading above it tells them apart.
 */
static char *name_piece(const tb_text_reader *reader, unsigned *make)
{
	*make = 1;
	if (!reader->has_heading)
		return g_strdup("Piece");
	char *name = tb_heading_name(reader->heading, make);
	if (name == NULL)
		name = tb_plain_heading_name(reader->heading, make);
	/* "Leg - left" and "Leg - right" */
	if (tb_pattern_find_piece(reader->pattern, name) >= 0 && reader->above == NULL) {
		g_free(name);
		return g_strdup(reader->heading);
	}
	if (reader->above == NULL || tb_pattern_find_piece(reader->pattern, name) < 0)
		return name;
	unsigned above_make;
	g_autofree char *lower = name;
	g_autofree char *above = tb_heading_name(reader->above, &above_make);
	return g_strdup_printf("%s, %s", above != NULL ? above : reader->above, lower);
}

void tb_text_begin_part(tb_text_reader *reader, const char *heading)
{
	unsigned make;
	char *name = tb_heading_name(heading, &make);
	tb_piece_add_part(reader->piece, name != NULL ? name : tb_plain_heading_name(heading, &make));
}

/* "LEFT FRONT" over "Ribbing": a piece of a garment, and what it begins with. */
static bool begins_garment(const char *above, const char *heading)
{
	static const char pieces[] = "back front fronts sleeve sleeves";
	static const char edges[] = "rib ribs ribbing ribbed hem cuff band border edging waistband welt bottom";
	size_t length = strlen(above), under = strlen(heading);
	return tb_find_words(above, length, pieces) < length && tb_find_words(above, length, edges) == length &&
		tb_find_words(heading, under, edges) < under && tb_find_words(heading, under, pieces) == under;
}

/*
 * "MITTS (make 2)" over "Cuff" over rows: what is made so often is the piece, and this is its first part; as it is of
 * a piece of a garment. The piece's name, or NULL where nothing stands above that is made.
 */
static char *name_above(const tb_text_reader *reader, unsigned *make)
{
	if (reader->above == NULL || !reader->has_heading)
		return NULL;
	*make = 1;
	char *name = tb_heading_name(reader->above, make);
	if (name == NULL)
		name = tb_plain_heading_name(reader->above, make);
	if ((*make < 2 && !begins_garment(name, reader->heading)) || tb_pattern_find_piece(reader->pattern, name) >= 0)
		g_clear_pointer(&name, g_free);
	return name;
}

/* Whether PIECE has no row yet but such as are told by name, and worked further on. */
static bool only_tells(const tb_piece *piece)
{
	for (guint i = 0; i < piece->rows->len; i++) {
		if (tb_named_row(((const tb_text *)piece->rows->pdata[i])->chars) == 0)
			return false;
	}
	return piece->rows->len > 1 && piece->start == NULL && piece->from_piece == NULL;
}

static void begin_piece(tb_text_reader *reader, guint line)
{
	/* "Plain rnd: …", "Dec rnd: …" above the heading of the first piece are of that */
	tb_piece *piece = reader->piece;
	bool told = piece != NULL && tb_pattern_count_pieces(reader->pattern) == 1 && only_tells(piece);
	if (told) {
		g_clear_pointer(&piece->name, g_free);
		g_clear_pointer(&piece->folded_name, g_free);
		g_ptr_array_steal_index(reader->pattern->pieces, 0);
	} else {
		tb_text_end_piece(reader);
		piece = tb_piece_create();
	}
	piece->place = reader->has_heading ? reader->heading_place : line_place(reader, line);
	piece->name = name_above(reader, &piece->make);
	bool has_part = piece->name != NULL;
	if (!has_part)
		piece->name = name_piece(reader, &piece->make);
	piece->heading = reader->has_heading ? g_strdup(reader->heading) : NULL;
	if (reader->has_heading && reader->make > 0)
		piece->make = reader->make;
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
	if (has_part)
		tb_text_begin_part(reader, reader->heading);
	reader->start_told = false;
	reader->has_heading = false;
}

static void need_piece(tb_text_reader *reader, guint line)
{
	if (reader->piece == NULL || reader->has_heading)
		begin_piece(reader, line);
	reader->section = TB_SECTION_NONE;
	reader->is_finished = false;
}

static void gather(tb_text_reader *reader, guint i, size_t from)
{
	const tb_line *line = tb_lines_get(reader->lines, i);
	tb_gathered_add(&reader->gathered, reader->lines, line->start + from, line->end);
}

/* What a row's text looks like by its first words. */
static tb_read_as look_at_row(const char *text)
{
	tb_row_head head;
	size_t at = tb_is_row_head(text, &head) ? head.length : 0;
	at += strspn(text + at, " ");
	if (tb_at_word(text + at, "rep repeat") > 0)
		return TB_READ_REPEAT;
	return tb_line_is_finish(text + at) || tb_begins_finishing(text + at) ? TB_READ_FINISHING : TB_READ_ROW;
}

/* "Fasten off and weave in ends.": where what makes no stitch begins, behind the first words. */
static size_t find_farewell(const char *text)
{
	size_t end = tb_at_word(text, "fo f.o f/o");
	if (end == 0) {
		end = strcspn(text, " ");
		end += strspn(text + end, " ");
		size_t article = tb_at_word(text + end, "the");
		end += article + strspn(text + end + article, " ");
		end += strcspn(text + end, " .,;");
	}
	return tb_has_stitch(text + end) || tb_states_count(text + end) || tb_goes_on_working(text + end) ? strlen(text) : end;
}

/* "Fasten off, leaving a tail" is an act and words about sewing, which are read past. */
static void begin_finish(tb_text_reader *reader, guint i)
{
	const tb_line *line = tb_lines_get(reader->lines, i);
	size_t end = find_farewell(tb_text_line(reader, i));
	tb_gathered_add(&reader->gathered, reader->lines, line->start, line->start + end);
	const char *rest = tb_text_line(reader, i) + end;
	if (rest[strspn(rest, " .,;!")] == '\0')
		return;
	tb_text_close_row(reader);
	tb_reads_begin(reader->pattern, reader->lines->offsets[line->start + end], TB_READ_FINISHING);
	tb_text_keep_line(reader, reader->notes, i, end);
	reader->is_finished = true;
	/* What is wrapped below goes with it. */
	reader->open = TB_OPEN_FAREWELL;
}

void tb_text_begin_row(tb_text_reader *reader, guint i, size_t from)
{
	const char *text = tb_text_line(reader, i) + from;
	need_piece(reader, i);
	reader->read = tb_text_mark(reader, i, from, look_at_row(text));
	tb_gathered_clear(&reader->gathered);
	reader->open = TB_OPEN_ROW;
	if (from == 0 && tb_line_is_finish(text))
		begin_finish(reader, i);
	else
		gather(reader, i, from);
}

void tb_text_begin_start(tb_text_reader *reader, guint i, size_t from)
{
	need_piece(reader, i);
	const tb_text *start = reader->piece->start;
	/* No piece begins with so many chains that they fill a page. */
	bool works = reader->piece->rows->len > 0 && !only_tells(reader->piece);
	if (works || (start != NULL && start->length > TB_LIMIT_LINE_BYTES)) {
		/* Chains in the middle of a piece begin no row: the row language says so. */
		tb_text_begin_row(reader, i, from);
		return;
	}
	tb_text_mark(reader, i, from, TB_READ_START);
	tb_gathered_clear(&reader->gathered);
	reader->open = TB_OPEN_START;
	reader->is_from = false;
	gather(reader, i, from + (size_t)MAX(tb_find_start(tb_text_line(reader, i) + from), 0));
}

void tb_text_begin_from(tb_text_reader *reader, guint i)
{
	need_piece(reader, i);
	if (reader->piece->rows->len > 0 || reader->piece->start != NULL ||
		reader->piece->from_piece != NULL) {
		tb_text_begin_row(reader, i, 0);
		return;
	}
	tb_text_mark(reader, i, 0, TB_READ_START);
	tb_gathered_clear(&reader->gathered);
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
	if (reader->only_once)
		tb_gathered_clear(&reader->only);
	return both;
}

/* "… turn. Fasten off." at a row's end. */
static bool ends_finished(const tb_text *row)
{
	static const char *const words[] = {"fasten off", "finish off", "end off"};
	size_t from = row->length > 40 ? row->length - 40 : 0;
	g_autofree char *end = g_ascii_strdown(row->chars + from, -1);
	for (size_t i = 0; i < G_N_ELEMENTS(words); i++) {
		const char *at = strstr(end, words[i]);
		/* "do not fasten off" */
		bool not = at != NULL && ((at - end >= 4 && strncmp(at - 4, "not ", 4) == 0) ||
			(at - end >= 3 && strncmp(at - 3, "'t ", 3) == 0));
		if (at != NULL && !not)
			return true;
	}
	return false;
}

static void add_row(tb_text_reader *reader, tb_text *row, guint read)
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
		g_array_index(reader->pattern->reads, tb_read, read).as = TB_READ_UNREAD;
		tb_text_destroy(row);
		return;
	}
	tb_text_move_count(row);
	tb_text_part_count(row);
	tb_text_lift_definitions(reader, row);
	tb_piece_add_row(reader->piece, put_only(reader, row), read);
}

/* "Ch 60. Fasten off.": a tie is its chain. Where the end begins, or the text's. */
static size_t find_end_of_start(const tb_text *text, size_t end)
{
	for (size_t at = 1; at + 1 < end; at++) {
		const char *word = text->chars + at + 1;
		size_t length = text->chars[at] == ' ' && tb_is_among(text->chars[at - 1], ".,;)") ?
			tb_at_word(word, "fasten finish end") : 0;
		if (length > 0 && word[length] == ' ' && tb_at_word(word + length + 1, "off") > 0)
			return at + 1;
	}
	return end;
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
		from = find_end_of_start(text, tb_text_find_next_row(text, 0));
		add_start(reader, text, from);
	}
	while (from < text->length) {
		size_t next = tb_text_find_next_row(text, from), end = next;
		/* "6 sc in MR | R2: …" */
		while (next < text->length && tb_is_among(text->chars[end - 1], " |"))
			end--;
		tb_text *row = slice(text, from, end);
		guint read = from == 0 ? reader->read :
			tb_reads_begin(reader->pattern, text->offsets[from], look_at_row(row->chars));
		add_row(reader, row, read);
		from = next;
	}
	reader->open = TB_OPEN_NONE;
	tb_gathered_clear(&reader->gathered);
}
