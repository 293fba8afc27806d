/* The names that stand at the head of a line: fields, facts, sections. */
#include "pattern/text_kinds.h"

#include "support/nearest.h"

#include <string.h>

#define MOST_NAME_WORDS 5u

static const struct {
	const char *name;
	tb_field field;
} fields[] = {
	{"title", TB_FIELD_TITLE}, {"name", TB_FIELD_TITLE}, {"pattern name", TB_FIELD_TITLE},
	{"designer", TB_FIELD_DESIGNER}, {"design", TB_FIELD_DESIGNER},
	{"designed by", TB_FIELD_DESIGNER}, {"design by", TB_FIELD_DESIGNER},
	{"pattern by", TB_FIELD_DESIGNER}, {"author", TB_FIELD_DESIGNER},
	{"about", TB_FIELD_ABOUT}, {"description", TB_FIELD_ABOUT},
	{"licence", TB_FIELD_LICENCE}, {"license", TB_FIELD_LICENCE}, {"terms", TB_FIELD_TERMS},
	{"terminology", TB_FIELD_TERMS}, {"stitch terms", TB_FIELD_TERMS},
	{"crochet terms", TB_FIELD_TERMS}, {"terms used", TB_FIELD_TERMS}, {"sizes", TB_FIELD_SIZES},
	{"size", TB_FIELD_SIZES}, {"size(s)", TB_FIELD_SIZES}, {"sizes available", TB_FIELD_SIZES},
	{"available sizes", TB_FIELD_SIZES}, {"sizes included", TB_FIELD_SIZES},
	{"to fit", TB_FIELD_SIZES}, {"to fit sizes", TB_FIELD_SIZES}, {"to fit size", TB_FIELD_SIZES},
	{"fits sizes", TB_FIELD_SIZES}, {"hook", TB_FIELD_HOOK},
	{"hooks", TB_FIELD_HOOK}, {"hook(s)", TB_FIELD_HOOK}, {"hook size", TB_FIELD_HOOK},
	{"crochet hook", TB_FIELD_HOOK}, {"crochet hooks", TB_FIELD_HOOK},
	{"recommended hook", TB_FIELD_HOOK}, {"yarn", TB_FIELD_YARN}, {"yarns", TB_FIELD_YARN},
	{"yarn used", TB_FIELD_YARN}, {"recommended yarn", TB_FIELD_YARN},
	{"suggested yarn", TB_FIELD_YARN}, {"yarn weight", TB_FIELD_YARN_WEIGHT},
	{"gauge", TB_FIELD_GAUGE}, {"tension", TB_FIELD_GAUGE}, {"gauge/tension", TB_FIELD_GAUGE},
	{"tension/gauge", TB_FIELD_GAUGE}, {"gauge swatch", TB_FIELD_GAUGE},
	{"gauge and tension", TB_FIELD_GAUGE}, {"stitch gauge", TB_FIELD_GAUGE},
	{"tension square", TB_FIELD_GAUGE}, {"chart", TB_FIELD_CHART}, {"charts", TB_FIELD_CHART},
};

