/*
 * The reader of plain-text patterns, as a blog post has them.
 *
 * text_lines.c makes plain lines of the text, each byte remembering its place; text_kinds.c and
 * text_names.c say what a line is by itself. Here the lines are gone through once, and what a line
 * is by itself is weighed with what stands around it (text_context.c): a row goes on over the lines
 * below until a blank line or another beginning, a heading names a piece only when rows follow it,
 * "ch 3" is a start only before a row. What was gathered is handed on when it is whole: fields to
 * text_fields.c, starts and rows to text_pieces.c. Words before the first piece are kept as what
 * the pattern is about; words between the rows of a piece are told, since nobody works them.
 */
#include "pattern/text_reader.h"

#include "support/limits.h"

#include <string.h>

static const char hint_unread[] =
	"Rows begin “Row 1: …”, repeats “Rep Rows 3-6 …”. Put a remark in brackets, or begin it with "
	"“Note”.";

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

static const char *line_text(const tb_text_reader *reader, guint i)
{
	return tb_lines_text(reader->lines, i);
}

static tb_span part_of_line(const tb_text_reader *reader, guint i, size_t start, size_t end)
{
	const guint32 *offsets = reader->lines->offsets + tb_lines_get(reader->lines, i)->start;
	return (tb_span){offsets[start], offsets[end]};
}

static void warn_unread(tb_text_reader *reader, guint i)
{
	tb_span place = part_of_line(reader, i, 0, strlen(line_text(reader, i)));
	tb_where where = {.has_place = true, .place = place, .piece = reader->piece->name};
	tb_diagnose(reader->diagnostics, TB_WARNING, "text-unread", &where,
		"this is not a row, and was not worked", hint_unread);
}

static void close_open(tb_text_reader *reader)
{
	tb_open open = reader->open;
	if (open == TB_OPEN_ROW || open == TB_OPEN_START)
		tb_text_close_row(reader);
	else if (open == TB_OPEN_FIELD)
		tb_text_close_field(reader);
	reader->open = TB_OPEN_NONE;
}

static void add_line(tb_text_reader *reader, guint i)
{
	const tb_line *line = tb_lines_get(reader->lines, i);
	tb_gathered_add(&reader->gathered, reader->lines, line->start, line->end);
}

/* Keeps line I, from byte FROM on, as the designer typed it. */
static void keep_line(tb_text_reader *reader, GString *to, guint i, size_t from)
{
	tb_span place = part_of_line(reader, i, from, strlen(line_text(reader, i)));
	const char *text = tb_source_get_text(reader->lines->source, NULL);
	if (to->len > TB_LIMIT_PROSE_BYTES)
		return;
	g_autofree char *raw = g_strndup(text + place.start, place.end - place.start);
	g_strstrip(raw);
	if (*raw != '\0')
		g_string_append_printf(to, "%s\n", raw);
	/* Told where it passes the limit; no more of it is kept. */
	if (to->len > TB_LIMIT_PROSE_BYTES)
		tb_text_fault_at(reader, TB_ERROR, "text-too-long", place,
			"Take out what is not about the pattern.",
			"the words around the rows may have %u KiB", TB_LIMIT_PROSE_BYTES / 1024);
}

/* Notes and materials may say what fields do. */
static void keep_note(tb_text_reader *reader, guint i)
{
	const char *line = line_text(reader, i);
	if (reader->piece == NULL) {
		tb_text_find_terms(reader, line);
		tb_text_find_materials(reader, line);
	}
	keep_line(reader, reader->notes, i, strspn(line, "# "));
}

static bool go_on(tb_text_reader *reader, guint i, tb_line_kind kind)
{
	switch (reader->open) {
	case TB_OPEN_ROW:
	case TB_OPEN_START:
		if (!tb_text_continues_row(reader, i, kind))
			return false;
		add_line(reader, i);
		return true;
	case TB_OPEN_FIELD:
		if (!tb_text_continues_field(reader, i, kind))
			return false;
		add_line(reader, i);
		return true;
	case TB_OPEN_NOTE:
		if (kind != TB_LINE_PROSE && kind != TB_LINE_START)
			return false;
		keep_note(reader, i);
		return true;
	case TB_OPEN_PROSE:
	case TB_OPEN_UNREAD:
		if (kind != TB_LINE_PROSE)
			return false;
		if (reader->open == TB_OPEN_PROSE) {
			tb_text_find_terms(reader, line_text(reader, i));
			keep_line(reader, reader->prose, i, 0);
		}
		return true;
	default:
		return false;
	}
}

