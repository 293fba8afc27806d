/* How marks become ink with Cairo; the same for print, picture and page. */
#include "output/paint.h"

#include <math.h>
#include <string.h>

/* A path of more symbols than this makes viewers slow; parting it changes nothing seen. */
#define RUN_MARKS 2000

char *tb_output_clean(const char *text)
{
	char *clean = g_utf8_make_valid(text != NULL ? text : "", -1);
	GString *out = g_string_sized_new(strlen(clean));

	for (const char *c = clean; *c != '\0'; c = g_utf8_next_char(c)) {
		gunichar letter = g_utf8_get_char(c);
		/* Neither XML nor a line of type has room for controls, nor XML for U+FFFE and U+FFFF. */
		if (letter < 0x20 || (letter >= 0x7f && letter < 0xa0) || letter == 0x2028 ||
			letter == 0x2029)
			g_string_append_c(out, ' ');
		else if ((letter & 0xfffe) != 0xfffe)
			g_string_append_unichar(out, letter);
	}
	g_free(clean);
	return g_string_free(out, FALSE);
}

bool tb_output_find_type(const tb_drawing *drawing, tb_type **type, GError **error)
{
	*type = NULL;
	for (guint i = 0; i < drawing->marks->len; i++) {
		if (g_array_index(drawing->marks, tb_mark, i).kind != TB_MARK_TEXT)
			continue;
		*type = tb_type_create();
		if (*type == NULL)
			g_set_error(error, TB_OUTPUT_ERROR, TB_OUTPUT_NO_FONT,
				"there is no font on this computer: install one, such as DejaVu Sans");
		return *type != NULL;
	}
	return true;
}

cairo_status_t tb_output_append(void *bytes, const unsigned char *data, unsigned length)
{
	GByteArray *array = bytes;
	/* A byte array ends the program when it overflows; a picture of 2 GiB is refused instead. */
	if (length > G_MAXINT - array->len)
		return CAIRO_STATUS_WRITE_ERROR;
	g_byte_array_append(array, data, length);
	return CAIRO_STATUS_SUCCESS;
}

bool tb_output_succeeded(cairo_status_t status, GError **error)
{
	if (status == CAIRO_STATUS_SUCCESS)
		return true;
	if (status == CAIRO_STATUS_WRITE_ERROR)
		g_set_error(error, TB_OUTPUT_ERROR, TB_OUTPUT_TOO_LARGE,
			"the file would be larger than 2 GiB: chart fewer rows");
	else
		g_set_error(error, TB_OUTPUT_ERROR, TB_OUTPUT_FAILED, "the picture could not be drawn: %s",
			cairo_status_to_string(status));
	return false;
}

void tb_paint_paper(cairo_t *cr, const tb_drawing *drawing)
{
	cairo_set_source_rgb(cr, 1, 1, 1);
	cairo_rectangle(cr, 0, 0, drawing->width_mm, drawing->height_mm);
	cairo_fill(cr);
}

void tb_paint_ink(cairo_t *cr, const tb_drawing *drawing, tb_ink ink)
{
	const tb_colour *colour = &drawing->palette.inks[ink];
	cairo_set_source_rgb(cr, colour->red, colour->green, colour->blue);
}

static void add_path(cairo_t *cr, const tb_path *path)
{
	const tb_point *p = (const tb_point *)(void *)path->points->data;

	for (guint i = 0; i < path->ops->len; i++) {
		switch ((tb_path_op)g_array_index(path->ops, guint8, i)) {
		case TB_PATH_MOVE:
			cairo_move_to(cr, p->x, p->y);
			p++;
			break;
		case TB_PATH_LINE:
			cairo_line_to(cr, p->x, p->y);
			p++;
			break;
		case TB_PATH_CURVE:
			cairo_curve_to(cr, p[0].x, p[0].y, p[1].x, p[1].y, p[2].x, p[2].y);
			p += 3;
			break;
		case TB_PATH_CLOSE:
			cairo_close_path(cr);
			break;
		}
	}
}

static void set_pen(cairo_t *cr, double width, double dash, double gap)
{
	cairo_set_line_cap(cr, CAIRO_LINE_CAP_ROUND);
	cairo_set_line_join(cr, CAIRO_LINE_JOIN_ROUND);
	cairo_set_line_width(cr, width);
	if (dash > 0)
		cairo_set_dash(cr, (double[]){dash, gap}, 2, 0);
	else
		cairo_set_dash(cr, NULL, 0, 0);
}

