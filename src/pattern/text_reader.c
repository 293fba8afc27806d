/*
 * The reader of plain-text patterns, as a blog post has them: a document of which every character is
 * accounted for.
 *
 * text_lines.c makes plain lines of the text, each byte remembering its place. What a line is by
 * itself, text_kinds.c says with text_heads.c (rows), text_starts.c, text_names.c (fields and
 * sections), text_headings.c and text_definitions.c; text_context.c weighs it with what stands around
 * it: a row goes on over the lines below until another beginning, a short line names a piece when its
 * start follows, "ch 3" is a start only before a row. Here the lines are gone through once. What was
 * gathered is handed on when it is whole: fields to text_fields.c, starts and rows to text_pieces.c,
 * remarks and stitches told in words to text_remarks.c.
 *
 * Each line is marked as what it is read (tb_text_mark), so that none can be passed over. Below the
 * start of a piece whatever is no heading, fact or aside is a row's text: whether it is one, the row
 * language says.
 */
#include "pattern/text_reader.h"
#include "support/limits.h"

#include <string.h>

void tb_text_fault_at(const tb_text_reader *reader, tb_severity severity, const char *code,
	tb_span place, const char *hint, const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	g_autofree char *message = g_strdup_vprintf(format, arguments);
	va_end(arguments);
	tb_where where = {.has_place = true, .place = place};
	tb_diagnose(reader->diagnostics, severity, code, &where, message, hint);
}

guint tb_text_mark(tb_text_reader *reader, guint i, size_t from, tb_read_as as)
{
	const tb_line *line = tb_lines_get(reader->lines, i);
	size_t at = from == 0 ? line->source : reader->lines->offsets[line->start + from];
	return tb_reads_begin(reader->pattern, at, as);
}

static void close_open(tb_text_reader *reader)
{
	tb_open open = reader->open;
	if (open == TB_OPEN_ROW || open == TB_OPEN_START)
		tb_text_close_row(reader);
	else if (open == TB_OPEN_FIELD)
		tb_text_close_field(reader);
	else if (open == TB_OPEN_REMARK)
		tb_text_close_remark(reader);
	else if (open == TB_OPEN_DEFINITION)
		tb_text_close_definition(reader);
	reader->open = TB_OPEN_NONE;
}

static void add_line(tb_text_reader *reader, guint i)
{
	const tb_line *line = tb_lines_get(reader->lines, i);
	tb_gathered_add(&reader->gathered, reader->lines, line->start, line->end);
}

/* Whether line I goes on with what is open; then it is added to it. */
static bool go_on(tb_text_reader *reader, guint i)
{
	bool goes_on = false;
	switch (reader->open) {
	case TB_OPEN_ROW:
	case TB_OPEN_START:
		goes_on = tb_text_continues_row(reader, i);
		break;
	case TB_OPEN_FIELD:
		goes_on = tb_text_continues_field(reader, i);
		/* sizes on lines of their own */
		if (goes_on && reader->field == TB_FIELD_SIZES && reader->gathered.chars->len > 0 && tb_text_tells_size(tb_text_line(reader, i)))
			tb_gathered_sign(&reader->gathered, ';');
		break;
	case TB_OPEN_REMARK:
		goes_on = tb_text_continues_remark(reader, i);
		if (goes_on)
			tb_text_keep_line(reader, reader->piece == NULL && reader->section == TB_SECTION_NONE ?
				reader->prose : reader->notes, i, 0);
		break;
	case TB_OPEN_DEFINITION:
		goes_on = tb_text_continues_definition(reader, i);
		if (goes_on && reader->piece == NULL)
			tb_text_keep_line(reader, reader->notes, i, 0);
		break;
	case TB_OPEN_FAREWELL:
		goes_on = reader->looks[i].kind == TB_LINE_PROSE && !tb_has_stitch(tb_text_line(reader, i));
		if (goes_on)
			tb_text_keep_line(reader, reader->notes, i, 0);
		return goes_on;
	default:
		break;
	}
	if (goes_on && reader->open == TB_OPEN_ROW && tb_text_ends_in_figure(reader->gathered.chars) &&
		g_ascii_isupper(*tb_text_line(reader, i)))
		tb_gathered_sign(&reader->gathered, '.');
	if (goes_on && reader->open == TB_OPEN_DEFINITION)
		tb_text_part_definition(reader);
	if (goes_on)
		add_line(reader, i);
	return goes_on;
}

