/* The drawing's model: boxes of paths and shapes, and the drawing as text. */
#include "sample_drawing.h"

#include <criterion/criterion.h>
#include <math.h>

static void expect_box(const tb_path *path, double left, double top, double right, double bottom)
{
	double box[4];
	cr_assert(tb_path_bounds(path, &box[0], &box[1], &box[2], &box[3]));
	cr_expect_float_eq(box[0], left, 1e-12, "left is %.15g", box[0]);
	cr_expect_float_eq(box[1], top, 1e-12, "top is %.15g", box[1]);
	cr_expect_float_eq(box[2], right, 1e-12, "right is %.15g", box[2]);
	cr_expect_float_eq(box[3], bottom, 1e-12, "bottom is %.15g", box[3]);
}

/* Arithmetic: y = 3t(1-t)^2 + 3t^2(1-t) = 3t(1-t), most at t = 1/2: 3/4, not the controls' 1. */
Test(drawing, the_box_of_a_curve_is_the_curves_and_not_its_controls)
{
	g_autoptr(tb_path) path = tb_path_create();
	tb_path_move(path, 0, 0);
	tb_path_curve(path, 0, 1, 1, 1, 1, 0);
	expect_box(path, 0, 0, 1, 0.75);
}

/* Arithmetic: y = 3t(1-t)(1-2t), extreme at t = (3 -+ sqrt 3)/6, where it is +-sqrt(3)/6. */
Test(drawing, a_curve_that_turns_twice_reaches_both_ways)
{
	g_autoptr(tb_path) path = tb_path_create();
	tb_path_move(path, 0, 0);
	tb_path_curve(path, 1, 1, 2, -1, 3, 0);
	expect_box(path, 0, -sqrt(3) / 6, 3, sqrt(3) / 6);
}

/* Raised from a parabola, so that the derivative's first term is 0: y = 2t(1-t), at most 1/2. */
Test(drawing, a_curve_that_is_a_parabola_has_its_box)
{
	g_autoptr(tb_path) path = tb_path_create();
	tb_path_move(path, 0, 0);
	tb_path_curve(path, 1.0 / 3, 2.0 / 3, 2.0 / 3, 2.0 / 3, 1, 0);
	expect_box(path, 0, 0, 1, 0.5);
}

Test(drawing, boxes_agree_with_many_points_along_the_curve)
{
	g_autoptr(GRand) random = g_rand_new_with_seed(1886);

	for (int n = 0; n < 500; n++) {
		double p[8], box[4], low = INFINITY, high = -INFINITY;
		for (int i = 0; i < 8; i++)
			p[i] = g_rand_double_range(random, -10, 10);
		g_autoptr(tb_path) path = tb_path_create();
		tb_path_move(path, p[0], p[1]);
		tb_path_curve(path, p[2], p[3], p[4], p[5], p[6], p[7]);
		cr_assert(tb_path_bounds(path, &box[0], &box[1], &box[2], &box[3]));
		for (int i = 0; i <= 1000; i++) {
			double t = i / 1000.0, u = 1 - t;
			double x = u * u * u * p[0] + 3 * u * u * t * p[2] + 3 * u * t * t * p[4] +
				t * t * t * p[6];
			low = fmin(low, x);
			high = fmax(high, x);
		}
		cr_assert(box[0] <= low + 1e-9 && box[0] > low - 1e-3, "curve %d: %g for %g", n, box[0],
			low);
		cr_assert(box[2] >= high - 1e-9 && box[2] < high + 1e-3, "curve %d: %g for %g", n, box[2],
			high);
	}
}

Test(drawing, after_a_close_the_pen_is_where_it_began)
{
	g_autoptr(tb_path) path = tb_path_create();
	tb_path_move(path, 10, 10);
	tb_path_line(path, 20, 10);
	tb_path_close(path);
	/* From 10,10 and not from 20,10: all of the curve lies at x = 10. */
	tb_path_curve(path, 10, 11, 10, 12, 10, 13);
	expect_box(path, 10, 10, 20, 13);
}

Test(drawing, an_empty_path_has_no_box)
{
	g_autoptr(tb_path) path = tb_path_create();
	double box[4] = {1, 1, 1, 1};
	cr_expect(tb_path_is_empty(path));
	cr_expect_not(tb_path_bounds(path, &box[0], &box[1], &box[2], &box[3]));
	cr_expect_eq(box[3], 0);
}

