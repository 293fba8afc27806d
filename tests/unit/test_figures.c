/* Figures in plain text: every form of a list, by itself and where such lists stand. */
#include "counts.h"

#include "pattern/text_figures.h"

#include <criterion/criterion.h>
#include <math.h>
#include <string.h>

/* A list for four sizes in each form. */
static const char *const forms[] = {"%u (%u, %u, %u)", "%u (%u; %u; %u)", "%u (%u: %u: %u)", "%u (%u-%u-%u)", "%u (%u – %u – %u)",
	"%u (%u %u %u)", "%u (%u/%u/%u)", "%u (%u) %u (%u)", "%u (%u, %u) %u", "%u (%u, %u) [%u]", "%u (%u) [%u] {%u}", "%u (%u, %u [%u])",
	"%u/%u/%u/%u", "%u, %u, %u, %u", "%u; %u; %u; %u", "%u-%u-%u-%u", "%u - %u - %u - %u", "%u—%u—%u—%u", "%u:%u:%u:%u", "%u[%u,%u,%u]"};

#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
/* Owned. */
static char *in_form(size_t form, unsigned a, unsigned b, unsigned c, unsigned d)
{
	return g_strdup_printf(forms[form], a, b, c, d);
}
#pragma GCC diagnostic pop

static void expect_whole(const char *text, unsigned sizes, size_t bytes, const char *wanted)
{
	guint32 numbers[TB_MAX_SIZES];
	unsigned count;
	size_t taken = tb_figures_read(text, sizes, numbers, &count);
	g_autoptr(GString) got = g_string_new(NULL);
	for (unsigned i = 0; i < count; i++)
		g_string_append_printf(got, "%s%u", i > 0 ? " " : "", numbers[i]);
	cr_expect(taken == bytes && strcmp(got->str, wanted) == 0, "\"%s\" for %u sizes: %s, %zu bytes", text, sizes, got->str, taken);
}

Test(figures, every_form_of_a_list)
{
	for (size_t i = 0; i < G_N_ELEMENTS(forms); i++) {
		g_autofree char *list = in_form(i, 24, 28, 32, 36), *more = g_strconcat(list, " squares", NULL);
		expect_whole(more, 4, strlen(list), "24 28 32 36");
	}
	expect_whole("twenty-four (28, thirty)", 3, 24, "24 28 30");
	expect_whole("24 (28,\n32) squares", 3, 11, "24 28 32");
	expect_whole("24 (-, 32, -) squares", 4, 13, "24 0 32 0");
	expect_whole("24/-/32 squares", 3, 7, "24 0 32");
}

/* What is no list, and what stands behind one. */
Test(figures, what_ends_a_list)
{
	expect_whole("24 squares", 1, 2, "24");
	expect_whole("24 (4 rows of 6)", 2, 2, "24");
	expect_whole("24 (28, 32) 6 squares", 3, 11, "24 28 32");
	expect_whole("24 (28) 6 (round) squares", 2, 7, "24 28");
	expect_whole("24 (28) 6 (round) squares", 4, 7, "24 28");
	expect_whole("24, 28 and 32", 3, 2, "24");
	expect_whole("24, 28, 32, 36", 3, 2, "24");
	expect_whole("24-28", 2, 2, "24");
	expect_whole("24-28 (32, 36)", 4, 2, "24");
	expect_whole("24: 28 red", 3, 2, "24");
	expect_whole("24 (28, 32", 3, 2, "24");
	expect_whole("24 (28 (30 (32)))", 4, 2, "24");
	/* too many are for others to tell */
	expect_whole("24 (28, 32)", 2, 11, "24 28 32");
	expect_whole("24/28/32", 2, 8, "24 28 32");
	expect_whole("2.5 squares", 1, 0, "");
	expect_whole("123456 squares", 1, 0, "");
	expect_whole("", 1, 0, "");
	g_autoptr(GString) many = g_string_new("1 (2");
	for (unsigned i = 3; i <= TB_MAX_SIZES; i++)
		g_string_append_printf(many, ", %u", i);
	guint32 numbers[TB_MAX_SIZES];
	unsigned count;
	g_autofree char *all = g_strconcat(many->str, ")", NULL), *past = g_strconcat(many->str, ", 25)", NULL);
	cr_expect_eq(tb_figures_read(all, TB_MAX_SIZES, numbers, &count), strlen(all));
	cr_expect_eq(count, TB_MAX_SIZES);
	cr_expect_eq(tb_figures_read(past, TB_MAX_SIZES, numbers, &count), 1);
}

/* WANTED in tenths of a millimetre; NULL: no lengths. */
static void expect_lengths(const char *text, const char *wanted, const char *behind)
{
	tb_finished finished = {0};
	size_t end;
	bool taken = tb_figures_read_lengths(text, &finished, &end);
	g_autoptr(GString) got = g_string_new(NULL);
	for (unsigned i = 0; i < finished.count; i++)
		g_string_append_printf(got, "%s%.0f", i > 0 ? " " : "", round(finished.mm[i] * 10));
	cr_expect_eq(taken, wanted != NULL, "\"%s\": %s", text, got->str);
	cr_expect(!taken || wanted == NULL || (strcmp(got->str, wanted) == 0 && strcmp(text + end, behind) == 0), "\"%s\": %s, before \"%s\"", text, got->str, text + end);
}

