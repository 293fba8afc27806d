/* Working rows: places taken and places made, and what is told when they do not agree. */
#include "counts.h"

#include <criterion/criterion.h>

Test(work, a_counted_turning_chain_stands_over_the_first_stitch)
{
	tb_case c = tb_case_rows("", "Ch 12.",
		"Row 1: Dc in 4th ch from hook and in each ch across.\n"
		"Row 2: Ch 3, turn, sk first st, dc in each st across.\n"
		"Row 3: Ch 3, turn, dc in each st across.\n"
		"Row 4: Ch 3, turn, dc in each st to last st, dc in top of tch.");
	expect_sound(&c);
	for (guint32 row = 1; row <= 4; row++)
		cr_expect_eq(count_row(&c, 0, row), 10, "row %u", row);
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	const tb_made *chain = made_in(&c, 0, 2, 0);
	cr_expect(chain->flags & TB_MADE_TURNING && chain->flags & TB_MADE_COUNTED);
	cr_expect_eq(chain->chains, 3);
	/* it stands on the last stitch of row 1, and the last dc on row 1's own turning chain */
	cr_expect_eq(tb_fabric_base(fabric, chain, 0), fabric->rows[1].first + 9);
	cr_expect_eq(tb_fabric_base(fabric, made_in(&c, 0, 2, 9), 0), fabric->rows[1].first);
	tb_case_finish(&c);
}

Test(work, an_uncounted_turning_chain_is_nobodys_stitch)
{
	tb_case c = tb_case_rows("", "Ch 11.",
		"Row 1: Sc in 2nd ch from hook and in each ch across.\nRow 2: Ch 1, turn, sc in each st "
		"across.");
	expect_sound(&c);
	cr_expect_eq(count_row(&c, 0, 1), 10);
	cr_expect_eq(count_row(&c, 0, 2), 10);
	cr_expect_not(made_in(&c, 0, 2, 0)->flags & TB_MADE_COUNTED);
	cr_expect_eq(made_in(&c, 0, 2, 0)->base_count, 0);
	tb_case_finish(&c);
	c = tb_case_rows("", "Ch 11.",
		"Row 1: Sc in 2nd ch from hook and in each ch across.\n"
		"Row 2: Ch 1, turn, sc in next 9 sts, sc in top of tch.");
	cr_expect_eq(expect_fault(&c, "place-missing"), 2);
	tb_case_finish(&c);
}

Test(work, the_turning_chain_at_the_end_of_a_row_belongs_to_the_next)
{
	tb_case c = tb_case_rows("", "Ch 12.",
		"Row 1: Dc in 4th ch from hook and in each ch across, ch 3, turn.\n"
		"Row 2: Sk first st, dc in each st across, ch 1, turn.\n"
		"Row 3: Sc in each st across.");
	expect_sound(&c);
	cr_expect_eq(made_in(&c, 0, 1, 0)->chains, 3);
	cr_expect_eq(made_in(&c, 0, 2, 0)->chains, 3);
	cr_expect_eq(made_in(&c, 0, 3, 0)->chains, 1);
	cr_expect_eq(count_row(&c, 0, 3), 10);
	tb_case_finish(&c);
}

Test(work, a_turning_chain_said_twice_is_worked_once)
{
	tb_case c = tb_case_rows("", "Ch 12.",
		"Row 1: Dc in 4th ch from hook and in each ch across, ch 3, turn.\n"
		"Row 2: Ch 3, dc in each st across.");
	cr_expect_eq(expect_fault(&c, "turning-chain-twice"), 2);
	cr_expect_eq(count_row(&c, 0, 2), 10);
	tb_case_finish(&c);
}

Test(work, the_text_says_whether_it_counts)
{
	tb_case c = tb_case_rows("", "Ch 12.",
		"Row 1: Dc in 4th ch from hook and in each ch across.\n"
		"Row 2: Ch 3 (does not count as st), turn, dc in each st across.\n"
		"Row 3: Ch 1 (counts as sc), turn, sk first st, sc in each st across.");
	expect_sound(&c);
	cr_expect_eq(count_row(&c, 0, 2), 10);
	cr_expect_eq(made_in(&c, 0, 2, 1)->stitch, tb_library_find(c.library, "dc")->number);
	cr_expect_not(made_in(&c, 0, 2, 0)->flags & TB_MADE_COUNTED);
	cr_expect(made_in(&c, 0, 3, 0)->flags & TB_MADE_COUNTED);
	cr_expect_eq(count_row(&c, 0, 3), 10);
	tb_case_finish(&c);
}

