/* What a line of a plain-text pattern is, as far as the line alone tells. */
#ifndef TB_PATTERN_TEXT_KINDS_H
#define TB_PATTERN_TEXT_KINDS_H

#include "support/text.h"

#include <glib.h>
#include <stdbool.h>
#include <stddef.h>

/* Letters before a row's number that stand for the word row, "N1", "bk12", are no more. */
#define TB_LONGEST_CODE 3u

typedef enum {
	TB_LINE_BLANK,
	TB_LINE_PROSE,
	TB_LINE_ROW,        /* "Row 1 (RS): …", "2nd round. …", "Next row: …", "46, 47. …" */
	TB_LINE_AGAIN,      /* "Rep Rows 3-6 …" */
	TB_LINE_LIKE,       /* "Work same as Left front, reversing shaping." */
	TB_LINE_FINISH,     /* "Fasten off …" */
	TB_LINE_ONLY,       /* "Sizes M (L) only: …" */
	TB_LINE_ALL_SIZES,  /* "All sizes: …" */
	TB_LINE_START,      /* "Ch 85 (93, 101). …" */
	TB_LINE_FROM,       /* "From Back: sts 1-37", "Join yarn in st 47 of Back" */
	TB_LINE_FIELD,      /* "Gauge: …" */
	TB_LINE_FACT,       /* "Finished width: 42 cm": a figure and its unit under a name */
	TB_LINE_SECTION,    /* "Notes", "Materials: …" */
	TB_LINE_DEFINITION, /* "Shell: 5 dc in same st.", or a label before acts */
	TB_LINE_LABELLED,   /* "MOTIF: Ch 8, join.": a heading, and a start or a row behind it */
	TB_LINE_NEUTRAL,    /* "Instructions": says nothing */
	TB_LINE_HEADING,    /* "BACK", "## Back", "Back:", "— Back —", "Back (make 2)" */
} tb_line_kind;

typedef enum {
	TB_FIELD_NONE,
	TB_FIELD_TITLE,
	TB_FIELD_DESIGNER,
	TB_FIELD_ABOUT,
	TB_FIELD_LICENCE,
	TB_FIELD_TERMS,
	TB_FIELD_SIZES,
	TB_FIELD_HOOK,
	TB_FIELD_YARN,
	TB_FIELD_YARN_WEIGHT,
	TB_FIELD_GAUGE,
	TB_FIELD_CHART,
} tb_field;

typedef enum {
	TB_SECTION_NONE,
	TB_SECTION_NOTES,
	TB_SECTION_MATERIALS,
	TB_SECTION_DEFINITIONS,
	TB_SECTION_FINISHING,
} tb_section;

typedef struct {
	size_t length;  /* of the head, its mark included */
	unsigned first; /* the number it begins with, or 0 */
	unsigned last;  /* the number it ends with, "Rows 3-8": 8 */
	char mark;      /* ':', '.', ')', '-' (any dash), or 0 when none follows */
	bool is_named;  /* "Next row", "Dec row" */
	bool is_bare;   /* "46, 47.", a number without a word */
} tb_row_head;

tb_line_kind tb_line_find_kind(const char *line);
/* Whether that is TB_LINE_FINISH, which most lines need not be looked through for. */
bool tb_line_is_finish(const char *line);
/* Whether a heading of this NAME says nothing: "Instructions", "Pattern". */
bool tb_is_neutral(const char *name);

/* "(Remember to breathe.)", up to the end of the line, or what chains count as in all rows. */
bool tb_is_aside(const char *line);

/* Whether a sentence of TEXT is nothing but a count, "(13 sts)", or says of how many stitches something is done, "through the 6 sts". */
bool tb_states_count(const char *text);

/* text_counting.c: "Turning chains do not count as stitches.", of all rows. */
bool tb_tells_counting(const char *line);
/* Whether LINE works nothing and says that, or how all rounds begin and end that do not say so themselves. */
bool tb_tells_all_rows(const char *line);

/* text_heads.c: whether LINE begins as a row does. */
bool tb_is_row_head(const char *line, tb_row_head *head);
/* "Rnd 4: sc around", ROW, above "Rnd 5: …": whether NEXT is the row whose turn it is, whatever the row above ends with. */
bool tb_row_comes_next(const char *row, const tb_row_head *next);

/* text_hooks.c: "Small hook", "4.0 hk", "Change to the 5 mm hook" at TEXT: its bytes; 0 where no hook is named. */
size_t tb_skip_hook(const char *text);

/* text_starts.c: where in LINE what starts a piece begins: at its "ch" or its "magic ring"; -1 for no
 * start. */
int tb_find_start(const char *line);
/* Where the chain stands that "Row 0: ch 17" begins with, or 0. */
size_t tb_find_zero_row(const char *line);
/* "Ch 20, sc in 2nd ch from hook and in each ch across": a start, and the piece's only row. */
bool tb_start_works_row(const char *start);
/* Whether row 1 stands behind the start in the same line: "Ch 10. Row 1: sc in 2nd ch …". */
bool tb_start_has_row(const char *line);
/* "On 62 chain work" before "the 1st row:": whether what stands from LINE to END leads to row 1. */
bool tb_leads_to_first_row(const char *line, const char *end);

/* text_sizes_only.c: the bytes of "Sizes M (L) only:" at the beginning of LINE, or 0. */
size_t tb_find_only(const char *line);
/* The same of a whole line that says no more than who works, "For the Adult size", by the names in SIZES. */
size_t tb_find_own_sizes(const char *line, const GPtrArray *sizes);
/* The bytes of what may be the names of sizes, "M and L:", "2-4 (6) yrs:", at the beginning of LINE, or 0. */
size_t tb_find_size_head(const char *line);
/* The bytes of "All sizes:" at the beginning of LINE, or 0. */
size_t tb_find_all_sizes(const char *line);
/* "All sizes, next rnd: …": where the row begins, or 0. */
size_t tb_find_all_row(const char *line);

