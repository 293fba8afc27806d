/*
 * Path data after the grammar of SVG 1.1, 8.3.9: one pass over the text, a command at a time.
 *
 * A command letter takes arguments, and may take further sets of them; a moveto's further pairs are
 * linetos. Numbers part themselves where they can ("1-2", ".5.5"), arc flags are single digits. In
 * contrast to a browser, which draws a path up to its first fault, a path with a fault is refused:
 * a symbol that is half there would be taken for another stitch.
 */
#include "stitches/symbol_path.h"

#include "stitches/symbol_arc.h"
#include "support/limits.h"
#include "support/text.h"

#include <math.h>
#include <string.h>

typedef struct {
	const char *text, *c;
	GArray *segments;
	const char *why; /* of the first fault, else NULL */
	const char *at; /* where it is */
	double x, y; /* now */
	double start_x, start_y; /* of the subpath */
	double control_x, control_y; /* the last curve's, which S and T reflect */
	char before; /* the last command in upper case, for the same */
	unsigned drawn; /* lines and curves so far */
} reading;

static bool fail(reading *r, const char *why)
{
	if (r->why == NULL) {
		r->why = why;
		r->at = r->c;
	}
	return false;
}

static bool is_space(char c)
{
	return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

static void skip_spaces(reading *r)
{
	while (is_space(*r->c))
		r->c++;
}

/* comma-wsp?: spaces, and at most one comma. True when there was a comma. */
static bool skip_comma(reading *r)
{
	skip_spaces(r);
	if (*r->c != ',')
		return false;
	r->c++;
	skip_spaces(r);
	return true;
}

static const char *digits_end(const char *c)
{
	while (g_ascii_isdigit(*c))
		c++;
	return c;
}

/* Where the number at C ends; C itself when there is none. */
static const char *number_end(const char *c, bool sign)
{
	const char *begin = c;
	if (sign && (*c == '+' || *c == '-'))
		c++;
	const char *whole = digits_end(c), *end = whole;
	if (*whole == '.') {
		end = digits_end(whole + 1);
		if (whole == c && end == whole + 1)
			return begin;
	} else if (whole == c) {
		return begin;
	}
	if (*end == 'e' || *end == 'E') {
		const char *exponent = end + 1;
		if (*exponent == '+' || *exponent == '-')
			exponent++;
		if (g_ascii_isdigit(*exponent))
			end = digits_end(exponent);
	}
	return end;
}

static bool read_number(reading *r, bool sign, double *value)
{
	const char *end = number_end(r->c, sign);
	size_t length = (size_t)(end - r->c);
	char buffer[TB_LIMIT_PATH_FIGURE_BYTES + 1];
	if (length == 0)
		return fail(r, "a number is missing");
	if (length > TB_LIMIT_PATH_FIGURE_BYTES)
		return fail(r, "a number is too long");
	memcpy(buffer, r->c, length);
	buffer[length] = '\0';
	*value = g_ascii_strtod(buffer, NULL);
	if (!(fabs(*value) <= TB_LIMIT_PATH_FARTHEST))
		return fail(r, "a number is too large");
	r->c = end;
	return true;
}

static bool read_flag(reading *r, bool *flag)
{
	if (*r->c != '0' && *r->c != '1')
		return fail(r, "a flag of an arc is 0 or 1");
	*flag = *r->c++ == '1';
	return true;
}

static bool read_numbers(reading *r, double *values, unsigned count)
{
	for (unsigned i = 0; i < count; i++) {
		if (i > 0)
			skip_comma(r);
		if (!read_number(r, true, &values[i]))
			return false;
	}
	return true;
}

static bool add(reading *r, tb_symbol_segment segment)
{
	if (r->segments->len >= TB_LIMIT_PATH_SEGMENTS)
		return fail(r, "the path has too many parts");
	const double all[] = {segment.x1, segment.y1, segment.x2, segment.y2, segment.x, segment.y};
	for (size_t i = 0; i < G_N_ELEMENTS(all); i++)
		if (!(fabs(all[i]) <= TB_LIMIT_PATH_FARTHEST))
			return fail(r, "the path goes too far");
	r->drawn += segment.op == TB_SYMBOL_LINE || segment.op == TB_SYMBOL_CURVE;
	r->x = segment.x;
	r->y = segment.y;
	g_array_append_val(r->segments, segment);
	return true;
}

static bool add_line(reading *r, double x, double y)
{
	return add(r, (tb_symbol_segment){.op = TB_SYMBOL_LINE, .x = x, .y = y});
}

static bool add_curve(reading *r, double x1, double y1, double x2, double y2, double x, double y)
{
	return add(r, (tb_symbol_segment){TB_SYMBOL_CURVE, x1, y1, x2, y2, x, y});
}

static bool add_quadratic(reading *r, double qx, double qy, double x, double y)
{
	/* The cubic that is the same curve. */
	bool added = add_curve(r, r->x + (qx - r->x) * 2 / 3, r->y + (qy - r->y) * 2 / 3,
		x + (qx - x) * 2 / 3, y + (qy - y) * 2 / 3, x, y);
	r->control_x = qx;
	r->control_y = qy;
	return added;
}

/* The last curve's control seen in the mirror of the current point, or that point itself. */
static void reflect(const reading *r, const char *kinds, double *x, double *y)
{
	bool smooth = strchr(kinds, r->before) != NULL;
	*x = smooth ? 2 * r->x - r->control_x : r->x;
	*y = smooth ? 2 * r->y - r->control_y : r->y;
}

static bool read_move(reading *r, double ox, double oy, bool further)
{
	double p[2];
	if (!read_numbers(r, p, 2))
		return false;
	if (further)
		return add_line(r, ox + p[0], oy + p[1]);
	r->start_x = ox + p[0];
	r->start_y = oy + p[1];
	return add(r, (tb_symbol_segment){.op = TB_SYMBOL_MOVE, .x = r->start_x, .y = r->start_y});
}

static bool read_line(reading *r, char kind, double ox, double oy)
{
	double p[2];
	if (!read_numbers(r, p, kind == 'L' ? 2 : 1))
		return false;
	if (kind == 'H')
		return add_line(r, ox + p[0], r->y);
	if (kind == 'V')
		return add_line(r, r->x, oy + p[0]);
	return add_line(r, ox + p[0], oy + p[1]);
}

static bool read_cubic(reading *r, char kind, double ox, double oy)
{
	double p[6] = {0};
	bool smooth = kind == 'S';
	if (!read_numbers(r, smooth ? p + 2 : p, smooth ? 4 : 6))
		return false;
	double x1 = ox + p[0], y1 = oy + p[1];
	if (smooth)
		reflect(r, "CS", &x1, &y1);
	bool added = add_curve(r, x1, y1, ox + p[2], oy + p[3], ox + p[4], oy + p[5]);
	r->control_x = ox + p[2];
	r->control_y = oy + p[3];
	return added;
}

static bool read_quadratic(reading *r, char kind, double ox, double oy)
{
	double p[4] = {0};
	bool smooth = kind == 'T';
	if (!read_numbers(r, smooth ? p + 2 : p, smooth ? 2 : 4))
		return false;
	double qx = ox + p[0], qy = oy + p[1];
	if (smooth)
		reflect(r, "QT", &qx, &qy);
	return add_quadratic(r, qx, qy, ox + p[2], oy + p[3]);
}

static bool read_arc(reading *r, double ox, double oy)
{
	double radii[2], turn, end[2];
	bool large, sweep;
	/* The radii carry no sign in the grammar; one that has it counts as positive all the same
	 * (F.6.6). */
	if (!read_numbers(r, radii, 2))
		return false;
	skip_comma(r);
	if (!read_number(r, true, &turn))
		return false;
	skip_comma(r);
	if (!read_flag(r, &large))
		return false;
	skip_comma(r);
	if (!read_flag(r, &sweep))
		return false;
	skip_comma(r);
	if (!read_numbers(r, end, 2))
		return false;
	double curves[4][6], x = ox + end[0], y = oy + end[1];
	tb_symbol_arc arc = {r->x, r->y, radii[0], radii[1], turn, large, sweep, x, y};
	int count = tb_symbol_arc_curves(&arc, curves);
	if (count < 0)
		return add_line(r, x, y);
	for (int i = 0; i < count; i++)
		if (!add_curve(r, curves[i][0], curves[i][1], curves[i][2], curves[i][3], curves[i][4],
				curves[i][5]))
			return false;
	return true;
}

/* One set of a command's arguments; FURTHER when the letter was not said again. */
static bool read_arguments(reading *r, char letter, bool further)
{
	char kind = g_ascii_toupper(letter);
	bool relative = g_ascii_islower(letter);
	double ox = relative ? r->x : 0, oy = relative ? r->y : 0;
	bool sound;
	switch (kind) {
	case 'M':
		sound = read_move(r, ox, oy, further);
		break;
	case 'C':
	case 'S':
		sound = read_cubic(r, kind, ox, oy);
		break;
	case 'Q':
	case 'T':
		sound = read_quadratic(r, kind, ox, oy);
		break;
	case 'A':
		sound = read_arc(r, ox, oy);
		break;
	default:
		sound = read_line(r, kind, ox, oy);
		break;
	}
	r->before = kind;
	return sound;
}

static bool begins_number(char c)
{
	return g_ascii_isdigit(c) || c == '.' || c == '-' || c == '+';
}

static bool read_command(reading *r)
{
	char letter = *r->c;
	if (!tb_is_among(letter, "MmZzLlHhVvCcSsQqTtAa"))
		return fail(r, "this is no command of a path");
	if (r->segments->len == 0 && g_ascii_toupper(letter) != 'M')
		return fail(r, "a path begins with M");
	r->c++;
	if (g_ascii_toupper(letter) == 'Z') {
		r->before = 'Z';
		return add(r, (tb_symbol_segment){.op = TB_SYMBOL_CLOSE, .x = r->start_x, .y = r->start_y});
	}
	skip_spaces(r);
	bool further = false;
	for (;;) {
		if (!read_arguments(r, letter, further))
			return false;
		bool comma = skip_comma(r);
		if (!comma && !begins_number(*r->c))
			return true;
		further = true;
	}
}

tb_symbol_path *tb_symbol_path_read(const char *text, size_t *bad, const char **why)
{
	g_autoptr(GArray) segments = g_array_new(FALSE, FALSE, sizeof(tb_symbol_segment));
	reading r = {.text = text, .c = text, .segments = segments};
	skip_spaces(&r);
	while (*r.c != '\0' && read_command(&r))
		skip_spaces(&r);
	if (r.why == NULL && r.drawn == 0)
		fail(&r, "the path draws nothing");
	if (r.why != NULL) {
		*bad = (size_t)(r.at - text);
		*why = r.why;
		return NULL;
	}
	tb_symbol_path *path = g_new0(tb_symbol_path, 1);
	path->count = segments->len;
	path->segments = (tb_symbol_segment *)(void *)g_array_free(g_steal_pointer(&segments), FALSE);
	return path;
}

void tb_symbol_path_destroy(tb_symbol_path *path)
{
	if (path == NULL)
		return;
	g_free(path->segments);
	g_free(path);
}