static const struct {
	const char *name;
	tb_section section;
} sections[] = {
	{"notes", TB_SECTION_NOTES}, {"note", TB_SECTION_NOTES}, {"tips", TB_SECTION_NOTES},
	{"tip", TB_SECTION_NOTES}, {"hint", TB_SECTION_NOTES}, {"hints", TB_SECTION_NOTES},
	{"important", TB_SECTION_NOTES}, {"nb", TB_SECTION_NOTES}, {"please note", TB_SECTION_NOTES},
	{"designer's comments", TB_SECTION_NOTES}, {"multiple", TB_SECTION_NOTES},
	{"stitch multiple", TB_SECTION_NOTES}, {"pattern multiple", TB_SECTION_NOTES},
	{"copyright", TB_SECTION_NOTES}, {"contents", TB_SECTION_NOTES}, {"tutorial", TB_SECTION_NOTES},
	{"video", TB_SECTION_NOTES}, {"schematic", TB_SECTION_NOTES}, {"construction", TB_SECTION_NOTES},
	{"overview", TB_SECTION_NOTES}, {"introduction", TB_SECTION_NOTES}, {"inspiration", TB_SECTION_NOTES},
	{"before you begin", TB_SECTION_NOTES}, {"good to know", TB_SECTION_NOTES},
	{"things to know", TB_SECTION_NOTES}, {"to know", TB_SECTION_NOTES},
	{"worth knowing", TB_SECTION_NOTES}, {"read this first", TB_SECTION_NOTES}, {"color sequence", TB_SECTION_NOTES},
	{"colour sequence", TB_SECTION_NOTES}, {"stripe sequence", TB_SECTION_NOTES},
	{"homework", TB_SECTION_NOTES}, {"challenge", TB_SECTION_NOTES}, {"question", TB_SECTION_NOTES},
	{"questions", TB_SECTION_NOTES}, {"extra credit", TB_SECTION_NOTES}, {"troubleshooting", TB_SECTION_NOTES},
	{"quick tip", TB_SECTION_NOTES}, {"pro tip", TB_SECTION_NOTES}, {"helpful hint", TB_SECTION_NOTES},
	{"helpful hints", TB_SECTION_NOTES}, {"helpful tip", TB_SECTION_NOTES}, {"did you know", TB_SECTION_NOTES},
	{"materials", TB_SECTION_MATERIALS}, {"material", TB_SECTION_MATERIALS},
	{"supplies", TB_SECTION_MATERIALS}, {"tools", TB_SECTION_MATERIALS},
	{"notions", TB_SECTION_MATERIALS}, {"you will need", TB_SECTION_MATERIALS},
	{"you'll need", TB_SECTION_MATERIALS}, {"what you need", TB_SECTION_MATERIALS}, {"you need", TB_SECTION_MATERIALS},
	{"what you'll need", TB_SECTION_MATERIALS}, {"other materials", TB_SECTION_MATERIALS},
	{"measurements", TB_SECTION_MATERIALS}, {"finished size", TB_SECTION_MATERIALS},
	{"finished sizes", TB_SECTION_MATERIALS}, {"finished measurements", TB_SECTION_MATERIALS},
	{"finished dimensions", TB_SECTION_MATERIALS}, {"dimensions", TB_SECTION_MATERIALS},
	{"skill level", TB_SECTION_MATERIALS}, {"level", TB_SECTION_MATERIALS},
	{"difficulty", TB_SECTION_MATERIALS}, {"difficulty level", TB_SECTION_MATERIALS},
	{"skills", TB_SECTION_MATERIALS}, {"colors", TB_SECTION_MATERIALS},
	{"colours", TB_SECTION_MATERIALS}, {"needle", TB_SECTION_MATERIALS},
	{"equipment", TB_SECTION_MATERIALS}, {"requirements", TB_SECTION_MATERIALS},
	{"ease", TB_SECTION_MATERIALS}, {"sizing", TB_SECTION_MATERIALS},
	{"abbreviations", TB_SECTION_DEFINITIONS}, {"abbreviation", TB_SECTION_DEFINITIONS},
	{"stitches", TB_SECTION_DEFINITIONS}, {"stitch guide", TB_SECTION_DEFINITIONS},
	{"stitch key", TB_SECTION_DEFINITIONS}, {"stitch glossary", TB_SECTION_DEFINITIONS},
	{"glossary", TB_SECTION_DEFINITIONS}, {"stitch patterns", TB_SECTION_DEFINITIONS},
	{"stitch pattern", TB_SECTION_DEFINITIONS}, {"special techniques", TB_SECTION_DEFINITIONS},
	{"techniques", TB_SECTION_DEFINITIONS}, {"key", TB_SECTION_DEFINITIONS},
	{"stitch descriptions", TB_SECTION_DEFINITIONS}, {"pattern stitches", TB_SECTION_DEFINITIONS},
	{"stitch explanations", TB_SECTION_DEFINITIONS}, {"stitch instructions", TB_SECTION_DEFINITIONS},
	{"terms", TB_SECTION_DEFINITIONS}, {"terms used", TB_SECTION_DEFINITIONS},
	{"stitch definitions", TB_SECTION_DEFINITIONS}, {"legend", TB_SECTION_DEFINITIONS},
	{"finishing", TB_SECTION_FINISHING}, {"finish", TB_SECTION_FINISHING},
	{"to finish", TB_SECTION_FINISHING}, {"assembly", TB_SECTION_FINISHING},
	{"assembling", TB_SECTION_FINISHING}, {"to assemble", TB_SECTION_FINISHING},
	{"making up", TB_SECTION_FINISHING}, {"to make up", TB_SECTION_FINISHING},
	{"make up", TB_SECTION_FINISHING}, {"sewing up", TB_SECTION_FINISHING},
	{"joining the pieces", TB_SECTION_FINISHING}, {"seaming", TB_SECTION_FINISHING},
	{"blocking", TB_SECTION_FINISHING}, {"putting it together", TB_SECTION_FINISHING},
	{"care", TB_SECTION_FINISHING}, {"washing instructions", TB_SECTION_FINISHING},
};

