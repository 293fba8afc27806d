/*
 * The sizes: a list, "S (M, L)", "XS[S, M, L]", "20/24/28"; a sentence, "Directions are for size S;
 * changes for M and L are in brackets."; or, where nothing else names them, what they fit: "76 (81,
 * 86) cm".
 */
#include "pattern/text_reader.h"

#include "support/limits.h"

#include <string.h>

/* Longer sentences tell of sizes in passing. */
#define LONGEST_SENTENCE 400u

typedef struct {
	tb_text_reader *reader;
	const tb_text *value;
	GHashTable *seen;
	size_t count;
	bool told; /* that two of them have one name; a list that goes on so says it of many */
} size_list;

/* Bytes at AT that part two sizes, or 0. SLASHES: "S/M/L" is three sizes; RANGES: "1 - 2 (3 - 4)" is two. */
static size_t at_separator(const char *text, size_t at, bool slashes, bool ranges)
{
	static const char *const words[] = {" and ", " or ", " & ", " - ", " / "};
	bool range = ranges && at > 0 && g_str_has_prefix(text + at, " - ") && g_ascii_isdigit(text[at - 1]) &&
		g_ascii_isdigit(text[at + 3]);
	for (size_t i = 0; i < G_N_ELEMENTS(words) && !range; i++) {
		if (g_ascii_strncasecmp(text + at, words[i], strlen(words[i])) == 0)
			return strlen(words[i]);
	}
	return tb_is_among(text[at], ",;:()[]{}|") || (slashes && text[at] == '/') ? 1 : 0;
}

static void add_size(size_list *list, size_t start, size_t end)
{
	const tb_text *value = list->value;
	tb_text_reader *reader = list->reader;
	while (start < end && value->chars[start] == ' ')
		start++;
	while (end > start && tb_is_among(value->chars[end - 1], " .\""))
		end--;
	if (start == end)
		return;
	list->count++;
	g_autofree char *name = g_strndup(value->chars + start, end - start);
	const char *wrong = tb_check_name(name);
	char *folded = g_utf8_casefold(name, -1);
	tb_span place = tb_text_span(value, start, end);
	if (wrong != NULL)
		tb_text_fault_at(reader, TB_ERROR, "size-name", place, "As in “Sizes: S (M, L)”.",
			"the name of this size %s", wrong);
	else if (g_hash_table_contains(list->seen, folded) && !list->told)
		tb_text_fault_at(reader, TB_ERROR, "size-name", place, "Give each size a name of its own.",
			"two sizes are called “%s”", name);
	list->told = list->told || g_hash_table_contains(list->seen, folded);
	g_hash_table_add(list->seen, folded);
	if (reader->pattern->sizes->len < TB_LIMIT_SIZES)
		g_ptr_array_add(reader->pattern->sizes, g_steal_pointer(&name));
}

/* "baby, 3-6 months": who wears it, and how old. */
static bool is_wearer_of_age(const char *text)
{
	size_t at = tb_at_word(text, "baby infant toddler child doll newborn kid"), figures;
	if (at == 0 || text[at] != ',')
		return false;
	at += 1 + strspn(text + at + 1, " ");
	figures = strspn(text + at, "0123456789 -");
	at += figures;
	size_t age = figures > 0 ? tb_at_word(text + at, "months month mos mo years yrs year") : 0;
	return age > 0 && text[at + age + strspn(text + at + age, " .")] == '\0';
}

