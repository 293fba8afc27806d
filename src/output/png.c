/*
 * PNG: the picture is painted in bands a few rows of pixels high and each band is packed at once,
 * so that memory stays small however large the print. A symbol is stroked by itself, and only in
 * the bands it touches. Where all inks are greys, so is the file.
 */
#include "output/paint.h"

#include "support/limits.h"

#include <math.h>
#include <png.h>
#include <setjmp.h>
#include <string.h>

#define PLAIN_DPI 200.0

/* The pixels of one band, 4 bytes each. */
#define BAND_PIXELS (4 * 1024 * 1024)

/* Pictures up to here are packed as well as can be; a larger one costs too much time. */
#define SMALL_PIXELS (4 * 1024 * 1024)

/* The farthest a curve may lie from its place, in pixels. */
#define TOLERANCE 0.02

typedef struct {
	const tb_drawing *drawing;
	tb_type *type;
	double dpi, pixels_per_mm;
	guint width, height;
	guint band; /* rows of pixels */
	bool grey;
	GByteArray *bytes;
	char *failure; /* what libpng said; owned */
} picture;

static bool measure(picture *p, const tb_output_options *options, GError **error)
{
	p->dpi = options->dpi == 0 ? PLAIN_DPI : options->dpi;
	if (!(p->dpi >= TB_LIMIT_DPI_LEAST && p->dpi <= TB_LIMIT_DPI)) {
		g_set_error(error, TB_OUTPUT_ERROR, TB_OUTPUT_FAILED,
			"a picture has between %.0f and %.0f dots per inch", TB_LIMIT_DPI_LEAST, TB_LIMIT_DPI);
		return false;
	}
	p->pixels_per_mm = p->dpi / TB_MM_PER_INCH;

	/* First of all, since the message says what would fit. */
	double width = ceil(p->drawing->width_mm * p->pixels_per_mm - 1e-6);
	double height = ceil(p->drawing->height_mm * p->pixels_per_mm - 1e-6);
	if (width > TB_LIMIT_PNG_PIXELS || height > TB_LIMIT_PNG_PIXELS) {
		double longest = fmax(p->drawing->width_mm, p->drawing->height_mm);
		char dpi[G_ASCII_DTOSTR_BUF_SIZE];
		g_ascii_formatd(dpi, sizeof dpi, "%g", p->dpi);
		g_set_error(error, TB_OUTPUT_ERROR, TB_OUTPUT_TOO_LARGE,
			"at %s dpi the picture is %.0f x %.0f pixels, and a PNG side ends at %d: "
			"%.0f dpi would fit, or use svg or pdf",
			dpi, width, height, TB_LIMIT_PNG_PIXELS, floor(TB_LIMIT_PNG_PIXELS / longest * TB_MM_PER_INCH));
		return false;
	}
	if (!tb_output_validate(p->drawing, p->pixels_per_mm, error))
		return false;
	p->width = (guint)fmax(width, 1);
	p->height = (guint)fmax(height, 1);
	p->band = CLAMP(BAND_PIXELS / p->width, 1, p->height);
	return true;
}

static bool is_grey(const tb_drawing *drawing)
{
	for (guint i = 0; i < drawing->marks->len; i++) {
		const tb_mark *mark = &g_array_index(drawing->marks, tb_mark, i);
		const tb_colour *colour = &drawing->palette.inks[mark->ink];
		bool has_ink = mark->kind == TB_MARK_SHAPE || mark->kind == TB_MARK_LINE ||
			mark->kind == TB_MARK_TEXT;
		if (has_ink && (colour->red != colour->green || colour->green != colour->blue))
			return false;
	}
	return true;
}

