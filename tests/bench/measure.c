/*
 * Runs commands in turn, each as many times, and prints a line for every command: the least user
 * time and the least and the middle user and system time together, in seconds; the most memory in
 * KiB; and the last status that was not 0.
 *
 *     measure TIMES COMMAND ARGUMENT... [-- COMMAND ARGUMENT...]...
 *
 * In turn, so that whatever else the machine does falls on all of them alike.
 */
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

typedef struct {
	char **arguments;
	double *user, *both;
	long memory;
	int status;
} command;

static double seconds(struct timeval time)
{
	return (double)time.tv_sec + (double)time.tv_usec / 1e6;
}

static int run(command *c, int turn)
{
	struct rusage usage;
	int status = 0;
	pid_t child = fork();

	if (child == 0) {
		int nowhere = open("/dev/null", O_WRONLY);
		if (nowhere < 0 || dup2(nowhere, STDOUT_FILENO) < 0 || dup2(nowhere, STDERR_FILENO) < 0)
			_exit(127);
		execvp(c->arguments[0], c->arguments);
		_exit(127);
	}
	if (child < 0 || wait4(child, &status, 0, &usage) != child)
		return -1;
	c->user[turn] = seconds(usage.ru_utime);
	c->both[turn] = c->user[turn] + seconds(usage.ru_stime);
	if (usage.ru_maxrss > c->memory)
		c->memory = usage.ru_maxrss;
	int code = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
	if (code != 0)
		c->status = code;
	return 0;
}

static int compare(const void *a, const void *b)
{
	double first = *(const double *)a, second = *(const double *)b;
	return (first > second) - (first < second);
}

int main(int argc, char **argv)
{
	int times = argc > 2 ? atoi(argv[1]) : 0;
	command *commands = calloc((size_t)argc, sizeof *commands);
	int count = 0;

	if (times < 1 || commands == NULL) {
		fprintf(stderr, "usage: measure TIMES COMMAND ARGUMENT... [-- COMMAND ARGUMENT...]...\n");
		return 2;
	}
	for (int i = 2; i < argc; i++) {
		commands[count++].arguments = argv + i;
		while (i < argc && strcmp(argv[i], "--") != 0)
			i++;
		if (i < argc)
			argv[i] = NULL;
	}
	for (int k = 0; k < count; k++) {
		commands[k].user = calloc((size_t)times, sizeof(double));
		commands[k].both = calloc((size_t)times, sizeof(double));
	}
	for (int turn = 0; turn < times; turn++)
		for (int k = 0; k < count; k++)
			if (run(&commands[k], turn) != 0) {
				perror("measure");
				return 1;
			}
	for (int k = 0; k < count; k++) {
		command *c = &commands[k];
		qsort(c->user, (size_t)times, sizeof(double), compare);
		qsort(c->both, (size_t)times, sizeof(double), compare);
		printf("%.6f %.6f %.6f %ld %d\n", c->user[0], c->both[0], c->both[times / 2], c->memory,
			c->status);
	}
	return 0;
}
