#include "command.h"

#include "support/limits.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>

/* Reads a whole stream, but never much more than a pattern may be. */
static GByteArray *read_stream(FILE *stream, const char *name)
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
		fprintf(stderr, "tambour: cannot read %s: %s\n", name, g_strerror(errno));
		return NULL;
	}
	return g_steal_pointer(&bytes);
}

static tb_source *read_source(const char *path)
{
	bool standard = strcmp(path, "-") == 0;
	FILE *stream = standard ? stdin : fopen(path, "rb");
	if (stream == NULL) {
		fprintf(stderr, "tambour: cannot open %s: %s\n", path, g_strerror(errno));
		return NULL;
	}
	g_autoptr(GByteArray) bytes = read_stream(stream, standard ? "standard input" : path);
	if (!standard)
		fclose(stream);
	if (bytes == NULL)
		return NULL;
	return tb_source_create(path, bytes->data != NULL ? (const char *)bytes->data : "", bytes->len);
}

int tb_load(const char *path, tb_loaded *loaded)
{
	*loaded = (tb_loaded){0};
	loaded->source = read_source(path);
	if (loaded->source == NULL)
		return TB_EXIT_FILE;
	loaded->library = tb_library_create();
	loaded->diagnostics = tb_diagnostics_create(loaded->source);
	loaded->pattern = tb_pattern_read(loaded->source, loaded->library, loaded->diagnostics);
	if (loaded->pattern != NULL)
		loaded->worked = tb_work(loaded->pattern, loaded->diagnostics);
	return TB_EXIT_DONE;
}

int tb_loaded_report(tb_loaded *loaded)
{
	g_autofree char *text = tb_diagnostics_format(loaded->diagnostics);
	fputs(text, stderr);
	return tb_diagnostics_count_errors(loaded->diagnostics) > 0 ? TB_EXIT_PATTERN : TB_EXIT_DONE;
}

void tb_loaded_finish(tb_loaded *loaded)
{
	tb_worked_destroy(loaded->worked);
	tb_pattern_destroy(loaded->pattern);
	tb_diagnostics_destroy(loaded->diagnostics);
	tb_library_destroy(loaded->library);
	tb_source_destroy(loaded->source);
}
