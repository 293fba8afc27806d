/*
 * Golden drawings: every tests/golden/NAME.json is charted with letters of one width and compared
 * with NAME.trace, the drawing as text. A file put there is a new test. To see what the program
 * draws now: TB_GOLDEN=print build/checked/tests/golden/golden.
 */
#include "charting.h"

#include <criterion/criterion.h>
#include <stdio.h>

static char *trace_of(const char *path)
{
	tb_case c = tb_case_file(path);
	cr_assert_not_null(c.worked, "%s cannot be read", path);
	tb_chart_options options = {0};
	tb_chart *chart = tb_case_chart(&c, &options);
	g_autofree char *faults = tb_case_faults(&c);
	cr_assert_not_null(chart, "%s cannot be charted:\n%s", path, faults);
	tb_drawing *drawing = tb_chart_draw(chart);
	char *trace = tb_drawing_trace(drawing);
	tb_drawing_destroy(drawing);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
	return trace;
}

/* The first line that differs, so that a failure can be read. */
static void assert_same(const char *path, const char *trace, const char *golden)
{
	g_auto(GStrv) now = g_strsplit(trace, "\n", -1), then = g_strsplit(golden, "\n", -1);
	for (int i = 0; now[i] != NULL || then[i] != NULL; i++) {
		cr_assert_not_null(now[i], "%s:%d: the drawing ends early", path, i + 1);
		cr_assert_not_null(then[i], "%s:%d: the drawing goes on", path, i + 1);
		cr_assert_str_eq(now[i], then[i], "%s:%d: drawn '%s', expected '%s'", path, i + 1, now[i],
			then[i]);
	}
}

Test(golden, every_file)
{
	g_autofree char *folder = g_build_filename(TB_SOURCE_ROOT, "tests/golden", NULL);
	g_autoptr(GDir) files = g_dir_open(folder, 0, NULL);
	cr_assert_not_null(files);
	const char *name;
	unsigned count = 0;
	while ((name = g_dir_read_name(files)) != NULL) {
		if (!g_str_has_suffix(name, ".json"))
			continue;
		count++;
		g_autofree char *path = g_build_filename("tests/golden", name, NULL);
		g_autofree char *trace = trace_of(path);
		g_autofree char *stem = g_strndup(path, strlen(path) - strlen(".json"));
		g_autofree char *golden_path = g_strconcat(stem, ".trace", NULL);
		if (g_getenv("TB_GOLDEN") != NULL) {
			g_autofree char *full = g_build_filename(TB_SOURCE_ROOT, golden_path, NULL);
			fprintf(stderr, "== %s\n%s", full, trace);
			continue;
		}
		g_autofree char *golden = tb_test_read(golden_path, NULL);
		assert_same(golden_path, trace, golden);
	}
	cr_assert_gt(count, 0);
}
