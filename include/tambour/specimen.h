/*
 * The specimen: every symbol of a library on one sheet, large and at chart size, with its terms.
 */
#ifndef TAMBOUR_SPECIMEN_H
#define TAMBOUR_SPECIMEN_H

#include <tambour/chart.h>
#include <tambour/stitches.h>

TB_BEGIN_DECLS

/* How the specimen is drawn. Zeroed, it means: US terms first, in colour. */
typedef struct {
	bool uk_terms; /* UK terms first */
	bool grey;     /* no colours */
} tb_specimen_options;

/*
 * Draws the specimen; the sheet is 534 mm wide and as tall as it needs to be. LIBRARY is borrowed
 * and must outlive the drawing; MEASURE is only asked meanwhile. Never NULL. Owned; free with
 * tb_drawing_destroy.
 */
tb_drawing *tb_specimen_draw(const tb_library *library, const tb_specimen_options *options,
	const tb_text_measure *measure);

TB_END_DECLS

#endif
