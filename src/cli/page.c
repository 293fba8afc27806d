#include "command.h"

#include <string.h>
#include <tambour/page.h>

static GByteArray *take(char *html)
{
	return g_byte_array_new_take((guint8 *)html, strlen(html));
}

/* While a pattern is being written, its faults take the page's place: no chart is out of date. */
static GByteArray *make_faults(tb_job *job)
{
	return job->options->watch ? take(tb_page_faults(job->loaded.diagnostics)) : NULL;
}

static GByteArray *make(tb_job *job, GError **error)
{
	const tb_chart_options *said = &job->chart;
	tb_diagnostics *diagnostics = job->loaded.diagnostics;
	tb_page_options how = {
		.piece = job->piece + 1,
		.size = said->size,
		.first_row = said->first_row,
		.last_row = said->last_row,
		.left_handed = said->left_handed,
		.uk_terms = said->uk_terms,
		.view = said->view,
		.watching = job->options->watch,
		.title = said->title,
	};
	tb_progress_step(job->progress, "drawing");
	char *html = tb_page_html(job->loaded.worked, &how, &job->measure, diagnostics, error);
	/* Told once is enough. */
	if (html == NULL && tb_diagnostics_count_errors(diagnostics) > 0)
		g_clear_error(error);
	return html != NULL ? take(html) : NULL;
}

const tb_command tb_command_page = {
	.name = "page",
	.arguments = "PATTERN... -o FILE",
	.summary = "The learner's page: one file that works offline.",
	.options = TB_OF_PAGE,
	.product = "a page",
	.endings = ".html",
	.any_ending = true,
	.writes = true,
	.draws = true,
	.make = make,
	.make_faults = make_faults,
};
