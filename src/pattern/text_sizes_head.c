/*
 * Sizes that no field names: "XS (S, M, L)" or "child (teen, adult)" on a line of its own, "Ages 2
 * (4, 6) years", "Women's S (M, L) - foot 22 (24, 26) cm". A list of the head is believed only when
 * the rows give figures for as many sizes.
 */
#include "pattern/text_reader.h"

#include "support/limits.h"

#include <string.h>

/* A size has no longer name, "2-4 years", "12 mo". */
#define LONGEST_NAME 16u
#define MOST_LABEL_WORDS 6u

static size_t skip_blanks(const char *text, size_t at)
{
	return at + strspn(text + at, " ");
}

/* "M", "2X", "3-6 mo", "Small", "short loop": whether the name at TEXT is one that sizes have. */
static bool is_size_like(const char *text)
{
	if (tb_at_word(text, "small medium large x-small x-large xx-large xxx-large extra child children kid "
			"kids adult adults newborn new nb baby babies infant toddler tot teen teens tween youth junior "
			"preemie one woman women women's ladies man men men's boy girl petite regular plus short long "
			"tall mini little big lap throw doll cup a b c d e f g h i j") > 0)
		return true;
	if (g_ascii_isdigit(*text))
		return true;
	size_t letter = strspn(text, "Xx");
	letter += strspn(text + letter, "SMLsml") > 0;
	return letter > 0 && !g_ascii_isalnum(text[letter]);
}

/* What may stand before a list of sizes, "Child sizes:". */
static size_t skip_label(const char *line)
{
	size_t at = strspn(line, "*#~ ");
	for (unsigned words = 0; words < MOST_LABEL_WORDS; words++) {
		size_t word = tb_at_word(line + at, "size sizes sizing size(s) age ages cup adult child baby kids "
			"women's men's womens mens ladies girls boys finished shoe dress uk us eu written pattern for in to fit fits bust chest waist hip hips head");
		size_t next = skip_blanks(line, at + word);
		if (word == 0 || line[next] == '(' || line[next] == '[')
			break;
		next += line[next] == ':';
		at = skip_blanks(line, next);
	}
	return at;
}

/* "(S, M, L)" at AT: its end and how many names are in it; false for anything else. */
static bool scan_bracket(const char *text, size_t at, size_t *end, unsigned *names)
{
	const char *open = text[at] != '\0' ? strchr("([{", text[at]) : NULL;
	if (open == NULL)
		return false;
	size_t close = at + 1 + strcspn(text + at + 1, "()[]{}"), from = at + 1;
	if (text[close] != ")]}"[open - "([{"] && !tb_is_among(text[close], ")]}"))
		return false;
	while (from < close) {
		size_t part = strcspn(text + from, ",;:)]}");
		if (part == 0 || part > LONGEST_NAME || !is_size_like(text + from))
			return false;
		++*names;
		from = skip_blanks(text, from + part + 1);
	}
	*end = close + 1;
	return close < strlen(text);
}

/* "S (M, L)", "S (M) (L)" at AT: its end and how many names; false for anything else. */
static bool scan_list(const char *text, size_t at, size_t *end, unsigned *names)
{
	size_t name = strcspn(text + at, "([{,;:.=");
	if (name == 0 || name > LONGEST_NAME || !tb_is_among(text[at + name], "([{") || !is_size_like(text + at))
		return false;
	*names = 1;
	size_t next = at + name;
	while (scan_bracket(text, next, end, names))
		next = skip_blanks(text, *end);
	return *names > 1;
}

/* "S, M, L", "S/M/L", "S-M-L", "small, medium and large" from AT to the end of the line: how many names; else 0. */
static unsigned scan_names(const char *text, size_t at)
{
	unsigned names = 0;
	/* "3-6 mo, 12 mo" is a list with commas */
	const char *parting = strpbrk(text + at, ",/(") == NULL ? "-:." : ",/.";
	while (text[at] != '\0' && strcmp(text + at, ".") != 0) {
		size_t name = strcspn(text + at, parting);
		const char *and = g_strstr_len(text + at, (gssize)name, " and ");
		const char *sign = g_strstr_len(text + at, (gssize)name, " & ");
		bool short_and = and == NULL && sign != NULL;
		and = short_and ? sign : and;
		name = and != NULL ? (size_t)(and - text) - at : name;
		if (name == 0 || name > LONGEST_NAME || !is_size_like(text + at))
			return 0;
		names++;
		at += name;
		if (strcmp(text + at, ".") == 0)
			break;
		at = skip_blanks(text, at + (and != NULL ? strlen(short_and ? " &" : " and") : text[at] != '\0'));
		at = skip_blanks(text, at + tb_at_word(text + at, "and"));
	}
	return names;
}

