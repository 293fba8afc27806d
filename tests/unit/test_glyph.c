/* What every symbol must show of its stitch: a leg each, a bar a yarn over, legs that meet. */
#include "drawing/break.h"
#include "drawing/glyph.h"
#include "layout/need.h"

#include <criterion/criterion.h>
#include <math.h>

static unsigned count_parts(const GArray *parts, tb_part_kind kind)
{
	unsigned count = 0;
	for (guint i = 0; i < parts->len; i++)
		count += g_array_index(parts, tb_part, i).kind == kind;
	return count;
}

static tb_point path_end(const tb_path *path, bool last)
{
	return g_array_index(path->points, tb_point, last ? path->points->len - 1 : 0);
}

/* As high as its row makes it. */
static double high_in(const tb_stitch *stitch, double chain)
{
	double needed = tb_stitch_is_raised_cross(stitch) ? tb_need_raised_cross() * tb_need_unit(8, chain) : 0;
	return fmax(fmax(stitch->height, 1) * chain, needed);
}

static GArray *build_in_cell(const tb_stitch *stitch, unsigned feet, double chain)
{
	static tb_point at[6];
	double height = high_in(stitch, chain);
	for (unsigned i = 0; i < feet; i++)
		at[i] = (tb_point){(i - (feet - 1) / 2.0) * 8,
			stitch->post != TB_POST_NONE ? height + 5 : height};
	tb_glyph_place place = {.stitch = stitch, .column = 8, .chain = chain, .pen = 0.44,
		.height = height, .base_top = height, .feet = at, .foot_count = feet};
	return tb_glyph_build(&place);
}

static GArray *build(const tb_stitch *stitch, unsigned feet)
{
	return build_in_cell(stitch, feet, 4);
}

/* One bar a yarn over (trade-tables 1g, two chart guides), on every leg. */
Test(glyph, a_bar_for_every_yarn_over)
{
	g_autoptr(tb_library) library = tb_library_create();
	const struct { const char *name; unsigned bars; } expect[] = {
		{"sc", 0}, {"hdc", 0}, {"dc", 1}, {"tr", 2}, {"dtr", 3}, {"FPdc", 1}, {"BPtr", 2},
		{"dc2tog", 2}, {"FPdc2tog", 2}, {"BPdc2tog", 2},
	};
	for (gsize i = 0; i < G_N_ELEMENTS(expect); i++) {
		const tb_stitch *stitch = tb_library_find(library, expect[i].name);
		cr_assert_not_null(stitch, "%s", expect[i].name);
		g_autoptr(GArray) parts = build(stitch, stitch->takes);
		cr_assert_eq(count_parts(parts, TB_PART_BAR), expect[i].bars, "%s has %u bars",
			expect[i].name, count_parts(parts, TB_PART_BAR));
	}
}

/* Worked together: feet apart, one head (trade-tables 1g). */
Test(glyph, together_meet_under_one_head)
{
	g_autoptr(tb_library) library = tb_library_create();
	for (int i = 0; i < 2; i++) {
		const tb_stitch *stitch = tb_library_find(library, i == 0 ? "dc2tog" : "sc2tog");
		g_autoptr(GArray) parts = build(stitch, 2);
		tb_point tops[2], feet[2];
		unsigned legs = 0;
		for (guint p = 0; p < parts->len && legs < 2; p++) {
			const tb_part *part = &g_array_index(parts, tb_part, p);
			if (part->kind != TB_PART_LEG)
				continue;
			tops[legs] = path_end(part->path, false);
			feet[legs++] = path_end(part->path, true);
		}
		cr_assert_eq(legs, 2);
		cr_assert_eq(count_parts(parts, TB_PART_HEAD), 1);
		cr_assert_float_eq(tops[0].x, tops[1].x, 1e-9);
		cr_assert_gt(fabs(feet[0].x - feet[1].x), 4);
	}
}

