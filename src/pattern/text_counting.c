/*
 * "Turning chains do not count as stitches.", "Ch 2 is never a stitch.", "Ch 3 counts as the first dc
 * throughout.", "Ch 2 is only for height.": a line that works nothing, and says of all rows what the chains count as that they begin
 * with. Every word of it is known here; a line that says more is a row's.
 */
#include "pattern/text_kinds.h"
#include "pattern/text_lines.h"
#include "support/limits.h"

#include <string.h>

static const char before[] = "note nb please remember that the this these those your each all every any initial "
	"opening turning turn beginning beginnings beg starting start skipped of at on in for a an to row rows "
	"round rounds rnd rnds first always still will would does do is are be not never no only";

static const char chains[] = "ch chs chain chains tch t-ch ch-1 ch-2 ch-3 ch-4";

static const char behind[] = "as a an the one first st sts stitch stitches sc hdc dc tr htr dtr trtr single double "
	"half treble crochet throughout here in on at to towards toward every each any row rows round rounds rnd "
	"rnds of this pattern piece your total stitch count unless otherwise stated noted specified anything all "
	"ever and only is are it does do not never isn't isn’t counted count for no nothing none plus ch chs chain chains sp "
	"sps space spaces ch-1 ch-2 ch-3";

/* What else says of a chain that it is a stitch. */
static const char standing[] = "is are be stands stand equals equal replaces replace takes take acts act serves serve works as in the place of for "
	"will would always";

static size_t skip_word(const char *at, const char *words)
{
	size_t figures = strspn(at, "0123456789");
	if (figures > 0)
		return !g_ascii_isalnum(at[figures]) ? figures : 0;
	size_t not = tb_at_word(at, "doesn't don't won't isn't aren't doesn’t don’t");
	return not > 0 ? not : tb_at_word(at, words);
}

static const char *skip_blanks(const char *at)
{
	return at + strspn(at, " -:");
}

bool tb_tells_counting(const char *line)
{
	const char *at = skip_blanks(line);
	bool chain = false, none = false;
	size_t word;
	while ((word = tb_at_word(at, none ? "count counts counted height st sts stitch stitches" : "count counts counted height")) == 0) {
		none = none || tb_at_word(at, "not never no isn't aren't isn’t aren’t") > 0;
		size_t made = tb_at_word(at, chains);
		chain = chain || made > 0;
		word = made > 0 ? made : skip_word(at, before);
		if (word == 0)
			return false;
		at = skip_blanks(at + word);
	}
	at = skip_blanks(at + word);
	while (chain && (word = tb_is_among(*at, ",+&") && *at != '\0' ? 1 : skip_word(at, behind)) > 0)
		at = skip_blanks(at + word);
	return chain && at[strspn(at, ".! ")] == '\0';
}

/* "Ch 3 is a dc.", "The ch-4 stands for 1 dc and ch 1.", "Ch 3 = 1 dc.": no more than a chain, and what it is. */
static bool tells_standing(const char *line)
{
	const char *at = skip_blanks(line);
	size_t word, verbs = 0;
	bool chain = false, what = false;
	while ((word = tb_at_word(at, chains)) > 0 || (word = skip_word(at, before)) > 0) {
		chain = chain || tb_at_word(at, chains) > 0;
		verbs += chain && tb_at_word(at, standing) > 0;
		at = skip_blanks(at + word);
	}
	while ((word = tb_at_word(at, standing)) > 0 || (word = *at == '=' ? 1 : 0) > 0) {
		verbs++;
		at = skip_blanks(at + word);
	}
	while (chain && verbs > 0 && (word = tb_is_among(*at, ",+&") && *at != '\0' ? 1 : skip_word(at, behind)) > 0) {
		what = what || tb_has_stitch(at);
		at = skip_blanks(at + word);
	}
	return chain && verbs > 0 && what && at[strspn(at, ".! ")] == '\0';
}

static const char around[] = "note nb please remember that the this these a an it which is are be will from here now on "
	"onward onwards unless otherwise told stated noted specified begins begin starts start beginning starting ends end "
	"ends joins join joined joining close closed closing finish finished by with and or do does not never no n't "
	"doesn't doesn’t isn't isn’t don't don’t counted counts count each every all any row rows round rounds rnd rnds "
	"at of to turn turned always also then";

