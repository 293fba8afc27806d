/*
 * The floor: the strokes of a chart drawn as plainly as Cairo lets them be, and nothing else.
 *
 *     floor STROKES svg|pdf|png FILE [DPI]
 *
 * STROKES comes from strokes.c, so the strokes are the chart's own: the same shapes at the same
 * places in the same inks; wherever it has ink its PNG is the program's to the pixel. It knows
 * nothing of patterns, lays nothing out, names and checks nothing, writes no text but a PDF's words,
 * keeps no mark in memory, and writes straight to the file what Cairo makes. The means are those of
 * the program for a drawing of that size:
 *
 *   svg  up to 20,000 symbols each shape is recorded once an ink and placed; more of them are one
 *        path and one stroke for every row
 *   pdf  one path and stroke a row, then the row's words in blank letters of a font, in one tag
 *   png  symbol by symbol onto bands of an image, packed by libpng without filters
 *
 * Symbols in a path are moved to their place by arithmetic, which is cheaper than to save, turn and
 * restore the state of a context.
 */
#include "strokes.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <math.h>
#include <png.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define MM_PER_INCH 25.4
#define POINTS_PER_MM (72 / MM_PER_INCH)

/* As the program: symbols in one path, letters in one call, pixels in a band, and so on. */
#define RUN_MARKS 2000
#define LETTERS 1000
#define BAND_PIXELS (4 * 1024 * 1024)
#define SMALL_PIXELS (4 * 1024 * 1024)
#define TOLERANCE 0.02
#define AIR_MM 0.5
#define WORD_WIDTH 0.7
#define SPACE_WIDTH 0.3

typedef struct {
	FILE *file;
	long marks_at;
	strokes_head head;
	strokes_point *points;
	uint8_t *ops;
	strokes_stroke *strokes;
	strokes_shape *shapes;
	char *words;
	char **word; /* by number */
	cairo_t *cr;
} picture;

static void *read_table(picture *p, size_t size, size_t count)
{
	void *table = malloc(size * count + 1);
	if (table == NULL || fread(table, size, count, p->file) != count) {
		fputs("floor: the strokes end early\n", stderr);
		exit(1);
	}
	return table;
}

static void open_strokes(picture *p, const char *path)
{
	p->file = fopen(path, "rb");
	if (p->file == NULL || fread(&p->head, sizeof p->head, 1, p->file) != 1) {
		perror(path);
		exit(1);
	}
	p->points = read_table(p, sizeof *p->points, p->head.points);
	p->ops = read_table(p, 1, p->head.ops);
	p->strokes = read_table(p, sizeof *p->strokes, p->head.strokes);
	p->shapes = read_table(p, sizeof *p->shapes, p->head.shapes);
	p->words = read_table(p, 1, p->head.word_bytes);
	p->word = calloc(p->head.words + 1, sizeof *p->word);
	char *word = p->words;
	for (uint32_t i = 0; i < p->head.words; i++, word += strlen(word) + 1)
		p->word[i] = word;
	p->marks_at = ftell(p->file);
}

static bool next_mark(picture *p, strokes_mark *mark)
{
	return fread(mark, sizeof *mark, 1, p->file) == 1;
}

static void set_ink(picture *p, unsigned ink)
{
	const double *colour = p->head.inks[ink];
	cairo_set_source_rgb(p->cr, colour[0], colour[1], colour[2]);
}

static void set_pen(cairo_t *cr, double width)
{
	cairo_set_line_cap(cr, CAIRO_LINE_CAP_ROUND);
	cairo_set_line_join(cr, CAIRO_LINE_JOIN_ROUND);
	cairo_set_line_width(cr, width);
}

