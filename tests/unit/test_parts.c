/*
 * In which parts rounds are drawn, and that each can be worked from the picture. The counts are arithmetic: a disc of
 * single crochet grows by six stitches a round, and closes by six (common practice).
 */
#include "charting.h"
#include "labels.h"

#include <cjson/cJSON.h>
#include <criterion/criterion.h>
#include <math.h>
#include <string.h>

static tb_chart *chart_of(tb_case *c, bool left_handed)
{
	tb_chart_options options = {.full = true, .left_handed = left_handed};
	g_autofree char *faults = tb_case_faults(c);
	cr_assert_str_empty(faults, "%s", faults);
	tb_chart *chart = tb_case_chart(c, &options);
	cr_assert_not_null(chart);
	return chart;
}

/* "disc 1-5, tube 6-8": how the chart lies. Owned. */
static char *tell_parts(const tb_chart *chart)
{
	static const char *const lays[] = {"rows", "disc", "tube", "close"};
	GString *text = g_string_new(NULL);
	for (guint i = 0; i < chart->parts->len; i++) {
		const tb_chart_part *part = tb_chart_part_at(chart, i);
		g_string_append_printf(text, "%s%s %u-%u", i > 0 ? ", " : "", lays[part->lay], chart->fabric->rows[part->first].number,
			chart->fabric->rows[part->last].number);
	}
	return g_string_free(text, FALSE);
}

static const tb_made *made_of(const tb_chart *chart, const tb_placed *placed)
{
	return &chart->fabric->made[placed->made];
}

static const tb_placed *placed_at(const tb_chart *chart, guint32 i)
{
	return &g_array_index(chart->placed, tb_placed, i);
}

static bool counts(const tb_chart *chart, const tb_placed *placed)
{
	return made_of(chart, placed)->flags & TB_MADE_COUNTED;
}

static tb_spot middle_of(const tb_chart_part *part)
{
	return (tb_spot){(part->left + part->right) / 2, (part->top + part->bottom) / 2};
}

static double radius(tb_spot at, tb_spot middle)
{
	return hypot(at.x - middle.x, at.y - middle.y);
}

/* How far a row runs around a middle, clockwise on the page, in radians. */
static double turned(const tb_chart *chart, const tb_chart_row *row, tb_spot middle)
{
	double sum = 0, before = NAN;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		if (!counts(chart, placed_at(chart, i)))
			continue;
		double at = atan2(placed_at(chart, i)->top.y - middle.y, placed_at(chart, i)->top.x - middle.x);
		if (!isnan(before))
			sum += remainder(at - before, 2 * G_PI);
		before = at;
	}
	return sum;
}

#define BALL \
	"Rnd 1: 6 sc in ring. (6 sc)\n" \
	"Rnd 2: 2 sc in each st around. (12 sc)\n" \
	"Rnd 3: *Sc in next st, 2 sc in next st; rep from * around. (18 sc)\n" \
	"Rnd 4: *Sc in next 2 sts, 2 sc in next st; rep from * around. (24 sc)\n" \
	"Rnds 5-8: Sc in each st around. (24 sc)\n" \
	"Rnd 9: *Sc in next 2 sts, sc2tog; rep from * around. (18 sts)\n" \
	"Rnd 10: *Sc in next st, sc2tog; rep from * around. (12 sts)\n" \
	"Rnd 11: [Sc2tog] 6 times. (6 sts)"

Test(parts, a_ball_is_a_disc_a_tube_and_a_close)
{
	tb_case c = tb_case_rows("", "Make a magic ring.", BALL);
	for (int left_handed = 0; left_handed < 2; left_handed++) {
		tb_chart *chart = chart_of(&c, left_handed == 1);
		g_autofree char *parts = tell_parts(chart);
		cr_assert_str_eq(parts, "disc 1-4, tube 5-8, close 9-11");
		/* Outward a round runs anticlockwise for the right hand; seen from outside, inward, clockwise (trade-tables 4). */
		double sense = left_handed == 1 ? -1 : 1;
		const tb_chart_part *disc = tb_chart_part_at(chart, 0), *close = tb_chart_part_at(chart, 2);
		const tb_chart_row *outward = &g_array_index(chart->rows, tb_chart_row, disc->row + 4);
		const tb_chart_row *inward = &g_array_index(chart->rows, tb_chart_row, close->row + 1);
		cr_expect_lt(turned(chart, outward, middle_of(disc)) * sense, -4.5);
		cr_expect_gt(turned(chart, inward, middle_of(close)) * sense, 4.5);
		tb_chart_destroy(chart);
	}
	tb_case_finish(&c);
}

