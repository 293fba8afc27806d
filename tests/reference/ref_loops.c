/*
 * Loops on the hook, against the table of the trade: yarn over +1, a loop drawn up +1, drawing
 * through n makes n loops one. What is not marked otherwise is common practice.
 */
#include "stitches/stitch.h"

#include <criterion/criterion.h>

static void expect_loops(const char *name, unsigned most)
{
	g_autoptr(tb_library) library = tb_library_create();
	const tb_stitch *stitch = tb_library_find(library, name);
	cr_assert_not_null(stitch, "%s", name);
	unsigned peak, left;
	tb_stitch_get_loops(stitch, &peak, &left);
	cr_expect_eq(left, 1, "%s ends with %u loops", name, left);
	cr_expect_eq(peak, most, "%s has %u loops at most", name, peak);
}

/* Common practice: ch one loop; sl st and sc two; hdc and dc three; tr four; dtr five. */
Test(loops, plain_stitches)
{
	expect_loops("ch", 1);
	expect_loops("sl st", 2);
	expect_loops("sc", 2);
	expect_loops("hdc", 3);
	expect_loops("dc", 3);
	expect_loops("tr", 4);
	expect_loops("dtr", 5);
}

/* Common practice: around a post as into a top, y yarn overs make y + 2 loops. */
Test(loops, post_stitches)
{
	expect_loops("FPsc", 2);
	expect_loops("BPhdc", 3);
	expect_loops("FPdc", 3);
	expect_loops("BPdc", 3);
	expect_loops("FPtr", 4);
	expect_loops("BPdtr", 5);
}

/*
 * dc2tog: [yo, insert, draw up, yo through 2] twice, 3 on the hook, yo through 3 (common practice);
 * before the second leg's first drawing through there are 4. The rest follow the same algebra: sc n
 * together n + 1, hdc 2n + 1, dc n + 2, tr n + 3 (trade-tables 3c: sc 3 and 4, hdc 5 and 7, dc 4 and
 * 5, tr2tog 5; arithmetic for 4 and 5 together).
 */
Test(loops, stitches_worked_together)
{
	for (unsigned n = 2; n <= 5; n++) {
		static const struct {
			const char *name;
			unsigned each, more;
		} kinds[] = {{"sc", 1, 1}, {"hdc", 2, 1}, {"dc", 1, 2}, {"tr", 1, 3}};
		for (size_t i = 0; i < G_N_ELEMENTS(kinds); i++) {
			g_autofree char *name = g_strdup_printf("%s%utog", kinds[i].name, n);
			expect_loops(name, kinds[i].each * n + kinds[i].more);
		}
	}
}

/* Triple treble: y yarn overs make y + 2 loops (trade-tables 3c: trtr peaks at 6). */
Test(loops, triple_treble)
{
	expect_loops("trtr", 6);
}

/* esc: 1, 2, through 1, through 2 (trade-tables 3c); the chain in between adds no loop. */
Test(loops, extended_and_foundation_stitches)
{
	expect_loops("esc", 2);
	expect_loops("ehdc", 3);
	expect_loops("edc", 3);
	expect_loops("etr", 4);
	expect_loops("fsc", 2);
	expect_loops("fhdc", 3);
	expect_loops("fdc", 3);
}

/* The loops just before the last move, and how many that move draws through. */
static void expect_closing(const char *name, unsigned before, unsigned through)
{
	g_autoptr(tb_library) library = tb_library_create();
	const tb_stitch *stitch = tb_library_find(library, name);
	cr_assert_not_null(stitch, "%s", name);
	unsigned loops[64], most, left, fault;
	cr_assert_leq(stitch->moves->count, G_N_ELEMENTS(loops));
	cr_assert(tb_moves_simulate(stitch->moves, loops, &most, &left, &fault));
	const tb_move *last = &stitch->moves->moves[stitch->moves->count - 1];
	cr_expect_eq(loops[stitch->moves->count - 2], before, "%s has %u before it is closed", name,
		loops[stitch->moves->count - 2]);
	cr_expect_eq(last->kind, TB_MOVE_THROUGH, "%s", name);
	cr_expect_eq(last->through, through, "%s", name);
}

/*
 * A cluster or bobble of n dc from one foot leaves n + 1 loops and draws through n + 1, n + 2 at
 * most (trade-tables 3c); three open trebles are 4 loops [Beeton, raised spot, trade-tables 3c].
 */
Test(loops, clusters_and_bobbles)
{
	for (unsigned n = 2; n <= 5; n++) {
		g_autofree char *cluster = g_strdup_printf("%u-dc cl", n);
		expect_loops(cluster, n + 2);
		expect_closing(cluster, n + 1, n + 1);
	}
	for (unsigned n = 3; n <= 5; n++) {
		g_autofree char *bobble = g_strdup_printf("%u-dc bobble", n);
		expect_loops(bobble, n + 2);
		expect_closing(bobble, n + 1, n + 1);
	}
	expect_loops("3-tr cl", 6);
	expect_closing("3-tr cl", 4, 4);
}

/* A puff of n: 2n + 1 loops, all drawn through at once (trade-tables 3c). */
Test(loops, puffs)
{
	for (unsigned n = 3; n <= 5; n++) {
		g_autofree char *name = g_strdup_printf("%u-hdc puff", n);
		expect_loops(name, 2 * n + 1);
		expect_closing(name, 2 * n + 1, 2 * n + 1);
	}
}

