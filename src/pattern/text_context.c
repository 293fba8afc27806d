/* What a line is where it stands: whether it goes on with what came before, or begins something. */
#include "pattern/text_reader.h"

#include "stitches/stitch.h"
#include "support/limits.h"

#include <string.h>

static bool is_work(tb_line_kind kind)
{
	return kind == TB_LINE_ROW || kind == TB_LINE_AGAIN || kind == TB_LINE_START ||
		kind == TB_LINE_FROM || kind == TB_LINE_ONLY || kind == TB_LINE_LIKE ||
		kind == TB_LINE_LABELLED;
}

static bool is_said(tb_line_kind kind)
{
	return kind == TB_LINE_BLANK || kind == TB_LINE_PROSE || kind == TB_LINE_DEFINITION;
}

/* "Chain 3 counts as dc throughout." is said about rows; "the chain is not twisted" is not. */
static bool counts_something(const char *line)
{
	static const char *const nots[] = {" does not ", " is not "};
	for (size_t i = 0; i < G_N_ELEMENTS(nots); i++) {
		const char *at = strstr(line, nots[i]);
		if (at != NULL && tb_at_word(at + strlen(nots[i]), "twist twisted bent") == 0)
			return true;
	}
	const char *count = strstr(line, " count"), *ring = strstr(line, " ring"), *loop = strstr(line, " loop");
	/* "Magic loop and chain 1 (does not count as a st)" begins one */
	if (count != NULL && ((ring != NULL && ring < count) || (loop != NULL && loop < count)))
		return false;
	return count != NULL || strstr(line, " = not") != NULL;
}

/* Whether a piece, or a part of one, begins on line I: "Ch 40.", "Row 1: …", "Next row: …". */
static bool begins_part(const tb_text_reader *reader, guint i)
{
	tb_row_head head;
	if (i == reader->count)
		return false;
	const char *line = tb_text_line(reader, i);
	tb_line_kind kind = reader->looks[i].kind;
	if (kind == TB_LINE_START)
		return !counts_something(line);
	if (kind == TB_LINE_ROW)
		return tb_is_row_head(line, &head) && (head.is_named || head.first <= 1);
	return kind == TB_LINE_FROM || kind == TB_LINE_LIKE;
}

/* "Yoke" between blank lines, above "Row 15: …": a name of few words, and rows that count on. */
static bool is_over_later_rows(const tb_text_reader *reader, guint i)
{
	const char *line = tb_text_line(reader, i);
	guint next = reader->looks[i].next;
	tb_row_head head;
	unsigned blanks = 0;
	for (const char *at = line; *at != '\0'; at++)
		blanks += *at == ' ';
	return blanks < 3 && g_unichar_isupper(g_utf8_get_char(line)) && next < reader->count &&
		reader->looks[next].kind == TB_LINE_ROW && tb_is_row_head(tb_text_line(reader, next), &head) &&
		!head.is_bare;
}

/* "…, join. (36)", "… to end. 36 sts" */
static bool ends_row(const char *line)
{
	size_t length = strlen(line), word = length;
	if (tb_is_among(line[length - 1], ".)]!"))
		return true;
	while (word > 0 && line[word - 1] != ' ')
		word--;
	return word > 1 && g_ascii_isdigit(line[word - 2]) && tb_has_stitch(line + word);
}

/* "Band" right between "…, join. (36)" and "Round 8: …": a name alone, and no words of the row above. */
static bool is_between_rows(const tb_text_reader *reader, guint i)
{
	const char *line = tb_text_line(reader, i), *before = i > 0 ? tb_text_line(reader, i - 1) : "";
	size_t length = strlen(before);
	tb_row_head head;
	if (length == 0 || !(ends_row(before) || (tb_may_be_plain_heading(before) && tb_goes_on(before))) || !is_over_later_rows(reader, i) ||
		reader->looks[i].next != i + 1 || !tb_is_row_head(tb_text_line(reader, i + 1), &head) || head.first < 2)
		return false;
	const char *second = line + strcspn(line, " ");
	return *second == '\0' || g_ascii_isdigit(second[1]) || tb_at_word(second + 1, "band section part shaping edge brim body crown front back side shoulder "
		"half strap sleeve armhole flap earflap hole opening handle gusset ribbing cuff toe heel foot leg hem yoke neck pocket "
		"panel lobe hump bump peak") > 0;
}