/* Sections go by many longer names: "Pattern notes", "Abbreviations & special stitches used". */
static const struct {
	const char *word;
	tb_section section;
} kin[] = {
	{"abbreviations", TB_SECTION_DEFINITIONS}, {"special stitch", TB_SECTION_DEFINITIONS},
	{"special stitches", TB_SECTION_DEFINITIONS}, {"stitches used", TB_SECTION_DEFINITIONS},
	{"stitch guide", TB_SECTION_DEFINITIONS}, {"materials", TB_SECTION_MATERIALS},
	{"supplies", TB_SECTION_MATERIALS}, {"measurements", TB_SECTION_MATERIALS},
	{"notes", TB_SECTION_NOTES}, {"note", TB_SECTION_NOTES}, {"assembly", TB_SECTION_FINISHING},
	{"finishing", TB_SECTION_FINISHING}, {"making up", TB_SECTION_FINISHING},
};

static bool same_name(const char *text, size_t length, const char *name)
{
	return strlen(name) == length && g_ascii_strncasecmp(text, name, length) == 0;
}

/* Where the name at the head of a line begins, signs of a heading left aside. */
static size_t skip_signs(const char *line)
{
	return strspn(line, "# ");
}

/*
 * The name that stands before a colon, or before " - ", or alone: its bytes, blanks and a bracket at
 * its end left out. *AFTER is what lies behind the colon, *CLOSED whether there was one.
 */
static size_t read_name(const char *line, size_t start, size_t *after, bool *closed)
{
	size_t length = strcspn(line + start, ":");
	const char *dash = strstr(line + start, " - ");
	if (dash == NULL)
		dash = strstr(line + start, " — ");
	if (dash != NULL && (size_t)(dash - line) < start + length)
		length = (size_t)(dash - line) - start;
	*closed = line[start + length] != '\0';
	*after = start + length;
	if (*closed)
		*after += line[*after] == ':' ? 1 : strcspn(line + *after + 1, " ") + 1;
	while (length > 0 && line[start + length - 1] == ' ')
		length--;
	if (length > 3 && line[start + length - 1] == ')' && !same_name(line + start, length, "size(s)") &&
		!same_name(line + start, length, "hook(s)")) {
		const char *open = g_strrstr_len(line + start, (gssize)length, "(");
		if (open != NULL)
			length = (size_t)(open - line) - start;
		while (length > 0 && line[start + length - 1] == ' ')
			length--;
	}
	return length;
}

/* Fields that may stand alone on a line, their value below. */
static bool may_stand_alone(tb_field field)
{
	return field == TB_FIELD_GAUGE || field == TB_FIELD_SIZES || field == TB_FIELD_HOOK ||
		field == TB_FIELD_YARN || field == TB_FIELD_TERMS;
}

/* "S", "XL", "2X", "Small", "Child", "20" at TEXT. */
static bool at_size(const char *text)
{
	size_t letters = strspn(text, "0123456789XxSsMmLl/");
	/* "Size 10 crochet thread" is no garment's */
	bool parted = !tb_is_among(text[letters], " ,/([") ||
		tb_is_among(text[letters + strspn(text + letters, " ")], "(,[/-SMLXsmlx0123456789");
	return (letters > 0 && !g_ascii_isalnum(text[letters]) && parted) ||
		tb_at_word(text, "small medium large x-small x-large child adult newborn baby toddler") > 0;
}

tb_field tb_find_field(const char *line, size_t *value)
{
	size_t start = skip_signs(line);
	bool closed;
	size_t length = read_name(line, start, value, &closed);
	for (size_t i = 0; i < G_N_ELEMENTS(fields); i++) {
		/* "Terms: MR = magic ring, sc = single crochet" lists what is meant by them */
		if (fields[i].field == TB_FIELD_TERMS && strchr(line + start, '=') != NULL)
			continue;
		/* "## Gauge": the value follows below. */
		if (same_name(line + start, length, fields[i].name) &&
			(closed || start > 0 || may_stand_alone(fields[i].field)))
			return fields[i].field;
	}
	/* "Tension 14 sts = 10 cm" */
	size_t gauge = tb_at_word(line, "gauge tension");
	if (gauge > 0 && line[gauge] == ' ' && g_ascii_isdigit(line[gauge + 1])) {
		*value = gauge;
		return TB_FIELD_GAUGE;
	}
	/* "Sizes S (M, L)" */
	size_t sizes = tb_at_word(line, "sizes size");
	if (sizes > 0 && line[sizes] == ' ' && at_size(line + sizes + 1) &&
		strpbrk(line, "(,[/") != NULL) {
		*value = sizes;
		return TB_FIELD_SIZES;
	}
	return TB_FIELD_NONE;
}

