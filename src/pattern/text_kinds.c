/*
 * What a line is. Only the words at its beginning are looked at, and only as far as the trade has
 * settled ways for them; the rows themselves are the business of notation/.
 */
#include "pattern/text_kinds.h"

#include <string.h>

/* A row's head does not say more than this. */
#define LONGEST_HEAD 160u

static const char row_words[] = "row rows rnd rnds round rounds";

size_t tb_at_word(const char *text, const char *words)
{
	for (const char *at = words; *at != '\0';) {
		size_t length = strcspn(at, " ");
		if (g_ascii_strncasecmp(text, at, length) == 0 && !g_ascii_isalnum(text[length]))
			return length;
		at += length;
		at += strspn(at, " ");
	}
	return 0;
}

static size_t skip_blanks(const char *line, size_t at)
{
	return at + strspn(line + at, " ");
}

/* "1", "12th", "first" at AT; behind it, or 0. */
static size_t at_row_number(const char *line, size_t at)
{
	size_t word = tb_at_word(line + at,
		"first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth");
	if (word > 0)
		return at + word;
	if (!g_ascii_isdigit(line[at]))
		return 0;
	at += strspn(line + at, "0123456789");
	at += tb_at_word(line + at, "st nd rd th d");
	return g_ascii_isalnum(line[at]) ? 0 : at;
}

/* "5-8", "1, 2 and 3", "3 to 6" at AT; behind it, or 0. */
static size_t at_row_list(const char *line, size_t at)
{
	size_t end = at_row_number(line, at);
	while (end > 0 && end < LONGEST_HEAD) {
		size_t next = skip_blanks(line, end);
		if (line[next] == '-' || line[next] == ',' || line[next] == '&')
			next++;
		next = skip_blanks(line, next);
		next = skip_blanks(line, next + tb_at_word(line + next, "and to through"));
		size_t number = next > end ? at_row_number(line, next) : 0;
		if (number == 0)
			break;
		end = number;
	}
	return end;
}

/* "Foundation row", "Set-up row", which have no number; behind it, or 0. */
static size_t at_foundation_row(const char *line)
{
	size_t name = tb_at_word(line, "foundation base setup set-up");
	if (name == 0 && (name = tb_at_word(line, "set")) > 0) {
		size_t up = skip_blanks(line, name);
		name = tb_at_word(line + up, "up") > 0 ? up + strlen("up") : 0;
	}
	if (name == 0)
		return 0;
	name = skip_blanks(line, name);
	size_t word = tb_at_word(line + name, row_words);
	return word > 0 ? name + word : 0;
}

/* "R5:", "R5-8 (RS):" as patterns in rounds are headed; behind the number, or 0. */
static size_t at_short_row(const char *line)
{
	if (g_ascii_toupper(line[0]) != 'R' || !g_ascii_isdigit(line[1]))
		return 0;
	size_t end = at_row_list(line, 1), next = skip_blanks(line, end);
	return end > 0 && strchr(":([", line[next]) != NULL && line[next] != '\0' ? end : 0;
}

/* "Row 5", "Rows 5-8", "2nd row", "2nd and 3rd rounds", "Next row"; behind it, or 0. */
static size_t at_row_name(const char *line)
{
	size_t special = at_foundation_row(line);
	if (special == 0)
		special = at_short_row(line);
	if (special > 0)
		return special;
	size_t word = tb_at_word(line, row_words);
	if (word > 0) {
		word += line[word] == '.';
		return at_row_list(line, skip_blanks(line, word));
	}
	size_t number = tb_at_word(line, "next");
	if (number == 0)
		number = at_row_list(line, 0);
	/* Without "row" before it, a number must be an ordinal: "2nd row", not "2 rows". */
	if (number == 0 || g_ascii_isdigit(line[number - 1]))
		return 0;
	number = skip_blanks(line, number);
	word = tb_at_word(line + number, row_words);
	return word > 0 ? number + word : 0;
}

