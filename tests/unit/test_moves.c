/* Moves on the hook: what is read, what is refused, and how the loops are counted. */
#include "stitches/moves.h"

#include <criterion/criterion.h>

Test(moves, reads_the_words_of_the_trade)
{
	size_t bad;
	tb_moves *moves = tb_moves_read("yo, insert, draw up, through 2,  through 2", &bad);
	cr_assert_not_null(moves);
	cr_expect_eq(moves->count, 5);
	cr_expect_eq(moves->moves[0].kind, TB_MOVE_YARN_OVER);
	cr_expect_eq(moves->moves[1].kind, TB_MOVE_INSERT);
	cr_expect_eq(moves->moves[3].kind, TB_MOVE_THROUGH);
	cr_expect_eq(moves->moves[3].through, 2);
	tb_moves_destroy(moves);
}

Test(moves, says_where_the_hook_goes_in)
{
	size_t bad;
	tb_moves *moves =
		tb_moves_read("insert, insert next, insert around post, pull through 1, insert in bar", &bad);
	cr_assert_not_null(moves);
	cr_expect_eq(moves->moves[0].kind, TB_MOVE_INSERT);
	cr_expect_eq(moves->moves[1].kind, TB_MOVE_INSERT_NEXT);
	cr_expect_eq(moves->moves[2].kind, TB_MOVE_INSERT_POST);
	cr_expect_eq(moves->moves[3].kind, TB_MOVE_PULL_THROUGH);
	cr_expect_eq(moves->moves[4].kind, TB_MOVE_INSERT_BAR);
	tb_moves_destroy(moves);
}

Test(moves, points_at_what_is_not_understood)
{
	static const struct {
		const char *text;
		size_t bad;
	} cases[] = {{"", 0}, {"yo, drw up", 4}, {"yo,", 3}, {"through", 0}, {"through 0", 0},
		{"yo, through two", 4}, {"insert sideways", 0}, {"through 999999999999", 0}};
	for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
		size_t bad = 99;
		cr_expect_null(tb_moves_read(cases[i].text, &bad), "%s", cases[i].text);
		cr_expect_eq(bad, cases[i].bad, "%s: %zu", cases[i].text, bad);
	}
}

Test(moves, a_list_without_end_is_refused)
{
	g_autoptr(GString) text = g_string_new("yo");
	for (int i = 0; i < 10000; i++)
		g_string_append(text, ", yo");
	size_t bad;
	cr_expect_null(tb_moves_read(text->str, &bad));
}

Test(moves, loops_are_counted_move_by_move)
{
	size_t bad;
	unsigned loops[5], most, left, fault;
	tb_moves *moves = tb_moves_read("yo, insert, draw up, through 2, through 2", &bad);
	cr_assert(tb_moves_simulate(moves, loops, &most, &left, &fault));
	static const unsigned expected[] = {2, 2, 3, 2, 1};
	cr_expect_arr_eq(loops, expected, sizeof(expected));
	cr_expect_eq(most, 3);
	cr_expect_eq(left, 1);
	tb_moves_destroy(moves);
}

Test(moves, no_more_loops_are_drawn_through_than_are_there)
{
	size_t bad;
	unsigned most, left, fault = 99;
	tb_moves *moves = tb_moves_read("insert, draw up, through 3", &bad);
	cr_expect_not(tb_moves_simulate(moves, NULL, &most, &left, &fault));
	cr_expect_eq(fault, 2);
	cr_expect_eq(left, 2);
	tb_moves_destroy(moves);
	/* pulling the last loop through one other needs two */
	moves = tb_moves_read("pull through 1", &bad);
	cr_expect_not(tb_moves_simulate(moves, NULL, &most, &left, &fault));
	cr_expect_eq(fault, 0);
	tb_moves_destroy(moves);
}
