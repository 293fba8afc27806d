/*
 * Writes the strokes of a pattern's chart to a file, for floor.c to draw. Without a file it stops
 * when the chart is laid out, with "-" when it is drawn, so that each step can be measured.
 *
 *     strokes PATTERN STITCH_WIDTH_MM [FILE]
 *
 * Charts are in full. The texts (title, key, numbers of rows) are left out; all else is there. The
 * first word of a row is read with the row's title, as in the PDF.
 */
#include "strokes.h"

#include "drawing/drawing.h"

#include <tambour/output.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The most symbols that the SVG places one by one. */
#define MOST_STAMPS 20000

typedef struct {
	GArray *points, *ops, *strokes, *shapes, *marks;
	GString *words;
	GHashTable *numbers; /* word to number plus 1 */
	guint word_count;
} dump;

static guint32 add_stroke(dump *d, const tb_path *path, bool filled)
{
	static const char LETTERS[] = {'M', 'L', 'C', 'Z'};
	strokes_stroke stroke = {.first_op = d->ops->len, .op_count = path->ops->len,
		.first_point = d->points->len, .filled = filled};

	for (guint i = 0; i < path->ops->len; i++)
		g_array_append_val(d->ops, LETTERS[g_array_index(path->ops, guint8, i)]);
	for (guint i = 0; i < path->points->len; i++) {
		const tb_point *from = &g_array_index(path->points, tb_point, i);
		strokes_point point = {.x = from->x, .y = from->y};
		g_array_append_val(d->points, point);
	}
	g_array_append_val(d->strokes, stroke);
	return d->strokes->len - 1;
}

static void add_shape(dump *d, const tb_shape *from, double pen_mm)
{
	tb_shape box = *from;
	tb_shape_measure(&box, pen_mm);
	strokes_shape shape = {.first_stroke = d->strokes->len, .stroke_count = from->strokes->len,
		.left = box.left, .top = box.top, .right = box.right, .bottom = box.bottom};

	for (guint i = 0; i < from->strokes->len; i++) {
		const tb_stroke *stroke = &g_array_index(from->strokes, tb_stroke, i);
		add_stroke(d, stroke->path, stroke->filled);
	}
	g_array_append_val(d->shapes, shape);
}

static guint32 find_word(dump *d, const char *title, const char *word)
{
	g_autofree char *text = title == NULL ? g_strdup(word) : g_strdup_printf("%s: %s", title, word);
	guint32 number = GPOINTER_TO_UINT(g_hash_table_lookup(d->numbers, text));

	if (number != 0)
		return number;
	g_string_append_len(d->words, text, (gssize)strlen(text) + 1);
	g_hash_table_insert(d->numbers, g_steal_pointer(&text), GUINT_TO_POINTER(++d->word_count));
	return d->word_count;
}

static void add_marks(dump *d, const tb_drawing *drawing)
{
	const char *title = NULL;

	for (guint i = 0; i < drawing->marks->len; i++) {
		const tb_mark *from = &g_array_index(drawing->marks, tb_mark, i);
		strokes_mark mark = {.ink = (uint8_t)from->ink, .pen_mm = from->pen_mm};
		switch (from->kind) {
		case TB_MARK_SHAPE:
			mark.kind = STROKES_SHAPE;
			mark.part = from->shape;
			mark.x = from->x;
			mark.y = from->y;
			mark.angle = from->angle;
			if (from->word != NULL) {
				mark.word = find_word(d, title, from->word);
				title = NULL;
			}
			break;
		case TB_MARK_LINE:
			mark.kind = STROKES_LINE;
			mark.part = add_stroke(d, from->path, false);
			mark.x = from->dash_mm;
			mark.y = from->gap_mm;
			break;
		case TB_MARK_GROUP:
			mark.kind = STROKES_ROW;
			title = from->text;
			break;
		case TB_MARK_END:
			mark.kind = STROKES_END;
			title = NULL;
			break;
		default:
			continue;
		}
		g_array_append_val(d->marks, mark);
	}
}

