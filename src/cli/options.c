/*
 * The options of all commands, in one table. What stands behind an option is read where it is
 * found, so that a command line that is wrong is told before any pattern is opened; only the names
 * of a piece and of a size wait for the pattern.
 */
#include "command.h"

#include <string.h>

typedef struct {
	unsigned commands;
	gsize member; /* what a text, a flag or a number goes into */
	GOptionEntry entry;
} option;

#define TEXT(commands, name, member, description, value) \
	{commands, offsetof(tb_options, member), \
		{name, 0, 0, G_OPTION_ARG_STRING, NULL, description, value}}
#define FLAG(commands, name, member, description) \
	{commands, offsetof(tb_options, member), \
		{name, 0, 0, G_OPTION_ARG_NONE, NULL, description, NULL}}
#define READ(commands, name, reader, description, value) \
	{commands, 0, {name, 0, 0, G_OPTION_ARG_CALLBACK, (gpointer)(reader), description, value}}
#define OUTPUT(commands, description, value) \
	{commands, 0, {"output", 'o', G_OPTION_FLAG_FILENAME, G_OPTION_ARG_CALLBACK, \
		(gpointer)tb_value_output, description, value}}

#define PICTURES (TB_OF_CHART | TB_OF_SYMBOLS)
#define PAPERS (TB_OF_SHEET | TB_OF_POSTER)
#define CHARTS (TB_OF_CHART | TB_OF_POSTER)
#define TEXTS (TB_OF_CHECK | TB_OF_ROWS)

static const option OPTIONS[] = {
	OUTPUT(TB_OF_CHART, "Write .svg, .pdf, .png or .json; - is standard output, as SVG", "FILE"),
	OUTPUT(TB_OF_SYMBOLS, "Write .svg, .pdf or .png; - is standard output, as SVG", "FILE"),
	OUTPUT(PAPERS, "Write this .pdf; - is standard output", "FILE"),
	OUTPUT(TB_OF_PAGE, "Write the page; - is standard output", "FILE.html"),
	READ(TB_OF_CHART, "paper", tb_value_paper, "Fit one page: a4, a3, letter or tabloid", "PAPER"),
	READ(TB_OF_SHEET, "paper", tb_value_paper, "a4 (the default), a3, letter or tabloid", "PAPER"),
	READ(TB_OF_POSTER, "paper", tb_value_paper,
		"What is printed on: a4 (the default), a3, letter or tabloid", "PAPER"),
	FLAG(TB_OF_SHEET, "large-print", large_print, "Type of 18 points and more"),
	TEXT(CHARTS | TEXTS, "piece", piece, "The piece with this name", "NAME"),
	TEXT(TB_OF_PAGE, "piece", piece, "Only the piece with this name", "NAME"),
	READ(TB_OF_CHART, "rows", tb_value_rows, "Only these rows", "3-6"),
	READ(TB_OF_POSTER, "rows", tb_value_rows, "These rows, not the repeat", "3-6"),
	READ(TB_OF_PAGE, "rows", tb_value_rows, "Chart only these rows", "3-6"),
	TEXT(TB_OF_CHART | PAPERS, "size", size, "Only this size", "M"),
	TEXT(TB_OF_ROWS, "size", size, "The numbers of this size alone", "M"),
	TEXT(TB_OF_PAGE, "size", size, "The size chosen at first", "M"),
	FLAG(CHARTS, "full", full, "Every stitch of the largest size, with a bracket for each size"),
	READ(CHARTS, "scale", tb_value_choice, "legible (the default), or fabric: true to size",
		"SCALE"),
	READ(TB_OF_CHART, "stitch-width", tb_value_width, "Width of a stitch on paper", "25mm"),
	READ(TB_OF_POSTER, "stitch-width", tb_value_width, "Width of a stitch on paper (25mm)", "25mm"),
	READ(TB_OF_POSTER, "sheets", tb_value_sheets,
		"As large as so many sheets have room for, across x down", "3x2"),
	READ(TB_OF_POSTER, "fit", tb_value_paper, "As large as this paper has room for", "PAPER"),
	FLAG(TB_OF_POSTER, "practice", practice,
		"Sheets with empty cells to fill in, each with its answer behind it"),
	READ(TB_OF_CHART | PAPERS, "hand", tb_value_choice, "right (the default) or left", "HAND"),
	READ(TB_OF_PAGE, "hand", tb_value_choice, "right (the default) or left at first", "HAND"),
	READ(TB_OF_CHART | PAPERS | TB_OF_ROWS, "terms", tb_value_choice, "us (the default) or uk",
		"TERMS"),
	READ(TB_OF_PAGE, "terms", tb_value_choice, "us (the default) or uk at first", "TERMS"),
	READ(TB_OF_SYMBOLS, "terms", tb_value_choice, "us (the default) or uk first", "TERMS"),
	READ(PICTURES | PAPERS, "ink", tb_value_choice, "colour (the default) or grey", "INK"),
	READ(CHARTS | TB_OF_PAGE, "view", tb_value_view,
		"Wrong side rows as worked, or as seen from the right-side (the default where there are posts)", "VIEW"),
	TEXT(TB_OF_CHART | PAPERS | TB_OF_PAGE, "title", title, "Another title", "TEXT"),
	{PICTURES, offsetof(tb_options, dpi),
		{"dpi", 0, 0, G_OPTION_ARG_DOUBLE, NULL, "Dots to the inch of a PNG (200)", "N"}},
	FLAG(TB_OF_CHECK, "json", json, "One JSON object"),
	FLAG(TB_OF_CHECK, "remarks", remarks, "What was read past, line by line, instead of the table"),
	FLAG(TB_OF_CHART, "watch", watch,
		"Draw the chart again whenever the pattern is saved, until ^C"),
	FLAG(TB_OF_PAGE, "watch", watch,
		"Write the page again whenever the pattern is saved, until ^C"),
	{~0u, offsetof(tb_options, inputs),
		{G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, NULL, NULL, NULL}},
};

