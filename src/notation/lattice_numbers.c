/* Figures, fractions, ordinals, number words, and figures for each size. */
#include "notation/lattice_maker.h"

#include "support/limits.h"

#include <string.h>

/* "1st, 2nd, 3rd, 4th, 5th and 6th sizes" */
#define LONGEST_ORDINALS 20u

static guint32 hash_figures(const double *figures, guint32 count)
{
	guint32 hash = count;
	for (guint32 i = 0; i < count; i++)
		hash = hash * 33u + (guint32)(gint64)(figures[i] * 8);
	return hash;
}

const tb_value *tb_lattice_number(tb_lattice_maker *m, const double *figures, guint32 count)
{
	struct {
		tb_value value;
		double figures[];
	} *room = tb_arena_take(m->arena, sizeof *room + count * sizeof(double));
	tb_value *value = &room->value;
	value->type = TB_VALUE_NUMBER;
	value->count = count;
	memcpy(room->figures, figures, count * sizeof(double));
	value->figures = room->figures;
	value->hash = hash_figures(figures, count);
	return value;
}

void tb_value_set_number(tb_value *value, double number)
{
	double *figures = (double *)(gpointer)value->figures;
	figures[0] = number;
	value->hash = hash_figures(figures, 1);
}

void tb_lattice_add_number(tb_lattice_maker *m, unsigned term, guint32 end, double figure)
{
	tb_lattice_add(m, term, end, tb_lattice_number(m, &figure, 1));
}

static const char *const number_words[] = {"zero", "one", "two", "three", "four", "five", "six",
	"seven", "eight", "nine", "ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen",
	"sixteen", "seventeen", "eighteen", "nineteen", "twenty"};
static const char *const ordinal_words[] = {"zeroth", "first", "second", "third", "fourth", "fifth",
	"sixth", "seventh", "eighth", "ninth", "tenth", "eleventh", "twelfth", "thirteenth",
	"fourteenth", "fifteenth", "sixteenth", "seventeenth", "eighteenth", "nineteenth", "twentieth"};
static const char *const tens_words[] = {"", "", "twenty", "thirty", "forty", "fifty", "sixty",
	"seventy", "eighty", "ninety"};

static int find_word(const tb_lattice_maker *m, guint32 i, const char *const *words, int count)
{
	/* none of them is shorter than "one", and these letters begin them all */
	static const bool begins[128] = {
		['e'] = true, ['f'] = true, ['n'] = true, ['o'] = true, ['s'] = true, ['t'] = true, ['z'] = true};
	char first = tb_lattice_char(m, i);
	if ((guchar)first >= sizeof begins || !begins[(guchar)first] || m->stops[i] - m->starts[i] < 3)
		return -1;
	for (int k = 0; k < count; k++) {
		if (*words[k] == first && tb_lattice_is(m, i, words[k], strlen(words[k])))
			return k;
	}
	return -1;
}

static double fraction_at(const tb_lattice_maker *m, guint32 i)
{
	static const struct {
		const char *sign;
		double value;
	} fractions[] = {{"½", .5}, {"¼", .25}, {"¾", .75}, {"⅛", .125}, {"⅜", .375}, {"⅝", .625},
		{"⅞", .875}, {"⅓", 1. / 3}, {"⅔", 2. / 3}};
	if ((guchar)tb_lattice_char(m, i) < 0x80)
		return 0;
	for (size_t k = 0; k < G_N_ELEMENTS(fractions); k++) {
		if (tb_lattice_is(m, i, fractions[k].sign, strlen(fractions[k].sign)))
			return fractions[k].value;
	}
	return 0;
}

static double digits_at(const tb_lattice_maker *m, guint32 i)
{
	size_t length;
	const char *text = tb_lattice_word(m, i, &length);
	double value = 0;
	for (size_t k = 0; k < length; k++)
		value = MIN(value * 10 + (text[k] - '0'), 1e9);
	return value;
}

