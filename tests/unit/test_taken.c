/*
 * What became of each row: read as a row, a repeat, a remark, an end, or not at all; and rows that are
 * not understood but state their count, on which the rows above are worked.
 */
#include "words/check.h"
#include "support.h"

#include <criterion/criterion.h>
#include <string.h>

static bool has_error_in(tb_case *c, size_t start, size_t end)
{
	for (unsigned i = 0; i < tb_diagnostics_count(c->diagnostics); i++) {
		const tb_diagnostic *fault = tb_diagnostics_get(c->diagnostics, i);
		if (fault->severity == TB_ERROR && fault->place.start >= start && fault->place.start < end)
			return true;
	}
	return false;
}

/* Checks that the lines of TEXT are read as NAMES, and that each unread one has an error. */
static void expect_read(const char *text, const char *const *names)
{
	tb_case c = tb_case_read("own.txt", text);
	g_autoptr(GArray) parts = tb_check_read(c.worked);
	unsigned lines = 0;
	for (guint i = 0; i < parts->len; i++) {
		const tb_check_part *part = &g_array_index(parts, tb_check_part, i);
		const char *as = tb_check_read_name(part->as);
		if (part->as == TB_READ_UNREAD)
			cr_expect(has_error_in(&c, part->start, part->end), "line %u is unread, and no error says so",
				part->line);
		if (part->as == TB_READ_BLANK)
			continue;
		cr_assert_not_null(names[lines], "line %u: more than expected", part->line);
		cr_expect_str_eq(as, names[lines], "line %u is read as %s, not %s", part->line, as, names[lines]);
		lines++;
	}
	cr_expect_null(names[lines]);
	tb_case_finish(&c);
}

Test(taken, each_line_says_what_became_of_it)
{
	expect_read("MAT\n"
		"Ch 13.\n"
		"Row 1: Sc in 2nd ch from hook and in each ch across, turn. (12 sc)\n"
		"Row 2: Ch 1, sc in each st across, turn.\n"
		"Row 3: Ch 1, sc wibbling onward, turn. (12 sc)\n"
		"Rows 4-6: Rep Row 2.\n"
		"The edge will want to curl.\n"
		"Row 7: Ch 1, sc in each st across, leaving nothing out, turn.\n"
		"Fasten off.\n", (const char *const[]){"heading", "start", "row", "row", "unread", "repeat",
		"remark", "unread", "finishing", NULL});
}

Test(taken, a_start_that_is_not_understood_is_unread)
{
	expect_read("MAT\n"
		"Ch 13 flumps.\n"
		"Row 1: Sc in 2nd ch from hook and in each ch across, turn. (12 sc)\n",
		(const char *const[]){"heading", "unread", "row", NULL});
}

static const tb_made_row *row_of(const tb_case *c, unsigned size, guint32 number)
{
	return tb_fabric_row(tb_worked_fabric(c->worked, 0, size), number);
}

static unsigned count_code(tb_case *c, const char *code)
{
	unsigned count = 0;
	for (unsigned i = 0; i < tb_diagnostics_count(c->diagnostics); i++)
		count += strcmp(tb_diagnostics_get(c->diagnostics, i)->code, code) == 0;
	return count;
}

