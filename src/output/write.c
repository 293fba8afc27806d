/*
 * Bytes to a file, whole or not at all: they are written to a file beside the place, brought to the
 * disk, and only then given the name. What is no plain file (a pipe, a device, standard output)
 * cannot be replaced by a new one and is written straight on, every byte checked.
 */
#include "output/output.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static bool fail(GError **error, const char *path, int code)
{
	g_set_error(error, G_FILE_ERROR, (gint)g_file_error_from_errno(code), "cannot write %s: %s",
		strcmp(path, "-") == 0 ? "to standard output" : path, g_strerror(code));
	return false;
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

/*
 * The same where nobody may be reading: a closed pipe is an error like any other, not the end of
 * the program. The signal is held back in this thread alone, and taken away if it came.
 */
static int write_to_pipe(int file, const char *bytes, gsize length)
{
	sigset_t pipe_only, before, pending;
	int ignored;

	sigemptyset(&pipe_only);
	sigaddset(&pipe_only, SIGPIPE);
	sigpending(&pending);
	pthread_sigmask(SIG_BLOCK, &pipe_only, &before);
	int code = write_all(file, bytes, length);
	if (code == EPIPE && !sigismember(&pending, SIGPIPE)) {
		sigpending(&pending);
		if (sigismember(&pending, SIGPIPE))
			sigwait(&pipe_only, &ignored);
	}
	pthread_sigmask(SIG_SETMASK, &before, NULL);
	return code;
}

static bool write_to_output(const char *path, const void *bytes, gsize length, GError **error)
{
	if (fflush(stdout) != 0)
		return fail(error, path, errno);
	int code = write_to_pipe(STDOUT_FILENO, bytes, length);
	return code == 0 || fail(error, path, code);
}

static bool write_straight(const char *path, const void *bytes, gsize length, GError **error)
{
	int file = open(path, O_WRONLY | O_TRUNC | O_CLOEXEC | O_NOCTTY);
	if (file < 0)
		return fail(error, path, errno);
	int code = write_to_pipe(file, bytes, length);
	/* Some disks tell only here that they are full. */
	if (close(file) != 0 && code == 0 && errno != EINTR)
		code = errno;
	return code == 0 || fail(error, path, code);
}

/* TARGET is the file's true place, PATH what the user calls it. */
static bool write_beside(const char *path, const char *target, const void *bytes, gsize length,
	GError **error)
{
	g_autofree char *folder = g_path_get_dirname(target);
	g_autofree char *beside = g_build_filename(folder, ".tambour-XXXXXX", NULL);
	/* 0666 less the umask: the mode of any new file, not the closed one of a temporary file. */
	int file = g_mkstemp_full(beside, O_WRONLY | O_CLOEXEC, 0666);
	if (file < 0)
		return fail(error, path, errno);

	int code = write_all(file, bytes, length);
	/* EINVAL: a file system that has nothing to bring to a disk. */
	if (code == 0 && fsync(file) != 0 && errno != EINVAL)
		code = errno;
	if (close(file) != 0 && code == 0 && errno != EINTR)
		code = errno;
	if (code == 0 && rename(beside, target) != 0)
		code = errno;
	if (code == 0)
		return true;
	unlink(beside);
	return fail(error, path, code);
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
		return write_beside(path, path, bytes, length, error);
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
	bool written = write_beside(path, target, bytes, length, error);
	free(target);
	return written;
}
