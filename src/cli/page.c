#include "command.h"

#include <stdio.h>
#include <string.h>
#include <tambour/page.h>

static int write_page(const char *html, const tb_options *options)
{
	g_autoptr(GError) error = NULL;
	if (tb_output_write(options->output, html, strlen(html), &error))
		return TB_EXIT_DONE;
	fprintf(stderr, "tambour: %s\n", error->message);
	return TB_EXIT_FILE;
}

/* While a pattern is being written, its faults take the page's place: no chart is out of date. */
static int report(tb_loaded *loaded, const tb_options *options)
{
	int status = tb_loaded_report(loaded);
	if (!options->watch || status == TB_EXIT_DONE)
		return status;
	g_autofree char *html = tb_page_faults(loaded->diagnostics);
	int written = write_page(html, options);
	return written == TB_EXIT_DONE ? status : written;
}

static bool read_page_options(const tb_options *options, const tb_pattern *pattern,
	tb_page_options *how)
{
	tb_chart_options said;
	int piece;
	if (!tb_options_chart(options, pattern, &said) || !tb_options_piece(options, pattern, &piece))
		return false;
	*how = (tb_page_options){.piece = piece + 1, .size = said.size, .first_row = said.first_row,
		.last_row = said.last_row, .left_handed = said.left_handed, .uk_terms = said.uk_terms,
		.as_seen = said.as_seen, .watching = options->watch, .title = said.title};
	return true;
}

static int make_page(tb_loaded *loaded, const tb_options *options)
{
	tb_page_options how;
	if (loaded->pattern == NULL || loaded->worked == NULL)
		return report(loaded, options);
	if (!read_page_options(options, loaded->pattern, &how))
		return TB_EXIT_USAGE;
	/* A page of wrong counts would be worked from. */
	if (tb_diagnostics_count_errors(loaded->diagnostics) > 0)
		return report(loaded, options);
	tb_type *type = tb_type_create();
	if (type == NULL) {
		fputs("tambour: no font was found to write with\n", stderr);
		return TB_EXIT_FILE;
	}
	tb_text_measure measure = tb_type_get_measure(type);
	g_autoptr(GError) error = NULL;
	g_autofree char *html =
		tb_page_html(loaded->worked, &how, &measure, loaded->diagnostics, &error);
	tb_type_destroy(type);
	int status = report(loaded, options);
	if (html != NULL)
		return write_page(html, options);
	if (status == TB_EXIT_DONE) {
		fprintf(stderr, "tambour: %s\n", error->message);
		status = TB_EXIT_FILE;
	}
	return status;
}

static int load_and_make(void *data)
{
	const tb_options *options = data;
	tb_loaded loaded = {0};
	int status = tb_load(options->input, &loaded);
	if (status == TB_EXIT_DONE)
		status = make_page(&loaded, options);
	tb_loaded_finish(&loaded);
	return status;
}

static int run(int argc, char **argv)
{
	tb_options options;
	int status = TB_EXIT_USAGE;
	if (tb_options_read(&tb_command_page, argc, argv, true, &options))
		status = options.watch ? tb_watch(options.input, load_and_make, &options) :
			load_and_make(&options);
	tb_options_finish(&options);
	return status;
}

const tb_command tb_command_page = {
	.name = "page",
	.arguments = "PATTERN -o FILE.html",
	.summary = "The learner's page: one file that works offline.",
	.run = run,
};