/* A stroke's path at a place, turned. */
static void add_path(picture *p, cairo_t *cr, const strokes_stroke *stroke, double x, double y,
	double angle)
{
	const strokes_point *at = p->points + stroke->first_point;
	double c = angle == 0 ? 1 : cos(angle), s = angle == 0 ? 0 : sin(angle);
	strokes_point to[3];

	for (uint32_t i = 0; i < stroke->op_count; i++) {
		char op = (char)p->ops[stroke->first_op + i];
		int count = op == 'Z' ? 0 : op == 'C' ? 3 : 1;
		for (int k = 0; k < count; k++, at++)
			to[k] = (strokes_point){x + c * at->x - s * at->y, y + s * at->x + c * at->y};
		if (op == 'M')
			cairo_move_to(cr, to[0].x, to[0].y);
		else if (op == 'L')
			cairo_line_to(cr, to[0].x, to[0].y);
		else if (op == 'C')
			cairo_curve_to(cr, to[0].x, to[0].y, to[1].x, to[1].y, to[2].x, to[2].y);
		else
			cairo_close_path(cr);
	}
}

/* The lines of a symbol, or its solids, which are filled one by one. */
static bool add_symbol(picture *p, cairo_t *cr, const strokes_mark *mark, double x, double y,
	double angle, bool solids)
{
	const strokes_shape *shape = p->shapes + mark->part;
	bool any = false;

	for (uint32_t i = 0; i < shape->stroke_count; i++) {
		const strokes_stroke *stroke = p->strokes + shape->first_stroke + i;
		if (stroke->filled != solids)
			continue;
		add_path(p, cr, stroke, x, y, angle);
		any = true;
		if (solids)
			cairo_fill(cr);
	}
	return any;
}

static void paint_line(picture *p, const strokes_mark *mark)
{
	set_ink(p, mark->ink);
	set_pen(p->cr, mark->pen_mm);
	if (mark->x > 0)
		cairo_set_dash(p->cr, (double[]){mark->x, mark->y}, 2, 0);
	add_path(p, p->cr, p->strokes + mark->part, 0, 0, 0);
	cairo_stroke(p->cr);
	cairo_set_dash(p->cr, NULL, 0, 0);
}

static void paint_paper(picture *p)
{
	cairo_set_source_rgb(p->cr, 1, 1, 1);
	cairo_rectangle(p->cr, 0, 0, p->head.width_mm, p->head.height_mm);
	cairo_fill(p->cr);
}

/* Placed shapes. */

typedef struct {
	cairo_surface_t *recorded;
	double x, y;
} stamp;

static void record(picture *p, const strokes_mark *mark, stamp *to)
{
	const strokes_shape *box = p->shapes + mark->part;
	to->x = AIR_MM - box->left;
	to->y = AIR_MM - box->top;
	cairo_rectangle_t extents = {.width = ceil(box->right + to->x + AIR_MM),
		.height = ceil(box->bottom + to->y + AIR_MM)};
	to->recorded = cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, &extents);
	cairo_t *cr = cairo_create(to->recorded);
	const double *colour = p->head.inks[mark->ink];
	cairo_set_source_rgb(cr, colour[0], colour[1], colour[2]);
	set_pen(cr, mark->pen_mm > 0 ? mark->pen_mm : p->head.pen_mm);
	if (add_symbol(p, cr, mark, to->x, to->y, 0, false))
		cairo_stroke(cr);
	add_symbol(p, cr, mark, to->x, to->y, 0, true);
	cairo_destroy(cr);
}

static void place(picture *p, stamp *stamps, const strokes_mark *mark)
{
	stamp *from = &stamps[mark->part * STROKES_INKS + mark->ink];
	if (from->recorded == NULL)
		record(p, mark, from);
	if (mark->angle == 0) {
		cairo_set_source_surface(p->cr, from->recorded, mark->x - from->x, mark->y - from->y);
		cairo_paint(p->cr);
		return;
	}
	cairo_save(p->cr);
	cairo_translate(p->cr, mark->x, mark->y);
	cairo_rotate(p->cr, mark->angle);
	cairo_set_source_surface(p->cr, from->recorded, -from->x, -from->y);
	cairo_paint(p->cr);
	cairo_restore(p->cr);
}

