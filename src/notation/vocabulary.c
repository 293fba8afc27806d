/* What stitches, sizes and the pattern's own stitches are called: a table of whole words. */
#include "notation/lattice_maker.h"

#include "notation/spelling.h"
#include "stitches/stitch.h"

#include <string.h>

/* The words of TEXT, small, parted by single blanks. Owned. */
static char *spell(const char *text)
{
	bool plain = true;
	for (size_t i = 0; text[i] != '\0'; i++)
		plain = plain && (guchar)text[i] < 0x80 && !g_ascii_isupper(text[i]);
	if (plain)
		return tb_spelling_words(text);
	g_autofree char *lower = tb_text_lower(text, -1);
	return tb_spelling_words(lower);
}

const tb_vocabulary_entry *tb_vocabulary_find(const tb_vocabulary *v, guint32 hash, const char *words, size_t length)
{
	for (guint32 at = tb_spelling_place(hash, v->mask); v->entries[at].length > 0;
		at = (at + 1) & v->mask) {
		const tb_vocabulary_entry *e = &v->entries[at];
		if (e->hash == hash && e->length == length && memcmp(e->words, words, length) == 0)
			return e;
	}
	return NULL;
}

const tb_vocabulary_entry *tb_vocabulary_find_words(const tb_vocabulary *v, const char *words, size_t length)
{
	return tb_vocabulary_find(v, tb_spelling_hash(TB_SPELLING_HASH, words, length), words, length);
}

static void grow_entries(tb_vocabulary *v)
{
	guint32 mask = v->mask;
	tb_vocabulary_entry *before = v->entries;
	v->mask = mask * 2 + 1;
	v->entries = g_new0(tb_vocabulary_entry, v->mask + 1);
	for (guint32 i = 0; i <= mask; i++) {
		guint32 at = tb_spelling_place(before[i].hash, v->mask);
		while (before[i].length > 0 && v->entries[at].length > 0)
			at = (at + 1) & v->mask;
		if (before[i].length > 0)
			v->entries[at] = before[i];
	}
	g_free(before);
}

/* The entry of the first LENGTH bytes of WORDS, which are the vocabulary's own and stay. */
static tb_vocabulary_entry *add_entry(tb_vocabulary *v, const char *words, size_t length)
{
	guint32 hash = tb_spelling_hash(TB_SPELLING_HASH, words, length);
	v->changes++;
	tb_vocabulary_entry *there = (tb_vocabulary_entry *)(gpointer)tb_vocabulary_find(v, hash, words, length);
	if (there != NULL)
		return there;
	if (v->count * 2 > v->mask)
		grow_entries(v);
	guint32 at = tb_spelling_place(hash, v->mask);
	while (v->entries[at].length > 0)
		at = (at + 1) & v->mask;
	v->count++;
	v->entries[at] = (tb_vocabulary_entry){.hash = hash, .length = (guint32)length, .words = words};
	return &v->entries[at];
}

/* The entry of WORDS, and that longer ones begin with each of their beginnings. */
static tb_vocabulary_entry *add_spelling(tb_vocabulary *v, const char *words, size_t length)
{
	for (size_t i = 0; i < length; i++) {
		if (words[i] == ' ')
			add_entry(v, words, i)->more = true;
	}
	return add_entry(v, words, length);
}

/* WORDS with room for the end of a plural; they are the vocabulary's own. */
static char *keep_words(tb_vocabulary *v, const char *words, size_t length)
{
	char *copy = tb_arena_take(v->arena, length + 3);
	memcpy(copy, words, length);
	return copy;
}

/* Makes the plural of WORDS in place; its length, or 0 where there is none. */
static size_t make_plural(char *words, size_t length)
{
	if (length < 2 || !g_ascii_isalpha(words[length - 1]))
		return 0;
	/* "berries", but "trays" */
	if (length > 2 && words[length - 1] == 'y' && g_ascii_isalpha(words[length - 2]) &&
		!tb_is_among(words[length - 2], "aeiou")) {
		memcpy(words + length - 1, "ies", 4);
		return length + 2;
	}
	bool es = g_str_has_suffix(words, "sh") || words[length - 1] == 's' || words[length - 1] == 'x' ||
		(length > 3 && g_str_has_suffix(words, "ch"));
	memcpy(words + length, es ? "es" : "s", es ? 3 : 2);
	return length + (es ? 2 : 1);
}

