/*
 * The outputs, one constant each; the list in output.c is all that the program knows of them.
 */
#ifndef TB_OUTPUT_OUTPUT_H
#define TB_OUTPUT_OUTPUT_H

#include "drawing/drawing.h"

#include <tambour/output.h>

typedef struct {
	const char *extension;
	GByteArray *(*render)(const tb_drawing *drawing, const tb_output_options *options,
		GError **error);
} tb_output;

extern const tb_output tb_output_svg;
extern const tb_output tb_output_pdf;
extern const tb_output tb_output_png;

#define TB_OUTPUT_ERROR tb_output_error_quark()
GQuark tb_output_error_quark(void);
typedef enum {
	TB_OUTPUT_TOO_LARGE,
	TB_OUTPUT_NO_FONT,
	TB_OUTPUT_FAILED,
} tb_output_error;

/*
 * Whether DRAWING can be drawn where a millimetre is UNITS_PER_MM units of Cairo: every number
 * finite and in reach, shapes and groups as they should be. Cairo itself checks none of it.
 */
bool tb_output_validate(const tb_drawing *drawing, double units_per_mm, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC(tb_type, tb_type_destroy)

#endif
