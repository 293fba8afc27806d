/* What sizes measure, beside their names: "Small (16 in)", "newborn, sole 9 cm", "20 - 22 - 24 cm". */
#include "pattern/text_reader.h"

#include <string.h>

size_t tb_size_unit(const char *text)
{
	return *text == '"' ? 1 : tb_at_word(text, "cm cms mm in ins inch inches");
}

/* "foot 24 cm", "approx. 22 in", "16\" around" before END: what a size measures, and no name. */
static bool tells_measure(const char *text, size_t end)
{
	if (tb_at_word(text, "foot sole shoe chest bust head hand palm waist hip hips neck us uk eu approx approximately about see fits "
			"fit to length width circumference measures shown stretches actual finished") > 0)
		return true;
	for (size_t i = 1; i < end && g_ascii_isdigit(*text); i++) {
		if ((text[i - 1] == ' ' || g_ascii_isdigit(text[i - 1])) && tb_size_unit(text + i) > 0)
			return true;
	}
	return false;
}

/* "newborn (sole 3.5 in)", "3-6 months, chest 17 in": one size, and behind it nothing but what it measures. */
bool tb_size_is_one_measured(const char *text)
{
	size_t at = strcspn(text, "([{,;"), name = strcspn(text, " ([{,;");
	bool told = at > 0 && text[at] != '\0';
	while (text[at] != '\0' && told) {
		bool bracket = tb_is_among(text[at], "([{");
		at += 1 + strspn(text + at + 1, " ");
		size_t end = strcspn(text + at, bracket ? ")]}" : ",;([{");
		/* "US 6 (US 8)" is two */
		told = tells_measure(text + at, end) && g_ascii_strncasecmp(text, text + at, name) != 0;
		at += end + (text[at + end] != '\0' && bracket);
		size_t next = at + strspn(text + at, " .");
		told = told && (!bracket || text[next] == '\0' || tb_is_among(text[next], ",;"));
		at = next;
	}
	return told;
}

/* "20 - 22 - 24 cm", "16 in (18 in, 20 in)": lengths for several sizes; "18-20 cm" is one, and so is "12 in (30 cm)". */
bool tb_size_lists_lengths(const char *text)
{
	unsigned dashes = 0, listed = 0;
	size_t open = strcspn(text, "([{");
	for (const char *c = strstr(text, " - "); c != NULL && c < text + open; c = strstr(c + 1, " - "))
		dashes += c > text && g_ascii_isdigit(c[-1]) && g_ascii_isdigit(c[3]);
	for (size_t at = open; text[at] != '\0' && g_ascii_isdigit(*text) && !tb_is_among(text[at], ")]}");) {
		at += 1 + strspn(text + at + 1, " ");
		if (!g_ascii_isdigit(text[at]))
			return false;
		at += strcspn(text + at, ",;:)]}");
		listed++;
	}
	return dashes > 1 || listed > 1;
}

/* "Women's small", "6-9 months", "2T" from TEXT on, LENGTH bytes: words that names of sizes are made of, and no other. */
bool tb_size_is_named(const char *text, size_t length)
{
	static const char words[] = "small medium large extra child child's children kid kids adult adults newborn new born baby "
		"infant toddler tot teen teens tween youth junior preemie woman women women's ladies man men men's boy boys girl girls "
		"petite plus short long tall mini little big one cup throw doll lap size age ages month months mo mos m year years yr "
		"yrs old t to and";
	size_t at = 0;
	while (at < length) {
		size_t figures = strspn(text + at, "0123456789xX"), letter = strspn(text + at + figures, "SMLsml") > 0;
		bool short_name = figures + letter > 0 && !g_ascii_isalnum(text[at + figures + letter]);
		size_t word = short_name ? figures + letter : figures > 0 ? figures : tb_at_word(text + at, words);
		if (word == 0)
			return false;
		at += word + strspn(text + at + word, " -/.");
	}
	return length > 0 && at <= length + 3;
}

/*
 * "Small (16 in)", "Medium: 18 in", "Large - 20 in around" at TEXT: a name, and behind it what it measures. The
 * bytes of it, *NAME those of the name; 0 for anything else.
 */
size_t tb_size_measured(const char *text, size_t end, size_t *name)
{
	size_t open = 0;
	while (open < end && !tb_is_among(text[open], "([{,;:=") && !g_str_has_prefix(text + open, " - "))
		open++;
	if (open == 0 || open >= end || tb_is_among(text[open], ",;"))
		return 0;
	bool bracket = tb_is_among(text[open], "([{");
	size_t inside = open + strspn(text + open, " -:=([{"), close = inside;
	while (close < end && !tb_is_among(text[close], bracket ? ")]}" : ",;([{"))
		close++;
	bool told = tells_measure(text + inside, close - inside);
	*name = open;
	if (bracket ? close >= end || !(told || (g_ascii_isalpha(*text) && g_ascii_isdigit(text[inside]))) :
		!((told || g_ascii_isdigit(text[inside])) && tb_size_is_named(text, open)))
		return 0;
	return close + bracket;
}

bool tb_text_tells_size(const char *line)
{
	size_t name;
	return tb_size_measured(line, strlen(line), &name) > 0 && tb_size_is_named(line, name);
}
