/* A stitch's moves, one by one, as a learner counts them: what to do, and the loops it leaves. */
#include "output/page.h"

#include "stitches/stitch.h"

static const char *where_to_insert(const tb_stitch *stitch, const tb_move *move)
{
	switch (move->kind) {
	case TB_MOVE_INSERT_NEXT:
		return "Insert hook in next stitch";
	case TB_MOVE_INSERT_POST:
		return stitch->post == TB_POST_BACK ?
			"Insert hook around the post, from back to front to back" :
			"Insert hook around the post, from front to back to front";
	case TB_MOVE_INSERT_BELOW:
		return "Insert hook in the stitch rows below";
	case TB_MOVE_INSERT_BACKWARD:
		return "Insert hook in the stitch before, against the way of the row";
	case TB_MOVE_INSERT_BAR:
		return "Insert hook down through the next horizontal bar of the stitch before";
	case TB_MOVE_INSERT_FIRST_CHAIN:
		return "Insert hook in the first of these chains";
	default:
		return stitch->takes > 1 ? "Insert hook in next stitch" : "Insert hook";
	}
}

static char *say_move(const tb_stitch *stitch, const tb_move *move, bool uk)
{
	const char *yarn_over = uk ? "Yarn round hook" : "Yarn over";
	switch (move->kind) {
	case TB_MOVE_YARN_OVER:
		return g_strdup(yarn_over);
	case TB_MOVE_DRAW_UP:
		return g_strdup("Draw up a loop");
	case TB_MOVE_THROUGH:
		return g_strdup_printf("%s, draw through %u %s", yarn_over, move->through,
			move->through == 1 ? "loop" : "loops");
	case TB_MOVE_PULL_THROUGH:
		return g_strdup("Pull it through the loop on the hook");
	case TB_MOVE_CHAIN:
		return g_strdup_printf("Chain %u", move->through);
	case TB_MOVE_CLOSE_FIRST:
		return g_strdup("Take the loop off, insert hook in the first of these stitches, draw the "
			"loop through");
	default:
		return g_strdup(where_to_insert(stitch, move));
	}
}

void tb_page_put_moves(GString *out, const tb_stitch *stitch, bool uk)
{
	unsigned most, left, fault;
	const tb_moves *moves = stitch->moves;
	g_string_append_c(out, '[');
	if (moves != NULL) {
		g_autofree unsigned *loops = g_new0(unsigned, moves->count + 1);
		tb_moves_simulate(moves, loops, &most, &left, &fault);
		for (unsigned i = 0; i < moves->count; i++) {
			g_autofree char *said = say_move(stitch, &moves->moves[i], uk);
			g_string_append(out, i > 0 ? ",[" : "[");
			tb_page_put_json(out, said);
			g_string_append_printf(out, ",%u]", loops[i]);
		}
	}
	g_string_append_c(out, ']');
}
