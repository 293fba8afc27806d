#include "command.h"

#include <stdio.h>
#include <string.h>

/* What comes after the last point of a file's name; "-" is SVG. */
static const char *extension_of(const char *path)
{
	if (strcmp(path, "-") == 0)
		return "svg";
	const char *slash = strrchr(path, '/');
	const char *point = strrchr(slash != NULL ? slash : path, '.');
	return point != NULL ? point + 1 : "";
}

static GByteArray *render(const tb_chart *chart, const tb_options *options, GError **error)
{
	const char *extension = extension_of(options->output);
	if (strcmp(extension, "json") == 0) {
		char *json = tb_chart_to_json(chart);
		return g_byte_array_new_take((guint8 *)json, strlen(json));
	}
	tb_output_options how = {.dpi = options->dpi, .created = tb_output_time()};
	tb_drawing *drawing = tb_chart_draw(chart);
	GByteArray *bytes = tb_output_render(drawing, extension, &how, error);
	tb_drawing_destroy(drawing);
	return bytes;
}

static int write_chart(const tb_chart *chart, const tb_options *options)
{
	g_autoptr(GError) error = NULL;
	g_autoptr(GByteArray) bytes = render(chart, options, &error);
	if (bytes != NULL && tb_output_write(options->output, bytes->data, bytes->len, &error))
		return TB_EXIT_DONE;
	fprintf(stderr, "tambour: %s\n", error->message);
	return TB_EXIT_FILE;
}

static int draw(tb_loaded *loaded, const tb_options *options)
{
	tb_chart_options how;
	if (loaded->pattern == NULL || loaded->worked == NULL)
		return tb_loaded_report(loaded);
	if (!tb_options_chart(options, loaded->pattern, &how))
		return TB_EXIT_USAGE;
	/* A chart of wrong counts would be taken for a right one. */
	if (tb_diagnostics_count_errors(loaded->diagnostics) > 0)
		return tb_loaded_report(loaded);
	tb_type *type = tb_type_create();
	if (type == NULL) {
		fputs("tambour: no font was found to write with\n", stderr);
		return TB_EXIT_FILE;
	}
	tb_text_measure measure = tb_type_get_measure(type);
	tb_chart *chart = tb_chart_create(loaded->worked, &how, &measure, loaded->diagnostics);
	int status = tb_loaded_report(loaded);
	if (tb_type_count_unknown(type) > 0)
		fprintf(stderr, "tambour: warning: no font here has %u of the letters of this chart\n",
			tb_type_count_unknown(type));
	if (chart != NULL)
		status = write_chart(chart, options);
	tb_chart_destroy(chart);
	tb_type_destroy(type);
	return status;
}

static int load_and_draw(void *data)
{
	const tb_options *options = data;
	tb_loaded loaded = {0};
	int status = tb_load(options->input, &loaded);
	if (status == TB_EXIT_DONE)
		status = draw(&loaded, options);
	tb_loaded_finish(&loaded);
	return status;
}

static int run(int argc, char **argv)
{
	tb_options options;
	int status = TB_EXIT_USAGE;
	if (tb_options_read(&tb_command_chart, argc, argv, true, &options)) {
		const char *extension = extension_of(options.output);
		if (strcmp(extension, "json") != 0 && !tb_output_is_known(extension)) {
			fprintf(stderr, "tambour: a chart is written as .svg, .pdf, .png or .json, not '%s'\n",
				options.output);
		} else {
			status = options.watch ? tb_watch(options.input, load_and_draw, &options) :
				load_and_draw(&options);
		}
	}
	tb_options_finish(&options);
	return status;
}

const tb_command tb_command_chart = {
	.name = "chart",
	.arguments = "PATTERN -o FILE",
	.summary = "One symbol chart, as .svg, .pdf, .png or .json (placed stitches, mm).",
	.run = run,
};
