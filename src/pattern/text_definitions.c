/*
 * How a stitch is told in words: "Shell: 5 dc in same st.", "V-st = (dc, ch 1, dc) in same st", and in
 * a list of abbreviations "sc - single crochet" or "ch chain". Here only its name and its body are
 * told apart; what the body means, notation/ reads.
 */
#include "pattern/text_kinds.h"

#include <string.h>

#define LONGEST_NAME 60u
#define MOST_NAME_WORDS 5u

static size_t skip_blanks(const char *text, size_t at)
{
	return at + strspn(text + at, " ");
}

/* What parts name and body at AT: ":", "=", " - ", " means "; its bytes with the blanks, or 0. */
static size_t at_parting(const char *line, size_t at)
{
	size_t next = skip_blanks(line, at);
	if (line[next] == ':' || line[next] == '=')
		return skip_blanks(line, next + 1) - at;
	if (g_str_has_prefix(line + next, "—"))
		return skip_blanks(line, next + strlen("—")) - at;
	if (next > at && tb_at_word(line + next, "means") > 0)
		return skip_blanks(line, next + strlen("means")) - at;
	if (line[next] == '-' && next > at && line[next + 1] == ' ')
		return skip_blanks(line, next + 1) - at;
	return 0;
}

/* Up to what parts the name from a body, brackets included. */
size_t tb_find_parting(const char *line, size_t *parting)
{
	unsigned words = 1, depth = 0;
	for (size_t at = 0; line[at] != '\0' && at < LONGEST_NAME; at++) {
		depth += line[at] == '(' || line[at] == '[';
		depth -= depth > 0 && (line[at] == ')' || line[at] == ']');
		if (depth > 0)
			continue;
		*parting = at > 0 ? at_parting(line, at) : 0;
		if (*parting > 0)
			return at;
		if (tb_is_among(line[at], ";*!?") || (line[at] == '.' && line[at + 1] == ' ') ||
			(line[at] == ',' && line[at + 1] == ' '))
			return 0;
		words += line[at] == ' ' && line[at + 1] != '(' && line[at + 1] != '[';
		if (words > MOST_NAME_WORDS)
			return 0;
	}
	return 0;
}

/* Whether a body says how something is worked. */
static bool is_worked(const char *body)
{
	static const char *const words[] = {"insert hook", "yarn over", "draw up", "pull up", " in next st",
		" in same st", "stitch", " st ", " sts", "hook"};
	if (tb_has_stitch(body))
		return true;
	g_autofree char *lower = g_ascii_strdown(body, -1);
	for (size_t i = 0; i < G_N_ELEMENTS(words); i++) {
		if (strstr(lower, words[i]) != NULL)
			return true;
	}
	return false;
}

/* "ch chain", "sl st slip stitch": an abbreviation and its words, with nothing between. */
static size_t find_pair(const char *line)
{
	size_t name = strcspn(line, " ");
	if (tb_at_word(line, "sl") > 0 && tb_at_word(line + skip_blanks(line, name), "st") > 0)
		name = skip_blanks(line, name) + strlen("st");
	size_t body = skip_blanks(line, name);
	if (name == 0 || name > 12 || body == name || strnlen(line, LONGEST_NAME + 1) > LONGEST_NAME ||
		!g_ascii_isalpha(*line) || strpbrk(line, ".!?:;,") != NULL)
		return 0;
	/* "sh 5 dc in same st" */
	if (g_ascii_isdigit(line[body]) || line[body] == '(')
		return is_worked(line + body) && tb_at_word(line, "sh cl v-st vst pc bo bob ps fan inc dec shell cluster puff "
			"popcorn bobble picot beg-cl v x") == name ? body : 0;
	bool abbreviation = tb_has_stitch(line) || tb_at_word(line, "st st(s) sts sp sps sk rep rnd rs ws "
		"beg blo flo lp lps pat pm rem tog yo mc cc") > 0;
	return abbreviation && g_ascii_isalpha(line[body]) ? body : 0;
}

/* "White Rnd 3", "R3": a row is named before the parting, however it is dressed, and no stitch. */
static bool numbers_row(const char *line, size_t length)
{
	for (size_t at = 0; at < length; at++) {
		if (at > 0 && g_ascii_isalnum(line[at - 1]))
			continue;
		size_t word = tb_at_word(line + at, "row rows rnd rnds round rounds");
		word = word == 0 && line[at] == 'R' ? 1 : word;
		size_t number = word > 0 ? at + word + strspn(line + at + word, word > 1 ? " .#" : "") : 0;
		if (word > 0 && g_ascii_isdigit(line[number]))
			return true;
	}
	return false;
}