/* The bytes of "2 ch" at AT, or 0. */
static size_t span_chains(const char *at)
{
	size_t figures = strspn(at, "0123456789"), word = figures > 0 && at[figures] == ' ' ? tb_at_word(at + figures + 1, "ch chs chain chains") : 0;
	return word > 0 ? figures + 1 + word : 0;
}

/*
 * The length of what may stand at AT, behind FIRST ("in the first st") or not; 0 where it may work something. Stitches
 * are named only as that which joins, as what a chain is none of, or as the first.
 */
static size_t skip_beginning(const char *at, bool first)
{
	static const char *const wholes[] = {"slip stitch", "sl st", "ss", "invisible join", "not a stitch", "not a st", "as a stitch", "as a st", "as st", "a stitch", "a st",
		"in the first", "into the first", "to the first", "in first", "into first", "to first", "to the top of the first",
		"to top of first", "in top of first", "in the top of the first"};
	for (size_t i = 0; i < G_N_ELEMENTS(wholes); i++) {
		size_t length = strlen(wholes[i]);
		if (g_ascii_strncasecmp(at, wholes[i], length) == 0 && !g_ascii_isalnum(at[length]))
			return length;
	}
	size_t word = first ? tb_at_word(at, "st sts stitch sc hdc dc tr htr dtr") : 0;
	if (word > 0)
		return word;
	word = tb_at_word(at, "ch chain ch-1 ch-2 ch-3 chains");
	if (word > 0) {
		size_t blanks = strspn(at + word, " "), figures = strspn(at + word + blanks, "0123456789");
		return word + (figures > 0 ? blanks + figures : 0);
	}
	return MAX(span_chains(at), tb_at_word(at, around));
}

/* "Ch 12, join": a sentence of chains and no more is worked, whatever the next one tells. */
static bool works_chain(const char *line, const char *at)
{
	bool begins = at == line || (at - line > 1 && tb_is_among(at[-2], ".!"));
	if (!begins)
		return false;
	size_t word = tb_at_word(at, "ch chain"), figures = word > 0 && at[word] == ' ' ? strspn(at + word + 1, "0123456789") : 0;
	if (figures > 0)
		return tb_is_among(at[word + 1 + figures], ",;.");
	/* "30 ch, ss to first ch" */
	size_t many = span_chains(at);
	return many > 0 && tb_is_among(at[many], ",;.");
}

/*
 * "From here on every round begins with ch 2, which is not counted, and ends with a slip stitch into the first hdc": how
 * all rounds begin and end that do not say so themselves. The chain is no stitch, or the line is a row's.
 */
static bool tells_beginning(const char *line)
{
	bool begins = false, rounds = false, all = false, counted = false, none = false, first = false;
	for (const char *at = skip_blanks(line); *at != '\0';) {
		if (works_chain(line, at))
			return false;
		if (tb_is_among(*at, ".,;:()! ")) {
			at++;
			continue;
		}
		size_t word = skip_beginning(at, first);
		if (word == 0)
			return false;
		size_t many = tb_at_word(at, "rounds rnds rows");
		begins = begins || tb_at_word(at, "begins begin starts start beginning starting") > 0;
		rounds = rounds || many > 0 || tb_at_word(at, "round rnd row") > 0;
		all = all || many > 0 || tb_at_word(at, "each every all") > 0;
		counted = counted || tb_at_word(at, "counts count counted") > 0;
		none = none || tb_at_word(at, "not never doesn't doesn’t isn't isn’t don't don’t") > 0;
		first = word > 5 && g_ascii_strncasecmp(at + word - 5, "first", 5) == 0;
		at += word;
	}
	return begins && rounds && all && (none || !counted);
}

/* The bytes of "13 (14, 15) sts" at AT; 0 where no such count stands there. */
static size_t span_count(const char *text)
{
	size_t at = strspn(text, "0123456789");
	if (at == 0)
		return 0;
	at += strspn(text + at, " 0123456789(),[]{}/-");
	size_t noun = tb_at_word(text + at, "st sts stitch stitches sc hdc dc tr htr dtr");
	return noun > 0 ? at + noun : 0;
}

