/* What a piece begins with: "Ch 85 (93, 101).", "Make a chain of 52 stitches", "a magic ring". */
#include "pattern/text_kinds.h"

#include <string.h>

/* Before its chain a start has words such as "With 5.5 mm hook and color A,". */
#define LONGEST_LEAD 160u
/* "Starting at the bottom of the foot:" */
#define LONGEST_LABEL 48u

static const char foundations[] = "ch chs chain chains fsc fhdc fdc ftr ffdc foundation";

static const char numbers[] = "two three four five six seven eight nine ten eleven twelve thirteen fourteen "
	"fifteen sixteen seventeen eighteen nineteen twenty thirty forty fifty sixty seventy eighty ninety";

static const char units[] = "one two three four five six seven eight nine";

static size_t skip_blanks(const char *text, size_t at)
{
	return at + strspn(text + at, " ");
}


/* "12 ch.", "40 fsc", "32 (38, 44) ch", "32-38-44 ch", "twelve chain" at TEXT. */
static bool at_counted_chains(const char *text)
{
	size_t digits = strspn(text, "0123456789");
	digits = digits > 0 ? digits : tb_at_word(text, numbers);
	/* "twenty-one" */
	if (digits > 0 && text[digits] == '-' && g_ascii_isalpha(text[0]))
		digits += tb_at_word(text + digits + 1, units) > 0 ? 1 + tb_at_word(text + digits + 1, units) : 0;
	/* "40-44-48 ch", "40/44/48 ch" */
	while (digits > 0 && tb_is_among(text[digits], "-/") && g_ascii_isdigit(text[digits + 1]))
		digits += 1 + strspn(text + digits + 1, "0123456789");
	/* "40, 44, 48 ch", a size each */
	size_t listed = digits;
	unsigned more = 0;
	while (digits > 0 && tb_is_among(text[listed], ",&") && g_ascii_isdigit(text[skip_blanks(text, listed + 1)])) {
		listed = skip_blanks(text, listed + 1);
		listed += strspn(text + listed, "0123456789");
		more++;
	}
	digits = more > 1 ? listed : digits;
	size_t chain = skip_blanks(text, digits);
	if (digits == 0)
		return false;
	/* "an 8-ch ring" */
	if (text[chain] == '-' && tb_at_word(text + chain + 1, "ch chain") > 0)
		return tb_at_word(text + skip_blanks(text, chain + 1 + tb_at_word(text + chain + 1, "ch chain")), "ring") > 0;
	if (text[chain] == '(' || text[chain] == '[') {
		size_t figures = strspn(text + chain + 1, "0123456789,;:- ");
		if (text[chain + 1 + figures] == ')' || text[chain + 1 + figures] == ']')
			chain = skip_blanks(text, chain + figures + 2);
	}
	return tb_at_word(text + chain, foundations) > 0;
}

/* "(60, 64, 68)", "[11 (13, 15)]" at TEXT: figures for the sizes, the first in the bracket too. */
static bool at_bracketed_figures(const char *text)
{
	size_t figures = *text == '(' || *text == '[' ? strspn(text + 1, "0123456789") : 0;
	const char *behind = text + 1 + figures + (figures > 0 ? strspn(text + 1 + figures, " ,;:/([") : 0);
	return figures > 0 && behind > text + 1 + figures && g_ascii_isdigit(*behind);
}