/* "… comes in shoe sizes 36-37 (38-39)": whether figures at AT are called sizes, or ages. */
static bool is_behind_size(const char *line, size_t at)
{
	size_t end = at;
	while (end > 0 && tb_is_among(line[end - 1], " :"))
		end--;
	size_t word = end;
	while (word > 0 && g_ascii_isalpha(line[word - 1]))
		word--;
	return tb_at_word(line + word, "size sizes age ages aged") == end - word && end > word;
}

/*
 * Where in LINE a list of SIZES names stands, "Written in three sizes, S (M, L).", and its *END; -1 where
 * there is none. Behind other words figures are no names, "16 sts (17, 18)".
 */
static int find_list(const char *line, unsigned sizes, size_t *end)
{
	size_t label = skip_label(line);
	for (size_t at = 0; line[at] != '\0'; at++) {
		bool begins = at == 0 || tb_is_among(line[at - 1], " :,");
		if (!begins || line[at] == ' ' || (at != label && !g_ascii_isalpha(line[at]) && !is_behind_size(line, at)))
			continue;
		unsigned names = 0;
		if (scan_list(line, at, end, &names) && names == sizes)
			return (int)at;
		*end = strlen(line);
		if (scan_names(line, at) == sizes)
			return (int)at;
	}
	return -1;
}

/* "7 - 8 - 9", "7-8-9" at TEXT, three or more: how many figures; 0 for anything else. */
static unsigned count_dashed(const char *text)
{
	unsigned count = 0;
	for (size_t at = 0;;) {
		size_t figures = strspn(text + at, "0123456789");
		if (figures == 0)
			return 0;
		count++;
		at += figures;
		size_t sign = strspn(text + at, " ");
		size_t dash = text[at + sign] == '-' ? 1 : g_str_has_prefix(text + at + sign, "—") ? strlen("—") : 0;
		if (dash == 0 || sign > 1)
			return count > 2 && !g_ascii_isalnum(text[at]) ? count : 0;
		at = skip_blanks(text, at + sign + dash);
		/* "7 - 8 - 9 - turn" */
		if (!g_ascii_isdigit(text[at]))
			return count > 2 && sign > 0 ? count : 0;
	}
}

/* "7 (8, 9)", "7/8/9", "7 - 8 - 9" at TEXT: how many figures; 0 for anything else. */
static unsigned count_figures(const char *text)
{
	unsigned dashed = count_dashed(text);
	if (dashed > 0)
		return dashed;
	size_t at = strspn(text, "0123456789");
	unsigned count = at > 0;
	size_t next = skip_blanks(text, at);
	bool slashes = text[at] == '/';
	while (count > 0 && (slashes ? text[next] == '/' : tb_is_among(text[next], "([{"))) {
		size_t inside = next + 1;
		for (;;) {
			inside = skip_blanks(text, inside);
			size_t figures = strspn(text + inside, "0123456789");
			figures = figures > 0 ? figures : text[inside] == '-';
			if (figures == 0)
				return 0;
			count++;
			inside = slashes ? inside + figures : skip_blanks(text, inside + figures);
			if (slashes || !tb_is_among(text[inside], ",;:"))
				break;
			inside++;
		}
		if (!slashes && !tb_is_among(text[inside], ")]}"))
			return 0;
		next = slashes ? inside : skip_blanks(text, inside + (text[inside] != '\0'));
	}
	return count > 1 ? count : 0;
}

/* So many lists of figures for all sizes stand behind one that is for some of them. */
#define LISTS_TO_ONE 8u
/* So many lists, all of as many figures, are figures for sizes, though nothing names these. */
#define LISTS_ALIKE 3u

/* Whether figures at TEXT have others behind them in curly brackets, "9 {15}", as only sizes have. */
static bool is_in_braces(const char *text)
{
	size_t figures = strspn(text, "0123456789");
	return text[skip_blanks(text, figures)] == '{';
}

/*
 * For how many sizes the chains and rows from line I on give figures, where they agree; else 0. Among many a few may be
 * shorter, "9th row (F, G, H): … 260 (273, 286) sts", which is told by *SOME. How many there are that agree is *ALIKE.
 */
