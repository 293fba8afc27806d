/*
 * Outputs: a drawing put on paper. Each writes a whole file or none.
 */
#ifndef TAMBOUR_OUTPUT_H
#define TAMBOUR_OUTPUT_H

#include <tambour/sheet.h>
#include <time.h>

G_BEGIN_DECLS

typedef struct tb_drawing tb_drawing;

typedef struct {
	double dpi;      /* for PNG; 200 when 0 */
	time_t created;  /* the PDF's date; from SOURCE_DATE_EPOCH by tb_output_time */
} tb_output_options;

/*
 * The type that text is measured and drawn with, by Pango. NULL where there is no font at all, which
 * rendering a drawing with text then says.
 */
typedef struct tb_type tb_type;
tb_type *tb_type_create(void);
void tb_type_destroy(tb_type *type);
/* What tb_chart_create measures text with; valid as long as TYPE. */
tb_text_measure tb_type_get_measure(tb_type *type);
/* How many letters of the texts measured so far no font has: worth a warning. */
unsigned tb_type_count_unknown(const tb_type *type);

/* SOURCE_DATE_EPOCH when it is set to a number; else 0, so that bytes repeat. */
time_t tb_output_time(void);

/*
 * Renders DRAWING in the format named by EXTENSION ("svg", "pdf", "png") into memory. Returns an
 * owned array of bytes (g_byte_array_unref), or NULL with *error set: a picture too large for the
 * format (PNG images end at 32,767 pixels), no font found, or a failure of the library.
 */
GByteArray *tb_output_render(const tb_drawing *drawing, const char *extension,
	const tb_output_options *options, GError **error);

/*
 * Renders DOCUMENT as a PDF of all its pages. As tb_output_render; only the options' date counts.
 */
GByteArray *tb_output_render_document(const tb_document *document,
	const tb_output_options *options, GError **error);

/* Whether there is an output for EXTENSION. */
bool tb_output_is_known(const char *extension);

/*
 * Writes LENGTH bytes to PATH, or to standard output when PATH is "-". The file is whole or absent:
 * it is written beside its place, then renamed. False with *error set on failure.
 */
bool tb_output_write(const char *path, const void *bytes, gsize length, GError **error);

G_END_DECLS

#endif
