/* The sides of the repeat go through paper: never through a stitch, and both the same line. */
#include "charting.h"
#include "drawing/break.h"
#include "drawing/repeat_line.h"

#include <criterion/criterion.h>
#include <math.h>

static void add_stroke(GArray *ink, double x1, double y1, double x2, double y2)
{
	tb_point points[3] = {{x1, y1}, {x2, y2}, {NAN, NAN}};
	g_array_append_vals(ink, points, 3);
}

static double distance(tb_point p, tb_point a, tb_point b)
{
	double dx = b.x - a.x, dy = b.y - a.y, square = dx * dx + dy * dy;
	double t = square > 0 ? CLAMP(((p.x - a.x) * dx + (p.y - a.y) * dy) / square, 0, 1) : 0;
	return hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}

/* How near LINE, moved AWAY, comes to the ink. */
static double nearest(const GArray *line, const GArray *ink, double away)
{
	double least = INFINITY;
	for (guint i = 1; i < line->len; i++) {
		tb_point a = g_array_index(line, tb_point, i - 1), b = g_array_index(line, tb_point, i);
		for (int k = 0; k <= 200; k++) {
			tb_point p = {a.x + (b.x - a.x) * k / 200 + away, a.y + (b.y - a.y) * k / 200};
			for (guint s = 0; s + 1 < ink->len; s++) {
				tb_point one = g_array_index(ink, tb_point, s), two = g_array_index(ink, tb_point, s + 1);
				if (!isnan(one.x) && !isnan(two.x))
					least = fmin(least, distance(p, one, two));
			}
		}
	}
	return least;
}

Test(repeat_line, goes_around_what_is_in_its_way)
{
	g_autoptr(GArray) ink = tb_outline_create();
	/* One stroke across the wanted line; and one across the other side, elsewhere. */
	add_stroke(ink, 6, 20, 12, 20);
	add_stroke(ink, 46, 10, 52, 10);
	tb_repeat_line how = {.wanted = 10, .shift = 40, .top = 0, .bottom = 30, .unit = 8, .clear = 0.8};
	g_autoptr(GArray) line = tb_repeat_line_find(ink, &how);
	cr_assert_not_null(line);
	cr_expect_geq(nearest(line, ink, 0), how.clear - 0.05);
	cr_expect_geq(nearest(line, ink, how.shift), how.clear - 0.05);
	/* From the bottom where it is wanted, upward to the top. */
	cr_expect_float_eq(g_array_index(line, tb_point, 0).x, 10, 0.3);
	cr_expect_float_eq(g_array_index(line, tb_point, 0).y, 30, 1e-9);
	cr_expect_float_eq(g_array_index(line, tb_point, line->len - 1).y, 0, 0.5);
	for (guint i = 1; i < line->len; i++)
		cr_expect_leq(g_array_index(line, tb_point, i).y, g_array_index(line, tb_point, i - 1).y + 1e-9);
	/* The nearer way around the first stroke is on its right. */
	cr_expect_gt(tb_repeat_line_at(line, 20), 12);
}

Test(repeat_line, keeps_places_on_their_side)
{
	g_autoptr(GArray) ink = tb_outline_create(), kept = g_array_new(FALSE, FALSE, sizeof(tb_point));
	add_stroke(ink, 6, 20, 12, 20);
	/* A stitch beyond the stroke is to stay on the right: the way is on the left, though that is longer. */
	tb_point stays = {11.9, 20};
	g_array_append_val(kept, stays);
	tb_repeat_line how = {.wanted = 10, .top = 0, .bottom = 30, .unit = 8, .clear = 0.8, .kept = kept};
	g_autoptr(GArray) line = tb_repeat_line_find(ink, &how);
	cr_assert_not_null(line);
	cr_expect_lt(tb_repeat_line_at(line, 20), 6);
}

Test(repeat_line, is_none_where_there_is_no_way)
{
	g_autoptr(GArray) ink = tb_outline_create();
	add_stroke(ink, -100, 15, 100, 15);
	tb_repeat_line how = {.wanted = 10, .top = 0, .bottom = 30, .unit = 8, .clear = 0.8};
	cr_expect_null(tb_repeat_line_find(ink, &how));
}

/* ---- on charts ---- */

/* Of what is drawn, the furniture's lines that are as thin as a box's, and everything that is a stitch. */
static unsigned count_cut(const tb_drawing *drawing, unsigned *lines)
{
	g_autoptr(GArray) ink = tb_outline_create();
	unsigned cut = 0;
	for (guint i = 0; i < drawing->marks->len; i++) {
		const tb_mark *mark = &g_array_index(drawing->marks, tb_mark, i);
		if (mark->kind != TB_MARK_SHAPE || mark->ink == TB_INK_TINT)
			continue;
		const tb_shape *shape = g_ptr_array_index(drawing->shapes, mark->shape);
		for (guint k = 0; k < shape->strokes->len; k++)
			tb_outline_add_path(ink, g_array_index(shape->strokes, tb_stroke, k).path, mark->x, mark->y, mark->angle);
	}
	for (guint i = 0; i < drawing->marks->len; i++) {
		const tb_mark *mark = &g_array_index(drawing->marks, tb_mark, i);
		if (mark->kind != TB_MARK_LINE || mark->ink != TB_INK_FURNITURE || fabs(mark->pen_mm - 0.5 * drawing->pen_mm) > 1e-9)
			continue;
		++*lines;
		g_autoptr(tb_path) left = tb_path_break(mark->path, ink, 0.75 * drawing->pen_mm, 0);
		cut += left == NULL || left->points->len != mark->path->points->len;
	}
	return cut;
}

static void check_folder(const char *folder)
{
	g_autofree char *full = g_build_filename(TB_SOURCE_ROOT, folder, NULL);
	g_autoptr(GDir) files = g_dir_open(full, 0, NULL);
	cr_assert_not_null(files);
	const char *name;
	unsigned lines = 0;
	while ((name = g_dir_read_name(files)) != NULL) {
		if (!g_str_has_suffix(name, ".txt") && !g_str_has_suffix(name, ".json"))
			continue;
		g_autofree char *path = g_build_filename(folder, name, NULL);
		tb_case c = tb_case_file(path);
		for (unsigned piece = 0; c.worked != NULL && piece < tb_pattern_count_pieces(c.pattern); piece++) {
			for (int hand = 0; hand < 2; hand++) {
				tb_chart_options options = {.piece = piece, .left_handed = hand == 1};
				tb_chart *chart = tb_case_chart(&c, &options);
				if (chart == NULL)
					continue;
				tb_drawing *drawing = tb_chart_draw(chart);
				cr_expect_eq(count_cut(drawing, &lines), 0, "%s, piece %u: a line of the box is on a stitch", path, piece + 1);
				tb_drawing_destroy(drawing);
				tb_chart_destroy(chart);
			}
		}
		tb_case_finish(&c);
	}
	cr_expect_gt(lines, 0);
}

Test(repeat_line, is_on_no_stitch_of_the_examples, .timeout = 240)
{
	check_folder("examples");
}

Test(repeat_line, is_on_no_stitch_of_the_patterns, .timeout = 480)
{
	check_folder("tests/patterns");
}
