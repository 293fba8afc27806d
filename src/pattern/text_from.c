/*
 * Pieces that grow from another: "From Back: sts 1-37 (41, 45)", "Join yarn in st 47 (51, 55) of
 * Back, work over next 37 (41, 45) sts".
 */
#include "pattern/text_reader.h"

#include "support/limits.h"

#include <stdlib.h>
#include <string.h>

/* "47 (51, 55)" at TEXT: the figures, and the bytes they take; 0 when none stand there. */
static size_t read_figures(const char *text, GArray *values)
{
	size_t at = strspn(text, "0123456789");
	if (at == 0 || at > 6)
		return 0;
	int value = atoi(text);
	g_array_append_val(values, value);
	size_t next = at + strspn(text + at, " ");
	if (text[next] != '(' && text[next] != '[')
		return at;
	size_t close = next + strcspn(text + next, ")]");
	if (text[close] == '\0')
		return at;
	for (size_t i = next + 1; i < close;) {
		size_t digits = strspn(text + i, "0123456789");
		if (digits > 6 || (digits == 0 && strchr(" ,;:-", text[i]) == NULL))
			return at;
		if (digits > 0) {
			value = atoi(text + i);
			g_array_append_val(values, value);
		}
		i += MAX(digits, 1);
	}
	return close + 1;
}

static void append_figures(GString *text, const GArray *first, const GArray *more)
{
	guint count = more != NULL ? MAX(first->len, more->len) : first->len;
	for (guint i = 0; i < count; i++) {
		int value = g_array_index(first, int, first->len == 1 ? 0 : MIN(i, first->len - 1));
		if (more != NULL)
			value += g_array_index(more, int, more->len == 1 ? 0 : MIN(i, more->len - 1)) - 1;
		g_string_append_printf(text, "%s%d", i == 0 ? "" : i == 1 ? " (" : ", ", value);
	}
	g_string_append(text, count > 1 ? ")" : "");
}

/* The word of WORDS that stands in TEXT from AT on; behind it and its blanks, or 0. */
static size_t find_word(const char *text, size_t at, const char *words)
{
	for (; text[at] != '\0'; at++) {
		size_t word = at == 0 || !g_ascii_isalnum(text[at - 1]) ? tb_at_word(text + at, words) : 0;
		if (word > 0)
			return at + word + strspn(text + at + word, " ");
	}
	return 0;
}

/* "in st 47 (51, 55) of Back, work over next 37 (41, 45) sts": the stitches as "47-83 (…)". */
static char *find_joined(const char *text, size_t of)
{
	g_autoptr(GArray) first = g_array_new(FALSE, FALSE, sizeof(int));
	g_autoptr(GArray) second = g_array_new(FALSE, FALSE, sizeof(int));
	g_autoptr(GString) joined = g_string_new(NULL);
	size_t at = find_word(text, 0, "st sts stitch stitches");
	size_t length = at > 0 ? read_figures(text + at, first) : 0;
	if (length == 0) {
		/* "in 47th st of Back" */
		at = strcspn(text, "0123456789");
		length = strspn(text + at, "0123456789");
		if (length == 0 || length > 6 || at > of)
			return NULL;
		int value = atoi(text + at);
		g_array_append_val(first, value);
	} else if (text[at + length] == '-') {
		return g_strndup(text + at, of - at);
	}
	size_t to = find_word(text, of, "to through");
	to += to > 0 ? tb_at_word(text + to, "st sts stitch stitches") : 0;
	to += strspn(text + to, " ");
	size_t next = find_word(text, of, "next");
	append_figures(joined, first, NULL);
	g_string_append_c(joined, '-');
	if (to > 0 && read_figures(text + to, second) > 0)
		append_figures(joined, second, NULL);
	else if (next > 0 && read_figures(text + next, second) > 0)
		append_figures(joined, first, second);
	else
		return NULL;
	return g_strdup(joined->str);
}

