#include "command.h"

#include <stdio.h>
#include <string.h>
#include <tambour/specimen.h>

typedef struct {
	char *output, *terms, *ink;
	double dpi;
} symbols_options;

static bool complain(const char *format, const char *value)
{
	fputs("tambour: ", stderr);
	fprintf(stderr, format, value);
	fputc('\n', stderr);
	return false;
}

/* One of two words; *second tells which. */
static bool read_choice(
	const char *value, const char *option, const char *first, const char *other, bool *second)
{
	*second = value != NULL && g_ascii_strcasecmp(value, other) == 0;
	if (value == NULL || *second || g_ascii_strcasecmp(value, first) == 0)
		return true;
	fprintf(stderr, "tambour: --%s is %s or %s, not '%s'\n", option, first, other, value);
	return false;
}

static bool read_options(int argc, char **argv, symbols_options *options)
{
	g_auto(GStrv) rest = NULL;
	const GOptionEntry entries[] = {
		{"output", 'o', 0, G_OPTION_ARG_FILENAME, &options->output,
			"Write .svg, .pdf or .png; - is standard output, as SVG", "FILE"},
		{"terms", 0, 0, G_OPTION_ARG_STRING, &options->terms, "us (the default) or uk first",
			"TERMS"},
		{"ink", 0, 0, G_OPTION_ARG_STRING, &options->ink, "colour (the default) or grey", "INK"},
		{"dpi", 0, 0, G_OPTION_ARG_DOUBLE, &options->dpi, "Dots to the inch of a PNG (200)", "N"},
		{G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &rest, NULL, NULL},
		{0},
	};
	g_autoptr(GOptionContext) context = g_option_context_new(NULL);
	g_autoptr(GError) error = NULL;
	g_set_prgname("tambour symbols");
	g_option_context_set_summary(context, tb_command_symbols.summary);
	g_option_context_add_main_entries(context, entries, NULL);
	if (!g_option_context_parse(context, &argc, &argv, &error))
		return complain("%s", error->message);
	if (rest != NULL && rest[0] != NULL)
		return complain("symbols takes no file to read; what is '%s'?", rest[0]);
	return options->output != NULL ||
		   complain("%s", "say where the specimen goes: -o FILE.svg, .pdf or .png");
}

static int write_specimen(
	const symbols_options *options, const char *extension, const tb_specimen_options *how)
{
	tb_type *type = tb_type_create();
	if (type == NULL) {
		complain("%s", "no font was found to write with");
		return TB_EXIT_FILE;
	}
	g_autoptr(tb_library) library = tb_library_create();
	tb_text_measure measure = tb_type_get_measure(type);
	tb_drawing *drawing = tb_specimen_draw(library, how, &measure);
	tb_output_options output = {.dpi = options->dpi, .created = tb_output_time()};
	g_autoptr(GError) error = NULL;
	g_autoptr(GByteArray) bytes = tb_output_render(drawing, extension, &output, &error);
	tb_drawing_destroy(drawing);
	tb_type_destroy(type);
	if (bytes != NULL && tb_output_write(options->output, bytes->data, bytes->len, &error))
		return TB_EXIT_DONE;
	complain("%s", error->message);
	return TB_EXIT_FILE;
}

static int run(int argc, char **argv)
{
	symbols_options options = {0};
	tb_specimen_options how = {0};
	int status = TB_EXIT_USAGE;
	if (read_options(argc, argv, &options) &&
		read_choice(options.terms, "terms", "us", "uk", &how.uk_terms) &&
		read_choice(options.ink, "ink", "colour", "grey", &how.grey)) {
		const char *point = strrchr(options.output, '.');
		const char *extension = strcmp(options.output, "-") == 0 ? "svg"
								: point != NULL                  ? point + 1
																 : "";
		if (tb_output_is_known(extension))
			status = write_specimen(&options, extension, &how);
		else
			complain("a specimen is written as .svg, .pdf or .png, not '%s'", options.output);
	}
	g_free(options.output);
	g_free(options.terms);
	g_free(options.ink);
	return status;
}

const tb_command tb_command_symbols = {
	.name = "symbols",
	.arguments = "-o FILE",
	.summary = "Specimen of every symbol, as .svg, .pdf or .png.",
	.run = run,
};
