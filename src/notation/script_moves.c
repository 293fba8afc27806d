/*
 * Definitions whose words are not read as a row: what can be said of the stitch all the same, by its name and by
 * the moves of the hook that it is told in.
 */
#include "notation/script.h"

#include "stitches/stitch.h"

#include <string.h>

size_t tb_moves_parting(const char *text, size_t *body)
{
	static const char *const dashes[] = {" - ", " – ", " — ", "—"};
	size_t name = strcspn(text, ":=");
	*body = name + (text[name] != '\0');
	for (size_t i = 0; i < G_N_ELEMENTS(dashes); i++) {
		const char *dash = strstr(text, dashes[i]);
		if (dash == NULL || (size_t)(dash - text) > name)
			continue;
		name = (size_t)(dash - text);
		*body = name + strlen(dashes[i]);
	}
	return name;
}

static const tb_stitch *find_plain(const tb_reader *r, const char *term)
{
	const tb_stitch *found = tb_library_find_term(r->b.pattern->library, term, r->b.pattern->uk_terms);
	return found != NULL && found->family == TB_FAMILY_PLAIN ? found : NULL;
}

/* The stitch that a name itself speaks of: "linked dc", "linked half double crochet" and "lhdc" are kinds of one. */
const tb_stitch *tb_moves_base(const tb_reader *r, const char *name)
{
	g_auto(GStrv) words = g_strsplit_set(name, " -", -1);
	const tb_stitch *base = NULL;
	for (char **word = words; *word != NULL; word++) {
		const tb_stitch *found = find_plain(r, *word);
		base = found != NULL ? found : base;
	}
	/* the longest of several words: no "double crochet" where a "half" stands before it */
	for (const char *at = name; base == NULL && at != NULL; at = strchr(at, ' ')) {
		at += strspn(at, " -");
		base = find_plain(r, at);
	}
	for (const char *at = name; base == NULL && words[0] != NULL && words[1] == NULL && at[0] != '\0' && at[1] != '\0'; at++)
		base = find_plain(r, at + 1);
	return base;
}

const tb_stitch *tb_moves_named(tb_reader *r, const char *name)
{
	const tb_value *value;
	g_autoptr(tb_text) text = tb_text_create(name, strlen(name), 0);
	if (!tb_reader_try(r, text, TB_RULE_stitch, &value) || !tb_value_is(value, TB_KIND_stitch) ||
		tb_value_get(value, TB_SLOT_spike) != NULL || tb_value_get(value, TB_SLOT_post) != NULL)
		return NULL;
	const tb_value *said = tb_value_get(value, TB_SLOT_name);
	const tb_stitch *stitch = said != NULL && said->type == TB_VALUE_STITCH ? said->stitch : NULL;
	return stitch != NULL && stitch->family == TB_FAMILY_PLAIN ? stitch : NULL;
}

/* Where the last of WORDS in BODY begins; NULL where none does. */
static const char *find_last(const char *body, const char *const *words)
{
	const char *last = NULL;
	for (; *words != NULL; words++) {
		for (const char *at = strstr(body, *words); at != NULL; at = strstr(at + 1, *words))
			last = at > last ? at : last;
	}
	return last;
}

/*
 * "ch 3 through this loop only" between where the hook goes in, at INSERT, and what is drawn through last, and
 * "ch 1 to close" behind it, make no stitch of their own. Cuts that end off BODY; false where there are other chains.
 */
static bool has_no_chain(char *body, const char *insert)
{
	static const char *const closing[] = {", ch 1 to close", ", ch 1 to secure", ", ch 1 to fasten", ", ch 1 to lock",
		", ch 1 to finish", NULL};
	static const char *const chains[] = {" ch ", "chain", NULL}, *const through[] = {"through", NULL};
	char *end = (char *)(gpointer)find_last(body, closing);
	static const char *const one[] = {", ch 1", NULL}, *const holds[] = {"close", "secure", "fasten", "lock", "finish", NULL};
	char *last = (char *)(gpointer)find_last(body, one);
	/* ", ch 1 tightly to close" */
	if (end == NULL && last != NULL && find_last(last, holds) != NULL)
		end = last;
	if (end != NULL)
		*end = '\0';
	const char *chain = find_last(body, chains), *drawn = find_last(body, through);
	for (size_t i = 0; chains[i] != NULL; i++) {
		const char *first = strstr(body, chains[i]);
		if (first != NULL && first < insert)
			return false;
	}
	return chain == NULL || (drawn != NULL && chain < drawn);
}

