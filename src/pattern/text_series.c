/*
 * Headings that are counted: "1. Back", "2. Sleeves (2)." over what is worked; "Shelf 1 - Lid", "Day Two: Heel",
 * "PART II. YOKE". What counts them is any word, or none; that they go on, 1, 2, 3, tells them from a row's number and
 * from a list. They become headings like a page's, "# Back". And paragraphs that are numbered under such, "8.1 Rnd 1: …",
 * lose their numbers.
 */
#include "pattern/text_lines.h"

#include "pattern/read.h"
#include "pattern/text_kinds.h"

#include <string.h>

#define LONGEST_TITLE 60u
#define MOST_TITLE_WORDS 7u
#define MOST_PARTS 40u

typedef struct {
	size_t word;     /* bytes of the word before the number, "Shelf"; 0 for none */
	unsigned number; /* 1, 2, 3 … */
	char kind;       /* how it is written: '1', 'I', 'A', or 'o' for "one" */
	size_t title;    /* where the title begins */
	size_t end;      /* and ends, its full stop left aside */
} counted;

/* "II" at TEXT, up to 12: its bytes, or 0. */
static size_t at_roman(const char *text, unsigned *number)
{
	static const char *const romans[] = {"I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI", "XII"};
	size_t length = strspn(text, "IVX");
	for (unsigned i = 0; i < G_N_ELEMENTS(romans); i++) {
		if (length == strlen(romans[i]) && strncmp(text, romans[i], length) == 0) {
			*number = i + 1;
			return length;
		}
	}
	return 0;
}

/* The number at TEXT, and how it is written. NAMED: behind a word, where "One" is a number too. */
static size_t at_number(const char *text, bool named, counted *c)
{
	size_t figures = strspn(text, "0123456789");
	c->kind = '1';
	c->number = 0;
	if (figures > 0 && figures < 3) {
		c->number = (unsigned)g_ascii_strtoull(text, NULL, 10);
		return figures;
	}
	size_t roman = figures == 0 ? at_roman(text, &c->number) : 0;
	if (roman > 0 && !g_ascii_isalnum(text[roman])) {
		c->kind = 'I';
		return roman;
	}
	c->kind = 'A';
	c->number = (unsigned)(*text - 'A') + 1;
	if (g_ascii_isupper(*text) && *text < 'M' && !g_ascii_isalnum(text[1]))
		return 1;
	c->kind = 'o';
	size_t word = named ? tb_at_number_word(text, &c->number) : 0;
	return word;
}

/* Whether the LENGTH bytes at TITLE are few words, of which none is worked. */
static bool is_title(const char *title, size_t length)
{
	unsigned words = 0;
	size_t name = strcspn(title, "([");
	tb_row_head head;
	if (length == 0 || length > LONGEST_TITLE || !g_unichar_isalpha(g_utf8_get_char(title)))
		return false;
	for (size_t i = 0; i < MIN(name, length); i++) {
		words += title[i] == ' ';
		if (tb_is_among(title[i], ";:*=?!") || (title[i] == '.' && i + 1 < length) || g_ascii_isdigit(title[i]))
			return false;
	}
	g_autofree char *said = g_strndup(title, length);
	return words < MOST_TITLE_WORDS && !tb_has_stitch(said) && !tb_is_row_head(said, &head) && tb_find_start(said) < 0;
}

/* "Shelf 1 - Lid", "3. Bring it together.", "PART II: YOKE" */
static bool read_counted(const char *line, counted *c)
{
	static const char others[] = "row rows rnd rnds round rounds rd rds r size sizes color colour yarn hook ch sc dc note chart figure fig page "
		"no needle version";
	size_t word = 0;
	while (g_ascii_isalpha(line[word]))
		word++;
	size_t at = word > 0 && line[word] == ' ' && g_ascii_isupper(*line) ? word + 1 : 0;
	if (at > 0 && tb_at_word(line, others) > 0)
		return false;
	c->word = at > 0 ? word : 0;
	size_t the = at > 0 ? tb_at_word(line + at, "the no number") : 0;
	at += the + strspn(line + at + the, " .#");
	size_t number = at_number(line + at, at > 0, c);
	/* "I. BACK": the number is the word */
	if (number == 0 && word > 0) {
		c->word = at = 0;
		number = at_number(line, false, c);
	}
	if (number == 0 || c->number == 0 || c->number > MOST_PARTS)
		return false;
	at += number;
	size_t of = tb_at_word(line + at + strspn(line + at, " "), "of");
	if (of > 0) {
		at += strspn(line + at, " ") + of;
		at += strspn(line + at, " ");
		at += strspn(line + at, "0123456789");
	}
	size_t mark = at + strspn(line + at, " "), behind = mark;
	behind += strspn(line + behind, ".:)-");
	behind += g_str_has_prefix(line + behind, "—") ? strlen("—") : 0;
	size_t said = c->title = behind + strspn(line + behind, " ");
	c->end = strlen(line);
	if (behind == mark || c->title == behind)
		return false;
	if (c->end > c->title && tb_is_among(line[c->end - 1], ".:"))
		c->end--;
	/* "Begin with the back" is about the back */
	static const char bids[] = "make making crochet work working begin beginning start starting with now next then finally and the a your";
	for (size_t bid, from = c->title; (bid = tb_at_word(line + from, bids)) > 0 && line[from + bid] == ' ' && from + bid + 1 < c->end;)
		c->title = from += bid + 1;
	return g_unichar_isupper(g_utf8_get_char(line + said)) && is_title(line + c->title, c->end - c->title);
}

