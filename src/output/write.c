/*
 * Bytes to a file, whole or not at all: they are written to a file without a name in the folder,
 * brought to the disk, and only then given the name. So whoever is killed half way leaves nothing
 * behind; where a file is replaced, there is an instant between two calls of the system in which
 * the new one is called .tambour-XXXXXX. A disk that knows no files without names has it under that
 * name from the start. Signals to end wait until the file has its name.
 *
 * What is no plain file (a pipe, a device, standard output) cannot be replaced by a new one and is
 * written straight on, every byte checked.
 */
#define _GNU_SOURCE /* O_TMPFILE */
#include "output/output.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* How often another name is tried where one is taken. */
#define MOST_NAMES 100

static bool fail(GError **error, const char *path, int code)
{
	g_set_error(error, G_FILE_ERROR, (gint)g_file_error_from_errno(code), "cannot write %s: %s",
		strcmp(path, "-") == 0 ? "to standard output" : path, g_strerror(code));
	return false;
}

typedef struct {
	sigset_t before, pending;
} held_signals;

/*
 * A closed pipe and a file past the shell's limit are errors like any other, not the end of the
 * program: their signals are held back in this thread alone. Those that ask the program to end may
 * wait for a file on a disk, but not for whoever reads a pipe.
 */
static void hold_signals(held_signals *held, bool all)
{
	sigset_t set;

	sigemptyset(&set);
	sigaddset(&set, SIGPIPE);
	sigaddset(&set, SIGXFSZ);
	if (all) {
		sigaddset(&set, SIGHUP);
		sigaddset(&set, SIGINT);
		sigaddset(&set, SIGQUIT);
		sigaddset(&set, SIGTERM);
	}
	sigpending(&held->pending);
	pthread_sigmask(SIG_BLOCK, &set, &held->before);
}

static void release_signals(const held_signals *held)
{
	static const int ours[] = {SIGPIPE, SIGXFSZ};
	static const struct timespec at_once;

	for (size_t i = 0; i < G_N_ELEMENTS(ours); i++) {
		sigset_t one;
		sigemptyset(&one);
		sigaddset(&one, ours[i]);
		/* What our own writing called up is taken away; what came before is not ours. */
		if (!sigismember(&held->pending, ours[i]))
			sigtimedwait(&one, NULL, &at_once);
	}
	pthread_sigmask(SIG_SETMASK, &held->before, NULL);
}

/* 0, or the error's number. */
static int write_all(int file, const char *bytes, gsize length)
{
	while (length > 0) {
		/* No more at once than every system takes. */
		ssize_t written = write(file, bytes, MIN(length, (gsize)1 << 30));
		if (written < 0 && errno == EINTR)
			continue;
		if (written < 0)
			return errno;
		if (written == 0)
			return EIO;
		bytes += written;
		length -= (gsize)written;
	}
	return 0;
}

static int write_to_reader(int file, const char *bytes, gsize length)
{
	held_signals held;

	hold_signals(&held, false);
	int code = write_all(file, bytes, length);
	release_signals(&held);
	return code;
}

static bool write_to_output(const char *path, const void *bytes, gsize length, GError **error)
{
	if (fflush(stdout) != 0)
		return fail(error, path, errno);
	int code = write_to_reader(STDOUT_FILENO, bytes, length);
	return code == 0 || fail(error, path, code);
}

static bool write_straight(const char *path, const void *bytes, gsize length, GError **error)
{
	int file = open(path, O_WRONLY | O_TRUNC | O_CLOEXEC | O_NOCTTY);
	if (file < 0)
		return fail(error, path, errno);
	int code = write_to_reader(file, bytes, length);
	/* Some disks tell only here that they are full. */
	if (close(file) != 0 && code == 0 && errno != EINTR)
		code = errno;
	return code == 0 || fail(error, path, code);
}

/* The bytes on the disk; REPLACED is the file whose place this one will take, or NULL. */
static int fill(int file, const struct stat *replaced, const void *bytes, gsize length)
{
	int code = write_all(file, bytes, length);
	/* Its owner and its mode stay as they are, where we may say so. */
	if (replaced != NULL && fchown(file, replaced->st_uid, replaced->st_gid) == 0)
		(void)fchmod(file, replaced->st_mode & 07777);
	/* EINVAL: a file system that has nothing to bring to a disk. */
	if (code == 0 && fsync(file) != 0 && errno != EINVAL)
		code = errno;
	return code;
}

