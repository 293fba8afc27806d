#include "command.h"

static tb_pages *print(tb_loaded *loaded, const tb_options *options,
	const tb_text_measure *measure, int *status)
{
	tb_chart_options said;
	tb_sheet_options how = {.large_print = options->large_print, .title = options->title};
	if (!tb_options_chart(options, loaded->pattern, &said) ||
		!tb_print_paper("paper", options->paper, &how.paper)) {
		*status = TB_EXIT_USAGE;
		return NULL;
	}
	how.size = said.size;
	how.uk_terms = said.uk_terms;
	how.left_handed = said.left_handed;
	how.grey = said.grey;
	return tb_sheet_create(loaded->worked, &how, measure, loaded->diagnostics);
}

static int run(int argc, char **argv)
{
	return tb_print_run(&tb_command_sheet, argc, argv, print);
}

const tb_command tb_command_sheet = {
	.name = "sheet",
	.arguments = "PATTERN -o FILE",
	.summary = "The pattern to download, .pdf: sizes, rows, charts, schematics, key.",
	.run = run,
};
