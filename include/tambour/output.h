/*
 * Outputs: a drawing put on paper. Each makes a whole file or none.
 */
#ifndef TAMBOUR_OUTPUT_H
#define TAMBOUR_OUTPUT_H

#include <tambour/sheet.h>
#include <time.h>

TB_BEGIN_DECLS

/* The domain of the errors below, and of tb_page_html's. */
#define TB_OUTPUT_ERROR tb_output_error_quark()

/* The number behind TB_OUTPUT_ERROR. */
GQuark tb_output_error_quark(void);

/* Why an output could not be made. */
typedef enum {
	TB_OUTPUT_TOO_LARGE, /* for the format; the message says what would fit */
	TB_OUTPUT_NO_FONT,   /* there is text to write, and no font on this computer */
	TB_OUTPUT_FAILED,    /* no such format, numbers that cannot be drawn, or Cairo's own failure */
} tb_output_error;

/* How an output is made. Zeroed: 200 dots to the inch, dated 1970. */
typedef struct {
	double dpi;      /* dots to the inch of a PNG, 1 to 10,000; 0: 200 */
	time_t created;  /* the PDF's date, seconds since the beginning of 1970, UTC */
} tb_output_options;

/*
 * The type that texts are measured and drawn with, by Pango: Lato, titles in Vollkorn, or
 * what comes nearest where these are missing. Used by one thread at a time.
 */
typedef struct tb_type tb_type;

/*
 * For programs, before their first tb_type_create; a library in somebody else's program does not call
 * it. Sets Fontconfig's current configuration to the files of these and of DejaVu Sans alone, where they
 * are installed and the environment names no other fonts, which saves the time to look through all fonts;
 * these are looked through after all when a text has a letter that these lack.
 */
void tb_type_start_quickly(void);

/* Finds the type. NULL where there is no font at all. Owned; free with tb_type_destroy. */
tb_type *tb_type_create(void);

/* Frees the type. NULL is allowed. */
void tb_type_destroy(tb_type *type);

/* What tb_chart_create and its like measure texts with. TYPE is borrowed and must outlive it. */
tb_text_measure tb_type_get_measure(tb_type *type);

/* How many letters of the texts measured so far no font has: worth a warning. */
unsigned tb_type_count_unknown(const tb_type *type);

/*
 * The date for tb_output_options: that of SOURCE_DATE_EPOCH (reproducible-builds.org/specs) when
 * the environment sets it to a number; else 0, so that the same input gives the same bytes.
 */
time_t tb_output_time(void);

/*
 * Renders DRAWING into memory in the format named by EXTENSION: "svg", "pdf" or "png", in any
 * letter case. OPTIONS may be NULL: as if zeroed.
 *
 * Returns an owned array of bytes (g_byte_array_unref), or NULL with *error set, in
 * TB_OUTPUT_ERROR: a picture too large for the format (a side of a PNG ends at 32,767 pixels, of a
 * PDF page at 5080 mm, a file at 2 GiB), no font, no such format, or a failure of Cairo or libpng.
 * ERROR may be NULL.
 */
GByteArray *tb_output_render(const tb_drawing *drawing, const char *extension,
	const tb_output_options *options, GError **error);

/*
 * Renders DOCUMENT as a PDF of all its pages. Returns and fails as tb_output_render; of OPTIONS,
 * which may be NULL, only the date counts.
 */
GByteArray *tb_output_render_document(const tb_document *document,
	const tb_output_options *options, GError **error);

/* Whether tb_output_render knows EXTENSION. */
bool tb_output_is_known(const char *extension);

/*
 * Writes LENGTH bytes to PATH, or to standard output when PATH is "-". The file is whole or absent:
 * it is written beside its place, brought to the disk, then renamed; a link stays one, and what is
 * no plain file (a pipe, a device) is written straight on. False with *error set, in G_FILE_ERROR,
 * on failure; what stood at PATH is then as it was. ERROR may be NULL.
 */
bool tb_output_write(const char *path, const void *bytes, gsize length, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC(tb_type, tb_type_destroy)

TB_END_DECLS

#endif
