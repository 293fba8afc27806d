/*
 * A stitch told inside the row where it is first worked: "V in each st (V = 2 sc in same st)", "(sc, A)
 * 6 times — A = sc2tog.", "X-st (sk next st, dc in next st, dc in skipped st) 5 times", "(dc, ch 1, dc)
 * [= V made] in next st". The definition is taken out of the row and stands with those of the pattern. A
 * name that was met before, or that means something else elsewhere, is left where it is: the row language
 * says what it thinks of it.
 */
#include "pattern/text_kinds.h"
#include "pattern/text_reader.h"

#include <string.h>

#define LONGEST_NAME 16u
#define LONGEST_BODY 200u
/* With its brackets; a longer one is no definition, and is not looked for. */
#define LONGEST_BRACKET (LONGEST_BODY + 20u)

typedef struct {
	size_t from, to;
} stretch;

static bool is_name_char(char c)
{
	return g_ascii_isalnum(c) || c == '-';
}

static stretch trim(const char *text, stretch part)
{
	while (part.from < part.to && text[part.from] == ' ')
		part.from++;
	while (part.to > part.from && tb_is_among(text[part.to - 1], " ."))
		part.to--;
	return part;
}

/* The bracket that ends the one at OPEN, or LENGTH. */
static size_t find_close(const tb_text *row, size_t open)
{
	unsigned depth = 0;
	for (size_t at = open; at < MIN(row->length, open + LONGEST_BRACKET); at++) {
		depth += tb_is_among(row->chars[at], "([");
		depth -= depth > 0 && tb_is_among(row->chars[at], ")]");
		if (depth == 0)
			return at;
	}
	return row->length;
}

static size_t find_open(const tb_text *row, size_t close)
{
	unsigned depth = 0;
	for (size_t at = close + 1; at-- > close - MIN(close, LONGEST_BRACKET);) {
		depth += tb_is_among(row->chars[at], ")]");
		depth -= depth > 0 && tb_is_among(row->chars[at], "([");
		if (depth == 0)
			return at;
	}
	return row->length;
}

/* The name at AT: one word with a letter, and "st" behind it. Empty when there is none. */
static stretch read_name(const char *text, size_t at)
{
	stretch name = {at, at};
	bool letter = false;
	for (; is_name_char(text[name.to]); name.to++)
		letter |= g_ascii_isalpha(text[name.to]) != 0;
	if (!letter || name.to - at > LONGEST_NAME || g_ascii_isdigit(text[at]))
		return (stretch){at, at};
	if (text[name.to] == ' ' && tb_at_word(text + name.to + 1, "st stitch") > 0)
		name.to += 1 + tb_at_word(text + name.to + 1, "st stitch");
	return name;
}

/* Whether NAME stands in TEXT as a word, outside of FROM to TO. */
static bool has_name(const char *text, const char *name, stretch without)
{
	size_t length = strlen(name);
	for (size_t at = 0; text[at] != '\0'; at++) {
		if (at >= without.from && at < without.to)
			continue;
		if ((at == 0 || !is_name_char(text[at - 1])) && g_ascii_strncasecmp(text + at, name, length) == 0 &&
			!is_name_char(text[at + length]))
			return true;
	}
	return false;
}

/* Whether an earlier row of any piece has the name. */
static bool was_met(const tb_text_reader *reader, const char *name)
{
	for (guint p = 0; p < reader->pattern->pieces->len; p++) {
		const tb_piece *piece = reader->pattern->pieces->pdata[p];
		for (guint i = 0; i < piece->rows->len; i++) {
			const tb_text *row = piece->rows->pdata[i];
			if (has_name(row->chars, name, (stretch){0, 0}))
				return true;
		}
	}
	return false;
}

/* What the pattern says of NAME before this. NULL when that is nothing. */
static const tb_text *find_told(const tb_text_reader *reader, const char *name)
{
	const GPtrArray *lists[] = {reader->pattern->definitions, reader->pattern->inline_definitions};
	size_t length = strlen(name);
	for (size_t k = 0; k < G_N_ELEMENTS(lists); k++) {
		for (guint i = 0; i < lists[k]->len; i++) {
			const tb_text *told = lists[k]->pdata[i];
			if (g_ascii_strncasecmp(told->chars, name, length) == 0 && !is_name_char(told->chars[length]))
				return told;
		}
	}
	return NULL;
}

