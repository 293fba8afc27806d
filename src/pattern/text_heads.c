/*
 * How a row begins: "Row 1 (RS):", "5th Round.", "R3 -", "46, 47.", "Next 3 rows:", "Dec row:". Only
 * its head is looked at; the acts behind it are the business of notation/.
 */
#include "pattern/read.h"
#include "pattern/text_kinds.h"

#include <string.h>

/* A row's head does not say more than this. */
#define LONGEST_HEAD 160u
#define MOST_NAME_WORDS 5u

static const char row_words[] = "row rows rw rnd rnds round rounds rd rds";

static size_t skip_blanks(const char *line, size_t at)
{
	return at + strspn(line + at, " ");
}

size_t tb_at_number_word(const char *text, unsigned *value)
{
	static const char *const words[][2] = {{"first", "one"}, {"second", "two"}, {"third", "three"},
		{"fourth", "four"}, {"fifth", "five"}, {"sixth", "six"}, {"seventh", "seven"},
		{"eighth", "eight"}, {"ninth", "nine"}, {"tenth", "ten"}, {"eleventh", "eleven"},
		{"twelfth", "twelve"}, {"thirteenth", "thirteen"}, {"fourteenth", "fourteen"},
		{"fifteenth", "fifteen"}, {"sixteenth", "sixteen"}, {"seventeenth", "seventeen"},
		{"eighteenth", "eighteen"}, {"nineteenth", "nineteen"}, {"twentieth", "twenty"}};
	if (!tb_is_among(g_ascii_tolower(*text), "efnost"))
		return 0;
	char first = g_ascii_tolower(*text), second = g_ascii_tolower(text[1]);
	for (unsigned i = 0; i < G_N_ELEMENTS(words); i++) {
		size_t word = 0;
		for (unsigned k = 0; k < 2 && word == 0; k++)
			word = words[i][k][0] == first && words[i][k][1] == second ? tb_at_word(text, words[i][k]) : 0;
		if (word == 0)
			continue;
		*value = i + 1;
		return word;
	}
	return 0;
}

/* "IV", in capitals, as some books count. */
static size_t at_roman(const char *text, unsigned *value)
{
	static const char *const numerals[] = {"I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX",
		"X", "XI", "XII", "XIII", "XIV", "XV", "XVI", "XVII", "XVIII", "XIX", "XX"};
	size_t length = strspn(text, "IVX");
	for (unsigned i = 0; length > 0 && i < G_N_ELEMENTS(numerals); i++) {
		if (strlen(numerals[i]) == length && strncmp(numerals[i], text, length) == 0 &&
			!g_ascii_isalnum(text[length])) {
			*value = i + 1;
			return length;
		}
	}
	return 0;
}

/* "1", "12th", "first", "IV" at AT; behind it, or 0. */
static size_t at_row_number(const char *line, size_t at, unsigned *value)
{
	size_t word = tb_at_number_word(line + at, value);
	if (word == 0)
		word = at_roman(line + at, value);
	if (word > 0)
		return at + word;
	at += line[at] == '#';
	size_t figures = strspn(line + at, "0123456789");
	if (figures == 0 || figures > 6)
		return 0;
	*value = (unsigned)g_ascii_strtoull(line + at, NULL, 10);
	at += figures;
	at += tb_at_word(line + at, "st nd rd th d");
	/* "4rnd:" */
	return g_ascii_isalnum(line[at]) && tb_at_word(line + at, row_words) == 0 ? 0 : at;
}

/* "Rnd 2 - 2 sc in each st": behind a dash between blanks stands what is worked, and no last row. */
static bool is_worked_number(const char *line, size_t end, size_t number, unsigned first, unsigned later)
{
	size_t dash = skip_blanks(line, end);
	return dash > end && line[dash] == '-' && line[dash + 1] == ' ' &&
		(later <= first || (line[number] == ' ' && tb_begins_act(line + number + 1)));
}

