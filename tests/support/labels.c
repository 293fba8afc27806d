#include "labels.h"

#include <math.h>
#include <string.h>

/* Letters of every label are as wide as charting.c says, and so high above and below their line, by size. */
#define WIDE 0.58
#define WIDE_BOLD 0.65
#define RISE 0.74
#define DROP 0.2
#define STEPS 10

typedef struct {
	double left, top, right, bottom;
} box;

static box box_of(const tb_label *label)
{
	double size = label->size_mm, wide = (double)g_utf8_strlen(label->text, -1) * size * (label->face == TB_FACE_BOLD ? WIDE_BOLD : WIDE);
	double left = label->align == TB_ALIGN_LEFT ? label->x : label->align == TB_ALIGN_RIGHT ? label->x - wide : label->x - wide / 2;
	bool figures = strspn(label->text, "0123456789") == strlen(label->text);
	return (box){left, label->y - RISE * size, left + wide, label->y + (figures ? 0 : DROP * size)};
}

static bool is_in(const box *b, double x, double y)
{
	return x > b->left && x < b->right && y > b->top && y < b->bottom;
}

/* Whether PATH, turned by ANGLE and moved to X, Y, has a point in the box. */
static bool passes(const tb_path *path, double at_x, double at_y, double angle, const box *b)
{
	tb_point pen = {0, 0}, begin = {0, 0};
	guint used = 0;
	for (guint i = 0; i < path->ops->len; i++) {
		tb_point p[4] = {pen};
		guint8 op = g_array_index(path->ops, guint8, i);
		unsigned count = op == TB_PATH_CURVE ? 3 : op == TB_PATH_CLOSE ? 0 : 1;
		for (unsigned k = 0; k < count; k++)
			p[k + 1] = g_array_index(path->points, tb_point, used++);
		if (op == TB_PATH_CLOSE)
			p[1] = begin;
		if (op == TB_PATH_MOVE)
			begin = p[1];
		for (unsigned s = 0; s <= STEPS && op != TB_PATH_MOVE; s++) {
			double t = (double)s / STEPS, u = 1 - t;
			double x = u * p[0].x + t * p[1].x, y = u * p[0].y + t * p[1].y;
			if (op == TB_PATH_CURVE) {
				x = u * u * u * p[0].x + 3 * u * u * t * p[1].x + 3 * u * t * t * p[2].x + t * t * t * p[3].x;
				y = u * u * u * p[0].y + 3 * u * u * t * p[1].y + 3 * u * t * t * p[2].y + t * t * t * p[3].y;
			}
			if (is_in(b, at_x + x * cos(angle) - y * sin(angle), at_y + x * sin(angle) + y * cos(angle)))
				return true;
		}
		pen = p[op == TB_PATH_CURVE ? 3 : 1];
	}
	return false;
}

static bool is_on_shape(const tb_drawing *drawing, const tb_mark *mark, const box *b)
{
	const tb_shape *shape = g_ptr_array_index(drawing->shapes, mark->shape);
	double reach = fmax(hypot(shape->left, shape->top), hypot(shape->right, shape->bottom));
	reach = fmax(reach, fmax(hypot(shape->left, shape->bottom), hypot(shape->right, shape->top)));
	if (mark->x + reach < b->left || mark->x - reach > b->right || mark->y + reach < b->top || mark->y - reach > b->bottom)
		return false;
	for (guint i = 0; i < shape->strokes->len; i++)
		if (passes(g_array_index(shape->strokes, tb_stroke, i).path, mark->x, mark->y, mark->angle, b))
			return true;
	return false;
}

unsigned tb_labels_in_the_way(const tb_chart *chart, GString *told)
{
	tb_drawing *drawing = tb_chart_draw(chart);
	unsigned count = 0;
	for (guint i = 0; i < chart->labels->len; i++) {
		const tb_label *label = &g_array_index(chart->labels, tb_label, i);
		box b = box_of(label);
		const char *on = NULL;
		if (b.left < 0 || b.top < 0 || b.right > chart->width || b.bottom > chart->height)
			on = "off the page";
		for (guint k = 0; k < drawing->marks->len && on == NULL; k++) {
			const tb_mark *mark = &g_array_index(drawing->marks, tb_mark, k);
			if (mark->kind == TB_MARK_SHAPE && is_on_shape(drawing, mark, &b))
				on = mark->word != NULL ? mark->word : "a mark";
			else if (mark->kind == TB_MARK_LINE && passes(mark->path, 0, 0, 0, &b))
				on = "a line";
		}
		for (guint k = 0; k < i && on == NULL; k++) {
			const tb_label *other = &g_array_index(chart->labels, tb_label, k);
			box o = box_of(other);
			if (o.left < b.right && b.left < o.right && o.top < b.bottom && b.top < o.bottom)
				on = other->text;
		}
		if (on == NULL)
			continue;
		g_string_append_printf(told, "'%s' at %.1f, %.1f stands on: %s\n", label->text, label->x, label->y, on);
		count++;
	}
	tb_drawing_destroy(drawing);
	return count;
}
