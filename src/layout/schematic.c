/* The schematic: a piece's outline to scale, with the measurements of every size at its sides. */
#include "layout/sheet.h"

#include <math.h>

/* The outline, at most, mm. */
#define WIDEST 84.0
#define HIGHEST 70.0
#define PEN 0.4
#define THIN 0.25
/* From the outline to a line of measurement, and that line's ends. */
#define AWAY 4.0
#define TICK 1.2

double tb_schematic_scale(double length, double room)
{
	static const double SCALES[] = {1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60,
		80, 100, 200, 500, 1000};
	for (size_t i = 0; i < G_N_ELEMENTS(SCALES); i++)
		if (length <= room * SCALES[i])
			return SCALES[i];
	return ceil(length / room);
}

typedef struct {
	double width[TB_MAX_SIZES], height[TB_MAX_SIZES], top[TB_MAX_SIZES];
	unsigned tops;
	bool has_top; /* the last row is of another width than the widest */
} measures;

/* The outline that is drawn: that of the middle size, or of the next that has the piece. */
static bool find_outline(tb_sheet *sheet, unsigned piece, tb_shape_outline *drawn,
	unsigned *drawn_size, measures *m)
{
	unsigned sizes = tb_pattern_count_sizes(sheet->pattern);
	bool found = false;
	for (unsigned size = 0; size < sizes; size++) {
		tb_shape_outline outline;
		if (!tb_sheet_has_size(sheet, size) ||
			!tb_shape_outline_make(sheet->worked, piece, size, sheet->options.left_handed,
				sheet->galley.measure, &outline))
			continue;
		const tb_fabric *fabric = tb_worked_fabric(sheet->worked, piece, size);
		m->width[size] = outline.in_rounds ? outline.width : fabric->width_mm;
		m->height[size] = outline.in_rounds ? outline.height : fabric->length_mm;
		m->top[size] = outline.top_width;
		m->tops = MAX(m->tops, outline.tops);
		m->has_top = m->has_top || (!outline.in_rounds &&
			m->width[size] - outline.top_width > fabric->column_mm);
		if (found && size > sizes / 2) {
			tb_shape_outline_finish(&outline);
			continue;
		}
		if (found)
			tb_shape_outline_finish(drawn);
		*drawn = outline;
		*drawn_size = size;
		found = true;
	}
	return found;
}

static void add_measure_line(GArray *items, double x1, double y1, double x2, double y2)
{
	bool upright = x1 == x2;
	double dx = upright ? TICK : 0, dy = upright ? 0 : TICK;
	tb_items_rule(items, x1, y1, x2, y2, THIN, TB_INK_FURNITURE);
	tb_items_rule(items, x1 - dx, y1 - dy, x1 + dx, y1 + dy, THIN, TB_INK_FURNITURE);
	tb_items_rule(items, x2 - dx, y2 - dy, x2 + dx, y2 + dy, THIN, TB_INK_FURNITURE);
}

/* Both units, each on lines of its own. Returns the height they take. */
static double add_lengths(tb_sheet *sheet, const char *what, const double *by_size, double x,
	double y, double width)
{
	tb_galley *galley = &sheet->galley;
	double size = galley->type.body, lead = 1.3 * size;
	unsigned line = 0;
	for (int inches = 0; inches < 2; inches++) {
		g_autofree char *lengths = tb_sheet_lengths(sheet, by_size, inches == 1);
		g_autofree char *text = g_strdup_printf("%s%s", inches == 0 ? what : "", lengths);
		g_autoptr(GPtrArray) lines = tb_galley_wrap(galley, text, size, false, width);
		for (guint i = 0; i < lines->len; i++)
			tb_items_part(galley->items, g_ptr_array_index(lines, i), true, x,
				y + lead * line++ + 0.85 * size, size, TB_FACE_PLAIN, TB_INK_FURNITURE);
	}
	return line * lead;
}

static void add_outline(GArray *items, const tb_shape_outline *outline, double x, double y,
	double scale)
{
	tb_item *line = tb_items_line(items, PEN, TB_INK_TEXT);
	line->closed = true;
	for (guint i = 0; i < outline->line->len; i++) {
		const tb_spot *p = &g_array_index(outline->line, tb_spot, i);
		tb_line_to(line, x + p->x / scale, y + p->y / scale);
	}
}

static char *caption(const tb_sheet *sheet, unsigned size, double scale)
{
	char buffer[G_ASCII_DTOSTR_BUF_SIZE];
	const char *name = tb_pattern_get_size(sheet->pattern, size);
	g_ascii_formatd(buffer, sizeof buffer, "%g", scale);
	if (*name == '\0')
		return g_strdup_printf("Scale 1 : %s.", buffer);
	return g_strdup_printf("Size %s, scale 1 : %s.", name, buffer);
}

void tb_sheet_add_schematic(tb_sheet *sheet, unsigned piece)
{
	tb_galley *galley = &sheet->galley;
	tb_shape_outline outline;
	unsigned size;
	measures m = {0};
	if (!find_outline(sheet, piece, &outline, &size, &m))
		return;
	double scale = fmax(tb_schematic_scale(outline.width, WIDEST),
		tb_schematic_scale(outline.height, HIGHEST));
	double width = outline.width / scale, height = outline.height / scale;
	g_autofree char *said = caption(sheet, size, scale);
	tb_galley_heading(galley, "Schematic", 2);

	guint strip = galley->strips->len;
	tb_galley_begin(galley, 0, 0);
	GArray *items = galley->items;
	double y = 0.4 * galley->type.body;
	tb_items_tag(items, "P", NULL);
	if (m.has_top)
		y += add_lengths(sheet, m.tops > 1 ? "each top " : "top ", m.top, 0, y, galley->width) + 2;
	add_outline(items, &outline, 0, y, scale);
	double beside = width + AWAY + 3.5;
	add_measure_line(items, width + AWAY, y, width + AWAY, y + height);
	double right = add_lengths(sheet, "", m.height, beside,
		y + fmax(0, height / 2 - 1.3 * galley->type.body), galley->width - beside);
	double bottom = fmax(y + height, y + fmax(0, height / 2 - 1.3 * galley->type.body) + right);
	add_measure_line(items, 0, y + height + AWAY, width, y + height + AWAY);
	bottom = fmax(bottom, y + height + AWAY + 2);
	bottom += add_lengths(sheet, "", m.width, 0, bottom, galley->width);
	tb_items_label(items, said, 0, bottom + 1.5 * galley->type.body, galley->type.small,
		TB_FACE_PLAIN, TB_ALIGN_LEFT, TB_INK_TEXT);
	tb_items_untag(items);
	g_array_index(galley->strips, tb_strip, strip).height = bottom + 1.8 * galley->type.body;
	tb_galley_skip(galley, galley->type.body);
	tb_shape_outline_finish(&outline);
}
