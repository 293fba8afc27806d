/* Where one row ends and the next begins on the same line: "… turn. Row 2: …", "… turn. Work 5 more rows the same." */
#include "pattern/text_reader.h"

#include <string.h>

/* "2nd", "second", "2nd, 3rd and 4th" at TEXT, and the blank behind it; 0 where no ordinal stands there. */
static size_t span_ordinals(const char *text)
{
	static const char words[] = "first second third fourth fifth sixth seventh eighth ninth tenth";
	for (size_t at = 0;;) {
		size_t word = tb_at_word(text + at, words), figures = strspn(text + at, "0123456789");
		if (word == 0 && figures > 0 && tb_at_word(text + at + figures, "st nd rd th d") > 0)
			word = figures + tb_at_word(text + at + figures, "st nd rd th d");
		if (word == 0)
			return at;
		at += word + strspn(text + at + word, ", ");
		size_t and = tb_at_word(text + at, "and to & the");
		at += and + strspn(text + at + and, " ");
	}
}

/* The bytes of the words of WORDS that stand at TEXT, one behind the other, with their blanks. */
static size_t span_words(const char *text, const char *words)
{
	size_t at = 0;
	for (size_t word = tb_at_word(text, words); word > 0; word = tb_at_word(text + at, words))
		at += word + strspn(text + at + word, " ");
	return at;
}

/* "Rep Row 2", "Repeat the last 2 rows", "Rep this rnd", and not "rep from * to end of row". */
static bool names_rows_again(const char *text)
{
	static const char row[] = "row rows rnd rnds round rounds";
	size_t at = span_words(text, "now then and so just simply you we will"), rep = tb_at_word(text + at, "rep repeat");
	if (rep == 0)
		return false;
	at += rep + strspn(text + at + rep, " ");
	size_t article = tb_at_word(text + at, "from");
	at += article + strspn(text + at + article, " ");
	article = tb_at_word(text + at, "the");
	at += article + strspn(text + at + article, " ");
	/* "repeat from the 2nd row", "rep 2nd, 3rd and 4th rows" */
	size_t ordinal = at + span_ordinals(text + at);
	if (ordinal > at && tb_at_word(text + ordinal, row) > 0)
		return true;
	size_t word = tb_at_word(text + at, row);
	if (word > 0)
		return g_ascii_isdigit(text[at + word + strspn(text + at + word, " ")]);
	size_t which = tb_at_word(text + at, "this that these last previous");
	at += which + strspn(text + at + which, " ");
	size_t many = strspn(text + at, "0123456789");
	many = many > 0 ? many : tb_at_word(text + at, "two three four five six");
	at += many + strspn(text + at + many, " ");
	/* "repeat that for rows 3 to 10" */
	at += span_words(text + at, "for");
	return which > 0 && tb_at_word(text + at, row) > 0;
}

/*
 * "the same till 20 rows are done", "in this way until there are 20 rows", "through Row 20", and not "until the
 * end of the row"
 */
static bool is_until_rows(const char *text)
{
	size_t end = strcspn(text, ".;:*([");
	size_t until = span_words(text, "the this it same in so thus as like way manner before");
	size_t through = span_words(text + until, "up through thru to and including");
	size_t row = tb_at_word(text + until + through, "row rnd round");
	if (through > 0 && row > 0)
		return g_ascii_isdigit(text[until + through + row + strspn(text + until + through + row, " ")]);
	return tb_at_word(text + until, "until till") > 0 && tb_find_words(text, end, "rows rnds rounds") < end;
}

/* "Work 5 more rows the same", "and do nine rows more in this way", "and repeat the same till 20 rows are done" */
static bool tells_more_rows(const char *text)
{
	static const char rows[] = "row rows rnd rnds round rounds";
	static const char same[] = "the same in like as thus so likewise all always exactly";
	static const char numbers[] = "two three four five six seven eight nine ten eleven twelve";
	size_t at = span_words(text, "and then");
	size_t again = span_words(text + at, "rep repeat continue");
	if (again > 0)
		return is_until_rows(text + at + again);
	size_t work = span_words(text + at, "work do make crochet");
	at += work;
	const char *many = text + at;
	at += span_words(text + at, "a another the next further more");
	size_t figures = strspn(text + at, "0123456789"), number = figures > 0 ? figures : tb_at_word(text + at, numbers);
	at += number + strspn(text + at + number, " ");
	at += span_words(text + at, "more further other extra additional");
	size_t word = tb_at_word(text + at, rows);
	bool more = tb_find_words(many, (size_t)(text + at - many), "more further another") < (size_t)(text + at - many);
	at += word + strspn(text + at + word, " ");
	more = more || span_words(text + at, "more further") > 0;
	at += span_words(text + at, "more further");
	return work > 0 && number > 0 && word > 0 && more && tb_at_word(text + at, same) > 0;
}

