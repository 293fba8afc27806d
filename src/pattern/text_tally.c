/*
 * "Tally: 30 (34, 38) sts.": a word of the designer's own, under which the counts of rows are told again and again.
 * It says nothing but that what is behind it is a count, and the count becomes a line of its own.
 */
#include "pattern/text_lines.h"

#include "pattern/text_kinds.h"

#include <string.h>

#define LONGEST_LABEL 24u

/* The bytes of "30 (34, 38) sts", "still 30" at TEXT, which must be figures for all sizes and no work; 0 for anything else. */
static size_t at_count(const char *text)
{
	size_t at = tb_at_word(text, "still now"), figures;
	at += strspn(text + at, " ");
	figures = strspn(text + at, "0123456789");
	if (figures == 0)
		return 0;
	at += figures;
	size_t more = strspn(text + at, " 0123456789(),[]{}/:;-");
	at += more;
	size_t noun = tb_at_word(text + at, "st sts stitch stitches sc hdc dc tr htr dtr");
	at += noun;
	/* "20 (22, 24)." alone, or with what is counted; "3 dc in ring" is work */
	const char *rest = text + at;
	bool ends = *rest == '\0' || *rest == '.' || *rest == ',' || tb_find_words(rest, strlen(rest), "remain left") == 1;
	return ends && (noun > 0 || more > 0 || text[at] == '.' || text[at] == '\0') && !tb_has_stitch(rest) ? at : 0;
}

/* The bytes of the label before a count that LINE is, with its colon or dash; 0 for another line. */
static size_t at_label(const char *line)
{
	size_t length = strspn(line, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz' "), name = length;
	tb_section section;
	tb_row_head head;
	size_t value;
	while (name > 0 && line[name - 1] == ' ')
		name--;
	if (name < 3 || name > LONGEST_LABEL || !g_ascii_isupper(*line))
		return 0;
	size_t mark = line[length] == ':' || line[length] == '-' || line[length] == '=' ? 1 : g_str_has_prefix(line + length, "—") ? strlen("—") : 0;
	size_t behind = length + mark + strspn(line + length + mark, " ");
	if (mark == 0 || (line[length] == '-' && length == name) || at_count(line + behind) == 0)
		return 0;
	g_autofree char *label = g_strndup(line, name);
	bool known = tb_has_stitch(label) || tb_find_section(line, &section) > 0 || tb_find_field(line, &value) != TB_FIELD_NONE ||
		tb_is_row_head(line, &head) || tb_find_words(label, name, "row rows rnd rnds round rounds size sizes") < name;
	return known ? 0 : behind;
}

/* Whether the same label stands before the counts of line J. */
static bool is_alike(const tb_lines *lines, guint i, guint j)
{
	const char *a = tb_lines_text(lines, i), *b = tb_lines_text(lines, j);
	size_t name = strcspn(a, ":-=");
	return g_ascii_strncasecmp(a, b, name) == 0 && at_label(b) > 0;
}

void tb_lines_drop_tallies(tb_lines *lines)
{
	g_autoptr(GArray) found = g_array_new(FALSE, FALSE, sizeof(guint));
	bool begun = false;
	for (guint i = 0; i < lines->lines->len; i++) {
		const char *line = tb_lines_text(lines, i);
		tb_row_head head;
		begun = begun || tb_find_start(line) >= 0 || (tb_is_row_head(line, &head) && !head.is_bare);
		if (begun && at_label(line) > 0)
			g_array_append_val(found, i);
	}
	/* one alone may be anything, "Neck: 20 sts" */
	g_autofree bool *again = g_new0(bool, found->len + 1);
	for (guint a = 0; a < found->len; a++) {
		for (guint b = 0; b < found->len && !again[a]; b++)
			again[a] = a != b && is_alike(lines, g_array_index(found, guint, a), g_array_index(found, guint, b));
	}
	for (guint a = 0; a < found->len; a++) {
		tb_line *line = &g_array_index(lines->lines, tb_line, g_array_index(found, guint, a));
		if (again[a])
			line->start += (guint32)at_label(lines->chars + line->start);
	}
}
