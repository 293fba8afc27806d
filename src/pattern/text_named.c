/* Rows that have a name and no number: "Dec rnd: …", "Plain row (WS): …". */
#include "pattern/text_kinds.h"

#include <string.h>

/* With what stands in brackets behind it. */
#define LONGEST_NAME 60u

static const char row_words[] = "row rows rnd rnds round rounds";

/* The names that rows may have so, each in its ways. */
static const char *const names[] = {"dec decrease decreasing", "inc increase increasing", "plain even straight"};

static size_t skip(const char *text, size_t at)
{
	return at + strspn(text + at, " ");
}

unsigned tb_named_row_at(const char *text, size_t at, size_t *end)
{
	for (unsigned i = 0; i < G_N_ELEMENTS(names); i++) {
		size_t word = tb_at_word(text + at, names[i]), row = skip(text, at + word);
		size_t rows = word > 0 ? tb_at_word(text + row, row_words) : 0;
		*end = row + rows;
		if (rows > 0)
			return i + 1;
	}
	return 0;
}

/* Whether what is in brackets at the end of TEXT counts the row: "(56 sts)", and not "(6 sts dec'd)". */
static bool is_counted(const char *text)
{
	size_t length = strlen(text);
	while (length > 0 && tb_is_among(text[length - 1], ". "))
		length--;
	if (length == 0 || !tb_is_among(text[length - 1], ")]"))
		return length > 2 && g_ascii_isalpha(text[length - 1]) && (g_str_has_suffix(text, "sts") || g_str_has_suffix(text, "sts."));
	size_t open = length;
	while (open > 0 && !tb_is_among(text[open - 1], "(["))
		open--;
	size_t figures = open + strcspn(text + open, "0123456789");
	/* "(+2)" */
	if (figures < length && figures > 0 && tb_is_among(text[figures - 1], "+-"))
		return false;
	return figures < length && tb_find_words(text + open, length - open, "dec dec'd decreased inc inc'd increased less more fewer") >= length - open;
}

unsigned tb_named_row(const char *text)
{
	size_t length = strcspn(text, ":");
	if (length > LONGEST_NAME || text[length] == '\0')
		return 0;
	g_autofree char *lower = tb_text_lower(text, -1);
	size_t end, the = tb_at_word(lower, "the"), from = skip(lower, the);
	unsigned name = tb_named_row_at(lower, from, &end);
	if (name == 0)
		return 0;
	end = skip(lower, end);
	end += lower[end] == '(' ? strcspn(lower + end, ")") + 1 : 0;
	return end < strlen(lower) && lower[end] == ':' && !is_counted(lower) ? name : 0;
}
