#include "command.h"

static char *check(tb_loaded *loaded, const tb_options *options, int *status)
{
	int piece = -1;
	if (!tb_options_piece(options, loaded->pattern, &piece)) {
		*status = TB_EXIT_USAGE;
		return NULL;
	}
	return options->json ? tb_check_json(loaded->worked, loaded->diagnostics, piece) :
		tb_check_text(loaded->worked, loaded->diagnostics, piece);
}

static int run(int argc, char **argv)
{
	return tb_text_run(&tb_command_check, argc, argv, check);
}

const tb_command tb_command_check = {
	.name = "check",
	.arguments = "PATTERN",
	.summary = "Counts of every row in every size, measurements, and faults.",
	.run = run,
};