/* "ch 85", "chain 85", "a chain of 14", "ch a multiple of 4 plus 3" or "fsc 84" at TEXT. */
static bool at_chains(const char *text)
{
	size_t word = tb_at_word(text, "ch chain chaining chains fsc fhdc fdc ftr ffdc");
	/* "ch85" */
	if (word == 0 && g_ascii_strncasecmp(text, "ch", 2) == 0 && g_ascii_isdigit(text[2]))
		return true;
	/* "CO 60", "Cast on 60" */
	size_t cast = word == 0 ? tb_at_word(text, "co cast") : 0;
	if (cast == 4)
		cast = skip_blanks(text, cast) + tb_at_word(text + skip_blanks(text, cast), "on");
	if (cast > 0)
		return g_ascii_isdigit(text[skip_blanks(text, cast)]);
	if (word == 0)
		return false;
	/* "Ch. 14", "(ch) 8", "Foundation chain: 25" */
	const char *behind = text + word + strspn(text + word, " .:=)");
	/* "Foundation chain: 13 ch." begins at its number. */
	if (at_counted_chains(behind))
		return false;
	behind += strncmp(behind, "(ch)", 4) == 0 ? 4 : 0;
	behind += strspn(behind, " ");
	behind += tb_at_word(behind, "of up");
	behind += strspn(behind, " ");
	if (g_ascii_isdigit(*behind) || at_bracketed_figures(behind) || tb_at_word(behind, numbers) > 0)
		return true;
	behind += tb_at_word(behind, "a an any");
	behind += strspn(behind, " ");
	return tb_at_word(behind, "multiple even odd number") > 0;
}

/* "sufficiently long foundation chain", "chain of the length required" at TEXT. */
static bool at_open_chain(const char *text)
{
	size_t enough = tb_at_word(text, "sufficiently");
	if (enough > 0) {
		size_t at = skip_blanks(text, enough);
		at = skip_blanks(text, at + tb_at_word(text + at, "long"));
		at = skip_blanks(text, at + tb_at_word(text + at, "foundation base starting"));
		return tb_at_word(text + at, "ch chain") > 0;
	}
	size_t at = tb_at_word(text, "ch chain");
	if (at == 0)
		return false;
	at = skip_blanks(text, at);
	at = skip_blanks(text, at + tb_at_word(text + at, "of to for"));
	at = skip_blanks(text, at + tb_at_word(text + at, "the a any"));
	size_t word = tb_at_word(text + at, "required desired sufficient requisite necessary sufficiently long");
	/* "slightly longer than the towel", "as long as is needed" */
	if (tb_at_word(text + at, "slightly little longer") > 0 ||
		(tb_at_word(text + at, "as") > 0 && tb_at_word(text + skip_blanks(text, at + 2), "long") > 0))
		return true;
	return tb_at_word(text + at, "length width") > 0 ||
		(word > 0 && tb_at_word(text + skip_blanks(text, at + word), "length long enough") > 0);
}

/* "ring with your yarn" at TEXT. */
static bool at_ring_of_yarn(const char *text)
{
	size_t ring = tb_at_word(text, "ring loop circle"), at = skip_blanks(text, ring);
	size_t of = ring > 0 ? tb_at_word(text + at, "with of from") : 0;
	if (of == 0)
		return false;
	at = skip_blanks(text, at + of);
	at = skip_blanks(text, at + tb_at_word(text + at, "the your"));
	return tb_at_word(text + at, "yarn thread wool cotton") > 0;
}

/* "magic ring", "adjustable loop", "MR.", "wind thread 10 times around a pencil" */
static bool at_magic_ring(const char *text)
{
	size_t magic = tb_at_word(text, "magic adjustable sliding yarn amigurumi");
	if (magic > 0)
		return tb_at_word(text + skip_blanks(text, magic), "ring circle loop") > 0;
	/* "a ring of 8 chain": its chains are joined */
	size_t ring = skip_blanks(text, tb_at_word(text, "ring circle"));
	if (ring > 0 && tb_at_word(text + ring, "of") > 0 && at_counted_chains(text + skip_blanks(text, ring + 2)))
		return true;
	if (at_ring_of_yarn(text))
		return true;
	/* "wrap yarn 20 times round a card" makes a tassel */
	if (tb_at_word(text, "wind wrap") > 0 && strstr(text, " card") != NULL)
		return false;
	if (tb_at_word(text, "wind wrap") > 0)
		return strstr(text, " around ") != NULL || strstr(text, " round ") != NULL;
	return strncmp(text, "MR", 2) == 0 && (text[2] == '\0' || text[2] == '.' || text[2] == ',');
}

