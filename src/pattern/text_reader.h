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
	TB_OPEN_REMARK,
	TB_OPEN_DEFINITION,
	TB_OPEN_FAREWELL, /* words behind "Fasten off" */
} tb_open;

/* A line, and what the lines after it say about it. */
typedef struct {
	tb_line_kind kind;
	bool plain;  /* a heading only because a piece begins below */
	bool direct; /* a heading right over what begins */
	bool worked; /* rows follow before another heading */
	guint next;  /* the next line that is not blank; the number of lines when there is none */
	guint work;  /* the next that is neither blank nor prose */
} tb_look;

typedef struct {
	tb_pattern *pattern;
	tb_diagnostics *diagnostics;
	const tb_lines *lines;
	tb_look *looks;       /* one a line */
	guint count;          /* of lines */
	guint last_start;     /* the last line that starts a piece; 0 when there is none */

	tb_open open;
	bool is_from;         /* TB_OPEN_START: the piece grows from another */
	tb_gathered gathered; /* what is open */
	guint read;           /* of the row that is open */
	tb_field field;       /* TB_OPEN_FIELD */
	tb_span field_place;  /* of its name */
	unsigned fields_seen; /* a bit a field */
	bool terms_told;      /* whose terms these are, in a sentence or a heading */
	tb_span motif_gauge;  /* of a gauge that counts no stitches, and says what a motif measures */
	tb_text *fit;         /* "76 (81, 86) cm": the sizes where no list names them */

	tb_piece *piece;      /* NULL before the first */
	bool start_told;      /* that it does not say how it starts, or says it badly */
	bool is_finished;     /* the piece was fastened off */
	bool is_full;         /* as many pieces as a pattern may have, and one more */
	bool has_heading;     /* the heading of a piece that has not begun */
	char *heading;        /* as it is written */
	char *above;          /* a heading over that one, or NULL */
	tb_span heading_place;
	unsigned make;        /* "Make 2." below it; 0 where nothing is said */
	tb_gathered only;     /* "Sizes M (L) only:" that is put before each row */
	bool only_once; /* … and is said of the next row alone */
	bool only_used;

	tb_section section;
	bool section_ends;    /* at the next blank line: something stood behind its name */
	bool first_blank;     /* nothing but blank lines so far */
	GString *prose;       /* before the first piece */
	GString *notes;
	GPtrArray *charts;    /* tb_text: "Back, rows 3-6" */
	GHashTable *used;     /* the words of the rows, small, and how often; NULL before they are asked for */
} tb_text_reader;

/* A fault at a place of the source. HINT may be NULL. */
void tb_text_fault_at(const tb_text_reader *reader, tb_severity severity, const char *code,
	tb_span place, const char *hint, const char *format, ...) G_GNUC_PRINTF(6, 7);

/* From byte FROM of line I on, the source is read AS. Returns the number of the read. */
guint tb_text_mark(tb_text_reader *reader, guint i, size_t from, tb_read_as as);

static inline const char *tb_text_line(const tb_text_reader *reader, guint i)
{
	return tb_lines_text(reader->lines, i);
}

static inline tb_span tb_text_part(const tb_text_reader *reader, guint i, size_t start, size_t end)
{
	const guint32 *offsets = reader->lines->offsets + tb_lines_get(reader->lines, i)->start;
	return (tb_span){offsets[start], offsets[end]};
}

/* text_sections.c */
/* "Guage: …" is likely a field that is misspelt; told, and true. */
bool tb_text_warn_near_field(tb_text_reader *reader, guint i);
/* Line I is a fact that is kept as it stands, or about finishing. */
void tb_text_take_fact(tb_text_reader *reader, guint i);
void tb_text_take_finishing(tb_text_reader *reader, guint i);
/* Line I stands in the section that is open. */
void tb_text_take_listed(tb_text_reader *reader, guint i);
/* Whether heading I is an entry of a list of stitches. */
bool tb_text_is_listed(tb_text_reader *reader, guint i);
void tb_text_begin_section(tb_text_reader *reader, guint i);

/* text_gauge.c. False when TEXT does not say stitches and a length; *IMPOSSIBLE: such as no fabric has. */
bool tb_text_read_gauge(
	const tb_library *library, const char *text, tb_gauge *gauge, bool *impossible);
/*
 * TEXT, one gauge or several, goes to the pattern. False when it does not say stitches and a length,
 * and *GAUGE is what it says; *IMPOSSIBLE: such as no fabric has.
 */
bool tb_text_read_gauges(tb_pattern *pattern, const char *text, tb_gauge *gauge, bool *impossible);

/* text_finished.c: what TEXT says that the garment, or the piece at hand, measures when it is done. */
void tb_text_find_finished(tb_text_reader *reader, const tb_text *text);
/* ... behind "One size:": "17" wide, 70" long". */
void tb_text_find_whole(tb_text_reader *reader, const tb_text *text);

