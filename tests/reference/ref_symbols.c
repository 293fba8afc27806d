/*
 * Symbols against the structure the trade reads (trade-tables 1g; [CYC], JIS L 0201 from memory):
 * what must be there in each family, whatever the hand. What is not marked is common practice.
 */
#include "drawing/glyph.h"

#include <criterion/criterion.h>
#include <math.h>

static GArray *build(const tb_stitch *stitch)
{
	static tb_point at[8];
	double height = fmax(stitch->height, 1) * 4;
	unsigned feet = MAX(stitch->takes, 1);
	for (unsigned i = 0; i < feet; i++)
		at[i] = (tb_point){
			(i - (feet - 1) / 2.0) * 8, stitch->post != TB_POST_NONE ? height + 5 : height};
	tb_glyph_place place = {.stitch = stitch,
		.column = 8,
		.chain = 4,
		.pen = 0.44,
		.height = height,
		.base_top = height,
		.feet = at,
		.foot_count = feet};
	return tb_glyph_build(&place);
}

static unsigned count(const GArray *parts, tb_part_kind kind)
{
	unsigned n = 0;
	for (guint i = 0; i < parts->len; i++)
		n += g_array_index(parts, tb_part, i).kind == kind;
	return n;
}

static void expect_parts(
	const char *name, unsigned legs, unsigned bars, unsigned heads, unsigned almonds)
{
	g_autoptr(tb_library) library = tb_library_create();
	const tb_stitch *stitch = tb_library_find(library, name);
	cr_assert_not_null(stitch, "%s", name);
	g_autoptr(GArray) parts = build(stitch);
	cr_expect_eq(count(parts, TB_PART_LEG), legs, "%s: %u legs", name, count(parts, TB_PART_LEG));
	cr_expect_eq(count(parts, TB_PART_BAR), bars, "%s: %u bars", name, count(parts, TB_PART_BAR));
	cr_expect_eq(
		count(parts, TB_PART_HEAD), heads, "%s: %u heads", name, count(parts, TB_PART_HEAD));
	cr_expect_eq(
		count(parts, TB_PART_BODY), almonds, "%s: %u almonds", name, count(parts, TB_PART_BODY));
}

/* One bar per yarn over; hdc a T without one; sc a cross (trade-tables 1g, two chart guides). */
Test(symbols, plain_stitches)
{
	expect_parts("ch", 0, 0, 0, 1);
	expect_parts("sl st", 0, 0, 0, 1);
	expect_parts("sc", 1, 0, 1, 0);
	expect_parts("hdc", 1, 0, 1, 0);
	expect_parts("dc", 1, 1, 1, 0);
	expect_parts("tr", 1, 2, 1, 0);
	expect_parts("dtr", 1, 3, 1, 0);
	expect_parts("trtr", 1, 4, 1, 0);
}

/* n together: n legs, their bars kept, one head (trade-tables 1g). */
Test(symbols, worked_together)
{
	for (unsigned n = 2; n <= 5; n++) {
		g_autofree char *sc = g_strdup_printf("sc%utog", n), *hdc = g_strdup_printf("hdc%utog", n);
		g_autofree char *dc = g_strdup_printf("dc%utog", n), *tr = g_strdup_printf("tr%utog", n);
		expect_parts(sc, n, 0, 1, 0);
		expect_parts(hdc, n, 0, 1, 0);
		expect_parts(dc, n, n, 1, 0);
		expect_parts(tr, n, 2 * n, 1, 0);
	}
}

/*
 * Clusters and bobbles: legs with bars under one head; puffs: without bars (trade-tables 1g). Three legs or more stand
 * so near that their bars are one belt around them all, a belt a yarn over.
 */
Test(symbols, clusters_and_puffs)
{
	for (unsigned n = 3; n <= 5; n++) {
		g_autofree char *cluster = g_strdup_printf("%u-dc cl", n);
		g_autofree char *bobble = g_strdup_printf("%u-dc bobble", n);
		g_autofree char *puff = g_strdup_printf("%u-hdc puff", n);
		expect_parts(cluster, n, 1, 1, 0);
		expect_parts(bobble, n, 1, 1, 0);
		expect_parts(puff, n, 0, 1, 0);
	}
	expect_parts("3-tr cl", 3, 2, 1, 0);
	expect_parts("FPdc3tog", 3, 1, 1, 0);
	expect_parts("BPtr2tog", 2, 4, 1, 0);
}

/* Popcorn: n legs with their bars, heads side by side, closed by a small oval across the top, where
 * a bobble has none (trade-tables 1g, a chart guide). */
Test(symbols, popcorns)
{
	g_autoptr(tb_library) library = tb_library_create();
	for (unsigned n = 3; n <= 5; n++) {
		g_autofree char *dc = g_strdup_printf("%u-dc popcorn", n);
		g_autofree char *tr = g_strdup_printf("%u-tr popcorn", n);
		expect_parts(dc, n, 1, 0, 1);
		expect_parts(tr, n, 2, 0, 1);
		g_autoptr(GArray) parts = build(tb_library_find(library, dc));
		double before = -INFINITY, left = 0, right = 0, top, bottom;
		for (guint i = 0; i < parts->len; i++) {
			const tb_part *part = &g_array_index(parts, tb_part, i);
			if (part->kind == TB_PART_BODY)
				tb_path_bounds(part->path, &left, &top, &right, &bottom);
		}
		for (guint i = 0; i < parts->len; i++) {
			const tb_part *part = &g_array_index(parts, tb_part, i);
			if (part->kind != TB_PART_LEG)
				continue;
			tb_point head = g_array_index(part->path->points, tb_point, 0);
			tb_point foot = g_array_index(part->path->points, tb_point, 3);
			cr_expect_gt(head.x, before + 0.3, "%s: heads stand side by side", dc);
			cr_expect(head.x > left && head.x < right, "%s: the oval closes them all", dc);
			cr_expect_lt(fabs(foot.x), 0.08 * 8, "%s: one foot", dc);
			before = head.x;
		}
	}
}

