/* The names that stand at the head of a line: fields, sections, pieces. */
#include "pattern/text_kinds.h"

#include "support/nearest.h"
#include "support/text.h"

#include <string.h>

/* Longer lines are sentences. */
#define LONGEST_HEADING 60u
#define MOST_HEADING_WORDS 6u

static const struct {
	const char *name;
	tb_field field;
} fields[] = {
	{"title", TB_FIELD_TITLE}, {"name", TB_FIELD_TITLE}, {"pattern name", TB_FIELD_TITLE},
	{"designer", TB_FIELD_DESIGNER}, {"design", TB_FIELD_DESIGNER},
	{"designed by", TB_FIELD_DESIGNER}, {"design by", TB_FIELD_DESIGNER},
	{"author", TB_FIELD_DESIGNER}, {"about", TB_FIELD_ABOUT}, {"description", TB_FIELD_ABOUT},
	{"licence", TB_FIELD_LICENCE}, {"license", TB_FIELD_LICENCE}, {"terms", TB_FIELD_TERMS},
	{"terminology", TB_FIELD_TERMS}, {"stitch terms", TB_FIELD_TERMS},
	{"crochet terms", TB_FIELD_TERMS}, {"sizes", TB_FIELD_SIZES}, {"size", TB_FIELD_SIZES},
	{"size(s)", TB_FIELD_SIZES}, {"hook", TB_FIELD_HOOK}, {"hooks", TB_FIELD_HOOK},
	{"hook size", TB_FIELD_HOOK}, {"crochet hook", TB_FIELD_HOOK}, {"yarn", TB_FIELD_YARN},
	{"yarns", TB_FIELD_YARN}, {"yarn weight", TB_FIELD_YARN_WEIGHT}, {"gauge", TB_FIELD_GAUGE},
	{"tension", TB_FIELD_GAUGE}, {"chart", TB_FIELD_CHART}, {"charts", TB_FIELD_CHART},
};

static const char *const sections[] = {
	"notes", "note", "pattern notes", "pattern note", "designer's notes", "materials",
	"material", "supplies", "tools", "notions", "you will need", "what you need",
	"abbreviations", "abbreviation", "abbreviations used", "stitches used", "stitches",
	"stitch guide", "stitch key", "special stitches", "special stitch",
	"special stitches and techniques", "special techniques", "techniques", "measurements",
	"finished size", "finished sizes", "finished measurements", "dimensions", "skill level",
	"level", "difficulty", "multiple", "stitch multiple", "finishing", "to finish", "assembly",
	"making up", "to make up", "joining the pieces", "blocking", "copyright", "tips", "schematic",
	"stitch pattern notes", "key", "contents", "tutorial", "video",
};

static bool same_name(const char *text, size_t length, const char *name)
{
	return strlen(name) == length && g_ascii_strncasecmp(text, name, length) == 0;
}

/* Where the name at the head of a line begins and ends, signs of a heading left aside. */
static size_t skip_signs(const char *line)
{
	size_t at = strspn(line, "# ");
	return at;
}

tb_field tb_find_field(const char *line, size_t *value)
{
	size_t start = skip_signs(line);
	size_t length = strcspn(line + start, ":");
	bool colon = line[start + length] == ':';
	*value = start + length + colon;
	/* "## Gauge": the value follows below. */
	if (!colon && start == 0)
		return TB_FIELD_NONE;
	while (length > 0 && line[start + length - 1] == ' ')
		length--;
	for (size_t i = 0; i < G_N_ELEMENTS(fields); i++) {
		if (same_name(line + start, length, fields[i].name))
			return fields[i].field;
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

size_t tb_find_section(const char *line)
{
	size_t start = skip_signs(line);
	size_t length = strcspn(line + start, ":"), after = start + length;
	after += line[after] == ':';
	while (length > 0 && line[start + length - 1] == ' ')
		length--;
	for (size_t i = 0; i < G_N_ELEMENTS(sections); i++) {
		if (same_name(line + start, length, sections[i]))
			return after;
	}
	/* "Note that …", "NOTE - …" */
	return tb_at_word(line, "note") > 0 ? start + strlen("note") : 0;
}

/* Whether there is no small letter, and at least two capitals. */
static bool is_capitals(const char *text, size_t length)
{
	size_t capitals = 0;
	for (const char *c = text; c < text + length; c = g_utf8_next_char(c)) {
		gunichar letter = g_utf8_get_char(c);
		if (g_unichar_islower(letter) || (letter < 0x80 && strchr(",;:.*=+%\"", (int)letter) != NULL))
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

/* "(make 2)", "- make 2 alike" at a name's end: where it begins, or LENGTH. */
static size_t find_make(const char *text, size_t length)
{
	for (size_t i = 1; i < length; i++) {
		size_t make = strchr(" (-", text[i - 1]) != NULL ? tb_at_word(text + i, "make") : 0;
		if (make == 0)
			continue;
		const char *behind = text + i + make + strspn(text + i + make, " ");
		if (g_ascii_isdigit(*behind) || tb_at_word(behind, "one two three four five six") > 0) {
			size_t end = i;
			while (end > 0 && strchr(" (-", text[end - 1]) != NULL)
				end--;
			return end;
		}
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
	return g_str_has_prefix(text, "—") ? strlen("—") : *text == '-' || *text == '=';
}

/* What surrounds a heading's name. */
typedef struct {
	const char *text; /* the name begins here */
	size_t length;
	bool hashes, dashes, colon, make;
} heading;

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
		else if (strchr("-= #", end[-1]) != NULL)
			h->length--;
		else
			break;
	}
	return h->text > before && h->length < behind;
}

static bool read_heading(const char *line, heading *h)
{
	*h = (heading){.text = line + strspn(line, "# "), .hashes = line[0] == '#'};
	h->length = strlen(h->text);
	bool begins_with_dash = at_dash(h->text) > 0;
	h->dashes = strip_dashes(h);
	if (begins_with_dash && !h->dashes)
		return false;
	h->colon = h->length > 0 && h->text[h->length - 1] == ':';
	h->length -= h->colon;
	size_t name = find_make(h->text, h->length);
	h->make = name < h->length;
	h->length = name;
	return name > 0;
}

char *tb_heading_name(const char *line)
{
	heading h;
	if (strlen(line) > LONGEST_HEADING || !read_heading(line, &h) ||
		count_words(h.text, h.length) > MOST_HEADING_WORDS)
		return NULL;
	gunichar first = g_utf8_get_char(h.text);
	if (!g_unichar_isalnum(first))
		return NULL;
	bool clean = true;
	for (size_t i = 0; i < h.length; i++)
		clean = clean && strchr(",*:[;=", h.text[i]) == NULL;
	/* "Next, work as follows:" ends with a colon as well. */
	bool names = clean && g_unichar_isupper(first) &&
		tb_at_word(h.text, "work next then now repeat rep continue as for with to all and in turn "
					"this the you your i we it if when before after size sizes") == 0;
	if (h.hashes || h.dashes || (h.colon && names) || (h.make && clean) ||
		is_capitals(h.text, h.length))
		return say_name(h.text, h.length);
	return NULL;
}

bool tb_may_be_plain_heading(const char *line)
{
	size_t length = strlen(line);
	return length > 0 && length <= LONGEST_HEADING && count_words(line, length) <= 4 &&
		g_unichar_isupper(g_utf8_get_char(line)) && strpbrk(line, ".,:;*()[]=") == NULL;
}
