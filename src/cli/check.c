#include "command.h"

#include <stdio.h>
#include <string.h>

static int check(tb_loaded *loaded, const tb_options *options)
{
	int piece = -1;
	if (loaded->pattern == NULL || loaded->worked == NULL)
		return tb_loaded_report(loaded);
	if (!tb_options_piece(options, loaded->pattern, &piece))
		return TB_EXIT_USAGE;
	g_autofree char *text = options->json ?
		tb_check_json(loaded->worked, loaded->diagnostics, piece) :
		tb_check_text(loaded->worked, loaded->diagnostics, piece);
	int status = tb_loaded_report(loaded);
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
	if (tb_options_read(&tb_command_check, argc, argv, false, &options)) {
		status = tb_load(options.input, &loaded);
		if (status == TB_EXIT_DONE)
			status = check(&loaded, &options);
		tb_loaded_finish(&loaded);
	}
	tb_options_finish(&options);
	return status;
}

const tb_command tb_command_check = {
	.name = "check",
	.arguments = "PATTERN",
	.summary = "Counts of every row in every size, measurements, and faults.",
	.run = run,
};
