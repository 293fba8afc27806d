/* Lengths, hooks and row ranges, as designers write them in a pattern's head. */
#include "pattern/read.h"
#include "pattern/text_kinds.h"

#include "support/limits.h"
#include "support/nearest.h"
#include "support/units.h"

#include <string.h>

/* "With the larger hook and color A, …" before a row's first chain. */
#define LONGEST_LEAD 80

/* Reads "10", "10.5", "10,5" at *AT and moves past it. False when no digit stands there. */
static bool read_decimal(const char **at, double *value)
{
	const char *c = *at;
	if (!g_ascii_isdigit(*c))
		return false;
	*value = 0;
	for (; g_ascii_isdigit(*c); c++)
		*value = MIN(*value * 10 + (*c - '0'), 1e9);
	if ((*c == '.' || *c == ',') && g_ascii_isdigit(c[1])) {
		double place = 0.1;
		for (c++; g_ascii_isdigit(*c); c++, place /= 10)
			*value += (*c - '0') * place;
	}
	*at = c;
	return true;
}

static const char *skip_blank(const char *c)
{
	return c + strspn(c, " \t");
}

bool tb_read_length(const char *text, double *mm, bool *inches)
{
	static const struct {
		const char *unit;
		double mm;
	} units[] = {
		{"cm", 10}, {"centimetres", 10}, {"centimeters", 10}, {"mm", 1}, {"in", TB_MM_PER_INCH},
		{"in.", TB_MM_PER_INCH}, {"ins", TB_MM_PER_INCH}, {"inch", TB_MM_PER_INCH},
		{"inches", TB_MM_PER_INCH}, {"\"", TB_MM_PER_INCH}, {"″", TB_MM_PER_INCH}, {"”", TB_MM_PER_INCH},
	};
	const char *c = skip_blank(text);
	double value;
	if (!read_decimal(&c, &value) || value <= 0)
		return false;
	g_autofree char *unit = g_strstrip(g_strdup(c));
	for (size_t i = 0; i < G_N_ELEMENTS(units); i++) {
		if (g_ascii_strcasecmp(unit, units[i].unit) == 0) {
			*mm = value * units[i].mm;
			*inches = units[i].mm == TB_MM_PER_INCH;
			return true;
		}
	}
	return false;
}

double tb_read_hook(const char *text)
{
	for (const char *c = text; *c != '\0';) {
		double value;
		if (!read_decimal(&c, &value))
			c++;
		else if (g_ascii_strncasecmp(skip_blank(c), "mm", 2) == 0)
			return value;
	}
	return 0;
}

static bool read_row(const char **at, unsigned *row)
{
	double value;
	const char *c = skip_blank(*at);
	if (!read_decimal(&c, &value) || value < 1 || value > TB_LIMIT_PIECE_ROWS ||
		value != (unsigned)value)
		return false;
	*row = (unsigned)value;
	*at = skip_blank(c);
	return true;
}

bool tb_read_row_range(const char *text, unsigned *first, unsigned *last)
{
	const char *c = text;
	if (!read_row(&c, first))
		return false;
	*last = *first;
	size_t dash = g_str_has_prefix(c, "–") ? strlen("–") : *c == '-';
	if (dash > 0) {
		c += dash;
		if (!read_row(&c, last))
			return false;
	}
	return *c == '\0' && *first <= *last;
}

const char *tb_check_name(const char *name)
{
	g_autofree char *stripped = g_strstrip(g_strdup(name));
	if (*stripped == '\0')
		return "is empty";
	if (strlen(name) > TB_LIMIT_NAME_BYTES)
		return "is too long";
	for (const char *c = name; *c != '\0'; c = g_utf8_next_char(c)) {
		if (g_unichar_iscntrl(g_utf8_get_char(c)))
			return "has a control character in it";
	}
	return NULL;
}

char *tb_hint_piece(const tb_pattern *pattern, const char *name)
{
	g_autoptr(GPtrArray) names = g_ptr_array_new();
	for (unsigned i = 0; i < tb_pattern_count_pieces(pattern); i++)
		g_ptr_array_add(names, (gpointer)tb_pattern_get_piece(pattern, i));
	const char *nearest =
		tb_nearest(name, strlen(name), (const char *const *)names->pdata, names->len);
	return nearest != NULL ? g_strdup_printf("Did you mean “%s”?", nearest) : NULL;
}

/* The word WORD of a text in small letters, with no letter or figure beside it. */
static const char *find_word(const char *text, const char *word)
{
	for (const char *at = text; (at = strstr(at, word)) != NULL; at++) {
		char behind = at[strlen(word)];
		if ((at == text || !g_ascii_isalpha(at[-1])) && !g_ascii_isalpha(behind))
			return at;
	}
	return NULL;
}