static const tb_shape *get_shape(const tb_drawing *drawing, const tb_mark *mark)
{
	return g_ptr_array_index(drawing->shapes, mark->shape);
}

/* What follows is drawn around the shape's origin, moved to the nearest of STEPS a mm (0: as it is). */
static void go_to_shape(cairo_t *cr, const tb_mark *mark, double steps)
{
	double x = steps > 0 ? round(mark->x * steps) / steps : mark->x;
	double y = steps > 0 ? round(mark->y * steps) / steps : mark->y;

	cairo_save(cr);
	cairo_translate(cr, x, y);
	if (mark->angle != 0)
		cairo_rotate(cr, mark->angle);
}

/* Adds the lines of a shape to the path; they are stroked where no turn bends the pen. */
static void add_lines(cairo_t *cr, const tb_drawing *drawing, const tb_mark *mark, double steps)
{
	const tb_shape *shape = get_shape(drawing, mark);

	go_to_shape(cr, mark, steps);
	for (guint i = 0; i < shape->strokes->len; i++) {
		const tb_stroke *stroke = &g_array_index(shape->strokes, tb_stroke, i);
		if (!stroke->filled)
			add_path(cr, stroke->path);
	}
	cairo_restore(cr);
}

/* Solids are filled one by one: two that overlap in one path could cut a hole in each other. */
static void fill_solids(cairo_t *cr, const tb_drawing *drawing, const tb_mark *mark, double steps)
{
	const tb_shape *shape = get_shape(drawing, mark);

	for (guint i = 0; i < shape->strokes->len; i++) {
		const tb_stroke *stroke = &g_array_index(shape->strokes, tb_stroke, i);
		if (!stroke->filled)
			continue;
		go_to_shape(cr, mark, steps);
		add_path(cr, stroke->path);
		cairo_restore(cr);
		cairo_fill(cr);
	}
}

static void stroke_if_any(cairo_t *cr)
{
	if (cairo_has_current_point(cr))
		cairo_stroke(cr);
	cairo_new_path(cr);
}

void tb_paint_shape(cairo_t *cr, const tb_drawing *drawing, const tb_mark *mark)
{
	set_pen(cr, mark->pen_mm > 0 ? mark->pen_mm : drawing->pen_mm, 0, 0);
	add_lines(cr, drawing, mark, 0);
	stroke_if_any(cr);
	fill_solids(cr, drawing, mark, 0);
}

void tb_paint_run(cairo_t *cr, const tb_drawing *drawing, guint first, guint end, double steps)
{
	const tb_mark *marks = (const tb_mark *)(void *)drawing->marks->data;

	tb_paint_ink(cr, drawing, marks[first].ink);
	set_pen(cr, marks[first].pen_mm > 0 ? marks[first].pen_mm : drawing->pen_mm, 0, 0);
	for (guint i = first; i < end; i++)
		add_lines(cr, drawing, &marks[i], steps);
	stroke_if_any(cr);
	for (guint i = first; i < end; i++)
		fill_solids(cr, drawing, &marks[i], steps);
}

guint tb_paint_find_run_end(const tb_drawing *drawing, guint first)
{
	const tb_mark *marks = (const tb_mark *)(void *)drawing->marks->data;
	guint end = first;

	while (end < drawing->marks->len && end - first < RUN_MARKS &&
		marks[end].kind == TB_MARK_SHAPE && marks[end].ink == marks[first].ink &&
		marks[end].pen_mm == marks[first].pen_mm)
		end++;
	return end;
}

void tb_paint_line(cairo_t *cr, const tb_drawing *drawing, const tb_mark *mark)
{
	tb_paint_ink(cr, drawing, mark->ink);
	set_pen(cr, mark->pen_mm, mark->dash_mm, mark->gap_mm);
	add_path(cr, mark->path);
	stroke_if_any(cr);
}

void tb_paint_text(cairo_t *cr, const tb_drawing *drawing, const tb_mark *mark, tb_type *type)
{
	tb_paint_ink(cr, drawing, mark->ink);
	tb_type_show(type, cr, mark);
}
