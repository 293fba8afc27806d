/*
 * Pieces that grow from another: "From Back: sts 1-37 (41, 45)", "Join yarn in st 47 (51, 55) of
 * Back, work over next 37 (41, 45) sts".
 */
#include "pattern/text_figures.h"
#include "pattern/text_reader.h"

#include "support/limits.h"

#include <string.h>

typedef struct {
	guint32 numbers[TB_MAX_SIZES];
	unsigned count;
} figures;

static guint32 get_figure(const figures *f, unsigned i)
{
	return f->numbers[f->count == 1 ? 0 : i];
}

/* "47 (51, 55)": what FIRST says, or the last of as many MORE from there on; a dash where a size has none. */
static void append_figures(GString *text, const figures *first, const figures *more)
{
	guint count = more != NULL ? MAX(first->count, more->count) : first->count;
	for (guint i = 0; i < count; i++) {
		guint32 value = get_figure(first, i), over = more != NULL ? get_figure(more, i) : 1;
		g_string_append(text, i == 0 ? "" : i == 1 ? " (" : ", ");
		if (value == 0 || over == 0)
			g_string_append_c(text, '-');
		else
			g_string_append_printf(text, "%u", value + over - 1);
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

/* A stretch of a sentence that was read. */
typedef struct {
	size_t start, end;
} part;

/* The parts of such a sentence: where it joins, over how many stitches, which piece. */
enum { PART_FIRST, PART_COUNT, PART_NAME, PARTS };

/*
 * "in st 47 (51, 55) of Back, work over next 37 (41, 45) sts": the stitches as "47-83 (…)". PARTS are
 * those it was found in.
 */
static char *find_joined(const char *text, unsigned sizes, size_t of, part *parts)
{
	figures first, second;
	g_autoptr(GString) joined = g_string_new(NULL);
	size_t at = find_word(text, 0, "st sts stitch stitches");
	size_t length = at > 0 ? tb_figures_read(text + at, sizes, first.numbers, &first.count) : 0;
	if (length == 0) {
		/* "in 47th st of Back" */
		at = strcspn(text, "0123456789");
		length = tb_figure_read_whole(text + at, &first.numbers[0]);
		first.count = 1;
		if (length == 0 || at > of)
			return NULL;
	} else if (text[at + length] == '-') {
		parts[PART_FIRST] = (part){at, of};
		return g_strndup(text + at, of - at);
	}
	parts[PART_FIRST] = (part){at, at + length};
	size_t to = find_word(text, of, "to through");
	to += to > 0 ? tb_at_word(text + to, "st sts stitch stitches") : 0;
	to += strspn(text + to, " ");
	size_t next = find_word(text, of, "next");
	append_figures(joined, &first, NULL);
	g_string_append_c(joined, '-');
	size_t taken = to > 0 ? tb_figures_read(text + to, sizes, second.numbers, &second.count) : 0;
	if (taken > 0) {
		append_figures(joined, &second, NULL);
		parts[PART_COUNT] = (part){to, to + taken};
		return g_strdup(joined->str);
	}
	taken = next > 0 ? tb_figures_read(text + next, sizes, second.numbers, &second.count) : 0;
	/* figures for other sizes than these begin in */
	if (taken == 0 || (first.count != second.count && first.count > 1 && second.count > 1))
		return NULL;
	append_figures(joined, &first, &second);
	parts[PART_COUNT] = (part){next, next + taken};
	return g_strdup(joined->str);
}

/* ", with RS facing", where the sentence says so: the row language makes the side of it. */
static const char *find_facing(const char *text)
{
	for (size_t at = find_word(text, 0, "with"); at > 0; at = find_word(text, at, "with")) {
		const char *side = text + at + tb_at_word(text + at, "the");
		side += strspn(side, " ");
		if (strstr(side, "facing") == NULL)
			return "";
		if (tb_at_word(side, "rs right") > 0)
			return ", with RS facing";
		if (tb_at_word(side, "ws wrong") > 0)
			return ", with WS facing";
	}
	return "";
}

/*
 * Where the first word stands that is neither one of PARTS nor says how yarn is joined and worked with;
 * the text's end when there is none.
 */
static size_t find_unread(const char *text, const part *parts)
{
	static const char words[] = "with the rs ws right wrong side facing join joining joined rejoin "
		"rejoining attach attaching yarn in into to through at of from st sts stitch stitches sl slip a "
		"an work working worked crochet and then over across next only beg beginning begin";
	size_t at = 0;
	while (text[at] != '\0') {
		size_t word = 0;
		for (unsigned i = 0; i < PARTS; i++) {
			if (at >= parts[i].start && at < parts[i].end)
				word = parts[i].end - at;
		}
		if (word > 0) {
			/* "in 47th st" */
			at += word;
			at += tb_at_word(text + at, "st nd rd th");
			continue;
		}
		word = tb_at_word(text + at, words);
		if (word == 0 && g_unichar_isalnum(g_utf8_get_char(text + at)))
			return at;
		at += word > 0 ? word : (size_t)(g_utf8_next_char(text + at) - (text + at));
	}
	return at;
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

/* "Join yarn in st 47 (51, 55) of Back, work over next 37 (41, 45) sts" */
static bool read_joined(tb_text_reader *reader, const tb_text *text, const char **name)
{
	const char *of = strstr(text->chars, " of ");
	size_t length = 0;
	while (of != NULL && (length = find_piece_name(reader, of + 4, name)) == 0)
		of = strstr(of + 1, " of ");
	const char *any = strstr(text->chars, " of ");
	if (of == NULL)
		return fault_from(reader, text, any != NULL ? (size_t)(any - text->chars) + 4 : 0);
	size_t named = (size_t)(of + 4 - text->chars);
	part parts[PARTS] = {[PART_NAME] = {named, named + length}};
	g_autofree char *joined = find_joined(text->chars, reader->pattern->sizes->len, (size_t)(of - text->chars), parts);
	if (joined == NULL)
		return fault_from(reader, text, text->length);
	size_t unread = find_unread(text->chars, parts);
	if (unread < text->length) {
		size_t end = unread + strcspn(text->chars + unread, " ,.;:()[]");
		tb_text_fault_at(reader, TB_ERROR, "piece-from", tb_text_span(text, unread, end),
			"As in “With RS facing, join yarn in st 47 of Back, work over next 37 sts”; what else is "
			"worked belongs into a row.",
			"“%.*s” is not understood here", (int)MIN(end - unread, 60), text->chars + unread);
		return false;
	}
	g_autofree char *chars = g_strconcat(joined, find_facing(text->chars), NULL);
	size_t at = strcspn(text->chars, "0123456789");
	/* Its figures are worked out, so they all stand where the first one does. */
	tb_text *made = tb_text_create(chars, strlen(chars), text->offsets[at]);
	made->offsets = g_new(guint32, made->length + 1);
	for (size_t i = 0; i <= made->length; i++)
		made->offsets[i] = text->offsets[i < made->length ? at : at + 1];
	reader->piece->from_text = made;
	return true;
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
		/* all that follows: the row language tells what it does not understand of it */
		size_t end = text->length;
		while (end > at && tb_is_among(text->chars[end - 1], " ."))
			end--;
		if (end == at)
			return fault_from(reader, text, at);
		reader->piece->from_text = tb_text_create(text->chars + at, end - at, 0);
		reader->piece->from_text->offsets =
			g_memdup2(text->offsets + at, (end - at + 1) * sizeof(guint32));
	} else if (!read_joined(reader, text, &name)) {
		return false;
	}
	reader->piece->from_piece = g_strdup(name);
	return true;
}