/* "Hand" above "Starting at the fingertips and working in a spiral:", and rows below: a name, and how it is worked. */
static bool is_over_sentence(const tb_text_reader *reader, guint i)
{
	const char *line = tb_text_line(reader, i);
	guint next = reader->looks[i].next, before = i;
	unsigned blanks = 0;
	for (const char *at = line; *at != '\0'; at++)
		blanks += *at == ' ';
	while (before > 0 && *tb_text_line(reader, before - 1) == '\0')
		before--;
	/* the first line of all is the pattern's title */
	if (blanks > 2 || before == 0 || next != i + 1 || next == reader->count ||
		reader->looks[next].kind != TB_LINE_PROSE || !g_unichar_isupper(g_utf8_get_char(line)))
		return false;
	const char *sentence = tb_text_line(reader, next);
	bool told = tb_at_word(sentence, "starting beginning start begin worked work working crochet crocheted made from") > 0 &&
		!tb_has_stitch(sentence);
	return (told || tb_leads_in(sentence)) && begins_part(reader, reader->looks[next].next);
}

/* "Body" above "Rnd 1: …", "3. Ears" above "Ch 4". */
static bool is_plain_heading(const tb_text_reader *reader, guint i)
{
	const tb_look *look = &reader->looks[i];
	const char *line = tb_text_line(reader, i);
	tb_row_head head;
	bool may = look->kind == TB_LINE_PROSE ||
		(look->kind == TB_LINE_ROW && tb_is_row_head(line, &head) && head.is_bare);
	if (!may || tb_lines_get(reader->lines, i)->listed || !tb_may_be_plain_heading(line))
		return false;
	/* The last words of a wrapped row begin small as well. */
	bool parted = i == 0 || *tb_text_line(reader, i - 1) == '\0';
	if (g_unichar_islower(g_utf8_get_char(line)) && !parted)
		return false;
	/* "Back" over "Ribbing" */
	bool over = i > 0 && look->next == i + 1 && reader->looks[i + 1].plain && parted;
	guint next = look->next;
	if (next < reader->count && tb_find_make(tb_text_line(reader, next)) > 0)
		next = reader->looks[next].next;
	return begins_part(reader, next) || over || (parted && is_over_later_rows(reader, i)) ||
		is_between_rows(reader, i) ||
		(parted && is_over_sentence(reader, i)) || (look->worked && tb_goes_on(line));
}

/* From the last line to the first, so that each knows what comes after it. */
void tb_text_look(tb_text_reader *reader)
{
	tb_look *looks = reader->looks;
	guint next = reader->count, work = reader->count;
	bool follows = false;
	for (guint i = reader->count; i-- > 0;) {
		const char *line = tb_text_line(reader, i);
		tb_look *look = &looks[i];
		*look = (tb_look){.kind = tb_line_find_kind(line), .next = next, .work = work};
		look->worked = follows;
		look->plain = is_plain_heading(reader, i);
		bool strong = look->kind == TB_LINE_PROSE && tb_lines_get(reader->lines, i)->strong &&
			tb_may_be_plain_heading(line);
		if (look->plain || strong)
			look->kind = tb_is_neutral(line) ? TB_LINE_NEUTRAL : TB_LINE_HEADING;
		look->direct = look->plain || (look->kind == TB_LINE_HEADING &&
			tb_may_be_plain_heading(line) && begins_part(reader, next));
		/* A heading over a heading stands over the same rows. */
		if (look->kind == TB_LINE_HEADING && next < reader->count &&
			looks[next].kind == TB_LINE_HEADING)
			look->worked = looks[next].worked;
		if ((look->kind == TB_LINE_START || look->kind == TB_LINE_LABELLED) && reader->last_start == 0)
			reader->last_start = i;
		if (is_work(look->kind) && !(look->kind == TB_LINE_START && counts_something(line)))
			follows = true;
		tb_section section;
		/* "Note: …" on a line of its own parts nothing. */
		bool alone = look->kind == TB_LINE_SECTION &&
			line[tb_find_section(line, &section)] == '\0';
		if (look->kind == TB_LINE_HEADING || look->kind == TB_LINE_NEUTRAL || alone)
			follows = false;
		if (look->kind != TB_LINE_BLANK)
			next = i;
		if (!is_said(look->kind))
			work = i;
	}
}

