/* Path data of SVG, as a designer's own symbol has it. What was read, written plainly, reads the same. */
#include "fuzz.h"

#include "stitches/symbol_path.h"
#include "support/limits.h"

#include <math.h>
#include <string.h>

static void append_number(GString *text, double value)
{
	char buffer[G_ASCII_DTOSTR_BUF_SIZE];
	g_string_append_printf(text, " %s", g_ascii_dtostr(buffer, sizeof buffer, value));
}

static char *write_path(const tb_symbol_path *path)
{
	static const char letters[] = {'M', 'L', 'C', 'Z'};
	GString *text = g_string_new(NULL);
	for (unsigned i = 0; i < path->count; i++) {
		const tb_symbol_segment *s = &path->segments[i];
		const double numbers[] = {s->x1, s->y1, s->x2, s->y2, s->x, s->y};
		unsigned from = s->op == TB_SYMBOL_CURVE ? 0 : s->op == TB_SYMBOL_CLOSE ? 6 : 4;
		g_string_append_c(text, letters[s->op]);
		for (unsigned k = from; k < G_N_ELEMENTS(numbers); k++)
			append_number(text, numbers[k]);
	}
	return g_string_free(text, FALSE);
}

static void check_segment(const tb_symbol_segment *s)
{
	const double numbers[] = {s->x1, s->y1, s->x2, s->y2, s->x, s->y};
	for (unsigned i = 0; i < G_N_ELEMENTS(numbers); i++)
		tb_fuzz_require(fabs(numbers[i]) <= TB_LIMIT_PATH_FARTHEST, "a path goes to %g", numbers[i]);
}

static void check_path(const tb_symbol_path *path)
{
	size_t bad = 0;
	const char *why = NULL;
	tb_fuzz_require(path->count > 1 && path->count <= TB_LIMIT_PATH_SEGMENTS, "%u segments",
		path->count);
	tb_fuzz_require(path->segments[0].op == TB_SYMBOL_MOVE, "a path does not begin with M");
	for (unsigned i = 0; i < path->count; i++)
		check_segment(&path->segments[i]);
	g_autofree char *plain = write_path(path);
	tb_symbol_path *again = tb_symbol_path_read(plain, &bad, &why);
	tb_fuzz_require(again != NULL, "%s: %s", plain, why);
	g_autofree char *twice = write_path(again);
	tb_fuzz_require(strcmp(plain, twice) == 0, "%s reads as %s", plain, twice);
	tb_symbol_path_destroy(again);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	size_t bad = G_MAXSIZE;
	const char *why = NULL;
	g_autofree char *text = g_strndup((const char *)data, size);
	tb_symbol_path *path = tb_symbol_path_read(text, &bad, &why);
	if (path != NULL)
		check_path(path);
	else
		tb_fuzz_require(why != NULL && bad <= strlen(text), "a fault at %zu of %zu", bad,
			strlen(text));
	tb_symbol_path_destroy(path);
	return 0;
}
