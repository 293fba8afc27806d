#include "sample_drawing.h"

#define STEP_MM 5.0
#define ROW_MM 9.0
#define MARGIN_MM 12.0

static tb_shape *draw_stem(double pen_mm)
{
	tb_shape *shape = tb_shape_create();
	tb_path *path = tb_path_create();
	tb_path_move(path, 0, 0);
	tb_path_line(path, 0, -7);
	tb_path_move(path, -1.5, -7);
	tb_path_curve(path, -0.5, -7.5, 0.5, -7.5, 1.5, -7);
	tb_path_move(path, -0.8, -3.6);
	tb_path_line(path, 0.8, -4.4);
	tb_shape_add(shape, path, false);
	tb_shape_measure(shape, pen_mm);
	return shape;
}

static tb_shape *draw_almond(double pen_mm)
{
	tb_shape *shape = tb_shape_create();
	tb_path *path = tb_path_create();
	tb_path_move(path, -1.5, -1);
	tb_path_curve(path, -0.5, -2, 0.5, -2, 1.5, -1);
	tb_path_curve(path, 0.5, 0, -0.5, 0, -1.5, -1);
	tb_path_close(path);
	tb_shape_add(shape, path, true);
	tb_shape_measure(shape, pen_mm);
	return shape;
}

static void add_row(tb_drawing *drawing, unsigned row, unsigned rows, unsigned stitches)
{
	bool wrong_side = row % 2 == 0;
	double y = MARGIN_MM + (rows - row + 1) * ROW_MM;
	g_autofree char *title =
		g_strdup_printf("Row %u, %s side", row, wrong_side ? "wrong" : "right");
	g_autofree char *number = g_strdup_printf("%u", row);

	tb_drawing_begin_group(drawing, title);
	for (unsigned i = 0; i < stitches; i++) {
		unsigned column = wrong_side ? i : stitches - 1 - i;
		bool almond = i % 5 == 4;
		tb_drawing_place_shape(drawing, almond ? TB_SAMPLE_ALMOND : TB_SAMPLE_STEM,
			MARGIN_MM + (column + 0.5) * STEP_MM, y, i % 7 == 3 ? 0.25 : 0,
			wrong_side ? TB_INK_ROW_B : TB_INK_ROW_A, almond ? "sl st" : "dc");
	}
	tb_drawing_end_group(drawing);
	tb_drawing_add_text(drawing, number, wrong_side ? MARGIN_MM - 3 : drawing->width_mm - 9, y, 3,
		TB_FACE_PLAIN, wrong_side ? TB_ALIGN_RIGHT : TB_ALIGN_LEFT,
		wrong_side ? TB_INK_ROW_B : TB_INK_ROW_A);
}

static void add_box(tb_drawing *drawing, unsigned rows)
{
	double left = MARGIN_MM + STEP_MM, right = MARGIN_MM + 3 * STEP_MM;
	double top = MARGIN_MM, bottom = MARGIN_MM + rows * ROW_MM + 1.5;
	tb_path *path = tb_path_create();

	tb_path_move(path, left, top);
	tb_path_line(path, right, top);
	tb_path_line(path, right, bottom);
	tb_path_line(path, left, bottom);
	tb_path_close(path);
	tb_drawing_add_line(drawing, path, TB_INK_FURNITURE, 0.35, 1.2, 1.1);
}

tb_drawing *tb_sample_drawing(const char *title, unsigned rows, unsigned stitches)
{
	tb_drawing *drawing = tb_drawing_create();
	drawing->title = g_strdup(title);
	drawing->description = g_strdup("Two stitches in rows.");
	drawing->width_mm = 2 * MARGIN_MM + stitches * STEP_MM;
	drawing->height_mm = 2 * MARGIN_MM + rows * ROW_MM;
	drawing->pen_mm = 0.4;
	drawing->palette.inks[TB_INK_ROW_A] = (tb_colour){0.1, 0.2, 0.4};
	drawing->palette.inks[TB_INK_ROW_B] = (tb_colour){0.5, 0.15, 0.1};
	drawing->palette.inks[TB_INK_FURNITURE] = (tb_colour){0.1, 0.45, 0.35};

	tb_drawing_add_shape(drawing, draw_stem(drawing->pen_mm));
	tb_drawing_add_shape(drawing, draw_almond(drawing->pen_mm));
	tb_drawing_add_text(drawing, title, MARGIN_MM, 8, 4, TB_FACE_BOLD, TB_ALIGN_LEFT,
		TB_INK_TEXT);
	for (unsigned row = 1; row <= rows; row++)
		add_row(drawing, row, rows, stitches);
	add_box(drawing, rows);
	return drawing;
}