/* The graph stays whole: what stands on a taken row stands on its stitches. */
Test(taken, rows_go_on_upon_a_stated_count)
{
	tb_case c = tb_case_read("own.txt",
		"Sizes: S (L)\n\nHAT\n"
		"Ch 17 (21).\n"
		"Row 1: Sc in 2nd ch from hook and in each ch across, turn. [16 (20) sts]\n"
		"Row 2: Ch 1, sc wibbling onward, turn. [24 (30) sts]\n"
		"Row 3: Ch 1, *sc in next st, sc2tog; rep from * across, turn. [16 (20) sts]\n"
		"Row 4: Ch 1, *sc in next 2 sts, sc2tog; rep from * across, turn. [12 (15) sts]\n"
		"Row 5: Ch 1, sc in next 40 sts, turn.\n");
	for (unsigned size = 0; size < 2; size++) {
		const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, size);
		const tb_made_row *taken = row_of(&c, size, 2), *above = row_of(&c, size, 3);
		cr_assert(taken != NULL && above != NULL);
		cr_expect(taken->taken && !above->taken);
		cr_expect_eq(taken->stitches, size == 0 ? 24u : 30u);
		cr_expect_eq(above->stitches, size == 0 ? 16u : 20u);
		for (guint32 i = taken->first; i < taken->first + taken->count; i++) {
			const tb_made *made = &fabric->made[i];
			cr_expect_eq(made->base_count, 1);
			cr_expect_eq(fabric->made[tb_fabric_base(fabric, made, 0)].row, made->row - 1);
		}
		cr_expect(fabric->has_fault);
	}
	cr_expect_eq(count_code(&c, "word-unknown"), 1u, "the text that was not read is told");
	cr_expect_eq(count_code(&c, "row-taken"), 1u);
	cr_expect_geq(count_code(&c, "past-end"), 1u, "the fault three rows above is found as well");
	cr_expect_eq(count_code(&c, "not-checked"), 0u);
	tb_case_finish(&c);
}

/* Whether a space is there, the count does not say; nothing false is told of it. */
Test(taken, what_the_count_does_not_say_is_not_judged)
{
	tb_case c = tb_case_read("own.txt",
		"BAND\n"
		"Ch 17.\n"
		"Row 1: Sc in 2nd ch from hook and in each ch across, turn. (16 sc)\n"
		"Row 2: Ch 3, wibble onward, turn. (16 dc)\n"
		"Row 3: Ch 1, 2 sc in each ch-1 sp across, turn. (14 sc)\n"
		"Row 4: Ch 1, sc in each st across, turn. (13 sc)\n"
		"Row 5: Ch 1, wibble onward, turn. (12 sc)\n"
		"Row 6: Ch 1, sc in each ch-2 sp across, turn.\n"
		"Row 7: Ch 1, sc in each st across, turn. (50 sc)\n");
	cr_expect_eq(count_code(&c, "space-missing"), 0u);
	cr_assert_not_null(row_of(&c, 0, 3));
	cr_expect(row_of(&c, 0, 3)->taken, "its own count says how many there are");
	cr_expect_eq(row_of(&c, 0, 3)->stitches, 14u);
	cr_expect_eq(count_code(&c, "count-claimed"), 1u, "14 sc are there, and 13 are claimed");
	cr_expect_eq(count_code(&c, "not-checked"), 1u, "row 6 states no count");
	cr_expect_null(row_of(&c, 0, 6));
	tb_case_finish(&c);
}

/* Where nothing could be checked for a while, the next row that states its count is one to go on from. */
Test(taken, checking_goes_on_at_the_next_stated_count)
{
	tb_case c = tb_case_read("own.txt",
		"Sizes: S (L)\n\nPANEL\n"
		"Ch 21 (25).\n"
		"Row 1: Sc in 2nd ch from hook and in each ch across, turn. [20 (24) sc]\n"
		"Row 2: Ch 1, sc wibbling across, turn.\n"
		"Row 3: Ch 1, sc in next 40 sc, turn.\n"
		"Row 7: Ch 1, 2 sc in first sc, sc in each sc across, turn. [25 (29) sc]\n"
		"Row 8: Ch 1, sc2tog, sc in each sc across, turn. [24 (29) sc]\n"
		"Row 9: Ch 1, sc in next 50 sc, turn.\n");
	cr_expect_eq(count_code(&c, "not-checked"), 1u);
	cr_expect_eq(count_code(&c, "row-taken"), 1u);
	cr_expect_eq(count_code(&c, "row-number"), 0u, "rows 4 to 6 may stand among what was passed over");
	cr_expect_eq(count_code(&c, "count-claimed"), 1u, "size L has 28 in row 8");
	cr_expect_eq(count_code(&c, "place-missing"), 1u, "row 9 has no 50 sc below it");
	cr_assert(row_of(&c, 0, 7) != NULL && row_of(&c, 1, 8) != NULL);
	cr_expect(row_of(&c, 0, 7)->taken && !row_of(&c, 1, 8)->taken);
	cr_expect_eq(row_of(&c, 1, 8)->stitches, 28u);
	cr_expect(tb_worked_fabric(c.worked, 0, 0)->uncounted);
	tb_case_finish(&c);
}

