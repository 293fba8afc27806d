/*
 * "Bobble: 3 dc together in one st." A bobble is of five legs where nobody says otherwise, and many
 * patterns do, among their notes. What is looked for there is a name of such a stitch with a colon, an
 * equals sign or a bracket behind it, and behind that a count: of stitches, of times, of insertions of
 * the hook. Where that makes a stitch of another count, it is the one that is meant.
 */
#include "pattern/defined.h"

#include <stdlib.h>
#include <string.h>

#define LONGEST 800u
#define MOST_LEGS 12u

static bool has_digit(const char *text)
{
	return strpbrk(text, "0123456789") != NULL;
}

bool tb_defined_is_open(const tb_library *library, const tb_stitch *stitch, const char *term)
{
	return stitch->number < library->built_in && has_digit(stitch->us) && !has_digit(term) &&
		((stitch->legs > 1 && stitch->takes == 1) || stitch->form == TB_FORM_RING);
}

const tb_defined *tb_defined_find(const tb_pattern *pattern, const tb_stitch *stitch)
{
	return pattern->defined != NULL ? g_hash_table_lookup(pattern->defined, stitch) : NULL;
}

/* --- words --- */

typedef struct {
	char *text;      /* small letters or figures */
	unsigned number; /* 0 for what is none */
} word;

static void clear_word(void *data)
{
	g_free(((word *)data)->text);
}

static unsigned number_of(const char *text)
{
	static const char *const words[] = {"", "one", "two", "three", "four", "five", "six", "seven",
		"eight", "nine", "ten", "eleven", "twelve"};
	for (unsigned i = 1; i < G_N_ELEMENTS(words); i++) {
		if (strcmp(text, words[i]) == 0)
			return i;
	}
	return g_ascii_isdigit(*text) && strlen(text) < 5 ? (unsigned)atoi(text) : 0;
}

/* "dc3tog" is three words, "3rd" no number. */
static GArray *split_words(const char *text)
{
	GArray *words = g_array_new(FALSE, TRUE, sizeof(word));
	g_array_set_clear_func(words, clear_word);
	while (*text != '\0') {
		size_t length = strspn(text, "0123456789");
		bool figures = length > 0;
		while (!figures && g_ascii_isalpha(text[length]))
			length++;
		if (length == 0) {
			text++;
			continue;
		}
		word one = {.text = g_ascii_strdown(text, (gssize)length)};
		text += length;
		bool ordinal = figures && (g_ascii_strncasecmp(text, "st", 2) == 0 ||
									  g_ascii_strncasecmp(text, "nd", 2) == 0 ||
									  g_ascii_strncasecmp(text, "rd", 2) == 0 ||
									  g_ascii_strncasecmp(text, "th", 2) == 0) &&
			!g_ascii_isalpha(text[2]);
		one.number = ordinal ? 0 : number_of(one.text);
		g_array_append_val(words, one);
	}
	return words;
}

static const word *word_at(const GArray *words, guint i)
{
	static const word none = {(char *)"", 0};
	return i < words->len ? &g_array_index(words, word, i) : &none;
}

static bool is(const GArray *words, guint i, const char *text)
{
	return strcmp(word_at(words, i)->text, text) == 0;
}

static bool is_times(const GArray *words, guint i)
{
	return is(words, i, "times") || is(words, i, "time") || is(words, i, "x");
}

static bool is_yarn_over(const GArray *words, guint i)
{
	return is(words, i, "yo") || is(words, i, "yoh") || is(words, i, "yrh") || is(words, i, "over");
}

/* --- what they count --- */

typedef struct {
	const tb_library *library;
	bool uk;
	const GArray *words;
	unsigned count;         /* 0: nothing counted yet */
	const tb_stitch *of;    /* the stitch counted; NULL: as the built-in one has it */
	bool after_first;       /* the hook has gone in before what is done so many times */
	bool unclear;
} counting;

static void take(counting *c, unsigned count, const tb_stitch *of)
{
	bool same = c->count == 0 || (c->count == count && c->of == of);
	c->unclear = c->unclear || !same || count > MOST_LEGS;
	c->count = count;
	c->of = of;
}

/* A plain stitch named at word I, "dc", "double crochets"; its words in *LENGTH. */
static const tb_stitch *plain_at(const counting *c, guint i, guint *length)
{
	g_autoptr(GString) name = g_string_new(NULL);
	const tb_stitch *found = NULL;
	for (guint k = 0; k < 3 && i + k < c->words->len; k++) {
		g_string_append_printf(name, "%s%s", k > 0 ? " " : "", word_at(c->words, i + k)->text);
		const tb_stitch *stitch = tb_library_find_term(c->library, name->str, c->uk);
		if (stitch == NULL || stitch->legs != 1 || stitch->takes != 1 ||
			stitch->form != TB_FORM_STEM)
			continue;
		found = stitch;
		*length = k + 1;
	}
	return found;
}