/* "One size", "20 cm square": the size of an ungraded piece, and no list of sizes. */
static bool is_ungraded(const tb_text_reader *reader, const tb_text *value)
{
	const char *text = value->chars, *source = tb_source_get_text(reader->lines->source, NULL);
	const char *field = reader->field_place.end > reader->field_place.start ? source + reader->field_place.start : "";
	if (tb_at_word(field, "size") > 0 && is_wearer_of_age(text))
		return true;
	if (tb_at_word(text, "one") > 0 && tb_at_word(text + 4, "size") > 0)
		return true;
	if (tb_size_is_one_measured(text))
		return true;
	/* "6 - 9 months (foot 4 in)"; "0-3 months (3-6 months)" is two */
	size_t figures = strspn(text, "0123456789 -");
	size_t age = tb_at_word(text + figures, "months mos years yrs"), behind = figures + age;
	if (figures > 2 && age > 0 && strpbrk(text + behind, ",;/") == NULL && strstr(text + behind, " - ") == NULL &&
		!g_ascii_isdigit(text[behind + strspn(text + behind, " ([{")]))
		return true;
	if (tb_size_lists_lengths(text))
		return false;
	size_t end = strcspn(text, "(,;[");
	const char *fit = strstr(text, " to fit");
	if (fit != NULL)
		end = MIN(end, (size_t)(fit - text));
	for (size_t i = 1; i < end; i++) {
		if ((text[i - 1] == ' ' || g_ascii_isdigit(text[i - 1])) && tb_size_unit(text + i) > 0)
			return true;
	}
	return false;
}

/* "S", "XL", "2X", "10", "Small", "X-Large", "Child" at TEXT: its bytes, or 0. */
static size_t at_size_name(const char *text)
{
	size_t word = tb_at_word(text, "small medium large x-small x-large xx-large xxx-large xx-small "
		"extra-small extra-large child adult newborn baby toddler teen youth preemie one");
	if (word > 0)
		return word;
	size_t prefix = strspn(text, "0123456789Xx");
	size_t letter = strspn(text + prefix, "SML");
	size_t length = prefix + MIN(letter, 1);
	if (length == 0 || length > 6 || g_ascii_isalnum(text[length]))
		return 0;
	return length;
}

/* Where the sentence of the list ends, "S (M, L). To fit …", or what the sizes fit begins. */
static size_t find_fit(const tb_text *value)
{
	const char *text = value->chars;
	for (size_t at = 1; at < value->length; at++) {
		if (text[at] != ' ')
			continue;
		size_t to = at + 1 + tb_at_word(text + at + 1, "to");
		if (to > at + 1 && tb_at_word(text + to + strspn(text + to, " "), "fit") > 0)
			return at;
		if (text[at - 1] == '.' && at > 1 && tb_is_among(text[at - 2], ")]}"))
			return at;
		/* "XS, S, M - instructions are written as XS (S, M)" */
		size_t dash = text[at + 1] == '-' ? 1 : g_str_has_prefix(text + at + 1, "–") ? strlen("–") :
			g_str_has_prefix(text + at + 1, "—") ? strlen("—") : 0;
		if (dash > 0 && text[at + 1 + dash] == ' ' && tb_at_word(text + at + 2 + dash, "instructions instruction directions written "
				"shown sizes numbers figures pattern") > 0)
			return at;
		/* "1-2-3-4, where 1 and 2 are for children" */
		if (text[at - 1] == ',' && tb_at_word(text + at + 1, "where of whereof") > 0)
			return at - 1;
	}
	return value->length;
}

/* Behind the bracket that opens at AT, with the brackets in it. */
static size_t behind_bracket(const char *text, size_t at, size_t end)
{
	unsigned depth = 0;
	for (; at < end; at++) {
		depth += tb_is_among(text[at], "([{");
		if (tb_is_among(text[at], ")]}") && --depth == 0)
			return at + 1;
	}
	return end;
}

/* Whether names alone stand before AT: "S, M, L" before "(hand 18, 20, 22 cm)". */
static bool is_list_before(const char *text, size_t at)
{
	unsigned names = 0;
	for (size_t from = 0; from < at; names++) {
		size_t name = at_size_name(text + from);
		if (name == 0)
			return false;
		from += name;
		from += strspn(text + from, " ,/");
	}
	return names > 1;
}

