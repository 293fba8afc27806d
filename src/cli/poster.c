#include "command.h"

static bool agree(const tb_options *options)
{
	if ((options->chart.stitch_width_mm > 0) + (options->across > 0) + options->has_fit +
			options->chart.fabric_scale <= 1)
		return true;
	return tb_complain("say how large once: --stitch-width, --sheets, --fit or --scale fabric");
}

static GByteArray *make(tb_job *job, GError **error)
{
	const tb_options *options = job->options;
	tb_poster_options how = {
		/* A poster that is to fit a paper is printed on it, where no other is named. */
		.paper = options->has_fit && !options->has_paper ? options->fit_paper : options->paper,
		.chart = job->chart,
		.across = options->across,
		.down = options->down,
		.fit = options->has_fit,
		.fit_paper = options->fit_paper,
		.practice = options->practice,
	};
	tb_progress_step(job->progress, "setting the pages");
	g_autoptr(tb_pages) pages =
		tb_poster_create(job->loaded.worked, &how, &job->measure, job->loaded.diagnostics);
	return pages != NULL ? tb_make_pdf(job, pages, error) : NULL;
}

const tb_command tb_command_poster = {
	.name = "poster",
	.arguments = "PATTERN... -o FILE",
	.summary = "A chart enlarged for a class, .pdf: over sheets to be joined.",
	.options = TB_OF_POSTER,
	.product = "a poster",
	.endings = ".pdf",
	.writes = true,
	.draws = true,
	.agree = agree,
	.make = make,
};
