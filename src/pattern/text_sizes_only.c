/* "Sizes M (L) only:" and "All sizes:", which say who works the rows below. */
#include "pattern/text_kinds.h"

#include <string.h>

#define LONGEST_HEAD 160u
#define LONGEST_NAMES 60u
#define MOST_WORDS 5u

static size_t skip_blanks(const char *line, size_t at)
{
	return at + strspn(line + at, " ");
}

/* "size", "sizes" at AT or after a few words, "Adult size"; where it is, or -1. */
static int find_size_word(const char *line, size_t at)
{
	for (unsigned words = 0; words < MOST_WORDS && g_ascii_isalnum(line[at]); words++) {
		if (tb_at_word(line + at, "size sizes") > 0)
			return (int)at;
		/* "2nd (3rd) sizes", "2nd, 3rd and 4th sizes" */
		at += strcspn(line + at, " :,.)");
		at += strspn(line + at, line[at] == ',' ? ", (" : " &()");
	}
	return -1;
}

/* "Sizes M and L:" without "only": names of one word each, and then a colon. */
static size_t find_named(const char *line, size_t at)
{
	size_t name = skip_blanks(line, at), end = name;
	/* "Sizes (bust): 34 (38, 42)" */
	if (line[name] == '(')
		return 0;
	while (g_ascii_isalnum(line[end]) || (tb_is_among(line[end], " ,&/()-")))
		end++;
	return end > name && line[end] == ':' ? end + 1 : 0;
}

size_t tb_find_size_head(const char *line)
{
	size_t end = strcspn(line, ":.;*[");
	if (!(g_ascii_isupper(*line) || g_ascii_isdigit(*line)) || line[end] != ':' || end > LONGEST_NAMES)
		return 0;
	return line[end + 1] == ' ' ? end + 1 : 0;
}

/* "Medium and Large only:", which says "size" nowhere: behind "only", or 0 where it names anything else. */
static size_t find_usual_names(const char *line, size_t at)
{
	size_t first = at;
	while (tb_at_word(line + at, "only") == 0) {
		size_t name = tb_at_word(line + at, "xs s m l xl xxl xxxl small medium large extra tiny mini big "
			"biggest smallest largest newborn preemie baby toddler child children kid teen adult women men "
			"woman man");
		size_t word = name > 0 ? name : tb_at_word(line + at, "and or the");
		size_t signs = strspn(line + at + word, " ,&/()-");
		if (word + signs == 0)
			return 0;
		at += word + signs;
	}
	if (at == first)
		return 0;
	at += strlen("only");
	size_t closed = strspn(line + at, ")]");
	at += closed;
	if (line[at] == ':' || line[at] == ',')
		return at + 1;
	size_t behind = skip_blanks(line, at);
	bool parted = line[behind] == '-' || g_str_has_prefix(line + behind, "–");
	return line[at] == '\0' || closed > 0 || (parted && behind > at) ? at : 0;
}

/* "Teen and up: Rnd 6: …", "M and larger:" over the rows below: behind the colon, or 0. Whether that is a size, the row language says. */
static size_t find_from_size(const char *line)
{
	size_t end = strcspn(line, ":.;*[");
	tb_row_head head;
	if (line[end] != ':' || end > LONGEST_NAMES || !(g_ascii_isupper(*line) || g_ascii_isdigit(*line)))
		return 0;
	size_t behind = skip_blanks(line, end + 1);
	if (line[behind] != '\0' && !tb_is_row_head(line + behind, &head))
		return 0;
	for (size_t at = 1; at < end; at++) {
		size_t and = line[at - 1] == ' ' ? tb_at_word(line + at, "and or") : 0;
		size_t up = and > 0 ? tb_at_word(line + at + and + 1, "up upwards larger bigger above over older smaller below under younger") : 0;
		size_t behind_up = at + and + 1 + up;
		if (up > 0)
			return skip_blanks(line, behind_up + 1) >= end || line[behind_up] == ':' ? end + 1 : 0;
	}
	return 0;
}

size_t tb_find_only(const char *line)
{
	size_t from = find_from_size(line);
	if (from > 0)
		return from;
	size_t first = strspn(line, "([");
	first = skip_blanks(line, first + tb_at_word(line + first, "for"));
	first = skip_blanks(line, first + tb_at_word(line + first, "the"));
	size_t usual = find_usual_names(line, first);
	if (usual > 0)
		return usual;
	int size = find_size_word(line, first);
	if (size < 0)
		return 0;
	size_t at = (size_t)size + tb_at_word(line + size, "size sizes"), behind = at;
	if (line[at] == ':')
		return 0;
	for (; line[at] != '\0' && line[at] != ':' && line[at] != '.' && at < LONGEST_HEAD; at++) {
		size_t only = line[at - 1] == ' ' ? tb_at_word(line + at, "only") : 0;
		if (only > 0) {
			at += only + strspn(line + at + only, ")]");
			return at + (line[at] == ':' || line[at] == ',');
		}
	}
	return (size_t)size == first ? find_named(line, behind) : 0;
}

/* The bytes of one of the SIZES' names at TEXT, the longest; 0 where none stands there. */
static size_t find_own_name(const char *text, const GPtrArray *sizes)
{
	size_t longest = 0;
	for (guint i = 0; i < sizes->len && g_ptr_array_index(sizes, i) != NULL; i++) {
		const char *name = g_ptr_array_index(sizes, i);
		size_t length = strlen(name);
		if (length > longest && g_ascii_strncasecmp(text, name, length) == 0 && !g_ascii_isalnum(text[length]))
			longest = length;
	}
	return longest;
}

size_t tb_find_own_sizes(const char *line, const GPtrArray *sizes)
{
	size_t at = strspn(line, "(["), names = 0, end = 0;
	while (sizes != NULL && line[at] != '\0') {
		size_t name = find_own_name(line + at, sizes);
		size_t word = name > 0 ? name : tb_at_word(line + at, "for the size sizes only and");
		size_t verb = tb_at_word(line + at, "work"); /* "Adult size only, work:" */
		names += name > 0;
		if (word + verb == 0)
			return 0;
		at += word + verb;
		if (word > 0)
			end = at;
		at += strspn(line + at, " ,&/()[]:.-");
	}
	return names > 0 ? end : 0;
}

size_t tb_find_all_sizes(const char *line)
{
	size_t at = skip_blanks(line, tb_at_word(line, "for"));
	size_t all = tb_at_word(line + at, "all both");
	if (all == 0)
		return 0;
	at = skip_blanks(line, at + all);
	size_t sizes = tb_at_word(line + at, "sizes");
	if (sizes == 0)
		return 0;
	at += sizes;
	return line[at] == ':' || line[at] == '.' || line[at] == ',' ? at + 1 : line[at] == '\0' ? at : 0;
}

size_t tb_find_all_row(const char *line)
{
	tb_row_head head;
	size_t at = skip_blanks(line, tb_find_all_sizes(line));
	return at > 0 && tb_is_row_head(line + at, &head) ? at : 0;
}
