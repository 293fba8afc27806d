/* Headings: which lines may be one, and the name they give. */
#include "pattern/text_kinds.h"

#include "support/text.h"

#include <string.h>

/* Longer lines are sentences. */
#define LONGEST_HEADING 60u
#define MOST_HEADING_WORDS 6u

/* Whether there is no small letter, and at least two capitals. */
static bool is_capitals(const char *text, size_t length)
{
	size_t capitals = 0;
	for (const char *c = text; c < text + length; c = g_utf8_next_char(c)) {
		gunichar letter = g_utf8_get_char(c);
		if (g_unichar_islower(letter) || (letter < 0x80 && tb_is_among((char)letter, ",;:.*=+%\"")))
			return false;
		capitals += g_unichar_isupper(letter) != FALSE;
	}
	return capitals >= 2;
}

static unsigned count_words(const char *text, size_t length)
{
	unsigned words = 0;
	for (size_t i = 0; i < length; i++)
		words += text[i] != ' ' && (i == 0 || text[i - 1] == ' ');
	return words;
}

/* "2", "two", "2x" at TEXT: how many, or 0. */
static unsigned read_many(const char *text)
{
	static const char *const words[] = {"one", "two", "three", "four", "five", "six", "seven", "eight",
		"nine", "ten"};
	for (unsigned i = 0; i < G_N_ELEMENTS(words); i++) {
		if (tb_at_word(text, words[i]) > 0)
			return i + 1;
	}
	size_t figures = strspn(text, "0123456789");
	return figures > 0 && figures < 4 ? (unsigned)g_ascii_strtoull(text, NULL, 10) : 0;
}

/* "make 2", "x2", "2x", "2 of" at TEXT: how many, or 0. */
static unsigned at_make(const char *text)
{
	size_t make = tb_at_word(text, "make made work");
	if (make > 0) {
		const char *many = text + make + strspn(text + make, " ");
		size_t word = strcspn(many, " ");
		const char *of = many + word + strspn(many + word, " ");
		/* "Row 3 forms the pattern. Work 6 rows": rows are worked, and no pieces made */
		bool worked = tb_at_word(of, "row rows round rounds rnd rnds more further st sts stitches times") > 0;
		return worked ? 0 : read_many(many);
	}
	size_t sign = *text == 'x' || *text == 'X' ? 1 : g_str_has_prefix(text, "×") ? strlen("×") : 0;
	if (sign > 0)
		return read_many(text + sign + strspn(text + sign, " "));
	/* "two alike" */
	size_t word = strcspn(text, " ");
	if (text[word] == ' ' && tb_at_word(text + word + 1, "alike identical") > 0)
		return read_many(text);
	size_t figures = strspn(text, "0123456789");
	const char *behind = text + figures;
	return figures > 0 && (*behind == 'x' || g_str_has_prefix(behind, "×")) ? read_many(text) : 0;
}

unsigned tb_find_make(const char *line)
{
	return at_make(line + strspn(line, "(["));
}

/* "Ears (two)": how many, or 0. In figures it may be a row's count, "across. (16)", but for a heading that is set out, SURE. */
static unsigned at_bracketed(const char *text, bool sure)
{
	/* "Pockets (2, one a side)" */
	if (sure && g_ascii_isdigit(*text) && tb_is_among(text[1], "),"))
		return read_many(text);
	size_t word = strspn(text, "abcdefghijklmnopqrstuvwxyz");
	return word > 0 && text[word] == ')' && text[word + 1] == '\0' ? read_many(text) : 0;
}

/* "(make 2)", "- make 2 alike", "x2" at a name's end: where it begins, or LENGTH. */
static size_t find_make(const char *text, size_t length, bool sure, unsigned *make)
{
	for (size_t i = 1; i < length; i++) {
		unsigned many = tb_is_among(text[i - 1], " (-:") ? at_make(text + i) : 0;
		if (many == 0 && text[i - 1] == '(' && g_ascii_isupper(*text))
			many = at_bracketed(text + i, sure);
		if (many == 0)
			continue;
		/* "CORD (Make 2) . . . Ch 80.": what is worked behind it is no part of a name */
		g_autofree char *behind = g_strndup(text + i, length - i);
		/* "Hold it flat and work 4 sc" makes no 4 of a thing */
		if (tb_has_stitch(behind))
			continue;
		/* "In the corner work three" says where, and names no thing */
		if (text[i - 1] == ' ' && tb_at_word(text, "along at in into on onto over under across around round through up down between from "
				"behind beside before after where wherever if when to for with each every all") > 0)
			continue;
		const char *stop = strstr(behind, ". ");
		if (stop != NULL && tb_find_start(stop + strspn(stop, ". ")) == 0)
			return length;
		*make = many;
		while (i > 0 && tb_is_among(text[i - 1], " (-,:["))
			i--;
		return i;
	}
	return length;
}

