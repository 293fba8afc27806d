/*
 * "Rnd 3. [18] (Sc 1, inc 1) x 6.": the count stands before the work. It is put at the row's end, where
 * all others have it and where it is checked; each byte still knows its place.
 */
#include "pattern/text_kinds.h"
#include "pattern/text_reader.h"

#include <string.h>

/* "(18)", "[18 sts]:", "(18 sc) -" at AT: one figure and what it counts; its bytes, or 0. */
static size_t span_count(const char *text)
{
	if (*text != '(' && *text != '[')
		return 0;
	size_t at = 1 + strspn(text + 1, "0123456789");
	if (at == 1)
		return 0;
	at += strspn(text + at, " ");
	at += tb_at_word(text + at, "st sts stitches stitch sc hdc dc tr htr");
	return text[at] == ')' || text[at] == ']' ? at + 1 : 0;
}

/* Whether TEXT ends in a count of its own: "… around. (18)", "… = 18". */
static bool ends_in_count(const char *text, size_t length)
{
	while (length > 0 && tb_is_among(text[length - 1], " .!"))
		length--;
	return length == 0 || tb_is_among(text[length - 1], ")]}") || strrchr(text, '=') != NULL;
}

void tb_text_move_count(tb_text *row)
{
	tb_row_head head;
	if (!tb_is_row_head(row->chars, &head) || head.length == 0 || row->offsets == NULL)
		return;
	size_t from = head.length + strspn(row->chars + head.length, " ");
	size_t length = span_count(row->chars + from), to = from + length;
	to += length > 0 ? strspn(row->chars + to, " :-") : 0;
	const char *behind = row->chars + to;
	/* "(2) times", "(6, 8) sc": no count; and one at the row's end is enough */
	if (length == 0 || to == from + length || !(tb_begins_act(behind) || tb_has_stitch(behind)) ||
		(ends_in_count(behind, strlen(behind)) && !tb_is_among(row->chars[row->length - 1], "*x")))
		return;
	g_autofree char *count = g_strndup(row->chars + from, length);
	g_autofree guint32 *places = g_memdup2(row->offsets + from, length * sizeof(guint32));
	size_t rest = row->length - to;
	memmove(row->chars + from, row->chars + to, rest);
	memmove(row->offsets + from, row->offsets + to, rest * sizeof(guint32));
	size_t at = from + rest;
	/* what parted the count from the work parts it now from the row's end */
	for (guint32 place = row->offsets[row->length]; at + length < row->length; at++) {
		row->chars[at] = ' ';
		row->offsets[at] = place;
	}
	memcpy(row->chars + at, count, length);
	memcpy(row->offsets + at, places, length * sizeof(guint32));
}

/* Where the word before AT begins; AT itself where none does. */
static size_t word_before(const char *text, size_t at)
{
	size_t end = at;
	while (end > 0 && text[end - 1] == ' ')
		end--;
	size_t from = end;
	while (from > 0 && (g_ascii_isalnum(text[from - 1]) || text[from - 1] == '-'))
		from--;
	return from < end ? from : at;
}

/* Whether "in ea sc across" ends before AT. */
static bool ends_in_each(const char *text, size_t at)
{
	size_t to = word_before(text, at), noun = word_before(text, to), each = word_before(text, noun);
	return tb_at_word(text + to, "across around") > 0 && noun < to && each < noun && tb_at_word(text + each, "each ea every") > 0;
}

void tb_text_part_count(tb_text *row)
{
	tb_row_head head;
	if (!tb_is_row_head(row->chars, &head) || row->length < head.length + 4)
		return;
	size_t end = row->length;
	while (end > 0 && tb_is_among(row->chars[end - 1], " ."))
		end--;
	size_t noun = word_before(row->chars, end), figures = word_before(row->chars, noun);
	size_t before = word_before(row->chars, figures);
	bool signs = strcspn(row->chars + head.length, ".,;:()[]=") < end - head.length;
	if (noun == end || figures == noun || before == figures || figures <= head.length + 2 ||
		row->chars[figures + strspn(row->chars + figures, "0123456789")] != ' ' ||
		tb_at_word(row->chars + noun, "sc dc hdc tr dtr htr st sts stitches") != end - noun)
		return;
	if (signs ? ends_in_each(row->chars, figures) :
			tb_at_word(row->chars + before, "across around end row st sts sc dc hdc tr dtr htr sp sps ch chs tch t-ch") > 0)
		row->chars[figures - 1] = ';';
}
