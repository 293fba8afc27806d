#include "drawing/sample.h"

#include "drawing/break.h"
#include "drawing/glyphs.h"
#include "support/limits.h"

#include <math.h>

/* The feet of a sample stand no farther apart than this, in columns; those of low ones, less. */
#define WIDEST_FEET 1.5
#define WIDEST_LOW_FEET 1.2
#define FEET_APART 0.72

/* The post a sample curls around: a stem and its head, pale, as any stitch has them. */
static GArray *sample_post(double top, double bottom, double half)
{
	GArray *parts = tb_parts_create();
	tb_part stem = {TB_PART_LEG, false, tb_path_create()};
	tb_path_move(stem.path, 0, top);
	tb_path_line(stem.path, 0, bottom);
	tb_part head = {TB_PART_HEAD, false, tb_path_create()};
	tb_path_move(head.path, -half, top + half * 0.3);
	tb_path_curve(head.path, -half * 0.5, top - half * 0.1, half * 0.5, top - half * 0.1, half,
		top + half * 0.3);
	g_array_append_val(parts, stem);
	g_array_append_val(parts, head);
	return parts;
}

/* The sc of the row below that a spike passes, pale, one on either side of it. */
static GArray *sample_row(double top, double column, double chain, double pen)
{
	GArray *parts = tb_parts_create();
	const tb_stitch plain = {.form = TB_FORM_CROSS, .legs = 1, .height = 1};
	for (int side = -1; side <= 1; side += 2) {
		tb_point foot = {0, chain};
		tb_glyph_place place = {.stitch = &plain,
			.column = column,
			.chain = chain,
			.pen = pen,
			.height = chain,
			.base_top = chain,
			.feet = &foot,
			.foot_count = 1};
		g_autoptr(GArray) one = tb_glyph_build(&place);
		for (guint i = 0; i < one->len; i++) {
			tb_part part = g_array_index(one, tb_part, i);
			part.path = tb_path_copy(part.path);
			for (guint k = 0; k < part.path->points->len; k++) {
				tb_point *p = &g_array_index(part.path->points, tb_point, k);
				p->x += side * 0.52 * column;
				p->y += top;
			}
			g_array_append_val(parts, part);
		}
	}
	return parts;
}

static void break_around(tb_sample *sample, bool over, double column, double pen)
{
	GArray **passes_under = over ? &sample->under : &sample->parts;
	g_autoptr(GArray) outline = tb_outline_create();
	tb_outline_add(outline, over ? sample->parts : sample->under, 0, 0, 0);
	GArray *broken = tb_parts_break(
		*passes_under, outline, tb_glyphs_clear(column, pen), tb_glyphs_crumb(column), false);
	g_array_unref(*passes_under);
	*passes_under = broken;
}

void tb_sample_init(
	tb_sample *sample, const tb_stitch *stitch, double column, double chain, double pen)
{
	bool post = stitch->post != TB_POST_NONE, deep = stitch->foot == TB_FOOT_DEEP;
	double height = tb_key_stitch_height(stitch, chain), below = tb_key_post_height(stitch, chain);
	double base_top = height + (stitch->meet == TB_MEET_BOTH ? 0.6 * chain : 0);
	tb_point feet[TB_LIMIT_STITCH_TAKES];
	unsigned count = CLAMP(stitch->takes, 1u, G_N_ELEMENTS(feet));
	double apart =
		count > 1
			? fmin(FEET_APART, (stitch->height < 2 ? WIDEST_LOW_FEET : WIDEST_FEET) / (count - 1)) *
				  column
			: 0;
	for (unsigned i = 0; i < count; i++)
		feet[i] = (tb_point){(i - (count - 1) / 2.0) * apart, post   ? height + below * 0.52
															  : deep ? height + below
																	 : height};
	tb_glyph_place place = {.stitch = stitch,
		.column = column,
		.chain = chain,
		.pen = pen,
		.height = height,
		.base_top = post ? base_top : height,
		.feet = feet,
		.foot_count = count};
	*sample = (tb_sample){.parts = tb_glyph_build(&place), .height = height, .below = below};
	if (post) {
		sample->under = sample_post(base_top + 0.1 * column, height + below, 0.29 * column);
		break_around(sample, stitch->post == TB_POST_FRONT, column, pen);
	} else if (deep) {
		sample->under = sample_row(height, column, chain, pen);
	}
}

void tb_sample_finish(tb_sample *sample)
{
	g_clear_pointer(&sample->parts, g_array_unref);
	g_clear_pointer(&sample->under, g_array_unref);
}
