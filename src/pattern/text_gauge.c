/*
 * The gauge as designers write it: "13 sts and 9 rows = 10 cm", "16 sc x 20 rows = 4 in in sc",
 * "3.5 sts to 1 inch". It is read as figures and what they count, in whatever order they stand.
 * Several may follow each other, each in another stitch: "In sc, 16 sts = 4 in. In pattern, 14 sts = 4 in."
 */
#include "pattern/text_figures.h"
#include "pattern/text_reader.h"

#include "stitches/stitch.h"
#include "support/limits.h"
#include "support/units.h"

#include <math.h>
#include <string.h>

/* "10 cm / 4 in" are one length for the trade, though not the same. */
#define SAME_LENGTH 0.06

typedef struct {
	double stitches, rows;           /* 0: not said */
	double stitches_over, rows_over; /* mm; 0: not said yet */
	double length;                   /* the last length said, mm */
	bool inches, first_inches;
	bool wrong; /* a count of nothing, or of less */
} figures;

static const char *skip_blanks(const char *c)
{
	return c + strspn(c, " ");
}

/* "13", "13.5", "13,5", "3½", "3 1/2"; moves past it. */
static bool read_figure(const char **at, double *value)
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
	const char *behind = skip_blanks(c);
	double part;
	size_t length = tb_figure_read_part(behind, &part);
	*value += length > 0 ? part : 0;
	c = length > 0 ? behind + length : c;
	*at = c;
	return true;
}

static double unit_mm(const char *text)
{
	double mm;
	return tb_figure_unit(text, &mm) > 0 ? mm : 0;
}

/* A length closes the counts that were said since the last one. */
static void take_length(figures *f, double mm, bool inches)
{
	bool open = (f->stitches > 0 && f->stitches_over == 0) || (f->rows > 0 && f->rows_over == 0);
	bool equal = f->length > 0 && fabs(mm - f->length) <= SAME_LENGTH * f->length;
	if (!open && f->length > 0 && (f->stitches > 0 || equal))
		return;
	f->length = mm;
	f->inches = inches;
	if (f->stitches > 0 && f->stitches_over == 0) {
		f->stitches_over = mm;
		f->first_inches = inches;
	}
	if (f->rows > 0 && f->rows_over == 0)
		f->rows_over = mm;
}

/* One figure and the word behind it. */
static void take_figure(figures *f, const tb_library *library, double value, const char **at)
{
	const char *word = skip_blanks(*at);
	double unit = unit_mm(word);
	/* "10 x 10 cm": a square */
	if (unit == 0 && (*word == 'x' || g_str_has_prefix(word, "×"))) {
		const char *other = skip_blanks(word + (*word == 'x' ? 1 : strlen("×")));
		double second;
		if (read_figure(&other, &second) && second == value)
			unit = unit_mm(skip_blanks(other));
	}
	if (unit > 0) {
		const char *behind = skip_blanks(word + strcspn(word, " "));
		/* "with a 5.5 mm hook" measures the hook. */
		if (tb_at_word(behind, "hook crochet") == 0)
			take_length(f, value * unit, unit == TB_MM_PER_INCH);
		return;
	}
	if (tb_at_word(word, "row rows rnd rnds round rounds") > 0) {
		f->wrong = f->wrong || value <= 0;
		if (f->rows == 0)
			f->rows = value;
		return;
	}
	size_t length = strcspn(word, " ,;.:=/");
	g_autofree char *name = g_strndup(word, length > TB_LIMIT_TERM_BYTES ? 0 : length);
	bool stitch = tb_at_word(word, "st sts stitch stitches") > 0 ||
		tb_library_find_term(library, name, false) != NULL ||
		tb_library_find_term(library, name, true) != NULL ||
		tb_at_word(word, "single double half treble triple") > 0;
	f->wrong = f->wrong || (stitch && value <= 0);
	if (stitch && f->stitches == 0)
		f->stitches = value;
}

