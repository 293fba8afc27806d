/*
 * Runs a command, and writes into a file what it cost: the seconds it took, the processor's seconds
 * of it and of all it started, and the most memory that one process had, in KiB.
 *
 *     cost FILE COMMAND ARGUMENT...
 *
 * Ends with the command's status.
 */
#include <stdio.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

static double seconds(struct timeval time)
{
	return (double)time.tv_sec + (double)time.tv_usec / 1e6;
}

static double now(void)
{
	struct timespec time;
	clock_gettime(CLOCK_MONOTONIC, &time);
	return (double)time.tv_sec + (double)time.tv_nsec / 1e9;
}

int main(int argc, char **argv)
{
	struct rusage usage;
	int status = 0;

	if (argc < 3) {
		fprintf(stderr, "usage: cost FILE COMMAND ARGUMENT...\n");
		return 2;
	}
	double start = now();
	pid_t child = fork();
	if (child == 0) {
		execvp(argv[2], argv + 2);
		_exit(127);
	}
	if (child < 0 || wait4(child, &status, 0, &usage) != child) {
		perror("cost");
		return 2;
	}
	FILE *file = fopen(argv[1], "w");
	if (file == NULL || fprintf(file, "%.3f %.3f %ld\n", now() - start,
			seconds(usage.ru_utime) + seconds(usage.ru_stime), usage.ru_maxrss) < 0 ||
		fclose(file) != 0) {
		perror(argv[1]);
		return 2;
	}
	return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}