static void begin_field(tb_text_reader *reader, guint i)
{
	size_t value;
	const tb_line *line = tb_lines_get(reader->lines, i);
	tb_text_mark(reader, i, 0, TB_READ_FACT);
	reader->field = tb_find_field(tb_text_line(reader, i), &value);
	reader->field_place = tb_text_part(reader, i, 0, value);
	reader->open = TB_OPEN_FIELD;
	if (reader->section != TB_SECTION_MATERIALS)
		reader->section = TB_SECTION_NONE;
	tb_gathered_clear(&reader->gathered);
	const char *text = tb_text_line(reader, i);
	value += strspn(text + value, " ");
	tb_gathered_add(&reader->gathered, reader->lines, line->start + value, line->end);
}

/* Whether prose between a heading and the rows is its first row: row 2 comes next. */
static bool is_first_row(const tb_text_reader *reader, guint i)
{
	tb_row_head head;
	guint work = reader->looks[i].work;
	return tb_has_stitch(tb_text_line(reader, i)) && work < reader->count &&
		reader->looks[work].kind == TB_LINE_ROW &&
		tb_is_row_head(tb_text_line(reader, work), &head) && head.first == 2;
}

/* Before the rows: what the pattern, or its next piece, is about. */
static void begin_head_line(tb_text_reader *reader, guint i)
{
	const char *line = tb_text_line(reader, i);
	if (reader->has_heading && reader->make == 0)
		reader->make = tb_find_make(line);
	if (reader->has_heading && (is_first_row(reader, i) || (reader->piece != NULL && tb_text_joins_in_skipped(line)))) {
		tb_text_begin_row(reader, i, 0);
	} else if (tb_text_tells_stitch(reader, line) ||
		(reader->looks[i].kind == TB_LINE_DEFINITION && !tb_text_warn_near_field(reader, i))) {
		/* "The words are British: dc, tr." */
		g_autofree char *name = g_strndup(line, strcspn(line, ":=("));
		if (reader->piece == NULL)
			tb_text_find_terms(reader, name);
		tb_text_begin_definition(reader, i, 0);
		tb_text_keep_line(reader, reader->notes, i, 0);
	} else {
		if (reader->piece == NULL && reader->looks[i].kind != TB_LINE_DEFINITION)
			tb_text_warn_near_field(reader, i);
		tb_text_begin_remark(reader, i, reader->piece == NULL ? reader->prose : reader->notes);
		tb_text_find_materials(reader, line);
		size_t told = tb_find_told_behind(line);
		if (told > 0) {
			close_open(reader);
			tb_text_begin_definition(reader, i, told);
			close_open(reader);
		}
	}
}

/* "Work even for 4 rows.": work all the same, behind "Fasten off." too; "Work in ends." is none. */
static bool tells_rows(const char *line)
{
	size_t length = strlen(line);
	return tb_at_word(line, "work cont continue rep repeat dec decrease inc increase") > 0 &&
		tb_find_words(line, length, "row rows rnd rnds round rounds even straight") < length;
}

/* Whether rows of the same piece stand below line I: what is said before them may be work, behind "Fasten off." too. */
static bool rows_follow(const tb_text_reader *reader, guint i)
{
	/* "Left front": a name, and no sentence */
	const char *line = tb_text_line(reader, i), *second = strchr(line, ' ');
	if ((second == NULL || strchr(second + 1, ' ') == NULL) && *line != '\0' && !tb_is_among(line[strlen(line) - 1], ".!"))
		return false;
	for (i = reader->looks[i].next; i < reader->count; i = reader->looks[i].next) {
		switch (reader->looks[i].kind) {
		case TB_LINE_ROW:
		case TB_LINE_AGAIN:
			return true;
		case TB_LINE_PROSE:
		case TB_LINE_FINISH:
			break;
		default:
			return false;
		}
	}
	return false;
}

