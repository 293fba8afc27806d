/*
 * The ways in which a line says what a stitch is: "Shell: 5 dc in same st", "To make a shell, work 5 dc in
 * same st", "A shell is made of 5 dc in one st", "sh = shell (5 dc in same st)", "| sh | 5 dc in one st |",
 * with a bullet, a number or quotes before it. Name, second name and body are told apart here, and are
 * handed on in one form, "NAME (OTHER) = BODY".
 */
#include "pattern/text_kinds.h"

#include <string.h>

#define LONGEST_NAME 60u
#define MOST_NAME_WORDS 5u
#define MOST_LEADS 4u

static size_t skip_blanks(const char *text, size_t at)
{
	return at + strspn(text + at, " ");
}

/* "* ", "2. ", "3) ", "| " before an entry of a list. */
static size_t skip_bullet(const char *line)
{
	size_t figures = strspn(line, "0123456789");
	if (figures > 0 && figures < 3 && tb_is_among(line[figures], ".)") && line[figures + 1] == ' ')
		return skip_blanks(line, figures + 1);
	return strspn(line, "*|_~+> ");
}

/* "Throughout, ", "In this pattern " before a sentence. */
static size_t skip_scope(const char *line, size_t at)
{
	static const char *const scopes[] = {"throughout", "throughout this pattern", "throughout the pattern",
		"in this pattern", "in the pattern", "for this pattern", "in these instructions", "in these directions",
		"in the instructions", "in the directions", "in the rows below", "here"};
	size_t most = 0;
	for (size_t i = 0; i < G_N_ELEMENTS(scopes); i++) {
		size_t length = strlen(scopes[i]);
		if (length > most && g_ascii_strncasecmp(line + at, scopes[i], length) == 0 &&
			tb_is_among(line[at + length], " ,"))
			most = length;
	}
	return most == 0 || line[at + most] == '\0' ? at : skip_blanks(line, at + most + (line[at + most] == ','));
}

/* "Where the pattern says ", "Whenever " before a name that the rows have; AT where there is no such. */
static size_t skip_saying(const char *line, size_t at)
{
	size_t when = tb_at_word(line + at, "when where whenever wherever if");
	if (when == 0 || line[at + when] != ' ')
		return at;
	at = skip_blanks(line, at + when);
	size_t verb = at;
	for (size_t word;
		(word = tb_at_word(line + verb, "the this pattern instructions directions row rows it you")) > 0;)
		verb = skip_blanks(line, verb + word);
	size_t says = tb_at_word(line + verb, "says say calls call reads read see");
	if (verb == at || says == 0)
		return at;
	at = skip_blanks(line, verb + says);
	for (size_t word; (word = tb_at_word(line + at, "for to a an")) > 0;)
		at = skip_blanks(line, at + word);
	return at;
}

/* Behind "appears", "is called for" at AT, as a name that the rows have goes on; AT where there is no such. */
static size_t behind_saying(const char *line, size_t at)
{
	size_t from = at;
	for (size_t word;
		(word = tb_at_word(line + at, "is are appears appear occurs called mentioned written used given for")) > 0;)
		at = skip_blanks(line, at + word);
	return line[at] == ',' ? at : from;
}

/* "To make a ", "For the ", "Each ", "One " before a name; *PURPOSE: a comma may end the name. */
static size_t skip_lead(const char *line, size_t at, bool *purpose)
{
	at = skip_scope(line, at);
	size_t saying = skip_saying(line, at);
	if (saying > at) {
		*purpose = true;
		return saying;
	}
	size_t to = tb_at_word(line + at, "to for when");
	if (to > 0 && line[at + to] == ' ') {
		size_t verb = skip_blanks(line, at + to);
		bool made = tb_at_word(line + verb, "make work form create do making working a an the each one") > 0;
		*purpose = made;
		at = made ? verb : at;
	}
	for (unsigned i = 0; i < MOST_LEADS; i++) {
		size_t word = tb_at_word(line + at, *purpose ? "make work form create do making working a an the each one 1" :
			"a an the each every one 1");
		size_t next = skip_blanks(line, at + word);
		if (word == 0 || line[at + word] != ' ' || tb_is_among(line[next], ":=-"))
			break;
		at = next;
	}
	return at;
}

