#include "command.h"

#include <stdio.h>
#include <string.h>

static bool complain(const char *format, const char *value)
{
	fputs("tambour: ", stderr);
	fprintf(stderr, format, value);
	fputc('\n', stderr);
	return false;
}

bool tb_options_read(const tb_command *command, int argc, char **argv, bool needs_output,
	tb_options *options)
{
	*options = (tb_options){0};
	g_auto(GStrv) rest = NULL;
	const GOptionEntry check_entries[] = {
		{"piece", 0, 0, G_OPTION_ARG_STRING, &options->piece, "The piece with this name", "NAME"},
		{"json", 0, 0, G_OPTION_ARG_NONE, &options->json, "One JSON object", NULL},
		{G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &rest, NULL, NULL},
		{0},
	};
	const GOptionEntry rows_entries[] = {
		{"piece", 0, 0, G_OPTION_ARG_STRING, &options->piece, "The piece with this name", "NAME"},
		{"size", 0, 0, G_OPTION_ARG_STRING, &options->size, "The numbers of this size alone", "M"},
		{"terms", 0, 0, G_OPTION_ARG_STRING, &options->terms, "us (the default) or uk", "TERMS"},
		{G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &rest, NULL, NULL},
		{0},
	};
	const GOptionEntry chart_entries[] = {
		{"output", 'o', 0, G_OPTION_ARG_FILENAME, &options->output,
			"Write .svg, .pdf, .png or .json; - is standard output, as SVG", "FILE"},
		{"piece", 0, 0, G_OPTION_ARG_STRING, &options->piece, "The piece with this name", "NAME"},
		{"rows", 0, 0, G_OPTION_ARG_STRING, &options->rows, "Only these rows", "3-6"},
		{"size", 0, 0, G_OPTION_ARG_STRING, &options->size, "Only this size", "M"},
		{"full", 0, 0, G_OPTION_ARG_NONE, &options->full,
			"Every stitch of the largest size, with a bracket for each size", NULL},
		{"scale", 0, 0, G_OPTION_ARG_STRING, &options->scale,
			"legible (the default), or fabric: true to size", "SCALE"},
		{"stitch-width", 0, 0, G_OPTION_ARG_STRING, &options->stitch_width,
			"Width of a stitch on paper", "25mm"},
		{"hand", 0, 0, G_OPTION_ARG_STRING, &options->hand, "right (the default) or left", "HAND"},
		{"terms", 0, 0, G_OPTION_ARG_STRING, &options->terms, "us (the default) or uk", "TERMS"},
		{"ink", 0, 0, G_OPTION_ARG_STRING, &options->ink, "colour (the default) or grey", "INK"},
		{"view", 0, 0, G_OPTION_ARG_STRING, &options->view,
			"Wrong side rows as worked (the default), or as seen from the right-side", "VIEW"},
		{"title", 0, 0, G_OPTION_ARG_STRING, &options->title, "Another title", "TEXT"},
		{"dpi", 0, 0, G_OPTION_ARG_DOUBLE, &options->dpi, "Dots to the inch of a PNG (200)", "N"},
		{"watch", 0, 0, G_OPTION_ARG_NONE, &options->watch,
			"Draw the chart again whenever the pattern is saved, until ^C", NULL},
		{G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &rest, NULL, NULL},
		{0},
	};
	const GOptionEntry page_entries[] = {
		{"output", 'o', 0, G_OPTION_ARG_FILENAME, &options->output,
			"Write the page; - is standard output", "FILE.html"},
		{"piece", 0, 0, G_OPTION_ARG_STRING, &options->piece, "Only the piece with this name", "NAME"},
		{"rows", 0, 0, G_OPTION_ARG_STRING, &options->rows, "Chart only these rows", "3-6"},
		{"size", 0, 0, G_OPTION_ARG_STRING, &options->size, "The size chosen at first", "M"},
		{"hand", 0, 0, G_OPTION_ARG_STRING, &options->hand, "right (the default) or left at first",
			"HAND"},
		{"terms", 0, 0, G_OPTION_ARG_STRING, &options->terms, "us (the default) or uk at first",
			"TERMS"},
		{"view", 0, 0, G_OPTION_ARG_STRING, &options->view,
			"Wrong side rows as worked (the default), or as seen from the right-side", "VIEW"},
		{"title", 0, 0, G_OPTION_ARG_STRING, &options->title, "Another title", "TEXT"},
		{"watch", 0, 0, G_OPTION_ARG_NONE, &options->watch,
			"Write the page again whenever the pattern is saved, until ^C", NULL},
		{G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &rest, NULL, NULL},
		{0},
	};
	g_autoptr(GOptionContext) context = g_option_context_new("PATTERN");
	g_autofree char *name = g_strdup_printf("tambour %s", command->name);
	g_autoptr(GError) error = NULL;

	g_set_prgname(name);
	g_option_context_set_summary(context, command->summary);
	g_option_context_add_main_entries(context, command == &tb_command_page ? page_entries
		: needs_output ? chart_entries
		: command == &tb_command_rows ? rows_entries : check_entries, NULL);
	if (!g_option_context_parse(context, &argc, &argv, &error))
		return complain("%s", error->message);
	if (rest == NULL || rest[0] == NULL)
		return complain("%s", "name one pattern file, or - for standard input");
	if (rest[1] != NULL)
		return complain("one pattern file at a time; what is '%s'?", rest[1]);
	if (needs_output && options->output == NULL)
		return complain("say where the result goes: -o %s", command == &tb_command_page ? "FILE.html" :
			"FILE.svg, .pdf, .png or .json");
	if (options->watch && strcmp(rest[0], "-") == 0)
		return complain("%s", "--watch needs a pattern file, not standard input");
	options->input = g_strdup(rest[0]);
	return true;
}