/* ".-" in "5.-9.", "5. - 9.", where END is behind the first number; behind it, or END. */
static size_t skip_dotted_dash(const char *line, size_t end)
{
	static const char *const dashes[] = {"-", "–", "—"};
	size_t next = skip_blanks(line, end + (line[end] == '.')), number = 0;
	for (size_t k = 0; line[end] == '.' && k < G_N_ELEMENTS(dashes) && number == 0; k++) {
		if (g_str_has_prefix(line + next, dashes[k]))
			number = skip_blanks(line, next + strlen(dashes[k]));
	}
	size_t figures = number > 0 ? strspn(line + number, "0123456789") : 0;
	return figures > 0 && line[number + figures] == '.' ? number : end;
}

/* "5-8", "1, 2 and 3", "3 to 6", "3 - Rnd 6", "5.-9" at AT; behind it, or 0. */
static size_t at_row_list(const char *line, size_t at, tb_row_head *head)
{
	unsigned later;
	size_t end = at_row_number(line, at, &head->first);
	head->last = end > 0 ? head->first : 0;
	while (end > 0 && end < LONGEST_HEAD) {
		size_t next = skip_blanks(line, skip_dotted_dash(line, end));
		if (tb_is_among(line[next], "-,&/+"))
			next++;
		else if (g_str_has_prefix(line + next, "—"))
			next += strlen("—");
		next = skip_blanks(line, next);
		next = skip_blanks(line, next + tb_at_word(line + next, "and to through thru or until till"));
		next = skip_blanks(line, next + tb_at_word(line + next, row_words));
		next += g_ascii_toupper(line[next]) == 'R' && g_ascii_isdigit(line[next + 1]);
		size_t number = next > end ? at_row_number(line, next, &later) : 0;
		if (number == 0 || is_worked_number(line, end, number, head->last, later))
			break;
		end = number;
		head->last = later;
	}
	return end;
}

/* " inclusive", ", increase row": what else is said before the colon of a head; behind it, or AT. */
static size_t skip_words(const char *line, size_t at)
{
	size_t next = skip_blanks(line, at);
	size_t inclusive = tb_at_word(line + next, "inclusive incl included");
	if (inclusive > 0)
		return next + inclusive;
	next += line[next] == ',';
	if (g_str_has_prefix(line + next, "as follows:"))
		return next + strlen("as follows");
	size_t end = next;
	unsigned words = 0;
	while (words < MOST_NAME_WORDS && (g_ascii_isalpha(line[end]) || tb_is_among(line[end], " -'/&"))) {
		words += g_ascii_isalpha(line[end]) && (end == 0 || line[end - 1] == ' ');
		end++;
	}
	bool said = words > 0 && line[end] == ':' && !tb_begins_act(line + skip_blanks(line, next)) &&
		tb_at_word(line + skip_blanks(line, next), "form forms is are set sets of") == 0;
	return said ? end : at;
}

/* " and every even row", " and all odd-numbered rows" at AT; behind it, or AT. */
static size_t skip_others(const char *line, size_t at)
{
	size_t next = skip_blanks(line, at);
	size_t and = tb_at_word(line + next, "and");
	if (and == 0)
		return at;
	next = skip_blanks(line, next + and);
	if (tb_at_word(line + next, "every all each following subsequent") == 0)
		return at;
	for (unsigned words = 0; words < MOST_NAME_WORDS && g_ascii_isalpha(line[next]); words++) {
		size_t word = tb_at_word(line + next, row_words);
		if (word > 0)
			return next + word;
		next += strcspn(line + next, " ");
		next = skip_blanks(line, next);
	}
	return at;
}

/* "R5:", "R5-8 (RS):", "R2 - Ch 1" as patterns in rounds are headed; behind the number, or 0. */
static size_t at_short_row(const char *line, tb_row_head *head)
{
	size_t number = line[0] == 'R' && line[1] == ' ' ? 2 : 1;
	if (g_ascii_toupper(line[0]) != 'R' || !g_ascii_isdigit(line[number]))
		return 0;
	size_t end = at_row_list(line, number, head), next = skip_blanks(line, end);
	return end > 0 && (tb_begins_act(line + next) || tb_is_among(line[next], ":([.)-") ||
		g_str_has_prefix(line + next, "—")) ? end : 0;
}