/* The hook runs under the post and up on its other side: right for front, left for back. */
Test(glyph, a_post_hook_goes_around_the_post)
{
	g_autoptr(tb_library) library = tb_library_create();
	const char *const names[] = {"FPdc", "BPdc", "FPtr", "BPtr", "FPsc", "BPsc"};
	for (gsize i = 0; i < G_N_ELEMENTS(names); i++) {
		const tb_stitch *stitch = tb_library_find(library, names[i]);
		cr_assert_not_null(stitch, "%s", names[i]);
		double side = stitch->post == TB_POST_FRONT ? 1 : -1;
		double post_y = fmax(stitch->height, 1) * 4 + 5;
		g_autoptr(GArray) parts = build(stitch, 1);
		bool around = false;
		for (guint p = 0; p < parts->len; p++) {
			const tb_part *part = &g_array_index(parts, tb_part, p);
			tb_point end = path_end(part->path, true);
			if (part->kind != TB_PART_LEG || fabs(end.y - post_y) > 2)
				continue;
			/* Down on one side of the post, and up again on the other. */
			around = end.x * side > 0.5;
			/* Its lowest point is under the post and beside nothing. */
			double lowest = -INFINITY, x = NAN;
			for (guint k = 0; k < part->path->points->len; k++) {
				tb_point q = g_array_index(part->path->points, tb_point, k);
				if (q.y > lowest) {
					lowest = q.y;
					x = q.x;
				}
			}
			cr_assert_gt(lowest, post_y, "%s", names[i]);
			cr_assert_leq(fabs(x), 1.2, "%s", names[i]);
		}
		cr_assert(around, "%s does not curl to its side", names[i]);
	}
}

Test(glyph, a_turning_chain_stands_as_many_chains)
{
	g_autoptr(tb_library) library = tb_library_create();
	const tb_stitch *ch = tb_library_find(library, "ch");
	tb_point foot = {0, 12};
	for (unsigned chains = 1; chains <= 5; chains++) {
		tb_glyph_place place = {.stitch = ch, .column = 8, .chain = 4, .pen = 0.44,
			.height = chains * 4, .base_top = chains * 4, .feet = &foot, .foot_count = 1,
			.chains = chains};
		g_autoptr(GArray) parts = tb_glyph_build(&place);
		cr_assert_eq(parts->len, chains);
	}
}

/* Half a column on either side is a stitch's own room: nothing of a plain symbol leaves it. */
Test(glyph, plain_symbols_keep_to_their_column)
{
	g_autoptr(tb_library) library = tb_library_create();
	for (unsigned i = 0; i < tb_library_count(library); i++) {
		const tb_stitch *stitch = tb_library_get(library, i);
		if (stitch->takes > 1)
			continue;
		g_autoptr(GArray) parts = build(stitch, 1);
		cr_assert_gt(parts->len, 0, "%s has no symbol", stitch->us);
		for (guint p = 0; p < parts->len; p++) {
			const tb_part *part = &g_array_index(parts, tb_part, p);
			double left, top, right, bottom;
			cr_assert(tb_path_bounds(part->path, &left, &top, &right, &bottom), "%s", stitch->us);
			cr_assert(isfinite(top) && isfinite(bottom), "%s", stitch->us);
			cr_assert_geq(left, -0.45 * 8, "%s reaches %g", stitch->us, left);
			cr_assert_leq(right, 0.45 * 8, "%s reaches %g", stitch->us, right);
		}
	}
}

static bool is_same_path(const tb_path *a, const tb_path *b)
{
	if (a->points->len != b->points->len)
		return false;
	for (guint i = 0; i < a->points->len; i++) {
		tb_point p = g_array_index(a->points, tb_point, i), q = g_array_index(b->points, tb_point, i);
		if (fabs(p.x - q.x) > 0.01 || fabs(p.y - q.y) > 0.01)
			return false;
	}
	return true;
}

static bool is_drawn_alike(const GArray *a, const GArray *b)
{
	bool same = a->len == b->len;
	for (guint i = 0; same && i < a->len; i++)
		same = is_same_path(g_array_index(a, tb_part, i).path, g_array_index(b, tb_part, i).path);
	return same;
}

/* A bobble is a cluster by another name. */
static bool is_made_alike(const tb_stitch *a, const tb_stitch *b)
{
	bool same = a->moves != NULL && b->moves != NULL && a->moves->count == b->moves->count;
	for (unsigned i = 0; same && i < a->moves->count; i++)
		same = a->moves->moves[i].kind == b->moves->moves[i].kind && a->moves->moves[i].through == b->moves->moves[i].through;
	return same;
}

