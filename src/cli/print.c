/* What the commands that print pages share: the sheet and the poster. */
#include "command.h"

#include <stdio.h>

#define OUTPUT \
	{"output", 'o', 0, G_OPTION_ARG_FILENAME, &options->output, \
		"Write this .pdf; - is standard output", "FILE"}
#define SIZE {"size", 0, 0, G_OPTION_ARG_STRING, &options->size, "Only this size", "M"}
#define TERMS \
	{"terms", 0, 0, G_OPTION_ARG_STRING, &options->terms, "us (the default) or uk", "TERMS"}
#define HAND \
	{"hand", 0, 0, G_OPTION_ARG_STRING, &options->hand, "right (the default) or left", "HAND"}
#define INK \
	{"ink", 0, 0, G_OPTION_ARG_STRING, &options->ink, "colour (the default) or grey", "INK"}
#define TITLE {"title", 0, 0, G_OPTION_ARG_STRING, &options->title, "Another title", "TEXT"}

static bool complain(const char *format, const char *value)
{
	fputs("tambour: ", stderr);
	fprintf(stderr, format, value);
	fputc('\n', stderr);
	return false;
}

static bool read_options(const tb_command *command, int argc, char **argv, tb_options *options)
{
	g_auto(GStrv) rest = NULL;
	const GOptionEntry sheet[] = {
		OUTPUT,
		{"paper", 0, 0, G_OPTION_ARG_STRING, &options->paper,
			"a4 (the default), a3, letter or tabloid", "PAPER"},
		{"large-print", 0, 0, G_OPTION_ARG_NONE, &options->large_print,
			"Type of 18 points and more", NULL},
		SIZE, TERMS, HAND, INK, TITLE,
		{G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &rest, NULL, NULL},
		{0},
	};
	const GOptionEntry poster[] = {
		OUTPUT,
		{"paper", 0, 0, G_OPTION_ARG_STRING, &options->paper,
			"What is printed on: a4 (the default), a3, letter or tabloid", "PAPER"},
		{"stitch-width", 0, 0, G_OPTION_ARG_STRING, &options->stitch_width,
			"Width of a stitch on paper (25mm)", "25mm"},
		{"sheets", 0, 0, G_OPTION_ARG_STRING, &options->sheets,
			"As large as so many sheets have room for, across x down", "3x2"},
		{"fit", 0, 0, G_OPTION_ARG_STRING, &options->fit,
			"As large as this paper has room for", "PAPER"},
		{"scale", 0, 0, G_OPTION_ARG_STRING, &options->scale,
			"legible (the default), or fabric: true to size", "SCALE"},
		{"practice", 0, 0, G_OPTION_ARG_NONE, &options->practice,
			"Sheets with empty cells to fill in, each with its answer behind it", NULL},
		{"piece", 0, 0, G_OPTION_ARG_STRING, &options->piece, "The piece with this name", "NAME"},
		{"rows", 0, 0, G_OPTION_ARG_STRING, &options->rows, "These rows, not the repeat", "3-6"},
		{"full", 0, 0, G_OPTION_ARG_NONE, &options->full,
			"Every stitch of the largest size, with a bracket for each size", NULL},
		{"view", 0, 0, G_OPTION_ARG_STRING, &options->view,
			"Wrong side rows as worked (the default), or as seen from the right-side", "VIEW"},
		SIZE, TERMS, HAND, INK, TITLE,
		{G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &rest, NULL, NULL},
		{0},
	};
	g_autoptr(GOptionContext) context = g_option_context_new("PATTERN");
	g_autofree char *name = g_strdup_printf("tambour %s", command->name);
	g_autoptr(GError) error = NULL;

	g_set_prgname(name);
	g_option_context_set_summary(context, command->summary);
	g_option_context_add_main_entries(context, command == &tb_command_sheet ? sheet : poster, NULL);
	if (!g_option_context_parse(context, &argc, &argv, &error))
		return complain("%s", error->message);
	if (rest == NULL || rest[0] == NULL)
		return complain("%s", "name one pattern file, or - for standard input");
	if (rest[1] != NULL)
		return complain("one pattern file at a time; what is '%s'?", rest[1]);
	if (options->output == NULL)
		return complain("%s", "say where the pages go: -o FILE.pdf");
	if (g_strcmp0(options->output, "-") != 0 && !g_str_has_suffix(options->output, ".pdf"))
		return complain("pages are written as .pdf, not '%s'", options->output);
	options->input = g_strdup(rest[0]);
	return true;
}

bool tb_print_paper(const char *option, const char *value, tb_paper *paper)
{
	if (value == NULL || tb_paper_find(value, paper))
		return true;
	fprintf(stderr, "tambour: --%s is a4, a3, letter or tabloid, not '%s'\n", option, value);
	return false;
}

static int write_pages(const tb_pages *pages, const char *path)
{
	g_autoptr(GError) error = NULL;
	tb_output_options how = {.created = tb_output_time()};
	g_autoptr(tb_document) document = tb_pages_draw(pages);
	g_autoptr(GByteArray) bytes = tb_output_render_document(document, &how, &error);
	if (bytes != NULL && tb_output_write(path, bytes->data, bytes->len, &error))
		return TB_EXIT_DONE;
	complain("%s", error->message);
	return TB_EXIT_FILE;
}

typedef tb_pages *(*print_function)(tb_loaded *loaded, const tb_options *options,
	const tb_text_measure *measure, int *status);

static int print_loaded(tb_loaded *loaded, const tb_options *options, print_function print)
{
	/* Nobody should work from a pattern that does not come out. */
	if (loaded->worked == NULL || tb_diagnostics_count_errors(loaded->diagnostics) > 0)
		return tb_loaded_report(loaded);
	tb_type *type = tb_type_create();
	if (type == NULL) {
		complain("%s", "no font was found to write with");
		return TB_EXIT_FILE;
	}
	tb_text_measure measure = tb_type_get_measure(type);
	int status = TB_EXIT_DONE;
	g_autoptr(tb_pages) pages = print(loaded, options, &measure, &status);
	if (status == TB_EXIT_DONE)
		status = tb_loaded_report(loaded);
	if (pages != NULL)
		status = write_pages(pages, options->output);
	tb_type_destroy(type);
	return status;
}

int tb_print_run(const tb_command *command, int argc, char **argv, print_function print)
{
	tb_options options = {0};
	tb_loaded loaded = {0};
	int status = TB_EXIT_USAGE;
	if (read_options(command, argc, argv, &options)) {
		status = tb_load(options.input, &loaded);
		if (status == TB_EXIT_DONE)
			status = print_loaded(&loaded, &options, print);
		tb_loaded_finish(&loaded);
	}
	tb_options_finish(&options);
	return status;
}