/* "7", "seven", "twenty-four", "7.5", "7½", "7 1/2" at place I; *END is behind it. -1 for none. */
static double figure_at(const tb_lattice_maker *m, guint32 i, guint32 *end, bool *whole)
{
	*whole = true;
	if (g_ascii_isdigit(tb_lattice_char(m, i))) {
		double value = digits_at(m, i);
		*end = i + 1;
		bool point = tb_lattice_is_word(m, i + 1, ".") || tb_lattice_is_word(m, i + 1, "·");
		if (tb_lattice_is_glued(m, i) && point && tb_lattice_is_glued(m, i + 1) &&
			g_ascii_isdigit(tb_lattice_char(m, i + 2))) {
			size_t length;
			tb_lattice_word(m, i + 2, &length);
			double part = digits_at(m, i + 2);
			for (size_t k = 0; k < length; k++)
				part /= 10;
			*end = i + 3;
			*whole = false;
			return value + part;
		}
		double part = fraction_at(m, i + 1);
		if (part > 0) {
			*end = i + 2;
			*whole = false;
			return value + part;
		}
		bool over = tb_lattice_is_glued(m, i) && tb_lattice_is_word(m, i + 1, "/") && tb_lattice_is_glued(m, i + 1);
		if (over && (tb_lattice_is_word(m, i + 2, "2") || tb_lattice_is_word(m, i + 2, "4") || tb_lattice_is_word(m, i + 2, "8")) &&
			value < digits_at(m, i + 2)) {
			*end = i + 3;
			*whole = false;
			return value / digits_at(m, i + 2);
		}
		guint32 over_at = i + 1 + tb_lattice_is_word(m, i + 1, "-");
		if (g_ascii_isdigit(tb_lattice_char(m, over_at)) && tb_lattice_is_glued(m, over_at) &&
			tb_lattice_is_word(m, over_at + 1, "/") && tb_lattice_is_glued(m, over_at + 1)) {
			guint32 behind;
			bool dummy;
			double fraction = figure_at(m, over_at, &behind, &dummy);
			if (fraction > 0 && fraction < 1) {
				*end = behind;
				*whole = false;
				return value + fraction;
			}
		}
		return value;
	}
	double part = fraction_at(m, i);
	if (part > 0) {
		*end = i + 1;
		*whole = false;
		return part;
	}
	int word = find_word(m, i, number_words, (int)G_N_ELEMENTS(number_words));
	if (word >= 0 && word < 20) {
		*end = i + 1;
		return word;
	}
	int tens = find_word(m, i, tens_words, (int)G_N_ELEMENTS(tens_words));
	if (tens < 0)
		return -1;
	*end = i + 1;
	guint32 next = i + 1 + tb_lattice_is_word(m, i + 1, "-");
	int ones = find_word(m, next, number_words, 10);
	if (ones > 0)
		*end = next + 1;
	return tens * 10 + MAX(ones, 0);
}

static bool parts_sizes(const tb_lattice_maker *m, guint32 i)
{
	char c = tb_lattice_char(m, i);
	return tb_is_among(c, ",;:-/");
}

/* Behind what makes an ordinal of the figure that ends before AT, the "th" of "8th"; AT where nothing does. */
static guint32 behind_suffix(const tb_lattice_maker *m, guint32 at)
{
	static const char *const suffixes[] = {"st", "nd", "rd", "th", "d", NULL};
	return at > 0 && tb_lattice_is_glued(m, at - 1) && tb_lattice_is_among(m, at, suffixes) ? at + 1 : at;
}

/* "third", or "other", as in "every other row"; 0 for no such word. */
static int ordinal_at(const tb_lattice_maker *m, guint32 i)
{
	if (tb_lattice_is_word(m, i, "other"))
		return 2;
	return MAX(find_word(m, i, ordinal_words, (int)G_N_ELEMENTS(ordinal_words)), 0);
}

