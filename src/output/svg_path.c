/*
 * Cairo writes every point from the page's corner and with six decimals. A symbol is a few
 * millimetres wide on a page of many hundred, so the way from point to point is said in a third of
 * the bytes (SVG 1.1, 8.3.2: small letters are relative). Points are rounded where they stand, not
 * step by step, so no error grows; and every so often a line begins at a point told from the corner,
 * for readers that add up steps in single precision.
 */
#include "output/svg_path.h"

#include "support/text.h"

#include <string.h>

/* Steps between points told from the corner: a hundred times 1/16384 is still no hundredth of a
 * millimetre, a metre away from it. */
#define MOST_STEPS 100

#define THOUSAND 1000
/* Whole parts longer than this are no place on a page. */
#define MOST_FIGURES 9

typedef struct {
	gint64 x, y; /* thousandths */
} point;

typedef struct {
	const char *at, *end;
} reading;

typedef struct {
	GByteArray *out;
	point now, begun; /* where the pen is; where its line began */
	point next;       /* where a line begins that has not been drawn yet */
	bool waiting;     /* there is such a line */
	char letter;      /* the last written */
	bool after_number;
	unsigned steps;   /* since a point told from the corner */
} writing;

static void pass_blanks(reading *r)
{
	while (r->at < r->end && *r->at == ' ')
		r->at++;
}

bool tb_svg_read_thousandths(const char **at, const char *end, gint64 *result)
{
	const char *c = *at;
	while (c < end && *c == ' ')
		c++;
	bool negative = c < end && *c == '-';
	c += negative;
	const char *first = c;
	gint64 value = 0;
	for (; c < end && g_ascii_isdigit(*c); c++)
		value = value * 10 + (*c - '0');
	*at = c;
	if (c == first || c - first > MOST_FIGURES)
		return false;
	value *= THOUSAND;
	if (c < end && *c == '.') {
		gint64 unit = THOUSAND / 10;
		for (c++; c < end && g_ascii_isdigit(*c); c++, unit /= 10) {
			value += unit * (*c - '0');
			/* The first figure too many rounds. */
			if (unit == 0) {
				value += *c >= '5';
				break;
			}
		}
		while (c < end && g_ascii_isdigit(*c))
			c++;
	}
	*at = c;
	*result = negative ? -value : value;
	return true;
}

static bool read_points(reading *r, point *points, unsigned count)
{
	for (unsigned i = 0; i < count; i++)
		if (!tb_svg_read_thousandths(&r->at, r->end, &points[i].x) ||
			!tb_svg_read_thousandths(&r->at, r->end, &points[i].y))
			return false;
	return true;
}

void tb_svg_put_thousandths(GByteArray *out, gint64 value)
{
	char text[24];
	char *end = text + sizeof text, *at = end;
	guint64 left = (guint64)(value < 0 ? -value : value);
	unsigned part = (unsigned)(left % THOUSAND);

	left /= THOUSAND;
	if (part > 0) {
		bool said = false;
		for (int i = 0; i < 3; i++, part /= 10) {
			said = said || part % 10 > 0;
			if (said)
				*--at = (char)('0' + part % 10);
		}
		*--at = '.';
	}
	for (; left > 0; left /= 10)
		*--at = (char)('0' + left % 10);
	if (at == end)
		*--at = '0';
	if (value < 0)
		*--at = '-';
	g_byte_array_append(out, (const guint8 *)at, (guint)(end - at));
}

static void put_letter(writing *w, char letter)
{
	/* A second move said without its letter would be a line. */
	if (letter == w->letter && letter != 'm')
		return;
	g_byte_array_append(w->out, (const guint8 *)&letter, 1);
	w->letter = letter;
	w->after_number = false;
}

static void put_value(writing *w, gint64 value)
{
	if (w->after_number && value >= 0)
		g_byte_array_append(w->out, (const guint8 *)" ", 1);
	tb_svg_put_thousandths(w->out, value);
	w->after_number = true;
}

static void put_from_now(writing *w, point to)
{
	put_value(w, to.x - w->now.x);
	put_value(w, to.y - w->now.y);
}

/* A line is begun when it is drawn: after one is closed Cairo moves on, also to nothing. */
static void begin_line(writing *w)
{
	if (!w->waiting)
		return;
	if (w->letter == '\0' || w->steps >= MOST_STEPS) {
		put_letter(w, 'M');
		put_value(w, w->next.x);
		put_value(w, w->next.y);
		w->steps = 0;
	} else {
		put_letter(w, 'm');
		put_from_now(w, w->next);
	}
	w->now = w->begun = w->next;
	w->waiting = false;
}

static void put_line(writing *w, point to)
{
	if (to.y == w->now.y) {
		put_letter(w, 'h');
		put_value(w, to.x - w->now.x);
	} else if (to.x == w->now.x) {
		put_letter(w, 'v');
		put_value(w, to.y - w->now.y);
	} else {
		put_letter(w, 'l');
		put_from_now(w, to);
	}
}

static void put_curve(writing *w, const point *points)
{
	put_letter(w, 'c');
	for (unsigned i = 0; i < 3; i++)
		put_from_now(w, points[i]);
}

/* One command with its points; false when it is none that Cairo writes. */
static bool put_command(writing *w, reading *r, char letter)
{
	point points[3];
	unsigned count = letter == 'C' ? 3 : letter == 'Z' ? 0 : 1;

	if (!tb_is_among(letter, "MLCZ") || !read_points(r, points, count))
		return false;
	if (letter == 'M') {
		w->next = points[0];
		w->waiting = true;
		return true;
	}
	begin_line(w);
	if (letter == 'L')
		put_line(w, points[0]);
	else if (letter == 'C')
		put_curve(w, points);
	else
		put_letter(w, 'z');
	w->now = letter == 'Z' ? w->begun : points[count - 1];
	w->steps++;
	return true;
}

void tb_svg_put_path(GByteArray *out, const char *data, gsize length)
{
	reading r = {.at = data, .end = data + length};
	writing w = {.out = out};
	guint before = out->len;

	for (pass_blanks(&r); r.at < r.end; pass_blanks(&r)) {
		char letter = *r.at++;
		if (letter != '\0' && put_command(&w, &r, letter))
			continue;
		g_byte_array_set_size(out, before);
		g_byte_array_append(out, (const guint8 *)data, (guint)length);
		return;
	}
}
