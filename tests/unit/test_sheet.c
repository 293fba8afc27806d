/* The pattern sheet: nothing is cut or lost, nothing stands where it should not, and all is told. */
#include "support.h"

#include "layout/sheet.h"

#include <criterion/criterion.h>
#include <math.h>
#include <string.h>
#include <tambour/rows.h>

static const char *const EXAMPLES[] = {"lantern-vest.json", "basket-throw.json", "window-square.txt",
	"shell-scarf.txt", "pine-fan.txt", "gull-shawl.txt", "harbour-band.txt"};

static double fixed_width(void *data, const char *text, double size_mm, tb_face face)
{
	return (double)g_utf8_strlen(text, -1) * size_mm * (face != TB_FACE_PLAIN ? 0.65 : 0.58);
}

static const tb_text_measure MEASURE = {fixed_width, NULL};

static tb_pages *make_sheet(tb_case *c, const tb_sheet_options *options)
{
	tb_pages *pages = tb_sheet_create(c->worked, options, &MEASURE, c->diagnostics);
	cr_assert_not_null(pages);
	cr_assert_gt(tb_pages_count(pages), 0);
	return pages;
}

static const tb_leaf *get_page(const tb_pages *pages, guint i)
{
	return g_ptr_array_index(pages->pages, i);
}

static const tb_item *get_item(const tb_leaf *page, guint i)
{
	return &g_array_index(page->items, tb_item, i);
}

/* All labels in their order, with single blanks between them; the running feet left out. */
static char *read_pages(const tb_pages *pages)
{
	GString *text = g_string_new(NULL);
	for (guint p = 0; p < pages->pages->len; p++) {
		const tb_leaf *page = get_page(pages, p);
		for (guint i = 0; i + 2 < page->items->len; i++)
			if (get_item(page, i)->kind == TB_ITEM_LABEL)
				g_string_append_printf(text, "%s%s",
					text->len > 0 && text->str[text->len - 1] != ' ' ? " " : "",
					get_item(page, i)->label.text);
	}
	return g_string_free(text, FALSE);
}

/* What an item covers, along x and y. */
static void find_box(const tb_item *item, double *left, double *right, double *top, double *bottom)
{
	const tb_label *label = &item->label;
	*left = *top = G_MAXDOUBLE;
	*right = *bottom = -G_MAXDOUBLE;
	if (item->kind == TB_ITEM_LABEL) {
		g_autofree char *words = g_strchomp(g_strdup(label->text));
		double width = fixed_width(NULL, words, label->size_mm, label->face);
		*left = label->x - (label->align == TB_ALIGN_RIGHT ? width :
			label->align == TB_ALIGN_CENTRE ? width / 2 : 0);
		*right = *left + width;
		*top = label->y - label->size_mm;
		*bottom = label->y + 0.3 * label->size_mm;
	} else if (item->kind == TB_ITEM_PLATE) {
		*left = item->x;
		*right = item->x + item->width;
		*top = item->y;
		*bottom = item->y + item->height;
	} else if (item->kind == TB_ITEM_LINE) {
		for (guint i = 0; i < item->line->len; i++) {
			const tb_spot *spot = &g_array_index(item->line, tb_spot, i);
			*left = fmin(*left, spot->x);
			*right = fmax(*right, spot->x);
			*top = fmin(*top, spot->y);
			*bottom = fmax(*bottom, spot->y);
		}
	}
}

Test(sheet, nothing_reaches_into_the_margins)
{
	for (size_t e = 0; e < G_N_ELEMENTS(EXAMPLES); e++)
		for (int paper = 0; paper < TB_PAPER_COUNT; paper++)
			for (int large = 0; large < 2; large++) {
				g_autofree char *path = g_strdup_printf("examples/%s", EXAMPLES[e]);
				tb_case c = tb_case_file(path);
				tb_sheet_options options = {.paper = (tb_paper)paper, .large_print = large == 1};
				g_autoptr(tb_pages) pages = make_sheet(&c, &options);
				for (guint p = 0; p < pages->pages->len; p++) {
					const tb_leaf *page = get_page(pages, p);
					for (guint i = 0; i < page->items->len; i++) {
						double left, right, top, bottom;
						find_box(get_item(page, i), &left, &right, &top, &bottom);
						if (right < left)
							continue;
						const char *text = get_item(page, i)->label.text;
						cr_expect_geq(left, 20, "%s, page %u: %s", path, p + 1, text);
						cr_expect_leq(right, page->width - 20, "%s, page %u: %s", path, p + 1, text);
						cr_expect_geq(top, 20, "%s, page %u: %s", path, p + 1, text);
						cr_expect_leq(bottom, page->height - 12, "%s, page %u: %s", path, p + 1, text);
					}
				}
				tb_case_finish(&c);
			}
}

