/* The motif by places taken: laces whose rows differ in width, in three sizes, and their fold. */
#include "charting.h"
#include "counts.h"

#include "fabric/again.h"
#include "fabric/motif.h"

#include <criterion/criterion.h>
#include <math.h>

/* Vs in every sixth chain: 6 + 1, and one chain to turn. */
#define VS(times) \
	"Row 1: Sc in 2nd ch from hook, *sk 2 ch, (dc, ch 3, dc) in next ch, sk 2 ch, sc in next ch; rep from * across, " \
	"turn.\n" \
	"Row 2: Ch 6 (counts as dc, ch 3), sk next dc, sc in next ch-3 sp, *ch 5, sc in next ch-3 sp; rep from * across, " \
	"ch 3, dc in last sc, turn.\n" \
	"Row 3: Ch 1, sc in first st, sk next ch-3 sp, (dc, ch 3, dc) in next sc, *sc in next ch-5 sp, (dc, ch 3, dc) in " \
	"next sc; rep from * " times " times, sk next ch-3 sp, sc in last st, turn.\n"
#define ARCS "Row 4: Ch 6 (counts as dc, ch 3), sk next dc, sc in next ch-3 sp, *ch 5, sc in next ch-3 sp; rep from * " \
	"across, ch 3, dc in last sc."

/* Fans of seven over eight chains, in every other row half a repeat on: 8 + 1. */
#define FANS(times) \
	"Row 1: Sc in 2nd ch from hook, *ch 3, sk 3 ch, (dc, ch 2, dc) in next ch, ch 3, sk 3 ch, sc in next ch; rep from " \
	"* across, turn.\n" \
	"Row 2: Ch 1, sc in first st, *ch 1, sk next ch-3 sp, 7 dc in next ch-2 sp, ch 1, sk next ch-3 sp, sc in next sc; " \
	"rep from * across, turn.\n" \
	"Row 3: Ch 4 (counts as dc, ch 1), dc in first st, *ch 3, sk next ch-1 sp, sk next 3 dc, sc in next dc, ch 3, sk " \
	"next 3 dc, sk next ch-1 sp, (dc, ch 2, dc) in next sc; rep from * " times " times, ch 3, sk next ch-1 sp, sk next " \
	"3 dc, sc in next dc, ch 3, sk next 3 dc, sk next ch-1 sp, (dc, ch 1, dc) in last st, turn.\n" \
	"Row 4: Ch 3 (counts as dc), 3 dc in next ch-1 sp, *ch 1, sk next ch-3 sp, sc in next sc, ch 1, sk next ch-3 sp, 7 " \
	"dc in next ch-2 sp; rep from * " times " times, ch 1, sk next ch-3 sp, sc in next sc, ch 1, sk next ch-3 sp, 3 dc " \
	"in next ch-1 sp, dc in 3rd ch of tch, turn."

/* Arcs of five chains over three: 4 + 1. */
#define LOOPS \
	"Row 1: Sc in 2nd ch from hook, *ch 5, sk 3 ch, sc in next ch; rep from * across, turn.\n" \
	"Row 2: Ch 5 (counts as dc, ch 2), sc in next ch-5 sp, *ch 5, sc in next ch-5 sp; rep from * across, ch 2, dc in " \
	"last sc, turn.\n" \
	"Row 3: Ch 1, sc in first st, ch 5, sk next ch-2 sp, *sc in next ch-5 sp, ch 5; rep from * across, sk next ch-2 " \
	"sp, sc in last st."

static tb_case sound(const char *sizes, const char *start, const char *rows)
{
	tb_case c = tb_case_rows(sizes, start, rows);
	expect_sound(&c);
	return c;
}

static tb_motif find(const tb_case *c, guint32 last)
{
	unsigned sizes = tb_pattern_count_sizes(c->pattern);
	return tb_motif_find(c->worked, 0, 1, last, ((tb_size_set)1 << sizes) - 1);
}