/* A term of the library: its words, small, and their plural. */
/* The entries of a spelling and, where it has one, of its plural, which names no more than that. */
static void add_with_plural(tb_vocabulary *v, const char *text, const tb_stitch *stitch, const void *own)
{
	g_autofree char *words = spell(text);
	size_t length = strlen(words);
	if (length == 0)
		return;
	tb_vocabulary_entry *one = add_spelling(v, keep_words(v, words, length), length);
	one->stitch = stitch != NULL ? stitch : one->stitch;
	one->own = own != NULL ? own : one->own;
	char *plural = keep_words(v, words, length);
	size_t longer = make_plural(plural, length);
	if (longer == 0)
		return;
	tb_vocabulary_entry *several = add_spelling(v, plural, longer);
	several->stitch = several->stitch != NULL ? several->stitch : stitch;
	several->own = several->own != NULL ? several->own : own;
}

static void add_stitches(tb_vocabulary *v, GHashTable *terms)
{
	GHashTableIter iter;
	gpointer term, stitch;
	g_hash_table_iter_init(&iter, terms);
	while (g_hash_table_iter_next(&iter, &term, &stitch))
		add_with_plural(v, term, stitch, NULL);
}

/* The stitch NAME; a linked one is made when it is first needed. */
static const tb_stitch *find_named(const tb_library *library, const char *name)
{
	const tb_stitch *stitch = tb_library_find(library, name);
	const tb_stitch *base = stitch == NULL && name[0] == 'l' ? tb_library_find(library, name + 1) : NULL;
	return base != NULL ? tb_library_variant((tb_library *)(gpointer)library, base, TB_VARIANT_LINKED) : stitch;
}

static void find_symbols(tb_vocabulary *v)
{
	const tb_grammar *g = v->grammar;
	v->symbols = g_new0(tb_value, TB_SYMBOL_COUNT);
	v->of_symbol = g_new0(const tb_stitch *, TB_SYMBOL_COUNT);
	for (gint16 i = 0; i < TB_SYMBOL_COUNT; i++) {
		v->symbols[i].type = TB_VALUE_SYMBOL;
		v->symbols[i].symbol = i;
		v->symbols[i].hash = 31u * (guint32)i + 7u;
	}
	for (guint i = 0; i < g->spelling_count; i++) {
		const tb_spelling *s = &g->spellings[i];
		if (s->term == TB_TERM_CLASS_stitchname && v->of_symbol[s->value] == NULL)
			v->of_symbol[s->value] = find_named(v->library, g->symbol_names[s->value]);
	}
}

tb_vocabulary *tb_vocabulary_create(const tb_grammar *grammar, const tb_library *library,
	bool uk, unsigned sizes)
{
	tb_vocabulary *v = g_new0(tb_vocabulary, 1);
	v->grammar = grammar;
	v->library = library;
	v->arena = tb_arena_create();
	v->terms = uk ? 2 : 1;
	v->sizes = sizes;
	v->mask = 4095;
	v->entries = g_new0(tb_vocabulary_entry, v->mask + 1);
	add_stitches(v, uk ? library->by_uk : library->by_us);
	find_symbols(v);
	return v;
}

void tb_vocabulary_destroy(tb_vocabulary *v)
{
	if (v == NULL)
		return;
	tb_arena_destroy(v->arena);
	g_free(v->entries);
	g_free(v->symbols);
	g_free(v->of_symbol);
	g_free(v);
}

/* "2 V's", "2 Vs", "2 Shs", "2 G3s": several of a name of the pattern's own, unless the word is taken. */
static void add_several(tb_vocabulary *v, const char *words, const char *ending, const void *own)
{
	/* two sides and a slip stitch */
	static const char *const taken[] = {"rs", "ws", "ss", NULL};
	g_autofree char *several = g_strconcat(words, ending, NULL);
	g_autofree char *name = spell(several);
	if (g_strv_contains(taken, name))
		return;
	tb_vocabulary_entry *entry = add_spelling(v, keep_words(v, name, strlen(name)), strlen(name));
	if (entry->stitch == NULL && entry->own == NULL)
		entry->own = own;
}

/* WORDS, which are parted by blanks or hyphens, word N said the other way where bit N of WAY is set. */
static char *say_otherwise(char *const *words, unsigned way, const char *between)
{
	static const char *const pairs[][2] = {{"beginning", "beg"}, {"starting", "beg"}, {"cluster", "cl"}, {"shell", "sh"},
		{"popcorn", "pc"}, {"stitch", "st"}, {"increase", "inc"}, {"decrease", "dec"}, {"double", "dbl"}, {"large", "lg"},
		{"block", "bl"}, {"space", "sp"}};
	g_autoptr(GString) said = g_string_new(NULL);
	for (unsigned i = 0; words[i] != NULL; i++) {
		const char *word = words[i];
		for (size_t k = 0; k < G_N_ELEMENTS(pairs) && (way >> i & 1) != 0; k++) {
			bool full = g_ascii_strcasecmp(words[i], pairs[k][0]) == 0, brief = g_ascii_strcasecmp(words[i], pairs[k][1]) == 0;
			word = full ? pairs[k][1] : brief ? pairs[k][0] : word;
			if (full || brief)
				break;
		}
		g_string_append_printf(said, "%s%s", i > 0 ? between : "", word);
	}
	return g_string_free(g_steal_pointer(&said), FALSE);
}