/*
 * Where a list ends: "S (M, L) to fit …", "S (M, L) - shown in M", "32 (36, 40)\" bust", "S (M, L).
 * Chest 80 (88, 96) cm". Behind a bracket only another one, or a size more, belongs to it.
 */
static size_t find_end(const tb_text *value)
{
	const char *text = value->chars;
	size_t end = find_fit(value);
	size_t close = strcspn(text, "([{");
	if (close >= end)
		return end;
	if (is_list_before(text, close) && at_size_name(text + close + 1) == 0)
		return close;
	while (close < end && tb_is_among(text[close], "([{")) {
		close = behind_bracket(text, close, end);
		size_t next = close + strspn(text + close, " ");
		if (next < end && tb_is_among(text[next], "([{") && (at_size_name(text + next + 1) > 0 ||
				g_ascii_isdigit(text[next + 1]))) {
			close = next;
			continue;
		}
		/* What stands behind the bracket is a size more only if it looks like one. */
		size_t tail = close + strspn(text + close, " ,"), name = tail < end ? at_size_name(text + tail) : 0;
		if (name == 0 || tb_size_unit(text + close) > 0)
			return close;
		size_t behind = tail + name;
		behind += strspn(text + behind, " ");
		/* "S (M), L (XL)" goes on; "XS (S, M), US 6 (8, 10)" does not. */
		if (behind >= end || !tb_is_among(text[behind], "([{,"))
			return text[close] == ',' || behind >= end ? MIN(tail + name, end) : close;
		close = behind;
	}
	return tb_is_among(text[close], ",") ? end : close;
}

static const char wearers[] = "newborn baby infant toddler child kid teen adult woman women man men women's men's";

/* "Adult medium": the size of one who wears it, and not two of them. */
static bool is_wearers_one(const char *text, size_t end)
{
	size_t who = tb_at_word(text, wearers), next = who + strspn(text + who, " ");
	size_t which = who > 0 ? tb_at_word(text + next, "small medium large xs s m l xl") : 0;
	return which > 0 && next + which == end;
}

/* "S M L" or "S-M-L": names, and nothing but C between. */
static bool is_parted_by(const char *text, size_t end, char c)
{
	unsigned names = 0;
	if (is_wearers_one(text, end))
		return false;
	for (size_t at = 0; at < end; names++) {
		size_t name = at_size_name(text + at);
		if (name == 0 || (text[at + name] != c && at + name < end))
			return false;
		at += name + (at + name < end);
	}
	return names > 1;
}

/* "3 sizes: ", "Two: " before the names: its bytes. */
static size_t skip_count(const char *text)
{
	size_t at = tb_at_word(text, "two three four five six 2 3 4 5 6"), next = at + strspn(text + at, " ");
	size_t word = at > 0 ? tb_at_word(text + next, "sizes") : 0;
	next += word;
	bool names = text[next] == ':' && (word > 0 || g_ascii_isalpha(*text));
	return names ? next + 1 + strspn(text + next + 1, " ") : 0;
}

/* "Child/adult", who both wear it; "S/M" is one size. */
static bool is_of_two(const char *text)
{
	size_t first = tb_at_word(text, wearers);
	return first > 0 && text[first] == '/' && tb_at_word(text + first + 1, wearers) > 0;
}

/* "Small—Medium—Large", "8—10—12": names, and dashes between them. */
static bool is_parted_by_dash(const char *text, size_t end)
{
	unsigned names = 0;
	for (size_t at = 0; at < end; names++) {
		const char *dash = strstr(text + at, "—");
		size_t name = dash != NULL && dash < text + end ? (size_t)(dash - text) - at : end - at;
		if (!tb_size_is_named(text + at, name))
			return false;
		at += name + (at + name < end ? strlen("—") : 0);
		at += strspn(text + at, " ");
	}
	return names > 1;
}