/* The figures in the bracket that opens at I, ORDINALS or not; behind it, or 0 when it holds anything else. */
static guint32 scan_bracket(
	const tb_lattice_maker *m, guint32 i, GArray *figures, bool *whole, unsigned depth, bool ordinals)
{
	guint32 close = i < m->l->count ? m->pairs[i] : 0, at = i + 1;
	bool want = true;
	if (close == 0 || close < i || depth > 1)
		return 0;
	while (at < close) {
		guint32 end;
		bool is_whole = true;
		double figure;
		if (!want && parts_sizes(m, at)) {
			want = true;
			at++;
			continue;
		}
		if (m->pairs[at] > at) {
			/* "(22, 24, 26 [28, 30])" */
			guint32 behind = scan_bracket(m, at, figures, whole, depth + 1, ordinals);
			if (behind == 0)
				return 0;
			at = behind;
			want = false;
			continue;
		}
		/* "20 (24 28)" */
		if (ordinals && want && ordinal_at(m, at) > 0) {
			figure = ordinal_at(m, at++);
			g_array_append_val(figures, figure);
			want = false;
			continue;
		}
		if (!want && (!g_ascii_isdigit(tb_lattice_char(m, at)) || tb_lattice_is_glued(m, at - 1)))
			return 0;
		if (tb_lattice_is_word(m, at, "-") || tb_lattice_is_word(m, at, "—") || tb_lattice_is_word(m, at, "–")) {
			figure = -1;
			end = at + 1;
		} else if ((figure = figure_at(m, at, &end, &is_whole)) < 0) {
			return 0;
		}
		*whole = *whole && is_whole;
		g_array_append_val(figures, figure);
		want = false;
		at = ordinals ? behind_suffix(m, end) : end;
	}
	return close + 1;
}

/* The sign that parts figures for the sizes at I, '-' "—" '/' '|', or ':' right between them; 0 for anything else. */
static char parting_sign(const tb_lattice_maker *m, guint32 i)
{
	char c = tb_lattice_char(m, i);
	if (c == ':' && i > 0 && i + 1 < m->l->count && tb_lattice_is_glued(m, i - 1) && tb_lattice_is_glued(m, i) &&
		g_ascii_isdigit(tb_lattice_char(m, i - 1)) && g_ascii_isdigit(tb_lattice_char(m, i + 1)))
		return c;
	return tb_is_among(c, "-|/") ? c : tb_lattice_is_word(m, i, "—") ? 'm' : 0;
}

/*
 * Adds "-22-24", "/22/24", "| 22 | 24", ":22:24", "—22—24" from END on to FIGURES, up to one a size; behind them. One sign
 * parts all of them, with blanks or without: in "1 - 6/7/8" the first is a row's number.
 */
static guint32 scan_parted(const tb_lattice_maker *m, guint32 end, GArray *figures, bool *whole)
{
	char sign = parting_sign(m, end);
	bool glued = end > 0 && tb_lattice_is_glued(m, end - 1), slash = sign == '/';
	if (sign == 0)
		return end;
	while (figures->len < m->v->sizes && end < m->l->count && parting_sign(m, end) == sign &&
		tb_lattice_is_glued(m, end - 1) == glued) {
		guint32 behind = end + 2;
		bool is_whole = true;
		/* in "6/7/8" the last two are no fraction */
		double figure = slash && g_ascii_isdigit(tb_lattice_char(m, end + 1)) ? digits_at(m, end + 1) :
			figure_at(m, end + 1, &behind, &is_whole);
		if (figure < 0)
			break;
		*whole = *whole && is_whole;
		g_array_append_val(figures, figure);
		end = behind;
	}
	return end;
}

/*
 * Adds ", 22, 24", ", 22 & 24" from END on to FIGURES where there is one for each of three sizes or more and
 * none is smaller; behind them. "Rows 2, 3, 4" is a list of rows.
 */
static guint32 scan_listed(const tb_lattice_maker *m, guint32 from, guint32 end, GArray *figures)
{
	static const char *const no_number[] = {"row", "rows", "rnd", "rnds", "round", "rounds", "st", "sts", "size",
		"sizes", NULL};
	guint32 at = end;
	bool grows = false;
	bool behind_figure = from > 1 && tb_is_among(tb_lattice_char(m, from - 1), ",&") && g_ascii_isdigit(tb_lattice_char(m, from - 2));
	if (m->v->sizes < 3 || behind_figure || (from > 0 && tb_lattice_is_among(m, from - 1, no_number)))
		return end;
	while (figures->len < m->v->sizes && at < m->l->count) {
		guint32 next = at + tb_lattice_is_word(m, at, ",");
		next += tb_lattice_is_word(m, next, "&") || tb_lattice_is_word(m, next, "and");
		double before = g_array_index(figures, double, figures->len - 1), figure = digits_at(m, next);
		if (next == at || !g_ascii_isdigit(tb_lattice_char(m, next)) || figure < before)
			return end;
		grows = grows || figure > before;
		g_array_append_val(figures, figure);
		at = next + 1;
	}
	bool more = tb_lattice_is_word(m, at, ",") && g_ascii_isdigit(tb_lattice_char(m, at + 1));
	return figures->len < m->v->sizes || more || !grows ? end : at;
}