static size_t skip_quotes(const char *line, size_t at)
{
	return at + strspn(line + at, "\"'*_");
}

/* Behind "is made of", "are", "consists of", "means" at AT; 0 when no such words stand there. */
static size_t behind_verb(const char *line, size_t at)
{
	size_t verb = tb_at_word(line + at, "is are means mean consists consist stands refers equals");
	if (verb == 0 || line[at + verb] != ' ')
		return 0;
	at = skip_blanks(line, at + verb);
	static const char *const more[] = {"made", "formed", "created", "composed", "comprised", "worked", "done"};
	for (size_t i = 0; i < G_N_ELEMENTS(more); i++) {
		size_t word = tb_at_word(line + at, more[i]), next = skip_blanks(line, at + word);
		if (word > 0 && tb_at_word(line + next, "of by up with from as like thus") > 0)
			at = next;
	}
	for (size_t word; (word = tb_at_word(line + at, "of by up with from as follows like thus for to "
			"working making crocheting this")) > 0;)
		at = skip_blanks(line, at + word);
	return skip_blanks(line, at + (line[at] == ':' || line[at] == ','));
}

/* Words of a place, or of what is closed: no body told by a verb goes without. */
static bool tells_place(const char *body)
{
	static const char *const words[] = {" in ", " into ", " over ", "tog", " between ", " around ", " round ", " behind ", " from "};
	for (size_t i = 0; i < G_N_ELEMENTS(words); i++) {
		if (strstr(body, words[i]) != NULL)
			return true;
	}
	return tb_at_word(body, "in into") > 0;
}

/* Whether NAME may be a stitch that a sentence is about: no row, no chain, no "first dc". */
static bool is_subject(const char *line, size_t from, size_t to)
{
	static const char others[] = "row rows rnd rnds round rounds ch chs chain chains turning first last next "
		"this that these those it there here pattern gauge work yarn side sides piece second third "
		"all loop loops hook number stitches sts row's beginning";
	return tb_find_words(line + from, to - from, others) == to - from &&
		(g_ascii_isalpha(line[from]) || line[from] == '"');
}

/* What parts a name from a body at AT, and behind a name's quotes; where the body begins, or 0. *WORDS: a verb. */
static size_t at_parting(const char *line, size_t from, size_t at, bool purpose, bool *words)
{
	*words = false;
	size_t next = skip_blanks(line, skip_quotes(line, at));
	next = purpose ? behind_saying(line, next) : next;
	if (line[next] == ':' || line[next] == '=' || line[next] == '|' || (purpose && line[next] == ','))
		return skip_blanks(line, next + 1);
	if (g_str_has_prefix(line + next, "—"))
		return skip_blanks(line, next + strlen("—"));
	if (line[next] == '-' && next > at && line[next + 1] == ' ')
		return skip_blanks(line, next + 1);
	size_t verb = next > at ? behind_verb(line, next) : 0;
	*words = verb > 0;
	if (verb == 0 || !is_subject(line, from, at))
		return 0;
	bool acts = g_ascii_isdigit(line[verb]) || tb_is_among(line[verb], "([") || tb_begins_act(line + verb) ||
		(tb_at_word(line + verb, "in into all") > 0 && tb_has_stitch(line + verb));
	g_autofree char *name = g_ascii_strdown(line + from, (gssize)(at - from));
	bool picot = strstr(name, "picot") != NULL;
	return acts && (picot || tells_place(line + verb)) ? verb : 0;
}

/* "i.e. ", "that is, " before a body that says a name once more. */
static size_t skip_that_is(const char *text)
{
	size_t at = strspn(text, " ");
	static const char *const words[] = {"i.e.", "ie", "that is", "made of", "worked as"};
	for (size_t i = 0; i < G_N_ELEMENTS(words); i++) {
		size_t length = strlen(words[i]);
		if (g_ascii_strncasecmp(text + at, words[i], length) == 0 && tb_is_among(text[at + length], " ,:") &&
			text[at + length] != '\0')
			return at + length + strspn(text + at + length, " ,:");
	}
	return 0;
}

/*
 * "large group, (dc, ch 1, dc) in same st": where a name of a few words ends, before its comma and what is
 * worked; 0 where TEXT begins with no such name.
 */