/* "NAME = BODY", each byte knowing its place. Owned. */
static tb_text *compose(const tb_text *row, stretch name, stretch body)
{
	size_t first = name.to - name.from, second = body.to - body.from, total = first + 3 + second;
	g_autofree char *chars = g_strdup_printf("%.*s = %.*s", (int)first, row->chars + name.from,
		(int)second, row->chars + body.from);
	tb_text *text = tb_text_create(chars, total, row->offsets[name.from]);
	text->offsets = g_new(guint32, total + 1);
	memcpy(text->offsets, row->offsets + name.from, first * sizeof(guint32));
	for (size_t i = first; i < first + 3; i++)
		text->offsets[i] = row->offsets[name.to];
	memcpy(text->offsets + first + 3, row->offsets + body.from, (second + 1) * sizeof(guint32));
	return text;
}

/* A count is no body: "(A = 12 sts)". */
static bool is_body(const char *text, stretch body)
{
	if (body.to <= body.from || body.to - body.from > LONGEST_BODY)
		return false;
	g_autofree char *words = g_strndup(text + body.from, body.to - body.from);
	size_t figures = strspn(words, "0123456789");
	if (figures > 0 && tb_at_word(words + figures + strspn(words + figures, " "), "st sts") > 0)
		return tb_has_stitch(words) || strstr(words, "tog") != NULL;
	return tb_has_stitch(words) && strpbrk(words, "=?") == NULL;
}

static void cut(tb_text *row, stretch part)
{
	memmove(row->chars + part.from, row->chars + part.to, row->length - part.to + 1);
	memmove(row->offsets + part.from, row->offsets + part.to, (row->length - part.to + 1) * sizeof(guint32));
	row->length -= part.to - part.from;
}

/* Takes the definition out of ROW with all of WHOLE. NAMED: the name itself stays there, before WHOLE. */
static bool lift(tb_text_reader *reader, tb_text *row, stretch name, stretch body, stretch whole, bool named)
{
	body = trim(row->chars, body);
	if (name.to <= name.from || !is_body(row->chars, body))
		return false;
	g_autofree char *word = g_strndup(row->chars + name.from, name.to - name.from);
	stretch told_here = named ? (stretch){name.from, whole.to} : whole;
	if (!named && !has_name(row->chars, word, whole))
		return false;
	/* first told, then worked: the name alone may stand before a definition that says it once more */
	if (named && has_name(row->chars, word, (stretch){told_here.from, row->length}))
		return false;
	g_autoptr(tb_text) text = compose(row, name, body);
	const tb_text *before = find_told(reader, word);
	if (before == NULL && tb_text_is_full_of_definitions(reader, text))
		return false;
	if (before != NULL ? g_ascii_strcasecmp(before->chars, text->chars) != 0 : was_met(reader, word))
		return false;
	if (before == NULL)
		tb_text_add_definition(reader, reader->pattern->inline_definitions, g_steal_pointer(&text));
	while (whole.from > 0 && row->chars[whole.from - 1] == ' ')
		whole.from--;
	cut(row, whole);
	return true;
}

/* Whether NAME is that of several stitches in one place, or of several drawn together. */
static bool is_of_several(const char *text, stretch name)
{
	size_t word = tb_at_word(text + name.from, "popcorn popcorns pc bobble bobbles cluster clusters cl cls puff puffs shell "
		"shells sh fan fans v-st v-sts v-stitch v-stitches berry star petal");
	size_t behind = name.from + word + strspn(text + name.from + word, " ");
	return word > 0 && (name.from + word == name.to || behind + tb_at_word(text + behind, "st stitch") == name.to);
}

