/*
 * Rows repeated a different number of times in each size, or in some sizes not at all. How many rows a
 * size has, and how many stitches each, is counted here by adding up what the rows do.
 */
#include "../support/support.h"

#include "fabric/fabric.h"

#include <tambour/rows.h>

#include <criterion/criterion.h>
#include <string.h>

#define MOST 5u
#define MOST_MADE 400u
#define PATTERNS 100u

/* The rows of each size, by their counts; row 1 first. */
typedef struct {
	unsigned sizes;
	int rows[MOST][MOST_MADE];
	unsigned count[MOST];
} model;

static void expect_model(const model *m, const tb_worked *worked, const char *what)
{
	for (unsigned i = 0; i < m->sizes; i++) {
		const tb_fabric *fabric = tb_worked_fabric(worked, 0, i);
		cr_assert_eq(fabric->row_count - 1, m->count[i], "%s\nsize %u: %u rows, and not %u", what, i,
			fabric->row_count - 1, m->count[i]);
		for (unsigned row = 1; row <= m->count[i]; row++) {
			cr_assert_eq(fabric->rows[row].number, row, "%s", what);
			cr_assert_eq((int)fabric->rows[row].stitches, m->rows[i][row - 1],
				"%s\nsize %u, row %u: %u sts, and not %d", what, i, row, fabric->rows[row].stitches,
				m->rows[i][row - 1]);
		}
	}
}

/*
 * A pattern, and the rows written from it, given to the reader of patterns as a designer would give
 * them: both are what the model says.
 */
static void expect_both(const model *m, const char *sizes, const char *start, const char *rows)
{
	tb_case c = tb_case_rows(sizes, start, rows);
	g_autofree char *faults = tb_case_faults(&c);
	cr_assert_eq(tb_diagnostics_count_errors(c.diagnostics), 0, "%s\n%s", rows, faults);
	expect_model(m, c.worked, rows);
	for (int size = -1; size < (int)m->sizes; size++) {
		g_autofree char *text = tb_rows_text(c.worked, 0, size, false);
		char *line = strchr(text, '\n');
		*line = '\0';
		g_autofree char *what = g_strdup_printf("%s\n%s\nwritten as\n%s\n%s", start, rows, text, line + 1);
		tb_case again = tb_case_rows(size < 0 ? sizes : "", text, line + 1);
		g_autofree char *told = tb_case_faults(&again);
		cr_assert_eq(tb_diagnostics_count_errors(again.diagnostics), 0, "%s\n%s", what, told);
		model one = {.sizes = 1};
		if (size >= 0) {
			one.count[0] = m->count[size];
			memcpy(one.rows[0], m->rows[size], sizeof one.rows[0]);
		}
		expect_model(size < 0 ? m : &one, again.worked, what);
		tb_case_finish(&again);
	}
	/* and the library's own proof agrees */
	g_auto(GStrv) texts = tb_rows_texts(c.worked, -1, false, c.diagnostics);
	g_autofree char *refused = tb_case_faults(&c);
	cr_assert_not_null(texts, "%s\n%s", rows, refused);
	tb_case_finish(&c);
}

static void fill(model *m, unsigned size, unsigned rows, int stitches)
{
	while (rows-- > 0)
		m->rows[size][m->count[size]++] = stitches;
}

/* The first size has no whole repeat of what the larger repeats three times. */
Test(graded_repeats, none_in_the_first_size)
{
	static const char *const rows = "Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 1, sc in each st across, turn.\n"
		"Row 3: Ch 3, dc in each st across, turn.\n"
		"Rep Rows 2-3 1 (4) times.";
	model m = {.sizes = 2};
	fill(&m, 0, 5, 13);
	fill(&m, 1, 11, 19);
	expect_both(&m, "S, L", "Ch 14 (20)", rows);
	tb_case c = tb_case_rows("S, L", "Ch 14 (20)", rows);
	g_autofree char *text = tb_rows_text(c.worked, 0, -1, false);
	cr_expect_not_null(strstr(text, "Rep Rows 3-4 - (3) times."), "%s", text);
	tb_case_finish(&c);
}