static unsigned count_in_rows(const tb_text_reader *reader, guint i, bool *some, unsigned *alike)
{
	unsigned sizes = 0, most = 0, lists[TB_LIMIT_SIZES + 1] = {0}, all = 0;
	for (; i < reader->count; i++) {
		const char *line = tb_text_line(reader, i);
		/* "Sizes 76 to 107 only: Work 2 (1, 2) rows" has figures for those alone */
		if (tb_find_only(line) > 0)
			continue;
		for (size_t at = 0; line[at] != '\0'; at++) {
			/* "Rows 4-21 (31)": the last is given for each */
			bool range = at > 1 && line[at - 1] == '-' && g_ascii_isdigit(line[at - 2]);
			bool begins = g_ascii_isdigit(line[at]) && (at == 0 || range ||
				(!g_ascii_isalnum(line[at - 1]) && !tb_is_among(line[at - 1], "(,/-.[")));
			bool inside = (at > 3 && memcmp(line + at - 3, " - ", 3) == 0 && g_ascii_isdigit(line[at - 4])) ||
				(at > 3 && memcmp(line + at - 3, "—", 3) == 0 && g_ascii_isdigit(line[at - 4]));
			/* "(26-28-30 sc)" */
			begins = begins || (at > 0 && line[at - 1] == '(' && g_ascii_isdigit(line[at]) && count_dashed(line + at) > 2);
			unsigned figures = begins && !inside ? count_figures(line + at) : 0;
			/* "14 (14)" may be a number and a count */
			if (figures > 2 || (figures > 1 && is_in_braces(line + at))) {
				lists[MIN(figures, TB_LIMIT_SIZES)]++;
				most = MAX(most, figures);
				all++;
			}
			sizes = MAX(sizes, figures);
			/* "27-29-31" is one list, and not "29-31" as well */
			if (figures > 2)
				at += strspn(line + at, "0123456789-") - 1;
		}
	}
	unsigned whole = lists[MIN(most, TB_LIMIT_SIZES)];
	*some = whole < all;
	*alike = whole;
	return (all - whole) * LISTS_TO_ONE > whole ? 0 : sizes;
}

static bool is_work(tb_line_kind kind)
{
	return kind == TB_LINE_START || kind == TB_LINE_ROW || kind == TB_LINE_LABELLED;
}

/* "Small = 20 in, Medium = 22 in": what the sizes measure stands among their names. */
static bool is_measured(const char *list, size_t length)
{
	static const char *const units[] = {"\"", "=", " cm", " mm", " in,", " in)", " inches"};
	for (size_t i = 0; i < G_N_ELEMENTS(units); i++) {
		if (g_strstr_len(list, (gssize)length, units[i]) != NULL)
			return true;
	}
	return false;
}

/* "Ch 31 (35)." before the rows: chains for so many sizes, whatever the head calls them. */
static bool begins_graded(const tb_text_reader *reader, guint i, unsigned sizes)
{
	const char *line = tb_text_line(reader, i);
	int start = reader->looks[i].kind == TB_LINE_START ? tb_find_start(line) : -1;
	if (start < 0)
		return false;
	size_t figures = (size_t)start + strcspn(line + start, "0123456789");
	return count_figures(line + figures) == sizes;
}

/* "Ch 44, 48 & 52": how many figures the chains before the rows have, three or more; else 0. */
static unsigned count_listed(const tb_text_reader *reader, guint i)
{
	const char *line = i < reader->count ? tb_text_line(reader, i) : "";
	int start = i < reader->count && reader->looks[i].kind == TB_LINE_START ? tb_find_start(line) : -1;
	unsigned count = 0;
	for (size_t at = start < 0 ? strlen(line) : (size_t)start + strcspn(line + start, "0123456789");;) {
		size_t figures = strspn(line + at, "0123456789");
		if (figures == 0)
			break;
		count++;
		at += figures;
		size_t next = at + strspn(line + at, " ,&");
		next += tb_at_word(line + next, "and");
		if (next == at)
			break;
		at = skip_blanks(line, next);
	}
	return count > 2 ? count : 0;
}

/* Sizes that the head names in no way that is understood go by their numbers. */
static void number_sizes(tb_text_reader *reader, unsigned sizes)
{
	for (unsigned i = 1; i <= MIN(sizes, TB_LIMIT_SIZES); i++)
		g_ptr_array_add(reader->pattern->sizes, g_strdup_printf("Size %u", i));
}

void tb_text_find_head_sizes(tb_text_reader *reader)
{
	guint work = 0;
	while (work < reader->count && !is_work(reader->looks[work].kind))
		work++;
	bool some = false;
	unsigned alike = 0;
	unsigned sizes = reader->pattern->sizes->len == 0 ? count_in_rows(reader, work, &some, &alike) : 0;
	bool graded = sizes > 1;
	if (!graded && reader->pattern->sizes->len == 0)
		sizes = count_listed(reader, work);
	for (guint i = 0; i < work && sizes > 1; i++) {
		size_t end = 0;
		const char *line = tb_text_line(reader, i);
		int at = find_list(line, sizes, &end);
		if (at < 0 || is_measured(line + at, end - (size_t)at))
			continue;
		const tb_line *in = tb_lines_get(reader->lines, i);
		g_auto(tb_gathered) gathered;
		tb_gathered_init(&gathered);
		tb_gathered_add(&gathered, reader->lines, in->start + (size_t)at, in->start + end);
		g_autoptr(tb_text) list = tb_gathered_text(&gathered);
		tb_text_read_sizes(reader, list);
		return;
	}
	if (graded && !some && reader->fit == NULL && (alike >= LISTS_ALIKE || begins_graded(reader, work, sizes)))
		number_sizes(reader, sizes);
}
