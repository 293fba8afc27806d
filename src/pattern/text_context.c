/* Whether a line goes on with what came before it. */
#include "pattern/text_reader.h"

#include "stitches/stitch.h"
#include "support/limits.h"

#include <string.h>

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
	/* "(+2)" */
	gsize figure = at + (at > 0 && tb_is_among(text->str[at], "+-"));
	return at > 0 && g_ascii_isdigit(text->str[figure]);
}

/* "one row of dc all round neck" */
static bool names_one_row(const char *text)
{
	text += strspn(text, " ");
	size_t one = tb_at_word(text, "one 1 a another");
	return one > 0 && tb_at_word(text + one + strspn(text + one, " "), "row rnd round") > 0;
}

/* Whether a line may go on with a row: it begins small, with a sign, or with what is worked. */
static bool begins_act(const tb_text_reader *reader, const char *line)
{
	/* "18 (18, 20) more rows dc": rows of their own */
	size_t many = strspn(line, "0123456789"), figures = many > 0 ? strspn(line + many, " ()[]0123456789,:;/-") : 0;
	size_t more = tb_at_word(line + many + figures, "more further plain even straight"), rows = many + figures + more;
	if (many > 0 && tb_at_word(line + rows + strspn(line + rows, " "), "rows rnds rounds") > 0)
		return false;
	/* "(Remember to breathe.)" is a remark, "(83 sts)" is not. */
	line += *line == '(' || *line == '[';
	size_t work = tb_at_word(line, "work");
	size_t sentence = strcspn(line, ".;");
	/* "Work in sc until piece measures 10 cm", "Work 8 rounds in sc": rows of their own */
	if (work > 0 && (tb_at_word(line + work + strspn(line + work, " "), "even straight as until same without") > 0 ||
			tb_find_words(line, sentence, "rows rnds rounds measures measure") < sentence || names_one_row(line + work)))
		return false;
	/* "Working new sts into the pattern, inc 1 st at each end of every 4th row" */
	if (tb_at_word(line, "working keeping taking bringing maintaining incorporating continuing") > 0 &&
		tb_find_words(line, sentence, "every following foll alternate alt") < sentence &&
		tb_find_words(line, sentence, "row rows rnd rnds round rounds") < sentence)
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

/* "… 9 dc. Fasten off." */
static bool ends_fastened(const GString *row)
{
	static const char *const words[] = {"fasten off", "fastened off", "finish off", "cut yarn", "break yarn", "break off", "fo"};
	gsize end = row->len;
	while (end > 0 && tb_is_among(row->str[end - 1], ".! "))
		end--;
	for (size_t i = 0; i < G_N_ELEMENTS(words); i++) {
		gsize length = strlen(words[i]);
		if (length < end && g_ascii_strncasecmp(row->str + end - length, words[i], length) == 0 &&
			!g_ascii_isalnum(row->str[end - length - 1]))
			return true;
	}
	return false;
}

/* Where the first clause of LINE ends; "24 [26:28:30]" are figures. */
static size_t find_stop(const char *line)
{
	size_t at = strcspn(line, ".;:");
	while (at > 0 && line[at] != '\0' && line[at] != ';' && g_ascii_isdigit(line[at - 1]) && g_ascii_isdigit(line[at + 1]))
		at += 1 + strcspn(line + at + 1, ".;:");
	return at;
}

/* "With RS facing, skip center 10 dc, join yarn in next dc, ch 3, dc in each dc to end." */
static bool begins_other_side(const GString *row, const char *line)
{
	size_t end = strlen(line), join = tb_find_words(line, end, "join rejoin attach reattach");
	bool leads = tb_at_word(line, "with rejoin reattach skip sk miss") > 0;
	return (leads || ends_fastened(row)) && join < end && find_stop(line) > join && tb_has_stitch(line + join);
}

/* Whether prose goes on with the row, nothing but a line break or BLANK lines between. */
static bool prose_continues(const tb_text_reader *reader, const char *line, bool blank)
{
	const GString *row = reader->gathered.chars;
	bool small = g_unichar_islower(g_utf8_get_char(line));
	if (tb_is_footer(line) || is_not_stuffed(line) || (tb_skip_hook(line) > 0 && !ends_open(row)))
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
	if ((tb_tells_all_rows(line) && g_unichar_isupper(g_utf8_get_char(line))) || tb_text_is_own_sizes(reader, i))
		return false;
	if (!blank && reader->looks[i].kind != TB_LINE_ROW && is_of_a_size(row, line))
		return true;
	if (ends_sentence(row) && (tb_begins_border(line) || begins_other_side(row, line)))
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
	if (!named && ends_sentence(so_far) && (tb_text_counts(line) || (!small && is_beside_making(line))))
		return false;
	return kind == TB_LINE_PROSE || kind == TB_LINE_AGAIN ||
		(kind == TB_LINE_LIKE && !reader->has_heading);
}