/* "LEFT FRONT" is said "Left front". */
static char *say_name(const char *text, size_t length)
{
	if (!is_capitals(text, length))
		return g_strndup(text, length);
	g_autofree char *first = g_utf8_strup(text, (gssize)(g_utf8_next_char(text) - text));
	const char *rest = g_utf8_next_char(text);
	g_autofree char *lower = tb_text_lower(rest, (gssize)(length - (size_t)(rest - text)));
	return g_strconcat(first, lower, NULL);
}

static size_t at_dash(const char *text)
{
	return g_str_has_prefix(text, "—") ? strlen("—") : *text == '-' || *text == '=' || *text == '~';
}

/* What surrounds a heading's name. */
typedef struct {
	const char *text; /* the name begins here */
	size_t length;
	unsigned make;    /* 0: not said */
	bool hashes, dashes, stars, colon, step;
} heading;

/* "*** YOKE", "** Sleeves **": stars before a name of capitals or on both sides of it set it out, as no repeat does. */
static void strip_stars(heading *h)
{
	size_t before = strspn(h->text, "*"), behind = 0;
	while (behind < h->length && h->text[h->length - 1 - behind] == '*')
		behind++;
	if (before < 2 || before >= h->length || (behind == 0 && h->text[before] != ' '))
		return;
	size_t from = before + strspn(h->text + before, " "), end = h->length - behind;
	while (end > from && h->text[end - 1] == ' ')
		end--;
	if (from >= end || memchr(h->text + from, '*', end - from) != NULL || (behind == 0 && !is_capitals(h->text + from, strcspn(h->text + from, ",(")) ))
		return;
	h->text += from;
	h->length = end - from;
	h->stars = true;
}

/* Leaves dashes and blanks around the name aside; true when dashes stood on both sides. */
static bool strip_dashes(heading *h)
{
	const char *before = h->text;
	size_t behind = h->length, dash;
	while ((dash = at_dash(h->text)) > 0 || *h->text == ' ')
		h->text += MAX(dash, 1);
	h->length -= (size_t)(h->text - before);
	behind = h->length;
	while (h->length > 0) {
		const char *end = h->text + h->length;
		if (h->length >= 3 && memcmp(end - 3, "—", 3) == 0)
			h->length -= 3;
		else if (tb_is_among(end[-1], "-=~ #"))
			h->length--;
		else
			break;
	}
	return h->text > before && h->length < behind;
}

/* "Step 1: Head", "Part 2 - Body", "3. Ears": the number counts headings, and is no name. */
static void strip_step(heading *h)
{
	size_t at = tb_at_word(h->text, "step part section chapter piece");
	at += strspn(h->text + at, " #");
	size_t figures = strspn(h->text + at, "0123456789");
	if (figures == 0 && at > 0)
		figures = tb_at_word(h->text + at, "one two three four five six seven eight nine ten i ii iii iv v vi");
	if (figures == 0 || at + figures >= h->length)
		return;
	size_t mark = at + figures;
	mark += strspn(h->text + mark, " ");
	size_t end = mark + strspn(h->text + mark, ":.)- ");
	if (g_str_has_prefix(h->text + end, "—"))
		end += strlen("—");
	end += strspn(h->text + end, " ");
	if (end == mark || end >= h->length)
		return;
	h->text += end;
	h->length -= end;
	h->step = true;
}

/* "Head (in brown)", "Fins (B), make 2": what stands in brackets of more than a letter, or before how
 * many are made, is said about the piece. */
static void strip_bracket(heading *h)
{
	if (h->length < 5 || (h->text[h->length - 1] != ')' && h->text[h->length - 1] != ']'))
		return;
	size_t open = h->length - 1;
	while (open > 0 && h->text[open] != '(' && h->text[open] != '[')
		open--;
	if (open < 2 || (h->length - open < 5 && h->make == 0))
		return;
	h->length = open;
	while (h->length > 0 && h->text[h->length - 1] == ' ')
		h->length--;
}