/* Every stitch of the close has its top nearer the middle than its feet, square to its round. */
Test(parts, what_closes_is_worked_inward)
{
	tb_case c = tb_case_rows("", "Make a magic ring.", BALL);
	tb_chart *chart = chart_of(&c, false);
	const tb_chart_part *close = tb_chart_part_at(chart, 2);
	tb_spot middle = middle_of(close);
	unsigned together = 0;
	for (guint r = close->row + 1; r < close->row + close->rows; r++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, r);
		cr_expect_not(row->below);
		for (guint32 i = row->first; i < row->first + row->count; i++) {
			const tb_placed *p = placed_at(chart, i);
			for (unsigned k = 0; k < p->foot_count; k++) {
				tb_spot foot = g_array_index(chart->feet, tb_spot, p->first_foot + k);
				cr_expect_lt(radius(p->top, middle), radius(foot, middle) - 0.3 * chart->column, "round %u", r);
			}
			together += p->foot_count == 2;
			double up = atan2(middle.x - p->top.x, p->top.y - middle.y);
			cr_expect_lt(fabs(remainder(up - p->angle, 2 * G_PI)), 15 * G_PI / 180, "stitch %u leans", i);
		}
	}
	cr_expect_eq(together, 18, "six together in each of three rounds");
	g_autoptr(GString) told = g_string_new(NULL);
	cr_expect_eq(tb_labels_in_the_way(chart, told), 0, "%s", told->str);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* Each round is drawn once, and the one below a part pale once more; nothing is left out. */