/* Stroked rows. */

typedef struct {
	strokes_mark marks[RUN_MARKS];
	unsigned count;
} run;

static void paint_run(picture *p, run *r)
{
	bool lines = false;

	if (r->count == 0)
		return;
	set_ink(p, r->marks[0].ink);
	set_pen(p->cr, r->marks[0].pen_mm > 0 ? r->marks[0].pen_mm : p->head.pen_mm);
	for (unsigned i = 0; i < r->count; i++) {
		const strokes_mark *mark = &r->marks[i];
		lines |= add_symbol(p, p->cr, mark, mark->x, mark->y, mark->angle, false);
	}
	if (lines)
		cairo_stroke(p->cr);
	for (unsigned i = 0; i < r->count; i++) {
		const strokes_mark *mark = &r->marks[i];
		add_symbol(p, p->cr, mark, mark->x, mark->y, mark->angle, true);
	}
	r->count = 0;
}

static void add_to_run(picture *p, run *r, const strokes_mark *mark)
{
	if (r->count == RUN_MARKS ||
		(r->count > 0 && (r->marks[0].ink != mark->ink || r->marks[0].pen_mm != mark->pen_mm)))
		paint_run(p, r);
	r->marks[r->count++] = *mark;
}

static void paint_svg(picture *p)
{
	static run r;
	stamp *stamps = calloc((size_t)p->head.shapes * STROKES_INKS + 1, sizeof *stamps);
	strokes_mark mark;

	while (next_mark(p, &mark)) {
		if (mark.kind == STROKES_SHAPE && p->head.stamps) {
			place(p, stamps, &mark);
		} else if (mark.kind == STROKES_SHAPE) {
			add_to_run(p, &r, &mark);
		} else {
			paint_run(p, &r);
			if (mark.kind == STROKES_LINE)
				paint_line(p, &mark);
		}
	}
	paint_run(p, &r);
}

/* A PDF's words. */

typedef struct {
	cairo_font_face_t *face;
	char *text;
	size_t bytes, room;
	cairo_glyph_t *glyphs;
	cairo_text_cluster_t *clusters;
	unsigned count, size; /* letters */
	double left, right, y;
} line;

static cairo_status_t begin_font(cairo_scaled_font_t *font, cairo_t *cr,
	cairo_font_extents_t *extents)
{
	extents->ascent = 0.8;
	extents->descent = 0.2;
	extents->height = 1;
	extents->max_x_advance = WORD_WIDTH;
	return CAIRO_STATUS_SUCCESS;
}

/* Letter 1 is the space. */
static cairo_status_t show_letter(cairo_scaled_font_t *font, unsigned long letter, cairo_t *cr,
	cairo_text_extents_t *extents)
{
	extents->x_advance = extents->width = letter == 1 ? SPACE_WIDTH : WORD_WIDTH;
	extents->y_bearing = -0.8;
	extents->height = 0.8;
	return CAIRO_STATUS_SUCCESS;
}

static void add_letter(line *l, unsigned long letter, const char *text)
{
	size_t length = strlen(text);
	if (l->count == l->size || l->bytes + length > l->room) {
		l->size = l->size * 2 + 64;
		l->room = l->room * 2 + length + 256;
		l->text = realloc(l->text, l->room);
		l->glyphs = realloc(l->glyphs, l->size * sizeof *l->glyphs);
		l->clusters = realloc(l->clusters, l->size * sizeof *l->clusters);
	}
	memcpy(l->text + l->bytes, text, length);
	l->bytes += length;
	l->glyphs[l->count] = (cairo_glyph_t){.index = letter};
	l->clusters[l->count++] = (cairo_text_cluster_t){.num_bytes = (int)length, .num_glyphs = 1};
}