Test(graded_repeats, none_in_the_last_sizes)
{
	model m = {.sizes = 4};
	fill(&m, 0, 3 + 2 * 3, 13);
	fill(&m, 1, 3, 14);
	fill(&m, 2, 3 + 2 * 3, 15);
	fill(&m, 3, 3, 16);
	expect_both(&m, "XS, S, M, L", "Ch 14 (15, 16, 17)",
		"Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 1, sc in each st across, turn.\n"
		"Row 3: Ch 3, dc in each st across, turn.\n"
		"Rep Rows 2-3 3 (0, 3, -) times.");
}

/* --- the last row --- */

/* Behind a graded repeat, each size's last row is its own: 6 here, 12 there. */
Test(graded_repeats, last_row_of_each_size)
{
	model m = {.sizes = 2};
	fill(&m, 0, 5, 20);
	fill(&m, 1, 11, 30);
	for (int i = 1; i <= 4; i++) {
		fill(&m, 0, 1, 20 - i);
		fill(&m, 1, 1, 30 - i);
	}
	expect_both(&m, "S, L", "Ch 21 (31)",
		"Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 1, sc in each st across, turn.\n"
		"Row 3: Ch 3, dc in each st across, turn.\n"
		"Rep Rows 2-3 1 (4) times.\n"
		"Row 6 (12): Ch 1, sc2tog over next 2 sts, sc in each st across, turn.\n"
		"Rep last row 3 times.");
}

/* Behind the repeat itself, with no row in between, it is the last that was repeated. */
Test(graded_repeats, last_rows_right_behind)
{
	model m = {.sizes = 2};
	int small = 40, large = 50;
	fill(&m, 0, 1, small);
	fill(&m, 1, 1, large);
	/* rows 2 and 3 take one and none: then 1 or 3 times more, then both twice, then row 3 once */
	for (int i = 0; i < 1 + 1 + 2; i++)
		fill(&m, 0, 2, --small);
	for (int i = 0; i < 1 + 3 + 2; i++)
		fill(&m, 1, 2, --large);
	fill(&m, 0, 1, small);
	fill(&m, 1, 1, large);
	expect_both(&m, "S, L", "Ch 41 (51)",
		"Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 1, sc2tog over next 2 sts, sc in each st across, turn.\n"
		"Row 3: Ch 1, sc BLO in each st across, turn.\n"
		"Rep Rows 2-3 1 (3) times.\n"
		"Rep last 2 rows twice, then rep last row once.");
}

/*
 * Until a length: 9 rows to 10 cm are 11.1 mm a row of the one height that all rows here have, so 10 cm
 * are 9 rows, and 20 cm are 18.
 */
Test(graded_repeats, last_row_until_a_length)
{
	model m = {.sizes = 2};
	fill(&m, 0, 3, 20);
	fill(&m, 1, 7, 30);
	for (int i = 1; i <= 9 - 3; i++)
		fill(&m, 0, 1, 20 - i);
	for (int i = 1; i <= 18 - 7; i++)
		fill(&m, 1, 1, 30 - i);
	expect_both(&m, "S, L", "Ch 21 (31)",
		"Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 1, sc in each st across, turn.\n"
		"Rep Row 2 1 (5) times.\n"
		"Row 4 (8): Ch 1, sc2tog over next 2 sts, sc in each st across, turn.\n"
		"Rep last row until piece measures 10 (20) cm.");
}

static void expect_fault(const char *rows, const char *code, const char *says)
{
	tb_case c = tb_case_rows("S, L", "Ch 21 (31)", rows);
	g_autofree char *told = tb_case_faults(&c);
	cr_assert_eq(tb_diagnostics_count(c.diagnostics), 1, "%s", told);
	cr_expect_str_eq(tb_diagnostics_get(c.diagnostics, 0)->code, code, "%s", told);
	cr_expect_not_null(strstr(told, says), "%s", told);
	tb_case_finish(&c);
}