/* Picot: a ring of as many chain ovals as there are chains, closed by a dot (trade-tables 1g). */
Test(symbols, picots)
{
	g_autoptr(tb_library) library = tb_library_create();
	for (unsigned n = 3; n <= 5; n++) {
		g_autofree char *name = g_strdup_printf("ch-%u picot", n);
		g_autoptr(GArray) parts = build(tb_library_find(library, name));
		unsigned open = 0, solid = 0;
		for (guint i = 0; i < parts->len; i++) {
			const tb_part *part = &g_array_index(parts, tb_part, i);
			open += part->kind == TB_PART_BODY && !part->filled;
			solid += part->kind == TB_PART_BODY && part->filled;
		}
		cr_expect_eq(open, n, "%s", name);
		cr_expect_eq(solid, 1, "%s", name);
	}
	expect_parts("picot-sc", 1, 0, 1, 3);
}

/* Reverse sc: a cross with a curved line over it (trade-tables 1g). */
Test(symbols, reverse_sc)
{
	expect_parts("rsc", 1, 0, 2, 0);
}

/* Extended stitches have the loop that is drawn through first; foundation stitches a chain of their
 * own under them. */
Test(symbols, extended_and_foundation)
{
	expect_parts("esc", 1, 0, 1, 1);
	expect_parts("ehdc", 1, 0, 1, 1);
	expect_parts("edc", 1, 1, 1, 1);
	expect_parts("etr", 1, 2, 1, 1);
	expect_parts("fsc", 1, 0, 1, 1);
	expect_parts("fdc", 1, 1, 1, 1);
}

/* Join yarn: an open triangle; fasten off: a filled one. Ring of chain ovals; magic ring a loop
 * (trade-tables 1g; the triangles are common practice of Japanese and European books). */
Test(symbols, marks)
{
	g_autoptr(tb_library) library = tb_library_create();
	g_autoptr(GArray) join = build(tb_library_find_mark(library, "join yarn"));
	g_autoptr(GArray) cut = build(tb_library_find_mark(library, "fasten off"));
	g_autoptr(GArray) chains = build(tb_library_find_mark(library, "chain ring"));
	g_autoptr(GArray) magic = build(tb_library_find_mark(library, "magic ring"));
	cr_assert_eq(join->len, 1);
	cr_assert_eq(cut->len, 1);
	cr_expect_not(g_array_index(join, tb_part, 0).filled);
	cr_expect(g_array_index(cut, tb_part, 0).filled);
	cr_expect_eq(g_array_index(join, tb_part, 0).path->points->len, 3);
	cr_expect_eq(g_array_index(cut, tb_part, 0).path->points->len, 3);
	cr_expect_eq(count(chains, TB_PART_BODY), 6);
	cr_expect_eq(magic->len, 1);
}

/* US and UK terms of the rarer stitches [CYC, from memory; trade-tables 1a and 1c]. */
Test(symbols, terms)
{
	static const char *const terms[][2] = {{"trtr", "qtr"}, {"esc", "edc"}, {"ehdc", "ehtr"},
		{"edc", "etr"}, {"fsc", "fdc"}, {"fdc", "ftr"}, {"sc4tog", "dc4tog"}, {"dc5tog", "tr5tog"},
		{"3-dc cl", "3-tr cl"}, {"5-dc popcorn", "5-tr popcorn"}, {"3-hdc puff", "3-htr puff"},
		{"FPtr3tog", "FPdtr3tog"}, {"rsc", "rdc"}};
	static const char *const also[][2] = {{"pc", "5-dc popcorn"}, {"popcorn", "5-dc popcorn"},
		{"puff", "3-hdc puff"}, {"ps", "3-hdc puff"}, {"bo", "5-dc bobble"},
		{"bobble", "5-dc bobble"}, {"picot", "ch-3 picot"}, {"crab stitch", "rsc"},
		{"rev sc", "rsc"}, {"3 dc cluster", "3-dc cl"}, {"spike", "spike sc"}};
	g_autoptr(tb_library) library = tb_library_create();
	for (size_t i = 0; i < G_N_ELEMENTS(terms); i++) {
		const tb_stitch *stitch = tb_library_find(library, terms[i][0]);
		cr_assert_not_null(stitch, "%s", terms[i][0]);
		cr_expect_str_eq(stitch->uk, terms[i][1]);
		cr_expect_eq(tb_library_find_term(library, terms[i][1], true), stitch, "%s", terms[i][1]);
	}
	for (size_t i = 0; i < G_N_ELEMENTS(also); i++) {
		const tb_stitch *stitch = tb_library_find(library, also[i][0]);
		cr_assert_not_null(stitch, "%s", also[i][0]);
		cr_expect_str_eq(stitch->us, also[i][1]);
	}
}
