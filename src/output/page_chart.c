/*
 * A chart for a page: the rows, box and brackets as the SVG output draws them, words as real text.
 * Title and key stay out, since the page says both in its own words.
 */
#include "output/page.h"

#include "drawing/glyphs.h"
#include "drawing/palette.h"
#include "drawing/sample.h"

#include <math.h>
#include <string.h>

#define AIR_MM 3.0
/* A symbol by itself: a cell of the key. */
#define SAMPLE_COLUMN 8.0
#define SAMPLE_CHAIN 3.4
#define SAMPLE_PEN 0.44

typedef struct {
	double left, top, right, bottom;
} box;

static void cover(box *b, double x, double y)
{
	b->left = fmin(b->left, x);
	b->right = fmax(b->right, x);
	b->top = fmin(b->top, y);
	b->bottom = fmax(b->bottom, y);
}

/* Title, gauge and key are words in the ink of text; numbers and brackets have inks of their own. */
static bool is_kept(const tb_label *label)
{
	return label->ink != TB_INK_TEXT && label->ink != TB_INK_QUIET;
}

static void cover_label(box *b, const tb_label *label, const tb_text_measure *measure)
{
	static const double parts[] = {0, 0.5, 1};
	double width = measure->measure(measure->data, label->text, label->size_mm,
		label->face == TB_FACE_BOLD);
	double from = label->x - parts[label->align] * width;
	cover(b, from, label->y - label->size_mm);
	cover(b, from + width, label->y + 0.3 * label->size_mm);
}

tb_page_frame tb_page_chart_frame(const tb_chart *chart, const tb_text_measure *measure)
{
	box b = {INFINITY, INFINITY, -INFINITY, -INFINITY};
	cover(&b, chart->left, chart->top - AIR_MM);
	cover(&b, chart->right, chart->bottom + AIR_MM);
	for (guint i = 0; i < chart->placed->len; i++) {
		const tb_placed *placed = &g_array_index(chart->placed, tb_placed, i);
		double reach = 0.5 * chart->column;
		cover(&b, placed->top.x - reach, placed->top.y - reach);
		cover(&b, placed->top.x + reach, placed->top.y + reach);
	}
	for (guint i = 0; i < chart->feet->len; i++) {
		const tb_spot *foot = &g_array_index(chart->feet, tb_spot, i);
		cover(&b, foot->x, foot->y);
	}
	for (guint i = 0; i < chart->labels->len; i++) {
		const tb_label *label = &g_array_index(chart->labels, tb_label, i);
		if (is_kept(label))
			cover_label(&b, label, measure);
	}
	for (guint i = 0; i < chart->brackets->len; i++) {
		const tb_bracket *bracket = &g_array_index(chart->brackets, tb_bracket, i);
		double far = bracket->at + bracket->depth;
		cover(&b, bracket->upright ? far : bracket->to, bracket->upright ? bracket->to : far);
	}
	if (chart->has_box) {
		cover(&b, chart->box_left, chart->box_top);
		cover(&b, chart->box_right, chart->box_bottom);
	}
	return (tb_page_frame){b.left - AIR_MM, b.top - AIR_MM, b.right - b.left + 2 * AIR_MM,
		b.bottom - b.top + 2 * AIR_MM};
}

/* Takes words, the key's symbols and cells' shades, which stand in no row, out of a drawing. */
static void keep_rows_and_lines(tb_drawing *drawing)
{
	bool in_group = false;
	for (guint i = drawing->marks->len; i-- > 0;) {
		tb_mark_kind kind = g_array_index(drawing->marks, tb_mark, i).kind;
		in_group = kind == TB_MARK_END || (in_group && kind != TB_MARK_GROUP);
		bool hatch = kind == TB_MARK_LINE && g_array_index(drawing->marks, tb_mark, i).ink == TB_INK_HATCH;
		if (hatch || kind == TB_MARK_TEXT || (kind == TB_MARK_SHAPE && !in_group))
			g_array_remove_index(drawing->marks, i);
	}
}

static void put_frame(GString *out, const tb_page_frame *frame)
{
	const double numbers[] = {frame->x, frame->y, frame->width, frame->height};
	g_string_append(out, " viewBox=\"");
	for (int i = 0; i < 4; i++) {
		g_string_append(out, i > 0 ? " " : "");
		tb_page_put_number(out, numbers[i]);
	}
	g_string_append_c(out, '"');
}

