/* Path data of SVG 1.1, 8.3: the grammar, arcs after appendix F.6, and texts that mean harm. */
#include "stitches/symbol_path.h"

#include <criterion/criterion.h>
#include <math.h>
#include <string.h>

static tb_symbol_path *read_path(const char *text)
{
	size_t bad = 0;
	const char *why = "";
	tb_symbol_path *path = tb_symbol_path_read(text, &bad, &why);
	cr_assert_not_null(path, "%s: %s at %zu", text, why, bad);
	return path;
}

/* The segments as text, numbers to a thousandth. */
static char *print_path(const char *text)
{
	tb_symbol_path *path = read_path(text);
	GString *out = g_string_new(NULL);
	for (unsigned i = 0; i < path->count; i++) {
		const tb_symbol_segment *s = &path->segments[i];
		g_string_append_printf(out, "%s%c", i > 0 ? " " : "", "MLCZ"[s->op]);
		if (s->op == TB_SYMBOL_CURVE)
			g_string_append_printf(out, " %.6g,%.6g %.6g,%.6g", s->x1, s->y1, s->x2, s->y2);
		if (s->op != TB_SYMBOL_CLOSE)
			g_string_append_printf(out, " %.6g,%.6g", s->x, s->y);
	}
	tb_symbol_path_destroy(path);
	return g_string_free(out, FALSE);
}

static void expect(const char *text, const char *expected)
{
	g_autofree char *printed = print_path(text);
	cr_expect_str_eq(printed, expected, "%s gives %s", text, printed);
}

static void expect_fault(const char *text, size_t offset)
{
	size_t bad = 999;
	const char *why = NULL;
	tb_symbol_path *path = tb_symbol_path_read(text, &bad, &why);
	cr_expect_null(path, "%s was read", text);
	cr_expect_eq(bad, offset, "%s: fault at %zu", text, bad);
	cr_expect_not_null(why);
	tb_symbol_path_destroy(path);
}

/* 8.3.2 to 8.3.4: a moveto's further pairs are linetos, relative ones after m. */
Test(symbol_path, lines)
{
	expect("M 1 2 L 3 4", "M 1,2 L 3,4");
	expect("M1,2 3,4 5,6", "M 1,2 L 3,4 L 5,6");
	expect("m1 2 3 4 5 6", "M 1,2 L 4,6 L 9,12");
	expect("M 1 2 H 5 V 7 h -1 v -2", "M 1,2 L 5,2 L 5,7 L 4,7 L 4,5");
	expect("M 1 1 h 1 2 3", "M 1,1 L 2,1 L 4,1 L 7,1");
	expect("M 1 1 L 2 2 z l 3 0", "M 1,1 L 2,2 Z L 4,1");
	expect("M 1 1 l 1 1 Z m 2 0 l 1 0", "M 1,1 L 2,2 Z M 3,1 L 4,1");
}

/* 8.3.9, the grammar: numbers part themselves, and a comma may stand where a space may. */
Test(symbol_path, numbers)
{
	expect("M1-2L.5.5", "M 1,-2 L 0.5,0.5");
	expect("M+1 -2.L 1.5.5", "M 1,-2 L 1.5,0.5");
	expect("M 1e1 2E-1 L 1e+0,0", "M 10,0.2 L 1,0");
	expect(" \t\r\nM 0 , 0\nL 1 ,1 ", "M 0,0 L 1,1");
	expect("M0.6.5L100-200", "M 0.6,0.5 L 100,-200");
}

/* 8.3.6 and 8.3.7: S and T reflect the control before them, or start from the point itself. */
Test(symbol_path, curves)
{
	expect("M 0 0 C 1 2 3 4 5 6", "M 0,0 C 1,2 3,4 5,6");
	expect("M 1 1 c 1 2 3 4 5 6", "M 1,1 C 2,3 4,5 6,7");
	expect("M 0 0 C 0 1 2 1 2 0 S 4 -1 4 0", "M 0,0 C 0,1 2,1 2,0 C 2,-1 4,-1 4,0");
	expect("M 0 0 L 2 0 S 4 -1 4 0", "M 0,0 L 2,0 C 2,0 4,-1 4,0");
	/* a quadratic's cubic has its controls two thirds of the way */
	expect("M 0 0 Q 3 3 6 0", "M 0,0 C 2,2 4,2 6,0");
	expect("M 0 0 Q 3 3 6 0 T 12 0", "M 0,0 C 2,2 4,2 6,0 C 8,-2 10,-2 12,0");
	expect("M 0 0 q 3 3 6 0 t 6 0 6 0", "M 0,0 C 2,2 4,2 6,0 C 8,-2 10,-2 12,0 C 14,2 16,2 18,0");
	expect("M 0 0 C 0 1 2 1 2 0 T 5 0", "M 0,0 C 0,1 2,1 2,0 C 2,0 3,0 5,0");
}