/* Where the chain that ROW begins with stands, behind its head; NULL when it begins otherwise. */
static const char *find_first_chain(const char *row)
{
	tb_row_head head;
	size_t at = tb_is_row_head(row, &head) ? head.length : 0;
	const char *chain = find_word(row + at, "ch");
	const char *word = find_word(row + at, "chain");
	if (chain == NULL || (word != NULL && word < chain))
		chain = word;
	if (chain == NULL || chain - row - (ptrdiff_t)at > LONGEST_LEAD)
		return NULL;
	/* The chain is what the row begins with, and not the place of a stitch. */
	g_autofree char *lead = g_strndup(row + at, (gsize)(chain - row) - at);
	return tb_has_stitch(lead) ? NULL : chain;
}

/* "Rnds 1-8 as first ear", and not "Row 5: As Row 3": the rows are those of another piece. */
static bool is_as_piece(const char *row, size_t at)
{
	at += strspn(row + at, " ");
	at += tb_at_word(row + at, "same");
	at += strspn(row + at, " ");
	size_t as = tb_at_word(row + at, "as");
	const char *of = row + at + as + strspn(row + at + as, " ");
	of += tb_at_word(of, "for the");
	of += strspn(of, " ");
	of += tb_at_word(of, "the");
	of += strspn(of, " ");
	return as > 0 && g_ascii_isalpha(*of) && tb_at_word(of, "row rows rnd rnds round rounds before above "
		"established follows set last previous") == 0;
}

/* "Ch 2, 6 sc in first ch", and not "in first ch-2 sp" */
static bool names_first_chain(const char *text)
{
	static const char *const first[] = {"first ch", "first chain", "1st ch", "1st chain", "second ch",
		"second chain", "2nd ch", "2nd chain"};
	for (size_t i = 0; i < G_N_ELEMENTS(first); i++) {
		const char *at = find_word(text, first[i]);
		const char *behind = at != NULL ? at + strlen(first[i]) : "-";
		behind += *behind == ' ';
		if (*behind != '-' && tb_at_word(behind, "sp space loop lp of") == 0)
			return true;
	}
	return false;
}

/* "Ch 20, join, sc in each ch around": a chain longer than any that turns. */
static bool joins_chain(const char *chain)
{
	const char *figures = chain + strcspn(chain, " .,;");
	figures += strspn(figures, " ");
	size_t many = strspn(figures, "0123456789");
	const char *behind = figures + many + strspn(figures + many, " ,;.");
	behind += tb_at_word(behind, "and");
	behind += strspn(behind, " ");
	return many > 0 && g_ascii_strtoull(figures, NULL, 10) > 8 && tb_at_word(behind, "join") > 0 && strstr(behind, " ch") != NULL;
}

/* "Sc in each st of first leg": the row stands on other pieces. */
static bool names_other_work(const char *text)
{
	static const char which[] = "first 1st second 2nd third 3rd other both left right next each last one";
	static const char limbs[] = "leg legs foot feet ear ears earflap earflaps arm arms wing wings fluke flukes "
		"flipper flippers fin fins flap flaps paw paws claw claws horn horns toe toes finger fingers tail tails "
		"eye eyes strap straps handle handles sleeve sleeves lobe lobes bump bumps hump humps tooth teeth boot boots "
		"hoof hooves pincer pincers tentacle tentacles peak peaks";
	for (const char *at = text; *at != '\0'; at++) {
		if (at > text && g_ascii_isalnum(at[-1]))
			continue;
		size_t word = tb_at_word(at, which), limb = tb_at_word(at, limbs);
		if (word > 0 && tb_at_word(at + word + strspn(at + word, " "), limbs) > 0)
			return true;
		/* "leg 2", "leg two" */
		const char *number = at + limb + strspn(at + limb, " #");
		if (limb > 0 && number > at + limb && ((g_ascii_isdigit(*number) && !g_ascii_isdigit(number[1])) ||
				tb_at_word(number, "one two three") > 0))
			return true;
	}
	return false;
}

/* "Sc across back, ch 6, sc across front": the row joins pieces that are there. */
static bool joins_parts(const char *text)
{
	unsigned parts = 0;
	for (const char *at = text; *at != '\0'; at++) {
		if (at > text && g_ascii_isalnum(at[-1]))
			continue;
		size_t of = tb_at_word(at, "of across along around from");
		const char *part = at + of + strspn(at + of, " ");
		for (size_t word; of > 0 && (word = tb_at_word(part, "the each first second left right other next")) > 0;)
			part += word + strspn(part + word, " ");
		parts += of > 0 && tb_at_word(part, "front back body sleeve piece") > 0;
	}
	return parts > 1;
}

/* "Leave the last 4 sts for the opening" tells of what is not worked: no start is in it. */
static void blank_what_is_left(char *text)
{
	for (char *at = text; *at != '\0'; at++) {
		if ((at == text || !g_ascii_isalpha(at[-1])) && tb_at_word(at, "leave leaving") > 0)
			memset(at, ' ', strcspn(at, ".;"));
	}
}

