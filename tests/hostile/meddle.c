/*
 * Stands between the program and the system, and does at one exact call what a full disk, a power
 * cut, an impatient user or another program would do at some moment:
 *
 *     MEDDLE="CALL:NUMBER:DEED ..." LD_PRELOAD=libmeddle.so tambour ...
 *
 * CALL is write, fsync, linkat, rename, open or fread; NUMBER says which of these calls, from 1, 0
 * being all. Writes count where they go to a file on a disk, opens where they make a file without a
 * name. DEEDs: an error (full, broken, refused, unknown), "half" of a write, a signal (kill, term,
 * int) before the call, or after the first half of a write; for fread, after the call: "touch" the
 * file $MEDDLE_FILE, "cut" it to 10 bytes, or "save" the file $MEDDLE_NEW over it, in place.
 */
#define _GNU_SOURCE
#undef _FILE_OFFSET_BITS /* it would make one function of open and open64 */
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define MOST_ASKED 4

/* The deed due at this CALL, or NULL. */
static const char *deed(const char *call)
{
	static long calls[MOST_ASKED];
	static char deeds[MOST_ASKED][16];
	const char *asked = getenv("MEDDLE");

	for (int i = 0; asked != NULL && i < MOST_ASKED; i++) {
		char name[16];
		long number;
		int length = 0;
		if (sscanf(asked, " %15[a-z]:%ld:%15[a-z]%n", name, &number, deeds[i], &length) < 3)
			return NULL;
		asked += length;
		if (strcmp(name, call) == 0 && (++calls[i] == number || number == 0))
			return deeds[i];
	}
	return NULL;
}

static int number_of(const char *name)
{
	static const struct {
		const char *name;
		int number;
	} names[] = {{"full", ENOSPC}, {"broken", EIO}, {"refused", EPERM}, {"unknown", EOPNOTSUPP}};
	for (size_t i = 0; i < sizeof names / sizeof *names; i++)
		if (strcmp(names[i].name, name) == 0)
			return names[i].number;
	return 0;
}

static int signal_of(const char *name)
{
	return strcmp(name, "kill") == 0   ? SIGKILL
		   : strcmp(name, "term") == 0 ? SIGTERM
		   : strcmp(name, "int") == 0  ? SIGINT
									   : 0;
}

/* Does it; true where the call is not to be made, errno saying why. */
static int fails(const char *what)
{
	if (what == NULL)
		return 0;
	if (signal_of(what) != 0)
		kill(getpid(), signal_of(what));
	errno = number_of(what);
	return errno != 0;
}

ssize_t write(int file, const void *bytes, size_t length)
{
	ssize_t (*real)(int, const void *, size_t) = dlsym(RTLD_NEXT, "write");
	struct stat status;
	const char *what = fstat(file, &status) == 0 && S_ISREG(status.st_mode) ? deed("write") : NULL;

	if (what == NULL || length < 2)
		return real(file, bytes, length);
	ssize_t written = real(file, bytes, length / 2);
	if (!fails(what))
		return written;
	return -1;
}

int fsync(int file)
{
	int (*real)(int) = dlsym(RTLD_NEXT, "fsync");
	return fails(deed("fsync")) ? -1 : real(file);
}

int linkat(int from, const char *old, int to, const char *path, int flags)
{
	int (*real)(int, const char *, int, const char *, int) = dlsym(RTLD_NEXT, "linkat");
	return fails(deed("linkat")) ? -1 : real(from, old, to, path, flags);
}

int rename(const char *from, const char *to)
{
	int (*real)(const char *, const char *) = dlsym(RTLD_NEXT, "rename");
	return fails(deed("rename")) ? -1 : real(from, to);
}

static int open_as(const char *name, const char *path, int flags, mode_t mode)
{
	int (*real)(const char *, int, ...) = dlsym(RTLD_NEXT, name);
	if ((flags & O_TMPFILE) == O_TMPFILE && fails(deed("open")))
		return -1;
	return real(path, flags, mode);
}

#define OPEN(NAME)                                                                                 \
	int NAME(const char *path, int flags, ...)                                                     \
	{                                                                                              \
		va_list rest;                                                                              \
		va_start(rest, flags);                                                                     \
		mode_t mode =                                                                              \
			(flags & O_CREAT) != 0 || (flags & O_TMPFILE) == O_TMPFILE ? va_arg(rest, mode_t) : 0; \
		va_end(rest);                                                                              \
		return open_as(#NAME, path, flags, mode);                                                  \
	}

OPEN(open)
OPEN(open64)

/* FILE becomes what NEW holds, as an editor that saves in place makes it. */
static void save(const char *file, const char *new)
{
	char bytes[65536];
	ssize_t got;
	int from = open(new, O_RDONLY), to = open(file, O_WRONLY | O_TRUNC);
	while ((got = read(from, bytes, sizeof bytes)) > 0)
		if (write(to, bytes, (size_t)got) != got)
			abort();
	close(from);
	close(to);
}

size_t fread(void *bytes, size_t size, size_t count, FILE *stream)
{
	size_t (*real)(void *, size_t, size_t, FILE *) = dlsym(RTLD_NEXT, "fread");
	size_t got = real(bytes, size, count, stream);
	const char *what = deed("fread"), *file = getenv("MEDDLE_FILE");

	if (what == NULL || file == NULL)
		return got;
	if (strcmp(what, "touch") == 0)
		utimensat(AT_FDCWD, file, NULL, 0);
	else if (strcmp(what, "cut") == 0)
		(void)!truncate(file, 10);
	else if (strcmp(what, "save") == 0)
		save(file, getenv("MEDDLE_NEW"));
	return got;
}