static void choose(strokes_head *head, const dump *d)
{
	g_autofree guint8 *seen = g_new0(guint8, (gsize)head->shapes * STROKES_INKS + 1);
	gsize marks = 0, distinct = 0;

	head->grey = 1;
	for (guint i = 0; i < d->marks->len; i++) {
		const strokes_mark *mark = &g_array_index(d->marks, strokes_mark, i);
		const double *ink = head->inks[mark->ink];
		head->grey &= ink[0] == ink[1] && ink[1] == ink[2];
		if (mark->kind != STROKES_SHAPE)
			continue;
		guint8 *pair = &seen[(gsize)mark->part * STROKES_INKS + mark->ink];
		distinct += *pair == 0;
		*pair = 1;
		marks++;
	}
	head->stamps = marks <= MOST_STAMPS && distinct * 2 <= marks;
}

static bool write_dump(const tb_drawing *drawing, const char *path)
{
	dump d = {
		.points = g_array_new(FALSE, FALSE, sizeof(strokes_point)),
		.ops = g_array_new(FALSE, FALSE, 1),
		.strokes = g_array_new(FALSE, FALSE, sizeof(strokes_stroke)),
		.shapes = g_array_new(FALSE, FALSE, sizeof(strokes_shape)),
		.marks = g_array_new(FALSE, FALSE, sizeof(strokes_mark)),
		.words = g_string_new(NULL),
		.numbers = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL),
	};
	G_STATIC_ASSERT(TB_INK_COUNT <= STROKES_INKS);

	for (guint i = 0; i < drawing->shapes->len; i++)
		add_shape(&d, g_ptr_array_index(drawing->shapes, i), drawing->pen_mm);
	add_marks(&d, drawing);
	strokes_head head = {.width_mm = drawing->width_mm, .height_mm = drawing->height_mm,
		.pen_mm = drawing->pen_mm, .points = d.points->len, .ops = d.ops->len,
		.strokes = d.strokes->len, .shapes = d.shapes->len, .word_bytes = (uint32_t)d.words->len,
		.words = d.word_count, .marks = d.marks->len};
	for (int i = 0; i < TB_INK_COUNT; i++) {
		const tb_colour *colour = &drawing->palette.inks[i];
		memcpy(head.inks[i], (double[]){colour->red, colour->green, colour->blue},
			sizeof head.inks[i]);
	}
	choose(&head, &d);

	FILE *file = fopen(path, "wb");
	if (file == NULL)
		return false;
	fwrite(&head, sizeof head, 1, file);
	fwrite(d.points->data, sizeof(strokes_point), d.points->len, file);
	fwrite(d.ops->data, 1, d.ops->len, file);
	fwrite(d.strokes->data, sizeof(strokes_stroke), d.strokes->len, file);
	fwrite(d.shapes->data, sizeof(strokes_shape), d.shapes->len, file);
	fwrite(d.words->str, 1, d.words->len, file);
	fwrite(d.marks->data, sizeof(strokes_mark), d.marks->len, file);
	bool good = ferror(file) == 0;
	return fclose(file) == 0 && good;
}

int main(int argc, char **argv)
{
	g_autofree char *text = NULL;
	gsize length;

	if (argc < 3 || argc > 4) {
		fputs("usage: strokes PATTERN STITCH_WIDTH_MM [FILE]\n", stderr);
		return 2;
	}
	if (!g_file_get_contents(argv[1], &text, &length, NULL))
		return 1;
	tb_source *source = tb_source_create(argv[1], text, length);
	tb_library *library = tb_library_create();
	tb_diagnostics *diagnostics = tb_diagnostics_create(source);
	tb_pattern *pattern = tb_pattern_read(source, library, diagnostics);
	tb_worked *worked = pattern == NULL ? NULL : tb_work(pattern, diagnostics);
	tb_type *type = tb_type_create();
	if (worked == NULL || type == NULL)
		return 1;
	tb_text_measure measure = tb_type_get_measure(type);
	tb_chart_options options = {.full = true, .stitch_width_mm = g_ascii_strtod(argv[2], NULL)};
	tb_chart *chart = tb_chart_create(worked, &options, &measure, diagnostics);
	if (chart == NULL)
		return 1;
	bool good = true;
	if (argc == 4) {
		tb_drawing *drawing = tb_chart_draw(chart);
		good = strcmp(argv[3], "-") == 0 || write_dump(drawing, argv[3]);
		if (!good)
			perror(argv[3]);
	}
	/* The end of the program gives all memory back. */
	return good ? 0 : 1;
}