Test(work, two_chains_for_hdc_must_be_said)
{
	tb_case c = tb_case_rows("", "Ch 11.",
		"Row 1: Hdc in 3rd ch from hook and in each ch across.\nRow 2: Ch 2, turn, hdc in each st "
		"across.");
	cr_expect_eq(expect_fault(&c, "turning-chain-unsaid"), 1);
	cr_expect_eq(tb_diagnostics_count_errors(c.diagnostics), 0);
	cr_expect_eq(count_row(&c, 0, 1), 10);
	cr_expect_eq(count_row(&c, 0, 2), 10);
	tb_case_finish(&c);
}

Test(work, a_chain_too_short_or_too_tall_is_told)
{
	tb_case c = tb_case_rows("", "Ch 12.",
		"Row 1: Dc in 4th ch from hook and in each ch across.\nRow 2: Ch 2, turn, dc in each st "
		"across.");
	cr_expect_eq(expect_fault(&c, "turning-chain-height"), 2);
	tb_case_finish(&c);
	c = tb_case_rows("", "Ch 12.", "Row 1: Dc in 10th ch from hook and in each ch across.");
	cr_expect_eq(expect_fault(&c, "turning-chain-height"), 1);
	tb_case_finish(&c);
}

Test(work, the_foundation_holds_the_chains_that_are_worked_into)
{
	/* the three skipped chains stand at the corner with none under them */
	tb_case c = tb_case_rows("", "Ch 12.", "Row 1: Dc in 4th ch from hook and in each ch across.");
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	cr_expect_eq(fabric->rows[0].count, 9);
	cr_expect_eq(made_in(&c, 0, 1, 0)->base_count, 0);
	tb_case_finish(&c);
	/* Japanese practice: one more, under the turning chain */
	c = tb_case_rows("", "Ch 13.", "Row 1: Dc in 5th ch from hook and in each ch across.");
	fabric = tb_worked_fabric(c.worked, 0, 0);
	cr_expect_eq(fabric->rows[0].count, 10);
	cr_assert_eq(made_in(&c, 0, 1, 0)->base_count, 1);
	cr_expect_eq(tb_fabric_base(fabric, made_in(&c, 0, 1, 0), 0), 9);
	cr_expect_eq(count_row(&c, 0, 1), 10);
	tb_case_finish(&c);
}

Test(work, places_taken_and_places_made)
{
	tb_case c = tb_case_rows("", "Ch 11.",
		"Row 1: Sc in 2nd ch from hook and in each ch across.\n"
		"Row 2: Ch 1, turn, 2 sc in next st, sc in each st to last st, 2 sc in last st.\n"
		"Row 3: Ch 1, turn, sc2tog, sc in each st to last 3 sts, sc3tog.");
	expect_sound(&c);
	cr_expect_eq(count_row(&c, 0, 2), 12);
	cr_expect_eq(count_row(&c, 0, 3), 9);
	cr_expect_eq(made_in(&c, 0, 3, 1)->base_count, 2);
	cr_expect_eq(made_in(&c, 0, 3, 9)->base_count, 3);
	tb_case_finish(&c);
}

Test(work, a_post_stitch_one_row_down_uses_up_that_stitch)
{
	tb_case c = tb_case_rows("", "Ch 12.",
		"Row 1: Dc in 4th ch from hook and in each ch across.\n"
		"Row 2: Ch 3, turn, [FPdc around next st, BPdc around next st] 4 times, dc in last st.");
	expect_sound(&c);
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	const tb_made *post = made_in(&c, 0, 2, 1);
	cr_expect_eq(post->rows_below, 1);
	cr_expect_eq(post->behind, TB_NONE);
	cr_expect_eq(tb_fabric_base(fabric, post, 0), fabric->rows[1].first + 8);
	tb_case_finish(&c);
}

