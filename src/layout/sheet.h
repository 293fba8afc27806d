/*
 * The pattern sheet: what its files share.
 *
 * sheet.c sets the sections in the order a maker needs them; sheet_facts.c says what is made of what
 * and how large, sheet_words.c the terms and special stitches, sheet_piece.c a piece's rows, charts
 * and counts, schematic.c its shape, sheet_key.c the key of all charts.
 */
#ifndef TB_LAYOUT_SHEET_H
#define TB_LAYOUT_SHEET_H

#include "layout/page.h"

typedef struct {
	tb_galley galley;
	const tb_worked *worked;
	const tb_pattern *pattern;
	tb_sheet_options options;
	tb_diagnostics *diagnostics;
	bool *used;    /* by stitch: worked somewhere */
	bool *charted; /* by stitch: stands on a chart, so in the key */
	char *const *rows; /* by piece: the written rows */
} tb_sheet;

static inline bool tb_sheet_has_size(const tb_sheet *sheet, unsigned size)
{
	return sheet->options.size == 0 || (unsigned)sheet->options.size - 1 == size;
}

/* Standard yarn weights and hooks (trade tables of the Craft Yarn Council). */
typedef struct {
	const char *name, *kinds;
	double least, most;           /* stitches over 4 in */
	const char *stitch;           /* of them */
	double least_hook, most_hook; /* mm */
} tb_yarn_weight;

/* The weight of a number from 0 to 7. */
const tb_yarn_weight *tb_yarn_weight_get(int number);
/* The US size of a hook, "H-8"; NULL where there is none. */
const char *tb_hook_us_size(double mm);
/* Whether a gauge lies in a weight's range, over 4 in or 10 cm, which the trade takes for one. */
bool tb_yarn_agrees(const tb_yarn_weight *weight, const tb_gauge *gauge);
/* Whether TEXT speaks of a baby or small child. */
bool tb_text_is_for_child(const char *text);

/* "20 (22, 24)": one text for each size of the sheet; one alone where all are the same. Owned. */
char *tb_sheet_bracket(const tb_sheet *sheet, const char *const *by_size);
/* Millimetres as "39.2 (42.3) cm" or, INCHES, "15½ (16¾) in". Owned. */
char *tb_sheet_lengths(const tb_sheet *sheet, const double *mm_by_size, bool inches);

void tb_sheet_add_facts(tb_sheet *sheet);
void tb_sheet_add_cautions(tb_sheet *sheet);
void tb_sheet_add_words(tb_sheet *sheet);
/* False when a chart could not be laid out, which is told. */
bool tb_sheet_add_piece(tb_sheet *sheet, unsigned piece);

/* The shape of a piece in one size, from its rows' widths and heights. */
typedef struct {
	GArray *line;         /* tb_spot, mm, its box's corner at 0,0; owned */
	double width, height; /* of the box, mm */
	double top_width;     /* of the last row, mm; 0 for a piece worked around a middle */
	unsigned tops;        /* two where shoulders stand beside each other */
	bool in_rounds;       /* around a middle */
} tb_shape_outline;

/* False where the pattern gives no gauge to tell it by, or the size has no such piece. */
bool tb_shape_outline_make(const tb_worked *worked, unsigned piece, unsigned size, bool left_handed,
	const tb_text_measure *measure, tb_shape_outline *outline);
void tb_shape_outline_finish(tb_shape_outline *outline);
/* The scale a length is drawn at where there is room for ROOM mm of it: 10 for 1:10. */
double tb_schematic_scale(double length, double room);

void tb_sheet_add_schematic(tb_sheet *sheet, unsigned piece);

#endif
