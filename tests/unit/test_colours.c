/* Which colour stitches are worked in, and that a chart shows it without colour. */
#include "charting.h"
#include "support.h"

#include "fabric/fabric.h"

#include <criterion/criterion.h>
#include <math.h>

static char *colours_of(const tb_case *c, unsigned row)
{
	const tb_fabric *fabric = tb_worked_fabric(c->worked, 0, 0);
	return tb_fabric_row_colours(fabric, &fabric->rows[row]);
}

/* What stands behind the first row of a band in cream, and the colours of its second row. */
typedef struct {
	const char *said, *colours;
} wording;

static void check_band(const wording *w, const char *behind)
{
	g_autofree char *text = g_strdup_printf("Title: Band\n\nBAND\nWith cream, ch 9.\n"
		"Row 1: Sc in 2nd ch from hook and in each ch across, turn.\n%s\n%s", w->said, behind);
	tb_case c = tb_case_read("band.txt", text);
	g_autofree char *faults = tb_case_faults(&c);
	cr_assert_not_null(c.worked, "%s", faults);
	g_autofree char *before = colours_of(&c, 1), *said = colours_of(&c, 2);
	cr_expect_str_eq(before, "cream", "%s: %s", w->said, before);
	cr_expect_str_eq(said != NULL ? said : "", w->colours, "%s: %s", w->said, said);
	tb_case_finish(&c);
}

/* A yarn's name is what its designer calls it: one that no list has is a colour all the same, and not the one before. */
Test(colours, a_name_that_nobody_knows_is_its_yarns)
{
	static const wording rows[] = {
		{"Row 2: With moss, ch 1, sc in each st across, turn.", "moss"},
		{"Row 2: Using sea glass, ch 1, sc in each st across, turn.", "sea glass"},
		{"Row 2: Ch 1, with cream sc in next 4 sts, with heather sc in next 4 sts, turn.", "cream, heather"},
		{"Row 2: Ch 1, sc in next 4 sts, changing to moss, sc in next 4 sts, turn.", "cream, moss"},
		/* what is no yarn changes none */
		{"Row 2: With RS facing, ch 1, sc in each st across, turn.", "cream"},
		{"Row 2: With smaller hook, ch 1, sc in each st across, turn.", "cream"},
	};
	for (gsize i = 0; i < G_N_ELEMENTS(rows); i++)
		check_band(&rows[i], "");
}

/* A yarn that is taken between two rows is that of the row which comes; what only speaks of a colour takes none. */
Test(colours, what_stands_between_rows_is_said_of_the_next)
{
	static const wording lines[] = {
		{"Change to moss.", "moss"},
		{"Switch to the blue yarn", "blue"},
		{"Now use navy.", "navy"},
		{"Continue in B.", "B"},
		{"Drop cream, pick up teal.", "teal"},
		{"Attach coral.", "coral"},
		{"Join plum.\nWith RS facing, join yarn in first st.", "plum"},
		{"Your work lies flat now.", "cream"},
		{"The cream edge will curl.", "cream"},
		{"Sew on the black eyes.", "cream"},
		{"Do not cut cream.", "cream"},
		/* which, nobody knows */
		{"Change colour.", ""},
		{"Change to blue 15.", ""},
	};
	for (gsize i = 0; i < G_N_ELEMENTS(lines); i++)
		check_band(&lines[i], "Row 2: Ch 1, sc in each st across.\n");
}

/* Whether the place is inside the areas of PATH, by how often a line from it to the right meets their edges. */
static bool is_inside(const tb_path *path, double x, double y)
{
	bool inside = false;
	guint p = 0, begin = 0;
	for (guint i = 0; i < path->ops->len; i++) {
		tb_path_op op = (tb_path_op)g_array_index(path->ops, guint8, i);
		const tb_point *points = (const tb_point *)(void *)path->points->data;
		if (op == TB_PATH_MOVE) {
			begin = p++;
			continue;
		}
		tb_point a = points[p - 1], b = op == TB_PATH_CLOSE ? points[begin] : points[p++];
		if ((a.y > y) != (b.y > y) && x < a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y))
			inside = !inside;
	}
	return inside;
}