/* "… complete as sc", "… and finish as for hdc": the plain stitch that it is worked like; NULL where none is named. */
static const tb_stitch *finished_as(const tb_reader *r, const char *body)
{
	static const char *const finishing[] = {"complete", "finish", NULL};
	const char *at = find_last(body, finishing);
	if (at == NULL)
		return NULL;
	g_auto(GStrv) words = g_strsplit_set(at, " ,.;:()-", -1);
	bool as = false;
	for (char **word = words + 1; *word != NULL; word++) {
		static const char *const between[] = {"", "as", "like", "for", "the", "a", "an", "your", "it", "regular", "normal",
			"standard", "usual", "stitch", "st", NULL};
		const tb_stitch *found = tb_library_find_term(r->b.pattern->library, *word, r->b.pattern->uk_terms);
		if (found != NULL && found->family == TB_FAMILY_PLAIN)
			return as || word == words + 1 ? found : NULL;
		if (!g_strv_contains(between, *word))
			return NULL;
		as = as || strcmp(*word, "as") == 0 || strcmp(*word, "like") == 0 || strcmp(*word, "the") == 0 ||
			strcmp(*word, "a") == 0 || strcmp(*word, "your") == 0;
	}
	return NULL;
}

/*
 * "Bullion: yo 7 times, insert hook in st, draw up a loop, yo, draw through all loops": whatever the moves
 * are, they go in at one place and end in one loop. A dc where the yarn goes over the hook first, or else a sc.
 */
const tb_stitch *tb_moves_stitch(const tb_reader *r, const tb_text *text)
{
	size_t told, parting = tb_moves_parting(text->chars, &told);
	if (text->chars[parting] == '\0')
		return NULL;
	g_autofree char *body = tb_text_lower(text->chars + told, -1);
	static const char *const more[] = {"next 2", "next 3", "next two", "next three", "each of", "skip", "sk ",
		"1 sc", "2 sc", "sl st", "times in next", " sts", "number"};
	static const char *const inserting[] = {"insert", "draw up a loop in", "pull up a loop in", "draw up loop in"};
	const char *insert = NULL, *next = strstr(body, "next st");
	for (size_t i = 0; i < G_N_ELEMENTS(inserting) && insert == NULL; i++)
		insert = strstr(body, inserting[i]);
	const tb_stitch *like = finished_as(r, body);
	bool ends = strstr(body, "loops") != NULL && strstr(body, "through") != NULL;
	if (insert == NULL || (!ends && like == NULL) || (next != NULL && strstr(next + 1, "next st") != NULL) || !has_no_chain(body, insert))
		return NULL;
	for (size_t i = 0; i < G_N_ELEMENTS(more); i++) {
		if (strstr(body, more[i]) != NULL)
			return NULL;
	}
	if (like != NULL)
		return like;
	size_t word = strspn(body, " ");
	bool over = g_str_has_prefix(body + word, "yo") || g_str_has_prefix(body + word, "wrap") ||
		g_str_has_prefix(body + word, "yarn") || g_str_has_prefix(body + word, "yrh");
	return tb_library_find(r->b.pattern->library, over ? "dc" : "sc");
}

/*
 * "CL: leave last loop of each dc on hook, 1 dc in each of the given number of sts, yo and through all loops":
 * the row says how many. The stitch that each leg is of, or NULL where no number is left to the row.
 */
const tb_stitch *tb_moves_over(const tb_reader *r, const char *body)
{
	g_autofree char *lower = tb_text_lower(body, -1);
	bool closes = strstr(lower, "through all") != NULL || strstr(lower, "tog") != NULL || strstr(lower, "through loops") != NULL;
	if (strstr(lower, "number") == NULL || strstr(lower, "st") == NULL || !closes)
		return NULL;
	g_auto(GStrv) words = g_strsplit_set(lower, " ,.;:()[]0123456789", -1);
	const tb_stitch *base = NULL;
	for (char **word = words; *word != NULL; word++) {
		const tb_stitch *found = tb_library_find_term(r->b.pattern->library, *word, r->b.pattern->uk_terms);
		if (found == NULL || found->family != TB_FAMILY_PLAIN || found == tb_library_find(r->b.pattern->library, "sl st"))
			continue;
		if (base != NULL && base != found)
			return NULL;
		base = found;
	}
	if (base != NULL || strstr(lower, "insert") == NULL)
		return base;
	/* told by its moves */
	bool half = strstr(lower, "through 2") != NULL || strstr(lower, "through two") != NULL;
	if (strstr(lower, "twice") != NULL || strstr(lower, "times") != NULL || strstr(lower, "yo, yo") != NULL || !half)
		return NULL;
	return tb_library_find(r->b.pattern->library, "dc");
}
