/*
 * Runs a command and prints its user time in seconds, its most memory in KiB and its status.
 *
 *     measure COMMAND ARGUMENT...
 */
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

int main(int argc, char **argv)
{
	struct rusage usage;
	int status = 0;

	if (argc < 2) {
		fprintf(stderr, "usage: measure COMMAND ARGUMENT...\n");
		return 2;
	}
	pid_t child = fork();
	if (child == 0) {
		if (freopen("/dev/null", "w", stdout) == NULL)
			_exit(127);
		execvp(argv[1], argv + 1);
		_exit(127);
	}
	if (child < 0 || wait4(child, &status, 0, &usage) != child) {
		perror("measure");
		return 1;
	}
	printf("%ld.%06ld %ld %d\n", (long)usage.ru_utime.tv_sec, (long)usage.ru_utime.tv_usec,
		usage.ru_maxrss, WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status));
	return 0;
}
