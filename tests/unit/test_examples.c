/* Every example, laid out: symbols keep apart, feet find their bases, nothing leaves the page. */
#include "charting.h"

#include <criterion/criterion.h>
#include <math.h>

/* Two tops of one row are never nearer than this part of a column; chains in a bow than that. */
#define NEAREST 0.55
#define NEAREST_CHAINS 0.33

static void check_apart(const tb_chart *chart, const char *name)
{
	for (guint r = 0; r < chart->rows->len; r++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, r);
		for (guint32 i = row->first; i + 1 < row->first + row->count; i++) {
			const tb_placed *a = &g_array_index(chart->placed, tb_placed, i), *b = a + 1;
			const tb_made *made = &chart->fabric->made[b->made];
			/* Slip stitches that travel and picots stand on other stitches. */
			if (!((made->flags | chart->fabric->made[a->made].flags) & TB_MADE_COUNTED) ||
				!(made->flags & (TB_MADE_COUNTED | TB_MADE_CHAIN)) ||
				!(chart->fabric->made[a->made].flags & (TB_MADE_COUNTED | TB_MADE_CHAIN)))
				continue;
			bool chain = (made->flags | chart->fabric->made[a->made].flags) & TB_MADE_CHAIN;
			double way = hypot(a->top.x - b->top.x, a->top.y - b->top.y) / chart->column;
			cr_expect_geq(way, chain ? NEAREST_CHAINS : NEAREST,
				"%s: row %u: the stitches %u and %u are %.2f columns apart", name,
				chart->fabric->rows[row->row].number, a->index, b->index, way);
		}
	}
}

static void check_on_page(const tb_chart *chart, const char *name)
{
	for (guint i = 0; i < chart->placed->len; i++) {
		const tb_placed *p = &g_array_index(chart->placed, tb_placed, i);
		cr_expect(isfinite(p->top.x) && isfinite(p->top.y) && isfinite(p->angle), "%s", name);
		cr_expect(p->top.x > 0 && p->top.x < chart->width, "%s: off the page", name);
		cr_expect(p->top.y > 0 && p->top.y < chart->height, "%s: off the page", name);
	}
	for (guint i = 0; i < chart->labels->len; i++) {
		const tb_label *label = &g_array_index(chart->labels, tb_label, i);
		cr_expect(label->y > 0 && label->y < chart->height, "%s: '%s' is off the page", name,
			label->text);
	}
}

Test(examples, symbols_keep_apart_and_on_the_page, .timeout = 60)
{
	g_autofree char *folder = g_build_filename(TB_SOURCE_ROOT, "examples", NULL);
	g_autoptr(GDir) files = g_dir_open(folder, 0, NULL);
	cr_assert_not_null(files);
	const char *name;
	unsigned count = 0;
	while ((name = g_dir_read_name(files)) != NULL) {
		if (!g_str_has_suffix(name, ".json") && !g_str_has_suffix(name, ".txt"))
			continue;
		g_autofree char *path = g_build_filename("examples", name, NULL);
		tb_case c = tb_case_file(path);
		g_autofree char *faults = tb_case_faults(&c);
		cr_assert_str_empty(faults, "%s", faults);
		tb_chart_options options = {0};
		tb_chart *chart = tb_case_chart(&c, &options);
		cr_assert_not_null(chart, "%s", name);
		check_apart(chart, name);
		check_on_page(chart, name);
		tb_chart_destroy(chart);
		tb_case_finish(&c);
		count++;
	}
	cr_assert_geq(count, 14);
}

/* Rows of plain texture stand in exact columns: the same x in every row (see test_chart too). */
Test(examples, a_grid_is_exact)
{
	tb_case c = tb_case_file("examples/basket-throw.json");
	tb_chart_options options = {0};
	tb_chart *chart = tb_case_chart(&c, &options);
	for (guint i = 0; i < chart->placed->len; i++) {
		const tb_placed *p = &g_array_index(chart->placed, tb_placed, i);
		double column = (chart->right - p->top.x) / chart->column - 0.5;
		if (p->index > 0)
			cr_assert_float_eq(column, p->index - 1, 1e-9);
	}
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}