static void begin_field(tb_text_reader *reader, guint i)
{
	size_t value;
	const tb_line *line = tb_lines_get(reader->lines, i);
	reader->field = tb_find_field(line_text(reader, i), &value);
	reader->field_place = part_of_line(reader, i, 0, value);
	reader->open = TB_OPEN_FIELD;
	reader->in_section = false;
	tb_gathered_clear(&reader->gathered);
	const char *text = line_text(reader, i);
	value += strspn(text + value, " ");
	tb_gathered_add(&reader->gathered, reader->lines, line->start + value, line->end);
}

/* "Notes", "Note: use the smaller hook." A heading opens a section, a sentence is one by itself. */
static void begin_section(tb_text_reader *reader, guint i)
{
	const char *line = line_text(reader, i);
	size_t name = tb_find_section(line);
	bool alone = line[name + strspn(line + name, " ")] == '\0';
	reader->in_section = reader->in_section || alone || reader->piece == NULL;
	reader->has_heading = false;
	reader->open = TB_OPEN_NOTE;
	keep_note(reader, i);
}

/* Finishing that makes no stitch is no row, and nobody expects it in a chart. */
static bool is_finishing(const char *line)
{
	return tb_at_word(line, "weave sew block steam press wash stuff darn tie trim") > 0;
}

static void begin_prose(tb_text_reader *reader, guint i)
{
	const char *line = line_text(reader, i);
	size_t length;
	if (reader->in_section) {
		reader->open = TB_OPEN_NOTE;
		keep_note(reader, i);
		return;
	}
	if (reader->piece == NULL) {
		const char *near = tb_nearest_field(line, &length);
		g_autofree char *hint = near != NULL ?
			g_strdup_printf("Did you mean “%c%s:”?", g_ascii_toupper(*near), near + 1) : NULL;
		if (near != NULL)
			tb_text_fault_at(reader, TB_WARNING, "field-unknown",
				part_of_line(reader, i, 0, length), hint, "this is no field that is understood");
		reader->open = TB_OPEN_PROSE;
		tb_text_find_terms(reader, line);
		keep_line(reader, reader->prose, i, 0);
		return;
	}
	/* Behind "Fasten off." only farewells are said, until something is headed or worked again. */
	bool remark = *line == '(' || *line == '[' || is_finishing(line) || reader->is_finished;
	reader->open = remark ? TB_OPEN_NOTE : TB_OPEN_UNREAD;
	if (remark)
		keep_line(reader, reader->notes, i, 0);
	else
		warn_unread(reader, i);
}

/* The first line names the pattern, "by Ona Fell" its designer, where no field does. */
static bool take_title(tb_text_reader *reader, guint i, tb_line_kind kind)
{
	const char *line = line_text(reader, i);
	bool first = reader->first_blank;
	reader->first_blank = false;
	if (kind != TB_LINE_PROSE && kind != TB_LINE_HEADING)
		return false;
	size_t by = tb_at_word(line, "design designed pattern");
	by += strspn(line + by, " ");
	size_t word = tb_at_word(line + by, "by");
	by = word > 0 ? by + word : 0;
	if (by > 0 && reader->pattern->title != NULL && reader->pattern->designer == NULL &&
		strlen(line) <= 60 && reader->prose->len == 0 && reader->piece == NULL) {
		reader->pattern->designer = g_strstrip(g_strdup(line + by));
		return true;
	}
	if (!first || (kind == TB_LINE_PROSE && strchr(line, ':') != NULL) || strlen(line) > 100)
		return false;
	const char *name = line + strspn(line, "#= ");
	g_autoptr(GString) raw = g_string_new(NULL);
	keep_line(reader, raw, i, (size_t)(name - line));
	reader->pattern->title = g_strchomp(g_strdup(raw->str));
	return true;
}

/* "Sizes M (L) only:" on a line of its own is about the rows below it, up to a blank line. */
static bool take_only(tb_text_reader *reader, guint i)
{
	const char *line = line_text(reader, i);
	size_t only = tb_find_only(line);
	tb_gathered_clear(&reader->only);
	reader->only_used = false;
	if (line[only + strspn(line + only, " .")] != '\0')
		return false;
	const tb_line *at = tb_lines_get(reader->lines, i);
	tb_gathered_add(&reader->only, reader->lines, at->start, at->start + only);
	return true;
}