/*
 * Below the start of a piece every line is handed to the row language, which knows rows, repeats,
 * finishing and remarks. Only what is marked as an aside is not, and farewells behind "Fasten off."
 */
static void begin_piece_line(tb_text_reader *reader, guint i)
{
	const char *line = tb_text_line(reader, i);
	size_t body = tb_find_body(line, false);
	/* "Stitch count: 20 sc." defines nothing */
	if (body > 0 && tb_find_words(line, body, "count counts total totals") < body)
		body = 0;
	if (tb_is_aside(line) || tb_is_footer(line))
		tb_text_begin_remark(reader, i, reader->notes);
	else if (reader->is_finished && !tb_joins_yarn(line) &&
		(!tb_has_stitch(line) || tb_begins_finishing(line)) && !tb_states_count(line) && !tells_rows(line) && !tb_goes_on_working(line) &&
		!rows_follow(reader, i))
		tb_text_take_finishing(reader, i);
	else if (body > 0 && (strchr(line, '=') != NULL || tb_has_abbreviation(line, body) ||
			tb_tells_stitch(line)))
		tb_text_begin_definition(reader, i, 0);
	else
		tb_text_begin_row(reader, i, 0);
}

void tb_text_begin_line(tb_text_reader *reader, guint i)
{
	if (reader->section != TB_SECTION_NONE)
		tb_text_take_listed(reader, i);
	else if (reader->piece == NULL || reader->has_heading)
		begin_head_line(reader, i);
	else
		begin_piece_line(reader, i);
}

/* The first line names the pattern, "by Ona Fell" its designer, where no field does. */
static bool take_title(tb_text_reader *reader, guint i)
{
	const char *line = tb_text_line(reader, i);
	const tb_look *look = &reader->looks[i];
	bool first = reader->first_blank;
	reader->first_blank = false;
	if ((look->kind != TB_LINE_PROSE && look->kind != TB_LINE_HEADING) || look->direct)
		return false;
	size_t by = tb_at_word(line, "design designed pattern");
	by += strspn(line + by, " ");
	size_t word = tb_at_word(line + by, "by");
	by = word > 0 ? by + word : 0;
	if (by > 0 && reader->pattern->title != NULL && reader->pattern->designer == NULL &&
		strlen(line) <= 60 && reader->prose->len == 0 && reader->piece == NULL) {
		reader->pattern->designer = g_strstrip(g_strdup(line + by));
		tb_text_mark(reader, i, 0, TB_READ_FACT);
		return true;
	}
	if (!first || (look->kind == TB_LINE_PROSE && strchr(line, ':') != NULL) || strlen(line) > 100)
		return false;
	g_autoptr(GString) raw = g_string_new(NULL);
	tb_text_keep_line(reader, raw, i, strspn(line, "#= "));
	reader->pattern->title = g_strchomp(g_strdup(raw->str));
	tb_text_mark(reader, i, 0, TB_READ_FACT);
	tb_text_find_terms(reader, line);
	return true;
}

/* The first LENGTH bytes of line I head the piece that comes. */
void tb_text_set_heading(tb_text_reader *reader, guint i, size_t length)
{
	g_free(reader->above);
	reader->above = reader->has_heading ? g_steal_pointer(&reader->heading) : NULL;
	g_free(reader->heading);
	reader->heading = g_strndup(tb_text_line(reader, i), length);
	reader->heading_place = tb_text_part(reader, i, 0, length);
	reader->has_heading = true;
	reader->make = 0;
}

