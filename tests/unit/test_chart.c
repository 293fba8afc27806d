/* The layout of charts: cells, columns, feet, motif box, numbers. */
#include "charting.h"

#include <cjson/cJSON.h>
#include <criterion/criterion.h>
#include <math.h>

static const char texture[] =
	"Row 1 (RS): Dc in 4th ch from hook and in each ch across, turn.\n"
	"Row 2 (WS): Ch 1, sc in each st across, turn.\n"
	"Row 3 (RS): Ch 3 (counts as dc), sk first st, dc in next 2 sts, *FPdc2tog around st 2 rows "
	"below, dc in next 3 sts; rep from * across, turn.\n"
	"Row 4 (WS): Ch 1, sc in each st across, turn.\n"
	"Row 5 (RS): Ch 3 (counts as dc), sk first st, *FPdc2tog around st 2 rows below, dc in next 3 "
	"sts; rep from * to last 2 sts, FPdc2tog around st 2 rows below, dc in last st, turn.\n"
	"Row 6 (WS): Ch 1, sc in each st across, turn.\n"
	"Rep Rows 3-6 3 times.";

static tb_case read_texture(void)
{
	return tb_case_rows("S, M, L", "Ch 25 (33, 41).", texture);
}

Test(chart, cells_have_the_proportions_of_the_gauge)
{
	tb_case c = read_texture();
	tb_chart_options options = {.fabric_scale = true};
	tb_chart *chart = tb_case_chart(&c, &options);
	cr_assert_not_null(chart);
	/* 12 stitches and 9 rows to 10 cm: a stitch is 100/12 mm wide, a row 100/9 mm high in the
	 * mean; rows of sc and dc by turns share two rows as 1 and 3 chains (common practice). */
	cr_assert_float_eq(chart->column, 100.0 / 12, 1e-9);
	cr_assert_float_eq(chart->chain, 2 * (100.0 / 9) / 4, 1e-9);
	tb_chart_destroy(chart);
	options = (tb_chart_options){.stitch_width_mm = 25};
	chart = tb_case_chart(&c, &options);
	cr_assert_float_eq(chart->column, 25, 1e-9);
	cr_assert_float_eq(chart->chain / chart->column, (2 * (100.0 / 9) / 4) / (100.0 / 12), 1e-9);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

Test(chart, one_motif_stands_for_all_sizes)
{
	tb_case c = read_texture();
	tb_chart_options options = {0};
	tb_chart *chart = tb_case_chart(&c, &options);
	cr_assert_not_null(chart);
	cr_assert(chart->motif.found, "%s", chart->motif.reason);
	cr_assert(chart->folded);
	cr_assert_eq(chart->motif.width, 4);
	const guint32 widths[] = {23, 31, 39};
	for (int size = 0; size < 3; size++)
		cr_assert_eq(chart->motif.near_edge + chart->motif.far_edge + 4 * chart->motif.times[size],
			widths[size]);
	/* Every drawn column stands exactly over the one below, one column from the next. */
	guint32 drawn = chart->motif.near_edge + 4 + chart->motif.far_edge;
	for (guint32 row = 1; row <= 6; row++)
		for (guint32 index = 1; index <= drawn; index++) {
			const tb_placed *placed = tb_test_placed(chart, row, index);
			cr_assert_not_null(placed, "row %u has no stitch %u", row, index);
			cr_assert_float_eq(placed->top.x,
				tb_test_placed(chart, 1, index)->top.x, 1e-9);
			if (index > 1)
				cr_assert_float_eq(tb_test_placed(chart, row, index - 1)->top.x - placed->top.x,
					chart->column, 1e-9);
		}
	cr_assert(chart->has_box);
	cr_assert_float_eq(chart->box_right - chart->box_left, 4 * chart->column, 1e-9);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* A raised stitch reaches down to an earlier row, and the stitch behind it is missed [EN fig. 428]. */
Test(chart, clusters_stand_on_the_post_two_rows_down)
{
	tb_case c = read_texture();
	tb_chart_options options = {0};
	tb_chart *chart = tb_case_chart(&c, &options);
	unsigned clusters = 0;
	for (guint i = 0; i < chart->placed->len; i++) {
		const tb_placed *placed = &g_array_index(chart->placed, tb_placed, i);
		if (g_strcmp0(tb_test_stitch(chart, placed)->us, "FPdc2tog") != 0)
			continue;
		clusters++;
		const tb_made *made = &chart->fabric->made[placed->made];
		const tb_spot *foot = &g_array_index(chart->feet, tb_spot, placed->first_foot);
		guint32 row = chart->fabric->rows[made->row].number;
		const tb_placed *base = tb_test_placed(chart, row - 2, placed->index);
		cr_assert_eq(made->rows_below, 2);
		cr_assert_float_eq(foot->x, base->top.x, 1e-9);
		/* In its neck: under the base's head, over its bar. */
		cr_assert_gt(foot->y, base->top.y + 0.1 * chart->column);
		cr_assert_lt(foot->y, base->top.y + 0.5 * chart->column);
	}
	cr_assert_gt(clusters, 2);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

static const tb_label *find_label(const tb_chart *chart, const char *text)
{
	const tb_label *found = NULL;
	for (guint i = 0; i < chart->labels->len; i++) {
		const tb_label *label = &g_array_index(chart->labels, tb_label, i);
		if (strcmp(label->text, text) != 0)
			continue;
		cr_expect_null(found, "%s is said twice", text);
		found = label;
	}
	return found;
}

/*
 * A double crochet is one stitch in the US and another in the UK (Craft Yarn Council, abbreviations, as in the trade
 * facts): a chart by itself tells each stitch once, in the terms asked for, and beside it the other country's, quietly.
 */
Test(chart, the_key_tells_each_stitch_once_in_both_terms)
{
	static const char *const us[][2] = {{"sc", "UK dc"}, {"dc", "UK tr"}, {"FPdc2tog", "UK FPtr2tog"}};
	static const char *const uk[][2] = {{"dc", "US sc"}, {"tr", "US dc"}, {"FPtr2tog", "US FPdc2tog"}};
	for (int british = 0; british < 2; british++) {
		tb_case c = tb_case_file("examples/lantern-vest.json");
		tb_chart_options options = {.uk_terms = british == 1};
		g_autoptr(tb_chart) chart = tb_case_chart(&c, &options);
		cr_assert_eq(chart->keys->len, 4, "chain and three stitches");
		for (gsize i = 0; i < G_N_ELEMENTS(us); i++) {
			const tb_label *own = find_label(chart, british ? uk[i][0] : us[i][0]);
			const tb_label *other = find_label(chart, british ? uk[i][1] : us[i][1]);
			cr_assert(own != NULL && other != NULL, "%s, %s", us[i][0], us[i][1]);
			cr_expect(own->ink == TB_INK_TEXT && own->face == TB_FACE_BOLD);
			cr_expect(other->ink == TB_INK_QUIET && other->face == TB_FACE_PLAIN);
			cr_expect(other->x > own->x && other->y == own->y);
		}
		cr_expect_not_null(find_label(chart, "ch"));
		cr_expect_null(find_label(chart, british ? "US ch" : "UK ch"));
		/* A stitch of the key has the proportions of the chart's. */
		const tb_key_symbol *symbol = &g_array_index(chart->keys, tb_key_symbol, 0);
		cr_expect_float_eq(symbol->chain / symbol->column, CLAMP(chart->chain / chart->column, 0.36, 0.5), 1e-9);
		tb_case_finish(&c);
	}
}

/* Odd rows from one edge and even ones from the other, each from where its number stands. */
Test(chart, the_reading_rule_says_from_which_edge_rows_are_read)
{
	for (int left = 0; left < 2; left++) {
		tb_case c = tb_case_file("examples/lantern-vest.json");
		tb_chart_options options = {.left_handed = left == 1};
		g_autoptr(tb_chart) chart = tb_case_chart(&c, &options);
		g_autofree char *rule = tb_test_rule(chart);
		const char *said = left ? "Odd rows (right side) from the left, even rows (wrong side) from the right." :
			"Odd rows (right side) from the right, even rows (wrong side) from the left.";
		cr_expect(g_str_has_prefix(rule, said), "%s", rule);
		const tb_label *one = find_label(chart, "1"), *two = find_label(chart, "2");
		cr_assert(one != NULL && two != NULL);
		cr_expect_eq(one->x > two->x, left == 0);
		tb_case_finish(&c);
	}
}

/* Right side rows run right to left, the number at the edge where the row begins (trade-facts). */
Test(chart, numbers_stand_where_rows_begin)
{
	tb_case c = read_texture();
	for (int left_handed = 0; left_handed < 2; left_handed++) {
		tb_chart_options options = {.left_handed = left_handed == 1};
		tb_chart *chart = tb_case_chart(&c, &options);
		cr_assert_eq(chart->arrows->len, 6);
		for (guint i = 0; i < 6; i++) {
			const tb_arrow *arrow = &g_array_index(chart->arrows, tb_arrow, i);
			bool right_side = i % 2 == 0;
			bool at_right = arrow->x1 > (chart->left + chart->right) / 2;
			cr_assert_eq(at_right, right_side != (left_handed == 1), "row %u", i + 1);
			cr_assert_eq(arrow->x2 < arrow->x1, at_right, "the arrow points into the row");
		}
		tb_chart_destroy(chart);
	}
	tb_case_finish(&c);
}

/* The mark where yarn is cut stands beside the last stitch, and no nearer to the paper's edge than title and key. */
Test(chart, marks_stand_within_the_margins)
{
	tb_case c = tb_case_rows("", "Ch 4, join with sl st to form a ring.",
		"Row 1: Ch 3 (counts as dc), (2 dc, ch 2, 3 dc) in ring, turn.\n"
		"Row 2: Ch 3 (counts as dc), 2 dc in first st, dc in next 2 sts, (2 dc, ch 2, 2 dc) in next ch-2 sp, dc in next 2 sts, "
		"3 dc in last st. Fasten off.");
	for (int left_handed = 0; left_handed < 2; left_handed++) {
		tb_chart_options options = {.left_handed = left_handed};
		g_autoptr(tb_chart) chart = tb_case_chart(&c, &options);
		cr_assert_not_null(chart);
		cr_assert_eq(chart->marks->len, 1);
		tb_spot at = g_array_index(chart->marks, tb_chart_mark, 0).at;
		/* the title begins at the margin */
		double margin = G_MAXDOUBLE, half = chart->column / 2;
		for (guint i = 0; i < chart->labels->len; i++) {
			const tb_label *label = &g_array_index(chart->labels, tb_label, i);
			margin = label->align == TB_ALIGN_LEFT && label->ink == TB_INK_TEXT ? fmin(margin, label->x) : margin;
		}
		cr_expect_geq(at.x - half, margin, "%g, and the margin is %g", at.x - half, margin);
		cr_expect_leq(at.x + half, chart->width - margin);
	}
	tb_case_finish(&c);
}

Test(chart, the_left_handed_read_the_mirror_image)
{
	tb_case c = read_texture();
	tb_chart_options options = {0}, mirrored = {.left_handed = true};
	tb_chart *chart = tb_case_chart(&c, &options), *mirror = tb_case_chart(&c, &mirrored);
	cr_assert_eq(chart->placed->len, mirror->placed->len);
	for (guint i = 0; i < chart->placed->len; i++) {
		const tb_placed *a = &g_array_index(chart->placed, tb_placed, i);
		const tb_placed *b = &g_array_index(mirror->placed, tb_placed, i);
		cr_assert_float_eq(a->top.x - chart->left, mirror->right - b->top.x, 1e-9);
	}
	tb_chart_destroy(chart);
	tb_chart_destroy(mirror);
	tb_case_finish(&c);
}

Test(chart, surface_slip_stitches_lie_upon_their_rows)
{
	tb_case c = tb_case_rows("S, M", "Ch 11 (13).",
		"Row 1: Sc in 2nd ch from hook and in each ch across.\nRows 2-6: Ch 1, turn, sc in each st across.\n"
		"With B, surface sl st between Rows 2 and 3.\nWith B, surface sl st between sts 4 and 5 over Rows 1-6.");
	tb_chart_options options = {0};
	tb_chart *chart = tb_case_chart(&c, &options);
	cr_assert_not_null(chart);
	guint lying = 0, upright = 0;
	for (guint i = 0; i < chart->marks->len; i++) {
		const tb_chart_mark *mark = &g_array_index(chart->marks, tb_chart_mark, i);
		if (g_str_equal(mark->mark->us, "surface slip stitch"))
			*(mark->angle > 1 ? &upright : &lying) += 1;
	}
	/* a line up the rows has a column of its own, so that nothing is folded */
	cr_assert(!chart->folded);
	cr_assert_eq(lying, 12);
	cr_assert_eq(upright, 6);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

Test(chart, full_draws_every_stitch_of_the_largest_size)
{
	tb_case c = read_texture();
	tb_chart_options options = {.full = true};
	tb_chart *chart = tb_case_chart(&c, &options);
	cr_assert_eq(chart->size, 2);
	cr_assert_eq(chart->placed->len, chart->fabric->made_count);
	/* A bracket a size, one inside the other, all from the edge where row 1 begins. */
	unsigned under = 0;
	double wider = 0;
	for (guint i = 0; i < chart->brackets->len; i++) {
		const tb_bracket *bracket = &g_array_index(chart->brackets, tb_bracket, i);
		if (bracket->upright)
			continue;
		under++;
		cr_assert_float_eq(bracket->to, chart->right, 1e-9);
		cr_assert_gt(bracket->to - bracket->from, wider);
		wider = bracket->to - bracket->from;
	}
	cr_assert_eq(under, 3);
	cr_assert_float_eq(wider, 39 * chart->column, 1e-9);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

Test(chart, rows_asked_for_stand_on_pale_rows)
{
	tb_case c = read_texture();
	tb_chart_options options = {.first_row = 5, .last_row = 6};
	tb_chart *chart = tb_case_chart(&c, &options);
	unsigned pale = 0, charted = 0;
	for (guint i = 0; i < chart->rows->len; i++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, i);
		*(row->below ? &pale : &charted) += 1;
		cr_assert_eq(tb_chart_row_ink(chart, row) == TB_INK_BELOW, row->below);
	}
	cr_assert_eq(charted, 2);
	cr_assert_eq(pale, 2, "row 5 reaches down to row 3");
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

Test(chart, rows_that_are_not_there_are_an_error)
{
	tb_case c = read_texture();
	tb_chart_options options = {.first_row = 500, .last_row = 600};
	cr_assert_null(tb_case_chart(&c, &options));
	cr_assert_eq(tb_diagnostics_count_errors(c.diagnostics), 1);
	tb_case_finish(&c);
}

/* Two worked together draw their row in: its tops stand between their bases. */
Test(chart, decreases_lean_together)
{
	tb_case c = tb_case_rows("", "Ch 13.",
		"Row 1: Sc in 2nd ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 1, sc2tog, sc in next 8 sts, sc2tog, turn.\n"
		"Row 3: Ch 1, sc2tog, sc in next 6 sts, sc2tog, turn.");
	g_autofree char *faults = tb_case_faults(&c);
	cr_assert_str_empty(faults);
	tb_chart_options options = {0};
	tb_chart *chart = tb_case_chart(&c, &options);
	double middle = NAN;
	for (guint i = 0; i < chart->rows->len; i++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, i);
		double sum = 0, before = NAN;
		unsigned count = 0;
		for (guint32 k = row->first; k < row->first + row->count; k++) {
			const tb_placed *placed = &g_array_index(chart->placed, tb_placed, k);
			if (placed->index == 0)
				continue;
			sum += placed->top.x;
			count++;
			if (!isnan(before))
				cr_assert_geq(fabs(placed->top.x - before), chart->column * 0.9);
			before = placed->top.x;
		}
		if (!isnan(middle))
			cr_assert_float_eq(sum / count, middle, 1e-6, "row %u is not centred", i);
		middle = sum / count;
	}
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

Test(chart, json_has_the_pinned_shape)
{
	tb_case c = read_texture();
	tb_chart_options options = {0};
	tb_chart *chart = tb_case_chart(&c, &options);
	g_autofree char *text = tb_chart_to_json(chart);
	cJSON *json = cJSON_Parse(text);
	cr_assert_not_null(json);
	const char *const keys[] = {"piece", "unit", "width", "height", "cell", "repeat", "stitches"};
	const cJSON *item = json->child;
	for (gsize i = 0; i < G_N_ELEMENTS(keys); i++, item = item->next) {
		cr_assert_not_null(item);
		cr_assert_str_eq(item->string, keys[i]);
	}
	cr_assert_str_eq(cJSON_GetObjectItem(json, "unit")->valuestring, "mm");
	const cJSON *repeat = cJSON_GetObjectItem(json, "repeat");
	cr_assert_eq(cJSON_GetArraySize(cJSON_GetObjectItem(repeat, "times")), 3);
	cr_assert_eq(cJSON_GetObjectItem(repeat, "width")->valueint, 4);
	const cJSON *stitches = cJSON_GetObjectItem(json, "stitches"), *one;
	cr_assert_eq((guint)cJSON_GetArraySize(stitches), chart->placed->len);
	cJSON_ArrayForEach(one, stitches) {
		if (strcmp(cJSON_GetObjectItem(one, "stitch")->valuestring, "FPdc2tog") != 0)
			continue;
		cr_assert_eq(cJSON_GetObjectItem(one, "base_row")->valueint,
			cJSON_GetObjectItem(one, "row")->valueint - 2);
		cr_assert_eq(cJSON_GetArrayItem(cJSON_GetObjectItem(one, "base_indices"), 0)->valueint,
			cJSON_GetObjectItem(one, "index")->valueint);
	}
	cJSON_Delete(json);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

static int number_in(const cJSON *object, const char *key)
{
	const cJSON *item = cJSON_GetObjectItem(object, key);
	return item != NULL ? item->valueint : -1;
}

/* The chart of ROWS as it is told to others; it has passed these: every id is its place, no index comes twice in a row. */
static cJSON *told(const char *start, const char *rows)
{
	tb_case c = tb_case_rows("", start, rows);
	g_autofree char *faults = tb_case_faults(&c);
	cr_assert_str_empty(faults, "%s", faults);
	tb_chart_options options = {.full = true};
	tb_chart *chart = tb_case_chart(&c, &options);
	g_autofree char *text = tb_chart_to_json(chart);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
	cJSON *json = cJSON_Parse(text);
	cr_assert_not_null(json);
	const cJSON *stitches = cJSON_GetObjectItem(json, "stitches"), *one;
	int id = 0;
	GHashTable *seen = g_hash_table_new(NULL, NULL);
	cJSON_ArrayForEach(one, stitches) {
		cr_assert_eq(number_in(one, "id"), ++id);
		gpointer place = GINT_TO_POINTER(number_in(one, "row") * 1000 + number_in(one, "index"));
		cr_assert(g_hash_table_add(seen, place), "%s", cJSON_Print(one));
		const cJSON *ids = cJSON_GetObjectItem(one, "base_ids"), *indices = cJSON_GetObjectItem(one, "base_indices");
		cr_assert_eq(cJSON_GetArraySize(ids), cJSON_GetArraySize(indices));
		for (int i = 0; i < cJSON_GetArraySize(ids); i++) {
			const cJSON *base = cJSON_GetArrayItem(stitches, cJSON_GetArrayItem(ids, i)->valueint - 1);
			cr_assert_eq(number_in(base, "row"), number_in(one, "base_row"));
			cr_assert_eq(number_in(base, "index"), cJSON_GetArrayItem(indices, i)->valueint);
		}
	}
	g_hash_table_destroy(seen);
	return json;
}

static const cJSON *stitch_told(const cJSON *json, int row, int index)
{
	const cJSON *one;
	cJSON_ArrayForEach(one, cJSON_GetObjectItem(json, "stitches"))
		if (number_in(one, "row") == row && number_in(one, "index") == index)
			return one;
	return NULL;
}

/* A row back counts from the same edge; a shell names the first chain of its space, and how many lie there. */
Test(chart, json_names_what_a_stitch_is_worked_into)
{
	cJSON *json = told("Ch 10.",
		"Row 1: Sc in 2nd ch from hook, *ch 5, sk 3 ch, sc in next ch; rep from * across, turn.\n"
		"Row 2: Ch 1, sc in first sc, *7 dc in next ch-5 sp, sc in next sc; rep from * across.");
	const cJSON *first = stitch_told(json, 2, 1), *shell = stitch_told(json, 2, 2), *turning = stitch_told(json, 2, 0);
	/* row 2 ends where row 1 began */
	cr_assert_str_eq(cJSON_GetObjectItem(first, "stitch")->valuestring, "sc");
	cr_assert_eq(cJSON_GetArrayItem(cJSON_GetObjectItem(first, "base_indices"), 0)->valueint, 1);
	cr_assert_null(cJSON_GetObjectItem(first, "space"));
	cr_assert_null(cJSON_GetObjectItem(first, "chains"));
	cr_assert_null(cJSON_GetObjectItem(first, "round"));
	cr_assert_str_eq(cJSON_GetObjectItem(shell, "stitch")->valuestring, "dc");
	cr_assert(cJSON_IsTrue(cJSON_GetObjectItem(shell, "space")));
	const cJSON *chain = stitch_told(json, 1, 2);
	cr_assert_str_eq(cJSON_GetObjectItem(chain, "stitch")->valuestring, "ch");
	cr_assert_eq(number_in(chain, "chains"), 5);
	cr_assert_eq(cJSON_GetArrayItem(cJSON_GetObjectItem(shell, "base_ids"), 0)->valueint, number_in(chain, "id"));
	cr_assert_eq(number_in(turning, "chains"), 1);
	cJSON_Delete(json);
}

Test(chart, json_tells_rounds_and_picots_apart)
{
	cJSON *json = told("Make a magic ring.",
		"Rnd 1: Ch 3 (counts as dc), 11 dc in ring, join with sl st in top of ch-3.\n"
		"Rnd 2: Ch 1, *sc in next st, ch 3, sl st in 3rd ch from hook, sc in next st; rep from * around, join with sl "
		"st in first sc.");
	const cJSON *one;
	int rounds = 0;
	cJSON_ArrayForEach(one, cJSON_GetObjectItem(json, "stitches"))
		rounds += cJSON_IsTrue(cJSON_GetObjectItem(one, "round"));
	cr_assert_eq(rounds, cJSON_GetArraySize(cJSON_GetObjectItem(json, "stitches")));
	const cJSON *standing = stitch_told(json, 1, 1);
	cr_assert_eq(number_in(standing, "chains"), 3);
	cJSON_Delete(json);
}

/* On a grid the index is the column, and fans keep it though their heads draw together. */
Test(chart, json_counts_columns_where_there_are_columns)
{
	cJSON *json = told("Ch 14.",
		"Row 1: Sc in 2nd ch from hook, *sk 2 ch, 5 dc in next ch, sk 2 ch, sc in next ch; rep from * across, turn.\n"
		"Row 2: Ch 1, sc in each st across.");
	for (int index = 1; index <= 13; index++) {
		const cJSON *above = stitch_told(json, 2, index);
		cr_assert_not_null(above, "column %d", index);
		cr_assert_eq(cJSON_GetArrayItem(cJSON_GetObjectItem(above, "base_indices"), 0)->valueint, index);
	}
	cJSON_Delete(json);
}

/* The whole message of what charting can say. */
Test(chart, sizes_that_share_no_repeat_are_told_apart)
{
	tb_case c = tb_case_rows("S, M", "Ch 13.",
		"Row 1 (RS): Dc in 4th ch from hook and in each ch across, turn.\n"
		"Row 2 (WS): Ch 3 (counts as dc), sk first st, dc in next 3 sts, FPdc around next 1 (2) sts, dc "
		"in each st across.");
	tb_chart_options options = {0};
	tb_chart *chart = tb_case_chart(&c, &options);
	cr_assert_not_null(chart);
	cr_assert_eq(chart->sizes, 1u);
	g_autofree char *faults = tb_case_faults(&c);
	cr_assert(g_str_has_prefix(faults, "test.json: warning: Swatch: no repeat fits every size, so size "
									   "S is charted alone: "), "%s", faults);
	cr_assert(g_str_has_suffix(faults, "\n  Name another size to chart that one.\n"), "%s", faults);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

/* "R" is of a round or of a row: what is turned goes back and forth, from its first row to its last. */
Test(chart, short_labels_of_turned_work_are_rows)
{
	static const char *const texts[] = {
		"Title: Swatch\n\nSWATCH\nCh 13.\nR1: Sc in 2nd ch from hook and in each ch across. (12)\nR2: Ch 1, turn, sc across. (12)\n"
		"R3: Ch 1, turn, sc across. (12)\n",
		"Title: Swatch\n\nSWATCH\nCh 13.\nR1: Sc in 2nd ch from hook and in each ch across, turn. (12)\nR2: Ch 1, sc across, turn. "
		"(12)\nR3: Ch 1, sc across. (12)\n",
	};
	for (gsize i = 0; i < G_N_ELEMENTS(texts); i++) {
		tb_case c = tb_case_read("swatch.txt", texts[i]);
		g_autofree char *faults = tb_case_faults(&c);
		cr_assert_str_empty(faults, "%s", faults);
		const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
		for (guint32 r = 1; r < fabric->row_count; r++)
			cr_assert_not(fabric->rows[r].is_round, "text %zu, row %u", i, r);
		tb_case_finish(&c);
	}
	/* and where nothing is turned, they go around */
	tb_case c = tb_case_read("toy.txt", "Title: Toy\n\nTOY\nR1: 6 sc in a magic ring. (6)\nR2: 2 sc in each sc. (12)\n");
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	cr_assert(fabric->rows[1].is_round && fabric->rows[2].is_round);
	tb_case_finish(&c);
}

/* An edging around rows stands on no stitch that is drawn: it is left to its words, and that is said. */
Test(chart, an_edging_along_the_sides_is_left_out_and_told)
{
	tb_case c = tb_case_rows("", "Ch 13.",
		"Row 1: Sc in 2nd ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 1, sc in each st across, turn.\n"
		"Row 3: Ch 1, sc in each st across.\n"
		"Rnd 4: Ch 1, 32 sc evenly around, join with sl st in first sc.");
	tb_chart_options options = {0};
	tb_chart *chart = tb_case_chart(&c, &options);
	cr_assert_not_null(chart);
	cr_assert_eq(chart->fabric->rows[g_array_index(chart->rows, tb_chart_row, chart->rows->len - 1).row].number, 3);
	g_autofree char *faults = tb_case_faults(&c);
	cr_assert_str_eq(faults, "test.json: warning: Swatch: the chart ends before row 4, which goes along an edge that no row "
							 "shows\n  Its words say how it is worked.\n");
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

Test(chart, nothing_to_chart_is_told)
{
	tb_case c = read_texture();
	tb_chart_options options = {.first_row = 500, .last_row = 600};
	cr_assert_null(tb_case_chart(&c, &options));
	g_autofree char *faults = tb_case_faults(&c);
	cr_assert_str_eq(faults, "test.json: error: Swatch: there are no such rows to chart\n"
							 "  Ask for rows that the piece has.\n");
	tb_case_finish(&c);
}

/* What stands under a foot is explained where it is drawn, and nowhere else. */
Test(chart, the_reading_rule_explains_the_loops_that_are_used)
{
	static const struct {
		const char *loop;
		bool arc, flat;
	} ways[] = {{"each st", false, false}, {"BLO of each st", true, false}, {"3rd loop of each st", false, true}};
	for (gsize i = 0; i < G_N_ELEMENTS(ways); i++) {
		g_autofree char *rows = g_strdup_printf("Row 1: Hdc in 2nd ch from hook and in each ch across, turn.\n"
			"Row 2: Ch 1, hdc in %s across.", ways[i].loop);
		tb_case c = tb_case_rows("", "Ch 9.", rows);
		tb_chart_options options = {0};
		g_autoptr(tb_chart) chart = tb_case_chart(&c, &options);
		g_autofree char *faults = tb_case_faults(&c);
		cr_assert_not_null(chart, "%s", faults);
		g_autofree char *rule = tb_test_rule(chart);
		cr_expect_eq(strstr(rule, "An arc under the foot") != NULL, ways[i].arc, "%s: %s", ways[i].loop, rule);
		cr_expect_eq(strstr(rule, "A flat stroke under the foot") != NULL, ways[i].flat, "%s: %s", ways[i].loop, rule);
		tb_case_finish(&c);
	}
}

/* A4 is 210 × 297 mm (ISO 216): the chart is one such page, upright or lying, and no stitch is too small to read. */
Test(chart, fits_the_paper_that_is_asked_for)
{
	static const char *const examples[] = {"shell-scarf.txt", "gull-shawl.txt", "moon-disc.txt", "rope-cable.txt", "window-square.txt"};
	for (gsize i = 0; i < G_N_ELEMENTS(examples); i++) {
		g_autofree char *path = g_strdup_printf("examples/%s", examples[i]);
		tb_case c = tb_case_file(path);
		double before = 0;
		for (unsigned larger = 0; larger < 2; larger++) {
			tb_chart_options options = {.paper_width_mm = larger ? 297 : 210, .paper_height_mm = larger ? 420 : 297};
			g_autoptr(tb_chart) chart = tb_case_chart(&c, &options);
			cr_assert_not_null(chart, "%s", path);
			double narrow = fmin(chart->width, chart->height), wide = fmax(chart->width, chart->height);
			cr_expect_float_eq(narrow, options.paper_width_mm, 1e-6, "%s: %g", path, narrow);
			cr_expect_float_eq(wide, options.paper_height_mm, 1e-6, "%s: %g", path, wide);
			cr_expect_geq(chart->column, 4, "%s: %g", path, chart->column);
			cr_expect_geq(chart->column, before - 0.05, "%s is smaller on larger paper", path);
			before = chart->column;
			for (guint k = 0; k < chart->placed->len; k++) {
				tb_spot top = g_array_index(chart->placed, tb_placed, k).top;
				cr_assert(top.x > 0 && top.x < chart->width && top.y > 0 && top.y < chart->height);
			}
		}
		tb_case_finish(&c);
	}
}

Test(chart, says_how_many_sheets_it_takes_where_it_has_no_room)
{
	tb_case c = tb_case_rows("", "Ch 121.", "Row 1: Sc in 2nd ch from hook and in each ch across.");
	tb_chart_options options = {.full = true, .paper_width_mm = 210, .paper_height_mm = 297};
	cr_expect_null(tb_case_chart(&c, &options));
	g_autofree char *faults = tb_case_faults(&c);
	/* 120 sts of 4 mm are 480 mm, and numbers and margins beside: three times 210 mm, one sheet high. */
	cr_expect_not_null(strstr(faults, "at 4 mm a stitch it takes 3 × 1 sheets"), "%s", faults);
	tb_case_finish(&c);
}