/* Of three sizes: edges, repeats, and that with both edges they make up the foundation. */
static void expect_times(const tb_case *c, guint32 last, guint32 width, guint32 stitches, const guint32 *times)
{
	tb_motif motif = find(c, last);
	cr_assert(motif.found, "%s", motif.reason);
	cr_expect(motif.by_places);
	cr_expect_eq(motif.width, width, "%u", motif.width);
	cr_expect_eq(motif.stitches, stitches, "%u", motif.stitches);
	cr_expect_arr_eq(motif.times, times, 3 * sizeof *times);
	for (unsigned size = 0; size < 3; size++)
		cr_expect_eq(motif.near_edge + motif.times[size] * width + motif.far_edge,
			tb_worked_fabric(c->worked, 0, size)->rows[0].count);
	g_free(motif.reason);
}

static void expect_none(const tb_case *c, guint32 last, const char *why)
{
	tb_motif motif = find(c, last);
	cr_assert_not(motif.found, "%u, %u times", motif.width, motif.times[0]);
	cr_expect_not_null(strstr(motif.reason, why), "%s", motif.reason);
	g_free(motif.reason);
}

/* 31, 43 and 61 chains: the first repeat ends in half an edge, so one less than the Vs: 4, 6 and 9. */
Test(places, vs_repeat_every_six_chains)
{
	tb_case c = sound("S,M,L", "Ch 32 (44, 62).", VS("3 (5, 8)") ARCS);
	expect_times(&c, 4, 6, 6, (guint32[]){4, 6, 9});
	tb_case_finish(&c);
}

/* A repeat has 11 sts in row 1 and 10 in row 2, and half fans at the edges take a repeat: 41 = 8 × 4 + 9. */
Test(places, fans_repeat_though_their_rows_differ)
{
	tb_case c = sound("S,M,L", "Ch 42 (58, 82).", FANS("3 (5, 8)"));
	expect_times(&c, 4, 8, 0, (guint32[]){4, 6, 9});
	tb_case_finish(&c);
}

/* Arcs of five chains over three: every row has as many stitches, and yet they stand in no columns. */
Test(places, arcs_as_wide_by_chance_are_no_grid)
{
	tb_case c = sound("S,M,L", "Ch 26 (34, 50).", LOOPS);
	expect_times(&c, 3, 4, 6, (guint32[]){5, 7, 11});
	tb_case_finish(&c);
}

/* A group stands on its one place, arcs between what they join, and all of it counts from where row 1 begins. */
Test(places, everything_stands_on_what_it_is_worked_into)
{
	tb_case c = sound("", "Ch 14.",
		"Row 1: Sc in 2nd ch from hook, *sk 2 ch, (dc, ch 3, dc) in next ch, sk 2 ch, sc in next ch; rep from * across, "
		"turn.\n"
		"Row 2: Ch 6 (counts as dc, ch 3), sk next dc, sc in next ch-3 sp, ch 5, sc in next ch-3 sp, ch 3, dc in last sc.");
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	g_autofree gint32 *columns = g_new(gint32, fabric->made_count);
	guint32 width;
	cr_assert(tb_place_columns(fabric, 2, columns, &width));
	cr_expect_eq(width, 13);
	/* Chain, sc, V (dc, 3 ch, dc), sc, V, sc. */
	static const gint32 first[] = {0, 0, 3, 3, 3, 3, 3, 6, 9, 9, 9, 9, 9, 12};
	cr_expect_arr_eq(columns + fabric->rows[1].first, first, sizeof first);
	/* Back: ch 3 and 3 more, sc on the V, 5 ch over the middle, sc, 3 ch, dc. */
	static const gint32 second[] = {12, 10, 10, 10, 9, 6, 6, 6, 6, 6, 3, 1, 1, 1, 0};
	cr_expect_arr_eq(columns + fabric->rows[2].first, second, sizeof second);
	tb_case_finish(&c);
}

