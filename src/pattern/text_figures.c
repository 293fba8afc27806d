#include "pattern/text_figures.h"

#include "pattern/read.h"
#include "pattern/text_kinds.h"
#include "support/units.h"

#include <string.h>

/* Longer figures count and measure nothing. */
#define MOST_DIGITS 5u
/* "24 (28, 32 [36, 40])" */
#define MOST_DEPTH 2u

static size_t at_blanks(const char *text)
{
	return strspn(text, " \n\r\t");
}

static size_t at_dash(const char *text)
{
	return *text == '-' ? 1 : g_str_has_prefix(text, "–") ? strlen("–") : g_str_has_prefix(text, "—") ? strlen("—") : 0;
}

size_t tb_figure_read_part(const char *text, double *value)
{
	static const struct {
		const char *sign;
		double value;
	} parts[] = {{"½", 0.5}, {"¼", 0.25}, {"¾", 0.75}, {"⅛", 0.125}, {"⅜", 0.375}, {"⅝", 0.625}, {"⅞", 0.875}, {"⅓", 1. / 3}, {"⅔", 2. / 3},
		{"1/2", 0.5}, {"1/4", 0.25}, {"3/4", 0.75}, {"1/8", 0.125}, {"3/8", 0.375}, {"5/8", 0.625}, {"7/8", 0.875}};
	for (size_t i = 0; i < G_N_ELEMENTS(parts); i++) {
		size_t length = strlen(parts[i].sign);
		/* "1/2/3" and "1/24" are figures for sizes */
		if (g_str_has_prefix(text, parts[i].sign) && text[length] != '/' && !g_ascii_isdigit(text[length])) {
			*value = parts[i].value;
			return length;
		}
	}
	return 0;
}

size_t tb_figure_read(const char *text, double *value)
{
	size_t at = strspn(text, "0123456789"), part = tb_figure_read_part(text, value);
	if (part > 0 || at == 0 || at > MOST_DIGITS)
		return part;
	*value = (double)g_ascii_strtoull(text, NULL, 10);
	if (text[at] == '.' && g_ascii_isdigit(text[at + 1])) {
		*value = g_ascii_strtod(text, NULL);
		return at + 1 + strspn(text + at + 1, "0123456789");
	}
	double more;
	size_t next = at + (text[at] == '-' && g_ascii_isdigit(text[at + 1]) && text[at + 2] == '/');
	next += at_blanks(text + next);
	part = tb_figure_read_part(text + next, &more);
	*value += part > 0 ? more : 0;
	return part > 0 ? next + part : at;
}

size_t tb_figure_read_whole(const char *text, guint32 *value)
{
	static const char *const tens[] = {"twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"};
	unsigned word;
	size_t digits = strspn(text, "0123456789");
	if (digits > MOST_DIGITS || (digits > 0 && text[digits] == '.' && g_ascii_isdigit(text[digits + 1])))
		return 0;
	*value = (guint32)g_ascii_strtoull(text, NULL, 10);
	if (digits > 0)
		return digits;
	for (unsigned i = 0; i < G_N_ELEMENTS(tens); i++) {
		size_t ten = strlen(tens[i]);
		if (strncmp(text, tens[i], ten) != 0 || g_ascii_isalpha(text[ten]))
			continue;
		*value = 20 + 10 * i;
		size_t one = text[ten] == '-' ? tb_at_number_word(text + ten + 1, &word) : 0;
		*value += one > 0 && word < 10 ? word : 0;
		return ten + (one > 0 && word < 10 ? one + 1 : 0);
	}
	size_t length = tb_at_word(text, "first") > 0 ? 0 : tb_at_number_word(text, &word);
	*value = length > 0 ? word : 0;
	return length;
}

size_t tb_figure_unit(const char *text, double *mm)
{
	static const struct {
		const char *words;
		double mm;
	} units[] = {{"cm cms centimetres centimeters", 10}, {"mm", 1}, {"inch inches ins in", TB_MM_PER_INCH}};
	static const char *const signs[] = {"\"", "″", "”"};
	for (size_t i = 0; i < G_N_ELEMENTS(units); i++) {
		size_t word = tb_at_word(text, units[i].words);
		*mm = units[i].mm;
		if (word > 0)
			return word;
	}
	for (size_t i = 0; i < G_N_ELEMENTS(signs); i++) {
		if (g_str_has_prefix(text, signs[i]))
			return strlen(signs[i]);
	}
	*mm = 0;
	return 0;
}

/* A list as far as it is read. */
typedef struct {
	const char *text;
	bool lengths;   /* each may be a part of a whole and have a unit; else whole numbers, or words for them */
	unsigned sizes; /* 0: not known */
	double values[TB_MAX_SIZES];
	unsigned count;
	double unit; /* millimetres, once it is said */
	bool closed; /* the unit stood behind several: no more of them follow */
	bool range;  /* "5-10" */
} list;