/* How far a mark reaches up and down, in mm; a text as far as any letter could. */
static void find_reach(const tb_drawing *drawing, const tb_mark *mark, double *top, double *bottom)
{
	double left, right;

	*top = *bottom = mark->y;
	if (mark->kind == TB_MARK_SHAPE) {
		tb_shape box = *(const tb_shape *)g_ptr_array_index(drawing->shapes, mark->shape);
		tb_shape_measure(&box, drawing->pen_mm);
		double radius = hypot(fmax(fabs(box.left), fabs(box.right)),
			fmax(fabs(box.top), fabs(box.bottom)));
		*top -= radius;
		*bottom += radius;
	} else if (mark->kind == TB_MARK_LINE) {
		tb_path_bounds(mark->path, &left, top, &right, bottom);
		*top -= mark->pen_mm;
		*bottom += mark->pen_mm;
	} else if (mark->kind == TB_MARK_TEXT) {
		*top -= 3 * mark->size_mm;
		*bottom += 3 * mark->size_mm;
	}
}

static void paint_mark(picture *p, cairo_t *cr, const tb_mark *mark)
{
	switch (mark->kind) {
	case TB_MARK_SHAPE:
		tb_paint_ink(cr, p->drawing, mark->ink);
		tb_paint_shape(cr, p->drawing, mark);
		break;
	case TB_MARK_LINE:
		tb_paint_line(cr, p->drawing, mark);
		break;
	case TB_MARK_TEXT:
		tb_paint_text(cr, p->drawing, mark, p->type);
		break;
	case TB_MARK_GROUP:
	case TB_MARK_END:
	case TB_MARK_CLIP:
	case TB_MARK_UNCLIP:
	case TB_MARK_TAG:
	case TB_MARK_UNTAG:
		break;
	}
}

static cairo_status_t paint_band(picture *p, cairo_surface_t *image, guint first)
{
	cairo_t *cr = cairo_create(image);
	double top_mm = first / p->pixels_per_mm, bottom_mm = (first + p->band) / p->pixels_per_mm;
	double air_mm = 2 / p->pixels_per_mm;

	cairo_set_source_rgb(cr, 1, 1, 1);
	cairo_paint(cr);
	cairo_set_tolerance(cr, TOLERANCE);
	cairo_translate(cr, 0, -(double)first);
	cairo_scale(cr, p->pixels_per_mm, p->pixels_per_mm);
	for (guint i = 0; i < p->drawing->marks->len; i++) {
		const tb_mark *mark = &g_array_index(p->drawing->marks, tb_mark, i);
		double top, bottom;
		find_reach(p->drawing, mark, &top, &bottom);
		if (bottom + air_mm >= top_mm && top - air_mm <= bottom_mm)
			paint_mark(p, cr, mark);
	}
	cairo_status_t status = cairo_status(cr);
	cairo_destroy(cr);
	cairo_surface_flush(image);
	return status;
}

static void write_rows(picture *p, png_structp png, cairo_surface_t *image, guint first,
	guint8 *row)
{
	const guint8 *data = cairo_image_surface_get_data(image);
	int stride = cairo_image_surface_get_stride(image);
	guint count = MIN(p->band, p->height - first);

	for (guint y = 0; y < count; y++) {
		const guint32 *pixels = (const guint32 *)(const void *)(data + (gsize)y * (gsize)stride);
		guint8 *to = row;
		for (guint x = 0; x < p->width; x++) {
			if (!p->grey) {
				*to++ = (guint8)(pixels[x] >> 16);
				*to++ = (guint8)(pixels[x] >> 8);
			}
			*to++ = (guint8)pixels[x];
		}
		png_write_row(png, row);
	}
}

static void append(png_structp png, png_bytep data, png_size_t length)
{
	picture *p = png_get_io_ptr(png);
	if (tb_output_append(p->bytes, data, (unsigned)length) != CAIRO_STATUS_SUCCESS)
		png_error(png, "the file would be larger than 2 GiB");
}

static void flush(png_structp png)
{
}

static void note_failure(png_structp png, png_const_charp message)
{
	picture *p = png_get_error_ptr(png);
	p->failure = g_strdup(message);
	png_longjmp(png, 1);
}

static void ignore_warning(png_structp png, png_const_charp message)
{
}

/* PNG's plain text is Latin-1; what is more than ASCII goes into its text for every script. */
static void set_text(png_structp png, png_infop info, char *key, char *text)
{
	png_text entry = {
		.compression = g_str_is_ascii(text) ? PNG_TEXT_COMPRESSION_NONE : PNG_ITXT_COMPRESSION_NONE,
		.key = key,
		.text = text,
		.text_length = strlen(text),
	};
	if (*text != '\0')
		png_set_text(png, info, &entry, 1);
}