/* The words below the box tell how often every size works it; the page tells it of one size. */
static void put_label(GString *out, const tb_label *label)
{
	static const char *const anchors[] = {"", " middle", " end"};
	g_string_append_printf(out, "<text class=\"%s%s%s%s\" x=\"", tb_page_ink(label->ink),
		label->face != TB_FACE_PLAIN ? " bold" : "", anchors[label->align],
		label->is_times ? " times" : "");
	tb_page_put_number(out, label->x);
	g_string_append(out, "\" y=\"");
	tb_page_put_number(out, label->y);
	g_string_append(out, "\" font-size=\"");
	tb_page_put_number(out, label->size_mm);
	g_string_append(out, "\">");
	tb_page_put_html(out, label->text);
	g_string_append(out, "</text>");
}

/* Rows take their ink from their group: put it there. */
static void put_rows(GString *out, const tb_chart *chart, const char *picture)
{
	static const char mark[] = "<g data-row=\"";
	const char *at = picture;
	for (guint i = 0; i < chart->rows->len; i++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, i);
		const char *group = strstr(at, mark);
		if (group == NULL)
			break;
		g_string_append_len(out, at, group - at);
		g_string_append_printf(out, "<g class=\"row %s\"", tb_page_ink(tb_chart_row_ink(chart, row)));
		at = group + 2;
	}
	g_string_append(out, at);
}

bool tb_page_put_chart(GString *out, const tb_chart *chart, unsigned number, bool terse,
	const tb_page_frame *frame, tb_page_shapes *shapes, GError **error)
{
	bool left = chart->options.left_handed;
	g_autoptr(GString) picture = g_string_new(NULL);
	g_autoptr(tb_drawing) drawing = tb_chart_draw(chart);
	keep_rows_and_lines(drawing);
	if (!tb_page_shapes_draw(shapes, drawing, terse, picture, error))
		return false;
	g_string_append_printf(out, "<svg class=\"chart %s\" data-chart=\"%u\" role=\"img\" "
		"aria-label=\"", left ? "left" : "right", number);
	tb_page_put_html(out, chart->description);
	g_string_append_printf(out, "%s\" stroke-width=\"", left ? " For the left-handed." : "");
	tb_page_put_number(out, chart->pen);
	g_string_append_c(out, '"');
	put_frame(out, frame);
	g_string_append(out, ">\n");
	put_rows(out, chart, picture->str);
	for (guint i = 0; i < chart->labels->len; i++) {
		const tb_label *label = &g_array_index(chart->labels, tb_label, i);
		if (is_kept(label))
			put_label(out, label);
	}
	g_string_append(out, "</svg>\n");
	return true;
}

bool tb_page_put_symbol(GString *out, const tb_stitch *stitch, tb_page_shapes *shapes,
	GError **error)
{
	tb_sample sample;
	tb_sample_init(&sample, stitch, SAMPLE_COLUMN, SAMPLE_CHAIN, SAMPLE_PEN);
	tb_shape *own = tb_glyphs_shape(sample.parts, SAMPLE_PEN);
	box b = {own->left, own->top, own->right, own->bottom};
	g_autoptr(tb_drawing) drawing = tb_drawing_create();
	drawing->title = g_strdup(stitch->us_name);
	drawing->description = g_strdup("");
	drawing->palette = tb_palette_get(false);
	drawing->pen_mm = SAMPLE_PEN;
	drawing->width_mm = drawing->height_mm = 40;
	if (sample.under != NULL) {
		tb_shape *under = tb_glyphs_shape(sample.under, SAMPLE_PEN);
		cover(&b, under->left, under->top);
		cover(&b, under->right, under->bottom);
		tb_drawing_begin_group(drawing, "below");
		tb_drawing_place_shape(drawing, tb_drawing_add_shape(drawing, under), 20, 20, 0, TB_INK_BELOW,
			NULL);
		tb_drawing_end_group(drawing);
	}
	tb_drawing_begin_group(drawing, "stitch");
	tb_drawing_place_shape(drawing, tb_drawing_add_shape(drawing, own), 20, 20, 0, TB_INK_ROW_A,
		NULL);
	tb_drawing_end_group(drawing);
	tb_sample_finish(&sample);

	tb_page_frame frame = {19.5 + b.left, 19.5 + b.top, b.right - b.left + 1, b.bottom - b.top + 1};
	g_string_append(out, "<svg class=\"symbol\" aria-hidden=\"true\" focusable=\"false\" "
		"stroke-width=\"0.44\"");
	put_frame(out, &frame);
	g_string_append(out, " width=\"");
	tb_page_put_number(out, frame.width);
	g_string_append(out, "mm\" height=\"");
	tb_page_put_number(out, frame.height);
	g_string_append(out, "mm\">");
	bool good = tb_page_shapes_draw(shapes, drawing, false, out, error);
	g_string_append(out, "</svg>");
	return good;
}
