/*
 * Whose terms the pattern is in: what its head says of that, "Written in UK terms", "A British pattern", and
 * where it says nothing, the words that only one of the two has.
 */
#include "pattern/text_reader.h"

#include <string.h>

enum { NO_TERMS, US_TERMS, UK_TERMS, BOTH_TERMS };

static const char us_words[] = "us usa u.s american";
static const char uk_words[] = "uk u.k british";

/* Which terms TEXT speaks of. */
static unsigned find_terms(const char *text)
{
	unsigned terms = NO_TERMS;
	for (const char *c = text; *c != '\0'; c++) {
		if (c > text && g_ascii_isalnum(c[-1]))
			continue;
		bool not = c - text > 4 && g_ascii_strncasecmp(c - 4, "not ", 4) == 0;
		if (!not && tb_at_word(c, us_words) > 0 && *c != 'u')
			terms |= US_TERMS;
		if (!not && (tb_at_word(c, uk_words) > 0 || tb_at_word(c, "english") > 0))
			terms |= terms == NO_TERMS || tb_at_word(c, "english") == 0 ? UK_TERMS : NO_TERMS;
	}
	return terms;
}

/* The bytes of a country's name at TEXT, with a full stop of its letters and the blank behind it; 0 for none. */
static size_t at_country(const char *text)
{
	size_t at = *text != 'u' ? tb_at_word(text, us_words) : 0;
	at += at == 0 ? tb_at_word(text, uk_words) : 0;
	at += at > 0 && text[at] == '.' && g_ascii_isalpha(text[at - 1]) && text[at - 2] == '.';
	return at > 0 ? at + strspn(text + at, " ") : 0;
}

/* "UK stitches", "British crochet English", "American stitch names": what a country's name at TEXT is said of. */
static bool is_said_of_words(const char *text)
{
	static const char between[] = "crochet stitch standard written spoken style";
	size_t at = at_country(text), word;
	while ((word = tb_at_word(text + at, between)) > 0)
		at += word + strspn(text + at + word, " ");
	word = tb_at_word(text + at, "english stitches sts names abbreviations abbrevs recipe pattern instructions language words "
		"wording notation convention conventions naming nomenclature version edition spelling usage terms");
	/* "a UK pattern shop" sells yarn */
	return word > 0 && tb_at_word(text + at + word + strspn(text + at + word, " "), "shop shops store stores company designer book books maker magazine") == 0;
}

/* "The words are American.", "All stitches UK": behind what is named so a country stands, and no more of it. */
static bool is_said_of(const char *sentence, size_t at)
{
	static const char named[] = "words stitches names abbreviations pattern recipe instructions language wording notation "
		"terminology english everything";
	size_t behind = at + at_country(sentence + at);
	bool ends = sentence[behind] == '\0' || tb_is_among(sentence[behind], ".,;:!-)") || tb_at_word(sentence + behind, "and throughout only") > 0;
	return ends && tb_find_words(sentence, at, named) < at && tb_find_words(sentence, at, "size sizes hook hooks yarn for like if") == at;
}

/*
 * Whether a sentence that has no word of terms says whose the words are. A country may as well be said of hooks, sizes
 * and yarns, and of readers who are to convert.
 */
static bool tells_words(const char *sentence)
{
	for (size_t at = 0; sentence[at] != '\0'; at++) {
		if ((at > 0 && g_ascii_isalnum(sentence[at - 1])) || at_country(sentence + at) == 0)
			continue;
		if (is_said_of_words(sentence + at) || is_said_of(sentence, at))
			return true;
	}
	return false;
}

/*
 * Which terms the first sentence of TEXT that speaks of terms says; NO_TERMS where none does. What stands behind it is for
 * others: "British terms. American readers: htr = hdc". ALONE: terms must be called so.
 */
static unsigned find_said_terms(const char *text, bool alone)
{
	for (size_t at = 0; text[at] != '\0';) {
		size_t end = at;
		while (text[end] != '\0' && !(text[end] == '.' && tb_is_among(text[end + 1], " ")) && !tb_is_among(text[end], "(;"))
			end++;
		g_autofree char *sentence = g_ascii_strdown(text + at, (gssize)(end - at));
		g_autofree char *said = g_strndup(text + at, end - at);
		/* "the stitches are the American ones" */
		bool names = strstr(sentence, "stitch") != NULL && (strstr(sentence, " name") != NULL || strstr(sentence, " ones") != NULL);
		bool tells = names || strstr(sentence, " term") != NULL || strstr(sentence, "-term") != NULL || (!alone && tells_words(said));
		unsigned terms = tells ? find_terms(said) : NO_TERMS;
		if (terms != NO_TERMS)
			return terms;
		at = end + (text[end] != '\0');
	}
	return NO_TERMS;
}

