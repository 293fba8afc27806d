/*
 * What a line is. Only the words at its beginning are looked at, and only as far as the trade has
 * settled ways for them; the rows themselves are the business of notation/.
 */
#include "pattern/text_kinds.h"

#include <string.h>

#define LONGEST_HEAD 160u

size_t tb_at_word(const char *text, const char *words)
{
	char first = g_ascii_tolower(*text);
	if (first == '\0' || first == ' ')
		return 0;
	for (const char *at = strchr(words, first); at != NULL; at = strchr(at + 1, first)) {
		if (at > words && at[-1] != ' ')
			continue;
		size_t length = 1;
		while (at[length] != ' ' && at[length] != '\0' && g_ascii_tolower(text[length]) == at[length])
			length++;
		if ((at[length] == ' ' || at[length] == '\0') && !g_ascii_isalnum(text[length]))
			return length;
	}
	return 0;
}

size_t tb_find_words(const char *text, size_t length, const char *words)
{
	for (size_t at = 0; at < length; at++) {
		size_t word = at == 0 || !g_ascii_isalnum(text[at - 1]) ? tb_at_word(text + at, words) : 0;
		if (word > 0 && at + word <= length)
			return at;
	}
	return length;
}

static size_t skip_blanks(const char *line, size_t at)
{
	return at + strspn(line + at, " ");
}

/* "Rep Rows 3-6", "Repeat the last 2 rows", but not "Rep from *". */
static bool is_again(const char *line)
{
	size_t at = tb_at_word(line, "rep repeat");
	for (unsigned word = 0; at > 0 && word < 8; word++) {
		at = skip_blanks(line, at);
		if (tb_at_word(line + at, "row rows rnd rnds round rounds rd rds") > 0)
			return true;
		/* "rep r2-3" */
		if (word == 0 && g_ascii_toupper(line[at]) == 'R' && g_ascii_isdigit(line[at + 1]))
			return true;
		if (line[at] == '*' || line[at] == '\0')
			return false;
		at += MAX(strcspn(line + at, " .*"), 1);
	}
	return false;
}

/* "Work a dec rnd, then 2 plain rnds", "[1 plain rnd, 1 dec rnd] 5 times": rows by their names. */
static bool works_named(const char *line)
{
	size_t star = strspn(line, "*([ "), verb = tb_at_word(line + star, "work then now"), at = skip_blanks(line, star + verb);
	at += strspn(line + at, "([ ");
	size_t many = strspn(line + at, "0123456789");
	many = many > 0 ? many : tb_at_word(line + at, "a an the one two three four");
	size_t name = skip_blanks(line, at + many), word = tb_at_word(line + name, "dec decrease decreasing inc increase increasing plain");
	return word > 0 && (verb > 0 || many > 0) && tb_at_word(line + skip_blanks(line, name + word), "row rows rnd rnds round rounds") > 0;
}

/* "Mark the first st, count 9", "Place markers in sts 1, 9 and 17": which stitches, the row language makes out. */
static bool lays_markers(const char *line)
{
	size_t at = tb_at_word(line, "now next then setup");
	at += strspn(line + at, " ,:");
	size_t end = strcspn(line, "\n"), mark = tb_at_word(line + at, "mark"), put = tb_at_word(line + at, "place put divide split with using");
	bool named = mark > 0 || (put > 0 && tb_find_words(line, MIN(end, at + 60), "marker markers") < MIN(end, at + 60));
	return named && strcspn(line, "0123456789") < end && tb_find_words(line, end, "row rows round rounds rnd rnds every each") > strcspn(line, ".:");
}

/* "first leg", "the right ear": another piece, by a small name. */
static bool names_limb(const char *text)
{
	size_t the = tb_at_word(text, "the");
	text += the;
	text += strspn(text, " ");
	if (the > 0 && tb_at_word(text, "front back") > 0)
		return true;
	size_t which = tb_at_word(text, "first second left right other");
	return which > 0 && tb_at_word(text + which + strspn(text + which, " "), "leg ear arm foot wing flap earflap sleeve mitten "
		"mitt slipper bootie sock paw horn eye front piece panel motif") > 0;
}