/* "Cap, red", "Body - in blue": what goes on small behind a comma or a dash is said about the piece. */
static void strip_tail(heading *h)
{
	for (size_t at = 1; at + 3 < h->length; at++) {
		size_t comma = h->text[at] == ',' && h->text[at + 1] == ' ' ? 2 : 0;
		size_t dash = strncmp(h->text + at, " - ", 3) == 0 ? 3 : 0;
		if (comma + dash == 0)
			continue;
		const char *tail = h->text + at + comma + dash;
		if (!g_unichar_islower(g_utf8_get_char(tail)) || !tb_is_among(*h->text, "ABCDEFGHIJKLMNOPQRSTUVWXYZ"))
			return;
		/* "Along the long side, crochet twenty" is worked, and is no name */
		if (tb_at_word(tail, "work crochet make do put place leave repeat rep skip miss turn join fasten continue increase inc decrease dec "
				"chain ch slip add take go pick begin start insert draw pull") > 0)
			return;
		h->length = at;
		return;
	}
}

static bool read_heading(const char *line, heading *h)
{
	size_t hashes = strspn(line, "#");
	/* "#3" is a number */
	*h = (heading){.text = line + strspn(line, "# "), .hashes = hashes > 0 && !g_ascii_isdigit(line[hashes])};
	h->length = strlen(h->text);
	strip_stars(h);
	bool begins_with_dash = at_dash(h->text) > 0;
	h->dashes = strip_dashes(h);
	if (begins_with_dash && !h->dashes)
		return false;
	strip_step(h);
	h->colon = h->length > 0 && h->text[h->length - 1] == ':';
	h->length -= h->colon;
	h->length = find_make(h->text, h->length, h->hashes, &h->make);
	strip_bracket(h);
	strip_tail(h);
	/* "Ears: (make 2)" */
	if (h->length > 0 && h->text[h->length - 1] == ':') {
		h->length--;
		h->colon = true;
	}
	return h->length > 0;
}

/* Words that are a name as well, "Flip flop" and "Pull cord", but for what stands behind them. */
static bool is_told_to(const char *text, const char *second)
{
	static const char *const told[][2] = {
		{"pull draw", "tight tightly up the yarn tail through it closed"},
		{"flip reverse", "work over the it piece direction"},
		{"close", "ring the up hole it opening circle off with"},
		{"go", "around back on over once"},
		{"once twice", "more again"},
		{"same", "again as"},
		{"narrow widen increase decrease", "gradually evenly at every each on"},
	};
	for (size_t i = 0; i < G_N_ELEMENTS(told); i++) {
		if (tb_at_word(text, told[i][0]) > 0 && tb_at_word(second, told[i][1]) > 0)
			return true;
	}
	return false;
}

/* "Two plain rows", "Rounds 4 to 9 plain": work, where it is no part of a piece that has rows of its own. */
static bool tells_of_rows(const char *text)
{
	for (const char *at = text; *at != '\0'; at++) {
		if ((at == text || at[-1] == ' ') && tb_at_word(at, "rows rounds rnds") > 0)
			return true;
	}
	return tb_at_word(text, "another") > 0;
}

/* Words that begin an instruction, and no name. */
static bool is_instruction(const char *text)
{
	size_t first = strcspn(text, " ");
	const char *second = text + first + strspn(text + first, " ");
	if (tb_at_word(text, "turn") > 0 && tb_at_word(second, "heel") > 0)
		return false;
	if (is_told_to(text, second))
		return true;
	return tb_at_word(text, "skip miss crochet swap bind alternate") > 0 || tb_at_word(text, "work next then now repeat rep continue cont as for with to all and in turn "
		"this multiple multiples the you your i we it if when before after size sizes change join rejoin attach fasten "
		"finish cut do don't place stuff sew fold leave weave break drop pick switch using use insert "
		"made worked crocheted begun started starts begins "
		"make begin start add remove put mark move count beginning starting let's here enjoy happy "
		"ready stop both each every these follow keep note always please no") > 0;
}

/* "sc in each st", "2 sts": what is worked, and no name. */
static bool says_places(const char *name)
{
	static const char *const worked[] = {" each ", " st ", " sts", " stitch", " next ", " in last ", " even"};
	for (size_t i = 0; i < G_N_ELEMENTS(worked); i++) {
		if (strstr(name, worked[i]) != NULL)
			return true;
	}
	return false;
}

/* "Working in back loops only", "In the front loops": into which loops, and nothing else. */
static bool says_loops(const char *name, size_t length)
{
	static const char words[] = "work working crochet crocheting in into through the front back loop loops lp lps only of blo flo tbl tfl";
	size_t at = 0, word;
	bool loops = false, which = false;
	while (at < length && (word = tb_at_word(name + at, words)) > 0) {
		loops = loops || tb_at_word(name + at, "loop loops lp lps blo flo tbl tfl") > 0;
		which = which || tb_at_word(name + at, "front back blo flo tbl tfl") > 0;
		at += word;
		at += strspn(name + at, " ");
	}
	return loops && which && at >= length;
}

