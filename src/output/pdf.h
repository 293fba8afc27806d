/* What the PDF outputs share: one drawing on one page (pdf.c), a document (pdf_document.c). */
#ifndef TB_OUTPUT_PDF_H
#define TB_OUTPUT_PDF_H

#include "output/paint.h"
#include "output/words.h"

#include <cairo-pdf.h>

#define TB_POINTS_PER_MM (TB_POINTS_PER_INCH / TB_MM_PER_INCH)

/* Whether the drawing is of a size that a PDF page may have. */
bool tb_pdf_check_page(const tb_drawing *drawing, GError **error);
/* What the file says of itself; texts may be NULL. */
void tb_pdf_describe(cairo_surface_t *surface, const char *title, const char *author,
	const char *subject, time_t created);
/* Paints all marks, tagged, with their words beneath; mm are the units. */
void tb_pdf_paint_marks(cairo_t *cr, const tb_drawing *drawing, tb_type *type, tb_words *words);
/* Puts the date of a finished file into the form of the standard. */
void tb_pdf_mend_date(GByteArray *bytes);

#endif