/*
 * "Small (16 in), Medium (18 in)" from AT to END: each name has what it measures behind it. Where ADD, the
 * names are added. False for anything else.
 */
static bool read_measured(size_list *list, size_t at, size_t end, bool add)
{
	const char *text = list->value->chars;
	unsigned names = 0;
	while (at < end) {
		size_t name, whole = tb_size_measured(text + at, end - at, &name);
		if (whole == 0)
			return false;
		if (add)
			add_size(list, at, at + name);
		names++;
		at += whole;
		size_t parted = strspn(text + at, " ,;/.");
		/* "Small (16 in) - Medium (18 in)" */
		if (at < end && g_str_has_prefix(text + at, " - "))
			parted = strlen(" - ");
		if (at < end && parted == 0)
			return false;
		at += parted;
		at += at < end ? strspn(text + at + tb_at_word(text + at, "and"), " ") + tb_at_word(text + at, "and") : 0;
	}
	return names > 1;
}

/* "S (M-L-XL)", "Small{Medium-Large}": whether the hyphen at AT parts names in a bracket. */
static bool is_in_dashes(const char *text, size_t at)
{
	size_t open = strcspn(text, "([{"), inside = open + 1;
	size_t close = open < at ? inside + strcspn(text + inside, ")]}") : 0;
	return close > at && strcspn(text + inside, "0123456789,;:") >= close - inside && is_parted_by(text + inside, close - inside, '-');
}

/* "To fit bust " before "81 (86, 97) cm": its bytes. */
static size_t skip_fit(const char *text)
{
	size_t at = tb_at_word(text, "to"), fit;
	at += strspn(text + at, " ");
	fit = at > 0 ? tb_at_word(text + at, "fit") : 0;
	for (size_t word = fit; word > 0; word = tb_at_word(text + at, "a uk us eu dress size sizes bust chest waist hip hips head foot feet hand actual")) {
		at += word;
		at += strspn(text + at, " :");
	}
	return fit > 0 && g_ascii_isdigit(text[at]) ? at : 0;
}

static void read_list(size_list *list, size_t end)
{
	const char *text = list->value->chars;
	size_t begin = skip_fit(text) > 0 ? skip_fit(text) : skip_count(text), whole = find_fit(list->value);
	if (read_measured(list, begin, whole, false)) {
		read_measured(list, begin, whole, true);
		return;
	}
	const char *slash = strchr(text, '/');
	bool slashes = strcspn(text + begin, ",;:()[]{}") >= end - begin && slash != NULL &&
		g_strstr_len(text + begin, (gssize)(end - begin), " - ") == NULL &&
		(strchr(slash + 1, '/') != NULL || is_of_two(text + begin));
	char parting = is_parted_by(text, end, ' ') ? ' ' : is_parted_by(text, end, '-') ? '-' : 0;
	bool dashes = is_parted_by_dash(text, end);
	bool ranges = strcspn(text, "([{") < end;
	size_t from = begin;
	for (size_t at = begin; at <= end;) {
		size_t parts = at < end ? at_separator(text, at, slashes, ranges) : 1;
		/* "Large-X-Large" is two */
		if (parts == 0 && parting != 0 && text[at] == parting && (parting == ' ' || at >= from + at_size_name(text + from)))
			parts = 1;
		if (dashes && g_str_has_prefix(text + at, "—"))
			parts = strlen("—");
		if (parts == 0 && text[at] == '-' && is_in_dashes(text, at))
			parts = 1;
		if (parts == 0) {
			at++;
			continue;
		}
		add_size(list, from, MIN(at, end));
		from = at += parts;
	}
}