static void add_word(picture *p, line *l, const strokes_mark *mark)
{
	if (mark->word == 0)
		return;
	if (l->count == 0) {
		l->left = l->right = mark->x;
		l->y = mark->y;
	}
	l->left = fmin(l->left, mark->x);
	l->right = fmax(l->right, mark->x);
	add_letter(l, mark->word + 1, p->word[mark->word - 1]);
	add_letter(l, 1, " ");
}

static void show_line(picture *p, line *l)
{
	unsigned words = l->count / 2;
	double step = words > 1 ? (l->right - l->left) / (words - 1) : 1;
	size_t byte = 0;

	if (l->count == 0)
		return;
	if (!(step > 0))
		step = 1;
	cairo_set_font_face(p->cr, l->face);
	cairo_set_font_size(p->cr, step);
	for (unsigned i = 0; i < l->count; i++) {
		l->glyphs[i].x = l->left + (i / 2 + (i % 2) * WORD_WIDTH) * step;
		l->glyphs[i].y = l->y;
	}
	for (unsigned i = 0; i < l->count; i += LETTERS) {
		unsigned count = l->count - i < LETTERS ? l->count - i : LETTERS;
		int bytes = 0;
		for (unsigned k = i; k < i + count; k++)
			bytes += l->clusters[k].num_bytes;
		cairo_show_text_glyphs(p->cr, l->text + byte, bytes, l->glyphs + i, (int)count,
			l->clusters + i, (int)count, 0);
		byte += (size_t)bytes;
	}
	l->count = 0;
	l->bytes = 0;
}

static void paint_pdf(picture *p)
{
	static run r;
	line l = {.face = cairo_user_font_face_create()};
	strokes_mark mark;

	cairo_user_font_face_set_init_func(l.face, begin_font);
	cairo_user_font_face_set_render_glyph_func(l.face, show_letter);
	cairo_scale(p->cr, POINTS_PER_MM, POINTS_PER_MM);
	paint_paper(p);
	cairo_tag_begin(p->cr, "Document", NULL);
	while (next_mark(p, &mark)) {
		if (mark.kind == STROKES_SHAPE) {
			add_to_run(p, &r, &mark);
			add_word(p, &l, &mark);
			continue;
		}
		paint_run(p, &r);
		if (mark.kind == STROKES_ROW) {
			cairo_tag_begin(p->cr, "P", NULL);
		} else if (mark.kind == STROKES_END) {
			show_line(p, &l);
			cairo_tag_end(p->cr, "P");
		} else {
			paint_line(p, &mark);
		}
	}
	paint_run(p, &r);
	cairo_tag_end(p->cr, "Document");
	cairo_show_page(p->cr);
}

/* Pixels. */

static void paint_band(picture *p, cairo_surface_t *image, double scale, unsigned first,
	unsigned rows)
{
	double top = (first - 2.0) / scale, bottom = (first + rows + 2.0) / scale;
	strokes_mark mark;

	p->cr = cairo_create(image);
	cairo_set_source_rgb(p->cr, 1, 1, 1);
	cairo_paint(p->cr);
	cairo_set_tolerance(p->cr, TOLERANCE);
	cairo_translate(p->cr, 0, -(double)first);
	cairo_scale(p->cr, scale, scale);
	fseek(p->file, p->marks_at, SEEK_SET);
	while (next_mark(p, &mark)) {
		if (mark.kind == STROKES_LINE)
			paint_line(p, &mark);
		if (mark.kind != STROKES_SHAPE)
			continue;
		const strokes_shape *box = p->shapes + mark.part;
		double reach = hypot(fmax(fabs(box->left), fabs(box->right)),
			fmax(fabs(box->top), fabs(box->bottom)));
		if (mark.y + reach < top || mark.y - reach > bottom)
			continue;
		set_ink(p, mark.ink);
		set_pen(p->cr, mark.pen_mm > 0 ? mark.pen_mm : p->head.pen_mm);
		if (add_symbol(p, p->cr, &mark, mark.x, mark.y, mark.angle, false))
			cairo_stroke(p->cr);
		add_symbol(p, p->cr, &mark, mark.x, mark.y, mark.angle, true);
	}
	cairo_destroy(p->cr);
	cairo_surface_flush(image);
}