Test(drawing, a_copy_stands_by_itself)
{
	g_autoptr(tb_path) path = tb_path_create();
	tb_path_move(path, 1, 2);
	g_autoptr(tb_path) copy = tb_path_copy(path);
	tb_path_line(path, 30, 40);
	expect_box(copy, 1, 2, 1, 2);
	g_autoptr(tb_path) nothing = tb_path_create();
	g_autoptr(tb_path) second = tb_path_copy(nothing);
	cr_expect(tb_path_is_empty(second));
}

Test(drawing, a_shapes_box_holds_half_a_pen_round_lines_and_none_round_solids)
{
	g_autoptr(tb_shape) shape = tb_shape_create();
	tb_path *line = tb_path_create();
	tb_path_move(line, 0, 0);
	tb_path_line(line, 0, -7);
	tb_shape_add(shape, line, false);
	tb_path *solid = tb_path_create();
	tb_path_move(solid, -3, -1);
	tb_path_line(solid, 3, -1);
	tb_path_line(solid, 0, -2);
	tb_path_close(solid);
	tb_shape_add(shape, solid, true);
	tb_shape_measure(shape, 0.5);
	cr_expect_float_eq(shape->left, -3, 1e-12);
	cr_expect_float_eq(shape->right, 3, 1e-12);
	cr_expect_float_eq(shape->top, -7.25, 1e-12);
	cr_expect_float_eq(shape->bottom, 0.25, 1e-12);
}

Test(drawing, the_trace_is_one_mark_a_line)
{
	g_autoptr(tb_drawing) drawing = tb_drawing_create();
	drawing->title = g_strdup("A \"title\"\nover two lines");
	drawing->description = g_strdup("");
	drawing->width_mm = 20;
	drawing->height_mm = 10.5;
	drawing->pen_mm = 0.4;
	tb_shape *shape = tb_shape_create();
	tb_path *path = tb_path_create();
	tb_path_move(path, -0.0001, 0);
	tb_path_curve(path, 1, 2, 3, 4, 5, 6);
	tb_path_close(path);
	tb_shape_add(shape, path, false);
	tb_drawing_add_shape(drawing, shape);
	tb_drawing_begin_group(drawing, "Row 1, right side");
	tb_drawing_place_shape(drawing, 0, 5, 8, 0.5, TB_INK_ROW_A, "FPdc2tog");
	tb_drawing_end_group(drawing);
	tb_path *line = tb_path_create();
	tb_path_move(line, 1, 1);
	tb_path_line(line, 19, 1);
	tb_drawing_add_line(drawing, line, TB_INK_FURNITURE, 0.3, 1, 0.5);
	tb_drawing_add_text(drawing, "4 times", 10, 9, 2.5, TB_FACE_BOLD, TB_ALIGN_CENTRE,
		TB_INK_TEXT);

	g_autofree char *trace = tb_drawing_trace(drawing);
	cr_assert_str_eq(trace,
		"drawing 20 10.5 pen 0.4\n"
		"title \"A \\\"title\\\"\\nover two lines\"\n"
		"description \"\"\n"
		"ink row-a 0 0 0\n"
		"ink row-b 0 0 0\n"
		"ink below 0 0 0\n"
		"ink furniture 0 0 0\n"
		"ink text 0 0 0\n"
		"ink quiet 0 0 0\n"
		"ink tint 0 0 0\n"
		"ink shade 0 0 0\n"
		"ink hatch 0 0 0\n"
		"shape 0 box 0 0 0 0\n"
		"  stroke M 0 0 C 1 2 3 4 5 6 Z\n"
		"group \"Row 1, right side\"\n"
		"place 0 row-a at 5 8 turned 0.5 \"FPdc2tog\"\n"
		"end\n"
		"line furniture pen 0.3 dash 1 0.5 M 1 1 L 19 1\n"
		"text text at 10 9 size 2.5 centre bold \"4 times\"\n");
}

Test(drawing, nothing_is_destroyed_without_harm)
{
	tb_drawing_destroy(NULL);
	tb_path_destroy(NULL);
	tb_shape_destroy(NULL);
	g_autoptr(tb_drawing) drawing = tb_sample_drawing("Swatch", 2, 3);
	/* 1 title, 2 rows of group, 3 stitches, end and number, 1 box. */
	cr_assert_eq(drawing->marks->len, 1 + 2 * (3 + 3) + 1);
}
