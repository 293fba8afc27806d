/*
 * Stitches read from JSON.
 *
 * A file is a list of stitches:
 *
 *     {"us": "dc", "us_name": "double crochet", "uk": "tr", "uk_name": "treble",
 *      "also": ["d c"], "also_uk": ["treble crochet"], "family": "plain",
 *      "height": 3, "takes": 1, "moves": "yo, insert, draw up, through 2, through 2",
 *      "symbol": {"form": "stem", "legs": 1, "bars": 1}}
 *
 * "takes" is 1, and the UK terms are the US ones, where they are not said. fields.c reads and
 * checks the members, symbol_json.c the symbol; here are the terms, which must be free, and the moves.
 */
#include "stitches/library_json.h"

#include "stitches/fields.h"
#include "support/limits.h"

#include <string.h>

static tb_family read_family(tb_fields *r, const tb_library *library, const cJSON *object)
{
	static const char *const families[] = {"own", "chains", "plain", "extended", "foundation",
		"posts", "together", "clusters", "puffs", "popcorns", "edges", "marks"};
	static const tb_family meant[] = {TB_FAMILY_OWN, TB_FAMILY_CHAINS, TB_FAMILY_PLAIN,
		TB_FAMILY_EXTENDED, TB_FAMILY_FOUNDATION, TB_FAMILY_POSTS, TB_FAMILY_TOGETHER,
		TB_FAMILY_CLUSTERS, TB_FAMILY_PUFFS, TB_FAMILY_POPCORNS, TB_FAMILY_EDGES, TB_FAMILY_MARKS};
	/* A mark is worked by no row, so a designer's own would never be seen. */
	unsigned count = G_N_ELEMENTS(families) - (library->built_in > 0 ? 1 : 0);
	return meant[tb_fields_read_choice(r, object, "family", families, count)];
}

static void read_moves(tb_fields *r, const cJSON *object, tb_stitch *stitch)
{
	const cJSON *item = cJSON_GetObjectItemCaseSensitive(object, "moves");
	if (!cJSON_IsString(item)) {
		tb_fields_fault(r, "stitch-value",
			"Say how it is worked: \"yo, insert, draw up, through 2, through 2\".",
			"\"moves\" is missing");
		return;
	}
	size_t bad;
	stitch->moves = tb_moves_read(item->valuestring, &bad);
	if (stitch->moves == NULL) {
		g_autofree char *rest = g_utf8_make_valid(item->valuestring + bad, -1);
		size_t word = strcspn(rest, ",");
		tb_fields_fault(r, "stitch-moves",
			"Moves are yo, insert, insert next, insert around post, insert below, draw up, "
			"through 2, pull through 1, ch 1, close in first, parted by commas.",
			"the move \"%.*s\" is not understood", (int)MIN(word, 60), rest);
		return;
	}
	unsigned most, left, at;
	if (!tb_moves_simulate(stitch->moves, NULL, &most, &left, &at)) {
		tb_fields_fault(r, "stitch-loops",
			"Count the loops on the hook move by move, beginning with 1.",
			"move %u needs %u loops and there %s only %u on the hook", at + 1,
			stitch->moves->moves[at].through +
				(stitch->moves->moves[at].kind == TB_MOVE_PULL_THROUGH ? 1 : 0),
			left == 1 ? "is" : "are", left);
	} else if (left != 1) {
		tb_fields_fault(r, "stitch-loops", "Draw through the loops that are left.",
			"the moves end with %u loops on the hook; a stitch ends with 1", left);
	}
}

static void add_key(GHashTable *table, const char *term, tb_stitch *stitch)
{
	g_hash_table_replace(table, g_ascii_strdown(term, -1), stitch);
}

/* Other spellings, checked when they were read. */
static void add_also(GHashTable *table, const cJSON *list, tb_stitch *stitch)
{
	const cJSON *item;
	cJSON_ArrayForEach(item, list) add_key(table, item->valuestring, stitch);
}

/* No designer defined it: it is built in, or was made by rule from one that is. */
static bool came_with(const tb_library *library, const tb_stitch *stitch)
{
	return stitch->number < library->built_in || stitch->by_rule;
}

/*
 * A word that is only another spelling of a built-in stitch ("puff" for 3-hdc puff) is the
 * designer's to give: many patterns define their own under such a word.
 */
static bool may_take(const tb_library *library, const tb_stitch *other, const char *term, bool uk)
{
	return came_with(library, other) &&
		   g_ascii_strcasecmp(term, uk ? other->uk : other->us) != 0 &&
		   g_ascii_strcasecmp(term, uk ? other->uk_name : other->us_name) != 0;
}

/* The UK terms when nothing was said: the US ones, but where those mean another stitch in the UK. */
static void add_uk_unless_taken(tb_library *library, const char *term, tb_stitch *stitch)
{
	const tb_stitch *other = tb_library_find_term(library, term, true);
	if (other == NULL || may_take(library, other, term, true))
		add_key(library->by_uk, term, stitch);
}

