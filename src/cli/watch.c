/*
 * Doing a command again whenever its pattern is saved.
 *
 * Editors save in several ways: over the old file, by a new one that takes its name, by taking it
 * away first; a path may lead through links, and over a network where nobody tells of a change. So
 * the file is simply looked at, a few times a second, and read when it has stayed the same for a
 * while.
 */
#include "command.h"

#include <glib/gstdio.h>
#include <signal.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define LOOK_US (100 * 1000)

/* What tells one saving of a file from another; all 0 where there is none. */
typedef struct {
	dev_t device;
	ino_t number;
	off_t size;
	struct timespec saved;
} look;

static look look_at(const char *path)
{
	struct stat status;
	look seen;

	/* Gaps between the members too: looks are compared byte by byte. */
	memset(&seen, 0, sizeof seen);
	if (stat(path, &status) != 0)
		return seen;
	seen.device = status.st_dev;
	seen.number = status.st_ino;
	seen.size = status.st_size;
	seen.saved.tv_sec = status.st_mtim.tv_sec;
	seen.saved.tv_nsec = status.st_mtim.tv_nsec;
	return seen;
}

static bool is_same(const look *a, const look *b)
{
	return memcmp(a, b, sizeof *a) == 0;
}

static bool is_there(const look *seen)
{
	return seen->number != 0;
}

/* Also in the middle of a long chart; a file being written is given its name first (write.c). */
static void end(int number)
{
	(void)number;
	_exit(TB_EXIT_DONE);
}

int tb_watch(const char *path, int (*build)(void *data), void *data)
{
	signal(SIGINT, end);
	signal(SIGTERM, end);
	/* Whoever runs it under nohup wants it to stay. */
	if (signal(SIGHUP, end) == SIG_IGN)
		signal(SIGHUP, SIG_IGN);

	look built = look_at(path);
	/* A command line that is wrong stays wrong, however often the pattern is saved. */
	while (build(data) != TB_EXIT_USAGE) {
		look before, now = look_at(path);
		do {
			before = now;
			g_usleep(LOOK_US);
			now = look_at(path);
		} while (!is_there(&now) || !is_same(&now, &before) || is_same(&now, &built));
		built = now;
	}
	return TB_EXIT_USAGE;
}