bool tb_is_row_head(const char *line, tb_row_head *head)
{
	size_t at = at_row_name(line);
	*head = (tb_row_head){0};
	if (at == 0)
		return false;
	/* "(RS)", "RS", "(sizes L and XL only)" */
	for (bool more = true; more && at < LONGEST_HEAD;) {
		size_t next = skip_blanks(line, at), end = 0;
		if (line[next] == '(' || line[next] == '[') {
			size_t inside = strcspn(line + next, ")]");
			end = line[next + inside] != '\0' && inside < LONGEST_HEAD ? next + inside + 1 : 0;
		} else {
			size_t side = tb_at_word(line + next, "rs ws");
			end = side > 0 ? next + side : 0;
		}
		more = end > 0;
		at = more ? end : at;
	}
	at = skip_blanks(line, at);
	if (line[at] == ':' || line[at] == '.' || line[at] == '-') {
		head->mark = line[at];
		at += line[at] == '-' && line[at + 1] == '-' ? 2 : 1;
	} else if (g_str_has_prefix(line + at, "—")) {
		head->mark = '-';
		at += strlen("—");
	} else if (tb_at_word(line + at, "form forms make makes set sets is are establish establishes "
			"complete completes should will now has have of once twice") > 0 ||
		line[at] == ',' || line[at] == ')' || line[at] == ';') {
		/* "Rows 3-6 form the pattern." tells about rows. */
		return false;
	}
	head->length = at;
	return true;
}

/* "Rep Rows 3-6", "Repeat the last 2 rows", but not "Rep from *". */
static bool is_again(const char *line)
{
	size_t at = tb_at_word(line, "rep repeat");
	for (unsigned word = 0; at > 0 && word < 8; word++) {
		at = skip_blanks(line, at);
		if (tb_at_word(line + at, row_words) > 0)
			return true;
		if (line[at] == '*' || line[at] == '\0')
			return false;
		at += MAX(strcspn(line + at, " .*"), 1);
	}
	return false;
}

static bool is_finish(const char *line)
{
	size_t at = tb_at_word(line, "fasten finish end cut break");
	if (at == 0)
		return false;
	at = skip_blanks(line, at);
	if (tb_at_word(line + at, "off") > 0)
		return true;
	at = skip_blanks(line, at + tb_at_word(line + at, "the"));
	return tb_at_word(line, "cut break") > 0 && tb_at_word(line + at, "yarn") > 0;
}

/* "ch 85", "chain 85" or "fsc 84" at TEXT. */
static bool at_chains(const char *text)
{
	size_t word = tb_at_word(text, "ch chain chains fsc fhdc fdc ftr");
	/* "ch85" */
	if (word == 0 && g_ascii_strncasecmp(text, "ch", 2) == 0 && g_ascii_isdigit(text[2]))
		return true;
	if (word == 0)
		return false;
	/* "Ch. 14", "a chain of 14" */
	const char *behind = text + skip_blanks(text, word + (text[word] == '.'));
	behind += tb_at_word(behind, "of");
	behind += strspn(behind, " ");
	return g_ascii_isdigit(*behind) ||
		tb_at_word(behind, "two three four five six seven eight nine ten") > 0;
}

/* "12 ch.", "40 fsc", "32 (38, 44) ch" at TEXT. */
static bool at_counted_chains(const char *text)
{
	size_t digits = strspn(text, "0123456789"), chain = skip_blanks(text, digits);
	if (digits == 0)
		return false;
	if (text[chain] == '(') {
		size_t figures = strspn(text + chain + 1, "0123456789,;- ");
		if (text[chain + 1 + figures] == ')')
			chain = skip_blanks(text, chain + figures + 2);
	}
	return tb_at_word(text + chain, "ch chain chains fsc fhdc fdc ftr") > 0;
}

/* "magic ring", "Magic circle." */
static bool at_magic_ring(const char *text)
{
	size_t magic = tb_at_word(text, "magic");
	return magic > 0 && tb_at_word(text + skip_blanks(text, magic), "ring circle loop") > 0;
}

