/*
 * What a designer is told. Every NAME.json in tests/errors/ is a pattern with a fault, NAME.txt
 * beside it all that is printed about it; a file dropped there is a new test.
 */
#include "support.h"

#include <criterion/criterion.h>
#include <string.h>

static int compare_names(gconstpointer a, gconstpointer b)
{
	return strcmp(*(const char *const *)a, *(const char *const *)b);
}

/* The names, without ".json", in order. */
static GPtrArray *list_cases(void)
{
	GPtrArray *names = g_ptr_array_new_with_free_func(g_free);
	g_autofree char *path = g_build_filename(TB_SOURCE_ROOT, "tests/errors", NULL);
	GDir *dir = g_dir_open(path, 0, NULL);
	cr_assert_not_null(dir, "there is no %s", path);
	for (const char *name; (name = g_dir_read_name(dir)) != NULL;) {
		if (g_str_has_suffix(name, ".json"))
			g_ptr_array_add(names, g_strndup(name, strlen(name) - strlen(".json")));
	}
	g_dir_close(dir);
	g_ptr_array_sort(names, compare_names);
	return names;
}

static char *read_faults(const char *name, unsigned *errors)
{
	g_autofree char *path = g_strdup_printf("tests/errors/%s.json", name);
	g_autofree char *shown = g_strdup_printf("%s.json", name);
	gsize length;
	g_autofree char *text = tb_test_read(path, &length);
	tb_case c = tb_case_read(shown, text);
	char *faults = tb_case_faults(&c);
	*errors = tb_diagnostics_count(c.diagnostics);
	tb_case_finish(&c);
	return faults;
}

Test(errors, every_fault_is_told_as_written)
{
	g_autoptr(GPtrArray) names = list_cases();
	cr_assert_gt(names->len, 0);
	for (guint i = 0; i < names->len; i++) {
		const char *name = names->pdata[i];
		unsigned count;
		g_autofree char *faults = read_faults(name, &count);
		g_autofree char *path = g_strdup_printf("tests/errors/%s.txt", name);
		g_autofree char *expected = tb_test_read(path, NULL);
		cr_expect_gt(count, 0, "%s.json has no fault", name);
		cr_expect_str_eq(
			faults, expected, "%s.json gives:\n%s\n%s.txt says:\n%s", name, faults, name, expected);
	}
}
