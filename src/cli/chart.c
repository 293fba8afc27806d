#include "command.h"

#include <string.h>

static GByteArray *render(const tb_chart *chart, const tb_job *job, GError **error)
{
	const char *extension = tb_outputs_extension(job->output);
	tb_progress_step(job->progress, "drawing");
	if (g_ascii_strcasecmp(extension, "json") == 0) {
		char *json = tb_chart_to_json(chart);
		return g_byte_array_new_take((guint8 *)json, strlen(json));
	}
	tb_output_options how = {.dpi = job->options->dpi, .created = tb_output_time()};
	tb_drawing *drawing = tb_chart_draw(chart);
	GByteArray *bytes = tb_output_render(drawing, extension, &how, error);
	tb_drawing_destroy(drawing);
	return bytes;
}

static GByteArray *make(tb_job *job, GError **error)
{
	tb_progress_step(job->progress, "placing the stitches");
	if (job->options->has_paper)
		tb_paper_get_size(job->options->paper, &job->chart.paper_width_mm, &job->chart.paper_height_mm);
	tb_chart *chart =
		tb_chart_create(job->loaded.worked, &job->chart, &job->measure, job->loaded.diagnostics);
	GByteArray *bytes = chart != NULL ? render(chart, job, error) : NULL;
	tb_chart_destroy(chart);
	return bytes;
}

const tb_command tb_command_chart = {
	.name = "chart",
	.arguments = "PATTERN... -o FILE",
	.summary = "One symbol chart, as .svg, .pdf, .png or .json (placed stitches, mm).",
	.options = TB_OF_CHART,
	.product = "a chart",
	.endings = ".svg, .pdf, .png or .json",
	.writes = true,
	.draws = true,
	.make = make,
};
