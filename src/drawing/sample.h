/* A stitch by itself, as a key or a specimen shows it, with the piece of fabric it needs below. */
#ifndef TB_DRAWING_SAMPLE_H
#define TB_DRAWING_SAMPLE_H

#include "drawing/glyph.h"

typedef struct {
	GArray *parts; /* tb_part: the stitch, its top at 0,0 */
	GArray *under; /* what it is worked around or over, to be pale; NULL for nothing */
	double height; /* mm: down to where it stands */
	double below; /* mm: and from there to the end of what it reaches into */
} tb_sample;

void tb_sample_init(
	tb_sample *sample, const tb_stitch *stitch, double column, double chain, double pen);
void tb_sample_finish(tb_sample *sample);

#endif
