/* The shorter path: its letters and numbers, and that a reader of SVG paths finds every point again. */
#include "output/svg_path.h"
#include "stitches/symbol_path.h"

#include <criterion/criterion.h>
#include <math.h>
#include <string.h>

static char *shorten(const char *data)
{
	g_autoptr(GByteArray) out = g_byte_array_new();
	tb_svg_put_path(out, data, strlen(data));
	return out->len > 0 ? g_strndup((const char *)out->data, out->len) : g_strdup("");
}

Test(svg_path, points_are_told_from_the_one_before)
{
	/* SVG 1.1, 8.3: m, l, h, v, c and z are relative; a letter holds until the next. */
	static const struct {
		const char *data, *wanted;
	} cases[] = {
		{"M 10 20 L 10.5 20.25 L 11 20 ", "M10 20l.5 .25 .5-.25"},
		{"M 10 20 L 12.5 20 L 12.5 18 L 12.5 18 ", "M10 20h2.5v-2h0"},
		{"M 1 1 C 1 2 3 2 3 1 C 3 0 1 0 1 1 Z M 1 1 ", "M1 1c0 1 2 1 2 0 0-1-2-1-2 0z"},
		{"M 1 1 L 2 3 Z M 1 1 M 5 5 L 6 7 ", "M1 1l1 2zm4 4l1 2"},
		{"M -0.000488 3.141593 L 0 -1 ", "M0 3.142v-4.142"},
		{"M 0.0625 -0.0625 L 1000000.5 0 ", "M.063-.063l1000000.437 .063"},
		{"M 5 5 ", ""},
		{"", ""},
	};
	for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
		g_autofree char *out = shorten(cases[i].data);
		cr_expect_str_eq(out, cases[i].wanted, "%s: %s", cases[i].data, out);
	}
}

Test(svg_path, what_is_not_understood_is_left_alone)
{
	static const char *const data[] = {
		"M 1 2 H 3", "M 1 2 L 3", "M 1 2 L x 3", "M 1 2 L 1e5 3", "M 1 2 L 12345678901 3", "? 1",
		"M . 1 L 2 2", "M 1 2 L",
	};
	for (size_t i = 0; i < G_N_ELEMENTS(data); i++) {
		g_autofree char *out = shorten(data[i]);
		cr_expect_str_eq(out, data[i]);
	}
}

static void add_points(GString *to, GRand *random, unsigned count)
{
	for (unsigned i = 0; i < count; i++) {
		char text[G_ASCII_DTOSTR_BUF_SIZE];
		/* As Cairo keeps them, to 1/256; now and then the last once more. */
		double value = g_rand_int_range(random, -20000, 400000) / 256.0;
		g_string_append_c(to, ' ');
		g_string_append(to, g_ascii_formatd(text, sizeof text, "%.6f", value));
	}
	g_string_append_c(to, ' ');
}

static char *make_path(GRand *random)
{
	GString *data = g_string_new(NULL);
	for (int lines = g_rand_int_range(random, 1, 60); lines > 0; lines--) {
		g_string_append_c(data, 'M');
		add_points(data, random, 2);
		for (int steps = g_rand_int_range(random, 1, 5); steps > 0; steps--) {
			bool curve = g_rand_boolean(random);
			g_string_append_c(data, curve ? 'C' : 'L');
			add_points(data, random, curve ? 6 : 2);
		}
		if (g_rand_boolean(random))
			g_string_append(data, "Z ");
	}
	return g_string_free(data, FALSE);
}

static tb_symbol_path *read_path(const char *data)
{
	size_t bad = 0;
	const char *why = NULL;
	tb_symbol_path *path = tb_symbol_path_read(data, &bad, &why);
	cr_assert_not_null(path, "%s at %zu: %s", why, bad, data);
	return path;
}

static bool are_near(const tb_symbol_segment *a, const tb_symbol_segment *b)
{
	const double first[] = {a->x1, a->y1, a->x2, a->y2, a->x, a->y};
	const double other[] = {b->x1, b->y1, b->x2, b->y2, b->x, b->y};
	bool curve = a->op == TB_SYMBOL_CURVE;

	if (a->op != b->op)
		return false;
	for (size_t i = curve ? 0 : 4; i < G_N_ELEMENTS(first); i++)
		if (!(fabs(first[i] - other[i]) <= 0.000501))
			return false;
	return true;
}

Test(svg_path, a_reader_finds_every_point_within_half_a_thousandth)
{
	g_autoptr(GRand) random = g_rand_new_with_seed(7);
	for (int round = 0; round < 300; round++) {
		g_autofree char *data = make_path(random);
		g_autofree char *out = shorten(data);
		tb_symbol_path *before = read_path(data), *after = read_path(out);
		cr_assert_lt(strlen(out), strlen(data));
		cr_assert_eq(before->count, after->count, "%s\n%s", data, out);
		for (unsigned i = 0; i < before->count; i++)
			cr_assert(are_near(&before->segments[i], &after->segments[i]), "segment %u of %s\n%s", i,
				data, out);
		tb_symbol_path_destroy(before);
		tb_symbol_path_destroy(after);
	}
}
