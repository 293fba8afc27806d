#include "command.h"

#include <tambour/specimen.h>

static int write_specimen(const tb_options *options)
{
	tb_type_start_quickly();
	tb_type *type = tb_type_create();
	if (type == NULL) {
		tb_complain("no font was found to write with");
		return TB_EXIT_FILE;
	}
	g_autoptr(tb_library) library = tb_library_create();
	tb_text_measure measure = tb_type_get_measure(type);
	tb_specimen_options how = {.uk_terms = options->chart.uk_terms, .grey = options->chart.grey};
	tb_drawing *drawing = tb_specimen_draw(library, &how, &measure);
	tb_output_options output = {.dpi = options->dpi, .created = tb_output_time()};
	g_autoptr(GError) error = NULL;
	g_autoptr(GByteArray) bytes =
		tb_output_render(drawing, tb_outputs_extension(options->output), &output, &error);
	tb_drawing_destroy(drawing);
	tb_type_destroy(type);
	if (bytes != NULL && tb_output_write(options->output, bytes->data, bytes->len, &error))
		return TB_EXIT_DONE;
	tb_complain("%s", error->message);
	return TB_EXIT_FILE;
}

static int run(int argc, char **argv)
{
	tb_options options;
	int status = TB_EXIT_USAGE;
	if (tb_options_read(&tb_command_symbols, argc, argv, &options) &&
		tb_outputs_is_kind(&tb_command_symbols, options.output))
		status = write_specimen(&options);
	tb_options_finish(&options);
	return status;
}

const tb_command tb_command_symbols = {
	.name = "symbols",
	.arguments = "-o FILE",
	.summary = "Specimen of every symbol, as .svg, .pdf or .png.",
	.options = TB_OF_SYMBOLS,
	.product = "a specimen",
	.endings = ".svg, .pdf or .png",
	.writes = true,
	.run = run,
};