/*
 * "Bobble" is a bobble of 5 dc until a designer means another by it. Then it is nobody's guess whether
 * "bobble stitch" is that one or the one of 5: words for STITCH that say no figure go to NOW, which has
 * its place, or to nothing.
 */
static void give_up_words(GHashTable *table, const tb_stitch *stitch, tb_stitch *now)
{
	GHashTableIter iter;
	void *term, *meant;
	g_hash_table_iter_init(&iter, table);
	while (g_hash_table_iter_next(&iter, &term, &meant)) {
		if (meant != stitch || strpbrk(term, "0123456789") != NULL)
			continue;
		if (now != NULL)
			g_hash_table_iter_replace(&iter, now);
		else
			g_hash_table_iter_remove(&iter);
	}
}

static void take_word(tb_library *library, const char *term, bool uk, tb_stitch *stitch)
{
	const tb_stitch *other = tb_library_find_term(library, term, uk);
	if (other == NULL || other->number >= library->built_in ||
		strpbrk(other->us, "0123456789") == NULL)
		return;
	tb_stitch *now = g_ascii_strcasecmp(other->us, stitch->us) == 0 ? stitch : NULL;
	if (now == NULL && strpbrk(term, "0123456789") != NULL)
		return;
	give_up_words(library->by_us, other, now);
	give_up_words(library->by_uk, other, now);
}

static void take_words(tb_library *library, tb_stitch *stitch, const cJSON *item)
{
	/* those that are built in take nothing from each other */
	if (library->built_in == 0)
		return;
	take_word(library, stitch->us, false, stitch);
	take_word(library, stitch->us_name, false, stitch);
	const cJSON *also;
	cJSON_ArrayForEach(also, cJSON_GetObjectItemCaseSensitive(item, "also"))
		take_word(library, also->valuestring, false, stitch);
	cJSON_ArrayForEach(also, cJSON_GetObjectItemCaseSensitive(item, "also_uk"))
		take_word(library, also->valuestring, true, stitch);
}

static void add_stitch(tb_library *library, tb_stitch *stitch, const cJSON *item)
{
	if (stitch->family == TB_FAMILY_MARKS) {
		stitch->number = TB_LIMIT_STITCHES + library->marks->len;
		g_ptr_array_add(library->marks, stitch);
		return;
	}
	stitch->number = library->stitches->len;
	g_ptr_array_add(library->stitches, stitch);
	take_words(library, stitch, item);
	add_key(library->by_us, stitch->us, stitch);
	add_key(library->by_us, stitch->us_name, stitch);
	add_also(library->by_us, cJSON_GetObjectItemCaseSensitive(item, "also"), stitch);
	if (cJSON_GetObjectItemCaseSensitive(item, "uk") != NULL)
		add_key(library->by_uk, stitch->uk, stitch);
	else
		add_uk_unless_taken(library, stitch->uk, stitch);
	if (cJSON_GetObjectItemCaseSensitive(item, "uk_name") != NULL)
		add_key(library->by_uk, stitch->uk_name, stitch);
	else
		add_uk_unless_taken(library, stitch->uk_name, stitch);
	add_also(library->by_uk, cJSON_GetObjectItemCaseSensitive(item, "also_uk"), stitch);
}

static void check_also(tb_fields *r, const cJSON *object, const char *key)
{
	const cJSON *list = cJSON_GetObjectItemCaseSensitive(object, key);
	if (list == NULL)
		return;
	bool sound = cJSON_IsArray(list);
	const cJSON *item;
	if (sound) {
		cJSON_ArrayForEach(item, list) sound = sound && tb_fields_is_term(item);
	}
	if (!sound)
		tb_fields_fault(r, "stitch-value", NULL, "\"%s\" must be a list of terms", key);
}

/* The stitch that is built in and that STITCH stands in for, or NULL. */
static const tb_stitch *replaced_by(const tb_library *library, const tb_stitch *stitch)
{
	const tb_stitch *other = tb_library_find_term(library, stitch->us, false);
	return other != NULL && came_with(library, other) &&
				   g_ascii_strcasecmp(other->us, stitch->us) == 0
			   ? other
			   : NULL;
}

static void check_term_free(
	tb_fields *r, const tb_library *library, const tb_stitch *stitch, const char *term, bool uk)
{
	const tb_stitch *other = tb_library_find_term(library, term, uk);
	if (other != NULL && other != replaced_by(library, stitch) &&
		!may_take(library, other, term, uk))
		tb_fields_fault(r, "stitch-twice", "Choose another word for it.",
			"\"%s\" means %s already%s", term, uk ? other->uk_name : other->us_name,
			uk ? " in UK terms" : "");
}

/* The terms must be free, or this stitch may take them from a built-in one. */
static void check_free(
	tb_fields *r, const tb_library *library, const tb_stitch *stitch, const cJSON *item)
{
	if (library->stitches->len >= TB_LIMIT_STITCHES) {
		tb_fields_fault(r, "stitch-many", "Leave out those that no row works.",
			"there are more than %u stitches", TB_LIMIT_STITCHES);
		return;
	}
	static const struct {
		const char *key;
		bool uk;
	} terms[] = {{"us", false}, {"us_name", false}, {"also", false}, {"uk", true},
		{"uk_name", true}, {"also_uk", true}};
	for (size_t i = 0; i < G_N_ELEMENTS(terms); i++) {
		const cJSON *said = cJSON_GetObjectItemCaseSensitive(item, terms[i].key);
		if (cJSON_IsString(said)) {
			check_term_free(r, library, stitch, said->valuestring, terms[i].uk);
		} else {
			const cJSON *one;
			cJSON_ArrayForEach(one, said)
				check_term_free(r, library, stitch, one->valuestring, terms[i].uk);
		}
	}
}