Test(work, a_post_stitch_two_rows_down_hides_the_stitch_behind_it)
{
	/* said or not, the skip is the same one */
	static const char *const said[] = {"", ", sk st behind"};
	for (size_t i = 0; i < G_N_ELEMENTS(said); i++) {
		g_autofree char *rows =
			g_strdup_printf("Row 1: Dc in 4th ch from hook and in each ch across.\n"
							"Row 2: Ch 3, turn, dc in each st across.\n"
							"Row 3: Ch 3, turn, dc in next 2 sts, *FPdc2tog around st 2 rows "
							"below%s, dc in next 3 sts; "
							"rep from * across.",
				said[i]);
		tb_case c = tb_case_rows("", "Ch 13.", rows);
		expect_sound(&c);
		cr_expect_eq(count_row(&c, 0, 3), 11);
		const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
		const tb_made *post = made_in(&c, 0, 3, 3);
		cr_expect_eq(post->rows_below, 2);
		cr_expect_eq(post->behind, fabric->rows[2].first + 7);
		cr_expect_eq(tb_fabric_base(fabric, post, 0), fabric->rows[1].first + 3);
		tb_case_finish(&c);
	}
}

Test(work, without_the_skip_it_makes_an_increase)
{
	tb_case c = tb_case_rows("", "Ch 12.",
		"Row 1: Dc in 4th ch from hook and in each ch across.\n"
		"Row 2: Ch 3, turn, dc in each st across.\n"
		"Row 3: Ch 3, turn, dc in next 2 sts, FPdc around st 2 rows below, do not sk st behind, "
		"dc in each st across.");
	expect_sound(&c);
	cr_expect_eq(count_row(&c, 0, 3), 11);
	tb_case_finish(&c);
}

Test(work, there_must_be_a_post)
{
	tb_case c = tb_case_rows("", "Ch 12.",
		"Row 1: Dc in 4th ch from hook and in each ch across.\n"
		"Row 2: Ch 3, turn, FPdc around st 2 rows below, dc in each st across.");
	cr_expect_eq(expect_fault(&c, "post-nothing"), 2);
	/* the count of the row stays right all the same */
	cr_expect_eq(count_row(&c, 0, 2), 10);
	tb_case_finish(&c);
}

Test(work, a_named_post_is_found_where_it_is)
{
	tb_case c = tb_case_rows("", "Ch 14.",
		"Row 1: Dc in 4th ch from hook and in each ch across.\n"
		"Row 2: Ch 3, turn, dc in each st across.\n"
		"Row 3: Ch 3, turn, dc in next 2 sts, *FPdc around st 2 rows below, dc in next 3 sts; "
		"rep from * to last st, dc in last st.\n"
		"Row 4: Ch 3, turn, dc in each st across.\n"
		"Row 5: Ch 3, turn, dc in next st, *FPdc around next FPdc 2 rows below, dc in next 3 sts; "
		"rep from * to last 2 sts, dc in last 2 sts.");
	expect_sound(&c);
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	/* one column aside: not below the place due, but the next of its kind */
	cr_expect_eq(tb_fabric_base(fabric, made_in(&c, 0, 5, 2), 0), fabric->rows[3].first + 3);
	cr_expect_eq(tb_fabric_base(fabric, made_in(&c, 0, 5, 6), 0), fabric->rows[3].first + 7);
	tb_case_finish(&c);
}

Test(work, posts_rows_down_are_counted_from_either_end)
{
	tb_case c = tb_case_rows("", "Ch 9.",
		"Row 1: Sc in 2nd ch from hook, dc in next ch, sc in each ch across, turn.\n"
		"Row 2: Ch 1, sc in each st across, turn.\n"
		"Row 3: Ch 1, sc in next st, FPdc around 2nd st 2 rows below, FPdc around 1st st 2 rows "
		"below, FPdc around first dc 2 rows below, sc in next st, FPdc around each of last 2 sts 2 "
		"rows below, sc in next st.");
	expect_sound(&c);
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	/* turning chains lie before the first stitch of each row, and count as none */
	static const guint32 posts[][2] = {{2, 2}, {3, 1}, {4, 2}, {6, 7}, {7, 8}};
	for (size_t i = 0; i < G_N_ELEMENTS(posts); i++)
		cr_expect_eq(tb_fabric_base(fabric, made_in(&c, 0, 3, posts[i][0]), 0),
			fabric->rows[1].first + posts[i][1], "%u", posts[i][0]);
	cr_expect_eq(count_row(&c, 0, 3), 8);
	tb_case_finish(&c);
}

