/* Patterns in JSON: the scanner, the reader, and places in a text full of escapes. */
#include "fuzz.h"

#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	/* Anything else would be read as plain text, which has a target of its own. */
	if (memchr(data, '{', MIN(size, 8)) == NULL)
		return 0;
	g_autoptr(tb_source) source = tb_source_create("fuzz.json", (const char *)data, size);
	g_autoptr(tb_diagnostics) diagnostics = tb_diagnostics_create(source);
	g_autoptr(tb_pattern) pattern = tb_pattern_read(source, tb_fuzz_library(), diagnostics);
	tb_fuzz_require(pattern != NULL || tb_diagnostics_count_errors(diagnostics) > 0,
		"nothing was read, and nothing said");
	if (pattern != NULL)
		tb_fuzz_check_pattern(pattern);
	tb_fuzz_check_faults(diagnostics);
	return 0;
}
