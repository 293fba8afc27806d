/* The strict walk over a JSON text. */
#ifndef TB_PATTERN_JSON_SCAN_H
#define TB_PATTERN_JSON_SCAN_H

#include <tambour/diagnostics.h>

/* A value and the key in front of it, in document order. */
typedef struct {
	tb_span key; /* empty when it has none; quotes included */
	tb_span value;
} tb_json_entry;

/*
 * Walks TEXT, valid UTF-8 without NUL, from START. Returns the entries (tb_json_entry), or NULL
 * with a fault in DIAGNOSTICS. Owned.
 */
GArray *tb_json_scan(const char *text, size_t length, size_t start, tb_diagnostics *diagnostics);

/*
 * Reads the escape at TEXT ("\n", "\u00e9", a pair of surrogates): its character and, in *LENGTH,
 * its bytes. False when it is none; *LENGTH then covers what is wrong.
 */
bool tb_json_read_escape(const char *text, gunichar *c, size_t *length);

#endif