/* "3 dc", "dc3tog", "double crochet 3 together" */
static void count_stitches(counting *c)
{
	for (guint i = 0; i < c->words->len; i++) {
		guint length = 0;
		unsigned number = word_at(c->words, i)->number;
		const tb_stitch *stitch = plain_at(c, number > 0 ? i + 1 : i, &length);
		if (stitch == NULL)
			continue;
		bool elsewhere = i > 0 && (is(c->words, i - 1, "next") || is(c->words, i - 1, "last"));
		if (number > 1 && !elsewhere)
			take(c, number, stitch);
		guint behind = i + length;
		unsigned legs = word_at(c->words, behind)->number;
		if (number == 0 && legs > 1 &&
			(is(c->words, behind + 1, "tog") || is(c->words, behind + 1, "together")))
			take(c, legs, stitch);
		i += length - 1;
	}
}

/* "[…] 3 times", "twice", "4 times more": so many in all. */
static void count_times(counting *c)
{
	for (guint i = 0; i < c->words->len; i++) {
		unsigned number = word_at(c->words, i)->number;
		guint end = i + 1;
		bool more = is(c->words, end, "more");
		bool twice = is(c->words, i, "twice");
		if (!twice && (number == 0 || !is_times(c->words, end + more)))
			continue;
		number = twice ? 2 : number;
		unsigned inserted = 0;
		for (guint k = 0; k < i; k++)
			inserted += is(c->words, k, "insert");
		c->after_first = c->after_first || inserted > 1;
		end += twice ? 0 : more + 1u;
		more = more || is(c->words, end, "more");
		/* "yo twice" begins a taller stitch */
		if (i > 0 && is_yarn_over(c->words, i - 1))
			c->unclear = true;
		else
			take(c, number + more, NULL);
	}
}

/* Each leg written out: as often as the hook goes in. */
static void count_insertions(counting *c)
{
	unsigned count = 0;
	for (guint i = 0; i < c->words->len; i++)
		count += is(c->words, i, "insert") || is(c->words, i, "inserting");
	if (count > 1)
		take(c, count, NULL);
}

/* "draw through all 4 loops" must be what so many legs leave on the hook: the first may be told before the others. */
static void check_loops(counting *c, const tb_stitch *known)
{
	unsigned a_leg = known->bars > 0 && strstr(known->us, "hdc") == NULL ? 1 : 2;
	for (guint i = 1; i + 1 < c->words->len; i++) {
		unsigned loops = word_at(c->words, i)->number;
		if (loops == 0 || !is(c->words, i - 1, "all") || !g_str_has_prefix(word_at(c->words, i + 1)->text, "loop"))
			continue;
		c->count += c->after_first && loops == a_leg * (c->count + 1) + 1 ? 1 : 0;
		c->unclear = c->unclear || loops != a_leg * c->count + 1;
	}
}

/* "ch 4, sl st in 4th ch from hook" */
static void count_chains(counting *c)
{
	for (guint i = 0; i < c->words->len; i++) {
		bool chain = is(c->words, i, "ch") || is(c->words, i, "chain") || is(c->words, i, "chs") ||
			is(c->words, i, "chains");
		unsigned behind = word_at(c->words, i + 1)->number;
		unsigned before = i > 0 ? word_at(c->words, i - 1)->number : 0;
		if (chain && (behind > 0 || before > 0))
			take(c, behind > 0 ? behind : before, NULL);
	}
}

/* Whether the words say how something is made at all. */
static bool tells_making(const GArray *words)
{
	static const char *const making[] = {"insert", "hook", "loop", "loops", "yo", "yrh", "tog",
		"together", "draw", "pull"};
	for (guint i = 0; i < words->len; i++) {
		for (size_t k = 0; k < G_N_ELEMENTS(making); k++) {
			if (is(words, i, making[k]))
				return true;
		}
	}
	return false;
}

static void count_all(counting *c, const tb_stitch *known)
{
	if (known->form == TB_FORM_RING) {
		count_chains(c);
		return;
	}
	count_stitches(c);
	if (c->count > 0)
		return;
	count_times(c);
	if (c->count == 0 && !c->unclear)
		count_insertions(c);
	if (c->count > 0)
		check_loops(c, known);
	else
		c->unclear = c->unclear || tells_making(c->words);
}

/* --- what that makes --- */

static void free_defined(void *data)
{
	tb_defined *defined = data;
	g_free(defined->said);
	g_free(defined);
}