/* "With B, work as Front": behind the colour. */
static const char *skip_colour(const char *line)
{
	size_t with = tb_at_word(line, "with using in"), length = strcspn(line, ",.;:(*0123456789");
	return with > 0 && line[length] == ',' && length < LONGEST_HEAD ? line + skip_blanks(line, length + 1) : line;
}

/* "As Left front, reversing shaping", "Repeat the left front in mirror image" */
static bool is_reversed(const char *line)
{
	size_t at = tb_at_word(line, "as like rep repeat copy follow");
	const char *name = line + skip_blanks(line, at);
	return at > 0 && (g_ascii_isupper(*name) || names_limb(name)) &&
		tb_find_words(line, strlen(line), "reversing reverse reversed mirroring mirrored mirror shaping shapings") < strlen(line);
}

/* "As Back to **": as far as the row with stars behind it. */
static bool goes_to_stars(const char *line)
{
	return tb_at_word(line, "as like work same follow rep repeat") > 0 && strstr(line, "to **") != NULL;
}

/* "Work same as Left front", "Made like the back", "Follow the directions for Sleeve". */
static bool is_like(const char *line)
{
	if (is_reversed(line) || goes_to_stars(line))
		return true;
	size_t at = tb_at_word(line, "work worked make made crochet complete begin start same as like follow copy rep repeat the exactly this");
	if (at == 0)
		return false;
	bool same = tb_at_word(line, "same") > 0;
	for (unsigned word = 0; word < 6; word++) {
		at = skip_blanks(line, at);
		if (tb_at_word(line + at, "same instructions directions") > 0)
			same = true;
		size_t like = tb_at_word(line + at, "as like for");
		const char *other = line + at + like + strspn(line + at + like, " ");
		/* "as given for left front" */
		size_t given = like > 0 ? tb_at_word(other, "given written told described") : 0;
		for (size_t small = given; small > 0; small = tb_at_word(other, "for on the"))
			other += small + strspn(other + small, " ");
		if (like > 0 && (same || g_ascii_isupper(*other) || tb_at_word(other, "for the") > 0 || names_limb(other)) &&
			tb_at_word(other, "follows row rows rnd rnds round rounds") == 0)
			return true;
		/* "Work to match left front", "a mirror image of the Left Front" */
		size_t match = tb_at_word(line + at, "match correspond mirror");
		other = line + at + match;
		for (size_t small; match > 0 && (small = tb_at_word(other += strspn(other, " "), "image to with of the")) > 0;) {
			if (names_limb(other))
				break;
			other += small;
		}
		if (match > 0 && (g_ascii_isupper(*other) || names_limb(other)))
			return true;
		if (line[at] == '\0' || tb_is_among(line[at], ".,:;"))
			return false;
		at += MAX(strcspn(line + at, " .,:;"), 1);
	}
	return false;
}

/* "of Back", "as for the front", "as on the Back": how the rows of another piece are named. */
static bool names_piece_behind(const char *text)
{
	size_t of = tb_at_word(text, "of as from"), small;
	const char *name = text + skip_blanks(text, of);
	while ((small = tb_at_word(name, "for on in given set told written described the")) > 0)
		name += skip_blanks(name, small);
	return of > 0 && (g_ascii_isupper(*name) || tb_at_word(name, "back front sleeve body first second left right") > 0);
}