/* "Ch 50 for the tie, fasten off.": behind rows a chain that ends there begins nothing. */
static bool is_cord(const tb_text_reader *reader, guint i)
{
	const char *line = tb_text_line(reader, i);
	bool begun = reader->piece != NULL && !reader->has_heading && reader->section == TB_SECTION_NONE && reader->piece->rows->len > 0;
	bool purpose = strstr(line, " for ") != NULL || strstr(line, " as ") != NULL || strstr(line, " to make ") != NULL;
	return begun && purpose && strstr(line, "asten off") != NULL && !tb_start_has_row(line);
}

/* A start stands before a row, in a piece, or under a heading. */
bool tb_text_is_start(const tb_text_reader *reader, guint i)
{
	const tb_look *look = &reader->looks[i];
	if (counts_something(tb_text_line(reader, i)) || is_cord(reader, i))
		return false;
	if (reader->has_heading || (reader->piece != NULL && reader->section == TB_SECTION_NONE))
		return true;
	/* "Ch 10. Row 1: …": the rows stand in the same line */
	if (tb_start_has_row(tb_text_line(reader, i)))
		return true;
	if (look->work == reader->count)
		return false;
	tb_line_kind kind = reader->looks[look->work].kind;
	return kind == TB_LINE_ROW || (kind == TB_LINE_START && reader->section == TB_SECTION_NONE);
}

static char last_char(const GString *text)
{
	return text->len > 0 ? text->str[text->len - 1] : '\0';
}

static bool ends_sentence(const GString *text)
{
	return text->len > 0 && tb_is_among(last_char(text), ".])!?");
}

/* "– 26 sts each": a count of several rows, and its end. */
static bool ends_counts(const GString *text)
{
	static const char *const ends[] = {" sts each", " stitches each", " sc each", " dc each", " hdc each", " tr each",
		" htr each"};
	for (size_t i = 0; i < G_N_ELEMENTS(ends); i++) {
		size_t length = strlen(ends[i]);
		if (text->len > length && strcmp(text->str + text->len - length, ends[i]) == 0)
			return g_ascii_isdigit(text->str[text->len - length - 1]);
	}
	return false;
}

/* "29 ch", "32 (38) ch", the chain at AT: nothing belongs to it that is still to come. */
static bool is_counted_chain(const GString *text, gsize at)
{
	return at > 1 && tb_at_word(text->str + at, "ch") > 0 &&
		(g_ascii_isdigit(text->str[at - 2]) || tb_is_among(text->str[at - 2], ")]"));
}

/* "ending with", "Rep Rows", "dc in next st,": the line break fell before what belongs to it. */
static bool ends_open(const GString *text)
{
	if (last_char(text) == ',' || last_char(text) == ';' || last_char(text) == '(')
		return true;
	if (ends_counts(text))
		return false;
	const char *word = text->str + text->len;
	while (word > text->str && word[-1] != ' ' && text->len - (gsize)(word - text->str) < 10)
		word--;
	size_t known = tb_at_word(word, "with after rep repeat and to through in of as like from for "
								"until ending than row rows rnd rnds round rounds or before next each the "
								"not do last first into around over ch sk skip a");
	return known > 0 && word[known] == '\0' && !is_counted_chain(text, (gsize)(word - text->str));
}

/* "(14 sts)", "[9 sc]": a count, and nothing else. */
static bool is_claim(const char *line)
{
	if ((*line != '(' && *line != '[') || !g_ascii_isdigit(line[1]))
		return false;
	size_t length = strlen(line);
	length -= length > 0 && line[length - 1] == '.';
	return length < 60 && (line[length - 1] == ')' || line[length - 1] == ']');
}