static void take(tb_text_reader *reader, bool uk)
{
	reader->pattern->uk_terms = uk;
	reader->terms_told = true;
}

void tb_text_find_terms(tb_text_reader *reader, const char *text)
{
	unsigned seen = 1u << TB_FIELD_TERMS;
	unsigned terms = (reader->fields_seen & seen) != 0 ? NO_TERMS : find_said_terms(text, reader->piece != NULL);
	/* "US terms, UK in brackets" leaves it open; the rows then speak US terms. */
	if (terms == UK_TERMS)
		take(reader, true);
}

bool tb_text_find_head_terms(tb_text_reader *reader, const char *head, size_t from)
{
	static const char rest[] = "terms term terminology abbreviations version english only used uk u.k us usa u.s british american are in the all "
		"these crochet standard";
	size_t length = strcspn(head, "=:;");
	if (length > 60 || tb_has_stitch(head))
		length = from;
	g_autofree char *name = g_strndup(head, length);
	unsigned terms = find_terms(name);
	if (terms == UK_TERMS && (reader->fields_seen & 1u << TB_FIELD_TERMS) == 0)
		take(reader, true);
	size_t at = from, word;
	while (terms != NO_TERMS && ((word = tb_at_word(head + at, rest)) > 0 || (word = strspn(head + at, " -()[],.:/")) > 0))
		at += word;
	return terms != NO_TERMS && head[at] == '\0';
}

bool tb_text_take_terms(tb_text_reader *reader, guint i)
{
	const char *line = tb_text_line(reader, i);
	unsigned terms = strlen(line) > 60 ? NO_TERMS : find_said_terms(line, true);
	if (terms != US_TERMS && terms != UK_TERMS)
		return false;
	bool uk = terms == UK_TERMS, fixed = reader->piece != NULL || (reader->fields_seen & 1u << TB_FIELD_TERMS) != 0;
	if (fixed && uk != reader->pattern->uk_terms)
		tb_text_fault_at(reader, TB_ERROR, "other-terms", tb_text_part(reader, i, 0, strlen(line)),
			"Put each in a file of its own.", "the pattern is in %s terms above this", uk ? "US" : "UK");
	take(reader, uk);
	tb_text_mark(reader, i, 0, TB_READ_FACT);
	return true;
}

/* Where in LINE a word of UK terms alone stands, "htr", "half treble"; its end is *END; -1 where none does. */
static int find_uk_word(const char *line, size_t *end)
{
	for (size_t at = 0; line[at] != '\0'; at++) {
		if (at > 0 && g_ascii_isalnum(line[at - 1]))
			continue;
		size_t half = tb_at_word(line + at, "half"), tr = half + strspn(line + at + half, " -");
		size_t word = tb_at_word(line + at, "htr htrs htr2tog htr3tog");
		if (word == 0 && half > 0 && tb_at_word(line + at + tr, "treble trebles tr") > 0)
			word = tr + tb_at_word(line + at + tr, "treble trebles tr");
		*end = at + word;
		if (word > 0)
			return (int)at;
	}
	return -1;
}

/* Whether LINE has a word of US terms alone, or names that country. */
static bool has_us_word(const char *line)
{
	for (size_t at = 0; line[at] != '\0'; at++) {
		if (at > 0 && g_ascii_isalnum(line[at - 1]))
			continue;
		size_t first = tb_at_word(line + at, "single half"), second = at + first + strspn(line + at + first, " -");
		if (tb_at_word(line + at, "sc hdc sc2tog sc3tog hdc2tog hdc3tog") > 0 || (*(line + at) != 'u' && tb_at_word(line + at, us_words) > 0) ||
			(first > 0 && tb_at_word(line + second, tb_at_word(line + at, "single") > 0 ? "crochet crochets" : "double") > 0))
			return true;
	}
	return false;
}

void tb_text_take_terms_of_words(tb_text_reader *reader)
{
	bool uk = false;
	for (guint i = 0; i < reader->count; i++) {
		size_t end;
		const char *line = tb_text_line(reader, i);
		if (has_us_word(line))
			return;
		uk = uk || find_uk_word(line, &end) >= 0;
	}
	reader->pattern->uk_terms = uk;
}

void tb_text_tell_terms_of_words(const tb_text_reader *reader)
{
	if (!reader->pattern->uk_terms || reader->terms_told || (reader->fields_seen & 1u << TB_FIELD_TERMS) != 0)
		return;
	for (guint i = 0; i < reader->count; i++) {
		size_t end;
		int at = find_uk_word(tb_text_line(reader, i), &end);
		if (at < 0)
			continue;
		tb_text_fault_at(reader, TB_NOTE, "terms-taken", tb_text_part(reader, i, (size_t)at, end), "Say “Terms: UK”, or “Terms: US”.",
			"nothing says whose terms these are; this word is British, and all are read so");
		return;
	}
}