/* "Rep Rows 1-24 of Back", "Work Rows 1-7 as for the front": the rows of another piece, which has a name. */
static bool is_of_piece(const char *line)
{
	size_t at = tb_at_word(line, "work rep repeat follow same as make do like exactly");
	for (unsigned word = 0; at > 0 && word < 6; word++) {
		at = skip_blanks(line, at);
		/* "the 1st row as on the Back" */
		size_t figures = strspn(line + at, "0123456789"), suffix = figures > 0 ? tb_at_word(line + at + figures, "st nd rd th") : 0;
		size_t ordinal = suffix > 0 ? figures + suffix : tb_at_word(line + at, "first");
		size_t next = skip_blanks(line, at + ordinal), named = ordinal > 0 ? tb_at_word(line + next, "row rows rnd round") : 0;
		if (named > 0 && names_piece_behind(line + skip_blanks(line, next + named)))
			return true;
		size_t row = tb_at_word(line + at, "row rows rnd rnds round rounds rds");
		size_t numbers = row > 0 ? at + row + strspn(line + at + row, " 0123456789-,&") : 0;
		size_t and = row > 0 ? tb_at_word(line + numbers, "and to through thru") : 0;
		numbers += and + (and > 0 ? strspn(line + numbers + and, " 0123456789") : 0);
		if (row > 0 && g_ascii_isdigit(line[skip_blanks(line, at + row)])) {
			return names_piece_behind(line + numbers);
		}
		if (line[at] == '\0' || tb_is_among(line[at], ".,:;*"))
			return false;
		at += MAX(strcspn(line + at, " .,:;*"), 1);
	}
	return false;
}

/* "first six", "next few sts", "first st"; "first leg" is a piece. */
static bool leaves_stitches(const char *text)
{
	size_t which = tb_at_word(text, "first next last");
	const char *behind = text + skip_blanks(text, which);
	return tb_at_word(text, "few some") > 0 || (which > 0 && (g_ascii_isdigit(*behind) ||
		tb_at_word(behind, "few some two three four five six seven eight nine ten twelve st sts stitch stitches") > 0));
}

static bool is_finish(const char *line)
{
	size_t at = tb_at_word(line, "fasten finish end cut break bind");
	if (at == 0)
		return g_ascii_isupper(*line) && (tb_at_word(line, "fo") > 0 || tb_at_word(line, "f.o f/o") > 0);
	at = skip_blanks(line, at);
	size_t off = tb_at_word(line + at, "off");
	/* "Bind off 6 sts", "Finish off for the neck" leaves those, and the others are worked on */
	size_t behind = skip_blanks(line, at + off), article = tb_at_word(line + behind, "the");
	if (off > 0 && tb_at_word(line, "bind") > 0 && (g_ascii_isdigit(line[behind]) || tb_at_word(line + behind, "one two three four five six seven eight nine ten "
			"twelve the first last at") > 0))
		return false;
	size_t aim = tb_at_word(line + behind, "for"), which = skip_blanks(line, behind + MAX(article, aim));
	if (off > 0 && (aim > 0 ? tb_at_word(line + which, "now good later") == 0 : leaves_stitches(line + which)))
		return false;
	if (off > 0)
		return true;
	at = skip_blanks(line, at + tb_at_word(line + at, "the"));
	return tb_at_word(line, "cut break") > 0 && tb_at_word(line + at, "yarn thread") > 0;
}

/* "From Back: …", "Join yarn in st 47 of Back", with or without "With RS facing," before. */
static bool is_from(const char *line)
{
	size_t from = tb_at_word(line, "from");
	const char *colon = strchr(line, ':');
	if (from > 0)
		return colon != NULL && (size_t)(colon - line) < LONGEST_HEAD;
	if (tb_at_word(line, "with join rejoin attach") == 0)
		return false;
	const char *yarn = strstr(line, "join yarn");
	if (yarn == NULL)
		yarn = strstr(line, "attach yarn");
	if (yarn == NULL)
		yarn = tb_at_word(line, "join rejoin attach") > 0 ? line : NULL;
	if (yarn == NULL)
		return false;
	const char *of = strstr(yarn, " of ");
	/* a row is no piece: "Join yarn in 7th st of Row 2" begins one */
	return of != NULL && g_ascii_isupper(of[4]) && tb_at_word(of + 4, "row rnd round") == 0 && strpbrk(yarn, "0123456789") != NULL &&
		(size_t)(of - line) < LONGEST_HEAD;
}

