/*
 * The gauge as designers write it: "13 sts and 9 rows = 10 cm", "16 sc x 20 rows = 4 in in sc",
 * "3.5 sts to 1 inch". It is read as figures and what they count, in whatever order they stand.
 */
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
	static const struct {
		const char *sign;
		double value;
	} parts[] = {{"½", 0.5}, {"¼", 0.25}, {"¾", 0.75}, {"1/2", 0.5}, {"1/4", 0.25}, {"3/4", 0.75}};
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
	for (size_t i = 0; i < G_N_ELEMENTS(parts); i++) {
		if (g_str_has_prefix(behind, parts[i].sign)) {
			*value += parts[i].value;
			c = behind + strlen(parts[i].sign);
			break;
		}
	}
	*at = c;
	return true;
}

static double unit_mm(const char *text)
{
	if (tb_at_word(text, "cm cms centimetres centimeters") > 0)
		return 10;
	if (tb_at_word(text, "mm") > 0)
		return 1;
	if (*text == '"' || tb_at_word(text, "inch inches ins in") > 0)
		return TB_MM_PER_INCH;
	return 0;
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
	g_autofree char *name = g_strndup(word, strcspn(word, " ,;.:=/"));
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