static size_t find_comma_name(const char *text)
{
	size_t stop = strcspn(text, ",;.:=([0123456789");
	if (stop == 0 || stop > 24 || !tb_is_among(text[stop], ",;") || text[stop + 1] != ' ' ||
		!g_ascii_isalpha(*text) || strchr(text, '=') != NULL)
		return 0;
	static const char kinds[] = "increase decrease shell cluster popcorn puff bobble picot fan invisible v-stitch";
	const char *behind = text + stop + 1 + skip_that_is(text + stop + 1);
	behind += strspn(behind, " ");
	bool acts = tb_begins_act(text) ||
		tb_at_word(text, "yo yarn insert draw pull wrap leaving holding keeping ch chain") > 0;
	return tb_at_word(text, kinds) > 0 || (!acts && tb_begins_act(behind)) ? stop : 0;
}

/* "shell (5 dc in same st)", "shell - 5 dc in same st" as the body of "sh = …": the body proper. */
static void split_second(const char *line, tb_told *told)
{
	const char *text = line + told->body;
	size_t open = strcspn(text, "([:=—-"), words = open;
	while (words > 0 && text[words - 1] == ' ')
		words--;
	/* "inc = increase, 2 sc in same st" */
	size_t stop = find_comma_name(text);
	if (told->other_end == 0 && stop > 0) {
		told->other = told->body;
		told->other_end = told->body + stop;
		told->body = told->body + stop + 1;
		told->body = skip_blanks(line, told->body + skip_that_is(line + told->body));
		return;
	}
	if (told->other_end > 0 || words == 0 || words > 40 || text[open] == '\0' || tb_at_word(text, "yo sk skip miss insert "
			"work make in ch draw pull") > 0 || !g_ascii_isalpha(*text) || strcspn(text, "0123456789,;.") < open)
		return;
	bool bracket = tb_is_among(text[open], "([");
	size_t body = bracket ? open + 1 : skip_blanks(text, open + (text[open] == '-' || text[open] == ':' ||
		text[open] == '=' ? 1 : strlen("—")));
	size_t end = bracket ? strlen(text) : 0;
	while (end > 0 && tb_is_among(text[end - 1], " ."))
		end--;
	if (bracket && (end < 2 || !tb_is_among(text[end - 1], ")]") || strcspn(text + body, ")]") + body != end - 1))
		return;
	/* "half-double" has a hyphen in its name */
	if (!bracket && (text[open] == '-' ? text[open + 1] != ' ' || open == words : false))
		return;
	g_autofree char *inner = g_strndup(text + body, (bracket ? end - 1 : strlen(text)) - body);
	if (!tb_has_stitch(inner) || (strpbrk(inner, "0123456789") == NULL && !tells_place(inner)) ||
		strstr(inner, "= ") != NULL)
		return;
	told->other = told->body;
	told->other_end = told->body + words;
	told->end = bracket ? told->body + end - 1 : told->end;
	told->body += body;
}

/* "Cluster (worked over 3 sts)", "Star over 5 sts": the name without where it is worked. */
static size_t name_alone(const char *line, size_t from, size_t to)
{
	static const char *const behind[] = {" worked over ", " over ", " worked across ", " (over ", " (worked ", " [worked "};
	g_autofree char *name = g_ascii_strdown(line + from, (gssize)(to - from));
	for (size_t i = 0; i < G_N_ELEMENTS(behind); i++) {
		const char *at = strstr(name, behind[i]);
		if (at != NULL && strpbrk(at, "0123456789") != NULL)
			return from + (size_t)(at - name);
	}
	return to;
}

/* "Shell (sh)" is a name and another. */
static void split_bracket(const char *line, tb_told *told)
{
	for (size_t at = told->name; at < told->name_end; at++) {
		if (!tb_is_among(line[at], "(["))
			continue;
		size_t close = at + strcspn(line + at, ")]");
		told->other = at + 1;
		told->other_end = MIN(close, told->name_end);
		told->name_end = at;
		break;
	}
	while (told->name_end > told->name && line[told->name_end - 1] == ' ')
		told->name_end--;
}

