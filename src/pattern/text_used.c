/*
 * Names that the rows use. No list has what designers call their stitches: "berry", "LD", "Xdc", "grp". What
 * is told as a stitch is, and is called by a word that stands in the rows, is one; a word that rows have
 * for something of their own, "join" or "turn", is not.
 */
#include "pattern/text_reader.h"

#include <string.h>

#define MOST_NAME_WORDS 4u
#define LONGEST_WORD 24u

static size_t word_length(const char *text)
{
	size_t length = 0;
	while (g_ascii_isalnum(text[length]))
		length++;
	return length;
}

static void add_word(GHashTable *words, char *word)
{
	guint many = GPOINTER_TO_UINT(g_hash_table_lookup(words, word));
	g_hash_table_insert(words, word, GUINT_TO_POINTER(many + 1));
}

/* The words of the rows, small, and how often they stand there; of several "berries" the one "berry" as well. */
static void add_words(GHashTable *words, const char *line)
{
	for (const char *at = line; *at != '\0';) {
		size_t length = word_length(at);
		if (length > 0 && length <= LONGEST_WORD) {
			g_autofree char *word = g_ascii_strdown(at, (gssize)length);
			if (length > 4 && g_str_has_suffix(word, "ies"))
				add_word(words, g_strdup_printf("%.*sy", (int)length - 3, word));
			if (length > 3 && g_str_has_suffix(word, "es"))
				add_word(words, g_strndup(word, length - 2));
			if (length > 1 && word[length - 1] == 's')
				add_word(words, g_strndup(word, length - 1));
			add_word(words, g_steal_pointer(&word));
		}
		at += MAX(length, 1);
	}
}

/* From the first row on, with what stands on the lines between. */
static void find_words(tb_text_reader *reader)
{
	reader->used = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
	guint i = 0;
	while (i < reader->count && reader->looks[i].kind != TB_LINE_ROW)
		i++;
	for (; i < reader->count; i++)
		add_words(reader->used, tb_text_line(reader, i));
}

/* Whether all words of the LENGTH bytes at NAME stand in rows, one of them for nothing else. */
static bool is_used(tb_text_reader *reader, const char *name, size_t length)
{
	static const char rows_own[] = "a an the one each every all first last next other another this same no not both "
		"row rows rnd rnds round rounds join joining turn turning turns work working repeat repeats rep chain chains "
		"ch chs hook yarn thread color colors colour colours side sides rs ws mc cc skip sk miss size sizes gauge "
		"tension note notes place st sts stitch stitches loop loops space spaces sp sps beginning beg begin start "
		"starting end ending foundation setup set up fasten off finish finishing border edging tch t to in into of "
		"and or with for from as at by on is are it be you your count counts total times time only marker ring "
		"center centre middle front back top bottom left right corner corners special before after behind between "
		"around across over under bring yo yrh hdc dc sc tr dtr htr";
	unsigned words = 0, own = 0;
	for (size_t at = 0; at < length;) {
		size_t word = MIN(word_length(name + at), length - at);
		if (word > 0) {
			g_autofree char *small = g_ascii_strdown(name + at, (gssize)word);
			if (g_ascii_isdigit(*small) || !g_hash_table_contains(reader->used, small))
				return false;
			own += tb_at_word(small, rows_own) == 0;
			words++;
		}
		at += MAX(word, 1);
	}
	return own > 0 && words <= MOST_NAME_WORDS;
}

unsigned tb_text_count_used(tb_text_reader *reader, const char *word)
{
	if (reader->used == NULL)
		find_words(reader);
	g_autofree char *small = g_ascii_strdown(word, -1);
	return GPOINTER_TO_UINT(g_hash_table_lookup(reader->used, small));
}

bool tb_text_names_stitch(tb_text_reader *reader, const char *line, size_t length)
{
	if (tb_names_stitch(line, length))
		return true;
	if (reader->used == NULL)
		find_words(reader);
	size_t open = strcspn(line, "(["), close = open + strcspn(line + open, ")]");
	if (open >= length || close >= length || length > 80)
		return length <= 80 && is_used(reader, line, length);
	return is_used(reader, line, open) || is_used(reader, line + open + 1, close - open - 1);
}

/* Whether TEXT says how something is worked, from its first word on. */
static bool begins_making(const char *text)
{
	static const char *const moves[] = {"insert", "hook", "loop", "draw", "pull"};
	bool begins = tb_begins_act(text) ||
		tb_at_word(text, "insert yo yoh yrh yarn draw pull wrap wind put pick holding leaving keeping") > 0;
	if (!begins || tb_has_stitch(text))
		return begins;
	g_autofree char *lower = g_ascii_strdown(text, -1);
	for (size_t i = 0; i < G_N_ELEMENTS(moves); i++) {
		if (strstr(lower, moves[i]) != NULL)
			return true;
	}
	return false;
}

bool tb_text_names_told(tb_text_reader *reader, const char *line, const tb_told *told)
{
	return tb_text_names_stitch(reader, line + told->name, told->name_end - told->name) ||
		(told->other_end > told->other && tb_text_names_stitch(reader, line + told->other, told->other_end - told->other));
}

bool tb_text_tells_stitch(tb_text_reader *reader, const char *line)
{
	tb_told told;
	if (tb_find_body(line, false) > 0 && tb_tells_stitch(line))
		return true;
	if (tb_find_body(line, true) == 0 || !tb_told_find(line, false, &told) || !begins_making(line + told.body))
		return false;
	/* below a piece's heading "Stem: ch 10" is worked */
	if (reader->piece != NULL && !told.by_words && line[told.body - 1 - (line[told.body - 1] == ' ')] != '=')
		return false;
	return tb_text_names_told(reader, line, &told);
}
