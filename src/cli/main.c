#include "command.h"

#include <errno.h>
#include <fcntl.h>
#include <locale.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

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

/* A file opened later must not become standard output because nobody had opened that. */
static void open_standard_streams(void)
{
	for (int stream = STDIN_FILENO; stream <= STDERR_FILENO; stream++)
		if (fcntl(stream, F_GETFD) < 0 &&
			open("/dev/null", stream == STDIN_FILENO ? O_WRONLY : O_RDONLY) < 0)
			_exit(TB_EXIT_FILE);
}

/* What --help and --version print is out only when it is written. */
static void close_output(void)
{
	bool failed = ferror(stdout) != 0;
	errno = 0;
	if (fflush(stdout) == 0 && !failed)
		return;
	tb_complain("cannot write to standard output%s%s", errno != 0 ? ": " : "",
		errno != 0 ? g_strerror(errno) : "");
	_exit(TB_EXIT_FILE);
}

int main(int argc, char **argv)
{
	/* Texts are UTF-8 and numbers have points, whatever the reader's country. */
	setlocale(LC_ALL, "C.UTF-8");
	/* A closed pipe, or a file too large for the shell, is a write that fails, told as one. */
	signal(SIGPIPE, SIG_IGN);
	signal(SIGXFSZ, SIG_IGN);
	open_standard_streams();
	atexit(close_output);
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
	for (gsize i = 0; i < G_N_ELEMENTS(commands); i++) {
		const tb_command *command = commands[i];
		if (strcmp(argv[1], command->name) == 0)
			return command->run != NULL ? command->run(argc - 1, argv + 1) :
				tb_make(command, argc - 1, argv + 1);
	}
	fprintf(stderr, "tambour: there is no command '%s'\n", argv[1]);
	print_usage(stderr);
	return TB_EXIT_USAGE;
}