/* A popcorn of n: n complete stitches, then the dropped loop drawn through the first (trade-tables
 * 3c): never more loops than one of its stitches has. */
Test(loops, popcorns)
{
	g_autoptr(tb_library) library = tb_library_create();
	for (unsigned n = 3; n <= 5; n++) {
		for (unsigned tr = 0; tr < 2; tr++) {
			g_autofree char *name = g_strdup_printf("%u-%s popcorn", n, tr ? "tr" : "dc");
			expect_loops(name, tr ? 4 : 3);
			const tb_stitch *stitch = tb_library_find(library, name);
			unsigned loops[64], most, left, fault, complete = 0;
			cr_assert(tb_moves_simulate(stitch->moves, loops, &most, &left, &fault));
			for (unsigned m = 0; m + 1 < stitch->moves->count; m++)
				complete += loops[m] == 1 && stitch->moves->moves[m].kind == TB_MOVE_THROUGH;
			cr_expect_eq(complete, n, "%s", name);
			cr_expect_eq(stitch->moves->moves[stitch->moves->count - 1].kind, TB_MOVE_CLOSE_FIRST);
		}
	}
}

/* Picot: chains closed with a slip stitch, or with sc; rsc and spike are worked as sc (common
 * practice). */
Test(loops, edgings)
{
	expect_loops("ch-3 picot", 2);
	expect_loops("ch-4 picot", 2);
	expect_loops("ch-5 picot", 2);
	expect_loops("picot-sc", 2);
	expect_loops("rsc", 2);
	expect_loops("spike sc", 2);
}

/*
 * Around one post: three loops drawn up are 7, through 6, through 2, as two are 5, through 4,
 * through 2 (common practice for two; arithmetic for three). Trebles are each half closed: n + 1
 * loops are left (trade-tables 3c, reading A).
 */
Test(loops, clusters_of_three_and_of_trebles_around_one_post)
{
	static const char *const posts[] = {"FP", "BP"};
	for (size_t i = 0; i < G_N_ELEMENTS(posts); i++) {
		g_autofree char *dc3 = g_strdup_printf("%sdc3tog", posts[i]);
		expect_loops(dc3, 7);
		expect_closing(dc3, 2, 2);
		for (unsigned n = 2; n <= 3; n++) {
			g_autofree char *tr = g_strdup_printf("%str%utog", posts[i], n);
			expect_loops(tr, n + 3);
			expect_closing(tr, n + 1, n + 1);
		}
	}
}

/* Every stitch of the library ends with one loop on the hook, and never has fewer. */
Test(loops, every_stitch_ends_with_one)
{
	g_autoptr(tb_library) library = tb_library_create();
	for (unsigned i = 0; i < tb_library_count(library); i++) {
		const tb_stitch *stitch = tb_library_get(library, i);
		unsigned loops[200], most, left, fault;
		cr_assert(tb_moves_simulate(stitch->moves, loops, &most, &left, &fault), "%s", stitch->us);
		cr_expect_eq(left, 1, "%s", stitch->us);
		for (unsigned m = 0; m < stitch->moves->count; m++)
			cr_expect_geq(loops[m], 1, "%s", stitch->us);
	}
}

/* Two loops around one post: 5 on the hook, through 4, through the last 2 (common practice). */
Test(loops, cluster_around_one_post)
{
	g_autoptr(tb_library) library = tb_library_create();
	static const char *const names[] = {"FPdc2tog", "BPdc2tog"};
	for (size_t i = 0; i < G_N_ELEMENTS(names); i++) {
		expect_loops(names[i], 5);
		const tb_stitch *stitch = tb_library_find(library, names[i]);
		unsigned loops[16], most, left, fault;
		cr_assert_eq(stitch->moves->count, 8);
		cr_assert(tb_moves_simulate(stitch->moves, loops, &most, &left, &fault));
		static const unsigned expected[] = {2, 2, 3, 4, 4, 5, 2, 1};
		cr_expect_arr_eq(loops, expected, sizeof(expected));
		cr_expect_eq(stitch->takes, 1);
	}
}

/* Six trebles, the last loop of each kept: 7 loops before they are closed [EN, fig. 430]. */
Test(loops, six_trebles_kept)
{
	g_autoptr(GString) text = g_string_new(NULL);
	for (int i = 0; i < 6; i++)
		g_string_append(text, "yo, insert, draw up, through 2, ");
	g_string_append(text, "through 7");
	size_t bad;
	unsigned loops[25], most, left, fault;
	tb_moves *moves = tb_moves_read(text->str, &bad);
	cr_assert_not_null(moves);
	cr_assert(tb_moves_simulate(moves, loops, &most, &left, &fault));
	cr_expect_eq(loops[23], 7);
	cr_expect_eq(left, 1);
	tb_moves_destroy(moves);
}

/* Cluster stitch: three loops drawn up in one stitch, closed together [EN, fig. 426]. */
Test(loops, three_loops_drawn_up)
{
	size_t bad;
	unsigned most, left, fault;
	tb_moves *moves =
		tb_moves_read("insert, draw up, yo, insert, draw up, yo, insert, draw up, through 6", &bad);
	cr_assert_not_null(moves);
	cr_assert(tb_moves_simulate(moves, NULL, &most, &left, &fault));
	cr_expect_eq(most, 6);
	cr_expect_eq(left, 1);
	tb_moves_destroy(moves);
}
