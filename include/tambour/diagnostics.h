/*
 * Diagnostics: what is wrong with a pattern, where, in which sizes, and what to do.
 *
 * Every reader and every step of the work adds to one list. Nothing is printed until the end, when
 * the list is sorted by place and each fault is told once.
 */
#ifndef TAMBOUR_DIAGNOSTICS_H
#define TAMBOUR_DIAGNOSTICS_H

#include <tambour/api.h>

TB_BEGIN_DECLS

/* A text that faults point into, with the name it is told by. Never changes once it is made. */
typedef struct tb_source tb_source;

/* A list of faults. */
typedef struct tb_diagnostics tb_diagnostics;

/* The most sizes one pattern may have; one bit each in a tb_size_set. */
#define TB_MAX_SIZES 24

/* A set of sizes: bit i stands for size i, from 0. Empty: the fault is not about a size. */
typedef guint32 tb_size_set;

/* How grave a fault is. With an error, counts and charts would be wrong. */
typedef enum {
	TB_NOTE,    /* tells more about a fault, or what was not looked at because of it */
	TB_WARNING, /* can be worked, but is hardly meant so */
	TB_ERROR,   /* cannot be worked, or does not come out */
} tb_severity;

/* A stretch of a source: byte offsets from 0, the end not included. */
typedef struct {
	size_t start;
	size_t end;
} tb_span;

/* One fault. Strings belong to the list that holds it. */
typedef struct {
	tb_severity severity;
	const char *code; /* stable name, such as "repeat-leftover"; listed in DEVELOPERS.md */
	bool has_place;    /* else it is about the pattern as a whole, and place means nothing */
	tb_span place;
	char *piece;       /* NULL when the fault is not in a piece */
	unsigned row;      /* 0 when the fault is not in a row */
	bool is_round;     /* that row is a round */
	tb_size_set sizes; /* empty when the fault is not about a size */
	char *message;     /* what is wrong, one line, without the row and size in front */
	char *hint;        /* what to do, one line, or NULL */
} tb_diagnostic;

/*
 * Keeps a copy of a text, LENGTH bytes, that faults can point into. The text may be anything, zero
 * bytes included; whoever reads it tells what is wrong with it. NAME is what is shown in front of
 * each fault (a file name, or "-"), and is copied. Never NULL. Owned; free with tb_source_destroy.
 */
tb_source *tb_source_create(const char *name, const char *text, size_t length);

/* Frees a source. NULL is allowed. */
void tb_source_destroy(tb_source *source);

/*
 * The text, with a NUL behind it. *LENGTH is set to its bytes, that NUL not counted; LENGTH may be
 * NULL. Never NULL. Borrowed.
 */
const char *tb_source_get_text(const tb_source *source, size_t *length);

/* The name the source was made with. Borrowed. */
const char *tb_source_get_name(const tb_source *source);

/*
 * Sets *LINE and *COLUMN to the place of a byte offset, both counting from 1; columns count code
 * points. An offset beyond the end is taken for the end.
 */
void tb_source_locate(const tb_source *source, size_t offset, unsigned *line, unsigned *column);

/*
 * An empty list of faults about SOURCE, which is borrowed and must outlive the list. SOURCE may be
 * NULL: faults are then told without file and line. Never NULL. Owned; free with
 * tb_diagnostics_destroy.
 */
tb_diagnostics *tb_diagnostics_create(const tb_source *source);

/* Frees a list and the faults in it. NULL is allowed. */
void tb_diagnostics_destroy(tb_diagnostics *list);

/*
 * Gives the list the names of COUNT sizes, which messages then say. tb_pattern_read does it for
 * you. NAMES is borrowed, and must live as long as the list is printed from.
 */
void tb_diagnostics_set_sizes(tb_diagnostics *list, const char *const *names, unsigned count);

/*
 * How many faults of all kinds the list holds. It takes a few hundred; past that they are only
 * counted, and tb_diagnostics_format says how many.
 */
unsigned tb_diagnostics_count(const tb_diagnostics *list);

/* How many errors were found, those included that the list had no more room for. */
unsigned tb_diagnostics_count_errors(const tb_diagnostics *list);

/*
 * Fault number I, from 0, in order of place; NULL when there are not so many. Puts the list in
 * order first. Borrowed, and valid until the next fault is added.
 */
const tb_diagnostic *tb_diagnostics_get(tb_diagnostics *list, unsigned i);

/* The source the list was made for, or NULL. Borrowed. */
const tb_source *tb_diagnostics_get_source(const tb_diagnostics *list);

/*
 * All faults as text for a terminal, sorted by place:
 *
 *     FILE:LINE:COLUMN: error: row 4, size L: MESSAGE
 *         9 | the line itself
 *           |     ^~~
 *       HINT
 *
 * Control characters that stand in the pattern are shown as spaces. Empty when there are no faults.
 * Never NULL. Owned text; free with g_free.
 */
char *tb_diagnostics_format(tb_diagnostics *list);

G_DEFINE_AUTOPTR_CLEANUP_FUNC(tb_source, tb_source_destroy)
G_DEFINE_AUTOPTR_CLEANUP_FUNC(tb_diagnostics, tb_diagnostics_destroy)

TB_END_DECLS

#endif
