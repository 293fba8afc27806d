#include "drawing/sample.h"

#include "drawing/break.h"
#include "drawing/glyphs.h"
#include "layout/need.h"
#include "support/limits.h"

#include <math.h>

/* The feet of a sample stand no farther apart than this, in columns; those of low ones, less. */
#define WIDEST_FEET 1.5
#define WIDEST_LOW_FEET 1.2
#define FEET_APART 0.72

/* The post that a sample is worked around, pale: held by a front post its head is not seen, by a back one it stands out. */
static GArray *sample_post(const tb_stitch *stitch, double line, double bottom, double column, double chain, double pen)
{
	const tb_stitch plain = {.form = TB_FORM_STEM, .legs = 1, .height = 1};
	tb_point foot = {0, bottom - line};
	tb_glyph_place place = {.stitch = &plain, .column = column, .chain = chain, .pen = pen, .height = foot.y,
		.base_top = foot.y, .feet = &foot, .foot_count = 1,
		.held = stitch->post == TB_POST_FRONT ? TB_HELD_FRONT : TB_HELD_BACK};
	GArray *parts = tb_glyph_build(&place);
	for (guint i = 0; i < parts->len; i++) {
		GArray *points = g_array_index(parts, tb_part, i).path->points;
		for (guint k = 0; k < points->len; k++)
			g_array_index(points, tb_point, k).y += line;
	}
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

/* A back post's leg, cut under the head that it passes. */
static void break_under(tb_sample *sample, double unit, double pen)
{
	g_autoptr(GArray) outline = tb_outline_create();
	for (guint i = 0; i < sample->under->len; i++) {
		const tb_part *part = &g_array_index(sample->under, tb_part, i);
		if (part->kind == TB_PART_HEAD)
			tb_outline_add_path(outline, part->path, 0, 0, 0);
	}
	GArray *broken = tb_parts_break(sample->parts, outline, tb_glyphs_clear(unit, pen), tb_glyphs_crumb(unit), 0, 1u << TB_PART_LEG);
	g_array_unref(sample->parts);
	sample->parts = broken;
}

void tb_sample_init(
	tb_sample *sample, const tb_stitch *stitch, double column, double chain, double pen)
{
	bool post = stitch->post != TB_POST_NONE, deep = stitch->foot == TB_FOOT_DEEP;
	double height = tb_key_stitch_height(stitch, chain), below = tb_key_post_height(stitch, chain);
	/* A post of the row below, or, of a leaf, of the one below that. */
	double base_top = height + (stitch->meet == TB_MEET_BOTH ? 0.7 * chain : 0), unit = tb_need_unit(column, chain);
	tb_point feet[TB_LIMIT_STITCH_TAKES];
	unsigned count = CLAMP(stitch->takes, 1u, G_N_ELEMENTS(feet));
	double apart =
		count > 1
			? fmin(FEET_APART, (stitch->height < 2 ? WIDEST_LOW_FEET : WIDEST_FEET) / (count - 1)) *
				  column
			: 0;
	for (unsigned i = 0; i < count; i++)
		feet[i] = (tb_point){(i - (count - 1) / 2.0) * apart, post   ? base_top + TB_THROAT_LEVEL * unit
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
		sample->under = sample_post(stitch, base_top, height + below, column, chain, pen);
		if (stitch->post == TB_POST_BACK)
			break_under(sample, unit, pen);
	} else if (deep) {
		sample->under = sample_row(height, column, chain, pen);
	}
}

void tb_sample_finish(tb_sample *sample)
{
	g_clear_pointer(&sample->parts, g_array_unref);
	g_clear_pointer(&sample->under, g_array_unref);
}