static int take_place(const char *beside, const char *target)
{
	int code = rename(beside, target) == 0 ? 0 : errno;
	if (code != 0)
		unlink(beside);
	return code;
}

/* The file without a name becomes TARGET, by another name first where there is one already. */
static int give_name(int file, const char *folder, const char *target)
{
	g_autofree char *nameless = g_strdup_printf("/proc/self/fd/%d", file);

	if (linkat(AT_FDCWD, nameless, AT_FDCWD, target, AT_SYMLINK_FOLLOW) == 0)
		return 0;
	for (int i = 0; i < MOST_NAMES && errno == EEXIST; i++) {
		g_autofree char *name = g_strdup_printf(".tambour-%06x", g_random_int() & 0xffffff);
		g_autofree char *beside = g_build_filename(folder, name, NULL);
		if (linkat(AT_FDCWD, nameless, AT_FDCWD, beside, AT_SYMLINK_FOLLOW) == 0)
			return take_place(beside, target);
	}
	return errno;
}

/* False when this disk or system gives no names to nameless files; else *CODE, 0 or an error's. */
static bool write_nameless(const char *folder, const char *target, const struct stat *replaced,
	const void *bytes, gsize length, int *code)
{
	int file = open(folder, O_TMPFILE | O_WRONLY | O_CLOEXEC, 0666);
	if (file < 0)
		return false;
	*code = fill(file, replaced, bytes, length);
	bool known = *code != 0 || give_name(file, folder, target) == 0;
	close(file);
	return known;
}

static int write_named(const char *folder, const char *target, const struct stat *replaced,
	const void *bytes, gsize length)
{
	g_autofree char *beside = g_build_filename(folder, ".tambour-XXXXXX", NULL);
	/* 0666 less the umask: the mode of any new file, not the closed one of a temporary file. */
	int file = g_mkstemp_full(beside, O_WRONLY | O_CLOEXEC, 0666);
	if (file < 0)
		return errno;
	int code = fill(file, replaced, bytes, length);
	if (close(file) != 0 && code == 0 && errno != EINTR)
		code = errno;
	if (code == 0)
		return take_place(beside, target);
	unlink(beside);
	return code;
}

/* TARGET is the file's true place, PATH what the user calls it. */
static bool write_whole(const char *path, const char *target, const struct stat *replaced,
	const void *bytes, gsize length, GError **error)
{
	g_autofree char *folder = g_path_get_dirname(target);
	held_signals held;
	int code = 0;

	hold_signals(&held, true);
	if (!write_nameless(folder, target, replaced, bytes, length, &code))
		code = write_named(folder, target, replaced, bytes, length);
	release_signals(&held);
	return code == 0 || fail(error, path, code);
}

/* Where a link leads that has nothing at its end; NULL when PATH is no link. Owned. */
static char *follow(const char *path)
{
	g_autofree char *end = g_file_read_link(path, NULL);
	if (end == NULL || g_path_is_absolute(end))
		return g_steal_pointer(&end);
	g_autofree char *folder = g_path_get_dirname(path);
	return g_build_filename(folder, end, NULL);
}

/* Names of things already open, also when a plain file stands behind them. */
static bool is_open_already(const char *path)
{
	return g_str_has_prefix(path, "/dev/std") || g_str_has_prefix(path, "/dev/fd/") ||
		   g_str_has_prefix(path, "/proc/");
}

bool tb_output_write(const char *path, const void *bytes, gsize length, GError **error)
{
	struct stat status;

	if (strcmp(path, "-") == 0 || strcmp(path, "/dev/stdout") == 0)
		return write_to_output(path, bytes, length, error);
	if (*path == '\0')
		return fail(error, "a file without a name", ENOENT);
	if (stat(path, &status) != 0) {
		if (errno != ENOENT)
			return fail(error, path, errno);
		g_autofree char *end = follow(path);
		return end != NULL ? tb_output_write(end, bytes, length, error)
						   : write_whole(path, path, NULL, bytes, length, error);
	}
	if (S_ISDIR(status.st_mode))
		return fail(error, path, EISDIR);
	if (!S_ISREG(status.st_mode) || is_open_already(path))
		return write_straight(path, bytes, length, error);
	/* A new file could take the place of one that its owner has closed to writing. */
	if (access(path, W_OK) != 0)
		return fail(error, path, errno);

	/* Through a link to the file it stands for, so that the link stays one. */
	char *target = realpath(path, NULL);
	if (target == NULL)
		return fail(error, path, errno);
	bool written = write_whole(path, target, &status, bytes, length, error);
	free(target);
	return written;
}
