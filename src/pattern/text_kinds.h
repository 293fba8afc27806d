/* What a line of a plain-text pattern is, as far as the line alone tells. */
#ifndef TB_PATTERN_TEXT_KINDS_H
#define TB_PATTERN_TEXT_KINDS_H

#include <glib.h>
#include <stdbool.h>
#include <stddef.h>

typedef enum {
	TB_LINE_BLANK,
	TB_LINE_PROSE,
	TB_LINE_ROW,       /* "Row 1 (RS): …", "2nd round. …", "Next row: …" */
	TB_LINE_AGAIN,     /* "Rep Rows 3-6 …" */
	TB_LINE_FINISH,    /* "Fasten off …" */
	TB_LINE_ONLY,      /* "Sizes M (L) only: …" */
	TB_LINE_ALL_SIZES, /* "All sizes: …" */
	TB_LINE_START,     /* "Ch 85 (93, 101). …" */
	TB_LINE_FROM,      /* "From Back: sts 1-37", "Join yarn in st 47 of Back" */
	TB_LINE_FIELD,     /* "Gauge: …" */
	TB_LINE_SECTION,   /* "Notes", "Materials: …": kept, and not worked */
	TB_LINE_NEUTRAL,   /* "Instructions": says nothing */
	TB_LINE_HEADING,   /* "BACK", "## Back", "Back:", "— Back —", "Back (make 2)" */
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

typedef struct {
	size_t length; /* of the head, its mark included */
	char mark;     /* ':', '.', '-' (any dash), or 0 when none follows the number */
} tb_row_head;

tb_line_kind tb_line_find_kind(const char *line);

/* Whether LINE begins as a row does. */
bool tb_is_row_head(const char *line, tb_row_head *head);
/* Where in LINE what starts a piece begins: at its "ch" or its "magic ring"; -1 for no start. */
int tb_find_start(const char *line);
/* The field that LINE begins with; *VALUE is where its value begins. */
tb_field tb_find_field(const char *line, size_t *value);
/* The known field's name nearest to what stands before the colon of LINE, or NULL. */
const char *tb_nearest_field(const char *line, size_t *length);
/* The bytes of "Notes" or "Notes:" and the like at the beginning of LINE; 0 when there is none. */
size_t tb_find_section(const char *line);
/* The name a heading gives: "— BACK (make 2) —" is "Back". Owned: g_free. */
char *tb_heading_name(const char *line);
/* "Back" before its start, with nothing to show that it is a heading. */
bool tb_may_be_plain_heading(const char *line);
/* The bytes of "Sizes M (L) only:" at the beginning of LINE, or 0. */
size_t tb_find_only(const char *line);
/* The bytes of "All sizes:" at the beginning of LINE, or 0. */
size_t tb_find_all_sizes(const char *line);

/* The bytes of the word at TEXT when it is one of WORDS (parted by blanks), letter case aside. */
size_t tb_at_word(const char *text, const char *words);

#endif