bool tb_names_yarn(const char *line)
{
	static const char yarns[] = "yarn color colour colorway colourway thread wool cotton mc cc a b c d";
	static const char *const ends[] = {" yarn", " color", " colour", " colorway", " colourway", " thread", " wool", " cotton"};
	size_t length = strcspn(line, ":"), at = 0;
	if (length == 0 || line[length + (line[length] == ':')] != '\0' || count_words(line, length) > MOST_HEADING_WORDS - 1 ||
		tb_has_stitch(line) || memchr(line, '.', length) != NULL || memchr(line, ',', length) != NULL)
		return false;
	/* "Yellow", "Dark grey": and nothing that is a thing as well, as a rose is */
	size_t shade = tb_at_word(line, "light dark pale bright");
	shade += shade > 0 && line[shade] == ' ';
	if (shade + tb_at_word(line + shade, "red white black green yellow pink brown gray grey blue cream purple navy teal beige "
			"turquoise") == length && length > shade)
		return true;
	size_t lead = tb_at_word(line, "with using use in");
	if (lead > 0 && count_words(line, length) < 4)
		return true;
	for (size_t i = 0; i < G_N_ELEMENTS(ends); i++) {
		size_t end = strlen(ends[i]);
		if (length > end && g_ascii_strncasecmp(line + length - end, ends[i], end) == 0)
			return lead > 0 || count_words(line, length) < 4;
	}
	while (lead > 0 && at < length) {
		if ((at == 0 || line[at - 1] == ' ') && tb_at_word(line + at, yarns) > 0)
			return true;
		at++;
	}
	return false;
}

char *tb_heading_name(const char *line, unsigned *make)
{
	heading h;
	*make = 1;
	if (tb_has_stitch(line) && says_places(line))
		return NULL;
	if (strlen(line) > LONGEST_HEADING || !read_heading(line, &h) ||
		count_words(h.text, h.length) > MOST_HEADING_WORDS)
		return NULL;
	gunichar first = g_utf8_get_char(h.text);
	if (!g_unichar_isalnum(first))
		return NULL;
	bool clean = true;
	for (size_t i = 0; i < h.length; i++)
		clean = clean && !tb_is_among(h.text[i], ",*:[;=");
	/* "Next, work as follows:" ends with a colon as well. */
	bool names = clean && g_unichar_isupper(first) && (!is_instruction(h.text) || tb_goes_on(h.text));
	/* "Working in back loops only:" is worked so, and is no name */
	if (says_loops(h.text, h.length))
		return NULL;
	/* "6 SC IN RING" shouts, and heads nothing. */
	bool capitals = is_capitals(h.text, h.length) && !tb_has_stitch(h.text) && !tb_names_yarn(line);
	/* "Now work 3 (3, 2) rounds even" makes no pieces of that name */
	bool makes = h.make > 0 && clean && !(is_instruction(h.text) && tells_of_rows(line));
	if (!h.hashes && !h.dashes && !((h.colon || h.step || h.stars) && names) && !makes && !capitals)
		return NULL;
	if (h.make > 0)
		*make = h.make;
	return say_name(h.text, h.length);
}

char *tb_plain_heading_name(const char *line, unsigned *make)
{
	heading h;
	if (!read_heading(line, &h))
		return g_strdup(line);
	if (h.make > 0)
		*make = h.make;
	return say_name(h.text, h.length);
}

bool tb_may_be_plain_heading(const char *line)
{
	heading h;
	size_t length = strlen(line);
	if (length == 0 || length > LONGEST_HEADING || !read_heading(line, &h) ||
		count_words(h.text, h.length) > MOST_HEADING_WORDS - 1)
		return false;
	g_autofree char *name = g_strndup(h.text, h.length);
	/* "UK terms" says how to read what follows; "RS facing, join yarn …" how a piece is held that is named above */
	if (says_places(name) || says_loops(name, h.length) || tb_find_words(name, h.length, "facing") < h.length || tb_find_words(name, h.length, "terms terminology") < h.length)
		return false;
	return g_unichar_isalpha(g_utf8_get_char(name)) && strpbrk(name, ".,:;*()[]=!?") == NULL &&
		((!is_instruction(name) && !tells_of_rows(name)) || tb_goes_on(name)) && (!tb_has_stitch(name) ||
			/* a turtle has one too */
			tb_at_word(name, "shell") == strlen(name));
}