/* "Beginning cluster" is "beg-cl" as well, "BCL (beg cluster)" the "beg cl". */
static void add_brief(tb_vocabulary *v, const char *name, const void *own)
{
	const unsigned most = 3;
	g_auto(GStrv) words = g_strsplit_set(name, " -", -1);
	unsigned count = g_strv_length(words);
	if (count < 2 || count > most)
		return;
	for (unsigned way = 0; way < 1u << count; way++) {
		static const char *const between[] = {" ", "-"};
		for (size_t i = 0; i < G_N_ELEMENTS(between); i++) {
			g_autofree char *other = say_otherwise(words, way, between[i]);
			if (g_ascii_strcasecmp(other, name) != 0)
				add_several(v, other, "", own);
		}
	}
}

/* "Block over a space" is "bl over sp" and "block over next space" as well. */
static void add_over(tb_vocabulary *v, const char *name, const void *own)
{
	static const char *const before[] = {"", "a ", "an ", "the ", "next ", "the next "};
	g_autofree char *lower = tb_text_lower(name, -1);
	char *over = strstr(lower, " over ");
	if (over == NULL)
		return;
	*over = '\0';
	const char *below = over + strlen(" over ");
	for (size_t i = G_N_ELEMENTS(before); i-- > 1;) {
		if (g_str_has_prefix(below, before[i])) {
			below += strlen(before[i]);
			break;
		}
	}
	g_auto(GStrv) words = g_strsplit_set(lower, " -", -1), beneath = g_strsplit_set(below, " -", -1);
	if (g_strv_length(words) > 2 || g_strv_length(beneath) > 2)
		return;
	for (unsigned way = 0; way < 16; way++) {
		g_autofree char *first = say_otherwise(words, way & 3, " ");
		g_autofree char *second = say_otherwise(beneath, way >> 2, " ");
		for (size_t i = 0; i < G_N_ELEMENTS(before); i++) {
			g_autofree char *other = g_strconcat(first, " over ", before[i], second, NULL);
			if (g_ascii_strcasecmp(other, name) != 0)
				add_several(v, other, "", own);
		}
	}
}

void tb_vocabulary_define(tb_vocabulary *v, const char *words, const void *own)
{
	add_with_plural(v, words, NULL, own);
	if (*words == '\0')
		return;
	add_several(v, words, "s", own);
	add_several(v, words, "'s", own);
	/* "X-st" is "Xst" as well */
	g_auto(GStrv) parts = g_strsplit(words, "-", -1);
	g_autofree char *joined = g_strjoinv("", parts);
	if (strchr(words, '-') != NULL && strchr(words, ' ') == NULL && g_ascii_isalpha(*words))
		add_several(v, joined, "", own);
	/* "V" is "V-st" as well, and "shell" "shell st", unless the pattern tells of that by itself */
	static const char *const behind[] = {" st", "-st", " sts", "-sts", " stitch", "-stitch", " stitches",
		"-stitches"};
	for (size_t i = 0; i < G_N_ELEMENTS(behind); i++)
		add_several(v, words, behind[i], own);
	add_brief(v, words, own);
	add_over(v, words, own);
}

void tb_vocabulary_define_also(tb_vocabulary *v, const char *words, const void *own)
{
	g_autofree char *name = spell(words);
	const tb_vocabulary_entry *entry = tb_vocabulary_find_words(v, name, strlen(name));
	if (entry == NULL || entry->own == NULL)
		tb_vocabulary_define(v, words, own);
}

static void add_size_spelling(tb_vocabulary *v, const char *words, unsigned size)
{
	size_t length = strlen(words);
	tb_vocabulary_entry *entry = length > 0 ? add_spelling(v, keep_words(v, words, length), length) : NULL;
	if (entry != NULL && entry->size == 0)
		entry->size = size + 1;
}

static void add_short(tb_vocabulary *v, const char *words, unsigned size)
{
	tb_vocabulary_entry *entry = add_spelling(v, keep_words(v, words, strlen(words)), strlen(words));
	if (entry->doubtful || (entry->size > 0 && !entry->is_short))
		return;
	entry->doubtful = entry->is_short && entry->size != size + 1;
	entry->is_short = true;
	entry->size = entry->doubtful ? 0 : size + 1;
}