/* One shorter arc in the middle, in one of four rows. */
Test(places, a_row_that_breaks_the_period_leaves_none)
{
	tb_case c = sound("", "Ch 26.",
		"Row 1: Sc in 2nd ch from hook, *sk 2 ch, (dc, ch 3, dc) in next ch, sk 2 ch, sc in next ch; rep from * across, "
		"turn.\n"
		"Row 2: Ch 6 (counts as dc, ch 3), sk next dc, sc in next ch-3 sp, ch 5, sc in next ch-3 sp, ch 4, sc in next "
		"ch-3 sp, ch 5, sc in next ch-3 sp, ch 3, dc in last sc.");
	expect_none(&c, 2, "No block of columns repeats");
	tb_case_finish(&c);
}

/* Two like places beside each other in a row that is else all different. */
Test(places, what_is_alike_by_accident_is_no_repeat)
{
	tb_case c = sound("", "Ch 22.",
		"Row 1: Sc in 2nd ch from hook, ch 2, sk 1 ch, dc in next ch, ch 1, sk 1 ch, 3 dc in next ch, ch 3, sk 2 ch, sc in "
		"next ch, sc in next ch, ch 4, sk 3 ch, 2 dc in next ch, ch 5, sk 4 ch, dc in next ch, ch 1, sk 2 ch, tr in next "
		"ch.");
	expect_none(&c, 1, "No block of columns repeats");
	tb_case_finish(&c);
}

/* Three cross over three, with one more at the edge: each of the six stands in a column of its own, and all are alike. */
Test(places, a_cable_is_no_repeat_of_one_stitch)
{
	tb_case c = sound("", "Ch 12.",
		"Row 1: Dc in 4th ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 3, 2 dc in next st, sk next 3 sts, FPtr around each of next 3 sts, working in front of sts just made, "
		"FPtr around each of 3 skipped sts, dc in next st, dc in last st.");
	expect_none(&c, 2, "No block of columns repeats");
	tb_case_finish(&c);
}

/* ---- the fold ---- */

static tb_chart *chart_of(tb_case *c, int size, bool full)
{
	tb_chart_options options = {.size = size, .full = full};
	tb_chart *chart = tb_case_chart(c, &options);
	cr_assert_not_null(chart);
	return chart;
}

static const tb_placed *placed_at(const tb_chart *chart, guint i)
{
	return &g_array_index(chart->placed, tb_placed, i);
}

/* The same stitches at the same places, on the same feet. */
static void expect_same_cloth(const tb_chart *one, const tb_chart *other)
{
	cr_assert_eq(one->placed->len, other->placed->len, "%u and %u stitches", one->placed->len, other->placed->len);
	double dx = placed_at(other, 0)->top.x - placed_at(one, 0)->top.x;
	double dy = placed_at(other, 0)->top.y - placed_at(one, 0)->top.y;
	for (guint i = 0; i < one->placed->len; i++) {
		const tb_placed *a = placed_at(one, i), *b = placed_at(other, i);
		const tb_made *made = &one->fabric->made[a->made];
		cr_assert_eq(made->stitch, other->fabric->made[b->made].stitch);
		cr_assert_float_eq(a->top.x + dx, b->top.x, 1e-3, "row %u", made->row);
		cr_assert_float_eq(a->top.y + dy, b->top.y, 1e-3, "row %u", made->row);
		cr_assert_eq(a->foot_count, b->foot_count);
		for (unsigned k = 0; k < a->foot_count; k++) {
			tb_spot p = g_array_index(one->feet, tb_spot, a->first_foot + k);
			tb_spot q = g_array_index(other->feet, tb_spot, b->first_foot + k);
			cr_assert_float_eq(p.x + dx, q.x, 1e-3, "row %u", made->row);
			cr_assert_float_eq(p.y + dy, q.y, 1e-3, "row %u", made->row);
		}
	}
}