/* "-13 sts", and no dash between words. */
static bool is_below_nothing(const char *text, const char *figure)
{
	return figure > text && figure[-1] == '-' && (figure - 1 == text || figure[-2] == ' ');
}

bool tb_text_read_gauge(
	const tb_library *library, const char *text, tb_gauge *gauge, bool *impossible)
{
	figures f = {0};
	for (const char *c = text; *c != '\0';) {
		double value;
		bool begins = c == text || (!g_ascii_isalnum(c[-1]) && c[-1] != '.');
		bool below = is_below_nothing(text, c);
		if (!begins || !read_figure(&c, &value)) {
			c++;
			continue;
		}
		/* "1e308": nobody counts so */
		f.wrong = f.wrong || ((*c == 'e' || *c == 'E') && g_ascii_isdigit(c[1]));
		take_figure(&f, library, below ? -value : value, &c);
	}
	/* "4 in = 16 sc, 20 rows": the length came first. */
	if (f.stitches_over == 0) {
		f.stitches_over = f.length;
		f.first_inches = f.inches;
	}
	if (f.rows_over == 0)
		f.rows_over = f.stitches_over;
	*gauge = (tb_gauge){.stitches = f.stitches, .rows = f.rows};
	*impossible = f.wrong || f.stitches > TB_LIMIT_GAUGE || f.rows > TB_LIMIT_GAUGE ||
		f.stitches_over > TB_LIMIT_GAUGE_MM;
	if (f.wrong || f.stitches <= 0 || f.stitches > TB_LIMIT_GAUGE || f.stitches_over <= 0 ||
		f.stitches_over > TB_LIMIT_GAUGE_MM)
		return false;
	*gauge = (tb_gauge){.given = true, .stitches = f.stitches, .over_mm = f.stitches_over,
		.over_inches = f.first_inches};
	/* Rows counted over another length are brought to the stitches' length. */
	if (f.rows > 0 && f.rows_over > 0)
		gauge->rows = fabs(f.rows_over - f.stitches_over) <= SAME_LENGTH * f.stitches_over ?
			f.rows : f.rows * f.stitches_over / f.rows_over;
	gauge->has_rows = gauge->rows > 0;
	return gauge->rows <= TB_LIMIT_GAUGE;
}

/* Gauges a pattern may have; nobody makes more swatches. */
#define MOST_GAUGES 12u
/* Words of a stitch's name, "extended half double crochet". */
#define MOST_STITCH_WORDS 4u
#define LONGEST_GAUGE 600u

/* The stitch TEXT begins with, "sc", "single crochet", by the longest name. Owned; NULL where none stands there. */
static char *stitch_at(const tb_library *library, const char *text)
{
	char *name = NULL;
	size_t length = 0;
	for (unsigned words = 0; words < MOST_STITCH_WORDS && g_ascii_isalnum(text[length]); words++) {
		length += strcspn(text + length, " ,;.:=/()");
		char *more = g_strndup(text, length);
		bool is = tb_library_find_term(library, more, false) != NULL || tb_library_find_term(library, more, true) != NULL;
		g_free(is ? name : more);
		name = is ? more : name;
		if (text[length] != ' ')
			break;
		length++;
	}
	return name;
}

/* "(Rows 14 and 15)", "over Rows 3-6": the rows that are named, where a figure follows the word. */
static void find_rows(const char *text, tb_kind_gauge *kind)
{
	for (const char *c = text; *c != '\0'; c++) {
		size_t word = c == text || !g_ascii_isalnum(c[-1]) ? tb_at_word(c, "rows row rnds rnd rounds round") : 0;
		const char *figure = skip_blanks(c + word);
		if (word == 0 || !g_ascii_isdigit(*figure))
			continue;
		unsigned first = (unsigned)MIN(g_ascii_strtoull(figure, NULL, 10), TB_LIMIT_PIECE_ROWS);
		figure += strspn(figure, "0123456789");
		figure = skip_blanks(figure);
		size_t to = *figure == '-' || *figure == '&' ? 1 : tb_at_word(figure, "and to");
		const char *last = skip_blanks(figure + to);
		kind->first_row = kind->last_row = first;
		if (to > 0 && g_ascii_isdigit(*last))
			kind->last_row = MAX(first, (unsigned)MIN(g_ascii_strtoull(last, NULL, 10), TB_LIMIT_PIECE_ROWS));
		return;
	}
}