/* One figure more at AT, and its unit; behind it, or 0. What the first has for a unit, the others have too. */
static size_t take_figure(list *l, size_t at)
{
	double value, mm = 0;
	guint32 whole;
	size_t length = l->lengths ? tb_figure_read(l->text + at, &value) : tb_figure_read_whole(l->text + at, &whole);
	if (length == 0 || l->count == TB_MAX_SIZES || l->closed)
		return 0;
	at += length;
	size_t behind = at + at_blanks(l->text + at), unit = l->lengths ? tb_figure_unit(l->text + behind, &mm) : 0;
	if (l->unit > 0 && (mm < l->unit || mm > l->unit))
		return 0;
	l->closed = l->count > 0 && l->unit <= 0 && mm > 0;
	l->unit = mm;
	l->values[l->count++] = l->lengths ? value : whole;
	return unit > 0 ? behind + unit : at;
}

/* The dash of a size that has none, where a figure is due at AT; behind it, or 0. */
static size_t take_none(list *l, size_t at)
{
	size_t dash = at_dash(l->text + at), next = at + dash + at_blanks(l->text + at + dash);
	if (dash == 0 || l->count == TB_MAX_SIZES || l->closed || !tb_is_among(l->text[next], ",;:/)]}"))
		return 0;
	l->values[l->count++] = 0;
	return at + dash;
}

/* "(28, 32 [36, 40])" at AT; behind it, or 0 where anything else stands in it. */
static size_t take_bracket(list *l, size_t at, unsigned depth)
{
	list before = *l;
	bool due = true; /* a figure, and no sign or end */
	size_t next = at + 1;
	if (depth == MOST_DEPTH || !tb_is_among(l->text[at], "([{"))
		return 0;
	while (next > 0) {
		at = next + at_blanks(l->text + next);
		if (!due && tb_is_among(l->text[at], ")]}"))
			return at + 1;
		size_t sign = due ? 0 : tb_is_among(l->text[at], ",;:/") ? 1 : at_dash(l->text + at);
		next = sign > 0 ? at + sign : take_figure(l, at);
		if (next == 0)
			next = due ? take_none(l, at) : take_bracket(l, at, depth + 1);
		due = sign > 0;
	}
	*l = before;
	return 0;
}

/* The sign at AT if it is C, '-' for any dash; its bytes, or 0. */
static size_t at_sign(const char *text, char c)
{
	return c == '-' ? at_dash(text) : *text == c;
}

/* "/28/32", ", 28, 32", "-28-32" at AT, parted by one sign; behind it, or 0. */
static size_t take_run(list *l, size_t at)
{
	list before = *l;
	char sign = at_dash(l->text + at) > 0 ? '-' : l->text[at];
	unsigned signs = 0;
	size_t end = 0;
	if (!tb_is_among(sign, ",;:/-"))
		return 0;
	for (size_t length; (length = at_sign(l->text + at, sign)) > 0; signs++) {
		at += length + at_blanks(l->text + at + length);
		size_t next = take_figure(l, at);
		next = next > 0 ? next : take_none(l, at);
		if (next == 0)
			break;
		end = next;
		at = end + at_blanks(l->text + end);
	}
	bool ranges = sign == '-' && signs == 1;
	bool fits = l->lengths ? !ranges : sign == '/' || (l->count == l->sizes && !ranges);
	if (end > 0 && fits)
		return end;
	before.range = l->lengths && ranges && end > 0;
	*l = before;
	return 0;
}

/* " 32 (36)" behind a bracket, or the last size's figure; lengths stand side by side without brackets, too. */
static size_t take_bare(list *l, size_t at, bool bracketed)
{
	list before = *l;
	if (!g_ascii_isdigit(l->text[at]) || !(l->lengths || (bracketed && (l->sizes < 2 || l->count < l->sizes))))
		return 0;
	size_t end = take_figure(l, at);
	size_t more = end > 0 ? take_bracket(l, end + at_blanks(l->text + end), 0) : 0;
	if (end > 0 && (l->lengths || more > 0 || l->count == l->sizes))
		return MAX(end, more);
	*l = before;
	return 0;
}

/* The list at the text's beginning; its bytes, or 0. */
static size_t take_list(list *l)
{
	size_t end = take_figure(l, 0), at = end;
	for (bool bracketed = false; at > 0;) {
		end = at;
		size_t next = end + at_blanks(l->text + end);
		at = take_bracket(l, next, 0);
		bracketed = bracketed || at > 0;
		at = at > 0 ? at : take_run(l, next);
		at = at > 0 || next == end ? at : take_bare(l, next, bracketed);
	}
	return end;
}

size_t tb_figures_read(const char *text, unsigned sizes, guint32 numbers[static TB_MAX_SIZES], unsigned *count)
{
	list l = {.text = text, .sizes = sizes};
	size_t end = take_list(&l);
	*count = l.count;
	for (unsigned i = 0; i < l.count; i++)
		numbers[i] = (guint32)l.values[i];
	return end;
}

bool tb_figures_read_lengths(const char *text, tb_finished *finished, size_t *end)
{
	list l = {.text = text, .lengths = true};
	*end = take_list(&l);
	size_t next = *end + at_blanks(text + *end), unit = l.unit > 0 ? 0 : tb_figure_unit(text + next, &l.unit);
	*end = unit > 0 ? next + unit : *end;
	finished->count = l.count;
	for (unsigned i = 0; i < l.count; i++)
		finished->mm[i] = l.values[i] * l.unit;
	return l.count > 0 && l.unit > 0 && !l.range;
}