static void pack(picture *p, png_structp png, cairo_surface_t *image, unsigned width,
	unsigned rows, uint8_t *row)
{
	const uint8_t *data = cairo_image_surface_get_data(image);
	int stride = cairo_image_surface_get_stride(image);

	for (unsigned y = 0; y < rows; y++) {
		const uint32_t *pixels = (const uint32_t *)(const void *)(data + (size_t)y * (size_t)stride);
		uint8_t *to = row;
		for (unsigned x = 0; x < width; x++) {
			if (!p->head.grey) {
				*to++ = (uint8_t)(pixels[x] >> 16);
				*to++ = (uint8_t)(pixels[x] >> 8);
			}
			*to++ = (uint8_t)pixels[x];
		}
		png_write_row(png, row);
	}
}

static void paint_png(picture *p, const char *path, double dpi)
{
	double scale = dpi / MM_PER_INCH;
	unsigned width = (unsigned)ceil(p->head.width_mm * scale - 1e-6);
	unsigned height = (unsigned)ceil(p->head.height_mm * scale - 1e-6);
	unsigned band = BAND_PIXELS / width < height ? BAND_PIXELS / width : height;
	FILE *file = fopen(path, "wb");
	png_structp png = png_create_write_struct(PNG_LIBPNG_VER_STRING, NULL, NULL, NULL);
	png_infop info = png_create_info_struct(png);

	if (file == NULL) {
		perror(path);
		exit(1);
	}
	png_init_io(png, file);
	png_set_IHDR(png, info, width, height, 8,
		p->head.grey ? PNG_COLOR_TYPE_GRAY : PNG_COLOR_TYPE_RGB, PNG_INTERLACE_NONE,
		PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
	png_set_filter(png, PNG_FILTER_TYPE_BASE, PNG_FILTER_NONE);
	png_set_compression_level(png, (uint64_t)width * height <= SMALL_PIXELS ? 6 : 1);
	png_write_info(png, info);
	cairo_surface_t *image = cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)width, (int)band);
	uint8_t *row = malloc((size_t)width * 3);
	for (unsigned first = 0; first < height; first += band) {
		unsigned rows = height - first < band ? height - first : band;
		paint_band(p, image, scale, first, rows);
		pack(p, png, image, width, rows, row);
	}
	png_write_end(png, info);
	fclose(file);
}

int main(int argc, char **argv)
{
	picture p = {0};
	cairo_surface_t *surface;

	if (argc < 4) {
		fputs("usage: floor STROKES svg|pdf|png FILE [DPI]\n", stderr);
		return 2;
	}
	open_strokes(&p, argv[1]);
	if (strcmp(argv[2], "png") == 0) {
		paint_png(&p, argv[3], argc > 4 ? atof(argv[4]) : 200);
		return 0;
	}
	if (strcmp(argv[2], "svg") == 0) {
		surface = cairo_svg_surface_create(argv[3], p.head.width_mm, p.head.height_mm);
		cairo_svg_surface_set_document_unit(surface, CAIRO_SVG_UNIT_MM);
		p.cr = cairo_create(surface);
		paint_paper(&p);
		paint_svg(&p);
	} else {
		surface = cairo_pdf_surface_create(argv[3], p.head.width_mm * POINTS_PER_MM,
			p.head.height_mm * POINTS_PER_MM);
		p.cr = cairo_create(surface);
		paint_pdf(&p);
	}
	cairo_status_t status = cairo_status(p.cr);
	cairo_destroy(p.cr);
	cairo_surface_finish(surface);
	if (status == CAIRO_STATUS_SUCCESS)
		status = cairo_surface_status(surface);
	if (status != CAIRO_STATUS_SUCCESS) {
		fprintf(stderr, "floor: %s\n", cairo_status_to_string(status));
		return 1;
	}
	return 0;
}