Test(work, the_nth_of_a_kind_is_counted_among_its_like)
{
	tb_case c = tb_case_rows("", "Ch 9.",
		"Row 1: Sc in 2nd ch from hook, ch 1, sk next ch, dc in next ch, ch 1, sk next ch, sc in each "
		"ch across, turn.\n"
		"Row 2: Ch 1, sc in 3rd sc, sc in 2nd ch-1 sp, sc in last sc.");
	expect_sound(&c);
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	/* back over sc sc sc sc, space, dc, space, sc; the row's turning chain lies before them */
	cr_expect_eq(tb_fabric_base(fabric, made_in(&c, 0, 2, 1), 0), fabric->rows[1].first + 6);
	cr_expect_eq(tb_fabric_base(fabric, made_in(&c, 0, 2, 2), 0), fabric->rows[1].first + 2);
	cr_expect(made_in(&c, 0, 2, 2)->flags & TB_MADE_IN_SPACE);
	tb_case_finish(&c);
	c = tb_case_rows("", "Ch 9.", "Row 1: Sc in 2nd ch sp, leave rem sts unworked.");
	cr_expect_eq(expect_fault(&c, "space-missing"), 1);
	tb_case_finish(&c);
}

Test(work, each_of_two_kinds_as_they_come)
{
	tb_case c = tb_case_rows("", "Ch 11.",
		"Row 1: Sc in 2nd ch from hook and in next 3 ch, hdc in next ch, sc in each ch across, turn.\n"
		"Row 2: Ch 1, sc in each sc and hdc in each hdc across.");
	expect_sound(&c);
	cr_expect_eq(count_row(&c, 0, 2), 10);
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	/* behind the turning chain, each in the top of its like, on the way back */
	for (guint32 i = 1; i <= 10; i++) {
		const tb_made *made = made_in(&c, 0, 2, i);
		cr_expect_eq(tb_fabric_base(fabric, made, 0), fabric->rows[1].first + 11 - i);
		cr_expect_eq(made->stitch, made_in(&c, 0, 1, 11 - i)->stitch);
	}
	tb_case_finish(&c);
}

/* Each of these post stitches counts its post from the row's other end: 15,000 times 15,000 steps. */
Test(work, a_search_without_end_is_told)
{
	tb_case c = tb_case_rows("", "Ch 15001.",
		"Row 1: Sc in 2nd ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 1, sc in each st across, turn.\n"
		"Row 3: Ch 1, *FPsc around 15000th st 2 rows below; rep from * across.");
	cr_expect_eq(expect_fault(&c, "limit-stitches"), 3);
	tb_case_finish(&c);
}

Test(work, a_post_far_aside_is_warned_of)
{
	tb_case c = tb_case_rows("", "Ch 14.",
		"Row 1: Dc in 4th ch from hook and in each ch across.\n"
		"Row 2: Ch 3, turn, dc in each st across.\n"
		"Row 3: Ch 3, turn, dc in next st, FPdc around 9th st 2 rows below, dc in each st across.");
	cr_expect_eq(expect_fault(&c, "post-sideways"), 3);
	cr_expect_eq(tb_diagnostics_count_errors(c.diagnostics), 0);
	tb_case_finish(&c);
}

Test(work, spaces_and_chains)
{
	tb_case c = tb_case_rows("", "Ch 12.",
		"Row 1: Sc in 2nd ch from hook, *ch 1, sk next ch, sc in next ch; rep from * across.\n"
		"Row 2: Ch 1, turn, sc in first sc, sc in next ch-1 sp, *ch 1, sk next sc, sc in next ch-1 "
		"sp; "
		"rep from * to last st, sc in last st.");
	expect_sound(&c);
	cr_expect_eq(count_row(&c, 0, 1), 11);
	cr_expect_eq(count_row(&c, 0, 2), 11);
	cr_expect(made_in(&c, 0, 2, 2)->flags & TB_MADE_IN_SPACE);
	tb_case_finish(&c);
	c = tb_case_rows("", "Ch 12.",
		"Row 1: Sc in 2nd ch from hook and in each ch across.\nRow 2: Ch 1, turn, sc in next ch-1 "
		"sp.");
	cr_expect_eq(expect_fault(&c, "space-missing"), 2);
	tb_case_finish(&c);
}

