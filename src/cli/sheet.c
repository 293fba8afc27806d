#include "command.h"

static GByteArray *make(tb_job *job, GError **error)
{
	const tb_chart_options *said = &job->chart;
	tb_sheet_options how = {
		.paper = job->options->paper,
		.size = said->size,
		.uk_terms = said->uk_terms,
		.left_handed = said->left_handed,
		.grey = said->grey,
		.large_print = job->options->large_print,
		.title = said->title,
	};
	tb_progress_step(job->progress, "setting the pages");
	g_autoptr(tb_pages) pages =
		tb_sheet_create(job->loaded.worked, &how, &job->measure, job->loaded.diagnostics);
	return pages != NULL ? tb_make_pdf(job, pages, error) : NULL;
}

const tb_command tb_command_sheet = {
	.name = "sheet",
	.arguments = "PATTERN... -o FILE",
	.summary = "The pattern to download, .pdf: sizes, rows, charts, schematics, key.",
	.options = TB_OF_SHEET,
	.product = "a sheet",
	.endings = ".pdf",
	.writes = true,
	.draws = true,
	.make = make,
};
