/*
 * Feeds files to a fuzz target, for compilers without libFuzzer:
 *
 *     replay_TARGET FILE-OR-FOLDER...
 *
 * Folders are gone through to the last file. What the target finds untrue ends the program; the name
 * last printed is the file it was found with.
 */
#include "fuzz.h"

#include <stdio.h>

static unsigned feed_file(const char *path)
{
	g_autofree char *bytes = NULL;
	gsize size;
	g_autoptr(GError) error = NULL;
	if (!g_file_get_contents(path, &bytes, &size, &error)) {
		fprintf(stderr, "%s\n", error->message);
		return 0;
	}
	fprintf(stderr, "%s\n", path);
	LLVMFuzzerTestOneInput((const uint8_t *)bytes, size);
	return 1;
}

static unsigned feed(const char *path)
{
	if (!g_file_test(path, G_FILE_TEST_IS_DIR))
		return feed_file(path);
	g_autoptr(GDir) folder = g_dir_open(path, 0, NULL);
	unsigned fed = 0;
	for (const char *name; folder != NULL && (name = g_dir_read_name(folder)) != NULL;) {
		g_autofree char *inside = g_build_filename(path, name, NULL);
		fed += feed(inside);
	}
	return fed;
}

int main(int argc, char **argv)
{
	unsigned fed = 0;
	for (int i = 1; i < argc; i++)
		fed += feed(argv[i]);
	printf("%u inputs\n", fed);
	return fed > 0 ? 0 : 1;
}