bool tb_text_ends_in_figure(const GString *text)
{
	gsize at = text->len;
	while (at > 0 && g_ascii_isdigit(text->str[at - 1]))
		at--;
	return at > 2 && at < text->len && text->str[at - 1] == ' ' && tb_is_among(text->str[at - 2], ".,;:-=");
}

/* "Sl st in next st, fasten off.": the last round of a spiral is closed, and no row begun. */
static bool closes_spiral(const char *line)
{
	size_t slip = tb_at_word(line, "slip sl ss slst");
	if (slip == 0)
		return false;
	/* "Sl st in next sc. Stuff and sew."; "Slip stitch into the next single crochet" is as long as that is said */
	size_t sentence = strcspn(line, ".,;:*([0123456789");
	if (sentence < 44 && (line[sentence] == '.' || line[sentence] == '\0'))
		return true;
	g_autofree char *lower = g_ascii_strdown(line, -1);
	static const char *const words[] = {"fasten off", "finish off", "break off", "cut off", "cut ", "break ", "fo"};
	for (size_t i = 0; i < G_N_ELEMENTS(words); i++) {
		if (strstr(lower, words[i]) != NULL)
			return true;
	}
	return false;
}

/* "… (14 sts)": the row has its count, and ends. */
static bool ends_claimed(const GString *text)
{
	gsize at = text->len;
	if (tb_text_ends_in_figure(text))
		return true;
	if (at == 0 || (text->str[at - 1] != ')' && text->str[at - 1] != ']'))
		return false;
	while (at > 0 && text->str[at - 1] != '(' && text->str[at - 1] != '[')
		at--;
	return at > 0 && g_ascii_isdigit(text->str[at]);
}

