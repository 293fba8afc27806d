/*
 * What strokes.c writes and floor.c reads: a drawing flat, in this machine's own numbers. A head,
 * then tables of what the head counts, then the marks in painting order, which may be many and are
 * read as they are painted.
 */
#ifndef BENCH_STROKES_H
#define BENCH_STROKES_H

#include <stdint.h>

#define STROKES_INKS 8

typedef struct {
	double width_mm, height_mm, pen_mm;
	double inks[STROKES_INKS][3];
	uint32_t points, ops, strokes, shapes, word_bytes, words, marks;
	uint32_t stamps; /* whether the shapes are few and repeat: SVG places them, else strokes rows */
	uint32_t grey;   /* whether every ink is */
} strokes_head;

typedef struct {
	double x, y;
} strokes_point;

/* An op is 'M', 'L', 'C' or 'Z'. A stroke that is filled is no line but a solid. */
typedef struct {
	uint32_t first_op, op_count, first_point;
	uint32_t filled;
} strokes_stroke;

typedef struct {
	uint32_t first_stroke, stroke_count;
	double left, top, right, bottom;
} strokes_shape;

typedef enum {
	STROKES_SHAPE,
	STROKES_LINE,
	STROKES_ROW, /* a row begins; STROKES_END ends it */
	STROKES_END,
} strokes_kind;

typedef struct {
	uint8_t kind, ink;
	uint32_t part; /* SHAPE: its number; LINE: number of the stroke */
	uint32_t word; /* SHAPE: number of its word plus 1; 0 for none */
	double x, y;   /* SHAPE: its origin; LINE: dash and gap */
	double angle;
	double pen_mm; /* LINE; SHAPE: 0 for the drawing's pen */
} strokes_mark;

#endif