/* Who works from the chart sees which stitch is meant: no two of one height look the same (arithmetic of the drawing). */
Test(glyph, no_two_stitches_are_drawn_alike)
{
	g_autoptr(tb_library) library = tb_library_create();
	unsigned looked = 0;
	for (unsigned i = 0; i < tb_library_count(library); i++) {
		const tb_stitch *one = tb_library_get(library, i);
		g_autoptr(GArray) parts = build(one, MAX(one->takes, 1));
		for (unsigned k = 0; k < i; k++) {
			const tb_stitch *other = tb_library_get(library, k);
			/* what reaches into a row further down differs by its foot there */
			if (one->takes != other->takes || fabs(one->height - other->height) > 0.01 ||
				one->foot == TB_FOOT_DEEP || other->foot == TB_FOOT_DEEP || is_made_alike(one, other))
				continue;
			g_autoptr(GArray) others = build(other, MAX(other->takes, 1));
			cr_expect_not(is_drawn_alike(parts, others), "%s and %s look the same", one->us, other->us);
			looked++;
		}
	}
	cr_expect_gt(looked, 0);
}

static void measure_parts(const GArray *parts, double *top, double *bottom)
{
	*top = INFINITY;
	*bottom = -INFINITY;
	for (guint p = 0; p < parts->len; p++) {
		double left, high, right, low;
		tb_path_bounds(g_array_index(parts, tb_part, p).path, &left, &high, &right, &low);
		*top = fmin(*top, high);
		*bottom = fmax(*bottom, low);
	}
}

/* From just under its top to just over its base: the next row's foot and the last row's head have
 * their air, and no symbol floats. */
Test(glyph, symbols_span_from_base_to_top)
{
	g_autoptr(tb_library) library = tb_library_create();
	for (unsigned i = 0; i < tb_library_count(library); i++) {
		const tb_stitch *stitch = tb_library_get(library, i);
		if (stitch->form == TB_FORM_CHAIN || stitch->form == TB_FORM_SLIP ||
			stitch->form == TB_FORM_RING)
			continue;
		g_autoptr(GArray) parts = build(stitch, MAX(stitch->takes, 1));
		double top, bottom, height = high_in(stitch, 4);
		measure_parts(parts, &top, &bottom);
		cr_expect_geq(top, -0.03 * 8, "%s begins at %g", stitch->us, top);
		cr_expect_leq(top, 0.12 * 8, "%s begins at %g", stitch->us, top);
		if (stitch->post == TB_POST_NONE && stitch->foot != TB_FOOT_CHAIN)
			cr_expect(bottom > height - 0.2 * 8 && bottom < height - 0.07 * 8, "%s ends at %g", stitch->us, bottom);
		else
			cr_expect_gt(bottom, height, "%s ends at %g", stitch->us, bottom);
	}
}

/* A bar belongs to its own leg: bars of neighbours leave paper between them. */
static void expect_clear_bars(const tb_stitch *stitch, const GArray *parts, double chain)
{
	for (guint a = 0; a < parts->len; a++) {
		const tb_part *one = &g_array_index(parts, tb_part, a);
		if (one->kind != TB_PART_BAR)
			continue;
		g_autoptr(GArray) others = tb_outline_create();
		for (guint b = 0; b < parts->len; b++) {
			const tb_part *other = &g_array_index(parts, tb_part, b);
			if (b != a && other->kind == TB_PART_BAR)
				tb_outline_add_path(others, other->path, 0, 0, 0);
		}
		/* nearer than a pen and a hair, something would be cut */
		g_autoptr(tb_path) kept = tb_path_break(one->path, others, 0.44 * 1.1, 0);
		cr_assert_not_null(kept, "%s", stitch->us);
		tb_point end = path_end(kept, true), old = path_end(one->path, true);
		cr_expect(kept->points->len == one->path->points->len && hypot(end.x - old.x, end.y - old.y) < 1e-9,
			"%s: bar %u touches another where a chain is %g mm", stitch->us, a, chain);
	}
}

Test(glyph, bars_keep_clear_of_each_other)
{
	static const double chains[] = {3.2, 3.5, 4, 5, 7};
	g_autoptr(tb_library) library = tb_library_create();
	for (unsigned i = 0; i < tb_library_count(library); i++) {
		const tb_stitch *stitch = tb_library_get(library, i);
		for (gsize k = 0; k < G_N_ELEMENTS(chains); k++) {
			g_autoptr(GArray) parts = build_in_cell(stitch, MAX(stitch->takes, 1), chains[k]);
			expect_clear_bars(stitch, parts, chains[k]);
		}
	}
}