int tb_find_start(const char *line)
{
	bool led = tb_at_word(line, "with using use loosely make begin start to form foundation base "
								"starting beginning work leaving") > 0;
	if (at_chains(line) || at_magic_ring(line) || at_counted_chains(line))
		return 0;
	for (size_t at = 1; led && line[at] != '\0' && at < LONGEST_HEAD; at++) {
		if (g_ascii_isalnum(line[at - 1]) || line[at - 1] == '-')
			continue;
		if (line[at] == '.' && line[at + 1] == ' ')
			break;
		if (at_chains(line + at) || at_counted_chains(line + at) || at_magic_ring(line + at))
			return (int)at;
	}
	return -1;
}

size_t tb_find_only(const char *line)
{
	size_t at = skip_blanks(line, tb_at_word(line, "for"));
	size_t size = tb_at_word(line + at, "size sizes");
	if (size == 0 || line[at + size] == ':')
		return 0;
	for (at += size; line[at] != '\0' && line[at] != ':' && line[at] != '.' && at < LONGEST_HEAD;
		at++) {
		size_t only = line[at - 1] == ' ' ? tb_at_word(line + at, "only") : 0;
		if (only > 0)
			return at + only + (line[at + only] == ':' || line[at + only] == ',');
	}
	return 0;
}

size_t tb_find_all_sizes(const char *line)
{
	size_t at = skip_blanks(line, tb_at_word(line, "for"));
	size_t all = tb_at_word(line + at, "all");
	if (all == 0)
		return 0;
	at = skip_blanks(line, at + all);
	size_t sizes = tb_at_word(line + at, "sizes");
	return sizes > 0 && line[at + sizes] == ':' ? at + sizes + 1 : 0;
}

/* "From Back: …", "Join yarn in st 47 of Back", with or without "With RS facing," before. */
static bool is_from(const char *line)
{
	size_t from = tb_at_word(line, "from");
	const char *colon = strchr(line, ':');
	if (from > 0)
		return colon != NULL && (size_t)(colon - line) < LONGEST_HEAD;
	if (tb_at_word(line, "with join rejoin attach") == 0)
		return false;
	const char *yarn = strstr(line, "join yarn");
	if (yarn == NULL)
		yarn = strstr(line, "attach yarn");
	if (yarn == NULL)
		yarn = tb_at_word(line, "join rejoin attach") > 0 ? line : NULL;
	if (yarn == NULL)
		return false;
	const char *of = strstr(yarn, " of ");
	return of != NULL && g_ascii_isupper(of[4]) && strpbrk(yarn, "0123456789") != NULL &&
		(size_t)(of - line) < LONGEST_HEAD;
}

tb_line_kind tb_line_find_kind(const char *line)
{
	tb_row_head head;
	size_t value;
	if (*line == '\0')
		return TB_LINE_BLANK;
	if (tb_find_all_sizes(line) > 0)
		return TB_LINE_ALL_SIZES;
	if (tb_find_only(line) > 0)
		return TB_LINE_ONLY;
	if (tb_is_row_head(line, &head))
		return TB_LINE_ROW;
	if (is_again(line))
		return TB_LINE_AGAIN;
	if (is_finish(line))
		return TB_LINE_FINISH;
	if (tb_find_field(line, &value) != TB_FIELD_NONE)
		return TB_LINE_FIELD;
	size_t section = tb_find_section(line);
	if (section > 0)
		return TB_LINE_SECTION;
	if (is_from(line))
		return TB_LINE_FROM;
	if (tb_find_start(line) >= 0)
		return TB_LINE_START;
	g_autofree char *name = tb_heading_name(line);
	if (name == NULL)
		return TB_LINE_PROSE;
	size_t neutral = tb_at_word(name, "pattern instructions directions method");
	return neutral > 0 && name[neutral] == '\0' ? TB_LINE_NEUTRAL : TB_LINE_HEADING;
}
