#include "command.h"

#include <tambour/rows.h>

/* One piece alone, or all of them, each under its name. */
static char *write_pieces(const tb_loaded *loaded, int piece, int size, bool uk)
{
	GString *text = g_string_new(NULL);
	unsigned count = tb_pattern_count_pieces(loaded->pattern);
	for (unsigned i = 0; i < count; i++) {
		if (piece >= 0 && (unsigned)piece != i)
			continue;
		g_autofree char *rows = tb_rows_text(loaded->worked, (int)i, size, uk);
		if (piece < 0 && count > 1) {
			g_autofree char *name = g_utf8_strup(tb_pattern_get_piece(loaded->pattern, i), -1);
			g_string_append_printf(text, "%s%s\n", i > 0 ? "\n" : "", name);
		}
		g_string_append(text, rows);
	}
	return g_string_free(text, FALSE);
}

static char *write_rows(tb_loaded *loaded, const tb_options *options, int *status)
{
	tb_chart_options said;
	int piece = -1;
	if (!tb_options_piece(options, loaded->pattern, &piece) ||
		!tb_options_chart(options, loaded->pattern, &said)) {
		*status = TB_EXIT_USAGE;
		return NULL;
	}
	/* Rows with a fault in them are not what anybody should work from. */
	if (tb_diagnostics_count_errors(loaded->diagnostics) > 0)
		return NULL;
	return write_pieces(loaded, piece, said.size - 1, said.uk_terms);
}

static int run(int argc, char **argv)
{
	return tb_text_run(&tb_command_rows, argc, argv, write_rows);
}

const tb_command tb_command_rows = {
	.name = "rows",
	.arguments = "PATTERN",
	.summary = "The written rows, from the fabric, all sizes in brackets.",
	.run = run,
};