static tb_symbol_segment last_of(const tb_symbol_path *path)
{
	return path->segments[path->count - 1];
}

/* Points of the curves from segment 1 on lie on the ellipse that is said. */
static void expect_on_circle(const tb_symbol_path *path, double cx, double cy, double rx, double ry)
{
	double x = path->segments[0].x, y = path->segments[0].y;
	for (unsigned i = 1; i < path->count; i++) {
		const tb_symbol_segment *s = &path->segments[i];
		cr_assert_eq(s->op, TB_SYMBOL_CURVE);
		for (int k = 1; k <= 8; k++) {
			double t = k / 8.0, u = 1 - t;
			double px =
				u * u * u * x + 3 * u * u * t * s->x1 + 3 * u * t * t * s->x2 + t * t * t * s->x;
			double py =
				u * u * u * y + 3 * u * u * t * s->y1 + 3 * u * t * t * s->y2 + t * t * t * s->y;
			cr_expect_float_eq(hypot((px - cx) / rx, (py - cy) / ry), 1, 4e-4);
		}
		x = s->x;
		y = s->y;
	}
}

/* 8.3.8: a quarter of a circle; the cubic's controls at 4/3 tan(90°/4) = 0.5523 of the radius. */
Test(symbol_path, quarter_arc)
{
	tb_symbol_path *path = read_path("M 10 0 A 10 10 0 0 1 0 10");
	cr_assert_eq(path->count, 2);
	tb_symbol_segment s = last_of(path);
	cr_expect_float_eq(s.x1, 10, 1e-9);
	cr_expect_float_eq(s.y1, 5.5228475, 1e-6);
	cr_expect_float_eq(s.x2, 5.5228475, 1e-6);
	cr_expect_float_eq(s.y2, 10, 1e-9);
	cr_expect_eq(s.x, 0);
	cr_expect_eq(s.y, 10);
	tb_symbol_path_destroy(path);
}

/* The flags choose between the four arcs (8.3.8): large goes around, sweep the way of clocks. */
Test(symbol_path, flags_of_arcs)
{
	static const struct {
		const char *text;
		double cx, cy;
		unsigned curves;
	} arcs[] = {
		{"M 10 0 A 10 10 0 0 1 0 10", 0, 0, 1},
		{"M 10 0 A 10 10 0 0 0 0 10", 10, 10, 1},
		{"M 10 0 A 10 10 0 1 1 0 10", 10, 10, 3},
		{"M 10 0 A 10 10 0 1 0 0 10", 0, 0, 3},
	};
	for (size_t i = 0; i < G_N_ELEMENTS(arcs); i++) {
		tb_symbol_path *path = read_path(arcs[i].text);
		cr_expect_eq(path->count - 1, arcs[i].curves, "%s", arcs[i].text);
		expect_on_circle(path, arcs[i].cx, arcs[i].cy, 10, 10);
		tb_symbol_path_destroy(path);
	}
}

/* Flags need nothing between them and the next number (8.3.9: flag: "0" | "1"). */
Test(symbol_path, flags_without_separators)
{
	g_autofree char *apart = print_path("M 10 0 A 10 10 0 0 1 0 10");
	expect("M10 0A10 10 0 010 10", apart);
	expect("M10 0A10,10,0,0,1,0,10", apart);
	expect_fault("M 0 0 A 1 1 0 2 0 1 1", 14);
}

/* F.6.2: no radius is a straight line, the same ends are nothing; F.6.6: radii that are too small
 * grow until the ends are reached, and their signs do not count. */
