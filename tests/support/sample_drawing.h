/* A small drawing made by hand, for the tests of outputs. */
#ifndef TB_TESTS_SAMPLE_DRAWING_H
#define TB_TESTS_SAMPLE_DRAWING_H

#include "drawing/drawing.h"

/* A stem with a bow and a bar, and a solid almond: two shapes, as their numbers. */
enum {
	TB_SAMPLE_STEM,
	TB_SAMPLE_ALMOND,
};

/*
 * ROWS rows of STITCHES, row 1 lowest and worked right to left, the others by turns; a repeat box
 * in dashes, and TITLE above. Each row is a group; every fifth stitch is an almond, "sl st", the
 * rest are "dc". Owned: tb_drawing_destroy.
 */
tb_drawing *tb_sample_drawing(const char *title, unsigned rows, unsigned stitches);

#endif