/* A chart, a line of type or a rule stands on no other line of type. */
Test(sheet, no_words_lie_on_each_other)
{
	for (size_t e = 0; e < G_N_ELEMENTS(EXAMPLES); e++) {
		g_autofree char *path = g_strdup_printf("examples/%s", EXAMPLES[e]);
		tb_case c = tb_case_file(path);
		tb_sheet_options options = {0};
		g_autoptr(tb_pages) pages = make_sheet(&c, &options);
		for (guint p = 0; p < pages->pages->len; p++) {
			const tb_leaf *page = get_page(pages, p);
			for (guint i = 0; i < page->items->len; i++)
				for (guint k = i + 1; k < page->items->len; k++) {
					const tb_item *a = get_item(page, i), *b = get_item(page, k);
					double l1, r1, t1, b1, l2, r2, t2, b2;
					if (a->kind != TB_ITEM_LABEL ||
						(b->kind != TB_ITEM_LABEL && b->kind != TB_ITEM_PLATE))
						continue;
					find_box(a, &l1, &r1, &t1, &b1);
					find_box(b, &l2, &r2, &t2, &b2);
					bool apart = r1 <= l2 + 0.01 || r2 <= l1 + 0.01 || b1 <= t2 + 0.01 ||
						b2 <= t1 + 0.01;
					cr_expect(apart, "%s, page %u: '%s' on '%s'", path, p + 1, a->label.text,
						b->label.text != NULL ? b->label.text : "a chart");
				}
		}
		tb_case_finish(&c);
	}
}

Test(sheet, every_row_stands_on_it_in_its_order)
{
	for (size_t e = 0; e < G_N_ELEMENTS(EXAMPLES); e++) {
		g_autofree char *path = g_strdup_printf("examples/%s", EXAMPLES[e]);
		tb_case c = tb_case_file(path);
		tb_sheet_options options = {0};
		g_autoptr(tb_pages) pages = make_sheet(&c, &options);
		g_autofree char *text = read_pages(pages);
		g_autofree char *rows = tb_rows_text(c.worked, 0, -1, false);
		g_auto(GStrv) lines = g_strsplit(rows, "\n", -1);
		const char *from = text;
		for (guint i = 0; lines[i] != NULL; i++) {
			const char *at = strstr(from, lines[i]);
			cr_expect_not_null(at, "%s: '%s'", path, lines[i]);
			from = at != NULL ? at : from;
		}
		tb_case_finish(&c);
	}
}

Test(sheet, a_size_list_is_not_parted)
{
	tb_case c = tb_case_file("examples/lantern-vest.json");
	tb_sheet_options options = {0};
	g_autoptr(tb_pages) pages = make_sheet(&c, &options);
	unsigned lists = 0;
	for (guint p = 0; p < pages->pages->len; p++) {
		const tb_leaf *page = get_page(pages, p);
		for (guint i = 0; i < page->items->len; i++) {
			const char *text = get_item(page, i)->label.text;
			for (const char *at = text; at != NULL && (at = strstr(at, " (")) != NULL; at++) {
				if (!g_ascii_isdigit(at[2]) || !g_ascii_isdigit(at[-1]))
					continue;
				lists++;
				cr_expect_not_null(strchr(at, ')'), "parted: %s", text);
			}
		}
	}
	cr_expect_geq(lists, 8);
	tb_case_finish(&c);
}

/* The first two lines of a heading's section stand with it: no page ends in a heading. */
Test(sheet, no_page_ends_in_a_heading)
{
	for (size_t e = 0; e < G_N_ELEMENTS(EXAMPLES); e++)
		for (int paper = 0; paper < TB_PAPER_COUNT; paper++) {
			g_autofree char *path = g_strdup_printf("examples/%s", EXAMPLES[e]);
			tb_case c = tb_case_file(path);
			tb_sheet_options options = {.paper = (tb_paper)paper};
			g_autoptr(tb_pages) pages = make_sheet(&c, &options);
			for (guint p = 0; p < pages->pages->len; p++) {
				const tb_leaf *page = get_page(pages, p);
				bool heading = false;
				for (guint i = 0; i + 2 < page->items->len; i++) {
					const tb_item *item = get_item(page, i);
					if (item->kind == TB_ITEM_TAG)
						heading = item->role[0] == 'H';
					else if (item->kind == TB_ITEM_PLATE)
						heading = false;
				}
				cr_expect_not(heading, "%s, page %u", path, p + 1);
			}
			tb_case_finish(&c);
		}
}