/* "Beginning shell: Ch 3, 4 dc" tells of a stitch; "Foundation chain: Ch 25" is a start. */
static bool is_label_of_start(const char *line, size_t colon)
{
	/* "4 mm hook, MC: ch 21" */
	size_t hook = tb_skip_hook(line);
	if (hook > 0 && hook <= colon && colon - hook < LONGEST_LABEL)
		return true;
	/* "Begin at the tip: ch 3" */
	size_t begin = tb_at_word(line, "begin start starting beginning commence at");
	size_t at_the = begin == 2 ? begin : skip_blanks(line, begin) + tb_at_word(line + skip_blanks(line, begin), "at from with");
	g_autofree char *where = g_strndup(line, colon);
	if (begin > 0 && at_the > begin - 1 && strpbrk(where, "0123456789,.;*(") == NULL && !tb_has_stitch(where) &&
		colon < LONGEST_LABEL)
		return true;
	for (size_t at = 0; at < colon;) {
		size_t word = tb_at_word(line + at, "foundation base start starting beginning beg chain ch to "
			"begin set-up setup set up work for in with color colour all sizes center centre middle");
		if (word == 0 && !(colon - at <= 2))
			return false;
		at = skip_blanks(line, at + MAX(word, 1));
	}
	return true;
}

/* "White.", "Dark yarn,": whether the first LENGTH bytes of LINE are a yarn by itself, in a word or two. */
static bool is_yarn_alone(const char *line, size_t length)
{
	static const char *const colours[] = {"red", "white", "black", "green", "yellow", "pink", "brown", "gray", "grey", "blue", "orange",
		"cream", "ecru", "gold", "purple", "navy", "teal", "coral", "rust", "mc", "cc", NULL};
	g_autofree char *said = g_ascii_strdown(line, (gssize)length);
	g_strdelimit(said, ".,:", ' ');
	g_auto(GStrv) words = g_strsplit(g_strstrip(said), " ", -1);
	guint count = g_strv_length(words);
	if (count == 0 || count > 3)
		return false;
	const char *last = words[count - 1];
	return g_strv_contains(colours, last) || (count > 1 && tb_at_word(last, "yarn wool cotton thread colour color") > 0);
}

/* "Cut the rags in strips. Ch 4.": where a chain alone is the last sentence of a line, or -1. */
static int find_last_sentence(const char *line)
{
	const char *last = NULL;
	for (const char *at = strstr(line, ". "); at != NULL; at = strstr(at + 2, ". "))
		last = at + 2;
	if (last != NULL && is_yarn_alone(line, (size_t)(last - line)) && at_counted_chains(last))
		return (int)(last - line);
	if (last == NULL || !at_chains(last) || strpbrk(last, ",;:(=") != NULL)
		return -1;
	size_t length = strlen(last), word = strcspn(last, " ");
	size_t digits = strspn(last + skip_blanks(last, word), "0123456789");
	return digits > 0 && skip_blanks(last, word) + digits + 1 == length ? (int)(last - line) : -1;
}

/* "start with a multiple of 6 chains, plus 2" tells which widths there are, and makes none. */
static bool is_multiple(const char *line, size_t at)
{
	static const char *const words[] = {"multiple of ", "multiples of "};
	for (size_t i = 0; i < G_N_ELEMENTS(words); i++) {
		size_t length = strlen(words[i]);
		if (at >= length && g_ascii_strncasecmp(line + at - length, words[i], length) == 0)
			return true;
	}
	return false;
}

/* "You don't need a magic ring" speaks to the reader, and begins nothing. */
static bool is_talk(const char *lead)
{
	for (const char *at = lead; *at != '\0'; at++) {
		/* "No. 40 thread" is no talk */
		bool numbered = g_ascii_strncasecmp(at, "no.", 3) == 0;
		if ((at == lead || at[-1] == ' ') && !numbered &&
			tb_at_word(at, "you no not without instead don't can't won't never than") > 0)
			return true;
	}
	return false;
}