Test(symbol_path, arcs_out_of_range)
{
	expect("M 0 0 A 0 5 0 0 1 10 0", "M 0,0 L 10,0");
	expect("M 0 0 A 5 5 0 0 1 0 0 L 1 1", "M 0,0 L 1,1");
	g_autofree char *half = print_path("M 0 0 A 5 5 0 0 1 10 0");
	expect("M 0 0 A 1 1 0 0 1 10 0", half);
	expect("M 0 0 A -5 5 0 0 1 10 0", half);
	tb_symbol_path *path = read_path("M 0 0 A 1 1 0 0 1 10 0");
	expect_on_circle(path, 5, 0, 5, 5);
	tb_symbol_path_destroy(path);
}

/* F.6.5 with the axes turned: by 90 degrees, radii 20 and 10 are 10 across and 20 down. */
Test(symbol_path, turned_arc)
{
	tb_symbol_path *path = read_path("M 10 0 A 20 10 90 0 1 -10 0");
	expect_on_circle(path, 0, 0, 10, 20);
	tb_symbol_path_destroy(path);
	path = read_path("M 10 0 a 20 10 450 0 1 -20 0");
	expect_on_circle(path, 0, 0, 10, 20);
	tb_symbol_path_destroy(path);
}

Test(symbol_path, faults_are_found_where_they_are)
{
	expect_fault("", 0);
	expect_fault("L 1 1", 0);
	expect_fault("M 0 0", 5);
	expect_fault("M 0", 3);
	expect_fault("M 0 0 L 1", 9);
	expect_fault("M 0 0 X 1 1", 6);
	expect_fault("M 0 0 L 1 1,", 12);
	expect_fault("M 0 0 L 1 1 , , 2 2", 14);
	expect_fault("M 0 0, L 1 1", 7);
	expect_fault("M , 0 0 L 1 1", 2);
	expect_fault("M 0 0 L . 1", 8);
	expect_fault("M 0 0 L nan 1", 8);
	expect_fault("M 0 0 L inf 1", 8);
	expect_fault("M 0 0 L 0x10 1", 9);
	expect_fault("M 0 0 L - 1", 8);
	expect_fault("M 0 0 Z 1 1", 8);
	expect_fault("M 0 0 L 1 1 \xc3\xa9", 12);
}

/* Numbers and sums beyond all paper, and paths without end, are refused before they cost anything. */
Test(symbol_path, hostile_texts)
{
	expect_fault("M 0 0 L 1e999 0", 8);
	expect_fault("M 0 0 L 1000001 0", 8);
	size_t bad;
	const char *why;
	cr_expect_null(tb_symbol_path_read("M 0 0 l 900000 0 900000 0", &bad, &why));
	g_autoptr(GString) digits = g_string_new("M 0 0 L ");
	for (int i = 0; i < 10000; i++)
		g_string_append_c(digits, '1');
	cr_expect_null(tb_symbol_path_read(digits->str, &bad, &why));
	g_autoptr(GString) endless = g_string_new("M 0 0 L");
	for (int i = 0; i < 100000; i++)
		g_string_append(endless, " 1 1");
	cr_expect_null(tb_symbol_path_read(endless->str, &bad, &why));
	/* every beginning of a sound path is either read or refused, and never read past its end */
	static const char whole[] = "M10-.5c1 2 3 4 5 6S1 2 3 4q1 1 2 2T9 9a5 5 30 1 0 3 3H1v-2z";
	for (size_t length = 0; length <= strlen(whole); length++) {
		g_autofree char *part = g_strndup(whole, length);
		tb_symbol_path *path = tb_symbol_path_read(part, &bad, &why);
		if (path == NULL)
			cr_expect_leq(bad, length);
		tb_symbol_path_destroy(path);
	}
	/* and so is every one with a byte changed */
	for (size_t i = 0; i < strlen(whole); i++) {
		for (int byte = 1; byte < 256; byte++) {
			g_autofree char *changed = g_strdup(whole);
			changed[i] = (char)byte;
			tb_symbol_path *path = tb_symbol_path_read(changed, &bad, &why);
			for (unsigned k = 0; path != NULL && k < path->count; k++)
				cr_assert(isfinite(path->segments[k].x) && isfinite(path->segments[k].y2));
			tb_symbol_path_destroy(path);
		}
	}
}
