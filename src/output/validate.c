/*
 * What Cairo does not check: it makes nought of NaN and infinity, lets coordinates past 8,388,000
 * wrap round to the other side, and writes pages of no size.
 */
#include "output/output.h"

#include "support/limits.h"

#include <math.h>

static bool in_reach(double value, double reach)
{
	/* Not so of NaN either. */
	return fabs(value) <= reach;
}

static bool is_pen(double value, double reach)
{
	return value >= 0 && value <= reach;
}

/* Points as many as the ops use, each in reach. */
static bool path_is_sound(const tb_path *path, double reach)
{
	static const guint8 POINTS[] = {
		[TB_PATH_MOVE] = 1, [TB_PATH_LINE] = 1, [TB_PATH_CURVE] = 3, [TB_PATH_CLOSE] = 0};
	guint needed = 0;

	if (path == NULL)
		return false;
	for (guint i = 0; i < path->ops->len; i++) {
		guint8 op = g_array_index(path->ops, guint8, i);
		if (op >= G_N_ELEMENTS(POINTS))
			return false;
		needed += POINTS[op];
	}
	if (needed != path->points->len)
		return false;
	for (guint i = 0; i < path->points->len; i++) {
		const tb_point *point = &g_array_index(path->points, tb_point, i);
		if (!in_reach(point->x, reach) || !in_reach(point->y, reach))
			return false;
	}
	return true;
}

static bool shape_is_sound(const tb_shape *shape, double reach)
{
	for (guint i = 0; i < shape->strokes->len; i++) {
		if (!path_is_sound(g_array_index(shape->strokes, tb_stroke, i).path, reach))
			return false;
	}
	return true;
}

static bool mark_is_sound(const tb_drawing *drawing, const tb_mark *mark, double reach)
{
	if ((unsigned)mark->ink >= TB_INK_COUNT)
		return false;
	switch (mark->kind) {
	case TB_MARK_SHAPE:
		return mark->shape < drawing->shapes->len && is_pen(mark->pen_mm, reach) && in_reach(mark->x, reach) &&
			in_reach(mark->y, reach) && isfinite(mark->angle);
	case TB_MARK_LINE:
		return path_is_sound(mark->path, reach) && is_pen(mark->pen_mm, reach) &&
			is_pen(mark->dash_mm, reach) && is_pen(mark->gap_mm, reach);
	case TB_MARK_TEXT:
		return mark->text != NULL && in_reach(mark->x, reach) && in_reach(mark->y, reach) &&
			mark->size_mm > 0 && mark->size_mm <= reach / 1000 &&
			(unsigned)mark->align <= TB_ALIGN_RIGHT;
	case TB_MARK_CLIP:
		return in_reach(mark->x, reach) && in_reach(mark->y, reach) &&
			is_pen(mark->width_mm, reach) && is_pen(mark->height_mm, reach);
	case TB_MARK_TAG:
		return mark->role != NULL;
	case TB_MARK_GROUP:
	case TB_MARK_END:
	case TB_MARK_UNCLIP:
	case TB_MARK_UNTAG:
		return true;
	}
	return false;
}

static bool palette_is_sound(const tb_palette *palette)
{
	for (int i = 0; i < TB_INK_COUNT; i++) {
		const tb_colour *colour = &palette->inks[i];
		if (!is_pen(colour->red, 1) || !is_pen(colour->green, 1) || !is_pen(colour->blue, 1))
			return false;
	}
	return true;
}

/* Groups, windows and tags end, in the order that is the reverse of their beginning. */
static bool groups_match(const tb_drawing *drawing)
{
	g_autoptr(GArray) open = g_array_new(FALSE, FALSE, sizeof(tb_mark_kind));

	for (guint i = 0; i < drawing->marks->len; i++) {
		tb_mark_kind kind = g_array_index(drawing->marks, tb_mark, i).kind, begun;
		if (kind == TB_MARK_GROUP || kind == TB_MARK_CLIP || kind == TB_MARK_TAG)
			g_array_append_val(open, kind);
		if (kind != TB_MARK_END && kind != TB_MARK_UNCLIP && kind != TB_MARK_UNTAG)
			continue;
		begun = kind == TB_MARK_END ? TB_MARK_GROUP :
			kind == TB_MARK_UNCLIP ? TB_MARK_CLIP : TB_MARK_TAG;
		if (open->len == 0 || g_array_index(open, tb_mark_kind, open->len - 1) != begun)
			return false;
		g_array_set_size(open, open->len - 1);
	}
	return open->len == 0;
}

static bool fail(GError **error, const char *message)
{
	g_set_error_literal(error, TB_OUTPUT_ERROR, TB_OUTPUT_FAILED, message);
	return false;
}

bool tb_output_validate(const tb_drawing *drawing, double units_per_mm, GError **error)
{
	/* A shape turned and moved reaches as far as both numbers together, and a pen's width more. */
	double reach = TB_LIMIT_REACH / units_per_mm / 4;

	if (!(drawing->width_mm > 0) || !(drawing->height_mm > 0))
		return fail(error, "the picture has no size");
	if (!in_reach(drawing->width_mm, reach) || !in_reach(drawing->height_mm, reach)) {
		g_set_error(error, TB_OUTPUT_ERROR, TB_OUTPUT_TOO_LARGE,
			"the picture would be larger than can be drawn: chart fewer rows");
		return false;
	}
	if (!is_pen(drawing->pen_mm, reach) || !palette_is_sound(&drawing->palette))
		return fail(error, "the picture's pen or inks are not numbers that can be drawn");
	if (!groups_match(drawing))
		return fail(error, "the picture's groups do not end where they should");
	for (guint i = 0; i < drawing->shapes->len; i++) {
		if (!shape_is_sound(g_ptr_array_index(drawing->shapes, i), reach))
			return fail(error, "a symbol reaches farther than can be drawn");
	}
	for (guint i = 0; i < drawing->marks->len; i++) {
		if (!mark_is_sound(drawing, &g_array_index(drawing->marks, tb_mark, i), reach))
			return fail(error, "a mark lies farther away than can be drawn");
	}
	return true;
}
