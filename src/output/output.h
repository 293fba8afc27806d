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

/*
 * Whether DRAWING can be drawn where a millimetre is UNITS_PER_MM units of Cairo: every number
 * finite and in reach, shapes and groups as they should be. Cairo itself checks none of it.
 */
bool tb_output_validate(const tb_drawing *drawing, double units_per_mm, GError **error);

#endif