static void write_head(picture *p, png_structp png, png_infop info, char *title, char *author)
{
	static char title_key[] = "Title", author_key[] = "Author", software_key[] = "Software";
	static char software[] = "tambour " TB_VERSION;
	bool small = (guint64)p->width * p->height <= SMALL_PIXELS;
	png_uint_32 per_metre = (png_uint_32)lround(p->dpi / TB_MM_PER_INCH * 1000);

	png_set_IHDR(png, info, p->width, p->height, 8,
		p->grey ? PNG_COLOR_TYPE_GRAY : PNG_COLOR_TYPE_RGB, PNG_INTERLACE_NONE,
		PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
	/* Flat paper and thin lines: filters make such pictures larger, and slower. */
	png_set_filter(png, PNG_FILTER_TYPE_BASE, PNG_FILTER_NONE);
	png_set_compression_level(png, small ? 6 : 1);
	png_set_sRGB(png, info, PNG_sRGB_INTENT_RELATIVE);
	png_set_pHYs(png, info, per_metre, per_metre, PNG_RESOLUTION_METER);
	set_text(png, info, title_key, title);
	set_text(png, info, author_key, author);
	set_text(png, info, software_key, software);
	png_write_info(png, info);
}

/* Everything that a failure of libpng jumps out of is made by the caller, who unmakes it. */
static cairo_status_t write_picture(picture *p, png_structp png, png_infop info,
	cairo_surface_t *image, guint8 *row, char *title, char *author)
{
	cairo_status_t status = CAIRO_STATUS_SUCCESS;

	if (setjmp(png_jmpbuf(png)) != 0)
		return CAIRO_STATUS_PNG_ERROR;
	write_head(p, png, info, title, author);
	for (guint first = 0; first < p->height; first += p->band) {
		status = paint_band(p, image, first);
		if (status != CAIRO_STATUS_SUCCESS)
			return status;
		write_rows(p, png, image, first, row);
	}
	png_write_end(png, info);
	return CAIRO_STATUS_SUCCESS;
}

static bool paint(picture *p, GError **error)
{
	png_infop info = NULL;
	png_structp png = png_create_write_struct(PNG_LIBPNG_VER_STRING, p, note_failure,
		ignore_warning);
	if (png != NULL)
		info = png_create_info_struct(png);
	if (info == NULL) {
		png_destroy_write_struct(&png, NULL);
		return tb_output_succeeded(CAIRO_STATUS_NO_MEMORY, error);
	}
	png_set_write_fn(png, p, append, flush);

	cairo_surface_t *image =
		cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)p->width, (int)p->band);
	cairo_status_t status = cairo_surface_status(image);
	g_autofree guint8 *row = g_malloc((gsize)p->width * 3);
	g_autofree char *title = tb_output_clean(p->drawing->title);
	g_autofree char *author = tb_output_clean(p->drawing->author);
	if (status == CAIRO_STATUS_SUCCESS)
		status = write_picture(p, png, info, image, row, title, author);
	cairo_surface_destroy(image);
	png_destroy_write_struct(&png, &info);

	if (p->failure == NULL)
		return tb_output_succeeded(status, error);
	g_set_error(error, TB_OUTPUT_ERROR, TB_OUTPUT_FAILED, "the picture could not be packed: %s",
		p->failure);
	g_free(p->failure);
	return false;
}

static GByteArray *render(const tb_drawing *drawing, const tb_output_options *options,
	GError **error)
{
	picture p = {.drawing = drawing, .grey = false};

	if (!measure(&p, options, error) || !tb_output_find_type(drawing, &p.type, error))
		return NULL;
	g_autoptr(GByteArray) bytes = g_byte_array_new();
	p.bytes = bytes;
	p.grey = is_grey(drawing);
	bool painted = paint(&p, error);
	tb_type_destroy(p.type);
	return painted ? g_steal_pointer(&bytes) : NULL;
}

const tb_output tb_output_png = {.extension = "png", .render = render};
