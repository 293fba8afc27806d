#include "command.h"

#include "support/limits.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

/* A file that is being saved is read again so often, so far apart. */
#define MOST_TRIES 5
#define PAUSE_US (50 * 1000)

/* Reads a whole stream, but never much more than a pattern may be. */
static GByteArray *read_stream(FILE *stream, const char *name, tb_progress *progress)
{
	g_autoptr(GByteArray) bytes = g_byte_array_new();
	guint8 chunk[65536];
	size_t got;
	while ((got = fread(chunk, 1, sizeof chunk, stream)) > 0) {
		g_byte_array_append(bytes, chunk, (guint)got);
		if (bytes->len > TB_LIMIT_PATTERN_BYTES)
			break;
	}
	if (ferror(stream)) {
		int code = errno;
		tb_progress_hide(progress);
		tb_complain("cannot read %s: %s", name, g_strerror(code));
		return NULL;
	}
	return g_steal_pointer(&bytes);
}

/* A plain file as it is now; false for a pipe or whatever else never changes under its reader. */
static bool look(FILE *stream, struct stat *status)
{
	return fstat(fileno(stream), status) == 0 && S_ISREG(status->st_mode);
}

static bool is_same(const struct stat *a, const struct stat *b)
{
	return a->st_size == b->st_size && a->st_mtim.tv_sec == b->st_mtim.tv_sec &&
		   a->st_mtim.tv_nsec == b->st_mtim.tv_nsec;
}

/*
 * Reads it again where it was saved meanwhile: half of one pattern and half of another might come
 * out.
 */
static GByteArray *read_settled(FILE *stream, const char *name, tb_progress *progress)
{
	for (int tries = 0; tries < MOST_TRIES; tries++) {
		struct stat before, after;
		bool plain = look(stream, &before);
		long start = plain ? ftell(stream) : 0;
		g_autoptr(GByteArray) bytes = read_stream(stream, name, progress);
		if (bytes == NULL || !plain || !look(stream, &after) || is_same(&before, &after))
			return g_steal_pointer(&bytes);
		g_usleep(PAUSE_US);
		fseek(stream, start, SEEK_SET);
	}
	tb_progress_hide(progress);
	tb_complain("cannot read %s: it is being written; try again when it is saved", name);
	return NULL;
}

static tb_source *read_source(const char *path, tb_progress *progress)
{
	bool standard = strcmp(path, "-") == 0;
	/* Somebody may be typing. */
	if (standard)
		tb_progress_hide(progress);
	FILE *stream = standard ? stdin : fopen(path, "rb");
	if (stream == NULL) {
		int code = errno;
		tb_progress_hide(progress);
		tb_complain("cannot open %s: %s", path, g_strerror(code));
		return NULL;
	}
	g_autoptr(GByteArray) bytes =
		read_settled(stream, standard ? "standard input" : path, progress);
	if (!standard)
		fclose(stream);
	if (bytes == NULL)
		return NULL;
	return tb_source_create(path, bytes->data != NULL ? (const char *)bytes->data : "", bytes->len);
}

int tb_load(const char *path, tb_library *library, tb_progress *progress, tb_loaded *loaded)
{
	*loaded = (tb_loaded){0};
	loaded->source = read_source(path, progress);
	if (loaded->source == NULL)
		return TB_EXIT_FILE;
	loaded->diagnostics = tb_diagnostics_create(loaded->source);
	loaded->pattern = tb_pattern_read(loaded->source, library, loaded->diagnostics);
	tb_progress_step(progress, "working the rows");
	if (loaded->pattern != NULL)
		loaded->worked = tb_work(loaded->pattern, loaded->diagnostics);
	return TB_EXIT_DONE;
}

int tb_loaded_report(tb_loaded *loaded, tb_progress *progress)
{
	g_autofree char *text = tb_diagnostics_format(loaded->diagnostics);
	if (*text != '\0')
		tb_progress_hide(progress);
	fputs(text, stderr);
	return tb_diagnostics_count_errors(loaded->diagnostics) > 0 ? TB_EXIT_PATTERN : TB_EXIT_DONE;
}

void tb_loaded_finish(tb_loaded *loaded)
{
	tb_worked_destroy(loaded->worked);
	tb_pattern_destroy(loaded->pattern);
	tb_diagnostics_destroy(loaded->diagnostics);
	tb_source_destroy(loaded->source);
}