Test(sheet, the_structure_is_whole_on_every_page_and_links_lead_somewhere)
{
	for (size_t e = 0; e < G_N_ELEMENTS(EXAMPLES); e++) {
		g_autofree char *path = g_strdup_printf("examples/%s", EXAMPLES[e]);
		tb_case c = tb_case_file(path);
		tb_sheet_options options = {.large_print = true};
		g_autoptr(tb_pages) pages = make_sheet(&c, &options);
		g_autoptr(GHashTable) dests = g_hash_table_new(g_str_hash, g_str_equal);
		g_autoptr(GPtrArray) links = g_ptr_array_new();
		for (guint p = 0; p < pages->pages->len; p++) {
			int open = 0;
			const tb_leaf *page = get_page(pages, p);
			for (guint i = 0; i < page->items->len; i++) {
				const tb_item *item = get_item(page, i);
				open += item->kind == TB_ITEM_TAG;
				open -= item->kind == TB_ITEM_UNTAG;
				cr_expect_geq(open, 0);
				if (item->kind != TB_ITEM_TAG || item->target == NULL)
					continue;
				if (strcmp(item->role, "Dest") == 0)
					cr_expect(g_hash_table_add(dests, item->target), "%s twice", item->target);
				else
					g_ptr_array_add(links, item->target);
			}
			cr_expect_eq(open, 0, "%s, page %u", path, p + 1);
		}
		cr_expect_gt(links->len, 1);
		for (guint i = 0; i < links->len; i++)
			cr_expect(g_hash_table_contains(dests, g_ptr_array_index(links, i)), "%s leads nowhere",
				(char *)g_ptr_array_index(links, i));
		tb_case_finish(&c);
	}
}

Test(sheet, all_stitches_are_told_in_both_terms)
{
	tb_case c = tb_case_file("examples/lantern-vest.json");
	tb_sheet_options options = {0};
	g_autoptr(tb_pages) pages = make_sheet(&c, &options);
	g_autofree char *text = read_pages(pages);
	static const char *const TOLD[] = {"dc double crochet tr treble",
		"sc single crochet dc double crochet", "FPdc2tog front post double", "FPtr2tog front post",
		"sk skip miss miss", "RS right side", "st(s) stitch(es)", "rep repeat",
		"FPdc2tog (front post double crochet 2 together):", "by Ona Fell", "XS (S, M, L, XL, 2X, 3X)",
		"MIT, as the program it comes with."};
	for (size_t i = 0; i < G_N_ELEMENTS(TOLD); i++)
		cr_expect_not_null(strstr(text, TOLD[i]), "'%s'", TOLD[i]);
	/* Not used, so not told. */
	cr_expect_null(strstr(text, "hdc"));
	cr_expect_null(strstr(text, "rnd"));
	tb_case_finish(&c);
}

Test(sheet, one_size_has_its_own_numbers_alone)
{
	tb_case c = tb_case_file("examples/lantern-vest.json");
	tb_sheet_options options = {.size = 1 + tb_pattern_find_size(c.pattern, "M")};
	g_autoptr(tb_pages) pages = make_sheet(&c, &options);
	g_autofree char *text = read_pages(pages);
	cr_expect_not_null(strstr(text, "Ch 65."));
	cr_expect_null(strstr(text, "51 (55"));
	/* 63 sts at 13 to 10 cm: 48.46 cm (arithmetic). */
	cr_expect_not_null(strstr(text, "48.5"));
	cr_expect_null(strstr(text, "39.2"));
	tb_case_finish(&c);
}

/* The legible minimum: symbols 4 mm, strokes 0.25 mm, type 8 pt; in large print 18 pt. */
Test(sheet, nothing_is_too_small_to_read)
{
	for (size_t e = 0; e < G_N_ELEMENTS(EXAMPLES); e++)
		for (int large = 0; large < 2; large++) {
			g_autofree char *path = g_strdup_printf("examples/%s", EXAMPLES[e]);
			tb_case c = tb_case_file(path);
			tb_sheet_options options = {.large_print = large == 1};
			g_autoptr(tb_pages) pages = make_sheet(&c, &options);
			double least = (large ? 18 : 8) * 25.4 / 72 - 0.001;
			for (guint p = 0; p < pages->pages->len; p++)
				for (guint i = 0; i < get_page(pages, p)->items->len; i++) {
					const tb_item *item = get_item(get_page(pages, p), i);
					if (item->kind == TB_ITEM_LABEL)
						cr_expect_geq(item->label.size_mm, least, "%s: %s", path, item->label.text);
				}
			for (guint i = 0; i < pages->charts->len; i++) {
				const tb_chart *chart = g_ptr_array_index(pages->charts, i);
				cr_expect_geq(chart->column, large ? 8 : 4);
				/* 1 pt of stroke in large print (common practice). */
				cr_expect_geq(chart->pen, large ? 25.4 / 72 : 0.25);
				for (guint k = 0; k < chart->labels->len && !tb_chart_is(chart, TB_LAY_DISC); k++)
					cr_expect_geq(g_array_index(chart->labels, tb_label, k).size_mm, least);
			}
			tb_case_finish(&c);
		}
}