/* "20 (22, 24)", "20 (22, 24) [26, 28]", "20-22-24" behind the figure that ends before AT. */
static void add_sized(tb_lattice_maker *m, double first, guint32 from, guint32 at, bool whole)
{
	unsigned sizes = m->v->sizes;
	g_autoptr(GArray) figures = g_array_new(FALSE, FALSE, sizeof(double));
	g_array_append_val(figures, first);
	guint32 end = at;
	bool bracketed = false;
	/* "20, (22, 24)" */
	if (at + 1 < m->l->count && tb_lattice_is_word(m, at, ",") && m->pairs[at + 1] > at + 1)
		end++;
	while (end < m->l->count && figures->len < sizes) {
		guint32 behind;
		bool is_whole = true;
		if (m->pairs[end] > end) {
			guint before = figures->len;
			behind = scan_bracket(m, end, figures, &whole, 0, false);
			if (behind == 0) {
				g_array_set_size(figures, before);
				break;
			}
			bracketed = true;
		} else {
			/* "21 (25) 29 (31)" */
			double figure = bracketed && g_ascii_isdigit(tb_lattice_char(m, end)) ? figure_at(m, end, &behind, &is_whole) : -1;
			bool more = figures->len + 1 < sizes;
			if (figure < 0 || (more && (behind >= m->l->count || m->pairs[behind] <= behind)))
				break;
			g_array_append_val(figures, figure);
			whole = whole && is_whole;
		}
		end = behind;
	}
	if (!bracketed)
		end = scan_parted(m, at, figures, &whole);
	if (end == at && whole)
		end = scan_listed(m, from, end, figures);
	if (figures->len == 1)
		return;
	bool slashed = tb_lattice_is_word(m, at, "/") && end > at;
	bool named = (bracketed || slashed) && figures->len == m->v->named && whole;
	if ((figures->len != sizes && !named) || end == at)
		return;
	const tb_value *value = tb_lattice_number(m, (const double *)(const void *)figures->data, figures->len);
	if (whole)
		tb_lattice_add(m, TB_TERM_CLASS_int, end, value);
	if (figures->len == sizes)
		tb_lattice_add(m, TB_TERM_CLASS_frac, end, value);
}

/* "(20, 22, 24)" at I, where the first size stands in the bracket too. */
static void add_sized_bracket(tb_lattice_maker *m, guint32 i)
{
	bool whole = true;
	g_autoptr(GArray) figures = g_array_new(FALSE, FALSE, sizeof(double));
	guint32 behind = scan_bracket(m, i, figures, &whole, 0, false);
	if (behind == 0 || figures->len != m->v->sizes || !whole)
		return;
	tb_lattice_add(m, TB_TERM_CLASS_int, behind,
		tb_lattice_number(m, (const double *)(const void *)figures->data, figures->len));
}

/* Whether a list of ordinals goes on at WORD to "size": "2nd and 3rd sizes". */
static bool counts_sizes(const tb_lattice_maker *m, guint32 word)
{
	static const char *const listed[] = {"and", "or", "&", ",", "(", ")", "st", "nd", "rd", "th", NULL};
	guint32 last = MIN(m->l->count, word + LONGEST_ORDINALS);
	for (; word < last; word++) {
		if (tb_lattice_is_word(m, word, "size") || tb_lattice_is_word(m, word, "sizes"))
			return true;
		if (!tb_lattice_is_among(m, word, listed) && !g_ascii_isdigit(tb_lattice_char(m, word)) &&
			find_word(m, word, ordinal_words, (int)G_N_ELEMENTS(ordinal_words)) == 0)
			return false;
	}
	return false;
}

static void add_ordinal(tb_lattice_maker *m, guint32 end, double value)
{
	tb_lattice_add_number(m, TB_TERM_CLASS_ord, end, value);
	tb_lattice_add_number(m, TB_TERM_CLASS_ordn, end, value);
	if (value > 1)
		tb_lattice_add_number(m, TB_TERM_CLASS_ord2, end, value);
	/* "3rd size" is the third of those the pattern has */
	if (m->v->sizes > 1 && value >= 1 && value <= m->v->sizes && counts_sizes(m, end))
		tb_lattice_add_number(m, TB_TERM_CLASS_sizeword, end, (double)(1u << ((unsigned)value - 1)));
}

