/* Commands whose result is a text on standard output. */
#include "command.h"

#include <stdio.h>
#include <string.h>

static int say(tb_loaded *loaded, const tb_options *options, tb_text_fn make)
{
	int status = TB_EXIT_DONE;
	if (loaded->pattern == NULL || loaded->worked == NULL)
		return tb_loaded_report(loaded);
	g_autofree char *text = make(loaded, options, &status);
	if (status == TB_EXIT_USAGE)
		return status;
	status = tb_loaded_report(loaded);
	g_autoptr(GError) error = NULL;
	if (text != NULL && !tb_output_write("-", text, strlen(text), &error)) {
		fprintf(stderr, "tambour: %s\n", error->message);
		return TB_EXIT_FILE;
	}
	return status;
}

int tb_text_run(const tb_command *command, int argc, char **argv, tb_text_fn make)
{
	tb_options options;
	tb_loaded loaded = {0};
	int status = TB_EXIT_USAGE;
	if (tb_options_read(command, argc, argv, false, &options)) {
		status = tb_load(options.input, &loaded);
		if (status == TB_EXIT_DONE)
			status = say(&loaded, &options, make);
		tb_loaded_finish(&loaded);
	}
	tb_options_finish(&options);
	return status;
}
