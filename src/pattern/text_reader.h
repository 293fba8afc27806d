/* What the parts of the plain-text reader share. */
#ifndef TB_PATTERN_TEXT_READER_H
#define TB_PATTERN_TEXT_READER_H

#include "pattern/read.h"
#include "pattern/text_kinds.h"
#include "pattern/text_lines.h"

/* What the lines that come next go on with, until a blank line or another beginning. */
typedef enum {
	TB_OPEN_NONE,
	TB_OPEN_ROW,
	TB_OPEN_START,
	TB_OPEN_FIELD,
	TB_OPEN_PROSE,
	TB_OPEN_NOTE,
	TB_OPEN_UNREAD, /* told already that it was not worked */
} tb_open;

typedef struct {
	tb_pattern *pattern;
	tb_diagnostics *diagnostics;
	const tb_lines *lines;

	tb_open open;
	bool is_from;         /* TB_OPEN_START: the piece grows from another */
	tb_gathered gathered; /* row, start or field being read */
	tb_field field;       /* TB_OPEN_FIELD */
	tb_span field_place;  /* of its name */
	unsigned fields_seen; /* a bit a field */

	tb_piece *piece;      /* NULL before the first */
	bool start_told;      /* that it does not say how it starts, or says it badly */
	bool is_finished;     /* the piece was fastened off */
	bool is_full;         /* as many pieces as a pattern may have, and one more */
	bool has_heading;     /* the heading of a piece that has not begun */
	guint heading;        /* its line */
	tb_gathered only;     /* "Sizes M (L) only:" that is put before each row */
	bool only_used;

	bool in_section;      /* under "Notes", "Materials": kept and not worked */
	bool first_blank;     /* nothing but blank lines so far */
	GString *prose;       /* before the first piece */
	GString *notes;
	GPtrArray *charts;    /* tb_text: "Back, rows 3-6" */
} tb_text_reader;

/* A fault at a place of the source. HINT may be NULL. */
void tb_text_fault_at(const tb_text_reader *reader, tb_severity severity, const char *code,
	tb_span place, const char *hint, const char *format, ...) G_GNUC_PRINTF(6, 7);

/* text_gauge.c. False when TEXT does not say stitches and a length. */
bool tb_text_read_gauge(const tb_library *library, const char *text, tb_gauge *gauge);

/* text_fields.c: the field that was gathered goes to the pattern. */
void tb_text_close_field(tb_text_reader *reader);
/* "Written in UK terms" in a sentence of the pattern's head. */
void tb_text_find_terms(tb_text_reader *reader, const char *text);
/* Hook and yarn in a line of the materials, when no field says them. */
void tb_text_find_materials(tb_text_reader *reader, const char *text);
/* The charts asked for, once all pieces are known. */
void tb_text_read_charts(tb_text_reader *reader);

/* text_context.c. KINDS are those of all COUNT lines by themselves. */
/* Whether rows follow each line before another heading. */
void tb_text_find_worked(const tb_line_kind *kinds, guint count, bool *worked);
/* Whether "ch 3" on line I starts a piece, and is not said about rows. */
bool tb_text_is_start(const tb_text_reader *reader, const tb_line_kind *kinds, guint count,
	guint i);
/* Whether line I, with nothing to show it, heads what begins right below. */
bool tb_text_is_heading(const tb_text_reader *reader, const tb_line_kind *kinds, guint count,
	guint i);
/* Whether the heading on line I, "Shape armholes", stands over rows of the piece before it. */
bool tb_text_is_subheading(const tb_text_reader *reader, const tb_line_kind *kinds, guint count,
	guint i);
/* Whether line I goes on with the row, or the field, that is open. */
bool tb_text_continues_row(const tb_text_reader *reader, guint i, tb_line_kind kind);
bool tb_text_continues_field(const tb_text_reader *reader, guint i, tb_line_kind kind);

/* text_from.c: which stitches of which piece the piece now read takes. False with a fault told. */
bool tb_text_read_from(tb_text_reader *reader, const tb_text *text);

/* text_pieces.c */
/* Closes the row or start that was gathered. */
void tb_text_close_row(tb_text_reader *reader);
/* Row, repeat or finish beginning at byte FROM of line I. */
void tb_text_begin_row(tb_text_reader *reader, guint i, size_t from, tb_line_kind kind);
void tb_text_begin_start(tb_text_reader *reader, guint i);
void tb_text_begin_from(tb_text_reader *reader, guint i);
/* What is left to say about the last piece when another begins, or the text ends. */
void tb_text_end_piece(tb_text_reader *reader);

#endif