/* "13.5 dc": the stitch that is counted; NULL where it is any. Owned. */
static char *find_counted(const tb_library *library, const char *text)
{
	for (const char *c = text; *c != '\0';) {
		double value;
		bool begins = c == text || (!g_ascii_isalnum(c[-1]) && c[-1] != '.');
		if (!begins || !read_figure(&c, &value)) {
			c++;
			continue;
		}
		const char *word = skip_blanks(c);
		bool other = unit_mm(word) > 0 || tb_at_word(word, "st sts stitch stitches row rows rnd rnds round rounds x") > 0;
		char *name = other ? NULL : stitch_at(library, word);
		if (name != NULL)
			return name;
		if (tb_at_word(word, "st sts stitch stitches") > 0)
			return NULL;
	}
	return NULL;
}

/* What a gauge was counted in: "in sc", "working in rows of dc", "16 sc"; "in pattern" and its kin name none. */
static void find_kind(const tb_library *library, const char *text, tb_kind_gauge *kind)
{
	bool said = false;
	find_rows(text, kind);
	for (const char *c = text; *c != '\0' && !said; c++) {
		bool begins = c == text || !g_ascii_isalnum(c[-1]);
		size_t word = begins ? tb_at_word(c, "in over of using working") : 0;
		const char *what = skip_blanks(c + word);
		/* "4 in square" has a unit, and no stitch */
		const char *before = c;
		while (before > text && before[-1] == ' ')
			before--;
		bool unit = word == 2 && before > text && before < c && (g_ascii_isdigit(before[-1]) || (before[-1] & 0x80) != 0);
		if (word == 0 || unit || !g_ascii_isalpha(*what) || unit_mm(what) > 0 ||
			tb_at_word(what, "in over of using working rows rounds rnds the a all each both either every and with") > 0)
			continue;
		kind->stitch = stitch_at(library, what);
		/* "in moss st", "in pattern": of no one stitch */
		said = kind->stitch != NULL || tb_at_word(c, "in over") > 0;
	}
	if (!said)
		kind->stitch = find_counted(library, text);
	if (kind->first_row > 0)
		g_clear_pointer(&kind->stitch, g_free);
}

/* Where the first whole gauge of TEXT ends before another; its length where there is one. */
static size_t find_part(const tb_library *library, const char *text)
{
	size_t length = strlen(text);
	for (size_t at = 0; at + 1 < length && length <= LONGEST_GAUGE; at++) {
		tb_gauge gauge;
		bool impossible;
		if (!tb_is_among(text[at], ".;,") || text[at + 1] != ' ')
			continue;
		g_autofree char *first = g_strndup(text, at);
		if (tb_text_read_gauge(library, first, &gauge, &impossible) && tb_text_read_gauge(library, text + at + 1, &gauge, &impossible))
			return at;
	}
	return length;
}

bool tb_text_read_gauges(tb_pattern *pattern, const char *text, tb_gauge *gauge, bool *impossible)
{
	bool any = false;
	for (;;) {
		size_t end = find_part(pattern->library, text);
		g_autofree char *part = g_strndup(text, end);
		tb_kind_gauge kind = {0};
		bool taken = tb_text_read_gauge(pattern->library, part, &kind.gauge, impossible);
		*gauge = any ? *gauge : kind.gauge;
		if (!taken || pattern->gauges->len >= MOST_GAUGES)
			return any;
		find_kind(pattern->library, part, &kind);
		tb_pattern_add_gauge(pattern, &kind);
		g_free(kind.stitch);
		any = true;
		if (text[end] == '\0')
			return true;
		text += end + 1;
	}
}
