/*
 * A drawing as text: its page and inks, its shapes, then one mark a line. Numbers are millimetres
 * with three decimals, so that two machines print the same drawing alike; text is quoted with every
 * control escaped, so that a mark never breaks its line.
 */
#include "drawing/drawing.h"

#include <math.h>

static const char *const INK_NAMES[TB_INK_COUNT] = {
	[TB_INK_ROW_A] = "row-a",
	[TB_INK_ROW_B] = "row-b",
	[TB_INK_BELOW] = "below",
	[TB_INK_FURNITURE] = "furniture",
	[TB_INK_QUIET] = "quiet",
	[TB_INK_TEXT] = "text",
	[TB_INK_TINT] = "tint",
	[TB_INK_SHADE] = "shade",
	[TB_INK_HATCH] = "hatch",
};

static const char *ink_name(tb_ink ink)
{
	return (unsigned)ink < TB_INK_COUNT ? INK_NAMES[ink] : "?";
}

/* Three decimals by a point whatever the locale, and never "-0". */
static void add_number(GString *out, double value)
{
	char text[G_ASCII_DTOSTR_BUF_SIZE];
	double rounded = round(value * 1000) / 1000;
	/* Adding a positive nought takes the sign from a negative one. */
	g_ascii_formatd(text, sizeof(text), "%.8g", rounded + 0.0);
	g_string_append_c(out, ' ');
	g_string_append(out, text);
}

static void add_quoted(GString *out, const char *text)
{
	g_string_append(out, " \"");
	for (const char *c = text != NULL ? text : ""; *c != '\0'; c++) {
		if (*c == '"' || *c == '\\')
			g_string_append_printf(out, "\\%c", *c);
		else if (*c == '\n')
			g_string_append(out, "\\n");
		else if ((guchar)*c < 0x20 || *c == 0x7f)
			g_string_append_printf(out, "\\x%02x", (guchar)*c);
		else
			g_string_append_c(out, *c);
	}
	g_string_append_c(out, '"');
}

static void add_path(GString *out, const tb_path *path)
{
	static const char LETTERS[] = {'M', 'L', 'C', 'Z'};
	static const guint8 COUNTS[] = {1, 1, 3, 0};
	guint next = 0;

	for (guint i = 0; i < path->ops->len; i++) {
		guint8 op = g_array_index(path->ops, guint8, i);
		g_string_append_c(out, ' ');
		g_string_append_c(out, LETTERS[op]);
		for (guint n = 0; n < COUNTS[op]; n++) {
			tb_point point = g_array_index(path->points, tb_point, next++);
			add_number(out, point.x);
			add_number(out, point.y);
		}
	}
}

static void add_head(GString *out, const tb_drawing *drawing)
{
	g_string_append(out, "drawing");
	add_number(out, drawing->width_mm);
	add_number(out, drawing->height_mm);
	g_string_append(out, " pen");
	add_number(out, drawing->pen_mm);
	g_string_append(out, "\ntitle");
	add_quoted(out, drawing->title);
	g_string_append(out, "\ndescription");
	add_quoted(out, drawing->description);
	if (drawing->author != NULL) {
		g_string_append(out, "\nauthor");
		add_quoted(out, drawing->author);
	}
	g_string_append_c(out, '\n');
	for (int i = 0; i < TB_INK_COUNT; i++) {
		const tb_colour *colour = &drawing->palette.inks[i];
		g_string_append_printf(out, "ink %s", INK_NAMES[i]);
		add_number(out, colour->red);
		add_number(out, colour->green);
		add_number(out, colour->blue);
		g_string_append_c(out, '\n');
	}
}

static void add_shape(GString *out, guint number, const tb_shape *shape)
{
	g_string_append_printf(out, "shape %u box", number);
	add_number(out, shape->left);
	add_number(out, shape->top);
	add_number(out, shape->right);
	add_number(out, shape->bottom);
	g_string_append_c(out, '\n');
	for (guint i = 0; i < shape->strokes->len; i++) {
		const tb_stroke *stroke = &g_array_index(shape->strokes, tb_stroke, i);
		g_string_append(out, stroke->filled ? "  fill" : "  stroke");
		add_path(out, stroke->path);
		g_string_append_c(out, '\n');
	}
}

static void add_line(GString *out, const tb_mark *mark)
{
	g_string_append_printf(out, "line %s pen", ink_name(mark->ink));
	add_number(out, mark->pen_mm);
	if (mark->dash_mm > 0) {
		g_string_append(out, " dash");
		add_number(out, mark->dash_mm);
		add_number(out, mark->gap_mm);
	}
	add_path(out, mark->path);
}

static void add_text(GString *out, const tb_mark *mark)
{
	static const char *const ALIGNS[] = {"left", "centre", "right"};
	static const char *const FACES[] = {"", " bold", " figure", " title"};

	g_string_append_printf(out, "text %s at", ink_name(mark->ink));
	add_number(out, mark->x);
	add_number(out, mark->y);
	g_string_append(out, " size");
	add_number(out, mark->size_mm);
	g_string_append_printf(out, " %s%s", ALIGNS[mark->align],
		FACES[mark->face]);
	add_quoted(out, mark->text);
}

static void add_placed(GString *out, const tb_mark *mark)
{
	g_string_append_printf(out, "place %u %s at", mark->shape, ink_name(mark->ink));
	add_number(out, mark->x);
	add_number(out, mark->y);
	if (mark->angle != 0) {
		g_string_append(out, " turned");
		add_number(out, mark->angle);
	}
	if (mark->word != NULL)
		add_quoted(out, mark->word);
}

static void add_mark(GString *out, const tb_mark *mark)
{
	switch (mark->kind) {
	case TB_MARK_SHAPE:
		add_placed(out, mark);
		break;
	case TB_MARK_LINE:
		add_line(out, mark);
		break;
	case TB_MARK_TEXT:
		add_text(out, mark);
		break;
	case TB_MARK_GROUP:
		g_string_append(out, "group");
		add_quoted(out, mark->text);
		break;
	case TB_MARK_END:
		g_string_append(out, "end");
		break;
	case TB_MARK_CLIP:
		g_string_append(out, "clip");
		add_number(out, mark->x);
		add_number(out, mark->y);
		add_number(out, mark->width_mm);
		add_number(out, mark->height_mm);
		break;
	case TB_MARK_UNCLIP:
		g_string_append(out, "unclip");
		break;
	case TB_MARK_TAG:
		g_string_append_printf(out, "tag %s", mark->role);
		if (mark->target != NULL)
			add_quoted(out, mark->target);
		break;
	case TB_MARK_UNTAG:
		g_string_append(out, "untag");
		break;
	}
	g_string_append_c(out, '\n');
}

char *tb_drawing_trace(const tb_drawing *drawing)
{
	GString *out = g_string_new(NULL);

	add_head(out, drawing);
	for (guint i = 0; i < drawing->shapes->len; i++)
		add_shape(out, i, g_ptr_array_index(drawing->shapes, i));
	for (guint i = 0; i < drawing->marks->len; i++)
		add_mark(out, &g_array_index(drawing->marks, tb_mark, i));
	return g_string_free(out, FALSE);
}