/* A row that only one size has is no last row of the other; which is meant there, nobody knows. */
Test(graded_repeats, last_row_of_one_size)
{
	static const char *const head = "Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 1, sc in each st across, turn.\n"
		"Row 3 (size L only): Ch 1, sc2tog over next 2 sts, sc in each st across, turn.\n";
	g_autofree char *all = g_strconcat(head, "Rep last row twice.", NULL);
	expect_fault(all, "rows-again-unknown", "row 3, which is repeated here, is not worked in all");
	g_autofree char *one = g_strconcat(head, "Size L only: Rep last row twice.", NULL);
	model m = {.sizes = 2};
	fill(&m, 0, 2, 20);
	fill(&m, 1, 2, 30);
	for (int i = 1; i <= 3; i++)
		fill(&m, 1, 1, 30 - i);
	expect_both(&m, "S, L", "Ch 21 (31)", one);
	/* each size has a row 3, though not the same one */
	g_autofree char *both = g_strconcat(head,
		"Row 3 (size S only): Ch 1, 2 sc in next st, sc in each st across, turn.\n"
		"Rep last row twice.", NULL);
	for (int i = 1; i <= 3; i++)
		fill(&m, 0, 1, 20 + i);
	expect_both(&m, "S, L", "Ch 21 (31)", both);
}

Test(graded_repeats, last_rows_that_are_not_there)
{
	expect_fault("Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 1, sc in each st across, turn.\nRep Row 2 - (3) times.\n"
		"Size S only: Rep last 3 rows twice.", "row-missing", "size S: 3 rows are to repeat, and there are 2");
	expect_fault("Rep last row twice.", "rows-again-unknown", "which rows");
}

/* --- patterns made up --- */

typedef struct {
	const char *text;
	int more; /* stitches */
} kind;

static const kind kinds[] = {
	{"Ch 1, sc in each st across", 0},
	{"Ch 3, dc in each st across", 0},
	{"Ch 1, sc BLO in each st across", 0},
	{"Ch 2 (counts as hdc), sk first st, hdc in each st across", 0},
	{"Ch 1, sc2tog over next 2 sts, sc in each st to last 2 sts, sc2tog over next 2 sts", -2},
	{"Ch 1, 2 sc in next st, sc in each st across", 1},
	{"Ch 1, sc in next 3 sts, FPdc around next st, sc in each st across", 0},
};

typedef struct {
	GRand *random;
	model m;
	int more[MOST][MOST_MADE]; /* what each row adds */
	GString *rows;
	bool graded; /* the sizes may have other numbers of rows by now */
} maker;

static unsigned roll(maker *k, unsigned from, unsigned to)
{
	return (unsigned)g_rand_int_range(k->random, (gint32)from, (gint32)to + 1);
}

static void work_row(maker *k, unsigned size, int more)
{
	unsigned at = k->m.count[size]++;
	cr_assert_lt(at, MOST_MADE);
	k->more[size][at] = more;
	k->m.rows[size][at] = (at > 0 ? k->m.rows[size][at - 1] : 0) + more;
}

static void say_numbers(maker *k)
{
	for (unsigned i = 0; i < k->m.sizes && (i == 0 || k->graded); i++)
		g_string_append_printf(k->rows, "%s%u", i == 0 ? "" : i == 1 ? " (" : ", ",
			k->m.count[i] + 1);
	g_string_append(k->rows, k->graded && k->m.sizes > 1 ? ")" : "");
}

static void add_row(maker *k)
{
	const kind *row = &kinds[roll(k, 0, G_N_ELEMENTS(kinds) - 1)];
	g_string_append(k->rows, "Row ");
	say_numbers(k);
	g_string_append_printf(k->rows, ": %s, turn.\n", row->text);
	for (unsigned i = 0; i < k->m.sizes; i++)
		work_row(k, i, row->more);
}