bool tb_library_add_cjson(
	tb_library *library, const cJSON *item, const tb_where *where, tb_diagnostics *diagnostics)
{
	static const char *const keys[] = {"us", "us_name", "uk", "uk_name", "also", "also_uk",
		"family", "height", "takes", "moves", "symbol"};
	tb_fields r = {.where = where, .diagnostics = diagnostics, .sound = true};
	if (!cJSON_IsObject(item)) {
		tb_fields_fault(&r, "stitch-value", NULL, "not an object");
		return false;
	}
	tb_stitch *stitch = g_new0(tb_stitch, 1);
	stitch->us = tb_fields_read_term(&r, item, "us", NULL);
	if (r.sound)
		r.us = stitch->us;
	tb_fields_check_keys(&r, item, keys, G_N_ELEMENTS(keys));
	stitch->us_name = tb_fields_read_term(&r, item, "us_name", NULL);
	stitch->uk = tb_fields_read_term(&r, item, "uk", stitch->us);
	stitch->uk_name = tb_fields_read_term(&r, item, "uk_name", stitch->us_name);
	check_also(&r, item, "also");
	check_also(&r, item, "also_uk");
	stitch->height = tb_fields_read_number(&r, item, "height", -1, 0, TB_LIMIT_STITCH_HEIGHT, false);
	stitch->takes = (unsigned)tb_fields_read_number(&r, item, "takes", 1, 0, TB_LIMIT_STITCH_TAKES, true);
	stitch->family = read_family(&r, library, item);
	/* the moves first: the symbol's legs are theirs */
	if (stitch->family != TB_FAMILY_MARKS)
		read_moves(&r, item, stitch);
	tb_fields_read_symbol(&r, item, stitch);
	if (r.sound && stitch->family != TB_FAMILY_MARKS)
		check_free(&r, library, stitch, item);
	if (!r.sound) {
		tb_stitch_destroy(stitch);
		return false;
	}
	add_stitch(library, stitch, item);
	return true;
}

/*
 * cJSON keeps no places. The text was parsed without a fault, so counting brackets outside strings
 * is enough to find where the next element of the outermost list begins and ends.
 */
static tb_span next_element(const char *text, size_t length, size_t from)
{
	tb_span span = {from, from};
	unsigned depth = 0;
	bool in_string = false, begun = false;
	for (size_t i = from; i < length; i++) {
		char c = text[i];
		if (!begun && (g_ascii_isspace(c) || c == ',' || c == '['))
			continue;
		if (!begun) {
			begun = true;
			span.start = i;
		}
		if (in_string) {
			if (c == '\\')
				i++;
			else if (c == '"')
				in_string = false;
		} else if (c == '"') {
			in_string = true;
		} else if (c == '{' || c == '[') {
			depth++;
		} else if (c == '}' || c == ']') {
			if (depth == 0 || --depth == 0) {
				span.end = MIN(i + 1, length);
				return span;
			}
		} else if (c == ',' && depth == 0) {
			span.end = i;
			return span;
		}
	}
	span.end = length;
	return span;
}

bool tb_library_add_json(tb_library *library, const tb_source *source, tb_diagnostics *diagnostics)
{
	size_t length;
	const char *text = tb_source_get_text(source, &length);
	const char *end = text;
	cJSON *list = cJSON_ParseWithLengthOpts(text, length + 1, &end, true);
	if (!cJSON_IsArray(list)) {
		size_t at = list == NULL ? MIN((size_t)(end - text), length) : 0;
		/* cJSON counts bytes, and may end inside a character */
		while (at > 0 && ((unsigned char)text[at] & 0xc0) == 0x80)
			at--;
		tb_where where = {.has_place = true, .place = {at, MIN(at + 1, length)}};
		tb_diagnose(diagnostics, TB_ERROR, "stitch-json", &where,
			list == NULL ? "this is not JSON" : "the file is not a list of stitches",
			"A file of stitches is a list in square brackets, one object a stitch.");
		cJSON_Delete(list);
		return false;
	}
	bool sound = true;
	size_t from = 0;
	const cJSON *item;
	cJSON_ArrayForEach(item, list)
	{
		tb_span span = next_element(text, length, from);
		/* the list's own opening bracket is passed once only */
		from = span.end;
		/* the fault points at the stitch's opening line, not at the whole of it */
		tb_where where = {.has_place = true, .place = {span.start, MIN(span.start + 1, span.end)}};
		sound = tb_library_add_cjson(library, item, &where, diagnostics) && sound;
	}
	cJSON_Delete(list);
	return sound;
}
