/* Files are whole or absent; and what is not there, such as a font, is said. */
#include "sample_drawing.h"

#include "output/output.h"

#include <criterion/criterion.h>
#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static char *make_folder(void)
{
	char *folder = g_dir_make_tmp("tambour-test-XXXXXX", NULL);
	cr_assert_not_null(folder);
	return folder;
}

/* The names in a folder, less the dots. */
static unsigned count_files(const char *folder)
{
	GDir *dir = g_dir_open(folder, 0, NULL);
	unsigned files = 0;
	cr_assert_not_null(dir);
	while (g_dir_read_name(dir) != NULL)
		files++;
	g_dir_close(dir);
	return files;
}

static void expect_failure(const char *path, const char *says)
{
	g_autoptr(GError) error = NULL;
	cr_expect_not(tb_output_write(path, "bytes", 5, &error), "%s", path);
	cr_assert_not_null(error, "%s", path);
	cr_expect_not_null(strstr(error->message, says), "%s: %s", path, error->message);
}

Test(write, a_file_is_written_with_the_mode_of_any_new_file)
{
	g_autofree char *folder = make_folder();
	g_autofree char *path = g_build_filename(folder, "chart.svg", NULL);
	g_autofree char *contents = NULL;
	g_autoptr(GError) error = NULL;
	struct stat status;

	umask(027);
	cr_assert(tb_output_write(path, "first", 5, &error), "%s", error ? error->message : "");
	cr_assert_eq(stat(path, &status), 0);
	/* 0666 less the umask 027 */
	cr_expect_eq(status.st_mode & 0777, 0640);
	cr_assert(tb_output_write(path, "second, longer", 14, &error));
	cr_assert(g_file_get_contents(path, &contents, NULL, NULL));
	cr_expect_str_eq(contents, "second, longer");
	cr_expect_eq(count_files(folder), 1);
	g_unlink(path);
	g_rmdir(folder);
}

Test(write, a_link_stays_a_link)
{
	g_autofree char *folder = make_folder();
	g_autofree char *path = g_build_filename(folder, "chart.svg", NULL);
	g_autofree char *linked = g_build_filename(folder, "latest.svg", NULL);
	g_autofree char *contents = NULL;
	struct stat status;

	cr_assert(tb_output_write(path, "old", 3, NULL));
	cr_assert_eq(symlink("chart.svg", linked), 0);
	cr_assert(tb_output_write(linked, "new", 3, NULL));
	cr_assert_eq(lstat(linked, &status), 0);
	cr_expect(S_ISLNK(status.st_mode));
	cr_assert(g_file_get_contents(path, &contents, NULL, NULL));
	cr_expect_str_eq(contents, "new");
	g_unlink(linked);
	g_unlink(path);
	g_rmdir(folder);
}

Test(write, a_folder_is_no_file_and_keeps_nothing)
{
	g_autofree char *folder = make_folder();
	expect_failure(folder, "directory");
	cr_expect_eq(count_files(folder), 0);
	g_autofree char *below = g_build_filename(folder, "missing", "chart.svg", NULL);
	expect_failure(below, "No such file");
	expect_failure("", "a file without a name");
	g_rmdir(folder);
}

Test(write, what_stands_in_the_way_is_left_and_nothing_beside_it)
{
	g_autofree char *folder = make_folder();
	g_autofree char *path = g_build_filename(folder, "chart.svg", NULL);
	g_autofree char *through = g_build_filename(path, "chart.svg", NULL);

	cr_assert(tb_output_write(path, "old", 3, NULL));
	expect_failure(through, "Not a directory");
	cr_expect_eq(count_files(folder), 1);
	g_unlink(path);
	g_rmdir(folder);
}

/* A file system that is full stands behind /dev/full on Linux (full(4)). */
Test(write, a_full_device_is_told)
{
	if (!g_file_test("/dev/full", G_FILE_TEST_EXISTS))
		cr_skip_test("there is no /dev/full");
	expect_failure("/dev/full", "No space left");
	g_autoptr(GError) error = NULL;
	cr_expect(tb_output_write("/dev/null", "bytes", 5, &error));
}

