/* Surface slip stitches in words, as the row language reads them. */
#ifndef TB_WORDS_WRITE_SURFACE_H
#define TB_WORDS_WRITE_SURFACE_H

#include "fabric/fabric.h"
#include "words/write.h"

/* Adds a line for each sentence of PIECE that works some, with how many they are. */
void tb_surface_write_all(GString *out, const tb_worked *worked, unsigned piece, const tb_write_options *options);

#endif