bool tb_states_count(const char *text)
{
	bool thru = false, begins = true;
	for (const char *at = text; *at != '\0'; at++) {
		if (begins && tb_is_among(*at, " ([,;-="))
			continue;
		size_t count = at == text || !g_ascii_isalnum(at[-1]) ? span_count(at) : 0;
		size_t end = count + strspn(at + count, " )]");
		if (count > 0 && (thru || (begins && (at[end] == '\0' || tb_is_among(at[end], ".;!")))))
			return true;
		thru = thru || tb_at_word(at, "through thru") > 0;
		begins = tb_is_among(*at, ".;!");
		thru = thru && !begins;
	}
	return false;
}

/*
 * Whether LINE has one of the words without which it tells nothing of the kind, or the beginning of one: what counts, is
 * not counted, or how rows begin. Most rows have none.
 */
static bool may_tell(const char *line)
{
	static const char *const words[] = {"count", "height", "no", "never", "isn", "aren", "begin", "start", "is", "stand",
		"equal", "replace", "take", "act", "serve"};
	for (const char *at = line; *at != '\0'; at++) {
		if (*at == '=')
			return true;
		if (at > line && g_ascii_isalnum(at[-1]))
			continue;
		for (size_t i = 0; i < G_N_ELEMENTS(words); i++) {
			if (g_ascii_tolower(*at) == *words[i] && g_ascii_strncasecmp(at, words[i], strlen(words[i])) == 0)
				return true;
		}
	}
	return false;
}

bool tb_tells_all_rows(const char *line)
{
	return may_tell(line) && (tb_tells_counting(line) || tells_standing(line) || tells_beginning(line));
}

/* Where in LINE, which starts a piece, a last sentence begins that tells of all rows; 0 for nowhere. */
static size_t find_told_last(const char *line)
{
	const char *stop = strlen(line) > TB_LIMIT_LINE_BYTES ? NULL : strstr(line, ". ");
	for (; stop != NULL; stop = strstr(stop + 1, ". ")) {
		if (!g_ascii_isupper(stop[2]) || !tb_tells_all_rows(stop + 2))
			continue;
		g_autofree char *start = g_strndup(line, (gsize)(stop + 1 - line));
		return tb_find_start(start) >= 0 ? (size_t)(stop + 2 - line) : 0;
	}
	return 0;
}

/* Where in LINE, "UK terms. Tension: 16 sts to 10 cm.", a sentence tells the gauge by its name; 0 for nowhere. */
static size_t find_gauge(const char *line)
{
	const char *stop = strlen(line) > TB_LIMIT_LINE_BYTES ? NULL : strstr(line, ". ");
	for (; stop != NULL; stop = strstr(stop + 1, ". ")) {
		size_t name = tb_at_word(stop + 2, "Gauge Tension GAUGE TENSION");
		if (name > 0 && stop[2 + name] == ':')
			return (size_t)(stop + 2 - line);
	}
	return 0;
}

/* Where in LINE, "Ribbing: Work same as Left Front", what stands behind a part's name begins; 0 for another line. */
static size_t find_like(const char *line)
{
	static const char parts[] = "rib ribbing ribbed hem cuff band border edging waistband welt body yoke armhole armholes neck neckline "
		"shoulder shoulders";
	static const size_t longest = 30;
	const char *colon = strlen(line) > TB_LIMIT_LINE_BYTES ? NULL : strchr(line, ':');
	size_t length = colon != NULL ? (size_t)(colon - line) : 0;
	tb_row_head head;
	if (length == 0 || length > longest || colon[1] != ' ' || tb_find_words(line, length, parts) == length || tb_is_row_head(line, &head))
		return 0;
	/* "Body: Turn ribbing to work along the row ends." */
	bool led = tb_at_word(colon + 2, "turn rotate working with") > 0 && !tb_has_stitch(colon + 2) && strpbrk(colon + 2, "0123456789") == NULL;
	return led || tb_line_find_kind(colon + 2) == TB_LINE_LIKE ? length + 2 : 0;
}