static void begin_heading(tb_text_reader *reader, guint i)
{
	tb_gathered_clear(&reader->only);
	const tb_look *look = &reader->looks[i];
	bool listed = tb_text_is_listed(reader, i);
	/* The last of a list of things, above the start, is no heading. */
	bool item = look->plain && reader->section != TB_SECTION_NONE && i > 0 &&
		reader->looks[i - 1].kind != TB_LINE_BLANK && reader->looks[i - 1].kind != TB_LINE_SECTION &&
		reader->looks[i - 1].kind != TB_LINE_HEADING;
	if (listed || item) {
		tb_text_take_listed(reader, i);
		return;
	}
	if (reader->piece == NULL && !look->worked) {
		tb_text_begin_line(reader, i);
		return;
	}
	if (tb_text_take_terms(reader, i))
		return;
	tb_text_mark(reader, i, 0, TB_READ_HEADING);
	reader->open = TB_OPEN_NONE;
	reader->section = TB_SECTION_NONE;
	if (!look->worked || tb_text_is_subheading(reader, i)) {
		/* A part without rows, "BORDER": its sentences are handed to the row language. */
		if (look->worked || (reader->piece != NULL && tb_text_is_over_rows_again(reader, i)))
			tb_text_begin_part(reader, tb_text_line(reader, i));
		reader->is_finished = false;
		return;
	}
	tb_text_set_heading(reader, i, strlen(tb_text_line(reader, i)));
}

/*
 * Whether LINE, line I above all pieces, is "Dec row: …" in the notes, or "Mesh row: …" over the heading of a piece or its
 * chain: it is worked where the pieces name it.
 */
static bool tells_of_row(const tb_text_reader *reader, guint i, const char *line)
{
	tb_row_head head;
	guint work = reader->looks[i].work;
	bool over = work < reader->count && (reader->looks[work].kind == TB_LINE_HEADING || reader->looks[work].kind == TB_LINE_START);
	if (!tb_is_row_head(line, &head) || !head.is_named || head.mark != ':' || tb_find_start(line + head.length) >= 0)
		return false;
	if (tb_named_row(line) > 0)
		return reader->section == TB_SECTION_NOTES;
	return over && tb_at_word(line, "next last final following foundation base set setup set-up first every all joining") == 0;
}

/* Rows stand in a piece, or begin one; in a list of stitches before all starts they tell of one. */
static void begin_row(tb_text_reader *reader, guint i, size_t from)
{
	const char *line = tb_text_line(reader, i);
	tb_row_head head;
	bool bare = tb_is_row_head(line + from, &head) && head.is_bare;
	bool in_piece = reader->piece != NULL || reader->has_heading;
	bool listed = reader->section == TB_SECTION_DEFINITIONS && !in_piece && i < reader->last_start;
	listed = listed || (!in_piece && i < reader->last_start && tells_of_row(reader, i, line + from));
	if (listed)
		tb_text_begin_definition(reader, i, 0);
	else if (bare && (reader->section != TB_SECTION_NONE ||
			((!in_piece || reader->is_finished) && !tb_has_stitch(line))))
		tb_text_begin_line(reader, i);
	else
		tb_text_begin_row(reader, i, from);
}

/* "PATTERN (worked over an even number of sts)" right above rows, before any piece begins: the stitch pattern they make. */
static bool heads_pattern(const tb_text_reader *reader, guint i)
{
	guint next = reader->looks[i].next;
	tb_row_head head;
	return reader->piece == NULL && !reader->has_heading && next < reader->last_start && next == i + 1 &&
		reader->looks[next].kind == TB_LINE_ROW && tb_is_row_head(tb_text_line(reader, next), &head) && head.first == 1 &&
		tb_is_main_pattern(tb_text_line(reader, i));
}

