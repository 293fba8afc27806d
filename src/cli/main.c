#include "command.h"

#include <locale.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>

static const tb_command *const commands[] = {
	&tb_command_check,
	&tb_command_chart,
	&tb_command_rows,
	&tb_command_sheet,
	&tb_command_poster,
	&tb_command_page,
	&tb_command_symbols,
};

static void print_usage(FILE *to)
{
	fputs("tambour turns written, graded crochet patterns into symbol charts.\n\nUsage:\n", to);
	for (gsize i = 0; i < G_N_ELEMENTS(commands); i++)
		fprintf(to, "  tambour %-7s %-18s %s\n", commands[i]->name, commands[i]->arguments,
			commands[i]->summary);
	fputs("\n  tambour COMMAND --help tells a command's options.\n", to);
}

int main(int argc, char **argv)
{
	/* Texts are UTF-8 and numbers have points, whatever the reader's country. */
	setlocale(LC_ALL, "C.UTF-8");
	/* A closed pipe is a write that fails, and is told as one. */
	signal(SIGPIPE, SIG_IGN);
	if (argc < 2) {
		print_usage(stderr);
		return TB_EXIT_USAGE;
	}
	if (strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "-h") == 0) {
		print_usage(stdout);
		return TB_EXIT_DONE;
	}
	if (strcmp(argv[1], "--version") == 0) {
		printf("tambour %s\n", TB_VERSION);
		return TB_EXIT_DONE;
	}
	for (gsize i = 0; i < G_N_ELEMENTS(commands); i++)
		if (strcmp(argv[1], commands[i]->name) == 0)
			return commands[i]->run(argc - 1, argv + 1);
	fprintf(stderr, "tambour: there is no command '%s'\n", argv[1]);
	print_usage(stderr);
	return TB_EXIT_USAGE;
}
