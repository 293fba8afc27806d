#include "command.h"

#include <tambour/rows.h>

#include <stdio.h>
#include <string.h>

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

static int write_rows(tb_loaded *loaded, const tb_options *options)
{
	tb_chart_options said;
	int piece = -1;
	if (loaded->pattern == NULL || loaded->worked == NULL)
		return tb_loaded_report(loaded);
	if (!tb_options_piece(options, loaded->pattern, &piece) ||
		!tb_options_chart(options, loaded->pattern, &said))
		return TB_EXIT_USAGE;
	/* rows with a fault in them are not what anybody should work from */
	int status = tb_loaded_report(loaded);
	if (status != TB_EXIT_DONE)
		return status;
	g_autofree char *text = write_pieces(loaded, piece, said.size - 1, said.uk_terms);
	g_autoptr(GError) error = NULL;
	if (!tb_output_write("-", text, strlen(text), &error)) {
		fprintf(stderr, "tambour: %s\n", error->message);
		return TB_EXIT_FILE;
	}
	return status;
}

static int run(int argc, char **argv)
{
	tb_options options;
	tb_loaded loaded = {0};
	int status = TB_EXIT_USAGE;
	if (tb_options_read(&tb_command_rows, argc, argv, false, &options)) {
		status = tb_load(options.input, &loaded);
		if (status == TB_EXIT_DONE)
			status = write_rows(&loaded, &options);
		tb_loaded_finish(&loaded);
	}
	tb_options_finish(&options);
	return status;
}

const tb_command tb_command_rows = {
	.name = "rows",
	.arguments = "PATTERN",
	.summary = "The written rows, from the fabric, all sizes in brackets.",
	.run = run,
};