/* A line without a number is a row of so many only where it says so for every size; nobody knows its number. */
Test(taken, a_line_without_a_number_may_state_its_count)
{
	const char *const counts[] = {"42 (46) sc", "42 sc"};
	for (unsigned i = 0; i < 2; i++) {
		g_autofree char *text = g_strdup_printf("Sizes: S (L)\n\nPANEL\n"
			"Ch 31 (33).\n"
			"Row 1: Sc in 2nd ch from hook and in each ch across, turn. [30 (32) sc]\n"
			"Go on in this way and wibble now and then till 6 (7) wibbles are done. %s\n"
			"Work even until there are 40 rows.\n"
			"Row 41: Ch 1, sc2tog, sc in each sc across to last 2 sc, sc2tog, turn. [40 (45) sc]\n"
			"Row 42: Ch 1, sc2tog, sc in each sc across, turn. [39 (44) sc]\n", counts[i]);
		tb_case c = tb_case_read("own.txt", text);
		cr_expect_eq(count_code(&c, "count-claimed"), i == 0 ? 2u : 0u, "rows 41 and 42 of L, held against 46");
		cr_expect_eq(count_code(&c, "row-taken"), 1u);
		cr_assert(row_of(&c, 0, 41) != NULL && row_of(&c, 0, 42) != NULL);
		cr_expect_eq(row_of(&c, 0, 41)->taken, i > 0);
		cr_expect_not(row_of(&c, 0, 42)->unsure);
		tb_case_finish(&c);
	}
}

/* Spaces, corners and rounds of several rows are no count of stitches. */
Test(taken, only_stitches_are_a_count)
{
	tb_case c = tb_case_read("own.txt",
		"MESH\n"
		"Ch 17.\n"
		"Row 1: Sc in 2nd ch from hook and in each ch across, turn. (16 sc)\n"
		"Row 2: Ch 3, wibble onward, turn. (8 ch-1 sps)\n"
		"Row 3: Ch 1, sc in each st across, turn.\n");
	cr_expect_null(row_of(&c, 0, 2));
	cr_expect_eq(count_code(&c, "row-taken"), 0u);
	cr_expect_eq(count_code(&c, "not-checked"), 1u);
	tb_case_finish(&c);
}

/* "… 5 dc" at the end of a row is work and no count: a count is set apart. */
Test(taken, work_at_the_end_is_no_count)
{
	tb_case c = tb_case_read("own.txt",
		"STRIP\n"
		"Ch 17.\n"
		"Row 1: Sc in 2nd ch from hook and in each ch across, turn. (16 sc)\n"
		"Row 2: Ch 3, wibble onward, 5 dc\n"
		"Row 3: Ch 1, sc in each st across, turn.\n");
	cr_expect_null(row_of(&c, 0, 2));
	cr_expect_eq(count_code(&c, "row-taken"), 0u);
	tb_case_finish(&c);
}

/* A repeat of a taken row on as many stitches has as many; on others nobody knows. */
Test(taken, repeated_only_on_as_many_stitches)
{
	static const char text[] =
		"PANEL\n"
		"Ch 11.\n"
		"Row 1: Sc in 2nd ch from hook and in each ch across, turn. (10 sc)\n"
		"Row 2: Ch 1, wibble onward, turn. (%s)\n"
		"Row 3: Ch 1, sc in each st across, turn.\n"
		"Rows 4-7: Rep Rows 2-3.\n";
	for (unsigned same = 0; same < 2; same++) {
		g_autofree char *pattern = g_strdup_printf(text, same ? "10 sc" : "14 sc");
		tb_case c = tb_case_read("own.txt", pattern);
		cr_expect_eq(row_of(&c, 0, 7) != NULL, same);
		cr_expect_eq(count_code(&c, "not-checked"), !same);
		tb_case_finish(&c);
	}
}
