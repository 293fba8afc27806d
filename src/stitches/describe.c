/* A stitch in words, from its moves: what the key and the written pattern say of special stitches. */
#include "stitches/stitch.h"

static bool same_move(const tb_move *a, const tb_move *b)
{
	/* "In the st" and "in the next st" are the same act done again. */
	tb_move_kind x = a->kind == TB_MOVE_INSERT_NEXT ? TB_MOVE_INSERT : a->kind;
	tb_move_kind y = b->kind == TB_MOVE_INSERT_NEXT ? TB_MOVE_INSERT : b->kind;
	return x == y && a->through == b->through;
}

/* How often the LENGTH moves from START are done over, one working after the other. */
static unsigned count_over(const tb_moves *moves, unsigned start, unsigned length)
{
	unsigned times = 1;
	for (;; times++)
		for (unsigned i = 0; i < length; i++) {
			unsigned at = start + times * length + i;
			if (at >= moves->count || !same_move(&moves->moves[start + i], &moves->moves[at]))
				return times;
		}
}

static void append_move(GString *text, const tb_stitch *stitch, const tb_move *move, bool uk)
{
	const char *yarn_over = uk ? "yrh" : "yo";
	switch (move->kind) {
	case TB_MOVE_YARN_OVER:
		g_string_append(text, yarn_over);
		break;
	case TB_MOVE_INSERT:
		g_string_append(text, stitch->takes > 1 ? "insert hook in next st" : "insert hook in st");
		break;
	case TB_MOVE_INSERT_NEXT:
		g_string_append(text, "insert hook in next st");
		break;
	case TB_MOVE_INSERT_POST:
		g_string_append(text, stitch->post == TB_POST_BACK
								  ? "insert hook from back to front to back around post"
								  : "insert hook from front to back to front around post");
		break;
	case TB_MOVE_INSERT_BELOW:
		g_string_append(text, "insert hook in st as many rows below as said");
		break;
	case TB_MOVE_INSERT_BACKWARD:
		g_string_append(
			text, "insert hook in next st to the right (to the left for the left-handed)");
		break;
	case TB_MOVE_INSERT_BAR:
		g_string_append(text, "insert hook down through next horizontal bar of st before");
		break;
	case TB_MOVE_INSERT_FIRST_CHAIN:
		g_string_append(text, "insert hook in first of these ch");
		break;
	case TB_MOVE_DRAW_UP:
		g_string_append(text, "draw up a loop");
		break;
	case TB_MOVE_THROUGH:
		g_string_append_printf(text, "%s, draw through %u %s", yarn_over, move->through,
			move->through == 1 ? "loop" : "loops");
		break;
	case TB_MOVE_PULL_THROUGH:
		g_string_append(text, "pull it through the loop on hook");
		break;
	case TB_MOVE_CHAIN:
		g_string_append_printf(text, "ch %u", move->through);
		break;
	case TB_MOVE_CLOSE_FIRST:
		g_string_append(text, "drop loop from hook, insert hook in top of first of these sts, draw "
							  "dropped loop through");
		break;
	}
}

/* The longest stretch of moves from START that is done over; 1 and one time when there is none. */
static unsigned find_over(const tb_moves *moves, unsigned start, unsigned *times)
{
	unsigned best = 1, covered = 0;
	*times = 1;
	for (unsigned length = 1; start + 2 * length <= moves->count; length++) {
		unsigned over = count_over(moves, start, length);
		if (over > 1 && over * length > covered) {
			best = length;
			*times = over;
			covered = over * length;
		}
	}
	return best;
}

char *tb_stitch_describe(const tb_stitch *stitch, bool uk)
{
	const tb_moves *moves = stitch->moves;
	GString *text = g_string_new(NULL);
	if (moves == NULL)
		return g_string_free(text, FALSE);
	unsigned most, left, fault;
	g_autofree unsigned *loops = g_new(unsigned, moves->count + 1);
	tb_moves_simulate(moves, loops, &most, &left, &fault);
	bool told = most < 4;
	for (unsigned at = 0; at < moves->count;) {
		unsigned times, length = find_over(moves, at, &times);
		bool bracket = times > 1 && (length > 1 || moves->moves[at].kind == TB_MOVE_THROUGH);
		g_string_append(text, at > 0 ? ", " : "");
		g_string_append(text, bracket ? "[" : "");
		for (unsigned i = 0; i < length; i++) {
			g_string_append(text, i > 0 ? ", " : "");
			append_move(text, stitch, &moves->moves[at + i], uk);
		}
		g_string_append(text, bracket ? "]" : "");
		if (times == 2)
			g_string_append(text, " twice");
		else if (times > 2)
			g_string_append_printf(text, " %u times", times);
		at += length * times;
		/* Once all loops are on the hook, say how many there should be. */
		bool closing = at < moves->count && moves->moves[at].kind == TB_MOVE_THROUGH;
		if (!told && closing && loops[at - 1] > 3) {
			g_string_append_printf(text, " (%u loops on hook)", loops[at - 1]);
			told = true;
		}
	}
	return g_string_free(text, FALSE);
}