/* Where the names begin in ". They are called NB (S, M) below", ", written as S (M, L)", behind FROM; 0: no such words. */
static size_t find_short_names(const char *text, size_t from)
{
	for (size_t at = from; text[at] != '\0'; at++) {
		bool begins = at > 0 && text[at - 1] == ' ';
		size_t said = begins ? tb_at_word(text + at, "called named abbreviated written labelled labeled") : 0;
		if (said == 0)
			continue;
		at += said;
		at += strspn(text + at, " ");
		size_t as = tb_at_word(text + at, "as to simply just");
		at += as + strspn(text + at + as, " :\"");
		return at_size_name(text + at) > 0 || g_ascii_isupper(text[at]) ? at : 0;
	}
	return 0;
}

/* Where such names end: before "below", "in the pattern", or at the end of their sentence. */
static size_t end_of_short_names(const char *text, size_t at)
{
	while (text[at] != '\0' && !(text[at] == '.' && tb_is_among(text[at + 1], " ")) &&
		!(text[at] == ' ' && tb_at_word(text + at + 1, "below in throughout from here hereafter for") > 0))
		at++;
	while (at > 0 && tb_is_among(text[at - 1], " .\""))
		at--;
	return at;
}

/*
 * "Preemie (3-6 m, Toddler). They are called P (6M, T) below": the rows call them by the second names, where these are as
 * many.
 */
static void take_short_names(tb_text_reader *reader, const tb_text *value, size_t from)
{
	size_t begin = from < value->length ? find_short_names(value->chars, from) : 0;
	size_t end = begin > 0 ? end_of_short_names(value->chars, begin) : 0;
	GPtrArray *sizes = reader->pattern->sizes;
	guint count = sizes->len;
	if (end <= begin || count < 2)
		return;
	g_autoptr(GHashTable) seen = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
	g_autoptr(tb_text) names = tb_text_create(value->chars + begin, end - begin, tb_text_span(value, begin, begin).start);
	size_list list = {reader, names, seen, 0, false};
	read_list(&list, names->length);
	if (sizes->len == 2 * count)
		g_ptr_array_remove_range(sizes, 0, count);
	else
		g_ptr_array_remove_range(sizes, count, sizes->len - count);
}

void tb_text_read_sizes(tb_text_reader *reader, const tb_text *value)
{
	g_autoptr(GHashTable) seen = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
	size_list list = {reader, value, seen, 0, false};
	if (!read_measured(&list, skip_count(value->chars), find_fit(value), false) && is_ungraded(reader, value)) {
		tb_text_keep_value(reader, &reader->pattern->notes, TB_LIMIT_PROSE_BYTES);
		return;
	}
	g_ptr_array_set_size(reader->pattern->sizes, 0);
	size_t end = find_end(value);
	read_list(&list, end);
	take_short_names(reader, value, end);
	tb_span place = value->length > 0 ? tb_text_span(value, 0, value->length) : reader->field_place;
	/* "Size" alone heads what is told of it in sentences */
	const char *source = tb_source_get_text(reader->lines->source, NULL);
	bool heads = value->length == 0 && reader->field_place.end > reader->field_place.start &&
		memchr(source + reader->field_place.start, ':', reader->field_place.end - reader->field_place.start) == NULL;
	if (list.count == 0 && !heads)
		tb_text_fault_at(reader, TB_ERROR, "size-list", place,
			"As in “Sizes: S (M, L)”; leave the line out when there is one size.",
			"the list of sizes is empty");
	if (list.count > TB_LIMIT_SIZES)
		tb_text_fault_at(reader, TB_ERROR, "size-list", place, "Split the pattern in two.",
			"%zu sizes are given; a pattern may have %d", list.count, TB_LIMIT_SIZES);
}

/* Whether a sentence says which size stands before the brackets, and which stand in them. */
static bool tells_sizes(const char *text)
{
	g_autofree char *lower = g_ascii_strdown(text, -1);
	bool sizes = strstr(lower, "size") != NULL;
	bool brackets = strstr(lower, "parenthes") != NULL || strstr(lower, "bracket") != NULL ||
		strstr(lower, " in ( )") != NULL;
	return sizes && brackets;
}

