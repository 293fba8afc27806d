/* text_figures.c: figures in plain text, one by one and one for each size. Letters are small where words count. */
#ifndef TB_PATTERN_TEXT_FIGURES_H
#define TB_PATTERN_TEXT_FIGURES_H

#include "pattern/pattern.h"

#include <glib.h>
#include <stdbool.h>
#include <stddef.h>

/* "13", "13.5", "3½", "3 1/2", "1/2" at TEXT: its bytes, or 0. */
size_t tb_figure_read(const char *text, double *value);
/* "½", "1/2" at TEXT, a part of a whole: its bytes, or 0. */
size_t tb_figure_read_part(const char *text, double *value);
/* "24", "twenty-four" at TEXT, and no part of a whole: its bytes, or 0. */
size_t tb_figure_read_whole(const char *text, guint32 *value);
/* A unit of length at TEXT, and how many millimetres it is: its bytes, or 0. */
size_t tb_figure_unit(const char *text, double *mm);

/*
 * A list of figures, one for each size, is one in all forms that people write:
 *
 *     24 (28, 32)        24 (28; 32)       24 (28: 32)     24 (28-32)      24 (28 32)
 *     24 (28) 32 (36)    24 (28, 32) [36, 40]              24 (28, 32 [36, 40])
 *     24/28/32           24, 28, 32        24; 28; 32      24-28-32        24:28:32
 *
 * A dash where a figure is due stands for a size that has none, and is 0 here. Without brackets the signs may
 * part other things too: of whole numbers such a list is one only where it has a figure for each of SIZES, by
 * dashes from three sizes on ("24-28" is a range); slashes part nothing else.
 */

/* Whole numbers for SIZES sizes at TEXT, or one for all: as *COUNT; the bytes of it, or 0. */
size_t tb_figures_read(const char *text, unsigned sizes, guint32 numbers[static TB_MAX_SIZES], unsigned *count);
/* "42 (46, 50) cm", "16 in (18 in, 20 in)" at TEXT; *END is behind them. False for anything else, and for a range, "5-10 cm". */
bool tb_figures_read_lengths(const char *text, tb_finished *finished, size_t *end);

#endif
