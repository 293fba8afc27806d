/* How a fault is added to the list; the readers' and the worker's side of diagnostics. */
#ifndef TB_SUPPORT_DIAGNOSE_H
#define TB_SUPPORT_DIAGNOSE_H

#include <tambour/diagnostics.h>

/* Where a fault is. Zero what is not known. */
typedef struct {
	bool has_place;
	tb_span place;
	const char *piece;
	unsigned row;
	bool is_round;
	tb_size_set sizes;
} tb_where;

/*
 * Adds a fault. CODE is a string constant. MESSAGE and HINT are copied; HINT may be NULL. A fault
 * with the same code, place and piece as one already there adds its sizes to that one when it says
 * the same, and is left out when all its sizes have been told of there: a row worked again, or in
 * another size, is told once. Past TB_LIMIT_FAULTS faults are only counted.
 */
void tb_diagnose(tb_diagnostics *list, tb_severity severity, const char *code,
	const tb_where *where, const char *message, const char *hint);

/* The same with printf formatting of the message. */
void tb_diagnose_format(tb_diagnostics *list, tb_severity severity, const char *code,
	const tb_where *where, const char *hint, const char *format, ...) G_GNUC_PRINTF(6, 7);

#endif
