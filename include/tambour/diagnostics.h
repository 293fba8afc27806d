/*
 * Diagnostics: what is wrong with a pattern, where, in which sizes, and what to do.
 *
 * Every reader and every step of the work adds to one list. Nothing is printed until the end, when
 * the list is sorted by place and each fault is told once.
 */
#ifndef TAMBOUR_DIAGNOSTICS_H
#define TAMBOUR_DIAGNOSTICS_H

#include <glib.h>
#include <stdbool.h>
#include <stddef.h>

G_BEGIN_DECLS

typedef struct tb_source tb_source;
typedef struct tb_diagnostics tb_diagnostics;

/* The most sizes one pattern may have; one bit each in a tb_size_set. */
#define TB_MAX_SIZES 24

/* A set of sizes: bit i stands for size i, counting from 0. Empty: the fault is not about a size. */
typedef guint32 tb_size_set;

typedef enum {
	TB_NOTE,
	TB_WARNING,
	TB_ERROR,
} tb_severity;

/* A stretch of a source: byte offsets, the end not included. */
typedef struct {
	size_t start;
	size_t end;
} tb_span;

/* One fault. Strings belong to the list that holds it. */
typedef struct {
	tb_severity severity;
	const char *code; /* stable name, such as "repeat-leftover"; listed in DEVELOPERS.md */
	bool has_place;
	tb_span place;
	char *piece;       /* NULL when the fault is not in a piece */
	unsigned row;      /* 0 when the fault is not in a row */
	bool is_round;     /* that row is a round */
	tb_size_set sizes; /* empty when the fault is not about a size */
	char *message;     /* what is wrong, one line, without the row and size in front */
	char *hint;        /* what to do, one line, or NULL */
} tb_diagnostic;

/*
 * Keeps a copy of a text that faults can point into. NAME is what is shown in front of each fault
 * (a file name, or "-"). Returns an owned source; free it with tb_source_destroy.
 */
tb_source *tb_source_create(const char *name, const char *text, size_t length);
void tb_source_destroy(tb_source *source);

/* The text, LENGTH bytes, with a NUL behind them. Borrowed. */
const char *tb_source_get_text(const tb_source *source, size_t *length);
const char *tb_source_get_name(const tb_source *source);

/* Line and column of a byte offset, both from 1. Columns count code points. */
void tb_source_locate(const tb_source *source, size_t offset, unsigned *line, unsigned *column);

/*
 * An empty list of faults about SOURCE, which is borrowed and must outlive the list. SOURCE may be
 * NULL: faults then have no place.
 */
tb_diagnostics *tb_diagnostics_create(const tb_source *source);
void tb_diagnostics_destroy(tb_diagnostics *list);

/* The sizes' names, shown in messages. Borrowed: must outlive the list. */
void tb_diagnostics_set_sizes(tb_diagnostics *list, const char *const *names, unsigned count);

unsigned tb_diagnostics_count(const tb_diagnostics *list);
unsigned tb_diagnostics_count_errors(const tb_diagnostics *list);

/* The i-th fault in order of place; borrowed, valid until the next fault is added. */
const tb_diagnostic *tb_diagnostics_get(tb_diagnostics *list, unsigned i);
const tb_source *tb_diagnostics_get_source(const tb_diagnostics *list);

/*
 * All faults as text for a terminal, sorted by place:
 *
 *     FILE:LINE:COLUMN: error: row 4, size L: MESSAGE
 *         9 | the line itself
 *           |     ^~~
 *       HINT
 *
 * Returns an owned string; free with g_free.
 */
char *tb_diagnostics_format(tb_diagnostics *list);

G_DEFINE_AUTOPTR_CLEANUP_FUNC(tb_source, tb_source_destroy)
G_DEFINE_AUTOPTR_CLEANUP_FUNC(tb_diagnostics, tb_diagnostics_destroy)

G_END_DECLS

#endif