static void keep(tb_pattern *pattern, const tb_stitch *known, tb_defined *defined)
{
	if (pattern->defined == NULL)
		pattern->defined = g_hash_table_new_full(NULL, NULL, NULL, free_defined);
	tb_defined *before = g_hash_table_lookup(pattern->defined, known);
	if (before == NULL) {
		g_hash_table_insert(pattern->defined, (gpointer)known, defined);
		return;
	}
	/* said twice, and not alike */
	before->unclear = before->unclear || defined->unclear || before->stitch != defined->stitch;
	free_defined(defined);
}

static void define(tb_pattern *pattern, const tb_stitch *known, const char *text)
{
	bool uk = pattern->uk_terms, ring = known->form == TB_FORM_RING;
	g_autoptr(GArray) words = split_words(text);
	counting c = {.library = pattern->library, .uk = uk, .words = words};
	count_all(&c, known);
	if (c.count == 0 && !c.unclear)
		return;
	tb_defined *defined = g_new0(tb_defined, 1);
	defined->unclear = c.unclear;
	/* "5-dc bobble": what is counted, and what it makes */
	const char *name = uk ? known->uk : known->us;
	const char *base = strchr(name, '-'), *noun = strchr(name, ' ');
	if (!c.unclear && base != NULL && noun != NULL && noun > base) {
		g_autofree char *counted = ring ? g_strdup("ch") : c.of != NULL
				? g_strdup(uk ? c.of->uk : c.of->us)
				: g_strndup(base + 1, (gsize)(noun - base - 1));
		g_autofree char *made = ring ? g_strdup_printf("ch-%u%s", c.count, noun)
									 : g_strdup_printf("%u-%s%s", c.count, counted, noun);
		defined->stitch = tb_library_find_term(pattern->library, made, uk);
		defined->said = g_strdup_printf("%u %s", c.count, counted);
	}
	keep(pattern, known, defined);
}

/* --- where it is said --- */

/* The stitch named at TEXT by one word or two, its count left open; *LENGTH its bytes. */
static const tb_stitch *open_at(const tb_pattern *pattern, const char *text, size_t *length)
{
	size_t one = 0;
	while (g_ascii_isalpha(text[one]))
		one++;
	size_t two = text[one] == ' ' ? one + 1 : one;
	while (two > one && g_ascii_isalpha(text[two]))
		two++;
	for (int i = 0; i < 2; i++) {
		*length = i == 0 ? two : one;
		if (*length == 0 || *length > 40)
			continue;
		g_autofree char *name = g_strndup(text, *length);
		const tb_stitch *stitch = tb_library_find_term(pattern->library, name, pattern->uk_terms);
		if (stitch != NULL && tb_defined_is_open(pattern->library, stitch, name))
			return stitch;
	}
	return NULL;
}

/* Behind "Bobble" stands what it means: its bytes up to there, or 0 when nothing is told of it. */
static size_t find_meaning(const char *text)
{
	size_t at = strspn(text, " "), bracket = 0;
	if (text[at] == '(' || text[at] == '[') {
		bracket = at + 1;
		at += strcspn(text + at, ")]\n");
		at += text[at] == ')' || text[at] == ']';
		at += strspn(text + at, " ");
	}
	bool dash = (text[at] == '-' && (at == 0 || text[at - 1] == ' ' || text[at + 1] == ' ')) ||
		g_str_has_prefix(text + at, "–") || g_str_has_prefix(text + at, "—");
	if (text[at] == ':' || text[at] == '=' || text[at] == '\n' || dash)
		return bracket > 0 ? bracket : at + 1;
	return bracket;
}

/* Where it ends: before another name that something is told of, on this line or below. */
static size_t meaning_end(const char *text)
{
	size_t end = MIN(strlen(text), LONGEST), stop = 0;
	for (size_t at = 0; at < end; at++) {
		if (tb_is_among(text[at], ".,;\n"))
			stop = at;
		if (at > 0 && (text[at] == '=' || text[at] == ':') && stop > 0)
			return stop;
	}
	return end;
}

void tb_defined_read(tb_pattern *pattern, const char *text)
{
	for (const char *at = text; at != NULL && *at != '\0';) {
		size_t length = 0;
		const tb_stitch *known = open_at(pattern, at, &length);
		size_t from = known != NULL ? find_meaning(at + length) : 0;
		if (from > 0) {
			const char *meaning = at + length + from;
			g_autofree char *said = g_strndup(meaning, meaning_end(meaning));
			define(pattern, known, said);
		}
		/* to the next word */
		while (g_ascii_isalnum(*at))
			at++;
		while (*at != '\0' && !g_ascii_isalnum(*at))
			at++;
	}
}