/* The length of "Armhole shaping", "Buttonhole band", words that head a part of a garment, at the beginning of LINE; or 0. */
static size_t span_heading(const char *line)
{
	static const char kinds[] = "armhole neck front back left right shoulder sleeve cap raglan button buttonhole yoke collar body hem first second";
	static const char ends[] = "shaping band neckband edging collar border ribbing armholes neckline";
	size_t at = 0;
	if (!g_ascii_isupper(*line))
		return 0;
	for (unsigned words = 0; words < 4; words++) {
		size_t end = tb_at_word(line + at, ends), word = end > 0 ? end : tb_at_word(line + at, kinds);
		if (word == 0)
			return 0;
		at += word;
		if (end > 0)
			return at;
		at += strspn(line + at, " ");
	}
	return 0;
}

/* Where in LINE, "Armhole shaping Next row: Sl st across 4 sts", what stands behind its heading begins; 0 for another line. */
static size_t find_run_in(const char *line)
{
	size_t heading = strlen(line) > TB_LIMIT_LINE_BYTES ? 0 : span_heading(line);
	const char *rest = line + heading;
	tb_row_head head;
	/* "Neckband: With RS facing, join yarn at …" */
	size_t length = strlen(rest);
	if (heading > 0 && *rest == ':' && tb_at_word(rest + 2, "with") > 0)
		return rest[1] == ' ' && g_ascii_isupper(rest[2]) && tb_find_words(rest, length, "facing") < length &&
			tb_find_words(rest, length, "join rejoin") < length ? heading + 2 : 0;
	if (heading == 0 || *rest != ' ' || !g_ascii_isupper(rest[1]))
		return 0;
	bool row = tb_is_row_head(rest + 1, &head) && !head.is_bare && head.mark != '\0';
	bool held = tb_at_word(rest + 1, "with") > 0 && strpbrk(rest, ".,") != NULL;
	return row || held ? heading + 1 : 0;
}

/* "Ribbing. With smaller hook, ch 9.": a full stop behind a part's name is its colon. */
static void mark_part(char *line)
{
	size_t name = tb_at_word(line, "ribbing rib welt hem cuff band neckband waistband collar border brim"), second = name > 0 ? tb_at_word(line + name + 1, "ribbing rib") : 0;
	size_t stop = second > 0 && line[name] == ' ' ? name + 1 + second : name;
	bool chain = name > 0 && line[stop] == '.' && line[stop + 1] == ' ' &&
		tb_at_word(line + stop + 2, "with using change ch make chain") > 0 && tb_find_words(line, strlen(line), "ch chain") < strlen(line);
	if (chain)
		line[stop] = ':';
}

/*
 * Where in LINE, "… 16 sts, fasten off. Miss next 20 sts, rejoin yarn in next st, 3 ch, …", the second side begins; 0 for
 * another line.
 */
static size_t find_rejoining(const char *line)
{
	for (const char *stop = strlen(line) > TB_LIMIT_LINE_BYTES ? NULL : strstr(line, "asten off. "); stop != NULL; stop = strstr(stop + 1, "asten off. ")) {
		const char *rest = stop + strlen("asten off. ");
		size_t sentence = strcspn(rest, "."), join = tb_find_words(rest, sentence, "rejoin join");
		size_t work = join < sentence ? tb_find_words(rest + join, sentence - join, "ch chain") : sentence;
		if (tb_at_word(rest, "miss skip sk") > 0 && join < sentence && join + work < sentence)
			return (size_t)(rest - line);
	}
	return 0;
}

void tb_lines_part_told(tb_lines *lines)
{
	for (guint i = 0; i < lines->lines->len; i++) {
		tb_line *line = &g_array_index(lines->lines, tb_line, i), told = *line;
		mark_part(lines->chars + line->start);
		size_t at = find_told_last(lines->chars + line->start);
		at = at == 0 ? find_rejoining(lines->chars + line->start) : at;
		at = at == 0 ? find_gauge(lines->chars + line->start) : at;
		at = at == 0 ? find_like(lines->chars + line->start) : at;
		size_t run_in = at == 0 ? find_run_in(lines->chars + line->start) : 0;
		at = at == 0 ? run_in : at;
		if (at == 0)
			continue;
		told.start = line->start + (guint32)at;
		told.source = lines->offsets[told.start];
		told.listed = told.strong = false;
		told.step = 0;
		line->strong = line->strong || run_in > 0;
		line->end = told.start - 1;
		lines->chars[line->end] = '\0';
		g_array_insert_val(lines->lines, i + 1, told);
	}
}