/* "(V = 2 sc in same st)", "(popcorn: 5 dc in same st, …)" */
static bool lift_equation(tb_text_reader *reader, tb_text *row, size_t open, size_t close)
{
	size_t at = open + 1 + strspn(row->chars + open + 1, " ");
	stretch name = read_name(row->chars, at);
	at = name.to + strspn(row->chars + name.to, " ");
	return (row->chars[at] == '=' || (row->chars[at] == ':' && is_of_several(row->chars, name))) &&
		lift(reader, row, name, (stretch){at + 1, close}, (stretch){open, close + 1}, false);
}

/* "(sc, ch 1, sc) [= V made]" */
static bool lift_made(tb_text_reader *reader, tb_text *row, size_t open, size_t close)
{
	size_t at = open + 1 + strspn(row->chars + open + 1, " "), end = open;
	while (end > 0 && row->chars[end - 1] == ' ')
		end--;
	if (row->chars[at] != '=' || end == 0 || !tb_is_among(row->chars[end - 1], ")]"))
		return false;
	size_t begin = find_open(row, end - 1);
	at += 1 + strspn(row->chars + at + 1, " ");
	stretch name = read_name(row->chars, at);
	at = name.to + strspn(row->chars + name.to, " ");
	at += tb_at_word(row->chars + at, "made");
	at += strspn(row->chars + at, " ");
	return begin < open && at == close &&
		lift(reader, row, name, (stretch){begin, end}, (stretch){open, close + 1}, false);
}

/* A name that no library has, as its form shows: "X-st", "beg-cl", "beg shell", "inc3". */
static stretch find_own_name(const char *text, size_t end)
{
	static const char shapes[] = "st stitch cl cluster shell sh pc popcorn inc dec cross puff bobble fan star scale";
	stretch name = {end, end};
	while (name.from > 0 && is_name_char(text[name.from - 1]))
		name.from--;
	size_t word = name.to - name.from, part = name.from;
	for (size_t at = name.from; at < name.to; at++)
		part = text[at] == '-' ? at + 1 : part;
	if (word > 3 && tb_at_word(text + name.from, "inc2 inc3 inc4 dec2 dec3 dec4") == word)
		return name;
	bool shape = tb_at_word(text + part, shapes) == name.to - part;
	size_t before = name.from;
	while (before > 1 && g_ascii_isalpha(text[before - 2]))
		before--;
	before -= before > 0;
	if (shape && name.from > 1 && text[name.from - 1] == ' ' &&
		tb_at_word(text + before, "beg begin beginning start starting half first") + before + 1 == name.from)
		return (stretch){before, name.to};
	if (shape && part > name.from && g_ascii_strncasecmp(text + name.from, "v-", 2) != 0)
		return name;
	return (stretch){end, end};
}

/* Whether what stands before AT lets an act begin there. */
static bool begins_act(const char *text, size_t at)
{
	while (at > 0 && text[at - 1] == ' ')
		at--;
	return at == 0 || tb_is_among(text[at - 1], ",;.:*([") || g_ascii_isdigit(text[at - 1]);
}

/* Words of a place or a chain, as a count has none. */
static bool tells_how(const char *text, stretch body)
{
	static const char *const words[] = {" in next", " in same", " in 1", " in one", " in first", " in each", " in st",
		" in sp", " in following", " in skipped", " tog"};
	g_autofree char *lower = g_ascii_strdown(text + body.from, (gssize)(body.to - body.from));
	for (size_t i = 0; i < G_N_ELEMENTS(words); i++) {
		if (strstr(lower, words[i]) != NULL)
			return true;
	}
	return tb_at_word(lower, "ch sk skip miss") > 0;
}

/* "X-st (sk next st, dc in next st, dc in skipped st) 5 times" */
static bool lift_named(tb_text_reader *reader, tb_text *row, size_t open, size_t close)
{
	size_t end = open;
	while (end > 0 && row->chars[end - 1] == ' ')
		end--;
	stretch name = find_own_name(row->chars, end), body = {open + 1, close};
	if (name.to <= name.from || !begins_act(row->chars, name.from) || !tells_how(row->chars, body))
		return false;
	return lift(reader, row, name, body, (stretch){open, close + 1}, true);
}