static void begin_heading(tb_text_reader *reader, const tb_line_kind *kinds, guint count, guint i,
	bool worked)
{
	tb_gathered_clear(&reader->only);
	if (worked && tb_text_is_subheading(reader, kinds, count, i)) {
		reader->in_section = reader->is_finished = false;
		reader->open = TB_OPEN_NONE;
	} else if (worked) {
		reader->has_heading = true;
		reader->heading = i;
		reader->in_section = false;
	} else if (reader->piece == NULL) {
		begin_prose(reader, i);
	} else {
		/* A part without rows, "BORDER": its sentences are told, unless it is a section. */
		reader->in_section = reader->is_finished = false;
		reader->open = TB_OPEN_NONE;
	}
}

static void begin(tb_text_reader *reader, const tb_line_kind *kinds, guint count, guint i,
	bool worked)
{
	tb_line_kind kind = kinds[i];
	const char *line = line_text(reader, i);
	bool direct = tb_text_is_heading(reader, kinds, count, i);
	if (!direct && take_title(reader, i, kind))
		return;
	size_t from = kind == TB_LINE_ALL_SIZES ? tb_find_all_sizes(line) : 0;
	from += strspn(line + from, " ");
	switch (kind) {
	case TB_LINE_ALL_SIZES:
		tb_gathered_clear(&reader->only);
		if (line[from] != '\0')
			tb_text_begin_row(reader, i, from, TB_LINE_ROW);
		break;
	case TB_LINE_ONLY:
		if (!take_only(reader, i))
			tb_text_begin_row(reader, i, 0, kind);
		break;
	case TB_LINE_ROW:
	case TB_LINE_AGAIN:
	case TB_LINE_FINISH:
		tb_text_begin_row(reader, i, 0, kind);
		break;
	case TB_LINE_FIELD:
		begin_field(reader, i);
		break;
	case TB_LINE_SECTION:
		begin_section(reader, i);
		break;
	case TB_LINE_NEUTRAL:
		reader->in_section = false;
		break;
	case TB_LINE_FROM:
		tb_text_begin_from(reader, i);
		break;
	case TB_LINE_START:
		if (tb_text_is_start(reader, kinds, count, i))
			tb_text_begin_start(reader, i);
		else
			begin_prose(reader, i);
		break;
	case TB_LINE_HEADING:
		begin_heading(reader, kinds, count, i, worked);
		break;
	default:
		if (direct && !reader->in_section)
			begin_heading(reader, kinds, count, i, true);
		else
			begin_prose(reader, i);
		break;
	}
}

static void read_lines(tb_text_reader *reader)
{
	guint count = reader->lines->lines->len;
	g_autofree tb_line_kind *kinds = g_new(tb_line_kind, count + 1);
	g_autofree bool *worked = g_new(bool, count + 1);
	for (guint i = 0; i < count; i++)
		kinds[i] = tb_line_find_kind(line_text(reader, i));
	tb_text_find_worked(kinds, count, worked);
	for (guint i = 0; i < count && !reader->is_full; i++) {
		if (kinds[i] == TB_LINE_BLANK) {
			/* "## Gauge", a blank line, and then the gauge. */
			if (reader->open == TB_OPEN_FIELD && reader->gathered.chars->len == 0)
				continue;
			close_open(reader);
			if (reader->only_used)
				tb_gathered_clear(&reader->only);
			continue;
		}
		if (go_on(reader, i, kinds[i]))
			continue;
		close_open(reader);
		begin(reader, kinds, count, i, worked[i]);
	}
	close_open(reader);
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
	guint first = 0, count = reader->lines->lines->len;
	while (first + 1 < count && *line_text(reader, first) == '\0')
		first++;
	tb_text_fault_at(reader, TB_ERROR, "piece-list",
		part_of_line(reader, first, 0, strlen(line_text(reader, first))),
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
	read_lines(&reader);
	if (pattern->pieces->len == 0)
		fault_no_piece(&reader);
	tb_text_read_charts(&reader);
	keep_prose(&reader);
	tb_gathered_finish(&reader.gathered);
	tb_gathered_finish(&reader.only);
	g_string_free(reader.prose, TRUE);
	g_string_free(reader.notes, TRUE);
	g_ptr_array_unref(reader.charts);
	return true;
}
