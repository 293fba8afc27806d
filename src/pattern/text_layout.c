/*
 * Rows that a page sets out in columns: "| R3 | (sc, inc) x 6 | 18 |", "3<tab>mint<tab>2 sc in each st<tab>12",
 * "R3 / inc all round / 12". Such a line becomes the row that it says, "R3: (sc, inc) x 6 (18)"; each byte
 * still knows its place. A table's head and its rules become blank lines that are marked as headings.
 */
#include "pattern/text_lines.h"

#include "pattern/text_kinds.h"

#include <string.h>

#define MOST_CELLS 8u
#define LONGEST_NAME 24u

typedef struct {
	size_t from, to;
} cell;

/* The cells of a line. */
typedef struct {
	const char *text;
	cell cells[MOST_CELLS];
	unsigned count;
	bool barred; /* parted by bars or tabs */
} cut_line;

typedef struct {
	tb_lines *lines;
	GString *chars;
	GArray *offsets;
	const char *word; /* what a number alone is, as the head of the table says */
} laying;

static void add_cell(cut_line *cut, size_t from, size_t to)
{
	while (from < to && tb_is_among(cut->text[from], " *_"))
		from++;
	while (to > from && cut->text[to - 1] == ' ')
		to--;
	/* "**R1**" */
	while (to > from + 1 && cut->text[to - 1] == '*' && cut->text[to - 2] == '*')
		to -= 2;
	if (from < to && cut->count < MOST_CELLS)
		cut->cells[cut->count++] = (cell){from, to};
}

/* The bytes of what parts cells at AT of line TEXT, whose first byte has PLACE: a bar, a tab, a slash between blanks. */
static size_t at_sign(const tb_lines *lines, guint32 start, size_t at, bool slashes)
{
	const char *text = lines->chars + start;
	if (text[at] == '|')
		return 1;
	if (slashes)
		return text[at] != ' ' || text[at + 1] != '/' ? 0 : text[at + 2] == ' ' ? 3 : text[at + 2] == '/' && text[at + 3] == ' ' ? 4 : 0;
	const char *source = tb_source_get_text(lines->source, NULL);
	return text[at] == ' ' && source[lines->offsets[start + at]] == '\t' ? 1 : 0;
}

static void cut_at(const tb_lines *lines, const tb_line *line, bool slashes, cut_line *cut)
{
	*cut = (cut_line){.text = lines->chars + line->start, .barred = !slashes};
	size_t from = 0, length = line->end - line->start;
	for (size_t at = 0; at < length;) {
		size_t sign = at_sign(lines, line->start, at, slashes);
		if (sign > 0)
			add_cell(cut, from, at);
		from = sign > 0 ? at + sign : from;
		at += MAX(sign, 1);
	}
	add_cell(cut, from, length);
}

/* Whether the first cell is a row's number, "R3" or "6-9", and nothing else. */
static bool numbers_row(const cut_line *cut, bool *bare)
{
	size_t length = cut->cells[0].to - cut->cells[0].from;
	if (cut->count == 0 || length > LONGEST_NAME)
		return false;
	tb_row_head head;
	g_autofree char *name = g_strdup_printf("%.*s:", (int)length, cut->text + cut->cells[0].from);
	if (name[length - 1] == ':' || name[length - 1] == '.')
		name[length] = '\0';
	bool is = tb_is_row_head(name, &head) && head.length == strlen(name) && !head.is_named;
	*bare = is && head.is_bare;
	return is;
}

/* "18", "18 sc", "[24]": a count and nothing else. */
static bool is_count(const cut_line *cut, unsigned i)
{
	const char *text = cut->text + cut->cells[i].from;
	size_t at = strspn(text, "([= "), figures = strspn(text + at, "0123456789");
	at += figures;
	at += strspn(text + at, " ");
	at += tb_at_word(text + at, "st sts stitch stitches sc hdc dc tr htr");
	at += strspn(text + at, ")] ");
	return figures > 0 && figures < 6 && at >= cut->cells[i].to - cut->cells[i].from;
}

static bool is_work(const cut_line *cut, unsigned i)
{
	g_autofree char *text = g_strndup(cut->text + cut->cells[i].from, cut->cells[i].to - cut->cells[i].from);
	return tb_has_stitch(text) || tb_begins_act(text);
}

/* "-", "—": nothing stands in the cell. */
static bool is_empty(const cut_line *cut, unsigned i)
{
	g_autofree char *text = g_strndup(cut->text + cut->cells[i].from, cut->cells[i].to - cut->cells[i].from);
	return text[strspn(text, "-. ")] == '\0' || strcmp(text, "—") == 0;
}

/* Whether the line is a row of a table, its number in the first cell; slashes are only signs of one before a count. */
static bool is_row(const cut_line *cut, bool *bare)
{
	if (cut->count < 2 || !numbers_row(cut, bare))
		return false;
	return cut->barred ? !*bare || cut->count > 2 : cut->count > 2 && is_count(cut, cut->count - 1);
}

/* "Round | What to do | Stitches": a table's head; what its numbers are is *WORD. */
static bool is_head(const cut_line *cut, const char **word)
{
	if (cut->count < 2)
		return false;
	const char *first = cut->text + cut->cells[0].from;
	bool row = tb_at_word(first, "row rows") > 0, round = tb_at_word(first, "rnd rnds rd rds round rounds r") > 0;
	if (!row && !round && *first != '#' && tb_at_word(first, "no nr number") == 0)
		return false;
	for (unsigned i = 0; i < cut->count; i++) {
		g_autofree char *text = g_strndup(cut->text + cut->cells[i].from, cut->cells[i].to - cut->cells[i].from);
		if (strpbrk(text, "0123456789,;:") != NULL || strlen(text) > LONGEST_NAME)
			return false;
	}
	*word = row ? "Row " : round ? "Rnd " : "";
	return true;
}