static void begin(tb_text_reader *reader, guint i)
{
	tb_line_kind kind = reader->looks[i].kind;
	const char *line = tb_text_line(reader, i);
	if (take_title(reader, i))
		return;
	bool in_piece = reader->piece != NULL || reader->has_heading;
	bool in_section = reader->section != TB_SECTION_NONE;
	if (tb_text_is_own_sizes(reader, i))
		kind = TB_LINE_ONLY;
	size_t from = kind == TB_LINE_ALL_SIZES ? tb_find_all_sizes(line) : 0;
	from += strspn(line + from, " ");
	if (reader->piece != NULL && !in_section && kind != TB_LINE_ROW && kind != TB_LINE_HEADING && tb_tells_surface(line)) {
		tb_text_begin_row(reader, i, tb_skip_surface_label(line));
		return;
	}
	if (in_piece && !in_section && kind != TB_LINE_ROW && kind != TB_LINE_HEADING && tb_text_tells_laid(reader, line)) {
		tb_text_begin_remark(reader, i, reader->notes);
		return;
	}
	if (in_piece && !in_section && kind != TB_LINE_ROW && kind != TB_LINE_HEADING && tb_text_tells_seam(line, reader->is_finished)) {
		tb_text_take_finishing(reader, i);
		return;
	}
	/* "As Back for tiers 1 to 4": no row, and not counted */
	if (in_piece && !in_section && kind != TB_LINE_ROW && kind != TB_LINE_HEADING && tb_text_speaks_of_tiers(line)) {
		tb_text_fault_at(reader, TB_WARNING, "motifs-unread", tb_text_part(reader, i, 0, strlen(line)),
			"As in “Back: 4 rows of 6 squares”.", "how these motifs lie is not counted");
		tb_text_begin_remark(reader, i, reader->notes);
		return;
	}
	switch (kind) {
	case TB_LINE_ALL_SIZES:
		tb_gathered_clear(&reader->only);
		tb_text_take_all(reader, i);
		if (line[from] == '\0')
			tb_text_mark(reader, i, 0, TB_READ_ROW);
		else if (in_piece)
			tb_text_begin_row(reader, i, from);
		else
			tb_text_begin_line(reader, i);
		break;
	case TB_LINE_ONLY:
		if (!in_piece && !reader->looks[i].worked)
			tb_text_begin_line(reader, i);
		else if (!tb_text_take_only(reader, i))
			tb_text_begin_row(reader, i, 0);
		break;
	case TB_LINE_ROW:
		begin_row(reader, i, 0);
		break;
	case TB_LINE_AGAIN:
	case TB_LINE_FINISH:
	case TB_LINE_LIKE:
		if (in_piece && (!in_section || (reader->section == TB_SECTION_FINISHING &&
				kind == TB_LINE_AGAIN)))
			tb_text_begin_row(reader, i, 0);
		else
			tb_text_begin_line(reader, i);
		break;
	case TB_LINE_FIELD:
		begin_field(reader, i);
		break;
	case TB_LINE_FACT:
		tb_text_take_fact(reader, i);
		break;
	case TB_LINE_SECTION:
		tb_text_begin_section(reader, i);
		break;
	case TB_LINE_NEUTRAL:
		tb_text_mark(reader, i, 0, TB_READ_HEADING);
		if (reader->piece == NULL)
			tb_text_find_terms(reader, line);
		reader->section = TB_SECTION_NONE;
		if (heads_pattern(reader, i))
			tb_text_set_heading(reader, i, strlen(line));
		break;
	case TB_LINE_FROM:
		if (in_piece)
			tb_text_begin_from(reader, i);
		else
			tb_text_begin_line(reader, i);
		break;
	case TB_LINE_START:
		if (tb_text_is_start(reader, i))
			tb_text_begin_start(reader, i, 0);
		else
			tb_text_begin_line(reader, i);
		break;
	case TB_LINE_HEADING:
		begin_heading(reader, i);
		break;
	case TB_LINE_LABELLED:
		tb_text_begin_labelled(reader, i);
		break;
	default:
		tb_text_begin_line(reader, i);
		break;
	}
}

/* Whether what is open goes on behind the blank lines from line I on. */
static bool goes_on_behind(const tb_text_reader *reader, guint i)
{
	guint next = reader->looks[i].next;
	if (next == reader->count)
		return false;
	/* "## Gauge", a blank line, and then the gauge. */
	if (reader->open == TB_OPEN_FIELD)
		return reader->gathered.chars->len == 0;
	if (reader->open == TB_OPEN_DEFINITION)
		return reader->section == TB_SECTION_DEFINITIONS &&
			reader->looks[next].kind == TB_LINE_PROSE &&
			tb_find_body(reader->gathered.chars->str, true) == 0 &&
			tb_find_body(tb_text_line(reader, next), true) == 0;
	return (reader->open == TB_OPEN_ROW || reader->open == TB_OPEN_START) &&
		tb_text_continues_row(reader, next);
}

