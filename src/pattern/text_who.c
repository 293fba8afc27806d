/* Lines of their own that say who works the rows below them: "Adult only", "For the Adult size:". */
#include "pattern/text_reader.h"

#include <string.h>

bool tb_text_is_own_sizes(const tb_text_reader *reader, guint i)
{
	guint work = reader->looks[i].work;
	tb_row_head head;
	if (reader->piece == NULL || tb_find_own_sizes(tb_text_line(reader, i), reader->pattern->sizes) == 0)
		return false;
	return work < reader->count && reader->looks[work].kind == TB_LINE_ROW &&
		tb_is_row_head(tb_text_line(reader, work), &head) && head.first != 1;
}

bool tb_text_take_only(tb_text_reader *reader, guint i)
{
	const char *line = tb_text_line(reader, i);
	size_t only = tb_find_only(line), start = strspn(line, "([");
	bool whole = only > 0 && line[only + strspn(line + only, " .])")] == '\0';
	if (!whole)
		only = tb_find_own_sizes(line, reader->pattern->sizes);
	tb_gathered_clear(&reader->only);
	reader->only_used = reader->only_once = false;
	if (only == 0)
		return false;
	tb_text_mark(reader, i, 0, TB_READ_ROW);
	const tb_line *at = tb_lines_get(reader->lines, i);
	while (only > start && tb_is_among(line[only - 1], ")]") && start > 0)
		only--;
	tb_gathered_add(&reader->only, reader->lines, at->start + start, at->start + only);
	if (line[only - 1] != ':')
		tb_gathered_sign(&reader->only, ':');
	return true;
}

/* Lines back to look for who goes on at "All sizes". */
#define FARTHEST_JUMP 80u

/* "S and M: skip to Band", "XS, go on to All sizes": some have gone ahead. */
static bool tells_to_go_on(const char *line)
{
	size_t length = strlen(line), verb = tb_find_words(line, length, "skip go jump move proceed continue");
	size_t to = verb < length ? tb_find_words(line + verb, length - verb, "to with at") : 0;
	return verb < length && verb + to < length && to < 30;
}

bool tb_text_take_all(tb_text_reader *reader, guint i)
{
	bool jumped = false;
	for (guint back = 1; back <= MIN(i, FARTHEST_JUMP) && !jumped; back++)
		jumped = tells_to_go_on(tb_text_line(reader, i - back));
	if (!jumped || reader->piece == NULL)
		return false;
	const char *line = tb_text_line(reader, i);
	size_t length = tb_find_all_sizes(line);
	while (length > 0 && tb_is_among(line[length - 1], ":.,"))
		length--;
	const tb_line *at = tb_lines_get(reader->lines, i);
	tb_gathered_add(&reader->only, reader->lines, at->start, at->start + length);
	tb_gathered_sign(&reader->only, ':');
	reader->only_once = true;
	return true;
}
