/*
 * What is said around the rows: remarks, a sentence or a paragraph a text, and stitches told in
 * words. Both are kept with their places, for the row language to look for what it can use.
 */
#include "pattern/text_reader.h"

#include "support/limits.h"

#include <string.h>

static void gather(tb_text_reader *reader, guint i, size_t from)
{
	const tb_line *line = tb_lines_get(reader->lines, i);
	tb_gathered_add(&reader->gathered, reader->lines, line->start + from, line->end);
}

void tb_text_keep_line(tb_text_reader *reader, GString *to, guint i, size_t from)
{
	const tb_line *line = tb_lines_get(reader->lines, i);
	const guint32 *offsets = reader->lines->offsets;
	tb_span place = {offsets[line->start + from], offsets[line->end]};
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

void tb_text_begin_remark(tb_text_reader *reader, guint i, GString *to)
{
	tb_text_mark(reader, i, 0, TB_READ_REMARK);
	tb_gathered_clear(&reader->gathered);
	reader->open = TB_OPEN_REMARK;
	size_t signs = strspn(tb_text_line(reader, i), "# ");
	gather(reader, i, signs);
	tb_text_keep_line(reader, to, i, signs);
}

void tb_text_begin_definition(tb_text_reader *reader, guint i, size_t from)
{
	tb_text_mark(reader, i, 0, TB_READ_DEFINITION);
	tb_gathered_clear(&reader->gathered);
	reader->open = TB_OPEN_DEFINITION;
	gather(reader, i, from);
}

void tb_text_part_definition(tb_text_reader *reader)
{
	const GString *so_far = reader->gathered.chars;
	char last = so_far->len > 0 ? so_far->str[so_far->len - 1] : '\0';
	if ((g_ascii_isalnum(last) || last == ')') && tb_find_body(so_far->str, true) == 0 &&
		tb_text_names_stitch(reader, so_far->str, so_far->len))
		tb_gathered_sign(&reader->gathered, ':');
}

void tb_text_close_remark(tb_text_reader *reader)
{
	g_autoptr(tb_text) text = tb_gathered_text(&reader->gathered);
	if (reader->piece == NULL) {
		tb_text_find_terms(reader, text->chars);
		tb_text_find_sizes(reader, text);
	}
	tb_text_find_finished(reader, text);
	if (text->length > 0)
		g_ptr_array_add(reader->pattern->remarks, g_steal_pointer(&text));
}

static tb_text *slice(const tb_text *text, size_t start, size_t end)
{
	while (end > start && tb_is_among(text->chars[end - 1], " ,;"))
		end--;
	tb_text *part = tb_text_create(text->chars + start, end - start, text->offsets[start]);
	part->offsets = g_memdup2(text->offsets + start, (end - start + 1) * sizeof(guint32));
	return part;
}

void tb_text_hear(tb_text_reader *reader, const tb_text *text)
{
	if (reader->piece == NULL)
		tb_text_find_terms(reader, text->chars);
	for (size_t at = 0; at < text->length;) {
		size_t length = strcspn(text->chars + at, ".;!\n");
		size_t from = at + strspn(text->chars + at, " -");
		g_autofree char *sentence = g_strndup(text->chars + from, MAX(at + length, from) - from);
		if (tb_tells_counting(sentence))
			g_ptr_array_add(reader->pattern->remarks, slice(text, from, at + length));
		at += length + 1;
	}
}

/* What parts name and body at TEXT: '=' (or a colon), '-' (any dash), ' ' for nothing; 0: no body. */
static char find_style(const char *text)
{
	size_t body = tb_find_body(text, true);
	for (size_t at = 0; at < body; at++) {
		if (text[at] == '=' || text[at] == ':')
			return '=';
	}
	for (size_t at = 1; at < body; at++) {
		if (text[at - 1] == ' ' && (text[at] == '-' || g_str_has_prefix(text + at, "—")))
			return '-';
	}
	return body > 0 ? ' ' : 0;
}

/* Whether the name at TEXT, before a body that begins BODY bytes on, is a stitch's: no body has an equals sign. */
static bool begins_name(tb_text_reader *reader, const char *text, size_t body)
{
	tb_told told;
	if (text[strcspn(text, "=:,;.")] == '=')
		return true;
	return tb_text_names_stitch(reader, text, body) ||
		(tb_told_find(text, true, &told) && tb_text_names_told(reader, text, &told));
}

/* "sc = single crochet, dc = …", "Shell: 5 dc in st. V-st: …": where the next begins, or the end. */
static size_t find_next(tb_text_reader *reader, const tb_text *text, size_t from)
{
	unsigned depth = 0;
	char style = find_style(text->chars + from);
	for (size_t at = from; at + 2 < text->length; at++) {
		char c = text->chars[at];
		depth += c == '(' || c == '[';
		depth -= depth > 0 && (c == ')' || c == ']');
		if (depth > 0 || !tb_is_among(c, ",;.") || text->chars[at + 1] != ' ')
			continue;
		/* "inc = 2 sc in same st.   dec = sc2tog" */
		size_t begin = at + 1 + strspn(text->chars + at + 1, " ");
		const char *next = text->chars + begin;
		size_t body = tb_find_body(next, true);
		char own = body > 0 ? find_style(next) : 0;
		bool parted = c != ',' && own != ' ' && tb_text_tells_stitch(reader, next);
		if (body > 0 && (own == style || parted) && begins_name(reader, next, body))
			return begin;
	}
	return text->length;
}

/* What TEXT tells, in the one form that is read; takes TEXT. */
static tb_text *plain_form(tb_text *text)
{
	tb_told told;
	bool found = tb_told_find(text->chars, true, &told);
	/* "sh 5 dc in same st", with nothing between; an abbreviation and its words tell no stitch */
	size_t body = found ? 0 : tb_find_body(text->chars, true);
	if (body > 0 && !g_ascii_isalpha(text->chars[body])) {
		told = (tb_told){.name_end = strcspn(text->chars, " "), .body = body, .end = text->length};
		found = true;
	}
	if (!found || told.is_plain)
		return text;
	tb_text *composed = tb_told_compose(text, &told);
	tb_text_destroy(text);
	return composed;
}

bool tb_text_is_full_of_definitions(tb_text_reader *reader, const tb_text *text)
{
	const tb_pattern *pattern = reader->pattern;
	if (pattern->definitions->len + pattern->inline_definitions->len < TB_LIMIT_DEFINITIONS)
		return false;
	tb_text_fault_at(reader, TB_ERROR, "limit-definitions", tb_text_span(text, 0, text->length),
		"Take out the stitches that the rows do not have.", "a pattern may tell of %u stitches", TB_LIMIT_DEFINITIONS);
	return true;
}

void tb_text_add_definition(tb_text_reader *reader, GPtrArray *to, tb_text *text)
{
	if (tb_text_is_full_of_definitions(reader, text))
		tb_text_destroy(text);
	else
		g_ptr_array_add(to, text);
}

void tb_text_close_definition(tb_text_reader *reader)
{
	g_autoptr(tb_text) text = tb_gathered_text(&reader->gathered);
	if (text->length > TB_LIMIT_PROSE_BYTES) {
		tb_text_fault_at(reader, TB_ERROR, "text-too-long", tb_text_span(text, 0, 1), "Give each stitch a line of its own.",
			"what is told of stitches in one paragraph may have %u KiB", TB_LIMIT_PROSE_BYTES / 1024);
		return;
	}
	for (size_t from = 0; from < text->length;) {
		size_t next = find_next(reader, text, from);
		if (from > 0)
			tb_reads_begin(reader->pattern, text->offsets[from], TB_READ_DEFINITION);
		tb_text_add_definition(reader, reader->pattern->definitions, plain_form(slice(text, from, next)));
		from = next;
	}
}
