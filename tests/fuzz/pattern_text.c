/* Patterns as blogs have them: headings, fields and rows told apart, lines joined. */
#include "fuzz.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	/* That would be read as JSON, which has a target of its own. */
	if (size > 0 && data[0] == '{')
		return 0;
	g_autoptr(tb_source) source = tb_source_create("fuzz.txt", (const char *)data, size);
	g_autoptr(tb_diagnostics) diagnostics = tb_diagnostics_create(source);
	g_autoptr(tb_pattern) pattern = tb_pattern_read(source, tb_fuzz_library(), diagnostics);
	tb_fuzz_require(pattern != NULL || tb_diagnostics_count_errors(diagnostics) > 0,
		"nothing was read, and nothing said");
	if (pattern != NULL)
		tb_fuzz_check_pattern(pattern);
	tb_fuzz_check_faults(diagnostics);
	return 0;
}
