/* What each line is among the others: headings over rows, starts, and what else comes next. */
#include "pattern/text_reader.h"

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
bool tb_text_counts(const char *line)
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
	/* "Ch 22. Dc in 4th ch from hook (skipped chs count as dc)" */
	const char *hook = strstr(line, " hook");
	if (count != NULL && hook != NULL && hook < count && tb_start_works_row(line))
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
	if (tb_find_all_row(line) > 0)
		return tb_is_row_head(line + tb_find_all_row(line), &head) && (head.is_named || head.first <= 1);
	if (kind == TB_LINE_START)
		return !tb_text_counts(line);
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

/* "…, join. (36)", "… to end. 36 sts", "… to end. 36 (40) sts" */
static bool ends_row(const char *line)
{
	size_t length = strlen(line), word = length;
	if (tb_is_among(line[length - 1], ".)]!"))
		return true;
	while (word > 0 && line[word - 1] != ' ')
		word--;
	bool bracket = word > 2 && line[word - 2] == ')';
	return word > 1 && g_ascii_isdigit(line[word - 2 - bracket]) && tb_has_stitch(line + word);
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
	bool told = tb_at_word(sentence, "starting beginning start begin worked work working crochet crocheted made from join sew seam "
		"with attach rejoin block once after before") > 0 && !tb_has_stitch(sentence);
	return (told || tb_leads_in(sentence)) && begins_part(reader, reader->looks[next].next);
}

/* "Work even until 18 rnds are finished", "Continue straight for 12 rows" */
static bool goes_on_so(const char *line)
{
	size_t end = strcspn(line, ".;:");
	/* "Next 4 (4, 5) rnds: …" */
	if (tb_at_word(line, "next") > 0)
		return line[end] == ':' && tb_find_words(line, end, "row rows rnd rnds round rounds") < end;
	return tb_at_word(line, "work continue cont keep") > 0 && tb_find_words(line, end, "even straight") < end;
}

/* "Join yarn at the gap. Rnd 1: …": yarn is joined in a sentence of its own. */
static bool leads_in_first(const char *line)
{
	const char *stop = strstr(line, ". ");
	g_autofree char *first = g_strndup(line, stop != NULL ? (gsize)(stop + 1 - line) : strlen(line));
	return tb_leads_in(first);
}

bool tb_text_is_over_rows_again(const tb_text_reader *reader, guint i)
{
	const char *line = tb_text_line(reader, i), *last = strrchr(line, ' ');
	guint next = reader->looks[i].next;
	static const char parts[] = "body brim hand thumb top crown cuff yoke leg foot heel toe sole gusset sleeve sleeves neck collar hood hem "
		"waist skirt bodice palm wrist head tail ear ears";
	last = last != NULL ? last + 1 : line;
	tb_row_head head;
	bool again = next == i + 1 && next < reader->count && (reader->looks[next].kind == TB_LINE_AGAIN ||
		(reader->looks[next].kind == TB_LINE_ROW && tb_is_row_head(tb_text_line(reader, next), &head) && head.first == 0) ||
		(reader->looks[next].kind == TB_LINE_PROSE && (leads_in_first(tb_text_line(reader, next)) || goes_on_so(tb_text_line(reader, next)))));
	return again && g_unichar_isupper(g_utf8_get_char(line)) && tb_at_word(last, parts) == strlen(last);
}

/* "Body" above "Rnd 1: …", "3. Ears" above "Ch 4". */
static bool is_plain_heading(const tb_text_reader *reader, guint i)
{
	const tb_look *look = &reader->looks[i];
	const char *line = tb_text_line(reader, i);
	tb_row_head head;
	bool may = look->kind == TB_LINE_PROSE ||
		(look->kind == TB_LINE_ROW && tb_is_row_head(line, &head) && head.is_bare);
	const tb_line *at = tb_lines_get(reader->lines, i);
	/* "**3. Body**" is set out as a whole, and no item of a list */
	if (!may || (at->listed && !at->strong) || !tb_may_be_plain_heading(line) || tb_names_yarn(line))
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
	/* "Berry" over "With red yarn" */
	while (next < reader->count && tb_names_yarn(tb_text_line(reader, next)))
		next = reader->looks[next].next;
	return begins_part(reader, next) || over || (parted && i > 0 && tb_text_is_over_rows_again(reader, i)) || (parted && is_over_later_rows(reader, i)) ||
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
		if ((is_work(look->kind) || tb_find_all_row(line) > 0) && !(look->kind == TB_LINE_START && tb_text_counts(line)))
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
	if (tb_text_counts(tb_text_line(reader, i)) || is_cord(reader, i))
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