static GArray *build_placed(const tb_stitch *stitch, double foot_x, tb_loops loops, bool in_space)
{
	tb_point foot = {foot_x, 12};
	tb_glyph_place place = {.stitch = stitch, .column = 8, .chain = 4, .pen = 0.44, .height = 12,
		.base_top = 12, .feet = &foot, .foot_count = 1, .loops = loops, .in_space = in_space};
	return tb_glyph_build(&place);
}

/* Into the third loop, a flat stroke: it has no side (trade-tables 1g has arcs for the other two; ours). */
Test(glyph, the_third_loop_is_a_flat_stroke_under_the_foot)
{
	g_autoptr(tb_library) library = tb_library_create();
	g_autoptr(GArray) parts = build_placed(tb_library_find(library, "hdc"), 0, TB_LOOPS_THIRD, false);
	cr_assert_eq(count_parts(parts, TB_PART_ARC), 1);
	for (guint p = 0; p < parts->len; p++) {
		const tb_part *part = &g_array_index(parts, tb_part, p);
		double left, top, right, bottom;
		tb_path_bounds(part->path, &left, &top, &right, &bottom);
		if (part->kind == TB_PART_ARC)
			cr_expect(bottom - top < 1e-9 && right - left > 0.2 * 8);
		else
			cr_expect_lt(bottom, 12 - 0.15 * 8, "the stroke has paper above it");
	}
}

/* A linked stitch's bar is a loop through that of the stitch before: it ends on that one's stem, as high up. */
Test(glyph, a_linked_bar_runs_on_to_the_stem_before)
{
	g_autoptr(tb_library) library = tb_library_create();
	const tb_stitch *ltr = tb_library_variant(library, tb_library_find(library, "tr"), TB_VARIANT_LINKED);
	cr_assert_not_null(ltr);
	for (int side = -1; side <= 1; side += 2) {
		tb_point foot = {0, 16};
		tb_glyph_place place = {.stitch = ltr, .column = 8, .chain = 4, .pen = 0.44, .height = 16, .base_top = 16,
			.feet = &foot, .foot_count = 1, .link = {side * 8, 0.5}};
		g_autoptr(GArray) parts = tb_glyph_build(&place);
		cr_expect_eq(count_parts(parts, TB_PART_BAR), 2, "a bar a yarn over");
		for (guint p = 0; p < parts->len; p++) {
			const tb_part *part = &g_array_index(parts, tb_part, p);
			tb_point from = path_end(part->path, false), to = path_end(part->path, true);
			if (part->kind != TB_PART_BAR)
				continue;
			cr_expect_float_eq(to.x, side * 8, 1e-9);
			cr_expect_lt(fabs(to.y - 0.5 - from.y), 0.06 * 8);
			cr_expect_lt(from.x * side, 0, "it begins beyond its own stem");
		}
	}
}

/* An arc under the foot, opening up for the front loop and down for the back (trade-tables 1g). */
Test(glyph, one_loop_only_has_an_arc_under_the_foot)
{
	static const char *const names[] = {"sc", "hdc", "dc", "sl st", "edc", "3-dc cl", "5-dc popcorn"};
	g_autoptr(tb_library) library = tb_library_create();
	for (gsize i = 0; i < G_N_ELEMENTS(names); i++) {
		const tb_stitch *stitch = tb_library_find(library, names[i]);
		for (int loops = TB_LOOPS_BOTH; loops <= TB_LOOPS_BACK; loops++) {
			g_autoptr(GArray) parts = build_placed(stitch, 0, (tb_loops)loops, false);
			cr_expect_eq(count_parts(parts, TB_PART_ARC), loops == TB_LOOPS_BOTH ? 0 : 1, "%s",
				names[i]);
			double lowest_leg = -INFINITY, left, top, right, bottom;
			for (guint p = 0; p < parts->len; p++) {
				const tb_part *part = &g_array_index(parts, tb_part, p);
				tb_path_bounds(part->path, &left, &top, &right, &bottom);
				if (part->kind == TB_PART_LEG)
					lowest_leg = fmax(lowest_leg, bottom);
			}
			for (guint p = 0; p < parts->len; p++) {
				const tb_part *part = &g_array_index(parts, tb_part, p);
				if (part->kind != TB_PART_ARC)
					continue;
				tb_path_bounds(part->path, &left, &top, &right, &bottom);
				/* The ends are high where it opens upward, low where it opens downward. */
				double ends = path_end(part->path, false).y;
				cr_expect_float_eq(ends, loops == TB_LOOPS_FRONT ? top : bottom, 1e-6);
				cr_expect_gt(bottom - top, 0.44, "%s: the arc is flat", names[i]);
				cr_expect_gt(top, lowest_leg, "%s: the arc is not under the foot", names[i]);
				cr_expect_lt(bottom, 12);
			}
		}
	}
}

