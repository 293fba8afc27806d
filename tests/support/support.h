/* What the tests share: reading a pattern from a text, from the examples, and working it. */
#ifndef TB_TESTS_SUPPORT_H
#define TB_TESTS_SUPPORT_H

#include <tambour/fabric.h>

typedef struct {
	tb_source *source;
	tb_library *library;
	tb_diagnostics *diagnostics;
	tb_pattern *pattern;
	tb_worked *worked;
} tb_case;

/* Reads and works a pattern text; every member is set but pattern may be NULL. */
tb_case tb_case_read(const char *name, const char *text);
/* The same from a file below the source tree, "examples/x.json". Aborts when it cannot be read. */
tb_case tb_case_file(const char *path);
/* A JSON pattern with the sizes (comma parted), start and rows given, "Row ..." a line. */
tb_case tb_case_rows(const char *sizes, const char *start, const char *rows);
void tb_case_finish(tb_case *c);

/* All faults as printed; owned by the caller. */
char *tb_case_faults(tb_case *c);

/* The whole of a file below the source tree; aborts when it cannot be read. Owned: g_free. */
char *tb_test_read(const char *path, gsize *length);

#endif