/* "Cable over 4 sts (C4F)": the other name stands behind what was left out of the first, which ends at WHOLE. */
static void split_behind(const char *line, size_t whole, tb_told *told)
{
	size_t open = told->name_end + strlen(" (");
	open += strcspn(line + MIN(open, whole), "([");
	size_t close = open < whole ? open + strcspn(line + open, ")]") : whole;
	if (close >= whole)
		return;
	told->other = open + 1;
	told->other_end = close;
}

bool tb_told_find(const char *line, bool list, tb_told *told)
{
	bool purpose = false;
	size_t bullet = list ? skip_bullet(line) : strspn(line, "|* ");
	size_t from = skip_quotes(line, skip_lead(line, bullet, &purpose));
	unsigned words = 1, depth = 0;
	*told = (tb_told){0};
	if (!g_unichar_isalnum(g_utf8_get_char(line + from)))
		return false;
	for (size_t at = from; line[at] != '\0' && at - from < LONGEST_NAME && words <= MOST_NAME_WORDS; at++) {
		depth += line[at] == '(' || line[at] == '[';
		depth -= depth > 0 && (line[at] == ')' || line[at] == ']');
		if (depth > 0)
			continue;
		bool verb = false;
		size_t body = at > from ? at_parting(line, from, at, purpose, &verb) : 0;
		if (body > 0) {
			*told = (tb_told){.name = from, .name_end = at, .body = body, .end = strlen(line)};
			told->by_words = verb || purpose;
			break;
		}
		if (tb_is_among(line[at], ";*!?,") || (line[at] == '.' && line[at + 1] == ' '))
			return false;
		words += line[at] == ' ' && line[at + 1] != '(' && line[at + 1] != '[';
	}
	if (told->body == 0 || line[told->body] == '\0')
		return false;
	while (told->end > told->body && tb_is_among(line[told->end - 1], " |"))
		told->end--;
	size_t whole = told->name_end;
	told->name_end = name_alone(line, told->name, whole);
	bool cut = told->name_end < whole;
	split_bracket(line, told);
	if (cut && told->other == 0)
		split_behind(line, whole, told);
	split_second(line, told);
	size_t sign = skip_blanks(line, whole);
	told->is_plain = from == 0 && !cut && !told->by_words && told->end == strlen(line) && told->other <= whole &&
		(tb_is_among(line[sign], ":=-") || g_str_has_prefix(line + sign, "—"));
	return told->name_end > told->name && told->end > told->body;
}

bool tb_told_is_stitch(const char *line, const tb_told *told)
{
	static const char nouns[] = "star stars scale scales group groups petal petals tuft tufts leaf leaves flower "
		"flowers square squares corner corners cross crosses v x";
	if (tb_names_stitch(line + told->name, told->name_end - told->name))
		return true;
	return told->by_words && tb_at_word(line + told->name, nouns) == told->name_end - told->name;
}

bool tb_tells_stitch(const char *line)
{
	tb_told told;
	return tb_told_find(line, false, &told) && tb_told_is_stitch(line, &told);
}

tb_text *tb_told_compose(const tb_text *text, const tb_told *told)
{
	const size_t parts[][2] = {{told->name, told->name_end}, {told->other, told->other_end}, {told->body, told->end}};
	static const char *const before[] = {"", " (", " = "}, *const behind[] = {"", ")", ""};
	g_autoptr(GString) chars = g_string_new(NULL);
	g_autoptr(GArray) offsets = g_array_new(FALSE, FALSE, sizeof(guint32));
	for (size_t i = 0; i < G_N_ELEMENTS(parts); i++) {
		size_t from = parts[i][0], to = parts[i][1];
		if (to <= from)
			continue;
		for (size_t k = 0; before[i][k] != '\0'; k++)
			g_array_append_val(offsets, text->offsets[from]);
		g_array_append_vals(offsets, text->offsets + from, (guint)(to - from));
		for (size_t k = 0; behind[i][k] != '\0'; k++)
			g_array_append_val(offsets, text->offsets[to]);
		g_string_append(chars, before[i]);
		g_string_append_len(chars, text->chars + from, (gssize)(to - from));
		g_string_append(chars, behind[i]);
	}
	g_array_append_val(offsets, text->offsets[told->end]);
	tb_text *composed = tb_text_create(chars->str, chars->len, text->offsets[told->name]);
	composed->offsets = g_memdup2(offsets->data, offsets->len * sizeof(guint32));
	return composed;
}