/* Whether line I stands by itself, and more than a line under it. */
static bool stands_over(const tb_lines *lines, guint i)
{
	const tb_line *line = tb_lines_get(lines, i);
	bool parted = i == 0 || tb_line_find_kind(tb_lines_text(lines, i - 1)) == TB_LINE_BLANK;
	guint next = i + 1;
	while (next < lines->lines->len && tb_line_find_kind(tb_lines_text(lines, next)) == TB_LINE_BLANK)
		next++;
	counted other;
	return parted && !line->listed && next < lines->lines->len && !read_counted(tb_lines_text(lines, next), &other);
}

/* Whether rows, or a start, stand in lines FROM to END. */
static bool has_work(const tb_lines *lines, guint from, guint end)
{
	for (guint i = from; i < end; i++) {
		const char *line = tb_lines_text(lines, i);
		tb_row_head head;
		if ((tb_is_row_head(line, &head) && (!head.is_bare || tb_has_stitch(line))) || tb_find_start(line) >= 0)
			return true;
	}
	return false;
}

static bool is_next(const char *first, const counted *a, const char *line, const counted *b)
{
	return a->kind == b->kind && b->number == a->number + 1 && a->word == b->word && g_ascii_strncasecmp(first, line, a->word) == 0;
}

/* "Shelf 1 - Lid" becomes "# Lid". */
static void make_heading(tb_lines *lines, guint i, const counted *c)
{
	tb_line *line = &g_array_index(lines->lines, tb_line, i);
	guint32 title = line->start + (guint32)c->title;
	line->end = line->start + (guint32)c->end;
	lines->chars[line->end] = '\0';
	line->start = title - 2;
	lines->chars[title - 2] = '#';
	lines->chars[title - 1] = ' ';
	lines->chars[title] = g_ascii_toupper(lines->chars[title]);
}

/* The series that the first heading, line I, begins; marked where it goes on over rows. */
static void mark_series(tb_lines *lines, guint i, counted c)
{
	g_autoptr(GArray) members = g_array_new(FALSE, FALSE, sizeof(guint));
	g_autoptr(GArray) all = g_array_new(FALSE, FALSE, sizeof(counted));
	const char *first = tb_lines_text(lines, i);
	g_array_append_val(members, i);
	g_array_append_val(all, c);
	for (guint next = i + 1; next < lines->lines->len; next++) {
		counted other;
		const char *line = tb_lines_text(lines, next);
		if (!read_counted(line, &other) || !is_next(first, &c, line, &other) || !stands_over(lines, next))
			continue;
		c = other;
		g_array_append_val(members, next);
		g_array_append_val(all, c);
	}
	guint last = g_array_index(members, guint, members->len - 1);
	if (members->len < 2 || !has_work(lines, i, last))
		return;
	for (guint m = 0; m < members->len; m++)
		make_heading(lines, g_array_index(members, guint, m), &g_array_index(all, counted, m));
}

/* "8.1 Rnd 1: …": the numbers of a paragraph; its bytes with the blanks behind, or 0. */
static size_t at_paragraph(const char *line, unsigned *part, unsigned *number)
{
	char *end;
	if (!g_ascii_isdigit(*line))
		return 0;
	*part = (unsigned)g_ascii_strtoull(line, &end, 10);
	if (*end != '.' || !g_ascii_isdigit(end[1]))
		return 0;
	*number = (unsigned)g_ascii_strtoull(end + 1, &end, 10);
	size_t dot = *end == '.';
	return end[dot] == ' ' ? (size_t)(end - line) + dot + strspn(end + dot, " ") : 0;
}

/* Where paragraphs go on, 8.1, 8.2, they are no figures of the work. */
static void drop_paragraphs(tb_lines *lines)
{
	for (guint i = 0; i < lines->lines->len; i++) {
		unsigned part, number, other, next = 0;
		size_t paragraph = at_paragraph(tb_lines_text(lines, i), &part, &number);
		if (paragraph == 0 || number != 1)
			continue;
		guint second = i + 1;
		while (second < lines->lines->len && at_paragraph(tb_lines_text(lines, second), &other, &next) == 0)
			second++;
		if (second == lines->lines->len || other != part || next != 2)
			continue;
		for (guint at = i; at < lines->lines->len; at++) {
			tb_line *line = &g_array_index(lines->lines, tb_line, at);
			size_t bytes = at_paragraph(lines->chars + line->start, &other, &next);
			if (bytes == 0)
				continue;
			if (other != part || next != number)
				break;
			line->start += (guint32)bytes;
			line->listed = true;
			number++;
		}
	}
}

void tb_lines_mark_series(tb_lines *lines)
{
	drop_paragraphs(lines);
	for (guint i = 0; i < lines->lines->len; i++) {
		counted c;
		if (read_counted(tb_lines_text(lines, i), &c) && c.number == 1 && stands_over(lines, i))
			mark_series(lines, i, c);
	}
}
