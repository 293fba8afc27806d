/* Words on a chart: what is written, where, how large, and what the words are for. */
#ifndef TB_LAYOUT_LABEL_H
#define TB_LAYOUT_LABEL_H

#include <tambour/chart.h>

/* Inks by what they are for; the palette says what colour that is. */
typedef enum {
	TB_INK_ROW_A,     /* odd rows */
	TB_INK_ROW_B,     /* even rows */
	TB_INK_BELOW,     /* rows below the ones charted, shown because they are worked into */
	TB_INK_FURNITURE, /* repeat box, brackets */
	TB_INK_TEXT,
	TB_INK_QUIET, /* words that stand back: the other terms, gauge, how to read */
	TB_INK_TINT, /* of an area, behind everything */
	TB_INK_SHADE, TB_INK_HATCH, /* of cells worked in another colour than the main one: a tone, lines */
	TB_INK_COUNT,
} tb_ink;

typedef enum {
	TB_ALIGN_LEFT,
	TB_ALIGN_CENTRE,
	TB_ALIGN_RIGHT,
} tb_align;

typedef struct {
	char *text; /* owned */
	double x, y; /* the baseline, at the aligned end; mm */
	double size_mm; /* the type's size */
	tb_face face;
	tb_align align;
	tb_ink ink;
	unsigned row;  /* of a chart: it is this row's number, counted from 1 upward as they lie; 0: of none */
	bool is_times; /* … how often sizes work the box */
} tb_label;

#endif
