/* Files of stitches, as in symbols/: the reader, the moves on the hook, and the glyph that comes out. */
#include "fuzz.h"

#include "drawing/sample.h"
#include "stitches/stitch.h"

#include <math.h>

static void check_parts(const tb_stitch *stitch, const GArray *parts)
{
	for (guint i = 0; parts != NULL && i < parts->len; i++) {
		const tb_path *path = g_array_index(parts, tb_part, i).path;
		for (guint k = 0; k < path->points->len; k++) {
			const tb_point *point = &g_array_index(path->points, tb_point, k);
			tb_fuzz_require(isfinite(point->x) && isfinite(point->y), "%s is drawn through %g,%g",
				stitch->us, point->x, point->y);
		}
	}
}

static void check_stitch(const tb_library *library, const tb_stitch *stitch)
{
	unsigned most = 0, left = 0;
	tb_stitch_get_loops(stitch, &most, &left);
	tb_fuzz_require(left == 1 && most >= 1, "%s ends with %u loops", stitch->us, left);
	tb_fuzz_require(tb_library_find(library, stitch->us) != NULL, "%s is not found", stitch->us);
	for (int uk = 0; uk < 2; uk++) {
		g_autofree char *words = tb_stitch_describe(stitch, uk == 1);
		tb_fuzz_require(words != NULL && g_utf8_validate(words, -1, NULL), "%s is not described",
			stitch->us);
	}
	tb_sample sample;
	tb_sample_init(&sample, stitch, 5, 2.5, 0.4);
	check_parts(stitch, sample.parts);
	check_parts(stitch, sample.under);
	tb_fuzz_require(isfinite(sample.height) && isfinite(sample.below), "%s is %g high",
		stitch->us, sample.height);
	tb_sample_finish(&sample);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	g_autoptr(tb_source) source = tb_source_create("fuzz.json", (const char *)data, size);
	g_autoptr(tb_diagnostics) diagnostics = tb_diagnostics_create(source);
	tb_library *library = tb_fuzz_library();
	bool sound = tb_library_add_json(library, source, diagnostics);
	tb_fuzz_require(sound == (tb_diagnostics_count_errors(diagnostics) == 0),
		"a fault was found, and not told");
	tb_fuzz_check_faults(diagnostics);
	for (unsigned i = library->built_in; i < tb_library_count(library); i++)
		check_stitch(library, tb_library_get(library, i));
	return 0;
}