void tb_options_finish(tb_options *options)
{
	char **const strings[] = {&options->input, &options->output, &options->piece, &options->rows,
		&options->size, &options->terms, &options->hand, &options->ink, &options->scale,
		&options->stitch_width, &options->title, &options->view, &options->paper,
		&options->sheets, &options->fit};
	for (gsize i = 0; i < G_N_ELEMENTS(strings); i++)
		g_clear_pointer(strings[i], g_free);
}

/* One of two words; *second tells which. */
static bool read_choice(const char *value, const char *option, const char *first, const char *other,
	bool *second)
{
	*second = false;
	if (value == NULL || g_ascii_strcasecmp(value, first) == 0)
		return true;
	if (g_ascii_strcasecmp(value, other) == 0) {
		*second = true;
		return true;
	}
	fprintf(stderr, "tambour: --%s is %s or %s, not '%s'\n", option, first, other, value);
	return false;
}

/* "25mm", "2.5 cm", "1in"; a bare number is mm. */
static bool read_length(const char *value, double *mm)
{
	char *end = NULL;
	double number = g_ascii_strtod(value, &end);
	while (*end == ' ')
		end++;
	double unit = *end == '\0' || strcmp(end, "mm") == 0 ? 1 : strcmp(end, "cm") == 0 ? 10 :
		strcmp(end, "in") == 0 ? 25.4 : 0;
	*mm = number * unit;
	if (end == value || unit == 0 || !(*mm >= 1 && *mm <= 400))
		return complain("--stitch-width is a length from 1mm to 400mm, not '%s'", value);
	return true;
}

static bool read_rows(const char *value, unsigned *first, unsigned *last)
{
	char *end = NULL;
	guint64 a = g_ascii_strtoull(value, &end, 10), b = a;
	bool good = end != value && g_ascii_isdigit(value[0]);
	if (good && *end == '-') {
		const char *second = end + 1;
		b = g_ascii_strtoull(second, &end, 10);
		good = end != second && g_ascii_isdigit(*second);
	}
	if (!good || *end != '\0' || a < 1 || b < a || b > G_MAXUINT32 - 1)
		return complain("--rows is a row or a range, such as 3-6, not '%s'", value);
	*first = (unsigned)a;
	*last = (unsigned)b;
	return true;
}

static bool read_size(const char *value, const tb_pattern *pattern, int *size)
{
	int found = tb_pattern_find_size(pattern, value);
	if (found < 0) {
		g_autoptr(GString) names = g_string_new(NULL);
		for (unsigned i = 0; i < tb_pattern_count_sizes(pattern); i++)
			g_string_append_printf(names, "%s%s", i > 0 ? ", " : "",
				tb_pattern_get_size(pattern, i));
		fprintf(stderr, "tambour: there is no size '%s'; %s%s\n", value,
			names->len > 0 ? "the sizes are " : "the pattern has one size", names->str);
		return false;
	}
	*size = found + 1;
	return true;
}

bool tb_options_piece(const tb_options *options, const tb_pattern *pattern, int *piece)
{
	*piece = -1;
	if (options->piece == NULL)
		return true;
	*piece = tb_pattern_find_piece(pattern, options->piece);
	return *piece >= 0 || complain("there is no piece '%s'", options->piece);
}

bool tb_options_chart(const tb_options *options, const tb_pattern *pattern,
	tb_chart_options *result)
{
	int piece;
	*result = (tb_chart_options){.full = options->full, .title = options->title};
	if (!tb_options_piece(options, pattern, &piece))
		return false;
	result->piece = piece < 0 ? 0 : (unsigned)piece;
	if (!read_choice(options->hand, "hand", "right", "left", &result->left_handed) ||
		!read_choice(options->scale, "scale", "legible", "fabric", &result->fabric_scale) ||
		!read_choice(options->terms, "terms", "us", "uk", &result->uk_terms) ||
		!read_choice(options->view, "view", "worked", "right-side", &result->as_seen) ||
		!read_choice(options->ink, "ink", "colour", "grey", &result->grey))
		return false;
	if (options->rows != NULL && !read_rows(options->rows, &result->first_row, &result->last_row))
		return false;
	if (options->size != NULL && !read_size(options->size, pattern, &result->size))
		return false;
	return options->stitch_width == NULL ||
		read_length(options->stitch_width, &result->stitch_width_mm);
}