/* Rows FROM (an index) on, COUNT of them, TIMES over. */
static void repeat(maker *k, unsigned size, unsigned from, unsigned count, unsigned times)
{
	for (unsigned i = 0; i < count * times; i++)
		work_row(k, size, k->more[size][from + i % count]);
}

/* "3 (0, -, 4) times", a size at least repeating; *NONE where all do alike, and it is no bracket. */
static void say_times(maker *k, unsigned *times)
{
	bool alike = roll(k, 0, 3) == 0, any = false;
	unsigned all = roll(k, 1, 4);
	g_string_append_c(k->rows, ' ');
	for (unsigned i = 0; i < k->m.sizes; i++) {
		unsigned how = roll(k, 0, 3);
		times[i] = alike || (i + 1 == k->m.sizes && !any) ? all : how == 0 ? 0 : roll(k, 1, 5);
		any = any || times[i] > 0;
		if (alike && i > 0)
			continue;
		g_string_append(k->rows, i == 0 ? "" : i == 1 ? " (" : ", ");
		if (times[i] == 0 && roll(k, 0, 1) == 0)
			g_string_append_c(k->rows, '-');
		else
			g_string_append_printf(k->rows, "%u", times[i]);
	}
	g_string_append_printf(k->rows, "%s times.\n", !alike && k->m.sizes > 1 ? ")" : "");
	k->graded = k->graded || !alike;
}

static void add_repeat(maker *k)
{
	unsigned times[MOST], least = G_MAXUINT;
	for (unsigned i = 0; i < k->m.sizes; i++)
		least = MIN(least, k->m.count[i]);
	/* row 1 is worked into the chain */
	unsigned count = roll(k, 1, MIN(4, least - 1));
	bool last = k->graded || roll(k, 0, 2) == 0;
	unsigned first = last ? 0 : roll(k, 2, least - count + 1);
	if (last && count == 1)
		g_string_append(k->rows, "Rep last row");
	else if (last)
		g_string_append_printf(k->rows, "Rep last %u rows", count);
	else if (count == 1)
		g_string_append_printf(k->rows, "Rep Row %u", first);
	else
		g_string_append_printf(k->rows, "Rep Rows %u-%u", first, first + count - 1);
	say_times(k, times);
	for (unsigned i = 0; i < k->m.sizes; i++)
		repeat(k, i, last ? k->m.count[i] - count : first - 1, count, times[i]);
}

static void try_seed(guint32 seed)
{
	static const char *const names[] = {"", "", "S, L", "S, M, L", "XS, S, M, L", "XS, S, M, L, XL"};
	maker k = {.random = g_rand_new_with_seed(seed), .rows = g_string_new(NULL)};
	GString *start = g_string_new("Ch ");
	k.m.sizes = roll(&k, 2, MOST);
	for (unsigned i = 0; i < k.m.sizes; i++) {
		int stitches = (int)roll(&k, 240, 260);
		g_string_append_printf(start, "%s%d", i == 0 ? "" : i == 1 ? " (" : ", ", stitches + 1);
		work_row(&k, i, stitches);
	}
	g_string_append_c(start, ')');
	g_string_append(k.rows, "Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn.\n");
	for (unsigned i = roll(&k, 1, 4); i > 0; i--)
		add_row(&k);
	for (unsigned i = roll(&k, 1, 2); i > 0; i--) {
		add_repeat(&k);
		for (unsigned more = roll(&k, 0, 2); more > 0; more--)
			add_row(&k);
	}
	g_autofree char *all = g_strdup_printf("%s", k.rows->str);
	expect_both(&k.m, names[k.m.sizes], start->str, all);
	g_rand_free(k.random);
	g_string_free(k.rows, TRUE);
	g_string_free(start, TRUE);
}

Test(graded_repeats, made_up)
{
	for (guint32 seed = 1; seed <= PATTERNS; seed++)
		try_seed(seed);
}