/* Feet together: all in one stitch; feet apart: around a chain (trade-tables 1g). */
Test(glyph, feet_in_a_space_stand_apart)
{
	g_autoptr(tb_library) library = tb_library_create();
	const tb_stitch *dc = tb_library_find(library, "dc");
	for (int in_space = 0; in_space < 2; in_space++) {
		double x[3];
		for (int i = 0; i < 3; i++) {
			/* tops at -8, 0 and 8 of one foot at 0 */
			g_autoptr(GArray) parts = build_placed(dc, (1 - i) * 8.0, TB_LOOPS_BOTH, in_space);
			for (guint p = 0; p < parts->len; p++) {
				const tb_part *part = &g_array_index(parts, tb_part, p);
				if (part->kind == TB_PART_LEG)
					x[i] = path_end(part->path, true).x + (i - 1) * 8.0;
			}
		}
		double apart = in_space ? 1.0 : 0;
		cr_expect(in_space ? x[1] - x[0] > apart : fabs(x[1] - x[0]) < 1e-9);
		cr_expect(in_space ? x[2] - x[1] > apart : fabs(x[2] - x[1]) < 1e-9);
	}
}

/* A leg around each post where two posts are drawn together. */
Test(glyph, around_two_posts_there_are_two_hooks)
{
	g_autoptr(tb_library) library = tb_library_create();
	const tb_stitch *stitch = tb_library_find(library, "FPdc2tog");
	g_autoptr(GArray) parts = build(stitch, 2);
	cr_assert_eq(count_parts(parts, TB_PART_LEG), 2);
	cr_expect_eq(count_parts(parts, TB_PART_HEAD), 1);
	double before = -INFINITY;
	for (guint p = 0; p < parts->len; p++) {
		const tb_part *part = &g_array_index(parts, tb_part, p);
		if (part->kind != TB_PART_LEG)
			continue;
		tb_point end = path_end(part->path, true);
		cr_expect_gt(end.x, before + 4);
		before = end.x;
	}
}

/* A spike's leg goes down to the row it is worked into; its bow stays in its own row. */
Test(glyph, a_spike_reaches_down)
{
	g_autoptr(tb_library) library = tb_library_create();
	const tb_stitch *spike = tb_library_find(library, "spike sc");
	for (int rows = 2; rows <= 4; rows++) {
		tb_point foot = {0, 4.0 * rows};
		tb_glyph_place place = {.stitch = spike, .column = 8, .chain = 4, .pen = 0.44, .height = 4,
			.base_top = foot.y, .feet = &foot, .foot_count = 1};
		g_autoptr(GArray) parts = tb_glyph_build(&place);
		double left, top, right, bottom;
		for (guint p = 0; p < parts->len; p++) {
			const tb_part *part = &g_array_index(parts, tb_part, p);
			tb_path_bounds(part->path, &left, &top, &right, &bottom);
			if (part->kind == TB_PART_LEG)
				cr_expect(bottom < foot.y && bottom > foot.y - 0.15 * 8, "it ends on top of the row it goes into");
			else
				cr_expect_lt(bottom, 4);
		}
	}
}

/* A designer's drawing stands with its base on the foot and its top at the top, whichever way up
 * and however large she drew it. */
Test(glyph, a_drawn_symbol_is_set_by_its_base_and_top)
{
	tb_symbol_segment segments[] = {
		{.op = TB_SYMBOL_MOVE, .x = 5, .y = 10}, {.op = TB_SYMBOL_LINE, .x = 5, .y = 110}};
	tb_symbol_path path = {.segments = segments, .count = 2, .base_x = 5, .base_y = 10, .top_x = 5,
		.top_y = 110};
	tb_stitch own = {.form = TB_FORM_PATH, .height = 3, .path = &path};
	tb_point foot = {3, 12};
	tb_glyph_place place = {.stitch = &own, .column = 8, .chain = 4, .pen = 0.44, .height = 12,
		.base_top = 12, .feet = &foot, .foot_count = 1};
	g_autoptr(GArray) parts = tb_glyph_build(&place);
	cr_assert_eq(parts->len, 1);
	const tb_part *part = &g_array_index(parts, tb_part, 0);
	tb_point base = path_end(part->path, false), top = path_end(part->path, true);
	cr_expect_float_eq(base.x, 3, 1e-9);
	cr_expect_float_eq(base.y, 12 - 0.14 * 8, 1e-9);
	cr_expect_float_eq(top.x, 0, 1e-9);
	cr_expect_float_eq(top.y, 0.07 * 8, 1e-9);
	cr_expect_not(part->filled);
}