Test(work, a_group_goes_into_one_place)
{
	tb_case c = tb_case_rows("", "Ch 16.",
		"Row 1: (Dc, ch 1, dc) in 5th ch from hook, *sk 2 ch, (dc, ch 1, dc) in next ch; rep from "
		"* "
		"to last 2 ch, sk 1 ch, dc in last ch.\n"
		"Row 2: Ch 3, turn, (dc, ch 1, dc) in each ch-1 sp across, dc in top of tch.");
	expect_sound(&c);
	cr_expect_eq(count_row(&c, 0, 1), 14);
	cr_expect_eq(count_row(&c, 0, 2), 14);
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	cr_expect_eq(tb_fabric_base(fabric, made_in(&c, 0, 1, 1), 0),
		tb_fabric_base(fabric, made_in(&c, 0, 1, 3), 0));
	tb_case_finish(&c);
}

Test(work, crossed_stitches_go_back_to_what_was_skipped)
{
	tb_case c = tb_case_rows("", "Ch 10.",
		"Row 1: Dc in 4th ch from hook and in each ch across.\n"
		"Row 2: Ch 3, turn, sk 3 sts, FPtr in each of next 3 sts, working in front of sts just "
		"made "
		"FPtr in each of 3 skipped sts, dc in last st.");
	expect_sound(&c);
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	guint32 below = fabric->rows[1].first;
	static const guint32 expected[] = {3, 2, 1, 6, 5, 4};
	for (guint32 i = 0; i < 6; i++)
		cr_expect_eq(tb_fabric_base(fabric, made_in(&c, 0, 2, i + 1), 0), below + expected[i]);
	tb_case_finish(&c);
}

Test(work, a_repeat_that_leaves_stitches_over)
{
	tb_case c = tb_case_rows("S,M,L", "Ch 21 (25, 26).",
		"Row 1: Dc in 4th ch from hook and in each ch across.\n"
		"Row 2: Ch 3, turn, dc in next 2 sts, *FPdc around next st, dc in next 3 sts; rep from * "
		"across.");
	cr_expect_eq(expect_fault(&c, "repeat-leftover"), 2);
	const tb_diagnostic *fault = find_fault(&c, "repeat-leftover");
	/* 19 and 23 come out, 24 does not: size L alone */
	cr_expect_eq(fault->sizes, 4);
	cr_expect_str_eq(fault->message, "the repeat of 4 sts leaves 1 st over");
	cr_expect_not_null(strstr(fault->hint, "24 sts are there; 3 + 5 × 4 = 23."));
	cr_expect_not_null(strstr(fault->hint, "25 or 29 ch"));
	cr_expect_eq(count_row(&c, 0, 2), 19);
	cr_expect_eq(count_row(&c, 1, 2), 23);
	tb_case_finish(&c);
}

Test(work, a_repeat_that_takes_nothing_never_ends)
{
	tb_case c = tb_case_rows("", "Ch 11.",
		"Row 1: Sc in 2nd ch from hook and in each ch across.\n"
		"Row 2: Ch 1, turn, sc in next st, *sc in same st; rep from * across.");
	cr_expect_eq(expect_fault(&c, "repeat-endless"), 2);
	tb_case_finish(&c);
}

Test(work, a_repeat_that_ends_early)
{
	tb_case c = tb_case_rows("", "Ch 12.",
		"Row 1: Sc in 2nd ch from hook and in each ch across.\n"
		"Row 2: Ch 1, turn, *sc in next st, ** ch 1, sk next st; rep from * across, ending last "
		"rep at **.");
	expect_sound(&c);
	cr_expect_eq(count_kind(&c, 0, 2, "sc"), 6);
	cr_expect_eq(count_row(&c, 0, 2), 11);
	tb_case_finish(&c);
}

Test(work, n_times_read_as_in_all_where_only_that_comes_out)
{
	tb_case c = tb_case_rows("", "Ch 11.",
		"Row 1: Sc in 2nd ch from hook and in each ch across.\n"
		"Row 2: Ch 1, turn, sc in next 2 sts, *sc in next 2 sts; rep from * 4 times.");
	cr_expect_eq(expect_fault(&c, "repeat-in-all"), 2);
	cr_expect_eq(tb_diagnostics_count_errors(c.diagnostics), 0);
	cr_expect_eq(count_row(&c, 0, 2), 10);
	tb_case_finish(&c);
}