/* text_laid.c: how often motifs are made and how they lie, from all that was read as no row, once pieces and sizes are known. */
void tb_text_find_laid(tb_text_reader *reader);
/* text_seams.c: what is said of seams, from all that was read as no row. */
void tb_text_find_seams(tb_text_reader *reader);
/* Whether LINE sews pieces that are there, and works no stitch; FINISHED: the last was fastened off. */
bool tb_text_tells_seam(const char *line, bool finished);
/* Whether every sentence of LINE tells of that, and works no stitch. */
bool tb_text_tells_laid(const tb_text_reader *reader, const char *line);
/* Whether LINE works no stitch, and is about squares in tiers. */
bool tb_text_speaks_of_tiers(const char *line);
/* Whether TEXT tells what a motif, or some rounds of it, measure. */
bool tb_text_measures_motif(const char *text);

/* text_fields.c: the field that was gathered goes to the pattern. */
void tb_text_close_field(tb_text_reader *reader);
/* The first value is kept; of yarn and the like all are. */
void tb_text_keep_value(tb_text_reader *reader, char **slot, size_t most);
/* text_terms.c: "Written in UK terms", "A British pattern" in a sentence of the pattern's head. */
void tb_text_find_terms(tb_text_reader *reader, const char *text);
/* The same in a HEAD over stitches, "Abbreviations (British)"; whether nothing but terms is said from FROM on. */
bool tb_text_find_head_terms(tb_text_reader *reader, const char *head, size_t from);
/* Takes line I where it would head a piece, and only tells the terms: "UK terms". Others than before are a fault. */
bool tb_text_take_terms(tb_text_reader *reader, guint i);
/*
 * Before all is read: words of one country alone, "htr", and none of the other, say whose terms these are, unless the
 * pattern does. Afterwards: where it did not, that is told.
 */
void tb_text_take_terms_of_words(tb_text_reader *reader);
void tb_text_tell_terms_of_words(const tb_text_reader *reader);
/* Hook and yarn in a line of the materials, when no field says them. */
void tb_text_find_materials(tb_text_reader *reader, const char *text);
/* The charts asked for, once all pieces are known. */
void tb_text_read_charts(tb_text_reader *reader);

/* text_sizes.c: the list of sizes in a field's VALUE. */
void tb_text_read_sizes(tb_text_reader *reader, const tb_text *value);
/* Bytes of a unit of length at TEXT, or 0. */
size_t tb_size_unit(const char *text);
/* "newborn (sole 3.5 in)": one size, and behind it nothing but what it measures. */
bool tb_size_is_one_measured(const char *text);
/* "20 - 22 - 24 cm", "16 in (18 in, 20 in)": lengths for several sizes. */
bool tb_size_lists_lengths(const char *text);
/* Whether LENGTH bytes are words that names of sizes are made of, "Women's small", "6-9 months". */
bool tb_size_is_named(const char *text, size_t length);
/* The bytes of "Small (16 in)", "Medium: 18 in" at TEXT, and of the *NAME in it; 0 for anything else. */
size_t tb_size_measured(const char *text, size_t end, size_t *name);
/* Whether a line names one size and what it measures, "Small - 18 in". */
bool tb_text_tells_size(const char *line);
/* "Directions are for size S; changes for M and L are in brackets." */
void tb_text_find_sizes(tb_text_reader *reader, const tb_text *sentence);
/* "To fit bust: 76 (81, 86) cm" names the sizes where no list does. */
void tb_text_find_fit(tb_text_reader *reader, guint i);
void tb_text_take_fit(tb_text_reader *reader);

/*
 * text_who.c: whether line I says by the sizes' names who works the rows below it, and no row is begun anew
 * there; and "Sizes M (L) only:" on a line of its own, which is about the rows below it, up to a blank line.
 */
bool tb_text_is_own_sizes(const tb_text_reader *reader, guint i);
bool tb_text_take_only(tb_text_reader *reader, guint i);
/* "All sizes" on line I, where "S: go to All sizes" stands above it: said of the next row, that those come back. */
bool tb_text_take_all(tb_text_reader *reader, guint i);
/* text_sizes_head.c: the sizes where no field names them, "child (teen, adult)" in the head. */
void tb_text_find_head_sizes(tb_text_reader *reader);

/* text_rows.c: where the next row on the same line begins behind FROM, or the text's end. */
size_t tb_text_find_next_row(const tb_text *text, size_t from);

/* text_look.c */
/* "Body" right over "Work even until …": a part of what is made, and how rows go on in it. */
bool tb_text_is_over_rows_again(const tb_text_reader *reader, guint i);

/* text_parts.c */
/* Whether the heading on line I, "Shape armholes", stands over rows of the piece before it. */
bool tb_text_is_subheading(const tb_text_reader *reader, guint i);
/* "2 sc in the end of each row": whether LINE works along the ends of rows that are there. */
bool tb_text_works_along_row_ends(const char *line);
/* "Join yarn in first skipped st": text_parts.c. */
bool tb_text_joins_in_skipped(const char *line);
/* Whether a part that goes on behind PIECE goes on with it: several of it are made first, unless it has parts itself. */
bool tb_text_is_made_once(const tb_piece *piece);