static double nearest(const tb_path *path, double x)
{
	double distance = INFINITY;
	for (guint i = 0; i < path->points->len; i++)
		distance = fmin(distance, fabs(g_array_index(path->points, tb_point, i).x - x));
	return distance;
}

Test(break_parts, a_line_is_cut_clear_of_what_passes_over)
{
	g_autoptr(GArray) outline = tb_outline_create();
	g_autoptr(tb_path) over = tb_path_create();
	tb_path_move(over, 0, -5);
	tb_path_line(over, 0, 5);
	tb_outline_add_path(outline, over, 0, 0, 0);
	g_autoptr(tb_path) line = tb_path_create();
	tb_path_move(line, -4, 0);
	tb_path_line(line, 4, 0);
	g_autoptr(tb_path) cut = tb_path_break(line, outline, 0.8, 0.5);
	cr_assert_not_null(cut);
	cr_assert_eq(cut->points->len, 4, "two pieces");
	cr_assert_float_eq(nearest(cut, 0), 0.8, 0.01);
}

Test(break_parts, crumbs_are_dropped_whole)
{
	g_autoptr(GArray) outline = tb_outline_create();
	g_autoptr(tb_path) over = tb_path_create();
	tb_path_move(over, 0, -5);
	tb_path_line(over, 0, 5);
	tb_outline_add_path(outline, over, 0, 0, 0);
	g_autoptr(tb_path) line = tb_path_create();
	tb_path_move(line, -1, 0);
	tb_path_line(line, 1, 0);
	g_autoptr(tb_path) cut = tb_path_break(line, outline, 0.8, 0.5);
	cr_assert_null(cut);
}

Test(break_parts, a_curve_keeps_its_course)
{
	g_autoptr(GArray) outline = tb_outline_create();
	g_autoptr(tb_path) over = tb_path_create();
	tb_path_move(over, 5, -5);
	tb_path_line(over, 5, 5);
	tb_outline_add_path(outline, over, 0, 0, 0);
	g_autoptr(tb_path) bow = tb_path_create();
	tb_path_move(bow, 0, 0);
	tb_path_curve(bow, 3, -4, 7, -4, 10, 0);
	g_autoptr(tb_path) cut = tb_path_break(bow, outline, 1, 0.5);
	cr_assert_not_null(cut);
	/* The ends stay where they were, and the cut ends lie on the old curve: y = -12 t (1 - t). */
	tb_point first = path_end(cut, false), last = path_end(cut, true);
	cr_assert_float_eq(first.x, 0, 1e-9);
	cr_assert_float_eq(last.x, 10, 1e-9);
	tb_point end = g_array_index(cut->points, tb_point, 3);
	cr_assert_float_eq(end.x, 4, 0.01);
	double t = 0.5;
	for (int i = 0; i < 60; i++) {
		double u = 1 - t, x = 9 * u * u * t + 21 * u * t * t + 10 * t * t * t;
		t += (end.x - x) / 10;
	}
	cr_assert_float_eq(end.y, -12 * t * (1 - t), 0.01);
}

Test(break_parts, what_is_far_stays_the_same)
{
	g_autoptr(GArray) outline = tb_outline_create();
	g_autoptr(tb_path) over = tb_path_create();
	tb_path_move(over, 50, -5);
	tb_path_line(over, 50, 5);
	tb_outline_add_path(outline, over, 0, 0, 0);
	g_autoptr(tb_library) library = tb_library_create();
	g_autoptr(GArray) parts = build(tb_library_find(library, "dc"), 1);
	g_autoptr(GArray) kept = tb_parts_break(parts, outline, 1, 1, 0, ~0u);
	cr_assert_eq(kept->len, parts->len);
	for (guint i = 0; i < parts->len; i++)
		cr_assert_eq(g_array_index(kept, tb_part, i).path->points->len,
			g_array_index(parts, tb_part, i).path->points->len);
}