/*
 * Whatever the size, what is drawn of three sizes (START, ROWS) is the cloth of a fourth that has but the repeats that are
 * drawn (SMALL, SMALL_ROWS).
 */
static void expect_one_cloth(const char *start, const char *rows, const char *small, const char *small_rows)
{
	tb_case c = sound("S,M,L", start, rows), least = sound("", small, small_rows);
	tb_chart *whole = chart_of(&least, 0, false);
	for (int size = 1; size <= 3; size++) {
		tb_chart *folded = chart_of(&c, size, false);
		cr_expect(folded->folded && tb_chart_part_at(folded, 0)->at_rest);
		expect_same_cloth(folded, whole);
		tb_chart_destroy(folded);
	}
	tb_chart_destroy(whole);
	tb_case_finish(&least);
	tb_case_finish(&c);
}

Test(places, every_size_folds_to_the_net_of_two_repeats)
{
	expect_one_cloth("Ch 32 (44, 62).", VS("3 (5, 8)") ARCS, "Ch 20.", VS("1") ARCS);
}

Test(places, every_size_folds_to_the_fans_of_two_repeats)
{
	expect_one_cloth("Ch 42 (58, 82).", FANS("3 (5, 8)"), "Ch 26.", FANS("1"));
}

Test(places, every_size_folds_to_the_arcs_of_two_repeats)
{
	expect_one_cloth("Ch 26 (34, 50).", LOOPS, "Ch 14.", LOOPS);
}

/* A sleeve that both edges take in: a dc2tog beside either edge stitch. */
#define SLEEVE \
	"Row 1: Dc in 4th ch from hook and in each ch across, turn.\n" \
	"Row 2: Ch 3 (counts as dc), dc2tog, dc in each st to last 3 sts, dc2tog, dc in last st, turn.\n" \
	"Row 3: Ch 3 (counts as dc), dc in next st and in each st across, turn.\n" \
	"Row 4: Ch 3 (counts as dc), dc2tog, dc in each st to last 3 sts, dc2tog, dc in last st."

/* Of 40, 44 and 50 sts four at either edge are shaped, and eight in the middle are drawn: 16. */
Test(places, every_size_folds_to_the_sleeve_of_eight_between_its_edges)
{
	expect_one_cloth("Ch 42 (46, 52).", SLEEVE, "Ch 18.", SLEEVE);
}

static bool says(const tb_chart *chart, const char *text)
{
	for (guint i = 0; i < chart->labels->len; i++)
		if (strcmp(g_array_index(chart->labels, tb_label, i).text, text) == 0)
			return true;
	return false;
}