/* Whether TEXT starts a piece, and is no turning chain: "Ch 8, join", "Make a magic ring". */
static bool is_start(const char *text)
{
	int start = tb_find_start(text);
	if (start < 0 || strstr(text, " count") != NULL)
		return false;
	const char *chain = text + start;
	size_t figures = strcspn(chain, "0123456789.,;");
	return !g_ascii_isdigit(chain[figures]) || g_ascii_strtoull(chain + figures, NULL, 10) > 3;
}

size_t tb_find_label(const char *line, size_t *name)
{
	size_t parting = 0;
	tb_row_head head;
	*name = tb_find_parting(line, &parting);
	size_t from = *name + parting;
	/* "CENTER. Ch 10", as books set it */
	size_t capitals = strspn(line, "ABCDEFGHIJKLMNOPQRSTUVWXYZ' ");
	if (*name == 0 && capitals > 2 && capitals < LONGEST_HEADING && line[capitals] == '.') {
		*name = capitals;
		from = capitals + strspn(line + capitals, ". ");
		from += g_str_has_prefix(line + from, "—") ? strlen("—") : 0;
	}
	/* "Welt. Larger hook. Ch 14." */
	size_t stop = *name == 0 ? strcspn(line, ".,:;([") : 0;
	if (stop > 0 && stop < LONGEST_HEADING && g_str_has_prefix(line + stop, ". ") && tb_skip_hook(line + stop + 1 + strspn(line + stop + 1, " ")) > 0) {
		*name = stop;
		from = stop + 1 + strspn(line + stop + 1, " ");
	}
	/* "Antenna (ant): ch 5" has an abbreviation, and is a stitch. */
	if (*name == 0 || tb_has_abbreviation(line, *name) || !g_unichar_isupper(g_utf8_get_char(line)) || line[*name] == '=' ||
		tb_names_stitch(line, *name))
		return 0;
	/* "Foundation: 4 ch, join" names no piece. */
	if (tb_at_word(line, "foundation start beginning setup set-up") > 0 && is_start(line + from))
		return 0;
	/* "Work along the chain: sl st in 2nd ch from hook" */
	if (tb_at_word(line, "work working") > 0)
		return 0;
	g_autofree char *said = g_strndup(line, *name);
	/* "Adult only - Rows 5 & 6: …" says who works them, and names no piece */
	if ((is_instruction(said) && !tb_goes_on(said)) || g_str_has_suffix(said, " only"))
		return 0;
	bool row = tb_is_row_head(line + from, &head) && !head.is_bare && head.mark != 0;
	return row || is_start(line + from) || tb_leads_in(line + from) ? from : 0;
}

/* Behind "With RS facing, ", "Skip next 10 sts of Row 4, ", "and " at TEXT: what is said before yarn is joined. */
static const char *find_joining(const char *text)
{
	for (size_t word; (word = tb_at_word(text, "skip sk miss with leave leaving and then")) > 0;) {
		bool clause = tb_at_word(text, "and then") == 0;
		size_t end = clause ? strcspn(text, ",.;:") : word;
		if (clause && text[end] != ',')
			return text;
		text += end + strspn(text + end, ", ");
	}
	return text;
}

bool tb_leads_in(const char *said)
{
	const char *text = find_joining(said);
	size_t word = tb_at_word(text, "join rejoin attach reattach");
	size_t work = tb_at_word(text, "work working continue");
	const char *behind = text + word + work + strspn(text + word + work, " ");
	if ((word == 0 || tb_at_word(behind, "yarn thread wool cotton color colour the new in to at") == 0) &&
		(work == 0 || tb_at_word(behind, "on over across") == 0))
		return false;
	for (const char *at = text; *at != '\0'; at++) {
		/* no more than that: "join yarn in any st, ch 1, sc around" is a row */
		if (*at == ',' || (*at == '.' && at[1] != '\0') || ((at == text || !g_ascii_isalpha(at[-1])) && tb_at_word(at, "each ch chain") > 0))
			return false;
	}
	return true;
}

bool tb_goes_on(const char *name)
{
	/* "Worked from side to side" */
	if (tb_at_word(name, "worked crocheted") > 0)
		return false;
	for (const char *at = name; *at != '\0'; at++) {
		if (at > name && g_ascii_isalnum(at[-1]))
			continue;
		if (tb_at_word(at, "shape shaping neck neckline armhole armholes shoulder shoulders divide turn "
				"edging edge border trim trimming decrease decreases increase increases gusset crown "
				"buttonhole buttonholes buttonband placket heel toe side join joining ruffle brim "
				"ribbing divided separate separation division split") > 0)
			return true;
	}
	return false;
}
