/*
 * How drawing works: a chart that has been laid out is turned into marks on a page, in millimetres.
 *
 * A tb_drawing holds two lists. Its shapes are what a stitch looks like, each once, drawn around an
 * origin of its own. Its marks are what stands on the page, in the order it is painted: a shape at
 * a place, a line, a text, and the bounds of groups (a group is a row, in working order). Layout's
 * results come in, glyph.c draws symbols as shapes, the chart's own files place them, break.c opens
 * the rows that a post stitch passes; what leaves is this list, and nothing changes it afterwards.
 * Outputs play it from the first mark to the last and know nothing of crochet. trace.c prints it as
 * text, the form in which drawings are compared.
 */
#include "drawing/drawing.h"

#include <math.h>

static void clear_stroke(gpointer data)
{
	tb_stroke *stroke = data;
	tb_path_destroy(stroke->path);
}

static void clear_mark(gpointer data)
{
	tb_mark *mark = data;
	tb_path_destroy(mark->path);
	g_free(mark->text);
	g_free(mark->target);
}

static void destroy_shape(gpointer data)
{
	tb_shape_destroy(data);
}

tb_drawing *tb_drawing_create(void)
{
	tb_drawing *drawing = g_new0(tb_drawing, 1);
	drawing->shapes = g_ptr_array_new_with_free_func(destroy_shape);
	drawing->marks = g_array_new(FALSE, TRUE, sizeof(tb_mark));
	g_array_set_clear_func(drawing->marks, clear_mark);
	return drawing;
}

void tb_drawing_destroy(tb_drawing *drawing)
{
	if (drawing == NULL)
		return;
	g_free(drawing->title);
	g_free(drawing->description);
	g_free(drawing->author);
	g_ptr_array_unref(drawing->shapes);
	g_array_unref(drawing->marks);
	g_free(drawing);
}

tb_shape *tb_shape_create(void)
{
	tb_shape *shape = g_new0(tb_shape, 1);
	shape->strokes = g_array_new(FALSE, TRUE, sizeof(tb_stroke));
	g_array_set_clear_func(shape->strokes, clear_stroke);
	return shape;
}

void tb_shape_destroy(tb_shape *shape)
{
	if (shape == NULL)
		return;
	g_array_unref(shape->strokes);
	g_free(shape);
}

tb_shape *tb_shape_copy(const tb_shape *shape)
{
	tb_shape *copy = tb_shape_create();
	for (guint i = 0; i < shape->strokes->len; i++) {
		const tb_stroke *stroke = &g_array_index(shape->strokes, tb_stroke, i);
		tb_shape_add(copy, tb_path_copy(stroke->path), stroke->filled);
	}
	copy->left = shape->left;
	copy->top = shape->top;
	copy->right = shape->right;
	copy->bottom = shape->bottom;
	return copy;
}

void tb_shape_add(tb_shape *shape, tb_path *path, bool filled)
{
	tb_stroke stroke = {.path = path, .filled = filled};
	g_array_append_val(shape->strokes, stroke);
}

void tb_shape_measure(tb_shape *shape, double pen_mm)
{
	bool any = false;

	shape->left = shape->top = shape->right = shape->bottom = 0;
	for (guint i = 0; i < shape->strokes->len; i++) {
		const tb_stroke *stroke = &g_array_index(shape->strokes, tb_stroke, i);
		double left, top, right, bottom;
		if (!tb_path_bounds(stroke->path, &left, &top, &right, &bottom))
			continue;
		/* Round caps and joins reach half a pen beyond the path, and no farther. */
		double reach = stroke->filled ? 0 : pen_mm / 2;
		shape->left = any ? fmin(shape->left, left - reach) : left - reach;
		shape->top = any ? fmin(shape->top, top - reach) : top - reach;
		shape->right = any ? fmax(shape->right, right + reach) : right + reach;
		shape->bottom = any ? fmax(shape->bottom, bottom + reach) : bottom + reach;
		any = true;
	}
}

guint32 tb_drawing_add_shape(tb_drawing *drawing, tb_shape *shape)
{
	g_ptr_array_add(drawing->shapes, shape);
	return drawing->shapes->len - 1;
}

void tb_drawing_begin_group(tb_drawing *drawing, const char *title)
{
	tb_mark mark = {.kind = TB_MARK_GROUP, .text = g_strdup(title)};
	g_array_append_val(drawing->marks, mark);
}

void tb_drawing_end_group(tb_drawing *drawing)
{
	tb_mark mark = {.kind = TB_MARK_END};
	g_array_append_val(drawing->marks, mark);
}

void tb_drawing_place_shape(tb_drawing *drawing, guint32 shape, double x, double y, double angle,
	tb_ink ink, const char *word)
{
	tb_mark mark = {
		.kind = TB_MARK_SHAPE,
		.ink = ink,
		.x = x,
		.y = y,
		.angle = angle,
		.shape = shape,
		.word = word,
	};
	g_array_append_val(drawing->marks, mark);
}

void tb_drawing_add_area(tb_drawing *drawing, tb_path *path, tb_ink ink)
{
	tb_shape *shape = tb_shape_create();
	tb_shape_add(shape, path, true);
	tb_shape_measure(shape, drawing->pen_mm);
	tb_drawing_place_shape(drawing, tb_drawing_add_shape(drawing, shape), 0, 0, 0, ink, NULL);
}

void tb_drawing_add_line(tb_drawing *drawing, tb_path *path, tb_ink ink, double pen_mm,
	double dash_mm, double gap_mm)
{
	tb_mark mark = {
		.kind = TB_MARK_LINE,
		.ink = ink,
		.path = path,
		.pen_mm = pen_mm,
		.dash_mm = dash_mm,
		.gap_mm = gap_mm,
	};
	g_array_append_val(drawing->marks, mark);
}

void tb_drawing_add_text(tb_drawing *drawing, const char *text, double x, double y, double size_mm,
	tb_face face, tb_align align, tb_ink ink)
{
	tb_mark mark = {
		.kind = TB_MARK_TEXT,
		.ink = ink,
		.x = x,
		.y = y,
		.text = g_strdup(text),
		.size_mm = size_mm,
		.face = face,
		.align = align,
	};
	g_array_append_val(drawing->marks, mark);
}

void tb_drawing_clip(tb_drawing *drawing, double x, double y, double width_mm, double height_mm)
{
	tb_mark mark = {.kind = TB_MARK_CLIP, .x = x, .y = y, .width_mm = width_mm,
		.height_mm = height_mm};
	g_array_append_val(drawing->marks, mark);
}

void tb_drawing_unclip(tb_drawing *drawing)
{
	tb_mark mark = {.kind = TB_MARK_UNCLIP};
	g_array_append_val(drawing->marks, mark);
}

void tb_drawing_tag(tb_drawing *drawing, const char *role, const char *target)
{
	tb_mark mark = {.kind = TB_MARK_TAG, .role = role, .target = g_strdup(target)};
	g_array_append_val(drawing->marks, mark);
}

void tb_drawing_untag(tb_drawing *drawing)
{
	tb_mark mark = {.kind = TB_MARK_UNTAG};
	g_array_append_val(drawing->marks, mark);
}