/* "Ch 1, turn, sc2tog, sc to last 2 sts": that works a whole row, and tells of no stitch. */
static bool works_row(const char *body)
{
	static const char *const reaches[] = {" to last", " to the last", " to end", " to the end", " across", " around", " in each st", " until "};
	size_t chain = tb_at_word(body, "ch chain turn");
	bool far = false;
	for (size_t i = 0; i < G_N_ELEMENTS(reaches) && chain > 0; i++)
		far = far || strstr(body, reaches[i]) != NULL;
	return far;
}

size_t tb_find_body(const char *line, bool list)
{
	tb_told told;
	if (!tb_told_find(line, list, &told))
		return list ? find_pair(line) : 0;
	if (numbers_row(line, told.name_end))
		return 0;
	/* "On every 4th rnd: inc in the first st" is no stitch */
	if (!list && tb_find_words(line, told.name_end, "row rows rnd rnds round rounds every each") < told.name_end)
		return 0;
	if (!list && ((told.by_words && !tb_told_is_stitch(line, &told)) || works_row(line + told.body)))
		return 0;
	return list || is_worked(line + told.body) ? told.body : 0;
}

/* Whether what stands at LINE is a short name, and no word of a sentence: "cl", "CL", "V-st", "beg cl". */
static bool is_short_name(const char *line, size_t length)
{
	return length > 0 && length < 9 && tb_names_stitch(line, length);
}

/* "Ssc1 = sc one row below next st; Ssc2 = sc two rows below next st": the second name is a word like the first. */
static bool is_named_alike(const char *line, const char *name, size_t length)
{
	size_t parting = 0, first = tb_find_parting(line, &parting);
	return first > 0 && first < 9 && length > 0 && length < 9 && memchr(line, ' ', first) == NULL &&
		memchr(name, ' ', length) == NULL && g_ascii_tolower(*line) == g_ascii_tolower(*name) &&
		line[skip_blanks(line, first)] == name[skip_blanks(name, length)];
}

/* "Corner = (dc, ch 2, dc) in the ch-2 sp"; "ch 3 = dc" tells of no stitch. */
static bool is_equation(const char *text, size_t length, size_t parting)
{
	g_autofree char *name = g_strndup(text, length);
	return length > 0 && text[skip_blanks(text, length)] == '=' && tb_is_among(text[length + parting], "([{") && !tb_has_stitch(name);
}

size_t tb_find_told_behind(const char *line)
{
	for (const char *at = strpbrk(line, ".;"); at != NULL; at = strpbrk(at + 1, ".;")) {
		if (at[1] != ' ')
			continue;
		const char *name = at + 1 + strspn(at + 1, " ");
		size_t parting = 0, length = tb_find_parting(name, &parting);
		bool named = *at == '.' ? is_short_name(name, length) || is_equation(name, length, parting) : is_named_alike(line, name, length);
		if (named && tb_is_among(name[skip_blanks(name, length)], ":=") && tb_find_body(name, false) > 0)
			return (size_t)(name - line);
	}
	return 0;
}

bool tb_is_mark(const char *line)
{
	size_t length = strspn(line, "ABCDEFGHIJKLMNOPQRSTUVWXYZ");
	size_t parting = skip_blanks(line, length);
	return length > 0 && length < 4 && tb_at_word(line, "rs ws mc cc r") != length &&
		(line[parting] == ':' || line[parting] == '=') && tb_find_body(line, false) > 0;
}

bool tb_names_stitch(const char *line, size_t length)
{
	static const char words[] = "st sts stitch stitches shell cluster popcorn bobble puff picot cable "
		"fan v-st v-stitch cl pc bo sh knot tr ch sc dc hdc dtr inc dec increase decrease block "
		"mesh sl sp sps sk rep rnd rs ws beg blo flo lp lps tog yo mr fp bp";
	if (length > LONGEST_NAME)
		return false;
	g_autofree char *name = g_strndup(line, length);
	return tb_find_words(name, length, words) < length || tb_has_stitch(name);
}

bool tb_has_abbreviation(const char *line, size_t length)
{
	for (size_t at = 1; at + 2 < length; at++) {
		if (line[at] != '(')
			continue;
		size_t letters = strspn(line + at + 1, "abcdefghijklmnopqrstuvwxyz-");
		if (letters > 0 && letters < 8 && line[at + 1 + letters] == ')')
			return true;
	}
	return false;
}