/* In each hand, as rows and as rounds: what is not of the main colour stands on a shaded cell, and nothing else does. */
Test(colours, cells_are_shaded_where_another_colour_is_worked)
{
	static const char *const pieces[] = {
		"With cream, ch 13.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 1, *with cream sc in next 2 sts, with moss sc in next st; rep from * across, turn.\n"
		"Row 3: With cream, ch 3 (counts as dc), sk first st, dc in next 3 sts, with moss dc in next 8 sts.\n",
		"With cream, ch 4, join with sl st to form a ring.\n"
		"Rnd 1: With moss, ch 3 (counts as dc), 11 dc in ring, join with sl st in top of ch-3.\n"
		"Rnd 2: With cream, ch 3 (counts as dc), dc in same st, 2 dc in each st around, join with sl st in top of ch-3.\n",
	};
	for (gsize i = 0; i < G_N_ELEMENTS(pieces); i++) {
		g_autofree char *text = g_strdup_printf("Title: Band\n\nBAND\n%s", pieces[i]);
		for (int left = 0; left < 2; left++) {
			tb_case c = tb_case_read("band.txt", text);
			tb_chart_options options = {.full = true, .left_handed = left == 1};
			g_autoptr(tb_chart) chart = tb_case_chart(&c, &options);
			g_autofree char *faults = tb_case_faults(&c);
			cr_assert_not_null(chart, "%s", faults);
			cr_assert_eq(chart->colours->len, 2);
			cr_expect_str_eq(chart->colours->pdata[0], "cream");
			cr_expect_eq(chart->swatches->len, 2);
			tb_drawing *drawing = tb_chart_draw(chart);
			unsigned shaded = 0;
			for (guint k = 0; k < chart->placed->len; k++) {
				const tb_placed *p = &g_array_index(chart->placed, tb_placed, k);
				const tb_made *made = &chart->fabric->made[p->made];
				if (made->row == 0 || !(made->flags & TB_MADE_COUNTED))
					continue;
				double down = 0.45 * p->height;
				tb_spot at = {p->top.x - down * sin(p->angle), p->top.y + down * cos(p->angle)};
				bool inside = false;
				for (guint m = 0; m < drawing->marks->len; m++) {
					const tb_mark *mark = &g_array_index(drawing->marks, tb_mark, m);
					if (mark->kind != TB_MARK_SHAPE || mark->ink != TB_INK_SHADE)
						continue;
					const tb_shape *shape = drawing->shapes->pdata[mark->shape];
					inside = inside || is_inside(g_array_index(shape->strokes, tb_stroke, 0).path, at.x, at.y);
				}
				bool moss = g_strcmp0(tb_fabric_colour(chart->fabric, p->made), "moss") == 0;
				cr_expect_eq(inside, moss, "row %u, stitch %u", made->row, k);
				shaded += inside;
			}
			cr_expect_eq(shaded, 12, "%u", shaded);
			tb_drawing_destroy(drawing);
			tb_case_finish(&c);
		}
	}
}

/* A chart on a page with a key of its own has no swatches: how each colour's cells look is said. */
Test(colours, a_bare_chart_says_how_each_colour_looks)
{
	tb_case c = tb_case_read("band.txt", "Title: Band\n\nBAND\nWith cream, ch 9.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn.\n"
		"Row 2: With cream, ch 1, sc in each st across, turn.\nRow 3: With blue, ch 1, sc in each st across.\n");
	tb_chart_options options = {.bare = true};
	g_autoptr(tb_chart) chart = tb_case_chart(&c, &options);
	cr_assert_not_null(chart);
	g_autofree char *rule = tb_test_rule(chart);
	cr_expect_eq(chart->swatches->len, 0);
	cr_expect_not_null(strstr(rule, "cream is worked on plain cells, blue is worked on toned cells."), "%s", rule);
	tb_case_finish(&c);
}

/* What is worked in a colour that nobody knows is not shown as of the main one: the words are asked. */
Test(colours, nothing_is_shaded_where_a_colour_is_not_known)
{
	tb_case c = tb_case_read("band.txt", "Title: Band\n\nBAND\nWith cream, ch 9.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn.\n"
		"Row 2: With blue, ch 1, sc in each st across, turn.\nRow 3: Ch 1, sc in each st across, alternating colours.\n");
	tb_chart_options options = {0};
	g_autoptr(tb_chart) chart = tb_case_chart(&c, &options);
	cr_assert_not_null(chart);
	g_autofree char *rule = tb_test_rule(chart);
	cr_expect_eq(chart->colours->len, 0);
	cr_expect_eq(chart->swatches->len, 0);
	cr_expect_not_null(strstr(rule, "in which colour, the words say"), "%s", rule);
	tb_case_finish(&c);
}