Test(sheet, a_chart_that_is_too_wide_goes_on_and_all_of_it_is_shown)
{
	g_autoptr(GString) row = g_string_new("Row 1 (RS): Dc in 4th ch from hook and in each ch across, "
		"turn. [121 sts]\nRow 2 (RS): Ch 3 (counts as dc), sk first st");
	/* Gaps that grow, so that nothing repeats. */
	for (int i = 1; i < 15; i++)
		g_string_append_printf(row, ", dc in next %d sts, sc in next st", i);
	g_string_append(row, ", dc in next st.");
	tb_case c = tb_case_rows("", "Ch 123.", row->str);
	tb_sheet_options options = {0};
	g_autofree char *faults = tb_case_faults(&c);
	cr_assert_eq(tb_diagnostics_count_errors(c.diagnostics), 0, "%s", faults);
	g_autoptr(tb_pages) pages = make_sheet(&c, &options);
	const tb_chart *chart = g_ptr_array_index(pages->charts, 0);
	g_autoptr(GArray) windows = g_array_new(FALSE, FALSE, sizeof(tb_item));
	for (guint p = 0; p < pages->pages->len; p++)
		for (guint i = 0; i < get_page(pages, p)->items->len; i++)
			if (get_item(get_page(pages, p), i)->kind == TB_ITEM_PLATE)
				g_array_append_val(windows, *get_item(get_page(pages, p), i));
	cr_assert_gt(windows->len, 1);
	for (guint i = 0; i < chart->placed->len; i++) {
		tb_spot top = g_array_index(chart->placed, tb_placed, i).top;
		unsigned shown = 0;
		for (guint k = 0; k < windows->len; k++) {
			const tb_item *w = &g_array_index(windows, tb_item, k);
			shown += top.x >= w->left && top.x <= w->left + w->width && top.y >= w->top &&
				top.y <= w->top + w->height;
		}
		cr_expect_geq(shown, 1, "stitch %u is on no page", i);
	}
	/* Neighbours share something: at least two columns. */
	const tb_item *first = &g_array_index(windows, tb_item, 0);
	const tb_item *second = &g_array_index(windows, tb_item, 1);
	cr_expect_geq(first->left + first->width - second->left, 2 * chart->column - 0.01);
	tb_case_finish(&c);
}

/* Outline to scale: 87 sts at 13 to 10 cm are 669 mm wide (arithmetic). */
Test(sheet, a_schematic_has_the_fabrics_own_shape)
{
	tb_case c = tb_case_file("examples/lantern-vest.json");
	tb_shape_outline outline;
	cr_assert(tb_shape_outline_make(c.worked, 0, 6, false, &MEASURE, &outline));
	cr_expect_float_eq(outline.width, 87 * 100.0 / 13, 0.01);
	cr_expect_float_eq(outline.height, tb_worked_fabric(c.worked, 0, 6)->length_mm, 0.01);
	/* A plain piece is a rectangle. */
	cr_expect_eq(outline.line->len, 4);
	tb_shape_outline_finish(&outline);
	tb_case_finish(&c);
}