/* The piece named at TEXT, among those there are: the bytes of the longest name, or 0. */
static size_t find_piece_name(const tb_text_reader *reader, const char *text, const char **name)
{
	size_t longest = 0;
	for (guint i = 0; i < reader->pattern->pieces->len; i++) {
		const tb_piece *piece = reader->pattern->pieces->pdata[i];
		size_t length = strlen(piece->name);
		if (piece != reader->piece && length > longest &&
			g_ascii_strncasecmp(text, piece->name, length) == 0 && !g_ascii_isalnum(text[length])) {
			longest = length;
			*name = piece->name;
		}
	}
	return longest;
}

static bool fault_from(tb_text_reader *reader, const tb_text *text, size_t at)
{
	const char *name = text->chars + at;
	if (reader->pattern->pieces->len > 1 && g_ascii_isalpha(*name)) {
		const char *known = NULL;
		if (find_piece_name(reader, name, &known) == 0) {
			size_t length = strcspn(name, ":,.;");
			g_autofree char *said = g_strndup(name, length);
			g_autofree char *hint = tb_hint_piece(reader->pattern, said);
			tb_text_fault_at(reader, TB_ERROR, "piece-unknown",
				tb_text_span(text, at, at + length), hint,
				"no piece before this one is called “%.60s”", said);
			return false;
		}
	}
	tb_text_fault_at(reader, TB_ERROR, "piece-from", tb_text_span(text, 0, text->length),
		"As in “From Back: sts 1-37 (41, 45)”.",
		"a piece that grows from another says from which, and from which stitches");
	return false;
}

/* The figures of "sts 1-37 (41, 45), with RS facing": up to a comma outside the brackets. */
static size_t from_end(const char *text, size_t at)
{
	unsigned depth = 0;
	for (; text[at] != '\0'; at++) {
		depth += text[at] == '(' || text[at] == '[';
		depth -= depth > 0 && (text[at] == ')' || text[at] == ']');
		if (depth == 0 && strchr(",;.", text[at]) != NULL)
			break;
	}
	return at;
}

bool tb_text_read_from(tb_text_reader *reader, const tb_text *text)
{
	const char *name = NULL;
	size_t from = tb_at_word(text->chars, "from"), at;
	if (text->length > TB_LIMIT_FROM_BYTES)
		return fault_from(reader, text, text->length);
	if (from > 0) {
		at = from + strspn(text->chars + from, " ");
		size_t length = find_piece_name(reader, text->chars + at, &name);
		if (length == 0)
			return fault_from(reader, text, at);
		at += length + strspn(text->chars + at + length, ": ,");
		at += tb_at_word(text->chars + at, "st sts stitch stitches");
		at += strspn(text->chars + at, " ");
		size_t end = from_end(text->chars, at);
		if (end == at)
			return fault_from(reader, text, at);
		reader->piece->from_text = tb_text_create(text->chars + at, end - at, 0);
		reader->piece->from_text->offsets =
			g_memdup2(text->offsets + at, (end - at + 1) * sizeof(guint32));
	} else {
		const char *of = strstr(text->chars, " of ");
		while (of != NULL && find_piece_name(reader, of + 4, &name) == 0)
			of = strstr(of + 1, " of ");
		const char *any = strstr(text->chars, " of ");
		if (of == NULL)
			return fault_from(reader, text, any != NULL ? (size_t)(any - text->chars) + 4 : 0);
		g_autofree char *joined = find_joined(text->chars, (size_t)(of - text->chars));
		if (joined == NULL)
			return fault_from(reader, text, text->length);
		at = strcspn(text->chars, "0123456789");
		/* Its figures are worked out, so they all stand where the first one does. */
		tb_text *made = tb_text_create(joined, strlen(joined), text->offsets[at]);
		made->offsets = g_new(guint32, made->length + 1);
		for (size_t i = 0; i <= made->length; i++)
			made->offsets[i] = text->offsets[i < made->length ? at : at + 1];
		reader->piece->from_text = made;
	}
	reader->piece->from_piece = g_strdup(name);
	return true;
}