/* text_look.c: what each line is among the others. */
void tb_text_look(tb_text_reader *reader);
/* Whether "ch 3" on line I starts a piece, and is not said about rows. */
bool tb_text_is_start(const tb_text_reader *reader, guint i);
/* Whether LINE says what a chain counts as, and is no start. */
bool tb_text_counts(const char *line);

/* text_context.c: whether line I goes on with what is open. */
/* Whether TEXT ends in its count, without a full stop behind it: "… around. 18". */
bool tb_text_ends_in_figure(const GString *text);
bool tb_text_continues_row(const tb_text_reader *reader, guint i);
bool tb_text_continues_field(const tb_text_reader *reader, guint i);
bool tb_text_continues_remark(const tb_text_reader *reader, guint i);
bool tb_text_continues_definition(tb_text_reader *reader, guint i);

/* text_used.c: how often WORD stands in the rows. */
unsigned tb_text_count_used(tb_text_reader *reader, const char *word);
/* A stitch by its name, or by that the rows use it. */
bool tb_text_names_stitch(tb_text_reader *reader, const char *line, size_t length);
bool tb_text_names_told(tb_text_reader *reader, const char *line, const tb_told *told);
/* Whether LINE tells of such a stitch. */
bool tb_text_tells_stitch(tb_text_reader *reader, const char *line);

/* text_from.c: which stitches of which piece the piece now read takes. False with a fault told. */
bool tb_text_read_from(tb_text_reader *reader, const tb_text *text);

/* text_remarks.c: sentences and definitions. */
/* Keeps line I, from byte FROM on, as the designer typed it. */
void tb_text_keep_line(tb_text_reader *reader, GString *to, guint i, size_t from);
/* A sentence around the rows begins on line I; it is kept in TO as well. */
void tb_text_begin_remark(tb_text_reader *reader, guint i, GString *to);
void tb_text_begin_definition(tb_text_reader *reader, guint i, size_t from);
/* Before another line is added: a colon behind a name that stands on a line of its own. */
void tb_text_part_definition(tb_text_reader *reader);
/* Closes what was gathered of them. */
/* What TEXT, a fact of the head, says beside that: whose terms the pattern is in, and what chains count as. */
void tb_text_hear(tb_text_reader *reader, const tb_text *text);
void tb_text_close_remark(tb_text_reader *reader);
void tb_text_close_definition(tb_text_reader *reader);
/* Whether no more are taken; then TEXT is told to be one too many. */
bool tb_text_is_full_of_definitions(tb_text_reader *reader, const tb_text *text);
/* TEXT goes to the definitions TO, or is one too many, which is told; takes TEXT. */
void tb_text_add_definition(tb_text_reader *reader, GPtrArray *to, tb_text *text);

/* text_inline.c: takes what ROW tells of a stitch's making out of it, and keeps it for the pattern. */
void tb_text_lift_definitions(tb_text_reader *reader, tb_text *row);

/* text_leading.c: a count between ROW's number and its work goes to its end. */
void tb_text_move_count(tb_text *row);
/*
 * "row 2 ch 1 turn sc in ea sc 24 sc": who writes no signs writes none before the count of a row either; it is
 * parted from what is worked. So is "… in each sc across 24 sc".
 */
void tb_text_part_count(tb_text *row);

/* text_pieces.c */
/* Closes the row or start that was gathered. */
void tb_text_close_row(tb_text_reader *reader);
/* Row, repeat or finish beginning at byte FROM of line I. */
void tb_text_begin_row(tb_text_reader *reader, guint i, size_t from);
/* Line I begins something that is neither a row nor a heading. */
void tb_text_begin_line(tb_text_reader *reader, guint i);
/* The first LENGTH bytes of line I head the piece that comes. */
void tb_text_set_heading(tb_text_reader *reader, guint i, size_t length);
/* Whether a row on LINE is worked on what the rows before left. */
bool tb_text_works_on_rest(const char *line);
/* Line I has a heading, and what that stands over: text_labelled.c. */
void tb_text_begin_labelled(tb_text_reader *reader, guint i);
void tb_text_begin_start(tb_text_reader *reader, guint i, size_t from);
void tb_text_begin_from(tb_text_reader *reader, guint i);
/* The rows below HEADING go on with the piece. */
void tb_text_begin_part(tb_text_reader *reader, const char *heading);
/* Tells where PIECE has no start. */
void tb_text_tell_no_start(tb_text_reader *reader, const tb_piece *piece);
/* What is left to say about the last piece when another begins, or the text ends. */
void tb_text_end_piece(tb_text_reader *reader);

/* text_patterns.c */
/* Whether PIECE has no start, and is called a stitch or a pattern. */
bool tb_text_tells_pattern(const tb_piece *piece);
/* Writes out the rows that are worked in stitch patterns by their names, and takes those patterns from the pieces. */
void tb_text_use_patterns(tb_text_reader *reader);

#endif
