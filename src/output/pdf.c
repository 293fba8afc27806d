/*
 * PDF: one page of the drawing's own size. The ink is one path and stroke for every row and ink;
 * each row is a paragraph of the document's structure and carries its words (words.c).
 *
 * The page says when it was made only where it is told: without SOURCE_DATE_EPOCH the date is the
 * first of January 1970, midnight, so that the same chart is the same file on every day.
 */
#include "output/pdf.h"

static cairo_status_t paint(const tb_drawing *drawing, tb_type *type, time_t created,
	GByteArray *bytes)
{
	cairo_surface_t *surface = cairo_pdf_surface_create_for_stream(tb_output_append, bytes,
		drawing->width_mm * TB_POINTS_PER_MM, drawing->height_mm * TB_POINTS_PER_MM);
	tb_pdf_describe(surface, drawing->title, drawing->author, drawing->description, created);
	cairo_t *cr = cairo_create(surface);
	tb_words *words = tb_words_create(drawing);

	cairo_scale(cr, TB_POINTS_PER_MM, TB_POINTS_PER_MM);
	tb_paint_paper(cr, drawing);
	cairo_tag_begin(cr, "Document", NULL);
	tb_pdf_paint_marks(cr, drawing, type, words);
	cairo_tag_end(cr, "Document");
	cairo_show_page(cr);

	cairo_status_t status = cairo_status(cr);
	cairo_destroy(cr);
	cairo_surface_finish(surface);
	if (status == CAIRO_STATUS_SUCCESS)
		status = cairo_surface_status(surface);
	cairo_surface_destroy(surface);
	tb_words_destroy(words);
	return status;
}

static GByteArray *render(const tb_drawing *drawing, const tb_output_options *options,
	GError **error)
{
	tb_type *type = NULL;

	if (!tb_output_validate(drawing, TB_POINTS_PER_MM, error) || !tb_pdf_check_page(drawing, error) ||
		!tb_output_find_type(drawing, &type, error))
		return NULL;
	g_autoptr(GByteArray) bytes = g_byte_array_new();
	cairo_status_t status = paint(drawing, type, options->created, bytes);
	tb_type_destroy(type);
	if (!tb_output_succeeded(status, error))
		return NULL;
	tb_pdf_mend_date(bytes);
	return g_steal_pointer(&bytes);
}

const tb_output tb_output_pdf = {.extension = "pdf", .render = render};