/* "In A make 36 ch", "In white, ch 20": a colour's name stands there, and no place of the row. */
static bool is_in_colour(const char *line)
{
	size_t in = tb_at_word(line, "in"), name = skip_blanks(line, in);
	size_t letters = strspn(line + name, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ");
	if (in == 0 || letters == 0 || tb_at_word(line + name, "next each every last first same the all any ring "
			"this that these second third both one top back front st sp ch chain it which") > 0)
		return false;
	size_t verb = name + letters + strspn(line + name + letters, ", ");
	/* "In worsted yarn with a 5 mm hook, ch 56" */
	if (tb_at_word(line + verb, "yarn wool cotton thread weight") > 0)
		return true;
	return tb_at_word(line + verb, "make work ch chain crochet begin start") > 0;
}

/* "With crochet cotton and 2.5 mm hook,": a yarn that is called after the craft is no stitch. */
static bool has_stitch_beside_yarn(const char *lead)
{
	g_autofree char *said = g_strdup(lead);
	for (char *at = strstr(said, "crochet "); at != NULL; at = strstr(at + 1, "crochet ")) {
		if (tb_at_word(at + strlen("crochet "), "cotton thread yarn wool hook") > 0)
			memset(at, ' ', strlen("crochet"));
	}
	return tb_has_stitch(said);
}

size_t tb_find_zero_row(const char *line)
{
	size_t row = skip_blanks(line, tb_at_word(line, "row round rnd"));
	if (row == 0 || line[row] != '0' || (line[row + 1] != ':' && line[row + 1] != '.'))
		return 0;
	size_t chains = skip_blanks(line, row + 2);
	return at_chains(line + chains) || at_counted_chains(line + chains) ? chains : 0;
}

/* "Okay so ", "We'll need to ", "First, you": how one who talks comes to what is made; its length. */
static size_t skip_talk(const char *line)
{
	size_t at = 0, word;
	while ((word = tb_at_word(line + at, "okay ok alright right so well hey first firstly now then we'll we’ll we're we’re we you'll you’ll you "
			"let's let’s lets just simply i'll i’ll i going ahead go want need to will")) > 0) {
		at += word;
		at += strspn(line + at, ", ");
	}
	return at;
}

/* "In a metal ring or a magic ring:" */
static int find_ring_announced(const char *line)
{
	static const char magic[] = " magic ring:";
	size_t length = strlen(line);
	if (length < sizeof(magic) || tb_at_word(line, "in into over around working") == 0 || tb_has_stitch(line) ||
		g_ascii_strcasecmp(line + length - strlen(magic), magic) != 0)
		return -1;
	return (int)(length - strlen(magic) + 1);
}

int tb_find_start(const char *line)
{
	/* "** With 4 mm hook make 60 ch": from there on another piece is worked like this one */
	size_t stars = strspn(line, "*"), behind = skip_blanks(line, stars);
	if (stars > 1 && stars < 4 && behind > stars) {
		int starred = tb_find_start(line + behind);
		return starred >= 0 ? (int)behind + starred : -1;
	}
	size_t talk = skip_talk(line);
	int said = talk > 0 && talk < LONGEST_LEAD ? tb_find_start(line + talk) : -1;
	if (said >= 0)
		return (int)talk + said;
	if (tb_find_zero_row(line) > 0)
		return (int)tb_find_zero_row(line);
	/* "Still with the 5 mm hook, make 120 ch" */
	size_t again = tb_at_word(line, "still again now then next");
	again += again > 0 ? strspn(line + again, " ,") : 0;
	bool led = tb_at_word(line + again, "set-up setup change switch swap leave pick choose for with using use loosely make begin start to form foundation base on "
		"starting beginning work leaving commence commencing beg crochet create mount weave build into first and over upon cast "
		"main contrast contrasting color colour mc cc holding center centre middle at") > 0;
	led = led || is_in_colour(line) || tb_skip_hook(line) > 0;
	if (at_chains(line) || at_magic_ring(line) || at_counted_chains(line) || at_open_chain(line))
		return 0;
	const char *colon = strchr(line, ':');
	led = led || is_yarn_alone(line, strcspn(line, ",:"));
	for (size_t at = 1; led && line[at] != '\0' && at < LONGEST_LEAD; at++) {
		if (g_ascii_isalnum(line[at - 1]) || line[at - 1] == '-')
			continue;
		if (at_chains(line + at) || at_counted_chains(line + at) || at_magic_ring(line + at) ||
			at_open_chain(line + at)) {
			if (is_multiple(line, at))
				return -1;
			/* "make 6 sc in a magic ring": what stands before it is worked */
			g_autofree char *lead = g_strndup(line, at);
			if (is_talk(lead))
				return -1;
			bool labelled = colon != NULL && colon < line + at;
			if (!labelled && has_stitch_beside_yarn(lead))
				return 0;
			/* "To begin: 6 sc in a magic ring": what stands before the ring is worked in it */
			if (labelled && tb_has_stitch(lead + (colon - line)))
				return is_label_of_start(line, (size_t)(colon - line)) ?
					(int)skip_blanks(line, (size_t)(colon - line) + 1) : -1;
			return colon == NULL || colon > line + at ||
				is_label_of_start(line, (size_t)(colon - line)) ? (int)at : -1;
		}
	}
	int announced = find_ring_announced(line);
	return announced >= 0 ? announced : find_last_sentence(line);
}

bool tb_start_works_row(const char *start)
{
	g_autofree char *lower = g_ascii_strdown(start, -1);
	/* "Make a magic ring and work 12 dc into it" */
	if (tb_has_stitch(start) && (strstr(lower, " it") != NULL || strstr(lower, " ring") != NULL) && strstr(lower, "join") == NULL)
		return true;
	/* "Ch 70, fasten off": a cord */
	static const char *const ends[] = {"fasten off", "finish off", "cut yarn", "cut the yarn", ", fo"};
	for (size_t i = 0; i < G_N_ELEMENTS(ends); i++) {
		if (strstr(lower, ends[i]) != NULL)
			return true;
	}
	return strstr(lower, " from hook") != NULL || strstr(lower, " from the hook") != NULL;
}

/* "On 62 chain work the 1st row: …": what stands before "the", from LINE to END. */
bool tb_leads_to_first_row(const char *line, const char *end)
{
	static const char *const leads[] = {" work", " make", " work:", " work as follows:", " work thus:"};
	for (size_t i = 0; i < G_N_ELEMENTS(leads); i++) {
		size_t length = strlen(leads[i]);
		/* a chain as long as is needed is read with the row that tells it */
		if ((size_t)(end - line) > length && g_ascii_strncasecmp(end - length, leads[i], length) == 0)
			return strcspn(line, "0123456789") < (size_t)(end - line);
	}
	return false;
}

bool tb_start_has_row(const char *line)
{
	tb_row_head head;
	for (const char *at = strchr(line, ' '); at != NULL; at = strchr(at + 1, ' ')) {
		if (tb_leads_to_first_row(line, at) && tb_is_row_head(at + 1, &head) && head.first == 1 && head.mark == ':' &&
			tb_has_stitch(at + 1))
			return true;
	}
	for (const char *at = strstr(line, ". "); at != NULL; at = strstr(at + 2, ". ")) {
		const char *next = at + 1 + strspn(at + 1, " ");
		if (tb_is_row_head(next, &head) && head.first == 1 && !head.is_bare && head.mark != '\0' &&
			tb_has_stitch(next))
			return true;
	}
	return false;
}