/* "Small" is "S" as well, and "Women's S". */
void tb_vocabulary_add_short_size(tb_vocabulary *v, const char *name, unsigned size)
{
	static const char *const names[][2] = {{"xs", "extra small"}, {"s", "small"}, {"m", "medium"},
		{"m", "med"}, {"l", "large"}, {"xl", "extra large"}, {"xs", "x - small"}, {"xl", "x - large"},
		{"nb", "newborn"}, {"2xl", "2x"}, {"3xl", "3x"}, {"xxl", "2xl"}};
	g_autofree char *key = spell(name);
	const char *blank = strrchr(key, ' '), *last = blank != NULL ? blank + 1 : key;
	bool known = false;
	for (size_t i = 0; i < G_N_ELEMENTS(names); i++) {
		for (unsigned k = 0; k < 2; k++) {
			bool whole = strcmp(key, names[i][k]) == 0;
			if (whole)
				add_short(v, names[i][1 - k], size);
			known = known || whole || strcmp(last, names[i][k]) == 0;
		}
	}
	if (blank != NULL && known && strpbrk(key, "-0123456789") == NULL)
		add_short(v, last, size);
}

/* A size, and its unit as people shorten it: "3-6 months" is "3-6 month" and "3-6 mos". */
void tb_vocabulary_add_size(tb_vocabulary *v, const char *name, unsigned size)
{
	static const char *const units[] = {" months", " month", " mos", " mo", " mths", " yrs", " years", " year"};
	const size_t months = 5;
	g_autofree char *key = spell(name);
	add_size_spelling(v, key, size);
	for (size_t i = 0; i < G_N_ELEMENTS(units); i++) {
		if (!g_str_has_suffix(key, units[i]))
			continue;
		g_autofree char *bare = g_strndup(key, strlen(key) - strlen(units[i]));
		for (size_t k = i < months ? 0 : months; k < (i < months ? months : G_N_ELEMENTS(units)); k++) {
			g_autofree char *other = g_strconcat(bare, units[k], NULL);
			add_size_spelling(v, other, size);
		}
		return;
	}
}

static void add_group(tb_vocabulary *v, const char *words, guint32 group)
{
	tb_vocabulary_entry *entry = add_spelling(v, keep_words(v, words, strlen(words)), strlen(words));
	if (entry->size == 0 && entry->group == 0)
		entry->group = group;
}

/* "largest", "two largest", "larger two": so many of the sizes, which go up. */
static void add_extremes(tb_vocabulary *v, unsigned count)
{
	static const char *const numbers[][2] = {{"two", "2"}, {"three", "3"}, {"four", "4"}, {"five", "5"}, {"six", "6"}};
	static const char *const up[] = {"largest", "larger", "biggest"}, *const down[] = {"smallest", "smaller"};
	guint32 all = count < 32 ? (1u << count) - 1 : G_MAXUINT32;
	add_group(v, "largest", 1u << (count - 1));
	add_group(v, "smallest", 1);
	for (unsigned many = 2; many < count && many - 2 < G_N_ELEMENTS(numbers); many++) {
		guint32 low = (1u << many) - 1, high = all & ~((1u << (count - many)) - 1);
		for (unsigned n = 0; n < 2; n++) {
			for (size_t i = 0; i < G_N_ELEMENTS(up) + G_N_ELEMENTS(down); i++) {
				bool is_up = i < G_N_ELEMENTS(up);
				const char *which = is_up ? up[i] : down[i - G_N_ELEMENTS(up)];
				g_autofree char *before = g_strconcat(numbers[many - 2][n], " ", which, NULL);
				g_autofree char *behind = g_strconcat(which, " ", numbers[many - 2][n], NULL);
				add_group(v, before, is_up ? high : low);
				add_group(v, behind, is_up ? high : low);
			}
		}
	}
}

void tb_vocabulary_group_sizes(tb_vocabulary *v, char *const *names, unsigned count)
{
	if (count < 2)
		return;
	for (unsigned i = 0; i < count; i++) {
		g_autofree char *key = spell(names[i]);
		char *blank = strchr(key, ' ');
		if (blank == NULL || !g_ascii_isalpha(*key))
			continue;
		*blank = '\0';
		guint32 group = 0;
		for (unsigned k = 0; k < count; k++) {
			g_autofree char *other = spell(names[k]);
			bool same = g_str_has_prefix(other, key) && (other[strlen(key)] == ' ' || other[strlen(key)] == '\0');
			group |= same ? 1u << k : 0;
		}
		if ((group & (group - 1)) != 0)
			add_group(v, key, group);
	}
	add_extremes(v, count);
}

void tb_vocabulary_name_sizes(tb_vocabulary *v, unsigned named)
{
	v->named = named;
	v->changes++;
}

const tb_library *tb_vocabulary_library(const tb_vocabulary *vocabulary)
{
	return vocabulary->library;
}

const tb_stitch *tb_vocabulary_stitch(const tb_vocabulary *vocabulary, tb_symbol symbol)
{
	return vocabulary->of_symbol[symbol];
}