Test(parts, every_round_is_drawn_once)
{
	tb_case c = tb_case_rows("", "Make a magic ring.", BALL);
	tb_chart *chart = chart_of(&c, false);
	g_autofree unsigned *drawn = g_new0(unsigned, chart->fabric->row_count);
	g_autofree unsigned *pale = g_new0(unsigned, chart->fabric->row_count);
	for (guint r = 0; r < chart->rows->len; r++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, r);
		(row->below ? pale : drawn)[row->row]++;
		unsigned stitches = 0;
		for (guint32 i = row->first; i < row->first + row->count; i++)
			stitches += counts(chart, placed_at(chart, i));
		cr_expect_eq(stitches, chart->fabric->rows[row->row].stitches, "round %u", row->row);
	}
	for (guint32 r = 1; r < chart->fabric->row_count; r++) {
		cr_expect_eq(drawn[r], 1, "round %u", r);
		cr_expect_eq(pale[r], r == 4 || r == 8, "round %u", r);
	}
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* Who counts stitches by the chart's own list counts each once: those shown once more say that they are. */
Test(parts, the_list_tells_what_is_shown_once_more)
{
	tb_case c = tb_case_rows("", "Make a magic ring.", BALL);
	tb_chart *chart = chart_of(&c, false);
	g_autofree char *text = tb_chart_to_json(chart);
	cJSON *json = cJSON_Parse(text);
	cr_assert_not_null(json);
	g_autoptr(GHashTable) seen = g_hash_table_new(NULL, NULL);
	unsigned counted = 0, below = 0;
	const cJSON *stitch;
	cJSON_ArrayForEach(stitch, cJSON_GetObjectItem(json, "stitches")) {
		bool pale = cJSON_IsTrue(cJSON_GetObjectItem(stitch, "below"));
		unsigned row = (unsigned)cJSON_GetObjectItem(stitch, "row")->valueint;
		unsigned index = (unsigned)cJSON_GetObjectItem(stitch, "index")->valueint;
		below += pale;
		counted += !pale;
		if (!pale)
			cr_expect(g_hash_table_add(seen, GUINT_TO_POINTER(row * 1000 + index)), "round %u has stitch %u twice", row, index);
	}
	/* 6 + 12 + 18 + 5 * 24 + 18 + 12 + 6; below are rounds 4 and 8 */
	cr_expect_eq(counted, 192);
	cr_expect_eq(below, 48);
	cJSON_Delete(json);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* What a piece is, and how it lies then. */
Test(parts, pieces_lie_in_their_parts)
{
	static const struct {
		const char *start, *rows, *parts;
	} pieces[] = {
		/* a coaster grows to its end */
		{"Make a magic ring.",
			"Rnd 1: 6 sc in ring.\nRnd 2: 2 sc in each st around.\nRnd 3: *Sc in next st, 2 sc in next st; rep from * around.",
			"disc 1-3"},
		/* a hat from the crown down */
		{"Make a magic ring.",
			"Rnd 1: 6 sc in ring.\nRnd 2: 2 sc in each st around.\nRnd 3: *Sc in next st, 2 sc in next st; rep from * around.\n"
			"Rnd 4: *Sc in next 2 sts, 2 sc in next st; rep from * around.\nRnds 5-12: Sc in each st around.",
			"disc 1-4, tube 5-12"},
		/* … and from the brim up */
		{"Ch 24, join with sl st to form a ring.",
			"Rnds 1-6: Sc in each st around.\nRnd 7: *Sc in next 2 sts, sc2tog; rep from * around.\n"
			"Rnd 8: *Sc in next st, sc2tog; rep from * around.\nRnd 9: [Sc2tog] 6 times.",
			"tube 1-6, close 7-9"},
		/* a cowl */
		{"Ch 24, join with sl st to form a ring.", "Rnds 1-6: Sc in each st around.", "tube 1-6"},
		/* a yoke, and the body on it */
		{"Ch 40, join with sl st to form a ring.",
			"Rnd 1: Sc in each st around.\nRnd 2: *Sc in next 3 sts, 2 sc in next st; rep from * around.\n"
			"Rnd 3: *Sc in next 4 sts, 2 sc in next st; rep from * around.\nRnds 4-30: Sc in each st around.",
			"disc 1-3, tube 4-30"},
		/* a bonnet: its back goes around, its sides to and fro */
		{"Make a magic ring.",
			"Rnd 1: 8 sc in ring.\nRnd 2: 2 sc in each st around.\n"
			"Row 3: Ch 1, sc in next 12 sts, turn, leaving rem sts unworked.\nRow 4: Ch 1, sc in each st across, turn.",
			"disc 1-2, rows 3-4"},
		/* a vase: it closes to a neck and widens again */
		{"Make a magic ring.",
			"Rnd 1: 6 sc in ring.\nRnd 2: 2 sc in each st around.\nRnd 3: *Sc in next st, 2 sc in next st; rep from * around.\n"
			"Rnd 4: *Sc in next 2 sts, 2 sc in next st; rep from * around.\nRnds 5-7: Sc in each st around.\n"
			"Rnd 8: *Sc in next 2 sts, sc2tog; rep from * around.\nRnd 9: *Sc in next st, sc2tog; rep from * around.\n"
			"Rnds 10-13: Sc in each st around.\nRnd 14: *Sc in next st, 2 sc in next st; rep from * around.",
			"disc 1-4, tube 5-7, close 8-9, tube 10-13, disc 14-14"},
	};
	for (gsize i = 0; i < G_N_ELEMENTS(pieces); i++) {
		tb_case c = tb_case_rows("", pieces[i].start, pieces[i].rows);
		tb_chart_options options = {.full = true};
		tb_chart *chart = tb_case_chart(&c, &options);
		g_autofree char *faults = tb_case_faults(&c);
		cr_assert(chart != NULL, "%s: %s", pieces[i].parts, faults);
		g_autofree char *parts = tell_parts(chart);
		cr_expect_str_eq(parts, pieces[i].parts);
		tb_chart_destroy(chart);
		tb_case_finish(&c);
	}
}

/* A round that leaves the sleeves of a yoke aside begins a part of its own: below it nothing is drawn that it leaves. */
Test(parts, a_body_begins_where_the_sleeves_are_left)
{
	tb_case c = tb_case_rows("", "Ch 40, join with sl st to form a ring.",
		"Rnd 1: Sc in each st around. (40 sc)\n"
		"Rnd 2: *Sc in next 3 sts, 2 sc in next st; rep from * around. (50 sc)\n"
		"Rnd 3: *Sc in next 4 sts, 2 sc in next st; rep from * around. (60 sc)\n"
		"Rnd 4: Sc in next 20 sts, ch 3, skip next 10 sts, sc in next 20 sts, ch 3, skip next 10 sts. (40 sc, 6 ch)\n"
		"Rnd 5: Sc in each sc and in each ch around. (46 sc)");
	tb_chart *chart = chart_of(&c, false);
	g_autofree char *parts = tell_parts(chart);
	cr_assert_str_eq(parts, "disc 1-3, tube 4-5");
	const tb_chart_part *body = tb_chart_part_at(chart, 1);
	cr_expect(body->joins);
	const tb_chart_row *first = &g_array_index(chart->rows, tb_chart_row, body->row);
	cr_expect_eq(chart->fabric->rows[first->row].number, 4);
	cr_expect_not(first->below);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* Chains that make a row longer lie in its line, and what is worked into them stands upright on them. */
Test(parts, a_row_that_is_chained_on_is_longer)
{
	tb_case c = tb_case_rows("", "Ch 9.",
		"Row 1: Sc in 2nd ch from hook and in each ch across, turn. (8 sc)\n"
		"Row 2: Ch 1, sc in each sc across, ch 6, turn. (8 sc, 6 ch)\n"
		"Row 3: Sc in 2nd ch from hook, sc in each of next 4 ch, sc in each sc across, turn. (13 sc)\n"
		"Row 4: Ch 1, sc in each sc across. (13 sc)");
	tb_chart_options options = {.full = true};
	tb_chart *chart = tb_case_chart(&c, &options);
	g_autofree char *faults = tb_case_faults(&c);
	cr_assert(chart != NULL, "%s", faults);
	const tb_chart_row *longer = &g_array_index(chart->rows, tb_chart_row, 2), *row = &g_array_index(chart->rows, tb_chart_row, 3);
	double before = NAN;
	unsigned chains = 0;
	for (guint32 i = longer->first; i < longer->first + longer->count; i++) {
		const tb_placed *p = placed_at(chart, i);
		if (!(made_of(chart, p)->flags & TB_MADE_CHAIN) || made_of(chart, p)->flags & TB_MADE_TURNING)
			continue;
		if (chains++ > 0)
			cr_expect_float_eq(fabs(p->top.x - before), chart->column, 0.15 * chart->column);
		before = p->top.x;
	}
	cr_expect_geq(chains, 5);
	unsigned upright = 0;
	for (guint32 i = row->first; i < row->first + row->count; i++)
		upright += counts(chart, placed_at(chart, i)) && fabs(placed_at(chart, i)->angle) < 6 * G_PI / 180;
	cr_expect_eq(upright, 13, "%u of 13 stand upright", upright);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* A thumb gore: all that has one foot stands straight above it, no two nearer than a column, the gore in its gap. */
Test(parts, a_gore_stands_upright_in_its_gap)
{
	tb_case c = tb_case_rows("", "Ch 12, join with sl st to form a ring.",
		"Rnd 1: Sc in each st around. (12 sc)\n"
		"Rnd 2: Sc in next 4 sts, 3 sc in next st, sc in next 7 sts. (14 sc)\n"
		"Rnd 3: Sc in each st around. (14 sc)\n"
		"Rnd 4: Sc in next 4 sts, 2 sc in next st, sc in next st, 2 sc in next st, sc in next 7 sts. (16 sc)\n"
		"Rnd 5: Sc in each st around. (16 sc)");
	tb_chart *chart = chart_of(&c, false);
	cr_assert(tb_chart_is(chart, TB_LAY_TUBE));
	for (guint r = 1; r < chart->rows->len; r++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, r);
		for (guint32 i = row->first; i < row->first + row->count; i++) {
			const tb_placed *p = placed_at(chart, i);
			bool alone = made_of(chart, p)->base_count == 1;
			for (guint32 k = row->first; k < row->first + row->count; k++)
				alone = alone && (k == i || made_of(chart, placed_at(chart, k))->base != made_of(chart, p)->base);
			if (alone)
				cr_expect_float_eq(p->angle, 0, 1e-6, "stitch %u of round %u leans", i - row->first, r);
			if (i > row->first)
				cr_expect_geq(placed_at(chart, i - 1)->top.x - p->top.x, (1 - 1e-6) * chart->column, "round %u", r);
		}
	}
	/* The stitch that the gore grows from stands in the middle of it. */
	const tb_chart_row *first = &g_array_index(chart->rows, tb_chart_row, 1);
	const tb_chart_row *last = &g_array_index(chart->rows, tb_chart_row, chart->rows->len - 1);
	double gore = (placed_at(chart, last->first + 4)->top.x + placed_at(chart, last->first + 8)->top.x) / 2;
	cr_expect_float_eq(placed_at(chart, first->first + 4)->top.x, gore, 1e-6);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* A sleeve drawn in at its seam is drawn in there: its stitches stand a column apart, and no row opens. */
Test(parts, a_sleeve_narrows_at_its_edges)
{
	tb_case c = tb_case_rows("", "Ch 16, join with sl st to form a ring.",
		"Rnd 1: Sc in each st around. (16 sc)\n"
		"Rnd 2: Sc2tog, sc in next 12 sts, sc2tog. (14 sts)\n"
		"Rnd 3: Sc in each st around. (14 sc)\n"
		"Rnd 4: Sc in next st, sc2tog, sc in next 8 sts, sc2tog, sc in next st. (12 sts)\n"
		"Rnd 5: Sc in each st around. (12 sc)");
	tb_chart *chart = chart_of(&c, false);
	cr_assert(tb_chart_is(chart, TB_LAY_TUBE));
	for (guint r = 1; r < chart->rows->len; r++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, r);
		for (guint32 i = row->first + 1; i < row->first + row->count; i++)
			cr_expect_float_eq(placed_at(chart, i - 1)->top.x - placed_at(chart, i)->top.x, chart->column, 1e-6,
				"round %u, stitch %u", r, i - row->first);
	}
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* The second side of a neck stands on the row that both sides begin on, as high as a stitch is. */
Test(parts, a_second_shoulder_stands_on_its_own_row)
{
	tb_case c = tb_case_rows("", "Ch 14.",
		"Row 1: Dc in 4th ch from hook (skipped chs count as dc) and in each ch across, turn. (12 dc)\n"
		"Row 2: Ch 3 (counts as dc), dc in next 2 dc, dc2tog, turn, leaving rem sts unworked. (4 sts)\n"
		"Row 3: Ch 3 (counts as dc), dc in each st across, turn. (4 dc)\n"
		"Row 4: Ch 3 (counts as dc), dc in each st across. Fasten off. (4 dc)\n"
		"Row 5: Skip next 2 unworked sts of Row 1, join yarn in next st, ch 3 (counts as dc), dc in each st across. (5 dc)");
	tb_chart_options options = {.full = true};
	tb_chart *chart = tb_case_chart(&c, &options);
	g_autofree char *faults = tb_case_faults(&c);
	cr_assert(chart != NULL, "%s", faults);
	const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, chart->rows->len - 1);
	cr_assert_eq(chart->fabric->rows[row->row].stands, 1, "%s", faults);
	double most = 0;
	for (guint32 i = row->first; i < row->first + row->count; i++)
		most = fmax(most, placed_at(chart, i)->height);
	cr_expect_lt(most, 3 * chart->column);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* Nothing lies below foundation stitches: a front that is divided above them stands upright on them. */
Test(parts, foundation_stitches_are_the_ground)
{
	tb_case c = tb_case_read("front.txt",
		"FRONT\n"
		"Row 1: Work 24 fsc, turn. [24 fsc]\n"
		"Rows 2-4: Ch 1, sc in each st across, turn. [24 sc]\n"
		"Row 5: Ch 1, sc in first 12 sts, turn, leaving rem sts unworked. [12 sc]\n"
		"Rows 6-8: Ch 1, sc in each st across, turn. [12 sc]\n");
	tb_chart_options options = {.full = true};
	tb_chart *chart = tb_case_chart(&c, &options);
	g_autofree char *faults = tb_case_faults(&c);
	cr_assert(chart != NULL, "%s", faults);
	for (guint32 i = 0; i < chart->placed->len; i++)
		if (counts(chart, placed_at(chart, i)))
			cr_expect_lt(fabs(placed_at(chart, i)->angle), 4 * G_PI / 180, "stitch %u leans", i);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* Rounds are drawn whole: sizes whose rounds differ do not share a chart, and those that are the same do. */
Test(parts, rounds_speak_for_the_sizes_they_are)
{
	tb_case c = tb_case_rows("S, M, L", "Make a magic ring.",
		"Rnd 1: 6 (6, 8) sc in ring. (6 (6, 8) sc)\n"
		"Rnd 2: 2 sc in each st around. (12 (12, 16) sc)");
	tb_chart_options options = {0};
	tb_chart *chart = tb_case_chart(&c, &options);
	cr_assert_not_null(chart);
	cr_expect_eq(chart->sizes, 1u << 0 | 1u << 1);
	g_autofree char *faults = tb_case_faults(&c);
	cr_expect_not_null(strstr(faults, "no repeat fits every size, so sizes S, M are charted alone"), "%s", faults);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* Nor do sizes that are as many stitches, where these bear other numbers. */
Test(parts, rounds_of_other_numbers_are_not_the_same)
{
	tb_case c = tb_case_rows("S, L", "Make a magic ring.",
		"Rnd 1: 6 sc in ring. (6 sc)\n"
		"Rnd 2 (size S only): 2 sc in each st around. (12 sc)\n"
		"Rnd 3 (size L only): 2 sc in each st around. (12 sc)");
	tb_chart_options options = {0};
	tb_chart *chart = tb_case_chart(&c, &options);
	g_autofree char *faults = tb_case_faults(&c);
	cr_assert(chart != NULL, "%s", faults);
	cr_assert_eq(tb_worked_fabric(chart->worked, 0, 0)->row_count, tb_worked_fabric(chart->worked, 0, 1)->row_count);
	cr_expect_eq(chart->sizes, 1u << chart->size, "%s", faults);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}