/* One chart speaks for all sizes; how many stitches a repeat has is only said where all rows have as many. */
Test(places, the_bracket_says_how_often_in_every_size)
{
	tb_case c = sound("S,M,L", "Ch 32 (44, 62).", VS("3 (5, 8)") ARCS);
	tb_chart *chart = chart_of(&c, 0, false);
	expect_sound(&c);
	cr_expect(says(chart, "6 sts, 4 (6, 9) times in all"));
	cr_expect(chart->box_right - chart->box_left > 0);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
	c = sound("S,M,L", "Ch 42 (58, 82).", FANS("3 (5, 8)"));
	chart = chart_of(&c, 0, false);
	cr_expect(says(chart, "repeat 4 (6, 9) times in all"));
	tb_chart_destroy(chart);
	chart = chart_of(&c, 0, true);
	cr_expect(says(chart, "M: repeat 6 times"), "brackets of a whole chart");
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* The middle of the sleeve is told by its stitches, and there is no box. */
Test(places, a_plain_middle_is_broken_and_counted)
{
	tb_case c = sound("S,M,L", "Ch 42 (46, 52).", SLEEVE);
	tb_chart *chart = chart_of(&c, 0, false);
	expect_sound(&c);
	cr_expect(says(chart, "32 (36, 42) sts"));
	cr_expect_not(chart->has_box);
	cr_assert_not_null(chart->gap);
	cr_expect_eq(chart->gap->len, 5, "through the foundation and every row");
	tb_chart_destroy(chart);
	chart = chart_of(&c, 0, true);
	cr_expect_null(chart->gap);
	cr_expect_not(says(chart, "M: repeat 36 times"));
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* A short middle is drawn as it is: nothing is gained by leaving some of it out. */
Test(places, a_short_middle_is_whole)
{
	tb_case c = sound("", "Ch 18.",
		"Row 1: Dc in 4th ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 3 (counts as dc), dc2tog, dc in each st to last 3 sts, dc2tog, dc in last st.");
	expect_none(&c, 2, "No block of columns repeats");
	tb_case_finish(&c);
}

/* Two corners of a yoke are as far apart as the next two: but it lies in an arc, and no box goes around half of that. */
Test(places, what_lies_in_an_arc_has_no_box)
{
	tb_case c = sound("", "Ch 42.",
		"Row 1: Dc in 4th ch from hook and in next 6 ch, *(dc, ch 1, dc) in next ch, dc in next 7 ch; rep from * across, "
		"turn.\n"
		"Row 2: Ch 3 (counts as dc), dc in next st, *dc in each st to next ch-1 sp, (dc, ch 1, dc) in ch-1 sp; rep from * "
		"3 more times, dc in each st to end, turn.\n"
		"Row 3: Ch 3 (counts as dc), dc in next st, *dc in each st to next ch-1 sp, (dc, ch 1, dc) in ch-1 sp; rep from * "
		"3 more times, dc in each st to end.");
	tb_motif motif = find(&c, 3);
	cr_expect(motif.found, "%s", motif.reason);
	g_free(motif.reason);
	tb_chart *chart = chart_of(&c, 0, false);
	cr_expect_not(chart->folded);
	cr_expect_not(chart->has_box);
	cr_expect_not(chart->motif.found);
	guint32 drawn = 0;
	for (guint i = 0; i < chart->placed->len; i++)
		drawn += (chart->fabric->made[placed_at(chart, i)->made].flags & TB_MADE_COUNTED) != 0;
	cr_expect_geq(drawn, count_row(&c, 0, 1) + count_row(&c, 0, 2) + count_row(&c, 0, 3), "all of it: %u", drawn);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* The smallest has the repeat once: a chart for all is drawn of one that shows how it goes on. */
Test(places, a_size_that_repeats_is_drawn)
{
	tb_case c = sound("S,M", "Ch 14 (26).",
		"Row 1: Sc in 2nd ch from hook, *sk 2 ch, (dc, ch 3, dc) in next ch, sk 2 ch, sc in next ch; rep from * across, "
		"turn.\n"
		"Row 2: Ch 6 (counts as dc, ch 3), sk next dc, sc in next ch-3 sp, *ch 5, sc in next ch-3 sp; rep from * across, "
		"ch 3, dc in last sc.");
	tb_chart *chart = chart_of(&c, 0, false);
	cr_expect(chart->folded);
	cr_expect_eq(chart->motif.times[0], 1);
	cr_expect_eq(chart->size, 1);
	cr_expect(says(chart, "6 sts, 1 (3) times in all"));
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* Whoever follows a row on the page is led through the box by the places in it: six of every row stand there. */
Test(places, the_box_holds_one_repeat_of_every_row)
{
	tb_case c = sound("S,M,L", "Ch 32 (44, 62).", VS("3 (5, 8)") ARCS);
	tb_chart *chart = chart_of(&c, 0, false);
	for (guint r = 1; r < chart->rows->len; r++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, r);
		guint32 within = 0;
		for (guint32 i = row->first; i < row->first + row->count; i++) {
			guint32 column = placed_at(chart, i)->column;
			within += column > chart->motif.near_edge && column <= chart->motif.near_edge + chart->motif.width;
		}
		cr_expect_eq(within, 6, "row %u: %u", r, within);
	}
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* Fans stand half a repeat on in every other row: a straight side would cut them, a winding one goes between. */
Test(places, the_box_goes_between_the_fans)
{
	tb_case c = sound("S,M,L", "Ch 42 (58, 82).", FANS("3 (5, 8)"));
	tb_chart *chart = chart_of(&c, 0, false);
	cr_assert_not_null(chart->sides[0]);
	cr_assert_eq(chart->sides[0]->len, 5, "the foundation and four rows");
	cr_assert_eq(chart->sides[1]->len, 5);
	for (guint r = 0; r < chart->rows->len; r++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, r);
		double a = g_array_index(chart->sides[0], tb_spot, r).x, b = g_array_index(chart->sides[1], tb_spot, r).x;
		for (guint32 i = row->first; i < row->first + row->count; i++) {
			const tb_placed *p = placed_at(chart, i);
			bool within = p->column > chart->motif.near_edge && p->column <= chart->motif.near_edge + chart->motif.width;
			/* Of a stitch that leans over the border, its middle is on its own side. */
			double x = p->top.x;
			for (unsigned k = 0; k < p->foot_count; k++)
				x += (g_array_index(chart->feet, tb_spot, p->first_foot + k).x - p->top.x) / 2 / p->foot_count;
			cr_expect_eq(x > fmin(a, b) && x < fmax(a, b), within, "row %u, place %u", r, p->column);
		}
	}
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* Two repeats of rows that share rows stand beside each other; one that is said twice stands there once. */
Test(places, repeats_of_rows_do_not_lie_over_each_other)
{
	tb_case c = sound("", "Ch 21.",
		"Row 1: Dc in 4th ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 1, sc in each st across, turn.\n"
		"Row 3: Ch 3, dc in next st and in each st across, turn.\n"
		"Row 4: Ch 1, sc in each st across, turn.\n"
		"Rows 5-6: Rep Rows 3-4.\n"
		"Rows 7-8: Rep Rows 3-4.\n"
		"Rows 9-11: Rep Rows 2-4.");
	tb_chart *chart = chart_of(&c, 0, false);
	const tb_label *found[3];
	guint count = 0;
	for (guint i = 0; i < chart->labels->len; i++) {
		const tb_label *label = &g_array_index(chart->labels, tb_label, i);
		if (g_str_has_prefix(label->text, "rows ")) {
			cr_assert_lt(count, 2);
			found[count++] = label;
		}
	}
	cr_assert_eq(count, 2);
	cr_expect_str_eq(found[0]->text, "rows 3–4");
	cr_expect_str_eq(found[1]->text, "rows 2–4");
	cr_expect_gt(found[1]->x, found[0]->x + 4 * found[0]->size_mm, "side by side");
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

#define STRIPES(low, high, tall) \
	"Row " low ": Ch 1, sc in each st across, turn.\nRow " high ": Ch 3 (counts as dc), dc in next st and in each st " \
	"across, turn.\nRow " tall ": Ch 4 (counts as tr), tr in next st and in each st across, turn.\n"

/* Rows 6 to 9 are written out, and are rows 2 to 5 over again: it is said beside them, and all of them are drawn. */
Test(places, rows_written_out_again_are_told)
{
	tb_case c = sound("", "Ch 21.",
		"Row 1: Dc in 4th ch from hook and in each ch across, turn.\n" STRIPES("2", "3", "4")
		"Row 5: Ch 1, sc in each st across, turn.\n" STRIPES("6", "7", "8") "Row 9: Ch 1, sc in each st across.");
	tb_rows_again again;
	cr_assert(tb_rows_find_again(tb_worked_fabric(c.worked, 0, 0), 1, 9, &again));
	cr_expect_eq(again.first, 6);
	cr_expect_eq(again.last, 9);
	cr_expect_eq(again.of, 2);
	cr_expect_eq(again.rows, 4);
	tb_chart *chart = chart_of(&c, 0, false);
	cr_expect(says(chart, "as"));
	cr_expect(says(chart, "rows 2–5"));
	cr_expect_eq(chart->rows->len, 10);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* One stitch is another in row 7, and rows 8 and 9 alone are too few. */
Test(places, rows_that_differ_in_a_stitch_are_not_told)
{
	tb_case c = sound("", "Ch 21.",
		"Row 1: Dc in 4th ch from hook and in each ch across, turn.\n" STRIPES("2", "3", "4")
		"Row 5: Ch 1, sc in each st across, turn.\nRow 6: Ch 1, sc in each st across, turn.\n"
		"Row 7: Ch 3 (counts as dc), dc in next st, hdc in next st, dc in each st across, turn.\n"
		"Row 8: Ch 4 (counts as tr), tr in next st and in each st across, turn.\n"
		"Row 9: Ch 1, sc in each st across.");
	tb_rows_again again;
	cr_expect_not(tb_rows_find_again(tb_worked_fabric(c.worked, 0, 0), 1, 9, &again));
	tb_case_finish(&c);
}

/* The last rows of a diamond are its first ones, for it is its own mirror image: it does not come again. */
Test(places, a_figure_that_closes_is_not_told)
{
	tb_case c = tb_case_file("examples/berry-diamond.txt");
	tb_rows_again again;
	cr_expect_not(tb_rows_find_again(tb_worked_fabric(c.worked, 0, 0), 1, 11, &again));
	tb_case_finish(&c);
}

/* Two stitches on every chain are no plain middle, of which a bracket would count but the chains. */
Test(places, a_middle_of_two_on_every_chain_is_a_repeat)
{
	tb_case c = sound("", "Ch 31.",
		"Row 1: Sc in 2nd ch from hook, 2 sc in each of next 28 ch, sc in last ch, turn.\n"
		"Row 2: Ch 1, sc in each st across.");
	tb_motif motif = find(&c, 2);
	cr_assert(motif.found, "%s", motif.reason);
	cr_expect_not(motif.plain);
	cr_expect_eq(motif.width, 1);
	cr_expect_eq(motif.stitches, 2);
	cr_expect_eq(motif.times[0] + motif.near_edge + motif.far_edge, 30);
	g_free(motif.reason);
	tb_case_finish(&c);
}

/* How many stitches that count stand on the places FROM to before TO of a row of the chart. */
static guint32 count_drawn(const tb_chart *chart, const tb_chart_row *row, guint32 from, guint32 to)
{
	guint32 count = 0;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_placed *p = placed_at(chart, i);
		count += chart->fabric->made[p->made].flags & TB_MADE_COUNTED && p->column > from && p->column <= to;
	}
	return count;
}

/* The box worked as often as the bracket says, with what is beside it: that makes every row of every size. */
static void expect_counts(const char *start, const char *rows)
{
	tb_case c = sound("S,M,L", start, rows);
	tb_chart *chart = chart_of(&c, 0, false);
	guint32 near = chart->motif.near_edge, width = chart->motif.width;
	for (guint r = 1; r < chart->rows->len; r++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, r);
		guint32 around = count_drawn(chart, row, 0, near) + count_drawn(chart, row, near + width, G_MAXUINT32);
		guint32 within = count_drawn(chart, row, near, near + width);
		for (unsigned size = 0; size < 3; size++)
			cr_expect_eq(around + (chart->motif.times[size] - chart->beside) * within, count_row(&c, size, r),
				"row %u, size %u", r, size);
	}
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

Test(places, the_chart_as_it_is_read_makes_every_row_of_every_size)
{
	expect_counts("Ch 32 (44, 62).", VS("3 (5, 8)") ARCS);
	expect_counts("Ch 42 (58, 82).", FANS("3 (5, 8)"));
	expect_counts("Ch 26 (34, 50).", LOOPS);
	expect_counts("Ch 42 (46, 52).", SLEEVE);
}
