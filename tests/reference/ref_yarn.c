/* Yarn weights and hooks against the trade's tables (Craft Yarn Council, as in the trade facts). */
#include "layout/sheet.h"

#include <criterion/criterion.h>

/*
 * Craft Yarn Council, standard yarn weights: sc over 4 in / 10 cm and hooks in mm. Weight 0 is
 * counted in dc; its steel hooks from memory.
 */
Test(yarn, weights_have_their_gauge_and_hooks)
{
	static const struct {
		double least, most, least_hook, most_hook;
	} TABLE[] = {{32, 42, 1.4, 2.25}, {21, 32, 2.25, 3.5}, {16, 20, 3.5, 4.5}, {12, 17, 4.5, 5.5},
		{11, 14, 5.5, 6.5}, {8, 11, 6.5, 9}, {7, 9, 9, 15}, {0, 6, 15, 0}};
	for (int i = 0; i < 8; i++) {
		const tb_yarn_weight *weight = tb_yarn_weight_get(i);
		cr_assert_not_null(weight);
		cr_expect_eq(weight->least, TABLE[i].least, "weight %d", i);
		cr_expect_eq(weight->most, TABLE[i].most, "weight %d", i);
		cr_expect_eq(weight->least_hook, TABLE[i].least_hook, "weight %d", i);
		cr_expect_eq(weight->most_hook, TABLE[i].most_hook, "weight %d", i);
		cr_expect_str_eq(weight->stitch, i == 0 ? "dc" : "sc");
	}
	cr_expect_null(tb_yarn_weight_get(-1));
	cr_expect_null(tb_yarn_weight_get(8));
}

/* Craft Yarn Council, hook sizes, mm = US. */
Test(yarn, hooks_have_their_us_sizes)
{
	static const struct {
		double mm;
		const char *us;
	} TABLE[] = {{2.25, "B-1"}, {2.75, "C-2"}, {3.25, "D-3"}, {3.5, "E-4"}, {3.75, "F-5"}, {4, "G-6"},
		{4.5, "7"}, {5, "H-8"}, {5.5, "I-9"}, {6, "J-10"}, {6.5, "K-10½"}, {8, "L-11"},
		{9, "M/N-13"}, {10, "N/P-15"}};
	for (size_t i = 0; i < G_N_ELEMENTS(TABLE); i++) {
		const char *us = tb_hook_us_size(TABLE[i].mm);
		cr_assert_not_null(us, "%g mm", TABLE[i].mm);
		cr_expect_str_eq(us, TABLE[i].us);
	}
	/* A size between two has no letter, and no neighbour's either. */
	cr_expect_null(tb_hook_us_size(7));
	cr_expect_null(tb_hook_us_size(5.25));
	cr_expect_null(tb_hook_us_size(1.75));
}

/* The trade takes 4 in for 10 cm; 4 in are 101.6 mm (international inch, 1959). */
Test(yarn, a_gauge_agrees_with_the_weight_it_lies_in)
{
	static const struct {
		int weight;
		double stitches, over_mm;
		bool agrees;
	} CASES[] = {
		{4, 13, 100, true}, {4, 13, 101.6, true}, {4, 11, 101.6, true}, {4, 14, 100, true},
		{4, 18, 100, false}, {4, 8, 101.6, false}, {5, 18, 100, false}, {2, 18, 100, true},
		{1, 32, 100, true}, {7, 3, 100, true}, {7, 8, 100, false},
		/* 26 over 20 cm is 13 over 10 (arithmetic). */
		{4, 26, 200, true},
	};
	for (size_t i = 0; i < G_N_ELEMENTS(CASES); i++) {
		tb_gauge gauge = {.given = true, .stitches = CASES[i].stitches, .over_mm = CASES[i].over_mm};
		cr_expect_eq(tb_yarn_agrees(tb_yarn_weight_get(CASES[i].weight), &gauge), CASES[i].agrees,
			"weight %d, %g sts over %g mm", CASES[i].weight, CASES[i].stitches, CASES[i].over_mm);
	}
}