/* Whether the sentence at TEXT speaks of sizes or of brackets. */
static bool tells_sizes_here(const char *text)
{
	const char *end = strstr(text, ". ");
	g_autofree char *lower = g_ascii_strdown(text, end != NULL ? end - text : -1);
	return strstr(lower, "size") != NULL || strstr(lower, "parenthes") != NULL || strstr(lower, "bracket") != NULL;
}

void tb_text_find_sizes(tb_text_reader *reader, const tb_text *sentence)
{
	const char *text = sentence->chars;
	if (reader->pattern->sizes->len > 0 || sentence->length > LONGEST_SENTENCE || !tells_sizes(text))
		return;
	g_autoptr(GHashTable) seen = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
	size_list list = {reader, sentence, seen, 0, false};
	bool told = false;
	for (size_t at = 0; text[at] != '\0'; at++) {
		bool begins = at == 0 || tb_is_among(text[at - 1], " (,[");
		/* "Figures in brackets are for the larger sizes. The 3 turning ch count as a tr": no size is called 3 */
		if (at == 0 || (tb_is_among(text[at - 1], ".!?") && text[at] == ' '))
			told = tells_sizes_here(text + at);
		size_t name = begins && told ? at_size_name(text + at) : 0;
		g_autofree char *said = g_strndup(text + at, name);
		g_autofree char *folded = g_utf8_casefold(said, -1);
		if (name == 0 || tb_at_word(text + at, "one") > 0 || g_hash_table_contains(seen, folded))
			continue;
		add_size(&list, at, at + name);
		at += name - 1;
	}
	/* One size alone is no list: "the smallest is given as Small". */
	if (list.count < 2)
		g_ptr_array_set_size(reader->pattern->sizes, 0);
}

/* "76 (81, 86) cm", "32 (36, 40)\"", "20 - 22 - 24 cm": the bytes of the figures when there are several; 0 else. */
static size_t at_graded(const char *text)
{
	size_t dashed = strspn(text, "0123456789./ -");
	if (tb_size_lists_lengths(text) && tb_size_unit(text + dashed) > 0)
		return dashed;
	size_t at = strspn(text, "0123456789.-");
	at += strspn(text + at, " ");
	if (at == 0 || (text[at] != '(' && text[at] != '['))
		return 0;
	size_t inside = strspn(text + at + 1, "0123456789.,;:- ");
	size_t close = at + 1 + inside;
	if (inside == 0 || (text[close] != ')' && text[close] != ']'))
		return 0;
	return tb_size_unit(text + close + 1 + strspn(text + close + 1, " ")) > 0 ? close + 1 : 0;
}

void tb_text_find_fit(tb_text_reader *reader, guint i)
{
	const char *line = tb_text_line(reader, i);
	size_t value = tb_find_fact(line);
	if (value == 0 || reader->fit != NULL || reader->piece != NULL)
		return;
	bool fits = false;
	for (size_t at = 0; at < value; at++) {
		fits = fits || ((at == 0 || line[at - 1] == ' ') && tb_at_word(line + at, "fit fits bust chest "
			"size sizes head waist hip hips circumference width length measurements") > 0);
	}
	value += fits ? skip_fit(line + value) : 0;
	size_t figures = fits ? at_graded(line + value) : 0;
	if (figures == 0)
		return;
	const tb_line *at = tb_lines_get(reader->lines, i);
	g_auto(tb_gathered) gathered;
	tb_gathered_init(&gathered);
	tb_gathered_add(&gathered, reader->lines, at->start + value, at->start + value + figures);
	reader->fit = tb_gathered_text(&gathered);
}

void tb_text_take_fit(tb_text_reader *reader)
{
	if (reader->fit == NULL || reader->pattern->sizes->len > 0)
		return;
	g_autoptr(GHashTable) seen = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
	size_list list = {reader, reader->fit, seen, 0, false};
	read_list(&list, reader->fit->length);
}