static void add_entries(GOptionGroup *group, unsigned command, tb_options *options)
{
	GOptionEntry entries[G_N_ELEMENTS(OPTIONS) + 1] = {0};
	gsize count = 0;
	for (gsize i = 0; i < G_N_ELEMENTS(OPTIONS); i++) {
		if ((OPTIONS[i].commands & command) == 0)
			continue;
		GOptionEntry *entry = &entries[count++];
		*entry = OPTIONS[i].entry;
		if (entry->arg != G_OPTION_ARG_CALLBACK)
			entry->arg_data = (char *)options + OPTIONS[i].member;
	}
	g_option_group_add_entries(group, entries);
}

static bool parse(const tb_command *command, int argc, char **argv, tb_options *options)
{
	g_autofree char *name = g_strdup_printf("tambour %s", command->name);
	g_autoptr(GOptionContext) context =
		g_option_context_new(command->make == NULL ? NULL : "PATTERN...");
	g_autoptr(GError) error = NULL;

	g_set_prgname(name);
	g_option_context_set_summary(context, command->summary);
	if (command->make != NULL && command->writes)
		g_option_context_set_description(context,
			"With several patterns, {} in FILE stands for the name of each, without folder and\n"
			"ending: -o 'out/{}.svg'. The options are the same for all of them.\n");
	/* The context takes the group over. */
	GOptionGroup *group = g_option_group_new(NULL, NULL, NULL, options, NULL);
	add_entries(group, command->options, options);
	g_option_context_set_main_group(context, group);
	if (!g_option_context_parse(context, &argc, &argv, &error))
		return tb_complain("%s", error->message);
	options->chart.full = options->full;
	options->chart.title = options->title;
	return true;
}

/* Whether the patterns named go with the options. */
static bool check_inputs(const tb_options *options)
{
	if (options->inputs == NULL || options->inputs[0] == NULL)
		return tb_complain("name a pattern file, or - for standard input");
	unsigned count = g_strv_length(options->inputs), standard = 0;
	for (unsigned i = 0; i < count; i++)
		standard += strcmp(options->inputs[i], "-") == 0;
	if (standard > 1)
		return tb_complain("standard input, -, can be read only once");
	if (options->watch && count > 1)
		return tb_complain("--watch follows one pattern; what is '%s'?", options->inputs[1]);
	if (options->watch && standard > 0)
		return tb_complain("--watch needs a pattern file, not standard input");
	if (options->json && count > 1)
		return tb_complain("--json is about one pattern; what is '%s'?", options->inputs[1]);
	return true;
}

bool tb_options_read(const tb_command *command, int argc, char **argv, tb_options *options)
{
	*options = (tb_options){0};
	if (!parse(command, argc, argv, options))
		return false;
	if (command->make == NULL && options->inputs != NULL)
		return tb_complain("%s takes no file to read; what is '%s'?", command->name,
			options->inputs[0]);
	if (command->make != NULL && !check_inputs(options))
		return false;
	if (command->writes && options->output == NULL)
		return tb_complain("say where %s goes: -o FILE%s", command->product, command->endings);
	return command->agree == NULL || command->agree(options);
}

void tb_options_finish(tb_options *options)
{
	g_strfreev(options->inputs);
	g_free(options->output);
	g_free(options->piece);
	g_free(options->size);
	g_free(options->title);
}

static bool find_piece(tb_job *job)
{
	const char *name = job->options->piece;
	job->piece = -1;
	if (name == NULL)
		return true;
	job->piece = tb_pattern_find_piece(job->loaded.pattern, name);
	if (job->piece < 0) {
		tb_progress_hide(job->progress);
		return tb_complain("%s: there is no piece '%s'", job->input, name);
	}
	job->chart.piece = (unsigned)job->piece;
	return true;
}

static bool find_size(tb_job *job)
{
	const tb_pattern *pattern = job->loaded.pattern;
	const char *name = job->options->size;
	if (name == NULL)
		return true;
	job->chart.size = tb_pattern_find_size(pattern, name) + 1;
	if (job->chart.size > 0)
		return true;
	g_autoptr(GString) names = g_string_new(NULL);
	for (unsigned i = 0; i < tb_pattern_count_sizes(pattern); i++)
		g_string_append_printf(names, "%s%s", i > 0 ? ", " : "", tb_pattern_get_size(pattern, i));
	tb_progress_hide(job->progress);
	return tb_complain("%s: there is no size '%s'; %s%s", job->input, name,
		names->len > 0 ? "the sizes are " : "the pattern has one size", names->str);
}

bool tb_options_fit(tb_job *job)
{
	job->chart = job->options->chart;
	return find_piece(job) && find_size(job);
}