Test(figures, lengths)
{
	for (size_t i = 0; i < G_N_ELEMENTS(forms); i++) {
		g_autofree char *list = in_form(i, 24, 28, 32, 36), *more = g_strconcat(list, " cm wide", NULL);
		expect_lengths(more, "2400 2800 3200 3600", " wide");
	}
	expect_lengths("13.5 cm", "1350", "");
	expect_lengths("3½ in (4¼ in)", "889 1080", "");
	expect_lengths("3 1/2\" wide", "889", " wide");
	expect_lengths("3-1/2 inches", "889", "");
	expect_lengths("1/2 in", "127", "");
	expect_lengths("16 in (18 in, 20 in) around", "4064 4572 5080", " around");
	expect_lengths("46 cm, 50 cm, 54 cm", "4600 5000 5400", "");
	expect_lengths("46 cm/50 cm", "4600 5000", "");
	expect_lengths("30 33 36 cm", "3000 3300 3600", "");
	expect_lengths("16 (18, 20 in)", "4064 4572 5080", "");
	expect_lengths("30 (-, 36) cm", "3000 0 3600", "");
	expect_lengths("30, -, 36 cm", "3000 0 3600", "");
	/* the same once more in the other unit */
	expect_lengths("42 cm (16½ in)", "4200", " (16½ in)");
	expect_lengths("42 (46, 50) cm [16½ (18, 19¾) in]", "4200 4600 5000", " [16½ (18, 19¾) in]");
	expect_lengths("10 cm/4 in", "1000", "/4 in");
	expect_lengths("5-10 cm", NULL, "");
	expect_lengths("5 – 10 cm", NULL, "");
	expect_lengths("5-10 (6-12) cm", NULL, "");
	expect_lengths("42 (46, 50) sts", NULL, "");
	expect_lengths("123456 cm", NULL, "");
}

/* --- where they stand --- */

static void expect_said(const char *text, const char *fault)
{
	tb_case c = tb_case_read("test.txt", text);
	g_autofree char *faults = tb_case_faults(&c);
	if (fault == NULL)
		cr_expect(tb_diagnostics_count(c.diagnostics) == 0, "%s\n%s", text, faults);
	else
		cr_expect(tb_diagnostics_count(c.diagnostics) > 0 && strcmp(tb_diagnostics_get(c.diagnostics, 0)->code, fault) == 0, "%s\n%s", text, faults);
	tb_case_finish(&c);
}

/* 4 rows of 6, 7, 8, 9. */
Test(figures, of_motifs)
{
	for (size_t i = 0; i < G_N_ELEMENTS(forms); i++) {
		for (unsigned less = 0; less < 2; less++) {
			g_autofree char *made = in_form(i, 24, 28, 32 - less, 36), *across = in_form(i, 6, 7, 8, 9);
			g_autofree char *text = g_strdup_printf("Throw\n\nSizes: S (M, L, XL)\n\nMOTIF\nRnd 1: Ch 4, 11 dc in 4th ch from hook, join with "
				"sl st. (12 dc)\nFasten off.\n\nFINISHING\nMake %s motifs. Join them in 4 rows of %s.\n", made, across);
			expect_said(text, less ? "motifs-differ" : NULL);
		}
	}
}

/* Backs of 36 (42, 48, 54), fronts on 9 (11, 13, 15) of their stitches. */
Test(figures, of_pieces_that_grow_from_another)
{
	for (size_t i = 0; i < G_N_ELEMENTS(forms); i++) {
		for (unsigned less = 0; less < 2; less++) {
			g_autofree char *from = in_form(i, 20, 23, 26, 29), *over = in_form(i, 9, 11, 13 - less, 15);
			g_autofree char *text = g_strdup_printf("Vest\n\nSizes: S (M, L, XL)\nGauge: 10 sts and 10 rows = 10 cm\n\nBACK\nCh 37 (43, 49, 55).\n"
				"Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn. (36 (42, 48, 54) sc)\nRow 2: Ch 1, sc in each st across. (36 (42, 48, 54) sc)\n\n"
				"LEFT FRONT\nWith RS facing, join yarn in st %s of Back, work over next %s sts.\nRow 1: Ch 1, sc in each st across. (9 (11, 13, 15) sc)\n", from, over);
			expect_said(text, less ? "count-claimed" : NULL);
		}
	}
}

/* Three sizes of figures where four begin: nobody guesses the fourth. */
Test(figures, of_pieces_in_too_few_sizes)
{
	expect_said("Vest\n\nSizes: S (M, L, XL)\n\nBACK\nCh 37 (43, 49, 55).\nRow 1 (RS): Sc in 2nd ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 1, sc in each st across.\n\nLEFT FRONT\nJoin yarn in st 20 (23, 26, 29) of Back, work over next 9 (11, 13) sts.\n"
		"Row 1: Ch 1, sc in each st across.\n", "piece-from");
}

Test(figures, of_what_is_finished)
{
	for (size_t i = 0; i < G_N_ELEMENTS(forms); i++) {
		for (unsigned less = 0; less < 2; less++) {
			g_autofree char *wide = in_form(i, 20, 24, 28, less ? 28 : 32);
			g_autofree char *text = g_strdup_printf("Scarf\nSizes: S (M, L, XL)\nGauge: 10 sts and 10 rows = 10 cm\n\nSCARF\nFinished width: %s cm\n"
				"Ch 21 (25, 29, 33).\nRow 1: Sc in 2nd ch from hook and in each ch across.\nRows 2-4: Ch 1, turn, sc in each st across.\n", wide);
			expect_said(text, less ? "finished-differs" : NULL);
		}
	}
}