Test(write, a_closed_pipe_is_an_error_and_not_the_end)
{
	int ends[2];
	g_autoptr(GError) error = NULL;
	int before = dup(STDOUT_FILENO);

	cr_assert_eq(pipe(ends), 0);
	close(ends[0]);
	cr_assert_geq(dup2(ends[1], STDOUT_FILENO), 0);
	bool written = tb_output_write("-", "bytes", 5, &error);
	dup2(before, STDOUT_FILENO);
	cr_expect_not(written);
	cr_assert_not_null(error);
	cr_expect_eq(error->code, G_FILE_ERROR_PIPE);
	cr_expect_not_null(strstr(error->message, "standard output"), "%s", error->message);
}

/* More than a pipe holds, so that a write is short. */
Test(write, standard_output_takes_all_of_it)
{
	g_autofree char *folder = make_folder();
	g_autofree char *path = g_build_filename(folder, "chart.svg", NULL);
	g_autofree char *bytes = g_malloc(300000), *contents = NULL;
	int before = dup(STDOUT_FILENO), file = open(path, O_WRONLY | O_CREAT, 0666);
	gsize length;

	memset(bytes, 'x', 300000);
	cr_assert_geq(dup2(file, STDOUT_FILENO), 0);
	bool written = tb_output_write("-", bytes, 300000, NULL);
	dup2(before, STDOUT_FILENO);
	cr_expect(written);
	cr_assert(g_file_get_contents(path, &contents, &length, NULL));
	cr_expect_eq(length, 300000);
	g_unlink(path);
	g_rmdir(folder);
}

Test(write, the_formats_are_known_by_their_endings)
{
	g_autoptr(tb_drawing) drawing = tb_sample_drawing("Swatch", 1, 5);
	g_autoptr(GError) error = NULL;
	cr_expect(tb_output_is_known("svg") && tb_output_is_known("PDF") && tb_output_is_known("png"));
	cr_expect_not(tb_output_is_known("gif"));
	cr_expect_null(tb_output_render(drawing, "gif", NULL, &error));
	cr_assert_not_null(error);
}

/* Fontconfig is told of a world without fonts; each test has a process of its own. */
Test(write, a_computer_without_fonts_is_told)
{
	g_autofree char *folder = make_folder();
	g_autofree char *path = g_build_filename(folder, "fonts.conf", NULL);
	g_autoptr(GError) error = NULL, none = NULL;

	cr_assert(g_file_set_contents(path, "<fontconfig></fontconfig>", -1, NULL));
	g_setenv("FONTCONFIG_FILE", path, TRUE);
	g_autoptr(tb_drawing) drawing = tb_sample_drawing("Swatch", 1, 5);
	cr_expect_null(tb_output_render(drawing, "svg", NULL, &error));
	cr_assert(g_error_matches(error, TB_OUTPUT_ERROR, TB_OUTPUT_NO_FONT));
	cr_expect_null(tb_type_create());

	/* A drawing without letters needs none. */
	for (guint i = drawing->marks->len; i-- > 0;) {
		if (g_array_index(drawing->marks, tb_mark, i).kind == TB_MARK_TEXT)
			g_array_remove_index(drawing->marks, i);
	}
	g_autoptr(GByteArray) bytes = tb_output_render(drawing, "svg", NULL, &none);
	cr_expect_not_null(bytes, "%s", none != NULL ? none->message : "");
	g_unlink(path);
	g_rmdir(folder);
}

Test(type, a_text_is_as_wide_as_its_size_says)
{
	g_autoptr(tb_type) type = tb_type_create();
	cr_assert_not_null(type);
	tb_text_measure text = tb_type_get_measure(type);
	double small = text.measure(text.data, "20 (22, 24) times", 2.5, false);
	double large = text.measure(text.data, "20 (22, 24) times", 250, false);
	/* Nothing is rounded to pixels: a hundred times the size is a hundred times the width. */
	cr_expect_float_eq(large, 100 * small, 1e-6 * large);
	cr_expect_gt(small, 0);
	cr_expect_gt(text.measure(text.data, "20 (22, 24) times", 2.5, true), small);
	cr_expect_float_eq(text.measure(text.data, "", 2.5, false), 0, 1e-12);
	cr_expect_eq(tb_type_count_unknown(type), 0);
	text.measure(text.data, "\xf3\xb0\x80\x80", 2.5, false);
	cr_expect_eq(tb_type_count_unknown(type), 1);
}