/* "1st row: Make a chain of 64 stitches; miss 5, …": too long to be the chain that a row only rises by. */
static bool makes_long_chain(const char *first, const char *chain)
{
	while (*first != '\0' && !g_ascii_isalnum(*first))
		first++;
	if (tb_at_word(first, "make work commence begin start") == 0)
		return false;
	size_t word = tb_at_word(chain, "chain ch");
	const char *of = chain + word + strspn(chain + word, " ");
	size_t length = tb_at_word(of, "of");
	of += length + strspn(of + length, " ");
	return word > 0 && length > 0 && strspn(of, "0123456789") > 1;
}

/* A first row may work a magic ring, a chain of stitches, or the chain it then works into. */
bool tb_row_brings_start(const char *row)
{
	static const char *const words[] = {"magic", "mr", "adjustable ring", "adjustable loop",
		"sliding loop", "fsc", "fhdc", "fdc", "ftr", "ffdc", "foundation chain", "foundation sc",
		"foundation dc", "foundation hdc", "foundation single", "foundation half", "foundation double",
		"in mc", "into mc", "in ring", "in a ring", "in the ring", "into ring", "into a ring",
		"into the ring", "yarn loop", "yarn ring", "loop of yarn", "ring of yarn", "thread loop", "thread ring",
		"loop of thread", "finger loop", "starting ring", "starting loop", "slip ring", "amigurumi ring",
		"amigurumi circle", "amigurumi loop"};
	/* an edging begins on what it is for; whether its first row says so, the row language knows */
	static const char *const cloth[] = {"evenly", "closely", "hem", "edge", "opening", "handkerchief",
		"hanky", "towel", "napkin", "cloth", "linen", "material", "fabric", "rick-rack", "rickrack",
		"plastic ring", "brass ring", "bone ring", "metal ring", "wooden ring", "wood ring", "curtain ring", "cabone ring",
		"hair tie", "elastic", "hoop", "bangle", "around ring", "around the ring", "over the ring", "cover the ring",
		"holes", "first hole", "each hole", "armhole", "armholes", "neckline", "along side", "along the side", "along each side", "thumbhole", "thumb hole", "thumb opening", "right front", "left front", "back neck", "skipped", "missed", "missed st", "missed sts", "missed stitches", "in each corner"};
	static const char *const into[] = {"from hook", "from the hook", "from needle", "from the needle", "form a ring",
		"form ring", " of ch", "foundation"};
	g_autofree char *text = g_ascii_strdown(row, -1);
	blank_what_is_left(text);
	for (size_t i = 0; i < G_N_ELEMENTS(words); i++) {
		if (find_word(text, words[i]) != NULL)
			return true;
	}
	tb_row_head head;
	size_t at = tb_is_row_head(row, &head) ? head.length : 0;
	/* "Rnd 1: MC 6 sc": the magic circle; behind a colour would be a comma, but in a first round. */
	const char *first = row + at + strspn(row + at, " ");
	size_t circle = tb_at_word(first, "mc");
	circle += circle > 0 && first[circle] == ',' && at > 0 && head.first == 1 && tb_at_word(row, "rnd rd round r") > 0;
	if (circle > 0 && first[circle] == ' ' && (g_ascii_isdigit(first[circle + 1]) ||
			tb_at_word(first + circle + 1, "with") > 0))
		return true;
	if (tb_line_find_kind(row) == TB_LINE_LIKE || (at > 0 && (is_as_piece(row, at) || tb_line_find_kind(first) == TB_LINE_LIKE)))
		return true;
	for (size_t i = 0; i < G_N_ELEMENTS(cloth); i++) {
		if (find_word(text, cloth[i]) != NULL)
			return true;
	}
	if (names_other_work(text) || joins_parts(text))
		return true;
	const char *chain = find_first_chain(text);
	for (size_t i = 0; chain != NULL && i < G_N_ELEMENTS(into); i++) {
		if (strstr(chain, into[i]) != NULL)
			return true;
	}
	return chain != NULL && (names_first_chain(chain) || joins_chain(chain) || makes_long_chain(first, chain));
}

bool tb_picks_up_sleeve(const char *heading, const char *row)
{
	g_autofree char *name = heading != NULL ? g_ascii_strdown(heading, -1) : NULL;
	g_autofree char *text = g_ascii_strdown(row, -1);
	return name != NULL && strstr(name, "sleeve") != NULL && strstr(text, "from hook") == NULL &&
		(strstr(text, "underarm") != NULL || strstr(text, "sleeve") != NULL || find_word(text, "each ch") != NULL ||
			find_word(text, "rem ch") != NULL);
}

bool tb_piece_brings_start(const tb_piece *piece)
{
	const tb_text *row = piece->rows->len > 0 ? piece->rows->pdata[0] : NULL;
	return row != NULL && (tb_row_brings_start(row->chars) || tb_picks_up_sleeve(piece->heading != NULL ? piece->heading : piece->name, row->chars));
}