Test(work, working_past_the_end_and_leaving_stitches)
{
	tb_case c = tb_case_rows("", "Ch 11.",
		"Row 1: Sc in 2nd ch from hook and in each ch across.\nRow 2: Ch 1, turn, sc in next 12 "
		"sts.");
	cr_expect_eq(expect_fault(&c, "past-end"), 2);
	tb_case_finish(&c);
	c = tb_case_rows("", "Ch 11.",
		"Row 1: Sc in 2nd ch from hook and in each ch across.\nRow 2: Ch 1, turn, sc in next 7 "
		"sts.");
	cr_expect_eq(expect_fault(&c, "unworked"), 2);
	tb_case_finish(&c);
	c = tb_case_rows("", "Ch 11.",
		"Row 1: Sc in 2nd ch from hook and in each ch across.\n"
		"Row 2: Ch 1, turn, sc in next 7 sts, leave rem sts unworked.");
	expect_sound(&c);
	cr_expect_eq(count_row(&c, 0, 2), 7);
	tb_case_finish(&c);
}

Test(work, a_count_claimed_wrong)
{
	tb_case c = tb_case_rows(
		"S,M", "Ch 12 (14).", "Row 1: Dc in 4th ch from hook and in each ch across. [10 (13) sts]");
	expect_fault(&c, "count-claimed");
	const tb_diagnostic *fault = find_fault(&c, "count-claimed");
	cr_expect_eq(fault->sizes, 2);
	cr_expect_str_eq(fault->message, "counts 12, the pattern says 13");
	tb_case_finish(&c);
	c = tb_case_rows("", "Ch 12.", "Row 1: Dc in 4th ch from hook and in each ch across. (9 dc)");
	expect_sound(&c);
	tb_case_finish(&c);
}

Test(work, one_bad_size_hides_no_other)
{
	tb_case c = tb_case_rows("S,M,L", "Ch 11 (12, 13).",
		"Row 1: Sc in 2nd ch from hook and in each ch across.\n"
		"Row 2: Ch 1, turn, [sc2tog] 5 times. [5 sts]\n"
		"Row 3: Ch 1, turn, sc in each st across. [5 (5, 6) sts]");
	const tb_diagnostic *unworked = find_fault(&c, "unworked");
	cr_assert_not_null(unworked);
	cr_expect_not(unworked->sizes & 1);
	cr_expect_not_null(find_fault(&c, "count-claimed"));
	cr_expect_eq(count_row(&c, 0, 3), 5);
	cr_expect_eq(count_row(&c, 1, 3), 5);
	cr_expect_eq(count_row(&c, 2, 3), 5);
	tb_case_finish(&c);
}

/* Where MADE stands in the row below it, as the hook comes to that. */
static guint32 place_of(const tb_fabric *fabric, const tb_made *made)
{
	const tb_made_row *row = &fabric->rows[made->row], *below = row - 1;
	guint32 at = 0, base = tb_fabric_base(fabric, made, 0);
	for (guint32 i = below->first; i < base; i++)
		at += (fabric->made[i].flags & TB_MADE_COUNTED) != 0;
	return row->leftward == below->leftward ? at : below->stitches - 1 - at;
}

/* The first stitch of a row that counts, of a piece. */
static const tb_made *first_counted(const tb_fabric *fabric, guint32 row)
{
	guint32 i = fabric->rows[row].first;
	while (!(fabric->made[i].flags & TB_MADE_COUNTED))
		i++;
	return &fabric->made[i];
}