static void read_lines(tb_text_reader *reader)
{
	guint i = 0;
	for (; i < reader->count && !reader->is_full; i++) {
		if (reader->looks[i].kind == TB_LINE_BLANK) {
			if (goes_on_behind(reader, i))
				continue;
			close_open(reader);
			tb_text_mark(reader, i, 0, tb_lines_get(reader->lines, i)->heads ? TB_READ_HEADING : TB_READ_BLANK);
			if (reader->section_ends)
				reader->section = TB_SECTION_NONE;
			if (reader->only_used)
				tb_gathered_clear(&reader->only);
			continue;
		}
		if (go_on(reader, i))
			continue;
		close_open(reader);
		begin(reader, i);
	}
	close_open(reader);
	if (i < reader->count)
		tb_text_mark(reader, i, 0, TB_READ_UNREAD);
	tb_text_end_piece(reader);
}

/* What was kept goes to the pattern: before the notes, what no field says it is about. */
static void keep_prose(tb_text_reader *reader)
{
	tb_pattern *pattern = reader->pattern;
	g_strchomp(reader->prose->str);
	g_autoptr(GString) notes = g_string_new(pattern->notes);
	if (pattern->about == NULL && *reader->prose->str != '\0')
		pattern->about = g_strdup(reader->prose->str);
	else if (*reader->prose->str != '\0')
		g_string_append_printf(notes, "%s%s\n", notes->len > 0 ? "\n" : "", reader->prose->str);
	g_string_append_printf(notes, "%s%s", notes->len > 0 && reader->notes->len > 0 ? "\n" : "",
		reader->notes->str);
	g_free(pattern->notes);
	pattern->notes = notes->len > 0 ? g_strchomp(g_strdup(notes->str)) : NULL;
}

static void fault_no_piece(tb_text_reader *reader)
{
	guint first = 0;
	while (first + 1 < reader->count && reader->looks[first].kind == TB_LINE_BLANK)
		first++;
	tb_text_fault_at(reader, TB_ERROR, "piece-list",
		tb_text_part(reader, first, 0, strlen(tb_text_line(reader, first))),
		"A piece has a heading such as BACK, a start such as “Ch 85.”, and rows such as “Row 1: …”.",
		"no piece is found in this pattern");
}

bool tb_pattern_read_text(tb_pattern *pattern, tb_diagnostics *diagnostics)
{
	g_autoptr(tb_lines) lines = tb_lines_read(pattern->source);
	tb_text_reader reader = {.pattern = pattern, .diagnostics = diagnostics, .lines = lines,
		.first_blank = true};
	reader.prose = g_string_new(NULL);
	reader.notes = g_string_new(NULL);
	reader.charts = g_ptr_array_new_with_free_func((GDestroyNotify)tb_text_destroy);
	tb_gathered_init(&reader.gathered);
	tb_gathered_init(&reader.only);
	reader.count = lines->lines->len;
	reader.looks = g_new0(tb_look, reader.count + 1);
	tb_text_take_terms_of_words(&reader);
	tb_text_look(&reader);
	read_lines(&reader);
	tb_text_use_patterns(&reader);
	if (pattern->pieces->len == 0)
		fault_no_piece(&reader);
	tb_text_tell_terms_of_words(&reader);
	tb_text_find_head_sizes(&reader);
	tb_text_take_fit(&reader);
	tb_text_find_laid(&reader);
	tb_text_find_seams(&reader);
	tb_text_read_charts(&reader);
	keep_prose(&reader);
	tb_gathered_finish(&reader.gathered);
	tb_gathered_finish(&reader.only);
	g_string_free(reader.prose, TRUE);
	g_string_free(reader.notes, TRUE);
	g_ptr_array_unref(reader.charts);
	tb_text_destroy(reader.fit);
	g_clear_pointer(&reader.used, g_hash_table_unref);
	g_free(reader.looks);
	g_free(reader.heading);
	g_free(reader.above);
	return true;
}