/* "T1. Ch 1, sc across", "fn2  sc in each st", "T3. As T1.": letters that stand for the word row; behind the number, or 0. */
static size_t at_coded_row(const char *line, tb_row_head *head)
{
	size_t letters = strspn(line, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ");
	if (letters == 0 || letters > TB_LONGEST_CODE || !g_ascii_isdigit(line[letters]) || tb_is_among(*line, "rRxXmM"))
		return 0;
	g_autofree char *code = g_strndup(line, letters);
	if (tb_has_stitch(code) || tb_at_word(code, "st sts sk sp sps lp lps no pc cl bo ws us uk cc for and in on to of") > 0)
		return 0;
	size_t end = letters + strspn(line + letters, "0123456789");
	head->first = head->last = (unsigned)g_ascii_strtoull(line + letters, NULL, 10);
	/* "N7 and N8", "bk2-bk4", "N7-8" */
	size_t next = skip_blanks(line, end), joined = tb_at_word(line + next, "and to &");
	joined = joined > 0 ? skip_blanks(line, next + joined) : line[next] == '-' ? skip_blanks(line, next + 1) : 0;
	if (joined > 0) {
		joined += g_ascii_strncasecmp(line + joined, line, letters) == 0 ? letters : 0;
		size_t figures = strspn(line + joined, "0123456789");
		bool good = figures > 0 && g_ascii_strtoull(line + joined, NULL, 10) > head->first;
		head->last = good ? (unsigned)g_ascii_strtoull(line + joined, NULL, 10) : head->last;
		end = good ? joined + figures : end;
	}
	if (g_ascii_isalnum(line[end]))
		return 0;
	size_t behind = end + strspn(line + end, " .:)-");
	size_t close = line[behind] == '(' || line[behind] == '[' ? strcspn(line + behind, ")]") : 0;
	behind += close + strspn(line + behind + close, " .:)]-");
	return tb_begins_act(line + behind) ? end : 0;
}

/*
 * "Next row", "Set-up row", "Next 3 rows", "Buttonhole row", rows that have a name instead of a
 * number; behind it, or 0. The name is *SURE when it is one that nothing but rows have.
 */
static size_t at_named_row(const char *line, bool *sure)
{
	size_t at = 0;
	*sure = tb_at_word(line, "next last final following foundation base set setup set-up pick pickup dec inc "
			"decrease increase joining pattern every all first") > 0;
	for (unsigned words = 0; words <= MOST_NAME_WORDS; words++) {
		size_t word = tb_at_word(line + at, row_words);
		if (word > 0) {
			/* "Inc row 3:" */
			size_t number = skip_blanks(line, at + word), figures = strspn(line + number, "0123456789");
			bool numbered = figures > 0 && tb_is_among(line[number + figures], ":.");
			return words == 0 ? 0 : numbered ? number + figures : at + word;
		}
		if (tb_at_word(line + at, "of in on to the this that from at with as for rep repeat work "
				"continue ch join turn end") > 0)
			return 0;
		word = 0;
		while (g_ascii_isalnum(line[at + word]) || (word > 0 && tb_is_among(line[at + word], "-'&") &&
				line[at + word] != '\0'))
			word++;
		if (word == 0 || line[at + word] != ' ')
			return 0;
		bool number = strspn(line + at, "0123456789") == word;
		at = skip_blanks(line, at + word);
		/* "Next 10 (10, 12) rows:" */
		size_t figures = number && line[at] == '(' ? strspn(line + at + 1, "0123456789 ,;/-") : 0;
		if (figures > 0 && line[at + 1 + figures] == ')')
			at = skip_blanks(line, at + figures + 2);
	}
	return 0;
}

/* "3 rnd. 6 sc", "4-5 rnds) 6 sc", "6 rnd - 6 sc": behind the number stands WORD; "2 rows. 6 sc" are two rows. */
static bool is_one_by_one(const char *word, const char *behind, const tb_row_head *head)
{
	size_t mark = tb_is_among(*behind, ".)-") ? 1 : g_str_has_prefix(behind, "–") ? strlen("–") : 0;
	return mark > 0 && (head->last > head->first || tb_at_word(word, "rows rnds rounds rds") == 0) &&
		tb_begins_act(behind + mark + strspn(behind + mark, " "));
}

/*
 * "1st and 2nd rows", "6th and last round", "First row"; behind it, or 0. Without "row" before it, a
 * number must be an ordinal, "2nd row", not "2 rows", or have a mark: "3-5 rnd: sc".
 */
static size_t at_ordinal_row(const char *line, tb_row_head *head)
{
	size_t the = skip_blanks(line, tb_at_word(line, "the"));
	size_t number = at_row_list(line, the, head);
	if (number == 0)
		return 0;
	bool ordinal = !g_ascii_isdigit(line[number - 1]);
	/* "IV. row.", "4th. row:" */
	size_t dotted = skip_blanks(line, number + (line[number] == '.'));
	if (ordinal && tb_at_word(line + dotted, row_words) > 0)
		number = dotted;
	else if (tb_is_among(line[number - 1], "IVX"))
		return 0;
	number = skip_blanks(line, number);
	size_t last = tb_at_word(line + number, "and &");
	size_t final = skip_blanks(line, number + last);
	if (last > 0 && tb_at_word(line + final, "last final") > 0)
		number = skip_blanks(line, final + strcspn(line + final, " "));
	/* "2nd pattern row", where a base row goes before, "2nd rib row" */
	size_t pattern = ordinal ? tb_at_word(line + number, "pattern patt rib ribbed ribbing welt lace mesh hem band border yoke body sleeve") : 0;
	number = skip_blanks(line, number + pattern);
	size_t word = tb_at_word(line + number, row_words);
	/* "2nd circle", as books put into English say */
	word = word == 0 && ordinal ? tb_at_word(line + number, "circle circles") : word;
	if (word == 0)
		return 0;
	size_t end = number + word;
	const char *behind = line + skip_blanks(line, end);
	return ordinal || *behind == ':' || g_str_has_prefix(behind, ".—") ||
		is_one_by_one(line + end - word, behind, head) ? end : 0;
}

/*
 * "2. …", "4) …", "46, 47. …", "36 to 45. …": a number alone; the whole head, or 0. Old books leave out
 * "row" behind an ordinal once it is plain, and set a dash: "4th.—…", or go on with what is worked: "2d. Chain 1, …".
 */
static size_t at_bare_row(const char *line, tb_row_head *head)
{
	size_t end = g_ascii_isdigit(*line) || *line == '#' ? at_row_list(line, 0, head) : 0;
	if (end == 0 || !tb_is_among(line[end], ".):"))
		return 0;
	/* "2. FOOT" heads a part */
	const char *name = line + skip_blanks(line, end + 1);
	if (g_ascii_isupper(name[0]) && name[strspn(name, "ABCDEFGHIJKLMNOPQRSTUVWXYZ &'")] == '\0' && strlen(name) > 2 && !tb_has_stitch(name))
		return 0;
	size_t dash = g_str_has_prefix(line + end + 1, "—") ? strlen("—") : 0;
	bool worked = line[end] == '.' && line[end + 1] == ' ' && tb_begins_act(line + end + 2);
	bool ordinal = !g_ascii_isdigit(line[end - 1]) && (dash > 0 || worked);
	if (!ordinal && (!g_ascii_isdigit(line[end - 1]) || (line[end + 1] != ' ' && line[end + 1] != '\0')))
		return 0;
	head->mark = line[end];
	head->is_bare = true;
	return end + 1 + (ordinal ? dash : 0);
}

/* "(RS)", "RS", "(sizes L and XL only)" at AT; behind them. */
static size_t skip_asides(const char *line, size_t at)
{
	while (at < LONGEST_HEAD) {
		size_t next = skip_blanks(line, at), end = 0;
		if (line[next] == '(' || line[next] == '[') {
			size_t inside = 0;
			while (inside < LONGEST_HEAD && line[next + inside] != '\0' &&
				!tb_is_among(line[next + inside], ")]"))
				inside++;
			g_autofree char *said = g_strndup(line + next, inside);
			/* "R2 [1 sc, inc] x 3" begins with what is worked */
			bool worked = tb_has_stitch(said) && strpbrk(said, ",0123456789") != NULL;
			end = !worked && inside < LONGEST_HEAD && line[next + inside] != '\0' ? next + inside + 1 : 0;
		} else {
			next = skip_blanks(line, next + (line[next] == '/' || line[next] == ','));
			size_t side = tb_at_word(line + next, "rs ws");
			end = side > 0 ? next + side : 0;
		}
		if (end == 0)
			break;
		at = end;
	}
	return at;
}

/* The mark at AT that closes a head: its bytes, or 0. */
static size_t at_mark(const char *line, size_t at, char *mark)
{
	if (line[at] == ':' || line[at] == '.' || line[at] == ')' || line[at] == '-') {
		*mark = line[at];
		return line[at] == '-' && line[at + 1] == '-' ? 2 : 1;
	}
	static const char *const signs[] = {"—", "»", "›", "→", "⇒", ">", "|", "~", ",", ";"};
	for (size_t i = 0; i < G_N_ELEMENTS(signs); i++) {
		size_t length = strlen(signs[i]);
		/* what stands behind a comma may tell more about the row, "Row 5, RS:" */
		if (!g_str_has_prefix(line + at, signs[i]) || (tb_is_among(*signs[i], ",;") &&
				!tb_begins_act(line + skip_blanks(line, at + length))))
			continue;
		*mark = '-';
		return length;
	}
	return 0;
}

/* "Row", or "Rnd" right before its number, "Rnd4:". */
static size_t at_row_word(const char *line)
{
	static const char *const words[] = {"rows", "row", "rnds", "rnd", "rounds", "round", "rd"};
	size_t word = tb_at_word(line, row_words);
	for (size_t i = 0; word == 0 && i < G_N_ELEMENTS(words); i++) {
		size_t length = strlen(words[i]);
		if (g_ascii_strncasecmp(line, words[i], length) == 0 && g_ascii_isdigit(line[length]))
			word = length;
	}
	return word;
}

/* "A" in "Row A:", "A and B" in "Rounds A and B:", from AT on; behind it, or 0. */
static size_t at_row_letter(const char *line, size_t at, tb_row_head *head)
{
	if (line[at] < 'A' || line[at] > 'F' || g_ascii_isalnum(line[at + 1]))
		return 0;
	head->first = head->last = (unsigned)(line[at] - 'A') + 1;
	size_t next = skip_blanks(line, at + 1), joined = tb_at_word(line + next, "and to &");
	joined = joined > 0 ? skip_blanks(line, next + joined) : line[next] == '-' ? next + 1 : 0;
	if (joined > 0 && line[joined] > line[at] && line[joined] <= 'F' && !g_ascii_isalnum(line[joined + 1])) {
		head->last = (unsigned)(line[joined] - 'A') + 1;
		at = joined;
	}
	/* "Row A: …", "Round A (RS). …" */
	size_t mark = skip_blanks(line, at + 1);
	return tb_is_among(line[mark], ":.)(") ? at + 1 : 0;
}

/* "Rib 1: …", "Step 2: …", "Neck 2 - 6: …": what stands for the word row; behind the number, or 0. */
static size_t at_series_row(const char *line, tb_row_head *head)
{
	size_t name = tb_at_word(line, "rib ribbing welt waistband hem cuff band neckband collar edging border trim yoke neck step shaping "
		"shoulder armhole gusset brim crown");
	size_t number = skip_blanks(line, name), end = 0;
	if (name == 0 || !g_ascii_isdigit(line[number]))
		return 0;
	end = at_row_list(line, number, head);
	size_t mark = skip_blanks(line, end);
	return end > 0 && line[mark] == ':' && tb_begins_act(line + skip_blanks(line, mark + 1)) ? end : 0;
}

/* "Row 5", "Rows 5-8", "Round Four", "R5" or "2nd row" at the beginning; behind it, or 0. */
static size_t at_numbered_row(const char *line, tb_row_head *head)
{
	size_t end = at_short_row(line, head);
	end = end > 0 ? end : at_coded_row(line, head);
	/* "Pattern row 3:", "Rib rows 2-8:" */
	size_t pattern = skip_blanks(line, tb_at_word(line, "pattern patt rib ribbed ribbing welt waistband hem cuff band neckband collar "
		"edging border trim yoke body sleeve hood brim crown neck shoulder armhole front gusset"));
	size_t word = at_row_word(line + pattern);
	word += word > 0 ? pattern : 0;
	if (end == 0 && word > 0) {
		word += line[word] == '.';
		end = at_row_list(line, skip_blanks(line, word), head);
	}
	if (end == 0 && word > 0)
		end = at_row_letter(line, skip_blanks(line, word), head);
	if (end == 0)
		end = at_series_row(line, head);
	if (end == 0)
		end = at_ordinal_row(line, head);
	return end > 0 ? skip_others(line, end) : 0;
}

/* "For rnd 3, sc …", "On row 4: …", "Now round 5: …": what leads to a row's number; its bytes. */
static size_t skip_lead(const char *line)
{
	size_t lead = tb_at_word(line, "for from on in now then over");
	if (lead == 0)
		return 0;
	lead = skip_blanks(line, lead + (line[lead] == ','));
	return at_row_word(line + lead) > 0 ? lead : 0;
}

/* What leads to a row's number must be parted from what is worked: "In row 3 ch 3 counts" tells of one. */
static bool is_led_head(const char *line, size_t lead, tb_row_head *head)
{
	size_t at = lead > 0 ? at_numbered_row(line + lead, head) : 0;
	if (at == 0)
		return false;
	at = skip_asides(line, lead + at);
	at = skip_blanks(line, at);
	size_t mark = at_mark(line, at, &head->mark);
	head->length = at + mark;
	/* "For rounds 4-9 make 1 sc in each st": several rows are told of in no other way */
	if (mark == 0 && head->last > head->first && tb_at_word(line, "for") > 0)
		return tb_begins_act(line + at) || tb_at_word(line + at, "make you just") > 0;
	return mark > 0 && line[at] != '.' && line[at] != ')';
}

/* "(Rounds 4-9) sc in each st" */
static bool is_bracketed(const char *line, tb_row_head *head)
{
	size_t at = *line == '(' && at_row_word(line + 1) > 0 ? at_numbered_row(line + 1, head) : 0;
	head->mark = ')';
	head->length = at + 2;
	return at > 0 && line[at + 1] == ')';
}

/* "Row 12: sc", as most rows begin: nothing else is looked for there. */
static bool is_plain_head(const char *line, tb_row_head *head)
{
	char first = *line;
	if (first != 'R' && first != 'r')
		return false;
	size_t word = at_row_word(line), number = word + 1, figures = 0;
	if (word == 0 || line[word] != ' ')
		return false;
	unsigned value = 0;
	while (figures < 6 && g_ascii_isdigit(line[number + figures]))
		value = value * 10 + (unsigned)(line[number + figures++] - '0');
	const char *behind = line + number + figures;
	if (figures == 0 || behind[0] != ':' || behind[1] != ' ' || !g_ascii_isalpha(behind[2]))
		return false;
	*head = (tb_row_head){.first = value, .last = value, .mark = ':', .length = number + figures + 1};
	return true;
}

bool tb_is_row_head(const char *line, tb_row_head *head)
{
	if (is_plain_head(line, head))
		return true;
	*head = (tb_row_head){0};
	bool sure = true;
	if (is_led_head(line, skip_lead(line), head))
		return true;
	*head = (tb_row_head){0};
	if (is_bracketed(line, head))
		return true;
	*head = (tb_row_head){0};
	size_t at = at_numbered_row(line, head);
	if (at == 0) {
		head->first = head->last = 0;
		head->length = at_bare_row(line, head);
		if (head->length > 0)
			return true;
		at = at_named_row(line, &sure);
		head->is_named = at > 0;
	}
	if (at == 0)
		return false;
	at = skip_asides(line, at);
	if (!head->is_named)
		at = skip_words(line, at);
	at = skip_blanks(line, at);
	size_t mark = at_mark(line, at, &head->mark);
	head->length = at + mark;
	if (head->is_named && !sure)
		return head->mark == ':';
	/* "Row 1 is sc in the 2nd ch": what is worked is told in a sentence */
	size_t is = mark == 0 && !head->is_named ? tb_at_word(line + at, "is are goes") : 0;
	if (is > 0 && tb_begins_act(line + skip_blanks(line, at + is)))
		head->length = skip_blanks(line, at + is);
	if (is > 0)
		return head->length > at;
	/* "Rows 3-6 form the pattern." tells about rows; "ROW 7 Ch 1" is one. */
	return mark > 0 || (line[at] == '\0' && !head->is_named) || tb_begins_act(line + at);
}

bool tb_row_comes_next(const char *row, const tb_row_head *next)
{
	tb_row_head own;
	return !next->is_bare && !next->is_named && next->mark != '\0' && tb_is_row_head(row, &own) && own.last > 0 &&
		next->first == own.last + 1;
}
