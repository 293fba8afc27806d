#include "command.h"

#include <stdio.h>

/* "3x2": sheets across and down. */
static bool read_sheets(const char *value, unsigned *across, unsigned *down)
{
	int end = 0;
	if (value == NULL)
		return true;
	if (sscanf(value, "%2ux%2u%n", across, down, &end) == 2 && value[end] == '\0' &&
		*across >= 1 && *down >= 1 && *across <= 20 && *down <= 20)
		return true;
	fprintf(stderr, "tambour: --sheets is sheets across and down, such as 3x2, not '%s'\n", value);
	return false;
}

static bool read_options(const tb_options *options, const tb_pattern *pattern,
	tb_poster_options *how)
{
	*how = (tb_poster_options){.practice = options->practice, .fit = options->fit != NULL};
	if (!tb_options_chart(options, pattern, &how->chart) ||
		!read_sheets(options->sheets, &how->across, &how->down) ||
		!tb_print_paper("fit", options->fit, &how->fit_paper))
		return false;
	if ((options->stitch_width != NULL) + (options->sheets != NULL) + (options->fit != NULL) +
			how->chart.fabric_scale > 1) {
		fputs("tambour: say how large once: --stitch-width, --sheets, --fit or --scale fabric\n",
			stderr);
		return false;
	}
	/* A poster that is to fit a paper is printed on it, where no other is named. */
	how->paper = how->fit ? how->fit_paper : TB_PAPER_A4;
	return tb_print_paper("paper", options->paper, &how->paper);
}

static tb_pages *print(tb_loaded *loaded, const tb_options *options,
	const tb_text_measure *measure, int *status)
{
	tb_poster_options how;
	if (read_options(options, loaded->pattern, &how))
		return tb_poster_create(loaded->worked, &how, measure, loaded->diagnostics);
	*status = TB_EXIT_USAGE;
	return NULL;
}

static int run(int argc, char **argv)
{
	return tb_print_run(&tb_command_poster, argc, argv, print);
}

const tb_command tb_command_poster = {
	.name = "poster",
	.arguments = "PATTERN -o FILE",
	.summary = "A chart enlarged for a class, .pdf: over sheets to be joined.",
	.run = run,
};