/* Behind the words of WORDS at AT; *FOUND where one of TELLING is among them. */
static size_t skip_words(const char *text, size_t at, const char *words, const char *telling, bool *found)
{
	for (size_t word; (word = tb_at_word(text + at, words)) > 0;) {
		*found = *found || tb_at_word(text + at, telling) > 0;
		at += word + strspn(text + at + word, " :,");
	}
	return at;
}

/* Where the act before END begins: behind a sign that parts acts. END where it is longer than a definition. */
static size_t find_act(const tb_text *row, size_t end)
{
	size_t from = end;
	unsigned depth = 0;
	for (; from > 0; from--) {
		char c = row->chars[from - 1];
		depth += tb_is_among(c, ")]");
		if (depth == 0 && tb_is_among(c, ",;.:*(["))
			break;
		depth -= depth > 0 && tb_is_among(c, "([");
		if (from + LONGEST_BRACKET < end)
			return end;
	}
	return from + strspn(row->chars + from, " ");
}

/* "1 popcorn in next dc (5 dc in same st, drop loop, …)" */
static bool lift_placed(tb_text_reader *reader, tb_text *row, size_t open, size_t close)
{
	size_t at = find_act(row, open);
	for (size_t word; (word = tb_at_word(row->chars + at, "work make a an the 1 one first next and then")) > 0;)
		at += word + strspn(row->chars + at + word, " ");
	stretch name = read_name(row->chars, at), body = {open + 1, close};
	size_t behind = name.to + strspn(row->chars + name.to, " ");
	bool first = tb_at_word(row->chars + body.from, "first beg") > 0; /* what begins the row may be another */
	return name.to > name.from && is_of_several(row->chars, name) && tb_at_word(row->chars + behind, "in into over") > 0 &&
		!first && tells_how(row->chars, body) && lift(reader, row, name, body, (stretch){open, close + 1}, false);
}

/*
 * What is worked before END, "(dc, ch 2, dc) in next st" or "5 dc in next st", without its place. Empty
 * where it is no such.
 */
static stretch find_made(const tb_text *row, size_t end)
{
	size_t from = find_act(row, end), place = from;
	size_t close = from < end && tb_is_among(row->chars[from], "([") ? find_close(row, from) : end;
	if (close < end) {
		place = close + 1 + strspn(row->chars + close + 1, " ");
		place += tb_at_word(row->chars + place, "all");
		place += strspn(row->chars + place, " ");
	} else if (g_ascii_isdigit(row->chars[from])) {
		while (place < end && tb_at_word(row->chars + place, "in into") == 0) {
			place += strcspn(row->chars + place, " ");
			place += strspn(row->chars + place, " ");
		}
	}
	bool placed = place > from && place < end && tb_at_word(row->chars + place, "in into") > 0;
	return placed ? (stretch){from, close < end ? close + 1 : place} : (stretch){end, end};
}

/*
 * "5 dc in next st (berry made)", "(dc, ch 2, dc) in next sp - wing made": a name that no list has, for what
 * stands before it and is worked by that name further on. FROM to TO is what says so, its signs with it.
 */
static bool lift_called(tb_text_reader *reader, tb_text *row, stretch whole, size_t at)
{
	static const char before[] = "= this which these that makes make forms form making forming is are be a an the one 1 first "
		"your now hereafter henceforth called known as referred to will you have just made counts from on here";
	static const char behind[] = "made formed completed complete worked finished done is here from now on hereafter "
		"henceforth throughout";
	static const char telling[] = "made makes make forms form making forming called known referred formed completed "
		"complete worked finished done hereafter henceforth is counts";
	bool told = row->chars[at] == '=';
	at += told ? 1 + strspn(row->chars + at + 1, " ") : 0;
	at = skip_words(row->chars, at, before, telling, &told);
	stretch name = read_name(row->chars, at);
	at = name.to + strspn(row->chars + name.to, " ");
	at = skip_words(row->chars, at, behind, telling, &told);
	size_t word = strcspn(row->chars + name.from, " "), length = MIN(word, name.to - name.from);
	if (!told || at < whole.to - (tb_is_among(row->chars[whole.to - 1], ")]")) || length == 0 ||
		tb_names_stitch(row->chars + name.from, length))
		return false;
	g_autofree char *called = g_strndup(row->chars + name.from, name.to - name.from);
	g_autofree char *first = g_strndup(row->chars + name.from, length);
	stretch body = trim(row->chars, find_made(row, whole.from));
	if (body.to <= body.from || tb_text_count_used(reader, first) < 2 || find_told(reader, called) != NULL ||
		was_met(reader, called) || !is_body(row->chars, body) ||
		has_name(row->chars, called, (stretch){whole.from, row->length}))
		return false;
	tb_text_add_definition(reader, reader->pattern->inline_definitions, compose(row, name, body));
	while (whole.from > 0 && row->chars[whole.from - 1] == ' ')
		whole.from--;
	cut(row, whole);
	return true;
}

