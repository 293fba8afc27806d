/*
 * Seeded faults: good patterns with one thing wrong, as it happens to designers. Every NAME.txt or
 * NAME.json in tests/faults/ has NAME.expected beside it, the whole of what is printed about it; a
 * pair dropped there is a new test. tests/errors/ has a case for each code; here the fault is found
 * in a whole pattern, and must be told once, in its row and size, and nothing else with it.
 */
#include "support.h"

#include <criterion/criterion.h>
#include <string.h>

#define FOLDER "tests/faults"

/* Visits each pattern of the folder. */
static unsigned for_each_fault(void (*visit)(const char *file))
{
	g_autofree char *path = g_build_filename(TB_SOURCE_ROOT, FOLDER, NULL);
	GDir *dir = g_dir_open(path, 0, NULL);
	cr_assert_not_null(dir, "there is no %s", path);
	unsigned count = 0;
	for (const char *name; (name = g_dir_read_name(dir)) != NULL;) {
		if (g_str_has_suffix(name, ".expected"))
			continue;
		visit(name);
		count++;
	}
	g_dir_close(dir);
	return count;
}

static char *read_expected(const char *file)
{
	g_autofree char *stem = g_strndup(file, strrchr(file, '.') - file);
	g_autofree char *path = g_strdup_printf(FOLDER "/%s.expected", stem);
	return tb_test_read(path, NULL);
}

static tb_case read_fault(const char *file)
{
	g_autofree char *path = g_strdup_printf(FOLDER "/%s", file);
	g_autofree char *text = tb_test_read(path, NULL);
	return tb_case_read(file, text);
}

static void expect_message(const char *file)
{
	tb_case c = read_fault(file);
	g_autofree char *faults = tb_case_faults(&c);
	g_autofree char *expected = read_expected(file);
	cr_expect_str_eq(faults, expected, "%s gives:\n%s\nexpected:\n%s", file, faults, expected);
	tb_case_finish(&c);
}

Test(faults, every_message_as_expected)
{
	cr_expect_geq(for_each_fault(expect_message), 40u);
}

/*
 * One fault was seeded: one is told, with its place and what to do about it; again, with that
 * size's numbers, for each other size that has it. A note that the rest is left unchecked may
 * follow.
 */
static void expect_one(const char *file)
{
	tb_case c = read_fault(file);
	unsigned count = tb_diagnostics_count(c.diagnostics);
	cr_expect_gt(count, 0, "%s: nothing is told", file);
	tb_size_set sizes = 0;
	tb_span place = {0, 0};
	for (unsigned i = 0; i < count; i++) {
		const tb_diagnostic *fault = tb_diagnostics_get(c.diagnostics, i);
		cr_expect(fault->has_place, "%s: no place", file);
		if (fault->severity == TB_NOTE)
			continue;
		cr_expect_not_null(fault->hint, "%s: nothing says what to do", file);
		bool again = i > 0 && fault->sizes != 0 && (fault->sizes & sizes) == 0 &&
					 fault->place.start == place.start;
		cr_expect(i == 0 || again, "%s: %s is told as well", file, fault->code);
		sizes |= fault->sizes;
		place = fault->place;
	}
	tb_case_finish(&c);
}

Test(faults, one_cause_one_fault)
{
	for_each_fault(expect_one);
}