const char *tb_nearest_field(const char *line, size_t *length)
{
	const char *names[G_N_ELEMENTS(fields)];
	for (size_t i = 0; i < G_N_ELEMENTS(fields); i++)
		names[i] = fields[i].name;
	*length = strcspn(line, ":");
	if (line[*length] != ':' || line[*length + 1] == '\0' || *length < 4 || *length > 20)
		return NULL;
	return tb_nearest(line, *length, names, G_N_ELEMENTS(fields));
}

static unsigned count_words(const char *text, size_t length)
{
	unsigned words = 0;
	for (size_t i = 0; i < length; i++)
		words += text[i] != ' ' && (i == 0 || text[i - 1] == ' ');
	return words;
}

/* Whether WORD begins at a word of the name, letter case aside, and ends at one. */
static bool has_word(const char *name, size_t length, const char *word)
{
	size_t wanted = strlen(word);
	for (size_t at = 0; at + wanted <= length; at++) {
		if ((at == 0 || name[at - 1] == ' ') && g_ascii_strncasecmp(name + at, word, wanted) == 0 &&
			(at + wanted == length || tb_is_among(name[at + wanted], " ,")))
			return true;
	}
	return false;
}

/* "How the shaping works", "About this pattern", "Before you start": what is told there is explained, and worked below. */
static bool explains(const char *name, size_t length)
{
	static const char *const worked[] = {"to make", "to crochet", "to work", "to knit", "to join", "to sew", "to finish", "to begin", "to start"};
	size_t lead = tb_at_word(name, "how why about"), next = lead;
	size_t before = tb_at_word(name, "before");
	if (before > 0 && name[before] == ' ')
		next = tb_at_word(name + before + 1, "you we") > 0 ? before : 0;
	else if (lead > 0 && name[lead] == '\'')
		return false;
	if (next == 0 || next + 1 >= length || name[next] != ' ' || !g_ascii_isupper(*name) || count_words(name, length) > MOST_NAME_WORDS + 1)
		return false;
	for (size_t i = 0; i < length; i++) {
		if (tb_is_among(name[i], ".,;=*0123456789"))
			return false;
	}
	for (size_t i = 0; i < G_N_ELEMENTS(worked); i++) {
		if (has_word(name, length, worked[i]))
			return false;
	}
	return true;
}

size_t tb_find_section(const char *line, tb_section *section)
{
	size_t start = skip_signs(line), after;
	bool closed;
	size_t length = read_name(line, start, &after, &closed);
	*section = TB_SECTION_NOTES;
	for (size_t i = 0; i < G_N_ELEMENTS(sections); i++) {
		if (same_name(line + start, length, sections[i].name)) {
			*section = sections[i].section;
			return after;
		}
	}
	for (size_t i = 0; count_words(line + start, length) <= MOST_NAME_WORDS && i < G_N_ELEMENTS(kin);
		i++) {
		if (has_word(line + start, length, kin[i].word)) {
			*section = kin[i].section;
			return after;
		}
	}
	if (explains(line + start, length))
		return after;
	/* "Note that …", "NOTE - …" */
	return tb_at_word(line, "note nb") > 0 ? start + tb_at_word(line, "note nb") : 0;
}

/* Whether TEXT has a unit of length or weight behind a figure. */
static bool has_unit(const char *text)
{
	bool figure = false;
	for (const char *at = text; *at != '\0'; at++) {
		figure = figure || g_ascii_isdigit(*at);
		bool begins = at == text || !g_ascii_isalpha(at[-1]);
		/* "7 rows in total" */
		const char *before = at;
		while (before > text && before[-1] == ' ')
			before--;
		if (tb_at_word(at, "in") > 0 && (before == text || g_ascii_isalpha(before[-1])))
			continue;
		if (figure && (*at == '"' || (begins && tb_at_word(at, "cm cms mm in ins inch inches m yd yds "
				"yards g oz metres meters ft feet months years hours minutes") > 0)))
			return true;
	}
	return false;
}

size_t tb_find_fact(const char *line)
{
	size_t start = skip_signs(line), after;
	bool closed;
	size_t length = read_name(line, start, &after, &closed);
	if (!closed || length == 0 || count_words(line + start, length) > MOST_NAME_WORDS ||
		!g_ascii_isalpha(line[start]))
		return 0;
	/* "Work even: 10 cm" */
	if (tb_at_word(line + start, "work working continue continuing cont repeat rep keep carry next") > 0)
		return 0;
	after += strspn(line + after, " ");
	const char *value = line + after;
	value += tb_at_word(value, "approx approximately about circa");
	value += strspn(value, " .~");
	return g_ascii_isdigit(*value) && has_unit(value) && !tb_has_stitch(value) ? after : 0;
}