Test(work, a_piece_with_shaping_reversed_is_shaped_at_the_other_end)
{
	tb_case c = tb_case_read("fronts.txt", "Title: Fronts\n\nLEFT FRONT\nCh 17.\n"
		"Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn. (16 sc)\n"
		"Row 2: Ch 1, sc in each sc across, turn. (16 sc)\n"
		"Row 3: Sl st in first 3 sc, ch 1, sc in each sc to end, turn. (13 sc)\n"
		"Row 4: Ch 1, sc in each sc to last 2 sc, sc2tog, turn. (12 sts)\n"
		"Row 5: Ch 1, sc in each st to last 4 sts, turn, leave rem sts unworked. (8 sc)\n"
		"Fasten off.\n\nRIGHT FRONT\nWork as Left Front, reversing shaping.\n");
	expect_sound(&c);
	const tb_fabric *left = tb_worked_fabric(c.worked, 0, 0), *right = tb_worked_fabric(c.worked, 1, 0);
	cr_assert_eq(right->row_count, 6);
	for (guint32 row = 1; row < 6; row++)
		cr_expect_eq(left->rows[row].stitches, right->rows[row].stitches, "row %u", row);
	cr_expect_eq(left->rows[3].narrowed, TB_NARROWED_BEGIN);
	cr_expect_eq(right->rows[3].narrowed, TB_NARROWED_END);
	cr_expect_eq(place_of(left, first_counted(left, 3)), 3);
	cr_expect_eq(place_of(right, first_counted(right, 3)), 0);
	cr_expect_eq(first_counted(left, 4)->base_count, 1);
	cr_expect_eq(first_counted(right, 4)->base_count, 2);
	cr_expect_eq(place_of(left, first_counted(left, 5)), 0);
	cr_expect_eq(place_of(right, first_counted(right, 5)), 4);
	tb_case_finish(&c);
}

Test(work, where_a_chain_counts_the_mirrored_row_has_it_at_its_own_beginning)
{
	tb_case c = tb_case_read("fronts.txt", "Title: Fronts\n\nLEFT FRONT\nCh 16.\n"
		"Row 1 (RS): Dc in 4th ch from hook (3 skipped chs count as dc) and in each ch across, turn. (14 dc)\n"
		"Row 2: Ch 3 (counts as dc here and throughout), sk first dc, dc in each dc across, turn. (14 dc)\n"
		"Row 3: Sl st in first 4 dc, ch 3, dc in each dc to end, turn. (11 dc)\n"
		"Row 4: Ch 3, sk first dc, dc in each dc to last 3 dc, dc2tog, dc in top of tch, turn. (10 dc)\n"
		"Fasten off.\n\nRIGHT FRONT\nWork as Left Front, reversing shaping.\n");
	expect_sound(&c);
	const tb_fabric *right = tb_worked_fabric(c.worked, 1, 0);
	cr_expect_eq(right->rows[3].stitches, 11);
	cr_expect_eq(right->rows[3].narrowed, TB_NARROWED_END);
	cr_expect(first_counted(right, 4)->flags & TB_MADE_TURNING);
	cr_expect_eq(first_counted(right, 4)[1].base_count, 2);
	cr_expect_eq(right->rows[4].stitches, 10);
	tb_case_finish(&c);
}

/*
 * A left front, seen on its right side, has its armhole at the right: right side rows begin there. Where stitches
 * were slipped over for it, "at armhole edge" is that edge, and "at neck edge" the other.
 */
Test(work, armhole_and_neck_edge)
{
	tb_case c = tb_case_read("front.txt",
		"Title: T\n\nLEFT FRONT\nCh 22.\nRow 1 (RS): Dc in 4th ch from hook and in each ch across. 20 dc.\n"
		"Row 2: Ch 3, turn, sk first dc, dc in each dc across.\n\nShape armhole\n"
		"Row 3: Turn, sl st in first 5 dc, ch 3, dc in next dc and in each dc across. 16 dc.\n"
		"Dec 1 st at armhole edge on each of the next 2 rows. 14 dc.\nDec 1 st at neck edge on next row. 13 dc.\n");
	g_autofree char *faults = tb_case_faults(&c);
	cr_assert_str_empty(faults);
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	cr_assert_eq(fabric->row_count, 7u);
	/* of rows 4 to 6: where the two drawn together stand, from the row's beginning */
	const guint32 at[] = {14, 1, 1};
	for (unsigned i = 0; i < 3; i++) {
		const tb_made_row *row = &fabric->rows[4 + i];
		const tb_made *first = &fabric->made[row->first];
		cr_expect(first->flags & TB_MADE_TURNING && first->flags & TB_MADE_COUNTED, "row %u", row->number);
		cr_expect_eq(fabric->made[row->first + at[i]].base_count, 2, "row %u", row->number);
	}
	tb_case_finish(&c);
}
