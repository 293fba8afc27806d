/* What a line is where it stands: whether it goes on with what came before, or begins something. */
#include "pattern/text_reader.h"

#include "stitches/stitch.h"

#include <string.h>

static const char *line_text(const tb_text_reader *reader, guint i)
{
	return tb_lines_text(reader->lines, i);
}

static guint next_line(const tb_line_kind *kinds, guint count, guint i)
{
	for (i++; i < count && kinds[i] == TB_LINE_BLANK;)
		i++;
	return i;
}

static bool is_work(tb_line_kind kind)
{
	return kind == TB_LINE_ROW || kind == TB_LINE_AGAIN || kind == TB_LINE_START ||
		kind == TB_LINE_FROM || kind == TB_LINE_ONLY;
}

/* Whether rows follow line I before another heading: for every line, from the last to the first. */
void tb_text_find_worked(const tb_line_kind *kinds, guint count, bool *worked)
{
	bool follows = false;
	for (guint i = count; i-- > 0;) {
		worked[i] = follows;
		if (is_work(kinds[i]))
			follows = true;
		else if (kinds[i] == TB_LINE_HEADING || kinds[i] == TB_LINE_SECTION ||
			kinds[i] == TB_LINE_NEUTRAL)
			follows = false;
	}
}

/* "Chain 3 counts as dc throughout." is said about rows; a start stands before one. */
bool tb_text_is_start(const tb_text_reader *reader, const tb_line_kind *kinds, guint count,
	guint i)
{
	if (strstr(line_text(reader, i), " count") != NULL)
		return false;
	if (reader->has_heading)
		return true;
	guint next = next_line(kinds, count, i);
	while (next < count && kinds[next] == TB_LINE_PROSE && next == i + 1)
		next = next_line(kinds, count, i = next);
	if (next < count && (kinds[next] == TB_LINE_ROW || kinds[next] == TB_LINE_START))
		return kinds[next] == TB_LINE_ROW || !reader->in_section;
	return !reader->in_section && reader->open != TB_OPEN_PROSE;
}

bool tb_text_is_heading(const tb_text_reader *reader, const tb_line_kind *kinds, guint count,
	guint i)
{
	guint next = next_line(kinds, count, i);
	return tb_may_be_plain_heading(line_text(reader, i)) && next < count &&
		(kinds[next] == TB_LINE_START || kinds[next] == TB_LINE_FROM ||
			kinds[next] == TB_LINE_ROW);
}

/* A piece begins with its start or its first row; what comes to a later row goes on with one. */
bool tb_text_is_subheading(const tb_text_reader *reader, const tb_line_kind *kinds, guint count,
	guint i)
{
	if (reader->piece == NULL || reader->piece->rows->len == 0 || reader->has_heading)
		return false;
	guint next = next_line(kinds, count, i);
	while (next < count && (kinds[next] == TB_LINE_PROSE || kinds[next] == TB_LINE_ONLY))
		next = next_line(kinds, count, next);
	if (next == count)
		return false;
	if (kinds[next] == TB_LINE_AGAIN)
		return true;
	if (kinds[next] != TB_LINE_ROW)
		return false;
	const char *line = line_text(reader, next);
	size_t digits = strcspn(line, "0123456789:");
	return tb_at_word(line, "next") > 0 || (g_ascii_isdigit(line[digits]) &&
		g_ascii_strtoull(line + digits, NULL, 10) > 1);
}

static char last_char(const GString *text)
{
	return text->len > 0 ? text->str[text->len - 1] : '\0';
}

static bool ends_sentence(const GString *text)
{
	return text->len > 0 && strchr(".])!", last_char(text)) != NULL;
}

/* "ending with", "Rep Rows": the line break fell before what belongs to it. */
static bool ends_open(const GString *text)
{
	const char *word = text->str + text->len;
	while (word > text->str && word[-1] != ' ' && text->len - (gsize)(word - text->str) < 10)
		word--;
	size_t known = tb_at_word(word, "with after rep repeat and to through in of as like from for "
								"until ending than row rows rnd rnds round rounds or before");
	return known > 0 && word[known] == '\0';
}

/* Whether a line may go on with a row: it begins small, with a sign, or with what is worked. */
static bool begins_act(const tb_text_reader *reader, const char *line)
{
	/* "(Remember to breathe.)" is a remark, "(83 sts)" is not. */
	line += *line == '(' || *line == '[';
	size_t work = tb_at_word(line, "work");
	if (work > 0 && tb_at_word(line + work + strspn(line + work, " "),
			"even straight as until same without") > 0)
		return false;
	if (!g_unichar_isupper(g_utf8_get_char(line)) ||
		tb_at_word(line, "fasten finish turn join do sk skip miss leave ch chain rep repeat work "
				"working size sizes for with then cut end last next in all *") > 0)
		return true;
	size_t length = strspn(line, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789");
	const tb_library *library = reader->pattern->library;
	for (unsigned words = 0; words < 3 && length <= 60; words++) {
		g_autofree char *name = g_strndup(line, length);
		if (tb_library_find_term(library, name, reader->pattern->uk_terms) != NULL)
			return true;
		if (line[length] != ' ')
			break;
		length += 1 + strcspn(line + length + 1, " ,.;:");
	}
	return false;
}

/* Whether line I, which nothing parts from the row before it, goes on with that row. */
bool tb_text_continues_row(const tb_text_reader *reader, guint i, tb_line_kind kind)
{
	const GString *row = reader->gathered.chars;
	const char *line = line_text(reader, i);
	tb_row_head head;
	char last = last_char(row);
	switch (kind) {
	case TB_LINE_ROW:
		return ends_open(row) || (last == ',' && tb_is_row_head(line, &head) && head.mark != ':');
	case TB_LINE_AGAIN:
		return ends_open(row) || last == ',' || last == ':';
	case TB_LINE_FINISH:
	case TB_LINE_FROM:
	case TB_LINE_ONLY:
	case TB_LINE_HEADING:
		return !ends_sentence(row);
	case TB_LINE_START:
		return true;
	case TB_LINE_PROSE:
		return !ends_sentence(row) || begins_act(reader, line);
	default:
		return false;
	}
}

/* A value goes on below when it has not begun, is set in, or is one that takes sentences. */
bool tb_text_continues_field(const tb_text_reader *reader, guint i, tb_line_kind kind)
{
	bool empty = reader->gathered.chars->len == 0;
	const char *line = line_text(reader, i);
	/* "XS (S, M)" has no small letter, like a heading. */
	if (kind == TB_LINE_HEADING)
		return empty && reader->field == TB_FIELD_SIZES && strpbrk(line, "(,[") != NULL &&
			strstr(line, "MAKE") == NULL;
	if (kind != TB_LINE_PROSE)
		return false;
	return empty || tb_lines_get(reader->lines, i)->indented ||
		reader->field == TB_FIELD_ABOUT || reader->field == TB_FIELD_YARN ||
		reader->field == TB_FIELD_LICENCE || last_char(reader->gathered.chars) == ',';
}