/* "|---|:---:|" */
static bool is_rule(const char *text)
{
	return text[strspn(text, "|-:+= ")] == '\0' && strchr(text, '|') != NULL && strstr(text, "--") != NULL;
}

static void put(laying *laid, const char *chars, guint32 place)
{
	g_string_append(laid->chars, chars);
	for (size_t i = 0; chars[i] != '\0'; i++)
		g_array_append_val(laid->offsets, place);
}

static void put_cell(laying *laid, const tb_line *line, const cut_line *cut, unsigned i)
{
	guint32 from = line->start + (guint32)cut->cells[i].from;
	size_t length = cut->cells[i].to - cut->cells[i].from;
	g_string_append_len(laid->chars, laid->lines->chars + from, (gssize)length);
	g_array_append_vals(laid->offsets, laid->lines->offsets + from, (guint)length);
}

/* The cells in their order: what stands before the work is about the row, what comes behind it its count or a note. */
static void put_row(laying *laid, const tb_line *line, const cut_line *cut, bool bare)
{
	guint32 place = laid->lines->offsets[line->start + cut->cells[0].from];
	unsigned work = 1;
	while (work < cut->count && !is_work(cut, work))
		work++;
	bool told = work < cut->count;
	if (bare)
		put(laid, laid->word, place);
	put_cell(laid, line, cut, 0);
	char last = laid->chars->str[laid->chars->len - 1];
	g_autofree char *mark = g_strdup(last == ':' || last == '.' ? "" : ":");
	bool counted = false;
	for (unsigned i = 1; i < cut->count; i++) {
		guint32 at = laid->lines->offsets[line->start + cut->cells[i].from];
		guint32 end = laid->lines->offsets[line->start + cut->cells[i].to];
		bool count = is_count(cut, i);
		bool aside = told && i < work && !count;
		if (is_empty(cut, i))
			continue;
		if (!aside) {
			put(laid, mark, at);
			*mark = '\0';
		}
		put(laid, count || aside ? " (" : i > work && counted ? ". " : i > work ? ", " : " ", at);
		size_t bracket = count ? strspn(cut->text + cut->cells[i].from, "([= ") : 0;
		cut_line inner = *cut;
		inner.cells[i].from += bracket;
		while (count && tb_is_among(inner.text[inner.cells[i].to - 1], ")] "))
			inner.cells[i].to--;
		put_cell(laid, line, &inner, i);
		if (count || aside)
			put(laid, ")", end);
		counted = counted || count;
	}
}

static void put_line(laying *laid, const tb_line *line)
{
	g_string_append_len(laid->chars, laid->lines->chars + line->start, (gssize)(line->end - line->start));
	g_array_append_vals(laid->offsets, laid->lines->offsets + line->start, line->end - line->start);
}

static bool cuts_row(const tb_lines *lines, guint i, cut_line *cut, bool *bare)
{
	const tb_line *line = tb_lines_get(lines, i);
	cut_at(lines, line, false, cut);
	if (cut->count < 2)
		cut_at(lines, line, true, cut);
	return is_row(cut, bare);
}

/* The first line behind I that is neither blank nor a rule, or the number of lines. */
static guint find_next(const tb_lines *lines, guint i)
{
	for (i++; i < lines->lines->len; i++) {
		const char *text = tb_lines_text(lines, i);
		if (*text != '\0' && !is_rule(text))
			break;
	}
	return i;
}

static bool has_table(const tb_lines *lines)
{
	for (guint i = 0; i < lines->lines->len; i++) {
		cut_line cut;
		bool bare;
		if (cuts_row(lines, i, &cut, &bare))
			return true;
	}
	return false;
}

/* Line I as it is to be read. */
static void lay_line(laying *laid, guint i)
{
	tb_line *line = &g_array_index(laid->lines->lines, tb_line, i);
	cut_line cut, next;
	bool bare;
	guint32 start = (guint32)laid->chars->len;
	const char *word;
	guint behind = find_next(laid->lines, i);
	if (cuts_row(laid->lines, i, &cut, &bare)) {
		put_row(laid, line, &cut, bare);
	} else if (is_head(&cut, &word) && behind < laid->lines->lines->len && cuts_row(laid->lines, behind, &next, &bare)) {
		laid->word = word;
		line->heads = true;
	} else if (is_rule(tb_lines_text(laid->lines, i))) {
		line->heads = true;
	} else {
		put_line(laid, line);
	}
	guint32 end = laid->lines->offsets[line->end];
	g_array_append_val(laid->offsets, end);
	line->start = start;
	line->end = (guint32)laid->chars->len;
	g_string_append_c(laid->chars, '\0');
}

void tb_lines_lay_out(tb_lines *lines)
{
	if (!has_table(lines))
		return;
	laying laid = {.lines = lines, .chars = g_string_new(NULL), .word = "",
		.offsets = g_array_new(FALSE, FALSE, sizeof(guint32))};
	for (guint i = 0; i < lines->lines->len; i++)
		lay_line(&laid, i);
	g_free(lines->chars);
	g_free(lines->offsets);
	lines->chars = g_string_free(laid.chars, FALSE);
	lines->offsets = (guint32 *)(void *)g_array_free(laid.offsets, FALSE);
}