Test(sheet, a_piece_that_grows_at_both_edges_is_wider_above)
{
	tb_case c = tb_case_rows("", "Ch 12.",
		"Row 1 (RS): Dc in 4th ch from hook and in each ch across, turn. [10 sts]\n"
		"Row 2 (WS): Ch 3 (counts as dc), dc in first st, dc in next 8 sts, 2 dc in last st, turn. "
		"[12 sts]\n"
		"Row 3 (RS): Ch 3 (counts as dc), dc in first st, dc in next 10 sts, 2 dc in last st. "
		"[14 sts]");
	tb_shape_outline outline;
	cr_assert(tb_shape_outline_make(c.worked, 0, 0, false, &MEASURE, &outline));
	/* 12 sts to 10 cm; 14 at the top, 10 at the bottom, which stands in the middle. */
	double column = 100.0 / 12;
	cr_expect_float_eq(outline.width, 14 * column, 0.01);
	cr_expect_float_eq(outline.top_width, 14 * column, 0.01);
	double left = G_MAXDOUBLE, right = 0;
	for (guint i = 0; i < outline.line->len; i++) {
		const tb_spot *p = &g_array_index(outline.line, tb_spot, i);
		if (p->y < outline.height - 0.01)
			continue;
		left = fmin(left, p->x);
		right = fmax(right, p->x);
	}
	cr_expect_float_eq(right - left, 10 * column, 0.01);
	cr_expect_float_eq((left + right) / 2, outline.width / 2, 0.6 * column);
	tb_shape_outline_finish(&outline);
	tb_case_finish(&c);
}

Test(sheet, a_schematics_scale_is_the_largest_that_has_room)
{
	cr_expect_eq(tb_schematic_scale(50, 70), 1);
	cr_expect_eq(tb_schematic_scale(669, 70), 10);
	cr_expect_eq(tb_schematic_scale(701, 70), 12);
	cr_expect_geq(tb_schematic_scale(1e6, 70), 1e6 / 70);
}

Test(sheet, cautions_are_shown_for_small_children_only)
{
	static const char *const YES[] = {"A baby's first hat", "For a newborn", "PRAM blanket",
		"a toddler, or a doll", "Children's mittens", "Cot blanket"};
	static const char *const NO[] = {"Cotton scarf", "A chic hat", "kidney bowl", "cottage lace",
		"Apricot shawl", NULL};
	for (size_t i = 0; i < G_N_ELEMENTS(YES); i++)
		cr_expect(tb_text_is_for_child(YES[i]), "%s", YES[i]);
	for (size_t i = 0; i < G_N_ELEMENTS(NO); i++)
		cr_expect_not(tb_text_is_for_child(NO[i]), "%s", NO[i]);
}

static const char neck_split[] =
	"Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn. [12 sts]\n"
	"Row 2: Ch 1, sc in each sc across, turn. [12 sts]\n"
	"Row 3: Ch 1, sc in first 4 sts, turn, leaving the remaining sts unworked. [4 sts]\n"
	"Row 4: Ch 1, sc in each sc across. Fasten off. [4 sts]\n"
	"With RS facing, skip the center 4 sts and join yarn in next st.\n"
	"Row 5 (RS): Ch 1, sc in same st and in each st across, turn. [4 sts]\n"
	"Row 6: Ch 1, sc in each sc across. Fasten off. [4 sts]";

/* Rows 3-4 and 5-6 stand on row 2 beside each other: 8 corners, four rows high. */
Test(sheet, shoulders_stand_beside_each_other)
{
	tb_case c = tb_case_rows("", "Ch 13.", neck_split);
	g_autofree char *faults = tb_case_faults(&c);
	tb_shape_outline outline;
	cr_assert(tb_shape_outline_make(c.worked, 0, 0, false, &MEASURE, &outline), "%s", faults);
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	cr_expect_eq(outline.line->len, 8, "%u", outline.line->len);
	cr_expect_eq(outline.tops, 2);
	cr_expect_float_eq(outline.width, 12 * fabric->column_mm, 0.01);
	cr_expect_float_eq(outline.top_width, 4 * fabric->column_mm, 0.01);
	cr_expect_float_eq(outline.height, 4 * fabric->rows[1].height_mm, 0.01);
	tb_shape_outline_finish(&outline);
	tb_case_finish(&c);
}

/* 3 slip stitches over the edge of 12 make a step of 3 columns, and nothing sticks out. */
Test(sheet, stitches_slipped_over_make_a_step)
{
	tb_case c = tb_case_rows("", "Ch 13.",
		"Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn. [12 sts]\n"
		"Row 2: Ch 1, sc in each sc across, turn. [12 sts]\n"
		"Row 3: Sl st in first 3 sts, ch 1, sc in next st and in each st across, turn. [9 sts]\n"
		"Row 4: Ch 1, sc in each sc across. [9 sts]");
	tb_shape_outline outline;
	cr_assert(tb_shape_outline_make(c.worked, 0, 0, false, &MEASURE, &outline));
	cr_expect_eq(outline.line->len, 6, "%u", outline.line->len);
	cr_expect_float_eq(outline.width, 12 * tb_worked_fabric(c.worked, 0, 0)->column_mm, 0.01);
	tb_shape_outline_finish(&outline);
	tb_case_finish(&c);
}