/* "8th (8th, 6th)", "8th/8th/6th", "8 (8, 6)th": one for each size behind FIRST, which ends before AT. */
static void add_sized_ordinal(tb_lattice_maker *m, double first, guint32 at)
{
	g_autoptr(GArray) figures = g_array_new(FALSE, FALSE, sizeof(double));
	g_array_append_val(figures, first);
	bool whole = true;
	guint32 end = behind_suffix(m, at), behind;
	while (end < m->l->count && figures->len < m->v->sizes && m->pairs[end] > end &&
		(behind = scan_bracket(m, end, figures, &whole, 0, true)) > 0)
		end = behind;
	while (figures->len < m->v->sizes && m->pairs[MIN(at, m->l->count)] <= at && tb_is_among(parting_sign(m, end), "-/|") &&
		g_ascii_isdigit(tb_lattice_char(m, end + 1))) {
		double figure = digits_at(m, end + 1);
		g_array_append_val(figures, figure);
		end = behind_suffix(m, end + 2);
	}
	bool word = first > 0 && !g_ascii_isdigit(tb_lattice_char(m, at - 1)); /* "third (third, second)" */
	bool said = end > at && (word || behind_suffix(m, at) > at || behind_suffix(m, end) > end);
	if (whole && said && (figures->len == m->v->sizes || figures->len == m->v->named))
		tb_lattice_add(m, TB_TERM_CLASS_ordn, behind_suffix(m, end),
			tb_lattice_number(m, (const double *)(const void *)figures->data, figures->len));
}

void tb_lattice_add_numbers(tb_lattice_maker *m, guint32 i)
{
	static const char *const measured[] = {"mm", "hook", "hk", NULL};
	guint32 end;
	bool whole;
	double figure = figure_at(m, i, &end, &whole);
	if (figure >= 0) {
		if (whole)
			tb_lattice_add_number(m, TB_TERM_CLASS_int, end, figure);
		tb_lattice_add_number(m, TB_TERM_CLASS_frac, end, figure);
		/* "4.5 mm" is no 4 and 5 */
		if (!whole && g_ascii_isdigit(tb_lattice_char(m, i)) && !tb_lattice_is_among(m, end, measured))
			tb_lattice_add_number(m, TB_TERM_CLASS_int, i + 1, digits_at(m, i));
		bool suffix = tb_lattice_is_word(m, i + 1, "st") || tb_lattice_is_word(m, i + 1, "nd") ||
			tb_lattice_is_word(m, i + 1, "rd") || tb_lattice_is_word(m, i + 1, "th") || tb_lattice_is_word(m, i + 1, "d");
		if (g_ascii_isdigit(tb_lattice_char(m, i)) && tb_lattice_is_glued(m, i) && suffix)
			add_ordinal(m, i + 2, figure);
		if (m->v->sizes > 1)
			add_sized(m, figure, i, end, whole);
		if (m->v->sizes > 1 && whole && g_ascii_isdigit(tb_lattice_char(m, i)))
			add_sized_ordinal(m, figure, end);
		/* "2/4/6" begins with no half */
		if (m->v->sizes > 2 && !whole && end == i + 3 && tb_lattice_is_word(m, i + 1, "/"))
			add_sized(m, digits_at(m, i), i, i + 1, true);
		return;
	}
	if (m->v->sizes > 1 && i < m->l->count && m->pairs[i] > i)
		add_sized_bracket(m, i);
	if (m->v->sizes > 1 && tb_lattice_is_word(m, i, "-") && m->pairs[MIN(i + 1, m->l->count)] > i + 1)
		add_sized(m, -1, i, i + 1, true);
	int ordinal = find_word(m, i, ordinal_words, (int)G_N_ELEMENTS(ordinal_words));
	if (ordinal > 0) {
		add_ordinal(m, i + 1, ordinal);
		if (m->v->sizes > 1)
			add_sized_ordinal(m, ordinal, i + 1);
		return;
	}
	int tens = find_word(m, i, tens_words, (int)G_N_ELEMENTS(tens_words));
	if (tens > 0 && tb_lattice_is_word(m, i + 1, "-")) {
		ordinal = find_word(m, i + 2, ordinal_words, 10);
		if (ordinal > 0)
			add_ordinal(m, i + 3, tens * 10 + ordinal);
	}
}
