/*
 * What a command costs: user and system time together, in seconds; the most memory, in KiB; and its
 * status.
 *
 *     cost COMMAND ARGUMENT...
 */
#include <fcntl.h>
#include <stdio.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

int main(int argc, char **argv)
{
	struct rusage usage;
	int status = 0;

	if (argc < 2) {
		fprintf(stderr, "usage: cost COMMAND ARGUMENT...\n");
		return 2;
	}
	pid_t child = fork();
	if (child == 0) {
		int nowhere = open("/dev/null", O_WRONLY);
		if (nowhere >= 0 && dup2(nowhere, STDOUT_FILENO) >= 0 && dup2(nowhere, STDERR_FILENO) >= 0)
			execvp(argv[1], argv + 1);
		_exit(127);
	}
	if (child < 0 || wait4(child, &status, 0, &usage) != child) {
		perror("cost");
		return 1;
	}
	double seconds = (double)(usage.ru_utime.tv_sec + usage.ru_stime.tv_sec) +
					 (double)(usage.ru_utime.tv_usec + usage.ru_stime.tv_usec) / 1e6;
	printf("%.3f %ld %d\n", seconds, usage.ru_maxrss,
		WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status));
	return 0;
}