/* text_acts.c: whether TEXT names a stitch; begins with something that is worked; or with what is
 * done to a finished piece. */
bool tb_has_stitch(const char *text);
bool tb_begins_act(const char *text);
bool tb_begins_border(const char *text);
bool tb_begins_finishing(const char *text);
/* "… and pick up on the other side", "Crochet along the neck": what stands behind "Fasten off" and is work. */
bool tb_goes_on_working(const char *text);
/* "Surface sl st along Row 8": worked upon rows, in finishing too. */
bool tb_tells_surface(const char *text);
/* The bytes of "Surface slip stitches: " before such a sentence. */
size_t tb_skip_surface_label(const char *text);
/* "With RS facing, join yarn in …": work goes on, though nothing is made yet. */
bool tb_joins_yarn(const char *text);
/* "© …", a page of the web. */
bool tb_is_footer(const char *text);

/* text_named.c */
/* The name of a row at AT of TEXT, in small letters, "dec rnd": which of all such, from 1; 0 for none. *END is behind it. */
unsigned tb_named_row_at(const char *text, size_t at, size_t *end);
/* The name that the row of TEXT has alone, without a number, and counts nothing at its end; or 0. */
unsigned tb_named_row(const char *text);

/* text_names.c */
/* The field that LINE begins with; *VALUE is where its value begins. */
tb_field tb_find_field(const char *line, size_t *value);
/* The known field's name nearest to what stands before the colon of LINE, or NULL. */
const char *tb_nearest_field(const char *line, size_t *length);
/* The bytes of "Notes" or "Notes:" and the like at the beginning of LINE; 0 when there is none. */
size_t tb_find_section(const char *line, tb_section *section);

/* "Finished width: 42 (46, 50) cm": a name, and a figure with its unit; where the value begins, or 0. */
size_t tb_find_fact(const char *line);

/* text_headings.c */
/* The name a heading gives: "— BACK (make 2) —" is "Back", and *MAKE 2. Owned: g_free. */
char *tb_heading_name(const char *line, unsigned *make);
/* The name of a heading that is one only by where it stands, "Ears (two)". Owned: g_free. */
char *tb_plain_heading_name(const char *line, unsigned *make);
/* "Make 2." on a line of its own: how many, or 0. */
unsigned tb_find_make(const char *line);
/* "Back" before its start, with nothing to show that it is a heading. */
bool tb_may_be_plain_heading(const char *line);
/* "With red yarn", "MAIN COLOR", "In white": a line that says what yarn is worked with, and heads nothing. */
bool tb_names_yarn(const char *line);
/* "Shape neck", "Turn heel", "Border": heads what goes on with a piece, and is none by itself. */
bool tb_goes_on(const char *name);
/* Whether TEXT says no more than where yarn is joined, or on which stitches rows go on: "Join yarn in first st." */
bool tb_leads_in(const char *text);

/* Where in "MOTIF: Ch 8, join." what the label heads begins; 0 when LINE is no such line. */
size_t tb_find_label(const char *line, size_t *name);

/* text_told.c: what a line says a stitch is, by offsets into it. */
typedef struct {
	size_t name, name_end;
	size_t other, other_end; /* another name, "Shell (sh)": other_end is 0 when there is none */
	size_t body, end;
	bool by_words; /* "A shell is …", "To make a shell, …": no sign parts name and body */
	bool is_plain; /* as the row language reads it */
} tb_told;
/* In a LIST of stitches a bullet or a number may stand before it. */
/* Whether NAME is that of the one stitch pattern that all is worked in, and no other: "Pattern", "Main pattern (even number of sts)". */
bool tb_is_main_pattern(const char *name);
bool tb_told_find(const char *line, bool list, tb_told *told);
/* Whether what is told of is a stitch by its name. */
bool tb_told_is_stitch(const char *line, const tb_told *told);
/* Whether LINE tells of a stitch, and its name is a stitch's. */
bool tb_tells_stitch(const char *line);
/* "NAME (OTHER) = BODY", each byte knowing its place. TEXT has offsets. Owned. */
tb_text *tb_told_compose(const tb_text *text, const tb_told *told);

/* text_definitions.c */
/* The bytes of a name at the beginning of LINE and, in *PARTING, of the colon, "=" or dash behind it. */
size_t tb_find_parting(const char *line, size_t *parting);
/*
 * Where in "Shell (sh): 5 dc in same st" the body begins, behind the name and what parts them; 0 when
 * LINE has no such form. In a LIST of stitches less is asked of it: "sc - single crochet", "ch chain".
 */
size_t tb_find_body(const char *line, bool list);
/* Where behind other sentences of LINE such a stitch is told, "Cotton, 3 mm hook. cl: dc3tog in one st"; or 0. */
size_t tb_find_told_behind(const char *line);
/* Whether the name before a body, or the whole of LINE, is a stitch's. */
bool tb_names_stitch(const char *line, size_t length);

/* "V = (dc, ch 1, dc) in same st", "CT: sk 1, …": one to three capitals, and what is worked for them. */
bool tb_is_mark(const char *line);
/* Whether the name has an abbreviation behind it, "Tuft (tf)", as rows have none. */
bool tb_has_abbreviation(const char *line, size_t length);

/* The bytes of the word at TEXT when it is one of WORDS (small, each parted by a blank), case aside. */
size_t tb_at_word(const char *text, const char *words);
/* Where in the first LENGTH bytes of TEXT the first of WORDS begins; LENGTH where none does. */
size_t tb_find_words(const char *text, size_t length, const char *words);

#endif
