/* What the readers of the two spellings share. */
#ifndef TB_PATTERN_READ_H
#define TB_PATTERN_READ_H

#include "pattern/pattern.h"
#include "support/diagnose.h"

/* An empty pattern, without a size. Owned. */
tb_pattern *tb_pattern_create(const tb_source *source, tb_library *library);

/* Fills PATTERN from its source, a JSON text. False when nothing could be read. */
bool tb_pattern_read_json(tb_pattern *pattern, tb_diagnostics *diagnostics);

/* The same from a plain text, as a blog post has it. */
bool tb_pattern_read_text(tb_pattern *pattern, tb_diagnostics *diagnostics);

/* "Did you mean “Back”?", when a piece of the pattern has a name near NAME; NULL else. Owned. */
char *tb_hint_piece(const tb_pattern *pattern, const char *name);

/*
 * "10 cm", "4 in", "4\"", "100 mm": the length in mm, and whether it was said in inches. False when
 * it is no length above 0.
 */
bool tb_read_length(const char *text, double *mm, bool *inches);

/* "5.5 mm", "H-8 (5 mm)": the hook in mm; 0 when the text does not say. */
double tb_read_hook(const char *text);

/* "3-6" or "3": first and last row. False when it is neither. */
bool tb_read_row_range(const char *text, unsigned *first, unsigned *last);

/*
 * What must hold for any pattern, however it is spelt, is checked here: names of sizes and pieces
 * not empty and not twice. The check returns NULL, or what is wrong with NAME.
 */
const char *tb_check_name(const char *name);

/* "first", "one" to "twenty" at TEXT: its bytes, and the number as *VALUE; 0 where none stands there. text_heads.c */
size_t tb_at_number_word(const char *text, unsigned *value);

/* Whether the first row has a start of its own: a magic ring, a foundation stitch, a chain. */
bool tb_piece_brings_start(const tb_piece *piece);
bool tb_row_brings_start(const char *row);
/* "SLEEVES", "Rnd 1: Ch 1, hdc in each underarm ch, …": whether ROW under HEADING is worked around what a body left for it. */
bool tb_picks_up_sleeve(const char *heading, const char *row);

/*
 * reads.c: from byte AT on, the source is read AS, until the next place that is told. Places are
 * told in order. Returns the number of the read.
 */
guint tb_reads_begin(tb_pattern *pattern, size_t at, tb_read_as as);
/* The source ends. */
void tb_reads_finish(tb_pattern *pattern, size_t length);

/* One gauge more; the first is the pattern's. GAUGE is copied. */
void tb_pattern_add_gauge(tb_pattern *pattern, const tb_kind_gauge *gauge);

/* PIECE, which has its name, is the pattern's from now on. */
void tb_pattern_add_piece(tb_pattern *pattern, tb_piece *piece);

/* A piece without name and rows. Owned. */
tb_piece *tb_piece_create(void);
/* ROW, one of the reads of the pattern, is the piece's from now on. */
void tb_piece_add_row(tb_piece *piece, tb_text *row, guint read);
/* The rows from here on stand under a heading of their own. Takes NAME. */
void tb_piece_add_part(tb_piece *piece, char *name);
void tb_piece_destroy(tb_piece *piece);
void tb_chart_request_destroy(tb_chart_request *request);

#endif