/* "Rnds 4-5: Join B. Repeat rnd 3" is one row: nothing is worked before it is told what is. */
static bool is_about_yarn(const char *text, size_t length)
{
	g_autofree char *said = g_strstrip(g_strndup(text, length));
	return tb_at_word(said, "join attach change switch fasten cut with using in pick drop") > 0 && !tb_has_stitch(said);
}

/* "…, repeat this row 8 times", "… turn—repeat this row 8 times": the row that is told here has been told then. */
static bool repeats_this_row(const char *text, size_t at, const char *next)
{
	bool dash = text[at] == '-' || (at > 2 && memcmp(text + at - 2, "\xe2\x80", 2) == 0);
	if (!dash && (text[at] != ' ' || at == 0 || (text[at - 1] != ',' && text[at - 1] != '-')))
		return false;
	size_t rep = tb_at_word(next, "rep repeat");
	rep += strspn(next + rep, " ");
	return tb_at_word(next, "rep repeat") > 0 && tb_at_word(next + rep, "this") > 0 && names_rows_again(next);
}

/* "R2 inc*6 (12), R3 [1sc, inc]*6 (18)": the row whose turn it is behind the one that is told, and what is worked in it. */
static bool comes_in_turn(const tb_row_head *own, const tb_row_head *head, char before, const char *behind)
{
	if (own->last == 0 || own->is_named || head->is_bare || head->is_named || head->first != own->last + 1)
		return false;
	return tb_is_among(before, ",;)]|") && (tb_begins_act(behind) || g_ascii_isdigit(*behind) || *behind == '=');
}

/* "Every 3rd rnd is an increase rnd. Continue in this way until …": what is told before it is which rows those are. */
static bool tells_which_rows(const char *text, size_t length)
{
	g_autofree char *said = g_strndup(text, length);
	size_t verb = tb_find_words(said, length, "is are comes come happens happen falls fall");
	return verb < length && !tb_has_stitch(said) && tb_find_words(said, length, "every each") < length &&
		tb_find_words(said, length, "increase increases inc decrease decreases dec") < length;
}

/* Where the next row on the same line begins, "… turn. Row 2: …", "… turn. Rep Row 2", or the text's end. */
size_t tb_text_find_next_row(const tb_text *text, size_t from)
{
	tb_row_head own;
	/* "Rows 3 to 9. Repeat row 2." is one row. */
	size_t label = tb_is_row_head(text->chars + from, &own) ? from + own.length : from;
	for (size_t at = from + 1; at + 2 < text->length; at++) {
		tb_row_head head;
		const char *next = text->chars + at + 1;
		if (at > label && repeats_this_row(text->chars, at, next))
			return at + 1;
		if (text->chars[at] != ' ')
			continue;
		bool parted = at > label && tb_is_among(text->chars[at - 1], ".])!;");
		if (at > label && (parted || tb_at_word(next, "and") > 0) && tells_more_rows(next) &&
			!tells_which_rows(text->chars + from, at - from))
			return at + 1;
		if (parted && names_rows_again(next) &&
			!(label > from && is_about_yarn(text->chars + label, at - label)))
			return at + 1;
		/* "Row 1 as for the Back (20 sts). Now work as for the Back until …" */
		size_t then = g_ascii_isupper(*next) ? tb_at_word(next, "then now") : 0;
		if (parted && tb_at_word(next + then + strspn(next + then, " "), "work follow complete") > 0 && g_ascii_isupper(*next) &&
			tb_line_find_kind(next + then + strspn(next + then, " ")) == TB_LINE_LIKE)
			return at + 1;
		bool leads = tb_leads_to_first_row(text->chars, text->chars + at);
		/* "then 4 (4, 2) plain rows: …": how many they are is part of their name */
		size_t plain = tb_at_word(next, "plain even straight");
		if (plain > 0 && text->chars[at - 1] == ')' && tb_at_word(next + plain + strspn(next + plain, " "), "rows rnds rounds") > 0)
			continue;
		bool ended = tb_is_among(text->chars[at - 1], ".])!");
		bool sign = label > from && tb_is_among(text->chars[at - 1], ",;)]|");
		if ((!leads && !ended && !sign) || !tb_is_row_head(next, &head) || head.is_bare)
			continue;
		if (sign && comes_in_turn(&own, &head, text->chars[at - 1], next + head.length + strspn(next + head.length, " ")))
			return at + 1;
		if (leads && head.first == 1 && head.mark == ':')
			return at + 1;
		if (!ended)
			continue;
		/* "See Row 3." ends a sentence; a row's head has something behind it. */
		const char *behind = next + head.length + strspn(next + head.length, " ");
		/* "… in each dc. 2nd row.—1 dc": nothing but a head is parted so */
		bool dashed = head.mark == '.' && g_str_has_prefix(behind, "\xe2\x80\x94") && behind[3] != '\0';
		if (head.mark == ':' || dashed || ((head.mark == '.' || head.mark == '-') && *behind != '\0' &&
				!head.is_named && (g_unichar_isupper(g_utf8_get_char(behind)) ||
				tb_begins_act(behind))))
			return at + 1;
	}
	return text->length;
}