/* "(berry made)" in brackets at OPEN. */
static bool lift_called_in(tb_text_reader *reader, tb_text *row, size_t open, size_t close)
{
	return lift_called(reader, row, (stretch){open, close + 1}, open + 1 + strspn(row->chars + open + 1, " "));
}

/* " - berry made" behind AT, before the sign that ends it. */
static bool lift_called_behind(tb_text_reader *reader, tb_text *row, size_t at)
{
	static const char *const marks[] = {" - ", " — ", " – "};
	if (g_ascii_isalnum(row->chars[at + 1]))
		return false;
	for (size_t i = 0; i < G_N_ELEMENTS(marks); i++) {
		size_t mark = strlen(marks[i]);
		if (!g_str_has_prefix(row->chars + at, marks[i]))
			continue;
		size_t end = at + mark + strcspn(row->chars + at + mark, ",;.()[]");
		return tb_is_among(row->chars[end], ",;.") &&
			lift_called(reader, row, (stretch){at, end}, at + mark);
	}
	return false;
}

/* "…, sc2tog = 14 sc": so many has the row, for nobody tells what a known stitch is by a number alone. */
static bool is_count_of_row(const char *text, stretch name, stretch body)
{
	size_t at = body.from + strspn(text + body.from, " >");
	bool number = g_ascii_isdigit(text[at]);
	size_t placed = tb_find_words(text + at, body.to - at, "in into over through tog together same next");
	return number && placed >= body.to - at && tb_names_stitch(text + name.from, name.to - name.from);
}

/* "(sc, A) 6 times — A = sc2tog." at the end of a row; "where" may stand before it. */
static void lift_tail(tb_text_reader *reader, tb_text *row)
{
	static const char *const marks[] = {" — ", " – ", " - ", "; ", ", ", ". "};
	for (size_t at = row->length; at-- > 1;) {
		size_t mark = 0;
		for (size_t i = 0; i < G_N_ELEMENTS(marks); i++)
			mark = MAX(mark, g_str_has_prefix(row->chars + at, marks[i]) ? strlen(marks[i]) : 0);
		if (mark == 0)
			continue;
		size_t begin = at + mark, where = tb_at_word(row->chars + begin, "where");
		begin += where + strspn(row->chars + begin + where, " ");
		stretch name = read_name(row->chars, begin);
		size_t parting = name.to + strspn(row->chars + name.to, " ");
		if (row->chars[parting] != '=')
			continue;
		stretch body = {parting + 1, row->length};
		if (is_count_of_row(row->chars, name, body))
			return;
		lift(reader, row, name, body, (stretch){at, row->length}, false);
		return;
	}
}

void tb_text_lift_definitions(tb_text_reader *reader, tb_text *row)
{
	if (row->offsets == NULL)
		return;
	for (size_t at = 1; at < row->length; at++) {
		size_t close = tb_is_among(row->chars[at], "([") ? find_close(row, at) : row->length;
		if (close < row->length && (lift_equation(reader, row, at, close) ||
			lift_made(reader, row, at, close) || lift_named(reader, row, at, close) ||
			lift_placed(reader, row, at, close) ||
			lift_called_in(reader, row, at, close)))
			at--;
		else if (row->chars[at] == ' ' && lift_called_behind(reader, row, at))
			at--;
	}
	if (strchr(row->chars, '=') != NULL)
		lift_tail(reader, row);
}
