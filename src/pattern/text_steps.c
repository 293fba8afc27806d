/*
 * Lists of steps: "1. Chain 21. 2. Row 1: …", "b) Rnd 1: …", "Step 3: Row 2: …", and the minute at which a film
 * shows a row, "[04:10] Row 2: …". What numbers the steps says nothing of the work and is dropped; but "2. Chain 21."
 * alone may be a row, so a list is one of steps only where rows with numbers of their own are steps of it.
 */
#include "pattern/text_lines.h"

#include "pattern/text_kinds.h"

#include <string.h>

#define MOST_STEPS 100000u

/* "Step 4:", "Step 4 -", "Step 4" before a row; behind it, or 0. */
static size_t at_named_step(const char *text, guint32 *number)
{
	size_t word = tb_at_word(text, "step"), at = word + strspn(text + word, " ");
	size_t figures = word > 0 ? strspn(text + at, "0123456789") : 0;
	if (figures == 0 || figures > 5)
		return 0;
	*number = (guint32)g_ascii_strtoull(text + at, NULL, 10);
	at += figures + strspn(text + at + figures, " ");
	size_t dash = g_str_has_prefix(text + at, "—") ? strlen("—") : tb_is_among(text[at], ":.)-") ? 1 : 0;
	return at + dash + strspn(text + at + dash, " ");
}

size_t tb_at_step(const char *text, guint32 *number)
{
	size_t named = at_named_step(text, number);
	if (named > 0)
		return named;
	size_t open = *text == '(', figures = strspn(text + open, "0123456789"), at = open + figures;
	if (figures > 0 && figures < 6) {
		*number = (guint32)g_ascii_strtoull(text + open, NULL, 10);
	} else if (figures == 0 && g_ascii_islower(text[open])) {
		*number = (guint32)(text[open] - 'a') + 1;
		at++;
	} else {
		return 0;
	}
	bool marked = text[at] == ')' || (figures > 0 && !open && text[at] == '.');
	return marked && text[at + 1] == ' ' && *number > 0 && *number < MOST_STEPS ? at + 1 + strspn(text + at + 1, " ") : 0;
}

/* "[04:10]", "(1:55)", "04:10 -", "1:02:33": minutes and seconds; what is behind it must be parted from it. */
size_t tb_at_stamp(const char *text)
{
	char open = *text, close = open == '[' ? ']' : open == '(' ? ')' : '\0';
	size_t at = close != '\0' ? 1 : 0, parts = 0, digits;
	while ((digits = strspn(text + at, "0123456789")) > 0 && digits <= 2 && (parts == 0 || digits == 2)) {
		at += digits;
		parts++;
		if (text[at] != ':')
			break;
		at++;
	}
	if (parts < 2 || digits != 2)
		return 0;
	if (close != '\0')
		return text[at] == close ? at + 1 + strspn(text + at + 1, " -") : 0;
	tb_row_head head;
	size_t behind = at + strspn(text + at, " -");
	bool row = tb_is_row_head(text + behind, &head) && !head.is_bare;
	bool dashed = memchr(text + at, '-', behind - at) != NULL;
	return behind > at && (row || dashed || *text == '0') ? behind : 0;
}

static void drop_step(tb_lines *lines, guint i)
{
	tb_line *line = &g_array_index(lines->lines, tb_line, i);
	guint32 number, step = (guint32)tb_at_step(lines->chars + line->start, &number);
	if (line->step > 0)
		return;
	line->start += step;
	line->listed = true;
}

/* The last step of the list that line I begins, and whether rows are among its steps. */
static guint find_end(const tb_lines *lines, guint i, bool *rows)
{
	guint end = i;
	guint32 last = 0, number;
	for (*rows = false; i < lines->lines->len; i++) {
		const tb_line *line = tb_lines_get(lines, i);
		number = line->step;
		if (number == 0 && tb_at_step(lines->chars + line->start, &number) == 0)
			continue;
		if (last > 0 && number != last + 1)
			break;
		*rows = *rows || line->step > 0;
		last = number;
		end = i;
	}
	return end;
}

void tb_lines_drop_steps(tb_lines *lines)
{
	for (guint i = 0; i < lines->lines->len; i++) {
		const tb_line *line = tb_lines_get(lines, i);
		guint32 number;
		bool rows;
		if (line->step == 0 && tb_at_step(lines->chars + line->start, &number) == 0)
			continue;
		guint end = find_end(lines, i, &rows);
		for (; rows && i < end; i++)
			drop_step(lines, i);
		if (rows)
			drop_step(lines, end);
		i = MAX(i, end);
	}
}