/* Facts and sections: what stands under a name that the trade knows. NONE in TB_LINE_BLANK. */
static tb_line_kind find_named(const char *line)
{
	size_t value;
	tb_section section;
	if (tb_find_field(line, &value) != TB_FIELD_NONE)
		return TB_LINE_FIELD;
	bool is_section = tb_find_section(line, &section) > 0;
	if (tb_find_fact(line) > 0 && (!is_section || section == TB_SECTION_MATERIALS))
		return TB_LINE_FACT;
	return is_section ? TB_LINE_SECTION : TB_LINE_BLANK;
}

/* Nothing, or a rule across the page: "-----", "* * *". */
static bool is_blank(const char *line)
{
	size_t marks = strspn(line, "-=_*~#. ");
	return line[marks] == '\0' && marks != 1 && marks != 2;
}

bool tb_is_neutral(const char *name)
{
	size_t at = skip_blanks(name, tb_at_word(name, "the crochet written"));
	size_t word = tb_at_word(name + at, "pattern instructions directions method");
	at = skip_blanks(name, at + word);
	at += tb_at_word(name + at, "instructions directions");
	return word > 0 && (name[at] == '\0' || (name[at] == ':' && name[at + 1] == '\0'));
}

tb_line_kind tb_line_find_kind(const char *line)
{
	tb_row_head head;
	unsigned make;
	size_t name_length;
	if (is_blank(line))
		return TB_LINE_BLANK;
	if (tb_find_all_sizes(line) > 0)
		return TB_LINE_ALL_SIZES;
	if (tb_tells_all_rows(line))
		return TB_LINE_PROSE;
	if (tb_find_only(line) > 0)
		return TB_LINE_ONLY;
	if (tb_find_zero_row(line) > 0)
		return TB_LINE_START;
	if (tb_is_row_head(line, &head))
		return TB_LINE_ROW;
	/* "*Dec row: …": a star begins rows that are worked again from it */
	if (*line == '*' && tb_is_row_head(line + 1, &head) && !head.is_bare)
		return TB_LINE_AGAIN;
	if (is_of_piece(skip_colour(line)))
		return TB_LINE_LIKE;
	if (is_again(line) || works_named(line) || lays_markers(line))
		return TB_LINE_AGAIN;
	if (is_finish(line))
		return TB_LINE_FINISH;
	tb_line_kind named = find_named(line);
	if (named != TB_LINE_BLANK)
		return named;
	if (is_from(line))
		return TB_LINE_FROM;
	if (tb_find_label(line, &name_length) > 0)
		return TB_LINE_LABELLED;
	if (tb_find_start(line) >= 0)
		return TB_LINE_START;
	if (is_like(skip_colour(line)))
		return TB_LINE_LIKE;
	if (tb_is_neutral(line))
		return TB_LINE_NEUTRAL;
	if (tb_find_body(line, false) > 0)
		return TB_LINE_DEFINITION;
	g_autofree char *name = tb_heading_name(line, &make);
	if (name == NULL)
		return TB_LINE_PROSE;
	return tb_is_neutral(name) ? TB_LINE_NEUTRAL : TB_LINE_HEADING;
}

bool tb_line_is_finish(const char *line)
{
	return is_finish(line) && tb_line_find_kind(line) == TB_LINE_FINISH;
}

bool tb_is_aside(const char *line)
{
	if (tb_tells_all_rows(line))
		return true;
	size_t length = strlen(line);
	length -= length > 0 && line[length - 1] == '.';
	return (*line == '(' || *line == '[') && length > 2 && tb_is_among(line[length - 1], ")]") &&
		strcspn(line, ")]") == length - 1 && !tb_states_count(line);
}
