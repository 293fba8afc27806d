/*
 * A document as a PDF: its drawings as pages under one structure, so that a reader goes through them
 * as through a book; an outline, page labels, and links from names to where they are told.
 *
 * What stands in no tag (the running foot) is no part of that structure and is not read out.
 */
#include "output/pdf.h"

#include "drawing/document.h"

static bool check(const tb_document *document, tb_type **type, GError **error)
{
	*type = NULL;
	for (guint i = 0; i < document->pages->len; i++) {
		const tb_drawing *page = g_ptr_array_index(document->pages, i);
		if (!tb_output_validate(page, TB_POINTS_PER_MM, error) || !tb_pdf_check_page(page, error) ||
			(*type == NULL && !tb_output_find_type(page, type, error))) {
			tb_type_destroy(*type);
			*type = NULL;
			return false;
		}
	}
	if (document->pages->len > 0)
		return true;
	g_set_error(error, TB_OUTPUT_ERROR, TB_OUTPUT_FAILED, "the document has no page");
	return false;
}

static void add_outline(cairo_surface_t *surface, const tb_document *document)
{
	int parent = CAIRO_PDF_OUTLINE_ROOT;

	for (guint i = 0; i < document->bookmarks->len; i++) {
		const tb_bookmark *mark = &g_array_index(document->bookmarks, tb_bookmark, i);
		/* Whole points: where numbers have a comma, Cairo 1.16 takes no part of one. */
		g_autofree char *where = g_strdup_printf(
			"page=%u pos=[0 %.0f]", mark->page + 1, mark->y_mm * TB_POINTS_PER_MM);
		g_autofree char *text = tb_output_clean(mark->text);
		int id = cairo_pdf_surface_add_outline(surface,
			mark->level > 1 ? parent : CAIRO_PDF_OUTLINE_ROOT, text, where,
			CAIRO_PDF_OUTLINE_FLAG_OPEN);
		if (mark->level <= 1)
			parent = id;
	}
}

static void paint_page(cairo_t *cr, const tb_drawing *page, tb_type *type)
{
	tb_words *words = tb_words_create(page);

	cairo_save(cr);
	cairo_scale(cr, TB_POINTS_PER_MM, TB_POINTS_PER_MM);
	tb_pdf_paint_marks(cr, page, type, words);
	cairo_restore(cr);
	tb_words_destroy(words);
}

static void paint_paper(cairo_t *cr, const tb_drawing *page)
{
	cairo_save(cr);
	cairo_scale(cr, TB_POINTS_PER_MM, TB_POINTS_PER_MM);
	tb_paint_paper(cr, page);
	cairo_restore(cr);
}

static cairo_status_t paint(const tb_document *document, tb_type *type, time_t created,
	GByteArray *bytes)
{
	const tb_drawing *first = g_ptr_array_index(document->pages, 0);
	cairo_surface_t *surface = cairo_pdf_surface_create_for_stream(tb_output_append, bytes,
		first->width_mm * TB_POINTS_PER_MM, first->height_mm * TB_POINTS_PER_MM);
	tb_pdf_describe(surface, document->title, document->author, document->description, created);
	cairo_t *cr = cairo_create(surface);

	for (guint i = 0; i < document->pages->len; i++) {
		const tb_drawing *page = g_ptr_array_index(document->pages, i);
		if (i > 0)
			cairo_pdf_surface_set_size(surface, page->width_mm * TB_POINTS_PER_MM,
				page->height_mm * TB_POINTS_PER_MM);
		g_autofree char *label = tb_output_clean(g_ptr_array_index(document->labels, i));
		cairo_pdf_surface_set_page_label(surface, label);
		paint_paper(cr, page);
		if (i == 0)
			cairo_tag_begin(cr, "Document", NULL);
		paint_page(cr, page, type);
		if (i + 1 == document->pages->len)
			cairo_tag_end(cr, "Document");
		cairo_show_page(cr);
	}
	add_outline(surface, document);

	cairo_status_t status = cairo_status(cr);
	cairo_destroy(cr);
	cairo_surface_finish(surface);
	if (status == CAIRO_STATUS_SUCCESS)
		status = cairo_surface_status(surface);
	cairo_surface_destroy(surface);
	return status;
}

GByteArray *tb_output_render_document(const tb_document *document,
	const tb_output_options *options, GError **error)
{
	tb_output_options plain = {0};
	tb_type *type = NULL;

	if (!check(document, &type, error))
		return NULL;
	g_autoptr(GByteArray) bytes = g_byte_array_new();
	cairo_status_t status =
		paint(document, type, (options != NULL ? options : &plain)->created, bytes);
	tb_type_destroy(type);
	if (!tb_output_succeeded(status, error))
		return NULL;
	tb_pdf_mend_date(bytes);
	return g_steal_pointer(&bytes);
}