/* Whether a line may go on with a row: it begins small, with a sign, or with what is worked. */
static bool begins_act(const tb_text_reader *reader, const char *line)
{
	/* "(Remember to breathe.)" is a remark, "(83 sts)" is not. */
	line += *line == '(' || *line == '[';
	size_t work = tb_at_word(line, "work");
	size_t sentence = strcspn(line, ".;");
	/* "Work in sc until piece measures 10 cm", "Work 8 rounds in sc": rows of their own */
	if (work > 0 && (tb_at_word(line + work + strspn(line + work, " "), "even straight as until same without") > 0 ||
			tb_find_words(line, sentence, "rows rnds rounds measures measure") < sentence))
		return false;
	/* "Close them to a ring with 1 slip stitch" */
	if (tb_at_word(line, "close connect form unite tie bring") > 0 && tb_find_words(line, sentence, "ring circle round tube loop") < sentence)
		return true;
	if (!g_unichar_isupper(g_utf8_get_char(line)) ||
		tb_at_word(line, "fasten finish turn join do sk skip miss leave ch chain rep repeat work "
				"working size sizes for with then cut end last next in all *") > 0)
		return true;
	size_t length = strspn(line, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789");
	const tb_library *library = reader->pattern->library;
	for (unsigned words = 0; words < 3 && length <= 60; words++) {
		g_autofree char *name = g_strndup(line, length);
		if (tb_library_find_term(library, name, reader->pattern->uk_terms) != NULL)
			return true;
		if (line[length] != ' ')
			break;
		length += 1 + strcspn(line + length + 1, " ,.;:");
	}
	return false;
}

/* "Row 5", "Rnd 3:" and nothing more: what is worked stands below. */
static bool is_only_head(const GString *row)
{
	tb_row_head head;
	return row->len < 40 && tb_is_row_head(row->str, &head) && head.length >= row->len;
}

/* "Do not stuff. Flatten the ear and sc 4 through both layers": that begins what comes behind the row. */
static bool is_not_stuffed(const char *line)
{
	size_t not = tb_at_word(line, "don't don’t dont");
	if (not == 0 && tb_at_word(line, "do") > 0)
		not = 2 + strspn(line + 2, " ") + tb_at_word(line + 2 + strspn(line + 2, " "), "not");
	return not > 0 && tb_at_word(line + not + strspn(line + not, " "), "stuff fill sew close") > 0;
}

/* Whether prose goes on with the row, nothing but a line break or BLANK lines between. */
static bool prose_continues(const tb_text_reader *reader, const char *line, bool blank)
{
	const GString *row = reader->gathered.chars;
	bool small = g_unichar_islower(g_utf8_get_char(line));
	if (tb_is_footer(line) || is_not_stuffed(line))
		return false;
	if (is_only_head(row))
		return true;
	if (is_claim(line))
		return !ends_claimed(row);
	if (blank)
		return ends_open(row) && small;
	if (ends_claimed(row))
		return small || tb_at_word(line, "turn do") > 0 || closes_spiral(line);
	if (ends_open(row))
		return true;
	return ends_sentence(row) ? begins_act(reader, line) : small || begins_act(reader, line);
}

/*
 * "Rnd 5:" and below it "Small: sc around." and "Medium and Large: (sc 3, inc) x 6.": how each size works
 * it. Whether those are sizes, the row language says.
 */
static bool is_of_a_size(const GString *row, const char *line)
{
	tb_row_head head;
	size_t behind = tb_is_row_head(row->str, &head) && head.mark != 0 ? head.length : row->len;
	behind += strspn(row->str + behind, " ");
	return tb_find_size_head(line) > 0 && !head.is_bare &&
		(is_only_head(row) || (behind < row->len && tb_find_size_head(row->str + behind) > 0));
}

/* Whether line I, with nothing or only blank lines between, goes on with the row that is open. */
bool tb_text_continues_row(const tb_text_reader *reader, guint i)
{
	const GString *row = reader->gathered.chars;
	const char *line = tb_text_line(reader, i);
	bool blank = i > 0 && reader->looks[i - 1].kind == TB_LINE_BLANK;
	tb_row_head head;
	char last = last_char(row);
	if ((tb_tells_counting(line) && g_unichar_isupper(g_utf8_get_char(line))) || tb_text_is_own_sizes(reader, i))
		return false;
	if (!blank && reader->looks[i].kind != TB_LINE_ROW && is_of_a_size(row, line))
		return true;
	if (ends_sentence(row) && tb_begins_border(line))
		return false;
	switch (reader->looks[i].kind) {
	case TB_LINE_ROW:
		if (blank || !tb_is_row_head(line, &head) || tb_row_comes_next(row->str, &head))
			return false;
		/* "Rep rows 2 and\n3." */
		return (last != ';' && last != ',' && ends_open(row)) || (last == ',' && head.mark != ':');
	case TB_LINE_AGAIN:
		return !blank && (ends_open(row) || last == ':');
	case TB_LINE_FINISH:
	case TB_LINE_FROM:
	case TB_LINE_ONLY:
	case TB_LINE_HEADING:
	case TB_LINE_LIKE:
		return !blank && ends_open(row);
	case TB_LINE_START:
		if (blank || g_unichar_islower(g_utf8_get_char(line)))
			return !blank;
		/* "(12 sts)" and, below it, "Ch 1, turn." */
		if (ends_claimed(row) && strlen(line) < 20 && strstr(line, "turn") != NULL)
			return true;
		return !ends_sentence(row) || (reader->open == TB_OPEN_ROW && !ends_claimed(row) &&
			tb_at_word(row->str, "rep repeat") == 0);
	case TB_LINE_PROSE:
		return prose_continues(reader, line, blank);
	default:
		return false;
	}
}

/* A value goes on below when it has not begun, is set in, or is one that takes sentences. */
bool tb_text_continues_field(const tb_text_reader *reader, guint i)
{
	bool empty = reader->gathered.chars->len == 0;
	const char *line = tb_text_line(reader, i);
	const tb_look *look = &reader->looks[i];
	if (reader->field == TB_FIELD_SIZES && (empty || tb_text_tells_size(reader->gathered.chars->str)) && tb_text_tells_size(line))
		return true;
	/* "XS (S, M)" has no small letter, like a heading. */
	if (look->kind == TB_LINE_HEADING)
		return empty && reader->field == TB_FIELD_SIZES && !look->plain &&
			strpbrk(line, "(,[/") != NULL && strstr(line, "MAKE") == NULL;
	if (look->kind != TB_LINE_PROSE && !(look->kind == TB_LINE_DEFINITION && empty))
		return false;
	return empty || tb_lines_get(reader->lines, i)->indented ||
		reader->field == TB_FIELD_ABOUT || reader->field == TB_FIELD_YARN ||
		reader->field == TB_FIELD_LICENCE || last_char(reader->gathered.chars) == ',' ||
		(reader->field == TB_FIELD_GAUGE && g_unichar_islower(g_utf8_get_char(line)));
}

bool tb_text_continues_remark(const tb_text_reader *reader, guint i)
{
	tb_line_kind kind = reader->looks[i].kind;
	const char *line = tb_text_line(reader, i);
	bool small = g_unichar_islower(g_utf8_get_char(line));
	if (tb_lines_get(reader->lines, i)->listed ||
		reader->gathered.chars->len > TB_LIMIT_LINE_BYTES)
		return false;
	if (kind == TB_LINE_PROSE || kind == TB_LINE_AGAIN || kind == TB_LINE_FINISH)
		return small || !ends_sentence(reader->gathered.chars);
	return kind == TB_LINE_START && (small || ends_open(reader->gathered.chars)) &&
		!tb_text_is_start(reader, i);
}

/* Whether a sentence behind what tells of a stitch says no more of it: another is told of, or none. */
static bool is_beside_making(const char *line)
{
	static const char making[] = "hook loop loops insert draw pull yarn st sts stitch stitches space repeat rep made make "
		"work worked times it this these push";
	tb_told told;
	if (tb_told_find(line, false, &told) && told.by_words)
		return true;
	return !tb_has_stitch(line) && tb_find_words(line, strlen(line), making) == strlen(line);
}

/* "ch 14", a line of no more than that, and longer than what a stitch ends with: the work begins here. */
static bool is_foundation(const char *line)
{
	size_t word = tb_at_word(line, "ch chain"), at = word + strspn(line + word, " ");
	size_t figures = strspn(line + at, "0123456789"), end = at + figures + strspn(line + at + figures, " .");
	return word > 0 && line[end] == '\0' && (figures > 1 || (figures == 1 && line[at] > '5'));
}

bool tb_text_continues_definition(tb_text_reader *reader, guint i)
{
	tb_line_kind kind = reader->looks[i].kind;
	const char *line = tb_text_line(reader, i);
	const GString *so_far = reader->gathered.chars;
	bool small = g_unichar_islower(g_utf8_get_char(line));
	if (so_far->len > TB_LIMIT_LINE_BYTES)
		return false;
	/* Only the name stood on the line above. */
	bool named = tb_find_body(so_far->str, reader->section == TB_SECTION_DEFINITIONS) == 0;
	if (tb_lines_get(reader->lines, i)->listed && !named)
		return false;
	/* the next name stands on a line of its own */
	if (!named && !small && ends_sentence(so_far) && strlen(line) <= 40 && strpbrk(line, ".!?,;0123456789") == NULL &&
		tb_text_names_stitch(reader, line, strlen(line)))
		return false;
	if (tb_find_body(line, reader->section == TB_SECTION_DEFINITIONS) > 0)
		return named || (so_far->len > 40 && !ends_sentence(so_far) && small && !tb_is_among(so_far->str[so_far->len - 1], "|=") &&
			(strchr(line, '=') == NULL || tb_find_body(line, false) == 0));
	if (kind == TB_LINE_START && is_foundation(line) && tb_text_is_start(reader, i))
		return false;
	if (kind == TB_LINE_START)
		return small || named || (!ends_sentence(so_far) && !tb_text_is_start(reader, i));
	if (!named && ends_sentence(so_far) && (counts_something(line) || (!small && is_beside_making(line))))
		return false;
	return kind == TB_LINE_PROSE || kind == TB_LINE_AGAIN ||
		(kind == TB_LINE_LIKE && !reader->has_heading);
}
